"""Pretreatment of hot metal against published figures, stoichiometry, and the closure of every
element and of heat.

Figures marked 'own earlier calculation' were worked out by hand from the same kind of data; they
guard the arithmetic and are no published values.
"""

import janaf
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelthermo import hot_metal as pretreatment
from steelthermo.base import (
    STATUSES,
    InputError,
    bibliography,
    mass_fractions,
    rows,
    sources,
)
from steelthermo.charge import charge, oxygen, oxygen_in_oxide_nm3_kg
from steelthermo.hot_metal import desulphurisation
from steelthermo.streams import Condensed, Gas, LiquidMetal, Solid, material
from steelthermo.streams import solid as materials
from steelthermo.trust import safety
from steelthermo.works import parameter_names as names
from steelthermo.works import plant_value
from steelthermo.works import works_facts as facts


def hot_metal(s=0.03, si=0.45, c=4.5, p=0.085, temp_c=1350.0, kg=1000.0, **more):
    return LiquidMetal(kg, {"C": c, "Si": si, "Mn": 0.35, "P": p, "S": s} | more, temp_c)


def worst(stage):
    return max(np.max(np.abs(v)) for v in stage.closure().values())


# ---- stoichiometry -------------------------------------------------------------------------------


def test_sulphur_bound_by_reagents():
    """1.32 kg S per kg Mg (alloy.wiki); about 0.5 kg S per kg CaC2 (steelrefiningmaterials.com);
    the others by atomic weights.
    """
    assert 1 / pretreatment.kg_per_kg_sulphur("Mg") == pytest.approx(1.32, abs=0.005)
    assert 1 / pretreatment.kg_per_kg_sulphur("CaC2") == pytest.approx(0.5, abs=0.005)
    for substance, kg in (("Mg", 0.758), ("CaO", 1.749), ("CaC2", 1.999), ("Na2CO3", 3.306)):
        assert pretreatment.kg_per_kg_sulphur(substance) == pytest.approx(kg, abs=6e-4)


@pytest.mark.parametrize(
    "s, aim, stoichiometric, at_60",
    [
        (0.030, 0.010, 0.152, 0.25),
        (0.030, 0.005, 0.190, 0.32),
        (0.045, 0.002, 0.326, 0.54),
        (0.060, 0.001, 0.447, 0.75),
    ],
)
def test_magnesium_dose_table(s, aim, stoichiometric, at_60):
    """Own earlier calculation without dissolved magnesium: here its share is taken off by a very
    large product of activity coefficients.
    """
    assert pretreatment.magnesium_dose_kg_t(s, aim, 1350.0, 100.0, f_product=1e9) == pytest.approx(
        stoichiometric, abs=6e-4
    )
    assert pretreatment.magnesium_dose_kg_t(s, aim, 1350.0, 60.0, f_product=1e9) == pytest.approx(
        at_60, abs=6e-3
    )


def test_oxygen_equivalents():
    """Stoichiometry with 22.414 Nm3/kmol; against oxygen.nm3_per_kg, which was written on its
    own.
    """
    got = pretreatment.oxygen_equivalent_nm3_t({"Si": 0.1, "P": 0.01, "C": 0.1, "Mn": 0.1})
    assert got == pytest.approx({"Si": 0.798, "P": 0.0905, "C": 0.933, "Mn": 0.204}, rel=1e-3)
    for element, kg in (("Si", 1.0), ("P", 0.1), ("C", 1.0), ("Mn", 1.0)):
        assert got[element] == pytest.approx(kg * oxygen.nm3_per_kg(element), rel=1e-9)
    per_nm3 = {oxide: 1 / oxygen_in_oxide_nm3_kg(oxide) for oxide in ("FeO", "Fe2O3", "Fe3O4")}
    assert per_nm3 == pytest.approx({"Fe2O3": 4.75, "Fe3O4": 5.16, "FeO": 6.41}, abs=6e-3)


