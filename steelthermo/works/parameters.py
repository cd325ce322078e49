"""Plant values: efficiencies, recoveries and losses that every works measures for itself. They are
inputs with a range, never the right number.

A function that needs one takes it as an argument; left at None, the start value of
plant_values.csv is used and named in the result.
"""

from collections.abc import Iterable, Mapping
from functools import cache

from ..base import Number, Parameter, Table, one_of


@cache
def _table():
    return Table("plant_values").records(Parameter)


def parameter_names() -> tuple:
    """Keys of all plant values.

    Returns
    -------
    as plant_value() takes them

    Examples
    --------
    >>> parameter_names()[0]
    'mg_efficiency_pct'
    """
    return tuple(_table())


def plant_value(key: str) -> Parameter:
    """A figure that every works measures for itself.

    Parameters
    ----------
    key : such as 'mg_efficiency_pct'

    Returns
    -------
    Parameter: usual range, start value, unit, status

    Raises
    ------
    InputError
        For an unknown key.

    References
    ----------
    plant_values.csv

    Examples
    --------
    >>> asked = plant_value("mg_efficiency_pct")
    >>> asked.low, asked.start, asked.high, asked.unit
    (40.0, 60.0, 95.0, '%')
    """
    return _table()[one_of("plant value", key, _table())]


def start_value(
    key: str, given: Number | None = None, low: float | None = None, high: float | None = None
) -> Number:
    """The value given, checked; the start value of the table where None is given.

    Parameters
    ----------
    key : of a plant value
    given : in its unit; arrays too
    low, high : physical limits that may not be passed; None: 0, and 100 for %. The usual range of
        the table is not enforced: a works may lie outside it

    Returns
    -------
    in its unit

    Raises
    ------
    InputError

    References
    ----------
    plant_values.csv

    Examples
    --------
    >>> start_value("mg_efficiency_pct")
    60.0
    """
    found = plant_value(key)
    if given is None:
        return found.start
    top = 100.0 if found.unit == "%" else 1e6
    return found.checked(given, 0.0 if low is None else low, top if high is None else high)


def start_values(keys: Iterable, given: Mapping) -> dict:
    """The values given, checked, and the start values of the table for the others.

    Parameters
    ----------
    keys : of plant values
    given : value by key, in its unit; None for the start value

    Returns
    -------
    value by key

    Raises
    ------
    InputError
        Also for a key that is not asked for.

    Examples
    --------
    >>> start_values(["tap_drop_c", "tundish_c"], {"tundish_c": 18.0})
    {'tap_drop_c': 35.0, 'tundish_c': 18.0}
    """
    for key in given:
        one_of("plant value", key, keys)
    return {key: start_value(key, given.get(key)) for key in keys}


def works_facts(topic: str) -> tuple:
    """What was read, or is common practice, about pretreatment and ladle without being a formula:
    lessons 09 and 14 show it among their sources.

    Parameters
    ----------
    topic : such as 'magnesium', 'carry-over', 'nitrogen'

    Returns
    -------
    Provenance of each, its words and where they stand

    Raises
    ------
    InputError
        For an unknown topic.

    References
    ----------
    treatment_facts.csv

    Examples
    --------
    >>> works_facts("carry-over")[0].what[:43]
    'slag runs into the ladle at the start of th'
    """
    table = Table("treatment_facts")
    return tuple(map(table.provenance_of, table.where("topic", topic)))
