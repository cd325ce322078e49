"""Pure substances: heat capacity, enthalpy, entropy and Gibbs energy from Cantera's NASA data and
our own supplement.

Zero of enthalpy: the elements in their stable state at 298.15 K (phosphorus: white), so that the
enthalpy of a compound at 298.15 K is its enthalpy of formation. Standard pressure 1 bar: the
entropies in the NASA data are those at 1 bar, although Cantera reports 101 325 Pa.
"""

from bisect import bisect_right
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    nearest,
    rows,
    shown,
    value,
)
from .phases import Substance


@cache
def substance_names() -> tuple:
    """Substances with data.

    Returns
    -------
    formulas

    Examples
    --------
    >>> substance_names()[:3]
    ('Fe', 'Si', 'C')
    """
    return tuple(dict.fromkeys(row["formula"] for row in rows("phases")))


_substances = {}
_named = {}  # by formula, phase and supercooled: limits of the phase, and its enthalpy call
# by formula: limits of the phases, and the enthalpy call between them (outside: the refusal); where
# phases leave no gap
_quick = {}


def substance(formula: str) -> Substance:
    """A pure substance with its phases.

    Parameters
    ----------
    formula : as in substance_names(), such as 'SiO2'

    Returns
    -------
    Substance

    Raises
    ------
    InputError
        For one without data, with the nearest names.

    Examples
    --------
    >>> substance("SiO2").phase_at(1873.15)
    SiO2 (cristobalite, 500 to 2000 K)
    """
    found = _substances.get(formula) if isinstance(formula, str) else None
    if found is None:
        if formula not in substance_names():
            near = nearest(formula, substance_names())
            raise InputError(
                f"substance: {shown(formula)} was given; there are no data for it. "
                f"{'Near it: ' + ', '.join(near) + '. ' if near else ''}"
                "substance_names() lists all, in plain notation such as SiO2 or Ca3(PO4)2."
            )
        found = _substances.setdefault(formula, Substance(formula))
        if found._to[:-1] == found._starts:
            limits = [found._low, *found._starts, np.nextafter(found._high, np.inf).item()]
            _quick[formula] = (
                limits,
                [found._outside, *(p.thermo.h for p in found._chain), found._outside],
            )
    return found


def heat_capacity(
    formula: str, T: Number, phase: str | None = None, supercooled: bool = False
) -> Number:
    """Heat capacity at constant pressure.

    Parameters
    ----------
    formula : as in substance_names()
    T : K; scalar or array
    phase : name of a phase ('alpha', 'gas') or of a state ('s'); None for the phase stable at T
    supercooled : True allows a named liquid metal below its melting point, see phases.csv

    Returns
    -------
    J/(mol K)

    Raises
    ------
    InputError
        Outside the range of the data.

    References
    ----------
    sources(formula): each phase has its own

    Examples
    --------
    >>> round(heat_capacity("Fe", 1873.15), 1)
    46.0
    """
    return _gated(formula, T).evaluate("cp", T, phase, supercooled)


@cache
def _measured():
    """Formulas of which a phase is used beyond what was measured of it."""
    return frozenset(row["formula"] for row in rows("phases") if row["holds"] != "none")


def _gated(formula, T):
    found = substance(formula)
    if found.formula in _measured():
        found.gate(T)
    return found


