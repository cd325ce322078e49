"""The page that shows where a learner stands."""

from datetime import date

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import Home
from steelthermo.coursekit.problems import draw
from steelthermo.coursekit.sheet import Journal, save_me


@pytest.fixture
def ada(tmp_path):
    save_me(tmp_path, "Ada", "self-study")
    return tmp_path, Journal(tmp_path, "Ada", "self-study")


def test_without_a_name_it_is_the_map(tmp_path):
    home = Home(tmp_path)
    page = home._repr_html_()
    assert "Nobody has signed in" in page and not home.due
    for one in STEEL.lessons:
        assert f'<a href="{one.number}_{one.name}.ipynb">' in page
    assert f"of {len(STEEL.problems)} problems" in repr(home)


def test_progress_going_on_and_what_comes_back(ada):
    folder, journal = ada
    first, second = STEEL.lesson("01").problems[:2]
    for problem, state in ((first, "right"), (second, "wrong")):
        given = draw(problem, "Ada").given
        told = {"problem": problem.key, "set": 1, "text": "1", "state": state, "slips": []}
        journal.add("answer", **told, given=given)
    home = Home(folder, date(2100, 1, 1))
    assert home.due == [second, first] and home.going_on is STEEL.lesson("01")
    page = home._repr_html_()
    assert f"1 of {len(STEEL.lesson('01').problems)}" in page
    assert page.index(second.title) < page.index(first.title)
    assert "Ada" in page and "../exercises/01_charge_materials.ipynb" in page
