"""An element shared out between metal and slag: the equilibrium of a heat, slag for an aim,
phosphorus that returns.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    between,
    common_shape,
    find_root,
    kelvin,
    mass_fractions,
    plain,
    positive,
)
from ..streams import Slag, to_pct, total_iron
from .end_of_blow import start_values
from .partition_equations import (
    DEFAULTS,
    Partition,
    equations_of,
    linear_partition,
    partition,
    warn_outside,
    with_iron,
)


@dataclass(frozen=True, repr=False)
class Equilibrium(Record):
    """A metal and a slag at equilibrium: metal_pct (mass % of the element in the metal), slag (Slag
    with what it took up), partition.
    """

    metal_pct: Number
    slag: Slag
    partition: Partition


def _shared_out(slag, metal_kg, element_kg, keys, oxygen_pct):
    """Mass % of an element in the metal and kg of its oxide in the slag at equilibrium, by each
    equation along the first axis; the slag's other oxides.
    """
    metal_kg = positive("mass of metal", metal_kg, "kg", zero=False)
    total = positive("element in metal and slag", element_kg, "kg", zero=False)
    oxygen_pct = None if oxygen_pct is None else positive("oxygen of the metal", oxygen_pct, "%")
    T, oxygen = kelvin(slag.temp_c), 0.0 if oxygen_pct is None else oxygen_pct
    shape = common_shape("equilibrium", metal_kg, total, T, oxygen, *slag.oxides_kg.values())
    by = equations_of(keys, len(shape))
    others = {o: kg for o, kg in slag.oxides_kg.items() if o != by.oxide}
    others_kg, oxide_kg, seen = (
        sum(others.values()),
        total / mass_fractions(by.oxide)[by.element],
        with_iron(others),
    )
    weighted, own, log_basicity = (
        by.weighted(seen),
        by.weights.get(by.oxide, 0.0),
        by.log_basicity(others),
    )

    def too_rich(left):
        # above zero where the metal, with this share of the element, holds more than the equation
        # allows
        in_slag_kg = (1.0 - left) * oxide_kg
        slag_kg = others_kg + in_slag_kg
        pct = 100.0 / slag_kg
        log_l = by.log_partition(
            (weighted + own * in_slag_kg) * pct,
            seen["T.Fe"] * pct,
            in_slag_kg * pct,
            T,
            oxygen_pct,
            log_basicity,
        )
        return log_l - np.log10((1.0 - left) * metal_kg / (left * slag_kg))

    left = find_root(too_rich, np.zeros((len(keys), *shape)), np.ones((len(keys), *shape)))
    return 100.0 * left * total / metal_kg, (1.0 - left) * oxide_kg, others


def equilibrium(
    slag: Slag,
    metal_kg: Number,
    element_kg: Number,
    equation: str = "SI-c",
    oxygen_pct: Number | None = None,
) -> Equilibrium:
    """Share an element out between metal and slag until both are at equilibrium by one equation.

    Parameters
    ----------
    slag : its temperature and other oxides are kept; its own P2O5 (or MnO) is ignored
    metal_kg : mass of metal, above 0
    element_kg : kg of phosphorus (or manganese) in metal and slag together, above 0
    equation, oxygen_pct : as in partition()

    Returns
    -------
    Equilibrium
        The iron that the exchange oxidises or gives back is left out.

    Raises
    ------
    InputError
        Warns and raises as partition() does.

    Examples
    --------
    >>> slag = Slag({"CaO": 35, "SiO2": 25, "FeO": 32, "MgO": 8}, 1600.0)
    >>> round(equilibrium(slag, 1000.0, 1.0).metal_pct, 4)
    0.0122
    """
    metal_pct, oxide_kg, others = _shared_out(slag, metal_kg, element_kg, (equation,), oxygen_pct)
    final = Slag(others | {equations_of((equation,), 0).oxide: plain(oxide_kg[0])}, slag.temp_c)
    return Equilibrium(
        plain(metal_pct[0]),
        final,
        partition(final.oxides_kg, kelvin(slag.temp_c), equation, oxygen_pct),
    )


def metal_pct_by(
    slag: Slag,
    metal_kg: Number,
    element_kg: Number,
    keys: Sequence[str],
    oxygen_pct: Number | None = None,
) -> dict[str, Number]:
    """Mass % of an element left in the metal at equilibrium with a slag, by several equations.

    Parameters
    ----------
    slag, metal_kg, element_kg, oxygen_pct : as in equilibrium(), which tells more of one
    keys : some of equations('P') or of equations('Mn')

    Returns
    -------
    mass % by key

    Raises
    ------
    InputError
        Warns and raises as partition() does.

    Examples
    --------
    >>> slag = Slag({"CaO": 35, "SiO2": 25, "FeO": 32, "MgO": 8}, 1580.0)
    >>> found = metal_pct_by(slag, 1000.0, 1.0, ("SI-b", "SI-c"))
    >>> {key: round(pct, 4) for key, pct in found.items()}
    {'SI-b': 0.0089, 'SI-c': 0.0106}
    """
    metal_pct, oxide_kg, others = _shared_out(slag, metal_kg, element_kg, tuple(keys), oxygen_pct)
    oxide = equations_of(tuple(keys), 0).oxide
    for key, kg in zip(keys, oxide_kg, strict=True):
        warn_outside(key, with_iron(to_pct(others | {oxide: kg})), kelvin(slag.temp_c))
    return {key: plain(pct) for key, pct in zip(keys, metal_pct, strict=True)}


def metal_pct_after(
    metal_kg: Number, metal_pct: Number, slag_kg: Number, slag_pct: Number, partition: Number
) -> Number:
    """Mass % of an element left in the metal when metal and slag have shared it out:
    (M p + S q)/(M + L S).

    With clean slag this is p/(1 + L S/M); with L = 0 everything returns to the metal.

    Parameters
    ----------
    metal_kg, slag_kg : masses, taken as constant
    metal_pct, slag_pct : mass % of the element (not its oxide) before, 0 to 100
    partition : L after, zero or more

    Returns
    -------
    mass % of the element in the metal

    Raises
    ------
    InputError

    References
    ----------
    Mass balance.

    Examples
    --------
    >>> round(metal_pct_after(1000.0, 0.10, 90.0, 0.0, 100.0), 6)
    0.01
    """
    M, S = (
        positive("mass of metal", metal_kg, "kg", zero=False),
        positive("mass of slag", slag_kg, "kg"),
    )
    p, q = (
        between("content of metal", metal_pct, 0.0, 100.0, "%"),
        between("content of slag", slag_pct, 0.0, 100.0, "%"),
    )
    return (M * p + S * q) / (M + positive("partition", partition) * S)


def partition_reached(
    slag_pct: Amounts, temp_c: Number, element: str, given: Amounts | None = None
) -> Number:
    """Partition of phosphorus or manganese that a blow moves towards: the default equation times
    the factor reached, lime beyond what the liquid holds left out.

    Parameters
    ----------
    slag_pct : mass % by oxide
    temp_c : degC
    element : 'P' or 'Mn'
    given : parameters instead of the start values

    Returns
    -------
    (mass % in slag) over (mass % in metal)

    References
    ----------
    linear_partition(), end_of_blow.csv

    Examples
    --------
    >>> slag = {"CaO": 46.0, "SiO2": 14.0, "FeO": 17.0, "Fe2O3": 4.0, "MgO": 8.0, "MnO": 5.0}
    >>> round(partition_reached(slag | {"P2O5": 2.0}, 1650.0, "P"))
    184
    """
    p = start_values() | dict(given or {})
    names = list(slag_pct)
    weights, b, c, power = linear_partition(DEFAULTS[element], names)
    pct = {o: np.asarray(slag_pct[o], float) for o in names}
    measure = sum(w * x for w, x in zip(weights, pct.values(), strict=True))
    solid = np.maximum(pct["CaO"] - p["lime_liquid_pct"], 0.0)
    log_l = measure - weights[names.index("CaO")] * solid + b.item() / kelvin(temp_c) + c.item()
    log_l = log_l + power.item() * np.log10(total_iron(slag_pct))
    return p[f"{element.lower()}_partition_factor"] * 10.0**log_l


def slag_for(
    metal_kg: Number, metal_pct: Number, aim_pct: Number, partition: Number, slag_pct: Number = 0.0
) -> Number:
    """kg of slag that takes the metal to an aim at equilibrium: M (p - aim)/(L aim - q).

    Parameters
    ----------
    metal_kg : mass of metal, above 0
    metal_pct, aim_pct, slag_pct : mass % of the element: before, aimed at, in the slag before
    partition : L after

    Returns
    -------
    kg of slag

    Raises
    ------
    InputError
        If the slag is too poor a taker for the aim.

    References
    ----------
    Mass balance.

    Examples
    --------
    >>> round(slag_for(1000.0, 0.05, 0.01, 80.0), 6)
    50.0
    """
    aim = positive("aim in the metal", aim_pct, "%", zero=False)
    takes = positive("partition", partition) * aim - between(
        "content of slag", slag_pct, 0.0, 100.0, "%"
    )
    drop = positive("content of metal above the aim", metal_pct - aim, "%")
    if np.any(np.asarray(takes) <= 0):
        raise InputError(
            f"aim in the metal: {np.min(aim):g} % was given; a slag of this partition and content "
            "can't take the metal so low."
        )
    return positive("mass of metal", metal_kg, "kg", zero=False) * drop / takes


def phosphorus_reversion(
    metal_kg: Number, metal_pct: Number, slag: Slag, partition: Number = 0.0
) -> Number:
    """Mass % of phosphorus in the metal after carried-over slag gave back what it no longer holds.

    Parameters
    ----------
    metal_kg, metal_pct : the metal and its phosphorus before
    slag : the slag over the metal, with its P2O5
    partition : L_P after the change; 0 for a killed ladle, where all returns

    Returns
    -------
    mass % P

    Raises
    ------
    InputError

    Examples
    --------
    >>> slag = Slag({"CaO": 4.6, "SiO2": 1.7, "FeO": 2.5, "MgO": 1.0, "P2O5": 0.2}, 1620.0)
    >>> round(phosphorus_reversion(1000.0, 0.010, slag), 4)
    0.0187
    """
    return metal_pct_after(
        metal_kg,
        metal_pct,
        slag.mass_kg,
        to_pct(slag.oxides_kg).get("P2O5", 0.0) * mass_fractions("P2O5")["P"],
        partition,
    )
