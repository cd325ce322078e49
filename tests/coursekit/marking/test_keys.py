"""The trainer's key and the printable sheets agree with what the learner sees, and print what they
must.
"""

import csv
import io
import re
from dataclasses import replace

import pytest
from sample_problems import MELT, OXYGEN, PROBLEMS

from steelthermo.app import works_file as plant_file
from steelthermo.base import InputError
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.marking import keys, lessons_named, lock_of
from steelthermo.coursekit.marking.ground import _fault_of_value
from steelthermo.coursekit.problems import check, draw
from steelthermo.coursekit.sheet import Course
from steelthermo.works import profile as plant

NAMES = ["Ada Österberg", "=Bob", "<b>Eve</b>"]


@pytest.fixture(scope="module")
def draws():
    return keys.draws_for(NAMES, problems=PROBLEMS)


def test_key_is_what_the_page_draws_and_takes(draws):
    for name, own in draws.items():
        assert [d.problem.key for d in own] == [p.key for p in PROBLEMS]
        for one in own:
            assert (
                one.given == draw(one.problem, name).given
                and check(draw(one.problem, name), one.answer_text()).done
            )


def test_problem_sheet_shows_no_answer(draws):
    html = keys.problem_sheets_html(draws)
    assert (
        html.count("<section>") == 3
        and html.count("<article>") == 18
        and "break-after: page" in html
    )
    # two problems side by side, paper across; a table's head stands again on each page
    assert html.count('<tr class="pair">') == 9 and "<body class=across>" in html
    assert "size: landscape" in html and "table-header-group" in html
    heads = re.findall(r"<thead><tr><th colspan=\"2\">(.*?)</th>", html)
    assert len(heads) == 3 and all(h.endswith(" · course self-study · set 1") for h in heads)
    assert html.count("Figures, sources") == 3  # of the cautions: once for each learner
    assert (
        draws[NAMES[0]][0].text(OXYGEN.text) in html
        and "Oil, grease and many materials" in html
        and "three figures carried" in html
    )
    assert "&lt;b&gt;Eve&lt;/b&gt;" in html and "<b>Eve" not in html
    assert draws[NAMES[0]][0].answer_text() not in html and "<li>Lime = silica / 3.</li>" in html


def test_answer_key_with_worked_solutions_and_slips(draws):
    html = keys.answer_key_html(draws, "self-study")
    one = draws[NAMES[0]][0]
    assert (
        one.answer_text() in html
        and "burnt the carbon to CO2" in html
        and "For the trainer only" in html
        and "<b>Eve" not in html
    )
    assert keys.quantity_text(one.slips["co2_for_co"][1], "Nm3") in html


def test_a_class_gets_a_table_for_each_problem():
    html = keys.answer_key_html(
        keys.draws_for([f"learner {i}" for i in range(20)], problems=PROBLEMS), "c"
    )
    assert (
        html.count("<table>") == 6
        and html.count("<tr>") == 6 * 21
        and "burnt the carbon" not in html
    )
    assert (
        "Quantities: element (element); temperature (temp_c)." in html
    )  # the names an override needs, once per problem


def test_csv_key(draws):
    rows = list(csv.DictReader(io.StringIO(keys.answer_key_csv(draws))))
    assert (
        len(rows) == 18 and rows[0]["learner"] == "Ada Österberg" and rows[6]["learner"] == "'=Bob"
    )
    assert (
        rows[2]["answer"].replace("\u00a0", " ") == "270 K"
        and rows[2]["given"] == "element Fe (element); temperature 1330 °C (temp_c)"
    )


def test_overrides_and_impossible_draws():
    course = Course(
        "c",
        True,
        (("*", MELT.key, None, {"temp_c": 1300.0}), ("*", OXYGEN.key, None, {"nothing": 1.0})),
    )
    own = keys.draws_for(["Ada"], course, PROBLEMS)["Ada"]
    assert own[2].given["temp_c"] == 1300.0 and isinstance(own[0], InputError)
    for html in (
        keys.answer_key_html({"Ada": own}, "c"),
        keys.answer_key_html({"Ada": own}, "c", False),
        keys.answer_key_csv({"Ada": own}),
    ):
        assert "is not one of its quantities" in html
    sheets = keys.problem_sheets_html({"Ada": own})
    assert (
        "Ask your trainer" in sheets and "override" not in sheets
    )  # a learner's sheet says nothing of a fault that is the trainer's


