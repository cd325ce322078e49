"""Panel of lesson 12: what leaves at the mouth, and what is it worth? The gas behind the hood,
where its heat goes, and what carbon monoxide does to people.
"""

from collections import namedtuple

import numpy as np

from ... import charge
from ...base import value
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

SIZE_PX = 820, 420
FACTORS, AXIS = np.linspace(0.0, 2.0, 17), (-0.05, 2.05)
SHOWN = ("CO", "CO2", "N2", "O2")
HEATS = ("to the bath", "given up in the hood", "warmth left", "still to burn")
LEAVES_SCRAP_C = 200.0  # temperature at which the gas leaves the scrap: our choice
# The ladder of carbon monoxide, from its foot: what a rung says, and its figures in
# co_hazard.csv
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
        "hte_pct": {"default": value("post_combustion_hte_pct")},
        "scrap_kg_t": {"default": heat.scrap.mass_kg},
    }


Shown = namedtuple(
    "Shown",
    "heats mouth hood pct burnt_c worth worth_here co_pct "
    "factor limit_pct burns_pct melted_kg scrap peak_nm3_min "
    "closure",
)


def compute(
    works, carbon_kg_t, pcr_pct, hte_pct, air_factor, out_temp_c, scrap_kg_t, caught_pct, data
):
    """The gas of one t of steel from the bath to the end of the hood, and the same for a row of air
    factors.
    """
    start = converter_gas(carbon_kg_t, 0.0, works.gas.temp_c)
    burnt = post_combustion(carbon_kg_t, pcr_pct / 100.0, hte_pct / 100.0, works.gas.temp_c)
    many = hood(burnt.gas, FACTORS, out_temp_c=out_temp_c)
    one = hood(burnt.gas, air_factor, out_temp_c=out_temp_c)
    heats = (
        burnt.to_bath_mj,
        one.heat_mj,
        one.cooled.sensible_kj() / 1000.0,
        calorific_value_mj_nm3(one.cooled) * one.cooled.total_nm3,
    )
    come = start.sensible_kj() / 1000.0 + calorific_value_mj_nm3(start) * start.total_nm3
    burns = lower_flammable_limit_pct(
        Gas({s: nm3 for s, nm3 in one.cooled.nm3.items() if s in SHOWN}, 25.0),
        "iec" if data == OWN else "nfpa",
    )
    peak = converter_gas(
        works.oxygen.flow_nm3_min * works.oxygen.purity_pct / 100.0 / nm3_per_kg("C", pcr_pct),
        pcr_pct / 100.0,
        0.0,
    ).total_nm3
    return Shown(
        heats,
        mouth=burnt,
        hood=one,
        pct=many.cooled.mole_pct(),
        burnt_c=many.burnt.temp_c,
        worth=calorific_value_mj_nm3(many.cooled),
        worth_here=calorific_value_mj_nm3(one.cooled),
        co_pct=one.cooled.mole_pct()["CO"],
        factor=air_factor,
        limit_pct=next(h.value for h in co_hazards() if h.key == (LIMIT if data == OWN else data)),
        burns_pct=burns,
        melted_kg=scrap_melted_kg(burnt.to_bath_mj, works.end_point.temp_c),
        scrap=preheat_scrap(one.cooled, scrap_kg_t, LEAVES_SCRAP_C, caught_pct / 100.0),
        peak_nm3_min=peak * one.cooled.total_nm3 / burnt.gas.total_nm3,
        closure=[
            ("Carbon", one.cooled.element_kg()["C"] / carbon_kg_t - 1.0),
            ("Heat", sum(heats) / come - 1.0),
        ],
    )


Artists = namedtuple(
    "Artists",
    "lines labels hot worth here bars texts gas said band explodes high",
)


