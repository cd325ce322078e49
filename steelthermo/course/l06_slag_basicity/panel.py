"""Panel of lesson 06: how much lime, and why? Lime and slag against silicon, and the slag with its
lumps of lime and the magnesia it can hold.
"""

from collections import namedtuple

import numpy as np

from ... import streams
from ...base import constant
from ...charge import solve_by
from ...coursekit.panel import style
from ...slag import available_lime_pct, lining_pickup_kg, mgo_to_saturation_kg
from ...streams import BASICITIES, Material, material, optical_basicity
from ..common import closing, heat_data, key_of

SIZE_PX = 820, 380
SILICON = np.linspace(0.1, 1.2, 12)
SHOWN = ("CaO", "SiO2", "FeO", "Fe2O3", "MgO", "MnO", "P2O5", "Al2O3")
CAO, MGO = SHOWN.index("CaO"), SHOWN.index("MgO")
SCALES = ("pauling", "density", "recommended")
KG_T, HIGH_KG_T = (
    250.0,
    500.0,
)  # top of the left picture; the second where a line rises above the first


def controls(works):
    aim, holds = works.slag, constant("mgo_saturation_pct")
    return {
        "lime_sio2_pct": {"default": material("lime", works).pct("SiO2")},
        "iron_oxides_pct": {"default": aim.feo_pct + aim.fe2o3_pct},
        "saturation_pct": {"low": holds["low"], "high": holds["high"]},
    }


Shown = namedtuple(
    "Shown",
    "si_pct basicity saturation_pct heat lime slag available lumps_pct room_kg_t pickup_kg_t tap_t",
)


def compute(
    works,
    si_pct,
    p_pct,
    basicity,
    mgo_pct,
    lime_sio2_pct,
    iron_oxides_pct,
    undissolved_pct,
    saturation_pct,
    data,
):
    """The charge at this silicon and along the silicon axis, and the slag of this heat. Per t of
    steel, scrap following the heat.
    """
    base = material("lime", works)
    rest = {s: p for s, p in base.analysis_pct.items() if s not in ("SiO2", "CaO")}
    lime = Material.of(base.title, rest | {"SiO2": lime_sio2_pct}, "CaO", base.temp_c, "lime")
    feo = works.slag.feo_pct / (works.slag.feo_pct + works.slag.fe2o3_pct) * iron_oxides_pct
    given = {
        "lime": lime,
        "basicity": basicity,
        "mgo_pct": mgo_pct,
        "feo_pct": feo,
        "fe2o3_pct": iron_oxides_pct - feo,
        "undissolved_pct": undissolved_pct,
    }
    pct = {**works.hot_metal.analysis_pct, "P": p_pct}
    one = solve_by(works, key_of(data), hot_metal_pct={**pct, "Si": si_pct}, **given).for_tap(1.0)
    many = solve_by(
        works, key_of(data), hot_metal_pct={**pct, "Si": SILICON}, infeasible="mark", **given
    )
    liquid = dict(one.slag.oxides_kg) | {"CaO": one.slag.oxides_kg["CaO"] - one.undissolved_kg}
    return Shown(
        si_pct,
        basicity,
        saturation_pct,
        heat=one,
        lime=np.where(many.feasible, many.per_t("lime"), np.nan),
        slag=np.where(many.feasible, many.per_t("slag"), np.nan),
        available=available_lime_pct(
            {o: lime.oxide_pct(o) for o in ("CaO", "SiO2")},
            basicity,
            undissolved_pct=undissolved_pct,
        ),
        lumps_pct=100.0 * one.undissolved_kg / one.slag.mass_kg,
        room_kg_t=mgo_to_saturation_kg(liquid, saturation_pct),
        pickup_kg_t=lining_pickup_kg(liquid, saturation_pct),
        tap_t=works.vessel.tap_t,
    )


Artists = namedtuple("Artists", "left lines labels dot bars lumps holds texts said")


def setup(fig):
    left, right = fig.subplots(
        1,
        2,
        gridspec_kw={
            "left": 0.075,
            "right": 0.965,
            "bottom": 0.15,
            "top": 0.89,
            "wspace": 0.42,
            "width_ratios": (3, 2.4),
        },
    )
    style.axes(
        left,
        "silicon in hot metal, %",
        "kg per t of steel",
        (0.1, 1.2),
        (0, KG_T),
        "Lime and slag against silicon",
    )
    lines = [style.line(left, 0, SILICON, 0 * SILICON), style.line(left, 1, SILICON, 0 * SILICON)]
    labels = style.EndLabels(left, lines, ("lime", "slag"))
    (dot,) = left.plot(
        [0],
        [0],
        "o",
        color=style.SERIES[2].colour,
        markersize=10,
        markerfacecolor="none",
        markeredgewidth=2.5,
        animated=True,
    )
    style.axes(
        right, "mass % as a laboratory finds it", "", (0, 85), (len(SHOWN) - 0.4, -0.6), "The slag"
    )
    right.set_yticks(range(len(SHOWN)), SHOWN)
    right.grid(axis="y", visible=False)
    bars = style.bars(right, range(len(SHOWN)), [0] * len(SHOWN), numbers=[0] * len(SHOWN))
    (lumps,) = style.bars(
        right, [CAO], [0], facecolor=style.PAPER, edgecolor=style.INK, hatch="////", linewidth=1.0
    )
    (holds,) = right.plot(
        [0, 0], [MGO - 0.45, MGO + 0.45], color=style.SERIES[1].colour, linewidth=3.0, animated=True
    )
    texts = [
        style.figures(right, 0, k, "", va="center", ha="left", fontsize=9.5)
        for k in range(len(SHOWN))
    ]
    said = style.figures(right, 84, CAO + 1, "", va="center", ha="right", fontsize=9.5)
    return Artists(left, lines, labels, dot, bars, lumps, holds, texts, said)


