"""The heat sheet of lesson 15 rebuilt from the records of an answer sheet: for the page that is
opened again, and for marking.
"""

import warnings
from dataclasses import dataclass

from ...base import ExtrapolationWarning, InputError
from ...coursekit.problems import DEFAULT_COURSE
from .entries import ENTRIES
from .sheet import HeatSheet

_NAME = "whole_heat"
_KEYS = {entry.key for entry in ENTRIES}


@dataclass(frozen=True)
class HeatMark:
    """One learner's heat, worked out anew. number: which heat; entries, right: entries made and
    right, of `total`; meets: the steel meets its specification (None: it has not reached the
    ladle); words: about the specification; stopped: why the heat could not be followed to the end
    of its records, or ''."""

    number: int
    entries: int
    right: int
    total: int
    meets: bool | None
    words: str
    stopped: str = ""


def heats_kept(records):
    """{number of a heat: [(entry key, text)]} in the order written; the heat begun last has the
    highest number.
    """
    out = {}
    for record in records:
        if record["kind"] != "predict" or not record["question"].startswith(f"{_NAME}."):
            continue
        _, number, key = (record["question"].split(".") + ["", ""])[:3]
        if number == "heat" and record["text"].isdecimal() and len(record["text"]) < 7:
            out.setdefault(int(record["text"]), [])
        elif number.isdecimal() and len(number) < 7 and key in _KEYS:
            out.setdefault(int(number), []).append((key, record["text"]))
    return out


def replayed(kept, learner, course=DEFAULT_COURSE, number=1, works=None):
    """(HeatSheet, reason) with the entries of one heat carried on, as far as they go; reason: why
    no further, or ''.

    kept: [(entry key, text)]. Raises InputError if no heat can be drawn.
    """
    sheet = HeatSheet(learner, course, number, works)
    for key, text in kept:
        if sheet.next is None:
            break
        if key != sheet.next.key:
            continue  # written twice, by two pages open at once
        try:
            sheet.carry_on(text)
        except InputError as error:
            return sheet, str(error)
    return sheet, ""


def heat_mark(records, learner, course=DEFAULT_COURSE, works=None):
    """The HeatMark of the fullest heat in the records (of two as full, the later one), or None if
    no entry was made. Raises InputError.
    """
    kept = heats_kept(records)
    if not any(kept.values()):
        return None
    number = max(kept, key=lambda n: (len({key for key, _ in kept[n]}), n))
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore", ExtrapolationWarning
        )  # a wrong entry may lead far off; the verdict says enough
        sheet, stopped = replayed(kept[number], learner, course, number, works)
    words, meets = sheet.specification() or ("", None)
    done = sheet.verdicts.values()
    return HeatMark(
        number, len(done), sum(v.done for v in done), len(ENTRIES), meets, words, stopped
    )
