"""Panel of lesson 06: how much lime, and why? Lime and dolomite against silicon, and the slag they make."""

from types import SimpleNamespace

import numpy as np

from ... import charge, plant, slag
from ...materials import Material, material
from .. import style
from ..controls import Control
from ..panel import Panel
from ..picture import Drawing

__all__ = ["slag_basicity"]

SILICON = np.linspace(0.1, 1.2, 12)
SHOWN = ("CaO", "SiO2", "FeO", "Fe2O3", "MgO", "MnO", "P2O5", "Al2O3")


def controls(works):
    hot, aim = works.hot_metal, works.slag
    lime = material("lime", works)
    return (
        Control("si_pct", "Silicon in hot metal", "%", 0.1, 1.2, 0.05, hot.analysis_pct["Si"], "0.3 to 1.2 %, common practice"),
        Control("p_pct", "Phosphorus in hot metal", "%", 0.03, 0.2, 0.005, hot.analysis_pct["P"], "ores of the usual kinds, common practice"),
        Control("basicity", "CaO/SiO2 of the slag", "", 2.0, 4.5, 0.1, aim.basicity, "above 3 to hold phosphorus, common practice"),
        Control("mgo_pct", "MgO in the slag", "%", 5.0, 12.0, 0.5, aim.mgo_pct, "near saturation to spare the lining, common practice"),
        Control("lime_sio2_pct", "Silica in the lime", "%", 0.0, 6.0, 0.1, lime.pct("SiO2"), "good to poor lime"),
        Control("iron_oxides_pct", "FeO + Fe2O3 in the slag", "%", 10.0, 35.0, 1.0, aim.feo_pct + aim.fe2o3_pct, "end of the blow, common practice"),
    )


def compute(works, si_pct, p_pct, basicity, mgo_pct, lime_sio2_pct, iron_oxides_pct):
    """The charge at this silicon and along the silicon axis, and the slag of this heat. Per t of steel, scrap following the heat."""
    base = material("lime", works)
    rest = {s: p for s, p in base.analysis_pct.items() if s not in ("SiO2", "CaO")}
    lime = Material.of(base.title, rest | {"SiO2": lime_sio2_pct}, "CaO", base.temp_c, "lime")
    feo = works.slag.feo_pct / (works.slag.feo_pct + works.slag.fe2o3_pct) * iron_oxides_pct
    given = {"lime": lime, "basicity": basicity, "mgo_pct": mgo_pct, "feo_pct": feo, "fe2o3_pct": iron_oxides_pct - feo}
    pct = {**works.hot_metal.analysis_pct, "P": p_pct}
    one = charge.solve(works, hot_metal_pct={**pct, "Si": si_pct}, **given).for_tap(1.0)
    many = charge.solve(works, hot_metal_pct={**pct, "Si": SILICON}, infeasible="mark", **given)
    line = np.where(many.feasible, many.per_t("lime"), np.nan)
    weight = np.where(many.feasible, many.per_t("slag"), np.nan)
    available = lime.oxide_pct("CaO") - basicity * lime.pct("SiO2")
    return SimpleNamespace(heat=one, lime=line, slag=weight, si_pct=si_pct, basicity=basicity, available=available, closure=one.closure())


def setup(fig):
    left, right = fig.subplots(1, 2, gridspec_kw={"left": 0.075, "right": 0.965, "bottom": 0.15, "top": 0.89, "wspace": 0.42, "width_ratios": (3, 2.4)})
    style.axes(left, "silicon in hot metal, %", "kg per t of steel", (0.1, 1.2), (0, 250), "Lime and slag against silicon")
    lines = [style.line(left, 0, SILICON, 0 * SILICON), style.line(left, 1, SILICON, 0 * SILICON)]
    labels = style.EndLabels(left, lines, ("lime", "slag"))
    (dot,) = left.plot([0], [0], "o", color=style.SERIES[2].colour, markersize=10, markerfacecolor="none", markeredgewidth=2.5, animated=True)
    style.axes(right, "mass % of the slag", "", (0, 70), (len(SHOWN) - 0.4, -0.6), "The slag")
    right.set_yticks(range(len(SHOWN)), SHOWN)
    right.grid(axis="y", visible=False)
    bars = style.bars(right, range(len(SHOWN)), [0] * len(SHOWN), numbers=[0] * len(SHOWN))
    texts = [right.text(0, k, "", va="center", ha="left", fontsize=9.5, animated=True) for k in range(len(SHOWN))]
    return SimpleNamespace(lines=lines, labels=labels, dot=dot, bars=bars, texts=texts)


