"""The picture of lesson 13: the decision chart, and oxygen against carbon."""

from collections import namedtuple

import numpy as np
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator

from ...coursekit.panel import style
from .carbon_and_oxygen import (
    draw_practice,
)

BAND_C = 10.0  # half the tapping window
ANGLE = np.linspace(0.0, 2.0 * np.pi, 61)
CARBONS = np.geomspace(0.01, 0.5, 40)
LOW_C, HIGH_C, FEW_PCT, MANY_PCT = 1570.0, 1750.0, 0.2, 0.8  # of the chart
LEAST_PPM, MOST_PPM = 15.0, 3000.0
# of the oxygen chart: where the probe finds more, its words stand left, else right, where curve and
# names leave room
TEXT_CARBON_PCT = 0.07
Artists = namedtuple(
    "Artists",
    "chart window named path cool around after start end says curve read bar found sample said",
)


def setup(fig):
    chart = fig.add_axes((0.085, 0.135, 0.445, 0.785))
    style.axes(chart, "carbon, %", "temperature, °C", (0.0, FEW_PCT), (LOW_C, HIGH_C), "Can I tap?")
    window = chart.add_patch(
        Rectangle(
            (0, 0),
            1,
            2.0 * BAND_C,
            facecolor=style.GRID,
            edgecolor=style.INK,
            linewidth=1.2,
            animated=True,
        )
    )
    named = style.figures(chart, 0, 0, "tap here", fontsize=9, va="bottom")
    path = style.line(chart, 1, [0], [0], marks=0, linewidth=2.5)
    cool = style.line(chart, 2, [0], [0], marks=0, linewidth=2.5)
    around, after = (
        style.line(chart, n, ANGLE, ANGLE, marks=0, linestyle="-", linewidth=1.2) for n in (0, 3)
    )
    (start,) = chart.plot([0], [0], "o", color=style.INK, markersize=8, animated=True)
    (end,) = chart.plot([0], [0], "D", color=style.SERIES[3].colour, markersize=7, animated=True)
    chart.add_patch(
        Rectangle(
            (0.36, 0.82),
            0.635,
            0.16,
            transform=chart.transAxes,
            facecolor=style.PAPER,
            edgecolor="none",
            zorder=0.8,
        )
    )
    says = []
    for k in range(3):
        look = {
            "transform": chart.transAxes,
            "ha": "right",
            "va": "top",
            "fontsize": 9.5,
            "color": style.SERIES[k].colour,
        }
        says.append(style.figures(chart, 0.98, 0.97 - 0.055 * k, "", **look))
    chart.xaxis.set_major_locator(MaxNLocator(4))
    chart.text(0.98, 0.09, "●  measured", transform=chart.transAxes, ha="right", fontsize=8.5)
    chart.text(
        0.98,
        0.03,
        "◆  after it; ellipses: one sigma",
        transform=chart.transAxes,
        ha="right",
        fontsize=8.5,
        color=style.SERIES[3].colour,
    )

    oxygen = fig.add_axes((0.635, 0.135, 0.345, 0.785))
    style.axes(
        oxygen,
        "carbon, %",
        "activity of oxygen, ppm",
        (CARBONS[0], CARBONS[-1]),
        (LEAST_PPM, MOST_PPM),
        "Carbon by the probe",
    )
    oxygen.set_xscale("log")
    oxygen.set_yscale("log")
    oxygen.set_xticks(
        [0.01, 0.02, 0.05, 0.1, 0.2, 0.5], ["0.01", "0.02", "0.05", "0.1", "0.2", "0.5"]
    )
    oxygen.set_yticks(
        [20, 50, 100, 200, 500, 1000, 2000], ["20", "50", "100", "200", "500", "1000", "2000"]
    )
    oxygen.minorticks_off()
    curve = style.line(oxygen, 4, CARBONS, 100.0 + 0 * CARBONS, marks=0, linestyle="-")
    draw_practice(oxygen)
    read = style.line(oxygen, 3, [CARBONS[0], CARBONS[-1]], [100, 100], marks=0, linewidth=1.5)
    bar = style.line(oxygen, 3, [0.1, 0.1], [100, 100], marks=0, linestyle="-", linewidth=4.0)
    (found,) = oxygen.plot(
        [0.1], [100], "D", color=style.SERIES[3].colour, markersize=8, zorder=3.5, animated=True
    )
    (sample,) = oxygen.plot(
        [0.1],
        [100],
        "o",
        color=style.INK,
        markersize=8,
        markerfacecolor="none",
        markeredgewidth=2,
        zorder=3.5,
        animated=True,
    )
    oxygen.text(
        0.02,
        0.08,
        "curve: oxygen with carbon and CO",
        transform=oxygen.transAxes,
        va="bottom",
        fontsize=8.5,
        color=style.SERIES[4].colour,
    )
    oxygen.text(
        0.02,
        0.02,
        "ring: carbon of the sample",
        transform=oxygen.transAxes,
        va="bottom",
        fontsize=8.5,
    )
    said = style.figures(oxygen, 0, 0, "", va="bottom", fontsize=9, color=style.SERIES[3].colour)
    said.set_bbox({"facecolor": style.PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.85})
    return Artists(
        chart,
        window,
        named,
        path,
        cool,
        around,
        after,
        start,
        end,
        says,
        curve,
        read,
        bar,
        found,
        sample,
        said,
    )


