"""What becomes of an element that burns (oxides.csv), and that one row there is enough to give
an element a second oxide: every stage of a heat follows, and the stages agree.
"""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import steelthermo
from steelthermo.base import InputError, formula, rows
from steelthermo.thermo import (
    burning,
    carbonate_parts,
    counted_as,
    elements_with,
    enthalpy,
    forms,
    oxide_of,
    oxides_with,
    oxygen_atoms,
    phase_at,
    share_lime,
)

BOTH = """V,V2O3,{},slag,solid,amphoteric,no,no,V to V2O3,V-O,memory,memory,none,a try
V,V2O5,{},slag,liquid,amphoteric,no,no,V to V2O5,V-O,memory,memory,none,a try
"""


def test_oxide_of_each_element_that_burns():
    for element in ("Si", "Mn", "P", "Al", "Ti", "V", "Cr", "Ca", "Mg", "Fe"):
        assert next(iter(formula(oxide_of(element)))) == element
    with pytest.raises(InputError, match="'S' was given; allowed are"):
        oxide_of("S")


def test_atoms_of_oxygen():
    """Counted by hand from the formulas."""
    by_hand = {"C": 1, "Ca": 1, "Mg": 1, "Si": 2, "Mn": 1, "P": 2.5, "Cr": 1.5, "Al": 1.5}
    by_hand |= {"Ti": 2, "V": 1.5, "Fe": 1}
    assert {e: oxygen_atoms(e) for e in burning()} == by_hand


def test_the_table_says_one_thing():
    """Shares of an element add up to 100 or nothing; what is said of the element is said alike in
    each of its rows; a phase is one of the substance."""
    for element in elements_with():
        mine = [r for r in rows("oxides") if r["element"] == element]
        assert sum(r["forms_pct"] for r in mine) in (0.0, 100.0)
        assert len({(r["stays"], r["line"]) for r in mine}) == 1
        for row in mine:
            if row["oxide"] != "none":
                assert element in formula(row["oxide"])
            if row["phase"] not in (None, "none"):
                assert enthalpy(row["oxide"], 1900.0, row["phase"], supercooled=True) < 0
    assert elements_with(stays="yes") == ("Ni", "Cu")
    assert elements_with(stays="law") == ("Cr",)
    assert oxides_with(element="Fe") == ("FeO", "Fe2O3", "Fe3O4") and forms("Fe") == {"FeO": 1.0}
    assert phase_at("V2O5", 1900.0) == "liquid"


def test_carbonates_and_phosphate():
    assert carbonate_parts("CaMg(CO3)2") == {"CaO": 1.0, "MgO": 1.0, "CO2": 2.0}
    assert carbonate_parts("CaCO3") == {"CaO": 1.0, "CO2": 1.0}
    assert not any(map(carbonate_parts, ("CO2", "CaC2", "C", "SiO2", "Na2CO3")))
    assert counted_as("P2O5") == {"Ca3(PO4)2": 1.0, "CaO": -3.0} and counted_as("C") == {"C": 1.0}


@pytest.mark.parametrize(
    "cao, silicate, silica, lime", [(13.0, 3.0, 0.0, 4.0), (7.0, 2.0, 1.0, 0.0), (3.0, 0.0, 3.0, 0)]
)
def test_phosphate_takes_lime_first(cao, silicate, silica, lime):
    """1 P2O5 binds 3 CaO, each SiO2 two of what is left: by hand."""
    shared = share_lime({"CaO": cao, "SiO2": 3.0, "P2O5": 1.0, "MgO": 2.0}, min)
    by_hand = {"Ca3(PO4)2": 1.0, "Ca2SiO4": silicate, "SiO2": silica, "CaO": lime, "MgO": 2.0}
    assert shared == by_hand


# ---- a second oxide ------------------------------------------------------------------------------

