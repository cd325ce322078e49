"""Solvers of the problems of lesson 11 against sums with plain numbers. C 12.011, Fe 55.845; 22.414
Nm3/kmol.

No measured series could be read: nothing here checks the model."""

from math import exp, log

import numpy as np
import pytest

from steelthermo.course.adapter import STEEL


def answer(key, **given):
    problem = STEEL.problem(f"the_blow.{key}")
    assert {g.name for g in problem.given} == set(given)
    return problem.solve(**given)


def test_ceiling_and_gas():
    kmol = 450 / 22.414 / (0.5 * 1.10)
    assert answer("ceiling", flow_nm3_min=450.0, metal_t=180.0, co2_pct=10.0) == pytest.approx(
        kmol * 12.011 / 1800, rel=1e-4
    )
    # stoichiometric constant as recomputed earlier by us: 0.10717 Q / (W (1 + PCR))
    assert answer("ceiling", flow_nm3_min=620.0, metal_t=190.0, co2_pct=10.0) == pytest.approx(
        0.10717 * 620 / 190 / 1.1, rel=1e-4
    )
    assert answer("gas_flow", rate_pct_min=0.25, metal_t=180.0) == pytest.approx(
        0.25 * 1800 / 12.011 * 22.414, rel=1e-4
    )


def test_carbon_along_time():
    """Our own closed-form course, published by nobody: 4.2 % C, rate rising in 4 min to 0.28 %/min,
    critical 0.40 %, k 0.7 per min.
    """
    given = {"start_pct": 4.2, "ramp_min": 4.0, "rate_pct_min": 0.28}
    assert answer("carbon_at", **given, time_min=8.0) == pytest.approx(4.2 - 0.56 - 1.12)
    assert answer("carbon_at", **given, time_min=12.0) == pytest.approx(1.400, abs=5e-4)
    assert answer(
        "last_period", rate_pct_min=0.28, critical_pct=0.40, end_pct=0.05
    ) == pytest.approx(18.542 - 15.571, abs=2e-3)
    t = answer("last_period", rate_pct_min=0.25, critical_pct=0.5, end_pct=0.04)
    assert 0.5 * exp(-0.25 / 0.5 * t) == pytest.approx(0.04) and t == pytest.approx(log(12.5) / 0.5)
    many = answer(
        "carbon_at",
        start_pct=np.array([4.2, 4.0]),
        ramp_min=np.array([4.0, 3.0]),
        rate_pct_min=np.array([0.28, 0.3]),
        time_min=np.array([8.0, 9.0]),
    )
    assert many == pytest.approx([2.52, 4.0 - 0.45 - 1.8])


def test_iron_burnt():
    oxygen_left = 450 - 0.1 * 1800 / 12.011 * 0.5 * 1.1 * 22.414
    assert answer(
        "iron_burnt", flow_nm3_min=450.0, metal_t=180.0, rate_pct_min=0.1
    ) == pytest.approx(oxygen_left / (22.414 / 2 / 55.845), rel=1e-4)


def test_choices():
    assert answer("dip_and_return", temp_c=1600.0) == 3
    assert answer("what_may_be_said", temp_c=1660.0) == 2
