"""Carbon in liquid iron up to graphite, by an assessment of the whole system: what the coefficient
sets, which belong to iron with little carbon, are measured against. The saturation line of melting
and r_C^C of both sets are own steps from it.
"""

import numpy as np

from ..base import Number, Table, atomic_weight, between, plain, value

_TERMS = Table("iron_carbon")
_LAST = ("L0", "L1", "L2")


def _fraction(carbon_pct):
    carbon = np.asarray(between("carbon in iron", carbon_pct, 0.0, 6.0, "%"), float)
    moles, iron = carbon / atomic_weight("C"), (100.0 - carbon) / atomic_weight("Fe")
    return moles / (moles + iron)


def _terms(T):
    """(graphite to liquid, L0, L1, L2) at T, J/mol; at T = 0 the parts that are heat."""
    return [
        _TERMS.get(key)["a_j_mol"] + _TERMS.get(key)["b_j_mol_k"] * T
        for key in ("graphite_to_liquid", *_LAST)
    ]


def assessed_carbon_activity(carbon_pct: Number, T: Number) -> Number:
    """Activity of carbon in liquid iron against graphite, 1 at saturation, without other elements.

    Parameters
    ----------
    carbon_pct : 0 to 6 mass %; arrays broadcast
    T : 1400 to 2100 K

    Returns
    -------
    1 at graphite saturation

    Raises
    ------
    InputError

    References
    ----------
    Dinsdale (1991), Gustafson (1985) and a later term, second-hand: iron_carbon.csv.

    Examples
    --------
    >>> round(assessed_carbon_activity(2.0, 1873.15), 3)
    0.135
    """
    T = between("temperature", T, 1400.0, 2100.0, "K")
    x = _fraction(carbon_pct)
    iron, d = 1.0 - x, 2.0 * x - 1.0
    pure, zero, one, two = _terms(T)
    excess = iron**2 * (zero + one * (d + 2.0 * x) + two * (d**2 + 4.0 * x * d))
    return plain(x * np.exp((pure + excess) / (value("gas_constant") * T)))


def assessed_carbon_heat_kj_mol(carbon_pct: Number, partial: bool = False) -> Number:
    """Heat to dissolve a mole of graphite in liquid iron.

    Parameters
    ----------
    carbon_pct : of the melt, 0 to 6 mass %; arrays broadcast
    partial : True for a little more graphite in a melt that has this carbon already, False for all
        of its carbon from pure iron: what a balance needs

    Returns
    -------
    kJ per mol C

    Raises
    ------
    InputError

    References
    ----------
    As of assessed_carbon_activity().

    Examples
    --------
    >>> round(assessed_carbon_heat_kj_mol(4.5), 1), round(assessed_carbon_heat_kj_mol(0.0), 1)
    (22.7, 24.0)
    """
    x = _fraction(carbon_pct)
    iron, d = 1.0 - x, 2.0 * x - 1.0
    pure, zero, one, two = _terms(0.0)
    if partial:
        excess = iron**2 * (zero + one * (d + 2.0 * x) + two * (d**2 + 4.0 * x * d))
    else:
        excess = iron * (zero + one * d + two * d**2)
    return plain((pure + excess) / 1000.0)
