"""Calculations of the problems of lesson 17; their words stand in problems.toml."""

from functools import cache

import numpy as np

from ...coursekit.problems import Solution, after, read_problems, taken, times
from ...heats import calibrate, invented_month, t_quantile, watch

_MANY = 1e9  # heats for which Student's t is the normal distribution's 1.96


def _normal():
    return t_quantile(95.0, _MANY)


def _known_to(heats, scatter_c):
    return _normal() * scatter_c / np.sqrt(heats)


def _clear(step_c, scatter_c, before, after):
    return step_c / (scatter_c * np.sqrt(1.0 / before + 1.0 / after))


def _missing_pct(scale_pct, shown_t, yield_t, steel_t):
    return shown_t * scale_pct * yield_t / steel_t


def _share_known_to(heats, share_pct):
    p = share_pct / 100.0
    return 100.0 * _normal() * np.sqrt(p * (1.0 - p) / heats)


@cache
def _runs():
    """{quantity: (first, last) of its clearest run of days}, days of the invented month from 0."""
    log = invented_month()
    found = calibrate(log, ["heat_mj_t", "co2_pct", "ejected_kg_t", "phosphorus_log"], draws=20)
    first, out = log.date[0].astype("datetime64[D]"), {}
    for alarm in watch(log, found.values):
        if alarm.where == "days" and alarm.quantity not in out:
            days = (np.datetime64(d) - first for d in (alarm.first, alarm.last))
            out[alarm.quantity] = tuple(int(d / np.timedelta64(1, "D")) for d in days)
    return out


def _day(quantity, which):
    def day(first_number):
        return first_number + float(_runs()[quantity][which])

    return day


SOLUTIONS = {
    "known_to": Solution(
        _known_to,
        {
            "of_one_heat": taken(heats=1.0),
            "no_root": taken(heats=lambda given: given["heats"] ** 2),
            "one_sigma": lambda heats, scatter_c: scatter_c / np.sqrt(heats),
        },
    ),
    "scatter_alone": Solution(
        lambda rms_c, bias_c: np.sqrt(np.maximum(rms_c**2 - bias_c**2, 0.0)),
        {
            "plain_difference": lambda rms_c, bias_c: rms_c - bias_c,
            "added": lambda rms_c, bias_c: np.hypot(rms_c, bias_c),
            "no_root": after(lambda answer, given: answer**2),
        },
        plausible=lambda answer, rms_c, bias_c: (
            (answer > 8.0) & (answer < 20.0) & (rms_c - bias_c < 0.9 * answer) & (rms_c > bias_c)
        ),
    ),
    "waiting": Solution(
        lambda slope, per_c, wait_min, usual_min: slope * (wait_min - usual_min) / per_c,
        {
            "all_minutes": taken(usual_min=0.0),
            "not_divided": taken(per_c=1.0),
            "multiplied": taken(per_c=lambda given: 1.0 / given["per_c"]),
        },
    ),
    "wrong_scale": Solution(
        _missing_pct,
        {
            "whole_charge": lambda scale_pct, **_: scale_pct,
            "no_yield": taken(yield_t=1.0),
            "as_tonnes": times(lambda given: given["steel_t"] / 100.0),
        },
    ),
    "probe_step": Solution(
        _clear,
        {
            "of_one_heat": lambda step_c, scatter_c, **_: step_c / scatter_c,
            "one_mean": lambda step_c, scatter_c, before, after: _clear(
                step_c, scatter_c, np.inf, after
            ),
            "all_heats": lambda step_c, scatter_c, before, after: _clear(
                step_c, scatter_c, np.inf, before + after
            ),
        },
    ),
    "share_of_hits": Solution(
        _share_known_to,
        {
            "one_sigma": times(1.0 / 1.96),
            "of_a_count": lambda heats, share_pct: 196.0 * np.sqrt(share_pct / 100.0 / heats),
            "no_root": times(lambda given: np.sqrt(given["heats"])),
        },
    ),
    "hidden_day": Solution(
        _day("steel", 0),
        {
            "from_zero": after(lambda answer, given: answer + 1.0),
            "panel_day": lambda first_number: _runs()["steel"][0] + 1.0 + 0.0 * first_number,
            "last_day": _day("steel", 1),
            "cold_days": _day("temperature", 0),
        },
    ),
}

PROBLEMS = read_problems("own_heats", __file__, SOLUTIONS)
