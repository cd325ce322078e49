"""Chromium between slag and metal: [Cr] + 3/2 FetO = CrO1.5 + 3/2 Fe.

No published partition of chromium over a converter slag was read. What the kit has is the
equilibrium of chromium and oxygen in iron with solid Cr2O3 (equilibria.csv), and the oxygen that
goes with the slag's iron oxide. How strongly the slag holds the oxide, its activity coefficient, is
not verified: end_of_blow.csv, with a band.
"""

from functools import cache

import numpy as np

from ..base import Amounts, Number, atomic_weight, kelvin, molar_mass, quietly
from ..thermo import log_k
from .end_of_blow import iron_oxide_at, start_values
from .oxygen import full_oxygen_pct
from .regular_solution import cation_moles, iron_row

_FIT_K = (1800.0, 2000.0)


@cache
def _half_constant():
    """(a, b) of log10 of the constant of [Cr] + 3/2 [O] = CrO1.5(s) = a/T + b: the line through two
    temperatures, at other ones as good as the whole (tests).
    """
    with quietly():
        low, high = (0.5 * log_k("Cr-O", T) for T in _FIT_K)
    a = (low - high) / (1.0 / _FIT_K[0] - 1.0 / _FIT_K[1])
    return a, low - a / _FIT_K[0]


def log_chromium(feto_activity: Number, T: Number, cations: Number, gamma: Number) -> Number:
    """Logarithm of the partition of chromium, unchecked.

    Parameters
    ----------
    feto_activity : of the slag's iron oxide
    T : K
    cations : kmol in 100 kg of slag
    gamma : activity coefficient of CrO1.5 against half a mol of solid Cr2O3

    Returns
    -------
    log10 of (mass % in slag)/(mass % in metal)

    Examples
    --------
    >>> round(float(log_chromium(0.27, 1923.15, 1.65, 4.0)), 1)
    1.3
    """
    a, b = _half_constant()
    oxygen = np.log10(np.maximum(feto_activity, 1e-9) * full_oxygen_pct(T))
    return a / T + b + 1.5 * oxygen + np.log10(atomic_weight("Cr") * cations / gamma)


def chromium_partition(slag_pct: Amounts, temp_c: Number, given: Amounts | None = None) -> Number:
    """Partition of chromium that a slag at the end of a blow goes with.

    Parameters
    ----------
    slag_pct : mass % (or kg) by oxide, FeO and Fe2O3 among them; arrays broadcast
    temp_c : degC
    given : parameters of the law instead of the start values

    Returns
    -------
    (mass % in slag)/(mass % in metal)

    References
    ----------
    equilibria.csv, 'Cr-O'; regular_solution.py; end_of_blow.csv, 'cr_oxide_activity'

    Examples
    --------
    >>> slag = {"CaO": 46.0, "SiO2": 14.0, "FeO": 17.0, "Fe2O3": 4.0, "MgO": 8.0, "MnO": 5.0}
    >>> print(round(chromium_partition(slag, 1650.0)))
    25
    """
    gamma = (start_values() | dict(given or {}))["cr_oxide_activity"]
    moles, _ = cation_moles(slag_pct)
    total = np.sum(moles, axis=0)
    per_100 = 100.0 * total / sum(np.asarray(kg, float) for kg in slag_pct.values())
    ferric_kmol = 2.0 * np.asarray(slag_pct.get("Fe2O3", 0.0)) / molar_mass("Fe2O3")
    ferric = ferric_kmol / np.maximum(moles[iron_row()], 1e-12)
    T = kelvin(temp_c)
    active = iron_oxide_at(moles / total, ferric, T)
    return 10.0 ** log_chromium(active, T, per_100, gamma)
