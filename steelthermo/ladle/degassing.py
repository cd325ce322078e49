"""Hydrogen and nitrogen under vacuum: what Sieverts' law leaves."""

from ..base import Amounts, Number, between, kelvin, plain, positive, value
from ..thermo import DEFAULT_SET, gas_solubility_pct


def equilibrium_ppm(
    element: str,
    pressure_pa: Number,
    temp_c: Number = 1600.0,
    analysis_pct: Amounts | None = None,
    gas_share_pct: Number = 100.0,
    coefficients: str = DEFAULT_SET,
    line: str | None = None,
) -> Number:
    """Content in equilibrium with the gas over the steel: Sieverts' law.

    Parameters
    ----------
    element : 'H' or 'N'
    pressure_pa : total pressure, Pa; arrays broadcast
    temp_c : of the steel, degC
    analysis_pct : of the steel, mass %; None for pure iron
    gas_share_pct : share of H2 or N2 in that gas, volume %, 0 to 100 (100 gives the upper bound)
    coefficients : set of activity coefficients
    line : a printed line ('ishii82', 'nozaki66', 'gunji64') in place of the set's

    Returns
    -------
    ppm

    Raises
    ------
    InputError

    References
    ----------
    sources('equilibrium N2'), sources('equilibrium H2').

    Examples
    --------
    >>> round(equilibrium_ppm("H", 100.0), 2)
    0.78
    """
    share = between("share of the gas", gas_share_pct, 0.0, 100.0, "%") / 100.0
    atm = positive("pressure", pressure_pa, "Pa") * share / value("normal_pressure")
    return plain(
        1e4 * gas_solubility_pct(element, atm, kelvin(temp_c), analysis_pct, coefficients, line)
    )
