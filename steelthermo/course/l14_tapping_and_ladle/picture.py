"""The picture of lesson 14: the analysis against its windows, and the way of the temperature."""

import numpy as np

from ...base import minus
from ...coursekit.panel import style
from ..pictures import axes, dot, made_of, parted
from . import cut_open

ROWS = ("C", "Si", "Mn", "P", "S", "Al", "CEV")
RECOVERED = ("C", "Si", "Mn", "Al")
STEPS = ("tap", "ladle\nfull", "alloys\nin", "after\nwaiting", "tundish")
RIGHT, OFF, OVER = (
    0,
    1,
    3,
)  # within limit and aim; outside the aim; over the limit: looks of the marks
WIDEST = 144.0  # % of the limit that the picture reaches


def _windows(fig):
    many, label = range(len(ROWS)), "% of the limit, else of the highest aim"
    limits = (0.0, 150.0), (len(ROWS) - 0.4, -0.6)
    ax = axes(fig, (0.065, 0.15, 0.275, 0.755), label, "", *limits, "Analysis")
    ax.set_yticks(many, ROWS)
    ax.set_xticks([0, 50, 100, 150])
    ax.grid(axis="y", visible=False)
    ax.axvline(100.0, color=style.INK, linewidth=1.6)
    # what belongs to the grade changes seldom and is part of the background
    grey = {"facecolor": style.GRID, "hatch": "", "edgecolor": style.HALO, "linewidth": 0.8}
    bars = style.bars(ax, many, [0] * len(ROWS), thickness=0.62, animated=False, **grey)
    look = {"va": "center", "fontsize": 9}
    aims = [ax.text(154.0, k + 0.22, "", **look) for k in many]
    texts = [style.figures(ax, 154.0, k - 0.22, "", **look) for k in many]
    marks = {
        state: dot(ax, state, style.SERIES[state].marker, clip_on=False, zorder=3)
        for state in (RIGHT, OFF, OVER)
    }

    def show(record):
        for text, row in zip(texts, record.rows, strict=True):
            said = f"{row.pct:.3f} %"
            text.set_text(f"{said}: {row.side}" if row.side else said)
            text.set_color(style.SERIES[row.state].colour)
        for state, mark in marks.items():
            at = [k for k, r in enumerate(record.rows) if r.full is not None and r.state == state]
            rows = [record.rows[k] for k in at]
            mark.set_data([min(100.0 * r.pct / r.full, WIDEST) for r in rows], at)
        grade = f"Analysis against {record.ordered.grade}"
        ax.set_title(grade, loc="left", fontsize=10.5, fontweight="bold")
        for bar, text, row in zip(bars, aims, record.rows, strict=True):
            full, places = row.full, 3 if row.element == "Al" else 2
            bar.set_x(0.0 if full is None else 100.0 * row.low / full)
            bar.set_width(0.0 if full is None else 100.0 * (row.high - row.low) / full)
            said = "no limit" if full is None else f"most {row.limit or 0.0:.3g}"
            aimed = f"aim {row.low:.{places}f}–{row.high or 0.0:.{places}f}"
            text.set_text(aimed if row.element in RECOVERED else said)
        return grade, tuple((row.low, row.high, row.limit) for row in record.rows)

    return show


def _temperatures(fig):
    place, limits = (0.635, 0.15, 0.285, 0.755), ((-0.35, 4.35), (1470.0, 1720.0))
    ax = axes(fig, place, "", "temperature, °C", *limits, "From tap to tundish")
    many = range(len(STEPS))
    ax.set_xticks(many, STEPS, fontsize=8.5)
    line = style.line(ax, 0, many, [1600] * len(STEPS), markevery=1)
    liquidus = style.line(ax, 2, limits[0], [1520, 1520], marks=0)
    values = [style.figures(ax, k + 0.07, 1600, "", va="center", fontsize=8.5) for k in many]
    look = {"va": "top", "fontsize": 8.5, "color": style.SERIES[2].colour}
    below = style.figures(ax, -0.25, 1520, "", **look)
    above = style.figures(ax, 4.42, 1540, "", va="center", fontsize=8.5)
    look = {"color": style.HALO, "linewidth": 1.2, "linestyle": "-", "zorder": 1.5}
    gap = style.line(ax, 0, [4.0, 4.0], [1520, 1560], marks=0, **look)

    def show(record):
        temps, cold, end = record.temps, record.path.liquidus_c, record.temps[-1]
        line.set_ydata(temps)
        rises = [
            *(np.diff(temps) > 0.0),
            False,
        ]  # the line leaves the point upwards: the number stands below
        for text, temp, up in zip(values, temps, rises, strict=True):
            text.set_text(f"{temp:.0f}")
            text.set_y(temp + (-9.0 if up else 9.0))
        liquidus.set_ydata([cold, cold])
        below.set_text(f"liquidus {cold:.0f}")
        below.set_y(cold - 3.0)
        gap.set_ydata([cold, end])
        above.set_text(minus(f"{record.path.superheat_c:+.0f} °C"))
        above.set_y(min(0.5 * (cold + end), end - 5.0))

    return show


def drawing_of(heat):
    """setup and update of the picture for the ladle of a heat."""
    return made_of(parted(0.7, [_windows, _temperatures], [cut_open.chart_for(heat)]))
