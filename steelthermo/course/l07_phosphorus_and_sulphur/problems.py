"""Calculations of the problems of lesson 07; their words stand in problems.toml."""

import numpy as np

from ...base import kelvin, mass_fractions, molar_mass, rows
from ...coursekit.problems import Solution, after, read_problems, taken, times, upside_down
from ...slag import metal_pct_after, oxygen_lines, oxygen_under, partition, slag_for

_METAL_KG = 1000.0
_P_SHARE, _MN_SHARE = mass_fractions("P2O5")["P"], mass_fractions("MnO")["Mn"]
_LN10 = np.log(10.0)
_EQUATIONS = {row["key"]: row for row in rows("slag_partitions")}


def _left(l_low, l_high, slag_kg_t, p_pct, aim_pct):
    worst, best = (metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, at) for at in (l_low, l_high))
    return 1.0 + (worst > aim_pct) + (best > aim_pct), worst


def _phosphorus_left_bold(l_high, slag_kg_t, p_pct, **_):
    return metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, l_high)


def _phosphorus_left_mean(l_low, l_high, slag_kg_t, p_pct, aim_pct):
    return metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, 0.5 * (l_low + l_high))


def _phosphorus_left_removed(l_low, slag_kg_t, p_pct, **_):
    return p_pct - metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, l_low)


def _phosphorus_left_plausible(answer, l_high, slag_kg_t, p_pct, aim_pct, **given):
    return (abs(answer[1] / aim_pct - 1.0) > 0.04) & (
        abs(metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, l_high) / aim_pct - 1.0) > 0.04
    )


def _slag(p_pct, aim_pct, l_p):
    return slag_for(_METAL_KG, p_pct, aim_pct, l_p)


def _slag_for_aim_wrong_metal(p_pct, aim_pct, l_p):
    return _METAL_KG * (p_pct - aim_pct) / (l_p * p_pct)


def _with_silica(**pct):
    """A slag to 100 %, silica the rest."""
    return pct | {"SiO2": 100.0 - sum(pct.values())}


def _si_c(cao_pct, mgo_pct, p2o5_pct, mno_pct, feo_pct, fe2o3_pct, temp_c):
    return partition(
        _with_silica(
            CaO=cao_pct, MgO=mgo_pct, P2O5=p2o5_pct, MnO=mno_pct, FeO=feo_pct, Fe2O3=fe2o3_pct
        ),
        kelvin(temp_c),
        "SI-c",
    ).value


def _degrees(key, given):
    """What log10 gains when b/T is taken with degrees Celsius."""
    return _EQUATIONS[key]["b_k"] * (1.0 / given["temp_c"] - 1.0 / kelvin(given["temp_c"]))


def _iron(feo_pct, fe2o3_pct):
    return feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"]


def _partition_oxide_for_iron(given):
    return (
        (given["feo_pct"] + given["fe2o3_pct"]) / _iron(given["feo_pct"], given["fe2o3_pct"])
    ) ** 2.5


def _partition_natural_log(given):
    return 10.0 ** (2.5 * (_LN10 - 1.0) * np.log10(_iron(given["feo_pct"], given["fe2o3_pct"])))


def _partition_plausible(answer, cao_pct, mgo_pct, p2o5_pct, mno_pct, feo_pct, fe2o3_pct, **given):
    return (
        abs(cao_pct / (100.0 - cao_pct - mgo_pct - p2o5_pct - mno_pct - feo_pct - fe2o3_pct) - 3.2)
        < 1.0
    )


_ANY_SLAG = {
    "CaO": 46.0,
    "SiO2": 16.0,
    "FeO": 20.0,
    "MgO": 8.0,
    "MnO": 5.0,
    "P2O5": 2.0,
    "Al2O3": 3.0,
}  # the same before and after: it cancels
_DISAGREE = ("SI-c", "Healy")


def _hotter(from_c, rise_c, equation):
    before, after = (
        partition(_ANY_SLAG, kelvin(t), equation).value for t in (from_c, from_c + rise_c)
    )
    return after / before


def _hotter_other_paper(from_c, rise_c, equation):
    return _hotter(from_c, rise_c, next(k for k in _DISAGREE if k != equation))


def _hotter_celsius_for_kelvin(from_c, rise_c, equation):
    return 10.0 ** (_EQUATIONS[equation]["b_k"] * (1.0 / (from_c + rise_c) - 1.0 / from_c))


def _tth(cao_pct, mgo_pct, feo_pct, p2o5_pct, temp_c):
    slag = _with_silica(CaO=cao_pct, MgO=mgo_pct, FeO=feo_pct, P2O5=p2o5_pct)
    return 2.0, p2o5_pct * _P_SHARE / partition(slag, kelvin(temp_c), "TTH72-1").value


def _sign_plausible(answer, cao_pct, mgo_pct, feo_pct, p2o5_pct, **given):
    return abs(cao_pct / (100.0 - cao_pct - mgo_pct - feo_pct - p2o5_pct) - 2.6) < 1.0


def _returned(slag_kg_t, p2o5_pct, reduced_pct):
    return 1e4 * metal_pct_after(
        _METAL_KG, 0.0, slag_kg_t, p2o5_pct * _P_SHARE * reduced_pct / 100.0, 0.0
    )


def _manganese(cao_pct, mgo_pct, feto_pct, mno_pct, sio2_pct, p2o5_pct, temp_c):
    slag = {
        "CaO": cao_pct,
        "MgO": mgo_pct,
        "FeO": feto_pct,
        "MnO": mno_pct,
        "SiO2": sio2_pct,
        "P2O5": p2o5_pct,
    }
    slag |= {"Al2O3": 100.0 - sum(slag.values())}
    return mno_pct * _MN_SHARE / partition(slag, kelvin(temp_c), "Park-Dzo").value


