"""Known mistakes made of the right calculation: each function returns the field of a Slip, so that
its wrong value is found by recomputing, never typed in.
"""


def after(function):
    """What the learner makes of the right answer: function(right answer, given dict)."""
    return {"after": function}


def times(factor):
    """The right answer multiplied by a factor: a number, or a function of the given dict."""
    return after(lambda answer, given: answer * _of(given, factor))


def upside_down():
    """The answer turned upside down: 1 divided by it."""
    return after(lambda answer, given: 1.0 / answer)


def taken(**values):
    """The problem solved with other values for some of the given quantities: numbers, or functions
    of the given dict. One left out has the value at which it has no effect (0 kg of scrap, 100 %
    purity).
    """
    return {
        "change": lambda given: given | {name: _of(given, value) for name, value in values.items()}
    }


def _of(given, value):
    return value(given) if callable(value) else value
