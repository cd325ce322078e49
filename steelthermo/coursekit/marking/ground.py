"""What a trainer's command goes by: the course.toml and works.toml of a folder, an override that
makes sense, and the lessons asked for.

A learner's page reads course.toml by course.load_course alone; here every override is also held
against its problem.
"""

import argparse
import math
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ...base import InputError, nearest, quantity_of, why_not
from ..adapter import in_use
from ..answers import clip, say
from ..problems import DEFAULT_COURSE, Pick, draw, normalised
from ..sheet import Course, course_for_all, load_course

COURSE_HELP = """course.toml holds the key of a course and, where you want them, numbers of your own
instead of drawn ones:

  key = "COURSE-A"
  [[override]]                         # as many as you like
  learner = "*"                        # everybody, or one name
  problem = "{}"     # its name in brackets in the answer key
  set = 1                              # left out: every set
  {} = {}     # a quantity, by its name in brackets behind its value in the answer key

It belongs in each learner's folder and in the folder of sheets to be marked (or beside that
folder), and so does the file of the works that the numbers follow, if you have one."""


def run_command(
    name: str, what: str, declare: Callable, work: Callable, argv: Sequence | None
) -> int:
    """A command of the course in use; InputError and OSError are told.

    Parameters
    ----------
    name : of the command
    what : what it does, in a sentence
    declare : function of its parser, for what it takes besides course, works and lessons
    work : function of the options
    argv : what was typed; None: at the command line

    Returns
    -------
    exit code

    Examples
    --------
    >>> run_command("brew", "Brew.", lambda parser: None, lambda options: print("tea"), [])
    tea
    0
    """
    parser = argparse.ArgumentParser(
        prog=f"{in_use().command} {name}",
        description=what,
        epilog=COURSE_HELP.format(*in_use().example),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    declare(parser)
    parser.add_argument(
        "--course",
        help="course key, or path of the course.toml (default: course.toml in the folder or the "
        "one above, if there is one)",
    )
    parser.add_argument(
        "--works",
        metavar="FILE",
        help="works that the numbers follow (default: their file, found as course.toml is)",
    )
    parser.add_argument(
        "--secret",
        metavar="FILE",
        help="file of the trainer's secret (default: in the home folder)",
    )
    parser.add_argument(
        "--lesson",
        action="append",
        metavar="LESSON",
        help="only this lesson, by number or name (may be given several times)",
    )
    options = parser.parse_args(argv)
    try:
        work(options)
    except InputError as error:
        told = error
    except OSError as error:
        told = f"{error.filename}: {why_not(error)}." if error.filename else error
    else:
        return 0
    print(f"{parser.prog}: {told}", file=sys.stderr)
    return 1


@dataclass(frozen=True)
class Ground:
    """What keys and marks go by. course: Course; works: the works that
    numbers follow, or None; told: sentences for the head of a
    report.
    """

    course: Course
    works: object
    told: tuple


def near(folder, name):
    """The file of that name in a folder, else the one beside the folder, else None."""
    folder = Path(folder)
    return next(
        (path for path in (folder / name, folder.absolute().parent / name) if path.is_file()), None
    )


def _looks_like_a_file(text):
    return text.lower().endswith(".toml") or "/" in text or "\\" in text


def _course(folder, course):
    """(Course, sentence or '') by what was given and by what lies in or beside the folder."""
    if isinstance(course, Course):
        return course, ""
    if course is not None and Path(course).is_file():
        return load_course(course), ""
    if course is not None and _looks_like_a_file(str(course)):
        raise InputError(say("course.no_file", path=clip(course, 120)))
    path = near(folder, "course.toml") or course_for_all()
    found = load_course(path) if path else Course()
    if course is None:
        return found, ""
    given = str(course)
    differs = path and found.key != DEFAULT_COURSE and normalised(found.key) != normalised(given)
    told = {"key": clip(given), "file": path, "found": clip(found.key)}
    told = say("mark.key_replaced", **told) if differs else ""
    return replace(found, key=given), told


def ground(
    folder: str | Path, course: object = None, works: object = None, problems: Sequence = ()
) -> Ground:
    """What a folder is marked by.

    Parameters
    ----------
    folder : of sheets, or where the command is run
    course : a Course, a course key (which replaces that of the file only), the path of a
        course.toml, or None
    works : the works, their path, or None for their file in or beside the folder, else those in
        use
    problems : that overrides may name besides those of the course

    Returns
    -------
    Ground

    Raises
    ------
    InputError
        Tells every fault.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> ground(mkdtemp()).course.key
    'self-study'
    """
    course, told = _course(folder, course)
    if works is None and in_use().works_file:
        beside = Path(course.file).parent if course.file else folder
        works = near(folder, in_use().works_file) or near(beside, in_use().works_file)
    if works is None or isinstance(works, str | Path):
        works = in_use().works(works)
    if faults := override_faults(course, works, problems):
        raise InputError(
            "\n  ".join(
                [say("course.faults", file=course.file or "course", count=len(faults)), *faults]
            )
        )
    lines = [told] if told else []
    for name in filter(None, ("course.toml", in_use().works_file)):
        if hidden := near(folder, f"{name}.txt"):  # Windows hides the last ending
            lines.append(f"{hidden}: {say('hand.setting', name=name)}.")
    if course.file:
        count = len(course.overrides)
        overrides = f", {count} override{'s' if count > 1 else ''}" if count else ""
        lines.append(say("mark.course_used", file=course.file, overrides=overrides))
    if works is not None:
        lines.append(say("mark.works_used", name=works.name, file=works.path))
    return Ground(course, works, tuple(lines))


def override_faults(course: Course, works: object = None, problems: Sequence = ()) -> list:
    """What is wrong with the overrides of a course: unknown problem or quantity, a value out of
    all sense, no draw with it.

    Parameters
    ----------
    course : Course
    works : those the numbers are drawn with; None: those in use
    problems : that overrides may name besides those of the course

    Returns
    -------
    of sentences

    Examples
    --------
    >>> override_faults(Course())
    []
    """
    if not course.overrides:
        return []
    known = {problem.key: problem for problem in (*in_use().problems, *problems)}
    faults = []
    for number, (who, key, set_number, values) in enumerate(course.overrides, 1):
        problem = known.get(key)
        if problem is None:
            near = _nearest(key, known)
            faults.append(say("course.problem", number=number, problem=clip(key), near=near))
            continue
        problem = problem.at(works or in_use().works())
        found = [_fault_of_value(number, problem, name, value) for name, value in values.items()]
        if set_number is not None and set_number < 1:
            found.append(say("course.set", number=number, value=set_number))
        found = [fault for fault in found if fault]
        if not found:
            learner, which = "a learner" if who == "*" else who, set_number or 1
            fixed = course.fixed(learner, key, which) | values
            try:
                draw(problem, learner, course.key, which, fixed, works)
            except InputError as error:
                reason = str(error).rpartition("; ")[2]
                found = [say("course.draw", number=number, problem=key, reason=reason)]
        faults += found
    return faults


def _nearest(name, known):
    for near in nearest(name, known, 1):
        return f"did you mean {near}?"
    return "the answer key has the names, in brackets behind the titles."


def _fault_of_value(number, problem, name, value):
    """A sentence about one value of an override, or ''."""
    given = next((g for g in problem.given if g.name == name), None)
    told = {"number": number, "problem": problem.key, "quantity": clip(name)}
    if given is None:
        names = ", ".join(g.name for g in problem.given) or "none at all"
        return say("course.quantity", **told, names=names)
    told["value"] = clip(value)
    if isinstance(given, Pick):
        wanted = f"allowed are {', '.join(map(str, given.options))}"
        return "" if value in given.options else say("course.value", **told, wanted=wanted)
    low, high = _sense(given)
    if isinstance(value, str) or not math.isfinite(value) or not low <= value <= high:
        unit = "" if given.unit == "1" else f" {given.unit}"
        drawn = (
            f"it is drawn from {given.low:g} to {given.high:g}{unit}, and {low:g} to "
            f"{high:g}{unit} makes sense"
        )
        return say("course.value", **told, wanted=drawn)
    return ""


def _sense(given):
    """The span in which a trainer's value makes sense: the drawn range widened by its own width, no
    further than nature lets it go.
    """
    width = given.high - given.low or 0.5 * abs(given.high)
    low, high = given.low - width, given.high + width
    if given.low > 0 and given.unit != "°C":
        low = max(low, 0.1 * given.low)  # what is drawn above zero stays above it
    elif given.low == 0:
        low = 0.0
    if given.unit == "°C":
        low = max(low, -273.15)
    if quantity_of(given.unit) == quantity_of("%") and given.low >= 0 and given.high <= 100:
        high = min(high, 100.0)
    return low, high


def lessons_named(names: Sequence | None) -> tuple:
    """Problems and chains of lessons.

    Parameters
    ----------
    names : names or numbers, '2' as well as '02'; None: all lessons

    Returns
    -------
    Problems; the Lessons that have a chain of entries

    Raises
    ------
    InputError
        For an unknown lesson.

    Examples
    --------
    >>> lessons_named([])
    ([], [])
    """
    if names is None:
        return in_use().problems, in_use().chained
    found = [in_use().lesson(name) for name in names]
    problems = dict.fromkeys(p for one in found for p in one.problems)
    return list(problems), [one for one in found if one.chain]
