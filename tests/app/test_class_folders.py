"""The command `steelthermo class`: what a learner's folder holds, and that it is nobody else's."""

import zipfile

import pytest

from steelthermo.app import class_folders, works_file
from steelthermo.coursekit.marking import exam_command
from steelthermo.coursekit.page import Page
from steelthermo.coursekit.sheet import load_course
from steelthermo.works import load_profile

NAMES = 'id;name;email;group\n217;Ada Lind;a@x.example;A\nCON;Ada Lind;;A\n;Öyvind /..\\ "X";;\n'


@pytest.fixture
def trainer(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("STEELTHERMO_SECRET", str(tmp_path / "home" / "secret.txt"))
    (tmp_path / "names.csv").write_text(NAMES, encoding="utf-8")
    (tmp_path / "course.toml").write_text(
        'key = "HS26-A"\npredict_first = false\ndeadline = 2026-12-18\ntry_cost = 0.2\n'
        '[[override]]\nlearner = "*"\nproblem = "oxygen_demand.carbon"\nc_pct = 4.2\n'
        '[[override]]\nlearner = "Ada Lind (CON)"\nproblem = "oxygen_demand.carbon"\nc_pct = 4.3\n'
    )
    (tmp_path / "works.toml").write_text(works_file.annotated("dunlin"), encoding="utf-8")
    return tmp_path


def run(*argv):
    return class_folders.main(list(argv))


def test_a_folder_for_each_learner(trainer, capsys):
    assert run("names.csv") == 0
    said = capsys.readouterr().out
    assert "3 names read" in said and "a folder for each of 3 learners" in said
    folders = trainer / "class" / "for-learners"
    names = sorted(folder.name for folder in folders.iterdir())
    assert names == ["003_oyvind-x", "217_ada-lind", "CON_ada-lind"]
    course = load_course(folders / "217_ada-lind")
    assert (course.key, course.predict_first, course.learner, course.id, course.try_cost) == (
        "HS26-A",
        False,
        "Ada Lind (217)",
        "217",
        0.2,
    )
    assert course.deadline.strftime("%Y-%m-%d %H:%M:%S") == "2026-12-18 23:59:59"
    assert [values["c_pct"] for *_, values in course.overrides] == [4.2]  # nobody else's
    mine = load_course(folders / "CON_ada-lind")
    assert mine.fixed("Ada Lind (CON)", "oxygen_demand.carbon", 1) == {"c_pct": 4.3}
    assert load_course(folders / "003_oyvind-x").learner == 'Öyvind /..\\ "X"'
    for folder in folders.iterdir():
        assert (folder / "works.toml").read_bytes() == (trainer / "works.toml").read_bytes()
        assert {file.name for file in folder.iterdir()} == {"course.toml", "works.toml"}
    assert len(load_course(trainer / "class").overrides) == 2  # the trainer's own, for marking
    secret = (trainer / "home" / "secret.txt").read_text().strip()
    assert not any(
        secret in file.read_text(errors="replace")
        for file in (trainer / "class").rglob("*")
        if file.is_file()
    )


def test_folders_of_one_group_have_the_names_that_those_of_the_class_have(trainer, capsys):
    (trainer / "names.csv").write_text("name,group\nAda,B\nBram,A\nCem,A\n")
    assert run("names.csv", "--group", "A") == 0 and "2 learners" in capsys.readouterr().out
    folders = trainer / "class" / "for-learners"
    assert sorted(one.name for one in folders.iterdir()) == ["002_bram", "003_cem"]
    assert "Ada" in (trainer / "class" / "class.csv").read_text()  # all of them are marked


@pytest.mark.parametrize("works", [[], ["--works", "dunlin"]])
def test_works_that_ship(trainer, works, capsys):
    """Those the kit takes by itself need no file; others of its own are written out."""
    (trainer / "works.toml").unlink()
    assert run("names.csv", *works) == 0
    (file,) = list(trainer.glob("class/for-learners/217*/works.toml")) or [None]
    assert (file and load_profile(file).name) == ("Dunlin Works" if works else None)


def test_zips_and_nothing_written_over(trainer, capsys):
    assert run("names.csv", "--zip") == 0
    before = (trainer / "home" / "secret.txt").read_bytes()
    with zipfile.ZipFile(trainer / "class" / "for-learners" / "217_ada-lind.zip") as archive:
        assert archive.namelist() == ["course.toml", "works.toml"]
    assert run("names.csv", "--zip") == 1 and "--force" in capsys.readouterr().err
    assert run("names.csv", "--zip", "--force") == 0
    assert (trainer / "home" / "secret.txt").read_bytes() == before


def test_what_is_left_of_an_earlier_list_is_told_and_kept(trainer, capsys):
    assert run("names.csv") == 0 and "Left as they are" not in capsys.readouterr().out
    mine = trainer / "class" / "for-learners" / "217_ada-lind" / "answers.txt"
    mine.write_text("a learner's")
    (trainer / "names.csv").write_text("id,name\n217,Ada Berg\nCON,Ada Lind\n")
    assert run("names.csv", "--force") == 0
    said = capsys.readouterr().out
    assert "worked there: 003_oyvind-x, 217_ada-lind. They" in said
    assert mine.is_file()
    assert run("names.csv", "--force", "--zip") == 0
    assert "CON_ada-lind, " not in said and "CON_ada-lind" in capsys.readouterr().out


def test_an_exam_comes_into_each_folder_and_beside_the_sheets(trainer, capsys):
    assert (
        exam_command(["Winter", "--count", "2"]) == 0 and "class --exam" in capsys.readouterr().out
    )
    assert run("names.csv") == 0 and not list(trainer.glob("class/**/exam.toml"))
    kept = trainer / "class" / "for-learners" / "217_ada-lind" / "mine.txt"
    kept.write_text("a learner's")
    exam = ["names.csv", "--exam", "exam/exam.toml"]
    assert run(*exam, "--force") == 0
    made = (trainer / "exam" / "exam.toml").read_bytes()
    found = list(trainer.glob("class/**/exam.toml"))
    assert len(found) == 4 and {one.read_bytes() for one in found} == {made}
    assert (trainer / "class" / "exam.toml") in found
    assert run(*exam, "--force", "--zip") == 0 and kept.is_file()  # nothing of theirs is removed
    with zipfile.ZipFile(trainer / "class" / "for-learners" / "217_ada-lind.zip") as archive:
        assert archive.namelist() == ["course.toml", "works.toml", "exam.toml"]
    capsys.readouterr()
    assert run(*exam, "--force", "--course", "FS27") == 1
    assert "course key differs" in capsys.readouterr().err


def test_the_page_signs_in_whose_folder_it_is(trainer):
    run("names.csv")
    from steelthermo.course import steel

    steel()
    from steelthermo.coursekit.adapter import in_use

    page = Page(in_use().lesson("02"), trainer / "class" / "for-learners" / "217_ada-lind")
    assert page.journal.learner == "Ada Lind (217)" and page.journal.course == "HS26-A"
