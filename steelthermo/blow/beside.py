"""A blow, or its band, beside a measured heat."""

from dataclasses import dataclass

import numpy as np

from ..base import InputError, Record
from .bands import Band
from .measured import Measured
from .record import Blow, quantities


@dataclass(frozen=True, repr=False)
class Comparison(Record):
    """A model against readings of one quantity. count: readings within the blow; rms: root mean
    square of model less reading; worst: the greatest such difference, with its sign; worst_at_min:
    when; bias: their mean; unit; uncertainty: of one reading, as in blow.quantities().
    """

    count: int
    rms: float
    worst: float
    worst_at_min: float
    bias: float
    unit: str
    uncertainty: float


def compare(blow: Blow, measured: Measured, source: str | None = None) -> dict:
    """A blow of one heat against readings; those after its end do not count.

    Parameters
    ----------
    blow : Blow
    measured : Measured
    source : of one source only

    Returns
    -------
    Comparison by quantity

    Raises
    ------
    InputError
        If no reading falls into the blow.

    Examples
    --------
    >>> from steelthermo.blow import invented_heat, solve
    >>> compare(solve(), invented_heat())["C"].count
    7
    """
    out = {}
    for key in measured.quantities:
        time, value = measured.of(key, source)
        inside_blow = time <= blow.time_min[-1]
        time, value = time[inside_blow], value[inside_blow]
        if not time.size:
            continue
        left = np.interp(time, blow.time_min, blow.of(key)) - value
        worst, row = int(np.argmax(np.abs(left))), quantities()[key]
        rms = np.sqrt(np.mean(left**2)).item()
        out[key] = Comparison(
            time.size,
            rms,
            left[worst].item(),
            time[worst].item(),
            left.mean().item(),
            row["unit"],
            row["uncertainty"],
        )
    if not out:
        raise InputError(
            f"comparison: no reading falls into the blow, which ends at {blow.time_min[-1]:.1f} "
            "min."
        )
    return out


def inside(band: "Band", measured: Measured, together: bool = True) -> dict:
    """How many readings lie within a band.

    Parameters
    ----------
    band : Band
    measured : Measured
    together : as in Band.envelope()

    Returns
    -------
    (inside, count) by quantity

    Examples
    --------
    >>> from steelthermo.blow import band, invented_heat
    >>> near = band(names=("critical_carbon_pct",))
    >>> inside(near, invented_heat())["C"][1]
    7
    """
    out = {}
    for key in measured.quantities:
        time, value = measured.of(key)
        time, value = time[time <= band.time_min[-1]], value[time <= band.time_min[-1]]
        low, high = (np.interp(time, band.time_min, edge) for edge in band.envelope(key, together))
        out[key] = int(np.count_nonzero((value >= low) & (value <= high))), time.size
    return out
