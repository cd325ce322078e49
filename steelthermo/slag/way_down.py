"""The law at the end of a blow, quick: the sums of end_of_blow.py that are done thousands of times
for each heat.

What hangs on the slag alone is gathered once, what hangs on carbon alone for all steps at once. A
few heats are done one by one with plain numbers, of which NumPy is no quicker with one than with a
thousand; many are done in blocks that the processor keeps at hand. One slag takes 0.25 ms for 1.7,
300 000 take 0.5 s for 4.3. The plain twin is the balance written out with `iron_oxide_at` and
`burning`: tests/slag/test_way_down.py.
"""

import math
from functools import cache
from typing import NamedTuple

import numpy as np

from ..base import OF_ARRAYS, OF_NUMBERS, atomic_weight, find_root
from .regular_solution import ferric_share

FROM_PCT = 0.8  # of carbon more than at the end: there the slag of mid-blow stands still
TO_SLAG = 3.0  # carbon that slag gets at the most, over what comes to the jet
FERRIC = 0.17  # share of ferric iron on the way; at the end it is worked out
_STEPS = 20  # of oxygen still to be blown
_NODES = 28  # of the way down; twice as many move FeO by 0.01 %
_FEW = 12  # heats that are done one by one
_BLOCK = 4096  # heats


class Heat(NamedTuple):
    """What the way of a heat hangs on, per t of metal: numbers, or arrays of many heats.

    carbon: %, where it ends or, with more, begins; oxygen, free: kmol O per minute, all and what no
    hot spot takes; pcr; exchange, critical, floor, product: of the law; rt to gap: IronTerms of
    its slag; iron: kmol in the slag; minutes: to blow.
    """

    carbon: float
    oxygen: float
    free: float
    pcr: float
    exchange: float
    critical: float
    floor: float
    product: float
    rt: float
    full: float
    pure: float
    ferric: float
    total: float
    two: float
    three: float
    square: float
    gap: float
    iron: float = 0.0
    minutes: float = 0.0


@cache
def _c_pct():
    """% of the metal that a kmol of carbon is in a t."""
    return atomic_weight("C") / 10.0


def _of_carbon(carbon, heat, of):
    """What hangs on carbon: greatest rates of the jet, of both, of the slag (kmol C per minute),
    activity of the bath's iron oxide, kmol O that dissolve for each kmol C burnt.
    """
    per_c = atomic_weight("C") / atomic_weight("O")
    transport = of.most((carbon - heat.floor) / (heat.critical - heat.floor), 0.0)
    ceiling = heat.oxygen / (1.0 + heat.pcr)
    most = TO_SLAG * ceiling * carbon / heat.critical
    bath = of.least(heat.product / of.most(carbon, 1e-4), heat.full) / heat.full
    takes = per_c * heat.product / carbon**2 * (heat.product <= carbon * heat.full)
    return ceiling * transport, ceiling * of.most(transport, 1.0), most, bath, takes


def _moves(heat, of):
    """The function of (iron, what hangs on carbon) that gives (gain of iron in the slag, carbon
    burnt), kmol per minute and t.
    """
    exp, _, least, most, _ = of
    _, oxygen, free, pcr, exchange, *_, rt, _, pure, _, total, two, three, square, gap, _, _ = heat
    first = 2.0 * ((1.0 - FERRIC) * two + FERRIC * three)
    second, gap3 = 2.0 * gap * (FERRIC * (1.0 - FERRIC)), gap * FERRIC
    per_c, per_iron = 1.0 + pcr, 1.0 + 0.5 * FERRIC

    def moves(iron, at):
        jet, both, to_slag, bath, takes = at
        whole = total + iron
        half = 0.5 * (square + iron * (first + iron * second)) / whole
        active = (
            (1.0 - FERRIC) * iron / whole * exp((two + gap3 * iron - half) / (whole * rt) + pure)
        )
        back = exchange * most(active - bath, 0.0)
        burnt = least(most(free - pcr * back, 0.0) / per_c, jet)
        burnt = burnt + least(back, most(least(both - burnt, to_slag), 0.0))
        return (oxygen - (per_c + takes) * burnt) / per_iron, burnt

    return moves


