"""Marking a class: what was solved is counted, what was damaged or forged is reported, and nothing
in a sheet does anything else.
"""

import csv
import io
import os
import random
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from sample_problems import FAULTY_LINE, LOGARITHM, MELT, OXYGEN, PROBLEMS

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))
from make_class import damage, make, sheet

from steelthermo.app import works_file as plant_file
from steelthermo.base import InputError
from steelthermo.course.adapter import STEEL
from steelthermo.course.l15_whole_heat.entries import ENTRIES
from steelthermo.course.l15_whole_heat.sheet import HeatSheet
from steelthermo.coursekit.marking import command, defused, marking
from steelthermo.coursekit.marking import plots as report_plots
from steelthermo.coursekit.problems import check, draw
from steelthermo.coursekit.sheet import (
    SCHEMA,
    Course,
    Sheet,
    encode,
    fingerprint,
    seal_key,
    sheet_name,
    standings,
)
from steelthermo.works import profile as plant


def answer(one, problem, text, number=1, learner=None):
    own = draw(problem, learner or one.learner, one.course, number)
    verdict = check(own, text(own) if callable(text) else text)
    typed = text(own) if callable(text) else text
    one.append(
        "answer",
        problem=problem.key,
        set=number,
        text=typed,
        state=verdict.state,
        slips=list(verdict.slips),
        given=own.given,
    )


def right(own):
    return own.answer_text()


def mark(folder, chained=(), **more):
    return marking.mark(folder, problems=(*PROBLEMS, *chained), **more)


def row(report, learner):
    return next(r for r in report.table if r["learner"] == learner)


@pytest.fixture
def ada(tmp_path):
    one = Sheet(tmp_path, "Ada", "self-study")
    answer(one, OXYGEN, lambda own: f"{own.slips['co2_for_co'][1]:.0f}")
    one.append("hint", problem=OXYGEN.key, set=1, number=2)
    answer(one, OXYGEN, right)
    answer(one, MELT, right)
    answer(one, LOGARITHM, "99")
    return one


def test_what_was_solved_is_counted(ada, tmp_path):
    report = mark(tmp_path)
    one = row(report, "Ada")
    assert (
        one["solved"],
        one["problems"],
        one["percent"],
        one["first_try"],
        one["attempts"],
        one["hints"],
    ) == (2, 6, 33.3, 1, 4, 2)
    assert (
        one[OXYGEN.key],
        one[MELT.key],
        one[LOGARITHM.key],
        one["sample.enough"],
        one["remarks"],
    ) == (1, 1, 0, "", "")
    oxygen = report.by_problem()[0]
    assert (
        oxygen["solved"],
        oxygen["tried"],
        oxygen["attempts"],
        oxygen["slips"]["co2_for_co"],
    ) == (1, 1, 2.0, 1)


def test_a_solution_opened_before_does_not_count_a_second_set_does(tmp_path):
    one = Sheet(tmp_path, "Bram", "self-study")
    one.append("worked", problem=OXYGEN.key, set=1)
    answer(one, OXYGEN, right)
    one.append("worked", problem=MELT.key, set=1)
    one.append("set", problem=MELT.key, set=2)
    answer(one, MELT, right, 2)
    report = mark(tmp_path)
    assert (
        row(report, "Bram")[OXYGEN.key],
        row(report, "Bram")[MELT.key],
        row(report, "Bram")["solutions_opened"],
    ) == (0, 1, 2)


def test_what_a_sheet_says_of_itself_is_not_believed(tmp_path):
    """A sheet sealed with the right key that claims every answer right: the answers are worked out
    again.
    """
    key, seal, lines = seal_key("Eve", "self-study"), "", []
    records = [
        {
            "kind": "sheet",
            "schema": SCHEMA,
            "learner": "Eve",
            "course": "self-study",
            "kit": "0.1.0",
            "data": fingerprint(),
        }
    ]
    records += [
        {
            "kind": "answer",
            "problem": p.key,
            "set": 1,
            "text": "1",
            "state": "right",
            "slips": [],
            "given": {},
        }
        for p in PROBLEMS
    ]
    for n, record in enumerate(records):
        line, seal = encode({"n": n, "t": "", **record, "prev": seal}, key)
        lines.append(line)
    (tmp_path / "eve.jsonl").write_bytes(b"".join(lines))
    one = row(mark(tmp_path), "Eve")
    assert (
        one["solved"] == 0
        and "answers were judged otherwise" in one["remarks"]
        and "other numbers" in one["remarks"]
    )


