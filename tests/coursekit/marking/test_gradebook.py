"""Gradebook and signs: a person a row, nobody left out, what is odd is told, no cell is a formula.

Columns of the two platforms are from memory of their documentation.
"""

import csv
import io
import re

import pytest
from sample_problems import LOGARITHM, MELT, OXYGEN, PROBLEMS
from sample_sheets import write

from steelthermo.coursekit.marking import defused, integrity, marking
from steelthermo.coursekit.marking.report import csv_text

ROSTER = "id,name,email,group\n217,Ada Lind,a@x.example,A\n218,Bram,b@x.example,B\n219,Cleo,,B\n"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "class.csv").write_text(ROSTER)
    (tmp_path / "course.toml").write_text("deadline = 2026-03-02T09:00:00Z\ntry_cost = 0.25\n")
    wrong = [(OXYGEN, "1 Nm3", 60), (OXYGEN, "2 Nm3", 60), (OXYGEN, None, 60)]
    write(tmp_path / "in" / "a.jsonl", "Ada Lind", [*wrong, (MELT, None, 100)])
    write(tmp_path / "in" / "old" / "a.jsonl", "ADA LIND", [(MELT, None, 7200)])
    write(tmp_path / "in" / "218_b.jsonl", "Bramm", [(MELT, None, 7200)])
    write(tmp_path / "in" / "z.jsonl", "Zoë", [(MELT, None, 50)])
    return tmp_path / "in"


def mark(folder, **more):
    return marking.mark(folder, problems=PROBLEMS, **more)


def gradebook(report):
    return list(csv.DictReader(io.StringIO(report.csv())))


def test_one_row_a_person(folder):
    rows = gradebook(mark(folder))
    assert [(r["id"], r["learner"], r["email"], r["group"]) for r in rows] == [
        ("217", "Ada Lind", "a@x.example", "A"),
        ("218", "Bram", "b@x.example", "B"),
        ("219", "Cleo", "", "B"),
        ("", "Zoë", "", ""),
    ]
    ada, bram, cleo, zoe = rows
    assert ada["solved"] == "2" and "the others: old/a.jsonl (1 solved)" in ada["remarks"]
    assert cleo["remarks"] == "handed in nothing that can be marked" and cleo["solved"] == ""
    assert "not on the list" in zoe["remarks"] and "not on the list" not in bram["remarks"]
    # a wrong try takes a quarter: (1 - 2/4 + 1) of six problems, by hand 25 %; plain 2 of 6
    assert ada["graded_percent"] == "25.0" and ada["percent"] == "33.3"
    assert (ada["first"], ada["last"], ada["solved_late"]) == ("2026-03-02", "2026-03-02", "0")
    assert bram["solved_late"] == "1" and "1 problem solved after the deadline" in bram["remarks"]
    lessons = {k: v for k, v in ada.items() if k.endswith((" solved", " graded_percent"))}
    assert lessons == {"sample solved": "2", "sample graded_percent": "25.0"}


def test_who_is_missing_is_told_at_the_head(folder):
    report = mark(folder)
    assert [one.name for one in report.missing()] == ["Cleo"]
    assert "1 of 3 on the list of the class" in " ".join(report.html.split())
    hidden = mark(folder, pseudonyms=True)
    assert not any(n in hidden.html + hidden.csv() for n in ("Cleo", "Ada", "a@x", "Zoë"))


def test_an_older_sheet_counts_in_no_figure_of_the_class(folder):
    """Ada handed in twice: she is one learner, and not one who needs help."""
    report = mark(folder)
    assert len(report.table) == 4 and [r["solved"] for r in report.own_table] == [2, 1, 1]
    melt = next(row for row in report.by_problem() if row["problem"] is MELT)
    assert (melt["tried"], melt["solved"]) == (3, 3) and report.summary().startswith("4 sheets")
    assert [name for name, *_ in report.again()].count("Ada Lind") == 1
    assert "ADA LIND" not in [name for name, *_ in report.again()]


def test_what_a_whole_class_may_have_is_told_last(folder):
    """Bramm and Cleo are only late; Ada handed in twice, and Zoë is not on the list."""
    write(folder / "219_c.jsonl", "Cleo", [(MELT, None, 7200)])
    html = mark(folder).html.partition("<h2>Sheets to look at")[2].partition("<h2>")[0]
    names = re.findall(r"<tr><td>([^<]+)", html)
    assert names[-2:] == ["Bramm", "Cleo"] and set(names[:-2]) == {"Ada Lind", "ADA LIND", "Zoë"}


def test_problems_that_nobody_tried_take_no_room_in_the_table(folder):
    html = mark(folder).html.partition("<h2>Problem by problem")[2].partition("<h2>")[0]
    assert MELT.title in html and LOGARITHM.title not in html


@pytest.mark.parametrize("name", ["219_ada.jsonl", "000_ada.jsonl"])
def test_a_sheet_under_the_number_of_somebody_else_is_worth_a_talk(folder, name):
    """Cleo (219) hands Ada's sheet in; a number that nobody has says nothing."""
    (folder / name).write_bytes((folder / "a.jsonl").read_bytes())
    ada, _, cleo, _ = gradebook(mark(folder))
    assert ada["sheet"] == ("a.jsonl" if name[0] == "2" else name) and cleo["solved"] == ""
    assert ("number of somebody else" in ada["worth_a_talk"]) == (name[0] == "2")


