"""How sure a figure is: the five statuses, and the weakest of what a main result rests on."""

import re
from functools import cache

from .errors import one_of
from .files import rows

STATUSES = ("read", "second-hand", "derived", "common practice", "memory")
VERIFIED = STATUSES[:3]  # those that rest on a text that was read

_LEAST_NAMES = 3
_UNITS = re.compile(r"_(per_min|c_min|pct|min|m|c|k|a|b)$")


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
    'rests on common practice: mg efficiency (sulphur -0.0069 to +0.0073 %)'
    """
    known = {r["key"]: r for r in rows("main_results")}
    wanted = {one_of("main result", x, known): known[x] for x in results}
    found = [r for r in rows("what_moves") if r["result"] in wanted]
    worst = max((r["status"] for r in found), key=STATUSES.index)
    parts = []
    for status in reversed(STATUSES):
        told = _told([r for r in found if r["status"] == status], wanted)
        beyond = [words for size, words in told if size > 1.0]
        least = [words for _, words in told[:_LEAST_NAMES]] if status == worst else []
        names = beyond if status not in VERIFIED and len(beyond) > len(least) else least
        if names:
            parts.append(f"{status}: {', '.join(names)}")
    return f"rests on {'; on '.join(parts)}"


def _told(found, wanted):
    """(by how much over its own uncertainty a row moves one of the results at most, words), of each
    row, the largest first.
    """
    told = {}
    for row in found:
        name, result = _UNITS.sub("", row["row"]).replace("_", " "), wanted[row["result"]]
        size = max(abs(row["less"]), abs(row["more"])) / result["uncertain_by"]
        if size > told.get(name, (0.0,))[0]:
            told[name] = size, name + (_by(row, result) if size > 1.0 else "")
    return sorted(told.values(), key=lambda pair: -pair[0])


def _by(row, result):
    """What a row does to a result, in words."""
    what = re.split(r",| (?:of|at|that|by) ", result["what"])[0]
    low, high = sorted((row["less"], row["more"]))
    ends = " to ".join(f"{x:+.0f}" if abs(x) >= 10.0 else f"{x:+.2g}" for x in (low, high))
    return f" ({what} {ends} {result['unit']})"
