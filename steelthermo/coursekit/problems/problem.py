"""A problem as a declarative record: what is given, what is asked, how it is solved, which slips
are known, and what a tutor would say.

Texts, hints, sentences and worked solutions are Markdown. In them {T} is replaced by the learner's
quantity T with its unit, {T:n} by its number alone; in worked solutions {answer} by the right
number with its unit and {line} by the right line of a Choice.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from ...base import InputError, quantity_of
from ..answers import bound, number_text, quantity_text, say
from .given import figure, require, shown


@dataclass(frozen=True, eq=False)
class Answer:
    """A number asked for in `unit`, accepted within tolerance_pct (of the right value) or
    tolerance_abs (in unit), whichever is wider.

    why: the reason of the tolerance, shown to the learner. difference: a temperature difference, so
    that 40 °C is 40 K.
    accept_units: {unit: factor} for units that measure another quantity; factor (a number, or a
    function of the given quantities) turns a number in that unit into the answer's unit.
    """

    unit: str
    why: str
    tolerance_pct: float = 0.0
    tolerance_abs: float = 0.0
    accept_units: Mapping = field(default_factory=dict)
    difference: bool = False

    def __post_init__(self):
        quantity_of(self.unit)
        for unit in self.accept_units:
            quantity_of(unit)
        require("answer", self.why.strip(), "the reason of the tolerance is not said.")
        require("answer", self.tolerance_pct > 0 or self.tolerance_abs > 0, "it has no tolerance.")

    def tolerance(self, value):
        """Half width of the band accepted around a value or array, in the answer's unit."""
        return np.maximum(np.abs(value) * (self.tolerance_pct / 100.0), self.tolerance_abs)

    def tolerance_text(self):
        """The tolerance in words, such as '1 %' or '2 °C or 1 %'."""
        parts = [quantity_text(self.tolerance_abs, self.unit)] if self.tolerance_abs else []
        return " or ".join(
            [*parts, f"{number_text(self.tolerance_pct)}\u00a0%"] if self.tolerance_pct else parts
        )

    @property
    def asked(self):
        """What stands beside the box: that an answer is asked, and its unit."""
        plain = self.unit == "1"
        return say("page.answer_plain") if plain else say("page.answer_in", unit=self.unit)

    def show(self, value):
        """A value in the answer's unit as a learner reads it."""
        return quantity_text(value, self.unit)


@dataclass(frozen=True, eq=False)
class Choice:
    """One of several numbered lines to choose: the faulty line of an example, yes or no, an order
    of steps.

    options: the lines (texts with {given} fields); sentences: what a tutor says to each choice,
    right ones included.
    ordered: the lines keep the order they are declared in (steps, a ladder of limits); else each
    draw has them in an order of its own.
    order: the declared numbers of the lines in the order they stand in, where that is another one
    (see shuffled()).
    """

    options: tuple
    sentences: tuple
    ordered: bool = False
    order: tuple = ()

    def __post_init__(self):
        require(
            "choice",
            len(self.options) > 1 and len(self.options) == len(self.sentences),
            "each of at least two options needs its sentence.",
        )
        require("choice", all(s.strip() for s in self.sentences), "a sentence is empty.")

    def shuffled(self, order):
        """This Choice with its lines in another order: the declared number of the line that stands
        first, second, ...
        """

        def take(texts):
            return tuple(texts[k - 1] for k in order)

        return replace(
            self, options=take(self.options), sentences=take(self.sentences), order=tuple(order)
        )

    def declared(self, line):
        """The number under which a line is declared, from the number it is shown with."""
        return self.order[line - 1] if self.order else line

    def shown(self, line):
        """The number a line is shown with, from the one under which it is declared."""
        return self.order.index(line) + 1 if self.order else line


@dataclass(frozen=True, eq=False)
class Slip:
    """A known mistake and the sentence a good tutor would say to it. Give exactly one of:

    solve: a function of the given quantities, returns what the mistake leads to, in the answer's
    unit (None: not possible with these numbers);
    change: a function of the given dict, returns it as the learner mistook it: the problem's own
    solver does the rest;
    after: a function (right answer, given dict) of what the learner makes of the right answer.
    """

    key: str
    sentence: str
    solve: Callable | None = None
    change: Callable | None = None
    after: Callable | None = None

    def __post_init__(self):
        require(
            f"slip {self.key}",
            sum(f is not None for f in (self.solve, self.change, self.after)) == 1,
            "needs exactly one of solve, change, after.",
        )
        require(f"slip {self.key}", self.sentence.strip(), "has no sentence.")