# ---- equilibrium ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "temp_c, product",
    [(1250, 8.7e-7), (1300, 2.0e-6), (1350, 4.3e-6), (1400, 8.8e-6), (1450, 1.7e-5)],
)
def test_magnesium_and_sulphur(temp_c, product):
    """Own earlier calculation from the same Gibbs energies, by the line log K = -17040/T +
    5.127.
    """
    got = pretreatment.magnesium_sulphur_product(temp_c)
    assert got == pytest.approx(product, rel=0.05)
    assert np.log10(got) == pytest.approx(-17040 / (temp_c + 273.15) + 5.127, abs=0.02)


def test_magnesium_and_sulphur_against_the_recalled_line():
    """Recalled line -17026/T + 5.161: within 0.05 over 1250 to 1600 degC (a cross-check with
    memory, not with a source).
    """
    t = np.array([1250.0, 1350.0, 1450.0, 1600.0])
    assert np.log10(pretreatment.magnesium_sulphur_product(t)) == pytest.approx(
        -17026 / (t + 273.15) + 5.161, abs=0.055
    )


def test_magnesium_and_sulphur_against_zhou_and_han():
    """Zhou and Han 1995 (abstract): K = 2.10e-4, presumably at 1600 degC. The two lie a factor 2
    apart, which the lesson tells.
    """
    assert 2.10e-4 / pretreatment.magnesium_sulphur_product(1600.0) == pytest.approx(2.0, abs=0.2)
    factor = pretreatment.product_factor("zhouhan95")
    left = pretreatment.magnesium_left_pct(0.005, 1600.0, factor)
    assert left * 0.005 == pytest.approx(2.10e-4, rel=2e-3)


def test_magnesium_sulphide_against_janaf():
    """Gibbs energy of MgS from the NIST-JANAF tables themselves (package janaf) and of solution
    from msts, written out here.
    """
    T = 1600.0
    table = janaf.Table("Mg-025").df
    mgs = float(table["delta-f G"].to_numpy()[table["T(K)"].to_numpy() == T][0]) * 1000
    # its formation is counted from Mg(g) and 0.5 S2(g) above their boiling points is the reference
    # of the JANAF table there
    log_k = -(-mgs + (-78690 + 70.80 * T) + (-135060 + 23.43 * T)) / (8.31446 * T * np.log(10))
    assert np.log10(pretreatment.magnesium_sulphur_product(T - 273.15)) == pytest.approx(
        log_k, abs=0.02
    )


def test_magnesium_under_its_own_vapour():
    """Own earlier calculation at 1 atm: 0.100, 0.082, 0.068, 0.057 % at 1250 to 1400 degC."""
    got = pretreatment.magnesium_solubility_pct(np.array([1250.0, 1300.0, 1350.0, 1400.0]))
    assert got == pytest.approx([0.100, 0.082, 0.068, 0.057], abs=6e-4)
    assert pretreatment.magnesium_solubility_pct(1350.0, 2.0) == pytest.approx(2 * got[2])


def test_product_of_activity_coefficients_in_hot_metal():
    """About 16 in hot metal of 4.5 % C and 0.5 % Si, as the docstring says: f_S of the set and
    e_Mg^C = 0.15, a doubtful datum of jsps.
    """
    from steelthermo.thermo import activities, interaction

    f_s = activities({"C": 4.5, "Si": 0.5, "S": 0.0}, 1623.15, "jsps", quiet=True).f["S"]
    assert f_s * 10 ** (interaction("Mg", "C", 1623.15, "jsps") * 4.5) == pytest.approx(16, abs=1.5)


def test_constant_of_magnesium_vapour():
    """An abstract (alljournals 5B3AB970): 58.3 kJ/mol at 1600 degC gives K = 0.0236. The conversion
    is checked; the kit's own line lies at 0.031.
    """
    assert np.exp(-58300 / (8.31446 * 1873.15)) == pytest.approx(0.0236, rel=0.01)
    assert pretreatment.magnesium_solubility_pct(1600.0) == pytest.approx(0.0313, rel=0.01)


