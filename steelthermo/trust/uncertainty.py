"""How sure a heat is: errors of analyses, weights, temperature and works values through `charge`,
by sampling.

A heat is planned with the figures that the works reads, and run as weighed: scrap, fluxes and
oxygen are what the scales and the meter show. The true figures differ from those read, so the heat
ends elsewhere. Oxygen that is left over or missing burns carbon and iron by the law at the end of a
blow (slag.after_oxygen): so end carbon, slag and end temperature hang together.

What is left out: slag that comes with the hot metal, wet or rusty scrap, lime that does not
dissolve, and the reading at the end of the blow itself.
Errors are taken as independent and normal; spreads are standard uncertainties (works.inputs).
"""

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Record,
    between,
    kelvin,
    molar_mass,
    one_of,
    plain,
    plus_minus,
    positive,
    quietly,
)
from ..charge import Charge, nm3_per_kg
from ..charge import solve as solve_charge
from ..slag import after_oxygen, end_of_blow, end_of_blow_parameters
from ..streams import Material, material
from ..works import Profile, inputs, load_profile, plan_limits, plan_values
from ..works import spreads as spreads_of
from .shares import first_order_shares

SCRAP = "heavy_scrap"
_FROM_PCT = 0.45  # of carbon above the aim: from there the last minutes are followed
_MOST_FEO_PCT = 60.0
_CHUNK = 12_500  # heats solved at once: what fits the processor's cache


@dataclass(frozen=True, eq=False, repr=False)
class Heats(Record):
    """Many heats of one plan. deviation: true less read of each input, arrays in its unit; temp_c,
    carbon_pct, feo_pct: end of the blow;
    aim_temp_c, aim_carbon_pct: where the heat would end if everything were as read; feasible: mask;
    plan: the Charge as planned; order: of each input, the indices that sort its deviation."""

    deviation: dict
    temp_c: np.ndarray
    carbon_pct: np.ndarray
    feo_pct: np.ndarray
    aim_temp_c: float
    aim_carbon_pct: float
    feasible: np.ndarray
    plan: Charge
    order: dict = field(repr=False)

    def of(self, what: str) -> np.ndarray:
        """'temperature' (degC), 'carbon' (%) or 'FeO' (% of slag) of the feasible heats, array."""
        found = {"temperature": self.temp_c, "carbon": self.carbon_pct, "FeO": self.feo_pct}
        return found[one_of("heats", what, found)][self.feasible]

    def spread(self, what: str) -> float:
        """Standard deviation of the feasible heats, in the unit of of(what)."""
        return np.std(self.of(what)).item()

    def _shown(self):
        told = {"temperature": "°C", "carbon": "%", "FeO": "% of slag"}
        rows = [(w, plus_minus(self.mean(w), self.spread(w)), unit) for w, unit in told.items()]
        title = f"{self.feasible.size} heats, where they end: mean ± standard deviation"
        return title, ("", "", "unit"), rows

    def mean(self, what: str) -> float:
        """Mean of the feasible heats."""
        return np.mean(self.of(what)).item()

    def within(self, temp_c: float = 10.0, carbon_pct: float = 0.01) -> dict:
        """Share of the heats, %, that end within +-temp_c and +-carbon_pct of where the plan ends:
        dict of 'temperature', 'carbon', 'both'.

        Heats that cannot be count as missed.
        """
        near = {
            "temperature": np.abs(self.temp_c - self.aim_temp_c)
            <= positive("window of temperature", temp_c, "°C")
        }
        near["carbon"] = np.abs(self.carbon_pct - self.aim_carbon_pct) <= positive(
            "window of carbon", carbon_pct, "%"
        )
        near["both"] = near["temperature"] & near["carbon"]
        return {k: 100.0 * np.mean(v & self.feasible).item() for k, v in near.items()}

    def shares(self, what: str = "temperature") -> dict:
        """First-order share of each input in the variance of of(what): dict of key to share (0 to
        1), the largest first; see first_order_shares().
        """
        order = self.order
        if not self.feasible.all():
            place = np.cumsum(self.feasible) - 1
            order = {k: place[o[self.feasible[o]]] for k, o in order.items()}
        return first_order_shares(
            {k: v[self.feasible] for k, v in self.deviation.items()}, self.of(what), order=order
        )


