"""Known mistakes made of the right calculation: each function returns the field of a Slip, so that
its wrong value is found by recomputing, never typed in.

A value may be a number, a word, the name of a given quantity, or a function of the given dict.
"""

from collections.abc import Callable


def after(function: Callable) -> dict:
    """What the learner makes of the right answer and the given quantities.

    Parameters
    ----------
    function : of (right answer, given dict)

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> after(lambda answer, given: answer / given["n"])["after"](6.0, {"n": 3.0})
    2.0
    """
    return {"after": function}


def made_into(function: Callable) -> dict:
    """What the learner makes of the right answer alone.

    Parameters
    ----------
    function : of the right answer

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> made_into(lambda answer: 100.0 - answer)["after"](30.0, {})
    70.0
    """
    return after(lambda answer, given: function(answer))


def times(value: object) -> dict:
    """The right answer multiplied by a value.

    Parameters
    ----------
    value : a number, a word, the name of a given quantity, or a function of the given dict

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> times(0.1)["after"](30.0, {})
    3.0
    """
    return after(lambda answer, given: answer * _of(given, value))


def multiplied(name: str) -> dict:
    """Multiplied by a given share where it is divided by it.

    Parameters
    ----------
    name : of the share, %

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> multiplied("purity_pct")["after"](100.0, {"purity_pct": 50.0})
    25.0
    """
    return after(lambda answer, given: answer * (given[name] / 100.0) ** 2)


def upside_down() -> dict:
    """The answer turned upside down: 1 divided by it.

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> upside_down()["after"](4.0, {})
    0.25
    """
    return made_into(lambda answer: 1.0 / answer)


def taken(**values: object) -> dict:
    """The problem solved with other values for some of the given quantities.

    Parameters
    ----------
    values : of each; one left out has the value at which it has no effect (0 kg of scrap, 100 %
        purity)

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> taken(purity_pct=100.0)["change"]({"purity_pct": 95.0, "steel_t": 180.0})
    {'purity_pct': 100.0, 'steel_t': 180.0}
    """
    return {
        "change": lambda given: given | {name: _of(given, value) for name, value in values.items()}
    }


def rest(name: str) -> dict:
    """The problem solved with what is left of a given share: 100 % less it.

    Parameters
    ----------
    name : of the share, %

    Returns
    -------
    what a Slip takes as its fields

    Examples
    --------
    >>> rest("co2_pct")["change"]({"co2_pct": 10.0})
    {'co2_pct': 90.0}
    """
    return taken(**{name: lambda given: 100.0 - given[name]})


def _of(given, value):
    if callable(value):
        return value(given)
    return given.get(value, value) if isinstance(value, str) else value
