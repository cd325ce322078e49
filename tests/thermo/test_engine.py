"""Tables written from Cantera against Cantera itself, which is the reference throughout: the tables
stand in for it where it cannot be installed.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from steelthermo.base import InputError, atomic_weight, formula, rows
from steelthermo.streams import Gas, gas_equilibrium
from steelthermo.thermo import engine, exported, species_of_file, write_tables

ct = pytest.importorskip("cantera")
ROOT = Path(__file__).resolve().parents[2]
FORMED = "CO CO2 O2 N2 Ar H2 H2O CH4 O H OH NO SO2 SO S2 H2S COS".split()
# gases of the trade; then some that leave a share open, or hold next to nothing of an element
GASES = (
    {"CO": 70.0, "CO2": 15.0, "N2": 15.0},
    {"CO": 60.0, "CO2": 10.0, "N2": 20.0, "H2": 5.0, "H2O": 5.0},
    {"CO": 30.0, "O2": 15.0, "N2": 54.0, "Ar": 1.0},
    {"CO": 60.0, "CO2": 20.0, "N2": 19.0, "SO2": 1.0},
    {"CO": 80.0, "CO2": 10.0, "H2S": 3.0},
    {"CO": 100.0},
    {"CO": 66.0, "O2": 33.0},
    {"H2O": 5.0},
    {"CH4": 5.0, "O2": 10.0},
    {"SO2": 5.0, "N2": 95.0},
    {"CO": 99.9999, "CO2": 1e-4},
    {"CO": 80.0, "N2": 20.0, "SO2": 1e-9},
)


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    """The file, and this module's exported reading it, while engine goes on with Cantera."""
    path = tmp_path_factory.mktemp("tables") / "exported.json"
    write_tables(path)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(exported, "PATH", path)
        exported._tables.cache_clear()
        yield path
    exported._tables.cache_clear()


def test_the_kit_ships_no_tables_and_uses_cantera():
    assert not exported.PATH.is_file() and engine._cantera() is ct


def test_atomic_weights_are_the_engine_s_own():
    """So that molar masses here and there are the same to the last digit."""
    listed = {row["element"]: row["value"] for row in rows("atomic_weights")}
    theirs = {}
    for symbol in ct.Element.element_symbols:
        try:
            theirs[symbol] = ct.Element(symbol).weight
        except ct.CanteraError:
            continue  # no stable isotope
    for isotope_or_electron in ("D", "E", "Tr"):
        theirs.pop(isotope_or_electron, None)
    assert listed == theirs and atomic_weight("Fe") == theirs["Fe"]


@pytest.mark.parametrize("kind, least", [("cp", 1e3), ("h", 1e5), ("s", 1e3)])
def test_every_species(tables, kind, least):
    """Relative to the value, or to `least` (J/kmol, J/(kmol K)) where the value passes zero; at 31
    temperatures of each range, and on both sides of each limit.
    """
    listed = json.loads(tables.read_text())
    assert sum(map(len, listed.values())) > 120
    for file, names in listed.items():
        ours, theirs = exported.species(file), species_of_file(file)
        for name in names:
            o, t = ours[name], theirs[name]
            assert (o.min_temp, o.max_temp) == (t.min_temp, t.max_temp)
            edges = [T for low, high, _ in o.segments for T in (low, high)]
            T = np.array(
                [*np.linspace(o.min_temp - 2.0, o.max_temp, 31), *edges, *np.nextafter(edges, 0)]
            )
            wanted = np.array([getattr(t, kind)(x) for x in T])
            allowed = 1e-8 * np.maximum(np.abs(wanted), least)
            assert np.all(np.abs(getattr(o, kind)(T) - wanted) < allowed), name
            alone = np.array([getattr(o, kind)(float(x)) for x in T])
            assert np.all(np.abs(alone - wanted) < allowed), name


def _kmol(gas, points):
    held = {e for s in gas for e in formula(s)}
    formulas = [s for s in FORMED if set(formula(s)) <= held]
    return formulas, np.array([[gas.get(s, 0.0) / 22.414] * points for s in formulas])


@pytest.mark.parametrize("gas", GASES, ids=lambda g: " ".join(g))
def test_equilibria(tables, gas):
    """Within 1e-8 Nm3, at 300 to 3200 degC and 10 to 1000 kPa."""
    T = np.array([573.15, 673.15, 900.0, 1073.15, 1273.15, 1500.0, 1923.15, 2400.0, 3473.15])
    formulas, kmol = _kmol(gas, len(T))
    for kpa in (10.0, 101.325, 1000.0):
        pascal = np.full(len(T), 1000.0 * kpa)
        _, wanted = engine.gas_at_equilibrium(formulas, kmol, pascal, T=T)
        _, found = exported.gas_at_equilibrium(formulas, kmol, pascal, T=T)
        assert np.abs(found - wanted).max() * 22.414 < 1e-8


