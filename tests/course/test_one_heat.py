"""One heat through the course: where lessons and panels speak of the usual heat of Heron Works, it
is one charge, and what is summed by hand stands within the bridge that is written beside it.
"""

import ast
import json
import re
from functools import cache
from pathlib import Path

import pytest

from steelthermo.charge import Charge, burnt_kg_t, iron_ledger, oxygen_ledger, solve
from steelthermo.course.l15_whole_heat.steps import begin
from steelthermo.coursekit.panel import make_panel
from steelthermo.end_point import usual_slag_kg_t
from steelthermo.thermo import heat_content, oxidation_heat
from steelthermo.works import WORKS, load_profile

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
    by_hand = float(re.search(r"of ([\d.]+) Nm3 per t; 180 t at 460 Nm3/min", text)[1])
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


def test_lesson_08_sums_by_hand_with_figures_that_it_prints():
    """Each heat of the sum stands in the text above it, and is that of the tables at 1660 °C."""
    cells = json.loads(next(LESSONS.glob("08_*.ipynb")).read_text(encoding="utf-8"))["cells"]
    sources = ["".join(cell["source"]).replace("\u00a0", " ") for cell in cells]
    text = next(x for x in sources if "once by hand" in x)
    code = next(x for x in sources if "spare = " in x)
    T = 1660.0 + 273.15
    iron_mj_t = [heat_content("Fe", T + dT) / 55.845 for dT in (0.0, 1.0)]
    burnt = [
        oxidation_heat(key, T, "dissolved, cold oxygen") / 1e6
        for key in ("C to CO", "C to CO2", "Si to SiO2")
    ]
    for figure, full in zip(
        ("9.38", "30.19", "26.66", "1403", "0.824"),
        (*burnt, iron_mj_t[0], iron_mj_t[1] - iron_mj_t[0]),
        strict=True,
    ):
        assert figure in text and figure in code
        assert float(figure) == pytest.approx(full, rel=1e-3)


def test_the_masses_summed_by_hand_are_those_of_the_heat():
    """Lesson 01 charges the hot metal and scrap of the 180 t heat; lesson 04 burns its elements.
    Rust of the scrap (1 % Fe2O3, 69.9 % of it iron) is what the planning sheet counts more.
    """
    heat = HEAT.for_tap(180.0)
    hot_metal_t, scrap_t = re.search(
        r"(\d+) t of hot(?s:.*)\n(\d+) t of scrap", printed("01")
    ).groups()
    assert int(hot_metal_t) == pytest.approx(heat.hot_metal.mass_kg / 1000.0, abs=0.5)
    assert int(scrap_t) == pytest.approx(heat.scrap.mass_kg / 1000.0, abs=0.5)
    burnt = re.search(r"\{.*?\}", printed("04"))[0]
    carbon, iron = (re.search(rf"'{e}': ([\d.]+)", burnt)[1] for e in ("C", "Fe"))
    gone = HEAT.gas.element_kg()["C"] / HEAT.steel.mass_kg * 1000.0
    assert float(carbon) == pytest.approx(gone, rel=0.01)
    come, go = iron_ledger(HEAT)
    lost = go["FeO in slag"] + go["Fe2O3 in slag"] + go["dust"]
    rust = HEAT.scrap.mass_kg / HEAT.steel.mass_kg * 10.0 * 0.699
    assert float(iron) == pytest.approx(lost - rust, rel=0.01)
    assert make_panel("oxygen_demand").result.burnt["Fe"] == pytest.approx(float(iron), abs=0.06)


def test_panel_04_burns_what_the_usual_heat_burns():
    """At the share of hot metal of the full balance: silica of dirt comes burnt, and metal that is
    lost as such takes its part of the charge.
    """
    panel = make_panel("oxygen_demand")
    share = 100.0 - HEAT.scrap_share_pct
    panel.set(share_pct=round(share))
    for element, kg_t in burnt_kg_t(HEAT).items():
        if element != "Cr":  # the panel leaves it out
            assert panel.result.burnt[element] == pytest.approx(kg_t, rel=0.01), element


def test_lesson_05_blows_the_same_heat():
    """By hand 51 Nm3 of O2 per t, four fifths of it on carbon; the full balance is the usual heat
    but for its argon, 0.3 % counted as nitrogen.
    """
    source = next(LESSONS.glob("05_*.ipynb")).read_text(encoding="utf-8")
    share = re.search(r"ballast \+ o2 \* ([\d.]+) \* 2", source)[1]
    by_hand = re.search(r"(\d+) Nm3 of O2 per t", printed("05"))[1]
    assert float(by_hand) == pytest.approx(0.995 * HEAT.per_t("oxygen"), rel=0.01)
    _, go = oxygen_ledger(HEAT)
    on_carbon = (go["carbon to CO"] + go["carbon to CO2"]) / (0.995 * HEAT.per_t("oxygen"))
    assert float(share) == pytest.approx(on_carbon, abs=0.03)
    scrap, gas = re.search(r"99.5 % O2: scrap (\d+) kg .* gas (\d+) Nm3", printed("05")).groups()
    assert float(scrap) == pytest.approx(HEAT.for_tap(1.0).scrap.mass_kg, rel=0.005)
    assert float(gas) == pytest.approx(HEAT.for_tap(1.0).gas.total_nm3, rel=0.01)


