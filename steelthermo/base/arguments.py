"""The gate behind the arguments of everything a folder of physics offers: what stumbles over an
argument that is of no use, such as a text where a number is needed, ends in an InputError that
names it.

The arguments are looked at only once something went wrong, so that a call that goes well costs
0.2 microseconds more. An exception whose cause is no argument passes unchanged.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence, Set, Sized
from dataclasses import is_dataclass
from functools import wraps
from inspect import Parameter, isclass, isfunction, ismodule, signature, unwrap
from pathlib import Path
from types import UnionType
from typing import Annotated, Union, get_args, get_origin, get_type_hints

import numpy as np

from .errors import InputError, shown

_OF_SHAPE = re.compile("shape|dimension|broadcast|mismatch|ind(ex|ices)|sequence")  # words of NumPy
_STUMBLES = (TypeError, ValueError, AttributeError, LookupError, ArithmeticError)
_WORDS = {
    str: "a text",
    bool: "True or False",
    int: "a whole number",
    float: "a number",
    np.ndarray: "a NumPy array",
    Path: "a path",
    Callable: "a function",
}
_NO_LISTS = (str, bytes, Mapping, Set)  # the last two are none where the order counts
_AMOUNTS = "a mapping by name such as {'C': 4.5}"
_PAIR = "a pair such as (0.02, 0.05)"
_WORDS |= dict.fromkeys((dict, Mapping), _AMOUNTS)
_WORDS |= dict.fromkeys((list, tuple, Iterable, Sequence), "a list with something in it")
_MOST_WHOLE = 10**9  # of what is counted


def checked(function: Callable, result_too: bool = True) -> Callable:
    """A function that tells a useless argument by InputError.

    Parameters
    ----------
    function : its type hints say what each argument is
    result_too : refuse figures that make the result NaN or infinite; a number is a plain float

    Returns
    -------
    function

    Examples
    --------
    >>> @checked
    ... def twice(mass_kg: float) -> float:
    ...     return mass_kg * 2.0
    >>> twice("4")
    Traceback (most recent call last):
    steelthermo.base.errors.InputError: mass_kg: '4' was given; a number is needed.
    """

    @wraps(function)
    def call(*given, **named):
        try:
            result = function(*given, **named)
            if not result_too or not isinstance(result, float):
                return result
            if result - result == 0.0:
                return float(result)  # NumPy's own would show itself as np.float64(...)
            raise InputError(f"{function.__name__}: these figures have no finite result.")
        except InputError:
            raise
        except _STUMBLES as error:
            said = fault(function, given, named, error)
            if said is None:
                raise
            raise InputError(said) from error

    return call


def check_all(room: str, names: dict) -> None:
    """checked() for the functions and classes that a folder offers as its own, and dir() of them.

    Parameters
    ----------
    room : name of the folder's module
    names : its globals, changed in place

    Examples
    --------
    >>> check_all("nowhere", {})
    """

    def offered():
        """What dir() and Tab show: neither the folder's files nor this function."""
        told = (n for n, x in names.items() if not n.startswith("_") and not ismodule(x))
        return sorted(n for n in told if n != check_all.__name__)

    names["__dir__"] = offered
    for name, what in list(names.items()):
        own = getattr(what, "__module__", None)
        if name.startswith("_") or not isinstance(own, str) or not own.startswith(f"{room}."):
            continue
        if isclass(what):
            made = "__init__" if is_dataclass(what) else ""  # others, such as Linear, by the kit
            for method, inside in list(vars(what).items()):
                if isfunction(inside) and (method == made or not method.startswith("_")):
                    setattr(what, method, checked(inside, result_too=False))
        elif isfunction(unwrap(what)):
            names[name] = checked(what)


def fits(what: str, function: Callable, named: Mapping) -> Mapping:
    """The arguments given by name for a function, if it takes them.

    Parameters
    ----------
    what : what the message calls them
    function, named : of a call

    Returns
    -------
    named

    Raises
    ------
    InputError

    Examples
    --------
    >>> fits("values", round, {"number": 1.5})
    {'number': 1.5}
    >>> fits("values", round, {})
    Traceback (most recent call last):
    steelthermo.base.errors.InputError: values: missing a required argument: 'number'.
    """
    try:
        signature(function).bind(**named)
    except TypeError as error:
        raise InputError(f"{what}: {error}.") from None
    return named


