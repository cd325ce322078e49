"""The named steps of a solution, each with its value: of them an example to complete is made, in
which some are left blank.
"""

import ast
import math
import operator
import re
from collections.abc import Mapping
from dataclasses import dataclass

from ...base import InputError
from ..answers import number_text, quantity_text
from .problem import Answer

_DIGITS = 5  # shown, and gone on with: what stands on the page is what is calculated with
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
_FUNCTIONS = {"sqrt": math.sqrt, "log10": math.log10, "ln": math.log}
_SIGNS = {"**": "^", "*": " × ", "-": " − ", "+": " + ", "sqrt": "√", "log10": "log"}


@dataclass(frozen=True)
class Step:
    """One step. called: its name, for later steps; say: what is worked out; sum: how, in names of
    given quantities and earlier steps, + - * / ** and the functions sqrt, log10, ln; unit: of its
    value.
    """

    called: str
    say: str
    sum: str
    unit: str

    @property
    def answer(self):
        """What is asked where its value is left blank."""
        return Answer(self.unit, tolerance_pct=_PCT, why=_WHY)

    def value_text(self, value):
        """Its value as shown."""
        return quantity_text(value, self.unit, _DIGITS)

    def value(self, known):
        """Its value from quantities and earlier steps by name. Raises InputError."""
        try:
            value = _worked_out(ast.parse(self.sum, mode="eval").body, known)
            return float(f"{value:.{_DIGITS}g}")
        except (SyntaxError, KeyError, ArithmeticError, ValueError) as error:
            raise InputError(f"step {self.called}: {self.sum}: {error!r}.") from None

    def written(self, known):
        """The calculation with numbers in the place of names."""
        texts = {name: number_text(value, _DIGITS) for name, value in known.items()}
        return self.written_in_words(texts)

    def written_in_words(self, called):
        """The calculation with words in the place of names. called: words by name."""
        signs = re.sub(r"\s*(\*\*|\*|\+|-)\s*|sqrt|log10", lambda m: _SIGNS[m[0].strip()], self.sum)
        return re.sub(r"[a-z_][a-z_0-9]*", lambda m: called.get(m[0], m[0]), signs)


def step_values(steps: tuple, given: Mapping) -> dict:
    """Steps worked out, each from what stands on the page.

    Parameters
    ----------
    steps : of Step, in order
    given : quantities by name

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
        known[step.called] = step.value(known)
    return known


def _worked_out(node, known):
    if isinstance(node, ast.Constant):
        return float(node.value)
    if isinstance(node, ast.Name):
        return known[node.id]
    if isinstance(node, ast.BinOp):
        left, right = (_worked_out(side, known) for side in (node.left, node.right))
        return _OPERATORS[type(node.op)](left, right)
    if isinstance(node, ast.UnaryOp):
        return _OPERATORS[type(node.op)](_worked_out(node.operand, known))
    if isinstance(node, ast.Call) and len(node.args) == 1:
        return _FUNCTIONS[node.func.id](_worked_out(node.args[0], known))
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
