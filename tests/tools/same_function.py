"""Whether a function made wrong is another function at all: what it gives and what it leaves in its
arguments, for arguments that tests gave it.
"""

import copy
import inspect
import signal
import time
import warnings
from collections.abc import Mapping

import numpy as np

SAME = 1e-9
PATIENCE_S = 3  # for one call, of the processor's time: a busy machine makes nobody notice
LONG_S = 0.7  # for the kept calls of a function


def _too_long(*_):
    raise TimeoutError


def in_time(call, seconds=PATIENCE_S):
    """What a call returns, True if it takes too long."""
    signal.signal(signal.SIGPROF, _too_long)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        return call()
    except TimeoutError:
        return True
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)


def outcome(function, call):
    """Every number that a call of a function gives or leaves in its arguments."""
    given = copy.deepcopy(call)
    names = list(inspect.signature(function.plain).parameters.values())
    plain = [given[p.name] for p in names if p.kind in (p.POSITIONAL_ONLY, p.POSITIONAL_OR_KEYWORD)]
    more = next((given[p.name] for p in names if p.kind == p.VAR_POSITIONAL), ())
    named = {p.name: given[p.name] for p in names if p.kind == p.KEYWORD_ONLY}
    named |= next((given[p.name] for p in names if p.kind == p.VAR_KEYWORD), {})
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            back = in_time(lambda: function.plain(*plain, *more, **named))
            if inspect.isgenerator(back):
                back = list(back)
    except Exception as error:  # a mutant may fail in any way
        return [type(error).__name__]
    return list(_numbers((back, given), set()))


def _numbers(thing, seen):
    if isinstance(thing, (str, bool, type(None))) or callable(thing):
        yield thing  # a function made anew is never the same: such calls are no witness
    elif isinstance(thing, (int, float, complex, np.generic, np.ndarray)):
        yield np.asarray(thing)
    elif id(thing) not in seen:
        seen.add(id(thing))
        if isinstance(thing, Mapping):
            parts = [*thing.keys(), *thing.values()]
        elif isinstance(thing, (list, tuple, set, frozenset)):
            parts = list(thing)
        else:
            slots = [s for kind in type(thing).__mro__ for s in getattr(kind, "__slots__", ())]
            parts = [*getattr(thing, "__dict__", {}).values()]
            parts += [getattr(thing, s, None) for s in slots]
        for part in parts:
            yield from _numbers(part, seen)


def apart(one, other):
    """The largest difference of two outcomes, over the number: infinite if they are not of one
    kind.
    """
    if len(one) != len(other):
        return np.inf
    most = 0.0
    for a, b in zip(one, other, strict=True):
        numbers = isinstance(a, np.ndarray) and isinstance(b, np.ndarray)
        if numbers and a.shape == b.shape and a.dtype.kind in "fc" and b.dtype.kind in "fc":
            blank = np.isnan(a) & np.isnan(b)
            size = np.maximum(np.abs(a), np.abs(b)) + 1e-15 / SAME
            with np.errstate(invalid="ignore"):
                share = np.where(blank | (a == b), 0.0, np.abs(a - b) / size)
            most = max(most, np.max(np.where(np.isnan(share), np.inf, share), initial=0.0))
        elif not (np.array_equal(a, b) if numbers else a is b or (type(a) is type(b) and a == b)):
            return np.inf
    return float(most)


class Usual:
    """What a function gives as it is, for the calls that were kept; those that take long aside."""

    def __init__(self, function):
        self.function, self.outcomes = function, []
        begun = time.perf_counter()
        for call in function.calls:
            out = outcome(function, call)
            if apart(out, outcome(function, call)) < SAME:
                self.outcomes.append((call, out))
            if time.perf_counter() - begun > LONG_S:
                break

    def apart(self):
        """How far the function, as it is now, is from that: the largest difference of a number."""
        most = 0.0
        for call, out in self.outcomes:
            most = max(most, apart(out, outcome(self.function, call)))
            if most == np.inf:
                break
        return most
