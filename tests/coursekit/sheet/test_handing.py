"""What is handed in is one whole file with the learner's number; a changed check line is found."""

from html import escape

import pytest

from steelthermo.coursekit.marking import command
from steelthermo.coursekit.sheet import Sheet, check_line, hand_in, read_sheet, verified


def add(sheet, text):
    sheet.append("answer", problem="a.b", set=1, text=text, state="wrong", slips=[], given={})


def test_one_file_with_the_number_in_its_name(tmp_path):
    sheet = Sheet(tmp_path, "Ada Lind", "c")
    add(sheet, "1")
    path, answers = hand_in(sheet, "21/7 A")
    assert path.parent == tmp_path / "hand-in" and path.name == f"21-7-A_{sheet.path.name}"
    assert answers == 1 and path.read_bytes() == sheet.path.read_bytes()
    add(sheet, "2")
    again, answers = hand_in(sheet, "21/7 A")
    assert (again, answers) == (path, 2) and len(list(path.parent.iterdir())) == 1
    assert [r["text"] for r in read_sheet(path).records if r["kind"] == "answer"] == ["1", "2"]
    assert hand_in(sheet)[0].name == sheet.path.name
    sheet.append("paper", paper="winter", asked="a.b", text="12")
    assert hand_in(sheet)[1] == 3  # nobody who wrote an exam is told of no answers


LINE = check_line("Ada · Lind <b>", "HS26-A", "heat 1, 14 of 14 entries right")


@pytest.mark.parametrize(
    "old, new, fits",
    [
        ("", "", True),
        ("14 of", "13 of", False),
        ("Ada", "Eve", False),
        ("HS26-A", "HS26-B", False),
        (LINE[-1], "0" if LINE[-1] != "0" else "1", False),
    ],
)
def test_a_check_line(tmp_path, old, new, fits, capsys):
    line = LINE.replace(old, new)
    assert verified(line)[0] is fits
    assert command.main(["--verify", line]) == (0 if fits else 1)
    assert ("The code fits: Ada" in capsys.readouterr().out) is fits
    (tmp_path / "page.html").write_text(f"<p>{escape(line)}</p>", encoding="utf-8")
    assert verified(tmp_path / "page.html")[0] is fits
    assert verified(tmp_path / "page.html")[1] == verified(line)[1]


def test_a_page_without_one(tmp_path, capsys):
    (tmp_path / "page.html").write_text("<p>nothing</p>")
    assert verified(tmp_path / "page.html")[0] is False
    assert command.main(["--verify", str(tmp_path / "no.html")]) == 1
    assert command.main([]) == 1
