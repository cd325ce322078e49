"""Should this hot metal be treated first? Sulphur that comes back in the vessel, and the same steel
made with and without the treatment.

The treatments themselves stand in desulphurisation (magnesium, lime, carbide) and pre_oxidation
(oxygen, ore, scale); both are reached from here too.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    between,
    kelvin,
    molar_mass,
    one_of,
    plain,
    positive,
    quietly,
)
from ..charge import Charge, solve_by
from ..slag import partitions, spread
from ..streams import LiquidMetal, Solid, Stage
from ..works import Profile

_SHOWN = (
    "hot metal",
    "scrap",
    "lime",
    "dolomite",
    "oxygen",
    "slag",
)  # what the comparison lists, per t of steel
_WORTH_SAYING = 0.05  # kg or Nm3 per t: smaller differences are no reason for anything


def steel_sulphur_pct(
    sulphur_kg: dict | Number, steel_kg: Number, slag_kg: Number, partition: Number
) -> Number:
    """Sulphur of the steel when all that is charged is shared out: 100 S / (steel + L slag).

    Parameters
    ----------
    sulphur_kg : dict or float or array
        kg from each source by name (hot metal, treatment slag left on it, scrap, lime), or their
        sum.
    steel_kg, slag_kg : float or array
        kg; steel more than zero.
    partition : float or array
        L = (%S)/[%S]; of a converter see slag.property_facts('sulphur').

    Returns
    -------
    float or array
        Mass %.

    Raises
    ------
    InputError

    References
    ----------
    Mass balance.

    Examples
    --------
    >>> round(steel_sulphur_pct(20.0, 180_000.0, 18_000.0, partition=4.0), 4)
    0.0079
    """
    parts = sulphur_kg.values() if hasattr(sulphur_kg, "values") else [sulphur_kg]
    total = sum(positive("sulphur charged", kg, "kg") for kg in parts)
    L = positive("partition of sulphur", partition)
    return plain(
        100.0
        * total
        / (positive("steel", steel_kg, "kg", zero=False) + L * positive("slag", slag_kg, "kg"))
    )


def into_vessel(stage: Stage) -> LiquidMetal:
    """Hot metal as the vessel sees it: the sulphur of the slag left on it is counted to the metal,
    where it returns.

    Parameters
    ----------
    stage : Stage
        Of desulphurise() or oxidise(). The other oxides of the slag left are left out: some kg
        per heat.

    Returns
    -------
    LiquidMetal

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.hot_metal import desulphurise
    >>> metal = LiquidMetal(1000.0, {"C": 4.5, "Si": 0.4, "S": 0.04}, 1350.0)
    >>> stage = desulphurise(metal, {"magnesium": 0.6})
    >>> round(stage.metal.analysis_pct["S"], 4), round(into_vessel(stage).analysis_pct["S"], 4)
    (0.0008, 0.0047)
    """
    metal, left = stage.metal, stage.slag_left
    extra = left.element_kg().get("S", 0.0)
    kg = metal.element_kg()
    mass = metal.mass_kg + extra
    pct = {
        e: plain(100.0 * (x + (extra if e == "S" else 0.0)) / mass)
        for e, x in kg.items()
        if e != "Fe"
    }
    return LiquidMetal(plain(mass), pct, metal.temp_c, metal.coefficients)


@dataclass(frozen=True, repr=False)
class Comparison(Record):
    """The same steel with and without treatment, per t of steel tapped, made by compare(). Pairs
    are (without, treated).

    Parameters
    ----------
    without, treated : Charge
        The two heats, solved.
    stages : tuple of Stage
    per_t : dict
        Pairs by name, kg or Nm3 per t.
    steel_s_pct : tuple
        Sulphur of the steel, mass %.
    partition_needed : tuple
        L_P that the slag must reach.
    partition_published : tuple
        (lowest, highest) of the published equations for each slag.
    verdict : {'needed', 'not needed', 'not enough', 'your choice'}
    reasons : tuple of str
    """

    without: Charge
    treated: Charge
    stages: tuple
    per_t: dict
    steel_s_pct: tuple
    partition_needed: tuple
    partition_published: tuple
    verdict: str
    reasons: tuple

    def __str__(self):
        return f"Treatment: {self.verdict}. " + " ".join(self.reasons)

    def saved(self, name: str) -> float:
        """What the treatment saves (negative: costs) of one item of per_t, kg or Nm3 per t of
        steel. Raises InputError.
        """
        before, after = self.per_t[one_of("comparison", name, self.per_t)]
        return before - after

    @property
    def provenance(self) -> tuple:
        """Sources of both heats and of the stages."""
        return tuple(
            dict.fromkeys(
                p for part in (self.without, self.treated, *self.stages) for p in part.provenance
            )
        )


def _heat(metal, works, by, options):
    """Charge for a hot metal, per t of steel."""
    options = {"hot_metal": metal, "hot_metal_kg": 1000.0} | options
    return solve_by(works, by, **options).for_tap(1.0)


def _phosphorus(heat):
    """L_P that the slag of a heat must reach, and the lowest and highest L_P that the published
    equations allow it.
    """
    slag, T = heat.slag, kelvin(heat.temp_c)
    held = slag.analysis_pct.get("P2O5", 0.0) * 2.0 * molar_mass("P") / molar_mass("P2O5")
    with (
        quietly()
    ):  # a spread over equations: each has its own range, and the spread is the message
        low, high, _ = spread(partitions(slag.oxides_kg, T, "P", True))
    return held / heat.steel.analysis_pct["P"], (low, high)


def compare(
    metal: LiquidMetal,
    stages: Stage | Iterable[Stage],
    *,
    steel_s_max_pct: float,
    works: Profile | None = None,
    by: str | None = None,
    **options: object,
) -> Comparison:
    """Make the same steel from hot metal as it comes and from hot metal treated, and say what that
    saves and costs. One heat, no arrays.

    Parameters
    ----------
    metal : LiquidMetal
        As it comes.
    stages : Stage or several
        Of desulphurise() or oxidise(), in their order; the first began with the metal.
    steel_s_max_pct : float
        Sulphur allowed in the steel at the end of the blow, 0.0005 to 0.2 mass %.
    works : Profile, optional
        Default: the profile found by load_profile().
    by : str, optional
        Other published data for both heats, a key as in charge.solve_by().
    **options
        Of charge.solve(), such as end_pct, end_temp_c, scrap, find with scrap_kg.

    Returns
    -------
    Comparison

    Raises
    ------
    InputError
        Also where one of the two heats cannot be made.

    Examples
    --------
    >>> from steelthermo.hot_metal import desulphurise
    >>> metal = LiquidMetal(1000.0, {"C": 4.5, "Si": 0.4, "Mn": 0.3, "P": 0.1, "S": 0.04}, 1350.0)
    >>> compare(metal, desulphurise(metal, {"magnesium": 0.6}), steel_s_max_pct=0.015).verdict
    'needed'
    """
    stages = (stages,) if isinstance(stages, Stage) else tuple(stages)
    if not stages:
        raise InputError("comparison: no treatment was given; at least one Stage is needed.")
    if np.ndim(metal.temp_c) or np.ndim(metal.mass_kg):
        raise InputError("comparison: arrays were given; one hot metal is needed.")
    s_max = between("sulphur allowed in the steel", steel_s_max_pct, 0.0005, 0.2, "%")
    without, treated = (
        _heat(metal, works, by, options),
        _heat(into_vessel(stages[-1]), works, by, options),
    )

    per_t = {name: (without.per_t(name), treated.per_t(name)) for name in _SHOWN}
    # hot metal before treatment: what the treatments drew off is paid for as well
    yield_share = stages[-1].metal.mass_kg / metal.mass_kg
    bought = treated.per_t("hot metal") / yield_share
    per_t["hot metal bought"] = (without.per_t("hot metal"), bought)
    per_t["reagents"] = (0.0, _reagents_kg(stages) / metal.mass_kg * bought)
    drawn = sum(s.iron_skimmed.mass_kg for s in stages)
    per_t["iron drawn off with slag"] = (0.0, drawn / metal.mass_kg * bought)
    sulphur = tuple(h.steel.analysis_pct["S"] for h in (without, treated))
    needed, published = zip(*(_phosphorus(h) for h in (without, treated)), strict=True)
    verdict, reasons = _judge(metal, stages, per_t, sulphur, s_max, needed, published)
    return Comparison(without, treated, stages, per_t, sulphur, needed, published, verdict, reasons)


def _reagents_kg(stages):
    return sum(r.mass_kg for s in stages for r in s.inputs.values() if isinstance(r, Solid))


def _judge(metal, stages, per_t, sulphur, s_max, needed, published):
    """Verdict and reasons in words."""
    reasons, must, fails = [], False, False
    before, after = sulphur
    if before > s_max:
        must = after <= s_max
        fails = after > s_max
        end = (
            f"With it {after:.4f} %, which will do"
            if must
            else (
                f"With it still {after:.4f} %: treat further, skim cleaner or choose scrap with "
                "less sulphur"
            )
        )
        reasons.append(
            f"Sulphur: without treatment the steel would hold {before:.4f} % and {s_max:g} % is "
            f"allowed; the vessel alone takes little. {end}."
        )
    elif after > s_max:
        fails = True
        reasons.append(
            f"Sulphur: the treated heat would hold {after:.4f} % and {s_max:g} % is allowed: "
            "cleaner scrap and better skimming are needed."
        )
    else:
        reasons.append(
            f"Sulphur: {before:.4f} % without and {after:.4f} % with treatment; both are within "
            f"{s_max:g} %."
        )
    (low_b, high_b), (low_a, high_a) = published
    text = (
        f"Phosphorus: the slag must hold {needed[0]:.0f} times the steel's content without and "
        f"{needed[1]:.0f} times with treatment; published"
    )
    reasons.append(
        f"{text} equations allow {low_b:.0f} to {high_b:.0f} and {low_a:.0f} to {high_a:.0f} for "
        "these slags."
    )
    if needed[0] > high_b and needed[1] <= high_a:
        must = True
        reasons.append("Without treatment no published equation reaches that.")
    elif needed[1] > high_a:
        fails = True
        reasons.append("With treatment too no published equation reaches that.")
    change = stages[-1].metal.temp_c - metal.temp_c
    items = {n: per_t[n][0] - per_t[n][1] for n in ("lime", "slag", "scrap", "oxygen")}
    units = {"oxygen": "Nm3"}
    said = ", ".join(
        f"{'less' if d > 0 else 'more'} {n} ({abs(d):.1f} {units.get(n, 'kg')}/t)"
        for n, d in items.items()
        if abs(d) >= _WORTH_SAYING
    )
    reasons.append(
        f"The metal comes {abs(change):.0f} °C {'colder' if change < 0 else 'hotter'} to the "
        f"vessel; the heat takes {said or 'the same of everything'}."
    )
    extra = per_t["hot metal bought"][1] - per_t["hot metal bought"][0]
    drawn = per_t["iron drawn off with slag"][1]
    reasons.append(
        f"Per t of steel {extra:+.1f} kg hot metal, {per_t['reagents'][1]:.2f} kg reagents and "
        f"{drawn:.2f} kg iron drawn off with the slag."
    )
    if fails:
        return "not enough", tuple(reasons)
    if must:
        return "needed", tuple(reasons)
    saves = any(
        per_t[name][0] - per_t[name][1] >= _WORTH_SAYING for name in ("lime", "hot metal bought")
    )
    return ("your choice" if saves else "not needed"), tuple(reasons)
