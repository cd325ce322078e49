"""Every constant of the kit, with unit, valid range, status and source: the tables of data/.

Statuses, best first: 'read' (in the source named: where this is an abstract, in the abstract),
'second-hand' (in another text that names the source, or that copies a figure not its own),
'derived' (our step from read figures, such as a sign restored: place or note say which), 'common
practice' (a rule of the trade, no source), 'memory' (not verified). sources(x) tells
where anything comes from, worst(x) the weakest of it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache, cached_property
from importlib import import_module
from operator import itemgetter
from types import MappingProxyType

from .errors import InputError, between, one_of
from .files import rows
from .hints import Number
from .record import Record
from .statuses import STATUSES

# what stands for no text at all, and how `read_in` begins where the text itself was seen
_UNREAD = {"memory": "memory", "practice": "common practice"}
_WHOLE = (
    "original",
    "scan",
    "a scan",
    "page",
    "text of",
    "course page",
    "introduction",
    "excerpts",
)


@dataclass(frozen=True, repr=False)
class Source(Record):
    """One entry of the bibliography. read_in: for maintainers, the text and its host in which it
    was read, where that is not the original.
    """

    key: str
    authors: str
    year: str
    title: str
    published_in: str
    read_in: str

    def __str__(self):
        who = " ".join(filter(None, (_known(self.authors), _known(self.year) and f"({self.year})")))
        said = ". ".join(filter(None, (self.subject, _known(self.published_in))))
        return f"{who}{': ' if who and said else ''}{said}.{self.seen}"

    @property
    def subject(self) -> str:
        """Its title, or in square brackets what it is about, where the title was not seen."""
        return re.sub(r"\[title not noted(?:: )?(.*)\]", r"[\1]", self.title).replace("[]", "")

    @property
    def status(self) -> str:
        """The best that a figure of it can have: how the source itself was seen."""
        if self.key in _UNREAD:
            return _UNREAD[self.key]
        return "read" if self.read_in.startswith(("abstract", *_WHOLE)) else "second-hand"

    @property
    def seen(self) -> str:
        """How the source was seen, as a learner is told; where, only its row says."""
        if self.read_in.startswith("abstract"):
            return " [abstract]"
        return " [second-hand]" if self.status == "second-hand" else ""


def _known(text):
    """What a source says of itself, '' where it was not noted or is not shown."""
    return "" if re.search(r"\bnot (noted|shown)\b|^no(ne)?\b", text) else text


@dataclass(frozen=True, repr=False)
class Provenance(Record):
    """Where one number comes from: what it is, its status, the source and the place in the
    source.
    """

    what: str
    status: str
    source: Source
    place: str

    def __str__(self):
        return f"{self.what}: {self.status}; {self.source} {self.place}"


@dataclass(frozen=True, repr=False)
class Parameter(Record):
    """A figure that a works may know better: key, what it is, unit, the usual range low to high,
    start (the number taken until then), status, note, provenance.
    """

    key: str
    what: str
    unit: str
    low: float
    start: float
    high: float
    status: str
    note: str
    provenance: tuple[Provenance, ...]

    def __str__(self):
        unit = "" if self.unit == "1" else f" {self.unit}"
        return (
            f"{self.what}: {self.start:g}{unit} (usual {self.low:g} to {self.high:g}{unit}; "
            f"{self.status})"
        )

    def checked(self, given: object, low: float, high: float) -> Number:
        """What is given instead, finite and within low to high. Raises InputError."""
        return between(self.what, given, low, high, "" if self.unit == "1" else self.unit)


class Table:
    """One table of data/, read when first asked.

    told: what data/tables.csv says of it: key (columns that name a row), row (what one asks for),
    asked (texts that sources() answers by a row), what (how it names the row), feeds.
    """

    def __init__(self, name):
        self.name = name

    @property
    def told(self) -> Mapping:
        """Its row in data/tables.csv."""
        return registry()[self.name]

    @property
    def rows(self) -> tuple:
        """Its rows, as of rows()."""
        return rows(self.name)

    @cached_property
    def by_key(self) -> Mapping:
        """Rows by key; where several columns name a row, by a tuple of them."""
        columns = self.told["key"].split()
        return MappingProxyType({itemgetter(*columns)(r): r for r in self.rows})

    def get(self, key: object) -> Mapping:
        """The row of a key. Raises InputError that names the others."""
        return self.by_key[one_of(self.told["row"], key, self.by_key)]

    def where(self, column: str, wanted: object) -> tuple:
        """Rows that hold what is wanted in a column. Raises InputError that names what there is."""
        one_of(self.told["row"], wanted, dict.fromkeys(r[column] for r in self.rows))
        return tuple(r for r in self.rows if r[column] == wanted)

    def provenance(self, key: object) -> tuple:
        """Where the row of a key comes from: a tuple of one Provenance. Raises InputError."""
        return (self.provenance_of(self.get(key)),)

    def provenance_of(self, row: Mapping) -> Provenance:
        """Where a row comes from."""
        return row_provenance(row, self.told["what"].format_map(row))

    def records(self, cls: type) -> dict:
        """Rows by key as records of a dataclass: each field a column, or `provenance`."""
        names = [f.name for f in fields(cls)]
        return {
            key: cls(
                **{n: row[n] for n in names if n != "provenance"}, provenance=self.provenance(key)
            )
            for key, row in self.by_key.items()
        }

    @cached_property
    def _answers(self):
        """Rows by each text that sources() answers."""
        out = {}
        for row in self.rows:
            for form in self.told["asked"].split(" | "):
                if form != "none":
                    out.setdefault(form.format_map(row), []).append(row)
        return out

    def sources(self, text: str) -> tuple:
        """Provenances of what a text names in this table, none where it names nothing."""
        found = self._answers.get(text, ())
        if found and self.told["by"] != "none":
            folder, _, function = self.told["by"].partition(".")
            found = getattr(import_module(f"..{folder}", __package__), function)(text)
            return getattr(found, "provenance", found)
        return tuple(map(self.provenance_of, found))


_CONSTANTS = Table("constants")


@cache
def registry() -> dict:
    """The table of tables.

    Returns
    -------
    rows of tables.csv by name (see Table), those that a heat meets first at the head

    Examples
    --------
    >>> registry()["constants"]["row"]
    'constant'
    """
    return {row["name"]: row for row in rows("tables")}


@cache
def _tables():
    return tuple(map(Table, registry()))


@cache
def bibliography() -> dict:
    """All sources.

    Returns
    -------
    Source by key

    Examples
    --------
    >>> bibliography()["mmtb21"].year
    '2021'
    """
    return {row["key"]: Source(**row) for row in rows("sources")}


def constant(key: str) -> Mapping:
    """The row of a constant.

    Parameters
    ----------
    key : in constants.csv

    Returns
    -------
    value, unit, low and high (None: no limit), status, source, place, note

    Raises
    ------
    InputError
        For an unknown key, with the nearest ones.

    Examples
    --------
    >>> constant("gas_constant")["unit"]
    'J/(mol K)'
    """
    return _CONSTANTS.get(key)


@cache
def value(key: str) -> float:
    """The number alone of a constant.

    Parameters
    ----------
    key : in constants.csv, where its unit stands

    Returns
    -------
    in that unit

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(value("gas_constant"), 4)
    8.3145
    """
    return constant(key)["value"]


def row_provenance(row: Mapping, what: str) -> Provenance:
    """Where a row of a data table comes from.

    Parameters
    ----------
    row : with columns status, source and place
    what : what the number is

    Returns
    -------
    Provenance

    Examples
    --------
    >>> row_provenance(constant("gas_constant"), "R").status
    'second-hand'
    """
    return Provenance(what, row["status"], bibliography()[row["source"]], row["place"])


def _of(x):
    """Every Provenance of an object: its own, else those of its parts."""
    if isinstance(x, Provenance):
        yield x
    elif isinstance(x, Source):
        yield from sources(x.key)
    elif (found := getattr(x, "provenance", None)) is not None:
        yield from _of(found() if callable(found) else found)
    elif isinstance(x, Mapping) and {"status", "source", "place"} <= x.keys():
        yield row_provenance(x, str(next(iter(x.values()))))
    elif is_dataclass(x):
        yield from _of([*map(sources, x._sources), *(getattr(x, f.name) for f in fields(x))])
    elif isinstance(x, Mapping | tuple | list):
        for part in x.values() if isinstance(x, Mapping) else x:
            yield from _of(part)


def sources(x: object) -> tuple:
    """Where a number, a record or a result comes from.

    Parameters
    ----------
    x : a source key, a text that data/tables.csv says is answered (a constant's key, the formula of
        a substance, the name of a coefficient set), or any object of the kit, row of a table,
        mapping or tuple of them: its `provenance`, else those of its parts

    Returns
    -------
    of Provenance; empty where x holds only numbers that were given

    Raises
    ------
    InputError
        If nothing is known about x, as of a bare number: help() of the function that gave it says
        more.

    Examples
    --------
    >>> sources("gas_constant")[0].what
    'gas_constant = 8.31446 J/(mol K)'
    """
    if not isinstance(x, str):
        parts = isinstance(x, Record | Mapping | tuple | list)
        if parts or hasattr(x, "provenance") and not isinstance(x, type):
            return tuple(dict.fromkeys(_of(x)))
        raise InputError(
            f"sources: {type(x).__name__} was given; a name, a substance, a record or a result of "
            "the kit is needed. Of a bare number, help() of the function that gave it tells more."
        )
    if x in bibliography():
        return (Provenance(x, bibliography()[x].status, bibliography()[x], ""),)
    for table in _tables():
        if found := table.sources(x):
            return tuple(found)
    raise InputError(f"sources: {x!r} is neither a constant, a source, nor a substance of the kit.")


def worst(x: object) -> Provenance:
    """The weakest of what a number, a record or a result rests on.

    Parameters
    ----------
    x : as in sources()

    Returns
    -------
    the first Provenance with the worst status of STATUSES

    Raises
    ------
    InputError
        If nothing is known about x, or if it holds only numbers that were given.

    Examples
    --------
    >>> worst("hafnia").status
    'read'
    """
    found = sources(x)
    if not found:
        raise InputError("worst: all numbers of it were given; it rests on no table of the kit.")
    return max(found, key=lambda p: STATUSES.index(p.status))
