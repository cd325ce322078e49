"""The kit with figures of its tables shifted, in one process: rows are changed as they are read,
and every store of what was worked out before is emptied.
"""

import csv
import math
import sys
from contextlib import contextmanager
from functools import cached_property
from io import StringIO

from house import FLOOR

from steelthermo.base import Table, files

# texts and what names or bounds a row, which a shift leaves alone
KEPT = set(
    "low high low_k high_k low_c_pct high_c_pct low_pct high_pct over_mm up_to_mm size_low_m "
    "size_high_m aspect_low aspect_high from_pct to_pct at_k at measured_at_k digitised order "
    "anchor_k stable_from_k stable_to supercooled_to_k year step spread waived_from_pct "
    "needed printed printed_high tolerance lesson uncertainty end_spread atoms forms_pct".split()
)
# what holds no figure of a table: Cantera and its files take long to read
_STAY = ("steelthermo.thermo.engine",)
# plain dicts that are stores: a call through a cache would cost more than they save
_STORES = {"steelthermo.thermo.substances": ("_substances", "_quick")}


def forget(room=None):
    """Empty every store of the modules of the kit and of its tests. room: what was worked out in
    it, or above it, alone; what was read stays.
    """
    for name, module in list(sys.modules.items()):
        if not name.startswith(("steelthermo", "tests")) or name in _STAY:
            continue
        floor = FLOOR.get(name.removeprefix("steelthermo.").split(".")[0], math.inf)
        if room and floor < FLOOR[room]:
            continue
        for store in _STORES.get(name, ()):
            vars(module)[store].clear()
        for thing in list(vars(module).values()):
            if hasattr(thing, "cache_clear"):
                thing.cache_clear()
            elif not room and isinstance(thing, Table):
                for key, kind in vars(Table).items():
                    if isinstance(kind, cached_property):
                        vars(thing).pop(key, None)


def figures(row):
    """Columns of a row that hold its figures: `start` alone where it is a parameter with a band."""
    if isinstance(row.get("start"), float):
        return ("start",)
    return tuple(c for c, v in row.items() if isinstance(v, float) and c not in KEPT)


class _Text:
    """A file of the data with other rows."""

    def __init__(self, path, changes):
        self._path, self._changes = path, changes

    def read_text(self, encoding):
        lines = list(csv.DictReader(self._path.read_text(encoding=encoding).splitlines()))
        for number, change in self._changes.items():
            lines[number] |= {c: repr(v) for c, v in change.items()}
        out = StringIO()
        writer = csv.DictWriter(out, lines[0])
        writer.writeheader()
        writer.writerows(lines)
        return out.getvalue()


@contextmanager
def shifted(table, changes):
    """The kit with other figures in a table. changes: {number of the row: {column: value}}."""
    found = files.data_path

    def other(name):
        path = found(name)
        return _Text(path, changes) if name == f"{table}.csv" else path

    files.data_path = other
    forget()
    try:
        yield
    finally:
        files.data_path = found
        forget()
