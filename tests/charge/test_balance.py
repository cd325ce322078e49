"""What is left free in a charge: each answer, put back as an aim, gives the same heat; and the
masses of a published course heat.
"""

import numpy as np
import pytest
from sample_works import fixed_text, law_text

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.charge import solve as solve_charge
from steelthermo.streams import LiquidMetal, Material
from steelthermo.works import WORKS as WORKS_SHIPPED
from steelthermo.works import load_profile, parse_profile

WORKS = parse_profile(fixed_text())


def solve(**asked):
    return solve_charge(WORKS, **asked)


PLAN = solve(find="temperature", scrap_kg=310.0)
MORE = 1.02 * PLAN.oxygen_nm3


def free(what, **more):
    return solve(find="temperature", scrap_kg=310.0, free=what, oxygen_nm3=MORE, **more)


def closes(charge):
    return max(np.max(np.abs(left)) for left in charge.closure().values()) < 1e-9


def test_the_oxygen_of_the_plan_gives_the_plan():
    for what in ("FeO", "unused oxygen", "CO2 share"):
        again = solve(find="temperature", scrap_kg=310.0, free=what, oxygen_nm3=PLAN.oxygen_nm3)
        assert again.temp_c == pytest.approx(PLAN.temp_c, abs=1e-6) and closes(again), what


def test_what_was_left_free_is_an_aim_of_the_same_heat():
    iron = free("FeO")
    pct = iron.slag.analysis_pct
    gas = free("CO2 share").gas.nm3
    unused = free("unused oxygen")
    burnt = solve(find="temperature", scrap_kg=310.0, co2_pct=0.0).gas.nm3
    of_carbonates = burnt["CO2"]  # no carbon burns to CO2 there
    co2_pct = 100.0 * (gas["CO2"] - of_carbonates) / (gas["CO"] + gas["CO2"] - of_carbonates)
    for found, aims in (
        (iron, {"feo_pct": pct["FeO"], "fe2o3_pct": pct["Fe2O3"]}),
        (free("CO2 share"), {"co2_pct": co2_pct}),
        (unused, {"unused_o2_pct": 100.0 * unused.gas.nm3["O2"] / unused.oxygen.nm3["O2"]}),
    ):
        aimed = solve(find="temperature", scrap_kg=310.0, **aims)
        assert aimed.oxygen_nm3 == pytest.approx(MORE, rel=1e-6) and closes(found), aims
        assert aimed.temp_c == pytest.approx(found.temp_c, abs=1e-4)
    # 2 % more oxygen: the iron takes most heat from it, unused oxygen takes some away
    assert iron.temp_c > PLAN.temp_c > unused.temp_c


def test_masses_alone_tell_the_loss_that_closes_the_heat():
    measured = solve(find="masses", scrap_kg=310.0, end_temp_c=PLAN.temp_c)
    assert measured.heat_loss_kj == pytest.approx(PLAN.heat_loss_kj, rel=1e-9)
    # colder, the slag takes a little more chromium: it stays as it was, so that the masses do
    steel = {e: PLAN.steel.analysis_pct[e] for e in ("C", "Mn", "P", "Cr")}
    colder = solve(find="masses", scrap_kg=310.0, end_temp_c=PLAN.temp_c - 20.0, end_pct=steel)
    assert colder.heat_loss_kj > 1.2 * PLAN.heat_loss_kj and closes(colder)
    assert colder.steel.mass_kg == pytest.approx(PLAN.steel.mass_kg, rel=1e-12)


def test_iron_lost_and_cao_as_aims():
    kg = PLAN.slag.element_kg()["Fe"]
    by_kg = solve(find="temperature", scrap_kg=310.0, iron_lost_kg=kg)
    charged = PLAN.hot_metal.element_kg()["Fe"] + PLAN.scrap.element_kg()["Fe"]
    assert by_kg.temp_c == pytest.approx(PLAN.temp_c, abs=1e-6)
    by_pct = solve(find="temperature", scrap_kg=310.0, iron_lost_pct=100.0 * kg / charged)
    both = solve(find="temperature", scrap_kg=310.0, iron_lost_kg=np.array([kg, 20.0]))
    assert both.temp_c[0] == pytest.approx(by_kg.temp_c, abs=1e-6)
    assert by_pct.slag.element_kg()["Fe"] == pytest.approx(kg, rel=2e-3)  # fluxes bring a little
    limy = solve(cao_pct=48.0)
    assert limy.slag.analysis_pct["CaO"] == pytest.approx(48.0, rel=1e-9)


def test_many_heats_with_measured_oxygen():
    blown = PLAN.oxygen_nm3 * np.linspace(0.99, 1.05, 40)
    many = solve(find="masses", scrap_kg=310.0, free="FeO", oxygen_nm3=blown, infeasible="mark")
    assert np.all(np.diff(many.slag.analysis_pct["FeO"]) > 0.0) and closes(many)


