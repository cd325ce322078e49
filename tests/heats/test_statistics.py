"""Intervals and fits against SciPy (Student's t, linear regression, Wilson's interval, Huber's
loss) and by simulation of what they promise: that 95 % of the intervals hold the truth."""

import numpy as np
import pytest
from scipy import optimize, stats

from steelthermo.base import InputError
from steelthermo.heats import statistics as st


@pytest.mark.parametrize("free", [5, 8, 20, 200])
@pytest.mark.parametrize("level", [80.0, 95.0, 99.0])
def test_t_quantile_is_scipys(level, free):
    assert st.t_quantile(level, free) == pytest.approx(
        stats.t.ppf(0.5 + level / 200, free), rel=2e-3
    )


def test_mean_slope_and_share_are_scipys():
    random = np.random.default_rng(3)
    x, e = random.normal(size=40), random.normal(size=40)
    y = 2.0 + 0.7 * x + e
    found = st.mean_interval(y)
    low, high = stats.t.interval(0.95, 39, y.mean(), stats.sem(y))
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-3)
    line = stats.linregress(x, y)
    slope = st.slope_interval(x, y)
    assert slope.value == pytest.approx(line.slope)
    assert slope.high - slope.value == pytest.approx(stats.t.ppf(0.975, 38) * line.stderr, rel=1e-3)
    for hits, n in ((0, 10), (80, 100), (600, 600)):
        ours = st.share_interval(hits, n)
        theirs = stats.binomtest(hits, n).proportion_ci(method="wilson")
        assert (ours.low / 100, ours.high / 100) == pytest.approx((theirs.low, theirs.high))
    # rounding took the lower end of none in 280 to -8.7e-17, which was printed
    assert st.share_interval(0, 280).low == 0.0 and st.share_interval(280, 280).high == 100.0


def test_blanks_are_left_out_and_too_few_refused():
    x = np.ma.array(np.arange(10.0), mask=[0] * 9 + [1])
    assert st.mean_interval(x).n == 9
    assert st.slope_interval(x, np.arange(10.0)).n == 9
    with pytest.raises(InputError, match="3 were given; at least 6"):
        st.mean_interval([1.0, 2.0, 3.0])
    with pytest.raises(InputError, match="x is the same everywhere"):
        st.slope_interval(np.ones(9), np.arange(9.0))


def test_intervals_hold_the_truth_as_often_as_they_say():
    random = np.random.default_rng(7)
    held = sum(
        abs(found.value - 5.0) <= found.high - found.value
        for found in (st.mean_interval(random.normal(5.0, 2.0, 12)) for _ in range(2000))
    )
    assert held / 2000 == pytest.approx(0.95, abs=0.015)  # three standard errors


def test_robust_fit_is_the_minimum_of_hubers_loss():
    random = np.random.default_rng(5)
    rows = np.column_stack([np.ones(60), random.normal(size=60)])
    y = rows @ [1.0, -2.0] + random.standard_t(2, size=60)
    found, weight = st.robust_fit(rows, y)
    edge = 1.345 * 1.4826 * np.median(np.abs(y - rows @ found))
    theirs = optimize.least_squares(lambda c: rows @ c - y, [0, 0], loss="huber", f_scale=edge)
    assert found == pytest.approx(theirs.x, abs=2e-4)
    assert weight.min() < 0.5 < weight.max() == 1.0
    with pytest.raises(InputError, match="tell the coefficients apart"):
        st.robust_fit(np.ones((9, 2)), np.arange(9.0))


def test_blocks_keep_neighbours_together():
    """The mean of numbers that hang together by shifts of 20 scatters more than single draws say:
    sd of the mean of n/20 independent shifts (elementary)."""
    random = np.random.default_rng(2)
    x = np.repeat(random.normal(size=200), 20)
    means = x[st.blocks(x.size, 400, 60)].mean(axis=1)
    assert means.std() == pytest.approx(x.std() / np.sqrt(200), rel=0.2)
    assert means.std() > 3 * x.std() / np.sqrt(x.size)


def test_many_fits_at_once_are_those_one_by_one():
    random = np.random.default_rng(6)
    rows = np.column_stack([np.ones(80), 100.0 * random.normal(size=80)])
    y = rows @ [1.0, 0.02] + random.standard_t(2, size=80)
    heats = st.blocks(80, 5, 9)
    counts = np.array([np.bincount(i, minlength=80) for i in heats])
    together = st.robust_fits(rows, y, counts, 1.2)
    apart = np.array([st.robust_fit(rows[i], y[i], 1.2)[0] for i in heats])
    assert together == pytest.approx(apart, rel=1e-4, abs=1e-5)
    with pytest.raises(InputError, match="tell the coefficients apart"):
        st.robust_fits(np.ones((9, 2)), np.arange(9.0), np.ones((1, 9)), 1.0)


def test_intervals_of_blocks_hold_the_truth():
    """The mean of 120 independent numbers, by blocks of 15 of them: only 8 blocks, so that 1.96
    standard deviations would hold it in some 89 %."""
    random, held = np.random.default_rng(8), 0
    factor = st.times_sd(120, 15)
    starts = st.blocks(120, 200, 15)
    for _ in range(1500):
        x = random.normal(size=120)
        held += abs(x.mean()) <= factor * x[starts].mean(axis=1).std(ddof=1)
    assert held / 1500 == pytest.approx(0.95, abs=0.02)
