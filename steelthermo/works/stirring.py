"""Gas blown through the bottom of a vessel as the cause of mixing: what it does to the exchange of
slag and bath at the end of a blow.

The power of rising gas is its isothermal work. How far mixing follows that power, and how much
stirs a vessel without gas from below, is not verified: lance.csv, set 'stirring'.
"""

import numpy as np

from ..base import Number, Table, between, kelvin, plain, rising_gas_w, value

_AT_C = 1650.0


def bottom_power_w_t(bottom_nm3_min_t: Number) -> Number:
    """Power that gas from below gives to the bath of a vessel.

    Parameters
    ----------
    bottom_nm3_min_t : Nm3/min per t of steel, 0 to 0.5; arrays broadcast

    Returns
    -------
    W/t

    Raises
    ------
    InputError

    References
    ----------
    Isothermal work of an ideal gas, as ladle.stirring_power_w_t(); lance.csv, 'bath_depth'

    Examples
    --------
    >>> round(bottom_power_w_t(0.1))
    834
    """
    flow = between("gas from below", bottom_nm3_min_t, 0.0, 0.5, "Nm3/(min t)")
    depth_m, density = (Table("lance").get(k)["value"] for k in ("bath_depth", "metal_density"))
    head = density * value("standard_gravity") * depth_m / value("normal_pressure")
    return plain(rising_gas_w(flow, kelvin(_AT_C), 1.0 + head))


def stirred_exchange(bottom_nm3_min_t: Number) -> Number:
    """Exchange of slag and bath with gas from below: that of end_of_blow.csv times (1 + power of
    the gas over that of the vessel without it) to a power.

    Parameters
    ----------
    bottom_nm3_min_t : Nm3/min per t of steel, 0 to 0.5

    Returns
    -------
    kmol of oxygen per minute and t, per unit of activity of FetO

    Raises
    ------
    InputError

    References
    ----------
    lance.csv, 'alone_w_t' and 'mixing_power', from memory

    Examples
    --------
    >>> round(stirred_exchange(0.0), 2), round(stirred_exchange(0.1), 2)
    (0.3, 0.47)
    """
    alone, power = (Table("lance").get(key)["value"] for key in ("alone_w_t", "mixing_power"))
    start = Table("end_of_blow").get("slag_exchange")["start"]
    return plain(start * (1.0 + np.asarray(bottom_power_w_t(bottom_nm3_min_t)) / alone) ** power)


def mixing_words(bottom_nm3_min_t: float) -> str:
    """What gas from below does, in words.

    Parameters
    ----------
    bottom_nm3_min_t : Nm3/min per t of steel

    Returns
    -------
    a sentence

    Examples
    --------
    >>> print(mixing_words(0.0))
    no gas from below: slag and bath stand further apart
    """
    if not bottom_nm3_min_t:
        return "no gas from below: slag and bath stand further apart"
    more = stirred_exchange(bottom_nm3_min_t) / stirred_exchange(0.0)
    return (
        f"{bottom_nm3_min_t:g} Nm3/(min t) from below: slag and bath even out {more:.1f} times as "
        "fast (from memory)"
    )
