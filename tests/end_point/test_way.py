"""Where more oxygen leads from a reading, and from the readings that its uncertainty leaves."""

import numpy as np
import pytest

from steelthermo.charge import coolant_effect, coolants
from steelthermo.end_point import decide
from steelthermo.end_point.rules import Rules
from steelthermo.end_point.way import Way

PLAN = {"aim_temp_c": 1660.0, "aim_carbon_pct": 0.04, "steel_t": 180.0, "flow_nm3_min": 460.0}


def test_before_any_oxygen_each_row_is_its_reading():
    """As read, then up and down by the uncertainty, also where that lies below the floor of the
    law.
    """
    way = Way(1640.0, 0.03, Rules(**PLAN, u_carbon_pct=0.02))
    assert way.temp[:, 0].tolist() == [1640.0, 1645.0, 1635.0, *[1640.0] * 4]
    assert way.temp_c[:, 0] == pytest.approx(way.temp[:, 0], abs=1e-9)
    assert np.max(way.low) > 0.0
    assert way.carbon[:, 0] == pytest.approx([0.03, 0.03, 0.03, 0.05, 0.01, 0.03, 0.03], abs=1e-12)


@pytest.mark.parametrize("carbon", [0.06, 0.3, 0.9])
def test_whatever_carbon_there_is_the_way_reaches_the_aim(carbon):
    way = Way(1640.0, carbon, Rules(**PLAN))
    needed = way.first(way.carbon, 0.04)
    assert np.all(needed < way.oxygen[-1])
    at = [np.interp(o, way.oxygen, line) for o, line in zip(needed, way.carbon, strict=True)]
    assert at == pytest.approx([0.04] * len(at), abs=1e-9)


def test_a_limit_that_is_not_reached_takes_all_that_is_tried():
    way = Way(1640.0, 0.06, Rules(**PLAN))
    assert way.first(way.carbon, 0.0).tolist() == [way.oxygen[-1]] * len(way.carbon)


@pytest.mark.parametrize("temp_c", [1600.0, 1645.0])
def test_the_steel_ends_as_read_and_what_blow_and_coolant_do(temp_c):
    found = decide(temp_c, 0.08, **PLAN)
    by_coolant = found.temp_c.value - temp_c - found.rise_c.value
    assert (by_coolant < -1.0) == (found.coolant_kg.value > 0.0)
    assert found.coolant_kg.value > 0.0 or by_coolant == pytest.approx(0.0, abs=1e-9)
    if found.coolant_kg.value:
        effects = {c: coolant_effect(c, 1660.0) for c in coolants()}
        for coolant, (by_kg, on_carbon) in effects.items():
            other = decide(temp_c, 0.08, **PLAN, coolant=coolant)
            if other.carbon_pct.value == 0.0:
                continue  # it takes more carbon than there is
            kg_t = other.coolant_kg.value / 180.0
            assert kg_t * by_kg == pytest.approx(by_coolant, rel=1e-6)
            carbon = other.carbon_pct.value - found.carbon_pct.value
            scrap_kg_t = found.coolant_kg.value / 180.0
            assert carbon == pytest.approx(
                kg_t * on_carbon - scrap_kg_t * effects["scrap"][1], abs=1e-9
            )
    hot = decide(temp_c, 0.08, **PLAN | {"aim_temp_c": 1770.0})
    assert hot.temp_c.value - temp_c == pytest.approx(hot.rise_c.value, abs=1e-9)
