"""Measured heats: a plain CSV of time, quantity, value, unit, source, licence, read with every
doubt said in words.

One row is one reading. Columns time_min, quantity, value, unit, source, licence, in any order;
lines that begin with # are remarks. Quantities and their units stand in blow_quantities.csv
(blow.quantities()); other units of the same kind are converted. The kit ships no measured heat:
none could be read.
"""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ..base import (
    InputError,
    Record,
    convert,
    data_path,
    nearest,
    number_in,
    shown,
    table_of,
    text_of,
    unit_in,
)
from .record import quantities

COLUMNS = ("time_min", "quantity", "value", "unit", "source", "licence")
_LATEST_MIN = 240.0
_NAMED = 10  # so many faults are told one by one


@dataclass(frozen=True, eq=False, repr=False)
class Measured(Record):
    """Readings of one heat, sorted by time. time_min, quantity, value, unit, source, licence:
    arrays of one length, values in the unit of blow.quantities(). notes: sentences about what was
    found, left out or converted on reading.
    """

    time_min: np.ndarray
    quantity: np.ndarray
    value: np.ndarray
    unit: np.ndarray
    source: np.ndarray
    licence: np.ndarray
    notes: tuple = ()

    def __len__(self):
        return self.time_min.size

    @property
    def quantities(self) -> tuple:
        """Keys of the quantities there are, in the order of blow.quantities()."""
        there = set(self.quantity)
        return tuple(key for key in quantities() if key in there)

    @property
    def sources(self) -> tuple:
        """Names of the sources, in the order of their first reading."""
        return tuple(dict.fromkeys(self.source.tolist()))

    def of(self, quantity: str, source: str | None = None) -> tuple:
        """(time_min, value) of one quantity, arrays; of one source, or of all."""
        mask = (self.quantity == quantity) & (True if source is None else self.source == source)
        return self.time_min[mask], self.value[mask]


def load(path: str | Path) -> Measured:
    """A measured heat from a CSV file: UTF-8, UTF-16, or the Western code page of a spreadsheet
    (with a note).

    Parameters
    ----------
    path : of the file

    Returns
    -------
    Measured

    Raises
    ------
    InputError
        As parse().

    Examples
    --------
    >>> from steelthermo.base import data_path
    >>> len(load(data_path("heat_heron_invented.csv")))
    101
    """
    text, notes = text_of(path, "measured heat")
    return parse(text, str(path), notes)


def invented_heat() -> Measured:
    """The heat that ships with the kit to show the format: invented for Heron Works, no
    measurement.

    Returns
    -------
    Measured

    Examples
    --------
    >>> minutes, carbon = invented_heat().of("C")
    >>> float(minutes[0]), float(carbon[0])
    (3.0, 4.038)
    """
    return load(data_path("heat_heron_invented.csv"))


def parse(text: str, name: str = "measured heat", notes: tuple = ()) -> Measured:
    """A measured heat from a text in CSV: comma, semicolon or tab between cells; decimal comma
    where the cells are not parted by commas.

    Left out with a note: rows without time or value, values that are no number ('<0.01', 'n.d.'),
    rows that stand twice.

    Parameters
    ----------
    text : a first line with COLUMNS, readings below it
    name : names it in messages
    notes : sentences to begin the notes with

    Returns
    -------
    Measured

    Raises
    ------
    InputError
        With every fault and its line: missing columns, unknown quantities, units of another kind,
        times and values out of reason, nothing left to read.

    Examples
    --------
    >>> lines = "time_min,quantity,value,unit,source,licence", "5,C,2.9,%,own,free"
    >>> parse(chr(10).join(lines)).of("C")[1].tolist()
    [2.9]
    """
    delimiter, table, _ = table_of(text)
    if not table:
        raise InputError(
            f"{name}: it is empty; a first line with {', '.join(COLUMNS)} is needed, and readings "
            "below it."
        )
    first, cells = table[0]
    head = [cell.strip().lower() for cell in cells]
    missing = [c for c in COLUMNS if c not in head]
    if missing:
        raise InputError(
            f"{name}, line {first}: the columns {', '.join(missing)} are missing; needed are "
            f"{', '.join(COLUMNS)}."
        )
    reader = _Reader(delimiter != ",", [head.index(c) for c in COLUMNS])
    more = [c or "(no name)" for c in head if c not in COLUMNS]
    if more:
        reader.notes.append(f"Columns that are not needed were passed over: {', '.join(more)}.")
    for number, cells in table[1:]:
        reader.row(number, cells)
    return reader.finish(name, notes)


