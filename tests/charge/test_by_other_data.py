"""A charge by other published data: against the balance with the other enthalpies in their places,
against differences at fixed masses, and lines by hand.
"""

from contextlib import contextmanager
from unittest import mock

import numpy as np
import pytest
from sample_works import fixed_text

from steelthermo import hot_metal as pretreatment
from steelthermo.base import VERIFIED, InputError, rows, sources
from steelthermo.charge import (
    balance,
    charge,
    lower_flammable_limit_pct,
    more_kj,
    other_set,
    oxidation_heat_by,
    solve_by,
)
from steelthermo.charge import by_other_data as other_data
from steelthermo.coursekit.panel import make_panel
from steelthermo.hot_metal import magnesium_lime_carbide as reagents
from steelthermo.streams import Gas, Slag, condensed, slag
from steelthermo.streams import metal as metals
from steelthermo.streams import solid as materials
from steelthermo.thermo import enthalpy, oxidation_heat
from steelthermo.thermo import solution as liquid_iron
from steelthermo.trust import differences
from steelthermo.works import profile as plant

TEXT = fixed_text()
HERON = plant.parse_profile(TEXT)
PLAN = charge.solve(HERON)
KEPT = {
    "find": "temperature",
    "scrap_kg": PLAN.scrap.mass_kg,
    "lime_kg": PLAN.lime.mass_kg,
    "dolomite_kg": PLAN.dolomite.mass_kg,
}
PUBLISHED = tuple(other_data.other_data(True))
# The four questions of a melter; ore and coke bring iron oxide and silica of their own
ASKED = (
    {},
    {"find": "temperature", "scrap_kg": 310.0},
    {"find": "coolant", "scrap_kg": 200.0},
    {"find": "fuel", "scrap_kg": 400.0},
)


# ---- the same charge with the other enthalpies in their places -----------------------------------


@contextmanager
def instead(key):
    """The kit with the enthalpies of a row: solvers and records see them, the data of substances
    stay.
    """
    row, pure, metal = other_data._DATA.get(key), balance.enthalpy, liquid_iron.dissolved_enthalpy
    hot, cold = (balance, slag, condensed), (balance, slag, condensed, materials)
    if row["kind"] in ("solution", "dissolved"):
        own = {r["element"]: r["a_j_mol"] for r in rows("solution") if r["set"] == "msts"}

        def swap(e, T, coefficients="msts"):
            if row["kind"] == "dissolved":
                more = 1000.0 * row["other"] - own[e] if e == row["of"] else 0.0
                return metal(e, T, coefficients) + more
            return metal(e, T, "jsps" if row["of"] in (e, "all") and e != "Fe" else coefficients)

        patches = [
            mock.patch.object(module, "dissolved_enthalpy", swap) for module in (balance, metals)
        ]
    else:
        more = 1000.0 * other_data._shift_kj(row)

        def moved(f, T, phase=None, supercooled=False, quiet=False):
            return pure(f, T, phase, supercooled) + (more if f == row["species"] else 0.0)

        patches = [
            mock.patch.object(module, "enthalpy", moved)
            for module in (hot if row["kind"] == "content" else cold)
        ]
    for patch in patches:
        patch.start()
    try:
        yield plant.parse_profile(TEXT)  # whose materials are made anew
    finally:
        for patch in patches:
            patch.stop()


@pytest.mark.parametrize("settings", ASKED, ids=lambda s: s.get("find", "scrap"))
@pytest.mark.parametrize(
    "key", [k for k in PUBLISHED if other_data._DATA.get(k)["kind"] != "slag heat"]
)
def test_the_charge_is_that_of_the_other_enthalpies(key, settings):
    """One linear solve with the other data in place of the kit's: masses, gas and temperature agree
    to 1e-8.
    """
    got = solve_by(HERON, key, **settings)
    with instead(key) as works:
        expected = charge.solve(works, **settings)
        for name in ("hot metal", "scrap", "coolant", "fuel", "lime", "dolomite", "steel", "slag"):
            group = "inputs" if name in got.inputs else "outputs"
            mass = [getattr(c, group)[name].mass_kg for c in (got, expected)]
            assert mass[0] == pytest.approx(mass[1], rel=1e-8, abs=1e-7), name
        assert got.temp_c == pytest.approx(
            expected.temp_c, abs=1e-6
        ) and got.oxygen_nm3 == pytest.approx(expected.oxygen_nm3, rel=1e-8)
        assert expected.closure()["heat"] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("key", PUBLISHED)
