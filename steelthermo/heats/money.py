"""What a heat costs, uses and gives off, and what a change of it is worth.

Prices stand in the section [prices] of a works profile, by the names of its materials and of
`hot_metal` (per t), `oxygen` (per Nm3) and `electricity` (per kWh), and `co2` (per t); what has no
price is not counted, and said so. Boundary, as works usually draw it for the vessel alone: carbon
that leaves with the gas counts as CO2 whoever burns it; the making of hot metal, lime and oxygen is
not in it, but for the electricity of the oxygen.
"""

from dataclasses import dataclass

from ..base import Record, molar_mass, value
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
            key = _key(works, solid.material)
            used[key] = solid.material.title, solid.mass_kg / 1000.0 / steel_t
    used["oxygen"] = "oxygen", heat.oxygen.total_nm3 / steel_t
    co2 = molar_mass("CO2") / molar_mass("C") * heat.gas.element_kg()["C"] / steel_t
    used["electricity"] = "electricity of the oxygen", kwh_t
    used["co2"] = "CO2", co2 / 1000.0
    money = {title: prices[k] * x for k, (title, x) in used.items() if k in prices}
    unpriced = tuple(title for k, (title, _) in used.items() if k not in prices)
    return Account(currency, money, unpriced, kwh_t, co2)


def _key(works, found):
    """Key of a material by its title; blends have none."""
    return next((k for k, m in works.materials.items() if m["title"] == found.title), found.title)


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
