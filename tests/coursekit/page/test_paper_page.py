"""The page of a paper."""

from datetime import UTC, datetime

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.marking.exam import exam_text
from steelthermo.coursekit.page import Home, PaperPage
from steelthermo.coursekit.paper import FIRST, LAST
from steelthermo.coursekit.problems import draw
from steelthermo.coursekit.sheet import save_me

CODE = "00ff-12ab-9f3c"


@pytest.fixture
def folder(tmp_path):
    save_me(tmp_path, "Ada", "self-study")
    return tmp_path


def answer(page, right=10):
    for number, asked in enumerate(page.asked.values()):
        asked.answer.box.value = asked.draw.answer_text() if number < right else "1"
    return page


def test_no_check_and_no_mark_before_it_is_handed_in(folder):
    page = answer(PaperPage(FIRST, folder), 1)
    first, *_, last = page.asked.values()
    assert "Kept." in first.feedback.value and "Kept." in last.feedback.value
    first.answer.box.value = "about a lot"
    assert "holds no number" in first.feedback.value
    assert "right" not in page.result.value
    again = PaperPage(FIRST, folder)  # after a restart
    assert [a.answer.box.value for a in again.asked.values()][-1] == "1"
    first = next(iter(again.asked.values()))
    first.answer.box.value = first.draw.answer_text()
    last = list(again.asked.values())[-1]
    last.answer.box.value = " "  # taken out again: what stands there when it is handed in counts
    assert "Kept." in last.feedback.value
    again.end_button.click()
    assert "1 of 10 right, 1 not answered" in again.result.value and first.answer.box.disabled
    assert "Then count your right answers" in again.result.value
    assert "02_oxidation" in again.result.value
    assert "1 of 10 right" in PaperPage(FIRST, folder).result.value


def test_an_answer_left_out_is_called_so(folder):
    for key in (FIRST, LAST):
        page = PaperPage(key, folder)
        wrong, *_ = page.asked.values()
        wrong.answer.box.value = "1"
        page.end()
        assert page.result.value.count(">not right<") == (1 if key == FIRST else 3)
        assert page.result.value.count(">not answered<") == (9 if key == FIRST else 27)


def test_what_was_gained_stands_on_the_last_paper_and_on_the_map(folder):
    answer(PaperPage(FIRST, folder), 2).end()
    assert "First paper" not in Home(folder)._repr_html_()
    page = answer(PaperPage(LAST, folder), 9)
    page.end()
    assert "First paper 2, last paper 9 of 10 right" in page.result.value
    assert page.result.value.count(">gained<") == 7
    assert "First paper 2, last paper 9 of 10 right" in Home(folder)._repr_html_()


def exam(folder, *hours):
    times = [datetime(2026, 12, 1, h, tzinfo=UTC) for h in hours]
    problems = [STEEL.problem("charge_materials.kg_of_element"), STEEL.lesson("02").problems[-1]]
    (folder / "exam.toml").write_text(exam_text("Midterm", problems, CODE, *times))
    return PaperPage("exam", folder, lambda: datetime(2026, 12, 1, 12, tzinfo=UTC))


def test_an_exam_opens_by_its_code_in_its_time(folder):
    page = exam(folder, 11, 13)
    assert not page.asked and "type the code" in page.feedback.value
    page.code.value = "00ff-12ab-9f3d"
    page.code_button.click()
    assert not page.asked and "not the code" in page.feedback.value
    page.code.value = CODE.upper()
    page.code_button.click()
    number, line = page.asked.values()
    assert number.draw.given != draw(number.draw.problem, "Ada").given
    number.answer.box.value = number.draw.answer_text()
    line.answer.choice.value = line.draw.choice
    again = exam(folder, 11, 13)  # the code is asked once
    assert list(again.asked.values())[1].answer.choice.value == line.draw.choice
    again.end_button.click()
    assert "your trainer, who marks it" in again.feedback.value and not again.result.value


def test_an_exam_too_early_and_over(folder):
    for hours, told in (((13, 14), "opens at"), ((9, 10), "was open until")):
        page = exam(folder, *hours)
        page.code.value = CODE
        page.code_button.click()
        assert not page.asked and told in page.feedback.value


def test_without_its_file_there_is_no_exam(folder):
    assert "exam.toml" in PaperPage("exam", folder).feedback.value
