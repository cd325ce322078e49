"""Partitions of phosphorus and manganese between a slag and the metal under it.

The equations stand as coefficients in slag_partitions.csv, one row each, and one evaluator
reads them all:
    log10(quotient) = factor x measure + b/T + c,   measure = weighted sum of mass %, its logarithm,
    or the logarithm of CaO/SiO2.
A partition is always (mass % of the element in the slag) / (mass % in the metal). No two equations
agree: look at partitions() and spread()
before one number is believed. Coefficients of different rows belong to different definitions and
are never mixed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    VERIFIED,
    Amounts,
    InputError,
    Number,
    Record,
    Table,
    between,
    common_shape,
    gate,
    mass_fractions,
    one_of,
    plain,
    positive,
)
from ..streams import basicity, iron_as_feo, to_pct, total_iron
from ..thermo import oxide_of

# SI-c: read in its source, independent of the phosphorus already in slag and metal, inside the
# spread of the others.
DEFAULTS = {"P": "SI-c", "Mn": "Park-Dzo"}

_EQUATIONS = Table("slag_partitions")
_SUMMED = ("CaO", "MgO", "FetO", "MnO", "SiO2", "P2O5", "Al2O3")


def equations(element: str = "P", verified: bool | None = None) -> tuple[str, ...]:
    """Keys of the partition equations of an element, those read in their source first.

    Parameters
    ----------
    element : 'P' or 'Mn'
    verified : True for those that stand in a text that was read, False for those from memory

    Returns
    -------
    tuple of keys; all known of one stands in slag_partitions.csv, its source in sources(key)

    Raises
    ------
    InputError
        For an element without equations.

    Examples
    --------
    >>> equations("P", True)
    ('SI-a', 'SI-b', 'SI-c', 'TTH72-1', 'TTH72-2')
    """
    one_of("element with partition equations (sulphur: see slag/oxygen)", element, DEFAULTS)
    found = _EQUATIONS.where("element", element)
    return tuple(
        r["key"]
        for r in sorted(found, key=lambda r: r["status"] not in VERIFIED)
        if verified in (None, r["status"] in VERIFIED)
    )


@dataclass(frozen=True, repr=False)
class Partition(Record):
    """A partition by one equation: value = (mass % in slag) / (mass % in metal), scalar or array.

    remarks: where temperature, an oxide or the bracket leave the equation's range. status:
    of base.STATUSES; draw 'memory' dashed.
    """

    equation: str
    element: str
    value: Number
    remarks: tuple[str, ...]

    def _shown(self):
        rows = [(f"{self.element}, slag over metal", self.value), ("status", self.status)]
        return f"partition by {self.equation}", ("", ""), [*rows, *((r,) for r in self.remarks)]

    @property
    def extrapolated(self) -> bool:
        """Whether the equation is used outside its range."""
        return bool(self.remarks)

    @property
    def row(self) -> Mapping:
        """Everything known of the equation: coefficients, range, kind of slag, note, as a dict."""
        return dict(_EQUATIONS.get(self.equation))

    @property
    def status(self) -> str:
        """Of base.STATUSES."""
        return _EQUATIONS.get(self.equation)["status"]

    @property
    def provenance(self) -> tuple:
        """Source of the equation."""
        return _EQUATIONS.provenance(self.equation)


def with_iron(oxides):
    """A slag with FetO (all iron as FeO, same iron) and T.Fe beside its oxides."""
    return dict(oxides) | {"FetO": iron_as_feo(oxides), "T.Fe": total_iron(oxides)}


# log10 of (%X)/[%X] = root x log10 of the quotient + iron x log10 T.Fe or FetO + oxide x log10 of
# the slag's own oxide of X + oxygen x log10 [%O], and where the quotient is written with the oxide,
# + log10 of the share of X in it: quotient to (root, iron, iron counted as, oxide, oxygen, with
# oxide)
_QUOTIENTS = {
    "L_P/T.Fe^2.5": (1.0, 2.5, "T.Fe", 0.0, 0.0, False),
    "L_P/O^2.5": (1.0, 0.0, "T.Fe", 0.0, 2.5, False),
    "kMn": (1.0, 1.0, "FetO", 0.0, 0.0, True),  # (%MnO)/([%Mn](%FetO))
    "kP": (
        0.5,
        2.5,
        "FetO",
        0.5,
        0.0,
        True,
    ),  # (%P2O5)/([%P]^2 (%FetO)^5): the partition depends on the P2O5 of the slag
}


class _Equations:
    """Some equations of one element as arrays, one equation along the first axis, made to meet
    values of ndim axes.
    """

    def __init__(self, keys, ndim):
        found = [_EQUATIONS.get(key) for key in keys]
        elements = dict.fromkeys(row["element"] for row in found)
        if len(elements) != 1:
            raise InputError(
                f"partition equations: {', '.join(map(str, keys)) or 'none'} were given; equations "
                "of one element are needed."
            )

        def column(values):
            return np.array(list(values), float).reshape(-1, *(1,) * ndim)

        self.keys, (self.element,) = keys, elements
        self.oxide = oxide_of(self.element)
        self.weights = {
            o: column(row[o] for row in found) for o in _SUMMED if any(row[o] for row in found)
        }
        self.b, self.c, self.factor = (
            column(row[name] for row in found) for name in ("b_k", "c", "factor")
        )
        self.of_log, self.of_basicity = (
            column(row["measure"] == name for row in found) for name in ("log sum", "log basicity")
        )
        root, iron, counted, oxide, oxygen, with_oxide = zip(
            *(_QUOTIENTS[row["quotient"]] for row in found), strict=True
        )
        self.root, self.iron, self.own, self.oxygen = (
            column(x) for x in (root, iron, oxide, oxygen)
        )
        log_share, log_iron = (
            np.log10(mass_fractions(o)[e]) for o, e in ((self.oxide, self.element), ("FeO", "Fe"))
        )
        # T.Fe takes the place of FetO
        self.constant = column(
            w * log_share - n * log_iron * (as_ == "FetO")
            for w, n, as_ in zip(with_oxide, iron, counted, strict=True)
        )

    def weighted(self, amounts):
        """Weighted sum of the oxides of a slag, in their unit."""
        return sum(w * amounts.get(o, 0.0) for o, w in self.weights.items())

    def _log(self, power, x, what):
        """power x log10 x of each equation; x must be more than zero where an equation has a power
        of it.
        """
        if not power.any():
            return 0.0
        x = np.where(power != 0, x, 1.0)
        if np.any(x <= 0):
            at = np.unravel_index(np.argmin(x), x.shape)
            raise InputError(
                f"{what} in {self.keys[at[0]]}: {x[at]:g} was found; the equation needs more than "
                "zero."
            )
        return power * np.log10(x)

    def log_partition(self, weighted, iron_pct, own_pct, T, oxygen_pct, log_basicity):
        """log10 of (%X)/[%X]. weighted: see there, of mass %; iron_pct: T.Fe; own_pct: the slag's
        oxide of the element.
        """
        measure = (
            np.where(
                self.of_log, self._log(self.of_log, weighted, "weighted sum of the slag"), weighted
            )
            + self.of_basicity * log_basicity
        )
        log_q = self.factor * measure + self.b / T + self.c
        out = (
            self.constant
            + self.root * log_q
            + self._log(self.iron, iron_pct, "iron oxide of slag")
            + self._log(self.own, own_pct, f"{self.oxide} of slag")
        )
        if not self.oxygen.any():
            return out
        if oxygen_pct is None:
            raise InputError(
                f"oxygen of the metal: {self.keys[np.argmax(self.oxygen)]} asks for it; give "
                "oxygen_pct."
            )
        return out + self._log(self.oxygen, oxygen_pct, "oxygen of the metal")

    def log_basicity(self, oxides):
        """log10 of CaO/SiO2, for the equation that asks for it."""
        return (
            np.log10(basicity({o: oxides.get(o, 0.0) for o in ("CaO", "SiO2")}))
            if self.of_basicity.any()
            else 0.0
        )


equations_of = cache(_Equations)


def linear_partition(equation: str, oxides: Sequence[str]) -> tuple:
    """An equation whose log10 of the partition is straight in the slag, for sums over many slags;
    partition() tells the same of one.

    Parameters
    ----------
    equation : a key of equations()
    oxides : formulas

    Returns
    -------
    (weights of the mass % of the oxides, b, c, n) in weights . slag + b/T + c + n log10 T.Fe

    Raises
    ------
    InputError
        For an equation of another form.

    Examples
    --------
    >>> weights, b, c, n = linear_partition("SI-c", ("CaO", "MgO", "SiO2"))
    >>> weights.round(3).tolist(), round(float(np.ravel(b)[0]))
    ([0.072, 0.022, 0.0], 11570)
    """
    by = equations_of((equation,), 0)
    if by.of_log.any() or by.of_basicity.any() or by.own.any() or by.oxygen.any():
        raise InputError(f"partition equation: {equation!r} is not straight in the slag.")
    weights = [by.weighted(with_iron({o: 1.0})) for o in oxides]
    slope = by.root * by.factor * np.array(weights).reshape(1, -1)
    return slope[0], by.root * by.b, by.root * by.c + by.constant, by.iron


def warn_outside(key, pct, T):
    """Warn where a slag leaves the range of an equation: what is said of it."""
    row = _EQUATIONS.get(key)
    bracket = sum(row[o] * np.asarray(pct.get(o, 0.0)) for o in _SUMMED)
    shares = {o: pct.get(o, 0.0) for o in _SUMMED}
    return gate(key, row["holds"], shares | {"T": T, "bracket": bracket})


def partition(
    oxides: Amounts, T: Number, equation: str = "SI-c", oxygen_pct: Number | None = None
) -> Partition:
    """Partition of phosphorus or manganese between slag and liquid iron by one equation.

    Parameters
    ----------
    oxides : kg or mass % by oxide (counted to 100 %), numbers or arrays
    T : K, 1653 to 2100
    equation : key of equations('P') or equations('Mn')
    oxygen_pct : dissolved oxygen, mass %, for the equation that asks for it

    Returns
    -------
    Partition
        Equations in kP depend on the P2O5 of the slag, which must be its own; for a heat use
        equilibrium(). ExtrapolationWarning outside the range of the equation.

    Raises
    ------
    InputError

    References
    ----------
    slag_partitions.csv; sources(equation).

    Examples
    --------
    >>> slag = {"CaO": 35, "SiO2": 25, "FeO": 30, "MgO": 8, "P2O5": 2}
    >>> round(partition(slag, 1873.15).value)
    72
    """
    pct = with_iron(to_pct(oxides))
    T = between("temperature", T, 1653.0, 2100.0, "K")
    if oxygen_pct is not None:
        oxygen_pct = positive("oxygen of the metal", oxygen_pct, "%")
    by = equations_of(
        (equation,),
        len(common_shape("partition", T, 0.0 if oxygen_pct is None else oxygen_pct, *pct.values())),
    )
    log_l = by.log_partition(
        by.weighted(pct), pct["T.Fe"], pct.get(by.oxide, 0.0), T, oxygen_pct, by.log_basicity(pct)
    )[0]
    return Partition(equation, by.element, plain(10.0**log_l), warn_outside(equation, pct, T))


def partitions(
    oxides: Amounts,
    T: Number,
    element: str = "P",
    verified: bool | None = None,
    oxygen_pct: Number | None = None,
) -> dict[str, Partition]:
    """The same slag by all equations. One warning per equation outside its range.

    Parameters
    ----------
    oxides, T, element, verified, oxygen_pct : as in partition() and equations()

    Returns
    -------
    Partition by key; equations that ask for the oxygen of the metal only if it is given

    Examples
    --------
    >>> slag = {"CaO": 35, "SiO2": 25, "FeO": 30, "MgO": 8, "P2O5": 2}
    >>> {k: round(p.value) for k, p in partitions(slag, 1853.15, verified=True).items()}
    {'SI-a': 106, 'SI-b': 98, 'SI-c': 84, 'TTH72-1': 108, 'TTH72-2': 316}
    """
    keys = (
        k
        for k in equations(element, verified)
        if oxygen_pct is not None or _EQUATIONS.get(k)["quotient"] != "L_P/O^2.5"
    )
    return {key: partition(oxides, T, key, oxygen_pct) for key in keys}


def spread(found: Mapping[str, Partition | float]) -> tuple[float, float, float]:
    """Lowest and highest value and their ratio.

    Parameters
    ----------
    found : Partition or numbers by key

    Returns
    -------
    (low, high, factor), numbers or arrays

    Raises
    ------
    InputError
        Where nothing is given.

    Examples
    --------
    >>> spread({"one": 50.0, "other": 150.0})
    (50.0, 150.0, 3.0)
    """
    values = [x.value if isinstance(x, Partition) else x for x in found.values()]
    if not values:
        raise InputError("spread: nothing was given; at least one partition is needed.")
    values = np.broadcast_arrays(*values)
    low, high = np.min(values, axis=0), np.max(values, axis=0)
    return plain(low), plain(high), plain(high / low)
