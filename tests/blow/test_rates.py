"""How a blow ends: iron oxide by the law of slag/end_of_blow.py and not by the mass of slag, and
what shops are said to see (common practice, no source) at all works of the kit.
"""

import numpy as np
import pytest

from steelthermo import blow, charge
from steelthermo.base import kelvin, molar_mass
from steelthermo.jet import LancePattern
from steelthermo.slag import (
    cations_of,
    end_of_blow,
    end_of_blow_parameters,
    iron_oxide_at,
    slag_solution,
)
from steelthermo.works import load_profile

WORKS = ("heron", "dunlin", "plover")
MORE = 1.04  # of the oxygen planned, so that every heat passes 0.04 % C


@pytest.fixture(scope="module")
def heats():
    """A works' heat blown with its own oxygen, by works."""
    found = {}
    for name in WORKS:
        works = load_profile(name)
        found[name] = blow.solve(charge.solve(works).for_tap(works.vessel.tap_t), works)
    return found


def at_carbon(b, key, carbon_pct):
    """A quantity of a blow where its bath comes down to a carbon."""
    return np.interp(-carbon_pct, -b.of("C"), b.of(key)).item()


def test_silicon_hardly_moves_iron_oxide_at_equal_carbon():
    """0.2, 0.45 and 0.9 % Si of hot metal: slags of 40 to 110 kg/t. Iron oxide follows carbon: no
    more than 8 % apart at 0.04 % C and 4 % at 0.10 % (common practice, no source); a mass of iron
    oxide set by oxygen would be 19 % apart. To 0.3 % as slag/end_of_blow.py and DEVELOPERS.md tell.
    """
    works = load_profile("heron")
    found = []
    for silicon in (0.2, 0.45, 0.9):
        hot = dict(works.hot_metal.analysis_pct) | {"Si": silicon}
        heat = charge.solve(works, hot_metal_pct=hot).for_tap(180.0)
        b = blow.solve(heat, works, oxygen_nm3=MORE * heat.oxygen_nm3)
        found.append([at_carbon(b, "FeO", c) for c in (0.04, 0.10)])
    assert np.ptp(found, axis=0)[0] < 8.0 and np.ptp(found, axis=0)[1] < 4.0
    assert [found[0][0], found[-1][0]] == pytest.approx([17.3, 15.4], abs=0.3)
    assert 13.0 < np.min(found, axis=0)[0] and np.max(found, axis=0)[0] < 23.0


def test_a_high_lance_ends_with_more_iron_oxide_at_equal_carbon(heats):
    """Key nptel, lecture 13, soft blowing oxidises iron: at any carbon, also at the end, and there
    phosphorus is lower. A mass of iron oxide set by oxygen had it upside down.
    """
    heat = heats["heron"].charge
    low, middle, high = (
        blow.solve(
            heat,
            pattern=LancePattern((0, 18), (h, h), (460, 460)),
            oxygen_nm3=MORE * heat.oxygen_nm3,
        )
        for h in (1.3, 1.9, 2.6)
    )
    for carbon in (0.5, 0.1, 0.055):
        feo, p = ([at_carbon(b, key, carbon) for b in (low, middle, high)] for key in ("FeO", "P"))
        assert feo == sorted(feo) and p == sorted(p, reverse=True)


def _phosphorus(b):
    """At a third, just past the middle, near the end and at the end of a blow."""
    return np.interp((0.33, 0.55, 0.93, 1.0), b.time_min / b.time_min[-1], b.of("P"))


