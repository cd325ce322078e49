"""A stage closes where what comes is what leaves, and says how much is missing where it is not."""

import pytest

from steelthermo.streams import LiquidMetal, Stage, metal_of


def test_two_metals_poured_together_close_and_a_tenth_lost_is_told():
    hot = LiquidMetal(100.0, {"C": 4.0, "Si": 0.5}, 1400.0)
    cold = LiquidMetal(50.0, {"C": 2.0, "Mn": 1.0}, 1350.0)
    parts = hot.element_kg(), cold.element_kg()
    together = metal_of({e: sum(p.get(e, 0.0) for p in parts) for p in parts for e in p}, 1390.0)
    lost = 500.0
    given = together.enthalpy_kj() - hot.enthalpy_kj() - cold.enthalpy_kj() + lost
    sides = {"hot": hot, "cold": cold}
    closure = Stage(sides, {"metal": together}, lost, given).closure()
    assert set(closure) == {"Fe", "C", "Si", "Mn", "heat"}
    assert list(closure.values()) == pytest.approx([0.0] * 5, abs=1e-12)
    short = Stage(sides, {"metal": together.scaled(0.9)}, lost, given).closure()
    short.pop("heat")
    assert list(short.values()) == pytest.approx([-0.1] * 4)
