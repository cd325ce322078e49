"""Calculations of the problems of lesson 06; their words stand in problems.toml."""

from ...base import mass_fractions, molar_mass
from ...coursekit.problems import Solution, read_problems, taken, times, upside_down
from ...streams import basicity, iron_as_feo

_SILICA = 1.0 / mass_fractions("SiO2")["Si"]  # kg of SiO2 from one kg of Si
_PHOSPHORIC = 1.0 / mass_fractions("P2O5")["P"]


def _read_analysis(cao_pct, sio2_pct, p2o5_pct):
    return basicity({"CaO": cao_pct, "SiO2": sio2_pct, "P2O5": p2o5_pct}, "CaO/(SiO2+P2O5)")


def _read_analysis_molar(cao_pct, sio2_pct, p2o5_pct):
    return (
        cao_pct
        / molar_mass("CaO")
        / (sio2_pct / molar_mass("SiO2") + p2o5_pct / molar_mass("P2O5"))
    )


def _available(cao_pct, sio2_pct, ratio):
    return cao_pct - ratio * sio2_pct


def _lime(si_pct, ratio, available_pct):
    return 10.0 * si_pct * _SILICA * ratio / (available_pct / 100.0)


def _with_p(si_pct, p_pct, ratio):
    return 10.0 * (si_pct * _SILICA + p_pct * _PHOSPHORIC) * ratio


def _with_phosphorus_p_to_po(si_pct, p_pct, ratio):
    return 10.0 * (si_pct * _SILICA + p_pct * 2.0 * _PHOSPHORIC) * ratio


def _slag(sio2_kg, ratio, iron_pct, others_kg):
    return (sio2_kg * (1.0 + ratio) + others_kg) / (1.0 - iron_pct / 100.0)


def _slag_mass_iron_on_top(sio2_kg, ratio, iron_pct, others_kg):
    return (sio2_kg * (1.0 + ratio) + others_kg) * (1.0 + iron_pct / 100.0)


def _slag_mass_lime_forgotten(sio2_kg, ratio, iron_pct, others_kg):
    return (sio2_kg + others_kg) / (1.0 - iron_pct / 100.0)


