"""The entries of the heat sheet (lesson 15): what is asked at each stage of a heat, with its slips;
their words stand in entries.toml.

Each entry is a number (or a choice) that is worked out from where the learner's own heat stands;
the calculations are those of steps.
"""

from ...coursekit.problems import Answer, Entry, Problem, Solution, asked_of, read_words
from ...hot_metal import magnesium_left_pct
from ...ladle import aluminium_demand_kg_t
from ...works import plant_value
from . import follows, steps


def _figures(s):
    """Figures that the texts share."""
    end_c = s.works.end_point.temp_c
    steel = {"oxygen_ppm": s.oxygen_ppm} if s.steel else {}
    return (
        steel
        | {
            "steps": steps,
            "hot_metal_t": s.metal.mass_kg / 1000.0,
            "hot_pct": {e: s.metal.analysis_pct.get(e, 0.0) for e in ("C", "Si", "Mn", "P", "S")},
            "steel_t": s.steel_t,
            "low_c": end_c - steps.BAND_C,
            "high_c": end_c + steps.BAND_C,
        }
        | {key: _plant(key) for key in _PLANT}
    )


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
    heat = s.planned
    return {
        "scrap_t": heat.scrap.mass_kg / 1000.0,
        "scrap_s_pct": 100.0 * heat.scrap.material.per_kg.get("S", 0.0),
        "lime_t": heat.lime.mass_kg / 1000.0,
        "lime_s_pct": 100.0 * heat.lime.material.per_kg.get("S", 0.0),
    }


def _treatment(s):
    left = magnesium_left_pct(steps.AIM_S_PCT, s.metal.temp_c)
    return {"magnesium_left_pct": left, "granules_pct": steps.granules_pct()}


def _of_hot_metal(s):
    return s.planned.scrap_share_pct / 100.0 * s.metal.mass_kg / 1000.0


def _carbon(s):
    return s.steel.analysis_pct["C"]


def _no_slag(s):
    return aluminium_demand_kg_t(s.oxygen_ppm, steps.AIM_AL_PCT)["total"] * s.steel_t


def _tapped(s):
    return {"slag": ", ".join(f"{p:.1f} % {o}" for o, p in steps.slag_pct(s).items())}


SOLUTIONS = {
    "treat": Solution(steps.treat, figures=_sulphur_besides),
    "magnesium": Solution(
        steps.magnesium,
        {"efficiency": lambda s: steps.magnesium(s) * _plant("mg_efficiency_pct") / 100.0},
        figures=_treatment,
    ),
    "scrap": Solution(
        lambda s: s.planned.scrap.mass_kg / 1000.0,
        {"of_hot_metal": _of_hot_metal},
    ),
    "lime": Solution(
        lambda s: s.trial.lime.mass_kg / 1000.0,
        {"si": lambda s: steps.lime_by_hand(s, 1.0), "dolomite": steps.lime_without_dolomite},
        figures=steps.lime_figures,
    ),
    "oxygen": Solution(
        lambda s: s.heat.oxygen_nm3,
        {
            "iron": lambda s: steps.oxygen_by_hand(s, ("FeO", "Fe2O3")),
            "silicon": lambda s: steps.oxygen_by_hand(s, ("silicon",)),
            "to_co2": lambda s: steps.oxygen_by_hand(s, to_co2=False),
        },
        figures=steps.oxygen_figures,
    ),
    "minutes": Solution(lambda s: s.entered["oxygen"] / s.works.oxygen.flow_nm3_min),
    "carbon": Solution(
        _carbon,
        {
            "ppm": lambda s: _carbon(s) / 1e4,
            "turned": lambda s: s.oxygen_ppm / 1e4 / steps.product(s),
        },
        figures=lambda s: {"product": steps.product(s)},
    ),
    "action": Solution(lambda s: steps.ACTIONS.index(s.decided.action) + 1),
    "again": Solution(steps.again, figures=steps.again_figures),
    "coolant": Solution(steps.coolant),
    "aluminium": Solution(steps.aluminium, {"slag": _no_slag}, figures=_tapped),
    "silicomanganese": Solution(
        steps.silicomanganese,
        {"recovery": lambda s: steps.silicomanganese(s) * _plant("recovery_si_pct") / 100.0},
    ),
    "ferromanganese": Solution(
        steps.ferromanganese,
        {
            "from_silicomanganese": lambda s: steps.ferromanganese(s, brought=0.0),
            "recovery": lambda s: steps.ferromanganese(s) * _plant("recovery_mn_pct") / 100.0,
        },
    ),
    "ladle_temp": Solution(
        lambda s: s.ladle.steel.temp_c,
        figures=lambda s: {
            "al_left_kg": s.ladle.steel.element_kg().get("Al", 0.0),
            "drop_c": _plant("tap_drop_c"),
            "held": follows.held_words(s),
        },
    ),
}
_THEN = {
    "magnesium": follows.after_magnesium,
    "scrap": follows.after_scrap,
    "lime": follows.after_lime,
    "oxygen": follows.after_oxygen,
    "again": follows.after_again,
    "coolant": follows.after_coolant,
    "aluminium": follows.after_alloy,
    "silicomanganese": follows.after_alloy,
    "ferromanganese": follows.after_alloy,
}


def _entry(key, words):
    solution = SOLUTIONS[key]

    def fields(state):
        own = solution.figures(state) if solution.figures else {}
        return vars(state) | _figures(state) | own

    slips = tuple((slip, text, solution.slips[slip]) for slip, text in words["slips"].items())
    return Entry(
        key=key, title=words["title"], lesson=words["lesson"], template=words["text"],
        fields=fields, right=solution.solve, then=_THEN.get(key), slips=slips,
        cautions=tuple(words.get("cautions", ())),
        back=words.get("back", False), price_min=words.get("price_min", 0.0),
        **asked_of(words),
    )  # fmt: skip


ENTRIES = tuple(
    _entry(key, words) for key, words in read_words("whole_heat", __file__, SOLUTIONS).items()
)


def heat_problem(works):
    """The draw of a heat: refused where the usual charge of this works does not work out, and where
    the sulphur lies too near to what is allowed to be judged.
    """

    def told(answer, **given):
        left = steps.sulphur_left(steps.begin(given, works))
        return answer > 0.1 * given["hot_metal_t"] and abs(left - 1.0) > steps.SURE

    return Problem(
        "whole_heat.heat",
        "The heat",
        "",
        steps.givens(works),
        lambda **given: steps.begin(given, works).planned.scrap.mass_kg / 1000.0,
        ("none",),
        "",
        Answer("t", "only drawn", tolerance_pct=1.0),
        plausible=told,
        vector=False,
    )
