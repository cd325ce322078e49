"""What a melter would say of a solved charge: where it asks more of chemistry than any equation
gives, or lies outside what shops report. Such a heat closes all the same; it is remarked on, not
refused.
"""

import warnings

import numpy as np

from ..base import Table, plain
from ..slag import end_of_blow_parameters, equations, metal_pct_by
from ..streams import Stage
from ..thermo import liquidus_c
from .iron_oxide import CARBON_PCT, law_of

_RANGES = Table("shop_ranges")
_REACH = 0.9  # of the lowest content that any equation gives: below it is out of reach of all
_FEO_APART = (
    5.0,
    0.4,
)  # %, share of the law's FeO: beyond both they do not go together
_MGO_ABOVE = 1.0  # % above what the works says its slag can hold


def _phosphorus(charge):
    """(mask, sentence) of phosphorus out of reach."""
    metal = charge.steel.mass_kg + charge.ejected.mass_kg
    kg = sum(r.element_kg().get("P", 0.0) for r in (charge.steel, charge.ejected, charge.slag))
    steel = charge.steel.analysis_pct
    product = end_of_blow_parameters()["carbon_oxygen_product"].start
    oxygen = plain(product / np.maximum(steel.get("C", 0.0), 0.01))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = metal_pct_by(charge.slag, metal, kg, equations("P"), oxygen)
    low = np.min(np.broadcast_arrays(*found.values()), axis=0)
    return (
        np.asarray(steel.get("P", 0.0)) < _REACH * low,
        f"phosphorus: {np.min(steel.get('P', 0.0)):.4f} % is out of reach of every equation; the "
        f"best of them leaves {np.min(low):.4f} % with this slag",
    )


def _carbon_and_iron(charge):
    """(mask, sentence) of carbon and FeO that do not go together."""
    carbon = np.asarray(charge.steel.analysis_pct.get("C", 0.0))
    law = law_of(charge, np.clip(carbon, *CARBON_PCT))
    feo = np.asarray(charge.slag.analysis_pct.get("FeO", 0.0))
    apart = np.abs(feo - law.feo_pct)
    return (
        (apart > _FEO_APART[0]) & (apart > _FEO_APART[1] * law.feo_pct),
        f"FeO and carbon: {np.max(feo):.1f} % FeO does not go with {np.min(carbon):.3f} % C; the "
        f"law at the end of a blow gives {np.min(law.feo_pct):.0f} %",
    )


def _hot_metal(charge):
    """Pairs (mask, sentence) of hot metal that cannot be as given."""
    metal = charge.hot_metal
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pct = {e: x for e, x in metal.analysis_pct.items() if e != "Fe"}
        freezes, whole = liquidus_c(pct, "iron"), liquidus_c(pct)
    temp = np.asarray(metal.temp_c)
    return [
        (
            (temp < whole) & (whole > freezes),
            "hot metal: it holds more carbon than dissolves at its temperature; graphite falls out "
            f"below {np.max(whole):.0f} °C",
        ),
        (
            temp < freezes,
            f"hot metal: it is below its liquidus of {np.max(freezes):.0f} °C",
        ),
    ]


def _shops(charge):
    """Pairs (mask, sentence) of what lies outside what shops report."""
    found = {
        "oxygen": charge.per_t("oxygen"),
        "lime": charge.per_t("lime"),
        "slag": charge.per_t("slag"),
        "yield": charge.yield_pct,
        "scrap": charge.scrap_share_pct,
        "basicity": charge.slag.oxides_kg.get("CaO", 0.0)
        / np.maximum(charge.slag.oxides_kg.get("SiO2", 0.0), 1e-9),
    }
    for key, row in _RANGES.by_key.items():
        x, unit = np.asarray(found[key]), "" if row["unit"] == "1" else f" {row['unit']}"
        yield (
            (x < row["low"]) | (x > row["high"]),
            f"{row['what']}: {np.min(x):.4g}{unit} lies outside {row['low']:g} to "
            f"{row['high']:g}{unit}, what shops report ({row['status']}); {row['note']}",
        )


def checks(charge: Stage) -> tuple:
    """Remarks on a solved charge.

    Parameters
    ----------
    charge : Charge

    Returns
    -------
    tuple of str
        Empty for an ordinary heat. For arrays each says of how many heats it is true.

    References
    ----------
    shop_ranges.csv; slag_partitions.csv; slag.end_of_blow; thermo.liquidus_c.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> checks(solve())
    ()
    >>> checks(solve(end_pct={"C": 0.04, "P": 0.0005}))[0][:53]
    'phosphorus: 0.0005 % is out of reach of every equatio'
    """
    mgo = np.asarray(charge.slag.analysis_pct.get("MgO", 0.0))
    holds = charge.plan.works.slag.mgo_saturation_pct
    pairs = [
        *((_phosphorus(charge),) if "P2O5" in charge.slag.oxides_kg else ()),
        _carbon_and_iron(charge),
        *_hot_metal(charge),
        (
            mgo > holds + _MGO_ABOVE,
            f"slag: {np.max(mgo):.1f} % MgO is more than the {holds:g} % that it can hold, as the "
            "works says; magnesia stays solid",
        ),
        *_shops(charge),
    ]
    out = []
    for mask, words in pairs:
        mask = np.asarray(mask) & charge.feasible
        if mask.any():
            many = f" ({int(mask.sum())} of {mask.size} heats)" if mask.ndim else ""
            out.append(words + many)
    return tuple(out)
