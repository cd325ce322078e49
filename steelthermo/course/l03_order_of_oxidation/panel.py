"""Panel of lesson 03: which element burns first, and when does carbon take over? Oxygen potential
lines with movable contents, oxides, CO and temperature.
"""

import warnings
from collections import namedtuple

import numpy as np

from ...base import ExtrapolationWarning, celsius, kelvin
from ...coursekit.panel import style
from ...thermo import LINES, SETS, activities, lines, oxygen_potential, product_of
from ..common import SETS_SWITCHED

TITLE = "{question}"
SIZE_PX = 820, 420
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
LOOKS = {"C": 0, "Si": 1, "Mn": 2, "P": 3, "Cr": 4, "V": 5}
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


def _lines(contents, products, temp_c, coefficients):
    """Oxygen potentials, kJ/mol O2, by element at TEMPS and, last, at temp_c; the Activities behind
    them.
    """
    T = kelvin(np.append(TEMPS, temp_c))
    melt = activities(contents, T, coefficients, quiet=True)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)  # told line by line: see _beyond
        return {
            e: oxygen_potential(e, T, melt.h.get(e, 1.0), products.get(e, 1.0), coefficients)
            / 1000.0
            for e in SHOWN
        }, melt


def _beyond(melt):
    """Elements whose line leaves what was measured, with the reason."""
    row = next(row for row in lines(LINES["P"]).values() if row["default"] == "yes")
    out = {
        "P": (
            f"equilibrium measured from {celsius(row['low_k']):.0f} to "
            f"{celsius(row['high_k']):.0f} °C only"
        )
    }
    for remark in melt.remarks:
        element = remark.split("^")[0].removeprefix("e_")
        if element in SHOWN:
            out[element] = f"{out[element]}; {remark}" if element in out else remark
    return out


def _takes_over(drawn):
    """By element: the temperature, degC, above which carbon's falling line lies below it, or None
    if they do not cross here.
    """
    out = {}
    for e in SHOWN[1:]:
        gap = (drawn["C"] - drawn[e])[:-1]
        change = np.flatnonzero((gap[:-1] > 0) != (gap[1:] > 0))
        k = int(change[-1]) if change.size else None
        at = (
            None
            if k is None
            else float(TEMPS[k] + (TEMPS[k + 1] - TEMPS[k]) * gap[k] / (gap[k] - gap[k + 1]))
        )
        out[e] = at
    return out


Shown = namedtuple("Shown", "melt here temp_c coefficients lines order crossings other beyond")


def compute(
    works,
    c_pct,
    si_pct,
    mn_pct,
    p_pct,
    cr_pct,
    v_pct,
    log_a_sio2,
    log_a_metal,
    log_a_phosphate,
    log_p_co,
    temp_c,
    coefficients,
):
    """Lines of both sets (the one chosen is drawn), their crossings with carbon, and the order at
    temp_c.
    """
    contents = {"C": c_pct, "Si": si_pct, "Mn": mn_pct, "P": p_pct, "Cr": cr_pct, "V": v_pct}
    metal = 10.0**log_a_metal
    products = {
        "C": 10.0**log_p_co,
        "Si": 10.0**log_a_sio2,
        "P": 10.0**log_a_phosphate,
        "Mn": metal,
        "Cr": metal,
        "V": metal,
    }
    both = {s: _lines(contents, products, temp_c, s) for s in SETS}
    chosen, melt = both[coefficients]
    other = next(s for s in SETS if s != coefficients)
    here = {e: float(chosen[e][-1]) for e in SHOWN}
    return Shown(
        melt,
        here,
        temp_c,
        coefficients,
        lines=chosen,
        order=sorted(SHOWN, key=here.get),
        crossings=_takes_over(chosen),
        other=_takes_over(both[other][0]),
        beyond=_beyond(melt),
    )


Artists = namedtuple("Artists", "ax labels cursor marks at rows lines rings")


