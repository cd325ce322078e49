"""Oxygen potentials and where carbon overtakes: against NIST-JANAF, by hand, and the facts of the
trade.
"""

import janaf
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.thermo import (
    SETS,
    activities,
    crossing,
    crossing_in_melt,
    order,
    order_lines,
    oxygen_potential,
    product_of,
)

T1600 = 1873.15
R = 8.314462618
HOT_METAL = {"C": 4.5, "Si": 0.45, "Mn": 0.35, "P": 0.085}


def _log_kf(index, T):
    """log10 of the formation constant by NIST-JANAF, straight in 1/T between table points."""
    table = janaf.Table(index).df.filter(
        (janaf.Table(index).df["T(K)"] >= 1400) & (janaf.Table(index).df["T(K)"] <= 2100)
    )
    return np.interp(-1.0 / T, -1.0 / np.array(table["T(K)"]), np.array(table["log Kf"]))


# key: JANAF table, atoms of the element and of oxygen, dG of solution of MSTS (J/mol; for solid
# chromium and vanadium their rows from the solid)
BY_HAND = {
    "C": ("C-093", 1, 1, 22590, -42.26),
    "Si": ("O-035", 1, 2, -131500, -17.24),
    "Al": ("Al-096", 2, 3, -63180, -27.91),
    "Cr": ("Cr-014", 2, 3, 19250, -46.86),
    "V": ("O-062", 2, 3, -20710, -45.61),
}


def _by_hand(element, T, h=1.0, product=1.0):
    index, n, m, a, b = BY_HAND[element]
    ln_k = np.log(10) * _log_kf(index, T) + n * (a + b * T) / (R * T)
    return 2 / m * R * T * (np.log(product) - n * np.log(h) - ln_k)


@pytest.mark.parametrize("element", BY_HAND)
def test_lines_against_janaf(element):
    for T in (1700.0, 1900.0):
        assert oxygen_potential(element, T, 0.5, 0.3, "msts") == pytest.approx(
            _by_hand(element, T, 0.5, 0.3), abs=2500.0
        )


@pytest.mark.parametrize(
    ("element", "h_c", "h", "product"),
    [("Si", 1.0, 1.0, 1.0), ("Si", 20.0, 3.0, 0.1), ("V", 1.0, 1.0, 1.0), ("Cr", 1.0, 1.0, 1.0)],
)
def test_crossing_against_janaf(element, h_c, h, product):
    """Where the JANAF lines cross, by bisection: within 10 degC (silicon 5)."""
    low, high = 1400.0, 2050.0

    def gap(T):
        return _by_hand("C", T, h_c) - _by_hand(element, T, h, product)

    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if gap(middle) > 0 else (low, middle)
    found = crossing(element, h_c, h, product, coefficients="msts")
    assert found.temp_c == pytest.approx(low - 273.15, abs=5.0 if element == "Si" else 10.0)
    assert (found.below, found.above) == (element, "C")


@pytest.mark.parametrize("element", ["Si", "Mn", "Cr", "V", "Al", "Ti"])
def test_where_the_lines_cross_both_take_oxygen_alike(element):
    """At the crossing, and each on its side of it; in a melt with the melt's own activities."""
    melt = {"C": 0.5, element: 0.4}
    for found, h in (
        (crossing(element, 2.0, 0.5), lambda T: {"C": 2.0, element: 0.5}),
        (crossing_in_melt(element, melt), lambda T: activities(melt, T).h),
    ):
        if found.temp_c is not None:
            T = found.temp_c + 273.15

            def gap(T, h=h):
                return oxygen_potential("C", T, h(T)["C"]) - oxygen_potential(
                    element, T, h(T)[element]
                )

            assert gap(T) == pytest.approx(0.0, abs=1.0)
            assert (gap(T - 2.0) < 0.0) == (found.below == "C")
            assert (gap(T + 2.0) < 0.0) == (found.above == "C")


def test_phosphorus_crossing_by_hand():
    """Aratani 1968 (96600/T - 42.9) less five times 1168/T + 2.07 vanishes at 90760/53.25 = 1704
    K.
    """
    with pytest.warns(ExtrapolationWarning):
        found = crossing("P", coefficients="msts")
    assert found.temp_c == pytest.approx(90760 / 53.25 - 273.15, abs=8.0)


