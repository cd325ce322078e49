"""What a learner comes to who leaves out, halves or doubles one given quantity, or forgets one step
of the sum of the worked solution: none of it may be accepted.
"""

import warnings
from collections import Counter

import numpy as np
from page_sums import forgotten, sums, value_of

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.coursekit.problems import draw_many

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
        for told in sums(one.worked_text()):
            if not _close(one, told.result):
                continue
            for tree in forgotten(told.tree):
                if _close(one, value_of(tree)):
                    found[f"a step of {told.text} forgotten: {value_of(tree):.5g}"] += 1
    return found


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