# ---- treatments ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "shares",
    [
        "magnesium",
        "carbide",
        "carbide_lime",
        "lime_powder",
        {"magnesium": 1, "lime_powder": 4},
        {"magnesium": 1, "carbide": 3},
    ],
)
def test_a_dose_hits_its_aim(shares):
    """Inverse and forward calculation agree, and everything closes."""
    metal = hot_metal(kg=160e3)
    stage = pretreatment.desulphurise(metal, pretreatment.dose(metal, 0.004, shares))
    # the aim is counted in the mass of the metal before treatment
    assert stage.metal.analysis_pct["S"] == pytest.approx(0.004, rel=2e-3)
    assert worst(stage) < 1e-9


def test_magnesium_left_in_the_metal():
    """%Mg x %S after treatment is the product of the equilibrium; the formula of the dose is
    exact.
    """
    metal = hot_metal()
    stage = pretreatment.desulphurise(metal, {"magnesium": 0.5})
    product = stage.metal.analysis_pct["Mg"] * stage.metal.analysis_pct["S"]
    assert product == pytest.approx(pretreatment.magnesium_sulphur_product(1350.0), rel=1e-3)
    kg = pretreatment.magnesium_dose_kg_t(0.03, stage.metal.analysis_pct["S"], 1350.0, 60.0) / 0.97
    assert kg == pytest.approx(0.5, rel=2e-3)


def test_lime_fixes_the_sulphide():
    """MgS + CaO = CaS + MgO where lime is there; K = 470 at 1350 degC is an own earlier
    calculation.
    """
    from steelthermo.thermo import reaction

    alone = pretreatment.desulphurise(hot_metal(), {"magnesium": 0.4}).slag_skimmed.formula_kg()
    mixed = pretreatment.desulphurise(
        hot_metal(), {"magnesium": 0.4, "lime_powder": 1.6}
    ).slag_skimmed.formula_kg()
    assert alone["MgS"] > 0 and "CaS" not in alone
    assert mixed["CaS"] > 0 and mixed.get("MgS", 0.0) == 0
    assert 10 ** reaction("MgS + CaO = CaS + MgO").log_k(1623.15) == pytest.approx(470, rel=0.05)


@pytest.mark.parametrize(
    "reagents_kg, options, per_kg, active, change",
    [
        ({"magnesium": 1.0}, {"efficiency_pct": {"magnesium": 100}}, 0.97, "Mg reacts", 10.8),
        ({"magnesium": 1.0}, {"efficiency_pct": {"magnesium": 0}}, 0.97, "Mg escapes", -8.2),
        (
            {"lime_powder": 1.0},
            {"efficiency_pct": {"lime_powder": 100}, "lime_with": "silicon"},
            0.955,
            "CaO with Si",
            2.2,
        ),
        (
            {"lime_powder": 1.0},
            {"efficiency_pct": {"lime_powder": 100}, "lime_with": "carbon"},
            0.955,
            "CaO with C",
            -3.3,
        ),
        ({"lime_powder": 1.0}, {"efficiency_pct": {"lime_powder": 0}}, 1.0, "lime heated", -1.4),
        ({"carbide": 1.0}, {"efficiency_pct": {"carbide": 100}}, 0.8, "CaC2", 3.5),
    ],
)
def test_heat_of_reagents(reagents_kg, options, per_kg, active, change):
    """Own earlier calculation, degC per kg/t at 1350 degC with 0.88 kJ/(kg K). By the balance of
    the whole treatment here; no losses, no carrier gas.

    The reagents are not pure (lime with carbonate, carbide with lime), hence the tolerance.
    """
    stage = pretreatment.desulphurise(
        hot_metal(s=0.2), reagents_kg, loss_c=0.0, carrier_nm3_kg=0.0, **options
    )
    assert stage.change_c / per_kg == pytest.approx(change, abs=0.45), active
    assert worst(stage) < 1e-9


