"""What several panels have in common: the charge where the controls stand, how well it closes,
other published data for its heat, and what stands in the place of a choice of data.
"""

from dataclasses import fields

import numpy as np

from ..base import InputError, kelvin, quietly
from ..charge import Plan, other_data, solve, solve_by
from ..coursekit.panel import OWN, data_choice
from ..slag import lime_silicate_saturation, slag_solution

SETS_SWITCHED = (
    "The two published sets are switched above, by Coefficient set; the sentence tells both."
)


def hot_metal_pct(works, at):
    """Analysis of a works' hot metal, with the contents that controls such as si_pct set."""
    own = works.hot_metal.analysis_pct
    return {element: getattr(at, f"{element.lower()}_pct", pct) for element, pct in own.items()}


def charge_at(works, at, **changes):
    """The Charge of a works where the controls stand, by the data chosen: those that are named as
    figures of a Plan, and the contents of the hot metal. changes: further ones, and options of
    charge.solve().
    """
    figures = {f.name: getattr(at, f.name) for f in fields(Plan) if hasattr(at, f.name)}
    figures["hot_metal_pct"] = hot_metal_pct(works, at)
    return solve_by(works, key_of(at.data), **figures | changes)


def as_rows(text):
    """Rows of a panel's table of numbers from their text, a row a line: name, value, unit, and a
    note where there is one, as 'oxygen | 47.7 | Nm3/t'.
    """
    return [tuple(map(str.strip, line.split("|"))) for line in text.strip().splitlines()]


COLDEST_SLAG_K = 1600.0  # the set of slags goes no lower; what is colder is taken as at this
_SET = "set of 1993"


def by_the_set(oxides, temp_c, of=(), what="this slag"):
    """Rows on a slag beside liquid iron by the regular-solution set: its iron oxide, the oxygen and
    the ferric iron that go with it, how near it is to 2CaO.SiO2. what: names the slag; of: oxides
    whose activity is asked for; where the set fails for one, its row tells why it is refused.
    """
    T = max(kelvin(temp_c), COLDEST_SLAG_K)
    with quietly():  # the ranges stand in the notes
        slag, near = slag_solution(oxides, T), lime_silicate_saturation(oxides, T)
    out = []
    for oxide in of:
        try:
            found = f"{slag.activity(oxide):.3g}", "", f"{_SET}, acid slag only"
        except InputError as error:
            found = "none", "", str(error)
        out.append((f"{oxide} of {what}: activity", *found))
    tested = f"{_SET}, tested from 1370 to 1704 °C and for 0.03 to 0.75"
    likened = "a comparison: 0.7 to 0.8 when saturated without iron oxide, not tried with it"
    return [
        *out,
        (f"iron oxide of {what}: activity", f"{slag.feto_activity:.2f}", "", tested),
        ("Fe3+ over all its iron", f"{100.0 * slag.ferric_share:.1f}", "%", "beside iron"),
        ("oxygen in pure iron under it", f"{slag.oxygen_pct:.3f}", "%", "at equilibrium"),
        ("how near it is to solid 2CaO.SiO2", f"{near:.2g}", "", likened),
    ]


def closing(heat):
    """Rows of the closure gauge for a Charge."""
    errors = heat.closure()
    worst = max((errors[name] for name in errors if name not in ("heat", "O")), key=abs)
    return [
        ("Mass of the remaining elements", worst),
        ("Oxygen", errors["O"]),
        ("Heat", errors["heat"]),
    ]


def heat_data(
    *keys, more=(), help="Heats of forming and dissolving and the heat of the slag; masses follow."
):
    """The choice among the kit's heats of forming and dissolving and other published ones. keys: of
    other_data(), none for all; more: (text, source);
    help: what they act on."""
    known = other_data(True)
    others = ((known[key]["what"], key) for key in keys or known)
    return data_choice((*others, *more), "published heats that differ", help)


def key_of(data):
    """The key that charge.solve_by() takes, or None for the kit's own data."""
    return None if data == OWN else data


SHARE_GAP_PCT = 5.0  # by which a typed share of hot metal may miss the plan, our own choice


def usual_heat(works):
    """What the usual heat of a works comes to, in words. Raises InputError where every figure is
    allowed, but no heat comes of them.
    """
    try:
        heat = solve(works).for_tap(works.vessel.tap_t)
    except InputError as error:
        raise InputError(
            f"profile: each figure is allowed, but together they make no heat. {error}"
        ) from None
    told = (
        f"Its usual heat takes {heat.scrap_share_pct:.0f} % scrap and "
        f"{heat.per_t('oxygen'):.0f} Nm3 of oxygen per t."
    )
    share, planned = works.hot_metal.share_pct, 100.0 - heat.scrap_share_pct
    if abs(share - planned) > SHARE_GAP_PCT:
        told += (
            f" But share_pct of hot_metal says {share:g} %, and by the other figures it is "
            f"{planned:.0f} %: one of them is not as at your works."
        )
    return told


def neighbours(kj, listed):
    """What a printed list has next below and above a heat (or heats): low_kj, low_c, high_kj,
    high_c. listed: pairs of temperature and heat, rising.
    """
    temps_c, heats_kj = np.array(listed, dtype=float).T
    at = np.clip(np.searchsorted(heats_kj, kj), 1, len(listed) - 1)
    return {
        "low_kj": heats_kj[at - 1],
        "low_c": temps_c[at - 1],
        "high_kj": heats_kj[at],
        "high_c": temps_c[at],
    }


def far_from_listed(beside, temp_c):
    """Whether a temperature stands so far from both its neighbours in a list that none may forget
    to interpolate. beside: of neighbours().
    """
    apart = beside["high_c"] - beside["low_c"]
    return np.abs(temp_c - beside["low_c"] - 0.5 * apart) < 0.42 * apart
