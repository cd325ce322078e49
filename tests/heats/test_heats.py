"""What is expected of a heat, against course heats and ranges of shops that are printed.
Each source stands beside its check; none is a measured heat of a named works."""

import numpy as np
import pytest

from steelthermo import heats
from steelthermo.streams import LiquidMetal

pytestmark = pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")


def test_a_course_balance_by_its_own_figures_and_by_the_kits():
    """Heat balance per 100 kg of hot metal (m.qiqiwenku.com/xlsx/177679, second half, kJ): steel
    130 590.62 (91.63 kg, 1647 °C), slag 15 847.4, scrap 24 415.11, heat in 206 892.29, hot metal
    118 712.4 by difference; heat efficiency 82.58 %. The analysis of the hot metal is that of
    another one (360docs.net/doc/b6601297), 1300 °C. Heats of steel and hot metal to 10 %: other
    heat capacities."""
    steel, slag, scrap, come, hot = 130_590.62, 15_847.4, 24_415.11, 206_892.29, 118_712.4
    assert 100.0 * (steel + slag + scrap) / come == pytest.approx(82.58, abs=0.005)
    analysis = {"C": 4.2, "Si": 0.60, "Mn": 0.30, "P": 0.120, "S": 0.030}
    ours = LiquidMetal(91.63, {"C": 0.1}, 1647.0).enthalpy_kj()
    ours_hot = LiquidMetal(100.0, analysis, 1300.0).enthalpy_kj()
    assert ours == pytest.approx(steel, rel=0.1) and ours_hot == pytest.approx(hot, rel=0.1)
    scrap_too = scrap * ours / steel  # scrap is heated as the steel is
    efficiency = 100.0 * (ours + slag + scrap_too) / (come - hot + ours_hot)
    assert efficiency == pytest.approx(82.58, rel=0.03)


def test_a_log_of_that_heat_is_expected_where_it_ends():
    """The same heat a hundred times as heavy, as a row of a log, with the scrap printed (17.13 of
    100 kg) and losses of 5 % of the heat in (10 344.61 kJ in 91.63 kg of steel: 113 MJ/t): it ends
    at 1647 °C there. Ours: hotter by what its slag and a limestone row take more (test_balance
    of charge names both), which is 20 to 80 °C."""
    head = "heat,hot_metal_kg,hot_metal_temp_c,hot_metal_c_pct,hot_metal_si_pct,hot_metal_mn_pct"
    head += ",hot_metal_p_pct,hot_metal_s_pct,heavy_scrap_kg,lime_kg,oxygen_nm3,end_temp_c"
    row = "1,10000,1300,4.2,0.60,0.30,0.120,0.030,1713,480,560,1647"
    log = heats.parse(f"{head}\n{row}")
    found = heats.expected(log, {"heat_mj_t": 10_344.61 / 91.63}).temp_c.item()
    assert 20.0 < found - 1647.0 < 80.0


def test_the_invented_month_lies_in_the_ranges_of_shops():
    """Oxygen 49.5 to 70 Nm3 per t of steel (European reference document of 2013, read second-hand);
    hot metal 0.824 to 0.875 t per t of steel of one works (same place, its own assumptions: to
    5 %); mean absolute error of carbon 0.007 % about what is aimed at by the best models (Xie and
    others 2024, abstract)."""
    log = heats.invented_month()
    steel_t = log.of("steel_kg") / 1000.0
    oxygen = log.of("oxygen_nm3") / steel_t
    assert ((oxygen > 49.5) & (oxygen < 70.0)).mean() > 0.8
    hot = float((log.of("hot_metal_kg") / 1000.0 / steel_t).mean())
    assert 0.824 * 0.95 < hot < 0.875 * 1.05
    quiet = (log.shift != "C") & (log.date < np.datetime64("2026-03-07"))
    carbon = log.of("end_c_pct")[quiet]
    assert float(np.abs(carbon - carbon.mean()).mean()) == pytest.approx(0.007, abs=0.0025)
