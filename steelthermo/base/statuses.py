"""How sure a figure is: the five statuses, and the weakest of what a main result rests on."""

import re
from functools import cache

from .errors import one_of
from .files import rows

STATUSES = ("read", "second-hand", "derived", "common practice", "memory")
VERIFIED = STATUSES[:3]  # those that rest on a text that was read

_MOST_NAMES = 3
_UNITS = re.compile(r"_(per_min|c_min|pct|min|m|c|k|a|b)$")


@cache
def weakest(*results: str) -> str:
    """What main results rest on at the weakest, in words.

    Parameters
    ----------
    results : keys of main_results.csv

    Returns
    -------
    the worst status of the rows that move them, the rows of that status that move most, and by how
    much where that is more than the result is uncertain by anyway

    Raises
    ------
    InputError

    References
    ----------
    what_moves.csv, worked out for a heat of Heron Works

    Examples
    --------
    >>> weakest("tap_temp_c")
    'rests on memory: tundish (tap temperature -10 to +15 °C)'
    """
    known = {r["key"]: r for r in rows("main_results")}
    wanted = {one_of("main result", x, known): known[x] for x in results}
    found = [r for r in rows("what_moves") if r["result"] in wanted]
    status = max((r["status"] for r in found), key=STATUSES.index)
    told = {}  # by name, how much it moves one of the results at most, and the words
    for row in (r for r in found if r["status"] == status):
        name, result = _UNITS.sub("", row["row"]).replace("_", " "), wanted[row["result"]]
        size = max(abs(row["less"]), abs(row["more"])) / result["uncertain_by"]
        if name not in told or size > told[name][0]:
            told[name] = size, name + (_by(row, result) if size > 1.0 else "")
    first = sorted(told.values(), key=lambda pair: -pair[0])[:_MOST_NAMES]
    return f"rests on {status}: {', '.join(words for _, words in first)}"


def _by(row, result):
    """What a row does to a result, in words."""
    what = re.split(r",| (?:of|at|that|by) ", result["what"])[0]
    low, high = sorted((row["less"], row["more"]))
    ends = " to ".join(f"{x:+.0f}" if abs(x) >= 10.0 else f"{x:+.2g}" for x in (low, high))
    return f" ({what} {ends} {result['unit']})"
