"""Spreads: the figures of a heat that are not known exactly, and by how much.

Spreads are standard uncertainties; they stand in uncertainties.csv and none was published: a
works puts its own.
"""

from dataclasses import dataclass
from functools import cache

from ..base import Amounts, Parameter, Table, one_of, positive


@dataclass(frozen=True, kw_only=True, repr=False)
class Input(Parameter):
    """One figure that is not known exactly, start: its standard uncertainty in unit, low, high:
    range of spreads to try. group: 'measured', 'weighed', 'materials', 'works'; kind: 'absolute',
    or 'relative' where the spread is % of the amount.
    """

    group: str
    kind: str

    @property
    def relative(self) -> bool:
        """True where the spread is % of the amount."""
        return self.kind == "relative"


@cache
def inputs() -> dict:
    """All inputs by key, in the order of uncertainties.csv.

    Returns
    -------
    Input by key

    Examples
    --------
    >>> inputs()["hot_metal_si_pct"].start
    0.02
    """
    return Table("uncertainties").records(Input)


def spreads(changed: Amounts | None = None) -> dict:
    """Spread of every input: those of the table, and what is given instead.

    Parameters
    ----------
    changed : spread by key of inputs(), in its unit

    Returns
    -------
    standard uncertainty by key, in the unit of the input

    Raises
    ------
    InputError

    Examples
    --------
    >>> spreads({"hot_metal_si_pct": 0.05})["hot_metal_si_pct"]
    0.05
    """
    out = {key: i.start for key, i in inputs().items()}
    for key, value in (changed or {}).items():
        one_of("spread", key, out)
        out[key] = positive(f"spread of {inputs()[key].what}", value, inputs()[key].unit)
    return out
