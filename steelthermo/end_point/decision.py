"""The decision at the end of the blow: tap, blow again, or cool, each with its uncertainty;
and what an in-blow sample says of the oxygen still to come.

A second blow goes on by the law of the first, see second_blow.py. A training aid: at a vessel the
shop's own rules decide.
"""

from dataclasses import dataclass, replace
from math import erf, sqrt
from typing import Annotated

import numpy as np

from .. import base
from ..base import InputError, Record, between, positive, told
from ..charge import coolant_effect
from ..thermo import reaction
from .carbon import Estimate
from .rules import LADLE, Rules, checked
from .second_blow import AfterBlow
from .way import Way, spread

# a heat calculated to the carbon allowed may stand a last digit above it: no reason for a blow
_ROUNDING = 1.0 + 1e-9
_FOR_P_NM3_T = 4.0  # nobody blows on longer for phosphorus: it costs iron and comes back by heat


@dataclass(frozen=True, repr=False)
class Decision(Record):
    """What to do at the end of the blow, for the whole heat. action: 'tap', 'blow again', 'cool',
    or 'blow again and cool'.

    Estimates of what is needed: oxygen_nm3, minutes, rise_c (by the second blow, its heat loss
    taken off), iron_kg (burnt to the slag), coolant_kg; and of the steel after it: temp_c,
    carbon_pct. coolant: its key. after: the AfterBlow of that oxygen, before any coolant.
    chance_pct: chance that a tap now meets all limits given. reasons: sentences.
    """

    _main_results = ("end_temp_c",)

    action: str
    oxygen_nm3: Estimate
    minutes: Estimate
    rise_c: Estimate
    iron_kg: Estimate
    coolant: str
    coolant_kg: Estimate
    temp_c: Estimate
    carbon_pct: Estimate
    after: AfterBlow
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
            ("chance that a tap now meets all limits", self.chance_pct, "%"),
            *((reason,) for reason in self.reasons),
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


def decide(temp_c: float, carbon_pct: float, **rules: Annotated[object, Rules]) -> Decision:
    """Tap, blow again, or cool: how much, and how sure. What a vessel does must be decided by its
    own rules.

    Carbon above its limit and phosphorus above its are blown out; where heat is still missing the
    blow goes on, and with it carbon falls and iron burns, as the law says; heat too much is taken
    by the coolant.

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
    The law at the end of a blow, slag.after_oxygen. Enthalpies: sources(decision)

    Examples
    --------
    >>> rules = {"aim_temp_c": 1660, "aim_carbon_pct": 0.04, "steel_t": 180, "flow_nm3_min": 460}
    >>> found = decide(1640.0, 0.03, **rules)
    >>> print(found.action, "to", found.carbon_pct, "% C")
    blow again to 0.0255 ± 0.0028 % C
    """
    rules = told(Rules, "end point", rules)
    checked(temp_c, carbon_pct, rules)
    way, steel = Way(temp_c, carbon_pct, rules), rules.steel_t
    effect, on_carbon = coolant_effect(rules.coolant, rules.aim_temp_c)
    if way.temp_c[0, -1] <= temp_c:
        raise InputError(
            f"oxygen flow: at {rules.flow_nm3_min:g} Nm3/min and a loss of {rules.loss_c_min:g} "
            "°C/min a second blow would cool the steel; check both."
        )
    high = carbon_pct > rules.aim_carbon_pct * _ROUNDING
    oxygen = way.first(way.carbon, rules.aim_carbon_pct) if high else np.zeros(len(way.carbon))
    dirty, reached = _phosphorus(rules, way)
    if dirty and reached is not None:
        oxygen = np.maximum(oxygen, reached)
    then = way.at(way.temp_c, oxygen)
    cold = then[0] < rules.aim_temp_c - rules.band_c
    if cold:
        oxygen = np.maximum(oxygen, way.first(way.temp_c, rules.aim_temp_c, falling=False))
    hot = then[0] > rules.aim_temp_c + rules.band_c
    reached_c = way.at(way.temp_c, oxygen)
    cooling = np.maximum(reached_c - rules.aim_temp_c, 0.0) / -effect if hot else 0.0 * oxygen
    now = oxygen[0].item()
    left = {  # what this oxygen makes of each row
        "temp": way.at(way.temp_c, now) + cooling[0] * effect,
        "carbon": way.at(way.carbon, now) + cooling[0] * on_carbon,
    }
    after = way.blown(np.array([now]), slice(0, 1))
    iron = way.at(way.found.iron_kg_t * np.ones_like(way.carbon), oxygen)
    iron = np.where(oxygen > 0.0, iron, 0.0)  # else rounding would burn less than nothing
    rise = reached_c - way.temp[:, 0]
    steps = {"carbon": high, "phosphorus": dirty, "heat": cold, "cool": hot}
    carbon_left = left["carbon"][0].item()
    return Decision(
        action=" and ".join(
            words for words, needed in (("blow again", now > 0), ("cool", hot)) if needed
        )
        or "tap",
        oxygen_nm3=_estimate(oxygen, steel),
        minutes=_estimate(oxygen, steel / rules.flow_nm3_min),
        rise_c=_estimate(rise),
        iron_kg=_estimate(iron, steel),
        coolant=rules.coolant,
        coolant_kg=_estimate(cooling, steel),
        temp_c=_estimate(left["temp"]),
        carbon_pct=replace(_estimate(left["carbon"]), value=max(carbon_left, 0.0)),
        after=_single(after),
        chance_pct=100.0 * _chance(temp_c, carbon_pct, rules),
        reasons=(
            *_reasons(temp_c, carbon_pct, rules, then[0].item(), steps, reached is not None),
            *_of_limits(rules, _single(after), now),
            *((_SHORT_OF_CARBON,) if carbon_left < 0 else ()),
        ),
    )


