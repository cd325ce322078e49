"""Problems of lesson 17 against sums written out here; the hidden week against what the tool that
made the month put into it."""

import sys
from pathlib import Path

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.problems import draw

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tools"))
from make_month import HIDDEN

LESSON = STEEL.lesson("own_heats")
BY_NAME = {p.key.split(".")[1]: p for p in LESSON.problems}
HANDS = {
    "known_to": lambda heats, scatter_c: 1.96 * scatter_c / heats**0.5,
    "scatter_alone": lambda rms_c, bias_c: (rms_c * rms_c - bias_c * bias_c) ** 0.5,
    "waiting": lambda slope, per_c, wait_min, usual_min: slope * (wait_min - usual_min) / per_c,
    "wrong_scale": lambda scale_pct, shown_t, yield_t, steel_t: (
        100 * (shown_t * scale_pct / 100 * yield_t) / steel_t
    ),
    "probe_step": lambda step_c, scatter_c, before, after: (
        step_c / (scatter_c**2 / before + scatter_c**2 / after) ** 0.5
    ),
    "share_of_hits": lambda heats, share_pct: 1.96 * (share_pct * (100 - share_pct) / heats) ** 0.5,
    "hidden_day": lambda first_number: first_number + HIDDEN.scale_days[0],
}


@pytest.mark.parametrize("name", HANDS)
def test_the_sum_of_the_text_is_within_the_tolerance(name):
    """For 200 learners: nobody who reckons by hand is told to be wrong."""
    problem = BY_NAME[name]
    for n in range(200):
        one = draw(problem, f"learner {n}", "self-study")
        assert abs(HANDS[name](**one.given) - one.number) <= problem.number.tolerance(one.number)


def test_every_problem_has_its_sum_here():
    assert set(HANDS) == set(BY_NAME)
