"""The three outcomes of every calculation: fine, extrapolated (a value with a warning), refused (an
error).

Each message names the quantity, the value given and the allowed range, so that a learner can act on
it.
"""

import warnings
from difflib import get_close_matches
from numbers import Real

import numpy as np

_FEW = 30  # names that a message lists whole


class InputError(ValueError):
    """A value that makes no sense: the message names the quantity, what was given and what is
    allowed.
    """


class ExtrapolationWarning(UserWarning):
    """A value outside the published range of a correlation: usable with care, never silent."""


def _first_bad(value, bad):
    """First offending element of an array as a plain float, for the message."""
    return np.broadcast_to(np.asarray(value, dtype=float), np.shape(bad))[bad].flat[0].item()


def shown(value):
    """What was given, for the message; long texts cut short."""
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def nearest(name, known, most=3):
    """The names known that are most like a wrong one, as a list."""
    return get_close_matches(str(name)[:60], known, most)


def one_of(name, given, allowed):
    """Return given if it is one of the names allowed, else raise InputError that tells them, or of
    many the nearest.
    """
    try:
        if given in allowed:
            return given
    except TypeError:  # a list or the like, that no mapping looks up
        pass
    names = [" ".join(map(str, a)) if isinstance(a, tuple) else str(a) for a in allowed]
    said = f"allowed are {', '.join(names)}"
    if len(names) > _FEW:
        said = f"near it: {', '.join(nearest(given, names)) or 'none like it'}"
    raise InputError(f"{name}: {shown(given)} was given; {said}.")


def _as_floats(value):
    """Float array of anything that is made of numbers, else None: no text, no booleans, no complex
    numbers, nothing ragged.
    """
    try:
        array = np.asarray(value)
        if array.dtype.kind == "O" and not all(
            isinstance(x, Real) and not isinstance(x, bool) for x in array.flat
        ):
            return None
        return array.astype(float) if array.dtype.kind in "iufO" else None
    except (TypeError, ValueError, OverflowError):
        return None


def finite(name, value, unit=""):
    """Return value as float (or float array); refuse text, booleans, NaN and infinity.

    name: what the quantity is called in the message; unit: its unit, for the message.
    Raises InputError.
    """
    if isinstance(value, float) and value - value == 0.0:
        return float(value)  # a NumPy scalar too becomes a plain float
    array = _as_floats(value)
    if array is None:
        raise InputError(
            f"{name}: {shown(value)} was given; a number{f' in {unit}' if unit else ''} is needed."
        )
    good = np.isfinite(array)
    if not good.all():
        raise InputError(
            f"{name}: {_first_bad(array, ~good)} was given; a finite "
            f"number{f' in {unit}' if unit else ''} is needed."
        )
    return array.item() if array.ndim == 0 else array


def between(name, value, low, high, unit="", hint=""):
    """Return value if it is finite and low <= value <= high everywhere, else raise InputError.

    hint: a sentence that helps, such as 'Is this degrees Celsius?'.
    """
    value = finite(name, value, unit)
    if isinstance(value, float):
        if low <= value <= high:
            return value
        given = value
    else:
        bad = (value < low) | (value > high)
        if not bad.any():
            return value
        given = _first_bad(value, bad)
    unit = f" {unit}" if unit else ""
    raise InputError(
        f"{name}: {given:g}{unit} was given; allowed is {low:g} to "
        f"{high:g}{unit}.{' ' + hint if hint else ''}"
    )


def positive(name, value, unit="", hint="", zero=True):
    """Return value if it is finite and not negative (zero=False: and not zero), else raise
    InputError.
    """
    value = finite(name, value, unit)
    bad = value < 0 if zero else value <= 0
    if bad if isinstance(bad, bool) else bad.any():
        unit = f" {unit}" if unit else ""
        allowed = "zero or more" if zero else "more than zero"
        raise InputError(
            f"{name}: {_first_bad(value, bad):g}{unit} was given; allowed is "
            f"{allowed}.{' ' + hint if hint else ''}"
        )
    return value


def extrapolated(name, value, low, high, unit="", source=""):
    """Warn (ExtrapolationWarning) if value leaves low..high anywhere; return a bool or bool array:
    True = extrapolated.

    low, high: None for no limit; source: who published the range, for the message.
    """
    value = finite(name, value, unit)
    low, high = -np.inf if low is None else low, np.inf if high is None else high
    outside = np.asarray((value < low) | (value > high))
    if outside.any():
        unit = f" {unit}" if unit else ""
        by = f" ({source})" if source else ""
        warnings.warn(
            f"{name}: {_first_bad(value, outside):g}{unit} lies outside the published range "
            f"{low:g} to {high:g}{unit}{by}; the result is extrapolated.",
            ExtrapolationWarning,
            stacklevel=3,
        )
    return outside.item() if outside.ndim == 0 else outside
