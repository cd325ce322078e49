"""Calculations of the problems of lesson 13; their words stand in problems.toml."""

from functools import partial

import numpy as np

from ...base import kelvin, molar_mass
from ...charge import nm3_per_kg
from ...coursekit.problems import (
    Solution,
    multiplied,
    read_problems,
    taken,
    times,
    upside_down,
)

PPM = 1e4  # in one mass %


def _by_line(e_v, T):
    return 10.0 ** (8.614 - (13498.0 - 10080.0 * e_v) / T)


def _roots(T, power=0.25):
    """Powers of the oxygen pressures of the reference and of the electrons."""
    return 10.0 ** (power * (8.873 - 39229.0 / T)), 10.0 ** (power * (24.42 - 74370.0 / T))


def _dissolved(root, T):
    return PPM * root * 10.0 ** (6117.0 / T + 0.177)


def _by_hand(emf_mv, temp_c, pe=1.0, power=0.25):
    T = kelvin(temp_c)
    reference, electrons = _roots(T, power)
    electrons = pe * electrons
    e_over_rt = emf_mv / 1000.0 * 96485.0 / (8.3145 * T)
    fourth = (reference + electrons) * np.exp(e_over_rt) - electrons
    return _dissolved(fourth ** (0.5 / power), T)


def _not_taken_off(emf_mv, temp_c):
    T = kelvin(temp_c)
    return _dissolved((sum(_roots(T)) * np.exp(emf_mv / 1000.0 * 11604.0 / T)) ** 2, T)


def _rise_by_hand(from_pct, to_pct, share_pct, by_iron=23.1):
    for_carbon = 9.33 * (from_pct - to_pct)
    return for_carbon * 12.2 + for_carbon * (100.0 / share_pct - 1.0) * by_iron


def _rise_figures(from_pct, to_pct, share_pct):
    iron = 9.33 * (from_pct - to_pct) * (100.0 / share_pct - 1.0)
    return {"iron_kg": iron / nm3_per_kg("Fe")}


_FALLS = {
    "scrap": 1.69,
    "limestone": 4.27,
    "burnt lime": 1.88,
}  # degC per kg/t at 1650 degC, as printed in the text


# share below so many spreads, as the text lists it
_BELOW = {0.0: 0.5, 0.5: 0.691, 1.0: 0.841, 1.5: 0.933, 2.0: 0.977, 2.5: 0.994, 3.0: 0.999}


def _below(edge, found, spread):
    z = round((edge - found) / spread, 1)
    below = _BELOW.get(abs(z), 1.0)
    return below if z >= 0.0 else round(1.0 - below, 3)


def _shares(temp_c, carbon_pct):
    return {
        "p_upper": _below(1670.0, temp_c, 5.0),
        "p_lower": _below(1650.0, temp_c, 5.0),
        "p_carbon": _below(0.040, carbon_pct, 0.004),
    }


SOLUTIONS = {
    "emf": Solution(
        slips={
            "wrong_sign": lambda emf_mv, temp_c: _by_line(-emf_mv / 1000.0, kelvin(temp_c)),
            "celsius_for_kelvin": lambda emf_mv, temp_c: _by_line(emf_mv / 1000.0, temp_c),
            "volts": lambda emf_mv, temp_c: _by_line(emf_mv / 1e6, kelvin(temp_c)),
            "in_percent": times(1.0 / PPM),
        },
    ),
    "electrons": Solution(
        slips={
            "pe_not_taken_off": _not_taken_off,
            "square_roots": partial(_by_hand, power=0.5),
            "in_percent": times(1.0 / PPM),
        },
    ),
    "carbon": Solution(
        slips={
            "ppm_for_percent": taken(oxygen_ppm=lambda given: PPM * given["oxygen_ppm"]),
            "no_constant": taken(oxygen_ppm=lambda given: 10.0**-2.149 * given["oxygen_ppm"]),
            "pressure_turned": taken(p_co_atm=lambda given: 1.0 / given["p_co_atm"]),
            "celsius_for_kelvin": taken(temp_c=lambda given: given["temp_c"] - 273.15),
        },
        # with less the coefficient may be left out, with more it is not near enough by h_C
        plausible=lambda answer, **_: (answer > 0.05) & (answer < 0.12),
    ),
    "product": Solution(
        line=2,
        slips={
            "in_proportion": lambda oxygen_ppm: (2, 0.073 * oxygen_ppm / 300.0),
            "ppm_for_percent": times(1.0 / PPM),
            "largest_product": lambda oxygen_ppm: (2, 0.0025 / (oxygen_ppm / PPM)),
        },
    ),
    "arrest": Solution(
        slips={
            "added": taken(
                **{f"{x}_pct": lambda given, x=x: -given[f"{x}_pct"] for x in ("mn", "p", "s")}
            ),
            "upside_down": upside_down(),
        },
        plausible=lambda answer, **given: answer > 0.04,
    ),
    "minutes": Solution(
        slips={
            "share_multiplied": multiplied("share_pct"),
        },
    ),
    "rise": Solution(
        slips={
            "all_as_carbon": partial(_rise_by_hand, by_iron=12.2),
            "share_of_carbon_oxygen": lambda from_pct, to_pct, share_pct: (
                9.33 * (from_pct - to_pct) * (12.2 + (100.0 - share_pct) / 100.0 * 23.1)
            ),
            "tenfold": times(10.0),
        },
        figures=_rise_figures,
    ),
    "coolant": Solution(
        slips={
            "other_coolant": lambda steel_t, too_hot_c, coolant: (
                steel_t * too_hot_c / _FALLS["scrap" if coolant != "scrap" else "limestone"]
            ),
            "multiplied": lambda steel_t, too_hot_c, coolant: steel_t * too_hot_c * _FALLS[coolant],
        },
        vector=False,
        figures=lambda coolant, **_: {"falls": _FALLS[coolant]},
    ),
    "ore": Solution(
        slips={
            "one_carbon": times(3.0),
            "moles_for_mass": times(molar_mass("C") / molar_mass("Fe2O3")),
        },
    ),
    "chance": Solution(
        slips={
            "carbon_only": lambda **given: 100.0 * _shares(**given)["p_carbon"],
            "as_fraction": times(0.01),
        },
        figures=_shares,
        vector=False,
    ),
}

PROBLEMS = read_problems("end_point", __file__, SOLUTIONS)
