"""What the main results of the kit rest on: every row of every table is shifted, one at a time, and
each result is worked out anew.

A parameter is set to the ends of its band, a law of which another was published to that; any other
figure is made 10 % smaller and larger. The substances' own files are not shifted. Written to
steelthermo/data/trust/what_moves.csv. Run: python tests/tools/what_moves.py, some ten minutes.
"""

import csv
import sys
import warnings
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "tools")]

from given import given
from shifted import figures, shifted

from steelthermo import blow, charge, end_point, hot_metal, jet, ladle, slag
from steelthermo.base import data_path, kelvin, registry, rows
from steelthermo.streams import LiquidMetal
from steelthermo.trust import main_results
from steelthermo.works import parse_profile

PART = 0.1  # of a figure without a band
LEAST = 1e-6  # part of a result that counts as moved
# definitions and exact figures of the SI: nobody doubts them
EXACT = set(
    "celsius_zero_k gas_constant faraday_constant normal_pressure standard_pressure "
    "reference_temperature standard_gravity inch pound_force stefan_boltzmann".split()
)

HERON = data_path("heron.toml").read_text(encoding="utf-8")
HOT_METAL = {"C": 4.5, "Si": 0.5, "Mn": 0.3, "P": 0.08, "S": 0.03}
STEEL = {"C": 0.16, "Si": 0.25, "Mn": 1.3, "P": 0.012, "S": 0.008, "Al": 0.03}
SLAG = {"CaO": 45, "SiO2": 14, "FeO": 18, "Fe2O3": 6, "MgO": 8, "MnO": 5, "P2O5": 2, "Al2O3": 2}
T1600 = kelvin(1600.0)
# what does not hold a figure of nature or of the trade: checks, texts, spreads, units, limits of
# grades, plans to try, columns of a log
ASIDE = set(
    "published_checks units sources safety safety_figures visit_card glossary slag_facts "
    "treatment_facts log_columns profile_schema specifications uncertainties blow_quantities "
    "calibration month_heron_invented heat_heron_invented atomic_weights shop_ranges ld_slags "
    "deoxidation reagents alloys oxides blow_schedule what_moves main_results iron_carbon".split()
)


def _emf(ppm):
    """emf, mV, of a probe that sees this oxygen, by the figures as they are."""
    low, high = -600.0, 600.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        above = end_point.oxygen_activity(middle, T1600) * 1e4 > ppm
        low, high = (low, middle) if above else (middle, high)
    return low


def _other_law():
    """{key of a row: {row number: change}} of laws of which another was published."""
    keys = [row["key"] for row in rows("constants")]
    change = {}
    for part in "ab":
        other = rows("constants")[keys.index(f"electronic_zirconia_nagatani_{part}")]["value"]
        change[keys.index(f"electronic_zirconia_{part}")] = {"value": other}
    return {f"electronic_zirconia_{part}": change for part in "ab"}


OTHER_LAW = _other_law()