def test_changed_and_copied_lines_do_not_count(ada, tmp_path):
    data = ada.path.read_bytes()
    wrong = re.search(rb'"text":"99"', data)
    own = draw(LOGARITHM, "Ada")
    ada.path.write_bytes(data.replace(wrong[0], f'"text":"{own.answer_text()}"'.encode()))
    one = row(mark(tmp_path), "Ada")
    assert (
        one["solved"] == 2
        and "1 line whose seal does not fit: changed after it was" in one["remarks"]
    )
    ada.path.write_bytes(data.replace(b'"learner":"Ada"', b'"learner":"Zed"'))
    one = row(mark(tmp_path), "Zed")
    assert one["solved"] == 0 and "lines whose seal does not fit" in one["remarks"]


def test_older_data_are_flagged(ada, tmp_path, monkeypatch):
    monkeypatch.setattr(marking, "fingerprint", lambda: "otherdata000")
    assert "made with other data of the kit" in row(mark(tmp_path), "Ada")["remarks"]


def test_other_course_key_and_overrides(ada, tmp_path):
    report = mark(tmp_path, course="HS26-A")
    assert "course key self-study, not HS26-A" in row(report, "Ada")["remarks"]
    (tmp_path / "course.toml").write_text(
        f'[[override]]\nlearner = "ada"\nproblem = "{MELT.key}"\ntemp_c = 1251\n'
    )
    one = row(mark(tmp_path), "Ada")
    assert (
        one[MELT.key] == 0 and "1 answer to other numbers" in one["remarks"]
    )  # she answered to drawn numbers, 1251 was laid down
    ada.append(
        "answer",
        problem=MELT.key,
        set=1,
        text="349 K",
        state="right",
        slips=[],
        given={"element": "Fe", "temp_c": 1251.0},
    )
    assert row(mark(tmp_path), "Ada")[MELT.key] == 1  # 1600 - 1251
    (tmp_path / "course.toml").write_text("kye = 1")
    with pytest.raises(InputError, match="kye"):
        mark(tmp_path)


def test_a_key_given_replaces_only_the_key(tmp_path):
    """The overrides of course.toml count as before, whether it lies in the folder of sheets or
    beside it; a key that differs is told.
    """
    folder = tmp_path / "sheets"
    folder.mkdir()
    one = Sheet(folder, "Ada", "HS26-A")
    own = draw(MELT, "Ada", "HS26-A", 1, {"temp_c": 1251.0})
    one.append(
        "answer", problem=MELT.key, set=1, text="349 K", state="right", slips=[], given=own.given
    )  # 1600 - 1251
    assert row(mark(folder, course="HS26-A"), "Ada")[MELT.key] == 0
    for where in (tmp_path, folder):
        (where / "course.toml").write_text(
            f'key = "HS26-B"\n[[override]]\nlearner = "*"\nproblem = "{MELT.key}"\ntemp_c = 1251\n'
        )
        report = mark(folder, course="HS26-A")
        assert (
            row(report, "Ada")[MELT.key] == 1
            and row(report, "Ada")["remarks"] == ""
            and report.course.key == "HS26-A"
        )
        assert (
            sum("says HS26-B" in line for line in report.told) == 1 and "1 override" in report.html
        )
        (where / "course.toml").unlink()
    with pytest.raises(InputError, match="no such file"):
        mark(folder, course="curse.toml")


def test_faulty_overrides_stop_the_marking(ada, tmp_path, capsys):
    (tmp_path / "course.toml").write_text(
        f'[[override]]\nlearner = "*"\nproblem = "{MELT.key}"\ntemp_c = 9\n[[override]]\nlearner = '
        '"*"\nproblem = "a.b"\nc = 1\n'
    )
    with pytest.raises(
        InputError, match=r"(?s)2 faults.*temp_c = 9 was given.*there is no problem a\.b"
    ):
        mark(tmp_path)
    assert (
        command.main([str(tmp_path)]) == 1
        and "2 faults in its overrides" in capsys.readouterr().err
    )
    assert not (tmp_path / "marks").exists()


