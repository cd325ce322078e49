"""Small tools for calculations that take numbers and arrays alike."""

import warnings

import numpy as np

from .errors import ExtrapolationWarning, InputError

__all__ = ["bisect", "common_shape", "plain", "warn_where"]


def plain(x):
    """A float for a single number, the array itself otherwise."""
    return np.asarray(x).item() if np.ndim(x) == 0 else x


def common_shape(what, *values):
    """Shape to which numbers and arrays broadcast. Raises InputError if they do not fit together; what: named in the message."""
    try:
        return np.broadcast_shapes(*(np.shape(v) for v in values))
    except ValueError:
        shapes = ", ".join(str(np.shape(v)) for v in values if np.shape(v))
        raise InputError(f"{what}: arrays of shapes {shapes} were given; they cannot be combined.") from None


def warn_where(outside, message):
    """ExtrapolationWarning with a message of its own where a rule (not a published range) stops to hold; outside: bool or bool array."""
    if np.any(outside):
        warnings.warn(message, ExtrapolationWarning, stacklevel=3)


def bisect(rising, low, high):
    """Root of a function that rises from below zero at low to above zero at high; the points of an array are solved together."""
    for _ in range(56):
        middle = 0.5 * (low + high)
        below = rising(middle) < 0
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return 0.5 * (low + high)
