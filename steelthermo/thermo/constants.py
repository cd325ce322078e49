"""Equilibrium constants of liquid iron with gases, oxides and sulphides.

log_k: decadic logarithm for the equation as written; dissolved elements in Henrian activity (1 mass
%), gases in atm, oxides and sulphides pure (SiO2: the solid stable at T; FeO: the liquid oxide that
iron is in equilibrium with). Where good data of the pure oxide exist, the constant is computed from
them and from the Gibbs energies of solution of the chosen set, so constants and coefficients never
come from two sets; printed lines stand beside them by name. The column `sets` says for which sets a
line is the one taken; a reaction that a set lacks is refused, never borrowed from another.
"""

import re
from collections.abc import Mapping
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    between,
    gate,
    one_of,
    row_provenance,
    rows,
    value,
)
from .interactions import DEFAULT_SET
from .reactions import reaction

_GASES = {
    "C-O": 1,
    "C-CO2": 1,
    "CO-CO2": 0,
    "N2": -0.5,
    "H2": -0.5,
    "H2-O": 0,
}  # mol of gas formed less mol used up


@cache
def _iron_oxide():
    """The lines of oxygen under pure iron oxide (slag_oxygen.csv) as constants of Fe + [O] =
    FeO; the first is the default.
    """
    out = []
    for row in rows("slag_oxygen"):
        if row["key"] in ("FetO", "FetO-2"):
            law = {
                "a_k": -row["b_k"],
                "b": -row["c"],
                "sets": "none" if out else "msts jsps cha08 pak07 itoh97",
            }
            out.append(
                {"key": "Fe-O", "equation": "Fe(l) + [O] = FeO(l)", "line": row["key"]}
                | row
                | law
                | {"key": "Fe-O"}
            )
    return tuple(out)


@cache
def lines(key: str) -> Mapping:
    """Rows of one equilibrium.

    Parameters
    ----------
    key : one of keys()

    Returns
    -------
    rows of equilibria.csv by name of the line

    Raises
    ------
    InputError
        For an unknown key.

    Examples
    --------
    >>> list(lines("C-O"))
    ['gibbs', 'co_course', 'banya62']
    """
    one_of("equilibrium", key, keys())
    return {row["line"]: row for row in (*rows("equilibria"), *_iron_oxide()) if row["key"] == key}


def keys() -> tuple:
    """Names of all equilibria.

    Returns
    -------
    as log_k() takes them

    Examples
    --------
    >>> keys()[:3]
    ('C-O', 'C-CO2', 'CO-CO2')
    """
    return tuple(dict.fromkeys(row["key"] for row in rows("equilibria")))


_reaction = cache(reaction)  # read once: constants are asked for by the hundred


def line_of(key: str, coefficients: str = DEFAULT_SET, line: str | None = None) -> Mapping:
    """The row that log_k() reads.

    Parameters
    ----------
    key : one of keys()
    coefficients : set of INTERACTION_SETS
    line : a line of lines(key); None for the one that goes with the set

    Returns
    -------
    row of equilibria.csv

    Raises
    ------
    InputError
        Where the set has none.

    Examples
    --------
    >>> line_of("Al-O", "itoh97")["line"]
    'itoh97'
    """
    table = lines(key)
    if line is not None:
        return table[one_of(f"line of {key}", line, table)]
    for row in table.values():
        if coefficients in row["sets"].split():
            return row
    held = " ".join(row["sets"] for row in table.values() if row["sets"] != "none")
    raise InputError(
        f"equilibrium {key}: set {coefficients!r} has no constant of it, and none is borrowed; "
        f"sets that have one: {held.replace(' ', ', ')}."
    )


def log_k(key: str, T: Number, coefficients: str = DEFAULT_SET, line: str | None = None) -> Number:
    """Decadic logarithm of an equilibrium constant; standard states: head of this module.

    Parameters
    ----------
    key : one of keys()
    T : 1400 to 2300 K; scalar or array
    coefficients : 'jsps' or 'msts', or a set for one deoxidiser alone
    line : a printed line of lines(key); None for that of the set

    Returns
    -------
    log10 K

    Raises
    ------
    InputError
        Also where the set has no constant of the reaction.

    Warns
    -----
    ExtrapolationWarning outside the temperatures of the line.

    References
    ----------
    sources('equilibrium C-O')

    Examples
    --------
    >>> print(round(log_k("C-O", 1873.15), 2))
    2.63
    """
    T = between("temperature", T, 1400.0, 2300.0, "K")
    row = line_of(key, coefficients, line)
    gate(f"{row['equation']}, {row['line']}", row["holds"], {"T": T})
    if row["line"] == "gibbs":
        pressure = np.log10(value("normal_pressure") / value("standard_pressure"))
        return _reaction(row["equation"], coefficients).log_k(T) - _GASES.get(key, 0) * pressure
    return row["a_k"] / T + row["b"]


@cache
def stoichiometry(key: str) -> tuple:
    """What an equilibrium with oxygen holds on its left.

    Parameters
    ----------
    key : one of keys()

    Returns
    -------
    (element, its number, number of [O]); element is None for Fe-O and the like

    Raises
    ------
    InputError

    Examples
    --------
    >>> stoichiometry("Al-O")
    ('Al', 2.0, 3.0)
    """
    left = next(iter(lines(key).values()))["equation"].split(" = ")[0]
    found = {symbol: float(n or 1) for n, symbol in re.findall(r"([\d.]*) ?\[(\w+)\]", left)}
    n_o = found.pop("O", 0.0)
    element, n = next(iter(found.items()), (None, 0.0))
    return element, n, n_o


def equilibrium_sources(text: str) -> list:
    """Where the lines of an equilibrium come from: what sources() asks.

    Parameters
    ----------
    text : such as 'equilibrium C-O'

    Returns
    -------
    of Provenance

    Raises
    ------
    InputError

    Examples
    --------
    >>> equilibrium_sources("equilibrium C-O")[0].what
    '[C] + [O] = CO, gibbs'
    """
    found = lines(text.removeprefix("equilibrium ")).values()
    return [row_provenance(row, f"{row['equation']}, {row['line']}") for row in found]
