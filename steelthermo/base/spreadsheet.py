"""Tables that people type: text of any common encoding, cells parted by comma, semicolon or tab,
decimal commas, units written in many ways.
"""

import csv
import re
from pathlib import Path

import numpy as np

from .errors import InputError
from .files import why_not

# other ways to write a unit; those of volume hold for gas only
_SPELLINGS = {
    **dict.fromkeys(("mass %", "mass-%", "wt%", "wt.%", "wt %", "wt-%", "weight %", "pct"), "%"),
    **dict.fromkeys(("degc", "deg c", "c", "celsius"), "°C"),
    **dict.fromkeys(("-", "none"), "1"),
    "k": "K",
    "nm³": "Nm3",
    "nm³/min": "Nm3/min",
    "nm³/h": "Nm3/h",
}
_BY_VOLUME = ("vol%", "vol.%", "vol %", "vol-%", "volume %")


def text_of(path: str | Path, what: str, most_bytes: int = 2**28) -> tuple:
    """Text of a file that people typed: UTF-8, UTF-16, or the Western code page of a spreadsheet
    (with a note).

    Parameters
    ----------
    path : of the file
    what : names it in messages
    most_bytes : more is refused

    Returns
    -------
    (text, notes)

    Raises
    ------
    InputError
        For a file that can't be read, or is too large.

    Examples
    --------
    >>> from steelthermo.base import data_path
    >>> text, notes = text_of(data_path("units.csv"), "table")
    >>> text[:8], notes
    ('unit,qua', ())
    """
    try:
        with Path(path).open("rb") as file:
            raw = file.read(most_bytes + 1)
    except OSError as error:
        raise InputError(f"{what} {path}: it can't be read: {why_not(error)}.") from None
    if len(raw) > most_bytes:
        raise InputError(f"{what} {path}: it has more than {most_bytes // 2**20} MB.")
    try:
        if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
            return raw.decode("utf-16"), ()
        return raw.decode("utf-8-sig"), ()
    except UnicodeDecodeError:
        note = "The file is not in UTF-8; it was read as a Western code page."
        return raw.decode("cp1252", errors="replace"), (note,)


def table_of(text: str) -> tuple:
    """Lines and cells of a text. Blank lines are left out, lines that begin with # are remarks.

    Parameters
    ----------
    text : of a file

    Returns
    -------
    (delimiter, [(line number, cells)], [(line number, remark)]); the first pair is the head

    Raises
    ------
    InputError
        For what is no CSV.

    Examples
    --------
    >>> table_of("time;carbon;unit")[0]
    ';'
    """
    lines, remarks = [], []
    for number, line in enumerate(text.splitlines(), 1):
        if line.lstrip().startswith("#"):
            remarks.append((number, line.strip().lstrip("# ")))
        elif line.strip():
            lines.append((number, line))
    head = re.sub(r'"[^"]*"', "", lines[0][1]) if lines else ""  # a comma in quotes parts nothing
    delimiter = max(",;\t", key=head.count)
    cells = csv.reader((line for _, line in lines), delimiter=delimiter)
    try:
        return delimiter, [(n, row) for (n, _), row in zip(lines, cells, strict=False)], remarks
    except csv.Error as error:
        raise InputError(f"table: it can't be read as CSV: {error}.") from None


def number_in(cell: str, decimal_comma: bool) -> float | None:
    """The number in a cell.

    Parameters
    ----------
    cell : text
    decimal_comma : whether 4,5 is a number

    Returns
    -------
    None for what is none

    Examples
    --------
    >>> number_in("4,5", True)
    4.5
    """
    try:
        x = float(cell.replace(",", ".") if decimal_comma else cell)
    except ValueError:
        return None
    return x if np.isfinite(x) else None


def unit_in(text: str, gas: bool = False) -> str:
    """A unit as units.csv writes it; what is not known stays as it is.

    Parameters
    ----------
    text : as typed
    gas : whether % by volume makes sense

    Returns
    -------
    unit

    Examples
    --------
    >>> unit_in("wt.%")
    '%'
    """
    lower = text.lower()
    return "%" if gas and lower in _BY_VOLUME else _SPELLINGS.get(lower, text)
