"""Panel of lesson 10: what does the lance do? The nozzle from pipe to exit, the jets to scale above
the bath, and three depths of their cavity, not verified.
"""

from collections import namedtuple
from functools import cache, lru_cache

import numpy as np

from ...base import kelvin, rows, value
from ...coursekit.panel import OWN, data_choice, style
from ...jet import LanceHead, absolute_kpa, at_bath, core_length_m, design_head, expand, penetration
from ..common import as_rows
from ..pictures import axes, band, dot, doubled, logarithmic, made_of
from .scene import DASHED, DEPTHS, LOOKS, scene_for

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 1080, 400
USUAL_KPA, WIDE_MM = (
    1000.0,
    42.0,
)  # of a throat: wider ones are rare, common practice
ABSOLUTE, GAUGE = "absolute", "gauge"
HEIGHTS = np.linspace(0.8, 3.0, 23)
ALONG = np.concatenate(
    [np.linspace(-1.0, 0.0, 25), 1.6 * np.linspace(0.0, 1.0, 41)[1:] ** 2]
)  # of the drawing: pipe -1, throat 0, exit 1.6
PIPE = 1.7  # diameter of the pipe over that of the throat, of the drawing
SHALLOW_M = 1.6


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
        "exit_mm": {"why": f"{why}, matched to air"},
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
    machs = np.linspace(0.05, 1.0, 60), np.linspace(1.0, 4.9, 120)
    sides = (expand(kelvin(25.0), mach=mach, gamma=gamma) for mach in machs)
    return [(side.area_ratio, side.pressure_ratio) for side in sides]


def _profile(flow, gamma):
    """Diameter, mm, and pressure, kPa, along the nozzle as drawn."""
    head = flow.head
    narrow = head.throat_mm * (1.0 + (PIPE - 1.0) * 0.5 * (1.0 - np.cos(np.pi * ALONG)))
    widen = head.throat_mm + (head.exit_mm - head.throat_mm) * ALONG / ALONG[-1]
    diameter = np.where(ALONG < 0.0, narrow, widen)
    area = (diameter / head.throat_mm) ** 2
    (before, high), (behind, low) = _ratios(gamma)
    ratio = np.where(ALONG < 0.0, np.interp(-area, -before, high), np.interp(area, behind, low))
    return diameter, ratio * flow.supply_kpa


@lru_cache(16)
def _impact(at):
    """The flow of the head where the controls stand, and its jets at the bath."""
    kpa = at.supply_kpa if at.counted == ABSOLUTE else absolute_kpa(at.supply_kpa)
    head = LanceHead(at.throat_mm, at.exit_mm, int(at.holes), at.angle_deg)
    flow = head.flow(kpa, gamma=_gamma(at.data))
    return flow, at_bath(flow, at.height_m, at.k)


Shown = namedtuple("Shown", "at flow bath diameter pressure depths harder per_t")


def compute(given, at):
    """The head, its jets at the bath, and the depths against height."""
    works, usual = given
    flow, bath = _impact(at)
    _, at_usual = _impact(at._replace(**usual))
    return Shown(
        at,
        flow,
        bath,
        *_profile(flow, _gamma(at.data)),
        penetration(flow, HEIGHTS, at.k),
        bath.momentum_number / at_usual.momentum_number,
        flow.flow_nm3_min / works.vessel.tap_t,
    )


