"""Activities of the elements dissolved in liquid iron, by interaction coefficients.

log10 f_i = sum over j of e_i^j [%j] + r_i^j [%j]^2, h_i = f_i [%i]: Henrian activity, 1 mass % as
reference.
"""

import warnings
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType

import numpy as np

from ..base import (
    Amounts,
    ExtrapolationWarning,
    InputError,
    Number,
    Record,
    between,
    one_of,
    positive,
    value,
)
from .interactions import (
    DEFAULT_SET,
    TEMPERATURE_RULES,
    coefficient_provenance,
    coefficient_table,
    elements_of,
    law,
)


@cache
def _matrices(present, coefficients, rule):
    """a and b of e (n x n) for the elements present, and the second-order terms (i, j, a, b) among
    them.
    """
    n = len(present)
    at = {e: k for k, e in enumerate(present)}
    a, b, second = np.zeros((n, n)), np.zeros((n, n)), []
    for (i, j, order), row in coefficient_table(coefficients).items():
        if i in at and j in at:
            ab = law(row, rule)
            if order == 1:
                a[at[i], at[j]], b[at[i], at[j]] = ab
            elif any(ab):
                second.append((at[i], at[j], *ab))
    return a, b, tuple(second)


@cache
def _limits(present, coefficients):
    """(i, j, element whose content is limited, % up to which the coefficient was measured) of the
    pairs present.
    """
    out = []
    for (i, j, _), row in coefficient_table(coefficients).items():
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

    def warn_about(self, what: str, *elements: str, stacklevel: int = 3) -> None:
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
    def provenance(self) -> tuple:
        """Source of every coefficient that had a part in the result."""
        pairs = coefficient_table(self.coefficients).items()
        return tuple(
            coefficient_provenance(row)
            for (i, j, _), row in pairs
            if {i, j} <= set(self.f) and row["use"] == "yes"
        )


def activities(
    analysis_pct: Amounts,
    T: Number,
    coefficients: str = DEFAULT_SET,
    second_order: bool = True,
    temperature_rule: str = "published",
    quiet: bool = False,
) -> Activities:
    """Activities of the elements dissolved in liquid iron.

    Parameters
    ----------
    analysis_pct : mass % by symbol, numbers or arrays that broadcast; zero gives the coefficient at
        infinite dilution; 'Fe' is ignored
    T : 1400 to 2300 K; scalar or array
    coefficients : set of INTERACTION_SETS
    second_order : False leaves the r terms away
    temperature_rule : see interaction()
    quiet : True keeps the remarks in the result and gives no warning

    Returns
    -------
    Activities

    Raises
    ------
    InputError
        For unknown elements, negative shares, more than 100 %, shapes that do not match.

    Warns
    -----
    ExtrapolationWarning, one for all, where contents leave the measured range of a coefficient.
    Pairs without a published coefficient count as zero: missing_pairs() lists them.

    References
    ----------
    interactions.csv

    Examples
    --------
    >>> melt = activities({"C": 0.1, "Si": 0.3}, 1873.15)
    >>> round(melt.f["Si"], 3), round(melt.h["Si"], 3)
    (1.119, 0.336)
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
    a, b, second = _matrices(
        tuple(present),
        coefficients,
        one_of("temperature rule", temperature_rule, TEMPERATURE_RULES),
    )
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
