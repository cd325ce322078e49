"""An exam: the command `exam NAME` draws its problems with the trainer's secret and writes the file
that learners get; the code that opens it is told when it begins.

Before that nobody can know the numbers: they are drawn with the code, and the code is made of the
secret. The time is that of the learner's computer, so an exam is supervised.
"""

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

from ...base import InputError
from ..adapter import in_use
from ..answers import say
from ..paper import EXAM_FILE, FIRST, LAST, LONGEST_EXAM, good_name, load_exam, proof_of
from ..sheet import Course
from .ground import ground, lessons_named, run_command
from .report import written
from .secret import exam_code, load_secret, order_of, secret_path


def exam_with_code(path, course, secret_file=None):
    """The exam of an exam.toml with its code, which needs the secret that it was made with. Raises
    InputError.
    """
    secret = load_secret(secret_file)
    if secret is None:
        raise InputError(say("secret.needed", file=secret_path(), command=in_use().command))
    return _coded(load_exam(path), course, secret)


def exam_file(
    path: str | Path | None, course: Course, secret_file: str | Path | None = None
) -> dict:
    """What a learner's folder gets of an exam.

    Parameters
    ----------
    path : of an exam.toml, or None
    course : whose key it was drawn with
    secret_file : with which it was drawn; None: where the secret is kept

    Returns
    -------
    bytes by file name; empty without an exam

    Raises
    ------
    InputError
        If it is no exam, or one of another course or secret.

    Examples
    --------
    >>> exam_file(None, Course())
    {}
    """
    if path is None:
        return {}
    exam_with_code(path, course, secret_file)
    return {EXAM_FILE: Path(path).read_bytes()}


def _coded(exam, course, secret):
    code = exam_code(secret, course.key, exam.key)
    if proof_of(exam.key, code) != exam.proof:
        raise InputError(say("exam.other", name=exam.key))
    return replace(exam, code=code)


def exam_near(path, course, secret):
    """(exam with its code or None, what is to be told) for marking. secret: bytes or None."""
    try:
        if path is None:
            return None, ""
        if secret is None:
            return None, say("exam.no_secret", file=path)
        return _coded(load_exam(path), course, secret), ""
    except InputError as error:
        return None, str(error)


def _time(text, end=False):
    """A time as typed, in the zone of this computer where it names none; a day alone is its
    beginning, or its end.
    """
    try:
        if end and len(text.strip()) <= len("2026-12-18"):
            found = datetime.combine(date.fromisoformat(text), time(23, 59, 59))
        else:
            found = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(say("exam.time", text=text)) from None
    return found if found.tzinfo else found.astimezone()


def exam_text(name, problems, code, opens=None, closes=None):
    """An exam.toml."""
    keys = ", ".join(f'"{p.key}"' for p in problems)
    lines = [f'name = "{name}"', f"problems = [{keys}]"]
    lines += [f"{key} = {t.isoformat()}" for key, t in (("opens", opens), ("closes", closes)) if t]
    return "\n".join([*lines, f'proof = "{proof_of(name, code)}"']) + "\n"


def _declare(parser):
    parser.add_argument("name", help="of the exam; its numbers are drawn with it")
    parser.add_argument("--opens", help="when it begins, such as 2026-12-18T09:00")
    parser.add_argument("--closes", help="when it ends; of a day alone, its end")
    parser.add_argument("--count", type=int, default=6, help="how many problems (default 6)")
    parser.add_argument("--out", type=Path, default=Path("exam"), help="folder (default: exam)")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")


def _work(options):
    problems, _ = lessons_named(options.lesson)
    if not 1 <= options.count <= len(problems):
        raise InputError(say("exam.count", count=options.count, most=len(problems)))
    if not good_name(options.name):
        raise InputError(say("exam.name", limit=LONGEST_EXAM, taken=f"{FIRST}, {LAST}"))
    opens = _time(options.opens) if options.opens else None
    closes = _time(options.closes, end=True) if options.closes else None
    if opens and closes and closes <= opens:
        raise InputError(say("exam.order", opens=opens, closes=closes))
    by = ground(Path.cwd(), options.course, options.works)
    secret = load_secret(options.secret, make=True)
    taken = order_of(secret, options.name, problems)[: options.count]
    taken.sort(key=list(problems).index)
    code = exam_code(secret, by.course.key, options.name)
    text = exam_text(options.name, taken, code, opens, closes)
    (file,) = written(options.out, {EXAM_FILE: text}, options.force)
    shown = "-".join(code[i : i + 4] for i in range(0, len(code), 4))
    print(say("exam.written", file=file, code=shown, key=by.course.key, command=in_use().command))


def main(argv=None):
    """The command `exam`: see --help. Returns the exit code."""
    what = "An exam drawn with your secret: its file for the learners, and the code that opens it."
    return run_command("exam", what, _declare, _work, argv)
