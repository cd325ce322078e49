"""What leaves the range of its data is told to whoever sees the number: in the panel, with the
right answer, on the key and in the report; and the calculation itself warns or refuses.

The cases are those at which a coefficient or an equation once gave a number without a word.
"""

import csv
import io

import pytest
from sample_sheets import write

from steelthermo import slag, thermo
from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.marking import keys, marking
from steelthermo.coursekit.panel import make_panel
from steelthermo.coursekit.problems import check, draw
from steelthermo.streams import LiquidMetal

STEEL_K = 1873.15
LIMY = {"CaO": 48, "SiO2": 14, "FeO": 18, "Fe2O3": 6, "MgO": 8, "MnO": 4, "P2O5": 2}


def oxygen(element, pct, coefficients):
    return thermo.equilibrium_oxygen({element: pct}, STEEL_K, coefficients=coefficients)


def partition(key, **pct):
    return slag.partition(pct, STEEL_K, key)


WARNED = {
    "Al 0.1 jsps": (lambda: oxygen("Al", 0.1, "jsps"), "e_O^Al: Al 0.1 %"),
    "Al 0.3 jsps": (lambda: oxygen("Al", 0.3, "jsps"), "e_O^Al: Al 0.3 %"),
    "Al 1 jsps": (lambda: oxygen("Al", 1.0, "jsps"), "e_O^Al: Al 1 %"),
    "Al 0.1 msts": (lambda: oxygen("Al", 0.1, "msts"), "e_O^Al: Al 0.1 %"),
    "Al 0.3 msts": (lambda: oxygen("Al", 0.3, "msts"), "e_O^Al"),
    "C 0.9": (lambda: thermo.oxygen_with_carbon(0.9, STEEL_K), "e_O^C: C 0.9 %"),
    "C 0.9, law of much carbon": (
        lambda: thermo.oxygen_with_carbon(0.9, STEEL_K, high_carbon=True),
        "carbon, for e_O^C: 0.9 % lies outside the range 1 to 3 %",
    ),
    "Ti 0.25": (lambda: oxygen("Ti", 0.25, "jsps"), "Ti 0.25 %"),
    "Ti 1": (lambda: oxygen("Ti", 1.0, "jsps"), "Ti 1 %"),
    "no CaO": (lambda: partition("SI-c", FeO=50, SiO2=50), "SI-c: CaO 0 %"),
    "99 CaO": (lambda: partition("SI-c", FeO=1, CaO=99), "SI-c: CaO 99 %"),
    "60 MgO": (lambda: partition("Park-Dzo", FeO=20, CaO=10, SiO2=10, MgO=60), "MgO 60 %"),
    "bracket": (lambda: partition("SI-a", **LIMY), "SI-a: bracket 51.8 %"),
    "1400 K": (lambda: thermo.oxygen_saturation_pct(1400.0), "temperature 1127 °C"),
    "2200 K": (lambda: thermo.oxygen_saturation_pct(2200.0), "temperature 1927 °C"),
    "Ca3(PO4)2": (lambda: thermo.enthalpy("Ca3(PO4)2", 1900.0), "25 to 1327 °C"),
    "5.5 C": (lambda: LiquidMetal(1000.0, {"C": 5.5}, 1150.0), "C 5.5 % was given; it holds 4.2"),
}
REFUSED = {
    "Al 3 jsps": (lambda: oxygen("Al", 3.0, "jsps"), "no result beyond"),
    "Al 1 msts": (lambda: oxygen("Al", 1.0, "msts"), "no result beyond"),
    "Al 3 msts": (lambda: oxygen("Al", 3.0, "msts"), "no result beyond"),
    "Ti of msts": (lambda: oxygen("Ti", 0.25, "msts"), "none is borrowed"),
}


@pytest.mark.parametrize("case", WARNED)
def test_warned(case):
    run, words = WARNED[case]
    with pytest.warns(ExtrapolationWarning) as told:
        run()
    assert any(words in str(one.message) for one in told)


