"""Papers: problems answered without check, hint or solution, and marked when the paper is handed
in. The first paper says where to start, the last one, with other numbers, what was gained; an exam
is drawn with a code that nobody has before it begins.
"""

import hashlib
import tomllib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from ..base import InputError, why_not
from .adapter import in_use
from .answers import say
from .problems import Draw, Verdict, check, draw_many

FIRST, LAST = "first", "last"
EXAM_FILE = "exam.toml"
LONGEST_EXAM = 60  # characters of its name
_ROUNDS = 200_000  # of the hash by which a code is known to be the right one: trying codes is slow


@dataclass(frozen=True)
class Paper:
    """A paper. key: 'first', 'last', or an exam's name; problems: in order; code: of an exam, which
    enters the draw of its numbers; opens, closes: datetime between which an exam is written, or
    None; proof: by which its code is known (see proof_of).
    """

    key: str
    problems: tuple
    code: str = ""
    opens: datetime | None = None
    closes: datetime | None = None
    proof: str = ""

    @property
    def exam(self):
        """True if its numbers need a code."""
        return bool(self.proof)

    def key_of(self, course):
        """The course key that its numbers are drawn with."""
        return " / ".join(filter(None, (course, self.key, plain_code(self.code))))

    def draws(self, learner, course, works=None):
        """[Draw of each problem], with an InputError in the place of one that cannot be made."""
        who = [(learner, self.key_of(course), 1)]
        return [draw_many(problem, who, works=works)[0] for problem in self.problems]

    def begun(self, records):
        """The code with which it was begun (''; for an exam, as typed), or None."""
        found = [r["text"] for r in records if r["kind"] == "began" and r["paper"] == self.key]
        return found[-1] if found else None

    def ended(self, records):
        """When it was handed in, as written, or ''."""
        found = (r["t"] for r in records if r["kind"] == "ended" and r["paper"] == self.key)
        return next(found, "")

    def answers(self, records):
        """{problem key: (last text, time)} given before it was handed in."""
        out = {}
        for record in records:
            if record.get("paper") != self.key:
                continue
            if record["kind"] == "ended":
                break
            if record["kind"] == "paper":
                out[record["asked"]] = record["text"], record["t"]
        return out

    def marks(self, records, learner, course, works=None):
        """{problem key: Verdict, or None where nothing was answered}."""
        given = self.answers(records)
        out = {}
        for problem, one in zip(self.problems, self.draws(learner, course, works), strict=True):
            text = given.get(problem.key, ("",))[0]
            out[problem.key] = check(one, text) if text and isinstance(one, Draw) else None
        return out

    def outside(self, records):
        """How many of its answers were given outside its time."""
        times = (_moment(t) for _, t in self.answers(records).values())
        return sum(t is None or not self.state(t) == "open" for t in times)

    def state(self, now):
        """'early', 'open' or 'over' at a time."""
        if self.opens and now < self.opens:
            return "early"
        return "over" if self.closes and now > self.closes else "open"


def right(verdict):
    """True for a right answer, False for a wrong one, None where nothing was answered."""
    return verdict.done if isinstance(verdict, Verdict) else None


def count(marks):
    """(how many are right, how many were not answered) of marks: right or not, None: no answer."""
    given = list(marks)
    return given.count(True), given.count(None)


def in_a_word(mark):
    """What came of a problem: right, not right, not answered."""
    if mark is None:
        return say("paper.blank")
    return say("paper.right" if mark else "paper.wrong")


def paper(key):
    """The first or the last paper of the course in use."""
    return Paper(key, tuple(in_use().problem(one) for one in in_use().paper))


def start_after(marks):
    """The lesson to start with: the one after the last of an unbroken run of right answers from the
    beginning; None if all are right.
    """
    lessons = [one for one in in_use().lessons if one.problems]
    known = -1
    for key, verdict in marks.items():
        if not right(verdict):
            return lessons[known + 1]
        known = next(i for i, one in enumerate(lessons) if key.startswith(f"{one.name}."))
    return None


def plain_code(code):
    """A code without what a typist adds: blanks, dashes, capitals."""
    return "".join(c for c in code.casefold() if c.isalnum())


def proof_of(name, code):
    """What an exam's file holds of its code: enough to know it, too slow to find it by trying."""
    found = hashlib.pbkdf2_hmac("sha256", plain_code(code).encode(), name.encode(), _ROUNDS)
    return found.hex()[:24]


def load_exam(path):
    """The exam of an exam.toml, without its code. Raises InputError that names the fault."""
    path = Path(path)
    try:
        table = tomllib.loads(path.read_bytes()[: 2**20].decode("utf-8-sig"))
        name, keys, proof = (table[key] for key in ("name", "problems", "proof"))
        times = [table.get(key) for key in ("opens", "closes")]
    except (OSError, ValueError, KeyError, RecursionError) as error:
        raise InputError(say("exam.file", file=path.name, reason=why_not(error)[:120])) from None
    timed = all(t is None or (isinstance(t, datetime) and t.tzinfo) for t in times)
    texts = isinstance(name, str) and isinstance(proof, str) and isinstance(keys, list)
    if not (texts and timed and good_name(name) and proof):
        raise InputError(say("exam.file", file=path.name, reason=say("exam.fields")))
    problems = tuple(in_use().problem(key) for key in keys)
    if not problems or None in problems:
        raise InputError(say("exam.file", file=path.name, reason=say("exam.problems")))
    return Paper(name, problems, "", *times, proof)


def good_name(name):
    """True for what an exam can be called."""
    plain = name.isprintable() and not set(name) & set('"\\/')
    return plain and 0 < len(name.strip()) <= LONGEST_EXAM and name not in (FIRST, LAST)


def _moment(text):
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None
