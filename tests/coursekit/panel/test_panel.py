"""The panels: what the framework promises, and a walk over every panel of the course (labels,
ranges, every end of every control, contrast, alt text).
"""

import base64
import io
import json
import math
import re
import subprocess
import sys
import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from sample_panel import CONTROLS, DATA, sample

from steelthermo.base import VERIFIED, InputError, sources, table
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit import html
from steelthermo.coursekit.answers import bound
from steelthermo.coursekit.panel import (
    NONE_KNOWN,
    Control,
    Drawing,
    Panel,
    Picture,
    case_text,
    choice,
    make_panel,
    markup,
    png,
    read_case,
    style,
)

DEFAULTS = {c.name: c.default for c in (*CONTROLS, DATA)}
MOST_IN_SIGHT = 6  # controls before a learner asks for more
TEMP = next(c for c in CONTROLS if c.name == "start_temp_c")


@pytest.fixture(scope="module")
def shared():
    return sample()


@pytest.fixture
def panel(shared):
    shared.unlock()
    shared._density.value = "2"
    shared.reset()
    return shared


def pixels(data):
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"), dtype=int)


# ---- colours: WCAG 2.1 and colour blindness ------------------------------------------------------

# Machado, Oliveira & Fernandes (2009), IEEE Trans. Vis. Comput. Graph. 15(6) 1291-1298, severity
# 1.0, for linear RGB; read in the file cvd.py of the package colorspacious 1.1.2, which holds their
# supplementary data.
SIGHT = {
    "full colour vision": np.eye(3),
    "protanopia": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "deuteranopia": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
}
# IEC 61966-2-1 (sRGB): linear RGB to CIE XYZ for D65, from memory; each row of the middle line is
# the luminance of a primary.
TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
COLOURS = [s.colour for s in style.SERIES]


