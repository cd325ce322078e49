"""The sums of the heat sheet (lesson 15): where a heat stands, and what is right at each entry.

An early error is not counted twice: it has its consequence instead (follows.py). Physics comes from
the rooms; this module only strings them together. It is a sheet of calculations, not a vessel.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from ... import charge, end_point
from ...base import mass_fractions
from ...charge import coolant_effect, nm3_per_kg, oxygen_ledger
from ...coursekit.problems import Given
from ...hot_metal import dose, reagent
from ...ladle import addition_kg, aluminium_demand_kg_t
from ...ladle import alloy as alloy_of_ladle
from ...slag import end_of_blow_parameters
from ...streams import LiquidMetal, Slag
from ...works import plant_value

AIM_S_PCT = 0.004  # after treatment
AIM_AL_PCT, AIM_SI_PCT, AIM_MN_PCT = 0.035, 0.25, 1.45
CARBON_MAX_PCT = 0.06
BAND_C = 10.0
_IRON = "FeO", "Fe2O3"
SURE = 0.06  # of the sulphur allowed: nearer to it no heat is drawn, for nobody knows it better


@dataclass(frozen=True)
class State:
    """Where a heat stands. given: what the learner was given; planned: the usual Charge of this hot
    metal; trial: the Charge with the scrap entered; heat: with scrap and lime entered; sampled: the
    steel at the first sample; steel, slag: as they stand, dissolved oxygen in the steel; decided:
    the Decision on them; ladle: its Treatment; held_c: degC lost there by waiting, below zero
    heated; entered: what was.
    """

    given: dict
    works: object
    metal: LiquidMetal
    planned: object = None
    trial: object = None
    heat: object = None
    sampled: LiquidMetal = None
    steel: LiquidMetal = None
    slag: Slag = None
    decided: object = None
    ladle: object = None
    held_c: float = 0.0
    entered: dict = field(default_factory=dict)

    def after(self, **changes):
        """The state with changes."""
        return replace(self, **changes)

    @property
    def oxygen_ppm(self):
        """Dissolved in the steel."""
        return 1e4 * self.steel.analysis_pct["O"]

    @property
    def steel_t(self):
        """Steel, as it stands or as planned."""
        heat = self.heat or self.trial or self.planned
        return (self.steel or heat.steel).mass_kg / 1000.0


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
    metal = LiquidMetal(1000.0 * given["hot_metal_t"], pct, given["hot_metal_temp_c"])
    return State(given, works, metal, charge.solve(works, hot_metal=metal))


def sulphur_left(s):
    """Sulphur of the steel of a heat that is not treated, over what the customer allows."""
    return s.planned.steel.analysis_pct["S"] / s.given["s_max_pct"]


# ---- what is right at each entry, for the heat as it stands --------------------------------------


def treat(s):
    return 1 if sulphur_left(s) > 1.0 else 2


def magnesium(s):
    return dose(s.metal, AIM_S_PCT, {"magnesium": 1.0}).kg["magnesium"]


def granules_pct():
    """Magnesium in what is injected, %."""
    return reagent("magnesium").analysis_pct["Mg"]


def decision(s, **rules):
    rules = {"aim_temp_c": s.works.end_point.temp_c, "slag_kg_t": slag_kg_t(s)} | rules
    return end_point.decide(
        s.steel.temp_c, s.steel.analysis_pct["C"],
        aim_carbon_pct=CARBON_MAX_PCT, steel_t=s.steel_t, band_c=BAND_C,
        flow_nm3_min=o2_nm3_min(s), co2_pct=s.works.gas.co2_pct, **rules,
    )  # fmt: skip


def slag_kg_t(s):
    """The heat's slag, kg per t of steel."""
    return {o: kg / s.steel_t for o, kg in s.slag.oxides_kg.items() if o != "CaS"}


def o2_nm3_min(s):
    """O2 through the lance."""
    return s.works.oxygen.flow_nm3_min * s.works.oxygen.purity_pct / 100.0


