"""A slag: its oxides and temperature, with its views in moles and cations, and its heat.

Heat by named compounds: phosphorus as 3CaO.P2O5, silica as 2CaO.SiO2 as far as the lime reaches,
the rest as oxides; and what these take to melt and dissolve, see slag_heat.py.
"""

from dataclasses import dataclass

import numpy as np

from ..base import InputError, Number, between, kelvin, mass_to_mole_pct, molar_mass, plain
from ..thermo import enthalpy, share_lime, substance
from .oxides import OXIDES, amounts, basicity, cation_pct, to_pct, total_iron
from .slag_heat import melting, melting_terms, provenance, together
from .stream import Stream, element_kg, frozen


@dataclass(frozen=True, repr=False)
class Slag(Stream):
    """A slag. Values may be arrays that broadcast.

    Parameters
    ----------
    oxides_kg : dict
        kg of each component, a key of OXIDES.
    temp_c : float or array
        1380 to 1726 degC, the range in which the heat contents of liquid FeO and of 2CaO.SiO2 are
        known.

    Raises
    ------
    InputError
        For an unknown oxide, a negative amount or a temperature out of range.

    Examples
    --------
    >>> slag = Slag({"CaO": 48.0, "SiO2": 14.0, "FeO": 22.0, "MgO": 7.0}, 1650.0)
    >>> round(slag.basicity(), 2), round(slag.iron_total_pct, 1)
    (3.43, 18.8)
    """

    oxides_kg: dict
    temp_c: Number
    _title, _amount = "slag", "oxides_kg"

    def __post_init__(self):
        temp_c = between("temperature of slag", self.temp_c, 1380.0, 1726.0, "°C")
        frozen(self, temp_c=temp_c, oxides_kg=amounts(self.oxides_kg))

    @property
    def mass_kg(self) -> Number:
        """Mass of the slag, kg."""
        return sum(self.oxides_kg.values())

    @property
    def analysis_pct(self) -> dict:
        """Mass % of each component."""
        return to_pct(self.oxides_kg)

    @property
    def mole_pct(self) -> dict:
        """Mole % of each component, counted as written in OXIDES (P2O5, Al2O3 as one)."""
        return mass_to_mole_pct(self.oxides_kg)

    @property
    def cation_pct(self) -> dict:
        """Share of each cation in all cations, %."""
        return cation_pct(self.oxides_kg)

    @property
    def iron_total_pct(self) -> Number:
        """Total iron in the slag, mass %, from FeO and Fe2O3."""
        return total_iron(self.analysis_pct)

    def basicity(self, definition: str = "CaO/SiO2") -> Number:
        """Basicity by a definition of BASICITIES, or 'molar'."""
        return basicity(self.oxides_kg, definition)

    def element_kg(self) -> dict:
        """kg of each element, as a dict."""
        return element_kg(self.oxides_kg)

    def compounds_mol(self) -> dict:
        """mol of each compound in which the heat is counted: Ca3(PO4)2, Ca2SiO4, and what is left
        as oxides.
        """
        mol = {oxide: kg * 1000.0 / molar_mass(oxide) for oxide, kg in self.oxides_kg.items()}
        mol = dict.fromkeys(("CaO", "SiO2", "P2O5"), 0.0) | mol
        spare = mol["CaO"] - mol["P2O5"] * 3.0
        if np.any(np.asarray(spare) < -1e-9 * (1 + np.abs(mol["CaO"]))):
            raise InputError(
                "slag: there is less lime than 3CaO.P2O5 takes; the heat of P2O5 without lime is "
                "not known. Add lime."
            )
        return {
            name: plain(amount)
            for name, amount in share_lime(mol, np.minimum).items()
            if np.count_nonzero(amount)
        }

    def enthalpy_kj(self) -> Number:
        """Enthalpy of the whole liquid slag, kJ, against the elements at 298.15 K, heats of
        forming, melting and dissolving included.
        """
        T = kelvin(self.temp_c)
        return (
            sum(
                mol
                * (
                    enthalpy(name, T, OXIDES.get(name), True, quiet=True)
                    + melting(name, self.temp_c)
                )
                for name, mol in self.compounds_mol().items()
            )
            / 1000.0
        )

    def melting_kj(self) -> tuple:
        """Heat of melting and dissolving of the whole slag, kJ, and its standard uncertainty."""
        return together(melting_terms(self.compounds_mol(), self.temp_c))

    @property
    def provenance(self) -> tuple:
        """Sources of the heat contents used."""
        parts = (p for name in self.compounds_mol() for p in substance(name).provenance)
        return (*parts, *provenance())
