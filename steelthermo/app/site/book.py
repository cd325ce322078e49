"""The web book, by Sphinx from the saved notebooks, and the handout, printed by a browser."""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

from ..working_copy import TRAINER, StartError, shipped
from . import pages
from .notebooks import page
from .place import CONFIGURATION

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
PDF = "handout.pdf"


def build(out: Path, try_it: bool = False, pdf: bool = True) -> None:
    """Build the book in a folder, which is made anew.

    Parameters
    ----------
    out : folder of the pages; the handout is handout.pdf in it
    try_it : whether the lessons in a browser stand beside it, in the folder try
    pdf : whether to print the handout; it needs Chromium or Chrome

    Raises
    ------
    StartError
        Where the pages or the handout cannot be made.
    """
    work = out.absolute().with_name(f"{out.name}.work")
    for folder in (work, out):
        shutil.rmtree(folder, ignore_errors=True)
    source = work / "source"
    _write_source(source, try_it)
    _sphinx("html", source, out, work)
    (out / ".buildinfo").unlink(missing_ok=True)
    for html in out.rglob("*.html"):  # a name that hides what stands on the fold
        text = html.read_text(encoding="utf-8")
        html.write_text(text.replace(' aria-label="Toggle hidden content"', ""), encoding="utf-8")
    if pdf:
        _sphinx("singlehtml", source, work / "single", work)
        _print(work / "single" / "index.html", out / PDF)
    shutil.rmtree(work)
    size = sum(f.stat().st_size for f in out.rglob("*") if f.is_file())
    print(f"The book stands in {out}: {size / 1e6:.1f} MB, {len(list(out.rglob('*.html')))} pages.")


def _write_source(source, try_it):
    shutil.copytree(CONFIGURATION / "book", source)
    files = {n: p for n, p in shipped().items() if n.endswith(".ipynb") and n != TRAINER}
    for name, path in files.items():
        notebook = json.loads(path.read_text(encoding="utf-8"))
        made = page(name, notebook, list(files), _live(name, try_it))
        target = source / name
        target.parent.mkdir(exist_ok=True)
        target.write_text(json.dumps(made, ensure_ascii=False), encoding="utf-8")
    pages.write(source, _live("", try_it))


def _live(name, try_it):
    """What to do to run a notebook, or any of them where the name is ''."""
    what = "the same page" if name else "a lesson"
    if not try_it:
        return f"install the kit (its README says how) and open {what} there"
    up, path = ("../../", f"?path={name}") if name else ("../", "")
    return f"<a href='{up}try/lab/index.html{path}'>open {what} in your browser</a>"


def _sphinx(builder, source, out, work):
    command = [sys.executable, "-m", "sphinx", "-q", "-b", builder, "-t", builder]
    command += ["-d", str(work / f"trees.{builder}")]
    done = subprocess.run([*command, str(source), str(out)], capture_output=True, text=True)
    if done.returncode:
        raise StartError(f"Sphinx could not build the pages: {done.stderr.strip()[-2000:]}")
    if done.stderr.strip():
        print(done.stderr.strip(), file=sys.stderr)


def _print(html, pdf):
    """The single page with every fold of ours open, as A4."""
    chromium = next(filter(None, map(shutil.which, BROWSERS)), None)
    if chromium is None:
        raise StartError("The handout needs Chromium or Chrome: install it, or give --no-pdf.")
    text = html.read_text(encoding="utf-8")
    text = re.sub(r"<details>", "<details open>", text).replace(' loading="lazy"', "")
    html.write_text(text, encoding="utf-8")
    subprocess.run(
        [
            *(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"),
            *(f"--print-to-pdf={pdf}", html.as_uri()),
        ],
        check=True,
        capture_output=True,
        timeout=600,
    )
