"""The pages to read: what becomes of a notebook, and, marked long, the book in a real browser.
Nothing here needs an outside source.
"""

import functools
import hashlib
import http.server
import importlib.util
import json
import os
import re
import subprocess
import sys
import tarfile
import threading
import zipfile
from pathlib import Path

import pytest

from steelthermo.app.site import browser, bytecode, notebooks
from steelthermo.app.working_copy import StartError, shipped

ROOT = Path(__file__).resolve().parents[2]
NAMES = [n for n in shipped() if n.endswith(".ipynb")]


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_):
        pass


def _made(name):
    notebook = json.loads((ROOT / name).read_text(encoding="utf-8"))
    return notebooks.page(name, notebook, NAMES, "open it elsewhere")["cells"]


def _text(cells, kind="markdown"):
    return "\n".join(c["source"] for c in cells if c["cell_type"] == kind)


def test_the_reader_is_told_that_pictures_stand_still():
    first = _made("lessons/08_heat_balance.ipynb")[0]["source"]
    assert first.startswith("# 08") and first.index("open it elsewhere") < 300


def test_code_that_shows_a_panel_is_folded_and_the_sum_is_not():
    code = [c for c in _made("lessons/08_heat_balance.ipynb") if c["cell_type"] == "code"]
    folded = ["hide-input" in c["metadata"].get("tags", ()) for c in code]
    assert [("course" in c["source"] or c["source"] == "panel") for c in code] == folded
    assert any(folded) and not all(folded)
    shown = json.dumps([c["outputs"] for c in code])
    assert "<img" in shown and "Run All Cells" not in shown


def test_a_warning_is_told_without_the_line_it_came_from():
    cell = {"cell_type": "code", "metadata": {}, "source": "f()"}
    told = "/a place/f.py:12: ExtrapolationWarning: S is too high.\n  return f(x)\n"
    cell["outputs"] = [{"output_type": "stream", "name": "stderr", "text": [told]}]
    assert notebooks._cell("x", cell, [])["outputs"][0]["text"] == "S is too high."


def test_an_exercise_shows_its_problems_with_folded_steps():
    text = _text(_made("exercises/08_heat_balance.ipynb"))
    problems = text.count('<section class="st-sample">')
    assert problems >= 6 and text.count("<summary>Worked solution</summary>") == problems
    assert text.count("Hint 1 of") == problems and "\n\n<" not in text.partition("st-sample")[2]


@pytest.mark.parametrize("name", NAMES)
def test_links_lead_to_notebooks(name):
    text = _text(_made(name))
    found = re.findall(r"\]\(\.\./((?:lessons|exercises)/[^)]*)\)", text)
    assert set(found) <= set(NAMES) - {name} and not notebooks._NAMED.search(text)
    assert found or any(alone in name for alone in ("00", "trainer", "exam"))


def test_a_heading_and_the_page_itself_are_no_links():
    path, names = "lessons/02_b.ipynb", ["lessons/01_a.ipynb", "lessons/02_b.ipynb"]
    assert notebooks.linked("# lesson 01", path, names) == "# lesson 01"
    assert notebooks.linked("Lesson 02, lesson 99", path, names) == "Lesson 02, lesson 99"
    assert notebooks.linked("see lesson 01.", path, names) == (
        "see [lesson 01](../lessons/01_a.ipynb)."
    )
    assert notebooks.linked("do `lessons/01_a.ipynb`", path, names) == (
        "do [lesson 01](../lessons/01_a.ipynb)"
    )


# --- Python for browsers, compiled ----------------------------------------------------------------


def test_a_package_works_from_its_bytecode_alone(tmp_path):
    """What does not compile and what is rare stays a source, what is no Python stays as it is."""
    wheel = tmp_path / "a-1-py3-none-any.whl"
    parts = {
        "made_up_room/__init__.py": "from .part import FOUND",
        "made_up_room/part.py": "FOUND = 180",
        "made_up_room/old.py": "print 'of an edition long ago'",
        "made_up_room/table.csv": "a,b",
        "made_up_room/tests/test_it.py": "",
        "fontTools/rare.py": "RARE = 1",
    }
    with zipfile.ZipFile(wheel, "w") as packed:
        for name, text in parts.items():
            packed.writestr(name, text)
    lock = {"packages": {"a": {"file_name": wheel.name, "sha256": "of before"}}}
    (tmp_path / "pyodide-lock.json").write_text(json.dumps(lock), encoding="utf-8")
    bytecode.compile_packages(str(tmp_path), {"made_up_room/table.csv": "c,d"})
    with zipfile.ZipFile(wheel) as packed:
        assert set(packed.namelist()) == {
            "made_up_room/__init__.pyc",
            "made_up_room/part.pyc",
            "made_up_room/old.py",
            "made_up_room/table.csv",
            "fontTools/rare.py",
        }
        assert packed.read("made_up_room/table.csv") == b"c,d"
    lock = json.loads((tmp_path / "pyodide-lock.json").read_text(encoding="utf-8"))
    assert lock["packages"]["a"]["sha256"] == hashlib.sha256(wheel.read_bytes()).hexdigest()
    command = "import made_up_room; print(made_up_room.FOUND)"
    done = subprocess.run(
        [sys.executable, "-c", command],
        env=os.environ | {"PYTHONPATH": str(wheel)},
        capture_output=True,
        text=True,
    )
    assert done.stdout.strip() == "180", done.stderr


# --- Python for browsers, from where it is --------------------------------------------------------


