"""Real oxygen against the ideal gas of the nozzle: CoolProp (Bell and others 2014), isentropic
expansion from 25 degC, as a general reference library.
"""

import CoolProp.CoolProp as coolprop
import numpy as np
import pytest

from steelthermo.jet import choked_mass_flux, expand

T0, AMBIENT_PA = 298.15, 101325.0


def real(p0_pa):
    """(choked mass flux, kg/(m2 s); exit speed at full expansion, m/s) of real oxygen: the greatest
    flux along the isentrope, and its end.
    """
    s, h0 = (coolprop.PropsSI(key, "T", T0, "P", p0_pa, "Oxygen") for key in "SH")

    def at(key, p):
        return coolprop.PropsSI(key, "P", p, "S", s, "Oxygen")

    flux = max(
        at("D", p) * np.sqrt(2.0 * (h0 - at("H", p))) for p in np.linspace(0.45, 0.6, 200) * p0_pa
    )
    return flux, np.sqrt(2.0 * (h0 - at("H", AMBIENT_PA)))


@pytest.mark.parametrize(
    "p0_pa, flux_pct, speed_pct", [(5e5, 0.17, -0.17), (10e5, 0.42, -0.40), (15e5, 0.67, -0.63)]
)
def test_constant_gamma(p0_pa, flux_pct, speed_pct):
    """Differences of real oxygen from the perfect gas (k = 1.4) as found earlier by us with
    CoolProp; printed to two places.
    """
    flux, speed = real(p0_pa)
    assert 100.0 * (flux / choked_mass_flux(T0, p0_pa, gamma=1.4) - 1.0) == pytest.approx(
        flux_pct, abs=0.01
    )
    assert 100.0 * (
        speed / expand(T0, pressure_ratio=AMBIENT_PA / p0_pa, gamma=1.4).speed_m_s - 1.0
    ) == pytest.approx(speed_pct, abs=0.02)


@pytest.mark.parametrize("p0_pa", [7e5, 10e5, 15e5])
def test_ideal_gas_with_real_heat_capacity(p0_pa):
    """What is left is the pull between molecules, below one per cent at the pressures of a
    lance.
    """
    flux, speed = real(p0_pa)
    assert flux == pytest.approx(choked_mass_flux(T0, p0_pa), rel=0.01)
    assert speed == pytest.approx(expand(T0, pressure_ratio=AMBIENT_PA / p0_pa).speed_m_s, rel=0.01)
