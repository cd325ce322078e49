"""Tapping and ladle: deoxidation, alloys, temperature, stirring, gases, against published figures,
stoichiometry, brute force and closure.

Figures marked 'own earlier calculation' were worked out by hand from the same kind of data; they
guard the arithmetic and are no published values.
"""

import csv
import itertools
import warnings
from math import comb
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelthermo import hot_metal as pretreatment
from steelthermo import ladle
from steelthermo import slag as slag_metal
from steelthermo.base import (
    ExtrapolationWarning,
    InputError,
    Table,
    atomic_weight,
    constant,
    formula,
    molar_mass,
    sources,
)
from steelthermo.charge import charge, ppm_to_mg_m3
from steelthermo.ladle import alloying as alloys
from steelthermo.ladle import degassing, deoxidation, inclusions, specification, stirring
from steelthermo.ladle import temperature as ladle_temperature
from steelthermo.streams import LiquidMetal, Slag, Solid, material
from steelthermo.thermo import activities, equilibria, equilibrium_oxygen, liquidus_c

R, T1600 = 8.31446261815324, 1873.15
SLAG = {
    "CaO": 48.0,
    "SiO2": 14.0,
    "FeO": 20.0,
    "MnO": 5.0,
    "P2O5": 2.0,
    "MgO": 11.0,
}  # mass %; FeO, MnO and P2O5 as in the sums below


def tapped(oxygen_ppm=600.0, kg=160e3, temp_c=1650.0, coefficients="msts", **more):
    return ladle.with_oxygen(
        LiquidMetal(
            kg, {"C": 0.04, "Mn": 0.10, "P": 0.012, "S": 0.012} | more, temp_c, coefficients
        ),
        oxygen_ppm,
    )


def slag_kg(kg):
    return Slag({o: p / 100.0 * kg for o, p in SLAG.items()}, 1650.0)


def worst(stage):
    return max(np.max(np.abs(v)) for v in stage.closure().values())


def per_100t(pct):
    kg = {e: 1000.0 * p for e, p in pct.items()}
    return kg | {"Fe": 1e5 - sum(kg.values())}


# ---- aluminium and the other deoxidisers: the sums of a shift ------------------------------------


def test_kg_of_deoxidiser_per_kg_of_oxygen():
    """Al 1.124, Si 0.878, Mn 3.434: stoichiometry; per kg of slag oxide 0.250 (FeO), 0.254 (MnO),
    0.599 (SiO2) kg Al.
    """
    assert 2 * atomic_weight("Al") / (3 * atomic_weight("O")) == pytest.approx(1.124, abs=5e-4)
    assert atomic_weight("Si") / (2 * atomic_weight("O")) == pytest.approx(0.878, abs=5e-4)
    assert atomic_weight("Mn") / atomic_weight("O") == pytest.approx(3.434, abs=5e-4)
    for oxide, kg in (("FeO", 0.250), ("MnO", 0.254), ("SiO2", 0.599)):
        demand = ladle.aluminium_demand_kg_t(
            0.0, 0.0, slag_pct={oxide: 100.0}, slag_kg_t=1.0, recovery_pct=100.0
        )
        assert demand["slag"] == demand["total"] == pytest.approx(kg, abs=6e-4)


@pytest.mark.parametrize(
    "ppm, clean, under_slag", [(300, 0.69, 1.00), (600, 1.02, 1.34), (900, 1.36, 1.68)]
)
def test_aluminium_demand_table(ppm, clean, under_slag):
    """Own earlier calculation: for 0.035 % Al, without slag and with 5 kg/t of 20 FeO, 5 MnO; 100 %
    recovery.
    """
    assert ladle.aluminium_demand_kg_t(ppm, 0.035, recovery_pct=100)["total"] == pytest.approx(
        clean, abs=6e-3
    )
    with_slag = ladle.aluminium_demand_kg_t(
        ppm, 0.035, slag_pct={"FeO": 20, "MnO": 5}, slag_kg_t=5, recovery_pct=100
    )
    assert with_slag["total"] == pytest.approx(under_slag, abs=6e-3)
    assert sum(v for k, v in with_slag.items() if k != "total") == pytest.approx(with_slag["total"])


@pytest.mark.parametrize("kg_t, al", [(2, 0.13), (5, 0.31), (10, 0.63), (15, 0.94)])
def test_aluminium_lost_to_slag(kg_t, al):
    """Own earlier calculation: kg Al per t for 2 to 15 kg/t of carried-over slag."""
    got = ladle.aluminium_demand_kg_t(
        0.0, 0.0, slag_pct={"FeO": 20, "MnO": 5}, slag_kg_t=kg_t, recovery_pct=100
    )
    assert got["slag"] == pytest.approx(al, abs=6e-3)


def test_posed_problem_on_killing():
    """A posed problem (solutioninn 14912832; its answer was not seen, 2.17 kg/t is our own): 603
    ppm O, to 0.05 % Al, K 7.79e-14, 1 kg Al/t lost.
    """
    left = (7.79e-14 / 0.05**2) ** (1 / 3) * 1e4
    assert left == pytest.approx(3.1, abs=0.05)
    assert ladle.aluminium_demand_kg_t(603, 0.05, left_ppm=left, recovery_pct=100)[
        "total"
    ] + 1.0 == pytest.approx(2.17, abs=0.006)


def test_the_sum_and_the_balance_agree():
    """The hand formula and the whole balance give the same aluminium, once the loss in the balance
    is set to that of the formula.
    """
    steel, slag = tapped(600.0), slag_kg(5 * 160.0)
    stage = ladle.treat(steel, {"aluminium": 300.0}, slag=slag, recovery_pct={"Al": 100})
    added = 300.0 * 0.985 / 160.0
    oxides = {"FeO": SLAG["FeO"], "MnO": SLAG["MnO"], "P2O5": SLAG["P2O5"]}
    found = stage.steel.analysis_pct
    sum_ = ladle.aluminium_demand_kg_t(
        600.0,
        found["Al"] * stage.steel.mass_kg / 160e3,
        left_ppm=found["O"] * 1e4,
        slag_pct=oxides,
        slag_kg_t=5.0,
        recovery_pct=100,
    )
    assert sum_["total"] == pytest.approx(added, rel=2e-3)


# ---- equilibrium and inclusions ------------------------------------------------------------------


def test_silicon_oxygen_line_of_suzuki():
    """Suzuki, Ban-ya and Fuwa 1970: dG = 113000 - 38.4 T cal is printed beside log = -24600/T +
    8.40 (signs restored).
    """
    assert 113000 * 4.184 / (R * np.log(10)) == pytest.approx(24600, rel=0.005)
    assert 38.4 * 4.184 / (R * np.log(10)) == pytest.approx(8.40, rel=0.002)
    assert -equilibria.log_k("Si-O", T1600, line="suzuki70") == pytest.approx(-24600 / T1600 + 8.40)
    # Fujisawa 1981: -5.18 at the liquidus, where the Suzuki line gives -5.20 to -5.24
    for temp_c in (1530.0, 1536.0):
        assert equilibria.log_k("Si-O", temp_c + 273.15, line="suzuki70") == pytest.approx(
            5.18, abs=0.07
        )


