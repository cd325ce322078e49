"""A chain of dependent entries, such as one job from beginning to end: each entry is checked
against where the learner's own sheet stands, and carried on, right or wrong.

Here is what marking and a page that is opened again need: the sheet rebuilt from the records kept.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from ..base import InputError, quietly, translated
from .answers import say

_STEPS = ("entry", "tried", "back")
_COST = {"checks": "checks", "changes": "changes", "minutes_lost": "minutes lost"}


@dataclass(frozen=True)
class ChainMark:
    """One learner's sheet, worked out anew. number: which one; entries, right: entries made and
    right, of `total`; meets: the end is as it should be (None: it was not reached); words: about
    the end; stopped: why the sheet could not be followed to the end of its records, or ''; figures:
    what it cost, by the names of the Chain.
    """

    number: int
    entries: int
    right: int
    total: int
    meets: bool | None
    words: str
    stopped: str = ""
    figures: dict = field(default_factory=dict)


@dataclass(frozen=True)
class Chain:
    """A lesson's chain of entries.

    lesson: its name; entries: in order; begin: function (learner, course, number,
    works) -> a ChainSheet with outcome() -> (words, met), or None before the end; it may raise
    InputError. called: what a sheet is of ('heat');
    result: what is judged at the end ('steel'); met: that it is as it should be, in words for a
    class, with {count}; figures: what a sheet's figures() gives, {name: in words}.
    """

    lesson: str
    entries: tuple
    begin: Callable
    called: str
    result: str
    met: str
    figures: dict = field(default_factory=_COST.copy)

    @property
    def keys(self):
        """The keys of the entries in order."""
        return tuple(entry.key for entry in self.entries)

    def kept(self, records):
        """{number of a sheet: [(kind, entry key, text)]} in the order written, of entries, checks
        and what was taken back; the one begun last has the highest number.
        """
        out = {}
        for record in records:
            if record["kind"] == "predict":
                record = self._of_prediction(record)
            if record.get("lesson") == self.lesson and record["kind"] in ("begin", *_STEPS):
                steps = out.setdefault(record["set"], [])
                if record["kind"] in _STEPS and record["entry"] in self.keys:
                    steps.append((record["kind"], record["entry"], record.get("text", "")))
        return out

    def _of_prediction(self, record):
        """The record of a sheet of schema 1, where entries were kept as predictions."""
        lesson, number, key = (record["question"].split(".") + ["", ""])[:3]
        begun = number == self.called
        number = record["text"] if begun else number
        if lesson != self.lesson or not number.isdecimal() or len(number) > 6:
            return record
        kind = {"kind": "begin"} if begun else {"kind": "entry", "entry": key}
        return kind | {"lesson": lesson, "set": int(number), "text": record["text"]}

    def replayed(self, kept, learner, course, number=1, works=None):
        """(sheet, reason) with the entries kept carried on, as far as they go; reason: why no
        further, or ''. Raises InputError if no sheet can be drawn.
        """
        sheet = self.begin(learner, course, number, works)
        for kind, key, text in kept:
            if kind == "back" and sheet.returnable and sheet.returnable.key == key:
                sheet.take_back()
            if kind == "back" or sheet.next is None or key != sheet.next.key:
                continue  # written twice, by two pages open at once
            try:
                sheet.check(text) if kind == "tried" else sheet.carry_on(text)
            except InputError as error:
                return sheet, str(error)
        return sheet, ""

    def mark(self, records, learner, course, works=None):
        """The ChainMark of the fullest sheet in the records (of two as full, the later one), or
        None if no entry was made. Raises InputError.
        """
        kept = self.kept(records)
        if not any(kept.values()):
            return None
        number = max(kept, key=lambda n: (len({k for kind, k, _ in kept[n] if kind == "entry"}), n))
        with quietly():  # a wrong entry may lead far off; the verdict says enough
            sheet, stopped = self.replayed(kept[number], learner, course, number, works)
        words, meets = sheet.outcome() or ("", None)
        done = sheet.verdicts.values()
        return ChainMark(
            number, len(done), sum(v.done for v in done), len(self.keys), meets, words, stopped,
            sheet.figures(),
        )  # fmt: skip

    def cells(self, mark):
        """What a gradebook says of a ChainMark: blank if none was begun, or, of the result, if the
        end was not reached.
        """
        made, right, meets = "", "", ""
        if mark is not None:
            made, right = f"{mark.entries} of {mark.total}", mark.right
            meets = {True: "meets", False: "fails", None: ""}[mark.meets]
        called = self.called
        return {
            f"{called}_entries": made,
            f"{called}_right": right,
            f"{called}_{self.result}": meets,
        } | {
            f"{called}_{name}": "" if mark is None else mark.figures[name] for name in self.figures
        }

    def heads(self):
        """What stands above each of the cells, in words."""
        words = say("chain.entries"), say("chain.right"), self.result, *self.figures.values()
        called = translated(self.called)
        return {
            key: f"{called}: {translated(word)}"
            for key, word in zip(self.cells(None), words, strict=True)
        }

    def summary(self, marks):
        """How far a class has come, in words."""
        if not marks:
            return say("chain.none_begun")
        full = sum(m.entries == m.total for m in marks)
        met = translated(self.met).format(count=sum(m.meets is True for m in marks))
        return say("chain.begun", begun=len(marks), full=full, met=met)
