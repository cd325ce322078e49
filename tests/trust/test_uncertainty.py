"""Heats sampled through charge and blow: against sums by hand, exact cases, balances, and the two
ways against each other.

No published figures of a works could be read; the spreads themselves are recalled. What is checked
is that they are carried rightly.
"""

import numpy as np
import pytest
from sample_works import end_aims

from steelthermo.base import InputError, data_path
from steelthermo.charge import charge, nm3_per_kg, rise_c_per_nm3_t
from steelthermo.slag import after_oxygen, end_of_blow
from steelthermo.streams import Gas, Slag, material
from steelthermo.trust import (
    effects,
    first_order_shares,
    heats,
    quadrature,
    uncertainty,
    within_pct,
)
from steelthermo.works import inputs
from steelthermo.works import profile as plant

WORKS = {
    name: plant.parse_profile(data_path(f"{name}.toml").read_text(encoding="utf-8"))
    for name in plant.WORKS
}
HERON = WORKS["heron"]
NONE = dict.fromkeys(inputs(), 0.0)
SCRAP = uncertainty.SCRAP


@pytest.fixture(scope="module")
def sample():
    return heats(HERON, 20_000)


@pytest.fixture(scope="module")
def alone():
    return effects(HERON)


# ---- the law of the last oxygen ------------------------------------------------------------------


@pytest.mark.parametrize("name", WORKS)
def test_without_deviations_the_heat_ends_at_its_aim(name):
    h = heats(WORKS[name], 2, NONE)
    aim = WORKS[name].end_point.analysis_pct["C"]
    assert h.carbon_pct == pytest.approx([aim, aim], abs=2e-4)


def test_carbon_of_more_or_less_oxygen_is_that_of_the_law():
    """One and a half per cent more oxygen than planned, nothing else: the law asked directly from
    the aim. As much less: from the carbon found, the missing oxygen leads back to the aim."""
    plan = heats(HERON, 2, NONE).plan
    steel_t = plan.steel.mass_kg / 1000.0
    base = {
        o: kg / steel_t for o, kg in plan.slag.oxides_kg.items() if o[:2] != "Fe" and o != "CaS"
    }
    used = (plan.oxygen.nm3["O2"] - plan.gas.nm3.get("O2", 0.0)) / steel_t
    flow, T = 460.0 * 0.995 / 180.0, HERON.end_point.temp_c + 273.15
    down = uncertainty._as_weighed(
        HERON, plan, {"oxygen_nm3": np.array([1.5, -1.5])}, "heavy_scrap"
    )
    how = 0.015 * used, flow, HERON.gas.co2_pct / 100.0
    assert down[1][0] == pytest.approx(after_oxygen(base, 0.04, T, *how).carbon_pct, abs=1e-3)
    assert after_oxygen(base, down[1][1], T, *how).carbon_pct == pytest.approx(0.04, abs=1e-3)


@pytest.mark.parametrize("name", WORKS)
def test_the_way_down_ends_at_the_aim_and_keeps_the_iron_of_its_slag(name):
    """Oxygen from the start of the way burns down to the aim, and iron over lime of the slag there
    is that of the law's percentages.
    """
    works = WORKS[name]
    plan, how = uncertainty._plan(works, SCRAP), uncertainty._blowing(works, works.gas.co2_pct)
    aim, T = works.end_point.analysis_pct["C"], works.end_point.temp_c + 273.15
    start, feo, oxygen = uncertainty._way_down(works, SCRAP)
    base = uncertainty._base_kg_t(plan)
    ends = after_oxygen(base | {"FeO": feo}, start, T, oxygen, *how).carbon_pct
    assert ends == pytest.approx(aim, rel=1e-9) and start - aim == pytest.approx(0.45, abs=1e-12)
    end = end_of_blow(base, start, T, *how)
    share = (100.0 - end.feo_pct - end.fe2o3_pct) / sum(base.values())
    of_law = {o: kg * share for o, kg in base.items()}
    of_law |= {"FeO": end.feo_pct, "Fe2O3": end.fe2o3_pct}
    assert sum(of_law.values()) == pytest.approx(100.0)
    law, way = (Slag(kg, 1600.0).element_kg() for kg in (of_law, base | {"FeO": feo}))
    assert way["Fe"] / way["Ca"] == pytest.approx(law["Fe"] / law["Ca"], rel=1e-9)


def test_oxygen_that_never_came_leaves_its_carbon():
    """Far above the start of the way down all oxygen burns carbon."""
    plan = uncertainty._plan(HERON, SCRAP)
    less = -np.array([20.0, 25.0])  # Nm3 per t
    high, higher = uncertainty._carbon(HERON, SCRAP, plan, less, 12.0, 0.4)
    assert 10.0 * (higher - high) * nm3_per_kg("C", 12.0) == pytest.approx(5.0, rel=1e-9)


