"""Panel of lesson 05: why oxygen and not air? Heat that the ballast carries off, scrap it would
have melted, and the ceiling of nitrogen in the steel.
"""

from collections import namedtuple

import numpy as np
from matplotlib.ticker import NullLocator

from ... import charge
from ...base import constant, value
from ...charge import blast, purity_for_nitrogen_pct
from ...coursekit.panel import style
from ...streams import LiquidMetal
from ...thermo import SETS
from ..common import SETS_SWITCHED

SIZE_PX = 820, 420
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
    BALANCED; O2 it needs with pure oxygen, Nm3/t.
    """
    heats = charge.solve(
        works,
        oxygen_pct={"O2": BALANCED, "N2": 100.0 - BALANCED, "Ar": 0.0 * BALANCED},
        infeasible="mark",
    ).for_tap(1.0)
    scrap = np.where(heats.feasible, heats.scrap.mass_kg, np.nan)
    return (
        works,
        scrap[-1] - scrap,
        float(np.broadcast_to(heats.oxygen.nm3["O2"], BALANCED.shape)[-1]),
    )


def controls(given):
    return {"oxygen_nm3_t": {"default": given[2]}, "coefficients": {"choices": sorted(SETS)}}


Shown = namedtuple("Shown", "here air many ppm other_ppm curve_ppm aim_purity_pct lost_kg")


def compute(
    given,
    purity_pct,
    argon_pct,
    oxygen_nm3_t,
    steel_temp_c,
    gas_temp_c,
    blast_temp_c,
    carbon_share_pct,
    coefficients,
):
    """One gas, air, and the whole range of purities. given: see given()."""

    def blown(purity, coefficients=coefficients):
        argon = np.minimum(argon_pct, 100.0 - purity)
        more = {
            "carbon_share_pct": carbon_share_pct,
            "argon_pct": argon,
            "coefficients": coefficients,
        }
        return blast(purity, oxygen_nm3_t, steel_temp_c, gas_temp_c, blast_temp_c, **more)

    here, air = (
        blown(purity_pct),
        blast(
            value("air_o2_pct"),
            oxygen_nm3_t,
            steel_temp_c,
            gas_temp_c,
            blast_temp_c,
            carbon_share_pct,
            coefficients=coefficients,
        ),
    )
    many = blown(PURITY)
    other = next(s for s in SETS if s != coefficients)
    return Shown(
        here,
        air,
        many,
        ppm=PPM * here.nitrogen_pct,
        other_ppm=PPM * blown(purity_pct, other).nitrogen_pct,
        curve_ppm=np.maximum(PPM * many.nitrogen_pct, 0.1 * LEAST_PPM),
        aim_purity_pct=purity_for_nitrogen_pct(
            AIM_PPM / PPM, steel_temp_c, carbon_share_pct, coefficients=coefficients
        ),
        lost_kg=given[1],
    )


Artists = namedtuple("Artists", "balance ceiling dots texts heat scrap")


def setup(fig):
    heat = fig.add_axes((0.085, 0.565, 0.335, 0.355))
    style.axes(heat, "", "heat out, MJ/t", (18, 102), (0, 720), "What the ballast carries off")
    heat.tick_params(labelbottom=False)
    scrap = fig.add_axes((0.085, 0.135, 0.335, 0.355))
    style.axes(scrap, "oxygen in the gas blown, volume %", "scrap lost, kg/t", (18, 102), (0, 520))
    for ax in (heat, scrap):
        ax.set_xticks([21, 40, 60, 80, 100])
    heat_line = style.line(heat, 0, PURITY, 0 * PURITY, marks=0)
    scrap_line = style.line(scrap, 0, PURITY, 0 * PURITY, marks=0)
    (balance,) = scrap.plot(
        BALANCED,
        0 * BALANCED,
        "s",
        color=style.SERIES[1].colour,
        markersize=6,
        markerfacecolor="none",
        markeredgewidth=1.6,
        animated=True,
    )
    scrap.text(
        0.98,
        0.93,
        "line: what this heat would melt",
        transform=scrap.transAxes,
        ha="right",
        va="top",
        fontsize=8.5,
    )
    said = "squares: full balance of the works"
    scrap.text(
        0.98,
        0.79,
        said,
        transform=scrap.transAxes,
        ha="right",
        va="top",
        fontsize=8.5,
        color=style.SERIES[1].colour,
    )

    steel = fig.add_axes((0.545, 0.135, 0.335, 0.785))
    style.axes(
        steel,
        "oxygen in the gas blown, volume % (stretched)",
        "nitrogen in the steel, ppm",
        (80.0, 0.05),
        (LEAST_PPM, MOST_PPM),
        "The ceiling of nitrogen",
    )
    steel.set_xscale("log")
    steel.set_yscale("log")
    steel.set_xticks([100.0 - t for t in TICKS], [f"{t:g}" for t in TICKS])
    steel.set_yticks(
        [2, 5, 10, 20, 50, 100, 200, 500, 1000],
        ["2", "5", "10", "20", "50", "100", "200", "500", "1000"],
    )
    steel.xaxis.set_minor_locator(NullLocator())
    steel.yaxis.set_minor_locator(NullLocator())
    steel.tick_params(axis="x", labelsize=8)
    for key, name, hatch in (
        ("nitrogen_air_steel_pct", "air-blown\nsteel,\nrecalled", "////"),
        ("nitrogen_oxygen_steel_pct", "oxygen\nsteel", ""),
    ):
        c = constant(key)
        band = {"facecolor": style.GRID, "edgecolor": style.PAPER, "linewidth": 0, "zorder": 0.5}
        steel.axhspan(PPM * c["low"], PPM * c["high"], hatch=hatch, **band)
        steel.text(
            1.02,
            np.sqrt(c["low"] * c["high"]) * PPM,
            name,
            transform=steel.get_yaxis_transform(),
            fontsize=8.5,
            va="center",
        )
    ceiling = style.line(steel, 2, REST, 1.0 + 0 * REST, marks=4)
    dots = [
        ax.plot([0], [0], "o", color=style.SERIES[3].colour, markersize=9, animated=True)[0]
        for ax in (heat, scrap, steel)
    ]
    texts = [
        style.figures(ax, 0, 0, "", fontsize=9.5, va="bottom", color=style.SERIES[3].colour)
        for ax in (heat, scrap, steel)
    ]
    return Artists(balance, ceiling, dots, texts, heat=heat_line, scrap=scrap_line)


def update(artists, record):
    a, here = artists, record.here
    a.heat.set_ydata(record.many.heat_mj_t)
    a.scrap.set_ydata(record.many.scrap_kg_t)
    a.balance.set_ydata(record.lost_kg)
    a.ceiling.set_ydata(record.curve_ppm)
    right = here.purity_pct > 60.0
    rest = 100.0 - here.purity_pct
    places = (
        (here.purity_pct, here.heat_mj_t, 40.0, 1.0, f"{_short(here.heat_mj_t)} MJ/t"),
        (here.purity_pct, here.scrap_kg_t, 40.0, 1.0, f"{_short(here.scrap_kg_t)} kg/t"),
        (rest, max(record.ppm, LEAST_PPM), 0.0, 1.12, f"{record.ppm:.0f} ppm"),
    )
    for dot, text, (x, y, up, by, said) in zip(a.dots, a.texts, places, strict=True):
        dot.set_data([x], [y])
        text.set_text(said)
        text.set_position((x, y * by + up))
        text.set_ha("right" if right else "left")
    a.texts[2].set_ha("left" if rest > 0.4 else "right")


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
        f"allow {PPM * air.nitrogen_pct:.0f} ppm."
    )


def numbers(record):
    here = record.here
    rows = [
        ("gas blown", f"{here.blown_nm3_t:.1f}", "Nm3/t"),
        ("ballast (nitrogen and argon)", f"{here.ballast_nm3_t:.2f}", "Nm3/t"),
        ("heat it carries off", f"{here.heat_mj_t:.2f}", "MJ/t"),
        ("scrap this heat would melt", f"{here.scrap_kg_t:.2f}", "kg/t"),
        ("nitrogen in the gas at the bath", f"{here.n2_atm:.4f}", "atm"),
        ("nitrogen ceiling, this set", f"{record.ppm:.1f}", "ppm"),
        ("nitrogen ceiling, other set", f"{record.other_ppm:.1f}", "ppm"),
        (
            f"purity for a ceiling of {AIM_PPM:.0f} ppm",
            f"{record.aim_purity_pct:.2f}",
            "%",
            "all ballast counted as nitrogen",
        ),
    ]
    lost = [
        (p, kg) for p, kg in zip(BALANCED[:-1], record.lost_kg[:-1], strict=True) if np.isfinite(kg)
    ]
    return rows + [
        (f"scrap lost with {p:.0f} % oxygen, full balance of the works", f"{kg:.0f}", "kg/t")
        for p, kg in lost
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
        f"100 to 200 ppm, recalled; here {record.ppm:.0f} ppm."
    )


def sources(record):
    nitrogen = (LiquidMetal(1.0, {"N": 0.01}, 1600.0, name) for name in SETS)  # its dissolution
    steels = ("nitrogen_oxygen_steel_pct", "nitrogen_air_steel_pct")
    return (*nitrogen, "N2", "Ar", "Fe", "equilibrium N2", "air_o2_pct", *steels)


def data():
    return SETS_SWITCHED