def test_pseudonyms_keep_no_order_and_need_the_secret(tmp_path):
    """With the key of the course alone, which learners know, nobody can be found."""
    names = [f"{letter} Lind" for letter in "ABCDEFGHIJKLMNOP"]
    for i, name in enumerate(names):
        write(tmp_path / f"{i:02d}.jsonl", name, [(MELT, None, 50 + i)])
    report = mark(tmp_path, pseudonyms=b"a secret")
    shown = [row["learner"] for row in report.table]
    real = [one.learner for one in report.sheets]
    assert shown == sorted(shown) and sorted(real) == names != real
    assert [r["learner"] for r in gradebook(report)] == shown
    other = {row["learner"] for row in mark(tmp_path, pseudonyms=b"another").table}
    plain = {row["learner"] for row in mark(tmp_path, pseudonyms=True).table}
    assert not other & set(shown) and not plain & set(shown)


def test_tables_of_the_platforms(folder, tmp_path):
    files = {f.name: f for f in mark(folder).write(tmp_path / "out")}
    moodle = list(csv.reader(files["for_moodle.csv"].open(encoding="utf-8-sig")))
    assert moodle[0][:3] == ["ID number", "Email address", "Full name"]
    assert moodle[1] == ["217", "a@x.example", "Ada Lind", "25.0", "25.0"] and len(moodle) == 4
    canvas = list(csv.reader(files["for_canvas.csv"].open(encoding="utf-8-sig")))
    assert canvas[0][:5] == ["Student", "ID", "SIS User ID", "SIS Login ID", "Section"]
    assert canvas[1] == ["    Points Possible", "", "", "", "", "100", "100"]
    assert canvas[2] == ["Ada Lind", "", "217", "", "A", "25.0", "25.0"] and len(canvas) == 5
    assert canvas[4][5:] == ["", ""]  # nothing handed in is no nought


def test_no_cell_is_a_formula_whatever_parts_the_cells():
    names = ["=1+1", "a;=1+1;b", "a\t=1", "a,+1", 'a";"=1', "a; @x", "a;'=1", "-2", "x\r=1"]
    text = csv_text(("learner", "n"), [(name, 1.5) for name in names])
    assert all(line.startswith('"') for line in text.splitlines())
    for delimiter in ",;\t":
        for quoting in (csv.QUOTE_MINIMAL, csv.QUOTE_NONE):
            for cells in csv.reader(io.StringIO(text), delimiter=delimiter, quoting=quoting):
                assert not any(c.strip(' "').startswith(tuple("=+-@")) for c in cells), cells
    assert defused("Lind, Ada") == "Lind, Ada"


# ---- signs ---------------------------------------------------------------------------------------


def signs_of(tmp_path, answers, learner="Ada", **more):
    write(tmp_path / f"{learner}.jsonl", learner, answers, **more)
    one = next(s for s in mark(tmp_path).sheets if s.learner == learner)
    return "; ".join(text for _, text in one.signs)


USUAL = [(p, None, 100 + 37 * i) for i, p in enumerate(PROBLEMS)]


def test_a_usual_sheet_has_no_signs(tmp_path):
    assert signs_of(tmp_path, USUAL) == ""


@pytest.mark.parametrize(
    "answers, told",
    [
        ([(p, None, 0) for p in PROBLEMS], "6 problems right within 5 s"),
        ([(MELT, None, 60), (OXYGEN, None, -30 * 86400), (MELT, None, 9)], "goes back once"),
        ([(MELT, None, 86400 * 365 * 73)], "1 line dated after today"),
        (
            [
                (p, text, 40 + 7 * i)
                for p in (OXYGEN, MELT, LOGARITHM)
                for i, text in enumerate(["1e9"] * 8 + [None])
            ],
            "3 problems right only after 8 tries",
        ),
        ([(MELT, "1", 60)] * 12, "12 answers at even intervals"),
    ],
)
def test_what_is_odd_about_time_is_told(tmp_path, answers, told):
    assert told in signs_of(tmp_path, answers)


def test_many_in_ten_minutes(monkeypatch, tmp_path):
    monkeypatch.setattr(integrity, "WINDOW_MANY", 4)
    assert "6 problems solved within ten minutes" in signs_of(
        tmp_path, [(p, None, 20 + 9 * i) for i, p in enumerate(PROBLEMS)]
    )


def test_the_same_rhythm_under_two_names(tmp_path):
    answers = [(p, None, 61 + 13 * i) for i, p in enumerate(PROBLEMS * 2)]
    write(tmp_path / "bram.jsonl", "Bram", answers)
    assert "as 1 sheet by another name" in signs_of(tmp_path, answers)


def test_a_sheet_without_seals_counts_for_nothing(tmp_path):
    """Schema 0, written in an editor: it had 100 % once."""
    write(tmp_path / "usual.jsonl", "Bram", USUAL)
    write(tmp_path / "old.jsonl", "Eve", USUAL, schema=0, sealed=False)
    write(tmp_path / "oldsealed.jsonl", "Eva", USUAL, schema=0)
    write(tmp_path / "new.jsonl", "Ida", USUAL, sealed=False)
    report = mark(tmp_path)
    reasons = dict(report.bad)
    assert "schema 0" in reasons["old.jsonl"] and "schema 0" in reasons["oldsealed.jsonl"]
    solved = {row["learner"]: row["solved"] for row in report.table}
    assert solved == {"Bram": 6, "Ida": 0}
    assert report.talks()[0][0] == "Ida" and "7 lines changed or added" in report.talks()[0][2]