def more_oxygen(s, steel_pct, temp_c, slag, nm3_t):
    """The AfterBlow of more oxygen, Nm3 of O2 per t, by the law of the vessel. slag: kg per t."""
    law = end_of_blow_parameters()
    carbon = np.maximum(steel_pct["C"], law["carbon_floor_pct"].start + 1e-3)
    how = nm3_t, o2_nm3_min(s) / s.steel_t, s.works.gas.co2_pct
    return end_point.second_blow(dict(steel_pct) | {"C": carbon}, temp_c, slag, *how)


def product(s):
    """%C times %O of the law at the end of a blow, where the steel does not hold all it can."""
    return s.steel.analysis_pct["C"] * s.oxygen_ppm / 1e4


def again_figures(s):
    """What the text of a second blow tells: how much of its oxygen burns carbon down to the limit,
    %, and by how much each Nm3/t of it warms the steel, degC.
    """
    d = s.decided
    burnt = s.steel.analysis_pct["C"] - CARBON_MAX_PCT
    to_limit, share = 0.0, d.after.carbon_share
    if burnt > 0.0:  # as if no heat were asked for
        to_limit = decision(s, aim_temp_c=s.steel.temp_c).oxygen_nm3.value
    if to_limit > 0.0:  # more carbon than rounding
        per_kg = nm3_per_kg("C", s.works.gas.co2_pct)
        share = burnt * 10.0 * per_kg * s.steel_t / to_limit
    nm3_t = d.oxygen_nm3.value / s.steel_t
    return {
        "share_pct": 100.0 * share,
        "per_kg": nm3_per_kg("C", s.works.gas.co2_pct),
        "per_nm3_c": d.rise_c.value / nm3_t if nm3_t else 20.0,
    }


ACTIONS = ("tap", "blow again", "cool", "blow again and cool")


def again(s):
    """Oxygen of a second blow, Nm3, if the learner blows again."""
    return s.decided.oxygen_nm3.value if "blow" in ACTIONS[s.entered["action"] - 1] else 0.0


def coolant(s):
    """Scrap for the steel as it stands, kg, if the learner cools: none if it is not too hot."""
    if "cool" not in ACTIONS[s.entered["action"] - 1]:
        return 0.0
    aim = s.works.end_point.temp_c
    return max(s.steel.temp_c - aim, 0.0) * s.steel_t / -coolant_effect("scrap", aim)[0]


def slag_pct(s):
    """What aluminium reduces of the slag carried over, as the text tells it."""
    return {o: p for o, p in s.slag.analysis_pct.items() if o in ("FeO", "Fe2O3", "MnO", "P2O5")}


def aluminium(s):
    """By the sum of a shift; the slag carried over counts with all its iron and manganese oxide."""
    carried = plant_value("carry_over_stopper_kg_t").start
    terms = aluminium_demand_kg_t(
        s.oxygen_ppm, AIM_AL_PCT, slag_pct=slag_pct(s), slag_kg_t=carried, reduced_pct=100.0
    )
    return terms["total"] * s.steel_t


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


def ferromanganese(s, brought=None):
    brought = mn_from_silicomanganese(s) if brought is None else brought
    return alloy("ferromanganese", "Mn", AIM_MN_PCT - s.steel.analysis_pct["Mn"] - brought, s)


# ---- figures of the texts ------------------------------------------------------------------------


def lime_figures(s):
    """What the sum of the lime needs: what scrap, dolomite and lime hold, %."""
    heat = s.trial
    lime, dolomite, scrap = (x.material for x in (heat.lime, heat.dolomite, heat.scrap))
    return {
        "scrap_t": heat.scrap.mass_kg / 1000.0,
        "scrap_si": scrap.analysis_pct.get("Si", 0.0),
        "scrap_dirt": scrap.analysis_pct.get("SiO2", 0.0),
        "dolomite_t": heat.dolomite.mass_kg / 1000.0,
        "dolomite_cao": dolomite.oxide_pct("CaO"),
        "dolomite_sio2": dolomite.oxide_pct("SiO2"),
        "lime_cao": lime.oxide_pct("CaO"),
        "lime_sio2": lime.oxide_pct("SiO2"),
    }


