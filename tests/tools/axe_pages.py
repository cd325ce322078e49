"""The built book, and four notebooks of the browser edition, read by axe-core in a real browser, in
the light and the dark theme. Run by hand, after `steelthermo site all --out SITE`:
python tests/tools/axe_pages.py SITE [--axe FILE] [--width 375]

Prints what axe finds in what we wrote, and counts what lies in the theme's and JupyterLab's own
markup. Ends with 1 if a fault of ours is serious or critical. See axe.py for axe-core.
"""

import argparse
import functools
import http.server
import sys
import tempfile
import threading
from collections import Counter
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parents[1]), str(HERE.parent / "browser")]

from axe import IMPACTS, OURS, READ, SET_THEME, THEMES, axe_source
from harness import browser
from test_browser_edition import _Quiet, run, sign_in

TRIED = ("lessons/00_start_here", "lessons/08_heat_balance", "lessons/13_end_point")
SIGNED = "exercises/08_heat_balance"
OPEN = "() => document.querySelectorAll('details').forEach(d => { d.open = true })"
BOOK_THEME = "theme => { document.documentElement.dataset.theme = theme }"
BOOK_READ = READ.replace("'.jp-Notebook'", "document")


def book(chromium, address, folder, source, width):
    """(page, theme, fault) of every page of the book, folds opened."""
    for theme in ("light", "dark"):
        context = chromium.new_context(
            viewport={"width": width, "height": 1000}, color_scheme=theme
        )
        page = context.new_page()
        for path in sorted(folder.rglob("*.html")):
            name = path.relative_to(folder.parent).as_posix()
            if "_downloads" in path.parts:
                continue
            page.goto(f"{address}/{name}")
            page.evaluate(BOOK_THEME, theme)
            page.evaluate(OPEN)
            page.wait_for_timeout(600)  # colours of a fold that opens change slowly
            page.evaluate(source)
            yield from ((name, theme, f) for f in page.evaluate(BOOK_READ, ".bd-article"))
        context.close()


def edition(chromium, address, source):
    """(notebook, theme, fault) of lessons that were run, and of an exercise signed in to."""
    for name in (*TRIED, SIGNED):
        context = chromium.new_context(viewport={"width": 1280, "height": 1300})
        page = context.new_page()
        (sign_in if name == SIGNED else run)(page, f"{address}/try", name)
        page.evaluate(source)
        for theme in THEMES:
            page.evaluate(SET_THEME, theme)
            page.wait_for_timeout(700)
            yield from ((f"try/{name}", theme, f) for f in page.evaluate(READ, OURS))
        context.close()


def main():
    options = argparse.ArgumentParser(description="axe-core on the built pages")
    options.add_argument("site", type=Path, help="folder with the folders read and try")
    options.add_argument("--axe", type=Path, help="axe.min.js to use")
    options.add_argument("--width", type=int, default=1280, help="of the book's pages")
    options = options.parse_args()
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(_Quiet, directory=options.site)
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_port}"
    ours, theirs = {}, Counter()
    with tempfile.TemporaryDirectory() as folder, browser() as chromium:
        source = options.axe.read_text(encoding="utf-8") if options.axe else axe_source(folder)
        found = [*book(chromium, address, options.site / "read", source, options.width)]
        if (options.site / "try").is_dir():
            found += edition(chromium, address, source)
    for name, theme, fault in found:
        if fault["place"]:
            key = IMPACTS.index(fault["impact"]), fault["rule"]
            ours.setdefault(key, []).append((name, theme, fault))
        else:
            theirs[fault["impact"], fault["rule"]] += 1
    for (impact, rule), cases in sorted(ours.items()):
        name, theme, fault = cases[0]
        print(f"{IMPACTS[impact]}: {rule}, {len(cases)} times: {fault['help']}")
        print(f"  {name} ({theme}): {fault['html'][:240]}\n  {fault['why'][:300]}")
    print("in markup of others:", *(f"{n} {rule} ({how})" for (how, rule), n in theirs.items()))
    print(f"ours: {sum(map(len, ours.values()))}")
    return int(any(impact < 2 for impact, _ in ours))


if __name__ == "__main__":
    sys.exit(main())
