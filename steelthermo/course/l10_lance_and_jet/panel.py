"""Panel of lesson 10: what does the lance do? The nozzle from pipe to exit, the jets to scale above
the bath, and three recalled depths of their dent.
"""

from collections import namedtuple
from functools import cache, lru_cache

import numpy as np
from matplotlib.patches import Polygon

from ...base import kelvin, rows, value
from ...coursekit.panel import OWN, data_choice, style
from ...jet import LanceHead, absolute_kpa, at_bath, core_length_m, design_head, expand, penetration

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 820, 420
USUAL_KPA, WIDE_MM = (
    1000.0,
    42.0,
)  # of a throat: wider ones are rare, common practice
ABSOLUTE, GAUGE = "absolute", "gauge"
HEIGHTS = np.linspace(0.8, 3.0, 23)
DEPTHS = (
    ("flinn_m", "Flinn"),
    ("koria_lange_m", "Koria, Lange"),
    ("force_balance_m", "force balance"),
)
ALONG = np.concatenate(
    [np.linspace(-1.0, 0.0, 25), 1.6 * np.linspace(0.0, 1.0, 41)[1:] ** 2]
)  # of the drawing: pipe -1, throat 0, exit 1.6
PIPE = 1.7  # diameter of the pipe over that of the throat, of the drawing
BOWL = np.linspace(-1.0, 1.0, 31)
SCENE_M, SHALLOW_M = (-1.75, 3.15), 1.6
LOOKS, DASHED = (0, 1, 3), (0, (4, 2))  # all three depths are dashed: none is more than recalled


def given(works):
    """The works, and its usual settings: the head is the one that passes the works' oxygen at the
    usual pressure, fully expanded, with the fewest holes of usual width.
    """
    heads = design_head(works.oxygen.flow_nm3_min, USUAL_KPA, np.arange(1, 8))
    holes = 1 + min(int(np.sum(heads.throat_mm > WIDE_MM)), 6)
    throat, exit_ = (
        min(max(round(2.0 * d[holes - 1]) / 2.0, low), high)
        for d, low, high in ((heads.throat_mm, 15.0, 60.0), (heads.exit_mm, 30.0, 90.0))
    )
    return works, {
        "supply_kpa": USUAL_KPA,
        "counted": ABSOLUTE,
        "holes": float(holes),
        "throat_mm": throat,
        "exit_mm": exit_,
        "angle_deg": 12.0,
        "height_m": 1.8,
        "k": 6.2,
    }


def controls(given):
    _, usual = given
    holes = int(usual["holes"])
    why = (
        f"passes the works' oxygen at {USUAL_KPA:.0f} kPa absolute with {holes} "
        f"hole{'s' if holes > 1 else ''}"
    )
    more = {
        "counted": {"choices": (ABSOLUTE, GAUGE)},
        "throat_mm": {"why": why},
        "exit_mm": {"why": why + ", matched to air"},
    }
    return {name: {"default": x} | more.get(name, {}) for name, x in usual.items()}


TABLES = (
    "gamma_tables"  # the other published data: gas tables instead of oxygen's own heat capacity
)


@cache
def _gamma(data):
    """Ratio of heat capacities for lance and nozzle: None for that of oxygen, which follows its
    temperature.
    """
    return (
        None if data == OWN else next(row["value"] for row in rows("lance") if row["key"] == data)
    )


@cache
def _ratios(gamma):
    """Pressure over supply pressure against area over throat area, before and behind the throat, of
    oxygen at 25 °C.
    """
    table = expand(
        kelvin(25.0),
        mach=np.concatenate([np.linspace(0.05, 1.0, 60), np.linspace(1.0, 4.9, 120)]),
        gamma=gamma,
    )
    return np.split(np.asarray(table.area_ratio), [60]), np.split(
        np.asarray(table.pressure_ratio), [60]
    )


def _profile(flow, gamma):
    """Diameter, mm, and pressure, kPa, along the nozzle as drawn."""
    head = flow.head
    narrow = head.throat_mm * (1.0 + (PIPE - 1.0) * 0.5 * (1.0 - np.cos(np.pi * ALONG)))
    widen = head.throat_mm + (head.exit_mm - head.throat_mm) * ALONG / ALONG[-1]
    diameter = np.where(ALONG < 0.0, narrow, widen)
    area = (diameter / head.throat_mm) ** 2
    (before, behind), (high, low) = _ratios(gamma)
    ratio = np.where(ALONG < 0.0, np.interp(-area, -before, high), np.interp(area, behind, low))
    return diameter, ratio * flow.supply_kpa