def test_heat_of_carrier_gas_and_loss():
    """N2: -2.2 degC per Nm3/t (own earlier calculation); the loss is what was asked for."""
    calm = pretreatment.desulphurise(
        hot_metal(), {"magnesium": 0.4}, loss_c=0.0, carrier_nm3_kg=0.0
    )
    windy = pretreatment.desulphurise(
        hot_metal(), {"magnesium": 0.4}, loss_c=0.0, carrier_nm3_kg=2.5
    )
    assert windy.temp_c - calm.temp_c == pytest.approx(-2.2, abs=0.06)
    lost = pretreatment.desulphurise(
        hot_metal(), {"magnesium": 0.4}, loss_c=10.0, carrier_nm3_kg=0.0
    )
    assert lost.temp_c - calm.temp_c == pytest.approx(-10.0, abs=0.05)


def test_solid_oxygen_costs_32_degrees():
    """Own earlier calculation: each Nm3 of O2 brought as Fe2O3 in place of gas costs 28.4 MJ, 32.2
    degC per Nm3/t; here from two whole treatments with pure Fe2O3.
    """
    metal = hot_metal(s=0.03)
    pure = materials.Material("haematite", {"Fe2O3": 100.0}, 25.0, "coolant")
    options = {
        "solid": pure,
        "lime_kg": 0.0,
        "feo_pct": 0.0,
        "loss_c": 0.0,
        "oxygen_use_pct": 100.0,
        "oxygen_pct": {"O2": 100.0},
    }
    gas = pretreatment.oxidise(metal, {"Si": 0.35}, solid_share_pct=0.0, **options)
    ore = pretreatment.oxidise(metal, {"Si": 0.35}, solid_share_pct=100.0, **options)
    nm3_t = pretreatment.oxygen_equivalent_nm3_t({"Si": 0.1})["Si"]
    assert (gas.temp_c - ore.temp_c) / nm3_t == pytest.approx(32.2, rel=0.03)
    # +31.3 degC by gas and +5.6 by ore for 0.1 % Si (own earlier calculation)
    assert gas.change_c == pytest.approx(31.3, rel=0.03)
    assert ore.change_c == pytest.approx(5.6, abs=0.5)


def test_carbon_and_phosphorus_removed():
    """0.1 % C by gas +11.0, by ore -19.1 degC; 0.01 % P as 3CaO.P2O5 with its lime +3.1 by gas (own
    earlier calculations).
    """
    metal = hot_metal(p=0.11)
    pure = {
        "solid": materials.Material("haematite", {"Fe2O3": 100.0}, 25.0, "coolant"),
        "feo_pct": 0.0,
        "loss_c": 0.0,
        "oxygen_use_pct": 100.0,
        "oxygen_pct": {"O2": 100.0},
    }
    # aims are in mass % of the metal afterwards: read back what was really removed
    gas = pretreatment.oxidise(metal, {"C": 4.4}, solid_share_pct=0.0, lime_kg=0.0, **pure)
    removed = (
        10
        * (
            metal.element_kg()["C"]
            - (gas.metal.element_kg()["C"] + gas.iron_skimmed.element_kg()["C"])
        )
        / 10.0
    )
    assert gas.change_c / removed == pytest.approx(11.0, abs=0.4)
    ore = pretreatment.oxidise(metal, {"C": 4.4}, solid_share_pct=100.0, lime_kg=0.0, **pure)
    removed = metal.element_kg()["C"] - (
        ore.metal.element_kg()["C"] + ore.iron_skimmed.element_kg()["C"]
    )
    assert ore.change_c / removed == pytest.approx(-19.1, abs=0.5)
    lime = materials.Material("pure lime", {"CaO": 100.0}, 25.0, "lime")
    p = pretreatment.oxidise(
        metal, {"P": 0.10}, solid_share_pct=0.0, lime=lime, lime_kg=0.30, **pure
    )
    removed = 10 * (
        metal.element_kg()["P"] - p.metal.element_kg()["P"] - p.iron_skimmed.element_kg()["P"]
    )
    assert p.change_c / removed == pytest.approx(3.1, abs=0.4)


