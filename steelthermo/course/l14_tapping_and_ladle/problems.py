"""Calculations of the problems of lesson 14; their words stand in problems.toml."""

from functools import partial

import numpy as np

from ...base import value
from ...coursekit.answers import quantity_text
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
    addition_kg,
    carbon_equivalent,
    tap_path,
)

_MNO_PCT = 5.0  # of the slag carried over; contents of alloys as in the texts
_CARBON_PCT = 92.0  # recovery of carbon in the text


def _oxygen_kg_t(oxygen_ppm, slag_kg_t, feo_pct):
    return oxygen_ppm / 1000.0 + slag_kg_t * (feo_pct * 0.223 + _MNO_PCT * 0.226) / 100.0


def _aluminium(oxygen_ppm, al_pct, slag_kg_t, feo_pct, recovery_pct, per_oxygen=1.124):
    """By the figures of the text, kg/t; per_oxygen: kg of aluminium for one of oxygen."""
    oxygen = _oxygen_kg_t(oxygen_ppm, slag_kg_t, feo_pct)
    return (oxygen * per_oxygen + 10.0 * al_pct) / (recovery_pct / 100.0)


def _silicomanganese(si_pct, si_recovery_pct):
    return addition_kg(1000.0, si_pct, 17.0, si_recovery_pct, dilution=False)


def _ferromanganese(si_pct, mn_from_pct, mn_pct, si_recovery_pct, mn_recovery_pct):
    brought = _silicomanganese(si_pct, si_recovery_pct) * 66.0 / 1000.0 * mn_recovery_pct / 100.0
    rest = mn_pct - mn_from_pct - brought
    return 1000.0 * rest / 76.0 * 100.0 / mn_recovery_pct


def _carbon(c_pct, simn_kg_t, femn_kg_t):
    picked = (simn_kg_t * 1.7 + femn_kg_t * 7.0) / 1000.0 * _CARBON_PCT / 100.0
    return c_pct + picked


def _additions_c(simn_kg_t, femn_kg_t, al_kg_t):
    """By the figures of the text, degC per kg/t."""
    return 27.3 * al_kg_t - 1.25 * simn_kg_t - 2.01 * femn_kg_t


def _tap_aim(c_pct, mn_pct, tap_drop_c, cool_c, wait_min, hold_c_min):
    analysis = {"C": c_pct, "Si": 0.2, "Mn": mn_pct}
    own = {
        "tap_drop_c": tap_drop_c,
        "hold_c_min": hold_c_min,
        "tundish_c": 20.0,
        "superheat_c": 25.0,
    }
    return tap_path(analysis, additions_c=-cool_c, hold_min=wait_min, **own).tap_c


_P_SHARE = 0.4364  # phosphorus in P2O5, as printed


def _phosphorus(p_pct, slag_kg_t, p2o5_pct, simn_kg_t, femn_kg_t, share=_P_SHARE):
    kg_t = slag_kg_t * p2o5_pct / 100.0 * share + (simn_kg_t * 0.15 + femn_kg_t * 0.20) / 100.0
    return p_pct + 0.1 * kg_t


def _cev(c_pct, mn_pct, cr_pct, cu_pct):
    return carbon_equivalent({"C": c_pct, "Mn": mn_pct, "Cr": cr_pct, "Ni": 0.08, "Cu": cu_pct})


def _power(flow_nm3_h, steel_t, depth_m, pressure_kpa):
    return _formula(flow_nm3_h / 60.0, steel_t, depth_m, pressure_kpa / 101.3)


def _formula(flow_nm3_min, steel_t, depth_m, pressure_atm, T=1873.0, log=np.log10):
    return 14.23 * flow_nm3_min * T / steel_t * log(1.0 + depth_m / (1.48 * pressure_atm))


_AT_1_ATM = {"hydrogen": 24.7, "nitrogen": 468.0}  # ppm at 1600 degC, as printed


def _dissolved(gas, pressure_pa, share_pct):
    """By the figures of the text: ppm under one atmosphere."""
    return _AT_1_ATM[gas] * np.sqrt(pressure_pa * share_pct / 100.0 / 101325.0)


def _vacuum_figures(gas, **given):
    ppm = quantity_text(_dissolved(gas, **given), "ppm")
    return {"at_1_atm": f"{_AT_1_ATM[gas]:g}", "ppm": ppm}


