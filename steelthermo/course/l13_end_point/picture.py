"""The picture of lesson 13: the decision chart, and oxygen against carbon."""

import numpy as np
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator

from ...base import plus_minus
from ...coursekit.panel import style
from ..pictures import axes, dot, logarithmic, made_of, note
from .carbon_and_oxygen import draw_practice

BAND_C = 10.0  # half the tapping window
ANGLE = np.linspace(0.0, 2.0 * np.pi, 61)
CARBONS = np.geomspace(0.01, 0.5, 40)
LOW_C, HIGH_C, FEW_PCT, MANY_PCT = 1570.0, 1750.0, 0.2, 0.8  # of the chart
LEAST_PPM, MOST_PPM = 15.0, 3000.0
# of the oxygen chart: where the probe finds more, its words stand left, else right, where curve and
# names leave room
TEXT_CARBON_PCT = 0.07


def _decision(fig):
    limits = (0.0, FEW_PCT), (LOW_C, HIGH_C)
    labels = "carbon, %", "temperature, °C"
    ax = axes(fig, (0.085, 0.135, 0.445, 0.785), *labels, *limits, "Can I tap?")
    look = {"facecolor": style.GRID, "edgecolor": style.INK, "linewidth": 1.2, "animated": True}
    window = ax.add_patch(Rectangle((0, 0), 1, 2.0 * BAND_C, **look))
    named = style.figures(ax, 0, 0, "tap here", fontsize=9, va="bottom")
    path, cool = (style.line(ax, n, [0], [0], marks=0, linewidth=2.5) for n in (1, 2))
    look = {"marks": 0, "linestyle": "-", "linewidth": 1.2}
    around, after = (style.line(ax, n, ANGLE, ANGLE, **look) for n in (0, 3))
    start, end = dot(ax, 0), dot(ax, 3, "D")
    look = {"transform": ax.transAxes, "facecolor": style.PAPER, "edgecolor": "none", "zorder": 0.8}
    ax.add_patch(Rectangle((0.36, 0.82), 0.635, 0.16, **look))
    look = {"transform": ax.transAxes, "ha": "right", "va": "top", "fontsize": 9.5}
    says = [
        style.figures(ax, 0.98, 0.97 - 0.055 * k, "", color=style.SERIES[k].colour, **look)
        for k in range(3)
    ]
    ax.xaxis.set_major_locator(MaxNLocator(4))
    note(ax, 0.98, 0.09, "●  measured", ha="right")
    said = "◆  after it; ellipses: one spread"
    note(ax, 0.98, 0.03, said, ha="right", color=style.SERIES[3].colour)

    def show(record):
        d, u_carbon, u_temp = record.decision, *record.u
        aim_c, aim_t = record.at.aim_carbon_pct, record.at.aim_temp_c
        widest = FEW_PCT if max(record.carbon + u_carbon, aim_c) < 0.97 * FEW_PCT else MANY_PCT
        ax.set_xlim(0.0, widest)
        window.set_bounds(0.0, aim_t - BAND_C, aim_c, 2.0 * BAND_C)
        named.set_position((0.01 * widest, aim_t + BAND_C + 1.0))
        blown, cooled = d.oxygen_nm3.value > 0, d.coolant_kg.value > 0
        steps = record.path if blown else record.path[:1]
        if blown and cooled:
            steps = record.path[:-1]
        path.set_data(*zip(*steps, strict=True))
        cool.set_data(*zip(*record.path[-2 if cooled else -1 :], strict=True))
        start.set_data([record.carbon], [record.at.temp_c])
        end.set_data([d.carbon_pct.value], [d.temp_c.value])
        for artist in (end, after):
            artist.set_visible(d.action != "tap")
        for ring, (x, y, u_x, u_y) in (
            (around, (record.carbon, record.at.temp_c, u_carbon, u_temp)),
            (after, (d.carbon_pct.value, d.temp_c.value, d.carbon_pct.u, d.temp_c.u)),
        ):
            ring.set_data(x + u_x * np.cos(ANGLE), y + u_y * np.sin(ANGLE))
        oxygen = f"oxygen {d.oxygen_nm3.value:.0f} Nm3, {d.minutes.value:.1f} min"
        coolant = f"{record.coolant.split(' (')[0]} {d.coolant_kg.value / 1000.0:.1f} t"
        says[0].set_text(f"chance that a tap now is right: {d.chance_pct:.0f} %")
        says[1].set_text(oxygen if blown else "no second blow")
        says[2].set_text(coolant if cooled else "no coolant")
        return widest

    return show


def _probe(fig):
    ends = CARBONS[[0, -1]]
    labels = "carbon, %", "activity of oxygen, ppm"
    limits, title = (ends, (LEAST_PPM, MOST_PPM)), "Carbon by the probe"
    ax = axes(fig, (0.635, 0.135, 0.345, 0.785), *labels, *limits, title)
    logarithmic(ax, "x", [0.01, 0.02, 0.05, 0.1, 0.2, 0.5])
    logarithmic(ax, "y", [20, 50, 100, 200, 500, 1000, 2000])
    curve = style.line(ax, 4, CARBONS, 100.0 + 0 * CARBONS, marks=0, linestyle="-")
    draw_practice(ax)
    read = style.line(ax, 3, ends, [100, 100], marks=0, linewidth=1.5)
    bar = style.line(ax, 3, [0.1, 0.1], [100, 100], marks=0, linestyle="-", linewidth=4.0)
    found, sample = dot(ax, 3, "D", zorder=3.5), dot(ax, 0, ring=True, zorder=3.5)
    said = "curve: oxygen with carbon and CO"
    note(ax, 0.02, 0.08, said, va="bottom", color=style.SERIES[4].colour)
    note(ax, 0.02, 0.02, "ring: carbon of the sample", va="bottom")
    words = style.figures(ax, 0, 0, "", va="bottom", fontsize=9, color=style.SERIES[3].colour)
    words.set_bbox({"facecolor": style.PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.85})

    def show(record):
        curve.set_ydata(record.curve_ppm)
        height = min(max(record.oxygen_ppm, LEAST_PPM), MOST_PPM)
        read.set_ydata([height, height])
        c, u = record.by_probe.value, record.by_probe.u
        bar.set_data([max(c - u, ends[0]), min(c + u, ends[1])], [height, height])
        found.set_data([c], [height])
        sample.set_data([record.at.carbon_pct], [height])
        left, above = c > TEXT_CARBON_PCT, height < 90.0 or c < TEXT_CARBON_PCT and height < 1800.0
        words.set(
            text=f"{record.oxygen_ppm:.0f} ppm:\n{plus_minus(c, u)} % C",
            position=(0.0105 if left else 0.48, height * (1.06 if above else 1.0 / 1.06)),
            ha="left" if left else "right",
            va="bottom" if above else "top",
        )

    return show


setup, update = made_of(_decision, _probe)
