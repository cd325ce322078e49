"""Panel of lesson 01: what goes into the vessel? Mass of each element that hot metal, scrap and
fluxes bring.
"""

from collections import namedtuple

from ...coursekit.panel import style
from ...streams import LiquidMetal, Solid, material
from ..common import hot_metal_pct
from ..pictures import axes, made_of

SIZE_PX = 820, 380
SHOWN = ("Fe", "C", "Si", "Mn", "P", "S", "Cu", "Ca", "Mg")
GROUPS = ("hot metal", "scrap", "lime")
LOW, HIGH = 0.01, 2000.0


def controls(works):
    grades = tuple((m["title"], key) for key, m in works.materials.items() if m["kind"] == "scrap")
    return {"charge_t": {"default": works.vessel.tap_t / 0.92}, "scrap": {"choices": grades}}


Shown = namedtuple("Shown", "at kg mixed parts")


def compute(works, at):
    """kg of each element by group, and the analysis of the mixed metal."""
    charge_kg = 1000.0 * at.charge_t
    pct = hot_metal_pct(works, at)
    hot = LiquidMetal(charge_kg * at.share_pct / 100.0, pct, works.hot_metal.temp_c)
    cold = Solid(charge_kg - hot.mass_kg, material(at.scrap, works))
    parts = hot, cold, Solid(at.charge_t * at.lime_kg_t, material("lime", works))
    kg = [part.element_kg() for part in parts]
    mixed = {e: 100.0 * sum(m.get(e, 0.0) for m in kg[:2]) / charge_kg for e in SHOWN}
    return Shown(at, dict(zip(GROUPS, kg, strict=True)), mixed, parts)


def _bars(fig):
    many = len(SHOWN)
    ax = axes(
        fig,
        (0.085, 0.15, 0.755, 0.75),
        "element",
        "kg per t of charge, log scale",
        (-0.6, many - 0.4),
        (LOW, HIGH),
        "What each material brings",
    )
    ax.set_yscale("log")
    ax.yaxis.set_major_formatter(lambda value, _: f"{value:g}")
    ax.set_xticks(range(many), SHOWN)
    ax.grid(axis="x", visible=False)
    bars = {}
    for k, name in enumerate(GROUPS):
        look = {"horizontal": False, "thickness": 0.25}
        places = [x + 0.27 * (k - 1) for x in range(many)]
        bars[name] = style.bars(ax, places, [0] * many, [k] * many, **look)
        style.bars(ax, [-5], [1], [k], animated=False, label=name, **look)
    ax.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0), handlelength=1.4)
    fig.text(0.852, 0.62, "This charge:", fontsize=9.5)
    masses = [style.figures(fig, 0.852, 0.555 - 0.06 * k, "", fontsize=9) for k in range(3)]

    def show(record):
        for mass, part, name in zip(masses, record.parts, GROUPS, strict=True):
            mass.set_text(f"{part.mass_kg / 1000.0:.1f} t {name}")
            for bar, element in zip(bars[name], SHOWN, strict=True):
                bar.set_y(LOW)
                per_t = record.kg[name].get(element, 0.0) / record.at.charge_t
                bar.set_height(max(per_t - LOW, 0.0))

    return show


setup, update = made_of(_bars)


def sentence(record):
    hot, cold, _ = record.parts
    m, kg = record.mixed, {e: pct * 10 * record.at.charge_t for e, pct in record.mixed.items()}
    return (
        f"{hot.mass_kg / 1000:.0f} t hot metal and {cold.mass_kg / 1000:.0f} t "
        f"{cold.material.title} bring {kg['C']:.0f} kg carbon, {kg['Si']:.0f} kg silicon "
        f"and {kg['P']:.0f} kg phosphorus; "
        f"mixed they would hold {m['C']:.2f} % C, {m['Si']:.2f} % Si, {m['P']:.3f} % P and "
        f"{m['Cu']:.3f} % Cu."
    )


def numbers(record):
    rows = [
        (f"{element} from {name}", f"{kg.get(element, 0.0):.1f}", "kg")
        for element in SHOWN
        for name, kg in record.kg.items()
    ]
    mixed = record.mixed.items()
    return rows + [(f"{element} in the mixed metal", f"{pct:.3f}", "%") for element, pct in mixed]


def alt(record):
    hot = record.kg["hot metal"]
    parts = ", ".join(f"{e} {hot.get(e, 0.0) / record.at.charge_t:.2f}" for e in SHOWN[:6])
    masses = ", ".join(
        f"{m.mass_kg / 1000:.1f} t {name}" for m, name in zip(record.parts, GROUPS, strict=True)
    )
    return (
        "Bars on a logarithmic scale of kg of each element per t of charge, by material; from "
        f"hot metal: {parts}. This charge: {masses}."
    )


def sources(record):
    return ("cantera",)  # its atomic weights; the analyses are the works' own
