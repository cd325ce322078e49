"""Temperature of the bath from the heat that metal and slag hold: limits, tables of enthalpies, and
where a surplus of heat vanishes.
"""

from functools import cache

import numpy as np

from ..base import celsius, kelvin, root_from_values
from ..streams import OXIDES, melting
from ..thermo import dissolved_enthalpy, enthalpy
from .rows import COMPOUNDS, ELEMENTS

TEMP_C = (1130.0, 1800.0)  # limits of a liquid metal
TEMP_K = tuple(kelvin(t) for t in TEMP_C)
# Slag counts at the bath's temperature within these. It forms in the hot spot, hotter than the
# early bath; below the lower limit 2CaO.SiO2 changes its phase (1437 degC) and data of liquid
# oxides end, above the upper one the data of 2CaO.SiO2 end.
SLAG_TEMP_C = (1450.0, 1726.0)


def slag_temp_c(temp_c):
    """Temperature at which the slag is counted, degC, from that of the bath."""
    return np.clip(temp_c, *SLAG_TEMP_C)


@cache
def grid():
    """Temperatures (K) and a table (temperature, row of _heat_rows) of enthalpies, kJ/kmol."""
    T = kelvin(
        np.union1d(np.arange(TEMP_C[0], TEMP_C[1], 20.0), [*SLAG_TEMP_C, TEMP_C[1]])
    )  # a node at every kink
    return T, np.stack(_heat_rows(T), axis=1)


def _heat_rows(T):
    """kJ per kmol of each element dissolved and of each compound of the slag, at T (K) of the
    bath.
    """
    T_slag = kelvin(slag_temp_c(celsius(T)))
    return [dissolved_enthalpy(e, T) for e in ELEMENTS] + [
        enthalpy(c, T_slag, OXIDES.get(c), supercooled=True, quiet=True)
        + melting(c, celsius(T_slag))
        for c in COMPOUNDS
    ]


def on_grid(surplus, columns=None):
    """Temperature, K, at which a surplus of enthalpy (temperatures of grid(), instants, heats), kJ,
    is zero, straight between them. columns: 0, 1, ... to the number of instants and heats, if it is
    at hand.
    """
    (T_grid, _), shape = grid(), surplus.shape[1:]
    flat = surplus.reshape(len(surplus), -1)
    columns = np.arange(flat.shape[1]) if columns is None else columns
    low = np.add.reduce((flat[1:-1] < 0.0).view(np.int8), axis=0, dtype=np.int8).astype(
        np.intp
    )  # counted in bytes: the quickest
    place = low * columns.size + columns
    T, below = T_grid.take(low), flat.take(place)
    T = T - below * _widths().take(low) / (flat.take(place + columns.size) - below)
    return np.minimum(np.maximum(T, TEMP_K[0]), TEMP_K[1]).reshape(shape)


@cache
def _widths():
    return np.diff(grid()[0])


_EDGES_C = (
    TEMP_C[0],
    1290.0,
    SLAG_TEMP_C[0],
    1588.0,
    SLAG_TEMP_C[1],
    TEMP_C[1],
)  # between them every enthalpy is smooth
_NODES = 6  # in each part, for polynomials exact to rounding


@cache
def _smooth():
    """Temperatures (K) and a table as grid(), _NODES for each part between _EDGES_C."""
    low, high = np.array(_EDGES_C[:-1])[:, None], np.array(_EDGES_C[1:])[:, None]
    T = kelvin(
        0.5 * (low + high) - 0.5 * (high - low) * np.cos(np.pi * np.arange(_NODES) / (_NODES - 1))
    ).ravel()
    return T, np.stack(_heat_rows(T), axis=1)


def _on_polynomial(surplus):
    """As on_grid() at the temperatures of _smooth(): the temperature as a polynomial of the surplus
    within a part.
    """
    T_all, shape = _smooth()[0], surplus.shape[1:]
    flat = surplus.reshape(len(surplus), -1)
    first = _NODES * np.add.reduce(flat[_NODES::_NODES] < 0.0, axis=0, dtype=np.intp)
    nodes = first + np.arange(_NODES)[:, None]
    T, left = T_all.take(nodes), flat.take(nodes * flat.shape[1] + np.arange(flat.shape[1]))
    return np.clip(root_from_values(T, left), *TEMP_K).reshape(shape)


def at_zero(surplus, exact):
    """Temperature, K, at which surplus(table of enthalpies), kJ, is zero: within 0.02 K from
    grid(); exact: to rounding."""
    if exact:
        return _on_polynomial(surplus(_smooth()[1]))
    return on_grid(surplus(grid()[1]))
