"""Panel of lesson 13: can I tap? Decision chart of carbon and temperature with both corrections,
carbon by the oxygen probe, oxygen and FeO in practice.
"""

from collections import namedtuple

from ...base import kelvin, plus_minus, quietly, translated
from ...charge import coolants
from ...end_point import ELECTROLYTES, decide, read_probe, usual_slag_kg_t
from ...slag import practice
from ..common import as_rows
from . import picture
from .carbon_and_oxygen import (
    PPM,
    by_every_data,
    by_probe,
    choice_of_data,
    curve_ppm,
    oxidation,
)
from .picture import BAND_C, CARBONS

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 1080, 400
setup, update = picture.setup, picture.update
U_SAMPLE_PCT = 0.005  # of carbon
SAMPLE = "sample"
COOLANTS = (
    ("cold scrap", "scrap"),
    ("limestone", "limestone"),
    ("burnt lime", "lime"),
    ("iron ore, to FeO of the slag", "ore"),
)


def controls(works):
    end = works.end_point
    probes = ((f"the probe, {electrolyte}", electrolyte) for electrolyte in ELECTROLYTES)
    return {
        "temp_c": {"default": end.temp_c - 15.0},
        "carbon_from": {"choices": (("the sample", SAMPLE), *probes)},
        "carbon_pct": {"default": end.analysis_pct.get("C", 0.0) + 0.04},
        "p_pct": {"default": end.analysis_pct.get("P", 0.0)},
        "most_p_pct": {"default": round(1.25 * end.analysis_pct.get("P", 0.0), 3)},
        "coolant": {"choices": COOLANTS},
    }


Shown = namedtuple("Shown", "at decision cell carbon path u oxygen_ppm by_probe curve_ppm coolant")


def compute(works, at):
    """The decision, its path over the chart, and what the probe says of carbon."""
    sampled = at.carbon_from == SAMPLE
    cell = {name: getattr(at, name) for name in ("emf_mv", "temp_c", "p_co_atm", "u_temp_c")}
    cell["electrolyte"] = "zirconia" if sampled else at.carbon_from
    oxygen, found = by_probe(**cell, data=at.data)
    carbon, u_carbon = (at.carbon_pct, U_SAMPLE_PCT) if sampled else (found.value, found.u)
    decision = decide(
        at.temp_c,
        carbon,
        aim_temp_c=at.aim_temp_c,
        aim_carbon_pct=at.aim_carbon_pct,
        band_c=BAND_C,
        steel_t=works.vessel.tap_t,
        flow_nm3_min=works.oxygen.flow_nm3_min * works.oxygen.purity_pct / 100.0,
        coolant=at.coolant,
        u_temp_c=at.u_temp_c,
        u_carbon_pct=u_carbon,
        analysis_pct={"P": at.p_pct},
        limits_pct={"P": (0.0, at.most_p_pct)},
        slag_kg_t=usual_slag_kg_t(works),
    )
    path = [(carbon, at.temp_c)]
    if decision.oxygen_nm3.value > 0:
        path.append((decision.after.steel_pct["C"], decision.after.temp_c))
    path.append((decision.carbon_pct.value, decision.temp_c.value))
    return Shown(
        at,
        decision,
        cell,
        carbon,
        path,
        (u_carbon, at.u_temp_c),
        PPM * oxygen,
        found,
        curve_ppm(CARBONS, kelvin(at.temp_c), at.p_co_atm, at.data),
        translated(coolants()[at.coolant]["title"]),
    )


def sentence(record):
    d, c = record.decision, record.by_probe
    parts = []
    if d.oxygen_nm3.value > 0:
        parts.append(
            f"blow again: {d.oxygen_nm3} Nm3, "
            f"{d.minutes.value:.1f} min, "
            f"+{d.rise_c.value:.0f} °C, {d.iron_kg.value:.0f} kg iron burnt"
        )
    if d.coolant_kg.value > 0:
        parts.append(f"cool: {d.coolant_kg} kg {record.coolant.split(' (')[0]}")
    stays = _phosphorus(record)
    if not parts:
        fits = f"{record.at.temp_c:.0f} °C and {record.carbon:.3f} % C lie in the window"
        parts = [fits if stays else f"tap: {fits}"]
    said = "; then ".join(parts)
    after = f", to {d.temp_c.value:.0f} °C and {d.carbon_pct.value:.3f} % C"
    after = after if d.oxygen_nm3.value > 0 or d.coolant_kg.value > 0 else ""
    return (
        f"{said[0].upper()}{said[1:]}{after}. {stays}A tap now would meet all limits with a chance "
        f"of {d.chance_pct:.0f} %. "
        f"The probe's oxygen, {record.oxygen_ppm:.0f} ppm{_by_other(record.cell)}, means {c} % C."
    )