def test_the_works_profile_is_told(ada, tmp_path):
    assert any("Heron Works" in line for line in mark(tmp_path).told)
    (tmp_path / "works.toml").write_text(plant_file.annotated("dunlin"), encoding="utf-8")
    report = mark(tmp_path)
    assert (
        any("Dunlin Works" in line and "works.toml" in line for line in report.told)
        and "Dunlin Works" in report.html
    )
    assert any("Plover Works" in line for line in mark(tmp_path, works="plover").told)


def test_numbers_are_drawn_with_the_works_profile_of_the_folder(tmp_path):
    """A problem whose range moves with the size of the vessel: right with the profile it was drawn
    with, other numbers without it.
    """
    moved = replace(
        OXYGEN,
        given=(replace(OXYGEN.given[0], follows="vessel.tap_t"), *OXYGEN.given[1:]),
        plausible=None,
    )
    works = plant.load_profile("dunlin")
    own = draw(moved, "Ada", works=works)
    assert own.given["hot_metal_t"] < 120 <= draw(moved, "Ada").given["hot_metal_t"]
    one = Sheet(tmp_path, "Ada", "self-study")
    one.append(
        "answer",
        problem=moved.key,
        set=1,
        text=own.answer_text(),
        state="right",
        slips=[],
        given=own.given,
    )
    without = marking.mark(tmp_path, problems=(moved,)).table[0]
    assert without["solved"] == 0 and "1 answer to other numbers" in without["remarks"]
    (tmp_path / "works.toml").write_text(plant_file.annotated("dunlin"), encoding="utf-8")
    with_it = marking.mark(tmp_path, problems=(moved,)).table[0]
    assert with_it["solved"] == 1 and with_it["remarks"] == ""
    (tmp_path / "course.toml").write_text(
        f'[[override]]\nlearner = "*"\nproblem = "{moved.key}"\nhot_metal_t = 150\n'
    )
    with pytest.raises(
        InputError, match="hot_metal_t = 150 was given"
    ):  # sound for Heron Works's vessel, out of all sense for this one
        marking.mark(tmp_path, problems=(moved,))


def test_a_wrong_line_is_told_in_words(tmp_path):
    """Each learner has the lines in another order; what two of them chose wrongly is one slip of
    the class.
    """
    names = [f"learner {i}" for i in range(12)]
    for name in names:
        one = Sheet(tmp_path, name, "self-study")
        shown = draw(FAULTY_LINE, name).problem.choice.options
        answer(one, FAULTY_LINE, str(shown.index("Lime is weighed in kg.") + 1))
    report = mark(tmp_path)
    (found,) = [r for r in report.by_problem() if r["problem"] is FAULTY_LINE]
    assert list(found["slips"].values()) == [12] and "chose: Lime is weighed in kg." in report.html


def test_sheets_of_another_course_count_in_no_figure_of_the_class(ada, tmp_path):
    for number in (1, 2):
        other = Sheet(tmp_path, f"Otto {number}", "FS27")
        answer(other, MELT, right)
    report = mark(tmp_path, course="self-study")
    assert (
        len(report.table) == 3 and report.by_problem()[2]["tried"] == 3
    )  # self-study is no course that others could miss
    assert any("several course keys (self-study, FS27)" in line for line in report.told)
    other = Sheet(tmp_path, "Cleo", "HS26-A")
    answer(other, OXYGEN, "5 t")
    report = mark(tmp_path, course="HS26-A")
    oxygen, _, melt = report.by_problem()[:3]
    assert (oxygen["tried"], oxygen["solved"], melt["tried"]) == (1, 0, 0) and len(
        report.table
    ) == 4
    assert "3 sheets of another course key" in report.html and row(report, "Otto 1")["solved"] == 1
    assert "<h2>Which problem fails" not in mark(tmp_path, course="nobody").html


