"""Should this hot metal be treated first? Sulphur that comes back in the vessel, and the same steel
made with and without the treatment.

The treatments themselves stand in desulphurisation (magnesium, lime, carbide) and pre_oxidation
(oxygen, ore, scale); both are reached from here too.
"""

import warnings
from dataclasses import dataclass

import numpy as np

from ..base import (
    ExtrapolationWarning,
    InputError,
    Record,
    between,
    kelvin,
    molar_mass,
    plain,
    positive,
    value,
)
from ..charge import solve_by
from ..slag import partitions, spread
from ..streams import LiquidMetal, Solid, Stage

_SHOWN = (
    "hot metal",
    "scrap",
    "lime",
    "dolomite",
    "oxygen",
    "slag",
)  # what the comparison lists, per t of steel
_WORTH_SAYING = 0.05  # kg or Nm3 per t: smaller differences are no reason for anything


def steel_sulphur_pct(sulphur_kg, steel_kg, slag_kg, partition=None):
    """Sulphur of the steel, mass %, when all that is charged is shared out between steel and slag:
    100 S / (steel + L slag).

    sulphur_kg: kg from each source by name (hot metal, treatment slag left on it, scrap, lime), or
    their sum; steel_kg, slag_kg: kg; partition:
    L = (%S)/[%S], None for the constant 'sulphur_partition_converter' (recalled; little leaves in a
    converter). Broadcasts. Raises InputError.
    Source: mass balance.
    """
    parts = sulphur_kg.values() if hasattr(sulphur_kg, "values") else [sulphur_kg]
    total = sum(positive("sulphur charged", kg, "kg") for kg in parts)
    L = positive(
        "partition of sulphur",
        value("sulphur_partition_converter") if partition is None else partition,
    )
    return plain(
        100.0
        * total
        / (positive("steel", steel_kg, "kg", zero=False) + L * positive("slag", slag_kg, "kg"))
    )


def into_vessel(stage):
    """Hot metal as the vessel sees it after a Stage: the sulphur of the slag left on it counted to
    the metal, where it returns. A LiquidMetal.

    The other oxides of that slag are left out: some kg per heat. Raises InputError.
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
    """The same steel with and without treatment, per t of steel tapped.

    without, treated: solved charge.Charge; stages; per_t: mapping of a name to (without, treated)
    in kg or Nm3 per t; steel_s_pct: (without, treated);
    partition_needed: (without, treated): L_P that the slag must reach; partition_published:
    (lowest, highest) of the published equations for each slag; verdict: 'needed', 'not needed',
    'not enough' or 'your choice'; reasons: sentences.
    """

    without: object
    treated: object
    stages: tuple
    per_t: dict
    steel_s_pct: tuple
    partition_needed: tuple
    partition_published: tuple
    verdict: str
    reasons: tuple

    def __str__(self):
        return f"Treatment: {self.verdict}. " + " ".join(self.reasons)

    def saved(self, name):
        """What the treatment saves (negative: costs) of one item of per_t, kg or Nm3 per t of
        steel. Raises InputError.
        """
        if name not in self.per_t:
            raise InputError(f"comparison: {name!r} was given; known are {', '.join(self.per_t)}.")
        before, after = self.per_t[name]
        return before - after

    @property
    def provenance(self):
        """Sources of both heats and of the stages."""
        return tuple(
            dict.fromkeys(
                p for part in (self.without, self.treated, *self.stages) for p in part.provenance
            )
        )


def _heat(metal, works, partition, by, options):
    """Charge for a hot metal, per t of steel, with the sulphur shared out by a partition."""
    options = {"hot_metal": metal, "hot_metal_kg": 1000.0} | options
    solved = solve_by(works, by, **options)
    taken = (
        partition * solved.slag.mass_kg / (solved.steel.mass_kg + partition * solved.slag.mass_kg)
    )
    return solve_by(works, by, sulphur_to_slag_pct=100.0 * taken, **options).for_tap(1.0)


def _phosphorus(heat):
    """L_P that the slag of a heat must reach, and the lowest and highest L_P that the published
    equations allow it.
    """
    slag, T = heat.slag, kelvin(heat.temp_c)
    held = slag.analysis_pct.get("P2O5", 0.0) * 2.0 * molar_mass("P") / molar_mass("P2O5")
    with (
        warnings.catch_warnings()
    ):  # a spread over equations: each has its own range, and the spread is the message
        warnings.simplefilter("ignore", ExtrapolationWarning)
        low, high, _ = spread(partitions(slag.oxides_kg, T, "P", "published"))
    return held / heat.steel.analysis_pct["P"], (low, high)


def compare(metal, stages, *, steel_s_max_pct, works=None, partition_s=None, by=None, **options):
    """Make the same steel from hot metal as it comes and from hot metal treated, and say what that
    saves and costs.

    metal: LiquidMetal as it comes; stages: a Stage of desulphurise() or oxidise() that began with
    it, or several, in their order.
    steel_s_max_pct: sulphur allowed in the steel at the end of the blow, mass %. works: profile
    (default: as plant.load()). partition_s: L_S of the vessel, see steel_sulphur_pct. by: other
    published data for both heats, a key as in other_data.solve_by(). options: of charge.solve(),
    such as end_pct, end_temp_c, scrap, find with scrap_kg. One heat, no arrays.
    Returns a Comparison. Raises InputError, also where one of the two heats cannot be made.
    """
    stages = (stages,) if isinstance(stages, Stage) else tuple(stages)
    if not stages:
        raise InputError("comparison: no treatment was given; at least one Stage is needed.")
    if np.ndim(metal.temp_c) or np.ndim(metal.mass_kg):
        raise InputError("comparison: arrays were given; one hot metal is needed.")
    s_max = between("sulphur allowed in the steel", steel_s_max_pct, 0.0005, 0.2, "%")
    L = (
        value("sulphur_partition_converter")
        if partition_s is None
        else between("partition of sulphur", partition_s, 0.0, 100.0)
    )
    without, treated = (
        _heat(metal, works, L, by, options),
        _heat(into_vessel(stages[-1]), works, L, by, options),
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