def test_heat_closes_by_the_other_data(key):
    heat = solve_by(HERON, key)
    come, go = heat.heat_account()
    assert heat.closure()["heat"] == pytest.approx(0.0, abs=1e-9) and sum(
        come.values()
    ) == pytest.approx(sum(go.values()), rel=1e-9)
    given_off = sum(come.values())
    assert more_kj(heat, key) / 1000.0 == pytest.approx(
        heat.other_data_kj / 1000.0, abs=1e-9 * given_off
    )  # what enters is what they take
    assert go.get("other data than the kit's", 0.0) == pytest.approx(
        heat.other_data_kj / 1000.0, abs=1e-8
    )
    assert heat.heat_loss_kj == pytest.approx(
        60.0 * heat.steel.mass_kg, rel=1e-12
    )  # the losses of the works stay what they are
    assert heat.for_tap(180.0).closure()["heat"] == pytest.approx(0.0, abs=1e-9)


def test_end_temperature_at_fixed_masses_is_the_linear_one():
    """differences(): the heat over that of one degree. The straight line through the kit's data
    holds within 2 %.
    """
    for d in differences(HERON):
        if d.acts_on == "temperature" and d.status in VERIFIED:
            assert solve_by(HERON, d.key, **KEPT).temp_c - PLAN.temp_c == pytest.approx(
                d.difference, rel=0.02, abs=0.005
            ), d.key


def test_few_solves_are_needed(monkeypatch):
    calls = []
    monkeypatch.setattr(
        other_data, "solve", lambda *a, **k: calls.append(k) or charge.solve(*a, **k)
    )
    for key in PUBLISHED:
        for settings in ({}, KEPT):
            calls.clear()
            solve_by(HERON, key, **settings)
            assert len(calls) <= 4, key


def test_the_kits_own_data_are_one_plain_solve():
    own = solve_by(HERON, None, co2_pct=14.0)
    assert (
        own.scrap.mass_kg == charge.solve(HERON, co2_pct=14.0).scrap.mass_kg
        and own.other_data_kj == 0.0
    )
    assert "other data than the kit's" not in own.heat_account()[1]


def test_heat_of_solution_of_carbon_by_hand():
    """45 kg C less what stays, (17.23 - 22.59) kJ/mol (jsps table 1, msts table 2.2), as MJ that
    the heat lacks; scrap takes near 1.4 MJ/kg.
    """
    heat = solve_by(HERON, "carbon_set")
    left = 0.04 / 100.0 * (heat.steel.mass_kg + heat.ejected.mass_kg)
    lacks = (45.0 - left) / 12.011 * (22.59 - 17.23)
    assert heat.other_data_kj / 1000.0 == pytest.approx(lacks, rel=1e-3)
    assert PLAN.scrap.mass_kg - heat.scrap.mass_kg == pytest.approx(lacks / 1.4, rel=0.1)


def test_arrays_and_heats_that_cannot_be():
    silicon = np.array([0.1, 0.4, 1.2])
    pct = {**HERON.hot_metal.analysis_pct}
    many = solve_by(HERON, "feo_line", hot_metal_pct=pct | {"Si": silicon})
    for n, si in enumerate(silicon):
        assert many.scrap.mass_kg[n] == pytest.approx(
            solve_by(HERON, "feo_line", hot_metal_pct=pct | {"Si": float(si)}).scrap.mass_kg,
            rel=1e-8,
        )
    cold = {
        "hot_metal_temp_c": np.array([1340.0, 1150.0]),
        "hot_metal_pct": pct | {"C": 0.5, "Si": 0.0},
    }
    marked = solve_by(HERON, "carbon_all", infeasible="mark", **cold)
    assert not np.all(marked.feasible)
    with pytest.raises(InputError):
        solve_by(HERON, "carbon_all", **cold)


