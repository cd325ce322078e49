"""The panels of the lessons by name. A module is imported when its panel is first asked for, so
that a lesson loads no more than it uses.
"""

from importlib import import_module
from pathlib import Path

from ..base import InputError
from ..coursekit.panel import keep

_HERE = Path(__file__).parent
keep()


def _modules():
    """The module of each panel by the panel's name."""
    found = {
        folder.name[4:]: f".{folder.name}.panel"
        for folder in _HERE.glob("l[0-9][0-9]_*")
        if (folder / "panel.py").is_file()
    }
    return found | {"slag_flow": ".l06_slag_basicity.slag_flow"}


def names():
    """Names of all panels there are, in alphabetical order."""
    return sorted(_modules())


def panel(name):
    """Make the panel of that name. Raises InputError for an unknown one."""
    if name not in names():
        raise InputError(
            f"panel: {name!r} was asked for; there are {', '.join(names()) or 'none yet'}."
        )
    return getattr(import_module(_modules()[name], __package__), name)()