@lru_cache(16)
def _impact(supply_kpa, counted, holes, throat_mm, exit_mm, angle_deg, height_m, k, data):
    kpa = supply_kpa if counted == ABSOLUTE else absolute_kpa(supply_kpa)
    flow = LanceHead(throat_mm, exit_mm, int(holes), angle_deg).flow(kpa, gamma=_gamma(data))
    return flow, at_bath(flow, height_m, k)


Shown = namedtuple("Shown", "flow bath diameter pressure height_m depths harder per_t")


def compute(given, **settings):
    """The head, its jets at the bath, and the depths against height."""
    works, usual = given
    flow, bath = _impact(**settings)
    diameter, pressure = _profile(flow, _gamma(settings["data"]))
    return Shown(
        flow,
        bath,
        diameter,
        pressure,
        height_m=settings["height_m"],
        depths=penetration(flow, HEIGHTS, settings["k"]),
        harder=bath.momentum_number / _impact(**usual, data=settings["data"])[1].momentum_number,
        per_t=flow.flow_nm3_min / works.vessel.tap_t,
    )


Artists = namedtuple(
    "Artists",
    "wall edge leaves matched inside end said pipe cavity bowls deep band lines labels rings jets",
)


def setup(fig):
    shape = fig.add_axes((0.085, 0.57, 0.29, 0.35))
    style.axes(shape, "", "diameter, mm", (-1.0, 2.3), (-66, 66), "One nozzle")
    shape.set_yticks([-50, -25, 0, 25, 50], ["50", "25", "0", "25", "50"])
    shape.tick_params(bottom=False, labelbottom=False)
    shape.spines["bottom"].set_visible(False)
    shape.grid(visible=False)
    wall = [style.line(shape, 0, ALONG, 0 * ALONG, marks=0) for _ in range(2)]
    edge = [style.line(shape, 2, [1.6, 2.3], [0, 0], marks=0) for _ in range(2)]
    shape.text(0.0, -64, "Mach 1", ha="center", va="bottom", fontsize=8.5)
    leaves = style.figures(shape, ALONG[-1], -64, "", ha="center", va="bottom", fontsize=8.5)
    blue = {"va": "top", "fontsize": 8.5, "color": style.SERIES[2].colour}
    shape.text(1.6, 66, "full expansion: ", ha="right", **blue)
    matched = style.figures(shape, 1.6, 66, "", **blue)

    drop = fig.add_axes((0.085, 0.15, 0.29, 0.38), sharex=shape)
    style.axes(drop, "", "pressure, kPa absolute", (-1.0, 2.3), (20, 2000))
    drop.set_yscale("log")
    drop.set_yticks(
        [20, 50, 100, 200, 500, 1000, 2000], ["20", "50", "100", "200", "500", "1000", "2000"]
    )
    drop.minorticks_off()
    drop.set_xticks([-0.85, 0.0, 1.6, 2.2], ["pipe", "throat", "exit", "jet"])
    ambient = value("normal_pressure") / 1000.0
    style.line(drop, 1, [-1.0, 2.3], [ambient, ambient], marks=0, animated=False)
    drop.text(
        -0.95,
        ambient * 0.87,
        f"around the jet {ambient:.0f}",
        fontsize=8.5,
        va="top",
        color=style.SERIES[1].colour,
    )
    inside = style.line(drop, 0, ALONG, 1.0 + 0 * ALONG, marks=0)
    (end,) = drop.plot([ALONG[-1]], [100], "o", color=style.INK, markersize=7, animated=True)
    drop.text(2.28, 1350, "at the exit:", ha="right", va="top", fontsize=9)
    said = style.figures(drop, 2.28, 880, "", ha="right", va="top", fontsize=9)

    scene = fig.add_axes((0.455, 0.15, 0.185, 0.77))
    half = (
        0.5 * (SCENE_M[1] - SCENE_M[0]) * 0.185 * SIZE_PX[0] / (0.77 * SIZE_PX[1])
    )  # a metre is as long across as it is up
    style.axes(
        scene,
        "to scale, m; dashed: the dent\nby three recalled formulas",
        "height over the bath, m",
        (-half, half),
        SCENE_M,
        "Jets and bath",
    )
    scene.set_xticks([-1, 0, 1])
    scene.xaxis.label.set_fontsize(8.5)
    scene.axhline(0.0, color=style.INK, linewidth=1.0)
    pipe = scene.add_patch(
        Polygon([(0, 0)] * 4, facecolor=style.HALO, edgecolor=style.INK, animated=True)
    )
    axes_of_jets = [style.line(scene, 2, [0, 0], [0, 0], marks=0) for _ in range(2)]
    cavity = scene.add_patch(
        Polygon([(0, 0)] * 3, facecolor=style.GRID, edgecolor="none", animated=True, zorder=0.5)
    )
    bowls = [
        style.line(scene, n, BOWL, 0 * BOWL, marks=0, linestyle=DASHED, linewidth=1.6)
        for n in LOOKS
    ]

    deep = fig.add_axes((0.72, 0.15, 0.155, 0.77))
    style.axes(
        deep,
        "lance height, m",
        "depth of the dent, m",
        (HEIGHTS[0], HEIGHTS[-1]),
        (SHALLOW_M, 0.0),
        "Depth, recalled",
    )
    deep.set_xticks([1, 2, 3])
    band = deep.fill_between(
        HEIGHTS, 0, 1, facecolor=style.GRID, edgecolor="none", animated=True, zorder=0.5
    )
    lines = [style.line(deep, n, HEIGHTS, 0 * HEIGHTS, marks=3, linestyle=DASHED) for n in LOOKS]
    labels = style.EndLabels(deep, lines, [name for _, name in DEPTHS], fontsize=8.5)
    rings = []
    for n in LOOKS:
        rings += deep.plot(
            [0],
            [0],
            "o",
            color=style.SERIES[n].colour,
            markersize=11,
            markerfacecolor="none",
            markeredgewidth=2,
            animated=True,
        )
    return Artists(
        wall,
        edge,
        leaves,
        matched,
        inside,
        end,
        said,
        pipe,
        cavity,
        bowls,
        deep,
        band,
        lines,
        labels,
        rings,
        jets=axes_of_jets,
    )