def test_the_report_can_be_printed(ada, tmp_path):
    """No column is squeezed to the width of a letter, no word runs out of its column, and no figure
    is longer than a page.
    """
    long = "x" * 300
    Sheet(tmp_path, long[:80], "self-study").append("open", lesson="sample")
    html = mark(tmp_path).html
    assert "overflow-wrap:anywhere" not in html and "nowrap" not in html
    assert "x" * 30 + "<wbr>" + "x" * 30 in html and "x" * 41 not in re.sub(
        r"<(figure|title).*?</\1>", "", html, flags=re.S
    )
    lessons = sorted(STEEL.lessons, key=lambda one: -len(one.problems))[:2]  # the two longest
    count = {"tried": 1, "solved": 0, "attempts": 1.0, "minutes": 1.0}
    rows = [
        {"problem": p, "label": p.title, "lesson": one.name, **count}
        for one in lessons
        for p in one.problems
    ]
    for page, figures in ((html, 3), (report_plots.problems(rows, 1), 2)):
        heights = [float(pt) for pt in re.findall(r'<svg[^>]* height="([\d.]+)pt"', page)]
        assert (
            len(heights) == figures and max(heights) < 400
        )  # points; a page of A4 less its margins has 760


def test_what_to_go_over_again(tmp_path):
    """Unsolved problems and repeated slips of a learner; wrong answers that fit no known slip, of a
    problem.
    """
    one = Sheet(tmp_path, "Ada", "self-study")
    for _ in range(2):
        answer(one, OXYGEN, lambda own: f"{own.slips['co2_for_co'][1]:.0f}")
    answer(one, OXYGEN, "9999 Nm3")
    answer(one, OXYGEN, "5 t")
    answer(one, MELT, right)
    report = mark(tmp_path)
    again = report.html.partition("go over again")[2]
    assert (
        "sample Oxygen for the carbon" in again
        and "2 times, in lesson sample: " in again
        and "co2" not in again.partition("2 times")[2].partition("<")[0]
        and "Heat in kelvin" not in again
    )
    # 9999 Nm3 is none of the slips of this draw; 5 t is a mass where a volume is asked, which the
    # checker names
    known = [check(draw(OXYGEN, "Ada"), text).slips for text in ("9999 Nm3", "5 t")]
    assert report.by_problem()[0]["unexplained"] == sum(not slips for slips in known) >= 1


# ---- the heat sheet of lesson 15 -----------------------------------------------------------------


def heat_entries(one, wrong=(), stop=None, number=1, works=None, old=False):
    """Fill in a heat sheet as its page does; wrong: entries answered twice too high; stop: the
    entry before which it is left; old: kept as predictions, as by the first kits.
    """
    heat = HeatSheet(one.learner, one.course, number, works)
    while heat.next and heat.next.key != stop:
        entry = heat.next
        value = entry.right(heat.state)
        text = (
            str(int(value)) if entry.choice else f"{value * (2 if entry.key in wrong else 1):.5g}"
        )
        heat.carry_on(text)
        if old:
            one.append("predict", question=f"whole_heat.{number}.{entry.key}", text=text)
        else:
            one.append("entry", lesson="whole_heat", set=number, entry=entry.key, text=text)
    return heat


def test_the_heat_sheet_is_marked(tmp_path):
    full, wrong, begun = (Sheet(tmp_path, name, "self-study") for name in ("Ada", "Bram", "Cleo"))
    heat_entries(full)
    assert (
        heat_entries(wrong, wrong=("ferromanganese",)).outcome()[1] is False
    )  # 2.5 % Mn and more; EN 10025-2 allows S355J2 1.70 %
    heat_entries(begun, stop="oxygen")
    answer(Sheet(tmp_path, "Dora", "self-study"), MELT, right)
    report = mark(tmp_path, chained=STEEL.chained)
    total = len(ENTRIES)
    cells = {
        r["learner"]: (r["heat_entries"], r["heat_right"], r["heat_steel"]) for r in report.table
    }
    assert cells["Ada"] == (f"{total} of {total}", total, "meets") and cells["Bram"] == (
        f"{total} of {total}",
        total - 1,
        "fails",
    )
    before = [entry.key for entry in ENTRIES].index("oxygen")
    assert cells["Cleo"] == (f"{before} of {total}", before, "") and cells["Dora"] == ("", "", "")
    assert (
        "3 begun, 2 full, the steel of 1 meets" in report.summary()
        and "heat: steel" in report.html
        and "heat_steel" in report.csv()
    )
    assert (
        "heat_right" not in mark(tmp_path).csv()
    )  # only some problems count here, so the heat sheet does not


