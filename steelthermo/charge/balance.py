"""The equations of a charge: every amount as a linear form of the unknown masses.

One of the things that oxygen goes to is left free: the oxygen itself, or with the oxygen blown
given the iron of the slag, the oxygen that leaves unused, or the carbon burnt to CO2.
"""

from functools import cache, partial

import numpy as np

from ..base import (
    Linear,
    add_up,
    atomic_weight,
    celsius,
    kelvin,
    linear_solve,
    mass_fractions,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    root_from_values,
)
from ..slag import flux_aims
from ..streams import OXIDES, melting
from ..thermo import (
    dissolved_enthalpy,
    elements_with,
    enthalpy,
    forms,
    share_lime,
)
from .off_gas import burning_co_kj_kmol

TEMP_LOW_C, TEMP_HIGH_C = (
    1500.0,
    1726.0,
)  # steel is liquid above, the heat of 2CaO.SiO2 is known below
_NODES_C = 0.5 * (TEMP_LOW_C + TEMP_HIGH_C) - 0.5 * (TEMP_HIGH_C - TEMP_LOW_C) * np.cos(
    np.pi * np.arange(7) / 6.0
)  # for end_temperature()
# what is left free, and the unknown that stands for it (kg): O2, iron of the slag's oxides, O2 in
# the gas, carbon burnt to CO2
FREE = {"oxygen": "oxygen", "FeO": "iron", "unused oxygen": "unused", "CO2 share": "to_co2"}

_TRIED = "iron oxides"  # kg, where shares of them in the slag are tried


@cache
def _nodes_k():
    return [kelvin(t) for t in _NODES_C.tolist()]


