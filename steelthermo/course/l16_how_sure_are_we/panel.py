"""Panel of lesson 16: how far can I trust these numbers? Where heats end whose figures are not
known exactly, which figure matters most, and other data.
"""

from collections import namedtuple

import numpy as np
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path

from ... import charge
from ...coursekit.panel import style
from ...trust import band, differences, effects, heats, quadrature
from ...works import inputs
from ..common import as_rows
from ..pictures import axes, made_of, note

SIZE_PX = 1080, 420
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
IN_SIGHT = "hot_metal_temp_c", "hot_metal_c_pct", "hot_metal_si_pct", "oxygen_nm3", "heat_mj_t"
OTHERS = "all others"


def control_name(key):
    """Name of an input's control: spreads of weights and of the meter are in % of the amount."""
    return f"{key.rpartition('_')[0]}_pct" if inputs()[key].relative else key


# What a heat ends with: unit, half window, width of a bar (the windows are whole numbers of bars),
# digits of its spread, title, axis, bottom of its chart
End = namedtuple("End", "unit window step digits title label bottom")
ENDS = {
    "temperature": End("°C", 10.0, 2.5, 1, "End temperature", "end temperature, °C", 0.605),
    "carbon": End("%", 0.01, 0.0025, 4, "Carbon", "carbon at the end, %", 0.11),
}
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
    return works, {what: band(found, what) for what in ENDS}


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
            "folded": key not in IN_SIGHT,
            "why": f"0 to {i.high:g} {i.unit}: a works that measures badly would reach the upper "
            f"end; {i.status}",
            "help": i.note if i.note != "none" else "",
        }
    many = (("2000 heats, at once", 2000), ("100 000 heats, some seconds", 100_000))
    return out | {"n": {"choices": many}}


Shown = namedtuple("Shown", "works spread other heats shares within")


def compute(given, at):
    """n heats of the works."""
    works, other = given
    spread = {key: getattr(at, control_name(key)) for key in MOVED}
    h = heats(works, at.n, spread)
    shares = {what: h.shares(what) for what in ENDS}
    return Shown(works, spread, other, h, shares, h.within())


def _edges(what, aim):
    step = ENDS[what].step
    if what == "temperature":
        return aim + step * np.arange(-28, 29)
    bars = round(min(aim, 0.1) / step)
    return aim + step * np.arange(-bars, bars + 17)


def _histogram(what, aim, other):
    """The chart of how heats end; other: Band of the end by other data."""

    def chart(fig):
        end, edges = ENDS[what], _edges(what, aim)
        place, limits = (0.075, end.bottom, 0.385, 0.325), (edges[[0, -1]], (0.0, TOPS[0]))
        ax = axes(fig, place, end.label, "heats, %", *limits, end.title)
        ax.grid(axis="x", visible=False)
        ax.axvspan(aim - end.window, aim + end.window, facecolor=style.GRID, zorder=0)
        ax.axvline(aim, color=style.INK, linewidth=1.0, zorder=1)
        none, look = np.zeros(edges.size - 1), {"fill": True, "edgecolor": "none", "animated": True}
        all_bars = ax.stairs(none, edges, facecolor="#9fb2bd", zorder=2, **look)
        near = ax.stairs(none, edges, facecolor=style.SERIES[4].colour, zorder=3, **look)
        look = {"transform": ax.transAxes, "ha": "right", "va": "top", "fontsize": 9, "zorder": 6}
        texts = [style.figures(ax, 0.985, 0.97 - 0.116 * k, "", **look) for k in range(3)]
        low, high = max(aim + other.low, edges[0]), min(aim + other.high, edges[-1])
        look = {"facecolor": style.PAPER, "edgecolor": style.SERIES[1].colour, "hatch": "////"}
        look |= {"linewidth": 1.0, "zorder": 4, "transform": ax.get_xaxis_transform()}
        ax.add_patch(Rectangle((low, 0.665), high - low, 0.065, **look))
        if what == "temperature":
            said = "hatched: other data,\nthe same in every heat"
            note(ax, 0.007, 0.975, said, va="top", fontsize=8, linespacing=1.25)
        middles = 0.5 * (edges[1:] + edges[:-1])

        def show(record):
            h = record.heats
            values = h.of(what)
            counts = 100.0 * np.histogram(values, edges)[0] / h.feasible.size
            off = 100.0 * np.mean((values < edges[0]) | (values > edges[-1]))
            all_bars.set_data(counts)
            near.set_data(np.where(np.abs(middles - aim) < end.window, counts, 0.0))
            texts[0].set_text(f"spread {h.spread(what):.{end.digits}f} {end.unit}")
            within = f"{record.within[what]:.0f} % within ±{end.window:g} {end.unit}"
            texts[1].set_text(within)
            texts[2].set_text(f"{off:.0f} % off the scale" if off >= 0.5 else "")
            top = next(t for t in TOPS if t >= 1.55 * counts.max() or t == TOPS[-1])
            ax.set_ylim(0.0, top)
            return top

        return show

    return chart


