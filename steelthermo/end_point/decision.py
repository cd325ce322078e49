"""The decision at the end of the blow: tap, blow again, or cool, with its uncertainty.

Temperature effects: bath_heat.py, from enthalpies, steel alone. A training aid: at a vessel the
shop's own rules decide.
"""

from dataclasses import dataclass
from math import erf, sqrt

import numpy as np

from .. import base
from ..base import (
    InputError,
    Record,
    between,
    positive,
    told,
)
from ..charge import coolant_effect, nm3_per_kg, rise_c_per_nm3_t
from ..thermo import (
    reaction,
)
from .carbon import Estimate, propagate

# a heat calculated to the carbon allowed may stand a last digit above it: no reason for a blow
_ROUNDING = 1.0 + 1e-9


@dataclass(frozen=True, repr=False)
class Decision(Record):
    """What to do at the end of the blow, for the whole heat. action: 'tap', 'blow again', 'cool',
    or 'blow again and cool'.

    Estimates of what is needed: oxygen_nm3, minutes, rise_c (by the second blow, its heat loss
    taken off), iron_kg (burnt to FeO), coolant_kg; and of the steel after it: temp_c, carbon_pct.
    coolant: its key. chance_pct: chance that a tap now meets both aims. reasons: sentences.
    """

    action: str
    oxygen_nm3: Estimate
    minutes: Estimate
    rise_c: Estimate
    iron_kg: Estimate
    coolant: str
    coolant_kg: Estimate
    temp_c: Estimate
    carbon_pct: Estimate
    chance_pct: float
    reasons: tuple

    def _shown(self):
        rows = [
            ("oxygen", self.oxygen_nm3, "Nm3"),
            ("time", self.minutes, "min"),
            ("temperature after it", self.temp_c, "°C"),
            ("carbon after it", self.carbon_pct, "%"),
            ("iron burnt", self.iron_kg, "kg"),
            (f"coolant ({self.coolant})", self.coolant_kg, "kg"),
            ("chance that a tap now meets both aims", self.chance_pct, "%"),
        ]
        return f"Decision: {self.action}", ("", "", "unit"), rows

    @property
    def provenance(self) -> tuple:
        """Sources of the heats used."""
        burnt = (
            reaction(equation)
            for equation in ("[C] + 0.5 O2 = CO", "[C] + O2 = CO2", "Fe(l) + 0.5 O2 = FeO(l)")
        )
        return tuple(
            dict.fromkeys(
                (
                    *base.sources(f"coolant {self.coolant}"),
                    *(p for r in burnt for p in r.provenance),
                )
            )
        )


_SHORT_OF_CARBON = (
    "The steel does not hold the carbon that so much of this coolant takes: the "
    "rest of it becomes FeO and cools less than counted here."
)


def _below(x, limit, u):
    """Chance that what was measured as x +- u lies below a limit."""
    return 0.5 * (1.0 + erf((limit - x) / (u * sqrt(2.0)))) if u > 0 else float(x <= limit)


@dataclass(frozen=True, repr=False)
class Rules(Record):
    """What a vessel's end point is judged by. All scalars.

    aim_temp_c +- band_c: where tapping is allowed; aim_carbon_pct: the most carbon allowed;
    steel_t; flow_nm3_min: oxygen; coolant: one of bath_heat.coolants(); carbon_share_pct: share of
    the oxygen that burns carbon in a second blow (plant value), co2_pct: share of that carbon burnt
    to CO2; loss_c_min: heat lost during a second blow, degC per minute (plant value). u_...:
    standard uncertainties of the two measurements and of that share.
    """

    aim_temp_c: float
    aim_carbon_pct: float
    steel_t: float
    flow_nm3_min: float
    band_c: float = 10.0
    coolant: str = "scrap"
    carbon_share_pct: float = 50.0
    co2_pct: float = 5.0
    loss_c_min: float = 0.0
    u_temp_c: float = 5.0
    u_carbon_pct: float = 0.005
    u_carbon_share_pct: float = 10.0