def test_share_of_solid_oxygen_that_keeps_the_temperature():
    """Own earlier calculation: Si .45 to .12, P .110 to .025, C -0.15 %, 15 kg lime, 30 degC lost:
    about 60 % of the oxygen as solid.

    That sum left out the heat of slag formation, which raises the share by some ten points here.
    """
    metal = hot_metal(p=0.110)
    shares = np.linspace(0, 100, 21)
    stage = pretreatment.oxidise(
        metal,
        {"Si": 0.12, "P": 0.025, "C": 4.37},
        solid_share_pct=shares,
        lime_kg=15.0,
        feo_pct=3.0,
        loss_c=30.0,
        oxygen_use_pct=100.0,
    )
    level = np.interp(0.0, -stage.change_c, shares)
    assert 55 < level < 80
    assert worst(stage) < 1e-9


def test_heat_closes_across_the_change_of_calcium_silicate():
    """2CaO.SiO2 changes its form at 1437 degC: a fine sweep over it has no gap, and temperature
    rises steadily with the gas share.
    """
    stage = pretreatment.oxidise(
        hot_metal(), {"Si": 0.1}, solid_share_pct=np.linspace(0, 100, 201), basicity=2.0, loss_c=0.0
    )
    assert stage.temp_c.max() > 1437 > stage.temp_c.min()
    assert np.all(np.diff(stage.temp_c) <= 1e-9)  # it rests at 1437 while the silicate changes
    assert worst(stage) < 1e-9


@settings(max_examples=40)
@given(
    s=st.floats(0.008, 0.08),
    si=st.floats(0.1, 1.2),
    temp_c=st.floats(1260, 1440),
    mg=st.floats(0, 2),
    lime=st.floats(0, 12),
    carbide=st.floats(0, 6),
    eta=st.floats(5, 100),
    left=st.floats(0, 100),
)
def test_desulphurisation_closes(s, si, temp_c, mg, lime, carbide, eta, left):
    stage = pretreatment.desulphurise(
        hot_metal(s=s, si=si, temp_c=temp_c),
        {"magnesium": mg, "lime_powder": lime, "carbide": carbide},
        efficiency_pct={"magnesium": eta, "lime_powder": min(eta, 20), "carbide": eta / 2},
        slag_left_pct=left,
    )
    assert worst(stage) < 1e-9
    assert 0 <= stage.metal.analysis_pct["S"] <= s * 1.01


@settings(max_examples=40)
@given(
    si=st.floats(0.3, 1.2),
    p=st.floats(0.06, 0.2),
    temp_c=st.floats(1340, 1420),
    share=st.floats(40, 90),
    basicity=st.floats(1.5, 3.5),
    feo=st.floats(0, 30),
    solid=st.sampled_from(["ore", "mill_scale"]),
)
def test_oxidation_closes(si, p, temp_c, share, basicity, feo, solid):
    aims = {"Si": si / 3, "P": p / 2, "C": 4.4}
    stage = pretreatment.oxidise(
        hot_metal(si=si, p=p, temp_c=temp_c),
        aims,
        solid=solid,
        solid_share_pct=share,
        basicity=basicity,
        feo_pct=feo,
    )
    assert worst(stage) < 1e-9
    for element, aim in aims.items():
        assert stage.metal.analysis_pct[element] == pytest.approx(aim, rel=1e-9)


def test_arrays_and_single_heats_agree():
    kg = np.array([0.0, 0.2, 0.5, 1.5])
    many = pretreatment.desulphurise(hot_metal(), {"magnesium": kg, "lime_powder": 1.0})
    one = [pretreatment.desulphurise(hot_metal(), {"magnesium": x, "lime_powder": 1.0}) for x in kg]
    assert many.temp_c == pytest.approx([s.temp_c for s in one], rel=1e-12)
    assert many.metal.analysis_pct["S"] == pytest.approx(
        [s.metal.analysis_pct["S"] for s in one], rel=1e-12
    )


# ---- back in the vessel, and the decision --------------------------------------------------------


