"""Statistics for heats: intervals of a mean, a share and a slope, robust least squares, intervals
from blocks of heats drawn again.

Blocks, because neighbouring heats share a shift, a probe, a bunker of lime: their errors hang
together. Student's t by the expansion in Abramowitz and Stegun (1964), 26.7.5, from memory, tested
against SciPy.
"""

from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from ..base import InputError, Record, between, positive

LEVEL_PCT = 95.0
_HUBER = 1.345  # 95 % as good as least squares on normal errors (Huber's usual choice, from memory)
_MOST_STEPS = 100


@dataclass(frozen=True, repr=False)
class Interval(Record):
    """A value and the interval, low to high, that holds the truth at level_pct; of n heats."""

    value: float
    low: float
    high: float
    n: int
    level_pct: float = LEVEL_PCT

    @property
    def clear(self) -> bool:
        """Whether zero lies outside."""
        return not self.low <= 0.0 <= self.high

    def __str__(self):
        return f"{self.value:.3g} ({self.low:.3g} to {self.high:.3g})"


def t_quantile(level_pct: float, free: float) -> float:
    """How many standard errors to each side hold the truth, by Student's t.

    Parameters
    ----------
    level_pct : 50 to 99.99
    free : degrees of freedom, 5 or more (within 0.1 %)

    Returns
    -------
    factor, 1.96 for 95 % and many degrees of freedom

    Raises
    ------
    InputError

    References
    ----------
    Abramowitz and Stegun (1964), 26.7.5, from memory; tested against SciPy.

    Examples
    --------
    >>> round(t_quantile(95.0, 10), 3)
    2.228
    """
    level_pct = between("level", level_pct, 1.0, 99.99, "%")
    z = NormalDist().inv_cdf(0.5 + between("level", level_pct, 50.0, 99.99, "%") / 200.0)
    n = between("degrees of freedom", free, 5.0, 1e12)
    g1 = (z**3 + z) / 4.0
    g2 = (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / 96.0
    g3 = (3.0 * z**7 + 19.0 * z**5 + 17.0 * z**3 - 15.0 * z) / 384.0
    g4 = (79.0 * z**9 + 776.0 * z**7 + 1482.0 * z**5 - 1920.0 * z**3 - 945.0 * z) / 92160.0
    return z + g1 / n + g2 / n**2 + g3 / n**3 + g4 / n**4


def mean_interval(x: np.ndarray, level_pct: float = LEVEL_PCT) -> Interval:
    """Mean of numbers with its interval.

    Parameters
    ----------
    x : numbers; blanks (masked or NaN) are left out
    level_pct : how sure

    Returns
    -------
    Interval

    Raises
    ------
    InputError
        For fewer than 6 numbers.

    Examples
    --------
    >>> str(mean_interval(np.arange(21.0)))
    '10 (7.18 to 12.8)'
    """
    x = _known("numbers", x)
    error = t_quantile(level_pct, x.size - 1) * x.std(ddof=1) / np.sqrt(x.size)
    return Interval(x.mean().item(), *(x.mean() + error * np.array([-1, 1])).tolist(), x.size)


def share_interval(hits: int, n: int, level_pct: float = LEVEL_PCT) -> Interval:
    """Share of heats that hit, with Wilson's interval (Wilson 1927, from memory).

    Parameters
    ----------
    hits, n : heats that hit, and all
    level_pct : how sure

    Returns
    -------
    Interval, in %

    Raises
    ------
    InputError

    Examples
    --------
    >>> str(share_interval(80, 100))
    '80 (71.1 to 86.7)'
    """
    n = int(between("heats", n, 1, 1e9))
    share = between("hits", hits, 0, n) / n
    level_pct = between("level", level_pct, 1.0, 99.99, "%")
    z = NormalDist().inv_cdf(0.5 + level_pct / 200.0)
    middle = (share + z * z / (2 * n)) / (1 + z * z / n)
    half = z / (1 + z * z / n) * np.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    # none and all hit are the ends themselves; rounding would put them beyond
    low, high = (middle - half).item(), (middle + half).item()
    low, high = low if hits else 0.0, high if hits < n else 1.0
    return Interval(100.0 * share, 100.0 * low, 100.0 * high, n, level_pct)


def slope_interval(x: np.ndarray, y: np.ndarray, level_pct: float = LEVEL_PCT) -> Interval:
    """Slope of y against x by least squares, with its interval.

    Parameters
    ----------
    x, y : numbers; pairs with a blank are left out
    level_pct : how sure

    Returns
    -------
    Interval

    Raises
    ------
    InputError
        For fewer than 7 pairs, or x that is the same everywhere.

    Examples
    --------
    >>> round(slope_interval(np.arange(10.0), 3.0 * np.arange(10.0)).value, 6)
    3.0
    """
    x, y = np.ma.masked_invalid(x), np.ma.masked_invalid(y)
    both = ~(np.ma.getmaskarray(x) | np.ma.getmaskarray(y))
    x, y = _known("pairs", x[both], 7), y[both].filled()
    apart = x - x.mean()
    spread = (apart**2).sum()
    if spread <= 1e-18 * (x**2).sum():
        raise InputError("slope: x is the same everywhere; it must differ.")
    slope = (apart * y).sum() / spread
    rest = y - y.mean() - slope * apart
    error = np.sqrt((rest**2).sum() / (x.size - 2) / spread) * t_quantile(level_pct, x.size - 2)
    return Interval(slope.item(), (slope - error).item(), (slope + error).item(), x.size, level_pct)


def _known(what, x, least=6):
    x = np.ma.masked_invalid(x).compressed().astype(float)
    if x.size < least:
        raise InputError(f"{what}: {x.size} were given; at least {least} are needed.")
    return x


def robust_sd(x: np.ndarray) -> float:
    """Standard deviation by the median deviation, 1.4826 x median |x - median|: some wild numbers
    do not move it.

    Parameters
    ----------
    x : numbers; blanks are left out

    Returns
    -------
    standard deviation, in the unit of x

    Examples
    --------
    >>> round(robust_sd(np.array([1.0, 2.0, 3.0, 4.0, 5.0, 900.0])), 3)
    2.224
    """
    x = np.ma.masked_invalid(x)
    return float(1.4826 * np.ma.median(np.abs(x - np.ma.median(x))))


def robust_fit(
    rows: np.ndarray, y: np.ndarray, scale: float | None = None
) -> tuple[np.ndarray, np.ndarray]:
    """Coefficients of rows @ c = y by least squares that give wild rows less weight: 1 within 1.345
    robust standard deviations, then falling as 1/distance.

    Parameters
    ----------
    rows : (n, k) array
    y : (n,) array, in the unit of its expected standard deviation as the rows are
    scale : robust standard deviation, in the unit of y; default: of what is left, as it falls

    Returns
    -------
    (coefficients (k,), weights (n,))

    Raises
    ------
    InputError
        Where the rows cannot tell the coefficients apart.

    References
    ----------
    Huber (1964), from memory.

    Examples
    --------
    >>> y = 2.0 + 3.0 * np.arange(20.0); y[7] = 900.0
    >>> c, w = robust_fit(np.column_stack([np.ones(20), np.arange(20.0)]), y)
    >>> [round(x, 3) for x in c.tolist()]
    [2.0, 3.0]
    """
    if np.linalg.matrix_rank(rows) < rows.shape[1]:
        raise InputError("robust fit: the rows cannot tell the coefficients apart.")
    scale = None if scale is None else positive("robust standard deviation", scale, zero=False)
    weight = np.ones(y.size)
    found = np.zeros(rows.shape[1])
    for _ in range(_MOST_STEPS):
        root = np.sqrt(weight)
        old, found = found, np.linalg.lstsq(rows * root[:, None], y * root, rcond=None)[0]
        rest = y - rows @ found
        wide = 1.4826 * np.median(np.abs(rest)) if scale is None else scale
        weight = _light(rest, wide)
        if np.all(np.abs(found - old) <= 1e-9 * (1e-9 + np.abs(found))):
            break
    return found, weight


def _light(rest, scale):
    """Weights of Huber for what is left."""
    return np.minimum(1.0, _HUBER * scale / np.maximum(np.abs(rest), 1e-300))


def robust_fits(rows: np.ndarray, y: np.ndarray, counts: np.ndarray, scale: float) -> np.ndarray:
    """robust_fit() of the same rows many times over, each row taken so often as counts say: all
    at once by the normal equations, some hundred times as fast.

    Parameters
    ----------
    rows : (n, k) array, as for robust_fit()
    y : (n,) array
    counts : (fits, n) array
    scale : robust standard deviation, in the unit of y

    Returns
    -------
    coefficients, (fits, k)

    Raises
    ------
    InputError
        Where the rows cannot tell the coefficients apart.

    Examples
    --------
    >>> y = 2.0 + 3.0 * np.arange(20.0); y[7] = 900.0
    >>> rows = np.column_stack([np.ones(20), np.arange(20.0)])
    >>> robust_fits(rows, y, np.ones((1, 20)), 1e-6).round(3).tolist()
    [[2.0, 3.0]]
    """
    length = np.sqrt((rows**2).sum(axis=0))
    if np.any(length == 0.0) or np.linalg.matrix_rank(rows / length) < rows.shape[1]:
        raise InputError("robust fits: the rows cannot tell the coefficients apart.")
    positive("robust standard deviation", scale, zero=False)
    k, unit = rows.shape[1], rows / length
    squares = (unit[:, :, None] * unit[:, None, :]).reshape(-1, k * k)
    weight, found = counts.astype(float), np.zeros((counts.shape[0], k))
    for _ in range(_MOST_STEPS):
        left = (weight @ squares).reshape(-1, k, k)
        old, found = (
            found,
            np.linalg.solve(left, (weight @ (unit * y[:, None]))[:, :, None])[..., 0],
        )
        weight = counts * _light(y - found @ unit.T, scale)
        if np.all(np.abs(found - old) <= 1e-6 * (1e-9 + np.abs(found).max(axis=0))):
            break
    return found / length


def blocks(n: int, draws: int, block: int, seed: int = 1) -> np.ndarray:
    """Heats drawn again in blocks of neighbours, the last followed by the first.

    Parameters
    ----------
    n : heats
    draws : how often
    block : heats in a block
    seed : where the random numbers begin

    Returns
    -------
    indices, (draws, n)

    Raises
    ------
    InputError

    Examples
    --------
    >>> blocks(6, 1, 3).shape
    (1, 6)
    """
    block = int(between("block", block, 1, n))
    random = np.random.default_rng(seed)
    starts = random.integers(0, n, (draws, -(-n // block)))
    return ((starts[:, :, None] + np.arange(block)) % n).reshape(draws, -1)[:, :n]


def times_sd(n: int, block: int, level_pct: float = LEVEL_PCT) -> float:
    """How many standard deviations of a block bootstrap to each side hold the truth. Its n/block
    blocks are that many independent numbers: Student's t for one fewer, and a factor because they
    scatter about their own mean (the bootstrap divides by the number of blocks).

    Parameters
    ----------
    n, block : heats, and heats in a block
    level_pct : how sure

    Returns
    -------
    factor, 2.07 for 500 heats in blocks of 15

    Raises
    ------
    InputError
        For fewer than 6 blocks.

    Examples
    --------
    >>> round(times_sd(500, 15), 2)
    2.07
    """
    free = n / block - 1.0
    return t_quantile(level_pct, free) * float(np.sqrt((free + 1.0) / free))
