"""Solids and liquids beside metal and converter slag: sulphides, reagents left over, inclusions,
dust, magnesia from the lining.
"""

import re
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import between, kelvin, mass_fractions, molar_mass, plain, positive
from ..thermo import enthalpy, substance

_TINY_KG = 1e-9
_PHASE = re.compile(r"^(?P<formula>.+?)\((?P<phase>[a-z][a-z ]*)\)$")


def _split(species):
    """Formula and phase of 'FeO(liquid)'; the phase is None for the one stable at temperature."""
    match = _PHASE.match(species)
    return (match["formula"], match["phase"]) if match else (species, None)


@dataclass(frozen=True)
class Condensed:
    """Solids and liquids beside metal and converter slag: sulphides, reagent left over, inclusions.

    species_kg: kg by formula, with the phase in brackets where it is not the one stable at temp_c
    ('FeO(liquid)'). Values may be arrays.
    Raises InputError for an unknown species, a negative mass, a temperature outside 25 to 1800
    degC.
    """

    species_kg: dict
    temp_c: float

    def __post_init__(self):
        between(
            "temperature of the substances",
            self.temp_c,
            25.0,
            1800.0,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        )
        kept = {}
        for species, kg in self.species_kg.items():
            formula, phase = _split(species)
            known = substance(formula)
            if phase:
                known.phase(phase)
            kept[species] = positive(species, kg, "kg")
        object.__setattr__(self, "species_kg", MappingProxyType(kept))

    @property
    def mass_kg(self):
        """Mass, kg."""
        return sum(self.species_kg.values())

    def formula_kg(self):
        """kg of each formula, phases of one formula added up, as a dict."""
        out = {}
        for species, kg in self.species_kg.items():
            formula = _split(species)[0]
            out[formula] = out.get(formula, 0.0) + kg
        return out

    @property
    def analysis_pct(self):
        """Mass % of each formula; an empty dict where there is nothing."""
        total = np.asarray(self.mass_kg)
        if np.all(total <= _TINY_KG):
            return {}
        return {
            f: plain(
                np.where(total > _TINY_KG, 100.0 * kg / np.where(total > _TINY_KG, total, 1.0), 0.0)
            )
            for f, kg in self.formula_kg().items()
        }

    def element_kg(self):
        """kg of each element, as a dict."""
        out = {}
        for formula, kg in self.formula_kg().items():
            for element, share in mass_fractions(formula).items():
                out[element] = out.get(element, 0.0) + kg * share
        return out

    def enthalpy_kj(self):
        """Enthalpy of all of it, kJ, against the elements at 298.15 K; heats of mixing are left
        out.
        """
        T = kelvin(self.temp_c)
        total = 0.0
        for species, kg in self.species_kg.items():
            formula, phase = _split(species)
            if np.any(np.asarray(kg) > 0):
                total = total + kg / molar_mass(formula) * enthalpy(
                    formula, T, phase, supercooled=phase is not None
                )
        return total

    def scaled(self, factor):
        """The same, factor times as much."""
        return Condensed({s: kg * factor for s, kg in self.species_kg.items()}, self.temp_c)

    def at(self, temp_c):
        """The same at another temperature, degC."""
        return Condensed(self.species_kg, temp_c)

    @property
    def provenance(self):
        """Sources of the data of each species."""
        return tuple(
            p for species in self.species_kg for p in substance(_split(species)[0]).provenance
        )


@dataclass(frozen=True)
class Dust:
    """Iron that leaves as fume, counted as FeO: feo_kg at temp_c."""

    feo_kg: float
    temp_c: float

    def element_kg(self):
        """kg of Fe and O."""
        return {element: self.feo_kg * share for element, share in mass_fractions("FeO").items()}

    def enthalpy_kj(self):
        """Enthalpy, kJ, against the elements at 298.15 K, as liquid FeO."""
        return (
            self.feo_kg
            / molar_mass("FeO")
            * enthalpy("FeO", kelvin(self.temp_c), "liquid", supercooled=True)
        )

    @property
    def provenance(self):
        """Sources of the heat content."""
        return substance("FeO").phase("liquid").provenance


@dataclass(frozen=True)
class Lining:
    """Magnesia that the slag takes from the hot lining: mass_kg at temp_c, so that it neither
    brings nor takes heat.
    """

    mass_kg: float
    temp_c: float

    def element_kg(self):
        """kg of Mg and O."""
        return {element: self.mass_kg * share for element, share in mass_fractions("MgO").items()}

    def enthalpy_kj(self):
        """Enthalpy, kJ, against the elements at 298.15 K."""
        return self.mass_kg / molar_mass("MgO") * enthalpy("MgO", kelvin(self.temp_c), "solid")

    @property
    def provenance(self):
        """Sources of the heat content."""
        return substance("MgO").phase("solid").provenance
