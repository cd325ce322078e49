"""Units of the trade and of thermodynamics, converted through one table (units.csv). Nm3: 0
degC and 101.325 kPa.
"""

from functools import cache

import numpy as np

from .errors import InputError, between, finite, positive
from .hints import Number
from .tables import Table, value

_UNITS = Table("units")


def quantity_of(unit: str) -> str:
    """The physical quantity that a unit measures.

    Parameters
    ----------
    unit : such as MJ/kg

    Returns
    -------
    its name

    Raises
    ------
    InputError

    Examples
    --------
    >>> quantity_of("MJ/kg")
    'energy per mass'
    """
    return _UNITS.get(unit)["quantity"]


def units_of(quantity: str) -> tuple:
    """All known units of a quantity.

    Parameters
    ----------
    quantity : as of quantity_of()

    Returns
    -------
    names, none for an unknown quantity

    Examples
    --------
    >>> units_of("temperature")
    ('K', '°C')
    """
    return tuple(row["unit"] for row in _UNITS.rows if row["quantity"] == quantity)


def convert(number: Number, given: str, wanted: str) -> Number:
    """Convert from one unit to another of the same quantity.

    Parameters
    ----------
    number : scalar or array
    given, wanted : units

    Returns
    -------
    in the unit wanted

    Raises
    ------
    InputError
        Also below absolute zero.

    Examples
    --------
    >>> round(convert(1.0, "kWh/t", "MJ/kg"), 6)
    0.0036
    """
    a, b = _UNITS.get(given), _UNITS.get(wanted)
    if a["quantity"] != b["quantity"]:
        raise InputError(
            f"unit: {given} measures {a['quantity']} and cannot become {wanted}, which measures "
            f"{b['quantity']}."
        )
    base = finite("number to convert", number, given) * a["factor"] + a["offset"]
    if a["quantity"] == "temperature":
        positive("temperature to convert, in K", base, "K")
    return (base - b["offset"]) / b["factor"]


def kelvin(temp_c: Number, name: str = "temperature") -> Number:
    """Kelvin from degrees Celsius.

    Parameters
    ----------
    temp_c : absolute zero to 5000 degC; scalar or array
    name : what the message calls it

    Returns
    -------
    K

    Raises
    ------
    InputError

    Examples
    --------
    >>> kelvin(1600.0)
    1873.15
    """
    return between(name, temp_c, -value("celsius_zero_k"), 5000.0, "°C") + value("celsius_zero_k")


def celsius(T: Number, name: str = "temperature") -> Number:
    """Degrees Celsius from kelvin.

    Parameters
    ----------
    T : 0 to 6000 K; scalar or array
    name : what the message calls it

    Returns
    -------
    degC

    Raises
    ------
    InputError

    Examples
    --------
    >>> celsius(1873.15)
    1600.0
    """
    return between(name, T, 0.0, 6000.0, "K") - value("celsius_zero_k")


@cache
def molar_volume_nm3_kmol() -> float:
    """Volume of one kmol of ideal gas at 0 degC and 101.325 kPa.

    Returns
    -------
    Nm3/kmol

    References
    ----------
    Derived from R and the two definitions.

    Examples
    --------
    >>> round(molar_volume_nm3_kmol(), 3)
    22.414
    """
    return 1000.0 * value("gas_constant") * value("celsius_zero_k") / value("normal_pressure")


def nm3_to_mol(nm3: Number) -> Number:
    """Amount of an ideal gas from its volume.

    Parameters
    ----------
    nm3 : scalar or array

    Returns
    -------
    mol

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(nm3_to_mol(1.0), 2)
    44.62
    """
    return finite("volume of gas", nm3, "Nm3") * 1000.0 / molar_volume_nm3_kmol()


def rising_gas_w(nm3_min: Number, T: Number, pressure_ratio: Number) -> Number:
    """Power that a gas gives to the liquid in which it rises: the isothermal work of an ideal gas.

    Parameters
    ----------
    nm3_min : Nm3/min
    T : of the liquid, K
    pressure_ratio : pressure where the gas enters over that at the surface; arrays broadcast

    Returns
    -------
    W

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(rising_gas_w(0.5, 1873.15, 3.0))
    6361
    """
    T = positive("temperature of the liquid", T, "K", zero=False)
    ratio = positive("ratio of pressures", pressure_ratio, "1", zero=False)
    return nm3_to_mol(nm3_min) / 60.0 * value("gas_constant") * T * np.log(ratio)


def mol_to_nm3(mol: Number) -> Number:
    """Volume of an ideal gas from its amount.

    Parameters
    ----------
    mol : scalar or array

    Returns
    -------
    Nm3

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(mol_to_nm3(1000.0), 3)
    22.414
    """
    return finite("amount of gas", mol, "mol") * molar_volume_nm3_kmol() / 1000.0
