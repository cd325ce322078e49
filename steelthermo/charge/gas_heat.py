"""What becomes of the off-gas and its heat: combustion in the hood, preheating and melting of
scrap.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    between,
    celsius,
    common_shape,
    find_root,
    kelvin,
    molar_mass,
    plain,
    positive,
    value,
)
from ..streams import Gas, air, mix, oxygen_to_burn_nm3
from ..streams import gas_equilibrium as equilibrium
from ..thermo import enthalpy


@dataclass(frozen=True, repr=False)
class HoodGas(Record):
    """Gas after air has joined in the hood. air_nm3: dry air drawn in; burnt: the gas at
    equilibrium before it gives up any heat; cooled: the gas at the end of the hood; heat_mj: what
    it gives up on the way.
    """

    air_nm3: Number
    burnt: Gas
    cooled: Gas
    heat_mj: Number

    @property
    def provenance(self) -> tuple:
        """Sources of the gas data."""
        return self.burnt.provenance


def hood(
    gas: Gas,
    air_factor: Number,
    air_temp_c: Number = 25.0,
    humidity_pct: Number = 0.0,
    out_temp_c: Number = 1000.0,
) -> HoodGas:
    """Combustion in the hood with air, by equilibrium at constant enthalpy.

    Parameters
    ----------
    gas : Gas at the mouth, not burnt out; arrays broadcast
    air_factor : air drawn in over air for complete combustion, 0 to 6: 0.05 to 0.15 is a closed
        hood (suppressed combustion), above 1 an open one (full combustion)
    air_temp_c : -40 to 60 degC
    humidity_pct : as of air()
    out_temp_c : at the end of the hood, 100 to 1500 degC; the heat given up to there is negative
        where the gas never was so hot

    Returns
    -------
    HoodGas

    Raises
    ------
    InputError

    References
    ----------
    Enthalpies of the gases

    Examples
    --------
    >>> from steelthermo.charge import converter_gas
    >>> closed = hood(converter_gas(43.0, 0.1, 1600.0), 0.1)
    >>> round(closed.air_nm3, 1), round(closed.burnt.temp_c), round(closed.heat_mj, 1)
    (17.2, 1896, 147.8)
    """
    factor = between("air factor", air_factor, 0.0, 6.0, hint="1 is just complete combustion.")
    need = oxygen_to_burn_nm3(gas)
    if np.any(np.asarray(need) <= 0):
        raise InputError(
            "hood: the gas holds nothing left to burn; an air factor has no meaning for it."
        )
    out_temp_c = between("temperature at the end of the hood", out_temp_c, 100.0, 1500.0, "°C")
    fresh = air(
        factor * need / (value("air_o2_pct") / 100.0),
        between("air temperature", air_temp_c, -40.0, 60.0, "°C"),
        humidity_pct,
    )
    common_shape(
        "hood", fresh.temp_c, out_temp_c, gas.temp_c, *gas.nm3.values(), *fresh.nm3.values()
    )
    total = gas.enthalpy_kj() + fresh.enthalpy_kj()
    together = mix(gas.at(25.0), fresh.at(25.0))
    burnt = equilibrium(together, enthalpy_kj=total)
    # On cooling: at 1000 degC dissociation is gone and reactions still run; from there down the
    # composition is taken as frozen.
    cooled = equilibrium(together, 1000.0).at(out_temp_c)
    return HoodGas(
        sum(fresh.nm3[s] for s in ("O2", "N2", "Ar")),
        burnt,
        cooled,
        (total - cooled.enthalpy_kj()) / 1000.0,
    )


@dataclass(frozen=True, repr=False)
class Preheat(Record):
    """Scrap heated by gas. scrap_temp_c; heat_mj: heat in the scrap; gas: cooled, as it leaves;
    lost_mj: heat given up by the gas that missed the scrap.
    """

    scrap_temp_c: Number
    heat_mj: Number
    lost_mj: Number
    gas: Gas

    @property
    def provenance(self) -> tuple:
        """Sources of the gas data."""
        return self.gas.provenance


def preheat_scrap(
    gas: Gas,
    scrap_kg: Number,
    gas_out_c: Number,
    efficiency: Number = 1.0,
    scrap_temp_c: Number = 25.0,
) -> Preheat:
    """Scrap preheated by the sensible heat of a gas, counted as iron.

    Take care: preheated scrap gives off smoke, and its gas holds CO; wet or oily scrap and closed
    containers never go in.

    Parameters
    ----------
    gas : Gas, not reacting (no burning of its CO here: hood() does that); arrays broadcast
    scrap_kg : more than zero
    gas_out_c : at which the gas leaves the scrap, between that of the scrap and its own
    efficiency : share of the heat given up that stays in the scrap, 0 to 1
    scrap_temp_c : 25 to 400 degC

    Returns
    -------
    Preheat

    Raises
    ------
    InputError
        Also where the scrap would pass 1000 degC or the temperature of the gas.

    References
    ----------
    Enthalpies of iron and of the gases

    Examples
    --------
    >>> from steelthermo.charge import converter_gas
    >>> warm = preheat_scrap(converter_gas(43.0, 0.1, 1600.0), 250.0, 500.0, 0.6)
    >>> round(warm.scrap_temp_c), round(warm.heat_mj)
    (623, 86)
    """
    scrap_kg = positive("scrap", scrap_kg, "kg", zero=False)
    start_c = between("temperature of the scrap", scrap_temp_c, 25.0, 400.0, "°C")
    out_c = between("temperature of the leaving gas", gas_out_c, 25.0, 3000.0, "°C")
    share = between(
        "efficiency of preheating", efficiency, 0.0, 1.0, hint="A fraction: 60 % is 0.6."
    )
    shape = common_shape(
        "scrap preheating", scrap_kg, start_c, out_c, share, gas.temp_c, *gas.nm3.values()
    )
    if np.any((np.asarray(out_c) > gas.temp_c) | (np.asarray(out_c) < start_c)):
        raise InputError(
            f"temperature of the leaving gas: {np.max(out_c):g} °C was given; allowed is from that "
            "of the scrap to that of the gas."
        )
    given = gas.sensible_kj(out_c)
    per_kg = np.asarray(share * given / scrap_kg)
    mass = molar_mass("Fe")
    start_h = enthalpy("Fe", kelvin(start_c)) / mass
    low, high = np.full(shape, 298.0), np.full(shape, kelvin(1000.0))
    if np.any(per_kg + start_h > enthalpy("Fe", kelvin(1000.0)) / mass):
        raise InputError(
            "scrap preheating: the heat would bring the scrap above 1000 °C; take more scrap, less "
            "gas or a lower efficiency."
        )
    end_c = celsius(find_root(lambda T: enthalpy("Fe", T) / mass - start_h - per_kg, low, high))
    if np.any(end_c > np.asarray(gas.temp_c) + 1e-6):
        raise InputError(
            "scrap preheating: the scrap would become hotter than the gas that heats it; take more "
            "scrap or a hotter leaving gas."
        )
    return Preheat(
        plain(end_c), share * given / 1000.0, (1.0 - share) * given / 1000.0, gas.at(out_c)
    )


def scrap_melted_kg(
    heat_mj: Number, steel_temp_c: Number = 1650.0, scrap_temp_c: Number = 25.0
) -> Number:
    """Scrap, counted as iron, that a heat brings to liquid steel.

    Parameters
    ----------
    heat_mj : MJ; arrays broadcast
    steel_temp_c : 1540 to 1750 degC
    scrap_temp_c : 25 to 1000 degC

    Returns
    -------
    kg

    Raises
    ------
    InputError

    References
    ----------
    sources('Fe')

    Examples
    --------
    >>> round(scrap_melted_kg(100.0), 1)
    71.7
    """
    hot = enthalpy("Fe", kelvin(between("steel temperature", steel_temp_c, 1540.0, 1750.0, "°C")))
    cold = enthalpy(
        "Fe", kelvin(between("temperature of the scrap", scrap_temp_c, 25.0, 1000.0, "°C"))
    )
    return positive("heat", heat_mj, "MJ") * 1000.0 / ((hot - cold) / molar_mass("Fe"))
