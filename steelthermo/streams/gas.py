"""Gas: one record in Nm3 of each species that knows its elements and its enthalpy; calorific value,
air, equilibrium.

Ideal gas; data of Cantera's nasa_gas.yaml. Zero of enthalpy: the elements at 298.15 K, so burning
needs no separate reaction heat.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    atomic_weight,
    between,
    celsius,
    common_shape,
    find_root,
    finite,
    formula,
    kelvin,
    molar_mass,
    molar_volume_nm3_kmol,
    nm3_to_mol,
    plain,
    positive,
    rows,
    value,
    warn_where,
)
from ..thermo import enthalpy, gas_at_equilibrium, gibbs, substance
from .stream import Stream, frozen

_TEMP_C = (-70.0, 3500.0)
# What the equilibrium may form, as far as its elements are there; carbon that would deposit is left
# out and warned of.
_EQUILIBRIUM = "CO CO2 O2 N2 Ar H2 H2O CH4 O H OH NO SO2 SO S2 H2S COS".split()


@cache
def species_names() -> tuple[str, ...]:
    """Formulas of all gases with data, as a tuple."""
    return tuple(dict.fromkeys(row["formula"] for row in rows("phases") if row["state"] == "g"))


@dataclass(frozen=True, repr=False)
class Gas(Stream):
    """A gas: nm3 (mapping of species to Nm3, 0 degC and 101.325 kPa) and temp_c (-70 to 3500).
    Values may be arrays that broadcast.

    Water counts as steam at any temperature. Raises InputError for an unknown species, a negative
    volume, or a temperature out of range.
    """

    nm3: dict
    temp_c: float
    _title, _amount = "gas", "nm3"

    def __post_init__(self):
        known = species_names()
        try:
            items = list(self.nm3.items())
        except AttributeError:
            raise InputError(
                f"gas: {type(self.nm3).__name__} was given; a mapping of species to Nm3 is needed, "
                f"such as {{'CO': 70, 'CO2': 10}}."
            ) from None
        for species, _ in items:
            if species not in known:
                raise InputError(
                    f"gas: {species!r} was given; there are no data for it. Known: "
                    f"{', '.join(known)}."
                )
        nm3 = {
            species: positive(f"{species} in the gas", volume, "Nm3") for species, volume in items
        }
        temp_c = between(
            "temperature of the gas",
            self.temp_c,
            *_TEMP_C,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        )
        common_shape("gas", temp_c, *nm3.values())
        frozen(self, nm3=nm3, temp_c=temp_c)

    @property
    def total_nm3(self) -> float:
        """Nm3 of all species together."""
        return sum(self.nm3.values())

    @property
    def mass_kg(self) -> float:
        """Mass, kg."""
        return sum(self.species_kg().values())

    def species_kg(self) -> dict:
        """kg of each species, as a dict."""
        return {s: nm3 / molar_volume_nm3_kmol() * molar_mass(s) for s, nm3 in self.nm3.items()}

    def element_kg(self) -> dict:
        """kg of each element, as a dict."""
        out = {}
        for species, nm3 in self.nm3.items():
            for element, atoms in formula(species).items():
                out[element] = out.get(
                    element, 0.0
                ) + nm3 / molar_volume_nm3_kmol() * atoms * atomic_weight(element)
        return out

    def enthalpy_kj(self) -> float:
        """Enthalpy of the whole gas at its temperature, kJ, against the elements at 298.15 K.
        Raises InputError outside the range of the data.
        """
        return _enthalpy_kj(self.nm3, kelvin(self.temp_c))

    def sensible_kj(self, down_to_c: float = 25.0) -> float:
        """Heat, kJ, that the gas gives up when it cools to down_to_c (degC) without reacting.
        Raises InputError outside the range of the data.
        """
        return self.enthalpy_kj() - _enthalpy_kj(self.nm3, kelvin(down_to_c))

    @property
    def analysis_pct(self) -> dict:
        """Volume % (= mole %) of each species; an empty dict where there is no gas."""
        return self.mole_pct() if np.all(np.asarray(self.total_nm3) > 0) else {}

    def mole_pct(self) -> dict:
        """Mole % (= volume %) of each species, as a dict. Raises InputError for an empty gas."""
        total = self.total_nm3
        if np.any(np.asarray(total) == 0):
            raise InputError("gas: its volume is zero; it has no composition.")
        return {s: 100.0 * nm3 / total for s, nm3 in self.nm3.items()}

    def pcr(self) -> float:
        """Post-combustion ratio CO2/(CO + CO2), 0 to 1. Raises InputError for a gas without
        either.
        """
        co, co2 = self.nm3.get("CO", 0.0), self.nm3.get("CO2", 0.0)
        if np.any(np.asarray(co + co2) == 0):
            raise InputError("post-combustion ratio: the gas holds neither CO nor CO2.")
        return co2 / (co + co2)

    def at_enthalpy(self, enthalpy_kj: float) -> "Gas":
        """The same gas, unreacted, at the temperature where its enthalpy is enthalpy_kj. Raises
        InputError if that lies outside 27 to 3500 degC.
        """
        target = np.asarray(finite("enthalpy of the gas", enthalpy_kj, "kJ"))
        shape = common_shape("gas", target, self.temp_c, *self.nm3.values())
        low, high = np.full(shape, 300.0), np.full(shape, kelvin(_TEMP_C[1]))
        if np.any(target < _enthalpy_kj(self.nm3, low)) or np.any(
            target > _enthalpy_kj(self.nm3, high)
        ):
            raise InputError(
                f"enthalpy of the gas: {np.max(target):g} kJ would put it outside 27 to "
                f"{_TEMP_C[1]:g} °C."
            )
        T = find_root(lambda T: _enthalpy_kj(self.nm3, T) - target, low, high)
        return Gas(self.nm3, celsius(plain(T)))

    @property
    def provenance(self):
        """Sources of the data of each species."""
        return tuple(p for s in self.nm3 for p in substance(s).phase("g").provenance)


def _enthalpy_kj(nm3, T):
    return sum(
        nm3_to_mol(volume) * enthalpy(species, T, "g") / 1000.0 for species, volume in nm3.items()
    )


def mix(*gases: Gas) -> Gas:
    """One gas of several, at the temperature where enthalpy is kept, without reaction. Raises
    InputError.
    """
    if not gases:
        raise InputError("gas: no gas was given to mix.")
    nm3 = {}
    for gas in gases:
        for species, volume in gas.nm3.items():
            nm3[species] = nm3.get(species, 0.0) + volume
    temps = [gas.temp_c for gas in gases]
    if all(np.array_equal(t, temps[0]) for t in temps):
        return Gas(nm3, temps[0])
    return Gas(nm3, 25.0).at_enthalpy(sum(gas.enthalpy_kj() for gas in gases))


def air(nm3: float, temp_c: float = 25.0, humidity_pct: float = 0.0) -> Gas:
    """Air as a Gas: nm3 of dry air (zero or more), temp_c, and humidity_pct, Nm3 of steam per 100
    Nm3 of dry air (0 to 10).

    Raises InputError. Source: sources('air_o2_pct').
    """
    nm3 = positive("air", nm3, "Nm3")
    parts = {
        "O2": nm3 * value("air_o2_pct") / 100.0,
        "N2": nm3 * value("air_n2_pct") / 100.0,
        "Ar": nm3 * value("air_ar_pct") / 100.0,
    }
    humidity = between("humidity of the air", humidity_pct, 0.0, 10.0, "Nm3 per 100 Nm3")
    if np.any(np.asarray(humidity) > 0):
        parts["H2O"] = nm3 * humidity / 100.0
    return Gas(parts, temp_c)


@cache
def _burning(species):
    """(mol O2 taken, heat in J) when one mol burns at 298.15 K to CO2, steam, SO2 and N2; O2 itself
    counts as minus one mol.
    """
    atoms = formula(species)
    strange = set(atoms) - {"C", "H", "O", "N", "S", "Ar"}
    if strange:
        raise InputError(
            f"calorific value: {species} holds {', '.join(sorted(strange))}; only gases of C, H, "
            "O, N, S and Ar are burnt here."
        )
    c, h, s = atoms.get("C", 0.0), atoms.get("H", 0.0), atoms.get("S", 0.0)
    T = value("reference_temperature")
    products = c * enthalpy("CO2", T, "g") + 0.5 * h * enthalpy("H2O", T, "g")
    if s:
        products += s * enthalpy("SO2", T, "g")
    return c + 0.25 * h + s - 0.5 * atoms.get("O", 0.0), enthalpy(species, T, "g") - products


def oxygen_to_burn_nm3(gas: Gas) -> float:
    """Nm3 of O2 for complete combustion of a Gas beyond the oxygen it holds; negative where it
    holds more than it needs. Raises InputError.
    """
    return sum(nm3 * _burning(species)[0] for species, nm3 in gas.nm3.items())


def calorific_value_mj_nm3(gas: Gas) -> float:
    """Lower calorific value of a Gas, MJ/Nm3 at 25 degC, water as steam: the chemical heat alone.
    Raises InputError.

    Source: enthalpies of formation of Cantera's data, see sources('CO').
    """
    total = np.asarray(gas.total_nm3)
    if np.any(total == 0):
        raise InputError("calorific value: the volume of the gas is zero.")
    heat = sum(nm3_to_mol(nm3) * _burning(species)[1] for species, nm3 in gas.nm3.items())
    return plain(np.asarray(heat) / total / 1e6)


_ADIABATIC_C = 500.0, 3200.0  # lowest and highest temperature that a given enthalpy may lead to
_SEARCHED_K = 763.0, 3483.0  # ten degrees more, so that a heat outside ends outside


def gas_equilibrium(
    gas: Gas,
    temp_c: float | None = None,
    pressure_kpa: float = 101.325,
    enthalpy_kj: float | None = None,
) -> Gas:
    """The gas at chemical equilibrium, at a temperature, or at the temperature that an enthalpy
    gives.

    gas: Gas of C, H, O, N, S, Ar. temp_c: 300 to 3200 degC, None: that of the gas. pressure_kpa:
    absolute, 10 to 1000. enthalpy_kj: of the whole gas, instead of temp_c (adiabatic burning: that
    of gas and air together), where it leads to 500 to 3200 degC. All broadcast.
    Returns a Gas with the species formed, so that elements are kept. Solid carbon is left out:
    ExtrapolationWarning where the gas would deposit some. Raises InputError. Source: sources('CO').
    """
    for species in gas.nm3:
        _burning(species)  # refuses other elements
    if enthalpy_kj is None:
        given = between(
            "temperature of equilibrium",
            gas.temp_c if temp_c is None else temp_c,
            300.0,
            3200.0,
            "°C",
        )
    else:
        if temp_c is not None:
            raise InputError(
                "equilibrium: both temp_c and enthalpy_kj were given; one of them is needed."
            )
        given = finite("enthalpy of the gas", enthalpy_kj, "kJ")
    pressure_kpa = between("pressure of equilibrium", pressure_kpa, 10.0, 1000.0, "kPa absolute")
    shape = common_shape("equilibrium", given, pressure_kpa, *gas.nm3.values())
    held = [e for e, kg in gas.element_kg().items() if np.any(np.asarray(kg) > 0)]
    if not held or np.any(np.asarray(gas.total_nm3) <= 0):
        raise InputError("equilibrium: the volume of the gas is zero.")
    chosen = [s for s in _EQUILIBRIUM if set(formula(s)) <= set(held)]
    given, pressure, *volumes = (
        np.array(np.broadcast_to(x, shape), dtype=float).ravel()
        for x in (given, pressure_kpa, *(gas.nm3.get(s, 0.0) for s in chosen))
    )
    kmol = np.array(volumes) / molar_volume_nm3_kmol()
    # amounts that no one could measure, on which the search gives up
    kmol[kmol < 1e-30 * kmol.sum(axis=0)] = 0.0
    # The engine counts the data's entropies as those at 101325 Pa, but they are those at 1 bar: a
    # pressure raised as much puts that right.
    pascal = pressure * 1000.0 * value("normal_pressure") / value("standard_pressure")
    if enthalpy_kj is None:
        T, kmol = gas_at_equilibrium(chosen, kmol, pascal, T=kelvin(given))
    else:
        T, kmol = gas_at_equilibrium(
            chosen, kmol, pascal, enthalpy_j=given * 1000.0, within=_SEARCHED_K
        )
        _refuse_outside(celsius(T))
    nm3 = {
        s: plain((amount * molar_volume_nm3_kmol()).reshape(shape))
        for s, amount in zip(chosen, kmol, strict=True)
    }
    T = plain(T.reshape(shape))
    _warn_of_carbon(nm3, T, pressure_kpa)
    return Gas(nm3, celsius(T))


def _refuse_outside(temp_c):
    low, high = _ADIABATIC_C
    if np.all((low <= temp_c) & (temp_c <= high)):
        return
    side = f"below {low:g} °C" if np.any(temp_c < low) else f"above {high:g} °C"
    raise InputError(
        f"equilibrium: the heat given puts the gas {side}; allowed is {low:g} to {high:g} °C."
    )


def _warn_of_carbon(nm3, T, pressure_kpa):
    """Boudouard: 2 CO = C + CO2. Carbon deposits where its activity would pass one."""
    if "CO" not in nm3:
        return
    total = sum(nm3.values())
    co, co2 = (np.maximum(nm3[s] / total * pressure_kpa / 100.0, 1e-300) for s in ("CO", "CO2"))
    change = gibbs("C", T) + gibbs("CO2", T, "g") - 2.0 * gibbs("CO", T, "g")
    activity = np.exp(
        -change / (value("gas_constant") * np.asarray(T)) + 2.0 * np.log(co) - np.log(co2)
    )
    warn_where(
        activity > 1.0,
        "equilibrium: this gas would deposit carbon (activity above one), which is left out; the "
        "composition is that of the gas alone.",
    )
