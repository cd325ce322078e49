"""Pure substances and gas equilibria from tables that were written from Cantera, where Cantera
cannot be installed. tests/thermo/test_engine.py holds them to it.
"""

import json
from functools import cache
from math import log
from pathlib import Path

import numpy as np

from ..base import InputError, find_root, formula, value

# In the browser edition only: the command that builds it writes the file into its package.
PATH = Path(__file__).with_name("exported.json")


def write(path, found):
    """Write a file of tables. found: segments (see engine.segments) by file and species."""
    out = {}
    for (file, name), parts in found.items():
        out.setdefault(file, {})[name] = [
            (float(low), float(high), list(map(float, a))) for low, high, a in parts
        ]
    Path(path).write_text(json.dumps(out, separators=(",", ":")), encoding="utf-8")


@cache
def _tables():
    return json.loads(PATH.read_text(encoding="utf-8"))


def species(file):
    """Polynomials by name of species. Raises InputError for a file without."""
    if file not in _tables():
        raise InputError(f"data file: {file!r} was asked for; the tables have no such file.")
    return {name: Polynomials(parts) for name, parts in _tables()[file].items()}


class Polynomials:
    """One species: NASA-9 polynomials, each from its lower limit on. segments: (low, high, nine
    coefficients); min_temp, max_temp, K. The functions take one T or an array.
    """

    def __init__(self, segments):
        self.segments = [(low, high, np.array(a)) for low, high, a in segments]
        self.min_temp, self.max_temp = segments[0][0], segments[-1][1]
        self._parts = [(low, tuple(a)) for low, _, a in segments]
        self._R = 1000.0 * value("gas_constant")

    def _at(self, function, T):
        if isinstance(T, float):
            a = next((a for low, a in reversed(self._parts) if T >= low), self._parts[0][1])
            return self._R * function(T, log(T), a)
        log_t = np.log(T)
        out = function(T, log_t, self._parts[0][1])
        for low, a in self._parts[1:]:
            out = np.where(T >= low, function(T, log_t, a), out)
        return self._R * out

    def cp(self, T):
        """Heat capacity, J/(kmol K)."""
        return self._at(_cp, T)

    def h(self, T):
        """Enthalpy against the elements at 298.15 K, J/kmol."""
        return self._at(_h, T)

    def s(self, T):
        """Entropy, J/(kmol K)."""
        return self._at(_s, T)


# The form of NASA-9 polynomials, McBride, Zehe and Gordon (2002), in units of R


def _cp(T, log_t, coefficients):
    a, b, c, d, e, f, g, _, _ = coefficients
    return (a / T + b) / T + c + T * (d + T * (e + T * (f + T * g)))


def _h(T, log_t, coefficients):
    a, b, c, d, e, f, g, h, _ = coefficients
    powers = T * (c + T * (d / 2 + T * (e / 3 + T * (f / 4 + T * g / 5))))
    return b * log_t - a / T + h + powers


def _s(T, log_t, coefficients):
    a, b, c, d, e, f, g, _, s = coefficients
    powers = T * (d + T * (e / 2 + T * (f / 3 + T * g / 4)))
    return c * log_t - (a / (2 * T) + b) / T + s + powers


# ---- equilibrium of a gas ------------------------------------------------------------------------

_MOST_STEPS = 300
_SMALL = 1e-8  # mole fraction below which a species may move as it likes
_TINY = 1e-300
_CLOSE = 1e-13  # of all moles: what a last step may still move


def gas_at_equilibrium(formulas, kmol, pascal, T=None, enthalpy_j=None, within=None):
    """As engine.gas_at_equilibrium."""
    gas = _Gas(formulas, kmol, pascal)
    if T is None:

        def surplus(T):
            gas.settle(T)
            return gas.enthalpy_j(T) - enthalpy_j

        T = find_root(surplus, *(np.full(len(pascal), end) for end in within))
    gas.settle(T)
    return T, gas.kmol


