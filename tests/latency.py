"""How fast the panels are in a real browser. Run by hand: python tests/latency.py [panel ...]  (no panel named: all, and the sample)

For every panel it prints, from 30 key presses on its first slider:
- median and 95th percentile of the time from the key press to the new picture (decoded, and two frames later),
  beside the same figure drawn by plain `interact` on the same machine in the same run;
- a held key: how long after the last key press the last picture came, and how many pictures were drawn for 40 presses,
  with the panel as it is and with a compute slowed to 80 ms;
- blank frames in a screencast of 30 presses, with a deliberate flash as the control, and how far the picture moved on the page.

Needs playwright and a chromium ($CHROMIUM, else /usr/bin/chromium). Aim: median below 65 ms, 95th percentile below 90 ms,
at least 5 times faster than interact, no blank frame. Options: --presses N, --shots FOLDER (keep screenshots).
"""

import argparse
import base64
import io
import json
import os
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import nbformat
import numpy as np
from nbformat.v4 import new_code_cell, new_notebook
from PIL import Image
from playwright.sync_api import sync_playwright

HERE = Path(__file__).resolve().parent
FLAGS = "--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync".split()
TOKEN = "latency"

PANEL_CELL = """
import sys; sys.path[:0] = [{tests!r}, {root!r}]
{make}
p
"""
INTERACT_CELL = """
import matplotlib.pyplot as plt
from ipywidgets import interact, Dropdown, FloatSlider
def plain(**settings):
    record = p.compute(**settings)
    fig = plt.figure(figsize=(p.drawing.width_px / 100, p.drawing.height_px / 100), dpi=100)
    p.drawing.update(p.drawing.setup(fig), record)
    for artist in fig.findobj():
        artist.set_animated(False)
    plt.show()
    print(p.sentence(record))
interact(plain, **{c.name: Dropdown(options=list(c.choices), value=c.default) if c.choices is not None
                   else FloatSlider(min=c.low, max=c.high, step=c.step, value=c.default) for c in p.controls});
"""
SLOW_CELL = """
import time
fast = p.compute
def slow(**settings):
    time.sleep(0.08)
    return fast(**settings)
p.compute = slow
"""
# Resolves, after the next key press, to the milliseconds until another picture stands in the cell and two frames were drawn.
ARM = """cell => { window.took = new Promise(done => {
  const area = document.querySelectorAll('.jp-Notebook .jp-Cell')[cell].querySelector('.jp-Cell-outputArea');
  const shown = () => [...area.querySelectorAll('img.st-picture, .jp-RenderedImage img')].at(-1);
  const old = shown().src; let start;
  document.addEventListener('keydown', () => { start = performance.now(); }, { capture: true, once: true });
  const watch = new MutationObserver(() => { const img = shown(); if (!img || img.src === old || start === undefined) return;
    watch.disconnect();
    img.decode().catch(() => 0).then(() => requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - start)))); });
  watch.observe(area, { subtree: true, childList: true, attributes: true, attributeFilter: ['src'] }); }) }"""
COUNT = """() => { const img = document.querySelector('img.st-picture'); window.pictures = []; window.pressed = 0;
  document.addEventListener('keydown', () => { window.pressed = performance.now(); }, { capture: true });
  new MutationObserver(() => window.pictures.push(performance.now())).observe(img, { attributes: true, attributeFilter: ['src'] }) }"""
READY = """() => { const w = window.jupyterapp && window.jupyterapp.shell.currentWidget;
  const k = w && w.sessionContext && w.sessionContext.session && w.sessionContext.session.kernel;
  return !!(k && k.connectionStatus === 'connected' && k.status === 'idle' && w.context.isReady) }"""


