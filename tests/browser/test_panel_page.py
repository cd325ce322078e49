"""The panel framework on the page: names for screen readers, keyboard, typed values, density, small
windows, both themes, and reopening without a kernel.
"""

import io
import json
import re
import sys
import urllib.request

import nbformat
import pytest
from harness import ROOT, TOKEN, opened
from PIL import Image
from playwright.sync_api import expect

sys.path.insert(0, str(ROOT / "tests" / "tools"))
from save_notebooks import plain

CELL = (
    f"import sys; sys.path.insert(0, {str(ROOT / 'tests')!r}); from sample_panel import sample; "
    "p = sample()\np"
)
CAPTIONS = [
    "Carbon at the start, %",
    "Temperature at the start, °C",
    "Oxygen flow, Nm3/min",
    "Heat lost, %",
]
# Contrast of every text in the panel with what is behind it, by the formula of WCAG 2.1 (relative
# luminance, contrast ratio)
FAINT = """() => {
  const lum = c => { const v = c.match(/[\\d.]+/g).slice(0, 3)
    .map(x => { x /= 255; return x <= 0.03928 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4 });
                     return 0.2126 * v[0] + 0.7152 * v[1] + 0.0722 * v[2] };
  const ground = e => { for (; e; e = e.parentElement) {
    const c = getComputedStyle(e).backgroundColor; if (!/, 0\\)/.test(c)) return c; }
                        return 'rgb(255, 255, 255)' };
  const out = [];
  for (const e of document.querySelectorAll('.st-panel *')) {
    if (!e.offsetParent || !([...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())
      || e.tagName === 'INPUT')) continue;
    const [a, b] = [lum(getComputedStyle(e).color), lum(ground(e))].sort((x, y) => x - y),
      ratio = (b + 0.05) / (a + 0.05);
    if (ratio < 4.5)
      out.push(ratio.toFixed(1) + ' ' + e.tagName + ' ' + e.textContent.slice(0, 30));
  }
  return out }"""


@pytest.fixture(scope="module")
def sheet(chromium, lab):
    """One page with the sample panel for all tests here; the last ones take its kernel away."""
    lab.write("panel.ipynb", CELL)
    with opened(chromium, lab) as page:
        assert page.open_and_run("panel.ipynb") is True, page.error_outputs()
        expect(page.page.get_by_role("slider", name=CAPTIONS[0])).to_be_visible()
        yield page


@pytest.fixture
def panel(sheet):
    """The sample panel on the page of `sheet`, at its defaults."""
    found = sheet.page.locator(".st-panel")
    found.get_by_role("button", name="Reset").click()
    expect(found.get_by_role("status")).to_contain_text("0.267 % carbon")
    yield found
    assert sheet.kernel_errors() == [] and sheet.page_errors == [] and sheet.offsite == []


def test_names_for_screen_readers(sheet, panel):
    assert [s.get_attribute("aria-label") for s in panel.get_by_role("slider").all()] == CAPTIONS
    for caption in CAPTIONS:
        expect(panel.get_by_role("textbox", name=caption)).to_be_visible()
    expect(panel.get_by_role("combobox", name="Vessel")).to_be_visible()
    expect(sheet.page.get_by_role("group", name="What is left after the blow?")).to_be_visible()
    region = panel.get_by_role("status")
    assert region.get_attribute("aria-live") == "polite" and "carbon is left" in region.inner_text()
    picture = panel.locator("img.st-picture")
    expect(picture).to_have_attribute("alt", re.compile(r"five falling lines.*0.267\s%\scarbon"))
    expect(sheet.page.locator(".st-still")).to_be_hidden()  # one picture, not two
    region.evaluate("e => { e.mark = 1 }")
    sheet.press("ArrowRight", within=panel)
    expect(picture).to_have_attribute("alt", re.compile(r"0.270\s%\scarbon"))
    assert region.evaluate("e => e.mark") == 1  # the same region speaks again
    expect(panel.get_by_role("slider").first).to_have_attribute("aria-valuetext", "4.35")


