"""Browsing the checks, and the panel of lesson 16: what is shown is what was computed; filters,
paging, page to print, refusals.
"""

import re

import numpy as np
import pytest
from matplotlib.patches import StepPatch

from steelthermo.base import InputError
from steelthermo.course.l16_how_sure_are_we import published as table
from steelthermo.course.l16_how_sure_are_we.panel import MOVED, control_name, grouped
from steelthermo.coursekit.page import PAGE
from steelthermo.coursekit.panel import make_panel
from steelthermo.trust import heats, published
from steelthermo.works import inputs


@pytest.fixture(scope="module")
def shown():
    return table.show()


@pytest.fixture(autouse=True)
def afresh(shown):
    shown.choose()


def rows_of(shown):
    return re.findall(r"<tr(?: class=st-off)?>(?!<th scope=\"col\")(.*?)</tr>", shown._body.value)


def test_everything_is_there_page_by_page(shown):
    seen = []
    while True:
        seen += [re.search(r'<th scope="row">(.*?)</th>', r)[1] for r in rows_of(shown)]
        if shown.later.disabled:
            break
        shown.later.click()
    assert len(seen) == len(published.results()) >= 400
    assert not shown.earlier.disabled
    for _ in range(40):
        shown.earlier.click()
    assert shown.start == 0 and shown.earlier.disabled


def test_filters_are_those_of_the_room(shown):
    shown.menus["verdict"].value = "disagrees"
    assert (
        {r.verdict for r in shown.chosen} == {"disagrees"}
        and "0 agree" in shown.text
        and len(rows_of(shown)) == min(PAGE, len(shown.chosen))
    )
    shown.menus["room"].value = "thermo.reactions"
    assert {r.check.room for r in shown.chosen} == {"thermo.reactions"}
    shown.search.value = "nozzle"
    assert shown.chosen == () and "No row fits" in shown.text and shown._body.value == ""
    shown.everything.click()
    assert len(shown.chosen) == len(published.results()) and shown.search.value == ""
    shown.menus["source"].value = "campbell"
    assert len(shown.chosen) == 6 and all("Campbell" in row for row in rows_of(shown))


def test_largest_difference_first(shown):
    shown.choose(order=True)
    sizes = [abs(r.relative) for r in shown.chosen]
    assert sizes == sorted(sizes, reverse=True) and sizes[0] > 1.0


def test_a_row_says_all_of_a_check(shown):
    r = next(r for r in published.results() if "scrap for 100 t" in r.check.quantity)
    shown.choose(text="scrap for 100 t")
    (row,) = rows_of(shown)
    row = row.replace("\N{NO-BREAK SPACE}", " ")
    for words in (
        "10",
        "13.88",
        "DISAGREES",
        r.check.rule,
        r.check.worth,
        "lecture 11",
        r.check.reason,
        "+39 %",
    ):
        assert words in row, words


def test_the_picture_follows_and_has_words(shown):
    before = shown.png
    shown.menus["verdict"].value = "agrees"
    assert shown.png != before and "substances" in shown.alt() and shown.alt() in shown._say.value


def test_controls_have_names_and_nothing_is_unescaped(shown):
    assert all(control.description.strip() for control in shown.filters)
    shown.search.value = "<script>alert(1)</script>"
    assert "<script>alert" not in shown._body.value + shown._say.value and shown.chosen == ()
    with pytest.raises(InputError, match="allowed are thermo.substances"):
        shown.choose(room="kitchen")


def test_page_to_print(tmp_path):
    path = table.save_page(tmp_path / "checks.html")
    html = path.read_text(encoding="utf-8").replace("\N{NO-BREAK SPACE}", " ")
    assert html.count("<tr") >= len(published.results()) and 'lang="en"' in html
    for r in published.results()[::37]:
        assert table.escape(r.check.quantity) in html
    assert table.save_page(path) == path  # its own page is written anew
    other = tmp_path / "mine.html"
    other.write_text("my notes")
    with pytest.raises(InputError, match="another file"):
        table.save_page(other)
    assert other.read_text() == "my notes"
    with pytest.raises(InputError, match="cannot be written"):
        table.save_page(tmp_path / "no" / "such" / "folder.html")


