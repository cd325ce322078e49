"""How the kit's pictures look: colours, line styles, markers, hatches, direct labels.

Every series is told apart four ways (colour, line style, marker, a label at its end), so that a
picture can be read by a colour-blind learner and from a grey print-out.
tests/coursekit/panel/test_panel.py measures contrast and distances.
Pictures are drawn on white; a dark theme turns every colour into its opposite (dark.css), so one
palette is enough, and the test measures it there too.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.text import Text

INK = "#1b1b1b"
PAPER = "#ffffff"
GRID = "#d9dde2"
HALO = "#6b7280"  # hatch and frame of whatever lies outside a published range


class Series(NamedTuple):
    """Look of one series: colour, line style and marker of a line, hatch of a bar."""

    colour: str
    dash: str | tuple
    marker: str
    hatch: str


# Found by search: each colour is dark enough for text on white, and any two differ in lightness
# and, for each common kind of colour blindness, in what is left of hue.
SERIES = (
    Series(INK, "-", "o", ""),
    Series("#c6521d", (0, (6, 2)), "s", "//"),
    Series("#0925f7", (0, (1.2, 1.6)), "^", ".."),
    Series("#a523b0", (0, (6, 2, 1.2, 2)), "D", "xx"),
    Series("#00445d", (0, (10, 3)), "v", "\\\\"),
    Series("#462504", (0, (3, 1, 1, 1, 1, 1)), "P", "++"),
)

# Settings for everything drawn by a Drawing's setup (see picture.py).
RC = {
    "font.size": 10.0,
    "font.family": "DejaVu Sans",
    "text.color": INK,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "axes.titlesize": 10.5,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": True,
    "axes.axisbelow": True,
    "axes.unicode_minus": True,
    "axes.formatter.useoffset": False,
    "grid.color": GRID,
    "grid.linewidth": 0.8,
    "xtick.color": INK,
    "ytick.color": INK,
    "lines.linewidth": 2.0,
    "lines.markersize": 5.5,
    "hatch.linewidth": 1.0,
    "legend.frameon": False,
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "savefig.facecolor": PAPER,
}


def axes(ax: Axes, x: str, y: str, xlim: tuple, ylim: tuple, title: str = "") -> Axes:
    """Label and fix a pair of axes.

    Parameters
    ----------
    ax : the axes
    x, y : labels with their units ('time, min')
    xlim, ylim : limits
    title : above them

    Returns
    -------
    the axes

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = Figure().subplots()
    >>> axes(ax, "time, min", "coffee, °C", (0, 30), (20, 90)).get_xlabel()
    'time, min'
    """
    ax.set(xlabel=x, ylabel=y, xlim=xlim, ylim=ylim)
    if title:
        ax.set_title(title)
    return ax


def line(
    ax: Axes,
    number: int,
    x: Sequence = (),
    y: Sequence = (),
    marks: int = 5,
    animated: bool = True,
    **more: object,
) -> Line2D:
    """Add the line of a series.

    Parameters
    ----------
    ax : the axes
    number : of the series
    x, y : points
    marks : about so many markers along it
    animated : drawn afresh for each record (change it in a Drawing's update with set_data or
        set_ydata); False: it belongs to the fixed background
    more : as plot() takes it

    Returns
    -------
    Line2D

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = Figure().subplots()
    >>> line(ax, 0, [0, 1], [2, 3]).get_color() == SERIES[0].colour
    True
    """
    look = SERIES[number % len(SERIES)]
    # A fraction of the diagonal, shifted per series, keeps markers of close lines apart whatever
    # the number of points.
    every = (0.5 / marks * (0.5 + number / len(SERIES)), 0.9 / marks) if marks else None
    look_of = {
        "color": look.colour,
        "linestyle": look.dash,
        "marker": look.marker if marks else "",
        "markevery": every,
    }
    (drawn,) = ax.plot(x, y, animated=animated, **(look_of | more))
    return drawn


def bars(
    ax: Axes,
    positions: Iterable,
    lengths: Iterable,
    numbers: Sequence | None = None,
    horizontal: bool = True,
    thickness: float = 0.7,
    start: float = 0.0,
    animated: bool = True,
    **more: object,
) -> tuple:
    """Add one bar per position in the look of its series.

    Parameters
    ----------
    ax : the axes
    positions, lengths : of the bars
    numbers : series of each; None: each its own
    horizontal : False: upright ones
    thickness, start : in data units
    animated : as for line(); in a Drawing's update bar.set_width(value) changes a horizontal bar,
        bar.set_height(value) an upright one
    more : as Rectangle takes it

    Returns
    -------
    Rectangles

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = Figure().subplots()
    >>> [bar.get_width() for bar in bars(ax, [0, 1], [3.0, 4.0])]
    [3.0, 4.0]
    """
    made = []
    for at, (place, length) in enumerate(zip(positions, lengths, strict=True)):
        look = SERIES[(at if numbers is None else numbers[at]) % len(SERIES)]
        corner, size = (start, place - thickness / 2), (length, thickness)
        corner, size = (corner, size) if horizontal else (corner[::-1], size[::-1])
        look_of = {
            "facecolor": look.colour,
            "edgecolor": PAPER,
            "linewidth": 0,
            "hatch": look.hatch,
        } | more
        made.append(ax.add_patch(Rectangle(corner, *size, animated=animated, **look_of)))
    return tuple(made)


def shade(ax: Axes, start: float, end: float, text: str = "outside the published range") -> None:
    """Shade a fixed stretch of x, and say why.

    Parameters
    ----------
    ax : the axes
    start, end : in data units
    text : why

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = Figure().subplots()
    >>> shade(ax, 20, 30, "nobody measured")
    >>> ax.texts[0].get_text()
    'nobody measured'
    """
    look = {"facecolor": "none", "edgecolor": HALO, "alpha": 0.45, "hatch": "////", "linewidth": 0}
    ax.axvspan(start, end, zorder=0.5, **look)
    box = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.0}
    place = {"ha": "center", "va": "top", "rotation": 90, "transform": ax.get_xaxis_transform()}
    ax.text((start + end) / 2, 0.98, text, fontsize=8.5, bbox=box, **place)


def figures(on: Axes | Figure, x: float, y: float, text: str = "", **more: object) -> Text:
    """Add a moving text to axes or a figure.

    Parameters
    ----------
    on : axes or figure
    x, y, text, more : as their text() takes them

    Returns
    -------
    Text

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = Figure().subplots()
    >>> figures(ax, 0, 0, "85 °C").get_animated()
    True
    """
    return on.text(x, y, text, animated=True, **more)


class EndLabels:
    """Names written at the right end of lines, in their colours, moved with them and kept from
    overlapping.

    ax: the axes (leave room at their right); lines: the Line2D; names: one text each. Call place()
    in a Drawing's update.
    """

    def __init__(self, ax, lines, names, fontsize=9.5):
        self.ax, self.lines = ax, tuple(lines)
        self.texts = tuple(
            figures(
                ax,
                1.015,
                0.5,
                name,
                transform=ax.transAxes,
                color=drawn.get_color(),
                va="center",
                fontsize=fontsize,
            )
            for drawn, name in zip(lines, names, strict=True)
        )
        height_px = ax.get_position().height * ax.figure.bbox.height
        self.gap = (
            1.25 * fontsize / 72 * ax.figure.dpi / height_px
        )  # of one line of text, as a fraction of the axes

    def place(self):
        """Move every label to the height at which its line ends; nothing else changes."""
        low, high = self.ax.get_ylim()
        to_axes = self.ax.transScale + (self.ax.transLimits)
        ends = []
        for drawn in self.lines:
            y = np.asarray(drawn.get_ydata(orig=False), dtype=float)
            y = y[np.isfinite(y)]
            ends.append(
                to_axes.transform(
                    (self.ax.get_xlim()[1], min(max(y[-1], min(low, high)), max(low, high)))
                )[1]
                if y.size
                else 0.5
            )
        for text, drawn, y in zip(self.texts, self.lines, spread(ends, self.gap), strict=True):
            text.set_y(y)
            text.set_visible(drawn.get_visible())


def spread(heights: Sequence, gap: float) -> list:
    """The same heights, moved as little as possible to stand at least gap apart.

    Parameters
    ----------
    heights : fractions of the axes, 0 to 1
    gap : fraction of the axes

    Returns
    -------
    list

    Examples
    --------
    >>> spread([0.5, 0.5], 0.1)
    [0.45, 0.55]
    """
    order = np.argsort(heights, kind="stable")
    count = len(order)
    gap = min(gap, 1.0 / max(count - 1, 1))
    blocks = []  # of neighbours that touch: [mean of their lowest places, how many]
    for at, which in enumerate(order):
        blocks.append([heights[which] - at * gap, 1])
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            place, size = blocks.pop()
            before = blocks[-1]
            blocks[-1] = [
                (before[0] * before[1] + place * size) / (before[1] + size),
                before[1] + size,
            ]
    lowest = [
        min(max(place, 0.0), 1.0 - (count - 1) * gap) for place, size in blocks for _ in range(size)
    ]
    out = [0.0] * count
    for at, which in enumerate(order):
        out[which] = lowest[at] + at * gap
    return out
