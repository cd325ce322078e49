"""What oxygen and coolants do to the temperature of the steel: rises and falls from enthalpies, per
tonne of steel.

Heat of the reaction or addition against the heat capacity of the steel alone. Slag and lining take
their part too, so a vessel answers about a tenth less than these figures.
"""

import numpy as np

from ..base import (
    Number,
    Table,
    atomic_weight,
    between,
    kelvin,
    molar_mass,
    one_of,
    plain,
    value,
)
from ..thermo import heat_capacity, oxidation_heat, reaction
from .oxygen import nm3_per_kg


def _kj_per_c(temp_c):
    """Heat capacity of one tonne of steel, kJ/K."""
    T = kelvin(between("temperature of steel", temp_c, 1500.0, 1800.0, "°C"))
    return T, heat_capacity("Fe", T, "liquid", supercooled=True) / molar_mass("Fe") * 1000.0


def _carbon_heat(T, co2_pct, per):
    share = between("CO2 share", co2_pct, 0.0, 100.0, "%") / 100.0
    heats = [
        oxidation_heat(key, T, "dissolved, cold oxygen", "kg") for key in ("C to CO", "C to CO2")
    ]
    kg = (1.0 - share) * heats[0] + share * heats[1]
    return kg / 1000.0 / (nm3_per_kg("C", co2_pct) if per == "nm3" else 1.0)


def rise_c_per_nm3_t(element: str, temp_c: Number = 1650.0, co2_pct: Number = 0.0) -> Number:
    """Rise of the steel for each Nm3 of cold O2 per t of it. Scalars or arrays.

    Parameters
    ----------
    element : {'C', 'Fe'}
        What burns: carbon to CO, iron to FeO.
    temp_c : float or array
        Temperature of the steel, 1500 to 1800 degC.
    co2_pct : float or array
        Share of the carbon that burns to CO2, 0 to 100 %.

    Returns
    -------
    float or array
        degC per Nm3/t, against the heat capacity of the steel alone.

    Raises
    ------
    InputError

    References
    ----------
    thermo.oxidation_heat.

    Examples
    --------
    >>> round(rise_c_per_nm3_t("Fe"), 1)
    23.1
    """
    T, capacity = _kj_per_c(temp_c)
    if one_of("element burnt", element, ("C", "Fe")) == "C":
        return _carbon_heat(T, co2_pct, "nm3") / capacity
    return oxidation_heat("Fe to FeO", T, "dissolved, cold oxygen", "nm3") / 1000.0 / capacity


def rise_c_per_point(temp_c: Number = 1650.0, co2_pct: Number = 0.0) -> Number:
    """Rise of the steel for each 0.01 % of carbon burnt with cold oxygen. Scalars or arrays.

    Parameters
    ----------
    temp_c : float or array
        Temperature of the steel, 1500 to 1800 degC.
    co2_pct : float or array
        Share of the carbon that burns to CO2, 0 to 100 %.

    Returns
    -------
    float or array
        degC.

    Raises
    ------
    InputError

    References
    ----------
    thermo.oxidation_heat.

    Examples
    --------
    >>> round(rise_c_per_point(1650.0), 2)
    1.14
    """
    T, capacity = _kj_per_c(temp_c)
    return 0.1 * _carbon_heat(T, co2_pct, "kg") / capacity


_COOLANTS = Table("coolants")


def coolants() -> dict:
    """The coolants of coolants.csv.

    Returns
    -------
    dict
        Rows by key.

    Examples
    --------
    >>> ", ".join(coolants())
    'scrap, limestone, raw dolomite, lime, ore, ore on carbon'
    """
    return _COOLANTS.by_key


