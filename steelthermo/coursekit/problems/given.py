"""What a learner draws for a problem: numbers and words, and how they read in a text."""

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

import numpy as np

from ...base import InputError, quantity_of, translated
from ..adapter import in_use
from ..answers import number_text, quantity_text


def _exact(number):
    """The number as it is written, not as it is stored: 0.3 is 0.3 on every machine."""
    return Decimal(repr(float(number)))


def require(problem, condition, message):
    if not condition:
        raise InputError(f"{problem}: {message}")


FEWEST = 10  # values that a range moved to a works holds at least, if it held as many


def figure(works, path):
    """A figure of a works by its path. Raises InputError where no course in use knows any."""
    found = in_use().figure
    require(f"given that follows {path}", found, "the course in use has no figures of a works.")
    return found(works, path)


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
            require(
                f"given {self.name}",
                self.low < self.high and self.low > 0,
                "a range that follows a works must have a width and lie above 0.",
            )
        require(
            f"given {self.name}",
            self.low <= self.high and self.step > 0,
            f"range {self.low} to {self.high} in steps of {self.step} is empty.",
        )
        require(f"given {self.name}", self.why.strip(), "where the range comes from is not said.")

    def at(self, own):
        """This Given with its range moved to a works whose figure `follows` this is; the given
        itself where the home works have the same.

        A temperature moves by the difference of the two works' figures, anything else by their
        ratio. The range is then cut at least and most (and 100 %), and stays half as wide as at
        the home works where it is; its ends lie on the step, which is made finer where fewer than
        FEWEST values would remain.
        A works whose figure is nothing keeps the range: from nothing there is nothing to work out.
        """
        home = figure(in_use().works(in_use().home_works), self.follows) if self.follows else own
        require(f"given {self.name}", home or not own, f"the home works have no {self.follows}.")
        if not own or own == home:
            return self
        low, high, step, least = map(_exact, (self.low, self.high, self.step, self.least))
        most, own, home = map(_exact, (min(self.most, 100 if self.unit == "%" else 1e9), own, home))
        half = _exact(self.high - self.low) / 2  # the difference as stored: draws hang on it
        if self.unit == "°C":
            low, high = low + own - home, high + own - home
        else:
            low, high = low * own / home, high * own / home
        if high > most:
            low, high = min(low, most - half), most
        if low < least:
            low, high = least, min(max(high, least + half), most)
        steps = min(FEWEST, len(self.grid)) - 1
        while high // step - max(-(-low // step), 1) < steps:  # finer: 10, 5, 2, 1, 0.5 ...
            step = step * 2 / 5 if f"{step.normalize():e}".startswith("5") else step / 2
        low, high = max(-(-low // step), 1) * step, high // step * step
        low, high, step = float(low), float(high), float(step)
        return replace(self, low=low, high=high, step=step, follows="", least=0.0, most=np.inf)

    @cached_property
    def grid(self):
        """All values that can be drawn, as a tuple of floats, computed in decimal so that 0.3 is
        0.3 on every machine.
        """
        low, high, step = map(_exact, (self.low, self.high, self.step))
        return tuple(float(low + k * step) for k in range(int((high - low) / step) + 1))

    @cached_property
    def decimals(self):
        """Decimal places that low and step need."""
        return max(
            0,
            *(-_exact(x).normalize().as_tuple().exponent for x in (self.low, self.step)),
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
        return translated(str(value))


class shown(str):
    """A quantity in a text: with its unit, or as {name:n} its number alone, which is `plain`."""

    def __new__(cls, text, plain):
        self = super().__new__(cls, text)
        self.plain = plain
        return self

    def __format__(self, spec):
        return self.plain if spec == "n" else format(str(self), spec)
