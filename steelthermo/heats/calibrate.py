"""Figures of a works fitted to its own heats: at most one of heat (loss, with its waiting and
lining), of oxygen, of iron and of phosphorus.

From the temperature alone a loss and a CO2 share look alike, so what cannot be told apart is
refused in words. The model is taken as straight about the figures found, so that drawing heats
again costs nothing. The fit is made on the first part of the log and judged on the rest.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..base import InputError, Record, between, one_of
from ..works import parse_profile
from .log import Log
from .model import QUANTITIES, expected, parameters, residual, start_figures, usual_of
from .statistics import blocks, robust_fit, robust_fits, robust_sd, times_sd

_ALIKE = 0.95  # correlation of two figures beyond which they are not told apart
_LEAST = 40  # heats
_PASSES = 6
_NORMAL = 1.96  # standard uncertainties to each side of an interval of 95 %


@dataclass(frozen=True, eq=False, repr=False)
class Calibration(Record):
    """Figures fitted to a log.

    values, low, high, sd: {figure: number}, the interval of 95 % and the standard uncertainty (half
    the interval over 1.96) by blocks of heats drawn again; works: the profile's own figures; first,
    last: dates; heats: how many were fitted; judged: {quantity: (rms before, rms after, share of
    the judged heats within their 95 % interval, heats)} of the heats not fitted; usual: minutes
    empty and heats on the lining for which the heat loss holds.
    """

    values: dict
    low: dict
    high: dict
    sd: dict
    works: dict
    first: str
    last: str
    heats: int
    judged: dict
    usual: dict

    @property
    def section(self) -> str:
        """The section [calibrated] of a works profile, as text."""
        lines = ["[calibrated]   # fitted to the works' own heats; take it out to go back"]
        lines += [f'first = "{self.first}"', f'last = "{self.last}"', f"heats = {self.heats}"]
        for key, x in self.values.items():
            lines += [f"{key} = {x:.6g}", f"{key}_sd = {self.sd[key]:.3g}"]
        lines += [f"usual_{key} = {x:.4g}" for key, x in self.usual.items()]
        lines += [f"{q}_rms = {rms:.3g}" for q, (_, rms, _, _) in self.judged.items()]
        return "\n".join(lines) + "\n"

    def _shown(self):
        table = [
            (parameters()[k].what, x, f"{self.low[k]:.3g} to {self.high[k]:.3g}", self.works[k])
            for k, x in self.values.items()
        ]
        table += [
            (f"{q}: rms before, after; within 95 %", f"{a:.3g}", f"{b:.3g}", f"{share:.0f} %")
            for q, (a, b, share, _) in self.judged.items()
        ]
        title = f"calibration on {self.heats} heats, {self.first} to {self.last}"
        return title, ("figure", "value", "95 %", "was"), table


def calibrate(
    log: Log,
    figures: Sequence[str] = ("heat_mj_t",),
    fit_pct: float = 75.0,
    draws: int = 300,
    block: int = 15,
) -> Calibration:
    """Fit figures of a works to its log by robust least squares.

    Parameters
    ----------
    log : Log
    figures : keys of parameters(); those of 'heat' go together, of each other group one
    fit_pct : the first so many % of the heats are fitted, the rest judged
    draws, block : how often heats are drawn again, and how many neighbours together

    Returns
    -------
    Calibration

    Raises
    ------
    InputError
        Where the log cannot tell the figures apart (said which), has too few heats, or a fitted
        figure leaves its range.

    References
    ----------
    Huber (1964) for the weights; blocks drawn again: textbook method, from memory.

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> found = calibrate(invented_month(), ["heat_mj_t"], draws=50)
    >>> found.low["heat_mj_t"] < found.values["heat_mj_t"] < found.high["heat_mj_t"]
    True
    """
    keys = _chosen(figures)
    fit_pct = between("share of heats fitted", fit_pct, 20.0, 100.0, "%")
    start = start_figures(log.works)
    n = int(round(len(log) * fit_pct / 100.0))
    if n < _LEAST:
        raise InputError(f"calibration: {n} heats were given; at least {_LEAST} are needed.")
    steps = np.array([parameters()[k].step for k in keys])
    value = np.array([start[k] for k in keys])
    before, by = None, np.zeros(len(keys))
    for _ in range(_PASSES):  # straight about the last answer, until that moves no more
        scale, rows, y = _straight(log, keys, value, n)
        before = before or {q: x * scale[q] for q, x in y.items()}
        fit = _Fit(rows, y, n)
        _told_apart(keys, fit, y)
        by, spread = fit()
        value = value + steps * by
        for key, x in zip(keys, value, strict=True):
            p = parameters()[key]
            if not p.low <= x <= p.high:
                raise InputError(
                    f"calibration: {p.what} would be {x:.3g} {p.unit}; allowed is {p.low:g} to "
                    f"{p.high:g}. Something else is wrong: look at the readings first."
                )
        if np.all(np.abs(by) < 0.01):
            break
    block = min(block, n // 6)
    sd = steps * fit.drawn(blocks(n, draws, block), spread).std(axis=0, ddof=1)
    sd = sd * times_sd(n, block) / _NORMAL
    low, high = value - _NORMAL * sd, value + _NORMAL * sd
    judged = {
        q: _judged(before[q], (y[q] - rows[q] @ by) * scale[q], n)
        for q in rows
        if y[q][n:].count() >= 7
    }
    when = [str(d)[:10] if not np.isnat(d) else f"heat {h}" for d, h in _ends(log, n)]
    out = [dict(zip(keys, x.tolist(), strict=True)) for x in (value, low, high, sd)]
    return Calibration(*out, start, *when, n, judged, usual_of(log))


def _ends(log, n):
    return (log.date[0], log.heat[0]), (log.date[n - 1], log.heat[n - 1])


def _chosen(figures):
    """The keys in order, one of each group. Raises InputError."""
    wanted = [figures] if isinstance(figures, str) else list(figures)
    for key in wanted:
        one_of("figure to fit", key, parameters())
    keys = [key for key in parameters() if key in wanted]
    if not keys:
        raise InputError("calibration: no figure was given; name at least one.")
    for group in ("oxygen", "iron", "phosphorus"):
        same = [k for k in keys if parameters()[k].group == group]
        if len(same) > 1:
            raise InputError(
                f"calibration: {' and '.join(same)} were given; a log tells one of them only: they "
                "move the same readings."
            )
    return keys


def _straight(log, keys, value, n):
    """(scale, rows, y) by quantity about the values of the figures: rows is what one step of each
    figure moves, y what is left to explain, both over scale, the robust scatter.
    """
    at = dict(zip(keys, value.tolist(), strict=True))
    base = expected(log, at)
    told = (q for q in QUANTITIES if q != "slag iron" or "slag_exchange" in keys)
    left = {q: residual(log, base, q) for q in told}
    left = {q: x for q, x in left.items() if x[:n].count() >= _LEAST}
    scale = {q: max(robust_sd(x[:n]), 1e-9) for q, x in left.items()}
    rows = {q: np.empty((len(log), len(keys))) for q in left}
    for j, key in enumerate(keys):
        p = parameters()[key]
        step = -p.step if at[key] + p.step > p.high else p.step
        moved = expected(log, at | {key: at[key] + step})
        for q, x in left.items():
            change = (x - residual(log, moved, q)).filled(0.0)
            rows[q][:, j] = change / scale[q] * p.step / step
    return scale, rows, {q: x / scale[q] for q, x in left.items()}


class _Fit:
    """Steps of the figures by the heats fitted."""

    def __init__(self, rows, y, n):
        self.rows = np.stack(list(rows.values()))[:, :n]
        self.y = np.stack([x.filled(np.nan)[:n] for x in y.values()])
        self.there = np.isfinite(self.y)

    def __call__(self):
        """Steps, and the robust scatter about them in units of that of each quantity."""
        rows, y = self.rows[self.there], self.y[self.there]
        by = robust_fit(rows, y)[0]
        return by, robust_sd(y - rows @ by)

    def drawn(self, heats, spread):
        """Steps for heats drawn again, (draws, n) indices."""
        heats = heats.astype(np.intp)  # what a 32-bit Python, as in a browser, takes for an index
        times = np.array([np.bincount(i, minlength=self.y.shape[1]) for i in heats])
        counts = np.broadcast_to(times[:, None, :], (len(times), *self.y.shape))[:, self.there]
        return robust_fits(self.rows[self.there], self.y[self.there], counts, spread)


def _told_apart(keys, fit, y):
    """Raise InputError for figures that the readings cannot tell apart."""
    there = np.isfinite(fit.y.ravel())
    rows = fit.rows.reshape(there.size, -1)[there]
    length = np.sqrt((rows**2).sum(axis=0))
    for key, x in zip(keys, length, strict=True):
        if x < 1.0:
            raise InputError(
                f"calibration: {key} moves nothing that this log has read; leave it out."
            )
    inverse = np.linalg.pinv(rows.T @ rows / np.outer(length, length))
    size = np.sqrt(np.diag(inverse))
    alike = np.abs(inverse / np.outer(size, size))
    for i, a in enumerate(keys):
        for j, b in enumerate(keys[:i]):
            both_heat = parameters()[a].group == parameters()[b].group == "heat"
            if alike[i, j] > (0.995 if both_heat else _ALIKE):
                raise InputError(
                    f"calibration: {b} and {a} cannot be told apart by what this log has read "
                    f"(correlation {alike[i, j]:.2f}); leave one out, or read more: "
                    f"{', '.join(q for q in QUANTITIES if q not in y) or 'longer logs'}."
                )


def _judged(before, after, n):
    """(rms before, rms after, % within their 95 % interval, heats) of the heats not fitted, in the
    unit of the quantity.
    """
    inside = np.abs(after[n:]) <= 1.96 * robust_sd(after[:n])
    rms = [float(np.sqrt((x[n:] ** 2).mean())) for x in (before, after)]
    return (*rms, 100.0 * float(inside.mean()), int(after[n:].count()))


def with_section(text: str, calibration: Calibration) -> str:
    """A works profile with the section [calibrated] put in, or in place of the one that is there.

    Parameters
    ----------
    text : of the profile, TOML
    calibration : Calibration

    Returns
    -------
    the profile's new text

    Raises
    ------
    InputError
        Where the profile would then not be sound.

    Examples
    --------
    >>> from steelthermo.base import data_path
    >>> from steelthermo.heats import invented_month
    >>> found = calibrate(invented_month(), ["heat_mj_t"], draws=50)
    >>> text = with_section(data_path("heron.toml").read_text(encoding="utf-8"), found)
    >>> text.splitlines()[-6]
    'usual_wait_min = 25.99'
    """
    kept, inside = [], False
    for line in text.splitlines():
        if line.lstrip().startswith("["):
            inside = line.lstrip().startswith("[calibrated]")
        if not inside:
            kept.append(line)
    while kept and not kept[-1].strip():
        kept.pop()
    out = "\n".join([*kept, "", calibration.section])
    parse_profile(out, "calibrated")
    return out
