"""Panel of lesson 12: what leaves at the mouth, and what is it worth? The gas behind the hood,
where its heat goes, and what carbon monoxide does to people.
"""

from collections import namedtuple

import numpy as np

from ... import charge
from ...base import InputError
from ...charge import (
    co_hazards,
    converter_gas,
    hood,
    lower_flammable_limit_pct,
    nm3_per_kg,
    post_combustion,
    preheat_scrap,
    scrap_melted_kg,
)
from ...coursekit.panel import OWN, data_choice, style
from ...streams import Gas, calorific_value_mj_nm3
from ..common import as_rows
from ..pictures import Rows, axes, dot, logarithmic, made_of

SIZE_PX = 1080, 400
FACTORS, AXIS = np.linspace(0.0, 2.0, 17), (-0.05, 2.05)
SHOWN = ("CO", "CO2", "N2", "O2")
HEATS = ("to the bath", "given up in the hood", "warmth left", "still to burn")
LEAVES_SCRAP_C = 200.0  # temperature at which the gas leaves the scrap: our choice
# The ladder of carbon monoxide, from its foot: what a rung says, and its figures in
# safety_figures.csv
LADDER = (
    ("limits, working day", ("co_uk_8h", "co_acgih_8h", "co_niosh_8h", "co_osha_8h")),
    ("limit, 15 minutes", ("co_uk_15min",)),
    ("ceiling", ("co_niosh_ceiling",)),
    ("danger to life", ("co_idlh",)),
    ("death within the hour", ("co_collapse",)),
    ("death in 1 to 3 minutes", ("co_minutes",)),
)
LIMIT, OTHER_LIMIT = (
    "co_lfl_iec",
    "co_lfl_nfpa",
)  # from where CO burns in air: the lower of two standards is the one to work by
PPM = 1e4  # ppm in one volume %
TRACE_PPM = 500.0  # less CO than this at equilibrium is called burnt out: a real hood leaves more


def controls(works):
    heat = charge.solve(works).for_tap(1.0)
    return {
        "carbon_kg_t": {"default": heat.gas.element_kg()["C"]},
        "scrap_kg_t": {"default": heat.scrap.mass_kg},
    }


Shown = namedtuple(
    "Shown",
    "at heats mouth hood pct burnt_c worth worth_here co_pct limit_pct burns_pct "
    "melted_kg scrap no_scrap peak_nm3_min closure",
)


def _burning_mj(gas):
    """Heat that a gas still holds to burn, MJ."""
    return calorific_value_mj_nm3(gas) * gas.total_nm3


def _preheated(gas, at):
    """The scrap that the gas warms and "", or None and why not: the gas is shown all the same."""
    try:
        return preheat_scrap(gas, at.scrap_kg_t, LEAVES_SCRAP_C, at.caught_pct / 100.0), ""
    except InputError as error:
        return None, str(error)


def compute(works, at):
    """The gas of one t of steel from the bath to the end of the hood, and the same for a row of air
    factors.
    """
    carbon, pcr, gas_c = at.carbon_kg_t, at.pcr_pct / 100.0, works.gas.temp_c
    start = converter_gas(carbon, 0.0, gas_c)
    burnt = post_combustion(carbon, pcr, at.hte_pct / 100.0, gas_c)
    many, one = (hood(burnt.gas, air, out_temp_c=at.out_temp_c) for air in (FACTORS, at.air_factor))
    gas = one.cooled
    heats = burnt.to_bath_mj, one.heat_mj, gas.sensible_kj() / 1000.0, _burning_mj(gas)
    limit, rule = (LIMIT, "iec") if at.data == OWN else (at.data, "nfpa")
    cold = Gas({s: nm3 for s, nm3 in gas.nm3.items() if s in SHOWN}, 25.0)
    oxygen = works.oxygen.flow_nm3_min * works.oxygen.purity_pct / 100.0
    peak = converter_gas(oxygen / nm3_per_kg("C", at.pcr_pct), pcr, 0.0).total_nm3
    come = start.sensible_kj() / 1000.0 + _burning_mj(start)
    return Shown(
        at,
        dict(zip(HEATS, heats, strict=True)),
        burnt,
        one,
        many.cooled.mole_pct(),
        many.burnt.temp_c,
        calorific_value_mj_nm3(many.cooled),
        calorific_value_mj_nm3(gas),
        gas.mole_pct()["CO"],
        _known_pct()[limit],
        lower_flammable_limit_pct(cold, rule),
        scrap_melted_kg(burnt.to_bath_mj, works.end_point.temp_c),
        *_preheated(gas, at),
        peak * gas.total_nm3 / burnt.gas.total_nm3,
        [("Carbon", gas.element_kg()["C"] / carbon - 1.0), ("Heat", sum(heats) / come - 1.0)],
    )


