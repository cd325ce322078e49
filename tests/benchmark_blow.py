"""How fast the blow is. Run by hand: python tests/benchmark_blow.py  [--heats N]

Prints wall and processor time of one heat, of its band, of a batch, and of a fit.
Aims: one heat below 60 ms, 1 000 heats below 2 s. On a busy machine the processor time tells more.
"""

import argparse
import statistics
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from steelthermo import blow
from steelthermo.blow import fit, measured
from steelthermo.charge import charge
from steelthermo.works import profile as plant


def clocked(call, repeats):
    """Median (wall, processor) seconds of a call, and its last result."""
    walls, cpus = [], []
    for _ in range(repeats):
        wall, cpu = time.perf_counter(), time.process_time()
        result = call()
        walls.append(time.perf_counter() - wall)
        cpus.append(time.process_time() - cpu)
    return statistics.median(walls), statistics.median(cpus), result


def tell(what, found):
    print(f"{what:45s} {found[0] * 1000:8.0f} ms wall {found[1] * 1000:8.0f} ms processor")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--heats", type=int, default=1000)
    n = parser.parse_args().heats
    works = plant.load_profile()
    heat = charge.solve(works).for_tap(works.vessel.tap_t)
    blow.solve(heat)
    tell("one heat, charge given", clocked(lambda: blow.solve(heat), 9))
    tell("one heat with its charge", clocked(lambda: blow.solve(), 9))
    tell("one heat, half the step", clocked(lambda: blow.solve(heat, step_min=0.1), 5))
    found = clocked(lambda: blow.band(heat), 5)
    tell(f"band of all parameters ({len(found[2].levels)} runs)", found)
    tell("band of a works that knows its ends", clocked(lambda: blow.tuned_band(found[2], heat), 5))
    random = np.random.default_rng(1)
    hot = dict(works.hot_metal.analysis_pct) | {
        "Si": 0.3 + 0.4 * random.random(n),
        "C": 4.3 + 0.3 * random.random(n),
    }
    many = charge.solve(works, hot_metal_pct=hot, infeasible="mark").for_tap(180)
    found = clocked(lambda: blow.solve(many, infeasible="mark"), 2)
    tell(f"{n} heats of different hot metal", found)
    tell("closure of them all", clocked(found[2].closure, 1))
    lines = measured.invented_heat()
    tell(
        "fit of three parameters to 97 readings",
        clocked(
            lambda: fit(lines, ("slag_exchange", "slag_oxygen_pct", "exchange_per_min"), heat),
            3,
        ),
    )


if __name__ == "__main__":
    main()
