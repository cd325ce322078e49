"""Calculations of the problems of lesson 09; their words stand in problems.toml."""

import numpy as np

from ...base import kelvin, molar_mass
from ...charge import oxygen_in_oxide_nm3_kg
from ...coursekit.problems import (
    Solution,
    divided,
    made_into,
    multiplied,
    read_problems,
    rest,
    taken,
    times,
)
from ...hot_metal import (
    oxygen_equivalent_nm3_t,
    steel_sulphur_pct,
)
from ...trust import acetylene_nm3

_MG, _CARBIDE = 24.31 / 32.06, 64.10 / 32.06  # kg per kg of sulphur, as in the texts


def _magnesium(s_pct, aim_pct, efficiency_pct):
    return 10.0 * _MG * (s_pct - aim_pct) / (efficiency_pct / 100.0)


def _carbide(ladle_t, s_pct, aim_pct, grade_pct, efficiency_pct):
    sulphur_kg = ladle_t * 10.0 * (s_pct - aim_pct)
    return sulphur_kg * _CARBIDE / (grade_pct / 100.0) / (efficiency_pct / 100.0)


def _steel_s(hot_s_pct, left_kg, left_s_pct, scrap_s_pct, slag_kg, partition):
    brought = 900.0 * hot_s_pct + left_kg * left_s_pct + 200.0 * scrap_s_pct + 45.0 * 0.03
    return steel_sulphur_pct(brought / 100.0, 1000.0, slag_kg, partition)


def _oxygen(si_pct, p_pct, c_pct):
    return sum(oxygen_equivalent_nm3_t({"Si": si_pct, "P": p_pct, "C": c_pct}).values())


def _ore(si_pct, p_pct, c_pct, ore_pct):
    return _oxygen(si_pct, p_pct, c_pct) * ore_pct / 100.0 / oxygen_in_oxide_nm3_kg("Fe2O3")


_SI_C, _C_C = 311.0, 110.0  # degC per % burnt with gas, as printed: 31.1 and 11.0 per 0.1 %
_SOLID_C, _LIME_C = 32.3, -1.42  # degC per Nm3/t brought as Fe2O3, per kg/t of lime


def _gas_nm3_t(si_pct, c_pct=0.0):
    return 7.98 * si_pct + 9.33 * c_pct


def _rise(si_pct, ore_pct):
    return si_pct * _SI_C - _gas_nm3_t(si_pct) * ore_pct / 100.0 * _SOLID_C


def _neutral(si_pct, c_pct, lime_kg_t, loss_c):
    warms = si_pct * _SI_C + c_pct * _C_C + lime_kg_t * _LIME_C - loss_c
    return 100.0 * warms / (_SOLID_C * _gas_nm3_t(si_pct, c_pct))


def _which(s_pct, si_pct, p_pct, aim_s_pct):
    sulphur = (s_pct > 0.0301) | (aim_s_pct < 0.0119)
    silicon, phosphorus = si_pct > 0.701, p_pct > 0.1301
    return np.select([phosphorus, silicon & sulphur, silicon, sulphur], [5, 4, 3, 2], 1)


SOLUTIONS = {
    "magnesium": Solution(
        _magnesium,
        {
            "kg_sulphur": times(1.0 / _MG**2),
            "efficiency_multiplied": multiplied("efficiency_pct"),
            "forgot_efficiency_pct": taken(efficiency_pct=100.0),
            "percent_as_kg": times(0.1),
            "forgot_aim_pct": taken(aim_pct=0.0),
        },
    ),
    "carbide": Solution(
        _carbide,
        {
            "forgot_grade_pct": taken(grade_pct=100.0),
            "forgot_efficiency_pct": taken(efficiency_pct=100.0),
            "efficiency_multiplied": multiplied("efficiency_pct"),
            "one_tonne": divided("ladle_t"),
            "ratio_upside_down": times(1.0 / _CARBIDE**2),
        },
    ),
    "dissolved_magnesium": Solution(
        slips={
            "celsius": lambda aim_pct, temp_c: 10.0 * 10.0 ** (-17040.0 / temp_c + 5.120) / aim_pct,
            "natural_log": lambda aim_pct, temp_c: (
                10.0 * np.exp(-17040.0 / kelvin(temp_c) + 5.120) / aim_pct
            ),
            "percent": times(0.1),
            "not_divided": times("aim_pct"),
        },
    ),
    "unused_carbide": Solution(
        lambda carbide_kg, grade_pct, efficiency_pct: (
            acetylene_nm3(carbide_kg, grade_pct) * (1.0 - efficiency_pct / 100.0)
        ),
        {
            "forgot_grade_pct": taken(grade_pct=100.0),
            "what_reacted": rest("efficiency_pct"),
            "forgot_efficiency_pct": taken(efficiency_pct=0.0),
            "mass": times(molar_mass("C2H2") / 22.414),
            "two_moles": times(2.0),
        },
    ),
    "four_sources": Solution(
        _steel_s,
        {
            "forgot_left_kg": taken(left_kg=0.0),
            "all_in_steel": taken(slag_kg=0.0),
            "same_content": taken(partition=1.0),
            "kg": times(10.0),
            "all_to_slag": lambda partition, slag_kg, **given: (
                _steel_s(**given, partition=1.0, slag_kg=0.0 * slag_kg) / (1.0 + partition)
            ),
        },
    ),
    "ore": Solution(
        slips={
            "co2": taken(c_pct=lambda given: 2.0 * given["c_pct"]),
            "feo": times(oxygen_in_oxide_nm3_kg("Fe2O3") / oxygen_in_oxide_nm3_kg("FeO")),
            "forgot_ore_pct": taken(ore_pct=100.0),
            "forgot_p_pct": taken(p_pct=0.0),
            "oxygen_itself": times(3.0 * molar_mass("O") / molar_mass("Fe2O3")),
        },
        plausible=lambda answer, ore_pct, **_: (
            np.abs(answer * 480.0 / 159.7 / ore_pct - 1.0) > 0.03
        ),
    ),
    "silicon_temperature": Solution(
        _rise,
        {
            "gas_only": taken(ore_pct=0.0),
            "ore_only": taken(ore_pct=100.0),
            "exchanged": rest("ore_pct"),
            "per_nm3": lambda si_pct, ore_pct: (
                10.0 * si_pct * (0.1 * _SI_C - ore_pct / 100.0 * _SOLID_C)
            ),
            "added": lambda si_pct, ore_pct: 2.0 * _rise(si_pct, 0.0) - _rise(si_pct, ore_pct),
        },
    ),
    "neutral_share": Solution(
        _neutral,
        {
            "forgot_lime_kg_t": taken(lime_kg_t=0.0),
            "no_loss": taken(loss_c=0.0),
            "carbon_oxygen": lambda si_pct, c_pct, lime_kg_t, loss_c: (
                _neutral(si_pct, c_pct, lime_kg_t, loss_c)
                * _gas_nm3_t(si_pct, c_pct)
                / _gas_nm3_t(si_pct)
            ),
            "fraction": times(0.01),
            "gas_share": made_into(lambda answer: 100.0 - answer),
        },
        plausible=lambda answer, **given: (answer > 10.0) & (answer < 95.0),
    ),
    "which": Solution(_which, figures=lambda **given: {"line": int(_which(**given))}),
}

PROBLEMS = read_problems("pretreatment", __file__, SOLUTIONS)
