"""Panel of lesson 17: what do my shop's heats say? Heats of a log against what the kit expects of
them, the figures of the works moved until they agree, and one heat opened.
"""

from collections import namedtuple
from functools import lru_cache
from pathlib import Path

import numpy as np

from ...base import InputError, minus, plus_minus
from ...charge import solve
from ...coursekit.panel import style
from ...heats import (
    UNITS,
    columns,
    expected,
    invented_month,
    open_heat,
    read,
    residual,
    start_figures,
)
from ...slag import DEFAULTS
from ..pictures import axes, dot, made_of

TITLE = "{question}"
SIZE_PX = 1080, 460
LOG_FILE = "log.csv"
FIGURES = ("heat_mj_t", "heat_wait_mj_t_min", "co2_pct", "ejected_kg_t", "phosphorus_log")
# What is drawn against time: half the height of its axes, its series
TRENDS = {"temperature": (60.0, 0), "steel": (3.0, 1)}
PARITY_C = (1590.0, 1720.0)
SHOWN = ("temperature", "oxygen", "steel", "phosphorus")
CAUSES = 4  # of the heat opened; what is not explained besides
OPENED_C = 80.0
_ASIDE = 12  # heats set aside that are told with their reason


def own_log(works):
    """The Log in log.csv of the folder in use or of the two above it, else the invented month."""
    here = Path.cwd()
    for folder in (here, *list(here.parents)[:2]):
        if (folder / LOG_FILE).is_file():
            return read(folder / LOG_FILE, works)
    return invented_month()


def given(works):
    """The works, its log, and the day of each heat, from 0."""
    log = own_log(works)
    if np.isnat(log.date).any():
        raise InputError(f"{LOG_FILE}: some heats have no date; the panel needs them all.")
    days = (log.date - log.date[0].astype("datetime64[D]")) / np.timedelta64(1, "D")
    return works, log, days


def controls(given):
    works, log, days = given
    last = int(days[-1]) + 1
    own = start_figures(log.works)  # those fitted to its heats, where the profile has them
    return {k: {"default": float(f"{own[k]:.4g}")} for k in FIGURES} | {
        "first_day": {"high": max(last, 2)},
        "last_day": {"high": max(last, 2), "default": last},
    }


Shown = namedtuple(
    "Shown",
    "log days chosen left found expected means spreads heats beyond remarks closure opened",
)


@lru_cache(maxsize=2)  # 10 ms each time the days or the heat opened are moved, not the figures
def _expected(log, figures):
    return expected(log, dict(figures))


def compute(given, at):
    """Heats of the days chosen: found less expected, by the figures of the sliders."""
    _, log, days = given
    if at.last_day < at.first_day:
        raise InputError(
            f"last day: {at.last_day:g} was given; allowed is {at.first_day:g}, the first day, or "
            "later."
        )
    chosen = (days >= at.first_day - 1) & (days < at.last_day)
    figures = {key: getattr(at, key) for key in FIGURES}
    expect = _expected(log, tuple(figures.items()))
    left = {q: residual(log, expect, q) for q in SHOWN}
    inside = {q: x[chosen].compressed() for q, x in left.items()}
    means = {q: (x.mean().item() if x.size else None) for q, x in inside.items()}
    spreads = {q: (x.std().item() if x.size else None) for q, x in inside.items()}
    coldest = np.ma.argsort(np.ma.array(log.of("end_temp_c"), mask=~chosen), endwith=True)
    number = coldest[min(int(at.coldest), max(int(chosen.sum()), 1)) - 1]
    heat = expect.charge
    gap = np.abs(heat.heat_gained_kj() + heat.heat_loss_kj) / heat.steel.mass_kg
    gap = np.max(gap[expect.feasible], initial=0.0)
    return Shown(
        log,
        days,
        chosen,
        left,
        log.of("end_temp_c"),
        expect.temp_c,
        means,
        spreads,
        int(chosen.sum()),
        int((chosen & ~expect.feasible).sum()),
        expect.remarks,
        [("Heat energy of each batch, kJ per kg of steel,", float(gap))],
        open_heat(log, log.heat[number], "temperature", figures),
    )


