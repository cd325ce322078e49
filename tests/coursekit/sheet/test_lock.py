"""The lock on each system, the other systems played: Windows says PermissionError for a lock that
is taken (msvcrt.locking, LK_NBLCK), a browser has no flock.
"""

import pytest

from steelthermo.coursekit.sheet import Sheet, lock


class Windows:
    """msvcrt, as Python's documentation has it: a file can be locked by one handle."""

    LK_NBLCK = 2
    taken = False

    @classmethod
    def locking(cls, handle, mode, count):
        assert (mode, count) == (cls.LK_NBLCK, 1)
        if cls.taken:
            raise PermissionError(13, "Permission denied")


def add(sheet):
    sheet.append("answer", problem="a.b", set=1, text="1", state="wrong", slips=[], given={})
    return len(sheet.records)


@pytest.mark.parametrize("taken", [False, True])
def test_windows(tmp_path, monkeypatch, taken):
    monkeypatch.setattr(lock, "msvcrt", Windows)
    monkeypatch.setattr(lock, "fcntl", None)
    monkeypatch.setattr(Windows, "taken", taken)
    monkeypatch.setattr(lock, "LOCK_SECONDS", 0.05)
    assert lock.try_lock(0) is not taken
    assert add(Sheet(tmp_path, "Ada", "c")) == 2  # saved all the same: header and answer


def test_no_locks_at_all(tmp_path, monkeypatch):
    monkeypatch.setattr(lock, "msvcrt", None)
    monkeypatch.setattr(lock, "fcntl", None)
    assert lock.try_lock(0) and add(Sheet(tmp_path, "Ada", "c")) == 2


def test_the_lock_is_held_and_given_back(tmp_path, monkeypatch):
    monkeypatch.setattr(lock, "LOCK_SECONDS", 0.05)
    with lock.locked(tmp_path / "a.lock"), open(tmp_path / "a.lock", "rb") as other:
        assert lock.try_lock(other.fileno()) is False
    with open(tmp_path / "a.lock", "rb+") as other:
        assert lock.try_lock(other.fileno()) is True
