"""A panel declared by the names of a module and a table of its controls beside it, with the
module's name and .csv (see read_controls).

    TITLE                        what it answers, with {question} of the lesson and {works}
    SIZE_PX                      width and height of the picture
    given(works)                 what the next three get: the works in use, or a tuple that begins
                                 with it and holds what is found once
    controls(given)              what the table of controls leaves out, as read_controls takes it
    compute(given, at)           -> record; at: where the controls stand, a record with a field for
                                 each
    setup(fig), update(artists, record), or drawing(given) -> (setup, update)
    sentence(record), numbers(record), alt(record), closure(record), moved(record)
    sources(record)              of the record first shown
    data()                       the choice of published data, or a text

TITLE, given, controls, closure, moved and data may be left out; the rest as a Panel takes it.
"""

from collections import namedtuple
from functools import partial
from pathlib import Path

from ...base import one_of, quietly, translated
from ..adapter import in_use
from .controls import read_controls
from .panel import NONE_KNOWN, Panel
from .picture import Drawing

_USUAL = {
    "given": lambda works: works,
    "controls": lambda given: {},
    "closure": None,
    "moved": None,
    "data": lambda: NONE_KNOWN,
}


def _declared(name):
    """(lesson, what the module says, what its functions get, controls, data) of the panel of that
    name of the course in use.
    """
    course = in_use()
    lesson = course.panels[one_of("panel", name, course.panels)]
    works, module = course.works(), lesson.part(lesson.panels[name])
    has = _USUAL | {"TITLE": "{question} ({works.name})" if works else "{question}"} | vars(module)
    given = has["given"](works)
    figure = partial(course.figure, works) if works else None
    table = Path(has["__file__"]).with_suffix(".csv")
    return lesson, has, given, read_controls(table, figure, has["controls"](given)), has["data"]()


def _computing(has, given, controls, data):
    """compute(**settings) as the module declares it."""
    own = () if isinstance(data, str) else (data,)
    settings = namedtuple("Settings", [control.name for control in (*controls, *own)])
    return lambda **moved: has["compute"](given, settings(**moved))


def computed(name: str, **moved: object) -> object:
    """The record of a panel; no picture is drawn.

    Parameters
    ----------
    name : of the panel
    moved : where the controls stand, by name; the others at their defaults

    Returns
    -------
    what its compute returns

    Raises
    ------
    InputError

    Examples
    --------
    >>> computed("no such panel")
    Traceback (most recent call last):
    steelthermo.base.errors.InputError: panel: 'no such panel' was given; ...
    """
    _, has, given, controls, data = _declared(name)
    own = () if isinstance(data, str) else (data,)
    usual = {control.name: control.default for control in (*controls, *own)}
    with quietly():  # what is beyond the data is told by the panel itself
        return _computing(has, given, controls, data)(**usual | moved)


def make_panel(name: str) -> Panel:
    """The panel of that name of the course in use, with the figures of the works in use.

    Parameters
    ----------
    name : mostly that of its lesson

    Returns
    -------
    Panel

    Raises
    ------
    InputError
        For an unknown one.

    Examples
    --------
    >>> make_panel("no such panel")
    Traceback (most recent call last):
    steelthermo.base.errors.InputError: panel: 'no such panel' was given; ...
    """
    lesson, has, given, controls, data = _declared(name)
    drawing = has["drawing"](given) if "drawing" in has else (has["setup"], has["update"])
    told = ("sentence", "numbers", "alt", "closure", "sources", "moved")
    return Panel(
        name,
        translated(has["TITLE"]).format(
            question=translated(lesson.question), works=in_use().works()
        ),
        controls,
        _computing(has, given, controls, data),
        Drawing(*drawing, *has["SIZE_PX"]),
        data=data,
        cautions=lesson.cautions,
        **{key: has[key] for key in told},
    )
