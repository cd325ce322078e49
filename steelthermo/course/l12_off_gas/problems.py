"""Calculations of the problems of lesson 12; their words stand in problems.toml."""

from functools import partial

import numpy as np

from ...base import molar_mass, molar_volume_nm3_kmol, value
from ...charge import (
    co_hazards,
    converter_gas,
    post_combustion,
    ppm_to_mg_m3,
    preheat_scrap,
)
from ...coursekit.problems import (
    Solution,
    after,
    made_into,
    multiplied,
    read_problems,
    rest,
    taken,
    times,
)
from ...streams import Gas, calorific_value_mj_nm3
from ..common import far_from_listed, neighbours

# net calorific value of converter gas for national inventories, IPCC (2006) table 1.2 as two texts
# quote it
_DEFAULT_GJ_T = 7.06


_ONE_KG = 1.0
_ONE_CO = converter_gas(_ONE_KG, 0.0, 25.0)  # the CO of one kg of carbon


_AIR_O2 = value("air_o2_pct") / 100.0


def _preheated(gas_nm3_t, scrap_kg_t, caught_pct, co=0.85):
    gas = Gas({"CO": co * gas_nm3_t, "CO2": (1.0 - co) * gas_nm3_t}, 1000.0)
    return preheat_scrap(gas, scrap_kg_t, 300.0, caught_pct / 100.0).scrap_temp_c


# as the text lists it, °C and kJ/kg
_IRON = ((100, 35), (200, 86), (300, 141), (400, 199), (500, 260), (600, 329))


def _neighbours(gas_nm3_t, scrap_kg_t, caught_pct):
    given_up = gas_nm3_t * (0.85 * 1.017 + 0.15 * 1.648)
    return neighbours(1000.0 * given_up * caught_pct / 100.0 / scrap_kg_t, _IRON)


_LIMITS = {h.key: h.value for h in co_hazards()}
_HIGHER = _LIMITS["co_lfl_nfpa"] / _LIMITS["co_lfl_iec"]


_RUNGS_PPM = tuple(_LIMITS[key] for key in ("co_niosh_ceiling", "co_idlh", "co_minutes"))


def _ppm(leak_m3, co_pct, room_m3):
    return leak_m3 * co_pct / 100.0 / room_m3 * 1e6


def _leak(leak_m3, co_pct, room_m3):
    ppm = _ppm(leak_m3, co_pct, room_m3)
    return 1.0 + np.searchsorted(_RUNGS_PPM, ppm), ppm


SOLUTIONS = {
    "carbon_rate": Solution(
        slips={
            "co_twice": taken(co2_pct=lambda given: 2.0 * given["co2_pct"]),
            "mass_of_co": times(molar_mass("CO") / molar_mass("C")),
            "at_25": times(273.15 / 298.15),
            "percent": times(100.0),
        },
    ),
    "mouth_ratio": Solution(
        slips={
            "co2_over_co": made_into(lambda answer: 100.0 * answer / (100.0 - answer)),
        },
        plausible=lambda answer, **given: (answer > 5.0) & (answer < 28.0),
    ),
    "recovered_heat": Solution(
        slips={
            "kilocalories": times(1.0 / 4.184),
            "per_kg": times(molar_volume_nm3_kmol() / molar_mass("CO")),
            "at_25": times(273.15 / 298.15),
        },
    ),
    "seven_what": Solution(
        slips={
            "divided": made_into(lambda answer: _DEFAULT_GJ_T**2 / answer),
            "at_25": times(273.15 / 298.15),
        },
    ),
    "more_scrap": Solution(
        slips={
            "rest_to_gas": rest("hte_pct"),
            "at_25": times(
                lambda given: (
                    calorific_value_mj_nm3(_ONE_CO)
                    * _ONE_CO.total_nm3
                    / post_combustion(_ONE_KG, 1.0, 1.0, 1600.0).heat_mj
                )
            ),
            "percent": times(100.0),
        },
    ),
    "open_hood": Solution(
        slips={
            "no_shrinking": after(
                lambda answer, given: answer + given["gas_nm3_min"] * given["co_pct"] / 200.0
            ),
            "pure_oxygen": lambda gas_nm3_min, co_pct, air_factor: (
                gas_nm3_min * (1.0 + co_pct / 200.0 * (air_factor - 1.0))
            ),
            "one_oxygen": lambda gas_nm3_min, co_pct, air_factor: (
                gas_nm3_min * (1.0 + co_pct / 200.0 * (2.0 * air_factor / _AIR_O2 - 1.0))
            ),
            "factor_left_out": taken(air_factor=1.0),
            "air_only": lambda gas_nm3_min, co_pct, air_factor: (
                gas_nm3_min * co_pct / 200.0 * air_factor / _AIR_O2
            ),
        },
    ),
    "preheated_scrap": Solution(
        slips={
            "forgot_caught_pct": taken(caught_pct=100.0),
            "lost_part": rest("caught_pct"),
            "all_co": partial(_preheated, co=1.0),
            "from_zero": taken(scrap_kg_t=1000.0),
        },
        plausible=lambda answer, **given: (
            (answer > 200.0) & (answer < 600.0) & far_from_listed(_neighbours(**given), answer)
        ),
        figures=_neighbours,
    ),
    "flammable": Solution(
        slips={
            "higher_limit": times(_HIGHER),
            "mean_limit": times(0.5 * (1.0 + _HIGHER)),
            "multiplied": multiplied("co_pct"),
        },
    ),
    "leak": Solution(
        _leak,
        {
            "mg_m3": lambda **given: ppm_to_mg_m3(_ppm(**given)),
            "percent": times(1e-4),
        },
        plausible=lambda answer, **_: (
            (answer[1] > 60.0)
            & np.all([abs(answer[1] / rung - 1.0) > 0.05 for rung in _RUNGS_PPM], axis=0)
        ),
    ),
}

PROBLEMS = read_problems("off_gas", __file__, SOLUTIONS)