def enthalpy(
    formula: str,
    T: Number,
    phase: str | None = None,
    supercooled: bool = False,
    quiet: bool = False,
) -> Number:
    """Enthalpy against the elements at 298.15 K: at 298.15 K this is the enthalpy of formation.

    Parameters
    ----------
    formula, T, phase, supercooled : as in heat_capacity()
    quiet : True gives no warning: for the balance of a slag, where 0.2 °C of the steel hang on it

    Returns
    -------
    J/mol

    Raises
    ------
    InputError
        Outside the range of the data.

    Warns
    -----
    ExtrapolationWarning beyond what was measured of a phase, as of Ca3(PO4)2 above 1600 K.

    References
    ----------
    sources(formula)

    Examples
    --------
    >>> round(enthalpy("CO2", 298.15) / 1000.0, 1)
    -393.5
    """
    if (
        type(T) is float and type(formula) is str and (quiet or formula not in _measured())
    ):  # single heats call this by the hundred: keep it short
        if phase is None:
            if quick := _quick.get(formula):
                return quick[1][bisect_right(quick[0], T)](T) * 0.001
        elif type(phase) is str and (named := _named.get((formula, phase, supercooled))):
            if named[0] <= T <= named[1]:
                return named[2](T) * 0.001
        elif type(phase) is str:
            chosen = substance(formula).phase(phase)
            _named[formula, phase, supercooled] = (
                chosen.low_limit(supercooled),
                chosen.high_k,
                chosen.thermo.h,
            )
    known = substance(formula) if quiet else _gated(formula, T)
    return known.evaluate("h", T, phase, supercooled)


def entropy(formula: str, T: Number, phase: str | None = None, supercooled: bool = False) -> Number:
    """Absolute entropy at 1 bar.

    Parameters
    ----------
    formula, T, phase, supercooled : as in heat_capacity()

    Returns
    -------
    J/(mol K)

    Raises
    ------
    InputError
        Outside the range of the data.

    References
    ----------
    sources(formula)

    Examples
    --------
    >>> round(entropy("O2", 298.15), 1)
    205.1
    """
    return _gated(formula, T).evaluate("s", T, phase, supercooled)


def gibbs(formula: str, T: Number, phase: str | None = None, supercooled: bool = False) -> Number:
    """Gibbs energy H - T S, with H as in enthalpy() and S as in entropy().

    Parameters
    ----------
    formula, T, phase, supercooled : as in heat_capacity()

    Returns
    -------
    J/mol

    Raises
    ------
    InputError
        Outside the range of the data.

    References
    ----------
    sources(formula)

    Examples
    --------
    >>> round(gibbs("CO", 1873.15) / 1000.0, 1)
    -538.5
    """
    return _gated(formula, T).evaluate("g", T, phase, supercooled)


def heat_content(
    formula: str,
    T: Number,
    phase: str | None = None,
    supercooled: bool = False,
    quiet: bool = False,
) -> Number:
    """What it takes to heat a substance from 25 degC, from the phase stable there.

    Parameters
    ----------
    formula, T, phase, supercooled : as in heat_capacity()
    quiet : as in enthalpy()

    Returns
    -------
    H(T) - H(298.15 K), J/mol

    Raises
    ------
    InputError
        Outside the range of the data.

    References
    ----------
    sources(formula)

    Examples
    --------
    >>> round(heat_content("Fe", 1873.15) / 1000.0, 1)
    75.6
    """
    return enthalpy(formula, T, phase, supercooled, quiet) - formation_enthalpy_298(formula)


@cache
def formation_enthalpy_298(formula: str) -> float:
    """Enthalpy of formation at 298.15 K of the phase counted there: quartz for SiO2, white
    phosphorus, larnite for Ca2SiO4.

    Parameters
    ----------
    formula : as in substance_names()

    Returns
    -------
    J/mol

    Raises
    ------
    InputError

    References
    ----------
    sources(formula)

    Examples
    --------
    >>> round(formation_enthalpy_298("SiO2") / 1000.0, 1)
    -910.9
    """
    return substance(formula).evaluate("h", value("reference_temperature"))


def phase_at(formula: str, T: float) -> str:
    """The phase that is stable.

    Parameters
    ----------
    formula : as in substance_names()
    T : K, one number

    Returns
    -------
    its name

    Raises
    ------
    InputError
        Outside the range of the data.

    Examples
    --------
    >>> phase_at("Fe", 1873.15)
    'liquid'
    """
    return substance(formula).phase_at(T).name