HEAT = """
import json
from steelthermo import blow, charge, ladle, hot_metal
from steelthermo.streams import LiquidMetal
from steelthermo.works import load_profile
hot = dict(load_profile().hot_metal.analysis_pct) | {"V": 0.3}
heat = charge.solve(hot_metal_pct=hot)
come, go = heat.heat_account()
run = blow.solve(heat)
steel = LiquidMetal(100e3, {"C": 0.05, "O": 0.05, "V": 0.01}, 1650.0)
treated = ladle.treat(steel, {"ferrovanadium": 300.0, "aluminium": 200.0})
before = hot_metal.oxidise(
    LiquidMetal(100e3, {"C": 4.4, "Si": 0.4, "V": 0.3}, 1380.0),
    {"Si": 0.1, "V": 0.05}, lime_kg=2000.0
)
print(json.dumps({
    "charge": max(abs(x) for x in heat.closure().values()),
    "slag": heat.slag.oxides_kg["V2O3"] if "V2O3" in heat.slag.oxides_kg else 0.0,
    "slag5": heat.slag.oxides_kg.get("V2O5", 0.0),
    "rows": {k: x for k, x in come.items() if k.startswith("V to")},
    "other": go["other reactions"],
    "total": sum(come.values()),
    "nm3_per_kg": charge.nm3_per_kg("V"),
    "equivalent": hot_metal.oxygen_equivalent_nm3_t({"V": 0.1})["V"],
    "blow": max(abs(x).max() for x in run.closure().values()),
    "agreement": run.agreement(),
    "blown": {o: run.slag.oxides_kg[o][-1] for o in ("V2O3", "V2O5") if o in run.slag.oxides_kg},
    "ladle": max(abs(x) for x in treated.closure().values()),
    "ladle slag": dict(treated.outputs["slag"].oxides_kg),
    "before": max(abs(x) for x in before.closure().values()),
    "before slag": dict(before.outputs["slag skimmed"].species_kg),
}))
"""


@pytest.fixture(scope="module")
def heat_with(tmp_path_factory):
    """A heat with vanadium, run by a copy of the kit in which share_pct of it burns to V2O5."""

    def run(share_pct):
        home = tmp_path_factory.mktemp("kit")
        kit = Path(steelthermo.__file__).parent
        shutil.copytree(kit, home / "steelthermo", ignore=shutil.ignore_patterns("__pycache__"))
        (table,) = (home / "steelthermo" / "data").rglob("oxides.csv")
        text = table.read_text(encoding="utf-8")
        others = [r for r in text.splitlines(keepends=True) if not r.startswith("V,")]
        text = "".join(others) + BOTH.format(100 - share_pct, share_pct)
        table.write_text(text, encoding="utf-8")
        done = subprocess.run(
            [sys.executable, "-c", HEAT],
            cwd=home,
            env=os.environ | {"PYTHONPATH": str(home), "STEELTHERMO_PROFILE": ""},
            capture_output=True,
            text=True,
            timeout=120,
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    return run


@pytest.mark.parametrize("share_pct", [0, 30, 100])
def test_a_second_oxide_of_vanadium_is_one_row(heat_with, share_pct):
    """Oxygen by hand: 1.5 or 2.5 atoms for one of vanadium (50.94 kg/kmol, 22.414 Nm3/kmol). Heats
    of formation of V2O3 and V2O5, kJ/mol: Handbook of Chemistry and Physics, as in
    data/published_checks.csv.
    """
    found, share = heat_with(share_pct), share_pct / 100.0
    atoms = 1.5 * (1.0 - share) + 2.5 * share
    nm3 = atoms / 2.0 * 22.414 / 50.9415
    assert found["nm3_per_kg"] == pytest.approx(nm3, rel=1e-5)
    assert found["equivalent"] == pytest.approx(nm3, rel=1e-5)
    three, five = found["slag"], found["slag5"]
    assert three / 149.88 * (share) == pytest.approx(five / 181.88 * (1.0 - share), rel=1e-4)
    heats = {"V to V2O3": three / 149.88 * 1218.8, "V to V2O5": five / 181.88 * 1550.6}
    assert found["rows"] == pytest.approx({k: x for k, x in heats.items() if x}, rel=1e-2)
    assert abs(found["other"]) < 0.002 * found["total"]
    assert found["charge"] < 1e-9 and found["ladle"] < 1e-9 and found["before"] < 1e-6
    assert found["blow"] < 1e-6
    for what, by in found["agreement"].items():
        assert abs(by) < (0.5 if what == "temperature" else 2e-3), what
    made = {"V2O3": three, "V2O5": five}
    assert found["blown"] == pytest.approx({o: x for o, x in made.items() if x}, rel=1e-3)
    for slag in (found["ladle slag"], found["before slag"]):
        assert [o for o in made if slag.get(o)] == [o for o in made if made[o]]
