"""A sheet read: its bytes, their limits, and what they say."""

from pathlib import Path

from ...base import why_not
from ..answers import clip, say
from .format import LIMIT_BYTES, LIMIT_LINES, SCHEMA, Contents, SheetError, parse


def sheet_refused(key, path, **values):
    return SheetError(say(key, file=clip(path.name, 80), **values))


def sheet_bytes(path: Path) -> bytes:
    """The bytes of a sheet.

    Parameters
    ----------
    path : of the file

    Returns
    -------
    bytes, LIMIT_BYTES at most

    Raises
    ------
    SheetError
        If it cannot be read, or is too large.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> one = Path(mkdtemp()) / "ada.sheet.txt"
    >>> _ = one.write_bytes(b"{}")
    >>> sheet_bytes(one)
    b'{}'
    """
    try:
        if not path.is_file():
            raise OSError("it is not a file")
        with open(path, "rb") as file:
            data = file.read(LIMIT_BYTES + 1)
    except OSError as error:
        raise sheet_refused("sheet.unreadable", path, reason=why_not(error)) from None
    sheet_limits(path, data, path.stat().st_size)
    return data


def sheet_limits(path: Path, data: bytes, size: int) -> None:
    """Refuse bytes that are too many, or in too many lines, for a sheet.

    Parameters
    ----------
    path : names it in messages
    data : what was read of it
    size : of the whole file, bytes

    Raises
    ------
    SheetError
        Says which of both.

    Examples
    --------
    >>> sheet_limits(Path("ada.sheet.txt"), b"{}", 2)
    """
    if len(data) > LIMIT_BYTES:
        raise sheet_refused("sheet.large", path, size=size // 2**20, limit=LIMIT_BYTES // 2**20)
    if (count := data.count(b"\n")) > LIMIT_LINES:
        raise sheet_refused("sheet.lines", path, count=count, limit=LIMIT_LINES)


def sheet_from(path: Path, data: bytes, who: tuple | None = None) -> Contents:
    """What the bytes of a sheet say.

    Parameters
    ----------
    path : names it in messages
    data : the bytes
    who : (learner, course) whose seals are expected where the header cannot be read

    Returns
    -------
    Contents

    Raises
    ------
    SheetError
        If they are none of a sheet that this kit knows.

    Examples
    --------
    >>> sheet_from(Path("ada.sheet.txt"), b"").records
    []
    """
    if data[:2] in (b"\xff\xfe", b"\xfe\xff", b"{\0", b"\0{"):
        raise sheet_refused("sheet.encoding", path)
    contents = parse(data, who)
    if contents.schema is not None and contents.schema > SCHEMA:
        raise sheet_refused("sheet.newer", path, schema=contents.schema, known=SCHEMA)
    return contents


def read_sheet(path: str | Path, who: tuple | None = None) -> Contents:
    """Read a sheet of any schema up to ours.

    Parameters
    ----------
    path : of the file
    who : (learner, course) whose seals are expected where the header cannot be read

    Returns
    -------
    Contents

    Raises
    ------
    SheetError
        Says why it cannot be read.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> one = Path(mkdtemp()) / "ada.sheet.txt"
    >>> _ = one.write_bytes(b"")
    >>> read_sheet(one).records
    []
    """
    path = Path(path)
    return sheet_from(path, sheet_bytes(path), who)
