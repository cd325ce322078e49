"""Panel of lesson 16: how far can I trust these numbers? Where heats end whose figures are not
known exactly, which figure matters most, and other data.
"""

from collections import namedtuple

import numpy as np
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path

from ... import charge
from ...coursekit.panel import style
from ...trust import band, differences, effects, heats, inputs, quadrature

SIZE_PX = 820, 450
# Inputs that have a slider, with their names on the picture; all others keep the spread of the
# table
MOVED = {
    "hot_metal_temp_c": "hot metal temperature",
    "hot_metal_c_pct": "hot metal carbon",
    "hot_metal_si_pct": "hot metal silicon",
    "hot_metal_kg": "hot metal weight",
    "scrap_kg": "scrap weight",
    "lime_kg": "lime weight",
    "oxygen_nm3": "oxygen meter",
    "co2_pct": "carbon to CO2",
    "heat_mj_t": "heat loss",
    "gas_temp_c": "gas temperature",
    "critical_carbon_pct": "critical carbon",
}
OTHERS = "all others"


def control_name(key):
    """Name of an input's control: spreads of weights and of the meter are in % of the amount."""
    return f"{key.rpartition('_')[0]}_pct" if inputs()[key].relative else key


WINDOW_C, WINDOW_PCT = 10.0, 0.01
STEP_C, STEP_PCT = 2.5, 0.0025  # width of a bar: the windows are whole numbers of bars
TOPS = (
    10.0,
    20.0,
    40.0,
    80.0,
    160.0,
)  # upper ends of the scale of heats, %: few, for a new scale costs the picture four times the time


def given(works):
    """The works, and the Band of end temperature and of carbon by other data."""
    found = differences(works)
    return works, {what: band(found, what) for what in ("temperature", "carbon")}


def controls(given):
    """The spread of each figure, one standard uncertainty."""
    out = {}
    for key, name in MOVED.items():
        i = inputs()[key]
        out[control_name(key)] = {
            "label": f"Spread of {name}",
            "unit": i.unit,
            "low": 0.0,
            "high": i.high,
            "step": next(
                i.high / n
                for n in (50, 40, 60, 100, 1000)
                if abs(i.start * n / i.high - round(i.start * n / i.high)) < 1e-9
            ),  # spread on a step
            "default": i.start,
            "why": f"0 to {i.high:g} {i.unit}: a works that measures badly would reach the upper "
            f"end; {i.status}",
            "help": i.note if i.note != "none" else "",
        }
    many = (("2000 heats, at once", 2000), ("100 000 heats, some seconds", 100_000))
    return out | {"n": {"choices": many}}


Shown = namedtuple("Shown", "works spread other heats shares within")


def compute(given, n, **moved):
    """n heats of the works."""
    works, other = given
    spread = {key: moved[control_name(key)] for key in MOVED}
    h = heats(works, n, spread)
    return Shown(
        works,
        spread,
        other,
        heats=h,
        shares={w: h.shares(w) for w in ("temperature", "carbon")},
        within=h.within(),
    )


def _edges(aim_c, aim_pct):
    bars = round(min(aim_pct, 0.1) / STEP_PCT)
    return aim_c + STEP_C * np.arange(-28, 29), aim_pct + STEP_PCT * np.arange(-bars, bars + 17)


Artists = namedtuple("Artists", "sides bars")


Side = namedtuple("Side", "ax near texts edges all what")


def setup_for(given):
    """setup() of the Drawing, for the aims of a works."""
    works, other = given
    aims = works.end_point.temp_c, works.end_point.analysis_pct.get("C", 0.0)

    def setup(fig):
        sides = []
        places = ((0.605, 0.325), (0.11, 0.325))
        labels = (
            ("end temperature, °C", "End temperature", "temperature"),
            ("carbon at the end, %", "Carbon", "carbon"),
        )
        for (bottom, height), edges, (label, title, key), aim, window in zip(
            places, _edges(*aims), labels, aims, (WINDOW_C, WINDOW_PCT), strict=True
        ):
            ax = fig.add_axes((0.075, bottom, 0.385, height))
            style.axes(ax, label, "heats, %", (edges[0], edges[-1]), (0.0, TOPS[0]), title)
            ax.grid(axis="x", visible=False)
            ax.axvspan(aim - window, aim + window, facecolor=style.GRID, zorder=0)
            ax.axvline(aim, color=style.INK, linewidth=1.0, zorder=1)
            all_bars = ax.stairs(
                np.zeros(edges.size - 1),
                edges,
                fill=True,
                facecolor="#9fb2bd",
                edgecolor="none",
                animated=True,
                zorder=2,
            )
            near = ax.stairs(
                np.zeros(edges.size - 1),
                edges,
                fill=True,
                facecolor=style.SERIES[4].colour,
                edgecolor="none",
                animated=True,
                zorder=3,
            )
            look = {
                "transform": ax.transAxes,
                "ha": "right",
                "va": "top",
                "fontsize": 9,
                "zorder": 6,
            }
            texts = [style.figures(ax, 0.985, 0.97 - 0.116 * k, "", **look) for k in range(3)]
            b = other[key]
            low, high = max(aim + b.low, edges[0]), min(aim + b.high, edges[-1])
            across = ax.get_xaxis_transform()
            ax.add_patch(_bracket(low, high, across))
            if key == "temperature":
                ax.text(
                    edges[0] + 1.0,
                    0.975,
                    "hatched: other data,\nthe same in every heat",
                    transform=across,
                    va="top",
                    fontsize=8,
                    linespacing=1.25,
                )
            sides.append(Side(ax, near, texts, edges, all=all_bars, what=key))
        return Artists(sides, bars=_share_bars(fig))

    return setup


