"""The kit in another language: a file for a translator with all it says, and a language that nobody
speaks (tests/tools/pseudo.py) in which nothing stays English (tests/tools/left_behind.py).
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import left_behind
import pseudo
import pytest

from steelthermo.app import cli, translate, words
from steelthermo.base import LANGUAGE, InputError, read_po

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    path = tmp_path_factory.mktemp("words") / "pseudo.po"
    pseudo.write(path)
    return path


@pytest.fixture(scope="module")
def texts(file):
    return read_po(file.read_text(encoding="utf-8"))[0]


def run(file, *command):
    """The output of a program in the language of the file."""
    env = os.environ | {LANGUAGE: str(file), "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, *map(str, command)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env=env | {"PYTHONIOENCODING": "utf-8", "PYTHONDONTWRITEBYTECODE": "1"},
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout, done.stderr


def left_in(file, part, *names):
    """What stays English in a part of the kit, and how many texts were looked at."""
    out, told = run(file, ROOT / "tests/tools/left_behind.py", part, *names)
    return out, int(told.split(" texts looked at")[0].split()[-1])


@pytest.mark.parametrize(
    "text",
    [
        "Move a slider with the mouse",  # a lesson
        "Each kg of sulphur takes 24.31/32.06 kg of magnesium.",  # a hint
        "Sulphur in hot metal",  # a control
        "bring the trainer's notebook too",  # a command
        "Trapped water turns to steam at once",  # a caution
        "deoxidation",  # the glossary
        "hood: takes the gas away",  # the sketch
        "efficiency of magnesium",  # what a result rests on
    ],
)
def test_the_file_has_every_kind_of_text(texts, text):
    assert any(text in english for english in texts)


def test_a_pseudo_text_is_longer_and_keeps_what_is_no_word():
    said = pseudo.pseudo("**{x:n}** t of `scrap` in $x$, see [this](../a.ipynb).")
    assert said.startswith("**{x:n}** t óf `scrap` ín $x$, séé [thís ")
    long = "The steel holds more oxygen than its carbon allows."
    assert 1.35 < len(pseudo.pseudo(long)) / len(long) < 1.45
    assert left_behind.left(long) and not left_behind.left(pseudo.pseudo(long))


def test_a_panel_and_a_command_leave_nothing_behind(file):
    assert left_in(file, "panels", "heat_balance")[0] == ""
    assert left_in(file, "commands", "card")[0] == ""


@pytest.mark.long
@pytest.mark.parametrize(
    "part,least",
    [
        ("panels", 1500),
        ("exercises", 4000),
        ("questions", 4000),
        ("sheets", 4000),
        ("commands", 20),
        ("pages", 24),
    ],
)
def test_nothing_is_left_behind(file, part, least):
    out, looked_at = left_in(file, part)
    assert out == "" and looked_at >= least


@pytest.mark.long
def test_the_lessons_in_a_working_copy(file, tmp_path):
    """Through the command, as a learner gets them."""
    out, told = run(file, "-m", "steelthermo", "--folder", tmp_path / "mine", "--copy-only")
    assert "ádded" not in out and "áddéd" in out, told
    notebooks = sorted((tmp_path / "mine/lessons").glob("*.ipynb"))
    assert len(notebooks) == 18
    for path in notebooks:
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "markdown":
                assert not left_behind.left(left_behind.plain("".join(cell["source"]))), path
            else:
                assert not cell["outputs"]


def test_no_language_no_change():
    data = b'{"cells": []}'
    assert translate.in_language_chosen("lessons/a.ipynb", data) is data
    assert "".join(translate.paragraphs_of("a\n\nb\n\n\n- c\n- d")) == "a\n\nb\n\n\n- c\n- d"


def test_the_command(tmp_path, capsys, monkeypatch):
    texts = {"Scrap": ["here"], "Slag": ["there"]}
    monkeypatch.setattr(words, "all_texts", lambda: texts)
    old = tmp_path / "old.po"
    old.write_text('msgid "Gone"\nmsgstr "x"\n\nmsgid "Scrap"\nmsgstr "Schrott"\n', "utf-8")
    assert words.main(["--out", str(tmp_path / "new.po"), "--known", str(old)]) == 0
    assert "2 texts, 1 of them translated" in capsys.readouterr().out
    assert read_po((tmp_path / "new.po").read_text("utf-8"))[0] == {"Scrap": "Schrott"}
    with pytest.raises(InputError, match="not written"):
        words.main(["--out", str(tmp_path / "new.po")])
    assert cli.main(["--language", str(tmp_path / "none.po"), "--copy-only"]) == 1
    assert "cannot be read as a translator's file" in capsys.readouterr().err