# ---- the heat as planned and as it truly is ------------------------------------------------------


def _shifted(base, species, by, rest):
    """A Material with `by` % more of a species (not below zero) and less of the rest."""
    more = np.maximum(base.pct(species) + by, 0.0)
    analysis = {s: p for s, p in base.analysis_pct.items() if s not in (species, rest)}
    return Material.of(base.title, analysis | {species: more}, rest, base.temp_c, base.kind)


def _true(works, plan, deviation, scrap):
    """Arguments for charge.solve() of the heats as they are, the oxygen blown (Nm3), and the
    critical carbon (%).
    """
    dev = {key: np.asarray(deviation.get(key, 0.0)) for key in inputs()}

    def ratio(key):
        return np.maximum(1.0 + dev[key] / 100.0, 0.05)

    hot = dict(works.hot_metal.analysis_pct)
    for element, key in (
        ("C", "hot_metal_c_pct"),
        ("Si", "hot_metal_si_pct"),
        ("Mn", "hot_metal_mn_pct"),
        ("P", "hot_metal_p_pct"),
    ):
        hot[element] = np.maximum(hot.get(element, 0.0) + dev[key], 0.0)
    scrap = _shifted(
        _shifted(material(scrap, works), "C", dev["scrap_c_pct"], "Fe"),
        "SiO2",
        dev["scrap_dirt_pct"],
        "Fe",
    )

    arguments = {
        "find": "temperature",
        "infeasible": "mark",
        "hot_metal_kg": plan.hot_metal.mass_kg * ratio("hot_metal_kg"),
        "hot_metal_pct": hot,
        "scrap": scrap,
        "scrap_kg": plan.scrap.mass_kg * ratio("scrap_kg"),
        "lime": _shifted(material("lime", works), "CaCO3", dev["lime_co2_pct"], "CaO"),
        "lime_kg": plan.lime.mass_kg * ratio("lime_kg"),
        "dolomite_kg": plan.dolomite.mass_kg * ratio("dolomite_kg"),
    }
    values = plan_values(works)
    for key, row in plan_limits().items():
        if key in dev:
            arguments[key] = np.clip(values[key] + dev[key], row["low"], row["high"])
    known = end_of_blow_parameters()["critical_carbon_pct"]
    critical = np.clip(known.start + dev["critical_carbon_pct"], 0.25 * known.low, known.high)
    return arguments, plan.oxygen_nm3 * ratio("oxygen_nm3"), critical


def _as_weighed(works, plan, deviation, scrap):
    """(temp_c, carbon_pct, feo_pct, feasible), arrays, of heats run as weighed: carbon by the law
    at the end of a blow, what it leaves of the oxygen by the charge balance.
    """
    arguments, blown, critical = _true(works, plan, deviation, scrap)
    end, planned = dict(works.end_point.analysis_pct), plan.slag.analysis_pct
    if "O" in plan.steel.analysis_pct:
        end["O"] = plan.steel.analysis_pct["O"]
    arguments |= {"feo_pct": planned["FeO"], "fe2o3_pct": planned["Fe2O3"]}
    first = solve_charge(works, end_pct=end, **arguments)
    steel_t = np.asarray(first.steel.mass_kg) / 1000.0
    pure = (blown - first.oxygen_nm3) * _used(first) / steel_t
    carbon = _carbon(works, scrap, first, pure, arguments["co2_pct"], critical)
    # what carbon leaves, iron takes or gives back
    found = solve_charge(
        works, end_pct=end | {"C": carbon}, free="FeO", oxygen_nm3=blown, **arguments
    )
    feo = np.asarray(found.slag.analysis_pct["FeO"])
    return found.temp_c, carbon, feo, np.asarray(found.feasible) & (feo <= _MOST_FEO_PCT)


