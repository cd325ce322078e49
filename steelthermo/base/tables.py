"""Every constant of the kit, with unit, valid range, status and source: read from the plain-text
files in data/ and its folders, which have the names of the package's.

Statuses: 'published' (read in the source named), 'common practice' (a rule of the trade, no
source), 'memory' (recalled, to be confirmed). sources(x) tells where anything comes from.
"""

import csv
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType

from .errors import InputError

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
class Constant:
    """One constant: value in unit, valid from low to high (of what: see note), status, source key
    and place in it.
    """

    key: str
    value: float
    unit: str
    low: float
    high: float
    status: str
    source: str
    place: str
    note: str


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


@cache
def registry():
    """What is told of each table in tables.csv: dict of name to a row with key (columns that
    name one of its rows), row (what one is) and feeds (what it is used for), those that a heat
    meets first at the head.
    """
    return {row["name"]: row for row in rows("tables")}


@cache
def bibliography():
    """All sources by key."""
    return {row["key"]: Source(**row) for row in rows("sources")}


@cache
def constants():
    """All constants of constants.csv by key."""
    out = {}
    for row in rows("constants"):
        low, high = row["low"], row["high"]
        row = row | {
            "low": float("-inf") if low is None else low,
            "high": float("inf") if high is None else high,
        }
        out[row["key"]] = Constant(**row)
    return out


def constant(key):
    """The Constant of that key. Raises InputError for an unknown key, with the nearest names."""
    try:
        return constants()[key]
    except KeyError:
        from difflib import get_close_matches

        near = ", ".join(get_close_matches(key, constants(), 3)) or "none like it"
        raise InputError(f"constant: {key!r} is not in constants.csv; near it: {near}.") from None


@cache
def value(key):
    """The number alone of a constant (its unit stands in constants.csv and in
    constant(key).unit).
    """
    return constant(key).value


def row_provenance(row, what):
    """Provenance of a row of any data table (all have the columns status, source and place)."""
    return Provenance(what, row["status"], bibliography()[row["source"]], row["place"])


# Floors above add their own way to answer sources("text"); each takes the text and returns
# Provenances or None.
_resolvers = []


def resolver(function):
    """Decorator: let sources() ask this function about a text it does not know itself."""
    _resolvers.append(function)
    return function


def _of_parts(record):
    """Provenance of the parts of a record that has none of its own."""
    for f in fields(record):
        part = getattr(record, f.name)
        for one in part.values() if hasattr(part, "values") else (part,):
            if hasattr(one, "provenance"):
                yield from one.provenance


def sources(x):
    """Where x comes from: a tuple of Provenance.

    x: a constant's key, a source key, the formula of a substance, the name of a coefficient set, or
    any object of the kit (substance, record, result): its `provenance`, else that of its parts,
    which is empty where it holds numbers alone. Raises InputError if nothing is known about x.
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
    if x in constants():
        c = constants()[x]
        return (
            Provenance(
                f"{c.key} = {c.value:g} {c.unit}", c.status, bibliography()[c.source], c.place
            ),
        )
    if x in bibliography():
        return (
            Provenance(
                x,
                {"memory": "memory", "practice": "common practice"}.get(x, "published"),
                bibliography()[x],
                "",
            ),
        )
    for ask in _resolvers:
        found = ask(x)
        if found:
            return tuple(found)
    raise InputError(f"sources: {x!r} is neither a constant, a source, nor a substance of the kit.")
