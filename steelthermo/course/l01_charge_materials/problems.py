"""Calculations of the problems of lesson 01; their words stand in problems.toml."""

from ...base import mass_fractions
from ...coursekit.problems import Solution, made_into, read_problems, taken, times


def _mole_pct(c_pct, si_pct, power=-1.0):
    """By the atomic weights of the text."""
    carbon = c_pct * 12.011**power
    iron = (100.0 - c_pct - si_pct) * 55.85**power
    return 100.0 * carbon / (carbon + si_pct * 28.09**power + iron)


def _caco3(lime_t, caco3_pct):
    return lime_t * 10.0 * caco3_pct * 44.01 / 100.09


def _ore_iron(ore_t, fe2o3_pct, share=0.6994):
    return ore_t * fe2o3_pct / 100.0 * share


SOLUTIONS = {
    "kg_of_element": Solution(
        slips={
            "percent_as_kg": times(0.1),
            "fraction": times(100.0),
        },
        # as the panels have it in hot metal
        plausible=lambda answer, pct, element, **_: pct <= 0.3 if element == "P" else pct >= 0.1,
        vector=False,
    ),
    "mixed_carbon": Solution(
        slips={
            "plain_mean": lambda hot_pct, scrap_pct, **_: (hot_pct + scrap_pct) / 2.0,
            "only_hot_metal": lambda hot_metal_t, hot_pct, scrap_t, scrap_pct: (
                hot_pct + scrap_t / hot_metal_t * scrap_pct
            ),
            "swapped_hot_pct_scrap_pct": taken(hot_pct="scrap_pct", scrap_pct="hot_pct"),
        },
    ),
    "blend_copper": Solution(
        slips={
            "other_part": made_into(lambda answer: 100.0 - answer),
            "simple_ratio": lambda limit_pct, clean_pct, dirty_pct: (
                100.0 * (limit_pct - clean_pct) / dirty_pct
            ),
        },
    ),
    "mole_percent": Solution(
        slips={
            "mass_pct": lambda c_pct, si_pct: c_pct,
            "iron_not_rest": lambda c_pct, **_: c_pct / 12.011 * 55.85,
            "times_for_over": lambda **given: _mole_pct(**given, power=1.0),
        },
    ),
    "carbonate": Solution(
        slips={
            "lime_left": lambda lime_t, caco3_pct: (
                lime_t * 10.0 * caco3_pct - _caco3(lime_t, caco3_pct)
            ),
            "tenfold": times(0.1),
        },
    ),
    "iron_in_ore": Solution(
        slips={
            "as_feo": lambda **given: _ore_iron(**given, share=mass_fractions("FeO")["Fe"]),
        },
    ),
    "rest_is_carbon": Solution(lambda rest_pct: 2, vector=False),
}

PROBLEMS = read_problems("charge_materials", __file__, SOLUTIONS)
