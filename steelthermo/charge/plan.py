"""The plan of a heat: every figure that the charge is solved from, most of them those of the
works.
"""

from dataclasses import dataclass, field
from typing import Annotated

import numpy as np

from ..base import Amounts, InputError, Number, Record, between, finite, positive, shown, told
from ..streams import LiquidMetal, Material, Slag, blend, frozen, material
from ..works import Profile, load_profile, plan_limits, plan_values

# figures that may be given in the place of an aim or of what is asked for: what, greatest (or
# None), unit
_GIVEN = {
    "scrap_kg": ("scrap", None, "kg"),
    "coolant_kg": ("coolant", None, "kg"),
    "fuel_kg": ("fuel", None, "kg"),
    "lime_kg": ("lime", None, "kg"),
    "dolomite_kg": ("dolomite", None, "kg"),
    "cao_pct": ("CaO aim", 80.0, "%"),
    "iron_lost_kg": ("iron to slag", None, "kg"),
    "iron_lost_pct": ("iron to slag", 50.0, "%"),
    "oxygen_nm3": ("oxygen blown", None, "Nm3"),
}
SOLIDS = ("scrap", "coolant", "fuel", "lime", "dolomite")
SLAGS = ("carried_slag", "kept_slag")


@dataclass(frozen=True, repr=False)
class Plan(Record):
    """Figures of a heat, made by plan_of(works). Numbers may be arrays that broadcast.

    hot_metal_kg; hot_metal_pct (mass % of elements); hot_metal_temp_c. scrap, coolant, fuel, lime,
    dolomite: key of the profile, a Material, or shares of them.
    scrap_kg, coolant_kg, fuel_kg: masses where they are not asked for. lime_kg, dolomite_kg: given
    masses instead of the aims of basicity and MgO.
    carried_slag: Slag that comes with the hot metal; kept_slag: Slag left from the last heat; both
    liquid, at their own temperature (splashed and frozen slag takes 0.25 MJ/kg more to melt).
    end_temp_c (not used where it is asked for), end_pct: aims of the steel (C, Mn, P, Si; others
    such as O if given; not S; what is not named in it is zero).
    basicity: CaO/SiO2; or cao_pct: CaO of the slag, %. mgo_pct, feo_pct, fe2o3_pct: of the slag, %;
    where the last two are None they, and the oxygen of the steel, follow from the law at the end of
    a blow (slag.end_of_blow);
    iron_lost_kg or iron_lost_pct: iron in its oxides, kg or % of the iron charged, in the place of
    feo_pct and fe2o3_pct, whose ratio holds. undissolved_pct: share of the
    CaO of the lime that stays in lumps; the four aims are then those of the liquid slag, and the
    lumps are in the slag besides.
    co2_pct: share of the burnt carbon that leaves as CO2. unused_o2_pct: share of the O2 blown that
    leaves with the gas. oxygen_nm3: oxygen blown, Nm3, where something else is left free, see
    solve(). gas_temp_c. post_heat_pct: share of the heat of CO that burns on to CO2, both at
    gas_temp_c and with cold oxygen, that the bath takes (see post_combustion()); the rest goes up
    with the gas and counts as a loss. fuel_use_pct: share of the fuel's
    carbon that burns; the rest leaves as it is. dust_fe_kg_t, ejected_kg_t, skull_kg_t,
    lining_mgo_kg_t: kg per t of steel; beads_pct: metal in the slag, % of its mass. heat_mj_t: MJ
    lost per t of steel. other_data_mj_t: MJ per t taken (below zero: given) by other data than the
    kit's, see solve_by(). sulphur_to_slag_pct: share of the sulphur. oxygen_pct: volume % of O2,
    N2, Ar in the oxygen.
    Ranges: those of the works profile. Raises InputError.
    """

    works: Profile
    hot_metal_pct: Amounts
    hot_metal_temp_c: Number
    end_pct: Amounts
    end_temp_c: Number
    basicity: Number
    mgo_pct: Number
    feo_pct: Number | None
    fe2o3_pct: Number | None
    co2_pct: Number
    unused_o2_pct: Number
    post_heat_pct: Number
    gas_temp_c: Number
    dust_fe_kg_t: Number
    ejected_kg_t: Number
    beads_pct: Number
    skull_kg_t: Number
    fuel_use_pct: Number
    heat_mj_t: Number
    lining_mgo_kg_t: Number
    sulphur_to_slag_pct: Number
    oxygen_pct: Amounts
    hot_metal_kg: Number = 1000.0
    scrap: str | Material = "heavy_scrap"
    scrap_kg: Number | None = None
    coolant: str | Material = "ore"
    coolant_kg: Number = 0.0
    fuel: str | Material = "coke"
    fuel_kg: Number = 0.0
    lime: str | Material = "lime"
    lime_kg: Number | None = None
    dolomite: str | Material = "burnt_dolomite"
    dolomite_kg: Number | None = None
    carried_slag: Slag | None = None
    kept_slag: Slag | None = None
    undissolved_pct: Number = 0.0
    cao_pct: Number | None = None
    iron_lost_kg: Number | None = None
    iron_lost_pct: Number | None = None
    oxygen_nm3: Number | None = None
    other_data_mj_t: Number = 0.0
    hot_metal: LiquidMetal = field(init=False)

    def __post_init__(self):
        aims = {"Si": 0.0, "Mn": 0.0, "P": 0.0, "C": 0.0}  # of a steel, unless it says otherwise
        figures = {key: getattr(self, key) for key in plan_limits()}
        frozen(self, **{k: allowed(k, x) for k, x in figures.items() if x is not None})
        frozen(
            self, **{name: as_material(getattr(self, name), self.works, name) for name in SOLIDS}
        )
        frozen(
            self,
            undissolved_pct=between("undissolved lime", self.undissolved_pct, 0.0, 60.0, "%"),
            other_data_mj_t=finite("heat by other data", self.other_data_mj_t, "MJ/t"),
            hot_metal=LiquidMetal(
                positive("hot metal", self.hot_metal_kg, "kg", zero=False),
                {
                    e: positive(f"{e} in hot metal", x, "%")
                    for e, x in _pairs("hot metal", self.hot_metal_pct)
                },
                self.hot_metal_temp_c,
            ),
            end_pct={
                e: between(f"{e} at the end of the blow", x, 0.0, 5.0, "%")
                for e, x in (aims | dict(_pairs("steel", self.end_pct))).items()
                if e != "Fe"
            },
            oxygen_pct=_oxygen(self.oxygen_pct),
            **{
                key: between(what, x, 0.0, most, unit) if most else positive(what, x, unit)
                for key, (what, most, unit) in _GIVEN.items()
                if (x := getattr(self, key)) is not None
            },
        )
        for key in SLAGS:
            if not isinstance(getattr(self, key), Slag | None):
                raise InputError(
                    f"{key}: {shown(getattr(self, key))} was given; a Slag is needed, such as "
                    "Slag({'CaO': 40.0, 'SiO2': 35.0, 'Al2O3': 12.0, 'MgO': 8.0}, 1400.0)."
                )
        if "S" in self.end_pct:
            raise InputError(
                "S at the end of the blow: it is no aim; what stays in the steel follows from "
                "sulphur_to_slag_pct."
            )

    def slags(self) -> dict:
        """Slags charged, by the name that charge.inputs gives them."""
        given = {key.replace("_", " "): getattr(self, key) for key in SLAGS}
        return {name: slag for name, slag in given.items() if slag is not None}

    def _shown(self):
        rows = [("hot metal", self.hot_metal_kg, "kg")]
        for key, row in plan_limits().items():
            if (x := getattr(self, key)) is not None:
                rows.append((key, x, "" if row["unit"] == "1" else row["unit"]))
        return f"plan of a heat, {self.works.name}", ("", "", "unit"), rows

    @property
    def provenance(self) -> tuple:
        """Sources of the works' figures, the hot metal and the solids."""
        parts = (self.works, self.hot_metal, *(getattr(self, name) for name in SOLIDS))
        return tuple(dict.fromkeys(p for part in parts for p in part.provenance))