def _trend(quantity, place, days):
    """Chart of what is left of a quantity against the day, with the mean of each day."""
    half, number = TRENDS[quantity]

    def chart(fig):
        unit = UNITS[quantity]
        title = f"{quantity.capitalize()}, found less expected"
        along = "" if number == 0 else "day"  # one below the other: the lower one says it
        ax = axes(fig, place, along, unit, (0, np.ceil(days[-1])), (-half, half), title)
        ax.axhline(0.0, color=style.INK, linewidth=1.0)
        dots = dot(ax, number, ".", markersize=3)
        grey = dot(ax, number, ".", markersize=3, alpha=0.25)
        daily = style.line(ax, 4, marks=0, linewidth=2.2, linestyle="-")

        def show(record):
            x = record.left[quantity].filled(np.nan)
            dots.set_data(record.days[record.chosen], x[record.chosen])
            grey.set_data(record.days[~record.chosen], x[~record.chosen])
            number_of_day = record.days.astype(int)
            there = np.unique(number_of_day[np.isfinite(x)])
            means = [np.nanmean(x[number_of_day == d]) for d in there]
            daily.set_data(there + 0.5, means)

        return show

    return chart


def _parity(fig):
    ax = axes(
        fig,
        (0.68, 0.71, 0.3, 0.24),
        "expected, °C",
        "found, °C",
        PARITY_C,
        PARITY_C,
        "Heat by heat",
    )
    ax.plot(PARITY_C, PARITY_C, color=style.INK, linewidth=1.0)
    dots = dot(ax, 0, ".", markersize=3)

    def show(record):
        found = record.found.filled(np.nan)
        dots.set_data(record.expected[record.chosen], found[record.chosen])

    return show


def _bias(fig):
    ax = axes(
        fig,
        (0.68, 0.43, 0.3, 0.14),
        "mean over scatter of a heat, to 3",
        "",
        (-3, 3),
        (len(SHOWN) - 0.4, -0.6),
        "Mean difference",
    )
    ax.set_yticks(range(len(SHOWN)), SHOWN)
    ax.grid(axis="y", visible=False)
    ax.axvline(0.0, color=style.INK, linewidth=1.0)
    bars = style.bars(ax, range(len(SHOWN)), [0] * len(SHOWN), range(len(SHOWN)))
    texts = [style.figures(ax, 0, k, "", va="center", fontsize=8.5) for k in range(len(SHOWN))]

    def show(record):
        for bar, text, q in zip(bars, texts, SHOWN, strict=True):
            mean, spread = record.means[q], record.spreads[q]
            size = 0.0 if mean is None else float(np.clip(mean / max(spread, 1e-9), -3, 3))
            bar.set_width(size)
            text.set_text("not read" if mean is None else f"{minus(f'{mean:+.3g}')} {UNITS[q]}")
            text.set_ha("right" if size > 0.0 else "left")  # beside the bar's foot
            text.set_x(-0.08 if size > 0.0 else 0.08)

    return show


def _opened(fig):
    place, span = (0.46, 0.105, 0.3, 0.165), (-OPENED_C, OPENED_C)
    title = "One heat: what explains its temperature"
    ax = axes(fig, place, "°C", "", span, (CAUSES + 0.6, -0.6), title)
    ax.set_yticks([])
    ax.axvline(0.0, color=style.INK, linewidth=1.0)
    rows = range(CAUSES + 1)
    bars = style.bars(ax, rows, [0] * len(rows), [0] * CAUSES + [1])
    beside = {"transform": ax.get_yaxis_transform(), "va": "center", "fontsize": 8.5}
    names = [style.figures(ax, -0.03, k, "", ha="right", **beside) for k in rows]
    sizes = [style.figures(ax, 1.03, k, "", ha="left", **beside) for k in rows]

    def show(record):
        table = causes_of(record)
        left = record.opened.left if table else None
        table += [("", "", None)] * (CAUSES - len(table)) + [("not explained", "", left)]
        for bar, name, size, (what, by, explains) in zip(bars, names, sizes, table, strict=True):
            bar.set_width(0.0 if explains is None else float(np.clip(explains, *span)))
            name.set_text(f"{what} {by}".strip())
            size.set_text("" if explains is None else _degrees(explains))

    return show


def causes_of(record):
    """[(what, its deviation with unit, °C that it explains)] of the heat opened, the largest."""
    known = columns(record.log.works) | {"scrap_kg": {"what": "all scrap", "unit": "kg"}}
    return [
        (known[key]["what"], f"{_signed(by)} {known[key]['unit']}".removesuffix(" 1"), explains)
        for key, by, explains in record.opened.causes[:CAUSES]
        if np.isfinite(record.opened.left)
    ]


