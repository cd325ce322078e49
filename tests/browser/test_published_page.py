"""The checks of lesson 16 on the page: menus and search by keyboard alone, what is spoken, and no
error in the kernel.
"""

import re

import pytest
from harness import opened
from playwright.sync_api import expect

CELL = "from steelthermo import course\ncourse.published_values()"


@pytest.fixture(scope="module")
def sheet(chromium, lab):
    lab.write("published.ipynb", CELL)
    with opened(chromium, lab) as page:
        assert page.open_and_run("published.ipynb") is True, page.error_outputs()
        yield page


def test_checks_are_browsed_by_keyboard(sheet):
    """JupyterLab binds arrow keys and letters to its own commands; in a menu of the table they must
    choose.
    """
    keys, found = sheet.page.keyboard, sheet.page.locator(".st-pages")
    status = found.get_by_role("status")
    expect(status).to_contain_text("Rows 1 to 20")
    found.get_by_label("Verdict", exact=True).focus()
    keys.press("ArrowDown")
    expect(status).to_contain_text(" 0 disagree")
    keys.press("ArrowDown")
    expect(status).to_contain_text(" 0 agree")
    box = found.get_by_label("Search words (press Enter)")
    box.fill("phosphate capacity")
    keys.press("Enter")
    expect(status).to_contain_text("1 row fits")
    expect(found.locator("tbody")).to_contain_text("oxygen counts to the power 2.5")
    found.get_by_role("button", name="Show all rows").focus()
    keys.press("Enter")
    expect(status).to_contain_text("Rows 1 to 20")
    later = found.get_by_role("button", name="Later rows")
    expect(later).to_be_enabled()
    later.focus()
    keys.press("Enter")
    expect(status).to_contain_text("Rows 21 to 40")
    expect(found.locator("img.st-picture")).to_have_attribute(
        "alt", re.compile("Every check as a mark")
    )
    assert sheet.kernel_errors() == [] and sheet.page_errors == [] and sheet.offsite == []


def test_a_prediction_is_chosen_by_arrow_keys(chromium, lab):
    """The question before a panel: one tab stop, the choices by arrow keys, as radio buttons work
    everywhere.
    """
    lab.write(
        "predict.ipynb",
        'from steelthermo import course\ncourse.predict(course.panel("charge_materials"))',
    )
    with opened(chromium, lab) as sheet:
        assert sheet.open_and_run("predict.ipynb") is True, sheet.error_outputs()
        choices = sheet.page.locator(".st-exercise input[type=radio]")
        expect(choices).to_have_count(3)
        choices.nth(0).focus()
        sheet.page.keyboard.press("ArrowDown")
        expect(choices.nth(1)).to_be_checked()
