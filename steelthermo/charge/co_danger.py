"""The danger of carbon monoxide: published figures, concentrations, and when a gas burns in air."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    Table,
    between,
    kelvin,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    value,
)
from ..streams import Gas


@dataclass(frozen=True, repr=False)
class Hazard(Record):
    """One published figure about the danger of CO, or of air that cannot be breathed: key, what,
    species, value, unit, note, provenance.

    For teaching. Local law and the works' own rules decide."""

    key: str
    what: str
    species: str
    value: Number
    unit: str
    note: str
    provenance: tuple


@cache
def co_hazards() -> tuple:
    """Exposure limits, effects, flammable range and confined-space figures of CO.

    Returns
    -------
    of Hazard

    References
    ----------
    safety_figures.csv

    Examples
    --------
    >>> first = co_hazards()[0]
    >>> first.what, first.value, first.unit
    ('lower flammable limit in air', 10.9, '%')
    """
    found = Table("safety_figures").records(Hazard).values()
    return tuple(h for h in found if h.species != "none")


def ppm_to_mg_m3(ppm: Number, species: str = "CO", temp_c: Number = 25.0) -> Number:
    """Concentration of an ideal gas at 101.325 kPa.

    Parameters
    ----------
    ppm : by volume, 0 to 1e6; arrays broadcast
    species : formula
    temp_c : of the air, -40 to 60 degC

    Returns
    -------
    mg/m3

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(ppm_to_mg_m3(30.0), 1)
    34.3
    """
    ppm = between("concentration", ppm, 0.0, 1e6, "ppm")
    m3_kmol = (
        molar_volume_nm3_kmol()
        * kelvin(between("air temperature", temp_c, -40.0, 60.0, "°C"))
        / value("celsius_zero_k")
    )
    return ppm * molar_mass(species) / m3_kmol


def lower_flammable_limit_pct(gas: Gas, standard: str | None = None) -> Number:
    """Lower flammable limit of a gas mixed with air at room temperature, from its CO and H2. Hot
    gas burns leaner.

    Parameters
    ----------
    gas : Gas; arrays broadcast
    standard : 'iec' or 'nfpa'; None: where they disagree the lower limit of the pure gas

    Returns
    -------
    volume % of gas in the mixture; 100 means that this rule finds no limit

    Raises
    ------
    InputError
        For other fuels.

    References
    ----------
    sources('gas_explosion'); Le Chatelier's rule is an estimate, no published limit of converter
    gas was found

    Examples
    --------
    >>> from steelthermo.charge import converter_gas
    >>> round(lower_flammable_limit_pct(converter_gas(43.0, 0.1, 25.0)), 1)
    12.1
    """
    limits = {}
    for h in co_hazards():
        if h.what == "lower flammable limit in air" and (
            standard is None or h.key.endswith(standard)
        ):
            limits[h.species] = min(h.value, limits.get(h.species, 100.0))
    fuels = {
        s: pct
        for s, pct in gas.mole_pct().items()
        if s not in ("O2", "N2", "Ar", "CO2", "H2O", "SO2")
    }
    if unknown := set(fuels) - set(limits):
        raise InputError(
            f"flammable limit: the gas holds {', '.join(sorted(unknown))}; limits are known for "
            f"{', '.join(limits)}."
        )
    need = np.asarray(sum(np.asarray(pct) / limits[s] for s, pct in fuels.items()), dtype=float)
    return plain(100.0 / np.maximum(need, 1.0))