def setup(fig):
    ax = fig.add_axes((0.09, 0.135, 0.48, 0.785))
    style.axes(
        ax,
        "temperature, °C",
        "oxygen potential, kJ per mol O2",
        (LOW_C, HIGH_C),
        (LOWEST, HIGHEST),
        "The lowest line burns first",
    )
    drawn = [
        style.line(ax, LOOKS[e], TEMPS, 0 * TEMPS, marks=3, linewidth=3.0 if e == "C" else 1.8)
        for e in SHOWN[:-1]
    ]
    drawn.append(style.line(ax, 0, TEMPS, 0 * TEMPS, marks=0, color=style.HALO, linewidth=1.5))
    labels = style.EndLabels(ax, drawn, SHOWN)
    (cursor,) = ax.plot([0, 0], [DEEPER, HIGHEST], color=style.INK, linewidth=1.0, animated=True)
    rings = ax.plot(
        [0],
        [0],
        "o",
        color=style.INK,
        markersize=10,
        markerfacecolor="none",
        markeredgewidth=1.6,
        animated=True,
    )
    clear = {"facecolor": style.PAPER, "edgecolor": "none", "pad": 0.5, "alpha": 0.8}
    marks = [
        style.figures(ax, 0, 0, "", ha="center", va="top", fontsize=9, bbox=clear)
        for _ in SHOWN[1:]
    ]
    ax.text(
        0.985,
        0.02,
        "ring: carbon's line crosses\n*: beyond what was measured",
        transform=ax.transAxes,
        ha="right",
        va="bottom",
        fontsize=8.5,
    )

    at = style.figures(fig, 0.655, 0.93, "", fontsize=10.5, weight="bold")
    fig.text(0.765, 0.865, "carbon takes over at", fontsize=8.5)
    rows = []
    for k in range(len(SHOWN)):
        y = 0.79 - 0.088 * k
        fig.text(0.655, y, f"{k + 1}", fontsize=10, va="center")
        name = style.figures(fig, 0.68, y, "", fontsize=11, weight="bold", va="center")
        rows.append((name, style.figures(fig, 0.765, y, "", fontsize=10, va="center")))
    fig.text(0.655, 0.135, "Fe: pure iron under pure FeO, for reference", fontsize=8.5)
    return Artists(ax, labels, cursor, marks, at, rows, lines=drawn, rings=rings[0])


def update(artists, record):
    a = artists
    lowest = LOWEST if min(float(line.min()) for line in record.lines.values()) > LOWEST else DEEPER
    a.ax.set_ylim(lowest, HIGHEST)
    for line, label, e in zip(a.lines, a.labels.texts, SHOWN, strict=True):
        line.set_ydata(record.lines[e][:-1])
        label.set_text(e + (OUT if e in record.beyond else ""))
    a.labels.place()
    a.cursor.set_xdata([record.temp_c, record.temp_c])
    found = sorted(at for at in record.crossings.values() if at is not None)
    heights = np.interp(found, TEMPS, record.lines["C"][:-1])
    a.rings.set_data(found, heights)
    written = -np.inf
    for n, mark in enumerate(a.marks):
        shown = (
            n < len(found) and found[n] - written > APART_C
        )  # of rings that touch the first is labelled; the list at the right has them all
        mark.set_visible(shown)
        if shown:
            written = found[n]
            mark.set(
                text=f"{written:.0f} °C",
                position=(min(max(written, LOW_C + 30.0), HIGH_C - 30.0), heights[n] - 14.0),
            )
    a.at.set_text(f"Burning order at {record.temp_c:.0f} °C")
    for (name, when), e in zip(a.rows, record.order, strict=True):
        name.set_text(e + (OUT if e in record.beyond else ""))
        name.set_color(style.SERIES[LOOKS[e]].colour if e in LOOKS else style.HALO)
        at = record.crossings.get(e)
        when.set_visible(at is not None)
        when.set_text("" if at is None else f"{at:.0f} °C")
    return lowest


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
        f"At {record.temp_c:.0f} °C {NAMES[first]} burns before {NAMES[second]}; {rest}. The "
        f"order, set {record.coefficients}: {names}."
    )


def numbers(record):
    rows = []
    for e in record.order:
        name, note = f"{NAMES[e]} to {product_of(e)}", record.beyond.get(e)
        if e != "Fe":
            rows.append((f"{NAMES[e]}: activity h (1 % scale)", f"{record.melt.h[e][-1]:.4g}", ""))
        rows.append(
            (
                f"{name}: oxygen potential",
                f"{record.here[e]:.1f}",
                "kJ/mol O2",
                *([note] if note else []),
            )
        )
    for e in SHOWN[1:]:
        for said, found in (("this set", record.crossings), ("other set", record.other)):
            at = found[e]
            rows.append(
                (
                    f"carbon and {NAMES[e]} cross, {said}",
                    "none" if at is None else f"{at:.0f}",
                    "" if at is None else "°C",
                )
            )
    return rows


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
    return (*(f"equilibrium {LINES[e]}" for e in SHOWN), *sets)


def data():
    return SETS_SWITCHED
