"""Where everything of a heat is at an instant of the blow: metal, slag, gas and temperature from a
handful of extents, with nothing lost.

The state of a blow is what has melted, dissolved and reacted. The masses follow from it by the
balance of each element, iron oxide by that of oxygen, temperature by that of enthalpy (elements at
298.15 K). Closure is so built in here, and tested on the records, which know nothing of this file.
All of it but the limits (lime short of silica, sulphide) is linear in the state, so one matrix does
it. Arrays end in (instants, heats); amounts are kmol unless named otherwise.
"""

from functools import cache

import numpy as np

from ..base import (
    atomic_weight,
    celsius,
    formula,
    kelvin,
    molar_mass,
    molar_volume_nm3_kmol,
    root_from_values,
)
from ..streams import OXIDES
from ..thermo import (
    burning,
    carbonate_parts,
    dissolved_enthalpy,
    elements_with,
    enthalpy,
    forms,
    oxygen_atoms,
    share_lime,
)

ELEMENTS = (*elements_with(), "N", "H")  # of the metal
CATIONS = tuple(  # of the slag, iron apart
    e for e in burning() if e not in ("C", "Fe", *elements_with(stays="yes"))
)
GASES = ("CO", "CO2", "N2", "Ar", "H2")
FED = ("lime", "dolomite", "coolant", "fuel")

TEMP_C = (1130.0, 1800.0)  # limits of a liquid metal
TEMP_K = tuple(kelvin(t) for t in TEMP_C)
# Slag counts at the bath's temperature within these. It forms in the hot spot, hotter than the
# early bath; below the lower limit 2CaO.SiO2 changes its phase (1437 degC) and data of liquid
# oxides end, above the upper one the data of 2CaO.SiO2 end.
SLAG_TEMP_C = (1450.0, 1726.0)

WEIGHT = np.array([atomic_weight(e) for e in ELEMENTS])
_OXIDES = tuple(o for e in CATIONS for o in forms(e))
_PER_CATION = np.array(  # kmol of each oxide from one of each cation
    [[forms(e).get(o, 0.0) / formula(o).get(e, 1.0) for e in CATIONS] for o in _OXIDES]
)
SLAG_NAMES = (*_OXIDES, "FeO", "Fe2O3", "CaS")
SLAG_KG = np.array([molar_mass(o) for o in SLAG_NAMES])

_SMALL = 200_000  # multiplications

# rows of what the matrix gives
METAL = slice(0, len(ELEMENTS))
SLAG = slice(METAL.stop, METAL.stop + len(CATIONS))
LUMPS = slice(SLAG.stop, SLAG.stop + len(CATIONS))
_GAS = slice(LUMPS.stop, LUMPS.stop + len(GASES))
OXYGEN, HEAT, DUST, LINING = range(_GAS.stop, _GAS.stop + 4)
_OUT = LINING + 1  # of them; after them what is not linear in the state, see bent()
# columns: the state, then what is known at an instant whatever the bath does
KNOWN = (*FED, "o2", "dust", "lining", "loss", "spent")

_M = {e: i for i, e in enumerate(ELEMENTS)}
_S = {e: i for i, e in enumerate(CATIONS)}


def _declare():
    """What metal, slag and their heat hold, as weights of the rows above: kmol of ELEMENTS in the
    metal, of SLAG_NAMES in the slag, of the compounds in which the heat of slag and lumps is
    counted (by name), and what bent() asks for."""
    unit = np.eye(_OUT + 4)
    silicate, sulphide, iron, ferric = unit[_OUT:]
    metal = unit[METAL].copy()
    metal[_M["S"]] -= sulphide
    metal[_M["Fe"]] -= iron
    slag, lumps = (dict(zip(_OXIDES, _PER_CATION @ unit[x], strict=True)) for x in (SLAG, LUMPS))
    slag["CaO"] = slag["CaO"] - sulphide  # counts as CaS alone
    slag |= {"FeO": iron - ferric, "Fe2O3": 0.5 * ferric, "CaS": sulphide}
    limits = [unit[_M["S"]], unit[SLAG][_S["Ca"]], unit[OXYGEN]]

    def bind(silica, half_lime):
        limits.extend((silica, half_lime))
        return silicate if len(limits) == 5 else 0.0 * silicate  # of slag and lumps together

    # the lining's magnesia is left out, for it comes at the temperature of the slag
    heat = share_lime(slag | {"MgO": slag["MgO"] - unit[LINING]}, bind)
    for name, row in share_lime(lumps, bind).items():
        heat[name] = heat[name] + row
    return metal, np.array(list(slag.values())), heat, np.array(limits)[:, :_OUT]


