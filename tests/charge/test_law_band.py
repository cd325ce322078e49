"""The band of a charge by what is recalled of the law at the end of a blow."""

import numpy as np
import pytest
from shifted import shifted

from steelthermo.base import InputError, data_path, rows
from steelthermo.charge import law_band, solve
from steelthermo.works import parse_profile

HERON = data_path("heron.toml").read_text(encoding="utf-8")


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize(
    ("key", "end"), [("critical_carbon_pct", "high"), ("slag_exchange", "low")]
)
def test_against_the_charge_with_another_table(key, end):
    """The two figures that count most: the table itself is given the other figure, and the plan
    finds its iron oxide by its own way.
    """
    plan = solve(parse_profile(HERON))
    masses = {"scrap_kg": plan.scrap.mass_kg, "lime_kg": plan.lime.mass_kg}
    masses |= {"dolomite_kg": plan.dolomite.mass_kg}
    number = [r["key"] for r in rows("end_of_blow")].index(key)
    other = rows("end_of_blow")[number][end]
    with shifted("end_of_blow", {number: {"start": other}}):
        moved = solve(parse_profile(HERON), find="temperature", **masses).temp_c
    found = law_band(plan).by[key][("low", "high").index(end)]
    assert found == pytest.approx(moved - plan.temp_c, abs=0.5)
    assert abs(found) > 30.0


def test_the_band_holds_what_it_is_of():
    plan = solve(parse_profile(HERON))
    band = law_band(plan)
    assert band.temp_c[0] < plan.temp_c < band.temp_c[1]
    assert band.feo_pct[0] < plan.slag.analysis_pct["FeO"] < band.feo_pct[1]
    assert band.temp_c[1] == pytest.approx(plan.temp_c + max(max(v) for v in band.by.values()))
    assert all(low * high < 0.0 for low, high in band.by.values())  # to one side and to the other
    assert {p.status for p in band.provenance} == {"memory"}


def test_a_scaled_charge_has_the_same_band():
    plan = solve(parse_profile(HERON))
    assert law_band(plan.for_tap(1.0)).temp_c == pytest.approx(law_band(plan).temp_c, abs=1e-6)


def test_none_where_the_works_gives_iron_oxide():
    given = solve(parse_profile(HERON), feo_pct=15.0, fe2o3_pct=4.0)
    band = law_band(given)
    assert band.by == {} and band.temp_c == (given.temp_c, given.temp_c)


def test_what_a_works_fitted_stands_still():
    fitted = parse_profile(HERON + "\n[calibrated]\nslag_exchange = 0.4\n")
    assert "slag_exchange" not in law_band(solve(fitted)).by


def test_many_heats_are_refused():
    with pytest.raises(InputError, match="many heats"):
        law_band(solve(parse_profile(HERON), end_temp_c=np.array([1650.0, 1660.0])))