def _times_kmn(change):
    """[%Mn] when log kMn is off by change(given)."""
    return lambda answer, given: answer * 10.0 ** -change(given)


def _sulphur(hot_metal_kg_t, s_pct, left_kg_t, left_s_pct, rest_kg_t, slag_kg_t, l_s):
    total = (hot_metal_kg_t * s_pct + left_kg_t * left_s_pct) / 100.0 + rest_kg_t
    return metal_pct_after(_METAL_KG, 100.0 * total / _METAL_KG, slag_kg_t, 0.0, l_s)


_SLAGS = {
    "pure iron oxide": "FetO",
    "iron oxide saturated with MgO": "FetO-MgO",
    "iron oxide saturated with CaO": "FetO-CaO",
}
_LINES = oxygen_lines()


def _oxygen(slag, temp_c):
    return oxygen_under(_SLAGS[slag], kelvin(temp_c))


def _oxygen_sign(answer, given):
    return 10.0 ** (2.0 * _LINES[_SLAGS[given["slag"]]]["c"]) / answer


def _oxygen_celsius_for_kelvin(slag, temp_c):
    line = _LINES[_SLAGS[slag]]
    return 10.0 ** (line["b_k"] / temp_c + line["c"])


def _more_iron(from_pct, to_pct):
    return 2.0, (to_pct / from_pct) ** 2.5


SOLUTIONS = {
    "phosphorus_left": Solution(
        _left,
        {
            "bold": _phosphorus_left_bold,
            "mean": _phosphorus_left_mean,
            "no_one": lambda l_low, slag_kg_t, p_pct, **_: p_pct / (l_low * slag_kg_t / _METAL_KG),
            "removed": _phosphorus_left_removed,
        },
        plausible=_phosphorus_left_plausible,
    ),
    "slag_for_aim": Solution(
        _slag,
        {
            "whole": lambda p_pct, aim_pct, l_p: _METAL_KG * p_pct / (l_p * aim_pct),
            "wrong_metal": _slag_for_aim_wrong_metal,
            "tonnes": times(1e-3),
        },
        plausible=lambda answer, **given: (answer > 30.0) & (answer < 160.0),
    ),
    "partition": Solution(
        _si_c,
        {
            "celsius_for_kelvin": times(lambda given: 10.0 ** _degrees("SI-c", given)),
            "oxide_for_iron": times(_partition_oxide_for_iron),
            "natural_log": times(_partition_natural_log),
            "logarithm": after(lambda answer, given: np.log10(answer)),
            "power_of_e": after(lambda answer, given: np.exp(np.log10(answer))),
        },
        plausible=_partition_plausible,
    ),
    "hotter": Solution(
        _hotter,
        {
            "other_paper": _hotter_other_paper,
            "upside_down": upside_down(),
            "celsius_for_kelvin": _hotter_celsius_for_kelvin,
            "power_of_e": after(lambda answer, given: answer ** (1.0 / _LN10)),
        },
    ),
    "more_iron": Solution(
        _more_iron,
        {
            "linear": lambda from_pct, to_pct: to_pct / from_pct,
            "logarithm": lambda from_pct, to_pct: 2.5 * np.log10(to_pct / from_pct),
            "oxide": times((molar_mass("FeO") / molar_mass("Fe")) ** 2.5),
        },
    ),
    "sign": Solution(
        _tth,
        {
            "as_printed": times(10.0 ** _EQUATIONS["TTH72-1"]["c"]),
            "no_root": after(lambda answer, given: answer**2),
            "celsius_for_kelvin": times(lambda given: 10.0 ** (-0.5 * _degrees("TTH72-1", given))),
            "oxide": times(_P_SHARE**0.5),
        },
        plausible=_sign_plausible,
    ),
    "reversion": Solution(
        _returned,
        {
            "oxide_for_element": times(1.0 / _P_SHARE),
            "one_atom": times(0.5),
            "percent": times(1e-4),
            "forgot_reduced_pct": taken(reduced_pct=100.0),
        },
    ),
    "manganese": Solution(
        _manganese,
        {
            "element_for_oxide": times(_MN_SHARE),
            "no_iron": times(lambda given: given["feto_pct"]),
            "celsius_for_kelvin": after(_times_kmn(lambda given: _degrees("Park-Dzo", given))),
            "sign_of_phosphorus": after(
                _times_kmn(
                    lambda given: (
                        -2.0
                        * _EQUATIONS["Park-Dzo"]["factor"]
                        * _EQUATIONS["Park-Dzo"]["P2O5"]
                        * given["p2o5_pct"]
                    )
                )
            ),
        },
    ),
    "sulphur": Solution(
        _sulphur,
        {
            "forgot_left_kg_t": taken(left_kg_t=0.0),
            "forgot_l_s": taken(l_s=0.0),
            "kg_for_percent": times(10.0),
            "no_one": times(lambda given: 1.0 + _METAL_KG / (given["l_s"] * given["slag_kg_t"])),
        },
    ),
    "oxygen": Solution(
        _oxygen,
        {
            "celsius_for_kelvin": _oxygen_celsius_for_kelvin,
            "sign": after(_oxygen_sign),
            "power_of_e": after(lambda answer, given: np.exp(np.log10(answer))),
            "logarithm": after(lambda answer, given: np.log10(answer)),
        },
    ),
}

PROBLEMS = read_problems("phosphorus_and_sulphur", __file__, SOLUTIONS)
