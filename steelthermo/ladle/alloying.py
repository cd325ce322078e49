"""Alloys for the ladle: their analyses, what of each element reaches the bath, and the least of
them that brings a steel to a specification.

The least addition is a small linear programme, solved exactly by looking at every corner of what is
possible.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from math import comb

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    Table,
    between,
    formula,
    one_of,
    plain,
    positive,
)
from ..streams import LiquidMetal, Material
from ..works import parameter_names
from ..works import start_value as start

_MOST_CORNERS = 200_000


@dataclass(frozen=True, repr=False)
class Alloy(Material):
    """An alloy: a Material with its key, formation_kj_kg (heat of forming it from its elements,
    not verified; negative) and where its analysis comes from. Alloy.of() makes one of your own.
    """

    kind: str = "fuel"
    key: str = ""
    formation_kj_kg: Number = 0.0
    analysed: tuple = ()

    @property
    def provenance(self) -> tuple:
        """Sources of analysis and data."""
        return (*self.analysed, *super().provenance)


@cache
def with_recovery():
    """Elements whose share that reaches the bath is a plant value; the others count in full."""
    keys = (key.split("_") for key in parameter_names())
    return tuple(words[1].capitalize() for words in keys if words[0] == "recovery")


@cache
def alloys() -> dict:
    """All alloys.

    Returns
    -------
    Alloy by key

    References
    ----------
    alloys.csv, analyses mostly from memory

    Examples
    --------
    >>> alloys()["silicomanganese"].pct("Mn")
    66.0
    """
    table = Table("alloys")
    return {
        key: Alloy.of(
            row["title"],
            {e: pct for e, pct in row.items() if e[0].isupper() and pct > 0},
            row["rest"],
            kind="fuel",
            key=key,
            formation_kj_kg=row["formation_kj_kg"],
            analysed=table.provenance(key),
        )
        for key, row in table.by_key.items()
    }


def alloy(key: str | Alloy) -> Alloy:
    """The Alloy of a key; an Alloy passes through.

    Parameters
    ----------
    key : such as 'silicomanganese', or an Alloy

    Returns
    -------
    Alloy

    Raises
    ------
    InputError
        For a key that is not known.

    References
    ----------
    alloys.csv, analyses mostly from memory

    Examples
    --------
    >>> alloy("silicomanganese").pct("Si")
    17.0
    """
    if isinstance(key, Alloy):
        return key
    return alloys()[one_of("alloy (one of your own, or a key)", key, alloys())]


def recovery(given_pct: Amounts | None = None) -> dict:
    """Share of each element that reaches the bath; Fe, P and S count in full.

    Parameters
    ----------
    given_pct : % by element, in place of the plant values

    Returns
    -------
    0 to 1 by element

    Raises
    ------
    InputError

    Examples
    --------
    >>> recovery({"Al": 60.0})["Al"]
    0.6
    """
    given = dict(given_pct or {})
    out = {
        e: start(f"recovery_{e.lower()}_pct", given.pop(e, None)) / 100.0 for e in with_recovery()
    }
    for element, pct in given.items():
        if element not in ("Fe", "P", "S"):
            one_of("recovery", element, with_recovery())
        if np.any(np.asarray(between(f"recovery of {element}", pct, 0.0, 100.0, "%")) != 100.0):
            raise InputError(
                f"recovery of {element}: it is counted in full (100 %), so that pick-up is not "
                "underrated."
            )
    return out | {"Fe": 1.0, "P": 1.0, "S": 1.0}


def addition_kg(
    steel_kg: Number,
    rise_pct: Number,
    content_pct: Number,
    recovery_pct: Number = 100.0,
    dilution: bool = True,
) -> Number:
    """Alloy that raises one element of a steel that holds none of it.

    Parameters
    ----------
    steel_kg : kg; arrays broadcast
    rise_pct : of the element in the steel, mass %, 0 to 100
    content_pct : of the element in the alloy, mass %, 0 to 100
    recovery_pct : share that reaches the bath, 0 to 100 %, a plant value
    dilution : True: the alloy adds to the mass of the steel; False: the shop rule
        10 x rise / (fraction x recovery) kg/t

    Returns
    -------
    kg

    Raises
    ------
    InputError
        Where the alloy is too poor.

    References
    ----------
    Mass balance.

    Examples
    --------
    >>> round(addition_kg(180e3, 1.0, 75.0, 90.0), 1)
    2706.8
    """
    steel_kg, rise = positive("steel", steel_kg, "kg"), between("rise", rise_pct, 0.0, 100.0, "%")
    brings = (
        between("content of the alloy", content_pct, 0.0, 100.0, "%")
        * between("recovery", recovery_pct, 0.0, 100.0, "%")
        / 100.0
    )
    spare = brings - (rise if dilution else 0.0)
    if np.any(np.asarray(spare) <= 0):
        raise InputError(
            f"content of the alloy: it brings {np.min(brings):g} % of the element, no more than "
            "the steel shall hold."
        )
    return plain(steel_kg * rise / spare)


@dataclass(frozen=True, repr=False)
class Mixture(Record):
    """The least additions: kg by alloy key, total_kg, cost (in the unit of the prices; kg without
    prices), element_kg of the steel with them.
    """

    kg: dict
    total_kg: float
    cost: float
    element_kg: dict

    @property
    def analysis_pct(self) -> dict:
        """Mass % of each element of the steel with the additions, iron by difference left out."""
        mass = sum(self.element_kg.values())
        return {e: 100.0 * kg / mass for e, kg in self.element_kg.items() if e != "Fe"}

    @property
    def provenance(self) -> tuple:
        """Sources of the kit's alloys in it."""
        return tuple(p for key in self.kg if key in alloys() for p in alloys()[key].provenance)