def test_the_fullest_heat_counts_and_only_sealed_entries(tmp_path):
    one = Sheet(tmp_path, "Ada", "self-study")
    heat_entries(one)
    one.append("begin", lesson="whole_heat", set=2)
    heat_entries(one, stop="lime", number=2)
    cells = marking.mark(tmp_path, problems=STEEL.chained).table[0]
    assert cells["heat_entries"] == f"{len(ENTRIES)} of {len(ENTRIES)}" and cells["problems"] == 0
    data = one.path.read_bytes()
    one.path.write_bytes(data.replace(b'"entry":"lime"', b'"entry":"LIME"'))
    cells = marking.mark(tmp_path, problems=STEEL.chained).table[0]
    assert (
        cells["heat_entries"] == f"{[e.key for e in ENTRIES].index('lime')} of {len(ENTRIES)}"
        and "1 line whose seal" in cells["remarks"]
    )


def test_a_sheet_that_kept_entries_as_predictions_is_marked_the_same(tmp_path):
    marks = []
    for old in (True, False):
        (tmp_path / str(old)).mkdir()
        one = Sheet(tmp_path / str(old), "Ada", "self-study")
        heat_entries(one, wrong=("scrap",), stop="lime", old=old)
        what = {"question": "whole_heat.heat", "text": "2"} if old else {"lesson": "whole_heat"}
        one.append("predict" if old else "begin", **what, **({} if old else {"set": 2}))
        one.append("predict", question="whole_heat.rise", text="it rises")  # of a panel
        heat_entries(one, number=2, old=old)
        marks.append(STEEL.lesson("15").chain.mark(one.records, "Ada", "self-study"))
        kept = STEEL.lesson("15").chain.kept(one.records)
        assert [len(texts) for texts in kept.values()] == [3, len(ENTRIES)]
    assert marks[0] == marks[1] and (marks[0].number, marks[0].right) == (2, len(ENTRIES))


def test_a_heat_that_cannot_be_followed_is_told_and_the_rest_marked(tmp_path):
    one = Sheet(tmp_path, "Ada", "self-study")
    heat_entries(one, stop="magnesium")
    one.append("entry", lesson="whole_heat", set=1, entry="magnesium", text="-5 kg")
    answer(one, MELT, right)
    cells = mark(tmp_path, chained=STEEL.chained).table[0]
    assert cells["heat_entries"] == f"1 of {len(ENTRIES)}" and cells["solved"] == 1
    assert (
        "can be followed for 1 of its entries only" in cells["remarks"]
        and "less than zero" in cells["remarks"]
    )


def test_the_heat_is_worked_out_with_the_works_of_the_course(tmp_path):
    """Dunlin Works's vessel is a small one: the same entries fit no heat of Heron Works's."""
    works = plant.load_profile("dunlin")
    heat_entries(Sheet(tmp_path, "Ada", "self-study"), works=works)
    usual = marking.mark(tmp_path, problems=STEEL.chained).table[0]
    (tmp_path / "works.toml").write_text(plant_file.annotated("dunlin"), encoding="utf-8")
    cells = marking.mark(tmp_path, problems=STEEL.chained).table[0]
    assert cells["heat_right"] == len(ENTRIES) > (usual["heat_right"] or 0)