def setup(fig):
    mix = fig.add_axes((0.095, 0.6, 0.285, 0.32))
    style.axes(mix, "", "volume %", AXIS, (0, 100), "The gas behind the hood")
    lines = [style.line(mix, n, FACTORS, 0 * FACTORS, marks=3) for n in range(len(SHOWN))]
    labels = style.EndLabels(mix, lines, SHOWN, fontsize=9)
    heat = fig.add_axes((0.095, 0.13, 0.285, 0.36), sharex=mix)
    style.axes(heat, "air factor (1: just enough to burn)", "burnt gas, °C", AXIS, (1000, 3000))
    hot = style.line(heat, 0, FACTORS, 0 * FACTORS, marks=3)
    worth_axes = heat.twinx()
    style.axes(worth_axes, "", "", AXIS, (0, 16))
    worth_axes.set_ylabel("to burn, MJ/Nm3", color=style.SERIES[1].colour)
    worth_axes.grid(visible=False)
    worth_axes.spines["right"].set_visible(True)
    worth_axes.set_yticks([0, 4, 8, 12, 16])
    heat.set_yticks([1000, 1500, 2000, 2500, 3000])
    worth = style.line(worth_axes, 1, FACTORS, 0 * FACTORS, marks=3)
    here = [
        style.line(
            ax, 2, [0, 0], [0, 1], marks=0, transform=ax.get_xaxis_transform(), linewidth=1.6
        )
        for ax in (mix, worth_axes)
    ]

    account = fig.add_axes((0.66, 0.64, 0.32, 0.28))
    style.axes(
        account,
        "MJ per t of steel",
        "",
        (0, 1450),
        (len(HEATS) - 0.4, -0.6),
        "Where the heat of the CO goes",
    )
    account.set_yticks(range(len(HEATS)), HEATS)
    account.grid(axis="y", visible=False)
    bars = style.bars(account, range(len(HEATS)), [0] * len(HEATS), numbers=[1, 0, 0, 0])
    texts = [
        style.figures(account, 0, k, "", va="center", ha="left", fontsize=9.5)
        for k in range(len(HEATS))
    ]

    ladder = fig.add_axes((0.66, 0.13, 0.32, 0.33))
    style.axes(
        ladder,
        "CO in air, ppm and volume %",
        "",
        (8, 1.3e6),
        (-0.6, len(LADDER) + 1.6),
        "Carbon monoxide and people",
    )
    ladder.set_xscale("log")
    ladder.set_xticks([10, 100, 1e3, 1e4, 1e5, 1e6], ["10", "100", "1000", "1 %", "10 %", ""])
    ladder.minorticks_off()
    ladder.set_yticks(
        range(len(LADDER) + 2), [*(said for said, _ in LADDER), "burns, explodes", "this gas"]
    )
    ladder.grid(axis="y", visible=False)
    known = {h.key: h.value for h in co_hazards()}
    for k, (_, keys) in enumerate(LADDER):
        figures = [known[key] for key in keys]
        ladder.hlines(k, 8, max(figures), color=style.GRID, linewidth=2.5)
        ladder.plot(figures, [k] * len(figures), "o", color=style.INK, markersize=5)
        ladder.text(
            max(figures) * 1.5,
            k,
            " to ".join(f"{x:,.0f}".replace(",", " ") for x in sorted({min(figures), max(figures)}))
            + " ppm",
            va="center",
            fontsize=8.5,
        )
    (band,) = style.bars(ladder, [len(LADDER)], [1.0], numbers=[1])
    explodes = style.figures(ladder, 1e4, len(LADDER), "", ha="right", va="center", fontsize=8.5)
    (gas,) = ladder.plot(
        [10], [len(LADDER) + 1], "D", color=style.SERIES[2].colour, markersize=8, animated=True
    )
    said = style.figures(
        ladder,
        10,
        len(LADDER) + 1,
        "",
        ha="right",
        va="center",
        fontsize=8.5,
        color=style.SERIES[2].colour,
    )
    return Artists(
        lines,
        labels,
        hot,
        worth,
        here,
        bars,
        texts,
        gas,
        said,
        band,
        explodes,
        high=known["co_ufl_iec"],
    )


