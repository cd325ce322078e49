"""The named steps of a solution, each with its value: of them the worked solution is made, an
example to complete, in which some are left blank, and the solver, where a problem has no other.
"""

import ast
import operator
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ...base import InputError
from ..answers import bound, number_text, quantity_text
from .problem import Answer

_DIGITS = 5  # shown, and gone on with: what stands on the page is what is calculated with
_MOST_DIGITS = 9  # so many where fewer would move the last digit of the answer
_PCT = 1.0
_WHY = "one per cent covers rounding on the way"
_OPERATORS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.USub: operator.neg,
}
_FUNCTIONS = {"sqrt": np.sqrt, "log10": np.log10, "ln": np.log, "exp": np.exp}
_SIGNS = {"**": "^", "*": " × ", "-": " − ", "+": " + ", "sqrt": "√", "log10": "log"}


@dataclass(frozen=True)
class Step:
    """One step. called: its name, for later steps; say: what is worked out; sum: how, in names of
    given quantities and earlier steps, + - * / ** and the functions sqrt, log10, ln, exp; unit: of
    its value.
    """

    called: str
    say: str
    sum: str
    unit: str

    @cached_property
    def tree(self):
        """The calculation as Python reads it. Raises SyntaxError."""
        return ast.parse(self.sum, mode="eval").body

    @property
    def answer(self):
        """What is asked where its value is left blank."""
        return Answer(self.unit, tolerance_pct=_PCT, why=_WHY)

    def value_text(self, value, digits=_DIGITS):
        """Its value as shown."""
        return quantity_text(value, self.unit, digits)

    def value(self, known, digits=_DIGITS):
        """Its value from quantities and earlier steps by name, to so many digits (None: all; then
        quantities may be arrays). Raises InputError.
        """
        try:
            with np.errstate(all="ignore"):
                value = worked_out(self.tree, known)
            if np.iscomplexobj(value) or np.ndim(value) == 0 and not np.isfinite(value):
                raise ArithmeticError(value)
            return value if digits is None else float(f"{value:.{digits}g}")
        except (SyntaxError, KeyError, ArithmeticError, ValueError) as error:
            raise InputError(f"step {self.called}: {self.sum}: {error!r}.") from None

    def written(self, known, digits=_DIGITS):
        """The calculation with numbers in the place of names."""
        texts = {name: number_text(value, digits) for name, value in known.items()}
        bracketed = {n: f"({t})" if t[0] == "−" or "·" in t else t for n, t in texts.items()}
        return self.written_in_words(bracketed)

    def written_in_words(self, called):
        """The calculation with words in the place of names. called: words by name."""
        signs = re.sub(r"\s*(\*\*|\*|\+|-)\s*|sqrt|log10", lambda m: _SIGNS[m[0].strip()], self.sum)
        signs = re.sub(r"(?<![\w.])\d{5,}", lambda m: number_text(float(m[0]), len(m[0])), signs)
        signs = signs.replace("( − ", "(−")
        return re.sub(
            r"[a-z_][a-z_0-9]*", lambda m: called.get(m[0], m[0].replace("_", " ")), signs
        )


def step_values(steps: tuple, given: Mapping, digits: int | None = _DIGITS) -> dict:
    """Steps worked out, each from what stands on the page.

    Parameters
    ----------
    steps : of Step, in order
    given : quantities by name
    digits : of each value that is gone on with; None for all

    Returns
    -------
    value by name, of quantities and steps

    Raises
    ------
    InputError
        Names a step that cannot be worked out.

    Examples
    --------
    >>> step_values((Step("kg", "In kg.", "10 * t * pct", "kg"),), {"t": 2.0, "pct": 4.5})["kg"]
    90.0
    """
    known = {name: value for name, value in given.items() if not isinstance(value, str)}
    for step in steps:
        known[step.called] = step.value(known, digits)
    return known


def steps_text(steps: tuple, known: Mapping, shown: Callable, answer: str) -> str:
    r"""A worked solution from its steps: what each works out, the sum with its numbers, its value.

    Parameters
    ----------
    steps : of Step, in order; the last one's value is the answer
    known : quantities by name
    shown : function of the answer, the text of it
    answer : text of the right answer; no intermediate value is shown so short that it would differ

    Returns
    -------
    Markdown, a numbered list

    Examples
    --------
    >>> steps = Step("kg", "In kg.", "1000 * t", "kg"), Step("c", "Carbon.", "kg * pct / 100", "kg")
    >>> text = steps_text(steps, {"t": 2.0, "pct": 4.5}, lambda kg: f"{kg:.0f} kg", "90 kg")
    >>> print(text.replace("\N{NO-BREAK SPACE}", " "))
    1. In kg: 1000 × 2 = 2000 kg.
    2. Carbon: 2000 × 4.5 / 100 = **90 kg**.
    """
    for digits in range(_DIGITS, _MOST_DIGITS + 1):
        values = step_values(steps, known, digits)
        if shown(steps[-1].value(values, None)) == answer:
            break
    told = [step.value_text(values[step.called], digits) for step in steps[:-1]]
    lines = [
        f"{number}. {asked} = {value}."
        for number, (asked, value) in enumerate(
            zip(_asked(steps, values, digits), [*told, f"**{answer}**"], strict=True), start=1
        )
    ]
    return bound("\n".join(lines))


def steps_hints(steps: tuple, known: Mapping) -> list:
    r"""Hints made of steps: what each works out and the sum with its numbers, without its value.

    Parameters
    ----------
    steps : of Step, in order
    known : quantities by name

    Returns
    -------
    of Markdown

    Examples
    --------
    >>> steps = Step("kg", "In kg.", "1000 * t", "kg"), Step("c", "Carbon.", "kg * pct / 100", "kg")
    >>> steps_hints(steps, {"t": 2.0, "pct": 4.5})
    ['In kg: 1000 × 2', 'Carbon: 2000 × 4.5 / 100']
    """
    return [bound(asked) for asked in _asked(steps, step_values(steps, known), _DIGITS)]


def _asked(steps, values, digits):
    """Each step with its sum in numbers, up to the equals sign."""
    for step in steps:
        said = step.say if ":" in step.say else f"{step.say.rstrip('.')}:"
        yield f"{said} {step.written(values, digits)}"


def worked_out(node, known):
    if isinstance(node, ast.Constant):
        return float(node.value)
    if isinstance(node, ast.Name):
        return known[node.id]
    if isinstance(node, ast.BinOp):
        left, right = (worked_out(side, known) for side in (node.left, node.right))
        return _OPERATORS[type(node.op)](left, right)
    if isinstance(node, ast.UnaryOp):
        return _OPERATORS[type(node.op)](worked_out(node.operand, known))
    if isinstance(node, ast.Call) and len(node.args) == 1:
        return _FUNCTIONS[node.func.id](worked_out(node.args[0], known))
    raise KeyError(ast.unparse(node))


def blanks(steps: tuple) -> list:
    """The steps that a learner fills in: the last, and every second before it.

    Parameters
    ----------
    steps : of Step, in order

    Returns
    -------
    their places, from 0

    Examples
    --------
    >>> blanks(("first", "second", "third"))
    [0, 2]
    """
    return [i for i in range(len(steps)) if (len(steps) - 1 - i) % 2 == 0]