def test_oxygen_used_is_what_is_found_again():
    """In steel, slag and gas, its free oxygen apart, less what came with the solids."""
    plan = uncertainty._plan(HERON, SCRAP)

    def held(parts):
        return sum(part.element_kg().get("O", 0.0) for part in parts)

    came = [part for name, part in plan.inputs.items() if name != "oxygen"]
    free = Gas({"O2": plan.gas.nm3["O2"]}, 25.0)
    used = Gas({"O2": uncertainty._used(plan) * plan.oxygen.total_nm3}, 25.0)
    assert plan.gas.nm3["O2"] > 0.0
    assert used.mass_kg == pytest.approx(
        held(plan.outputs.values()) - free.mass_kg - held(came), rel=1e-9
    )


def test_a_reading_shifted_is_shifted_by_so_much_and_back():
    base = material(SCRAP, HERON)
    more = uncertainty._shifted(base, "C", np.array([0.05]), "Fe")
    assert more.pct("C") - base.pct("C") == pytest.approx([0.05], rel=1e-9)
    back = uncertainty._shifted(more, "C", np.array([-0.05]), "Fe")
    assert back.pct("C") == pytest.approx([base.pct("C")])


def test_more_critical_carbon_ends_higher():
    c = heats(HERON, 400, NONE | {"critical_carbon_pct": 0.03})
    order = np.argsort(c.deviation["critical_carbon_pct"])
    assert np.all(np.diff(c.carbon_pct[order]) >= -1e-9) and np.ptp(c.carbon_pct) > 2e-3


# ---- the sample ----------------------------------------------------------------------------------


def test_without_errors_every_heat_ends_as_planned():
    for works in WORKS.values():
        h = heats(works, 5, NONE)
        assert (
            np.ptp(h.temp_c) == 0.0
            and h.temp_c[0] == pytest.approx(works.end_point.temp_c, abs=1e-6) == h.aim_temp_c
        )
        assert h.carbon_pct[0] == pytest.approx(works.end_point.analysis_pct["C"], rel=1e-9)
        assert (
            h.feo_pct[0] == pytest.approx(h.plan.slag.analysis_pct["FeO"], rel=1e-9)
            and h.within()["both"] == 100.0
        )


def test_the_same_seed_draws_the_same_heats():
    one, two, other = heats(HERON, 300), heats(HERON, 300), heats(HERON, 300, seed=17)
    assert np.array_equal(one.temp_c, two.temp_c) and not np.array_equal(one.temp_c, other.temp_c)


def test_the_size_of_the_lots_does_not_matter(monkeypatch):
    whole = heats(HERON, 100)
    monkeypatch.setattr(uncertainty, "_CHUNK", 7)
    np.testing.assert_allclose(heats(HERON, 100).temp_c, whole.temp_c, rtol=1e-12)


def test_spread_of_the_sample_is_the_sum_of_squares(sample, alone):
    """Small errors add up as squares: by the effects of one spread each, 2 % from the sampled
    spread of temperature. That of carbon is larger by the sample: too little oxygen leaves more
    carbon than too much takes.
    """
    assert sample.spread("temperature") == pytest.approx(
        quadrature([e.temp_c for e in alone.values()]), rel=0.02
    )
    by_squares = quadrature([e.carbon_pct for e in alone.values()])
    assert 1.05 * by_squares < sample.spread("carbon") < 1.3 * by_squares


def test_shares_are_the_squares_of_the_effects(sample, alone):
    total = sum(e.temp_c**2 for e in alone.values())
    shares = sample.shares("temperature")
    for key, e in alone.items():
        assert shares[key] == pytest.approx(e.temp_c**2 / total, abs=0.02), key
    assert sum(shares.values()) == pytest.approx(1.0, abs=0.03)
    assert next(iter(shares)) == "oxygen_nm3" and next(iter(sample.shares("carbon"))) in (
        "co2_pct",
        "oxygen_nm3",
    )


def test_share_within_the_window_is_that_of_a_normal_curve(sample):
    by_hand = within_pct(
        10.0, sample.spread("temperature"), sample.mean("temperature") - sample.aim_temp_c
    )
    assert sample.within()["temperature"] == pytest.approx(by_hand, abs=1.5)
    assert sample.within(1000.0, 1.0)["both"] == pytest.approx(
        100.0 * np.mean(sample.feasible), abs=1e-9
    )
    w = sample.within()
    assert w["both"] <= min(w["temperature"], w["carbon"])


