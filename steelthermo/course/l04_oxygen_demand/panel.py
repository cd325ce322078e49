"""Panel of lesson 04: how much oxygen, and how long is the blow? Demand by element, for one tonne
of steel and for the heat.
"""

from collections import namedtuple

import numpy as np

from ...base import mass_fractions
from ...charge import blow_minutes, demand
from ...coursekit.panel import style
from ...streams import material

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 820, 370
ELEMENTS = ("C", "Si", "Mn", "P", "Fe")
LABELS = ("carbon", "silicon", "manganese", "phosphorus", "iron to slag, dust", "from ore (saved)")


Shown = namedtuple("Shown", "need burnt charge_kg minutes tap_t flow")


def compute(
    works,
    share_pct,
    c_pct,
    si_pct,
    end_c_pct,
    co2_pct,
    iron_kg_t,
    ore_kg_t,
    purity_pct,
    flow_nm3_min,
):
    """Demand for one tonne of steel; the metallic charge is found from the iron that has to be
    there.
    """
    hot, end = works.hot_metal.analysis_pct, works.end_point.analysis_pct
    scrap, ore = material("heavy_scrap", works), material("ore", works)
    share = share_pct / 100.0
    pct = {
        e: share * p + (1 - share) * 100.0 * scrap.per_kg.get(e, 0.0)
        for e, p in {**hot, "C": c_pct, "Si": si_pct}.items()
    }
    iron = share * (100.0 - sum({**hot, "C": c_pct, "Si": si_pct}.values())) + (
        1 - share
    ) * scrap.pct("Fe")
    ore_fe2o3 = ore_kg_t * ore.pct("Fe2O3") / 100.0
    ends = {
        "C": end_c_pct,
        "Si": 0.0,
        "Mn": min(end["Mn"], pct["Mn"]),
        "P": min(end["P"], pct["P"]),
    }
    steel_iron = 10.0 * (100.0 - sum(ends.values()))
    charge_kg = (steel_iron + iron_kg_t - ore_fe2o3 * mass_fractions("Fe2O3")["Fe"]) / iron * 100.0
    burnt = {
        e: max(charge_kg * pct[e] / 100.0 - 10.0 * ends[e], 0.0) for e in ("C", "Si", "Mn", "P")
    } | {"Fe": iron_kg_t}
    need = demand(burnt, co2_pct=co2_pct, purity_pct=purity_pct, oxides_kg={"Fe2O3": ore_fe2o3})
    tap_t = works.vessel.tap_t
    minutes = blow_minutes(need.blown_nm3 * tap_t, flow_nm3_min)
    return Shown(need, burnt, charge_kg, minutes, tap_t, flow=flow_nm3_min)


Artists = namedtuple("Artists", "bars texts line dot text right")


def setup(fig):
    left, right = fig.subplots(
        1,
        2,
        gridspec_kw={
            "left": 0.17,
            "right": 0.965,
            "bottom": 0.15,
            "top": 0.89,
            "wspace": 0.3,
            "width_ratios": (3, 2),
        },
    )
    style.axes(
        left,
        "oxygen, Nm3 per t of steel",
        "",
        (0, 62),
        (len(LABELS) - 0.4, -0.6),
        "Who takes the oxygen",
    )
    left.set_yticks(range(len(LABELS)), LABELS)
    left.grid(axis="y", visible=False)
    bars = style.bars(left, range(len(LABELS)), [0] * len(LABELS), numbers=[0, 0, 0, 0, 0, 1])
    texts = [
        style.figures(left, 0, k, "", va="center", ha="left", fontsize=9.5)
        for k in range(len(LABELS))
    ]
    style.axes(right, "blow, min", "oxygen blown, Nm3", (0, 40), (0, 18000), "How long it takes")
    line = style.line(right, 0, [0, 0], [0, 0], marks=0)
    (dot,) = right.plot([0], [0], "o", color=style.SERIES[1].colour, markersize=9, animated=True)
    text = style.figures(right, 0, 0, "", ha="left", va="top", fontsize=9.5)
    return Artists(bars, texts, line, dot, text, right)


def update(artists, record):
    values = [record.need.by_element_nm3[e] for e in ELEMENTS] + [record.need.from_oxides_nm3]
    for bar, text, value in zip(artists.bars, artists.texts, values, strict=True):
        bar.set_width(value)
        text.set_text(f"{value:.1f}")
        text.set_x(value + 0.8)
    total = record.need.blown_nm3 * record.tap_t
    limits = (_nice(record.minutes, 40.0), _nice(total, 18000.0))
    artists.line.set_data([0, record.minutes], [0, total])
    artists.dot.set_data([record.minutes], [total])
    artists.text.set_text(f"{record.minutes:.1f} min ")
    artists.text.set_position((record.minutes, total * 0.93))
    artists.text.set_ha("right" if record.minutes > 0.6 * limits[0] else "left")
    artists.right.set(xlim=(0, limits[0]), ylim=(0, limits[1]))
    return limits


def _nice(value, smallest):
    """A limit that holds the value and changes seldom: the smallest, doubled as often as needed."""
    return smallest * 2.0 ** max(0, int(np.ceil(np.log2(value / (0.95 * smallest)))))


def sentence(record):
    need = record.need
    return (
        f"The heat takes {need.blown_nm3:.1f} Nm3 of oxygen per t of steel, "
        f"{need.by_element_nm3['C']:.1f} of it for carbon; "
        f"for {record.tap_t:.0f} t that is {need.blown_nm3 * record.tap_t:.0f} Nm3, blown in "
        f"{record.minutes:.1f} min at {record.flow:.0f} Nm3/min."
    )


def numbers(record):
    need = record.need
    rows = [
        (f"{label}: burnt", f"{record.burnt[e]:.2f}", "kg/t")
        for e, label in zip(ELEMENTS, LABELS, strict=False)
    ]
    rows += [
        (f"{label}: oxygen", f"{need.by_element_nm3[e]:.2f}", "Nm3/t")
        for e, label in zip(ELEMENTS, LABELS, strict=False)
    ]
    return [
        *rows,
        ("oxygen from ore", f"{need.from_oxides_nm3:.2f}", "Nm3/t"),
        ("pure O2 to be blown", f"{need.pure_nm3:.2f}", "Nm3/t"),
        ("oxygen blown", f"{need.blown_nm3:.2f}", "Nm3/t"),
        ("CO + CO2 made", f"{need.gas.nm3['CO'] + need.gas.nm3['CO2']:.1f}", "Nm3/t"),
        ("metallic charge", f"{record.charge_kg:.0f}", "kg/t"),
    ]


def alt(record):
    parts = ", ".join(
        f"{label} {record.need.by_element_nm3[e]:.1f}"
        for e, label in zip(ELEMENTS, LABELS, strict=False)
    )
    left = f"Left: bars of the oxygen each element takes, Nm3 per t of steel: {parts}."
    return f"{left} Right: oxygen blown against minutes, a straight line to the end of the blow."


def sources(record):
    return "gas_constant", "celsius_zero_k", "normal_pressure"