def test_sulphur_that_comes_back():
    """Worked balance with own numbers: steel 0.0165 % with the treatment slag left on, 0.0058 %
    fully skimmed.
    """
    sources_kg = {"hot metal": 0.027, "treatment slag": 0.150, "scrap": 0.040, "lime": 0.0135}
    assert pretreatment.steel_sulphur_pct(sources_kg, 1000.0, 100.0, 4.0) == pytest.approx(
        0.0165, abs=5e-5
    )
    assert pretreatment.steel_sulphur_pct(
        sources_kg | {"treatment slag": 0.0}, 1000.0, 100.0, 4.0
    ) == pytest.approx(0.0058, abs=5e-5)


def test_slag_left_on_brings_its_sulphur_back():
    metal = hot_metal()
    clean, dirty = (
        pretreatment.desulphurise(
            metal, {"magnesium": 0.5}, slag_left_pct=x, skimmed_iron_kg_kg=0.0
        )
        for x in (0.0, 100.0)
    )
    assert pretreatment.into_vessel(clean).analysis_pct["S"] == pytest.approx(
        clean.metal.analysis_pct["S"], rel=1e-12
    )
    back = pretreatment.into_vessel(dirty).element_kg()
    assert back == pytest.approx(
        dirty.metal.element_kg() | {"S": metal.element_kg()["S"]}, rel=1e-12
    )


def test_iron_goes_with_the_slag_that_is_skimmed_alone():
    """So many kg of iron per kg of slag drawn off as is said, whatever slag is left on."""
    metal, plant = hot_metal(si=0.9), {"slag_left_pct": 30.0, "skimmed_iron_kg_kg": 0.5}
    for stage in (
        pretreatment.desulphurise(metal, {"magnesium": 0.5, "lime_powder": 4.0}, **plant),
        pretreatment.oxidise(metal, {"Si": 0.3}, basicity=0.8, **plant),
    ):
        skimmed = stage.outputs["slag skimmed"].mass_kg
        assert stage.outputs["slag left"].mass_kg == pytest.approx(3.0 / 7.0 * skimmed)
        assert stage.iron_skimmed.mass_kg == pytest.approx(0.5 * skimmed, rel=1e-6)


def test_treatment_with_nothing_changes_nothing():
    """Zero reagent, no loss, no gas: both heats of the comparison must be the same."""
    metal = hot_metal()
    idle = pretreatment.desulphurise(metal, {"magnesium": 0.0}, loss_c=0.0, carrier_nm3_kg=0.0)
    same = pretreatment.compare(metal, idle, steel_s_max_pct=0.03)
    for name, (before, after) in same.per_t.items():
        assert after == pytest.approx(before, rel=1e-9, abs=1e-9), name
    assert same.verdict == "not needed"


def test_the_decision_for_sulphur():
    """A steel of 0.010 % S from hot metal of 0.03 %: the vessel alone cannot, treated it can, and
    badly skimmed it cannot again.
    """
    metal = hot_metal(kg=160e3)
    dose = pretreatment.dose(metal, 0.003, {"magnesium": 1, "lime_powder": 4})
    good = pretreatment.compare(
        metal, pretreatment.desulphurise(metal, dose), steel_s_max_pct=0.010
    )
    assert good.verdict == "needed" and good.steel_s_pct[0] > 0.010 > good.steel_s_pct[1]
    assert "Sulphur" in good.reasons[0]
    poor = pretreatment.compare(
        metal, pretreatment.desulphurise(metal, dose, slag_left_pct=60), steel_s_max_pct=0.010
    )
    assert poor.verdict == "not enough"
    easy = pretreatment.compare(metal, pretreatment.desulphurise(metal, dose), steel_s_max_pct=0.03)
    assert easy.verdict in ("not needed", "your choice")
    # the colder metal melts less scrap, and both charges close
    assert good.saved("scrap") > 0
    for heat in (good.without, good.treated):
        assert max(abs(v) for v in heat.closure().values()) < 1e-9
        brought = sum(part.element_kg().get("S", 0.0) for part in heat.inputs.values())
        assert 100.0 * heat.slag.element_kg()["S"] / brought == pytest.approx(
            heat.plan.sulphur_to_slag_pct  # the same as in the works' plan
        )


