"""The entries of the heat sheet (lesson 15): what is asked at each stage of a heat, with its slips;
their words stand in entries.toml.

Each entry is a number (or a choice) that is worked out from where the learner's own heat stands;
the calculations are those of steps.
"""

from dataclasses import dataclass

from ...base import mass_fractions
from ...coursekit.problems import Answer, Choice, Problem, Slip, Solution, asked_of, read_words
from ...end_point import carbon_from_oxygen
from ...hot_metal import magnesium_left_pct
from ...ladle import aluminium_demand_kg_t
from ...works import plant_value
from . import steps


@dataclass(frozen=True)
class Entry:
    """One line of the sheet, worked out from a state.

    template: what is asked, with fields for the state and its figures; then(state): what follows,
    or None; slips: (key, sentence, function of the state); cautions: keys of its hazards.
    """

    key: str
    title: str
    lesson: str
    template: str
    number: Answer | None
    choice: Choice | None
    solution: Solution
    then: object
    slips: tuple
    cautions: tuple

    def right(self, state):
        """The right value."""
        return self.solution.solve(state)

    def text(self, state):
        """What is asked, with the heat's figures."""
        own = self.solution.figures(state) if self.solution.figures else {}
        return self.template.format_map(vars(state) | _figures(state) | own)

    def problem(self, state):
        """The entry as a problem of its own, for the checker."""
        text = self.text(state).replace("{", "{{").replace("}", "}}")
        slips = tuple(Slip(key, words, solve=lambda f=f: f(state)) for key, words, f in self.slips)
        return Problem(
            f"whole_heat.{self.key}",
            self.title,
            text,
            (),
            lambda: self.right(state),
            ("",),
            "",
            self.number,
            self.choice,
            slips,
        )


def _figures(s):
    """Figures that the texts share."""
    end_c = s.works.end_point.temp_c
    steel = s.steel or steps.charge_of(s).steel
    return {
        "steps": steps,
        "hot_metal_t": s.metal.mass_kg / 1000.0,
        "hot_pct": {e: s.metal.analysis_pct.get(e, 0.0) for e in ("C", "Si", "Mn", "P", "S")},
        "steel_t": steel.mass_kg / 1000.0,
        "low_c": end_c - steps.BAND_C,
        "high_c": end_c + steps.BAND_C,
    } | {key: _plant(key) for key in _PLANT}


_PLANT = (
    "mg_efficiency_pct",
    "carry_over_stopper_kg_t",
    "recovery_al_pct",
    "recovery_si_pct",
    "recovery_mn_pct",
    "tap_drop_c",
)


def _plant(key):
    return plant_value(key).start


def _sulphur_besides(s):
    """What else brings sulphur."""
    heat = steps.charge_of(s)
    return {
        "scrap_t": heat.scrap.mass_kg / 1000.0,
        "scrap_s_pct": 100.0 * heat.scrap.material.per_kg.get("S", 0.0),
        "lime_t": heat.lime.mass_kg / 1000.0,
        "lime_s_pct": 100.0 * heat.lime.material.per_kg.get("S", 0.0),
    }


def _carbon(s):
    # only the value is asked; its uncertainty takes six times as long
    exact = dict.fromkeys(("u_oxygen_share", "u_temp_c", "u_p_co_share"), 0.0)
    return carbon_from_oxygen(s.oxygen_ppm / 1e4, s.steel.temp_c, steps.CO_ATM, **exact).value


def _lime(s):
    heat = steps.charge_of(s, find="temperature", scrap_kg=1000.0 * s.entered["scrap"])
    return heat.lime.mass_kg / 1000.0


def _pure_oxygen(s):
    return s.heat.oxygen.nm3["O2"] if s.works.oxygen.purity_pct < 93 else float("nan")


def _no_slag(s):
    return aluminium_demand_kg_t(s.oxygen_ppm, steps.AIM_AL_PCT)["total"] * steps.tapped_t(s)


def _tapped(s):
    slag = ", ".join(f"{p:.1f} % {o}" for o, p in steps.slag_pct(s).items())
    return {"tapped_t": steps.tapped_t(s), "slag": slag}


SOLUTIONS = {
    "treat": Solution(steps.treat, figures=_sulphur_besides),
    "magnesium": Solution(
        steps.magnesium,
        {"efficiency": lambda s: steps.magnesium(s) * _plant("mg_efficiency_pct") / 100.0},
        figures=lambda s: {
            "magnesium_left_pct": magnesium_left_pct(steps.AIM_S_PCT, s.metal.temp_c)
        },
    ),
    "scrap": Solution(lambda s: steps.charge_of(s).scrap.mass_kg / 1000.0),
    "lime": Solution(_lime, {"si": lambda s: _lime(s) * mass_fractions("SiO2")["Si"]}),
    "oxygen": Solution(lambda s: s.heat.oxygen_nm3, {"purity": _pure_oxygen}),
    "minutes": Solution(lambda s: s.entered["oxygen"] / s.works.oxygen.flow_nm3_min),
    "carbon": Solution(
        _carbon,
        {
            "ppm": lambda s: _carbon(s) / 1e4,
            "pressure": lambda s: _carbon(s) / steps.CO_ATM,
        },
        figures=lambda s: {"product": _carbon(s) * s.oxygen_ppm / 1e4 / steps.CO_ATM},
    ),
    "action": Solution(lambda s: steps.ACTIONS.index(steps.decision(s).action) + 1),
    "again": Solution(steps.again, figures=lambda s: _tapped(s) | steps.again_figures(s)),
    "coolant": Solution(steps.coolant, figures=_tapped),
    "aluminium": Solution(steps.aluminium, {"slag": _no_slag}, figures=_tapped),
    "silicomanganese": Solution(
        steps.silicomanganese,
        {"recovery": lambda s: steps.silicomanganese(s) * _plant("recovery_si_pct") / 100.0},
    ),
    "ferromanganese": Solution(steps.ferromanganese),
    "ladle_temp": Solution(
        lambda s: s.ladle.steel.temp_c,
        figures=lambda s: {"al_left_kg": s.ladle.steel.element_kg().get("Al", 0.0)},
    ),
}
_THEN = {
    "magnesium": steps.after_magnesium,
    "lime": steps.after_lime,
    "oxygen": steps.after_oxygen,
    "again": steps.after_again,
    "coolant": steps.after_coolant,
    "ferromanganese": steps.after_ferromanganese,
}


def _entry(key, words):
    solution = SOLUTIONS[key]
    slips = tuple((slip, text, solution.slips[slip]) for slip, text in words["slips"].items())
    return Entry(
        key, words["title"], words["lesson"], words["text"], solution=solution,
        then=_THEN.get(key), slips=slips, cautions=tuple(words.get("cautions", ())),
        **asked_of(words),
    )  # fmt: skip


ENTRIES = tuple(
    _entry(key, words) for key, words in read_words("whole_heat", __file__, SOLUTIONS).items()
)


def heat_problem(works):
    """The draw of a heat: refused where the usual charge of this works does not work out."""
    return Problem(
        "whole_heat.heat",
        "The heat",
        "",
        steps.givens(works),
        lambda **given: steps.charge_of(steps.begin(given, works)).scrap.mass_kg / 1000.0,
        ("none",),
        "",
        Answer("t", "only drawn", tolerance_pct=1.0),
        plausible=lambda answer, **given: answer > 0.1 * given["hot_metal_t"],
        vector=False,
    )
