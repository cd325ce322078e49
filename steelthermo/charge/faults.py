"""What makes a heat impossible, each with the reason in words: the check of a solved charge.

A fault is a pair: a mask of the heats that have it (bool or bool array) and the sentence that says
why and what to do.
"""

import numpy as np

from ..base import InputError, plain
from ..thermo import liquidus_c, oxide_of
from .balance import TEMP_HIGH_C, TEMP_LOW_C
from .iron_oxide import CARBON_PCT

# kg per kg of hot metal that a mass may lie below zero: what the solve leaves over, no more
_ROUNDING = 1e-13

_NOTHING_LEFT = {
    "scrap": (
        "scrap: less than none would be needed; this hot metal is too cold or too poor for "
        "the end temperature: lower it, or give fuel"
    ),
    "coolant": (
        "coolant: less than none would be needed; there is no heat to spare at this scrap: "
        "charge less scrap, or give fuel"
    ),
    "fuel": (
        "fuel: less than none would be needed; the heat has enough, or the gas carries off "
        "more than the fuel gives: charge more scrap or a coolant"
    ),
}


def faults_of_masses(balance, solution, find, without):
    """Faults of a solution of the masses, the one that explains the others first.

    balance: the Balance; solution: dict of unknown to kg; find: what was asked for; without:
    function that gives the masses with none of what is asked for.
    """
    tiny = -_ROUNDING * np.asarray(balance.hot_metal.mass_kg)
    negative = (
        np.asarray(solution["x"] < tiny) if find in _NOTHING_LEFT else np.asarray(False)
    )  # then the amounts below mean little
    faults = [
        (
            np.isnan(solution["slag"]),
            "charge: the aims contradict each other (no lime, dolomite and slag can meet them "
            "together); change basicity, MgO or iron oxides",
        ),
        (
            (solution.get("iron", 0.0) < tiny) | (solution.get("unused", 0.0) < tiny),
            "oxygen: what was blown does not burn the carbon and silicon that must burn; blow more",
        ),
        (
            (solution.get("to_co2", 0.0) < tiny)
            | ((balance.free == "CO2 share") & (balance.gases["CO"].at(solution) < tiny)),
            "CO2 share: it would have to leave 0 to 100 % to use the oxygen blown; blow another "
            "amount, or leave something else free",
        ),
        (
            ~negative & (balance.burnt_c.at(solution) < tiny),
            "carbon: the charge brings less than the aim in the steel",
        ),
    ]
    if balance.end.by_law:
        carbon = np.asarray(balance.aims["C"])
        faults.append(
            (
                (carbon < CARBON_PCT[0]) | (carbon > CARBON_PCT[1]),
                "iron oxides of the slag: the law at the end of a blow holds for "
                f"{CARBON_PCT[0]:g} to {CARBON_PCT[1]:g} % C in the steel; give feo_pct and "
                "fe2o3_pct",
            )
        )
    leaves = {**balance.oxides, **balance.gases}
    for element, pct in balance.aims.items():
        if element not in ("C", "O"):
            product = f"{element}2" if element in ("N", "H") else oxide_of(element)
            held = balance.in_metal[element]
            short = (
                leaves.get(product, held * -1.0).at(solution)
                < -1e-12 * np.abs(held.at(solution)) + 1e-3 * tiny
            )
            faults.append(
                (
                    ~negative & short,
                    f"{element}: the charge brings less than the aim of {np.max(pct):g} % in the "
                    "steel",
                )
            )
    masses = (
        without() if negative.any() else solution
    )  # a slag that can't be without it can't be at all
    overfull = np.where(
        negative,
        (masses["slag"] < tiny) | (masses["steel"] <= 0),
        (solution["slag"] < tiny) | (solution["steel"] <= 0),
    )
    return [
        *faults,
        (
            overfull,
            "slag: it can't hold this much flux and iron oxide at once; lower basicity, MgO or "
            "iron oxides",
        ),
        (negative, _NOTHING_LEFT.get(find, find)),
        (
            solution["lime"] < tiny,
            "lime: less than none would be needed; the other materials bring more CaO than the "
            "basicity asks for (lime_kg=0 lets the basicity follow)",
        ),
        (
            solution["dolomite"] < tiny,
            "dolomite: less than none would be needed; lime and lining already bring more MgO than "
            "the aim (dolomite_kg=0 lets the MgO follow)",
        ),
        (
            balance.lime_left_kmol(solution) < tiny,
            "slag: there is less lime than the phosphorus takes as 3CaO.P2O5; the heat of P2O5 "
            "without lime is not known: give more lime",
        ),
        (
            balance.o2.at(solution) < tiny,
            "oxygen: less than none would be blown; the iron oxides charged bring more than the "
            "heat needs",
        ),
    ]


def faults_of_temperature(cold, hot):
    """Faults of an end temperature that was asked for; cold, hot: masks of heats that leave the
    range.
    """
    return [
        (
            cold,
            f"end temperature: the heat does not reach {TEMP_LOW_C:g} °C, the steel would freeze; "
            "use less scrap or coolant, or hotter metal, or fuel",
        ),
        (hot, f"end temperature: it would pass {TEMP_HIGH_C:g} °C; use more scrap or coolant"),
    ]


def fault_of_freezing(steel_pct, end_temp_c):
    """Fault of a steel (mass % by symbol) that would be below its liquidus at the end temperature,
    degC.
    """
    liquidus = np.asarray(liquidus_c(steel_pct))
    frozen = np.asarray(end_temp_c < liquidus)
    where = np.broadcast_to(liquidus, frozen.shape)[frozen]
    at = f"{where.max():.0f} °C" if where.size else "its liquidus"
    return (
        frozen,
        f"end temperature: the steel would be frozen, for it begins to freeze at {at}; aim higher, "
        "or use less scrap or coolant",
    )


def refuse_or_mark(faults: list[tuple[object, str]], infeasible: str) -> bool | np.ndarray:
    """Refuse a heat with a fault, or mark it.

    Parameters
    ----------
    faults : (mask, sentence) of each
    infeasible : 'refuse' or 'mark'

    Returns
    -------
    True where a heat has none ('mark')

    Raises
    ------
    InputError
        With the reason of the first ('refuse').

    Examples
    --------
    >>> refuse_or_mark([(np.array([True, False]), "too cold")], "mark")
    array([False,  True])
    """
    bad_any = np.asarray(False)
    for bad, words in faults:
        bad = np.asarray(bad)
        if bad.any() and infeasible == "refuse":
            where = (
                ""
                if bad.ndim == 0
                else (
                    f" ({int(bad.sum())} of {bad.size} heats, the first at index "
                    f"{int(np.flatnonzero(bad)[0])})"
                )
            )
            raise InputError(f"{words}{where}.")
        bad_any = bad_any | bad
    return plain(~bad_any)
