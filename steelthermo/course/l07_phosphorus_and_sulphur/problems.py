"""Calculations of the problems of lesson 07; their words stand in problems.toml."""

from functools import cache

import numpy as np

from ...base import kelvin, mass_fractions, molar_mass, rows
from ...coursekit.problems import (
    Solution,
    after,
    made_into,
    read_problems,
    taken,
    times,
    upside_down,
)
from ...slag import metal_pct_after, oxygen_lines, oxygen_under, partition
from ...thermo import oxides_with

_METAL_KG = 1000.0
_P_SHARE, _MN_SHARE = mass_fractions("P2O5")["P"], mass_fractions("MnO")["Mn"]
_LN10 = np.log(10.0)
_POWER_OF_E = made_into(lambda answer: answer ** (1.0 / _LN10))  # exp(log10(answer))
_EQUATIONS = {row["key"]: row for row in rows("slag_partitions")}
_PARK = _EQUATIONS["Park-Dzo"]


def _after(p_pct, slag_kg_t, l_p):
    """Phosphorus left, %, by a slag that brings none."""
    return metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, l_p)


def _left(l_low, l_high, slag_kg_t, p_pct, aim_pct):
    worst, best = (_after(p_pct, slag_kg_t, at) for at in (l_low, l_high))
    return 1.0 + (worst > aim_pct) + (best > aim_pct), worst


@cache
def _oxides():
    """Oxides of a slag by the names of what is given: cao_pct ..."""
    return {f"{oxide.lower()}_pct": oxide for oxide in oxides_with(found="slag")}


def _slag_of(given, rest="SiO2"):
    """The slag whose oxides are given, to 100 % by the rest, in mass %."""
    known = {oxide: given[name] for name, oxide in _oxides().items() if name in given}
    return known | {rest: 100.0 - sum(known.values())}


def _partition(given, key, rest="SiO2"):
    return partition(_slag_of(given, rest), kelvin(given["temp_c"]), key).value


def _near(basicity, width, given):
    slag = _slag_of(given)
    return abs(slag["CaO"] / slag["SiO2"] - basicity) < width


def _degrees(key, given):
    """What log10 gains when b/T is taken with degrees Celsius."""
    return _EQUATIONS[key]["b_k"] * (1.0 / given["temp_c"] - 1.0 / kelvin(given["temp_c"]))


def _iron(feo_pct, fe2o3_pct, **_):
    return feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"]


# the same before and after: it cancels
_ANY_SLAG = {"CaO": 35.0, "SiO2": 25.0, "FeO": 30.0, "MgO": 8.0, "MnO": 2.0}
_DISAGREE = ("SI-c", "Healy")


def _hotter(from_c, rise_c, equation):
    before, after = (
        partition(_ANY_SLAG, kelvin(t), equation).value for t in (from_c, from_c + rise_c)
    )
    return after / before


def _sulphur(hot_metal_kg_t, s_pct, left_kg_t, left_s_pct, rest_kg_t, slag_kg_t, l_s):
    total = (hot_metal_kg_t * s_pct + left_kg_t * left_s_pct) / 100.0 + rest_kg_t
    return metal_pct_after(_METAL_KG, 100.0 * total / _METAL_KG, slag_kg_t, 0.0, l_s)


_SLAGS = {
    "pure iron oxide": "FetO",
    "iron oxide saturated with MgO": "FetO-MgO",
    "iron oxide saturated with CaO": "FetO-CaO",
}
_LINES = oxygen_lines()


