"""Published data in the place of the kit's: what a row of other_data.csv changes in the heat
of a charge, and the charge solved anew with it.

The kit's own enthalpies stay where they are; what the products hold more by the other data, less
what the charge brings more, enters the balance as one item of its own. A heat of forming or of
reaction moves its compound by the same amount at every temperature, for the kit's heat contents
hold; another heat content moves only what leaves hot.
"""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Annotated

import numpy as np

from ..base import (
    VERIFIED,
    InputError,
    Number,
    Table,
    atomic_weight,
    formula,
    kelvin,
    mol_to_nm3,
    molar_mass,
    molar_volume_nm3_kmol,
)
from ..slag import heat_contents
from ..thermo import (
    SETS,
    counted_as,
    dissolved_enthalpy,
    formation_enthalpy_298,
    heat_content,
    oxidation_heat,
    oxidations,
    reaction,
    solution_row,
)
from ..works import Profile
from .charge import Charge, solve
from .plan import Plan

_CLOSE_MJ_T = (
    1e-8  # change from one solve to the next that counts as none: 1e-11 of the heat given off
)
_SOLVES = 12
_DATA = Table("other_data")


@cache
def other_data(verified: bool | None = None) -> Mapping:
    """Published data in the place of the kit's.

    Parameters
    ----------
    verified : True for those that stand in a text that was read; None: all

    Returns
    -------
    rows of other_data.csv by key

    Examples
    --------
    >>> row = other_data()["limestone_crc"]
    >>> row["of"], row["other"], row["unit"]
    ('CaCO3', -1207.6, 'kJ/mol')
    """
    return MappingProxyType(
        {k: row for k, row in _DATA.by_key.items() if verified in (None, row["status"] in VERIFIED)}
    )


def other_set(coefficients: str) -> str:
    """The set of coefficients that is not the one named.

    Parameters
    ----------
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    its name

    Examples
    --------
    >>> other_set("msts")
    'jsps'
    """
    return next(s for s in SETS if s != coefficients)


def _shift_kj(row):
    """kJ that one mol of the row's species holds more by its data."""
    kind, of, other = row["kind"], row["of"], row["other"]
    if kind == "shift":
        return other
    if kind == "formation":
        return other - formation_enthalpy_298(of) / 1000.0
    if kind == "content":
        return other - heat_content(of, row["at_k"]) / 1000.0
    r = reaction(of)
    return (other - r.heat(row["at_k"]) / 1000.0) / next(
        t.nu for t in r.terms if t.formula == row["species"]
    )


def _kmol(charge, charged):
    """kmol of each compound in what leaves, by formula; charged: True to take off what comes."""
    out = {name: mol / 1000.0 for name, mol in charge.slag.compounds_mol().items()}

    def add(name, n):
        return out.update({name: out.get(name, 0.0) + n})

    for species, nm3 in charge.gas.nm3.items():
        add(species, nm3 / molar_volume_nm3_kmol())
    add("FeO", charge.dust.mass_kg / molar_mass("FeO"))
    if not charged:
        return out
    for name in ("scrap", "coolant", "fuel", "lime", "dolomite"):
        solid = charge.inputs[name]
        for species, pct in solid.material.analysis_pct.items():
            kmol = solid.mass_kg * pct / 100.0 / molar_mass(species)
            if len(formula(species)) > 1:
                for part, n in counted_as(species).items():
                    add(part, -n * kmol)
    add("MgO", -charge.lining.mass_kg / molar_mass("MgO"))
    for name in charge.plan.slags():
        for compound, mol in charge.inputs[name].compounds_mol().items():
            add(compound, -mol / 1000.0)
    return out


def _dissolved_kj(charge, element, change):
    """kJ more in what leaves than in what comes, if an element dissolved at T (K) has change(T)
    J/mol more.
    """
    out = 0.0
    for sign, metal in ((1.0, charge.steel), (1.0, charge.ejected), (-1.0, charge.hot_metal)):
        kmol = metal.element_kg().get(element, 0.0) / atomic_weight(element)
        out = out + sign * kmol * change(kelvin(metal.temp_c))
    return out


