"""Vessel and ladle cut open, to scale: what the section drawings of the lessons are made of.

A body of revolution is filled from its floor; a layer, marks that stand for a mass, and names
beside them move with a record. Greys and shapes tell things apart, so that no colour is needed.
"""

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ..coursekit.panel import style
from ..works import plant_value

# The inside of a vessel, as fractions of its height and of its widest radius: our own choice
_HEIGHTS = 0.0, 0.10, 0.62, 1.0
_WALL = 0.14  # lining and shell, of the radius: our own choice
_FREE = 0.12  # room over the steel of a full ladle, of its depth: our own choice
# Looks of what is drawn
METAL = {"facecolor": style.HALO}
SLAG = {"facecolor": style.SERIES[5].colour}
FOAM = {"facecolor": style.PAPER, "hatch": "oo", "edgecolor": style.SERIES[5].colour}


class Body:
    """The inside of a vessel, m: radius_m at height_m over its floor."""

    def __init__(self, height_m, radius_m):
        self.height_m = np.linspace(height_m[0], height_m[-1], 400)
        self.radius_m = np.interp(self.height_m, height_m, radius_m)
        slices = np.pi * np.diff(self.height_m) * (self.radius_m[1:] ** 2 + self.radius_m[:-1] ** 2)
        self.volume_m3 = np.concatenate([[0.0], np.cumsum(slices) / 2.0])
        self.wall_m = _WALL * self.radius_m.max()

    def radius_at(self, height_m):
        """Radius, m, at a height (or heights)."""
        return np.interp(height_m, self.height_m, self.radius_m)

    def level_m(self, volume_m3):
        """Height, m, to which a volume fills it."""
        return float(np.interp(volume_m3, self.volume_m3, self.height_m))


def vessel(tap_t):
    """The Body of a vessel for so many t of steel: volume, slenderness and mouth as is usual."""
    slender, mouth = plant_value("vessel_slender").start, plant_value("vessel_mouth_pct").start
    radii = np.array((0.7, 1.0, 1.0, mouth / 100.0))
    height = 2.0 * slender * np.array(_HEIGHTS)
    one = Body(height, radii)  # whose widest radius is 1 m
    scale = (plant_value("vessel_m3_t").start * tap_t / one.volume_m3[-1]) ** (1.0 / 3.0)
    return Body(scale * height, scale * radii)


def ladle(steel_m3):
    """The Body of a ladle whose steel stands as deep as it is wide."""
    deep = (4.0 * steel_m3 / np.pi) ** (1.0 / 3.0)
    return Body((0.0, deep * (1.0 + _FREE)), (deep / 2.0, deep / 2.0))


def section(fig, place, body, low_m, high_m, title):
    """Axes to scale, without frame, with the walls of a body cut open; low_m, high_m: over its
    floor. The body stands at the left, room for names at the right.
    """
    ax = fig.add_axes(place)
    across = (high_m - low_m) * fig.bbox.width * place[2] / (fig.bbox.height * place[3])
    left = -1.04 * (body.radius_m.max() + body.wall_m)
    ax.set(xlim=(left, left + across), ylim=(low_m, high_m))
    ax.set_title(title)
    ax.axis("off")
    x, y, wall = body.radius_m, body.height_m, body.wall_m
    under = np.concatenate([[y[0] - wall], y[1:]])
    across = np.concatenate([-x[::-1], x, (x + wall)[::-1], -x - wall])
    outline = np.column_stack([across, np.concatenate([y[::-1], y, under[::-1], under])])
    look = {"facecolor": style.GRID, "edgecolor": style.INK, "hatch": "++", "linewidth": 1.0}
    ax.add_patch(Polygon(outline, closed=True, **look))
    return ax


