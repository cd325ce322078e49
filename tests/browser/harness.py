"""JupyterLab opened by the kit's own command, and a real browser that reads it. Used by the tests
here; scripts may use it too.

with jupyterlab(folder) as lab, browser() as chromium, opened(chromium, lab) as sheet:
    assert sheet.open_and_run("lessons/08_heat_balance.ipynb")
    sheet.press("ArrowRight", 3)
    print(sheet.error_outputs(), sheet.kernel_errors(), sheet.offsite)
"""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import nbformat
from nbformat.v4 import new_code_cell, new_notebook

ROOT = Path(__file__).resolve().parents[2]
TOKEN = "browser-test"
FLAGS = (
    "--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync"
).split()
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")

READY = """() => { const w = window.jupyterapp && window.jupyterapp.shell.currentWidget;
  const k = w && w.sessionContext && w.sessionContext.session && w.sessionContext.session.kernel;
  return !!(k && k.connectionStatus === 'connected' && k.status === 'idle' &&
    w.context.isReady) }"""
# An error raised in a widget's callback reaches no cell: the messages of the kernel are the only
# place where it shows.
LISTEN = """() => { window.kernelErrors = [];
  window.jupyterapp.shell.currentWidget.sessionContext.iopubMessage.connect(
  (_, m) => { if (m.header.msg_type === 'error')
    window.kernelErrors.push(m.content.ename + ': ' + m.content.evalue); }) }"""
RUN = """() => { window.ranAll = undefined;
  window.jupyterapp.commands.execute('notebook:run-all-cells').then(
  r => { window.ranAll = r }, e => { window.ranAll = String(e) }) }"""
# As a learner opens the next lesson from the list of files; the one before is closed unsaved and
# its kernel stopped.
TURN = """async path => { const { shell, commands } = window.jupyterapp;
  const old = shell.currentWidget;
  await old.sessionContext.shutdown(); old.dispose(); window.ranAll = undefined;
  await commands.execute('docmanager:open', { path, factory: 'Notebook' }) }"""
STOP = "async () => { await window.jupyterapp?.shell.currentWidget?.sessionContext?.shutdown() }"
# The page shows warnings and tracebacks alike, so outputs are read from the notebook itself.
OUTPUTS = (
    "() => window.jupyterapp.shell.currentWidget.content.model.toJSON().cells.flatMap((c, i) "
    "=> (c.outputs || []).map(o => ({cell: i, ...o})))"
)


class NoBrowser(Exception):
    """No browser can be started; the message says why."""


@dataclass(frozen=True)
class Lab:
    """A running JupyterLab. url; folder: the working copy it shows."""

    url: str
    folder: Path

    def write(self, name, *sources):
        """Put a notebook of code cells in the working copy."""
        notebook = new_notebook(cells=[new_code_cell(source) for source in sources])
        notebook.metadata.kernelspec = {
            "name": "python3",
            "display_name": "Python 3",
            "language": "python",
        }
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        nbformat.write(notebook, path)


@contextmanager
def jupyterlab(folder, timeout_s=60):
    """The kit started by its own command on a fresh working copy in folder, with Jupyter's settings
    kept apart; yields a Lab.

    Panels are free from the start (predict_first = false), so that a slider can be moved at once.
    """
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "course.toml").write_text("predict_first = false\n", encoding="utf-8")
    own = folder.parent / f"{folder.name} jupyter"
    names = (
        "JUPYTER_CONFIG_DIR",
        "JUPYTER_DATA_DIR",
        "JUPYTER_RUNTIME_DIR",
        "IPYTHONDIR",
        "MPLCONFIGDIR",
    )
    env = {**os.environ, **{name: str(own / name) for name in names}}
    env["PYTHONPATH"] = os.pathsep.join(
        filter(None, (str(ROOT), env.get("PYTHONPATH")))
    )  # the kit under test, installed or not
    env.pop("STEELTHERMO_FOLDER", None)
    own.mkdir(exist_ok=True)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    options = [
        "--ip=127.0.0.1",
        f"--port={port}",
        "--port-retries=0",
        f"--IdentityProvider.token={TOKEN}",
        "--expose-app-in-browser",
    ]
    command = [
        sys.executable,
        "-m",
        "steelthermo",
        "--folder",
        str(folder),
        "--no-browser",
        "--",
        *options,
    ]
    with open(own / "log", "w") as log:
        server = subprocess.Popen(command, stdout=log, stderr=log, env=env, cwd=own)
    url = f"http://127.0.0.1:{port}"
    try:
        deadline = time.monotonic() + timeout_s
        while True:
            if server.poll() is not None or time.monotonic() > deadline:
                raise RuntimeError(
                    "JupyterLab did not "
                    f"start:\n{(own / 'log').read_text(errors='replace')[-3000:]}"
                )
            try:
                urllib.request.urlopen(f"{url}/api/status?token={TOKEN}", timeout=2)
                break
            except OSError:
                time.sleep(0.1)
        yield Lab(url, folder)
    finally:
        server.terminate()
        try:
            server.wait(20)
        except subprocess.TimeoutExpired:
            server.kill()


