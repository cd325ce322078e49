"""How the kit's pictures look: colours, line styles, markers, hatches, direct labels.

Every series is told apart four ways (colour, line style, marker, a label at its end), so that a picture can be
read by a colour-blind learner and from a grey print-out. tests/test_panel.py measures contrast and distances.
Pictures have their own white ground in every theme, so they need one palette only.
"""

from typing import NamedTuple

import numpy as np
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.patches import Rectangle
from matplotlib.text import Text
from matplotlib.transforms import Affine2D, IdentityTransform

__all__ = ["GRID", "HALO", "INK", "PAPER", "RC", "SERIES", "EndLabels", "Figures", "Series", "Stamp", "axes", "bars", "figures", "line", "shade"]

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


# Found by search: each colour is dark enough for text on white, and any two differ in lightness and, for each
# common kind of colour blindness, in what is left of hue.
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


def axes(ax, x, y, xlim, ylim, title=""):
    """Label and fix a pair of axes: x and y are the labels with their units ('time, min')."""
    ax.set(xlabel=x, ylabel=y, xlim=xlim, ylim=ylim)
    if title:
        ax.set_title(title)
    return ax


def line(ax, number, x=(), y=(), marks=5, animated=True, **more):
    """Add the line of series `number`, with about `marks` markers along it; returns the Line2D.

    animated=True: it is drawn afresh for each record (change it in a Drawing's update with set_data or set_ydata);
    animated=False: it belongs to the fixed background.
    """
    look = SERIES[number % len(SERIES)]
    # A fraction of the diagonal, shifted per series, keeps markers of close lines apart whatever the number of points.
    every = (0.5 / marks * (0.5 + number / len(SERIES)), 0.9 / marks) if marks else None
    look_of = {"color": look.colour, "linestyle": look.dash, "marker": look.marker if marks else "", "markevery": every}
    (drawn,) = ax.plot(x, y, animated=animated, **(look_of | more))
    return drawn


def bars(ax, positions, lengths, numbers=None, horizontal=True, thickness=0.7, start=0.0, animated=True, **more):
    """Add one bar per position in the look of its series, each from `start` on, returned as a tuple of Bar.

    In a Drawing's update: bar.set_width(value) for horizontal bars, bar.set_height(value) for upright ones.
    """
    made = []
    for at, (place, length) in enumerate(zip(positions, lengths, strict=True)):
        look = SERIES[(at if numbers is None else numbers[at]) % len(SERIES)]
        corner, size = (start, place - thickness / 2), (length, thickness)
        corner, size = (corner, size) if horizontal else (corner[::-1], size[::-1])
        look_of = {"facecolor": look.colour, "edgecolor": PAPER, "linewidth": 0, "hatch": look.hatch} | more
        made.append(ax.add_patch(Bar(corner, *size, animated=animated, **look_of)))
    return tuple(made)


def shade(ax, start, end, text="outside the published range", along="x"):
    """Shade the fixed stretch from start to end (data units along 'x' or 'y') of a pair of axes, and say why."""
    span = ax.axvspan if along == "x" else ax.axhspan
    span(start, end, facecolor="none", edgecolor=HALO, alpha=0.45, hatch="////", linewidth=0, zorder=0.5)
    middle = (start + end) / 2
    place = {"x": middle, "y": 0.98, "transform": ax.get_xaxis_transform(), "ha": "center", "va": "top", "rotation": 90}
    if along != "x":
        place = {"x": 0.98, "y": middle, "transform": ax.get_yaxis_transform(), "ha": "right", "va": "center"}
    x, y = place.pop("x"), place.pop("y")
    ax.text(x, y, text, fontsize=8.5, bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0}, **place)