def test_silicon_removed_saves_lime_and_costs_scrap():
    metal = hot_metal(si=0.9)
    stage = pretreatment.oxidise(
        metal, {"Si": 0.3}, solid="mill_scale", solid_share_pct=80, basicity=0.8
    )
    c = pretreatment.compare(metal, stage, steel_s_max_pct=0.03)
    assert c.saved("lime") > 10 and c.saved("slag") > 20 and c.saved("scrap") > 0
    with pytest.raises(InputError, match="comparison"):
        c.saved("money")


def test_the_words_of_a_comparison_tell_what_it_saves():
    """What is paid without is what is paid with it and what it saves; the words tell the same."""
    metal = hot_metal(si=0.9)
    stage = pretreatment.oxidise(
        metal, {"Si": 0.3}, solid="mill_scale", solid_share_pct=80, basicity=0.8
    )
    c = pretreatment.compare(metal, stage, steel_s_max_pct=0.03)
    for name, (without, treated) in c.per_t.items():
        assert treated + c.saved(name) == pytest.approx(without)
    told = str(c)
    for name in ("lime", "slag", "scrap", "oxygen"):
        assert f"{'less' if c.saved(name) > 0 else 'more'} {name}" in told
        assert f"{abs(c.saved(name)):.1f}" in told
    assert f"{abs(c.saved('hot metal bought')):.1f} kg hot metal" in told
    change = stage.metal.temp_c - metal.temp_c
    assert f"comes {abs(change):.0f} °C {'hotter' if change > 0 else 'colder'}" in told
    assert c.verdict == "your choice"


@pytest.mark.parametrize("share", [0.0, 40.0, 100.0])
def test_lime_and_solid_oxygen_are_what_was_asked_for(share):
    """Lime by weight, and the share of the oxygen that the solid brings."""
    stage = pretreatment.oxidise(
        hot_metal(), {"Si": 0.2}, solid="mill_scale", solid_share_pct=share, lime_kg=6.0
    )
    (lime, scale), free = (
        (
            [s for s in stage.inputs.values() if isinstance(s, Solid) and s.material.title == title]
            for title in (material("lime").title, material("mill_scale").title)
        ),
        Gas({"O2": stage.outputs["gas"].nm3.get("O2", 0.0)}, 25.0),
    )
    solid = scale[0].element_kg().get("O", 0.0) - sum(
        scale[0].mass_kg * scale[0].material.pct(o) / 100.0 * mass_fractions(o)["O"]
        for o in scale[0].material.analysis_pct
        if o not in ("FeO", "Fe2O3", "Fe3O4") and "O" in o
    )
    gas = stage.inputs["oxygen"].species_kg()["O2"] - free.mass_kg
    assert lime[0].mass_kg == pytest.approx(6.0)
    assert 100.0 * solid == pytest.approx(share * (solid + gas), rel=1e-6, abs=1e-6)


def test_two_treatments_in_a_row():
    metal = hot_metal(p=0.12)
    first = pretreatment.oxidise(
        metal, {"Si": 0.12, "P": 0.03, "C": 4.35}, solid_share_pct=70, basicity=2.5
    )
    second = pretreatment.desulphurise(
        first.metal, pretreatment.dose(first.metal, 0.003, "carbide")
    )
    c = pretreatment.compare(metal, [first, second], steel_s_max_pct=0.010)
    assert c.partition_needed[1] < c.partition_needed[0]
    assert c.per_t["reagents"][1] > 10
    solved = charge.solve(
        hot_metal_pct={k: v for k, v in second.metal.analysis_pct.items() if k != "Fe"},
        hot_metal_temp_c=second.temp_c,
    )
    assert max(abs(v) for v in solved.closure().values()) < 1e-9