def test_other_data_may_give_more_than_the_losses_take():
    heat = solve_by(HERON, "slag_solid", heat_mj_t=0.0)
    assert heat.other_data_kj < 0.0 == heat.heat_loss_kj and heat.closure()[
        "heat"
    ] == pytest.approx(0.0, abs=1e-9)


def test_what_is_no_data_is_refused(monkeypatch):
    for call in (
        lambda key: solve_by(HERON, key),
        lambda key: more_kj(PLAN, key),
        lambda key: oxidation_heat_by(key, "C to CO"),
    ):
        for key in ("steam", ["feo_line"], 3):
            with pytest.raises(
                InputError, match="other data: .* was given; allowed are phosphate_alpha"
            ):
                call(key)
    jump = iter([5000.0, -7000.0] * 20)
    monkeypatch.setattr(other_data, "more_kj", lambda charge, key: next(jump))
    with pytest.raises(InputError, match="did not come to rest"):
        solve_by(HERON, "feo_line")


def test_every_row_can_be_asked_for_its_source():
    for row in rows("other_data"):
        (found,) = sources(row["key"])
        assert (
            found.source.key == row["source"]
            and found.status == row["status"]
            and found.what == row["what"]
        )


# ---- heats of burning ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "data, key, T, convention, kj_mol",
    [
        (
            "feo_line",
            "Fe to FeO",
            1873.0,
            "pure, at temperature",
            476.139 / 2,
        ),  # key femn: -113800 cal for 2 Fe(l) + O2 = 2 FeO(l)
        (
            "mno_line",
            "Mn to MnO",
            1873.0,
            "pure, at temperature",
            816.298 / 2,
        ),  # key femn: -195100 cal
        (
            "phosphate_vapour",
            "P to 3CaO.P2O5",
            1573.0,
            "pure, at temperature",
            2204 / 2,
        ),  # key dkm: slope of the line
        (
            "phosphate_alpha",
            "P to 3CaO.P2O5",
            298.15,
            "pure, 298 K",
            (4096.5 - 3 * 635.09) / 2,
        ),  # key mar97; CaO of JANAF Ca-027
    ],
)
def test_a_published_heat_is_given_back(data, key, T, convention, kj_mol):
    """At its own temperature each row gives the heat that its source prints."""
    T = max(T, 1400.0)  # not used by the convention at 298 K
    assert oxidation_heat_by(data, key, T, convention, "mol") / 1000.0 == pytest.approx(
        kj_mol, rel=2e-4
    )
    own = oxidation_heat(key, T, convention, "mol")
    for per in ("kg", "nm3"):  # the same share in every unit
        ratio = oxidation_heat_by(data, key, T, convention, per) / oxidation_heat(
            key, T, convention, per
        )
        assert ratio == pytest.approx(1000.0 * kj_mol / own, rel=2e-4)


def test_heats_of_solution_and_contents_act_where_they_should():
    T = 1873.15
    dissolved = "dissolved, cold oxygen"
    # 22.59 and 17.23 kJ/mol, tables named above
    assert oxidation_heat_by("carbon_all", "C to CO", T, dissolved, "mol") == pytest.approx(
        oxidation_heat("C to CO", T, dissolved, "mol") - 5360.0, abs=1.0
    )
    assert oxidation_heat_by("carbon_set", "P to 3CaO.P2O5", T, dissolved) == oxidation_heat(
        "P to 3CaO.P2O5", T, dissolved
    )
    assert oxidation_heat_by("carbon_all", "C to CO", T) == oxidation_heat(
        "C to CO", T
    )  # pure carbon
    assert oxidation_heat_by("mno_perry", "Mn to MnO", T) == oxidation_heat(
        "Mn to MnO", T
    )  # nothing is heated at 298 K
    assert oxidation_heat_by("mno_perry", "Mn to MnO", T, dissolved) < oxidation_heat(
        "Mn to MnO", T, dissolved
    )
    assert oxidation_heat_by("slag_solid", "Si to SiO2", T) == oxidation_heat("Si to SiO2", T)
    assert {other_set(s) for s in liquid_iron.SETS} == set(liquid_iron.SETS)


# ---- the other figures that panels switch --------------------------------------------------------


