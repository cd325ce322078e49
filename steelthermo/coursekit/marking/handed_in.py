"""What was handed in: each file below a folder is met once, and what is not marked is told.

Links are never followed. Zips are opened within limits: so many bytes, members and bytes unpacked;
nothing is written to disk.
"""

import os
import zipfile
import zlib
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from ...base import why_not
from ..answers import clip, say
from ..paper import EXAM_FILE
from ..sheet import LIMIT_BYTES, SHEET_ENDINGS, TWIN_ENDING, SheetError, sheet_bytes, sheet_limits

DEPTH = 40  # folders inside each other
ZIP_BYTES, ZIP_DIRECTORY_BYTES = 256 * 2**20, 2**20
ZIP_MEMBERS, ZIP_UNPACKED = 5000, 512 * 2**20
_HEAD = 4096  # bytes by which a sheet of another name is recognised
_SETTINGS = ("course.toml", "works.toml", "class.csv", EXAM_FILE)  # found by their names elsewhere
_MOUNT_POINT = 0xA0000003  # what Windows calls a junction: os.walk follows it before Python 3.12
_ZIP_FAULTS = (
    zipfile.BadZipFile,
    NotImplementedError,
    RuntimeError,
    OSError,
    EOFError,
    ValueError,
    zlib.error,
)


def shown(name):
    """A path as text that every encoding of a report can hold, whatever bytes it has."""
    return os.fsencode(str(name)).decode("utf-8", "replace")


@dataclass(frozen=True)
class Handed:
    """One sheet. name: its path below the folder, as text; path: of the file or zip; member: its
    name in the zip, or ''; size: in bytes; ending_kept: whether it has the kit's own ending.
    """

    name: str
    path: Path
    member: str = ""
    size: int = 0
    ending_kept: bool = True

    def read(self):
        """Its bytes. Raises SheetError."""
        if not self.member:
            return sheet_bytes(self.path)
        try:
            with zipfile.ZipFile(self.path) as archive, archive.open(self.member) as file:
                data = file.read(LIMIT_BYTES + 1)
        except _ZIP_FAULTS as error:
            raise SheetError(say("hand.zip", reason=clip(why_not(error), 80))) from None
        sheet_limits(Path(self.member), data, len(data))
        return data


@dataclass
class Collected:
    """sheets: [Handed], in the order of their names; told: [(name, why it was not marked)];
    others: Counter of endings of files that are no sheets at all.
    """

    sheets: list = field(default_factory=list)
    told: list = field(default_factory=list)
    others: Counter = field(default_factory=Counter)

    def rows(self):
        """[(name, what)] of all that was met and not marked; files of no interest as counts."""
        many = [
            (say("hand.many", count=n, ending=clip(ending, 20)), say("hand.no_sheet"))
            for ending, n in sorted(self.others.items())
        ]
        return [*self.told, *many]


def collect(folder):
    """Everything below a folder. Returns Collected; raises OSError if the folder itself cannot be
    read.
    """
    folder, out = Path(folder), Collected()
    os.scandir(folder).close()
    _walk(folder, folder, out, 0)
    out.sheets.sort(key=lambda one: one.name)
    out.told.sort()
    return out


def _walk(folder, root, out, depth):
    name = shown(folder.relative_to(root))
    try:
        with os.scandir(folder) as entries:
            entries = sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        out.told.append((name, say("hand.folder", reason=why_not(error))))
        return
    if {"gradebook.csv", "report.html"} <= {entry.name for entry in entries}:
        return  # results of an earlier marking
    for entry in entries:
        path = Path(entry.path)
        name = shown(path.relative_to(root))
        try:
            state = entry.stat(follow_symlinks=False)
            link = entry.is_symlink() or getattr(state, "st_reparse_tag", 0) == _MOUNT_POINT
            if link:
                out.told.append((name, say("hand.link")))
            elif not entry.is_dir() and not entry.is_file():
                out.told.append((name, say("hand.no_file")))
            elif entry.is_file():
                _met(path, name, state.st_size, out)
            elif depth >= DEPTH:
                out.told.append((name, say("hand.deep", limit=DEPTH)))
            else:
                _walk(path, root, out, depth + 1)
        except OSError as error:
            out.told.append((name, say("hand.unreadable", reason=why_not(error))))


