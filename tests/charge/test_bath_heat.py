"""Temperature effects of oxygen and coolants: from NIST-JANAF, by hand, and by signs."""

import janaf
import numpy as np
import pytest

from steelthermo import sources
from steelthermo.base import InputError, molar_mass
from steelthermo.charge import coolant_effect, coolants, reblow, rise_c_per_nm3_t, rise_c_per_point

T = 1900.0
TEMP_C = T - 273.15


def _janaf(index, column, T):
    table = janaf.Table(index).df
    return table.filter(table["T(K)"] == T)[column][0]


def _content(index):
    """H(T) against the elements at 298.15 K, kJ/mol, by NIST-JANAF."""
    return _janaf(index, "H-H(Tr)", T) + _janaf(index, "delta-f H", 298.15)


IRON, CP_IRON = _content("Fe-006"), _janaf("Fe-006", "Cp", T) / 55.845  # kJ/mol; kJ/(kg K)
FEO = -266.27 + 28140 * 4.184e-3 + 16.3 * 4.184e-3 * (T - 1800.0) + 0.053 * IRON
CARBON = _content("C-002") + 22.590  # graphite at T and the heat of solution of MSTS table 2.2


def test_rise_by_carbon_and_iron_against_janaf():
    """[C] + 1/2 O2(25 degC) = CO and Fe(l) + 1/2 O2(25 degC) = FeO(l), all else at 1900 K, against
    1000 kg of liquid iron. FeO beside iron: wustite by Kelley, table 397, with the iron it lacks.
    """
    carbon = 0.1 / 12.011 * 1000 * (CARBON - _content("C-093")) / (1000 * CP_IRON)
    assert rise_c_per_point(TEMP_C) == pytest.approx(carbon, rel=0.01)
    iron = 2 / 0.022414 * (IRON - FEO) / (1000 * CP_IRON)
    assert rise_c_per_nm3_t("Fe", TEMP_C) == pytest.approx(iron, rel=0.02)


@pytest.mark.parametrize("co2_pct", [0.0, 25.0, 100.0])
def test_rise_by_carbon_dioxide_against_janaf(co2_pct):
    """The same with a share of the carbon to CO2, all the way: [C] + O2(25 degC) = CO2."""
    share = co2_pct / 100.0
    gas = (1.0 - share) * _content("C-093") + share * _content("C-095")
    rise = 0.1 / 12.011 * (CARBON - gas) / CP_IRON
    assert rise_c_per_point(TEMP_C, co2_pct) == pytest.approx(rise, rel=0.01)
    nm3 = (0.5 + 0.5 * share) * 22.414 / 12.011  # of O2 by the kg of carbon
    assert rise_c_per_nm3_t("C", TEMP_C, co2_pct) == pytest.approx(10.0 * rise / nm3, rel=0.01)


def test_size_of_the_effects():
    """Own recalculation: 1.15 degC per 0.01 % C, 1.4 with a tenth of the carbon to CO2, and 23 degC
    per Nm3/t of oxygen on iron (25 by stoichiometric FeO).
    """
    assert rise_c_per_point(1600.0) == pytest.approx(1.15, abs=0.02)
    assert rise_c_per_point(1600.0, 10.0) == pytest.approx(1.4, abs=0.03)
    assert rise_c_per_nm3_t("Fe", 1600.0) == pytest.approx(23.2, abs=0.3)


def test_coolants_against_janaf():
    """Cold iron melted; lime; haematite with carbon to iron and CO, and with iron to FeO."""

    def per(kj_mol, formula):
        return -kj_mol / molar_mass(formula) / CP_IRON

    assert coolant_effect("scrap", TEMP_C)[0] == pytest.approx(per(IRON, "Fe"), rel=0.01)
    lime = _content("Ca-027") - _janaf("Ca-027", "delta-f H", 298.15)
    assert coolant_effect("lime", TEMP_C)[0] == pytest.approx(per(lime, "CaO"), rel=0.02)
    haematite = _janaf("Fe-030", "delta-f H", 298.15)
    to_iron = 2 * IRON + 3 * _content("C-093") - haematite - 3 * CARBON
    effect, carbon = coolant_effect("ore on carbon", TEMP_C)
    assert effect == pytest.approx(per(to_iron, "Fe2O3"), rel=0.02)
    assert carbon == pytest.approx(-3 * 12.011 / 159.688 * 0.1, rel=1e-3)  # mass % per kg/t
    to_feo = 3 * FEO - haematite - IRON
    assert coolant_effect("ore", TEMP_C)[0] == pytest.approx(per(to_feo, "Fe2O3"), rel=0.04)


def test_every_coolant_cools_and_limestone_more_than_lime():
    effects = {key: coolant_effect(key)[0] for key in coolants()}
    assert all(e < 0 for e in effects.values())
    assert effects["limestone"] < effects["lime"] and effects["ore on carbon"] < effects["ore"]
    for key in coolants():
        assert sources(f"coolant {key}")


def test_second_blow_by_hand():
    """0.08 to 0.04 % C, half the oxygen on carbon: 0.4 kg C/t x 0.933 Nm3/kg x (1 + CO2 share) /
    0.5; the other half burns 4.98 kg Fe per Nm3.
    """
    found = reblow(0.08, 0.04, 1650.0, 50.0, 0.0)
    carbon_o2 = 0.4 * 22.414 / 24.022
    assert found["oxygen_nm3_t"] == pytest.approx(carbon_o2 / 0.5, rel=1e-4)
    assert found["iron_kg_t"] == pytest.approx(carbon_o2 * 2 * 55.845 / 22.414, rel=1e-3)
    assert found["rise_c"] == pytest.approx(
        4 * rise_c_per_point(1650.0) + carbon_o2 * rise_c_per_nm3_t("Fe", 1650.0), rel=1e-6
    )


def test_low_carbon_burns_iron():
    """The smaller the share of oxygen that finds carbon, the more oxygen, heat and iron the same
    0.04 % costs; nothing to burn costs nothing.
    """
    shares = np.array([70.0, 50.0, 30.0])
    found = reblow(0.08, 0.04, 1650.0, shares)
    assert all(np.all(np.diff(found[k]) > 0) for k in found)
    assert reblow(0.03, 0.04)["oxygen_nm3_t"] == 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: rise_c_per_nm3_t("Zn"), "Zn"),
        (lambda: coolant_effect("ice"), "ice"),
        (lambda: rise_c_per_point(1923.15), "kelvin"),
        (lambda: reblow(0.08, 0.04, 1650.0, 0.0), "share of oxygen"),
        (lambda: reblow(-0.1, 0.04), "carbon"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()