def decide(temp_c: float, carbon_pct: float, **rules: object) -> Decision:
    """Tap, blow again, or cool: how much, and how sure. What a vessel does must be decided by its
    own rules.

    Too much carbon is blown out first; heat then still missing is blown from iron alone, up to the
    aim; heat too much is taken by the coolant.

    Parameters
    ----------
    temp_c : measured, 1500 to 1800 degC
    carbon_pct : measured, 0 to 2 mass %
    rules : fields of Rules; aim_temp_c, aim_carbon_pct, steel_t and flow_nm3_min are needed

    Returns
    -------
    Decision

    Raises
    ------
    InputError

    References
    ----------
    Enthalpies: sources(decision)

    Examples
    --------
    >>> rules = {"aim_temp_c": 1660, "aim_carbon_pct": 0.04, "steel_t": 180, "flow_nm3_min": 460}
    >>> found = decide(1645.0, 0.08, **rules)
    >>> print(found.action, found.oxygen_nm3, "Nm3")
    blow again 141.1 ± 34 Nm3
    """
    rules = told(Rules, "end point", rules)
    aim_temp_c, aim_carbon_pct = rules.aim_temp_c, rules.aim_carbon_pct
    for what, x in (("temperature of steel", temp_c), ("aim of temperature", aim_temp_c)):
        between(what, x, 1500.0, 1800.0, "°C", "Was kelvin given? Degrees Celsius are needed.")
    between("carbon", carbon_pct, 0.0, 2.0, "%")
    between("aim of carbon", aim_carbon_pct, 0.005, 2.0, "%")
    between("band of temperature", rules.band_c, 0.0, 50.0, "°C")
    between("share of oxygen that burns carbon", rules.carbon_share_pct, 5.0, 100.0, "%")
    steel, flow = (
        between("steel", rules.steel_t, 1.0, 500.0, "t"),
        positive("oxygen flow", rules.flow_nm3_min, "Nm3/min", zero=False),
    )
    given = {"temp": temp_c, "carbon": carbon_pct, "share": rules.carbon_share_pct}
    u = {
        name: positive(f"uncertainty of {name}", x)
        for name, x in (
            ("temp", rules.u_temp_c),
            ("carbon", rules.u_carbon_pct),
            ("share", rules.u_carbon_share_pct),
        )
    }
    effect, effect_on_carbon = coolant_effect(rules.coolant, aim_temp_c)
    loss = positive("heat loss", rules.loss_c_min, "°C/min") * steel / flow  # degC per Nm3/t blown
    by_carbon, by_iron = (
        rise_c_per_nm3_t(e, aim_temp_c, rules.co2_pct) - loss for e in ("C", "Fe")
    )
    if by_carbon <= 0:
        raise InputError(
            f"oxygen flow: at {flow:g} Nm3/min and a loss of {rules.loss_c_min:g} °C/min a second "
            f"blow "
            "would cool the steel; check both."
        )

    per_pct = 10.0 * nm3_per_kg("C", rules.co2_pct)  # Nm3/t of oxygen for 1 % of carbon

    def amounts(temp, carbon, share, blow, heat, cool):
        """Of the steps chosen: oxygen (Nm3/t), its part for carbon, rise (degC), iron burnt (kg/t),
        coolant (kg/t).
        """
        for_carbon = blow * (carbon - aim_carbon_pct) * per_pct / (share / 100.0)
        rise = for_carbon * (share / 100.0 * by_carbon + (1.0 - share / 100.0) * by_iron)
        for_heat = heat * (aim_temp_c - temp - rise) / by_iron
        rise = rise + for_heat * by_iron
        iron = (for_carbon * (1.0 - share / 100.0) + for_heat) / nm3_per_kg("Fe")
        return np.array(
            [
                for_carbon + for_heat,
                for_carbon,
                rise,
                iron,
                cool * (temp + rise - aim_temp_c) / -effect,
            ]
        )

    blow = carbon_pct > aim_carbon_pct * _ROUNDING
    after = temp_c + amounts(**given, blow=blow, heat=False, cool=False)[2]
    steps = {
        "blow": blow,
        "heat": after < aim_temp_c - rules.band_c,
        "cool": after > aim_temp_c + rules.band_c,
    }
    found = propagate(
        lambda **v: amounts(**v, **steps), given, {n: min(x, 0.9 * given[n]) for n, x in u.items()}
    )
    oxygen, for_carbon, rise, iron, cooling = (float(x) + 0.0 for x in found.value)
    u_oxygen, _, u_rise, u_iron, u_cooling = (float(x) for x in found.u)
    # what the action leaves: the errors of the two measurements stay, that of the split of oxygen
    # acts on what is blown for carbon
    split = for_carbon * rules.u_carbon_share_pct / 100.0
    u_left = {
        "temp": sqrt(rules.u_temp_c**2 + (split * (by_iron - by_carbon)) ** 2),
        "carbon": sqrt(rules.u_carbon_pct**2 + (split / per_pct) ** 2),
    }
    carbon_left = (
        carbon_pct
        - for_carbon * rules.carbon_share_pct / 100.0 / per_pct
        + cooling * effect_on_carbon
    )
    again, cold = oxygen > 0, cooling > 0
    chance = _below(carbon_pct, aim_carbon_pct, rules.u_carbon_pct)
    chance *= _below(temp_c, aim_temp_c + rules.band_c, rules.u_temp_c) - _below(
        temp_c, aim_temp_c - rules.band_c, rules.u_temp_c
    )
    return Decision(
        action=" and ".join(
            words for words, needed in (("blow again", again), ("cool", cold)) if needed
        )
        or "tap",
        oxygen_nm3=Estimate(oxygen * steel, u_oxygen * steel),
        minutes=Estimate(oxygen * steel / flow, u_oxygen * steel / flow),
        rise_c=Estimate(rise, u_rise),
        iron_kg=Estimate(iron * steel, u_iron * steel),
        coolant=rules.coolant,
        coolant_kg=Estimate(cooling * steel, u_cooling * steel),
        temp_c=Estimate(temp_c + rise + cooling * effect, u_left["temp"]),
        carbon_pct=Estimate(max(carbon_left, 0.0), u_left["carbon"]),
        chance_pct=100.0 * max(chance, 0.0),
        reasons=(
            *_reasons(
                temp_c, carbon_pct, aim_temp_c, aim_carbon_pct, rules.band_c, after, steps, u
            ),
            *((_SHORT_OF_CARBON,) if carbon_left < 0 else ()),
        ),
    )


