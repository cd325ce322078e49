"""The second blow: it goes on where the first one stopped, by the same law. Steel, slag and oxygen
are brought up to date together.

Slag and bath share oxygen by slag.after_oxygen; manganese and phosphorus move towards the partition
of the blow at its rate; heat by enthalpies, steel alone (a vessel rises a tenth less).
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..base import (
    Amounts,
    Number,
    Record,
    atomic_weight,
    kelvin,
    mass_fractions,
    molar_volume_nm3_kmol,
    plain,
    positive,
)
from ..charge import nm3_per_kg, rise_c_per_nm3_t
from ..charge import solve as solve_charge
from ..slag import (
    after_oxygen,
    end_of_blow_parameters,
    metal_pct_after,
    partition_reached,
)
from ..thermo import dissolved_enthalpy, heat_capacity, oxide_of

_STEEL_KG = 1000.0
_IRON = ("FeO", "Fe2O3")


@dataclass(frozen=True, repr=False)
class AfterBlow(Record):
    """Steel and slag after more oxygen; numbers or arrays.

    oxygen_nm3_t: O2 blown, Nm3 per t of steel; minutes; steel_pct: C, O, Mn, P, mass %; temp_c;
    slag_kg_t: by oxide, kg per t of steel; iron_kg_t: burnt to the slag; carbon_share: of the
    oxygen blown last that burns carbon.
    """

    oxygen_nm3_t: Number
    minutes: Number
    steel_pct: dict
    temp_c: Number
    slag_kg_t: dict
    iron_kg_t: Number
    carbon_share: Number
    _sources = ("carbon_oxygen_product", "critical_carbon_pct", "slag_exchange")


def usual_slag_kg_t(works: Record | None = None) -> dict:
    """Slag of a works' usual heat without its iron oxides.

    Parameters
    ----------
    works : Profile; default: the one found

    Returns
    -------
    kg per t of steel by oxide

    Examples
    --------
    >>> round(usual_slag_kg_t()["CaO"])
    45
    """
    return dict(_slag_of(works) if works is None else _kept(works))


def _slag_of(works):
    heat = solve_charge(works)
    steel_t = heat.steel.mass_kg / 1000.0
    return {o: kg / steel_t for o, kg in heat.slag.oxides_kg.items() if o not in (*_IRON, "CaS")}


_kept = lru_cache(maxsize=8)(_slag_of)


def second_blow(
    steel_pct: Amounts,
    temp_c: Number,
    slag_kg_t: Amounts,
    oxygen_nm3_t: Number,
    o2_nm3_min_t: Number,
    co2_pct: Number = 11.0,
    loss_c_min: Number = 0.0,
    law: Amounts | None = None,
) -> AfterBlow:
    """Steel and slag after a second blow, or after the oxygen still to come when an in-blow sample
    was taken. All broadcast.

    Parameters
    ----------
    steel_pct : C, and Mn and P where they are known, mass %
    temp_c : of the steel, 1500 to 1800 degC
    slag_kg_t : kg per t of steel by oxide; without iron oxides, those of the law at this carbon
    oxygen_nm3_t, o2_nm3_min_t : O2 to be blown and its flow, Nm3 per t of steel (and minute)
    co2_pct : share of the carbon that burns to CO2
    loss_c_min : heat lost while blowing, degC per minute
    law : parameters of the law instead of its start values

    Returns
    -------
    AfterBlow

    Raises
    ------
    InputError

    Examples
    --------
    >>> after = second_blow({"C": 0.08}, 1640.0, usual_slag_kg_t(), 1.0, 2.5)
    >>> round(after.steel_pct["C"], 3), round(after.temp_c)
    (0.05, 1658)
    """
    loss = positive("heat loss", loss_c_min, "°C/min")
    T = kelvin(temp_c)
    flow = positive("oxygen flow", o2_nm3_min_t, "Nm3/min", zero=False)
    blown = slag_kg_t, steel_pct["C"], T
    how = flow, np.asarray(co2_pct) / 100.0, law
    before, after = (after_oxygen(*blown, nm3, *how) for nm3 in (0.0, oxygen_nm3_t))
    base = {o: np.asarray(kg, float) for o, kg in slag_kg_t.items() if o not in _IRON}
    slags = [_with_iron(base, end) for end in (before, after)]
    iron_kg = [sum(s[o] * mass_fractions(o)["Fe"] for o in _IRON) for s in slags]

    carbon = 10.0 * (before.carbon_pct - np.asarray(after.carbon_pct)) * nm3_per_kg("C", co2_pct)
    per_kg_o = 0.5 * molar_volume_nm3_kmol() / atomic_weight("O")
    taken_up = 10.0 * (after.oxygen_pct - np.asarray(before.oxygen_pct)) * per_kg_o
    iron = np.asarray(oxygen_nm3_t) - carbon - taken_up
    minutes = np.asarray(oxygen_nm3_t) / flow
    rise = carbon * rise_c_per_nm3_t("C", temp_c, co2_pct) + iron * rise_c_per_nm3_t("Fe", temp_c)
    rise = rise + taken_up * _rise_by_dissolving(T) - loss * minutes
    slag, steel = slags[1], {"C": after.carbon_pct, "O": after.oxygen_pct}
    for element in ("Mn", "P"):
        if element in steel_pct and oxide_of(element) in slag:
            pct = _shared(steel_pct[element], slag, element, temp_c + np.asarray(rise), minutes)
            moved = 10.0 * (steel_pct[element] - pct) / mass_fractions(oxide_of(element))[element]
            slag[oxide_of(element)] = slag[oxide_of(element)] + moved
            steel[element] = plain(pct)
    return AfterBlow(
        oxygen_nm3_t,
        plain(minutes),
        steel,
        plain(np.asarray(temp_c) + rise),
        {o: plain(kg) for o, kg in slag.items()},
        plain(iron_kg[1] - iron_kg[0]),
        after.carbon_share,
    )


def _with_iron(base, end):
    """A slag with the iron oxides of an EndOfBlow, kg per t."""
    rest = 100.0 - np.asarray(end.feo_pct) - end.fe2o3_pct
    per_pct = sum(base.values()) / rest
    return base | {"FeO": end.feo_pct * per_pct, "Fe2O3": end.fe2o3_pct * per_pct}


def _rise_by_dissolving(T):
    """degC of the steel for each Nm3/t of cold O2 that dissolves in it."""
    kj_nm3 = -2.0 * dissolved_enthalpy("O", T) / molar_volume_nm3_kmol()
    per_t = heat_capacity("Fe", T, "liquid", supercooled=True) / atomic_weight("Fe") * 1000.0
    return kj_nm3 / per_t


def _shared(pct, slag, element, temp_c, minutes):
    """% of manganese or phosphorus in the steel after minutes of moving towards its partition."""
    oxide, mass = oxide_of(element), sum(slag.values())
    in_slag = 100.0 * slag[oxide] * mass_fractions(oxide)[element] / mass
    reached = partition_reached({o: 100.0 * kg / mass for o, kg in slag.items()}, temp_c, element)
    aim = np.asarray(metal_pct_after(_STEEL_KG, pct, mass, in_slag, reached))
    left = np.exp(-end_of_blow_parameters()["exchange_per_min"].start * minutes)
    return aim + (pct - aim) * left
