"""The heat account of a charge: what brings heat and what takes it, item by item, as a melter would
list it.

Reactions are counted at 298.15 K, products are then heated to their temperature. Iron oxides
charged (ore, scale) are counted as broken up to iron, those in slag and dust as burnt from iron.
The item 'other' holds what the named reactions leave over (sulphide, hydrogen), from enthalpies of
formation alone, so that the agreement of the two sides still tests the solver.
"""

from functools import cache

import numpy as np

from ..base import molar_mass
from ..streams import LiquidMetal, Slag, Stage, melting_terms, together
from ..thermo import carbonate_parts, counted_as, formation_enthalpy_298, oxide_facts, oxides_with


@cache  # 84 calls a heat, 0.04 ms
def _h(species):
    """Enthalpy of formation at 298.15 K, kJ/kmol."""
    return sum(n * formation_enthalpy_298(s) for s, n in counted_as(species).items())


def _add(to, name, amount):
    to[name] = to.get(name, 0.0) + amount


def heat_account(charge: Stage) -> tuple:
    """Heat in and heat out of a solved charge, item by item.

    Parameters
    ----------
    charge : Charge, of one heat or of many

    Returns
    -------
    (MJ by item that brings heat, MJ by item that takes it)

    References
    ----------
    The enthalpies of the charge

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> come, go = heat_account(solve().for_tap(1.0))
    >>> round(come["C to CO"]), round(go["steel"])
    (308, 1423)
    """
    solids = [charge.inputs[n] for n in ("scrap", "coolant", "fuel", "lime", "dolomite")]
    brought = {}  # kmol of each species in the solids
    for solid in solids:
        for species, pct in solid.material.analysis_pct.items():
            _add(brought, species, solid.mass_kg * pct / 100.0 / molar_mass(species))
    cold = sum(n * _h(s) for s, n in brought.items())
    slags = charge.plan.slags()
    for name in slags:
        for oxide, kg in charge.inputs[name].oxides_kg.items():
            _add(brought, oxide, kg / molar_mass(oxide))
    carbonates = {s: carbonate_parts(s) for s in brought if carbonate_parts(s)}
    carbonate_co2 = sum(brought[c] * parts["CO2"] for c, parts in carbonates.items())
    left = {o: kg / molar_mass(o) for o, kg in charge.slag.oxides_kg.items()}
    dust = charge.dust.mass_kg / molar_mass("FeO")
    gas_kmol = {s: kg / molar_mass(s) for s, kg in charge.gas.species_kg().items()}
    compounds = {name: mol / 1000.0 for name, mol in charge.slag.compounds_mol().items()}

    # formation at 298.15 K of all that leaves, less that of all that comes: every reaction together
    formed = (
        sum(n * _h(s) for s, n in compounds.items())
        + dust * _h("FeO")
        + sum(n * _h(s) for s, n in gas_kmol.items())
    )
    formed = (
        formed
        - sum(n * _h(s) for s, n in brought.items())
        - charge.lining.mass_kg / molar_mass("MgO") * _h("MgO")
    )

    come, go = {}, {}
    come["hot metal"] = charge.hot_metal.enthalpy_kj()
    warm = sum(s.enthalpy_kj() for s in solids) - cold
    worn = charge.lining.mass_kg / molar_mass("MgO") * _h("MgO")
    lining = charge.lining.enthalpy_kj() - worn
    come["solids and lining above 25 °C"] = warm + lining
    for name in slags:  # with what its oxides gave when they formed a slag
        slag = charge.inputs[name]
        apart = sum(kg / molar_mass(o) * _h(o) for o, kg in slag.oxides_kg.items())
        come[name] = slag.enthalpy_kj() - apart
    reactions = {
        "C to CO": -gas_kmol["CO"] * _h("CO"),
        "C to CO2": -(gas_kmol["CO2"] - carbonate_co2) * _h("CO2"),
    }
    iron_oxides = oxides_with(element="Fe")
    for oxide in oxides_with(found="slag"):
        burnt = left.get(oxide, 0.0) + (dust if oxide == "FeO" else 0.0)
        if oxide not in iron_oxides:
            burnt = burnt - brought.get(oxide, 0.0)
        if (booked := oxide_facts(oxide)["booked"]) != "none":
            _add(reactions, booked, -burnt * _h(oxide))
    reactions["silica with lime to 2CaO.SiO2"] = -compounds.get("Ca2SiO4", 0.0) * (
        _h("Ca2SiO4") - 2 * _h("CaO") - _h("SiO2")
    )
    broken = {
        "carbonates broken up": sum(
            brought[c] * (sum(n * _h(s) for s, n in parts.items()) - _h(c))
            for c, parts in carbonates.items()
        ),
        "iron oxides broken up": -sum(brought.get(o, 0.0) * _h(o) for o in iron_oxides),
    }
    come |= {name: heat for name, heat in reactions.items() if _counts(heat)}
    go["steel"] = charge.steel.enthalpy_kj() + charge.ejected.enthalpy_kj()
    melting, _ = charge.slag.melting_kj()
    whole = charge.slag.enthalpy_kj() - sum(n * _h(s) for s, n in compounds.items())
    go["slag as compounds"], go["slag melted and dissolved"] = whole - melting, melting
    go["gas"] = charge.gas.enthalpy_kj() - sum(n * _h(s) for s, n in gas_kmol.items())
    go["dust"] = charge.dust.enthalpy_kj() - dust * _h("FeO")
    if "unburnt" in charge.outputs:
        go["unburnt fuel"] = charge.outputs["unburnt"].enthalpy_kj()
    go |= {name: heat for name, heat in broken.items() if _counts(heat)}
    go["losses"] = charge.heat_loss_kj
    if _counts(charge.other_data_kj):
        go["other data than the kit's"] = charge.other_data_kj
    other = -formed - sum(reactions.values()) + sum(broken.values())
    go["other reactions"] = -other

    def mega(items):
        return {name: heat / 1000.0 for name, heat in items.items()}

    return mega(come), mega(go)


def _counts(heat):
    """Whether an item is more than rounding, a millionth of a kJ, in any heat."""
    return np.count_nonzero(np.abs(heat) > 1e-6) > 0


def end_heat_capacity_kj_c(charge: Stage) -> float:
    """Heat that one degree of the end temperature takes: steel, ejected metal and slag.

    Parameters
    ----------
    charge : Charge

    Returns
    -------
    kJ/degC

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> end_heat_capacity_kj_c(solve()) > 0.0
    True
    """
    t = charge.temp_c

    def held(temp_c):
        metals = sum(
            LiquidMetal(m.mass_kg, m.analysis_pct, temp_c, m.coefficients).enthalpy_kj()
            for m in (charge.steel, charge.ejected)
        )
        return metals + Slag(charge.slag.oxides_kg, temp_c).enthalpy_kj()

    return (held(t + 2.0) - held(t - 2.0)) / 4.0


def slag_terms(charge: Stage) -> dict:
    """What melting and dissolving of the slag takes from the heat, term by term.

    Parameters
    ----------
    charge : Charge

    Returns
    -------
    dict
        (degC, degC) by compound, and 'together': how much colder the heat ends for it, and the
        standard uncertainty of that. The terms' errors are the same in every heat.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> cold, sigma = slag_terms(solve())["together"]
    >>> 10.0 < cold < 40.0 and 3.0 < sigma < 10.0
    True
    """
    per_c = end_heat_capacity_kj_c(charge)
    terms = melting_terms(charge.slag.compounds_mol(), charge.temp_c)
    terms["together"] = together(terms)
    return {what: (kj / per_c, sigma / per_c) for what, (kj, sigma) in terms.items()}
