"""Elements dissolved in liquid iron: heats and Gibbs energies of solution.

Two published coefficient sets, never mixed: 'msts' (Gibbs energies of table 2.2 of The Making,
Shaping and Treating of Steel) and 'jsps' (Steelmaking Data Sourcebook). Reference state of a
dissolved element: 1 mass % in liquid iron, extrapolated from infinite dilution.
"""

from collections.abc import Mapping
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    atomic_weight,
    between,
    gate,
    rows,
    value,
    warn,
)
from .substances import enthalpy, gibbs

SETS = ("msts", "jsps")


@cache
def _solution():
    return {(row["set"], row["element"]): row for row in rows("solution")}


def solution_row(element: str, coefficients: str = "msts") -> Mapping:
    """The row of an element dissolved in liquid iron: Gibbs energy of solution A + B T, J/mol, from
    the reference state to 1 mass %.

    Parameters
    ----------
    element : symbol
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    row of solution.csv

    Raises
    ------
    InputError

    Examples
    --------
    >>> solution_row("Si")["a_j_mol"]
    -131500.0
    """
    try:
        return _solution()[coefficients, element]
    except KeyError:
        known = ", ".join(e for s, e in _solution() if s == coefficients)
        raise InputError(
            f"dissolved element: {element!r} in set {coefficients!r} was asked for; known: "
            f"{known or 'no such set'}."
        ) from None


def dissolved_enthalpy(element: str, T: Number, coefficients: str = "msts") -> Number:
    """Enthalpy of an element dissolved in liquid iron, against the element at 298.15 K.

    The heat of solution at infinite dilution is used at all contents; at 4.5 % C it is an
    approximation.

    Parameters
    ----------
    element : symbol; 'Fe' is the solvent itself
    T : from 1400 K (hot metal is a supercooled melt in terms of pure iron); scalar or array
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    J/mol

    Raises
    ------
    InputError

    References
    ----------
    solution.csv and the pure substances

    Examples
    --------
    >>> round(dissolved_enthalpy("C", 1873.15) / 1000.0, 1)
    54.9
    """
    if element == "Fe":
        return enthalpy("Fe", T, "liquid", supercooled=True)
    row = solution_row(element, coefficients)
    return row["atoms"] * enthalpy(row["from"], T, row["phase"], supercooled=True) + row["a_j_mol"]


def solution_gibbs(element: str, T: Number, coefficients: str = "msts") -> Number:
    """Gibbs energy of solution A + B T: from the reference state (gases at 1 atm) to 1 mass % in
    liquid iron.

    Parameters
    ----------
    element : symbol
    T : 1400 to 2300 K; scalar or array
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    J/mol

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning where the row carries a caution, and outside its temperatures.

    References
    ----------
    solution.csv

    Examples
    --------
    >>> round(solution_gibbs("O", 1873.15) / 1000.0, 1)
    -122.6
    """
    row = solution_row(element, coefficients)
    if row["caution"] != "none":
        warn(f"Gibbs energy of solution of {element} (set {coefficients}): {row['caution']}.")
    T = between("temperature", T, 1400.0, 2300.0, "K")
    gate(f"Gibbs energy of solution of {element} (set {coefficients})", row["holds"], {"T": T})
    return row["a_j_mol"] + row["b_j_mol_k"] * T


def dissolved_gibbs(element: str, T: Number, coefficients: str = "msts") -> Number:
    """Gibbs energy of an element dissolved in its reference state of 1 mass %, on the scale of
    gibbs().

    Gases enter at 1 atm, the standard of both sets; the scale of gibbs() has 1 bar, which is
    allowed for.

    Parameters
    ----------
    element : symbol; 'Fe' is the pure solvent
    T : 1400 to 2300 K; scalar or array
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    J/mol

    Raises
    ------
    InputError

    References
    ----------
    solution.csv and the pure substances

    Examples
    --------
    >>> round(dissolved_gibbs("Si", 1873.15) / 1000.0, 1)
    -249.6
    """
    if element == "Fe":
        return gibbs("Fe", T, "liquid", supercooled=True)
    row = solution_row(element, coefficients)
    out = row["atoms"] * gibbs(row["from"], T, row["phase"], supercooled=True) + solution_gibbs(
        element, T, coefficients
    )
    if row["phase"] == "gas":
        out = out + row["atoms"] * value("gas_constant") * T * np.log(
            value("normal_pressure") / value("standard_pressure")
        )
    return out


def gamma0(element: str, T: Number, coefficients: str = "msts") -> Number:
    """Raoultian activity coefficient at infinite dilution in liquid iron.

    Parameters
    ----------
    element : one whose reference state is a pure solid or liquid
    T : 1400 to 2300 K; scalar or array
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    exp(dG/RT) 100 M / M_Fe, 1

    Raises
    ------
    InputError
        If the reference state is a gas.

    References
    ----------
    solution.csv

    Examples
    --------
    >>> print(round(gamma0("Si", 1873.15), 5))
    0.00136
    """
    row = solution_row(element, coefficients)
    if row["phase"] == "gas":
        raise InputError(
            f"gamma0 of {element} in set {coefficients!r}: its reference state is a gas, so there "
            "is none."
        )
    exponent = solution_gibbs(element, T, coefficients) / (value("gas_constant") * T)
    return np.exp(exponent) * 100.0 * atomic_weight(element) / atomic_weight("Fe")
