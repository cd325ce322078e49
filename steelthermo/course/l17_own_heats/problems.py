"""Calculations of the problems of lesson 17; their words stand in problems.toml."""

from collections import namedtuple
from functools import cache

import numpy as np

from ...coursekit.problems import Solution, after, read_problems, taken
from ...heats import calibrate, invented_month, suspects, watch


def _clear(step_c, scatter_c, before, after):
    return step_c / (scatter_c * np.sqrt(1.0 / before + 1.0 / after))


# What the kit finds in the invented month, by its own comparison. Days count from 0.
Found = namedtuple("Found", "scale_days scale_pct probe_day probe_c cold_days cold_c shift carbon")
_FIGURES = ("heat_mj_t", "heat_wait_mj_t_min", "co2_pct", "ejected_kg_t", "phosphorus_log")


def _watched(log):
    """Alarms of a log about figures fitted to all of it, and these figures."""
    figures = calibrate(log, _FIGURES, 100.0, draws=20).values
    return watch(log, figures), figures


@cache
def _found():
    """Found: first what is large; with these heats set aside, the probe."""
    log = invented_month()
    alarms, figures = _watched(log)
    runs = [x for x in alarms if x.where == "days"]
    light = next(x for x in runs if x.quantity == "steel")
    cold = next(x for x in runs if x.quantity == "temperature")
    seen = {x.quantity: (x.by, x.error) for x in runs if x.first == light.first}
    wrong = suspects(log, seen, figures).causes[0]
    left = log.take(~(log.on(light.first, light.last) | log.on(cold.first, cold.last)), "known")
    again = _watched(left)[0]
    early = next(x for x in again if x.where == "days" and x.quantity == "temperature")
    crew = next(x for x in again if x.where == "shift" and x.quantity == "carbon")
    day = {x: int((np.datetime64(x) - log.date[0]) / np.timedelta64(1, "D") + 1) for x in
           (light.first, light.last, cold.first, cold.last, early.last)}  # fmt: skip
    return Found(
        (day[light.first], day[light.last]),
        round(100.0 * wrong.by / float(log.of(wrong.key).mean()), 2),
        day[early.last] + 1,
        round(early.by, 1),
        (day[cold.first], day[cold.last]),
        round(-cold.by, 1),
        crew.first,
        round(-crew.by, 4),
    )


def _day(of):
    def day(first_number):
        return first_number + float(of(_found()))

    return day


def _shift(c_pct):
    return "ABC".index(_found().shift) + 1, c_pct - _found().carbon


SOLUTIONS = {
    "known_to": Solution(
        slips={
            "no_root": taken(heats=lambda given: given["heats"] ** 2),
        },
        # else the standard uncertainty may be forgotten: it is one
        plausible=lambda answer, **_: np.abs(answer / 1.96 - 1.0) > 0.03,
    ),
    "scatter_alone": Solution(
        slips={
            "plain_difference": lambda rms_c, bias_c: rms_c - bias_c,
            "added": lambda rms_c, bias_c: np.hypot(rms_c, bias_c),
        },
        plausible=lambda answer, rms_c, bias_c: (
            (answer > 8.0) & (answer < 20.0) & (rms_c - bias_c < 0.9 * answer) & (rms_c > bias_c)
        ),
    ),
    "waiting": Solution(
        slips={
            "multiplied": taken(per_c=lambda given: 1.0 / given["per_c"]),
        },
    ),
    "wrong_scale": Solution(
        slips={
            "whole_charge": lambda scale_pct, **_: scale_pct,
        },
        plausible=lambda answer, steel_t, **_: np.abs(answer * steel_t / 100.0 - 0.96) > 0.1,
    ),
    "probe_step": Solution(
        slips={
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
        slips={
            "of_a_count": lambda heats, share_pct: 196.0 * np.sqrt(share_pct / 100.0 / heats),
        },
    ),
    "hidden_day": Solution(
        figures=lambda **_: {"days_after": float(_found().scale_days[0])},
        slips={
            "from_zero": after(lambda answer, given: answer + 1.0),
            "panel_day": lambda first_number: _found().scale_days[0] + 1.0 + 0.0 * first_number,
            "last_day": _day(lambda found: found.scale_days[1]),
            "cold_days": _day(lambda found: found.cold_days[0]),
        },
    ),
    "hidden_scale": Solution(
        slips={
            "other_sign": lambda shown_t: shown_t * (1.0 + _found().scale_pct / 100.0),
            "not_moved": lambda shown_t: shown_t,
        },
        figures=lambda **_: {"too_much_pct": _found().scale_pct},
    ),
    "cold_day": Solution(
        figures=lambda **_: {"days_after": float(_found().cold_days[0])},
        slips={
            "from_zero": after(lambda answer, given: answer + 1.0),
            "last_day": _day(lambda found: found.cold_days[1]),
            "scale_day": _day(lambda found: found.scale_days[0]),
        },
    ),
    "cold_heat": Solution(
        slips={
            "other_sign": lambda expected_c: expected_c + _found().cold_c,
            "probe_alone": lambda expected_c: expected_c - _found().probe_c,
            "not_moved": lambda expected_c: expected_c,
        },
        figures=lambda **_: {"colder_c": _found().cold_c},
    ),
    "probe_day": Solution(
        figures=lambda **_: {"days_after": float(_found().probe_day)},
        slips={
            "cold_days": _day(lambda found: found.cold_days[0]),
            "scale_day": _day(lambda found: found.scale_days[0]),
        },
    ),
    "probe_true": Solution(
        slips={
            "other_sign": lambda read_c: read_c - _found().probe_c,
            "not_moved": lambda read_c: read_c,
        },
        figures=lambda **_: {"low_by_c": _found().probe_c},
    ),
    "hard_shift": Solution(
        _shift,
        {
            "other_sign": lambda c_pct: (_shift(c_pct)[0], c_pct + _found().carbon),
            "not_moved": lambda c_pct: (_shift(c_pct)[0], c_pct),
        },
        figures=lambda **_: {"less_pct": _found().carbon, "shift": _found().shift},
    ),
}

PROBLEMS = read_problems("own_heats", __file__, SOLUTIONS)