def _reasons(temp_c, carbon_pct, aim_temp_c, aim_carbon_pct, band_c, after, steps, u):
    """Sentences: what led to the action, and what the uncertainty of the measurements leaves
    open.
    """
    out = []
    if steps["blow"]:
        out.append(f"Carbon of {carbon_pct:g} % is above the {aim_carbon_pct:g} % allowed.")
    then = "After that the steel would be" if steps["blow"] else "The steel is"
    if steps["heat"]:
        out.append(
            f"{then} at {after:.0f} °C, below {aim_temp_c - band_c:g} °C: more oxygen burns iron "
            "for heat."
        )
    elif steps["cool"]:
        out.append(
            f"{then} at {after:.0f} °C, above {aim_temp_c + band_c:g} °C: it needs a coolant."
        )
    elif not steps["blow"]:
        out.append(f"Carbon is low enough and {temp_c:g} °C lies within {band_c:g} °C of the aim.")
    if abs(carbon_pct - aim_carbon_pct) < u["carbon"]:
        out.append(
            "Carbon is nearer to its limit than the sample is sure: a second reading may turn the "
            "decision."
        )
    if (
        min(abs(temp_c - aim_temp_c - band_c), abs(temp_c - aim_temp_c + band_c)) < u["temp"]
        and not steps["blow"]
    ):
        out.append(
            "The temperature is nearer to the edge of its band than the reading is sure: a second "
            "reading may turn the decision."
        )
    return tuple(out)
