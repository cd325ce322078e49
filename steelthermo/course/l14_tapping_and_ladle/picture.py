"""The picture of lesson 14: the analysis against its windows, and the way of the temperature."""

from collections import namedtuple

import numpy as np

from ...coursekit.panel import style

ROWS = ("C", "Si", "Mn", "P", "S", "Al", "CEV")
RECOVERED = ("C", "Si", "Mn", "Al")
STEPS = ("tap", "ladle\nfull", "alloys\nin", "after\nwaiting", "tundish")
RIGHT, OFF, OVER = (
    0,
    1,
    3,
)  # within limit and aim; outside the aim; over the limit: looks of the marks
WIDEST = 144.0  # % of the limit that the picture reaches
Artists = namedtuple(
    "Artists",
    "left windows aims texts marks line liquidus values below above gap",
)


def setup(fig):
    left = fig.add_axes((0.065, 0.15, 0.295, 0.755))
    style.axes(
        left,
        "% of the limit (without one: of the highest aim)",
        "",
        (0.0, 150.0),
        (len(ROWS) - 0.4, -0.6),
        "Analysis",
    )
    left.set_yticks(range(len(ROWS)), ROWS)
    left.set_xticks([0, 50, 100, 150])
    left.grid(axis="y", visible=False)
    left.axvline(100.0, color=style.INK, linewidth=1.6)
    # what belongs to the grade changes seldom and is part of the background
    grey = {"facecolor": style.GRID, "hatch": "", "edgecolor": style.HALO, "linewidth": 0.8}
    windows = style.bars(
        left, range(len(ROWS)), [0] * len(ROWS), thickness=0.62, animated=False, **grey
    )
    aims = [left.text(154.0, k + 0.22, "", va="center", fontsize=9) for k in range(len(ROWS))]
    texts = [
        style.figures(left, 154.0, k - 0.22, "", va="center", fontsize=9) for k in range(len(ROWS))
    ]
    marks = []
    for number in (RIGHT, OFF, OVER):
        look = style.SERIES[number]
        marks += left.plot(
            [],
            [],
            look.marker,
            color=look.colour,
            markersize=9,
            linestyle="",
            clip_on=False,
            animated=True,
            zorder=3,
        )

    right = fig.add_axes((0.635, 0.15, 0.285, 0.755))
    style.axes(right, "", "temperature, °C", (-0.35, 4.35), (1470.0, 1720.0), "From tap to tundish")
    right.set_xticks(range(len(STEPS)), STEPS, fontsize=8.5)
    line = style.line(right, 0, range(len(STEPS)), [1600] * len(STEPS), markevery=1)
    liquidus = style.line(right, 2, [-0.35, 4.35], [1520, 1520], marks=0)
    values = [
        style.figures(right, k + 0.07, 1600, "", va="center", fontsize=8.5)
        for k in range(len(STEPS))
    ]
    below = style.figures(
        right, -0.25, 1520, "", va="top", fontsize=8.5, color=style.SERIES[2].colour
    )
    above = style.figures(right, 4.42, 1540, "", va="center", fontsize=8.5)
    (gap,) = right.plot(
        [4.0, 4.0], [1520, 1560], color=style.HALO, linewidth=1.2, animated=True, zorder=1.5
    )
    return Artists(left, windows, aims, texts, marks, line, liquidus, values, below, above, gap)


def update(artists, record):
    a, rows = artists, record.rows
    for text, row in zip(a.texts, rows, strict=True):
        text.set_text(f"{row.pct:.3f} %{': ' + row.side if row.side else ''}")
        text.set_color(style.SERIES[row.state].colour)
    for mark, state in zip(a.marks, (RIGHT, OFF, OVER), strict=True):
        at = [
            (min(100.0 * r.pct / r.full, WIDEST), k)
            for k, r in enumerate(rows)
            if r.full is not None and r.state == state
        ]
        mark.set_data([x for x, _ in at], [y for _, y in at])

    a.line.set_ydata(record.temps)
    rises = [
        *(np.diff(record.temps) > 0.0),
        False,
    ]  # the line leaves the point upwards: the number stands below
    for text, temp, up in zip(a.values, record.temps, rises, strict=True):
        text.set_text(f"{temp:.0f}")
        text.set_y(temp + (-9.0 if up else 9.0))
    liquidus, end = record.path.liquidus_c, record.temps[-1]
    a.liquidus.set_ydata([liquidus, liquidus])
    a.below.set_text(f"liquidus {liquidus:.0f}")
    a.below.set_y(liquidus - 3.0)
    a.gap.set_ydata([liquidus, end])
    a.above.set_text(f"{record.path.superheat_c:+.0f} °C".replace("-", "−"))
    a.above.set_y(min(0.5 * (liquidus + end), end - 5.0))
    return _grade(a, record)


def _grade(a, record):
    """Windows and aims of the grade, which they are returned with."""
    grade = record.ordered.grade, tuple((row.low, row.high, row.limit) for row in record.rows)
    a.left.set_title(
        f"Analysis against {record.ordered.grade}", loc="left", fontsize=10.5, fontweight="bold"
    )
    for bar, text, row in zip(a.windows, a.aims, record.rows, strict=True):
        bar.set_x(0.0 if row.full is None else 100.0 * row.low / row.full)
        bar.set_width(0.0 if row.full is None else 100.0 * (row.high - row.low) / row.full)
        places = 3 if row.element == "Al" else 2
        aimed = row.element in RECOVERED
        text.set_text(
            f"aim {row.low:.{places}f}–{row.high:.{places}f}"
            if aimed
            else "no limit"
            if row.full is None
            else f"most {row.limit:.3g}"
        )
    return grade
