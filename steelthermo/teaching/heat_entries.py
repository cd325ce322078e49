"""The entries of the heat sheet (lesson 15): what is asked at each stage of a heat, what is right there, and what follows from what is entered.

Each entry is a number (or a choice) that is worked out from where the learner's own heat stands, so an early error is not counted twice: it has its
consequence instead. Physics comes from the rooms; this module only strings them together. It is a sheet of calculations, not a vessel.
"""

from dataclasses import dataclass, field

from .. import alloys, bath_heat, charge, endpoint, equilibria, ladle, pretreatment
from ..elements import mass_fractions
from ..liquid_iron import LiquidMetal
from ..oxygen import nm3_per_kg
from ..plant_values import plant_value
from ..units import kelvin
from .problem import Answer, Choice, Given, Problem, Slip

__all__ = ["BAND_C", "CARBON_MAX_PCT", "ENTRIES", "Entry", "State", "begin", "heat_problem"]

AIM_S_PCT = 0.004  # after treatment
CO_ATM = 1.3  # pressure of CO at which carbon and oxygen meet at the end of the blow (plant value)
AIM_AL_PCT, AIM_SI_PCT, AIM_MN_PCT = 0.035, 0.25, 1.45
CARBON_MAX_PCT = 0.06
BAND_C = 10.0


@dataclass(frozen=True)
class State:
    """Where a heat stands: given (what the learner was given), works, metal, steel, slag and what was entered. Later stages add to it."""

    given: dict
    works: object
    metal: LiquidMetal
    heat: object = None  # charge.Charge
    steel: LiquidMetal = None
    oxygen_ppm: float = 0.0
    ladle: object = None
    entered: dict = field(default_factory=dict)

    def after(self, **changes):
        """The state with changes."""
        return State(**{**self.__dict__, **changes})


def _given(works):
    hot = works.hot_metal
    base = round(hot.temp_c / 5.0) * 5.0
    return (
        Given("hot_metal_t", "hot metal", "t", round(0.74 * works.vessel.tap_t), round(0.82 * works.vessel.tap_t), 1, "three quarters or so of the charge"),
        Given("hot_metal_temp_c", "its temperature", "°C", base - 25, base + 25, 5, "the works' hot metal, 25 degrees up or down"),
        Given("si_pct", "silicon", "%", 0.3, 0.6, 0.01, "hot metal, common practice"),
        Given("s_pct", "sulphur", "%", 0.012, 0.04, 0.001, "untreated hot metal, common practice"),
        Given("s_max_pct", "sulphur the customer allows", "%", 0.011, 0.018, 0.001, "tighter than the public specification"),
        Given("off_plan_c", "how far the heat ends off its plan", "°C", -24, 30, 6, "scatter of heats, common practice"),
    )


def begin(given, works):
    """State of a heat before anything is done."""
    pct = {**works.hot_metal.analysis_pct, "Si": given["si_pct"], "S": given["s_pct"]}
    return State(given, works, LiquidMetal(1000.0 * given["hot_metal_t"], pct, given["hot_metal_temp_c"]))


def _charge(state, **options):
    pct = {e: p for e, p in state.metal.analysis_pct.items() if e != "Fe"}
    return charge.solve(state.works, hot_metal_kg=state.metal.mass_kg, hot_metal_pct=pct, hot_metal_temp_c=state.metal.temp_c, **options)


def _blown(state):
    """The heat with the scrap and lime entered; the oxygen it needs follows."""
    return _charge(state, find="temperature", scrap_kg=1000.0 * state.entered["scrap"], lime_kg=1000.0 * state.entered["lime"])


def _tapped_t(state):
    return state.heat.steel.mass_kg / 1000.0


# ---- what is right at each entry, for the heat as it stands ---------------------------------------------------------------------------------


def _treat(s):
    return 1 if _charge(s).steel.analysis_pct["S"] > s.given["s_max_pct"] else 2


def _magnesium(s):
    return pretreatment.dose(s.metal, AIM_S_PCT, {"magnesium": 1.0}).kg["magnesium"]


