"""Oxygen demand by element, blowing time and gas made: the stoichiometry of the blow, without the
heat.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    atomic_weight,
    between,
    mass_fractions,
    molar_volume_nm3_kmol,
    positive,
    shown,
)
from ..streams import Gas
from ..thermo import burning, oxides_with, oxygen_atoms

# Ca and Mg apart, which come as oxides
BURNING = tuple(e for e in burning() if e not in ("Ca", "Mg"))


def nm3_per_kg(element, co2_pct=0.0, ferric_pct=0.0):
    """Nm3 of O2 that one kg of an element takes.

    element: C (to CO, and the share co2_pct of it to CO2), Fe (to FeO, and the share ferric_pct of
    it to Fe2O3), Si, Mn, P, Cr, Al, Ti, V (to the oxides of oxides.csv).
    Shares in % of the burnt element; scalars or arrays. Raises InputError.
    Source: stoichiometry; molar volume 22.414 Nm3/kmol from units.
    """
    if element not in BURNING:
        raise InputError(
            f"oxygen demand: {shown(element)} was given; known are {', '.join(BURNING)}."
        )
    atoms = oxygen_atoms(element)
    if element == "C":
        atoms = atoms + between("CO2 share", co2_pct, 0.0, 100.0, "%") / 100.0
    if element == "Fe":
        ferric = between("share of iron burnt to Fe2O3", ferric_pct, 0.0, 100.0, "%")
        atoms = atoms + 0.5 * ferric / 100.0
    return atoms / 2.0 * molar_volume_nm3_kmol() / atomic_weight(element)


@dataclass(frozen=True)
class Demand:
    """Oxygen demand of a heat. by_element_nm3: Nm3 of O2 each burnt element takes; from_oxides_nm3:
    what ore and scale bring; pure_nm3: O2 to be blown;
    blown_nm3: oxygen of the given purity; gas: CO and CO2 made, with the nitrogen and argon of the
    oxygen, at 0 degC; burnt_kg: kg of each element burnt.
    """

    burnt_kg: dict
    by_element_nm3: dict
    from_oxides_nm3: float
    pure_nm3: float
    blown_nm3: float
    gas: Gas

    def per_t(self, steel_t):
        """Nm3 of oxygen blown per t of steel."""
        return self.blown_nm3 / positive("steel", steel_t, "t", zero=False)


def demand(burnt_kg, *, co2_pct=0.0, ferric_pct=0.0, purity_pct=100.0, oxides_kg=None):
    """Oxygen demand of the elements burnt.

    burnt_kg: kg of each element that burns (for Fe: to slag and dust). co2_pct: share of the carbon
    burnt to CO2. ferric_pct: share of the iron to Fe2O3.
    purity_pct: O2 in the oxygen, volume %; the rest is counted as N2. oxides_kg: kg of FeO, Fe2O3,
    Fe3O4 charged that are broken up to iron.
    Scalars or arrays. Returns a Demand. Raises InputError, also where the oxides bring more oxygen
    than is needed.
    """
    if not hasattr(burnt_kg, "items"):
        raise InputError(
            f"oxygen demand: {shown(burnt_kg)} was given; kg by symbol such as {{'C': 42, 'Si': "
            f"4}} are needed."
        )
    burnt_kg = {e: positive(f"{e} burnt", kg, "kg") for e, kg in burnt_kg.items()}
    by_element = {e: kg * nm3_per_kg(e, co2_pct, ferric_pct) for e, kg in burnt_kg.items()}
    brought = sum(
        positive(f"{oxide} charged", kg, "kg") * oxygen_in_oxide_nm3_kg(oxide)
        for oxide, kg in (oxides_kg or {}).items()
    )
    pure = sum(by_element.values()) - brought
    if np.any(np.asarray(pure) < 0):
        raise InputError(
            f"oxygen: the oxides bring {np.max(brought):.0f} Nm3 of O2, more than the "
            f"{np.min(sum(by_element.values())):.0f} Nm3 the elements take."
        )
    blown = pure / (between("purity of oxygen", purity_pct, 20.0, 100.0, "%") / 100.0)
    carbon = burnt_kg.get("C", 0.0) / atomic_weight("C") * molar_volume_nm3_kmol()
    share = between("CO2 share", co2_pct, 0.0, 100.0, "%") / 100.0
    gas = Gas({"CO": carbon * (1.0 - share), "CO2": carbon * share, "N2": blown - pure}, 0.0)
    return Demand(burnt_kg, by_element, brought, pure, blown, gas)


def oxygen_in_oxide_nm3_kg(oxide):
    """Oxygen, Nm3 O2, in one kg of FeO, Fe2O3 or Fe3O4 broken up to iron. Raises InputError.
    Source: stoichiometry.
    """
    known = oxides_with(element="Fe")
    if oxide not in known:
        raise InputError(f"iron oxide: {oxide!r} was given; known are {', '.join(known)}.")
    return mass_fractions(oxide)["O"] / 2.0 / atomic_weight("O") * molar_volume_nm3_kmol()


def blow_minutes(oxygen_nm3, flow_nm3_min):
    """Minutes it takes to blow a volume of oxygen, Nm3, at a flow, Nm3/min. Raises InputError."""
    return positive("oxygen", oxygen_nm3, "Nm3") / positive(
        "oxygen flow", flow_nm3_min, "Nm3/min", zero=False
    )