def linear(colour):
    c = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return np.where(c <= 0.03928, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def contrast(a, b):
    """Contrast ratio by WCAG 2.1, definitions 'contrast ratio' and 'relative luminance'."""
    low, high = sorted(float(np.dot([0.2126, 0.7152, 0.0722], linear(c))) for c in (a, b))
    return (high + 0.05) / (low + 0.05)


def lab(rgb):
    """CIE 1976 L*a*b* of a linear RGB colour."""
    xyz = TO_XYZ @ np.clip(rgb, 0, 1) / (TO_XYZ @ np.ones(3))
    f = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def test_the_formulas_of_colour():
    # WCAG 2.1: black on white is 21 : 1, and #767676 is the lightest grey that passes 4.5 : 1 on
    # white
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")
    assert lab(linear("#ffffff"))[0] == pytest.approx(100.0)
    for matrix in SIGHT.values():
        assert np.sum(matrix, axis=1) == pytest.approx(1.0, abs=2e-6)  # grey is seen as grey


@pytest.mark.parametrize("colour", [*COLOURS, style.INK])
def test_every_colour_can_be_read_as_text_on_the_picture(colour):
    assert (
        contrast(colour, style.PAPER) >= 4.5
    )  # WCAG 2.1, 1.4.3, level AA; lines need 3 : 1 (1.4.11)


def test_what_marks_extrapolation_can_be_seen():
    assert contrast(style.HALO, style.PAPER) >= 3.0  # WCAG 2.1, 1.4.11


@pytest.mark.parametrize("sight", SIGHT)
def test_any_two_series_differ_for_every_eye(sight):
    seen = [lab(np.asarray(SIGHT[sight]) @ linear(c)) for c in COLOURS]
    nearest = min(np.linalg.norm(a - b) for i, a in enumerate(seen) for b in seen[:i])
    assert nearest > 20  # one just noticeable difference is about 2.3 (common practice, no source)


def in_the_dark(colour):
    """A colour as the style sheet shows it in a dark theme (W3C Filter Effects 1, invert(), on sRGB
    as it stands).
    """
    share = float(re.search(r"filter: invert\(([\d.]+)\);", html._asset("dark.css"))[1])
    c = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return "#" + "".join(f"{round(255 * (x + share * (1 - 2 * x))):02x}" for x in c)


@pytest.mark.parametrize("colour", [*COLOURS, style.INK, style.HALO])
def test_every_colour_can_be_read_in_a_dark_theme(colour):
    assert contrast(in_the_dark(colour), in_the_dark(style.PAPER)) >= 4.5
    assert contrast(in_the_dark(style.PAPER), "#111111") < 1.05  # the ground of JupyterLab's theme


@pytest.mark.parametrize("sight", SIGHT)
def test_any_two_series_differ_in_a_dark_theme(sight):
    seen = [lab(np.asarray(SIGHT[sight]) @ linear(in_the_dark(c))) for c in COLOURS]
    assert min(np.linalg.norm(a - b) for i, a in enumerate(seen) for b in seen[:i]) > 15


def test_any_two_series_differ_in_grey():
    lightness = sorted(lab(linear(c))[0] for c in COLOURS)
    assert np.diff(lightness).min() > 6
    for feature in ("dash", "marker", "hatch"):  # and without any colour at all
        assert len({getattr(s, feature) for s in style.SERIES}) == len(style.SERIES)


def test_a_bad_palette_is_noticed():
    red, green = (np.asarray(SIGHT["deuteranopia"]) @ linear(c) for c in ("#b03030", "#3f7a2a"))
    assert np.linalg.norm(lab(red) - lab(green)) < 20


@given(st.lists(st.floats(0, 1), min_size=1, max_size=8), st.floats(0.02, 0.12))
def test_end_labels_never_overlap(heights, gap):
    placed = np.array(style.spread(heights, gap))
    assert placed.min() >= -1e-9 and placed.max() <= 1 + 1e-9
    assert (np.diff(np.sort(placed)) >= gap - 1e-9).all()
    apart = np.diff(np.sort(heights))
    if (apart >= gap).all():
        assert placed == pytest.approx(heights)


# ---- picture -------------------------------------------------------------------------------------


def test_png_is_the_canvas(panel):
    canvas = np.asarray(panel._picture.canvas.buffer_rgba())
    assert (pixels(png(canvas)) == canvas[:, :, :3]).all()  # decoded by an independent library
    assert panel._image.value == b"data:image/png;base64," + base64.b64encode(panel.png)


def test_small_pictures_fill_one_segment():
    data = png(np.full((10, 10, 4), 255, np.uint8))
    assert len(base64.b64encode(data)) > 65_483 and (pixels(data) == 255).all()


def test_a_moved_picture_is_the_picture_drawn_afresh(panel):
    panel.set(start_c_pct=3.6, vessel=100.0)
    fresh = Picture(panel.drawing, scale=panel._picture.scale).draw(panel.result)
    assert (pixels(panel.png) == pixels(fresh)).all()
    before = pixels(panel.png)
    panel.set(start_c_pct=4.8)
    assert (pixels(panel.png) != before).any()
    panel.set(start_c_pct=3.6)
    assert (pixels(panel.png) == before).all()  # nothing of the case between is left


def test_full_redraw_on_demand():
    def setup(fig):
        ax = fig.add_subplot()
        return ax, style.line(ax, 0, [0, 1], [0, 1])

    def update(artists, record):
        ax, line = artists
        line.set_ydata([0, record])
        ax.set_ylim(0, record)
        return record

    def fresh(record, scale):
        return pixels(Picture(Drawing(setup, update, 300, 200), scale).draw(record))

    picture = Picture(Drawing(setup, update, 300, 200), scale=1)
    assert (fresh(1.0, 1) != fresh(7.0, 1)).any()
    for record in (1.0, 7.0, 1.0, *range(2, 12), 7.0, 1.0):  # more than it keeps
        assert (pixels(picture.draw(record)) == fresh(record, 1)).all(), record
    picture.rescale(2)
    assert (pixels(picture.draw(1.0)) == fresh(1.0, 2)).all()


def test_picture_size_and_density(panel):
    for density, scale in (("1", 1), ("2", 2), ("1.25", 1.25), ("3", 2), ("0.5", 1), ("abc", 1)):
        panel._density.value = density
        assert pixels(panel.png).shape == (380 * scale, 760 * scale, 3)
    panel._density.value = "2"
    assert (panel._image.width, panel._image.height) == ("760", "380")


def test_extrapolation_is_said_and_seen(panel):
    panel.set(flow_nm3_min=700)
    plain = pixels(panel.png)
    panel.set(flow_nm3_min=710)
    assert len(panel.remarks) == 1 and "above 700" in panel.remarks[0]
    assert "extrapolated: oxygen flow" in panel._say.value
    moved = (pixels(panel.png) != plain).any(axis=2).mean()
    assert moved > 0.05  # hatching covers the axes
    panel.set(flow_nm3_min=700)
    assert panel.remarks == () and (pixels(panel.png) == plain).all()


def test_other_warnings_pass_through():
    def compute(**settings):
        warnings.warn("look here", RuntimeWarning, stacklevel=1)
        return sample_compute(**settings)

    from sample_panel import compute as sample_compute

    with pytest.warns(RuntimeWarning, match="look here"):
        panel = sample(compute=compute)
    assert panel.remarks == ()


# ---- settings, words for faults, cases -----------------------------------------------------------


def test_settings_are_a_copy_and_set_moves_everything(panel):
    panel.settings["start_c_pct"] = 0
    assert panel.settings == DEFAULTS
    panel.set(start_temp_c=1342.5, vessel=100.0)
    assert panel.settings == DEFAULTS | {"start_temp_c": 1342.5, "vessel": 100.0}
    row = panel._rows[1]
    assert row._box.value == "1342.5" and row._slider.value in (
        1340.0,
        1345.0,
    )  # the slider shows the nearest step
    assert panel.error is None and "carbon is left" in panel.text
    panel.reset()
    assert panel.settings == DEFAULTS and row._box.value == "1340"


@pytest.mark.parametrize(
    "settings, words",
    [
        ({"flow": 1}, "'flow' was given"),
        ({"start_temp_c": 1900}, "1250 to 1450 °C"),
        ({"vessel": 3}, "small or large"),
    ],
)
def test_set_refuses_and_nothing_moves(panel, settings, words):
    with pytest.raises(InputError, match=re.escape(words)):
        panel.set(start_c_pct=4.0, **settings)
    assert panel.settings == DEFAULTS


@pytest.mark.parametrize(
    "text, value",
    [
        ("1300", 1300),
        (" 1 300 ", 1300),
        ("1342,5", 1342.5),
        ("1.3e3", 1300),
        ("1300 °C", 1300),
        ("1300°C", 1300),
        ("1,300", 1300),  # 1.3 would be out of range
        ("1,300.5", 1300.5),
        ("1.3·10^3", 1300),
        ("1573.15 K", 1300),
    ],
)
def test_typed_values_are_understood(panel, text, value):
    panel._rows[1]._box.value = text
    assert (
        panel.error is None
        and panel.settings["start_temp_c"] == panel._shown_settings["start_temp_c"]
        and panel.settings["start_temp_c"] == pytest.approx(value, rel=1e-12)
    )


@pytest.mark.parametrize(
    "text",
    [
        "hot",
        "",
        "20",
        "1e9",
        "1e999",
        "nan",
        "inf",
        "--5",
        "1300 1400 °",
        "<b>1300</b>",
        "1" * 40_000,
        "1300 kg",
        "True",
    ],
)
def test_typed_nonsense_is_answered_in_words(panel, text):
    before = panel.png
    panel._rows[1]._box.value = text
    assert (
        "Temperature at the start" in panel.error
        and "1250 to 1450 °C" in panel.error
        and len(panel.error) < 250
    )
    assert "last good case" in panel._say.value and "<b>" not in panel._say.value
    assert (
        panel.png is before and panel.settings == DEFAULTS and panel._rows[1]._box.value == text
    )  # to be mended
    panel._rows[1]._slider.value = 1345
    assert (
        panel.error is None
        and panel.settings["start_temp_c"] == 1345
        and panel._rows[1]._box.value == "1345"
    )


@given(st.floats(1250, 1450))
def test_what_a_control_writes_it_reads(value):
    assert TEMP.read(TEMP.text(value)) == pytest.approx(value, rel=1e-9)
    assert (TEMP.snap(value) - TEMP.low) / TEMP.step == pytest.approx(
        round((TEMP.snap(value) - TEMP.low) / TEMP.step)
    )
    assert abs(TEMP.snap(value) - value) <= TEMP.step / 2 + 1e-9


def test_a_slider_reports_a_step_once(panel):
    slider, calls = panel._rows[0]._slider, []
    compute = panel.compute
    panel.compute = lambda **s: calls.append(s["start_c_pct"]) or compute(**s)
    try:
        slider.value = 4.3500000000000005  # as the page sends it
        slider.value = 4.35
        assert calls == [4.35] and panel._rows[0]._box.value == "4.35"
        assert slider.value == 4.35  # and is not set back while the learner moves it
    finally:
        panel.compute = compute


@pytest.mark.parametrize(
    "losses, words",
    [(10.0, "this made-up vessel freezes at that"), (9.5, "ZeroDivisionError: made up")],
)
def test_faults_of_a_case_become_a_sentence_and_the_picture_stays(panel, losses, words):
    before, result = panel.png, panel.result
    panel._rows[3]._slider.value = losses
    assert (
        words in panel.error and words in panel._say.value and "Traceback" not in panel._say.value
    )
    assert panel.png is before and panel.result is result
    assert panel._rows[3]._box.value == f"{losses:.1f}" and panel.settings["losses_pct"] == losses
    panel._rows[3]._slider.value = 3.0
    assert panel.error is None and panel.png != b""


def test_nan_in_the_sentence_is_a_fault(panel):
    panel.sentence, keep = (lambda record: f"It is {math.nan:.1f} °C."), panel.sentence
    try:
        panel.set(start_c_pct=4.0)
        assert "no finite result" in panel.error
    finally:
        panel.sentence = keep


def test_a_panel_that_cannot_show_its_defaults_is_refused():
    def broken(**settings):
        raise InputError("no charge")

    with pytest.raises(InputError, match="no charge"):
        sample(compute=broken)


def test_share_and_load(panel):
    panel.set(start_temp_c=1342.5, vessel=100.0)
    text = panel.share()
    assert text == (
        "sample: start_c_pct=4.30; start_temp_c=1342.5; flow_nm3_min=500; losses_pct=3.0; "
        "vessel=small; data=the kit's own"
    )
    case = panel.settings
    panel.reset()
    panel.load(text)
    assert panel.settings == case
    panel.load(" sample:start_temp_c = 1342,5 ; vessel=SMALL;")
    assert panel.settings == DEFAULTS | {"start_temp_c": 1342.5, "vessel": 100.0}


BAD_CASES = [
    "",
    "sample",
    "other: start_c_pct=4",
    "sample: start_c_pct",
    "sample: carbon=4",
    "sample: start_c_pct=lots",
    "sample: vessel=huge",
    "x" * 40_000,
]


@pytest.mark.parametrize("text", BAD_CASES)
def test_a_bad_case_is_refused_in_words(panel, text):
    with pytest.raises(InputError) as fault:
        panel.load(text)
    assert len(str(fault.value)) < 400
    panel._case.value = text
    assert panel.settings == DEFAULTS and (panel.error or not text)
    panel._case.value = ""


@given(st.floats(3.5, 4.9), st.floats(0, 10), st.sampled_from([100.0, 180.0]))
def test_any_case_survives_the_text(carbon, losses, vessel):
    settings = {c.name: c.default for c in CONTROLS} | {
        "start_c_pct": carbon,
        "losses_pct": losses,
        "vessel": vessel,
    }
    assert read_case(case_text("sample", CONTROLS, settings), "sample", CONTROLS) == pytest.approx(
        settings, rel=1e-9, abs=1e-9
    )


def test_lock(panel):
    panel.lock("Predict first.")
    assert (
        panel.locked
        and all(p.disabled for r in panel._rows for p in r._parts)
        and panel._reset_button.disabled
    )
    assert "Predict first." in panel._say.value
    panel._case.value = "sample: start_c_pct=4.0"
    assert panel.settings == DEFAULTS and panel.error == "Predict first."
    panel.unlock()
    assert (
        not panel.locked
        and not any(p.disabled for r in panel._rows for p in r._parts)
        and "carbon is left" in panel._say.value
    )


# ---- other published data ------------------------------------------------------------------------


def test_other_data_are_chosen_beside_the_sources(panel):
    assert panel.controls[-1] is DATA and panel._readout.children == (
        panel._rows[-1].widget,
        panel._origin,
    )  # not among the sliders
    assert panel._rows[-1].widget not in panel.widget.children[2].children
    plain = panel.text
    panel._rows[-1]._menu.value = "janaf"
    # 4.3 exp(-20 x 500/180/18) % by hand, and 20 for 18
    assert (
        panel.text.startswith("After 20 min 0.196 % carbon is left")
        and panel.settings["data"] == "janaf"
    )
    both = (
        "With the kit's own data: carbon at the end 0.267 %; with the data chosen (made-up "
        "decay, faster): carbon at the end 0.196 %."
    )
    assert (
        panel.text.endswith(both) and panel.alt_text.endswith(both) and "0.196" in panel._say.value
    )  # the picture's words and the live region too
    assert "made-up constant" not in panel.text  # what does not move is not told
    panel._fill_sources()
    chosen, _, rest = panel._origin.value.partition("Everything else")
    assert "made-up decay, faster" in chosen and "JANAF" in chosen and "gas_constant" in rest
    panel.set(data="crc")
    assert (
        panel.text
        == plain
        + " With the kit's own data: the same as with the data chosen (made-up decay, the same)."
    )
    panel.reset()
    assert panel.text == plain and panel._rows[-1]._menu.value == "own"
    panel._fill_sources()
    assert "Chosen" not in panel._origin.value


def test_other_data_in_cases_table_and_lock(panel):
    panel.set(data="janaf", start_c_pct=4.0)
    case, text = panel.share(), panel.text
    panel._fill_table()
    assert (
        "made-up decay, faster" in panel._table.value
        and "Published data to use" in panel._table.value
    )
    panel.load("sample: start_c_pct=4.00")  # an older case knows no data
    assert panel.settings["data"] == "own"
    panel.load(case)
    assert panel.text == text
    panel.lock("Predict first.")
    assert panel._rows[-1]._menu.disabled
    panel.unlock()
    assert not panel._rows[-1]._menu.disabled


def test_the_sources_begin_with_the_weakest(panel):
    """How many have no text behind them, by a count of one's own, and the name of the weakest."""
    panel._fill_sources()
    assert len(panel.sources) == 1
    assert "What stands behind this panel was seen" in panel._origin.value
    panel.sources = "gas_constant", "sulphide_capacity_a", "mg_efficiency_pct"
    panel._fill_sources()
    found = {p for source in panel.sources for p in sources(source)}
    unverified = sum(p.status not in VERIFIED for p in found)
    said = panel._origin.value.partition("<ul>")[0]
    assert 1 < unverified < len(found)
    assert f"behind this panel: {len(found)}; common practice or from memory: {unverified}." in said
    assert "(memory)" in said or "(common practice)" in said


def test_the_list_of_sources_follows_while_it_is_open(panel):
    opener = panel.widget.children[-4].children[-1]
    opener.click()
    panel.set(data="janaf")
    assert "JANAF" in panel._origin.value
    opener.click()


def test_the_kits_own_data_are_computed_once_and_only_once():
    from sample_panel import compute

    asked = []
    panel = sample(compute=lambda **s: asked.append(s["data"]) or compute(**s))
    assert asked == ["own"]  # nothing is computed twice where nothing is compared
    panel.set(data="janaf")
    assert asked == ["own", "janaf", "own"]


def test_where_the_kits_own_data_have_no_result_the_panel_says_so():
    from sample_panel import compute

    def only_others(**settings):
        if settings["data"] == "own" and settings["start_c_pct"] < 4.0:
            raise InputError("carbon: too little for the kit's own data.")
        return compute(**settings)

    panel = sample(compute=only_others)
    panel.set(start_c_pct=3.9, data="janaf")
    assert panel.error is None and panel.text.endswith(
        "With the kit's own data: no result. carbon: too little for the kit's own data."
    )


def test_a_panel_without_a_second_value_says_so():
    panel = sample(data=NONE_KNOWN, moved=None)
    panel._fill_sources()
    assert (
        panel.data is None
        and NONE_KNOWN in panel._origin.value
        and [c.name for c in panel.controls] == [c.name for c in CONTROLS]
    )


@pytest.mark.parametrize("bad", [{"moved": None}, {"sources": ()}, {"data": CONTROLS[0]}])
def test_data_without_what_belongs_to_them_are_refused(bad):
    with pytest.raises(InputError, match="data stand beside the sources"):
        sample(**bad)


# ---- what the page gets --------------------------------------------------------------------------


def test_parts_on_demand(panel):
    reset, *openers = panel.widget.children[-4].children
    assert [b.description for b in openers] == [
        "Show numbers",
        "Show case to share",
        "Show sources (weakest: second-hand)",
    ]
    parts = (
        (panel._table, panel._table),
        (panel._case, panel._case),
        (panel._readout, panel._origin),
    )
    for button, (part, told), text in zip(
        openers, parts, ("Carbon at the end", "sample: ", "gas_constant"), strict=True
    ):
        assert part.layout.display == "none"
        button.click()
        assert (
            part.layout.display == ""
            and text in told.value
            and button.description.startswith("Hide")
        )
    panel.set(start_c_pct=4.0)
    assert (
        '<td class="st-value">4.00</td>' in panel._table.value
        and "start_c_pct=4.00" in panel._case.value
    )
    for button in openers:
        button.click()
        assert button.description.startswith("Show")
    panel.set(start_c_pct=4.1)
    reset.click()
    assert panel.settings == DEFAULTS


def test_texts_are_escaped():
    nasty = "<script>alert(1)</script>\"'"
    made = [
        markup.sentence(nasty, nasty, [nasty]),
        markup.fault(nasty, nasty),
        markup.gauge([(nasty, 1e-3)], 1e-6),
        markup.numbers_table(
            [(nasty, nasty, nasty, nasty)],
            [Control("x", nasty, nasty, 0, 1, 0.1, 0, nasty, help=nasty)],
            {"x": 0},
        ),
        markup.sources_list([nasty]),
        markup.still(b"", 10, nasty, nasty, nasty),
        html.hook(nasty, "panel"),
        html.still("a", "b", nasty, ""),
        html.printed_page(nasty, ""),
        table([nasty], [[nasty]], nasty),
        html.listed([nasty]),
        html.markdown(nasty),
    ]
    for text in made:
        assert "<script" not in text and 'alert(1)</script>"' not in text


def test_a_value_and_its_doubt_stay_on_one_line():
    made = markup.numbers_table([("colder", "0.8 ± 0.3", "°C")], [], {})
    assert "0.8\u00a0±\u00a00.3" in made and " ± " not in made


def test_closure_gauge():
    html = markup.gauge([("Mass", 3e-14), ("Heat", -4e-4), ("Oxygen", math.nan)], 1e-6)
    assert (
        "Mass closes to 1e-9 or better" in html
        and "Heat does NOT close: to 4e-04" in html
        and "Oxygen does NOT close" in html
    )
    assert markup.gauge([("Mass", 3e-14)], 1e-6) == markup.gauge(
        [("Mass", -8e-12)], 1e-6
    )  # noise sends no message


def test_still_picture_and_its_text(panel, monkeypatch):
    data, alt = panel.still()
    assert pixels(data).shape[0] >= 380 and len(data) < 80_000
    assert "five falling lines" in alt and "carbon is left" in alt
    shown = []
    monkeypatch.setattr(
        "steelthermo.coursekit.panel.panel.display", lambda *a, **k: shown.append(a[0])
    )
    panel._ipython_display_()
    assert (
        any("widget-view" in kind for kind in shown[1]) and shown[1]["text/plain"] == "Panel sample"
    )
    assert not any("widget" in kind for kind in shown[0])
    html = shown[0]["text/html"]
    assert (
        'src="data:image/png;base64,' in html
        and "five falling lines" in html
        and "Run All Cells" in html
    )
    assert shown[0]["text/plain"].startswith("What is left after the blow?: After 20 min")


def test_no_pyplot_and_few_imports():
    code = (
        "import sys; sys.path.insert(0, 'tests'); import sample_panel; sample_panel.sample(); "
        "from steelthermo.course.adapter import STEEL; STEEL.panels; "
        "print([m for m in sys.modules if m in ('matplotlib.pyplot', 'scipy', 'cantera') or "
        "'course.l' in m and m.endswith(('.panel', '.problems'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]", done.stdout


def test_physics_modules_import_no_panel():
    code = (
        "import sys, steelthermo.charge, steelthermo.thermo; "
        "print([m for m in sys.modules if m.startswith(('ipywidgets', 'matplotlib', "
        "'steelthermo.course', 'steelthermo.coursekit'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]", done.stdout


@pytest.mark.parametrize(
    "bad",
    [
        dict(low=1.0, high=0.0),
        dict(default=2.0),
        dict(step=0.0),
        dict(step=2.0),
        dict(high=math.inf),
        dict(default=math.nan),
        dict(label=" "),
        dict(why=""),
        dict(name="a b"),
        dict(low="0"),
    ],
)
def test_a_control_that_makes_no_sense_is_refused(bad):
    with pytest.raises(InputError):
        Control(
            **(
                dict(
                    name="x",
                    label="X",
                    unit="%",
                    low=0.0,
                    high=1.0,
                    step=0.1,
                    default=0.5,
                    why="test",
                )
                | bad
            )
        )
    with pytest.raises(InputError):
        choice("x", "X", ("a", "b"), "c", "test")


# ---- the walk over all panels --------------------------------------------------------------------

WALK = ["sample", *STEEL.panels]
UNIT_IN_NAME = {"pct": "%", "c": "°C", "kg": "kg", "mm": "mm", "bar": "bar"}
_made = {}


def made(name):
    """Each panel is made once for the walk, and handed out at its defaults."""
    if name not in _made:
        _made[name] = sample() if name == "sample" else make_panel(name)
        _made[name]._density.value = "1"  # as on a common screen; and faster
    _made[name].reset()
    return _made[name]


def test_registry():
    assert list(STEEL.panels) == sorted(set(STEEL.panels))
    with pytest.raises(InputError, match="'nothing' was given"):
        make_panel("nothing")
    assert {"heat_balance", "slag_flow"} < set(STEEL.panels)


@pytest.mark.parametrize("name", WALK)
def test_panel_declares_what_a_learner_needs(name):
    panel = made(name)
    assert isinstance(panel, Panel) and panel.name == name and panel.title.strip()
    assert len({c.name for c in panel.controls}) == len(panel.controls) and len(
        {c.caption for c in panel.controls}
    ) == len(panel.controls)
    own = [c for c in panel.controls if c is not panel.data]
    assert sum(not c.folded for c in own) <= MOST_IN_SIGHT
    for c in panel.controls:
        assert c.label.strip() and c.why.strip()
        if c.choices is not None:
            assert len(c.choices) >= 2
            continue
        assert (
            all(math.isfinite(v) for v in (c.low, c.high, c.step, c.default))
            and c.low <= c.default <= c.high
        )
        steps = (c.high - c.low) / c.step
        assert steps == pytest.approx(round(steps)) and 5 <= steps <= 1000, (
            f"{c.name}: {steps} steps"
        )
        unit = UNIT_IN_NAME.get(c.name.rsplit("_", 1)[-1])
        assert unit is None or c.unit.startswith(unit), f"{c.name} is in {c.unit!r}"
    assert (
        panel.drawing.width_px <= 1080 and panel.drawing.height_px <= 460
    )  # as wide as a page; on a low screen the style sheet makes it fit with its controls
    for ax in panel._picture.figure.axes:
        assert (
            ax.get_xlabel().strip()
            or ax.get_ylabel().strip()
            or ax.get_title().strip()
            or not ax.axison
        )


@pytest.mark.parametrize("name", WALK)
def test_panel_at_its_defaults(name):
    panel = made(name)
    assert panel.error is None
    # the slag of a usual heat has more lime than those that the equation was made from, and the
    # phosphate is measured to 1600 K: both are said
    said = {
        "phosphorus_and_sulphur": ("SI-c: bracket",),
        "oxidation_heat": ("Ca3(PO4)2 (alpha): temperature",),
    }.get(name, ())
    assert len(panel.remarks) == len(said)
    assert all(text.startswith(head) for text, head in zip(panel.remarks, said, strict=True))
    assert re.search(r"\d", panel.text) and panel.text.endswith(".")
    assert len(panel.alt_text) > len(panel.text) + 20
    rows = panel.numbers(panel.result)
    assert rows
    for row in rows:
        assert len(row) in (3, 4) and str(row[0]).strip()
        assert not re.search(r"\b(nan|inf)\b", str(row[1]), re.IGNORECASE)
    for _, error in panel.closure(panel.result) if panel.closure else ():
        assert abs(error) <= panel.closure_limit
    panel._fill_table()
    for shown in (panel._say.value, panel._table.value):  # no number ends a line without its unit
        assert bound(shown) == shown
    panel._fill_sources()
    image = pixels(panel.png)
    assert image.std() > 5 and (image > 250).all(axis=2).mean() > 0.3  # lines on a light ground


def moves_elsewhere(panel, control):
    """True if a control moves the picture once another one stands at an end of its range (coolants,
    say, where the bath is too hot).
    """
    for other in panel.controls:
        for end in other.probes() if other is not control else ():
            pictures = set()
            for value in control.probes():
                panel.set(
                    **{d.name: d.default for d in panel.controls}
                    | {other.name: end, control.name: value}
                )
                if panel.error is None:
                    pictures.add(panel.png)
            if len(pictures) > 1:
                return True
    return False


@pytest.mark.parametrize("name", WALK)
def test_every_end_of_every_control_has_a_picture_or_words(name):
    """And every control moves the picture, but for one that stands grey and the choice of other
    data, which may agree. After all that the defaults look exactly as at first.
    """
    panel = made(name)
    first = pixels(panel.png)
    for c in panel.controls:
        pictures = []
        for value in c.probes():
            panel.set(**{d.name: d.default for d in panel.controls} | {c.name: value})
            if panel.error is not None:
                assert "could not be computed" not in panel.error, (
                    f"{c.name} = {value}: {panel.error}"
                )
                assert panel.error[-1] in ".?!)" and len(panel.error) < 400, panel.error
                continue
            pictures.append(panel.png)
            assert not re.search(r"\b(nan|inf|None)\b", panel.text + panel.alt_text), panel.text
            markup.numbers_table(panel.numbers(panel.result), panel.controls, panel.settings)
            for what, error in panel.closure(panel.result) if panel.closure else ():
                assert abs(error) <= panel.closure_limit, (
                    f"{c.name} = {value}: {what} does not close, {error}"
                )
        assert pictures, f"{c.name}: no case of it could be shown"
        grey = c.used is not None and not c.used({d.name: d.default for d in panel.controls})
        assert grey or c is panel.data or len(set(pictures)) > 1 or moves_elsewhere(panel, c), (
            f"{c.name} moves nothing"
        )
    panel.reset()
    assert (pixels(panel.png) == first).all()


@pytest.mark.parametrize("name", WALK)
def test_moving_a_control_leaves_nothing_behind(name):
    """After an excursion with every second control, then with all, the defaults look exactly as at
    first: nothing but the moving artists changes.
    """
    panel = made(name)
    first = pixels(panel.png)
    for some in (panel.controls[::2], panel.controls):
        panel.set(**{c.name: c.probes()[-1] for c in some})
    panel.reset()
    assert (pixels(panel.png) == first).all()


@pytest.mark.parametrize("name", WALK)
def test_other_published_data_of_a_panel(name):
    """Every choice has its source, tells both results or that they are the same, and reads back
    from a case; a panel without one may only say so.
    """
    panel = made(name)
    if panel.data is None:
        return
    plain = panel.text
    assert (
        panel.controls[-1] is panel.data and panel.data.choices[0][1] == panel.data.default == "own"
    )
    moving = 0
    for label, value in panel.data.choices[1:]:
        assert not set(";=") & set(label), label  # a case text is parted by them
        found = sources(value)
        assert found and all(p.status in VERIFIED for p in found), value
        panel.set(data=value)
        assert panel.error is None, panel.error
        assert (
            "With the kit's own data: " in panel.text
            and f"with the data chosen ({label})" in panel.text
            and panel.text.endswith(".")
        )
        moving += "With the kit's own data: the same as" not in panel.text
        assert panel.alt_text.endswith(panel.text)
        panel._fill_sources()
        assert str(found[0].source.subject) in panel._origin.value.partition("Everything else")[
            0
        ].replace("&amp;", "&").replace("&#x27;", "'").replace("\u00a0", " ")
        case, settings = panel.share(), panel.settings
        panel.reset()
        assert panel.text == plain
        panel.load(case)
        assert panel.settings == settings
    assert moving >= 1


def test_saved_notebooks_hold_the_still_picture_only():
    """Lessons are saved with the still picture and its alt text, and without a widget that a reader
    without a kernel could not see. The style of every still names st-still: the element counts.
    """
    from pathlib import Path

    for path in sorted((Path(__file__).parents[3] / "lessons").glob("*.ipynb")):
        pictures = 0
        cells = [
            c
            for c in json.loads(path.read_text(encoding="utf-8"))["cells"]
            if c["cell_type"] == "code"
        ]
        for cell in cells:
            data = [o.get("data", {}) for o in cell["outputs"]]
            assert not any("widget-view" in key for d in data for key in d), path.name
            html = "".join("".join(d.get("text/html", "")) for d in data)
            if '<div class="st-still">' in html:
                pictures += 1
                assert re.search(
                    r'<img src="data:image/png;base64,[^"]{1000,}" alt="[^"]{40,}"', html
                ), path.name
        assert pictures, path.name


def test_more_controls_stand_behind_a_button():
    """Hidden at first; a press shows and hides them, a case that moves one opens them, and what is
    open stays open when others move.
    """
    panel = make_panel("heat_balance")
    more, folded = panel._more, [c.name for c in panel.controls if c.folded]
    seen = [b for b in panel.widget.children if "st-controls" in b._dom_classes]
    assert [b.layout.display for b in seen] == [None, "none"] and len(seen[1].children) == 2
    assert folded == ["c_pct", "heat_mj_t"] and more.button.description == "More controls"
    panel.set(si_pct=0.5)
    assert not more.shown
    panel.set(c_pct=4.2)
    assert more.shown and more.button.description == "Fewer controls"
    panel.reset()
    assert more.shown
    more.button.click()
    assert not more.shown and seen[1].layout.display == "none"


def test_controls_that_the_case_does_not_use_stand_grey():
    """Asked for scrap, the slider of scrap waits; asked for the temperature, that of the aim. A
    locked panel holds all.
    """
    panel = make_panel("heat_balance")

    def held():
        return [
            row.control.name for row in panel._rows if all(part.disabled for part in row._parts)
        ]

    assert held() == ["scrap_pct"]
    panel.set(find="temperature")
    assert held() == ["end_temp_c"]
    panel.lock("first say")
    assert len(held()) == len(panel.controls)
    panel.unlock()
    assert held() == ["end_temp_c"]
    panel.set(
        find="fuel", scrap_pct=5.0, hot_metal_temp_c=1440.0
    )  # has heat to spare: refused in words
    assert "less than none" in panel.text and held() == []
