"""Where iron alloys begin to freeze, how much carbon they can hold, and their density: by formulas,
with what each is worth.

The three formulas for steel are second-hand: 'steel 1' is the default because it alone meets the
peritectic liquid of iron-carbon (0.53 % C near 1495 degC); the others lie up to 4 degC below it at
0.5 % C and 7 degC at 0.8 % C. The formula for hot metal was read.
"""

from collections.abc import Iterable
from functools import cache

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Table,
    between,
    celsius,
    constant,
    extrapolated,
    plain,
    positive,
    value,
)

_IRON = ("steel 1", "hot metal")  # the lower of the two is where iron begins to freeze
FORMULAS = ("whole", "iron", "steel 1", "steel 2", "steel 3", "hot metal")


@cache
def _terms(formula):
    return {row["term"]: row for row in Table("liquidus").where("formula", formula)}


def _straight(formula, analysis, quiet=False):
    terms, out = _terms(formula), 0.0
    for element, pct in analysis.items():
        pct = positive(f"{element} in the metal", pct, "%")
        if element in terms and element != "Fe":
            row = terms[element]
            if not quiet:
                extrapolated(
                    f"{element} in liquidus formula {formula!r}",
                    pct,
                    row["low_pct"],
                    row["high_pct"],
                    "%",
                    row["place"],
                )
            out = out + row["value_c"] * pct
    return terms["base"]["value_c"] + out


def _silicon_and_others(analysis):
    return sum(
        value(f"carbon_saturation_{e.lower()}")
        * positive(f"{e} in the metal", analysis.get(e, 0.0), "%")
        for e in ("Si", "P", "S", "Mn")
    )


def liquidus_c(analysis_pct: Amounts, formula: str = "whole") -> Number:
    """Liquidus temperature: where the first solid forms on cooling.

    Parameters
    ----------
    analysis_pct : mass % by symbol; arrays broadcast; elements without a term count nothing
    formula : 'steel 1', 'steel 2', 'steel 3' (to 0.8 % C), 'hot metal' (up to the eutectic), 'iron'
        (the lower of 'steel 1' and 'hot metal') or 'whole' (beyond the eutectic graphite saturation
        too)

    Returns
    -------
    degC

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning for a steel formula above 0.8 % C.

    References
    ----------
    sources('liquidus steel 1'). The joining is the kit's own: continuous, eutectic at 4.25 % C and
    1157 degC. An assessment of 180 measured points found the best published steel formula off by
    2.1 +- 1.6 degC (mmtb21).

    Examples
    --------
    >>> round(liquidus_c({"C": 0.05, "Mn": 0.3}))
    1531
    """
    if formula not in ("whole", "iron"):
        return plain(_straight(formula, analysis_pct))
    iron = np.minimum(*(_straight(f, analysis_pct, quiet=True) for f in _IRON))
    if formula == "iron":
        return plain(iron)
    excess = (
        positive("C in the metal", analysis_pct.get("C", 0.0), "%")
        - value("carbon_saturation_a_pct")
        - _silicon_and_others(analysis_pct)
    )
    return plain(np.maximum(iron, excess / value("carbon_saturation_b_pct_c")))


def carbon_saturation_pct(T: Number, analysis_pct: Amounts | None = None) -> Number:
    """Carbon of liquid iron beside graphite.

    Parameters
    ----------
    T : 1400 to 2100 K; arrays broadcast
    analysis_pct : mass % of Si, P, S and Mn, which move it; others count nothing

    Returns
    -------
    mass % C

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning outside 1154 to 1650 degC.

    References
    ----------
    Our straight line through the assessment of iron_carbon.csv, within 0.005 %; at most 0.06 % from
    Gokcen (1994). sources('carbon_saturation_a_pct').

    Examples
    --------
    >>> round(carbon_saturation_pct(1623.15), 2)
    4.75
    """
    row = constant("carbon_saturation_a_pct")
    temp_c = celsius(between("temperature", T, 1400.0, 2100.0, "K"))
    extrapolated("temperature of carbon saturation", temp_c, row["low"], row["high"], "°C")
    line = row["value"] + value("carbon_saturation_b_pct_c") * temp_c
    return plain(line + _silicon_and_others(analysis_pct or {}))


