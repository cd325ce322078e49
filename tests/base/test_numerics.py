"""The root finders and the fixed point that the rooms share."""

import math

import numpy as np
import pytest

from steelthermo.base import InputError, find_root, fixed_point, root_from_values


def _halved(rising, low, high):
    """The plain method: halve the bracket until nothing is left of it."""
    for _ in range(60):
        middle = 0.5 * (low + high)
        below = rising(middle) < 0
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return 0.5 * (low + high)


def _counted(function):
    calls = []

    def counted(x):
        calls.append(x)
        return function(x)

    return counted, calls


@pytest.mark.parametrize(
    ("rising", "low", "high", "root"),
    [
        (lambda x: x**3 - 2.0, 0.0, 3.0, 2.0 ** (1.0 / 3.0)),
        (lambda x: np.exp(x) - 5.0, -2.0, 9.0, math.log(5.0)),
        (
            lambda x: np.log(x / (1.0 - x)) - 3.0,
            0.0,
            1.0,
            1.0 / (1.0 + math.exp(-3.0)),
        ),  # infinite at both ends, which are never asked for
        (lambda x: x - 0.0, -3.0, 1.0, 0.0),
    ],
)
def test_roots_that_are_known_exactly(rising, low, high, root):
    counted, calls = _counted(rising)
    assert find_root(counted, low, high) == pytest.approx(root, rel=1e-14, abs=1e-15)
    assert all(low < x < high for x in calls)
    assert len(calls) < 30


@pytest.mark.parametrize(
    "rising",
    [
        lambda x: (x - 0.3) ** 9,
        lambda x: np.cbrt(x - 0.3),
        lambda x: np.where(x < 0.3, -1.0, 1e9),
        lambda x: np.where(x < 0.3, -np.inf, x - 0.3),
    ],
)
def test_where_interpolation_does_not_help_it_halves(rising):
    """Flat, steep, in a step, infinite on one side: the bracket closes all the same, about as fast
    as by plain halving.
    """
    counted, calls = _counted(rising)
    assert (
        rising(find_root(counted, 0.0, 1.0) - 1e-15)
        <= 0
        <= rising(find_root(counted, 0.0, 1.0) + 1e-15)
    )
    assert len(calls) < 3 * 70


def test_points_of_an_array_do_not_see_each_other():
    """Each point gets the number that it gets alone, and that plain halving gives."""
    aims = np.array([[-30.0, -3.0, 0.0], [1e-9, 2.0, 30.0]])
    together = find_root(lambda x: x**3 + x - aims, np.full((2, 3), -4.0), np.full((2, 3), 4.0))
    alone = [
        [find_root(lambda x, aim=aim: x**3 + x - aim, -4.0, 4.0) for aim in row] for row in aims
    ]
    assert np.array_equal(together, np.array(alone, float))
    assert together == pytest.approx(
        _halved(lambda x: x**3 + x - aims, np.full((2, 3), -4.0), np.full((2, 3), 4.0)),
        rel=1e-14,
        abs=1e-16,
    )


@pytest.mark.parametrize("low", [0.0, np.zeros(3)])
def test_an_equation_without_a_value_is_refused(low):
    """NaN is neither above nor below: it would travel on as a root."""
    with pytest.raises(InputError, match="no value at 0.75"):
        find_root(lambda x: np.where(x > 0.6, np.nan, -1.0), low, low + 1.0)


def test_known_ends_save_calls_and_give_the_same_root():
    """A nearly straight function, as most heats are."""
    counted, calls = _counted(lambda T: T + 1e-4 * T**2 - 1700.0)
    low, high = np.full(2, 1000.0), np.full(2, 2000.0)
    ends = counted(low), counted(high)
    calls.clear()
    known = find_root(counted, low, high, ends)
    few = len(calls)
    assert find_root(counted, low, high) == pytest.approx(known, rel=1e-15)
    assert known == pytest.approx((np.sqrt(1.0 + 0.68) - 1.0) / 2e-4, rel=1e-15)
    assert few < len(calls) - few


def test_without_a_root_the_nearer_end():
    assert find_root(lambda x: x, 1.0, 3.0, (1.0, 3.0)) == 1.0
    assert find_root(lambda x: x - 5.0, 1.0, 3.0, (-4.0, -2.0)) == 3.0
    aims = np.array([5.0, 2.0])
    together = find_root(lambda x: x - aims, np.ones(2), np.full(2, 3.0), (1.0 - aims, 3.0 - aims))
    assert together == pytest.approx([3.0, 2.0], rel=1e-15)


def test_a_root_from_values_at_nodes_is_that_of_the_function():
    """The plain twin: the function itself, solved."""

    def surplus(T):
        return 3000.0 - T - 2e-5 * T**2

    nodes = np.linspace(1800.0, 2900.0, 9)
    assert root_from_values(nodes, surplus(nodes)) == pytest.approx(
        find_root(lambda T: -surplus(T), 1800.0, 3000.0), rel=1e-10
    )


def test_a_fixed_point():
    assert fixed_point(np.cos, 0.0, "none") == pytest.approx(0.7390851332151607, rel=1e-9)
    roots = fixed_point(lambda x: 0.5 * (x + [2.0, 9.0] / x), np.ones(2), "none", rel=1e-15)
    assert roots == pytest.approx([2.0**0.5, 3.0], rel=1e-15)
    assert isinstance(fixed_point(lambda x: np.float64(2.0), 0.0, "none"), float)
    with pytest.raises(InputError, match="runs away"):
        fixed_point(lambda x: 2.0 * x, 1.0, "it runs away")


@pytest.mark.parametrize(
    "rising",
    [
        lambda x: x**3 + x - 1.7,
        lambda x: np.exp(4.0 * x) - 20.0,
        lambda x: np.tanh(50.0 * (x - 0.123)),
        lambda x: np.where(x > 0.5, 1.0, -1.0),
        lambda x: np.where(x > 0.5, x - 0.4, (x - 0.5) ** 3),
        lambda x: x - 2.0,  # ends of one sign
    ],
)
@pytest.mark.parametrize("known", [False, True])
def test_one_root_takes_the_steps_of_many(rising, known):
    """The search of a single number against that of an array, its plain twin: the same points."""
    asked = [], []

    def seen(place):
        def call(x):
            asked[place].append(float(np.ravel(x)[0]))
            return rising(x)

        return call

    ends = (rising(np.float64(0.0)), rising(np.float64(1.0))) if known else None
    one = find_root(seen(0), 0.0, 1.0, ends)
    many = find_root(seen(1), np.zeros(1), np.ones(1), ends)
    assert one == many[0] and asked[0] == asked[1]
