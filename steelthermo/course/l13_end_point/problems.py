"""Calculations of the problems of lesson 13; their words stand in problems.toml."""

from functools import partial
from math import erf, sqrt

import numpy as np

from ...base import kelvin, molar_mass, value
from ...charge import coolant_effect, nm3_per_kg
from ...coursekit.problems import (
    Solution,
    divided,
    multiplied,
    read_problems,
    taken,
    times,
    upside_down,
)
from ...end_point import chance_pct, oxygen_activity
from ...thermo import carbon_at_liquidus, carbon_with_oxygen

SET = "jsps"
PPM = 1e4  # in one mass %


def _ideal(emf_mv, temp_c):
    return PPM * oxygen_activity(emf_mv, kelvin(temp_c), electrolyte="ideal", coefficients=SET)


def _by_line(e_v, T):
    return 10.0 ** (8.614 - (13498.0 - 10080.0 * e_v) / T)


def _real(emf_mv, temp_c):
    return PPM * oxygen_activity(emf_mv, kelvin(temp_c), coefficients=SET)


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


def _carbon(oxygen_ppm, temp_c, p_co_atm):
    return carbon_with_oxygen(oxygen_ppm / PPM, kelvin(temp_c), p_co_atm, coefficients=SET)


def _h_carbon(oxygen_ppm, T, p_co_atm):
    return p_co_atm * PPM / oxygen_ppm / 10.0 ** (906.0 / T + 2.149)


def _arrest(arrest_c, mn_pct, p_pct, s_pct):
    return carbon_at_liquidus(arrest_c, {"Mn": mn_pct, "P": p_pct, "S": s_pct})


def _minutes(steel_t, from_pct, to_pct, share_pct, flow_nm3_min):
    oxygen_nm3_t = 10.0 * (from_pct - to_pct) * 0.933 / (share_pct / 100.0)
    return steel_t * oxygen_nm3_t / flow_nm3_min


def _rise_by_hand(from_pct, to_pct, share_pct, by_carbon=12.2, by_iron=24.7):
    for_carbon = 9.33 * (from_pct - to_pct)
    return for_carbon * by_carbon + for_carbon * (100.0 / share_pct - 1.0) * by_iron


def _rise_figures(from_pct, to_pct, share_pct):
    carbon = 9.33 * (from_pct - to_pct)
    iron = carbon * (100.0 / share_pct - 1.0)
    return {
        "share_pct": share_pct,
        "burnt_pct": from_pct - to_pct,
        "carbon": carbon,
        "iron": iron,
        "blown": carbon + iron,
        "rise_c": _rise_by_hand(from_pct, to_pct, share_pct),
        "iron_kg": iron / nm3_per_kg("Fe"),
    }


_FALLS = {
    "scrap": 1.69,
    "limestone": 4.27,
    "burnt lime": 1.88,
}  # degC per kg/t at 1650 degC, as printed in the text
_KEYS = {"scrap": "scrap", "limestone": "limestone", "burnt lime": "lime"}


def _cooling(steel_t, too_hot_c, coolant):
    return steel_t * too_hot_c / -coolant_effect(_KEYS[coolant], 1650.0)[0]


def _ore(steel_t, from_pct, to_pct, fe2o3_pct):
    return (
        steel_t
        * (from_pct - to_pct)
        / -coolant_effect("ore on carbon", 1650.0)[1]
        / (fe2o3_pct / 100.0)
    )


_U_TEMP, _U_CARBON, _AIM, _BAND, _MOST = 5.0, 0.004, 1660.0, 10.0, 0.040


def _phi(z):
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))


def _below(edge_c, temp_c):
    return _phi((edge_c - temp_c) / _U_TEMP)


def _carbon_met(carbon_pct):
    return _phi((_MOST - carbon_pct) / _U_CARBON)


