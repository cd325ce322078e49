"""Controls read from a table, and the tables that ship."""

import csv
from pathlib import Path

import pytest

from steelthermo.base import InputError
from steelthermo.coursekit import answers
from steelthermo.coursekit.panel import Control, read_controls

HEAD = "name,label,unit,low,high,step,default,why,help\n"
PLACE = {"cup.temp_c": 82.4, "cup.hot_c": 120.0}


def read(tmp_path, rows, more):
    file = tmp_path / "panel.csv"
    file.write_text(HEAD + rows, encoding="utf-8")
    return {c.name: c for c in read_controls(file, PLACE.__getitem__, more)}


def test_a_default_is_a_number_a_figure_of_the_place_or_handed_in(tmp_path):
    rows = (
        "typed,Typed,%,0,10,0.5,2.5,made up,\n"
        "own,Own,°C,20,95,5,cup.temp_c,made up,One more word.\n"
        "cut,Cut,°C,20,95,5,cup.hot_c,made up,\n"
        "found,Found,g,0,10,0.5,,made up,\n"
        "low,Low,g,3,10,0.5,,made up,\n"
    )
    found = read(tmp_path, rows, {"found": {"default": 4.4}, "low": {"default": -1.0}})
    assert list(found) == ["typed", "own", "cut", "found", "low"]
    # the place's own figure as it is, a computed one on the nearest step, each within its range
    assert [c.default for c in found.values()] == [2.5, 82.4, 95.0, 4.5, 3.0]
    assert (found["own"].unit, found["own"].help, found["cut"].help) == ("°C", "One more word.", "")


def test_choices_and_what_no_row_holds(tmp_path):
    rows = "milk,Milk,,,,,,made up,\nsugar,Sugar,,,,,two,made up,\n"
    more = {
        "sugar": {"choices": ("one", "two"), "used": lambda settings: settings["milk"]},
        "milk": {"choices": (("no", False), ("yes", True))},
        "minutes": {
            "label": "Time", "unit": "min", "low": 0, "high": 9, "step": 1,
            "default": 5.2, "why": "made up",
        },
    }  # fmt: skip
    found = read(tmp_path, rows, more)
    assert list(found) == ["minutes", "milk", "sugar"]
    assert [c.default for c in found.values()] == [5.0, False, "two"]
    assert not found["sugar"].used({"milk": False}) and found["milk"].used is None


@pytest.mark.parametrize(
    "rows, more, fault",
    [
        ("x,X,%,0,1,0.1,cup.cold_c,made up,\n", {}, KeyError),
        ("x,X,%,1,0,0.1,0.5,made up,\n", {}, InputError),
        ("x,X,%,0,1,0.1,,made up,\n", {}, ValueError),
        ("x,X,%,0,1,0.1,0.5,,\n", {}, InputError),
        ("x,X,%,0,1,0.1,0.5,made up,\n", {"y": {"default": 0.5}}, KeyError),
    ],
)
def test_a_row_that_makes_no_sense_is_refused(tmp_path, rows, more, fault):
    with pytest.raises(fault):
        read(tmp_path, rows, more)


def test_the_tables_that_ship_have_the_same_columns():
    tables = sorted((Path(__file__).parents[3] / "steelthermo" / "course").glob("l*/*.csv"))
    heads = {
        path.name: next(csv.reader(path.open(encoding="utf-8")))
        for path in tables
        if path.with_suffix(".py").is_file()
    }
    assert len(heads) >= 2 and all(
        head == [*HEAD.strip().split(","), "folded"] for head in heads.values()
    )


@pytest.mark.parametrize("text", ["1,250", "1,250.5", "1.250,5", "10^3", "12 500 kg", "1.2e3 kg"])
def test_slider_and_answer_box_read_the_same(text):
    """What the box of an answer reads, the box of a slider reads, in kilograms."""
    mass = Control("mass_kg", "Mass", "kg", 500, 20_000, 1, 1000, "made up")
    assert mass.read(text) in answers.read(text).values


def test_a_count_is_whole():
    holes = Control("holes", "Holes", "", 1, 7, 1, 4, "made up")
    assert holes.read("3") == 3.0 and holes.read("3.0") == 3.0
    with pytest.raises(InputError, match="1.5 was given; a whole number from 1 to 7 is needed"):
        holes.read("1,5")
