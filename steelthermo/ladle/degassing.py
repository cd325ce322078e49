"""Hydrogen and nitrogen under vacuum: what Sieverts' law leaves, the pressure that a content needs,
and the way there in time.
"""

import numpy as np

from ..base import InputError, between, kelvin, plain, positive, value
from ..thermo import DEFAULT_SET, gas_solubility_pct
from ..works import start_value as start

_RATES = {"H": "hydrogen_rate_min", "N": "nitrogen_rate_min"}


def equilibrium_ppm(
    element,
    pressure_pa,
    temp_c=1600.0,
    analysis_pct=None,
    gas_share_pct=100.0,
    coefficients=DEFAULT_SET,
    line=None,
):
    """Content in equilibrium with the gas over the steel, ppm: Sieverts' law.

    element: 'H' or 'N'; pressure_pa: total pressure, Pa; gas_share_pct: share of H2 or N2 in that
    gas, volume % (100 gives the upper bound);
    temp_c; analysis_pct: of the steel, None for pure iron; line: a printed line ('ishii82',
    'nozaki66', 'gunji64') in place of the set's.
    Broadcasts. Raises InputError. Source: sources('equilibrium N2'), sources('equilibrium H2').
    """
    share = between("share of the gas", gas_share_pct, 0.0, 100.0, "%") / 100.0
    atm = positive("pressure", pressure_pa, "Pa") * share / value("normal_pressure")
    return plain(
        1e4 * gas_solubility_pct(element, atm, kelvin(temp_c), analysis_pct, coefficients, line)
    )


def pressure_for_pa(
    element, ppm, temp_c=1600.0, analysis_pct=None, coefficients=DEFAULT_SET, line=None
):
    """Pressure of H2 or N2, Pa, in equilibrium with a content in ppm. Arguments as in
    equilibrium_ppm(). Broadcasts. Raises InputError.
    """
    one = equilibrium_ppm(
        element, value("normal_pressure"), temp_c, analysis_pct, 100.0, coefficients, line
    )
    return plain(
        (positive(f"content of {element}", ppm, "ppm") / one) ** 2 * value("normal_pressure")
    )


def content_after_ppm(
    element,
    start_ppm,
    minutes,
    pressure_pa=None,
    temp_c=1600.0,
    analysis_pct=None,
    *,
    gas_share_pct=100.0,
    rate_min=None,
    line=None,
):
    """Content after minutes of degassing, ppm: first-order approach to equilibrium, c = c_e + (c_0
    - c_e) exp(-k t).

    start_ppm: before; pressure_pa: plant value 'vacuum_pa'; rate_min: k, 1/min, plant value
    ('hydrogen_rate_min', 'nitrogen_rate_min').
    Broadcasts. Raises InputError. Source: first-order rate law; Sieverts' law.
    """
    if element not in _RATES:
        raise InputError(f"degassing: {element!r} was given; allowed are H and N.")
    k = start(_RATES[element], rate_min)
    end = equilibrium_ppm(
        element, start("vacuum_pa", pressure_pa), temp_c, analysis_pct, gas_share_pct, line=line
    )
    before = positive(f"content of {element}", start_ppm, "ppm")
    return plain(end + (before - end) * np.exp(-k * positive("time", minutes, "min")))