@pytest.mark.parametrize("gas", [g for g in GASES if len(g) > 2], ids=lambda g: " ".join(g))
def test_equilibria_at_an_enthalpy(tables, gas):
    """The enthalpies of the equilibria at 600 to 3100 degC lead back to their temperatures."""
    T = np.linspace(873.0, 3373.0, 7)
    formulas, kmol = _kmol(gas, len(T))
    pascal, within = np.full(len(T), 101325.0), (763.0, 3483.0)
    _, there = engine.gas_at_equilibrium(formulas, kmol, pascal, T=T)
    data = species_of_file("nasa_gas.yaml")
    heat = sum(n * [data[s].h(t) for t in T] for s, n in zip(formulas, there, strict=True))
    found, kmol_found = exported.gas_at_equilibrium(
        formulas, kmol, pascal, enthalpy_j=heat, within=within
    )
    assert found == pytest.approx(T, rel=1e-9)
    assert np.abs(kmol_found - there).max() * 22.414 < 1e-7  # as the temperature is 1e-9 away
    theirs, _ = engine.gas_at_equilibrium(formulas, kmol, pascal, enthalpy_j=heat, within=within)
    assert found == pytest.approx(theirs, rel=1e-7)  # Cantera's own search stops earlier


def test_points_where_an_element_is_missing(tables):
    """Gases of an array need not hold the same elements: nitrogen alone beside converter gas."""
    formulas, kmol = _kmol({"CO": 70.0, "CO2": 15.0, "N2": 15.0}, 2)
    kmol[:, 1] = [n if s == "N2" else 0.0 for s, n in zip(formulas, kmol[:, 1], strict=True)]
    T, pascal = np.array([1900.0, 1900.0]), np.array([1e5, 1e5])
    _, wanted = engine.gas_at_equilibrium(formulas, kmol, pascal, T=T)
    _, found = exported.gas_at_equilibrium(formulas, kmol, pascal, T=T)
    assert np.abs(found - wanted).max() * 22.414 < 1e-8


@pytest.mark.parametrize("gas", GASES[:4], ids=lambda g: " ".join(g))
def test_a_step_near_the_equilibrium_leaves_the_square_of_what_was_off(tables, gas):
    """The convergence of Newton's method: a tenth off, a hundredth left. A step that drops a term
    would come nearer in proportion only.
    """
    formulas, kmol = _kmol(gas, 2)
    T, pascal = np.array([1500.0, 2400.0]), np.array([1e5, 3e5])
    left = {}
    for off in (1e-3, 1e-4):
        found = exported._Gas(formulas, kmol, pascal)
        found.settle(T)
        at = found._log_n.copy()
        found._log_n += off * np.sin(np.arange(at.shape[1]))
        found._log_total -= off
        found._step(found.standard(T))
        large = at > np.log(1e-6)
        left[off] = np.abs(found._log_n - at)[large].max()
    assert left[1e-3] < 1e-5 and left[1e-4] == pytest.approx(0.01 * left[1e-3], rel=0.3)


def test_what_is_not_there_is_refused(tables):
    with pytest.raises(InputError, match="the tables have no such file"):
        exported.species("nasa_none.yaml")
    with pytest.raises(InputError, match="below 500 °C"):
        gas_equilibrium(Gas({"CO": 60.0, "O2": 40.0}, 25.0), enthalpy_kj=-1e9)


_GOLDEN = """
import sys
from pathlib import Path

sys.modules["cantera"] = None  # it cannot be imported
from steelthermo.thermo import exported

exported.PATH = Path(sys.argv[1])
import write_golden

write_golden.REL = write_golden.LEAST = 1e-9
for name in sys.argv[2:]:
    print(*write_golden.differences(name), sep="\\n", end="")
"""


def _moved(tables, *names):
    done = subprocess.run(
        [sys.executable, "-c", _GOLDEN, str(tables), *names],
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), str(ROOT / "tests/tools")])},
        cwd=tables.parent,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout


def test_heats_of_the_course(tables):
    """Charges and ladles without Cantera, to 1e-9 of the golden figures, computed with it."""
    assert _moved(tables, "charges", "ladles") == ""


@pytest.mark.long
def test_the_whole_course(tables):
    """Every heat sheet, blow, problem and panel in the same way. A printed figure may round to the
    other side; traces in the gas of lesson 12 are held by the equilibria above. What lesson 17
    finds less expected may be 0.002 °C of 1650: 1e-9 is asked of the temperatures.
    """
    assert _moved(tables, "heats", "blows", "problems") == ""
    panels = [x for x in _moved(tables, "panels").splitlines() if "numbers behind" in x]
    found_less_expected = [x for x in panels if "own_heats" in x]
    for line, gone in zip(found_less_expected[::2], found_less_expected[1::2], strict=True):
        now, before = re.search(
            r"behind: (\S+) is there no longer, nearest is (\S+)$", line
        ).groups()
        assert float(now) == pytest.approx(float(before), rel=1e-9, abs=1e-9 * 1650.0)
        assert gone.endswith("numbers behind: 1 gone")
    assert [x for x in panels if "off_gas" not in x and "own_heats" not in x] == []
