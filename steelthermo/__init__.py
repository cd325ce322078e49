"""Oxygen steelmaking thermochemistry for learners: oxidation heats, solutions, slag, oxygen, charge, blow, end point, ladle.

Rooms are imported when first used, so `import steelthermo` stays quick and pulls in neither Matplotlib nor ipywidgets.
"""

from importlib import import_module

__version__ = "0.1.0"

_ROOMS = (
    "activity alloys bath_heat blast blow charge degassing desulphurisation disagreement elements endpoint equilibria equilibrium_constants errors gas "
    "inclusions jet ladle ladle_balance ladle_temperature lance liquid_iron materials measured melting nozzle off_gas oxidation_order oxygen plant "
    "plant_values pre_oxidation pretreatment probe published reactions reagents recalled safety slag slag_fluxes slag_metal slag_oxygen slag_properties "
    "specifications spread stage stirring substances tables teaching uncertainty units"
).split()

__all__ = ["sources"]  # and the rooms above, on demand


def __getattr__(name):
    if name in _ROOMS:
        return import_module(f".{name}", __name__)
    raise AttributeError(f"steelthermo has no room called {name!r}; the rooms are {', '.join(_ROOMS)}")


def sources(x):
    """Where a constant, substance, record or result comes from: see steelthermo.tables.sources."""
    # imported only to be there and answer for their own
    from . import (  # noqa: F401
        activity,
        bath_heat,
        blow_kinetics,
        equilibrium_constants,
        jet,
        melting,
        off_gas,
        slag_metal,
        slag_oxygen,
        slag_properties,
        spread,
        substances,
        tables,
    )

    return tables.sources(x)
