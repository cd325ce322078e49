"""Panel of lesson 04: how much oxygen, and how long is the blow? Demand by element, for one tonne
of steel and for the heat.
"""

from collections import namedtuple

import numpy as np

from ...base import mass_fractions, mol_to_nm3, molar_mass
from ...charge import CARBON_PCT, blow_minutes, burnt_kg_t, demand, iron_ledger, law_of, solve
from ...coursekit.panel import style
from ...streams import material
from ..common import as_rows, hot_metal_pct
from ..pictures import Rows, axes, dot, doubled, made_of

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 1080, 370
ELEMENTS = ("C", "Si", "Mn", "P", "Fe")
LABELS = ("carbon", "silicon", "manganese", "phosphorus", "iron to slag, dust", "from ore (saved)")
IRON = (
    ("by the law at the end of a blow", "law"),
    ("your own choice, set below", "own"),
)


Shown = namedtuple("Shown", "at need burnt charge_kg minutes tap_t law")


def given(works):
    """The works and its usual heat, per t of steel."""
    return works, solve(works).for_tap(1.0)


def controls(given):
    return {
        "iron": {"choices": IRON},
        "iron_kg_t": {"used": lambda settings: settings["iron"] == "own"},
    }


def _iron_kg_t(heat, law):
    """Iron that burns, kg/t: that of the usual heat, and more or less of it in the slag where its
    iron oxides are those of the law.
    """
    pct = {"FeO": law.feo_pct, "Fe2O3": law.fe2o3_pct}
    kg = {o: heat.slag.oxides_kg[o] for o in pct}
    whole_kg = (heat.slag.mass_kg - sum(kg.values())) / (1.0 - sum(pct.values()) / 100.0)
    more = (mass_fractions(o)["Fe"] * (whole_kg * pct[o] / 100.0 - kg[o]) for o in pct)
    return burnt_kg_t(heat)["Fe"] + sum(more)


def compute(given, at):
    """Demand for one tonne of steel; the metallic charge is found from the iron that has to be
    there.
    """
    works, heat = given
    law = law_of(heat, float(np.clip(at.end_c_pct, *CARBON_PCT)))
    iron_kg_t = at.iron_kg_t if at.iron == "own" else _iron_kg_t(heat, law)
    hot, end = hot_metal_pct(works, at), works.end_point.analysis_pct
    scrap, ore = material("heavy_scrap", works), material("ore", works)
    share = at.share_pct / 100.0
    pct = {e: share * p + (1 - share) * scrap.pct(e) for e, p in hot.items()}  # no silica of dirt
    iron = share * (100.0 - sum(hot.values())) + (1 - share) * scrap.pct("Fe")
    ore_fe2o3 = at.ore_kg_t * ore.pct("Fe2O3") / 100.0
    ends = {"C": at.end_c_pct, "Si": 0.0} | {e: min(end[e], pct[e]) for e in ("Mn", "P")}
    steel_iron = 10.0 * (100.0 - sum(ends.values()))
    from_ore = ore_fe2o3 * mass_fractions("Fe2O3")["Fe"]
    out = iron_ledger(heat)[1]
    as_metal = out["ejected"] + out["beads"] + out["skull"]
    charge_kg = (steel_iron + iron_kg_t + as_metal - from_ore) / iron * 100.0
    burnt = {e: max(charge_kg * pct[e] / 100.0 - 10.0 * p, 0.0) for e, p in ends.items()}
    burnt["Fe"] = iron_kg_t
    oxides = {"Fe2O3": ore_fe2o3}
    need = demand(burnt, co2_pct=at.co2_pct, purity_pct=at.purity_pct, oxides_kg=oxides)
    tap_t = works.vessel.tap_t
    minutes = blow_minutes(need.blown_nm3 * tap_t, at.flow_nm3_min)
    return Shown(at, need, burnt, charge_kg, minutes, tap_t, law)


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
        f"{record.minutes:.1f} min at {record.at.flow_nm3_min:.0f} Nm3/min. With "
        f"{record.at.end_c_pct:g} % C the slag of the usual heat holds {record.law.feo_pct:.0f} % "
        f"FeO by the law; {record.burnt['Fe']:.1f} kg/t of iron burn here."
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
        *_by_law(record.law),
    ]


def _by_law(law):
    """Rows on slag and steel of the usual heat at this carbon."""
    iron = {o: mass_fractions(o)["Fe"] for o in ("FeO", "Fe2O3")}
    ferric = law.fe2o3_pct * iron["Fe2O3"]
    ferric /= ferric + law.feo_pct * iron["FeO"]
    kept_nm3 = mol_to_nm3(1e4 * law.oxygen_pct / molar_mass("O2"))
    tested = "set of 1993, tested for 0.03 to 0.75"
    return [
        ("FeO of the usual slag at this carbon", f"{law.feo_pct:.1f}", "%", "the law"),
        ("activity of its iron oxide", f"{law.feto_activity:.2f}", "", tested),
        ("Fe3+ over all its iron", f"{100.0 * ferric:.0f}", "%", "set of 1993, beside liquid iron"),
        ("oxygen dissolved in the steel", f"{law.oxygen_pct:.3f}", "%", "the law"),
        ("the same, not counted here", f"{kept_nm3:.2f}", "Nm3/t", ""),
    ]


def alt(record):
    parts = ", ".join(
        f"{label} {record.need.by_element_nm3[e]:.1f}"
        for e, label in zip(ELEMENTS, LABELS, strict=False)
    )
    left = f"Left: bars of the oxygen each element takes, Nm3 per t of steel: {parts}."
    return f"{left} Right: oxygen blown against minutes, a straight line to the end of the blow."


def sources(record):
    return "gas_constant", "celsius_zero_k", "normal_pressure", record.law
