"""The law at the end of a blow: carbon, temperature, slag and mixing give the oxygen of the metal,
the iron oxides of the slag, and the share of the oxygen that burns carbon.

Three statements and a balance of oxygen. Oxygen burns carbon as fast as the bath brings carbon to
it: at the ceiling that stoichiometry sets, below the critical carbon by transport. What carbon does
not take burns iron. And slag and bath even out: the slag gives oxygen back to carbon, in proportion
to what the activity of its iron oxide exceeds that of the bath. That of the bath is its oxygen over
the oxygen under pure iron oxide, and its oxygen is the carbon-oxygen product over its carbon;
what it takes up is missing in the slag.

Published are the activity of iron oxide (regular_solution.py: a factor of 1.26 on measured points)
and the oxygen under pure iron oxide. Not verified, with a band and for a works to fit, is how far
bath and slag stand apart: end_of_blow.csv. With its start values the slag of a usual blow falls to
8 % FeO, and holds 16 % at 0.04 % C: 17.3 % with 0.2 % silicon in the hot metal, 15.4 % with 0.9 %.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Parameter,
    Record,
    Table,
    between,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    positive,
    value,
)
from .oxygen import full_oxygen_pct
from .regular_solution import _energies, _gibbs, cation_moles, iron_row, iron_terms
from .way_down import TO_SLAG, Heat, down, end, on


@cache
def parameters() -> dict:
    """Parameters of the law.

    Returns
    -------
    Parameter by key

    References
    ----------
    end_of_blow.csv

    Examples
    --------
    >>> asked = parameters()["critical_carbon_pct"]
    >>> asked.low, asked.high, asked.unit
    (0.2, 0.8, '%')
    """
    return Table("end_of_blow").records(Parameter)


def start_values():
    """Start value of each parameter of the law by key."""
    return {key: p.start for key, p in parameters().items()}


def transport_share(carbon_pct: Number, critical_pct: Number, floor_pct: Number = 0.0) -> Number:
    """Rate at which carbon comes to the surface of the oxygen, over the ceiling that all the oxygen
    blown sets: (C - floor)/(critical - floor), a rate constant times (C - floor).

    Parameters
    ----------
    carbon_pct, critical_pct, floor_pct : % C; no checks, for it is called thousands of times

    Returns
    -------
    share, zero or more

    Examples
    --------
    >>> transport_share(0.25, 0.5).item()
    0.5
    """
    return np.maximum((carbon_pct - floor_pct) / (critical_pct - floor_pct), 0.0)


def bath_oxygen_pct(carbon_pct: Number, T: Number, product: Number) -> Number:
    """Oxygen of the bath: product over carbon, no more than under pure iron oxide. Unchecked.

    Parameters
    ----------
    carbon_pct : mass %; arrays broadcast
    T : K
    product : [%C][%O]

    Returns
    -------
    mass %

    Examples
    --------
    >>> round(float(bath_oxygen_pct(0.04, 1923.15, 0.0028)), 3)
    0.07
    """
    return np.minimum(product / np.maximum(carbon_pct, 1e-4), full_oxygen_pct(T))


def bath_activity(carbon_pct, T, product=None):
    """Activity of iron oxide that goes with the bath: its oxygen against that under pure iron
    oxide. Never above 1. Arrays, unchecked.
    """
    product = start_values()["carbon_oxygen_product"] if product is None else product
    return bath_oxygen_pct(carbon_pct, T, product) / full_oxygen_pct(T)


def iron_oxide_at(x: np.ndarray, ferric: Number, T: Number) -> Number:
    """Activity of FetO of a slag whose ferric share is known: no search, for integrators,
    unchecked.

    Parameters
    ----------
    x : shares of the cations, rows as of cation_moles(), all iron in the row of Fe2+
    ferric : Fe3+ over all iron
    T : K

    Returns
    -------
    activity against pure liquid iron oxide

    Examples
    --------
    >>> from steelthermo.slag import cations_of
    >>> lime, silica, iron = cations_of(("CaO", "SiO2", "FeO")).T
    >>> x = 0.6 * lime + 0.2 * silica + 0.2 * iron
    >>> round(float(iron_oxide_at(x, 0.2, 1873.15)), 2)
    0.15
    """
    names, energies = _energies()
    two, three = names.index("Fe2+"), names.index("Fe3+")
    x = x.copy()
    x[three], x[two] = ferric * x[two], (1.0 - ferric) * x[two]
    ax = (energies @ x.reshape(len(x), -1)).reshape(x.shape)
    exponent = (ax[two] - 0.5 * np.sum(x * ax, axis=0)) / (value("gas_constant") * T)
    return x[two] * np.exp(exponent + _gibbs("feto", T))


def burning(
    oxygen: Number,
    free: Number,
    pcr: Number,
    carbon_pct: Number,
    slag_activity: Number,
    T: Number,
    law: Amounts,
) -> tuple:
    """Where the oxygen goes. Arrays, unchecked.

    Parameters
    ----------
    oxygen : kmol O per minute that reach bath and slag
    free : of it, what neither burns iron in the hot spot nor silicon and its like
    pcr : share of burnt carbon that leaves as CO2
    carbon_pct : of the bath
    slag_activity : of FetO
    T : K
    law : parameters by key (slag_exchange times tonnes of metal)

    Returns
    -------
    (kmol C per minute burnt by the jet, kmol O per minute that slag gives back to carbon)

    Examples
    --------
    >>> law = start_values()
    >>> jet, back = burning(10.0, 8.0, 0.1, 1.0, 0.3, 1873.15, law)
    >>> round(float(jet), 1)
    7.3
    """
    transport = transport_share(carbon_pct, law["critical_carbon_pct"], law["carbon_floor_pct"])
    ceiling = oxygen / (1.0 + pcr)
    back = law["slag_exchange"] * np.maximum(
        slag_activity - bath_activity(carbon_pct, T, law["carbon_oxygen_product"]), 0.0
    )
    direct = np.minimum(np.maximum(free - pcr * back, 0.0) / (1.0 + pcr), ceiling * transport)
    most = np.minimum(
        ceiling * np.maximum(transport, 1.0) - direct,
        TO_SLAG * ceiling * carbon_pct / law["critical_carbon_pct"],
    )
    return direct, np.minimum(back, np.maximum(most, 0.0))


@dataclass(frozen=True, repr=False)
class EndOfBlow(Record):
    """Slag and bath at the end of a blow. carbon_pct; T: K; oxygen_pct: dissolved in the metal;
    feo_pct, fe2o3_pct: of the slag, mass %; feto_activity: of the slag's iron oxide, against pure;
    carbon_share: of the oxygen blown at that moment that burns carbon. Scalars or arrays.
    """

    _main_results = ("blow_c_pct", "blow_feo_pct", "blow_p_pct")

    carbon_pct: Number
    T: Number
    oxygen_pct: Number
    feo_pct: Number
    fe2o3_pct: Number
    feto_activity: Number
    carbon_share: Number
    _sources = ("carbon_oxygen_product", "critical_carbon_pct", "slag_exchange")


def end_of_blow(
    oxides_kg_t: Amounts,
    carbon_pct: Number,
    T: Number,
    o2_nm3_min_t: Number,
    pcr: Number = 0.11,
    law: Amounts | None = None,
) -> EndOfBlow:
    """Where a blow stands when the bath has come down to a carbon. All broadcast.

    Parameters
    ----------
    oxides_kg_t : the slag's oxides, those of iron left out, kg per t of steel
    carbon_pct : above the floor, 0.005 to 3; valid 0.02 to 2
    T : K, 1600 to 2100
    o2_nm3_min_t : oxygen that reaches bath and slag, Nm3 per minute and t
    pcr : share of the burnt carbon that leaves as CO2
    law : parameters by key instead of those of end_of_blow.csv

    Returns
    -------
    EndOfBlow

    Raises
    ------
    InputError
        Also for slags out of the range of slag_solution().

    References
    ----------
    See the head of the module.

    Examples
    --------
    >>> slag = {"CaO": 45.0, "SiO2": 13.0, "MgO": 7.0, "MnO": 4.0, "P2O5": 1.8}
    >>> round(end_of_blow(slag, 0.04, 1923.15, 2.8).feo_pct, 1)
    17.3
    """
    heat, base_kg = _heat(oxides_kg_t, carbon_pct, T, (o2_nm3_min_t, pcr), law)
    return _end(heat._replace(iron=down(heat)), base_kg, T)


def after_oxygen(
    slag_kg_t: Amounts,
    carbon_pct: Number,
    T: Number,
    oxygen_nm3_t: Number,
    o2_nm3_min_t: Number,
    pcr: Number = 0.11,
    law: Amounts | None = None,
) -> EndOfBlow:
    """Where bath and slag stand after more oxygen, such as that of a second blow: by the same law,
    along time. All broadcast.

    Parameters
    ----------
    slag_kg_t : the slag as it is, kg per t of steel; where it holds no iron oxides, those of the
        law at this carbon are taken
    carbon_pct, T, o2_nm3_min_t, pcr, law : as for end_of_blow()
    oxygen_nm3_t : O2 blown from now on, Nm3 per t, 0 to 20

    Returns
    -------
    EndOfBlow

    Raises
    ------
    InputError

    References
    ----------
    See the head of the module.

    Examples
    --------
    >>> slag = {"CaO": 45.0, "SiO2": 13.0, "MgO": 7.0, "MnO": 4.0, "P2O5": 1.8}
    >>> after = after_oxygen(slag, 0.08, 1923.15, 1.0, 2.8)
    >>> round(after.carbon_pct, 3), round(after.feo_pct, 1)
    (0.049, 16.1)
    """
    more = between("oxygen still to be blown", oxygen_nm3_t, 0.0, 20.0, "Nm3/t")
    base = {o: kg for o, kg in slag_kg_t.items() if o not in ("FeO", "Fe2O3")}
    heat, base_kg = _heat(base, carbon_pct, T, (o2_nm3_min_t, pcr), law)
    if len(base) < len(slag_kg_t):
        iron = cation_moles(slag_kg_t)[0][iron_row()]
    else:
        iron = down(heat)
    heat = heat._replace(iron=iron, minutes=more / np.asarray(o2_nm3_min_t))
    if np.any(more):
        iron, carbon = on(heat)
        heat = heat._replace(iron=iron, carbon=carbon)
    return _end(heat, base_kg, T)


def _heat(oxides_kg_t, carbon_pct, T, blown, law):
    """The arguments of end_of_blow(), checked, as the Heat of way_down.py; kg per t of the oxides.
    blown: (o2_nm3_min_t, pcr).
    """
    law = start_values() | dict(law or {})
    floor = law["carbon_floor_pct"]
    carbon = between("carbon at the end of the blow", carbon_pct, 0.005, 3.0, "%")
    if np.any(np.asarray(carbon) <= np.asarray(floor)):
        raise InputError(
            f"carbon at the end of the blow: {np.min(carbon):g} % was given; allowed is more "
            f"than the floor of {np.max(floor):g} %, below which no blowing leads."
        )
    T = between("temperature at the end of the blow", T, 1600.0, 2100.0, "K")
    flow = positive("oxygen flow", blown[0], "Nm3/min", zero=False)
    base, left_out = cation_moles(oxides_kg_t)
    between("oxides that the set of activities does not hold", left_out, 0.0, 10.0, "%")
    oxygen = 2.0 * flow / molar_volume_nm3_kmol()
    heat = Heat(
        carbon=carbon,
        oxygen=oxygen,
        free=oxygen * (1.0 - law["slag_oxygen_pct"] / 100.0),
        pcr=blown[1],
        exchange=law["slag_exchange"],
        critical=law["critical_carbon_pct"],
        floor=floor,
        product=law["carbon_oxygen_product"],
        **iron_terms(base, T)._asdict(),
    )
    return heat, sum(np.asarray(kg, float) for kg in oxides_kg_t.values())


def _end(heat, base_kg, T):
    """The EndOfBlow of a Heat with iron in the slag. base_kg: its other oxides, kg per t."""
    ferric, active, burnt = end(heat)
    feo = heat.iron * (1.0 - ferric) * molar_mass("FeO")
    fe2o3 = heat.iron * ferric * 0.5 * molar_mass("Fe2O3")
    per_pct = 100.0 / (base_kg + feo + fe2o3)
    share = (1.0 + np.asarray(heat.pcr)) * burnt / heat.oxygen
    carbon, T = (np.broadcast_to(x, ferric.shape) for x in (heat.carbon, T))
    oxygen = bath_oxygen_pct(carbon, T, heat.product)
    return EndOfBlow(
        *map(plain, (carbon, T, oxygen, feo * per_pct, fe2o3 * per_pct, active, share))
    )