@pytest.fixture(autouse=True)
def secret(tmp_path_factory, monkeypatch):
    """A trainer's secret, not in the home folder of whoever tests."""
    file = tmp_path_factory.mktemp("trainer") / "secret.txt"
    file.write_text("a secret of the tests, long enough")
    monkeypatch.setenv("STEELTHERMO_SECRET", str(file))
    return file


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder of a trainer's, and the problems of the samples."""
    folder = tmp_path / "course" / "here"
    folder.mkdir(parents=True)
    monkeypatch.chdir(folder)
    monkeypatch.setitem(STEEL.__dict__, "problems", PROBLEMS)
    return folder


def test_a_key_given_replaces_only_the_key_of_the_course(here, capsys):
    (here / "course.toml").write_text(
        f'key = "HS26-A"\n[[override]]\nlearner = "*"\nproblem = "{MELT.key}"\ntemp_c = 1251\n'
    )
    assert keys.main(["--learner", "Ada", "--course", "other"]) == 0
    said = capsys.readouterr().out
    assert (
        "Course key other as you gave it" in said
        and "says HS26-A" in said
        and "1 override" in said
        and "Heron Works" in said
    )
    text = (here / "key" / "answer_key.csv").read_text(encoding="utf-8-sig").replace("\u00a0", " ")
    assert "1251 °C (temp_c)" in text and "349 K" in text  # 1600 - 1251
    assert (
        keys.main(["--learner", "Ada", "--course", "hs26-a", "--force"]) == 0
        and "as you gave it" not in capsys.readouterr().out
    )


def test_faults_of_overrides_are_told_all_at_once(here, capsys):
    wrong = [
        ("sample.melted", "temp_c = 1300"),
        (MELT.key, "temp = 1300"),
        (MELT.key, "temp_c = 99"),
        (MELT.key, 'element = "Xx"'),
        (OXYGEN.key, "carbon_pct = -4"),
    ]
    (here / "course.toml").write_text(
        "".join(f'[[override]]\nlearner = "*"\nproblem = "{key}"\n{line}\n' for key, line in wrong)
    )
    assert keys.main(["--learner", "Ada"]) == 1 and not (here / "key").exists()
    said = capsys.readouterr().err
    assert (
        "5 faults" in said
        and "did you mean sample.melt?" in said
        and "it has element, temp_c" in said
        and "Fe, Mn" in said
    )
    assert (
        "1250 to 1400 °C" in said and "carbon_pct = -4" in said and "2.8 to 5.8 %" in said
    )  # 3.8 to 4.8, widened by its width on both sides
    (here / "course.toml").write_text("kye = 1\nkey = 2\n")
    assert keys.main(["--learner", "Ada"]) == 1
    said = capsys.readouterr().err
    assert "kye is not a setting" in said and "key is 2" in said


@pytest.mark.parametrize("works", plant.WORKS)
def test_whatever_can_be_drawn_may_be_laid_down(works):
    """An override within the drawn range is never refused as out of sense; ten times the range
    always is.
    """
    for problem in (p.at(plant.load_profile(works)) for p in STEEL.problems):
        for given in problem.given:
            ends = (given.grid[0], given.grid[-1])
            assert not any(_fault_of_value(1, problem, given.name, end) for end in ends), (
                problem.key,
                given.name,
            )
            if not isinstance(ends[0], str):
                far = ends[1] + 10 * (ends[1] - ends[0] + abs(ends[1]))
                assert _fault_of_value(1, problem, given.name, far), (
                    problem.key,
                    given.name,
                )


