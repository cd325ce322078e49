"""Iron oxides of the slag and oxygen of the steel where a plan leaves them open: by the law at the
end of a blow, from carbon, temperature, slag and oxygen flow.

The slag that the law is asked for hangs on its own answer, but little: the charge is solved at
three amounts of iron oxide by one solve (it is linear in their kg), the law asked at all three at
once, and the parabola through its answers gives the amount that it gives back. That is right to
0.03 % and takes one call of the law, a third of the time of a charge (tests/benchmark.py), not a
handful. Where the temperature is asked for, which hangs on the iron burnt, it is done again nearer
to the answer.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..base import Amounts, Number, Record, kelvin, plain
from ..slag import EndOfBlow, chromium_partition, end_of_blow
from ..works import law_figures
from .balance import TEMP_HIGH_C, TEMP_LOW_C

_TRIED_PCT = (8.0, 22.0, 40.0)  # FeO and Fe2O3 together
_NEARER_PCT = (-2.0, 0.0, 2.0)
_FERRIC = 0.2  # of it Fe2O3, where it is tried
CARBON_PCT = (0.021, 3.0)  # of the law: above its floor
_MOST_PCT = 60.0
_CR_KEPT = 0.35  # share of chromium from which its own is sought: near what is usual
_HELD = ("CaO", "SiO2", "MgO", "MnO", "P2O5", "Al2O3")


@dataclass(frozen=True)
class EndAims:
    """What the slag and the steel are to hold at the end: feo_pct, fe2o3_pct of the slag; steel_pct
    by element. by_law: True where the law gave any of it. tried_pct: iron oxides together for which
    the charge is solved all at once, feo_pct and fe2o3_pct being parts of one. cr_kept: share of
    the chromium that stays in the metal, None where steel_pct tells or none is charged. Numbers or
    arrays.
    """

    feo_pct: float
    fe2o3_pct: float
    steel_pct: dict
    by_law: bool = False
    tried_pct: np.ndarray | None = None
    cr_kept: Number | None = None


def aims_of(plan, solved, shape, temperature_asked):
    """EndAims of a Plan. solved(aims): (Balance, its solution, end temperature, degC) of the charge
    for EndAims; shape: of the plan's arrays; temperature_asked: True where it follows from the
    heat.
    """
    cr_kept = _CR_KEPT if "Cr" not in plan.end_pct and _holds_chromium(plan) else None
    feo, fe2o3 = plan.feo_pct, plan.fe2o3_pct
    if feo is not None and fe2o3 is not None:
        end = EndAims(feo, fe2o3, plan.end_pct, cr_kept=cr_kept)
    else:
        axis = (3, *(1,) * len(shape))
        end = _given_back(plan, solved, np.reshape(_TRIED_PCT, axis), plan.end_pct, cr_kept)
        if temperature_asked:
            if cr_kept is not None:
                cr_kept = _cr_kept(plan, solved, end)
            near = np.clip(end.feo_pct + end.fe2o3_pct, 3.0, _MOST_PCT - 3.0)
            near = near + np.reshape(_NEARER_PCT, axis)
            end = _given_back(plan, solved, near, end.steel_pct, cr_kept)
        if feo is not None:
            end = replace(end, feo_pct=feo, fe2o3_pct=feo * end.fe2o3_pct / end.feo_pct)
        if fe2o3 is not None:
            end = replace(end, fe2o3_pct=fe2o3)
    if cr_kept is not None:
        one = _cr_kept(plan, solved, end)
        two = _cr_kept(plan, solved, replace(end, cr_kept=one))
        # each time some 400 times nearer: the rest of that row at once
        first, step = np.asarray(one) - cr_kept, np.asarray(two) - one
        rest = step**2 / np.where(first == step, 1.0, first - step)
        end = replace(end, cr_kept=plain(two + rest))
    return end


def _holds_chromium(plan):
    """Whether any of what is charged may hold chromium."""
    solids = (plan.scrap, plan.coolant, plan.fuel, plan.lime, plan.dolomite)
    liquids = (plan.hot_metal, *plan.slags().values())
    return any(np.any(m.per_kg.get("Cr", 0.0) > 0.0) for m in solids) or any(
        np.any(np.asarray(x.element_kg().get("Cr", 0.0)) > 0.0) for x in liquids
    )


def _cr_kept(plan, solved, end):
    """Share of chromium that stays in the metal, at equilibrium with the slag of the charge for
    EndAims.
    """
    balance, solution, end_temp_c = solved(end)
    liquid = balance.oxides | {"CaO": balance.oxides["CaO"] - balance.lumps}
    # NaN, where the aims contradict each other, becomes the least
    kg = {o: np.fmax(x.at(solution), 1e-6) for o, x in liquid.items()}
    metal_kg = np.fmax(balance.metal.at(solution), 1e-6)
    held = {o: kg[o] for o in (*_HELD, "FeO", "Fe2O3") if o in kg}
    takes = chromium_partition(held, _possible_c(end_temp_c), law_figures(plan.works)) * sum(
        kg.values()
    )
    return plain(metal_kg / (metal_kg + takes))


def _given_back(plan, solved, tried, steel_pct, cr_kept):
    """EndAims that the law gives back, from charges with iron oxides `tried` (%, first axis three),
    a steel of steel_pct and the share cr_kept of chromium.
    """
    end = EndAims(1.0 - _FERRIC, _FERRIC, steel_pct, tried_pct=tried, cr_kept=cr_kept)
    law = _law(plan, *solved(end))
    shape = np.broadcast_shapes(np.shape(law.feo_pct), tried.shape)
    answers = {"FeO": law.feo_pct, "Fe2O3": law.fe2o3_pct, "O": law.oxygen_pct}
    answers = {what: np.broadcast_to(x, shape) for what, x in answers.items()}
    both = answers["FeO"] + answers["Fe2O3"]
    total = both[1]
    for _ in range(3):  # Newton's rule; the third step is below rounding
        slope = (_parabola(tried, both, total + 0.5) - _parabola(tried, both, total - 0.5)) - 1.0
        total = total - (_parabola(tried, both, total) - total) / slope
    total = np.clip(total, 0.0, _MOST_PCT)
    feo, fe2o3, oxygen = (plain(_parabola(tried, x, total)) for x in answers.values())
    return EndAims(feo, fe2o3, {"O": oxygen} | plan.end_pct, True, cr_kept=cr_kept)


def _law(plan, balance, solution, end_temp_c):
    """The law asked for the slag of a solution. What cannot be is moved to the nearest that can:
    faults.py says so.
    """
    oxides = balance.oxides | {"CaO": balance.oxides["CaO"] - balance.lumps}
    kg = {o: oxides[o].at(solution) for o in _HELD if o in oxides}
    steel_kg, *rows = np.nan_to_num(np.array(np.broadcast_arrays(solution["steel"], *kg.values())))
    kg_t = {o: row / (np.maximum(steel_kg, 1e-9) / 1000.0) for o, row in zip(kg, rows, strict=True)}
    carbon = np.clip(plan.end_pct["C"], *CARBON_PCT)
    return law_at(plan.works, kg_t, carbon, _possible_c(end_temp_c), plan.co2_pct)


def _possible_c(end_temp_c):
    """The nearest end temperature, degC, that can be."""
    return np.clip(np.nan_to_num(end_temp_c, nan=1650.0), TEMP_LOW_C, TEMP_HIGH_C)


def law_of(
    heat: Record,
    carbon_pct: Number,
    temp_c: Number | None = None,
    co2_pct: Number | None = None,
    law: Amounts | None = None,
) -> EndOfBlow:
    """What the law at the end of a blow says of the slag of a heat.

    Parameters
    ----------
    heat : Charge; the iron oxides of its slag do not count
    carbon_pct : within CARBON_PCT
    temp_c : degC; default the heat's
    co2_pct : share of the burnt carbon that leaves as CO2; default the plan's
    law : parameters of the law instead of those of the works

    Returns
    -------
    EndOfBlow; of no meaning where the heat cannot be

    Raises
    ------
    InputError
        As end_of_blow() does.

    Examples
    --------
    >>> from steelthermo.charge import solve
    >>> round(law_of(solve(), 0.10).feo_pct)
    12
    """
    steel_kg = np.maximum(heat.steel.mass_kg, 1e-6)
    kg_t = {o: 1000.0 * kg / steel_kg for o, kg in heat.slag.oxides_kg.items()}
    temp_c = heat.temp_c if temp_c is None else temp_c
    co2_pct = heat.plan.co2_pct if co2_pct is None else co2_pct
    return law_at(heat.plan.works, kg_t, carbon_pct, temp_c, co2_pct, law)


def law_at(works, oxides_kg_t, carbon_pct, temp_c, co2_pct, law=None):
    """EndOfBlow of a slag (kg per t of steel by oxide; those that the law does not hold are left
    out), with the oxygen flow of a works and, unless others are given, its parameters of the law.
    """
    return end_of_blow(
        {o: np.maximum(oxides_kg_t[o], 1e-3) for o in _HELD if o in oxides_kg_t},
        carbon_pct,
        kelvin(temp_c),
        works.oxygen.flow_nm3_min * works.oxygen.purity_pct / 100.0 / works.vessel.tap_t,
        np.asarray(co2_pct) / 100.0,
        law_figures(works) if law is None else law,
    )


def _parabola(x, y, at):
    """Value at `at` of the parabola through three points, first axis of x and y."""
    slope, far = (y[1] - y[0]) / (x[1] - x[0]), (y[2] - y[0]) / (x[2] - x[0])
    curve = (far - slope) / (x[2] - x[1])
    return y[0] + (at - x[0]) * (slope + (at - x[1]) * curve)
