"""The charge: published mass balances, sums by hand with plain numbers, closure over a wide space
of heats, invariances, practice, refusals.

No complete published heat balance could be read. The mass side rests on published problems; the
heat side on the enthalpies tested in test_substances, on single published figures (scrap melting),
on a hand sum, and on closure.

Problems: C1 NPTEL 113104059, lecture 11, p. 5 (steel, slag and carbon READ, the rest lost from the
page); C4 studyxapp.com q61462141 and C8 askfilo.com 3339393030333733 (questions READ, answers
computed here); C9 He and others, Energy Reports 3 (2017) 29, read in an open life-cycle code.
"""

import dataclasses
import importlib.util
import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from sample_works import fixed_text

from steelthermo.base import InputError, convert, data_path
from steelthermo.charge import charge, solve, solve_by
from steelthermo.streams import Gas, LiquidMetal, Material, Slag, Solid, material
from steelthermo.works import profile as plant

WORKS = plant.parse_profile(fixed_text())
PURE_LIME = Material("pure lime", {"CaO": 100.0}, kind="lime")
BARE = {  # nothing that the printed problems leave out
    **{
        "dust_fe_kg_t": 0.0,
        "ejected_kg_t": 0.0,
        "lining_mgo_kg_t": 0.0,
        "sulphur_to_slag_pct": 0.0,
    },
    **{"oxygen_pct": {"O2": 100.0}, "dolomite_kg": 0.0, "fe2o3_pct": 0.0},
}


def heat(**arguments):
    return solve(WORKS, **arguments)


def scrap_of(carbon_pct, **others):
    return Material.of("scrap", {"C": carbon_pct, **others}, rest="Fe")


# ---- published mass balances ---------------------------------------------------------------------


def test_case_1():
    """C1: 1000 kg hot metal of C 4, Si 0.8, P 0.2, Mn 0.25; scrap 15 % of it with 0.1 % C; steel
    0.1 % C; slag 18 % FeO (proved from the page's own figures).
    READ: steel 1080.68 kg, slag 126.7 kg, 39.07 kg C to the gas. The lime is given so that the slag
    is the published one; its analysis is lost.
    """
    by_hand = {
        "SiO2": 8.0 * 60.083 / 28.085,
        "P2O5": 2.0 * 141.943 / 61.948,
        "MnO": 2.5 * 70.937 / 54.938,
        "FeO": 0.18 * 126.7,
    }
    c = heat(
        find="temperature",
        hot_metal_pct={"C": 4.0, "Si": 0.8, "P": 0.2, "Mn": 0.25},
        scrap=scrap_of(0.1),
        scrap_kg=150.0,
        lime=PURE_LIME,
        lime_kg=126.7 - sum(by_hand.values()),
        feo_pct=18.0,
        end_pct={"C": 0.1, "Mn": 0.0, "P": 0.0},
        hot_metal_temp_c=1300.0,
        heat_mj_t=200.0,
        **BARE,
    )
    assert c.steel.mass_kg == pytest.approx(1080.68, abs=0.05)
    assert c.slag.mass_kg == pytest.approx(126.7, abs=0.01)
    assert c.gas.element_kg()["C"] == pytest.approx(39.07, abs=0.005)
    for oxide, kg in by_hand.items():
        assert c.slag.oxides_kg[oxide] == pytest.approx(kg, abs=0.005)
    # The page's scaling to 100 t of steel (93 t hot metal, 10 t scrap, 12 t slag) contradicts its
    # own 15 %: it is 13.9 t of scrap
    tapped = c.for_tap(100.0)
    assert tapped.hot_metal.mass_kg / 1e3 == pytest.approx(
        92.5, abs=0.1
    ) and tapped.slag.mass_kg / 1e3 == pytest.approx(11.7, abs=0.05)
    assert tapped.scrap.mass_kg / 1e3 == pytest.approx(13.9, abs=0.05)


def test_case_4():
    """C4: 200 t hot metal, 20 t scrap; by hand 19.58 t O2 (13 712 Nm3), CaO 12.63 t, slag 33.24 t,
    gas 20.81 t, steel 198.16 t, yield 90.1 %.

    FeO and basicity are set to what the problem's fixed iron loss (4 % of the hot metal) and 38 %
    CaO come to. Without coolant the heat would run far above 1726 °C, which the problem does not
    ask: hence 'mark'.
    """
    c = heat(
        find="temperature",
        hot_metal_kg=200e3,
        hot_metal_pct={"C": 4.2, "Si": 1.5, "Mn": 0.8, "P": 0.4},
        scrap=scrap_of(0.2),
        scrap_kg=20e3,
        lime=PURE_LIME,
        basicity=38.0 / 19.31,
        feo_pct=30.96,
        end_pct={"C": 0.0, "Mn": 0.0, "P": 0.0},
        co2_pct=10.0,
        infeasible="mark",
        **BARE,
    )
    assert c.feasible is False
    assert c.oxygen.mass_kg == pytest.approx(19.58e3, abs=10) and c.oxygen_nm3 == pytest.approx(
        13712, abs=5
    )
    assert c.lime.mass_kg == pytest.approx(12.63e3, abs=10) and c.slag.mass_kg == pytest.approx(
        33.24e3, abs=10
    )
    assert (
        c.gas.mass_kg == pytest.approx(20.81e3, abs=5)
        and c.steel.mass_kg == pytest.approx(198.16e3, abs=5)
        and c.yield_pct == pytest.approx(90.1, abs=0.05)
    )
    assert c.slag.element_kg()["Fe"] == pytest.approx(8000.0, abs=2.0)
    assert c.per_t("oxygen") == pytest.approx(69.2, abs=0.05)
    for oxide, pct in {"CaO": 38.0, "SiO2": 19.31, "MnO": 6.22, "P2O5": 5.51, "FeO": 30.96}.items():
        assert c.slag.analysis_pct[oxide] == pytest.approx(pct, abs=0.01)
    with pytest.raises(
        InputError, match="end temperature: it would pass 1726 °C; use more scrap or coolant"
    ):
        heat(
            find="temperature",
            hot_metal_pct={"C": 4.2, "Si": 1.5, "Mn": 0.8, "P": 0.4},
            scrap=scrap_of(0.2),
            scrap_kg=100.0,
        )


def test_case_8():
    """C8, per t of steel: hot metal 949.0, scrap 113.9 (12 %), lime of 2.5 % SiO2 36.3, slag 88.5
    kg with 40 % CaO, iron lost as Fe2O3 1.5 % of that charged, 47.2 Nm3. CaO/SiO2 is only 1.13: no
    basic slag (and it would end too hot, hence 'mark').
    """
    iron = 0.948 * 949.0 + 0.997 * 113.9
    haematite_pct = 100.0 * 0.015 * iron * 159.687 / 111.69 / 88.5
    c = heat(
        find="temperature",
        hot_metal_kg=949.0,
        hot_metal_pct={"C": 3.7, "Si": 1.5},
        scrap=scrap_of(0.3),
        scrap_kg=113.9,
        lime=Material("lime", {"CaO": 97.5, "SiO2": 2.5}, kind="lime"),
        basicity=40.0 / (60.0 - haematite_pct),
        feo_pct=0.0,
        end_pct={"C": 0.2, "Mn": 0.0, "P": 0.0},
        co2_pct=0.0,
        infeasible="mark",
        **(BARE | {"fe2o3_pct": haematite_pct}),
    )
    assert c.steel.mass_kg == pytest.approx(1000.0, abs=0.1) and c.lime.mass_kg == pytest.approx(
        36.3, abs=0.05
    )
    assert c.slag.mass_kg == pytest.approx(88.5, abs=0.05) and c.oxygen_nm3 == pytest.approx(
        47.2, abs=0.06
    )
    assert c.slag.analysis_pct["CaO"] == pytest.approx(
        40.0, abs=0.02
    ) and c.slag.basicity() == pytest.approx(1.13, abs=0.005)


def test_case_9():
    """C9, read second-hand: 950 kg hot metal of 96.5053 % Fe and 140 kg scrap of 99 % at an iron
    efficiency of 0.938 give 990 kg of iron in the steel.
    """
    hot_metal = LiquidMetal(950.0, {"C": 3.4947}, 1350.0).element_kg()["Fe"]
    scrap = Solid(140.0, scrap_of(1.0)).element_kg()["Fe"]
    assert hot_metal == pytest.approx(916.8, abs=0.05) and scrap == pytest.approx(138.6, abs=0.05)
    assert 0.938 * (hot_metal + scrap) == pytest.approx(990.0, abs=0.2)


# ---- our own reference heat ----------------------------------------------------------------------

