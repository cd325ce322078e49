"""Calculations of the problems of lesson 06; their words stand in problems.toml."""

from functools import partial

from ...base import molar_mass
from ...coursekit.problems import Solution, multiplied, read_problems, taken, times, upside_down
from ...streams import basicity, iron_as_feo

_SILICA, _PHOSPHORIC = 2.139, 2.291  # kg of SiO2, P2O5 from one kg of Si, P, as printed


def _available(cao_pct, sio2_pct, ratio):
    return cao_pct - ratio * sio2_pct


def _lime(si_pct, ratio, available_pct):
    return 10.0 * si_pct * _SILICA * ratio / (available_pct / 100.0)


def _with_phosphorus(si_pct, p_pct, ratio, silica=_SILICA, phosphoric=_PHOSPHORIC):
    return 10.0 * (si_pct * silica + p_pct * phosphoric) * ratio


def _slag(sio2_kg, ratio, iron_pct, others_kg):
    return (sio2_kg * (1.0 + ratio) + others_kg) / (1.0 - iron_pct / 100.0)


def _iron(slag_kg_t, feo_pct, fe2o3_pct):
    return slag_kg_t * (0.777 * feo_pct + 0.699 * fe2o3_pct) / 100.0


def _liquid_basicity(cao_pct, sio2_pct, lime_t, lime_cao_pct, left_pct, slag_t):
    lumps_pct = lime_t * lime_cao_pct * left_pct / 100.0 / slag_t
    return basicity({"CaO": cao_pct - lumps_pct, "SiO2": sio2_pct})


_KEPT = {"the iron": "iron", "the oxidising power": "oxidising power"}


def _as_feo(feo_pct, fe2o3_pct, kept):
    return iron_as_feo({"FeO": feo_pct, "Fe2O3": fe2o3_pct}, _KEPT[kept])


def _each(kept, **_):
    """FeO counted for each Fe2O3."""
    return {"feo_from_each": {"the iron": 2, "the oxidising power": 3}[kept]}


SOLUTIONS = {
    "read_analysis": Solution(
        lambda cao_pct, sio2_pct, p2o5_pct: basicity(
            {"CaO": cao_pct, "SiO2": sio2_pct, "P2O5": p2o5_pct}, "CaO/(SiO2+P2O5)"
        ),
        {
            "forgot_p2o5_pct": taken(p2o5_pct=0.0),
            "upside_down": upside_down(),
            "molar": lambda cao_pct, sio2_pct, p2o5_pct: (
                cao_pct
                / molar_mass("CaO")
                / (sio2_pct / molar_mass("SiO2") + p2o5_pct / molar_mass("P2O5"))
            ),
        },
    ),
    "available_lime": Solution(
        _available,
        {
            "forgot_sio2_pct": taken(sio2_pct=0.0),
            "forgot_ratio": taken(ratio=1.0),
            "added": taken(sio2_pct=lambda given: -given["sio2_pct"]),
        },
    ),
    "lime": Solution(
        _lime,
        {
            "si_for_sio2": times(1.0 / _SILICA),
            "forgot_available_pct": taken(available_pct=100.0),
            "available_wrong_way": multiplied("available_pct"),
            "percent_as_kg": times(0.1),
        },
    ),
    "with_phosphorus": Solution(
        _with_phosphorus,
        {
            "forgot_p_pct": taken(p_pct=0.0),
            "elements": partial(_with_phosphorus, silica=1.0, phosphoric=1.0),
            "p_to_po": partial(_with_phosphorus, phosphoric=2.0 * _PHOSPHORIC),
        },
    ),
    "slag_mass": Solution(
        _slag,
        {
            "forgot_iron_pct": taken(iron_pct=0.0),
            "iron_on_top": times(lambda given: 1.0 - (given["iron_pct"] / 100.0) ** 2),
            "lime_forgotten": taken(ratio=0.0),
            "forgot_others_kg": taken(others_kg=0.0),
        },
    ),
    "iron_lost": Solution(
        _iron,
        {
            "oxides": lambda slag_kg_t, feo_pct, fe2o3_pct: (
                slag_kg_t * (feo_pct + fe2o3_pct) / 100.0
            ),
            "forgot_fe2o3_pct": taken(fe2o3_pct=0.0),
            "one_atom": taken(fe2o3_pct=lambda given: given["fe2o3_pct"] / 2.0),
        },
    ),
    "iron_as_feo": Solution(
        slips={
            "other_convention": taken(
                kept=lambda given: next(k for k in _KEPT if k != given["kept"])
            ),
            "forgot_fe2o3_pct": taken(fe2o3_pct=0.0),
            "as_it_stands": lambda feo_pct, fe2o3_pct, **_: feo_pct + fe2o3_pct,
            "one_feo": lambda feo_pct, fe2o3_pct, **_: (
                feo_pct + fe2o3_pct * molar_mass("FeO") / molar_mass("Fe2O3")
            ),
        },
        figures=_each,
        vector=False,
    ),
    "dolomite": Solution(
        lambda slag_kg_t, mgo_pct, lime_kg_t, lime_mgo_pct, lining_kg_t, dolomite_mgo_pct: (
            (slag_kg_t * mgo_pct / 100.0 - lime_kg_t * lime_mgo_pct / 100.0 - lining_kg_t)
            / (dolomite_mgo_pct / 100.0)
        ),
        {
            "forgot_lining_kg_t": taken(lining_kg_t=0.0),
            "forgot_lime_mgo_pct": taken(lime_mgo_pct=0.0),
            "as_mgo": taken(dolomite_mgo_pct=100.0),
            "slag_only": taken(lime_mgo_pct=0.0, lining_kg_t=0.0),
        },
        plausible=lambda answer, **given: answer > 4.0,
    ),
    "undissolved": Solution(
        _liquid_basicity,
        {
            "forgot_left_pct": taken(left_pct=0.0),
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
        lambda cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct: (
            2.0,
            0.5
            * (
                basicity({"CaO": cao_1_pct, "SiO2": sio2_1_pct})
                + basicity({"CaO": cao_2_pct, "SiO2": sio2_2_pct})
            ),
        ),
        {
            "ratio_of_means": lambda cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct: (
                (cao_1_pct + cao_2_pct) / (sio2_1_pct + sio2_2_pct)
            ),
            "not_halved": times(2.0),
        },
    ),
    "published_dolomite": Solution(lambda steel_t: 2, vector=False),
}

PROBLEMS = read_problems("slag_basicity", __file__, SOLUTIONS)