def _met(path, name, size, out):
    """Sort one file: a sheet, a zip, something told, or of no interest."""
    lower = path.name.lower()
    if lower.endswith(SHEET_ENDINGS):
        out.sheets.append(Handed(name, path, "", size))
    elif any(lower.startswith(known + ".") for known in _SETTINGS):
        out.told.append((name, say("hand.setting", name=lower.rpartition(".")[0])))
    elif ".damaged-" in lower:
        out.told.append((name, say("hand.damaged")))
    elif lower in _SETTINGS or lower.endswith((".lock", TWIN_ENDING)):
        return  # what the kit itself puts there
    elif lower.endswith(".ipynb"):
        out.others[".ipynb"] += 1
    else:
        with open(path, "rb") as file:
            head = file.read(_HEAD)
        if head[:4] in (b"PK\3\4", b"PK\5\6"):
            _unpack(path, name, out)
        elif _like_a_sheet(head):
            out.sheets.append(Handed(name, path, "", size, False))
        elif lower.endswith((".7z", ".rar", ".tar", ".gz", ".tgz", ".xz")):
            out.told.append((name, say("hand.archive")))
        else:
            out.others[path.suffix or path.name] += 1


def _like_a_sheet(head):
    return b'"kind":"' in head or (b'"learner"' in head and b'"course"' in head and b'"n"' in head)


def _directory_bytes(path):
    """How large a zip says its list of members is; infinite for what only large zips need."""
    with open(path, "rb") as file:
        size = file.seek(0, os.SEEK_END)
        file.seek(max(size - 65_600, 0))
        tail = file.read()
    end = tail.rfind(b"PK\5\6")
    if tail[-22:-18] == b"PK\5\6" and tail[-2:] == b"\0\0":
        end = len(tail) - 22
    if end < 0 or size > ZIP_BYTES or tail[max(end - 20, 0) : end].startswith(b"PK\6\7"):
        return float("inf")
    return int.from_bytes(tail[end + 12 : end + 16], "little")


def _unpack(path, name, out):
    """The sheets in a zip; nothing of it is written anywhere."""
    try:
        if _directory_bytes(path) > ZIP_DIRECTORY_BYTES:
            raise ValueError(say("hand.zip_large"))
        with zipfile.ZipFile(path) as archive:
            members = [m for m in archive.infolist() if not m.is_dir()]
            if len(members) > ZIP_MEMBERS or sum(m.file_size for m in members) > ZIP_UNPACKED:
                raise ValueError(say("hand.zip_large"))
            for member in members:
                _member(archive, path, name, member, out)
    except _ZIP_FAULTS as error:
        out.told.append((name, say("hand.zip", reason=clip(why_not(error), 80))))


def _member(archive, path, name, member, out):
    inside = f"{name} > {clip(member.filename, 80)}"
    lower = member.filename.lower()
    if member.flag_bits & 1 or member.compress_type not in (
        zipfile.ZIP_STORED,
        zipfile.ZIP_DEFLATED,
    ):
        out.told.append((inside, say("hand.zip_locked")))
        return
    if lower.rpartition("/")[2] in _SETTINGS or lower.endswith((".ipynb", ".lock")):
        return
    try:
        with archive.open(member) as file:
            head = file.read(_HEAD)
    except _ZIP_FAULTS as error:
        out.told.append((inside, say("hand.zip", reason=clip(why_not(error), 80))))
        return
    ours = lower.endswith(SHEET_ENDINGS)
    if head.startswith(b"PK\3\4"):
        out.told.append((inside, say("hand.zip_in_zip")))
    elif ".damaged-" in lower:
        out.told.append((inside, say("hand.damaged")))
    elif ours or _like_a_sheet(head):
        out.sheets.append(Handed(inside, path, member.filename, member.file_size, ours))
    else:
        out.others[Path(lower).suffix or lower] += 1
