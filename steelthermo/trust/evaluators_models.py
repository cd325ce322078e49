"""How the kit computes what others measured or reported, and from which none of its data were made:
slags, killed steel, the ladle. As in evaluators.py: one small function a kind, named in `how`.
"""

from functools import cache

import numpy as np

from .. import blow, charge
from ..base import Amounts, data_path, find_root, kelvin, mass_fractions, molar_mass, value
from ..ladle import addition_effect_c, tap_path
from ..slag import density_band, slag_solution, sulphide_capacity, viscosity
from ..streams import calorific_value_mj_nm3
from ..thermo import (
    assessed_carbon_activity,
    carbon_saturation_pct,
    crossing,
    equilibrium_oxygen,
    liquidus_c,
    oxygen_potential,
    solution_gibbs,
)
from ..works import parse_profile
from .shares import first_order_shares
from .uncertainty import heats

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
def _works():
    """Heron Works, as shipped."""
    return parse_profile(data_path("heron.toml").read_text(encoding="utf-8"))


@cache
def _blow():
    """The usual heat of Heron Works, blown with its plan's own oxygen."""
    return blow.solve(None, _works())


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


# ---- order of oxidation --------------------------------------------------------------------------


def crossing_c(element: str) -> float:
    """Temperature above which 1 % of carbon burns before 1 % of an element, degC."""
    return crossing(element).temp_c


def crossing_pure_c(element: str) -> float:
    """The same for graphite and the pure liquid element, degC: the heats of solution drop out."""

    def potential(e, temp_c):
        of_1_pct = solution_gibbs(e, kelvin(temp_c)) / (value("gas_constant") * kelvin(temp_c))
        return oxygen_potential(e, kelvin(temp_c), np.exp(-of_1_pct))

    return find_root(lambda t: potential(element, t) - potential("C", t), 1230.0, 1760.0)


# ---- off-gas, ladle, spread of heats -------------------------------------------------------------


@cache
def _behind_hood(air_factor):
    """Gas of one t of steel of Heron Works behind the hood, and that of the mouth."""
    mouth = charge.solve(_works()).for_tap(1.0).gas
    return charge.hood(mouth, air_factor).cooled


def hood_gas(quantity: str, air_factor: float) -> float:
    """A figure of the gas behind the hood: Nm3 per t of steel, MJ/Nm3, or % CO."""
    gas = _behind_hood(air_factor)
    return {
        "volume": lambda: gas.total_nm3,
        "heating value": lambda: calorific_value_mj_nm3(gas),
        "CO": lambda: gas.mole_pct()["CO"],
        "CO2": lambda: gas.mole_pct()["CO2"],
    }[quantity]()


def scrap_cools_c(temp_c: float) -> float:
    """Change of temperature by 1 kg of cold iron in 1 t of steel, degC."""
    return addition_effect_c("Fe", temp_c)


def heat_spread(quantity: str) -> float:
    """Standard deviation of sampled heats of Heron Works, in the unit of the quantity."""
    return heats(_works(), n=4000).spread(quantity)


def ishigami_share(of: str) -> float:
    """Share of the variance of Ishigami's function, a 7 and b 0.1, that an input explains."""
    x = np.random.default_rng(16).uniform(-np.pi, np.pi, (3, 20_000))
    y = np.sin(x[0]) + 7.0 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])
    return first_order_shares(dict(zip(("x1", "x2", "x3"), x, strict=True)), y)[of]


# ---- properties of slag --------------------------------------------------------------------------


def viscosity_pa_s(moles: Amounts, temp_c: float, model: str) -> float:
    """Viscosity of a liquid slag by one formula, Pa s."""
    return viscosity(_weighed(moles), kelvin(temp_c), model)


def density_g_cm3(slag_pct: Amounts, temp_c: float) -> float:
    """Density of a liquid slag, the middle of the kit's band, g/cm3."""
    return sum(density_band(slag_pct, kelvin(temp_c))) / 2000.0