REFERENCE = {
    "hot_metal_pct": {"C": 4.5, "Si": 0.5, "Mn": 0.4, "P": 0.1},
    "hot_metal_temp_c": 1350.0,
    "scrap": scrap_of(0.1, Mn=0.3),
    "lime": Material("lime", {"CaO": 95.0, "SiO2": 2.0, "Al2O3": 3.0}, kind="lime"),
    "dolomite": Material(
        "burnt dolomite", {"CaO": 58.0, "MgO": 38.0, "SiO2": 1.0, "Al2O3": 3.0}, kind="dolomite"
    ),
    "end_pct": {"C": 0.04, "Mn": 0.10, "P": 0.012},
    "basicity": 3.5,
    "mgo_pct": 8.0,
    "feo_pct": 20.0,
    "fe2o3_pct": 0.0,
    "co2_pct": 10.0,
    "gas_temp_c": 1500.0,
    "dust_fe_kg_t": 10.0 / 1.2198,
    "ejected_kg_t": 0.0,
    "lining_mgo_kg_t": 0.0,
    "sulphur_to_slag_pct": 0.0,
    "heat_mj_t": 0.03 * 2131.0 / 1.2198,
    "oxygen_pct": {"O2": 100.0},
}


def test_reference_heat_masses():
    """Computed by other code before this one (not published): with 297.1 kg of scrap per t of hot
    metal steel 1219.8, lime 31.7, burnt dolomite 17.5, slag 83.3 kg, O2 56.1, gas 83.6 Nm3, yield
    94.0 %. A regression of the mass balance.
    """
    c = heat(find="temperature", scrap_kg=297.1, **REFERENCE)
    for found, expected, digits in (
        (c.steel.mass_kg, 1219.8, 0.1),
        (c.lime.mass_kg, 31.7, 0.05),
        (c.dolomite.mass_kg, 17.5, 0.05),
        (c.slag.mass_kg, 83.3, 0.05),
        (c.oxygen_nm3, 56.1, 0.05),
        (c.gas.total_nm3, 83.6, 0.05),
        (c.yield_pct, 94.0, 0.05),
    ):
        assert found == pytest.approx(expected, abs=digits)


def test_reference_heat_scrap():
    """The other code, with rounded heats of solution and slag formation and stoichiometric FeO,
    found 22.9 % scrap, and 22.4 to 23.6 % over the data one may choose.
    """
    c = heat(end_temp_c=1650.0, **REFERENCE)
    by_tables = solve_by(WORKS, "feo_tables", end_temp_c=1650.0, **REFERENCE)
    assert 22.4 < by_tables.scrap_share_pct < 23.6
    come, go = c.heat_account()
    assert sum(go.values()) == pytest.approx(2131.0, rel=0.015)
    shares = {name: 100.0 * x / sum(go.values()) for name, x in go.items()}
    assert shares["steel"] == pytest.approx(79.9, abs=1.0) and shares["gas"] == pytest.approx(
        9.0, abs=0.5
    )
    assert shares["losses"] == pytest.approx(3.0, abs=0.1) and sum(come.values()) == pytest.approx(
        sum(go.values()), rel=1e-9
    )


@pytest.mark.parametrize(
    "change, per_step, within",
    [
        ({"hot_metal_pct": {**REFERENCE["hot_metal_pct"], "Si": 0.6}}, 19.0, 3.0),
        ({"hot_metal_pct": {**REFERENCE["hot_metal_pct"], "C": 4.6}}, 10.0, 1.5),
        ({"hot_metal_pct": {**REFERENCE["hot_metal_pct"], "Mn": 0.5}}, 6.0, 1.5),
        ({"hot_metal_pct": {**REFERENCE["hot_metal_pct"], "P": 0.11}}, 2.6, 0.5),
        ({"hot_metal_temp_c": 1360.0}, 7.8, 0.5),
        ({"scrap_kg": 307.1}, -12.5, 1.0),
        ({"end_pct": {**REFERENCE["end_pct"], "C": 0.10}}, -7.7, 1.0),
        ({"basicity": 4.0}, -6.3, 1.5),
    ],
)
def test_reference_heat_temperature_effects(change, per_step, within):
    """°C at constant scrap, by the other code; a silicon or phosphorus effect leans on its rounded
    slag heats, hence the wider band.
    """
    base = heat(**{"find": "temperature", "scrap_kg": 297.1, **REFERENCE})
    changed = heat(**{"find": "temperature", "scrap_kg": 297.1, **REFERENCE, **change})
    assert changed.temp_c - base.temp_c == pytest.approx(per_step, abs=within)


def test_how_far_other_data_move_the_scrap():
    """tests/tools/sensitivity.py: the second set of heats of solution, the other phosphate, silica
    unbound, other oxides: 21.4 to 22.6 % (to 23.3 while the heat of much dissolved carbon was
    recalled as 27 kJ/mol; it is 22.65), with 20 % on the heat of the slag 20.9 to 23.8 %, 1.1 %
    less than a separate code found that did not count what the slag takes to melt, and took FeO as
    stoichiometric.
    """
    spec = importlib.util.spec_from_file_location(
        "sensitivity", Path(__file__).parents[1] / "tools" / "sensitivity.py"
    )
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)
    shares = tool.shares()
    own = shares.pop("the kit's own")
    assert own == pytest.approx(heat(end_temp_c=1650.0, **REFERENCE).scrap_share_pct, rel=1e-12)
    slag_heat = {name: share for name, share in shares.items() if name.startswith("slag:")}
    others = {name: share for name, share in shares.items() if name not in slag_heat}
    assert (min(others.values()), max(others.values())) == pytest.approx((21.4, 22.6), abs=0.06)
    assert (min(slag_heat.values()), max(slag_heat.values())) == pytest.approx(
        (20.9, 23.8), abs=0.06
    )
    assert sum(share != own for share in shares.values()) == len(
        shares
    )  # every choice reaches the solver


# ---- by hand -------------------------------------------------------------------------------------


def test_masses_by_hand():
    """A heat of plain numbers: 1000 kg hot metal (C 4.5, Si 0.5, Mn 0.4, P 0.1), 300 kg pure iron
    as scrap, pure lime, dolomite of 60 % CaO and 40 % MgO, steel C 0.04, Mn 0.10, P 0.012; slag
    CaO/SiO2 3.5, MgO 8 %, FeO 20 %; a tenth of the carbon to CO2. Own atomic weights, solved by
    repeated substitution.
    """
    fe, c, si, mn, p, o, ca, mg = 55.845, 12.011, 28.085, 54.938, 30.974, 15.999, 40.078, 24.305
    silica = 5.0 * (si + 2 * o) / si
    steel = 1200.0
    for _ in range(60):
        mno = (4.0 - 0.0010 * steel) * (mn + o) / mn
        p2o5 = (1.0 - 0.00012 * steel) * (2 * p + 5 * o) / (2 * p)
        slag = (silica + 3.5 * silica + mno + p2o5) / (1.0 - 0.08 - 0.20)
        steel = (945.0 + 300.0 - 0.20 * slag * fe / (fe + o)) / (1.0 - 0.0004 - 0.0010 - 0.00012)
    dolomite = 0.08 * slag / 0.40
    lime = 3.5 * silica - 0.60 * dolomite
    carbon = 45.0 - 0.0004 * steel
    gas_o = carbon / c * (0.9 + 2 * 0.1) * o
    oxygen = (
        gas_o
        + silica * 2 * o / (si + 2 * o)
        + mno * o / (mn + o)
        + p2o5 * 5 * o / (2 * p + 5 * o)
        + 0.20 * slag * o / (fe + o)
    )
    assert lime * ca + mg > 0  # lime is left to be bought
    found = heat(
        find="temperature",
        hot_metal_pct={"C": 4.5, "Si": 0.5, "Mn": 0.4, "P": 0.1},
        scrap=Material("iron", {"Fe": 100.0}),
        scrap_kg=300.0,
        lime=PURE_LIME,
        dolomite=Material("dolomite", {"CaO": 60.0, "MgO": 40.0}, kind="dolomite"),
        end_pct={"C": 0.04, "Mn": 0.10, "P": 0.012},
        basicity=3.5,
        mgo_pct=8.0,
        feo_pct=20.0,
        co2_pct=10.0,
        **(BARE | {"dolomite_kg": None}),
    )
    for mine, theirs in (
        (found.steel.mass_kg, steel),
        (found.slag.mass_kg, slag),
        (found.lime.mass_kg, lime),
        (found.dolomite.mass_kg, dolomite),
        (found.oxygen.mass_kg, oxygen),
        (found.gas.mass_kg, carbon + gas_o),
    ):
        assert mine == pytest.approx(theirs, rel=2e-5)


