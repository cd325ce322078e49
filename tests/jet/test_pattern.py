"""The pattern of lance height and oxygen flow along a blow: exact sums and refusals."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelthermo.base import InputError
from steelthermo.jet import LancePattern

PATTERN = LancePattern((0, 4, 7, 17), (2.5, 2.2, 1.8, 1.8), (500, 600, 600, 550), "invented")


def test_pattern_holds_or_ramps():
    """Exact arithmetic by hand."""
    assert PATTERN.height_at([0.0, 3.999, 4.0, 17.0]) == pytest.approx([2.5, 2.5, 2.2, 1.8])
    assert PATTERN.oxygen_nm3() == pytest.approx(500 * 4 + 600 * 13)
    assert PATTERN.oxygen_nm3([0.0, 2.0, 5.0]) == pytest.approx([0.0, 1000.0, 2600.0])
    ramp = LancePattern(PATTERN.time_min, PATTERN.height_m, PATTERN.flow_nm3_min, ramp=True)
    assert ramp.height_at(2.0) == pytest.approx(2.35)
    assert ramp.oxygen_nm3(2.0) == pytest.approx(2 * 525.0)
    assert ramp.oxygen_nm3() == pytest.approx(550 * 4 + 600 * 3 + 575 * 10)
    assert isinstance(PATTERN.flow_at(3.0), float)


@settings(max_examples=25, deadline=None)
@given(ramp=st.booleans(), wanted=st.floats(500.0, 30000.0))
def test_pattern_oxygen_is_the_integral_of_its_flow(ramp, wanted):
    """Invariances: fine sums of the flow give the oxygen; a stretched pattern blows what was
    asked.
    """
    pattern = LancePattern((0, 4, 7, 17), (2.5, 2.2, 1.8, 1.8), (500, 600, 600, 550), ramp=ramp)
    t = np.linspace(0, 17, 17001)
    sums = np.sum(pattern.flow_at(0.5 * (t[1:] + t[:-1]))) * 0.001
    assert pattern.oxygen_nm3() == pytest.approx(sums, rel=1e-6)
    assert pattern.scaled(wanted).oxygen_nm3() == pytest.approx(wanted)


@pytest.mark.parametrize(
    "make, words",
    [
        (lambda: LancePattern((0, 5), (2.5,), (500, 500)), "2 times, 1 heights"),
        (lambda: LancePattern((0,), (2.5,), (500,)), "2 or more"),
        (lambda: LancePattern((1, 5), (2.5, 2.0), (500, 500)), "must be 0"),
        (lambda: LancePattern((0, 5, 5), (2.5, 2.0, 2.0), (500, 500, 500)), "later than"),
        (lambda: LancePattern((0, 5), (250, 200), (500, 500)), "height_m"),
        (lambda: LancePattern((0, 5), (2.5, 2.0), (500, float("nan"))), "flow_nm3_min"),
        (lambda: PATTERN.height_at(18.0), "time: 18"),
        (lambda: PATTERN.oxygen_nm3(-1.0), "time: -1"),
        (lambda: PATTERN.scaled(0.0), "more than zero"),
        (lambda: LancePattern((0, 5), (2.5, 2.0), (0, 0)).scaled(100.0), "no oxygen"),
    ],
)
def test_bad_patterns_are_refused_in_words(make, words):
    with pytest.raises(InputError, match=words):
        make()
