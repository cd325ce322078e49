"""Calculations of the problems of lesson 11; their words stand in problems.toml."""

import numpy as np

from ...charge import nm3_per_kg
from ...coursekit.problems import Solution, after, read_problems, times

SOLUTIONS = {
    "ceiling": Solution(),
    "gas_flow": Solution(
        slips={
            "tenfold": times(0.1),
        },
    ),
    "carbon_at": Solution(
        slips={
            "burnt": after(lambda answer, given: given["start_pct"] - answer),
        },
        plausible=lambda answer, **given: answer > 1.0,
    ),
    "last_period": Solution(
        slips={
            "log10": times(1.0 / np.log(10.0)),
            "straight": lambda rate_pct_min, critical_pct, end_pct: (
                (critical_pct - end_pct) / rate_pct_min
            ),
            "k_is_rate": times(lambda given: 1.0 / given["critical_pct"]),
        },
    ),
    "iron_burnt": Solution(
        slips={
            "no_co2": lambda flow_nm3_min, metal_t, rate_pct_min: (
                (flow_nm3_min - rate_pct_min * 10.0 * metal_t * nm3_per_kg("C")) / nm3_per_kg("Fe")
            ),
        },
        plausible=lambda answer, metal_t, **_: answer > 200.0 * np.minimum(metal_t / 160.0, 1.0),
    ),
    "dip_and_return": Solution(lambda temp_c: 3, vector=False),
    "what_may_be_said": Solution(lambda temp_c: 2, vector=False),
}

PROBLEMS = read_problems("the_blow", __file__, SOLUTIONS)