def _chance(temp_c, carbon_pct):
    plan = {
        "aim_temp_c": _AIM,
        "aim_carbon_pct": _MOST,
        "steel_t": 180.0,
        "flow_nm3_min": 460.0,
        "band_c": _BAND,
    }
    return chance_pct(temp_c, carbon_pct, u_temp_c=_U_TEMP, u_carbon_pct=_U_CARBON, **plan)


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
            "ions_only": partial(_by_hand, pe=0.0),
            "pe_not_taken_off": _not_taken_off,
            "square_roots": partial(_by_hand, power=0.5),
            "in_percent": times(1.0 / PPM),
        },
    ),
    "carbon": Solution(
        _carbon,
        {
            "ppm_for_percent": lambda temp_c, **given: _h_carbon(**given, T=kelvin(temp_c)) / PPM,
            "forgot_p_co_atm": taken(p_co_atm=1.0),
            "pressure_turned": taken(p_co_atm=lambda given: 1.0 / given["p_co_atm"]),
            "celsius_for_kelvin": lambda temp_c, **given: _h_carbon(**given, T=temp_c),
        },
    ),
    "product": Solution(
        lambda oxygen_ppm: (2, value("co_product_maker") / (oxygen_ppm / PPM)),
        {
            "in_proportion": lambda oxygen_ppm: (2, 0.073 * oxygen_ppm / 300.0),
            "ppm_for_percent": times(1.0 / PPM),
            "largest_product": lambda oxygen_ppm: (2, 0.0025 / (oxygen_ppm / PPM)),
        },
    ),
    "arrest": Solution(
        _arrest,
        {
            "others_left_out": taken(mn_pct=0.0, p_pct=0.0, s_pct=0.0),
            "added": lambda arrest_c, mn_pct, p_pct, s_pct: (
                (1536.0 - arrest_c + 4.9 * mn_pct + 34.4 * p_pct + 38.0 * s_pct) / 78.0
            ),
            "upside_down": upside_down(),
        },
        plausible=lambda answer, **given: answer > 0.04,
    ),
    "minutes": Solution(
        _minutes,
        {
            "forgot_share_pct": taken(share_pct=100.0),
            "share_multiplied": multiplied("share_pct"),
            "forgot_to_pct": taken(to_pct=0.0),
            "one_tonne": divided("steel_t"),
        },
    ),
    "rise": Solution(
        _rise_by_hand,
        {
            "carbon_only": partial(_rise_by_hand, by_iron=0.0),
            "all_as_carbon": partial(_rise_by_hand, by_iron=12.2),
            "share_of_carbon_oxygen": lambda from_pct, to_pct, share_pct: (
                9.33 * (from_pct - to_pct) * (12.2 + (100.0 - share_pct) / 100.0 * 24.7)
            ),
            "tenfold": times(10.0),
        },
        figures=_rise_figures,
    ),
    "coolant": Solution(
        slips={
            "one_tonne": divided("steel_t"),
            "other_coolant": lambda steel_t, too_hot_c, coolant: (
                steel_t * too_hot_c / _FALLS["scrap" if coolant != "scrap" else "limestone"]
            ),
            "multiplied": lambda steel_t, too_hot_c, coolant: steel_t * too_hot_c * _FALLS[coolant],
        },
        vector=False,
        figures=lambda coolant, **_: {"falls": _FALLS[coolant]},
    ),
    "ore": Solution(
        _ore,
        {
            "one_carbon": times(3.0),
            "forgot_fe2o3_pct": taken(fe2o3_pct=100.0),
            "forgot_to_pct": taken(to_pct=0.0),
            "moles_for_mass": times(molar_mass("C") / molar_mass("Fe2O3")),
        },
    ),
    "chance": Solution(
        _chance,
        {
            "temperature_only": lambda temp_c, **_: (
                100.0 * (_below(_AIM + _BAND, temp_c) - _below(_AIM - _BAND, temp_c))
            ),
            "carbon_only": lambda carbon_pct, **_: 100.0 * _carbon_met(carbon_pct),
            "one_edge": lambda temp_c, carbon_pct: (
                100.0 * _carbon_met(carbon_pct) * _below(_AIM + _BAND, temp_c)
            ),
            "as_fraction": times(0.01),
        },
        vector=False,
    ),
}

PROBLEMS = read_problems("end_point", __file__, SOLUTIONS)