@pytest.mark.parametrize("name", WORKS)
def test_phosphorus_falls_humps_and_falls_again(heats, name):
    """Common practice, no source: half and more is gone by a third of the blow; it humps or stalls
    while the slag is dry; it falls again as iron oxide comes at the end. Dunlin stops at 0.06 % C
    and 14 % FeO, where it stands; blown on to 0.04 % C it falls there as well.
    """
    b = heats[name]
    share, p = b.time_min / b.time_min[-1], b.of("P")
    early, middle, late, end = _phosphorus(b)
    assert early < 0.5 * p[0] and middle < early
    assert late > 0.9 * np.interp(0.65, share, p)  # it does not fall on
    if name == "dunlin":
        assert end == pytest.approx(late, rel=0.02)
        works = load_profile(name)
        aims = works.end_point.analysis_pct | {"C": 0.04}
        heat = charge.solve(works, end_pct=aims).for_tap(works.vessel.tap_t)
        *_, late, end = _phosphorus(blow.solve(heat, works))
    assert end < late


@pytest.mark.parametrize("name", WORKS)
def test_the_last_minutes(heats, name):
    """25 to 35 degC a minute over the last three (common practice, no source)."""
    b = heats[name]
    before = np.interp(b.time_min[-1] - 3.0, b.time_min, b.temp_c)
    assert 25.0 < (b.temp_c[-1] - before) / 3.0 < 35.0


@pytest.mark.parametrize("name", WORKS)
def test_the_blow_ends_where_the_law_says(heats, name):
    """The law asked once, with the slag, carbon and temperature of the end, and the blow that was
    integrated all along: iron oxides within 1.5 % of slag. They differ in what was before.
    """
    b = heats[name]
    steel_t = b.charge.steel.mass_kg / 1000.0
    base = {o: kg[-1] / steel_t for o, kg in b.slag.oxides_kg.items() if not o.startswith("Fe")}
    flow = b.flow_nm3_min[-1] / steel_t
    end = end_of_blow(base, b.of("C")[-1], kelvin(b.temp_c[-1]), flow)
    found = b.of("FeO")[-1] + b.of("Fe2O3")[-1]
    assert found == pytest.approx(end.feo_pct + end.fe2o3_pct, abs=1.5)
    assert b.of("O")[-1] == pytest.approx(end.oxygen_pct, rel=0.03)


def test_share_of_oxygen_on_carbon_is_continuous(heats):
    """From the plateau to the end no step: the rate of carbon over the ceiling, every fiftieth of a
    minute.
    """
    b = blow.solve(heats["heron"].charge, step_min=0.02)
    late = b.time_min > 12.0
    share = (b.carbon_rate_pct_min / b.ceiling_pct_min())[late]
    assert share[0] > 0.94 and share[-1] < 0.35  # dust takes its part
    assert np.all(np.diff(share) < 1e-3) and np.max(-np.diff(share)) < 0.03


def test_a_constant_ferric_share_serves_the_integration(heats):
    """The quick activity, ferric share as planned, against the whole solution of the slag: within
    6 % from mid-blow to the end, a fifth of what measured points say of the set.
    """
    b = heats["heron"]
    ferric = b.charge.slag.oxides_kg["Fe2O3"] * 2.0 / molar_mass("Fe2O3")
    ferric /= ferric + b.charge.slag.oxides_kg["FeO"] / molar_mass("FeO")
    kg = {o: kg for o, kg in b.slag.oxides_kg.items() if o != "CaS" and kg[-1] > 0.0}
    names = tuple(kg)
    for time in (9.0, 14.0, 17.0, 18.6):
        i = np.searchsorted(b.time_min, time)
        one = {o: x[i] for o, x in kg.items()}
        x = cations_of(names) @ np.array([one[o] / molar_mass(o) for o in names])
        T = kelvin(b.temp_c[i])
        quick = iron_oxide_at(x / x.sum(), ferric, T)
        assert quick == pytest.approx(slag_solution(one, T).feto_activity, rel=0.06)


def test_parameters_of_the_law_are_the_laws(heats):
    """The blow keeps none of its own for what the law holds."""
    law = end_of_blow_parameters()
    assert set(law) < set(blow.parameters())
    assert all(blow.parameters()[key] is law[key] for key in law)
    assert not any("reduction" in key for key in blow.parameters())
