"""Figures of speed of the sampled heats, printed; nothing is asserted here. Run: python
tests/benchmark_uncertainty.py

Aims: 100 000 heats with their shares below 5 s; the panel of lesson 16 below 1 s from a moved
slider to its picture.
"""

import time

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit import use
from steelthermo.coursekit.panel import make_panel
from steelthermo.trust import heats, published
from steelthermo.works import profile as plant

use(STEEL)


def clock(what, function):
    start = time.perf_counter()
    out = function()
    print(f"{what:58s} {time.perf_counter() - start:8.3f} s")
    return out


def main():
    works = plant.load_profile()
    heats(works, 100)
    many = clock("100 000 heats through the charge", lambda: heats(works, 100_000))
    clock(
        "first-order shares of temperature and carbon of these",
        lambda: (many.shares(), many.shares("carbon")),
    )
    clock("4000 heats through the charge", lambda: heats(works, 4000))
    for _ in range(2):  # lesson 16 draws them at each move
        clock("2000 heats through charge and law (aim: 60 ms)", lambda: heats(works, 2000))
    panel = clock("panel made", lambda: make_panel("how_sure_are_we"))
    for spread in (6.0, 12.0):
        clock("panel: slider to picture", lambda s=spread: panel.set(hot_metal_temp_c=s))
    clock(f"{len(published.checks())} published checks recomputed", published.results)


if __name__ == "__main__":
    main()