def _known_pct():
    """Figures of the table of carbon monoxide by key."""
    return {h.key: h.value for h in co_hazards()}


def _this_hood(ax):
    """The upright line that marks the hood."""
    across = ax.get_xaxis_transform()
    return style.line(ax, 2, [0, 0], [0, 1], marks=0, transform=across, linewidth=1.6)


def _mix(fig):
    title = "The gas behind the hood"
    ax = axes(fig, (0.095, 0.6, 0.285, 0.32), "", "volume %", AXIS, (0, 100), title)
    lines = [style.line(ax, n, FACTORS, 0 * FACTORS, marks=3) for n in range(len(SHOWN))]
    labels, here = style.EndLabels(ax, lines, SHOWN, fontsize=9), _this_hood(ax)

    def show(record):
        for line, species in zip(lines, SHOWN, strict=True):
            line.set_ydata(record.pct[species] + 0.0 * FACTORS)
        labels.place()
        here.set_xdata([record.at.air_factor] * 2)

    return show


def _burning(fig):
    label = "air factor (1: just enough to burn)"
    ax = axes(fig, (0.095, 0.13, 0.285, 0.36), label, "burnt gas, °C", AXIS, (1000, 3000))
    hot = style.line(ax, 0, FACTORS, 0 * FACTORS, marks=3)
    other = style.axes(ax.twinx(), "", "", AXIS, (0, 16))
    other.set_ylabel("to burn, MJ/Nm3", color=style.SERIES[1].colour)
    other.grid(visible=False)
    other.spines["right"].set_visible(True)
    other.set_yticks([0, 4, 8, 12, 16])
    ax.set_yticks([1000, 1500, 2000, 2500, 3000])
    worth, here = style.line(other, 1, FACTORS, 0 * FACTORS, marks=3), _this_hood(other)

    def show(record):
        hot.set_ydata(record.burnt_c)
        worth.set_ydata(record.worth)
        here.set_xdata([record.at.air_factor] * 2)

    return show


def _account(fig):
    place, title = (0.66, 0.64, 0.32, 0.28), "Where the heat of the CO goes"
    rows = Rows(fig, place, "MJ per t of steel", (0, 1450), title, HEATS, [1, 0, 0, 0])

    def show(record):
        rows.show(record.heats.values(), "{:.0f}")
        warmth = rows.texts[HEATS.index("warmth left")]
        if record.scrap:
            warmth.set_text(f"{warmth.get_text()}, scrap to {record.scrap.scrap_temp_c:.0f} °C")

    return show


def _ladder(fig):
    known, burns, gas = _known_pct(), len(LADDER), len(LADDER) + 1
    ax = axes(
        fig,
        (0.66, 0.13, 0.32, 0.33),
        "CO in air, ppm and volume %",
        "",
        (8, 1.3e6),
        (-0.6, len(LADDER) + 1.6),
        "Carbon monoxide and people",
    )
    logarithmic(ax, "x", [10, 100, 1e3, 1e4, 1e5, 1e6])
    ax.set_xticklabels(["10", "100", "1000", "1 %", "10 %", ""])
    ax.set_yticks(range(gas + 1), [*(said for said, _ in LADDER), "burns, explodes", "this gas"])
    ax.grid(axis="y", visible=False)
    small = {"va": "center", "fontsize": 8.5}
    for k, (_, keys) in enumerate(LADDER):
        figures = sorted(known[key] for key in keys)
        ax.hlines(k, 8, figures[-1], color=style.GRID, linewidth=2.5)
        ax.plot(figures, [k] * len(figures), "o", color=style.INK, markersize=5)
        ends = dict.fromkeys(f"{x:,.0f}".replace(",", " ") for x in (figures[0], figures[-1]))
        ax.text(figures[-1] * 1.5, k, " to ".join(ends) + " ppm", **small)
    (bar,) = style.bars(ax, [burns], [1.0], numbers=[1])
    explodes = style.figures(ax, 1e4, burns, "", ha="right", **small)
    mark = dot(ax, 2, "D")
    said = style.figures(ax, 10, gas, "", ha="right", color=style.SERIES[2].colour, **small)

    def show(record):
        low, ppm, high = PPM * record.limit_pct, PPM * record.co_pct, known["co_ufl_iec"]
        bar.set_x(low)
        bar.set_width(PPM * high - low)
        explodes.set_text(f"{record.limit_pct:.1f} to {high:.0f} %")
        explodes.set_x(low / 1.3)
        left = ppm > TRACE_PPM
        mark.set_data([ppm], [gas])
        mark.set_visible(left)
        said.set_text(f"{record.co_pct:.1f} %" if left else "burnt, in theory")
        said.set_x(ppm / 1.5 if left else 1000.0)

    return show


