"""What records have in common: each shows itself in a notebook and tells a wrong name with those
near it; and options that are the fields of a record.
"""

from collections.abc import Iterable
from dataclasses import MISSING, fields, is_dataclass, replace
from textwrap import fill

from .errors import InputError, nearest
from .html import figure, table
from .statuses import weakest

_MOST_ROWS = 10  # of a record in a notebook, under its title and head


class Record:
    """Base of the records that a learner meets. _shown() gives (title, head, rows), the rows of
    cells: words and numbers; the first three stand in the text as well. One with a __str__ of its
    own is that text. _sources: texts that sources() answers, of what holds only numbers.
    _main_results: those of what_moves.csv that it holds; it tells the weakest they rest on.
    """

    _sources = ()
    _main_results = ()

    def _shown(self):
        told = ((n, x) for n, x in vars(self).items() if x is not None)
        rows = [(n, short(x)) for n, x in told if not n.startswith("_") and n != "provenance"]
        return type(self).__name__, ("what", ""), rows

    def __repr__(self):
        said = short(self)
        if type(self).__str__ is object.__str__:
            rows = self._shown()[2]
            parts = (" ".join(filter(None, map(figure, row[:3]))) for row in rows)
            said = f"{said}: {'; '.join(parts)}"
        return fill(self._with_weakest(said), 100, subsequent_indent="  ", max_lines=10)

    @property
    def rests_on(self) -> str:
        """What its main results rest on at the weakest, in words; none without a main result."""
        return weakest(*self._main_results) if self._main_results else ""

    def _with_weakest(self, said):
        """Words, and what the main results of the record rest on at the weakest."""
        return "; ".join(filter(None, (said, self.rests_on)))

    def _repr_html_(self):
        title, head, rows = self._shown()
        if len(rows) > _MOST_ROWS:
            more = len(rows) - _MOST_ROWS + 1
            rows = [*rows[: _MOST_ROWS - 1], (f"… and {more} more",)]
        return table(head, rows, self._with_weakest(title))

    def __getattr__(self, name):  # asked only for what is not there
        if name.startswith("_"):
            raise AttributeError(name)
        raise AttributeError(f"{type(self).__name__} has no {name}; {near(name, public(self))}")


def public(record: object) -> list:
    """Names of a record that are not private.

    Parameters
    ----------
    record : any object

    Returns
    -------
    names

    Examples
    --------
    >>> public(3.0)[:2]
    ['as_integer_ratio', 'conjugate']
    """
    return [name for name in dir(record) if not name.startswith("_")]


def near(name: str, known: Iterable[str]) -> str:
    """The phrase that names what is near a wrong name, else all that is known.

    Parameters
    ----------
    name : the wrong one
    known : names that are right

    Returns
    -------
    words

    Examples
    --------
    >>> near("stel", ["steel", "slag"])
    'near it: steel'
    """
    found = nearest(name, known)
    return f"near it: {', '.join(found)}" if found else f"it has {', '.join(known)}"


def told(record: object, what: str, given: dict) -> object:
    """A record with the options given.

    Parameters
    ----------
    record : a dataclass, or one of its kind to change
    what : what the message calls it
    given : its fields by name

    Returns
    -------
    the record

    Raises
    ------
    InputError
        For an option that is no field, and for one that is missing.

    Examples
    --------
    >>> from dataclasses import make_dataclass
    >>> told(make_dataclass("Heat", ["temp_c"]), "heat", {"temp_c": 1650.0}).temp_c
    1650.0
    """
    if not is_dataclass(record):
        raise InputError(f"{what}: {short(record)} was given; a record is needed.")
    known = {f.name: f for f in fields(record) if f.init}
    for name in given:
        if name not in known:
            raise InputError(
                f"{what}: {name} was given; there is no such figure; {near(name, known)}."
            )
    if not isinstance(record, type):
        return replace(record, **given)
    for name, f in known.items():
        if name not in given and f.default is MISSING and f.default_factory is MISSING:
            raise InputError(f"{what}: {name} is missing; it has no usual value.")
    return record(**given)


def short(x: object) -> str:
    """A field in few words.

    Parameters
    ----------
    x : number, array, record, mapping or sequence

    Returns
    -------
    text

    Examples
    --------
    >>> short({"C": 4.5, "Si": 0.4})
    'C 4.5, Si 0.4'
    """
    if isinstance(x, Record):
        return x._shown()[0] if type(x).__str__ is object.__str__ else str(x)
    if hasattr(x, "items"):
        return ", ".join(f"{k} {short(v)}" for k, v in x.items())
    if isinstance(x, (tuple, list)):
        return "; ".join(map(short, x))
    try:
        return figure(x)
    except (TypeError, ValueError):
        return str(x)