def test_each_heat_is_one_that_the_charge_balance_knows():
    """A heat of the sample, solved anew with its true figures, needs the oxygen that was blown and
    ends as hot.
    """
    spreads = NONE | {
        "hot_metal_temp_c": 8.0,
        "hot_metal_si_pct": 0.02,
        "oxygen_nm3": 1.0,
        "co2_pct": 1.5,
        "heat_mj_t": 8.0,
    }
    h = heats(HERON, 30, spreads)
    planned, usual = end_aims(h.plan), HERON.hot_metal.analysis_pct
    for i in (0, 7, 29):
        dev = {k: v[i].item() for k, v in h.deviation.items()}
        again = charge.solve(
            HERON,
            find="temperature",
            hot_metal_pct={**usual, "Si": usual["Si"] + dev["hot_metal_si_pct"]},
            hot_metal_temp_c=1340.0 + dev["hot_metal_temp_c"],
            scrap_kg=h.plan.scrap.mass_kg,
            lime_kg=h.plan.lime.mass_kg,
            dolomite_kg=h.plan.dolomite.mass_kg,
            co2_pct=12.0 + dev["co2_pct"],
            heat_mj_t=60.0 + dev["heat_mj_t"],
            end_pct={**planned["end_pct"], "C": h.carbon_pct[i].item()},
            feo_pct=h.feo_pct[i].item(),
            fe2o3_pct=h.feo_pct[i].item() * planned["fe2o3_pct"] / planned["feo_pct"],
        )
        assert again.oxygen_nm3 == pytest.approx(
            h.plan.oxygen_nm3 * (1 + dev["oxygen_nm3"] / 100), rel=1e-9
        )
        assert again.temp_c == pytest.approx(h.temp_c[i], abs=1e-6)


def test_signs_and_sizes(alone):
    """Hotter metal, more oxygen: hotter. Heavier scrap, more loss: colder. Oxygen goes nearly all
    to iron at 0.04 % C: 1 % of 51.6 Nm3/t, 3 % of it unused, at some 25 degC per Nm3/t on the steel
    alone (bath_heat), and slag takes its part. Carbon that was not read needs oxygen that iron
    then lacks: colder, not hotter.
    """
    t = {k: e.temp_c for k, e in alone.items()}
    assert (
        t["hot_metal_temp_c"] > 0
        and t["oxygen_nm3"] > 0
        and t["scrap_kg"] < 0
        and t["heat_mj_t"] < 0
        and t["hot_metal_c_pct"] < 0
    )
    by_hand = 0.01 * 51.6 * 0.97 * rise_c_per_nm3_t("Fe", 1660.0)
    assert 0.8 * by_hand < t["oxygen_nm3"] < by_hand
    c = {k: e.carbon_pct for k, e in alone.items()}
    assert (
        c["oxygen_nm3"] < 0 < c["hot_metal_c_pct"]
        and c["co2_pct"] > 0
        and abs(c["heat_mj_t"]) < 1e-4  # by the chromium that a colder slag takes
    )
    # 8 MJ/t of loss at the heat capacity of steel and slag, 0.82 x 1.016 + 0.09 x 1.25 MJ
    # per t and degree, common practice
    assert t["heat_mj_t"] == pytest.approx(-8.0 / 0.95, rel=0.03)


def test_twice_the_spread_twice_the_scatter():
    spreads = {k: 0.4 * i.start for k, i in inputs().items()}
    double = {k: 2.0 * v for k, v in spreads.items()}
    assert heats(HERON, 3000, double).spread("temperature") == pytest.approx(
        2.0 * heats(HERON, 3000, spreads).spread("temperature"), rel=0.01
    )


def test_only_what_is_uncertain_has_a_share():
    h = heats(HERON, 2000, NONE | {"hot_metal_temp_c": 8.0})
    shares = h.shares()
    assert shares["hot_metal_temp_c"] == pytest.approx(1.0, abs=0.015) and all(
        s == 0.0 for k, s in shares.items() if k != "hot_metal_temp_c"
    )
    # hotter, the slag takes less chromium, and its oxygen burns a little carbon
    assert h.spread("carbon") == pytest.approx(0.0, abs=1e-4)


def test_heats_that_cannot_be_are_left_out_and_counted_as_missed():
    wild = heats(HERON, 500, {"oxygen_nm3": 12.0})
    assert (
        0.0 < np.mean(wild.feasible) < 1.0
        and np.all(np.isfinite(wild.temp_c))
        and np.all(wild.of("FeO") >= 0.0)
    )
    assert wild.of("temperature").size == wild.feasible.sum()
    assert wild.within(500.0, 5.0)["both"] == pytest.approx(100.0 * np.mean(wild.feasible))
    sorted_anew = {k: v[wild.feasible] for k, v in wild.deviation.items()}
    assert wild.shares() == first_order_shares(sorted_anew, wild.of("temperature"))


@pytest.mark.parametrize("name", WORKS)
def test_every_works_can_be_sampled(name):
    h = heats(WORKS[name], 1500)
    assert (
        np.mean(h.feasible) > 0.95
        and 8.0 < h.spread("temperature") < 30.0
        and 0.003 < h.spread("carbon") < 0.04
    )
    assert h.mean("temperature") == pytest.approx(h.aim_temp_c, abs=3.0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: heats(HERON, 1), "number of heats: 1"),
        (lambda: heats(HERON, 10, {"nothing": 1.0}), "allowed are hot_metal_temp_c"),
        (lambda: heats(HERON, 10, {"scrap_kg": -1.0}), "weight of scrap"),
        (lambda: heats(HERON, 10, scrap="straw"), "straw"),
        (lambda: heats(HERON, 10).of("silicon"), "allowed are temperature, carbon, FeO"),
        (lambda: heats(HERON, 10).within(-1.0), "window of temperature"),
        (lambda: effects(HERON, {"oxygen_nm3": 90.0}), "oxygen blown: 90 %"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()
