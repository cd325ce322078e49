"""One heat through the course: where lessons and panels speak of the usual heat of Heron Works, it
is one charge, and what is summed by hand stands within the bridge that is written beside it.
"""

import json
import re
from pathlib import Path

import pytest

from steelthermo.charge import Charge, iron_ledger, oxygen_ledger, solve
from steelthermo.coursekit.panel import make_panel
from steelthermo.works import load_profile

LESSONS = Path(__file__).parents[2] / "lessons"
HEAT = solve(load_profile("heron"))
PANELS = ("start_here", "slag_basicity", "phosphorus_and_sulphur", "heat_balance")


def printed(number):
    """Text that the cells of a saved lesson print, one after the other."""
    path = next(LESSONS.glob(f"{number}_*.ipynb"))
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return "".join(
        "".join(out.get("text", "")) for cell in cells for out in cell.get("outputs", ())
    )


def charges(record):
    """The charges that the record of a panel holds."""
    values = record._asdict().values() if hasattr(record, "_asdict") else vars(record).values()
    return [x for x in values if isinstance(x, Charge)]


@pytest.mark.parametrize("name", PANELS)
def test_panels_begin_with_the_usual_heat(name):
    """Scrap share, oxygen and slag per t; 1 %, for a slider stands on whole steps."""
    panel = make_panel(name)
    found = charges(panel.result)
    assert found, name
    for heat in found:
        assert heat.scrap_share_pct == pytest.approx(HEAT.scrap_share_pct, rel=0.01)
        assert heat.per_t("oxygen") == pytest.approx(HEAT.per_t("oxygen"), rel=0.01)
        assert heat.per_t("slag") == pytest.approx(HEAT.per_t("slag"), rel=0.01)


def test_lesson_04_and_the_bridge_to_the_full_charge():
    """By hand, what burns; the full charge more by what the steel keeps and what leaves unused."""
    text = printed("04")
    by_hand = float(re.search(r"of ([\d.]+) Nm3 per t; 180 t", text)[1])
    full = float(re.search(r"([\d.]+) Nm3 per t of steel", text)[1])
    assert full == pytest.approx(HEAT.per_t("oxygen"), abs=0.05)
    _, go = oxygen_ledger(HEAT)
    bridge = go["dissolved in the metal"] + go["unused in the gas"]
    assert by_hand + bridge == pytest.approx(0.995 * full, rel=0.01)
    minutes = float(re.search(r"([\d.]+) min\n", text.split("Nm3 per t of steel,")[1])[1])
    assert minutes == pytest.approx(HEAT.for_tap(180.0).blow_minutes(460.0), abs=0.05)


def test_lesson_08_has_the_same_charge():
    text = printed("08")
    share, oxygen = re.search(
        r"scrap \d+ kg, ([\d.]+) % of the charge; oxygen ([\d.]+) Nm3", text
    ).groups()
    assert float(share) == pytest.approx(HEAT.scrap_share_pct, abs=0.05)
    assert float(oxygen) == pytest.approx(HEAT.per_t("oxygen"), abs=0.05)


def test_the_masses_summed_by_hand_are_those_of_the_heat():
    """Lesson 01 charges the hot metal and scrap of the 180 t heat; lesson 04 burns its elements."""
    heat = HEAT.for_tap(180.0)
    source = next(LESSONS.glob("01_*.ipynb")).read_text(encoding="utf-8")
    hot_metal_t, scrap_t = re.search(r"hot_metal_t, scrap_t = (\d+), (\d+)", source).groups()
    assert int(hot_metal_t) == pytest.approx(heat.hot_metal.mass_kg / 1000.0, abs=1.0)
    assert int(scrap_t) == pytest.approx(heat.scrap.mass_kg / 1000.0, abs=1.0)
    source = next(LESSONS.glob("04_*.ipynb")).read_text(encoding="utf-8")
    carbon, iron = (re.search(rf"{e} = ([\d.]+) \*", source)[1] for e in ("carbon", "iron"))
    burnt = HEAT.gas.element_kg()["C"] / HEAT.steel.mass_kg * 1000.0
    assert float(carbon) == pytest.approx(burnt, rel=0.01)
    come, go = iron_ledger(HEAT)
    lost = go["FeO in slag"] + go["Fe2O3 in slag"] + go["dust"]
    rust = HEAT.scrap.mass_kg / HEAT.steel.mass_kg * 10.0 * 0.699  # 1 % Fe2O3 came as such
    assert float(iron) == pytest.approx(lost - rust, rel=0.02)
