"""Sums of squares, shares of a variance, share within a window: against functions whose answers are
exact and against the normal table.
"""

from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelthermo.base import InputError
from steelthermo.trust import first_order_shares, quadrature, within_pct


def _samples(names, n, seed=1, uniform=False):
    rng = np.random.default_rng(seed)
    draw = (lambda: rng.uniform(-np.pi, np.pi, n)) if uniform else (lambda: rng.standard_normal(n))
    return {name: draw() for name in names}


@pytest.mark.parametrize("n", [4000, 100_000])
def test_shares_of_a_sum_are_exact(n):
    """y = 3a + 2b + c with independent a, b, c of spread 1: 9/14, 4/14, 1/14, and nothing for d,
    which is not in it.
    """
    x = _samples("abcd", n)
    found = first_order_shares(x, 3 * x["a"] + 2 * x["b"] + x["c"])
    for name, exact in (("a", 9 / 14), ("b", 4 / 14), ("c", 1 / 14), ("d", 0.0)):
        assert found[name] == pytest.approx(exact, abs=4.0 / np.sqrt(n)), name
    assert list(found)[:3] == ["a", "b", "c"]


def test_shares_of_a_function_that_is_not_a_sum():
    """sin a + 7 sin^2 b + 0.1 c^4 sin a with a, b, c even on -pi..pi, a test function in general
    use. By integrals, worked out here:
    Var = 49/8 + 0.1 pi^4/5 + 0.01 pi^8/18 + 1/2, of which a takes (1 + 0.1 pi^4/5)^2/2 alone, b
    49/8, c nothing alone.
    """
    x = _samples("abc", 200_000, uniform=True)
    y = np.sin(x["a"]) + 7 * np.sin(x["b"]) ** 2 + 0.1 * x["c"] ** 4 * np.sin(x["a"])
    total = 49 / 8 + 0.1 * np.pi**4 / 5 + 0.01 * np.pi**8 / 18 + 0.5
    found = first_order_shares(x, y)
    for name, part in (("a", 0.5 * (1 + 0.1 * np.pi**4 / 5) ** 2), ("b", 49 / 8), ("c", 0.0)):
        assert found[name] == pytest.approx(part / total, abs=0.01), name
    assert sum(found.values()) < 0.8  # the rest is a and c together


def test_shares_do_not_care_for_scale_sign_or_shift():
    x = _samples("ab", 5000)
    y = x["a"] + 0.5 * x["b"] ** 2
    found = first_order_shares(x, y)
    other = first_order_shares({"a": -7.0 * x["a"] + 3.0, "b": 0.01 * x["b"]}, 100.0 - 3.0 * y)
    for name in "ab":
        assert other[name] == pytest.approx(found[name], abs=0.002)


def test_shares_of_nothing():
    x = _samples("ab", 400)
    assert first_order_shares(x, np.full(400, 3.0)) == {"a": 0.0, "b": 0.0}
    assert first_order_shares(x | {"still": np.zeros(400)}, x["a"])["still"] == 0.0


@pytest.mark.parametrize(
    "sigmas, pct",
    [(0.5, 38.29), (1.0, 68.27), (1.645, 90.0), (1.96, 95.0), (2.0, 95.45), (3.0, 99.73)],
)
def test_share_within_a_window_by_the_normal_table(sigmas, pct):
    """Table of the normal distribution, as in every textbook of statistics."""
    assert within_pct(10.0 * sigmas, 10.0) == pytest.approx(pct, abs=0.01)


@given(st.floats(0.01, 50.0), st.floats(0.1, 50.0), st.floats(-60.0, 60.0))
def test_share_within_a_window_against_the_standard_library(window, spread, bias):
    """statistics.NormalDist of Python's own library."""
    d = NormalDist(bias, spread)
    assert within_pct(window, spread, bias) == pytest.approx(
        100 * (d.cdf(window) - d.cdf(-window)), abs=1e-9
    )


def test_quadrature():
    assert quadrature([3.0, 4.0]) == quadrature({"a": -3.0, "b": 4.0}) == 5.0
    assert quadrature([]) == 0.0 and quadrature([12.0]) == 12.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: first_order_shares({"a": np.zeros(10)}, np.zeros(10)), "50 or more"),
        (
            lambda: first_order_shares({"a": np.zeros(60)}, np.zeros(61)),
            "60 were given; 61 are needed",
        ),
        (lambda: first_order_shares({"a": np.zeros(60)}, np.full(60, np.nan)), "finite"),
        (lambda: first_order_shares({"a": np.zeros(60)}, np.zeros(60), classes=1), "classes"),
        (lambda: within_pct(10.0, 0.0), "more than zero"),
        (lambda: within_pct(-1.0, 1.0), "window"),
        (lambda: quadrature([1.0, float("inf")]), "finite"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()


@pytest.mark.parametrize("classes", [4, 12])
def test_on_the_average_nothing_has_no_share(classes):
    """The correction for chance is exact: over many orders of the samples, drawn at random, an
    input that tells nothing has the share zero on the average.
    """
    rng = np.random.default_rng(4)
    y = rng.standard_normal(50)
    found = first_order_shares({k: rng.random(50) for k in range(2000)}, y, classes)
    assert np.mean(list(found.values())) == pytest.approx(0.0, abs=0.01)
