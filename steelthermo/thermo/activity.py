"""Activities of the elements dissolved in liquid iron, by interaction coefficients.

log10 f_i = sum over j of e_i^j [%j] + r_i^j [%j]^2 + r_i^{j,k} [%j][%k], h_i = f_i [%i]: Henrian
activity, 1 mass % as reference. Each coefficient says in `holds` for which temperatures and
contents it is known (base/limits); a melt keeps as remarks what leaves them.
"""

from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    between,
    beyond,
    one_of,
    positive,
    ranges,
    say,
    value,
)
from .interactions import (
    DEFAULT_SET,
    TEMPERATURE_RULES,
    coefficient_name,
    coefficient_provenance,
    coefficient_table,
    elements_of,
    law,
)

_LEAST = 0.005  # of log10 f, 1 % of f: what a coefficient outside its range may move unsaid


@cache
def _matrices(present, coefficients, rule):
    """a and b of e (n x n) for the elements present, and the second-order terms (i, j, k, a, b)
    among them.
    """
    n = len(present)
    at = {e: k for k, e in enumerate(present)}
    a, b, second = np.zeros((n, n)), np.zeros((n, n)), []
    for (i, j, order, k), row in coefficient_table(coefficients).items():
        if i in at and j in at:
            ab = law(row, rule)
            if order == 1:
                a[at[i], at[j]], b[at[i], at[j]] = ab
            elif any(ab) and k in at:
                second.append((at[i], at[j], at[k], *ab))
    return a, b, tuple(second)


class _Limits:
    """Ranges of the coefficients among some elements of a set, those that are alike together."""

    def __init__(self, present, coefficients):
        self.present, self.disputed, found = present, [], {}
        at = {e: k for k, e in enumerate(present)}
        for (i, j, _, k), row in coefficient_table(coefficients).items():
            if row["use"] == "no" or not {i, j, *({k} - {"none"})} <= set(present):
                continue
            others = [at[e] for e in (j, k) if e != "none"]
            term = coefficient_name(row), i, abs(row["value"]), others
            if row["use"] == "disputed":
                self.disputed.append(term)
            for r in ranges(row["holds"]):
                if r.name == "T" or r.name in at:
                    found.setdefault(r, []).append(term)
        self.temperature = [(r, terms) for r, terms in found.items() if r.name == "T"]
        self.contents = [(r, terms) for r, terms in found.items() if r.name != "T"]
        self.of = np.array([at[r.name] for r, _ in self.contents], int)
        self.high = np.array([r.high for r, _ in self.contents])
        self.low = np.array([r.low for r, _ in self.contents])

    def remarks(self, P, T):
        """(text, elements whose activity it concerns) of each range that is left."""
        most, least = P.max(axis=1, initial=0.0), P.min(axis=1, initial=np.inf)
        left = np.flatnonzero((most[self.of] > self.high) | (least[self.of] < self.low))
        hot = [f for f in self.temperature if f[0].left_by(T) is not None]
        for r, terms in [*(self.contents[n] for n in left), *hot]:
            names = self._that_matter(terms, most, _share_beyond(r, T) if r.name == "T" else 1.0)
            if names or r.refuse:
                given = T if r.name == "T" else P[self.present.index(r.name)]
                few = ", ".join([*names][:3])
                said = beyond(
                    few if len(names) < 4 else f"{few} and others", r.text, {r.name: given}
                )
                yield from ((text, frozenset(names.values())) for text in said)
        for name, element in self._that_matter(self.disputed, most).items():
            text = f"{name} has the opposite sign in the other set: disputed"
            yield text, frozenset((element,))

    @staticmethod
    def _that_matter(terms, most, share=1.0):
        """Name and element of the terms of which a share is more of log10 f than may go unsaid."""
        return {n: i for n, i, size, at in terms if share * size * np.prod(most[at]) > _LEAST}


def _share_beyond(r, T):
    """What share of a coefficient may be lost between the edge of its temperatures and T: they go
    about as 1/T.
    """
    out = r.left_by(T)
    edge = r.high if out > r.high else r.low
    return abs(1.0 - edge / out)


_limits = cache(_Limits)


@dataclass(frozen=True, eq=False, repr=False)
class Activities(Record):
    """Activities of one melt, or of many at once, by one coefficient set.

    analysis_pct: mass % by element; T: K; coefficients: the set; f: activity coefficients; h:
    Henrian activities (1 mass %), by element, floats or arrays; remarks: which coefficients were
    used beyond their range; about: the elements that each remark concerns.
    """

    analysis_pct: MappingProxyType
    T: float
    coefficients: str
    f: MappingProxyType
    h: MappingProxyType
    remarks: tuple = field(default=())
    about: tuple = field(default=())

    def _shown(self):
        rows = [(e, x, self.f[e], self.h[e]) for e, x in self.analysis_pct.items() if e in self.h]
        return f"activities, set {self.coefficients}", ("", "mass %", "f", "h (1 mass %)"), rows

    def remarks_on(self, *elements: str) -> tuple:
        """The remarks that concern the activity coefficients of these elements."""
        pairs = zip(self.remarks, self.about, strict=True)
        return tuple(text for text, about in pairs if about & set(elements))

    def warn_about(self, what: str, *elements: str) -> None:
        """Pass on, as one ExtrapolationWarning, the remarks that concern the activity coefficients
        of these elements; what: names the result.
        """
        say(self.remarks_on(*elements), f"{what} (set {self.coefficients})")

    @property
    def provenance(self) -> tuple:
        """Source of every coefficient that had a part in the result."""
        pairs = coefficient_table(self.coefficients).items()
        return tuple(
            coefficient_provenance(row)
            for (i, j, *_), row in pairs
            if {i, j} <= set(self.f) and row["use"] != "no"
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
    ExtrapolationWarning, one for all, where a coefficient outside its range moves f by 1 %.
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
    T = between("temperature", T, 1400.0, 2300.0, "K")
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
        for i, j, k, ra, rb in second:
            log_f[i] += (ra * inverse + rb) * flat[j] * flat[k]
    f = np.power(10.0, log_f).reshape(P.shape)
    h = f * P
    said = [*_limits(tuple(present), coefficients).remarks(flat, T)]
    most_c = np.max(P[present.index("C")], initial=0.0) if "C" in present else 0.0
    if not second_order and most_c > value("carbon_linear_limit_pct"):
        text = f"without r_C^C, e_C^C is the limit at zero carbon and {most_c:.3g} % C was given"
        said.append((text, frozenset("C")))
    remarks, about = zip(*said, strict=True) if said else ((), ())
    if not quiet:
        say(remarks, f"activities (set {coefficients})")
    take = (lambda x: x) if shape else float

    def by(x):
        return MappingProxyType({e: take(x[k]) for k, e in enumerate(present)})

    return Activities(by(P), T, coefficients, by(f), by(h), remarks, about)
