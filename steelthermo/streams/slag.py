"""What a slag is: the record of a slag, its basicities, its iron, its views in moles and cations,
its heat.

Heat by named compounds: phosphorus as 3CaO.P2O5, silica as 2CaO.SiO2 as far as the lime reaches,
the rest as oxides.
"""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import (
    InputError,
    Table,
    between,
    formula,
    kelvin,
    mass_fractions,
    mass_to_mole_pct,
    molar_mass,
    one_of,
    plain,
    positive,
)
from ..thermo import enthalpy, oxide_facts, oxides_with, share_lime, substance
from .stream import Stream, element_kg, frozen

# Components of a slag and the phase in which the heat of each is counted at steelmaking
# temperature; P2O5 without lime has no data there and is refused.
OXIDES = MappingProxyType({o: oxide_facts(o)["phase"] for o in oxides_with(found="slag")})

# Bases over acids, each with its weight.
BASICITIES = MappingProxyType(
    {
        "CaO/SiO2": ({"CaO": 1.0}, {"SiO2": 1.0}),
        "CaO/(SiO2+P2O5)": ({"CaO": 1.0}, {"SiO2": 1.0, "P2O5": 1.0}),
        "(CaO+MgO)/(SiO2+Al2O3)": ({"CaO": 1.0, "MgO": 1.0}, {"SiO2": 1.0, "Al2O3": 1.0}),
        "(CaO+0.3MgO)/(SiO2+P2O5)": ({"CaO": 1.0, "MgO": 0.3}, {"SiO2": 1.0, "P2O5": 1.0}),
    }
)

# oxides without an optical basicity may make up so much of a slag and are then left out of the mean
TRACES_PCT = 3.0


def amounts(oxides: dict) -> dict:
    """The amounts of a slag, checked: a dict of oxide to plain float or float array. Raises
    InputError for what no slag holds.
    """
    out = {}
    for name, amount in oxides.items():
        if name not in OXIDES:
            raise InputError(
                f"slag: {name!r} was given; a slag of the kit holds {', '.join(OXIDES)}."
            )
        amount = positive(f"{name} in slag", amount)
        out[name] = float(amount) if isinstance(amount, float) else amount
    return out


def to_pct(oxides: dict) -> dict:
    """Mass % of each component, adding up to 100.

    Parameters
    ----------
    oxides : dict
        kg or mass % of each oxide.

    Returns
    -------
    dict

    Raises
    ------
    InputError
        Also for a slag without mass.

    Examples
    --------
    >>> to_pct({"CaO": 30.0, "SiO2": 10.0})
    {'CaO': 75.0, 'SiO2': 25.0}
    """
    kg = amounts(oxides)
    total = sum(kg.values())
    if np.any(np.asarray(total) <= 0):
        raise InputError("slag: it holds nothing; more than zero of some oxide is needed.")
    return {oxide: 100.0 * x / total for oxide, x in kg.items()}


def basicity(oxides: dict, definition: str = "CaO/SiO2") -> float:
    """Basicity of a slag by a named definition.

    Parameters
    ----------
    oxides : dict
        kg or mass % of each oxide; scalars or arrays.
    definition : str
        A key of BASICITIES (ratios of mass), or 'molar' for moles of CaO to moles of SiO2.

    Returns
    -------
    float or array
        Dimensionless.

    Raises
    ------
    InputError
        For an unknown definition and for a slag without the acid oxides.

    References
    ----------
    Definitions in use in the trade; CaO/SiO2 as in Britannica, 'Steel: the slag'; the one with
    0.3 MgO as in Suito and Inoue, Tetsu-to-Hagane 70 (1984) 672 (key suito84mn).

    Examples
    --------
    >>> basicity({"CaO": 48.0, "SiO2": 15.0})
    3.2
    """
    oxides = amounts(oxides)
    if definition == "molar":
        return basicity(oxides) * molar_mass("SiO2") / molar_mass("CaO")
    one_of("basicity", definition, (*BASICITIES, "molar"))
    above, below = (
        sum(w * oxides.get(o, 0.0) for o, w in side.items()) for side in BASICITIES[definition]
    )
    if np.any(np.asarray(below) <= 0):
        raise InputError(
            f"basicity {definition}: the slag holds no {' or '.join(BASICITIES[definition][1])}; "
            "more than zero is needed."
        )
    return above / below


def optical_basicity(oxides: dict, scale: str = "recommended") -> float:
    """Optical basicity of a slag: mean of the oxides' values, weighted by the oxygen each brings.

    Parameters
    ----------
    oxides : dict
        kg or mass % of each oxide. Those without a value (V2O3, Cr2O3) up to 3 % of the slag are
        left out of the mean; sulphides bring no oxygen.
    scale : {'recommended', 'pauling', 'density'}
        Three published sets that must not be mixed (FeO alone moves a converter slag by 0.09
        between them).

    Returns
    -------
    float or array

    Raises
    ------
    InputError

    References
    ----------
    optical_basicity.csv, read second-hand.

    Examples
    --------
    >>> round(optical_basicity({"CaO": 48.0, "SiO2": 15.0, "FeO": 22.0}), 2)
    0.83
    """
    oxides = amounts(oxides)
    table = Table("optical_basicity").where("scale", scale)
    values = {row["oxide"]: row["value"] for row in table}
    unknown = {o: kg for o, kg in oxides.items() if o not in values and "O" in formula(o)}
    if np.any(np.asarray(sum(unknown.values())) > TRACES_PCT / 100.0 * sum(oxides.values())):
        raise InputError(
            f"optical basicity: there is no value for {' and '.join(unknown)} in the scale "
            f"{scale!r}; up to {TRACES_PCT:g} % of the slag may be such oxides."
        )
    oxygen = {o: kg * mass_fractions(o)["O"] for o, kg in oxides.items() if o in values}
    weight = sum(oxygen.values())
    if np.any(np.asarray(weight) <= 0):
        raise InputError("optical basicity: the slag holds no oxide; more than zero is needed.")
    return sum(x * values[o] for o, x in oxygen.items()) / weight


