"""Panel of lesson 01: what goes into the vessel? Mass of each element that hot metal, scrap and
fluxes bring.
"""

from collections import namedtuple

from ...coursekit.panel import style
from ...streams import LiquidMetal, Solid, material

SIZE_PX = 820, 380
SHOWN = ("Fe", "C", "Si", "Mn", "P", "S", "Cu", "Ca", "Mg")
GROUPS = ("hot metal", "scrap", "lime")
LOW, HIGH = 0.01, 2000.0


def controls(works):
    grades = tuple((m["title"], key) for key, m in works.materials.items() if m["kind"] == "scrap")
    return {"charge_t": {"default": works.vessel.tap_t / 0.92}, "scrap": {"choices": grades}}


Shown = namedtuple("Shown", "kg mixed hot flux charge_t scrap")


def compute(works, charge_t, share_pct, c_pct, si_pct, p_pct, scrap, lime_kg_t):
    """kg of each element by group, and the analysis of the mixed metal."""
    pct = {**works.hot_metal.analysis_pct, "C": c_pct, "Si": si_pct, "P": p_pct}
    hot = LiquidMetal(1000.0 * charge_t * share_pct / 100.0, pct, works.hot_metal.temp_c)
    cold = Solid(1000.0 * charge_t - hot.mass_kg, material(scrap, works))
    flux = Solid(charge_t * lime_kg_t, material("lime", works))
    kg = {name: record.element_kg() for name, record in zip(GROUPS, (hot, cold, flux), strict=True)}
    mixed = {
        e: 100.0 * (kg["hot metal"].get(e, 0.0) + kg["scrap"].get(e, 0.0)) / (1000.0 * charge_t)
        for e in SHOWN
    }
    return Shown(kg, mixed, hot, flux, charge_t, scrap=cold)


Artists = namedtuple("Artists", "bars masses")


def setup(fig):
    ax = fig.add_axes((0.085, 0.15, 0.755, 0.75))
    style.axes(
        ax,
        "element",
        "kg per t of charge, log scale",
        (-0.6, len(SHOWN) - 0.4),
        (LOW, HIGH),
        "What each material brings",
    )
    ax.set_yscale("log")
    ax.yaxis.set_major_formatter(lambda value, _: f"{value:g}")
    ax.set_xticks(range(len(SHOWN)), SHOWN)
    ax.grid(axis="x", visible=False)
    bars = []
    for k, name in enumerate(GROUPS):
        places = [x + 0.27 * (k - 1) for x in range(len(SHOWN))]
        bars.append(
            style.bars(
                ax,
                places,
                [0] * len(SHOWN),
                numbers=[k] * len(SHOWN),
                horizontal=False,
                thickness=0.25,
            )
        )
        style.bars(ax, [-5], [1], numbers=[k], horizontal=False, animated=False, label=name)
    ax.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0), handlelength=1.4)
    fig.text(0.852, 0.62, "This charge:", fontsize=9.5)
    masses = [
        style.figures(fig, 0.852, 0.555 - 0.06 * k, "", fontsize=9) for k in range(len(GROUPS))
    ]
    return Artists(bars, masses)


def update(artists, record):
    for name, mass, part, bars in zip(
        GROUPS, artists.masses, (record.hot, record.scrap, record.flux), artists.bars, strict=True
    ):
        mass.set_text(f"{part.mass_kg / 1000.0:.1f} t {name}")
        for bar, element in zip(bars, SHOWN, strict=True):
            per_t = record.kg[name].get(element, 0.0) / record.charge_t
            bar.set_y(LOW)
            bar.set_height(max(per_t - LOW, 0.0))


def sentence(record):
    m = record.mixed
    return (
        f"{record.hot.mass_kg / 1000:.0f} t hot metal and {record.scrap.mass_kg / 1000:.0f} t "
        f"{record.scrap.material.title} bring "
        f"{m['C'] * 10 * record.charge_t:.0f} kg carbon, {m['Si'] * 10 * record.charge_t:.0f} kg "
        "silicon "
        f"and {m['P'] * 10 * record.charge_t:.0f} kg phosphorus; "
        f"mixed they would hold {m['C']:.2f} % C, {m['Si']:.2f} % Si, {m['P']:.3f} % P and "
        f"{m['Cu']:.3f} % Cu."
    )


def numbers(record):
    rows = [
        (f"{element} from {name}", f"{record.kg[name].get(element, 0.0):.1f}", "kg")
        for element in SHOWN
        for name in GROUPS
    ]
    return rows + [
        (f"{element} in the mixed metal", f"{pct:.3f}", "%")
        for element, pct in record.mixed.items()
    ]


def alt(record):
    parts = ", ".join(
        f"{e} {record.kg['hot metal'].get(e, 0.0) / record.charge_t:.2f}" for e in SHOWN[:6]
    )
    masses = ", ".join(
        f"{m.mass_kg / 1000:.1f} t {name}"
        for m, name in zip((record.hot, record.scrap, record.flux), GROUPS, strict=True)
    )
    return (
        "Bars on a logarithmic scale of kg of each element per t of charge, by material; from "
        f"hot metal: {parts}. This charge: {masses}."
    )


def sources(record):
    return ("cantera",)  # its atomic weights; the analyses are the works' own
