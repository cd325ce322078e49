"""What people give by mistake to a function, and whether it answers with an InputError: what the
tests of the surface use. Expected is the plain meaning of "an argument"; no outside source.
"""

import dataclasses
import inspect

import numpy as np

from steelthermo.base import InputError

NAN = float("nan")
HOSTILE = {
    "text": "x",
    "no text": b"x",
    "None": None,
    "nan": NAN,
    "infinite": np.inf,
    "negative": -1.0,
    "far below": -1e9,
    "very large": 1e308,
    "beyond a float": 10**400,
    "zero": 0.0,
    "True": True,
    "complex": 1j,
    "empty list": [],
    "empty array": np.array([]),
    "list": [1.0, 2.0],
    "mixed list": [1.0, "x"],
    "array": np.array([1.0, 2.0]),
    "array with nan": np.array([1.0, NAN]),
    "table": np.ones((2, 3)),
    "empty mapping": {},
    "mapping of lists": {"C": []},
    "mapping of texts": {"C": "x"},
    "mapping with nan": {"C": NAN},
    "mapping below zero": {"C": -1.0},
    "mapping by numbers": {3: 1.0},
    "unknown name": {"nonsense": 1.0},
    "set": {1.0},
    "object": object(),
}


def infinite(x, deep=2):
    """Whether NaN or infinity stands in a number, an array, or what holds them."""
    if isinstance(x, float):
        return not np.isfinite(x)
    if isinstance(x, np.ndarray):
        return x.dtype.kind == "f" and not np.isfinite(x).all()
    if isinstance(x, dict):
        x = list(x.values())
    elif dataclasses.is_dataclass(x) and not isinstance(x, type):
        x = [getattr(x, f.name) for f in dataclasses.fields(x)]
    return isinstance(x, tuple | list) and deep > 0 and any(infinite(v, deep - 1) for v in x)


def spoilt(function, given, named, parameter, value, fields=True):
    """The call with a value in the place of an argument, or of all that are needed where none is
    given: [(given, named)]. fields: of options that are the fields of a record, each of them.
    """
    signature = inspect.signature(function)
    if given is None:
        kinds = [p for p in signature.parameters.values() if p.default is p.empty]
        by_name = [p.name for p in kinds if p.kind is p.KEYWORD_ONLY]
        others = [p for p in kinds if p.kind not in (p.KEYWORD_ONLY, p.VAR_KEYWORD)]
        yield (
            (value,) * max(len(others), bool(signature.parameters) and not by_name),
            dict.fromkeys(by_name, value),
        )
        return
    bound = signature.bind_partial(*given, **named)
    kind = signature.parameters[parameter].kind
    if kind is inspect.Parameter.VAR_KEYWORD:
        options = bound.arguments.get(parameter, {})
        hint = inspect.get_annotations(inspect.unwrap(function), eval_str=True).get(parameter)
        records = getattr(hint, "__metadata__", ()) if fields else ()
        more = [f.name for record in records for f in dataclasses.fields(record)]
        keys = dict.fromkeys([*list(options)[:2], "nonsense", *more])
        values = [{**options, key: value} for key in keys if key not in signature.parameters]
    elif kind is inspect.Parameter.VAR_POSITIONAL:
        values = [(value, *bound.arguments.get(parameter, ())[1:])]
    else:
        values = [value]
    for x in values:
        bound.arguments[parameter] = x
        yield bound.args, bound.kwargs


def fault(function, given, named, says_nan=False):
    """What is wrong with how a call ends, or None: in a result or an InputError is right."""
    try:
        found = function(*given, **named)
    except InputError as error:
        return None if str(error).strip() else "InputError without words"
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    return "no finite result" if not says_nan and infinite(found) else None
