"""How an answer sheet is written and read: one JSON record a line, each sealed, so that any whole
line can be trusted on its own.

A line ends in  ,"seal":"<32 hex digits>"}  where the seal is HMAC-SHA-256 over the bytes before it,
and each record names by `prev` the seal of the line that stood last when it was written; so two
notebooks may write to one sheet, and a line taken out is missed.

What the seal proves: the line was written by this kit, or by somebody who read its code, for this
name and course key, and was not changed since. What it does not prove: who sat at the keyboard, or
that the last lines were not cut off; the key is made of name and course key, which the learner
knows. It guards against a changed digit, a changed name and a copied sheet, not against intent.
"""

import hashlib
import hmac
import json
from dataclasses import dataclass, field

from ..answers import STATES, clip, say
from ..problems import normalised

SCHEMA = 3  # 1 kept the entries of a chain as predictions; 2 had no papers and took nothing back
LIMIT_BYTES = 16 * 2**20
LIMIT_LINES = 100_000
LINE_BYTES = 16 * 1024
TEXT = 200  # characters of a typed answer that are kept
_MARK = b',"seal":"'
_KINDS = {
    "sheet": ("schema", "learner", "course", "kit", "data"),
    "kit": ("kit", "data"),
    "open": ("lesson",),
    "answer": ("problem", "set", "text", "state", "slips", "given"),
    "unreadable": ("problem", "set", "text"),
    "hint": ("problem", "set", "number"),
    "worked": ("problem", "set"),
    "set": ("problem", "set"),
    "predict": ("question", "text"),
    "begin": ("lesson", "set"),
    "entry": ("lesson", "set", "entry", "text"),
    "tried": ("lesson", "set", "entry", "text"),
    "back": ("lesson", "set", "entry"),
    "began": ("paper", "text"),
    "paper": ("paper", "asked", "text"),
    "ended": ("paper",),
    "step": ("asked", "step", "text", "state"),
    "damage": ("bad", "copy"),
}


# fields that a record may have besides, and that older kits do not write
_MAY_HAVE = {"predict": ("why", "state"), "answer": ("mixed",)}


class SheetError(Exception):
    """A sheet that cannot be read or written: one sentence with the reason."""


@dataclass
class Contents:
    """What a sheet holds.

    learner, course: from its first readable header, or None; schema: highest seen; records:
    list of dict in file order, each with `sealed` True or False; bad: [(line number, reason)];
    missing: lines that others refer to and that are gone; moved: lines
    that stand before the one they follow; repeated: lines that stand there
    twice; torn: the last line lacks its end; last_seal, last_n: for the next record; stamps:
    [(kit, data)] in the order seen.
    """

    learner: str | None = None
    course: str | None = None
    schema: int | None = None
    records: list = field(default_factory=list)
    bad: list = field(default_factory=list)
    missing: int = 0
    moved: int = 0
    repeated: int = 0
    torn: bool = False
    last_seal: str = ""
    last_n: int = 0
    stamps: list = field(default_factory=list)

    @property
    def unsealed(self):
        """Records whose seal does not fit."""
        return sum(not r["sealed"] for r in self.records)


def seal_key(learner: str, course: str) -> bytes:
    """The key of the seal: made of the course key and the learner's name, normalised as for the
    draw.

    Parameters
    ----------
    learner, course : name and course key

    Returns
    -------
    bytes

    Examples
    --------
    >>> seal_key("Ada", "self-study") == seal_key(" ADA ", "self-study")
    True
    """
    return hashlib.sha256(
        f"steelthermo seal 1\n{normalised(course)}\n{normalised(learner)}".encode(
            "utf-8", "replace"
        )
    ).digest()


