"""How long liquid iron takes: run `python tests/benchmark_liquid_iron.py`. Figures, no
judgement.
"""

import time
import warnings

import numpy as np

from steelthermo.charge import blast
from steelthermo.end_point import carbon_from_oxygen, decide
from steelthermo.thermo import (
    ELEMENTS,
    activities,
    crossing_in_melt,
    equilibrium_oxygen,
    order_lines,
    oxygen_potential,
)


def best(function, times=5):
    """Shortest of several runs, in milliseconds."""
    function()
    found = []
    for _ in range(times):
        start = time.perf_counter()
        function()
        found.append(1000.0 * (time.perf_counter() - start))
    return min(found)


def main():
    warnings.simplefilter("ignore")
    rng = np.random.default_rng(0)
    many = {e: rng.uniform(0.0, 0.3, 100_000) for e in ELEMENTS}
    T = rng.uniform(1700.0, 1950.0, 100_000)
    steel = {
        "C": 0.05,
        "Si": 0.01,
        "Mn": 0.12,
        "P": 0.01,
        "S": 0.01,
        "Al": 0.003,
        "Ti": 0.001,
        "Cr": 0.02,
        "V": 0.01,
    }
    grid = np.linspace(1473.15, 1973.15, 60)
    plan = {"aim_temp_c": 1660.0, "aim_carbon_pct": 0.04, "steel_t": 180.0, "flow_nm3_min": 460.0}
    jobs = {
        "activities, 14 elements, 100 000 melts, msts": lambda: activities(
            many, T, "msts", quiet=True
        ),
        "activities, 14 elements, 100 000 melts, jsps": lambda: activities(
            many, T, "jsps", quiet=True
        ),
        "activities of one melt": lambda: activities(steel, 1873.15, quiet=True),
        "equilibrium oxygen of one analysis": lambda: equilibrium_oxygen(steel, 1873.15),
        "oxygen potential diagram, 9 lines of 60 points": lambda: [
            oxygen_potential(e, grid, 1.0, 0.1) for e in order_lines()
        ],
        "crossing of carbon and silicon in a melt": lambda: crossing_in_melt(
            "Si", {"C": 4.5, "Si": 0.45, "Mn": 0.35}
        ),
        "carbon from oxygen": lambda: carbon_from_oxygen(0.05, 1650.0, analysis_pct={"Mn": 0.1}),
        "decision at the end of the blow": lambda: decide(1645.0, 0.08, **plan),
        "oxygen against air, 100 purities": lambda: blast(np.linspace(21.0, 100.0, 100)),
    }
    for name, job in jobs.items():
        print(f"{name:52s} {best(job):9.2f} ms")


if __name__ == "__main__":
    main()
