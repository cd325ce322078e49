"""Calculations of the problems of lesson 05; their words stand in problems.toml.
Steel counts as pure iron for nitrogen.
"""

from functools import partial

import numpy as np

from ...base import kelvin
from ...coursekit.problems import Solution, after, made_into, read_problems, rest, taken, times
from ..common import far_from_listed, neighbours

PPM = 1e4  # in one mass %


def _scrap_mj_t(given):
    """Heat that scrap takes up to the end temperature, MJ/t, as printed in the text."""
    return 1354.0 + 0.824 * (given["temp_c"] - 1600.0)


def _ppm(p_atm, temp_c):
    """By the line of the text."""
    return PPM * 10.0 ** (-518.0 / kelvin(temp_c) - 1.054) * np.sqrt(p_atm)


def _rest_by_hand(nitrogen_ppm, temp_c, carbon_share_pct, power=2.0):
    p = (nitrogen_ppm / _ppm(1.0, temp_c)) ** power
    n2_per_o2 = p / (1.0 - p) * carbon_share_pct / 100.0 * 2.0
    return 100.0 * n2_per_o2 / (1.0 + n2_per_o2)


def _by_hand(purity_pct, argon_pct, temp_c, gas_per_o2=2.0):
    """Ceiling by the sum of the text; for slips."""
    ballast = 100.0 - purity_pct
    return _ppm((ballast - argon_pct) / (ballast + gas_per_o2 * purity_pct), temp_c)


def _needed_atm(found_ppm, temp_c):
    return (found_ppm / _ppm(1.0, temp_c)) ** 2


# as the text lists it, °C and kJ/Nm3
_NITROGEN = ((300, 361), (500, 634), (700, 919), (900, 1213), (1100, 1516))


def _neighbours(back_pct, gas_temp_c):
    return neighbours(back_pct / 100.0 * 1.46 * (gas_temp_c - 25.0), _NITROGEN)


SOLUTIONS = {
    "ballast": Solution(
        slips={
            "of_the_oxygen": times(lambda given: given["purity_pct"] / 100.0),
            "mass_for_volume": times(28.013 / 31.998),
            "upside_down": lambda oxygen_nm3_t, purity_pct: (
                oxygen_nm3_t * purity_pct / (100.0 - purity_pct)
            ),
        },
    ),
    "heat_out": Solution(
        slips={
            "kelvin_level": after(
                lambda answer, given: (
                    answer * kelvin(given["gas_temp_c"]) / (given["gas_temp_c"] - 25.0)
                )
            ),
            "actual_volume": times(lambda given: kelvin(given["gas_temp_c"]) / 273.15),
            "in_kj": times(1000.0),
        },
    ),
    "scrap_lost": Solution(
        slips={
            "no_fusion": times(lambda given: _scrap_mj_t(given) / (_scrap_mj_t(given) - 247.0)),
            "fusion_only": times(lambda given: _scrap_mj_t(given) / 247.0),
            "tonnes": times(0.001),
        },
    ),
    "nitrogen_pressure": Solution(
        slips={
            "not_diluted": lambda purity_pct, **_: (100.0 - purity_pct) / 100.0,
            "all_oxygen_on_carbon": taken(carbon_share_pct=100.0),
            "percent_left": times(100.0),
        },
    ),
    "sieverts": Solution(
        slips={
            "root_forgotten": times(lambda given: np.sqrt(given["p_atm"])),
            "celsius_for_kelvin": lambda p_atm, temp_c: (
                PPM * 10.0 ** (-518.0 / temp_c - 1.054) * np.sqrt(p_atm)
            ),
            "natural_for_common_log": lambda p_atm, temp_c: (
                PPM * np.exp(-518.0 / kelvin(temp_c) - 1.054 + 0.5 * np.log10(p_atm))
            ),
        },
    ),
    "purity": Solution(
        slips={
            "root_forgotten": partial(_rest_by_hand, power=1.0),
            "not_diluted": lambda nitrogen_ppm, temp_c, **_: (
                100.0 * _needed_atm(nitrogen_ppm, temp_c)
            ),
            "purity_given": made_into(lambda answer: 100.0 - answer),
        },
        plausible=lambda answer, nitrogen_ppm, temp_c, **_: (
            _needed_atm(nitrogen_ppm, temp_c) > 0.005
        ),
    ),
    "hot_blast": Solution(
        slips={
            "straight_share": lambda back_pct, gas_temp_c: (
                25.0 + back_pct / 100.0 * (gas_temp_c - 25.0)
            ),
            "other_share": rest("back_pct"),
            "kelvin_for_celsius_gas_temp_c": taken(
                gas_temp_c=lambda given: kelvin(given["gas_temp_c"])
            ),
        },
        figures=_neighbours,
        plausible=lambda answer, **given: far_from_listed(_neighbours(**given), answer),
    ),
    "argon": Solution(
        slips={
            "argon_alone": lambda purity_pct, argon_pct, temp_c: _by_hand(
                purity_pct, 100.0 - purity_pct - argon_pct, temp_c
            ),
            "one_co_per_o2": partial(_by_hand, gas_per_o2=1.0),
            "root_forgotten": lambda **given: _by_hand(**given) ** 2 / _ppm(1.0, given["temp_c"]),
        },
    ),
    "above_the_ceiling": Solution(
        lambda found_ppm, temp_c: (3, _needed_atm(found_ppm, temp_c)),
        {
            "root_forgotten": lambda found_ppm, temp_c: (
                3,
                np.sqrt(_needed_atm(found_ppm, temp_c)),
            ),
            "ppm_for_percent": times(PPM**2),
        },
    ),
}

PROBLEMS = read_problems("oxygen_or_air", __file__, SOLUTIONS)