SOLUTIONS = {
    "phosphorus_left": Solution(
        _left,
        {
            "bold": lambda l_high, slag_kg_t, p_pct, **_: _after(p_pct, slag_kg_t, l_high),
            "mean": lambda l_low, l_high, slag_kg_t, p_pct, **_: _after(
                p_pct, slag_kg_t, 0.5 * (l_low + l_high)
            ),
            "no_one": lambda l_low, slag_kg_t, p_pct, **_: p_pct / (l_low * slag_kg_t / _METAL_KG),
            "removed": after(lambda answer, given: given["p_pct"] - answer),
        },
        plausible=lambda answer, l_high, slag_kg_t, p_pct, aim_pct, **_: (
            (abs(answer[1] / aim_pct - 1.0) > 0.04)
            & (abs(_after(p_pct, slag_kg_t, l_high) / aim_pct - 1.0) > 0.04)
        ),
    ),
    "slag_for_aim": Solution(
        slips={
            "whole": times(lambda given: given["p_pct"] / (given["p_pct"] - given["aim_pct"])),
            "wrong_metal": times(lambda given: given["aim_pct"] / given["p_pct"]),
            "tonnes": times(1e-3),
        },
        plausible=lambda answer, **given: (answer > 30.0) & (answer < 160.0),
    ),
    "partition": Solution(
        library=lambda **given: _partition(given, "SI-c"),
        slips={
            "celsius_for_kelvin": times(lambda given: 10.0 ** _degrees("SI-c", given)),
            "oxide_for_iron": times(
                lambda given: ((given["feo_pct"] + given["fe2o3_pct"]) / _iron(**given)) ** 2.5
            ),
            "natural_log": times(
                lambda given: 10.0 ** (2.5 * (_LN10 - 1.0) * np.log10(_iron(**given)))
            ),
            "power_of_e": _POWER_OF_E,
        },
        plausible=lambda answer, **given: _near(3.2, 1.0, given),
    ),
    "hotter": Solution(
        _hotter,
        {
            "other_paper": taken(
                equation=lambda given: next(k for k in _DISAGREE if k != given["equation"])
            ),
            "upside_down": upside_down(),
            "celsius_for_kelvin": lambda from_c, rise_c, equation: (
                10.0 ** (_EQUATIONS[equation]["b_k"] * (1.0 / (from_c + rise_c) - 1.0 / from_c))
            ),
            "power_of_e": _POWER_OF_E,
        },
        figures=lambda equation, **_: {"b": float(_EQUATIONS[equation]["b_k"])},
    ),
    "more_iron": Solution(
        line=2,
        slips={
            "logarithm": lambda from_pct, to_pct: 2.5 * np.log10(to_pct / from_pct),
            "oxide": times((molar_mass("FeO") / molar_mass("Fe")) ** 2.5),
        },
    ),
    "sign": Solution(
        lambda **given: (2.0, given["p2o5_pct"] * _P_SHARE / _partition(given, "TTH72-1")),
        {
            "as_printed": times(10.0 ** _EQUATIONS["TTH72-1"]["c"]),
            "no_root": made_into(lambda answer: answer**2),
            "celsius_for_kelvin": times(lambda given: 10.0 ** (-0.5 * _degrees("TTH72-1", given))),
            "oxide": times(_P_SHARE**0.5),
        },
        plausible=lambda answer, **given: _near(2.6, 1.0, given),
    ),
    "reversion": Solution(
        slips={
            "oxide_for_element": times(1.0 / _P_SHARE),
            "percent": times(1e-4),
        },
    ),
    "manganese": Solution(
        lambda feto_pct, mno_pct, **given: (
            mno_pct
            * _MN_SHARE
            / _partition(given | {"feo_pct": feto_pct, "mno_pct": mno_pct}, "Park-Dzo", "Al2O3")
        ),
        {
            "element_for_oxide": times(_MN_SHARE),
            "no_iron": times("feto_pct"),
            "celsius_for_kelvin": times(lambda given: 10.0 ** -_degrees("Park-Dzo", given)),
            "sign_of_phosphorus": times(
                lambda given: 10.0 ** (2.0 * _PARK["factor"] * _PARK["P2O5"] * given["p2o5_pct"])
            ),
        },
    ),
    "sulphur": Solution(
        _sulphur,
        {
            "kg_for_percent": times(10.0),
            "no_one": times(lambda given: 1.0 + _METAL_KG / (given["l_s"] * given["slag_kg_t"])),
        },
    ),
    "oxygen": Solution(
        lambda slag, temp_c: oxygen_under(_SLAGS[slag], kelvin(temp_c)),
        {
            "celsius_for_kelvin": lambda slag, temp_c: (
                10.0 ** (_LINES[_SLAGS[slag]]["b_k"] / temp_c + _LINES[_SLAGS[slag]]["c"])
            ),
            "sign": after(
                lambda answer, given: 10.0 ** (2.0 * _LINES[_SLAGS[given["slag"]]]["c"]) / answer
            ),
            "power_of_e": _POWER_OF_E,
        },
        figures=lambda slag, **_: {
            "b": float(_LINES[_SLAGS[slag]]["b_k"]),
            "c": float(_LINES[_SLAGS[slag]]["c"]),
        },
    ),
}

PROBLEMS = read_problems("phosphorus_and_sulphur", __file__, SOLUTIONS)
