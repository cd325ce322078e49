"""Every lesson and exercise, read by axe-core in a real browser, in the light and the dark theme.
Run by hand: python tests/tools/axe.py [NOTEBOOK ...]

Prints what axe finds in markup of ours (panels, exercise pages, still pictures, the text of the
lessons), by impact, and counts what lies in JupyterLab's own. All cells are run, the parts behind
the "Show ..." buttons opened, and a learner signed in. Ends with 1 if a fault of ours is serious or
critical or a notebook does not run, and with 2 if the control fails: a slider whose name was taken
away must be found.

axe-core comes from npm into a temporary folder; --axe FILE takes axe.min.js from there instead.
Needs playwright and a chromium.
"""

import argparse
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections import Counter
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(ROOT), str(HERE.parent / "browser")]

from harness import browser, jupyterlab, opened

THEMES = ("JupyterLab Light", "JupyterLab Dark")
IMPACTS = ("critical", "serious", "moderate", "minor")
# what cells show is ours, whatever shows it
OURS = ".st-panel, .st-exercise, .st-still, .jp-RenderedMarkdown, .jp-OutputArea-output"
# axe reads the notebook that is shown; each fault is told with the place it lies in.
READ = """async ours => { const found = await axe.run('.jp-Notebook', { elementRef: true,
    resultTypes: ['violations'] });
  return found.violations.flatMap(v => v.nodes.map(n => ({ rule: v.id, help: v.help,
    impact: n.impact || v.impact,
    place: (n.element.closest(ours) || { className: '' }).className.split(' ')
      .find(c => /^(st-|bd-article|jp-RenderedMarkdown|jp-OutputArea-output)/.test(c)) || '',
    html: n.html, why: [...n.any, ...n.all, ...n.none].map(c => c.message).join('; ') }))) }"""
SET_THEME = (
    "async theme => { await jupyterapp.commands.execute('apputils:change-theme', { theme }) }"
)


def axe_source(folder):
    """The text of axe.min.js, packed by npm into the folder."""
    npm = shutil.which("npm")
    if npm is None:
        raise SystemExit("npm is not installed: give --axe FILE")
    subprocess.run(
        [npm, "pack", "axe-core", "--silent"], cwd=folder, check=True, stdout=subprocess.DEVNULL
    )
    (archive,) = Path(folder).glob("axe-core-*.tgz")
    with tarfile.open(archive) as packed:
        return packed.extractfile("package/axe.min.js").read().decode("utf-8")


def open_everything(sheet):
    """Sign a learner in where a name is asked for, and open what is behind the buttons."""
    page = sheet.page
    name = page.get_by_label("Your name")
    page.wait_for_timeout(500)
    if name.count() and name.first.is_visible() and not name.first.input_value():
        name.first.fill("Zoë Tester")
        name.first.press("Enter")
        page.wait_for_timeout(2500)
    buttons = page.locator(".st-panel button, .st-exercise button").filter(has_text="Show ")
    for button in buttons.element_handles():  # a locator finds others once one says "Hide"
        if button.is_visible() and button.is_enabled():
            button.click()
    page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true })")
    page.wait_for_timeout(400)


def faults(sheet, source):
    """What axe finds on the page as it stands."""
    if not sheet.page.evaluate("() => !!window.axe"):
        sheet.page.evaluate(source)
    return sheet.page.evaluate(READ, OURS)


def control_holds(sheet, source):
    """True if axe finds a slider whose name is taken away."""
    handle = sheet.page.locator(".st-panel [role=slider]").first
    handle.evaluate(
        "e => { e.dataset.kept = e.getAttribute('aria-label'); e.removeAttribute('aria-label') }"
    )
    found = any(
        f["place"] and f["impact"] in ("serious", "critical") and "slider" in f["html"]
        for f in faults(sheet, source)
    )
    handle.evaluate("e => e.setAttribute('aria-label', e.dataset.kept)")
    return found


def main():
    options = argparse.ArgumentParser(description="axe-core on every lesson and exercise")
    options.add_argument(
        "notebooks", nargs="*", help="such as lessons/08_heat_balance.ipynb; none: all"
    )
    options.add_argument("--axe", type=Path, help="axe.min.js to use")
    options = options.parse_args()
    names = options.notebooks or [
        p.relative_to(ROOT).as_posix()
        for room in ("lessons", "exercises")
        for p in sorted((ROOT / room).glob("*.ipynb"))
        if p.stem != "trainer"  # brought by --trainer alone
    ]
    row = "{:<44} {:<6} {:>8} {:>8} {:>8} {:>8} {:>10}".format
    print(row("notebook", "theme", *IMPACTS, "JupyterLab"))
    ours, theirs, unread, control = {}, Counter(), [], None
    with tempfile.TemporaryDirectory() as folder:
        source = options.axe.read_text(encoding="utf-8") if options.axe else axe_source(folder)
        with jupyterlab(Path(folder) / "work") as lab, browser() as chromium:
            for name in names:
                with opened(chromium, lab) as sheet:
                    if sheet.open_and_run(name) is not True:
                        print(name, *sheet.error_outputs(), sep="\n  ", flush=True)
                        unread.append(name)
                        continue
                    open_everything(sheet)
                    for theme in THEMES:
                        sheet.page.evaluate(SET_THEME, theme)
                        sheet.page.wait_for_timeout(700)
                        found = faults(sheet, source)
                        inside = [f for f in found if f["place"]]
                        theirs.update(
                            (f["rule"], f["html"].split(">")[0][:90])
                            for f in found
                            if not f["place"]
                        )
                        count = Counter(f["impact"] for f in inside)
                        print(
                            row(
                                name,
                                theme.split()[-1],
                                *(count[i] for i in IMPACTS),
                                len(found) - len(inside),
                            ),
                            flush=True,
                        )
                        for f in inside:
                            ours.setdefault(
                                (IMPACTS.index(f["impact"]), f["rule"], f["place"]), []
                            ).append((name, theme, f))
                    if control is None and sheet.page.locator(".st-panel [role=slider]").count():
                        control = control_holds(sheet, source)
    for (impact, rule, place), cases in sorted(ours.items()):
        name, theme, f = cases[0]
        print(
            f"\n{IMPACTS[impact]}: {rule} in {place}, {len(cases)} times: {f['help']}\n  {name} "
            f"({theme}): {f['html'][:240]}\n  {f['why'][:300]}"
        )
    print(
        "\nin JupyterLab's own markup:",
        *(f"{times:>4} {rule}: {html}" for (rule, html), times in theirs.most_common()),
        sep="\n",
    )
    if unread:
        print("not read, as a cell raised an error:", ", ".join(unread))
    if control is False:
        print("The control failed: a slider without a name was not found.")
        return 2
    print(
        f"control (a slider without a name is found): {'held' if control else 'no slider was seen'}"
    )
    return int(bool(unread) or any(impact < 2 for impact, *_ in ours))


if __name__ == "__main__":
    sys.exit(main())
