"""Decarburisation in three periods, by formulas that can be checked: the ceiling that oxygen sets,
the fall below the critical carbon, carbon along time in closed form.
"""

import numpy as np

from ..base import (
    InputError,
    Number,
    atomic_weight,
    between,
    finite,
    molar_volume_nm3_kmol,
    plain,
    positive,
)


def oxygen_ceiling_pct_min(o2_nm3_min: Number, metal_t: Number, pcr: Number = 0.0) -> Number:
    """Greatest rate of decarburisation, when all oxygen burns carbon: 0.10717 Q/(W (1 + PCR)).

    Parameters
    ----------
    o2_nm3_min : pure O2, zero or more
    metal_t : liquid metal, above 0
    pcr : CO2/(CO + CO2) of the gas made, 0 to 1

    Returns
    -------
    % C per minute

    Raises
    ------
    InputError

    References
    ----------
    Exact stoichiometry.

    Examples
    --------
    >>> round(oxygen_ceiling_pct_min(500.0, 180.0), 4)
    0.2977
    """
    o2, metal = (
        positive("oxygen flow", o2_nm3_min, "Nm3/min"),
        positive("metal", metal_t, "t", zero=False),
    )
    per_o2 = 2.0 * atomic_weight("C") / molar_volume_nm3_kmol() / 10.0  # % x t per Nm3
    return plain(per_o2 * o2 / (metal * (1.0 + between("post-combustion ratio", pcr, 0.0, 1.0))))


def critical_rate_per_min(
    ceiling_pct_min: Number, critical_pct: Number, floor_pct: Number = 0.0
) -> Number:
    """Rate constant of the last period that joins it to the plateau: r2/(critical C - floor C).
    Unchecked.

    Parameters
    ----------
    ceiling_pct_min : % C per minute
    critical_pct, floor_pct : % C

    Returns
    -------
    1/min

    Examples
    --------
    >>> critical_rate_per_min(0.25, 0.5)
    0.5
    """
    return ceiling_pct_min / (critical_pct - floor_pct)


def three_periods(
    time_min: Number,
    carbon_pct: Number,
    ceiling_pct_min: Number,
    ramp_min: Number,
    critical_pct: Number,
    floor_pct: Number = 0.0,
) -> Number:
    """Carbon along time in closed form: linear rise of the rate to the ceiling, plateau,
    exponential fall from the critical carbon. It has no heat, no slag and no scrap in it.

    Parameters
    ----------
    time_min : since the start, zero or more
    carbon_pct : at the start
    ceiling_pct_min : % C per minute on the plateau
    ramp_min : length of the rise
    critical_pct, floor_pct : % C

    Returns
    -------
    % C

    Raises
    ------
    InputError
        Where the critical carbon is reached before the rate has risen.

    References
    ----------
    Our own reference for the code, published by nobody.

    Examples
    --------
    >>> three_periods([0.0, 10.0, 18.0], 4.2, 0.27, 3.0, 0.5).round(3).tolist()
    [4.2, 1.905, 0.11]
    """
    t, r = np.asarray(positive("time", time_min, "min")), finite("ceiling", ceiling_pct_min)
    carbon_pct, ramp_min, critical_pct, floor_pct = (
        finite(f"{what} of three periods", x)
        for what, x in (
            ("carbon", carbon_pct),
            ("rise", ramp_min),
            ("critical carbon", critical_pct),
            ("floor", floor_pct),
        )
    )
    knee = ramp_min / 2.0 + (carbon_pct - critical_pct) / r  # when the critical carbon is reached
    if knee < ramp_min:
        raise InputError(
            f"critical carbon: {critical_pct:g} % is reached before the rate has risen; start with "
            f"more carbon than {carbon_pct:g} %."
        )
    ramp = carbon_pct - 0.5 * r * np.minimum(t, ramp_min) ** 2 / max(ramp_min, 1e-12)
    plateau = ramp - r * np.maximum(np.minimum(t, knee) - ramp_min, 0.0)
    k = critical_rate_per_min(r, critical_pct, floor_pct)
    fall = floor_pct + (critical_pct - floor_pct) * np.exp(-k * np.maximum(t - knee, 0.0))
    return plain(np.where(t > knee, fall, plateau))