class Results:
    """The main results, keys of trust.main_results(); what is given to them stands still."""

    def __init__(self):
        works = parse_profile(HERON)
        plan = charge.solve(works)
        self.masses = {"scrap_kg": plan.scrap.mass_kg, "lime_kg": plan.lime.mass_kg}
        self.masses |= {"dolomite_kg": plan.dolomite.mass_kg}
        self.tapped_kg = works.vessel.tap_t
        self.emf = {600: _emf(600.0), 3: _emf(3.0)}

    def all(self):
        """Every result by its key; NaN where the kit refuses."""
        out = {}
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            for group in (
                self._charge,
                self._blow,
                self._ladle,
                self._probe,
                self._hot_metal,
                self._jet,
            ):
                try:
                    out |= group()
                except (ValueError, ArithmeticError, KeyError, IndexError):
                    pass
        return {key: float(out.get(key, float("nan"))) for key in main_results()}

    def _charge(self):
        works = parse_profile(HERON)
        plan = charge.solve(works)
        self._plan = plan
        kept = charge.solve(works, find="temperature", **self.masses)
        nm3_t = 1000.0 * plan.oxygen_nm3 / plan.steel.mass_kg
        return {"end_temp_c": kept.temp_c, "oxygen_nm3_t": nm3_t}

    def _blow(self):
        run = blow.solve(self._plan.for_tap(self.tapped_kg), parse_profile(HERON))
        end = run.steel.analysis_pct
        return {
            "blow_c_pct": end["C"][-1],
            "blow_p_pct": end["P"][-1],
            "blow_feo_pct": run.slag_pct["FeO"][-1],
            "blow_temp_c": run.temp_c[-1],
        }

    def _ladle(self):
        path = ladle.tap_path(STEEL, hold_min=20.0, stir_min=10.0)
        bath = {"Fe": 999.6, "Al": 0.6, "O": 0.3}
        killed = ladle.deoxidise(bath, T1600, quiet=True)
        return {"tap_temp_c": path.tap_c, "killed_o_ppm": 1e4 * killed.oxygen_pct}

    def _probe(self):
        read = {
            f"probe_{ppm}_ppm": 1e4 * end_point.oxygen_activity(emf, T1600)
            for ppm, emf in self.emf.items()
        }
        thick = [slag.viscosity(SLAG, kelvin(1650.0), name) for name in slag.VISCOSITIES]
        return read | {"slag_pa_s": sum(thick) / len(thick)}

    def _hot_metal(self):
        metal = LiquidMetal(1000.0, HOT_METAL, 1350.0)
        done = hot_metal.desulphurise(metal, {"magnesium": 0.3})
        return {"hot_metal_s_pct": done.metal.analysis_pct["S"]}

    def _jet(self):
        head = jet.LanceHead(40.0, 53.0, holes=4)
        return {"dent_m": jet.penetration(head.flow(900.0), 1.8).low_m}


def steps(table, row):
    """[(how the row is changed, {row number: {column: value}})], the lower and the higher."""
    number, found = rows(table).index(row), figures(row)
    if row.get("key") in OTHER_LAW:
        return [("the published law", OTHER_LAW[row["key"]])]
    if found == ("start",):
        ends = [row[end] for end in ("low", "high") if isinstance(row.get(end), float)]
        return [(f"{end:g}", {number: {"start": end}}) for end in ends]
    return [
        (f"{100 * part:+.0f} %", {number: {c: row[c] * (1.0 + part) for c in found}})
        for part in (-PART, PART)
        if found
    ]


def moved(results, table, row):
    """{result: change by each step} of a row: those that move. A step that is refused counts
    nothing.
    """
    out = {}
    for place, (_, changes) in enumerate(steps(table, row)):
        with shifted(table, changes):
            found = results.all()
        for key, value in found.items():
            if abs(value - results.base[key]) > LEAST * abs(results.base[key]):
                out.setdefault(key, [0.0, 0.0])[place] = value - results.base[key]
    return out


def lines():
    """Every line of the table: a result, a row that moves it, by what and how much."""
    results = Results()
    results.base = results.all()
    for table, told in registry().items():
        if table in ASIDE or "status" not in rows(table)[0]:
            continue
        for row in rows(table):
            if row.get("key") in EXACT:
                continue
            name = " ".join(
                str(row[c]) for c in told["key"].split() if row[c] not in (None, "none")
            )
            by = " and ".join(how for how, _ in steps(table, row))
            for key, (less, more) in moved(results, table, row).items():
                step = f"; {row['note']}" if row["status"] == "derived" and "note" in row else ""
                told_by = (row["status"], row["source"], row["place"] + step)
                yield key, table, name, by, f"{less:.3g}", f"{more:.3g}", *told_by


def main():
    order = list(main_results())
    found = sorted(lines(), key=lambda line: (order.index(line[0]), line[1], line[2]))
    path = data_path("tables.csv").parent / "trust" / "what_moves.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow("result table row by less more status source place".split())
        out.writerows(found)


if __name__ == "__main__":
    given(__doc__)
    main()