setup, update = made_of(_mix, _burning, _account, _ladder)


def sentence(record):
    gas = record.hood.cooled
    warm = (
        f"the warmth of the gas would preheat the scrap to {record.scrap.scrap_temp_c:.0f} °C."
        if record.scrap
        else f"no temperature of the scrap ({record.no_scrap.rstrip('.')})."
    )
    return (
        f"Per t of steel {record.mouth.gas.total_nm3:.1f} Nm3 of CO and CO2 leave the mouth; "
        f"behind the hood it is {gas.total_nm3:.0f} Nm3 with "
        f"{record.co_pct:.1f} % CO, worth {record.worth_here:.2f} MJ/Nm3 "
        f"({record.heats['still to burn']:.0f} MJ per t). "
        f"Post-combustion gives the bath {record.heats['to the bath']:.0f} MJ per t, which melts "
        f"{record.melted_kg:.0f} kg of scrap; {warm}"
    )


def moved(record):
    """What the other standard moves."""
    gas = (
        f"{record.burns_pct:.1f} % of it"
        if record.burns_pct < 100.0
        else "no share that the rule finds"
    )
    return [
        ("CO burns in air from", f"{record.limit_pct:.1f} %"),
        ("the gas behind the hood, cold, burns in air from", gas),
    ]


def numbers(record):
    gas, mouth = record.hood.cooled, record.mouth.gas
    rows = [
        (f"behind the hood: {s}", f"{pct:.2f}", "%")
        for s, pct in gas.mole_pct().items()
        if pct >= 0.005
    ]
    return [
        *as_rows(f"""
        gas at the mouth | {mouth.total_nm3:.1f} | Nm3/t
        its temperature | {mouth.temp_c:.0f} | °C | no dissociation counted
        heat of post-combustion | {record.mouth.heat_mj:.0f} | MJ/t
        of it to the bath | {record.mouth.to_bath_mj:.0f} | MJ/t
        scrap that melts | {record.melted_kg:.1f} | kg/t
        oxygen for it | {record.mouth.oxygen_nm3:.2f} | Nm3/t
        air drawn in | {record.hood.air_nm3:.1f} | Nm3/t
        gas behind the hood | {gas.total_nm3:.1f} | Nm3/t
        the same when all oxygen burns carbon | {record.peak_nm3_min:.0f} | Nm3/min
        """),
        *rows,
        *as_rows(f"""
        burnt gas before it cools | {record.hood.burnt.temp_c:.0f} | °C
        calorific value | {record.worth_here:.2f} | MJ/Nm3
        """),
        (
            "CO burns in air from",
            f"{record.limit_pct:.1f}",
            "%",
            "the lower of two standards is the one to work by",
        ),
        (
            "this gas, cold, burns in air from",
            f"{record.burns_pct:.1f}",
            "% of it",
            "mixing rule, an estimate; 100: it finds none",
        ),
        *((f"heat {name}", f"{heat:.0f}", "MJ/t") for name, heat in record.heats.items()),
        *(
            as_rows(f"""
        preheated scrap | {record.scrap.scrap_temp_c:.0f} | °C | counted as iron
        heat in it | {record.scrap.heat_mj:.0f} | MJ/t
        """)
            if record.scrap
            else [("preheated scrap", "none", "°C", record.no_scrap)]
        ),
    ]


def alt(record):
    heats = ", ".join(f"{name} {heat:.0f}" for name, heat in record.heats.items())
    hottest = int(np.argmax(record.burnt_c))
    return (
        "Top left: volume % of CO, CO2, N2 and O2 behind the hood against the air factor; CO falls "
        "to nothing at 1, oxygen is left above. "
        f"Bottom left: it burns hottest at an air factor near {FACTORS[hottest]:.1f}, "
        f"{record.burnt_c[hottest]:.0f} °C; what is left to burn falls from "
        f"{record.worth[0]:.1f} MJ/Nm3 to nothing. A dotted line marks this hood. Top right: bars "
        f"of heat in MJ per t of steel: {heats}. "
        "Bottom right: a ladder of carbon monoxide from 20 ppm, a limit for the working day, over "
        "1200 ppm, danger to life, to 12 800 ppm, death in minutes, "
        f"and the range in which it explodes; this gas holds {record.co_pct:.1f} %."
    )


def closure(record):
    return record.closure


def sources(record):
    return "CO", "CO2", "air_o2_pct", "carbon_monoxide", "gas_explosion"


def data():
    others = (("the higher flammable limit, NFPA 497", OTHER_LIMIT),)
    return data_choice(
        others, "two standards disagree", "Work by the lower limit, and by local rules."
    )
