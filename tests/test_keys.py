"""The trainer's key and the printable sheets agree with what the learner sees, and print what they must."""

import csv
import io
import re

import pytest
from sample_problems import MELT, OXYGEN, PROBLEMS

from steelthermo.errors import InputError
from steelthermo.teaching import keys
from steelthermo.teaching.checking import check
from steelthermo.teaching.course import Course
from steelthermo.teaching.draws import draw

NAMES = ["Ada Österberg", "=Bob", "<b>Eve</b>"]


@pytest.fixture(scope="module")
def draws():
    return keys.draws_for(NAMES, problems=PROBLEMS)


def test_key_is_what_the_page_draws_and_takes(draws):
    for name, own in draws.items():
        assert [d.problem for d in own] == list(PROBLEMS)
        for one in own:
            assert one.given == draw(one.problem, name).given and check(draw(one.problem, name), one.answer_text()).done


def test_problem_sheet_shows_no_answer(draws):
    html = keys.problem_sheets_html(draws)
    assert html.count("<section>") == 3 and html.count("<article>") == 18 and "break-after:page" in html
    assert draws[NAMES[0]][0].text(OXYGEN.text) in html and "keep oil and grease away" in html and "three figures carried" in html
    assert "&lt;b&gt;Eve&lt;/b&gt;" in html and "<b>Eve" not in html
    assert draws[NAMES[0]][0].answer_text() not in html and "<li>Lime = silica / 3.</li>" in html


def test_answer_key_with_worked_solutions_and_slips(draws):
    html = keys.answer_key_html(draws, "self-study")
    one = draws[NAMES[0]][0]
    assert one.answer_text() in html and "burnt the carbon to CO2" in html and "For the trainer only" in html and "<b>Eve" not in html
    assert keys.quantity_text(one.slips["co2_for_co"][1], "Nm3") in html


def test_a_class_gets_a_table_for_each_problem():
    html = keys.answer_key_html(keys.draws_for([f"learner {i}" for i in range(20)], problems=PROBLEMS), "c")
    assert html.count("<table>") == 6 and html.count("<tr>") == 6 * 21 and "burnt the carbon" not in html


def test_csv_key(draws):
    rows = list(csv.DictReader(io.StringIO(keys.answer_key_csv(draws))))
    assert len(rows) == 18 and rows[0]["learner"] == "Ada Österberg" and rows[6]["learner"] == "'=Bob"
    assert rows[2]["answer"].replace("\u00a0", " ") == "270 K" and rows[2]["given"] == "element Fe; temperature 1330 °C"


def test_overrides_and_impossible_draws():
    course = Course("c", True, (("*", MELT.key, None, {"temp_c": 1300.0}), ("*", OXYGEN.key, None, {"nothing": 1.0})))
    own = keys.draws_for(["Ada"], course, PROBLEMS)["Ada"]
    assert own[2].given["temp_c"] == 1300.0 and isinstance(own[0], InputError)
    for html in (keys.problem_sheets_html({"Ada": own}), keys.answer_key_html({"Ada": own}, "c"), keys.answer_key_csv({"Ada": own})):
        assert "is not one of its quantities" in html


@pytest.mark.parametrize(
    "data, names",
    [
        (b"name,mark\nAda,1\nBram,2\n", ["Ada", "Bram"]),
        ("\ufeffNr;Learner\r\n1;Zoë\r\n2;\r\n3;Çelik\r\n".encode(), ["Zoë", "Çelik"]),
        (b"Ada\nBram\n", ["Ada", "Bram"]),
        ('"Österberg, Ada";x\n"Lind, Bram";y\n'.encode("cp1252"), ["Österberg, Ada", "Lind, Bram"]),
    ],
)
def test_lists_of_names(tmp_path, data, names):
    (tmp_path / "names.csv").write_bytes(data)
    assert keys.names_from(tmp_path / "names.csv") == names


def test_command_line(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(keys.registry, "all_problems", lambda: PROBLEMS)
    assert keys.main(["--learner", "Ada", "Bram", "--course", "HS26-A", "--set", "2", "--out", str(tmp_path / "a")]) == 0
    key = (tmp_path / "a" / "answer_key.csv").read_text(encoding="utf-8-sig")
    assert draw(MELT, "Bram", "HS26-A", 2).answer_text().replace("\u00a0", " ") in key and len(key.splitlines()) == 13
    (tmp_path / "names.csv").write_text("name\nAda\nBram\nCleo\nDora\n")
    (tmp_path / "course.toml").write_text('key = "K"')
    assert keys.main(["--class", str(tmp_path / "names.csv"), "--course", str(tmp_path / "course.toml"), "--out", str(tmp_path / "b")]) == 0
    assert "course key K" in (tmp_path / "b" / "answer_key.html").read_text(encoding="utf-8")
    assert re.search(r"problem_sheets\.html.*answer_key\.html.*answer_key\.csv", capsys.readouterr().out)
    (tmp_path / "empty.csv").write_text("name\n")
    lists = [["--class", str(tmp_path / name)] for name in ("empty.csv", "none.csv")]
    for wrong in (*lists, ["--learner", "A", "--set", "0"], ["--learner", "A", "--lesson", "x"]):
        assert keys.main([*wrong, "--out", str(tmp_path / "c")]) == 1 and "steelthermo key: " in capsys.readouterr().err
    assert not (tmp_path / "c").exists()
