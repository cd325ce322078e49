"""An element shared out between metal and slag: a heat at equilibrium, phosphorus that returns."""

import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_slag import DEMO

from steelthermo.base import ExtrapolationWarning, InputError, mass_fractions
from steelthermo.slag import (
    equations,
    equilibrium,
    metal_pct_after,
    metal_pct_by,
    phosphorus_reversion,
    slag_for,
)
from steelthermo.streams import Slag


def test_share_left_in_the_metal():
    """Mass balance by hand: L 100, 90 kg of slag per t, 0.10 % before: 0.10/(1 + 9) = 0.010 %."""
    assert metal_pct_after(1000.0, 0.10, 90.0, 0.0, 100.0) == pytest.approx(0.010)


def test_slag_needed_for_an_aim():
    """Problem of an open question page (qora.bd 678388; its answer was not seen): P 0.05 to 0.01 %,
    L 80. By hand 0.04/(80 x 0.01) = 0.050 t per t.
    """
    assert slag_for(1.0, 0.05, 0.01, 80.0) == pytest.approx(0.050)
    assert metal_pct_after(
        1.0, 0.05, slag_for(1.0, 0.05, 0.01, 80.0, 0.2), 0.2, 80.0
    ) == pytest.approx(0.01)
    with pytest.raises(InputError, match="aim"):
        slag_for(1.0, 0.05, 0.01, 80.0, slag_pct=0.9)
    with pytest.raises(InputError, match="above the aim"):
        slag_for(1.0, 0.05, 0.06, 80.0)


def test_sulphur_from_slag_of_desulphurisation_left_on_the_metal():
    """Our own balance by hand: 0.2305 kg S/t in all, 100 kg slag, L_S 4: 0.0165 %; without the
    0.150 kg of the slag left on: 0.0058 %.
    """
    assert metal_pct_after(1000.0, 0.02305, 100.0, 0.0, 4.0) == pytest.approx(0.0165, abs=0.00005)
    assert metal_pct_after(1000.0, 0.00805, 100.0, 0.0, 4.0) == pytest.approx(0.0058, abs=0.00005)


def test_carried_over_slag_gives_its_phosphorus_back_when_killed():
    """By hand: 2 % P2O5 is 0.873 % P; each kg of slag per t of steel returns 8.7 ppm when nothing
    is held.
    """
    for kg in (2.0, 5.0, 10.0, 15.0):
        slag = Slag({o: p * kg / 100 for o, p in DEMO.items()}, 1620.0)
        rise = phosphorus_reversion(1000.0, 0.010, slag) - 0.010
        assert 1e4 * rise == pytest.approx(8.728 * kg, rel=1e-3)
    held = phosphorus_reversion(1000.0, 0.010, slag, partition=87.284)
    assert held == pytest.approx(0.010, rel=1e-4)  # L = (P)/[P]: nothing moves


@pytest.mark.parametrize("key", equations("P"))
def test_equilibrium_closes_and_obeys_its_equation(key):
    slag = Slag({o: 0.9 * p for o, p in DEMO.items()}, 1600.0)
    found = equilibrium(slag, 1000.0, 1.1, key, oxygen_pct=0.06)
    in_slag = found.slag.oxides_kg["P2O5"] * mass_fractions("P2O5")["P"]
    assert in_slag + found.metal_pct * 10 == pytest.approx(1.1, rel=1e-12)
    assert 100 * in_slag / found.slag.mass_kg / found.metal_pct == pytest.approx(
        found.partition.value, rel=1e-9
    )
    assert found.slag.mass_kg - found.slag.oxides_kg["P2O5"] == pytest.approx(
        0.98 * 90
    )  # the other oxides stay
    assert {
        type(found.metal_pct),
        type(found.partition.value),
        type(found.slag.oxides_kg["P2O5"]),
    } == {float}


