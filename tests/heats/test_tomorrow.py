"""The plan of a heat, and money. What is checked follows from balances (masses and carbon) and from
the rules stated in the docstrings; prices are invented."""

import numpy as np
import pytest

from steelthermo import hot_metal
from steelthermo.base import InputError, data_path
from steelthermo.charge import solve
from steelthermo.heats import (
    account,
    break_even_s_pct,
    levers,
    order_form,
    order_of,
    plan_heat,
    treatment,
    worth,
)
from steelthermo.streams import LiquidMetal
from steelthermo.works import WORKS, load_profile, parse_profile

pytestmark = pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")
HERON = load_profile("heron")


def test_the_form_as_it_stands_is_the_works_usual_heat():
    plan = plan_heat(order_of(order_form(HERON), HERON))
    usual = solve(HERON, hot_metal_kg=plan.order.hot_metal_kg)
    assert plan.weights_kg["heavy scrap"] == pytest.approx(usual.scrap.mass_kg, abs=50.0)
    assert plan.oxygen_nm3 == pytest.approx(usual.oxygen_nm3, rel=2e-3)
    assert plan.temp_c == pytest.approx(HERON.end_point.temp_c, abs=1.5)
    assert plan.minutes == pytest.approx(plan.oxygen_nm3 / HERON.oxygen.flow_nm3_min)
    assert plan.band == {} and plan.p_chance_pct is None


@pytest.mark.parametrize("works", WORKS)
def test_the_form_fills_the_vessel_of_any_works(works):
    works = load_profile(works)
    steel_kg = plan_heat(order_of(order_form(works), works)).charge.steel.mass_kg
    assert steel_kg == pytest.approx(1000.0 * works.vessel.tap_t, abs=700.0)  # half a tonne / 0.8


def test_weights_are_rounded_to_what_the_shop_weighs_and_the_heat_follows():
    text = order_form(HERON).replace("heavy_scrap = 100", "heavy_scrap = 60, bales = 40")
    text = text.replace("bucket_step_kg = 100", "bucket_step_kg = 500")
    plan = plan_heat(order_of(text + "wait_min = 20\n", HERON))
    assert plan.weights_kg["heavy scrap"] % 500 == plan.weights_kg["new bales"] % 500 == 0
    assert plan.weights_kg["burnt lime"] % 50 == 0
    assert plan.charge.heat_gained_kj() / plan.charge.steel.mass_kg == pytest.approx(
        -plan.charge.heat_loss_kj / plan.charge.steel.mass_kg, abs=1e-3
    )


def test_a_calibration_moves_the_plan_and_gives_it_a_band():
    text = data_path("heron.toml").read_text(encoding="utf-8") + (
        "\n[calibrated]\nheats = 400\nheat_mj_t = 80\nheat_wait_mj_t_min = 0.3\nusual_wait_min = 20"
        "\nphosphorus_log = -0.5\ntemperature_rms = 10\nphosphorus_rms = 0.07\n"
    )
    works = parse_profile(text)
    form = order_form(HERON)  # one hot metal for all three
    plan = plan_heat(order_of(form + "wait_min = 20\n", works))
    longer = plan_heat(order_of(form + "wait_min = 80\n", works))
    plain = plan_heat(order_of(form, HERON))
    # 60 minutes more at 0.3 MJ/(t min), and 20 MJ/t more than the profile's 60
    fewer = plan.weights_kg["heavy scrap"] - longer.weights_kg["heavy scrap"]
    again = plain.weights_kg["heavy scrap"] - plan.weights_kg["heavy scrap"]
    assert fewer / again == pytest.approx(18.0 / 20.0, abs=0.1)
    assert plan.band["temperature"] == 10.0 and 0.0 < plan.p_chance_pct < 100.0
    assert plan.p_pct > 2.0 * plain.p_pct
    assert plan.p_pct < plan.order.end_p_pct and not any("allowed" in x for x in plan.remarks)
    less = order_form(works).replace("end_p_pct = 0.012", "end_p_pct = 0.006")
    assert "above the 0.0060 % allowed" in plan_heat(order_of(less, works)).remarks[0]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("hot_metal_kg = 1", "hot_metal_kg = 15 # 1"), "hot metal charged: 15 kg"),
        (("heavy_scrap = 100", "gold = 100"), "material of the works: 'gold'"),
        (
            ("end_c_pct", "end_carbon_pct"),
            "end_carbon_pct was given; there is no such figure; near it",
        ),
        (('name = "heat 1"', "name = heat"), "it can't be read as TOML"),
        (("end_temp_c = 1660", "end_temp_c = nan"), "temperature at the end.*finite"),
    ],
)
def test_what_makes_no_sense_is_told(change, told):
    with pytest.raises(InputError, match=f"(?s){told}"):
        plan_heat(order_of(order_form(HERON).replace(*change), HERON))


def test_all_that_is_out_of_range_is_told_at_once():
    form = order_form(HERON).replace("end_temp_c = 1660", "end_temp_c = 2660")
    form = form.replace("heavy_scrap = 100", "gold = 100").replace("C = 4.5", "C = -4.5")
    with pytest.raises(InputError) as told:
        order_of(form, HERON)
    lines = str(told.value).splitlines()
    assert len(lines) == 3 and "2660 °C" in lines[0] and "C of the hot metal" in lines[1]
    assert "'gold'" in lines[2]


