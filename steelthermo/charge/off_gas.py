"""Off-gas of the vessel: post-combustion and the heat it returns, combustion in the hood, scrap
preheating, carbon rate, and CO danger.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    atomic_weight,
    between,
    common_shape,
    kelvin,
    molar_volume_nm3_kmol,
    plain,
    positive,
    value,
)
from ..streams import Gas
from ..thermo import enthalpy


def _pcr(pcr):
    return between(
        "post-combustion ratio",
        pcr,
        0.0,
        1.0,
        hint="It is CO2/(CO + CO2), a fraction: 10 % is 0.1.",
    )


def converter_gas(
    carbon_kg: Number, pcr: Number, temp_c: Number, other_nm3: Amounts | None = None
) -> Gas:
    """Gas at the mouth of the vessel from burnt carbon, before any air.

    Parameters
    ----------
    carbon_kg : carbon burnt, zero or more; arrays broadcast
    pcr : CO2/(CO + CO2) by volume, 0 to 1
    temp_c : of the gas, -70 to 3500 degC
    other_nm3 : other species, such as {'N2': 5}, Nm3

    Returns
    -------
    Gas

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry

    Examples
    --------
    >>> gas = converter_gas(43.0, 0.1, 1600.0)
    >>> round(gas.nm3["CO"], 1), round(gas.nm3["CO2"], 1)
    (72.2, 8.0)
    """
    nm3 = positive("carbon burnt", carbon_kg, "kg") / atomic_weight("C") * molar_volume_nm3_kmol()
    pcr = _pcr(pcr)
    return Gas({"CO": nm3 * (1.0 - pcr), "CO2": nm3 * pcr} | dict(other_nm3 or {}), temp_c)


def carbon_rate_kg_min(flow_nm3_min: Number, co_pct: Number, co2_pct: Number) -> Number:
    """Carbon leaving with the gas.

    Holds before or after air has joined, as long as flow and analysis belong to the same place and
    the flow is dry if the analysis is.

    Parameters
    ----------
    flow_nm3_min : of the gas; arrays broadcast
    co_pct, co2_pct : volume %, 0 to 100

    Returns
    -------
    kg/min

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry

    Examples
    --------
    >>> round(carbon_rate_kg_min(800.0, 60.0, 15.0))
    322
    """
    co, co2 = (
        between("CO in the gas", co_pct, 0.0, 100.0, "%"),
        between("CO2 in the gas", co2_pct, 0.0, 100.0, "%"),
    )
    _no_more_than_100(co, co2)
    return (
        positive("flow of the gas", flow_nm3_min, "Nm3/min")
        * (co + co2)
        / 100.0
        / molar_volume_nm3_kmol()
        * atomic_weight("C")
    )


def _no_more_than_100(*parts):
    common_shape("gas analysis", *parts)
    total = np.asarray(sum(parts))
    if np.any(total > 100.5):
        raise InputError(
            f"gas analysis: the parts given add up to {np.max(total):g} %; allowed is 100 %."
        )


def mouth_pcr(
    co_pct: Number,
    co2_pct: Number,
    n2_pct: Number = 0.0,
    o2_pct: Number = 0.0,
    n2_other_pct: Number = 0.0,
) -> Number:
    """Post-combustion ratio at the mouth from an analysis taken where some air has joined and burnt
    CO.

    The nitrogen of the air tells how much oxygen came with it; what is not found as O2 has burnt CO
    to CO2.

    Parameters
    ----------
    co_pct, co2_pct, n2_pct, o2_pct : volume % of the same gas; arrays broadcast
    n2_other_pct : the part of n2_pct that did not come with air (stirring gas, lance)

    Returns
    -------
    CO2/(CO + CO2), 0 to 1

    Raises
    ------
    InputError
        Where the analysis contradicts itself.

    References
    ----------
    Balance of oxygen; air: sources('air_o2_pct')

    Examples
    --------
    >>> round(mouth_pcr(62.0, 16.0, 20.0, 0.2), 3)
    0.073
    """
    named = {"CO": co_pct, "CO2": co2_pct, "N2": n2_pct, "O2": o2_pct}
    co, co2, n2, o2 = (between(f"{s} in the gas", pct, 0.0, 100.0, "%") for s, pct in named.items())
    _no_more_than_100(co, co2, n2, o2)
    other = between("nitrogen that did not come with air", n2_other_pct, 0.0, 100.0, "%")
    common_shape("gas analysis", other, co, co2, n2, o2)
    if np.any(np.asarray(co + co2) <= 0):
        raise InputError("post-combustion ratio: the gas holds neither CO nor CO2.")
    if np.any(np.asarray(n2 - other) < 0):
        raise InputError(
            "gas analysis: more nitrogen is said to come from elsewhere than the gas holds."
        )
    burnt = 2.0 * ((n2 - other) * value("air_o2_pct") / value("air_n2_pct") - o2)
    if np.any(np.asarray(burnt) < -0.4):  # twice the usual rounding of an oxygen analysis to 0.1 %
        raise InputError(
            "gas analysis: it holds more oxygen than its nitrogen can have brought as air; check "
            "the O2 or N2 reading."
        )
    at_mouth = co2 - np.maximum(burnt, 0.0)
    if np.any(np.asarray(at_mouth) < -0.5):
        raise InputError(
            "gas analysis: its air would have burnt more CO to CO2 than the CO2 found; check the "
            "readings, or give n2_other_pct."
        )
    return plain(np.maximum(at_mouth, 0.0) / (co + co2))


@dataclass(frozen=True, repr=False)
class PostCombustion(Record):
    """Heat of burning CO to CO2 above the bath. heat_mj: all of it; to_bath_mj and to_gas_mj: its
    two parts; oxygen_nm3: O2 it took; gas: as it leaves.
    """

    heat_mj: Number
    to_bath_mj: Number
    to_gas_mj: Number
    oxygen_nm3: Number
    gas: Gas

    @property
    def provenance(self) -> tuple:
        """Sources of the gas data."""
        return self.gas.provenance


def burning_co_kj_kmol(temp_c: Number, oxygen_temp_c: Number = 25.0) -> Number:
    """Heat that a kmol of CO gives as it burns to CO2, both at temp_c, degC: what charge and
    post_combustion() share out between bath and gas. Cold oxygen takes its part of it.
    """
    gas, oxygen = kelvin(temp_c), kelvin(oxygen_temp_c)
    return enthalpy("CO", gas) + 0.5 * enthalpy("O2", oxygen) - enthalpy("CO2", gas)


def post_combustion(
    carbon_kg: Number,
    pcr: Number,
    hte: Number,
    temp_c: Number = 1600.0,
    oxygen_temp_c: Number = 25.0,
) -> PostCombustion:
    """Post-combustion of the CO from burnt carbon. What does not reach the bath heats the gas (no
    dissociation counted).

    Parameters
    ----------
    carbon_kg : carbon burnt to CO in the bath; arrays broadcast
    pcr : CO2/(CO + CO2) at the mouth, 0 to 1
    hte : heat-transfer efficiency, share of the heat that reaches metal and slag, 0 to 1: a works'
        own figure, post_heat_pct of its gas, half to all of it from memory
    temp_c : of the CO from the bath, 1200 to 1900 degC; the heat counts products at this
        temperature
    oxygen_temp_c : of the oxygen that burns it, 0 to 2000 degC: cold oxygen takes its part of the
        heat

    Returns
    -------
    PostCombustion

    Raises
    ------
    InputError

    References
    ----------
    Enthalpies of the gases

    Examples
    --------
    >>> found = post_combustion(43.0, 0.1, 0.6)
    >>> round(found.heat_mj, 1), round(found.to_bath_mj, 1), round(found.gas.temp_c)
    (90.0, 54.0, 1860)
    """
    temp_c = between("temperature of the gas from the bath", temp_c, 1200.0, 1900.0, "°C")
    hte = between("heat-transfer efficiency", hte, 0.0, 1.0, hint="A fraction: 60 % is 0.6.")
    oxygen_c = between("temperature of the oxygen", oxygen_temp_c, 0.0, 2000.0, "°C")
    burnt = converter_gas(carbon_kg, pcr, temp_c)
    common_shape("post-combustion", carbon_kg, pcr, hte, temp_c, oxygen_temp_c)
    co2 = burnt.nm3["CO2"]
    heat = co2 / molar_volume_nm3_kmol() * burning_co_kj_kmol(temp_c, oxygen_c)
    gas = burnt.at_enthalpy(burnt.enthalpy_kj() + (1.0 - hte) * heat)
    return PostCombustion(
        heat / 1000.0, hte * heat / 1000.0, (1.0 - hte) * heat / 1000.0, 0.5 * co2, gas
    )
