"""Safety facts for the lessons, with their sources, and the sums behind the usual warnings. The
rules of the site and local law come first.
"""

from dataclasses import dataclass

from ..base import (
    InputError,
    between,
    kelvin,
    mol_to_nm3,
    molar_mass,
    plain,
    positive,
    row_provenance,
    rows,
    value,
)
from ..thermo import formation_enthalpy_298


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact: where it matters (stage), the hazard, the words, its status and source."""

    stage: str
    hazard: str
    words: str
    status: str
    provenance: tuple

    def __str__(self):
        return self.words


def safety_facts(stage=None, hazard=None):
    """Facts of one stage ('pretreatment', 'tapping', 'ladle', 'blowing', 'charging', 'furnace',
    'gas') or one hazard, or all, as a tuple of Fact.

    Raises InputError if there is none. Source: safety.csv. Limits for carbon monoxide stand in
    off_gas.co_hazards().
    """
    table = rows("safety")
    found = [
        r
        for r in table
        if (stage is None or r["stage"] == stage) and (hazard is None or r["hazard"] == hazard)
    ]
    if not found:
        known = ", ".join(dict.fromkeys(r["stage"] for r in table))
        hazards = ", ".join(dict.fromkeys(r["hazard"] for r in table))
        raise InputError(
            f"safety facts: stage {stage!r}, hazard {hazard!r} was asked for; stages are {known}; "
            f"hazards are {hazards}."
        )
    return tuple(
        Fact(r["stage"], r["hazard"], r["fact"], r["status"], (row_provenance(r, r["hazard"]),))
        for r in found
    )


def steam_m3(water_kg, temp_c=100.0):
    """Volume of the steam of water_kg, m3, at normal pressure and temp_c (100 to 3000 degC): ideal
    gas. Broadcasts. Raises InputError.
    """
    T = kelvin(between("temperature of steam", temp_c, 100.0, 3000.0, "°C"))
    n = positive("water", water_kg, "kg") * 1000.0 / molar_mass("H2O")
    return plain(n * value("gas_constant") * T / value("normal_pressure"))


_HYDROGEN = {
    "Mg": 1.0,
    "Al": 1.5,
    "Ca": 1.0,
    "Fe": 1.0,
    "H2O": 1.0,
}  # mol H2 per mol; water itself: all its hydrogen set free


def hydrogen_nm3(species, kg):
    """Hydrogen, Nm3, that kg of Mg, Al, Ca or Fe (to FeO) sets free from water, or that kg of 'H2O'
    gives when reduced. Raises InputError.
    """
    if species not in _HYDROGEN:
        raise InputError(f"hydrogen: {species!r} was given; known are {', '.join(_HYDROGEN)}.")
    return plain(
        mol_to_nm3(_HYDROGEN[species] * positive(species, kg, "kg") * 1000.0 / molar_mass(species))
    )


def acetylene_nm3(carbide_kg, carbide_pct=100.0):
    """Acetylene, Nm3, that calcium carbide of carbide_pct % CaC2 sets free from water. Raises
    InputError.
    """
    share = between("CaC2 in carbide", carbide_pct, 0.0, 100.0, "%") / 100.0
    return plain(
        mol_to_nm3(positive("carbide", carbide_kg, "kg") * share * 1000.0 / molar_mass("CaC2"))
    )


def slaking_mj(lime_kg):
    """Heat, MJ, set free when quicklime (CaO) and liquid water make Ca(OH)2 at 25 degC. Raises
    InputError. Source: enthalpies of formation.
    """
    heat = (
        formation_enthalpy_298("CaO")
        + formation_enthalpy_298("H2O")
        - formation_enthalpy_298("Ca(OH)2")
    )
    return plain(positive("lime", lime_kg, "kg") * 1000.0 / molar_mass("CaO") * heat / 1e6)