def test_money_and_carbon_are_those_of_the_balance():
    heat = solve(HERON)
    found = account(heat, HERON)
    prices = HERON.prices
    assert found.money["hot metal"] == pytest.approx(
        prices.hot_metal * heat.hot_metal.mass_kg / heat.steel.mass_kg
    )
    burnt = (
        heat.hot_metal.element_kg()["C"]
        + heat.scrap.element_kg()["C"]
        + heat.lime.element_kg()["C"]
        + heat.dolomite.element_kg()["C"]
        - heat.steel.element_kg()["C"]
        - heat.ejected.element_kg()["C"]
    )
    assert found.co2_kg_t == pytest.approx(burnt * 44.009 / 12.011 / heat.steel.mass_kg * 1e3, 1e-4)
    bare = account(heat, load_profile("dunlin"))
    assert bare.money == {} and "hot metal" in bare.unpriced
    assert found.total == pytest.approx(sum(found.money.values()))


def test_a_bucket_of_several_kinds_costs_what_each_costs():
    """By hand from the weights on the plan, which are rounded to 100 kg."""
    two = order_form(HERON).replace("heavy_scrap = 100", "heavy_scrap = 60, bales = 40")
    plan = plan_heat(order_of(two, HERON))
    money, steel_t = account(plan.charge, HERON).money, plan.charge.steel.mass_kg / 1000.0
    for title, key in (("heavy scrap", "heavy_scrap"), ("new bales", "bales")):
        costs = plan.weights_kg[title] / 1000.0 * dict(HERON.prices.items())[key]
        assert money[title] * steel_t == pytest.approx(costs, rel=0.005)


def test_a_warmer_hot_metal_is_worth_its_scrap():
    """More scrap for hot metal that costs more: worth by hand from two charges."""
    warm = solve(HERON, hot_metal_temp_c=1360.0)
    by_hand = account(solve(HERON), HERON).total - account(warm, HERON).total
    assert worth(HERON, hot_metal_temp_c=1360.0) == pytest.approx(by_hand) and by_hand > 0.0
    assert worth(HERON, **{"hot_metal_temp_c": HERON.hot_metal.temp_c}) == pytest.approx(0.0)
    assert np.sign(worth(HERON, hot_metal_temp_c=1320.0)) == -1.0


def test_prices_are_checked():
    text = data_path("heron.toml").read_text(encoding="utf-8")
    for bad, told in (("lime = -1", "prices.lime"), ("gold = 3", "there is no such key")):
        with pytest.raises(InputError, match=told):
            parse_profile(text.replace("lime = 115", bad))


def compared(s_pct, works=HERON, limit=0.012):
    metal = LiquidMetal(1000, HERON.hot_metal.analysis_pct | {"S": s_pct}, 1340)
    stage = hot_metal.desulphurise(metal, hot_metal.dose(metal, 0.005, {"magnesium": 1}))
    return hot_metal.compare(metal, stage, steel_s_max_pct=limit, works=works)


def test_a_treatment_costs_what_its_masses_cost():
    """By hand from the masses of the comparison and the prices of the profile."""
    found, prices = compared(0.03), HERON.prices
    money = treatment(found, 0.012, HERON)
    more = {k: b - a for k, (a, b) in found.per_t.items()}
    kwh = 0.001 * account(found.treated, HERON).electricity_kwh_t * prices.electricity * 1000 - (
        account(found.without, HERON).electricity_kwh_t * prices.electricity
    )
    co2 = account(found.treated, HERON).co2_kg_t - account(found.without, HERON).co2_kg_t
    by_hand = (
        (
            more["hot metal bought"] * prices.hot_metal
            + more["scrap"] * prices.heavy_scrap
            + more["lime"] * prices.lime
            + more["dolomite"] * prices.burnt_dolomite
            + more["reagents"] * prices.magnesium
            + co2 * prices.co2
        )
        / 1000.0
        + more["oxygen"] * prices.oxygen
        + kwh
    )
    assert money.cost == pytest.approx(by_hand, abs=1e-6)
    beyond = (found.steel_s_pct[0] - 0.012) / 0.001
    assert money.saved == pytest.approx(beyond * prices.sulphur) and money.unpriced == ()
    assert treatment(found, 0.03, HERON).saved == 0.0


def test_the_treatment_begins_to_pay_at_the_break_even():
    even = break_even_s_pct(compared, 0.012, works=HERON)
    gains = [treatment(compared(even + by), 0.012, HERON).gain for by in (-0.001, 0.001)]
    assert gains[0] < 0.0 < gains[1]


def test_without_prices_no_money_is_told():
    dunlin = load_profile("dunlin")
    money = treatment(compared(0.03, dunlin), 0.012, dunlin)
    assert money.items == {} and "magnesium granules" in money.unpriced
    with pytest.raises(InputError, match="magnesium granules.*no price"):
        break_even_s_pct(lambda s_pct: compared(s_pct, dunlin), 0.012, works=dunlin)
    assert set(levers(dunlin).values()) == {0.0}
    signs = {what: np.sign(x) for what, x in levers(HERON).items()}
    assert signs["hot metal 10 °C hotter"] == signs["end aimed at 10 °C lower"] == 1.0


def test_one_material_charged_in_two_ways_is_paid_for_twice():
    """Scrap as coolant takes the place of as much scrap: the same heat, the same bill."""
    from_bucket, besides = (
        account(solve(coolant="heavy_scrap", coolant_kg=kg)).money for kg in (0.0, 50.0)
    )
    assert besides == pytest.approx(from_bucket, rel=1e-6)
