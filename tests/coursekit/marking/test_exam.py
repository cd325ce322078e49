"""An exam from the trainer's side: drawn with the secret, its key, its marks; and gain by skill."""

import csv
import io
import re

import pytest
from sample_sheets import write

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.marking import exam, keys, marking
from steelthermo.coursekit.page import PaperPage
from steelthermo.coursekit.paper import FIRST, LAST, load_exam
from steelthermo.coursekit.sheet import save_me

SECRET = "a secret of more than twenty characters"


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "secret.txt").write_text(SECRET)
    (tmp_path / "course.toml").write_text('key = "HS26-A"\n')
    return tmp_path


def made(place, capsys, *more):
    arguments = ["Midterm", "--secret", "secret.txt", "--lesson", "01", "--count", "3", *more]
    assert exam.main(arguments) == 0
    return re.search(r"HS26-A: ([0-9a-f-]+)\.", capsys.readouterr().out)[1]


def written_by(place, learner, code, right):
    folder = place / "in" / learner
    (folder / "answers").mkdir(parents=True)
    (folder / "exam.toml").write_bytes((place / "exam" / "exam.toml").read_bytes())
    (folder / "course.toml").write_text('key = "HS26-A"\n')
    save_me(folder, learner, "HS26-A")
    for key, many in ((FIRST, 0), (LAST, right)):
        page = PaperPage(key, folder)
        for asked in list(page.asked.values())[:many]:
            asked.answer.box.value = asked.draw.answer_text()
        page.end()
    page = PaperPage("exam", folder)
    page.code.value = code
    page.open_exam()
    for asked in list(page.asked.values())[:right]:
        asked.answer.fill(asked.draw.answer_text())
    return {k: asked.draw.answer_text() for k, asked in page.asked.items()}


def test_drawn_written_marked(place, capsys):
    code = made(place, capsys)
    text = (place / "exam" / "exam.toml").read_text()
    assert code not in text and code.replace("-", "") not in text
    right = written_by(place, "Ada", code, 2)
    written_by(place, "Bram", code, 1)
    (place / "in" / "exam.toml").write_text(text)
    report = marking.mark(place / "in", secret=SECRET.encode())
    rows = list(csv.DictReader(io.StringIO(report.csv())))
    told = [(r["exam"], r["first_paper"], r["last_paper"], r["gain"]) for r in rows]
    assert told == [("2", "0", "2", "2"), ("1", "0", "1", "1")]
    # of ten and of three problems
    names = [f"{name}_not_answered" for name in ("first_paper", "last_paper", "exam")]
    assert [[r[name] for name in names] for r in rows] == [["10", "8", "1"], ["10", "9", "2"]]
    (last,) = re.findall(r"<tr>(?:(?!</tr>).)*all skills.*?</tr>", report.html, re.DOTALL)
    assert re.findall(r">(\d+)<", last) == ["0", "3", "3", "0", "20", "17"]
    assert "Exam Midterm (2 learners)" in report.html
    assert "What was gained, first to last paper (2 learners)" in report.html
    skill = STEEL.problem(STEEL.paper[0]).title
    assert re.search(
        re.escape(skill) + r"</td><td[^>]*>0</td><td[^>]*>2</td><td[^>]*>2", report.html
    )
    unmarked = marking.mark(place / "in")
    assert any("not marked" in line for line in unmarked.told)
    # the trainer's key has what the learner saw
    key = ["--learner", "Ada", "--exam", "exam/exam.toml", "--secret", "secret.txt"]
    assert keys.main([*key, "--out", "key"]) == 0
    rows = csv.DictReader(io.StringIO((place / "key" / "answer_key.csv").read_text("utf-8-sig")))
    shown = {r["problem"]: r["answer"] for r in rows}
    assert shown == {key: text.replace("\xa0", " ") for key, text in right.items()}


def test_a_day_alone_closes_at_its_end(place, capsys):
    made(place, capsys, "--opens", "2026-12-18", "--closes", "2026-12-18")
    exam_made = load_exam(place / "exam" / "exam.toml")
    assert (exam_made.closes - exam_made.opens).total_seconds() == 24 * 3600 - 1


def test_an_exam_written_on_another_computer_counts(place, capsys):
    """Exercises at home, the exam in a computer room: two sheets by one person."""
    code = made(place, capsys, "--closes", "2026-01-01")
    text = (place / "exam" / "exam.toml").read_text()
    late = re.sub("closes = 2026", "closes = 2126", text)  # a learner who opens it by force
    (place / "exam" / "exam.toml").write_text(late)
    written_by(place, "Ada", code, 2)
    solved = [(problem, None, 60) for problem in STEEL.problems[:3]]
    write(place / "in" / "home" / "ada.sheet.txt", "Ada", solved, course="HS26-A")
    (place / "in" / "exam.toml").write_text(text)
    (place / "in" / "class.csv").write_text("id,name\n1,Ada\n2,Bram\n")
    report = marking.mark(place / "in", secret=SECRET.encode())
    ada, bram = csv.DictReader(io.StringIO(report.csv()))
    # two of three problems are 67 %, by hand
    assert (ada["solved"], ada["exam"], ada["exam_percent"]) == ("3", "2", "66.7")
    assert "written on another sheet" in ada["remarks"] and "outside its time" in ada["remarks"]
    assert bram["exam_percent"] == "" and "Exam Midterm (1 learner)" in report.html
    files = {f.name: f for f in report.write(place / "out")}
    moodle = list(csv.reader(files["for_moodle.csv"].open(encoding="utf-8-sig")))
    assert [row[-1] for row in moodle] == ["Exam Midterm", "66.7", ""]


def test_a_key_needs_the_secret_that_the_exam_was_made_with(place, capsys, monkeypatch):
    made(place, capsys)
    monkeypatch.setenv("STEELTHERMO_SECRET", str(place / "none.txt"))
    asked = ["--learner", "Ada", "--exam", "exam/exam.toml", "--sheets-only"]
    assert keys.main(asked) == 1 and "need the trainer's secret" in capsys.readouterr().err
    (place / "other.txt").write_text(SECRET + " of another")
    assert keys.main([*asked, "--secret", "other.txt"]) == 1
    assert "not the one that the exam" in capsys.readouterr().err
    assert not (place / "key").exists()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["A/B"], "slash"),
        (["A", "--count", "0"], "0 problems"),
        (["A", "--opens", "nine"], "nine was given"),
        (
            ["A", "--opens", "2026-12-18T11:00", "--closes", "2026-12-18T09:00"],
            "not after it opens",
        ),
        ([" "], "1 to 60 characters"),
        (["last"], "not one of first, last"),
        (["A" * 61], "1 to 60 characters"),
    ],
)
def test_what_makes_no_exam_is_told(place, capsys, arguments, told):
    assert exam.main([*arguments, "--secret", "secret.txt"]) == 1
    assert told in capsys.readouterr().err and not (place / "exam").exists()
