"""What a heat costs, uses and gives off, and what a change of it is worth.

Prices stand in the section [prices] of a works profile, by the names of its materials and of
`hot_metal` (per t), `oxygen` (per Nm3) and `electricity` (per kWh), and `co2` (per t); of reagents
(per t); `sulphur` is what a tonne of steel is worth less for each 0.001 % beyond its limit. What
has no price is not counted, and said so.

Boundary, as works usually draw it for the vessel alone: carbon that leaves with the gas counts as
CO2 whoever burns it; the making of hot metal, lime and oxygen is not in it, but for the electricity
of the oxygen.
"""

from collections.abc import Callable
from dataclasses import dataclass

from ..base import InputError, Record, between, molar_mass, rows, value
from ..charge import Charge, solve
from ..works import Profile, load_profile


@dataclass(frozen=True, eq=False, repr=False)
class Account(Record):
    """A heat in money, electricity and CO2, per t of steel. money: {item: amount}, in the works'
    own currency; unpriced: items without a price; electricity_kwh_t; co2_kg_t.
    """

    currency: str
    money: dict
    unpriced: tuple
    electricity_kwh_t: float
    co2_kg_t: float

    @property
    def total(self) -> float:
        """Sum of what has a price, per t of steel."""
        return sum(self.money.values())

    def _shown(self):
        table = [(name, x, f"{self.currency}/t") for name, x in self.money.items()]
        table += [("all that has a price", self.total, f"{self.currency}/t")] if self.money else []
        table += [("no price known", ", ".join(self.unpriced), "")] if self.unpriced else []
        table += [("electricity of the oxygen", self.electricity_kwh_t, "kWh/t")]
        table += [("CO2 of the gas, all burnt", self.co2_kg_t, "kg/t")]
        return "a heat in money, electricity and CO2", ("", "", "unit"), table


def account(heat: Charge, works: Profile | None = None) -> Account:
    """What a heat costs, uses and gives off, per t of steel.

    Parameters
    ----------
    heat : Charge, one heat
    works : Profile with prices; default that of load_profile()

    Returns
    -------
    Account

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> round(account(solve()).co2_kg_t) > 100
    True
    """
    works = works or load_profile()
    prices = dict(works.prices.items())
    currency = prices.pop("currency", "money")
    steel_t = heat.steel.mass_kg / 1000.0
    kwh_t = value("oxygen_electricity_kwh_nm3") * heat.oxygen.total_nm3 / steel_t
    used = {"hot_metal": ("hot metal", heat.hot_metal.mass_kg / 1000.0 / steel_t)}
    for name in ("scrap", "coolant", "fuel", "lime", "dolomite"):
        solid = heat.inputs[name]
        if solid.mass_kg > 0.0:
            for title, share in (solid.material.parts or {solid.material.title: 1.0}).items():
                key, t = _key(works, title), share * solid.mass_kg / 1000.0 / steel_t
                used[key] = title, t + used.get(key, (title, 0.0))[1]
    used["oxygen"] = "oxygen", heat.oxygen.total_nm3 / steel_t
    co2 = molar_mass("CO2") / molar_mass("C") * heat.gas.element_kg()["C"] / steel_t
    used["electricity"] = "electricity of the oxygen", kwh_t
    used["co2"] = "CO2", co2 / 1000.0
    money = {title: prices[k] * x for k, (title, x) in used.items() if k in prices}
    unpriced = tuple(title for k, (title, _) in used.items() if k not in prices)
    return Account(currency, money, unpriced, kwh_t, co2)


def _key(works, title):
    """Key of a material by its title."""
    return next((k for k, m in works.materials.items() if m["title"] == title), title)


def worth(works: Profile | None = None, **change: object) -> float:
    """What a change of the usual heat saves, in the works' currency per t of steel (below zero: it
    costs): the usual heat's account less that of the heat with the change, both solved for scrap.

    Parameters
    ----------
    works : Profile with prices; default that of load_profile()
    change : figures of a Plan, such as hot_metal_temp_c=1350.0

    Returns
    -------
    float

    Examples
    --------
    >>> from steelthermo.works import load_profile
    >>> works = load_profile("heron")
    >>> warmer = worth(works, hot_metal_temp_c=works.hot_metal.temp_c + 10.0)
    >>> round(warmer, 2) != 0.0
    True
    """
    works = works or load_profile()
    return account(solve(works), works).total - account(solve(works, **change), works).total


def levers(works: Profile | None = None) -> dict[str, float]:
    """What the usual changes of a heat are worth, in the works' currency per t of steel.

    Parameters
    ----------
    works : Profile with prices; default that of load_profile()

    Returns
    -------
    {what is changed: worth()}

    Examples
    --------
    >>> list(levers())[0]
    'hot metal 10 °C hotter'
    """
    works = works or load_profile()
    hot, end = works.hot_metal, works.end_point
    silicon = dict(hot.analysis_pct) | {"Si": hot.analysis_pct["Si"] + 0.1}
    return {
        "hot metal 10 °C hotter": worth(works, hot_metal_temp_c=hot.temp_c + 10.0),
        "0.1 % more silicon in the hot metal": worth(works, hot_metal_pct=silicon),
        "end aimed at 10 °C lower": worth(works, end_temp_c=end.temp_c - 10.0),
    }


