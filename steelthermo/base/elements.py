"""Chemical formulas, molar masses, and mass % to moles."""

import re
from functools import cache

import numpy as np

from .errors import InputError, positive, shown
from .hints import Amounts
from .tables import Table

_WEIGHTS = Table("atomic_weights")
_TOKEN = re.compile(r"([A-Z][a-z]?)|(\()|(\))|(\d+(?:\.\d+)?)")


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


@cache
def _formula(text):
    """Atoms in a plain formula as a tuple of (symbol, count)."""
    if not isinstance(text, str) or not text or "." in re.sub(r"\d\.\d", "", text):
        raise InputError(
            f"formula: {shown(text)} was given; a formula such as SiO2, Fe0.947O or Ca3(PO4)2 is "
            "needed."
        )
    stack, position = [{}], 0
    last = None
    for match in _TOKEN.finditer(text):
        if match.start() != position:
            break
        position = match.end()
        symbol, opened, closed, number = match.groups()
        if symbol:
            atomic_weight(symbol)
            stack[-1][symbol] = stack[-1].get(symbol, 0.0) + 1.0
            last = {symbol: 1.0}
        elif opened:
            stack.append({})
            last = None
        elif closed and len(stack) > 1:
            last = stack.pop()
            for s, n in last.items():
                stack[-1][s] = stack[-1].get(s, 0.0) + n
        elif number and last and float(number) > 0:
            for s, n in last.items():
                stack[-1][s] += n * (float(number) - 1.0)
            last = None
        else:
            position = -1
            break
    if position != len(text) or len(stack) != 1 or not stack[0]:
        raise InputError(
            f"formula: {shown(text)} was given; it cannot be read as a chemical formula such as "
            "SiO2 or Ca3(PO4)2."
        )
    return tuple(stack[0].items())


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
