"""Panel of lesson 07: where do phosphorus, sulphur and manganese go? Phosphorus left against
temperature and against FeO, with the spread of the equations.
"""

from collections import namedtuple

import numpy as np

from ... import charge
from ...base import constant, kelvin, mass_fractions, quietly
from ...coursekit.answers import number_text
from ...coursekit.panel import OWN, data_choice
from ...slag import (
    equations,
    equilibrium,
    metal_pct_after,
    metal_pct_by,
    partition,
    phosphorus_reversion,
    property_facts,
    slag_solution,
    spread,
    sulphur_partition,
)
from ...streams import Slag, to_pct
from ...thermo import oxygen_with_carbon
from ..common import as_rows, by_the_set
from . import picture, where
from .picture import FEO, HIGH_C, LINE, LOW_C, TEMPS, range_c

TITLE = "Where does the phosphorus go? ({works.name})"
SIZE_PX = 1080, 390
setup, update = picture.setup, picture.update
STEEP = "Healy"  # told of in the sentence: its temperature effect is twice that of the line
METAL_KG = 1000.0
HOTTER_C = 50.0
CARRIED_KG_T, OXYGEN_PCT = (
    5.0,
    0.04,
)  # of the numbers table: slag carried over; oxygen of the metal, usual at 0.05 % C
SCALES = ("pauling", "density", "recommended")


def given(works):
    """The works, its usual charge per t of steel, and oxygen along the temperature axis."""
    heat = charge.solve(works).for_tap(1.0)
    return works, heat, _oxygen(heat, TEMPS)


def controls(given):
    works, heat, _ = given
    p_kg_t = heat.slag.element_kg()["P"] + METAL_KG * heat.steel.analysis_pct["P"] / 100.0
    return {
        "temp_c": {"default": min(works.end_point.temp_c, range_c(LINE)[1])},
        "slag_kg_t": {"default": heat.slag.mass_kg},
        "p_kg_t": {"default": p_kg_t},
    }


def _made(heat, works, at, temp_c, feo_pct):
    """The Slag of such a heat, its phosphorus not yet in it: FeO, Fe2O3 and MgO in % of the whole,
    what the metal gave in kg, lime and silica the rest; lumps of lime left out.
    """
    usual_feo, usual_fe2o3 = charge.iron_oxides_of(works)
    ferric = usual_fe2o3 / usual_feo
    pct = {"FeO": feo_pct, "Fe2O3": feo_pct * ferric, "MgO": at.mgo_pct}
    kg = {o: heat.slag.oxides_kg[o] for o in ("MnO", "Al2O3", "Cr2O3") if o in heat.slag.oxides_kg}
    kg |= {o: at.slag_kg_t * p / 100.0 for o, p in pct.items()}
    rest = at.slag_kg_t - sum(kg.values()) - at.p_kg_t / mass_fractions("P2O5")["P"]
    silica = rest / (1.0 + at.basicity)
    dissolved = (rest - silica) * (1.0 - at.undissolved_pct / 100.0)
    return Slag(kg | {"CaO": dissolved, "SiO2": silica}, temp_c)


def _oxygen(heat, temp_c):
    """Oxygen of the metal, %, that goes with the carbon of the usual steel at 1 atm of CO, for the
    equation that asks for it.
    """
    return oxygen_with_carbon(heat.steel.analysis_pct["C"], kelvin(temp_c))


Shown = namedtuple(
    "Shown",
    "at works heat line here end tapped in_ladle left along_t along_feo along_all spread hotter "
    "met",
)


