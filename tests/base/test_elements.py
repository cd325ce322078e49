"""Formulas, molar masses and shares against the general reference library chemicals (IUPAC atomic
weights) and hand sums.
"""

import chemicals.elements as reference
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelthermo.base import (
    InputError,
    atomic_weight,
    formula,
    mass_fractions,
    mass_to_mole_pct,
    molar_mass,
    rows,
)
from steelthermo.thermo import substance_names as names

# Relative tolerance: the library has 12.0107, 14.0067, 15.9994, 39.948 and 32.065; Cantera has five
# figures of IUPAC (12.011, ... 39.95) and 32.06.
ROUNDED = 7e-5
TOLERANCE = {"S": 1.7e-4}
USED = "H C N O F Mg Al Si P S Ca Ti V Cr Mn Fe Ni Cu Ar".split()


@pytest.mark.parametrize("symbol", USED)
def test_atomic_weights(symbol):
    """chemicals.elements."""
    assert atomic_weight(symbol) == pytest.approx(
        getattr(reference.periodic_table, symbol).MW, rel=TOLERANCE.get(symbol, ROUNDED)
    )


@pytest.mark.parametrize("text", [n for n in names() if "0.947" not in n])
def test_molar_mass_and_mass_fractions_of_every_substance(text):
    """chemicals.elements: its parser, its molecular weight and its mass fractions."""
    atoms = reference.nested_formula_parser(text)
    assert formula(text) == atoms
    tolerance = max(TOLERANCE.get(symbol, ROUNDED) for symbol in atoms)
    assert molar_mass(text) == pytest.approx(reference.molecular_weight(atoms), rel=tolerance)
    assert mass_fractions(text) == pytest.approx(reference.mass_fractions(atoms), rel=2 * tolerance)
    assert sum(mass_fractions(text).values()) == pytest.approx(1.0, rel=1e-14)


def test_brackets_and_broken_numbers():
    """Hand sums."""
    assert formula("Fe0.947O") == {"Fe": 0.947, "O": 1.0}
    assert formula("CaMg(CO3)2") == {"Ca": 1.0, "Mg": 1.0, "C": 2.0, "O": 6.0}
    assert formula("Ca5(PO4)3(OH)") == {"Ca": 5.0, "P": 3.0, "O": 13.0, "H": 1.0}
    assert formula("Al2(Si(OH)2)2") == {"Al": 2.0, "Si": 2.0, "O": 4.0, "H": 4.0}
    assert molar_mass("CaO") == pytest.approx(56.08, abs=0.005)
    assert formula("CO") == {"C": 1.0, "O": 1.0} and formula("Co") == {"Co": 1.0}


def test_shares_that_the_trade_knows():
    """Iron in haematite 69.94 %, lime in limestone 56.03 %, CO2 in dolomite 47.73 %: hand sums with
    55.845, 40.078, 24.305, 12.011, 15.999.
    """
    assert 100 * mass_fractions("Fe2O3")["Fe"] == pytest.approx(69.94, abs=0.01)
    assert 100 * molar_mass("CaO") / molar_mass("CaCO3") == pytest.approx(56.03, abs=0.01)
    assert 200 * molar_mass("CO2") / molar_mass("CaMg(CO3)2") == pytest.approx(47.73, abs=0.01)


BAD_FORMULAS = [
    "",
    "2Fe",
    "fe",
    "Fe0O",
    "()",
    "Fe(",
    "Fe)",
    "(CaO",
    "CaO)",
    "Fe..O",
    "Fe1.O",
    "CaO.SiO2",
    "Ca O",
    "SiO2 ",
    "Xx",
    "D2O",
    "E",
    "x" * 40000,
]


@pytest.mark.parametrize("text", BAD_FORMULAS, ids=lambda t: t[:10])
def test_what_is_no_formula_is_refused_in_a_short_sentence(text):
    with pytest.raises(InputError) as error:
        formula(text)
    assert len(str(error.value)) < 200


@pytest.mark.parametrize(
    "given_symbol", ["E", "D", "Tr", "fe", "FE", "iron", "Iron", "", "Xx", "Tc", 26, None]
)
def test_what_is_no_element_is_refused(given_symbol):
    """E, D, Tr: Cantera's electron, deuterium and tritium, which nobody charges. Tc has no atomic
    weight.
    """
    with pytest.raises(InputError, match="a chemical symbol such as Fe, C or Si is needed"):
        atomic_weight(given_symbol)


@pytest.mark.parametrize("given_formula", [None, 5, ["SiO2"], {"Si": 1}])
def test_a_formula_is_a_text(given_formula):
    with pytest.raises(InputError):
        formula(given_formula)


OXIDES = ["CaO", "SiO2", "FeO", "Fe2O3", "MgO", "MnO", "P2O5", "Al2O3", "TiO2", "V2O3", "Cr2O3"]


@given(st.dictionaries(st.sampled_from(OXIDES), st.floats(0.01, 100.0), min_size=1))
def test_mole_per_cent_times_molar_mass_is_the_analysis_again(analysis):
    moles = mass_to_mole_pct(analysis)
    assert sum(moles.values()) == pytest.approx(100.0, rel=1e-12)
    mass = {k: n * molar_mass(k) for k, n in moles.items()}
    per = sum(analysis.values()) / sum(mass.values())
    assert {k: m * per for k, m in mass.items()} == pytest.approx(analysis, rel=1e-12)


@given(st.dictionaries(st.sampled_from(OXIDES), st.floats(0.01, 100.0), min_size=2), st.randoms())
def test_order_of_the_species_is_irrelevant(analysis, random):
    items = list(analysis.items())
    random.shuffle(items)
    assert mass_to_mole_pct(dict(items)) == pytest.approx(mass_to_mole_pct(analysis), rel=1e-13)


def test_mole_shares_of_a_slag_against_the_reference_library():
    """chemicals.utils.ws_to_zs, the library's own conversion."""
    from chemicals.utils import ws_to_zs

    slag = {
        "CaO": 48.0,
        "SiO2": 14.0,
        "FeO": 22.0,
        "MgO": 8.0,
        "MnO": 4.0,
        "P2O5": 2.0,
        "Al2O3": 2.0,
    }
    weights = [reference.molecular_weight(reference.nested_formula_parser(o)) for o in slag]
    expected = ws_to_zs([pct / 100 for pct in slag.values()], weights)
    assert list(mass_to_mole_pct(slag).values()) == pytest.approx(
        [100 * z for z in expected], rel=1e-4
    )


def test_arrays_go_through():
    moles = mass_to_mole_pct({"CaO": np.array([50.0, 60.0]), "SiO2": 50.0})
    assert moles["CaO"].shape == (2,)
    assert moles["CaO"][0] == pytest.approx(mass_to_mole_pct({"CaO": 50, "SiO2": 50})["CaO"])


@pytest.mark.parametrize(
    "analysis",
    [{}, [1], "CaO", {"CaO": -1.0}, {"CaO": np.nan}, {"CaO": "5"}, {"Xx": 5.0}, {"CaO": 0.0}, None],
)
def test_bad_analyses_are_refused(analysis):
    with pytest.raises(InputError):
        mass_to_mole_pct(analysis)


def test_every_formula_in_the_data_can_be_read():
    for table, column in (
        ("phases", "formula"),
        ("supplement_published", "formula"),
        ("optical_basicity", "oxide"),
    ):
        for row in rows(table):
            formula(row[column])
