"""Carbon at the end of a blow when more or less oxygen was blown than planned."""

import numpy as np

from ..base import InputError, Number, finite, plain, positive
from ..charge import nm3_per_kg


def carbon_after(
    carbon_pct: Number,
    oxygen_nm3_t: Number,
    critical_pct: Number,
    floor_pct: Number,
    co2_pct: Number = 0.0,
    planned_critical_pct: Number | None = None,
) -> Number:
    """Carbon after more (or less) oxygen at the end of a blow than was planned.

    Above the critical carbon all oxygen burns carbon; below, the share
    (C - floor_pct)/(critical_pct - floor_pct) of it, so C - floor falls exponentially.

    Parameters
    ----------
    carbon_pct : as planned, mass %; scalars or arrays
    oxygen_nm3_t : Nm3 of pure O2 per t of steel beyond the plan, negative where it is short
    critical_pct, floor_pct : critical carbon and floor of carbon, mass %
    co2_pct : CO2 of the carbon burnt, %
    planned_critical_pct : critical carbon the plan was made with, where the true one differs

    Returns
    -------
    mass %

    Raises
    ------
    InputError
        Where the floor is not below the carbon.

    References
    ----------
    Own closed form of the law that blow.carbon_rate integrates; tested against it.

    Examples
    --------
    >>> round(carbon_after(0.04, 1.0, 0.4, 0.015), 4)
    0.0339
    """
    c0, d = (
        np.asarray(positive("carbon", carbon_pct, "%")),
        np.asarray(finite("oxygen left over", oxygen_nm3_t, "Nm3/t")),
    )
    critical, floor = (
        np.asarray(positive("critical carbon", critical_pct, "%")),
        np.asarray(positive("floor of carbon", floor_pct, "%")),
    )
    planned = (
        critical
        if planned_critical_pct is None
        else np.asarray(positive("planned critical carbon", planned_critical_pct, "%"))
    )
    if np.any(floor >= np.minimum(c0, np.minimum(critical, planned))):
        raise InputError(
            f"floor of carbon: {np.max(floor):g} % was given; less than the carbon and the "
            "critical carbon is needed."
        )
    per_pct = 10.0 * nm3_per_kg("C", co2_pct)  # Nm3/t for 1 % C
    span = planned - floor
    # oxygen, counted from the end of the plan, at which carbon passed the planned critical carbon,
    # then the true one
    knee = np.where(
        c0 < planned,
        span * per_pct * np.log(np.minimum(c0 - floor, span) / span),
        (c0 - planned) * per_pct,
    )
    knee = knee - (critical - planned) * per_pct
    span = critical - floor
    past = (d - knee) / per_pct  # % of carbon that oxygen could have burnt since
    return plain(
        np.where(past > 0.0, floor + span * np.exp(-np.maximum(past, 0.0) / span), critical - past)
    )
