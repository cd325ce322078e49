"""Calculations of the problems of lesson 10; their words stand in problems.toml."""

import numpy as np

from ...base import celsius, kelvin, rows, value
from ...coursekit.problems import Solution, after, read_problems, taken, times, upside_down
from ...jet import LanceHead, design_head, expand, oxygen_kg_nm3, penetration, supply_for_flow_kpa

_AIR_KPA = value("normal_pressure") / 1000.0
_SUPPLY_C = 25.0


def _throat(flow_nm3_min, holes, supply_kpa):
    return design_head(flow_nm3_min, supply_kpa, holes).throat_mm


def _ratio(supply_kpa):
    return expand(kelvin(_SUPPLY_C), pressure_ratio=_AIR_KPA / np.asarray(supply_kpa))


def _exit_area_for_diameter(throat_mm, supply_kpa):
    return throat_mm * np.asarray(_ratio(supply_kpa).area_ratio)


def _exit_mach_for_ratio(throat_mm, supply_kpa):
    return throat_mm * np.asarray(_ratio(supply_kpa).mach)


def _cold(temp_c, supply_kpa):
    return celsius(expand(kelvin(temp_c), pressure_ratio=_AIR_KPA / np.asarray(supply_kpa)).T)


def _cold_celsius_in_ratio(temp_c, supply_kpa):
    return temp_c * np.asarray(_ratio(supply_kpa).temperature_ratio)


def _cold_ratio_upside_down(temp_c, supply_kpa):
    return celsius(kelvin(temp_c) / np.asarray(_ratio(supply_kpa).temperature_ratio))


def _cold_exponent(temp_c, supply_kpa):
    return celsius(kelvin(temp_c) * (_AIR_KPA / np.asarray(supply_kpa)) ** 0.4)


def _reading(flow_nm3_min, holes, throat_mm):
    return (
        supply_for_flow_kpa(LanceHead(throat_mm, 1.4 * throat_mm, holes), flow_nm3_min) - _AIR_KPA
    )


def _reading_at(pressure_factor):
    return lambda answer, given: (answer + _AIR_KPA) * pressure_factor(given) - _AIR_KPA


_DENSITY = next(row["value"] for row in rows("lance") if row["key"] == "metal_density")


def _momentum(flow_nm3_min, holes, speed_m_s, angle_deg, height_m):
    thrust = flow_nm3_min / holes * oxygen_kg_nm3() / 60.0 * speed_m_s
    return (
        thrust
        * np.cos(np.radians(angle_deg))
        / (_DENSITY * value("standard_gravity") * np.asarray(height_m) ** 3)
    )


def _momentum_number_radians(given):
    return np.cos(given["angle_deg"]) / np.cos(np.radians(given["angle_deg"]))


def _harder(from_m, to_m, from_nm3_min, to_nm3_min):
    return (from_m / to_m) ** 3 * to_nm3_min / from_nm3_min


def _depths(throat_mm, supply_kpa, height_m):
    flow = LanceHead(throat_mm, 1.4 * np.asarray(throat_mm), 1, 0.0).flow(supply_kpa)
    return penetration(flow, height_m)


def _spread(**given):
    p = _depths(**given)
    return np.asarray(p.flinn_m) / p.koria_lange_m


def _two_formulas_mean(**given):
    return 0.5 * (np.asarray(_depths(**given).flinn_m) + _depths(**given).koria_lange_m)


def _two_formulas_difference(**given):
    return np.asarray(_depths(**given).flinn_m) - _depths(**given).koria_lange_m


def _bracket(throat_mm, supply_kpa, height_m):
    depth = np.asarray(_depths(throat_mm, supply_kpa, height_m).koria_lange_m)
    return (depth / (4.469 * np.asarray(height_m))) ** (1.0 / 0.66)


def _leaves(design_kpa, supply_kpa):
    head = design_head(100.0, design_kpa, 1, 0.0)
    flow = head.flow(supply_kpa)
    words = np.asarray(flow.expansion)
    return np.where(
        words == "under-expanded", 1.0, np.where(words == "over-expanded", 2.0, 3.0)
    ), flow.exit_kpa