def test_heat_by_hand():
    """The reference heat as a melter sums it, with our own rounded figures at 1650 °C (from
    Cantera's data by separate code): MJ/kg for oxidation of the dissolved element with cold oxygen,
    kJ/kg for heating. The hand sum lands within 1 % of the solver's scrap.
    """
    mj_per_kg = {
        "C to CO": 9.39,
        "C to CO2": 30.22,
        "Si": 26.67,
        "Mn": 5.95,
        "P to 3CaO.P2O5": 30.40,
        "Fe": 3.82,
    }
    carbon, slag_feo = 45.0 + 0.3 - 0.49, 0.20 * 83.3
    released = (
        carbon * (0.9 * mj_per_kg["C to CO"] + 0.1 * mj_per_kg["C to CO2"]) + 5.0 * mj_per_kg["Si"]
    )
    released += (
        (4.0 + 0.89 - 1.22) * mj_per_kg["Mn"]
        + (1.0 - 0.146) * mj_per_kg["P to 3CaO.P2O5"]
        + (slag_feo * 55.85 / 71.84 + 10.0) * mj_per_kg["Fe"]
    )
    silica = 10.70 + 0.02 * 31.7 + 0.01 * 17.5
    released += silica * 1.804  # 2CaO.SiO2 from liquid silica, MJ/kg SiO2
    released -= 83.3 * 0.25  # the slag melts and dissolves
    gas_nm3 = carbon / 12.011 * 22.414
    released += (
        gas_nm3 * (0.9 * (2405 - 2164) + 0.1 * (3868 - 3468)) / 1e3
        + 10.0 * 71.84 / 55.85 * 0.95 * 150 / 1e3
    )  # gas and dust leave at 1500 °C
    fluxes = (
        (0.95 * 31.7 + 0.58 * 17.5) * 1551
        + 0.38 * 17.5 * 2043
        + (0.02 * 31.7 + 0.01 * 17.5) * 2047
        + 0.03 * 49.2 * 1900
    ) / 1e3
    hot_metal = (
        (1307 - 1176) / 150.0 * 300.0
    )  # kJ/kg from 1350 to 1650 °C, at the slope between 1250 and 1400 °C
    losses = 0.03 * 2131.0
    scrap = (released - hot_metal - fluxes - losses) / 1.395
    assert heat(end_temp_c=1650.0, **REFERENCE).scrap.mass_kg == pytest.approx(scrap, rel=0.01)


def test_heat_contents_of_records():
    """kJ/kg of liquid iron at 1600, 1650, 1700 °C, hot metal at 1350 °C, CO, CO2, N2 per Nm3: own
    figures by separate code.

    READ, Britannica: melting scrap takes 340 kcal/kg = 1423 kJ/kg, 2 % above pure iron at 1650 °C:
    it is pure iron at 1683 °C.
    """
    for temp_c, kj in ((1600.0, 1354), (1650.0, 1395), (1700.0, 1436)):
        assert LiquidMetal(1.0, {}, temp_c).enthalpy_kj() == pytest.approx(kj, abs=0.6)
    britannica = 340.0 * 4.184
    assert britannica / LiquidMetal(1.0, {}, 1650.0).enthalpy_kj() == pytest.approx(1.02, abs=0.002)
    assert LiquidMetal(1.0, {}, 1683.0).enthalpy_kj() == pytest.approx(britannica, rel=0.001)
    assert convert(LiquidMetal(1.0, {}, 1650.0).enthalpy_kj(), "kJ/kg", "kWh/t") == pytest.approx(
        388, abs=0.5
    )
    for temp_c, kj in ((1250.0, 1176), (1300.0, 1220), (1350.0, 1263), (1400.0, 1307)):
        assert LiquidMetal(1.0, REFERENCE["hot_metal_pct"], temp_c).enthalpy_kj() == pytest.approx(
            kj, abs=1.0
        )
    for species, at_1500, at_1650 in (("CO", 2164, 2405), ("CO2", 3468, 3868), ("N2", 2140, 2379)):
        assert Gas({species: 1.0}, 1500.0).sensible_kj() == pytest.approx(at_1500, abs=1)
        assert Gas({species: 1.0}, 1650.0).sensible_kj() == pytest.approx(at_1650, abs=1)


def test_limestone_as_coolant_by_hand():
    """CaCO3 to CaO at 1650 °C and CO2 at 1500 °C: 3427 kJ/kg, own figure by separate code; 2.4 to
    2.5 times scrap.
    """
    stone = Material("pure limestone", {"CaCO3": 100.0}, kind="coolant")
    base = {
        **REFERENCE,
        "find": "temperature",
        "scrap_kg": 297.1,
        "lime_kg": 31.7,
        "coolant": stone,
    }
    by_scrap, by_stone = (
        heat(**{**base, **c}).temp_c - heat(**base).temp_c
        for c in ({"scrap_kg": 307.1}, {"coolant_kg": 10.0})
    )
    assert by_stone / by_scrap == pytest.approx(2.4, abs=0.15)


# ---- closure -------------------------------------------------------------------------------------

number = st.floats
HEATS = st.fixed_dictionaries(
    {
        "hot_metal_kg": number(1.0, 4e5),
        "hot_metal_pct": st.fixed_dictionaries(
            {
                "C": number(3.5, 5.0),
                "Si": number(0.05, 1.5),
                "Mn": number(0.0, 1.5),
                "P": number(0.03, 0.35),
                "S": number(0.0, 0.08),
            },
            optional={
                "Ti": number(0.0, 0.2),
                "V": number(0.0, 0.2),
                "Cr": number(0.0, 0.3),
                "N": number(0.0, 0.01),
                "Cu": number(0.0, 0.2),
            },
        ),
        "hot_metal_temp_c": number(1200.0, 1450.0),
        "end_temp_c": number(1560.0, 1720.0),
        "end_pct": st.fixed_dictionaries(
            {"C": number(0.02, 0.8), "P": number(0.0, 0.02)},
            optional={"O": number(0.0, 0.1), "N": number(0.0, 0.004)},
        ),
        "basicity": number(0.7, 5.0),
        "mgo_pct": number(3.0, 12.0),
        "feo_pct": number(3.0, 35.0),
        "fe2o3_pct": number(0.0, 12.0),
        "co2_pct": number(0.0, 50.0),
        "gas_temp_c": number(1300.0, 1750.0),
        "dust_fe_kg_t": number(0.0, 25.0),
        "ejected_kg_t": number(0.0, 30.0),
        "heat_mj_t": number(0.0, 150.0),
        "lining_mgo_kg_t": number(0.0, 4.0),
        "sulphur_to_slag_pct": number(0.0, 60.0),
        "oxygen_pct": st.sampled_from(
            [
                {"O2": 100.0},
                {"O2": 99.5, "Ar": 0.3, "N2": 0.2},
                {"O2": 80.0, "N2": 20.0},
                {"O2": 30.0, "N2": 70.0},
            ]
        ),
        "scrap": st.sampled_from(
            [
                "heavy_scrap",
                "shredded",
                {"bales": 1.0, "pig_iron": 2.0},
                scrap_of(0.1, Mn=0.5, TiN=0.01),
            ]
        ),
        "coolant": st.sampled_from(["ore", "mill_scale", "limestone", "raw_dolomite"]),
        "coolant_kg": number(0.0, 10.0),
        "fuel": st.sampled_from(["coke", "ferrosilicon"]),
        "fuel_kg": number(0.0, 5.0),
    }
)


def _closes(c):
    for name, left in c.closure().items():
        assert abs(left) < 1e-9, (name, left)
    come, go = c.heat_account()
    assert sum(go.values()) == pytest.approx(sum(come.values()), rel=1e-9)
    mass_in, mass_out = c.mass_account()
    assert sum(mass_out.values()) == pytest.approx(sum(mass_in.values()), rel=1e-12)


@settings(max_examples=150)
@given(HEATS)
def test_every_element_and_the_heat_close(aims):
    """Relative 1e-9 for any heat that is possible; preheated and cold, rich and poor slag, impure
    oxygen, oxygen and nitrogen in the steel.
    """
    scale = aims["hot_metal_kg"] / 1000.0
    aims = {**aims, "coolant_kg": aims["coolant_kg"] * scale, "fuel_kg": aims["fuel_kg"] * scale}
    try:
        c = heat(**aims)
    except InputError as error:
        assert str(error).split(":")[0] in {
            "scrap",
            "lime",
            "dolomite",
            "slag",
            "Mn",
            "P",
            "Si",
            "N",
            "end temperature",
            "carbon",
        }, error
        assume(False)
    _closes(c)
    assert c.feasible is True and c.temp_c == aims["end_temp_c"]
    assert c.slag.basicity() == pytest.approx(aims["basicity"], rel=1e-9)
    for oxide, aim in (("MgO", "mgo_pct"), ("FeO", "feo_pct"), ("Fe2O3", "fe2o3_pct")):
        assert c.slag.analysis_pct[oxide] == pytest.approx(aims[aim], rel=1e-9, abs=1e-9)
    for element, pct in aims["end_pct"].items():
        assert c.steel.analysis_pct[element] == pytest.approx(pct, rel=1e-9, abs=1e-12)