def update(artists, record):
    for line, values in zip(artists.lines, (record.lime, record.slag), strict=True):
        line.set_ydata(values)
    artists.labels.place()
    artists.dot.set_data([record.si_pct], [record.heat.lime.mass_kg])
    analysis = record.heat.slag.analysis_pct
    for bar, text, oxide in zip(artists.bars, artists.texts, SHOWN, strict=True):
        share = float(analysis.get(oxide, 0.0))
        bar.set_width(share)
        text.set_text(f"{share:.1f}")
        text.set_x(share + 0.8)


def sentence(record):
    h = record.heat
    return (
        f"For {record.si_pct:.2f} % Si and CaO/SiO2 = {record.basicity:.1f} the heat takes {h.lime.mass_kg:.1f} kg lime and "
        f"{h.dolomite.mass_kg:.1f} kg burnt dolomite per t of steel; of 100 kg of this lime {record.available:.0f} kg CaO are available. "
        f"It makes {h.slag.mass_kg:.0f} kg of slag per t."
    )


def numbers(record):
    h = record.heat
    oxides = h.slag.oxides_kg
    rows = [(f"basicity {name}", f"{slag.basicity(oxides, name):.2f}", "") for name in (*slag.BASICITIES, "molar")]
    rows += [(f"optical basicity, scale {s}", f"{slag.optical_basicity({o: oxides[o] for o in SHOWN if o in oxides}, s):.3f}", "") for s in SCALES]
    rows += [(oxide, f"{pct:.2f}", "%") for oxide, pct in h.slag.analysis_pct.items()]
    return [
        ("lime", f"{h.lime.mass_kg:.1f}", "kg/t"),
        ("burnt dolomite", f"{h.dolomite.mass_kg:.1f}", "kg/t"),
        ("slag", f"{h.slag.mass_kg:.1f}", "kg/t"),
        ("iron in the slag", f"{h.slag.mass_kg * h.slag.iron_total_pct / 100:.1f}", "kg/t"),
        ("scrap share the heat then allows", f"{h.scrap_share_pct:.1f}", "%"),
        *rows,
    ]


SCALES = ("pauling", "density", "recommended")


def alt(record):
    analysis = record.heat.slag.analysis_pct
    parts = ", ".join(f"{o} {analysis.get(o, 0.0):.0f}" for o in SHOWN)
    left = "Left: lime and slag in kg per t of steel rise with silicon in nearly straight lines; a ring marks this heat."
    return f"{left} Right: bars of the slag in mass %: {parts}."


def closure(record):
    worst = max((abs(e), e) for name, e in record.closure.items() if name not in ("heat", "O"))[1]
    return [("Mass of every other element", worst), ("Oxygen", record.closure["O"]), ("Heat", record.closure["heat"])]


def slag_basicity():
    """Panel of lesson 06, with the figures of the works profile that plant.load() finds."""
    works = plant.load()
    return Panel(
        "slag_basicity",
        f"How much lime, and why? ({works.name})",
        controls(works),
        lambda **settings: compute(works, **settings),
        Drawing(setup, update, width_px=820, height_px=380),
        sentence,
        numbers,
        alt,
        closure=closure,
        sources=(charge.solve(works).slag,),
    )
