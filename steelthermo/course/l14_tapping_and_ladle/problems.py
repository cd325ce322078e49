"""Calculations of the problems of lesson 14; their words stand in problems.toml."""

from functools import partial

import numpy as np

from ...base import value
from ...coursekit.problems import (
    Solution,
    after,
    made_into,
    multiplied,
    read_problems,
    taken,
    times,
)
from ...ladle import (
    carbon_equivalent,
)

_MNO_PCT = 5.0  # of the slag carried over; contents of alloys as in the texts
_CARBON_PCT = 92.0  # recovery of carbon in the text


def _oxygen_kg_t(oxygen_ppm, slag_kg_t, feo_pct):
    return oxygen_ppm / 1000.0 + slag_kg_t * (feo_pct * 0.223 + _MNO_PCT * 0.226) / 100.0


def _aluminium(oxygen_ppm, al_pct, slag_kg_t, feo_pct, recovery_pct, per_oxygen=1.124):
    """By the figures of the text, kg/t; per_oxygen: kg of aluminium for one of oxygen."""
    oxygen = _oxygen_kg_t(oxygen_ppm, slag_kg_t, feo_pct)
    return (oxygen * per_oxygen + 10.0 * al_pct) / (recovery_pct / 100.0)


def _carbon(c_pct, simn_kg_t, femn_kg_t):
    picked = (simn_kg_t * 1.7 + femn_kg_t * 7.0) / 1000.0 * _CARBON_PCT / 100.0
    return c_pct + picked


def _cev(c_pct, mn_pct, cr_pct, cu_pct):
    return carbon_equivalent({"C": c_pct, "Mn": mn_pct, "Cr": cr_pct, "Ni": 0.08, "Cu": cu_pct})


_AT_1_ATM = {"hydrogen": 24.7, "nitrogen": 468.0}  # ppm at 1600 degC, as printed


SOLUTIONS = {
    "aluminium": Solution(
        slips={
            "recovery_multiplied": multiplied("recovery_pct"),
            "one_for_one": partial(_aluminium, per_oxygen=1.5 * 1.124),
            "ppm": taken(oxygen_ppm=lambda given: 10.0 * given["oxygen_ppm"]),
        },
        # one kg of oxygen would be a factor nobody misses
        plausible=lambda answer, oxygen_ppm, slag_kg_t, feo_pct, **_: (
            np.abs(_oxygen_kg_t(oxygen_ppm, slag_kg_t, feo_pct) - 1.0) > 0.02
        ),
    ),
    "ferromanganese": Solution(
        slips={
            "no_recovery": taken(si_recovery_pct=100.0, mn_recovery_pct=100.0),
            "percent_as_kg": times(0.1),
        },
        plausible=lambda answer, **given: answer > 1.0,
    ),
    "carbon": Solution(
        lambda **given: (np.where(_carbon(**given) > 0.2, 2, 1), _carbon(**given)),
        {
            "kg_as_percent": lambda **g: g["c_pct"] + 10.0 * (_carbon(**g) - g["c_pct"]),
        },
        plausible=lambda answer, c_pct, **_: (
            (np.abs(answer[1] - 0.2) > 0.006) & (np.abs((answer[1] - c_pct) / 0.092 - 1.0) > 0.03)
        ),
    ),
    "additions_temperature": Solution(
        slips={
            "wrong_sign": times(-1.0),
            "all_cool": taken(al_kg_t=lambda given: -given["al_kg_t"]),
        },
        plausible=lambda answer, **given: np.abs(answer) > 2.0,
    ),
    "tap_aim": Solution(
        slips={
            "superheat": made_into(lambda answer: answer - 25.0),
            "tundish": made_into(lambda answer: answer - 20.0),
            "rate_once": taken(wait_min=1.0),
            "additions_help": after(lambda answer, given: answer - 2.0 * given["cool_c"]),
            "pure_iron": after(
                lambda answer, given: answer + 78.0 * given["c_pct"] + 1.52 + 4.9 * given["mn_pct"]
            ),
        },
    ),
    "phosphorus": Solution(
        slips={
            "oxide": after(
                lambda answer, given: (
                    answer + given["slag_kg_t"] * given["p2o5_pct"] / 1000.0 * (80.0 / 141.94)
                )
            ),
            "kg_as_percent": after(
                lambda answer, given: given["p_pct"] + 10.0 * (answer - given["p_pct"])
            ),
        },
    ),
    "carbon_equivalent": Solution(
        lambda **given: (np.where(_cev(**given) > 0.45, 2, 1), _cev(**given)),
        {
            "c_and_mn": lambda c_pct, mn_pct, **_: c_pct + mn_pct / 6.0,
            "fifth": lambda mn_pct, **g: _cev(mn_pct=1.2 * mn_pct, **g),
            "undivided": lambda c_pct, mn_pct, cr_pct, cu_pct: (
                c_pct + mn_pct + cr_pct + 0.08 + cu_pct
            ),
            "carbon_too": lambda c_pct, **g: _cev(c_pct=c_pct / 6.0, **g),
        },
        plausible=lambda answer, **given: np.abs(answer[1] - 0.45) > 0.004,
    ),
    "stirring_power": Solution(
        slips={
            "natural_for_common_log": times(np.log(10.0)),
            "celsius": times(1600.0 / 1873.15),
            "per_hour": times(60.0),
            "kpa": taken(pressure_kpa=lambda given: 101.3 * given["pressure_kpa"]),
        },
    ),
    "vacuum": Solution(
        slips={
            "no_root": times(
                lambda given: np.sqrt(
                    given["pressure_pa"] * given["share_pct"] / 100.0 / value("normal_pressure")
                )
            ),
            "torr": times(np.sqrt(value("normal_pressure") / 760.0)),
            "forgot_share_pct": taken(share_pct=100.0),
            "root_of_pressure_only": times(lambda given: np.sqrt(given["share_pct"] / 100.0)),
        },
        figures=lambda gas, **_: {"at_1_atm": _AT_1_ATM[gas]},
    ),
}

PROBLEMS = read_problems("tapping_and_ladle", __file__, SOLUTIONS)
