"""Elements dissolved in liquid iron: heats and Gibbs energies of solution.

Two published coefficient sets, never mixed: 'msts' (Gibbs energies of table 2.2 of The Making,
Shaping and Treating of Steel) and 'jsps' (Steelmaking Data Sourcebook). Reference state of a
dissolved element: 1 mass % in liquid iron, extrapolated from infinite dilution.
"""

import warnings
from functools import cache

import numpy as np

from ..base import ExtrapolationWarning, InputError, atomic_weight, between, rows, value
from .substances import enthalpy, gibbs

SETS = ("msts", "jsps")


@cache
def _solution():
    return {(row["set"], row["element"]): row for row in rows("solution")}


def solution_row(element, coefficients="msts"):
    """Row of solution.csv: Gibbs energy of solution A + B T, J/mol, from the reference state
    to 1 mass %. Raises InputError.
    """
    try:
        return _solution()[coefficients, element]
    except KeyError:
        known = ", ".join(e for s, e in _solution() if s == coefficients)
        raise InputError(
            f"dissolved element: {element!r} in set {coefficients!r} was asked for; known: "
            f"{known or 'no such set'}."
        ) from None


def dissolved_enthalpy(element, T, coefficients="msts"):
    """Enthalpy of an element dissolved in liquid iron, J/mol, against the element at 298.15 K. 'Fe'
    is the solvent itself.

    element: symbol; T: K, scalar or array (1400 K and above: hot metal is a supercooled melt in
    terms of pure iron).
    coefficients: set of heats of solution. The heat of solution at infinite dilution is used at all
    contents; at 4.5 % C it is an approximation. Raises InputError. Source: solution.csv and
    the pure substances.
    """
    if element == "Fe":
        return enthalpy("Fe", T, "liquid", supercooled=True)
    row = solution_row(element, coefficients)
    return row["atoms"] * enthalpy(row["from"], T, row["phase"], supercooled=True) + row["a_j_mol"]


def solution_gibbs(element, T, coefficients="msts"):
    """Gibbs energy of solution A + B T, J/mol: from the reference state (see solution_row; gases at
    1 atm) to 1 mass % in liquid iron.

    element: symbol; T: K, scalar or array; coefficients: 'msts' or 'jsps'. Warns
    (ExtrapolationWarning) where the row carries a caution.
    Raises InputError. Source: solution.csv.
    """
    row = solution_row(element, coefficients)
    if row["caution"] != "none":
        warnings.warn(
            f"Gibbs energy of solution of {element} (set {coefficients}): {row['caution']}.",
            ExtrapolationWarning,
            stacklevel=2,
        )
    return row["a_j_mol"] + row["b_j_mol_k"] * between(
        "temperature", T, 1400.0, 2300.0, "K", "Is this degrees Celsius? T is kelvin."
    )


def dissolved_gibbs(element, T, coefficients="msts"):
    """Gibbs energy of a dissolved element in its reference state of 1 mass %, J/mol, on the scale
    of substances.gibbs. 'Fe': the pure solvent.

    element: symbol; T: K, scalar or array (1400 to 2300 K); coefficients: 'msts' or 'jsps'. Gases
    enter at 1 atm, the standard of both sets; the scale of substances.gibbs has 1 bar, which is
    allowed for. Raises InputError. Source: solution.csv and the pure substances.
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


def gamma0(element, T, coefficients="msts"):
    """Raoultian activity coefficient at infinite dilution in liquid iron, dimensionless: exp(dG/RT)
    100 M / M_Fe.

    element: one whose reference state is a pure solid or liquid (the others raise InputError); T:
    K, scalar or array. Source: solution.csv.
    """
    row = solution_row(element, coefficients)
    if row["phase"] == "gas":
        raise InputError(
            f"gamma0 of {element} in set {coefficients!r}: its reference state is a gas, so there "
            "is none."
        )
    exponent = solution_gibbs(element, T, coefficients) / (value("gas_constant") * T)
    return np.exp(exponent) * 100.0 * atomic_weight(element) / atomic_weight("Fe")
