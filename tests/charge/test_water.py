"""Water that comes with the charge, by hand: CODATA heat of formation of liquid water, -285.83
kJ/mol; heat contents of H2, O2 and H2O from 298 to 1800 K by the NIST-JANAF tables (46.2, 51.7 and
62.7 kJ/mol; the last is a published check of the kit, the others from memory)."""

import pytest

from steelthermo.base import InputError
from steelthermo.charge import plan_of, solve, steam_instead, wetted

GAS_C = 1800.0 - 273.15


def test_what_split_water_and_steam_take():
    """Split: 285.83 + 46.2 kJ/mol; the oxygen of the lance comes cold. Steam: 44.0 + 62.7."""
    mj, nm3 = steam_instead(plan_of(gas_temp_c=GAS_C, unused_o2_pct=0.0), 18.015)
    assert mj == pytest.approx(285.83 + 46.2 - (44.0 + 62.7), rel=0.005)
    assert nm3 == pytest.approx(22.414 / 2 / 0.995, rel=1e-3)
    _, more = steam_instead(plan_of(gas_temp_c=GAS_C, unused_o2_pct=10.0), 18.015)
    assert more == pytest.approx(nm3 / 0.9, rel=1e-12)  # a tenth leaves as it came


def test_a_wet_charge_closes_and_is_colder():
    """Of 40 t of scrap 1 % is water: 400 kg, 498 Nm3 of H2 (22.414/18.015 a kg), 249 Nm3 of O2 less
    to be blown. 18.4 MJ a kg, less 1.4 for the steel that is not there to be melted."""
    works = {"find": "temperature", "hot_metal_kg": 160_000.0, "scrap_kg": 40_000.0}
    iron = {"feo_pct": 16.0, "fe2o3_pct": 4.0}
    dry, wet = (solve(**works, **iron, scrap=wetted("heavy_scrap", x)) for x in (0.0, 1.0))
    assert max(abs(gap) for gap in wet.closure().values()) < 1e-9
    assert wet.gas.nm3["H2"] == pytest.approx(400.0 * 22.414 / 18.015, rel=1e-3)
    less = 0.995 * 0.97 * (dry.oxygen_nm3 - wet.oxygen_nm3)  # pure, and not left unused
    assert less == pytest.approx(249.0, rel=0.05)  # and iron that is not there to be oxidised
    mj = (dry.temp_c - wet.temp_c) * 0.91 * dry.steel.mass_kg / 1000.0  # lesson 16: MJ/(t °C)
    assert mj / 400.0 == pytest.approx(18.4 - 1.4, rel=0.06)


def test_lime_holds_water_as_slaked_lime():
    """CaO + H2O = Ca(OH)2, 56.08 + 18.02 = 74.09, 65 kJ/mol given off as it was slaked."""
    wet = wetted("lime", 2.0)
    assert wet.pct("Ca(OH)2") == pytest.approx(2.0 * 74.09 / 18.015, rel=1e-3)
    assert wet.pct("CaO") == pytest.approx(
        0.98 * wetted("lime", 0.0).pct("CaO") - 2 * 3.113, rel=1e-3
    )
    with pytest.raises(InputError, match="allowed is 0 to 10 %"):
        wetted("lime", 11.0)
    with pytest.raises(InputError, match="water"):
        steam_instead(plan_of(), -1.0)


@pytest.mark.parametrize("dry, holds", [("lime", "Ca(OH)2"), ("heavy_scrap", "H2O")])
def test_what_is_wet_already_keeps_its_water(dry, holds):
    """The parts sum to what they summed, and the first water is there but for what the second
    takes the place of: 2 % and then 3 % are 0.97 * 2 + 3 = 4.94 %.
    """
    once, twice = wetted(dry, 2.0), wetted(wetted(dry, 2.0), 3.0)
    assert sum(twice.analysis_pct.values()) == pytest.approx(100.0, rel=1e-12)
    assert twice.pct(holds) == pytest.approx(once.pct(holds) * 4.94 / 2.0, rel=1e-12)
