"""How fast the panels are in a real browser. Run by hand: python tests/latency.py [panel ...]  (no
panel named: all, and the sample)

For every panel it prints, from 30 key presses on its first slider that changes the picture:
- median and 95th percentile of the time from the key press to the new picture, two frames after it
was decoded (the
  strictest reading of 'on the screen': a bare text label takes 40 ms by it), beside the same figure
  drawn by Matplotlib's own texts and bars in plain `interact` on the same machine in the same run,
  and how many times faster; in brackets the same until the picture is decoded;
- a held key: how long after the last key press the last picture came, and how many pictures were
drawn for 40 presses,
  with the panel as it is and with a compute slowed to 80 ms;
- blank frames in a screencast of 30 presses, with a deliberate flash as the control, and how far
the picture moved on the page.

With --each it prints for every slider of the panel instead: the time from key press to new picture,
two frames after it was decoded, median and 95th percentile, of presses that all ask for a value
never shown before (from the low end of the range to the right), so that nothing comes from memory;
presses that changed no picture (a case that is refused) are counted apart.

With --work no browser is opened: for every slider it prints the processor time of one redraw in the
kernel, and of it the calculation, ms. A busy machine slows it by its caches alone, to some 1.6
times; aim: below 60 ms idle.

Needs playwright and a chromium ($CHROMIUM, else /usr/bin/chromium). Aim: median below 65 ms, 95th
percentile below 90 ms, at least 5 times faster than interact, no blank frame. Options: --each,
--presses N, --shots FOLDER (keep screenshots).
Whatever else runs on the machine is in the figures: it must be idle, or this must come first (nice
-n -15 python tests/latency.py ..., as root).
"""

import argparse
import base64
import io
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from PIL import Image

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE), str(HERE / "browser")]

from harness import browser, jupyterlab, opened
from sample_panel import sample

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit import use
from steelthermo.coursekit.panel import make_panel

use(STEEL)
MAKE_SAMPLE = (
    f"import sys; sys.path[:0] = [{str(HERE)!r}]; from sample_panel import sample; p = sample()\np"
)
MAKE = "from steelthermo import course; p = course.panel({name!r})\np"
INTERACT_CELL = """
import matplotlib.pyplot as plt
from ipywidgets import interact, Dropdown, FloatSlider
from steelthermo.coursekit.panel import style
def plain(**settings):
    record = p.compute(**settings)
    with plt.rc_context(style.RC):
        fig = plt.figure(figsize=(p.drawing.width_px / 100, p.drawing.height_px / 100), dpi=100)
        p.drawing.update(p.drawing.setup(fig), record)
        for artist in fig.findobj():
            artist.set_animated(False)
        plt.show()
    print(p.sentence(record))
interact(plain, **{
  c.name: Dropdown(options=list(c.choices), value=c.default) if c.choices is not None
                   else FloatSlider(min=c.low, max=c.high, step=c.step, value=c.default)
  for c in p.controls});
"""
SLOW_CELL = """
import time
fast = p.compute
def slow(**settings):
    time.sleep(0.08)
    return fast(**settings)
p.compute = slow
"""
NO_PICTURE = 3000  # ms after which no new picture is waited for
# Resolves, after the next key press, to the milliseconds until another picture stands decoded in
# the cell, and until two frames later.
ARM = """cell => { window.took = new Promise(done => {
  const area =
    document.querySelectorAll('.jp-Notebook .jp-Cell')[cell].querySelector('.jp-Cell-outputArea');
  const shown = () => [...area.querySelectorAll('img.st-picture, .jp-RenderedImage img')].at(-1);
  const old = shown()?.src; let start;
  document.addEventListener('keydown',
    () => { start = performance.now(); }, { capture: true, once: true });
  const watch = new MutationObserver(() => { const img = shown();
    if (!img || img.src === old || start === undefined) return;
    watch.disconnect(); clearTimeout(late);
    img.decode().catch(() => 0).then(() => { const decoded = performance.now() - start;
      requestAnimationFrame(() =>
        requestAnimationFrame(() => done([performance.now() - start, decoded]))) }) });
  const late = setTimeout(() => { watch.disconnect(); done([NO_PICTURE, NO_PICTURE]) }, NO_PICTURE);
  watch.observe(area, { subtree: true, childList: true,
    attributes: true, attributeFilter: ['src'] }); }) }""".replace("NO_PICTURE", str(NO_PICTURE))
COUNT = """() => { const img = document.querySelector('img.st-picture');
  window.pictures = []; window.pressed = 0;
  document.addEventListener('keydown',
    () => { window.pressed = performance.now(); }, { capture: true });
  new MutationObserver(() => window.pictures.push(performance.now())).observe(img,
    { attributes: true, attributeFilter: ['src'] }) }"""


def slider(page, cell, number=0):
    """A slider of a cell, with the focus."""
    handle = page.locator(".jp-Notebook .jp-Cell").nth(cell).get_by_role("slider").nth(number)
    handle.wait_for(timeout=30_000)
    handle.focus()
    return handle