@pytest.mark.parametrize("coefficients", SETS)
def test_order_at_1600_c(coefficients):
    """1 % of each, pure oxides: aluminium before titanium before carbon before silicon before the
    metals before iron.
    """
    first = ["Al", "Ti", "C", "Si"] if coefficients == "jsps" else ["Al", "C", "Si"]
    # msts has no reaction of titanium
    elements = [e for e in order_lines() if e != "Ti" or e in first]
    found = [e for e, _ in order(T1600, dict.fromkeys(elements, 1.0), coefficients=coefficients)]
    assert found[: len(first)] == first and found[-1] == "Fe"
    assert set(found[len(first) : -1]) == {"P", "V", "Mn", "Cr"}


@pytest.mark.parametrize("coefficients", SETS)
def test_silicon_goes_first_in_cold_hot_metal_and_carbon_takes_over(coefficients):
    """Common practice, no source: silicon burns before carbon at the start of a blow and carbon as
    the bath warms. Silica held by lime raises the crossing.
    """
    pure = crossing_in_melt("Si", HOT_METAL, 1.0, coefficients=coefficients)
    held = crossing_in_melt("Si", HOT_METAL, 0.01, coefficients=coefficients)
    assert pure.above == "C" and held.above == "C" and held.below == "Si"
    assert 1250.0 < pure.temp_c < held.temp_c < 1650.0


def test_spread_of_the_sets():
    """The same crossing by both sets: 10 degC for silicon, 20 for manganese at 1 % each. A fact for
    learners.
    """
    assert crossing("Si", coefficients="jsps").temp_c - crossing(
        "Si", coefficients="msts"
    ).temp_c == pytest.approx(7.0, abs=5.0)
    assert crossing("Mn", coefficients="jsps").temp_c - crossing(
        "Mn", coefficients="msts"
    ).temp_c == pytest.approx(18.0, abs=5.0)


_active = st.floats(0.01, 20.0)


@given(
    st.sampled_from(["C", "Si", "Mn", "Cr", "V", "Al", "Fe"]),
    _active,
    st.floats(1e-4, 1.0),
    st.floats(1450.0, 2000.0),
    st.sampled_from(SETS),
)
def test_signs(element, h, a, T, coefficients):
    """More of the element lowers its line, more of its oxide raises it; the carbon line falls with
    temperature, those of the metals rise.
    """
    here = oxygen_potential(element, T, h, a, coefficients)
    if element != "Fe":
        assert oxygen_potential(element, T, 2 * h, a, coefficients) < here
    assert oxygen_potential(element, T, h, 2 * a, coefficients) > here
    slope = oxygen_potential(element, T + 1, coefficients=coefficients) - oxygen_potential(
        element, T, coefficients=coefficients
    )
    assert slope < 0 if element == "C" else slope > 0


def test_manganese_of_hot_metal_is_beyond_its_coefficient():
    """JSPS measured the effect of carbon on manganese up to 1.2 % C only."""
    with pytest.warns(ExtrapolationWarning, match=r"e_Mn\^C: C 4.5 % was given"):
        crossing_in_melt("Mn", HOT_METAL, 0.1, coefficients="jsps")


def test_low_pressure_helps_carbon():
    """Chromium is kept by vacuum or argon: at 1600 degC and 18 % Cr, 0.03 % C carbon burns first
    far below 1 atm alone.
    """
    melt = activities({"Cr": 18.0, "C": 0.03, "Ni": 8.0}, T1600)
    chromium = oxygen_potential("Cr", T1600, melt.h["Cr"])
    low, high = (oxygen_potential("C", T1600, melt.h["C"], p) for p in (0.005, 0.2))
    assert low < chromium < high
    assert crossing("Si", p_co_atm=0.1).temp_c < crossing("Si").temp_c


def test_where_lines_do_not_cross():
    never = crossing("Al")
    assert (
        never.temp_c is None and never.below == never.above == "Al" and "burns before" in str(never)
    )
    assert crossing("Fe").above == "C"


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: oxygen_potential("Zn", T1600), "Zn"),
        (lambda: oxygen_potential("C", 1600.0 - 273.15), "degrees Celsius"),
        (lambda: oxygen_potential("Si", T1600, 0.0), "activity of Si"),
        (lambda: oxygen_potential("Si", T1600, 1.0, -1.0), "activity of the product"),
        (lambda: crossing("C"), "other than carbon"),
        (lambda: crossing_in_melt("V", HOT_METAL), "V in the melt"),
        (lambda: order(T1600, {"C": 1.0}, {"Zn": 1.0}), "Zn"),
        (lambda: product_of("Zn"), "Zn"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()
