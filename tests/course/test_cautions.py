"""Nothing that could be acted out stands without its box of cautions, and the figures of the
cautions stand in their table alone.
"""

import json
import re
from pathlib import Path

import pytest
import write_cautions

from steelthermo.base import rows
from steelthermo.course import (
    formula_sheet_html,
    planning_sheet_html,
    steel,
    visit_card_html,
)
from steelthermo.course.adapter import DEFERRAL
from steelthermo.course.l15_whole_heat.entries import ENTRIES
from steelthermo.coursekit.caution import caution_box
from steelthermo.coursekit.panel import make_panel
from steelthermo.trust import cautions

ROOT = Path(__file__).parents[2]
COURSE = steel()
EXCEPTIONS = {"order_of_oxidation.silica_in_slag": "lime binds silica: nothing is handled"}
OF_CONTROLS = {  # activities, a pressure, phosphorus brought in: nothing is handled
    "03": {"lime_burns", "oxygen_short"},
    "07": {"water_under_metal"},
}


def of_acts(text):
    """Keys of the hazards of the acts that a text names."""
    return {
        key
        for key, one in cautions().items()
        if any(re.search(rf"\b{re.escape(act)}\b", text, re.I) for act in one.acts)
    }


def test_words_of_acts_are_found():
    assert of_acts("30 t of shredded scrap") == {"water_under_metal", "scrap_surprise"}
    assert of_acts("The hot metal is treated with magnesium.") == {"magnesium_fire"}
    assert not of_acts("The square root of a pressure")


def test_every_problem_with_a_hazardous_act_has_its_box():
    missing = {}
    for problem in COURSE.problems:
        asked = of_acts(f"{problem.title} {problem.text}") - set(problem.cautions)
        if asked:
            missing[problem.key] = asked
        assert set(problem.cautions) <= set(cautions()), problem.key
    assert missing.keys() == EXCEPTIONS.keys(), missing


def test_every_entry_of_the_heat_sheet_has_its_box():
    for entry in ENTRIES:
        assert of_acts(f"{entry.title} {entry.template}") <= set(entry.cautions), entry.key
    bare = {e.key for e in ENTRIES if not e.cautions}
    assert not bare


def test_every_panel_has_its_box():
    for lesson in COURSE.lessons:
        if lesson.panels:
            assert lesson.part("lesson").CAUTIONS, lesson
        for path in (ROOT / "steelthermo/course").glob(f"l{lesson.number}_*/panel.csv"):
            asked = of_acts(path.read_text(encoding="utf-8")) - set(lesson.part("lesson").CAUTIONS)
            assert asked == OF_CONTROLS.get(lesson.number, set()), lesson
    panel = make_panel("heat_balance")
    children = panel.widget.children
    box = next(
        k for k, c in enumerate(children) if 'class="st-caution"' in str(getattr(c, "value", ""))
    )
    controls = next(k for k, c in enumerate(children) if "st-controls" in c._dom_classes)
    assert box < controls
    assert DEFERRAL.replace("'", "&#x27;") in children[box].value


@pytest.mark.parametrize(
    "page", [visit_card_html, planning_sheet_html, formula_sheet_html], ids=lambda f: f.__name__
)
def test_a_page_to_print_says_who_decides(page):
    """The other pages are held in the tests of lessons 13, 15 and 17."""
    assert DEFERRAL.partition(". ")[2] in page().replace("&#x27;", "'")


def test_a_box_tells_all_that_its_hazards_say():
    box = caution_box(cautions())
    for one in cautions().values():
        for text in (one.what, one.why, one.visitor, one.site, *one.figures):
            assert text.split("'")[0] in box.replace("&#x27;", "'").replace("&gt;", ">"), text
    assert caution_box(()) == ""


def _texts():
    for path in sorted((ROOT / "lessons").glob("*.ipynb")):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        yield (
            path.name,
            "".join("".join(c["source"]) for c in cells if c["cell_type"] == "markdown"),
        )
    for path in sorted((ROOT / "steelthermo/course").glob("*/*.toml")):
        yield path.parent.name, path.read_text(encoding="utf-8")


# a figure of the table with its unit is typed nowhere else, but where a problem asks about it
ASKED = {
    "l12_off_gas": "limits that its problems ask about",
    "12_off_gas.ipynb": "limits that the lesson teaches to read",
    "l09_pretreatment": "the gas yield that a problem recomputes",
}
_UNIT = {"m3": "m3|m³", "MJ": "MJ/kg", "ppm": "ppm", "%": "%"}
_NEAR = "steam|alarm|limit|danger|hazard|explo|acetylene|slak|breath|clothes"


def test_no_figure_is_typed_twice():
    for name, text in _texts():
        for row in rows("safety_figures"):
            unit = _UNIT.get(row["unit"])
            if unit is None or name in ASKED:
                continue
            for found in re.finditer(rf"(?<![\d.]){row['value']:g}\s?({unit})", text):
                near = text[max(0, found.start() - 120) : found.end() + 120]
                assert not re.search(_NEAR, near, re.I), f"{name}: {near}"


@pytest.mark.parametrize("word", ["Cautions.", "Cautions first"])
def test_no_caution_is_typed_in_a_lesson(word):
    assert not [name for name, text in _texts() if word in text]


def test_readme_tells_the_table():
    """Written by tests/tools/write_cautions.py."""
    readme = write_cautions.README.read_text(encoding="utf-8")
    assert write_cautions.replaced(readme) == readme
