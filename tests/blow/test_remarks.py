"""What is said of a blow: nothing of an ordinary one, and each fault by name (limits: common
practice, no source).
"""

import numpy as np
import pytest

from steelthermo import blow, charge
from steelthermo.jet import LancePattern
from steelthermo.works import load_profile


@pytest.fixture(scope="module")
def heat():
    return charge.solve(load_profile("heron")).for_tap(180.0)


def test_an_ordinary_blow_calls_for_no_remark(heat):
    assert blow.solve(heat, step_min=0.5).remarks == ()


@pytest.mark.parametrize(
    "options, words",
    [
        ({"parameters": {"scrap_min": 32.0}}, "scrap: .* not molten at the end"),
        (
            {"parameters": {"slag_exchange": 0.05, "slag_oxygen_pct": 50.0}},
            "[4-9][0-9] % FeO at the end",
        ),
        ({"pattern": LancePattern((0, 18.65), (2.9, 2.9), (460, 460))}, "slopping: from"),
    ],
)
def test_each_fault_is_named(heat, options, words):
    import re

    said = blow.solve(heat, step_min=0.5, infeasible="mark", **options).remarks
    assert any(re.search(words, s) for s in said), said


def test_carbon_and_iron_oxide_that_do_not_go_together(heat):
    """A blow broken off early from a high lance: much carbon beside much iron oxide."""
    high = LancePattern((0, 15.5), (2.9, 2.9), (460, 460))
    b = blow.solve(heat, pattern=high, step_min=0.5, infeasible="mark")
    if b.end()["C"] > 0.3 and b.end()["FeO"] > 25.0:
        assert any("do not go together" in s for s in b.remarks)
    mixed = {"slag_exchange": 0.05, "slag_oxygen_pct": 50.0}
    b = blow.solve(heat, parameters=mixed, oxygen_nm3=0.95 * heat.oxygen_nm3, infeasible="mark")
    assert b.end()["C"] > 0.3 and any("do not go together" in s for s in b.remarks)


def test_many_heats_are_counted(heat):
    b = blow.solve(heat, parameters={"scrap_min": np.array([15.0, 36.0, 38.0])}, step_min=0.5)
    assert len(b.remarks) == 1 and "(2 of 3 heats, the worst)" in b.remarks[0]


def test_ore_in_one_lot_makes_a_vessel_slop(heat):
    """Common practice, no source."""
    usual = blow.solve(heat, step_min=0.5)
    lots = blow.standard_additions(
        {k: heat.inputs[k].mass_kg for k in ("lime", "dolomite")}, usual.time_min[-1]
    )
    ore = blow.solve(heat, additions=[*lots, blow.Addition("coolant", 9.0, 9.1, 3000.0)])
    assert any("slopping: from 9." in s for s in ore.remarks)
    foam = blow.foam_trend(usual)
    assert foam[-1] < 0.5 < foam[len(foam) // 2] and foam.mean() == pytest.approx(1.0)
