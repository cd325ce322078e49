"""The page that shows where a learner stands."""

from datetime import date
from html import escape

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import Home
from steelthermo.coursekit.problems import draw
from steelthermo.coursekit.sheet import Journal, save_me, standings


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


def test_how_far_each_problem_is(ada):
    """Right at once on two days is mastered, right once solved, wrong tried; what a course adds
    stands below.
    """
    folder, journal = ada
    sure, once, wrong, new = STEEL.lesson("01").problems[:4]
    records = []
    for problem, number, state, day in (
        (sure, 1, "right", "2026-01-05"),
        (sure, 2, "right", "2026-01-09"),
        (once, 1, "right", "2026-01-05"),
        (wrong, 1, "wrong", "2026-01-05"),
    ):
        given = draw(problem, "Ada", set=number).given
        told = {"problem": problem.key, "set": number, "text": "1", "state": state, "slips": []}
        journal.add("answer", **told, given=given)
        records.append(journal.records[-1] | {"t": f"{day}T10:00:00+00:00"})
    home = Home(folder, date(2026, 2, 1), more=[("Words of the trade", "<p>tundish</p>")])
    home.records, home.standings = records, standings(records)
    page = home._repr_html_()
    said = dict.fromkeys((sure, once, wrong, new))
    for problem in said:
        said[problem] = page.partition(f"<li>{escape(problem.title)}: ")[2].partition("</li>")[0]
    assert list(said.values()) == ["mastered", "solved", "tried", "not tried yet"]
    assert "<summary>2 of" in page and "1 mastered" in page
    assert "<summary>Words of the trade</summary><p>tundish</p>" in page
