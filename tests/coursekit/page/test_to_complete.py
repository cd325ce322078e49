"""The example to complete."""

import re

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import show
from steelthermo.coursekit.problems import draw, step_values
from steelthermo.coursekit.sheet import save_me

WITH_STEPS = [p for p in STEEL.problems if p.steps]
# where the work is to find a figure in a month of heats: one step is left to calculate
FOUND = {
    f"own_heats.{key}"
    for key in "hidden_day hidden_scale cold_day cold_heat probe_day probe_true hard_shift".split()
}


def test_each_exercise_has_one():
    lessons = [p.lesson for p in STEEL.problems if p.example]
    assert sorted(lessons) == sorted({p.lesson for p in STEEL.problems})


@pytest.mark.parametrize("problem", WITH_STEPS, ids=lambda p: p.key)
def test_its_steps_lead_to_the_answer(problem):
    """For 25 learners, within a quarter of what the problem accepts: rounding on the way."""
    assert len(problem.steps) >= (3 if problem.example else 1 if problem.key in FOUND else 2)
    assert problem.steps[-1].unit == problem.number.unit
    for n in range(25):
        one = draw(problem, f"Learner {n}")
        known = problem.known(one.given)
        last = step_values(problem.steps, known)[problem.steps[-1].called]
        assert abs(last - one.number) <= problem.number.tolerance(one.number), one.given
        exact = step_values(problem.steps, known, None)[problem.steps[-1].called]
        assert exact == pytest.approx(one.number, rel=1e-9), one.given  # the key is what they say


def test_filled_in_judged_and_kept(tmp_path):
    save_me(tmp_path, "Ada", "self-study")
    page = show("02", tmp_path)
    (example,) = page.examples
    first, last = example.blanks
    assert "To complete" in example.widget.children[0].value
    shown = [part.layout.display == "" for part, _ in example.parts]
    assert shown == [True, True, False, False]  # the third goes on with what is asked in the second
    assert re.search(r"110\.5 ?/ ?12\.011 = 9\.1999", example.parts[0][0].children[0].value)
    own = page.views["oxidation_heat.mixed_gas"].draw.given
    assert f"{own['carbon_kg']:.0f}" not in example.widget.children[0].value
    first.answer.box.value = "1"
    first.button.click()
    assert "Not yet" in first.feedback.value and not first.button.disabled
    first.answer.box.value = first.step.value_text(first.value)
    first.button.click()
    assert "Right." in first.feedback.value and first.button.disabled
    assert all(part.layout.display == "" for part, _ in example.parts)
    for _ in range(2):
        last.answer.box.value = "2"
        last.button.click()
    assert "It is" in last.feedback.value and last.button.disabled
    again = show("02", tmp_path).examples[0].blanks
    assert all(blank.button.disabled for blank in again)
    assert "0 of 7 problems solved, 0 tried" in page.progress.value