@pytest.mark.parametrize("si, ppm", [(0.1, 136), (0.2, 96), (0.3, 79), (0.5, 61)])
def test_oxygen_with_silicon(si, ppm):
    """Own earlier calculation from the Suzuki line with activity coefficients of 1."""
    assert 1e4 * (
        10 ** -equilibria.log_k("Si-O", T1600, line="suzuki70") / si
    ) ** 0.5 == pytest.approx(ppm, abs=0.6)


@pytest.mark.parametrize("coefficients", ["msts", "jsps"])
@pytest.mark.parametrize("al", [0.08, 0.1, 0.14])
def test_aluminium_killed_steel_is_at_equilibrium(al, coefficients):
    """What stays dissolved obeys the constant and the coefficients of its own set, and nothing
    else; both sets.
    """
    found = deoxidation.deoxidise(
        per_100t({"C": 0.05, "Mn": 0.3, "O": 0.06, "Al": al}), T1600, coefficients
    )
    mass = sum(found.element_kg.values())
    pct = {e: 100.0 * kg / mass for e, kg in found.element_kg.items() if e != "Fe"}
    melt = activities(pct, T1600, coefficients, quiet=True)
    assert np.log10(melt.h["Al"] ** 2 * melt.h["O"] ** 3) == pytest.approx(
        -equilibria.log_k("Al-O", T1600, coefficients), abs=1e-4
    )
    assert equilibrium_oxygen(pct, T1600, coefficients=coefficients).alone_pct[
        "Al-O"
    ] == pytest.approx(found.oxygen_pct, rel=1e-3)
    assert found.words == "100 % alumina"


def test_two_coefficient_sets():
    """At 0.03 % Al and 1600 degC: 4.8 ppm (msts with Sigworth-Elliott coefficients) against 3.3 ppm
    (jsps), own earlier calculation with recalled constants (13.35 and 13.60; here 13.29 and 13.66
    from the data).
    """
    out = {}
    for coefficients in ("msts", "jsps"):
        found = deoxidation.deoxidise(per_100t({"O": 0.06, "Al": 0.0974}), T1600, coefficients)
        assert 100.0 * found.element_kg["Al"] / sum(found.element_kg.values()) == pytest.approx(
            0.03, abs=0.001
        )
        out[coefficients] = 1e4 * found.oxygen_pct
    assert out["msts"] == pytest.approx(4.8, rel=0.15) and out["jsps"] == pytest.approx(
        3.3, rel=0.15
    )


def test_simple_law_fails_at_low_aluminium():
    """Wasai 1999: 0.0018 % Al stands against 0.072 % O under FeAl2O4 and Al2O3. The simple law (f =
    1) gives 30 times less oxygen.
    """
    simple = (10 ** -equilibria.log_k("Al-O", T1600, line="qa_al") / 0.0018**2) ** (1 / 3)
    assert 0.072 / simple == pytest.approx(30, rel=0.15)


def silicate_activities(x_silica, T):
    """(a_MnO, a_SiO2) of the liquid silicate, against the pure solids."""
    return inclusions.silicate_activities(x_silica, T, *inclusions.solid_over_liquid(T))


def test_silicate_is_thermodynamically_sound():
    """Gibbs-Duhem: x d ln a(SiO2) + (1 - x) d ln a(MnO) = 0 along the composition; and the two
    saturation points the model was drawn through.
    """
    x = np.linspace(0.05, 0.95, 1801)
    a_mno, a_sio2 = silicate_activities(x, T1600)
    left = x * np.gradient(np.log(a_sio2), x) + (1 - x) * np.gradient(np.log(a_mno), x)
    assert np.max(np.abs(left[2:-2])) < 1e-3
    T = np.array(T1600)
    low, high = map(float, inclusions.saturation(T, *inclusions.solid_over_liquid(T)))
    drawn = Table("inclusions")
    assert drawn.get("saturation_temp_c")["value"] == 1600.0
    assert low == pytest.approx(drawn.get("mno_saturation_x")["value"], abs=1e-9)
    assert high == pytest.approx(drawn.get("silica_saturation_x")["value"], abs=1e-9)
    assert silicate_activities(low, T1600)[0] == pytest.approx(1.0, abs=1e-9)
    assert silicate_activities(high, T1600)[1] == pytest.approx(1.0, abs=1e-9)
    inside = np.linspace(low, high, 50)
    a_mno, a_sio2 = silicate_activities(inside, T1600)
    assert np.all(a_mno <= 1 + 1e-9) and np.all(a_sio2 <= 1 + 1e-9)


@pytest.mark.parametrize(
    "mn, si, silica", [(1.4, 0.25, False), (2.0, 0.1, False), (1.0, 0.15, False), (1.2, 0.25, True)]
)
def test_silicon_and_manganese_together(mn, si, silica):
    """Both activities of the silicate obey their constants, and together they take the oxygen lower
    than silicon alone, whose silica obeys its own. Much silicon leaves silica beside the silicate.
    """
    pct = {"Mn": mn, "Si": si, "O": 0.06, "C": 0.05}
    both, alone = (
        deoxidation.deoxidise(per_100t(p), T1600, "msts")
        for p in (pct, {e: p for e, p in pct.items() if e != "Mn"})
    )
    mol, x = both.oxides_kg["MnO"] / molar_mass("MnO"), both.silica_in_silicate
    held = both.oxides_kg["MnO"] + mol * x / (1.0 - x) * molar_mass("SiO2")
    assert both.silicate_kg == pytest.approx(held, rel=1e-6)
    assert silica or both.silicate_kg == pytest.approx(sum(both.oxides_kg.values()), rel=1e-9)
    assert "silicate" in both.words and silica == ("% silica," in both.words)
    left = {e: 100.0 * x / sum(alone.element_kg.values()) for e, x in alone.element_kg.items()}
    left.pop("Fe")
    h = activities(left, T1600, "msts", quiet=True).h
    assert np.log10(h["Si"] * h["O"] ** 2) == pytest.approx(
        -equilibria.log_k("Si-O", T1600, "msts"), abs=1e-4
    )
    mass = sum(both.element_kg.values())
    melt = activities(
        {e: 100.0 * kg / mass for e, kg in both.element_kg.items() if e != "Fe"},
        T1600,
        "msts",
        quiet=True,
    )
    a_mno, a_sio2 = silicate_activities(both.silica_in_silicate, T1600)
    assert 10 ** equilibria.log_k("Mn-O", T1600, "msts") * melt.h["Mn"] * melt.h[
        "O"
    ] == pytest.approx(a_mno, rel=2e-3)
    assert 10 ** equilibria.log_k("Si-O", T1600, "msts") * melt.h["Si"] * melt.h[
        "O"
    ] ** 2 == pytest.approx(a_sio2, rel=2e-3)
    moles = {o: kg / molar_mass(o) for o, kg in both.oxides_kg.items()}
    if not silica:
        share = moles["SiO2"] / sum(moles.values())
        assert share == pytest.approx(both.silica_in_silicate, rel=1e-6)
    assert both.oxygen_activity < alone.oxygen_activity
    assert both.oxygen_pct < alone.oxygen_pct or silica  # manganese lets steel hold more


