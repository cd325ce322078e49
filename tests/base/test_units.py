"""Units against the SI brochure's factors, written out here, and against the units of the general
library chemicals/fluids family where it has them.
"""

import cantera as ct
import chemicals.iapws
import numpy as np
import pytest
import scipy.constants as sc
from hypothesis import given
from hypothesis import strategies as st

from steelthermo.base import (
    InputError,
    celsius,
    convert,
    kelvin,
    mol_to_nm3,
    molar_volume_nm3_kmol,
    nm3_to_mol,
    quantity_of,
    rows,
    units_of,
)

# given, wanted, factor: from the prefixes and the definitions of hour, minute, tonne and kilowatt
# hour (SI brochure, 9th edition, tables 7 and 8)
SI = [
    ("t", "kg", 1000.0),
    ("g", "kg", 1e-3),
    ("h", "min", 60.0),
    ("min", "s", 60.0),
    ("kWh", "MJ", 3.6),
    ("MWh", "GJ", 3.6),
    ("kWh/t", "kJ/kg", 3.6),
    ("GJ/t", "MJ/kg", 1.0),
    ("MJ/t", "kJ/kg", 1.0),
    ("kJ/t", "J/kg", 1.0),
    ("kWh/kg", "MJ/kg", 3.6),
    ("kWh/Nm3", "kJ/Nm3", 3600.0),
    ("kJ/mol", "J/mol", 1000.0),
    ("Nm3/min", "Nm3/h", 60.0),
    ("Nm3/s", "Nm3/min", 60.0),
    ("Nm3/kg", "Nm3/t", 1000.0),
    ("Nm3/(min t)", "Nm3/min", None),
    ("%", "ppm", 1e4),
    ("kg/t", "%", 0.1),
    ("g/t", "ppm", 1.0),
    ("mg/kg", "ppm", 1.0),
    ("t/t", "%", 100.0),
    ("bar", "kPa", 100.0),
    ("mbar", "Pa", 100.0),
    ("atm", "Pa", 101325.0),
    ("MPa", "bar", 10.0),
    ("m", "mm", 1000.0),
    ("cm", "mm", 10.0),
    ("g/cm3", "kg/m3", 1000.0),
    ("V", "mV", 1000.0),
    ("°C/min", "K/min", 1.0),
    ("MW", "kW", 1000.0),
    ("t/h", "kg/min", 1000.0 / 60.0),
    ("kg/s", "t/h", 3.6),
    ("kJ/(kg K)", "J/(kg K)", 1000.0),
    ("kmol", "mol", 1000.0),
]


@pytest.mark.parametrize("given_unit, wanted, factor", SI)
def test_factors_of_the_si(given_unit, wanted, factor):
    if factor is None:
        with pytest.raises(InputError, match="cannot become"):
            convert(1.0, given_unit, wanted)
        return
    assert convert(1.0, given_unit, wanted) == pytest.approx(factor, rel=1e-14)
    assert convert(factor, wanted, given_unit) == pytest.approx(1.0, rel=1e-14)


def test_factors_against_a_general_library():
    """scipy.constants (CODATA 2022 and SI definitions), which the test extras bring along."""
    assert convert(1.0, "atm", "Pa") == sc.atm and convert(1.0, "bar", "Pa") == sc.bar
    assert convert(1.0, "h", "s") == sc.hour and convert(1.0, "kWh", "J") == sc.kilo * sc.hour
    assert kelvin(0.0) == sc.zero_Celsius
    assert molar_volume_nm3_kmol() == pytest.approx(
        1000.0 * sc.physical_constants["molar volume of ideal gas (273.15 K, 101.325 kPa)"][0],
        rel=1e-9,
    )


def test_molar_volume_is_that_of_the_trade():
    """22.414 Nm3/kmol: common practice; the exact value by Cantera's ideal gas at 273.15 K and
    101325 Pa.
    """
    assert molar_volume_nm3_kmol() == pytest.approx(22.414, abs=5e-5)
    gas = ct.Solution("gri30.yaml")
    gas.TPX = 273.15, 101325.0, "O2:1"
    assert molar_volume_nm3_kmol() == pytest.approx(gas.volume_mole, rel=1e-12)
    assert nm3_to_mol(1.0) == pytest.approx(44.615, abs=5e-4)
    assert mol_to_nm3(nm3_to_mol(3.7)) == pytest.approx(3.7, rel=1e-15)


def test_temperatures():
    """Water boils at 373.124 K (IAPWS-95 saturation, chemicals.iapws) = 99.974 °C; steel is tapped
    near 1650 °C = 1923.15 K (exact).
    """
    boiling = chemicals.iapws.iapws95_Tsat(101325.0)
    assert celsius(boiling) == pytest.approx(99.974, abs=1e-3)
    assert kelvin(1650.0) == 1923.15 and convert(1650.0, "°C", "K") == 1923.15
    assert convert(1923.15, "K", "°C") == pytest.approx(1650.0, abs=1e-10)
    np.testing.assert_allclose(kelvin(np.array([0.0, 25.0])), [273.15, 298.15])


UNITS = [row["unit"] for row in rows("units")]


@given(st.sampled_from(UNITS), st.floats(0.0, 1e6))
def test_there_and_back(unit, x):
    for other in units_of(quantity_of(unit)):
        assert convert(convert(x, unit, other), other, unit) == pytest.approx(
            x, rel=1e-12, abs=1e-9
        )


def test_every_unit_stands_once_and_knows_its_fellows():
    names = [row["unit"] for row in rows("units")]
    assert len(names) == len(set(names))
    for unit in UNITS:
        assert unit in units_of(quantity_of(unit)) and convert(1.5, unit, unit) == pytest.approx(
            1.5, rel=1e-15
        )
    assert quantity_of("1") == "number"


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: convert(1, "furlong", "m"), "unit: 'furlong' was given; near it"),
        (
            lambda: convert(1, "kg", "m"),
            "kg measures mass and cannot become m, which measures length",
        ),
        (lambda: convert("12,5", "t", "kg"), "number to convert: '12,5' was given"),
        (lambda: convert(np.nan, "t", "kg"), "nan was given"),
        (lambda: convert(-300.0, "°C", "K"), "-26.85 K was given; allowed is zero or more"),
        (lambda: convert([20.0, -1.0], "K", "°C"), "-1 K was given"),
        (lambda: kelvin(-274.0), "temperature: -274 °C was given"),
        (lambda: celsius(-1.0, "melt"), "melt: -1 K was given"),
        (lambda: nm3_to_mol(np.nan), "volume of gas: nan was given"),
        (lambda: mol_to_nm3("5"), "amount of gas: '5' was given"),
        (lambda: quantity_of("kgs"), "unit: 'kgs' was given"),
    ],
)
def test_refusals(call, words):
    with pytest.raises(InputError) as error:
        call()
    assert words in str(error.value)


def test_arrays_keep_their_shape():
    x = np.arange(6.0).reshape(2, 3)
    np.testing.assert_allclose(convert(x, "t", "kg"), 1000 * x)
    assert convert([1, 2], "h", "min").tolist() == [60.0, 120.0]
