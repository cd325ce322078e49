"""Public steel specifications as data, and the check of an analysis against one, in words.

Limits are those of the ladle (heat) analysis. The editions in specifications.csv are the ones
that were read, some of them second-hand and some superseded: an order is checked against the
edition in force.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    Table,
    common_shape,
    one_of,
    plain,
    positive,
    rows,
)
from .limits import DEOXIDATION, SLACK, Deoxidation, Limit, Line, deoxidation_of, words_of

EQUIVALENTS = ("CEV", "Pcm")


@cache
def _weights(formula):
    return {row["element"]: row for row in Table("carbon_equivalents").where("key", formula)}


def carbon_equivalent(analysis_pct: Amounts, formula: str = "CEV") -> Number:
    """Carbon equivalent of a steel.

    CEV = C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15, or
    Pcm = C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B.

    Parameters
    ----------
    analysis_pct : mass % by element, scalars or arrays; what is not in it counts as zero
    formula : 'CEV' or 'Pcm'

    Returns
    -------
    mass %

    Raises
    ------
    InputError

    References
    ----------
    carbon_equivalents.csv (both from memory).

    Examples
    --------
    >>> round(carbon_equivalent({"C": 0.16, "Mn": 1.5}), 3)
    0.41
    """
    total = 0.0
    for element, row in _weights(formula).items():
        total = total + row["weight"] * positive(
            f"{element} in steel", analysis_pct.get(element, 0.0), "%"
        )
    return total


@dataclass(frozen=True, repr=False)
class Check(Record):
    """An analysis against a specification. lines: a Line for each limit; ok: no limit is broken
    (bool or array of bool).
    """

    specification: "Specification"
    lines: tuple

    @property
    def ok(self) -> bool | np.ndarray:
        """True where no limit is broken; what was not analysed does not count against the steel,
        see missing.
        """
        known = [line.ok for line in self.lines if line.ok is not None]
        return plain(np.logical_and.reduce(np.broadcast_arrays(*known))) if known else True

    @property
    def missing(self) -> tuple:
        """Elements with a limit that are not in the analysis, as a tuple."""
        return tuple(line.element for line in self.lines if line.ok is None)

    def __str__(self):
        return self.words

    @property
    def words(self) -> str:
        """The verdict in words: what is broken first, then what was not analysed."""
        broken = [line.words for line in self.lines if line.ok is not None and not np.all(line.ok)]
        title = f"{self.specification}"
        killed = next((x.words for x in self.lines if x.element == DEOXIDATION), "")
        said = (
            f"{title}: {'; '.join(broken)}."
            if broken
            else f"{title}: all limits of the analysis table are met{killed and f'; {killed}'}."
        )
        return said + (f" Not in the analysis: {', '.join(self.missing)}." if self.missing else "")

    @property
    def provenance(self) -> tuple:
        """Sources of the limits."""
        return self.specification.provenance


@dataclass(frozen=True, repr=False)
class Specification(Record):
    """Limits of one grade. standard, edition, grade, product, thickness_mm (None: not needed),
    limits: mapping of element to Limit; deoxidation: what is said of it, or None.
    """

    standard: str
    edition: str
    grade: str
    product: str
    thickness_mm: float | None
    limits: dict
    deoxidation: Deoxidation | None = None

    def __str__(self):
        thick = "" if self.thickness_mm is None else f", {self.thickness_mm:g} mm"
        return f"{self.standard} ({self.edition}) {self.grade}, {self.product}{thick}"

    def _shown(self):
        asked = (*self.limits.values(), *((self.deoxidation,) if self.deoxidation else ()))
        return str(self), ("limits, mass %",), [(str(x),) for x in asked]

    def high(self, element: str, analysis_pct: Amounts) -> Number | None:
        """Upper limit of an element for an analysis, mass %, trade-off with carbon counted; None
        without one.
        """
        limit = self.limits[element]
        if limit.high_pct is None or limit.trade is None:
            return limit.high_pct
        spare = np.maximum(
            self.limits["C"].high_pct
            - np.asarray(positive("C in steel", analysis_pct.get("C", 0.0), "%")),
            0.0,
        )
        # whole hundredths only: the standard says 'for each'
        steps = np.floor(spare / 0.01 + 1e-6)
        return plain(
            np.maximum(
                np.minimum(limit.high_pct + limit.trade[0] * steps, limit.trade[1]), limit.high_pct
            )
        )

    def check(self, analysis_pct: Amounts, ordered: tuple = ()) -> Check:
        """Check of an analysis (mass % by element, scalars or arrays) against every limit. ordered:
        optional limits that were ordered, such as ('Cu',).

        Returns a Check. Raises InputError for negative or non-finite values.
        """
        shape = common_shape(
            "analysis", *(positive(f"{e} in steel", v, "%") for e, v in analysis_pct.items())
        )
        lines = []
        for element, limit in self.limits.items():
            if not limit.optional or element in ordered:
                lines.append(self._line(element, limit, analysis_pct, shape))
        if self.deoxidation is not None:
            lines.append(self.deoxidation.line(analysis_pct))
        return Check(self, tuple(lines))

    def _line(self, element, limit, analysis_pct, shape):
        low, high = limit.low_pct, self.high(element, analysis_pct)
        value = (
            carbon_equivalent(analysis_pct, element)
            if element in EQUIVALENTS
            else analysis_pct.get(element)
        )
        if value is None:
            return Line(element, None, low, high, None, f"{element} is not in the analysis")
        above = (
            np.zeros(shape, bool) if high is None else np.asarray(value) > np.asarray(high) + SLACK
        )
        below = np.zeros(shape, bool) if low is None else np.asarray(value) < low - SLACK
        note = ""
        if limit.waived_by:
            by, enough = limit.waived_by
            waived = np.asarray(analysis_pct.get(by, 0.0)) >= enough - SLACK
            note = f" (not applied: {by} is {enough:g} % or more)" if np.any(above & waived) else ""
            above = above & ~waived
        return Line(
            element,
            value,
            low,
            high,
            plain(~(above | below)),
            words_of(element, value, low, high, above, below) + note,
        )

    def window(self, margins_pct: Amounts | None = None) -> dict:
        """Limits as {element: (low, high)} for elements with data of composition, mass %, as
        alloys.least_additions() takes them.

        margins_pct: mass % to stay away from a limit, by element. Trade-offs and optional limits
        are left out (the plain limit is the safe one).
        """
        out = {}
        for element, limit in self.limits.items():
            if element in EQUIVALENTS or limit.optional:
                continue
            margin = positive(f"margin of {element}", (margins_pct or {}).get(element, 0.0), "%")
            low = 0.0 if limit.low_pct is None else limit.low_pct + margin
            high = 100.0 if limit.high_pct is None else limit.high_pct - margin
            if low > high:
                raise InputError(
                    f"margin of {element}: {margin:g} % was given; it leaves nothing between the "
                    f"limits ({limit})."
                )
            out[element] = (low, high)
        return out

    @property
    def provenance(self) -> tuple:
        """Sources of the limits."""
        asked = (*self.limits.values(), *((self.deoxidation,) if self.deoxidation else ()))
        return tuple(dict.fromkeys(p for one in asked for p in one.provenance))


def grades() -> tuple:
    """All (standard, grade, product) there are.

    Returns
    -------
    (standard, grade, product) of each

    Examples
    --------
    >>> [grade for grade in grades() if grade[1] == "S355J2"]
    [('EN 10025-2', 'S355J2', 'flat'), ('EN 10025-2', 'S355J2', 'long')]
    """
    return tuple(
        dict.fromkeys((r["standard"], r["grade"], r["product"]) for r in rows("specifications"))
    )


def _covers(row, thickness_mm):
    over, up_to = row["over_mm"], row["up_to_mm"]
    if over is None and up_to is None:
        return True
    return (over is None or thickness_mm > over) and (up_to is None or thickness_mm <= up_to)


def specification(
    standard: str, grade: str, product: str | None = None, thickness_mm: float | None = None
) -> Specification:
    """The limits of a grade.

    Parameters
    ----------
    standard, grade : as in grades()
    product : 'flat' or 'long', 'plate' or 'shape', where the standard tells them apart; None: the
        first, flat and plate
    thickness_mm : needed where limits depend on it, more than 0 to 500 mm

    Returns
    -------
    Specification

    Raises
    ------
    InputError

    References
    ----------
    specifications.csv.

    Examples
    --------
    >>> specification("EN 10025-2", "S355J2", thickness_mm=20).limits["Mn"].high_pct
    1.6
    """
    of_grade = [
        r for r in rows("specifications") if (r["standard"], r["grade"]) == (standard, grade)
    ]
    if not of_grade:
        one_of("specification", f"{standard} {grade}", [f"{s} {g}" for s, g, _ in grades()])
    products = list(dict.fromkeys(r["product"] for r in of_grade))
    product = one_of(f"product of {standard} {grade}", product or products[0], products)
    mine = [r for r in of_grade if r["product"] == product]
    by_thickness = any(r["over_mm"] is not None or r["up_to_mm"] is not None for r in mine)
    if thickness_mm is None:
        if by_thickness:
            raise InputError(
                f"thickness: the limits of {standard} {grade} depend on it; give thickness_mm."
            )
    else:
        thickness_mm = positive("thickness", thickness_mm, "mm", zero=False)
        if not isinstance(thickness_mm, float) or thickness_mm > 500.0:
            raise InputError(
                f"thickness: {np.max(thickness_mm):g} mm was given; allowed is one thickness up to "
                "500 mm."
            )
    limits = {r["element"]: _limit(r) for r in mine if _covers(r, thickness_mm)}
    edition = mine[0]["edition"]
    edition = f"{edition:g}" if isinstance(edition, float) else edition
    if not {"C", "P", "S"} <= set(limits):
        raise InputError(
            f"thickness of {standard} {grade}, {product}: {thickness_mm:g} mm was given; the table "
            "that was read does not reach so far."
        )
    killed = deoxidation_of(standard, grade)
    return Specification(standard, edition, grade, product, thickness_mm, limits, killed)


def _limit(row):
    waived = None if row["waived_by"] == "none" else (row["waived_by"], row["waived_from_pct"])
    trade = None if row["per_c_pct"] is None else (row["per_c_pct"], row["cap_pct"])
    where = Table("specifications").provenance_of(row)
    return Limit(
        row["element"],
        row["low_pct"],
        row["high_pct"],
        row["optional"] == "yes",
        waived,
        trade,
        (where,),
    )