# Most heats drawn cannot be at the scrap drawn: 60 that can are asked for, the others passed over
@settings(max_examples=60, suppress_health_check=[HealthCheck.filter_too_much])
@given(HEATS, st.sampled_from(["coolant", "fuel", "temperature"]), number(150.0, 420.0))
def test_whatever_is_asked_for_closes(aims, find, scrap_kg):
    aims = {**aims, "find": find, "hot_metal_kg": 1000.0, "scrap_kg": scrap_kg}
    if find in ("coolant", "fuel"):
        aims.pop(f"{find}_kg")
    try:
        c = heat(**aims)
    except InputError:
        assume(False)
    _closes(c)
    assert c.find == find and c.scrap.mass_kg == scrap_kg


def test_coke_that_gives_no_heat_is_refused():
    """With little oxygen in the blast and hot gas, coke takes more heat than it gives: no amount of
    it serves, and none is invented.
    """
    poor = {
        "oxygen_pct": {"O2": 30.0, "N2": 70.0},
        "co2_pct": 7.0,
        "gas_temp_c": 1704.0,
        "basicity": 1.0,
        "feo_pct": 3.0,
        "fe2o3_pct": 0.0,
        "mgo_pct": 3.0,
    }
    aims = {
        "hot_metal_pct": {"C": 4.0, "Si": 1.0, "Mn": 0.0, "P": 0.25, "S": 0.0},
        "hot_metal_temp_c": 1200.0,
        "end_temp_c": 1560.0,
        "end_pct": {"C": 0.5},
    }
    given = {
        **poor,
        **aims,
        "find": "fuel",
        "scrap_kg": 150.0,
        "heat_mj_t": 0.0,
        "ejected_kg_t": 0.0,
        "dust_fe_kg_t": 0.0,
        "lining_mgo_kg_t": 0.0,
    }
    with pytest.raises(InputError, match="fuel: less than none"):
        heat(**given)
    _closes(heat(**{**given, "gas_temp_c": 1650.0}))


@pytest.mark.parametrize(
    "aims",
    [
        {"basicity": 0.8},  # lime too short to bind the silica
        {"basicity": 1.87},  # just enough
        {"basicity": 1.95},
        {"lime_kg": 20.0},
        {"lime_kg": 60.0, "dolomite_kg": 0.0},
        {
            "lime_kg": 0.0,
            "dolomite_kg": 25.0,
            "hot_metal_pct": {"C": 4.5, "Si": 0.2, "Mn": 0.3, "P": 0.05},
        },
        {
            "scrap": Material.of(
                "hot scrap", {"C": 0.1, "SiO2": 0.5, "Al2O3": 0.3}, rest="Fe", temp_c=650.0
            )
        },
        {
            "scrap": Material.of(
                "frozen scrap", {"C": 0.1, "Mn": 0.5, "H2O": 0.3}, rest="Fe", temp_c=-15.0
            )
        },
        {"scrap": [("bales", 1.0), (scrap_of(0.2), 3.0)]},
        {
            "scrap": Material.of(
                "carbide",
                {"SiC": 1.0, "TiC": 0.2, "Fe3C": 3.0, "FeS": 0.1, "MnS": 0.1, "CaS": 0.1},
                rest="Fe",
            )
        },
        {
            "oxygen_pct": {"O2": 21.0, "N2": 78.0, "Ar": 1.0},
            "find": "temperature",
            "scrap_kg": 0.0,
            "infeasible": "mark",
        },
        {"coolant": "ore", "coolant_kg": 40.0},
        {"coolant": "mill_scale", "coolant_kg": 40.0},
        {"coolant": "raw_dolomite", "coolant_kg": 30.0, "dolomite_kg": 0.0},
        {"fuel": "ferrosilicon", "fuel_kg": 8.0},
        {"end_pct": {"C": 0.03, "Cr": 0.015}},  # chromium given an aim, so it may burn
        {"end_pct": {"C": 0.03, "O": 0.08, "N": 0.003, "H": 0.0}},
        {
            "hot_metal_pct": {
                "C": 4.4,
                "Si": 0.3,
                "P": 0.08,
                "O": 0.001,
                "N": 0.008,
                "H": 0.0003,
                "Al": 0.01,
                "Mg": 0.02,
                "Ca": 0.001,
            }
        },
        {"mgo_pct": 0.9, "lining_mgo_kg_t": 0.0, "lime": PURE_LIME, "dolomite_kg": 0.0},
    ],
    ids=lambda aims: ", ".join(map(str, aims))[:40] + str(list(aims.values())[0])[:20],
)
def test_odd_heats_close(aims):
    c = heat(**aims)
    if c.feasible:
        _closes(c)
    if "lime_kg" in aims:
        assert c.lime.mass_kg == pytest.approx(aims["lime_kg"], rel=1e-12)
    elif "basicity" in aims:
        assert c.slag.basicity() == pytest.approx(aims["basicity"])
    if aims.get("basicity") == 0.8:
        assert c.slag.compounds_mol()["SiO2"] > 0 and "CaO" not in c.slag.compounds_mol()


def test_basicity_follows_given_lime():
    c = heat()
    given_lime = heat(lime_kg=c.lime.mass_kg, dolomite_kg=c.dolomite.mass_kg)
    assert given_lime.scrap.mass_kg == pytest.approx(
        c.scrap.mass_kg, rel=1e-9
    ) and given_lime.slag.basicity() == pytest.approx(3.4)
    assert heat(lime_kg=c.lime.mass_kg + 10.0).slag.basicity() > 4.0


@settings(max_examples=30)
@given(number(0.0, 40.0), number(1.2, 4.5), number(3.0, 10.0), number(5.0, 30.0))
def test_lumps_of_lime_close_and_the_aims_are_those_of_the_liquid(
    undissolved_pct, basicity, mgo_pct, feo_pct
):
    """By hand: CaO of the lime (its carbonate counted) times the share is in lumps; the liquid is
    the slag without them.
    """
    aims = {
        "undissolved_pct": undissolved_pct,
        "basicity": basicity,
        "mgo_pct": mgo_pct,
        "feo_pct": feo_pct,
    }
    try:
        c = heat(**aims)
    except InputError:
        assume(False)
    _closes(c)
    lime_cao = 0.9217 + 0.045 * 56.077 / 100.086
    assert c.undissolved_kg == pytest.approx(
        c.lime.mass_kg * lime_cao * undissolved_pct / 100.0, rel=1e-4, abs=1e-9
    )
    liquid = c.slag.mass_kg - c.undissolved_kg
    assert (c.slag.oxides_kg["CaO"] - c.undissolved_kg) / c.slag.oxides_kg["SiO2"] == pytest.approx(
        basicity, rel=1e-9
    )
    assert 100.0 * c.slag.oxides_kg["MgO"] / liquid == pytest.approx(mgo_pct, rel=1e-9)
    assert 100.0 * c.slag.oxides_kg["FeO"] / liquid == pytest.approx(feo_pct, rel=1e-9)
    assert c.scaled(2.0).undissolved_kg == pytest.approx(2.0 * c.undissolved_kg)


# ---- invariances ---------------------------------------------------------------------------------


def _numbers(c):
    """Everything a charge says about itself, flat."""
    out = {"temp": c.temp_c, "oxygen": c.oxygen_nm3, "gas": c.gas.total_nm3, "loss": c.heat_loss_kj}
    for name, record in {**c.inputs, **c.outputs}.items():
        out |= {f"{name} {e}": kg for e, kg in record.element_kg().items()}
        out[f"{name} kJ"] = record.enthalpy_kj()
    return out


@settings(max_examples=30)
@given(number(1e-3, 1e3))
def test_twice_the_charge_is_twice_everything(factor):
    one = heat(coolant_kg=5.0)
    many = heat(hot_metal_kg=1000.0 * factor, coolant_kg=5.0 * factor)
    for found, expected in (
        (_numbers(many), _numbers(one)),
        (_numbers(one.scaled(factor)), _numbers(one)),
    ):
        for key, x in expected.items():
            assert found[key] == pytest.approx(
                x if key == "temp" else x * factor, rel=1e-9, abs=1e-9 * factor
            ), key
    assert many.scrap_share_pct == pytest.approx(
        one.scrap_share_pct
    ) and many.yield_pct == pytest.approx(one.yield_pct)