def test_tab_order_and_keys(sheet, panel):
    panel.get_by_role("textbox", name=CAPTIONS[0]).focus()
    seen = []
    for _ in range(11):
        seen.append(
            sheet.page.evaluate(
                "e => (e = document.activeElement, e.getAttribute('aria-label') || (e.labels && "
                "e.labels[0] || e).textContent)"
            )
        )
        sheet.page.keyboard.press("Tab")
    assert seen == [c for c in CAPTIONS for _ in (0, 1)] + ["Vessel", "Reset", "Show numbers"]
    slider = panel.get_by_role("slider").first
    slider.focus()
    for key, value in (
        ("Home", "3.5"),
        ("ArrowRight", "3.55"),
        ("ArrowUp", "3.6"),
        ("ArrowLeft", "3.55"),
        ("End", "4.9"),
    ):
        sheet.page.keyboard.press(key)
        expect(slider).to_have_attribute("aria-valuetext", value)
    expect(panel.get_by_role("textbox", name=CAPTIONS[0])).to_have_value("4.90")


def test_typed_values_and_words(sheet, panel):
    box, status, picture = (
        panel.get_by_role("textbox", name=CAPTIONS[1]),
        panel.get_by_role("status"),
        panel.locator("img.st-picture"),
    )
    box.fill("1342,5")
    box.press("Enter")
    expect(status).to_contain_text("1634 °C")
    expect(box).to_have_value("1342.5")
    sheet.page.wait_for_timeout(
        500
    )  # the slider cannot stand there and must not pull the value to its step
    expect(box).to_have_value("1342.5")
    source = picture.get_attribute("src")
    for text, words in (
        ("hot", "'hot' was given"),
        ("1700", "1700 °C was given; allowed here is 1250 to 1450 °C"),
    ):
        box.fill(text)
        box.press("Enter")
        expect(status).to_contain_text(words)
        expect(status).to_contain_text("last good case")
    assert picture.get_attribute("src") == source
    panel.get_by_role("button", name="Reset").click()
    expect(box).to_have_value("1340")
    expect(status).to_contain_text("0.267 %")


def test_parts_on_demand_and_a_case(sheet, panel):
    panel.get_by_role("button", name="Show numbers").click()
    expect(panel.get_by_role("row", name="Carbon at the end 0.26736 %")).to_be_visible()
    panel.get_by_role("button", name="Show sources").click()
    expect(panel.get_by_role("listitem").filter(has_text="gas_constant")).to_be_visible()
    panel.get_by_role("button", name="Show case to share").click()
    case = panel.get_by_role("textbox", name=re.compile("This case"))
    expect(case).to_have_value(re.compile("^sample: start_c_pct=4.30; "))
    case.fill("sample: start_c_pct=4.00; vessel=small")
    case.press("Enter")
    expect(panel.get_by_role("slider").first).to_have_attribute("aria-valuetext", "4")
    expect(panel.get_by_role("row", name="Vessel small")).to_be_visible()
    case.fill("sample: vessel=tiny")
    case.press("Enter")
    expect(panel.get_by_role("status")).to_contain_text("choose small or large")
    for part in ("numbers", "case to share", "sources"):
        panel.get_by_role("button", name=f"Hide {part}").click()
    expect(case).to_be_hidden()


def test_a_held_key_leaves_nothing_behind(sheet, panel):
    slider = panel.get_by_role("slider").first
    slider.focus()
    sheet.page.keyboard.press("Home")
    for _ in range(20):
        sheet.page.keyboard.down("ArrowRight")
        sheet.page.wait_for_timeout(20)
    sheet.page.keyboard.up("ArrowRight")
    expect(slider).to_have_attribute("aria-valuetext", "4.5")
    expect(panel.get_by_role("textbox", name=CAPTIONS[0])).to_have_value("4.50")
    expect(panel.get_by_role("status")).to_contain_text("0.280 %")


@pytest.mark.parametrize("theme", ["JupyterLab Light", "JupyterLab Dark"])
def test_contrast_in_the_themes(sheet, panel, theme):
    sheet.page.evaluate(
        "async theme => { await jupyterapp.commands.execute('apputils:change-theme', { theme }) }",
        theme,
    )
    sheet.page.wait_for_timeout(800)
    for part in ("numbers", "case to share", "sources"):
        if panel.get_by_role("button", name=f"Show {part}").count():
            panel.get_by_role("button", name=f"Show {part}").click()
    expect(panel.get_by_role("listitem").filter(has_text="gas_constant")).to_be_visible()
    panel.get_by_role("textbox", name=CAPTIONS[1]).fill("hot")
    panel.get_by_role("textbox", name=CAPTIONS[1]).press("Enter")
    expect(panel.get_by_role("status")).to_contain_text("'hot'")
    assert sheet.page.evaluate(FAINT) == []
    shown = Image.open(io.BytesIO(panel.locator("img.st-picture").screenshot())).convert("L")
    assert (shown.getpixel((4, 4)) < 40) == (theme == "JupyterLab Dark")  # the picture goes with it
    panel.get_by_role("status").evaluate(
        "e => { e.style.color = '#888' }"
    )  # control: grey on the theme's ground is noticed in one of them
    assert (sheet.page.evaluate(FAINT) != []) == (theme == "JupyterLab Light")
    panel.get_by_role("status").evaluate("e => { e.style.color = '' }")


