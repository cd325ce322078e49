"""What the kit expects of the heats of a log: each through the charge, with what was put in and
with the carbon and slag that were found.

A reading that is blank is the mean of the log; one that the log has nowhere is taken from the works
profile. Temperature, oxygen and steel follow from
the balances; phosphorus from the slag at the temperature found, by one partition equation times a
factor; iron of the slag from the carbon found, by the law at the end of a blow.
"""

import warnings
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache

import numpy as np

from ..base import (
    Parameter,
    Record,
    Table,
    between,
    mass_fractions,
    one_of,
    quietly,
)
from ..charge import Charge, law_of, solve
from ..slag import DEFAULTS, equilibrium
from ..works import Profile, calibrated, plan_limits, plan_values, stirred_exchange
from .log import Log

QUANTITIES = ("temperature", "oxygen", "steel", "phosphorus", "slag iron")
_COLUMNS = ("end_temp_c", "oxygen_nm3", "steel_kg", "end_p_pct", "slag_fe_pct")
_FOUND = dict(zip(QUANTITIES, _COLUMNS, strict=True))
UNITS = dict(zip(QUANTITIES, ("°C", "%", "%", "log10", "% Fe"), strict=True))
_LEAST_CARBON = 0.0205  # %: just above the floor, for a reading that lies below it
_CARBONS, _APART_C = 12, 20.0  # where the law is asked; straight between, to some 0.2 % Fe
_ANALYSIS = ("C", "Si", "Mn", "P", "S")


@dataclass(frozen=True, kw_only=True)
class Calibrated(Parameter):
    """A figure that a log can tell: a Parameter with its group (one of a group can be told) and the
    step by which the charge is asked how much it moves.
    """

    group: str
    step: float


@cache
def parameters() -> dict[str, Calibrated]:
    """Figures that a log can tell, in the order of calibration.csv.

    Returns
    -------
    Calibrated (a Parameter with group and step) by key

    Examples
    --------
    >>> parameters()["co2_pct"].group
    'oxygen'
    """
    return Table("calibration").records(Calibrated)


def start_figures(works: Profile, figures: Mapping[str, float] | None = None) -> dict:
    """Figures of a works: those given, else those fitted, else the works' own, else their start.

    Parameters
    ----------
    works : Profile
    figures : by key of parameters()

    Returns
    -------
    number by key of parameters()

    Raises
    ------
    InputError
        For a figure that is not known or out of range.

    Examples
    --------
    >>> from steelthermo.works import load_profile
    >>> start_figures(load_profile("heron"), {"co2_pct": 9.0})["co2_pct"]
    9.0
    """
    own = {"slag_exchange": stirred_exchange(works.oxygen.bottom_nm3_min_t)}
    own |= plan_values(works) | calibrated(works)
    for key in figures or ():
        one_of("figure of a log", key, parameters())
    out = {}
    for key, p in parameters().items():
        x = (figures or {}).get(key, own.get(key, p.start))
        out[key] = between(p.what, x, p.low, p.high, "" if p.unit == "1" else p.unit)
    return out


@dataclass(frozen=True, eq=False, repr=False)
class Expected(Record):
    """What is expected of the heats of a log: temp_c, oxygen_nm3, steel_kg, p_pct (arrays), the
    Charge, a mask of the heats that can be, and remarks: what left a published range. The figures
    fitted take up much of what that does, so it is said here and not warned.
    """

    temp_c: np.ndarray
    oxygen_nm3: np.ndarray
    steel_kg: np.ndarray
    p_pct: np.ndarray
    charge: Charge
    feasible: np.ndarray
    remarks: tuple
    log: Log
    figures: dict

    @cached_property
    def fe_pct(self) -> np.ndarray:
        """Iron of the slag that goes with the carbon found, mass %: worked out when first asked."""
        log, own = self.log, {"slag_exchange": self.figures["slag_exchange"]}
        law = law_of(
            self.charge, np.maximum(_carbon(log), _LEAST_CARBON), filled(log, "end_temp_c"), law=own
        )
        return np.broadcast_to(_iron_of(law.feo_pct, law.fe2o3_pct), len(log))

    def of(self, quantity: str) -> np.ndarray:
        """One of QUANTITIES, in the unit of the log."""
        names = ("temp_c", "oxygen_nm3", "steel_kg", "p_pct", "fe_pct")
        known = dict(zip(QUANTITIES, names, strict=True))
        return getattr(self, known[one_of("quantity", quantity, QUANTITIES)])


def found(log: Log, quantity: str) -> np.ma.MaskedArray:
    """What the log says of a quantity.

    Parameters
    ----------
    log : Log
    quantity : one of QUANTITIES

    Returns
    -------
    masked array in the unit of the log

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> found(invented_month(), "temperature").size
    500
    """
    return log.of(_FOUND[one_of("quantity", quantity, QUANTITIES)])


