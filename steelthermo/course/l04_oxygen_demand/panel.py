"""Panel of lesson 04: how much oxygen, and how long is the blow? Demand by element, for one tonne
of steel and for the heat.
"""

from collections import namedtuple

from ...base import mass_fractions
from ...charge import blow_minutes, demand
from ...coursekit.panel import style
from ...streams import material
from ..common import as_rows, hot_metal_pct
from ..pictures import Rows, axes, dot, doubled, made_of

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 1080, 370
ELEMENTS = ("C", "Si", "Mn", "P", "Fe")
LABELS = ("carbon", "silicon", "manganese", "phosphorus", "iron to slag, dust", "from ore (saved)")


Shown = namedtuple("Shown", "at need burnt charge_kg minutes tap_t")


def compute(works, at):
    """Demand for one tonne of steel; the metallic charge is found from the iron that has to be
    there.
    """
    hot, end = hot_metal_pct(works, at), works.end_point.analysis_pct
    scrap, ore = material("heavy_scrap", works), material("ore", works)
    share = at.share_pct / 100.0
    pct = {e: share * p + (1 - share) * 100.0 * scrap.per_kg.get(e, 0.0) for e, p in hot.items()}
    iron = share * (100.0 - sum(hot.values())) + (1 - share) * scrap.pct("Fe")
    ore_fe2o3 = at.ore_kg_t * ore.pct("Fe2O3") / 100.0
    ends = {"C": at.end_c_pct, "Si": 0.0} | {e: min(end[e], pct[e]) for e in ("Mn", "P")}
    steel_iron = 10.0 * (100.0 - sum(ends.values()))
    from_ore = ore_fe2o3 * mass_fractions("Fe2O3")["Fe"]
    charge_kg = (steel_iron + at.iron_kg_t - from_ore) / iron * 100.0
    burnt = {e: max(charge_kg * pct[e] / 100.0 - 10.0 * p, 0.0) for e, p in ends.items()}
    burnt["Fe"] = at.iron_kg_t
    oxides = {"Fe2O3": ore_fe2o3}
    need = demand(burnt, co2_pct=at.co2_pct, purity_pct=at.purity_pct, oxides_kg=oxides)
    tap_t = works.vessel.tap_t
    minutes = blow_minutes(need.blown_nm3 * tap_t, at.flow_nm3_min)
    return Shown(at, need, burnt, charge_kg, minutes, tap_t)


def _demand(fig):
    title, place = "Who takes the oxygen", (0.17, 0.15, 0.4148, 0.74)
    label, numbers = "oxygen, Nm3 per t of steel", [0] * len(ELEMENTS) + [1]
    rows = Rows(fig, place, label, (0, 62), title, LABELS, numbers)

    def show(record):
        need = record.need
        rows.show([*(need.by_element_nm3[e] for e in ELEMENTS), need.from_oxides_nm3], "{:.1f}")

    return show


def _blow(fig):
    place = 0.6885, 0.15, 0.2765, 0.74
    labels = "blow, min", "oxygen blown, Nm3"
    ax = axes(fig, place, *labels, (0, 40), (0, 18000), "How long it takes")
    line, mark = style.line(ax, 0, [0, 0], [0, 0], marks=0), dot(ax, 1)
    text = style.figures(ax, 0, 0, "", va="top", fontsize=9.5)

    def show(record):
        minutes, total = record.minutes, record.need.blown_nm3 * record.tap_t
        limits = doubled(40.0, minutes), doubled(18000.0, total)
        line.set_data([0, minutes], [0, total])
        mark.set_data([minutes], [total])
        text.set_text(f"{minutes:.1f} min ")
        text.set_position((minutes, total * 0.93))
        text.set_ha("right" if minutes > 0.6 * limits[0] else "left")
        ax.set(xlim=(0, limits[0]), ylim=(0, limits[1]))
        return limits

    return show


setup, update = made_of(_demand, _blow)


def sentence(record):
    need = record.need
    return (
        f"The heat takes {need.blown_nm3:.1f} Nm3 of oxygen per t of steel, "
        f"{need.by_element_nm3['C']:.1f} of it for carbon; "
        f"for {record.tap_t:.0f} t that is {need.blown_nm3 * record.tap_t:.0f} Nm3, blown in "
        f"{record.minutes:.1f} min at {record.at.flow_nm3_min:.0f} Nm3/min."
    )


def numbers(record):
    need, named = record.need, list(zip(ELEMENTS, LABELS, strict=False))
    return [
        *((f"{label}: burnt", f"{record.burnt[e]:.2f}", "kg/t") for e, label in named),
        *((f"{label}: oxygen", f"{need.by_element_nm3[e]:.2f}", "Nm3/t") for e, label in named),
        *as_rows(f"""
        oxygen from ore | {need.from_oxides_nm3:.2f} | Nm3/t
        pure O2 to be blown | {need.pure_nm3:.2f} | Nm3/t
        oxygen blown | {need.blown_nm3:.2f} | Nm3/t
        CO + CO2 made | {need.gas.nm3["CO"] + need.gas.nm3["CO2"]:.1f} | Nm3/t
        metallic charge | {record.charge_kg:.0f} | kg/t
        """),
    ]


def alt(record):
    parts = ", ".join(
        f"{label} {record.need.by_element_nm3[e]:.1f}"
        for e, label in zip(ELEMENTS, LABELS, strict=False)
    )
    left = f"Left: bars of the oxygen each element takes, Nm3 per t of steel: {parts}."
    return f"{left} Right: oxygen blown against minutes, a straight line to the end of the blow."


def sources(record):
    return "gas_constant", "celsius_zero_k", "normal_pressure"
