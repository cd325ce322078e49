"""What a specification asks: a limit of its analysis table, what it says of deoxidation, and one
line of a check against them.
"""

from dataclasses import dataclass

import numpy as np

from ..base import Amounts, Number, Record, Table, plain, positive

SLACK = 1e-6  # mass %: rounding of sums is no reason to refuse a steel
DEOXIDATION = "deoxidation"


@dataclass(frozen=True, repr=False)
class Limit(Record):
    """One limit: element (or 'CEV', 'Pcm'), low_pct and high_pct (None: no limit), and its notes.

    optional: holds only if ordered. waived_by: (element, %): not applied where the steel holds as
    much of it. trade: (%, cap): manganese may pass high_pct by so much for each 0.01 % of carbon
    below the carbon limit, up to the cap.
    """

    element: str
    low_pct: float | None
    high_pct: float | None
    optional: bool
    waived_by: tuple | None
    trade: tuple | None
    provenance: tuple

    def __str__(self):
        parts = [] if self.low_pct is None else [f"{self.low_pct:g} % or more"]
        parts += [] if self.high_pct is None else [f"{self.high_pct:g} % or less"]
        notes = [" if ordered"] if self.optional else []
        notes += (
            [f", not applied where {self.waived_by[0]} is {self.waived_by[1]:g} % or more"]
            if self.waived_by
            else []
        )
        notes += (
            [
                f", {self.trade[0]:g} % more for each 0.01 % C below its limit, up to "
                f"{self.trade[1]:g} %"
            ]
            if self.trade
            else []
        )
        return f"{self.element}: {' and '.join(parts)}{''.join(notes)}"


@dataclass(frozen=True, repr=False)
class Line(Record):
    """One line of a check: element, value_pct (None: not in the analysis), the limit that applied
    (low_pct, high_pct), ok (None: not known), words.
    """

    element: str
    value_pct: Number | None
    low_pct: Number | None
    high_pct: Number | None
    ok: bool | np.ndarray | None
    words: str

    def __str__(self):
        return self.words


@dataclass(frozen=True, repr=False)
class Deoxidation(Record):
    """What a standard says of deoxidation. method: its short name; asked: in words; least_al_pct:
    total aluminium from which a steel counts as such, mass %; aluminium is all that is judged.
    """

    method: str
    asked: str
    least_al_pct: float
    provenance: tuple

    def __str__(self):
        return f"deoxidation: {self.asked} ({self.method})"

    def line(self, analysis_pct: Amounts) -> Line:
        """The Line of an analysis, mass % by element, scalars or arrays. Raises InputError."""
        least, al = self.least_al_pct, analysis_pct.get("Al")
        if al is None:
            return Line("Al", None, least, None, None, "Al is not in the analysis")
        al = positive("Al in steel", al, "%")
        ok = plain(np.asarray(al) >= least - SLACK)
        low = f"{np.min(al):.3f} % of aluminium"
        said = f"with {low} it is taken as {self.asked} ({least:g} % or more)"
        if not np.all(ok):
            said = f"the steel is not {self.asked} with {low} ({least:g} % or more is asked for)"
        return Line(DEOXIDATION, al, least, None, ok, said)


def deoxidation_of(standard, grade):
    """The Deoxidation of a grade, or None."""
    table = Table("deoxidation")
    for row in table.by_key.values():
        if row["standard"] == standard and grade in row["grades"].split():
            where = (table.provenance_of(row),)
            return Deoxidation(row["key"], row["asked"], row["least_al_pct"], where)
    return None


def words_of(element, value, low, high, above, below):
    shown = f"{np.max(value):.4g}" if np.any(above) else f"{np.min(value):.4g}"
    limits = " to ".join(
        f"{x:g}" for x in (low, np.min(high) if high is not None else None) if x is not None
    )
    limits = (
        f"allowed {limits} %"
        if low is not None and high is not None
        else f"most {limits} %"
        if low is None
        else f"least {limits} %"
    )
    if np.any(above):
        return f"{element} {shown} % is too high ({limits})"
    if np.any(below):
        return f"{element} {shown} % is too low ({limits})"
    return f"{element} {shown} % is right ({limits})"