def more_kj(charge: Charge, key: str) -> Number:
    """What the products of a charge hold more by other data, less what the charge brings more.

    Parameters
    ----------
    charge : Charge, solved
    key : of other_data()

    Returns
    -------
    kJ

    Raises
    ------
    InputError

    References
    ----------
    sources(key)

    Examples
    --------
    >>> round(more_kj(solve().for_tap(1.0), "phosphate_alpha"))
    254
    """
    row = _DATA.get(key)
    ours = charge.steel.coefficients
    if row["kind"] == "solution":
        both = {
            r["element"] for r in Table("solution").rows if r["set"] == other_set(ours)
        }  # what the other set does not have (magnesium) stays as it is
        elements = (
            [e for e in {**charge.hot_metal.analysis_pct, **charge.steel.analysis_pct} if e in both]
            if row["of"] == "all"
            else [row["of"]]
        )

        def change(e):
            return lambda T: (
                dissolved_enthalpy(e, T, other_set(ours)) - dissolved_enthalpy(e, T, ours)
            )

        return sum(_dissolved_kj(charge, e, change(e)) for e in elements)
    if row["kind"] == "dissolved":
        return _dissolved_kj(
            charge,
            row["of"],
            lambda T: 1000.0 * row["other"] - solution_row(row["of"], ours)["a_j_mol"],
        )
    if row["kind"] == "slag heat":
        came = [charge.inputs[name] for name in charge.plan.slags()]
        out = 0.0
        for sign, slag in ((1.0, charge.slag), *((-1.0, slag) for slag in came)):
            found = heat_contents(slag.oxides_kg, kelvin(slag.temp_c))
            out = out + sign * slag.mass_kg * (found[row["of"]] - found["liquid slag"])
        return out
    return (
        1000.0 * _shift_kj(row) * _kmol(charge, row["kind"] != "content").get(row["species"], 0.0)
    )


def solve_by(
    works: Profile | None,
    key: str | None,
    *,
    infeasible: str = "refuse",
    **settings: Annotated[object, Plan],
) -> Charge:
    """The charge of a heat by other data: what they take more is an item of the heat, and it is
    solved again until that moves no more.

    Parameters
    ----------
    works, infeasible, settings : as in solve()
    key : of other_data(); None for the kit's own data

    Returns
    -------
    Charge, whose other_data_kj is what the other data take (below zero: give); masses or
    temperature are those at which the heat closes by them

    Raises
    ------
    InputError
        Also where the solves do not come to rest.

    References
    ----------
    sources(key)

    Examples
    --------
    >>> round(solve_by(None, "phosphate_alpha").scrap_share_pct)
    22
    """
    if key is None:
        return solve(works, infeasible=infeasible, **settings)
    _DATA.get(key)
    if "other_data_mj_t" in settings:
        raise InputError(f"other_data_mj_t: it follows from {key}; leave it out.")
    taken = before = miss_before = 0.0
    for n in range(_SOLVES):
        charge = solve(works, other_data_mj_t=taken, infeasible="mark", **settings)
        miss = np.where(
            charge.feasible, more_kj(charge, key) / charge.steel.mass_kg - taken, 0.0
        )  # kJ/kg is MJ/t
        if np.all(np.abs(miss) <= _CLOSE_MJ_T):
            return (
                charge
                if infeasible == "mark" or np.all(charge.feasible)
                else solve(works, other_data_mj_t=taken, **settings)
            )
        # the first step takes all that is missing; later ones follow the line through the last two
        slope = np.where(
            (miss == miss_before) | (n == 0),
            -1.0,
            (miss - miss_before) / np.where(taken == before, 1.0, taken - before),
        )
        before, miss_before, taken = (
            taken,
            miss,
            taken - miss / np.where(np.abs(slope) < 0.1, -1.0, slope),
        )
        taken = taken.item() if taken.ndim == 0 else taken
    raise InputError(
        f"charge by other data {key!r}: {_SOLVES} solves did not come to rest; the last moved by "
        f"{np.max(np.abs(miss)):g} MJ per t of steel."
    )


def oxidation_heat_by(
    data: str, key: str, T: Number = 1873.15, convention: str = "pure, 298 K", per: str = "kg"
) -> Number:
    """Heat given off when an element burns, by other data.

    Slag conventions and data of other species leave it as it is; another heat content acts at
    temperature alone.

    Parameters
    ----------
    data : a key of other_data()
    key, T, convention, per : as in oxidation_heat()

    Returns
    -------
    J

    Raises
    ------
    InputError

    References
    ----------
    sources(data)

    Examples
    --------
    >>> round(oxidation_heat_by("phosphate_alpha", "P to 3CaO.P2O5") / 1e6, 1)
    35.4
    """
    row, burning = _DATA.get(data), oxidations()
    heat = oxidation_heat(key, T, convention, per)
    element, column = (
        burning[key]["element"],
        {"pure, 298 K": "cold", "pure, at temperature": "hot"}.get(convention, "dissolved"),
    )
    burns = reaction(burning[key][column])
    if row["kind"] == "solution":
        return (
            oxidation_heat(key, T, convention, per, other_set(burns.coefficients))
            if row["of"] in (element, "all")
            else heat
        )
    terms = burns.terms
    nu = (
        0.0
        if row["kind"] in ("slag heat", "dissolved")
        else sum(t.nu for t in terms if t.formula == row["species"] and not t.dissolved)
    )
    if nu == 0.0 or (row["kind"] == "content" and convention == "pure, 298 K"):
        return heat
    burnt = sum(-t.nu * formula(t.formula).get(element, 0.0) for t in terms if t.nu < 0)
    oxygen = sum(-t.nu for t in terms if t.formula == "O2")
    share = {
        "kg": burnt * atomic_weight(element) / 1000.0,
        "mol": burnt,
        "nm3": mol_to_nm3(oxygen),
    }[per]
    return heat - 1000.0 * nu * _shift_kj(row) / share
