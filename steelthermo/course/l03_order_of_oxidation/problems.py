"""Calculations of the problems of lesson 03; their words stand in problems.toml.

Coefficient set jsps throughout. The straight lines printed in the texts follow the computed
constants within 0.004 of their logarithm; the keys come from these lines.
"""

from functools import partial

import numpy as np

from ...base import kelvin
from ...coursekit.problems import Solution, read_problems, times, upside_down
from ...thermo import activities, crossing, interaction, oxygen_with_carbon

SET = "jsps"
# log K = a/T + b of the constants by this set, as printed in the texts: [C] + [O] = CO, [Si] + 2
# [O] = SiO2, [Mn] + [O] = MnO, 2 [Cr] + 3 [O] = Cr2O3
LINES = {
    "C-O": (906.0, 2.149),
    "Si-O": (30373.0, -11.606),
    "Mn-O": (15321.0, -6.718),
    "Cr-O": (42963.0, -18.947),
}


def _log_k(key, T):
    a, b = LINES[key]
    return a / T + b


def _by_line(key, n, log_products):
    """Temperature, degC, at which n times log K of carbon less log K of the other equals a sum of
    logarithms, by the printed lines; for slips.
    """
    (a_c, b_c), (a, b) = LINES["C-O"], LINES[key]
    return (n * a_c - a) / (log_products - n * b_c + b) - 273.15


def _log_f_si(c_pct, si_pct, T):
    return interaction("Si", "C", T, SET) * c_pct + interaction("Si", "Si", T, SET) * si_pct


def _silica_line(c_pct, si_pct, a_sio2, f_c=1.0, f_si=1.0, power=2.0, log=np.log10):
    """Crossing of carbon and silicon by the printed lines."""
    return _by_line("Si-O", 2, log(si_pct * f_si / (a_sio2 * (c_pct * f_c) ** power)))


def _manganese_line(c_pct, mn_pct, a_mno, times=1.0):
    """Crossing of carbon and manganese by the printed lines, from log h_Mn/(a_MnO h_C) with the two
    coefficients that the text gives.
    """
    quotient = np.log10(mn_pct / (a_mno * c_pct)) - (0.041 + 0.243) * c_pct
    return _by_line("Mn-O", 1, times * quotient)


def _cross(element, h_c, h, a_oxide, p_co=1.0):
    return crossing(element, h_c, h, a_oxide, p_co, SET)


def _manganese(c_pct, mn_pct, a_mno):
    h = activities({"C": c_pct, "Mn": mn_pct}, 1873.15, SET).h
    return _cross("Mn", h["C"], h["Mn"], a_mno)


def _h_chromium(cr_pct, c_pct, temp_c):
    return activities({"Cr": cr_pct, "C": c_pct}, kelvin(temp_c), SET).h


def _hand_chromium(h, T, root=3.0):
    log = _log_k("C-O", T) - (_log_k("Cr-O", T) + 2.0 * np.log10(h["Cr"])) / root
    return h["C"] * 10.0**log


# of carbon, silicon and manganese: the constant, oxygens, effect of carbon and silicon on log f
_AS_PRINTED = (429.0, 1, 0.243, 0.08), (40600.0, 2, 0.18, 0.103), (28.9, 1, -0.041, 0.0)


def _allowed_ppm(c_pct, si_pct, mn_pct):
    """Activity of oxygen, ppm, that carbon, silicon and manganese allow at 1600 degC, by the
    figures in the text.
    """
    return tuple(
        1e4 * (k * pct * 10.0 ** (e_c * c_pct + e_si * si_pct)) ** (-1.0 / n)
        for pct, (k, n, e_c, e_si) in zip((c_pct, si_pct, mn_pct), _AS_PRINTED, strict=True)
    )


def _highest(**given):
    by_carbon, by_silicon, _ = _allowed_ppm(**given)
    return (2, by_silicon) if by_carbon < by_silicon else (1, by_carbon)


def _ruling(**given):
    """The line of the element that allows least oxygen, and how much."""
    allowed = _allowed_ppm(**given)
    return 1 + int(np.argmin(allowed)), min(allowed)


def _of_ruling(**given):
    """The figures of that element."""
    at = _ruling(**given)[0] - 1
    pct = tuple(given.values())[at]
    return dict(zip(("k", "n", "e_c", "e_si", "pct"), (*_AS_PRINTED[at], pct), strict=True))


_SHEET = {"C": 4.0, "Si": 1.5, "Mn": 1.0}


def _sulphur(s_pct):
    # quiet: the only remark is on manganese, which is not asked for
    return activities({**_SHEET, "S": s_pct}, 1873.15, SET, quiet=True).h["S"]


def _hand_oxygen(si_pct, T, root=2.0):
    h_o = 10.0 ** (-(_log_k("Si-O", T) + np.log10(si_pct) + 0.103 * si_pct) / root)
    return 1e4 * h_o / 10.0 ** (-0.066 * si_pct)


def _high_carbon(c_pct):
    """p/(%C %O) at 1500 degC with e_O^C = +0.10."""
    return 1.0 / (
        c_pct * oxygen_with_carbon(c_pct, kelvin(1500.0), 1.0, None, SET, high_carbon=True)
    )


