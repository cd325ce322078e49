"""How sure a figure is: the five statuses, and the weakest of what a main result rests on."""

import tomllib
from functools import cache

from .errors import one_of
from .files import data_path, rows
from .language import translated

STATUSES = ("read", "second-hand", "derived", "common practice", "memory")
VERIFIED = STATUSES[:3]  # those that rest on a text that was read

_LEAST_NAMES = 3


@cache
def row_names() -> dict:
    """Short names of the rows that weakest() can tell.

    Returns
    -------
    name by (table, row)

    Examples
    --------
    >>> row_names()["plant_values", "mg_efficiency_pct"]
    'efficiency of magnesium'
    """
    tables = tomllib.loads(data_path("row_names.toml").read_text(encoding="utf-8"))
    return {(table, row): name for table, of in tables.items() for row, name in of.items()}


def _name(table, row):
    """That of a row in the language chosen; rows that only a number tells apart share theirs."""
    names = row_names()
    shared = (table, row.rpartition(" ")[0])
    return translated(names[(table, row) if (table, row) in names else shared])


@cache
def weakest(*results: str) -> str:
    """What main results rest on at the weakest, in words.

    Parameters
    ----------
    results : keys of main_results.csv

    Returns
    -------
    the worst status of the rows that move them and the rows of that status that move most; with its
    change every row without a text behind it that moves a result by more than the result is
    uncertain by anyway

    Raises
    ------
    InputError

    References
    ----------
    what_moves.csv, worked out for a heat of Heron Works

    Examples
    --------
    >>> weakest("hot_metal_s_pct")
    'rests on common practice: efficiency of magnesium (sulphur -0.0069 to +0.0073 %)'
    """
    known = {r["key"]: r for r in rows("main_results")}
    wanted = {one_of("main result", x, known): known[x] for x in results}
    found = [r for r in rows("what_moves") if r["result"] in wanted]
    worst = max((r["status"] for r in found), key=STATUSES.index)
    parts = []
    for status in reversed(STATUSES):
        if status in VERIFIED and status != worst:
            continue
        told = _told([r for r in found if r["status"] == status], wanted)
        beyond = [words for size, words in told if size > 1.0]
        least = [words for _, words in told[:_LEAST_NAMES]] if status == worst else []
        names = beyond if status not in VERIFIED and len(beyond) > len(least) else least
        if names:
            parts.append(f"{translated(status)}: {', '.join(names)}")
    return f"rests on {'; on '.join(parts)}"


def _told(found, wanted):
    """(by how much over its own uncertainty a row moves one of the results at most, words), of each
    row, the largest first.
    """
    told = {}
    for row in found:
        name, result = _name(row["table"], row["row"]), wanted[row["result"]]
        size = max(abs(row["less"]), abs(row["more"])) / result["uncertain_by"]
        if size > told.get(name, (0.0,))[0]:
            told[name] = size, name + (_by(row, result) if size > 1.0 else "")
    return sorted(told.values(), key=lambda pair: -pair[0])


def _by(row, result):
    """What a row does to a result, in words."""
    what = translated(result["title"])
    low, high = sorted((row["less"], row["more"]))
    ends = " to ".join(f"{x:+.0f}" if abs(x) >= 10.0 else f"{x:+.2g}" for x in (low, high))
    return f" ({what} {ends} {result['unit']})"
