"""Carbon by oxygen and by arrest against published figures."""

import math

import pytest

from steelthermo.base import InputError, tables
from steelthermo.end_point import carbon_from_arrest, carbon_from_oxygen, propagate
from steelthermo.thermo import liquidus_c


def test_probe_makers_figure():
    """300 ppm of oxygen: 0.073 % C with the product 0.0022 (a maker's data page, fykays.com)."""
    assert carbon_from_oxygen(
        0.03, 1600.0, product=tables.value("co_product_maker")
    ).value == pytest.approx(0.073, abs=0.0005)
    both = [carbon_from_oxygen(0.03, 1600.0, coefficients=s).value for s in ("msts", "jsps")]
    assert both[0] == pytest.approx(0.073, rel=0.06) and both[1] == pytest.approx(
        0.073, rel=0.18
    )  # the spread of the sets


def test_a_problem_with_oxygen_and_carbon_of_one_steel():
    """solutioninn 14912832: 603 ppm O at 1600 degC beside 0.04 % C: with the jsps set within 6 %,
    with msts within 9 %.
    """
    assert carbon_from_oxygen(0.0603, 1600.0, coefficients="jsps").value == pytest.approx(
        0.04, rel=0.06
    )
    assert carbon_from_oxygen(0.0603, 1600.0, coefficients="msts").value == pytest.approx(
        0.04, rel=0.09
    )


def test_signs_of_carbon_from_oxygen():
    low, high = carbon_from_oxygen(0.08, 1600.0), carbon_from_oxygen(0.02, 1600.0)
    assert low.value < high.value
    assert carbon_from_oxygen(0.05, 1600.0, 1.3).value == pytest.approx(
        1.3 * carbon_from_oxygen(0.05, 1600.0).value, rel=0.03
    )
    sure = carbon_from_oxygen(0.05, 1600.0, u_oxygen_share=0.0, u_temp_c=0.0, u_p_co_share=0.0)
    assert sure.u == 0.0 and carbon_from_oxygen(0.05, 1600.0).u == pytest.approx(
        sure.value * math.hypot(0.05, 0.1), rel=0.1
    )


def test_arrest_with_the_measured_error_of_formulas():
    """The best published formula errs by 2.1 +- 1.6 degC (MMTB 52 (2021) 2821): some 0.03 % C at 78
    degC per %, more than the arrest itself adds.
    """
    rest = {"Mn": 0.1, "P": 0.01, "S": 0.01}
    found = carbon_from_arrest(1530.0, rest)
    assert liquidus_c({"C": found.value, **rest}, "steel 1") == pytest.approx(1530.0)
    assert found.u == pytest.approx(math.sqrt(2.1**2 + 1.6**2 + 0.5**2) / 78.0, rel=1e-6)


def test_propagation_of_known_functions():
    """u of a sum and of a product, as the Guide to the expression of uncertainty (JCGM 100) has
    them.
    """
    total = propagate(lambda a, b: a + b, {"a": 3.0, "b": 4.0}, {"a": 0.3, "b": 0.4})
    assert (total.value, total.u) == (7.0, pytest.approx(0.5))
    product = propagate(lambda a, b: a * b, {"a": 3.0, "b": 4.0}, {"a": 0.03, "b": 0.08})
    assert product.u / 12.0 == pytest.approx(math.hypot(0.01, 0.02))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: carbon_from_oxygen(300.0, 1600.0), "300 ppm is 0.03"),
        (lambda: carbon_from_oxygen(0.03, 1873.15), "kelvin"),
        (lambda: carbon_from_oxygen(0.03, 1600.0, product=-1.0), "product"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()
