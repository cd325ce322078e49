"""What the pictures of the panels are made of.

A picture is made of charts. A chart is a function of the figure: it draws its axes, and returns the
function that brings them to a record and returns what the rest of the picture hangs on, as the
update of a Drawing does.
"""

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.ticker import NullLocator

from ..base import minus
from ..coursekit.panel import style


def made_of(*charts):
    """setup and update of a Drawing made of charts."""

    def setup(fig):
        return [chart(fig) for chart in charts]

    def update(shown, record):
        return tuple(show(record) for show in shown)

    return setup, update


def parted(share, left, right):
    """Charts in two parts of the figure: those at the left in such a share of its width."""

    def chart(fig):
        parts = fig.subfigures(1, 2, width_ratios=(share, 1.0 - share))
        shown = [one(p) for p, charts in zip(parts, (left, right), strict=True) for one in charts]
        return lambda record: tuple(show(record) for show in shown)

    return chart


def axes(fig, place, *labels_and_limits, **more):
    """Axes at a place of the figure (left, bottom, width, height in fractions), labelled and
    limited as style.axes() does it.
    """
    return style.axes(fig.add_axes(place, **more), *labels_and_limits)


def logarithmic(ax, along, ticks, form="{:g}"):
    """Make an axis, 'x' or 'y', logarithmic, with these ticks alone."""
    axis, limits = getattr(ax, f"{along}axis"), getattr(ax, f"get_{along}lim")()
    ax.set(**{f"{along}scale": "log"})
    axis.set_ticks(ticks, [form.format(tick) for tick in ticks])
    axis.set_minor_locator(NullLocator())
    ax.set(**{f"{along}lim": limits})


def dot(ax, number, marker="o", ring=False, **more):
    """A mark that moves, in the colour of series `number`; ring: its outline alone."""
    look = {"color": style.SERIES[number].colour, "linestyle": "", "markersize": 10 if ring else 8}
    if ring:
        look |= {"markerfacecolor": "none", "markeredgewidth": 2}
    return ax.plot([], [], marker=marker, animated=True, **look | more)[0]


def note(ax, x, y, text, **more):
    """A small text that stays, at a place of the axes in fractions."""
    return ax.text(x, y, text, **{"transform": ax.transAxes, "fontsize": 8.5} | more)


def cursor(ax):
    """A dotted upright line that moves: set_xdata([x, x])."""
    return ax.axvline(0.0, color=style.INK, linestyle=":", linewidth=1.2, animated=True)


class Band(PolyCollection):
    """A grey area between two curves that moves. Matplotlib has one from 3.10 on; the browser may
    hold an older one.
    """

    def set_data(self, x, low, high):
        there, back = np.column_stack([x, low]), np.column_stack([x, high])[::-1]
        self.set_verts([np.concatenate([there, back])])


def band(ax):
    """A Band of the axes."""
    look = {"facecolor": style.GRID, "edgecolor": style.HALO, "linewidth": 0.8, "zorder": 0.7}
    return ax.add_collection(Band([], animated=True, **look), autolim=False)


class Rows:
    """Horizontal bars from top to bottom, each with its name at the left and its figure at its end.

    label, limits: of the axis; numbers: the series of each bar, of all the first if not said;
    fontsize: of the figures; look: of the bars, as style.bars() takes it.
    """

    def __init__(self, fig, place, label, limits, title, names, numbers=None, fontsize=9.5, **look):
        many = range(len(names))
        self.ax = axes(fig, place, label, "", limits, (len(names) - 0.4, -0.6), title)
        self.ax.set_yticks(many, names)
        self.ax.grid(axis="y", visible=False)
        self.bars = style.bars(self.ax, many, [0] * len(names), numbers or [0] * len(names), **look)
        self.texts = [
            style.figures(self.ax, 0, k, "", va="center", fontsize=fontsize) for k in many
        ]

    def show(self, values, form, behind=None):
        """Bring the bars to their values, and the figures, written in a form such as '{:.1f}' or
        by a function of the value, to their ends, or behind other values.
        """
        low, high = self.ax.get_xlim()
        ends = values if behind is None else behind
        for bar, text, value, end in zip(self.bars, self.texts, values, ends, strict=True):
            bar.set_width(value)
            text.set_text(form(value) if callable(form) else minus(form.format(value)))
            left = low < 0.0 and end < 0.0
            text.set_x(max(end, low) + (high - low) * (-0.012 if left else 0.012))
            text.set_ha("right" if left else "left")


def doubled(smallest, value, filled=0.95):
    """A limit that seldom changes: the smallest, doubled until the value fills no more than such a
    share of it.
    """
    return smallest * 2.0 ** max(0, int(np.ceil(np.log2(max(value, 1e-9) / (filled * smallest)))))
