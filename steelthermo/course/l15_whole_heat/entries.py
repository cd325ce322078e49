"""The entries of the heat sheet (lesson 15): what is asked at each stage of a heat, in words, with its tolerance and slips.

Each entry is a number (or a choice) that is worked out from where the learner's own heat stands; the sums are those of heat_steps.
"""

from dataclasses import dataclass

from ...base import mass_fractions
from ...coursekit.problems import Answer, Choice, Problem, Slip
from ...end_point import carbon_from_oxygen
from ...hot_metal import magnesium_left_pct
from ...ladle import aluminium_demand_kg_t
from ...works import plant_value
from . import steps


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
        return Problem(
            f"whole_heat.{self.key}",
            self.title,
            text,
            (),
            self.answer,
            lambda: self.right(state),
            ("",),
            "",
            slips=slips,
        )


def _sulphur_besides(s):
    """What else brings sulphur, in words."""
    heat = steps.charge_of(s)
    brings = " and ".join(
        f"{r.mass_kg / 1000:.1f} t of {name} with {100 * r.material.per_kg.get('S', 0.0):.3f} %"
        for name, r in (("scrap", heat.scrap), ("lime", heat.lime))
    )
    return f"Such a heat takes {brings} of sulphur and gives {heat.steel.mass_kg / 1000:.0f} t of steel."


def _magnesium_left(s):
    return magnesium_left_pct(steps.AIM_S_PCT, s.metal.temp_c)


def _stands(s):
    return f"The {steps.tapped_t(s):.0f} t of steel stand at {s.steel.temp_c:.0f} °C with {s.steel.analysis_pct['C']:.3f} % C."


