"""Where everything of a heat is at an instant of the blow: metal, slag, gas and temperature from a
handful of extents, with nothing lost.

The state of a blow is what has melted, dissolved and reacted. The masses follow from it by the
balance of each element, iron oxide by that of oxygen, temperature by that of enthalpy (elements at
298.15 K). Closure is so built in here, and tested on the records, which know nothing of this file.
All of it but the limits (lime short of silica, sulphide) is linear in the state, so one matrix does
it. Arrays end in (instants, heats); amounts are kmol unless named otherwise.
"""

import numpy as np

from ..base import InputError, atomic_weight, formula, kelvin, molar_mass, molar_volume_nm3_kmol
from ..thermo import carbonate_parts, enthalpy, oxygen_atoms
from .rows import (
    CARBON,
    CATIONS,
    DISSOLVED,
    DISSOLVES,
    DUST,
    EXCHANGED,
    FED,
    FLUX_OXIDES,
    GAS,
    GASES,
    HEAT,
    HEAT_ROWS,
    IN_METAL,
    IN_SLAG,
    KNOWN,
    LIMITS,
    LINING,
    LUMPS,
    METAL,
    METAL_ROWS,
    OXYGEN,
    PER_CATION,
    POST_COMBUSTION,
    SCRAP,
    SLAG,
    SLAG_KG,
    SLAG_NAMES,
    SLAG_ROWS,
    WEIGHT,
    bent,
    product,
    weighted,
)
from .temperature import at_zero


def _split(material):
    """One kg of a solid shared out: (metal, slag): kmol by element; oxygen: kmol O beyond the
    oxides of slag; gas: kmol by species; kJ.

    Phosphorus goes to the metal first, also that of ores and fluxes; the carbon of carbonates
    leaves as CO2 at once.
    """
    kg = {s: np.asarray(pct) / 100.0 for s, pct in material.analysis_pct.items()}
    return *_shared(kg), material.enthalpy_kj_kg


def _shared(species_kg):
    """kg by species shared out, as in _split()."""
    metal, slag, gas, oxygen = {}, {}, {}, 0.0
    for species, kg in species_kg.items():
        kmol = np.asarray(kg) / molar_mass(species)
        for part, n in (carbonate_parts(species) or {species: 1.0}).items():
            if part == "CO2":
                gas["CO2"] = gas.get("CO2", 0.0) + kmol * n
                continue
            atoms = formula(part)
            for element, count in atoms.items():
                count = n * count
                if element == "O":
                    oxygen = oxygen + kmol * count
                    continue
                if element in ("N", "H"):
                    to, name, count = gas, element + "2", 0.5 * count
                elif element in ("Ca", "Mg") or (
                    "O" in atoms and element in CATIONS and element != "P"
                ):
                    to, name = slag, element
                    oxygen = oxygen - kmol * count * oxygen_atoms(element)
                else:
                    to, name = metal, element
                to[name] = to.get(name, 0.0) + kmol * count
    return metal, slag, oxygen, gas


class Instant:
    """Amounts at instants, kmol, arrays (rows, instants, heats). metal: ELEMENTS. slag: SLAG_NAMES,
    dissolved. lumps: oxides of flux not yet dissolved. compounds: of metal and slag, in which heat
    is counted. gas: GASES made so far. dust (FeO), lining (MgO). metal_kg. heat_kj: enthalpy that
    metal, slag and lumps hold together, lining apart."""

    def __init__(self, account, out):
        rows = np.concatenate([out, bent(product(LIMITS, out), *account.bend)])
        self.metal, self.slag, held = (
            product(weights, rows) for weights in (METAL_ROWS, SLAG_ROWS, HEAT_ROWS[METAL.stop :])
        )
        self.compounds = np.concatenate([self.metal, held])
        self.lumps, self.gas = product(PER_CATION, out[LUMPS]), out[GAS]
        self.heat_kj, self.dust, self.lining = out[HEAT], out[DUST], out[LINING]
        self.metal_kg = weighted(WEIGHT, self.metal)

    def pct(self, element):
        """Mass % of an element in the metal."""
        return self.metal[IN_METAL[element]] * (100.0 * WEIGHT[IN_METAL[element]]) / self.metal_kg

    def oxides_kg(self):
        """kg of each component of the dissolved slag."""
        return dict(zip(SLAG_NAMES, self.slag * SLAG_KG[:, None, None], strict=True))

    def lumps_kg(self):
        """kg of each oxide of flux that has not dissolved."""
        kg = self.lumps * SLAG_KG[: len(FLUX_OXIDES), None, None]
        return dict(zip(FLUX_OXIDES, kg, strict=True))