def test_for_tap():
    c = heat().for_tap(180.0)
    assert c.steel.mass_kg == pytest.approx(180e3) and c.per_t("steel") == pytest.approx(1000.0)
    assert c.per_t("oxygen") == pytest.approx(heat().per_t("oxygen")) and c.blow_minutes(
        460.0
    ) == pytest.approx(c.oxygen_nm3 / 460.0)
    _closes(c)


@settings(max_examples=25)
@given(
    st.permutations(list(WORKS.hot_metal.analysis_pct.items())),
    st.permutations(list(WORKS.materials["ore"]["analysis_pct"].items())),
)
def test_order_of_the_elements_is_irrelevant(hot_metal, ore):
    c = heat(
        hot_metal_pct=dict(hot_metal),
        coolant=Material.of("ore", dict(ore), rest="Fe2O3", kind="coolant"),
        coolant_kg=20.0,
    )
    assert _numbers(c) == pytest.approx(_numbers(heat(coolant_kg=20.0)), rel=1e-9, abs=1e-9)


@settings(max_examples=40)
@given(number(1600.0, 1700.0), number(0.2, 1.0), number(0.0, 40.0), number(1300.0, 1420.0))
def test_scrap_and_temperature_are_each_other_s_answer(end_temp_c, si, co2_pct, hot_metal_temp_c):
    aims = {
        "hot_metal_pct": {**WORKS.hot_metal.analysis_pct, "Si": si},
        "co2_pct": co2_pct,
        "hot_metal_temp_c": hot_metal_temp_c,
    }
    c = heat(end_temp_c=end_temp_c, **aims)
    back = heat(find="temperature", scrap_kg=c.scrap.mass_kg, **aims)
    assert back.temp_c == pytest.approx(end_temp_c, abs=1e-6)
    ore = heat(find="coolant", scrap_kg=0.9 * c.scrap.mass_kg, end_temp_c=end_temp_c, **aims)
    again = heat(
        find="temperature", scrap_kg=0.9 * c.scrap.mass_kg, coolant_kg=ore.coolant.mass_kg, **aims
    )
    assert again.temp_c == pytest.approx(end_temp_c, abs=1e-6)
    coke = heat(find="fuel", scrap_kg=1.1 * c.scrap.mass_kg, end_temp_c=end_temp_c, **aims)
    assert coke.fuel.mass_kg > 0 and ore.coolant.mass_kg > 0


@pytest.mark.parametrize("find", charge.FIND)
def test_arrays_are_a_loop(find):
    rng = np.random.default_rng(3)
    aims = {
        "hot_metal_temp_c": rng.uniform(1320.0, 1380.0, 6),
        "basicity": np.array([0.9, 1.8, 2.5, 3.0, 3.5, 4.0]),
        "co2_pct": rng.uniform(5.0, 15.0, 6),
        "heat_mj_t": rng.uniform(40.0, 80.0, 6),
        "scrap_kg": None
        if find == "scrap"
        else rng.uniform(290.0, 310.0, 6) + {"fuel": 100.0, "coolant": -100.0}.get(find, 0.0),
    }
    many = heat(find=find, **aims)
    assert np.all(many.feasible)
    for k in range(6):
        one = heat(
            find=find, **{name: None if x is None else x[k].item() for name, x in aims.items()}
        )
        found = {name: np.broadcast_to(x, 6)[k].item() for name, x in _numbers(many).items()}
        assert found == pytest.approx(_numbers(one), rel=1e-9, abs=1e-7)
    for name, left in many.closure().items():
        assert np.abs(left).max() < 1e-9, name


def test_arrays_of_two_dimensions_and_lists():
    c = heat(
        hot_metal_temp_c=np.linspace(1320.0, 1380.0, 3)[:, None], co2_pct=[8.0, 10.0, 12.0, 14.0]
    )
    assert (
        c.scrap.mass_kg.shape == (3, 4)
        and c.scrap_share_pct.shape == (3, 4)
        and c.heat_account()[0]["hot metal"].shape in ((3, 1), (3, 4))
    )
    assert (np.diff(c.scrap.mass_kg, axis=0) > 0).all() and (
        np.diff(c.scrap.mass_kg, axis=1) > 0
    ).all()
    listed = heat(
        hot_metal_pct={"C": [4.4, 4.5], "Si": 0.4, "P": 0.08},
        find="temperature",
        scrap_kg=[300, 310],
    )
    assert listed.temp_c.shape == (2,)
    with pytest.raises(
        InputError,
        match=r"charge: arrays of shapes \(2,\), \(3,\) were given; they cannot be combined",
    ):
        heat(hot_metal_temp_c=[1320.0, 1340.0], co2_pct=[8.0, 10.0, 12.0])


# ---- practice ------------------------------------------------------------------------------------


def test_facts_of_the_trade():
    """Common practice, no source: near 50 Nm3 of oxygen per t, 20 to 30 % scrap, CaO/SiO2 above 3,
    about 20 minutes' blow, 1650 to 1700 °C, 20 to 60 kg of lime and 10 to 30 kg of burnt dolomite
    per t, 60 to 130 kg of slag, yield 90 to 94 %, losses 2 to 5 % of the heat.
    """
    c = heat().for_tap(WORKS.vessel.tap_t)
    assert (
        45.0 < c.per_t("oxygen") < 55.0
        and 20.0 < c.scrap_share_pct < 30.0
        and c.slag.basicity() > 3.0
    )
    assert 15.0 < c.blow_minutes(WORKS.oxygen.flow_nm3_min) < 22.0 and 1650.0 <= c.temp_c <= 1700.0
    assert (
        20.0 < c.per_t("lime") < 60.0
        and 10.0 < c.per_t("dolomite") < 30.0
        and 60.0 < c.per_t("slag") < 130.0
        and 90.0 < c.yield_pct < 94.0
    )
    come, go = c.heat_account()
    assert 0.02 < go["losses"] / sum(go.values()) < 0.05
    physical = come["hot metal"] / sum(come.values())
    assert (
        0.50 < physical < 0.66
    )  # a third-hand 65 % (key of no text we could read) and recalled 52 to 55 %: sources disagree


@pytest.mark.parametrize("works", plant.WORKS)
def test_every_works_that_ships_has_an_ordinary_heat(works):
    """Common practice, no source; the works are invented."""
    profile = plant.load_profile(data_path(f"{works}.toml"))
    c = solve(profile).for_tap(profile.vessel.tap_t)
    _closes(c)
    least_scrap = 20.0
    if works == "dunlin":  # colder hot metal and more heat lost: with Heron's of both as at Heron
        usual = solve(profile, hot_metal_temp_c=1340.0, heat_mj_t=60.0).scrap_share_pct
        assert usual == pytest.approx(solve().scrap_share_pct, abs=0.5) and usual > 20.0
        least_scrap = 18.0  # eight shops charge 7 to 20 %, shop_ranges.csv
    assert (
        45.0 < c.per_t("oxygen") < 55.0
        and least_scrap < c.scrap_share_pct < 30.0
        and c.slag.basicity() > 3.0
        and 1640.0 <= c.temp_c <= 1700.0
    )
    assert 14.0 < c.blow_minutes(profile.oxygen.flow_nm3_min) < 22.0
    assert (
        abs(c.scrap_share_pct - (100.0 - profile.hot_metal.share_pct)) < 4.0
    )  # the works' own usual charge


def test_directions_every_melter_knows():
    """Common practice: hotter, richer hot metal melts more scrap; more lime, more loss, a hotter
    steel melts less; ore cools more than scrap.
    """
    base = heat().scrap.mass_kg
    pct = WORKS.hot_metal.analysis_pct
    for more in (
        {"hot_metal_temp_c": 1380.0},
        {"hot_metal_pct": {**pct, "Si": 0.7}},
        {"hot_metal_pct": {**pct, "C": 4.7}},
        {"co2_pct": 20.0},
        {"fuel_kg": 5.0},
        {"feo_pct": 25.0},
        {"scrap": dataclasses.replace(material("heavy_scrap", WORKS), temp_c=400.0)},
    ):
        assert heat(**more).scrap.mass_kg > base, more
    for less in (
        {"basicity": 4.0},
        {"heat_mj_t": 90.0},
        {"end_temp_c": 1690.0},
        {"coolant_kg": 10.0},
        {"gas_temp_c": 1600.0},
        {"mgo_pct": 10.0},
    ):
        assert heat(**less).scrap.mass_kg < base, less


