"""A gas at chemical equilibrium, at a temperature or at an enthalpy."""

import numpy as np

from ..base import (
    InputError,
    Number,
    between,
    celsius,
    common_shape,
    finite,
    formula,
    kelvin,
    molar_volume_nm3_kmol,
    plain,
    value,
    warn_where,
)
from ..thermo import gas_at_equilibrium, gibbs
from .gas import Gas, burning

# What the equilibrium may form, as far as its elements are there; carbon that would deposit is left
# out and warned of.
_EQUILIBRIUM = "CO CO2 O2 N2 Ar H2 H2O CH4 O H OH NO SO2 SO S2 H2S COS".split()
_ADIABATIC_C = 500.0, 3200.0  # lowest and highest temperature that a given enthalpy may lead to
_SEARCHED_K = 763.0, 3483.0  # ten degrees more, so that a heat outside ends outside


def gas_equilibrium(
    gas: Gas,
    temp_c: Number | None = None,
    pressure_kpa: Number = 101.325,
    enthalpy_kj: Number | None = None,
) -> Gas:
    """A gas at chemical equilibrium. Solid carbon is left out.

    Parameters
    ----------
    gas : of C, H, O, N, S, Ar; all arguments broadcast
    temp_c : 300 to 3200 degC; None: that of the gas
    pressure_kpa : absolute, 10 to 1000
    enthalpy_kj : of the whole gas, instead of temp_c
        adiabatic burning: that of gas and air together; where it leads to 500 to 3200 degC

    Returns
    -------
    Gas of the species formed; elements are kept

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning where the gas would deposit carbon.

    References
    ----------
    sources('CO')

    Examples
    --------
    >>> burnt = gas_equilibrium(Gas({"CO": 2.0, "O2": 1.0}, 25.0), 2500.0)
    >>> round(burnt.mole_pct()["CO2"], 1)
    62.2
    """
    for species in gas.nm3:
        burning(species)  # refuses other elements
    if enthalpy_kj is None:
        given = between(
            "temperature of equilibrium",
            gas.temp_c if temp_c is None else temp_c,
            300.0,
            3200.0,
            "°C",
        )
    else:
        if temp_c is not None:
            raise InputError(
                "equilibrium: both temp_c and enthalpy_kj were given; one of them is needed."
            )
        given = finite("enthalpy of the gas", enthalpy_kj, "kJ")
    pressure_kpa = between("pressure of equilibrium", pressure_kpa, 10.0, 1000.0, "kPa absolute")
    shape = common_shape("equilibrium", given, pressure_kpa, *gas.nm3.values())
    held = [e for e, kg in gas.element_kg().items() if np.any(np.asarray(kg) > 0)]
    if not held or np.any(np.asarray(gas.total_nm3) <= 0):
        raise InputError("equilibrium: the volume of the gas is zero.")
    chosen = [s for s in _EQUILIBRIUM if set(formula(s)) <= set(held)]
    given, pressure, *volumes = (
        np.array(np.broadcast_to(x, shape), dtype=float).ravel()
        for x in (given, pressure_kpa, *(gas.nm3.get(s, 0.0) for s in chosen))
    )
    kmol = np.array(volumes) / molar_volume_nm3_kmol()
    # amounts that no one could measure, on which the search gives up
    kmol[kmol < 1e-30 * kmol.sum(axis=0)] = 0.0
    # The engine counts the data's entropies as those at 101325 Pa, but they are those at 1 bar: a
    # pressure raised as much puts that right.
    pascal = pressure * 1000.0 * value("normal_pressure") / value("standard_pressure")
    if enthalpy_kj is None:
        T, kmol = gas_at_equilibrium(chosen, kmol, pascal, T=kelvin(given))
    else:
        T, kmol = gas_at_equilibrium(
            chosen, kmol, pascal, enthalpy_j=given * 1000.0, within=_SEARCHED_K
        )
        _refuse_outside(celsius(T))
    nm3 = {
        s: plain((amount * molar_volume_nm3_kmol()).reshape(shape))
        for s, amount in zip(chosen, kmol, strict=True)
    }
    T = plain(T.reshape(shape))
    _warn_of_carbon(nm3, T, pressure_kpa)
    return Gas(nm3, celsius(T))


def _refuse_outside(temp_c):
    low, high = _ADIABATIC_C
    if np.all((low <= temp_c) & (temp_c <= high)):
        return
    side = f"below {low:g} °C" if np.any(temp_c < low) else f"above {high:g} °C"
    raise InputError(
        f"equilibrium: the heat given puts the gas {side}; allowed is {low:g} to {high:g} °C."
    )


def _warn_of_carbon(nm3, T, pressure_kpa):
    """Boudouard: 2 CO = C + CO2. Carbon deposits where its activity would pass one."""
    if "CO" not in nm3:
        return
    total = sum(nm3.values())
    co, co2 = (np.maximum(nm3[s] / total * pressure_kpa / 100.0, 1e-300) for s in ("CO", "CO2"))
    change = gibbs("C", T) + gibbs("CO2", T, "g") - 2.0 * gibbs("CO", T, "g")
    activity = np.exp(
        -change / (value("gas_constant") * np.asarray(T)) + 2.0 * np.log(co) - np.log(co2)
    )
    warn_where(
        activity > 1.0,
        "equilibrium: this gas would deposit carbon (activity above one), which is left out; the "
        "composition is that of the gas alone.",
    )