def _expansion_ratio_upside_down(design_kpa, supply_kpa):
    return _AIR_KPA * np.asarray(design_kpa) / supply_kpa


def _expansion_difference(design_kpa, supply_kpa):
    return _AIR_KPA + np.asarray(supply_kpa) - design_kpa


def _expansion_plausible(answer, design_kpa, supply_kpa):
    return np.abs(np.asarray(supply_kpa) / design_kpa - 1.0) > 0.12


SOLUTIONS = {
    "throat": Solution(
        _throat,
        {
            "forgot_holes": taken(holes=1.0),
            "radius": times(0.5),
            "square": times(float(np.sqrt(np.pi / 4.0))),
            "gauge_added": taken(supply_kpa=lambda given: given["supply_kpa"] + _AIR_KPA),
            "air_taken_off": taken(supply_kpa=lambda given: given["supply_kpa"] - _AIR_KPA),
        },
    ),
    "exit": Solution(
        lambda throat_mm, supply_kpa: throat_mm * np.sqrt(_ratio(supply_kpa).area_ratio),
        {
            "area_for_diameter": _exit_area_for_diameter,
            "mach_for_ratio": _exit_mach_for_ratio,
            "air_taken_off": taken(supply_kpa=lambda given: given["supply_kpa"] - _AIR_KPA),
            "gauge_added": taken(supply_kpa=lambda given: given["supply_kpa"] + _AIR_KPA),
            "throat_ratio": lambda throat_mm, supply_kpa: throat_mm,
        },
    ),
    "cold": Solution(
        _cold,
        {
            "celsius_in_ratio": _cold_celsius_in_ratio,
            "left_in_kelvin": after(lambda answer, given: answer + value("celsius_zero_k")),
            "ratio_upside_down": _cold_ratio_upside_down,
            "exponent": _cold_exponent,
        },
    ),
    "gauge_reading": Solution(
        _reading,
        {
            "absolute": after(lambda answer, given: answer + _AIR_KPA),
            "added": after(lambda answer, given: answer + 2.0 * _AIR_KPA),
            "one_hole": after(_reading_at(lambda given: given["holes"])),
            "diameter_as_radius": after(_reading_at(lambda given: 0.25)),
            "actual_volume": after(
                _reading_at(lambda given: value("reference_temperature") / value("celsius_zero_k"))
            ),
        },
    ),
    "momentum_number": Solution(
        _momentum,
        {
            "forgot_holes": taken(holes=1.0),
            "square": times(lambda given: given["height_m"]),
            "minute": times(60.0),
            "volume": times(lambda given: 1.0 / oxygen_kg_nm3()),
            "gravity": times(value("standard_gravity")),
            "radians": times(_momentum_number_radians),
        },
    ),
    "harder": Solution(
        _harder,
        {
            "forgot_flow": taken(to_nm3_min=lambda given: given["from_nm3_min"]),
            "square": times(lambda given: given["to_m"] / given["from_m"]),
            "upside_down": upside_down(),
            "flow_squared": times(lambda given: given["to_nm3_min"] / given["from_nm3_min"]),
        },
    ),
    "two_formulas": Solution(
        _spread,
        {
            "upside_down": upside_down(),
            "mean": _two_formulas_mean,
            "difference": _two_formulas_difference,
            "no_height": times(lambda given: np.asarray(given["height_m"])),
            "square_root": times(lambda given: _bracket(**given) ** (0.66 - 0.5)),
        },
    ),
    "expansion": Solution(
        _leaves,
        {
            "ratio_upside_down": _expansion_ratio_upside_down,
            "always_air": lambda **_: _AIR_KPA,
            "difference": _expansion_difference,
        },
        plausible=_expansion_plausible,
    ),
    "published_nozzles": Solution(lambda temp_c: 3, vector=False),
}

PROBLEMS = read_problems("lance_and_jet", __file__, SOLUTIONS)