def test_cooling_equivalents_keep_their_order():
    """Firm order of the trade (ratios vary from works to works): ore far above limestone and raw
    dolomite, these above lime, lime above scrap.
    """
    base = {"find": "temperature", "scrap_kg": 305.0, "lime_kg": 30.0, "dolomite_kg": 15.0}
    here = heat(**base)

    def temp_c(**change):
        """End temperature with the iron oxides of the slag held in kg (in % of the slag, more flux
        would burn more iron).
        """
        c = here
        for _ in range(8):
            share = {
                f"{o.lower()}_pct": 100.0 * here.slag.oxides_kg[o] / c.slag.mass_kg
                for o in ("FeO", "Fe2O3")
            }
            c = heat(**{**base, **change, **share})
        assert c.slag.oxides_kg["FeO"] == pytest.approx(here.slag.oxides_kg["FeO"], rel=1e-4)
        return c.temp_c

    cools = {
        name: (here.temp_c - temp_c(coolant=name, coolant_kg=10.0)) / 10.0
        for name in ("ore", "mill_scale", "limestone", "raw_dolomite")
    }
    cools["lime"] = (here.temp_c - temp_c(lime_kg=40.0)) / 10.0
    cools["scrap"] = (here.temp_c - temp_c(scrap_kg=315.0)) / 10.0
    ratio = {name: c / cools["scrap"] for name, c in cools.items()}
    assert (
        ratio["ore"] > ratio["mill_scale"] > ratio["limestone"] > ratio["lime"] > 1.0
        and ratio["raw_dolomite"] > ratio["lime"]
    )
    assert (
        3.0 < ratio["ore"] < 4.6 and 2.0 < ratio["limestone"] < 3.0 and 1.0 < cools["scrap"] < 1.6
    )
    assert ratio["ore"] == pytest.approx(4.1, abs=0.4) and ratio["lime"] == pytest.approx(
        1.4, abs=0.1
    )  # by separate code for another ore: 4.1, 2.4, 1.2 where solution of the lime takes no heat


def test_fuels_heat():
    """Common practice: coke and ferrosilicon heat; a kg of ferrosilicon with the lime for its
    silica beats a kg of coke that burns to CO for the most part.
    """
    base = {"find": "temperature", "scrap_kg": 305.0}
    here = heat(**base).temp_c
    coke, silicon = (
        heat(**base, fuel=f, fuel_kg=1.0).temp_c - here for f in ("coke", "ferrosilicon")
    )
    assert 3.0 < coke < silicon < 20.0
    assert heat(fuel_kg=5.0).scrap.mass_kg > heat(fuel_kg=2.0).scrap.mass_kg > heat().scrap.mass_kg


def test_fuel_that_does_not_burn_keeps_its_carbon():
    """A fifth of the fuel is lost: its carbon leaves as carbon, that of its carbonate as CO2 all
    the same. By hand: 10 kg with 90 % C leave 1.8 kg.
    """
    fuel = Material("charcoal with chalk", {"C": 90.0, "CaCO3": 10.0}, kind="fuel")
    c = heat(fuel=fuel, fuel_kg=10.0, fuel_use_pct=80.0)
    assert c.outputs["unburnt"].element_kg()["C"] == pytest.approx(1.8, rel=1e-12)
    assert max(abs(x) for x in c.closure().values()) < 1e-9


def test_oxygen_of_ore_spares_oxygen_blown():
    base = {"find": "temperature", "scrap_kg": 260.0}
    with_ore, without = heat(**base, coolant_kg=20.0), heat(**base)
    iron = material("ore", WORKS).per_kg["O"] * 20.0
    assert (
        0.7 * iron < without.oxygen.element_kg()["O"] - with_ore.oxygen.element_kg()["O"] < iron
    )  # the rest goes into more slag
    assert with_ore.steel.mass_kg > without.steel.mass_kg


def test_what_stays_and_what_leaves():
    """Common practice: copper and nickel stay in the steel, silicon and titanium leave, a part of
    the sulphur goes to the slag as set.
    """
    pct = {
        "C": 4.5,
        "Si": 0.4,
        "Mn": 0.4,
        "P": 0.08,
        "S": 0.02,
        "Ti": 0.1,
        "V": 0.05,
        "Cu": 0.02,
        "Ni": 0.03,
    }
    c = heat(hot_metal_pct=pct, scrap=scrap_of(0.1, Cu=0.3))
    metal = c.steel.mass_kg + c.ejected.mass_kg
    assert metal * c.steel.analysis_pct["Cu"] == pytest.approx(
        1000.0 * 0.02 + 0.3 * c.scrap.mass_kg
    )
    assert (
        metal * c.steel.analysis_pct["Ni"] == pytest.approx(30.0)
        and c.steel.analysis_pct.get("Ti", 0.0) == 0.0
    )
    assert c.slag.element_kg()["Ti"] == pytest.approx(1.0) and c.slag.element_kg()[
        "V"
    ] == pytest.approx(0.5)
    sulphur = 0.2 + 0.0003 * c.lime.mass_kg
    assert c.slag.element_kg()["S"] == pytest.approx(0.2 * sulphur, rel=1e-9)


def test_gas_of_carbonates_is_unburnt():
    """CO2 of limestone leaves as CO2 whatever the share of the burnt carbon: by hand 44.009 /
    100.086 of it.
    """
    stone = Material("stone", {"CaCO3": 100.0}, kind="coolant")
    lime = {"lime": PURE_LIME, "lime_kg": 30.0, "dolomite_kg": 0.0, "scrap": scrap_of(0.0)}
    c = heat(
        find="temperature", scrap_kg=150.0, coolant=stone, coolant_kg=50.0, co2_pct=0.0, **lime
    )
    assert c.gas.species_kg()["CO2"] == pytest.approx(50.0 * 44.009 / 100.086, rel=1e-4)
    assert c.gas.pcr() > 0.1


def test_fuel_that_cools_is_refused():
    """Blown with 30 % oxygen, the nitrogen carries off more than the coke gives: no amount of it
    closes the heat.
    """
    weak = {
        "oxygen_pct": {"O2": 30.0, "N2": 70.0},
        "co2_pct": 0.0,
        "basicity": 4.0,
        "mgo_pct": 11.0,
        "gas_temp_c": 1700.0,
    }
    with pytest.raises(
        InputError, match="fuel: less than none would be needed|scrap: less than none"
    ):
        heat(find="fuel", scrap_kg=300.0, **weak)


# ---- the heat account ----------------------------------------------------------------------------


def test_heat_account_says_the_same_as_the_records():
    """The account counts reactions at 298.15 K and sensible heats; the records count absolute
    enthalpies: two ways to one balance.
    """
    c = heat(coolant_kg=15.0, fuel_kg=3.0)
    come, go = c.heat_account()
    absolute = (
        sum(r.enthalpy_kj() for r in c.inputs.values())
        - sum(r.enthalpy_kj() for r in c.outputs.values())
        - c.heat_loss_kj
    )
    assert sum(come.values()) - sum(go.values()) == pytest.approx(absolute / 1e3, abs=1e-6)
    assert come["hot metal"] == pytest.approx(c.hot_metal.enthalpy_kj() / 1e3) and go[
        "losses"
    ] == pytest.approx(c.heat_loss_kj / 1e3)
    assert go["steel"] == pytest.approx((c.steel.enthalpy_kj() + c.ejected.enthalpy_kj()) / 1e3)


def test_heat_account_items_by_hand():
    """Heats at 298.15 K (CRC): C to CO 110.5, C to CO2 393.5, Si 910.7, Mn 385.2 kJ/mol, times what
    burns.
    """
    c = heat(lime=PURE_LIME, scrap=scrap_of(0.1, Mn=0.5))
    come, go = c.heat_account()
    carbon = 45.0 + 0.001 * c.scrap.mass_kg - 0.0004 * (c.steel.mass_kg + c.ejected.mass_kg)
    dolomite_co2 = c.dolomite.mass_kg * 0.03 / 100.086
    assert come["C to CO"] == pytest.approx(0.88 * carbon / 12.011 * 110.5, rel=1e-3)
    assert come["C to CO2"] == pytest.approx(0.12 * carbon / 12.011 * 393.5, rel=1e-3)
    assert come["Si to SiO2"] == pytest.approx(4.5 / 28.085 * 910.7, rel=1e-3)
    manganese = 3.5 + 0.005 * c.scrap.mass_kg - 0.0012 * (c.steel.mass_kg + c.ejected.mass_kg)
    assert come["Mn to MnO"] == pytest.approx(manganese / 54.938 * 385.2, rel=1e-3)
    assert go["carbonates broken up"] == pytest.approx(dolomite_co2 * 178.3, rel=2e-3)
    assert abs(go["other reactions"]) < 0.001 * sum(go.values())


