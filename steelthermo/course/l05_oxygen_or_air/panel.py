"""Panel of lesson 05: why oxygen and not air? Heat that the ballast carries off, scrap it would
have melted, and the ceiling of nitrogen in the steel.
"""

from collections import namedtuple

import numpy as np

from ... import charge
from ...base import constant, value
from ...charge import blast, other_set, purity_for_nitrogen_pct
from ...coursekit.panel import style
from ...streams import LiquidMetal
from ...thermo import SETS
from ..common import SETS_SWITCHED, as_rows
from ..pictures import axes, dot, logarithmic, made_of, note

SIZE_PX = 1080, 400
PPM = 1e4  # in one mass %
REST = np.sort(np.concatenate([np.geomspace(0.05, 3.0, 40), np.linspace(4.0, 80.0, 39)]))[
    ::-1
]  # what is not oxygen, %
PURITY = 100.0 - REST
TICKS = (21.0, 80.0, 90.0, 95.0, 98.0, 99.0, 99.5, 99.9)
BALANCED = np.array(
    [25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0]
)  # purities for which the full balance is made
LEAST_PPM, MOST_PPM = 2.0, 1000.0
AIM_PPM = 30.0  # of the purity named in the numbers


def given(works):
    """The works; scrap, kg per t of steel, that its full balance loses by each purity of
    BALANCED; O2 it needs with pure oxygen, Nm3/t; hot metal and scrap of its usual heat, t per t.
    """
    heats = charge.solve(
        works,
        oxygen_pct={"O2": BALANCED, "N2": 100.0 - BALANCED, "Ar": 0.0 * BALANCED},
        infeasible="mark",
    ).for_tap(1.0)
    usual = charge.solve(works).for_tap(1.0)
    scrap = np.where(heats.feasible, heats.scrap.mass_kg, np.nan)
    return (
        works,
        scrap[-1] - scrap,
        float(np.broadcast_to(heats.oxygen.nm3["O2"], BALANCED.shape)[-1]),
        (usual.hot_metal.mass_kg / 1000.0, usual.scrap.mass_kg / 1000.0),
    )


def controls(given):
    return {"oxygen_nm3_t": {"default": given[2]}, "coefficients": {"choices": sorted(SETS)}}


Shown = namedtuple(
    "Shown", "here air many ppm other_ppm curve_ppm aim_purity_pct lost_kg charge_ppm"
)


def compute(given, at):
    """One gas, air, and the whole range of purities. given: see given()."""

    def blown(purity, argon=None, coefficients=at.coefficients):
        """The Blast of such a gas, with the argon of air if not said."""
        return blast(
            purity,
            at.oxygen_nm3_t,
            at.steel_temp_c,
            gas_temp_c=at.gas_temp_c,
            blast_temp_c=at.blast_temp_c,
            carbon_share_pct=at.carbon_share_pct,
            argon_pct=argon,
            coefficients=coefficients,
        )

    argon = np.minimum(at.argon_pct, 100.0 - at.purity_pct)
    here = blown(at.purity_pct, argon)
    many = blown(PURITY, np.minimum(at.argon_pct, 100.0 - PURITY))
    other = blown(at.purity_pct, argon, other_set(at.coefficients))
    aim = AIM_PPM / PPM, at.steel_temp_c, at.carbon_share_pct
    return Shown(
        here,
        blown(value("air_o2_pct")),
        many,
        PPM * here.nitrogen_pct,
        PPM * other.nitrogen_pct,
        np.maximum(PPM * many.nitrogen_pct, 0.1 * LEAST_PPM),
        purity_for_nitrogen_pct(*aim, coefficients=at.coefficients),
        given[1],
        given[3][0] * at.hot_metal_n_ppm + given[3][1] * at.scrap_n_ppm,
    )


def _mark(ax):
    """What brings the mark of the gas blown to its place, with its figure above it."""
    mark, text = dot(ax, 3), style.figures(ax, 0, 0, "", color=style.SERIES[3].colour, va="bottom")

    def show(x, y, said, above, left):
        mark.set_data([x], [y])
        text.set(text=said, position=(x, above), ha="right" if left else "left")

    return show


def _lost(fig):
    left, width, label = 0.085, 0.335, "oxygen in the gas blown, volume %"
    shared = (18, 102), (0, 720), "What the ballast carries off"
    heat = axes(fig, (left, 0.565, width, 0.355), "", "heat out, MJ/t", *shared)
    heat.tick_params(labelbottom=False)
    scrap = axes(fig, (left, 0.135, width, 0.355), label, "scrap lost, kg/t", (18, 102), (0, 520))
    for ax in (heat, scrap):
        ax.set_xticks([21, 40, 60, 80, 100])
    lines = [style.line(ax, 0, PURITY, 0 * PURITY, marks=0) for ax in (heat, scrap)]
    balance = dot(scrap, 1, "s", ring=True, markersize=6)
    look = {"ha": "right", "va": "top"}
    note(scrap, 0.98, 0.93, "line: what this heat would melt", **look)
    said = "squares: full balance of the works"
    note(scrap, 0.98, 0.79, said, color=style.SERIES[1].colour, **look)
    marks = [_mark(heat), _mark(scrap)]

    def show(record):
        here = record.here
        balance.set_data(BALANCED, record.lost_kg)
        for line, mark, name, unit in zip(
            lines, marks, ("heat_mj_t", "scrap_kg_t"), ("MJ/t", "kg/t"), strict=True
        ):
            y, x = getattr(here, name), here.purity_pct
            line.set_ydata(getattr(record.many, name))
            mark(x, y, f"{_short(y)} {unit}", y + 40.0, x > 60.0)

    return show


