"""The heat sheet of exercise 15 in a real browser, from the name to the sign-off page, with a works
profile of another works in the folder.

Run by hand for every works that ships, with screenshots: python
tests/browser/test_heat_sheet_page.py FOLDER
"""

import re
import sys
import tempfile
from pathlib import Path

from harness import browser, jupyterlab, opened
from playwright.sync_api import expect

from steelthermo.app.works_file import annotated
from steelthermo.course.l15_whole_heat.entries import ENTRIES
from steelthermo.course.l15_whole_heat.sheet import HeatSheet
from steelthermo.works import profile as plant

LEARNER = "Zoë Tester"


def fill(page, works, oxygen=1.0, shots=None):
    """Fill the sheet on the page with right entries, the oxygen times a factor; returns the
    HeatSheet that mirrors it.
    """
    name = page.get_by_label("Your name")
    name.press_sequentially(LEARNER)
    name.press("Enter")
    mirror = HeatSheet(LEARNER, works=works)
    sheet = page.locator(".st-problem")
    while mirror.next:
        entry, value = mirror.next, mirror.next.right(mirror.state)
        expect(sheet.locator("h3").first).to_contain_text(entry.title, timeout=20_000)
        if entry.choice:
            text = str(int(value))
            sheet.get_by_role("radio", name=re.compile(f"^{text}: ")).check()
        else:
            text = f"{float(value) * (oxygen if entry.key == 'oxygen' else 1.0):.5g}"
            sheet.get_by_role("textbox").fill(text)
        if entry.key == "magnesium":
            sheet.get_by_role("button", name="Check").click()
            expect(sheet.locator(".st-sentence")).to_contain_text("Right")
        sheet.get_by_role("button", name="Carry on with this").click()
        mirror.carry_on(text)
        if shots and entry.key in ("scrap", "coolant"):
            page.wait_for_timeout(800)
            page.screenshot(path=f"{shots}_{entry.key}.png")
    expect(sheet.locator("h3").first).to_contain_text("looked back", timeout=20_000)
    return mirror


def sign_off(page, folder):
    """Press the button, and read the page it writes."""
    page.get_by_role("button", name="Write my sign-off page").click()
    expect(page.locator(".st-problem .st-sentence").last).to_contain_text("Written", timeout=20_000)
    (written,) = (folder / "answers").glob("sign-off-*.html")
    return written.read_text(encoding="utf-8")


def walk(chromium, folder, works, shots=None):
    folder.mkdir(parents=True, exist_ok=True)
    (folder / plant.PROFILE_FILE).write_text(annotated(works), encoding="utf-8")
    profile = plant.load_profile(works)
    with jupyterlab(folder) as lab, opened(chromium, lab, height=900) as sheet:
        assert sheet.open_and_run("exercises/15_whole_heat.ipynb") is True, sheet.error_outputs()
        mirror = fill(sheet.page, profile, 0.985, shots)
        text = sign_off(sheet.page, folder)
        assert (
            profile.name in text
            and (
                f"{len(ENTRIES) - (not mirror.verdicts['oxygen'].done)} of {len(ENTRIES)} entries "
                "right"
            )
            in text
        )
        assert "the steel meets its specification" in text
        sheet.page.wait_for_timeout(300)
        assert (
            sheet.error_outputs() == []
            and sheet.kernel_errors() == []
            and sheet.offsite == []
            and sheet.page_errors == []
        )
        if shots:
            sheet.page.screenshot(path=f"{shots}_end.png")
    return text


def test_a_heat_from_the_name_to_the_sign_off_page(chromium, tmp_path):
    """A small vessel with much phosphorus, too little oxygen blown: the heat is blown again, ends
    in its specification and is signed off.
    """
    walk(chromium, tmp_path / "a works", "dunlin")


if __name__ == "__main__":
    out = Path(sys.argv[1])
    with browser() as found:
        for name in plant.WORKS:
            print(
                name,
                len(walk(found, Path(tempfile.mkdtemp()) / "a works", name, out / name)),
                "bytes of sign-off page",
            )
