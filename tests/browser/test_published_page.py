"""Published data on the page: the checks of lesson 16, other data of a panel and a prediction by
keyboard alone, what is spoken, and no error in the kernel.
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
    expect(found.locator("tbody").first).to_contain_text("oxygen counts to the power 2.5")
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


def test_other_published_data_by_keyboard(sheet):
    """Lesson 08: sources opened and another value taken without a mouse; the sentence tells both
    results.
    """
    assert sheet.turn_to_and_run("lessons/08_heat_balance.ipynb") is True, sheet.error_outputs()
    panel = sheet.page.locator(".st-panel")
    menu, status = (
        panel.get_by_role("combobox", name="Published data to use"),
        panel.get_by_role("status"),
    )
    expect(menu).to_be_hidden()
    panel.get_by_role("button", name="Show sources").focus()
    sheet.page.keyboard.press("Enter")
    expect(menu).to_be_visible()
    sheet.page.keyboard.press("Tab")
    assert menu.evaluate("e => e === document.activeElement")  # the next stop
    sheet.page.keyboard.press("End")
    expect(status).to_contain_text("with the data chosen (")
    own, other = re.search(
        r"With the kit's own data: scrap in the charge ([\d.]+)\s%.*scrap in the charge "
        r"([\d.]+)\s%",
        status.inner_text(),
    ).groups()
    assert own != other and panel.locator("img.st-picture").get_attribute("alt").endswith(
        status.inner_text().splitlines()[0].strip()
    )
    expect(panel.get_by_text("Chosen instead of the kit's own")).to_be_visible()
    sheet.page.keyboard.press("Home")
    expect(status).not_to_contain_text("With the kit's own data")
    assert sheet.kernel_errors() == [] and sheet.page_errors == [] and sheet.offsite == []


def test_a_prediction_is_chosen_by_arrow_keys(lab, sheet):
    """The question before a panel: one tab stop, the choices by arrow keys, as radio buttons work
    everywhere.
    """
    lab.write(
        "predict.ipynb",
        'from steelthermo import course\ncourse.predict(course.panel("charge_materials"))',
    )
    assert sheet.turn_to_and_run("predict.ipynb") is True, sheet.error_outputs()
    choices = sheet.page.locator(".st-exercise input[type=radio]")
    expect(choices).to_have_count(3)
    choices.nth(0).focus()
    sheet.page.keyboard.press("ArrowDown")
    expect(choices.nth(1)).to_be_checked()
