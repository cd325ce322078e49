"""What a melter would say of a blow that was run: sentences, for one heat or for many, and how the
slag foams along it.

The limits are common practice, no source: no text could be read. No vessel of many sizes foams at
the same figure, so foam is a trend, against its own mean.
"""

import numpy as np

from ..base import kelvin, quietly
from ..slag import relative_viscosity, viscosity
from ..streams import Stage

_UNMELTED_PCT = 1.0  # of the scrap
_MOST_FEO_PCT = 40.0
_LOW_C_PCT, _LITTLE_FEO_PCT = 0.03, 10.0
_HIGH_C_PCT, _MUCH_FEO_PCT = 0.3, 25.0
_OXIDES_PCT, _OF_PEAK = 22.0, 0.9  # iron oxides and gas flow with which a vessel slops
_SETTLED = 0.25  # of the blow: before it the slag is too thin to speak of
_MOST_SOLID = 0.3


def foam_trend(blow: Stage) -> np.ndarray:
    """How much the slag foams along a blow, against its mean: slag times viscosity (Riboud, solid
    lime counted) times gas. Not for the first quarter, where the slag forms.

    Parameters
    ----------
    blow : Blow, of one heat or of many

    Returns
    -------
    1, along time

    References
    ----------
    Common practice, no source

    Examples
    --------
    >>> from steelthermo.blow import solve
    >>> foam = foam_trend(solve())
    >>> round(float(foam.mean()), 2)
    1.0
    """
    with quietly():
        thick = viscosity(
            {o: x for o, x in blow.slag_pct.items() if o != "CaS"},
            kelvin(blow.slag.temp_c),
            "riboud",
        )
    slag, lumps = blow.slag.mass_kg, blow.lumps.mass_kg
    solid = np.minimum(lumps / np.maximum(slag + lumps, 1e-9), _MOST_SOLID)
    foam = slag * thick * relative_viscosity(solid) * sum(blow.gas_nm3_min.values())
    return foam / np.mean(foam, axis=-1, keepdims=True)


def remarks_of(blow):
    """Sentences on what is out of the ordinary, none where nothing is."""
    share = blow.time_min / blow.time_min[..., -1:]
    oxides = blow.of("FeO") + blow.of("Fe2O3")
    flow = sum(blow.gas_nm3_min.values())
    carbon, feo = blow.of("C")[..., -1], blow.of("FeO")[..., -1]
    scrap = blow.scrap.mass_kg[..., -1]
    left = 100.0 * blow.scrap_left.mass_kg[..., -1] / np.maximum(scrap, 1e-9)
    slops = (
        (oxides > _OXIDES_PCT)
        & (flow > _OF_PEAK * np.max(flow, axis=-1, keepdims=True))
        & (share > _SETTLED)
    )
    first = np.where(slops, blow.time_min, np.inf).min(axis=-1)
    return tuple(
        _said(mask, words, figure)
        for mask, words, figure in (
            (
                left > _UNMELTED_PCT,
                "scrap: {:.0f} % of it is not molten at the end; charge less or lighter, or wait",
                left,
            ),
            (
                feo > _MOST_FEO_PCT,
                "slag: {:.0f} % FeO at the end; the lining and the yield suffer",
                feo,
            ),
            (
                (carbon > _HIGH_C_PCT) & (feo > _MUCH_FEO_PCT)
                | (carbon < _LOW_C_PCT) & (feo < _LITTLE_FEO_PCT),
                "carbon and FeO do not go together: with {:.2f} % C a slag holds other FeO; check "
                "lance and mixing",
                carbon,
            ),
            (
                slops.any(axis=-1),
                "slopping: from {:.1f} min much gas meets much iron oxide, slag may foam over "
                "(common practice, no source)",
                first,
            ),
        )
        if np.any(mask)
    )


def _said(mask, words, figure):
    """A sentence with the figure of the worst heat, and of how many it is true."""
    if np.ndim(mask) == 0:
        return words.format(float(figure))
    found = np.asarray(figure)[mask]
    worst = found.min() if "slopping" in words else found.max()
    return f"{words.format(worst)} ({np.sum(mask)} of {np.size(mask)} heats, the worst)"
