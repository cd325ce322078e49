"""Units as learners write them ('kJ mol-1', 'kwh per tonne', 'Nm³ O2/t steel') matched with the
names in units.csv.
"""

import re
from functools import cache

from ...base import rows
from ..adapter import in_use


class UnknownUnit(ValueError):
    """Text that is no unit of units.csv, however written."""


_SPELLINGS = {
    "°C": "c degc celsius centigrade",
    "K": "kelvin kelvins degk °k",
    "t": "tonne tonnes ton tons",
    "kg": "kilogram kilograms kilo kilos kgs",
    "g": "gram grams gramme grammes",
    "min": "minute minutes mins",
    "h": "hour hours hr hrs",
    "s": "second seconds sec secs",
    "mol": "mole moles mols",
    "kmol": "kmole kmoles",
    "%": "percent pct",
    "ppm": "ppmw",
    "Nm3": "nm3 m3n mn3 m3stp",
    "J": "joule joules",
    "m": "metre metres meter meters",
    "V": "volt volts",
    "1": "dimensionless",
}
_ATOMS = {
    spelling: atom for atom, spellings in _SPELLINGS.items() for spelling in spellings.split()
}
_REWRITE = (
    (re.compile(r"\s+per\s+", re.I), "/"),
    (re.compile(r"\bdeg(?:rees?)?\.?\s*(?=c\b|celsius\b)", re.I), "°"),
    (re.compile(r"°\s*c(?:elsius)?\b", re.I), "°C"),
    (re.compile(r"\b(?:mass|wt|weight|mol|mole|molar|vol|volume|w)\.?[- ]?%", re.I), "%"),
    (re.compile(r"\bm\^?3\s*\(?(?:stp|ntp|n)\)?(?=$|[\s/])", re.I), "Nm3"),
    (re.compile(r"\bnm\^?3\b", re.I), "Nm3"),
    (re.compile(r"(?<=[A-Za-z])\^(?=[23])"), ""),
    (re.compile(r"[·⋅∙•*×()\[\]]"), " "),
)


def _atom(token):
    """Name and power of one token: 'mol-1' or 'mol^-1' is ('mol', -1)."""
    match = re.fullmatch(r"(.+?)\^?(-[123])", token)
    name, power = (match[1], int(match[2])) if match else (token, 1)
    return _ATOMS.get(name.lower(), name), power


def _key(text, fold=False):
    """Sorted names above and below the fraction line: the same for every spelling of a unit."""
    for pattern, new in _REWRITE:
        text = pattern.sub(new, text)
    above, below = [], []
    for i, part in enumerate(text.split("/")):
        tokens = part.split()
        if i and not tokens:
            raise UnknownUnit(text)
        for j, token in enumerate(tokens):
            if j and token.lower() in in_use().words:
                continue
            name, power = _atom(token)
            name = name.casefold() if fold else name
            (below if (power < 0) != (i > 0) else above).extend([name] * abs(power))
    above = [] if above == ["1"] and below else above
    return tuple(sorted(above)), tuple(sorted(below))


@cache
def _known():
    """Units by key, and by key without regard to capitals where that is unambiguous."""
    exact, folded = {}, {}
    for row in rows("units"):
        name = row["unit"]
        exact.setdefault(_key(name), name)
        folded.setdefault(_key(name, fold=True), set()).add(name)
    return exact, {key: names.pop() for key, names in folded.items() if len(names) == 1}


def unit_of(text: str) -> str:
    """The name in units.csv of a unit as typed.

    Parameters
    ----------
    text : in any spelling; words of the course that say what is counted may follow

    Returns
    -------
    name of the unit

    Raises
    ------
    UnknownUnit

    Examples
    --------
    >>> unit_of("kJ mol-1"), unit_of("kwh per tonne")
    ('kJ/mol', 'kWh/t')
    """
    exact, folded = _known()
    try:
        return exact.get(_key(text)) or folded[_key(text, fold=True)]
    except KeyError:
        raise UnknownUnit(text) from None
