"""Figures of speed, printed as a table; nothing is asserted here, for a busy machine is no fault.

Run: python tests/benchmark.py        (about ten seconds)

Each figure is the best of several runs, in processor time of this process, so that other work on
the machine counts little. Aims: one charge below 1 ms, 100 000 charges below 1 s, enthalpy of iron
at 10^6 temperatures at least 8 times faster than a Python loop over Cantera, a scalar call at most
3 times Cantera's own, `import steelthermo` below 0.6 s without Matplotlib and ipywidgets.
"""

import subprocess
import sys
import time
import timeit

import cantera as ct
import numpy as np

from steelthermo.charge import charge
from steelthermo.thermo import reactions, substances
from steelthermo.works import profile as plant

HEAVY = ("matplotlib", "ipywidgets", "cantera", "numpy", "pandas", "scipy", "jupyterlab")


def best(function, number, repeat=9):
    """Seconds of processor time of one call, the best of several runs."""
    function()
    return (
        min(timeit.repeat(function, number=number, repeat=repeat, timer=time.process_time)) / number
    )


def of_charge():
    works = plant.load_profile()
    for find in charge.FIND:
        given = (
            {}
            if find == "scrap"
            else {
                "scrap_kg": {
                    "temperature": 300.0,
                    "coolant": 250.0,
                    "fuel": 350.0,
                    "masses": 300.0,
                }[find]
            }
        )
        yield (
            f"one charge, {find} asked for",
            "ms",
            1e3 * best(lambda f=find, g=given: charge.solve(works, find=f, **g), 20),
            "below 1",
        )
    n = 100_000
    rng = np.random.default_rng(0)
    temp, si, co2 = rng.uniform(1300, 1400, n), rng.uniform(0.2, 0.8, n), rng.uniform(5, 20, n)
    pct = {**works.hot_metal.analysis_pct, "Si": si}
    yield (
        "100 000 charges, scrap",
        "s",
        best(
            lambda: charge.solve(works, hot_metal_temp_c=temp, hot_metal_pct=pct, co2_pct=co2), 1, 3
        ),
        "below 1",
    )
    many = {
        "find": "temperature",
        "scrap_kg": rng.uniform(290, 330, n),
        "hot_metal_temp_c": temp,
        "infeasible": "mark",
    }
    yield (
        "100 000 charges, temperature",
        "s",
        best(lambda: charge.solve(works, **many), 1, 3),
        "below 1",
    )
    account = charge.solve(works)
    yield "heat account of one charge", "ms", 1e3 * best(account.heat_account, 50), "none"
    yield "closure of one charge", "ms", 1e3 * best(account.closure, 50), "none"


def of_substances():
    thermo = {s.name: s.thermo for s in ct.Species.list_from_file("nasa_condensed.yaml")}
    chain = [
        (1184.0, thermo["Fe(a)"].h),
        (1665.0, thermo["Fe(c)"].h),
        (1809.0, thermo["Fe(d)"].h),
        (6000.0, thermo["Fe(L)"].h),
    ]
    T = np.random.default_rng(1).uniform(300.0, 2500.0, 1_000_000)
    listed = T[:100_000].tolist()

    def loop():
        """What a user would write: the phase by hand, Cantera's own call, one temperature at a
        time.
        """
        out = []
        for t in listed:
            for high, h in chain:
                if t < high:
                    out.append(h(t) / 1000.0)
                    break
        return out

    worst = np.abs(substances.enthalpy("Fe", T[: len(listed)]) - loop()).max()
    vector, plain = (
        best(lambda: substances.enthalpy("Fe", T), 1, 7) / T.size,
        best(loop, 1, 5) / len(listed),
    )
    yield "enthalpy of iron, array of 10^6", "ns each", 1e9 * vector, "none"
    yield "enthalpy of iron, loop over Cantera", "ns each", 1e9 * plain, "none"
    yield "loop over array", "times", plain / vector, "at least 8"
    yield "largest difference of the two", "J/mol", worst, "1e-9 relative"
    own, theirs = (
        best(lambda: substances.enthalpy("Fe", 1873.15), 20000),
        best(lambda: thermo["Fe(L)"].h(1873.15), 20000),
    )
    yield "one enthalpy, Cantera's own call", "ns", 1e9 * theirs, "none"
    yield "one enthalpy, substances.enthalpy", "ns", 1e9 * own, "none"
    yield "ours over Cantera's", "times", own / theirs, "at most 3"
    named = best(lambda: substances.enthalpy("Fe", 1873.15, "liquid"), 20000)
    yield "one enthalpy of a named phase", "ns", 1e9 * named, "none"
    r = reactions.reaction("[C] + 0.5 O2 = CO")
    yield "one heat of reaction", "us", 1e6 * best(lambda: r.heat(1873.15), 2000), "none"


def of_import():
    code = (
        "import time; t = time.perf_counter(); import steelthermo; print(time.perf_counter() - "
        "t); import sys; print(' '.join(sys.modules))"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout.splitlines()
        for _ in range(7)
    ]
    yield "import steelthermo (wall clock)", "s", min(float(r[0]) for r in runs), "below 0.6"
    pulled = set(runs[0][1].split())
    yield (
        "it pulls in " + (", ".join(m for m in HEAVY if m in pulled) or "none of the heavy ones"),
        "",
        float(len(pulled)),
        "modules",
    )
    whole = code.replace(
        "import steelthermo;", "import steelthermo; from steelthermo import charge; charge.solve();"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", whole], capture_output=True, text=True, check=True
        ).stdout.splitlines()
        for _ in range(5)
    ]
    yield "import and first charge (wall clock)", "s", min(float(r[0]) for r in runs), "none"
    pulled = set(runs[0][1].split())
    yield (
        "that pulls in " + ", ".join(m for m in HEAVY if m in pulled),
        "",
        float(len(pulled)),
        "modules",
    )


def main():
    print(f"Python {sys.version.split()[0]}, NumPy {np.__version__}, Cantera {ct.__version__}")
    print(f"{'what':56s} {'figure':>10s} {'unit':8s} aim")
    for group in (of_charge, of_substances, of_import):
        for what, unit, figure, aim in group():
            print(f"{what:56s} {figure:10.4g} {unit:8s} {'' if aim == 'none' else aim}")


if __name__ == "__main__":
    main()
