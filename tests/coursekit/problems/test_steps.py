"""Steps of a solution: worked out from the numbers shown, written so that they can be checked."""

import pytest

from steelthermo.base import InputError
from steelthermo.coursekit.problems import Step, blanks, step_values

STEPS = (
    Step("kelvin", "In kelvin.", "temp_c + 273.15", "K"),
    Step("root", "Its root.", "sqrt(kelvin) ** 1", "1"),
    Step("both", "Both.", "-log10(kelvin) * (root - ln(root)) / 2", "1"),
)


def test_values_are_those_of_the_numbers_shown():
    known = step_values(STEPS, {"temp_c": 25.0, "oxide": "FeO"})
    assert known["kelvin"] == 298.15
    assert known["root"] == 17.267  # five digits, and gone on with: sqrt(298.15) = 17.26702
    # by hand: 2.474435 * (17.267 - 2.848798) / 2
    assert known["both"] == pytest.approx(-17.8387, abs=2e-3)
    assert STEPS[0].written(known) == "25 + 273.15"
    assert STEPS[2].written(known) == " − log(298.15) × (17.267 − ln(17.267))/2".replace(
        "/2", " / 2"
    )


def test_the_last_and_every_second_before_it_are_blank():
    assert [blanks(STEPS[:n]) for n in (1, 2, 3)] == [[0], [1], [0, 2]]


@pytest.mark.parametrize(
    "wrong", ["temp", "open('x')", "1 +", "1 / 0", "sqrt(-1)", "a.b", "temp_c < 3"]
)
def test_what_cannot_be_worked_out_is_told(wrong):
    with pytest.raises(InputError, match="step x"):
        step_values((Step("x", "X.", wrong, "1"),), {"temp_c": 25.0})
