"""Everything in the kit that rests on memory or on common practice, with the size of its effect
where it enters the balance of a heat or its blow.
"""

import warnings
from dataclasses import dataclass

from ..base import Record, kelvin, registry, row_names, row_provenance, rows
from ..blow import band as blow_band
from ..charge import solve
from ..slag import (
    DEFAULTS,
    end_of_blow_parameters,
    end_point_iron_oxide_pct,
    end_point_oxygen_ppm,
)
from ..thermo import heat_content, oxygen_with_carbon
from ..works import Profile, inputs, load_profile, plan_limits, plan_values
from .disagreement import content_by_equation, differences, end_heat_capacity_kj_c
from .rests_on import main_results, rests_on
from .uncertainty import effects as effects_of_spreads

_WORDS = ("what", "title", "help", "fact", "says", "hazard", "quantity")
_NUMBERS = (
    "value",
    "start",
    "spread",
    "uncertainty",
    "value_c",
    "weight",
    "factor",
    "other",
    "a_k",
)


@dataclass(frozen=True, repr=False)
class Unverified(Record):
    """One row that was not read anywhere. table; name: its key; what: in words; value (None where a
    row holds several); unit; status: 'memory' or 'common practice'; feeds: what it is used for;
    effect: its size in words, 'none known' where it was not worked out; size_c: effect on the end
    temperature, degC, or None; weight: its largest effect over what that result is uncertain by;
    provenance.
    """

    table: str
    name: str
    what: str
    value: float | None
    unit: str
    status: str
    feeds: str
    effect: str
    size_c: float | None
    weight: float
    provenance: tuple


def _in_words(table, name, row, kind):
    """What a row is: its own words, else its short name, else its kind and its key."""
    for column in _WORDS:
        if row.get(column) not in (None, "none", name):
            return str(row[column])
    short = row_names()
    for known in (name, name.rpartition(" ")[0]):
        if (table, known) in short:
            return short[table, known]
    return f"{kind}: {name.replace('_', ' ')}"


def _steps_of_works(works):
    """(row of the profile schema) -> (words, degC) for every figure of the profile that enters the
    heat balance: a step in it, the masses charged kept.
    """
    base = solve(works)
    values = plan_values(works)
    oxides = {f"{o.lower()}_pct": base.slag.analysis_pct[o] for o in ("FeO", "Fe2O3")}
    oxygen = {"O": base.steel.analysis_pct.get("O", 0.0)}
    kept = {"find": "temperature", "scrap_kg": base.scrap.mass_kg}
    kept |= oxides | {"end_pct": values["end_pct"] | oxygen}
    values |= oxides
    for name, row in plan_limits().items():
        step = row["step"]
        if step == "none":  # what the heat aims at
            continue
        moved = solve(works, **kept | {name: values[name] + step}).temp_c - base.temp_c
        yield (
            (row["section"], row["key"]),
            (
                f"{step:g} more: {moved:+.1f} °C at the end (same scrap; lime and oxygen follow)",
                moved,
            ),
        )
    oxygen = dict(works.oxygen_pct)
    step = 0.5 if oxygen["O2"] >= 0.5 else 0.0
    oxygen = {"O2": oxygen["O2"] - step, "Ar": oxygen["Ar"], "N2": oxygen["N2"] + step}
    moved = solve(works, **kept, oxygen_pct=oxygen).temp_c - base.temp_c
    yield ("oxygen", "purity_pct"), (f"{step:g} % less: {moved:+.1f} °C at the end", moved)
    scrap = base.scrap.mass_kg * (1.0 + 0.01 * 100.0 / works.hot_metal.share_pct)
    moved = solve(works, find="temperature", scrap_kg=scrap).temp_c - base.temp_c
    yield (
        ("hot_metal", "share_pct"),
        (f"scrap up by 1 % of the charge: {moved:+.1f} °C at the end", moved),
    )