@pytest.fixture
def archive(tmp_path):
    """A Pyodide as its makers pack it; here its list of packages alone."""
    given = tmp_path / "given" / "pyodide"
    given.mkdir(parents=True)
    (given / "pyodide-lock.json").write_text('{"packages": {}}', encoding="utf-8")
    packed = tmp_path / "served" / "pyodide-0.27.7.tar.bz2"
    packed.parent.mkdir()
    with tarfile.open(packed, "w:bz2") as file:
        file.add(given, "pyodide")
    with zipfile.ZipFile(packed.with_name("pyodide.whl"), "w") as file:
        file.write(given / "pyodide-lock.json", "assets/pyodide/pyodide-lock.json")
    return packed


@pytest.mark.parametrize("kind", ["tar", "wheel", "folder", "address"])
def test_the_runtime_comes_from_a_path_or_an_address(archive, tmp_path, kind):
    served = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(_Quiet, directory=archive.parent)
    )
    threading.Thread(target=served.serve_forever, daemon=True).start()
    named = {
        "tar": archive,
        "wheel": archive.with_name("pyodide.whl"),
        "folder": tmp_path / "given",
        "address": f"http://127.0.0.1:{served.server_port}/{archive.name}",
    }[kind]
    work = tmp_path / "work"
    work.mkdir()
    assert list(browser._unpacked(str(named), work).rglob("pyodide-lock.json"))
    served.shutdown()


@pytest.mark.parametrize("named", ["no/such/file.tar", "http://127.0.0.1:9/pyodide.tar.bz2", ""])
def test_a_runtime_that_cannot_be_had_is_told(tmp_path, monkeypatch, named):
    monkeypatch.setattr(browser, "RUNTIME", "http://127.0.0.1:9/pyodide.tar.bz2")
    with pytest.raises(StartError, match="cannot be used"):
        browser.build(tmp_path / "try", named)


# --- the whole book -------------------------------------------------------------------------------

# a table may be moved sideways on a screen, and nothing on paper
TOO_WIDE = """paper => { const page = document.documentElement, w = page.clientWidth;
  if (page.scrollWidth > w) return ['the page ' + page.scrollWidth];
  return [...document.querySelectorAll('.bd-article *')].filter(e => {
    const r = e.getBoundingClientRect();
    return r.width && r.right > w + 1 && (paper || !e.closest('table'))
  }).map(e => e.outerHTML.slice(0, 120)) }"""
NO_ALT = """() => [...document.querySelectorAll('img')].filter(i => !i.alt.trim())
  .map(i => i.outerHTML.slice(0, 120))"""


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """Address and folder of the book."""
    if importlib.util.find_spec("myst_nb") is None:
        pytest.skip("the extra [site] is not installed")
    folder = tmp_path_factory.mktemp("site")
    command = [sys.executable, "-m", "steelthermo", "site", "book", "--out", str(folder)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0 and not done.stderr, done.stderr  # Sphinx warns of nothing
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(_Quiet, directory=folder)
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/read", folder / "read"
    server.shutdown()


@pytest.mark.long
def test_every_page_fits_telephone_and_paper_and_tells_its_pictures(book):
    """375 pixels wide, and A4; none asks another server for anything."""
    import harness

    address, folder = book
    pages = sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*.html"))
    pages = [p for p in pages if not p.startswith(("_", "genindex", "search"))]
    assert len(pages) > 35
    wrong, asked = {}, set()
    with harness.browser() as chromium:
        page = chromium.new_page()
        page.on("request", lambda r: asked.add(r.url))
        for name in pages:
            page.emulate_media(media="screen")
            page.set_viewport_size({"width": 375, "height": 812})
            page.goto(f"{address}/{name}")
            found = page.evaluate(TOO_WIDE) + page.evaluate(NO_ALT)
            page.emulate_media(media="print")
            page.set_viewport_size({"width": 680, "height": 1000})  # A4 less 15 mm at each side
            found += page.evaluate(TOO_WIDE, True)
            if found:
                wrong[name] = found[:3]
    assert not wrong and pages
    assert not [url for url in asked if not url.startswith((address, "data:"))]


@pytest.mark.long
def test_firefox_shows_it_on_a_telephone(book, tmp_path):
    import firefox
    import harness

    try:
        with firefox.firefox(tmp_path) as page:
            page.resize(375, 800)
            for name in ("index", "lessons/08_heat_balance", "exercises/08_heat_balance"):
                page.goto(f"{book[0]}/{name}.html")
                assert page.evaluate(f"({TOO_WIDE})()") == []
    except harness.NoBrowser as why:
        pytest.skip(str(why))


@pytest.mark.long
@pytest.mark.parametrize("word", ["silicon", "basicity"])
def test_words_are_found(book, word):
    import harness

    with harness.browser() as chromium:
        page = chromium.new_page()
        page.goto(f"{book[0]}/search.html?q={word}")
        page.wait_for_selector("#search-results li")
        page.wait_for_timeout(2000)
        found = page.inner_text("#search-results")
    assert found.count("Exercise") >= 2 and {"silicon": "08", "basicity": "06"}[word] in found


@pytest.mark.long
def test_the_handout_is_there_whole(book):
    data = (book[1] / "handout.pdf").read_bytes()
    assert data.startswith(b"%PDF")
    assert len(re.findall(rb"/Type\s*/Page\b", data)) > 80


@pytest.mark.long
def test_links_of_the_book_work(book):
    """Every link between its own pages, and to a place on them."""
    wrong = []
    for path in book[1].rglob("*.html"):
        if path.name in ("genindex.html", "search.html") or "_downloads" in path.parts:
            continue
        for link in re.findall(r'<a [^>]*href="([^"]+)"', path.read_text(encoding="utf-8")):
            if re.match(r"[a-z]+:|#|\.\./\.\./try|\.\./try", link):
                continue
            target = (path.parent / link.split("#")[0].split("?")[0]).resolve()
            if not target.is_file():
                wrong.append(f"{path.name}: {link}")
    assert not wrong
