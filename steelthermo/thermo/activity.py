"""Activities of the elements dissolved in liquid iron, by interaction coefficients.

log10 f_i = sum over j of e_i^j [%j] + r_i^j [%j]^2, h_i = f_i [%i]: Henrian activity, 1 mass % as
reference. Sets, never mixed:
'msts' (Sigworth and Elliott 1974, mostly recalled, with the Gibbs energies of msts), 'jsps'
(Steelmaking Data Sourcebook 1988, published but for r_C^C, with its own; taken where no set is
named), and for iron-titanium-oxygen alone 'cha08' and 'pak07'. Every coefficient is e = a/T + b;
where no temperature law was published a is zero.

Carbon: no published r_C^C could be read. Without one, the straight line of log f_C misses graphite
saturation: with the zero-carbon limit e_C^C = 0.243 of jsps f_C at saturation comes out three times
too high. Both sets therefore keep their own e_C^C as the limit at zero carbon and carry an r_C^C(T)
chosen so that the carbon activity is 1 where the recalled saturation line says graphite appears.
"""

import warnings
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType

import numpy as np

from ..base import (
    ExtrapolationWarning,
    InputError,
    Record,
    Table,
    atomic_weight,
    between,
    one_of,
    positive,
    row_provenance,
    rows,
    value,
)
from .solution import SETS

ELEMENTS = tuple("C Si Mn P S O N H Al Cr V Ti Ni Cu".split())
INTERACTION_SETS = (*SETS, "cha08", "pak07")
# of equilibria where none is named: published but for r_C^C, while msts is mostly recalled. A
# LiquidMetal names that of its heats.
DEFAULT_SET = "jsps"
TEMPERATURE_RULES = ("published", "semi-regular")


@cache
def _table(coefficients):
    found = Table("interactions").where("set", coefficients)
    return {(r["i"], r["j"], int(r["order"])): r for r in found}


@cache
def elements_of(coefficients):
    """Elements that a set knows, as a tuple: those with a Gibbs energy of solution or an
    interaction coefficient.
    """
    pairs = [e for i, j, _ in _table(coefficients) for e in (i, j)]
    return tuple(
        dict.fromkeys(pairs + [r["element"] for r in rows("solution") if r["set"] == coefficients])
    )


def interaction_row(i, j, coefficients=DEFAULT_SET, order=1):
    """Row of interactions.csv: the effect of j on i, with law, range, status, source and what
    was corrected. Raises InputError if there is none.
    """
    row = _table(coefficients).get((i, j, order))
    if row is None:
        name = f"{'e' if order == 1 else 'r'}_{i}^{j}"
        raise InputError(
            f"interaction coefficient: {name} was asked for; set {coefficients!r} has none."
        )
    return row


def _law(row, rule):
    """a and b of the coefficient a/T + b."""
    if row["use"] != "yes":
        return 0.0, 0.0
    a, b = row["a_k"], row["b"]
    of_carbon = (
        row["i"] == row["j"] == "C"
    )  # its temperature law is that of graphite saturation, in r_C^C
    if rule == "semi-regular" and a == 0.0 and row["order"] == 1.0 and not of_carbon:
        return b * value("semi_regular_a"), b * value("semi_regular_b")
    return a, b


def interaction(i, j, T=1873.15, coefficients=DEFAULT_SET, order=1, temperature_rule="published"):
    """Interaction coefficient e_i^j (order=1, per mass %) or r_i^j (order=2, per mass % squared):
    the effect of j on log10 f_i.

    i, j: symbols; T: K, scalar or array (1400 to 2300); coefficients: the set. temperature_rule:
    'published' (laws where published, else the value of 1873 K at every T) or 'semi-regular' (the
    others multiplied by 2538/T - 0.355, recalled). A row that is not used counts as zero.
    Raises InputError for a pair that the set does not hold. Source: sources('e_C^Si').
    """
    T = between("temperature", T, 1400.0, 2300.0, "K", "Is this degrees Celsius? T is kelvin.")
    a, b = _law(interaction_row(i, j, coefficients, order), _checked(temperature_rule))
    return a / T + b


def _checked(rule):
    return one_of("temperature rule", rule, TEMPERATURE_RULES)


