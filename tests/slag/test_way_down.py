"""The quick sums of the law at the end of a blow against the same written out plainly, with the
activity by the whole matrix and the sharing out of oxygen of slag.burning().
"""

import numpy as np
import pytest

from steelthermo.base import atomic_weight, find_root, molar_mass, molar_volume_nm3_kmol
from steelthermo.slag import (
    after_oxygen,
    burning,
    cations_of,
    end_of_blow,
    iron_oxide_at,
    way_down,
)
from steelthermo.slag.end_of_blow import full_oxygen_pct, start_values

BASE = {"CaO": 33.0, "SiO2": 10.0, "MgO": 6.0, "MnO": 3.6, "P2O5": 1.4, "Al2O3": 1.4}
T, FLOW, PCR, FERRIC = 1923.15, 2.55, 0.11, 0.17
TO_PCT = atomic_weight("C") / 10.0
MOLES = cations_of(tuple(BASE)) @ [kg / molar_mass(o) for o, kg in BASE.items()]
IRON = int(np.argmax(cations_of(("FeO",))))


def moves(iron, carbon, law):
    """(gain of iron in the slag, carbon burnt), kmol per minute and t."""
    oxygen = 2.0 * FLOW / molar_volume_nm3_kmol()
    slag = MOLES.copy()
    slag[IRON] = iron
    active = iron_oxide_at(slag / slag.sum(), FERRIC, T)
    free = oxygen * (1.0 - law["slag_oxygen_pct"] / 100.0)
    burnt = sum(burning(oxygen, free, PCR, carbon, active, T, law))
    product = law["carbon_oxygen_product"]
    dissolves = burnt * atomic_weight("C") / atomic_weight("O") * product / carbon**2
    if product > carbon * full_oxygen_pct(T):
        dissolves = 0.0
    return (oxygen - (1.0 + PCR) * burnt - dissolves) / (1.0 + 0.5 * FERRIC), burnt


def feo_and_half_of_ferric(iron, end):
    """What a slag's iron, kmol per t, makes of the iron oxides in the ratio of an end: FeO, %."""
    share = 2.0 * end.fe2o3_pct / molar_mass("Fe2O3")
    share /= share + end.feo_pct / molar_mass("FeO")
    feo, fe2o3 = (
        iron * (1.0 - share) * molar_mass("FeO"),
        iron * share / 2.0 * molar_mass("Fe2O3"),
    )
    return 100.0 * feo / (sum(BASE.values()) + feo + fe2o3)


LAWS = [{}, {"slag_exchange": 0.15}, {"slag_exchange": 0.6, "critical_carbon_pct": 0.5}]


@pytest.mark.parametrize("given", LAWS)
@pytest.mark.parametrize("carbon", [0.022, 0.04, 0.12, 1.0])
def test_down_as_written_out(given, carbon):
    law = start_values() | given
    steps = np.geomspace(1.0, 1e-3, 28) - 1e-3
    way = carbon + 0.8 * steps / steps[0]
    iron = find_root(lambda n: -moves(n, way[0], law)[0], 1e-6, 4.0 * MOLES.sum())
    for start, stop in zip(way[:-1], way[1:], strict=True):
        gain, burnt = moves(iron, start, law)
        half = 0.5 * (start - stop) / (TO_PCT * burnt)
        gain, burnt = moves(iron + gain * half, 0.5 * (start + stop), law)
        iron = iron + gain * (start - stop) / (TO_PCT * burnt)
    end = end_of_blow(BASE, carbon, T, FLOW, PCR, given)
    assert end.feo_pct == pytest.approx(feo_and_half_of_ferric(iron, end), rel=1e-12)
    oxygen = 2.0 * FLOW / molar_volume_nm3_kmol()
    share = (1.0 + PCR) * moves(iron, carbon, law)[1] / oxygen
    assert end.carbon_share == pytest.approx(share, rel=1e-12)


def test_on_as_written_out():
    law, carbon, minutes = start_values(), 0.09, 1.5 / FLOW
    start = end_of_blow(BASE, carbon, T, FLOW, PCR)
    rest = sum(BASE.values()) / (100.0 - start.feo_pct - start.fe2o3_pct)
    iron = rest * start.feo_pct / molar_mass("FeO")
    iron += 2.0 * rest * start.fe2o3_pct / molar_mass("Fe2O3")
    for _ in range(20):
        gain, burnt = moves(iron, carbon, law)
        half = carbon - 0.5 * minutes / 20 * burnt * TO_PCT
        gain, burnt = moves(iron + 0.5 * minutes / 20 * gain, half, law)
        iron, carbon = iron + minutes / 20 * gain, carbon - minutes / 20 * burnt * TO_PCT
    end = after_oxygen(BASE, 0.09, T, 1.5, FLOW, PCR)
    assert end.carbon_pct == pytest.approx(carbon, rel=1e-12)
    assert end.feo_pct == pytest.approx(feo_and_half_of_ferric(iron, end), rel=1e-12)


@pytest.mark.parametrize("shape", [(2,), (13,), (3, 7), (0,), (3, 1000)])
def test_one_by_one_as_in_blocks(shape, monkeypatch):
    random = np.random.default_rng(1)
    slag = {oxide: kg * random.uniform(0.5, 1.5, shape) for oxide, kg in BASE.items()}
    carbon, temp = random.uniform(0.025, 0.5, shape), random.uniform(1850.0, 1980.0, shape)
    law = {"slag_exchange": random.uniform(0.15, 0.6, shape[-1:])}

    def ends():
        found = end_of_blow(slag, carbon, temp, FLOW, law=law)
        after = after_oxygen(slag, carbon + 0.03, temp, 0.8, FLOW, law=law)
        assert found.feo_pct.shape == after.feo_pct.shape == shape
        return np.array([found.feo_pct, found.carbon_share, after.carbon_pct, after.oxygen_pct])

    usual = ends()
    monkeypatch.setattr(way_down, "_BLOCK", 100)
    monkeypatch.setattr(way_down, "_FEW", 5 if np.prod(shape) > 5 else 0)
    np.testing.assert_allclose(ends(), usual, rtol=1e-12)


def test_the_steps_of_more_oxygen_are_of_second_order(monkeypatch):
    """Half the step, a quarter of the error."""

    def iron_and_carbon(steps):
        monkeypatch.setattr(way_down, "_STEPS", steps)
        end = after_oxygen(BASE, 0.09, T, 1.5, FLOW, PCR)
        return np.array([end.feo_pct, end.carbon_pct])

    best = iron_and_carbon(1280)
    off = [np.abs(iron_and_carbon(n) - best) for n in (20, 40, 80)]
    for more, less in zip(off, off[1:], strict=False):
        np.testing.assert_allclose(more / less, 4.0, rtol=0.2)
