"""How far the iron oxide of a charge, and with it its heat and oxygen, depend on figures of the
law at the end of a blow that are not verified: the band that belongs to the end temperature itself.
"""

from dataclasses import dataclass

import numpy as np

from ..base import VERIFIED, InputError, Number, Record
from ..slag import end_of_blow_parameters
from ..works import calibrated, law_figures
from .charge import Charge, solve
from .iron_oxide import law_of

_MASSES = ("scrap", "coolant", "fuel", "lime", "dolomite")
_ROUNDS = 2  # of law and charge; a third moves the end by less than 0.2 degC


@dataclass(frozen=True, repr=False)
class LawBand(Record):
    """(low, high) of temp_c, degC, at the end with all masses kept, oxygen_nm3_t and feo_pct of the
    slag, by one figure of the law at a time that is not verified; by: change of the end temperature
    at the low and the high end of each figure's own band, degC. Empty, and low equal to high, where
    the works gives iron oxide itself.
    """

    temp_c: tuple[float, float]
    oxygen_nm3_t: tuple[float, float]
    feo_pct: tuple[float, float]
    by: dict[str, tuple[float, float]]

    @property
    def provenance(self) -> tuple:
        """Of the figures that were moved."""
        return tuple(p for key in self.by for p in end_of_blow_parameters()[key].provenance)


def law_band(charge: Charge) -> LawBand:
    """The band of a charge's end temperature, oxygen and FeO by what is not verified of the law.

    Parameters
    ----------
    charge : Charge of one heat, not of arrays

    Returns
    -------
    LawBand

    Raises
    ------
    InputError
        For a charge of many heats.

    References
    ----------
    end_of_blow.csv: the bands of its figures. What a works fitted to its own heats stands still.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> low, high = law_band(solve()).temp_c
    >>> round(low), round(high)
    (1650, 1704)
    """
    if np.ndim(charge.temp_c):
        raise InputError("band of a charge: many heats were given; one is needed.")
    steel_t, own = charge.steel.mass_kg / 1000.0, charge.plan
    start = (charge.temp_c, charge.oxygen_nm3 / steel_t, charge.slag.analysis_pct["FeO"])
    moved = {
        key: p
        for key, p in end_of_blow_parameters().items()
        if p.status not in VERIFIED and key not in calibrated(own.works)
    }
    if own.feo_pct is not None or not moved:
        return LawBand(*((x, x) for x in start), {})
    figures = law_figures(own.works)
    law = {key: np.full(2 * len(moved), p.start) for key, p in end_of_blow_parameters().items()}
    law |= {key: np.full(2 * len(moved), x) for key, x in figures.items()}
    for n, (key, p) in enumerate(moved.items()):
        law[key][2 * n : 2 * n + 2] = p.low, p.high
    scale = own.hot_metal_kg / charge.hot_metal.mass_kg  # a charge may be scaled, its plan is not
    kept = {f"{name}_kg": scale * getattr(charge, name).mass_kg for name in _MASSES}
    heat = charge
    for _ in range(_ROUNDS):
        found = law_of(heat, charge.steel.analysis_pct["C"], law=law)
        end = own.end_pct | {"O": found.oxygen_pct}
        iron = {"feo_pct": found.feo_pct, "fe2o3_pct": found.fe2o3_pct, "end_pct": end}
        heat = solve(own, find="temperature", infeasible="mark", **kept, **iron)
    change = heat.temp_c - charge.temp_c
    by = {key: (float(change[2 * n]), float(change[2 * n + 1])) for n, key in enumerate(moved)}
    ends = (
        heat.temp_c,
        heat.oxygen_nm3 / heat.steel.mass_kg * 1000.0,
        heat.slag.analysis_pct["FeO"],
    )
    return LawBand(
        *map(_low_high, start, ends), {k: v for k, v in by.items() if max(map(abs, v)) > 0.05}
    )


def _low_high(own: float, ends: Number) -> tuple[float, float]:
    ends = np.asarray(ends)[np.isfinite(ends)]
    return float(min(own, ends.min())), float(max(own, ends.max()))
