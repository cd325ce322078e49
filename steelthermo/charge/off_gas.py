"""Off-gas of the vessel: post-combustion and the heat it returns, combustion in the hood, scrap
preheating, carbon rate, and CO danger.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Provenance,
    Table,
    atomic_weight,
    between,
    celsius,
    common_shape,
    find_root,
    kelvin,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    positive,
    value,
)
from ..streams import Gas, air, mix, oxygen_to_burn_nm3
from ..streams import gas_equilibrium as equilibrium
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
    carbon_kg: float, pcr: float, temp_c: float, other_nm3: dict | None = None
) -> Gas:
    """Gas at the mouth of the vessel from burnt carbon, before any air: a Gas of CO and CO2 (and
    other_nm3, such as {'N2': 5}).

    carbon_kg: carbon burnt (zero or more); pcr: CO2/(CO + CO2), 0 to 1, by volume; temp_c: of the
    gas. All broadcast. Raises InputError.
    """
    nm3 = positive("carbon burnt", carbon_kg, "kg") / atomic_weight("C") * molar_volume_nm3_kmol()
    pcr = _pcr(pcr)
    return Gas({"CO": nm3 * (1.0 - pcr), "CO2": nm3 * pcr} | dict(other_nm3 or {}), temp_c)


def carbon_rate_kg_min(flow_nm3_min: float, co_pct: float, co2_pct: float) -> float:
    """Carbon leaving with the gas, kg/min, from its flow and its CO and CO2 in volume % (0 to 100).
    Broadcasts. Raises InputError.

    Holds before or after air has joined, as long as flow and analysis belong to the same place and
    the flow is dry if the analysis is.
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
    co_pct: float,
    co2_pct: float,
    n2_pct: float = 0.0,
    o2_pct: float = 0.0,
    n2_other_pct: float = 0.0,
) -> float:
    """Post-combustion ratio at the mouth from an analysis taken where some air has joined and burnt
    CO.

    Volume %, of the same gas: co_pct, co2_pct, n2_pct, o2_pct; n2_other_pct: the part of n2_pct
    that did not come with air (stirring gas, lance).
    The nitrogen of the air tells how much oxygen came with it; what is not found as O2 has burnt CO
    to CO2. Broadcasts.
    Returns the ratio, 0 to 1. Raises InputError where the analysis contradicts itself. Source:
    balance of oxygen; air: sources('air_o2_pct').
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


@dataclass(frozen=True)
class PostCombustion:
    """Heat of burning CO to CO2 above the bath. heat_mj: all of it; to_bath_mj and to_gas_mj: its
    two parts; oxygen_nm3: O2 it took; gas: as it leaves.
    """

    heat_mj: float
    to_bath_mj: float
    to_gas_mj: float
    oxygen_nm3: float
    gas: Gas

    @property
    def provenance(self):
        """Sources of the gas data."""
        return self.gas.provenance


def post_combustion(
    carbon_kg: float, pcr: float, hte: float, temp_c: float = 1600.0, oxygen_temp_c: float = 25.0
) -> PostCombustion:
    """Post-combustion of the CO from burnt carbon: a PostCombustion.

    carbon_kg: carbon burnt to CO in the bath. pcr: CO2/(CO + CO2) at the mouth, 0 to 1. hte:
    heat-transfer efficiency, share of the heat that reaches metal and slag, 0 to 1: a plant value;
    quoted values are recalled as 0.5 to 0.8, see sources('post_combustion_hte_pct'). temp_c: of the
    CO from the bath (1200 to 1900); the heat counts products at this temperature. oxygen_temp_c: of
    the oxygen that burns it (0 to 2000): cold oxygen takes its part of the heat. What does not
    reach the bath heats the gas (no dissociation counted). All broadcast. Raises InputError.
    """
    temp_c = between(
        "temperature of the gas from the bath", temp_c, 1200.0, 1900.0, "°C", "Was kelvin given?"
    )
    hte = between("heat-transfer efficiency", hte, 0.0, 1.0, hint="A fraction: 60 % is 0.6.")
    start = converter_gas(carbon_kg, 0.0, temp_c)
    burnt = converter_gas(carbon_kg, pcr, temp_c)
    common_shape("post-combustion", carbon_kg, pcr, hte, temp_c, oxygen_temp_c)
    oxygen = Gas(
        {"O2": 0.5 * burnt.nm3["CO2"]},
        between("temperature of the oxygen", oxygen_temp_c, 0.0, 2000.0, "°C"),
    )
    come = start.enthalpy_kj() + oxygen.enthalpy_kj()
    heat = come - burnt.enthalpy_kj()
    gas = burnt.at_enthalpy(come - hte * heat)
    return PostCombustion(
        heat / 1000.0, hte * heat / 1000.0, (1.0 - hte) * heat / 1000.0, oxygen.total_nm3, gas
    )


@dataclass(frozen=True)
class HoodGas:
    """Gas after air has joined in the hood. air_nm3: dry air drawn in; burnt: the gas at
    equilibrium before it gives up any heat; cooled: the gas at the end of the hood; heat_mj: what
    it gives up on the way.
    """

    air_nm3: float
    burnt: Gas
    cooled: Gas
    heat_mj: float

    @property
    def provenance(self):
        """Sources of the gas data."""
        return self.burnt.provenance


def hood(
    gas: Gas,
    air_factor: float,
    air_temp_c: float = 25.0,
    humidity_pct: float = 0.0,
    out_temp_c: float = 1000.0,
) -> HoodGas:
    """Combustion in the hood with air, by Cantera equilibrium at constant enthalpy: a HoodGas.

    gas: Gas at the mouth, not burnt out. air_factor: air drawn in over air for complete combustion:
    0.05 to 0.15 is a closed hood (suppressed combustion), above 1 an open one (full combustion);
    allowed 0 to 6. air_temp_c: -40 to 60. humidity_pct: as in gas.air. out_temp_c: at the end of
    the hood (100 to 1500); heat_mj is the heat given up to there, negative where the gas never was
    so hot. All broadcast. Raises InputError.
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


