"""Where published sources disagree, and what it does to a heat: the second band beside the scatter
of heats.

Other data that one could defend take the place of the kit's, one at a time, in the planned heat of
the works. An error of data is the same in every heat: a works that corrects its balance by
experience takes most of it out. So it is no part of the spread of heats, and never added to it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from ..base import (
    VERIFIED,
    InputError,
    Record,
    constant,
    kelvin,
    one_of,
    row_provenance,
    rows,
    value,
)
from ..charge import Charge, end_heat_capacity_kj_c, more_kj, other_set, solve
from ..slag import DEFAULTS, equations, metal_pct_by
from ..thermo import (
    DEFAULT_SET,
    carbon_oxygen_product,
    lines,
    liquidus_spread_c,
    oxygen_with_carbon,
    solution_row,
)
from ..works import Profile, load_profile
from .shares import quadrature

ACTS_ON = {
    "temperature": "°C",
    "phosphorus": "%",
    "manganese": "%",
    "carbon": "%",
    "liquidus": "°C",
}


@dataclass(frozen=True, repr=False)
class Difference(Record):
    """One figure of a heat by other data. acts_on: a key of ACTS_ON, whose unit it has; ours,
    other: the figure by the kit's data and by the other; status:
    of the other data; provenance."""

    key: str
    what: str
    acts_on: str
    ours: float
    other: float
    status: str
    provenance: tuple

    @property
    def difference(self) -> float:
        """other less ours."""
        return self.other - self.ours

    @property
    def unit(self) -> str:
        """Unit of ours, other and difference."""
        return ACTS_ON[self.acts_on]


@dataclass(frozen=True, repr=False)
class Band(Record):
    """Differences of one figure. low, high: the largest one at a time, to each side; squares: root
    of the sum of the squares of the largest of each subject to either side (a size only: errors of
    data have no distribution).
    """

    ours: float
    low: float
    high: float
    squares: float
    count: int


def _temperatures(charge):
    """End temperature by every row of other_data.csv: masses stay, so only the heat has to
    close anew.
    """
    per_c = end_heat_capacity_kj_c(charge)
    for row in rows("other_data"):
        other = charge.temp_c - more_kj(charge, row["key"]) / per_c
        yield Difference(
            row["key"],
            row["what"],
            "temperature",
            charge.temp_c,
            other,
            row["status"],
            (row_provenance(row, row["what"]),),
        )


def content_by_equation(charge: Charge, element: str = "P") -> dict:
    """Content of the steel at equilibrium with the slag of a charge, by each equation.

    The element of steel, ejected metal and slag is shared out anew; the oxygen that one equation
    asks
    for is that of the carbon at 1 atm. Temperatures above an equation's range are not warned of
    one by
    one.

    Parameters
    ----------
    charge : Charge
    element : 'P' or 'Mn'

    Returns
    -------
    mass % by key of the equation

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> found = content_by_equation(solve())
    >>> round(min(found.values()), 4), round(max(found.values()), 4)
    (0.0015, 0.0084)
    """
    import warnings

    metal = charge.steel.mass_kg + charge.ejected.mass_kg
    kg = sum(r.element_kg().get(element, 0.0) for r in (charge.steel, charge.ejected, charge.slag))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        oxygen = oxygen_with_carbon(charge.steel.analysis_pct["C"], kelvin(charge.temp_c))
        return metal_pct_by(charge.slag, metal, kg, equations(element), oxygen)


def _contents(charge, element, acts_on):
    found = content_by_equation(charge, element)
    ours = found[DEFAULTS[element]]
    for row in rows("slag_partitions"):
        if row["element"] == element and row["key"] != DEFAULTS[element]:
            what = f"{acts_on} by the equation {row['key']}"
            yield Difference(
                f"{acts_on}_{row['key']}",
                what,
                acts_on,
                ours,
                found[row["key"]],
                row["status"],
                (row_provenance(row, what),),
            )


def _carbons(charge):
    """Carbon that goes with one reading of oxygen, by each product of carbon and oxygen."""
    T = kelvin(charge.temp_c)
    ours = charge.steel.analysis_pct["C"]
    product = carbon_oxygen_product(T)
    for key, row in lines("C-O").items():
        if key != "gibbs":
            what = f"carbon by oxygen, line {row['a_k']:g}/T + {row['b']:g}"
            yield Difference(
                f"carbon_{key}",
                what,
                "carbon",
                ours,
                ours * carbon_oxygen_product(T, line=key) / product,
                row["status"],
                (row_provenance(row, what),),
            )
    what = "carbon by oxygen, the other set of coefficients"
    other = other_set(DEFAULT_SET)
    source = (row_provenance(solution_row("C", other), what),)
    yield Difference(
        "carbon_other_set",
        what,
        "carbon",
        ours,
        ours * carbon_oxygen_product(T, coefficients=other) / product,
        source[0].status,
        source,
    )
    # a maker's product at 1600 degC against the kit's there
    maker = value("co_product_maker") / carbon_oxygen_product(kelvin(1600.0))
    what = "carbon by oxygen, product in use by a maker of probes"
    source = (row_provenance(constant("co_product_maker"), what),)
    yield Difference("carbon_maker", what, "carbon", ours, ours * maker, source[0].status, source)


def _liquidus(charge):
    found = liquidus_spread_c(charge.steel.analysis_pct)
    ours = found["steel 1"]
    for name, other in found.items():
        if name != "steel 1":
            what = f"liquidus of the steel by the formula {name}"
            row = next(r for r in rows("liquidus") if r["formula"] == name)
            yield Difference(
                f"liquidus_{name}",
                what,
                "liquidus",
                ours,
                other,
                row["status"],
                (row_provenance(row, what),),
            )


def differences(works: Profile | None = None) -> tuple:
    """Every figure of the works' planned heat by other data.

    End temperature of the heat as weighed by other heats of forming and dissolving and other heat
    contents of slag (other_data.csv); phosphorus and manganese of the steel by each equation of
    slag_partitions.csv; carbon that goes with a reading of oxygen; the steel's liquidus.

    Parameters
    ----------
    works : None: the one load_profile() finds

    Returns
    -------
    of Difference

    Examples
    --------
    >>> len(differences())
    41
    """
    charge = solve(works or load_profile())
    made = (
        *_temperatures(charge),
        *_contents(charge, "P", "phosphorus"),
        *_contents(charge, "Mn", "manganese"),
        *_carbons(charge),
        *_liquidus(charge),
    )
    return made


def band(found: Iterable[Difference], acts_on: str, verified: bool | None = None) -> Band:
    """The band of one figure among differences.

    Parameters
    ----------
    found : as differences() gives them
    acts_on : a key of ACTS_ON
    verified : True for those alone that stand in a text that was read

    Returns
    -------
    Band

    Raises
    ------
    InputError

    Examples
    --------
    >>> liquidus = band(differences(), "liquidus")
    >>> round(liquidus.low, 1), round(liquidus.high, 1)
    (0.0, 2.0)
    """
    one_of("band", acts_on, ACTS_ON)
    chosen = [d for d in found if d.acts_on == acts_on and verified in (None, d.status in VERIFIED)]
    if not chosen:
        raise InputError(f"band of {acts_on}: there is no difference among those given.")
    steps = [d.difference for d in chosen]
    largest = {}
    for d in chosen:  # one subject (the part of the key before the first _) counts once
        subject = d.key.partition("_")[0]
        largest[subject] = max(largest.get(subject, 0.0), abs(d.difference))
    return Band(
        chosen[0].ours,
        float(np.min([0.0, *steps])),
        float(np.max([0.0, *steps])),
        quadrature(largest),
        len(chosen),
    )
