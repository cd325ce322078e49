"""The three outcomes of every calculation: fine, extrapolated (a value with a warning), refused (an
error).

Each message names the quantity, the value given and the allowed range, so that a learner can act on
it.
"""

import sys
import warnings
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from difflib import get_close_matches
from numbers import Real

import numpy as np

from .hints import Number

_FEW = 30  # names that a message lists whole
_ICE_K = 273  # near enough to guess a mistaken scale by
_MOST = 1e100  # of any figure: products of a few of them are still numbers


class InputError(ValueError):
    """A value that makes no sense: the message names the quantity, what was given and what is
    allowed.
    """

    def _render_traceback_(self):
        """What a notebook shows, by IPython's custom: the sentence, without the way there."""
        return [f"{type(self).__name__}: {self}"]


class ExtrapolationWarning(UserWarning):
    """A value outside the published range of a correlation: usable with care, never silent."""


def warn(message: str) -> None:
    """An ExtrapolationWarning that points at the line outside the kit which asked.

    Parameters
    ----------
    message : what is extrapolated

    Examples
    --------
    >>> warn("carbon: 0.9 % lies outside")  # doctest: +SKIP
    """
    package, frame, level = __package__.partition(".")[0], sys._getframe(1), 2
    while frame.f_back and frame.f_globals.get("__name__", "").partition(".")[0] == package:
        frame, level = frame.f_back, level + 1
    warnings.warn(message, ExtrapolationWarning, stacklevel=level)


def _first_bad(value, bad):
    """First offending element of an array as a plain float, for the message."""
    return np.broadcast_to(np.asarray(value, dtype=float), np.shape(bad))[bad].flat[0].item()


def shown(value: object) -> str:
    """What was given, for a message; long texts cut short.

    Parameters
    ----------
    value : anything

    Returns
    -------
    at most 60 characters

    Examples
    --------
    >>> shown("4.5 %")
    "'4.5 %'"
    """
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def nearest(name: str, known: Iterable[str], most: int = 3) -> list:
    """The names that are most like a wrong one.

    Parameters
    ----------
    name : the wrong one
    known : names that are right
    most : how many are wanted

    Returns
    -------
    names, the likest first

    Examples
    --------
    >>> nearest("SiO", ["SiO2", "MnO", "CaO"], 1)
    ['SiO2']
    """
    return get_close_matches(str(name)[:60], known, most)


@contextmanager
def quietly() -> Iterator[None]:
    """Inside, nothing is said of what is extrapolated: it is said elsewhere, or is no question.

    Returns
    -------
    context

    Examples
    --------
    >>> with quietly():
    ...     warnings.warn("beyond the data", ExtrapolationWarning)
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)
        yield


def one_of(name: str, given: object, allowed: Iterable) -> object:
    """What is given, if it is one of the names allowed.

    Parameters
    ----------
    name : what the message calls it
    given : a name
    allowed : names, or a mapping by name

    Returns
    -------
    the name given

    Raises
    ------
    InputError
        Tells the names allowed, or of many the nearest.

    Examples
    --------
    >>> one_of("gas", "N", ("N", "H"))
    'N'
    """
    try:
        if given in allowed:
            return given
    except (TypeError, ValueError):  # a list or an array, that no mapping looks up
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


def finite(name: str, value: object, unit: str = "") -> Number:
    """A number or an array of numbers, refused if it is text, boolean, NaN or infinite.

    Parameters
    ----------
    name : what the message calls it
    value : number, array or list
    unit : for the message

    Returns
    -------
    float, or float array of the same shape

    Raises
    ------
    InputError

    Examples
    --------
    >>> finite("carbon", 4, "%")
    4.0
    """
    if isinstance(value, float) and -_MOST < value < _MOST:
        return float(value)  # a NumPy scalar too becomes a plain float
    array = _as_floats(value)
    if array is None:
        raise InputError(
            f"{name}: {shown(value)} was given; a number{f' in {unit}' if unit else ''} is needed."
        )
    good = np.isfinite(array) & (np.abs(array) < _MOST)
    if not good.all():
        raise InputError(
            f"{name}: {_first_bad(array, ~good)} was given; a finite "
            f"number{f' in {unit}' if unit else ''} is needed."
        )
    return array.item() if array.ndim == 0 else array


def between(
    name: str, value: object, low: float, high: float, unit: str = "", hint: str = ""
) -> Number:
    """A number or an array that lies from low to high everywhere.

    Parameters
    ----------
    name : what the message calls it
    value : number or array
    low, high : limits, both allowed
    unit : of all three, for the message
    hint : a sentence that helps; a mistaken scale of temperature is seen without it

    Returns
    -------
    float or float array

    Raises
    ------
    InputError

    Examples
    --------
    >>> between("carbon", 4.5, 0.0, 6.0, "%")
    4.5
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
    if not hint and unit == "°C" and low <= given - _ICE_K <= high:
        hint = "Was kelvin given? Degrees Celsius are needed."
    if not hint and unit == "K" and low <= given + _ICE_K <= high:
        hint = "Is this degrees Celsius? Kelvin is needed."
    unit = f" {unit}" if unit else ""
    raise InputError(
        f"{name}: {given:g}{unit} was given; allowed is {low:g} to "
        f"{high:g}{unit}.{' ' + hint if hint else ''}"
    )


def positive(name: str, value: object, unit: str = "", hint: str = "", zero: bool = True) -> Number:
    """A number or an array that is nowhere negative.

    Parameters
    ----------
    name : what the message calls it
    value : number or array
    unit : for the message
    hint : a sentence that helps
    zero : False refuses zero too

    Returns
    -------
    float or float array

    Raises
    ------
    InputError

    Examples
    --------
    >>> positive("scrap", 40, "t")
    40.0
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


def extrapolated(
    name: str,
    value: object,
    low: float | None,
    high: float | None,
    unit: str = "",
    source: str = "",
) -> bool | np.ndarray:
    """Whether a value leaves the range of a correlation; it warns where it does.

    Parameters
    ----------
    name : what the message calls it
    value : number or array
    low, high : the range; None for no limit
    unit : of all three, for the message
    source : who published the range, or whose own it is, for the message

    Returns
    -------
    True where extrapolated, in the shape of value

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning

    Examples
    --------
    >>> extrapolated("carbon", np.array([0.1, 0.5]), None, 0.8, "%")
    array([False, False])
    """
    value = finite(name, value, unit)
    low, high = -np.inf if low is None else low, np.inf if high is None else high
    outside = np.asarray((value < low) | (value > high))
    if outside.any():
        unit = f" {unit}" if unit else ""
        by = f" ({source})" if source else ""
        warn(
            f"{name}: {_first_bad(value, outside):g}{unit} lies outside the range "
            f"{low:g} to {high:g}{unit}{by}; the result is extrapolated."
        )
    return outside.item() if outside.ndim == 0 else outside
