"""The trainer's secret: a text in a file that no learner has. Answers to a course with a key of its
own are printed only where it is, and pseudonyms are made with it.

It is a bar and no wall: whoever reads the program can work out an answer from the numbers printed.
"""

import hashlib
import hmac
import os
import secrets
from pathlib import Path

from ...base import InputError
from ..adapter import in_use
from ..answers import say
from ..problems import DEFAULT_COURSE, normalised

_SHORTEST = 20  # characters


def secret_path(path: str | Path | None = None) -> Path:
    """Where the secret is kept: the path given, else that of <COMMAND>_SECRET in the environment,
    else a file in the home folder.

    Parameters
    ----------
    path : or None

    Returns
    -------
    Path

    Examples
    --------
    >>> secret_path("mine.txt").name
    'mine.txt'
    """
    command = in_use().command
    named = path or os.environ.get(f"{command.upper()}_SECRET")
    return Path(named) if named else Path.home() / f"{command}-trainer-secret.txt"


def load_secret(path: str | Path | None = None, make: bool = False) -> bytes | None:
    """The secret.

    Parameters
    ----------
    path : of its file; None: where it is kept
    make : write one where there is none

    Returns
    -------
    bytes, or None where there is none and no path is given

    Raises
    ------
    InputError, OSError
        If there is none at the path given, or it cannot be read or written.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> mine = Path(mkdtemp()) / "mine.txt"
    >>> load_secret(mine, make=True) == load_secret(mine)
    True
    """
    where = secret_path(path)
    if not where.is_file():
        if not make:
            if path:
                raise InputError(say("secret.none", file=where, command=in_use().command))
            return None
        where.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(where, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="ascii") as file:
            file.write(secrets.token_hex(32) + "\n")
    text = where.read_bytes()[:4096].strip()
    if len(text) < _SHORTEST:
        raise InputError(say("secret.short", file=where, limit=_SHORTEST))
    return text


def lock_of(secret: bytes, course_key: str) -> str:
    """What a course.toml holds so that only this secret opens the answers of the course.

    Parameters
    ----------
    secret : bytes
    course_key : text

    Returns
    -------
    text

    Examples
    --------
    >>> len(lock_of(b"made up", "HS26"))
    24
    """
    return _keyed(secret, "lock", course_key)[:24]


def pseudonym(key, learner):
    """The same for the same name and key (bytes), whoever marks."""
    return f"L-{_keyed(key, 'pseudonym', learner)[:8]}"


def exam_code(secret, course_key, name):
    """The code that an exam of that name is drawn with: twelve hexadecimal digits."""
    return _keyed(secret, "exam", f"{normalised(course_key)} / {name}")[:12]


def order_of(secret, name, problems):
    """Problems in an order that the secret and the name of an exam give."""
    return sorted(problems, key=lambda p: _keyed(secret, "exam problem", f"{name} / {p.key}"))


def _keyed(key, purpose, text):
    said = f"{purpose}\n{normalised(text)}".encode("utf-8", "replace")
    return hmac.digest(key, said, hashlib.sha256).hex()


def may_see_answers(course, path=None):
    """Raises InputError, with what to do, unless the course is one for learning alone or the secret
    is here and fits the course.
    """
    if normalised(course.key) == DEFAULT_COURSE and not course.lock:
        return
    secret = load_secret(path)
    if secret is None:
        raise InputError(say("secret.needed", file=secret_path(), command=in_use().command))
    if course.lock and not hmac.compare_digest(course.lock, lock_of(secret, course.key)):
        raise InputError(say("secret.other", file=secret_path(path)))