def test_an_override_that_makes_no_problem_is_refused(here, capsys):
    (here / "course.toml").write_text(
        f'[[override]]\nlearner = "*"\nproblem = "{OXYGEN.key}"\nhot_metal_t = 60\ncarbon_pct = '
        "2.9\npurity_pct = 96\n"
    )
    assert (
        keys.main(["--learner", "Ada"]) == 1
    )  # 60 t of 2.9 % need 1691 Nm3, and less than 3000 is not plausible there
    assert "makes no problem" in capsys.readouterr().err


@pytest.mark.parametrize("given", ["curse.toml", "course/course.toml", "HS26/A", "C:\\course.TOML"])
def test_a_course_file_that_is_not_there_is_refused(here, capsys, given):
    assert (
        keys.main(["--learner", "Ada", "--course", given]) == 1
        and "there is no such file" in capsys.readouterr().err
    )


def test_the_works_profile_is_told_and_a_faulty_one_refused(here, capsys):
    (here.parent / "works.toml").write_text(plant_file.annotated("dunlin"), encoding="utf-8")
    assert keys.main(["--learner", "Ada"]) == 0 and "Dunlin Works" in capsys.readouterr().out
    assert "Dunlin Works" in (here / "key" / "answer_key.html").read_text(encoding="utf-8")
    assert (
        keys.main(["--learner", "Ada", "--works", "plover", "--force"]) == 0
        and "Plover Works" in capsys.readouterr().out
    )
    (here / "works.toml").write_text("name = 3")
    assert keys.main(["--learner", "Ada"]) == 1 and "works.toml" in capsys.readouterr().err


def test_keys_are_drawn_with_the_works_profile():
    moved = replace(
        OXYGEN,
        given=(replace(OXYGEN.given[0], follows="vessel.tap_t"), *OXYGEN.given[1:]),
        plausible=None,
    )
    works = plant.load_profile("dunlin")
    (one,), (usual,) = (
        keys.draws_for(["Ada"], problems=[moved], works=w)["Ada"] for w in (works, None)
    )
    assert (
        one.given == draw(moved, "Ada", works=works).given
        and one.given["hot_metal_t"] < 120 <= usual.given["hot_metal_t"]
    )


def test_namesakes_and_many_pages_are_told(here, capsys):
    (here / "names.csv").write_text("name\nAda Lind\nBram\nada  LIND\n", encoding="utf-8")
    assert keys.main(["--class", "names.csv"]) == 0
    said = capsys.readouterr().out
    assert "Ada Lind stands there 2 times" in said and "pages" not in said
    assert (
        keys.main(["--force", "--learner", *(f"learner {i}" for i in range(70))]) == 0
    )  # six problems are three pages, and their cautions one
    assert "about 280 pages" in capsys.readouterr().out


def test_key_and_sheets_of_one_group(here, capsys):
    (here / "names.csv").write_text("name,group\nAda,A\nBram,B\nCem,A\n")
    chosen = ["--class", "names.csv", "--lesson", "02", "--group"]
    assert keys.main([*chosen, "a"]) == 0 and "2 of them" in capsys.readouterr().out
    sheets = (here / "key" / "problem_sheets.html").read_text()
    assert "Ada" in sheets and "Cem" in sheets and "Bram" not in sheets
    assert keys.main([*chosen, "C", "--force"]) == 1 and "groups of" in capsys.readouterr().err
    assert keys.main(["--learner", "Ada", "--group", "A"]) == 1
    assert "--class NAMES.CSV" in capsys.readouterr().err


def test_lessons_by_number_with_and_without_the_nought():
    by_number = lessons_named(["02"])
    assert (
        lessons_named(["2"])
        == lessons_named(["oxidation_heat"])
        == lessons_named(["02_oxidation_heat"])
        == by_number
    )
    assert [p.lesson for p in by_number[0]] == ["oxidation_heat"] * len(by_number[0]) and by_number[
        1
    ] == []
    assert lessons_named(["15"]) == ([], [STEEL.lesson("15")]) == lessons_named(["whole_heat"])
    with pytest.raises(
        InputError, match=r"'99' was asked for; .*02 oxidation_heat, .*15 whole_heat, 16 "
    ):
        lessons_named(["99"])