SOLUTIONS = {
    "h_si": Solution(
        lambda temp_c, c_pct, si_pct: activities({"C": c_pct, "Si": si_pct}, kelvin(temp_c), SET).h[
            "Si"
        ],
        {
            "natural_for_common_log": lambda temp_c, c_pct, si_pct: (
                si_pct * np.exp(_log_f_si(c_pct, si_pct, kelvin(temp_c)))
            ),
            "celsius_for_kelvin": lambda temp_c, c_pct, si_pct: (
                si_pct * 10.0 ** ((380.0 / temp_c - 0.023) * c_pct + 0.103 * si_pct)
            ),
        },
        # else the exponent may be forgotten: ten to it is ten
        plausible=lambda answer, si_pct, **_: np.abs(answer / si_pct - 10.0) > 0.3,
    ),
    "two_lines": Solution(
        slips={
            "one_carbon": lambda p_co: _by_line("Si-O", 1, np.log10(p_co)),
            "common_for_natural_log": lambda p_co: _by_line(
                "Si-O", 2, 2.0 * np.log10(p_co) / np.log(10.0)
            ),
        },
        library=lambda p_co: _cross("Si", 1.0, 1.0, 1.0, p_co),
        # else the logarithm may be forgotten: it is one
        plausible=lambda answer, p_co: abs(np.log(p_co) - 1.0) > 0.05,
        vector=False,
    ),
    "silica_in_slag": Solution(
        slips={
            "content_for_activity": lambda f_c, f_si, **given: _silica_line(**given),
            "carbon_once": partial(_silica_line, power=1.0),
            "natural_for_common_log": partial(_silica_line, log=np.log),
        },
        library=lambda c_pct, f_c, si_pct, f_si, a_sio2: _cross(
            "Si", c_pct * f_c, si_pct * f_si, a_sio2
        ),
        vector=False,
    ),
    "manganese": Solution(
        slips={
            "content_for_activity": lambda c_pct, mn_pct, a_mno: _by_line(
                "Mn-O", 1, np.log10(mn_pct / (a_mno * c_pct))
            ),
            "natural_for_common_log": partial(_manganese_line, times=np.log(10.0)),
            "quotient_turned": partial(_manganese_line, times=-1.0),
        },
        library=_manganese,
        # else %C may be forgotten in the coefficients: it is one, nearly
        plausible=lambda answer, c_pct, **_: c_pct < 0.75,
        vector=False,
    ),
    "chromium": Solution(
        slips={
            "cube_root_forgotten": lambda temp_c, **given: _hand_chromium(
                _h_chromium(temp_c=temp_c, **given), kelvin(temp_c), 2.0
            ),
            "content_for_activity": lambda cr_pct, c_pct, temp_c: _hand_chromium(
                {"Cr": cr_pct, "C": c_pct}, kelvin(temp_c)
            ),
            "celsius_for_kelvin": lambda temp_c, **given: _hand_chromium(
                _h_chromium(temp_c=temp_c, **given), temp_c
            ),
            "upside_down": upside_down(),
        },
        plausible=lambda answer, **given: answer < 0.7,
    ),
    "who_sets_oxygen": Solution(
        _ruling,
        {
            "exponent_forgotten": lambda **given: (2, _allowed_ppm(**given)[1] ** 2 / 1e4),
            "highest_taken": _highest,
            "percent_for_ppm": times(1e-4),
        },
        figures=_of_ruling,
        plausible=lambda answer, **given: (
            abs(np.log(_allowed_ppm(**given)[0] / _allowed_ppm(**given)[1])) > 0.15
        ),
        vector=False,
    ),
    "old_coefficient": Solution(
        line=2,
        slips={
            "natural_for_common_log": lambda s_pct: (
                2,
                s_pct * np.exp(np.log10(_sulphur(s_pct) / s_pct)),
            ),
            "no_carbon": lambda s_pct: (2, _sulphur(s_pct) / 10.0 ** (0.111 * _SHEET["C"])),
            "old_table": lambda s_pct: (
                2,
                _sulphur(s_pct) * 10.0 ** ((0.24 - 0.111) * _SHEET["C"]),
            ),
        },
    ),
    "silicon_oxygen": Solution(
        slips={
            "exponent_forgotten": lambda si_pct, temp_c: _hand_oxygen(si_pct, kelvin(temp_c), 1.0),
            "celsius_for_kelvin": lambda si_pct, temp_c: _hand_oxygen(si_pct, temp_c),
            "percent_for_ppm": times(1e-4),
            "natural_for_common_log": lambda si_pct, temp_c: (
                1e4 * np.exp(-0.5 * _log_k("Si-O", kelvin(temp_c))) / np.sqrt(si_pct)
            ),
        },
    ),
    "limit_of_data": Solution(
        line=2,
        slips={
            "table_stretched": lambda c_pct: (
                2,
                _high_carbon(c_pct) * 10.0 ** ((-0.42 - 0.10) * c_pct),
            ),
            "no_second_order": lambda c_pct: (2, _high_carbon(c_pct) * 10.0 ** (0.0147 * c_pct**2)),
            "natural_for_common_log": lambda c_pct: (
                2,
                457.0 * np.exp(np.log10(_high_carbon(c_pct) / 457.0)),
            ),
        },
    ),
}

PROBLEMS = read_problems("order_of_oxidation", __file__, SOLUTIONS)
