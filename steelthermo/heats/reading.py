"""Reading a log: the text of a spreadsheet into a Log, every fault told with its row and column,
what cannot be used set aside.
"""

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

import numpy as np

from ..base import (
    InputError,
    convert,
    data_path,
    number_in,
    rows,
    shown,
    table_of,
    text_of,
    unit_in,
)
from ..works import Profile, load_profile
from .log import Log, SetAside, columns, counted, outlying

MOST_ROWS = 100_000
_DATES = ("%Y-%m-%d", "%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M:%S")
_DATES += ("%d.%m.%Y", "%d.%m.%Y %H:%M")


def read(
    path: str,
    works: Profile | None = None,
    names: Mapping[str, str] | None = None,
    progress: Callable[[int], None] | None = None,
) -> Log:
    """The Log in a CSV file: UTF-8, UTF-16 or a Western code page.

    Parameters
    ----------
    path : the file
    works, names, progress : as in parse()

    Returns
    -------
    Log

    Raises
    ------
    InputError
        As parse() does, and where the file can't be read.

    Examples
    --------
    >>> from steelthermo.base import data_path
    >>> read(data_path("month_heron_invented.csv")).shift[0]
    'A'
    """
    text, notes = text_of(path, "log")
    return parse(text, works, names, str(path), notes, progress)


def parse(
    text: str,
    works: Profile | None = None,
    names: Mapping[str, str] | None = None,
    name: str = "log",
    notes: tuple = (),
    progress: Callable[[int], None] | None = None,
) -> Log:
    """The Log in a CSV text.

    Parameters
    ----------
    text : cells parted by comma, semicolon or tab; decimal comma where not parted by commas
    works : Profile, default that of load_profile()
    names : {name in the file: name of the column}, besides those in `# rename:` lines
    name, notes : what the log is called in messages, and what was remarked before
    progress : called with the number of rows read so far, now and then

    Returns
    -------
    Log
        Set aside with a reason: rows with faults, double numbers, outliers (farther than 6 robust
        standard deviations from the median), more steel than metal charged; of heats blown again
        steel and slag, which come after it (in `notes`).

    Raises
    ------
    InputError
        Where needed columns are missing (all named), nothing is left, or there are more than
        100 000 rows.

    Examples
    --------
    >>> text = "heat;hot_metal_kg;hot_metal_temp_c;hot_metal_c_pct;hot_metal_si_pct"
    >>> text += ";heavy_scrap_kg;oxygen_nm3;end_temp_c\\n17;160000;1340;4,5;0,4;45000;9300;1655"
    >>> len(parse(text))
    1
    """
    works = load_profile() if works is None else works
    if text.count("\n") > MOST_ROWS + 1000:
        raise InputError(f"{name}: it has more than {MOST_ROWS} rows; give it in parts.")
    delimiter, table, remarks = table_of(text)
    if text.startswith("PK\x03\x04"):
        raise InputError(f"{name}: this is a spreadsheet's own file; save it as CSV first.")
    if not table:
        raise InputError(f"{name}: it is empty; `steelthermo plan --log` writes a form to fill in.")
    reader = _Reader(name, works, delimiter != ",", notes)
    head = reader.head(*table[0], dict(_renamed(remarks)) | dict(names or {}))
    for count, (line, cells) in enumerate(table[1:]):
        reader.row(line, cells, head)
        if progress is not None and count % 1000 == 999:
            progress(count + 1)
    return _sound(reader.log())


def _renamed(remarks):
    for line, words in remarks:
        if words.casefold().startswith("rename:"):
            theirs, equals, ours = words[7:].partition("=")
            if not equals:
                raise InputError(f"log, line {line}: write `# rename: your name = our name`.")
            yield theirs.strip(), ours.strip()