def _decision(s):
    return endpoint.decide(
        s.steel.temp_c, s.steel.analysis_pct["C"], aim_temp_c=s.works.end_point.temp_c, aim_carbon_pct=CARBON_MAX_PCT,
        steel_t=_tapped_t(s), flow_nm3_min=s.works.oxygen.flow_nm3_min, band_c=BAND_C,
    )  # fmt: skip


ACTIONS = ("tap", "blow again", "cool")


def _amount(s):
    found = _decision(s)
    return {"tap": 0.0, "blow again": found.oxygen_nm3.value, "cool": found.coolant_kg.value}[found.action]


def _slag_pct(s):
    return {o: p for o, p in s.heat.slag.analysis_pct.items() if o in ("FeO", "Fe2O3", "MnO", "P2O5")}


def _aluminium(s):
    """By the sum of a shift; the slag carried over counts with all its iron and manganese oxide."""
    carried = plant_value("carry_over_stopper_kg_t").start
    terms = ladle.aluminium_demand_kg_t(s.oxygen_ppm, AIM_AL_PCT, slag_pct=_slag_pct(s), slag_kg_t=carried, reduced_pct=100.0)
    return terms["total"] * _tapped_t(s)


def _alloy(key, element, rise_pct, state):
    found = alloys.alloy(key)
    return alloys.addition_kg(
        state.steel.mass_kg, max(rise_pct, 0.0), found.material.pct(element), plant_value(f"recovery_{element.lower()}_pct").start, dilution=False
    )


def _silicomanganese(s):
    return _alloy("silicomanganese", "Si", AIM_SI_PCT, s)


def _mn_from_silicomanganese(s):
    kg = s.entered["silicomanganese"]
    return kg * alloys.alloy("silicomanganese").material.pct("Mn") * plant_value("recovery_mn_pct").start / 100.0 / s.steel.mass_kg


def _ferromanganese(s):
    return _alloy("ferromanganese", "Mn", AIM_MN_PCT - s.steel.analysis_pct["Mn"] - _mn_from_silicomanganese(s), s)


def _ladled(s, **kg):
    carried = ladle.carry_over(s.heat.slag, s.heat.steel.mass_kg, plant_value("carry_over_stopper_kg_t").start)
    steel = ladle.with_oxygen(s.steel, s.oxygen_ppm)
    return ladle.treat(steel, kg, slag=carried, slag_reduced_pct=100.0, loss_c=plant_value("tap_drop_c").start)


# ---- what an entry does to the heat ---------------------------------------------------------------------------------------------------------


def _after_magnesium(s):
    if s.entered["treat"] == 2 or s.entered["magnesium"] == 0:
        return s
    stage = pretreatment.desulphurise(s.metal, {"magnesium": s.entered["magnesium"]})
    return s.after(metal=pretreatment.into_vessel(stage))


def _after_lime(s):
    return s.after(heat=_blown(s))


def _after_oxygen(s):
    """What too little or too much oxygen leaves behind: carbon not burnt, or iron burnt; and no heat ends quite as planned."""
    heat, works = s.heat, s.works
    spare_t = (s.entered["oxygen"] - heat.oxygen_nm3) * works.oxygen.purity_pct / 100.0 / (heat.steel.mass_kg / 1000.0)  # Nm3 of O2 per t
    pct = {e: p for e, p in heat.steel.analysis_pct.items() if e != "Fe"}
    if spare_t < 0:
        left = -spare_t / nm3_per_kg("C", works.gas.co2_pct) / 10.0
        temp = heat.temp_c - left * 100.0 * bath_heat.rise_c_per_point(heat.temp_c, works.gas.co2_pct)
        pct["C"] += left
    else:
        temp = heat.temp_c + spare_t * bath_heat.rise_c_per_nm3_t("Fe", heat.temp_c)
    steel = LiquidMetal(heat.steel.mass_kg, pct, temp + s.given["off_plan_c"])
    temp = steel.temp_c
    oxygen = equilibria.oxygen_with_carbon(pct["C"], kelvin(temp), CO_ATM) * 1e4
    return s.after(steel=steel, oxygen_ppm=oxygen)


