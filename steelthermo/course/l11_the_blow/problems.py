"""Calculations of the problems of lesson 11; their words stand in problems.toml."""

import numpy as np

from ...blow import critical_rate_per_min, oxygen_ceiling_pct_min
from ...charge import nm3_per_kg
from ...coursekit.problems import Solution, after, divided, read_problems, taken, times


def _ceiling(flow_nm3_min, metal_t, co2_pct):
    return oxygen_ceiling_pct_min(flow_nm3_min, metal_t, co2_pct / 100.0)


def _last(rate_pct_min, critical_pct, end_pct):
    return np.log(critical_pct / end_pct) / critical_rate_per_min(rate_pct_min, critical_pct)


def _iron(flow_nm3_min, metal_t, rate_pct_min):
    carbon = rate_pct_min * 10.0 * metal_t * nm3_per_kg("C", 10.0)
    return (flow_nm3_min - carbon) / nm3_per_kg("Fe")


SOLUTIONS = {
    "ceiling": Solution(
        slips={
            "forgot_co2_pct": taken(co2_pct=0.0),
            "atoms": times(0.5),
            "kilograms": times(lambda given: 10.0 * given["metal_t"]),
        },
    ),
    "gas_flow": Solution(
        slips={
            "tenfold": times(0.1),
            "one_tonne": divided("metal_t"),
        },
    ),
    "carbon_at": Solution(
        slips={
            "no_ramp": lambda start_pct, rate_pct_min, time_min, **_: (
                start_pct - rate_pct_min * time_min
            ),
            "burnt": after(lambda answer, given: given["start_pct"] - answer),
        },
        plausible=lambda answer, **given: answer > 1.0,
    ),
    "last_period": Solution(
        _last,
        {
            "log10": times(1.0 / np.log(10.0)),
            "straight": lambda rate_pct_min, critical_pct, end_pct: (
                (critical_pct - end_pct) / rate_pct_min
            ),
            "k_is_rate": divided("critical_pct"),
        },
    ),
    "iron_burnt": Solution(
        slips={
            "forgot_rate_pct_min": taken(rate_pct_min=0.0),
            "no_co2": lambda flow_nm3_min, metal_t, rate_pct_min: (
                (flow_nm3_min - rate_pct_min * 10.0 * metal_t * nm3_per_kg("C")) / nm3_per_kg("Fe")
            ),
            "oxygen_kept": times(nm3_per_kg("Fe")),
        },
        plausible=lambda answer, metal_t, **_: answer > 200.0 * np.minimum(metal_t / 160.0, 1.0),
    ),
    "dip_and_return": Solution(lambda temp_c: 3, vector=False),
    "what_may_be_said": Solution(lambda temp_c: 2, vector=False),
}

PROBLEMS = read_problems("the_blow", __file__, SOLUTIONS)