def test_manganese_alone_is_at_equilibrium_with_its_oxide():
    found = deoxidation.deoxidise(per_100t({"Mn": 1.5, "O": 0.12}), T1600, "msts", quiet=True)
    pct = {e: 100.0 * x / sum(found.element_kg.values()) for e, x in found.element_kg.items()}
    pct.pop("Fe")
    h = activities(pct, T1600, "msts", quiet=True).h
    assert found.oxides_kg["MnO"] > 0.0
    assert np.log10(h["Mn"] * h["O"]) == pytest.approx(
        -equilibria.log_k("Mn-O", T1600, "msts"), abs=1e-4
    )


def test_which_oxide_forms():
    """Alumina takes all once there is aluminium enough; little deoxidiser leaves iron oxide at
    saturation (0.23 % O at 1600 degC, feo_lines).
    """
    words = [
        deoxidation.deoxidise(per_100t({"Mn": 0.6, "Si": 0.2, "O": 0.06, "Al": al}), T1600).words
        for al in (0.0, 0.03, 0.09)
    ]
    assert (
        words[0] == "100 % silica"
        and "alumina" in words[1]
        and "silica" in words[1]
        and words[2] == "100 % alumina"
    )
    much = deoxidation.deoxidise(per_100t({"O": 0.3}), T1600)
    assert (
        much.oxygen_pct == pytest.approx(0.23, abs=0.002)
        and "FeO" in much.oxides_kg
        and much.remarks
    )
    quiet = deoxidation.deoxidise(per_100t({"C": 0.05, "Mn": 0.1, "O": 0.06}), T1600)
    assert (
        not quiet.oxides_kg
        and quiet.oxygen_pct == pytest.approx(0.06)
        and quiet.words == "no inclusions form"
    )


@settings(max_examples=40)
@given(
    al=st.floats(0, 0.3),
    si=st.floats(0, 0.6),
    mn=st.floats(0, 2),
    o=st.floats(0.002, 0.2),
    temp_c=st.floats(1520, 1690),
)
def test_deoxidation_keeps_every_atom_and_never_supersaturates(al, si, mn, o, temp_c):
    bath = per_100t({"C": 0.06, "Al": al, "Si": si, "Mn": mn, "O": o})
    found = deoxidation.deoxidise(bath, temp_c + 273.15, "msts")
    left = dict(found.element_kg)
    for oxide, kg in found.oxides_kg.items():
        for element, part in formula(oxide).items():
            left[element] = left.get(element, 0.0) + kg / molar_mass(oxide) * part * atomic_weight(
                element
            )
    for element, kg in bath.items():
        assert left[element] == pytest.approx(kg, rel=1e-9, abs=1e-6)
    mass = sum(found.element_kg.values())
    melt = activities(
        {e: 100 * kg / mass for e, kg in found.element_kg.items() if e != "Fe"},
        temp_c + 273.15,
        "msts",
        quiet=True,
    )
    for key, element, n, m in (("Al-O", "Al", 2, 3), ("Si-O", "Si", 1, 2), ("Mn-O", "Mn", 1, 1)):
        assert (
            10 ** equilibria.log_k(key, temp_c + 273.15, "msts")
            * melt.h[element] ** n
            * melt.h["O"] ** m
            < 1.003
        )


# ---- alloys: by hand, at least mass --------------------------------------------------------------


def test_alloy_exercise():
    """Own exercise, 160 t: Mn .10 to 1.40, Si 0 to .20 by silicomanganese and ferromanganese;
    carbon and phosphorus they bring. Dilution left out.
    """
    simn = alloys.addition_kg(1000.0, 0.20, 17.0, 90.0, dilution=False)
    assert simn == pytest.approx(13.07, abs=0.005)
    mn = simn * 0.66 * 0.95 / 10
    assert mn == pytest.approx(0.820, abs=5e-4)
    femn = alloys.addition_kg(1000.0, 1.30 - mn, 76.0, 95.0, dilution=False)
    assert femn == pytest.approx(6.65, abs=0.006)
    assert simn * 0.017 * 0.95 / 10 == pytest.approx(
        0.021, abs=5e-4
    ) and femn * 0.07 * 0.95 / 10 == pytest.approx(0.044, abs=5e-4)
    assert (simn * 0.0015 + femn * 0.0020) / 10 == pytest.approx(0.003, abs=4e-4)
    # with dilution a little more is needed
    assert alloys.addition_kg(1000.0, 0.20, 17.0, 90.0) == pytest.approx(
        1000 * 0.20 / (17 * 0.9 - 0.20)
    )


CHOICES = [
    (
        ["silicomanganese", "ferromanganese"],
        {"Mn": (1.2, 1.4), "Si": (0.15, 0.30), "C": (0.0, 0.16)},
    ),
    (["ferrosilicon", "ferromanganese"], {"Mn": (0.8, 1.0), "Si": (0.2, 0.4), "P": (0.0, 0.025)}),
    (["ferromanganese", "ferromanganese_lc"], {"Mn": (1.0, 1.3), "C": (0.0, 0.08)}),
    (["carburiser", "ferromanganese_mc"], {"Mn": (0.5, 0.6), "C": (0.20, 0.22), "S": (0.0, 0.015)}),
]


def _brute(steel, aims, keys, prices, top_kg, n=801):
    """Cheapest of a fine grid of two alloys, by plain arithmetic on mass and recoveries."""
    share = alloys.recovery()
    grid = np.meshgrid(np.linspace(0, top_kg[0], n), np.linspace(0, top_kg[1], n), indexing="ij")
    per_kg = {
        k: sum(p / 100 * share[e] for e, p in alloys.alloy(k).analysis_pct.items() if e in share)
        for k in keys
    }
    mass = steel.mass_kg + sum(x * per_kg[k] for k, x in zip(keys, grid, strict=True))
    fits = np.ones((n, n), bool)
    for element, (low, high) in aims.items():
        kg = steel.element_kg().get(element, 0.0)
        kg = kg + sum(
            x * alloys.alloy(k).pct(element) / 100 * share[element]
            for k, x in zip(keys, grid, strict=True)
        )
        fits &= (100 * kg / mass >= low - 1e-9) & (100 * kg / mass <= high + 1e-9)
    cost = sum(prices[k] * x for k, x in zip(keys, grid, strict=True))
    return np.where(fits, cost, np.inf).min()