def presses(page, cell, number, count):
    """Milliseconds of each of count key presses, to and fro: two lists, two frames after the
    picture is decoded and until then.
    """
    slider(page, cell, number)
    area = page.locator(".jp-Notebook .jp-Cell").nth(cell)
    area.locator("img.st-picture, .jp-RenderedImage img").first.wait_for(timeout=30_000)
    page.wait_for_timeout(1000)
    out = []
    for at in range(count + 3):
        page.evaluate(ARM, cell)
        page.keyboard.press("ArrowRight" if at % 6 < 3 else "ArrowLeft")
        out.append(page.evaluate("() => window.took"))
        page.wait_for_timeout(120)
    return list(
        zip(*(pair for pair in out[3:] if pair[0] < NO_PICTURE), strict=True)
    )  # the first ones warm up; a step too small to see changes nothing


def onwards(page, number, count):
    """Milliseconds of each of count key presses to the right from the low end, every one a value
    not yet shown; those that changed no picture left out.
    """
    slider(page, 0, number)
    page.keyboard.press("Home")
    page.wait_for_timeout(1500)
    out = []
    for _ in range(count):
        page.evaluate(ARM, 0)
        page.keyboard.press("ArrowRight")
        out.append(page.evaluate("() => window.took")[0])
        page.wait_for_timeout(150)
    return [took for took in out if took < NO_PICTURE]


def each_slider(chromium, lab, name, count):
    """Prints a row for every slider of a panel. Reset in between: all others stand at their
    defaults.
    """
    panel = make_panel(name)
    lab.write(f"{name}.ipynb", MAKE.format(name=name))
    with opened(chromium, lab, height=900) as sheet:
        if sheet.open_and_run(f"{name}.ipynb") is not True:
            print(name, *sheet.error_outputs(), sep="\n")
            return
        more = sheet.page.get_by_role("button", name="More controls")
        if more.count():  # those folded stand behind the others
            more.click()
        shown = [c for c in panel.controls if c.choices is None]
        for number, control in enumerate(sorted(shown, key=lambda c: c.folded)):
            steps = min(count, round((control.high - control.low) / control.step))
            took = onwards(sheet.page, number, steps)
            sheet.page.get_by_role("button", name="Reset").first.click()
            sheet.page.wait_for_timeout(500)
            figures = (
                (f"{statistics.median(took):.0f}", f"{p95(took):.0f}", f"{max(took):.0f}")
                if took
                else ("-", "-", "-")
            )
            print(
                f"{name:<20} {control.name:<24} {figures[0]:>6} {figures[1]:>5} {figures[2]:>5} "
                f"{len(took):>4} of {steps}",
                flush=True,
            )
    print(f"{'':<20} load of the machine: {os.getloadavg()[0]:.1f}", flush=True)


def work(name, count):
    """Prints a row for every slider of a panel: processor time of a redraw, as often as count."""
    panel, spent = make_panel(name), []
    compute = panel.compute

    def counted(**settings):
        start = time.process_time()
        try:
            return compute(**settings)
        finally:
            spent.append(time.process_time() - start)

    panel.compute = counted
    for control in (c for c in panel.controls if c.choices is None):
        panel.reset()
        spent.clear()
        took, step = [], (control.high - control.low) / (count + 1)
        for n in range(1, count + 1):
            start = time.process_time()
            panel.set(
                **{control.name: round((control.low + n * step) / control.step) * control.step}
            )
            took.append(time.process_time() - start)
        figures = (statistics.median(took), p95(took), max(took), statistics.median(spent))
        told = " ".join(f"{1000.0 * x:>6.0f}" for x in figures)
        print(f"{name:<20} {control.name:<24} {told}", flush=True)


def held(page, number, count):
    """A key held down, 30 ms between its repeats: 'ms from the last press to the last picture,
    pictures drawn of so many presses'.
    """
    handle = slider(page, 0, number)
    page.keyboard.press("Home")
    page.wait_for_timeout(800)
    page.evaluate(COUNT)
    for _ in range(count):
        page.keyboard.down("ArrowRight")
        page.wait_for_timeout(30)
    page.keyboard.up("ArrowRight")
    page.wait_for_timeout(2500)
    lag, drawn = page.evaluate(
        "() => [window.pictures.at(-1) - window.pressed, window.pictures.length]"
    )
    box = page.locator(".st-row:has([role=slider]) input").nth(number).input_value()
    behind = "" if float(box) == float(handle.get_attribute("aria-valuetext")) else " BEHIND"
    return f"{lag:.0f} ms, {drawn} of {count}{behind}"


