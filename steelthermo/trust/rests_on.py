"""What the main results rest on: the rows of the tables that move each of them, worked out by
tests/tools/what_moves.py for a heat of Heron Works.
"""

from dataclasses import dataclass
from functools import cache

from ..base import STATUSES, VERIFIED, Provenance, Record, Table, one_of, row_names, rows

_MOVES = Table("what_moves")


@cache
def main_results() -> dict:
    """The main results of the kit.

    Returns
    -------
    by key: what it is, its unit, and what it is uncertain by anyway

    Examples
    --------
    >>> main_results()["blow_temp_c"]
    ('temperature at the end of the blow', '°C', 10.0)
    """
    return {r["key"]: (r["what"], r["unit"], r["uncertain_by"]) for r in rows("main_results")}


@dataclass(frozen=True, repr=False)
class Move(Record):
    """A row of a table and what it moves. result: of main_results(); table, row: which; by: how the
    row was changed, to the lower and the higher; less, more: change of the result; status;
    provenance.
    """

    result: str
    table: str
    row: str
    by: str
    less: float
    more: float
    status: str
    provenance: tuple[Provenance, ...]

    @property
    def size(self) -> float:
        """The larger change over what the result is uncertain by anyway."""
        return max(abs(self.less), abs(self.more)) / main_results()[self.result][2]

    @property
    def told(self) -> str:
        """The change in words."""
        return f"{main_results()[self.result][0]}: {self.change}"

    @property
    def change(self) -> str:
        """The change alone, with its unit and cause."""
        unit = main_results()[self.result][1]
        changes = [self.less, self.more][: 1 + (" and " in self.by)]
        return f"{' and '.join(f'{c:+.3g}' for c in changes)} {unit} by {self.by}"


@dataclass(frozen=True, repr=False)
class RestsOn(Record):
    """What a result rests on. key, what, unit, uncertain_by; counts: rows that move it by status;
    worst: the worst status among them; moves: those rows, the largest first.
    """

    key: str
    what: str
    unit: str
    uncertain_by: float
    counts: dict
    worst: str
    moves: tuple[Move, ...]

    @property
    def unverified(self) -> tuple:
        """The rows without a text behind them, the largest first."""
        return tuple(m for m in self.moves if m.status not in VERIFIED)

    @property
    def provenance(self) -> tuple:
        """Of the rows."""
        return tuple(p for m in self.moves for p in m.provenance)

    def _shown(self):
        names = row_names()
        lines = [
            (names.get((m.table, m.row), m.row.replace("_", " ")), m.status, m.change)
            for m in self.moves[:9]
        ]
        title = f"{self.what}: rests on {self.worst}"
        return title, ("row", "status", "what it moves"), lines


def rests_on(result: str) -> RestsOn:
    """What a main result rests on, by a heat of Heron Works.

    Parameters
    ----------
    result : a key of main_results()

    Returns
    -------
    RestsOn

    Raises
    ------
    InputError

    References
    ----------
    what_moves.csv; the substances' own files are not in it, all of them second-hand or better.

    Examples
    --------
    >>> rests_on("killed_o_ppm").worst
    'derived'
    """
    one_of("main result", result, main_results())
    found = [
        Move(
            **{n: row[n] for n in ("result", "table", "row", "by", "less", "more", "status")},
            provenance=(_MOVES.provenance_of(row),),
        )
        for row in _MOVES.rows
        if row["result"] == result
    ]
    moves = tuple(sorted(found, key=lambda m: -m.size))
    counts = {s: sum(m.status == s for m in moves) for s in STATUSES}
    worst = next(s for s in reversed(STATUSES) if counts[s])
    return RestsOn(result, *main_results()[result], counts, worst, moves)
