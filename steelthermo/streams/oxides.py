"""Oxides of a slag by mass: checked, in per cent, their basicities, their iron, their cations."""

from types import MappingProxyType

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Table,
    between,
    formula,
    mass_fractions,
    molar_mass,
    one_of,
    positive,
)
from ..thermo import oxide_facts, oxides_with

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


def amounts(oxides: Amounts) -> dict:
    """The amounts of a slag, checked.

    Parameters
    ----------
    oxides : kg or mass % by oxide; scalars or arrays

    Returns
    -------
    float or float array by oxide

    Raises
    ------
    InputError
        For what no slag holds.

    Examples
    --------
    >>> amounts({"CaO": 48, "SiO2": 15})
    {'CaO': 48.0, 'SiO2': 15.0}
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


def to_pct(oxides: Amounts) -> dict:
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


def basicity(oxides: Amounts, definition: str = "CaO/SiO2") -> Number:
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


def optical_basicity(oxides: Amounts, scale: str = "recommended") -> Number:
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


def total_iron(oxides: Amounts) -> Number:
    """Total iron of FeO and Fe2O3.

    Parameters
    ----------
    oxides : kg or mass % by oxide; scalars or arrays

    Returns
    -------
    in the unit of the oxides

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(total_iron({"FeO": 20.0, "Fe2O3": 8.0}), 2)
    21.14
    """
    oxides = amounts(oxides)
    return sum(oxides.get(o, 0.0) * mass_fractions(o)["Fe"] for o in ("FeO", "Fe2O3"))


def iron_oxides(iron: Number, ferric_share: Number = 0.0) -> dict:
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


def iron_as_feo(oxides: Amounts, keep: str = "iron") -> Number:
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


def cation_pct(oxides: Amounts) -> dict:
    """Share of each cation in all cations.

    Parameters
    ----------
    oxides : kg or mass % by oxide; scalars or arrays

    Returns
    -------
    % by ion

    Raises
    ------
    InputError

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
