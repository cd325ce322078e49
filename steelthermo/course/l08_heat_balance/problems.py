"""Calculations of the problems of lesson 08; their words stand in problems.toml."""

from functools import cache, partial

import numpy as np

from ... import charge
from ...base import kelvin, mass_fractions, molar_mass
from ...coursekit.answers import quantity_text
from ...coursekit.problems import (
    Solution,
    made_into,
    read_problems,
    rest,
    taken,
    times,
    upside_down,
)
from ...thermo import formation_enthalpy_298
from ...works import WORKS, load_profile


def _iron_mj_t(temp_c):
    """Heat content of liquid iron above 25 degC, MJ/t, by the line of the texts."""
    return 1354.0 + 0.824 * (temp_c - 1600.0)


def _fusion_mj_t():
    """Heat of melting iron, as printed in the texts."""
    return 13807.0 / molar_mass("Fe")


def _cooled_mj(steel_t, hot_c, aim_c):
    return steel_t * 0.824 * (hot_c - aim_c)


def _ore(fe2o3_pct, temp_c, breaking=1.0, iron=None):
    """Heat one kg of ore takes up when its Fe2O3 is broken up to liquid iron, counting the oxygen
    as leaving cold, over what a kg of scrap takes. breaking: times the heat of breaking it up;
    iron: kg of iron in one of Fe2O3, None for what there is.
    """
    broken = -formation_enthalpy_298("Fe2O3") / molar_mass("Fe2O3") / _iron_mj_t(temp_c)
    iron = mass_fractions("Fe2O3")["Fe"] if iron is None else iron
    return fe2o3_pct / 100.0 * (breaking * broken + iron)


def _silicon(si_from_pct, si_to_pct, mj_kg):
    """Rise of the end temperature at constant scrap, degC, by the figures of the text."""
    return (si_to_pct - si_from_pct) * 10.0 * mj_kg / 1.12


@cache
def _full_silicon():
    """Rise of the end temperature, degC, for 0.1 % more silicon than 0.4 and than 0.7 %, by the
    full balance of the usual heat of Heron Works with its scrap.
    """
    # the text's figures stand on these works' lime, slag and losses, whatever profile is in use
    works = load_profile(WORKS[0])
    heat, own = {"find": "temperature"}, works.hot_metal.analysis_pct
    heat["scrap_kg"] = charge.solve(works).scrap.mass_kg
    ends = np.array([0.4, 0.5, 0.7, 0.8])
    found = charge.solve(works, **heat, hot_metal_pct={**own, "Si": ends}).temp_c
    return found[1] - found[0], found[3] - found[2]


def _missing(total_mj_t, steel_mj_t, gas_mj_t, slag_mj_t):
    return total_mj_t - steel_mj_t - gas_mj_t - slag_mj_t


SOLUTIONS = {
    "steel_heat": Solution(
        slips={
            "kelvin_for_celsius_temp_c": taken(temp_c=lambda given: kelvin(given["temp_c"])),
            "only_superheat": lambda steel_t, temp_c: (
                steel_t * (_iron_mj_t(temp_c) - _iron_mj_t(1600.0)) / 1000.0
            ),
            "no_fusion": lambda steel_t, temp_c: (
                steel_t * (_iron_mj_t(temp_c) - _fusion_mj_t()) / 1000.0
            ),
        },
    ),
    "carbon_heat": Solution(
        slips={
            "all_co2": taken(co2_pct=100.0),
            "shares_exchanged": rest("co2_pct"),
            "percent_as_fraction": times(0.1),
        },
    ),
    "surplus_scrap": Solution(
        slips={
            "no_fusion": lambda surplus_mj_t, temp_c: (
                surplus_mj_t / (_iron_mj_t(temp_c) - _fusion_mj_t()) * 1000.0
            ),
            "per_t_steel": made_into(lambda answer: 1000.0 / (1.0 + 1000.0 / answer)),
            "upside_down": upside_down(),
            "tonnes": times(0.001),
        },
    ),
    "too_hot": Solution(
        slips={
            "scrap_from_melting_point": lambda **given: _cooled_mj(**given) / _fusion_mj_t(),
            "no_fusion": lambda **given: (
                _cooled_mj(**given) / (_iron_mj_t(given["aim_c"]) - _fusion_mj_t())
            ),
            "wrong_sign": times(-1.0),
        },
    ),
    "ore_for_scrap": Solution(
        slips={
            "no_breaking": partial(_ore, breaking=0.0),
            "no_heating": partial(_ore, iron=0.0),
            "iron_is_all": partial(_ore, iron=1.0),
        },
    ),
    "more_silicon": Solution(
        slips={
            "no_lime": partial(_silicon, mj_kg=26.8 + 4.5 + 3.3),
            "silicon_and_lime_only": partial(_silicon, mj_kg=26.8 + 4.5 - 13.0 - 3.4),
            "tenfold": times(0.1),
            "wrong_sign": times(-1.0),
        },
        figures=lambda **_: {
            called: quantity_text(rise_c, "°C", 3)
            for called, rise_c in zip(("poor", "rich"), _full_silicon(), strict=True)
        },
    ),
    "closing": Solution(
        slips={
            "share_of_steel": lambda **given: 100.0 * _missing(**given) / given["steel_mj_t"],
        },
        plausible=lambda answer, **given: (answer > 2.0) & (answer < 7.0),
    ),
    "school_sum": Solution(lambda temp_c: 2, vector=False),
}

PROBLEMS = read_problems("heat_balance", __file__, SOLUTIONS)