@pytest.mark.parametrize("keys, aims", CHOICES)
@pytest.mark.parametrize("dear", [1.0, 3.0])
def test_least_additions_against_brute_force(keys, aims, dear):
    """The exact corner is never dearer than the best of 640 000 mixtures, and no dearer than one
    step of the grid below it.
    """
    steel = LiquidMetal(100e3, {"C": 0.04, "Mn": 0.10, "P": 0.012, "S": 0.012}, 1600.0)
    prices = dict(zip(keys, (1.0, dear), strict=True))
    found = alloys.least_additions(steel, aims, keys, prices=prices)
    top = [2.0 * found.kg[k] + 200.0 for k in keys]
    best = _brute(steel, aims, keys, prices, top)
    step = sum(prices[k] * t / 800 for k, t in zip(keys, top, strict=True))
    assert found.cost <= best + 1e-6
    assert found.cost >= best - step
    for element, (low, high) in aims.items():
        assert low - 1e-7 <= found.analysis_pct.get(element, 0.0) <= high + 1e-7


def test_least_additions_by_random_search():
    """Five alloys and five elements: none of 200 000 random mixtures near and around the corner is
    both allowed and lighter.
    """
    steel = LiquidMetal(100e3, {"C": 0.04, "Mn": 0.10, "P": 0.012, "S": 0.012}, 1600.0)
    keys = ["silicomanganese", "ferromanganese", "ferromanganese_lc", "ferrosilicon", "carburiser"]
    aims = {
        "C": (0.14, 0.18),
        "Mn": (1.35, 1.5),
        "Si": (0.25, 0.4),
        "P": (0.0, 0.020),
        "S": (0.0, 0.02),
    }
    found = alloys.least_additions(steel, aims, keys)
    random = np.random.default_rng(1)
    x = np.array([found.kg[k] for k in keys])
    tried = np.abs(
        x + random.normal(0, 1, (200_000, 5)) * random.choice([3.0, 30.0, 300.0], (200_000, 1))
    )
    share = alloys.recovery()
    analyses = [
        {e: p / 100 * share[e] for e, p in alloys.alloy(k).analysis_pct.items() if e in share}
        for k in keys
    ]
    mass = steel.mass_kg + tried @ [sum(a.values()) for a in analyses]
    fits = np.ones(len(tried), bool)
    for element, (low, high) in aims.items():
        pct = (
            100
            * (
                steel.element_kg().get(element, 0.0)
                + tried @ [a.get(element, 0.0) for a in analyses]
            )
            / mass
        )
        fits &= (pct >= low) & (pct <= high)
    assert fits.sum() > 50
    assert tried[fits].sum(axis=1).min() >= found.total_kg - 1e-6


def test_impossible_additions_name_the_limit():
    steel = LiquidMetal(100e3, {"C": 0.04, "Mn": 0.10, "P": 0.012, "S": 0.012}, 1600.0)
    with pytest.raises(InputError, match="without the limit C of 0.05 % or less or without Mn"):
        alloys.least_additions(steel, {"C": (0.0, 0.05), "Mn": (1.2, 1.4)}, ["ferromanganese"])
    with pytest.raises(InputError, match="several"):
        alloys.least_additions(
            steel, {"C": (0.0, 0.01), "P": (0.0, 0.005), "Mn": (1.2, 1.4)}, ["ferromanganese"]
        )
    assert alloys.least_additions(steel, {"Mn": (0.05, 0.2)}, ["ferromanganese"]).total_kg == 0.0


# ---- the balance of a ladle ----------------------------------------------------------------------


@pytest.mark.parametrize("coefficients", ["msts", "jsps"])
def test_everything_at_once_closes(coefficients):
    """Slag, air, oxygen, argon, nitrogen, alloys with losses, lime, scrap, arc, loss: every element
    and the heat, in both sets.
    """
    stage = ladle.treat(
        tapped(700.0, coefficients=coefficients, Cu=0.03),
        {
            "aluminium": 260.0,
            "silicomanganese": 2000.0,
            "ferromanganese": 900.0,
            "carburiser": 90.0,
            "ferrovanadium": 40.0,
            "nickel": 50.0,
        },
        slag=slag_kg(800.0),
        slag_reduced_pct=80.0,
        solids=[
            Solid(500.0, material("lime")),
            Solid(300.0, material("own_scrap")),
            Solid(200.0, material("limestone")),
        ],
        air_nm3=50.0,
        oxygen_nm3=30.0,
        argon_nm3=20.0,
        nitrogen_pickup_ppm=12.0,
        energy_kwh=2500.0,
        loss_c=40.0,
        compound_heat=True,
    )
    assert worst(stage) < 1e-9
    pct = stage.steel.analysis_pct
    assert pct["N"] == pytest.approx(0.0012, rel=0.05) and pct["V"] == pytest.approx(
        40 * 0.8 * 0.93 / 1620, rel=0.03
    )


@settings(max_examples=25)
@given(
    o=st.floats(100, 1200),
    al=st.floats(0, 500),
    simn=st.floats(0, 3000),
    carry=st.floats(0, 15),
    air=st.floats(0, 100),
    loss=st.floats(0, 60),
    temp_c=st.floats(1620, 1670),  # hotter and much aluminium would pass the 1715 °C allowed
)
def test_ladle_closes(o, al, simn, carry, air, loss, temp_c):
    stage = ladle.treat(
        tapped(o, temp_c=temp_c),
        {"aluminium": al, "silicomanganese": simn},
        slag=slag_kg(carry * 160 + 1e-3),
        air_nm3=air,
        loss_c=loss,
        nitrogen_pickup_ppm=10.0,
    )
    assert worst(stage) < 1e-9


def test_arrays_and_single_ladles_agree():
    al = np.array([0.0, 120.0, 260.0])
    many = ladle.treat(tapped(), {"aluminium": al, "silicomanganese": 1500.0}, slag=slag_kg(800.0))
    one = [
        ladle.treat(tapped(), {"aluminium": x, "silicomanganese": 1500.0}, slag=slag_kg(800.0))
        for x in al
    ]
    assert many.temp_c == pytest.approx([s.temp_c for s in one], abs=2e-3)
    for element in ("Al", "Si", "Mn", "O"):
        assert many.steel.analysis_pct[element] == pytest.approx(
            [s.steel.analysis_pct.get(element, 0.0) for s in one], rel=1e-3, abs=1e-7
        )
    assert worst(many) < 1e-9


@pytest.mark.parametrize("kg_t, ppm", [(2, 17), (5, 44), (10, 87), (15, 131)])
def test_phosphorus_that_returns(kg_t, ppm):
    """Own earlier calculation: 2 % P2O5 in the slag carried over gives back 8.7 ppm P per kg/t at
    most; also by slag_metal.phosphorus_reversion().
    """
    steel = tapped(600.0)
    stage = ladle.treat(steel, {"aluminium": 500.0}, slag=slag_kg(kg_t * 160.0))
    gained = 1e6 * (stage.steel.element_kg()["P"] - steel.element_kg()["P"]) / steel.mass_kg
    assert gained == pytest.approx(ppm, abs=0.6)
    plain = slag_metal.phosphorus_reversion(steel.mass_kg, 0.012, slag_kg(kg_t * 160.0))
    assert 1e4 * (plain - 0.012) == pytest.approx(ppm, rel=0.03)