def _signed(x):
    return minus(f"{x:+.0f}" if abs(x) >= 100.0 else f"{x:+.2g}")


def drawing(given):
    _, _, days = given
    return made_of(
        _trend("temperature", (0.08, 0.74, 0.45, 0.21), days),
        _trend("steel", (0.08, 0.42, 0.45, 0.19), days),
        _parity,
        _bias,
        _opened,
    )


def _degrees(x):
    return f"{minus(f'{x:+.0f}')} °C"


def sentence(record):
    parts = [
        f"{q} {plus_minus(record.means[q], record.spreads[q], '+')} {UNITS[q]}"
        for q in SHOWN
        if record.means[q] is not None
    ]
    if record.means["phosphorus"] is not None:
        parts[-1] += f", which is {10 ** record.means['phosphorus']:.2g} times as much"
    aside, one = len(record.log.set_aside), record.opened
    apart = one.found - one.usual
    opened = (
        f"Heat {one.heat} ended {abs(apart):.0f} °C "
        f"{'colder' if apart < 0.0 else 'hotter'} than the usual heat"
    )
    told = [f"{what} {by} explains {_degrees(x)}" for what, by, x in causes_of(record)[:2]]
    if told:
        opened += ": " + ", ".join([*told, f"{_degrees(one.left)} are not explained"])
    else:
        opened += "; by these figures it cannot be, so nothing of that is explained"
    beyond = (
        f" Heats that cannot be by these figures, and count in no mean: {record.beyond}."
        if record.beyond
        else ""
    )
    return (
        f"{record.heats} heats of {record.log.works.name}, found less expected, mean and scatter "
        f"of one heat: {'; '.join(parts)}. {aside} heats are set aside.{beyond} {opened}."
    )


def numbers(record):
    rows = []
    for q in SHOWN:
        if record.means[q] is not None:
            error = 1.96 * record.spreads[q] / record.left[q][record.chosen].count() ** 0.5
            rows.append((f"{q}: mean difference", f"{record.means[q]:+.4g}", UNITS[q]))
            rows.append((f"{q}: known to", f"± {error:.2g}", UNITS[q], "95 %, heats independent"))
            rows.append((f"{q}: scatter of one heat", f"{record.spreads[q]:.3g}", UNITS[q]))
    rows += [("left a published range", "", "", remark) for remark in record.remarks]
    one, known = record.opened, columns(record.log.works)
    rows.append((f"heat {one.heat}: end temperature", f"{one.found:.0f}", "°C"))
    rows.append(("less that of the usual heat", f"{one.found - one.usual:+.0f}", "°C"))
    rows += [(f"of it by {what}", f"{x:+.1f}", "°C", by) for what, by, x in causes_of(record)]
    if np.isfinite(one.left):
        rows.append(("not explained by the log", f"{one.left:+.1f}", "°C"))
    rows += [
        (f"could hide in {known[key]['what']}", f"± {x:.1f}", "°C", "read it again to settle")
        for key, x in one.ask
        if np.isfinite(x)
    ]
    rows += [("of the log", "", "", told) for told in record.log.notes]
    aside = record.log.set_aside
    rows += [
        (f"set aside: heat {x.heat}", "", "", f"line {x.line}: {x.reason}") for x in aside[:_ASIDE]
    ]
    if len(aside) > _ASIDE:
        rows.append(("set aside: more heats", f"{len(aside) - _ASIDE}", "", ""))
    return [("heats looked at", f"{record.heats}", ""), *rows]


def alt(record):
    means = ", ".join(
        f"{q} {record.means[q]:+.3g} {UNITS[q]}" for q in SHOWN if record.means[q] is not None
    )
    return (
        "Left: dots, one a heat, against the day, above the end temperature and below the steel "
        "tapped, each found less expected, with a line for the mean of each day. Right above: "
        "temperature found against expected, with the line of equality. Right below: bars of the "
        f"mean differences: {means}. Below: bars of what explains the temperature of heat "
        f"{record.opened.heat}, the largest cause first, and what is not explained."
    )


def closure(record):
    return record.closure


def sources(record):
    return solve(record.log.works), DEFAULTS["P"]


def data():
    return "The log is yours, or invented: no published figures are involved."