def fault(
    function: Callable, given: tuple, named: dict, error: Exception | None = None
) -> str | None:
    """What is wrong with the first argument of a call that does not fit its type hint.

    Parameters
    ----------
    function, given, named : the call; options hinted Annotated[object, Rules] are fields of Rules
    error : what it ended in

    Returns
    -------
    sentence, None where all fit

    Examples
    --------
    >>> def heat(T: float, coefficients: str = "jsps") -> float: ...
    >>> fault(heat, (1873.15,), {"coefficients": 3})
    'coefficients: 3 was given; a text is needed.'
    """
    own = unwrap(function)
    kinds = signature(own).parameters
    try:
        bound = signature(own).bind(*given, **named).arguments
    except TypeError:  # not an argument is wrong but their number or a name: Python says it
        return None
    hints, shapes = get_type_hints(own, include_extras=True), []
    for name, x in bound.items():
        each, hint = {name: x}, hints.get(name, object)
        fields = get_type_hints(hint.__metadata__[0]) if get_origin(hint) is Annotated else {}
        if kinds[name].kind is Parameter.VAR_KEYWORD:
            each = x
        elif kinds[name].kind is Parameter.VAR_POSITIONAL:
            each = {f"{name}[{i}]": value for i, value in enumerate(x)}
        for key, value in each.items():
            if each is x and f"unexpected keyword argument {key!r}" in str(error):
                return f"{key}: there is no such argument; see help({own.__name__})."
            if each is x and _size(value) == 0:
                return f"{key}: {shown(value)} was given; it holds no number."
            if said := _needed(value, fields.get(key, object) if fields else hint):
                return f"{key}: {said}."
            parts = value.values() if isinstance(value, Mapping) else (value,)
            shapes += [np.shape(part) for part in parts if _size(part) and np.ndim(part)]
    if shapes and isinstance(error, ValueError | IndexError) and _OF_SHAPE.search(str(error)):
        told = ", ".join(map(str, dict.fromkeys(shapes)))
        return f"{own.__name__}: arrays of shapes {told} were given; they cannot be combined."
    if isinstance(error, KeyError):
        return _missing(bound, error.args[0])
    if isinstance(error, ArithmeticError):
        return f"{own.__name__}: there is no finite result for {shown(bound)}."
    return None


def _missing(bound, name):
    """What is to be said of a name that was looked up and is not there."""
    for key, x in bound.items():
        if isinstance(x, str) and x == name or isinstance(x, list | tuple | dict) and name in x:
            return f"{key}: {shown(name)} was given; there is none of that name."
    for key, x in bound.items():
        if isinstance(x, Mapping) and name not in x:
            return f"{key}: {name} is missing; it is needed."
    return None


def _needed(x, hint):
    """What is to be said of x that does not fit a hint, None where it fits."""
    options = get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)
    kinds = [get_origin(option) or option for option in options]
    if {object, type} & set(kinds):
        return None
    if int in kinds and float not in kinds and _is_count(x):
        return None
    if {float, np.ndarray} & set(kinds) and (size := _size(x)) is not None:
        return _of_numbers(x, size, kinds)
    for kind, option in zip(kinds, options, strict=True):
        if isclass(kind) and issubclass(kind, Mapping | dict):
            if hasattr(x, "items"):
                return _named(x, get_args(option))
        elif kind is Callable:
            if callable(x):
                return None
        elif kind in (list, tuple, Iterable, Sequence):
            none = _NO_LISTS[: 2 if kind is Iterable else 4]
            if isinstance(x, Iterable) and not isinstance(x, none):
                return _listed(x, get_args(option), kind is tuple)
        elif kind is int:
            continue
        elif isinstance(x, (bool, np.bool_) if kind is bool else kind):
            return None
    words = [
        _PAIR if get_args(option) == (float, float) else _WORDS.get(kind, f"a {kind.__name__}")
        for kind, option in zip(kinds, options, strict=True)
        if kind is not type(None)
    ]
    return f"{shown(x)} was given; {' or '.join(dict.fromkeys(words))} is needed"


def _is_count(x):
    whole = isinstance(x, int | np.integer) and not isinstance(x, bool)
    return whole and 0 <= x < _MOST_WHOLE


def _size(x):
    """How many numbers x holds; None where it is not made of numbers."""
    try:
        array = np.asarray(x)
    except ValueError:  # ragged
        return None
    return array.size if array.dtype.kind in "iuf" else None


def _of_numbers(x, size, kinds):
    many = np.ndarray in kinds
    if size == 0:
        return f"{shown(x)} was given; it holds no number"
    if not np.isfinite(x).all():
        return f"{shown(x)} was given; finite numbers are needed"
    if np.ndim(x) and not many:
        return f"{shown(x)} was given; one number is needed"
    if np.ndim(x) and not isinstance(x, np.ndarray):
        return f"{shown(x)} was given; a number or a NumPy array is needed"
    if many and not np.ndim(x) and float not in kinds:
        return f"{shown(x)} was given; a NumPy array is needed"
    return None


def _named(x, kinds):
    """The same of a mapping; kinds: of its keys and values."""
    for key, value in x.items() if kinds else ():
        if kinds[0] is str and not isinstance(key, str):
            return f"{shown(key)} was given as a name; {_AMOUNTS} is needed"
        if said := _needed(value, kinds[1]):
            return f"{key}: {said}"
    return None


def _listed(x, kinds, each):
    """The same of what a list holds; kinds: of its parts, one for all, or (each) of one by one."""
    if isinstance(x, Sized) and not len(x):
        return f"{shown(x)} was given; it holds nothing"
    each = each and kinds and kinds[-1] is not ...
    if each and len(x) != len(kinds):
        return f"{shown(x)} was given; {len(kinds)} parts are needed"
    for i, value in enumerate(x if kinds and isinstance(x, Sized) else ()):
        if said := _needed(value, kinds[i if each else 0]):
            return f"part {i + 1} of the list: {said}"
    return None
