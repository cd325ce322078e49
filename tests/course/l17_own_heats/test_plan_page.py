"""The page to print and the two commands: what stands on it is what was worked out."""

import pytest

from steelthermo.course.l17_own_heats.plan_page import answers_to_samples, lance_of, page
from steelthermo.heats import order_form, order_of, plan_heat
from steelthermo.works import load_profile

pytestmark = pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")


def test_the_page_says_what_was_worked_out():
    plan = plan_heat(order_of(order_form(load_profile("heron")), load_profile("heron")))
    html = page(plan).replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", "")
    for kg in plan.weights_kg.values():
        assert f"{kg:.0f} kg" in html
    assert f"{plan.oxygen_nm3:.0f} Nm3 in {plan.minutes:.1f} min" in html
    assert (
        f"{plan.order.hot_metal_temp_c:.0f} °C, " in html and html.count("how sure: unknown") == 2
    )
    assert "local codes" in html and "Water under liquid metal" in html and "<script" not in html
    steps = lance_of(plan)
    assert steps[0][0] == 0.0 and steps[-1][1] == pytest.approx(plan.minutes)


def test_what_the_sample_says_leads_to_what_the_end_point_decides():
    plan = plan_heat(order_of(order_form(load_profile("heron")), load_profile("heron")))
    found = {(t - plan.order.end_temp_c, round(c, 3)): what for t, c, what, *_ in
             answers_to_samples(plan)}  # fmt: skip
    assert found[(0.0, 0.04)] == "tap" and found[(20.0, 0.04)] == "cool"
    assert found[(-20.0, 0.04)] == "blow again" and "blow again" in found[(10.0, 0.06)]
