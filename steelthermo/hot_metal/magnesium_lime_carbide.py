"""Reagents that take sulphur out of hot metal: their analyses, what one kg binds, and the
equilibrium of magnesium with sulphur.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    Number,
    Table,
    atomic_weight,
    between,
    kelvin,
    molar_mass,
    one_of,
    plain,
    positive,
    value,
)
from ..streams import Material
from ..thermo import log_k, solution_gibbs
from ..works import start_value as start

SPECIES = ("Mg", "CaO", "CaC2", "MgO", "CaCO3", "SiO2", "C")
_REAGENTS = Table("reagents")
_BIND = ("Mg", "CaO", "CaC2", "Na2CO3")


@dataclass(frozen=True, repr=False)
class Reagent(Material):
    """A reagent: a Material with its key, active (what takes the sulphur: Mg, CaO or CaC2),
    efficiency_key (plant value) and where its analysis comes from.
    """

    kind: str = "fuel"
    key: str = ""
    active: str = "CaO"
    efficiency_key: str = ""
    analysed: tuple = ()

    @property
    def active_share(self) -> float:
        """kg of the active substance in one kg."""
        return self.pct(self.active) / 100.0

    @property
    def provenance(self) -> tuple:
        """Sources of analysis and data."""
        return (*self.analysed, *super().provenance)


@cache
def reagents() -> dict:
    """All reagents.

    Returns
    -------
    Reagent by key

    References
    ----------
    reagents.csv

    Examples
    --------
    >>> round(reagents()["magnesium"].active_share, 2)
    0.97
    """
    return {
        key: Reagent(
            row["title"],
            {s: row[s] for s in SPECIES if row[s] > 0},
            key=key,
            active=row["active"],
            efficiency_key=row["efficiency"],
            analysed=_REAGENTS.provenance(key),
        )
        for key, row in _REAGENTS.by_key.items()
    }


def reagent(key: str) -> Reagent:
    """The Reagent of a key.

    Parameters
    ----------
    key : such as 'magnesium'

    Returns
    -------
    Reagent

    Raises
    ------
    InputError
        For a key that is not known.

    References
    ----------
    reagents.csv

    Examples
    --------
    >>> reagent("magnesium").pct("Mg")
    97.0
    """
    return reagents()[one_of("reagent", key, reagents())]


def kg_per_kg_sulphur(substance: str) -> float:
    """What binds one kg of sulphur, one mol for one mol.

    Parameters
    ----------
    substance : 'Mg', 'CaO', 'CaC2' or 'Na2CO3'

    Returns
    -------
    kg/kg

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry

    Examples
    --------
    >>> round(kg_per_kg_sulphur("Mg"), 3)
    0.758
    """
    return molar_mass(one_of("substance", substance, _BIND)) / atomic_weight("S")


def magnesium_solubility_pct(temp_c: Number, pressure_atm: Number = 1.0) -> Number:
    """Magnesium dissolved in iron under its own vapour, activity coefficient 1 (carbon lowers the
    content).

    Parameters
    ----------
    temp_c : 1130 to 1700 degC; arrays broadcast
    pressure_atm : of magnesium vapour, atm

    Returns
    -------
    mass %

    Raises
    ------
    InputError

    References
    ----------
    Gibbs energy of solution, set msts: the other has no magnesium

    Examples
    --------
    >>> round(magnesium_solubility_pct(1350.0), 2)
    0.07
    """
    T = kelvin(between("temperature", temp_c, 1130.0, 1700.0, "°C"))
    exponent = -solution_gibbs("Mg", T, "msts") / (value("gas_constant") * T)
    return plain(positive("pressure of magnesium", pressure_atm, "atm") * np.exp(exponent))


def magnesium_left_pct(sulphur_pct: Number, temp_c: Number, f_product: Number = 1.0) -> Number:
    """Dissolved magnesium in equilibrium with MgS and a content of sulphur: K/(f_product x %S).

    Parameters
    ----------
    sulphur_pct : mass %, more than zero; arrays broadcast
    temp_c : 1130 to 1700 degC
    f_product : product of the activity coefficients of Mg and S: 1 gives the upper bound; in hot
        metal f_S is about 3.5, and with a doubtful e_Mg^C of 0.15 (jsps) the product about 16

    Returns
    -------
    mass %

    Raises
    ------
    InputError

    References
    ----------
    sources('equilibrium Mg-S')

    Examples
    --------
    >>> round(magnesium_left_pct(0.005, 1350.0), 5)
    0.00084
    """
    s = _sulphur("sulphur", sulphur_pct)
    return plain(magnesium_sulphur_product(temp_c, f_product) / s)


def _sulphur(name, pct):
    """Sulphur of hot metal, mass %, checked."""
    return between(name, pct, 1e-6, 1.0, "%", "Mass %, not ppm: 400 ppm is 0.04.")


def magnesium_sulphur_product(temp_c: Number, f_product: Number = 1.0) -> Number:
    """[%Mg][%S] at equilibrium with MgS.

    Parameters
    ----------
    temp_c, f_product : as in magnesium_left_pct()

    Returns
    -------
    (mass %)^2

    Raises
    ------
    InputError

    References
    ----------
    sources('equilibrium Mg-S')

    Examples
    --------
    >>> print(round(1e5 * magnesium_sulphur_product(1350.0), 2))
    0.42
    """
    T = kelvin(between("temperature", temp_c, 1130.0, 1700.0, "°C"))
    return 10.0 ** log_k("Mg-S", T, "msts") / positive(
        "product of activity coefficients", f_product, zero=False
    )


def product_factor(line: str) -> float:
    """f_product by which the product of magnesium and sulphur at 1600 degC is that of a printed
    line; the course with temperature stays that of the kit's own data.

    Parameters
    ----------
    line : of lines('Mg-S'), such as 'zhouhan95'

    Returns
    -------
    see magnesium_left_pct()

    Raises
    ------
    InputError

    References
    ----------
    sources('equilibrium Mg-S')

    Examples
    --------
    >>> print(round(product_factor("zhouhan95"), 2))
    0.5
    """
    T = kelvin(1600.0)
    return 10.0 ** (log_k("Mg-S", T, "msts") - log_k("Mg-S", T, line=line))


def magnesium_dose_kg_t(
    sulphur_pct: Number,
    aim_pct: Number,
    temp_c: Number,
    efficiency_pct: Number | None = None,
    f_product: Number = 1.0,
) -> Number:
    """Magnesium for a fall of sulphur, by the kit's own formula: 10 x (0.758 (S0 - Sf) + dissolved
    Mg) / efficiency.

    Parameters
    ----------
    sulphur_pct, aim_pct : before and after, mass %; arrays broadcast
    temp_c : 1130 to 1700 degC
    efficiency_pct : None: plant value 'mg_efficiency_pct'
    f_product : as in magnesium_left_pct()

    Returns
    -------
    kg per t of hot metal

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry, and the equilibrium with MgS

    Examples
    --------
    >>> round(magnesium_dose_kg_t(0.04, 0.005, 1350.0), 2)
    0.46
    """
    drop = positive(
        "sulphur to be removed",
        _sulphur("sulphur", sulphur_pct) - _sulphur("aim", aim_pct),
        "%",
    )
    eta = start("mg_efficiency_pct", efficiency_pct, low=1.0) / 100.0
    return plain(
        10.0
        * (kg_per_kg_sulphur("Mg") * drop + magnesium_left_pct(aim_pct, temp_c, f_product))
        / eta
    )
