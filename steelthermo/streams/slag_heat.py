"""What a liquid slag holds more than the compounds in which its heat is counted: the melting and
dissolving of each.

A slag forms of solid lime, magnesia and oxides that combine, which gives heat, and melt, which
takes it. Combining pays for most of the melting, so a liquid slag holds only some 0.25 MJ/kg more
than its compounds, not the heat of melting lime and magnesia. Most of the doubt is in the lime that
nothing binds, then in magnesia and in the mixing with iron oxide.
Range: CaO 34 to 50, SiO2 11 to 24, iron oxides 15 to 35, MgO 7 to 9 %, liquid, 1550 to 1680 degC.
"""

from functools import cache

import numpy as np

from ..base import Number, Table

_TABLE, _AT_C = Table("slag_melting"), 1650.0


@cache
def _terms():
    """{compound: (J/mol at 1650 degC, J/(mol K), sigma in J/mol)}. The lime that a compound takes
    is no longer spare: its term is taken off.
    """
    rows = _TABLE.by_key
    spare = rows["CaO"]["kj_mol"]
    return {
        key: (
            1000.0 * (row["kj_mol"] - row["lime_mol"] * spare),
            row["slope_j_mol_k"],
            1000.0 * row["sigma_kj_mol"],
        )
        for key, row in rows.items()
    }


def melting(compound: str, temp_c: Number) -> Number:
    """Heat that one mol of a compound of the slag takes to melt and dissolve in it.

    Parameters
    ----------
    compound : str
        As in Slag.compounds_mol(); zero for what the table does not hold.
    temp_c : float or array
        degC.

    Returns
    -------
    float or array
        J/mol.

    References
    ----------
    slag_melting.csv.

    Examples
    --------
    >>> melting("MgO", 1600.0)
    50000.0
    """
    at, slope, _ = _terms().get(compound, (0.0, 0.0, 0.0))
    return at + slope * (temp_c - _AT_C) if slope else at


def melting_terms(compounds_mol: dict, temp_c: Number) -> dict:
    """Terms of melting and dissolving of a slag, each with its standard uncertainty.

    Parameters
    ----------
    compounds_mol : dict
        mol by compound, as Slag.compounds_mol() gives them.
    temp_c : float or array
        degC.

    Returns
    -------
    dict
        (kJ, kJ) by compound: the term and its sigma.

    Examples
    --------
    >>> melting_terms({"MgO": 2.0}, 1650.0)
    {'MgO': (100.0, 24.0)}
    """
    return {
        name: (mol * melting(name, temp_c) / 1000.0, mol * _terms()[name][2] / 1000.0)
        for name, mol in compounds_mol.items()
        if name in _terms()
    }


def together(terms: dict[str, tuple[Number, Number]]) -> tuple:
    """Sum of terms and its sigma (each independent of the others).

    Parameters
    ----------
    terms : (term, sigma) by name, in one unit

    Returns
    -------
    (sum, sigma), in that unit

    Examples
    --------
    >>> together({"MgO": (100.0, 3.0), "CaO": (20.0, 4.0)})
    (120.0, 5.0)
    """
    spread = np.sqrt(sum(np.square(sigma) for _, sigma in terms.values()))
    return sum(x for x, _ in terms.values()), spread if np.ndim(spread) else float(spread)


def provenance():
    """Where the terms come from."""
    return tuple(_TABLE.provenance_of(row) for row in _TABLE.rows)
