"""Gas: one record in Nm3 of each species that knows its elements and its enthalpy; calorific value,
air.

Ideal gas; data of Cantera's nasa_gas.yaml. Zero of enthalpy: the elements at 298.15 K, so burning
needs no separate reaction heat.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
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
)
from ..thermo import enthalpy, substance
from .stream import Stream, frozen

_TEMP_C = (-70.0, 3500.0)


@cache
def species_names() -> tuple:
    """Gases with data.

    Returns
    -------
    formulas

    Examples
    --------
    >>> species_names()[:3]
    ('O2', 'N2', 'CO')
    """
    return tuple(dict.fromkeys(row["formula"] for row in rows("phases") if row["state"] == "g"))


@dataclass(frozen=True, repr=False)
class Gas(Stream):
    """A gas: nm3 (mapping of species to Nm3, 0 degC and 101.325 kPa) and temp_c (-70 to 3500).
    Values may be arrays that broadcast.

    Water counts as steam at any temperature. Raises InputError for an unknown species, a negative
    volume, or a temperature out of range.
    """

    nm3: dict
    temp_c: Number
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
        temp_c = between("temperature of the gas", self.temp_c, *_TEMP_C, "°C")
        common_shape("gas", temp_c, *nm3.values())
        frozen(self, nm3=nm3, temp_c=temp_c)

    @property
    def total_nm3(self) -> Number:
        """Nm3 of all species together."""
        return sum(self.nm3.values())

    @property
    def mass_kg(self) -> Number:
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

    def enthalpy_kj(self) -> Number:
        """Enthalpy of the whole gas at its temperature, kJ, against the elements at 298.15 K.
        Raises InputError outside the range of the data.
        """
        return _enthalpy_kj(self.nm3, kelvin(self.temp_c))

    def sensible_kj(self, down_to_c: Number = 25.0) -> Number:
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

    def pcr(self) -> Number:
        """Post-combustion ratio CO2/(CO + CO2), 0 to 1. Raises InputError for a gas without
        either.
        """
        co, co2 = self.nm3.get("CO", 0.0), self.nm3.get("CO2", 0.0)
        if np.any(np.asarray(co + co2) == 0):
            raise InputError("post-combustion ratio: the gas holds neither CO nor CO2.")
        return co2 / (co + co2)

    def at_enthalpy(self, enthalpy_kj: Number) -> "Gas":
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
    def provenance(self) -> tuple:
        """Sources of the data of each species."""
        return tuple(p for s in self.nm3 for p in substance(s).phase("g").provenance)


def _enthalpy_kj(nm3, T):
    return sum(
        nm3_to_mol(volume) * enthalpy(species, T, "g") / 1000.0 for species, volume in nm3.items()
    )


def mix(*gases: Gas) -> Gas:
    """One gas of several, without reaction, at the temperature where enthalpy is kept.

    Parameters
    ----------
    gases : of Gas

    Returns
    -------
    Gas

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(mix(air(1.0, 25.0), air(1.0, 1000.0)).temp_c)
    535
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


def air(nm3: Number, temp_c: Number = 25.0, humidity_pct: Number = 0.0) -> Gas:
    """Air as a Gas.

    Parameters
    ----------
    nm3 : dry air, Nm3; arrays broadcast
    temp_c : -70 to 3500 degC
    humidity_pct : Nm3 of steam per 100 Nm3 of dry air, 0 to 10

    Returns
    -------
    Gas

    Raises
    ------
    InputError

    References
    ----------
    sources('air_o2_pct')

    Examples
    --------
    >>> round(air(100.0).nm3["O2"], 2)
    20.95
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
def burning(species):
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


def oxygen_to_burn_nm3(gas: Gas) -> Number:
    """Oxygen for complete combustion beyond what a gas holds.

    Parameters
    ----------
    gas : of C, H, O, N, S, Ar

    Returns
    -------
    Nm3 of O2; negative where it holds more than it needs

    Raises
    ------
    InputError

    Examples
    --------
    >>> oxygen_to_burn_nm3(Gas({"CO": 80.0, "O2": 1.0}, 25.0))
    39.0
    """
    return sum(nm3 * burning(species)[0] for species, nm3 in gas.nm3.items())


def calorific_value_mj_nm3(gas: Gas) -> Number:
    """Lower calorific value, water as steam: the chemical heat alone.

    Parameters
    ----------
    gas : of C, H, O, N, S, Ar

    Returns
    -------
    MJ/Nm3 at 25 degC

    Raises
    ------
    InputError

    References
    ----------
    Enthalpies of formation, sources('CO')

    Examples
    --------
    >>> round(calorific_value_mj_nm3(Gas({"CO": 70.0, "N2": 30.0}, 25.0)), 2)
    8.84
    """
    total = np.asarray(gas.total_nm3)
    if np.any(total == 0):
        raise InputError("calorific value: the volume of the gas is zero.")
    heat = sum(nm3_to_mol(nm3) * burning(species)[1] for species, nm3 in gas.nm3.items())
    return plain(np.asarray(heat) / total / 1e6)
