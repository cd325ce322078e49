"""Oxygen demand by element, blowing time and gas made: the stoichiometry of the blow, without the
heat.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    atomic_weight,
    between,
    mass_fractions,
    molar_volume_nm3_kmol,
    one_of,
    positive,
    shown,
)
from ..streams import Gas
from ..thermo import burning, oxides_with, oxygen_atoms

# Ca and Mg apart, which come as oxides
BURNING = tuple(e for e in burning() if e not in ("Ca", "Mg"))


def nm3_per_kg(element: str, co2_pct: Number = 0.0, ferric_pct: Number = 0.0) -> Number:
    """Oxygen that one kg of an element takes to burn.

    Parameters
    ----------
    element : str
        One of BURNING: C (to CO), Fe (to FeO), Si, Mn, P, Cr, Al, Ti, V (to the oxides of
        oxides.csv).
    co2_pct : float or array
        Share of the carbon that burns to CO2, 0 to 100 %.
    ferric_pct : float or array
        Share of the iron that burns to Fe2O3, 0 to 100 %.

    Returns
    -------
    float or array
        Nm3 of O2 per kg.

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry; molar volume of an ideal gas at 0 degC and 101.325 kPa, 22.414 Nm3/kmol.

    Examples
    --------
    >>> round(nm3_per_kg("C"), 3), round(nm3_per_kg("Si"), 3)
    (0.933, 0.798)
    """
    atoms = oxygen_atoms(one_of("oxygen demand", element, BURNING))
    if element == "C":
        atoms = atoms + between("CO2 share", co2_pct, 0.0, 100.0, "%") / 100.0
    if element == "Fe":
        ferric = between("share of iron burnt to Fe2O3", ferric_pct, 0.0, 100.0, "%")
        atoms = atoms + 0.5 * ferric / 100.0
    return atoms / 2.0 * molar_volume_nm3_kmol() / atomic_weight(element)


@dataclass(frozen=True, repr=False)
class Demand(Record):
    """Oxygen demand of a heat, made by demand().

    Parameters
    ----------
    burnt_kg : dict
        kg of each element burnt.
    by_element_nm3 : dict
        Nm3 of O2 that each of them takes.
    from_oxides_nm3 : float or array
        Nm3 of O2 that ore and scale bring.
    pure_nm3, blown_nm3 : float or array
        O2 to be blown, and oxygen of the given purity, Nm3.
    gas : Gas
        CO and CO2 made, with the rest of the oxygen as N2, at 0 degC.

    Examples
    --------
    >>> round(demand({"C": 7200.0, "Si": 640.0}).per_t(180.0), 1)
    40.2
    """

    burnt_kg: dict
    by_element_nm3: dict
    from_oxides_nm3: Number
    pure_nm3: Number
    blown_nm3: Number
    gas: Gas

    def per_t(self, steel_t: Number) -> Number:
        """Nm3 of oxygen blown per t of steel. steel_t: more than zero. Raises InputError."""
        return self.blown_nm3 / positive("steel", steel_t, "t", zero=False)


def demand(
    burnt_kg: dict,
    *,
    co2_pct: Number = 0.0,
    ferric_pct: Number = 0.0,
    purity_pct: Number = 100.0,
    oxides_kg: dict | None = None,
) -> Demand:
    """Oxygen demand of the elements burnt. Scalars or arrays.

    Parameters
    ----------
    burnt_kg : dict
        kg of each element that burns (for Fe: to slag and dust), zero or more.
    co2_pct : float or array
        Share of the carbon burnt to CO2, 0 to 100 %.
    ferric_pct : float or array
        Share of the iron burnt to Fe2O3, 0 to 100 %.
    purity_pct : float or array
        O2 in the oxygen, 20 to 100 volume %; the rest is counted as N2.
    oxides_kg : dict, optional
        kg of FeO, Fe2O3, Fe3O4 charged that are broken up to iron.

    Returns
    -------
    Demand

    Raises
    ------
    InputError
        Also where the oxides bring more oxygen than is needed.

    References
    ----------
    Stoichiometry; see nm3_per_kg().

    Examples
    --------
    >>> need = demand({"C": 42.0, "Si": 4.0}, co2_pct=10.0)
    >>> round(need.blown_nm3, 2), round(need.gas.pcr(), 2)
    (46.3, 0.1)
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


def oxygen_in_oxide_nm3_kg(oxide: str) -> Number:
    """Oxygen in one kg of an iron oxide broken up to iron.

    Parameters
    ----------
    oxide : {'FeO', 'Fe2O3', 'Fe3O4'}

    Returns
    -------
    float
        Nm3 of O2 per kg.

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry.

    Examples
    --------
    >>> round(oxygen_in_oxide_nm3_kg("Fe2O3"), 4)
    0.2105
    """
    one_of("iron oxide", oxide, oxides_with(element="Fe"))
    return mass_fractions(oxide)["O"] / 2.0 / atomic_weight("O") * molar_volume_nm3_kmol()


def blow_minutes(oxygen_nm3: Number, flow_nm3_min: Number) -> Number:
    """Minutes that a volume of oxygen takes to blow.

    Parameters
    ----------
    oxygen_nm3 : float or array
        Zero or more, Nm3.
    flow_nm3_min : float or array
        More than zero, Nm3/min.

    Returns
    -------
    float or array

    Raises
    ------
    InputError

    Examples
    --------
    >>> blow_minutes(9000.0, 600.0)
    15.0
    """
    return positive("oxygen", oxygen_nm3, "Nm3") / positive(
        "oxygen flow", flow_nm3_min, "Nm3/min", zero=False
    )
