"""Marks corrected by hand: kept when marked anew, told, never taken from what is handed in."""

import csv
import io

import pytest
from sample_problems import LOGARITHM, MELT, OXYGEN, PROBLEMS
from sample_sheets import write

from steelthermo.base import InputError
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.marking import marking

HEAD = "learner,problem,solved,reason\n"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "class.csv").write_text("id,name\n217,Ada Lind\n218,Ada Lind\n219,Bram\n")
    write(tmp_path / "in" / "a.jsonl", "Ada Lind (217)", [(OXYGEN, "1 Nm3", 60)])
    write(tmp_path / "in" / "b.jsonl", "Bram", [(MELT, None, 60), (OXYGEN, None, 60)])
    return tmp_path / "in"


def mark(folder):
    report = marking.mark(folder, problems=PROBLEMS)
    return report, {r["id"]: r for r in csv.DictReader(io.StringIO(report.csv()))}


def test_both_ways_by_number_and_by_name(folder):
    lines = f"217,{OXYGEN.key},yes,slip of the pen\nbram,{MELT.key},no,copied\n"
    lines += f"217,{LOGARITHM.key},yes,on paper\n"
    (folder.parent / "corrections.csv").write_text(HEAD + lines)
    report, rows = mark(folder)
    ada, bram = rows["217"], rows["219"]
    # two of six problems, tries not counted: 33.3 % by hand; Bram keeps one of his two
    assert (ada["solved"], ada["percent"], ada["graded_percent"]) == ("2", "33.3", "33.3")
    assert (bram["solved"], bram[MELT.key], bram[OXYGEN.key]) == ("1", "0", "1")
    assert f"corrected by hand: {OXYGEN.key} solved (slip of the pen)" in ada["remarks"]
    assert f"{MELT.key} not solved (copied)" in bram["remarks"]
    assert "3 marks corrected by hand" in report.html


def test_what_fits_nobody_or_several_is_told_and_not_counted(folder):
    write(folder / "c.jsonl", "Ada Lind (218)", [(OXYGEN, "1 Nm3", 60)])
    lines = "".join(f"{who},{OXYGEN.key},yes,\n" for who in ("Ada Lind", "Nobody"))
    (folder.parent / "corrections.csv").write_text(HEAD + lines)
    report, rows = mark(folder)
    assert rows["217"]["solved"] == rows["218"]["solved"] == "0"
    assert [line.partition(":")[0] for line in report.told if "not counted" in line] == [
        "corrections.csv, line 2",
        "corrections.csv, line 3",
    ]


def test_those_of_lessons_that_are_not_marked_rest(folder):
    (folder.parent / "corrections.csv").write_text(f"{HEAD}217,{STEEL.problems[0].key},yes,\n")
    report, rows = mark(folder)
    assert rows["217"]["solved"] == "0" and not any("by hand" in line for line in report.told)


def test_those_of_a_paper_that_is_not_marked_rest_and_are_told(folder):
    lines = f"{HEAD.strip()},paper\n217,{OXYGEN.key},yes,,winter\n217,{MELT.key},yes,heard,\n"
    (folder.parent / "corrections.csv").write_text(lines)
    report, rows = mark(folder)
    assert (rows["217"][MELT.key], rows["217"]["remarks"].count("by hand")) == ("1", 1)
    (told,) = (line for line in report.told if "winter" in line)
    assert "line 2" in told and "rests" in told and told in report.html


def test_a_file_among_the_sheets_corrects_nothing(folder):
    (folder / "corrections.csv").write_text(f"{HEAD}217,{OXYGEN.key},yes,please\n")
    assert mark(folder)[1]["217"]["solved"] == "0"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("who,what\n1,2\n", "names the columns"),
        (f"{HEAD}217,{OXYGEN.key}x,yes,\n", f"line 2: .*nearest: {OXYGEN.key}"),
        (f"{HEAD}217,{OXYGEN.key},maybe,\n", "line 2: it needs"),
        (f"{HEAD},{OXYGEN.key},yes,\n", "line 2: it needs"),
        (f"{HEAD.strip()},paper\n217,{OXYGEN.key}x,yes,,first\n", "paper: first"),
    ],
)
def test_a_faulty_file_stops_the_marking(folder, text, told):
    (folder.parent / "corrections.csv").write_text(text)
    with pytest.raises(InputError, match=told):
        mark(folder)