def test_lesson_15_alone_from_the_command_line(tmp_path, capsys):
    heat_entries(Sheet(tmp_path, "Ada", "self-study"))
    assert command.main([str(tmp_path), "--lesson", "15"]) == 0
    said = capsys.readouterr().out
    assert "1 sheet marked; heat sheets (lesson 15): 1 begun, 1 full" in said
    html = (tmp_path / "marks" / "report.html").read_text(encoding="utf-8")
    assert "<h2>Learner by learner</h2>" in html and "Which problem fails" not in html
    assert "<h3>15 Can I take a heat" in html and html.count("heat: entries") == 1
    assert command.main([str(tmp_path), "--lesson", "2", "--lesson", "15"]) == 0
    with open(tmp_path / "marks-2" / "gradebook.csv", encoding="utf-8-sig", newline="") as file:
        (cells,) = csv.DictReader(file)
    assert cells["heat_steel"] == "meets" and int(cells["problems"]) == len(
        STEEL.lesson("02").problems
    )


def test_two_sheets_by_one_name_and_copies(ada, tmp_path):
    (tmp_path / "copy.jsonl").write_bytes(ada.path.read_bytes())
    report = mark(tmp_path)
    assert (
        len(report.table) == 1 and "identical copy" in report.html and report.doubles[0][0] == "Ada"
    )
    (tmp_path / "second computer").mkdir()
    other = Sheet(tmp_path / "second computer", "ADA", "other")
    answer(other, MELT, right)
    report = mark(tmp_path)
    assert len(report.table) == 2 and all(
        "another sheet by the same name" in r["remarks"] for r in report.table
    )


def test_unknown_problems_and_too_many_sets(tmp_path):
    one = Sheet(tmp_path, "Ada", "self-study")
    one.append("answer", problem="gone.away", set=1, text="1", state="right", slips=[], given={})
    for number in range(1, 70):
        one.append(
            "answer", problem=MELT.key, set=number, text="1", state="wrong", slips=[], given={}
        )
    remarks = row(mark(tmp_path), "Ada")["remarks"]
    assert "1 record of a problem" in remarks and "more than 50 sets" in remarks


def test_only_some_lessons_count(ada, tmp_path, monkeypatch):
    monkeypatch.setitem(STEEL.__dict__, "problems", PROBLEMS)
    report = marking.mark(tmp_path, problems=[MELT])
    assert (
        row(report, "Ada")["solved"],
        row(report, "Ada")["problems"],
        row(report, "Ada")["remarks"],
    ) == (1, 1, "")


def test_nothing_to_mark(tmp_path):
    with pytest.raises(InputError, match="holds no answer sheet"):
        mark(tmp_path)
    with pytest.raises(InputError, match="not a folder"):
        mark(tmp_path / "nowhere")


# ---- malicious sheets ----------------------------------------------------------------------------

NAMES = [
    '=HYPERLINK("http://x","y")',
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    " =1",
    "<script>alert(1)</script>",
    "../../../etc/passwd",
]
NAMES += ["'; DROP TABLE x;--", "{0.__class__}", "%s%n", "\u202egnp.exe"]


def test_malicious_names_do_nothing(tmp_path):
    for i, name in enumerate(NAMES):
        header = {
            "n": 1,
            "t": "",
            "kind": "sheet",
            "schema": SCHEMA,
            "learner": name,
            "course": name,
            "kit": name,
            "data": name,
            "prev": "",
        }
        (tmp_path / f"{i}.jsonl").write_bytes(encode(header, seal_key(name, name))[0])
    report = mark(tmp_path)
    assert len(report.table) == len(NAMES)
    before = set(tmp_path.rglob("*"))
    report.write(tmp_path / "out")
    assert {p.name for p in set(tmp_path.rglob("*")) - before} == {
        "out",
        "gradebook.csv",
        "report.html",
        "go_over_again.csv",
        "not_marked.csv",
    }
    assert "<script" not in report.html and "&lt;script&gt;alert(1)" in report.html
    rows = list(
        csv.reader(
            io.StringIO((tmp_path / "out" / "gradebook.csv").read_text(encoding="utf-8-sig"))
        )
    )
    for cell in (cell for line in rows for cell in line):
        assert cell.lstrip()[:1] not in ("=", "+", "@", "\t", "\r") and not re.match(
            r"-\d.*\+", cell
        ), cell


