"""What a wrong entry of the heat sheet (lesson 15) costs besides what it does to the steel:
material and oxygen at the works' prices, slag with the iron in it, and minutes.

An entry accepted as right costs nothing. Less than right may save money; what it spoils then shows
in the steel.
"""

from typing import NamedTuple

from ...base import value
from ...heats import account
from ...works import plant_value


class Cost(NamedTuple):
    """words: what it is; minutes lost; money: more than with the right entry, in the works'
    currency, or None where nothing of it has a price.
    """

    words: str
    minutes: float = 0.0
    money: float | None = None


def cycle_min():
    """Minutes that a heat takes, from tap to tap."""
    return plant_value("tap_to_tap_min").start


def cost_of(key, right, state):
    """The Cost of an entry, or None where it has none of its own. right: what would have been;
    state: the heat with the entry.
    """
    entered, prices = state.entered[key], dict(state.works.prices.items())
    more = entered - right
    if key == "minutes":
        words = f"planned {entered:.0f} min for a blow of {right:.0f} min: the ladles have to wait"
        return Cost(words, min(abs(more), cycle_min()))
    if key == "magnesium" and state.entered["treat"] == 1:
        price = prices.get("magnesium")
        return Cost(_beside(more, "kg"), money=None if price is None else price * more / 1000.0)
    if key in ("oxygen", "again"):
        price = prices.get("oxygen")
        kwh = value("oxygen_electricity_kwh_nm3") * prices.get("electricity", 0.0)
        return Cost(_beside(more, "Nm3"), money=None if price is None else (price + kwh) * more)
    if key == "lime":
        heat, wanted = state.heat, state.trial
        slag_t, iron_t = ((of(heat.slag) - of(wanted.slag)) / 1000.0 for of in (_mass_kg, _iron_kg))
        words = f"{_beside(more, 't')}, slag {slag_t:+.1f} t with {iron_t:+.1f} t of iron"
        own, usual = (account(one, state.works) for one in (heat, wanted))
        if not own.money:
            return Cost(words)
        return Cost(words, money=(own.total - usual.total) * heat.steel.mass_kg / 1000.0)
    return None


def _mass_kg(slag):
    return slag.mass_kg


def _iron_kg(slag):
    return slag.element_kg()["Fe"]


def _beside(more, unit):
    size = f"{abs(more):.3g}"
    return f"{size} {unit} more than right" if more > 0.0 else f"{size} {unit} less than right"
