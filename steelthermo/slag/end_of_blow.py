"""The law at the end of a blow: carbon, temperature, slag and mixing give the oxygen of the metal,
the iron oxide of the slag, and the share of the oxygen that burns carbon.

Three statements and a balance of oxygen. Oxygen reaches carbon as long as the bath brings carbon to
it: at the ceiling of stoichiometry, below the critical carbon by transport. What carbon does not
take burns iron. And slag and bath even out: oxygen goes back from the slag, in proportion to what
the activity of its iron oxide exceeds that of the bath; the bath's is its oxygen over that under
pure iron oxide, and its oxygen is the carbon-oxygen product over its carbon.

Published are the activity of iron oxide (Ban-ya 1993, see regular_solution.py) and the oxygen under
pure iron oxide. Recalled, with a band and for a works to fit, is the rest: data/end_of_blow.csv.
"""

from functools import cache

import numpy as np

from ..base import rows, value
from .oxygen import oxygen_lines
from .regular_solution import _energies, _gibbs


@cache
def start_values():
    """Start value of each parameter of the law by key. Source: data/end_of_blow.csv."""
    return {row["key"]: row["start"] for row in rows("end_of_blow")}


def full_oxygen_pct(T):
    """Mass % of oxygen in iron under pure iron oxide; T: K. The line 'FetO', unchecked."""
    line = oxygen_lines()["FetO"]
    return 10.0 ** (line["b_k"] / T + line["c"])


def bath_activity(carbon_pct, T, product=None):
    """Activity of iron oxide that goes with the bath: its oxygen (product over carbon) against that
    under pure iron oxide. Never above 1. Arrays, unchecked.
    """
    product = start_values()["carbon_oxygen_product"] if product is None else product
    return np.minimum(product / (np.maximum(carbon_pct, 1e-4) * full_oxygen_pct(T)), 1.0)


def iron_oxide_at(x, ferric, T):
    """Activity of FetO of a slag whose ferric share is known: no search, for integrators. x: cation
    shares as of cation_shares(), all iron in the row of Fe2+. Arrays, unchecked.
    """
    names, energies = _energies()
    two, three = names.index("Fe2+"), names.index("Fe3+")
    x = x.copy()
    x[three], x[two] = ferric * x[two], (1.0 - ferric) * x[two]
    ax = np.tensordot(energies, x, 1)
    exponent = (ax[two] - 0.5 * np.sum(x * ax, axis=0)) / (value("gas_constant") * T)
    return x[two] * np.exp(exponent + _gibbs("feto", T))


def burning(oxygen, to_slag, pcr, carbon_pct, slag_activity, T, law):
    """Where the oxygen goes: kmol C per minute burnt by the jet, kmol O per minute that slag gives
    back to carbon.

    oxygen: kmol O per minute that reach bath and slag; to_slag: share that burns iron in the hot
    spot; pcr: share of burnt carbon that leaves as CO2; slag_activity: of FetO; law: parameters by
    key (slag_exchange times tonnes of metal). Arrays, unchecked.
    """
    floor = law["carbon_floor_pct"]
    transport = (carbon_pct - floor) / (law["critical_carbon_pct"] - floor)
    ceiling = oxygen / (1.0 + pcr)
    back = law["slag_exchange"] * np.maximum(
        slag_activity - bath_activity(carbon_pct, T, law["carbon_oxygen_product"]), 0.0
    )
    direct = np.minimum(
        np.maximum(oxygen * (1.0 - to_slag) - pcr * back, 0.0) / (1.0 + pcr),
        ceiling * np.maximum(transport, 0.0),
    )
    return direct, np.minimum(back, np.maximum(ceiling * np.maximum(transport, 1.0) - direct, 0.0))
