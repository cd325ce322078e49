"""Solids and liquids beside metal and converter slag: sulphides, reagents left over, inclusions,
dust, magnesia from the lining.
"""

import re
from dataclasses import dataclass

import numpy as np

from ..base import Number, between, kelvin, molar_mass, plain, positive
from ..thermo import enthalpy, substance
from .stream import Stream, element_kg, frozen

_TINY_KG = 1e-9
_PHASE = re.compile(r"^(?P<formula>.+?)\((?P<phase>[a-z][a-z ]*)\)$")


def _split(species):
    """Formula and phase of 'FeO(liquid)'; the phase is None for the one stable at temperature."""
    match = _PHASE.match(species)
    return (match["formula"], match["phase"]) if match else (species, None)


@dataclass(frozen=True, repr=False)
class Condensed(Stream):
    """Solids and liquids beside metal and converter slag: sulphides, reagent left over, inclusions.
    Values may be arrays.

    Parameters
    ----------
    species_kg : dict
        kg by formula, with the phase in brackets where it is not the one stable at temp_c
        ('FeO(liquid)').
    temp_c : float or array
        25 to 1800 degC.

    Raises
    ------
    InputError
        For an unknown species, a negative mass or a temperature out of range.

    Examples
    --------
    >>> round(Condensed({"CaS": 7.2}, 1350.0).element_kg()["S"], 2)
    3.2
    """

    species_kg: dict[str, Number]
    temp_c: Number
    _title, _amount, _hottest_c = "solids and liquids", "species_kg", 1800.0

    def __post_init__(self):
        between("temperature of the substances", self.temp_c, 25.0, self._hottest_c, "°C")
        kept = {}
        for species, kg in self.species_kg.items():
            formula, phase = _split(species)
            known = substance(formula)
            if phase:
                known.phase(phase)
            kept[species] = positive(species, kg, "kg")
        frozen(self, species_kg=kept)

    @property
    def mass_kg(self) -> Number:
        """Mass, kg."""
        return sum(self.species_kg.values())

    def formula_kg(self) -> dict:
        """kg of each formula, phases of one formula added up, as a dict."""
        out = {}
        for species, kg in self.species_kg.items():
            formula = _split(species)[0]
            out[formula] = out.get(formula, 0.0) + kg
        return out

    @property
    def analysis_pct(self) -> dict:
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

    def element_kg(self) -> dict:
        """kg of each element, as a dict."""
        return element_kg(self.formula_kg())

    def enthalpy_kj(self) -> Number:
        """Enthalpy of all of it, kJ, against the elements at 298.15 K; heats of mixing are left
        out.
        """
        T = kelvin(self.temp_c)
        total = 0.0
        for species, kg in self.species_kg.items():
            formula, phase = _split(species)
            if np.any(np.asarray(kg) > 0):
                total = total + kg / molar_mass(formula) * enthalpy(
                    formula, T, phase, supercooled=phase is not None, quiet=True
                )
        return total

    @property
    def provenance(self) -> tuple:
        """Sources of the data of each species."""
        found = []
        for species in self.species_kg:
            formula, phase = _split(species)
            of = substance(formula).phase(phase) if phase else substance(formula)
            found += of.provenance
        return tuple(found)


class Dust(Condensed):
    """Fume, as hot as the gas that carries it: up to 1900 degC. Iron in it counts as liquid FeO."""

    _title, _hottest_c = "dust", 1900.0
