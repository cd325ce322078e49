"""Questions answered in place."""

import pytest

from steelthermo.base import InputError
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import ask
from steelthermo.coursekit.sheet import Journal, save_me


@pytest.fixture
def folder(tmp_path):
    save_me(tmp_path, "Ada", "self-study")
    return tmp_path


def choose(view, right):
    lines = [i for _, i in view.choice.options]
    view.choice.value = next(i for i in lines if (i == view.draw.choice) is right)
    view.button.click()
    return view.feedback.value


def test_judged_without_the_answer_in_sight_and_kept(folder):
    views = ask("01", "notice", folder).views
    view = views["charge_materials.shredded"]
    page = "".join(
        part.value for part in view.widget.children if hasattr(part, "value") and part.value
    )
    assert "Iron burns before copper" not in str(page)
    told = choose(view, False)
    assert "Not yet" in told and "Iron burns before copper" not in told and not view.button.disabled
    told = choose(view, True)
    assert "Right." in told and "Iron burns before copper" in told and view.button.disabled
    again = ask("01", "notice", folder).views["charge_materials.shredded"]
    assert "Right." in again.feedback.value and again.button.disabled


def test_after_the_last_try_the_reason_and_it_comes_back(folder):
    view = ask("01", "check", folder).views["charge_materials.phosphorus_kg"]
    for text, told in (("1", "Too low"), ("2", "told once"), ("3", "comes back")):
        view.box.value = text
        view.button.click()
        assert told in view.feedback.value
        assert ("one per cent of a tonne?" in view.feedback.value) != (told == "comes back")
    assert view.draw.answer_text() in view.feedback.value and view.button.disabled
    standing = Journal(folder, "Ada", "self-study").standings()[view.problem.key]
    assert not standing.done and standing.opened == {1}


def test_without_a_name_it_is_judged_and_not_kept(tmp_path):
    view = ask("01", "notice", tmp_path).views["charge_materials.shredded"]
    view.button.click()
    assert "Nothing was chosen" in view.feedback.value
    told = choose(view, True)
    assert "Right." in told and "not kept" in told and list(tmp_path.iterdir()) == []


def test_questions_are_no_problems_of_the_exercise(folder):
    lesson = STEEL.lesson("01")
    assert not set(lesson.questions.judged) & set(lesson.problems)
    with pytest.raises(InputError, match="was asked for"):
        ask("01", "predict", folder)
