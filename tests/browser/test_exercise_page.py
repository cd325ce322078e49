"""An exercise in a real browser: signed in and answered by keyboard, right, with a slip and in a
wrong unit; the notebook opened again shows the progress.
"""

import re
import sys

from harness import ROOT
from playwright.sync_api import expect

sys.path.insert(0, str(ROOT / "tests"))
from sample_problems import OXYGEN, PROBLEMS

from steelthermo.coursekit.problems import draw

LEARNER = "Zoë Tester"
CELL = f"""
import sys; sys.path.insert(0, {str(ROOT / "tests")!r})
from sample_problems import PROBLEMS
from steelthermo import course
from steelthermo.coursekit import Lesson
course.exercise(Lesson("99", "sample", "Does the page work?", PROBLEMS))
"""


def problem(sheet, number):
    return sheet.page.locator(".st-problem").nth(number)


def answer(sheet, number, text, expected):
    """Type into the box and press Enter, as fast as Playwright can."""
    box = problem(sheet, number).get_by_role("textbox")
    box.fill("")
    box.press_sequentially(text)
    box.press("Enter")
    said = problem(sheet, number).locator(".st-sentence")
    whole = f"{expected} You entered {text}." if expected in ("Right.", "Not yet.") else expected
    # the page parts the thousands of a long number, and keeps it beside its unit
    parted = re.sub(r"(?<=\d)(?=\d)", "\u202f?", re.escape(whole)).replace("\\ ", r"\s")
    expect(said).to_contain_text(re.compile(parted), timeout=10_000)
    assert said.get_attribute("aria-live") == "polite"
    return said.inner_text()


def clean(sheet):
    sheet.page.wait_for_timeout(300)
    assert (
        sheet.error_outputs() == []
        and sheet.kernel_errors() == []
        and sheet.offsite == []
        and sheet.page_errors == []
    )


def test_answers_and_progress(lab, sheet):
    lab.write("exercises/99_sample.ipynb", CELL)
    assert sheet.open_and_run("exercises/99_sample.ipynb") is True, sheet.error_outputs()
    name = sheet.page.get_by_label("Your name")
    name.press_sequentially(LEARNER)
    name.press("Enter")
    progress = sheet.page.locator(".st-exercise", has_text="problems solved")
    expect(progress).to_contain_text("0 of 6 problems solved", timeout=20_000)
    expect(sheet.page.locator(".st-problem")).to_have_count(len(PROBLEMS))

    own = {p.key: draw(p, LEARNER) for p in PROBLEMS}
    oxygen = own[OXYGEN.key]
    slip = answer(sheet, 0, f"{oxygen.slips['co2_for_co'][1]:.0f}", "Not yet.")
    assert "burnt the carbon to CO2" in slip and "16 for the mass of O2" in slip
    unit = answer(sheet, 0, f"{oxygen.number:.0f} m3", "Not yet.")
    assert "right in Nm3" in unit and "you wrote m3" in unit
    answer(sheet, 0, f"{oxygen.number:.1f}".replace(".", ",") + " Nm³", "Right.")
    expect(problem(sheet, 0)).to_contain_text("State: right. 3 attempts so far.")
    expect(progress).to_contain_text("1 of 6 problems solved")
    answer(sheet, 1, "five", "holds no number")

    faulty = problem(sheet, 3)
    faulty.get_by_role("radio", name=re.compile("^2")).check()
    faulty.get_by_role("button", name="Check").click()
    expect(faulty.locator(".st-sentence")).to_contain_text("Right.")

    ratio = problem(sheet, 1)
    before = ratio.inner_text()
    ratio.get_by_role("button", name="Hint").press("Enter")
    expect(ratio).to_contain_text("Try it first")
    answer(sheet, 1, f"{own[PROBLEMS[1].key].number + 1.0:.2f}", "Not yet.")
    ratio.get_by_role("button", name="Hint").press("Enter")
    expect(ratio).to_contain_text("Hint 1 of 2")
    ratio.get_by_role("button", name="Worked solution").press("Enter")
    expect(ratio).to_contain_text("then no longer counts")
    ratio.get_by_role("button", name="Show it").press("Enter")
    expect(ratio).to_contain_text("decimal logarithm")
    expect(ratio.get_by_role("textbox")).to_be_disabled()
    ratio.get_by_role("button", name="Another set").press("Enter")
    expect(ratio).to_contain_text("set 2")
    assert ratio.inner_text() != before
    second = draw(PROBLEMS[1], LEARNER, set=2)
    answer(sheet, 1, f"{second.number:.3f}", "Right.")
    clean(sheet)
    sheet.page.screenshot(path=str(lab.folder / "page.png"), full_page=True)

    assert sheet.open_and_run("exercises/99_sample.ipynb") is True
    expect(sheet.page.locator(".st-exercise", has_text="problems solved")).to_contain_text(
        "3 of 6 problems solved", timeout=20_000
    )
    expect(problem(sheet, 0)).to_contain_text("State: right. 3 attempts so far.")
    expect(problem(sheet, 1)).to_contain_text("set 2")
    clean(sheet)
    (kept,) = (lab.folder / "answers").glob("*.sheet.txt")
    assert (
        kept.read_bytes().count(b'"kind":"answer"') == 6
        and kept.read_bytes().count(b'"kind":"unreadable"') == 1
    )