def test_defused():
    assert [defused(x) for x in ("=1", " =1", "+1", "-1", "@a", "\ta", "＝1")] == [
        "'=1",
        "' =1",
        "'+1",
        "'-1",
        "'@a",
        "'·a",
        "'＝1",
    ]
    assert [defused(x) for x in ("Ada", "Ada-Lea", "O'Neill", "1 = 1")] == [
        "Ada",
        "Ada-Lea",
        "O'Neill",
        "1 = 1",
    ]


def test_malicious_files_are_reported_and_the_others_marked(ada, tmp_path):
    (tmp_path / "code.jsonl").write_text("__import__('os').system('touch /tmp/owned')\n")
    (tmp_path / "pickle.jsonl").write_bytes(b"\x80\x04\x95cos\nsystem\n(S'touch /tmp/owned'\ntR.")
    (tmp_path / "deep.jsonl").write_bytes(b"[" * 10_000_000)
    (tmp_path / "numbers.jsonl").write_bytes(
        b'{"schema": 1e999999, "learner": ' + b"9" * 100_000 + b"}\n"
    )
    (tmp_path / "<img src=x>.jsonl").write_bytes(b"x")
    with open(tmp_path / "huge.jsonl", "wb") as file:
        file.truncate(2**30)  # claims one GB
    (tmp_path / "folder.jsonl").mkdir()
    if os.name != "nt":
        os.symlink("/etc/passwd", tmp_path / "link.jsonl")
        os.mkfifo(tmp_path / "pipe.jsonl")
    report = mark(tmp_path)
    assert len(report.table) == 1 and row(report, "Ada")["solved"] == 2
    reasons = dict(report.bad)
    assert (
        set(reasons) >= {"code.jsonl", "pickle.jsonl", "deep.jsonl", "numbers.jsonl", "huge.jsonl"}
        and "1024 MB" in reasons["huge.jsonl"]
    )
    assert (
        "link.jsonl" not in reasons
        and "<img" not in report.html
        and "&lt;img src=x&gt;" in report.html
    )
    assert not Path("/tmp/owned").exists()


# ---- a class -------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def class_of_30(tmp_path_factory):
    folder = tmp_path_factory.mktemp("class")
    return folder, make(folder, PROBLEMS, learners=30, damaged=10)


def test_a_class_with_damaged_sheets(class_of_30):
    folder, spoilt = class_of_30
    said = []
    report = mark(folder, progress=said.append)
    assert (
        len(said) == 1
        and said[-1] == "30 of 30 sheets marked"
        and len(report.bad) == 5
        and len(report.table) == 25
    )
    assert {file for file, _ in report.bad} < set(spoilt) and all(
        reason for _, reason in report.bad
    )
    remarked = {r["sheet"] for r in report.table if r["remarks"]}
    assert remarked == set(spoilt) - {file for file, _ in report.bad}


def test_the_marks_agree_with_a_plain_count(class_of_30):
    """Each whole sheet marked again by the slow way: one learner, one draw, one check at a time."""
    folder, spoilt = class_of_30
    report = mark(folder)
    for one in report.table:
        if one["sheet"] in spoilt:
            continue
        contents = Sheet.__new__(Sheet)  # only to show that nothing but the file is used
        from steelthermo.coursekit.sheet import read_sheet

        contents = read_sheet(folder / one["sheet"])
        solved = set()
        opened = set()
        for record in contents.records:
            place = (record.get("problem"), record.get("set"))
            if record["kind"] == "worked":
                opened.add(place)
            elif record["kind"] == "answer" and place not in opened:
                problem = next(p for p in PROBLEMS if p.key == place[0])
                solved |= (
                    {place[0]}
                    if check(
                        draw(problem, contents.learner, contents.course, place[1]), record["text"]
                    ).done
                    else set()
                )
        assert {p.key for p in PROBLEMS if one[p.key] == 1} == solved


def test_few_large_sheets_are_held_at_a_time(class_of_30, monkeypatch):
    monkeypatch.setattr(marking, "CHUNK_BYTES", 20_000)
    said = []
    report = mark(class_of_30[0], progress=said.append)
    assert (
        len(said) > 3
        and said[-1] == "30 of 30 sheets marked"
        and report.table == mark(class_of_30[0]).table
    )