def _iron(slag_kg_t, feo_pct, fe2o3_pct):
    return (
        slag_kg_t
        * (feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"])
        / 100.0
    )


def _iron_lost_oxides(slag_kg_t, feo_pct, fe2o3_pct):
    return slag_kg_t * (feo_pct + fe2o3_pct) / 100.0


def _iron_lost_one_atom(slag_kg_t, feo_pct, fe2o3_pct):
    return (
        slag_kg_t
        * (feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"] / 2.0)
        / 100.0
    )


def _burnt_dolomite(slag_kg_t, mgo_pct, lime_kg_t, lime_mgo_pct, lining_kg_t, dolomite_mgo_pct):
    return (slag_kg_t * mgo_pct / 100.0 - lime_kg_t * lime_mgo_pct / 100.0 - lining_kg_t) / (
        dolomite_mgo_pct / 100.0
    )


def _liquid_basicity(cao_pct, sio2_pct, lime_t, lime_cao_pct, left_pct, slag_t):
    lumps_pct = lime_t * lime_cao_pct * left_pct / 100.0 / slag_t
    return basicity({"CaO": cao_pct - lumps_pct, "SiO2": sio2_pct})


def _undissolved_tonnes_for_percent(cao_pct, sio2_pct, lime_t, lime_cao_pct, left_pct, slag_t):
    return (cao_pct - lime_t * lime_cao_pct * left_pct / 1e4) / sio2_pct


def _undissolved_of_all_cao(cao_pct, sio2_pct, left_pct, **_):
    return cao_pct * (1.0 - left_pct / 100.0) / sio2_pct


def _undissolved_plausible(answer, cao_pct, lime_t, lime_cao_pct, slag_t, **given):
    return (answer > 2.5) & (lime_t * lime_cao_pct / slag_t < 0.9 * cao_pct)


_KEPT = {"the iron": "iron", "the oxidising power": "oxidising power"}


def _as_feo(feo_pct, fe2o3_pct, kept):
    return iron_as_feo({"FeO": feo_pct, "Fe2O3": fe2o3_pct}, _KEPT[kept])


def _iron_as_feo_other_convention(feo_pct, fe2o3_pct, kept):
    return _as_feo(feo_pct, fe2o3_pct, next(k for k in _KEPT if k != kept))


def _iron_as_feo_one_feo(feo_pct, fe2o3_pct, kept):
    return feo_pct + fe2o3_pct * molar_mass("FeO") / molar_mass("Fe2O3")


def _two_slags(cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct):
    return 2.0, 0.5 * (
        basicity({"CaO": cao_1_pct, "SiO2": sio2_1_pct})
        + basicity({"CaO": cao_2_pct, "SiO2": sio2_2_pct})
    )


def _mean_of_ratios_ratio_of_means(cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct):
    return (cao_1_pct + cao_2_pct) / (sio2_1_pct + sio2_2_pct)


def _mean_of_ratios_sum(cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct):
    return cao_1_pct / sio2_1_pct + cao_2_pct / sio2_2_pct


SOLUTIONS = {
    "read_analysis": Solution(
        _read_analysis,
        {
            "forgot_p2o5_pct": taken(p2o5_pct=0.0),
            "upside_down": upside_down(),
            "molar": _read_analysis_molar,
        },
    ),
    "available_lime": Solution(
        _available,
        {
            "forgot_sio2_pct": taken(sio2_pct=0.0),
            "forgot_ratio": taken(ratio=1.0),
            "added": lambda cao_pct, sio2_pct, ratio: cao_pct + ratio * sio2_pct,
        },
    ),
    "lime": Solution(
        _lime,
        {
            "si_for_sio2": times(1.0 / _SILICA),
            "forgot_available_pct": taken(available_pct=100.0),
            "available_wrong_way": times(lambda given: (given["available_pct"] / 100.0) ** 2),
            "percent_as_kg": times(0.1),
        },
    ),
    "with_phosphorus": Solution(
        _with_p,
        {
            "forgot_p_pct": taken(p_pct=0.0),
            "elements": lambda si_pct, p_pct, ratio: 10.0 * (si_pct + p_pct) * ratio,
            "p_to_po": _with_phosphorus_p_to_po,
        },
    ),
    "slag_mass": Solution(
        _slag,
        {
            "forgot_iron_pct": taken(iron_pct=0.0),
            "iron_on_top": _slag_mass_iron_on_top,
            "lime_forgotten": _slag_mass_lime_forgotten,
            "forgot_others_kg": taken(others_kg=0.0),
        },
    ),
    "iron_lost": Solution(
        _iron,
        {
            "oxides": _iron_lost_oxides,
            "forgot_fe2o3_pct": taken(fe2o3_pct=0.0),
            "one_atom": _iron_lost_one_atom,
        },
    ),
    "iron_as_feo": Solution(
        _as_feo,
        {
            "other_convention": _iron_as_feo_other_convention,
            "forgot_fe2o3_pct": taken(fe2o3_pct=0.0),
            "as_it_stands": lambda feo_pct, fe2o3_pct, kept: feo_pct + fe2o3_pct,
            "one_feo": _iron_as_feo_one_feo,
        },
    ),
    "dolomite": Solution(
        _burnt_dolomite,
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
            "tonnes_for_percent": _undissolved_tonnes_for_percent,
            "of_all_cao": _undissolved_of_all_cao,
            "added": taken(left_pct=lambda given: -given["left_pct"]),
        },
        plausible=_undissolved_plausible,
    ),
    "mean_of_ratios": Solution(
        _two_slags,
        {
            "ratio_of_means": _mean_of_ratios_ratio_of_means,
            "sum": _mean_of_ratios_sum,
        },
    ),
    "published_dolomite": Solution(lambda steel_t: 2, vector=False),
}

PROBLEMS = read_problems("slag_basicity", __file__, SOLUTIONS)
