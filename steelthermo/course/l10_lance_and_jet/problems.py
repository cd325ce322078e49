"""Calculations of the problems of lesson 10; their words stand in problems.toml."""

import numpy as np

from ...base import celsius, kelvin, value
from ...coursekit.problems import (
    Solution,
    made_into,
    read_problems,
    taken,
    times,
    upside_down,
)
from ...jet import LanceHead, design_head, expand, penetration

_AIR_KPA = value("normal_pressure") / 1000.0


def _ratio(supply_kpa):
    return expand(kelvin(25.0), pressure_ratio=_AIR_KPA / supply_kpa)


def _reading_at(factor):
    """The reading at the absolute pressure times a factor."""
    return made_into(lambda answer: (answer + _AIR_KPA) * factor - _AIR_KPA)


def _depths(throat_mm, supply_kpa, height_m):
    """Depth of the cavity after Flinn and after Koria and Lange, m."""
    flow = LanceHead(throat_mm, 1.4 * throat_mm, 1, 0.0).flow(supply_kpa)
    found = penetration(flow, height_m)
    return found.flinn_m, found.koria_lange_m


def _leaves(design_kpa, supply_kpa):
    words = design_head(100.0, design_kpa, 1).flow(supply_kpa).expansion
    return np.where(
        words == "under-expanded", 1.0, np.where(words == "over-expanded", 2.0, 3.0)
    ), 101.3 * supply_kpa / design_kpa


SOLUTIONS = {
    "throat": Solution(
        slips={
            "square": times(float(np.sqrt(np.pi / 4.0))),
            "gauge_added": taken(supply_kpa=lambda given: given["supply_kpa"] + _AIR_KPA),
            "air_taken_off": taken(supply_kpa=lambda given: given["supply_kpa"] - _AIR_KPA),
        },
    ),
    "exit": Solution(
        slips={
            "area_for_diameter": lambda throat_mm, supply_kpa: (
                throat_mm * _ratio(supply_kpa).area_ratio
            ),
            "mach_for_ratio": lambda throat_mm, supply_kpa: throat_mm * _ratio(supply_kpa).mach,
            "air_taken_off": taken(supply_kpa=lambda given: given["supply_kpa"] - _AIR_KPA),
            "gauge_added": taken(supply_kpa=lambda given: given["supply_kpa"] + _AIR_KPA),
        },
        plausible=lambda answer, supply_kpa, **_: (
            np.abs((supply_kpa / _AIR_KPA) ** (2 / 7) - 2.0) > 0.03
        ),
    ),
    "cold": Solution(
        slips={
            "celsius_in_ratio": lambda temp_c, supply_kpa: (
                temp_c * _ratio(supply_kpa).temperature_ratio
            ),
            "ratio_upside_down": lambda temp_c, supply_kpa: celsius(
                kelvin(temp_c) / _ratio(supply_kpa).temperature_ratio
            ),
            "exponent": lambda temp_c, supply_kpa: celsius(
                kelvin(temp_c) * (_AIR_KPA / supply_kpa) ** 0.4
            ),
        },
    ),
    "gauge_reading": Solution(
        slips={
            "added": made_into(lambda answer: answer + 2.0 * _AIR_KPA),
            "diameter_as_radius": _reading_at(0.25),
            "actual_volume": _reading_at(value("reference_temperature") / value("celsius_zero_k")),
        },
    ),
    "momentum_number": Solution(
        slips={
            "square": times("height_m"),
            "minute": times(60.0),
            "volume": times(1.0 / 1.428),
            "gravity": times(9.81),
            "radians": times(
                lambda given: np.cos(given["angle_deg"]) / np.cos(np.radians(given["angle_deg"]))
            ),
        },
        figures=lambda angle_deg, **_: {"cosine": np.round(np.cos(np.radians(angle_deg)), 4)},
    ),
    "harder": Solution(
        slips={
            "square": times(lambda given: given["to_m"] / given["from_m"]),
            "upside_down": upside_down(),
            "flow_squared": times(lambda given: given["to_nm3_min"] / given["from_nm3_min"]),
        },
    ),
    "two_formulas": Solution(
        slips={
            "upside_down": upside_down(),
            "mean": lambda **given: 0.5 * sum(_depths(**given)),
            "difference": lambda **given: np.subtract(*_depths(**given)),
            "no_height": times("height_m"),
            "square_root": times(
                lambda given: (
                    (_depths(**given)[1] / (4.469 * given["height_m"])) ** ((0.66 - 0.5) / 0.66)
                )
            ),
        },
        plausible=lambda answer, throat_mm, **_: (
            np.abs(785.4 * (throat_mm / 1000.0) ** 2 - 1.0) > 0.04
        ),
    ),
    "expansion": Solution(
        _leaves,
        {
            "ratio_upside_down": lambda design_kpa, supply_kpa: _AIR_KPA * design_kpa / supply_kpa,
            "always_air": lambda **_: _AIR_KPA,
            "difference": lambda design_kpa, supply_kpa: _AIR_KPA + supply_kpa - design_kpa,
        },
        plausible=lambda answer, design_kpa, supply_kpa, **_: (
            np.abs(supply_kpa / design_kpa - 1.0) > 0.12
        ),
    ),
    "published_nozzles": Solution(lambda temp_c: 3, vector=False),
}

PROBLEMS = read_problems("lance_and_jet", __file__, SOLUTIONS)
