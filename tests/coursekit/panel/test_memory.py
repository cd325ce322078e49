"""Memory kept for the next key press: what it costs and brings, and that nothing breaks where it
cannot be had.
"""

import platform
import subprocess
import sys

import pytest

from steelthermo.coursekit.panel import memory

# Page faults of the same sum, done over and over, after memory.keep() or without it
COUNT = """
import resource, sys
import numpy as np
from steelthermo.coursekit.panel import memory
if sys.argv[1] == "kept":
    assert memory.keep()
def work():
    parts = [np.ones(60_000) for _ in range(8)]
    return sum(parts)
work()
before = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
for _ in range(50):
    work()
print(resource.getrusage(resource.RUSAGE_SELF).ru_minflt - before)
"""


def _faults(how):
    return int(
        subprocess.run(
            [sys.executable, "-c", COUNT, how], capture_output=True, text=True, check=True
        ).stdout
    )


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="only the GNU C library has it")
def test_the_same_pages_are_not_asked_for_again():
    """8 arrays of 480 kB are 940 pages: asked for 50 times without, once with."""
    assert _faults("kept") < 3000 < _faults("free")


def test_elsewhere_nothing_changes(monkeypatch):
    monkeypatch.setattr(platform, "libc_ver", lambda: ("", ""))
    assert memory.keep() is False


def test_a_library_without_it_is_no_fault(monkeypatch):
    monkeypatch.setattr(platform, "libc_ver", lambda: ("glibc", "2.36"))
    monkeypatch.setattr(memory.ctypes, "CDLL", lambda name: object())
    assert memory.keep() is False
