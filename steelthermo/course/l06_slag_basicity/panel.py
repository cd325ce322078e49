"""Panel of lesson 06: how much lime, and why? Lime and slag against silicon, and the slag with its
lumps of lime and the magnesia it can hold.
"""

from collections import namedtuple

import numpy as np

from ... import streams
from ...base import quietly
from ...charge import iron_oxides_of
from ...coursekit.panel import style
from ...slag import available_lime_pct, lining_pickup_kg, mgo_to_saturation_kg, property_facts
from ...streams import BASICITIES, Material, material, optical_basicity
from ..common import as_rows, charge_at, closing, heat_data
from ..pictures import Rows, axes, dot, made_of

SIZE_PX = 1080, 380
SILICON = np.linspace(0.1, 1.2, 12)
SHOWN = ("CaO", "SiO2", "FeO", "Fe2O3", "MgO", "MnO", "P2O5", "Al2O3")
CAO, MGO = SHOWN.index("CaO"), SHOWN.index("MgO")
SCALES = ("pauling", "density", "recommended")
KG_T, HIGH_KG_T = (
    250.0,
    500.0,
)  # top of the left picture; the second where a line rises above the first


def controls(works):
    holds = property_facts("MgO saturation")[0]
    return {
        "lime_sio2_pct": {"default": material("lime", works).pct("SiO2")},
        "iron_oxides_pct": {"default": round(sum(iron_oxides_of(works)))},
        "saturation_pct": {"low": holds["low"], "high": holds["high"]},
    }


Shown = namedtuple("Shown", "at heat lime slag available lumps_pct room_kg_t pickup_kg_t tap_t")


def compute(works, at):
    """The charge at this silicon and along the silicon axis, and the slag of this heat. Per t of
    steel, scrap following the heat.
    """
    base = material("lime", works)
    rest = {s: p for s, p in base.analysis_pct.items() if s not in ("SiO2", "CaO")}
    lime = Material.of(base.title, rest | {"SiO2": at.lime_sio2_pct}, "CaO", base.temp_c, "lime")
    usual_feo, usual_fe2o3 = iron_oxides_of(works)
    feo = usual_feo / (usual_feo + usual_fe2o3) * at.iron_oxides_pct
    own = {"lime": lime, "feo_pct": feo, "fe2o3_pct": at.iron_oxides_pct - feo}
    one = charge_at(works, at, **own).for_tap(1.0)
    with quietly():  # along the axis it is drawn; of this heat it is told
        many = charge_at(works, at._replace(si_pct=SILICON), infeasible="mark", **own)
    liquid = dict(one.slag.oxides_kg) | {"CaO": one.slag.oxides_kg["CaO"] - one.undissolved_kg}
    own = {o: lime.oxide_pct(o) for o in ("CaO", "SiO2")}
    return Shown(
        at,
        one,
        *(np.where(many.feasible, many.per_t(name), np.nan) for name in ("lime", "slag")),
        available_lime_pct(own, at.basicity, undissolved_pct=at.undissolved_pct),
        100.0 * one.undissolved_kg / one.slag.mass_kg,
        mgo_to_saturation_kg(liquid, at.saturation_pct),
        lining_pickup_kg(liquid, at.saturation_pct),
        works.vessel.tap_t,
    )


def _masses(fig):
    ax = axes(
        fig,
        (0.075, 0.15, 0.4086, 0.74),
        "silicon in hot metal, %",
        "kg per t of steel",
        (0.1, 1.2),
        (0, KG_T),
        "Lime and slag against silicon",
    )
    lime, slag = (style.line(ax, n, SILICON, 0 * SILICON) for n in (0, 1))
    labels, ring = style.EndLabels(ax, (lime, slag), ("lime", "slag")), dot(ax, 2, ring=True)

    def show(record):
        top = KG_T if np.nanmax(record.slag) <= KG_T else HIGH_KG_T
        ax.set_ylim(0, top)
        lime.set_ydata(record.lime)
        slag.set_ydata(record.slag)
        labels.place()
        ring.set_data([record.at.si_pct], [record.heat.lime.mass_kg])
        return top

    return show


