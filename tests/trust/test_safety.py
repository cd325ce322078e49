"""The table of hazards: its derived figures recomputed, its wording of what was once told wrongly.

Sources of the figures stand in their rows; those that follow from others are worked out here.
"""

import re

import pytest

from steelthermo.base import InputError, molar_mass, rows
from steelthermo.course.adapter import DEFERRAL
from steelthermo.thermo import formation_enthalpy_298
from steelthermo.trust import acetylene_nm3, caution, cautions

FIGURES = {row["key"]: row for row in rows("safety_figures")}


def figure(key):
    return FIGURES[key]["value"]


def test_every_figure_belongs_to_a_hazard():
    assert {row["hazard"] for row in FIGURES.values()} <= set(cautions())


def test_volume_of_steam():
    """Ideal gas: 22.414 m3/kmol at 0 degC (SI), 18.015 kg/kmol (IUPAC)."""
    for key, temp_c in (("steam_100", 100.0), ("steam_1600", 1600.0)):
        volume = 22.414 / 18.015 * (temp_c + 273.15) / 273.15
        assert figure(key) == pytest.approx(volume, abs=0.006)


def test_heat_of_slaking():
    """Enthalpies of formation at 298.15 K: water (liquid) -285.83 and Ca(OH)2 -986.1 kJ/mol as in
    any table of thermochemistry; CaO is the kit's.
    """
    per_mol = 986.1 - 285.83 + formation_enthalpy_298("CaO") / 1000.0
    assert figure("lime_heat") == pytest.approx(per_mol / molar_mass("CaO"), abs=0.01)


def test_acetylene_is_told_at_one_temperature():
    assert figure("acetylene") == pytest.approx(acetylene_nm3(1.0, 80.0), abs=0.0005)


def test_short_tons():
    """A short ton is 907.185 kg by definition; the report says 165."""
    assert figure("arc_2007_size") == pytest.approx(165 * 0.907185, abs=0.5)


def test_limits_of_carbon_monoxide_stand_lowest_first():
    ppm = [r["value"] for r in rows("safety_figures") if r["hazard"] == "carbon_monoxide"]
    assert ppm == sorted(ppm) and ppm[0] == 20.0  # EH40, the lowest that was found
    countries = " ".join(caution("carbon_monoxide").figures)
    assert all(c in countries for c in ("United Kingdom", "European Union", "United States"))
    assert "Local law" in caution("carbon_monoxide").site


def test_two_figures_of_one_thing_say_whose_they_are():
    """IEC and NFPA differ about CO; their editions stand in the bibliography."""
    for one in cautions().values():
        said = [amount.rpartition(": ")[0] for amount in one.amounts]
        assert len(set(said)) == len(said), one.key
    gas = caution("gas_explosion").amounts
    assert "lower flammable limit in air (CO, IEC 60079-20-1, 2010): 10.9\u00a0%" in gas
    assert "lower flammable limit in air (CO, NFPA 497, 2008): 12.5\u00a0%" in gas
    assert "autoignition temperature (CO, IEC 60079-20-1, 2010): 607\u00a0°C" in gas


def test_what_was_once_told_wrongly():
    """INDG459 speaks of oil and grease with pure oxygen under pressure, not with air of 24 %."""
    rich, pure = caution("oxygen_rich"), caution("oxygen_pressure")
    assert "grease" not in str(rich) and "grease" in str(pure)
    assert figure("rich_24") == 24.0 and not any("24" in f for f in pure.figures)
    assert any("proposed" in f and "contest" in f for f in caution("tapping").figures)
    assert figure("tap_2023_dead") == 1.0
    assert "from memory" in rows("safety")[list(cautions()).index("magnesium_fire")]["place"]


def test_a_visitor_is_given_no_drill():
    """What is shut first, and when people may return, is for the site."""
    for one in cautions().values():
        told = f"{one.why} {one.visitor}".lower()
        assert not any(w in told for w in ("shut ", "lance up", "raise the lance", "boiled away"))
        assert len(one.visitor.split()) > 2 and one.site.endswith(".")
    assert "local codes" in DEFERRAL and "licensed" in DEFERRAL and "procedures" in DEFERRAL


def test_unknown_hazard():
    with pytest.raises(InputError, match="water_under_metal"):
        caution("dragon")


def test_no_figure_names_a_host():
    """Who publishes stands in a caution, not the address where it was found."""
    told = "\n".join(text for one in cautions().values() for text in (*one.figures, *one.amounts))
    assert re.findall(r"\b[\w-]+\.(?:com|org|ru|eu|gov|net|edu|info)\b", told) == []
