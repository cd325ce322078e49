"""Panel of lesson 14: how do I get the steel to its analysis? Each element in its window, and the
temperature from tap to tundish above the liquidus.
"""

from collections import namedtuple
from functools import lru_cache, partial

import numpy as np

from ... import charge, ladle
from ...base import constant, kelvin, quietly, say, translated
from ...coursekit.panel import OWN, data_choice
from ...ladle import (
    alloy,
    carbon_equivalent,
    carry_over,
    equations,
    equilibrium_ppm,
    mixing_times,
    silicon_beside_slag,
    specification,
    tap_path,
    with_oxygen,
)
from ...streams import LiquidMetal
from ...thermo import equilibrium_oxygen
from ...works import plant_value, works_facts
from ..common import by_the_set
from . import cut_open
from .cut_open import ARGON_NM3_MIN
from .picture import OFF, OVER, RECOVERED, RIGHT, ROWS, STEPS, drawing_of

TITLE = "{question} ({works.name}, {works.vessel.tap_t:.0f} t)"
SIZE_PX = 1080, 390
# Grades offered: standard, grade, thickness in mm, and aims of the invented works in mass %: a
# standard gives upper limits, the works where to aim.
GRADES = {
    "S355J2": (
        ("EN 10025-2", "S355J2", None, 20.0),
        {"C": (0.15, 0.18), "Si": (0.20, 0.40), "Mn": (1.40, 1.55), "Al": (0.025, 0.050)},
    ),
    "S235J2": (
        ("EN 10025-2", "S235J2", None, 20.0),
        {"C": (0.10, 0.14), "Si": (0.10, 0.25), "Mn": (0.50, 0.80), "Al": (0.020, 0.050)},
    ),
    "A36": (
        ("ASTM A36", "A36", "plate", 15.0),
        {"C": (0.14, 0.20), "Si": (0.15, 0.35), "Mn": (0.80, 1.10), "Al": (0.020, 0.050)},
    ),
    "DC04": (
        ("EN 10130", "DC04", None, None),
        {"C": (0.03, 0.06), "Si": (0.0, 0.03), "Mn": (0.15, 0.30), "Al": (0.030, 0.060)},
    ),
}
ADDED = {
    "aluminium": "al_kg_t",
    "silicomanganese": "simn_kg_t",
    "ferromanganese": "femn_kg_t",
    "carburiser": "carburiser_kg_t",
}
# Other published constants of deoxidation: their source, text shown, which constant (the line is
# named as the source)
OTHERS = {
    "qa_al": ("aluminium with oxygen by another constant", "Al-O"),
    "suzuki70": ("silicon with oxygen as measured in silica crucibles", "Si-O"),
    "svarka": ("silicon with oxygen by a course text", "Si-O"),
    "tth63": ("manganese with oxygen, solid MnO", "Mn-O"),
}
RECOVERY = (
    ("a usual value", "start"),
    ("the lowest usual value", "low"),
    ("the highest usual value", "high"),
    ("of aluminium that of your works, set below", "own"),
)


FACTS = "carry-over", "stirring", "nitrogen", "end of tap", "tap targets"
KILLED_AL_PCT = 0.01  # of aluminium: with less, silicon and manganese set the oxygen


def given(works):
    """The works, its usual heat, and treat() of it, remembered where only the rest moves."""
    heat = charge.solve(works).for_tap(works.vessel.tap_t)
    return works, heat, lru_cache(64)(partial(treat, heat))


def controls(given):
    carried = plant_value("carry_over_dart_kg_t").start
    return {
        "grade": {"choices": GRADES},
        "slag_kg_t": {"default": carried},
        "recovery": {"choices": RECOVERY},
        "recovery_al_pct": {"used": lambda settings: settings["recovery"] == "own"},
    }


def drawing(given):
    """setup and update of the picture of a works."""
    return drawing_of(given[1])


def recovery_pct(at):
    """Recovery of each element, %, where the controls stand."""
    where = "start" if at.recovery == "own" else at.recovery
    found = {e: getattr(plant_value(f"recovery_{e.lower()}_pct"), where) for e in RECOVERED}
    return found | ({"Al": at.recovery_al_pct} if at.recovery == "own" else {})


def treat(heat, at):
    """The ladle after tapping and additions (kg per t)."""
    end = heat.steel
    steel = LiquidMetal(end.mass_kg, end.analysis_pct, at.tap_c, end.coefficients)
    kg = (getattr(at, control) * steel.mass_kg / 1000.0 for control in ADDED.values())
    return ladle.treat(
        with_oxygen(steel, at.oxygen_ppm),
        {alloy: x for alloy, x in zip(ADDED, kg, strict=True) if x > 0},
        slag=carry_over(heat.slag, steel.mass_kg, at.slag_kg_t),
        recovery_pct=recovery_pct(at),
        loss_c=plant_value("tap_drop_c").start,
        lines=None if at.data == OWN else {OTHERS[at.data][1]: at.data},
    )


