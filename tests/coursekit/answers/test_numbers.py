"""Reading answers. What is right here was written out by hand: every case says what a learner means
by it.
"""

import math
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelthermo.base import convert, quantity_of, rows, units_of
from steelthermo.coursekit.answers import (
    AnswerError,
    Reading,
    UnknownUnit,
    clip,
    number_text,
    quantity_text,
    read,
    read_choice,
    unit_of,
)

UNITS = tuple("1" if row["unit"] == 1.0 else row["unit"] for row in rows("units"))

NUMBERS = {
    "12.5": 12.5,
    "12,5": 12.5,
    "  12,5  ": 12.5,
    "+3": 3.0,
    "-3.2": -3.2,
    "−3,2": -3.2,
    "– 3.2": -3.2,
    ".5": 0.5,
    ",5": 0.5,
    "5.": 5.0,
    "0,125": 0.125,
    "12 500": 12500.0,
    "12\u00a0500": 12500.0,
    "12\u2009500,25": 12500.25,
    "12\u202f500": 12500.0,
    "12'500": 12500.0,
    "12’500.5": 12500.5,
    "12_500": 12500.0,
    "1 234 567": 1234567.0,
    "1.234.567": 1234567.0,
    "1,234,567": 1234567.0,
    "1,234.5": 1234.5,
    "1.234,5": 1234.5,
    "1.2e4": 12000.0,
    "1,2E+04": 12000.0,
    "1.2 e4": 12000.0,
    "1,2·10^4": 12000.0,
    "1,2*10^4": 12000.0,
    "1.2*10**4": 12000.0,
    "1.2 x 10^4": 12000.0,
    "1.2 × 10⁴": 12000.0,
    "1.2·10^-3": 0.0012,
    "1.2·10⁻³": 0.0012,
    "1.2·10^(−3)": 0.0012,
    "10^4": 10000.0,
    "-10⁻³": -0.001,
    "= 7": 7.0,
    "≈7": 7.0,
    "１２，５": 12.5,
    "٣٫٥": 3.5,
    "0": 0.0,
    "0.000 12": 0.00012,
}
SPELLINGS = {
    "kJ/mol": ["kJ/mol", "kj/mol", "kJ mol-1", "kJ·mol⁻¹", "kJ mol^-1", "kJ per mol", "KJ/mole"],
    "J/(mol K)": [
        "J/(mol K)",
        "J/mol/K",
        "J/mol K",
        "J mol-1 K-1",
        "J/(mol·K)",
        "J/(K mol)",
        "joule per mol K",
    ],
    "MJ/kg": ["MJ/kg", "mj/kg", "MJ/kg Si", "MJ kg-1"],
    "kWh/t": ["kWh/t", "kwh/t", "kWh per tonne", "kWh/t steel", "kWh/tonne liquid steel"],
    "Nm3/t": [
        "Nm3/t",
        "Nm³/t",
        "nm3/t",
        "Nm^3/t",
        "Nm3 O2/t steel",
        "m3(STP)/t",
        "Nm3 per t hot metal",
    ],
    "kg/t": ["kg/t", "kg/t steel", "kg CaO/t", "kg per tonne of steel", "kg/t HM"],
    "%": ["%", "percent", "pct", "wt%", "wt.-%", "mass %", "mole %", "vol.%", "% by mass"],
    "ppm": ["ppm", "PPM", "ppmw"],
    "°C": ["°C", "℃", "degC", "deg C", "degrees Celsius", "C", "°c"],
    "K": ["K", "kelvin", "Kelvin"],
    "kPa": ["kPa", "kpa", "KPA"],
    "bar": ["bar", "bar abs"],
    "min": ["min", "minutes", "mins"],
    "t": ["t", "T", "tonnes", "t scrap"],
    "kg": ["kg", "KG", "kilograms", "kg lime"],
    "Nm3/min": ["Nm3/min", "nm3/minute"],
    "Nm3/(min t)": ["Nm3/(min t)", "Nm3/min/t", "Nm3/(t min)"],
}
REFUSED = {
    "": "none",
    "   ": "none",
    "\u00a0": "none",
    "five": "word",
    "t": "word",
    "-": "word",
    "NaN": "word",
    "inf": "word",
    "x" * 40_000: "long",
    "1" * 40_000: "long",
    "12/5": "sum",
    "3 + 4": "sum",
    "3*4": "sum",
    "½": "sum",
    "2⁴": "sum",
    "1.2*10e4": "sum",
    "0x1F": "sum",
    "12 5": "two",
    "12-15": "two",
    "12 – 15": "two",
    "10 to 12 t": "two",
    "12 ± 1": "two",
    "1,234,56": "two",
    "1..2": "two",
    "1e999999": "range",
    "1e-999999": "range",
    "9" * 40: "range",
    "1·10^99999": "range",
    "12 foo": "unit",
    "12 __import__('os')": "unit",
    "<b>12</b>": "word",
}


