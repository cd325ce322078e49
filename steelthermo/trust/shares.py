"""What is made of the spreads of a heat's figures: sums of squares, shares of a variance, share
within a window.
"""

from collections.abc import Iterable
from math import erf

import numpy as np

from ..base import Amounts, InputError, Number, between, finite, plain, positive


def first_order_shares(
    inputs: dict,
    output: np.ndarray,
    classes: int | None = None,
    order: dict | None = None,
) -> dict:
    """Share of the variance of an output that each input explains alone: Var(E[y | x_i]) / Var(y).

    Each input is sorted into classes of equal count, and the variance between the means of the
    classes
    is compared with the whole: the correlation ratio, with Kelley's correction for chance
    (1 - (n - 1)/(n - k) within/total), so a share of nothing comes out near zero, also slightly
    below.
    Inputs without spread get zero.

    Parameters
    ----------
    inputs : array of samples by key, drawn independently
    output : array as long, 50 or more
    classes : 2 to a quarter of the samples; None: one per 50 samples, 8 to 100
    order : by key the indices that sort its samples, where they are known

    Returns
    -------
    share by key, the largest first

    Raises
    ------
    InputError

    References
    ----------
    Definition of first-order sensitivity indices as in textbooks (from memory); tested on functions
    whose
    shares are exact.

    Examples
    --------
    >>> x = np.linspace(0.0, 1.0, 1000)
    >>> round(first_order_shares({"x": x}, 3.0 * x)["x"], 2)
    1.0
    """
    y = np.asarray(finite("output", output), dtype=float)
    if y.ndim != 1 or y.size < 50:
        raise InputError(f"output: {y.size} samples were given; 50 or more in one row are needed.")
    k = (
        int(np.clip(y.size // 50, 8, 100))
        if classes is None
        else int(between("number of classes", classes, 2, y.size // 4))
    )
    n, total = y.size, np.sum((y - y.mean()) ** 2)
    edges = np.linspace(0, n, k + 1).astype(int)
    count = np.diff(edges)
    out = {}
    for key, x in inputs.items():
        x = np.asarray(finite(f"samples of {key}", x), dtype=float)
        if x.shape != y.shape:
            raise InputError(
                f"samples of {key}: {x.size} were given; {n} are needed, as many as of the output."
            )
        if total == 0.0 or np.ptp(x) == 0.0:
            out[key] = 0.0
            continue
        ordered = y[np.argsort(x, kind="stable") if order is None else order[key]]
        means = np.add.reduceat(ordered, edges[:-1]) / count
        within = total - np.sum(count * (means - y.mean()) ** 2)
        out[key] = (1.0 - (n - 1) / (n - k) * within / total).item()
    return dict(sorted(out.items(), key=lambda item: -item[1]))


_erf = np.vectorize(erf, otypes=[float])


def within_pct(window: Number, spread: Number, bias: Number = 0.0) -> Number:
    """Share of normally distributed values that lie within +-window.

    For hand sums; Heats.within() counts the sample itself.

    Parameters
    ----------
    window : half width, 0 or more
    spread : standard deviation, in the unit of window
    bias : of the mean; scalars or arrays

    Returns
    -------
    %

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(within_pct(10.0, 10.0), 1)
    68.3
    """
    window, spread = (
        np.asarray(positive("window", window)),
        np.asarray(positive("spread", spread, zero=False)),
    )
    width = spread * np.sqrt(2.0)
    return plain(
        50.0 * (_erf((window - finite("bias", bias)) / width) + _erf((window + bias) / width))
    )


def quadrature(parts: Iterable | Amounts) -> Number:
    """Root of the sum of squares of independent parts: the spread that they make together.

    Parameters
    ----------
    parts : numbers or arrays, or a mapping of key to them

    Returns
    -------
    in the unit of the parts

    Raises
    ------
    InputError

    Examples
    --------
    >>> quadrature([3.0, 4.0])
    5.0
    """
    values = list(parts.values()) if hasattr(parts, "values") else list(parts)
    return plain(np.sqrt(sum(np.asarray(finite("part", v)) ** 2 for v in values)))
