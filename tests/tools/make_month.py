"""Make a month of heats of Heron Works: invented, no measurement, with faults hidden in it that a
learner is to find.

    python tests/tools/make_month.py [--seed N] [--clean] [--out FILE]

Each heat is planned from what is read (scrap for the aim temperature, lime and dolomite for the
slag, oxygen for the aim carbon), and then happens with what is true: true analyses and weights, and
a works whose losses, CO2 share, ejections and phosphorus differ from the profile. The carbon at the
end is the one that the oxygen blown leads to, with the iron oxide that goes with it by the law at
the end of a blow. What is found is then read with the errors of the readings, and rounded as a shop
writes it; some readings are missing, and heats far too cold are blown again. The scatter is that
which shops report: a mean absolute error of some 8 °C, 0.007 % C and 0.0023 % P between what models
from charge and blow foretell and what is found (Xie and others 2024, High Temperature Materials and
Processes, abstract).
"""

import argparse
import csv
import sys
import warnings
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from steelthermo.charge import law_of, solve
from steelthermo.end_point import decide
from steelthermo.heats import phosphorus_pct
from steelthermo.streams import Material, blend, material
from steelthermo.works import load_profile, plan_values

FILE = ROOT / "steelthermo" / "data" / "heats" / "month_heron_invented.csv"
SEED = 17
SCRAPS = {"heavy_scrap": 0.5, "bales": 0.2, "shredded": 0.15, "own_scrap": 0.15}
GRID = np.array(
    [
        0.02005,
        0.0203,
        0.0215,
        0.0235,
        0.0265,
        0.03,
        0.035,
        0.04,
        0.047,
        0.055,
        0.065,
        0.08,
        0.1,
        0.14,
    ]
)  # % C
AGAIN_C, AGAIN_PCT = 25.0, 0.09  # colder than the aim, or with more carbon: blown again
BLANKS = {  # share of heats in which nobody read it
    "wait_min": 0.01,
    "hot_metal_mn_pct": 0.03,
    "hot_metal_s_pct": 0.03,
    "end_p_pct": 0.03,
    "slag_fe_pct": 0.06,
    "steel_kg": 0.01,
}


@dataclass
class Truth:
    """What the month hides. Figures of the works as they are (None: the profile's own), and faults:
    days counted from 0.
    """

    heat_mj_t: float = None
    heat_wait_mj_t_min: float = 0.25
    heat_lining_mj_t: float = 1.5
    co2_pct: float = None
    ejected_kg_t: float = None
    phosphorus_log: float = -0.55
    scale_pct: float = 0.0  # hot metal weighed too high by so many %
    scale_days: tuple = (0, 0)
    probe_c: float = 0.0  # probe reads so many °C too high
    probe_from: int = 99
    wet_pct: float = 0.0  # hydroxide in the lime
    wet_days: tuple = (0, 0)
    damp_pct: float = 0.0  # water in one kind of scrap on the same days
    damp: str = "shredded"
    damp_dries: bool = False  # before it is under metal: else it is split there
    hard_shift: str = "C"
    hard_pct: float = 0.0  # more oxygen than planned
    scatter_mj_t: float = 4.5  # of the losses from heat to heat
    scatter_co2: float = 0.4
    scatter_p: float = 0.07
    extra: dict = field(default_factory=dict)


HIDDEN = Truth(
    heat_mj_t=66.0,
    co2_pct=11.0,
    ejected_kg_t=9.0,
    scale_pct=1.0,
    scale_days=(6, 13),
    probe_c=-6.0,
    probe_from=17,
    wet_pct=12.0,
    wet_days=(23, 26),
    hard_pct=1.2,
)


def drawn(random, mean, sd, low, high, n):
    return np.clip(random.normal(mean, sd, n), low, high)


