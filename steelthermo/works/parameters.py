"""Plant values: efficiencies, recoveries and losses that every works measures for itself. They are
inputs with a range, never the right number.

A function that needs one takes it as an argument; left at None, the start value of
plant_values.csv is used and named in the result.
"""

from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from ..base import InputError, between, resolver, row_provenance, rows


@dataclass(frozen=True, slots=True)
class PlantValue:
    """A plant value: what it is, its unit, the usual range low to high, and start: where a slider
    stands before your works has measured it.
    """

    key: str
    what: str
    unit: str
    low: float
    start: float
    high: float
    status: str
    note: str
    provenance: tuple

    def __str__(self):
        unit = "" if self.unit == "1" else f" {self.unit}"
        return (
            f"plant value: {self.what}: {self.start:g}{unit} (usual {self.low:g} to "
            f"{self.high:g}{unit}; {self.status})"
        )


@cache
def _table():
    out = {}
    for row in rows("plant_values"):
        unit = row["unit"]
        low, begin, high = row["low"], row["start"], row["high"]
        out[row["key"]] = PlantValue(
            row["key"],
            row["what"],
            unit,
            low,
            begin,
            high,
            row["status"],
            row["note"],
            (row_provenance(row, row["what"]),),
        )
    return out


def parameter_names():
    """Keys of all plant values, as a tuple."""
    return tuple(_table())


def plant_value(key):
    """The PlantValue of a key such as 'mg_efficiency_pct'. Raises InputError for an unknown key.
    Source: plant_values.csv.
    """
    try:
        return _table()[key]
    except KeyError:
        near = ", ".join(get_close_matches(str(key), _table(), 3)) or "none like it"
        raise InputError(
            f"plant value: {key!r} is not in plant_values.csv; near it: {near}."
        ) from None


def start_value(key, given=None, low=None, high=None):
    """The value given, checked; the start value of the table where None is given.

    low, high: physical limits that may not be passed (default: 0, and 100 for %). The usual range
    of the table is not enforced:
    a works may lie outside it. Returns a float or array. Raises InputError.
    """
    found = plant_value(key)
    if given is None:
        return found.start
    top = 100.0 if found.unit == "%" else 1e6
    return between(
        found.what,
        given,
        0.0 if low is None else low,
        top if high is None else high,
        "" if found.unit == "1" else found.unit,
    )


def works_facts(topic=None):
    """What was read, or is common practice, about pretreatment and ladle without being a formula: a
    tuple of (words, Provenance).

    topic: such as 'magnesium', 'carry-over', 'nitrogen'; None for all. Raises InputError for an
    unknown topic. Source: treatment_facts.csv.
    """
    table = rows("treatment_facts")
    found = tuple(
        (r["says"], row_provenance(r, r["topic"])) for r in table if topic in (None, r["topic"])
    )
    if not found:
        raise InputError(
            f"facts: {topic!r} was asked for; topics are "
            f"{', '.join(dict.fromkeys(r['topic'] for r in table))}."
        )
    return found


@resolver
def _sources_of_plant_value(text):
    return _table()[text].provenance if text in _table() else None
