"""The panels of the lessons: panels.heat_balance() makes the panel of the lesson of that name.

One module per lesson, which holds a function of its own name that returns a Panel. A module is imported when its
panel is first asked for, so that a lesson loads no more than it uses.
"""

import sys
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from ...errors import InputError
from .. import memory

__all__ = ["names", "panel"]

memory.keep()


def names():
    """Names of all panels there are, in alphabetical order."""
    return sorted(m.name for m in iter_modules(__path__) if not m.name.startswith("_"))


def panel(name):
    """Make the panel of that name. Raises InputError for an unknown one."""
    if name not in names():
        raise InputError(f"panel: {name!r} was asked for; there are {', '.join(names()) or 'none yet'}.")
    return __getattr__(name)()


def __getattr__(name):
    if name in names():
        return getattr(import_module(f"{__name__}.{name}"), name)
    raise AttributeError(f"there is no panel {name!r}; there are {', '.join(names()) or 'none yet'}")


class _Panels(ModuleType):
    def __setattr__(self, name, value):
        # Importing a lesson's module would bind the module here, under the name that belongs to its function.
        if isinstance(value, ModuleType) and value.__name__ == f"{__name__}.{name}":
            value = getattr(value, name, value)
        super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Panels
