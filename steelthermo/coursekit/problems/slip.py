"""Known mistakes made of the right calculation: each function returns the field of a Slip, so that
its wrong value is found by recomputing, never typed in.

A value may be a number, a word, the name of a given quantity, or a function of the given dict.
"""


def after(function):
    """What the learner makes of the right answer: function(right answer, given dict)."""
    return {"after": function}


def made_into(function):
    """What the learner makes of the right answer alone: function(right answer)."""
    return after(lambda answer, given: function(answer))


def times(value):
    """The right answer multiplied by a value."""
    return after(lambda answer, given: answer * _of(given, value))


def divided(value):
    """The right answer divided by a value, such as one tonne taken for the whole."""
    return after(lambda answer, given: answer / _of(given, value))


def multiplied(name):
    """Multiplied by a given share, %, where it is divided by it."""
    return after(lambda answer, given: answer * (given[name] / 100.0) ** 2)


def upside_down():
    """The answer turned upside down: 1 divided by it."""
    return made_into(lambda answer: 1.0 / answer)


def taken(**values):
    """The problem solved with other values for some of the given quantities. One left out has the
    value at which it has no effect (0 kg of scrap, 100 % purity).
    """
    return {
        "change": lambda given: given | {name: _of(given, value) for name, value in values.items()}
    }


def rest(name):
    """The problem solved with what is left of a given share, %: 100 % less it."""
    return taken(**{name: lambda given: 100.0 - given[name]})


def _of(given, value):
    if callable(value):
        return value(given)
    return given.get(value, value) if isinstance(value, str) else value
