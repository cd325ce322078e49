"""Tomorrow's heat: what a shift fills in, and the plan worked out from it with the works' own
figures, weights rounded to what the shop can weigh.
"""

import tomllib
import warnings
from collections.abc import Mapping
from dataclasses import dataclass, field
from statistics import NormalDist

import numpy as np

from ..base import InputError, Record, between, finite, one_of, positive, rows, shown, told
from ..charge import Charge, solve
from ..works import Profile, calibrated, load_profile
from .model import phosphorus_pct, start_figures


@dataclass(frozen=True, repr=False)
class Order(Record):
    """What a heat is to be, as a shift fills it in: hot metal (kg, °C, mass %), scrap (share by
    key, any unit), a fixed mass of coolant, fluxes, aims of the steel, the state of the vessel, and
    the steps in which bucket and hoppers weigh. p_pct: the most that is allowed.

    Ranges are those of the log. Raises InputError.
    """

    hot_metal_kg: float
    hot_metal_temp_c: float
    hot_metal_pct: Mapping[str, float]
    scrap: Mapping[str, float]
    end_temp_c: float
    end_c_pct: float
    end_p_pct: float
    name: str = "tomorrow's heat"
    coolant: str = "ore"
    coolant_kg: float = 0.0
    lime: str = "lime"
    dolomite: str = "burnt_dolomite"
    basicity: float | None = None
    wait_min: float | None = None
    lining_heats: float | None = None
    bucket_step_kg: float = 100.0
    hopper_step_kg: float = 50.0
    works: Profile = field(default=None)

    def __post_init__(self):
        object.__setattr__(self, "works", self.works or load_profile())
        faults = []
        for check, *given in self._checks():
            try:
                check(*given)
            except InputError as fault:
                faults.append(str(fault))
        if faults:
            raise InputError("\n  ".join(faults))

    def _checks(self):
        """What is to be looked at: (function, its arguments), all of it, to tell every fault."""
        limits = {r["key"]: r for r in rows("log_columns")}
        for key in ("hot_metal_kg", "hot_metal_temp_c", "end_temp_c", "end_c_pct", "end_p_pct"):
            yield _within, limits[key], getattr(self, key)
        for key in ("wait_min", "lining_heats"):
            if getattr(self, key) is not None:
                yield _within, limits[key], getattr(self, key)
        for what, given in (("hot metal", self.hot_metal_pct), ("scrap", self.scrap)):
            yield _shares, what, given
            for key, x in given.items() if hasattr(given, "items") else ():
                yield positive, f"{key} of the {what}", x
        for key in ("bucket_step_kg", "hopper_step_kg"):
            yield between, key, getattr(self, key), 1.0, 5000.0, "kg"
        yield positive, "coolant", self.coolant_kg, "kg"
        scrap = self.scrap if hasattr(self.scrap, "items") else ()
        for key in (*scrap, self.coolant, self.lime, self.dolomite):
            yield one_of, "material of the works", key, self.works.materials


def _shares(what, given):
    if not hasattr(given, "items") or not given:
        raise InputError(f"{what}: {shown(given)} was given; shares by name are needed.")


def _within(row, x):
    between(row["what"], finite(row["what"], x), row["low"], row["high"], row["unit"])


def order_of(text: str, works: Profile | None = None) -> Order:
    """What a heat is to be, from a form filled in.

    Parameters
    ----------
    text : TOML, such as order_form() gives
    works : Profile, default that of load_profile()

    Returns
    -------
    Order

    Raises
    ------
    InputError
        With the figures that are missing or unknown, or all that are out of range.

    Examples
    --------
    >>> order_of(order_form()).hot_metal_temp_c
    1340
    """
    try:
        given = tomllib.loads(text.removeprefix("\ufeff"))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise InputError(f"plan of a heat: it can't be read as TOML: {error}.") from None
    if "works" in given:
        raise InputError("plan of a heat: works was given; name the works' file beside it.")
    return told(Order, "plan of a heat", given | {"works": works or load_profile()})


def order_form(works: Profile | None = None) -> str:
    """A form to fill in, with the works' usual figures; its hot metal, in whole tonnes, fills the
    vessel.

    Parameters
    ----------
    works : Profile, default that of load_profile()

    Returns
    -------
    TOML text

    Examples
    --------
    >>> order_of(order_form()).end_c_pct
    0.04
    """
    works = works or load_profile()
    hot, end = works.hot_metal, works.end_point
    kg = round(solve(works).for_tap(works.vessel.tap_t).hot_metal.mass_kg, -3)
    pct = ", ".join(f"{e} = {x:g}" for e, x in hot.analysis_pct.items())
    scrap = next(k for k, m in works.materials.items() if m["kind"] == "scrap")
    return f"""# Tomorrow's heat at {works.name}: put in your figures, then `steelthermo plan FILE`.
name = "heat 1"
hot_metal_kg = {kg:g}
hot_metal_temp_c = {hot.temp_c:g}
hot_metal_pct = {{ {pct} }}
scrap = {{ {scrap} = 100 }}      # shares of the kinds in the bucket
coolant = "ore"
coolant_kg = 0
end_temp_c = {end.temp_c:g}
end_c_pct = {end.analysis_pct["C"]:g}
end_p_pct = {end.analysis_pct.get("P", 0.015):g}   # the most that is allowed
bucket_step_kg = 100
hopper_step_kg = 50
# wait_min = 20              # minutes that the vessel stands empty before charging
# lining_heats = 1500        # heats on this lining
"""