def _analysis(fig):
    place, label = (0.6381, 0.15, 0.3269, 0.74), "mass % as a laboratory finds it"
    rows = Rows(fig, place, label, (0, 85), "The slag", SHOWN)
    look = {"facecolor": style.PAPER, "edgecolor": style.INK, "hatch": "////", "linewidth": 1.0}
    (lumps,) = style.bars(rows.ax, [CAO], [0], **look)
    holds = style.line(rows.ax, 1, [0, 0], [MGO - 0.45, MGO + 0.45], 0, linestyle="-", linewidth=3)
    said = style.figures(rows.ax, 84, CAO + 1, "", va="center", ha="right", fontsize=9.5)

    def show(record):
        analysis, solid = record.heat.slag.analysis_pct, record.lumps_pct
        rows.show([float(analysis.get(oxide, 0.0)) for oxide in SHOWN], "{:.1f}")
        rows.bars[CAO].set_width(analysis["CaO"] - solid)
        lumps.set_x(analysis["CaO"] - solid)
        lumps.set_width(solid)
        said.set_text(f"hatched: lumps, {solid:.1f}" if solid else "")
        saturated = record.at.saturation_pct * (1.0 - solid / 100.0)
        holds.set_xdata([saturated, saturated])
        rows.texts[MGO].set_x(max(saturated, analysis["MgO"]) + 1.2)
        rows.texts[MGO].set_text(f"{analysis['MgO']:.1f}, can hold {saturated:.1f}")

    return show


setup, update = made_of(_masses, _analysis)


def _magnesia(record):
    """What saturation means for this slag, in words."""
    if record.pickup_kg_t > 0.005:
        per_heat = record.pickup_kg_t * record.tap_t
        return (
            f"The slag can take up to {record.pickup_kg_t:.1f} kg MgO per t from the lining until "
            f"it is saturated, {per_heat:.0f} kg a heat."
        )
    return "The slag is saturated with MgO and spares the lining" + (
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
        f"For {record.at.si_pct:.2f} % Si and CaO/SiO2 = {record.at.basicity:.1f} the heat takes "
        f"{h.lime.mass_kg:.1f} kg lime and "
        f"{h.dolomite.mass_kg:.1f} kg burnt dolomite per t of steel; of 100 kg of this lime "
        f"{record.available:.0f} kg CaO are available. "
        f"The heat makes {h.slag.mass_kg:.0f} kg of slag per t.{lumps} {_magnesia(record)}"
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
        *as_rows(f"""
        lime | {h.lime.mass_kg:.1f} | kg/t
        burnt dolomite | {h.dolomite.mass_kg:.1f} | kg/t
        slag, lumps included | {h.slag.mass_kg:.1f} | kg/t
        CaO left as lumps | {h.undissolved_kg:.1f} | kg/t
        """),
        (
            "MgO until the liquid is saturated",
            f"{record.room_kg_t:.1f}",
            "kg/t",
            "below zero: so much stays solid",
        ),
        *as_rows(f"""
        MgO from the lining, as the works counts it | {h.lining.mass_kg:.1f} | kg/t | in the balance
        MgO from the lining, at most, besides | {record.pickup_kg_t:.1f} | kg/t | not in the balance
        iron in the slag | {h.slag.mass_kg * h.slag.iron_total_pct / 100:.1f} | kg/t
        scrap share the heat then allows | {h.scrap_share_pct:.1f} | %
        """),
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
        f"{record.at.saturation_pct:.1f} % MgO that the liquid can hold."
    )


def moved(record):
    """What other data move: the scrap the heat melts, and with the hot metal in the charge its
    silicon and the lime.
    """
    h = record.heat
    return as_rows(f"""
        scrap in the charge | {h.scrap_share_pct:.2f} %
        lime | {h.lime.mass_kg:.2f} kg/t
        burnt dolomite | {h.dolomite.mass_kg:.2f} kg/t
        slag | {h.slag.mass_kg:.1f} kg/t
    """)


def closure(record):
    return closing(record.heat)


def sources(record):
    return record.heat, property_facts("MgO saturation")[0]


def data():
    return heat_data()
