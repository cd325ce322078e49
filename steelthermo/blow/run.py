"""Runs the heat that `charge` solves along time: see the head of the folder."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    atomic_weight,
    between,
    common_shape,
    kelvin,
    molar_volume_nm3_kmol,
    one_of,
    plain,
    positive,
    shown,
    told,
)
from ..charge import Charge, refuse_or_mark
from ..charge import solve as solve_charge
from ..jet import LancePattern
from ..thermo import liquidus_c
from ..works import Profile, law_figures, load_profile
from .rates import Kinetics, start
from .record import Blow, records
from .remarks import remarks_of
from .rows import CARBON, FED, SCRAP, SLAG_NAMES
from .schedule import Addition, Course, standard_additions, standard_pattern
from .state import Account
from .temperature import TEMP_C

_FREEZES_K = (
    15.0  # the bath may lie so far below its liquidus, not verified, before it counts as freezing
)


def runge_kutta(rate: Callable, state: np.ndarray, time: np.ndarray) -> np.ndarray:
    """States at all nodes of time by the classical scheme of fourth order (key kutta01).

    Parameters
    ----------
    rate : rate(i, part, state), the derivative in step i at its start (part 0), middle (1) or end
        (2)
    state : at the start, (rows, 1, heats)
    time : (nodes, heats)

    Returns
    -------
    (rows, nodes, heats)

    References
    ----------
    Key kutta01; in every textbook, and its order is tested.

    Examples
    --------
    >>> time = np.linspace(0.0, 1.0, 11)[:, None]
    >>> states = runge_kutta(lambda i, part, state: -state, np.ones((1, 1, 1)), time)
    >>> round(float(states[0, -1, 0]), 5)
    0.36788
    """
    out = np.empty((len(state), len(time), state.shape[2]))
    out[:, :1] = state
    for i in range(len(time) - 1):
        h = time[i + 1] - time[i]
        k1 = rate(i, 0, state)
        k2 = rate(i, 1, state + 0.5 * h * k1)
        k3 = rate(i, 1, state + 0.5 * h * k2)
        k4 = rate(i, 2, state + h * k3)
        state = state + h / 6.0 * (k1 + 2.0 * (k2 + k3) + k4)
        out[:, i + 1 : i + 2] = state
    return out


@dataclass(frozen=True, repr=False)
class Run(Record):
    """How a heat is blown.

    pattern: LancePattern, run as it is, or stretched in time if oxygen_nm3 is given (None:
    standard_pattern() at the usual flow, stretched to oxygen_nm3 or to the oxygen of the charge);
    oxygen_nm3: oxygen of the blow, Nm3, above 0; additions: sequence of Addition (None: fluxes,
    coolant and fuel of the charge in the ordinary lots); parameters: number or array by key of
    parameters(), start values for the others; usual_flow_nm3_min: instead of the works'; step_min:
    longest step of the integrator, min, 0.01 to 0.5, which fast rates shorten; infeasible: 'refuse'
    raises with the reason, 'mark' sets Blow.feasible.
    """

    pattern: LancePattern | None = None
    oxygen_nm3: Number | None = None
    additions: Sequence | None = None
    parameters: Amounts | None = None
    usual_flow_nm3_min: Number | None = None
    step_min: Number = 0.2
    infeasible: str = "refuse"


def solve(
    charge: Charge | None = None, works: Profile | None = None, **run: Annotated[object, Run]
) -> Blow:
    """Run a heat along time.

    charge, oxygen_nm3, usual_flow_nm3_min, additions and parameters may hold arrays of heats that
    broadcast; time is the last axis of all results.

    Parameters
    ----------
    charge : a solved Charge (default: the works' own, for its tap weight); its hot metal, scrap,
        fluxes, gas, dust, losses and ferric share are taken
    works : Profile (default: load_profile()); gives the usual oxygen flow per t of steel
    run : fields of Run: pattern, oxygen_nm3, additions, parameters, usual_flow_nm3_min, step_min,
        infeasible

    Returns
    -------
    Blow

    Raises
    ------
    InputError

    References
    ----------
    Element balances and enthalpies; rates: blow_parameters.csv, order of doing things:
    blow_schedule.csv.

    Examples
    --------
    >>> blow = solve()
    >>> f"{blow.time_min[-1]:.0f} min, {blow.of('C')[-1]:.2f} % C"
    '20 min, 0.04 % C'
    """
    run = told(Run, "blow", run)
    works = works or load_profile()
    if charge is None:
        charge = solve_charge(works).for_tap(works.vessel.tap_t)
    if not isinstance(charge, Charge):
        raise InputError(
            f"charge: {shown(charge)} was given; a charge.Charge is needed, as charge.solve() "
            "returns it."
        )
    if not np.all(charge.feasible):
        raise InputError(
            "charge: some of its heats can't be, as Charge.feasible says; take them out before "
            "they are blown."
        )
    pattern = run.pattern
    if not (pattern is None or isinstance(pattern, LancePattern)):
        raise InputError(f"lance pattern: {shown(pattern)} was given; a LancePattern is needed.")
    one_of("infeasible", run.infeasible, ("refuse", "mark"))
    step = between("longest step", run.step_min, 0.01, 0.5, "min")
    given = start(run.parameters, law_figures(works))
    lots = _lots(run.additions)
    usual = run.usual_flow_nm3_min
    if usual is None:
        usual = (
            works.oxygen.flow_nm3_min
            / works.vessel.tap_t
            * np.asarray(charge.steel.mass_kg)
            / 1000.0
        )
    usual = between("usual oxygen flow", usual, 1e-3, 3000.0, "Nm3/min")
    wanted = run.oxygen_nm3
    if wanted is None and pattern is None:
        wanted = charge.oxygen.total_nm3
    wanted = None if wanted is None else positive("oxygen of the blow", wanted, "Nm3", zero=False)

    heats = common_shape(
        "blow",
        *_sizes(charge),
        usual,
        *given.values(),
        *() if wanted is None else (wanted,),
        *_numbers(lots),
    )
    n = int(np.prod(heats))

    def flat(x):
        return np.broadcast_to(np.asarray(x, float), heats).reshape(1, n)

    flow_factor = np.ones((1, n))
    if pattern is None:
        pattern, flow_factor = standard_pattern(), flat(usual) / 100.0
    time_factor = np.ones((1, n))
    if wanted is not None:
        if pattern.oxygen_nm3() == 0.0:
            raise InputError(
                "lance pattern: it blows no oxygen; it cannot be stretched to blow some."
            )
        time_factor = flat(wanted) / (pattern.oxygen_nm3() * flow_factor)
    if run.additions is None:
        planned = {name: flat(charge.inputs[name].mass_kg) for name in FED}
        lots = standard_additions(planned, pattern.end_min * time_factor)
    else:
        lots = tuple(Addition(a.what, flat(a.start_min), flat(a.end_min), flat(a.kg)) for a in lots)

    blown = charge.oxygen.nm3
    account = Account(charge, n, flat(charge.oxygen.total_nm3) / flat(usual))
    kinetics = Kinetics(
        account, {k: flat(v) for k, v in given.items()}, flat(_burnt_to_co2(charge))
    )
    fastest = kinetics.fastest_per_min(
        np.max(np.max(pattern.flow_nm3_min) * flow_factor / flat(usual))
    )
    course = Course(
        pattern,
        flow_factor,
        time_factor,
        lots,
        flat(usual),
        flat(np.asarray(blown["O2"]) / sum(blown.values())),
        min(step, 1.0 / fastest),
    )
    known, paces = (
        course.known(account),
        [kinetics.pace(drive) for drive in course.drives(kinetics)],
    )
    fixed = kinetics.rows.fixed(known)
    at_nodes = []  # rates, those of the step that begins there

    def rate(i, part, state):
        out = kinetics.at(paces[part][i], fixed[2 * i + part], state[:, 0])
        if part == 0:
            at_nodes.append(out)
        return out[:, None]

    state = runge_kutta(rate, np.zeros((account.size, 1, n)), course.time_min)
    at_nodes.append(rate(len(course.middles) - 1, 2, state[:, -1:])[:, 0])
    rates = np.stack(at_nodes, axis=1)
    way = _Way(charge, given, course, account, kinetics, known[:, ::2], state, rates)
    return _blow(way, heats, run.infeasible)


@dataclass(frozen=True)
class _Way:
    """What the integrator leaves: what was run, rows known, states and rates at the nodes of the
    course.
    """

    charge: Charge
    given: dict
    course: Course
    account: Account
    kinetics: Kinetics
    known: np.ndarray
    state: np.ndarray
    rates: np.ndarray


def _lots(additions):
    """The additions given, checked."""
    try:
        lots = () if additions is None else tuple(additions)
    except TypeError:
        lots = (None,)
    if not all(isinstance(a, Addition) for a in lots):
        raise InputError(
            f"additions: {shown(additions)} was given; a sequence of Addition is needed."
        )
    return lots


def _numbers(lots):
    return [x for a in lots for x in (a.start_min, a.end_min, a.kg)]


def _sizes(charge):
    """The numbers of a charge that may be arrays of heats."""
    solids = [charge.inputs[name] for name in ("scrap", *FED)]
    of_solids = [
        x for s in solids for x in (s.mass_kg, s.material.temp_c, *s.material.analysis_pct.values())
    ]
    hot = charge.hot_metal
    return [
        charge.oxygen.total_nm3,
        charge.gas.temp_c,
        charge.heat_loss_kj,
        hot.mass_kg,
        hot.temp_c,
        *hot.analysis_pct.values(),
        *of_solids,
    ]


def _burnt_to_co2(charge):
    """Share of the burnt carbon that leaves as CO2, the CO2 of carbonates apart."""
    carbonates = sum(
        np.asarray(charge.inputs[name].mass_kg) * charge.inputs[name].material.carbonate_c
        for name in ("scrap", *FED)
    ) / atomic_weight("C")
    burnt = (
        np.asarray(charge.gas.nm3["CO"]) + charge.gas.nm3["CO2"]
    ) / molar_volume_nm3_kmol() - carbonates
    return 1.0 - charge.gas.nm3["CO"] / molar_volume_nm3_kmol() / np.maximum(burnt, 1e-9)


def _blow(way, heats, infeasible):
    """The Blow of a way, in the shape of its heats."""
    course, account, rates = way.course, way.account, way.rates
    now = account.at(way.known, way.state)
    T = account.temperature(now, exact=True)
    height, flow, drive = course.drive(way.kinetics, np.minimum(course.nodes, 1.0 - 1e-9) + 1e-12)
    known_rates = account.known(
        np.ones_like(T), np.broadcast_to(drive.o2, T.shape), course.feeding(course.nodes)
    )
    known_rates[-1] = np.where(way.known[-1] < 1.0, drive.o2 / account.o2_planned, 0.0)
    gas = account.gas_rates(known_rates, rates)

    def out(x):
        return np.broadcast_to(np.asarray(x), T.shape).T.reshape(*heats, T.shape[0])

    temp_c, bath = T - kelvin(0.0), {e: np.maximum(now.pct(e), 0.0) for e in ("C", "Si", "Mn", "P")}
    faults, reasons = [], []
    for bad, words in (
        (
            T < kelvin(liquidus_c(bath, "iron")) - _FREEZES_K,
            "temperature: the bath would freeze; use less scrap or coolant, feed it later, or blow "
            "more",
        ),
        (temp_c <= TEMP_C[0] + 1e-6, f"temperature: the bath falls to {TEMP_C[0]:g} °C"),
        (
            temp_c >= TEMP_C[1] - 1e-6,
            f"temperature: the bath passes {TEMP_C[1]:g} °C; use more scrap or coolant",
        ),
        (
            now.slag[SLAG_NAMES.index("FeO")] < -1e-6 * account.o2_planned,
            "oxygen: more is asked for than was blown; blow more, or check the charge",
        ),
    ):
        if bad.any():
            words = f"{words} (first at {course.time_min[bad].min():.1f} min)"
            reasons.append(words)
        faults.append((plain(bad.any(axis=0).reshape(heats)), words))
    feasible = refuse_or_mark(faults, infeasible)
    inputs, outputs, loss = records(
        way.charge, account, course, now, T, way.state[SCRAP], course.fed(course.nodes), heats
    )
    found = Blow(
        charge=way.charge,
        parameters=way.given,
        time_min=out(course.time_min),
        height_m=out(height),
        flow_nm3_min=out(flow),
        inputs=inputs,
        outputs=outputs,
        heat_loss_kj=loss,
        carbon_rate_pct_min=out(100.0 * rates[CARBON] * atomic_weight("C") / now.metal_kg),
        gas_nm3_min={
            s: np.maximum(out(kmol * molar_volume_nm3_kmol()), 0.0) for s, kmol in gas.items()
        },
        feasible=feasible,
        reasons=tuple(reasons),
    )
    return replace(found, remarks=remarks_of(found))