def _phosphorus(record):
    """What no second blow mends: phosphorus that stays above its limit."""
    d, most = record.decision, record.at.most_p_pct
    left = d.after.steel_pct["P"] if d.oxygen_nm3.value > 0 else record.at.p_pct
    if left <= most * 1.0001:  # blown to the limit itself
        return ""
    return (
        f"Phosphorus stays at {left:.4f} %, above the {most:.3f} % allowed: no second blow takes "
        "it there; new slag, or another grade. "
    )


def moved(record):
    """What other data of carbon and oxygen move."""
    d = record.decision
    return as_rows(f"""
        oxygen by the probe | {record.oxygen_ppm:.0f} ppm
        carbon by the probe | {record.by_probe.value:.4f} %
        second blow | {d.oxygen_nm3.value:.0f} Nm3
        coolant | {d.coolant_kg.value:.0f} kg
    """)


def numbers(record):
    d = record.decision
    with quietly():  # of the table; what the picture shows has warned
        found, oxidised = by_every_data(record.cell), oxidation(record)
    return [
        *((reason, "", "") for reason in d.reasons),
        (
            "carbon decided by",
            plus_minus(record.carbon, record.u[0]),
            "%",
            "sample" if record.at.carbon_from == SAMPLE else f"probe, {record.at.carbon_from}",
        ),
        *as_rows(f"""
        oxygen of a second blow (as O2) | {d.oxygen_nm3} | Nm3
        minutes of a second blow | {d.minutes} | min
        """),
        (
            "rise by a second blow",
            f"{d.rise_c}",
            "°C",
            "steel alone; a vessel rises a tenth less",
        ),
        *as_rows(f"""
        iron burnt | {d.iron_kg} | kg
        {record.coolant} | {d.coolant_kg} | kg | dry only
        temperature after it | {d.temp_c} | °C
        carbon after it | {d.carbon_pct} | %
        phosphorus after it | {d.after.steel_pct["P"]:.4f} | %
        oxygen of the steel after it | {PPM * d.after.steel_pct["O"]:.0f} | ppm | by the law
        """),
        ("iron oxides of the slag after it", *_iron_oxides(d.after.slag_kg_t)),
        (
            "activity of oxygen by the probe",
            f"{record.oxygen_ppm:.0f}",
            "ppm",
            _reading(record.cell).rests_on,
        ),
        *_other_zirconia(record.cell),
        *((f"carbon by the probe, {text}", f"{c}", "%") for text, c in found),
        ("uncertainty of the sample, taken as", f"{U_SAMPLE_PCT:g}", "%", "a plant value"),
        *oxidised,
    ]


def _by_other(cell):
    """The same in brackets, in words."""
    return "".join(f" ({ppm} by the other zirconia)" for _, ppm, *_ in _other_zirconia(cell))


def _reading(cell):
    """The voltage read by the laws of its electrolyte."""
    with quietly():  # compute() has said it
        return read_probe(cell["emf_mv"], kelvin(cell["temp_c"]), cell["electrolyte"])


def _other_zirconia(cell):
    """The same emf by the other law of zirconia: the gap of the two is the error of the probe."""
    read = _reading(cell)
    if read.other_ppm is None:
        return []
    told = (f"the same emf by {read.other}", f"{read.other_ppm:.0f}", "ppm")
    return [(*told, "the gap is the probe's error")]


def _iron_oxides(slag_kg_t):
    per_pct = 100.0 / sum(slag_kg_t.values())
    feo, fe2o3 = (slag_kg_t[o] * per_pct for o in ("FeO", "Fe2O3"))
    return f"{feo:.1f} + {fe2o3:.1f}", "%", "FeO and Fe2O3, by the law"


def alt(record):
    d, aim_c, aim_t = record.decision, record.at.aim_carbon_pct, record.at.aim_temp_c
    return (
        "Left: a chart of carbon and temperature with the tapping window, carbon up to "
        f"{aim_c:g} % and {aim_t - BAND_C:.0f} to {aim_t + BAND_C:.0f} °C; the steel measured at "
        f"{record.carbon:.3f} % and {record.at.temp_c:.0f} °C with an "
        "ellipse of one standard uncertainty, and the path of a second blow (dashed) and of a "
        "coolant (dotted) to "
        f"{d.carbon_pct.value:.3f} % and {d.temp_c.value:.0f} °C. Right: oxygen against carbon in "
        "equilibrium with CO, falling, and the probe's "
        f"{record.oxygen_ppm:.0f} ppm as a level line that meets it at {record.by_probe.value:.3f} "
        "% carbon; dashed, less steep, oxygen in practice, not verified."
    )


def sources(record):
    return (
        "equilibrium C-O",
        "coefficient set jsps",
        "coefficient set msts",
        "electronic_zirconia_a",
        "electronic_hafnia_a",
        "Cr2O3",
        *(f"coolant {key}" for _, key in COOLANTS),
        *practice(),
        "FetO",
        "FetO-MgO",
    )


def data():
    return choice_of_data()
