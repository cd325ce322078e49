"""The assessment of iron and carbon, against values worked out from it elsewhere, against another
paper, and against its own laws.
"""

import numpy as np
import pytest

from steelthermo.base import InputError, molar_mass, rows
from steelthermo.thermo import assessed_carbon_activity, assessed_carbon_heat_kj_mol

T1600 = 1873.15
PCT = np.array([1.0, 2.0, 3.0, 4.0, 5.0])


def test_activity_at_1600_degc():
    """A referee's own computation from the same terms: 0.049, 0.135, 0.278, 0.502, 0.832. Gokcen,
    Steel Research 65 (1994) 125, by the equation of its abstract, another assessment: 0.045,
    0.141, 0.301, 0.532, 0.837; 8 %, for the two differ by so much.
    """
    ours = assessed_carbon_activity(PCT, T1600)
    np.testing.assert_allclose(ours, [0.049, 0.135, 0.278, 0.502, 0.832], atol=0.0006)
    np.testing.assert_allclose(ours, [0.045, 0.141, 0.301, 0.532, 0.837], rtol=0.09)


def test_heat_of_mixing():
    """The same computation: 22.66 kJ/mol C at 4.5 %; 24.0 at no carbon and 29.1 at 4.5 % for a
    little more graphite. Gokcen: 22.0 and 27.0.
    """
    assert assessed_carbon_heat_kj_mol(4.5) == pytest.approx(22.66, abs=0.02)
    ends = assessed_carbon_heat_kj_mol(np.array([0.0, 4.5]), partial=True)
    np.testing.assert_allclose(ends, [24.0, 29.1], atol=0.05)
    np.testing.assert_allclose(ends, [22.0, 27.0], atol=2.2)
    row = next(r for r in rows("other_data") if r["key"] == "carbon_rich")
    assert row["other"] == pytest.approx(assessed_carbon_heat_kj_mol(4.5), abs=0.005)


def test_the_partial_heat_is_the_slope_of_the_whole():
    pct = np.array([1.0, 3.0, 4.5])
    moles = pct / (100.0 - pct) * molar_mass("Fe") / molar_mass("C")  # of carbon per mol iron

    def whole(n):
        mass = n * molar_mass("C")
        return n * assessed_carbon_heat_kj_mol(100.0 * mass / (mass + molar_mass("Fe")))

    step = 1e-5
    slope = (whole(moles + step) - whole(moles - step)) / (2.0 * step)
    np.testing.assert_allclose(assessed_carbon_heat_kj_mol(pct, partial=True), slope, rtol=1e-6)


def test_the_heat_is_the_slope_of_the_activity():
    """Gibbs and Helmholtz: d(ln a)/d(1/T) = H/R."""
    up, down = 1.0 / 1800.0, 1.0 / 1810.0
    rise = np.log(assessed_carbon_activity(4.0, 1800.0) / assessed_carbon_activity(4.0, 1810.0))
    heat = 8.314462618 * rise / (up - down) / 1000.0
    assert heat == pytest.approx(assessed_carbon_heat_kj_mol(4.0, partial=True), rel=1e-6)


@pytest.mark.parametrize(("pct", "T"), [(7.0, T1600), (-1.0, T1600), (2.0, 1600.0 - 273.15)])
def test_refusals(pct, T):
    with pytest.raises(InputError):
        assessed_carbon_activity(pct, T)
