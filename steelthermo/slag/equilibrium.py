"""An element shared out between metal and slag: the equilibrium of a heat, slag for an aim,
phosphorus that returns.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    between,
    common_shape,
    find_root,
    kelvin,
    mass_fractions,
    plain,
    positive,
)
from ..streams import Slag, to_pct
from .partition_equations import (
    Partition,
    equations_of,
    partition,
    warn_outside,
    with_iron,
)


@dataclass(frozen=True)
class Equilibrium:
    """A metal and a slag at equilibrium: metal_pct (mass % of the element in the metal), slag (Slag
    with what it took up), partition.
    """

    metal_pct: float
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


def equilibrium(slag, metal_kg, element_kg, equation="SI-c", oxygen_pct=None):
    """Share an element out between metal and slag until both are at equilibrium by one equation.

    slag: Slag, its temperature and its other oxides are kept; what it holds of P2O5 (or MnO) is
    ignored. metal_kg: mass of metal. element_kg: kg of phosphorus (or manganese) in metal and slag
    together. equation, oxygen_pct as in partition(). All may be arrays.
    The iron that the exchange oxidises or gives back is left out. Returns an Equilibrium. Warns and
    raises as partition() does.
    """
    metal_pct, oxide_kg, others = _shared_out(slag, metal_kg, element_kg, (equation,), oxygen_pct)
    final = Slag(others | {equations_of((equation,), 0).oxide: plain(oxide_kg[0])}, slag.temp_c)
    return Equilibrium(
        plain(metal_pct[0]),
        final,
        partition(final.oxides_kg, kelvin(slag.temp_c), equation, oxygen_pct),
    )


def metal_pct_by(slag, metal_kg, element_kg, keys, oxygen_pct=None):
    """Mass % of an element left in the metal at equilibrium with a slag, by several equations at
    once: a dict of key to %.

    keys: some of equations('P') or of equations('Mn'); the rest as in equilibrium(), which tells
    more of one. Warns and raises as that does.
    """
    metal_pct, oxide_kg, others = _shared_out(slag, metal_kg, element_kg, tuple(keys), oxygen_pct)
    for key, kg in zip(keys, oxide_kg, strict=True):
        warn_outside(
            key,
            {"CaO": 100.0 * others.get("CaO", 0.0) / (sum(others.values()) + kg)},
            kelvin(slag.temp_c),
        )
    return {key: plain(pct) for key, pct in zip(keys, metal_pct, strict=True)}


def metal_pct_after(metal_kg, metal_pct, slag_kg, slag_pct, partition):
    """Mass % of an element left in the metal when metal and slag have shared it out: (M p + S q) /
    (M + L S).

    metal_pct, slag_pct: mass % of the element (not its oxide) before; partition: L after. With
    clean slag this is p / (1 + L S/M); with L = 0 everything returns to the metal. Scalars or
    arrays. Source: mass balance, masses taken as constant. Raises InputError.
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


def slag_for(metal_kg, metal_pct, aim_pct, partition, slag_pct=0.0):
    """kg of slag that takes the metal from metal_pct to aim_pct at equilibrium: M (p - aim) / (L
    aim - q).

    Contents in mass % of the element. Raises InputError if the slag is too poor a taker for the
    aim. Source: mass balance.
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


def phosphorus_reversion(metal_kg, metal_pct, slag, partition=0.0):
    """Mass % of phosphorus in the metal after slag carried over has given back what it no longer
    holds.

    slag: the Slag over the metal, with its P2O5. partition: L_P after the change; 0 for a killed
    ladle, where all returns. Raises InputError.
    """
    return metal_pct_after(
        metal_kg,
        metal_pct,
        slag.mass_kg,
        to_pct(slag.oxides_kg).get("P2O5", 0.0) * mass_fractions("P2O5")["P"],
        partition,
    )