def _bracket(low, high, transform):
    look = {
        "facecolor": style.PAPER,
        "edgecolor": style.SERIES[1].colour,
        "hatch": "////",
        "linewidth": 1.0,
        "zorder": 4,
    }
    return Rectangle((low, 0.665), high - low, 0.065, transform=transform, **look)


def _share_bars(fig):
    names = [*MOVED.values(), OTHERS]
    ax = fig.add_axes((0.665, 0.11, 0.315, 0.82))
    style.axes(
        ax,
        "share of the variance, %",
        "",
        (0, 112),
        (len(names) - 0.4, -1.25),
        "Which figure matters most",
    )
    ax.set_yticks(range(len(names)), names)
    ax.tick_params(axis="y", labelsize=9)
    ax.grid(axis="y", visible=False)
    out = {}
    for what, number, up in (("temperature", 4, -0.19), ("carbon", 1, 0.19)):
        places = [k + up for k in range(len(names))]
        look = style.SERIES[number]
        bars = PathPatch(
            _bars(places, [0.0] * len(places)),
            facecolor=look.colour,
            edgecolor=style.PAPER,
            linewidth=0,
            hatch=look.hatch,
            animated=True,
        )
        texts = [style.figures(ax, 0, y, "", va="center", ha="left", fontsize=8) for y in places]
        out[what] = (ax.add_patch(bars), texts, places)
    for x, what, number in ((2, "temperature", 4), (52, "carbon", 1)):
        ax.text(x + 7, -0.85, what, va="center", fontsize=9)
        style.bars(ax, [-0.85], [5], numbers=[number], thickness=0.5, animated=False, start=x)
    return out


def _bars(places, lengths):
    """All bars of a row as one outline: drawn at once they take a tenth of the time."""
    corners = np.zeros((len(places), 5, 2))
    corners[:, 1:3, 0] = np.asarray(lengths)[:, None]
    corners[:, :, 1] = np.asarray(places)[:, None] + 0.17 * np.array([-1.0, -1.0, 1.0, 1.0, -1.0])
    return Path(
        corners.reshape(-1, 2),
        np.tile([Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY], len(places)),
    )


def grouped(shares):
    """Shares of the inputs with a slider, in order, and of all others together, %; chance cut off
    below 0 and above 100.
    """
    moved = [100.0 * min(max(shares[key], 0.0), 1.0) for key in MOVED]
    return [
        *moved,
        100.0 * min(sum(max(s, 0.0) for key, s in shares.items() if key not in MOVED), 1.0),
    ]


def update(artists, record):
    h, tops = record.heats, []
    for side in artists.sides:
        values = h.of(side.what)
        counts = 100.0 * np.histogram(values, side.edges)[0] / h.feasible.size
        off = 100.0 * np.mean((values < side.edges[0]) | (values > side.edges[-1]))
        aim, window = (
            (h.aim_temp_c, WINDOW_C)
            if side.what == "temperature"
            else (h.aim_carbon_pct, WINDOW_PCT)
        )
        middles = 0.5 * (side.edges[1:] + side.edges[:-1])
        side.all.set_data(counts)
        side.near.set_data(np.where(np.abs(middles - aim) < window, counts, 0.0))
        spread = (
            f"spread {h.spread('temperature'):.1f} °C"
            if side.what == "temperature"
            else f"spread {h.spread('carbon'):.4f} %"
        )
        size = f"±{WINDOW_C:g} °C" if side.what == "temperature" else f"±{WINDOW_PCT:g} %"
        lines = (
            spread,
            f"{record.within[side.what]:.0f} % within {size}",
            f"{off:.0f} % off the scale" if off >= 0.5 else "",
        )
        for text, line in zip(side.texts, lines, strict=True):
            text.set_text(line)
        tops.append(next(t for t in TOPS if t >= 1.55 * counts.max() or t == TOPS[-1]))
        side.ax.set_ylim(0.0, tops[-1])
    for what, (bars, texts, places) in artists.bars.items():
        shares = grouped(record.shares[what])
        bars.set_path(_bars(places, shares))
        for text, share in zip(texts, shares, strict=True):
            text.set_text(f"{share:.0f}" if share >= 0.5 else "")
            text.set_x(share + 1.5)
    return tuple(tops)