Shown = namedtuple("Shown", "at heat stage steel pct ordered path temps check rows")


def compute(given, at):
    """The steel in the ladle against its grade, and its way to the tundish."""
    _, heat, treated = given
    stage = treated(at._replace(grade=None, wait_min=None))
    (standard, name, product, thickness), aims = GRADES[at.grade]
    say(stage.bath.beyond, "deoxidation of the steel")
    steel, pct = stage.steel, dict.fromkeys(RECOVERED, 0.0) | stage.steel.analysis_pct
    ordered = specification(standard, name, product, thickness)
    change_c = stage.change_c + plant_value("tap_drop_c").start
    path = tap_path(steel.analysis_pct, at.tap_c, additions_c=change_c, hold_min=at.wait_min)
    changes = {step.name: step.change_c for step in path.steps}
    along = ("tapping", "alloys and deoxidation", "waiting", "ladle to tundish")
    return Shown(
        at,
        heat,
        stage,
        steel,
        pct,
        ordered,
        path,
        at.tap_c + np.cumsum([0.0, *(changes.get(step, 0.0) for step in along)]),
        ordered.check(pct),
        [_row(element, pct, ordered, aims) for element in ROWS],
    )


Row = namedtuple("Row", "element pct limit low high state side full")


def _row(element, analysis, ordered, aims):
    """Where an element stands: content, limit (None without one), window aimed at, and whether it
    is right.
    """
    pct = carbon_equivalent(analysis) if element == "CEV" else analysis[element]
    limit = ordered.high(element, analysis) if element in ordered.limits else None
    low, high = aims.get(element, (0.0, limit))
    state, side = RIGHT, ""
    if limit is not None and pct > limit + 1e-6:
        state, side = OVER, "over the limit"
    elif high is not None and not low - 1e-6 <= pct <= high + 1e-6:
        state, side = OFF, "low" if pct < low else "high"
    return Row(element, pct, limit, low, high, state, side, full=limit or high)


def sentence(record):
    pct, path = record.pct, record.path
    off = [f"{r.element} is {r.side}" for r in record.rows if r.state == OFF]
    aims = (
        f"Outside the works' aims: {', '.join(off)}."
        if off
        else "All aims of the works are met too."
    )
    heat = f"{path.superheat_c:.0f} °C above its liquidus of {path.liquidus_c:.0f} °C"
    if path.freezes:
        heat = f"at or below its liquidus of {path.liquidus_c:.0f} °C: it freezes there"
    told = (r for r in record.stage.remarks if r not in record.stage.bath.beyond)
    remarks = "".join(f" {r[0].upper()}{r[1:]}." for r in told)
    return (
        f"{', '.join(f'{pct[e]:.3f} % {e}' for e in RECOVERED)}, {1e4 * pct['O']:.0f} ppm "
        "dissolved oxygen. "
        f"{record.check.words} {aims} After {record.at.wait_min:.0f} min it comes to the tundish "
        f"with {record.temps[-1]:.0f} °C, {heat}.{remarks}"
    )


def numbers(record):
    stage, path = record.stage, record.path
    rows = [
        (f"{e} in the steel", f"{p:.4f}", "%", "")
        for e, p in record.steel.analysis_pct.items()
        if e not in ("Fe", "O") and p > 0
    ]
    rows += [
        (
            "dissolved oxygen",
            f"{1e4 * record.steel.analysis_pct['O']:.1f}",
            "ppm",
            "at equilibrium with what forms",
        ),
        (
            "carbon equivalent",
            f"{carbon_equivalent(record.steel.analysis_pct):.3f}",
            "%",
            "C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15",
        ),
        ("inclusions", stage.bath.words, "", "at equilibrium, pure oxides and manganese silicate"),
        *((told, "", "") for told in (stage.bath.rests_on, path.rests_on) if told),
        *_by_itoh(record),
        *_slags(record),
        (
            "effect of additions and deoxidation",
            f"{record.temps[2] - record.temps[1]:+.1f}",
            "°C",
            "calculated",
        ),
        *(
            (f"{step.name}: change", f"{step.change_c:+.1f}", "°C", step.status)
            for step in path.steps
        ),
        ("temperature in the tundish", f"{record.temps[-1]:.0f}", "°C", ""),
        (
            "above the liquidus",
            f"{path.superheat_c:.0f}",
            "°C",
            f"usual aim {plant_value('superheat_c').start:g} °C, an illustration",
        ),
    ]
    rows += [
        (plant_value(f"recovery_{e.lower()}_pct").what, f"{x:.0f}", "%", "plant value")
        for e, x in recovery_pct(record.at).items()
    ]
    return rows + _stirred(record)