def chance_pct(temp_c: float, carbon_pct: float, **rules: Annotated[object, Rules]) -> float:
    """Chance that steel as measured meets all limits.

    Parameters
    ----------
    temp_c, carbon_pct, rules : as in decide()

    Returns
    -------
    %

    Raises
    ------
    InputError

    Examples
    --------
    >>> rules = {"aim_temp_c": 1660, "aim_carbon_pct": 0.04, "steel_t": 180, "flow_nm3_min": 460}
    >>> round(chance_pct(1660.0, 0.03, **rules), 1)
    93.3
    """
    rules = told(Rules, "end point", rules)
    checked(temp_c, carbon_pct, rules)
    return 100.0 * _chance(temp_c, carbon_pct, rules)


def correct(
    temp_c: float, carbon_pct: float, planned_nm3: float, **rules: Annotated[object, Rules]
) -> tuple[Decision, Estimate]:
    """What an in-blow sample changes: the oxygen still to come and the coolant, and how they differ
    from the plan. It holds with all scrap molten.

    Parameters
    ----------
    temp_c : of the sample, taken while the lance stands in, degC
    carbon_pct : of the sample, 0.05 to 1 mass %
    planned_nm3 : oxygen that was still to come, Nm3
    rules : as in decide()

    Returns
    -------
    (Decision, oxygen more than planned as an Estimate, Nm3)

    Raises
    ------
    InputError

    Examples
    --------
    >>> rules = {"aim_temp_c": 1660, "aim_carbon_pct": 0.04, "steel_t": 180, "flow_nm3_min": 460}
    >>> _, more = correct(1590.0, 0.35, 850.0, **rules)
    >>> print(more, "Nm3")
    124 ± 42 Nm3
    """
    between("carbon of an in-blow sample", carbon_pct, 0.05, 1.0, "%", "It is taken near the end.")
    planned = positive("oxygen still to come", planned_nm3, "Nm3")
    found = decide(temp_c, carbon_pct, **rules)
    return found, Estimate(found.oxygen_nm3.value - planned, found.oxygen_nm3.u)


def _estimate(rows, factor=1.0):
    return Estimate((rows[0] * factor).item() + 0.0, spread(rows) * factor)


def _single(after):
    """An AfterBlow of arrays of one as numbers."""

    def one(x):
        if isinstance(x, dict):
            return {k: one(v) for k, v in x.items()}
        return np.asarray(x, float).reshape(-1)[0].item()

    return AfterBlow(*(one(getattr(after, name)) for name in after.__dataclass_fields__))


