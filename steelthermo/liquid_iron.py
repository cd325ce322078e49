"""Elements dissolved in liquid iron: heats and Gibbs energies of solution, and the record of a liquid metal (hot metal or steel).

Two published coefficient sets, never mixed: 'msts' (Gibbs energies of table 2.2 of The Making, Shaping and Treating of Steel) and
'jsps' (Steelmaking Data Sourcebook). Reference state of a dissolved element: 1 mass % in liquid iron, extrapolated from infinite dilution.
"""

import warnings
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np

from .elements import atomic_weight
from .errors import ExtrapolationWarning, InputError, between, positive
from .substances import enthalpy, gibbs, substance
from .tables import row_provenance, rows, value
from .units import kelvin

__all__ = ["SETS", "LiquidMetal", "dissolved_enthalpy", "dissolved_gibbs", "gamma0", "solution_gibbs", "solution_row"]

SETS = ("msts", "jsps")


@cache
def _solution():
    return {(row["set"], row["element"]): row for row in rows("solution")}


def solution_row(element, coefficients="msts"):
    """Row of data/solution.csv: Gibbs energy of solution A + B T, J/mol, from the reference state to 1 mass %. Raises InputError."""
    try:
        return _solution()[coefficients, element]
    except KeyError:
        known = ", ".join(e for s, e in _solution() if s == coefficients)
        raise InputError(f"dissolved element: {element!r} in set {coefficients!r} was asked for; known: {known or 'no such set'}.") from None


def dissolved_enthalpy(element, T, coefficients="msts"):
    """Enthalpy of an element dissolved in liquid iron, J/mol, against the element at 298.15 K. 'Fe' is the solvent itself.

    element: symbol; T: K, scalar or array (1400 K and above: hot metal is a supercooled melt in terms of pure iron).
    coefficients: set of heats of solution. The heat of solution at infinite dilution is used at all contents; at 4.5 % C it is
    an approximation. Raises InputError. Source: data/solution.csv and the pure substances.
    """
    if element == "Fe":
        return enthalpy("Fe", T, "liquid", supercooled=True)
    row = solution_row(element, coefficients)
    return row["atoms"] * enthalpy(row["from"], T, row["phase"], supercooled=True) + row["a_j_mol"]


def solution_gibbs(element, T, coefficients="msts"):
    """Gibbs energy of solution A + B T, J/mol: from the reference state (see solution_row; gases at 1 atm) to 1 mass % in liquid iron.

    element: symbol; T: K, scalar or array; coefficients: 'msts' or 'jsps'. Warns (ExtrapolationWarning) where the row carries a caution.
    Raises InputError. Source: data/solution.csv.
    """
    row = solution_row(element, coefficients)
    if row["caution"] != "none":
        warnings.warn(f"Gibbs energy of solution of {element} (set {coefficients}): {row['caution']}.", ExtrapolationWarning, stacklevel=2)
    return row["a_j_mol"] + row["b_j_mol_k"] * between("temperature", T, 1400.0, 2300.0, "K", "Is this degrees Celsius? T is kelvin.")


def dissolved_gibbs(element, T, coefficients="msts"):
    """Gibbs energy of a dissolved element in its reference state of 1 mass %, J/mol, on the scale of substances.gibbs. 'Fe': the pure solvent.

    element: symbol; T: K, scalar or array (1400 to 2300 K); coefficients: 'msts' or 'jsps'. Gases enter at 1 atm, the standard of
    both sets; the scale of substances.gibbs has 1 bar, which is allowed for. Raises InputError. Source: data/solution.csv and the pure substances.
    """
    if element == "Fe":
        return gibbs("Fe", T, "liquid", supercooled=True)
    row = solution_row(element, coefficients)
    out = row["atoms"] * gibbs(row["from"], T, row["phase"], supercooled=True) + solution_gibbs(element, T, coefficients)
    if row["phase"] == "gas":
        out = out + row["atoms"] * value("gas_constant") * T * np.log(value("normal_pressure") / value("standard_pressure"))
    return out


def gamma0(element, T, coefficients="msts"):
    """Raoultian activity coefficient at infinite dilution in liquid iron, dimensionless: exp(dG/RT) 100 M / M_Fe.

    element: one whose reference state is a pure solid or liquid (the others raise InputError); T: K, scalar or array. Source: data/solution.csv.
    """
    row = solution_row(element, coefficients)
    if row["phase"] == "gas":
        raise InputError(f"gamma0 of {element} in set {coefficients!r}: its reference state is a gas, so there is none.")
    exponent = solution_gibbs(element, T, coefficients) / (value("gas_constant") * T)
    return np.exp(exponent) * 100.0 * atomic_weight(element) / atomic_weight("Fe")


@dataclass(frozen=True)
class LiquidMetal:
    """A liquid metal: mass_kg, analysis_pct (mass % of each element; iron by difference), temp_c. Values may be arrays.

    Raises InputError for an unknown element, a negative share, an analysis above 100 %, a mass below zero, or a
    temperature outside 1130 to 1800 degC (so that 1923, meant as kelvin, is refused).
    coefficients: set of the heats of solution (both are published; msts has magnesium too). Equilibria name a set of their own.
    """

    mass_kg: float
    analysis_pct: dict
    temp_c: float
    coefficients: str = "msts"

    def __post_init__(self):
        positive("mass of liquid metal", self.mass_kg, "kg")
        between("temperature of liquid metal", self.temp_c, 1130.0, 1800.0, "°C", "Was kelvin given? temp_c is degrees Celsius.")
        total = 0.0
        for element, pct in self.analysis_pct.items():
            if element != "Fe":
                solution_row(element, self.coefficients)
                total = total + positive(f"{element} in liquid metal", pct, "%")
        if np.any(np.asarray(total) > 100.0):
            raise InputError(f"analysis of liquid metal: the elements add up to {np.max(total):g} %; allowed is 100 % with iron as the rest.")
        analysis = {e: p for e, p in self.analysis_pct.items() if e != "Fe"} | {"Fe": 100.0 - total}
        object.__setattr__(self, "analysis_pct", MappingProxyType(analysis))

    def element_kg(self):
        """kg of each element, as a dict."""
        return {element: self.mass_kg * pct / 100.0 for element, pct in self.analysis_pct.items()}

    def enthalpy_kj(self):
        """Enthalpy of the whole metal, kJ, against the elements at 298.15 K, heats of solution included."""
        T = kelvin(self.temp_c)
        return sum(kg / atomic_weight(e) * dissolved_enthalpy(e, T, self.coefficients) for e, kg in self.element_kg().items())

    @property
    def provenance(self):
        """Sources of the heats of solution used, and of the pure substances they start from."""
        found = [row_provenance(solution_row(e, self.coefficients), f"heat of solution of {e}") for e in self.analysis_pct if e != "Fe"]
        pure = [solution_row(e, self.coefficients) for e in self.analysis_pct if e != "Fe"]
        for formula, phase in [("Fe", "liquid"), *((row["from"], row["phase"]) for row in pure)]:
            found += substance(formula).phase(phase).provenance
        return tuple(dict.fromkeys(found))