SOLUTIONS = {
    "aluminium": Solution(
        _aluminium,
        {
            "forgot_slag_kg_t": taken(slag_kg_t=0.0),
            "forgot_al_pct": taken(al_pct=0.0),
            "forgot_recovery_pct": taken(recovery_pct=100.0),
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
        _ferromanganese,
        {
            "silicomanganese_free": taken(si_pct=0.0),
            "forgot_mn_from_pct": taken(mn_from_pct=0.0),
            "no_recovery": taken(si_recovery_pct=100.0, mn_recovery_pct=100.0),
            "first_alloy": lambda si_pct, si_recovery_pct, **_: _silicomanganese(
                si_pct, si_recovery_pct
            ),
            "percent_as_kg": times(0.1),
        },
        plausible=lambda answer, **given: answer > 1.0,
    ),
    "carbon": Solution(
        lambda **given: (np.where(_carbon(**given) > 0.2, 2, 1), _carbon(**given)),
        {
            "silicomanganese": lambda **g: _carbon(**g | {"simn_kg_t": 0.0}),
            "ferromanganese": lambda **g: _carbon(**g | {"femn_kg_t": 0.0}),
            "pick_up_alone": lambda **g: _carbon(**g) - g["c_pct"],
            "kg_as_percent": lambda **g: g["c_pct"] + 10.0 * (_carbon(**g) - g["c_pct"]),
        },
        plausible=lambda answer, c_pct, **_: (
            (np.abs(answer[1] - 0.2) > 0.006) & (np.abs((answer[1] - c_pct) / 0.092 - 1.0) > 0.03)
        ),
    ),
    "additions_temperature": Solution(
        _additions_c,
        {
            "forgot_al_kg_t": taken(al_kg_t=0.0),
            "forgot_femn_kg_t": taken(femn_kg_t=0.0),
            "forgot_simn_kg_t": taken(simn_kg_t=0.0),
            "wrong_sign": times(-1.0),
            "all_cool": taken(al_kg_t=lambda given: -given["al_kg_t"]),
        },
        plausible=lambda answer, **given: np.abs(answer) > 2.0,
    ),
    "tap_aim": Solution(
        _tap_aim,
        {
            "superheat": times(lambda given: 1.0 - 25.0 / _tap_aim(**given)),
            "forgot_wait_min": taken(wait_min=0.0),
            "tundish": made_into(lambda answer: answer - 20.0),
            "rate_once": taken(wait_min=1.0),
            "additions_help": after(lambda answer, given: answer - 2.0 * given["cool_c"]),
            "pure_iron": lambda c_pct, mn_pct, **g: (
                _tap_aim(0.0 * c_pct, 0.0 * mn_pct, **g) + 7.6 * 0.20
            ),
        },
    ),
    "phosphorus": Solution(
        _phosphorus,
        {
            "oxide": partial(_phosphorus, share=1.0),
            "one_atom": partial(_phosphorus, share=0.5 * _P_SHARE),
            "forgot_slag_kg_t": taken(slag_kg_t=0.0),
            "alloys": taken(simn_kg_t=0.0, femn_kg_t=0.0),
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
        _power,
        {
            "natural_for_common_log": times(np.log(10.0)),
            "celsius": times(1600.0 / 1873.15),
            "per_hour": times(60.0),
            "kpa": lambda flow_nm3_h, pressure_kpa, **g: _formula(
                flow_nm3_min=flow_nm3_h / 60.0, pressure_atm=pressure_kpa, **g
            ),
            "always_air": taken(pressure_kpa=101.325),
        },
    ),
    "vacuum": Solution(
        _dissolved,
        {
            "no_root": times(
                lambda given: np.sqrt(
                    given["pressure_pa"] * given["share_pct"] / 100.0 / value("normal_pressure")
                )
            ),
            "torr": times(np.sqrt(value("normal_pressure") / 760.0)),
            "forgot_share_pct": taken(share_pct=100.0),
            "root_of_pressure_only": times(lambda given: np.sqrt(given["share_pct"] / 100.0)),
        },
        figures=_vacuum_figures,
    ),
}

PROBLEMS = read_problems("tapping_and_ladle", __file__, SOLUTIONS)