def update(artists, record):
    a, d = artists, record.decision
    aim_c, aim_t = record.aims
    widest = FEW_PCT if max(record.carbon + record.u[0], aim_c) < 0.97 * FEW_PCT else MANY_PCT
    a.chart.set_xlim(0.0, widest)
    a.window.set_bounds(0.0, aim_t - BAND_C, aim_c, 2.0 * BAND_C)
    a.named.set_position((0.01 * widest, aim_t + BAND_C + 1.0))
    blown = d.oxygen_nm3.value > 0
    steps = record.path if blown else record.path[:1]
    if blown and d.coolant_kg.value > 0:
        steps = record.path[:-1]
    a.path.set_data(*zip(*steps, strict=True))
    cooled = record.path[-2:] if d.coolant_kg.value > 0 else record.path[-1:]
    a.cool.set_data(*zip(*cooled, strict=True))
    a.start.set_data([record.carbon], [record.temp_c])
    acts = d.action != "tap"
    a.end.set_data([d.carbon_pct.value], [d.temp_c.value])
    a.end.set_visible(acts)
    a.after.set_visible(acts)
    for ring, (x, y, u_x, u_y) in (
        (a.around, (record.carbon, record.temp_c, *record.u)),
        (a.after, (d.carbon_pct.value, d.temp_c.value, d.carbon_pct.u, d.temp_c.u)),
    ):
        ring.set_data(x + u_x * np.cos(ANGLE), y + u_y * np.sin(ANGLE))
    a.says[0].set_text(f"chance that a tap now is right: {d.chance_pct:.0f} %")
    a.says[1].set_text(
        f"oxygen {d.oxygen_nm3.value:.0f} Nm3, {d.minutes.value:.1f} min"
        if blown
        else "no second blow"
    )
    a.says[2].set_text(
        f"{record.coolant.split(' (')[0]} {d.coolant_kg.value / 1000.0:.1f} t"
        if d.coolant_kg.value > 0
        else "no coolant"
    )

    a.curve.set_ydata(record.curve_ppm)
    height = min(max(record.oxygen_ppm, LEAST_PPM), MOST_PPM)
    a.read.set_ydata([height, height])
    c, u = record.by_probe.value, record.by_probe.u
    a.bar.set_data([max(c - u, CARBONS[0]), min(c + u, CARBONS[-1])], [height, height])
    a.found.set_data([c], [height])
    a.sample.set_data([record.sample_pct], [height])
    a.said.set_text(f"{record.oxygen_ppm:.0f} ppm:\n{c:.3f} ± {u:.3f} % C")
    left, above = c > TEXT_CARBON_PCT, height < 90.0 or c < TEXT_CARBON_PCT and height < 1800.0
    place = (0.0105 if left else 0.48, height * (1.06 if above else 1.0 / 1.06))
    a.said.set(position=place, ha="left" if left else "right", va="bottom" if above else "top")
    return widest