def blank_frames(page, number, count):
    """(blank frames in a screencast of count presses, blank frames of the deliberate flash, frames,
    px the picture moved).
    """
    picture = page.locator("img.st-picture")
    slider(page, 0, number)
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
            """() => { const p = document.querySelector('img.st-picture');
              p.style.visibility = 'hidden';
                       setTimeout(() => { p.style.visibility = '' }, 60) }"""
        )
        page.wait_for_timeout(300)
    session.send("Page.stopScreencast")

    def contrast(data):
        image = Image.open(io.BytesIO(base64.b64decode(data))).convert("L")
        zoom = image.width / page.viewport_size["width"]
        x, y, w, h = (box[k] * zoom for k in ("x", "y", "width", "height"))
        return float(
            np.asarray(image.crop((int(x) + 2, int(y) + 2, int(x + w) - 2, int(y + h) - 2))).std()
        )

    spread = [contrast(data) for data in frames]
    limit = 0.3 * statistics.median(spread[:normal])
    return (
        sum(s < limit for s in spread[:normal]),
        sum(s < limit for s in spread[normal:]),
        normal,
        moved,
    )


def telling(panel):
    """(place among the sliders, Control) of the first one whose next step changes the picture."""
    at_first = panel.still()[0]
    for number, control in enumerate(c for c in panel.controls if c.choices is None):
        if control.used is not None and not control.used(panel.settings):
            continue  # it stands grey
        panel.set(**{control.name: min(control.high, control.default + control.step)})
        changed = panel.still()[0] != at_first
        panel.reset()
        if changed:
            return number, control
    raise SystemExit(f"{panel.name}: no slider changes the picture")


def p95(values):
    return sorted(values)[max(0, round(0.95 * len(values)) - 1)]


def main():
    options = argparse.ArgumentParser(description="key press to new picture, for every panel")
    options.add_argument("panels", nargs="*", help="names; none: all panels and the sample")
    options.add_argument(
        "--each", action="store_true", help="every slider of each panel, presses to new values only"
    )
    options.add_argument("--work", action="store_true", help="processor time in the kernel only")
    options.add_argument("--presses", type=int, default=30)
    options.add_argument("--shots", type=Path, help="folder for a picture of every page")
    options = options.parse_args()
    if options.work:
        print(
            f"{'panel':<20} {'slider':<24} {'median':>6} {'p95':>6} {'most':>6} of it calculation"
        )
        for name in options.panels or STEEL.panels:
            work(name, options.presses)
        return
    if options.each:
        print(f"{'panel':<20} {'slider':<24} {'median':>6} {'p95':>5} {'most':>5}  presses")
        with (
            tempfile.TemporaryDirectory() as folder,
            jupyterlab(Path(folder) / "work") as lab,
            browser() as chromium,
        ):
            for name in options.panels or STEEL.panels:
                each_slider(chromium, lab, name, options.presses)
        return
    heads = (
        "panel",
        "median",
        "p95",
        "interact",
        "p95",
        "ratio",
        "key held",
        "the same, slow",
        "blank frames",
        "moved",
    )
    row = "{:<22} {:>9} {:>5} {:>9} {:>5} {:>10}  {:<18} {:<18} {:<22} {:>6}".format
    print(row(*heads))
    with (
        tempfile.TemporaryDirectory() as folder,
        jupyterlab(Path(folder) / "work") as lab,
        browser() as chromium,
    ):
        for name in options.panels or ["sample", *STEEL.panels]:
            panel = sample() if name == "sample" else make_panel(name)
            number, control = telling(panel)
            held_presses = min(40, round((control.high - control.low) / control.step) - 1)
            cell = MAKE_SAMPLE if name == "sample" else MAKE.format(name=name)
            lab.write(f"{name}.ipynb", cell)
            lab.write(f"{name}-interact.ipynb", cell.rsplit("\n", 1)[0], INTERACT_CELL)
            lab.write(f"{name}-slow.ipynb", cell, SLOW_CELL)
            with opened(chromium, lab, height=900) as sheet:
                if sheet.open_and_run(f"{name}.ipynb") is not True:
                    print(name, *sheet.error_outputs(), sep="\n")
                    continue
                ours = presses(sheet.page, 0, number, options.presses)
                quick = held(sheet.page, number, held_presses)
                blank, flash, frames, moved = blank_frames(sheet.page, number, options.presses)
                if options.shots:
                    options.shots.mkdir(parents=True, exist_ok=True)
                    sheet.page.screenshot(path=options.shots / f"{name}.png")
                sheet.open_and_run(f"{name}-slow.ipynb")
                slow = held(sheet.page, number, held_presses)
                sheet.open_and_run(f"{name}-interact.ipynb")
                plain = presses(sheet.page, 1, number, options.presses)
            (ours, ours_decoded), (plain, plain_decoded) = ours, plain
            middle = [
                round(statistics.median(values))
                for values in (ours, ours_decoded, plain, plain_decoded)
            ]
            cells = (
                f"{middle[0]} ({middle[1]})",
                f"{p95(ours):.0f}",
                f"{middle[2]} ({middle[3]})",
                f"{p95(plain):.0f}",
            )
            ratio = f"{middle[2] / middle[0]:.1f} ({middle[3] / middle[1]:.1f})"
            print(
                row(
                    name,
                    *cells,
                    ratio,
                    quick,
                    slow,
                    f"{blank} of {frames}, flash {flash}",
                    f"{moved:.0f} px",
                )
            )
            print(f"{'':<22} load of the machine: {os.getloadavg()[0]:.1f}", flush=True)


if __name__ == "__main__":
    main()
