"""Calculations of the problems of lesson 02; their words stand in problems.toml."""

from ...base import formula, kelvin, mass_fractions, molar_mass, value
from ...coursekit.problems import Solution, after, read_problems, rest, taken, times
from ...thermo import formation_enthalpy_298, oxidation_heat


def _atoms(oxide):
    """Atoms of the element and mol of O2 in one mol of an oxide."""
    atoms = formula(oxide)
    oxygen = atoms.pop("O")
    return sum(atoms.values()), oxygen / 2.0


def _figures(oxide, **_):
    """What the texts list of an oxide, kJ/mol, and of its element."""
    (element,) = formula(oxide).keys() - {"O"}
    atoms, oxygen = _atoms(oxide)
    return {
        "heat_of_formation": round(-formation_enthalpy_298(oxide) / 1000.0, 1),
        "atoms": atoms,
        "mol_of_o2": oxygen,
        "weight": round(molar_mass(element), 3),
    }


def _unless_one(answer, number):
    """The answer times a number of atoms or mol, where that is not one anyhow."""
    return answer * number if number != 1.0 else None


def _dissolved(carbon_kg):
    """Heat of dissolved carbon burnt with hot oxygen at 1600 degC, MJ."""
    return carbon_kg * oxidation_heat("C to CO", kelvin(1600.0), "dissolved, hot oxygen") / 1e6


def _graphite():
    """Heat of graphite burnt to CO with hot oxygen at 1600 degC, MJ/kg."""
    return oxidation_heat("C to CO", kelvin(1600.0), "pure, at temperature") / 1e6


SOLUTIONS = {
    "per_kg": Solution(
        slips={
            "mass_of_oxide": times(lambda given: 1.0 - mass_fractions(given["oxide"])["O"]),
            "one_atom": after(lambda answer, given: _unless_one(answer, _atoms(given["oxide"])[0])),
            "kilo": times(1000.0),
            "wrong_sign": times(-1.0),
        },
        figures=_figures,
        vector=False,
    ),
    "mixed_gas": Solution(
        slips={
            "all_co2": taken(co2_pct=100.0),
            "shares_exchanged": rest("co2_pct"),
            "per_kg_gas": lambda carbon_kg, co2_pct: (
                carbon_kg
                * (
                    -formation_enthalpy_298("CO") / molar_mass("CO") * (100 - co2_pct)
                    - formation_enthalpy_298("CO2") / molar_mass("CO2") * co2_pct
                )
                / 1e8
            ),
        },
    ),
    "per_nm3": Solution(
        slips={
            "one_mol_oxygen": after(
                lambda answer, given: _unless_one(answer, _atoms(given["oxide"])[1])
            ),
            "room_temperature": times(value("celsius_zero_k") / value("reference_temperature")),
        },
        figures=_figures,
        vector=False,
    ),
    "burning_co": Solution(
        slips={
            "from_carbon": times(
                formation_enthalpy_298("CO2")
                / (formation_enthalpy_298("CO2") - formation_enthalpy_298("CO"))
            ),
            "wrong_sign": times(-1.0),
        },
    ),
    "cold_oxygen": Solution(
        slips={
            "kilo": times(1000.0),
            "kelvin_level": after(
                lambda answer, given: (
                    answer * (given["temp_c"] + value("celsius_zero_k")) / (given["temp_c"] - 25.0)
                )
            ),
        },
    ),
    "dissolved_carbon": Solution(
        slips={
            "pure_for_dissolved": lambda carbon_kg: carbon_kg * _graphite() / 1000.0,
            "solution_taken_off": lambda carbon_kg: (
                (2.0 * carbon_kg * _graphite() - _dissolved(carbon_kg)) / 1000.0
            ),
            "per_kg_gas": times(molar_mass("C") / molar_mass("CO")),
        },
    ),
    "which_convention": Solution(lambda temp_c: 3, vector=False),
}

PROBLEMS = read_problems("oxidation_heat", __file__, SOLUTIONS)
