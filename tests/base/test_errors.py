"""The refusals and warnings that every room leans on: what is no number, what is out of range, and
the sentence that says so.

Source of what is allowed: the plain meaning of a number; no outside source.
"""

import warnings
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelthermo.base import (
    ExtrapolationWarning,
    InputError,
    between,
    extrapolated,
    finite,
    one_of,
    positive,
)

NO_NUMBERS = [
    "1650",
    "words",
    "",
    b"5",
    None,
    True,
    np.bool_(False),
    1 + 2j,
    np.array([1 + 2j]),
    np.array([True, False]),
    ["1.5"],
    [1.0, "x"],
    [[1], [1, 2]],
    {"a": 1},
    object(),
    10**400,
    np.datetime64("2020-01-01"),
]


@pytest.mark.parametrize("value", NO_NUMBERS, ids=lambda v: type(v).__name__)
def test_what_is_no_number_is_refused(value):
    with pytest.raises(
        InputError, match=r"^mass of scrap: .* was given; a number in kg is needed\.$"
    ):
        finite("mass of scrap", value, "kg")


@pytest.mark.parametrize(
    "value",
    [
        np.nan,
        np.inf,
        -np.inf,
        [1.0, np.nan],
        np.array([[1.0], [np.inf]]),
        np.float64("nan"),
        np.float32("inf"),
    ],
)
def test_nan_and_infinity_never_travel_on(value):
    for check in (finite, positive, lambda name, v, unit: between(name, v, 0.0, 1.0, unit)):
        with pytest.raises(
            InputError, match=r"^T: (nan|inf|-inf) was given; a finite number in K is needed\.$"
        ):
            check("T", value, "K")
    with pytest.raises(InputError):
        extrapolated("T", value, 0.0, 1.0, "K")


@pytest.mark.parametrize(
    "value",
    [1, 1.5, np.float64(1.5), np.int32(3), np.array(2.0), Fraction(1, 2), np.float32(0.5), 10**20],
)
def test_a_single_number_becomes_a_plain_float(value):
    out = finite("x", value)
    assert type(out) is float and out == float(value)


@pytest.mark.parametrize(
    "value", [[1, 2], (1.5, 2), np.arange(3), np.ones((2, 3)), [], [Fraction(1, 2), 1]]
)
def test_many_numbers_become_a_float_array(value):
    out = finite("x", value)
    assert isinstance(out, np.ndarray) and out.dtype == float and out.shape == np.shape(value)


@given(st.floats(-9e99, 9e99))
def test_any_finite_float_passes_unchanged(x):
    assert finite("x", x) == x


@pytest.mark.parametrize("x", [1e100, -1e300, np.array([1.0, 1e308])])
def test_a_float_of_which_products_are_no_number_is_refused(x):
    """The largest float is 1.8e308: nothing that is weighed, counted or measured comes near."""
    with pytest.raises(InputError, match="a finite number is needed"):
        finite("x", x)


@given(st.text(max_size=200))
def test_any_text_is_refused_in_one_short_sentence(text):
    with pytest.raises(InputError) as error:
        finite("answer", text, "t")
    assert len(str(error.value)) < 150 and str(error.value).startswith("answer: ")


def test_a_text_of_forty_kilobytes_is_not_printed_back():
    with pytest.raises(InputError) as error:
        finite("answer", "12,5 t " * 6000, "t")
    assert len(str(error.value)) < 150