@dataclass(frozen=True)
class Preheat:
    """Scrap heated by gas. scrap_temp_c; heat_mj: heat in the scrap; gas: cooled, as it leaves;
    lost_mj: heat given up by the gas that missed the scrap.
    """

    scrap_temp_c: float
    heat_mj: float
    lost_mj: float
    gas: Gas

    @property
    def provenance(self):
        """Sources of the gas data."""
        return self.gas.provenance


def preheat_scrap(
    gas: Gas, scrap_kg: float, gas_out_c: float, efficiency: float = 1.0, scrap_temp_c: float = 25.0
) -> Preheat:
    """Scrap preheated by the sensible heat of a gas, counted as iron: a Preheat.

    gas: Gas, not reacting (no burning of its CO here: hood() does that). scrap_kg: more than zero.
    gas_out_c: temperature at which the gas leaves the scrap, between that of the scrap and its own.
    efficiency: share of the heat given up that stays in the scrap, 0 to 1. scrap_temp_c: 25 to 400.
    All broadcast.
    Raises InputError, also where the scrap would pass 1000 degC or the temperature of the gas.
    Take care: preheated scrap gives off smoke, and its gas holds CO; wet or oily scrap and closed
    containers never go in.
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
    heat_mj: float, steel_temp_c: float = 1650.0, scrap_temp_c: float = 25.0
) -> float:
    """Scrap, kg, counted as iron, that a heat brings from scrap_temp_c (25 to 1000) to liquid steel
    at steel_temp_c (1540 to 1750). Broadcasts.

    Raises InputError. Source: sources('Fe'); about 1395 kJ/kg from 25 to 1650 degC.
    """
    hot = enthalpy("Fe", kelvin(between("steel temperature", steel_temp_c, 1540.0, 1750.0, "°C")))
    cold = enthalpy(
        "Fe", kelvin(between("temperature of the scrap", scrap_temp_c, 25.0, 1000.0, "°C"))
    )
    return positive("heat", heat_mj, "MJ") * 1000.0 / ((hot - cold) / molar_mass("Fe"))


@dataclass(frozen=True)
class Hazard:
    """One published figure about the danger of CO, or of air that cannot be breathed: key, what,
    species, value, unit, note, provenance.

    For teaching. Local law and the works' own rules decide."""

    key: str
    what: str
    species: str
    value: float
    unit: str
    note: str
    provenance: tuple[Provenance, ...]


@cache
def co_hazards() -> tuple[Hazard, ...]:
    """Exposure limits, effects, flammable range and confined-space figures of CO with their
    sources: a tuple of Hazard.
    """
    found = Table("safety_figures").records(Hazard).values()
    return tuple(h for h in found if h.species != "none")


def ppm_to_mg_m3(ppm: float, species: str = "CO", temp_c: float = 25.0) -> float:
    """mg/m³ at 101.325 kPa and temp_c (-40 to 60) from ppm by volume (0 to 1e6) of an ideal gas.
    Broadcasts. Raises InputError.
    """
    ppm = between("concentration", ppm, 0.0, 1e6, "ppm")
    m3_kmol = (
        molar_volume_nm3_kmol()
        * kelvin(between("air temperature", temp_c, -40.0, 60.0, "°C"))
        / value("celsius_zero_k")
    )
    return ppm * molar_mass(species) / m3_kmol


def lower_flammable_limit_pct(gas: Gas, standard: str | None = None) -> float:
    """Lower flammable limit of a Gas mixed with air, volume % of gas in the mixture, from its CO
    and H2 by Le Chatelier's mixing rule.

    Where standards disagree the lower limit of the pure gas is used, or that of one standard on
    request ('iec', 'nfpa'). At room temperature: hot gas burns leaner. 100 means that this rule
    finds no limit.
    Raises InputError for other fuels. Source: sources('gas_explosion'); the rule is an estimate, no
    published limit of converter gas was found.
    """
    limits = {}
    for h in co_hazards():
        if h.what == "lower flammable limit in air" and (
            standard is None or h.key.endswith(standard)
        ):
            limits[h.species] = min(h.value, limits.get(h.species, 100.0))
    fuels = {
        s: pct
        for s, pct in gas.mole_pct().items()
        if s not in ("O2", "N2", "Ar", "CO2", "H2O", "SO2")
    }
    if unknown := set(fuels) - set(limits):
        raise InputError(
            f"flammable limit: the gas holds {', '.join(sorted(unknown))}; limits are known for "
            f"{', '.join(limits)}."
        )
    need = np.asarray(sum(np.asarray(pct) / limits[s] for s, pct in fuels.items()), dtype=float)
    return plain(100.0 / np.maximum(need, 1.0))
