"""Who notices that something is wrong: the published checks, worked out anew, and the tests of
laws.csv, behind each of which stands a law (closure, Gibbs-Duhem, symmetry, limits) or a published
figure. Golden figures and sums of our own do not count; they are told apart. All in one process and
one session of pytest.
"""

import contextlib
import csv
import io
import time
import warnings
from collections import Counter, defaultdict

import hypothesis
import pytest
from _pytest.runner import runtestprotocol
from house import FLOOR
from mutants import ROOT
from same_function import PATIENCE_S, in_time
from shifted import forget

from steelthermo.base import files
from steelthermo.trust import checks, result

# A twin is the same equation written out once more, and so is a sum of our own by hand: they tell
# slips of the code, no wrong equation.
NOT_COUNTED = ("twin", "sum by hand")
# A balance closes, and there and back is the same, with any figures: only these tell of figures.
ON_FIGURES = ("published", "Hess", "Gibbs and Helmholtz", "Gibbs and Duhem", "reciprocity")
QUICK_S = 0.2
ENOUGH = 0.2  # of the time that all take: so long one mutant is asked after
EXAMPLES = 12  # of a test that draws them
LONGER = 5.0  # times its usual time, and PATIENCE_S, a test may take: more is noticed


def laws():
    """{test: what stands behind it} of laws.csv."""
    with (ROOT / "tests" / "tools" / "laws.csv").open(encoding="utf-8", newline="") as file:
        return {row["test"]: row["ground"] for row in csv.DictReader(file)}


class _Session:
    """A plugin of pytest that hands the collected tests to a job instead of running them."""

    def __init__(self, job):
        self.job, self.out = job, None

    def pytest_runtestloop(self, session):
        """Instead of pytest's own loop."""
        self.out = self.job(session.items)
        return True


def with_tests(names, job):
    """What job(tests) returns, tests: the collected ones of these names."""
    plugin = _Session(job)
    said = "-q -p no:cacheprovider -p no:xdist -p no:nbval".split()
    said += ["-o", "addopts=", "--import-mode=importlib", "-m", "not long", "--rootdir", str(ROOT)]
    with contextlib.redirect_stdout(io.StringIO()) as out:
        pytest.main([*said, *(str(ROOT / "tests" / name) for name in names)], plugins=[plugin])
    if plugin.out is None:
        raise RuntimeError(out.getvalue())
    return plugin.out


def _few_examples(item):
    """Have hypothesis draw few examples, the same each time, and search no smaller one."""
    drawn = getattr(item.obj, "_hypothesis_internal_use_settings", None)
    if drawn:
        item.obj._hypothesis_internal_use_settings = hypothesis.settings(
            drawn,
            max_examples=min(drawn.max_examples, EXAMPLES),
            derandomize=True,
            database=None,
            phases=(hypothesis.Phase.explicit, hypothesis.Phase.generate),
        )


def above(rooms):
    """Tests of laws.csv that may reach one of the rooms: their own, and of the rooms above."""
    lowest = min(FLOOR[room] for room in rooms)
    return [test for test in laws() if FLOOR[test.split("/")[0]] >= lowest]


def test_fails(item):
    """True if a collected test fails, run with fixtures of its own."""
    return any(r.failed for r in runtestprotocol(item, log=False, nextitem=None))


def check_fails(check):
    """True if the verdict on a published check is not the one known."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            return not result(check).passes
        except TimeoutError:
            raise
        except Exception:  # a mutant may fail in any way, and is noticed by that
            return True


class Witnesses:
    """Published checks and tests, what each reaches of some functions, and what it reads.

    calls: {name: call that tells whether it fails}; grounds: {name: what stands behind it};
    on_figures: of those that tell something of figures; reached: {function: names}; read: {table:
    names}; enough_s: of asking after one mutant.
    """

    def __init__(self, items, functions):
        self.calls = {c.id: lambda c=c: check_fails(c) for c in checks()}
        for item in items:
            _few_examples(item)
        named = {i.nodeid.removeprefix("tests/"): i for i in items}
        self.calls |= {n: lambda i=i: test_fails(i) for n, i in named.items()}
        self.grounds = {n: laws().get(n.split("[")[0], "published") for n in self.calls}
        self.on_figures = {n for n, ground in self.grounds.items() if ground in ON_FIGURES}
        self._room = min((f.name.split(".")[0] for f in functions), key=FLOOR.get, default=None)
        self.seconds, self.broken = {}, []
        self.reached, self.read = defaultdict(set), defaultdict(set)
        kept = [(f.plain, f.plain.__code__) for f in functions]
        found = files.data_path
        for f in functions:
            f.plain.__code__ = f.noted(self._note)
        files.data_path = lambda name: self.read[name].add(self._now) or found(name)
        try:
            for name, fails in self.calls.items():
                self._ask(name, fails)
        finally:
            files.data_path = found
            for plain, code in kept:
                plain.__code__ = code
            forget()
        self.enough_s = ENOUGH * sum(self.seconds.values())
        for place in (self.reached, self.read):
            for key, names in place.items():
                place[key] = self._sorted(names.difference(self.broken), key.split(".")[0])

    def _sorted(self, names, room):
        """Those that count first, of them published figures, then tests of the room; by time."""

        def place(name):
            ground = self.grounds[name]
            far = "::" in name and not name.startswith(f"{room}/")
            return ground in NOT_COUNTED, ground != "published", far, self.seconds[name]

        return sorted(names, key=place)

    def _ask(self, name, fails):
        self._now = name
        forget(self._room)
        begun = time.process_time()
        if fails():
            self.broken.append(name)
        self.seconds[name] = time.process_time() - begun

    def _note(self, function, given):
        self.reached[function.name].add(self._now)
        function.keep(self._now, given)

    def who(self, names):
        """The first of the names that notices what is wrong just now: (name, whether it counts)."""
        spent = Counter()  # published figures and laws have their own time
        for name in names:
            ground = self.grounds[name] == "published"
            if spent[ground] > self.enough_s:
                continue
            if in_time(self.calls[name], PATIENCE_S + LONGER * self.seconds[name]):
                return name, self.grounds[name] not in NOT_COUNTED
            spent[ground] += self.seconds[name]
        return None, False

    def quick(self, names):
        """Those of the names that take no time."""
        return [n for n in names if self.seconds[n] < QUICK_S]

    def readers(self, table):
        """Names of what reads a table and tells something of its figures."""
        return [n for n in self.read[f"{table}.csv"] if n in self.on_figures]
