"""The charge of a heat: mass of every element and enthalpy closed together, by one linear solve.

Every amount is a linear form of the unknown masses (the material asked for, lime, dolomite, steel,
slag, oxygen), because the end point, the basicity, the MgO and the iron oxides of the slag and the
CO2 share are aims. Absolute enthalpies (elements at 298.15 K) stand on both sides, so no heat of
reaction is needed and none is counted twice. What is where: C, Mn, P, Si in the steel are aims; Si,
Al, Ti, V leave as oxides; Cr, Ni, Cu stay in the metal;
carbonates give up their CO2 unburnt, the carbon of metal and fuel burns to CO and CO2 in the share
given; hydrogen and nitrogen leave as H2 and N2.

What the answer is worth: other data that one could defend, taken one at a time, move the scrap of a
usual heat from 23.4 to between 22.5 and 24.1 % of the charge, and 20 % on all heat contents of the
slag by 1.4 % more; the works' assumed losses, dust, gas temperature and CO2 share move it as much.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    between,
    common_shape,
    figure,
    finite,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    positive,
    shown,
)
from ..streams import (
    Condensed,
    Dust,
    Gas,
    LiquidMetal,
    Material,
    Slag,
    Solid,
    Stage,
    blend,
    material,
)
from ..works import Profile, load_profile
from .account import heat_account
from .balance import TEMP_HIGH_C, TEMP_LOW_C, Balance, linear_solve
from .faults import fault_of_freezing, faults_of_masses, faults_of_temperature, refuse_or_mark

FIND = ("scrap", "coolant", "fuel", "temperature")


@dataclass(frozen=True, repr=False)
class Charge(Stage):
    """A solved heat: a Stage. Masses in kg, volumes in Nm3; scalars or arrays of one shape.

    inputs: hot metal, scrap, coolant, fuel, lime, dolomite, oxygen, lining; outputs: steel,
    ejected, slag, gas, dust (FeO). heat_loss_kj: lost through lining and mouth. find: what was
    asked for. undissolved_kg: CaO of the slag that is left as lumps of lime.
    other_data_kj: what the heat takes more by other data than the kit's (see solve_by): no loss,
    and zero as a rule.
    """

    title: str = "charge"
    find: str = "scrap"
    feasible: bool = True
    undissolved_kg: float = 0.0
    other_data_kj: float = 0.0
    _extensive = (*Stage._extensive, "undissolved_kg", "other_data_kj")

    def heat_gained_kj(self):
        """Enthalpy of all outputs less that of all inputs, kJ, by the data the heat is solved by."""
        return super().heat_gained_kj() + self.other_data_kj

    @property
    def oxygen_nm3(self):
        """Oxygen blown, Nm3, with its nitrogen and argon."""
        return self.oxygen.total_nm3

    @property
    def scrap_share_pct(self):
        """Scrap in the metallic charge (hot metal + scrap), mass %."""
        return 100.0 * self.scrap.mass_kg / (self.scrap.mass_kg + self.hot_metal.mass_kg)

    @property
    def yield_pct(self):
        """Steel per metallic charge (hot metal + scrap), mass %."""
        return 100.0 * self.steel.mass_kg / (self.scrap.mass_kg + self.hot_metal.mass_kg)

    def per_t(self, name):
        """kg of an input or output per t of steel; for 'oxygen' and 'gas' Nm3 per t of steel."""
        records = {**self.inputs, **self.outputs}
        if name not in records:
            raise InputError(f"charge: {shown(name)} was asked for; it has {', '.join(records)}.")
        record = records[name]
        amount = record.total_nm3 if isinstance(record, Gas) else record.mass_kg
        return 1000.0 * amount / self.steel.mass_kg

    def blow_minutes(self, flow_nm3_min):
        """Minutes to blow the oxygen at a flow in Nm3/min."""
        return self.oxygen_nm3 / positive("oxygen flow", flow_nm3_min, "Nm3/min", zero=False)

    def heat_account(self):
        """Heat in and heat out, MJ, as two dicts of item to amount; their sums agree as closely as
        the closure of the heat says.

        In: the hot metal's heat (above its elements at 25 degC, heats of solution included) and the
        heat of each reaction at 298.15 K.
        Out: what the products carry above 25 degC, the breaking up of carbonates and iron oxides
        charged, the losses.
        """
        return heat_account(self)

    def scaled(self, factor):
        """The same heat, all masses times factor (more than zero). Raises InputError."""
        return super().scaled(positive("factor", factor, zero=False))

    def for_tap(self, tap_t):
        """The same heat scaled to a mass of steel tapped, t."""
        return self.scaled(
            1000.0 * positive("steel tapped", tap_t, "t", zero=False) / self.steel.mass_kg
        )

    def _shown(self):
        title, head, rows = super()._shown()
        figures = (
            (self.scrap_share_pct, "% of scrap in the charge"),
            (self.per_t("oxygen"), "Nm3 of oxygen per t of steel"),
            (self.yield_pct, "% of the charge is steel"),
        )
        return f"{title}: {', '.join(f'{figure(x)} {words}' for x, words in figures)}", head, rows


def _pairs(what, given):
    """Species and shares of an analysis given by the user."""
    if not hasattr(given, "items"):
        raise InputError(
            f"{what}: {shown(given)} was given; shares by symbol such as {{'C': 4.5, 'Si': 0.4}} "
            "are needed."
        )
    return given.items()


def _as_material(given, works, what):
    """A Material from a key of the profile, a Material, or pairs of (key or Material, share)."""
    if isinstance(given, Material):
        return given
    if isinstance(given, str):
        return material(given, works)
    try:
        return blend(
            [
                (_as_material(m, works, what), x)
                for m, x in (given.items() if hasattr(given, "items") else given)
            ],
            what,
        )
    except (TypeError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise InputError(
            f"{what}: {shown(given)} was given; a key of the works profile, a Material, or shares "
            "of them are needed."
        ) from None


def solve(
    works=None,
    *,
    find="scrap",
    hot_metal_kg=1000.0,
    hot_metal_pct=None,
    hot_metal_temp_c=None,
    scrap="heavy_scrap",
    scrap_kg=None,
    coolant="ore",
    coolant_kg=0.0,
    fuel="coke",
    fuel_kg=0.0,
    lime="lime",
    lime_kg=None,
    dolomite="burnt_dolomite",
    dolomite_kg=None,
    end_temp_c=None,
    end_pct=None,
    basicity=None,
    mgo_pct=None,
    feo_pct=None,
    fe2o3_pct=None,
    co2_pct=None,
    gas_temp_c=None,
    dust_fe_kg_t=None,
    ejected_kg_t=None,
    heat_mj_t=None,
    lining_mgo_kg_t=None,
    sulphur_to_slag_pct=None,
    undissolved_pct=0.0,
    oxygen_pct=None,
    other_data_mj_t=0.0,
    infeasible="refuse",
):
    """Solve the charge of a heat: what is asked for by `find`, with lime, dolomite, oxygen, steel,
    slag and gas.

    works: a Profile (default: the one found by load_profile()); it gives every value left at None.
    find: 'scrap' (kg for this hot metal and end temperature); with scrap_kg given: 'coolant' or
    'fuel' (kg), 'temperature' (at the end, degC).
    hot_metal_kg; hot_metal_pct (mass % of elements); hot_metal_temp_c. scrap, coolant, fuel, lime,
    dolomite: key of the profile, a Material, or shares of them.
    scrap_kg, coolant_kg, fuel_kg: masses where they are not asked for. lime_kg, dolomite_kg: given
    masses instead of the aims of basicity and MgO.
    end_temp_c (not used where it is asked for), end_pct: aims of the steel (C, Mn, P, Si; others
    such as O if given; not S; what is not named in it is zero).
    basicity: CaO/SiO2. mgo_pct, feo_pct, fe2o3_pct: of the slag, %. undissolved_pct: share of the
    CaO of the lime that stays in lumps; the four aims are then those of the liquid slag, and the
    lumps are in the slag besides.
    co2_pct: share of the burnt carbon that leaves as CO2. gas_temp_c. dust_fe_kg_t, ejected_kg_t,
    lining_mgo_kg_t: kg per t of steel.
    heat_mj_t: MJ lost per t of steel. other_data_mj_t: MJ per t taken (below zero: given) by other
    data than the kit's, see other_data.solve_by().
    sulphur_to_slag_pct: share of the sulphur. oxygen_pct: volume % of O2, N2, Ar in the oxygen.
    infeasible: 'refuse' raises InputError with the reason; 'mark' (for arrays) gives
    Charge.feasible as a mask and clips what is impossible to zero.
    All numbers may be arrays that broadcast: one heat or 100 000. Returns a Charge. Raises
    InputError.
    Valid: end temperature 1500 to 1726 degC. Source: element balances and enthalpies; works values
    are the profile's.
    """
    works = load_profile() if works is None else works
    if not isinstance(works, Profile):
        raise InputError(
            f"works: {shown(works)} was given; a profile is needed, such as "
            "load_profile('works.toml')."
        )
    if find not in FIND:
        raise InputError(f"find: {shown(find)} was given; allowed are {', '.join(FIND)}.")
    if infeasible not in ("refuse", "mark"):
        raise InputError(f"infeasible: {shown(infeasible)} was given; allowed are refuse, mark.")

    def default(value, section, key):
        return getattr(getattr(works, section), key) if value is None else value

    p = {
        "basicity": between("basicity aim", default(basicity, "slag", "basicity"), 0.5, 6.0),
        "mgo": between("MgO aim", default(mgo_pct, "slag", "mgo_pct"), 0.0, 20.0, "%"),
        "feo": between("FeO in slag", default(feo_pct, "slag", "feo_pct"), 0.0, 60.0, "%"),
        "fe2o3": between("Fe2O3 in slag", default(fe2o3_pct, "slag", "fe2o3_pct"), 0.0, 40.0, "%"),
        "co2": between("CO2 share", default(co2_pct, "gas", "co2_pct"), 0.0, 100.0, "%") / 100.0,
        "gas_temp": between(
            "gas temperature",
            default(gas_temp_c, "gas", "temp_c"),
            1230.0,
            1900.0,
            "°C",
            "Was kelvin given?",
        ),
        "dust": between(
            "iron to dust", default(dust_fe_kg_t, "losses", "dust_fe_kg_t"), 0.0, 60.0, "kg/t"
        )
        / 1000.0,
        "ejected": between(
            "metal ejected", default(ejected_kg_t, "losses", "ejected_kg_t"), 0.0, 100.0, "kg/t"
        )
        / 1000.0,
        "loss": between(
            "heat loss", default(heat_mj_t, "losses", "heat_mj_t"), 0.0, 500.0, "MJ/t"
        ),  # MJ/t is kJ/kg
        "other_data": finite("heat by other data", other_data_mj_t, "MJ/t"),
        "lining": between(
            "magnesia from the lining",
            default(lining_mgo_kg_t, "slag", "lining_mgo_kg_t"),
            0.0,
            20.0,
            "kg/t",
        )
        / 1000.0,
        "undissolved": between("undissolved lime", undissolved_pct, 0.0, 60.0, "%"),
        "sulphur": between(
            "sulphur to slag",
            default(sulphur_to_slag_pct, "slag", "sulphur_to_slag_pct"),
            0.0,
            100.0,
            "%",
        )
        / 100.0,
    }
    p["loss"] = p["loss"] + p["other_data"]  # to the balance both are heat that goes
    hot_metal = LiquidMetal(
        positive("hot metal", hot_metal_kg, "kg", zero=False),
        {
            e: positive(f"{e} in hot metal", v, "%")
            for e, v in _pairs("hot metal", default(hot_metal_pct, "hot_metal", "analysis_pct"))
        },
        between(
            "temperature of hot metal",
            default(hot_metal_temp_c, "hot_metal", "temp_c"),
            1130.0,
            1500.0,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        ),
    )
    aims = {"Si": 0.0, "Mn": 0.0, "P": 0.0, "C": 0.0} | dict(
        _pairs("steel", default(end_pct, "end_point", "analysis_pct"))
    )
    if "S" in aims:
        raise InputError(
            "S at the end of the blow: it is no aim; what stays in the steel follows from "
            "sulphur_to_slag_pct."
        )
    aims = {
        e: between(f"{e} at the end of the blow", v, 0.0, 5.0, "%")
        for e, v in aims.items()
        if e != "Fe"
    }
    oxygen_pct = works.oxygen_pct if oxygen_pct is None else oxygen_pct
    blown = {
        s: positive(f"{s} in the oxygen", v, "%") / 100.0 for s, v in _pairs("oxygen", oxygen_pct)
    }
    wrong = np.any(np.abs(np.asarray(sum(blown.values())) - 1.0) > 1e-6) or np.any(
        np.asarray(blown.get("O2", 0.0)) < 0.2
    )
    if wrong or blown.keys() - {"O2", "N2", "Ar"}:
        raise InputError(
            f"oxygen: {shown(dict(oxygen_pct))} was given; shares of O2 (20 % or more), N2 and Ar "
            "that add up to 100 % are needed."
        )
    end_temp = default(end_temp_c, "end_point", "temp_c")
    if find != "temperature":
        end_temp = between(
            "end temperature",
            end_temp,
            TEMP_LOW_C,
            TEMP_HIGH_C,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        )

    solids = {"scrap": (scrap, scrap_kg), "coolant": (coolant, coolant_kg), "fuel": (fuel, fuel_kg)}
    if find != "scrap" and scrap_kg is None:
        raise InputError(f"scrap: its mass is needed when {find} is asked for; give scrap_kg.")
    if (
        find in solids
        and solids[find][1] is not None
        and np.any(np.asarray(solids[find][1]) != 0.0)
    ):
        raise InputError(
            f"{find}: {shown(solids[find][1])} kg was given, but {find} is what is asked for; "
            f"leave {find}_kg out."
        )
    solids = {name: (_as_material(m, works, name), kg) for name, (m, kg) in solids.items()}
    fixed = {name: Solid(kg, m) for name, (m, kg) in solids.items() if name != find}
    variable = solids[find][0] if find in solids else None
    fluxes = {
        "lime": _as_material(lime, works, "lime"),
        "dolomite": _as_material(dolomite, works, "dolomite"),
    }
    given = {
        flux: None if kg is None else positive(flux, kg, "kg")
        for flux, kg in (("lime", lime_kg), ("dolomite", dolomite_kg))
    }

    numbers = [
        hot_metal.mass_kg,
        hot_metal.temp_c,
        end_temp,
        *hot_metal.analysis_pct.values(),
        *aims.values(),
        *blown.values(),
        *p.values(),
        *given.values(),
    ]
    for solid in fixed.values():
        numbers += [solid.mass_kg, solid.material.enthalpy_kj_kg, *solid.material.per_kg.values()]
    common_shape("charge", *(x for x in numbers if isinstance(x, np.ndarray)))
    balance = Balance(hot_metal, fixed, variable, fluxes, aims, blown, p)
    unknowns, equations = balance.mass_equations(given)
    if find != "temperature":
        solution = balance.solve_heat(unknowns, equations, end_temp)
    else:
        solution = linear_solve(unknowns, equations)
    faults = faults_of_masses(
        balance, solution, find, lambda: linear_solve(unknowns, [e.without("x") for e in equations])
    )
    solution = {
        k: v
        if isinstance(v, float) and v - v == 0.0
        else plain(np.nan_to_num(v, posinf=0.0, neginf=0.0))
        for k, v in solution.items()
    }
    if find == "temperature":
        end_temp, cold, hot = balance.end_temperature(solution)
        faults += faults_of_temperature(cold, hot)
    steel_pct = balance.metal_pct(solution)
    faults.append(fault_of_freezing(steel_pct, end_temp))
    feasible = refuse_or_mark(faults, infeasible)
    return _charge(balance, solution, steel_pct, end_temp, find, variable, feasible)


def _charge(balance, solution, pct, end_temp, find, variable, feasible):
    """The Charge of a solution. Rounding below zero, and what infeasible heats would need, is cut
    to zero.
    """
    kg = {k: plain(np.maximum(v, 0.0)) for k, v in solution.items()}
    masses = dict(balance.fixed) | (
        {find: Solid(kg["x"], variable)} if variable is not None else {}
    )
    p = balance.p
    o2_nm3 = kg["oxygen"] / molar_mass("O2") * molar_volume_nm3_kmol()
    to_nm3 = {s: molar_volume_nm3_kmol() / molar_mass(s) for s in balance.gases}
    steel = LiquidMetal(kg["steel"], pct, end_temp)
    oxides = {o: plain(np.maximum(form.at(solution), 0.0)) for o, form in balance.oxides.items()}
    if "P2O5" in oxides and not np.all(
        feasible
    ):  # phosphorus without lime has no heat: left out of heats that can't be
        oxides["P2O5"] = plain(
            np.where(
                feasible | np.asarray(balance.lime_left_kmol(solution) >= 0.0), oxides["P2O5"], 0.0
            )
        )
    inputs = {
        "hot metal": balance.hot_metal,
        **{name: masses[name] for name in ("scrap", "coolant", "fuel")},
        **{name: Solid(kg[name], m) for name, m in balance.fluxes.items()},
        "oxygen": Gas(
            {s: o2_nm3 * share / balance.blown["O2"] for s, share in balance.blown.items()}, 25.0
        ),
        "lining": Condensed({"MgO": p["lining"] * kg["steel"]}, end_temp),
    }
    outputs = {
        "steel": steel,
        "ejected": LiquidMetal(p["ejected"] * kg["steel"], pct, end_temp),
        "slag": Slag(oxides, end_temp),
        "gas": Gas(
            {
                s: plain(np.maximum(form.at(solution), 0.0) * to_nm3[s])
                for s, form in balance.gases.items()
            },
            p["gas_temp"],
        ),
        "dust": Dust(
            {"FeO(liquid)": plain(np.maximum(balance.dust_feo.at(solution), 0.0))}, p["gas_temp"]
        ),
    }
    lumps = plain(np.maximum(balance.lumps.at(solution), 0.0))
    return Charge(
        inputs,
        outputs,
        heat_loss_kj=(p["loss"] - p["other_data"]) * kg["steel"],
        find=find,
        feasible=feasible,
        undissolved_kg=lumps,
        other_data_kj=p["other_data"] * kg["steel"],
    )
