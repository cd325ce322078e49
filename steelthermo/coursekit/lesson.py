"""A lesson: number, name, question, problems and panels, as its folder has them."""

from functools import cached_property
from html import escape
from importlib import import_module
from importlib.util import find_spec

from ..base import Html, InputError


class Lesson:
    """One lesson of a course.

    number: '02'; name: 'oxidation_heat', with which the keys of its problems begin; question: what
    a learner would ask, the heading of its page; problems: tuple of Problem, or None for those of
    its package. package: the folder that has what is read when first asked for: problems (PROBLEMS,
    a tuple), panel (see coursekit.panel.declared), further panels as lesson.py lists them
    (MORE_PANELS, names of modules; CAUTIONS, keys of the hazards of its panels), chain (CHAIN, see
    coursekit.chain).
    """

    def __init__(self, number, name, question, problems=None, package=None):
        self.number, self.name, self.question = number, name, question
        self._problems, self.package = problems, package

    def part(self, name):
        """A module of its folder, or None."""
        place = self._place(name)
        return import_module(place) if place else None

    def _place(self, name):
        place = f"{self.package}.{name}"
        return place if self.package and find_spec(place) else None

    @cached_property
    def problems(self):
        """Its problems in order. Raises InputError if a key is not the lesson's, or there twice."""
        found = self._problems
        if found is None:
            found = getattr(self.part("problems"), "PROBLEMS", ())
        for problem in found:
            if problem.lesson != self.name:
                raise InputError(
                    f"problem {problem.key}: its key must begin with {self.name}., the name of its "
                    "lesson."
                )
        keys = [p.key for p in found]
        if len(set(keys)) != len(keys):
            raise InputError(
                f"lesson {self.name}: two problems have the same key among {', '.join(keys)}."
            )
        return tuple(found)

    @cached_property
    def questions(self):
        """What its pages ask in place (problems.Questions), or None."""
        return getattr(self.part("questions"), "QUESTIONS", None)

    @property
    def chain(self):
        """What its page of dependent entries is made of (a Chain), or None."""
        return getattr(self.part("chain"), "CHAIN", None)

    @cached_property
    def panels(self):
        """{name of a panel: module of the lesson's folder}."""
        own = {self.name: "panel"} if self._place("panel") else {}
        return own | {name: name for name in getattr(self.part("lesson"), "MORE_PANELS", ())}

    @property
    def cautions(self):
        """Keys of the hazards of its panels."""
        return getattr(self.part("lesson"), "CAUTIONS", ())

    def named(self, text):
        """True if that is its name, its number ('2' or '02') or both ('02_oxidation_heat')."""
        return text in (self.name, f"{self.number}_{self.name}") or text.zfill(2) == self.number

    def link(self, text, folder=""):
        """A link to its notebook in a folder."""
        file = f"{folder}{self.number}_{self.name}.ipynb"
        return Html(f'<a href="{file}">{escape(text)}</a>')

    def __repr__(self):
        return f"Lesson({self.number} {self.name})"