def _limits(elements, base_kg, reach, low, high):
    """Rows (a, b) of a x <= b for the limits: kg of an element in steel of mass base + sum(arrives
    x).
    """
    base = sum(base_kg.values())
    arrives = reach["total"]
    a, b, names = [], [], []
    for element in elements:
        brings, have = reach[element], base_kg.get(element, 0.0)
        if low[element] > 0.0:
            a.append(low[element] / 100.0 * arrives - brings)
            b.append(have - low[element] / 100.0 * base)
            names.append(f"{element} of {low[element]:g} % or more")
        if high[element] < 100.0:
            a.append(brings - high[element] / 100.0 * arrives)
            b.append(high[element] / 100.0 * base - have)
            names.append(f"{element} of {high[element]:g} % or less")
    return np.array(a).reshape(-1, arrives.size), np.array(b), names


def _corners(a, b, cost):
    """Cheapest x >= 0 with a x <= b, or None: every corner is a choice of some alloys and as many
    limits that hold exactly.
    """
    m, n = a.shape
    scale = np.maximum(np.abs(b), 1e-3 * max(np.max(np.abs(b), initial=0.0), 1.0))
    best, x_best = np.inf, None
    if np.all(b >= -1e-12 * scale):
        return np.zeros(n)
    for k in range(1, min(m, n) + 1):
        chosen, tight = (
            np.array(list(combinations(range(n), k))),
            np.array(list(combinations(range(m), k))),
        )
        i, j = (
            g.ravel()
            for g in np.meshgrid(np.arange(len(chosen)), np.arange(len(tight)), indexing="ij")
        )
        square = a[tight[j][:, :, None], chosen[i][:, None, :]]
        norm = np.prod(np.linalg.norm(square, axis=2), axis=1)
        good = np.abs(np.linalg.det(square)) > 1e-9 * np.maximum(norm, 1e-300)
        if not good.any():
            continue
        part = np.linalg.solve(square[good], b[tight[j[good]]][..., None])[..., 0]
        x = np.zeros((good.sum(), n))
        np.put_along_axis(x, chosen[i[good]], part, axis=1)
        fits = (x >= -1e-9).all(axis=1) & (x @ a.T <= b + 1e-9 * scale).all(axis=1)
        if fits.any():
            price = np.maximum(x[fits], 0.0) @ cost
            at = np.argmin(price)
            if price[at] < best - 1e-12:
                best, x_best = price[at], np.maximum(x[fits][at], 0.0)
    return x_best


