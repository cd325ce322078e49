"""The plan of a heat: its figures are those of the works, and so are their ranges."""

import numpy as np
import pytest
from sample_works import fixed_text

from steelthermo.base import InputError, rows
from steelthermo.charge import TEMP_HIGH_C, TEMP_LOW_C, Plan, plan_of, solve
from steelthermo.streams import LiquidMetal
from steelthermo.works import load_profile, parse_profile, plan_limits, plan_values

HERON = load_profile("heron")
PLANNED = [row for row in rows("profile_schema") if row["plan"] != "none"]


@pytest.mark.parametrize("row", PLANNED, ids=[row["plan"] for row in PLANNED])
@pytest.mark.parametrize("end", ["low", "high"])
def test_profile_and_solver_have_one_range(row, end):
    """At the end of the range both take a figure; a thousandth beyond it both refuse."""
    text = _profile_with(row, row[end])
    assert getattr(plan_of(parse_profile(text)), row["plan"]) == row[end]
    beyond = row[end] + (1e-3 if end == "high" else -1e-3)
    with pytest.raises(InputError, match=f"allowed is {row['low']:g} to {row['high']:g}"):
        parse_profile(_profile_with(row, beyond))
    with pytest.raises(InputError, match=f"allowed is {row['low']:g} to {row['high']:g}"):
        plan_of(HERON, **{row["plan"]: beyond})


def _profile_with(row, figure):
    lines, section = fixed_text().splitlines(), ""
    for n, line in enumerate(lines):
        section = line.strip("[] ") if line.startswith("[") else section
        if section == row["section"] and line.split("=")[0].strip() == row["key"]:
            lines[n] = f"{row['key']} = {float(figure)!r}"
    return "\n".join(lines)


def test_the_range_of_the_end_temperature_is_that_in_which_the_heat_is_solved():
    row = plan_limits()["end_temp_c"]
    assert (row["low"], row["high"]) == (TEMP_LOW_C, TEMP_HIGH_C)


def test_a_plan_holds_the_figures_of_its_works_and_takes_changes():
    plan = plan_of(HERON, co2_pct=20.0, basicity=None, scrap={"bales": 1.0, "pig_iron": 3.0})
    expected = plan_values(HERON) | {"co2_pct": 20.0}
    assert {key: getattr(plan, key) for key in plan_limits()} == {
        key: expected[key] for key in plan_limits()
    }
    again = plan_of(plan, co2_pct=12.0, scrap="heavy_scrap", scrap_kg=300.0)
    heats = [
        solve(again, find="temperature"),
        solve(HERON, find="temperature", scrap_kg=300.0, co2_pct=12.0),
    ]
    assert heats[0].temp_c == pytest.approx(heats[1].temp_c, abs=1e-9)
    assert plan.provenance


def test_hot_metal_stands_for_its_mass_analysis_and_temperature():
    metal = LiquidMetal(2000.0, {"C": 4.2, "Si": 0.5, "Mn": 0.3, "P": 0.08}, 1310.0)
    one = solve(HERON, hot_metal=metal)
    apart = {"C": 4.2, "Si": 0.5, "Mn": 0.3, "P": 0.08}
    two = solve(HERON, hot_metal_kg=2000.0, hot_metal_pct=apart, hot_metal_temp_c=1310.0)
    assert one.scrap.mass_kg == pytest.approx(two.scrap.mass_kg, rel=1e-12)
    assert solve(HERON, hot_metal=metal, hot_metal_temp_c=1340.0).scrap.mass_kg > one.scrap.mass_kg


@pytest.mark.parametrize(
    "wrong, near", [("scrap_kgs", "scrap_kg"), ("basicty", "basicity"), ("gas_temp", "gas_temp_c")]
)
def test_a_wrong_name_is_told_with_those_near_it(wrong, near):
    with pytest.raises(InputError, match=f"charge: {wrong} was given; .*near it: .*{near}"):
        solve(HERON, **{wrong: 1.0})


def test_a_plan_is_shown_and_takes_arrays():
    plan = plan_of(HERON, end_temp_c=np.array([1640.0, 1680.0]))
    assert repr(plan).count("\n") < 10 and plan._repr_html_().count("\n") < 12
    assert isinstance(plan, Plan) and np.all(np.diff(solve(plan).scrap.mass_kg) < 0)
