"""What is handed in: every sheet is found whatever it is called, everything else is told, and
nothing that is handed in does any harm.
"""

import io
import os
import sys
import zipfile
from pathlib import Path

import pytest
from sample_problems import MELT, PROBLEMS

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))
from make_class import sheet

from steelthermo.base import InputError
from steelthermo.coursekit.marking import handed_in, marking
from steelthermo.coursekit.sheet import SHEET_ENDINGS


def mark(folder, **more):
    return marking.mark(folder, problems=PROBLEMS, **more)


def of(learner):
    return sheet(learner, "self-study", [MELT], 7)


def zipped(**members):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name.replace("__", "/"), data)
    return out.getvalue()


def test_sheets_under_other_names_are_marked_and_told(tmp_path):
    names = ["a.jsonl.txt", "b.json", "c.jsonl (1)", "d", "E.JSONL"]
    for name in names:
        (tmp_path / name).write_bytes(of(f"Learner {name}"))
    report = mark(tmp_path)
    assert {row["sheet"] for row in report.table} == set(names) and not report.met
    renamed = {
        row["sheet"] for row in report.table if "recognised by its content" in row["remarks"]
    }
    assert renamed == set(names) - {"E.JSONL"}


def test_what_is_not_marked_is_told(tmp_path):
    (tmp_path / "good.jsonl").write_bytes(of("Ada"))
    (tmp_path / "course.toml.txt").write_text('key = "K"')
    (tmp_path / "x.jsonl.damaged-1").write_bytes(of("Ada"))
    (tmp_path / "lesson.ipynb").write_text("{}")
    (tmp_path / "sheets.rar").write_bytes(b"Rar!")
    for name in ("one.pdf", "two.pdf"):
        (tmp_path / name).write_bytes(b"%PDF")
    met = dict(mark(tmp_path).met)
    assert "it must be called course.toml" in met["course.toml.txt"]
    assert "copy that the kit kept" in met["x.jsonl.damaged-1"]
    assert "unpack it" in met["sheets.rar"]
    assert met["2 files .pdf"] == met["1 file .ipynb"] == "not answer sheets"
    assert len(met) == 5


@pytest.mark.skipif(os.name == "nt", reason="needs links and pipes of POSIX")
def test_links_pipes_and_loops_are_told_and_not_followed(tmp_path):
    (tmp_path / "good.jsonl").write_bytes(of("Ada"))
    (tmp_path / "in").mkdir()
    os.symlink(tmp_path / "good.jsonl", tmp_path / "in" / "link.jsonl")
    os.symlink(tmp_path, tmp_path / "in" / "loop")
    os.mkfifo(tmp_path / "in" / "pipe.jsonl")
    report = mark(tmp_path)
    assert len(report.table) == 1
    met = dict(report.met)
    assert "a link" in met["in/link.jsonl"] and "a link" in met["in/loop"]
    assert "neither a file nor a folder" in met["in/pipe.jsonl"] and "in/pipe.jsonl" in report.html


@pytest.mark.skipif(os.name == "nt", reason="needs the rights of POSIX")
def test_a_folder_that_cannot_be_read_is_told(tmp_path, monkeypatch):
    """Root reads everything, so the system's answer is played."""
    (tmp_path / "good.jsonl").write_bytes(of("Ada"))
    (tmp_path / "shut").mkdir()
    real = os.scandir

    def scandir(path):
        if str(path).endswith("shut"):
            raise PermissionError(13, "Permission denied")
        return real(path)

    monkeypatch.setattr(os, "scandir", scandir)
    assert "the system does not allow it" in dict(mark(tmp_path).met)["shut"]


@pytest.mark.skipif(sys.platform != "linux", reason="only here may a name be any bytes")
@pytest.mark.parametrize("pseudonyms", [False, True])
def test_a_folder_name_that_is_no_utf_8_ends_no_report(tmp_path, pseudonyms):
    """As unzipped from an archive in a Western code page; two sheets by one name below it."""
    strange = os.fsencode(tmp_path) + b"/J\xf6rg"
    os.mkdir(strange)
    for name, seed in ((b"/a.jsonl", 1), (b"/b.jsonl", 2)):
        with open(strange + name, "wb") as file:
            file.write(sheet("Jörg", "self-study", [MELT], seed))
    report = mark(tmp_path, pseudonyms=pseudonyms)
    files = report.write(tmp_path / "out")
    assert len(report.table) == 2 and all(file.stat().st_size > 15 for file in files)
    assert not list((tmp_path / "out").glob("*.part"))


def test_zips_are_opened_safely(tmp_path, monkeypatch):
    (tmp_path / "class.zip").write_bytes(
        zipped(**{"a__readme.txt": "no sheet", "b__x.jsonl": of("Ada"), "c__y.txt": of("Bram")})
    )
    (tmp_path / "broken.zip").write_bytes(zipped(a=of("Cleo"))[:-30])
    (tmp_path / "nested.zip").write_bytes(zipped(**{"in.zip": zipped(a=of("Dora"))}))
    (tmp_path / "bomb.zip").write_bytes(zipped(**{"bomb.jsonl": b"\0" * 20_000_000}))
    (tmp_path / "up.zip").write_bytes(zipped(**{"..__..__evil.jsonl": of("Eve")}))
    report = mark(tmp_path)
    assert {row["learner"] for row in report.table} == {"Ada", "Bram", "Eve"}
    met, bad = dict(report.met), dict(report.bad)
    assert "cannot be read" in met["broken.zip"]
    assert "a zip inside a zip" in met["nested.zip > in.zip"]
    assert "has 16 MB" in bad["bomb.zip > bomb.jsonl"]
    assert not list(tmp_path.parent.rglob("evil*")) and not [
        p for e in SHEET_ENDINGS for p in tmp_path.rglob(f"*{e}")
    ]
    monkeypatch.setattr(handed_in, "ZIP_MEMBERS", 2)
    assert "more than a class's sheets" in dict(mark(tmp_path / ".").met)["class.zip"]


def test_a_zip_with_a_password_is_told(tmp_path):
    data = bytearray(zipped(**{"a.jsonl": of("Ada")}))
    for place in (data.find(b"PK\3\4") + 6, data.find(b"PK\1\2") + 8):
        data[place] |= 1
    (tmp_path / "locked.zip").write_bytes(data)
    with pytest.raises(InputError, match=r"holds no answer sheet. Met: .*locked by a password"):
        mark(tmp_path)