@cache
def _matrices(present, coefficients, rule):
    """a and b of e (n x n) for the elements present, and the second-order terms (i, j, a, b) among
    them.
    """
    n = len(present)
    at = {e: k for k, e in enumerate(present)}
    a, b, second = np.zeros((n, n)), np.zeros((n, n)), []
    for (i, j, order), row in _table(coefficients).items():
        if i in at and j in at:
            law = _law(row, rule)
            if order == 1:
                a[at[i], at[j]], b[at[i], at[j]] = law
            elif any(law):
                second.append((at[i], at[j], *law))
    return a, b, tuple(second)


@cache
def _limits(present, coefficients):
    """(i, j, element whose content is limited, % up to which the coefficient was measured) of the
    pairs present.
    """
    out = []
    for (i, j, _), row in _table(coefficients).items():
        if (
            row["limit_pct"] is not None
            and row["use"] == "yes"
            and {i, j, row["limit_of"]} <= set(present)
        ):
            out.append((i, j, row["limit_of"], row["limit_pct"]))
    return tuple(out)


@dataclass(frozen=True, eq=False, repr=False)
class Activities(Record):
    """Activities of one melt, or of many at once, by one coefficient set.

    analysis_pct: mass % by element; T: K; coefficients: the set; f: activity coefficients; h:
    Henrian activities (1 mass %), by element, floats or arrays; remarks: which coefficients were
    used beyond the range in which they were measured.
    """

    analysis_pct: MappingProxyType
    T: float
    coefficients: str
    f: MappingProxyType
    h: MappingProxyType
    remarks: tuple = field(default=())

    def _shown(self):
        rows = [(e, x, self.f[e], self.h[e]) for e, x in self.analysis_pct.items() if e in self.h]
        return f"activities, set {self.coefficients}", ("", "mass %", "f", "h (1 mass %)"), rows

    def warn_about(self, what, *elements, stacklevel=3):
        """Pass on, as one ExtrapolationWarning, the remarks that concern the activity coefficients
        of these elements; what: names the result.
        """
        of_them = [r for r in self.remarks if r.split("^")[0].removeprefix("e_") in elements]
        if of_them:
            warnings.warn(
                f"{what} (set {self.coefficients}): {'; '.join(of_them)}; the result is "
                "extrapolated.",
                ExtrapolationWarning,
                stacklevel=stacklevel,
            )

    @property
    def provenance(self):
        """Source of every coefficient that had a part in the result."""
        pairs = _table(self.coefficients).items()
        return tuple(
            _provenance(row)
            for (i, j, _), row in pairs
            if {i, j} <= set(self.f) and row["use"] == "yes"
        )


def activities(
    analysis_pct,
    T,
    coefficients=DEFAULT_SET,
    second_order=True,
    temperature_rule="published",
    quiet=False,
):
    """Activities of the elements in a melt of given analysis.

    analysis_pct: mass % by symbol (floats or arrays that broadcast; zero gives the coefficient at
    infinite dilution; 'Fe' may stand in it and is ignored). T: K, scalar or array. coefficients: a
    set of INTERACTION_SETS (DEFAULT_SET: jsps). second_order: False leaves the r terms away.
    temperature_rule: see interaction(). quiet=True keeps the remarks in the result and gives no
    warning.
    Returns Activities. Raises InputError for unknown elements, negative shares, more than 100 %,
    shapes that do not match.
    Warns (ExtrapolationWarning, one for all) where contents leave the measured range of a
    coefficient. Pairs without a published coefficient count as zero: missing_pairs() lists them.
    Source: interactions.csv.
    """
    T = between("temperature", T, 1400.0, 2300.0, "K", "Is this degrees Celsius? T is kelvin.")
    known = elements_of(coefficients)
    present, shares = [], []
    for element, pct in analysis_pct.items():
        if element == "Fe":
            continue
        if element not in known:
            raise InputError(
                f"analysis: {element!r} was given; set {coefficients!r} knows {', '.join(known)}."
            )
        present.append(element)
        shares.append(positive(f"{element} in liquid iron", pct, "%"))
    if not present:
        raise InputError(
            "analysis: no dissolved element was given; one such as {'C': 0.05} is needed."
        )
    try:
        shape = np.broadcast_shapes(np.shape(T), *(np.shape(s) for s in shares))
    except ValueError:
        raise InputError(
            f"analysis and temperature: shapes {np.shape(T)} and {[np.shape(s) for s in shares]} "
            "do not match."
        ) from None
    P = np.empty((len(present), *shape))
    for k, share in enumerate(shares):
        P[k] = share
    total = P.sum(axis=0)
    if np.any(total > 100.0):
        raise InputError(
            f"analysis: the dissolved elements add up to {np.max(total):g} %; allowed is 100 %."
        )
    a, b, second = _matrices(tuple(present), coefficients, _checked(temperature_rule))
    flat = P.reshape(len(present), -1)
    inverse = np.broadcast_to(1.0 / np.asarray(T, dtype=float), shape).reshape(-1)
    log_f = b @ flat
    if a.any():
        log_f += (a @ flat) * inverse
    if second_order:
        for i, j, ra, rb in second:
            log_f[i] += (ra * inverse + rb) * flat[j] ** 2
    f = np.power(10.0, log_f).reshape(P.shape)
    h = f * P
    remarks = _remarks(tuple(present), P, coefficients, second_order)
    if remarks and not quiet:
        warnings.warn(
            f"activities (set {coefficients}): {'; '.join(remarks)}; the result is extrapolated.",
            ExtrapolationWarning,
            stacklevel=2,
        )
    take = (lambda x: x) if shape else float

    def by(x):
        return MappingProxyType({e: take(x[k]) for k, e in enumerate(present)})

    return Activities(by(P), T, coefficients, by(f), by(h), remarks)


