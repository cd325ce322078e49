"""Oxygen demand by element, blowing time and gas made: the stoichiometry of the blow, without the
heat.
"""

from dataclasses import dataclass

import numpy as np

from ..base import InputError, atomic_weight, between, molar_volume_nm3_kmol, positive, shown
from ..streams import Gas

# Atoms of oxygen that one atom of the element takes on its way to the oxide named
ATOMS_PER_ELEMENT = {"Si": 2.0, "Mn": 1.0, "P": 2.5, "Al": 1.5, "Ti": 2.0, "V": 1.5, "Cr": 1.5}


def nm3_per_kg(element, co2_pct=0.0, ferric_pct=0.0):
    """Nm3 of O2 that one kg of an element takes.

    element: C (to CO, and the share co2_pct of it to CO2), Fe (to FeO, and the share ferric_pct of
    it to Fe2O3), Si to SiO2, Mn to MnO, P to P2O5, Al to Al2O3, Ti to TiO2, V to V2O3, Cr to Cr2O3.
    Shares in % of the burnt element; scalars or arrays. Raises InputError.
    Source: stoichiometry; molar volume 22.414 Nm3/kmol from units.
    """
    if element == "C":
        atoms = 1.0 + between("CO2 share", co2_pct, 0.0, 100.0, "%") / 100.0
    elif element == "Fe":
        atoms = (
            1.0 + 0.5 * between("share of iron burnt to Fe2O3", ferric_pct, 0.0, 100.0, "%") / 100.0
        )
    elif element in ATOMS_PER_ELEMENT:
        atoms = ATOMS_PER_ELEMENT[element]
    else:
        raise InputError(
            f"oxygen demand: {shown(element)} was given; known are C, Fe, "
            f"{', '.join(ATOMS_PER_ELEMENT)}."
        )
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
    per_kg = {"FeO": 1.0 / (atomic_weight("Fe") + atomic_weight("O"))}
    per_kg["Fe2O3"] = 3.0 / (2 * atomic_weight("Fe") + 3 * atomic_weight("O"))
    per_kg["Fe3O4"] = 4.0 / (3 * atomic_weight("Fe") + 4 * atomic_weight("O"))
    brought = 0.0
    for oxide, kg in (oxides_kg or {}).items():
        if oxide not in per_kg:
            raise InputError(
                f"oxygen from oxides: {oxide!r} was given; known are {', '.join(per_kg)}."
            )
        brought = (
            brought
            + positive(f"{oxide} charged", kg, "kg") * per_kg[oxide] / 2.0 * molar_volume_nm3_kmol()
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


def blow_minutes(oxygen_nm3, flow_nm3_min):
    """Minutes it takes to blow a volume of oxygen, Nm3, at a flow, Nm3/min. Raises InputError."""
    return positive("oxygen", oxygen_nm3, "Nm3") / positive(
        "oxygen flow", flow_nm3_min, "Nm3/min", zero=False
    )