@dataclass(frozen=True, eq=False, repr=False)
class HeatPlan(Record):
    """The plan of a heat: order; charge (Charge with the weights rounded); weights_kg by name;
    oxygen_nm3, minutes; expected temp_c, carbon_pct (the aim) and p_pct; band: {quantity: standard
    deviation} of the works' own heats, empty where it has none fitted; p_chance_pct: chance that
    phosphorus stays within its limit, None without a band; remarks: what left a published range.
    """

    order: Order
    charge: Charge
    weights_kg: dict
    oxygen_nm3: float
    minutes: float
    temp_c: float
    carbon_pct: float
    p_pct: float
    band: dict
    p_chance_pct: float | None
    remarks: tuple

    def _shown(self):
        table = [(name, kg, "kg") for name, kg in self.weights_kg.items()]
        table += [("oxygen", self.oxygen_nm3, "Nm3"), ("blow", self.minutes, "min")]
        table += [
            ("temperature expected", f"{self.temp_c:.0f}{_band(self.band.get('temperature'))}",
             "°C"),
            ("phosphorus expected", f"{self.p_pct:.4f}", "%"),
            ("steel", self.charge.steel.mass_kg, "kg"),
        ]  # fmt: skip
        return f"plan of {self.order.name}, {self.order.works.name}", ("", "", "unit"), table


def _band(sd):
    return "" if sd is None else f" ± {1.96 * sd:.0f}"


def plan_heat(order: Order) -> HeatPlan:
    """Work out the plan of a heat.

    Parameters
    ----------
    order : Order

    Returns
    -------
    HeatPlan

    Raises
    ------
    InputError
        Where the heat cannot be, with the reason.

    Examples
    --------
    >>> plan = plan_heat(order_of(order_form()))
    >>> plan.weights_kg["heavy scrap"] % 100.0
    0.0
    """
    works, fitted = order.works, calibrated(order.works)
    figures = start_figures(works)
    loss = figures["heat_mj_t"]
    for key, slope in (("wait_min", "heat_wait_mj_t_min"), ("lining_heats", "heat_lining_mj_t")):
        usual = fitted.get(f"usual_{key}")
        if usual is not None and getattr(order, key) is not None:
            per = 1.0 if key == "wait_min" else 1000.0
            loss += figures[slope] * (getattr(order, key) - usual) / per
    total = sum(order.scrap.values())
    given = {
        "hot_metal_kg": order.hot_metal_kg,
        "hot_metal_temp_c": order.hot_metal_temp_c,
        "hot_metal_pct": dict(order.hot_metal_pct),
        "scrap": dict(order.scrap),
        "coolant": order.coolant,
        "coolant_kg": order.coolant_kg,
        "lime": order.lime,
        "dolomite": order.dolomite,
        "basicity": order.basicity,
        "end_pct": dict(works.end_point.analysis_pct) | {"C": order.end_c_pct},
        "heat_mj_t": max(loss, 0.0),
    }
    aim = solve(works, end_temp_c=order.end_temp_c, **given)
    parts = {k: _round(aim.scrap.mass_kg * x / total, order.bucket_step_kg)
             for k, x in order.scrap.items()}  # fmt: skip
    lime, dolomite = (_round(x.mass_kg, order.hopper_step_kg) for x in (aim.lime, aim.dolomite))
    heat = solve(
        works,
        find="temperature",
        scrap_kg=sum(parts.values()),
        lime_kg=lime,
        dolomite_kg=dolomite,
        **given,
    )
    oxygen = _round(heat.oxygen_nm3, 10.0)
    flow = works.oxygen.flow_nm3_min
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        p_pct = float(phosphorus_pct(heat, figures["phosphorus_log"]))
    band = {k[:-4]: x for k, x in fitted.items() if k.endswith("_rms")}
    chance = None
    if "phosphorus" in band:
        away = np.log10(order.end_p_pct / p_pct) / max(band["phosphorus"], 1e-9)
        chance = 100.0 * NormalDist().cdf(float(away))
    titles = {k: works.materials[k]["title"] for k in (*parts, order.lime, order.dolomite)}
    weights = {"hot metal": order.hot_metal_kg} | {titles[k]: kg for k, kg in parts.items()}
    if order.coolant_kg:
        weights[works.materials[order.coolant]["title"]] = order.coolant_kg
    weights |= {titles[order.lime]: lime, titles[order.dolomite]: dolomite}
    return HeatPlan(
        order,
        heat,
        weights,
        oxygen,
        oxygen / flow,
        float(heat.temp_c),
        order.end_c_pct,
        p_pct,
        band,
        chance,
        (*_beyond(order, p_pct), *dict.fromkeys(str(w.message) for w in caught)),
    )


def _beyond(order, p_pct):
    """What to say where phosphorus is expected above its limit."""
    if p_pct <= order.end_p_pct:
        return ()
    told = f"Phosphorus is expected at {p_pct:.4f} %, above the {order.end_p_pct:.4f} % allowed."
    return (f"{told} A higher basicity, a colder end or other hot metal brings it down.",)


def _round(x, step):
    return float(step * round(float(x) / step))
