"""Mistakes that the steps of a solution tell of themselves: a quantity or a step left out, half or
twice a step, the way not gone to its end, a part of a sum forgotten or the wrong way round.

A mistake has a key: only, forgot, part, turned, half or double, _, and the name of the step or of
the given quantity.
"""

import ast
from collections.abc import Callable
from contextlib import suppress
from functools import cache

import numpy as np

from ...base import InputError, quietly
from ..answers import say
from .problem import Problem
from .steps import step_values, worked_out

_LIKELY_FIRST = ("only", "forgot", "part", "turned", "half", "double")
_TURNED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}


def mistakes(problem: Problem, given: dict) -> list:
    """What a learner comes to who makes one mistake in the steps.

    Parameters
    ----------
    problem : its steps; without any there is no mistake
    given : quantities by name

    Returns
    -------
    of (key, number), likely ones first; a mistake that can be made in several ways stands there
    several times

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Step
    >>> steps = Step("tea", "In the cups.", "0.2 * n", "kg"), Step("all", "All.", "tea + 1", "kg")
    >>> kg = Answer("kg", "a product", tolerance_pct=1.0)
    >>> cups = Problem("tea.cups", "Cups", "Of {n} cups?", (), min, (), number=kg, steps=steps)
    >>> mistakes(cups, {"n": 5.0})[:2]
    [('only_tea', 1.0), ('forgot_tea', 1.0)]
    """
    if not problem.steps:
        return []
    values = step_values(problem.steps, problem.known(given), None)
    with quietly(), np.errstate(all="ignore"):
        found = [
            (f"forgot_{g.name}", x) for g in problem.given for x in _without(problem, given, g)
        ]
        for k, step in enumerate(problem.steps):
            last = step is problem.steps[-1]
            for kind, value in _of_step(step, values, last):
                after = problem.steps[k + 1 :] if kind != "only" else ()
                found.append((f"{kind}_{step.called}", _end(after, values, step.called, value)))
    possible = [one for one in found if np.isfinite(one[1])]
    return sorted(possible, key=lambda one: _LIKELY_FIRST.index(one[0].partition("_")[0]))


def mistake(problem: Problem, key: str) -> Callable:
    """The solver of a learner who makes one mistake.

    Parameters
    ----------
    problem : its steps
    key : only, forgot, half or double, _, and the name of a step, or forgot_ and that of a quantity

    Returns
    -------
    function of the given quantities by name, which may be arrays

    Raises
    ------
    KeyError
        For another key.

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Step
    >>> steps = Step("tea", "In the cups.", "0.2 * n", "kg"), Step("all", "All.", "tea + 1", "kg")
    >>> kg = Answer("kg", "a product", tolerance_pct=1.0)
    >>> cups = Problem("tea.cups", "Cups", "Of {n} cups?", (), min, (), number=kg, steps=steps)
    >>> mistake(cups, "half_tea")(n=5.0)
    1.5
    """
    kind, _, name = key.partition("_")
    steps = problem.steps
    quantity = next((g for g in problem.given if g.name == name), None)
    at = next((k for k, step in enumerate(steps) if step.called == name), None)
    change = {"only": 1.0, "half": 0.5, "double": 2.0, "forgot": 0.0}.get(kind)
    if change is None or (at is None and (quantity is None or kind != "forgot")):
        raise KeyError(f"slip {key}")

    def solve(**given):
        if at is None:
            with quietly():
                return _first_possible(_without(problem, given, quantity))
        values = step_values(steps, problem.known(given), None)
        after = steps[at + 1 :] if kind != "only" else ()
        instead = [change * values[name], *([1.0] if kind == "forgot" else [])]
        return _first_possible([_end(after, values, name, value) for value in instead])

    return solve


def mistake_text(problem: Problem, key: str, given: dict | None = None) -> str:
    """What is said to a mistake.

    Parameters
    ----------
    problem : of which it is
    key : of the mistake
    given : quantities by name, told with those left out; None: of whoever made it

    Returns
    -------
    text, '' for the key of another kind of slip

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Step
    >>> steps = Step("tea", "In the cups.", "0.2 * n", "kg"), Step("all", "All.", "tea + 1", "kg")
    >>> kg = Answer("kg", "a product", tolerance_pct=1.0)
    >>> cups = Problem("tea.cups", "Cups", "Of {n} cups?", (), min, (), number=kg, steps=steps)
    >>> mistake_text(cups, "forgot_tea")
    'This comes out if a step is left out. The step: In the cups.'
    """
    kind, _, name = key.partition("_")
    for quantity in problem.given if kind == "forgot" else ():
        if quantity.name == name:
            told = f" ({quantity.show(given[name])})" if given else ""
            return say("mistake.quantity", what=f"{quantity.label}{told}")
    step = next((step for step in problem.steps if step.called == name), None)
    return say(f"mistake.{kind}", step=step.say) if step and kind in _LIKELY_FIRST else ""


def _without(problem, given, quantity):
    """What comes out where a quantity has no effect: 0 of it, as a share 100 %, as a factor 1."""
    nothing = {"": (), "%": (0.0, 100.0, 1.0)}.get(getattr(quantity, "unit", ""), (0.0, 1.0))
    found = []
    for value in nothing:
        with suppress(ArithmeticError, InputError):
            known = problem.known(given | {quantity.name: value})
            found.append(_end(problem.steps, known))
    return found


def _of_step(step, values, last):
    """(kind, value) of each mistake in a step."""
    value = values[step.called]
    yield from (("half", value / 2.0), ("double", 2.0 * value))
    if not last:
        yield from (("only", value), ("forgot", 0.0), ("forgot", 1.0))
    for kind, tree in _all_changed(step):
        with suppress(ArithmeticError):
            yield kind, worked_out(tree, values)


@cache
def _all_changed(step):
    """Kept: marking asks for it with every answer that nothing else explains."""
    return tuple(_changed(step.tree))


def _changed(node):
    """(kind, what a sum is then) for each part that may be forgotten or turned round."""
    if isinstance(node, ast.BinOp):
        yield "part", node.left
        if isinstance(node.op, ast.Add | ast.Mult):
            yield "part", node.right
        elif not isinstance(node.op, ast.Pow):
            yield "turned", ast.BinOp(node.right, node.op, node.left)
        if other := _TURNED.get(type(node.op)):
            yield "turned", ast.BinOp(node.left, other(), node.right)
        for kind, less in _changed(node.left):
            yield kind, ast.BinOp(less, node.op, node.right)
        for kind, less in _changed(node.right):
            yield kind, ast.BinOp(node.left, node.op, less)
    elif isinstance(node, ast.Call):
        yield "part", node.args[0]
        for kind, less in _changed(node.args[0]):
            yield kind, ast.Call(node.func, [less], [])


def _end(steps, known, called="", value=None):
    """What some steps come to, a step or quantity having another value; NaN where to nothing."""
    try:
        values = step_values(steps, {**known, called: value}, None)
    except InputError:
        return np.nan
    return values[steps[-1].called] if steps else value


def _first_possible(numbers):
    """The first of some numbers, or arrays, that is something."""
    first, *others = numbers
    if not others:
        return first
    with np.errstate(all="ignore"):
        return np.where(np.isfinite(first) & (first != 0.0), first, _first_possible(others))
