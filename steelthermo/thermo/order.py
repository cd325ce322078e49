"""Which element burns first: oxygen potentials of the elements dissolved in iron, and where carbon
overtakes another.

The oxygen potential RT ln pO2 (pO2 in atm) of an element is that of oxygen in equilibrium with it
and its oxide. The lowest burns first: it takes oxygen from all above it. Every activity can be
moved: of the dissolved element, of its oxide in the slag, of CO in the gas.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    between,
    celsius,
    find_root,
    one_of,
    plain,
    positive,
    quietly,
    rows,
    value,
)
from .activity import activities
from .constants import equilibrium_sources, lines
from .equilibria import oxygen_activity
from .interactions import DEFAULT_SET
from .solution import solution_gibbs

_LOW_K, _HIGH_K = 1400.0, 2050.0


@cache
def order_lines() -> Mapping:
    """The elements of the diagram.

    Returns
    -------
    key of the equilibrium of each element's line, by element: with the solid oxide stable at T, FeO
    and CO excepted, and phosphorus under lime

    Examples
    --------
    >>> order_lines()["Si"]
    'Si-O'
    """
    found = {row["element"]: row["line"] for row in rows("oxides") if row["line"] != "none"}
    return MappingProxyType(found)


def product_of(element: str) -> str:
    """What the element of a line burns to.

    Parameters
    ----------
    element : a key of order_lines()

    Returns
    -------
    formula

    Raises
    ------
    InputError
        For an element without a line.

    Examples
    --------
    >>> product_of("Si")
    'SiO2'
    """
    row = next(iter(lines(_key(element)).values()))
    return row["equation"].split(" = ")[1].removesuffix("(l)")


def _key(element):
    known = order_lines()
    return known[one_of("element of an oxygen potential line", element, known)]


def oxygen_potential(
    element: str,
    T: Number,
    h: Number = 1.0,
    a_product: Number = 1.0,
    coefficients: str = DEFAULT_SET,
) -> Number:
    """Oxygen potential RT ln pO2 of a dissolved element with its oxide: the lowest burns first.

    Parameters
    ----------
    element : a key of order_lines()
    T : 1400 to 2050 K; arrays broadcast
    h : Henrian activity of the element (near the mass % in steel); not used for Fe
    a_product : activity of the oxide in slag against the pure solid (FeO: liquid), or the pressure
        of CO in atm
    coefficients : 'jsps' or 'msts'

    Returns
    -------
    J per mol O2, pO2 in atm

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning for P outside 1540 to 1600 degC and Ti outside 1550 to 1650 degC.

    References
    ----------
    sources('equilibrium Si-O')

    Examples
    --------
    >>> [round(oxygen_potential(e, 1873.15, 0.1) / 1000.0) for e in ("C", "Si", "Mn")]
    [-364, -376, -280]
    """
    T = between("temperature", T, _LOW_K, _HIGH_K, "K")
    h_o = oxygen_activity(_key(element), T, h, a_product, coefficients)
    return 2.0 * (value("gas_constant") * T * np.log(h_o) + solution_gibbs("O", T, coefficients))


def order(
    T: float, h: Amounts, a_products: Amounts | None = None, coefficients: str = DEFAULT_SET
) -> tuple:
    """Elements in the order in which they burn.

    Parameters
    ----------
    T : 1400 to 2050 K, one number
    h : Henrian activity by element; 'Fe' is always there
    a_products : activity of the oxide by element, for 'C' the pressure of CO in atm; 1 where not
        named
    coefficients : 'jsps' or 'msts'

    Returns
    -------
    (element, oxygen potential in J per mol O2), first to burn first

    Raises
    ------
    InputError
        For an element without a line.

    References
    ----------
    As oxygen_potential()

    Examples
    --------
    >>> [(e, round(x / 1000.0)) for e, x in order(1773.15, {"C": 4.0, "Si": 0.4})]
    [('C', -468), ('Si', -420), ('Fe', -305)]
    """
    given = {"Fe": 1.0} | dict(h)
    products = dict(a_products or {})
    for element in products:
        _key(element)
    found = [
        (e, float(oxygen_potential(e, T, x, products.get(e, 1.0), coefficients)))
        for e, x in given.items()
    ]
    return tuple(sorted(found, key=lambda pair: pair[1]))


@dataclass(frozen=True, repr=False)
class Crossing(Record):
    """Where the line of carbon crosses that of another element.

    temp_c: degC, or None if they do not cross between 1127 and 1777 degC; above and below: which of
    the two burns first above and below it (if they do not cross both name the one that burns first
    throughout).
    """

    element: str
    temp_c: float | None
    below: str
    above: str

    def __str__(self):
        if self.temp_c is None:
            return (
                f"{self.below} burns before {self.element if self.below == 'C' else 'C'} from "
                f"{celsius(_LOW_K):.0f} to {celsius(_HIGH_K):.0f} °C"
            )
        return f"{self.below} burns first below {self.temp_c:.0f} °C, {self.above} above"

    @property
    def provenance(self) -> tuple:
        """Sources of the two lines."""
        keys = order_lines()["C"], order_lines()[self.element]
        return tuple(p for key in keys for p in equilibrium_sources(f"equilibrium {key}"))


def _find(element, gap):
    """Crossing from gap(T) = potential of carbon less that of the element."""
    T = np.linspace(_LOW_K, _HIGH_K, 53)
    with quietly():  # while it looks; of the crossing itself it is said below
        g = gap(T)

    def first(x):
        return "C" if x < 0 else element

    change = np.flatnonzero(np.sign(g[:-1]) != np.sign(g[1:]))
    if not change.size:
        return Crossing(element, None, first(g[0]), first(g[0]))
    k = change[-1]
    side = np.sign(g[k + 1])
    with quietly():
        tie = find_root(lambda x: side * gap(x), T[k], T[k + 1], (side * g[k], side * g[k + 1]))
    gap(tie)
    return Crossing(element, celsius(plain(tie)), first(g[k]), first(g[k + 1]))


def _other(element):
    if element == "C":
        raise InputError("crossing: 'C' was given; an element other than carbon is needed.")
    _key(element)


def crossing(
    element: str,
    h_c: float = 1.0,
    h: float = 1.0,
    a_oxide: float = 1.0,
    p_co_atm: float = 1.0,
    coefficients: str = DEFAULT_SET,
) -> Crossing:
    """Temperature above which carbon burns before an element, at fixed activities.

    Parameters
    ----------
    element : a key of order_lines() but C
    h_c, h : Henrian activities of carbon and of the element
    a_oxide : activity of its oxide
    p_co_atm : pressure of CO, atm
    coefficients : 'jsps' or 'msts'

    Returns
    -------
    Crossing

    Raises
    ------
    InputError

    References
    ----------
    As oxygen_potential()

    Examples
    --------
    >>> print(crossing("Cr", 0.3, 10.0))
    Cr burns first below 1571 °C, C above
    """
    _other(element)
    return _find(
        element,
        lambda T: (
            oxygen_potential("C", T, h_c, p_co_atm, coefficients)
            - oxygen_potential(element, T, h, a_oxide, coefficients)
        ),
    )


def crossing_in_melt(
    element: str,
    analysis_pct: Amounts,
    a_oxide: float = 1.0,
    p_co_atm: float = 1.0,
    coefficients: str = DEFAULT_SET,
) -> Crossing:
    """The same for a melt, whose activities are taken at every temperature.

    Parameters
    ----------
    element : a key of order_lines() but C
    analysis_pct : mass %, numbers
    a_oxide, p_co_atm, coefficients : as in crossing()

    Returns
    -------
    Crossing

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning where contents leave the range of the coefficients of the two elements.

    References
    ----------
    As oxygen_potential()

    Examples
    --------
    >>> print(crossing_in_melt("Cr", {"C": 0.3, "Cr": 10.0}))
    Cr burns first below 1605 °C, C above
    """
    _other(element)
    for needed in ("C", element):
        if needed != "Fe":
            positive(f"{needed} in the melt", analysis_pct.get(needed, 0.0), "%", zero=False)

    seen = []

    def gap(T):
        melt = activities(
            {e: np.full(np.shape(T), p, dtype=float) for e, p in analysis_pct.items() if e != "Fe"},
            T,
            coefficients,
            quiet=True,
        )
        seen.append(melt)
        other = oxygen_potential(element, T, melt.h.get(element, 1.0), a_oxide, coefficients)
        return oxygen_potential("C", T, melt.h["C"], p_co_atm, coefficients) - other

    found = _find(element, gap)
    seen[-1].warn_about(f"crossing of carbon and {element}", "C", element)
    return found