def _used(heat):
    """O2 that bath and slag get of each Nm3 blown."""
    o2 = heat.oxygen.nm3["O2"]
    return (o2 - np.asarray(heat.gas.nm3.get("O2", 0.0))) / heat.oxygen.total_nm3


def _base_kg_t(heat):
    """The slag of heats without its iron oxides and sulphide, kg per t of steel."""
    steel_t = np.asarray(heat.steel.mass_kg) / 1000.0
    return {
        o: np.asarray(kg) / steel_t
        for o, kg in heat.slag.oxides_kg.items()
        if o not in ("FeO", "Fe2O3", "CaS")
    }


def _blowing(works, co2_pct):
    """(O2, Nm3 per minute and t of steel, share of carbon to CO2)."""
    flow = works.oxygen.flow_nm3_min * works.oxygen.purity_pct / 100.0 / works.vessel.tap_t
    return flow, np.asarray(co2_pct) / 100.0


@lru_cache(maxsize=8)
def _way_down(works, scrap):
    """By the law of the plan: carbon from which its last minutes are followed, %; the slag there,
    kg FeO per t; O2 from there to the aim, Nm3 per t.
    """
    plan = _plan(works, scrap)
    aim, T = plan.steel.analysis_pct["C"], kelvin(works.end_point.temp_c)
    start, base = aim + _FROM_PCT, _base_kg_t(plan)
    how = _blowing(works, works.gas.co2_pct)
    end = end_of_blow(base, start, T, *how)
    rest = 100.0 - end.feo_pct - end.fe2o3_pct
    iron_as_feo = end.feo_pct + end.fe2o3_pct * 2.0 * molar_mass("FeO") / molar_mass("Fe2O3")
    feo = sum(base.values()) / rest * iron_as_feo

    def carbon(oxygen):
        return after_oxygen(base | {"FeO": feo}, start, T, oxygen, *how).carbon_pct

    tried = np.linspace(0.0, 20.0, 200)
    oxygen = np.interp(-aim, -carbon(tried), tried).item()
    for _ in range(3):  # Newton's rule, to rounding
        here, near = carbon(np.array([oxygen, oxygen + 0.01]))
        oxygen -= (here - aim) * 0.01 / (near - here)
    return start, feo, oxygen


def _carbon(works, scrap, heats, more_nm3_t, co2_pct, critical_pct):
    """Carbon of heats that get more (or less) O2 than brings them to the aim, Nm3 per t: followed
    down from where it was plenty, each by its own slag and critical carbon.
    """
    start, feo, planned = _way_down(works, scrap)
    oxygen = planned + more_nm3_t
    after = after_oxygen(
        _base_kg_t(heats) | {"FeO": feo},
        start,
        kelvin(works.end_point.temp_c),
        np.clip(oxygen, 0.0, 20.0),
        *_blowing(works, co2_pct),
        {"critical_carbon_pct": critical_pct},
    )
    missing = np.maximum(-oxygen, 0.0)  # above the start all of it burns carbon
    return after.carbon_pct + missing / (10.0 * nm3_per_kg("C", co2_pct))


@lru_cache(maxsize=8)
def _plan(works, scrap):
    material(scrap, works)  # refuses what is no key
    return solve_charge(works, scrap=scrap)


@lru_cache(maxsize=8)
def _as_planned(works, scrap):
    """Where a heat of the works ends if everything is as read."""
    return [plain(x) for x in _as_weighed(works, _plan(works, scrap), {}, scrap)]


@lru_cache(maxsize=1)
def _drawn(count, n, seed):
    """Normal deviates of n heats, a row for each input: independent, the same for the same seed
    whatever the spreads; and what sorts each row.
    """
    z = np.random.default_rng(seed).standard_normal((count, n))
    return z, np.argsort(z, axis=1, kind="stable")