class Balance:
    """Amounts and equations of one heat (or an array of heats), kg and kJ, for charge.solve().

    plan: Plan. fixed: mapping of name to Solid. variable: the Material whose mass x is asked for,
    or None. free: a key of FREE. end: EndAims of iron_oxide.py.
    """

    def __init__(self, plan, fixed, variable, free, end):
        self.plan, self.fixed, self.variable, self.free = plan, fixed, variable, free
        self.hot_metal, self.end, self.aims = plan.hot_metal, end, end.steel_pct
        given = free == "FeO" or any(x is not None for x in (plan.iron_lost_kg, plan.iron_lost_pct))
        self.tried = end.tried_pct is not None and not given
        self.fluxes = {"lime": plan.lime, "dolomite": plan.dolomite}
        self.blown = {s: pct / 100.0 for s, pct in plan.oxygen_pct.items()}
        self.o2 = Linear({"oxygen": 1.0})
        if free != "oxygen":
            kg_nm3 = self.blown["O2"] * molar_mass("O2") / molar_volume_nm3_kmol()
            self.o2 = Linear({"": plan.oxygen_nm3 * kg_nm3})
        lost = (plan.ejected_kg_t + plan.skull_kg_t) / 1000.0
        self.metal = Linear({"steel": 1.0 + lost, "slag": plan.beads_pct / 100.0})
        self.liquids = (self.hot_metal, *plan.slags().values())  # what is charged liquid
        into = {}
        for liquid in self.liquids:
            for element, kg in liquid.element_kg().items():
                into.setdefault(element, []).append(Linear({"": kg}))
        carbonates, lost = [], []
        for unknown, mass, material in self._solids():
            for element, share in material.per_kg.items():
                into.setdefault(element, []).append(Linear({unknown: mass * share}))
            carbonates.append(Linear({unknown: mass * material.carbonate_c}))
            if material is plan.fuel:
                burns = material.per_kg.get("C", 0.0) - material.carbonate_c
                lost.append(Linear({unknown: mass * burns * (1.0 - plan.fuel_use_pct / 100.0)}))
        self.unburnt = add_up(lost)  # carbon of the fuel
        self.into = {e: add_up(forms) for e, forms in into.items()}
        self.carbonate_c = add_up(carbonates)
        self._share_out()

    def _solids(self):
        """(unknown, mass, material) of every solid; the unknown is '' where the mass is known, and
        the mass 1 where it is not.
        """
        yield from (("", solid.mass_kg, solid.material) for solid in self.fixed.values())
        if self.variable is not None:
            yield "x", 1.0, self.variable
        yield from ((name, 1.0, m) for name, m in self.fluxes.items())

    def _share_out(self):
        """Where each element goes: in_metal, oxides, gases, dust_feo (kg, linear forms)."""
        plan, into, nothing = self.plan, self.into, Linear({})
        self.in_metal = {e: self.metal * (pct / 100.0) for e, pct in self.aims.items()}
        stay = [e for e in elements_with(stays="yes") if e not in self.aims]
        self.in_metal |= {e: into[e] for e in stay if e in into}
        if self.end.cr_kept is not None and "Cr" in into:
            self.in_metal["Cr"] = into["Cr"] * self.end.cr_kept
        sulphur = into.get("S", nothing) * (plan.sulphur_to_slag_pct / 100.0)
        self.in_metal["S"] = into.get("S", nothing) - sulphur
        self.in_metal["Fe"] = self.metal - add_up(self.in_metal.values())
        self.oxides = {"CaO": nothing, "SiO2": nothing}
        for element, form in into.items():
            if element in ("Fe", "S", "C", "O", "H", "N", *stay):
                continue
            left = form - self.in_metal[element] if element in self.in_metal else form
            if element == "Ca":
                left = left - sulphur * (atomic_weight("Ca") / atomic_weight("S"))
            for oxide, share in forms(element).items():
                self.oxides[oxide] = left * (share / mass_fractions(oxide)[element])
        self.oxides["MgO"] = self.oxides.get("MgO", nothing) + Linear(
            {"steel": plan.lining_mgo_kg_t / 1000.0}
        )
        self.oxides["CaS"] = sulphur * (molar_mass("CaS") / atomic_weight("S"))
        self.lumps = Linear(
            {"lime": plan.undissolved_pct / 100.0 * self.fluxes["lime"].oxide_pct("CaO") / 100.0}
        )  # CaO that does not dissolve
        self.liquid = Linear({"slag": 1.0}) - self.lumps
        self.oxides |= self._iron_oxides()
        burnt = into.get("C", nothing) - self.carbonate_c - self.unburnt - self.in_metal["C"]
        self.burnt_c = burnt
        per_c = {s: molar_mass(s) / atomic_weight("C") for s in ("CO", "CO2")}
        self.gases = {
            "CO": burnt * ((1.0 - plan.co2_pct / 100.0) * per_c["CO"]),
            "CO2": burnt * (plan.co2_pct / 100.0 * per_c["CO2"]) + self.carbonate_c * per_c["CO2"],
        }
        if self.free == "CO2 share":
            to_co2 = Linear({"to_co2": 1.0})
            self.gases["CO"] = (burnt - to_co2) * per_c["CO"]
            self.gases["CO2"] = (to_co2 + self.carbonate_c) * per_c["CO2"]
        # heat of post-combustion that the bath does not take, kJ
        over = burning_co_kj_kmol(plan.gas_temp_c) / molar_mass("CO2")
        self.post_loss = (self.gases["CO2"] - self.carbonate_c * per_c["CO2"]) * (
            over * (1.0 - plan.post_heat_pct / 100.0)
        )
        if self.free == "unused oxygen":
            self.gases["O2"] = Linear({"unused": 1.0})
        elif np.any(np.asarray(plan.unused_o2_pct) > 0.0):
            self.gases["O2"] = self.o2 * (plan.unused_o2_pct / 100.0)
        for species in ("N2", "Ar"):  # carried by each kg of O2
            carried = (
                self.blown.get(species, 0.0)
                / self.blown["O2"]
                * molar_mass(species)
                / molar_mass("O2")
            )
            self.gases[species] = self.o2 * carried
        for element, species in (
            ("N", "N2"),
            ("H", "H2"),
        ):  # what the steel does not keep leaves with the gas
            if element in into or element in self.aims:
                self.gases[species] = (
                    self.gases.get(species, nothing)
                    + into.get(element, nothing)
                    - self.in_metal.get(element, nothing)
                )
        self.dust_feo = Linear({"steel": plan.dust_fe_kg_t / 1000.0 / mass_fractions("FeO")["Fe"]})

    def _iron_oxides(self):
        """FeO and Fe2O3 of the slag: as aimed at, or by the iron lost in them; their ratio stays
        that of the aims.
        """
        plan, share = self.plan, {"FeO": self.end.feo_pct, "Fe2O3": self.end.fe2o3_pct}
        if self.tried:
            return {oxide: Linear({_TRIED: pct}) for oxide, pct in share.items()}
        if self.free == "FeO":
            iron = Linear({"iron": 1.0})
        elif plan.iron_lost_kg is not None:
            iron = Linear({"": plan.iron_lost_kg})
        elif plan.iron_lost_pct is not None:
            iron = self.into["Fe"] * (plan.iron_lost_pct / 100.0)
        else:
            return {oxide: self.liquid * (pct / 100.0) for oxide, pct in share.items()}
        held = sum(pct * mass_fractions(oxide)["Fe"] for oxide, pct in share.items())
        none = np.asarray(held) <= 0.0  # then all of it counts as FeO
        per_kg = {oxide: pct / np.where(none, 1.0, held) for oxide, pct in share.items()}
        per_kg["FeO"] = per_kg["FeO"] + np.where(none, 1.0 / mass_fractions("FeO")["Fe"], 0.0)
        return {oxide: iron * plain(x) for oxide, x in per_kg.items()}

    def solve(self, unknowns, equations):
        """Solution of the equations; where the iron oxides are tried, for each share of them."""
        if not self.tried:
            return linear_solve(unknowns, equations)
        along = linear_solve(unknowns, equations, _TRIED)
        liquid = add_up(along[k] * x for k, x in self.liquid.c.items())
        per_kg = np.asarray(self.end.tried_pct) / 100.0
        kg = per_kg * liquid.c[""] / (1.0 - per_kg * liquid.c[_TRIED])
        solution = {k: form.at({_TRIED: kg}) for k, form in along.items()}
        return solution | {_TRIED: kg}

    def mass_equations(self):
        """Unknowns and the linear forms that must vanish, without the heat: iron, slag, lime,
        dolomite, oxygen. Masses of lime and dolomite given replace the aims of basicity (or CaO)
        and MgO.
        """
        plan, oxides = self.plan, self.oxides
        iron = self.into["Fe"] - self.in_metal["Fe"] - self.dust_feo * mass_fractions("FeO")["Fe"]
        iron = iron - add_up(oxides[o] * mass_fractions(o)["Fe"] for o in ("FeO", "Fe2O3"))
        equations = [iron, add_up(oxides.values()) - Linear({"slag": 1.0})]
        dissolved = oxides | {"CaO": oxides["CaO"] - self.lumps}
        aims = flux_aims(dissolved, plan.basicity, self.liquid, plan.mgo_pct)
        if plan.cao_pct is not None:
            aims["lime"] = dissolved["CaO"] - self.liquid * (plan.cao_pct / 100.0)
        for flux, kg in (("lime", plan.lime_kg), ("dolomite", plan.dolomite_kg)):
            given = None if kg is None else Linear({flux: 1.0, "": -np.asarray(kg, float)})
            equations.append(given or aims[flux])
        held = add_up(oxides[o] * mass_fractions(o).get("O", 0.0) for o in oxides) + add_up(
            self.gases[s] * mass_fractions(s)["O"] for s in ("CO", "CO2", "O2") if s in self.gases
        )
        held = (
            held + self.dust_feo * mass_fractions("FeO")["O"] + self.in_metal.get("O", Linear({}))
        )
        lining = Linear({"steel": plan.lining_mgo_kg_t / 1000.0 * mass_fractions("MgO")["O"]})
        equations.append(self.into.get("O", Linear({})) + self.o2 + lining - held)
        return ["lime", "dolomite", "steel", "slag", FREE[self.free]], equations

    def _charged(self):
        """Enthalpy of what is charged, kJ. Oxygen enters at 25 degC, where its enthalpy is zero but
        for the rounding of the NASA data.
        """
        cold = kelvin(25.0)
        blown = sum(
            share / self.blown["O2"] * enthalpy(s, cold) for s, share in self.blown.items()
        ) / molar_mass("O2")
        forms = [Linear({"": x.enthalpy_kj()}) for x in self.liquids] + [self.o2 * blown]
        return add_up(
            forms
            + [Linear({unknown: mass * m.enthalpy_kj_kg}) for unknown, mass, m in self._solids()]
        )

    def _gas_and_losses(self):
        """Enthalpy of gas and dust, and the losses, kJ: what does not depend on the end
        temperature.
        """
        T = kelvin(self.plan.gas_temp_c)
        forms = [form * (enthalpy(s, T) / molar_mass(s)) for s, form in self.gases.items()]
        dust = enthalpy("FeO", T, "liquid", supercooled=True) / molar_mass("FeO")
        losses = Linear({"steel": self.plan.heat_mj_t + self.plan.other_data_mj_t})
        coal = self.unburnt * (enthalpy("C", T) / atomic_weight("C"))
        return add_up([*forms, self.dust_feo * dust, losses, self.post_loss, coal])

    def _at_end(self, lime_short):
        """What is at the end temperature when the heat is over: pairs of kmol (linear form) and its
        enthalpy in kJ/kmol (a function of T).

        Metal and slag, less the lining, which the charge brings at that temperature. lime_short:
        True where the lime does not reach to bind all silica as 2CaO.SiO2.
        """
        out = [
            (form * (1.0 / atomic_weight(e)), partial(dissolved_enthalpy, e))
            for e, form in self.in_metal.items()
        ]
        slag = {o: form * (1.0 / molar_mass(o)) for o, form in self.oxides.items()}
        slag = share_lime(
            {"P2O5": Linear({})} | slag, lambda silica, half: half if lime_short else silica
        )
        del slag["CaO" if lime_short else "SiO2"]  # nothing of it is left
        slag["MgO"] = slag["MgO"] - Linear(
            {"steel": self.plan.lining_mgo_kg_t / 1000.0 / molar_mass("MgO")}
        )
        return out + [(form, partial(_heat, name, OXIDES.get(name))) for name, form in slag.items()]

    def heat_left(self, T, lime_short=False):
        """Enthalpy of what is charged less that of what leaves and the losses, kJ (linear form): it
        vanishes where the heat closes at T (K).
        """
        return (
            self._charged()
            - self._gas_and_losses()
            - add_up(form * heat(T) for form, heat in self._at_end(lime_short))
        )

    def lime_is_short(self, solution):
        """True where the slag holds less lime than 3CaO.P2O5 and 2CaO.SiO2 take."""
        return np.asarray(self._lime_spare_kmol(solution) < 0.0)

    def _lime_spare_kmol(self, solution):
        return self.lime_left_kmol(solution) - 2.0 * self._kmol("SiO2", solution)

    def lime_left_kmol(self, solution):
        """Lime that 3CaO.P2O5 leaves to the silica, kmol."""
        return self._kmol("CaO", solution) - 3.0 * self._kmol("P2O5", solution)

    def _kmol(self, oxide, solution):
        return self.oxides[oxide].at(solution) / molar_mass(oxide) if oxide in self.oxides else 0.0

    def solve_heat(self, unknowns, equations, temp_c):
        """Solution of masses and heat together at an end temperature, degC."""
        T = kelvin(temp_c)
        solution = self.solve(["x", *unknowns], [*equations, self.heat_left(T)])
        short = self.lime_is_short(solution)
        if short.any():
            other = self.solve(["x", *unknowns], [*equations, self.heat_left(T, lime_short=True)])
            holds = self.lime_is_short(other)
            # Where neither answer is what it was made for (by more than rounding) there is none: a
            # mass below zero says so, else NaN does.
            none = self._lime_spare_kmol(solution) < -1e-10 * np.asarray(self.hot_metal.mass_kg)
            lost = np.where(np.asarray(other["x"]) < 0.0, 1.0, np.nan)
            solution = {
                k: plain(np.where(short & (holds | none), np.where(holds, 1.0, lost) * other[k], v))
                for k, v in solution.items()
            }
        return solution

    def end_temperature(self, solution):
        """End temperature, degC, at which the heat closes, with masks of heats that would be colder
        or hotter than the range allows.

        Where it is out of range, the limit is returned.
        """
        short = self.lime_is_short(solution)
        given = (self._charged() - self._gas_and_losses()).at(solution)
        # Between the limits all enthalpies are smooth: the temperature as a polynomial of the heat
        # left over, through nodes at which they are single numbers for all heats, is exact to
        # rounding.
        amounts = {
            lime_short: [(form.at(solution), heat) for form, heat in self._at_end(lime_short)]
            for lime_short in {False, bool(short.any())}
        }
        rank = max(
            np.ndim(kmol)
            for kmol in (given, short, *(kmol for parts in amounts.values() for kmol, _ in parts))
        )

        def node(x):
            return np.reshape(x, (-1, *(1,) * rank))

        taken = {
            lime_short: sum(kmol * node([heat(T) for T in _nodes_k()]) for kmol, heat in parts)
            for lime_short, parts in amounts.items()
        }
        left = given - (
            np.where(short, taken[True], taken[False]) if True in taken else taken[False]
        )
        cold, hot = left[0] < 0, left[-1] > 0
        temp = np.clip(root_from_values(node(_NODES_C), left), TEMP_LOW_C, TEMP_HIGH_C)
        return plain(np.where(cold, TEMP_LOW_C, np.where(hot, TEMP_HIGH_C, temp))), cold, hot

    def metal_pct(self, solution):
        """Analysis of the steel, mass %. For heats that can't be (see faults), shares cut to less
        than 100 % together.
        """
        metal = np.asarray(self.metal.at(solution))
        metal = np.where(metal > 0, metal, 1.0)
        pct = {
            e: np.clip(100.0 * form.at(solution) / metal, 0.0, 100.0)
            for e, form in self.in_metal.items()
            if e != "Fe"
        }
        total = sum(pct.values())
        total = np.where(total > 100.0, total / 99.99, 1.0)
        return {e: plain(x / total) for e, x in pct.items()}


def _heat(species, phase, T):
    """Enthalpy of a compound of the liquid slag, J/mol, against the elements at 298.15 K."""
    return enthalpy(species, T, phase, supercooled=True, quiet=True) + melting(species, celsius(T))