# ---- the panel -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def panel():
    return make_panel("how_sure_are_we")


def test_panel_shows_the_sample(panel):
    panel.reset()
    h = heats(n=panel.settings["n"])
    assert (
        f"{h.spread('temperature'):.1f} °C" in panel.text
        and f"{h.within()['both']:.0f} % within both" in panel.text
    )
    by_name = dict(zip(MOVED, grouped(panel.result.shares["temperature"]), strict=False))
    assert by_name["oxygen_nm3"] == pytest.approx(100 * h.shares()["oxygen_nm3"])
    assert sum(grouped(panel.result.shares["temperature"])) == pytest.approx(100.0, abs=6.0)
    assert "oxygen meter" in panel.alt_text
    assert "other data, published or not verified" in panel.alt_text


def test_bars_are_the_heats(panel):
    """Bars add up to the heats on the scale; those of the window to the share within it."""
    panel.reset()

    steps = [p for p in panel._picture.figure.axes[0].patches if isinstance(p, StepPatch)]
    (counts, edges, _), (near, _, _) = (p.get_data() for p in steps)
    h = panel.result.heats
    inside = np.mean((h.temp_c >= edges[0]) & (h.temp_c <= edges[-1]) & h.feasible)
    assert counts.sum() == pytest.approx(100 * inside) and near.sum() == pytest.approx(
        panel.result.within["temperature"], abs=0.1
    )


def test_better_measurement_narrower_heats(panel):
    panel.reset()
    wide = panel.result.heats.spread("temperature")
    panel.set(oxygen_pct=0.0, heat_mj_t=0.0)
    assert panel.result.heats.spread("temperature") < 0.75 * wide
    assert panel.result.shares["temperature"]["oxygen_nm3"] == 0.0
    panel.reset()


def test_every_slider_is_an_input_of_the_table(panel):
    sliders = {c.name: c for c in panel.controls if c.choices is None}
    assert set(sliders) == {control_name(key) for key in MOVED}
    assert all(
        sliders[control_name(key)].default == inputs()[key].start
        and sliders[control_name(key)].unit == inputs()[key].unit
        for key in MOVED
    )
    rows = panel.numbers(panel.result)
    assert any("root of the sum of squares" in r[0] for r in rows) and sum(
        "One spread of" in r[0] for r in rows
    ) == len(inputs())


# ---- what rests on memory ------------------------------------------------------------------------


def test_browsing_what_rests_on_memory():
    from steelthermo.course.l16_how_sure_are_we.memory_table import show
    from steelthermo.trust import unverified

    shown, rows = show(), unverified()
    assert (
        shown.chosen == rows
        and f"{sum(r.status == 'memory' for r in rows)} from memory" in shown.text
    )
    shown.choose(effect=True, status="memory")
    assert (
        all(r.status == "memory" and r.effect != "none known" for r in shown.chosen)
        and len(shown.chosen) > 30
    )
    shown.choose("critical carbon")
    assert (
        any(r.table == "end_of_blow" for r in shown.chosen)
        and "end of the blow" in shown._body.value
    )
    shown.choose("critical_carbon_pct")
    (row,) = (r for r in shown.chosen if r.table == "end_of_blow")
    assert '<th scope="row">critical carbon: below it' in shown.row(row)
    assert "<td>0.25 %</td>" in shown.row(row) and "<code>critical_carbon_pct</code>" in shown.row(
        row
    )
    # words beside every key
    assert not [r for r in rows if r.what == r.name or r.what.startswith("see ")]
    with pytest.raises(InputError, match="allowed are table, status, effect"):
        shown.choose(room="slag")
    shown.choose("<b>")
    assert shown.chosen == () and shown._body.value == ""
