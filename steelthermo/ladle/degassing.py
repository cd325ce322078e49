"""Hydrogen and nitrogen under vacuum: what Sieverts' law leaves."""

from ..base import between, kelvin, plain, positive, value
from ..thermo import DEFAULT_SET, gas_solubility_pct


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
