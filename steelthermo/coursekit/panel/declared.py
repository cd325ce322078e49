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


def declared(name, module, question, cautions=()):
    """The Panel of that name that a module declares, with the figures of the works in use.
    cautions: keys of the hazards of what it calculates.
    """
    works = in_use().works()
    title = "{question} ({works.name})" if works else "{question}"
    has = _USUAL | {"TITLE": title} | vars(module)
    given = has["given"](works)
    drawing = has["drawing"](given) if "drawing" in has else (has["setup"], has["update"])
    told = ("sentence", "numbers", "alt", "closure", "sources", "moved")
    controls, data = (
        read_controls(
            Path(has["__file__"]).with_suffix(".csv"),
            partial(in_use().figure, works) if works else None,
            has["controls"](given),
        ),
        has["data"](),
    )
    own = () if isinstance(data, str) else (data,)
    settings = namedtuple("Settings", [control.name for control in (*controls, *own)])
    return Panel(
        name,
        has["TITLE"].format(question=question, works=works),
        controls,
        lambda **moved: has["compute"](given, settings(**moved)),
        Drawing(*drawing, *has["SIZE_PX"]),
        data=data,
        cautions=cautions,
        **{key: has[key] for key in told},
    )