class Bar(Rectangle):
    """A bar that moves: its hatch is drawn once, for a square that repeats, and then only put down, on whole pixels, which takes a fifth of the time.

    A bar without a hatch, or with an edge, is drawn as Matplotlib draws it.
    """

    def draw(self, renderer):
        if not isinstance(renderer, RendererAgg) or self.get_linewidth() or not self.get_hatch():
            super().draw(renderer)
            return
        box = self.get_window_extent()
        box = box.intersection(box, self.axes.bbox)
        (left, low), (right, high) = np.rint(box.get_points()).astype(int) if box is not None else ((0, 0), (0, 0))
        if self.get_visible() and left < right and low < high:
            square = self._square(renderer)
            side = len(square)
            over, beside = (int(renderer.height) - high) % side, left % side  # a hatch begins at the upper left corner of the picture
            many = np.tile(square, (-(-(over + high - low) // side), -(-(beside + right - left) // side), 1))
            gc = renderer.new_gc()
            renderer.draw_image(gc, left, low, many[over : over + high - low, beside : beside + right - left][::-1].copy())
            gc.restore()
        self.stale = False

    def _square(self, renderer):
        """Image of the bar's look as wide and high as a hatch, the highest row first."""
        side = int(renderer.dpi)
        look = (Bar, self.get_facecolor(), self.get_edgecolor(), self.get_hatch(), side)
        if look not in _KEPT:
            sheet = RendererAgg(side, side, renderer.dpi)
            whole = Rectangle((-1, -1), side + 2, side + 2)
            whole.update_from(self)
            whole.set_transform(IdentityTransform())
            whole.set_clip_box(None)
            whole.draw(sheet)
            _KEPT[look] = np.asarray(sheet.buffer_rgba()).copy()
        return _KEPT[look]


_KEPT, _MOST = {}, 1000  # pictures of texts by their look, and how many of them are kept


class Stamp(Text):
    """A moving text that keeps its pictures: each wording set in type once, then only put down, which takes a tenth of the time.

    Add it by ax.add_artist(Stamp(...)). Texts of the same look share their pictures. For wording that is new at every step: Figures.
    """

    def __init__(self, x, y, text, **more):
        super().__init__(x, y, text, **({"animated": True, "clip_on": False} | more))
        self._own = {}  # a text with a box shares with none

    def draw(self, renderer):
        if not isinstance(renderer, RendererAgg):
            super().draw(renderer)
        elif self.get_visible() and self.get_text():
            right, up, image = self._picture(renderer)
            x, y = np.rint(self.get_transform().transform(self.get_position())).astype(int)
            gc = renderer.new_gc()
            renderer.draw_image(gc, x + right, y + up, image)
            gc.restore()
        self.stale = False

    def _picture(self, renderer):
        """Pixels to the right of the text's place, above it, and its image, the lowest row first."""
        kept, look = _KEPT if self.get_bbox_patch() is None else self._own, self._look(renderer)
        if look not in kept:
            if len(kept) >= _MOST:
                kept.clear()
            kept[look] = self._set_in_type(renderer)
        return kept[look]

    def _look(self, renderer):
        how = (self.get_horizontalalignment(), self.get_verticalalignment(), self.get_rotation(), self._linespacing)
        return (self.get_text(), self.get_color(), self.get_alpha(), hash(self.get_fontproperties()), renderer.dpi, *how)

    def _set_in_type(self, renderer):
        box, transform = self.get_window_extent(renderer), self.get_transform()
        if self.get_bbox_patch() is not None:
            self.update_bbox_position_size(renderer)
            box = box.union([box, self.get_bbox_patch().get_window_extent(renderer)])
        place = transform.transform(self.get_position())
        (left, low), (right, high) = (np.floor(box.min - place).astype(int) - 2, np.ceil(box.max - place).astype(int) + 2)
        sheet = RendererAgg(right - left, high - low, renderer.dpi)
        self.set_transform(transform + Affine2D().translate(*(-place - (left, low))))
        super().draw(sheet)
        self.set_transform(transform)
        return left, low, np.asarray(sheet.buffer_rgba())[::-1].copy()


class Figures(Stamp):
    """A moving text whose wording is new at every step: put together from the kept pictures of its characters, each on a whole pixel.

    It may have lines and a box without an edge. Add it by ax.add_artist(Figures(...)), or by figures(ax, ...).
    """

    def _picture(self, renderer):
        look = self._look(renderer)
        if look not in self._own:  # only the last one: the next will be new again
            self._own = {look: self._put_together(renderer)}
        return self._own[look]

    def _put_together(self, renderer):
        across = {"left": 0.0, "center": 0.5, "right": 1.0}[self.get_horizontalalignment()]
        lines = self.get_text().split("\n")
        below = {"top": 0.0, "center": 0.5}.get(self.get_verticalalignment(), 1.0) * (len(lines) - 1)  # lines whose room lies below the place
        (low, high), step, more = self._line(renderer)
        moved = {"top": -more, "center": 0.0}.get(self.get_verticalalignment(), more) if len(lines) > 1 else 0.0
        parts, left, right = [], 0, 0
        for at, line in enumerate(lines):
            pen, row, up_by = 0.0, [], round((below - at) * step + moved)
            for character in line:
                (aside, up, image), advance = self._character(character, renderer)
                row.append((round(pen) + aside, up + up_by, image))
                pen += advance
            back = round(pen * across)
            parts += [(x - back, y, image) for x, y, image in row]
            left, right = min(left, -back), max(right, round(pen) - back)
        low, high = round(low + moved + (below - len(lines) + 1) * step), round(high + moved + below * step)
        box = self.get_bbox_patch()
        if box is not None:
            pad = round(box.get_boxstyle().pad * renderer.points_to_pixels(self.get_fontsize()))
            left, low, right, high = left - pad, low - pad, right + pad, high + pad
        left, low = min([left, *(x for x, _, _ in parts)]), min([low, *(y for _, y, _ in parts)])
        right, high = max([right, *(x + p.shape[1] for x, _, p in parts)]), max([high, *(y + p.shape[0] for _, y, p in parts)])
        out = np.zeros((high - low, right - left, 4), np.uint8)
        for x, y, picture in parts:
            place = out[y - low : y - low + picture.shape[0], x - left : x - left + picture.shape[1]]
            np.copyto(place, picture, where=picture[..., 3:] > place[..., 3:])
        return left, low, out if box is None else _on(out, np.round(np.multiply(255, box.get_facecolor())))

    def _line(self, renderer):
        """Of a line of text: how far it reaches below and above its place, how far the next one is, and what many lines have more room at top and foot."""
        look = (Figures, hash(self.get_fontproperties()), renderer.dpi, self.get_verticalalignment(), self._linespacing)
        if look not in _KEPT:
            one, two = (self._plain(text, self.get_verticalalignment()).get_window_extent(renderer) for text in ("0", "0\n0"))
            _KEPT[look] = (one.y0, one.y1), two.height / 2, (two.height / 2 - one.height) / 2
        return _KEPT[look]

    def _character(self, character, renderer):
        """Picture of a character that stands to the right of its place, and the pixels to the next one."""
        look = (Figures, character, self.get_color(), hash(self.get_fontproperties()), renderer.dpi, self.get_verticalalignment())
        if look not in _KEPT:
            font = self.get_fontproperties()
            wide, narrow = (renderer.get_text_width_height_descent(text, font, False)[0] for text in (f"0{character}0", "00"))
            right, up, image = self._alone(character, "baseline", renderer)
            up += self._alone("lp", self.get_verticalalignment(), renderer)[1] - self._alone("lp", "baseline", renderer)[1]
            _KEPT[look] = ((right, up, image), wide - narrow)
        return _KEPT[look]

    def _alone(self, text, vertical, renderer):
        return self._plain(text, vertical)._set_in_type(renderer)

    def _plain(self, text, vertical):
        """Another wording in the same look, to the right of the corner of the picture."""
        one = Stamp(0.0, 0.0, text)
        one.update_from(self)
        one.set_figure(self.get_figure())
        one.set(horizontalalignment="left", verticalalignment=vertical, transform=IdentityTransform())
        return one


def _on(image, colour):
    """An image laid on an even ground, both with their opacity; values 0 to 255."""
    over = image[..., 3:] / 255.0
    under = colour[3] / 255.0 * (1.0 - over)
    both = over + under
    ink = (image[..., :3] * over + colour[:3] * under) / np.maximum(both, 1e-9)
    return np.concatenate([ink, 255.0 * both], axis=-1).round().astype(np.uint8)


def figures(on, x, y, text="", **more):
    """Add a moving text whose wording is new at every step to axes or a figure, placed as their text() would; returns the Figures."""
    return on.add_artist(Figures(x, y, text, **more))


class EndLabels:
    """Names written at the right end of lines, in their colours, moved with them and kept from overlapping.

    ax: the axes (leave room at their right); lines: the Line2D; names: one text each. Call place() in a Drawing's update.
    """

    def __init__(self, ax, lines, names, fontsize=9.5):
        self.ax, self.lines = ax, tuple(lines)
        self.texts = tuple(
            ax.add_artist(Stamp(1.015, 0.5, name, transform=ax.transAxes, color=drawn.get_color(), va="center", ha="left", fontsize=fontsize))
            for drawn, name in zip(lines, names, strict=True)
        )
        height_px = ax.get_position().height * ax.figure.bbox.height
        self.gap = 1.25 * fontsize / 72 * ax.figure.dpi / height_px  # of one line of text, as a fraction of the axes

    def place(self):
        """Move every label to the height at which its line ends; nothing else changes."""
        low, high = self.ax.get_ylim()
        to_axes = self.ax.transScale + (self.ax.transLimits)
        ends = []
        for drawn in self.lines:
            y = np.asarray(drawn.get_ydata(orig=False), dtype=float)
            y = y[np.isfinite(y)]
            ends.append(to_axes.transform((self.ax.get_xlim()[1], min(max(y[-1], min(low, high)), max(low, high))))[1] if y.size else 0.5)
        for text, drawn, y in zip(self.texts, self.lines, _spread(ends, self.gap), strict=True):
            text.set_y(y)
            text.set_visible(drawn.get_visible())


def _spread(heights, gap):
    """The same heights (fractions of the axes, 0 to 1), moved as little as possible to stand at least gap apart."""
    order = np.argsort(heights, kind="stable")
    count = len(order)
    gap = min(gap, 1.0 / max(count - 1, 1))
    blocks = []  # of neighbours that touch: [mean of their lowest places, how many]
    for at, which in enumerate(order):
        blocks.append([heights[which] - at * gap, 1])
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            place, size = blocks.pop()
            before = blocks[-1]
            blocks[-1] = [(before[0] * before[1] + place * size) / (before[1] + size), before[1] + size]
    lowest = [min(max(place, 0.0), 1.0 - (count - 1) * gap) for place, size in blocks for _ in range(size)]
    out = [0.0] * count
    for at, which in enumerate(order):
        out[which] = lowest[at] + at * gap
    return out
