"""The plain-text files in data/ and its folders, which have the names of the package's: found by
name, read once.
"""

import csv
import errno
from functools import cache
from pathlib import Path
from types import MappingProxyType

from .errors import InputError
from .language import translated

_WHY = {
    FileNotFoundError: "there is no such file or folder",
    FileExistsError: "it is there already; give another name",
    IsADirectoryError: "it is a folder",
    NotADirectoryError: "a file stands where a folder is needed",
    PermissionError: "the system does not allow it, or another program holds it open",
    UnicodeDecodeError: "it is not text in UTF-8; save it with that encoding",
}


def why_not(error: Exception) -> str:
    """Why a file cannot be read or written, in words that go behind a colon.

    Parameters
    ----------
    error : what the system said

    Returns
    -------
    text

    Examples
    --------
    >>> why_not(FileNotFoundError(2, "No such file or directory"))
    'there is no such file or folder'
    """
    if isinstance(error, OSError) and error.errno is None:
        return str(error)  # the kit's own
    if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT):
        return translated("the disk is full")
    for kind, words in _WHY.items():
        if isinstance(error, kind):
            return translated(words)
    return getattr(error, "strerror", None) or str(error)


@cache
def data_files() -> dict:
    """Every file of steelthermo/data and its folders.

    Returns
    -------
    path by name; a name is used once only

    Examples
    --------
    >>> data_files()["constants.csv"].parent.name
    'base'
    """
    folder = Path(__file__).parents[1] / "data"
    return {p.name: p for p in sorted(folder.rglob("[!.]*")) if p.is_file()}


def data_path(name: str) -> Path:
    """Where a file of steelthermo/data or its folders stands.

    Parameters
    ----------
    name : with its ending

    Returns
    -------
    path

    Raises
    ------
    InputError
        If there is none.

    Examples
    --------
    >>> data_path("constants.csv").name
    'constants.csv'
    """
    if name not in data_files():
        raise InputError(
            f"data file: {name!r} was asked for; there is no such file in steelthermo/data."
        )
    return data_files()[name]


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
def rows(name: str) -> tuple:
    """Rows of a table; numeric cells are floats, 'any' is None (no limit). Keys, units, statuses,
    sources, places and notes stay text.

    Parameters
    ----------
    name : of the file, without .csv

    Returns
    -------
    read-only mappings by column

    Raises
    ------
    InputError
        If there is no such table.

    Examples
    --------
    >>> rows("units")[0]["unit"]
    'K'
    """
    text = data_path(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(
        MappingProxyType({k: _cell(k, v) for k, v in row.items()})
        for row in csv.DictReader(text.splitlines())
    )
