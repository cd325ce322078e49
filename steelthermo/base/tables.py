"""Every constant of the kit, with unit, valid range, status and source: read from the plain-text
files in data/ and its folders, which have the names of the package's.

Statuses: 'published' (read in the source named), 'common practice' (a rule of the trade, no
source), 'memory' (recalled, to be confirmed). sources(x) tells where anything comes from.
"""

import csv
from dataclasses import dataclass, fields, is_dataclass
from functools import cache, cached_property
from importlib import import_module
from importlib.resources import files
from operator import itemgetter
from pathlib import Path
from types import MappingProxyType

from .errors import InputError, between, one_of

STATUSES = ("published", "common practice", "memory")


@dataclass(frozen=True, slots=True)
class Source:
    """One entry of the bibliography. read_in: the text in which we read it, where that is not the
    original.
    """

    key: str
    authors: str
    year: str
    title: str
    published_in: str
    read_in: str

    def __str__(self):
        seen = "" if self.read_in in ("original", "none") else f" [read in: {self.read_in}]"
        return f"{self.authors} ({self.year}): {self.title}. {self.published_in}.{seen}"


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where one number comes from: what it is, its status, the source and the place in the
    source.
    """

    what: str
    status: str
    source: Source
    place: str

    def __str__(self):
        return f"{self.what}: {self.status}; {self.source} {self.place}"


@dataclass(frozen=True, slots=True)
class Parameter:
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

    def checked(self, given, low, high):
        """What is given instead, finite and within low to high. Raises InputError."""
        return between(self.what, given, low, high, "" if self.unit == "1" else self.unit)


@cache
def data_files():
    """Every file of steelthermo/data and its folders: dict of name, used once only, to path."""
    folder = Path(__file__).parents[1] / "data"
    return {p.name: p for p in sorted(folder.rglob("[!.]*")) if p.is_file()}


def data_path(name):
    """Path of a file in steelthermo/data or its folders. Raises InputError if there is none."""
    if name not in data_files():
        raise InputError(
            f"data file: {name!r} was asked for; there is no such file in steelthermo/data."
        )
    return data_files()[name]


def cantera_species(file):
    """Cantera's Species records of a file in its YAML format: one of steelthermo/data, else one
    that comes with Cantera.

    The file is named in full because Cantera looks in the present folder first, and read here where
    the name holds letters outside ASCII because Cantera drops those from the name of its data
    folder. Raises InputError if there is no such file.
    """
    import cantera as ct

    path = data_files().get(file) or files("cantera") / "data" / file
    if not path.is_file():
        raise InputError(
            f"data file: {file!r} was asked for; there is no such file in steelthermo/data nor "
            "among Cantera's."
        )
    if str(path).isascii():
        return ct.Species.list_from_file(str(path))
    return ct.Species.list_from_yaml(path.read_text(encoding="utf-8"), section="species")


_TEXTS = (
    "key",
    "unit",
    "status",
    "source",
    "place",
    "note",
    "year",
)  # columns that hold words, even where they look like a number (unit "1")


def _cell(column, text):
    if column in _TEXTS:
        return text
    if text == "any":
        return None
    try:
        return float(text)
    except ValueError:
        return text


@cache
def rows(name):
    """Rows of the table <name>.csv as a tuple of read-only mappings; numeric cells become float,
    'any' becomes None (no limit).

    Keys, units, statuses, sources, places and notes stay text.
    """
    text = data_path(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(
        MappingProxyType({k: _cell(k, v) for k, v in row.items()})
        for row in csv.DictReader(text.splitlines())
    )


class Table:
    """One table of data/, read when first asked.

    told: what data/tables.csv says of it: key (columns that name a row), row (what one asks for),
    asked (texts that sources() answers by a row), what (how it names the row), feeds.
    """

    def __init__(self, name):
        self.name = name

    @property
    def told(self):
        return registry()[self.name]

    @property
    def rows(self):
        return rows(self.name)

    @cached_property
    def by_key(self):
        """Rows by key; where several columns name a row, by a tuple of them."""
        columns = self.told["key"].split()
        return MappingProxyType({itemgetter(*columns)(r): r for r in self.rows})

    def get(self, key):
        """The row of a key. Raises InputError that names the others."""
        return self.by_key[one_of(self.told["row"], key, self.by_key)]

    def where(self, column, wanted):
        """Rows that hold what is wanted in a column. Raises InputError that names what there is."""
        one_of(self.told["row"], wanted, dict.fromkeys(r[column] for r in self.rows))
        return tuple(r for r in self.rows if r[column] == wanted)

    def provenance(self, key):
        """Where the row of a key comes from: a tuple of one Provenance. Raises InputError."""
        return (self.provenance_of(self.get(key)),)

    def provenance_of(self, row):
        return row_provenance(row, self.told["what"].format_map(row))

    def records(self, cls):
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

    def sources(self, text):
        """Provenances of what a text names in this table, none where it names nothing."""
        found = self._answers.get(text, ())
        if found and self.told["by"] != "none":
            folder, _, function = self.told["by"].partition(".")
            found = getattr(import_module(f"..{folder}", __package__), function)(text)
            return getattr(found, "provenance", found)
        return tuple(map(self.provenance_of, found))


_CONSTANTS = Table("constants")


@cache
def registry():
    """The table of tables (see Table): dict of name to row, those that a heat meets first at the
    head.
    """
    return {row["name"]: row for row in rows("tables")}


@cache
def _tables():
    return tuple(map(Table, registry()))


@cache
def bibliography():
    """All sources by key."""
    return {row["key"]: Source(**row) for row in rows("sources")}


def constant(key):
    """The row of a constant: value, unit, low and high (None: no limit), status, source, place and
    note. Raises InputError for an unknown key, with the nearest names.
    """
    return _CONSTANTS.get(key)


@cache
def value(key):
    """The number alone of a constant (its unit stands in constants.csv and in constant(key))."""
    return constant(key)["value"]


def row_provenance(row, what):
    """Provenance of a row of any data table (all have the columns status, source and place)."""
    return Provenance(what, row["status"], bibliography()[row["source"]], row["place"])


def _of_parts(record):
    """Provenance of the parts of a record that has none of its own."""
    for f in fields(record):
        part = getattr(record, f.name)
        for one in part.values() if hasattr(part, "values") else (part,):
            if hasattr(one, "provenance"):
                yield from one.provenance


def sources(x):
    """Where x comes from: a tuple of Provenance.

    x: a source key, a text that data/tables.csv says is answered (a constant's key, the formula of
    a substance, the name of a coefficient set), or any object of the kit (substance, record,
    result): its `provenance`, else that of its parts, which is empty where it holds numbers alone.
    Raises InputError if nothing is known about x.
    """
    if not isinstance(x, str):
        found = getattr(x, "provenance", None)
        if found is not None:
            return tuple(found() if callable(found) else found)
        if is_dataclass(x) and not isinstance(x, type):
            return tuple(dict.fromkeys(_of_parts(x)))
        raise InputError(
            f"sources: {type(x).__name__} was given; a name, a substance, a record or a result of "
            "the kit is needed."
        )
    if x in bibliography():
        status = {"memory": "memory", "practice": "common practice"}.get(x, "published")
        return (Provenance(x, status, bibliography()[x], ""),)
    for table in _tables():
        if found := table.sources(x):
            return tuple(found)
    raise InputError(f"sources: {x!r} is neither a constant, a source, nor a substance of the kit.")