def test_killing_warms():
    """Al + [O]: +3.1 degC per 100 ppm of oxygen bound (own earlier calculation, 1.124 kg x 27.4
    degC).
    """
    quiet = {"recovery_pct": {"Al": 100}}
    a, b = (ladle.treat(tapped(ppm), {"aluminium": 300.0}, **quiet) for ppm in (300.0, 800.0))
    assert (b.temp_c - a.temp_c) / 5 == pytest.approx(3.1, abs=0.15)


def test_chemical_heating():
    """Al burnt with oxygen gas: +33.5 degC per kg/t and 0.623 Nm3 O2 per kg (own earlier
    calculation); the whole balance gives the same.
    """
    kg_t = 10.0 / ladle_temperature.addition_effect_c("Al", 1600.0, oxygen="oxygen gas")
    nm3_t = 0.623 * kg_t
    steel = ladle.with_oxygen(LiquidMetal(160e3, {"C": 0.1, "Mn": 1.0, "Al": 0.04}, 1580.0), 4.0)
    stage = ladle.treat(
        steel, {"aluminium": 160 * kg_t / 0.985}, oxygen_nm3=160 * nm3_t, recovery_pct={"Al": 100}
    )
    assert stage.change_c == pytest.approx(10.0, abs=0.2)
    assert stage.steel.analysis_pct["Al"] == pytest.approx(0.04, abs=5e-4)


def test_heat_of_what_burns_is_kept_by_the_share_that_is_said():
    """Four tenths of 300 kg of aluminium burn, to alumina at -1675.7 kJ/mol (NIST-JANAF, 298.15 K):
    what the steel does not keep of that heat is a loss.
    """
    loss = [
        ladle.treat(
            tapped(600.0), {"aluminium": 300.0}, recovery_pct={"Al": 60}, burn_heat_pct=pct
        ).heat_loss_kj
        for pct in (0.0, 25.0, 100.0)
    ]
    burnt_kj = 1000.0 * 0.4 * 300.0 * 0.985 / 26.982 * 1675.7 / 2.0
    assert loss[0] - loss[2] == pytest.approx(burnt_kj, rel=0.001)
    assert loss[0] - loss[1] == pytest.approx(0.25 * (loss[0] - loss[2]), rel=1e-9)
    assert loss[2] == pytest.approx(0.0, abs=1e-6 * burnt_kj)  # all kept: no other loss was given


def test_corners_are_as_many_as_choices():
    """k alloys out of n and k limits out of m, for every k (Vandermonde)."""
    for m, n in ((1, 1), (4, 3), (9, 5)):
        assert alloys._count(m, n) == sum(comb(m, k) * comb(n, k) for k in range(n + 1))


def test_arc_heating():
    kwh = 160.0 * 20.0 * ladle_temperature.heat_capacity_kj_t({}, 1600.0) / 3600.0 / 0.5
    steel = ladle.with_oxygen(LiquidMetal(160e3, {"C": 0.1, "Al": 0.04}, 1580.0), 4.0)
    assert ladle.treat(steel, energy_kwh=kwh, arc_efficiency_pct=50.0).change_c == pytest.approx(
        20.0, abs=0.15
    )


def test_loss_is_what_was_asked_for():
    steel = ladle.with_oxygen(
        LiquidMetal(160e3, {"C": 0.1, "Al": 0.04}, 1600.0), 3.0
    )  # near equilibrium: hardly anything burns
    assert ladle.treat(steel, loss_c=25.0).change_c == pytest.approx(-25.0, abs=0.05)


def test_carbon_on_oxidised_steel_is_marked():
    stage = ladle.treat(tapped(900.0), {"carburiser": 300.0})
    assert stage.boil_ratio > 1 and "boils" in stage.remarks[-1]
    killed = ladle.treat(tapped(900.0), {"carburiser": 300.0, "aluminium": 400.0})
    assert killed.remarks == (
        "e_O^Al: Al 0.09617 % was given, known for 0 to 0.07 % (our own choice)",
    )


def test_slag_over_unkilled_steel_keeps_its_oxides():
    """Nothing strong is added: by default no oxide of the slag is reduced, and the steel keeps its
    oxygen.
    """
    calm = ladle.treat(tapped(500.0), {"ferromanganese": 500.0}, slag=slag_kg(800.0))
    assert calm.slag.oxides_kg["FeO"] == pytest.approx(160.0)
    assert calm.steel.element_kg()["P"] == pytest.approx(tapped().element_kg()["P"] + 500 * 0.002)
    asked = ladle.treat(
        tapped(500.0), {"ferromanganese": 500.0}, slag=slag_kg(800.0), slag_reduced_pct=50
    )
    assert asked.slag.oxides_kg["FeO"] == pytest.approx(80.0)


def test_two_additions_of_one_title_are_both_counted():
    twice = ladle.treat(
        tapped(),
        {"aluminium": 200.0},
        solids=[Solid(100.0, material("lime")), Solid(150.0, material("lime"))],
    )
    assert worst(twice) < 1e-9 and twice.slag.oxides_kg["CaO"] > 230


def test_carried_over_slag():
    whole = slag_kg(12e3)
    part = ladle.carry_over(whole, 160e3, 5.0)
    assert part.mass_kg == pytest.approx(800.0) and part.analysis_pct["FeO"] == pytest.approx(20.0)
    with pytest.raises(InputError, match="carried over"):
        ladle.carry_over(whole, 160e3, 100.0)


# ---- temperature ---------------------------------------------------------------------------------

EFFECTS = [
    ("Fe", {}, -1.65, 0.02),
    ("C", {}, -5.6, 0.1),
    ("Si", {}, 1.7, 0.05),
    ("ferrosilicon", {}, 0.89, 0.05),
    ("ferrosilicon", {"compound_heat": True}, 0.45, 0.05),
    ("ferrosilicon_50", {}, 0.0, 0.05),
    ("ferrosilicon_50", {"compound_heat": True}, -0.8, 0.15),
    ("ferromanganese", {}, -2.0, 0.05),
    ("ferromanganese", {"compound_heat": True}, -2.3, 0.05),
    ("silicomanganese", {}, -1.3, 0.06),
    ("silicomanganese", {"compound_heat": True}, -1.7, 0.06),
    ("Al", {}, 0.2, 0.05),
    ("Al", {"coefficients": "jsps"}, 0.6, 0.06),
    ("Al", {"oxygen": "dissolved oxygen"}, 27.4, 0.3),
    ("Al", {"oxygen": "oxygen gas"}, 33.5, 0.3),
    ("Si", {"oxygen": "dissolved oxygen"}, 26.6, 0.3),
    ("Si", {"oxygen": "oxygen gas"}, 34.4, 0.3),
    ("CaO", {}, -1.8, 0.05),
    ("CaCO3", {}, -4.2, 0.05),
]


