"""Lessons in a real browser, opened by the command: they run, the panel answers to the keyboard,
nothing fails unseen, nothing is fetched from elsewhere.

Controls first: notebooks made to fail show that each of these checks can fail.
"""

import re

import nbformat
import pytest
from harness import ROOT, opened
from playwright.sync_api import expect


def with_panel(path):
    return any(
        cell.cell_type == "code" and re.search(r"\bpanel\(", cell.source)
        for cell in nbformat.read(path, as_version=4).cells
    )


LESSONS_WITH_PANEL = [
    path.name for path in sorted((ROOT / "lessons").glob("*.ipynb")) if with_panel(path)
]

SAMPLED = LESSONS_WITH_PANEL[1::7]  # the others are as long as all tests of the browser together

PANEL = """
import io
import ipywidgets as widgets
from matplotlib.figure import Figure

figure = Figure(figsize=(3, 2)); (line,) = figure.add_subplot().plot([0, 1], [0, 0])
slider = widgets.IntSlider(2, 0, 9)
picture = widgets.Image(width=300, height=200); picture.add_class("st-picture")
sentence = widgets.HTML(); sentence.add_class("st-sentence")

def show(_=None):
    line.set_ydata([0, slider.value]); figure.axes[0].set_ylim(0, 9)
    png = io.BytesIO(); figure.savefig(png); picture.value = png.getvalue()
    sentence.value = f"The slider stands at {slider.value}."

show()
CONNECT
panel = widgets.VBox([slider, picture, sentence]); panel.add_class("st-panel")
panel
"""


def check_panels(sheet, timeout_ms=10_000):
    """Move the first slider of each panel by keyboard: its picture and its sentence must change.
    Tables to browse have no slider; see test_published_page.
    """
    panels = sheet.page.locator(".st-panel:has(img.st-picture):has([role=slider])")
    expect(panels.first).to_be_visible(timeout=timeout_ms)
    for panel in panels.all():
        picture, sentence = panel.locator("img.st-picture"), panel.locator(".st-sentence")
        expect(sentence).to_have_text(re.compile(r"\w"))
        source, text = picture.get_attribute("src"), sentence.inner_text()
        before, after = sheet.press("ArrowRight", 3, within=panel)
        assert after != before, f"the slider stayed at {before}"
        expect(picture).not_to_have_attribute("src", source, timeout=timeout_ms)
        expect(sentence).not_to_have_text(text, timeout=timeout_ms)


def check_clean(sheet):
    sheet.page.wait_for_timeout(300)  # an error in a callback comes after the picture
    assert sheet.error_outputs() == [] and sheet.kernel_errors() == []
    assert sheet.offsite == [] and sheet.page_errors == []
    assert sheet.page.get_by_text("Would you like to get notified").count() == 0


@pytest.fixture(scope="module")
def book(chromium, lab):
    """One page for all notebooks, each opened in it after the other."""
    lab.write("empty.ipynb", "")
    with opened(chromium, lab) as sheet:
        sheet.open("empty.ipynb")
        yield sheet


def test_control_a_sound_panel_passes(lab, book):
    lab.write(
        "controls/sound.ipynb", "1 + 1", PANEL.replace("CONNECT", "slider.observe(show, 'value')")
    )
    assert book.turn_to_and_run("controls/sound.ipynb") is True
    assert [o["data"]["text/plain"] for o in book.outputs()][0] == "2"
    check_panels(book)
    expect(book.page.locator(".st-sentence")).to_have_text("The slider stands at 5.")
    check_clean(book)


def test_control_an_error_in_a_cell_is_seen(lab, book):
    lab.write("controls/cell.ipynb", "1 / 0")
    assert book.turn_to_and_run("controls/cell.ipynb") is False
    assert book.error_outputs() == ["cell 0: ZeroDivisionError: division by zero"]


def test_control_an_error_in_a_callback_is_seen(lab, book):
    lab.write(
        "controls/callback.ipynb",
        PANEL.replace(
            "CONNECT",
            "slider.observe(show, 'value')\nslider.observe(lambda change: 1 / 0, 'value')",
        ),
    )
    assert book.turn_to_and_run("controls/callback.ipynb") is True
    check_panels(book)
    book.page.wait_for_function("() => window.kernelErrors.length > 0", timeout=10_000)
    assert set(book.kernel_errors()) == {"ZeroDivisionError: division by zero"}
    assert book.error_outputs() == []  # the cell itself looks fine


def test_control_a_dead_panel_is_seen(lab, book):
    lab.write("controls/dead.ipynb", PANEL.replace("CONNECT", ""))
    assert book.turn_to_and_run("controls/dead.ipynb") is True
    with pytest.raises(AssertionError, match="src"):
        check_panels(book, timeout_ms=1500)


def test_control_a_request_elsewhere_is_seen(lab, book):
    lab.write(
        "controls/elsewhere.ipynb",
        "from IPython.display import HTML\nHTML('<img src=\"http://picture.invalid/a.png\">')",
    )
    assert book.turn_to_and_run("controls/elsewhere.ipynb") is True
    book.page.wait_for_timeout(300)
    assert set(book.offsite) == {"http://picture.invalid/a.png"}


def test_the_command_opens_the_first_lesson(lab, sheet):
    """What the learner sees first: the first lesson in JupyterLab, without a question about news or
    updates in front of it.
    """
    first = min(path.name for path in (ROOT / "lessons").glob("*.ipynb"))
    sheet.page.goto(f"{lab.url}/?token=browser-test")
    expect(sheet.page.locator(".lm-TabBar-tabLabel", has_text=first).first).to_be_visible(
        timeout=60_000
    )
    sheet.page.wait_for_timeout(1500)
    assert sheet.page.locator(".jp-Dialog, .Toastify__toast").count() == 0
    assert sheet.offsite == []


def test_every_lesson_has_its_panel():
    """The list of those that are opened here, read from the notebooks, leaves none out."""
    assert LESSONS_WITH_PANEL == sorted(path.name for path in (ROOT / "lessons").glob("*.ipynb"))


@pytest.mark.parametrize("name", SAMPLED)
def test_lesson_with_its_panel(book, name):
    opened_and_moved(book, name)


@pytest.mark.long
@pytest.mark.parametrize("name", LESSONS_WITH_PANEL)
def test_each_lesson_with_its_panel(book, name):
    opened_and_moved(book, name)


def opened_and_moved(sheet, name):
    sheet.turn_to(f"lessons/{name}")
    still = sheet.page.locator(
        ".st-still img"
    ).first  # what is there before a cell has run, and for a reader without a kernel
    expect(still).to_be_visible()
    assert (
        still.evaluate("img => img.decode().then(() => img.naturalWidth)") > 100
        and len(still.get_attribute("alt")) > 40
    )
    assert sheet.run() is True, sheet.error_outputs()
    check_panels(sheet)
    check_clean(sheet)