def update(artists, record):
    a, flow, bath = artists, record.flow, record.bath
    for line, sign in zip(a.wall, (1, -1), strict=True):
        line.set_ydata(sign * record.diameter / 2.0)
    for line, sign in zip(a.edge, (1, -1), strict=True):
        line.set_ydata([sign * flow.head.exit_mm / 2.0, sign * flow.matched_exit_mm / 2.0])
    a.leaves.set_text(f"Mach {flow.mach:.2f}")
    a.matched.set_text(f"{flow.matched_exit_mm:.1f} mm")
    a.inside.set_ydata(record.pressure)
    a.end.set_ydata([flow.exit_kpa])
    a.said.set_text(flow.expansion)

    x, wide = record.height_m, bath.dent_diameter_m / 2.0
    a.pipe.set_xy([(-0.12, 9.0), (-0.12, x), (0.12, x), (0.12, 9.0)])
    for line, sign in zip(a.jets, (1, -1), strict=True):
        line.set_data([0, sign * bath.ring_radius_m], [x, 0])
    depths = [getattr(bath.penetration, name) for name, _ in DEPTHS]
    for bowl, depth in zip(a.bowls, depths, strict=True):
        bowl.set_data(BOWL * wide, -depth * (1.0 - BOWL**2))
    low, high = (
        np.column_stack((BOWL * wide, -d * (1.0 - BOWL**2))) for d in (min(depths), max(depths))
    )
    a.cavity.set_xy(np.concatenate([low, high[::-1]]))

    for line, ring, depth, (name, _) in zip(a.lines, a.rings, depths, DEPTHS, strict=True):
        line.set_ydata(getattr(record.depths, name))
        ring.set_data([x], [depth])
    a.band.set_data(HEIGHTS, record.depths.low_m, record.depths.high_m)
    deepest = float(np.max(record.depths.high_m))
    limit = SHALLOW_M * (1.0 if deepest < 0.97 * SHALLOW_M else 2.0)
    a.deep.set_ylim(limit, 0.0)
    a.labels.place()
    return limit


def _compared(ratio):
    if abs(ratio - 1.0) < 0.03:
        return "as hard as"
    return f"harder ({ratio:.2g} times) than" if ratio > 1.0 else f"softer ({ratio:.2g} times) than"


def _signed(number):
    return f"{number:.0f}".replace("-", "−")


