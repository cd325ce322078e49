"""Golden figures: the kit computes what it computed before, line by line and to 1e-12. See
tests/tools/write_golden.py, which wrote them.

They hold no truth, only what was: a figure that moves for a reason is written anew, with the reason
in the commit. All lines are compared, also daily:
it takes some ten seconds.
"""

import copy
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))
import write_golden as golden

SHOWN = 20


@pytest.mark.parametrize("name", golden.FILES)
def test_nothing_moved(name, monkeypatch, tmp_path):
    monkeypatch.delenv("STEELTHERMO_PROFILE", raising=False)
    monkeypatch.chdir(tmp_path)  # no works.toml of somebody's own
    found = golden.differences(name)
    shown = found[:SHOWN] + ([f"and {len(found) - SHOWN} more"] if len(found) > SHOWN else [])
    assert not found, "golden figures moved:\n" + "\n".join(shown)


def test_a_file_holds_what_it_should():
    lines = {name: len(golden.read(name)) for name in golden.FILES}
    assert (lines["charges"], lines["blows"], lines["ladles"]) == (200, 20, 50)
    assert not [
        (name, item)
        for name in golden.FILES
        for item, (_, _, found) in golden.read(name).items()
        if found.get("refused")
    ]


@pytest.mark.parametrize(
    "factor, told",
    [(1.0, 0), (1.0 + 1e-13, 0), (1.0 + 1e-11, 1), (1.0 - 1e-9, 1), (0.0, 1), (float("nan"), 1)],
)
def test_a_moved_number_is_named(factor, told):
    _, _, before = golden.read("charges")[("17",)]
    now = copy.deepcopy(before)
    now["steel"]["analysis_pct"]["C"] *= factor
    found = golden.unlike(before, now)
    assert len(found) == told and all(text.startswith("steel, analysis_pct, C: ") for text in found)


def test_what_is_new_gone_or_written_otherwise_is_named():
    before = {"a": 1.0, "b": "2 kg", "c": [1.0, None], "d": {"e": True}}
    assert golden.unlike(before, copy.deepcopy(before)) == []
    now = {"a": "1.0", "b": "2  kg", "c": [1.0], "d": {"e": 1, "f": 0.0}}
    keys = [text.partition(":")[0] for text in golden.unlike(before, now)]
    assert keys == ["a", "b", "c, 1", "d, e", "d, f"]


def test_a_number_behind_that_is_gone_is_named():
    before = {golden.BEHIND: [1.0, 2.0, 3.0]}
    assert golden.unlike(before, {golden.BEHIND: [0.5, 1.0 + 1e-13, 2.0, 3.0]}) == []
    assert (
        golden.unlike(before, {golden.BEHIND: [1.0, 2.0 + 1e-9, 3.0]})[0]
        == "numbers behind: 2.0 is there no longer, nearest is 2.000000001"
    )
    assert len(golden.unlike(before, {})) == 2