# ---- refusals, provenance, data ------------------------------------------------------------------


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: pretreatment.dose(hot_metal(), 0.05, "magnesium"), "aim"),
        (lambda: pretreatment.dose(hot_metal(), 0.005, {"magnesium": 0}), "takes sulphur"),
        (lambda: pretreatment.dose(hot_metal(), 0.005, "soda"), "reagent"),
        (lambda: pretreatment.desulphurise(hot_metal(), {"magnesium": -1.0}), "magnesium"),
        (lambda: pretreatment.desulphurise(hot_metal(), {"magnesium": float("nan")}), "magnesium"),
        (
            lambda: pretreatment.desulphurise(
                hot_metal(), {"magnesium": 1.0}, efficiency_pct={"carbide": 50}
            ),
            "efficiency",
        ),
        (
            lambda: pretreatment.desulphurise(hot_metal(), {"magnesium": 1.0}, method="wishing"),
            "method",
        ),
        (lambda: pretreatment.magnesium_left_pct(0.0, 1350.0), "sulphur"),
        (lambda: pretreatment.magnesium_left_pct(0.005, 1623.0), None),
        (lambda: pretreatment.magnesium_left_pct(0.005, 1900.0), "kelvin"),
        (lambda: pretreatment.oxidise(hot_metal(), {"Si": 0.1}), "lime"),
        (lambda: pretreatment.oxidise(hot_metal(), {"Si": 0.9}, basicity=1.0), "SiO2|less than"),
        (lambda: pretreatment.oxidise(hot_metal(), {"S": 0.01}, basicity=1.0), "aim"),
        (
            lambda: pretreatment.oxidise(hot_metal(), {"Si": 0.1}, basicity=1.0, solid="lime"),
            "iron oxide",
        ),
        (lambda: pretreatment.compare(hot_metal(), (), steel_s_max_pct=0.01), "treatment"),
        (lambda: Condensed({"MgS": 1.0}, 1623.15 + 273.15), "kelvin"),
    ],
)
def test_refusals(call, words):
    if words is None:
        assert np.isfinite(call())
    else:
        with pytest.raises(InputError, match=words):
            call()


def test_results_know_their_sources():
    stage = pretreatment.desulphurise(hot_metal(), {"magnesium": 0.5, "carbide": 1.0})
    said = " ".join(str(p) for p in sources(stage))
    assert "MgS" in said and "memory" in said and "magnesium injected" in said
    assert stage.assumed["mg_efficiency_pct"] == plant_value("mg_efficiency_pct").start
    assert "reagents" in str(sources("magnesium")) or "desmet" in str(sources("magnesium")[0])


def test_plant_values_are_ranges_with_a_start():
    for key in names():
        v = plant_value(key)
        assert v.low <= v.start <= v.high and v.low < v.high, key
        assert v.what in str(v) and "usual" in str(v)
    with pytest.raises(InputError, match="mg_efficiency_pct"):
        plant_value("mg_efficency_pct")


@pytest.mark.parametrize(
    "table",
    (
        "plant_values treatment_facts reagents alloys inclusions stirring specifications "
        "carbon_equivalents safety safety_figures"
    ).split(),
)
def test_every_row_has_a_status_and_a_source(table):
    for row in rows(table):
        assert row["status"] in STATUSES and row["source"] in bibliography(), row
        assert all(v != "" for v in row.values()), row
        if row["status"] == "common practice":
            assert row["source"] == "practice", row
        assert row["source"] != "memory" or row["status"] == "memory", row


# ---- safety sums ---------------------------------------------------------------------------------


def test_gas_yield_of_carbide():
    """A maker states 295 L/kg for carbide of 80 % (steelrefiningmaterials.com): that holds at 15
    degC, not at 0 degC.
    """
    litres = 1000 * safety.acetylene_nm3(1.0, 80.0)
    assert litres * 288.15 / 273.15 == pytest.approx(295, abs=0.5)
    assert litres < 281


def test_facts_by_topic():
    assert any("one third" in fact.what and "Irons" in str(fact) for fact in facts("carbide"))
    with pytest.raises(InputError, match="carry-over"):
        facts("soda")


def test_methods_name_plant_values():
    assert set(desulphurisation.METHODS.values()) <= set(names())
