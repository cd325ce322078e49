"""The learner's answer sheet: answers/<name>-<hash>.sheet.txt, append-only, one sealed record a
line (see format).

A record is added by one write at the end of the file and forced to disk, under a lock where the
file system has locks. Nothing in the file is ever changed or removed: a line torn by a crash stays
where it is and is skipped; before anything is added to a damaged file a copy of it is kept aside.
All lines are written a second time to a twin beside the sheet, from which they come back where a
sheet was put back to an older state while no notebook was open.
"""

import errno
import hashlib
import os
import re
import sys
import unicodedata
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from ...base import why_not
from ..adapter import in_use
from ..answers import clip, say
from ..problems import normalised
from .course import kept_aside
from .format import (
    LIMIT_BYTES,
    LINE_BYTES,
    SCHEMA,
    TEXT,
    Contents,
    SheetError,
    encode,
    seal_key,
    sealed_lines,
)
from .lock import locked
from .reading import sheet_bytes, sheet_from, sheet_refused

SHEET_ENDINGS = (".sheet.txt", ".jsonl")  # ours, and that of older kits: still read and added to
TWIN_ENDING = ".twin"
BROWSER_FOLDER = Path("/drive").absolute()  # JupyterLite mounts its files there, over https only


def fingerprint() -> str:
    """A short hash over all data of the course in use: sheets made under other data are recognised
    by it.

    Returns
    -------
    twelve hexadecimal digits

    Examples
    --------
    >>> len(fingerprint())
    12
    """
    return _fingerprint(in_use().data)


@cache
def _fingerprint(data):
    total = hashlib.sha256()
    for name, path in sorted(data().items()):
        total.update(name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()[:12]


def sheet_name(learner: str, course: str) -> str:
    """File name of a sheet: letters of the name that every system can store, then a hash of name
    and course key.

    Parameters
    ----------
    learner, course : name and course key

    Returns
    -------
    text

    Examples
    --------
    >>> sheet_name("Ada Österberg", "self-study").startswith("ada-osterberg-")
    True
    """
    plain = unicodedata.normalize("NFKD", normalised(learner)).encode("ascii", "ignore").decode()
    plain = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40] or "learner"
    return f"{plain}-{hashlib.sha256(seal_key(learner, course)).hexdigest()[:8]}{SHEET_ENDINGS[0]}"


def unwritten(folder: object, error: OSError) -> str:
    """The sentence for a folder that could not be written: what went wrong and what to do.

    Parameters
    ----------
    folder : its path
    error : as raised

    Returns
    -------
    text

    Examples
    --------
    >>> "tea" in unwritten("tea", OSError("no such place"))
    True
    """
    if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
        return say("sheet.no_room", folder=folder)
    return say("sheet.folder", folder=folder, reason=why_not(error))


def kept_by_browser(folder: str | Path) -> str:
    """The sentence that says where sheets in a folder stay, for Python that runs in a browser. Its
    files outlive the page only in the folder that the pages share with it.

    Parameters
    ----------
    folder : its path

    Returns
    -------
    text, '' elsewhere

    Examples
    --------
    >>> kept_by_browser(".")
    ''
    """
    if sys.platform != "emscripten":
        return ""
    kept = BROWSER_FOLDER in (folder := Path(folder).absolute(), *folder.parents)
    return say("sheet.in_browser" if kept else "sheet.nowhere")


