"""The page of today: answered there, and counted for mastery."""

from datetime import UTC, date, datetime

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import Today, ask, show
from steelthermo.coursekit.sheet import Journal, save_me

LATER = date(2100, 1, 1)


@pytest.fixture
def folder(tmp_path):
    save_me(tmp_path, "Ada", "self-study")
    return tmp_path


def right(view):
    if view.problem.number:
        view.box.value = view.draw.answer_text()
    else:
        view.choice.value = view.draw.choice
    view.check()
    return view


def standing(folder, view):
    return Journal(folder, "Ada", "self-study").standings()[view.problem.key]


def test_nothing_comes_back_to_who_has_done_nothing(folder):
    page = Today(folder)
    assert not page.views and "Nothing comes back today" in page.feedback.value


def test_mixed_from_lessons_answered_there_with_new_numbers_and_mastered(folder):
    first = right(show("01", folder).views["charge_materials.kg_of_element"])
    second = show("02", folder).views["oxidation_heat.per_kg"]
    second.box.value = "1"
    second.check()
    question = ask("01", "check", folder).views["charge_materials.phosphorus_kg"]
    for _ in range(3):
        question.box.value = "1"
        question.check()
    page = Today(folder, LATER)
    assert list(page.views) == [  # what was wrong first, lessons in turn, then what was solved
        "oxidation_heat.per_kg",
        "charge_materials.phosphorus_kg",
        "charge_materials.kg_of_element",
    ]
    assert "0 of 3 done" in page.progress.value
    links = "".join(box.children[0].value for box in page.list.children)
    assert "02_oxidation_heat.ipynb" in links and "../lessons/01_charge_materials" in links
    for view, old in zip(page.views.values(), (second, question, first), strict=True):
        assert view.set == 2 and view.draw.given != old.draw.given
        right(view)
    assert "3 of 3 done" in page.progress.value and "all for today" in page.progress.value
    # right at once on two sets, the second among other lessons
    assert standing(folder, first).mastered and not standing(folder, second).mastered
    later = datetime.now(UTC).date()
    assert not Today(folder, later).views  # all three wait a day at least


def test_a_set_not_yet_tried_is_not_passed_over(folder):
    view = show("01", folder).views["charge_materials.kg_of_element"]
    view.box.value = "1"
    view.check()
    assert Today(folder, LATER).views[view.problem.key].set == 2
    assert Today(folder, LATER).views[view.problem.key].set == 2
    assert len({p.lesson for p in STEEL.problems}) > 1