@pytest.mark.parametrize("addition, options, change, tolerance", EFFECTS)
def test_effect_of_additions(addition, options, change, tolerance):
    """Own earlier calculation, degC per kg/t at 1600 degC; with and without the recalled heats of
    forming the alloys.
    """
    assert ladle_temperature.addition_effect_c(addition, 1600.0, **options) == pytest.approx(
        change, abs=tolerance
    )


def test_effects_against_whole_balances():
    """The small-addition effect and a whole ladle with 2 kg/t of one alloy agree, full recovery,
    nothing to deoxidise.
    """
    steel = ladle.with_oxygen(
        LiquidMetal(100e3, {"C": 0.1, "Si": 0.3, "Mn": 1.0, "Al": 0.05}, 1600.0), 3.0
    )
    full = {"recovery_pct": {e: 100 for e in ("C", "Si", "Mn", "Al", "Cr")}}
    idle = ladle.treat(steel, **full).temp_c
    for key in ("ferromanganese", "silicomanganese", "ferrosilicon", "ferrochromium"):
        whole = (ladle.treat(steel, {key: 200.0}, **full).temp_c - idle) / 2.0
        assert whole == pytest.approx(ladle_temperature.addition_effect_c(key, 1600.0), abs=0.06), (
            key
        )


def test_burning_and_lime_against_whole_balances():
    """Aluminium with the oxygen gas that it takes, and lime: effect and whole ladle agree."""
    steel = ladle.with_oxygen(
        LiquidMetal(100e3, {"C": 0.1, "Si": 0.3, "Mn": 1.0, "Al": 0.05}, 1600.0), 3.0
    )
    full = {"recovery_pct": {"Al": 100}}
    idle = ladle.treat(steel, **full).temp_c
    lime = material("lime")
    warm = ladle.treat(steel, solids=[Solid(200.0, lime)], **full).temp_c
    assert (warm - idle) / 2.0 == pytest.approx(
        ladle_temperature.addition_effect_c(lime, 1600.0),
        rel=0.2,  # there it melts to slag
    )
    kg, share = 50.0, alloys.alloy("aluminium").analysis_pct["Al"] / 100.0
    o2 = kg * share / 26.982 * 0.75 * 22.414  # Nm3
    blown = ladle.treat(steel, {"aluminium": kg}, oxygen_nm3=o2, **full).temp_c
    assert (blown - idle) / 0.5 == pytest.approx(
        ladle_temperature.addition_effect_c("aluminium", 1600.0, oxygen="oxygen gas"), rel=0.02
    )
    steel = ladle.with_oxygen(LiquidMetal(100e3, {"C": 0.1}, 1600.0), 600.0)
    idle = ladle.treat(steel).temp_c
    killed = ladle.treat(steel, {"aluminium": 40.0}, **full)
    taken = 40.0 * share - 1000.0 * killed.steel.analysis_pct.get("Al", 0.0)  # kg bound
    by_effect = taken * ladle_temperature.addition_effect_c("Al", 1600.0, oxygen="dissolved oxygen")
    assert (killed.temp_c - idle) * 100.0 == pytest.approx(by_effect, rel=0.03)


def test_aluminium_that_is_lost_is_a_part_of_the_demand():
    """All parts make the whole, and of a recovery of 60 % four tenths are lost."""
    demand = ladle.aluminium_demand_kg_t(600.0, 0.03, recovery_pct=60.0)
    total = demand.pop("total")
    assert sum(demand.values()) == pytest.approx(total)
    assert demand["lost"] == pytest.approx(0.4 * total)


def test_heat_capacity_of_steel():
    """Liquid iron: 46.02 J/(mol K) = 0.824 kJ/(kg K) (NIST-JANAF)."""
    assert ladle_temperature.heat_capacity_kj_t({}, 1600.0) == pytest.approx(
        1000 * 46.02 / 55.845, rel=1e-3
    )


def test_tap_path():
    """An illustration: liquidus 1523 + superheat 25 + tundish 10 + waiting 20 + alloys 25 + tap 45
    = 1648 degC.
    """
    steel = {"C": 0.10, "Si": 0.20, "Mn": 0.50, "P": 0.015, "S": 0.010, "Al": 0.03}
    path = ladle_temperature.tap_path(
        steel,
        additions_c=-25,
        hold_min=20,
        hold_c_min=1.0,
        superheat_c=25,
        tundish_c=10,
        tap_drop_c=45,
    )
    assert path.liquidus_c == pytest.approx(1523.2, abs=0.1) and path.tap_c == pytest.approx(
        1648, abs=0.5
    )
    assert path.steps[-1].temp_c == pytest.approx(path.liquidus_c + 25) and not path.freezes
    cold = ladle_temperature.tap_path(steel, 1600.0, additions_c=-25, hold_min=40, cold_ladle=True)
    assert cold.freezes and cold.superheat_c < 0
    assert all(s.status in ("plant value", "calculated") for s in cold.steps)


# ---- stirring ------------------------------------------------------------------------------------


def test_every_step_of_the_tap_path_counts_in_full():
    """A degree more of any loss, or of superheat, is a degree more at the tap; without steps
    nothing is left but the liquidus and the superheat.
    """
    steel, asked = {"C": 0.16, "Mn": 1.5, "Si": 0.3}, {"hold_min": 20.0, "stir_min": 10.0}
    usual = ladle.tap_path(steel, cold_ladle=True, **asked)
    minutes = {"hold_c_min": 20.0, "stir_c_min": 10.0}
    for key, value in usual.assumed.items():
        more = ladle.tap_path(steel, cold_ladle=True, **asked, **{key: 1.02 * value})
        rise = 0.02 * value * minutes.get(key, 1.0)
        assert more.tap_c - usual.tap_c == pytest.approx(rise, abs=1e-9), key
    warmer = ladle.tap_path(steel, cold_ladle=True, **asked, heating_c=15.0, additions_c=-20.0)
    assert warmer.tap_c - usual.tap_c == pytest.approx(5.0, abs=1e-9)
    lost = sum(step.change_c for step in usual.steps)
    assert usual.liquidus_c == liquidus_c(steel)
    assert usual.superheat_c == pytest.approx(usual.assumed["superheat_c"])
    assert usual.tap_c == pytest.approx(usual.liquidus_c + usual.superheat_c - lost)


def test_stirring_gas_is_that_of_the_mean_pressure():
    """Ideal gas: at the bottom of a deep bath it takes less room than at the top, on the mean of
    the two pressures; 1.48 m of steel weigh an atmosphere.
    """
    shallow, deep = (
        stirring.gas_flow_m3_s(0.5, depth, 1600.0, surface_pa=101325.0) for depth in (1e-6, 2.96)
    )
    assert shallow == pytest.approx(0.5 / 60.0 * 1873.15 / 273.15, rel=1e-4)
    assert shallow / deep == pytest.approx((1.0 + 3.0) / 2.0, rel=5e-3)