def _share_bars(fig):
    names = [*MOVED.values(), OTHERS]
    limits, label = ((0, 112), (len(names) - 0.4, -1.25)), "share of the variance, %"
    ax = axes(fig, (0.665, 0.11, 0.315, 0.82), label, "", *limits, "Which figure matters most")
    ax.set_yticks(range(len(names)), names)
    ax.tick_params(axis="y", labelsize=9)
    ax.grid(axis="y", visible=False)
    drawn = {}
    for what, number, up, x in (("temperature", 4, -0.19, 2), ("carbon", 1, 0.19, 52)):
        places = [k + up for k in range(len(names))]
        look = {"facecolor": style.SERIES[number].colour, "hatch": style.SERIES[number].hatch}
        look |= {"edgecolor": style.PAPER, "linewidth": 0, "animated": True}
        bars = ax.add_patch(PathPatch(_bars(places, [0.0] * len(places)), **look))
        texts = [style.figures(ax, 0, y, "", va="center", fontsize=8) for y in places]
        drawn[what] = bars, texts, places
        ax.text(x + 7, -0.85, what, va="center", fontsize=9)
        style.bars(ax, [-0.85], [5], [number], thickness=0.5, animated=False, start=x)

    def show(record):
        for what, (bars, texts, places) in drawn.items():
            shares = grouped(record.shares[what])
            bars.set_path(_bars(places, shares))
            for text, share in zip(texts, shares, strict=True):
                text.set_text(f"{share:.0f}" if share >= 0.5 else "")
                text.set_x(share + 1.5)

    return show


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
    others = sum(max(s, 0.0) for key, s in shares.items() if key not in MOVED)
    return [*moved, 100.0 * min(others, 1.0)]


def drawing(given):
    """setup and update of the picture, for the aims of a works."""
    works, other = given
    aims = works.end_point.temp_c, works.end_point.analysis_pct.get("C", 0.0)
    ends = (_histogram(what, aim, other[what]) for what, aim in zip(ENDS, aims, strict=True))
    return made_of(*ends, _share_bars)


def _largest(shares):
    key, share = next(iter(shares.items()))
    return f"{inputs()[key].what} ({100 * share:.0f} %)" if share > 0.005 else "nothing"


def sentence(record):
    h, w = record.heats, record.within
    window_c, window_pct = (end.window for end in ENDS.values())
    missed = h.feasible.size - int(h.feasible.sum())
    out = (
        f"Of {h.feasible.size} heats planned for {h.aim_temp_c:.0f} °C and {h.aim_carbon_pct:.3f} "
        f"% C, {w['temperature']:.0f} % end within ±{window_c:g} °C, {w['carbon']:.0f} % within "
        f"±{window_pct:g} % C and {w['both']:.0f} % within both; the spread is "
        f"{h.spread('temperature'):.1f} °C and {h.spread('carbon'):.4f} % C. "
        f"The largest cause of the spread of temperature is "
        f"{_largest(record.shares['temperature'])}; of carbon, "
        f"{_largest(record.shares['carbon'])}."
    )
    return out + (
        f" {missed} heat{'s' if missed > 1 else ''} could not be computed and "
        f"count{'s' if missed == 1 else ''} as missed."
        if missed
        else ""
    )


def numbers(record):
    h = record.heats
    alone = effects(record.works, record.spread)
    rows = [
        *as_rows(f"""
        Aim of the plan: temperature | {h.aim_temp_c:.1f} | °C
        Aim of the plan: carbon | {h.aim_carbon_pct:.4f} | %
        Mean end temperature | {h.mean("temperature"):.1f} | °C
        Mean carbon | {h.mean("carbon"):.4f} | %
        Spread of temperature, counted | {h.spread("temperature"):.2f} | °C
        """),
        (
            "Spread of temperature, root of the sum of squares",
            f"{quadrature([e.temp_c for e in alone.values()]):.2f}",
            "°C",
        ),
        *as_rows(f"""
        Spread of carbon, counted | {h.spread("carbon"):.4f} | %
        Spread of FeO in the slag | {h.spread("FeO"):.2f} | %
        """),
    ]
    for k, v in record.within.items():
        of = "temperature and carbon" if k == "both" else k
        rows.append((f"Heats within the window of {of}", f"{v:.1f}", "%"))
    for key, e in alone.items():
        i, share = inputs()[key], 100.0 * record.shares["temperature"][key]
        rows += as_rows(f"""
        One spread of {i.what} ({e.spread:g} {i.unit}) | {e.temp_c:+.2f} | °C
        Share of {i.what} in the temperature | {max(share, 0.0):.1f} | %
    """)
    for what, end in ENDS.items():
        b = record.other[what]
        told = f"{b.low:+.3g} to {b.high:+.3g}"
        rows.append((f"Other data, one at a time: {what}", told, end.unit))
    return rows


def alt(record):
    t, c = (grouped(record.shares[w]) for w in ENDS)
    names = [*MOVED.values(), OTHERS]

    def top(shares):
        return ", ".join(f"{names[k]} {shares[k]:.0f} %" for k in np.argsort(shares)[::-1][:3])

    b = record.other["temperature"]
    return (
        "Two sets of bars that show where heats end, in temperature and in carbon, the window "
        "around the aim shaded; beside them paired bars of the share of "
        f"each figure in the scatter. Temperature: {top(t)}. Carbon: {top(c)}. A hatched strip "
        "shows what other data, published or not verified, would do, "
        f"one at a time: {b.low:.0f} to {b.high:+.0f} °C."
    )


def sources(record):
    model = ("critical_carbon_pct", "carbon_floor_pct")
    return (*(f"spread of {key}" for key in inputs()), *model, charge.solve(record.works))


def data():
    return (
        "The hatched strip holds all other published data of the charge at once; "
        "steelthermo.trust.differences() lists what each would do by itself."
    )
