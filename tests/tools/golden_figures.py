"""What the golden files hold: of what each has a line, what is given to it and what comes out.
Written and compared by write_golden.py.

Works are told by their place in works.WORKS, from 1; nothing here hangs on their names.
"""

import hashlib
import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from pathlib import Path

import nbformat
import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).resolve().parent)]

from make_class import make
from save_notebooks import text_of

from steelthermo.blow import parameters as blow_parameters
from steelthermo.blow import solve as solve_blow
from steelthermo.charge import solve as solve_charge
from steelthermo.course.adapter import STEEL
from steelthermo.course.l15_whole_heat.sheet import HeatSheet, path_of, reference_state
from steelthermo.coursekit import use
from steelthermo.coursekit.marking import mark
from steelthermo.coursekit.panel import make_panel
from steelthermo.coursekit.problems import draw
from steelthermo.ladle import carry_over, tapped, treat, with_oxygen
from steelthermo.streams import Gas
from steelthermo.works import WORKS
from steelthermo.works import load_profile as load

use(STEEL)
LEARNERS = (10, 2, 2)  # for each works that ships
SETTINGS, HEATS, CHARGES, BLOWS, LADLES, CLASS = 20, 10, 200, 20, 50, 30
# key under which a line has numbers without a name: each of them shall still be there, others may
# come
BEHIND = "numbers behind"
MOMENTS = (0.1, 0.3, 0.5, 0.7, 0.85, 0.95, 1.0)  # of a blow at which it is looked at


@dataclass(frozen=True)
class Figures:
    """One golden file.

    columns: what a line is of; items: () -> list of tuples of text, one a line; results: (item,
    given) -> dict; given: (item, numpy generator) -> dict, or None where nothing but the item is
    given.
    """

    columns: tuple
    items: Callable
    results: Callable
    given: Callable | None = None


# ---- problems ------------------------------------------------------------------------------------


def _problem_items():
    return [
        (p.key, str(w + 1), f"learner {i}")
        for p in STEEL.problems
        for w, count in enumerate(LEARNERS)
        for i in range(count)
    ]


def _problem(item, _):
    key, works, learner = item
    one = draw(STEEL.problem(key), learner, "course", 1, works=load(WORKS[int(works) - 1]))
    choice = one.problem.choice
    out = {"given": one.given, "key": one.answer_text()}
    out |= (
        {"order": list(choice.order or range(1, len(choice.options) + 1)), "line": one.choice}
        if choice
        else {}
    )
    out |= (
        {}
        if one.number is None
        else {
            "number": one.number,
            "unit": one.problem.number.unit,
            "tolerance": float(one.problem.number.tolerance(one.number)),
        }
    )
    return out | {
        "slips": {name: list(pair) for name, pair in one.slips.items()},
        "tries": one.tries,
    }


# ---- panels --------------------------------------------------------------------------------------


@cache
def _panel(name):
    return make_panel(name)


def _panel_items():
    return [(name, str(i)) for name in STEEL.panels for i in range(SETTINGS + 1)]


def _panel_given(item, chance):
    """Settings of the controls, by name: on the steps of the sliders. Setting 0 is where the
    controls stand at first.
    """
    return {
        c.name: c.default if item[1] == "0" else _position(c, chance)
        for c in _panel(item[0]).controls
    }


def _position(control, chance):
    if control.choices is not None:
        return control.choices[int(chance.integers(len(control.choices)))][1]
    steps = int((control.high - control.low) / control.step * (1 + 1e-9))
    return min(
        round(control.low + int(chance.integers(steps + 1)) * control.step, 10), control.high
    )


def _panel_numbers(item, given):
    shown = _panel(item[0])
    record = shown.compute(**given)
    out = {"sentence": shown.sentence(record)} | (
        {"moved": [list(pair) for pair in shown.moved(record)]} if shown.data else {}
    )
    for name, *rest in shown.numbers(record):
        key = name if name not in out else f"{name}, {len(out)}"  # two of one name stay two
        out[key] = list(rest)
    return out | {BEHIND: sorted(set(_behind(record)))}


