"""Decarburisation in three periods, by formulas that can be checked: the ceiling that oxygen sets,
the fall below the critical carbon, carbon along time in closed form.
"""

import numpy as np

from ..base import InputError, atomic_weight, between, molar_volume_nm3_kmol, plain, positive


def oxygen_ceiling_pct_min(o2_nm3_min, metal_t, pcr=0.0):
    """Greatest rate of decarburisation, % C per minute, when all oxygen burns carbon. Exact
    stoichiometry: 0.10717 Q / (W (1 + PCR)).

    o2_nm3_min: pure O2; metal_t: liquid metal, t; pcr: CO2/(CO + CO2) of the gas made, 0 to 1. They
    broadcast. Raises InputError.
    """
    o2, metal = (
        positive("oxygen flow", o2_nm3_min, "Nm3/min"),
        positive("metal", metal_t, "t", zero=False),
    )
    per_o2 = 2.0 * atomic_weight("C") / molar_volume_nm3_kmol() / 10.0  # % x t per Nm3
    return plain(per_o2 * o2 / (metal * (1.0 + between("post-combustion ratio", pcr, 0.0, 1.0))))


def critical_rate_per_min(ceiling_pct_min, critical_pct, floor_pct=0.0):
    """Rate constant of the last period, 1/min, that joins it to the plateau: k = r2 / (critical C -
    floor C). Arguments in %/min and %; broadcast.
    """
    return ceiling_pct_min / (critical_pct - floor_pct)


def transport_share(carbon_pct, critical_pct, floor_pct=0.0):
    """Rate at which carbon comes to the surface of the oxygen, over the ceiling that all the oxygen
    blown sets: (C - floor)/(critical - floor), which is a rate constant times (C - floor). Arrays;
    no checks, for it is called thousands of times."""
    return np.maximum((carbon_pct - floor_pct) / (critical_pct - floor_pct), 0.0)


def carbon_rate(oxygen_rate, ceiling, transport):
    """Rate of decarburisation: what the oxygen at hand allows, or the transport of carbon in the
    bath, whichever is less. In the unit of oxygen_rate.

    oxygen_rate: by the oxygen that silicon and slag leave or give back; ceiling: by all the oxygen
    blown; transport: see transport_share(). Arrays; no checks.
    """
    return np.minimum(oxygen_rate, ceiling * transport)


def three_periods(time_min, carbon_pct, ceiling_pct_min, ramp_min, critical_pct, floor_pct=0.0):
    """Carbon along time, %, in closed form: linear rise of the rate to the ceiling, plateau,
    exponential fall from the critical carbon.

    time_min: since the start, array or number; carbon_pct: at the start; ramp_min: length of the
    rise. Our own reference for the code, published by nobody:
    it has no heat, no slag and no scrap in it. Raises InputError.
    """
    t, r = np.asarray(positive("time", time_min, "min")), ceiling_pct_min
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
