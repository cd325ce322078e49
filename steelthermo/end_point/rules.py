"""What a vessel's end point is judged by."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from ..base import InputError, Record, between, finite, positive, shown

# elements that may have limits, and what to do where they miss them
LADLE = (
    ("P", "phosphorus does not leave in the ladle"),
    ("S", "the vessel takes little sulphur: see to it in the ladle"),
    ("Mn", "manganese is added at the tap"),
    ("O", "it is taken by alloys at the tap"),
)


@dataclass(frozen=True, repr=False)
class Rules(Record):
    """What a vessel's end point is judged by.

    aim_temp_c +- band_c: where tapping is allowed; aim_carbon_pct: the most carbon allowed;
    least_carbon_pct: the least; steel_t; flow_nm3_min: oxygen; coolant: one of
    bath_heat.coolants(); co2_pct: share of the carbon burnt to CO2; loss_c_min: heat lost during a
    second blow, degC per minute (plant value). limits_pct: (least, most) by element, of P, Mn, S, O
    (oxygen), for those in analysis_pct, their readings. slag_kg_t: of the heat, kg per t of steel;
    None: that of the usual heat of the works found; without iron oxides, those of the law at the
    carbon measured. Those that begin with u: standard uncertainties of the two measurements, of the
    exchange of slag and bath (share of it), and of the readings (share).
    """

    aim_temp_c: float
    aim_carbon_pct: float
    steel_t: float
    flow_nm3_min: float
    band_c: float = 10.0
    least_carbon_pct: float = 0.0
    coolant: str = "scrap"
    co2_pct: float = 11.0
    loss_c_min: float = 0.0
    analysis_pct: Mapping[str, float] = field(default_factory=dict)
    limits_pct: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    slag_kg_t: Mapping[str, float] | None = None
    u_temp_c: float = 5.0
    u_carbon_pct: float = 0.005
    u_exchange_share: float = 0.3
    u_reading_share: float = 0.1


def checked(temp_c, carbon_pct, rules):
    """Raises InputError for readings and rules that make no sense."""
    for what, x in (("temperature of steel", temp_c), ("aim of temperature", rules.aim_temp_c)):
        between(what, x, 1500.0, 1800.0, "°C")
        _one(what, x)
    _one("carbon", between("carbon", carbon_pct, 0.0, 2.0, "%"))
    between("aim of carbon", rules.aim_carbon_pct, 0.005, 2.0, "%")
    between("least carbon allowed", rules.least_carbon_pct, 0.0, rules.aim_carbon_pct, "%")
    between("band of temperature", rules.band_c, 0.0, 50.0, "°C")
    between("share of carbon burnt to CO2", rules.co2_pct, 0.0, 100.0, "%")
    between("steel", rules.steel_t, 1.0, 500.0, "t")
    positive("oxygen flow", rules.flow_nm3_min, "Nm3/min", zero=False)
    for name in ("temp_c", "carbon_pct", "exchange_share", "reading_share"):
        positive(f"uncertainty of {name}", getattr(rules, f"u_{name}"))
    for element, pct in rules.analysis_pct.items():
        _one(element, positive(f"{element} of the steel", pct, "%"))
    for element, limits in rules.limits_pct.items():
        read = element in rules.analysis_pct and element in dict(LADLE)
        if not read or np.shape(finite(f"limits of {element}", limits, "%")) != (2,):
            raise InputError(
                f"limits: {shown(element)} was given; (least, most) of P, Mn, S or O is allowed, "
                "where analysis_pct has a reading of it."
            )


def _one(what, x):
    if np.ndim(x):
        raise InputError(f"{what}: {shown(x)} was given; one number is needed.")
