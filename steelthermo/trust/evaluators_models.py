"""How the kit computes what others measured or reported, and from which none of its data were made:
slags, killed steel, the ladle. As in evaluators.py: one small function a kind, named in `how`.
"""

from functools import cache

import numpy as np

from .. import blow
from ..base import Amounts, data_path, kelvin, mass_fractions, molar_mass
from ..ladle import tap_path
from ..slag import slag_solution, sulphide_capacity
from ..thermo import (
    assessed_carbon_activity,
    carbon_saturation_pct,
    equilibrium_oxygen,
    liquidus_c,
)
from ..works import parse_profile

_ALUMINA_HALF = "AlO1.5"


def _weighed(moles):
    """A slag in kg from moles of its oxides, alumina given by the atom of aluminium."""
    return {
        "Al2O3" if o == _ALUMINA_HALF else o: n
        * (molar_mass("Al2O3") / 2.0 if o == _ALUMINA_HALF else molar_mass(o))
        for o, n in moles.items()
    }


def feto_activity(moles: Amounts, temp_c: float) -> float:
    """Activity of iron oxide in a slag beside iron, of pure liquid oxide beside iron."""
    return slag_solution(_weighed(moles), kelvin(temp_c)).feto_activity


def ferric_share(moles: Amounts, temp_c: float) -> float:
    """Share of the iron of a slag beside iron that is ferric."""
    return slag_solution(_weighed(moles), kelvin(temp_c)).ferric_share


def sulphide_log(slag_pct: Amounts, temp_c: float) -> float:
    """log10 of the sulphide capacity by the scale of Pauling, for which the formula was made."""
    return np.log10(sulphide_capacity(slag_pct, kelvin(temp_c), "pauling"))


def oxygen_beside_ppm(metal: Amounts, temp_c: float, coefficients: str) -> float:
    """Dissolved oxygen beside one deoxidiser and its oxide, ppm."""
    return 1e4 * equilibrium_oxygen(metal, kelvin(temp_c), coefficients=coefficients).o_pct


def liquidus_of_steel_c(analysis: Amounts) -> float:
    """Liquidus of a steel, degC."""
    return liquidus_c(analysis)


def tap_c(analysis: Amounts) -> float:
    """Tap temperature of a steel that waits 20 min, of them 10 stirred, degC."""
    return tap_path(analysis, hold_min=20.0, stir_min=10.0).tap_c


@cache
def _blow():
    """The usual heat of Heron Works, blown with its plan's own oxygen."""
    return blow.solve(None, parse_profile(data_path("heron.toml").read_text(encoding="utf-8")))


def blow_end(quantity: str) -> float:
    """A figure of that heat: minutes, or %."""
    run = _blow()
    phosphorus = run.steel.analysis_pct["P"]
    iron = sum(run.slag_pct[o][-1] * mass_fractions(o)["Fe"] for o in ("FeO", "Fe2O3"))
    return {
        "phosphorus removed": 100.0 * (1.0 - phosphorus[-1] / phosphorus[0]),
        "iron in slag": iron,
        "minutes": run.time_min[-1],
    }[quantity]


def graphite_saturation_pct(temp_c: float) -> float:
    """Carbon of iron beside graphite, %."""
    return carbon_saturation_pct(kelvin(temp_c))


def carbon_activity(carbon: float, temp_c: float) -> float:
    """Activity of carbon in iron against graphite."""
    return assessed_carbon_activity(carbon, kelvin(temp_c))