@dataclass(frozen=True, eq=False, repr=False)
class Treatment(Record):
    """A treatment of hot metal in money, per t of steel: items: {what: how much more it costs with
    the treatment, below zero: less}; saved: what sulphur beyond the limit would have taken from the
    steel; unpriced: items without a price.
    """

    currency: str
    items: dict
    saved: float
    unpriced: tuple
    _sources = ("oxygen_electricity_kwh_nm3",)

    @property
    def cost(self) -> float:
        """Sum of the items."""
        return sum(self.items.values())

    @property
    def gain(self) -> float:
        """What is saved less what it costs: above zero it pays."""
        return self.saved - self.cost

    def _shown(self):
        unit = f"{self.currency}/t"
        table = [(what, x, unit) for what, x in self.items.items()]
        table += [("all it costs", self.cost, unit), ("sulphur it saves", self.saved, unit)]
        table += [("gain", self.gain, unit)]
        table += [("no price known", ", ".join(self.unpriced), "")] if self.unpriced else []
        return "a treatment of hot metal in money", ("", "", "unit"), table


def treatment(compared: Record, steel_s_max_pct: float, works: Profile | None = None) -> Treatment:
    """What a treatment costs, and what it saves, per t of steel: does it pay?

    Parameters
    ----------
    compared : Comparison of hot_metal.compare()
    steel_s_max_pct : sulphur that the steel may hold, 0.0005 to 0.2 mass %
    works : Profile with prices; default that of load_profile()

    Returns
    -------
    Treatment
        The hot metal bought is that before the treatment, with what is drawn off with the slag.
        Minutes at the station and waste are not in it.

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.hot_metal import compare, desulphurise, dose
    >>> from steelthermo.streams import LiquidMetal
    >>> metal = LiquidMetal(1000, load_profile().hot_metal.analysis_pct | {"S": 0.03}, 1340)
    >>> stage = desulphurise(metal, dose(metal, 0.005, {"magnesium": 1}))
    >>> found = treatment(compare(metal, stage, steel_s_max_pct=0.012), 0.012)
    >>> found.cost > 0.0
    True
    """
    works = works or load_profile()
    limit = between("sulphur allowed", steel_s_max_pct, 0.0005, 0.2, "%")
    prices = dict(works.prices.items())
    before, after = (account(heat, works) for heat in (compared.without, compared.treated))
    bought, used = (compared.per_t[k][1] for k in ("hot metal bought", "hot metal"))
    items = {k: after.money[k] - before.money[k] for k in before.money if k in after.money}
    if "hot metal" in items:
        items["hot metal"] += prices["hot_metal"] * (bought - used) / 1000.0
    keys = {m["title"]: key for key, m in works.materials.items()}
    keys |= {row["title"]: row["key"] for row in rows("reagents")}
    metal_kg = compared.stages[0].inputs["hot metal"].mass_kg
    missing = list(after.unpriced)
    for stage in compared.stages:
        for name, solid in stage.inputs.items():
            if hasattr(solid, "material") and solid.mass_kg > 0.0:
                if keys.get(name) in prices:
                    kg = solid.mass_kg / metal_kg * bought
                    items[name] = items.get(name, 0.0) + prices[keys[name]] * kg / 1000.0
                else:
                    missing.append(name)
    beyond = [max(s - limit, 0.0) / 0.001 for s in compared.steel_s_pct]
    if "sulphur" not in prices:
        missing.append("sulphur beyond the limit")
    saved = prices.get("sulphur", 0.0) * (beyond[0] - beyond[1])
    return Treatment(prices.get("currency", "money"), items, saved, tuple(dict.fromkeys(missing)))


def break_even_s_pct(
    compared: Callable[[float], Record],
    steel_s_max_pct: float,
    low_pct: float = 0.01,
    works: Profile | None = None,
) -> float:
    """Sulphur of the hot metal above which its treatment pays.

    Parameters
    ----------
    compared : called with sulphur of the hot metal, mass %: the Comparison of hot_metal.compare()
    steel_s_max_pct : sulphur that the steel may hold, mass %
    low_pct : the least sulphur tried, mass %, above what the treatment aims at
    works : Profile with prices; default that of load_profile()

    Returns
    -------
    mass %, from low_pct to 0.1

    Raises
    ------
    InputError
        Where something of it has no price, or the treatment pays nowhere or everywhere there.

    Examples
    --------
    >>> from steelthermo.hot_metal import compare, desulphurise, dose
    >>> from steelthermo.streams import LiquidMetal
    >>> from steelthermo.works import load_profile
    >>> works = load_profile("heron")
    >>> def made(s_pct):
    ...     metal = LiquidMetal(1000, dict(works.hot_metal.analysis_pct) | {"S": s_pct}, 1340)
    ...     stage = desulphurise(metal, dose(metal, 0.005, {"magnesium": 1}))
    ...     return compare(metal, stage, steel_s_max_pct=0.012, works=works)
    >>> round(break_even_s_pct(made, 0.012, works=works), 3)
    0.011
    """
    works = works or load_profile()
    low, high = between("least sulphur", low_pct, 0.001, 0.09, "%"), 0.1
    first, last = (treatment(compared(s), steel_s_max_pct, works) for s in (low, high))
    if first.unpriced:
        raise InputError(f"break-even: {', '.join(first.unpriced)}: no price stands in [prices].")
    if first.gain > 0.0 or last.gain < 0.0:
        word = "everywhere" if first.gain > 0.0 else "nowhere"
        raise InputError(f"break-even: the treatment pays {word} from {low:g} to {high:g} % S.")
    for _ in range(12):  # to 0.00003 %
        middle = 0.5 * (low + high)
        pays = treatment(compared(middle), steel_s_max_pct, works).gain > 0.0
        low, high = (low, middle) if pays else (middle, high)
    return 0.5 * (low + high)