class _Gas:
    """The least Gibbs energy of an ideal gas at many points together, by the Newton method of
    Gordon and McBride (1994), NASA RP-1311, chapter 2 (from memory): unknowns are the logarithms of
    the amounts, with one multiplier for each element. Solving again begins at the last solution.
    """

    def __init__(self, formulas, kmol, pascal):
        found = species("nasa_gas.yaml")
        self._data = [found[s] for s in formulas]
        atoms = [formula(s) for s in formulas]
        elements = sorted({e for a in atoms for e in a})
        self._atoms = np.array([[a.get(e, 0.0) for a in atoms] for e in elements])
        self._scale = kmol.sum(axis=0)
        self._held = (self._atoms @ (kmol / self._scale)).T  # points by elements
        self._absent = self._held == 0.0
        self._none = (self._absent[:, :, None] & (self._atoms > 0)).any(axis=1)
        self._log_pressure = np.log(pascal / value("normal_pressure"))
        self._log_n = np.full(self._none.shape, np.log(0.1 / len(formulas)))
        self._log_total = np.zeros(len(pascal))

    @property
    def kmol(self):
        return (self._amounts() * self._scale[:, None]).T

    def enthalpy_j(self, T):
        return sum(n * d.h(T) for n, d in zip(self.kmol, self._data, strict=True))

    def _amounts(self):
        return np.where(self._none, 0.0, np.exp(np.maximum(self._log_n, -690.0)))

    def standard(self, T):
        """Chemical potential of each species alone at T, K, over RT, by point."""
        rt = 1000.0 * value("gas_constant") * T
        pure = np.array([(d.h(T) - T * d.s(T)) / rt for d in self._data]).T
        return pure + self._log_pressure[:, None]

    def settle(self, T):
        """Bring the gas to equilibrium at T, K, by point."""
        standard = self.standard(T)
        for _ in range(_MOST_STEPS):
            if self._step(standard):
                return
        raise InputError("equilibrium: none was found for this gas and heat.")

    def _step(self, standard):
        """One step of all points; True where all have arrived."""
        A, n, total = self._atoms, self._amounts(), np.exp(self._log_total)
        mu = standard + self._log_n - self._log_total[:, None]
        per, m = A * n[:, None, :], len(A)  # atoms of each element in each species
        matrix, right = np.zeros((len(n), m + 1, m + 1)), np.zeros((len(n), m + 1))
        matrix[:, :m, :m] = per @ A.T
        matrix[:, m, :m] = matrix[:, :m, m] = per.sum(axis=2)
        matrix[:, m, m] = n.sum(axis=1) - total
        right[:, :m] = self._held - per.sum(axis=2) + (per @ mu[:, :, None])[:, :, 0]
        right[:, m] = total - n.sum(axis=1) + (n * mu).sum(axis=1)
        solved = _solved(matrix, right, self._absent)
        change = solved[:, m:] + solved[:, :m] @ A - mu
        change[self._none] = 0.0
        share = _damping(self._log_n - self._log_total[:, None], change, solved[:, m])
        self._log_n += share[:, None] * change
        self._log_total += share * solved[:, m]
        moved = np.maximum((np.abs(change) * n).max(axis=1) / total, np.abs(solved[:, m]))
        return bool(np.all((share > 0.999) & (moved < _CLOSE)))


def _solved(matrix, right, absent):
    """Solution of the equations of each point, scaled to a diagonal of one; an element that is not
    there has the multiplier zero.
    """
    m = absent.shape[1]
    diagonal = np.arange(m)
    matrix[:, diagonal, diagonal] += absent
    size = np.ones(right.shape)
    size[:, :m] = 1.0 / np.sqrt(np.maximum(matrix[:, diagonal, diagonal], _TINY))
    matrix *= size[:, :, None] * size[:, None, :]
    # CO alone, for one, leaves the share of its two elements open
    matrix[:, diagonal, diagonal] += 1e-15
    return size * np.linalg.solve(matrix, (size * right)[:, :, None])[:, :, 0]


def _damping(log_share, change, change_total):
    """How much of a step is taken, by point: large amounts change at most e^2 times, and a small
    one grows at most to the mole fraction 1e-4.
    """
    large = log_share > np.log(_SMALL)
    fastest = np.where(large, np.abs(change), 0.0).max(axis=1)
    share = 2.0 / np.maximum(np.maximum(5.0 * np.abs(change_total), fastest), 2.0)
    grows = ~large & (change > change_total[:, None])
    with np.errstate(all="ignore"):
        room = np.abs((np.log(1e-4) - log_share) / (change - change_total[:, None]))
    return np.minimum(share, np.where(grows, room, 1.0).min(axis=1))
