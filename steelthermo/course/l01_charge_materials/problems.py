"""Calculations of the problems of lesson 01; their words stand in problems.toml."""

from ...base import mass_fractions, molar_mass
from ...coursekit.problems import Solution, divided, read_problems, taken, times


def _mix(hot_metal_t, hot_pct, scrap_t, scrap_pct):
    return (hot_metal_t * hot_pct + scrap_t * scrap_pct) / (hot_metal_t + scrap_t)


def _blend(limit_pct, clean_pct, dirty_pct):
    return 100.0 * (limit_pct - clean_pct) / (dirty_pct - clean_pct)


def _mole_pct(c_pct, si_pct):
    moles = {
        "C": c_pct / molar_mass("C"),
        "Si": si_pct / molar_mass("Si"),
        "Fe": (100.0 - c_pct - si_pct) / molar_mass("Fe"),
    }
    return 100.0 * moles["C"] / sum(moles.values())


def _caco3(lime_t, caco3_pct):
    return lime_t * 10.0 * caco3_pct * (1.0 - molar_mass("CaO") / molar_mass("CaCO3"))


def _ore_iron(ore_t, fe2o3_pct):
    return ore_t * fe2o3_pct / 100.0 * mass_fractions("Fe2O3")["Fe"]


SOLUTIONS = {
    "kg_of_element": Solution(
        lambda hot_metal_t, pct, element: hot_metal_t * 10.0 * pct,
        {
            "percent_as_kg": times(0.1),
            "fraction": times(100.0),
            "one_tonne": divided("hot_metal_t"),
        },
        vector=False,
    ),
    "mixed_carbon": Solution(
        _mix,
        {
            "plain_mean": lambda hot_pct, scrap_pct, **_: (hot_pct + scrap_pct) / 2.0,
            "only_hot_metal": lambda hot_metal_t, hot_pct, scrap_t, scrap_pct: (
                hot_pct + scrap_t / hot_metal_t * scrap_pct
            ),
            "swapped_hot_pct_scrap_pct": taken(hot_pct="scrap_pct", scrap_pct="hot_pct"),
        },
    ),
    "blend_copper": Solution(
        _blend,
        {
            "forgot_clean_pct": taken(clean_pct=0.0),
            "other_part": lambda **given: 100.0 - _blend(**given),
            "simple_ratio": lambda limit_pct, clean_pct, dirty_pct: (
                100.0 * (limit_pct - clean_pct) / dirty_pct
            ),
        },
    ),
    "mole_percent": Solution(
        _mole_pct,
        {
            "mass_pct": lambda c_pct, si_pct: c_pct,
            "iron_not_rest": lambda c_pct, **_: (
                100.0 * (c_pct / molar_mass("C")) / (100.0 / molar_mass("Fe"))
            ),
            "times_for_over": lambda c_pct, si_pct: (
                100.0
                * c_pct
                * molar_mass("C")
                / (
                    c_pct * molar_mass("C")
                    + si_pct * molar_mass("Si")
                    + (100.0 - c_pct - si_pct) * molar_mass("Fe")
                )
            ),
        },
    ),
    "carbonate": Solution(
        _caco3,
        {
            "all_carbonate": lambda lime_t, caco3_pct: lime_t * 10.0 * caco3_pct,
            "lime_left": lambda lime_t, caco3_pct: (
                lime_t * 10.0 * caco3_pct - _caco3(lime_t, caco3_pct)
            ),
            "tenfold": times(0.1),
        },
    ),
    "iron_in_ore": Solution(
        _ore_iron,
        {
            "oxide": lambda ore_t, fe2o3_pct: ore_t * fe2o3_pct / 100.0,
            "one_atom": lambda ore_t, fe2o3_pct: _ore_iron(ore_t, fe2o3_pct) / 2.0,
            "as_feo": lambda ore_t, fe2o3_pct: (
                ore_t * fe2o3_pct / 100.0 * mass_fractions("FeO")["Fe"]
            ),
        },
    ),
    "rest_is_carbon": Solution(lambda rest_pct: 2, vector=False),
}

PROBLEMS = read_problems("charge_materials", __file__, SOLUTIONS)
