"""A problem as a declarative record: what is given, what is asked, how it is solved, which slips
are known, and what a tutor would say.

Texts, hints, sentences and worked solutions are Markdown. In them {T} is replaced by the learner's
quantity T with its unit, {T:n} by its number alone; in worked solutions {answer} by the right
number with its unit and {line} by the right line of a Choice.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property, lru_cache

import numpy as np

from ...base import InputError, quantity_of
from ..adapter import in_use
from ..answers import number_text, quantity_text


def _require(problem, condition, message):
    if not condition:
        raise InputError(f"{problem}: {message}")


FEWEST = 10  # values that a range moved to a works holds at least, if it held as many


def _figure(works, path):
    """A figure of a works by its path. Raises InputError where no course in use knows any."""
    figure = in_use().figure
    _require(f"given that follows {path}", figure, "the course in use has no figures of a works.")
    return figure(works, path)


@dataclass(frozen=True, eq=False)
class Given:
    """A number each learner draws from low, low + step, ... high.

    name: the keyword it is passed to the solver by; label: what it is called in tables and answer
    keys; unit: a name in units.csv; why: where the range comes from. follows: the figure of a works
    by which the range moves, such as 'vessel.tap_t', or '' for a range that is the same at every
    works (see at()); least, most: limits that a moved range keeps, where the sum or a published
    correlation has them.
    """

    name: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    why: str
    follows: str = ""
    least: float = 0.0
    most: float = np.inf

    def __post_init__(self):
        quantity_of(self.unit)
        if self.follows:
            _require(
                f"given {self.name}",
                self.low < self.high and self.low > 0,
                "a range that follows a works must have a width and lie above 0.",
            )
        _require(
            f"given {self.name}",
            self.low <= self.high and self.step > 0,
            f"range {self.low} to {self.high} in steps of {self.step} is empty.",
        )
        _require(f"given {self.name}", self.why.strip(), "where the range comes from is not said.")

    def at(self, figure):
        """This Given with its range moved to a works whose figure `follows` this is; the given
        itself where the home works have the same.

        A temperature moves by the difference of the two works' figures, anything else by their
        ratio. The range is then cut at least and most (and 100 %), and stays half as wide as at
        the home works where it is; its ends lie on the step, which is made finer where fewer than
        FEWEST values would remain.
        A works whose figure is nothing keeps the range: from nothing there is nothing to work out.
        """
        home = (
            _figure(in_use().works(in_use().home_works), self.follows) if self.follows else figure
        )
        _require(
            f"given {self.name}", home or not figure, f"the home works have no {self.follows}."
        )
        if not figure or figure == home:
            return self
        low, high, step, own, home = (
            Decimal(repr(float(x))) for x in (self.low, self.high, self.step, figure, home)
        )
        low, high = (
            (low + own - home, high + own - home)
            if self.unit == "°C"
            else (low * own / home, high * own / home)
        )
        least, most = (
            Decimal(repr(float(self.least))),
            Decimal(repr(min(float(self.most), 100.0 if self.unit == "%" else 1e9))),
        )
        half = Decimal(repr(float(self.high - self.low))) / 2
        if high > most:
            low, high = min(low, most - half), most
        if low < least:
            low, high = least, min(max(high, least + half), most)
        steps = min(FEWEST, len(self.grid)) - 1
        while True:
            first, last = max(-(-low // step), 1), high // step
            if last - first >= steps:
                return replace(
                    self,
                    low=float(first * step),
                    high=float(last * step),
                    step=float(step),
                    follows="",
                    least=0.0,
                    most=np.inf,
                )
            step = step * 2 / 5 if f"{step.normalize():e}".startswith("5") else step / 2

    @cached_property
    def grid(self):
        """All values that can be drawn, as a tuple of floats, computed in decimal so that 0.3 is
        0.3 on every machine.
        """
        low, high, step = (Decimal(repr(float(x))) for x in (self.low, self.high, self.step))
        return tuple(float(low + k * step) for k in range(int((high - low) / step) + 1))

    @cached_property
    def decimals(self):
        """Decimal places that low and step need."""
        return max(
            0,
            *(
                -Decimal(repr(float(x))).normalize().as_tuple().exponent
                for x in (self.low, self.step)
            ),
        )

    def show(self, value, unit=True):
        """The value as a learner reads it."""
        exact = abs(round(value, self.decimals) - value) < 1e-9 * max(1.0, abs(value))
        decimals = (
            self.decimals if exact else None
        )  # a trainer's own value may be finer than the grid
        return (
            quantity_text(value, self.unit, decimals=decimals)
            if unit
            else number_text(value, decimals=decimals)
        )


@dataclass(frozen=True, eq=False)
class Pick:
    """A word each learner draws from options, such as an element; why: where they come from."""

    name: str
    label: str
    options: tuple
    why: str

    @property
    def grid(self):
        """All words that can be drawn."""
        return self.options

    def show(self, value, unit=True):
        """The word itself."""
        return str(value)


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
        _require("answer", self.why.strip(), "the reason of the tolerance is not said.")
        _require("answer", self.tolerance_pct > 0 or self.tolerance_abs > 0, "it has no tolerance.")

    def tolerance(self, value):
        """Half width of the band accepted around a value or array, in the answer's unit."""
        return np.maximum(np.abs(value) * (self.tolerance_pct / 100.0), self.tolerance_abs)

    def tolerance_text(self):
        """The tolerance in words, such as '1 %' or '2 °C or 1 %'."""
        parts = [quantity_text(self.tolerance_abs, self.unit)] if self.tolerance_abs else []
        return " or ".join(
            [*parts, f"{number_text(self.tolerance_pct)}\u00a0%"] if self.tolerance_pct else parts
        )

    def show(self, value):
        """A value in the answer's unit as a learner reads it."""
        return quantity_text(value, self.unit)