class Layer:
    """What fills a body between two heights."""

    def __init__(self, ax, body, **look):
        self.body = body
        look = {"animated": True, "linewidth": 0} | look
        self.patch = ax.add_patch(Polygon([(0, 0)] * 3, **look))

    def show(self, low_m, high_m):
        """Fill it from one height to another."""
        y = np.linspace(low_m, max(high_m, low_m), 24)
        x = self.body.radius_at(y)
        self.patch.set_xy(np.column_stack([np.r_[x, -x[::-1]], np.r_[y, y[::-1]]]))


def _strewn(count, base):
    """Halton's sequence: even, and without a pattern; a mark stays where it stands."""
    out, at, digit = np.zeros(count), np.arange(1, count + 1), 1.0 / base
    while at.any():
        out, at, digit = out + digit * (at % base), at // base, digit / base
    return out


class Marks:
    """Marks strewn over a stretch of a body, as many as there is of something."""

    def __init__(self, ax, body, most, marker, colour=style.INK, **look):
        self.body, self.most = body, most
        self.across, self.up = _strewn(most, 2), _strewn(most, 3)
        look = {"color": colour, "markersize": 5, "linestyle": ""} | look
        (self.line,) = ax.plot([], [], marker=marker, animated=True, **look)

    def show(self, count, low_m, high_m):
        """So many of them between two heights."""
        n = int(min(max(round(count), 0), self.most))
        y = low_m + (0.06 + 0.88 * self.up[:n]) * (high_m - low_m)
        self.line.set_data(0.94 * (2.0 * self.across[:n] - 1.0) * self.body.radius_at(y), y)


_NAME_PT = 8.5


class Names:
    """Names at the right of a body, each with a line to what it names; they are kept apart."""

    def __init__(self, ax, body, count):
        self.ax = ax
        self.edge = body.radius_m.max() + body.wall_m
        self.x = self.edge + 0.06 * (ax.get_xlim()[1] - self.edge)
        look = {"va": "center", "fontsize": _NAME_PT, "linespacing": 1.1}
        self.texts = [style.figures(ax, self.x, 0.0, "", **look) for _ in range(count)]
        look = {"color": style.INK, "linewidth": 0.8, "animated": True}
        self.lines = [ax.plot([], [], **look)[0] for _ in range(count)]
        high = ax.get_position().height * ax.figure.bbox.height
        self.line_part = 1.3 * _NAME_PT / 72.0 * ax.figure.dpi / high

    def show(self, named):
        """named: (text, x, y in m of what it names) for each, or None for what is not there."""
        low, high = self.ax.get_ylim()
        there = [k for k, one in enumerate(named) if one is not None]
        lines = max([1, *(named[k][0].count("\n") + 1 for k in there)])
        wanted = [(named[k][2] - low) / (high - low) for k in there]
        placed = dict(zip(there, style.spread(wanted, lines * self.line_part), strict=True))
        for k, (text, line) in enumerate(zip(self.texts, self.lines, strict=True)):
            text.set_visible(k in placed)
            line.set_visible(k in placed)
            if k in placed:
                said, x, y = named[k]
                at = low + placed[k] * (high - low)
                text.set_text(said)
                text.set_y(at)
                line.set_data([x, self.edge, 0.4 * self.edge + 0.6 * self.x], [y, y, at])


def lance(ax, wide_m):
    """A lance over the bath: a Rectangle that moves by set_y(height of its tip)."""
    look = {"facecolor": style.HALO, "edgecolor": style.INK, "animated": True, "zorder": 3}
    return ax.add_patch(Rectangle((-wide_m / 2.0, 0.0), wide_m, 50.0, **look))


def jets(ax):
    """Two lines from the tip of a lance to the bath: set_data()."""
    return style.line(ax, 2, [], [], marks=0, linewidth=1.6, zorder=3)


def metre(ax, x, y):
    """A bar of one metre, to tell the scale."""
    ax.plot([x, x + 1.0], [y, y], color=style.INK, linewidth=2.0, solid_capstyle="butt")
    ax.text(x + 1.12, y, "1 m", va="center", fontsize=8.5)
