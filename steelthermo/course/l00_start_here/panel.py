"""Panel of lesson 00: the map of a heat. What goes into the vessel, what comes out, with the masses
and temperatures of the works' own heat.
"""

from collections import namedtuple

import numpy as np
from matplotlib.patches import FancyArrowPatch, FancyBboxPatch

from ...coursekit.panel import style
from ..adapter import STEEL
from ..common import as_rows, charge_at, closing, heat_data
from ..pictures import made_of

TITLE = "The map of a heat ({works.name})"
SIZE_PX = 1080, 400
# Boxes of the map: key, title, centre x and y (fractions of the picture), lessons that deal with it
BOXES = (
    ("hot", "hot metal", 0.11, 0.83, ("charge_materials", "pretreatment")),
    ("scrap", "scrap", 0.11, 0.57, ("charge_materials", "heat_balance")),
    ("flux", "lime, dolomite", 0.11, 0.31, ("slag_basicity",)),
    ("oxygen", "oxygen", 0.40, 0.87, ("oxygen_demand", "oxygen_or_air", "lance_and_jet")),
    (
        "vessel",
        "the blow",
        0.40,
        0.45,
        ("oxidation_heat", "order_of_oxidation", "heat_balance", "the_blow"),
    ),
    ("gas", "off-gas", 0.69, 0.87, ("off_gas",)),
    ("steel", "steel", 0.69, 0.45, ("end_point",)),
    ("slag", "slag", 0.40, 0.10, ("slag_basicity", "phosphorus_and_sulphur")),
    ("ladle", "ladle", 0.90, 0.45, ("tapping_and_ladle",)),
)
# What has no box of its own, and its lesson
BESIDES = (
    ("end point and correction", "end_point"),
    ("the whole heat", "whole_heat"),
    ("how far to trust it", "how_sure_are_we"),
    ("your own heats", "own_heats"),
)
ARROWS = (
    ("hot", "vessel"),
    ("scrap", "vessel"),
    ("flux", "vessel"),
    ("oxygen", "vessel"),
    ("vessel", "gas"),
    ("vessel", "steel"),
    ("vessel", "slag"),
    ("steel", "ladle"),
)
HALF_W, HALF_H = 0.092, 0.085


Shown = namedtuple("Shown", "heat minutes")


def compute(works, at):
    """The works' usual heat, scaled to the tap."""
    heat = charge_at(works, at).for_tap(at.tap_t)
    flow = works.oxygen.flow_nm3_min * at.tap_t / works.vessel.tap_t
    return Shown(heat, heat.blow_minutes(flow))


def lines_of(record):
    """What stands in each box."""
    h, t = record.heat, lambda kg: f"{kg / 1000:.1f} t"
    return {
        "hot": f"{t(h.hot_metal.mass_kg)}, {h.hot_metal.temp_c:.0f} °C",
        "scrap": f"{t(h.scrap.mass_kg)}, {h.scrap_share_pct:.0f} %",
        "flux": f"{t(h.lime.mass_kg)} + {t(h.dolomite.mass_kg)}",
        "oxygen": f"{h.oxygen_nm3:.0f} Nm3",
        "vessel": f"{record.minutes:.0f} min",
        "gas": f"{h.gas.total_nm3:.0f} Nm3",
        "steel": f"{t(h.steel.mass_kg)}, {h.temp_c:.0f} °C",
        "slag": t(h.slag.mass_kg),
        "ladle": "to analysis",
    }


def _map(fig):
    ax = fig.add_axes((0, 0, 1, 1))
    ax.set(xlim=(0, 1), ylim=(0, 1))
    ax.axis("off")
    places = {key: (x, y) for key, _, x, y, _ in BOXES}
    for start, end in ARROWS:
        (x0, y0), (x1, y1) = places[start], places[end]
        across, up = (HALF_W, 0.0) if x0 != x1 else (0.0, HALF_H * np.sign(y1 - y0))
        look = {"arrowstyle": "-|>", "color": style.HALO, "linewidth": 1.6, "shrinkA": 1}
        ends = (x0 + across, y0 + up), (x1 - across, y1 - up)
        ax.add_patch(FancyArrowPatch(*ends, mutation_scale=14, shrinkB=1, **look))
    centred, small = {"ha": "center", "va": "center"}, {"fontsize": 8.5, "color": style.HALO}
    texts = {}
    for key, title, x, y, lessons in BOXES:
        size = 2 * HALF_W - 0.02, 2 * HALF_H - 0.02
        look = {"boxstyle": "round,pad=0.01", "facecolor": style.PAPER, "linewidth": 1.6}
        corner = x - HALF_W + 0.01, y - HALF_H + 0.01
        ax.add_patch(FancyBboxPatch(corner, *size, edgecolor=style.INK, **look))
        ax.text(x, y + 0.052, title, weight="bold", fontsize=10, **centred)
        numbers = ", ".join(STEEL.lesson(lesson).number for lesson in lessons)
        ax.text(x, y - 0.055, f"lesson {numbers}", **centred, **small)
        texts[key] = style.figures(ax, x, y, "", fontsize=9.5, **centred)
    besides = "\n".join(f"{said}: lesson {STEEL.lesson(name).number}" for said, name in BESIDES)
    ax.text(0.985, 0.03, besides, ha="right", va="bottom", **small)
    together = style.figures(ax, 0.018, 0.1, "", va="center", fontsize=9.5)

    def show(record):
        together.set_text("\n".join(_together(record)))
        for key, text in lines_of(record).items():
            texts[key].set_text(text)

    return show


setup, update = made_of(_map)


def _together(record):
    """All that goes in and all that comes out: the same mass."""
    come, go = (sum(kg.values()) / 1000.0 for kg in record.heat.mass_account())
    return f"all that goes in: {come:.1f} t", f"all that comes out: {go:.1f} t"


def sentence(record):
    h = record.heat
    return (
        f"{h.hot_metal.mass_kg / 1000:.0f} t hot metal and {h.scrap.mass_kg / 1000:.0f} t scrap "
        f"become {h.steel.mass_kg / 1000:.0f} t steel "
        f"at {h.temp_c:.0f} °C, with {h.oxygen_nm3:.0f} Nm3 of oxygen in {record.minutes:.0f} min, "
        f"{h.lime.mass_kg / 1000:.1f} t lime and {h.slag.mass_kg / 1000:.1f} t slag."
    )


def numbers(record):
    h = record.heat
    come, go = h.mass_account()
    rows = [(f"in: {name}", f"{kg / 1000:.2f}", "t") for name, kg in come.items()] + [
        (f"out: {name}", f"{kg / 1000:.2f}", "t") for name, kg in go.items()
    ]
    return [*rows, ("steel from the metallic charge (yield)", f"{h.yield_pct:.1f}", "%")]


def alt(record):
    return (
        "A map of a heat: hot metal, scrap, lime and dolomite, and oxygen go to the blow; "
        "off-gas, slag and steel come from it, and the steel goes to the ladle. "
        f"{'; '.join(_together(record))}."
    )


def moved(record):
    """What other data move."""
    h = record.heat
    return as_rows(f"""
        hot metal | {h.hot_metal.mass_kg / 1000:.2f} t
        scrap | {h.scrap.mass_kg / 1000:.2f} t
        oxygen | {h.oxygen_nm3:.0f} Nm3
        slag | {h.slag.mass_kg / 1000:.2f} t
    """)


def closure(record):
    return closing(record.heat)


def sources(record):
    return (record.heat,)


def data():
    return heat_data(
        "carbon_all", "feo_tables", "silicate_line", "silicate_hp11", "slag_solid", "slag_compounds"
    )
