"""Panel of lesson 00: the map of a heat. What goes into the vessel, what comes out, with the masses
and temperatures of the works' own heat.
"""

from collections import namedtuple

from matplotlib.patches import FancyArrowPatch, FancyBboxPatch

from ...charge import solve_by
from ...coursekit.panel import style
from ..adapter import STEEL
from ..common import closing, heat_data, key_of

TITLE = "The map of a heat ({works.name})"
SIZE_PX = 820, 420
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


def compute(works, tap_t, hot_metal_temp_c, si_pct, data):
    """The works' usual heat, scaled to the tap."""
    heat = solve_by(
        works,
        key_of(data),
        hot_metal_temp_c=hot_metal_temp_c,
        hot_metal_pct={**works.hot_metal.analysis_pct, "Si": si_pct},
    ).for_tap(tap_t)
    minutes = heat.blow_minutes(works.oxygen.flow_nm3_min * tap_t / works.vessel.tap_t)
    return Shown(heat, minutes)


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


def setup(fig):
    ax = fig.add_axes((0, 0, 1, 1))
    ax.set(xlim=(0, 1), ylim=(0, 1))
    ax.axis("off")
    places = {key: (x, y) for key, _, x, y, _ in BOXES}
    for start, end in ARROWS:
        (x0, y0), (x1, y1) = places[start], places[end]
        upright = abs(x0 - x1) < 0.01
        a = (x0, y0 + (HALF_H if y1 > y0 else -HALF_H)) if upright else (x0 + HALF_W, y0)
        b = (x1, y1 + (HALF_H if y0 > y1 else -HALF_H)) if upright else (x1 - HALF_W, y1)
        ax.add_patch(
            FancyArrowPatch(
                a,
                b,
                arrowstyle="-|>",
                mutation_scale=14,
                color=style.HALO,
                linewidth=1.6,
                shrinkA=1,
                shrinkB=1,
            )
        )
    texts = {}
    for key, title, x, y, lessons in BOXES:
        size = {
            "boxstyle": "round,pad=0.01",
            "facecolor": style.PAPER,
            "edgecolor": style.INK,
            "linewidth": 1.6,
        }
        ax.add_patch(
            FancyBboxPatch(
                (x - HALF_W + 0.01, y - HALF_H + 0.01), 2 * HALF_W - 0.02, 2 * HALF_H - 0.02, **size
            )
        )
        ax.text(x, y + 0.052, title, ha="center", va="center", weight="bold", fontsize=10)
        ax.text(
            x,
            y - 0.055,
            f"lesson {', '.join(STEEL.lesson(lesson).number for lesson in lessons)}",
            ha="center",
            va="center",
            fontsize=8.5,
            color=style.HALO,
        )
        texts[key] = style.figures(ax, x, y, "", ha="center", va="center", fontsize=9.5)
    ax.text(
        0.985,
        0.03,
        "\n".join(f"{said}: lesson {STEEL.lesson(lesson).number}" for said, lesson in BESIDES),
        ha="right",
        va="bottom",
        fontsize=8.5,
        color=style.HALO,
    )
    return texts


def update(artists, record):
    for key, text in lines_of(record).items():
        artists[key].set_text(text)


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
        "off-gas, slag and steel come from it, and the steel goes to the ladle."
    )


def moved(record):
    """What other data move."""
    h = record.heat
    return [
        ("hot metal", f"{h.hot_metal.mass_kg / 1000:.2f} t"),
        ("scrap", f"{h.scrap.mass_kg / 1000:.2f} t"),
        ("oxygen", f"{h.oxygen_nm3:.0f} Nm3"),
        ("slag", f"{h.slag.mass_kg / 1000:.2f} t"),
    ]


def closure(record):
    return closing(record.heat)


def sources(record):
    return (record.heat,)


def data():
    return heat_data(
        "carbon_all", "feo_line", "silicate_line", "silicate_hp11", "slag_solid", "slag_melted"
    )