def _nozzle(fig):
    limits = (-1.0, 2.3), (-66, 66)
    ax = axes(fig, (0.07, 0.57, 0.235, 0.35), "", "diameter, mm", *limits, "One nozzle")
    ax.set_yticks([-50, -25, 0, 25, 50], ["50", "25", "0", "25", "50"])
    ax.tick_params(bottom=False, labelbottom=False)
    ax.spines["bottom"].set_visible(False)
    ax.grid(visible=False)
    wall = {sign: style.line(ax, 0, ALONG, 0 * ALONG, marks=0) for sign in (1, -1)}
    edge = {sign: style.line(ax, 2, [1.6, 2.3], [0, 0], marks=0) for sign in (1, -1)}
    low = {"ha": "center", "va": "bottom", "fontsize": 8.5}
    ax.text(0.0, -64, "Mach 1", **low)
    leaves = style.figures(ax, ALONG[-1], -64, "", **low)
    blue = {"va": "top", "fontsize": 8.5, "color": style.SERIES[2].colour}
    ax.text(1.6, 66, "full expansion: ", ha="right", **blue)
    matched = style.figures(ax, 1.6, 66, "", **blue)

    def show(record):
        flow = record.flow
        for sign in wall:
            wall[sign].set_ydata(sign * record.diameter / 2.0)
            edge[sign].set_ydata(
                [sign * d / 2.0 for d in (flow.head.exit_mm, flow.matched_exit_mm)]
            )
        leaves.set_text(f"Mach {flow.mach:.2f}")
        matched.set_text(f"{flow.matched_exit_mm:.1f} mm")

    return show


def _pressure(fig):
    limits = (-1.0, 2.3), (20, 2000)
    ax = axes(fig, (0.07, 0.15, 0.235, 0.38), "", "pressure, kPa absolute", *limits)
    logarithmic(ax, "y", [20, 50, 100, 200, 500, 1000, 2000])
    ax.set_xticks([-0.85, 0.0, 1.6, 2.2], ["pipe", "throat", "exit", "jet"])
    ambient = value("normal_pressure") / 1000.0
    style.line(ax, 1, [-1.0, 2.3], [ambient, ambient], marks=0, animated=False)
    look = {"fontsize": 8.5, "va": "top", "color": style.SERIES[1].colour}
    ax.text(-0.95, ambient * 0.87, f"around the jet {ambient:.0f}", **look)
    inside, end = style.line(ax, 0, ALONG, 1.0 + 0 * ALONG, marks=0), dot(ax, 0)
    look = {"ha": "right", "va": "top", "fontsize": 9}
    ax.text(2.28, 1350, "at the exit:", **look)
    said = style.figures(ax, 2.28, 880, "", **look)

    def show(record):
        inside.set_ydata(record.pressure)
        end.set_data([ALONG[-1]], [record.flow.exit_kpa])
        said.set_text(record.flow.expansion)

    return show


def _depths(fig):
    ax = axes(
        fig,
        (0.775, 0.15, 0.125, 0.77),
        "lance height, m",
        "depth of the cavity, m",
        (HEIGHTS[0], HEIGHTS[-1]),
        (SHALLOW_M, 0.0),
        "Depth, not verified",
    )
    ax.set_xticks([1, 2, 3])
    grey, look = band(ax), {"marks": 3, "linestyle": DASHED}
    lines = [style.line(ax, n, HEIGHTS, 0 * HEIGHTS, **look) for n in LOOKS]
    labels = style.EndLabels(ax, lines, [name for _, name in DEPTHS], fontsize=8.5)
    rings = [dot(ax, n, ring=True) for n in LOOKS]

    def show(record):
        for line, ring, (name, _) in zip(lines, rings, DEPTHS, strict=True):
            line.set_ydata(getattr(record.depths, name))
            ring.set_data([record.at.height_m], [getattr(record.bath.penetration, name)])
        grey.set_data(HEIGHTS, record.depths.low_m, record.depths.high_m)
        limit = doubled(SHALLOW_M, float(np.max(record.depths.high_m)), 0.97)
        ax.set_ylim(limit, 0.0)
        labels.place()
        return limit

    return show


def drawing(given):
    """setup and update of the picture of a works."""
    works, _ = given
    return made_of(_nozzle, _pressure, scene_for(works.vessel.tap_t), _depths)


def _compared(ratio):
    """The momentum number beside that of the usual setting."""
    if abs(ratio - 1.0) < 0.03:
        return "that of the usual setting"
    blow = "harder" if ratio > 1.0 else "softer"
    return f"{ratio:.2g} times that of the usual setting: a {blow} blow"