def test_stirring_constant_is_derived():
    """R ln 10 / (60 x 0.022414) = 14.236 and 1.480 m of steel per atm: both follow from the
    definition (the recalled equation has 14.23 and 1.48).
    """
    assert R * np.log(10) / (60 * 0.022414) == pytest.approx(14.236, abs=1e-3)
    one_atm = 101325 / (6977 * 9.80665)
    assert one_atm == pytest.approx(1.480, abs=1.5e-3)
    for v, m, h, p in itertools.product((0.2, 0.8), (100.0, 300.0), (2.0, 3.6), (1.0, 0.01)):
        by_constant = 14.236 * v * T1600 / m * np.log10(1 + h / (1.480 * p))
        assert stirring.stirring_power_w_t(v, m, h, 1600.0, p * 101325) == pytest.approx(
            by_constant, rel=1.5e-3
        )


@pytest.mark.parametrize(
    "m, d, h, v, power, nakanishi, guthrie, mandal, vacuum",
    [
        (200, 3.4, 3.16, 0.4, 26.4, 216, 95, 97, 124),
        (200, 3.4, 3.16, 0.8, 52.9, 164, 75, None, 249),
        (150, 3.0, 3.04, 0.3, 25.9, 218, 80, None, 123),
        (300, 3.9, 3.60, 0.5, 23.8, 225, 108, None, 106),
    ],
)
def test_stirring_table(m, d, h, v, power, nakanishi, guthrie, mandal, vacuum):
    """Own earlier calculation at 1600 degC, 1 and 0.01 atm; the correlations differ by a factor of
    more than 2.
    """
    assert stirring.stirring_power_w_t(v, m, h) == pytest.approx(power, rel=0.005)
    assert stirring.stirring_power_w_t(v, m, h, surface_pa=1013.25) == pytest.approx(
        vacuum, rel=0.005
    )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)
        times = stirring.mixing_times(v, m, d, h)
    assert times["Nakanishi 1975"].seconds == pytest.approx(nakanishi, abs=1)
    assert times["Mazumdar-Guthrie"].seconds == pytest.approx(guthrie, abs=1)
    if mandal:
        assert times["Mandal 2005"].seconds == pytest.approx(mandal, abs=1)
    seconds = [t.seconds for t in times.values()]
    assert max(seconds) / min(seconds) > 2


def test_mixing_time_in_water_models():
    """Mandal and others 2005 (abstract) against the recalled 37-form in three water models: 39, 30,
    22 against 38, 30, 22 s.
    """
    for size, flow, published, recalled in (
        (0.60, 3e-4, 39, 38),
        (0.45, 2e-4, 30, 30),
        (0.30, 1e-4, 22, 22),
    ):
        got = stirring.mixing_time("Mandal 2005", size, size, flow_m3_s=flow)
        assert (
            got.seconds == pytest.approx(published, abs=0.6)
            and not got.extrapolated
            and got.status == "derived"
        )
        w_kg = 9.80665 * flow * size / (np.pi / 4 * size**3)
        assert 37 * w_kg ** (-1 / 3) * (size / 2) ** (5 / 3) / size == pytest.approx(
            recalled, abs=0.6
        )
        mine = stirring.mixing_time("Mazumdar-Guthrie", size, size, power_w_t=1000 * w_kg)
        assert mine.seconds == pytest.approx(
            37 * w_kg ** (-1 / 3) * (size / 2) ** (5 / 3) / size, rel=0.01
        )


def test_a_real_ladle_lies_outside_the_water_models():
    with pytest.warns(ExtrapolationWarning, match="Mandal"):
        assert stirring.mixing_time("Mandal 2005", 3.4, 3.2, flow_m3_s=0.02).extrapolated


def test_expansion_counted_too():
    """The other form, 6.182 (V T/M) [ln(...) + 1 - Tg/T]: the constant is R / (60 x 0.022414)."""
    assert R / (60 * 0.022414) == pytest.approx(6.182, abs=1e-3)
    one = stirring.stirring_power_w_t(0.4, 200, 3.16, expansion_from_c=25.0)
    plain = stirring.stirring_power_w_t(0.4, 200, 3.16)
    assert one - plain == pytest.approx(6.182 * 0.4 * T1600 / 200 * (1 - 298.15 / T1600), rel=1e-3)


# ---- hydrogen and nitrogen -----------------------------------------------------------------------


def test_nitrogen_pressure():
    """10 ppm N needs less than 45 Pa (Q. Q. Li, abstract); 48.3 by the line of Ishii 1982, 50.4 by
    msts and 46.3 by jsps.
    """

    def pressure_pa(**options):
        return (10.0 / degassing.equilibrium_ppm("N", 101325.0, **options)) ** 2 * 101325.0

    assert pressure_pa(line="ishii82") == pytest.approx(45, rel=0.10)
    assert pressure_pa(coefficients="msts") == pytest.approx(45, rel=0.13)
    assert pressure_pa() == pytest.approx(45, rel=0.035)


def test_hydrogen_under_vacuum():
    """Sieverts with the line of Nozaki 1966: 0.93 ppm at 1 torr, 0.66 at 0.5 torr (own earlier
    calculation from 25.6 ppm at 1 atm).
    """
    assert degassing.equilibrium_ppm("H", 133.322, line="nozaki66") == pytest.approx(
        0.93, abs=0.005
    )
    assert degassing.equilibrium_ppm("H", 66.661, line="nozaki66") == pytest.approx(0.66, abs=0.005)


def test_ratio_of_hydrogen_at_two_pressures():
    """NPTEL lecture 25, p. 4: 3.450 and 1.092 ppm at 10 and 1 mmHg: the ratio is the square root of
    ten.
    """
    ten, one = (degassing.equilibrium_ppm("H", p * 133.322, 1577.0) for p in (10.0, 1.0))
    assert ten / one == pytest.approx(3.450 / 1.092, rel=0.002)


def test_carbon_monoxide_by_volume_and_mass():
    """200 and 25 ppm CO are 229 and 29 mg/m3 (wallturner.com); its 50 and 35 ppm as 55 and 38.5 use
    another factor and are wrong.
    """
    assert ppm_to_mg_m3(200.0, "CO") == pytest.approx(229, abs=0.6)
    assert ppm_to_mg_m3(25.0, "CO") == pytest.approx(29, abs=0.6)


# ---- a heat from pretreatment to a specification -------------------------------------------------


