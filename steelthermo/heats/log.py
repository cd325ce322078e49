"""The log of a shop: one row a heat, as a spreadsheet gives it (reading.py reads it).

Columns stand in log_columns.csv; besides these, one for each material of the works profile, such as
heavy_scrap_kg. The first line names the columns, the second may hold their units. Lines that begin
with # are remarks; one such as `# rename: Roheisen = hot_metal_kg` tells which column is which.
A row that can't be used is set aside with its reason, never dropped.
"""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from ..base import InputError, Record, Table, nearest, rows, shown
from ..works import Profile, load_profile

_OUTLYING = 6.0  # robust standard deviations from the median: one sound reading in 5e8
_LEAST = 20  # so many heats before one is called an outlier


@dataclass(frozen=True, repr=False)
class SetAside(Record):
    """A heat that is not used: its number, its line in the file, and why."""

    heat: str
    line: int
    reason: str


@dataclass(frozen=True, eq=False, repr=False)
class Log(Record):
    """Heats of one works in the order of time.

    works: Profile. heat, date (datetime64 by the minute, NaT where none), shift, line: arrays, one
    item a heat. readings: {column: array in the column's unit, masked where the cell was blank}.
    set_aside: of SetAside. notes: what was found, converted or passed over, in sentences.
    """

    works: Profile
    heat: np.ndarray
    date: np.ndarray
    shift: np.ndarray
    line: np.ndarray
    readings: dict
    set_aside: tuple = ()
    notes: tuple = ()

    def __len__(self):
        return self.heat.size

    def of(self, key: str) -> np.ma.MaskedArray:
        """One column, masked where blank; all masked where the log has none."""
        if key not in columns(self.works):
            raise InputError(
                f"column: {shown(key)} was asked for; near it: "
                f"{', '.join(nearest(key, columns(self.works))) or 'none like it'}."
            )
        return self.readings.get(key, np.ma.masked_all(len(self)))

    def given(self, key: str) -> bool:
        """Whether at least one heat has a figure in the column."""
        return self.of(key).count() > 0

    def charged_kg(self) -> np.ndarray:
        """Hot metal and scrap of each heat, kg."""
        scrap = sum(self.solids("scrap").values(), np.zeros(len(self)))
        return self.of("hot_metal_kg").filled(0.0) + scrap

    def solids(self, kind: str) -> dict:
        """kg of each material of a kind ('scrap', 'lime', 'dolomite', 'coolant', 'fuel') that the
        log has, by its key; a blank counts as none charged.
        """
        keys = (k for k, m in self.works.materials.items() if m["kind"] == kind)
        return {k: self.of(f"{k}_kg").filled(0.0) for k in keys if self.given(f"{k}_kg")}

    def on(self, first: str, last: str) -> np.ndarray:
        """Mask of the heats from one day to another, such as "2026-03-17", both with it."""
        try:
            days = [np.datetime64(x, "D") for x in (first, last)]
        except ValueError:
            told = f"{shown(first)} to {shown(last)}"
            raise InputError(f"days: {told} was given; write such as 2026-03-17.") from None
        day = self.date.astype("datetime64[D]")
        return (day >= days[0]) & (day <= days[1])

    def take(self, chosen: np.ndarray, reason: str | None = None) -> "Log":
        """The heats chosen (mask or indices). reason: the others are set aside with it."""
        keep = np.zeros(len(self), bool)
        keep[chosen] = True
        out = self.set_aside
        if reason is not None:
            out += tuple(
                SetAside(h, int(n), reason)
                for h, n in zip(self.heat[~keep], self.line[~keep], strict=True)
            )
        arrays = {n: getattr(self, n)[keep] for n in ("heat", "date", "shift", "line")}
        readings = {k: x[keep] for k, x in self.readings.items()}
        return replace(self, **arrays, readings=readings, set_aside=out)

    def _shown(self):
        title = f"log of {self.works.name}: {counted(len(self), 'heat')}"
        table = [
            (k, x.mean(), columns(self.works)[k]["unit"])
            for k, x in self.readings.items()
            if x.count()
        ]
        if self.set_aside:
            table.insert(0, ("set aside", len(self.set_aside), "heats"))
        return title, ("column", "mean", "unit"), table


@cache
def _fixed():
    return {row["key"]: dict(row) for row in rows("log_columns")}


def columns(works: Profile | None = None) -> dict:
    """What a log may hold: the columns of log_columns.csv and one for each material of the works.

    Parameters
    ----------
    works : Profile, default that of load_profile()

    Returns
    -------
    row (what, unit, low, high, kind: 'name', 'given' or 'found', needed) by column

    Examples
    --------
    >>> columns()["end_temp_c"]["unit"], columns()["lime_kg"]["what"]
    ('°C', 'burnt lime charged')
    """
    works = load_profile() if works is None else works
    blank = {"unit": "kg", "low": 0.0, "high": 200_000.0, "kind": "given", "needed": "no"}
    return _fixed() | {
        f"{key}_kg": blank | {"what": f"{m['title']} charged", "material": key}
        for key, m in works.materials.items()
    }


def provenance(key: str) -> tuple:
    """Where the range and the reading of a column come from.

    Parameters
    ----------
    key : column of log_columns.csv

    Returns
    -------
    tuple of Provenance

    Raises
    ------
    InputError

    Examples
    --------
    >>> provenance("end_temp_c")[0].status
    'memory'
    """
    return Table("log_columns").provenance(key)


def template(works: Profile | None = None) -> str:
    """An empty log, with a remark on each column.

    Parameters
    ----------
    works : Profile, default that of load_profile()

    Returns
    -------
    CSV text

    Examples
    --------
    >>> template().splitlines()[-2][:33]
    'heat,date,shift,source,lining_hea'
    """
    known = columns(works)
    head = ["# Log of a month: one row a heat. Leave blank what nobody read. Needed columns are so"]
    head[0] += " marked; others may be left out. Text, dates and numbers as you type them."
    for key, row in known.items():
        span = "" if row["kind"] == "name" else f", {row['low']:g} to {row['high']:g}"
        need = "; needed" if row["needed"] == "yes" else ""
        head.append(f"# {key}: {row['what']} ({row['unit']}{span}){need}")
    head.append("# Other names: # rename: your name = our name")
    units = [row["unit"] for row in known.values()]
    return "\n".join([*head, ",".join(known), ",".join(units)]) + "\n"


def outlying(x: np.ndarray) -> np.ndarray:
    """Where numbers lie more than 6 robust standard deviations from their median.

    Parameters
    ----------
    x : numbers; of fewer than 20, and of blanks, none is called outlying

    Returns
    -------
    bool array

    Examples
    --------
    >>> int(outlying(np.ma.array([*range(30), 500.0])).sum())
    1
    """
    x = np.ma.masked_invalid(x)
    if x.count() < _LEAST:
        return np.zeros(x.size, bool)
    apart = np.abs(x - np.ma.median(x))
    scale = 1.4826 * np.ma.median(apart)
    return (apart > _OUTLYING * max(float(scale), 1e-12)).filled(False)


def counted(n, what):
    return f"{n} {what}{'' if n == 1 else 's'}"
