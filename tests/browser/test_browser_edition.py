"""The lessons in a browser with nothing installed: opened, a slider moved, a problem answered, the
page left and opened again. Needs the extra [site], and a Pyodide 0.27 named by the variable
STEELTHERMO_PYODIDE (an archive, a wheel that holds one, or a folder). Marked long.
"""

import functools
import http.server
import importlib.util
import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from firefox import firefox
from harness import LISTEN, NoBrowser, browser
from playwright.sync_api import expect

from steelthermo.coursekit.sheet import read_sheet

pytestmark = pytest.mark.long
ROOT = Path(__file__).resolve().parents[2]
LESSONS = sorted(p.stem for p in (ROOT / "lessons").glob("*.ipynb"))
# exam.ipynb waits for its file, today.ipynb for what was wrong
EXERCISES = sorted({p.stem for p in (ROOT / "exercises").glob("*.ipynb")} - {"trainer"})
STATUS = "() => window.jupyterapp?.shell.currentWidget?.sessionContext?.kernelDisplayStatus"
RUN = """() => { window.ranAll = undefined;
  window.jupyterapp.commands.execute('notebook:run-all-cells').then(
  r => { window.ranAll = r }, e => { window.ranAll = String(e) }) }"""
# what a lesson shows in red; that a result is extrapolated is a part of some
OUTPUTS = """() => window.jupyterapp.shell.currentWidget.content.model.toJSON().cells.flatMap(
  c => c.outputs || []).filter(o => o.output_type === 'error' || o.name === 'stderr')
  .filter(o => !(o.text || '').includes('ExtrapolationWarning'))
  .map(o => o.evalue || o.text)"""
# what a learner gets by Download
FILE = """async path => { const { contents } = window.jupyterapp.serviceManager;
  return (await fetch(await contents.getDownloadUrl(path))).text() }"""
LIST = """async path => (await window.jupyterapp.serviceManager.contents.get(path,
  {content: true})).content.map(f => f.path)"""