def test_from_hot_metal_to_s355j2():
    """Pretreatment, charge, tap, ladle, EN 10025-2 S355J2: every balance closed on the way."""
    iron = LiquidMetal(150e3, {"C": 4.5, "Si": 0.45, "Mn": 0.35, "P": 0.085, "S": 0.03}, 1360.0)
    treated = pretreatment.desulphurise(
        iron, pretreatment.dose(iron, 0.004, {"magnesium": 1, "lime_powder": 4})
    )
    charged = pretreatment.into_vessel(treated)
    pct = {e: p for e, p in charged.analysis_pct.items() if e != "Fe"}
    heat = charge.solve(
        hot_metal_kg=charged.mass_kg, hot_metal_pct=pct, hot_metal_temp_c=charged.temp_c
    )
    steel = ladle.with_oxygen(heat.steel, 650.0)
    slag = ladle.carry_over(heat.slag, heat.steel.mass_kg, 5.0)
    spec = specification("EN 10025-2", "S355J2", thickness_mm=20)
    aims = spec.window() | {
        "C": (0.15, 0.18),
        "Mn": (1.40, 1.55),
        "Si": (0.20, 0.40),
        "Al": (0.025, 0.05),
    }
    met = ladle.meet(
        steel,
        aims,
        ["silicomanganese", "ferromanganese", "carburiser"],
        slag=slag,
        air_nm3=50.0,
        nitrogen_pickup_ppm=10.0,
        loss_c=45.0,
    )
    for stage in (treated, heat, met.stage):
        assert max(abs(v) for v in stage.closure().values()) < 1e-9
    check = spec.check(met.stage.steel.analysis_pct)
    assert check.ok and not check.missing, check.words
    for element, (low, high) in aims.items():
        assert low - 1e-6 <= met.stage.steel.analysis_pct.get(element, 0.0) <= high + 1e-6, element
    assert 1540 < met.stage.temp_c < 1640
    assert met.stage.bath.words == "100 % alumina"


# ---- refusals and sources ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "call, words",
    [
        (
            lambda: ladle.treat(LiquidMetal(1e3, {"C": 0.04}, 1650.0), {"aluminium": 1.0}),
            "dissolved oxygen",
        ),
        (lambda: ladle.treat(tapped(), {"unobtainium": 1.0}), "alloy"),
        (lambda: ladle.treat(tapped(), {"aluminium": float("nan")}), "aluminium"),
        (lambda: ladle.treat(tapped(), {"aluminium": 1.0}, recovery_pct={"Al": 120}), "aluminium"),
        (lambda: ladle.treat(tapped(), {"aluminium": 1.0}, recovery_pct={"P": 50}), "in full"),
        (lambda: ladle.treat(tapped(), loss_c=300.0), "temperature of the steel"),
        (
            lambda: ladle.treat(
                tapped(), solids=[Solid(1.0, material("coke"))], slag_reduced_pct=-1
            ),
            None,
        ),
        (lambda: ladle.with_oxygen(tapped(), 5000), "2300"),
        (lambda: ladle.aluminium_demand_kg_t(3.0, 0.03, left_ppm=5.0), "bound"),
        (lambda: ladle.aluminium_demand_kg_t(300, 0.03, slag_pct={"CaO": 50}, slag_kg_t=5), "CaO"),
        (lambda: alloys.least_additions(tapped(), {"Mn": (1.0, 0.5)}, ["ferromanganese"]), "Mn"),
        (lambda: alloys.least_additions(tapped(), {"Mn": (0.5, 1.0)}, []), "none"),
        (lambda: alloys.addition_kg(1000, 10.0, 8.0), "content"),
        (lambda: ladle_temperature.addition_effect_c("Al", 1600, oxygen="air"), "oxygen"),
        (lambda: ladle_temperature.addition_effect_c("Al", 1873.15), "kelvin"),
        (lambda: stirring.stirring_power_w_t(-1, 200, 3), "gas flow"),
        (lambda: stirring.mixing_time("Nobody 1900", 3, 3, power_w_t=20), "Nakanishi"),
        (lambda: stirring.mixing_time("Mandal 2005", 3, 3, power_w_t=20), "flow_m3_s"),
        (lambda: degassing.equilibrium_ppm("O", 100.0), "allowed are N, H"),
        (lambda: deoxidation.deoxidise({"Fe": 1e5}, T1600), "oxygen"),
        (lambda: deoxidation.deoxidise(per_100t({"O": 0.05}), 1600.0), "kelvin|temperature"),
    ],
)
def test_refusals(call, words):
    if words is None:
        call()
    else:
        with pytest.raises(InputError, match=words):
            call()


def test_results_know_their_sources():
    stage = ladle.treat(
        tapped(), {"aluminium": 200.0, "silicomanganese": 1000.0}, slag=slag_kg(800.0)
    )
    said = " ".join(str(p) for p in sources(stage))
    assert (
        "aluminium that reaches the bath" in said
        and "silicomanganese" in said
        and "heat of solution of Al" in said
    )
    assert stage.assumed["recovery_mn_pct"] == 95.0
    for key in ("Mandal 2005", "manganese silicate", "silicomanganese", "tap_drop_c"):
        assert sources(key)


def test_how_far_a_tap_temperature_hangs_on_plant_values():
    """By hand: tap 20 to 50 °C, 30 min of 0.3 to 2 °C, tundish 10 to 35 °C: halves 15, 25.5 and
    12.5, as a root of squares.
    """
    path = ladle.tap_path({"C": 0.16}, hold_min=30.0)
    assert path.spread_c == pytest.approx((15.0**2 + 25.5**2 + 12.5**2) ** 0.5)
    assert ladle.tap_path({"C": 0.16}).spread_c == pytest.approx((15.0**2 + 12.5**2) ** 0.5)


def test_silicon_beside_the_slag_of_a_ladle():
    """By hand at 1600 degC with log K = 30 373/T - 11.606 of Si-O (the line that lesson 03 prints):
    K = 40 600, so 1e-4/(40 600 x 0.0004^2) = 0.0154 % as activity; f_Si is 1.02 by 0.05 % C, and
    0.06 x 0.04 more by aluminium. The band is that of Kang and others (2007), tables 2 and 3.
    """
    steel = {"C": 0.05, "Mn": 0.25, "Al": 0.04}
    found = ladle.silicon_beside_slag(1e-4, 0.0004, 1873.15, steel)
    assert found == pytest.approx(0.0154 / 10 ** (0.18 * 0.05), rel=0.03)
    assert ladle.silicon_beside_slag(1e-3, 0.0004, 1873.15, steel) == pytest.approx(10.0 * found)
    file = Path(__file__).parents[1] / "reference" / "check_ladle_slag_silica_activity.csv"
    with file.open(encoding="utf-8", newline="") as lines:
        measured = [float(row["a_SiO2_measured"]) for row in csv.DictReader(lines)]
    band = constant("ladle_silica_activity")
    assert len(measured) == 18
    assert (band["low"], band["high"]) == (min(measured), max(measured))
    assert band["value"] == pytest.approx(np.exp(np.mean(np.log(measured))), rel=0.02)
    with pytest.raises(InputError, match="activity of silica"):
        ladle.silicon_beside_slag(0.0, 0.0004, 1873.15, steel)
