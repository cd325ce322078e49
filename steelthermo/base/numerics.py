"""Small tools for calculations that take numbers and arrays alike."""

import warnings

import numpy as np

from .errors import ExtrapolationWarning, InputError

_SMALLEST_STEP = 4e-16  # of find_root(), relative: two digits of the last place
_MOST_STEPS = 120  # of find_root(): in the second half it halves only, which alone is enough


def plain(x):
    """A float for a single number, the array itself otherwise."""
    return np.asarray(x).item() if np.ndim(x) == 0 else x


def common_shape(what, *values):
    """Shape to which numbers and arrays broadcast. Raises InputError if they do not fit together;
    what: named in the message.
    """
    try:
        return np.broadcast_shapes(*(np.shape(v) for v in values))
    except ValueError:
        shapes = ", ".join(str(np.shape(v)) for v in values if np.shape(v))
        raise InputError(
            f"{what}: arrays of shapes {shapes} were given; they cannot be combined."
        ) from None


def warn_where(outside, message):
    """ExtrapolationWarning with a message of its own where a rule (not a published range) stops to
    hold; outside: bool or bool array.
    """
    if np.any(outside):
        warnings.warn(message, ExtrapolationWarning, stacklevel=3)


def find_root(rising, low, high, ends=None):
    """Root of a function that rises from below zero at low to above zero at high; the points of an
    array are solved together, each by itself.

    The root stays between two ends of known sign. They close in by halving, and by inverse
    quadratic interpolation where the last three points say that it is safe (the rule of
    Chandrupatla 1997, recalled): some ten calls instead of fifty. The ends themselves are never
    asked for; where their values are known, ends=(f(low), f(high)) saves the first halvings, and
    where these have one sign the end nearer to zero is returned.
    Returns the root to the last digit. Raises InputError if the function has no value somewhere
    between.
    """
    f_low, f_high = (-np.inf, np.inf) if ends is None else ends
    # the newest point, and the end across the root
    a, b, f_a, f_b = (np.array(x, float) for x in np.broadcast_arrays(low, high, f_low, f_high))
    alone = (f_a < 0) == (f_b < 0)  # no root between
    end = np.where(np.abs(f_a) < np.abs(f_b), a, b)
    a, b = np.where(alone, end, a), np.where(alone, end, b)
    with np.errstate(all="ignore"):  # straight between the ends, where their values are known
        straight = f_a / (f_a - f_b)
    step = np.where((straight > 0.0) & (straight < 1.0), straight, 0.5)
    for n in range(_MOST_STEPS):
        x = a + step * (b - a)
        y = rising(x)
        if np.isnan(y).any():
            raise InputError(
                f"root of an equation: it has no value at {np.min(x[np.isnan(y)]):g}; it must have "
                "one everywhere between its ends."
            )
        same = (y < 0) == (f_a < 0)
        c, f_c = np.where(same, a, b), np.where(same, f_a, f_b)
        b, f_b = np.where(same, b, a), np.where(same, f_b, f_a)
        a, f_a = x, y
        nearer = np.abs(f_a) <= np.abs(f_b)
        best, gap = np.where(nearer, a, b), np.abs(b - a)
        least = _SMALLEST_STEP * np.abs(best)
        done = (2.0 * least >= gap) | (np.where(nearer, f_a, f_b) == 0)
        if done.all():
            break
        with np.errstate(all="ignore"):
            at, height = (a - b) / (c - b), (f_a - f_b) / (f_c - f_b)
            curved = f_a / (f_b - f_a) * f_c / (f_b - f_c) + (c - a) / (b - a) * f_a / (
                f_c - f_a
            ) * f_b / (f_c - f_b)
            safe = np.isfinite(curved) & (height**2 < at) & ((1.0 - height) ** 2 < 1.0 - at)
            least = np.minimum(least / gap, 0.5)
        step = np.where(safe & (n < _MOST_STEPS // 2), curved, 0.5)
        # a point that is done stays where it is
        step = np.where(done, 0.0, np.clip(step, least, 1.0 - least))
    return best


def root_from_values(nodes, falling):
    """Where a falling smooth function known at nodes (first axis) is zero: the node as a polynomial
    of the value (Neville's scheme, in every textbook), without one call of the function.
    """
    for apart in range(1, len(falling)):
        fall = falling[:-apart] - falling[apart:]
        nodes = (falling[:-apart] * nodes[1:] - falling[apart:] * nodes[:-1]) / np.where(
            fall == 0.0, 1.0, fall
        )
    return nodes[0]


def fixed_point(step, start, refusal, rel=1e-10, small=0.0, most=500):
    """The x that step(x) gives back, by putting it in again and again from start, until no point
    of an array moves more than rel of itself and small.

    Raises InputError with the text refusal after `most` steps.
    """
    for _ in range(most):
        old, start = start, step(start)
        if np.all(np.abs(start - old) <= small + rel * np.abs(start)):
            return plain(start)
    raise InputError(refusal)
