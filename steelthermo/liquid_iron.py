"""Elements dissolved in liquid iron: heats of solution, and the record of a liquid metal (hot metal or steel)."""

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np

from .elements import atomic_weight
from .errors import InputError, between, positive
from .substances import enthalpy
from .tables import row_provenance, rows
from .units import kelvin

__all__ = ["LiquidMetal", "dissolved_enthalpy", "solution_row"]


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


@dataclass(frozen=True)
class LiquidMetal:
    """A liquid metal: mass_kg, analysis_pct (mass % of each element; iron by difference), temp_c. Values may be arrays.

    Raises InputError for an unknown element, a negative share, an analysis above 100 %, a mass below zero, or a
    temperature outside 1130 to 1800 degC (so that 1923, meant as kelvin, is refused).
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
        """Sources of the heats of solution used."""
        return tuple(row_provenance(solution_row(e, self.coefficients), f"heat of solution of {e}") for e in self.analysis_pct if e != "Fe")