def _phosphorus(rules, way):
    """(whether phosphorus is above its limit, oxygen that brings it there or None)."""
    if "P" not in rules.limits_pct:
        return False, None
    most = rules.limits_pct["P"][1]
    if rules.analysis_pct["P"] <= most * _ROUNDING:
        return False, None
    lines = np.broadcast_to(way.found.steel_pct["P"], way.carbon.shape)
    near = way.oxygen <= _FOR_P_NM3_T
    return True, way.first(lines, most) if lines[0, near].min() <= most else None


def _chance(temp_c, carbon_pct, rules):
    """Chance that a tap now meets all limits."""
    band = rules.band_c
    out = _below(carbon_pct, rules.aim_carbon_pct, rules.u_carbon_pct)
    out -= _below(carbon_pct, rules.least_carbon_pct, rules.u_carbon_pct) * (
        rules.least_carbon_pct > 0
    )
    low, high = (_below(temp_c, rules.aim_temp_c + side * band, rules.u_temp_c) for side in (-1, 1))
    out = max(out, 0.0) * max(high - low, 0.0)
    for element, (least, most) in rules.limits_pct.items():
        x = rules.analysis_pct[element]
        u = rules.u_reading_share * x
        out *= max(_below(x, most, u) - (_below(x, least, u) if least > 0 else 0.0), 0.0)
    return out


def _of_limits(rules, after, oxygen):
    """Sentences on the elements that have limits, and on carbon that falls too low."""
    out = []
    carbon = after.steel_pct["C"]
    if carbon < rules.least_carbon_pct:
        out.append(
            f"Carbon {'would fall to' if oxygen else 'is'} {carbon:.3f} %, below the least allowed "
            f"of {rules.least_carbon_pct:g} %: it must be added at the tap."
        )
    for element, (least, most) in rules.limits_pct.items():
        read = rules.analysis_pct[element]
        then = after.steel_pct.get(element, read) if oxygen else read
        if then > most * _ROUNDING or then < least / _ROUNDING:
            side = "above" if then > most else "below"
            out.append(
                f"{element} of {then:.3g} % lies {side} {(most if then > most else least):g} %: "
                f"{dict(LADLE)[element]}."
            )
    return out


def _reasons(temp_c, carbon_pct, rules, after, steps, p_in_reach):
    """Sentences: what led to the action, and what the uncertainty of the measurements leaves
    open.
    """
    out = []
    aim_temp_c, aim_carbon_pct, band_c = rules.aim_temp_c, rules.aim_carbon_pct, rules.band_c
    if steps["carbon"]:
        out.append(f"Carbon of {carbon_pct:g} % is above the {aim_carbon_pct:g} % allowed.")
    if steps["phosphorus"]:
        words = (
            "more oxygen takes it there."
            if p_in_reach
            else "no second blow takes it there; new slag, or another grade."
        )
        read = rules.analysis_pct["P"]
        out.append(f"Phosphorus of {read:g} % is above its {rules.limits_pct['P'][1]:g} %: {words}")
    blows = steps["carbon"] or steps["phosphorus"] and p_in_reach
    then = "After that the steel would be" if blows else "The steel is"
    if steps["heat"]:
        out.append(
            f"{then} at {after:.0f} °C, below {aim_temp_c - band_c:g} °C: more oxygen burns iron "
            "for heat, and carbon falls on with it."
        )
    elif steps["cool"]:
        out.append(
            f"{then} at {after:.0f} °C, above {aim_temp_c + band_c:g} °C: it needs a coolant."
        )
    elif not blows:
        out.append(f"Carbon is low enough and {temp_c:g} °C lies within {band_c:g} °C of the aim.")
    if abs(carbon_pct - aim_carbon_pct) < rules.u_carbon_pct:
        out.append(
            "Carbon is nearer to its limit than the sample is sure: a second reading may turn the "
            "decision."
        )
    if (
        min(abs(temp_c - aim_temp_c - band_c), abs(temp_c - aim_temp_c + band_c)) < rules.u_temp_c
        and not blows
    ):
        out.append(
            "The temperature is nearer to the edge of its band than the reading is sure: a second "
            "reading may turn the decision."
        )
    return tuple(out)