def month(seed=SEED, truth=HIDDEN, n=500, works=None, days=28):
    """Columns of a log: {name: array}, in the order of time."""
    random, works = np.random.default_rng(seed), works or load_profile("heron")
    own = plan_values(works)
    minute = np.sort(random.uniform(0, days * 1440, n)).astype(int)
    day = minute // 1440
    shift = np.array(list("ABC"))[(minute % 1440) // 480]
    usual = works.hot_metal.analysis_pct
    hot = {
        "C": drawn(random, usual["C"], 0.08, 4.0, 5.0, n),
        "Si": drawn(random, usual["Si"], 0.11, 0.15, 1.0, n),
        "Mn": drawn(random, usual["Mn"], 0.05, 0.1, 0.7, n),
        "P": drawn(random, usual["P"], 0.006, 0.05, 0.13, n),
        "S": drawn(random, usual["S"], 0.003, 0.002, 0.04, n),
    }
    temp = drawn(random, works.hot_metal.temp_c, 18.0, 1260, 1420, n)
    hot_kg = drawn(random, 160_000.0, 2500.0, 150e3, 170e3, n)
    wait = np.round(random.gamma(2.0, 12.0, n)).clip(3, 240)
    lining = 1200 + np.arange(n)
    mix = {k: x * random.uniform(0.6, 1.4, n) for k, x in SCRAPS.items()}
    total = sum(mix.values())
    read = {
        "hot_metal_temp_c": np.round(temp + random.normal(0, 3, n)),
        "hot_metal_c_pct": np.round(hot["C"] + random.normal(0, 0.03, n), 2),
        "hot_metal_si_pct": np.round(hot["Si"] + random.normal(0, 0.009, n), 2).clip(0.1),
        "hot_metal_mn_pct": np.round(hot["Mn"] + random.normal(0, 0.015, n), 2).clip(0.05),
        "hot_metal_p_pct": np.round(hot["P"] + random.normal(0, 0.003, n), 3),
        "hot_metal_s_pct": np.round(hot["S"] + random.normal(0, 0.001, n), 3).clip(0.001),
    }
    off = 1.0 + truth.scale_pct / 100.0 * (
        (day >= truth.scale_days[0]) & (day < truth.scale_days[1])
    )
    read["hot_metal_kg"] = np.round(hot_kg * off * (1 + random.normal(0, 0.0025, n)), -2)
    scrap = blend([(material(k, works), x / total) for k, x in mix.items()], "scrap")
    aims = {
        "hot_metal_kg": read["hot_metal_kg"],
        "hot_metal_temp_c": read["hot_metal_temp_c"],
        "hot_metal_pct": {e: read[f"hot_metal_{e.lower()}_pct"] for e in hot},
        "scrap": scrap,
    }
    # a shop has learnt what it loses, though not from the profile
    lost = own["heat_mj_t"] if truth.heat_mj_t is None else truth.heat_mj_t
    aims["heat_mj_t"] = lost + 24.0 * truth.heat_wait_mj_t_min + 1.45 * truth.heat_lining_mj_t
    learnt = {"co2_pct": truth.co2_pct, "ejected_kg_t": truth.ejected_kg_t}
    plan = planned(works, aims | learnt)
    scrap_kg = np.round(plan.scrap.mass_kg, -2)
    lime_kg, dolomite_kg = np.round(plan.lime.mass_kg, -2), np.round(plan.dolomite.mass_kg, -2)
    harder = 1.0 + truth.hard_pct / 100.0 * (shift == truth.hard_shift)
    blown = plan.oxygen_nm3 * harder * (1 + random.normal(0, 0.004, n))
    # as it is
    lost = lost + random.normal(0, truth.scatter_mj_t, n)
    lost += truth.heat_wait_mj_t_min * wait + truth.heat_lining_mj_t * lining / 1000.0
    co2 = own["co2_pct"] if truth.co2_pct is None else truth.co2_pct
    wet = truth.wet_pct * wet_days_of(truth, day)
    lime = material("lime", works)
    others = {s: p for s, p in lime.analysis_pct.items() if s != "CaO"}
    lime = Material.of(lime.title, others | {"Ca(OH)2": wet}, "CaO", lime.temp_c, lime.kind)
    damp = truth.damp_pct / 100.0 * (wet_days_of(truth, day)) * (mix[truth.damp] / total)
    true_scrap, dry = scrap, 1.0
    if truth.damp_pct and truth.damp_dries:
        # steam at 1500 degC less water at 25: 44.0 + 61.4 kJ/mol (steam tables), over 18.015
        dry, lost = 1.0 - damp, lost + 105.4 / 18.015 * damp * scrap_kg / 187.0
    elif truth.damp_pct:
        water = Material("water", {"H2O": 100.0})
        true_scrap = blend([(scrap, 1.0 - damp), (water, damp)], "scrap")
    true = {
        "find": "temperature",
        "hot_metal_kg": hot_kg,
        "hot_metal_temp_c": temp,
        "hot_metal_pct": hot,
        "scrap": true_scrap,
        "scrap_kg": scrap_kg * (1 + random.normal(0, 0.003, n)) * dry,
        "lime": lime,
        "lime_kg": lime_kg * (1 + random.normal(0, 0.015, n)),
        "dolomite_kg": dolomite_kg * (1 + random.normal(0, 0.015, n)),
        "heat_mj_t": np.clip(lost, 0, 500),
        "co2_pct": np.clip(co2 + random.normal(0, truth.scatter_co2, n), 0, 100),
    }
    if truth.ejected_kg_t is not None:
        true["ejected_kg_t"] = truth.ejected_kg_t
    factor_log = truth.phosphorus_log + random.normal(0, truth.scatter_p, n)
    heat, carbon, p_pct = as_blown(works, true, blown, factor_log)
    steel_kg = heat.steel.mass_kg
    oxygen = np.round(heat.oxygen_nm3 * (1 + random.normal(0, 0.004, n)), -1)
    probe = truth.probe_c * (day >= truth.probe_from)
    out = {
        "heat": np.array([f"{2600001 + i}" for i in range(n)]),
        "date": np.datetime64("2026-03-02T00:00") + minute.astype("timedelta64[m]"),
        "shift": shift,
        "lining_heats": lining,
        "wait_min": wait,
        **read,
        "oxygen_nm3": oxygen,
        "blow_min": np.round(oxygen / works.oxygen.flow_nm3_min, 1),
        "end_temp_c": np.round(heat.temp_c + probe + random.normal(0, 3, n)),
        "end_c_pct": np.round(carbon * (1 + random.normal(0, 0.05, n)), 3),
        "end_p_pct": np.round(p_pct * (1 + random.normal(0, 0.03, n)), 4),
        "slag_fe_pct": np.round(heat.slag.iron_total_pct + random.normal(0, 0.6, n), 1),
    }
    second_nm3, steel_kg = again(works, out, steel_kg.copy())
    out["second_blow_nm3"] = np.where(second_nm3 > 0.0, second_nm3, np.nan)
    out["steel_kg"] = np.round(steel_kg * (1 + random.normal(0, 0.004, n)), -2)
    for k, x in mix.items():
        out[f"{k}_kg"] = np.round(scrap_kg * x / total, -2)
    source = np.full(n, "invented for Heron Works, no measurement")
    out |= {"lime_kg": lime_kg, "burnt_dolomite_kg": dolomite_kg, "source": source}
    return blanked(out, seed)


def wet_days_of(truth, day):
    return (day >= truth.wet_days[0]) & (day < truth.wet_days[1])


def planned(works, given):
    """The Charge for the aims, with the iron oxide that goes with the aim carbon."""
    carbon = works.end_point.analysis_pct["C"]
    heat, iron = solve(works, **given), {}
    for _ in range(2):
        iron = iron_oxides(heat, carbon)
        heat = solve(works, **given, **iron)
    return heat


def iron_oxides(heat, carbon):
    """FeO and Fe2O3 of a heat's slag, %, by the law at the end of a blow."""
    end = law_of(heat, carbon)
    return {"feo_pct": end.feo_pct, "fe2o3_pct": end.fe2o3_pct}


def as_blown(works, true, blown, factor_log):
    """(Charge, % C, % P) of heats that were blown with so much oxygen: carbon and iron oxide by the
    law at the end of a blow, phosphorus by the partition times 10**factor_log.

    Each step goes by the slope of the usual heat (oxygen against carbon), with iron oxide and
    phosphorus of the step before. Some 0.1 % of the oxygen is missed: the Charge says what was
    blown in truth.
    """
    aims = dict(works.end_point.analysis_pct)
    usual = solve(works, end_pct=aims | {"C": GRID}, **iron_oxides(solve(works), GRID))
    needed = usual.oxygen_nm3 / usual.hot_metal.mass_kg
    carbon, p_pct, iron = np.full(blown.size, aims["C"]), aims["P"], {}
    for step in range(14):
        aims |= {"C": carbon, "P": p_pct}
        heat = solve(works, **true, infeasible="mark", end_pct=aims, **iron)
        iron, p_pct = iron_oxides(heat, carbon), phosphorus_pct(heat, factor_log)
        if step >= 2:  # iron and phosphorus of the aim first
            short = (blown - heat.oxygen_nm3) / heat.hot_metal.mass_kg
            wanted = np.interp(carbon, GRID, needed) + 0.7 * short
            carbon = np.interp(-wanted, -needed, GRID)
    return heat, aims["C"], p_pct


def again(works, out, steel_kg):
    """Oxygen of a second blow for heats that came out far too cold or with far too much carbon,
    Nm3, and the steel that is left after it, kg.
    """
    aim, nm3 = works.end_point, np.zeros(steel_kg.size)
    cold = out["end_temp_c"] < aim.temp_c - AGAIN_C
    for i in np.flatnonzero(cold | (out["end_c_pct"] > AGAIN_PCT)):
        found = decide(
            float(out["end_temp_c"][i]),
            float(out["end_c_pct"][i]),
            aim_temp_c=aim.temp_c,
            aim_carbon_pct=aim.analysis_pct["C"],
            steel_t=steel_kg[i] / 1000.0,
            flow_nm3_min=works.oxygen.flow_nm3_min,
        )
        nm3[i] = np.round(found.oxygen_nm3.value, -1)
        steel_kg[i] -= found.iron_kg.value
    return nm3, steel_kg


def blanked(out, seed):
    """Columns with blanks where nobody read: NaN for a blank."""
    random = np.random.default_rng([seed, 1])
    for key, share in BLANKS.items():
        out[key] = np.where(random.random(out[key].size) < share, np.nan, out[key])
    return out


def write(columns, path):
    with Path(path).open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(columns)
        texts = [[_text(x) for x in column] for column in columns.values()]
        rows.writerows(zip(*texts, strict=True))


def _text(x):
    if isinstance(x, float) and np.isnan(x):
        return ""
    if isinstance(x, np.datetime64):
        return str(x).replace("T", " ")
    return (
        f"{x:g}"
        if isinstance(x, (int, float, np.number)) and abs(x) < 1e5
        else (f"{x:.0f}" if isinstance(x, (int, float, np.number)) else str(x))
    )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--clean", action="store_true", help="no faults hidden")
    parser.add_argument("--out", default=FILE)
    given = parser.parse_args()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        write(month(given.seed, Truth() if given.clean else HIDDEN), given.out)
