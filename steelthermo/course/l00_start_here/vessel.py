"""A sketch of the vessel for those who have never seen one: what is called what. Not to scale, and
of no works.
"""

import base64
import io
from html import escape

import numpy as np
from IPython.display import HTML
from matplotlib import rc_context
from matplotlib.figure import Figure
from matplotlib.patches import Ellipse, Polygon

from ...coursekit.panel import GRID, HALO, INK, PAPER, RC, SERIES

ALT = (
    "Sketch of an oxygen converter cut open, not to scale: a pear-shaped steel shell with a thick "
    "brick lining, open at the top. From above a water-cooled "
    "lance reaches through the hood over the mouth and blows oxygen on the bath from some two "
    "metres. Metal lies at the bottom, slag floats on it. The gas "
    "leaves through the hood. The vessel tilts on trunnions; steel runs out by the tap hole in its "
    "side, slag over the mouth."
)
# The right half of the shell, of the lining and of the room inside, from the bottom up to the mouth
_SHELL = ((0.0, -0.1), (1.6, 0.0), (2.3, 0.8), (2.4, 1.6), (2.4, 3.6), (1.15, 5.4))
_LINING = ((0.0, 0.0), (1.53, 0.1), (2.2, 0.84), (2.3, 1.6), (2.3, 3.56), (1.07, 5.4))
_ROOM = ((0.0, 0.35), (1.35, 0.4), (1.85, 1.0), (1.95, 1.6), (1.95, 3.5), (0.85, 5.3))
# Word, where it stands, what it points at
_NAMES = (
    ("lance, cooled by water:\nblows the oxygen", (-5.3, 6.3), (-0.08, 5.9)),
    ("hood: takes the gas away", (2.5, 6.9), (1.2, 6.5)),
    ("mouth", (2.5, 5.5), (0.95, 5.35)),
    ("tap hole: steel runs out here", (2.9, 4.5), (2.05, 4.2)),
    ("trunnion: the vessel tilts on it", (2.9, 2.75), (2.55, 2.6)),
    ("slag: lime and oxides, it floats", (2.9, 1.75), (1.3, 1.95)),
    ("bath: liquid metal", (2.9, 0.85), (1.1, 1.0)),
    ("jet of oxygen", (-5.3, 3.3), (-0.2, 2.7)),
    ("lining: bricks of magnesia", (-5.3, 4.4), (-1.75, 4.2)),
    ("steel shell", (-5.3, 1.0), (-2.32, 1.3)),
)


def _mirrored(points):
    right = np.array(points)
    return np.vstack([right, (right * (-1.0, 1.0))[::-1]])


def _draw(ax):
    ax.add_patch(
        Polygon(_mirrored(_SHELL), closed=True, facecolor=HALO, edgecolor=INK, linewidth=1.5)
    )
    ax.add_patch(
        Polygon(
            _mirrored(_LINING),
            closed=True,
            facecolor="#efe3d3",
            edgecolor=HALO,
            hatch="++",
            linewidth=0.5,
        )
    )
    ax.add_patch(
        Polygon(_mirrored(_ROOM), closed=True, facecolor=PAPER, edgecolor=INK, linewidth=1.0)
    )
    ax.plot([-0.87, 0.87], [5.35, 5.35], color=PAPER, linewidth=9)  # the mouth is open
    inside = _mirrored(_ROOM)
    for low, high, face, hatch in ((0.35, 1.7, "#e6b39a", ""), (1.7, 2.15, GRID, "..")):
        level = np.array([[-1.95, low], [1.95, low], [1.95, high], [-1.95, high]])
        patch = Polygon(
            level, closed=True, facecolor=face, edgecolor=INK, hatch=hatch, linewidth=0.8
        )
        ax.add_patch(patch)
        patch.set_clip_path(Polygon(inside, closed=True, transform=ax.transData))
    for side in (-1, 1):
        ax.add_patch(Ellipse((side * 2.55, 2.6), 0.45, 0.8, facecolor=HALO, edgecolor=INK))
        ax.plot([side * 1.5, side * 1.0, side * 0.7], [6.0, 6.9, 7.3], color=INK, linewidth=2)
    ax.add_patch(
        Polygon(
            [(1.55, 4.25), (2.1, 4.45), (2.2, 4.25), (1.7, 4.05)],
            closed=True,
            facecolor=PAPER,
            edgecolor=INK,
        )
    )
    ax.plot([-0.14, -0.14, 0.14, 0.14], [7.4, 3.4, 3.4, 7.4], color=SERIES[4].colour, linewidth=2.2)
    for shift in (-0.3, 0.0, 0.3):
        ax.annotate(
            "",
            (shift, 2.2),
            (0.3 * shift, 3.35),
            arrowprops={"arrowstyle": "->", "color": SERIES[2].colour, "linewidth": 1.6},
        )
    for x in (-0.75, 0.75):
        ax.annotate(
            "",
            (0.8 * x, 6.6),
            (x, 5.0),
            arrowprops={
                "arrowstyle": "->",
                "color": SERIES[1].colour,
                "linewidth": 1.4,
                "linestyle": "--",
            },
        )
    for word, at, to in _NAMES:
        ax.annotate(
            word,
            to,
            at,
            va="center",
            fontsize=10,
            arrowprops={"arrowstyle": "-", "color": INK, "linewidth": 0.8, "shrinkB": 0},
        )


def figure():
    """The sketch as a Matplotlib Figure."""
    with rc_context(RC):
        fig = Figure(figsize=(8.2, 4.2), dpi=100)
        ax = fig.add_axes((0.0, 0.0, 1.0, 1.0))
        ax.set_axis_off()
        ax.set(xlim=(-5.5, 7.3), ylim=(-0.25, 7.45), aspect="equal")
        _draw(ax)
    return fig


def vessel():
    """The sketch, shown when it is the last line of a cell, with its description as the text for
    those who do not see it.
    """
    out = io.BytesIO()
    figure().savefig(out, format="png")
    data = base64.b64encode(out.getvalue()).decode()
    return HTML(
        f'<img src="data:image/png;base64,{data}" alt="{escape(ALT)}" width="820" '
        'style="max-width:100%;background:#ffffff">'
    )
