"""Calculations of the problems of lesson 16; their words stand in problems.toml."""

import numpy as np

from ...base import atomic_weight, molar_mass
from ...coursekit.problems import Solution, made_into, read_problems, times
from ...trust import quadrature, within_pct


def _share(part_c, **others):
    return 100.0 * part_c**2 / quadrature({"part": part_c, **others}) ** 2


def _allowed(total_c, meter_c, aim_c):
    return np.sqrt(np.maximum(aim_c**2 - total_c**2 + meter_c**2, 0.0))


def _shift(apart_kj_mol, carbon_kg, mj_per_c):
    return apart_kj_mol * carbon_kg / atomic_weight("C") / mj_per_c


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
    return dict(zip(names, _effects(**given), strict=True)) | {"line": int(_which(**given))}


SOLUTIONS = {
    "sensitivity": Solution(
        lambda effect_c, spread_pct: effect_c / 0.10 * spread_pct,
        {
            "per_one_percent": lambda effect_c, spread_pct: effect_c * spread_pct,
            "divided": lambda effect_c, spread_pct: effect_c * 0.01 / spread_pct / 0.10,
            "squared": made_into(lambda answer: answer**2),
        },
        plausible=lambda answer, effect_c, spread_pct: np.abs(answer - 1.0) > 0.1,
    ),
    "sum_of_squares": Solution(
        lambda **given: quadrature(given),
        {
            "added": lambda **given: sum(given.values()),
            "no_root": lambda **given: quadrature(given) ** 2,
            "mean": lambda **given: sum(given.values()) / 3.0,
            "root_of_sum": lambda **given: np.sqrt(sum(given.values())),
        },
    ),
    "share_of_variance": Solution(
        lambda oxygen_c, loss_c, rest_c: _share(oxygen_c, loss_c=loss_c, rest_c=rest_c),
        {
            "share_of_sum": lambda oxygen_c, loss_c, rest_c: (
                100.0 * oxygen_c / (oxygen_c + loss_c + rest_c)
            ),
            "share_of_spread": lambda oxygen_c, loss_c, rest_c: (
                10.0 * np.sqrt(_share(oxygen_c, loss_c=loss_c, rest_c=rest_c))
            ),
            "against_the_others": lambda oxygen_c, loss_c, rest_c: (
                100.0 * oxygen_c**2 / (loss_c**2 + rest_c**2)
            ),
        },
    ),
    "within_window": Solution(
        lambda spread_c, window_c: within_pct(window_c, spread_c),
        {
            "one_side": times(0.5),
            "outside": made_into(lambda answer: 100.0 - answer),
            "upside_down": lambda spread_c, window_c: within_pct(spread_c, window_c),
            "whole_window": lambda spread_c, window_c: within_pct(2.0 * window_c, spread_c),
        },
        plausible=lambda answer, spread_c, window_c: (
            (window_c / spread_c >= 0.4)
            & (window_c / spread_c <= 1.2)
            & (np.abs(answer - 50.0) > 1.5)
        ),
    ),
    "second_reading": Solution(
        lambda reading_c, rest_c: quadrature([reading_c / np.sqrt(2.0), rest_c]),
        {
            "halved": lambda reading_c, rest_c: quadrature([reading_c / 2.0, rest_c]),
            "all_divided": lambda reading_c, rest_c: quadrature([reading_c, rest_c]) / np.sqrt(2.0),
            "before": lambda reading_c, rest_c: quadrature([reading_c, rest_c]),
            "rest_forgotten": lambda reading_c, rest_c: reading_c / np.sqrt(2.0),
        },
        plausible=lambda answer, reading_c, rest_c: (
            (quadrature([reading_c, rest_c]) > 1.03 * answer)
            & (quadrature([reading_c / 2.0, rest_c]) < 0.97 * answer)
            & (np.abs(quadrature([reading_c, rest_c]) / np.sqrt(2.0) / answer - 1.0) > 0.025)
        ),
    ),
    "better_meter": Solution(
        _allowed,
        {
            "plain_difference": lambda total_c, meter_c, aim_c: meter_c - (total_c - aim_c),
            "in_proportion": lambda total_c, meter_c, aim_c: meter_c * aim_c / total_c,
            "others": lambda total_c, meter_c, aim_c: np.sqrt(total_c**2 - meter_c**2),
        },
        plausible=lambda answer, total_c, meter_c, aim_c: (
            (answer > 2.5)
            & (answer < 0.93 * meter_c)
            & (aim_c < total_c)
            & (np.abs(meter_c - total_c + aim_c - answer) > 0.07 * answer)
            & (np.abs(meter_c * aim_c / total_c - answer) > 0.07 * answer)
            & (np.abs(np.sqrt(total_c**2 - meter_c**2) - answer) > 0.07 * answer)
        ),
    ),
    "two_sources": Solution(
        _shift,
        {
            "kg_for_kmol": lambda apart_kj_mol, carbon_kg, mj_per_c: (
                apart_kj_mol * carbon_kg / mj_per_c
            ),
            "no_capacity": lambda apart_kj_mol, carbon_kg, **_: (
                apart_kj_mol * carbon_kg / atomic_weight("C")
            ),
            "as_co": lambda apart_kj_mol, carbon_kg, mj_per_c: (
                apart_kj_mol * carbon_kg / molar_mass("CO") / mj_per_c
            ),
        },
        plausible=lambda answer, apart_kj_mol, carbon_kg, mj_per_c: np.abs(mj_per_c - 1.0) > 0.05,
    ),
    "which_counts": Solution(_which, plausible=_clear, figures=_which_figures),
    "data_or_heats": Solution(lambda **_: 3),
    "heats_needed": Solution(
        lambda spread_c, mean_c: (spread_c / mean_c) ** 2,
        {
            "no_square": lambda spread_c, mean_c: spread_c / mean_c,
            "factor_two": times(4.0),
            "root": lambda spread_c, mean_c: np.sqrt(spread_c / mean_c),
        },
    ),
}

PROBLEMS = read_problems("how_sure_are_we", __file__, SOLUTIONS)