def _by_itoh(record):
    """Oxygen beside the aluminium of the steel by the kit's set and by that of Itoh: a band."""
    aluminium = record.steel.analysis_pct.get("Al", 0.0)
    if not 0.0 < aluminium <= 1.0:
        return []
    with quietly():
        T = kelvin(max(record.temps[3], 1560.0))
        ours, theirs = (
            1e4 * equilibrium_oxygen({"Al": aluminium}, T, coefficients=name).o_pct
            for name in ("jsps", "itoh97")
        )
    note = "two published sets; measured steels lie between and above"
    return [("oxygen beside this aluminium", f"{ours:.1f} to {theirs:.1f}", "ppm", note)]


def _slags(record):
    """What the slag carried over does to the steel, and the silicon that goes with a ladle's."""
    carried = "the slag carried over"
    rows = by_the_set(record.heat.slag.oxides_kg, record.at.tap_c, ("SiO2",), carried)
    if record.pct["Al"] < KILLED_AL_PCT:
        return rows  # the oxygen is not that of aluminium: no such balance
    silica, bath, T = constant("ladle_silica_activity"), record.stage.bath, kelvin(record.temps[2])
    low, high = (
        silicon_beside_slag(silica[end], bath.oxygen_activity, T, record.steel.analysis_pct)
        for end in ("low", "high")
    )
    note = (
        f"at a silica activity of {silica['low']:.5f} to {silica['high']:.5f}, as measured in "
        "ladle slags (Kang 2007, second-hand, a factor of 2); below it silicon is taken up"
    )
    told = f"{low:.2g} to {high:.2g}", "%", note
    return [*rows, ("silicon in balance with a killed ladle's slag", *told)]


def _stirred(record):
    """Stirring and degassing of this ladle, taken as deep as it is wide."""
    steel_t, vacuum = record.steel.mass_kg / 1000.0, plant_value("vacuum_pa").start
    hot = cut_open.hot_c(record)
    depth = (4.0 * cut_open.steel_m3(record.steel, hot) / np.pi) ** (1.0 / 3.0)
    stirred = (ARGON_NM3_MIN, steel_t, depth)
    rows = [
        (
            f"stirring by {ARGON_NM3_MIN:g} Nm3/min argon",
            f"{cut_open.stirring_w_t(record):.0f}",
            "W/t",
            f"{depth:.1f} m deep and wide",
        ),
        (
            "the same under vacuum",
            f"{cut_open.stirring_w_t(record, vacuum):.0f}",
            "W/t",
            f"{vacuum:g} Pa over the steel",
        ),
    ]
    with quietly():  # each has its own range, which the note says
        times = mixing_times(*stirred, depth, hot)
    for key, found in times.items():
        note = "not verified" if found.status == "memory" else "water models, far from their size"
        rows.append((f"mixing time, {key}", f"{found.seconds:.0f}", "s", note))
    for element in ("H", "N"):
        ppm = equilibrium_ppm(element, vacuum, hot, record.steel.analysis_pct)
        said = f"{element} at equilibrium with pure {element}2 of {vacuum:g} Pa"
        rows.append((said, f"{ppm:.1f}", "ppm", "Sieverts; upper bound"))
    return rows


def alt(record):
    left = ", ".join(f"{r.element} {r.pct:.3f} % {r.side}".strip() for r in record.rows)
    steps = ", ".join(
        f"{translated(name).replace(chr(10), chr(32))} {temp:.0f}"
        for name, temp in zip(STEPS, record.temps, strict=True)
    )
    return (
        "Left: a mark for each element against its window and the limit of "
        f"{record.ordered.grade}: {left}. Right: temperature by steps: "
        f"{steps} °C, and the liquidus as a line. " + cut_open.alt(record)
    )


def moved(record):
    """What other data of deoxidation move."""
    pct = record.pct
    return [
        ("dissolved oxygen", f"{1e4 * record.stage.bath.oxygen_pct:.1f} ppm"),
        *(
            (name, f"{pct[e]:.4f} %")
            for name, e in (("aluminium", "Al"), ("silicon", "Si"), ("manganese", "Mn"))
        ),
        ("temperature in the ladle", f"{record.steel.temp_c:.1f} °C"),
    ]


def closure(record):
    errors = record.stage.closure()
    return [
        ("Mass of every element", max(abs(e) for name, e in errors.items() if name != "heat")),
        ("Heat", errors["heat"]),
    ]


def sources(record):
    plant = ("tap_drop_c", "hold_c_min", "tundish_c", "slag_reduced_pct", "burn_heat_pct")
    return (
        *(specification(*where) for where, _ in GRADES.values()),
        record.heat,
        *(alloy(key) for key in ADDED),
        *(f"recovery_{e.lower()}_pct" for e in RECOVERED),
        *plant,
        "liquidus steel 1",
        "manganese silicate",
        *equations(),
        *map(works_facts, FACTS),
    )


def data():
    others = ((text, key) for key, (text, _) in OTHERS.items())
    return data_choice(others, "published constants of deoxidation that differ")