def _behind(record):
    """The numbers a record holds, wherever they stand in it: of an array the first, the middle and
    the last. The table of numbers is rounded, these are not.
    """
    if isinstance(record, float | np.ndarray | np.floating):
        flat = np.ravel(record)
        picked = (
            (float(flat[i]) for i in {0, flat.size // 2, flat.size - 1})
            if flat.size and flat.dtype.kind == "f"
            else ()
        )
        return [
            x for x in picked if 1e-6 < abs(x) < 1e300
        ]  # neither what rounding left over nor NaN
    if isinstance(record, Mapping):
        parts = record.values()
    elif isinstance(record, tuple | list):
        parts = record
    else:
        kept = fields(record) if is_dataclass(record) and not isinstance(record, type) else ()
        # a field that is not compared is a store of what was made before: it hangs on what ran
        # before
        parts = [getattr(record, f.name) for f in kept if f.compare] or getattr(
            record, "__dict__", {}
        ).values()
    return [x for part in parts for x in _behind(part)]


# ---- heat sheets (lesson 15) ---------------------------------------------------------------------


def _heat(item, _):
    """The sheet with every entry right."""
    sheet = HeatSheet(item[1], "course", 1, load(WORKS[int(item[0]) - 1]))
    state = reference_state(sheet.given, sheet.works)
    return {"given": sheet.given, "entered": state.entered, "path": path_of(state)}


# ---- notebooks, as saved -------------------------------------------------------------------------


@cache
def _notebooks():
    """{(notebook, number of the cell): {kind of output: text}}; pictures and styles left out."""
    out = {}
    for path in sorted([*ROOT.glob("lessons/*.ipynb"), *ROOT.glob("exercises/*.ipynb")]):
        notebook, name = nbformat.read(path, as_version=4), path.relative_to(ROOT).as_posix()
        out |= {
            (name, str(i)): {} for i, cell in enumerate(notebook.cells) if cell.cell_type == "code"
        }
        for line in text_of(notebook):
            cell, kind, text = line.split(": ", 1)[0].removeprefix("cell ").split(", ") + [line]
            out[name, cell].setdefault(kind, []).append(text)
    return out


def _notebook(item, _):
    return {
        kind: hashlib.sha256("\n".join(lines).encode()).hexdigest()
        for kind, lines in _notebooks()[item].items()
    }


# ---- marks ---------------------------------------------------------------------------------------


@cache
def _marks():
    """{(what, name): results} of a class of 30, of which ten sheets are damaged."""
    with tempfile.TemporaryDirectory() as folder:
        make(folder, STEEL.problems, learners=CLASS, damaged=10)
        report = mark(folder, works=load(WORKS[0]))
    out = {("sheet", row["sheet"]): dict(row) for row in report.table}
    out |= {("unreadable sheet", file): {"reason": reason} for file, reason in report.bad}
    for row in report.by_problem():
        problem = row.pop("problem")
        out["problem", problem.key] = row | {"slips": dict(sorted(row["slips"].items()))}
    return out | {("class", "summary"): {"summary": report.summary()}}


# ---- charges -------------------------------------------------------------------------------------

# Ranges wider than a usual heat's, chosen here so that they stand still: no limits of the trade.
_HOT_METAL = {
    "C": (4.0, 4.8),
    "Si": (0.15, 0.9),
    "Mn": (0.1, 0.8),
    "P": (0.05, 0.2),
    "S": (0.005, 0.05),
}
_AIMS = {
    "hot_metal_kg": (5e4, 3e5), "hot_metal_temp_c": (1250, 1420), "end_temp_c": (1610, 1710),
    "basicity": (2.5, 4.2), "mgo_pct": (4, 10),
    "feo_pct": (10, 25), "fe2o3_pct": (2, 8), "co2_pct": (5, 20), "gas_temp_c": (1450, 1750),
    "dust_fe_kg_t": (5, 20), "ejected_kg_t": (0, 10),
    "heat_mj_t": (20, 80), "lining_mgo_kg_t": (0, 3), "sulphur_to_slag_pct": (10, 50),
    "undissolved_pct": (0, 10), "other_data_mj_t": (-10, 10),
}  # fmt: skip
_SCRAPS, _COOLANTS, _FUELS = (
    ("heavy_scrap", "bales", "shredded", "own_scrap"),
    ("ore", "limestone", "mill_scale", "raw_dolomite"),
    ("coke", "ferrosilicon"),
)


def _between(chance, low, high):
    return float(f"{chance.uniform(low, high):.6g}")


def _pick(chance, words):
    return words[int(chance.integers(len(words)))]


def _charge_given(_, chance):
    """The arguments of charge.solve(), each aim in three cases of four."""
    out = {
        "works": 1 + int(chance.integers(len(WORKS))),
        "find": _pick(chance, ("scrap", "scrap", "coolant", "fuel", "temperature")),
    }
    out |= {key: _between(chance, *ends) for key, ends in _AIMS.items() if chance.random() < 0.75}
    out["hot_metal_kg"] = _between(chance, *_AIMS["hot_metal_kg"])
    out["hot_metal_pct"] = {e: _between(chance, *ends) for e, ends in _HOT_METAL.items()}
    out["end_pct"] = {
        "C": _between(chance, 0.02, 0.2),
        "Mn": _between(chance, 0.05, 0.3),
        "P": _between(chance, 0.005, 0.025),
        "O": _between(chance, 0.02, 0.08),
    }
    out |= {
        "scrap": _pick(chance, _SCRAPS),
        "coolant": _pick(chance, _COOLANTS),
        "fuel": _pick(chance, _FUELS),
    }
    for name, ends in {"scrap": (0.05, 0.3), "coolant": (0.0, 0.03), "fuel": (0.0, 0.004)}.items():
        if name != out["find"] and (name == "scrap" or chance.random() < 0.5):
            out[f"{name}_kg"] = round(out["hot_metal_kg"] * _between(chance, *ends), 1)
    for flux, ends in {"lime": (0.03, 0.06), "dolomite": (0.005, 0.03)}.items():
        if chance.random() < 0.15:
            out[f"{flux}_kg"] = round(out["hot_metal_kg"] * _between(chance, *ends), 1)
    return out


def _solve(given):
    options = dict(given)
    return solve_charge(load(WORKS[options.pop("works") - 1]), **options)


def _amounts(record):
    """Mass (gas: volume), analysis and temperature of a record, as far as it has them."""
    out = (
        {"nm3": dict(record.nm3)} if isinstance(record, Gas) else {"kg": dict(record.element_kg())}
    )
    out |= {key: getattr(record, key) for key in ("temp_c", "mass_kg") if hasattr(record, key)}
    out |= {
        key: dict(getattr(record, key))
        for key in ("oxides_kg", "analysis_pct")
        if hasattr(record, key)
    }
    # what is as warm as the elements it is counted from has no enthalpy but rounding
    return out | (
        {"enthalpy_kj": record.enthalpy_kj()}
        if abs(record.enthalpy_kj()) > 1e-3 * sum(record.element_kg().values())
        else {}
    )


def _charge(_, given):
    heat = _solve(given)
    heat_in, heat_out = heat.heat_account()
    out = {
        key: getattr(heat, key)
        for key in (
            "temp_c",
            "oxygen_nm3",
            "scrap_share_pct",
            "yield_pct",
            "heat_loss_kj",
            "undissolved_kg",
            "other_data_kj",
        )
    }
    out |= {name: _amounts(record) for name, record in {**heat.inputs, **heat.outputs}.items()}
    return out | {"heat in": heat_in, "heat out": heat_out}


# ---- blows ---------------------------------------------------------------------------------------


def _blow_given(_, chance):
    """A charge for scrap, and each parameter of the blow somewhere between its start value and half
    way to an end of its band in one case of two.
    """
    aims = {
        key: _between(chance, *_AIMS[key])
        for key in ("hot_metal_temp_c", "end_temp_c", "basicity", "feo_pct", "co2_pct")
        if chance.random() < 0.5
    }
    heat = aims | {
        "hot_metal_pct": {e: _between(chance, *ends) for e, ends in _HOT_METAL.items()},
        "works": 1 + int(chance.integers(len(WORKS))),
    }
    inner = {
        key: (0.5 * (p.low + p.start), 0.5 * (p.start + p.high))
        for key, p in blow_parameters().items()
    }
    return {
        "charge": heat,
        "parameters": {
            key: _between(chance, *ends) for key, ends in inner.items() if chance.random() < 0.5
        },
    }


def _blow(_, given):
    works = load(WORKS[given["charge"]["works"] - 1])
    heat = solve_blow(
        _solve(given["charge"]).for_tap(works.vessel.tap_t), works, parameters=given["parameters"]
    )
    end = float(heat.time_min[-1])
    out = {
        "minutes": end,
        "periods": list(heat.periods()),
        "heat_loss_kj": float(heat.heat_loss_kj[-1]),
    }
    return out | {f"at {share:.0%}": heat.at(share * end) for share in MOMENTS}


# ---- ladles --------------------------------------------------------------------------------------

_ADDED_KG_T = {
    "aluminium": (0.8, 2.5), "ferromanganese": (0, 10), "ferromanganese_lc": (0, 8),
    "silicomanganese": (0, 12), "ferrosilicon": (0, 4), "carburiser": (0, 1.5),
    "ferrochromium": (0, 5), "ferrovanadium": (0, 1), "ferrotitanium": (0, 0.8), "nickel": (0, 3),
    "copper": (0, 2),
}  # fmt: skip


def _ladle_given(_, chance):
    """The usual heat of a works, with oxygen and slag, and a treatment: aluminium in four cases of
    five, each alloy in one of three.
    """
    out = {
        "works": 1 + int(chance.integers(len(WORKS))),
        "oxygen_ppm": _between(chance, 300, 1000),
        "slag_kg_t": _between(chance, 0, 12),
    }
    often = {key: 0.8 if key == "aluminium" else 0.33 for key in _ADDED_KG_T}
    out["added_kg_t"] = {
        key: _between(chance, *ends)
        for key, ends in _ADDED_KG_T.items()
        if chance.random() < often[key]
    }
    more = {
        "air_nm3": (0, 60),
        "argon_nm3": (0, 60),
        "oxygen_nm3": (0, 100),
        "nitrogen_pickup_ppm": (0, 40),
        "loss_c": (0, 60),
        "energy_kwh": (0, 4000),
    }
    out["treatment"] = {
        key: _between(chance, *ends) for key, ends in more.items() if chance.random() < 0.5
    }
    return out


def _ladle(_, given):
    works = load(WORKS[given["works"] - 1])
    steel, slag = tapped(solve_charge(works).for_tap(works.vessel.tap_t))
    steel = with_oxygen(steel, given["oxygen_ppm"])
    added = {key: kg_t * steel.mass_kg / 1000.0 for key, kg_t in given["added_kg_t"].items()}
    stage = treat(
        steel, added, slag=carry_over(slag, steel.mass_kg, given["slag_kg_t"]), **given["treatment"]
    )
    out = {name: _amounts(record) for name, record in stage.outputs.items()}
    return out | {
        "boil_ratio": float(stage.boil_ratio),
        "assumed": dict(stage.assumed),
        "inclusions kg": dict(stage.outputs["inclusions"].species_kg),
    }


def _numbered(count):
    return lambda: [(str(i),) for i in range(count)]


FILES = {
    "problems": Figures(("problem", "works", "learner"), _problem_items, _problem),
    "panels": Figures(("panel", "setting"), _panel_items, _panel_numbers, _panel_given),
    "heats": Figures(
        ("works", "learner"),
        lambda: [(str(w + 1), f"learner {i}") for w in range(len(WORKS)) for i in range(HEATS)],
        _heat,
    ),
    "notebooks": Figures(("notebook", "cell"), lambda: list(_notebooks()), _notebook),
    "marks": Figures(("of", "name"), lambda: list(_marks()), lambda item, _: _marks()[item]),
    "charges": Figures(("charge",), _numbered(CHARGES), _charge, _charge_given),
    "blows": Figures(("blow",), _numbered(BLOWS), _blow, _blow_given),
    "ladles": Figures(("ladle",), _numbered(LADLES), _ladle, _ladle_given),
}