@dataclass(frozen=True, eq=False)
class Problem:
    """One problem.

    key: '<lesson>.<name>', for ever the same, because numbers are drawn from it; text, hints
    (gentle first; those made of the steps follow) and worked: Markdown with {given} fields (worked
    may be a function of the given quantities that returns Markdown); given: tuple of Given and
    Pick;
    number: the Answer, where a number is asked; choice: the Choice, where a line is asked, alone or
    beside it; solve: function of the given quantities by name, returns the number in its unit, the
    right line, counted from 1, or (line, number);
    plausible: function (answer=..., **given) that is False for a draw no one would meet in
    practice; cautions: keys of the hazards told above it (see coursekit.caution); beyond: what is
    told with the answer where the sum leaves the range of a published figure, and only then may it;
    vector: the functions take arrays as well as numbers (a class is then marked in one call);
    steps: the Steps of its solution, told before what worked adds; figures: function of the given
    quantities that returns {name: number or word}, what is read from a table for steps and worked;
    example: whether the exercise's example to complete is made of it; doubt: it is for those who
    doubt the data, and folded on the page of an exercise.
    """

    key: str
    title: str
    text: str
    given: tuple
    solve: Callable
    hints: tuple = ()
    worked: str | Callable = ""
    number: Answer | None = None
    choice: Choice | None = None
    slips: tuple = ()
    plausible: Callable | None = None
    cautions: tuple = ()
    beyond: str = ""
    vector: bool = True
    steps: tuple = ()
    figures: Callable | None = None
    example: bool = False
    doubt: bool = False

    def __post_init__(self):
        name = f"problem {self.key}"
        require(
            name,
            self.key.count(".") == 1 and self.key.replace(".", "").isidentifier(),
            "the key must read lesson.name.",
        )
        require(name, self.number or self.choice, "it asks for nothing.")
        require(name, self.hints or self.steps, "there is no hint.")
        require(name, self.steps or not self.example, "an example to complete needs steps.")
        for what in (self.given, self.slips):
            names = [getattr(x, "name", getattr(x, "key", None)) for x in what]
            require(name, len(set(names)) == len(names), f"two of {names} have the same name.")
        require(
            name,
            not {g.name for g in self.given} & {"answer", "line"},
            "a given may not be called answer or line.",
        )

    @property
    def lesson(self):
        """The lesson this problem belongs to."""
        return self.key.partition(".")[0]

    def known(self, given):
        """What its steps go on from: given quantities and what is read from a table for them."""
        return {**given, **(self.figures(**given) if self.figures else {})}

    def at(self, works):
        """This problem with the ranges of its quantities moved to a works (a Profile); the problem
        itself where nothing moves.
        """
        figures = tuple(
            figure(works, g.follows) if getattr(g, "follows", "") else None for g in self.given
        )
        return _at(self, figures) if any(figures) else self

    def shuffled(self, order):
        """This problem with the lines of its Choice in another order."""
        return _shuffled(self, tuple(order))

    def render(self, template, given, **more):
        """A text of this problem with the learner's quantities filled in and numbers that do not
        break; more: further fields.
        """
        if callable(template):
            return bound(template(**given))
        values = ((g, given[g.name]) for g in self.given)
        fields = {g.name: shown(g.show(x), g.show(x, unit=False)) for g, x in values} | more
        try:
            return bound(template.format_map(fields))
        except (KeyError, IndexError, ValueError) as error:
            raise InputError(
                f"problem {self.key}: the text {template[:60]!r} cannot be filled in: {error}."
            ) from None


@lru_cache(maxsize=1024)
def _at(problem, figures):
    """A problem at a works, kept by the works' figures that its quantities follow (None for one
    that follows none).
    """
    given = tuple(
        g if figure is None else g.at(figure)
        for g, figure in zip(problem.given, figures, strict=True)
    )
    return problem if given == problem.given else replace(problem, given=given)


@lru_cache(maxsize=1024)
def _shuffled(problem, order):
    return replace(problem, choice=problem.choice.shuffled(order))
