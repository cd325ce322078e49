"""Lime and magnesia of a heat: available lime, lime that does not dissolve, dolomite, saturation
with MgO, what the lining gives.

Saturation with MgO is a number of the works' own: no correlation with coefficients could be read,
and published trends disagree (property_facts('MgO saturation')).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Linear,
    Number,
    Record,
    add_up,
    between,
    finite,
    linear_solve,
    mass_fractions,
    one_of,
    plain,
    positive,
)
from ..streams import BASICITIES, OXIDES, amounts, to_pct, total_iron
from ..thermo import oxides_with

_IRON = oxides_with(element="Fe")
_MOST_PCT = (("FeO", 60.0), ("Fe2O3", 40.0))  # of a liquid slag


def available_lime_pct(
    lime_pct: Amounts,
    basicity_aim: Number,
    definition: str = "CaO/SiO2",
    undissolved_pct: Number = 0.0,
) -> Number:
    """CaO of a lime left for the slag after it has fluxed the lime's own acids: CaO - B x SiO2.

    Parameters
    ----------
    lime_pct : mass % by oxide
    basicity_aim : 0.5 to 6
    definition : 'CaO/SiO2' or 'CaO/(SiO2+P2O5)'
    undissolved_pct : share of the lime's CaO that does not dissolve, 0 to 90 %

    Returns
    -------
    mass % of the lime

    Raises
    ------
    InputError

    References
    ----------
    Campbell, Manufacture and Properties of Iron and Steel, table XI-C.

    Examples
    --------
    >>> available_lime_pct({"CaO": 90.0, "SiO2": 2.0}, 3.5)
    83.0
    """
    aim = between("basicity aim", basicity_aim, 0.5, 6.0)
    lime = {o: positive(f"{o} in lime", p, "%") for o, p in lime_pct.items()}
    acid = sum(lime.get(o, 0.0) for o in _acids(definition))
    return (
        lime.get("CaO", 0.0)
        * (1.0 - between("undissolved lime", undissolved_pct, 0.0, 90.0, "%") / 100.0)
        - aim * acid
    )


def _acids(definition):
    known = {d: tuple(acids) for d, (bases, acids) in BASICITIES.items() if list(bases) == ["CaO"]}
    return known[one_of("basicity for the lime", definition, known)]


def lime_kg_t(
    silicon_pct: Number,
    basicity_aim: Number,
    lime_pct: Amounts,
    phosphorus_pct: Number = 0.0,
    definition: str = "CaO/SiO2",
    undissolved_pct: Number = 0.0,
) -> Number:
    """Lime that fluxes the silicon (and by 'CaO/(SiO2+P2O5)' the phosphorus) of the hot metal.

    The sum by hand: all silicon and phosphorus are taken as oxidised; SiO2 from dirt, ore and slag
    carried over is not in it (see fluxing()).

    Parameters
    ----------
    silicon_pct, phosphorus_pct : of the hot metal, mass %
    basicity_aim, lime_pct, definition, undissolved_pct : as in available_lime_pct()

    Returns
    -------
    kg per t of hot metal

    Raises
    ------
    InputError
        Where the lime brings no available lime.

    References
    ----------
    Stoichiometry: 21.39 x B x [%Si] / available share.

    Examples
    --------
    >>> round(lime_kg_t(0.5, 3.5, {"CaO": 90.0, "SiO2": 2.0}), 1)
    45.1
    """
    available = available_lime_pct(lime_pct, basicity_aim, definition, undissolved_pct)
    if np.any(np.asarray(available) <= 0):
        raise InputError(
            f"available lime: {np.min(available):.1f} % of the lime was found; it must be more "
            "than zero."
        )
    acid = 10.0 * positive("silicon of hot metal", silicon_pct, "%") / mass_fractions("SiO2")["Si"]
    if "P2O5" in _acids(definition):
        acid = (
            acid
            + 10.0
            * positive("phosphorus of hot metal", phosphorus_pct, "%")
            / mass_fractions("P2O5")["P"]
        )
    return plain(100.0 * basicity_aim * acid / available)


@dataclass(frozen=True, repr=False)
class Fluxing(Record):
    """Fluxes of a heat and the slag they make, kg. liquid_kg: oxides of the liquid slag;
    undissolved_kg: lime left as lumps. Values may be arrays.
    """

    lime_kg: Number
    dolomite_kg: Number
    liquid_kg: dict
    undissolved_kg: Number

    @property
    def slag_kg(self) -> Number:
        """Slag with its undissolved lime, kg."""
        return sum(self.liquid_kg.values()) + self.undissolved_kg

    @property
    def iron_kg(self) -> Number:
        """Iron lost as oxide in the slag, kg (droplets of metal come on top)."""
        return total_iron(self.liquid_kg)

    @property
    def analysis_pct(self) -> dict:
        """Mass % as a laboratory finds it: undissolved lime counts as CaO, so the basicity looks
        better than the liquid's.
        """
        return to_pct(self.liquid_kg | {"CaO": self.liquid_kg["CaO"] + self.undissolved_kg})


def flux_aims(
    oxides: Mapping,
    basicity_aim: Number,
    liquid: Number | Linear | None = None,
    mgo_aim_pct: Number | None = None,
) -> dict:
    """What must vanish for the aims to be met.

    Parameters
    ----------
    oxides, liquid : kg, numbers or linear forms; without liquid there is no dolomite
    basicity_aim : CaO/SiO2
    mgo_aim_pct : of the liquid slag

    Returns
    -------
    by flux: 'lime': CaO - B x SiO2; 'dolomite': MgO less its share of the liquid slag

    Examples
    --------
    >>> flux_aims({"CaO": 40.0, "SiO2": 10.0}, 3.5)
    {'lime': 5.0}
    """
    basicity_aim = finite("basicity aimed at", basicity_aim)
    aims = {"lime": oxides["CaO"] - oxides["SiO2"] * basicity_aim}
    return aims | (
        {} if liquid is None else {"dolomite": oxides["MgO"] - liquid * (mgo_aim_pct / 100.0)}
    )


def fluxing(
    acid_kg: Number,
    lime_pct: Amounts,
    dolomite_pct: Amounts | None,
    basicity_aim: Number,
    mgo_aim_pct: Number | None,
    *,
    others_kg: Amounts = MappingProxyType({}),
    iron_pct: Amounts = MappingProxyType({}),
    undissolved_pct: Number = 0.0,
) -> Fluxing:
    """Lime and dolomite for a CaO/SiO2 and a MgO of the liquid slag, part of the lime undissolved.

    Parameters
    ----------
    acid_kg : SiO2 from hot metal, ore and dirt, kg
    lime_pct, dolomite_pct : mass % by oxide (carbonates counted as oxides)
    basicity_aim : 0.5 to 6
    mgo_aim_pct : MgO of the liquid slag, 0 to 20 %, or None for no dolomite
    others_kg : oxides from metal, ore and lining (MnO, P2O5, Al2O3, CaO, MgO), kg
    iron_pct : FeO and Fe2O3 of the liquid slag, 0 to 60 and 0 to 40 %
    undissolved_pct : share of the lime's CaO left as lumps, by the works' own experience, 0 to 90 %

    Returns
    -------
    Fluxing

    Raises
    ------
    InputError
        Where a flux brings no available lime or the slag cannot hold the MgO.

    References
    ----------
    Mass balance.

    Examples
    --------
    >>> made = fluxing(20.0, {"CaO": 90.0, "SiO2": 2.0}, {"CaO": 58.0, "MgO": 38.0}, 3.5, 8.0)
    >>> round(made.lime_kg, 1), round(made.dolomite_kg, 1), round(made.slag_kg, 1)
    (69.0, 22.0, 104.6)
    """
    others = amounts(others_kg)
    if set(others) & {"SiO2", *_IRON}:
        raise InputError("others_kg: SiO2 goes into acid_kg, and iron oxides into iron_pct.")
    acid_kg = positive("SiO2 to be fluxed", acid_kg, "kg")
    available = available_lime_pct(lime_pct, basicity_aim, undissolved_pct=undissolved_pct)
    if np.any(np.asarray(available) <= 0):
        raise InputError(
            f"available lime: CaO - B x SiO2 of the lime is {np.min(available):.1f} %; it must be "
            "more than zero."
        )
    left = undissolved_pct / 100.0
    iron = {
        o: between(f"{o} in slag", iron_pct.get(o, 0.0), 0.0, most, "%") for o, most in _MOST_PCT
    }
    dissolving = dict(lime_pct) | {"CaO": lime_pct.get("CaO", 0.0) * (1.0 - left)}
    liquid, forms = Linear({"slag": 1.0}), {"CaO": 0.0, "SiO2": acid_kg, "MgO": 0.0} | others
    forms = {o: Linear({"": kg}) for o, kg in forms.items()}
    for flux, analysis in (("lime", dissolving), ("dolomite", dolomite_pct or {})):
        for oxide, pct in analysis.items():
            if oxide in OXIDES and oxide not in _IRON:
                more = Linear({flux: positive(f"{oxide} in flux", pct, "%") / 100.0})
                forms[oxide] = forms.get(oxide, Linear({})) + more
    if mgo_aim_pct is None:
        forms = {o: form.without("dolomite") for o, form in forms.items()}
        aims = flux_aims(forms, basicity_aim) | {"dolomite": Linear({"dolomite": 1.0})}
    else:
        aim = between("MgO aim", mgo_aim_pct, 0.0, 20.0, "%")
        aims = flux_aims(forms, basicity_aim, liquid, aim)
    iron = {o: liquid * (pct / 100.0) for o, pct in iron.items()}
    mass = add_up([*forms.values(), *iron.values()]) - liquid
    found = linear_solve(["lime", "dolomite", "slag"], [*aims.values(), mass])
    lime, dolomite, slag = found.values()
    if np.any(np.isnan(slag)):
        raise InputError(
            "dolomite: its MgO is no richer than the slag aimed at; MgO can't be reached with it."
        )
    if np.any(np.asarray(dolomite) < -1e-9):
        raise InputError(
            f"dolomite: {np.min(dolomite):.0f} kg would be needed; the lime alone already brings "
            f"more MgO than {np.max(mgo_aim_pct):g} %."
        )
    if np.any(np.asarray(lime) < -1e-9):
        raise InputError(
            f"lime: {np.min(lime):.0f} kg would be needed; the other materials already bring more "
            f"CaO than the basicity {np.min(basicity_aim):g} asks for."
        )
    made = {o: form.at(found) for o, form in (forms | iron).items() if form.c}
    return Fluxing(
        lime,
        dolomite,
        MappingProxyType({o: plain(np.maximum(kg, 0.0)) for o, kg in made.items()}),
        plain(lime * lime_pct.get("CaO", 0.0) / 100.0 * left),
    )


def fluxes_for(
    acid_kg: Number,
    lime_pct: Amounts,
    dolomite_pct: Amounts | None,
    basicity_aim: Number,
    mgo_aim_pct: Number | None,
    *,
    others_kg: Amounts = MappingProxyType({}),
    iron_oxides_pct: Number = 0.0,
) -> tuple:
    """Lime, dolomite and slag of fluxing() where all lime dissolves.

    Parameters
    ----------
    acid_kg, lime_pct, dolomite_pct, basicity_aim, mgo_aim_pct : as in fluxing()
    others_kg : as in fluxing()
    iron_oxides_pct : FeO + Fe2O3 in the slag, with what the fluxes bring of them

    Returns
    -------
    (lime_kg, dolomite_kg, slag_kg)

    Raises
    ------
    InputError

    Examples
    --------
    >>> lime, dolomite = {"CaO": 90.0, "SiO2": 2.0}, {"CaO": 58.0, "MgO": 38.0}
    >>> [round(kg, 1) for kg in fluxes_for(20.0, lime, dolomite, 3.5, 8.0, iron_oxides_pct=20.0)]
    [64.8, 28.0, 133.1]
    """
    iron = {"FeO": iron_oxides_pct}
    made = fluxing(
        acid_kg,
        lime_pct,
        dolomite_pct,
        basicity_aim,
        mgo_aim_pct,
        others_kg=others_kg,
        iron_pct=iron,
    )
    return made.lime_kg, made.dolomite_kg, plain(made.slag_kg)


def mgo_to_saturation_kg(oxides_kg: Amounts, saturation_pct: Number) -> Number:
    """MgO that a slag can still take up until it is saturated: x = (s S - M)/(1 - s).

    Parameters
    ----------
    oxides_kg : kg by oxide
    saturation_pct : of the works' own slags at their temperature, 0 to 40 %
        (property_facts('MgO saturation') gives an order of size)

    Returns
    -------
    kg; below zero: so much MgO stays solid

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(mgo_to_saturation_kg({"CaO": 50.0, "SiO2": 20.0, "FeO": 24.0, "MgO": 6.0}, 8.0), 2)
    2.17
    """
    kg = amounts(oxides_kg)
    share = between("saturation with MgO", saturation_pct, 0.0, 40.0, "%") / 100.0
    return (share * sum(kg.values()) - kg.get("MgO", 0.0)) / (1.0 - share)


def lining_pickup_kg(
    oxides_kg: Amounts, saturation_pct: Number, approach_pct: Number = 100.0
) -> Number:
    """MgO that an unsaturated slag takes from the lining; zero for a saturated slag.

    An upper limit by mass balance, not a rate of wear.

    Parameters
    ----------
    oxides_kg, saturation_pct : as in mgo_to_saturation_kg()
    approach_pct : how far the slag comes to saturation, 0 to 100 %, by the works' own experience

    Returns
    -------
    kg

    Raises
    ------
    InputError

    Examples
    --------
    >>> slag = {"CaO": 50.0, "SiO2": 20.0, "FeO": 24.0, "MgO": 6.0}
    >>> round(lining_pickup_kg(slag, 8.0, approach_pct=50.0), 2)
    1.09
    """
    return plain(
        np.maximum(mgo_to_saturation_kg(oxides_kg, saturation_pct), 0.0)
        * between("approach to saturation", approach_pct, 0.0, 100.0, "%")
        / 100.0
    )
