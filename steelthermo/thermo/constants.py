"""Equilibrium constants of liquid iron with gases, oxides and sulphides.

log_k: decadic logarithm for the equation as written; dissolved elements in Henrian activity (1 mass
%), gases in atm, oxides and sulphides pure (SiO2: the solid stable at T; FeO: the liquid oxide that
iron is in equilibrium with). Where good data of the pure oxide exist, the constant is computed from
them and from the Gibbs energies of solution of the chosen set, so constants and coefficients never
come from two sets; printed lines stand beside them by name. Titanium, phosphorus and FeO: a printed
line, because no such data serve.
"""

import re
import warnings
from collections.abc import Mapping
from functools import cache

import numpy as np

from ..base import (
    ExtrapolationWarning,
    Number,
    between,
    extrapolated,
    kelvin,
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
_STOICHIOMETRIC = (
    "stoichiometric FeO is not the oxide that iron is in equilibrium with; it gives "
    "half the measured oxygen"
)


@cache
def _iron_oxide():
    """The lines of oxygen under pure iron oxide (slag_oxygen.csv) as constants of Fe + [O] =
    FeO; the first is the default.
    """
    out = []
    for row in rows("slag_oxygen"):
        if row["key"] in ("FetO", "FetO-2"):
            limits = (
                (kelvin(row["low_c"]), kelvin(row["high_c"]))
                if row["range_basis"] == "published"
                else (None, None)
            )
            law = {
                "a_k": -row["b_k"],
                "b": -row["c"],
                "low_k": limits[0],
                "high_k": limits[1],
                "default": "no" if out else "yes",
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
    ['gibbs', 'co_course', 'jsps_recalled']
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


def _line(key, line):
    table = lines(key)
    if line is None:
        return next(row for row in table.values() if row["default"] == "yes")
    return table[one_of(f"line of {key}", line, table)]


def log_k(key: str, T: Number, coefficients: str = DEFAULT_SET, line: str | None = None) -> Number:
    """Decadic logarithm of an equilibrium constant; standard states: head of this module.

    Parameters
    ----------
    key : one of keys()
    T : 1400 to 2300 K; scalar or array
    coefficients : 'jsps' or 'msts', where the constant is computed ('gibbs'); Mg-S needs 'msts'
    line : a printed line of lines(key); None for the default

    Returns
    -------
    log10 K

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning outside the range of a printed line, and for stoichiometric FeO.

    References
    ----------
    sources('equilibrium C-O')

    Examples
    --------
    >>> print(round(log_k("C-O", 1873.15), 2))
    2.63
    """
    T = between("temperature", T, 1400.0, 2300.0, "K", "Is this degrees Celsius? T is kelvin.")
    row = _line(key, line)
    if row["line"] == "gibbs":
        if key == "Fe-O":
            warnings.warn(
                f"equilibrium Fe-O: {_STOICHIOMETRIC}.", ExtrapolationWarning, stacklevel=2
            )
        pressure = np.log10(value("normal_pressure") / value("standard_pressure"))
        return _reaction(row["equation"], coefficients).log_k(T) - _GASES.get(key, 0) * pressure
    low, high = (
        limit if limit is not None else default
        for limit, default in ((row["low_k"], 1400.0), (row["high_k"], 2300.0))
    )
    extrapolated(f"temperature of {row['equation']}", T, low, high, "K", row["source"])
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
    left = lines(key) and _line(key, None)["equation"].split(" = ")[0]
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
