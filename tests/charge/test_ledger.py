"""The ledgers of iron and oxygen: they close, and say what a sum by hand says."""

import numpy as np
import pytest

from steelthermo.charge import burnt_kg_t, demand, iron_ledger, oxygen_ledger, solve
from steelthermo.works import WORKS, load_profile


@pytest.mark.parametrize("ledger", [iron_ledger, oxygen_ledger])
@pytest.mark.parametrize(
    "asked",
    [
        {},
        {"hot_metal_temp_c": np.linspace(1300.0, 1400.0, 7)},
        {"find": "coolant", "scrap_kg": 200.0},
        {"find": "fuel", "scrap_kg": 400.0},
        {"beads_pct": 12.0, "skull_kg_t": 9.0, "unused_o2_pct": 6.0},
    ],
    ids=str,
)
def test_both_sides_agree(ledger, asked):
    come, go = ledger(solve(**asked))
    np.testing.assert_allclose(sum(come.values()), sum(go.values()), rtol=1e-9)


def test_by_hand():
    """Per t of steel: 16.3 % FeO in 90 kg of slag hold 0.7773 of it as iron; 3 % of the oxygen is
    unused; steel with 0.06 % O holds 0.6 kg, 0.42 Nm3.
    """
    heat = solve().for_tap(1.0)
    _, iron = iron_ledger(heat)
    slag = heat.slag.mass_kg
    assert iron["FeO in slag"] == pytest.approx(
        heat.slag.analysis_pct["FeO"] / 100 * slag * 55.845 / 71.844, rel=1e-4
    )
    steel = heat.steel.element_kg()["Fe"] / 1000.0
    assert iron["ejected"] == pytest.approx(8.0 * steel)
    assert iron["skull"] == pytest.approx(3.0 * steel)
    assert iron["beads"] == pytest.approx(0.06 * slag * steel)
    _, oxygen = oxygen_ledger(heat)
    assert oxygen["unused in the gas"] == pytest.approx(0.03 * 0.995 * heat.per_t("oxygen"))
    dissolved = heat.steel.analysis_pct["O"] / 100 * (1000.0 + heat.ejected.mass_kg)
    assert oxygen["dissolved in the metal"] == pytest.approx(dissolved / 31.998 * 22.414, rel=1e-4)
    carbon = heat.gas.nm3["CO"] / 2.0
    assert oxygen["carbon to CO"] == pytest.approx(carbon, rel=1e-6)


@pytest.mark.parametrize("works", WORKS)
def test_what_burns_takes_the_oxygen(works):
    """Oxygen of what burns, with what the steel keeps and what leaves unused, is what is blown;
    0.2 %, for all iron is counted here as FeO, and what came as rust gives its Fe2O3 up to FeO.
    """
    heat = solve(load_profile(works))
    plan, (_, goes) = heat.plan, oxygen_ledger(heat)
    need = demand(burnt_kg_t(heat), co2_pct=plan.co2_pct).pure_nm3
    need += goes["dissolved in the metal"] + goes["unused in the gas"]
    blown = heat.per_t("oxygen") * plan.works.oxygen.purity_pct / 100.0
    assert need == pytest.approx(blown, rel=2e-3)
