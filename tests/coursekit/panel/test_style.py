"""A text that keeps its picture looks as one that is set in type each time."""

import matplotlib
import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from steelthermo.coursekit.panel import style


def _drawn(kind, scale, places, **look):
    """The picture after a text was moved to each of the places in turn."""
    fig = Figure(figsize=(3, 2), dpi=100 * scale)
    canvas = FigureCanvasAgg(fig)
    ax = fig.add_axes((0.1, 0.1, 0.6, 0.8))
    more = {"transform": ax.transAxes, "fontsize": 9, "va": "center", "animated": False} | look
    text = (
        ax.add_artist(style.Stamp(0.5, 0.5, "Ide-Fruehan", **more))
        if kind is style.Stamp
        else ax.text(0.5, 0.5, "Ide-Fruehan", **more)
    )
    for x, y, colour in places:
        text.set_position((x, y))
        text.set_color(colour)
        canvas.draw()
    return np.asarray(canvas.buffer_rgba()).astype(int)


@pytest.mark.parametrize(
    "look",
    [
        {},
        {"bbox": {"facecolor": style.PAPER, "edgecolor": style.HALO, "pad": 3.0}},
        {"ha": "right", "va": "top"},
    ],
)
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_kept_text_is_the_text(scale, look):
    """Moved by whole pixels (1/180 of the axes' width, 1/160 of its height) it is the same to the
    last level of grey; recoloured too, and at the edge.
    """
    for places in (
        [(0.5, 0.5, "#000000")],
        [(0.5, 0.5, "#000000"), (0.5 + 30 / 180, 0.5 - 40 / 160, "#000000")],
        [(0.5, 0.5, "#000000"), (0.5, 0.5 + 40 / 160, "#a523b0")],
    ):
        kept, anew = (
            _drawn(kind, scale, places, **look) for kind in (style.Stamp, matplotlib.text.Text)
        )
        assert (anew < 200).any()
        assert np.abs(kept - anew).max() <= 2


def test_a_kept_text_can_be_hidden_and_leave_the_picture():
    off = [(0.5, 0.5, "#000000"), (0.5, 1.35, "#000000")]
    assert np.array_equal(_drawn(style.Stamp, 1.0, off), _drawn(matplotlib.text.Text, 1.0, off))


@pytest.mark.parametrize(
    "look", [{}, {"ha": "right", "va": "top"}, {"ha": "center", "va": "bottom"}]
)
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_figures_stand_where_the_text_would(scale, look):
    """Put together from characters on whole pixels: the same ink to 5 %, its edges within a pixel
    and a half, whatever was shown before.

    Lines: within two pixels at scale 2, as Matplotlib spaces lines with tails (ppm) wider than
    lines without.
    """
    fig = Figure(figsize=(3, 2), dpi=100 * scale)
    canvas = FigureCanvasAgg(fig)
    ax = fig.add_axes((0.1, 0.1, 0.6, 0.8))
    ax.set_axis_off()
    more = {
        "transform": ax.transAxes,
        "fontsize": 9,
        "va": "center",
        "animated": False,
        "clip_on": False,
    } | look
    for wording in (
        "1.395 %: high",
        "spread 15.1 °C",
        "−29 to +13 kg/t",
        "291 ppm:\n0.079 % C",
        "1\n0\n1",
    ):
        ink = []
        for kind in (style.Figures, matplotlib.text.Text):
            text = ax.add_artist(kind(0.5, 0.5, "0", **more))
            canvas.draw()
            text.set_text(wording)
            canvas.draw()
            ink.append(255 - np.asarray(canvas.buffer_rgba())[..., 0].astype(int))
            text.remove()
        edges = [
            [
                f(np.nonzero(page.max(axis=axis) > 100)[0])
                for axis in (0, 1)
                for f in (np.min, np.max)
            ]
            for page in ink
        ]
        assert ink[0].sum() == pytest.approx(ink[1].sum(), rel=0.05)
        assert np.abs(np.subtract(*edges)).max() <= (
            scale if scale > 1.0 and "\n" in wording else 1.5
        ), (wording, edges)


@pytest.mark.parametrize("va", ["top", "center", "bottom"])
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_box_of_figures_lies_where_that_of_the_text_does(scale, va):
    fig = Figure(figsize=(3, 2), dpi=100 * scale)
    canvas = FigureCanvasAgg(fig)
    edges, middle = [], []
    for kind in (style.Figures, matplotlib.text.Text):
        box = {"facecolor": "#c00000", "edgecolor": "none", "pad": 2.0, "alpha": 0.5}
        text = fig.add_artist(
            kind(0.5, 0.5, "0.079\n291", fontsize=9, va=va, clip_on=False, bbox=box)
        )
        text.set_animated(False)
        canvas.draw()
        page = np.asarray(canvas.buffer_rgba()).astype(int)
        red = page[..., 0] - page[..., 1] > 60
        edges.append(
            [f(np.nonzero(red.any(axis=axis))[0]) for axis in (0, 1) for f in (np.min, np.max)]
        )
        middle.append(np.median(page[red], axis=0))
        text.remove()
    assert np.abs(np.subtract(*edges)).max() <= 2 * scale
    assert np.abs(np.subtract(*middle)).max() <= 1


@pytest.mark.parametrize(
    "more", [{}, {"alpha": 0.75}, {"hatch": ""}, {"linewidth": 1.0, "edgecolor": "#000000"}]
)
@pytest.mark.parametrize("horizontal", [True, False])
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_bar_is_the_bar_of_matplotlib(scale, horizontal, more):
    """On whole pixels the same to the last level of grey, else but for its ends; cut off at the
    frame, below zero, and empty.
    """
    fig = Figure(figsize=(3, 2), dpi=100 * scale)
    canvas = FigureCanvasAgg(fig)
    ax = fig.add_axes(
        (0.1, 0.1, 0.6, 0.8), xlim=(-30, 150), ylim=(-20, 140)
    )  # 180 by 160 px of the page
    ax.set_axis_off()
    for number, length, size in (
        (1, 60.0, 30.0),
        (2, -20.0, 30.0),
        (3, 500.0, 20.0),
        (4, 0.0, 20.0),
        (5, 33.3, 21.7),
    ):
        (ours,) = style.bars(
            ax, [60.0], [length], [number], horizontal, size, animated=False, **more
        )
        canvas.draw()
        kept = np.asarray(canvas.buffer_rgba()).astype(int)
        ours.remove()
        look = style.SERIES[number]
        draw = ax.barh if horizontal else ax.bar
        theirs = draw(
            [60.0],
            [length],
            size,
            **(
                {
                    "color": look.colour,
                    "edgecolor": style.PAPER,
                    "linewidth": 0,
                    "hatch": look.hatch,
                }
                | more
            ),
        )
        canvas.draw()
        anew = np.asarray(canvas.buffer_rgba()).astype(int)
        theirs.remove()
        off = np.abs(kept - anew).max(axis=2) > 2
        assert (anew < 200).any() == (length != 0.0 or "linewidth" in more)
        if number < 5:
            assert not off.any(), (number, off.sum())
        else:  # its ends lie between pixels
            assert not np.any(off[1:-1, 1:-1] & off[:-2, :-2] & off[2:, 2:])