def test_small_windows_and_dense_screens(chromium, lab, sheet, panel):
    page = sheet.page
    sees = "e => [e.naturalWidth, e.width]"
    assert panel.locator("img.st-picture").evaluate(sees) == [760, 760]
    page.set_viewport_size({"width": 1280, "height": 720})
    panel.evaluate("e => e.scrollIntoView({ block: 'start' })")
    top, status = (
        panel.locator(".st-controls").bounding_box()["y"],
        panel.get_by_role("status").bounding_box(),
    )
    assert (
        top >= 0 and status["y"] + status["height"] <= 720 - 24
    )  # controls, picture and sentence together, above the status bar
    context = chromium.new_context(
        viewport={"width": 640, "height": 360}, device_scale_factor=2
    )  # 1280 x 720 at 200 %
    try:
        page = context.new_page()
        page.goto(f"{lab.url}/doc/tree/panel.ipynb?token={TOKEN}&reset")
        page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60_000)
        page.evaluate("async () => { await jupyterapp.shell.currentWidget.sessionContext.ready }")
        page.evaluate("async () => { await jupyterapp.commands.execute('notebook:run-all-cells') }")
        page.wait_for_function(
            "() => { const i = document.querySelector('img.st-picture'); return i && "
            "i.naturalWidth === 1520 }",
            timeout=30_000,
        )
        panel, frame = page.locator(".st-panel"), page.locator(".st-frame")
        # letters no smaller than at 100 %, and only the picture is scrolled, by keyboard too
        assert panel.evaluate("e => e.scrollWidth - e.clientWidth") == 0
        assert frame.evaluate(
            "e => e.querySelector('img').width >= 540 && e.scrollWidth > e.clientWidth"
        )
        frame.focus()
        page.keyboard.press("ArrowRight")
        page.wait_for_function("() => document.querySelector('.st-frame').scrollLeft > 0")
    finally:
        context.close()


def shut_down(lab):
    def ask(method, path):
        request = urllib.request.Request(
            f"{lab.url}/{path}", method=method, headers={"Authorization": f"token {TOKEN}"}
        )
        with urllib.request.urlopen(request, timeout=20) as answer:
            return answer.read()

    for session in json.loads(ask("GET", "api/sessions")):
        ask("DELETE", f"api/sessions/{session['id']}")


def test_a_stopped_kernel_is_told(sheet, panel):
    sheet.page.evaluate("async () => { await jupyterapp.shell.currentWidget.context.save() }")
    sheet.page.evaluate(
        "async () => { await "
        "jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart() }"
    )
    sheet.page.wait_for_function(
        "() => /has stopped/.test(getComputedStyle(document.querySelector('.st-panel'), "
        "'::after').content)",
        timeout=20_000,
    )
    expect(panel.locator("img.st-picture")).to_be_visible()
    expect(sheet.page.locator(".st-still")).to_be_hidden()  # one picture, not two


def test_reopened_without_its_kernel(chromium, lab, sheet):
    shut_down(lab)
    notebook = nbformat.read(lab.folder / "panel.ipynb", as_version=4)
    nbformat.write(
        plain(notebook), lab.folder / "shipped.ipynb"
    )  # as lessons are saved; never run here, so not trusted
    with opened(chromium, lab) as again:
        for show, name in ((again.open, "panel.ipynb"), (again.turn_to, "shipped.ipynb")):
            show(name)
            still = again.page.locator(".st-still")
            expect(still).to_contain_text("Run All Cells", timeout=20_000)
            expect(still.get_by_role("img", name=re.compile("five falling lines"))).to_be_visible()
            assert still.locator("img").evaluate("e => e.naturalWidth") > 700
            again.page.wait_for_timeout(1500)
            assert "not found" not in again.page.locator(".jp-Notebook").inner_text()
            assert again.page.locator(".st-panel").count() == 0