def _after_amount(s):
    action, amount = ACTIONS[s.entered["action"] - 1], s.entered["amount"]
    steel, t = s.steel, _tapped_t(s)
    pct = {e: p for e, p in steel.analysis_pct.items() if e != "Fe"}
    if action == "cool":
        per_c, per_pct = bath_heat.coolant_effect("scrap", steel.temp_c)
        mass, temp = steel.mass_kg + amount, steel.temp_c + per_c * amount / t
        pct["C"] = max(pct["C"] + per_pct * amount / t, 0.0)
    elif action == "blow again":
        mass, share = steel.mass_kg, min(0.5, max(pct["C"] - 0.03, 0.0) * 10.0 * nm3_per_kg("C", 5.0) / max(amount / t, 1e-9))
        pct["C"] -= share * amount / t / nm3_per_kg("C", 5.0) / 10.0
        temp = steel.temp_c + amount / t * (
            share * bath_heat.rise_c_per_nm3_t("C", steel.temp_c, 5.0) + (1.0 - share) * bath_heat.rise_c_per_nm3_t("Fe", steel.temp_c)
        )
    else:
        mass, temp = steel.mass_kg, steel.temp_c
    steel = LiquidMetal(mass, pct, temp)
    return s.after(steel=steel, oxygen_ppm=equilibria.oxygen_with_carbon(pct["C"], kelvin(temp), CO_ATM) * 1e4)


def _after_ferromanganese(s):
    kg = {key: s.entered[key] for key in ("aluminium", "silicomanganese", "ferromanganese")}
    return s.after(ladle=_ladled(s, **kg))


@dataclass(frozen=True)
class Entry:
    """One line of the sheet. right(state): the right value; text(state): what is asked, with the heat's figures; then(state): what follows."""

    key: str
    title: str
    lesson: str
    answer: object
    right: object
    text: object
    then: object = None
    slips: tuple = ()

    def problem(self, state):
        """The entry as a problem of its own, for the checker."""
        text = self.text(state).replace("{", "{{").replace("}", "}}")
        slips = tuple(Slip(key, words, solve=lambda f=f: f(state)) for key, words, f in self.slips)
        return Problem(f"whole_heat.{self.key}", self.title, text, (), self.answer, lambda: self.right(state), ("",), "", slips=slips)


_SHOP = "what a shop would let pass"


def _analysis(metal, *elements):
    return ", ".join(f"{metal.analysis_pct.get(e, 0.0):.3f} % {e}" for e in elements)