@dataclass(frozen=True, eq=False)
class Choice:
    """One of several numbered lines to choose: the faulty line of an example, yes or no, an order
    of steps.

    options: the lines (texts with {given} fields); sentences: what a tutor says to each choice,
    right ones included.
    number: an Answer, if a number is asked beside the choice. The solver returns the right line,
    counted from 1, or (line, number).
    ordered: the lines keep the order they are declared in (steps, a ladder of limits); else each
    draw has them in an order of its own.
    order: the declared numbers of the lines in the order they stand in, where that is another one
    (see shuffled()).
    """

    options: tuple
    sentences: tuple
    number: Answer | None = None
    ordered: bool = False
    order: tuple = ()

    def __post_init__(self):
        _require(
            "choice",
            len(self.options) > 1 and len(self.options) == len(self.sentences),
            "each of at least two options needs its sentence.",
        )
        _require("choice", all(s.strip() for s in self.sentences), "a sentence is empty.")

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
        _require(
            f"slip {self.key}",
            sum(f is not None for f in (self.solve, self.change, self.after)) == 1,
            "needs exactly one of solve, change, after.",
        )
        _require(f"slip {self.key}", self.sentence.strip(), "has no sentence.")


@dataclass(frozen=True, eq=False)
class Problem:
    """One problem.

    key: '<lesson>.<name>', for ever the same, because numbers are drawn from it; text, hints
    (gentle first) and worked: Markdown with {given} fields (worked may be a function of the given
    quantities that returns Markdown); given: tuple of Given and Pick;
    answer: Answer or Choice; solve: function of the given quantities by name, returns the answer in
    its unit;
    plausible: function (answer=..., **given) that is False for a draw no one would meet in
    practice; cautions: sentences;
    vector: the functions take arrays as well as numbers (a class is then marked in one call).
    """

    key: str
    title: str
    text: str
    given: tuple
    answer: Answer | Choice
    solve: Callable
    hints: tuple
    worked: str | Callable
    slips: tuple = ()
    plausible: Callable | None = None
    cautions: tuple = ()
    vector: bool = True

    def __post_init__(self):
        name = f"problem {self.key}"
        _require(
            name,
            self.key.count(".") == 1 and self.key.replace(".", "").isidentifier(),
            "the key must read lesson.name.",
        )
        _require(name, self.hints, "there is no hint.")
        for what in (self.given, self.slips):
            names = [getattr(x, "name", getattr(x, "key", None)) for x in what]
            _require(name, len(set(names)) == len(names), f"two of {names} have the same name.")
        _require(
            name,
            not {g.name for g in self.given} & {"answer", "line"},
            "a given may not be called answer or line.",
        )

    @property
    def lesson(self):
        """The lesson this problem belongs to."""
        return self.key.partition(".")[0]

    @property
    def number(self):
        """The Answer that describes the number asked for, or None for a bare choice."""
        return self.answer if isinstance(self.answer, Answer) else self.answer.number

    def at(self, works):
        """This problem with the ranges of its quantities moved to a works (a Profile); the problem
        itself where nothing moves.
        """
        figures = tuple(
            _figure(works, g.follows) if getattr(g, "follows", "") else None for g in self.given
        )
        return _at(self, figures) if any(figures) else self

    def shuffled(self, order):
        """This problem with the lines of its Choice in another order."""
        return _shuffled(self, tuple(order))

    def render(self, template, given, **more):
        """A text of this problem with the learner's quantities filled in; more: further fields."""
        if callable(template):
            return template(**given)
        fields = {g.name: shown(g, given[g.name]) for g in self.given} | more
        try:
            return template.format_map(fields)
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
    return replace(problem, answer=problem.answer.shuffled(order))


class shown(str):
    """A quantity in a text: with its unit, or as {name:n} its number alone."""

    def __new__(cls, given, value):
        self = super().__new__(cls, given.show(value))
        self.plain = given.show(value, unit=False)
        return self

    def __format__(self, spec):
        return self.plain if spec == "n" else format(str(self), spec)
