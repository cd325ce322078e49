"""Solid materials: masses of elements by hand and by the library chemicals, enthalpies by plain
sums, and everything an analysis can get wrong.
"""

import chemicals.elements as reference
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelthermo.base import InputError
from steelthermo.streams import Material, Solid, blend, element_kg, material
from steelthermo.thermo import enthalpy, formation_enthalpy_298, heat_content
from steelthermo.works import profile as plant

KEYS = tuple(plant.load_profile().materials)


def _by_library(analysis):
    """kg of each element in one kg, by chemicals.elements."""
    out = {}
    for species, pct in analysis.items():
        for element, share in reference.mass_fractions(
            reference.nested_formula_parser(species)
        ).items():
            out[element] = out.get(element, 0.0) + pct / 100.0 * share
    return out


@pytest.mark.parametrize("key", KEYS)
def test_elements_of_every_material_that_ships(key):
    """chemicals.elements (its atomic weights differ in the fifth figure); the mass is all there."""
    m = material(key)
    assert sum(m.analysis_pct.values()) == pytest.approx(100.0, abs=1e-9)
    assert dict(m.per_kg) == pytest.approx(_by_library(m.analysis_pct), rel=5e-4)
    assert sum(m.per_kg.values()) == pytest.approx(1.0, rel=1e-12)
    assert m.kind in plant.MATERIAL_KINDS and m.title


def test_iron_ore_by_hand():
    """Haematite is 69.94 % iron (2 x 55.845 / 159.687): an ore of 94.08 % Fe2O3 and 0.5 % FeO
    (77.73 % iron) holds 66.2 %. Common practice: 60 to 67 %.
    """
    ore = material("ore")
    assert ore.pct("Fe2O3") == pytest.approx(94.08)
    by_hand = 0.9408 * 2 * 55.845 / (2 * 55.845 + 3 * 15.999) + 0.005 * 55.845 / 71.844
    assert ore.per_kg["Fe"] == pytest.approx(by_hand, rel=1e-5) and 0.60 < ore.per_kg["Fe"] < 0.67


def test_carbonates_by_hand():
    """Limestone CaCO3: 12.0 % carbon; raw dolomite loses 47.7 % as CO2 if pure. Carbon of coke is
    no carbonate carbon.
    """
    stone = Material.of("stone", {}, rest="CaCO3")
    assert stone.carbonate_c == pytest.approx(12.011 / 100.086, rel=1e-4)
    assert Material.of("raw", {}, rest="CaMg(CO3)2").carbonate_c * 44.009 / 12.011 == pytest.approx(
        0.4773, abs=2e-4
    )
    assert material("coke").carbonate_c == 0.0 and material("coke").per_kg["C"] > 0.85
    assert material("lime").carbonate_c == pytest.approx(0.045 * 12.011 / 100.086, rel=1e-4)


def test_lime_counted_from_all_that_holds_it():
    """Limestone of pure CaCO3 counts as 56.03 % CaO."""
    assert Material.of("stone", {}, rest="CaCO3").oxide_pct("CaO") == pytest.approx(56.03, abs=0.01)
    assert material("lime").oxide_pct("CaO") == pytest.approx(
        material("lime").pct("CaO") + 4.5 * 0.5603, abs=0.01
    )
    assert material("bales").oxide_pct("CaO") == 0.0 and material("bales").pct("CaO") == 0.0


def test_enthalpy_of_scrap_by_hand():
    """Pure iron at 25 °C: zero; at 300 °C: 55.845 g/mol and the heat content of alpha iron
    (NIST-JANAF Fe-003: 5.527 at 500, 8.613 kJ/mol at 600 K).
    """
    assert Material("iron", {"Fe": 100.0}).enthalpy_kj_kg == pytest.approx(0.0, abs=1e-3)
    at_573 = np.interp(573.15, [500.0, 600.0], [5.527, 8.613])
    assert Material("iron", {"Fe": 100.0}, temp_c=300.0).enthalpy_kj_kg == pytest.approx(
        at_573 / 0.055845, rel=0.01
    )


