"""Lime and magnesia of a heat: available lime, lime that does not dissolve, dolomite, saturation
with MgO, what the lining gives.

Saturation with MgO is a number of the works' own: no correlation with coefficients could be read,
and published trends disagree (slag_properties.facts('MgO saturation')).
"""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import InputError, between, mass_fractions, plain, positive
from ..streams import OXIDES, amounts, fluxes_for, to_pct, total_iron


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
    known = {"CaO/SiO2": ("SiO2",), "CaO/(SiO2+P2O5)": ("SiO2", "P2O5")}
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
    All may be arrays. Returns a Fluxing. Raises InputError, see slag.fluxes_for. Source: mass
    balance.
    """
    others = amounts(others_kg)
    if set(others) & {"SiO2", "FeO", "Fe2O3"}:
        raise InputError(
            "others_kg: SiO2 goes into acid_kg, and iron oxides into feo_pct and fe2o3_pct."
        )
    left = between("undissolved lime", undissolved_pct, 0.0, 90.0, "%") / 100.0
    feo, fe2o3 = (
        between("FeO in slag", feo_pct, 0.0, 60.0, "%"),
        between("Fe2O3 in slag", fe2o3_pct, 0.0, 40.0, "%"),
    )
    dissolving = dict(lime_pct) | {"CaO": lime_pct.get("CaO", 0.0) * (1.0 - left)}
    rest = {o: kg for o, kg in others.items() if o not in ("CaO", "MgO")}
    lime, dolomite, slag = fluxes_for(
        acid_kg,
        dissolving,
        dolomite_pct,
        basicity_aim,
        mgo_aim_pct,
        cao_kg=others.get("CaO", 0.0),
        mgo_kg=others.get("MgO", 0.0),
        other_kg=sum(rest.values()),
        iron_oxides_pct=feo + fe2o3,
    )
    liquid = {"CaO": 0.0, "SiO2": acid_kg} | others
    for flux_kg, analysis in ((lime, dissolving), (dolomite, dolomite_pct or {})):
        for oxide, pct in analysis.items():
            if oxide in OXIDES and oxide not in ("FeO", "Fe2O3"):
                liquid[oxide] = liquid.get(oxide, 0.0) + flux_kg * pct / 100.0
    liquid |= {"FeO": slag * feo / 100.0, "Fe2O3": slag * fe2o3 / 100.0}
    return Fluxing(
        lime,
        dolomite,
        MappingProxyType(amounts(liquid)),
        plain(lime * lime_pct.get("CaO", 0.0) / 100.0 * left),
    )


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
