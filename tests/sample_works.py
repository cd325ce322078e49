"""Heron Works with iron oxides of its own in the profile: what a works may fix, and what makes its
charge linear, so that two ways of summing it agree to rounding.
"""

import re

from steelthermo.base import data_path


def law_text():
    """Text of the profile of Heron Works that leaves the iron oxides of its slag to the law."""
    text = data_path("heron.toml").read_text(encoding="utf-8")
    return re.sub(r"(?m)^(feo|fe2o3)_pct = .*\n", "", text)


def fixed_text(feo_pct=18, fe2o3_pct=5):
    """Text of the profile of Heron Works that fixes FeO and Fe2O3 of its slag, %."""
    return law_text().replace("[slag]", f"[slag]\nfeo_pct = {feo_pct}\nfe2o3_pct = {fe2o3_pct}", 1)


def end_aims(charge):
    """Iron oxides and steel of a solved charge as aims: kept when something else is changed."""
    slag, steel = charge.slag.analysis_pct, charge.steel.analysis_pct
    return {
        "feo_pct": slag["FeO"],
        "fe2o3_pct": slag["Fe2O3"],
        "end_pct": {e: steel[e] for e in ("C", "Si", "Mn", "P", "O") if e in steel},
    }
