"""Carbon at the end of the blow, from dissolved oxygen or from the liquidus arrest, with its
uncertainty.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np

from .. import base
from ..base import (
    Amounts,
    Number,
    Record,
    between,
    figure,
    fits,
    fixed_point,
    gate,
    kelvin,
    plain,
    plus_minus,
    positive,
    told,
)
from ..thermo import (
    DEFAULT_SET,
    activities,
    carbon_at_liquidus,
    carbon_with_oxygen,
    interaction_row,
)


@dataclass(frozen=True, repr=False)
class Estimate(Record):
    """A value with its standard uncertainty (one sigma), in the unit that the function names."""

    value: Number
    u: Number

    def __str__(self):
        if np.ndim(self.value):
            return f"{figure(self.value)} ± {figure(self.u)}"
        return plus_minus(self.value, self.u)


def propagate(function: Callable, values: dict, uncertainties: dict) -> Estimate:
    """Result and standard uncertainty of a function, the inputs independent: half the change over
    plus and minus one sigma of each.

    Parameters
    ----------
    function : of the values by name; gives a float or array
    values : by name
    uncertainties : standard, by name; an input without one is exact

    Returns
    -------
    Estimate

    Examples
    --------
    >>> print(propagate(lambda a, b: a * b, {"a": 2.0, "b": 3.0}, {"a": 0.1}))
    6.00 ± 0.30
    """
    value = function(**fits("values", function, values))
    change = np.zeros(np.shape(value))
    for name, u in uncertainties.items():
        if u:
            up, down = (
                function(**{**values, name: values[name] + u}),
                function(**{**values, name: values[name] - u}),
            )
            change = change + (0.5 * (up - down)) ** 2
    return Estimate(value, plain(np.sqrt(change)))


@dataclass(frozen=True, repr=False)
class Reading(Record):
    """Standard uncertainties of the reading of a probe: shares of the oxygen and of the pressure of
    CO, and of the temperature, degC.
    """

    u_oxygen_share: float = 0.05
    u_temp_c: float = 5.0
    u_p_co_share: float = 0.1


def carbon_from_oxygen(
    oxygen_pct: float,
    temp_c: float,
    p_co_atm: float = 1.0,
    analysis_pct: Amounts | None = None,
    coefficients: str = DEFAULT_SET,
    product: float | None = None,
    **uncertainties: float,
) -> Estimate:
    """Carbon in equilibrium with the dissolved oxygen of the steel. Not for killed steel: there
    aluminium sets the oxygen.

    Parameters
    ----------
    oxygen_pct : dissolved, 0.0001 to 0.5 mass % (300 ppm is 0.03)
    temp_c : 1450 to 1800 degC
    p_co_atm : pressure of CO at which the two met, atm; a blow stirred from below ends near 1, one
        stirred by the lance alone higher (plant value)
    analysis_pct : the other elements, mass %
    coefficients : 'jsps' or 'msts'
    product : [%C][%O] at 1 atm instead of the constant of the set, activity coefficients left away
        (a maker of probes uses value('co_product_maker'), 0.0022)
    uncertainties : standard, of what was read: u_oxygen_share (of the oxygen, 0.05), u_temp_c
        (degC, 5), u_p_co_share (of the pressure, 0.1)

    Returns
    -------
    Estimate, mass %

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning above 0.5 % C.

    References
    ----------
    sources('equilibrium C-O')

    Examples
    --------
    >>> print(carbon_from_oxygen(0.06, 1650.0))
    0.0435 ± 0.0049
    """
    u = told(Reading, "carbon from oxygen", uncertainties)
    others = {e: p for e, p in (analysis_pct or {}).items() if e not in ("C", "O", "Fe")}
    if product is not None:
        positive("product of carbon and oxygen", product, zero=False)

    def carbon(oxygen, temp, p_co):
        if product is not None:
            return product * p_co / oxygen
        T = kelvin(between("temperature of steel", temp, 1450.0, 1800.0, "°C"))

        def step(c):  # f_O depends a little on the carbon that is sought
            h_o = activities({**others, "C": c, "O": oxygen}, T, coefficients, quiet=True).h["O"]
            return carbon_with_oxygen(h_o, T, p_co, {**others, "O": oxygen}, coefficients)

        refusal = f"carbon from oxygen: none fits {oxygen:g} % of oxygen; check analysis and probe."
        return fixed_point(step, 0.0, refusal, rel=0.0, small=1e-8)

    o = between("dissolved oxygen", oxygen_pct, 1e-4, 0.5, "%", "Mass %, not ppm: 300 ppm is 0.03.")
    given = {
        "oxygen": o,
        "temp": temp_c,
        "p_co": positive("pressure of CO", p_co_atm, "atm", zero=False),
    }
    found = propagate(
        carbon,
        given,
        {"oxygen": o * u.u_oxygen_share, "temp": u.u_temp_c, "p_co": p_co_atm * u.u_p_co_share},
    )
    gate("e_O^C", interaction_row("O", "C", coefficients)["holds"], {"C": found.value})
    return found


def carbon_from_arrest(
    arrest_c: float,
    analysis_pct: Amounts | None = None,
    formula: str = "steel 1",
    u_arrest_c: float = 0.5,
    u_formula_c: float | None = None,
) -> Estimate:
    """Carbon of a killed sample from its liquidus arrest. Rimming steel gives no clean arrest: the
    cup must kill it.

    Parameters
    ----------
    arrest_c : 1130 to 1540 degC
    analysis_pct : the other elements, mass %
    formula : 'steel 1' to 'steel 3'
    u_arrest_c : standard uncertainty of the arrest, degC
    u_formula_c : of the formula, degC; None: 2.1 +- 1.6, what an assessment found for the best
        published formula

    Returns
    -------
    Estimate, mass %

    Raises
    ------
    InputError

    References
    ----------
    sources('liquidus steel 1')

    Examples
    --------
    >>> print(carbon_from_arrest(1500.0, {"Mn": 0.3}))
    0.443 ± 0.034
    """
    if u_formula_c is None:
        u_formula_c = sqrt(
            base.value("liquidus_error_c") ** 2 + base.value("liquidus_error_spread_c") ** 2
        )
    u_c = (
        between("uncertainty of the arrest", u_arrest_c, 0.0, 100.0, "°C"),
        between("uncertainty of the formula", u_formula_c, 0.0, 100.0, "°C"),
    )
    c = carbon_at_liquidus(arrest_c, analysis_pct, formula)
    slope = -1.0 / (carbon_at_liquidus(arrest_c - 1.0, analysis_pct, formula) - c)  # degC per % C
    return Estimate(c, hypot(*u_c) / abs(slope))
