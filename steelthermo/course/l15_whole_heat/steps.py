"""The sums of the heat sheet (lesson 15): where a heat stands, what is right at each entry, and
what an entry does to the heat.

An early error is not counted twice: it has its consequence instead. Physics comes from the rooms;
this module only strings them together. It is a sheet of calculations, not a vessel.
"""

from dataclasses import dataclass, field

import numpy as np

from ... import charge, end_point
from ...base import kelvin
from ...charge import coolant_effect, nm3_per_kg
from ...coursekit.problems import Given
from ...hot_metal import desulphurise, dose, into_vessel
from ...ladle import addition_kg, aluminium_demand_kg_t, carry_over, with_oxygen
from ...ladle import alloy as alloy_of_ladle
from ...ladle import treat as treat_of_ladle
from ...slag import end_of_blow_parameters
from ...streams import LiquidMetal
from ...thermo import oxygen_with_carbon
from ...works import plant_value

AIM_S_PCT = 0.004  # after treatment
CO_ATM = 1.3  # pressure of CO at which carbon and oxygen meet at the end of the blow (plant value)
AIM_AL_PCT, AIM_SI_PCT, AIM_MN_PCT = 0.035, 0.25, 1.45
CARBON_MAX_PCT = 0.06
BAND_C = 10.0


@dataclass(frozen=True)
class State:
    """Where a heat stands: given (what the learner was given), works, metal, steel, slag and what
    was entered. Later stages add to it.
    """

    given: dict
    works: object
    metal: LiquidMetal
    heat: object = None  # Charge
    steel: LiquidMetal = None
    oxygen_ppm: float = 0.0
    ladle: object = None
    entered: dict = field(default_factory=dict)

    def after(self, **changes):
        """The state with changes."""
        return State(**{**self.__dict__, **changes})


def givens(works):
    hot = works.hot_metal
    base = round(hot.temp_c / 5.0) * 5.0
    return (
        Given(
            "hot_metal_t",
            "hot metal",
            "t",
            round(0.74 * works.vessel.tap_t),
            round(0.82 * works.vessel.tap_t),
            1,
            "three quarters or so of the charge",
        ),
        Given(
            "hot_metal_temp_c",
            "its temperature",
            "°C",
            base - 25,
            base + 25,
            5,
            "the works' hot metal, 25 degrees up or down",
        ),
        Given("si_pct", "silicon", "%", 0.3, 0.6, 0.01, "hot metal, common practice"),
        Given("s_pct", "sulphur", "%", 0.012, 0.04, 0.001, "untreated hot metal, common practice"),
        Given(
            "s_max_pct",
            "sulphur the customer allows",
            "%",
            0.011,
            0.018,
            0.001,
            "tighter than the public specification",
        ),
        Given(
            "off_plan_c",
            "how far the heat ends off its plan",
            "°C",
            -24,
            30,
            6,
            "scatter of heats, common practice",
        ),
    )


def begin(given, works):
    """State of a heat before anything is done."""
    pct = {**works.hot_metal.analysis_pct, "Si": given["si_pct"], "S": given["s_pct"]}
    return State(
        given, works, LiquidMetal(1000.0 * given["hot_metal_t"], pct, given["hot_metal_temp_c"])
    )


def charge_of(state, **options):
    return charge.solve(state.works, hot_metal=state.metal, **options)


def blown(state):
    """The heat with the scrap and lime entered; the oxygen it needs follows."""
    return charge_of(
        state,
        find="temperature",
        scrap_kg=1000.0 * state.entered["scrap"],
        lime_kg=1000.0 * state.entered["lime"],
    )


def tapped_t(state):
    return state.heat.steel.mass_kg / 1000.0


# ---- what is right at each entry, for the heat as it stands --------------------------------------


def treat(s):
    return 1 if charge_of(s).steel.analysis_pct["S"] > s.given["s_max_pct"] else 2


def magnesium(s):
    return dose(s.metal, AIM_S_PCT, {"magnesium": 1.0}).kg["magnesium"]