METAL_ROWS, SLAG_ROWS, _COMPOUNDS, LIMITS = _declare()
HEAT_ROWS = np.array([*METAL_ROWS, *_COMPOUNDS.values()])


def bent(limits, sulphur_per_lime, lime_planned, iron_per_oxygen, ferric_share):
    """What is not linear in the state, kmol: 2CaO.SiO2 in slag and lumps, CaS, iron in the slag and
    its part that is Fe3+. limits: rows of LIMITS; the others: Account.bend, which broadcast to them.
    """
    sulphur, lime, oxygen, silica, half_lime, lump_silica, lump_half_lime = limits
    out = np.empty((4, *oxygen.shape))
    silicate, sulphide, iron, ferric = out
    # sulphur goes to the slag as the lime dissolves that takes it
    np.multiply(sulphur_per_lime * np.minimum(lime, lime_planned), sulphur, out=sulphide)
    # oxygen that nothing else took is held by iron
    np.multiply(oxygen + sulphide, iron_per_oxygen, out=iron)
    np.multiply(iron, ferric_share, out=ferric)
    np.minimum(silica, half_lime - 0.5 * sulphide, out=silicate)
    silicate += np.minimum(lump_silica, lump_half_lime)
    return out


def weighted(weights, amounts):
    """Weighted sums over the first axis of amounts (rows, instants, heats): weights (rows,) or
    (sums, rows).
    """
    return (weights @ amounts.reshape(len(amounts), -1)).reshape(
        weights.shape[:-1] + amounts.shape[1:]
    )


