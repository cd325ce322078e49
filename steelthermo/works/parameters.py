"""Plant values: efficiencies, recoveries and losses that every works measures for itself. They are
inputs with a range, never the right number.

A function that needs one takes it as an argument; left at None, the start value of
plant_values.csv is used and named in the result.
"""

from functools import cache

from ..base import Parameter, Table, one_of


@cache
def _table():
    return Table("plant_values").records(Parameter)


def parameter_names():
    """Keys of all plant values, as a tuple."""
    return tuple(_table())


def plant_value(key):
    """The Parameter of a key such as 'mg_efficiency_pct'. Raises InputError for an unknown key.
    Source: plant_values.csv.
    """
    return _table()[one_of("plant value", key, _table())]


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
    return found.checked(given, 0.0 if low is None else low, top if high is None else high)


def works_facts(topic=None):
    """What was read, or is common practice, about pretreatment and ladle without being a formula: a
    tuple of (words, Provenance).

    topic: such as 'magnesium', 'carry-over', 'nitrogen'; None for all. Raises InputError for an
    unknown topic. Source: treatment_facts.csv.
    """
    table = Table("treatment_facts")
    found = table.rows if topic is None else table.where("topic", topic)
    return tuple((row["says"], table.provenance_of(row)) for row in found)
