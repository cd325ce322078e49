"""A sheet that shrinks, is emptied, zeroed or put back while a page has it open: what the page
knows is written back, and the learner is told.
"""

import pytest

from steelthermo.coursekit.sheet import Journal, Sheet, read_sheet

WHO = ("Ada", "c")


def add(journal, text):
    return journal.add("answer", problem="a.b", set=1, text=text, state="wrong", slips=[], given={})


def texts(journal):
    return [r["text"] for r in journal.records if r["kind"] == "answer"]


def saved(path):
    contents = read_sheet(path)
    assert not contents.missing and not contents.repeated and not contents.unsealed
    return sorted(r["text"] for r in contents.records if r["kind"] == "answer")


def older(data, path):
    path.write_bytes(b"".join(data.splitlines(True)[:6]))


DONE = {
    "put back to an older state": older,
    "emptied": lambda data, path: path.write_bytes(b""),
    "zeroed at the same size": lambda data, path: path.write_bytes(bytes(len(data))),
    "cut in a line": lambda data, path: path.write_bytes(data[: len(data) // 2]),
    "deleted": lambda data, path: path.unlink(),
    "first lines gone": lambda data, path: path.write_bytes(b"".join(data.splitlines(True)[4:])),
}


@pytest.mark.parametrize("how", DONE)
def test_nothing_known_is_lost(tmp_path, how):
    journal = Journal(tmp_path, *WHO)
    for i in range(10):
        assert add(journal, f"{i}") == ""
    path = journal.sheet.path
    DONE[how](path.read_bytes(), path)
    said = add(journal, "after")
    assert "written back" in said or "A copy is kept" in said
    assert texts(journal) and set(texts(journal)) == {*map(str, range(10)), "after"}
    assert saved(path) == sorted([*map(str, range(10)), "after"])
    assert add(journal, "last") == ""  # told once
    again = Journal(tmp_path, *WHO)
    assert set(texts(again)) == {*map(str, range(10)), "after", "last"}


def test_the_page_still_counts_what_a_sync_took_before_anything_is_added(tmp_path):
    journal = Journal(tmp_path, *WHO)
    for i in range(10):
        add(journal, f"{i}")
    older(journal.sheet.path.read_bytes(), journal.sheet.path)
    assert len(texts(journal)) == 10


def test_two_pages_and_a_sync(tmp_path):
    """Each writes back what it knows; nothing stands there twice."""
    one, two = Journal(tmp_path, *WHO), Journal(tmp_path, *WHO)
    for i in range(3):
        add(one, f"one {i}")
        add(two, f"two {i}")
    path = one.sheet.path
    older(path.read_bytes(), path)
    add(two, "two 3")
    add(one, "one 3")
    assert saved(path) == sorted(f"{who} {i}" for who in ("one", "two") for i in range(4))


def test_a_sheet_zeroed_while_nobody_had_it_open_is_kept_aside(tmp_path):
    add(Journal(tmp_path, *WHO), "1")
    path = Sheet(tmp_path, *WHO).path
    path.write_bytes(bytes(path.stat().st_size))
    said = add(Journal(tmp_path, *WHO), "2")
    assert "A copy is kept" in said and list(path.parent.glob("*.damaged-1"))