def _largest(shares):
    key, share = next(iter(shares.items()))
    return f"{inputs()[key].what} ({100 * share:.0f} %)" if share > 0.005 else "nothing"


def sentence(record):
    h, w = record.heats, record.within
    missed = h.feasible.size - int(h.feasible.sum())
    out = (
        f"Of {h.feasible.size} heats planned for {h.aim_temp_c:.0f} °C and {h.aim_carbon_pct:.3f} "
        f"% C, {w['temperature']:.0f} % end within ±{WINDOW_C:g} °C, "
        f"{w['carbon']:.0f} % within ±{WINDOW_PCT:g} % C and {w['both']:.0f} % within both; the "
        f"spread is {h.spread('temperature'):.1f} °C and "
        f"{h.spread('carbon'):.4f} % C. Most of the temperature's comes from "
        f"{_largest(record.shares['temperature'])}, "
        f"of the carbon's from {_largest(record.shares['carbon'])}."
    )
    return out + (
        f" {missed} heat{'s' if missed > 1 else ''} could not be and "
        f"count{'s' if missed == 1 else ''} as missed."
        if missed
        else ""
    )


def numbers(record):
    h = record.heats
    alone = effects(record.works, record.spread)
    rows = [
        ("Aim of the plan: temperature", f"{h.aim_temp_c:.1f}", "°C"),
        ("Aim of the plan: carbon", f"{h.aim_carbon_pct:.4f}", "%"),
        ("Mean end temperature", f"{h.mean('temperature'):.1f}", "°C"),
        ("Mean carbon", f"{h.mean('carbon'):.4f}", "%"),
        ("Spread of temperature, counted", f"{h.spread('temperature'):.2f}", "°C"),
        (
            "Spread of temperature, root of the sum of squares",
            f"{quadrature([e.temp_c for e in alone.values()]):.2f}",
            "°C",
        ),
        ("Spread of carbon, counted", f"{h.spread('carbon'):.4f}", "%"),
        ("Spread of FeO in the slag", f"{h.spread('FeO'):.2f}", "%"),
    ]
    rows += [(f"Heats within the window of {k}", f"{v:.1f}", "%") for k, v in record.within.items()]
    for key, e in alone.items():
        share = 100.0 * record.shares["temperature"][key]
        rows.append(
            (
                f"One spread of {inputs()[key].what} ({e.spread:g} {inputs()[key].unit})",
                f"{e.temp_c:+.2f}",
                "°C",
            )
        )
        rows.append(
            (f"Share of {inputs()[key].what} in the temperature", f"{max(share, 0.0):.1f}", "%")
        )
    for what, unit in (("temperature", "°C"), ("carbon", "%")):
        b = record.other[what]
        rows.append((f"Other data, one at a time: {what}", f"{b.low:+.3g} to {b.high:+.3g}", unit))
    return rows


def alt(record):
    t, c = (grouped(record.shares[w]) for w in ("temperature", "carbon"))
    names = [*MOVED.values(), OTHERS]

    def top(shares):
        return ", ".join(f"{names[k]} {shares[k]:.0f} %" for k in np.argsort(shares)[::-1][:3])

    b = record.other["temperature"]
    return (
        "Two sets of bars that show where heats end, in temperature and in carbon, the window "
        "around the aim shaded; beside them paired bars of the share of "
        f"each figure in the scatter. Temperature: {top(t)}. Carbon: {top(c)}. A hatched strip "
        "shows what other published or recalled data would do, "
        f"one at a time: {b.low:.0f} to {b.high:+.0f} °C."
    )


# What stands in the place of a choice of data
ALL_SHOWN = (
    "The hatched strip holds all other published data of the charge at once; "
    "steelthermo.disagreement.differences() lists what each would do by itself."
)


def sources(record):
    model = ("critical_carbon_pct", "carbon_floor_pct")
    return (*(f"spread of {key}" for key in inputs()), *model, charge.solve(record.works))


def data():
    return ALL_SHOWN
