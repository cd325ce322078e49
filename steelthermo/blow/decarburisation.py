"""The ceiling that oxygen sets to the rate of decarburisation."""

from ..base import (
    Number,
    atomic_weight,
    between,
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
