"""The decision by hand, its limits and its uncertainty."""

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelthermo import sources
from steelthermo.base import InputError, kelvin
from steelthermo.charge import coolant_effect
from steelthermo.end_point import chance_pct, correct, decide, usual_slag_kg_t
from steelthermo.slag import after_oxygen

PLAN = {
    "aim_temp_c": 1660.0,
    "aim_carbon_pct": 0.04,
    "steel_t": 180.0,
    "flow_nm3_min": 460.0,
}  # Heron Works, an invented works
FLOW = 460.0 / 180.0
LIMITS = {
    "analysis_pct": {"P": 0.018, "Mn": 0.10, "S": 0.020, "O": 0.06},
    "limits_pct": {"P": (0.0, 0.015), "Mn": (0.12, 0.30), "S": (0.0, 0.015), "O": (0.0, 0.08)},
}


def test_tap():
    d = decide(1660.0, 0.03, **PLAN)
    assert d.action == "tap" and d.oxygen_nm3.value == d.coolant_kg.value == d.iron_kg.value == 0.0
    assert d.temp_c.value == 1660.0 and d.carbon_pct.value == 0.03
    assert d.chance_pct == pytest.approx(
        100 * 0.9545 * 0.9772, abs=0.1
    )  # two sigma of 5 degC both ways, two sigma of 0.005 % one way


def test_too_much_carbon_is_blown_out_by_the_law():
    """The law asked directly for the oxygen that the decision gives; heat by one reaction after the
    other: 12.2 degC for carbon to CO, 23.1 for iron (see tests/charge/test_bath_heat.py), 9.8 for
    what dissolves (180 kJ/mol O2 over 0.82 MJ/K)."""
    d = decide(1645.0, 0.08, **PLAN)
    assert d.action == "blow again and cool" and d.carbon_pct.value == pytest.approx(0.04)
    nm3_t = d.oxygen_nm3.value / 180.0
    assert d.minutes.value == pytest.approx(180 * nm3_t / 460)
    after = after_oxygen(usual_slag_kg_t(), 0.08, kelvin(1645.0), nm3_t, FLOW)
    assert after.carbon_pct == pytest.approx(0.04, abs=2e-4)
    carbon = 0.4 * 22.414 / 12.011 * 0.5 * 1.11
    taken_up = 10.0 * (0.06 - 0.03) * 0.7005  # by the bath, as its oxygen goes from 300 to 600 ppm
    iron = nm3_t - carbon - taken_up
    rise = 12.2 * carbon + 23.1 * iron + 9.8 * taken_up
    assert rise == pytest.approx(d.rise_c.value, rel=0.03)
    assert d.temp_c.value == pytest.approx(1660.0) and d.coolant_kg.value > 0
    assert d.carbon_pct.u > 1e-3 and d.temp_c.u > 4.0 and d.oxygen_nm3.u > 0 and d.iron_kg.u > 0


def test_too_cold_with_low_carbon_burns_iron_and_carbon_falls_on():
    """A second blow for heat is no blow of iron alone: carbon falls with it."""
    d = decide(1640.0, 0.03, **PLAN)
    assert d.action == "blow again" and d.temp_c.value == pytest.approx(1660.0)
    assert 0.02 < d.carbon_pct.value < 0.027
    assert 0.5 * 180 * 20 / 23.1 < d.oxygen_nm3.value < 180 * 20 / 21.0
    assert d.iron_kg.value < d.oxygen_nm3.value / 0.2007  # kg if all of it burnt iron
    assert any("burns iron" in r and "carbon falls on" in r for r in d.reasons)


def test_too_hot_is_cooled():
    for coolant in ("scrap", "limestone", "ore on carbon"):
        d = decide(1690.0, 0.03, coolant=coolant, **PLAN)
        effect, on_carbon = coolant_effect(coolant, 1660.0)
        assert (
            d.action == "cool"
            and d.coolant_kg.value == pytest.approx(180 * 30.0 / -effect)
            and d.temp_c.value == pytest.approx(1660.0)
        )
        assert d.carbon_pct.value == pytest.approx(max(0.03 + 30.0 / -effect * on_carbon, 0.0))
        assert d.coolant_kg.u == pytest.approx(180 * 5.0 / -effect)
        assert sources(d)