def compute(given, at):
    """Phosphorus left along the temperature axis, along the FeO axis and here; given: see given();
    at.data: the equation that is the line.
    """
    works, heat, oxygen = given
    line = LINE if at.data == OWN else at.data
    t = np.concatenate([TEMPS, np.full(FEO.size, at.temp_c), [at.temp_c]])
    feo = np.concatenate([np.full(TEMPS.size, at.feo_pct), FEO, [at.feo_pct]])
    here = _made(heat, works, at, at.temp_c, at.feo_pct)
    with quietly():  # along the axes it is drawn; for the temperature chosen it is told below
        # all in one go, which takes half the time; what those not verified say beyond TEMPS, where
        # the oxygen is not theirs, is not used
        by_all = metal_pct_by(
            _made(heat, works, at, t, feo),
            METAL_KG,
            at.p_kg_t,
            equations("P"),
            np.resize(oxygen, t.size),
        )
    read = {key: by_all[key] for key in equations("P", True)}
    end = equilibrium(
        here, METAL_KG, at.p_kg_t, line
    )  # warns where the temperature leaves what was measured
    tapped, in_ladle = _short_of(end, at)
    with quietly():
        both = kelvin(np.array([at.temp_c, at.temp_c + HOTTER_C]))
        by = {key: partition(end.slag.oxides_kg, both, key).value for key in (line, STEEP)}
    along = read[line], *spread(read)[:2]
    left = {key: float(values[-1]) for key, values in read.items()}
    return Shown(
        at,
        works,
        heat,
        line,
        here,
        end,
        tapped,
        in_ladle,
        left,
        [x[: TEMPS.size] for x in along],
        [x[TEMPS.size : -1] for x in along],
        {key: values[: TEMPS.size] for key, values in by_all.items()},
        spread(left),
        {key: values[0] / values[1] for key, values in by.items()},
        sum(p <= at.aim_pct for p in left.values()),
    )


def _short_of(end, at):
    """Phosphorus, %, at the end of a blow that went only part of the way, and in the killed ladle
    with the slag carried over, which gives all of it back.
    """
    brought = 100.0 * at.p_kg_t / METAL_KG
    tapped = end.metal_pct + (1.0 - at.approach_pct / 100.0) * (brought - end.metal_pct)
    slag_pct = (100.0 * at.p_kg_t - METAL_KG * tapped) / end.slag.mass_kg
    return tapped, metal_pct_after(METAL_KG, tapped, at.carried_kg_t, slag_pct, 0.0)


def _explained(record):
    """What lumps, the way gone and carry-over make of it, or nothing while there are none."""
    at = record.at
    if not at.undissolved_pct and not at.carried_kg_t and at.approach_pct == 100.0:
        return ""
    return (
        f" With {at.undissolved_pct:.0f} % of the lime as lumps and {at.approach_pct:.0f} % of the "
        f"way gone the heat is tapped at {number_text(record.tapped, 2)} % P; with "
        f"{at.carried_kg_t:g} kg/t of slag over, {number_text(record.in_ladle, 2)} % in the ladle."
    )


def sentence(record):
    low, high, factor = record.spread
    many = {0: "none of them meets", 1: "one of them meets", 5: "all five meet"}
    met = many.get(record.met, f"{record.met} of them meet")
    return (
        f"At {record.at.temp_c:.0f} °C {record.line} leaves "
        f"{number_text(record.left[record.line], 2)} % P; the five published equations "
        "say "
        f"{number_text(low, 2)} to {number_text(high, 2)} %, a factor of {factor:.1f}: {met} the "
        f"aim of {record.at.aim_pct:.3f} %. Fifty degrees more divide L_P "
        f"by {record.hotter[record.line]:.1f} after {record.line}, by {record.hotter[STEEP]:.1f} "
        f"after {STEEP} (not verified).{_explained(record)}"
    )


def moved(record):
    """What another equation moves."""
    pct = to_pct(record.end.slag.oxides_kg)
    return as_rows(f"""
        phosphorus left | {number_text(record.left[record.line], 2)} %
        L_P | {record.end.partition.value:.0f}
        P2O5 in the slag | {pct["P2O5"]:.2f} %
        {HOTTER_C:.0f} °C more divide L_P by | {record.hotter[record.line]:.2f}
    """)


def _status(status):
    return "not verified" if status == "memory" else status


def _of_equation(record, key):
    oxygen = _oxygen(record.heat, record.at.temp_c)
    found = equilibrium(record.here, METAL_KG, record.at.p_kg_t, key, oxygen)
    row = found.partition.row
    said = _status(row["status"])
    low, high = range_c(key)
    note = f"L_P {found.partition.value:.0f}; {said}, {low:.0f} to {high:.0f} °C"
    note = "; ".join((note, *found.partition.remarks))
    if row["quotient"] == "L_P/O^2.5":
        note += (
            f"; asks for the metal's oxygen: {1e4 * oxygen:.0f} ppm, as goes with "
            f"{record.heat.steel.analysis_pct['C']:g} % C at 1 atm CO"
        )
    return f"{key}: phosphorus left", number_text(found.metal_pct, 3), "%", note


