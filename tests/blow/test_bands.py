"""The band of a works that knows its own ends: narrow at the end, honest before, able to fail."""

import numpy as np
import pytest

from steelthermo import blow, charge
from steelthermo.blow.bands import nearest
from steelthermo.works import load_profile


@pytest.fixture(scope="module")
def bands():
    heat = charge.solve(load_profile("heron")).for_tap(180.0)
    raw = blow.band(heat, step_min=0.5)
    return heat, raw, blow.tuned_band(raw, heat, step_min=0.5)


def test_it_ends_where_the_works_ends(bands):
    """Within two and a half of the spreads of its ends, and the draws are not thrown away."""
    _, raw, tuned = bands
    assert tuned.feasible.sum() > 0.7 * len(tuned.feasible) and tuned.feasible[0]
    for key, row in blow.quantities().items():
        if row["end_spread"]:
            low, high = (side[-1] for side in tuned.envelope(key))
            middle = tuned.middle(key)[-1]
            assert (
                middle - 2.5 * row["end_spread"] <= low <= high <= middle + 2.5 * row["end_spread"]
            )
            wide = np.subtract(*(side[-1] for side in raw.envelope(key)))
            assert high - low < -0.6 * wide


def test_levels_are_the_least_squares_of_what_was_drawn_and_what_is_known():
    """The gain of Kalman's filter against its other form: by NumPy's least squares of both."""
    random = np.random.default_rng(1)
    slope, drawn, off = (random.standard_normal(n) for n in ((3, 5), (4, 5), (4, 3)))
    both = np.concatenate([np.eye(5) / 0.5, slope])
    for levels, d, o in zip(nearest(slope, drawn, off), drawn, off, strict=True):
        known = np.concatenate([d / 0.5, o])
        assert levels == pytest.approx(np.linalg.lstsq(both, known, rcond=None)[0], rel=1e-9)


def test_what_is_known_in_mid_blow_and_what_is_not(bands):
    """Carbon follows from oxygen; phosphorus and iron oxide stay open."""
    _, raw, tuned = bands
    i = np.searchsorted(tuned.time_min, 9.0)

    def width(band, key):
        return np.subtract(*(side[i] for side in band.envelope(key)[::-1]))

    assert width(tuned, "C") < 0.5 and width(raw, "C") > width(tuned, "C")
    assert width(tuned, "temperature") < 90.0
    assert width(tuned, "P") > 0.01 and width(tuned, "FeO") > 8.0


def test_the_band_can_fail(bands):
    """A heat of another vessel, badly mixed, leaves the tuned band for a quarter of its time and
    more, with iron oxide and with carbon, and stays in the raw one.
    """
    heat, raw, tuned = bands
    other = blow.solve(heat, parameters={"slag_exchange": 0.15}, step_min=0.5)

    def outside(band, key):
        low, high = band.envelope(key)
        line = np.interp(band.time_min, other.time_min, other.of(key))
        return np.mean((line < low - 1e-9) | (line > high + 1e-9))

    assert outside(tuned, "FeO") > 0.25 and outside(tuned, "C") > 0.35
    assert outside(raw, "FeO") == outside(raw, "C") == 0.0


def test_the_same_draws_every_time(bands):
    heat, raw, tuned = bands
    again = blow.tuned_band(raw, heat, step_min=0.5)
    assert np.array_equal(again.levels, tuned.levels)


def test_each_parameter_alone_is_enough_for_effects_and_the_tuned_band():
    names = ("critical_carbon_pct", "slag_exchange", "silicon_per_min", "p_partition_factor")
    whole, alone = (blow.band(names=names, step_min=0.5, together=t) for t in (True, False))
    assert len(alone.levels) == 9 < len(whole.levels)
    np.testing.assert_array_equal(alone.time_min, whole.time_min)
    for quantity in ("C", "FeO"):
        found, known = alone.effects(quantity), whole.effects(quantity)
        assert list(found) == list(known)
        for name, pair in known.items():
            assert found[name] == pytest.approx(pair, rel=1e-9, abs=1e-12)
        low, high = (
            blow.tuned_band(b, step_min=0.5, draws=10).envelope(quantity) for b in (alone, whole)
        )
        np.testing.assert_allclose(low, high, rtol=1e-9)
