"""Panels in a language that nobody speaks, whose texts are 40 % longer (tests/tools/pseudo.py):
nothing is cut off, nothing has to be scrolled sideways.
"""

import pseudo
import pytest
from harness import jupyterlab, opened

from steelthermo.base import LANGUAGE

pytestmark = pytest.mark.long
PANELS = ("start_here", "order_of_oxidation", "heat_balance", "end_point")

# Labels, buttons, menus, sentences and tables of a panel that are wider or higher than their place
CUT = """panel => [...panel.querySelectorAll(
  '.widget-label, button, .widget-html-content, .st-row, .st-buttons, .st-controls')]
  .filter(e => e.offsetParent !== null && getComputedStyle(e).overflowX !== 'auto'
    && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 2))
  .map(e => e.className + ': ' + e.textContent.slice(0, 60))"""


@pytest.fixture(scope="module")
def sheet(chromium, tmp_path_factory):
    folder = tmp_path_factory.mktemp("longer")
    pseudo.write(folder / "pseudo.po")
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv(LANGUAGE, str(folder / "pseudo.po"))
        with jupyterlab(folder / "mine") as lab:
            lab.write(
                "panels.ipynb",
                "from steelthermo import course",
                *(f"course.panel({name!r})" for name in PANELS),
            )
            with opened(chromium, lab) as page:
                assert page.open_and_run("panels.ipynb") is True, page.error_outputs()
                yield page


@pytest.mark.parametrize("width,height", [(1366, 768), (683, 768)])
def test_nothing_is_cut_off(sheet, width, height):
    """The second size is the first at 200 % zoom."""
    sheet.page.set_viewport_size({"width": width, "height": height})
    panels = sheet.page.locator(".st-panel")
    assert panels.count() == len(PANELS)
    for panel in panels.all():
        panel.scroll_into_view_if_needed()
        for button in panel.locator(".st-buttons button").all()[1:]:
            if "Shów" in button.inner_text():
                button.click()
        assert panel.evaluate("e => e.scrollWidth - e.clientWidth") <= 1
        assert panel.evaluate(CUT) == []
    assert sheet.kernel_errors() == [] and sheet.page_errors == []