def heats(
    works: Profile | None = None,
    n: int = 100000,
    spreads: Amounts | None = None,
    seed: int = 16,
    scrap: str = SCRAP,
) -> Heats:
    """Sample heats of a works through the charge balance.

    Parameters
    ----------
    works : None: the one found by load_profile()
    n : number of heats, 2 to 1 000 000
    spreads : standard uncertainty by key, in its unit, instead of those of inputs()
    seed : the same seed draws the same heats
    scrap : key of the profile

    Returns
    -------
    Heats

    Raises
    ------
    InputError

    References
    ----------
    charge.solve(); spreads: uncertainties.csv; law at the end of a blow: end_of_blow.csv
    (its mixing from memory).

    Examples
    --------
    >>> round(float(heats(n=2000).spread("temperature")))
    17
    """
    works = works or load_profile()
    n = int(between("number of heats", n, 2, 1_000_000))
    spread = spreads_of(spreads)
    plan = _plan(works, scrap)
    z, order = _drawn(len(spread), n, seed)
    deviation = {key: s * row for (key, s), row in zip(spread.items(), z, strict=True)}
    parts = []
    for i in range(0, n, _CHUNK):
        part = {k: d[i : i + _CHUNK] for k, d in deviation.items() if spread[k] > 0.0}
        with quietly():  # a reading may err beyond saturation; the plan itself warns
            found = _as_weighed(works, plan, part, scrap)
        parts.append([np.broadcast_to(x, (min(_CHUNK, n - i),)) for x in found])
    temp, carbon, feo, feasible = map(np.concatenate, zip(*parts, strict=True))
    if not feasible.any():
        raise InputError("spreads: not one of the heats can be; they are too wide for this works.")
    aim_temp_c, aim_carbon_pct, *_ = _as_planned(works, scrap)
    return Heats(
        deviation,
        temp,
        carbon,
        feo,
        aim_temp_c,
        aim_carbon_pct,
        feasible.astype(bool),
        plan,
        dict(zip(spread, order, strict=True)),
    )


@dataclass(frozen=True, repr=False)
class Effect(Record):
    """What one spread of an input does: spread in its unit, change of the end temperature (degC),
    of the carbon (%) and of FeO in the slag (%).
    """

    spread: float
    temp_c: float
    carbon_pct: float
    feo_pct: float


def effects(
    works: Profile | None = None, spreads: Amounts | None = None, scrap: str = SCRAP
) -> dict:
    """What each input does alone, one spread up (half the difference of one up and one down).

    For sums by hand: see quadrature().

    Parameters
    ----------
    works, spreads, scrap : as in heats()

    Returns
    -------
    by key, in the order of inputs()

    Raises
    ------
    InputError

    Examples
    --------
    >>> found = effects()["hot_metal_si_pct"]
    >>> round(found.spread, 2), round(float(found.temp_c), 1)
    (0.02, 2.7)
    """
    works, spread = works or load_profile(), spreads_of(spreads)
    keys = list(spread)
    step = np.kron(np.eye(len(keys)), [1.0, -1.0])  # one column for each input up, one for it down
    temp, carbon, feo, good = _as_weighed(
        works, _plan(works, scrap), {k: spread[k] * step[i] for i, k in enumerate(keys)}, scrap
    )
    if not np.all(good):
        bad = keys[int(np.flatnonzero(~np.asarray(good))[0]) // 2]
        raise InputError(
            f"spread of {inputs()[bad].what}: {spread[bad]:g} {inputs()[bad].unit} makes a heat "
            "that can't be."
        )

    def half(x):
        return 0.5 * (
            np.broadcast_to(x, step.shape[1:])[0::2] - np.broadcast_to(x, step.shape[1:])[1::2]
        )

    return {
        k: Effect(spread[k], *(v.item() for v in row))
        for k, row in zip(keys, zip(half(temp), half(carbon), half(feo), strict=True), strict=True)
    }