def test_phosphorus_is_a_reason_for_a_second_blow():
    """Common practice, no source: the commonest one."""
    d = decide(1640.0, 0.05, **PLAN, **LIMITS)
    assert d.action.startswith("blow again")
    assert any(r.startswith("Phosphorus of 0.018") for r in d.reasons)
    assert d.after.steel_pct["P"] < 0.018 and d.after.steel_pct["Mn"] < 0.10
    far = LIMITS | {"limits_pct": {"P": (0.0, 0.004)}}
    assert any(
        "no second blow takes it there" in r for r in decide(1660.0, 0.03, **PLAN, **far).reasons
    )


def test_other_limits_are_told_and_count_in_the_chance():
    kept = {"analysis_pct": {"P": 0.010, "Mn": 0.10, "S": 0.020}}
    limits = {"limits_pct": {"P": (0.0, 0.015), "Mn": (0.12, 0.3), "S": (0.0, 0.015)}}
    d = decide(1660.0, 0.03, **PLAN, **kept, **limits)
    said = " ".join(d.reasons)
    assert d.action == "tap" and "S of 0.02 %" in said and "Mn of 0.1 %" in said
    assert "P of" not in said and d.chance_pct < decide(1660.0, 0.03, **PLAN).chance_pct / 10
    low = decide(1660.0, 0.03, least_carbon_pct=0.035, **PLAN)
    assert any("below the least allowed" in r for r in low.reasons) and low.chance_pct < 20.0


def test_an_in_blow_sample_corrects_oxygen_and_coolant():
    """The law asked directly for the oxygen from the sample to the aim; what was planned is taken
    off."""
    found, more = correct(1592.0, 0.35, 850.0, **PLAN)
    nm3_t = found.oxygen_nm3.value / 180.0
    after = after_oxygen(usual_slag_kg_t(), 0.35, kelvin(1592.0), nm3_t, FLOW)
    assert after.carbon_pct == pytest.approx(0.04, abs=2e-4)
    assert more.value == pytest.approx(found.oxygen_nm3.value - 850.0)
    assert found.coolant_kg.value > 0 and found.carbon_pct.value == pytest.approx(0.04)
    hotter, _ = correct(1607.0, 0.35, 850.0, **PLAN)
    assert hotter.coolant_kg.value > found.coolant_kg.value
    with pytest.raises(InputError, match="in-blow"):
        correct(1592.0, 1.8, 850.0, **PLAN)


def test_a_plan_that_is_right_needs_no_correction():
    """What is still to come, taken off what is needed."""
    needed = decide(1590.0, 0.35, **PLAN).oxygen_nm3.value
    for planned in (0.9 * needed, needed):
        _, more = correct(1590.0, 0.35, planned, **PLAN)
        assert more.value == pytest.approx(needed - planned, abs=1e-6)


def test_hot_and_high_carbon_needs_both():
    d = decide(1665.0, 0.08, **PLAN)
    assert (
        d.action == "blow again and cool"
        and d.temp_c.value == pytest.approx(1660.0)
        and d.carbon_pct.value == pytest.approx(0.04)
    )


def test_heat_loss_while_blowing_asks_for_more():
    assert (
        decide(1640.0, 0.03, loss_c_min=2.0, **PLAN).oxygen_nm3.value
        > decide(1640.0, 0.03, **PLAN).oxygen_nm3.value
    )
    assert (
        decide(1645.0, 0.08, loss_c_min=2.0, **PLAN).rise_c.value
        < decide(1645.0, 0.08, **PLAN).rise_c.value
    )


def test_near_a_limit_the_decision_says_so():
    assert any("second reading" in r for r in decide(1660.0, 0.039, **PLAN).reasons)
    assert any("second reading" in r for r in decide(1651.0, 0.02, **PLAN).reasons)
    assert not any("second reading" in r for r in decide(1660.0, 0.02, **PLAN).reasons)


