"""Lime and magnesia of a heat: available lime, lime that does not dissolve, dolomite, saturation
with MgO, what the lining gives.

Saturation with MgO is a number of the works' own: no correlation with coefficients could be read,
and published trends disagree (slag_properties.facts('MgO saturation')).
"""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import (
    InputError,
    Linear,
    add_up,
    between,
    linear_solve,
    mass_fractions,
    plain,
    positive,
)
from ..streams import BASICITIES, OXIDES, amounts, to_pct, total_iron
from ..thermo import oxides_with

_IRON = oxides_with(element="Fe")


def available_lime_pct(lime_pct, basicity_aim, definition="CaO/SiO2", undissolved_pct=0.0):
    """CaO of a lime that is left for the slag after it has fluxed the lime's own acids, mass % of
    the lime: CaO - B x SiO2.

    lime_pct: mapping of oxide to mass %. definition: 'CaO/SiO2' or 'CaO/(SiO2+P2O5)'.
    undissolved_pct: share of the lime's CaO that does not dissolve.
    Raises InputError. Source: Campbell, Manufacture and Properties of Iron and Steel, table XI-C.
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
    if definition not in known:
        raise InputError(
            f"basicity for the lime: {definition!r} was given; allowed are {', '.join(known)}."
        )
    return known[definition]


def lime_kg_t(
    silicon_pct,
    basicity_aim,
    lime_pct,
    phosphorus_pct=0.0,
    definition="CaO/SiO2",
    undissolved_pct=0.0,
):
    """Lime, kg per t of hot metal, that fluxes the silicon (and by 'CaO/(SiO2+P2O5)' the
    phosphorus) of the hot metal: the sum by hand.

    All silicon and phosphorus are taken as oxidised; SiO2 from dirt, ore and slag carried over is
    not in it (see fluxing()).
    Raises InputError where the lime brings no available lime. Source: stoichiometry, 21.39 x B x
    [%Si] / available share.
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


@dataclass(frozen=True)
class Fluxing:
    """Fluxes of a heat and the slag they make, kg. liquid_kg: oxides of the liquid slag;
    undissolved_kg: lime left as lumps. Values may be arrays.
    """

    lime_kg: float
    dolomite_kg: float
    liquid_kg: dict
    undissolved_kg: float

    @property
    def slag_kg(self):
        """Slag with its undissolved lime, kg."""
        return sum(self.liquid_kg.values()) + self.undissolved_kg

    @property
    def iron_kg(self):
        """Iron lost as oxide in the slag, kg (droplets of metal come on top)."""
        return total_iron(self.liquid_kg)

    @property
    def analysis_pct(self):
        """Mass % as a laboratory finds it: undissolved lime counts as CaO, so the basicity looks
        better than the liquid's.
        """
        return to_pct(self.liquid_kg | {"CaO": self.liquid_kg["CaO"] + self.undissolved_kg})


def flux_aims(oxides, basicity_aim, liquid=None, mgo_aim_pct=None):
    """What must vanish for the aims to be met, as a dict by flux: 'lime': CaO - B x SiO2;
    'dolomite' (with liquid): MgO less its share of the liquid slag. oxides, liquid: kg, as numbers
    or linear
    forms."""
    aims = {"lime": oxides["CaO"] - oxides["SiO2"] * basicity_aim}
    return aims | (
        {} if liquid is None else {"dolomite": oxides["MgO"] - liquid * (mgo_aim_pct / 100.0)}
    )