@contextmanager
def jupyterlab(root):
    """A quiet JupyterLab on the folder root, in settings of its own; yields its address."""
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        (scratch / "app").mkdir()
        quiet = {"fetchNews": "false", "checkForUpdates": False, "doNotDisturbMode": True}
        overrides = {"@jupyterlab/apputils-extension:notification": quiet, "@jupyterlab/notebook-extension:tracker": {"windowingMode": "none"}}
        (scratch / "app" / "overrides.json").write_text(json.dumps(overrides))
        names = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR", "MPLCONFIGDIR")
        env = dict(os.environ, **{name: str(scratch / name) for name in names})
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        options = f"--no-browser --allow-root --ip=127.0.0.1 --port={port} --port-retries=0 --expose-app-in-browser --LabApp.news_url=None"
        command = [sys.executable, "-m", "jupyterlab", *options.split(), "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate"]
        command += [f"--IdentityProvider.token={TOKEN}", f"--ServerApp.root_dir={root}", f"--LabApp.app_settings_dir={scratch / 'app'}"]
        with open(scratch / "log", "w") as log:
            server = subprocess.Popen(command, stdout=log, stderr=log, env=env)
        url = f"http://127.0.0.1:{port}"
        try:
            for _ in range(300):
                if server.poll() is not None:
                    raise RuntimeError((scratch / "log").read_text()[-2000:])
                try:
                    urllib.request.urlopen(f"{url}/api/status?token={TOKEN}", timeout=1)
                    break
                except OSError:
                    time.sleep(0.1)
            yield url
        finally:
            server.terminate()
            server.wait(20)


def open_and_run(page, url, name):
    """Open a notebook alone, run all its cells; True if every cell ran."""
    page.goto(f"{url}/doc/tree/{name}?token={TOKEN}&reset")
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60_000)
    page.wait_for_function(READY, timeout=60_000, polling=100)
    return page.evaluate("async () => await window.jupyterapp.commands.execute('notebook:run-all-cells')")


def slider(page, cell):
    """The first slider of a cell, with the focus."""
    handle = page.locator(".jp-Notebook .jp-Cell").nth(cell).get_by_role("slider").first
    handle.wait_for(timeout=30_000)
    handle.focus()
    return handle


def presses(page, cell, count):
    """Milliseconds of each of count key presses, to and fro."""
    slider(page, cell)
    page.wait_for_timeout(1000)
    out = []
    for at in range(count + 3):
        page.evaluate(ARM, cell)
        page.keyboard.press("ArrowRight" if at % 6 < 3 else "ArrowLeft")
        out.append(page.evaluate("() => window.took"))
        page.wait_for_timeout(120)
    return out[3:]  # the first ones warm up


def held(page, count=40):
    """A key held down, 30 ms between its repeats: (ms from the last press to the last picture, pictures drawn, all agree)."""
    handle = slider(page, 0)
    page.keyboard.press("Home")
    page.wait_for_timeout(800)
    page.evaluate(COUNT)
    for _ in range(count):
        page.keyboard.down("ArrowRight")
        page.wait_for_timeout(30)
    page.keyboard.up("ArrowRight")
    page.wait_for_timeout(2500)
    lag, drawn = page.evaluate("() => [window.pictures.at(-1) - window.pressed, window.pictures.length]")
    box = page.locator(".st-row input").first.input_value()
    return lag, drawn, float(box) == float(handle.get_attribute("aria-valuenow"))


