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

from ...base import one_of
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


def make_panel(name):
    """The panel of that name of the course in use, with the figures of the works in use. Raises
    InputError for an unknown one.
    """
    course = in_use()
    lesson = course.panels[one_of("panel", name, course.panels)]
    works, module = course.works(), lesson.part(lesson.panels[name])
    title = "{question} ({works.name})" if works else "{question}"
    has = _USUAL | {"TITLE": title} | vars(module)
    given = has["given"](works)
    drawing = has["drawing"](given) if "drawing" in has else (has["setup"], has["update"])
    told = ("sentence", "numbers", "alt", "closure", "sources", "moved")
    controls, data = (
        read_controls(
            Path(has["__file__"]).with_suffix(".csv"),
            partial(course.figure, works) if works else None,
            has["controls"](given),
        ),
        has["data"](),
    )
    own = () if isinstance(data, str) else (data,)
    settings = namedtuple("Settings", [control.name for control in (*controls, *own)])
    return Panel(
        name,
        has["TITLE"].format(question=lesson.question, works=works),
        controls,
        lambda **moved: has["compute"](given, settings(**moved)),
        Drawing(*drawing, *has["SIZE_PX"]),
        data=data,
        cautions=lesson.cautions,
        **{key: has[key] for key in told},
    )