def fluxing(
    acid_kg,
    lime_pct,
    dolomite_pct,
    basicity_aim,
    mgo_aim_pct,
    *,
    others_kg=MappingProxyType({}),
    feo_pct=0.0,
    fe2o3_pct=0.0,
    undissolved_pct=0.0,
):
    """Lime and dolomite for a slag whose liquid has a CaO/SiO2 and a MgO content, when part of the
    lime does not dissolve.

    acid_kg: SiO2 from hot metal, ore and dirt, kg. lime_pct, dolomite_pct: mapping of oxide to mass
    % (carbonates counted as oxides).
    mgo_aim_pct: MgO of the liquid slag, or None for no dolomite. others_kg: oxides from the metal,
    ore and lining (MnO, P2O5, Al2O3, CaO, MgO), kg.
    feo_pct, fe2o3_pct: of the liquid slag. undissolved_pct: share of the lime's CaO left as lumps,
    by the works' own experience.
    All may be arrays. Returns a Fluxing. Raises InputError where a flux brings no available
    lime or the slag cannot hold the MgO. Source: mass balance.
    """
    others = amounts(others_kg)
    if set(others) & {"SiO2", *_IRON}:
        raise InputError(
            "others_kg: SiO2 goes into acid_kg, and iron oxides into feo_pct and fe2o3_pct."
        )
    acid_kg = positive("SiO2 to be fluxed", acid_kg, "kg")
    available = available_lime_pct(lime_pct, basicity_aim, undissolved_pct=undissolved_pct)
    if np.any(np.asarray(available) <= 0):
        raise InputError(
            f"available lime: CaO - B x SiO2 of the lime is {np.min(available):.1f} %; it must be "
            "more than zero."
        )
    left = undissolved_pct / 100.0
    feo, fe2o3 = (
        between("FeO in slag", feo_pct, 0.0, 60.0, "%"),
        between("Fe2O3 in slag", fe2o3_pct, 0.0, 40.0, "%"),
    )
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
    iron = {"FeO": liquid * (feo / 100.0), "Fe2O3": liquid * (fe2o3 / 100.0)}
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
    acid_kg,
    lime_pct,
    dolomite_pct,
    basicity_aim,
    mgo_aim_pct,
    *,
    cao_kg=0.0,
    mgo_kg=0.0,
    other_kg=0.0,
    iron_oxides_pct=0.0,
):
    """Lime, dolomite and slag, kg, of fluxing() where all lime dissolves: (lime_kg, dolomite_kg,
    slag_kg).

    cao_kg, mgo_kg: brought by other things (ore, lining). other_kg: MnO, P2O5, Al2O3 and the like
    from the metal. iron_oxides_pct: FeO + Fe2O3 in the slag, with what the fluxes bring of them.
    Raises InputError. Source: stoichiometry; 'available lime' CaO - B SiO2 as in Campbell,
    Manufacture and Properties of Iron and Steel, table XI-C (key campbell).
    """
    others = {"CaO": cao_kg, "MgO": mgo_kg, "MnO": other_kg}
    made = fluxing(
        acid_kg,
        lime_pct,
        dolomite_pct,
        basicity_aim,
        mgo_aim_pct,
        others_kg=others,
        feo_pct=iron_oxides_pct,
    )
    return made.lime_kg, made.dolomite_kg, plain(made.slag_kg)


def mgo_to_saturation_kg(oxides_kg, saturation_pct):
    """kg of MgO that a slag can still take up until it holds saturation_pct; below zero: so much
    MgO stays solid.

    oxides_kg: kg. saturation_pct: of the works' own slags at their temperature (constant
    mgo_saturation_pct gives an order of size).
    x = (s S - M)/(1 - s), since the slag grows by what it takes. Raises InputError.
    """
    kg = amounts(oxides_kg)
    share = between("saturation with MgO", saturation_pct, 0.0, 40.0, "%") / 100.0
    return (share * sum(kg.values()) - kg.get("MgO", 0.0)) / (1.0 - share)


def lining_pickup_kg(oxides_kg, saturation_pct, approach_pct=100.0):
    """kg of MgO that an unsaturated slag takes from the lining if it comes approach_pct of the way
    to saturation; zero for a saturated slag.

    An upper limit by mass balance, not a rate of wear: how near a slag comes is the works' own
    experience. Raises InputError.
    """
    return plain(
        np.maximum(mgo_to_saturation_kg(oxides_kg, saturation_pct), 0.0)
        * between("approach to saturation", approach_pct, 0.0, 100.0, "%")
        / 100.0
    )
