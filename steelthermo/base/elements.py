"""Chemical formulas, molar masses, and mass % to moles."""

import re
from functools import cache

import numpy as np

from .errors import InputError, positive, shown
from .hints import Amounts
from .tables import Table

_WEIGHTS = Table("atomic_weights")
# a symbol or a group in brackets, which may hold brackets itself, and how many of it
_PART = re.compile(r"(?:([A-Z][a-z]?)|\(((?:[^()]|\([^()]*\))*)\))(\d+(?:\.\d+)?)?")


@cache
def atomic_weight(element: str) -> float:
    """Atomic weight of an element.

    Parameters
    ----------
    element : its symbol

    Returns
    -------
    g/mol

    Raises
    ------
    InputError
        For an unknown symbol.

    References
    ----------
    Cantera's element data (IUPAC).

    Examples
    --------
    >>> atomic_weight("Fe")
    55.845
    """
    if element not in _WEIGHTS.by_key:
        raise InputError(
            f"element: {shown(element)} was given; a chemical symbol such as Fe, C or Si is needed."
        )
    return _WEIGHTS.by_key[element]["value"]


def _atoms(text):
    """{symbol: count} of a formula; empty where it is none."""
    out, position = {}, 0
    for part in _PART.finditer(text):
        symbol, group, count = part.groups()
        inner, count = {symbol: 1.0} if symbol else _atoms(group), float(count or 1)
        if part.start() != position or not inner or not count:
            return {}
        position = part.end()
        for s, n in inner.items():
            out[s] = out.get(s, 0.0) + n * count
    return out if position == len(text) else {}


@cache
def _formula(text):
    """Atoms in a plain formula as a tuple of (symbol, count)."""
    if not isinstance(text, str) or not text or "." in re.sub(r"\d\.\d", "", text):
        raise InputError(
            f"formula: {shown(text)} was given; a formula such as SiO2, Fe0.947O or Ca3(PO4)2 is "
            "needed."
        )
    atoms = _atoms(text)
    if not atoms:
        raise InputError(
            f"formula: {shown(text)} was given; it cannot be read as a chemical formula such as "
            "SiO2 or Ca3(PO4)2."
        )
    for symbol in atoms:
        atomic_weight(symbol)
    return tuple(atoms.items())


def formula(text: str) -> dict:
    """Atoms of each element in a plain formula.

    Parameters
    ----------
    text : such as SiO2, Fe0.947O or Ca3(PO4)2

    Returns
    -------
    atoms by symbol

    Raises
    ------
    InputError

    Examples
    --------
    >>> formula("Ca3(PO4)2")
    {'Ca': 3.0, 'P': 2.0, 'O': 8.0}
    """
    if not isinstance(text, str):
        raise InputError(
            f"formula: {shown(text)} was given; a text such as SiO2, Fe0.947O or Ca3(PO4)2 is "
            "needed."
        )
    return dict(_formula(text))


@cache
def molar_mass(text: str) -> float:
    """Molar mass of a formula.

    Parameters
    ----------
    text : as for formula()

    Returns
    -------
    g/mol

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(molar_mass("SiO2"), 3)
    60.083
    """
    return sum(atomic_weight(s) * n for s, n in _formula(text))


@cache
def _fractions(text):
    return tuple((s, atomic_weight(s) * n / molar_mass(text)) for s, n in _formula(text))


def mass_fractions(text: str) -> dict:
    """Share of each element in the mass of a formula.

    Parameters
    ----------
    text : as for formula()

    Returns
    -------
    kg/kg by symbol

    Raises
    ------
    InputError

    Examples
    --------
    >>> {e: round(x, 4) for e, x in mass_fractions("SiO2").items()}
    {'Si': 0.4674, 'O': 0.5326}
    """
    return dict(_fractions(text))


def _shares(analysis, name, weigh):
    if not analysis or not hasattr(analysis, "items"):
        raise InputError(
            f"{name}: {shown(analysis)} was given; an analysis such as {{'CaO': 50, 'SiO2': 14}} "
            "is needed, with one species at least."
        )
    amounts = {
        species: weigh(positive(f"{name}, {species}", pct, "%"), molar_mass(species))
        for species, pct in analysis.items()
    }
    total = sum(amounts.values())
    if np.any(np.asarray(total) == 0):
        raise InputError(f"{name}: all shares are zero; at least one must be more than zero.")
    return {species: 100.0 * amount / total for species, amount in amounts.items()}


def mass_to_mole_pct(analysis: Amounts) -> dict:
    """Mole % of each species from mass %.

    Parameters
    ----------
    analysis : mass % by formula; arrays broadcast; it need not sum to 100

    Returns
    -------
    mole % by formula, which sum to 100

    Raises
    ------
    InputError

    Examples
    --------
    >>> {o: round(x, 2) for o, x in mass_to_mole_pct({"CaO": 50, "SiO2": 50}).items()}
    {'CaO': 51.72, 'SiO2': 48.28}
    """
    return _shares(analysis, "mass %", lambda pct, m: pct / m)