def coolant_effect(key: str, temp_c: Number = 1650.0) -> tuple:
    """What 1 kg of a cold coolant per t of steel does.

    Parameters
    ----------
    key : str
        One of coolants(): pure substances; what a works charges is weaker or stronger by its own
        analysis.
    temp_c : float or array
        Temperature of the steel, 1500 to 1800 degC.

    Returns
    -------
    tuple
        Change of temperature, degC, and change of carbon, mass %; both negative or zero.

    Raises
    ------
    InputError

    References
    ----------
    sources('coolant ' + key).

    Examples
    --------
    >>> fall, carbon = coolant_effect("ore")
    >>> round(fall, 2), round(carbon, 4)
    (-2.59, 0.0)
    """
    r = reaction(_COOLANTS.get(key)["equation"])
    T, capacity = _kj_per_c(temp_c)
    cold = r.terms[0]  # charged at 25 degC; all others are at the temperature of the steel
    heat = sum(
        t.nu * t.enthalpy(value("reference_temperature") if t is cold else T, r.coefficients)
        for t in r.terms
    )  # J per mol of coolant
    mol = 1000.0 / molar_mass(cold.formula)
    carbon = (
        sum(t.nu for t in r.terms if t.dissolved and t.formula == "C")
        * mol
        * atomic_weight("C")
        / 1e6
        * 100.0
    )
    return -heat * mol / 1000.0 / capacity, carbon


def reblow(
    carbon_pct: Number,
    aim_carbon_pct: Number,
    temp_c: Number = 1650.0,
    carbon_share_pct: Number = 50.0,
    co2_pct: Number = 5.0,
) -> dict:
    """A second blow from one carbon down to another, per t of steel; no heat loss counted.

    Parameters
    ----------
    carbon_pct, aim_carbon_pct : float or array
        Carbon before and after, 0 to 5 mass %.
    temp_c : float or array
        Temperature of the steel, 1500 to 1800 degC.
    carbon_share_pct : float or array
        Share of the oxygen that burns carbon, 1 to 100 % (plant value: some 70 % at 0.08 % C, 30 %
        below 0.04 %); the rest burns iron to FeO.
    co2_pct : float or array
        Share of the carbon that burns to CO2, 0 to 100 %.

    Returns
    -------
    dict
        oxygen_nm3_t, rise_c, iron_kg_t, feo_kg_t: floats or arrays.

    Raises
    ------
    InputError

    Examples
    --------
    >>> again = reblow(0.08, 0.05)
    >>> round(again["oxygen_nm3_t"], 2), round(again["rise_c"], 1)
    (0.59, 10.6)
    """
    carbon = np.maximum(
        between("carbon", carbon_pct, 0.0, 5.0, "%")
        - between("aim of carbon", aim_carbon_pct, 0.0, 5.0, "%"),
        0.0,
    )
    share = between("share of oxygen that burns carbon", carbon_share_pct, 1.0, 100.0, "%") / 100.0
    for_carbon = 10.0 * carbon * nm3_per_kg("C", co2_pct)
    total = for_carbon / share
    iron = total - for_carbon
    rise = for_carbon * rise_c_per_nm3_t("C", temp_c, co2_pct) + iron * rise_c_per_nm3_t(
        "Fe", temp_c
    )
    iron_kg = iron / nm3_per_kg("Fe")
    out = {
        "oxygen_nm3_t": total,
        "rise_c": rise,
        "iron_kg_t": iron_kg,
        "feo_kg_t": iron_kg * molar_mass("FeO") / molar_mass("Fe"),
    }
    return {k: plain(v) for k, v in out.items()}


def coolant_sources(text: str) -> tuple:
    """Where a coolant comes from: what sources() asks.

    Parameters
    ----------
    text : such as 'coolant scrap'

    Returns
    -------
    of Provenance: of the row, and of the substances in it

    Raises
    ------
    InputError

    Examples
    --------
    >>> coolant_sources("coolant ore")[0].status
    'derived'
    """
    key = text.removeprefix("coolant ")
    return (*_COOLANTS.provenance(key), *reaction(_COOLANTS.get(key)["equation"]).provenance)