def test_help_has_the_format_of_overrides(capsys):
    with pytest.raises(SystemExit):
        keys.main(["--help"])
    text = capsys.readouterr().out
    assert (
        "[[override]]" in text
        and 'problem = "oxygen_demand.carbon"' in text
        and "c_pct = 4.2" in text
        and "in brackets" in text
    )
    example = next(p for p in STEEL.problems if p.key == "oxygen_demand.carbon")
    assert "c_pct" in {g.name for g in example.given}


def test_command_line(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setitem(STEEL.__dict__, "problems", PROBLEMS)
    assert (
        keys.main(
            [
                "--learner",
                "Ada",
                "Bram",
                "--course",
                "HS26-A",
                "--set",
                "2",
                "--out",
                str(tmp_path / "a"),
            ]
        )
        == 0
    )
    key = (tmp_path / "a" / "answer_key.csv").read_text(encoding="utf-8-sig")
    assert (
        draw(MELT, "Bram", "HS26-A", 2).answer_text().replace("\u00a0", " ") in key
        and len(key.splitlines()) == 13
    )
    (tmp_path / "names.csv").write_text("name\nAda\nBram\nCleo\nDora\n")
    (tmp_path / "course.toml").write_text('key = "K"')
    assert (
        keys.main(
            [
                "--class",
                str(tmp_path / "names.csv"),
                "--course",
                str(tmp_path / "course.toml"),
                "--out",
                str(tmp_path / "b"),
            ]
        )
        == 0
    )
    assert "course key K" in (tmp_path / "b" / "answer_key.html").read_text(encoding="utf-8")
    assert re.search(
        r"problem_sheets\.html.*answer_key\.html.*answer_key\.csv", capsys.readouterr().out
    )
    (tmp_path / "empty.csv").write_text("name\n")
    lists = [["--class", str(tmp_path / name)] for name in ("empty.csv", "none.csv")]
    for wrong in (*lists, ["--learner", "A", "--set", "0"], ["--learner", "A", "--lesson", "x"]):
        assert (
            keys.main([*wrong, "--out", str(tmp_path / "c")]) == 1
            and "steelthermo key: " in capsys.readouterr().err
        )
    assert not (tmp_path / "c").exists()


def test_answers_of_a_course_need_the_secret_its_folders_were_made_with(here, capsys, secret):
    key = ["--learner", "Ada", "--course", "HS26-A"]
    secret.unlink()
    for more in ([], ["--worked"]):
        assert keys.main([*key, *more]) == 1 and not (here / "key").exists()
        assert "need the trainer's secret" in capsys.readouterr().err
    assert keys.main([*key, "--sheets-only"]) == 0
    assert [file.name for file in (here / "key").iterdir()] == ["problem_sheets.html"]
    assert keys.main([*key, "--secret", "nowhere.txt", "--out", "b"]) == 1
    secret.write_text("too short")
    assert keys.main([*key, "--out", "b"]) == 1
    assert "holds less than 20 characters" in capsys.readouterr().err
    (here / "course.toml").write_text(f'key = "K"\nlock = "{lock_of(b"x" * 64, chr(75))}"\n')
    secret.write_text("y" * 64)
    assert keys.main(["--learner", "Ada", "--worked", "--out", "b"]) == 1
    assert "not the one this course was made with" in capsys.readouterr().err
    secret.write_text("x" * 64)
    assert keys.main(["--learner", "Ada", "--worked", "--out", "b"]) == 0


def test_nothing_is_written_over_unless_by_force(here, capsys):
    assert keys.main(["--learner", "Ada"]) == 0
    before = (here / "key" / "answer_key.csv").read_bytes()
    assert keys.main(["--learner", "Bram"]) == 1
    assert "--force writes over" in capsys.readouterr().err
    assert (here / "key" / "answer_key.csv").read_bytes() == before
    assert keys.main(["--learner", "Bram", "--force"]) == 0
    assert (here / "key" / "answer_key.csv").read_bytes() != before


@pytest.mark.parametrize("name", ["", " ", "A" * 81])
def test_a_name_that_cannot_sign_in_gets_no_key(here, capsys, name):
    assert keys.main(["--learner", name]) == 1
    assert "cannot be signed in with" in capsys.readouterr().err
