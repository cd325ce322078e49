"""Heron Works with iron oxides of its own in the profile: what a works may fix, and what makes its
charge linear, so that two ways of summing it agree to rounding.
"""

import re

from steelthermo.base import data_path


def law_text():
    """Text of the profile of Heron Works that leaves the iron oxides of its slag to the law."""
    text = data_path("heron.toml").read_text(encoding="utf-8")
    return re.sub(r"(?m)^(feo|fe2o3)_pct = .*\n", "", text)


_PLAIN = {  # nothing unused, no beads, clean scrap: what sums by hand leave out
    "Si = 0.55": "Si = 0.45",
    "unused_o2_pct = 3": "unused_o2_pct = 0",
    "post_heat_pct = 95": "post_heat_pct = 100",
    "dust_fe_kg_t = 10": "dust_fe_kg_t = 9",
    "ejected_kg_t = 8": "ejected_kg_t = 6",
    "beads_pct = 6": "beads_pct = 0",
    "skull_kg_t = 3": "skull_kg_t = 0",
    "fuel_use_pct = 80": "fuel_use_pct = 100",
    "SiO2 = 0.8, Fe2O3 = 1.0": "SiO2 = 0.3",
}


def fixed_text(feo_pct=18, fe2o3_pct=5):
    """Text of the profile of Heron Works that fixes FeO and Fe2O3 of its slag, %, and loses nothing
    that a sum by hand leaves out.
    """
    text = law_text()
    for usual, plain in _PLAIN.items():
        assert usual in text, usual
        text = text.replace(usual, plain)
    return text.replace("[slag]", f"[slag]\nfeo_pct = {feo_pct}\nfe2o3_pct = {fe2o3_pct}", 1)


def end_aims(charge):
    """Iron oxides and steel of a solved charge as aims: kept when something else is changed."""
    slag, steel = charge.slag.analysis_pct, charge.steel.analysis_pct
    return {
        "feo_pct": slag["FeO"],
        "fe2o3_pct": slag["Fe2O3"],
        "end_pct": {e: steel[e] for e in ("C", "Si", "Mn", "P", "O") if e in steel},
    }