def residual(log: Log, expected: Expected, quantity: str) -> np.ma.MaskedArray:
    """Found less expected.

    Parameters
    ----------
    log : Log
    expected : Expected, of the same log
    quantity : one of QUANTITIES

    Returns
    -------
    masked array: °C of temperature, % of oxygen and steel (100 ln of the ratio), log10 of
    phosphorus, % Fe of slag iron; masked where nothing was read or the heat can't be

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> log = invented_month()
    >>> round(residual(log, expected(log), "steel").mean().item(), 1)
    -0.3
    """
    model = np.ma.array(expected.of(quantity), mask=~expected.feasible)
    return difference(quantity, found(log, quantity), model)


def difference(quantity, a, b):
    """a less b in the unit of a quantity. % are 100 times the natural logarithm of the ratio: a
    ratio itself is more often too high, by half the square of its scatter, which moves what is
    fitted by a third of its uncertainty.
    """
    if UNITS[quantity] in ("°C", "% Fe"):
        return a - b
    return 100.0 * np.ma.log(a / b) if UNITS[quantity] == "%" else np.ma.log10(a / b)


def arguments(log: Log, figures: Mapping[str, float] | None = None) -> dict:
    """Arguments for charge.solve() of the heats of a log, as arrays; see expected()."""
    works, figures = log.works, start_figures(log.works, figures)
    usual = works.hot_metal.analysis_pct
    out = {
        "find": "temperature",
        "infeasible": "mark",
        "hot_metal_kg": log.of("hot_metal_kg").filled(),
        "hot_metal_temp_c": log.of("hot_metal_temp_c").filled(),
        "hot_metal_pct": dict(usual)
        | {e: filled(log, f"hot_metal_{e.lower()}_pct", usual.get(e, 0.0)) for e in _ANALYSIS},
        "end_pct": dict(works.end_point.analysis_pct)
        | {
            e: filled(log, f"end_{e.lower()}_pct", works.end_point.analysis_pct.get(e, 0.0))
            for e in ("C", "Mn", "P")
        },
        "co2_pct": figures["co2_pct"],
        "ejected_kg_t": figures["ejected_kg_t"],
        "undissolved_pct": figures["undissolved_pct"],
        "heat_mj_t": heat_mj_t(log, figures),
    }
    for kind in ("scrap", "lime", "dolomite", "coolant", "fuel"):
        solids = log.solids(kind)
        if solids:
            out[kind], out[f"{kind}_kg"] = _shares(solids)
    out.setdefault("scrap_kg", 0.0)
    return out | _iron(log, figures)


def usual_of(log: Log) -> dict:
    """Minutes empty and heats on the lining at which the loss is the figure heat_mj_t: those of
    the calibration before, else the log's mean.
    """
    fitted = calibrated(log.works)
    return {
        key: fitted.get(f"usual_{key}", float(filled(log, key).mean()))
        for key in ("wait_min", "lining_heats")
    }


def heat_mj_t(log: Log, figures: Mapping[str, float]) -> np.ndarray:
    """Heat lost in each heat, MJ per t of steel: the figure heat_mj_t for the usual wait and
    lining, and more of it for more minutes and heats. A blank counts as the log's mean.
    """
    usual = usual_of(log)
    wait, lining = (filled(log, key) - usual[key] for key in ("wait_min", "lining_heats"))
    lost = figures["heat_mj_t"] + figures["heat_wait_mj_t_min"] * wait
    lost = lost + figures["heat_lining_mj_t"] * lining / 1000.0
    limits = plan_limits()["heat_mj_t"]
    return np.clip(lost, limits["low"], limits["high"])


def filled(log: Log, key: str, none: float = 0.0) -> np.ndarray:
    """A column whose blanks are the log's mean; `none` where the log has none of it."""
    x = log.of(key)
    return x.filled(x.mean() if x.count() else none)


def _shares(solids):
    """Shares of the kinds and their mass together; the first stands for heats charged with none."""
    total = sum(solids.values())
    if len(solids) == 1:
        return next(iter(solids)), total
    first = next(iter(solids))
    return {k: kg + (total == 0.0) * (k == first) for k, kg in solids.items()}, total


def _carbon(log):
    return filled(log, "end_c_pct", log.works.end_point.analysis_pct["C"])


def _iron_of(feo_pct, fe2o3_pct):
    return feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"]


_usual_charge = lru_cache(maxsize=8)(solve)  # a works' own, whatever figures are tried


@lru_cache(maxsize=64)
def _usual_iron(works, carbon_pct, temp_c, co2_pct, slag_exchange):
    """FeO and Fe2O3 of the usual heat's slag, %: a row for each temperature, a column for each
    carbon.
    """
    own = {"slag_exchange": slag_exchange}
    law = law_of(
        _usual_charge(works), np.array(carbon_pct), np.array(temp_c)[:, np.newaxis], co2_pct, own
    )
    return law.feo_pct, law.fe2o3_pct