def plan_of(works: Profile | Plan | None = None, **changes: Annotated[object, Plan]) -> Plan:
    """The plan of a heat: figures of a works, with the changes named.

    Parameters
    ----------
    works : a Profile (None: the one found by load_profile()), or a Plan to change
    changes : fields of Plan; None leaves a works' figure as it is; hot_metal (a LiquidMetal) stands
        for its mass, analysis and temperature

    Returns
    -------
    Plan

    Raises
    ------
    InputError
        Also for a field that is not known, with the names near it.

    Examples
    --------
    >>> plan_of(end_temp_c=1650.0).end_temp_c
    1650.0
    """
    works = load_profile() if works is None else works
    metal = changes.pop("hot_metal", None)
    if metal is not None:
        changes = {
            "hot_metal_kg": metal.mass_kg,
            "hot_metal_pct": {e: x for e, x in metal.analysis_pct.items() if e != "Fe"},
            "hot_metal_temp_c": metal.temp_c,
        } | changes
    if not isinstance(works, Profile | Plan):
        raise InputError(
            f"works: {shown(works)} was given; a profile is needed, such as "
            "load_profile('works.toml')."
        )
    own = isinstance(works, Plan)
    figures = plan_values(works.works if own else works)
    changes = {key: x for key, x in changes.items() if x is not None or key not in figures}
    if own:
        return told(works, "charge", changes)
    return told(Plan, "charge", {"works": works} | figures | changes)


def allowed(key: str, x: Number) -> Number:
    """A figure of a Plan, checked against the range of the works profile.

    Parameters
    ----------
    key : field of Plan
    x : figure; scalar or array

    Returns
    -------
    x

    Raises
    ------
    InputError

    References
    ----------
    profile_schema.csv

    Examples
    --------
    >>> allowed("end_temp_c", 1650.0)
    1650.0
    """
    row = plan_limits()[key]
    unit = "" if row["unit"] == "1" else row["unit"]
    return between(row["quantity"], x, row["low"], row["high"], unit)


def _oxygen(pct):
    shares = {s: positive(f"{s} in the oxygen", x, "%") for s, x in _pairs("oxygen", pct)}
    wrong = np.any(np.abs(np.asarray(sum(shares.values())) - 100.0) > 1e-4) or np.any(
        np.asarray(shares.get("O2", 0.0)) < 20.0
    )
    if wrong or shares.keys() - {"O2", "N2", "Ar"}:
        raise InputError(
            f"oxygen: {shown(dict(pct))} was given; shares of O2 (20 % or more), N2 and Ar that "
            "add up to 100 % are needed."
        )
    return shares


def _pairs(what, given):
    """Species and shares of an analysis given by the user."""
    if not hasattr(given, "items"):
        raise InputError(
            f"{what}: {shown(given)} was given; shares by symbol such as {{'C': 4.5, 'Si': 0.4}} "
            "are needed."
        )
    return given.items()


def as_material(given, works, what):
    """A Material from a key of the profile, a Material, or pairs of (key or Material, share)."""
    if isinstance(given, Material):
        return given
    if isinstance(given, str):
        return material(given, works)
    try:
        pairs = given.items() if hasattr(given, "items") else given
        return blend([(as_material(m, works, what), x) for m, x in pairs], what)
    except (TypeError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise InputError(
            f"{what}: {shown(given)} was given; a key of the works profile, a Material, or shares "
            "of them are needed."
        ) from None