def _carbon(s):
    exact = {
        "u_oxygen_share": 0.0,
        "u_temp_c": 0.0,
        "u_p_co_share": 0.0,
    }  # only the value is asked; its uncertainty takes six times as long
    return carbon_from_oxygen(s.oxygen_ppm / 1e4, s.steel.temp_c, steps.CO_ATM, **exact).value


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
        steps.treat,
        lambda s: (
            f"""{s.metal.mass_kg / 1000:.0f} t of hot metal, {s.metal.temp_c:.0f} °C, {_analysis(s.metal, "C", "Si", "Mn", "P", "S")}. The
customer allows {s.given["s_max_pct"]:.3f} % S in the steel. In the vessel {s.works.slag.sulphur_to_slag_pct:.0f} % of the sulphur goes to
the slag. {_sulphur_besides(s)}"""
        ),
    ),
    Entry(
        "magnesium",
        "Magnesium for the ladle",
        "09",
        Answer("kg", f"eight per cent: {_SHOP}", tolerance_pct=8.0),
        steps.magnesium,
        lambda s: (
            f"""How much magnesium takes the {s.metal.mass_kg / 1000:.0f} t from {s.metal.analysis_pct["S"]:.3f} to {steps.AIM_S_PCT:.3f} % S, if
{plant_value("mg_efficiency_pct").start:.0f} % of it does its work? Beside {steps.AIM_S_PCT:.3f} % S some {_magnesium_left(s):.4f} % Mg stay
dissolved, and count as work. (If you leave the metal as it is, this is only for practice.)"""
        ),
        steps.after_magnesium,
        (
            (
                "efficiency",
                "You left out the efficiency: only a part of the magnesium does its work.",
                lambda s: steps.magnesium(s) * plant_value("mg_efficiency_pct").start / 100.0,
            ),
        ),
    ),
    Entry(
        "scrap",
        "Scrap",
        "08",
        Answer("t", f"four per cent: {_SHOP}", tolerance_pct=4.0),
        lambda s: steps.charge_of(s).scrap.mass_kg / 1000.0,
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
        lambda s: (
            steps.charge_of(
                s, find="temperature", scrap_kg=1000.0 * s.entered["scrap"]
            ).lime.mass_kg
            / 1000.0
        ),
        lambda s: (
            f"""With your scrap: how much lime gives CaO/SiO2 = {s.works.slag.basicity:.1f}, burnt dolomite bringing the slag to
{s.works.slag.mgo_pct:.0f} % MgO?"""
        ),
        steps.after_lime,
        (
            (
                "si",
                "You took the silicon for its oxide: SiO2 weighs 2.14 times as much.",
                lambda s: ENTRIES[3].right(s) * mass_fractions("SiO2")["Si"],
            ),
        ),
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
        steps.after_oxygen,
        (
            (
                "purity",
                "You gave the pure oxygen; a little more of the real one is needed.",
                lambda s: (
                    s.heat.oxygen.nm3["O2"] if s.works.oxygen.purity_pct < 93 else float("nan")
                ),
            ),
        ),
    ),
    Entry(
        "minutes",
        "Minutes of the blow",
        "04",
        Answer("min", f"three per cent: {_SHOP}", tolerance_pct=3.0),
        lambda s: s.entered["oxygen"] / s.works.oxygen.flow_nm3_min,
        lambda s: (
            f"""You blow {s.entered["oxygen"]:.0f} Nm3 at {s.works.oxygen.flow_nm3_min:.0f} Nm3/min. How long?"""
        ),
    ),
    Entry(
        "carbon",
        "Carbon by the probe",
        "13",
        Answer("%", f"ten per cent: {_SHOP}", tolerance_pct=10.0),
        _carbon,
        lambda s: (
            f"""The sample stands at {s.steel.temp_c:.0f} °C; the probe reads {s.oxygen_ppm:.0f} ppm dissolved oxygen. Carbon and oxygen met
at {steps.CO_ATM:.1f} atm of CO. What carbon does that mean? (With the interactions counted [%C] × [%O] is
{_carbon(s) * s.oxygen_ppm / 1e4 / steps.CO_ATM:.4f} × pressure of CO here, in % and atm.)"""
        ),
        None,
        (
            ("ppm", "You took ppm for %: 600 ppm is 0.06 %.", lambda s: ENTRIES[6].right(s) / 1e4),
            (
                "pressure",
                "You left out the pressure of CO.",
                lambda s: ENTRIES[6].right(s) / steps.CO_ATM,
            ),
        ),
    ),
    Entry(
        "action",
        "Tap, blow again, or cool?",
        "13",
        Choice(
            ("Tap.", "Blow again.", "Cool with scrap.", "Blow again, then cool with scrap."),
            (
                "Tapping is right where temperature and carbon both lie in their ranges.",
                "A second blow is right where carbon is too high or the steel too cold; it burns iron.",
                "A coolant is right where the steel is too hot and the carbon low enough.",
                "Both are right where carbon is too high in a steel that is hot, or that the second blow makes too hot.",
            ),
        ),
        lambda s: steps.ACTIONS.index(steps.decision(s).action) + 1,
        lambda s: (
            f"""The steel stands at {s.steel.temp_c:.0f} °C with {s.steel.analysis_pct["C"]:.3f} % C. Tapping is allowed at
{s.works.end_point.temp_c - steps.BAND_C:.0f} to {s.works.end_point.temp_c + steps.BAND_C:.0f} °C and at most {steps.CARBON_MAX_PCT:.2f} % C."""
        ),
    ),
    Entry(
        "again",
        "Oxygen of a second blow",
        "13",
        Answer(
            "Nm3", f"fifteen per cent or 20 Nm3: {_SHOP}", tolerance_pct=15.0, tolerance_abs=20.0
        ),
        steps.again,
        lambda s: (
            f"""{_stands(s)} If you blow again: how much oxygen? (Else 0.) Half of it burns carbon, 0.98 Nm3 for each kg, until the limit
of {steps.CARBON_MAX_PCT:.2f} % is reached; the other half burns iron. If the steel is then still below
{s.works.end_point.temp_c - steps.BAND_C:.0f} °C, iron is burnt up to {s.works.end_point.temp_c:.0f} °C. Carbon gives 13 °C and iron 25 °C for each
Nm3/t."""
        ),
        steps.after_again,
    ),
    Entry(
        "coolant",
        "Scrap to cool with",
        "13",
        Answer(
            "kg", f"fifteen per cent or 100 kg: {_SHOP}", tolerance_pct=15.0, tolerance_abs=100.0
        ),
        steps.coolant,
        lambda s: (
            f"""{_stands(s)} If you cool: how much scrap brings it to {s.works.end_point.temp_c:.0f} °C? (Else 0.) Each kg/t takes 1.6 to
1.7 °C."""
        ),
        steps.after_coolant,
    ),
    Entry(
        "aluminium",
        "Aluminium",
        "14",
        Answer("kg", f"six per cent: {_SHOP}", tolerance_pct=6.0),
        steps.aluminium,
        lambda s: (
            f"""{steps.tapped_t(s):.0f} t of steel with {s.oxygen_ppm:.0f} ppm oxygen; {plant_value("carry_over_stopper_kg_t").start:.0f} kg/t of
slag come with it, with """
            + ", ".join(f"{p:.1f} % {o}" for o, p in steps.slag_pct(s).items())
            + f", all of which aluminium reduces. The steel is to keep {steps.AIM_AL_PCT:.3f} % Al; "
            f"{plant_value('recovery_al_pct').start:.0f} % of the aluminium reaches the bath. How much aluminium?"
        ),
        None,
        (
            (
                "slag",
                "You left out the slag carried over.",
                lambda s: (
                    aluminium_demand_kg_t(s.oxygen_ppm, steps.AIM_AL_PCT)["total"]
                    * steps.tapped_t(s)
                ),
            ),
        ),
    ),
    Entry(
        "silicomanganese",
        "Silicomanganese for silicon",
        "14",
        Answer("kg", f"five per cent: {_SHOP}", tolerance_pct=5.0),
        steps.silicomanganese,
        lambda s: (
            f"""Silicomanganese with 17 % Si and 66 % Mn is to bring {steps.AIM_SI_PCT:.2f} % Si into {s.steel.mass_kg / 1000:.0f} t;
{plant_value("recovery_si_pct").start:.0f} % of the silicon is recovered."""
        ),
        None,
        (
            (
                "recovery",
                "You left out the recovery.",
                lambda s: steps.silicomanganese(s) * plant_value("recovery_si_pct").start / 100.0,
            ),
        ),
    ),
    Entry(
        "ferromanganese",
        "Ferromanganese for the rest of the manganese",
        "14",
        Answer("kg", f"ten per cent or 30 kg: {_SHOP}", tolerance_pct=10.0, tolerance_abs=30.0),
        steps.ferromanganese,
        lambda s: (
            f"""The {s.steel.mass_kg / 1000:.0f} t of steel have {s.steel.analysis_pct["Mn"]:.2f} % Mn; your {s.entered["silicomanganese"]:.0f} kg of
silicomanganese (66 % Mn) bring more. Ferromanganese (76 % Mn) brings the rest up to {steps.AIM_MN_PCT:.2f} %;
{plant_value("recovery_mn_pct").start:.0f} % of manganese is
recovered in both."""
        ),
        steps.after_ferromanganese,
    ),
    Entry(
        "ladle_temp",
        "Temperature in the ladle",
        "14",
        Answer("°C", f"eight degrees: {_SHOP}", tolerance_abs=8.0),
        lambda s: s.ladle.steel.temp_c,
        lambda s: (
            f"""The steel left the vessel at {s.steel.temp_c:.0f} °C and loses {plant_value("tap_drop_c").start:.0f} °C to the ladle. Per
kg/t silicomanganese takes 1.3 °C and ferromanganese 2.0 °C. Of your {s.entered["aluminium"]:.0f} kg of aluminium
{s.ladle.steel.element_kg().get("Al", 0.0):.0f} kg stay in the {s.steel.mass_kg / 1000:.0f} t of steel; what burns gives about 19 °C per kg/t. What does
the ladle thermometer read?"""
        ),
    ),
)


def heat_problem(works):
    """The draw of a heat: refused where the usual charge of this works does not work out."""
    return Problem(
        "whole_heat.heat", "The heat", "", steps.givens(works), Answer("t", "only drawn", tolerance_pct=1.0),
        lambda **given: steps.charge_of(steps.begin(given, works)).scrap.mass_kg / 1000.0, ("none",), "",
        plausible=lambda answer, **given: answer > 0.1 * given["hot_metal_t"], vector=False,
    )  # fmt: skip