def test_ore_takes_the_heat_of_its_oxides():
    """Heats of forming at 298.15 K (CRC): Fe2O3 -824.2, FeO -272.0 kJ/mol. What is left to other
    reactions stays small.
    """
    c = heat(coolant_kg=25.0)
    come, go = c.heat_account()
    solids = (c.scrap, c.lime, c.dolomite, c.coolant)
    kg = {
        oxide: sum(s.mass_kg * s.analysis_pct.get(oxide, 0.0) / 100.0 for s in solids)
        for oxide in ("Fe2O3", "FeO")
    }
    by_hand = kg["Fe2O3"] / 159.687 * 824.2 + kg["FeO"] / 71.844 * 272.0
    assert go["iron oxides broken up"] == pytest.approx(by_hand, rel=3e-3)
    assert abs(go["other reactions"]) < 0.001 * sum(go.values())


def test_heat_account_of_many_heats():
    c = heat(hot_metal_temp_c=np.linspace(1300.0, 1400.0, 5))
    come, go = c.heat_account()
    np.testing.assert_allclose(sum(come.values()), sum(go.values()), rtol=1e-9)


# ---- refusals ------------------------------------------------------------------------------------

IMPOSSIBLE = [
    (
        {
            "hot_metal_temp_c": 1150.0,
            "hot_metal_pct": {"C": 2.0, "Si": 0.1, "P": 0.05},
            "end_temp_c": 1700.0,
            "heat_mj_t": 200.0,
        },
        "scrap: less than none",
    ),
    (
        {"find": "coolant", "scrap_kg": 400.0},
        "coolant: less than none would be needed; there is no heat to spare at this scrap",
    ),
    (
        {"find": "fuel", "scrap_kg": 100.0},
        "fuel: less than none would be needed; the heat has enough",
    ),
    (
        {"find": "temperature", "scrap_kg": 510.0},
        "end temperature: the heat does not reach 1500 °C, the steel would freeze; use less scrap",
    ),
    (
        {"find": "temperature", "scrap_kg": 437.0},
        "end temperature: the steel would be frozen, for it begins to freeze at 153",
    ),
    (
        {"find": "temperature", "scrap_kg": 50.0},
        "end temperature: it would pass 1726 °C; use more scrap or coolant",
    ),
    (
        {"end_temp_c": 1525.0},
        "end temperature: the steel would be frozen, for it begins to freeze at 153",
    ),
    (
        {"basicity": 0.6, "coolant": "limestone", "coolant_kg": 100.0},
        "lime: less than none would be needed; the other materials bring more CaO",
    ),
    (
        {"mgo_pct": 1.0, "lining_mgo_kg_t": 3.0},
        "dolomite: less than none would be needed; lime and lining already bring more MgO",
    ),
    (
        {"feo_pct": 60.0, "fe2o3_pct": 30.0, "mgo_pct": 12.0},
        "slag: it can't hold this much flux and iron oxide at once",
    ),
    (
        {"lime_kg": 0.0, "dolomite_kg": 0.0},
        "slag: there is less lime than the phosphorus takes as 3CaO.P2O5",
    ),
    (
        {"end_pct": {"C": 0.04, "Mn": 2.0}},
        "Mn: the charge brings less than the aim of 2 % in the steel",
    ),
    (
        {"end_pct": {"C": 0.04, "P": 0.5}},
        "P: the charge brings less than the aim of 0.5 % in the steel",
    ),
    (
        {"end_pct": {"C": 0.04, "Al": 4.0}, "find": "temperature", "scrap_kg": 300.0},
        "Al: the charge brings less than the aim of 4 % in the steel",
    ),
    (
        {"end_pct": {"C": 0.04, "H": 0.001}},
        "H: the charge brings less than the aim of 0.001 % in the steel",
    ),
    (
        {
            "hot_metal_pct": {"C": 0.3, "Si": 1.4, "P": 0.05},
            "end_pct": {"C": 1.0},
            "scrap": "bales",
            "end_temp_c": 1560.0,
        },
        "carbon: the charge brings less",
    ),
]


@pytest.mark.parametrize("aims, words", IMPOSSIBLE, ids=[words[:45] for _, words in IMPOSSIBLE])
def test_an_impossible_heat_is_refused_with_the_reason(aims, words):
    with pytest.raises(InputError) as error:
        heat(**aims)
    assert words in str(error.value) and len(str(error.value)) < 250


@pytest.mark.parametrize("aims, words", IMPOSSIBLE, ids=[words[:45] for _, words in IMPOSSIBLE])
def test_an_impossible_heat_can_be_marked_instead(aims, words):
    """Never a crash and never a NaN, also among heats that can be."""
    assert heat(**aims, infeasible="mark").feasible is False
    many = heat(**aims, infeasible="mark", gas_temp_c=np.array([1500.0, 1510.0]))
    assert many.feasible.tolist() == [False, False]
    for name, x in _numbers(many).items():
        assert np.isfinite(x).all(), name


def test_mark_tells_which_heats_can_be():
    scrap = np.array([50.0, 280.0, 320.0, 460.0, 510.0])
    c = heat(find="temperature", scrap_kg=scrap, infeasible="mark")
    assert c.feasible.tolist() == [False, True, True, False, False]
    for k in (1, 2):
        assert c.temp_c[k] == pytest.approx(
            heat(find="temperature", scrap_kg=scrap[k].item()).temp_c
        )
    with pytest.raises(
        InputError,
        match=r"it would pass 1726 °C; use more scrap or coolant \(1 of 5 heats, the first at "
        r"index 0\)\.|does not reach 1500 °C",
    ):
        heat(find="temperature", scrap_kg=scrap)


def test_many_random_heats_stay_finite():
    """4000 heats drawn far beyond what can be: those that can close, the others are marked, none is
    NaN.
    """
    rng, n = np.random.default_rng(7), 4000
    pct = {
        e: rng.uniform(0.0, top, n)
        for e, top in {
            "C": 5.0,
            "Si": 1.5,
            "Mn": 1.5,
            "P": 0.4,
            "S": 0.1,
            "N": 0.01,
            "Ti": 0.1,
            "Cr": 0.1,
        }.items()
    }
    for find in charge.FIND:
        aims = {"scrap_kg": None if find == "scrap" else rng.uniform(0.0, 500.0, n)}
        c = heat(
            find=find,
            hot_metal_pct=pct,
            hot_metal_temp_c=rng.uniform(1200.0, 1450.0, n),
            end_temp_c=rng.uniform(1500.0, 1726.0, n),
            basicity=rng.uniform(0.5, 6.0, n),
            mgo_pct=rng.uniform(0.0, 20.0, n),
            feo_pct=rng.uniform(0.0, 60.0, n),
            fe2o3_pct=rng.uniform(0.0, 40.0, n),
            end_pct={
                "C": rng.uniform(0.02, 1.0, n),
                "Mn": rng.uniform(0.0, 0.3, n),
                "O": rng.uniform(0.0, 0.1, n),
            },
            infeasible="mark",
            **aims,
        )
        assert 0.02 < c.feasible.mean() < 0.8
        for name, left in c.closure().items():
            assert (
                np.isfinite(left).all()
                and np.abs(np.broadcast_to(left, n)[c.feasible]).max() < 1e-9
            ), (find, name)