class _Reader:
    """Collects rows, faults and doubts of one file."""

    def __init__(self, decimal_comma, places):
        self.decimal_comma, self.places = decimal_comma, places
        self.rows, self.faults, self.notes = [], [], []
        self.blank, self.no_number, self.converted = [], [], Counter()
        self.known = quantities()
        self.folded = {key.casefold(): key for key in self.known}
        self.factors = {}

    def row(self, line, cells):
        if not any(cell.strip() for cell in cells):
            return
        cells = [cells[i].strip() if i < len(cells) else "" for i in self.places]
        time, quantity, value, unit, source, licence = cells
        if not time or not value:
            self.blank.append(line)
            return
        t, x = (number_in(cell, self.decimal_comma) for cell in (time, value))
        if t is None or x is None:
            self.no_number.append((line, value if x is None else time))
            return
        key = quantity if quantity in self.known else self.folded.get(quantity.casefold())
        if key is None:
            near = nearest(quantity, self.known)
            hint = f"did you mean {near[0]}?" if near else f"known are {', '.join(self.known)}"
            self.faults.append((line, f"quantity {shown(quantity)} is not known; {hint}"))
            return
        if not 0.0 <= t <= _LATEST_MIN:
            self.faults.append(
                (
                    line,
                    f"time {t:g} min was given; allowed is 0 to {_LATEST_MIN:g} min since the "
                    "start of the blow. Are these seconds?",
                )
            )
            return
        x = self.in_unit(line, key, unit, x)
        if x is not None:
            self.rows.append((t, key, x, source or "not stated", licence or "not stated"))

    def in_unit(self, line, key, unit, x):
        """The value in the quantity's own unit, or None with a fault."""
        row = self.known[key]
        wanted, given = row["unit"], unit_in(unit, row["of"] == "gas")
        if given != wanted:
            try:
                x = convert(x, given, wanted)
            except InputError:
                self.faults.append(
                    (
                        line,
                        f"unit {shown(unit)} of {key} was given; needed is {wanted} or a unit of "
                        "the same kind",
                    )
                )
                return None
            self.converted[key, unit, wanted] += 1
        if not row["low"] <= x <= row["high"]:
            hint = {"temperature": " Is the unit right (°C or K)?"}.get(
                key, " Is the unit right (% or ppm)?" if wanted == "%" else ""
            )
            self.faults.append(
                (
                    line,
                    f"{key} of {x:g} {wanted} was given; allowed is {row['low']:g} to "
                    f"{row['high']:g} {wanted}.{hint}",
                )
            )
            return None
        return x

    def finish(self, name, notes):
        if self.faults:
            told = "\n  ".join(f"line {line}: {words}" for line, words in self.faults[:_NAMED])
            more = f"\n  and {len(self.faults) - _NAMED} more" if len(self.faults) > _NAMED else ""
            raise InputError(f"{name}: {_count(len(self.faults), 'fault')}:\n  {told}{more}")
        if self.blank:
            self.notes.append(
                f"{_count(len(self.blank), 'row')} without time or value left out "
                f"({_lines(self.blank)})."
            )
        if self.no_number:
            lines, texts = zip(*self.no_number, strict=True)
            given = ", ".join(dict.fromkeys(shown(x) for x in texts[:5]))
            self.notes.append(
                f"{_count(len(lines), 'row')} left out whose time or value is no number, such as "
                f"{given} ({_lines(lines)})."
            )
        for (key, unit, wanted), n in self.converted.items():
            self.notes.append(f"{_count(n, 'value')} of {key} converted from {unit} to {wanted}.")
        if not self.rows:
            raise InputError(f"{name}: no reading is left. {' '.join(self.notes)}")
        rows = self.rows
        if any(b[0] < a[0] for a, b in zip(rows, rows[1:], strict=False)):
            self.notes.append("The times were not in order; the readings were sorted.")
        rows = sorted(rows, key=lambda row: row[0])
        kept = list(dict.fromkeys(rows))
        if len(kept) < len(rows):
            self.notes.append(
                f"{_count(len(rows) - len(kept), 'row')} that stood there twice left out."
            )
        again = sum(
            n - 1 for n in Counter((t, key, source) for t, key, _, source, _ in kept).values()
        )
        if again:
            self.notes.append(
                f"{_count(again, 'reading')} of the same quantity, time and source with another "
                "value; all are kept."
            )
        return self.measured(kept, notes)

    def measured(self, kept, notes):
        time, key, value, source, licence = (
            np.array(column, dtype=object) for column in zip(*kept, strict=True)
        )
        sources = Counter(source.tolist())
        if len(sources) > 1:
            self.notes.append(
                f"{len(sources)} sources: {', '.join(f'{s} ({n})' for s, n in sources.items())}. "
                "They are kept apart, compare them first."
            )
        if "not stated" in sources:
            self.notes.append("Some readings name no source: nobody can check them.")
        if "not stated" in licence.tolist():
            self.notes.append(
                "Some readings name no licence: do not pass them on before you know that you may."
            )
        unit = np.array([self.known[k]["unit"] for k in key], dtype=object)
        return Measured(
            time.astype(float),
            key,
            value.astype(float),
            unit,
            source,
            licence,
            (*notes, *self.notes),
        )


def _count(n, what):
    return f"{n} {what}{'' if n == 1 else 's'}"


def _lines(numbers):
    told = ", ".join(str(n) for n in numbers[:5])
    return f"line{'' if len(numbers) == 1 else 's'} {told}{' and more' if len(numbers) > 5 else ''}"