def test_between_names_quantity_value_and_range_and_sees_a_mistaken_scale():
    assert between("temperature", 1650.0, 1130.0, 1800.0, "°C") == 1650.0
    assert between("temperature", 1130, 1130.0, 1800.0, "°C") == 1130.0
    with pytest.raises(InputError) as error:
        between("temperature", [1650.0, 1923.0, 1999.0], 1130.0, 1800.0, "°C")
    assert (
        str(error.value)
        == "temperature: 1923 °C was given; allowed is 1130 to 1800 °C. Was kelvin given? Degrees "
        "Celsius are needed."
    )
    with pytest.raises(InputError, match="Is this degrees Celsius"):
        between("temperature", 1600.0, 1773.0, 1990.0, "K")
    for value, unit in ((2500.0, "°C"), (1000.0, "K"), (2500.0, "kg")):
        with pytest.raises(InputError) as error:
            between("temperature", value, 1773.0, 1990.0, unit)
        assert "Celsius" not in str(error.value)
    with pytest.raises(InputError, match="of its own"):
        between("x", 1600.0, 1773.0, 1990.0, "K", "A hint of its own.")


def test_positive_with_and_without_zero():
    assert positive("mass", 0.0, "kg") == 0.0
    with pytest.raises(InputError, match=r"^mass: -1 kg was given; allowed is zero or more\.$"):
        positive("mass", -1, "kg")
    with pytest.raises(
        InputError, match=r"^mass: 0 kg was given; allowed is more than zero\. Weigh it\.$"
    ):
        positive("mass", 0, "kg", "Weigh it.", zero=False)
    with pytest.raises(InputError, match=r"^mass: -3 kg"):
        positive("mass", [1, -3, -5], "kg")
    with pytest.raises(InputError):
        positive("mass", np.array([[1.0, 2.0], [0.0, 1.0]]), zero=False)


def test_input_error_is_a_value_error_so_that_any_caller_may_catch_it():
    assert issubclass(InputError, ValueError) and issubclass(ExtrapolationWarning, UserWarning)


def test_extrapolated_warns_once_and_says_where():
    with pytest.warns(ExtrapolationWarning) as caught:
        outside = extrapolated("FeO", np.array([10.0, 35.0]), 5.0, 30.0, "%", "Author 1970")
    assert outside.tolist() == [False, True] and len(caught) == 1
    assert str(caught[0].message) == (
        "FeO: 35 % lies outside the range 5 to 30 % (Author 1970); the result is extrapolated."
    )
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert extrapolated("FeO", 30.0, 5.0, 30.0) is False


def test_the_warning_points_at_the_caller_of_the_correlation():
    """A learner sees the line of the lesson, not a line of the kit (default filter: once per
    place).
    """

    def correlation(x):
        extrapolated("x", x, 0.0, 1.0)
        return x

    with pytest.warns(ExtrapolationWarning) as caught:
        correlation(2.0)
    assert caught[0].filename == __file__


def test_a_limit_that_is_not_there_is_never_left():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert (
            extrapolated("x", 1e9, 0.0, None) is False
            and extrapolated("x", 5.0, None, None) is False
        )
    with pytest.warns(ExtrapolationWarning, match="x: -1 lies outside"):
        assert extrapolated("x", -1.0, 0.0, None)


def test_a_wrong_name_is_told_from_those_allowed():
    """Few names are listed whole, of many the nearest; a list is no name either."""
    assert one_of("metal", "iron", ("iron", "steel")) == "iron"
    with pytest.raises(InputError, match="^metal: 'irn' was given; allowed are iron, steel.$"):
        one_of("metal", "irn", ("iron", "steel"))
    many = dict.fromkeys(f"heat {n}" for n in range(100))
    with pytest.raises(InputError, match="'heat 7x' was given; near it: heat 7"):
        one_of("heat", "heat 7x", many)
    for bad in ("wind", ["heat 7"], None):
        with pytest.raises(InputError, match="near it: none like it|near it: heat"):
            one_of("heat", bad, many)


def test_a_notebook_shows_the_sentence_alone(capsys):
    from IPython.core.interactiveshell import InteractiveShell

    shell = InteractiveShell()
    shell.run_cell("from steelthermo.base import between\nbetween('lime', -1.0, 0.0, 9.0, 'kg')")
    said = capsys.readouterr().out
    assert "lime" in said and "InputError" in said and len(said.strip().splitlines()) == 1
