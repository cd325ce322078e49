"""Heats found against heats expected: bias, scatter, drift, what goes with the difference,
hits; and one heat opened: what each recorded deviation explains.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..base import InputError, Record, one_of, rows, shown
from ..works import inputs
from .log import Log, columns
from .model import QUANTITIES, UNITS, difference, expected, found, residual
from .statistics import (
    Interval,
    mean_interval,
    robust_sd,
    share_interval,
    slope_interval,
)

_WEEK = np.timedelta64(7, "D") / np.timedelta64(1, "m")
_PART = 0.1  # of a deviation, by which a slope is taken
WINDOWS = {
    "temperature": 12.0,
    "oxygen": 3.0,
    "steel": 1.5,
    "phosphorus": 0.1,
    "slag iron": 3.0,
}


@dataclass(frozen=True, eq=False, repr=False)
class Compared(Record):
    """One quantity of a log, found less expected.

    quantity, unit; left: array, masked where nothing was read; bias: its mean; scatter: its robust
    standard deviation; explained: the standard deviation that the readings of the log alone would
    make; drift_per_week; slopes: {column: slope of the difference against it, per standard
    deviation of the column}, those that are clear of zero, the steepest first; hits: share of heats
    within +- window. Of Interval, but for the scatters. Intervals take heats as independent.
    """

    quantity: str
    unit: str
    left: np.ndarray
    bias: Interval
    scatter: float
    explained: float
    drift_per_week: Interval | None
    slopes: dict
    hits: Interval
    window: float

    def _shown(self):
        table = [
            ("bias", str(self.bias), self.unit),
            ("scatter", self.scatter, self.unit),
            ("scatter that the readings explain", self.explained, self.unit),
            (f"within ±{self.window:g}", str(self.hits), "% of heats"),
        ]
        if self.drift_per_week is not None:
            table.append(("drift", str(self.drift_per_week), f"{self.unit} a week"))
        table += [(f"with {k}", str(x), f"{self.unit} per sd") for k, x in self.slopes.items()]
        return f"{self.quantity}, found less expected", ("", "", "unit"), table


def compare(
    log: Log,
    figures: Mapping[str, float] | None = None,
    windows: Mapping[str, float] | None = None,
) -> dict[str, Compared]:
    """Compare a log with what is expected of it.

    Parameters
    ----------
    log : Log
    figures : by key of parameters(), instead of the works' own
    windows : {quantity: half width of what counts as a hit}, instead of WINDOWS

    Returns
    -------
    {quantity: Compared} of the quantities read in six heats or more

    Raises
    ------
    InputError
        Where nothing can be compared.

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> list(compare(invented_month()))
    ['temperature', 'oxygen', 'steel', 'phosphorus', 'slag iron']
    """
    expect = expected(log, figures)
    limits = WINDOWS | dict(windows or {})
    lefts = {q: residual(log, expect, q) for q in QUANTITIES}
    lefts = {q: x for q, x in lefts.items() if x.count() >= 7}
    if not lefts:
        raise InputError("log: too few heats have what can be compared; 7 or more are needed.")
    explained = _explained(log, figures, lefts)
    return {q: _compared(log, q, x, explained[q], limits[q]) for q, x in lefts.items()}


def _compared(log, quantity, left, explained, window):
    days = _minutes(log)
    hits = np.abs(left) <= window
    return Compared(
        quantity,
        UNITS[quantity],
        left,
        mean_interval(left),
        robust_sd(left),
        explained,
        None if days is None else slope_interval(days / _WEEK, left),
        _slopes(log, left),
        share_interval(int(hits.sum()), left.count()),
        window,
    )


def _minutes(log):
    """Minutes since the first heat, or None where dates are missing or all the same."""
    if np.isnat(log.date).any() or (log.date == log.date[0]).all():
        return None
    return (log.date - log.date[0]) / np.timedelta64(1, "m")


def _slopes(log, left):
    out = {}
    for key, row in columns(log.works).items():
        x = log.of(key)
        if row["kind"] == "given" and x.count() >= 7 and x.std() > 1e-9 * abs(x.mean()):
            found_slope = slope_interval((x - x.mean()) / x.std(), left, 99.9)
            if found_slope.clear:
                out[key] = found_slope
    return dict(sorted(out.items(), key=lambda item: -abs(item[1].value)))


def readings(works) -> dict[str, float]:
    """Standard uncertainty of one reading of each column, in its unit; below zero: as a share of
    the reading, %.
    """
    spread = {key: -i.start if i.relative else i.start for key, i in inputs().items()}
    out = {}
    for row in rows("log_columns"):
        if row["reading"] != "none":
            out[row["key"]] = row["reading"]
        elif row["spread"] != "none":
            out[row["key"]] = spread[row["spread"]]
    kinds = {key: m["kind"] for key, m in works.materials.items()}
    weighed = {f"{k}_kg": spread.get(f"{kind}_kg") for k, kind in kinds.items()}
    return out | {key: x for key, x in weighed.items() if x is not None}


def _size(log, key, uncertainty):
    """Uncertainty of a reading in its unit."""
    x = log.of(key)
    return uncertainty if uncertainty >= 0.0 else float(-uncertainty / 100.0 * x.mean())


def usual_heat(log: Log) -> Log:
    """A log of one heat, with the mean of every column."""
    means = {k: np.ma.array([x.mean()]) for k, x in log.readings.items() if x.count()}
    return replace(log.take(np.array([0])), readings=means)


def effects(
    log: Log,
    changes: Sequence[tuple[str, float]],
    figures: Mapping[str, float] | None,
    of: Sequence[str],
) -> dict:
    """What a change of one column of the usual heat at a time does to what is found less expected:
    {quantity: array, one item a change}.

    changes: (column, by how much, in its unit).
    """
    usual, n = usual_heat(log), len(changes) + 1
    many = usual.take(np.zeros(1, int))
    columns_ = {k: np.ma.repeat(x, n) for k, x in usual.readings.items()}
    for row, (key, by) in enumerate(changes, 1):
        columns_[key] = columns_[key].copy()
        columns_[key][row] += by
    repeated = {
        name: np.repeat(getattr(many, name), n) for name in ("heat", "date", "shift", "line")
    }
    many = replace(many, readings=columns_, **repeated)
    expect = expected(many, figures)
    out = {}
    for quantity in of:
        left = residual(many, expect, quantity).filled(np.nan)
        out[quantity] = left[1:] - left[0]
    return out


def _explained(log, figures, of):
    """{quantity: root of the sum of squares of what each reading's uncertainty moves}."""
    known = {k: _size(log, k, u) for k, u in readings(log.works).items() if log.given(k)}
    moved = effects(log, list(known.items()), figures, of)
    return {q: float(np.sqrt(np.nansum(x**2))) for q, x in moved.items()}


@dataclass(frozen=True, eq=False, repr=False)
class Opened(Record):
    """One heat against the usual heat of its log. quantity, unit; found, usual: the quantity of
    this heat and the log's mean; causes: [(column, its deviation, what it explains)], the largest
    first, all kinds of scrap as scrap_kg; left: what they do not explain; ask: the readings whose
    uncertainty, or absence, could hide most, [(column, how much)].
    """

    heat: str
    quantity: str
    unit: str
    found: float
    usual: float
    causes: tuple
    left: float
    ask: tuple

    def _shown(self):
        table = [(k, by, explains) for k, by, explains in self.causes]
        table += [("not explained", "", self.left)]
        title = f"heat {self.heat}: {self.quantity} {self.found - self.usual:+.3g} {self.unit}"
        return f"{title} against the usual heat", ("cause", "deviation", self.unit), table


def open_heat(
    log: Log, heat: str, quantity: str = "temperature", figures: Mapping[str, float] | None = None
) -> Opened:
    """Why a heat came out other than usual: causes ranked by what each recorded deviation explains.

    Parameters
    ----------
    log : Log
    heat : its number
    quantity : one of QUANTITIES
    figures : by key of parameters(), instead of the works' own

    Returns
    -------
    Opened
        The causes are taken one at a time, by their slopes at the usual heat; what they do together
        besides is part of what is not explained.

    Raises
    ------
    InputError
        For a heat that is not in the log, or without the quantity.

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> log = invented_month()
    >>> open_heat(log, log.heat[3]).quantity
    'temperature'
    """
    one_of("quantity", quantity, QUANTITIES)
    place = np.flatnonzero(log.heat == heat)
    if not place.size:
        aside = [x for x in log.set_aside if x.heat == heat]
        why = f"it was set aside: {aside[0].reason}" if aside else "the log has none such"
        raise InputError(f"heat: {shown(heat)} was asked for; {why}.")
    one, usual = log.take(place), usual_heat(log)
    if not found(one, quantity).count():
        raise InputError(f"heat {heat}: its {quantity} was not read.")
    apart = {
        key: float(one.of(key)[0] - usual.of(key)[0])
        for key, row in columns(log.works).items()
        if (row["kind"] == "given" or key in ("end_c_pct", "slag_fe_pct"))
        and one.of(key).count()
        and usual.of(key).count()
    }
    unsure = {
        key: _size(log, key, u) if one.of(key).count() else float(log.of(key).std())
        for key, u in readings(log.works).items()
        if log.given(key)
    }
    # by part of each deviation, for a large one alone may make a heat that cannot be; all at once,
    # for the usual heat costs as much as they do
    parts = [(key, by * _PART) for key, by in (*apart.items(), *unsure.items())]
    moved = effects(log, parts, figures, [quantity])[quantity] / _PART
    # what is expected moves the other way than what is left
    explains, hidden = -moved[: len(apart)], np.abs(moved[len(apart) :])
    each = zip(apart.items(), explains, strict=True)
    causes = _scrap_together(log, [(k, by, float(x)) for (k, by), x in each if x])
    causes.sort(key=lambda cause: -abs(cause[2]))
    there, mean = found(one, quantity), found(usual, quantity)
    total = float(difference(quantity, there[0], mean[0]))
    left = total - sum(c[2] for c in causes)
    ask = sorted(zip(unsure, hidden.tolist(), strict=True), key=lambda item: -item[1])
    return Opened(
        str(heat),
        quantity,
        UNITS[quantity],
        float(there[0]),
        float(mean[0]),
        tuple(causes),
        left,
        tuple(ask[:3]),
    )


def _scrap_together(log, causes):
    """The causes with all kinds of scrap as one, scrap_kg: more of one kind is less of another."""
    kinds = [f"{k}_kg" for k, m in log.works.materials.items() if m["kind"] == "scrap"]
    scrap = [cause for cause in causes if cause[0] in kinds]
    if len(scrap) < 2:
        return causes
    together = ("scrap_kg", sum(by for _, by, _ in scrap), sum(x for _, _, x in scrap))
    return [cause for cause in causes if cause[0] not in kinds] + [together]