def test_heat_content_of_manganese_oxide_by_perry():
    """Perry, table 2-151: cp = 7.43 + 0.01038 T - 3.62e-6 T^2 cal/(mol K), from 298.15 K. Burnt by
    the other data, manganese gives so much less as its oxide holds more.
    """
    T, cold = 1873.0, 298.15
    theirs = 4.184 * (
        7.43 * (T - cold) + 0.01038 / 2 * (T**2 - cold**2) - 3.62e-6 / 3 * (T**3 - cold**3)
    )
    more = theirs - (enthalpy("MnO", T) - enthalpy("MnO", cold))
    by = ("Mn to MnO", T, "dissolved, cold oxygen", "mol")
    assert oxidation_heat(*by) - oxidation_heat_by("mno_perry", *by) == pytest.approx(
        more, abs=30.0
    )


def test_other_data_count_what_is_made_not_what_came():
    """A slag kept back from the last heat holds its phosphate before and after: other data of it
    move the heat by what is made of it alone.
    """
    kept = Slag({"CaO": 25.0, "SiO2": 7.5, "MgO": 4.0, "FeO": 9.0, "P2O5": 0.8}, 1600.0)
    heats = [charge.solve(), charge.solve(kept_slag=kept)]
    made = [
        h.slag.compounds_mol()["Ca3(PO4)2"]
        - (h.inputs["kept slag"].compounds_mol()["Ca3(PO4)2"] if "kept slag" in h.inputs else 0.0)
        for h in heats
    ]
    per_mol = [more_kj(h, "phosphate_alpha") / n for h, n in zip(heats, made, strict=True)]
    assert per_mol[1] == pytest.approx(per_mol[0], rel=1e-9)


def test_product_of_magnesium_and_sulphur_as_printed():
    """Zhou and Han (1995), abstract: K = 2.10e-4, taken for 1600 degC."""
    assert pretreatment.magnesium_sulphur_product(
        1600.0, reagents.product_factor("zhouhan95")
    ) == pytest.approx(2.10e-4, rel=1e-3)


def test_a_comparison_by_other_data():
    metal = metals.LiquidMetal(1000.0, {**HERON.hot_metal.analysis_pct, "S": 0.03}, 1340.0)
    dose = pretreatment.dose(metal, 0.005, {"magnesium": 1.0, "lime_powder": 4.0})
    stage = pretreatment.desulphurise(metal, dose)
    own, other = (
        pretreatment.compare(metal, stage, steel_s_max_pct=0.012, works=HERON, by=by)
        for by in (None, "carbon_all")
    )
    for heat in (other.without, other.treated):
        assert heat.closure()["heat"] == pytest.approx(0.0, abs=1e-9) and heat.other_data_kj > 0.0
        assert more_kj(heat, "carbon_all") == pytest.approx(heat.other_data_kj, rel=1e-6)
    assert all(b < a for a, b in zip(own.per_t["scrap"], other.per_t["scrap"], strict=True))


def test_flammable_limits_of_two_standards():
    """IEC 60079-20-1: 10.9 %; NFPA 497: 12.5 % CO. Half the CO, twice the limit (mixing rule of one
    fuel).
    """
    for standard, limit in (("iec", 10.9), ("nfpa", 12.5), (None, 10.9)):
        assert lower_flammable_limit_pct(Gas({"CO": 1.0}, 25.0), standard) == pytest.approx(limit)
        assert lower_flammable_limit_pct(
            Gas({"CO": 1.0, "N2": 1.0}, 25.0), standard
        ) == pytest.approx(2 * limit)


def test_the_lance_by_gas_tables():
    """Aeronautical Engineer's Data Book, table A4.2 (ratio of heat capacities 1.4): at Mach 1.10
    A/A* 1.0079, p/p0 0.4684.
    """

    panel = make_panel("lance_and_jet")
    panel.set(throat_mm=40.0, exit_mm=40.0 * 1.0079**0.5, supply_kpa=1000.0, data="gamma_tables")
    flow = panel.result.flow
    assert flow.mach == pytest.approx(1.10, abs=0.001) and flow.exit_kpa == pytest.approx(
        468.4, abs=0.5
    )
    own = panel.compute(**panel.settings | {"data": "own"}).flow
    assert own.mach != flow.mach and own.flow_nm3_min == pytest.approx(flow.flow_nm3_min, rel=0.002)
