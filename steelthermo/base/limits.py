"""Where a figure holds: each row of coefficients, lines and equations says in its column `holds`
for which temperatures and contents, and who said so. All that use such a row come through this one
gate, which warns or refuses.

The column: ranges parted by semicolons, each `name low high basis`, such as `T 1733 2033 published;
C 0 0.5 own; C! 0 5 own`. T is in K, contents in mass %. A name with ! is refused outside, the
others warned of. Basis: `published`; `own`, a choice of the kit; `unknown`, a choice of the kit
because nothing is printed.
"""

from functools import cache
from typing import NamedTuple

import numpy as np

from .errors import InputError, warn
from .hints import Amounts, Number
from .language import translated

BASES = {
    "published": "published",
    "own": "our own choice",
    "unknown": "no range is printed: our own choice",
}
_UNITS = {"a_FetO": ""}  # the others are in mass %
_ZERO_C_K = 273.15
_SAID = {"T": "temperature"}
_WHOLE_K = 0.5  # temperatures are printed in whole kelvin
_MOST = 4  # ranges that one message tells


class Range(NamedTuple):
    """One range of a row: name of the quantity, low, high, basis, refuse (else warn)."""

    name: str
    low: float
    high: float
    basis: str
    refuse: bool = False

    def __str__(self):
        return f"{_shown(self.name, self.low, self.high)} ({BASES[self.basis]})"

    @property
    def text(self) -> str:
        """As the column `holds` has it."""
        mark = "!" if self.refuse else ""
        return f"{self.name}{mark} {self.low:g} {self.high:g} {self.basis}"

    def left_by(self, given: Number) -> float | None:
        """The value given that lies farthest outside, None where all lie inside."""
        given = np.asarray(given, float)  # whole numbers hold no infinity
        low, high = np.min(given, initial=np.inf), np.max(given, initial=-np.inf)
        slack = _WHOLE_K if self.name == "T" else 0.0
        if high > self.high + slack:
            return float(high)
        return float(low) if low < self.low - slack else None


def _shown(name, *values):
    """Values of a quantity, for a message; temperatures in both units."""
    if name == "T":
        kelvins, celsius = ([f"{x - less:.0f}" for x in values] for less in (0.0, _ZERO_C_K))
        return f"{' to '.join(celsius)} °C ({' to '.join(kelvins)} K)"
    return f"{' to '.join(f'{x:.4g}' for x in values)}{_UNITS.get(name, ' %')}"


@cache
def ranges(holds: str) -> tuple:
    """The ranges that a column `holds` tells.

    Parameters
    ----------
    holds : see the head of this module

    Returns
    -------
    of Range; none where it says `none`

    Raises
    ------
    InputError

    Examples
    --------
    >>> [str(r) for r in ranges("C 0 0.5 own")]
    ['0 to 0.5 % (our own choice)']
    """
    out = []
    for part in holds.split(";"):
        if part.strip() != "none":
            name, *figures, basis = part.split() if len(part.split()) == 4 else (part, "")
            if basis not in BASES:
                raise InputError(
                    f"range {part.strip()!r}: a name, two figures and a basis are needed; the "
                    f"basis must be one of {', '.join(BASES)}."
                )
            low, high = figures
            out.append(Range(name.rstrip("!"), float(low), float(high), basis, name[-1] == "!"))
    return tuple(out)


def beyond(what: str, holds: str, given: Amounts) -> tuple:
    """What is to be said of a figure that is used outside its ranges; nothing is warned of.

    Parameters
    ----------
    what : names the figure, for the message
    holds : its column of that name
    given : temperature ('T', K) and contents (mass %) of this use, scalars or arrays; a range of
        a quantity that is not among them is passed over

    Returns
    -------
    remarks

    Raises
    ------
    InputError
        Outside a range marked with !.

    Examples
    --------
    >>> beyond("e_O^C", "C 0 0.5 own", {"C": 0.9})
    ('e_O^C: C 0.9 % was given, known for 0 to 0.5 % (our own choice)',)
    """
    out = []
    for r in ranges(holds):
        if r.name not in given or (found := r.left_by(given[r.name])) is None:
            continue
        name = _SAID.get(r.name, r.name)
        said = f"{what}: {name} {_shown(r.name, found)} was given, known for {r}"
        if r.refuse:
            raise InputError(f"{said}; there is no result beyond.")
        out.append(said)
    return tuple(out)


def say(remarks: tuple[str, ...], what: str = "") -> tuple:
    """Pass remarks on as one ExtrapolationWarning, if there are any.

    Parameters
    ----------
    remarks : of beyond()
    what : named at the head of the message

    Returns
    -------
    the remarks

    Examples
    --------
    >>> say(())
    ()
    """
    if remarks:
        more = f"; and {len(remarks) - _MOST} more" if len(remarks) > _MOST else ""
        head = f"{translated(what)}: " if what else ""
        warn(f"{head}{'; '.join(remarks[:_MOST])}{more}; the result is extrapolated.")
    return remarks


def gate(what: str, holds: str, given: Amounts) -> tuple:
    """beyond(), warned of.

    Parameters
    ----------
    what, holds, given : as in beyond()

    Returns
    -------
    remarks

    Raises
    ------
    InputError
        Outside a range marked with !.

    Examples
    --------
    >>> gate("this line", "T 1700 1900 published", {"T": 1873.15})
    ()
    """
    return say(beyond(what, holds, given))