class Account:
    """The balance of a heat, or of n heats, along the blow.

    charge: the charge.Charge that is blown; minutes: its planned length, over which its heat loss
    is spread; n: number of heats.
    reacts: elements that leave the metal, by the rows of the state (rows.py, size of them); row:
    the row of each.
    """

    def __init__(self, charge, n, minutes):
        def flat(x):
            return np.broadcast_to(np.asarray(x, float).reshape(-1), (n,))[None, :]

        parts = {name: _split(charge.inputs[name].material) for name in ("scrap", *FED)}
        hot = {e: kg / atomic_weight(e) for e, kg in charge.hot_metal.element_kg().items()}
        self.planned_kg = {name: flat(charge.inputs[name].mass_kg) for name in ("scrap", *FED)}
        others = [
            e
            for e in CATIONS
            if e not in ("Si", *EXCHANGED)
            and any(
                np.any(np.asarray(m.get(e, 0.0)) > 0)
                for m in (hot, *(p[0] for p in parts.values()))
            )
        ]
        self.reacts = ("C", *EXCHANGED, "Si", *others)
        self.row = {e: i for i, e in enumerate(self.reacts, CARBON)}
        self.atoms = {e: oxygen_atoms(e) for e in self.reacts}
        self.size = CARBON + len(self.reacts)
        self.columns = {name: self.size + i for i, name in enumerate(KNOWN)}

        blown = {
            s: np.asarray(v) / np.asarray(charge.oxygen.nm3["O2"])
            for s, v in charge.oxygen.nm3.items()
        }  # Nm3 per Nm3 of O2
        T_gas = kelvin(charge.gas.temp_c)
        gas_heat = {s: enthalpy(s, T_gas, "g") for s in GASES}
        unused = np.asarray(charge.gas.nm3.get("O2", 0.0)) / charge.oxygen.nm3["O2"]
        self.unused = flat(unused)  # share of the O2 blown that leaves with the gas
        self.entries = {}
        hot_gas = {e: hot[e] for e in ("N", "H") if np.any(np.asarray(hot.get(e, 0.0)) > 0)}
        self._fill(
            parts,
            blown,
            unused,
            hot_gas,
            gas_heat,
            enthalpy("FeO", T_gas, "liquid", supercooled=True),
        )
        wide = any(np.size(v) > 1 for v in self.entries.values())
        self.matrix = np.zeros((LINING + 1, self.columns["spent"] + 1, n if wide else 1))
        for (row, column), value in self.entries.items():
            self.matrix[row, column] = np.asarray(value).reshape(-1)
        del self.entries

        self.base = np.zeros((LINING + 1, 1, n))
        for e, kmol in hot.items():
            if e in IN_METAL:
                self.base[IN_METAL[e]] = flat(kmol)
        self.base[HEAT] = flat(charge.hot_metal.enthalpy_kj())
        for name in charge.plan.slags():  # there from the start
            liquid = charge.inputs[name]
            metal, slag, oxygen, _ = _shared(liquid.oxides_kg)
            if np.any(np.asarray(oxygen) < 0.0):
                raise InputError(
                    f"{name}: it holds sulphide and {liquid.oxides_kg.get('FeO', 0.0):.3g} kg FeO; "
                    "a blow counts its sulphur in the metal, and needs 1 kg FeO for each kg CaS."
                )
            for e, kmol in metal.items():
                self.base[IN_METAL[e]] += flat(kmol)
            for e, kmol in slag.items():
                self.base[SLAG.start + IN_SLAG[e]] += flat(kmol)
            self.base[OXYGEN] += flat(oxygen)
            self.base[HEAT] += flat(liquid.enthalpy_kj())

        # what the charge says of oxygen, dust, lining, losses, and the state of its slag
        self.o2_planned = flat(charge.oxygen.nm3["O2"]) / molar_volume_nm3_kmol()
        self.minutes = flat(minutes)
        self.loss_kj_min = flat(charge.heat_loss_kj) / self.minutes
        self.dust_per_o2 = flat(charge.dust.mass_kg) / molar_mass("FeO") / self.o2_planned
        self.lining_per_o2 = flat(charge.lining.mass_kg) / molar_mass("MgO") / self.o2_planned
        oxides = charge.slag.oxides_kg
        feo, fe2o3 = (flat(oxides.get(o, 0.0)) / molar_mass(o) for o in ("FeO", "Fe2O3"))
        self.ferric = (
            2.0 * fe2o3 / np.where(feo + fe2o3 > 0, feo + 2.0 * fe2o3, 1.0)
        )  # share of iron that is Fe3+
        sulphur = sum(
            flat(r.element_kg().get("S", 0.0)) for r in charge.inputs.values()
        ) / atomic_weight("S")
        lime = sum(self.planned_kg[f] * flat(parts[f][1].get("Ca", 0.0)) for f in FED)
        lime_planned = np.where(lime > 0, lime, 1.0)
        sulphide = flat(oxides.get("CaS", 0.0)) / molar_mass("CaS")
        per_lime = sulphide / np.where(sulphur > 0, sulphur, 1.0) / lime_planned
        self.bend = per_lime, lime_planned, 1.0 / (1.0 + 0.5 * self.ferric), self.ferric

    def _fill(self, parts, blown, unused, hot_gas, gas_heat, dust_heat):
        """The entries of the matrix, {(row, column): number or array of heats}."""

        def add(row, column, x):
            self.entries[row, column] = self.entries.get((row, column), 0.0) + np.asarray(x)

        def add_gas(species, column, kmol):
            add(GAS.start + GASES.index(species), column, kmol)
            add(HEAT, column, -np.asarray(kmol) * gas_heat[species])

        for name, (metal, slag, oxygen, gas, heat) in parts.items():
            at = SCRAP if name == "scrap" else self.columns[name]
            for e, kmol in metal.items():
                add(IN_METAL[e], at, kmol)
            for species, kmol in gas.items():
                add_gas(species, at, kmol)
            add(OXYGEN, at, oxygen)
            add(HEAT, at, heat)
            dissolves = DISSOLVES.get(name)
            for e, kmol in slag.items():
                if dissolves is None:
                    add(SLAG.start + IN_SLAG[e], at, kmol)
                else:
                    add(LUMPS.start + IN_SLAG[e], at, kmol)
                    add(LUMPS.start + IN_SLAG[e], dissolves, -kmol)
                    add(SLAG.start + IN_SLAG[e], dissolves, kmol)
        for e in self.reacts:
            add(IN_METAL[e], self.row[e], -1.0)
            add(OXYGEN, self.row[e], -self.atoms[e])
            if e == "C":
                add_gas("CO", self.row[e], 1.0)
            else:
                add(SLAG.start + IN_SLAG[e], self.row[e], 1.0)
        add(IN_METAL["O"], DISSOLVED, 1.0)
        add(OXYGEN, DISSOLVED, -1.0)
        add(OXYGEN, POST_COMBUSTION, -1.0)
        add_gas("CO", POST_COMBUSTION, -1.0)
        add_gas("CO2", POST_COMBUSTION, 1.0)
        o2, cold = self.columns["o2"], kelvin(25.0)
        add(OXYGEN, o2, 2.0 * (1.0 - unused))
        add_gas("O2", o2, unused)
        add(HEAT, o2, sum(share * enthalpy(s, cold) for s, share in blown.items()))
        for s, share in blown.items():
            if s != "O2":
                add_gas(s, o2, share)
        dust = self.columns["dust"]
        for row, x in (
            (IN_METAL["Fe"], -1.0),
            (OXYGEN, -1.0),
            (DUST, 1.0),
            (HEAT, -np.asarray(dust_heat)),
        ):
            add(row, dust, x)
        add(SLAG.start + IN_SLAG["Mg"], self.columns["lining"], 1.0)
        add(LINING, self.columns["lining"], 1.0)
        add(HEAT, self.columns["loss"], -1.0)
        for (
            element,
            kmol,
        ) in hot_gas.items():  # nitrogen and hydrogen of the hot metal leave bit by bit
            add(IN_METAL[element], self.columns["spent"], -np.asarray(kmol))
            add_gas(element + "2", self.columns["spent"], 0.5 * np.asarray(kmol))

    def known(self, time_min, o2, fed):
        """Rows of KNOWN at instants. time_min, o2 (kmol blown until then), fed (kg by name): arrays
        (instants, heats).
        """
        spent = np.minimum(o2 / self.o2_planned, 1.0)
        return np.stack(
            [
                *(fed[name] for name in FED),
                o2,
                self.dust_per_o2 * o2,
                self.lining_per_o2 * o2,
                self.loss_kj_min * time_min,
                spent,
            ]
        )

    def _times(self, known, state):
        u = np.concatenate([state, known])
        if self.matrix.shape[2] == 1:
            return product(self.matrix[:, :, 0], u)
        return np.einsum("run,utn->rtn", self.matrix, u)

    def gas_rates(self, known_rates, rates):
        """kmol per minute of each of GASES, as a dict, from the rates of known() and of the
        state.
        """
        return dict(zip(GASES, self._times(known_rates, rates)[GAS], strict=True))

    def at(self, known, state):
        """The Instant of a state (rows, instants, heats), with the rows of known()."""
        return Instant(self, self._times(known, state) + self.base)

    def temperature(self, now, exact=False):
        """Temperature of the bath, K, at which metal and slag hold the enthalpy they must. Within
        0.02 K from a table; exact: to rounding.

        Held to the limits of a liquid metal; where that happens, the heat does not close.
        """
        return at_zero(lambda table: product(table, now.compounds) - now.heat_kj, exact)
