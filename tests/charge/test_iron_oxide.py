"""Iron oxides of a plan by the law at the end of a blow: the law, asked for the slag of the solved
charge, gives back what stands in it.
"""

import numpy as np
import pytest
from sample_works import fixed_text, law_text

from steelthermo.base import InputError, kelvin, mass_fractions
from steelthermo.charge import iron_oxide, iron_oxides_of, solve
from steelthermo.slag import end_of_blow
from steelthermo.works import parse_profile

HERON = parse_profile(law_text())


def by_law(charge, works, slag_kg=None):
    """The law at the slag of a charge, asked here; slag_kg: another slag, by oxide."""
    kg_t = {
        oxide: kg / charge.steel.mass_kg * 1000.0
        for oxide, kg in (slag_kg or charge.slag.oxides_kg).items()
        if oxide in ("CaO", "SiO2", "MgO", "MnO", "P2O5", "Al2O3")
    }
    flow = works.oxygen.flow_nm3_min / works.vessel.tap_t * works.oxygen.purity_pct / 100.0
    return end_of_blow(
        kg_t, charge.steel.analysis_pct["C"], kelvin(charge.temp_c), flow, works.gas.co2_pct / 100.0
    )


def test_the_plan_of_a_works_obeys_the_law():
    works = HERON
    charge = solve(works)
    law, slag = by_law(charge, works), charge.slag.analysis_pct
    assert slag["FeO"] == pytest.approx(law.feo_pct, abs=0.03)
    assert slag["Fe2O3"] == pytest.approx(law.fe2o3_pct, abs=0.03)
    assert charge.steel.analysis_pct["O"] == pytest.approx(law.oxygen_pct, abs=1e-4)
    assert iron_oxides_of(works) == (slag["FeO"], slag["Fe2O3"])


def test_lumps_of_lime_are_no_part_of_the_slag_of_the_law():
    """A plan with 15 % of its lime in lumps: the law asked for the liquid alone."""
    charge = solve(HERON, undissolved_pct=15.0)
    lumps = 0.15 * charge.lime.element_kg()["Ca"] / mass_fractions("CaO")["Ca"]
    liquid = dict(charge.slag.oxides_kg)
    liquid["CaO"] -= lumps
    law = by_law(charge, HERON, liquid)
    assert 100.0 * liquid["FeO"] / sum(liquid.values()) == pytest.approx(law.feo_pct, abs=0.03)


@pytest.mark.parametrize("find", ["scrap", "temperature"])
def test_many_plans_obey_the_law(find):
    rng, n = np.random.default_rng(15), 200
    pct = {"C": 4.5, "Si": rng.uniform(0.1, 1.1, n), "Mn": 0.4, "P": rng.uniform(0.05, 0.2, n)}
    charge = solve(
        HERON,
        find=find,
        scrap_kg=None if find == "scrap" else 300.0,
        hot_metal_pct=pct,
        end_pct={"C": rng.uniform(0.025, 0.4, n), "Mn": 0.1, "P": 0.012},
        end_temp_c=rng.uniform(1600.0, 1710.0, n),
        basicity=rng.uniform(2.5, 4.5, n),
        infeasible="mark",
    )
    ok = charge.feasible
    miss = charge.slag.analysis_pct["FeO"] - by_law(charge, HERON).feo_pct
    assert ok.sum() > 60 and np.max(np.abs(miss[ok])) < 0.03
    assert max(np.max(np.abs(np.broadcast_to(x, n)[ok])) for x in charge.closure().values()) < 1e-9


def test_iron_oxide_follows_carbon():
    low, high = (solve(HERON, end_pct={"C": c, "Mn": 0.1, "P": 0.012}) for c in (0.03, 0.2))
    assert low.slag.analysis_pct["FeO"] > 1.5 * high.slag.analysis_pct["FeO"]
    assert low.steel.analysis_pct["O"] == pytest.approx(0.2 / 0.03 * high.steel.analysis_pct["O"])


def test_a_works_may_fix_its_own():
    works = parse_profile(fixed_text(15, 4))
    charge = solve(works)
    assert charge.slag.analysis_pct["FeO"] == pytest.approx(15.0)
    assert charge.slag.analysis_pct["Fe2O3"] == pytest.approx(4.0)
    assert "O" not in charge.steel.analysis_pct
    half = parse_profile(fixed_text(15, 4).replace("fe2o3_pct = 4\n", ""))
    share, law = solve(half).slag.analysis_pct, by_law(solve(half), half)
    assert share["FeO"] == pytest.approx(15.0)
    assert share["Fe2O3"] == pytest.approx(15.0 * law.fe2o3_pct / law.feo_pct, rel=0.01)


def test_carbon_beyond_the_law_is_refused():
    for carbon in (0.02, 3.5):
        with pytest.raises(InputError, match="law at the end of a blow holds for 0.021 to 3 % C"):
            solve(HERON, end_pct={"C": carbon, "Mn": 0.1, "P": 0.012})


@pytest.mark.parametrize(
    "given",
    [
        {},
        {"hot_metal_pct": {"C": 4.5, "Si": np.array([0.1, 0.5, 1.0]), "Mn": 0.4, "P": 0.1}},
        {"basicity": 1.2},  # too little lime for the silica
        {"undissolved_pct": 12.0, "lime_kg": 60.0},
        {"free": "unused oxygen", "oxygen_nm3": 60.0},
        {"find": "temperature", "scrap_kg": 290.0},
    ],
)
def test_shares_tried_at_once_are_those_tried_one_by_one(given, monkeypatch):
    """The charge is linear in the kg of iron oxide: one solve stands for all shares of it."""
    seen = []

    def kept(plan, balance, solution, end_temp_c):
        kg_t = {o: form.at(solution) / solution["steel"] for o, form in balance.oxides.items()}
        seen.append((balance.end, kg_t, end_temp_c, balance.metal_pct(solution)["Cr"]))
        return law(plan, balance, solution, end_temp_c)

    law = iron_oxide._law
    monkeypatch.setattr(iron_oxide, "_law", kept)
    solve(HERON, **given)
    assert seen
    for end, kg_t, temp_c, chromium in seen:
        for i, pct in enumerate(np.asarray(end.tried_pct)):
            fixed = {
                "feo_pct": end.feo_pct * pct,
                "fe2o3_pct": end.fe2o3_pct * pct,
                "end_pct": end.steel_pct | {"Cr": chromium[i]},
            }
            alone = solve(HERON, infeasible="mark", **given | fixed)
            for oxide, kg in alone.slag.oxides_kg.items():
                assert kg_t[oxide][i] == pytest.approx(
                    kg / alone.steel.mass_kg, rel=1e-11, abs=1e-15
                )
            assert np.shape(temp_c) == () or temp_c[i] == pytest.approx(alone.temp_c, rel=1e-11)
