"""What a learner comes to who leaves out, halves or doubles one given quantity or the value of one
step, or forgets a term or factor of a step's sum: none of it may be accepted.
"""

import warnings
from collections import Counter

import numpy as np
from page_sums import forgotten, tree_of, value_of

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.coursekit.problems import draw_many, step_values

_NOT_POSSIBLE = (ArithmeticError, ValueError, InputError)


def instead(given, value):
    """The values a quantity has for a learner who mistakes it: none of it, all of it (100 %), half,
    twice, and one where it is a factor. A temperature is taken as 0 °C or in kelvin.
    """
    if given.unit == "°C":
        return (0.0, value + 273.15)
    changed = [0.0, value / 2.0, 2.0 * value]
    if given.unit == "%" and value < 100.0:
        changed.append(100.0)
    elif not 0.5 < value < 2.0:
        changed.append(1.0)
    return tuple(changed)


def accepted(problem, learners, idle=()):
    """Counter of what is accepted though a quantity was mistaken or a step forgotten.

    idle: names of given quantities that the number asked for does not hang on.
    """
    found = Counter()
    for one in draw_many(problem, [(f"learner {i}", "course", 1) for i in range(learners)]):
        for given in problem.given:
            value = one.given[given.name]
            if given.name in idle or isinstance(value, str):
                continue
            for wrong in instead(given, value):
                if _passes(one, _solved(problem, one.given | {given.name: wrong})):
                    found[f"{given.name} = {given.show(wrong)} for {given.show(value)}"] += 1
        for told, wrong in _steps_mistaken(one):
            if wrong is not None and _close(one, wrong):
                found[told] += 1
    return found


def _steps_mistaken(one):
    """What is told of each mistake in a declared step, and what it leads to: its value left out,
    halved or doubled, a term or factor of its sum forgotten.
    """
    steps, known = one.problem.steps, one.problem.known(one.given)
    values = step_values(steps, known, None)
    for k, step in enumerate(steps):
        value, goes_on = values[step.called], steps[k + 1 :]
        wrong = {"halved": value / 2.0, "doubled": 2.0 * value}
        if goes_on:
            wrong |= {"left out": 0.0} | ({} if 0.5 < value < 2.0 else {"taken as 1": 1.0})
        for tree in forgotten(tree_of(step.written(values, 9))):
            wrong[f"a step of it forgotten ({tree})"] = value_of(tree)
        for told, instead_of in wrong.items():
            if abs(instead_of - value) > 1e-9 * abs(value):
                yield f"{step.called} {told}", _gone_on(steps[k:], values, instead_of)


def _gone_on(steps, values, value):
    """What the last of some steps comes to where the first has another value, or None."""
    values = values | {steps[0].called: value}
    try:
        for step in steps[1:]:
            values[step.called] = step.value(values, None)
    except InputError:
        return None
    return values[steps[-1].called]


def _solved(problem, given):
    """What the problem's own solver makes of other numbers; None where they make no sense."""
    try:
        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore", ExtrapolationWarning)
            warnings.simplefilter("ignore", RuntimeWarning)
            return problem.solve(**given)
    except _NOT_POSSIBLE:
        return None


def _passes(one, result):
    if result is None:
        return False
    line, number = result if isinstance(result, tuple) else (None, result)
    if one.problem.choice and line is not None:
        line = one.problem.choice.shown(int(line))
    return line == one.choice and _close(one, float(number))


def _close(one, number):
    return abs(number - one.number) <= one.problem.number.tolerance(one.number)
