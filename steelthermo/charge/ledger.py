"""Where iron and oxygen of a charge go, as a works keeps its books.

The sums of both sides agree as closely as the closure of the charge says, for nothing here is found
by difference.
"""

import numpy as np

from ..base import mass_fractions, molar_mass, molar_volume_nm3_kmol, plain
from ..streams import Stage
from ..thermo import oxides_with
from .oxygen import BURNING

_NOTHING = 1e-9  # kg per t: rounding


def iron(charge: Stage) -> tuple[dict, dict]:
    """The ledger of iron: where it comes from and where it goes.

    Parameters
    ----------
    charge : Charge

    Returns
    -------
    tuple of dict
        kg per t of steel: in, by what is charged; out: steel, FeO and Fe2O3 of the slag, beads in
        the slag, ejected, skull, dust.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> come, go = iron(solve())
    >>> abs(sum(come.values()) - sum(go.values())) < 1e-9 * sum(come.values())
    True
    >>> ", ".join(go)
    'steel, FeO in slag, Fe2O3 in slag, dust, ejected, beads, skull'
    """
    per_t = 1000.0 / charge.steel.mass_kg
    come = {n: s.element_kg().get("Fe", 0.0) * per_t for n, s in charge.inputs.items()}
    oxides = charge.slag.oxides_kg
    go = {"steel": charge.steel.element_kg()["Fe"] * per_t}
    for oxide in ("FeO", "Fe2O3"):
        go[f"{oxide} in slag"] = oxides.get(oxide, 0.0) * mass_fractions(oxide)["Fe"] * per_t
    go["dust"] = charge.dust.element_kg()["Fe"] * per_t
    share = charge.steel.element_kg()["Fe"] / charge.steel.mass_kg
    go["ejected"] = charge.plan.ejected_kg_t * share
    go["beads"] = charge.plan.beads_pct / 100.0 * charge.slag.mass_kg * per_t * share
    go["skull"] = charge.plan.skull_kg_t * share
    return {name: kg for name, kg in come.items() if _some(kg)}, go


def burnt_kg_t(charge: Stage) -> dict:
    """What burns: elements that came as metal and leave neither in the steel nor in metal lost.

    Parameters
    ----------
    charge : Charge

    Returns
    -------
    dict
        kg per t of steel, by element, of what burns at all. Rust and dirt of the scrap
        came as oxides: they are in the slag, and not here.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> print({e: round(kg, 1) for e, kg in burnt_kg_t(solve()).items()})
    {'C': 38.1, 'Si': 5.0, 'Mn': 3.2, 'P': 0.6, 'Cr': 0.1, 'Fe': 21.9}
    """
    steel = charge.steel
    kept = 1.0 + _lost_kg_t(charge) / 1000.0
    out = {}
    for element in BURNING:
        came = sum(
            s.mass_kg * s.analysis_pct.get(element, 0.0) for s in (charge.hot_metal, charge.scrap)
        )
        stays = steel.mass_kg * steel.analysis_pct.get(element, 0.0) * kept
        kg_t = 10.0 * (came - stays) / steel.mass_kg
        if np.any(kg_t > _NOTHING):
            out[element] = plain(np.maximum(kg_t, 0.0))
    return out


def _lost_kg_t(charge):
    """Metal lost as such, kg per t of steel: ejected, as beads, as skull."""
    plan = charge.plan
    beads = plan.beads_pct * 10.0 * charge.slag.mass_kg / charge.steel.mass_kg
    return plan.ejected_kg_t + beads + plan.skull_kg_t


def oxygen(charge: Stage) -> tuple[dict, dict]:
    """The ledger of oxygen: where it comes from and what it goes to.

    Parameters
    ----------
    charge : Charge

    Returns
    -------
    tuple of dict
        Nm3 of O2 per t of steel: in, blown and with the oxides charged; out, by what it is bound to
        (oxides that came as such among them), dissolved in steel and in metal lost, unused.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> come, go = oxygen(solve())
    >>> abs(sum(come.values()) - sum(go.values())) < 1e-9 * sum(come.values())
    True
    >>> round(go["unused in the gas"], 2)
    1.54
    """
    to_nm3 = molar_volume_nm3_kmol() / molar_mass("O2") * 1000.0 / charge.steel.mass_kg
    come = {n: s.element_kg().get("O", 0.0) * to_nm3 for n, s in charge.inputs.items()}
    gas = charge.gas.species_kg()
    go = {
        "carbon to CO": gas["CO"] * mass_fractions("CO")["O"],
        "carbon to CO2": gas["CO2"] * mass_fractions("CO2")["O"],
    }
    for oxide in oxides_with(found="slag"):
        kg = charge.slag.oxides_kg.get(oxide, 0.0)
        if "O" in mass_fractions(oxide) and _some(kg):
            go[oxide] = kg * mass_fractions(oxide)["O"]
    metals = (charge.steel, charge.ejected)
    go |= {
        "iron to dust": charge.dust.element_kg()["O"],
        "dissolved in the metal": sum(m.element_kg().get("O", 0.0) for m in metals),
        "unused in the gas": gas.get("O2", 0.0),
    }
    return (
        {name: nm3 for name, nm3 in come.items() if _some(nm3)},
        {name: kg * to_nm3 for name, kg in go.items()},
    )


def _some(x):
    return bool((x > 0).any()) if hasattr(x, "any") else x > 0
