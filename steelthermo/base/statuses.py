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
    results : of the column `result` of what_moves.csv

    Returns
    -------
    the worst status of the rows that move them, and the rows of that status that move most

    Raises
    ------
    InputError

    Examples
    --------
    >>> weakest("end_temp_c")
    'rests on memory: critical carbon, slag exchange, slag oxygen'
    """
    table = rows("what_moves")
    known = dict.fromkeys(r["result"] for r in table)
    found = [r for r in table if r["result"] in [one_of("main result", x, known) for x in results]]
    status = max((r["status"] for r in found), key=STATUSES.index)
    ranks = {}  # by name, the best place among what moves one of the results
    for result in results:
        moves = [r for r in found if (r["result"], r["status"]) == (result, status)]
        moves.sort(key=lambda r: -max(abs(r["less"]), abs(r["more"])))
        for rank, row in enumerate(moves):
            name = _UNITS.sub("", row["row"]).replace("_", " ")
            ranks[name] = min(rank, ranks.get(name, rank))
    names = sorted(ranks, key=ranks.get)[:_MOST_NAMES]
    return f"rests on {status}: {', '.join(names)}"