def _manganese(record):
    total = (
        record.heat.slag.element_kg()["Mn"]
        + METAL_KG * record.heat.steel.analysis_pct["Mn"] / 100.0
    )
    found = {key: equilibrium(record.end.slag, METAL_KG, total, key) for key in equations("Mn")}
    return [
        (
            f"{key}: manganese left",
            f"{one.metal_pct:.3f}",
            "%",
            f"(Mn)/[Mn] {one.partition.value:.0f}; {_status(one.partition.row['status'])}",
        )
        for key, one in found.items()
    ]


def _sulphur(record):
    h, slag_kg = record.heat, record.end.slag.mass_kg
    total = h.slag.element_kg()["S"] + METAL_KG * h.steel.analysis_pct["S"] / 100.0
    plant_l = property_facts("sulphur")[0]
    found = [
        (
            f"sulphur left, L_S {at:g}",
            f"{metal_pct_after(METAL_KG, 100.0 * total / METAL_KG, slag_kg, 0.0, at):.4f}",
            "%",
            "plant range, not verified",
        )
        for at in (plant_l["low"], plant_l["high"])
    ]
    formula = _status(constant("sulphide_capacity_a")["status"])
    for scale in SCALES:
        value = sulphur_partition(
            record.end.slag.oxides_kg, kelvin(record.at.temp_c), OXYGEN_PCT, scale
        )
        found.append(
            (
                f"L_S by optical basicity, scale {scale}",
                f"{value:.2g}",
                "",
                f"{OXYGEN_PCT:g} % O; {formula}; fails on slag rich in FeO",
            )
        )
    return found


def numbers(record):
    pct = to_pct(record.end.slag.oxides_kg)
    carried = record.end.slag.oxides_kg
    back = Slag(
        {o: kg * CARRIED_KG_T / record.end.slag.mass_kg for o, kg in carried.items()},
        record.at.temp_c,
    )
    rise = phosphorus_reversion(METAL_KG, record.end.metal_pct, back) - record.end.metal_pct
    with quietly():  # said in the notes of the rows
        found = (
            [_of_equation(record, key) for key in equations("P")]
            + _manganese(record)
            + _sulphur(record)
        )
    return [
        *found,
        *by_the_set(carried, record.at.temp_c, ("MnO",)),
        ("phosphorus at tap, part of the way", number_text(record.tapped, 3), "%"),
        ("phosphorus in the killed ladle", number_text(record.in_ladle, 3), "%"),
        (
            f"phosphorus given back by {CARRIED_KG_T:g} kg/t of this slag in a killed ladle",
            f"{1e4 * rise:.0f}",
            "ppm",
        ),
        ("total iron of the slag", f"{record.end.slag.iron_total_pct:.1f}", "%"),
        *(
            (f"{oxide} in the slag, by {record.line}", f"{pct[oxide]:.1f}", "%")
            for oxide in ("CaO", "SiO2", "MgO", "FeO", "Fe2O3", "MnO", "P2O5")
        ),
    ]


def alt(record):
    (line, low, high), (by_feo, _, _) = record.along_t, record.along_feo
    ends = [record.along_all[key][-1] for key in equations("P", False)]
    return (
        f"Left, on a logarithmic scale: phosphorus left in the steel from {LOW_C:.0f} to "
        f"{HIGH_C:.0f} °C. The line, {record.line}, rises from {line[0]:.4f} to "
        f"{line[-1]:.4f} %, in a grey band of five equations from {low[0]:.4f} to {high[0]:.4f} at "
        f"the cold and {low[-1]:.4f} to {high[-1]:.4f} % at the hot "
        f"end; six that are not verified as thin dashes, "
        f"{min(ends):.4f} to {max(ends):.4f} % there; "
        "hatched beyond 1650 °C. Right: against FeO at the same basicity, "
        f"{record.line} from 10 to 30 % is lowest near {FEO[int(np.argmin(by_feo))]:.0f} % FeO. A "
        "dashed line marks the aim, rings this heat. " + where.alt(record)
    )


def sources(record):
    sulphur = (property_facts("sulphur")[0], "sulphide_capacity_a")
    with quietly():  # told beside the numbers
        slag = slag_solution(record.end.slag.oxides_kg, kelvin(record.at.temp_c))
    return (*equations("P"), *equations("Mn"), *sulphur, slag)


def data():
    keys = (key for key in equations("P", True) if key != LINE)
    others = ((f"the equation {key} as the line", key) for key in keys)
    return data_choice(others, "five published equations disagree")
