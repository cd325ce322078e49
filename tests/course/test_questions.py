"""Questions of the lessons: predictions at every works, texts that are whole, no answer that stands
beside its question.
"""

import json
import re
from pathlib import Path

import page_sums
import pytest
from leaving_out import accepted

from steelthermo.course import steel
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.panel import computed
from steelthermo.coursekit.problems import DEFAULT_COURSE, check, draw, step_values
from steelthermo.works import WORKS, load_profile

LESSONS = Path(__file__).parents[2] / "lessons"
ASKING = [one for one in STEEL.lessons if one.questions]


@pytest.mark.parametrize("lesson", ASKING, ids=lambda one: one.number)
def test_each_lesson_predicts_notices_and_checks(lesson):
    asked = lesson.questions
    assert asked.predict and len(asked.notice) >= 2 and len(asked.check) >= 2
    keys = [q.key for q in (*asked.predict, *asked.judged, *lesson.problems)]
    assert len(set(keys)) == len(keys)
    for question in asked.judged:
        one = draw(question, "Ada")
        verdict = check(one, one.answer_text())
        assert verdict.done, question.key
        assert one.text(question.text) and one.worked_text()
        if not question.number:
            lines = one.problem.choice.options
            assert len(set(lines)) == len(lines)


def test_the_right_line_is_not_told_by_its_length():
    choices = [q.choice.options for q in STEEL.questions if q.choice and not q.choice.ordered]
    longer = [len(right) - max(map(len, others)) for right, *others in choices]
    assert max(longer) <= 6 and sum(x > 0 for x in longer) < 0.3 * len(longer)


@pytest.mark.parametrize("name", WORKS)
def test_predictions_have_a_right_option_at_every_works(name, monkeypatch):
    monkeypatch.setattr(type(STEEL), "works", lambda self, path=None: load_profile(path or name))
    for lesson in ASKING:
        for asked in lesson.questions.predict:
            panel = asked.panel or lesson.name
            start, move = dict(asked.start), dict(asked.move)
            before = asked.figure(computed(panel, **start))
            after = asked.figure(computed(panel, **start | move))
            assert before == before and after == after
            line = asked.line(before, after)
            assert 1 <= line <= len(asked.options) and asked.compared(before, after)
            if name == STEEL.home_works:  # a change that is near a limit is no fair question
                change = after - before
                change *= 100.0 / abs(before) if asked.percent else 1.0
                for limit in asked.limits:
                    assert abs(change - limit) > 0.1 * abs(change or limit), asked.key


@pytest.mark.parametrize("lesson", ASKING, ids=lambda one: one.number)
def test_the_lesson_asks_in_place_and_shows_no_answer(lesson):
    path = LESSONS / f"{lesson.number}_{lesson.name}.ipynb"
    cells = json.loads(path.read_text("utf-8"))["cells"]
    code = "\n".join("".join(c["source"]) for c in cells if c["cell_type"] == "code")
    assert "course.predict(" in code
    assert all(f'course.ask("{lesson.name}", "{part}")' in code for part in ("notice", "check"))
    text = "\n".join("".join(c["source"]) for c in cells if c["cell_type"] == "markdown")
    assert not re.search(r"\?[^\n]* \*\([^)]*\)\*", text)
    shown = json.dumps([c.get("outputs") for c in cells])
    for question in lesson.questions.judged:
        assert question.worked[:40] not in shown


def test_another_course_key_draws_other_numbers():
    steel()
    question = next(q for q in STEEL.questions if q.given)
    assert draw(question, "Ada").given != draw(question, "Bram", DEFAULT_COURSE).given


@pytest.mark.parametrize("learners", [5, pytest.param(200, marks=pytest.mark.long)])
def test_nothing_left_out_is_accepted_and_sums_are_true(learners):
    for question in STEEL.questions:
        if not question.number:
            continue
        assert not accepted(question, learners), question.key
        told = draw(question, "Ada").worked_text()
        assert all(found.true for found in page_sums.sums(told)), told


def test_steps_of_the_examples_are_true_to_the_digits_shown():
    read = 0
    for problem in STEEL.problems:
        for n in range(5 if problem.steps else 0):
            given = draw(problem, f"Learner {n}").given
            known = step_values(problem.steps, problem.known(given))
            for step in problem.steps:
                line = f"{step.written(known)} = {step.value_text(known[step.called])}"
                found = page_sums.sums(line)
                read += len(found)
                assert all(one.true for one in found), line
    assert read > 200
