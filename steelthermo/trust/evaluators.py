"""How each printed value of published_checks.csv is computed by the kit: one small function
for each kind, named in the column `how`.

Each takes what stands in the column `args` and returns a number in the row's unit. Nothing here
corrects, fits or rounds.
"""

import warnings

import numpy as np

from .. import thermo
from ..base import fixed_point, kelvin
from ..end_point import carbon_from_oxygen, oxygen_activity
from ..streams import LiquidMetal
from ..thermo import (
    activities,
    enthalpy,
    gas_solubility_pct,
    interaction,
    liquidus_c,
    log_k,
    oxidation_heat,
    oxygen_with_carbon,
    reaction,
)

EVALUATORS = {}
_CAL, _ATM_PA = 4.184, 101325.0


def evaluator(function):
    """Decorator: a way to compute printed values, known by the name of its function."""
    EVALUATORS[function.__name__] = function
    return function


def evaluate(how, args):
    """Our number for a row. how: a key of EVALUATORS; args: dict. Warnings of extrapolation are
    kept quiet: the printed value decides.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return float(EVALUATORS[how](**args))


# ---- substances and reactions --------------------------------------------------------------------


@evaluator
def formation_kj(of, phase=None, T=298.15):
    """Enthalpy of formation from the elements, kJ/mol."""
    return enthalpy(of, T, phase) / 1000.0


@evaluator
def entropy(of, phase=None, T=298.15):
    """Entropy, J/(mol K)."""
    return thermo.entropy(of, T, phase)


@evaluator
def content_kj(of, T, phase=None):
    """Heat content above 298.15 K, kJ/mol; of a named phase: above the same phase."""
    return (enthalpy(of, T, phase) - enthalpy(of, 298.15, phase)) / 1000.0


@evaluator
def from_reference_kj(of, T, phase, reference):
    """Enthalpy of a phase above a printed reference, kJ/mol."""
    return enthalpy(of, T, phase) / 1000.0 - reference


@evaluator
def iron_kj_kg(temp_c):
    """Iron from 25 degC to a temperature, melted, kJ/kg."""
    return LiquidMetal(1.0, {}, temp_c).enthalpy_kj()


@evaluator
def transition_kj(of, T, low, high):
    """Heat of the step from one phase to the other, kJ/mol."""
    return (enthalpy(of, T, high) - enthalpy(of, T, low)) / 1000.0


@evaluator
def heat_kj(equation, T=298.15):
    """Heat of a reaction as written, kJ."""
    return reaction(equation).heat(T) / 1000.0


@evaluator
def gibbs_kj(equation, T):
    """Gibbs energy of a reaction as written, kJ."""
    return reaction(equation).gibbs(T) / 1000.0


@evaluator
def gibbs_kcal(equation, temp_c):
    """Gibbs energy of a reaction as written, kcal."""
    return reaction(equation).gibbs(kelvin(temp_c)) / 1000.0 / _CAL


@evaluator
def gibbs_zero_c(equation, low, high):
    """Temperature at which the Gibbs energy of a reaction vanishes, degC."""
    T = np.linspace(low, high, 2001)
    g = reaction(equation).gibbs(T)
    return np.interp(0.0, -g if g[0] > g[-1] else g, T) - 273.15


@evaluator
def reaction_log_k(equation, T):
    """log10 of the equilibrium constant of a reaction."""
    return reaction(equation).log_k(T)


@evaluator
def burning_mj_kg(key, T, convention):
    """Heat of oxidation, MJ per kg of the element."""
    return oxidation_heat(key, T, convention) / 1e6


# ---- liquid iron ---------------------------------------------------------------------------------


@evaluator
def gamma0(element, T, coefficients):
    """Activity coefficient at infinite dilution."""
    return thermo.gamma0(element, T, coefficients)


@evaluator
def activity(element, melt, T, coefficients):
    """Henrian activity of an element of a melt, mass % scale."""
    return activities(melt, T, coefficients, quiet=True).h[element]


@evaluator
def coefficient(i, j, T, coefficients):
    """Interaction coefficient."""
    return interaction(i, j, T, coefficients)


@evaluator
def equilibrium_log_k(key, T, coefficients="msts", line=None):
    """log10 of an equilibrium constant of equilibria.csv."""
    return log_k(key, T, coefficients, line=line)


@evaluator
def equilibrium_k(key, T, coefficients="msts", line=None):
    """An equilibrium constant of equilibria.csv."""
    return 10.0 ** log_k(key, T, coefficients, line=line)


@evaluator
def carbon_oxygen_product(T, coefficients="msts", line=None):
    """[%C][%O] at 1 atm."""
    return thermo.carbon_oxygen_product(T, coefficients=coefficients, line=line)


@evaluator
def carbon_oxygen_quotient(carbon, T, coefficients="msts"):
    """pCO/([%C][%O]) beside much carbon."""
    if carbon == 0.0:
        return 1.0 / thermo.carbon_oxygen_product(T, coefficients=coefficients)
    return 1.0 / (
        carbon * oxygen_with_carbon(carbon, T, coefficients=coefficients, high_carbon=True)
    )


@evaluator
def carbon_from_oxygen_pct(ppm, temp_c, product=None, coefficients="msts"):
    """Carbon, %, that goes with a reading of oxygen."""
    return carbon_from_oxygen(ppm / 1e4, temp_c, product=product, coefficients=coefficients).value


@evaluator
def oxygen_saturation_pct(temp_c, coefficients="msts"):
    """Oxygen of iron under its oxide, %."""
    return thermo.oxygen_saturation_pct(kelvin(temp_c), 1.0, coefficients)


@evaluator
def gas_ppm(element, temp_c, coefficients="msts", line=None):
    """Nitrogen or hydrogen at 1 atm, ppm."""
    return 1e4 * gas_solubility_pct(
        element, 1.0, kelvin(temp_c), coefficients=coefficients, line=line
    )


@evaluator
def pressure_for_gas_pa(element, ppm, temp_c, coefficients="msts", line=None):
    """Pressure of the gas over so much of it dissolved, Pa."""
    return _ATM_PA * (ppm / gas_ppm(element, temp_c, coefficients, line)) ** 2


@evaluator
def oxygen_with_titanium_ppm(titanium, T):
    """Oxygen beside titanium by the constants and coefficients of Cha and others, ppm."""

    def step(o):
        melt = activities({"Ti": titanium, "O": o}, T, "cha08", quiet=True)
        keys = ("Ti2O3-O", "Ti3O5-O")
        return min(thermo.oxygen_activity(k, T, melt.h["Ti"]) for k in keys) / melt.f["O"]

    return 1e4 * fixed_point(step, 0.003, "oxygen beside titanium: none was found.")


@evaluator
def eutectic_carbon_pct(element=None):
    """Carbon of the eutectic with graphite, %; with an element: how far 1 % of it moves it."""
    c = np.linspace(3.5, 5.0, 3001)

    def at(more):
        return c[np.argmin(liquidus_c({"C": c, **more}))]

    return at({}) - at({element: 1.0}) if element else at({})


@evaluator
def probe_slope_k():
    """4F/(R ln 10): slope of the logarithm of silicon against the voltage of an oxygen probe, K/V."""
    a = [oxygen_activity(e, 1873.15, electrolyte="ideal") for e in (0.0, 100.0)]
    return 2.0 * np.log10(a[1] / a[0]) * 1873.15 / 0.1
