"""Calculations of the problems of lesson 16; their words stand in problems.toml."""

import numpy as np

from ...base import atomic_weight, molar_mass
from ...coursekit.problems import Solution, made_into, read_problems, taken, times
from ...trust import quadrature, within_pct
from ..common import neighbours

_METER = {
    "plain_difference": lambda total_c, meter_c, aim_c: meter_c - (total_c - aim_c),
    "in_proportion": lambda total_c, meter_c, aim_c: meter_c * aim_c / total_c,
    "others": lambda total_c, meter_c, aim_c: np.sqrt(total_c**2 - meter_c**2),
}


def _meters_apart(answer, total_c, meter_c, aim_c):
    wrong = [slip(total_c, meter_c, aim_c) for slip in _METER.values()]
    far = np.all([np.abs(w - answer) > 0.07 * answer for w in wrong], axis=0)
    return far & (answer > 2.5) & (answer < 0.93 * meter_c) & (aim_c < total_c)


def _readings_apart(answer, reading_c, rest_c):
    before, halved = (quadrature([c, rest_c]) / answer for c in (reading_c, reading_c / 2.0))
    return (before > 1.03) & (halved < 0.97) & (np.abs(before / np.sqrt(2.0) - 1.0) > 0.025)


def _effects(carbon_kj, oxide_kj, phosphorus_kj, phosphorus_kg):
    """MJ per tonne of hot metal by each of the three differences."""
    return (
        44.0 / atomic_weight("C") * carbon_kj,
        16.0 / molar_mass("FeO") * oxide_kj,
        phosphorus_kg / atomic_weight("P") * phosphorus_kj,
    )


def _which(**given):
    return np.argmax(np.stack(np.broadcast_arrays(*_effects(**given))), axis=0) + 1


def _clear(answer, **given):
    sizes = np.sort(np.stack(np.broadcast_arrays(*_effects(**given))), axis=0)
    return sizes[-2] < 0.8 * sizes[-1]


def _which_figures(**given):
    names = ("carbon_mj", "oxide_mj", "phosphorus_mj")
    return dict(zip(names, _effects(**given), strict=True))


# per cent inside and window over spread, as the text lists them
_TABLE = tuple(zip(
    (31.1, 38.3, 45.1, 51.6, 57.6, 63.2, 68.3, 77.0),
    (0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2),
    strict=True,
))  # fmt: skip


def _columns(spread_c, window_c):
    """The columns beside a window."""
    beside = neighbours(window_c / spread_c, _TABLE).values()
    return dict(zip(("low", "low_pct", "high", "high_pct"), beside, strict=True))


def _between(spread_c, window_c):
    at = _columns(spread_c, window_c)
    return (window_c / spread_c - at["low"]) / (at["high"] - at["low"])


SOLUTIONS = {
    "sensitivity": Solution(
        slips={
            "per_one_percent": times(0.1),
            "divided": lambda effect_c, spread_pct: effect_c * 0.01 / spread_pct / 0.10,
            "squared": made_into(lambda answer: answer**2),
        },
        plausible=lambda answer, effect_c, spread_pct: np.abs(answer - 1.0) > 0.1,
    ),
    "sum_of_squares": Solution(
        slips={
            "added": lambda **given: sum(given.values()),
            "no_root": made_into(lambda answer: answer**2),
            "mean": lambda **given: sum(given.values()) / 3.0,
            "root_of_sum": lambda **given: np.sqrt(sum(given.values())),
        },
    ),
    "share_of_variance": Solution(
        slips={
            "share_of_sum": lambda **given: 100.0 * given["oxygen_c"] / sum(given.values()),
            "share_of_spread": made_into(lambda answer: 10.0 * np.sqrt(answer)),
            "against_the_others": made_into(lambda answer: 100.0 * answer / (100.0 - answer)),
        },
    ),
    "within_window": Solution(
        slips={
            "outside": made_into(lambda answer: 100.0 - answer),
            "upside_down": lambda spread_c, window_c: within_pct(spread_c, window_c),
            "whole_window": lambda spread_c, window_c: within_pct(2.0 * window_c, spread_c),
        },
        # else nobody need read between the columns
        plausible=lambda answer, **given: (
            (np.abs(_between(**given) - 0.55) < 0.3) & (np.abs(answer - 50.0) > 1.5)
        ),
        figures=_columns,
    ),
    "second_reading": Solution(
        slips={
            "halved": taken(reading_c=lambda given: given["reading_c"] / np.sqrt(2.0)),
            "all_divided": lambda **given: quadrature(given) / np.sqrt(2.0),
            "before": lambda **given: quadrature(given),
        },
        plausible=_readings_apart,
    ),
    "better_meter": Solution(
        slips=_METER,
        plausible=_meters_apart,
    ),
    "two_sources": Solution(
        slips={
            "kg_for_kmol": times(lambda given: atomic_weight("C")),
            "as_co": times(lambda given: atomic_weight("C") / molar_mass("CO")),
        },
        plausible=lambda answer, apart_kj_mol, carbon_kg, mj_per_c: np.abs(mj_per_c - 1.0) > 0.05,
    ),
    "which_counts": Solution(_which, plausible=_clear, figures=_which_figures),
    "data_or_heats": Solution(lambda **_: 3),
    "heats_needed": Solution(
        slips={
            "root": made_into(lambda answer: answer**0.25),
        },
    ),
}

PROBLEMS = read_problems("how_sure_are_we", __file__, SOLUTIONS)