class _Quiet(http.server.SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_):
        pass


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The pages, built."""
    runtime = os.environ.get("STEELTHERMO_PYODIDE")
    if not runtime:
        pytest.skip("no Pyodide is named by the variable STEELTHERMO_PYODIDE")
    if importlib.util.find_spec("jupyterlite_core") is None:
        pytest.skip("the extra [site] is not installed")
    folder = tmp_path_factory.mktemp("site")
    command = [sys.executable, "-m", "steelthermo", "site", "browser"]
    done = subprocess.run(
        [*command, "--out", str(folder), "--runtime", runtime],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    size = sum(f.stat().st_size for f in folder.rglob("*") if f.is_file())
    assert size < 60e6
    return folder / "try"


@pytest.fixture(scope="module")
def address(folder):
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(_Quiet, directory=folder)
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()


@pytest.fixture
def page(address):
    """A page of a browser that has never been here; whatever it asks of other servers fails the
    test.
    """
    with browser() as chromium:
        context = chromium.new_context(viewport={"width": 1280, "height": 1300})
        page, asked = context.new_page(), []
        page.on("request", lambda r: asked.append(r.url))
        yield page
        elsewhere = [u for u in asked if not u.startswith((address, "data:", "blob:"))]
        assert not elsewhere


def run(page, address, name):
    """Open a notebook, run all cells; seconds until it is shown, ready and done."""
    start, times = time.monotonic(), []
    page.goto(f"{address}/notebooks/index.html?path={name}.ipynb")
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60000)
    times.append(time.monotonic() - start)
    page.wait_for_function(f"() => ({STATUS})() === 'idle'", timeout=90000)
    times.append(time.monotonic() - start)
    page.evaluate(RUN)
    page.wait_for_function("() => window.ranAll !== undefined", timeout=120000)
    times.append(time.monotonic() - start)
    assert page.evaluate("() => window.ranAll") is True, page.evaluate(OUTPUTS)
    assert page.evaluate(OUTPUTS) == []
    return times


def press(page, keys, where=".st-panel [role=slider]"):
    """Milliseconds from each press of a key at a slider to the new picture."""
    slider = page.locator(where).first
    slider.scroll_into_view_if_needed()
    slider.focus()
    out = []
    for key in keys:
        page.evaluate(
            """() => { const i = document.querySelector('.st-panel img.st-picture');
            window.seen = new Promise(done => { const begun = performance.now();
            new MutationObserver(() => done(performance.now() - begun)).observe(i,
            {attributes: true, attributeFilter: ['src']}) }) }"""
        )
        page.keyboard.press(key)
        out.append(page.evaluate("() => window.seen"))
        page.wait_for_timeout(150)
    return out


def free_the_panel(page):
    """Answer the question before the panel, where there is one."""
    radios = page.locator(".st-exercise input[type=radio]")
    if radios.count():
        radios.nth(1).check()
        page.locator(".st-exercise button").first.click()
        page.wait_for_timeout(1000)


def sign_in(page, address, name):
    """Open an exercise, as somebody who was never here."""
    run(page, address, name)
    page.locator(".st-exercise input[type=text]").first.fill("Ana Example")
    page.get_by_role("button", name="Begin").first.click()
    page.wait_for_selector(".st-problem")


FONTS = """const { loadPyodide } = require(process.argv[1] + '/pyodide.js');
loadPyodide({ indexURL: process.argv[1] + '/' }).then(async python => {
  await python.loadPackage('matplotlib');
  python.runPython('import matplotlib.pyplot; print(matplotlib.__version__)'); });"""


def test_fonts_are_known_beforehand(folder):
    """Matplotlib says so where it reads all its fonts first, which takes a second."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("Node.js is not installed")
    command = [node, "-e", FONTS, str(folder / "static" / "pyodide")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert "3." in done.stdout and "font cache" not in done.stdout + done.stderr, done.stderr


@pytest.mark.parametrize("lesson", ["00_start_here", "08_heat_balance", "13_end_point"])
def test_a_slider_moves_the_picture(page, address, lesson):
    page.set_default_timeout(20000)
    cold = run(page, address, f"lessons/{lesson}")
    free_the_panel(page)
    told = page.inner_text(".st-panel .st-sentence")
    moves = press(page, ["ArrowRight"] * 12)
    assert page.inner_text(".st-panel .st-sentence") != told
    warm = run(page, address, f"lessons/{lesson}")
    used = page.evaluate("() => performance.memory ? performance.memory.usedJSHeapSize : 0")
    print(
        f"\n{lesson}: shown, ready, run after {[round(t, 1) for t in cold]} s, again "
        f"{[round(t, 1) for t in warm]} s; a move {statistics.median(moves):.0f} ms, "
        f"page {used / 1e6:.0f} MB"
    )


@pytest.mark.parametrize("lesson", LESSONS)
def test_lesson_runs(page, address, lesson):
    run(page, address, f"lessons/{lesson}")


def test_an_answer_is_kept_and_can_be_handed_in(page, address, tmp_path):
    """The sheet is a file in the browser; saved, the command `mark` takes it as any other."""
    page.set_default_timeout(20000)
    sign_in(page, address, "exercises/08_heat_balance")
    assert "Your answers are kept in this browser" in page.inner_text(".st-exercise")
    problem = page.locator(".st-problem").nth(1)  # before it stands one to complete
    problem.locator("input[type=text]").first.fill("12.5")
    problem.get_by_role("button", name="Check").click()
    problem.locator(".st-verdict").wait_for()
    page.wait_for_timeout(2000)
    run(page, address, "exercises/08_heat_balance")
    page.wait_for_selector(".st-problem")
    assert "1 tried" in page.inner_text(".st-exercise")
    page.get_by_role("button", name="Hand in").first.click()
    page.get_by_text("Hand in this one file").first.wait_for()
    page.wait_for_timeout(1000)
    (name,) = [n for n in page.evaluate(LIST, "hand-in") if n.endswith(".sheet.txt")]
    text = page.evaluate(FILE, name)
    path = tmp_path / name.rpartition("/")[2]
    path.write_text(text if isinstance(text, str) else str(text), encoding="utf-8")
    contents = read_sheet(path)
    assert "12.5" in text and contents.learner == "Ana Example"
    assert not contents.bad and not contents.unsealed
    done = subprocess.run(
        [sys.executable, "-m", "steelthermo", "mark", str(tmp_path), "--course", contents.course],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
    )
    assert done.returncode == 0 and re.search("Ana Example|1 sheet", done.stdout), done.stderr


def test_without_https_the_page_says_that_nothing_is_kept(address):
    """As on a plant's plain web server: a name that is not this computer's own."""
    with browser("--host-resolver-rules=MAP works.example 127.0.0.1") as chromium:
        page = chromium.new_page()
        page.set_default_timeout(20000)
        sign_in(page, address.replace("127.0.0.1", "works.example"), "exercises/08_heat_balance")
        assert "Nothing you do here is kept" in page.inner_text(".st-exercise")


def test_firefox_too(address, tmp_path):
    """Lesson 08: shown, run, a slider moved by keys."""
    try:
        with firefox(tmp_path) as page:
            page.goto(f"{address}/notebooks/index.html?path=lessons/08_heat_balance.ipynb")
            page.wait_for("document.querySelector('.jp-Notebook .jp-Cell')")
            page.wait_for(f"({STATUS})() === 'idle'")
            page.evaluate(f"({RUN})()")
            page.wait_for("window.ranAll !== undefined", 120)
            assert page.evaluate("window.ranAll") is True and page.evaluate(f"({OUTPUTS})()") == []
            page.evaluate("document.querySelector('.st-exercise input[type=radio]').click()")
            page.evaluate("document.querySelector('.st-exercise button').click()")
            page.wait_for("document.querySelector('.st-exercise').innerText.includes('try it')")
            told = "document.querySelector('.st-panel .st-sentence').innerText"
            before = page.evaluate(told)
            page.evaluate("document.querySelector('.st-panel').scrollIntoView()")
            time.sleep(1)  # JupyterLab hides what is far away
            page.evaluate("document.querySelector('.st-panel [role=slider]').focus()")
            for _ in range(3):
                page.press("ArrowRight")
            page.wait_for(f"{told} !== {json.dumps(before)}")
            assert not [u for u in page.asked if not u.startswith((address, "data:", "blob:"))]
    except NoBrowser as why:
        pytest.skip(str(why))


@pytest.fixture(scope="module")
def reader(address):
    """A browser that has been here, with somebody signed in. It stays open to the end of the file,
    and no other may be opened beside it: tests that use it come last.
    """
    with browser() as chromium:
        context = chromium.new_context(viewport={"width": 1280, "height": 1300})
        page = context.new_page()
        sign_in(page, address, "exercises/01_charge_materials")
        page.close()
        yield context


@pytest.mark.parametrize("name", EXERCISES)
def test_exercise_is_answered(reader, address, name):
    """The first problem gets an answer, and says something to it."""
    page = reader.new_page()
    page.set_default_timeout(30000)
    run(page, address, f"exercises/{name}")
    page.evaluate(LISTEN)
    problem = page.locator(".st-problem").first
    if name not in ("exam", "today"):
        problem.wait_for()
        if problem.get_by_role("radio").count():
            problem.get_by_role("radio").first.check()
        else:
            box = problem.get_by_role("textbox").first
            box.fill("1")
            box.press("Tab")
        check = problem.get_by_role("button", name="Check")
        if check.count():  # a paper has none
            check.click()
        expect(problem).to_contain_text(re.compile("Right|Not yet|Kept|Too"), timeout=20000)
    assert page.evaluate("() => window.kernelErrors") == []
    page.close()