@pytest.mark.parametrize("kind", range(10))
def test_every_kind_of_damage(kind, tmp_path):
    data = damage(sheet("Ada", "self-study", PROBLEMS, 3), kind, random.Random(1))
    (tmp_path / "a.jsonl").write_bytes(data)
    report = mark(tmp_path)
    assert len(report.bad) == (kind < 5) and len(report.table) == (kind >= 5)
    assert kind < 5 or report.table[0]["remarks"]


def test_pseudonyms(class_of_30, tmp_path):
    folder, _ = class_of_30
    report = mark(folder, pseudonyms=True, course=Course("HS26-A"))
    files = report.write(tmp_path / "out")
    assert [f.name for f in files] == [
        "gradebook.csv",
        "report.html",
        "go_over_again.csv",
        "not_marked.csv",
        "who_is_who.csv",
    ]
    names = {one.learner for one in report.sheets}
    text = report.html + report.csv()
    assert not any(
        name in text or sheet_name(name, "self-study") in text for name in names
    ) and not re.search(r"[a-z]+-[0-9a-f]{8}\.sheet", text)
    who = list(
        csv.DictReader(
            io.StringIO((tmp_path / "out" / "who_is_who.csv").read_text(encoding="utf-8-sig"))
        )
    )
    assert {w["learner"] for w in who} - {""} == names and len({w["pseudonym"] for w in who}) == 30
    assert {r["learner"] for r in report.table} == {
        r["learner"] for r in mark(folder, pseudonyms=True, course=Course("HS26-A")).table
    }
    assert {r["learner"] for r in report.table}.isdisjoint(
        {r["learner"] for r in mark(folder, pseudonyms=True, course=Course("other")).table}
    )


def test_report_page(class_of_30):
    report = mark(class_of_30[0])
    html = report.html
    headings = [
        "Who finished",
        "Which problem fails",
        "The commonest slips",
        "Sheets to look at",
        "Problem by problem",
        "Learner by learner",
    ]
    for heading in (*headings, "Unreadable sheets", "How this was made"):
        assert f"<h2>{heading}</h2>" in html
    assert (
        html.count("<svg") == 3 == html.count("role='img' aria-label=")
        and "Hardest: sample " in html
        and "personal data" in html
        and "It does not show who sat at the keyboard" in html
    )
    assert (
        "http://" not in re.sub(r"http://www\.w3\.org/[\w/.]+", "", html) and "<script" not in html
    )
    frame = report._repr_html_()
    assert frame.startswith("<iframe srcdoc=") and "<h1>" not in frame and "&lt;h1&gt;" in frame
    assert html.count("<td") == html.count("</td>") and html.rstrip().endswith("</html>")


def test_command_line(class_of_30, tmp_path, capsys, monkeypatch):
    monkeypatch.setitem(STEEL.__dict__, "problems", PROBLEMS)
    folder = class_of_30[0]
    assert command.main([str(folder), "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert (
        "30 of 30 sheets marked" in said
        and "25 sheets marked" in said
        and "5 unreadable sheets" in said
        and "report.html" in said
    )
    for name in ("marks", "marks-2"):  # an earlier result is never written over
        assert command.main([str(folder)]) == 0 and (folder / name / "gradebook.csv").is_file()
    assert len(mark(folder).table) == 25
    assert (
        command.main([str(tmp_path / "nowhere")]) == 1 and "not a folder" in capsys.readouterr().err
    )
    assert (
        command.main([str(folder), "--lesson", "nothing"]) == 1
        and "nothing" in capsys.readouterr().err
    )


def test_time_spent():
    base = {"problem": "a.b", "set": 1, "kind": "hint", "number": 1}
    stamps = [
        "2026-01-01T08:00:00Z",
        "2026-01-01T08:02:00Z",
        "2026-01-01T18:02:00Z",
        "2026-01-01T18:01:00Z",
        "nonsense",
        "2026-01-01T18:01:30Z",
    ]
    assert standings([base | {"t": t} for t in stamps])["a.b"].seconds == 120 + 600 + 0 + 30