@dataclass
class _Reader:
    """Collects the rows and doubts of one file."""

    name: str
    works: Profile
    decimal_comma: bool
    notes: tuple
    units: dict = field(default_factory=dict)
    kept: list = field(default_factory=list)
    out: list = field(default_factory=list)

    def __post_init__(self):
        self.known = columns(self.works)

    def head(self, line, cells, names):
        """The columns, in the order of the file; None for one that is passed over."""
        known = self.known
        folded = {key.casefold(): key for key in known}
        renamed = {a.casefold(): b for a, b in names.items()}
        words = [renamed.get(c.strip().casefold(), c.strip()) for c in cells]
        found = [folded.get(w.casefold()) for w in words]
        twice = [key for key, n in Counter(filter(None, found)).items() if n > 1]
        missing = [k for k, row in known.items() if row["needed"] == "yes" and k not in found]
        passed = [w or "(no name)" for w, key in zip(words, found, strict=True) if key is None]
        if twice or missing:
            told = [f"{key} stands there twice" for key in twice]
            told += [f"{key} is missing ({known[key]['what']})" for key in missing]
            hint = ""
            if passed:
                hint = f" The columns {shown(', '.join(passed))} are not known; if one of them is"
                hint += f" meant, write a line `# rename: {passed[0]} = {(missing + twice)[0]}`."
            raise InputError(f"{self.name}, line {line}: {'; '.join(told)}.{hint}")
        if passed:
            self.notes += (f"Columns passed over, not known: {', '.join(passed)}.",)
        return found

    def row(self, line, cells, head):
        """One row, kept or set aside; the row of units is no heat."""
        cells = [c.strip() for c in cells]
        if not any(cells):
            return
        # the unit of a count is 1, as the form writes it
        if not self.kept and not self.out and {number_in(c, True) for c in cells if c} <= {None, 1}:
            self._units(line, cells, head)
            return
        given = {k: c for k, c in zip(head, cells, strict=False) if k and c}
        faults, out = [], {"line": line}
        for key, cell in given.items():
            try:
                out[key] = self._cell(key, cell)
            except InputError as fault:
                faults.append(f"{key}: {fault}")
        needed = (row["key"] for row in rows("log_columns") if row["needed"] == "yes")
        faults += [f"{k}: blank, and needed" for k in needed if k not in given]
        extra = [c for c in cells[len(head) :] if c]
        if extra:
            faults.append(f"{counted(len(extra), 'cell')} beyond the last column")
        if faults:
            self.out.append(SetAside(given.get("heat", ""), line, "; ".join(faults)))
        else:
            self.kept.append(out)

    def _units(self, line, cells, head):
        known, faults = self.known, []
        for key, cell in zip(head, cells, strict=False):
            unit = unit_in(cell)
            if key and cell and known[key]["kind"] != "name" and unit != known[key]["unit"]:
                try:
                    convert(1.0 if unit != "K" else 300.0, unit, known[key]["unit"])
                except InputError as error:
                    faults.append(f"{key}: {error}")
                    continue
                self.units[key] = unit
                self.notes += (f"{key} converted from {unit} to {known[key]['unit']}.",)
        if faults:
            raise InputError(f"{self.name}, line {line} (units): {' '.join(faults)}")

    def _cell(self, key, cell):
        row = self.known[key]
        if row["unit"] == "text":
            return cell
        if row["unit"] == "date":
            return _date(cell)
        x = number_in(cell, self.decimal_comma)
        if x is None:
            raise InputError(f"{shown(cell)} is no number")
        if key in self.units:
            x = convert(x, self.units[key], row["unit"])
        if not row["low"] <= x <= row["high"]:
            raise InputError(
                f"{x:g} {row['unit']} was given; allowed is {row['low']:g} to {row['high']:g}"
            )
        return x

    def log(self):
        """The Log of the rows kept, in the order of their dates."""
        kept, name = self.kept, self.name
        if not kept:
            told = "".join(f"\n  line {x.line}: {x.reason}" for x in self.out[:10])
            told = (
                told or " No row of figures stands below the head; is a quotation mark left open?"
            )
            raise InputError(f"{name}: no heat is left.{told}")
        date = np.array([r.get("date", "NaT") for r in kept], "datetime64[m]")
        if np.isnat(date).any() and not np.isnat(date).all():
            self.notes += ("Some heats have no date: all are taken in the order of the rows.",)
            order = np.arange(len(kept))
        else:
            order = np.argsort(date, kind="stable")
            if (order[1:] < order[:-1]).any():
                self.notes += ("The dates were not in order; the heats were sorted.",)
        kept = [kept[i] for i in order]
        readings = {}
        for key, row in self.known.items():
            if row["unit"] not in ("text", "date") and any(key in r for r in kept):
                column = np.array([r.get(key, np.nan) for r in kept], float)
                readings[key] = np.ma.masked_invalid(column)
        words = (np.array([r.get(k, "") for r in kept], object) for k in ("heat", "shift"))
        heat, shift = words
        lines = np.array([r["line"] for r in kept])
        return Log(
            self.works, heat, date[order], shift, lines, readings, tuple(self.out), self.notes
        )


def _date(cell):
    for form in _DATES:
        try:
            return np.datetime64(datetime.strptime(cell, form), "m")
        except ValueError:
            pass
    raise InputError(f"{shown(cell)} is no date such as 2026-03-17 14:05 or 17.03.2026")


def _sound(log):
    """A log without double numbers, second blows, impossible balances and outliers."""
    count = Counter(log.heat.tolist())
    log = log.take(
        np.array([count[h] == 1 for h in log.heat]),
        "its number stands there more than once; nobody can tell which row is meant",
    )
    log = _blown_again(log)
    more = (log.of("steel_kg") > log.charged_kg()).filled(False)
    log = log.take(~more, "more steel than hot metal and scrap: a weight is wrong")
    for what, key in (
        ("temperature at the end", "end_temp_c"),
        ("oxygen per tonne charged", "oxygen_nm3"),
        ("steel per tonne charged", "steel_kg"),
    ):
        x = log.of(key) if key == "end_temp_c" else log.of(key) / log.charged_kg()
        log = log.take(~outlying(x), f"{what} lies far from all others")
    if not len(log):
        raise InputError(f"log: no heat is left; the first was set aside: {log.set_aside[0]}.")
    return log


def _blown_again(log):
    """A log in which heats that were blown again keep what was read before that: to leave them out
    would leave out the cold heats, and the mean of the others would be too warm. Steel and slag
    come after it, so these readings are set aside.
    """
    again = log.of("second_blow_nm3").filled(0.0) > 0.0
    if not again.any():
        return log
    kept = dict(log.readings)
    for key, row in columns(log.works).items():
        if key in kept and row.get("after") == "yes":
            kept[key] = np.ma.array(kept[key], mask=kept[key].mask | again)
    names = ", ".join(log.heat[again][:5]) + (", ..." if again.sum() > 5 else "")
    blown = f"{again.sum()} heats blown again" if again.sum() != 1 else "1 heat blown again"
    told = f"{blown}: {names}. What was read before that "
    told += "counts; steel and slag are set aside, for the second blow changed them."
    return replace(log, readings=kept, notes=(*log.notes, told))


def invented_month() -> Log:
    """The month of heats that ships with the kit: invented for Heron Works, no measurement; faults
    are hidden in it.

    Returns
    -------
    Log

    Examples
    --------
    >>> len(invented_month())
    500
    """
    return read(data_path("month_heron_invented.csv"), load_profile("heron"))