def product(matrix, amounts):
    """matrix (sums, rows) times amounts (rows, instants, heats), in parts so small that the library
    does not wake other processors for them: on a busy machine it would wait for those longer than
    the sum takes.
    """
    flat = amounts.reshape(len(amounts), -1)
    out = np.empty((len(matrix), flat.shape[1]))
    part = max(_SMALL // matrix.size, 1)
    for start in range(0, flat.shape[1], part):
        np.matmul(matrix, flat[:, start : start + part], out=out[:, start : start + part])
    return out.reshape(len(matrix), *amounts.shape[1:])


def slag_temp_c(temp_c):
    """Temperature at which the slag is counted, degC, from that of the bath."""
    return np.clip(temp_c, *SLAG_TEMP_C)


def _split(material):
    """One kg of a solid shared out: (metal, slag): kmol by element; oxygen: kmol O beyond the
    oxides of slag; gas: kmol by species; kJ.

    Phosphorus goes to the metal first, also that of ores and fluxes; the carbon of carbonates
    leaves as CO2 at once.
    """
    metal, slag, gas, oxygen = {}, {}, {}, 0.0
    for species, pct in material.analysis_pct.items():
        kmol = np.asarray(pct) / 100.0 / molar_mass(species)
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
    return metal, slag, oxygen, gas, material.enthalpy_kj_kg


@cache
def grid():
    """Temperatures (K) and a table (temperature, row of _heat_rows) of enthalpies, kJ/kmol."""
    T = kelvin(
        np.union1d(np.arange(TEMP_C[0], TEMP_C[1], 20.0), [*SLAG_TEMP_C, TEMP_C[1]])
    )  # a node at every kink
    return T, np.stack(_heat_rows(T), axis=1)


def _heat_rows(T):
    """kJ per kmol of each element dissolved and of each compound of the slag, at T (K) of the bath."""
    T_slag = kelvin(slag_temp_c(celsius(T)))
    return [dissolved_enthalpy(e, T) for e in ELEMENTS] + [
        enthalpy(c, T_slag, OXIDES.get(c), supercooled=True) for c in _COMPOUNDS
    ]


def on_grid(surplus, columns=None):
    """Temperature, K, at which a surplus of enthalpy (temperatures of grid(), instants, heats), kJ,
    is zero, straight between them. columns: 0, 1, ... to the number of instants and heats, if it is
    at hand.
    """
    (T_grid, _), shape = grid(), surplus.shape[1:]
    flat = surplus.reshape(len(surplus), -1)
    columns = np.arange(flat.shape[1]) if columns is None else columns
    low = np.add.reduce((flat[1:-1] < 0.0).view(np.int8), axis=0, dtype=np.int8).astype(
        np.intp
    )  # counted in bytes: the quickest
    place = low * columns.size + columns
    T, below = T_grid.take(low), flat.take(place)
    T = T - below * _widths().take(low) / (flat.take(place + columns.size) - below)
    return np.minimum(np.maximum(T, TEMP_K[0]), TEMP_K[1]).reshape(shape)


@cache
def _widths():
    return np.diff(grid()[0])


_EDGES_C = (
    TEMP_C[0],
    1290.0,
    SLAG_TEMP_C[0],
    1588.0,
    SLAG_TEMP_C[1],
    TEMP_C[1],
)  # between them every enthalpy is smooth
_NODES = 6  # in each part, for polynomials exact to rounding


@cache
def _smooth():
    """Temperatures (K) and a table as grid(), _NODES for each part between _EDGES_C."""
    low, high = np.array(_EDGES_C[:-1])[:, None], np.array(_EDGES_C[1:])[:, None]
    T = kelvin(
        0.5 * (low + high) - 0.5 * (high - low) * np.cos(np.pi * np.arange(_NODES) / (_NODES - 1))
    ).ravel()
    return T, np.stack(_heat_rows(T), axis=1)


def _on_polynomial(surplus):
    """As on_grid() at the temperatures of _smooth(): the temperature as a polynomial of the surplus
    within a part.
    """
    T_all, shape = _smooth()[0], surplus.shape[1:]
    flat = surplus.reshape(len(surplus), -1)
    first = _NODES * np.add.reduce(flat[_NODES::_NODES] < 0.0, axis=0, dtype=np.intp)
    nodes = first + np.arange(_NODES)[:, None]
    T, left = T_all.take(nodes), flat.take(nodes * flat.shape[1] + np.arange(flat.shape[1]))
    return np.clip(root_from_values(T, left), *TEMP_K).reshape(shape)


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
        self.lumps, self.gas = product(_PER_CATION, out[LUMPS]), out[_GAS]
        self.heat_kj, self.dust, self.lining = out[HEAT], out[DUST], out[LINING]
        self.metal_kg = weighted(WEIGHT, self.metal)

    def pct(self, element):
        """Mass % of an element in the metal."""
        return self.metal[_M[element]] * (100.0 * WEIGHT[_M[element]]) / self.metal_kg

    def oxides_kg(self):
        """kg of each component of the dissolved slag."""
        return dict(zip(SLAG_NAMES, self.slag * SLAG_KG[:, None, None], strict=True))

    def lumps_kg(self):
        """kg of each oxide of flux that has not dissolved."""
        kg = self.lumps * SLAG_KG[: len(_OXIDES), None, None]
        return dict(zip(_OXIDES, kg, strict=True))


class Account:
    """The balance of a heat, or of n heats, along the blow.

    charge: the charge.Charge that is blown; minutes: its planned length, over which its heat loss
    is spread; n: number of heats.
    Rows of the state: kg of scrap melted, of lime and of dolomite dissolved; kmol of CO2 from
    post-combustion; kmol that has left the metal of each of `reacts`. Each element's row:
    self.row[element].
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
            if e not in ("Si", "Mn", "P")
            and any(
                np.any(np.asarray(m.get(e, 0.0)) > 0)
                for m in (hot, *(p[0] for p in parts.values()))
            )
        ]
        self.reacts = ("C", "Si", "Mn", "P", *others)
        self.row = {e: i for i, e in enumerate(self.reacts, 4)}
        self.atoms = {e: oxygen_atoms(e) for e in self.reacts}
        self.columns = {name: len(self.reacts) + 4 + i for i, name in enumerate(KNOWN)}

        blown = {
            s: np.asarray(v) / np.asarray(charge.oxygen.nm3["O2"])
            for s, v in charge.oxygen.nm3.items()
        }  # Nm3 per Nm3 of O2
        T_gas = kelvin(charge.gas.temp_c)
        gas_heat = {s: enthalpy(s, T_gas, "g") for s in GASES}
        self.entries = {}
        hot_gas = {e: hot[e] for e in ("N", "H") if np.any(np.asarray(hot.get(e, 0.0)) > 0)}
        self._fill(
            parts, blown, hot_gas, gas_heat, enthalpy("FeO", T_gas, "liquid", supercooled=True)
        )
        wide = any(np.size(v) > 1 for v in self.entries.values())
        self.matrix = np.zeros((LINING + 1, self.columns["spent"] + 1, n if wide else 1))
        for (row, column), value in self.entries.items():
            self.matrix[row, column] = np.asarray(value).reshape(-1)
        del self.entries

        self.base = np.zeros((LINING + 1, 1, n))
        for e, kmol in hot.items():
            if e in _M:
                self.base[_M[e]] = flat(kmol)
        self.base[OXYGEN], self.base[HEAT] = (
            flat(hot.get("O", 0.0)),
            flat(charge.hot_metal.enthalpy_kj()),
        )

        # what the charge says of oxygen, dust, lining, losses, and the state of its slag
        self.o2_planned = flat(charge.oxygen.nm3["O2"]) / molar_volume_nm3_kmol()
        self.minutes = flat(minutes)
        self.loss_kj_min = flat(charge.heat_loss_kj) / self.minutes
        self.dust_per_o2 = flat(charge.dust.feo_kg) / molar_mass("FeO") / self.o2_planned
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

    def _fill(self, parts, blown, hot_gas, gas_heat, dust_heat):
        """The entries of the matrix, {(row, column): number or array of heats}."""

        def add(row, column, x):
            self.entries[row, column] = self.entries.get((row, column), 0.0) + np.asarray(x)

        def add_gas(species, column, kmol):
            add(_GAS.start + GASES.index(species), column, kmol)
            add(HEAT, column, -np.asarray(kmol) * gas_heat[species])

        for name, (metal, slag, oxygen, gas, heat) in parts.items():
            at = 0 if name == "scrap" else self.columns[name]
            for e, kmol in metal.items():
                add(_M[e], at, kmol)
            for species, kmol in gas.items():
                add_gas(species, at, kmol)
            add(OXYGEN, at, oxygen)
            add(HEAT, at, heat)
            dissolves = {"lime": 1, "dolomite": 2}.get(name)
            for e, kmol in slag.items():
                if dissolves is None:
                    add(SLAG.start + _S[e], at, kmol)
                else:
                    add(LUMPS.start + _S[e], at, kmol)
                    add(LUMPS.start + _S[e], dissolves, -kmol)
                    add(SLAG.start + _S[e], dissolves, kmol)
        for e in self.reacts:
            add(_M[e], self.row[e], -1.0)
            add(OXYGEN, self.row[e], -self.atoms[e])
            if e == "C":
                add_gas("CO", self.row[e], 1.0)
            else:
                add(SLAG.start + _S[e], self.row[e], 1.0)
        add(OXYGEN, 3, -1.0)
        add_gas("CO", 3, -1.0)
        add_gas("CO2", 3, 1.0)
        o2, cold = self.columns["o2"], kelvin(25.0)
        add(OXYGEN, o2, 2.0)
        add(HEAT, o2, sum(share * enthalpy(s, cold) for s, share in blown.items()))
        for s, share in blown.items():
            if s != "O2":
                add_gas(s, o2, share)
        dust = self.columns["dust"]
        for row, x in (
            (_M["Fe"], -1.0),
            (OXYGEN, -1.0),
            (DUST, 1.0),
            (HEAT, -np.asarray(dust_heat)),
        ):
            add(row, dust, x)
        add(SLAG.start + _S["Mg"], self.columns["lining"], 1.0)
        add(LINING, self.columns["lining"], 1.0)
        add(HEAT, self.columns["loss"], -1.0)
        for (
            element,
            kmol,
        ) in hot_gas.items():  # nitrogen and hydrogen of the hot metal leave bit by bit
            add(_M[element], self.columns["spent"], -np.asarray(kmol))
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
        """kmol per minute of each of GASES, as a dict, from the rates of known() and of the state."""
        return dict(zip(GASES, self._times(known_rates, rates)[_GAS], strict=True))

    def at(self, known, state):
        """The Instant of a state (rows, instants, heats), with the rows of known()."""
        return Instant(self, self._times(known, state) + self.base)

    def temperature(self, now, exact=False):
        """Temperature of the bath, K, at which metal and slag hold the enthalpy they must. Within
        0.02 K from a table; exact: to rounding.

        Held to the limits of a liquid metal; where that happens, the heat does not close.
        """
        (_, table), find = (_smooth(), _on_polynomial) if exact else (grid(), on_grid)
        return find(product(table, now.compounds) - now.heat_kj)
