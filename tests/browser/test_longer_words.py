"""Panels, exercises and printed pages in a language that nobody speaks, whose texts are 40 % longer
(tests/tools/pseudo.py): nothing is cut off, nothing has to be scrolled sideways.
"""

import os
import subprocess
import sys
from pathlib import Path

import pseudo
import pytest
from harness import jupyterlab, opened
from playwright.sync_api import expect

from steelthermo.base import LANGUAGE

pytestmark = pytest.mark.long
PANELS = ("start_here", "order_of_oxidation", "heat_balance", "end_point")
EXERCISES = (
    'course.exercise("end_point")',
    "course.heat_sheet()",
    "course.drill()",
    'course.planning_sheet("08")',
    'course.ask("end_point", "notice")',
)

# Labels, buttons, menus, sentences and tables of a panel that are wider or higher than their place
CUT = """panel => [...panel.querySelectorAll(
  '.widget-label, button, .widget-html-content, .st-row, .st-buttons, .st-controls')]
  .filter(e => e.offsetParent !== null && getComputedStyle(e).overflowX !== 'auto'
    && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 2))
  .map(e => e.className + ': ' + e.textContent.slice(0, 60))"""


# Pages to print, written in the language of the environment into the folder named
WRITE = """
import pathlib, sys
import make_class
from steelthermo import course
from steelthermo.coursekit import marking
out, problems = pathlib.Path(sys.argv[1]), course.steel().problems
make_class.make(out / "class", problems, 12, 3)
draws = marking.draws_for(["Ada Lind"], problems=problems[:20])
pages = {
    "card": course.visit_card_html(),
    "glossary": course.glossary_html(),
    "planning_sheet": course.planning_sheet_html(),
    "formulas": course.formula_sheet_html(),
    "sheets": marking.problem_sheets_html(draws),
    "key": marking.answer_key_html(draws, "COURSE"),
    "report": marking.mark(out / "class").html,
}
for name, page in pages.items():
    (out / f"{name}.html").write_text(page, encoding="utf-8")
"""
# What runs out of its picture
OUTSIDE = """() => [...document.querySelectorAll('svg text')].filter(e => {
    const text = e.getBoundingClientRect(), all = e.ownerSVGElement.getBoundingClientRect();
    return text.left < all.left - 1 || text.right > all.right + 1 })
  .map(e => e.textContent)"""


@pytest.mark.parametrize("longer", [False, True])
def test_printed_pages_fit_their_paper(chromium, tmp_path, longer):
    tools = Path(pseudo.__file__).parent
    env = os.environ | {"PYTHONPATH": os.pathsep.join((str(tools), str(tools.parents[1])))}
    if longer:
        pseudo.write(tmp_path / "pseudo.po")
        env[LANGUAGE] = str(tmp_path / "pseudo.po")
    subprocess.run([sys.executable, "-c", WRITE, str(tmp_path)], env=env, check=True)
    paths = sorted(tmp_path.glob("*.html"))
    assert len(paths) == 7
    for path in paths:
        width = 1040 if path.stem == "sheets" else 720  # px of A4 within its margins
        page = chromium.new_page(viewport={"width": width, "height": 1000})
        page.emulate_media(media="print")
        page.set_content(path.read_text(encoding="utf-8"))
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path.stem
        assert page.evaluate(OUTSIDE) == [], path.stem
        page.close()


@pytest.fixture(scope="module")
def sheet(chromium, tmp_path_factory):
    folder = tmp_path_factory.mktemp("longer")
    pseudo.write(folder / "pseudo.po")
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv(LANGUAGE, str(folder / "pseudo.po"))
        with jupyterlab(folder / "mine") as lab:
            lab.write(
                "panels.ipynb",
                "from steelthermo import course",
                *(f"course.panel({name!r})" for name in PANELS),
            )
            lab.write("exercises.ipynb", "from steelthermo import course", *EXERCISES)
            with opened(chromium, lab) as page:
                yield page


@pytest.mark.parametrize("width,height", [(1366, 768), (683, 768)])
def test_nothing_is_cut_off(sheet, width, height):
    """The second size is the first at 200 % zoom."""
    assert sheet.open_and_run("panels.ipynb") is True, sheet.error_outputs()
    sheet.page.set_viewport_size({"width": width, "height": height})
    panels = sheet.page.locator(".st-panel")
    assert panels.count() == len(PANELS)
    for panel in panels.all():
        panel.scroll_into_view_if_needed()
        for button in panel.locator(".st-buttons button").all()[1:]:
            if "Shów" in button.inner_text():
                button.click()
        assert panel.evaluate("e => e.scrollWidth - e.clientWidth") <= 1
        assert panel.evaluate(CUT) == []
    assert sheet.kernel_errors() == [] and sheet.page_errors == []


# What of an exercise is wider than its place, and buttons of choices that left their words' line
CUT_OF_EXERCISE = """page => [
  ...[...page.querySelectorAll('.widget-label, button, .widget-html-content, .st-row, .st-problem, '
      + '.widget-htmlmath-content, .widget-radio-box label')]
    .filter(e => e.offsetParent !== null && e.scrollWidth > e.clientWidth + 1),
  ...[...page.querySelectorAll('.widget-radio-box label')].filter(e => e.offsetParent !== null
    && e.querySelector('input').getBoundingClientRect().top - e.getBoundingClientRect().top > 16)
].map(e => e.className + ': ' + e.textContent.slice(0, 60))"""


def test_nothing_is_cut_off_an_exercise(sheet):
    assert sheet.open_and_run("exercises.ipynb") is True, sheet.error_outputs()
    pages = sheet.page.locator(".st-exercise")
    name = pages.first.locator("input[type=text]").first
    name.press_sequentially("Zoë Tester")
    name.press("Enter")
    expect(pages.first.locator(".st-problem")).to_have_count(11, timeout=30_000)
    for width in (1366, 683):
        sheet.page.set_viewport_size({"width": width, "height": 768})
        assert pages.count() >= len(EXERCISES)
        for page in pages.all():
            page.scroll_into_view_if_needed()
            for button in page.locator("button:visible", has_text="Hínt").all():
                button.click()
            assert page.evaluate("e => e.scrollWidth - e.clientWidth") <= 1
            assert page.evaluate(CUT_OF_EXERCISE) == []
    assert sheet.kernel_errors() == [] and sheet.page_errors == []