@pytest.mark.parametrize(
    "aims, words",
    [
        ({"free": "FeO"}, "oxygen_nm3 goes with free"),
        ({"oxygen_nm3": 50.0}, "oxygen_nm3 goes with free"),
        ({"free": "iron", "oxygen_nm3": 50.0}, "free: 'iron' was given"),
        ({"free": "FeO", "oxygen_nm3": 40.0}, "does not burn the carbon and silicon"),
        ({"free": "unused oxygen", "oxygen_nm3": 40.0}, "does not burn the carbon and silicon"),
        ({"free": "CO2 share", "oxygen_nm3": 150.0}, "CO2 share: it would have to leave 0"),
    ],
)
def test_refusals(aims, words):
    with pytest.raises(InputError, match=words):
        solve(find="masses", scrap_kg=310.0, **aims)


def test_masses_of_a_course_heat():
    """A course book's table 17 (the heat balance of a converter, prod.bobrodobro.ru/73823, read in
    the stored text), per 100 kg of charge: 80 kg hot metal and 20 kg scrap; burnt C to CO 3.593, to
    CO2 0.545 (0.146 of it coal's), Si 0.576, Mn 0.315, P 0.065, Fe to FeO 1.507, to Fe2O3 0.45, to
    dust 0.6, ejected 1; CO2 of lime 0.267 kg, slag 12.9 kg, O2 in the gas 0.275 m3; steel 91.244
    kg, gas CO 6.707, CO2 0.881 m3. Analyses are not printed: the metal is made to bring what burns,
    the flux what the slag needs. Masses to 2 %; its H2O (0.077 m3, damp materials) is left out.
    """
    c, end = 3.593 + 0.545 - 0.146, {"C": 0.1, "Mn": 0.1, "P": 0.02, "Si": 0.0}
    kept = 92.2
    metal = {
        "C": (c + kept * 0.001) / 80.0 * 100.0,
        "Si": 0.576 / 80.0 * 100.0,
        "Mn": (0.315 + kept * 0.001) / 80.0 * 100.0,
        "P": (0.065 + kept * 0.0002) / 80.0 * 100.0,
    }
    oxides = 0.576 * 2.1393 + 0.315 * 1.2912 + 0.065 * 2.2914 + 1.507 * 1.2865 + 0.45 * 1.4297
    carbonate = 0.267 / 43.971
    flux = 12.9 - oxides + 0.267
    heat = solve(
        find="masses",
        hot_metal_kg=80.0,
        hot_metal_pct=metal,
        hot_metal_temp_c=1380.0,
        scrap=Material("scrap", {"Fe": 100.0}),
        scrap_kg=20.0,
        lime=Material.of(
            "fluxes", {"CaCO3": 100.0 * carbonate * 100.087 / flux}, "CaO", kind="lime"
        ),
        lime_kg=flux,
        dolomite_kg=0.0,
        end_pct=end,
        end_temp_c=1641.0,
        iron_lost_kg=1.507 + 0.45,
        feo_pct=1.507 * 1.2865,
        fe2o3_pct=0.45 * 1.4297,
        co2_pct=100.0 * (0.545 - 0.146) / c,
        dust_fe_kg_t=1000.0 * 0.6 / 91.244,
        ejected_kg_t=1000.0 * 1.0 / 91.244,
        lining_mgo_kg_t=0.0,
        sulphur_to_slag_pct=0.0,
        unused_o2_pct=5.0,
    )
    assert heat.steel.mass_kg == pytest.approx(91.244, rel=0.02)
    assert heat.slag.mass_kg == pytest.approx(12.9, rel=0.02)
    assert heat.slag.oxides_kg["FeO"] == pytest.approx(1.939, rel=0.02)
    for species, m3 in {"CO": 6.707, "CO2": 0.881}.items():
        assert heat.gas.nm3[species] == pytest.approx(m3, rel=0.02), species
    assert heat.slag.mass_kg / heat.steel.mass_kg * 1000.0 == pytest.approx(141.0, rel=0.02)