BAD = [
    ({"lime": "bales", "dolomite": "bales"}, "charge: the aims contradict each other"),
    (
        {
            "hot_metal_pct": {"Si": 0.4},
            "end_pct": {"C": 0.04},
            "find": "temperature",
            "scrap": scrap_of(0.0),
            "scrap_kg": 9.0,
        },
        "carbon: the charge brings less",
    ),
    ({"find": "steel"}, "find: 'steel' was given; allowed are scrap, coolant, fuel, temperature"),
    ({"infeasible": "ignore"}, "infeasible: 'ignore' was given; allowed are refuse, mark"),
    (
        {"find": "temperature"},
        "scrap: its mass is needed when temperature is asked for; give scrap_kg",
    ),
    (
        {"scrap_kg": 300.0},
        "scrap: 300.0 kg was given, but scrap is what is asked for; leave scrap_kg out",
    ),
    (
        {"find": "coolant", "scrap_kg": 200.0, "coolant_kg": 5.0},
        "coolant: 5.0 kg was given, but coolant is what is asked for",
    ),
    ({"find": "fuel", "scrap_kg": 300.0, "fuel_kg": [1.0, 2.0]}, "but fuel is what is asked for"),
    ({"hot_metal_kg": -1.0}, "hot metal: -1 kg was given; allowed is more than zero"),
    ({"hot_metal_kg": 0.0}, "hot metal: 0 kg was given"),
    ({"hot_metal_kg": np.nan}, "hot metal: nan was given"),
    ({"hot_metal_kg": "150 t"}, "hot metal: '150 t' was given; a number in kg is needed"),
    (
        {"hot_metal_pct": {"C": 60.0, "Si": 60.0}},
        "analysis of liquid metal: the elements add up to 120 %",
    ),
    ({"hot_metal_pct": {"Xx": 1.0}}, "'Xx'"),
    ({"hot_metal_pct": {"C": -4.5}}, "C in hot metal: -4.5 % was given"),
    ({"hot_metal_pct": {"C": np.nan}}, "C in hot metal: nan was given"),
    ({"hot_metal_pct": {"C": "4,5"}}, "C in hot metal: '4,5' was given"),
    ({"hot_metal_pct": [4.5, 0.4]}, "hot metal: [4.5, 0.4] was given; shares by symbol"),
    ({"hot_metal_temp_c": 1623.0}, "Was kelvin given? Degrees Celsius are needed."),
    ({"hot_metal_temp_c": "warm"}, "temperature of hot metal: 'warm' was given"),
    (
        {"end_temp_c": 1923.0},
        "end temperature: 1923 °C was given; allowed is 1500 to 1726 °C. Was kelvin given?",
    ),
    ({"end_temp_c": 1400.0}, "end temperature: 1400 °C was given; allowed is 1500 to 1726 °C"),
    ({"end_temp_c": [1650.0, np.nan]}, "end temperature: nan was given"),
    ({"gas_temp_c": 2000.0}, "gas temperature: 2000 °C was given; allowed is 1230 to 1900 °C"),
    ({"end_pct": {"C": 6.0}}, "C at the end of the blow: 6 % was given; allowed is 0 to 5 %"),
    ({"end_pct": {"C": 0.04, "S": 0.01}}, "S at the end of the blow: it is no aim"),
    ({"end_pct": {"C": 0.04, "Ni": 0.01}}, "'Ni' was given; allowed are"),
    ({"end_pct": 0.04}, "steel: 0.04 was given; shares by symbol"),
    ({"basicity": 10.0}, "basicity aim: 10 was given; allowed is 0.5 to 6"),
    ({"basicity": "3,4"}, "basicity aim: '3,4' was given"),
    ({"mgo_pct": -1.0}, "MgO aim: -1 % was given; allowed is 0 to 20 %"),
    ({"feo_pct": 90.0}, "FeO in slag: 90 % was given; allowed is 0 to 60 %"),
    ({"fe2o3_pct": 50.0}, "Fe2O3 in slag: 50 % was given"),
    ({"co2_pct": 120.0}, "CO2 share: 120 % was given; allowed is 0 to 100 %"),
    ({"dust_fe_kg_t": 100.0}, "iron to dust: 100 kg/t was given; allowed is 0 to 60 kg/t"),
    ({"ejected_kg_t": -1.0}, "metal ejected: -1 kg/t was given"),
    ({"heat_mj_t": 600.0}, "heat loss: 600 MJ/t was given; allowed is 0 to 500 MJ/t"),
    ({"lining_mgo_kg_t": 50.0}, "magnesia from the lining: 50 kg/t was given"),
    ({"sulphur_to_slag_pct": 101.0}, "sulphur to slag: 101 % was given"),
    (
        {"oxygen_pct": {"O2": 99.0}},
        "oxygen: {'O2': 99.0} was given; shares of O2 (20 % or more), N2 and Ar that add up to 100 "
        "% are needed",
    ),
    ({"oxygen_pct": {"O2": 95.0, "CO2": 5.0}}, "shares of O2 (20 % or more), N2 and Ar"),
    ({"oxygen_pct": {"O2": 0.995, "N2": 0.005}}, "add up to 100 % are needed"),
    ({"oxygen_pct": {"N2": 100.0}}, "O2 (20 % or more)"),
    ({"oxygen_pct": 99.5}, "oxygen: 99.5 was given"),
    (
        {"scrap": "bale"},
        "material: 'bale' is not in the profile of Heron Works; it has heavy_scrap",
    ),
    (
        {"scrap": 5},
        "scrap: 5 was given; a key of the works profile, a Material, or shares of them are needed",
    ),
    ({"scrap": {"bales": -1.0}}, "share of new bales: -1 was given"),
    ({"scrap": {}}, "scrap: the shares add up to nothing"),
    ({"lime": None}, "lime: None was given"),
    ({"lime_kg": -5.0}, "lime: -5 kg was given"),
    ({"dolomite_kg": "ten"}, "dolomite: 'ten' was given"),
    ({"coolant_kg": -5.0}, "coolant: -5 kg was given"),
    ({"fuel_kg": np.inf}, "fuel: inf was given"),
    ({"find": "temperature", "scrap_kg": -1.0}, "scrap: -1 kg was given"),
    ({"scrap": Material.of("fluoride", {"CaF2": 1.0}, rest="Fe")}, "'F' was given; allowed are"),
]


@pytest.mark.parametrize("arguments, words", BAD, ids=[words[:40] for _, words in BAD])
def test_bad_input_is_refused_in_one_sentence(arguments, words):
    with pytest.raises(InputError) as error:
        heat(**arguments)
    assert words in str(error.value) and len(str(error.value)) < 400


def test_a_works_is_a_profile():
    for works in ("works.toml", {"slag": {}}, 5):
        with pytest.raises(InputError, match="works: .* was given; a profile is needed"):
            solve(works)


def test_a_charge_of_the_purest_materials():
    """No silica, no phosphorus, no carbonate anywhere: a heat all the same, without slag or with
    the magnesia of the lining and iron oxide alone.
    """
    pure = {
        "hot_metal_pct": {"C": 4.5},
        "scrap": Material("iron", {"Fe": 100.0}),
        "lime": PURE_LIME,
        "dolomite": Material("magnesia", {"MgO": 100.0}, kind="dolomite"),
        "coolant": Material("haematite", {"Fe2O3": 100.0}, kind="coolant"),
        "fuel": Material("graphite", {"C": 100.0}, kind="fuel"),
        "end_pct": {"C": 0.04},
    }
    for c in (heat(lining_mgo_kg_t=0.0, **pure), heat(dolomite_kg=0.0, **pure)):
        _closes(c)
        assert c.lime.mass_kg == pytest.approx(0.0, abs=1e-9) and c.slag.oxides_kg["SiO2"] == 0.0
    assert c.slag.oxides_kg["MgO"] == pytest.approx(0.0006 * c.steel.mass_kg)


def test_misuse_of_a_solved_charge():
    c = heat()
    with pytest.raises(InputError, match="charge: 'lyme' was asked for; it has hot metal, scrap"):
        c.per_t("lyme")
    with pytest.raises(InputError, match="factor: 0 was given"):
        c.scaled(0.0)
    with pytest.raises(InputError, match="steel tapped: -180 t was given"):
        c.for_tap(-180.0)
    with pytest.raises(InputError, match="oxygen flow: 0 Nm3/min was given"):
        c.blow_minutes(0.0)
    with pytest.raises(AttributeError, match="has no lyme; near it: lime"):
        c.lyme


def test_names_of_the_parts():
    c = heat()
    assert (
        c.hot_metal is c.inputs["hot metal"]
        and c.slag is c.outputs["slag"]
        and isinstance(c.slag, Slag)
    )
    assert set(c.inputs) == {
        "hot metal",
        "scrap",
        "coolant",
        "fuel",
        "lime",
        "dolomite",
        "oxygen",
        "lining",
    }
    assert set(c.outputs) == {"steel", "ejected", "slag", "gas", "dust"}
    assert c.per_t("dust") == pytest.approx(9.0 * 71.844 / 55.845, rel=1e-5) and c.per_t(
        "lining"
    ) == pytest.approx(0.6)


def test_the_head_of_the_module_tells_todays_figures():
    """Kit's own, the ends of all other data taken one at a time, 20 % on the slag's heat contents,
    and what the works' own assumptions do; to the last digit written (today 22.3, 21.4 to 22.6 %).
    """
    from steelthermo.charge import charge as module
    from tests.tools import sensitivity  # it takes the reference heat from here

    said = re.sub(r"\s+", " ", module.__doc__)
    own, low, high, slag, least, most = map(
        float,
        re.search(
            r"heat from ([\d.]+) to between ([\d.]+) and ([\d.]+) % of the charge, and 20 % on all "
            r"heat contents of the slag by ([\d.]+) % more; .* move it by ([\d.]+) to ([\d.]+) %",
            said,
        ).groups(),
    )
    found = sensitivity.shares()
    ours = found.pop("the kit's own")
    slags = {name: share for name, share in found.items() if name.startswith("slag: all")}
    others = [share for name, share in found.items() if name not in slags]
    assumed = [abs(sensitivity.scrap_share(**c) - ours) for c in sensitivity.ASSUMED.values()]
    for written, value in (
        (own, ours),
        (low, min(others)),
        (high, max(others)),
        (slag, max(abs(s - ours) for s in slags.values())),
        (least, min(assumed)),
        (most, max(assumed)),
    ):
        assert value == pytest.approx(written, abs=0.051)