def test_lesson_13_ends_the_same_heat_and_the_bridge_to_the_law():
    """By hand three tenths of the oxygen find carbon, all of it to CO; by the law the share that is
    printed beside it, 11 % of that to CO2. The slag is that of the heat.
    """
    text, tonnes = printed("13"), HEAT.steel.mass_kg / 1000.0
    by_hand = float(re.search(r"0.08 to 0.04 % C: (\d+) Nm3", text)[1])
    by_law, share = re.search(r"\| (\d+) ± \d+ Nm3(?s:.*?)of it (\d+)% burn carbon", text).groups()
    assert by_hand == pytest.approx(180 * 0.4 * 0.933 / 0.30, abs=0.6)  # 0.4 kg of carbon a tonne
    bridge = by_hand * 1.11 * 0.30 / (float(share) / 100.0)
    assert bridge == pytest.approx(float(by_law), rel=0.02)
    for oxide, kg_t in usual_slag_kg_t(load_profile("heron")).items():
        assert kg_t == pytest.approx(HEAT.slag.oxides_kg[oxide] / tonnes, rel=1e-9)
    at = make_panel("end_point").result.at
    end = load_profile("heron").end_point
    assert (at.aim_temp_c, at.aim_carbon_pct) == (end.temp_c, end.analysis_pct["C"])


def test_lesson_15_and_the_heat_sheet_begin_with_the_same_heat():
    """Treated hot metal of the usual mass ends at the usual temperature, with the oxygen that the
    law gives 0.04 % C (0.0024/0.04, own sum); the heat sheet plans as the charge does.
    """
    temp, ppm = re.search(r"steel (\d+) °C with (\d+) ppm O", printed("15")).groups()
    assert float(temp) == pytest.approx(HEAT.temp_c, abs=0.5)
    assert float(ppm) == pytest.approx(1e4 * 0.0024 / 0.04, abs=1.0)
    works = load_profile("heron")
    hot = works.hot_metal
    given = {
        "hot_metal_t": HEAT.hot_metal.mass_kg / 1000.0,
        "hot_metal_temp_c": hot.temp_c,
        "si_pct": hot.analysis_pct["Si"],
        "s_pct": hot.analysis_pct["S"],
    }
    planned = begin(given, works).planned
    for name in ("scrap", "lime", "oxygen", "slag"):
        assert planned.per_t(name) == pytest.approx(HEAT.per_t(name), rel=1e-6)


def test_what_the_other_hand_sums_begin_with_is_the_same_heat():
    """Masses per t of steel, carbon burnt, slag, oxygen that lessons 07, 09, 12, 14, 16 print."""
    per_t = HEAT.for_tap(1.0)
    slag = per_t.slag.analysis_pct
    parts = (per_t.hot_metal, per_t.scrap, per_t.lime, per_t.slag)
    pattern = r"(\d+) kg of hot metal, (\d+) of scrap, (\d+) of lime, (\d+) of vessel slag"
    found = re.search(pattern, printed("09")).groups()
    assert [float(x) for x in found] == pytest.approx([x.mass_kg for x in parts], abs=0.51)
    found = re.search(r"(\d+) kg of slag: (\{.*?\})", printed("07"))
    assert float(found[1]) == pytest.approx(per_t.slag.mass_kg, abs=0.51)
    assert ast.literal_eval(found[2]) == pytest.approx(slag, abs=0.051)
    carbon = re.search(r"(\d+) kg of carbon per t of steel", printed("12"))[1]
    assert float(carbon) == pytest.approx(burnt_kg_t(HEAT)["C"], abs=0.51)
    pattern = r"([\d.]+) kg/t of dissolved oxygen, slag with (\d+) % FeO and (\d+) % MnO"
    oxygen, feo, mno = map(float, re.search(pattern, printed("14")).groups())
    assert oxygen == pytest.approx(10.0 * per_t.steel.analysis_pct["O"], abs=0.006)
    assert (feo, mno) == pytest.approx((slag["FeO"], slag["MnO"]), abs=0.51)
    blown = re.search(r"([\d.]+) Nm3/t blown", printed("16"))[1]
    assert float(blown) == pytest.approx(HEAT.per_t("oxygen"), abs=0.051)


# numbers of cells that happen to be those of a works, and what they are
NOT_OF_THE_WORKS = {
    ("03", 1340): "hot metal of an example, whose silicon is not the works'",
    ("03", 4.5): "likewise",
    ("13", 1645): "a reading of the probe",
    ("14", 0.22): "silicon that a grade asks for",
}


@cache
def figures_of_works():
    """Figures of the three works that tell one from a round number, and of their usual heats."""
    out = set()
    for name in WORKS:
        works = load_profile(name)
        hot, end, oxygen = works.hot_metal, works.end_point, works.oxygen
        named = [works.vessel.tap_t, hot.temp_c, end.temp_c, works.slag.basicity]
        named += [hot.analysis_pct["C"], hot.analysis_pct["Si"]]  # less is in steels too
        named += [oxygen.purity_pct, oxygen.purity_pct / 100.0, oxygen.flow_nm3_min]
        heat = solve(works).for_tap(1.0)
        parts = (heat.hot_metal, heat.scrap, heat.lime, heat.slag)
        named += [round(part.mass_kg) for part in parts] + [round(heat.per_t("oxygen"), 1)]
        out |= {x for x in named if len(f"{x:g}".strip("0.").replace(".", "")) > 1}
    return out


@pytest.mark.parametrize("path", sorted(LESSONS.glob("*.ipynb")), ids=lambda p: p.stem)
def test_no_figure_of_a_works_is_typed_in_a_cell(path):
    """A cell reads the works; so it says the same of another works, and goes along with changes."""
    figures, number = figures_of_works(), path.stem[:2]
    typed = set()
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            for node in ast.walk(ast.parse("".join(cell["source"]))):
                if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
                    typed |= {node.value} & figures
    assert typed == {x for lesson, x in NOT_OF_THE_WORKS if lesson == number}