@pytest.mark.parametrize("text", NUMBERS)
def test_number(text):
    assert read(text).values[0] == pytest.approx(NUMBERS[text], rel=1e-15, abs=0)


@pytest.mark.parametrize("unit", SPELLINGS)
def test_unit_spellings(unit):
    for spelling in SPELLINGS[unit]:
        assert read(f"12,5 {spelling}").unit == unit, spelling
        assert read(f"1.25e1 {spelling}.").unit == unit, spelling


@pytest.mark.parametrize("text", REFUSED, ids=lambda text: text[:20])
def test_refused_in_one_sentence(text):
    with pytest.raises(AnswerError) as caught:
        read(text, ("kJ/mol", "kJ/kg"))
    assert caught.value.kind == REFUSED[text]
    assert 20 < len(str(caught.value)) < 220 and "Traceback" not in str(caught.value)


@pytest.mark.parametrize("what", [None, 12, b"12", ["12"]])
def test_not_a_text(what):
    with pytest.raises(AnswerError):
        read(what)


def test_thousands_or_decimal_mark_both_kept():
    assert read("1,250").values == (1.25, 1250.0) and read("1.250 kg").values == (1.25, 1250.0)
    for plain in ("0,250", "1,25", "1,2500", "12500,125", "1 250,125", "01,250"):
        assert len(read(plain).values) == 1, plain


def test_significant_digits():
    digits = {
        "9.2": 2,
        "9.20": 3,
        "9200": 2,
        "9200.": 2,
        "0.0092": 2,
        "1.20e4": 3,
        "12 500": 3,
        "0": 1,
    }
    assert {text: read(text).digits[0] for text in digits} == digits


def test_unknown_unit_names_what_fits():
    with pytest.raises(AnswerError, match="furlong.*Units that fit: kJ/mol"):
        read("12 furlong", ("kJ/mol",))


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_of_the_table_is_read(unit):
    assert unit_of(unit) == unit
    assert quantity_of(unit) and unit in units_of(quantity_of(unit))
    assert convert(1.0, unit, unit) == pytest.approx(1.0)


def test_no_two_units_of_the_table_are_one():
    assert len({unit_of(unit) for unit in UNITS}) == len(UNITS)
    with pytest.raises(UnknownUnit):
        unit_of("kg//t")


def test_choices():
    assert [read_choice(t, 4) for t in ("3", " 3. ", "(3)", "line 3", "No. 3", "３")] == [3] * 6
    for text in ("", "0", "5", "three", "3.5", "3 4", "x" * 40_000, "9" * 50, None):
        with pytest.raises(AnswerError):
            read_choice(text, 4)


@given(st.text(max_size=150))
@settings(max_examples=800)
def test_no_text_raises_anything_but_the_documented_error(text):
    try:
        reading = read(text)
    except AnswerError as error:
        assert str(error)
    else:
        assert isinstance(reading, Reading) and all(math.isfinite(v) for v in reading.values)
        assert reading.unit is None or reading.unit in UNITS
    try:
        assert 1 <= read_choice(text, 5) <= 5
    except AnswerError:
        pass
    assert len(clip(text)) <= 40 and clip(text).isprintable()


ODD = "0123456789.,eE+-−·×*^()/ \u00a0\u2009'_%°KkgtNmJ⁴⁻½٣"


@given(st.text(ODD, max_size=30))
@settings(max_examples=1500)
def test_nearly_numbers_raise_nothing_else(text):
    try:
        assert all(
            math.isfinite(v) and (v == 0 or 1e-30 <= abs(v) <= 1e30) for v in read(text).values
        )
    except AnswerError:
        pass


@given(
    st.floats(-1e12, 1e12, allow_nan=False).filter(lambda x: x == 0 or abs(x) > 1e-12),
    st.integers(3, 7),
    st.sampled_from(UNITS),
)
def test_what_is_printed_is_read_back(number, digits, unit):
    printed = quantity_text(number, unit, digits)
    reading = read(printed)
    assert reading.unit == (None if unit == "1" else unit)
    assert reading.values[0] == pytest.approx(number, rel=0.51 * 10 ** (1 - digits), abs=0)
    assert unicodedata.normalize("NFC", printed) == printed


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_fixed_decimals_are_read_back(number, decimals):
    assert read(number_text(number, decimals=decimals)).values[0] == pytest.approx(
        number, abs=0.51 * 10**-decimals
    )


@given(
    st.integers(0, 10**9),
    st.integers(0, 3),
    st.sampled_from([" ", "\u00a0", "\u2009", "\u202f", "'", ""]),
    st.sampled_from(".,"),
)
def test_every_grouping_means_the_same(whole, places, group, mark):
    text = f"{whole:,}".replace(",", group) + (mark + "7" * places if places else "")
    assert read(text).values[0] == pytest.approx(float(f"{whole}.{'7' * places}0"), rel=1e-12)
