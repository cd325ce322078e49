"""Panel of lesson 03: which element burns first, and when does carbon take over? Oxygen potential
lines with movable contents, early slag, CO and temperature.
"""

from collections import namedtuple

import numpy as np

from ...base import beyond, kelvin, quietly
from ...charge import other_set
from ...coursekit.panel import style
from ...slag import slag_solution
from ...thermo import SETS, activities, line_of, order_lines, oxygen_potential, product_of
from ..common import COLDEST_SLAG_K, SETS_SWITCHED, by_the_set
from ..pictures import axes, cursor, dot, made_of, note

TITLE = "{question}"
SIZE_PX = 1080, 400
SHOWN = ("C", "Si", "Mn", "P", "Cr", "V", "Fe")
NAMES = {
    "C": "carbon",
    "Si": "silicon",
    "Mn": "manganese",
    "P": "phosphorus",
    "Cr": "chromium",
    "V": "vanadium",
    "Fe": "iron",
}
LOW_C, HIGH_C = 1250.0, 1720.0
TEMPS = np.linspace(LOW_C, HIGH_C, 48)
LOWEST, DEEPER, HIGHEST = (
    -640.0,
    -780.0,
    -180.0,
)  # kJ/mol O2, of the picture; the second where a line falls below the first
APART_C = 65.0  # between the temperatures written at two rings
OUT = " *"  # after the name of a line that leaves what was measured


def controls(works):
    return {"coefficients": {"choices": sorted(SETS)}}


def _slag_pct(at):
    """The early slag: iron oxide is the rest."""
    silica = at.slag_sio2_pct
    pct = {"SiO2": silica, "CaO": at.slag_basicity * silica, "MnO": at.slag_mno_pct}
    return pct | {"FeO": 100.0 - sum(pct.values())}


def _slag(at):
    """The early slag at TEMPS and, last, at the temperature chosen."""
    T = np.maximum(kelvin(np.append(TEMPS, at.temp_c)), COLDEST_SLAG_K)
    with quietly():  # its range stands beside the numbers
        return slag_solution(_slag_pct(at), T)


def _lines(contents, products, temp_c, coefficients):
    """Oxygen potentials, kJ/mol O2, by element at TEMPS and, last, at temp_c; the Activities behind
    them.
    """
    T = kelvin(np.append(TEMPS, temp_c))
    melt = activities(contents, T, coefficients, quiet=True)
    with quietly():  # told line by line: see _beyond
        return {
            e: oxygen_potential(e, T, melt.h.get(e, 1.0), products.get(e, 1.0), coefficients)
            / 1000.0
            for e in SHOWN
        }, melt


def _beyond(melt):
    """Elements whose line leaves what was measured, with the reason."""
    out = {}
    for e in SHOWN:
        row = line_of(order_lines()[e], melt.coefficients)
        said = beyond(row["equation"], row["holds"], {"T": melt.T})
        if e != "Fe":
            said += melt.remarks_on(e)
        if said:
            out[e] = "; ".join(said)
    return out


def _takes_over(drawn):
    """By element: the temperature, degC, above which carbon's falling line lies below it, or None
    if they do not cross here.
    """
    out = dict.fromkeys(SHOWN[1:])
    for e in out:
        gap = (drawn["C"] - drawn[e])[:-1]
        change = np.flatnonzero((gap[:-1] > 0) != (gap[1:] > 0))
        if change.size:
            k = change[-1]
            share = gap[k] / (gap[k] - gap[k + 1])
            out[e] = float(TEMPS[k] + (TEMPS[k + 1] - TEMPS[k]) * share)
    return out


Shown = namedtuple("Shown", "at melt slag here lines order crossings other beyond")


def compute(works, at):
    """Lines of both sets (the one chosen is drawn), their crossings with carbon, and the order at
    the temperature chosen.
    """
    contents = {e: getattr(at, f"{e.lower()}_pct") for e in SHOWN[:-1]}
    logs = {"C": at.log_p_co, "P": at.log_a_phosphate}
    slag = _slag(at)
    products = {e: 10.0 ** logs.get(e, at.log_a_metal) for e in contents}
    products |= {"Si": np.minimum(slag.activity("SiO2"), 1.0), "Mn": slag.activity("MnO")}
    both = {s: _lines(contents, products, at.temp_c, s) for s in SETS}
    chosen, melt = both[at.coefficients]
    here = {e: float(chosen[e][-1]) for e in SHOWN}
    return Shown(
        at,
        melt,
        slag,
        here,
        chosen,
        sorted(SHOWN, key=here.get),
        _takes_over(chosen),
        _takes_over(both[other_set(at.coefficients)][0]),
        _beyond(melt),
    )


