"""Interaction coefficients of the elements dissolved in liquid iron: their sets, laws and sources,
and whether reciprocal pairs agree.

Sets, never mixed: 'msts' (Sigworth and Elliott 1974, mostly from memory, with the Gibbs energies of
msts; kept for history, twelve of its signs are disputed), 'jsps' (Steelmaking Data Sourcebook 1988,
second-hand, with its own; taken where no set is named), for iron-titanium-oxygen alone
'cha08' and 'pak07', for iron-aluminium-magnesium-oxygen alone 'itoh97'. Every coefficient is
e = a/T + b; where no temperature law was published a is zero.

Carbon: no published r_C^C could be read. Without one, the straight line of log f_C misses graphite
saturation: with the zero-carbon limit e_C^C = 0.243 of jsps f_C at saturation comes out three times
too high. Both sets therefore keep their own e_C^C as the limit at zero carbon and carry an r_C^C(T)
chosen so that the carbon activity is 1 where graphite appears by the assessment of iron_carbon.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    Table,
    atomic_weight,
    between,
    finite,
    gate,
    one_of,
    row_provenance,
    rows,
    value,
)
from .solution import SETS

ELEMENTS = tuple("C Si Mn P S O N H Al Cr V Ti Ni Cu".split())
INTERACTION_SETS = (*SETS, "cha08", "pak07", "itoh97")
# of equilibria where none is named: second-hand, while msts is mostly from memory. A
# LiquidMetal names that of its heats.
DEFAULT_SET = "jsps"
TEMPERATURE_RULES = ("published", "semi-regular")


@cache
def coefficient_table(coefficients):
    found = Table("interactions").where("set", coefficients)
    return {(r["i"], r["j"], int(r["order"]), r["k"]): r for r in found}


@cache
def elements_of(coefficients):
    """Elements that a set knows, as a tuple: those with a Gibbs energy of solution or an
    interaction coefficient.
    """
    pairs = [e for i, j, *_ in coefficient_table(coefficients) for e in (i, j)]
    return tuple(
        dict.fromkeys(pairs + [r["element"] for r in rows("solution") if r["set"] == coefficients])
    )


def interaction_row(i: str, j: str, coefficients: str = DEFAULT_SET, order: int = 1) -> Mapping:
    """The row of an interaction coefficient, the effect of j on i.

    Parameters
    ----------
    i, j : symbols
    coefficients : set of INTERACTION_SETS
    order : 1 for e, 2 for r

    Returns
    -------
    law, range, status, source, and what was corrected

    Raises
    ------
    InputError
        If the set has none.

    References
    ----------
    interactions.csv

    Examples
    --------
    >>> interaction_row("C", "Si")["value"]
    0.08
    """
    row = coefficient_table(coefficients).get((i, j, order, "none" if order == 1 else j))
    if row is None:
        name = f"{'e' if order == 1 else 'r'}_{i}^{j}"
        raise InputError(
            f"interaction coefficient: {name} was asked for; set {coefficients!r} has none."
        )
    return row


def law(row, rule):
    """a and b of the coefficient a/T + b."""
    if row["use"] == "no":
        return 0.0, 0.0
    a, b = row["a_k"], row["b"]
    of_carbon = (
        row["i"] == row["j"] == "C"
    )  # its temperature law is that of graphite saturation, in r_C^C
    if rule == "semi-regular" and a == 0.0 and row["order"] == 1.0 and not of_carbon:
        return b * value("semi_regular_a"), b * value("semi_regular_b")
    return a, b


def interaction(
    i: str,
    j: str,
    T: Number = 1873.15,
    coefficients: str = DEFAULT_SET,
    order: int = 1,
    temperature_rule: str = "published",
) -> Number:
    """Interaction coefficient e_i^j or r_i^j: the effect of j on log10 f_i.

    Parameters
    ----------
    i, j : symbols
    T : 1400 to 2300 K; scalar or array
    coefficients : set of INTERACTION_SETS
    order : 1 for e, 2 for r
    temperature_rule : 'published' (laws where published, else the value of 1873 K at every T) or
        'semi-regular' (the others multiplied by 2538/T - 0.355, from memory)

    Returns
    -------
    e per mass %, r per (mass %)^2; zero for a row that is not used

    Raises
    ------
    InputError
        For a pair that the set does not hold.

    Warns
    -----
    ExtrapolationWarning outside the temperatures of the row.

    References
    ----------
    sources('e_C^Si')

    Examples
    --------
    >>> round(interaction("C", "Si", 1873.15), 3)
    0.078
    """
    T = between("temperature", T, 1400.0, 2300.0, "K")
    row = interaction_row(i, j, coefficients, order)
    a, b = law(row, _rule(temperature_rule))
    gate(coefficient_name(row), row["holds"], {"T": T})
    return a / T + b


def _rule(rule):
    return one_of("temperature rule", rule, TEMPERATURE_RULES)


def missing_pairs(elements: Iterable[str], coefficients: str = DEFAULT_SET) -> tuple:
    """Pairs for which a set has no usable coefficient; each counts as zero in activities().

    Parameters
    ----------
    elements : symbols
    coefficients : set of INTERACTION_SETS

    Returns
    -------
    pairs (i, j)

    Raises
    ------
    InputError

    Examples
    --------
    >>> missing_pairs(["C", "Ti"], "msts")
    (('C', 'Ti'), ('Ti', 'C'))
    """
    table = coefficient_table(coefficients)
    return tuple(
        (i, j)
        for i in elements
        for j in elements
        if table.get((i, j, 1, "none"), {"use": "no"})["use"] == "no"
    )


# ---- reciprocity ---------------------------------------------------------------------------------


def reciprocal(i: str, j: str, e_ij: Number) -> Number:
    """The e_j^i that must go with e_i^j at infinite dilution, both being one second derivative of
    the Gibbs energy.

    Parameters
    ----------
    i, j : symbols
    e_ij : per mass %, decadic; scalar or array

    Returns
    -------
    (M_j/M_i) e_i^j + (M_i - M_j)/(230.26 M_i), per mass %

    References
    ----------
    Own derivation, from eps_i^j = eps_j^i = 230.26 (M_j/M_Fe) e_i^j + (M_Fe - M_j)/M_Fe; 230.26 =
    100 ln 10.

    Examples
    --------
    >>> print(round(reciprocal("C", "Si", 0.08), 3))
    0.181
    """
    e_ij = finite("interaction coefficient", e_ij)
    m_i, m_j = atomic_weight(i), atomic_weight(j)
    return m_j / m_i * e_ij + (m_i - m_j) / (100.0 * np.log(10.0) * m_i)


@dataclass(frozen=True, repr=False)
class Pair(Record):
    """One reciprocal pair: e_ij, e_ji, the e_ji that e_ij asks for, whether they agree, and the
    recorded reason if not.
    """

    i: str
    j: str
    e_ij: float
    e_ji: float
    predicted_ji: float
    agrees: bool
    reason: str
    provenance: tuple


def reciprocity(
    coefficients: str = DEFAULT_SET, share: float = 0.15, absolute: float = 0.006
) -> tuple:
    """Every pair of a set of which both members are there, as tabulated, near 1873 K.

    Parameters
    ----------
    coefficients : set of INTERACTION_SETS
    share, absolute : a pair agrees if it misses e_ji by less than this share of it, or by less than
        this amount

    Returns
    -------
    of Pair

    Raises
    ------
    InputError

    Examples
    --------
    >>> found = reciprocity("jsps")
    >>> sum(pair.agrees for pair in found), len(found)
    (133, 136)
    """
    table = coefficient_table(coefficients)
    out = []
    for (i, j, order, _), row in table.items():
        back = table.get((j, i, 1, "none"))
        if order == 1 and back is not None and i < j:
            predicted = reciprocal(i, j, row["value"])
            gap = abs(predicted - back["value"])
            agrees = bool(gap < absolute or gap < share * abs(back["value"]))
            out.append(
                Pair(
                    i,
                    j,
                    row["value"],
                    back["value"],
                    float(predicted),
                    agrees,
                    back["note"] if row["note"] == "none" else row["note"],
                    (coefficient_provenance(row), coefficient_provenance(back)),
                )
            )
    return tuple(out)


# ---- where it comes from -------------------------------------------------------------------------


def coefficient_name(row):
    i, j, k = row["i"], row["j"], row["k"]
    return f"e_{i}^{j}" if k == "none" else f"r_{i}^{j}" if j == k else f"r_{i}^{{{j},{k}}}"


def coefficient_provenance(row):
    law = f"{row['a_k']:g}/T{row['b']:+g}" if row["a_k"] else f"{row['b']:g}"
    used = {"yes": "", "no": ", not used", "disputed": ", sign disputed"}[row["use"]]
    note = "" if row["note"] == "none" else f"; {row['note']}"
    return row_provenance(
        row | {"place": f"{row['place']}{note}"},
        f"{coefficient_name(row)} = {law} (set {row['set']}{used})",
    )


def coefficient_sources(text: str) -> list:
    """Where interaction coefficients come from: what sources() asks.

    Parameters
    ----------
    text : such as 'e_C^Si' or 'coefficient set jsps'

    Returns
    -------
    of Provenance

    Examples
    --------
    >>> print(coefficient_sources("e_C^Si")[0].what)
    e_C^Si = 0.08 (set msts)
    """
    found = [
        coefficient_provenance(row) for row in rows("interactions") if coefficient_name(row) == text
    ]
    if text in (f"coefficient set {s}" for s in INTERACTION_SETS):
        found = [
            coefficient_provenance(row) for row in rows("interactions") if text.endswith(row["set"])
        ]
        found += [
            row_provenance(r, f"Gibbs energy of solution of {r['element']}")
            for r in rows("solution")
            if text.endswith(r["set"])
        ]
    return found
