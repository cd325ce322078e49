"""What a learner hands in: one copy of the answer sheet with the learner's number in its name; and
the check line of a page that says what was reached.

The check code is made as the seals of the sheet are, from name and course key: it shows that the
line was not changed, and guards against no one who reads the program.
"""

import hmac
import os
import re
from html import unescape
from pathlib import Path

from ..answers import clip, say
from .format import seal_key
from .roster import file_id

FOLDER = "hand-in"
_LINE = re.compile(r"Check: (.*) · course (.*) · ([^\n<]*) · code ([0-9a-f]{4}(?:-[0-9a-f]{4}){3})")


def hand_in(sheet: object, number: str = "") -> tuple:
    """Copy a Sheet, as it is now, to hand-in/<number>_<name of the sheet> in the working folder.

    Parameters
    ----------
    sheet : a Sheet
    number : of the person, '' for none

    Returns
    -------
    path; number of answers

    Raises
    ------
    OSError, SheetError
        If it cannot be read or written.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from .sheets import Sheet
    >>> sheet = Sheet(mkdtemp(), "Ada", "self-study")
    >>> _ = sheet.append("open", lesson="tea")
    >>> path, answers = hand_in(sheet, "17")
    >>> path.name.startswith("17_ada-"), answers
    (True, 0)
    """
    answers = sum(record["kind"] in ("answer", "entry", "paper") for record in sheet.records)
    source = sheet.path
    number = file_id(number)
    folder = source.parent.parent / FOLDER
    folder.mkdir(exist_ok=True)
    path = folder / (f"{number}_{source.name}" if number else source.name)
    part = path.with_name(f"{path.name}.part")
    part.write_bytes(source.read_bytes())
    os.replace(part, path)
    return path, answers


def check_line(learner: str, course: str, facts: str) -> str:
    """A line for a page of results: who, which course, what, and the code over them.

    Parameters
    ----------
    learner, course : name and course key
    facts : a text

    Returns
    -------
    text

    Examples
    --------
    >>> check_line("Ada", "self-study", "8 of 8")[:44]
    'Check: Ada · course self-study · 8 of 8 · co'
    """
    learner, course, facts = (clip(text, 200) for text in (learner, course, facts))
    return f"Check: {learner} · course {course} · {facts} · code {_code(learner, course, facts)}"


def _code(learner, course, facts):
    digits = hmac.digest(seal_key(learner, course), f"check\n{facts}".encode(), "sha256").hex()
    return "-".join(digits[i : i + 4] for i in range(0, 16, 4))


def verified(given: str | Path) -> tuple:
    """What the check line in a page is worth.

    Parameters
    ----------
    given : path of the page, or the line itself

    Returns
    -------
    (True or False, sentence)

    Raises
    ------
    OSError
        If the page cannot be read.

    Examples
    --------
    >>> line = check_line("Ada", "self-study", "8 of 8")
    >>> verified(line)[0], verified(line.replace("8 of 8", "9 of 9"))[0]
    (True, False)
    """
    text = str(given)
    if not text.startswith("Check: "):
        text = unescape(Path(text).read_bytes()[: 2**24].decode("utf-8", "replace"))
    found = _LINE.search(text)
    if not found:
        return False, say("check.none", file=clip(given, 100))
    learner, course, facts, code = found.groups()
    fits = hmac.compare_digest(code, _code(learner, course, facts))
    told = {"learner": learner, "course": course, "facts": facts}
    return fits, say("check.fits" if fits else "check.changed", **told)