def test_enthalpy_of_a_flux_by_hand():
    """Sum of formation enthalpies at 25 °C: CaO -635.09, MgO -601.25, SiO2 -910.85 kJ/mol with
    56.077, 40.304, 60.083 g/mol.
    """
    m = Material("lime", {"CaO": 90.0, "MgO": 6.0, "SiO2": 4.0})
    assert m.enthalpy_kj_kg == pytest.approx(
        -(0.90 * 635.09 / 0.056077 + 0.06 * 601.25 / 0.040304 + 0.04 * 910.85 / 0.060083), rel=2e-5
    )


def test_preheated_scrap_brings_its_heat_content():
    cold, hot = (
        Material("s", {"Fe": 98.0, "SiO2": 1.0, "CaO": 1.0}, temp_c=t) for t in (25.0, 600.0)
    )
    expected = sum(
        pct / 100 * heat_content(s, 873.15) / m
        for s, pct, m in (("Fe", 98, 55.845), ("SiO2", 1, 60.083), ("CaO", 1, 56.077))
    )
    assert hot.enthalpy_kj_kg - cold.enthalpy_kj_kg == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize("key", KEYS)
def test_frozen_charge(key):
    """Below 25 °C the heat capacity at 25 °C counts: against iron's own data (from 200 K) the error
    is below 1 kJ/kg.
    """
    m = material(key)
    cold = Material(m.title, m.analysis_pct, -20.0, m.kind)
    assert -60.0 < cold.enthalpy_kj_kg - m.enthalpy_kj_kg < -5.0
    iron = Material("iron", {"Fe": 100.0}, temp_c=-40.0).enthalpy_kj_kg
    assert iron == pytest.approx(
        (enthalpy("Fe", 233.15) - formation_enthalpy_298("Fe")) / 55.845, abs=1.2
    )


def test_phosphorus_of_ore_is_counted_as_phosphate():
    """P2O5 alone has no sensible standard state: Ca3(PO4)2 less 3 CaO, -4120.8 + 3 x 635.09 =
    -2215.5 kJ/mol (CRC, NASA).
    """
    m = Material("p", {"P2O5": 100.0})
    assert m.enthalpy_kj_kg == pytest.approx((-4120.8 + 3 * 635.09) / 0.141943, rel=1e-4)
    assert {"Ca3(PO4)2", "CaO"} == {p.what.split(" (")[0] for p in m.provenance}


def test_solid_scales_and_sums():
    lime = material("lime")
    two = Solid(2.0, lime)
    assert two.element_kg() == pytest.approx({e: 2 * x for e, x in lime.per_kg.items()})
    assert two.enthalpy_kj() == pytest.approx(2 * lime.enthalpy_kj_kg)
    many = Solid([1.0, 2.0], lime)
    assert many.element_kg()["Ca"].tolist() == pytest.approx(
        [lime.per_kg["Ca"], 2 * lime.per_kg["Ca"]]
    )
    assert Solid(np.arange(3.0), lime).enthalpy_kj().shape == (3,)


def test_element_kg_by_hand():
    """1 kg CaO: 0.7147 kg Ca, 0.2853 kg O."""
    assert element_kg({"CaO": 1.0}) == pytest.approx(
        {"Ca": 40.078 / 56.077, "O": 15.999 / 56.077}, rel=1e-5
    )


GRADES = st.sampled_from(["heavy_scrap", "bales", "shredded", "own_scrap", "pig_iron"])


@given(
    st.lists(st.tuples(GRADES, st.floats(0.01, 100.0)), min_size=1, max_size=5),
    st.floats(0.1, 10.0),
)
def test_a_blend_is_the_sum_of_its_parts(parts, factor):
    """Exact: elements and enthalpy are those of the parts; the unit of the shares does not
    matter.
    """
    pairs = [(material(k), x) for k, x in parts]
    total = sum(x for _, x in pairs)
    mixed = blend(pairs)
    for element in mixed.per_kg:
        assert mixed.per_kg[element] == pytest.approx(
            sum(m.per_kg.get(element, 0.0) * x for m, x in pairs) / total, rel=1e-10
        )
    assert mixed.enthalpy_kj_kg == pytest.approx(
        sum(m.enthalpy_kj_kg * x for m, x in pairs) / total, rel=1e-9, abs=1e-6
    )
    scaled = blend([(m, x * factor) for m, x in pairs])
    assert dict(scaled.analysis_pct) == pytest.approx(dict(mixed.analysis_pct), rel=1e-9)