def _chart(fig):
    ax = axes(
        fig,
        (0.09, 0.135, 0.48, 0.785),
        "temperature, °C",
        "oxygen potential, kJ per mol O2",
        (LOW_C, HIGH_C),
        (LOWEST, HIGHEST),
        "The lowest line burns first",
    )
    drawn = [
        style.line(ax, n, TEMPS, 0 * TEMPS, marks=3, linewidth=3.0 if e == "C" else 1.8)
        for n, e in enumerate(SHOWN[:-1])
    ]
    drawn.append(style.line(ax, 0, TEMPS, 0 * TEMPS, marks=0, color=style.HALO, linewidth=1.5))
    labels = style.EndLabels(ax, drawn, SHOWN)
    upright, rings = cursor(ax), dot(ax, 0, ring=True)
    clear = {"facecolor": style.PAPER, "edgecolor": "none", "pad": 0.5, "alpha": 0.8}
    look = {"ha": "center", "va": "top", "fontsize": 9, "bbox": clear}
    marks = [style.figures(ax, 0, 0, "", **look) for _ in SHOWN[1:]]
    text = "ring: carbon's line crosses\n*: beyond what was measured"
    note(ax, 0.985, 0.02, text, ha="right", va="bottom")

    def show(record):
        lowest = min(float(line.min()) for line in record.lines.values())
        lowest = LOWEST if lowest > LOWEST else DEEPER
        ax.set_ylim(lowest, HIGHEST)
        for line, label, e in zip(drawn, labels.texts, SHOWN, strict=True):
            line.set_ydata(record.lines[e][:-1])
            label.set_text(_name(record, e))
        labels.place()
        upright.set_xdata([record.at.temp_c] * 2)
        found = sorted(at for at in record.crossings.values() if at is not None)
        heights = np.interp(found, TEMPS, record.lines["C"][:-1])
        rings.set_data(found, heights)
        written = -np.inf
        for n, mark in enumerate(marks):
            shown = (
                n < len(found) and found[n] - written > APART_C
            )  # of rings that touch the first is labelled; the list at the right has them all
            mark.set_visible(shown)
            if shown:
                written = found[n]
                x = min(max(written, LOW_C + 30.0), HIGH_C - 30.0)
                mark.set(text=f"{written:.0f} °C", position=(x, heights[n] - 14.0))
        return lowest

    return show


def _list(fig):
    title = style.figures(fig, 0.655, 0.93, "", fontsize=10.5, weight="bold")
    fig.text(0.765, 0.865, "carbon takes over at", fontsize=8.5)
    rows = []
    for k in range(len(SHOWN)):
        look = {"y": 0.79 - 0.088 * k, "va": "center"}
        fig.text(0.655, s=f"{k + 1}", fontsize=10, **look)
        name = style.figures(fig, 0.68, fontsize=11, weight="bold", **look)
        rows.append((name, style.figures(fig, 0.765, fontsize=10, **look)))
    fig.text(0.655, 0.135, "Fe: pure iron under pure FeO, for reference", fontsize=8.5)

    def show(record):
        colours = dict(zip(SHOWN, [*(s.colour for s in style.SERIES), style.HALO], strict=True))
        title.set_text(f"Burning order at {record.at.temp_c:.0f} °C")
        for (name, when), e in zip(rows, record.order, strict=True):
            name.set_text(_name(record, e))
            name.set_color(colours[e])
            at = record.crossings.get(e)
            when.set_text("" if at is None else f"{at:.0f} °C")

    return show


def _name(record, element):
    return element + (OUT if element in record.beyond else "")


setup, update = made_of(_chart, _list)


def sentence(record):
    first, second = ("C", "Si") if record.here["C"] < record.here["Si"] else ("Si", "C")
    at, other = record.crossings["Si"], record.other["Si"]
    said = "no crossing" if other is None else f"{other:.0f} °C"
    if at is None:
        rest = (
            f"their lines do not cross from {LOW_C:.0f} to {HIGH_C:.0f} "
            f"°C{'' if other is None else f' (other set: {said})'}"
        )
    else:
        rest = (
            f"carbon {'takes' if first == 'Si' else 'took'} over above {at:.0f} °C (other set: "
            f"{said})"
        )
    names = ", ".join(NAMES[e] for e in record.order)
    return (
        f"At {record.at.temp_c:.0f} °C {NAMES[first]} burns before {NAMES[second]}; {rest}. The "
        f"order, set {record.at.coefficients}: {names}."
    )


def numbers(record):
    rows = []
    for e in record.order:
        name, note = f"{NAMES[e]} to {product_of(e)}", record.beyond.get(e)
        if e != "Fe":
            rows.append((f"{NAMES[e]}: activity h (1 % scale)", f"{record.melt.h[e][-1]:.4g}", ""))
        potential = f"{name}: oxygen potential", f"{record.here[e]:.1f}", "kJ/mol O2"
        rows.append((*potential, note) if note else potential)
    for e in SHOWN[1:]:
        for said, found in (("this set", record.crossings), ("other set", record.other)):
            at = ("none", "") if found[e] is None else (f"{found[e]:.0f}", "°C")
            rows.append((f"carbon and {NAMES[e]} cross, {said}", *at))
    return rows + by_the_set(_slag_pct(record.at), record.at.temp_c, ("SiO2", "MnO"))


def alt(record):
    ends = ", ".join(
        f"{NAMES[e]} {record.lines[e][0]:.0f} to {record.lines[e][-2]:.0f}" for e in SHOWN
    )
    return (
        f"Lines of the oxygen potential, kJ per mol O2, from {LOW_C:.0f} to {HIGH_C:.0f} °C: "
        f"{ends}. Carbon's line falls, all others rise; "
        "rings mark where it crosses them. Right: the burning order at the temperature chosen, "
        "lowest first."
    )


def sources(record):
    sets = ("coefficient set jsps", "coefficient set msts")
    return (*(f"equilibrium {order_lines()[e]}" for e in SHOWN), *sets, record.slag)


def data():
    return SETS_SWITCHED
