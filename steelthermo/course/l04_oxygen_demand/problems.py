"""Calculations of the problems of lesson 04; their words stand in problems.toml."""

from ...base import mass_fractions, molar_mass, molar_volume_nm3_kmol, value
from ...charge import nm3_per_kg
from ...coursekit.problems import (
    Solution,
    multiplied,
    read_problems,
    taken,
    times,
    upside_down,
)


def _heat(c_kg, si_kg, mn_kg, p_kg, fe_kg):
    """By the figures of the text, Nm3 per kg."""
    return 0.933 * 1.1 * c_kg + 0.798 * si_kg + 0.204 * mn_kg + 0.905 * p_kg + 0.201 * fe_kg


def _saved(ore_kg_t, fe2o3_pct):
    return (
        ore_kg_t
        * fe2o3_pct
        / 100.0
        * mass_fractions("Fe2O3")["O"]
        / molar_mass("O2")
        * molar_volume_nm3_kmol()
    )


def _figures(element, **_):
    """Atomic weight as the text lists it, and atoms of oxygen that an atom of the element takes."""
    weight = round(molar_mass(element), 2)
    burnt = nm3_per_kg(element) / molar_volume_nm3_kmol()
    return {"weight": weight, "atoms_of_oxygen": round(2.0 * burnt * molar_mass(element), 2)}


SOLUTIONS = {
    "one_element": Solution(
        slips={
            "kilograms": times(molar_mass("O2") / molar_volume_nm3_kmol()),
            "at_25": times(value("reference_temperature") / value("celsius_zero_k")),
            "one_atom_of_oxygen": lambda mass_kg, element: (
                {"Si": 0.5, "P": 0.4}[element] * mass_kg * nm3_per_kg(element)
                if element in ("Si", "P")
                else None
            ),
        },
        figures=_figures,
        vector=False,
    ),
    "carbon": Solution(
        slips={
            "all_co2": taken(co2_pct=100.0),
            "percent_as_fraction": times(0.1),
        },
    ),
    "per_tonne": Solution(
        slips={
            "no_co2": lambda c_kg, **rest: _heat(c_kg, **rest) - c_kg * 0.1 * nm3_per_kg("C"),
            "all_co2": lambda c_kg, **rest: _heat(c_kg, **rest) + c_kg * 0.9 * nm3_per_kg("C"),
        },
    ),
    "minutes": Solution(
        slips={
            "purity_wrong_way": multiplied("purity_pct"),
            "hours": times(1.0 / 60.0),
            "upside_down": upside_down(),
        },
        plausible=lambda answer, **given: (answer > 12.0) & (answer < 26.0),
    ),
    "ore": Solution(
        slips={
            "added": lambda ore_kg_t, fe2o3_pct, need_nm3_t: (
                need_nm3_t + _saved(ore_kg_t, fe2o3_pct)
            ),
        },
    ),
    "gas_made": Solution(
        slips={
            "oxygen_blown": lambda c_kg, co2_pct: c_kg * nm3_per_kg("C", co2_pct),
            "counted_twice": times(lambda given: 1.0 + given["co2_pct"] / 100.0),
        },
    ),
    "published_shares": Solution(lambda temp_c: 2, vector=False),
}

PROBLEMS = read_problems("oxygen_demand", __file__, SOLUTIONS)