@given(st.floats(1590.0, 1720.0), st.floats(0.015, 0.3), st.floats(0.0, 0.6))
def test_every_decision_ends_in_the_band(temp, carbon, share):
    d = decide(temp, carbon, u_exchange_share=share, **PLAN)
    assert 1650.0 - 1e-6 <= d.temp_c.value <= 1670.0 + 1e-6
    assert 0.0 <= d.carbon_pct.value <= 0.04 + 1e-4
    for estimate in (d.oxygen_nm3, d.minutes, d.iron_kg, d.coolant_kg):
        assert estimate.value >= 0.0 and estimate.u >= 0.0 and math.isfinite(estimate.value)
    assert 0.0 <= d.chance_pct <= 100.0
    assert (d.action == "tap") == (carbon <= 0.04 and 1650.0 <= temp <= 1670.0)


def test_no_uncertainty_no_doubt():
    d = decide(1640.0, 0.03, u_temp_c=0.0, u_carbon_pct=0.0, u_exchange_share=0.0, **PLAN)
    assert d.oxygen_nm3.u == d.temp_c.u == 0.0 and d.chance_pct == 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: decide(1933.0, 0.03, **PLAN), "kelvin"),
        (lambda: decide(1660.0, -0.03, **PLAN), "carbon"),
        (lambda: decide(1660.0, np.nan, **PLAN), "finite"),
        (lambda: decide(1660.0, 0.03, coolant="ice", **PLAN), "ice"),
        (lambda: decide(1660.0, 0.08, loss_c_min=90.0, **PLAN), "would cool"),
        (lambda: decide(1660.0, 0.03, **PLAN | {"flow_nm3_min": 0.0}), "oxygen flow"),
        (lambda: decide(1660.0, 0.03, u_temp_c=-1.0, **PLAN), "uncertainty"),
        (lambda: decide(np.array([1650.0, 1660.0]), 0.03, **PLAN), "one number"),
        (lambda: decide(1660.0, np.array([0.03, 0.04]), **PLAN), "one number"),
        (lambda: decide(1660.0, 0.03, limits_pct={"P": (0, 0.01)}, **PLAN), "reading"),
        (lambda: decide(1660.0, 0.03, least_carbon_pct=0.05, **PLAN), "least carbon"),
        (lambda: decide(1660.0, 0.03, co2_pct=300.0, **PLAN), "burnt to CO2"),
        (lambda: decide(1660.0, 0.03, band_c=[5.0, 6.0], **PLAN), "band_c: .*one number"),
        (lambda: decide(1660.0, 0.03, limits_pct="P", **PLAN), "limits_pct: 'P' was given"),
        (
            lambda: decide(1660.0, 0.03, analysis_pct={"P": 0.02}, limits_pct={"P": 0.01}, **PLAN),
            "least, most",
        ),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()


def test_chance_by_the_normal_curve():
    """statistics.NormalDist of Python's own library: each reading stands alone in a window."""
    rules = {
        **PLAN,
        "band_c": 8.0,
        "least_carbon_pct": 0.02,
        "u_temp_c": 4.0,
        "u_carbon_pct": 0.006,
        "u_reading_share": 0.2,
        "analysis_pct": {"P": 0.014, "Mn": 0.16},
        "limits_pct": {"P": (0.0, 0.015), "Mn": (0.12, 0.20)},
    }
    windows = {
        (1655.0, 4.0): (1652.0, 1668.0),
        (0.034, 0.006): (0.02, 0.04),
        (0.014, 0.0028): (-math.inf, 0.015),
        (0.16, 0.032): (0.12, 0.20),
    }
    shares = [
        NormalDist(*reading).cdf(high) - NormalDist(*reading).cdf(low)
        for reading, (low, high) in windows.items()
    ]
    assert chance_pct(1655.0, 0.034, **rules) == pytest.approx(100.0 * math.prod(shares), rel=1e-9)


@pytest.mark.parametrize("off, action", [(-9.9, "tap"), (9.9, "tap"), (10.1, "cool")])
def test_the_band_lies_on_both_sides_of_the_aim(off, action):
    """To either side of the ends of the band."""
    assert decide(1660.0 + off, 0.03, **PLAN).action == action
    assert decide(1660.0 - 10.1, 0.03, **PLAN).action == "blow again"