@given(st.floats(0.05, 3.0), st.floats(30, 200), st.floats(1500, 1720))
def test_equilibrium_of_any_heat(phosphorus, slag_kg, temp_c):
    slag = Slag({o: p * slag_kg / 100 for o, p in DEMO.items()}, temp_c)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)
        for key in ("SI-a", "SI-c"):
            found = equilibrium(slag, 1000.0, phosphorus, key)
            assert found.metal_pct * 10 + found.slag.element_kg()["P"] == pytest.approx(
                phosphorus, rel=1e-10
            )
            by_hand = metal_pct_after(
                1000.0, phosphorus / 10, found.slag.mass_kg, 0.0, found.partition.value
            )
            assert found.metal_pct == pytest.approx(by_hand, rel=1e-8)


def test_phosphorus_returns_when_the_heat_runs_hot():
    slag = Slag({o: 0.9 * p for o, p in DEMO.items()}, np.array([1580.0, 1600.0, 1620.0, 1640.0]))
    found = equilibrium(slag, 1000.0, 1.0)
    assert found.metal_pct.shape == (4,) and np.all(np.diff(found.metal_pct) > 0)
    one = equilibrium(Slag({o: 0.9 * p for o, p in DEMO.items()}, 1620.0), 1000.0, 1.0)
    assert found.metal_pct[2] == pytest.approx(one.metal_pct, rel=1e-12)


def test_manganese_of_a_heat():
    slag = Slag({o: 0.9 * p for o, p in DEMO.items()}, 1650.0)
    found = equilibrium(slag, 1000.0, 4.5, "Park-Dzo")
    assert found.metal_pct * 10 + found.slag.element_kg()["Mn"] == pytest.approx(4.5, rel=1e-12)
    assert 0.05 < found.metal_pct < 0.2


@pytest.mark.parametrize("element", ["P", "Mn"])
def test_all_equations_at_once_are_the_same_equations(element):
    """One call for several equations and many heats: what each equation gives alone, for one
    heat.
    """
    slag_kg, temp_c, kg = (
        np.array([[60.0], [120.0]]),
        np.array([1560.0, 1600.0, 1640.0]),
        np.array([[1.0], [4.0]]),
    )
    slag = Slag({o: p * slag_kg / 100 for o, p in DEMO.items()}, temp_c)
    keys = equations(element)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)
        found = metal_pct_by(slag, 1000.0, kg, keys, oxygen_pct=0.05)
        for key in keys:
            assert found[key].shape == (2, 3)
            one = equilibrium(
                Slag({o: p * 1.2 for o, p in DEMO.items()}, 1640.0),
                1000.0,
                4.0,
                key,
                oxygen_pct=0.05,
            )
            assert (
                found[key][1, 2] == pytest.approx(one.metal_pct, rel=1e-12)
                and type(one.metal_pct) is float
            )
    with pytest.warns(ExtrapolationWarning, match="TTH72-2.*1640"):
        assert (
            type(metal_pct_by(Slag(DEMO, 1640.0), 1000.0, 1.0, ("SI-c", "TTH72-2"))["SI-c"])
            is float
        )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: equilibrium(Slag(DEMO, 1600.0), 0.0, 1.0), "metal"),
        (
            lambda: equilibrium(
                Slag(DEMO, 1600.0), 1000.0, 1.0, "Turkdogan", oxygen_pct=float("nan")
            ),
            "oxygen",
        ),
        (
            lambda: metal_pct_by(Slag(DEMO, 1600.0), 1000.0, 1.0, ("SI-c", "Turkdogan")),
            "oxygen.*Turkdogan",
        ),
        (
            lambda: metal_pct_by(Slag(DEMO, 1600.0), 1000.0, 1.0, ("SI-c", "Park-Dzo")),
            "one element",
        ),
        (lambda: metal_pct_by(Slag(DEMO, 1600.0), 1000.0, 1.0, ()), "none"),
        (
            lambda: metal_pct_by(
                Slag({"CaO": 60.0, "SiO2": 40.0}, 1600.0), 1000.0, 1.0, ("Turkdogan", "SI-c"), 0.05
            ),
            "iron.*SI-c",
        ),
        (lambda: metal_pct_after(1000.0, 0.1, 90.0, 0.0, -3.0), "partition"),
    ],
)
def test_nonsense_is_refused_by_name(call, words):
    with pytest.raises(InputError, match=words):
        call()