def test_heats_of_a_shops_own_balance():
    """A shop's balance of material and heat per 100 kg of hot metal (m.qiqiwenku.com/xlsx/177679,
    its second half, the sums recomputed): steel 130 590.62 kJ in 91.63 kg at 1647 degC, slag
    1.248 (t - 25) + 209 kJ/kg. A second one (360docs.net/doc/b6601297): hot metal of this analysis
    at 1300 degC 118 636.7 kJ. Heat of steel and hot metal to 10 %: other heat capacities, and heats
    of solution counted elsewhere. Two things disagree, and why: its slag, whose heat capacity is
    15 % above all tables while its 209 for melting agrees with ours; its scrap (14.63 % for 20),
    for steel, slag and a limestone row that its own formula does not give take more heat there.
    """
    analysis = {"C": 4.2, "Si": 0.60, "Mn": 0.30, "P": 0.120, "S": 0.030}
    assert LiquidMetal(1.0, {"C": 0.1}, 1647.0).enthalpy_kj() == pytest.approx(1425.2, rel=0.03)
    assert LiquidMetal(1.0, analysis, 1300.0).enthalpy_kj() == pytest.approx(1186.4, rel=0.03)
    heat = solve(hot_metal_pct=analysis, hot_metal_temp_c=1300.0, end_temp_c=1647.0, heat_mj_t=90.0)
    come, go = heat.heat_account()
    everything = sum(come.values())
    assert go["losses"] / everything == pytest.approx(0.05, abs=0.005)  # as there
    assert come["hot metal"] / everything == pytest.approx(0.574, rel=0.1)
    slag = go["slag as compounds"] + go["slag melted and dissolved"]
    assert 1000.0 * slag / heat.slag.mass_kg == pytest.approx(1.248 * 1622.0 + 209.0, rel=0.13)
    melted = 1000.0 * go["slag melted and dissolved"] / heat.slag.mass_kg
    assert melted == pytest.approx(209.0, abs=70.0)  # one sigma of ours
    assert heat.scrap_share_pct == pytest.approx(20.0, abs=1.0)
    more_kj = (1425.2 - 1396.0) * heat.steel.mass_kg + 2233.3 * heat.slag.mass_kg - 1000.0 * slag
    more_kj += (
        16.965 * heat.hot_metal.mass_kg
    )  # limestone: 2893.43 as printed, 1196.9 by its formula
    scrap_kg = heat.scrap.mass_kg - more_kj / 1425.2
    share = 100.0 * scrap_kg / (heat.hot_metal.mass_kg + scrap_kg)
    explained = (heat.scrap_share_pct - share) / (heat.scrap_share_pct - 14.63)
    assert 0.6 < explained < 0.9  # the rest: its masses, its gas and its dust are not printed


# ---- random charges of wide ranges: no figure of the trade stands here ---------------------------

PROFILES = {key: load_profile(key) for key in WORKS_SHIPPED} | {"by law": parse_profile(law_text())}
FINDS = ("scrap", "coolant", "fuel", "temperature", "masses")


def numbers_of(record):
    """All numbers of a charge, by place."""
    for name, stream in {**record.inputs, **record.outputs}.items():
        for what in ("mass_kg", "temp_c", "analysis_pct", "oxides_kg", "nm3"):
            found = getattr(stream, what, 0.0)
            for key, x in (found if hasattr(found, "items") else {"": found}).items():
                yield f"{name} {what} {key}", x
        yield f"{name} enthalpy", stream.enthalpy_kj()
    for what in ("heat_loss_kj", "oxygen_nm3", "undissolved_kg"):
        yield what, getattr(record, what)


def wide(n, seed, find):
    """Arguments of solve() for n heats; iron oxides are given in one case of two."""
    random = np.random.default_rng(seed)

    def some(low, high):
        return random.uniform(low, high, n)

    out = {
        "find": find,
        "infeasible": "mark",
        "hot_metal_kg": some(2e4, 4e5),
        "hot_metal_temp_c": some(1220.0, 1450.0),
        "hot_metal_pct": {
            "C": some(3.2, 4.9), "Si": some(0.05, 1.5), "Mn": some(0.05, 1.2), "P": some(0.02, 0.3),
            "S": some(0.003, 0.08), "Ti": some(0.0, 0.1), "V": some(0.0, 0.3), "Cr": some(0.0, 0.2),
        },
        "end_pct": {"C": some(0.022, 0.8), "Mn": some(0.03, 0.4), "P": some(0.003, 0.04)},
        "end_temp_c": some(1580.0, 1720.0),
        "basicity": some(1.5, 5.0),
        "mgo_pct": some(2.0, 14.0),
        "co2_pct": some(2.0, 40.0),
        "unused_o2_pct": some(0.0, 6.0),
        "undissolved_pct": some(0.0, 20.0),
        "beads_pct": some(0.0, 10.0),
        "heat_mj_t": some(20.0, 120.0),
    }  # fmt: skip
    if find != "scrap":
        out["scrap_kg"] = out["hot_metal_kg"] * some(0.05, 0.4)
    if seed % 2:
        out |= {"feo_pct": some(4.0, 40.0), "fe2o3_pct": some(0.0, 15.0)}
    return out


@pytest.mark.parametrize("per_case", [25, pytest.param(500, marks=pytest.mark.long)])
@pytest.mark.filterwarnings(f"ignore::{ExtrapolationWarning.__module__}.ExtrapolationWarning")
def test_random_charges_close(per_case):
    """Four works, five questions, iron oxides given or by the law: 10 000 charges in the long
    suite. What cannot be is marked, and has values too.
    """
    could = 0
    for works, (key, profile) in enumerate(PROFILES.items()):
        for i, find in enumerate(FINDS):
            n = per_case
            heat = solve_charge(profile, **wide(n, 100 * works + i, find))
            ok = np.broadcast_to(heat.feasible, n)
            could += ok.sum()
            for what, x in numbers_of(heat):
                assert np.all(np.isfinite(x)), (key, find, what)
            for what, gap in heat.closure().items():
                worst = np.max(np.abs(np.broadcast_to(gap, n)[ok]), initial=0.0)
                assert worst < 1e-9, (key, find, what, worst)
    assert could > 0.25 * 20 * per_case
