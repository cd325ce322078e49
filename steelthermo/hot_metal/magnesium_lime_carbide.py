"""Reagents that take sulphur out of hot metal: their analyses, what one kg binds, and the
equilibrium of magnesium with sulphur.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
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
    def active_share(self):
        """kg of the active substance in one kg."""
        return self.pct(self.active) / 100.0

    @property
    def provenance(self):
        """Sources of analysis and data."""
        return (*self.analysed, *super().provenance)


@cache
def reagents():
    """All reagents by key."""
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


def reagent(key):
    """The Reagent of a key such as 'magnesium'. Raises InputError. Source: reagents.csv."""
    return reagents()[one_of("reagent", key, reagents())]


def kg_per_kg_sulphur(substance):
    """kg of a substance that bind one kg of sulphur: Mg, CaO, CaC2 or Na2CO3, one mol for one mol.
    Raises InputError. Source: stoichiometry.
    """
    return molar_mass(one_of("substance", substance, _BIND)) / atomic_weight("S")


def magnesium_solubility_pct(temp_c, pressure_atm=1.0, coefficients="msts"):
    """Magnesium dissolved in iron under its own vapour, mass %: Mg(g) = [Mg], activity coefficient
    1 (carbon lowers the content).

    temp_c: 1130 to 1700 degC; pressure_atm: of magnesium vapour. Broadcasts. Raises InputError.
    Source: Gibbs energy of solution of the set (only 'msts' has magnesium).
    """
    T = kelvin(
        between(
            "temperature",
            temp_c,
            1130.0,
            1700.0,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        )
    )
    exponent = -solution_gibbs("Mg", T, coefficients) / (value("gas_constant") * T)
    return plain(positive("pressure of magnesium", pressure_atm, "atm") * np.exp(exponent))


def magnesium_left_pct(sulphur_pct, temp_c, f_product=1.0, coefficients="msts"):
    """Dissolved magnesium in equilibrium with MgS and a content of sulphur, mass %: K/(f_product x
    %S).

    sulphur_pct: mass % S, more than zero; temp_c: 1130 to 1700 degC; f_product: product of the
    activity coefficients of Mg and S: 1 gives the upper bound; in hot metal f_S is about 3.5, and
    with a doubtful e_Mg^C of 0.15 (jsps) the product about 16.
    All broadcast. Raises InputError. Source: equilibria.log_k('Mg-S').
    """
    s = positive("sulphur", sulphur_pct, "%", zero=False)
    return plain(magnesium_sulphur_product(temp_c, f_product, coefficients) / s)


def magnesium_sulphur_product(temp_c, f_product=1.0, coefficients="msts"):
    """[%Mg][%S] at equilibrium with MgS. Arguments as in magnesium_left_pct()."""
    T = kelvin(
        between(
            "temperature",
            temp_c,
            1130.0,
            1700.0,
            "°C",
            "Was kelvin given? temp_c is degrees Celsius.",
        )
    )
    return 10.0 ** log_k("Mg-S", T, coefficients) / positive(
        "product of activity coefficients", f_product, zero=False
    )


def product_factor(line):
    """f_product (see magnesium_left_pct) by which the product of magnesium and sulphur at 1600 degC
    is that of a printed line, such as 'zhouhan95'.

    The course with temperature stays that of the kit's own data. Raises InputError. Source:
    equilibria.lines('Mg-S').
    """
    T = kelvin(1600.0)
    return 10.0 ** (log_k("Mg-S", T, "msts") - log_k("Mg-S", T, line=line))


def magnesium_dose_kg_t(sulphur_pct, aim_pct, temp_c, efficiency_pct=None, f_product=1.0):
    """Magnesium, kg per t of hot metal: 10 x (0.758 (S0 - Sf) + dissolved Mg) / efficiency, by the
    kit's own formula.

    sulphur_pct, aim_pct: mass % before and after; temp_c: degC; efficiency_pct: plant value
    'mg_efficiency_pct'; f_product: see magnesium_left_pct.
    All broadcast. Raises InputError. Source: stoichiometry and the equilibrium with MgS.
    """
    drop = positive(
        "sulphur to be removed",
        positive("sulphur", sulphur_pct, "%") - positive("aim", aim_pct, "%", zero=False),
        "%",
    )
    eta = start("mg_efficiency_pct", efficiency_pct, low=1.0) / 100.0
    return plain(
        10.0
        * (kg_per_kg_sulphur("Mg") * drop + magnesium_left_pct(aim_pct, temp_c, f_product))
        / eta
    )