class Sheet:
    """One learner's sheet in a working folder. Making it reads what is there and writes nothing.

    folder: the working folder, or a function that returns it (the folder may be renamed while a
    notebook is open).
    Raises SheetError if a sheet is there that this kit must not touch: of another learner, of a
    newer kit, or too large to be one.
    """

    def __init__(self, folder, learner, course):
        self.learner, self.course = (
            x.encode("utf-8", "ignore").decode() for x in (learner, course)
        )
        self._folder = folder if callable(folder) else lambda: folder
        self._key = seal_key(self.learner, self.course)
        self.kept = None  # the copy made of a damaged file, by its path
        self.restored = 0  # lines that were known here, had gone from the file, and were put back
        self._lines, self._known = b"", {}  # the file as last read; every sealed line seen so far
        self.contents = Contents()
        self._load()
        self._remember()

    @property
    def path(self):
        """Where the sheet stands now; one that an older kit began keeps its name."""
        path = Path(self._folder()) / "answers" / sheet_name(self.learner, self.course)
        older = path.with_name(path.name.removesuffix(SHEET_ENDINGS[0]) + SHEET_ENDINGS[1])
        return older if older.exists() and not path.exists() else path

    @property
    def records(self):
        """All records, with those another notebook has written in the meantime."""
        self._load()
        return self.contents.records

    def _load(self, anew=False):
        """Read the sheet again if its size has changed (anew: in any case). Lines that have gone
        from it stay known (see _lost); a sheet that is gone leaves what we know.
        """
        path = self.path
        if not path.exists() or (path.stat().st_size == len(self._lines) and not anew):
            return
        data = sheet_bytes(path)
        if data == self._lines:
            return
        contents = sheet_from(path, data, (self.learner, self.course))
        if (
            contents.learner is not None
            and seal_key(contents.learner, contents.course) != self._key
        ):
            owner, learner = clip(contents.learner), clip(self.learner)
            raise sheet_refused("sheet.other", path, owner=owner, learner=learner)
        new = data.removeprefix(self._lines)  # as a rule lines were added, and no more
        self._known |= sealed_lines(new, self._key)
        self.contents, self._lines = contents, data
        if len(new) == len(data) and (lost := self._lost()):
            # put back to an older state, emptied or overwritten while we were open
            whole = data + (b"" if data.endswith(b"\n") or not data else b"\n") + lost
            self.contents = sheet_from(path, whole, (self.learner, self.course))

    def _lost(self):
        """Lines that are known here and no longer in the file, to be added to it again."""
        there = {line.rstrip(b"\r") for line in self._lines.split(b"\n")}
        return b"".join(line + b"\n" for line in self._known if line not in there)

    def _remember(self):
        """Know the lines that were written when nobody looked: those of the twin. A sheet that was
        put back or deleted meanwhile gets them again with the next record. And those of a copy
        that was handed in, which a trainer sent back to somebody who lost the sheet.
        """
        for copy in (self.twin, *sorted(self.path.parent.glob(f"*_{self.path.name}"))):
            try:
                self._known |= sealed_lines(sheet_bytes(copy), self._key)
            except SheetError:  # there is none, or it is of no use
                continue
        if lost := self._lost():
            whole = self._lines + (b"\n" if self._lines[-1:] not in (b"", b"\n") else b"") + lost
            self.contents = sheet_from(self.path, whole, (self.learner, self.course))

    @property
    def twin(self):
        """A second copy of all lines, beside the sheet."""
        return self.path.with_suffix(TWIN_ENDING)

    def append(self, kind, **fields):
        """Add a record; a text is cut to what a sheet keeps. Raises SheetError if it cannot be
        saved; what was saved before stays.
        """
        if "text" in fields:
            fields["text"] = str(fields["text"])[:TEXT]
        path = self.path
        try:
            if not path.parent.parent.is_dir():
                raise FileNotFoundError("it is no longer there")
            path.parent.mkdir(exist_ok=True)
            with locked(path.with_suffix(".lock")):
                self._append(path, kind, fields)
        except OSError as error:
            raise SheetError(unwritten(path.parent, error)) from None

    def _append(self, path, kind, fields):
        self._load(anew=True)
        out, gone = bytearray(), not path.exists()
        if len(self._lines) > LIMIT_BYTES - 4 * LINE_BYTES:
            raise sheet_refused("sheet.full", path, limit=LIMIT_BYTES // 2**20)
        if gone:  # deleted while we were open: write again what we know
            self._lines = b""
        elif self._lines and not self._lines.endswith(b"\n"):
            out += b"\n"
        lost = self._lost()
        self.restored += lost.count(b"\n")
        out += lost
        contents, stamp = self.contents, {"kit": in_use().version, "data": fingerprint()}
        noted = max((r["bad"] for r in contents.records if r["kind"] == "damage"), default=0)
        if len(contents.bad) > noted:
            torn_only = contents.torn and len(contents.bad) == noted + 1
            torn_only = torn_only and b"\0" not in self._lines
            if not torn_only and path.exists():
                self.kept = kept_aside(path)
            copy = self.kept.name if self.kept else "none"
            copy = "none, torn by a crash" if torn_only else copy
            out += self._line("damage", {"bad": len(contents.bad), "copy": copy})
        if contents.learner is None or contents.schema < SCHEMA:
            who = {"schema": SCHEMA, "learner": self.learner, "course": self.course}
            out += self._line("sheet", who | stamp)
        elif (in_use().version, fingerprint()) not in contents.stamps[-1:]:
            out += self._line("kit", stamp)
        if lost and not gone:
            back = lost.count(b"\n")
            copy = f"none, {back} lines written back"
            out += self._line("damage", {"bad": max(noted, len(contents.bad)), "copy": copy})
        out += self._line(kind, fields)
        try:
            _write(path, bytes(out))
        finally:
            self._load(anew=True)  # whatever reached the disk
        try:
            # a line torn by a crash must not spoil the next one
            twin = b"\n" + (bytes(out) if self.twin.exists() else self._lines)
            _write(self.twin, twin, sync=False)
        except OSError:
            pass  # the sheet itself is written; the twin only helps where it was put back

    def _line(self, kind, fields):
        """The bytes of one record, linked to the one before."""
        contents = self.contents
        contents.last_n += 1
        now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        record = {
            "n": contents.last_n,
            "t": now,
            "kind": kind,
            **fields,
            "prev": contents.last_seal,
        }
        line, contents.last_seal = encode(record, self._key)
        return line


def _write(path, data, sync=True):
    """Write at the end of the file and, sync, force it to disk."""
    handle = os.open(
        path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o644
    )
    try:
        while data:
            data = data[os.write(handle, data) :]
        if sync:
            os.fsync(handle)
    finally:
        os.close(handle)
