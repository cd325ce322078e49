"""The picture of lesson 07: phosphorus left against temperature and against FeO."""

import numpy as np

from ...base import celsius, ranges, rows
from ...coursekit.panel import style
from ...slag import DEFAULTS, equations
from ...slag import property_facts as facts
from ..pictures import axes, band, cursor, dot, logarithmic, made_of, note, parted
from . import where

LINE = DEFAULTS["P"]
# series and dashes of those not verified; the others, which run with SI-c, share one look
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
    held = next(r for r in ranges(row["holds"]) if r.name == "T")
    return celsius(held.low), celsius(held.high)


def _axes(fig, left, width, label, limits, title, **more):
    ax = axes(fig, (left, 0.14, width, 0.76), label, "", limits, P_LIMITS, title, **more)
    logarithmic(ax, "y", TICKS)
    return ax


def _of_record(ax, x):
    """What shows the line and the band of five equations along x, the aim, and this heat."""
    grey, look = band(ax), {"marks": 0, "linewidth": 2.6}
    line = style.line(ax, 0, x, 0 * x + 0.01, **look)
    aim = style.line(ax, 1, [x[0], x[-1]], [0.01, 0.01], marks=0)
    upright, ring = cursor(ax), dot(ax, 0, ring=True)

    def show(record, along, at):
        values, low, high = along
        grey.set_data(x, low, high)
        line.set_ydata(values)
        aim.set_ydata([record.at.aim_pct] * 2)
        upright.set_xdata([at, at])
        ring.set_data([at], [record.in_ladle])
        lowest = float(min(np.min(along[0]) for along in (record.along_t, record.along_feo)))
        limits = P_LIMITS if lowest > P_LIMITS[0] else P_DEEP
        ax.set_ylim(limits)
        return limits

    return show


def _against_temperature(fig):
    limits, title = (LOW_C, HIGH_C), "Phosphorus against temperature"
    ax = _axes(fig, 0.103, 0.43, "temperature, °C", limits, title)
    ax.set_ylabel("phosphorus left in the steel, %")
    style.shade(ax, range_c(LINE)[1], HIGH_C, "beyond the papers")
    show_record = _of_record(ax, TEMPS)
    lines = {}
    unverified = equations("P", False)
    for key in equations("P"):
        look = {"color": style.HALO, "linestyle": "-", "linewidth": 1.0}
        if key in unverified:
            number, dash = LOOKS.get(key, LIKE_SI_C)
            look = {"color": style.SERIES[number].colour, "linestyle": (0, dash), "linewidth": 1.2}
        lines[key] = style.line(ax, 0, TEMPS, 0 * TEMPS + 0.01, marks=0, zorder=1.8, **look)
    names = [f"{key}*" if key in unverified else key for key in lines]
    labels = style.EndLabels(ax, lines.values(), names, fontsize=8.5)
    look = {"color": style.SERIES[1].colour, "fontsize": 9, "va": "bottom"}
    aim = style.figures(ax, LOW_C + 3, 0.01, "aim", **look)
    said = "solid: five published equations\n(TTH72: up to 1600 °C)\ndashed*: not verified"
    note(ax, 0.015, 0.87, said, va="top")

    def show(record):
        limits = show_record(record, record.along_t, record.at.temp_c)
        for (key, line), label in zip(lines.items(), labels.texts, strict=True):
            line.set_ydata(record.along_all[key])
            label.set_color(style.INK if key == record.line else line.get_color())
        aim.set_y(record.at.aim_pct)
        labels.place()
        return limits

    return show


def _against_iron_oxide(fig):
    limits, title = (FEO[0], FEO[-1]), "Against FeO, same basicity"
    ax = _axes(fig, 0.685, 0.295, "FeO in the slag, %", limits, title)
    ax.tick_params(labelleft=False)
    gain = next(
        f for f in facts("phosphorus") if f["quantity"] == "FeO" and f["source"] == "basu07"
    )
    style.shade(ax, gain["low"], gain["high"], "")
    said = "hatched: above it more FeO\nno longer helped (Basu 2007)"
    note(ax, 0.2, 0.87, said, va="top")
    show_record = _of_record(ax, FEO)
    return lambda record: show_record(record, record.along_feo, record.at.feo_pct)


setup, update = made_of(parted(0.75, [_against_temperature, _against_iron_oxide], [where.chart]))