def encode(record: dict, key: bytes) -> tuple:
    """One line of a sheet, sealed.

    Parameters
    ----------
    record : what it says
    key : of seal_key()

    Returns
    -------
    the line as bytes, with its end; and the seal

    Examples
    --------
    >>> line, seal = encode({"kind": "open"}, seal_key("Ada", "self-study"))
    >>> line.startswith(b'{"kind":"open"'), seal in line.decode()
    (True, True)
    """
    body = json.dumps(record, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode(
        "utf-8", "replace"
    )[:-1]
    seal = _seal(body, key)
    return body + _MARK + seal.encode() + b'"}\n', seal


def sealed_lines(data, key):
    """The lines of a sheet whose seal fits, in their order, without line ends."""
    lines = (line.rstrip(b"\r") for line in data.split(b"\n"))
    return {line: None for line in lines if line.endswith(b'"}') and _fits(line, key)}


def _fits(line, key):
    """True if a line ends in the seal of what stands before it."""
    cut = line.rfind(_MARK)
    return cut > 0 and hmac.compare_digest(
        line[cut + len(_MARK) : -2], _seal(line[:cut], key).encode()
    )


def _seal(body, key):
    return hmac.digest(key, body, "sha256").hex()[:32]


def _refuse(constant):
    raise ValueError(constant)


def _text(limit):
    return lambda x: isinstance(x, str) and len(x) <= limit


def _count(x):
    return type(x) is int and 0 <= x < 10**9


def _given(x):
    return (
        isinstance(x, dict)
        and len(x) <= 40
        and all(
            len(k) <= 60 and isinstance(v, (int, float, str)) and len(str(v)) <= 60
            for k, v in x.items()
        )
    )


def _slips(x):
    return (
        isinstance(x, list) and len(x) <= 20 and all(isinstance(s, str) and len(s) <= 80 for s in x)
    )


_CHECKS = {
    "schema": _count, "set": _count, "number": _count, "bad": _count, "n": _count,
    "learner": _text(200), "course": _text(200), "copy": _text(200), "text": _text(TEXT),
    "problem": _text(80), "lesson": _text(80), "question": _text(80), "entry": _text(80),
    "paper": _text(80), "asked": _text(80), "step": _text(80),
    "kit": _text(60), "data": _text(60), "t": _text(40),
    "state": lambda x: isinstance(x, str) and x in STATES, "slips": _slips, "given": _given,
    "why": _text(TEXT), "mixed": lambda x: x is True,
}  # fmt: skip


def _load(line):
    """A line as (record, reason): the record checked field by field, or None and why not."""
    if len(line) > LINE_BYTES:
        return None, say("line.long", limit=LINE_BYTES)
    try:
        record = json.loads(line, parse_constant=_refuse)
        fields = _KINDS[record["kind"]]
        for name in (*fields, "n", "t"):
            if not _CHECKS[name](record.get(name)):
                return None, say("line.field", field=name, value=clip(repr(record.get(name))))
        for name in _MAY_HAVE.get(record["kind"], ()):
            if name in record and not _CHECKS[name](record[name]):
                return None, say("line.field", field=name, value=clip(repr(record[name])))
    except (ValueError, TypeError, LookupError, RecursionError):
        return None, say("line.json")
    return record, ""


def parse(data: bytes, who: tuple | None = None) -> Contents:
    """Read the bytes of a sheet; nothing in them is ever run, and no content makes this raise.

    Parameters
    ----------
    data : the bytes
    who : (learner, course) whose seals are expected where the header cannot be read

    Returns
    -------
    Contents

    Examples
    --------
    >>> parse(b"tea").learner is None
    True
    """
    data = data.removeprefix(b"\xef\xbb\xbf")  # a mark that some editors put in front of UTF-8
    lines = [line.rstrip(b"\r") for line in data.split(b"\n")]
    loaded = [(i, line, *_load(line)) for i, line in enumerate(lines, 1) if line]
    header = next(
        (r for _, _, r, _ in loaded if r and r["kind"] == "sheet"), None
    )  # not the first line, if that was lost and written anew
    out = Contents(torn=bool(lines[-1]))
    if header:
        who = out.learner, out.course = header["learner"], header["course"]
    key, seals, early = seal_key(*who) if who else None, set(), []
    for i, line, record, reason in loaded:
        if record is None:
            out.bad.append((i, reason))
        elif record["kind"] == "sheet" and seal_key(record["learner"], record["course"]) != key:
            out.bad.append((i, say("line.field", field="learner", value=clip(record["learner"]))))
        else:
            _accept(out, record, line, key, seals, early)
    out.missing = sum(previous not in seals for previous in early)
    out.moved = len(early) - out.missing
    return out


def _accept(out, record, line, key, seals, early):
    """Add a readable record to the contents, with what its seal and its link say; early: seals
    that a line names and that do not stand before it."""
    cut = line.rfind(_MARK)
    seal = line[cut + len(_MARK) : -2].decode("ascii", "replace")
    record["sealed"] = sealed = key is not None and line.endswith(b'"}') and _fits(line, key)
    record.pop("seal", None)
    if record["kind"] == "sheet":
        out.schema = max(out.schema or 0, record["schema"])
    if sealed and seal in seals:
        out.repeated += (
            record["kind"] != "sheet"
        )  # two notebooks that begin a sheet in the same second write the same header
        return
    if sealed:
        if (previous := record.get("prev")) != "" and previous not in seals:
            early.append(previous)
        out.last_seal = seal
    if cut > 0:
        seals.add(seal)
    out.last_n = max(out.last_n, record["n"])
    if (
        record["kind"] in ("sheet", "kit")
        and (record["kit"], record["data"]) not in out.stamps[-1:]
    ):
        out.stamps.append((record["kit"], record["data"]))
    record["data"] = out.stamps[-1][1] if out.stamps else "none"
    out.records.append(record)
