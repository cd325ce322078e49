"""The pages beside lessons and exercises in a real browser, one learner on each: first and last
paper, what comes back today, planning sheet and case drill.
"""

import re

import pytest
from harness import opened
from playwright.sync_api import expect

from steelthermo.course import steel
from steelthermo.course.l08_heat_balance.chain import PlanSheet
from steelthermo.coursekit.paper import paper
from steelthermo.coursekit.sheet import Journal, load_course, save_me

LEARNER = "Zoë Tester"
CELL = "from steelthermo import course\ncourse.{call}"


@pytest.fixture(scope="module")
def book(chromium, lab):
    """One page for all, with somebody signed in."""
    steel()
    save_me(lab.folder, LEARNER, load_course(lab.folder).key)
    lab.write("empty.ipynb", "")
    with opened(chromium, lab) as sheet:
        sheet.open("empty.ipynb")
        yield sheet


@pytest.fixture
def journal(lab):
    return Journal(lab.folder, LEARNER, load_course(lab.folder).key)


def turned(book, lab, call):
    """The page that a call shows, in the folder of exercises."""
    lab.write("exercises/a_page.ipynb", CELL.format(call=call))
    assert book.turn_to_and_run("exercises/a_page.ipynb") is True, book.error_outputs()
    expect(book.page.locator(".st-problem").first).to_be_visible(timeout=20_000)
    return book.page


def clean(book):
    book.page.wait_for_timeout(300)
    assert book.error_outputs() == [] and book.kernel_errors() == []
    assert book.offsite == [] and book.page_errors == []


@pytest.mark.parametrize("which", ["first", pytest.param("last", marks=pytest.mark.long)])
def test_a_paper_is_handed_in(book, lab, journal, which):
    page = turned(book, lab, f'paper("{which}")')
    draws = list(paper(which).draws(LEARNER, journal.course))
    expect(page.locator(".st-problem")).to_have_count(len(draws))
    for number, one in enumerate(draws[:3]):
        box = page.locator(".st-problem").nth(number).get_by_role("textbox")
        box.fill(one.answer_text() if number < 2 else "1")
        box.press("Tab")
        expect(page.locator(".st-problem").nth(number)).to_contain_text("Kept.")
    page.get_by_role("button", name="Finish this paper").click()
    expect(page.locator(".st-exercise")).to_contain_text("2 of 10 right", timeout=20_000)
    expect(page.locator(".st-problem").first.get_by_role("textbox")).to_be_disabled()
    clean(book)


def test_what_was_wrong_comes_back_today(book, lab, journal):
    problem = steel().problem("oxidation_heat.per_kg")
    told = {"problem": problem.key, "set": 1, "text": "1", "state": "wrong", "slips": []}
    journal.add("answer", **told, given={})
    page = turned(book, lab, "today()")
    expect(page.locator(".st-exercise")).to_contain_text("0 of 1 done today")
    box = page.locator(".st-problem").get_by_role("textbox")
    box.fill("-5")
    box.press("Enter")
    expect(page.locator(".st-problem .st-sentence")).to_contain_text("Not yet.", timeout=20_000)
    assert page.get_by_role("link", name=re.compile("^Lesson 02: ")).count() == 1
    clean(book)


def test_a_line_of_the_planning_sheet(book, lab, journal):
    page = turned(book, lab, 'planning_sheet("01")')
    mirror = PlanSheet(LEARNER, journal.course)
    right = f"{float(mirror.next.right(mirror.state)):.5g}"
    sheet = page.locator(".st-problem")
    sheet.get_by_role("textbox").fill(right)
    sheet.get_by_role("button", name="Check").click()
    expect(sheet.locator(".st-sentence")).to_contain_text("Right", timeout=20_000)
    sheet.get_by_role("button", name="Carry on with this").click()
    expect(sheet).to_contain_text("Entered so far", timeout=20_000)
    clean(book)


@pytest.mark.long
def test_two_cases_of_the_drill(book, lab):
    page = turned(book, lab, "drill()")
    sheet = page.locator(".st-problem")
    for number in (1, 2):
        title = sheet.locator("h3").first.inner_text()
        sheet.get_by_role("radio").first.check()
        sheet.get_by_role("button", name="Carry on with this").click()
        expect(sheet.locator("h3").first).not_to_have_text(title, timeout=20_000)
        expect(sheet.locator(".st-more tr")).to_have_count(number + 1)
    assert sheet.get_by_role("button", name="Check").count() == 0  # a decision is not tried first
    clean(book)