@pytest.mark.parametrize("case", REFUSED)
def test_refused(case):
    run, words = REFUSED[case]
    with pytest.raises(InputError, match=words):
        run()


PANELS = [
    ("oxidation_heat", {}, "Ca3(PO4)2 (alpha): temperature 1600 °C"),
    ("charge_materials", {"c_pct": 4.8}, "liquid metal: C 4.8 % was given; it holds 4.5"),
    ("heat_balance", {"c_pct": 4.8, "hot_metal_temp_c": 1250}, "C 4.8 % was given; it holds 4.3"),
    ("phosphorus_and_sulphur", {"temp_c": 1700}, "SI-c: temperature 1700 °C"),
    ("phosphorus_and_sulphur", {"basicity": 4.5}, "SI-c: bracket"),
    ("phosphorus_and_sulphur", {"data": "SI-a"}, "SI-a: bracket 5"),
    ("tapping_and_ladle", {"al_kg_t": 3.0}, "e_O^Al: Al 0.1"),
]


@pytest.mark.parametrize("name, settings, words", PANELS)
def test_the_panel_tells(name, settings, words):
    panel = make_panel(name)
    panel.set(**settings)
    assert any(words in remark for remark in panel.remarks)
    assert panel._say.value.count('class="st-beyond"') == len(panel.remarks)


def test_the_panel_of_the_heat_balance_tells_what_a_melter_would_remark():
    """Rich and hot metal: more lime and scrap than shops report. Remarks of the solved charge."""
    panel = make_panel("heat_balance")
    assert "remark" not in panel.text
    panel.set(hot_metal_temp_c=1450, si_pct=1.2)
    assert "remark on burnt lime, scrap in the metallic charge:" in panel.text
    rows = [row for row in panel.numbers(panel.result) if row[0].startswith("remark")]
    assert len(rows) == 2 and all("what shops report" in row[3] for row in rows)


BEYOND = [problem for problem in STEEL.problems if problem.beyond]


def test_answer_key_and_report_tell(tmp_path):
    """Told with the right answer and not with a wrong one; on the key of a learner, on that of a
    class, in its CSV; below the table of problems in the lecturer's report.
    """
    assert {problem.lesson for problem in BEYOND} == {
        "order_of_oxidation",
        "phosphorus_and_sulphur",
    }
    for problem in BEYOND:
        own = draw(problem, "Ada")
        (told,) = (x for x in check(own, own.answer_text()).sentences if x.startswith("Beyond"))
        assert told == "Beyond the data: " + own.text(problem.beyond)
        assert not any(x.startswith("Beyond") for x in check(own, "1e9").sentences)
    draws = {name: [draw(problem, name) for problem in BEYOND] for name in ("Ada", "Bea")}
    for worked in (True, False):
        assert keys.answer_key_html(draws, "HS26", worked).count("Beyond the data: ") >= len(BEYOND)
    rows = list(csv.DictReader(io.StringIO(keys.answer_key_csv(draws))))
    assert all(row["beyond"] for row in rows)
    write(tmp_path / "ada.jsonl", "Ada", [(problem, None, 60) for problem in BEYOND])
    html = marking.mark(tmp_path).html
    for problem in BEYOND:
        assert f"Beyond the data: {problem.beyond[:20]}" in html, problem.key


def test_remarks_that_differ_in_figures_alone_are_told_once():
    """Cold hot metal holds less carbon than was given: so says each stage behind it."""
    panel = make_panel("pretreatment")
    panel.set(temp_c=1250)
    assert len(panel.remarks) == 1 and "other figures" in panel.remarks[0]


def test_a_side_figure_that_cannot_be_hides_no_picture():
    """Air factor 2: the scrap would pass 1000 degC, the hood is shown all the same."""
    panel = make_panel("off_gas")
    panel.set(air_factor=2.0)
    assert panel.error is None and "above 1000 °C" in panel.text
