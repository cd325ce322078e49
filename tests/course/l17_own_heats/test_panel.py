"""Panel of lesson 17: what it shows is what the library says of the same heats."""

import numpy as np
import pytest

from steelthermo import course, heats
from steelthermo.base import data_path
from steelthermo.course.l17_own_heats.panel import numbers


@pytest.fixture(scope="module")
def panel():
    return course.panel("own_heats")


@pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")
def test_the_means_are_the_librarys(panel):
    panel.set(heat_mj_t=74, co2_pct=11, ejected_kg_t=9, phosphorus_log=-0.54, last_day=6)
    log = heats.invented_month()
    chosen = log.date < np.datetime64("2026-03-08")
    figures = {"heat_mj_t": 74, "co2_pct": 11, "ejected_kg_t": 9, "phosphorus_log": -0.54}
    left = heats.residual(log, heats.expected(log, figures), "steel")
    assert panel.result.means["steel"] == pytest.approx(left[chosen].mean())
    assert panel.result.heats == chosen.sum()
    panel.reset()


def test_heats_that_cannot_be_are_told_and_hide_no_picture(panel):
    """Little heat lost: most heats, the coldest among them, would be hotter than the data reach;
    the mean is that of the others.
    """
    panel.set(heat_mj_t=20.0)
    assert panel.error is None and panel.result.beyond > 100
    assert f"count in no mean: {panel.result.beyond}." in panel.text
    count = panel.result.left["temperature"].count()
    known = next(row for row in numbers(panel.result) if row[0] == "temperature: known to")
    assert float(known[1][2:]) == pytest.approx(
        1.96 * panel.result.spreads["temperature"] / count**0.5, rel=0.05
    )
    panel.reset()


def test_days_in_the_wrong_order_are_told(panel):
    panel.set(first_day=9, last_day=5)
    assert "last day: 5 was given" in panel.text + str(panel.error)
    panel.reset()


def test_a_log_of_the_learners_own_is_read(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    rows = "\n".join(
        f"{i},2026-05-{1 + i // 2:02d},160000,1340,4.5,0.4,42000,9300,{1650 + i % 5},186000"
        for i in range(40)
    )
    (tmp_path / "log.csv").write_text(
        "heat,date,hot_metal_kg,hot_metal_temp_c,hot_metal_c_pct,hot_metal_si_pct,heavy_scrap_kg,"
        f"oxygen_nm3,end_temp_c,steel_kg\n{rows}\n"
    )
    assert course.panel("own_heats").result.heats == 40
    with open(tmp_path / "log.csv", "a") as log:
        log.write("odd,2026-05-21,heavy,1340,4.5,0.4,42000,9300,1650,186000\n")
    told = numbers(course.panel("own_heats").result)
    assert any("heat odd" in row[0] and "line 42: hot_metal_kg: 'heavy'" in row[3] for row in told)


@pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")
def test_the_heat_opened_is_the_coldest_and_adds_up(panel):
    panel.set(coldest=2, first_day=1, last_day=6)
    one, log = panel.result.opened, heats.invented_month()
    temps = np.sort(log.of("end_temp_c")[log.date < np.datetime64("2026-03-08")].filled())
    assert one.found == temps[1]
    explained = sum(x for _, _, x in one.causes)
    assert one.found - one.usual == pytest.approx(explained + one.left)
    assert one.heat in panel.text and "not explained" in panel.text
    panel.reset()


def test_whatever_heat_is_opened_has_its_causes():
    """A large deviation alone would make a heat that cannot be; its slope is taken."""
    log = heats.invented_month()
    for heat in log.heat[np.argsort(log.of("end_temp_c").filled())[:12]]:
        one = heats.open_heat(log, heat)
        assert np.isfinite([one.left, *(x for _, _, x in one.causes)]).all()


@pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")
def test_the_sliders_begin_with_what_was_fitted(tmp_path, monkeypatch):
    text = data_path("heron.toml").read_text(encoding="utf-8") + (
        "\n[calibrated]\nheats = 400\nheat_mj_t = 77.03\nco2_pct = 11.05\nphosphorus_log = -0.565\n"
    )
    (tmp_path / "works.toml").write_text(text, encoding="utf-8")
    monkeypatch.setenv("STEELTHERMO_PROFILE", str(tmp_path / "works.toml"))
    (tmp_path / "log.csv").write_bytes(data_path("month_heron_invented.csv").read_bytes())
    monkeypatch.chdir(tmp_path)
    panel = course.panel("own_heats")
    assert panel.settings["heat_mj_t"] == pytest.approx(77.0, abs=0.5)
    assert panel.settings["phosphorus_log"] == pytest.approx(-0.565, abs=0.011)
    assert abs(panel.result.means["phosphorus"]) < 0.02