def decision(s, **rules):
    rules = {"aim_temp_c": s.works.end_point.temp_c, "slag_kg_t": _slag_kg_t(s)} | rules
    return end_point.decide(
        s.steel.temp_c, s.steel.analysis_pct["C"],
        aim_carbon_pct=CARBON_MAX_PCT, steel_t=tapped_t(s), band_c=BAND_C,
        flow_nm3_min=_o2_nm3_min(s), co2_pct=s.works.gas.co2_pct, **rules,
    )  # fmt: skip


def _slag_kg_t(s):
    """The heat's slag, its iron oxides left to the law at the carbon there is."""
    return {
        o: kg / tapped_t(s)
        for o, kg in s.heat.slag.oxides_kg.items()
        if o not in ("FeO", "Fe2O3", "CaS")
    }


def _o2_nm3_min(s):
    return s.works.oxygen.flow_nm3_min * s.works.oxygen.purity_pct / 100.0


def more_oxygen(s, steel_pct, temp_c, nm3_t):
    """The AfterBlow of more oxygen, Nm3 of O2 per t, by the law of the vessel."""
    law = end_of_blow_parameters()
    carbon = np.maximum(steel_pct["C"], law["carbon_floor_pct"].start + 1e-3)
    how = nm3_t, _o2_nm3_min(s) / tapped_t(s), s.works.gas.co2_pct
    return end_point.second_blow(dict(steel_pct) | {"C": carbon}, temp_c, _slag_kg_t(s), *how)


def again_figures(s):
    """What the text of a second blow tells: how much of its oxygen burns carbon down to the limit,
    %, and by how much each Nm3/t of it warms the steel, degC.
    """
    d = decision(s)
    burnt = s.steel.analysis_pct["C"] - CARBON_MAX_PCT
    to_limit = 0.0  # as if no heat were asked for
    if burnt > 0.0:
        to_limit = decision(s, aim_temp_c=s.steel.temp_c).oxygen_nm3.value
    if to_limit > 0.0:  # more carbon than rounding
        per_kg = nm3_per_kg("C", s.works.gas.co2_pct)
        share = burnt * 10.0 * per_kg * tapped_t(s) / to_limit
    else:
        share = d.after.carbon_share
    nm3_t = d.oxygen_nm3.value / tapped_t(s)
    return {
        "share_pct": 100.0 * share,
        "per_kg": nm3_per_kg("C", s.works.gas.co2_pct),
        "per_nm3_c": d.rise_c.value / nm3_t if nm3_t else 22.0,
    }


ACTIONS = ("tap", "blow again", "cool", "blow again and cool")


def again(s):
    """Oxygen of a second blow, Nm3, if the learner blows again."""
    return decision(s).oxygen_nm3.value if "blow" in ACTIONS[s.entered["action"] - 1] else 0.0


def slag_pct(s):
    return {
        o: p for o, p in s.heat.slag.analysis_pct.items() if o in ("FeO", "Fe2O3", "MnO", "P2O5")
    }


def aluminium(s):
    """By the sum of a shift; the slag carried over counts with all its iron and manganese oxide."""
    carried = plant_value("carry_over_stopper_kg_t").start
    terms = aluminium_demand_kg_t(
        s.oxygen_ppm, AIM_AL_PCT, slag_pct=slag_pct(s), slag_kg_t=carried, reduced_pct=100.0
    )
    return terms["total"] * tapped_t(s)


def alloy(key, element, rise_pct, state):
    found = alloy_of_ladle(key)
    return addition_kg(
        state.steel.mass_kg,
        max(rise_pct, 0.0),
        found.pct(element),
        plant_value(f"recovery_{element.lower()}_pct").start,
        dilution=False,
    )


def silicomanganese(s):
    return alloy("silicomanganese", "Si", AIM_SI_PCT, s)


def mn_from_silicomanganese(s):
    kg = s.entered["silicomanganese"]
    return (
        kg
        * alloy_of_ladle("silicomanganese").pct("Mn")
        * plant_value("recovery_mn_pct").start
        / 100.0
        / s.steel.mass_kg
    )