def test_rest_and_arrays():
    m = Material.of("hot scrap", {"C": np.array([0.1, 0.2])}, rest="Fe")
    assert m.analysis_pct["Fe"].tolist() == [99.9, 99.8]
    assert Material.of("pure", {"Fe": 100.0}).per_kg["Fe"] == 1.0
    assert Material.of("full", {"C": 33.3, "Si": 66.7}, rest="Fe").analysis_pct["Fe"] == 0.0
    assert Material.of("rounding", {"C": 0.1 + 0.2, "Si": 99.7}, rest="Fe").analysis_pct[
        "Fe"
    ] == pytest.approx(0.0, abs=1e-9)


def test_a_material_cannot_be_changed_and_is_made_once():
    m = material("lime")
    with pytest.raises(TypeError):
        m.analysis_pct["CaO"] = 1.0
    with pytest.raises(AttributeError):
        m.temp_c = 500.0
    profile = plant.load_profile()
    assert material("lime", profile) is material("lime", profile)


REFUSED = [
    (
        lambda: Material("x", {"Fe": 90.0}),
        "analysis of x: the shares add up to 90 %; 100 % is needed",
    ),
    (lambda: Material("x", {"Fe": 101.0}), "the shares add up to 101 %"),
    (lambda: Material("x", {"Fe": np.array([100.0, 99.0])}), "add up to 99 %"),
    (lambda: Material("x", {}), "add up to 0 %"),
    (
        lambda: Material.of("x", {"C": 60.0, "Si": 60.0}, rest="Fe"),
        "the shares add up to 120 %; allowed is 100 %",
    ),
    (
        lambda: Material.of("x", {"Fe": 60.0}, rest="Fe"),
        "Fe stands in the analysis and is also the rest",
    ),
    (
        lambda: Material.of("x", {"C": -1.0}, rest="Fe"),
        "C in x: -1 % was given; allowed is zero or more",
    ),
    (lambda: Material.of("x", {"C": np.nan}, rest="Fe"), "C in x: nan was given"),
    (lambda: Material.of("x", {"C": "4,5"}, rest="Fe"), "C in x: '4,5' was given"),
    (
        lambda: Material.of("x", {"Xx": 5.0}, rest="Fe"),
        "substance: 'Xx' was given; there are no data for it",
    ),
    (lambda: Material.of("x", {"C": 5.0}, rest="Iron"), "substance: 'Iron' was given"),
    (lambda: Material.of("x", "Fe", rest="Fe"), "analysis of x: 'Fe' was given; shares in mass %"),
    (lambda: Material.of("x", None, rest="Fe"), "analysis of x: None was given"),
    (lambda: Material("x", {"Fe": 100.0}, temp_c=1073.0), "Was kelvin given?"),
    (lambda: Material("x", {"Fe": 100.0}, temp_c=-60.0), "allowed is -40 to 900 °C"),
    (
        lambda: Material("x", {"Fe": 100.0}, kind="scrapp"),
        "kind of x: 'scrapp' was given; allowed are scrap, lime",
    ),
    (lambda: Material("x", {"MgCO3": 100.0}, temp_c=800.0), "data cover 300 to 1000 K"),
    (lambda: Solid(-1.0, material("lime")), "mass of burnt lime: -1 kg was given"),
    (lambda: Solid(np.nan, material("lime")), "mass of burnt lime: nan was given"),
    (lambda: Solid("5", material("lime")), "mass of burnt lime: '5' was given"),
    (lambda: Solid(5.0, "lime"), "material: 'lime' was given; a Material is needed"),
    (
        lambda: material("limes"),
        "material: 'limes' is not in the profile of Heron Works; it has heavy_scrap",
    ),
    (lambda: material(["lime"]), "material: ['lime'] is not in the profile"),
    (lambda: blend([]), "the shares add up to nothing"),
    (lambda: blend([(material("bales"), 0.0)]), "the shares add up to nothing"),
    (lambda: blend([(material("bales"), -1.0)]), "share of new bales: -1 was given"),
    (
        lambda: blend([(material("bales"), 1.0), (Material("hot", {"Fe": 100.0}, 300.0), 1.0)]),
        "temperatures 25.0, 300.0 °C; one temperature is needed",
    ),
]


@pytest.mark.parametrize("call, words", REFUSED, ids=[words[:40] for _, words in REFUSED])
def test_refusals(call, words):
    with pytest.raises(InputError) as error:
        call()
    assert words in str(error.value)
