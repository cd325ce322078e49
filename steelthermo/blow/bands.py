"""How sure a blow is: the same heat with its parameters at the ends of their bands, all at once in
one run, and what that does to every line. And how sure it is to a works that knows how its heats
end: the parameters drawn together, so that the end is met.

Raw, little is known but the balance. Tuned, the end is as sure as a works' own; in mid-blow carbon
and temperature follow from oxygen and heat, and phosphorus, manganese and iron oxide stay open.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property
from itertools import product
from typing import Annotated

import numpy as np

from ..base import Amounts, InputError, Record, finite, one_of
from ..charge import Charge
from ..works import Profile
from .rates import parameters as all_parameters
from .rates import start
from .record import Blow, quantities
from .run import Run, solve


@dataclass(frozen=True, eq=False, repr=False)
class Band(Record):
    """A heat with its band. runs: Blow of all combinations, the first with the start values; names:
    parameters varied, in the order of the combinations;
    levels: (runs, names), -1 low, 0 start, +1 high; what was drawn lies between."""

    runs: Blow
    names: tuple
    levels: np.ndarray

    @property
    def time_min(self) -> np.ndarray:
        """Time, min, one axis for all runs."""
        return self.runs.time_min[0]

    @property
    def feasible(self) -> np.ndarray:
        """Mask of the runs in which nothing impossible happens; only these count."""
        return np.broadcast_to(self.runs.feasible, len(self.levels))

    def middle(self, key: str) -> np.ndarray:
        """A quantity along time with the start values, array. key: as in blow.quantities()."""
        return self.runs.of(key)[0]

    def envelope(self, key: str, together: bool = True) -> tuple:
        """(lowest, highest) of a quantity at every instant, arrays: over all runs, or
        (together=False) over those with one parameter off its start value.
        """
        used = self.feasible if together else self.feasible & (np.abs(self.levels).sum(axis=1) <= 1)
        found = self.runs.of(key)
        found = found if used.all() else found[used]
        return found.min(axis=0), found.max(axis=0)

    def closure(self) -> dict:
        """Worst relative imbalance of each element and of the heat over all runs that count, as a
        dict.
        """
        return {k: float(np.max(np.abs(v[self.feasible]))) for k, v in self.runs.closure().items()}

    def effects(self, key: str, time_min: float | None = None) -> dict:
        """What each parameter does alone: dict of name to (change at its low end, change at its
        high end) of a quantity, the largest first.

        time_min: when (default: the end).
        """
        at = np.array(
            [
                np.interp(self.time_min[-1] if time_min is None else time_min, self.time_min, run)
                for run in self.runs.of(key)
            ]
        )
        alone = {
            n: tuple(at[self._alone(i, s)] - at[0] for s in (-1, 1))
            for i, n in enumerate(self.names)
        }
        return dict(sorted(alone.items(), key=lambda item: -max(abs(x) for x in item[1])))

    @cached_property
    def _index(self):
        return {tuple(row): i for i, row in reversed(list(enumerate(self.levels.tolist())))}

    def _alone(self, column, sign):
        row = [0] * len(self.names)
        row[column] = sign
        return self._index[tuple(row)]


@cache
def combinations(count):
    """Levels (-1, 0, +1) of `count` parameters, array (runs, count): the start values, each
    parameter alone at its low and high end, and many together.

    Up to three: every combination of the three levels. More: besides each alone, the rows of a
    two-level orthogonal array (Sylvester's Hadamard matrix)
    and their mirror images, in which every pair of parameters meets in all four ways. This reaches
    far, but not every corner.
    """
    if count <= 3:
        every = sorted(product((0, -1, 1), repeat=count), key=lambda row: sum(map(abs, row)))
        return np.array(every, dtype=int).reshape(-1, count)
    alone = np.concatenate(
        [sign * np.eye(count, dtype=int)[[i]] for i in range(count) for sign in (-1, 1)]
    )
    square = np.array([[1]])
    while len(square) <= count:
        square = np.block([[square, square], [square, -square]])
    together = square[:, 1 : count + 1]
    return np.concatenate([np.zeros((1, count), dtype=int), alone, together, -together])


def band(
    charge: Charge | None = None,
    works: Profile | None = None,
    *,
    names: Sequence | None = None,
    parameters: Amounts | None = None,
    ends: Mapping | None = None,
    together: bool = True,
    **options: Annotated[object, Run],
) -> Band:
    """A heat with its band: every named parameter at low, start and high, see combinations(). All
    runs go through the integrator together; runs in which something impossible happens are left
    out.

    Parameters
    ----------
    charge, works : as in blow.solve(), the charge one heat
    names : parameters to vary (default: all)
    parameters : values instead of the start values
    ends : (low, high) by name instead of the band of the table
    together : False runs each parameter alone only, which is what effects() and tuned_band() ask
        for, in two thirds of the time
    options : as in blow.solve(): pattern, oxygen_nm3, additions, step_min

    Returns
    -------
    Band

    Raises
    ------
    InputError
        Also where the start values themselves cannot be.

    Examples
    --------
    >>> found = band(names=("critical_carbon_pct",))
    >>> low, high = found.envelope("C")
    >>> len(found.levels), round(float(low[0]), 2), round(float(high[0]), 2)
    (3, 4.5, 4.5)
    """
    known = all_parameters()
    names = tuple(known) if names is None else tuple(names)
    for name in (*names, *(ends or {})):
        one_of("parameter of the blow", name, known)
    if not names:
        raise InputError("band: no parameter was named; at least one is needed.")
    middle = start(parameters)
    levels = combinations(len(names))
    if not together:
        levels = levels[np.abs(levels).sum(axis=1) <= 1]
    values = dict(middle)
    for i, name in enumerate(names):
        low, high = (
            finite(f"band of {name}", x)
            for x in (ends or {}).get(name, (known[name].low, known[name].high))
        )
        if not low <= middle[name] <= high:
            low, high = min(low, middle[name]), max(high, middle[name])
        values[name] = np.array([low, middle[name], high])[levels[:, i] + 1]
    runs = solve(charge, works, parameters=values, infeasible="mark", **options)
    if runs.time_min.ndim != 2 or len(runs.time_min) != len(levels):
        raise InputError(
            "band: it is drawn for one heat; give one charge, and numbers for parameters and flows."
        )
    out = Band(runs, names, levels)
    if not out.feasible[0]:
        solve(charge, works, parameters=middle, **options)  # raises with the reason
    return out


_SPREAD = 0.5  # standard deviation drawn, in halves of a band
_MOST_SPREADS = 2.5  # an end farther off than this is none of the works'


def nearest(slope, drawn, off):
    """Levels near those drawn whose ends are near what is known: least squares of (levels - drawn)
    over _SPREAD and slope @ levels - off together. slope: change of the ends, (ends, names).
    """
    gain = _SPREAD**2 * slope.T @ np.linalg.inv(_SPREAD**2 * slope @ slope.T + np.eye(len(slope)))
    return drawn - (drawn @ slope.T - off) @ gain.T


def tuned_band(
    raw: Band,
    charge: Charge | None = None,
    works: Profile | None = None,
    *,
    draws: int = 60,
    **options: Annotated[object, Run],
) -> Band:
    """The band that is left to a works that knows how its heats end: the parameters drawn together,
    moved so that the end comes out as known, and run. Ends still too far off are left out.

    Parameters
    ----------
    raw : from band(), of the same heat
    charge, works, options : as given to band(); parameters among them hold for the middle
    draws : heats drawn

    Returns
    -------
    Band
        Its first run is the middle of raw.

    Raises
    ------
    InputError

    References
    ----------
    Linear conditioning of a normal law (the gain of Kalman's filter); how a works' heats
    scatter about its own ends: blow_quantities.csv, from mean absolute errors of 8 degC, 0.007 % C
    and 0.0023 % P (key xie24, abstract) times 1.25; FeO and Mn from memory.

    Examples
    --------
    >>> from steelthermo.blow import band, tuned_band
    >>> tuned = tuned_band(band(step_min=0.5), step_min=0.5, draws=20)
    >>> bool(tuned.feasible.sum() > 10)
    True
    """
    known, names = all_parameters(), raw.names
    spread = {key: row["end_spread"] for key, row in quantities().items() if row["end_spread"]}
    u = np.array(list(spread.values()))
    effects = [raw.effects(key) for key in spread]
    slope = np.array([[np.diff(e[n])[0] / 2.0 for n in names] for e in effects]) / u[:, None]
    random = np.random.default_rng(11)
    drawn = _SPREAD * random.standard_normal((draws, len(names)))
    off = random.standard_normal((draws, len(u)))
    levels = np.clip(nearest(slope, drawn, off), -1.0, 1.0)
    levels = np.concatenate([np.zeros((1, len(names))), levels])
    middle = start(options.pop("parameters", None))
    values = dict(middle)
    for i, name in enumerate(names):
        low, high = min(known[name].low, middle[name]), max(known[name].high, middle[name])
        values[name] = np.interp(levels[:, i], (-1.0, 0.0, 1.0), (low, middle[name], high))
    runs = solve(charge, works, parameters=values, infeasible="mark", **options)
    found = np.array([runs.of(key)[:, -1] for key in spread]) / u[:, None]
    near = np.all(np.abs(found - found[:, :1]) < _MOST_SPREADS, axis=0)
    return Band(replace(runs, feasible=np.asarray(runs.feasible) & near), names, levels)