def sentence(record):
    flow, bath, p = record.flow, record.bath, record.bath.penetration
    return (
        f"{flow.head.holes} {'holes pass' if flow.head.holes > 1 else 'hole passes'} "
        f"{flow.flow_nm3_min:.0f} Nm3/min ({record.per_t:.2f} Nm3/min per t); "
        f"the oxygen leaves at Mach {flow.mach:.2f}, {_signed(flow.exit_temp_c)} °C and "
        f"{flow.exit_kpa:.0f} kPa absolute, {flow.expansion}. "
        f"{record.height_m:.2f} m above the bath the momentum number is "
        f"{1000 * bath.momentum_number:.2f}/1000, {_compared(record.harder)} the usual setting. "
        f"Three recalled formulas put the dent at {p.low_m:.2f} to {p.high_m:.2f} m, a factor "
        f"{p.spread:.0f}; none is right."
    )


def moved(record):
    """What other data move."""
    flow = record.flow
    return [
        ("oxygen", f"{flow.flow_nm3_min:.1f} Nm3/min"),
        ("Mach number at the exit", f"{flow.mach:.3f}"),
        ("temperature there", f"{_signed(flow.exit_temp_c)} °C"),
        ("pressure there", f"{flow.exit_kpa:.1f} kPa"),
        ("exit diameter of full expansion", f"{flow.matched_exit_mm:.2f} mm"),
        ("momentum number", f"{1000 * record.bath.momentum_number:.3f}/1000"),
    ]


def numbers(record):
    flow, bath, p = record.flow, record.bath, record.bath.penetration
    core = core_length_m(flow)
    return [
        ("supply pressure, absolute", f"{flow.supply_kpa:.0f}", "kPa"),
        ("oxygen, all holes", f"{flow.flow_nm3_min:.0f}", "Nm3/min"),
        ("oxygen per t of steel", f"{record.per_t:.2f}", "Nm3/min per t"),
        ("Mach number at the exit", f"{flow.mach:.3f}", ""),
        ("temperature at the exit", f"{flow.exit_temp_c:.0f}", "°C"),
        ("speed at the exit", f"{flow.exit_speed_m_s:.0f}", "m/s"),
        ("pressure at the exit, absolute", f"{flow.exit_kpa:.1f}", "kPa", flow.expansion),
        ("exit diameter of full expansion", f"{flow.matched_exit_mm:.1f}", "mm"),
        ("thrust of one hole", f"{flow.thrust_n:.0f}", "N"),
        ("thrust of all holes, downward", f"{flow.downward_n:.0f}", "N"),
        ("momentum number of one jet", f"{bath.momentum_number:.5f}", ""),
        ("the same over that of the usual setting", f"{record.harder:.2f}", ""),
        (
            "supersonic core, cold surroundings",
            f"{core[0]:.2f} to {core[1]:.2f}",
            "m",
            "recalled band",
        ),
        (
            "speed on the axis at the bath",
            f"{bath.axis_speed_m_s:.0f}",
            "m/s",
            "coefficient recalled",
        ),
        ("impact pressure", f"{bath.impact_kpa:.0f}", "kPa", "coefficient recalled"),
        *(
            (f"depth of the dent, {name}", f"{getattr(p, key):.2f}", "m", "recalled")
            for key, name in DEPTHS
        ),
        ("diameter of the dent, all jets", f"{bath.dent_diameter_m:.2f}", "m", "recalled"),
        ("lance axis to jet axis at the bath", f"{bath.ring_radius_m:.2f}", "m"),
        ("between neighbouring jets at the bath", f"{bath.spacing_m:.2f}", "m"),
    ]


def alt(record):
    flow, p = record.flow, record.bath.penetration
    return (
        f"Left: one nozzle, wide pipe, throat of {flow.head.throat_mm:.1f} mm, exit of "
        f"{flow.head.exit_mm:.1f} mm; below it the pressure falls along "
        f"the nozzle from {flow.supply_kpa:.0f} to {flow.exit_kpa:.0f} kPa. Middle: lance, jets "
        "and bath to scale, the dent as three dashed outlines. "
        "Right: depth of the dent against lance height, three dashed lines with a grey band "
        "between them; "
        f"at this height Flinn {p.flinn_m:.2f}, Koria and Lange {p.koria_lange_m:.2f}, force "
        f"balance {p.force_balance_m:.2f} m."
    )


def sources(record):
    return "O2", "flinn", "koria_lange", "free_jet", "core", "metal"


def data():
    others = (("gas tables, one ratio of heat capacities", TABLES),)
    return data_choice(others, "oxygen's own heat capacity follows its temperature")