def blank_frames(page, count):
    """(blank frames in a screencast of count presses, blank frames of the deliberate flash, frames, px the picture moved)."""
    picture = page.locator("img.st-picture")
    slider(page, 0)
    frames = []
    session = page.context.new_cdp_session(page)

    def keep(event):
        frames.append(event["data"])
        session.send("Page.screencastFrameAck", {"sessionId": event["sessionId"]})

    session.on("Page.screencastFrame", keep)
    box = picture.bounding_box()
    moved = 0.0
    session.send("Page.startScreencast", {"format": "png", "everyNthFrame": 1})
    for at in range(count):
        page.keyboard.press("ArrowRight" if at % 6 < 3 else "ArrowLeft")
        page.wait_for_timeout(100)
        now = picture.bounding_box()
        moved = max(moved, abs(now["y"] - box["y"]), abs(now["height"] - box["height"]))
    normal = len(frames)
    for _ in range(3):
        page.evaluate(
            """() => { const p = document.querySelector('img.st-picture'); p.style.visibility = 'hidden';
                       setTimeout(() => { p.style.visibility = '' }, 60) }"""
        )
        page.wait_for_timeout(300)
    session.send("Page.stopScreencast")

    def contrast(data):
        image = Image.open(io.BytesIO(base64.b64decode(data))).convert("L")
        zoom = image.width / page.viewport_size["width"]
        x, y, w, h = (box[k] * zoom for k in ("x", "y", "width", "height"))
        return float(np.asarray(image.crop((int(x) + 2, int(y) + 2, int(x + w) - 2, int(y + h) - 2))).std())

    spread = [contrast(data) for data in frames]
    limit = 0.3 * statistics.median(spread[:normal])
    return sum(s < limit for s in spread[:normal]), sum(s < limit for s in spread[normal:]), normal, moved


def p95(values):
    return sorted(values)[max(0, round(0.95 * len(values)) - 1)]


def write(root, name, cells):
    book = new_notebook(cells=[new_code_cell(c.strip()) for c in cells])
    book.metadata.kernelspec = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(book, root / name)


def main():
    from steelthermo.teaching import panels

    options = argparse.ArgumentParser(description="key press to new picture, for every panel")
    options.add_argument("panels", nargs="*", help="names; none: all panels and the sample")
    options.add_argument("--presses", type=int, default=30)
    options.add_argument("--shots", type=Path)
    options = options.parse_args()
    names = options.panels or ["sample", *panels.names()]
    print(f"{'panel':24} {'median':>7} {'p95':>6} | {'interact':>8} {'p95':>6} {'ratio':>6} | held: ms behind, pictures | the same slowed | blank | moved px")
    with tempfile.TemporaryDirectory() as root, jupyterlab(root) as url, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), headless=True, args=FLAGS)
        for name in names:
            make = "from sample_panel import sample; p = sample()"
            if name != "sample":
                make = f"from steelthermo.teaching import panels; p = panels.panel({name!r})"
            cell = PANEL_CELL.format(tests=str(HERE), root=str(HERE.parent), make=make)
            write(Path(root), f"{name}.ipynb", [cell, INTERACT_CELL])
            write(Path(root), f"{name}-slow.ipynb", [cell, SLOW_CELL])
            context = browser.new_context(viewport={"width": 1280, "height": 800})
            page = context.new_page()
            if open_and_run(page, url, f"{name}.ipynb") is not True:
                print(f"{name:24} a cell failed")
                continue
            ours = presses(page, 0, options.presses)
            plain = presses(page, 1, options.presses)
            lag, drawn, agree = held(page)
            blank, control, frames, moved = blank_frames(page, options.presses)
            if options.shots:
                options.shots.mkdir(parents=True, exist_ok=True)
                page.screenshot(path=options.shots / f"{name}.png")
            open_and_run(page, url, f"{name}-slow.ipynb")
            slow = held(page)
            context.close()
            middle, other = statistics.median(ours), statistics.median(plain)
            print(
                f"{name:24} {middle:7.0f} {p95(ours):6.0f} | {other:8.0f} {p95(plain):6.0f} {other / middle:6.1f} | "
                f"{lag:.0f}, {drawn}, {'agree' if agree else 'BEHIND'} | {slow[0]:.0f}, {slow[1]}, {'agree' if slow[2] else 'BEHIND'} | "
                f"{blank} of {frames} (flash: {control} seen) | {moved:.0f}",
                flush=True,
            )
        browser.close()


if __name__ == "__main__":
    sys.path.insert(0, str(HERE.parent))
    main()