@cache
def _above():
    """Carbon above that of the end: the nodes of the way down, then the middles between them."""
    nodes = np.geomspace(1.0, 1e-3, _NODES) - 1e-3
    nodes *= FROM_PCT / nodes[0]
    return np.concatenate([nodes, 0.5 * (nodes[:-1] + nodes[1:])])


def _down(heat, of):
    """Iron in the slag where the bath has come down to heat.carbon, kmol per t."""
    above = _above().reshape(-1, *(1,) * np.ndim(heat.carbon))
    at = _of_carbon(heat.carbon + above, heat, OF_ARRAYS)  # nodes, then middles
    falls = (above[: _NODES - 1] - above[1:_NODES]) / _c_pct()
    moves, first = _moves(heat, of), [x[0] for x in at]
    if of is OF_NUMBERS:
        falls, *at = (x.tolist() for x in (falls, *at))
        iron = float(find_root(lambda n: -moves(float(n), first)[0], 1e-6, 4.0 * heat.total))
    else:
        least = np.full(np.broadcast_shapes(*map(np.shape, heat)), 1e-6)
        iron = find_root(lambda n: -moves(n, first)[0], least, 4.0 * heat.total)
    at = list(zip(*at, strict=True))
    for fall, node, middle in zip(falls, at[: _NODES - 1], at[_NODES:], strict=True):
        gain, burnt = moves(iron, node)
        gain, burnt = moves(iron + gain * (0.5 * fall / of.most(burnt, 1e-12)), middle)
        iron = iron + gain * fall / of.most(burnt, 1e-12)
    return (iron,)


def _on(heat, of):
    """Iron in the slag and carbon of the bath after the minutes of heat."""
    iron, carbon, step = heat.iron, heat.carbon, heat.minutes / _STEPS
    moves = _moves(heat, of)
    for _ in range(_STEPS):
        gain, burnt = moves(iron, _of_carbon(carbon, heat, of))
        half = of.most(carbon - 0.5 * step * burnt * _c_pct(), 1e-3)
        gain, burnt = moves(iron + 0.5 * step * gain, _of_carbon(half, heat, of))
        iron, carbon = iron + step * gain, carbon - step * burnt * _c_pct()
    return iron, carbon


def _end(heat, of):
    """Ferric share, activity of FetO, carbon burnt where heat.iron and heat.carbon are reached."""
    burnt = _moves(heat, of)(heat.iron, _of_carbon(heat.carbon, heat, of))[1]
    return *ferric_share(heat.iron, FERRIC, heat, of), burnt


def down(heat: Heat) -> np.ndarray:
    """Iron in the slag (kmol per t) where the bath has come down to the carbon of a heat."""
    return _in_parts(_down, heat)[0]


def on(heat: Heat) -> np.ndarray:
    """(Iron in the slag, kmol per t; carbon, %) after the minutes of a heat are blown."""
    return _in_parts(_on, heat)


def end(heat: Heat) -> tuple:
    """(Ferric share, activity of FetO, kmol C burnt per minute and t) at the carbon and iron of a
    heat.
    """
    return _in_parts(_end, heat)


def _in_parts(function, heat):
    """What a function gives of heats, in their shape: one by one, or block by block."""
    heat = [np.asarray(x, float) for x in heat]
    shape = np.broadcast_shapes(*(x.shape for x in heat))
    size = math.prod(shape)
    if 0 < size <= _FEW:
        heat = [np.broadcast_to(x, shape) if 1 < x.size < size else x for x in heat]
        each = zip(*(x.ravel().tolist() * (size // x.size) for x in heat), strict=True)
        found = [function(Heat._make(one), OF_NUMBERS) for one in each]
        return [np.reshape(x, shape) for x in zip(*found, strict=True)]
    heat = [x.reshape(*(1,) * (len(shape) - x.ndim), *x.shape) for x in heat]
    wide = max(_BLOCK * shape[-1] // max(size, 1), 1)
    found = [
        function(
            Heat._make(x[..., i : i + wide] if x.shape[-1] > 1 else x for x in heat), OF_ARRAYS
        )
        for i in range(0, max(shape[-1], 1), wide)
    ]
    return [np.concatenate(x, axis=-1) for x in zip(*found, strict=True)]
