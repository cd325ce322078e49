"""The panels of the lessons by name, each declared by a module beside its lesson, which is imported
when the panel is first asked for, so that a lesson loads no more than it uses, and a table of its
controls with the module's name, whose defaults are numbers or figures of the works by their paths.

A module declares its panel by these names, the rest as a Panel takes them:

    TITLE                        what it answers, with {question} of the lesson and {works}
    SIZE_PX                      width and height of the picture
    given(works)                 what the next three get: the works profile itself, or a tuple that
                                 begins with it and holds what is found once
    controls(given)              what the table of controls beside the module leaves out, as
                                 read_controls takes it
    compute(given, **settings)   -> record
    setup(fig), update(artists, record), or setup_for(given) -> setup
    sentence(record), numbers(record), alt(record), closure(record), moved(record)
    sources(record)              of the record first shown
    data()                       the choice of published data, or a text

TITLE, given, controls, closure, moved and data may be left out.
"""

from functools import partial
from pathlib import Path

from ..base import InputError
from ..coursekit.panel import NONE_KNOWN, Drawing, Panel, keep, read_controls
from ..works import load_profile
from . import registry

keep()

_SECOND = {"slag_flow": "slag_basicity"}  # panel beside that of its lesson: module and lesson
_USUAL = {
    "TITLE": "{question} ({works.name})",
    "given": lambda works: works,
    "controls": lambda given: {},
    "closure": None,
    "moved": None,
    "data": lambda: NONE_KNOWN,
}


def _figure(works, path):
    """A figure of a works profile by its path, 0 for an element that its analysis does not name."""
    section, key, *species = path.split(".")
    found = getattr(getattr(works, section), key)
    return found.get(species[0], 0.0) if species else found


def names():
    """Names of all panels there are, in alphabetical order."""
    own = (name for name, folder in registry.folders().items() if (folder / "panel.py").is_file())
    return sorted([*own, *_SECOND])


def panel(name):
    """Make the panel of that name, with the figures of the works profile that load_profile() finds.
    Raises InputError for an unknown one.
    """
    if name not in names():
        raise InputError(f"panel: {name!r} was asked for; there are {', '.join(names())}.")
    lesson = _SECOND.get(name, name)
    has = _USUAL | vars(registry.part(lesson, name if name in _SECOND else "panel"))
    works = load_profile()
    given = has["given"](works)
    setup = has["setup_for"](given) if "setup_for" in has else has["setup"]
    told = ("sentence", "numbers", "alt", "closure", "sources", "moved")
    return Panel(
        name,
        has["TITLE"].format(question=registry.question(lesson), works=works),
        read_controls(
            Path(has["__file__"]).with_suffix(".csv"),
            partial(_figure, works),
            has["controls"](given),
        ),
        partial(has["compute"], given),
        Drawing(setup, has["update"], *has["SIZE_PX"]),
        data=has["data"](),
        **{key: has[key] for key in told},
    )
