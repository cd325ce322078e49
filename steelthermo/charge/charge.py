"""The charge of a heat: mass of every element and enthalpy closed together, by one linear solve.

Every amount is a linear form of the unknown masses (the material asked for, lime, dolomite, steel,
slag, oxygen), because the end point, the basicity, the MgO and the iron oxides of the slag and the
CO2 share are aims. Absolute enthalpies (elements at 298.15 K) stand on both sides, so no heat of
reaction is needed and none is counted twice. What is where: C, Mn, P, Si in the steel are aims; Si,
Al, Ti, V leave as oxides; Cr, Ni, Cu stay in the metal;
carbonates give up their CO2 unburnt, the carbon of metal and fuel burns to CO and CO2 in the share
given; hydrogen and nitrogen leave as H2 and N2.

What the answer is worth: other data that one could defend, taken one at a time, move the scrap of a
usual heat from 22.3 to between 21.4 and 22.6 % of the charge, and 20 % on all heat contents of the
slag by 1.5 % more; the works' assumed losses, dust, gas temperature and CO2 share move it by 0.6 to
2.0 % (tests/charge/test_charge.py).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Annotated

import numpy as np

from ..base import (
    InputError,
    between,
    common_shape,
    figure,
    linear_solve,
    molar_mass,
    molar_volume_nm3_kmol,
    one_of,
    plain,
    positive,
    shown,
)
from ..streams import (
    Condensed,
    Dust,
    Gas,
    LiquidMetal,
    Slag,
    Solid,
    Stage,
)
from ..works import Profile
from .account import heat_account
from .balance import FREE, Balance
from .checks import checks
from .faults import fault_of_freezing, faults_of_masses, faults_of_temperature, refuse_or_mark
from .iron_oxide import aims_of
from .plan import Plan, plan_of

FIND = ("scrap", "coolant", "fuel", "temperature", "masses")


@dataclass(frozen=True, repr=False)
class Charge(Stage):
    """A solved heat: a Stage. Masses in kg, volumes in Nm3; scalars or arrays of one shape.

    Parameters
    ----------
    inputs : dict
        hot metal, scrap, coolant, fuel, lime, dolomite, oxygen, lining, slags that came.
    outputs : dict
        steel, ejected (with beads and skull), slag, gas, dust (FeO), unburnt (fuel, if any).
    heat_loss_kj : float or array
        Lost through lining and mouth, and heat of post-combustion that the bath does not take.
    find : str
        What was asked for.
    feasible : bool or array of bool
        False where a heat cannot be.
    undissolved_kg : float or array
        CaO of the slag that is left as lumps of lime.
    other_data_kj : float or array
        What the heat takes more by other data than the kit's (see solve_by): no loss, and zero as a
        rule.
    plan : Plan
        What it was solved from (masses as they were then).

    Examples
    --------
    >>> heat = solve(find="temperature", hot_metal_kg=1000.0, scrap_kg=280.0)
    >>> round(heat.temp_c), round(heat.steel.mass_kg)
    (1667, 1175)
    """

    title: str = "charge"
    find: str = "scrap"
    feasible: bool = True
    undissolved_kg: float = 0.0
    other_data_kj: float = 0.0
    plan: Plan | None = None
    _main_results = ("end_temp_c",)
    _extensive = (*Stage._extensive, "undissolved_kg", "other_data_kj")

    def heat_gained_kj(self) -> float:
        """Enthalpy of all outputs less that of all inputs, kJ, by the data of the heat."""
        return super().heat_gained_kj() + self.other_data_kj

    @property
    def oxygen_nm3(self) -> float:
        """Oxygen blown, Nm3, with its nitrogen and argon."""
        return self.oxygen.total_nm3

    @property
    def scrap_share_pct(self) -> float:
        """Scrap in the metallic charge (hot metal + scrap), mass %."""
        return 100.0 * self.scrap.mass_kg / (self.scrap.mass_kg + self.hot_metal.mass_kg)

    @property
    def yield_pct(self) -> float:
        """Steel per metallic charge (hot metal + scrap), mass %."""
        return 100.0 * self.steel.mass_kg / (self.scrap.mass_kg + self.hot_metal.mass_kg)

    def per_t(self, name: str) -> float:
        """Amount of one input or output per t of steel.

        Parameters
        ----------
        name : str
            Name of an input or output, such as 'lime' or 'slag'.

        Returns
        -------
        float or array
            kg per t of steel; for 'oxygen' and 'gas' Nm3 per t of steel.

        Raises
        ------
        InputError
            For a name that the heat does not have.

        Examples
        --------
        >>> round(solve().per_t("oxygen"), 1)
        51.7
        """
        records = {**self.inputs, **self.outputs}
        if name not in records:
            raise InputError(f"charge: {shown(name)} was asked for; it has {', '.join(records)}.")
        record = records[name]
        amount = record.total_nm3 if isinstance(record, Gas) else record.mass_kg
        return 1000.0 * amount / self.steel.mass_kg

    def checks(self) -> tuple:
        """Remarks of a melter on this heat, as sentences: see checks.checks()."""
        return checks(self)

    def blow_minutes(self, flow_nm3_min: float) -> float:
        """Minutes to blow the oxygen at a flow in Nm3/min."""
        return self.oxygen_nm3 / positive("oxygen flow", flow_nm3_min, "Nm3/min", zero=False)

    def heat_account(self) -> tuple[dict, dict]:
        """Heat in and heat out, item by item, as a melter would list it.

        Returns
        -------
        tuple of dict
            MJ by item: in (the hot metal's heat above its elements at 25 degC, heats of solution
            included, and the heat of each reaction at 298.15 K) and out (what the products carry
            above 25 degC, the breaking up of carbonates and iron oxides charged, the losses). The
            sums agree as closely as the closure of the heat says.

        Examples
        --------
        >>> come, go = solve().heat_account()
        >>> abs(sum(come.values()) - sum(go.values())) < 1e-6
        True
        """
        return heat_account(self)

    def scaled(self, factor: float) -> "Charge":
        """The same heat, all masses times factor (more than zero). Raises InputError."""
        return super().scaled(positive("factor", factor, zero=False))

    def for_tap(self, tap_t: float) -> "Charge":
        """The same heat scaled to a mass of steel tapped, t."""
        tap_t = between("steel tapped", tap_t, 1e-3, 1000.0, "t", "Tonnes are needed.")
        return self.scaled(1000.0 * tap_t / self.steel.mass_kg)

    def _shown(self):
        title, head, rows = super()._shown()
        figures = (
            (self.scrap_share_pct, "% of scrap in the charge"),
            (self.per_t("oxygen"), "Nm3 of oxygen per t of steel"),
            (self.yield_pct, "% of the charge is steel"),
        )
        return f"{title}: {', '.join(f'{figure(x)} {words}' for x, words in figures)}", head, rows


def solve(
    works: Profile | Plan | None = None,
    *,
    find: str = "scrap",
    free: str = "oxygen",
    infeasible: str = "refuse",
    **changes: Annotated[object, Plan],
) -> Charge:
    """Solve the charge of a heat: what `find` asks for, with lime, dolomite, oxygen, steel, slag
    and gas.

    All numbers may be arrays that broadcast: one heat or 100 000.

    Parameters
    ----------
    works : Profile or Plan, optional
        Default: the profile found by load_profile().
    find : {'scrap', 'coolant', 'fuel', 'temperature', 'masses'}
        kg of scrap for this hot metal and end temperature; or, with scrap_kg given, kg of coolant
        or fuel, or the temperature at the end, degC; or the masses alone at the end temperature
        given: the heat loss is then what closes the heat (below zero: heat that is missing).
    free : {'oxygen', 'FeO', 'unused oxygen', 'CO2 share'}
        What follows from the balance of oxygen: the oxygen to be blown; or, with oxygen_nm3 given,
        the iron oxides of the slag (their ratio is that of feo_pct and fe2o3_pct), the O2 that
        leaves with the gas, or the share of the burnt carbon that leaves as CO2.
    infeasible : {'refuse', 'mark'}
        'mark' (for arrays) gives Charge.feasible as a mask and clips what is impossible to zero.
    **changes
        Figures other than the works' own, by the names of the fields of Plan, such as
        hot_metal_temp_c, scrap_kg, end_temp_c (1500 to 1726 degC), basicity; hot_metal: a
        LiquidMetal in place of its mass, analysis and temperature; see plan_of().

    Returns
    -------
    Charge

    Raises
    ------
    InputError
        For a figure out of its range, and, with 'refuse', for a heat that cannot be, with the
        reason.

    References
    ----------
    Element balances and enthalpies; works values are the profile's.

    Examples
    --------
    >>> heat = solve(hot_metal_kg=160_000.0)
    >>> round(heat.scrap_share_pct, 1)
    22.2
    """
    plan = plan_of(works, **changes)
    one_of("find", find, FIND)
    if (one_of("free", free, FREE) == "oxygen") != (plan.oxygen_nm3 is None):
        raise InputError(
            "oxygen: oxygen_nm3 goes with free='FeO', 'unused oxygen' or 'CO2 share', and each of "
            f"them with it; free={free!r} was given {'without' if free != 'oxygen' else 'with'} it."
        )
    one_of("infeasible", infeasible, ("refuse", "mark"))
    masses = {name: getattr(plan, f"{name}_kg") for name in ("scrap", "coolant", "fuel")}
    if find != "scrap" and plan.scrap_kg is None:
        raise InputError(f"scrap: its mass is needed when {find} is asked for; give scrap_kg.")
    asked = masses.pop(find, None)
    if asked is not None and np.any(np.asarray(asked) != 0.0):
        raise InputError(
            f"{find}: {shown(asked)} kg was given, but {find} is what is asked for; leave "
            f"{find}_kg out, or ask for something else, such as find='temperature'."
        )
    fixed = {name: Solid(kg, getattr(plan, name)) for name, kg in masses.items()}
    variable = None if find in ("temperature", "masses") else getattr(plan, find)
    shape = common_shape("charge", *_arrays(plan, fixed))

    def solved(end):
        balance = Balance(plan, fixed, variable, free, end)
        unknowns, equations = balance.mass_equations()
        if variable is not None:
            solution = balance.solve_heat(unknowns, equations, plan.end_temp_c)
        else:
            solution = balance.solve(unknowns, equations)
        return balance, solution, unknowns, equations

    def tried(end):
        balance, solution, *_ = solved(end)
        temp = balance.end_temperature(solution)[0] if find == "temperature" else plan.end_temp_c
        return balance, solution, temp

    end_temp = plan.end_temp_c
    balance, solution, unknowns, equations = solved(
        aims_of(plan, tried, shape, find == "temperature")
    )
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
    if find != "masses":
        faults.append(fault_of_freezing(steel_pct, end_temp))
    feasible = refuse_or_mark(faults, infeasible)
    return _charge(balance, solution, steel_pct, end_temp, find, variable, feasible)


def _arrays(plan, fixed):
    """Every array that goes into a charge."""
    for x in (*vars(plan).values(), *fixed.values()):
        if isinstance(x, Solid):
            yield from _arrays_of(x.mass_kg, x.material.enthalpy_kj_kg, *x.material.per_kg.values())
        elif isinstance(x, Slag):
            yield from _arrays_of(x.temp_c, *x.oxides_kg.values())
        else:
            yield from _arrays_of(*(x.values() if isinstance(x, Mapping) else (x,)))


def _arrays_of(*numbers):
    return (x for x in numbers if isinstance(x, np.ndarray))


def _charge(balance, solution, pct, end_temp, find, variable, feasible):
    """The Charge of a solution. Rounding below zero, and what infeasible heats would need, is cut
    to zero.
    """
    kg = {k: plain(np.maximum(v, 0.0)) for k, v in solution.items()}
    masses = dict(balance.fixed) | (
        {find: Solid(kg["x"], variable)} if variable is not None else {}
    )
    plan = balance.plan
    o2_nm3 = (
        plain(np.maximum(balance.o2.at(solution), 0.0)) / molar_mass("O2") * molar_volume_nm3_kmol()
    )
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
    lost = (plan.ejected_kg_t + plan.skull_kg_t) / 1000.0
    lost = lost + plan.beads_pct / 100.0 * kg["slag"] / np.maximum(kg["steel"], 1e-12)
    inputs = {
        "hot metal": balance.hot_metal,
        **{name: masses[name] for name in ("scrap", "coolant", "fuel")},
        **({name: Solid(kg[name], m) for name, m in balance.fluxes.items()} | plan.slags()),
        "oxygen": Gas(
            {s: o2_nm3 * share / balance.blown["O2"] for s, share in balance.blown.items()}, 25.0
        ),
        "lining": Slag({"MgO": plan.lining_mgo_kg_t / 1000.0 * kg["steel"]}, end_temp),
    }
    outputs = {
        "steel": steel,
        "ejected": steel.scaled(lost),
        "slag": Slag(oxides, end_temp),
        "gas": Gas(
            {
                s: plain(np.maximum(form.at(solution), 0.0) * to_nm3[s])
                for s, form in balance.gases.items()
            },
            plan.gas_temp_c,
        ),
        "dust": Dust(
            {"FeO(liquid)": plain(np.maximum(balance.dust_feo.at(solution), 0.0))}, plan.gas_temp_c
        ),
    }
    lumps = plain(np.maximum(balance.lumps.at(solution), 0.0))
    if np.any(unburnt := np.maximum(balance.unburnt.at(solution), 0.0)):
        outputs["unburnt"] = Condensed({"C": plain(unburnt)}, plan.gas_temp_c)
    made = Charge(
        inputs,
        outputs,
        heat_loss_kj=plan.heat_mj_t * kg["steel"] + plain(balance.post_loss.at(solution)),
        find=find,
        feasible=feasible,
        plan=plan,
        undissolved_kg=lumps,
        other_data_kj=plan.other_data_mj_t * kg["steel"],
    )
    return replace(made, heat_loss_kj=-made.heat_gained_kj()) if find == "masses" else made


@lru_cache(maxsize=8)
def iron_oxides_of(works: Profile) -> tuple:
    """FeO and Fe2O3 of the slag of a works' usual heat: its own figures, or those of the law.

    Parameters
    ----------
    works : Profile

    Returns
    -------
    (FeO, Fe2O3), mass %

    Examples
    --------
    >>> [round(pct) for pct in iron_oxides_of(plan_of().works)]
    [16, 4]
    """
    slag = solve(works).slag.analysis_pct
    return slag["FeO"], slag["Fe2O3"]