def _nitrogen(fig):
    ax = axes(
        fig,
        (0.545, 0.135, 0.335, 0.785),
        "oxygen in the gas blown, volume % (stretched)",
        "nitrogen in the steel, ppm",
        (80.0, 0.05),
        (LEAST_PPM, MOST_PPM),
        "The ceiling of nitrogen",
    )
    logarithmic(ax, "x", [100.0 - t for t in TICKS])
    ax.set_xticklabels([f"{t:g}" for t in TICKS], fontsize=8)
    logarithmic(ax, "y", [2, 5, 10, 20, 50, 100, 200, 500, 1000])
    for key, name, hatch in (
        ("nitrogen_air_steel_pct", "air-blown\nsteel, not\nverified", "////"),
        ("nitrogen_oxygen_steel_pct", "oxygen\nsteel", ""),
    ):
        low, high = (PPM * constant(key)[end] for end in ("low", "high"))
        look = {"facecolor": style.GRID, "edgecolor": style.PAPER, "linewidth": 0, "zorder": 0.5}
        ax.axhspan(low, high, hatch=hatch, **look)
        middle, across = np.sqrt(low * high), ax.get_yaxis_transform()
        note(ax, 1.02, middle, name, transform=across, va="center")
    ceiling = style.line(ax, 2, REST, 1.0 + 0 * REST, marks=4)
    mark = _mark(ax)
    moving = {"animated": True}
    (brought,) = ax.plot([80.0, 0.05], [1.0, 1.0], ":", color=style.INK, linewidth=1.2, **moving)
    look = {"transform": ax.get_yaxis_transform(), "va": "bottom", **moving}
    told = note(ax, 0.02, 1.0, "charge brings", **look)

    def show(record):
        brought.set_ydata([record.charge_ppm] * 2)
        told.set_y(record.charge_ppm)
        ceiling.set_ydata(record.curve_ppm)
        rest, height = 100.0 - record.here.purity_pct, max(record.ppm, LEAST_PPM)
        mark(rest, height, f"{record.ppm:.0f} ppm", height * 1.12, rest <= 0.4)

    return show


setup, update = made_of(_lost, _nitrogen)


def _short(x):
    """Two figures where it is small, whole numbers where it is not."""
    return f"{x:.2g}" if x < 10.0 else f"{x:.0f}"


def sentence(record):
    here, air = record.here, record.air
    return (
        f"With {here.purity_pct:.1f} % oxygen the ballast carries off {_short(here.heat_mj_t)} MJ "
        f"per t of steel ({_short(here.scrap_kg_t)} kg of scrap) "
        f"and the nitrogen ceiling is {record.ppm:.0f} ppm (other set: {record.other_ppm:.0f} "
        "ppm). "
        f"Air would carry off {air.heat_mj_t:.0f} MJ/t ({air.scrap_kg_t:.0f} kg of scrap) and "
        f"allow {PPM * air.nitrogen_pct:.0f} ppm. Hot metal and scrap bring "
        f"{record.charge_ppm:.0f} ppm: what the boil does not wash out stays above the ceiling."
    )


def numbers(record):
    here = record.here
    rows = [
        *as_rows(f"""
        gas blown | {here.blown_nm3_t:.1f} | Nm3/t
        ballast (nitrogen and argon) | {here.ballast_nm3_t:.2f} | Nm3/t
        heat it carries off | {here.heat_mj_t:.2f} | MJ/t
        scrap this heat would melt | {here.scrap_kg_t:.2f} | kg/t
        nitrogen in the gas at the bath | {here.n2_atm:.4f} | atm
        nitrogen ceiling, this set | {record.ppm:.1f} | ppm
        nitrogen ceiling, other set | {record.other_ppm:.1f} | ppm
        nitrogen that hot metal and scrap bring | {record.charge_ppm:.0f} | ppm | not verified
        """),
        (
            f"purity for a ceiling of {AIM_PPM:.0f} ppm",
            f"{record.aim_purity_pct:.2f}",
            "%",
            "all ballast counted as nitrogen",
        ),
    ]
    return rows + [
        (f"scrap lost with {p:.0f} % oxygen, full balance of the works", f"{kg:.0f}", "kg/t")
        for p, kg in zip(BALANCED[:-1], record.lost_kg[:-1], strict=True)
        if np.isfinite(kg)
    ]


def alt(record):
    here = record.here
    return (
        "Left: heat carried off by the ballast, MJ per t of steel, and below it the scrap lost, kg "
        "per t, both against the oxygen in the gas blown: they fall "
        f"steeply from air to pure oxygen; here {_short(here.heat_mj_t)} MJ/t and "
        f"{_short(here.scrap_kg_t)} kg/t. Squares show the full balance of the works. "
        "Right: ceiling of nitrogen in the steel against the oxygen, on stretched scales, with "
        "grey bands for oxygen steel, 30 to 40 ppm, and air-blown steel, "
        f"100 to 200 ppm, not verified; here {record.ppm:.0f} ppm. Dotted, what hot "
        f"metal and scrap bring: {record.charge_ppm:.0f} ppm."
    )


def sources(record):
    nitrogen = (LiquidMetal(1.0, {"N": 0.01}, 1600.0, name) for name in SETS)  # its dissolution
    steels = ("nitrogen_oxygen_steel_pct", "nitrogen_air_steel_pct")
    return (*nitrogen, "N2", "Ar", "Fe", "equilibrium N2", "air_o2_pct", *steels)


def data():
    return SETS_SWITCHED