def _remarks(present, P, coefficients, second_order):
    out = []
    most = dict(zip(present, P.reshape(len(present), -1).max(axis=1, initial=0.0), strict=True))
    for i, j, of, limit in _limits(present, coefficients):
        if most[of] > limit:
            out.append(f"e_{i}^{j} is known up to {limit:g} % {of} and {most[of]:.3g} % was given")
    if not second_order and most.get("C", 0.0) > value("carbon_linear_limit_pct"):
        out.append(
            f"without r_C^C, e_C^C is the limit at zero carbon and {most['C']:.3g} % C was given"
        )
    return tuple(out)


def missing_pairs(elements, coefficients=DEFAULT_SET):
    """Pairs (i, j) of the given elements for which the set has no usable coefficient; each counts
    as zero in activities().
    """
    table = _table(coefficients)
    return tuple(
        (i, j)
        for i in elements
        for j in elements
        if table.get((i, j, 1), {"use": "no"})["use"] != "yes"
    )


# ---- reciprocity ---------------------------------------------------------------------------------


def reciprocal(i, j, e_ij):
    """e_j^i that must go with e_i^j at infinite dilution: e_j^i = (M_j/M_i) e_i^j + (M_i -
    M_j)/(230.26 M_i), mass % and decadic logarithm.

    i, j: symbols; e_ij: number or array. It follows from the equality of the mole-fraction
    coefficients, eps_i^j = eps_j^i = 230.26 (M_j/M_Fe) e_i^j + (M_Fe - M_j)/M_Fe, both being one
    second derivative of the Gibbs energy; 230.26 = 100 ln 10.
    """
    m_i, m_j = atomic_weight(i), atomic_weight(j)
    return m_j / m_i * e_ij + (m_i - m_j) / (100.0 * np.log(10.0) * m_i)


@dataclass(frozen=True, slots=True)
class Pair:
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


def reciprocity(coefficients=DEFAULT_SET, share=0.15, absolute=0.006):
    """Every pair of a set of which both members are there, as a tuple of Pair. Values as tabulated
    (each at its own temperature, near 1873 K).

    share, absolute: a pair agrees if it differs by less than this share of e_ji or by less than
    this absolute amount.
    """
    table = _table(coefficients)
    out = []
    for (i, j, order), row in table.items():
        back = table.get((j, i, 1))
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
                )
            )
    return tuple(out)


# ---- where it comes from -------------------------------------------------------------------------


def _name(row):
    return f"{'e' if row['order'] == 1 else 'r'}_{row['i']}^{row['j']}"


def _provenance(row):
    law = f"{row['a_k']:g}/T{row['b']:+g}" if row["a_k"] else f"{row['b']:g}"
    used = "" if row["use"] == "yes" else ", not used"
    note = "" if row["note"] == "none" else f"; {row['note']}"
    return row_provenance(
        row | {"place": f"{row['place']}{note}"}, f"{_name(row)} = {law} (set {row['set']}{used})"
    )


def coefficient_sources(text):
    """sources('e_C^Si'), sources('coefficient set jsps')."""
    found = [_provenance(row) for row in rows("interactions") if _name(row) == text]
    if text in (f"coefficient set {s}" for s in INTERACTION_SETS):
        found = [_provenance(row) for row in rows("interactions") if text.endswith(row["set"])]
        found += [
            row_provenance(r, f"Gibbs energy of solution of {r['element']}")
            for r in rows("solution")
            if text.endswith(r["set"])
        ]
    return found
