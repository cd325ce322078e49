"""What the main results rest on: the rows of the tables that move each of them, worked out by
tests/tools/what_moves.py for a heat of Heron Works.
"""

from dataclasses import dataclass

from ..base import STATUSES, VERIFIED, Provenance, Record, Table, one_of

_MOVES = Table("what_moves")
# key: what, unit, and what it is uncertain by anyway, with where that stands
RESULTS = {
    "end_temp_c": ("end temperature of a planned heat, its masses kept", "°C", 17.0),
    "oxygen_nm3_t": ("oxygen of a planned heat per t of steel", "Nm3/t", 0.5),
    "blow_c_pct": ("carbon at the end of the blow", "%", 0.009),
    "blow_feo_pct": ("FeO of the slag at the end of the blow", "%", 2.0),
    "blow_p_pct": ("phosphorus at the end of the blow", "%", 0.003),
    "blow_temp_c": ("temperature at the end of the blow", "°C", 10.0),
    "tap_temp_c": ("tap temperature that casting asks for", "°C", 10.0),
    "probe_600_ppm": ("oxygen by a probe, 600 ppm", "ppm", 30.0),
    "probe_3_ppm": ("oxygen by a probe, 3 ppm", "ppm", 1.0),
    "killed_o_ppm": ("oxygen of a steel killed with 0.03 % Al", "ppm", 1.0),
    "hot_metal_s_pct": ("sulphur of hot metal after 0.3 kg/t of magnesium", "%", 0.002),
    "dent_m": ("depth of the cavity under the lance", "m", 0.05),
    "slag_pa_s": ("viscosity of a converter slag, two formulas in the middle", "Pa s", 0.02),
}


@dataclass(frozen=True, repr=False)
class Move(Record):
    """A row of a table and what it moves. result: a key of RESULTS; table, row: which; by: how the
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
        return max(abs(self.less), abs(self.more)) / RESULTS[self.result][2]

    @property
    def told(self) -> str:
        """The change in words."""
        what, unit, _ = RESULTS[self.result]
        changes = [self.less, self.more][: 1 + (" and " in self.by)]
        return f"{what}: {' and '.join(f'{c:+.3g}' for c in changes)} {unit} by {self.by}"


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
        rows = [(m.row.replace("_", " "), m.status, m.told) for m in self.moves[:9]]
        title = f"{self.what}: rests on {self.worst}"
        return title, ("row", "status", "what it moves"), rows


def rests_on(result: str) -> RestsOn:
    """What a main result rests on, by a heat of Heron Works.

    Parameters
    ----------
    result : a key of RESULTS

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
    one_of("main result", result, RESULTS)
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
    return RestsOn(result, *RESULTS[result], counts, worst, moves)
