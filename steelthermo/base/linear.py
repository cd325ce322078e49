"""Linear forms of unknowns, and the unknowns for which some of them vanish."""

from collections.abc import Iterable

import numpy as np

from .hints import Number
from .numerics import plain


class Linear:
    """A linear form of the unknowns: {unknown: coefficient}, the constant under ''. Coefficients
    are floats or arrays.
    """

    __slots__ = ("c",)

    def __init__(self, c):
        self.c = c

    def __add__(self, other):
        out = dict(self.c)
        for k, v in other.c.items():
            out[k] = out[k] + v if k in out else v
        return Linear(out)

    def __sub__(self, other):
        return self + other * -1.0

    def __mul__(self, factor):
        return Linear({k: v * factor for k, v in self.c.items()})

    def without(self, unknown: str) -> "Linear":
        """The form for none of an unknown."""
        return Linear({k: v for k, v in self.c.items() if k != unknown})

    def at(self, solution: dict) -> Number:
        """Value of the form for a solution, {unknown: value}."""
        total = self.c.get("", 0.0)
        for k, v in self.c.items():
            if k:
                total = total + v * solution[k]
        return total


def add_up(forms: Iterable[Linear]) -> Linear:
    """Sum of linear forms.

    Parameters
    ----------
    forms : of Linear

    Returns
    -------
    their sum

    Examples
    --------
    >>> add_up([Linear({"x": 2.0}), Linear({"x": 1.0, "": 5.0})]).c
    {'x': 3.0, '': 5.0}
    """
    out = {}
    for form in forms:
        for k, v in form.c.items():
            out[k] = out[k] + v if k in out else v
    return Linear(out)


def linear_solve(unknowns: list[str], equations: list[Linear], along: str = "") -> dict:
    """The unknowns for which some linear forms vanish.

    Parameters
    ----------
    unknowns : their names
    equations : as many Linear; where coefficients are arrays all points are solved at once
    along : an unknown that is left open

    Returns
    -------
    number or array by unknown, or with `along` the Linear of it by unknown; NaN where the equations
    of a point contradict each other

    Examples
    --------
    >>> linear_solve(["x"], [Linear({"x": 2.0, "": -5.0})])
    {'x': 2.5}
    >>> linear_solve(["x"], [Linear({"x": 2.0, "y": 1.0, "": -5.0})], "y")["x"].c
    {'': 2.5, 'y': -0.5}
    """
    n, known = len(unknowns), ("", along) if along else ("",)
    coefficients = [v for e in equations for v in e.c.values()]
    if all(isinstance(v, float) for v in coefficients):  # a heat alone: 0.05 ms for 0.12
        a = np.array([[e.c.get(k, 0.0) for k in unknowns] for e in equations])
        b = -np.array([[e.c.get(k, 0.0) for k in known] for e in equations])
    else:
        shape = np.broadcast_shapes(*map(np.shape, coefficients))
        a, b = np.zeros((*shape, n, n)), np.zeros((*shape, n, len(known)))
        for row, equation in enumerate(equations):
            for k, v in equation.c.items():
                if k in known:
                    b[..., row, known.index(k)] = -np.asarray(v)
                else:
                    a[..., row, unknowns.index(k)] = v
    try:
        x = np.linalg.solve(a, b)
    except np.linalg.LinAlgError:
        singular = (np.linalg.det(a) == 0)[..., None, None]
        x = np.linalg.solve(
            np.where(singular, np.eye(n), a),
            np.where(singular, np.nan, b),
        )
    # equations that contradict each other but for rounding give masses without measure
    most_x, most_b = (np.max(np.abs(y[..., :1]), axis=-2, keepdims=True) for y in (x, b))
    x = np.where(most_x > 1e10 * most_b, np.nan, x)
    if along:
        return {
            k: Linear({w: plain(x[..., i, j]) for j, w in enumerate(known)})
            for i, k in enumerate(unknowns)
        }
    return {k: plain(x[..., i, 0]) for i, k in enumerate(unknowns)}
