"""The command `steelthermo profile` and the three works that ship. All three are invented, so
nothing here is checked against a source: only that the profiles are sound, that a heat can be
planned with each, and that no file is overwritten.
"""

import re

import pytest

from steelthermo.app.works_file import annotated, main
from steelthermo.base import InputError, rows
from steelthermo.charge import charge
from steelthermo.works import profile as plant


@pytest.mark.parametrize("works", plant.WORKS)
def test_each_works_plans_a_heat(works):
    profile = plant.load_profile(works)
    heat = charge.solve(profile)
    assert 15 < heat.scrap_share_pct < 32
    assert max(abs(gap) for gap in heat.closure().values()) < 1e-9
    minutes = heat.for_tap(profile.vessel.tap_t).blow_minutes(profile.oxygen.flow_nm3_min)
    assert 12 < minutes < 25  # common practice, no source: about 20 minutes


def test_the_works_differ_as_they_should():
    small, large = plant.load_profile("dunlin"), plant.load_profile("plover")
    assert small.vessel.tap_t == 60 and large.vessel.tap_t == 350
    assert (  # twice and more could not be blown with one slag to what the works sells
        small.hot_metal.analysis_pct["P"]
        > 1.6 * plant.load_profile("heron").hot_metal.analysis_pct["P"]
    )
    assert (
        large.hot_metal.analysis_pct["Si"]
        < 0.5 * plant.load_profile("heron").hot_metal.analysis_pct["Si"]
    )
    lime = [charge.solve(w).per_t("lime") for w in (large, small)]
    assert lime[1] > 2 * lime[0]  # silicon and phosphorus call for lime


@pytest.mark.parametrize("works", plant.WORKS)
def test_annotated_profile_is_the_same_works(works):
    text = annotated(works)
    again = plant.parse_profile(text)
    assert (
        again.materials == plant.load_profile(works).materials
        and again.name == plant.load_profile(works).name
    )
    for row in rows("profile_schema"):
        if row["left_out"] == "law":
            continue
        assert f"# {row['help']}; {row['low']:g} to {row['high']:g}" in text


def test_writing_never_overwrites(tmp_path, capsys):
    target = tmp_path / "mein Werk ä.toml"
    assert main([str(target), "--works", "plover"]) == 0
    before = target.read_bytes()
    with pytest.raises(InputError, match="exists already"):
        main([str(target)])
    assert target.read_bytes() == before
    assert main([str(target), "--check"]) == 0
    assert "Plover Works is sound" in capsys.readouterr().out


def test_check_tells_every_fault(tmp_path):
    target = tmp_path / "works.toml"
    target.write_text(
        annotated()
        .replace("purity_pct = 99.5", "purity_pct = 9.95")
        .replace("tap_t = 180", "tap_t = 18000"),
        encoding="utf-8",
    )
    with pytest.raises(InputError, match="(?s)2 faults.*tap_t.*purity_pct"):
        main([str(target), "--check"])


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(InputError, match="can't be written"):
        main([str(tmp_path / "no" / "works.toml")])


def test_check_tells_of_figures_that_make_no_heat(tmp_path, capsys):
    """Hot metal with neither silicon nor enough carbon: each figure may be so, but nothing
    melts.
    """
    file = tmp_path / "works.toml"
    text = annotated()
    file.write_text(text, encoding="utf-8")
    main(["--check", str(file)])
    assert "% scrap" in capsys.readouterr().out
    file.write_text(text.replace("C = 4.5, Si = 0.55", "C = 0.1, Si = 0.0"), encoding="utf-8")
    with pytest.raises(InputError, match="together they make no heat"):
        main(["--check", str(file)])


@pytest.mark.parametrize("share, told", [(77.0, False), (92.0, True)])
def test_a_share_of_hot_metal_that_the_plan_contradicts_is_told(tmp_path, capsys, share, told):
    path = tmp_path / "works.toml"
    text = re.sub(r"(?m)^share_pct = \S+", f"share_pct = {share}", annotated("heron"))
    path.write_text(text, encoding="utf-8")
    assert main([str(path), "--check"]) == 0
    assert ("share_pct of hot_metal says 92 %" in capsys.readouterr().out) is told