def sentence(record):
    flow, bath, p = record.flow, record.bath, record.bath.penetration
    return (
        f"{flow.head.holes} {'holes pass' if flow.head.holes > 1 else 'hole passes'} "
        f"{flow.flow_nm3_min:.0f} Nm3/min ({record.per_t:.2f} Nm3/min per t); "
        f"the oxygen leaves at Mach {flow.mach:.2f}, {flow.exit_temp_c:.0f} °C and "
        f"{flow.exit_kpa:.0f} kPa absolute, {flow.expansion}. "
        f"{record.at.height_m:.2f} m above the bath the momentum number is "
        f"{1000 * bath.momentum_number:.2f}/1000, {_compared(record.harder)}. "
        f"Three formulas (not verified) put the depth of the cavity at "
        f"{p.low_m:.2f} to {p.high_m:.2f} m, a factor "
        f"{p.spread:.0f}; none is right."
    )


def moved(record):
    """What other data move."""
    flow = record.flow
    return as_rows(f"""
        oxygen | {flow.flow_nm3_min:.1f} Nm3/min
        Mach number at the exit | {flow.mach:.3f}
        temperature there | {flow.exit_temp_c:.0f} °C
        pressure there | {flow.exit_kpa:.1f} kPa
        exit diameter of full expansion | {flow.matched_exit_mm:.2f} mm
        momentum number | {1000 * record.bath.momentum_number:.3f}/1000
    """)


def numbers(record):
    flow, bath, p = record.flow, record.bath, record.bath.penetration
    core = core_length_m(flow)
    return [
        *as_rows(f"""
        supply pressure, absolute | {flow.supply_kpa:.0f} | kPa
        oxygen, all holes | {flow.flow_nm3_min:.0f} | Nm3/min
        oxygen per t of steel | {record.per_t:.2f} | Nm3/min per t
        Mach number at the exit | {flow.mach:.3f} |
        temperature at the exit | {flow.exit_temp_c:.0f} | °C
        speed at the exit | {flow.exit_speed_m_s:.0f} | m/s
        pressure at the exit, absolute | {flow.exit_kpa:.1f} | kPa | {flow.expansion}
        exit diameter of full expansion | {flow.matched_exit_mm:.1f} | mm
        thrust of one hole | {flow.thrust_n:.0f} | N
        thrust of all holes, downward | {flow.downward_n:.0f} | N
        momentum number of one jet | {bath.momentum_number:.5f} |
        the same over that of the usual setting | {record.harder:.2f} |
        supersonic core, cold surroundings | {core[0]:.2f} to {core[1]:.2f} | m | band, not verified
        speed on the axis at the bath | {bath.axis_speed_m_s:.0f} | m/s | coefficient not verified
        impact pressure | {bath.impact_kpa:.0f} | kPa | coefficient not verified
        """),
        *(
            (f"depth of the cavity, {name}", f"{getattr(p, key):.2f}", "m", "not verified")
            for key, name in DEPTHS
        ),
        *as_rows(f"""
        diameter of the cavity, all jets | {bath.dent_diameter_m:.2f} | m | not verified
        lance axis to jet axis at the bath | {bath.ring_radius_m:.2f} | m
        between neighbouring jets at the bath | {bath.spacing_m:.2f} | m
        """),
    ]


def alt(record):
    flow, p = record.flow, record.bath.penetration
    return (
        f"Left: one nozzle, wide pipe, throat of {flow.head.throat_mm:.1f} mm, exit of "
        f"{flow.head.exit_mm:.1f} mm; below it the pressure falls along "
        f"the nozzle from {flow.supply_kpa:.0f} to {flow.exit_kpa:.0f} kPa. Middle: the "
        f"vessel cut open, to scale: the lance {record.at.height_m:.2f} m over the bath, its jets, "
        f"and a cavity {record.bath.dent_diameter_m:.1f} m wide as three dashed outlines. "
        "Right: depth of the cavity against lance height, three dashed lines with a grey band "
        "between them; "
        f"at this height Flinn {p.flinn_m:.2f}, Koria and Lange {p.koria_lange_m:.2f}, force "
        f"balance {p.force_balance_m:.2f} m."
    )


def sources(record):
    return "O2", "flinn", "koria_lange", "free_jet", "core", "metal"


def data():
    others = (("gas tables, one ratio of heat capacities", TABLES),)
    return data_choice(others, "oxygen's own heat capacity follows its temperature")
