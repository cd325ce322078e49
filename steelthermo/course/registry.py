"""The lessons of the course, each a folder lNN_name, and their problems, read when first asked for.

Number and name of a lesson are those of its folder; its lesson.py has the QUESTION, its problems.py
has PROBLEMS, a tuple of Problem whose keys begin with the name of the lesson.
"""

from functools import cache
from importlib import import_module
from pathlib import Path

from ..base import InputError


class Lesson:
    """The problems of one lesson: name, number, title and problems in order."""

    def __init__(self, name, number, title, problems):
        self.name, self.number, self.title, self.problems = (
            name,
            str(number),
            str(title),
            tuple(problems),
        )
        for problem in self.problems:
            if problem.lesson != name:
                raise InputError(
                    f"problem {problem.key}: its key must begin with {name}., the name of its "
                    "lesson."
                )
        keys = [p.key for p in self.problems]
        if len(set(keys)) != len(keys):
            raise InputError(
                f"lesson {name}: two problems have the same key among {', '.join(keys)}."
            )

    def __repr__(self):
        return f"Lesson({self.number} {self.name}, {len(self.problems)} problems)"


@cache
def folders():
    """The folder of each lesson by its name, in the order of the course."""
    return {f.name[4:]: f for f in sorted(Path(__file__).parent.glob("l[0-9][0-9]_*"))}


def part(lesson, name):
    """A module of a lesson by both names: 'lesson', 'problems', 'panel' or another."""
    return import_module(f".{folders()[lesson].name}.{name}", __package__)


def number(lesson):
    """Number of the lesson of that name, such as '02'."""
    return folders()[lesson].name[1:3]


def question(lesson):
    """The question of the lesson of that name."""
    return part(lesson, "lesson").QUESTION


@cache
def lessons():
    """All lessons with problems, in the order of the course."""
    return tuple(
        Lesson(name, number(name), question(name), part(name, "problems").PROBLEMS)
        for name, folder in folders().items()
        if (folder / "problems.py").is_file()
    )


def lesson(name):
    """The Lesson of that name, or of that number ('02'), or of a file name such as
    '02_oxidation_heat'. Raises InputError that lists what there is.
    """
    wanted = str(name).strip()
    for one in lessons():
        if wanted in (one.name, one.number, f"{one.number}_{one.name}"):
            return one
    raise InputError(
        f"lesson: {wanted!r} was asked for; there are problems for "
        f"{', '.join(one.name for one in lessons()) or 'no lesson yet'}."
    )


def all_problems():
    """All problems in the order of the course."""
    return tuple(problem for one in lessons() for problem in one.problems)


def find(key):
    """The problem of that key, or None: a sheet may name one that this version no longer has."""
    return next((problem for problem in all_problems() if problem.key == key), None)