def update(artists, record):
    a = artists
    for line, species in zip(a.lines, SHOWN, strict=True):
        line.set_ydata(record.pct[species] + 0.0 * FACTORS)
    a.labels.place()
    a.hot.set_ydata(record.burnt_c)
    a.worth.set_ydata(record.worth)
    for line in a.here:
        line.set_xdata([record.factor, record.factor])
    for bar, text, heat in zip(a.bars, a.texts, record.heats, strict=True):
        bar.set_width(heat)
        text.set_text(f"{heat:.0f}".replace("-", "−"))
        text.set_x(max(heat, 0.0) + 18)
    warmth = a.texts[HEATS.index("warmth left")]
    warmth.set_text(f"{warmth.get_text()}, scrap to {record.scrap.scrap_temp_c:.0f} °C")
    low = PPM * record.limit_pct
    a.band.set_x(low)
    a.band.set_width(PPM * a.high - low)
    a.explodes.set_text(f"{record.limit_pct:.1f} to {a.high:.0f} %")
    a.explodes.set_x(low / 1.3)
    ppm = PPM * record.co_pct
    a.gas.set_data([ppm], [len(LADDER) + 1])
    a.gas.set_visible(ppm > TRACE_PPM)
    a.said.set_text(f"{record.co_pct:.1f} %" if ppm > TRACE_PPM else "burnt, in theory")
    a.said.set_x(ppm / 1.5 if ppm > TRACE_PPM else 1000.0)


def sentence(record):
    gas = record.hood.cooled
    return (
        f"Per t of steel {record.mouth.gas.total_nm3:.1f} Nm3 of CO and CO2 leave the mouth; "
        f"behind the hood it is {gas.total_nm3:.0f} Nm3 with "
        f"{record.co_pct:.1f} % CO, worth {record.worth_here:.2f} MJ/Nm3 ({record.heats[3]:.0f} MJ "
        "per t). "
        f"Post-combustion gives the bath {record.heats[0]:.0f} MJ per t, which melts "
        f"{record.melted_kg:.0f} kg of scrap; "
        f"the warmth of the gas would preheat the scrap to {record.scrap.scrap_temp_c:.0f} °C."
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
        ("gas at the mouth", f"{mouth.total_nm3:.1f}", "Nm3/t"),
        ("its temperature", f"{mouth.temp_c:.0f}", "°C", "no dissociation counted"),
        ("heat of post-combustion", f"{record.mouth.heat_mj:.0f}", "MJ/t"),
        ("of it to the bath", f"{record.mouth.to_bath_mj:.0f}", "MJ/t"),
        ("scrap that melts", f"{record.melted_kg:.1f}", "kg/t"),
        ("oxygen for it", f"{record.mouth.oxygen_nm3:.2f}", "Nm3/t"),
        ("air drawn in", f"{record.hood.air_nm3:.1f}", "Nm3/t"),
        ("gas behind the hood", f"{gas.total_nm3:.1f}", "Nm3/t"),
        ("the same when all oxygen burns carbon", f"{record.peak_nm3_min:.0f}", "Nm3/min"),
        *rows,
        ("burnt gas before it cools", f"{record.hood.burnt.temp_c:.0f}", "°C"),
        ("calorific value", f"{record.worth_here:.2f}", "MJ/Nm3"),
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
        *(
            (f"heat {name}", f"{heat:.0f}", "MJ/t")
            for name, heat in zip(HEATS, record.heats, strict=True)
        ),
        ("preheated scrap", f"{record.scrap.scrap_temp_c:.0f}", "°C", "counted as iron"),
        ("heat in it", f"{record.scrap.heat_mj:.0f}", "MJ/t"),
    ]


def alt(record):
    heats = ", ".join(f"{name} {heat:.0f}" for name, heat in zip(HEATS, record.heats, strict=True))
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
    return "CO", "CO2", "post_combustion_hte_pct", "air_o2_pct", "co_hazard"


def data():
    others = (("the higher flammable limit, NFPA 497", OTHER_LIMIT),)
    return data_choice(
        others, "two standards disagree", "Work by the lower limit, and by local rules."
    )