ENTRIES = (
    Entry(
        "treat",
        "Treat the hot metal first?",
        "09",
        Choice(
            ("Desulphurise it.", "Leave it as it is."),
            (
                "Treatment takes degrees and iron: right only where the vessel can't reach the sulphur allowed.",
                "Untreated, the steel keeps most of the sulphur charged: right only where that is less than allowed.",
            ),
        ),
        _treat,
        lambda s: (
            f"""{s.metal.mass_kg / 1000:.0f} t of hot metal, {s.metal.temp_c:.0f} °C, {_analysis(s.metal, "C", "Si", "Mn", "P", "S")}. The
customer allows {s.given["s_max_pct"]:.3f} % S in the steel. In the vessel {s.works.slag.sulphur_to_slag_pct:.0f} % of the sulphur goes to
the slag; scrap and lime bring some."""
        ),
    ),
    Entry(
        "magnesium",
        "Magnesium for the ladle",
        "09",
        Answer("kg", f"eight per cent: {_SHOP}", tolerance_pct=8.0),
        _magnesium,
        lambda s: (
            f"""How much magnesium takes the {s.metal.mass_kg / 1000:.0f} t from {s.metal.analysis_pct["S"]:.3f} to {AIM_S_PCT:.3f} % S, if
{plant_value("mg_efficiency_pct").start:.0f} % of it does its work? What stays dissolved is small at this aim. (If you leave the metal as
it is, this is only for practice.)"""
        ),
        _after_magnesium,
        (
            (
                "efficiency",
                "You left out the efficiency: only a part of the magnesium does its work.",
                lambda s: _magnesium(s) * plant_value("mg_efficiency_pct").start / 100.0,
            ),
        ),
    ),
    Entry(
        "scrap",
        "Scrap",
        "08",
        Answer("t", f"four per cent: {_SHOP}", tolerance_pct=4.0),
        lambda s: _charge(s).scrap.mass_kg / 1000.0,
        lambda s: (
            f"""The hot metal stands at {s.metal.temp_c:.0f} °C with {_analysis(s.metal, "C", "Si")}. The heat is to end at
{s.works.end_point.temp_c:.0f} °C. How much heavy scrap goes in? (Panel or library of lesson 08.)"""
        ),
    ),
    Entry(
        "lime",
        "Lime",
        "06",
        Answer("t", f"five per cent: {_SHOP}", tolerance_pct=5.0),
        lambda s: _charge(s, find="temperature", scrap_kg=1000.0 * s.entered["scrap"]).lime.mass_kg / 1000.0,
        lambda s: (
            f"""With your scrap: how much lime gives CaO/SiO2 = {s.works.slag.basicity:.1f}, burnt dolomite bringing the slag to
{s.works.slag.mgo_pct:.0f} % MgO?"""
        ),
        _after_lime,
        (("si", "You took the silicon for its oxide: SiO2 weighs 2.14 times as much.", lambda s: ENTRIES[3].right(s) * mass_fractions("SiO2")["Si"]),),
    ),
    Entry(
        "oxygen",
        "Oxygen",
        "04",
        Answer("Nm3", f"three per cent: {_SHOP}", tolerance_pct=3.0),
        lambda s: s.heat.oxygen_nm3,
        lambda s: (
            f"""How much oxygen ({s.works.oxygen.purity_pct:.1f} %) does your charge take, down to {s.works.end_point.analysis_pct["C"]:.2f}
% C, with {s.works.gas.co2_pct:.0f} % of the carbon going to CO2?"""
        ),
        _after_oxygen,
        (
            (
                "purity",
                "You gave the pure oxygen; a little more of the real one is needed.",
                lambda s: s.heat.oxygen.nm3["O2"] if s.works.oxygen.purity_pct < 93 else float("nan"),
            ),
        ),
    ),
    Entry(
        "minutes",
        "Minutes of the blow",
        "04",
        Answer("min", f"three per cent: {_SHOP}", tolerance_pct=3.0),
        lambda s: s.entered["oxygen"] / s.works.oxygen.flow_nm3_min,
        lambda s: f"""You blow {s.entered["oxygen"]:.0f} Nm3 at {s.works.oxygen.flow_nm3_min:.0f} Nm3/min. How long?""",
    ),
    Entry(
        "carbon",
        "Carbon by the probe",
        "13",
        Answer("%", f"ten per cent: {_SHOP}", tolerance_pct=10.0),
        lambda s: endpoint.carbon_from_oxygen(s.oxygen_ppm / 1e4, s.steel.temp_c, CO_ATM).value,
        lambda s: (
            f"""The sample stands at {s.steel.temp_c:.0f} °C; the probe reads {s.oxygen_ppm:.0f} ppm dissolved oxygen. Carbon and oxygen met
at {CO_ATM:.1f} atm of CO. What carbon does that mean? ([%C] × [%O] = 0.0021 × pressure of CO is near enough.)"""
        ),
        None,
        (
            ("ppm", "You took ppm for %: 600 ppm is 0.06 %.", lambda s: ENTRIES[6].right(s) / 1e4),
            ("pressure", "You left out the pressure of CO.", lambda s: ENTRIES[6].right(s) / CO_ATM),
        ),
    ),
    Entry(
        "action",
        "Tap, blow again, or cool?",
        "13",
        Choice(
            ("Tap.", "Blow again.", "Cool with scrap."),
            (
                "Tapping is right where temperature and carbon both lie in their ranges.",
                "A second blow is right where carbon is too high or the steel too cold; it burns iron.",
                "A coolant is right where the steel is too hot and the carbon low enough.",
            ),
        ),
        lambda s: ACTIONS.index(_decision(s).action) + 1,
        lambda s: (
            f"""The steel stands at {s.steel.temp_c:.0f} °C with {s.steel.analysis_pct["C"]:.3f} % C. Tapping is allowed at
{s.works.end_point.temp_c - BAND_C:.0f} to {s.works.end_point.temp_c + BAND_C:.0f} °C and at most {CARBON_MAX_PCT:.2f} % C."""
        ),
    ),
    Entry(
        "amount",
        "How much?",
        "13",
        Answer("1", f"fifteen per cent or 20 units: {_SHOP}", tolerance_pct=15.0, tolerance_abs=20.0),
        _amount,
        lambda s: (
            """Nm3 of oxygen if you blow again, kg of scrap if you cool, 0 if you tap. In the second blow half of the oxygen burns carbon
as long as there is too much of it; the rest burns iron: 25 °C per Nm3/t. Scrap cools by 1.6 to 1.7 °C per kg/t. Bring the steel to the
middle of the range."""
        ),
        _after_amount,
    ),
    Entry(
        "aluminium",
        "Aluminium",
        "14",
        Answer("kg", f"six per cent: {_SHOP}", tolerance_pct=6.0),
        _aluminium,
        lambda s: (
            f"""{_tapped_t(s):.0f} t of steel with {s.oxygen_ppm:.0f} ppm oxygen; {plant_value("carry_over_stopper_kg_t").start:.0f} kg/t of
slag come with it, with """
            + ", ".join(f"{p:.1f} % {o}" for o, p in _slag_pct(s).items())
            + f", all of which aluminium reduces. The steel is to keep {AIM_AL_PCT:.3f} % Al; "
            f"{plant_value('recovery_al_pct').start:.0f} % of the aluminium reaches the bath. How much aluminium?"
        ),
        None,
        (("slag", "You left out the slag carried over.", lambda s: ladle.aluminium_demand_kg_t(s.oxygen_ppm, AIM_AL_PCT)["total"] * _tapped_t(s)),),
    ),
    Entry(
        "silicomanganese",
        "Silicomanganese for silicon",
        "14",
        Answer("kg", f"five per cent: {_SHOP}", tolerance_pct=5.0),
        _silicomanganese,
        lambda s: (
            f"""Silicomanganese with 17 % Si and 66 % Mn is to bring {AIM_SI_PCT:.2f} % Si into {s.steel.mass_kg / 1000:.0f} t;
{plant_value("recovery_si_pct").start:.0f} % of the silicon is recovered."""
        ),
        None,
        (("recovery", "You left out the recovery.", lambda s: _silicomanganese(s) * plant_value("recovery_si_pct").start / 100.0),),
    ),
    Entry(
        "ferromanganese",
        "Ferromanganese for the rest of the manganese",
        "14",
        Answer("kg", f"ten per cent or 30 kg: {_SHOP}", tolerance_pct=10.0, tolerance_abs=30.0),
        _ferromanganese,
        lambda s: (
            f"""The steel has {s.steel.analysis_pct["Mn"]:.2f} % Mn; your {s.entered["silicomanganese"]:.0f} kg of silicomanganese bring
more. Ferromanganese (76 % Mn) brings the rest up to {AIM_MN_PCT:.2f} %; {plant_value("recovery_mn_pct").start:.0f} % of manganese is
recovered in both."""
        ),
        _after_ferromanganese,
    ),
    Entry(
        "ladle_temp",
        "Temperature in the ladle",
        "14",
        Answer("°C", f"eight degrees: {_SHOP}", tolerance_abs=8.0),
        lambda s: s.ladle.steel.temp_c,
        lambda s: (
            f"""The steel left the vessel at {s.steel.temp_c:.0f} °C and loses {plant_value("tap_drop_c").start:.0f} °C to the ladle. Per
kg/t silicomanganese takes 1.3 °C and ferromanganese 2.0 °C; aluminium that burns with the oxygen of steel and slag gives about 19 °C per
kg/t. What does the ladle thermometer read?"""
        ),
    ),
)


def heat_problem(works):
    """The draw of a heat: refused where the usual charge of this works does not work out."""
    return Problem(
        "whole_heat.heat", "The heat", "", _given(works), Answer("t", "only drawn", tolerance_pct=1.0),
        lambda **given: _charge(begin(given, works)).scrap.mass_kg / 1000.0, ("none",), "",
        plausible=lambda answer, **given: answer > 0.1 * given["hot_metal_t"], vector=False,
    )  # fmt: skip
