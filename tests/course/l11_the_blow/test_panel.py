"""The panel of lesson 11 lays a learner's own measured heat over the lines, and says in words what
it made of the file. The readings are made up here.
"""

import pytest

from steelthermo.charge import charge, more_kj
from steelthermo.coursekit.panel import make_panel
from steelthermo.trust import end_heat_capacity_kj_c
from steelthermo.works import profile as plant

HEAD = "time_min,quantity,value,unit,source,licence\n"


@pytest.fixture
def panel(tmp_path, monkeypatch):
    heats = tmp_path / "heats"
    heats.mkdir()
    (heats / "own.csv").write_text(
        HEAD
        + (
            "9,C,2.1,%,our heat,ours\n3,temperature,1623.15,K,our heat,ours\n15,C,abc,%,our "
            "heat,ours\n"
        ),
        encoding="utf-8",
    )
    (heats / "broken.csv").write_text("hello\n", encoding="utf-8")
    monkeypatch.setenv("STEELTHERMO_FOLDER", str(tmp_path))
    return make_panel("the_blow")


def test_own_heats_can_be_chosen(panel, tmp_path):
    assert [name for name, _ in panel.controls[-2].choices] == [
        "none",
        "the invented heat",
        "broken.csv",
        "own.csv",
    ]
    before = panel.png
    panel.set(measured=str(tmp_path / "heats" / "own.csv"))
    assert panel.error is None and panel.png != before
    said = " ".join(str(cell) for row in panel.numbers(panel.result) for cell in row)
    assert "1 points" in said and "converted from K to °C" in said and "left out" in said


def test_a_broken_file_is_told_and_the_picture_stays(panel, tmp_path):
    before = panel.png
    panel.set(measured=str(tmp_path / "heats" / "broken.csv"))
    assert "columns" in panel.error and "broken.csv" in panel.error and panel.png == before


def test_the_cursor_moves_without_a_new_blow(panel, monkeypatch):
    from steelthermo import blow

    monkeypatch.setattr(blow, "band", lambda *a, **k: pytest.fail("the blow was run again"))
    panel.set(time_min=12.0)
    assert panel.error is None and "12.0 min of" in panel.text
    assert max(error for _, error in panel.closure(panel.result)) < 1e-6


def test_an_edited_works_file_gives_a_new_blow(tmp_path, monkeypatch):
    """The bands are kept by the figures of the works, not by the name of their file."""
    from steelthermo.base import data_path
    from steelthermo.works import profile as plant

    file = tmp_path / "works.toml"
    text = data_path("heron.toml").read_text(encoding="utf-8")
    monkeypatch.setenv("STEELTHERMO_PROFILE", str(file))
    monkeypatch.setenv("STEELTHERMO_FOLDER", str(tmp_path))
    shown = []
    for flow in ("460.0", "380.0", "460.0"):
        assert "\nflow_nm3_min = 460" in text
        file.write_text(
            text.replace("\nflow_nm3_min = 460", f"\nflow_nm3_min = {flow} # was 460"),
            encoding="utf-8",
        )
        assert plant.load_profile().oxygen.flow_nm3_min == float(flow)
        shown.append(make_panel("the_blow").text)
    assert shown[0] == shown[2] != shown[1]
    # both are printed to 0.1 min, and the law burns a little less iron at a slower blow
    assert float(shown[1].split("min of ")[1].split(":")[0]) == pytest.approx(
        float(shown[0].split("min of ")[1].split(":")[0]) * 460 / 380, abs=0.2
    )


def test_other_data_move_the_end_as_they_move_the_charge(panel):
    """The charge stays, so the end moves by what the other data take over the heat capacity of the
    end: within a fifth, for the slag is not quite that of the plan and more of the heat goes with
    the gas.
    """
    works = plant.load_profile()
    heat = charge.solve(works)
    panel.reset()
    ours = panel.result.drawn["temperature"][0][-1]
    for _, key in panel.data.choices[1:]:
        panel.set(data=key)
        found = panel.result.drawn["temperature"][0][-1] - ours
        assert found == pytest.approx(
            -more_kj(heat, key) / end_heat_capacity_kj_c(heat), rel=0.2, abs=0.3
        ), key
        assert max(panel.result.closure().values()) < 1e-9
    panel.reset()
