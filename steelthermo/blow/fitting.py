"""Fits up to three parameters of the blow to a measured heat, with their uncertainty: damped least
squares, all trial runs of a step together.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from ..base import Amounts, InputError, Record, one_of, plus_minus, positive, shown
from ..charge import Charge
from ..works import Profile
from .beside import compare
from .measured import Measured
from .rates import allowed, parameters
from .record import Blow, quantities
from .run import Run, solve

_MOST = 3
_DAMPING = 10.0 ** np.arange(-4, 5)


@dataclass(frozen=True, eq=False, repr=False)
class Fit(Record):
    """Fitted parameters. values, u: dicts of name to value and standard uncertainty; correlation:
    matrix in the order of names; chi2: sum of squares of (model - reading)/uncertainty; freedom:
    readings less parameters; before, after: blow with the values at the start and fitted;
    comparisons of both as measured.compare() gives them; words: what to mind."""

    names: tuple
    values: dict
    u: dict
    correlation: np.ndarray
    chi2: float
    freedom: int
    before: Blow
    after: Blow
    compared_before: dict
    compared_after: dict
    words: tuple

    def __str__(self):
        return "\n".join(
            [
                *(
                    f"{name} = {plus_minus(self.values[name], self.u[name])} "
                    f"{parameters()[name].unit}"
                    for name in self.names
                ),
                *self.words,
            ]
        )


def least_squares(
    residuals: Callable,
    start: Sequence[float],
    low: Sequence[float],
    high: Sequence[float],
) -> tuple:
    """Least squares by Levenberg and Marquardt's damping, derivatives by central differences.

    Parameters
    ----------
    residuals : residuals(points): array (points, parameters) to (points, residuals); all trial
        points of a step are asked for together
    start, low, high : arrays of parameters; the result stays within low and high

    Returns
    -------
    (parameters, covariance for residuals of unit variance, sum of squares, converged)

    Raises
    ------
    InputError
        Where the residuals do not depend on a parameter, or not on two of them independently.

    References
    ----------
    Textbook method.

    Examples
    --------
    >>> x, *_ = least_squares(lambda p: p - 2.0, [1.0], [0.0], [5.0])
    >>> x.round(6).tolist()
    [2.0]
    """
    x, low, high = (np.array(v, float) for v in (start, low, high))
    size = high - low
    best = None
    converged = False
    for _ in range(50):
        h = 1e-3 * size
        up, down = np.minimum(x + h, high), np.maximum(x - h, low)
        points = np.concatenate(
            [
                [x],
                *(
                    [np.where(np.arange(x.size) == i, edge, x)]
                    for i in range(x.size)
                    for edge in (up, down)
                ),
            ]
        )
        r = residuals(points)
        best = np.sum(r[0] ** 2)
        jacobian = (
            np.stack(
                [(r[1 + 2 * i] - r[2 + 2 * i]) / (up[i] - down[i]) for i in range(x.size)], axis=1
            )
            * size
        )
        _check(jacobian)
        if converged:
            break
        normal, slope = jacobian.T @ jacobian, jacobian.T @ r[0]
        scale = np.diag(np.diag(normal))
        trials = np.clip(
            x - size * np.array([np.linalg.solve(normal + d * scale, slope) for d in _DAMPING]),
            low,
            high,
        )
        sums = np.sum(residuals(trials) ** 2, axis=1)
        chosen = int(np.argmin(sums))
        step = np.max(np.abs(trials[chosen] - x) / size)
        if sums[chosen] >= best * (1.0 - 1e-12) or step < 1e-7:
            converged = True  # one more round for the derivatives here
        if sums[chosen] < best:
            x = trials[chosen]
    covariance = np.linalg.inv(jacobian.T @ jacobian) * np.outer(size, size)
    return x, covariance, best.item(), converged


def _check(jacobian):
    lengths = np.linalg.norm(jacobian, axis=0)
    if np.any(lengths < 1e-8):
        raise InputError(
            f"fit: the readings do not depend on parameter {int(np.argmin(lengths)) + 1} of the "
            "list; leave it out, or measure what shows it."
        )
    if np.linalg.cond(jacobian / lengths) > 1e6:
        raise InputError(
            "fit: the readings do not tell these parameters apart; fit fewer of them, or measure "
            "more quantities."
        )


def fit(
    measured: Measured,
    names: str | Sequence[str],
    charge: Charge | None = None,
    works: Profile | None = None,
    *,
    parameters: Amounts | None = None,
    use: Sequence[str] | None = None,
    uncertainty: Amounts | None = None,
    **options: Annotated[object, Run],
) -> Fit:
    """Fit one to three named parameters of the blow to a measured heat.

    The uncertainties of the parameters are widened by the square root of chi2/freedom where the
    model misses the readings by more than theirs. They tell what the scatter of the readings does,
    not whether the model is right.

    Parameters
    ----------
    measured : the readings
    names : keys of blow.parameters()
    charge, works : the heat that was measured, as in blow.solve()
    parameters : values held for the others, and where the named ones start
    use : quantities to fit (default: all there are)
    uncertainty : standard uncertainty of one reading by quantity (default: of blow.quantities())
    options : as in blow.solve(): pattern, additions, oxygen_nm3, step_min

    Returns
    -------
    Fit

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.blow import invented_heat
    >>> found = fit(invented_heat(), "critical_carbon_pct", use=("C",))
    >>> found.freedom
    6
    """
    names = (names,) if isinstance(names, str) else tuple(names)
    known = allowed()
    unknown = [n for n in names if n not in known]
    if unknown or not 1 <= len(names) <= _MOST or len(set(names)) < len(names):
        raise InputError(
            f"parameters to fit: {shown(names)} was given; one to {_MOST} different ones of "
            f"{', '.join(known)} are needed."
        )
    keys = measured.quantities if use is None else tuple(use)
    missing = [k for k in keys if k not in measured.quantities]
    if missing or not keys:
        raise InputError(
            f"quantities to fit: {shown(missing or keys)} was asked for; the readings have "
            f"{', '.join(measured.quantities)}."
        )
    for key in uncertainty or ():
        one_of("uncertainty, quantity", key, quantities())
    u = {
        k: positive(
            f"uncertainty of {k}",
            (uncertainty or {}).get(k, quantities()[k]["uncertainty"]),
            quantities()[k]["unit"],
            zero=False,
        )
        for k in keys
    }
    held = dict(parameters or {})
    before = solve(charge, works, parameters=held, **options)
    if before.time_min.ndim != 1:
        raise InputError(
            "fit: it is made for one heat; give one charge, and numbers for parameters and flows."
        )
    readings = {}
    for key in keys:
        time, value = measured.of(key)
        mask = time <= before.time_min[-1]
        readings[key] = time[mask], value[mask]
    count = sum(t.size for t, _ in readings.values())
    if count <= len(names):
        raise InputError(
            f"fit: {count} readings fall into the blow; more than {len(names)} are needed for "
            f"{len(names)} parameters."
        )

    def run(points):
        trial = held | {name: points[:, i] for i, name in enumerate(names)}
        return solve(charge, works, parameters=trial, infeasible="mark", **options)

    def residuals(points):
        runs, out = run(points), []
        for key, (time, value) in readings.items():
            lines = runs.of(key)
            out.append(
                np.array(
                    [
                        (np.interp(time, t, line) - value) / u[key]
                        for t, line in zip(runs.time_min, lines, strict=True)
                    ]
                )
            )
        return np.concatenate(out, axis=1)

    begin = np.array([float(before.parameters[n]) for n in names])
    low, high = (np.array([known[n][i] for n in names]) for i in (0, 1))
    x, covariance, chi2, converged = least_squares(residuals, begin, low, high)
    freedom = count - len(names)
    wide = max(1.0, chi2 / freedom)
    sigma = np.sqrt(np.diag(covariance) * wide)
    values = dict(zip(names, x.tolist(), strict=True))
    after = solve(charge, works, parameters=held | values, **options)
    words = _words(names, x, low, high, sigma, covariance, chi2 / freedom, converged)
    correlation = covariance / np.sqrt(np.outer(np.diag(covariance), np.diag(covariance)))
    return Fit(
        names=names,
        values=values,
        u=dict(zip(names, sigma.tolist(), strict=True)),
        correlation=correlation,
        chi2=chi2,
        freedom=freedom,
        before=before,
        after=after,
        compared_before=compare(before, measured),
        compared_after=compare(after, measured),
        words=words,
    )


def _words(names, x, low, high, sigma, covariance, ratio, converged):
    out = []
    if not converged:
        out.append("The fit had not settled when it was stopped.")
    for name, value, lowest, highest, u in zip(names, x, low, high, sigma, strict=True):
        p = parameters()[name]
        if min(value - lowest, highest - value) < 1e-3 * (highest - lowest):
            out.append(
                f"{name} ran to the limit of what is allowed, {value:.3g}: the model can't follow "
                "these readings with it."
            )
        elif not p.low <= value <= p.high:
            out.append(f"{name} = {value:.3g} lies outside its band, {p.low:g} to {p.high:g}.")
        if u > 0.5 * (p.high - p.low):
            out.append(f"The readings hardly say anything about {name}.")
    for i in range(len(names)):
        for j in range(i):
            c = covariance[i, j] / np.sqrt(covariance[i, i] * covariance[j, j])
            if abs(c) > 0.95:
                out.append(
                    f"{names[j]} and {names[i]} can hardly be told apart (correlation {c:.2f})."
                )
    if ratio > 2.0:
        out.append(
            f"The model misses the readings by {np.sqrt(ratio):.1f} times their uncertainty: it, "
            "or the uncertainty, is not right."
        )
    return tuple(out)