def least_additions(
    steel: LiquidMetal,
    aims_pct: dict[str, tuple[float, float]],
    choice: Iterable[str],
    *,
    recovery_pct: Amounts | None = None,
    prices: Amounts | None = None,
    lost_kg: Amounts | None = None,
) -> Mixture:
    """The least mass (or cost) of alloys that brings a steel into limits.

    Dilution and what each alloy brings besides (C, Si, P, ...) are counted.

    Parameters
    ----------
    steel : one heat, no arrays
    aims_pct : (low, high) by element, mass %; 0 and 100 mean no limit; elements not named have none
    choice : keys or Alloys, up to about eight
    recovery_pct : % by element in place of the plant values
    prices : price per kg by key; None for mass
    lost_kg : kg by element that deoxidation takes from (negative: gives to) the steel, as
        ladle.meet()
        finds it

    Returns
    -------
    Mixture

    Raises
    ------
    InputError
        If no mixture meets the limits, naming the limits that stand in the way.

    References
    ----------
    Linear programme; its optimum lies in a corner, and every corner is looked at.

    Examples
    --------
    >>> steel = LiquidMetal(180e3, {"C": 0.04, "Mn": 0.1}, 1650.0)
    >>> aims = {"Mn": (1.0, 1.2), "C": (0.0, 0.12)}
    >>> list(least_additions(steel, aims, ["silicomanganese", "ferromanganese"]).kg)
    ['silicomanganese', 'ferromanganese']
    """
    picked = [alloy(k) for k in choice]
    if not picked:
        raise InputError("alloys: none was given to choose from.")

    if np.ndim(steel.mass_kg) or any(np.ndim(p) for p in steel.analysis_pct.values()):
        raise InputError("steel: arrays were given; one steel is needed to choose alloys for.")
    low, high = {}, {}
    for element, (least, most) in aims_pct.items():
        low[element] = between(f"least {element}", least, 0.0, 100.0, "%")
        high[element] = between(f"most {element}", most, 0.0, 100.0, "%")
        if low[element] > high[element]:
            raise InputError(
                f"aim of {element}: {least:g} to {most:g} % was given; the first must not be "
                "larger."
            )
    share = recovery(recovery_pct)
    arriving = [{e: s * share.get(e, 1.0) for e, s in _metallic(p).items()} for p in picked]
    reach = {e: np.array([x.get(e, 0.0) for x in arriving]) for e in aims_pct}
    reach["total"] = np.array([sum(x.values()) for x in arriving])
    base = {e: kg - (lost_kg or {}).get(e, 0.0) for e, kg in steel.element_kg().items()}
    for element, kg in (lost_kg or {}).items():
        base.setdefault(element, -kg)
    a, b, names = _limits(tuple(aims_pct), base, reach, low, high)
    cost = (
        np.ones(len(picked))
        if prices is None
        else np.array([positive(f"price of {p.key}", prices.get(p.key, np.nan)) for p in picked])
    )
    if _count(*a.shape) > _MOST_CORNERS:
        raise InputError(
            f"alloys: {len(picked)} alloys and {len(names)} limits are too many for an exact "
            "search; choose fewer of either."
        )
    x = _corners(a, b, cost)
    if x is None:
        raise InputError(
            f"additions: these alloys cannot meet all limits at once. {_blame(a, b, cost, names)}"
        )
    every = dict.fromkeys((*base, *(e for part in arriving for e in part)))
    elements = {
        e: base.get(e, 0.0)
        + sum(float(xi) * part.get(e, 0.0) for xi, part in zip(x, arriving, strict=True))
        for e in every
    }
    return Mixture(
        {p.key: float(xi) for p, xi in zip(picked, x, strict=True)},
        float(x.sum()),
        float(cost @ x),
        elements,
    )


def _metallic(chosen):
    """kg of each element in one kg of an alloy, what is bound in oxides (ash) left out."""
    return {s: pct / 100.0 for s, pct in chosen.analysis_pct.items() if len(formula(s)) == 1}


def _count(m, n):
    """Number of corners: choices of k alloys and k limits, for every k."""
    return comb(m + n, n)


def _blame(a, b, cost, names):
    """Which single limits, if dropped, would make it possible."""
    found = [
        name
        for k, name in enumerate(names)
        if _corners(np.delete(a, k, 0), np.delete(b, k), cost) is not None
    ]
    if found:
        return f"It could be done without the limit {' or without '.join(found)}."
    return "No single limit is to blame; several stand in the way."