def total_iron(oxides: dict) -> float:
    """Total iron of FeO and Fe2O3, in the unit of the oxides (kg or mass %). Raises InputError.

    Examples
    --------
    >>> round(total_iron({"FeO": 20.0, "Fe2O3": 8.0}), 2)
    21.14
    """
    oxides = amounts(oxides)
    return sum(oxides.get(o, 0.0) * mass_fractions(o)["Fe"] for o in ("FeO", "Fe2O3"))


def iron_oxides(iron: float, ferric_share: float = 0.0) -> dict:
    """FeO and Fe2O3 from total iron.

    Parameters
    ----------
    iron : float or array
        Total iron, kg or mass %, zero or more.
    ferric_share : float or array
        Share of the iron that is Fe3+, 0 to 1 (tapped slag about 0.2 to 0.3, see constant
        ferric_share).

    Returns
    -------
    dict
        FeO and Fe2O3 in the unit of iron.

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(iron_oxides(20.0, 0.25)["Fe2O3"], 2)
    7.15
    """
    iron, ferric = (
        positive("total iron of slag", iron),
        between("share of Fe3+", ferric_share, 0.0, 1.0),
    )
    return {
        "FeO": iron * (1.0 - ferric) / mass_fractions("FeO")["Fe"],
        "Fe2O3": iron * ferric / mass_fractions("Fe2O3")["Fe"],
    }


def iron_as_feo(oxides: dict, keep: str = "iron") -> float:
    """All iron oxide counted as FeO, in the unit of the oxides (kg or mass %).

    Parameters
    ----------
    oxides : dict
        kg or mass % of each oxide.
    keep : {'iron', 'oxidising power'}
        'iron' counts Fe2O3 as the FeO that holds the same iron (x 0.8998: FetO of the partition
        equations); 'oxidising power' as the FeO it makes with metal, Fe2O3 + Fe = 3 FeO (x 1.3497).
        State which one is meant.

    Returns
    -------
    float or array

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(iron_as_feo({"FeO": 20.0, "Fe2O3": 8.0}), 2)
    27.2
    """
    mole = molar_mass("FeO") / molar_mass("Fe2O3")
    factors = {"iron": 2.0 * mole, "oxidising power": 3.0 * mole}
    one_of("iron oxide as FeO, keep", keep, factors)
    oxides = amounts(oxides)
    return oxides.get("FeO", 0.0) + factors[keep] * oxides.get("Fe2O3", 0.0)


def cation_pct(oxides: dict) -> dict:
    """Share of each cation in all cations, %, as a dict by ion. oxides: kg or mass %. Raises
    InputError.

    Examples
    --------
    >>> [f"{ion} {pct:.1f}" for ion, pct in cation_pct({"CaO": 48.0, "SiO2": 15.0}).items()]
    ['Ca2+ 77.4', 'Si4+ 22.6']
    """
    out = {}
    for oxide, pct in to_pct(oxides).items():
        (metal, atoms), (_, anions) = formula(oxide).items()
        ion = f"{metal}{2.0 * anions / atoms:g}+"
        out[ion] = out.get(ion, 0.0) + pct / molar_mass(oxide) * atoms
    total = sum(out.values())
    return {ion: 100.0 * x / total for ion, x in out.items()}


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
    temp_c: float
    _title, _amount = "slag", "oxides_kg"

    def __post_init__(self):
        temp_c = between(
            "temperature of slag",
            self.temp_c,
            1380.0,
            1726.0,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        )
        frozen(self, temp_c=temp_c, oxides_kg=amounts(self.oxides_kg))

    @property
    def mass_kg(self) -> float:
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
    def iron_total_pct(self) -> float:
        """Total iron in the slag, mass %, from FeO and Fe2O3."""
        return total_iron(self.analysis_pct)

    def basicity(self, definition: str = "CaO/SiO2") -> float:
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

    def enthalpy_kj(self) -> float:
        """Enthalpy of the whole slag, kJ, against the elements at 298.15 K, heat of slag formation
        included.
        """
        T = kelvin(self.temp_c)
        return (
            sum(
                mol * enthalpy(name, T, OXIDES.get(name))
                for name, mol in self.compounds_mol().items()
            )
            / 1000.0
        )

    @property
    def provenance(self):
        """Sources of the heat contents used."""
        return tuple(p for name in self.compounds_mol() for p in substance(name).provenance)
