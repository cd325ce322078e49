"""What changed in a month: runs of days and shifts in which heats came out other than the rest.

A run of days is found by looking at all runs and asking how often the same heats, put into another
order, show one as clear: so that a sound month raises a false alarm in 5 % of months at most,
however many runs are looked at. (Permutation test: textbook method, from memory.)
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..base import InputError, Record, between, plus_minus
from .log import Log
from .model import QUANTITIES, UNITS, expected, residual

_MOST_RUNS = 3  # of one quantity
_LEAST = 5  # heats in a run
_CARBON = ("carbon", "%")


@dataclass(frozen=True, eq=False, repr=False)
class Alarm(Record):
    """Heats that came out other than the rest. quantity ('carbon' is as found, the others found
    less expected), unit; where: 'days' or 'shift'; first, last: dates, or the shift twice; by: how
    far from the rest, and its standard error; heats: how many; chance_pct: how often heats in
    another order show one as clear.
    """

    quantity: str
    unit: str
    where: str
    first: str
    last: str
    by: float
    error: float
    heats: int
    chance_pct: float

    def _shown(self):
        when = f"shift {self.first}" if self.where == "shift" else f"{self.first} to {self.last}"
        rows = [
            (when, f"{plus_minus(self.by, self.error, '+')} {self.unit}", f"{self.heats} heats")
        ]
        return f"{self.quantity}", ("when", "other than the rest by", ""), rows


def watch(
    log: Log,
    figures: Mapping[str, float] | None = None,
    level_pct: float = 5.0,
    orders: int = 400,
) -> tuple[Alarm, ...]:
    """Runs of days and shifts that stand out.

    Parameters
    ----------
    log : Log with dates
    figures : by key of parameters(), instead of the works' own: calibrate first
    level_pct : share of sound months that raise an alarm
    orders : so many other orders of the heats are tried

    Returns
    -------
    tuple of Alarm, those of one quantity together

    Raises
    ------
    InputError
        For a log without dates or shorter than six days.

    Examples
    --------
    >>> from steelthermo.heats import calibrate, invented_month
    >>> log = invented_month()
    >>> found = calibrate(log, ["heat_mj_t", "co2_pct", "ejected_kg_t", "phosphorus_log"])
    >>> [alarm.first for alarm in watch(log, found.values) if alarm.quantity == "steel"]
    ['2026-03-08']
    """
    between("level", level_pct, 0.1, 50.0, "%")
    orders = int(between("other orders", orders, 20, 10_000))
    if np.isnat(log.date).any():
        raise InputError("log: some heats have no date; without dates no change can be dated.")
    day = ((log.date - log.date[0].astype("datetime64[D]")) / np.timedelta64(1, "D")).astype(int)
    if day[-1] < 6:
        raise InputError(f"log: it covers {day[-1] + 1} days; 7 or more are needed.")
    expect = expected(log, figures)
    left = {q: (residual(log, expect, q), UNITS[q]) for q in QUANTITIES}
    left["carbon"] = log.of("end_c_pct"), "%"
    left = {q: x for q, x in left.items() if x[0].count() >= 10 * _LEAST}
    random = np.random.default_rng(1)
    each = level_pct / max(1, len(left)) / 2.0
    out = []
    for q, (x, unit) in left.items():
        there = ~np.ma.getmaskarray(x)
        x = x.compressed()
        out += _shifts(q, unit, x, log.shift[there], each, orders, random)
        out += _runs(q, unit, x, day[there], log.date[0], each, orders, random)
    return tuple(out)


def _runs(quantity, unit, x, day, first_date, level_pct, orders, random):
    """Alarms of runs of days, the clearest first, each taken away before the next is looked for."""
    out, x = [], x.astype(float).copy()
    days = int(day[-1]) + 1
    count = np.bincount(day, minlength=days)
    for _ in range(_MOST_RUNS):
        seen = _clearest(_daily(x[None], day, days), count, x)
        others = np.array([random.permutation(x) for _ in range(orders)])
        chance = _chance(_clearest(_daily(others, day, days), count, x)[0], seen[0], level_pct)
        if chance is None:
            break
        a, b = int(seen[1][0]), int(seen[2][0])
        inside = (day >= a) & (day < b)
        by, error = step_of(x, inside)
        dates = [str(first_date.astype("datetime64[D]") + d) for d in (a, b - 1)]
        alarm = Alarm(quantity, unit, "days", *dates, by, error, int(inside.sum()), chance)
        out.append(alarm)
        x[inside] -= by
    return out


def _shifts(quantity, unit, x, shift, level_pct, orders, random):
    """Alarms of shifts, and x is left with what a shift does taken out."""
    names = [s for s in dict.fromkeys(shift) if s and np.count_nonzero(shift == s) >= _LEAST]
    if len(names) < 2:
        return []
    member = np.array([shift == s for s in names], float)
    others = np.array([random.permutation(x) for _ in range(orders)])

    def clear(values):
        n = member.sum(axis=1)
        inside = values @ member.T
        apart = inside / n - (values.sum(axis=1)[:, None] - inside) / (x.size - n)
        return np.abs(apart) / np.sqrt(1.0 / n + 1.0 / (x.size - n)) / x.std()

    seen = clear(x[None])[0]
    out = []
    chance = _chance(clear(others).max(axis=1), [seen.max()], level_pct)
    if chance is not None:
        name = names[int(np.argmax(seen))]
        inside = shift == name
        by, error = step_of(x, inside)
        alarm = Alarm(quantity, unit, "shift", name, name, by, error, int(inside.sum()), chance)
        out.append(alarm)
        x[inside] -= by
    return out


def _chance(others, seen, level_pct):
    """How often other orders are as clear, %, or None where more often than the level."""
    chance = 100.0 * np.count_nonzero(others >= seen[0]) / others.size
    return chance if chance < level_pct else None


def _daily(values, day, days):
    """Sums by day of rows of values."""
    out = np.zeros((values.shape[0], days))
    np.add.at(out.T, day, values.T)
    return out


def _clearest(daily, count, x):
    """(clearness, first day, day after the last) of the clearest run of each row."""
    total = np.concatenate([np.zeros((daily.shape[0], 1)), np.cumsum(daily, axis=1)], axis=1)
    heats = np.concatenate([[0], np.cumsum(count)])
    a, b = np.triu_indices(count.size + 1, 1)
    n = heats[b] - heats[a]
    few = (n < _LEAST) | (n > x.size - _LEAST) | (n > 0.6 * x.size)
    a, b, n = a[~few], b[~few], n[~few]
    inside = total[:, b] - total[:, a]
    apart = inside / n - (total[:, -1:] - inside) / (x.size - n)
    clear = np.abs(apart) / np.sqrt(1.0 / n + 1.0 / (x.size - n)) / x.std()
    best = np.argmax(clear, axis=1)
    return np.take_along_axis(clear, best[:, None], 1)[:, 0], a[best], b[best]


def step_of(x, inside):
    """Difference of the means inside and outside, and its standard error."""
    a, b = x[inside], x[~inside]
    error = np.sqrt(a.var(ddof=1) / a.size + b.var(ddof=1) / b.size)
    return float(a.mean() - b.mean()), float(error)
