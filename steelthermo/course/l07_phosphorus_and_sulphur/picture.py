"""The picture of lesson 07: phosphorus left against temperature and against FeO."""

from collections import namedtuple

import numpy as np

from ...base import rows
from ...coursekit.panel import style
from ...slag import (
    DEFAULTS,
    equations,
)
from ...slag import property_facts as facts

LINE = DEFAULTS["P"]
READ, RECALLED = equations("P", "published"), equations("P", "memory")
# series and dashes of recalled ones; the others, which run with SI-c, share one look
LOOKS = {"Healy": (2, (6, 2, 1.2, 2)), "Balajiva": (3, (2.5, 1.5)), "Turkdogan": (5, (8, 2))}
LIKE_SI_C = (4, (4, 2))
LOW_C, HIGH_C = 1550.0, 1720.0
TEMPS, FEO = np.linspace(LOW_C, HIGH_C, 35), np.linspace(10.0, 30.0, 21)
P_LIMITS, P_DEEP = (
    (0.0004, 0.3),
    (0.00003, 0.3),
)  # of the picture; the second where the line falls below the first
TICKS = (0.0001, 0.0002, 0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2)


def range_c(key):
    """Lowest and highest temperature, degC, of an equation."""
    row = next(row for row in rows("slag_partitions") if row["key"] == key)
    return row["low_c"], row["high_c"]


Artists = namedtuple("Artists", "left every labels aim bands lines cursors aims rings")


def setup(fig):
    bands, lines, cursors, aims, rings = ([] for _ in range(5))
    left = fig.add_axes((0.103, 0.14, 0.43, 0.76))
    right = fig.add_axes((0.685, 0.14, 0.295, 0.76), sharey=left)
    style.axes(
        left,
        "temperature, °C",
        "phosphorus left in the steel, %",
        (LOW_C, HIGH_C),
        P_LIMITS,
        "Phosphorus against temperature",
    )
    style.axes(
        right, "FeO in the slag, %", "", (FEO[0], FEO[-1]), P_LIMITS, "Against FeO, same basicity"
    )
    left.set_yscale("log")
    left.set_yticks(TICKS, [f"{x:g}" for x in TICKS])
    left.set_ylim(P_LIMITS)  # the ticks reach further down
    left.minorticks_off()
    right.tick_params(labelleft=False)
    style.shade(left, range_c(LINE)[1], HIGH_C, "beyond the papers")
    gain = next(
        f for f in facts("phosphorus") if f["quantity"] == "FeO" and f["source"] == "basu07"
    )
    style.shade(right, gain["low"], gain["high"], "")
    said = {"transform": right.transAxes, "fontsize": 8.5, "va": "top"}
    right.text(0.2, 0.87, "hatched: above it more FeO\nno longer helped (Basu 2007)", **said)
    for ax, x in ((left, TEMPS), (right, FEO)):
        band = ax.fill_between(
            x,
            0.001,
            0.01,
            facecolor=style.GRID,
            edgecolor=style.HALO,
            linewidth=0.8,
            animated=True,
            zorder=0.7,
        )
        bands.append((band, x))
        lines.append(style.line(ax, 0, x, 0 * x + 0.01, marks=0, linewidth=2.6))
        cursors.append(
            ax.plot(
                [x[0], x[0]], P_DEEP, color=style.INK, linewidth=1.0, linestyle=":", animated=True
            )[0]
        )
        aims.append(
            ax.plot(
                [x[0], x[-1]],
                [0.01, 0.01],
                color=style.SERIES[1].colour,
                linestyle=style.SERIES[1].dash,
                animated=True,
            )[0]
        )
        rings += ax.plot(
            [0],
            [0.01],
            "o",
            color=style.INK,
            markersize=9,
            markerfacecolor="none",
            markeredgewidth=2,
            animated=True,
        )
    thin = {key: {"color": style.HALO, "linestyle": "-", "linewidth": 1.0} for key in READ}
    for key in RECALLED:
        number, dash = LOOKS.get(key, LIKE_SI_C)
        thin[key] = {"color": style.SERIES[number].colour, "linestyle": (0, dash), "linewidth": 1.2}
    every = {
        key: style.line(left, 0, TEMPS, 0 * TEMPS + 0.01, marks=0, zorder=1.8, **look)
        for key, look in thin.items()
    }
    labels = style.EndLabels(
        left, every.values(), [f"{key}*" if key in RECALLED else key for key in every], fontsize=8.5
    )
    orange = style.SERIES[1].colour
    aim = style.figures(left, LOW_C + 3, 0.01, "aim", color=orange, fontsize=9, va="bottom")
    said["transform"] = left.transAxes
    left.text(
        0.015,
        0.87,
        "solid: five equations read in their\npapers (TTH72: up to 1600 °C)\ndashed*: recalled",
        **said,
    )
    return Artists(left, every, labels, aim, bands, lines, cursors, aims, rings)


def update(artists, record):
    a = artists
    limits = (
        P_LIMITS
        if min(float(np.min(record.along_t[0])), float(np.min(record.along_feo[0]))) > P_LIMITS[0]
        else P_DEEP
    )
    a.left.set_ylim(limits)
    for (band, x), line, (values, low, high) in zip(
        a.bands, a.lines, (record.along_t, record.along_feo), strict=True
    ):
        band.set_data(x, low, high)
        line.set_ydata(values)
    for (key, line), label in zip(a.every.items(), a.labels.texts, strict=True):
        line.set_ydata(record.along_all[key])
        label.set_color(style.INK if key == record.line else line.get_color())
    for cursor, ring, at in zip(a.cursors, a.rings, (record.temp_c, record.feo_pct), strict=True):
        cursor.set_xdata([at, at])
        ring.set_data([at], [record.left[record.line]])
    for aim in a.aims:
        aim.set_ydata([record.aim_pct, record.aim_pct])
    a.aim.set_y(record.aim_pct)
    a.labels.place()
    return limits
