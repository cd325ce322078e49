"""Oxygen steelmaking thermochemistry for learners: oxidation heats, solutions, slag, oxygen,
charge, blow, end point, ladle.

Rooms are imported when first used, so `import steelthermo` stays quick and pulls in neither
Matplotlib nor ipywidgets.
"""

from importlib import import_module
from os import environ

_ROOMS = (
    "base",
    "works",
    "thermo",
    "streams",
    "slag",
    "jet",
    "charge",
    "blow",
    "hot_metal",
    "end_point",
    "ladle",
    "trust",
    "heats",
    "course",
)


if environ.get("STEELTHERMO_LANGUAGE"):  # its words must be there before the first sentence
    import_module(".base", __name__)


def __getattr__(name):
    if name in _ROOMS:
        return import_module(f".{name}", __name__)
    if name == "__version__":
        from .course import __version__

        return __version__
    raise AttributeError(f"steelthermo has no {name!r}; it has {', '.join(__dir__())}")


def __dir__():
    return sorted(("sources", "__version__", *_ROOMS))


def sources(x):
    """Where a constant, substance, record or result comes from: see steelthermo.base.sources."""
    from .base import sources

    return sources(x)
