"""The cases of the drill of lesson 13: what the instruments show at the end of a blow, and what the
steel is. Drawn for each learner; the kinds see to it that every decision comes up.
"""

from dataclasses import dataclass

import numpy as np

from ...coursekit.problems import Answer, Given, Problem
from ...slag import end_of_blow_parameters

COUNT = 20
U_TEMP_C, U_CARBON_SHARE, U_P_SHARE = (
    5.0,
    0.1,
    0.12,
)  # of thermocouple, probe, the works' prediction
_SIGMAS = 1.5  # how far a reading is off at the most
_KINDS = ("fine", "cold", "carbon", "hot", "phosphorus", "overblown", "unsure")


@dataclass(frozen=True)
class Order:
    """What is ordered of a heat and what the vessel can: aim and band of temperature, degC; most
    and least carbon, most phosphorus, carbon that alloys are weighed for, %; steel, t; oxygen as
    O2, Nm3/min.
    """

    aim_c: float
    band_c: float
    most_c_pct: float
    least_c_pct: float
    most_p_pct: float
    plan_c_pct: float
    steel_t: float
    o2_nm3_min: float


@dataclass(frozen=True)
class Case:
    """A heat at its end point: what is read of temperature (degC), carbon and phosphorus (%), and
    what the steel has of them.
    """

    read: tuple
    true: tuple


def order_of(works):
    """The Order of a works: its own aims, with the room that a grade leaves."""
    end = works.end_point
    carbon, phosphorus = end.analysis_pct["C"], end.analysis_pct["P"]
    oxygen = works.oxygen.flow_nm3_min * works.oxygen.purity_pct / 100.0
    limits = carbon + 0.015, 0.75 * carbon, 1.25 * phosphorus, carbon
    return Order(end.temp_c, 10.0, *limits, works.vessel.tap_t, oxygen)


def _readings(kind, size, works, order):
    """What is read in a case of a kind; size from 0 to 1."""
    end = works.end_point
    temp, carbon, p = order.aim_c, end.analysis_pct["C"], 0.8 * order.most_p_pct
    if kind == "fine":
        return temp - 4.0 + 8.0 * size, carbon, 0.9 * p
    if kind == "cold":
        return temp - 20.0 - 25.0 * size, carbon, 0.9 * p
    if kind == "carbon":
        return temp - 10.0 * size, order.most_c_pct * (1.4 + 0.8 * size), 0.9 * p
    if kind == "hot":
        return temp + 20.0 + 25.0 * size, 1.05 * carbon, 0.9 * p
    if kind == "phosphorus":
        return temp - 30.0 + 20.0 * size, carbon, order.most_p_pct * (1.06 + 0.12 * size)
    if kind == "overblown":
        return temp + 5.0 * size, carbon * (0.6 + 0.05 * size), 0.85 * p
    return temp - 8.0 + 8.0 * size, order.most_c_pct * (0.9 + 0.1 * size), order.most_p_pct * 0.95


def cases_of(given, works):
    """The Cases of a draw."""
    order, least = order_of(works), end_of_blow_parameters()["carbon_floor_pct"].start + 5e-3
    turn = np.argsort([given[f"turn_{i}"] for i in range(COUNT)], kind="stable")
    out = []
    for i in range(COUNT):
        kind = _KINDS[int(turn[i]) % len(_KINDS)]
        temp, carbon, p = _readings(kind, given[f"size_{i}"], works, order)
        off = [given[f"{what}_{i}"] for what in ("temp", "carbon", "p")]
        true = (
            temp + U_TEMP_C * off[0],
            max(carbon * (1.0 + U_CARBON_SHARE * off[1]), least),
            p * (1.0 + U_P_SHARE * off[2]),
        )
        out.append(Case((temp, max(carbon, least), p), true))
    return tuple(out)


def drill_problem(works):
    """The draw of a drill."""
    spread = -_SIGMAS, _SIGMAS, 0.25, "errors of reading, one and a half times their spread"
    givens = []
    for i in range(COUNT):
        givens.append(Given(f"turn_{i}", "turn", "1", 0, 999, 1, "the cases in an own order"))
        givens.append(Given(f"size_{i}", "size", "1", 0, 1, 0.1, "small and large deviations"))
        givens += [Given(f"{what}_{i}", what, "1", *spread) for what in ("temp", "carbon", "p")]
    return Problem(
        "end_point.drill",
        "The drill",
        "",
        tuple(givens),
        lambda **given: float(sum(given.values())),
        ("none",),
        "",
        Answer("1", "only drawn", tolerance_pct=1.0),
        vector=False,
    )