def iron_liquidus_terms(elements: Iterable[str]) -> tuple:
    """What 'iron' of liquidus_c() is made of, for sums over many compositions.

    Parameters
    ----------
    elements : symbols, each with a term

    Returns
    -------
    (degC of each of the two formulas at 0 %, (2,); degC per mass %, (2, elements))

    References
    ----------
    As liquidus_c()

    Examples
    --------
    >>> iron_liquidus_terms(["C"])[0]
    array([1536., 1625.])
    """
    terms = [_terms(f) for f in _IRON]
    return (
        np.array([t["base"]["value_c"] for t in terms]),
        np.array([[t[e]["value_c"] for e in elements] for t in terms]),
    )


def liquidus_spread_c(analysis_pct: Amounts) -> dict:
    """How far the formulas for steel differ.

    Parameters
    ----------
    analysis_pct : mass % by symbol; arrays broadcast

    Returns
    -------
    degC by formula

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning above 0.8 % C.

    References
    ----------
    As liquidus_c()

    Examples
    --------
    >>> {f: round(c) for f, c in liquidus_spread_c({"C": 0.5}).items()}
    {'steel 1': 1497, 'steel 2': 1493, 'steel 3': 1493}
    """
    return {
        formula: liquidus_c(analysis_pct, formula)
        for formula in FORMULAS
        if formula.startswith("steel")
    }


def carbon_at_liquidus(
    arrest_c: Number, analysis_pct: Amounts | None = None, formula: str = "steel 1"
) -> Number:
    """Carbon of a steel from its liquidus.

    Parameters
    ----------
    arrest_c : liquidus, 1130 to 1540 degC; arrays broadcast
    analysis_pct : the other elements, mass %
    formula : one of the straight ones of liquidus_c()

    Returns
    -------
    mass %

    Raises
    ------
    InputError
        Also above the liquidus without carbon.

    References
    ----------
    As liquidus_c()

    Examples
    --------
    >>> round(carbon_at_liquidus(1500.0, {"Mn": 0.3}), 2)
    0.44
    """
    if formula in ("whole", "iron"):
        raise InputError(
            f"liquidus formula: {formula!r} was given; a straight one is needed to find carbon, "
            f"such as "
            "'steel 1'."
        )
    others = {e: p for e, p in (analysis_pct or {}).items() if e != "C"}
    top = _straight(formula, others)
    arrest = between("liquidus arrest", arrest_c, 1130.0, 1540.0, "°C")
    carbon = (arrest - top) / _terms(formula)["C"]["value_c"]
    if np.any(np.asarray(carbon) < 0):
        raise InputError(
            f"liquidus arrest: {np.max(arrest):g} °C was given; without any carbon this metal "
            f"freezes at {np.min(top):.1f} °C. Check the sample."
        )
    high = _terms(formula)["C"]["high_pct"]
    if high is not None:
        extrapolated(f"carbon by liquidus formula {formula!r}", carbon, 0.0, high, "%")
    return plain(carbon)


def density_kg_m3(T: Number) -> Number:
    """Density of pure liquid iron. Carbon and silicon lower it by a few per cent, which is not
    counted.

    Parameters
    ----------
    T : 1809 to 2480 K, from 1400 as a supercooled liquid; scalar or array

    Returns
    -------
    kg/m3

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning below 1809 K.

    References
    ----------
    sources('density_iron_a'), uncertainty 0.8 % as stated there

    Examples
    --------
    >>> round(density_kg_m3(1873.15))
    6977
    """
    T = between("temperature", T, 1400.0, 2480.0, "K")
    extrapolated("temperature of liquid iron", T, 1809.0, 2480.0, "K", "range of the correlation")
    return value("density_iron_a") + value("density_iron_b") * (T - value("density_iron_t0"))
