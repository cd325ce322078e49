"""Calculations of the problems of lesson 06; their words stand in problems.toml."""

from ...base import molar_mass
from ...coursekit.problems import Solution, multiplied, read_problems, taken, times, upside_down

_KEPT = {"the iron": "iron", "the oxidising power": "oxidising power"}


def _each(kept, **_):
    """FeO counted for each Fe2O3."""
    return {"feo_from_each": {"the iron": 2, "the oxidising power": 3}[kept]}


SOLUTIONS = {
    "read_analysis": Solution(
        slips={
            "upside_down": upside_down(),
            "molar": lambda cao_pct, sio2_pct, p2o5_pct: (
                cao_pct
                / molar_mass("CaO")
                / (sio2_pct / molar_mass("SiO2") + p2o5_pct / molar_mass("P2O5"))
            ),
        },
    ),
    "available_lime": Solution(
        slips={
            "forgot_ratio": taken(ratio=1.0),
            "added": taken(sio2_pct=lambda given: -given["sio2_pct"]),
        },
    ),
    "lime": Solution(
        slips={
            "si_for_sio2": times(28.09 / 60.08),
            "available_wrong_way": multiplied("available_pct"),
            "percent_as_kg": times(0.1),
        },
    ),
    "with_phosphorus": Solution(
        slips={
            "elements": lambda si_pct, p_pct, ratio: 10.0 * ratio * (si_pct + p_pct),
        },
    ),
    "slag_mass": Solution(
        slips={
            "iron_on_top": times(lambda given: 1.0 - (given["iron_pct"] / 100.0) ** 2),
        },
    ),
    "iron_lost": Solution(
        slips={
            "oxides": lambda slag_kg_t, feo_pct, fe2o3_pct: (
                slag_kg_t * (feo_pct + fe2o3_pct) / 100.0
            ),
        },
    ),
    "iron_as_feo": Solution(
        slips={
            "other_convention": taken(
                kept=lambda given: next(k for k in _KEPT if k != given["kept"])
            ),
            "as_it_stands": lambda feo_pct, fe2o3_pct, **_: feo_pct + fe2o3_pct,
            "one_feo": lambda feo_pct, fe2o3_pct, **_: (
                feo_pct + fe2o3_pct * molar_mass("FeO") / molar_mass("Fe2O3")
            ),
        },
        figures=_each,
        vector=False,
    ),
    "dolomite": Solution(
        slips={
            "slag_only": taken(lime_mgo_pct=0.0, lining_kg_t=0.0),
        },
        plausible=lambda answer, **given: answer > 4.0,
    ),
    "undissolved": Solution(
        slips={
            "tonnes_for_percent": taken(slag_t=100.0),
            "of_all_cao": lambda cao_pct, sio2_pct, left_pct, **_: (
                cao_pct * (1.0 - left_pct / 100.0) / sio2_pct
            ),
            "added": taken(left_pct=lambda given: -given["left_pct"]),
        },
        plausible=lambda answer, cao_pct, lime_t, lime_cao_pct, slag_t, **_: (
            (answer > 2.5) & (lime_t * lime_cao_pct / slag_t < 0.9 * cao_pct)
        ),
    ),
    "mean_of_ratios": Solution(
        line=2,
        slips={
            "ratio_of_means": lambda cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct: (
                (cao_1_pct + cao_2_pct) / (sio2_1_pct + sio2_2_pct)
            ),
        },
    ),
    "published_dolomite": Solution(lambda steel_t: 2, vector=False),
}

PROBLEMS = read_problems("slag_basicity", __file__, SOLUTIONS)