def update(artists, record):
    a = artists
    top = KG_T if np.nanmax(record.slag) <= KG_T else HIGH_KG_T
    a.left.set_ylim(0, top)
    for line, values in zip(a.lines, (record.lime, record.slag), strict=True):
        line.set_ydata(values)
    a.labels.place()
    a.dot.set_data([record.si_pct], [record.heat.lime.mass_kg])
    analysis = record.heat.slag.analysis_pct
    for bar, text, oxide in zip(a.bars, a.texts, SHOWN, strict=True):
        share = float(analysis.get(oxide, 0.0))
        bar.set_width(share)
        text.set_text(f"{share:.1f}")
        text.set_x(share + 0.8)
    a.bars[CAO].set_width(analysis["CaO"] - record.lumps_pct)
    a.lumps.set_x(analysis["CaO"] - record.lumps_pct)
    a.lumps.set_width(record.lumps_pct)
    a.said.set_text(f"hatched: lumps, {record.lumps_pct:.1f}" if record.lumps_pct else "")
    saturated = record.saturation_pct * (1.0 - record.lumps_pct / 100.0)
    a.holds.set_xdata([saturated, saturated])
    a.texts[MGO].set_x(max(saturated, analysis["MgO"]) + 1.2)
    a.texts[MGO].set_text(f"{analysis['MgO']:.1f}, can hold {saturated:.1f}")
    return top


def _magnesia(record):
    """What saturation means for this slag, in words."""
    if record.pickup_kg_t > 0.005:
        per_heat = record.pickup_kg_t * record.tap_t
        return (
            f"It can take up to {record.pickup_kg_t:.1f} kg MgO per t from the lining until it "
            f"is saturated, {per_heat:.0f} kg a heat."
        )
    return "It is saturated with MgO and spares the lining" + (
        f"; {-record.room_kg_t:.1f} kg/t stay solid." if record.room_kg_t < -0.05 else "."
    )


def sentence(record):
    h = record.heat
    lumps = (
        f" {h.undissolved_kg:.1f} kg of CaO stay lumps: the laboratory finds CaO/SiO2 = "
        f"{h.slag.basicity():.1f}."
        if record.lumps_pct
        else ""
    )
    return (
        f"For {record.si_pct:.2f} % Si and CaO/SiO2 = {record.basicity:.1f} the heat takes "
        f"{h.lime.mass_kg:.1f} kg lime and "
        f"{h.dolomite.mass_kg:.1f} kg burnt dolomite per t of steel; of 100 kg of this lime "
        f"{record.available:.0f} kg CaO are available. "
        f"It makes {h.slag.mass_kg:.0f} kg of slag per t.{lumps} {_magnesia(record)}"
    )


def numbers(record):
    h = record.heat
    oxides = h.slag.oxides_kg
    rows = [
        (f"basicity {name}", f"{streams.basicity(oxides, name):.2f}", "")
        for name in (*BASICITIES, "molar")
    ]
    rows += [
        (
            f"optical basicity, scale {s}",
            f"{optical_basicity({o: oxides[o] for o in SHOWN if o in oxides}, s):.3f}",
            "",
        )
        for s in SCALES
    ]
    rows += [(oxide, f"{pct:.2f}", "%") for oxide, pct in h.slag.analysis_pct.items()]
    return [
        ("lime", f"{h.lime.mass_kg:.1f}", "kg/t"),
        ("burnt dolomite", f"{h.dolomite.mass_kg:.1f}", "kg/t"),
        ("slag, lumps included", f"{h.slag.mass_kg:.1f}", "kg/t"),
        ("CaO left as lumps", f"{h.undissolved_kg:.1f}", "kg/t"),
        (
            "MgO until the liquid is saturated",
            f"{record.room_kg_t:.1f}",
            "kg/t",
            "below zero: so much stays solid",
        ),
        (
            "MgO from the lining, as the works counts it",
            f"{h.lining.mass_kg:.1f}",
            "kg/t",
            "in the balance",
        ),
        (
            "MgO from the lining, at most, besides",
            f"{record.pickup_kg_t:.1f}",
            "kg/t",
            "not in the balance",
        ),
        ("iron in the slag", f"{h.slag.mass_kg * h.slag.iron_total_pct / 100:.1f}", "kg/t"),
        ("scrap share the heat then allows", f"{h.scrap_share_pct:.1f}", "%"),
        *rows,
    ]


def alt(record):
    analysis = record.heat.slag.analysis_pct
    parts = ", ".join(f"{o} {analysis.get(o, 0.0):.0f}" for o in SHOWN)
    left = (
        "Left: lime and slag in kg per t of steel rise with silicon in nearly straight lines; a "
        "ring marks the lime of this heat."
    )
    lumps = f"; {record.lumps_pct:.0f} of the CaO, hatched, are lumps" if record.lumps_pct else ""
    return (
        f"{left} Right: bars of the slag in mass %: {parts}{lumps}. A mark shows the "
        f"{record.saturation_pct:.1f} % MgO that the liquid can hold."
    )


def moved(record):
    """What other data move: the scrap the heat melts, and with the hot metal in the charge its
    silicon and the lime.
    """
    h = record.heat
    return [
        ("scrap in the charge", f"{h.scrap_share_pct:.2f} %"),
        ("lime", f"{h.lime.mass_kg:.2f} kg/t"),
        ("burnt dolomite", f"{h.dolomite.mass_kg:.2f} kg/t"),
        ("slag", f"{h.slag.mass_kg:.1f} kg/t"),
    ]


def closure(record):
    return closing(record.heat)


def sources(record):
    return record.heat, "mgo_saturation_pct"


def data():
    return heat_data()