def lime_without_dolomite(s):
    """The sum of the text where the lime of the dolomite is forgotten, t."""
    return lime_by_hand(s, dolomite_cao=0.0)


def lime_by_hand(s, silica_per_silicon=2.139, **other):
    """The sum of the text, t. other: figures of it instead."""
    f, basicity = lime_figures(s) | other, s.works.slag.basicity
    silicon = (
        s.metal.mass_kg / 1e5 * s.metal.analysis_pct["Si"] + f["scrap_t"] * f["scrap_si"] / 100
    )
    dirt = f["scrap_t"] * f["scrap_dirt"] + f["dolomite_t"] * f["dolomite_sio2"]
    silica = silica_per_silicon * silicon + dirt / 100.0
    asked = basicity * silica - f["dolomite_t"] * f["dolomite_cao"] / 100.0
    return asked / (f["lime_cao"] - basicity * f["lime_sio2"]) * 100.0


def _burnt(s):
    """Rows of what burns: name, kg, Nm3 of O2 for a kg."""
    heat, scrap = s.heat, s.heat.scrap
    bound = sum(x.mass_kg * x.material.carbonate_c for x in (heat.lime, heat.dolomite))
    metallic = scrap.mass_kg * scrap.material.analysis_pct.get("Si", 0.0)
    slag = {e: heat.slag.element_kg()[e] for e in ("Mn", "P")}
    iron = heat.dust.element_kg()["Fe"]
    to_feo, to_fe2o3 = (heat.slag.oxides_kg[o] * mass_fractions(o)["Fe"] for o in _IRON)
    return (
        ("carbon", heat.gas.element_kg()["C"] - bound, nm3_per_kg("C")),
        ("silicon", s.metal.element_kg()["Si"] + metallic / 100.0, nm3_per_kg("Si")),
        ("manganese", slag["Mn"], nm3_per_kg("Mn")),
        ("phosphorus", slag["P"], nm3_per_kg("P")),
        ("FeO", iron + to_feo, nm3_per_kg("Fe")),
        ("Fe2O3", to_fe2o3, nm3_per_kg("Fe", ferric_pct=100.0)),
    )


def oxygen_figures(s):
    """What burns, kg, and the oxygen that comes and goes otherwise, Nm3."""
    _, go = oxygen_ledger(s.heat)
    scrap, rows = s.heat.scrap, _burnt(s)
    rust = scrap.mass_kg * scrap.material.analysis_pct.get("Fe2O3", 0.0) / 100.0
    iron = rust * mass_fractions("Fe2O3")["Fe"]
    return {
        "burnt": {name: kg for name, kg, _ in rows},
        "per_kg": {name: nm3 for name, _, nm3 in rows},
        "dissolved_nm3": go["dissolved in the metal"] * s.heat.steel.mass_kg / 1000.0,
        "rust_nm3": iron * nm3_per_kg("Fe", ferric_pct=100.0),
    }


def oxygen_by_hand(s, without=(), to_co2=True):
    """The sum of the text, Nm3."""
    f, works = oxygen_figures(s), s.works
    nm3 = sum(kg * per_kg for name, kg, per_kg in _burnt(s) if name not in without)
    if to_co2:
        nm3 += f["burnt"]["carbon"] * f["per_kg"]["carbon"] * works.gas.co2_pct / 100.0
    left = (1.0 - works.gas.unused_o2_pct / 100.0) * works.oxygen.purity_pct / 100.0
    return (nm3 + f["dissolved_nm3"] - f["rust_nm3"]) / left
