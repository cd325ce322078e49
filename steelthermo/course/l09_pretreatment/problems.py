"""Calculations of the problems of lesson 09; their words stand in problems.toml."""

import numpy as np

from ...base import kelvin, molar_mass
from ...charge import oxygen_in_oxide_nm3_kg
from ...coursekit.problems import (
    Solution,
    after,
    made_into,
    multiplied,
    read_problems,
    rest,
    taken,
    times,
)
from ...hot_metal import (
    steel_sulphur_pct,
)

_MG = 24.31 / 32.06  # kg per kg of sulphur, as in the text


def _steel_s(hot_s_pct, left_kg, left_s_pct, scrap_s_pct, slag_kg, partition):
    brought = 900.0 * hot_s_pct + left_kg * left_s_pct + 200.0 * scrap_s_pct + 45.0 * 0.03
    return steel_sulphur_pct(brought / 100.0, 1000.0, slag_kg, partition)


def _which(s_pct, si_pct, p_pct, aim_s_pct):
    sulphur = (s_pct > 0.0301) | (aim_s_pct < 0.0119)
    silicon, phosphorus = si_pct > 0.701, p_pct > 0.1301
    return np.select([phosphorus, silicon & sulphur, silicon, sulphur], [5, 4, 3, 2], 1)


SOLUTIONS = {
    "magnesium": Solution(
        slips={
            "kg_sulphur": times(1.0 / _MG**2),
            "efficiency_multiplied": multiplied("efficiency_pct"),
            "percent_as_kg": times(0.1),
        },
    ),
    "carbide": Solution(
        slips={
            "efficiency_multiplied": multiplied("efficiency_pct"),
            "ratio_upside_down": times((32.06 / 64.10) ** 2),
        },
    ),
    "dissolved_magnesium": Solution(
        slips={
            "celsius": lambda aim_pct, temp_c: 10.0 * 10.0 ** (-17040.0 / temp_c + 5.120) / aim_pct,
            "natural_log": lambda aim_pct, temp_c: (
                10.0 * np.exp(-17040.0 / kelvin(temp_c) + 5.120) / aim_pct
            ),
            "not_divided": times("aim_pct"),
        },
    ),
    "unused_carbide": Solution(
        slips={
            "what_reacted": rest("efficiency_pct"),
            "mass": times(molar_mass("C2H2") / 22.414),
        },
    ),
    "four_sources": Solution(
        slips={
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
        },
        plausible=lambda answer, ore_pct, **_: (
            np.abs(answer * 480.0 / 159.7 / ore_pct - 1.0) > 0.03
        ),
    ),
    "silicon_temperature": Solution(
        slips={
            "ore_only": taken(ore_pct=100.0),
            "exchanged": rest("ore_pct"),
            "per_nm3": lambda si_pct, ore_pct: 10.0 * si_pct * (31.1 - ore_pct / 100.0 * 32.3),
            "added": after(lambda answer, given: 622.0 * given["si_pct"] - answer),
        },
    ),
    "neutral_share": Solution(
        slips={
            "carbon_oxygen": times(
                lambda given: 1.0 + 0.933 / 0.798 * given["c_pct"] / given["si_pct"]
            ),
            "fraction": times(0.01),
            "gas_share": made_into(lambda answer: 100.0 - answer),
        },
        plausible=lambda answer, **given: (answer > 10.0) & (answer < 95.0),
    ),
    "which": Solution(_which),
}

PROBLEMS = read_problems("pretreatment", __file__, SOLUTIONS)