def ferromanganese(s):
    return alloy(
        "ferromanganese",
        "Mn",
        AIM_MN_PCT - s.steel.analysis_pct["Mn"] - mn_from_silicomanganese(s),
        s,
    )


def ladled(s, **kg):
    carried = carry_over(
        s.heat.slag, s.heat.steel.mass_kg, plant_value("carry_over_stopper_kg_t").start
    )
    steel = with_oxygen(s.steel, s.oxygen_ppm)
    return treat_of_ladle(
        steel, kg, slag=carried, slag_reduced_pct=100.0, loss_c=plant_value("tap_drop_c").start
    )


# ---- what an entry does to the heat --------------------------------------------------------------


def after_magnesium(s):
    if s.entered["treat"] == 2 or s.entered["magnesium"] == 0:
        return s
    stage = desulphurise(s.metal, {"magnesium": s.entered["magnesium"]})
    return s.after(metal=into_vessel(stage))


def after_lime(s):
    return s.after(heat=blown(s))


def after_oxygen(s):
    """What too little or too much oxygen leaves behind: carbon not burnt, or iron burnt; and no
    heat ends quite as planned.
    """
    heat, works = s.heat, s.works
    spare_t = (
        (s.entered["oxygen"] - heat.oxygen_nm3)
        * works.oxygen.purity_pct
        / 100.0
        / (heat.steel.mass_kg / 1000.0)
    )  # Nm3 of O2 per t
    pct, temp = heat.steel.solutes_pct, heat.temp_c
    if spare_t < 0:  # the steel that so much more oxygen would bring to the plan's
        carbons = pct["C"] + np.linspace(0.0, 1.5 * -spare_t / 9.0, 64)
        then = more_oxygen(s, {"C": carbons}, temp, min(-spare_t, 20.0))
        carbon = np.interp(pct["C"], then.steel_pct["C"], carbons).item()
        temp -= np.interp(carbon, carbons, then.temp_c).item() - temp
        pct["C"] = carbon
    elif spare_t > 0:
        then = more_oxygen(s, pct, temp, min(spare_t, 20.0))
        temp, pct["C"] = then.temp_c, then.steel_pct["C"]
    return _at_the_vessel(s, heat.steel.mass_kg, pct, temp + s.given["off_plan_c"])


def after_again(s):
    """The second blow: carbon and iron burn by the law of the vessel."""
    nm3_t, steel = s.entered["again"] / tapped_t(s), s.steel
    if nm3_t == 0:
        return s
    then = more_oxygen(s, steel.solutes_pct, steel.temp_c, min(nm3_t, 20.0))
    pct = steel.solutes_pct | {"C": then.steel_pct["C"]}
    return _at_the_vessel(s, steel.mass_kg, pct, then.temp_c)


def coolant(s):
    """Scrap for the steel as it stands, kg, if the learner cools: none if it is not too hot."""
    if "cool" not in ACTIONS[s.entered["action"] - 1]:
        return 0.0
    return (
        max(s.steel.temp_c - s.works.end_point.temp_c, 0.0)
        * tapped_t(s)
        / -coolant_effect("scrap", s.works.end_point.temp_c)[0]
    )


def after_coolant(s):
    kg = s.entered["coolant"]
    if kg == 0:
        return s
    pct = s.steel.solutes_pct
    per_c, per_pct = coolant_effect("scrap", s.steel.temp_c)
    pct["C"] = max(pct["C"] + per_pct * kg / tapped_t(s), 0.0)
    return _at_the_vessel(s, s.steel.mass_kg + kg, pct, s.steel.temp_c + per_c * kg / tapped_t(s))


def _at_the_vessel(s, mass_kg, pct, temp_c):
    """The state with a steel that has been blown or cooled, and the oxygen that goes with its
    carbon.
    """
    oxygen = oxygen_with_carbon(pct["C"], kelvin(temp_c), CO_ATM) * 1e4
    return s.after(steel=LiquidMetal(mass_kg, pct, temp_c), oxygen_ppm=oxygen)


def after_ferromanganese(s):
    kg = {key: s.entered[key] for key in ("aluminium", "silicomanganese", "ferromanganese")}
    return s.after(ladle=ladled(s, **kg))
