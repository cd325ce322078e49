"""Oxygen steelmaking, taught: one folder a lesson, with its panel and its problems. Lessons and
exercises call what stands here.
"""

from importlib import import_module

# name -> (module below, name in it): loaded when first called, so that a lesson loads no more than
# it uses
_DOORS = {
    "exercise": ("..coursekit.page", "show"),
    "heat_sheet": (".l15_whole_heat.page", "show"),
    "mark": ("..coursekit.marking", "mark"),
    "panel": (".panels", "panel"),
    "predict": ("..coursekit.page", "predict"),
    "published_values": (".l16_how_sure_are_we.published", "show"),
    "values_from_memory": (".l16_how_sure_are_we.memory_table", "show"),
    "vessel": (".l00_start_here.vessel", "vessel"),
}

__all__ = list(_DOORS)


def __getattr__(name):
    if name not in _DOORS:
        raise AttributeError(f"course has no {name!r}; it has {', '.join(_DOORS)}")
    module, function = _DOORS[name]
    return getattr(import_module(module, __name__), function)


def __dir__():
    return sorted(__all__)