def _effects(works):
    """{(table, name): (words, degC or None)} of what enters the balance or the blow."""
    base = solve(works)
    out = {}
    for key, e in effects_of_spreads(works).items():
        i = inputs()[key]
        words = (
            f"{i.start:g} {i.unit}: {e.temp_c:+.1f} °C, {e.carbon_pct:+.4f} % C at the end "
            "(as weighed, oxygen as planned)"
        )
        out["uncertainties", key] = (words, e.temp_c)
    out |= {
        ("profile_schema", f"{section} {key}"): effect
        for (section, key), effect in _steps_of_works(works)
    }
    phosphate = base.slag.compounds_mol().get("Ca3(PO4)2", 0.0)
    tenth = (
        -0.1
        * phosphate
        * heat_content("Ca3(PO4)2", kelvin(base.temp_c), quiet=True)
        / 1e6
        / (end_heat_capacity_kj_c(base) / 1000.0)
    )
    for table, name in (
        ("phases", "Ca3(PO4)2 beta"),
        ("phases", "Ca3(PO4)2 alpha"),
        ("supplement_published", "Ca3(PO4)2 Ca3(PO4)2(b)"),
    ):
        out[table, name] = (f"heat content 10 % higher: {tenth:+.2f} °C at the end", tenth)
    out["supplement_published", "Ca3(PO4)2 Ca3(PO4)2(a)"] = out["phases", "Ca3(PO4)2 alpha"]
    for d in differences(works):
        if d.acts_on == "liquidus":
            formula = d.key.partition("_")[2]
            for row in rows("liquidus"):
                if row["formula"] == formula:
                    words = (
                        "this formula for the kit's own: freezing point of the steel "
                        f"{d.difference:+.1f} °C"
                    )
                    out["liquidus", f"{formula} {row['term']}"] = (words, None)
    ours = content_by_equation(base)[DEFAULTS["P"]]
    for key, pct in {**content_by_equation(base), **content_by_equation(base, "Mn")}.items():
        element = next(r["element"] for r in rows("slag_partitions") if r["key"] == key)
        own = ours if element == "P" else content_by_equation(base, "Mn")[DEFAULTS["Mn"]]
        out["slag_partitions", key] = (
            f"{element} at equilibrium {pct:.4f} % against {own:.4f} % by the default",
            None,
        )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        out |= {
            ("end_point_practice", key): (words, None)
            for key, words in _practice_beside(base).items()
        }
        runs = blow_band(base.for_tap(works.vessel.tap_t), works, step_min=0.5)
    temperature, carbon = runs.effects("temperature"), runs.effects("C")
    for key, (low, high) in temperature.items():
        words = (
            f"ends of its band: {low:+.1f} and {high:+.1f} °C, {carbon[key][0]:+.3f} and "
            f"{carbon[key][1]:+.3f} % C at the end of the blow"
        )
        table = "end_of_blow" if key in end_of_blow_parameters() else "blow_parameters"
        out[table, key] = (words, max((low, high), key=abs))
    return out


def _practice_beside(charge):
    """Relations from memory at the carbon of a heat beside what the kit uses, in words; they enter
    no sum.
    """
    c = charge.steel.analysis_pct["C"]
    oxygen, feo = (
        1e4 * oxygen_with_carbon(c, kelvin(charge.temp_c)),
        charge.slag.analysis_pct["FeO"],
    )
    return {
        "end_point_oxygen": (
            f"with {c:g} % C {end_point_oxygen_ppm(c):.0f} ppm O against "
            f"{oxygen:.0f} at equilibrium with 1 atm CO; enters no other sum"
        ),
        "end_point_iron_oxide": (
            f"with {c:g} % C {end_point_iron_oxide_pct(c):.1f} % FeO against "
            f"{feo:.1f} % in the plan; enters no other sum"
        ),
    }


def unverified(works: Profile | None = None) -> tuple:
    """Every row of every table that rests on memory or common practice, those with the largest
    effect first: against what the result that they move is uncertain by anyway.

    The effects are those of the works' planned heat: of a step in each works value at the same
    scrap with lime, dolomite and oxygen to their aims, of other data where the balance uses
    those not verified, of the ends of the band for parameters of the blow; for all others those of
    rests_on(), on the main result that they move most.

    Parameters
    ----------
    works : None: the one load_profile() finds

    Returns
    -------
    of Unverified

    Examples
    --------
    >>> row = next(r for r in unverified() if r.table == "slag_models")
    >>> row.what, row.value, row.unit
    ('slag model: molar volume P2O5 0', 65.7, 'cm3/mol')
    """
    effects = _effects(works or load_profile())
    most = {}
    for move in (m for key in reversed(main_results()) for m in rests_on(key).moves):
        if move.size >= getattr(most.get((move.table, move.row)), "size", 0.0):
            most[move.table, move.row] = move
    out = []
    for table, told in registry().items():
        for row in rows(table) if table != "what_moves" else ():
            if row.get("status") in ("memory", "common practice"):
                columns = told["key"].split()
                name = " ".join(str(row[c]) for c in columns if row[c] not in (None, "none"))
                words, size = effects.get((table, name), ("none known", None))
                weight, move = (
                    abs(size or 0.0) / main_results()["end_temp_c"][2],
                    most.get((table, name)),
                )
                if move:
                    weight = max(weight, move.size)
                    words = move.told if words == "none known" else f"{words}; {move.told}"
                text = _in_words(table, name, row, told["row"])
                number = next((row[c] for c in _NUMBERS if isinstance(row.get(c), float)), None)
                source = (row_provenance(row, f"{name} ({table})"),)
                out.append(
                    Unverified(
                        table,
                        name,
                        text,
                        number,
                        str(row.get("unit", "none")),
                        row["status"],
                        told["feeds"],
                        words,
                        size,
                        weight,
                        source,
                    )
                )
    return tuple(sorted(out, key=lambda r: (-r.weight, r.effect == "none known")))
