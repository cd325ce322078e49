"""Units of the trade and of thermodynamics, converted through one table (units.csv). Nm3: 0
degC and 101.325 kPa.
"""

from functools import cache

from .errors import InputError, between, finite, positive
from .tables import Table, value

_UNITS = Table("units")


def quantity_of(unit):
    """The physical quantity that a unit measures, such as 'energy per mass' for MJ/kg. Raises
    InputError.
    """
    return _UNITS.get(unit)["quantity"]


def units_of(quantity):
    """All known units of a quantity, as a tuple."""
    return tuple(row["unit"] for row in _UNITS.rows if row["quantity"] == quantity)


def convert(number, given, wanted):
    """Convert a number (scalar or array) from one unit to another of the same quantity. Raises
    InputError, also below absolute zero.

    Example: convert(1.0, 'kWh/t', 'MJ/kg') is 0.0036.
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


def kelvin(temp_c, name="temperature"):
    """Kelvin from degrees Celsius; refuses what lies below absolute zero."""
    return between(name, temp_c, -value("celsius_zero_k"), 5000.0, "°C") + value("celsius_zero_k")


def celsius(T, name="temperature"):
    """Degrees Celsius from kelvin; refuses negative kelvin."""
    return between(name, T, 0.0, 6000.0, "K") - value("celsius_zero_k")


@cache
def molar_volume_nm3_kmol():
    """Nm3 in one kmol of ideal gas at 0 degC and 101.325 kPa (22.414): derived from R and the two
    definitions.
    """
    return 1000.0 * value("gas_constant") * value("celsius_zero_k") / value("normal_pressure")


def nm3_to_mol(nm3):
    """Mol in a volume of ideal gas in Nm3 (scalar or array). Raises InputError."""
    return finite("volume of gas", nm3, "Nm3") * 1000.0 / molar_volume_nm3_kmol()


def mol_to_nm3(mol):
    """Nm3 of an amount of ideal gas in mol (scalar or array). Raises InputError."""
    return finite("amount of gas", mol, "mol") * molar_volume_nm3_kmol() / 1000.0