def _iron(log, figures):
    """Iron oxides of the slag of each heat, where the log has read iron: as much as was read,
    ferrous and ferric as the law has them in the usual heat with so much iron, so hot. One share
    for all heats would be wrong where the slag is hotter or richer than usual, so the fit of what
    goes with that. A blank: what the law has at the heat's carbon, times what the others show.
    """
    if not log.given("slag_fe_pct"):
        return {}
    carbon, temp = np.maximum(_carbon(log), _LEAST_CARBON), filled(log, "end_temp_c")
    grid = np.geomspace(carbon.min(), carbon.max() * 1.001, _CARBONS)
    temps = float(temp.mean()) + np.array([-_APART_C, _APART_C])
    told = (figures[key] for key in ("co2_pct", "slag_exchange"))
    feo, fe2o3 = _usual_iron(log.works, tuple(grid.tolist()), tuple(temps.tolist()), *told)
    law = _iron_of(feo, fe2o3)
    hotter = np.clip((temp - temps[0]) / (temps[1] - temps[0]), -1.0, 2.0)

    def at(x, of, y):
        """y at x, straight between carbons and between the two temperatures."""
        order = np.argsort(of, axis=1)
        cold, hot = (np.interp(x, of[i][order[i]], y[i][order[i]]) for i in (0, 1))
        return cold + hotter * (hot - cold)

    at_carbon = at(carbon, np.broadcast_to(grid, law.shape), law)
    read = log.of("slag_fe_pct")
    iron = np.where(read.mask, at_carbon * (read / at_carbon).mean(), read.filled(0.0))
    part = {"feo_pct": feo / law, "fe2o3_pct": fe2o3 / law}
    return {key: iron * at(iron, law, x) for key, x in part.items()}


def expected(log: Log, figures: Mapping[str, float] | None = None) -> Expected:
    """What is expected of the heats of a log.

    Parameters
    ----------
    log : Log
    figures : by key of parameters(), instead of the works' own

    Returns
    -------
    Expected

    Raises
    ------
    InputError
        For a figure that is not known or out of range.

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> expected(invented_month()).temp_c.size
    500
    """
    return expected_with(log, figures, {})


def expected_with(log: Log, figures: Mapping[str, float] | None, given: Mapping) -> Expected:
    """expected(), with arguments of the charge instead of those that follow from the log."""
    figures = start_figures(log.works, figures)
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        charge = solve(log.works, **arguments(log, figures) | dict(given))
        feasible = np.broadcast_to(charge.feasible, len(log))
        steel_kg = np.where(feasible, charge.steel.mass_kg, 1.0)
        p_pct = phosphorus_pct(charge, figures["phosphorus_log"], filled(log, "end_temp_c"))
    return Expected(
        np.broadcast_to(charge.temp_c, len(log)),
        charge.oxygen_nm3,
        steel_kg,
        p_pct,
        charge,
        feasible,
        tuple(dict.fromkeys(str(w.message) for w in caught)),
        log,
        figures,
    )


def phosphorus_pct(heat: Charge, factor_log: float, temp_c: float | None = None) -> float:
    """Phosphorus that a slag leaves in the steel: that of both shared out by the kit's own
    partition times 10 to the power factor_log.

    Parameters
    ----------
    heat : Charge; only the sum of the phosphorus of its steel and slag counts
    factor_log : log10 of the factor, zero at equilibrium
    temp_c : temperature at which they part, °C; default the heat's

    Returns
    -------
    mass %; of no meaning for a heat that cannot be

    Examples
    --------
    >>> import warnings
    >>> heat = solve(hot_metal_kg=160_000.0, end_temp_c=1640.0)
    >>> with warnings.catch_warnings(action="ignore"):
    ...     even, short = (phosphorus_pct(heat, x).item() for x in (0.0, -0.5))
    >>> round(short / even, 1)
    3.0
    """
    slag = heat.slag if temp_c is None else replace(heat.slag, temp_c=temp_c)
    feasible = np.asarray(heat.feasible)
    steel_kg = np.where(feasible, heat.steel.mass_kg, 1.0)
    total = heat.steel.element_kg().get("P", 0.0) + slag.element_kg().get("P", 0.0)
    total = np.where(feasible & (np.asarray(total) > 0.0), total, 1e-3)
    with quietly():  # the factor is fitted to the works: its slag, not the paper's
        even = equilibrium(slag, steel_kg, total, DEFAULTS["P"])
    slag_kg = np.where(feasible, even.slag.mass_kg, 1.0)
    factor = 10.0 ** between("logarithm of the factor", factor_log, -5.0, 5.0)
    return 100.0 * total / (steel_kg + factor * even.partition.value * slag_kg)
