"""What a course hands to the kit that teaches it, and the course in use."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from importlib.resources import files

from ..base import InputError
from .lesson import Lesson


@dataclass(frozen=True)
class CourseAdapter:
    """A course: its lessons, and what else the kit cannot know of a subject.

    package: name of the package that holds a folder lNN_name for each lesson (see Lesson), with its
    question in lesson.py; command: how the program is called that learners and trainers type;
    version: of the course; data: function that returns {name: path} of its data files, by which
    sheets made with other data are recognised; words: words that may follow a unit and say what is
    counted ('CaO', 'of').
    Where numbers follow the figures of a place ("works"): load_works(path, name or None) reads
    them, None for those in use; home_works: name of those the problems are written for; figure(
    works, path) is one of them as a number; works_file: what their file is called. example:
    problem, quantity and value of an override, for the help of commands.
    paper: keys of the problems of the first and the last paper, in the order of the course.
    caution: function (key) -> record of a hazard: what, why (how it hurts), visitor (what one does
    who only looks on), site (what is for the place to lay down), figures (sentences), status;
    deferral: the sentence in every caution that says who decides.
    """

    package: str = ""
    command: str = "course"
    version: str = "0"
    data: Callable = dict
    words: frozenset = frozenset()
    works_file: str = ""
    load_works: Callable | None = None
    home_works: str = ""
    figure: Callable | None = None
    example: tuple = ("lesson.problem", "quantity", 1.0)
    paper: tuple = ()
    caution: Callable | None = None
    deferral: str = ""

    def works(self, path=None):
        """The works of that path, or those in use; None in a course whose numbers follow none."""
        return self.load_works(path) if self.load_works else None

    @cached_property
    def lessons(self):
        """All lessons by their numbers, those without problems included."""
        folders = files(self.package).iterdir() if self.package else ()
        found = []
        for name in sorted(f.name for f in folders if re.match(r"l\d\d_", f.name)):
            place = f"{self.package}.{name}"
            question = import_module(f"{place}.lesson").QUESTION
            found.append(Lesson(name[1:3], name[4:], question, package=place))
        return tuple(found)

    def lesson(self, name):
        """The Lesson of that name or number, or of a file name such as '02_oxidation_heat'. Raises
        InputError that lists what there is.
        """
        wanted = str(name).strip()
        for one in self.lessons:
            if one.named(wanted):
                return one
        known = ", ".join(f"{one.number} {one.name}" for one in self.lessons)
        raise InputError(f"lesson: {wanted[:40]!r} was asked for; there are {known or 'none yet'}.")

    @cached_property
    def problems(self):
        """All problems in the order of the course."""
        return tuple(problem for one in self.lessons for problem in one.problems)

    @cached_property
    def chained(self):
        """The lessons whose exercise is a chain of entries."""
        return tuple(one for one in self.lessons if one.chain)

    @cached_property
    def questions(self):
        """All questions asked in place that are judged, in the order of the course."""
        return tuple(q for one in self.lessons if one.questions for q in one.questions.judged)

    def problem(self, key):
        """The problem or question of that key, or None: a sheet may name one that is no longer
        there.
        """
        asked = self.problems + self.questions
        return next((problem for problem in asked if problem.key == key), None)

    @cached_property
    def panels(self):
        """{name of a panel: its Lesson}, in alphabetical order."""
        return dict(sorted((name, one) for one in self.lessons for name in one.panels))


_course = CourseAdapter()


def use(course: CourseAdapter) -> None:
    """Let the kit teach this course from now on in this process.

    The one thing that is set in the kit and not passed on: a process teaches one course, and a
    learner's unit, an answer sheet, a caution and a command all ask for it. A course's own
    functions and commands call this before they do anything else.

    Parameters
    ----------
    course : CourseAdapter

    Examples
    --------
    >>> before = in_use()
    >>> use(CourseAdapter(command="coffee"))
    >>> in_use().command
    'coffee'
    >>> use(before)
    """
    global _course
    _course = course


def in_use() -> CourseAdapter:
    """The course in use.

    Returns
    -------
    CourseAdapter; one without lessons, words and works where none was said

    Examples
    --------
    >>> isinstance(in_use(), CourseAdapter)
    True
    """
    return _course