@contextmanager
def browser(*flags):
    """A Chromium or Chrome: $CHROMIUM, one on the path, or one that Playwright knows; flags: more
    of its own. Raises NoBrowser.
    """
    try:
        from playwright.sync_api import Error, sync_playwright
    except ImportError:
        raise NoBrowser("the package playwright is not installed") from None
    named = os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)
    with sync_playwright() as playwright:
        for choice in (
            [{"executable_path": named}]
            if named
            else [{}, {"channel": "chrome"}, {"channel": "msedge"}]
        ):
            try:
                found = playwright.chromium.launch(headless=True, args=[*FLAGS, *flags], **choice)
                break
            except Error as error:
                why = str(error).strip().splitlines()[0]
        else:
            raise NoBrowser(
                f"no Chromium or Chrome was found ({why}); the variable CHROMIUM may name one"
            )
        yield found
        found.close()


class Sheet:
    """One browser page on the Lab. page: Playwright's page; offsite: addresses asked for outside
    this computer; page_errors: faults of scripts on the page.
    """

    def __init__(self, page, lab):
        self.page, self.lab, self.offsite, self.page_errors = page, lab, [], []
        page.on(
            "request",
            lambda r: (
                self.offsite.append(r.url)
                if r.url.startswith(("http", "ws")) and not r.url.startswith(lab.url)
                else None
            ),
        )
        page.on("pageerror", lambda error: self.page_errors.append(str(error)))

    def open(self, notebook):
        """Show one notebook of the working copy alone ('lessons/08_heat_balance.ipynb'), its kernel
        ready.
        """
        self.page.goto(f"{self.lab.url}/doc/tree/{notebook}?token={TOKEN}&reset")
        self.page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60_000)
        self.page.wait_for_function(READY, timeout=60_000, polling=100)
        self.page.evaluate(LISTEN)

    def turn_to(self, notebook):
        """Show another notebook on the same page, which does not load again: a sixth of the time.
        What was asked elsewhere and failed before is forgotten.
        """
        self.offsite.clear()
        self.page_errors.clear()
        self.page.evaluate(TURN, notebook)
        self.page.wait_for_function(READY, timeout=60_000, polling=100)
        self.page.evaluate(LISTEN)

    def run(self, timeout_s=180):
        """Run all cells of the notebook that is open: True if every cell ran, False if one
        raised.
        """
        self.page.evaluate(RUN)
        self.page.wait_for_function("() => window.ranAll !== undefined", timeout=timeout_s * 1000)
        return self.page.evaluate("() => window.ranAll")

    def turn_to_and_run(self, notebook):
        """turn_to() and run()."""
        self.turn_to(notebook)
        return self.run()

    def open_and_run(self, notebook, timeout_s=180):
        """open() and run()."""
        self.open(notebook)
        return self.run(timeout_s)

    def outputs(self):
        """All outputs of the notebook, as dicts of the notebook format with the number of their
        cell added.
        """
        return self.page.evaluate(OUTPUTS)

    def error_outputs(self):
        """'cell 3: ZeroDivisionError: division by zero' of every cell that shows an error."""
        return [
            f"cell {o['cell']}: {o['ename']}: {o['evalue']}"
            for o in self.outputs()
            if o["output_type"] == "error"
        ]

    def kernel_errors(self):
        """'ZeroDivisionError: division by zero' of every error the kernel told of since the
        notebook was opened, those of widget callbacks included.
        """
        return self.page.evaluate("() => window.kernelErrors")

    def press(self, key, times=1, within=None):
        """Give the first slider (of the page, or of the locator `within`) the focus and press a
        key; returns its value as told before and after.
        """
        slider = (within or self.page).get_by_role("slider").first
        slider.focus()
        before = slider.get_attribute("aria-valuetext")  # aria-valuenow has one decimal only
        for _ in range(times):
            self.page.keyboard.press(key)
        return before, slider.get_attribute("aria-valuetext")


@contextmanager
def opened(chromium, lab, width=1280, height=1200):
    """A fresh page of the browser on the Lab; yields a Sheet. At the end the kernel of its notebook
    is stopped, as kernels hold memory.
    """
    context = chromium.new_context(viewport={"width": width, "height": height})
    page = context.new_page()
    try:
        yield Sheet(page, lab)
    finally:
        page.evaluate(STOP)
        context.close()
