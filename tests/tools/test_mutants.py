"""The mutation run: mutants are made, laws are tests, and, marked long, a drawn sample of mutants
is noticed or stands in the list of those that are not.
"""

import ast
import csv
import subprocess
import sys
from pathlib import Path

import pytest
from mutants import Function, changes, functions, mutants
from mutation_run import survivors
from noticed import NOT_COUNTED, laws
from same_function import SAME, Usual

TOOLS = Path(__file__).parent
TESTS = TOOLS.parent
GROUNDS = {
    "published",  # a figure of a source named in the test
    "closure",  # elements, heat, charge or momentum: what comes is what leaves
    "equilibrium",  # what was found obeys its constant, put in again
    "Gibbs and Helmholtz",
    "Gibbs and Duhem",
    "Hess",
    "reciprocity",
    "identity",  # there and back, twice the heat, one by one, another way to the same number
    "limit",  # what must vanish, stay or only rise or fall
    *NOT_COUNTED,
}


def wrong(a, b, more=0.0):
    """A function for the tests of this file."""
    total = a - b
    total += more
    return -total if a < 0.0 else total + 0.0 * b


def test_each_term_and_sign_is_made_wrong():
    tree = ast.parse(
        "def wrong(a, b, more=0.0):\n total = a - b\n total += more\n"
        " return -total if a < 0.0 else total + 0.0 * b\n"
    )
    function = Function("wrong", wrong, tree, calls=[{"a": 3.0, "b": 1.0, "more": 0.0}])
    usual = Usual(function)
    found = {}
    for change, code, alarm in mutants(function):
        for key, other in ((change, code), (f"alarm {change}", alarm)):
            kept, wrong.__code__ = wrong.__code__, other
            found[key] = usual.apart()
            wrong.__code__ = kept
    assert found["sign: a - b"] == pytest.approx(0.5)
    assert found["drop right: a - b"] == pytest.approx(1.0 / 3.0)
    assert found["drop left: a - b"] == pytest.approx(1.5)
    assert found["sign: total += more"] < SAME < found["alarm sign: total += more"]
    assert found["sign: -total"] < SAME and found["alarm sign: -total"] < SAME  # not come by
    assert not any("0.0 * b" in key for key in found)


def test_laws_are_tests_and_say_what_stands_behind_them():
    assert set(laws().values()) <= GROUNDS
    there = {
        f"{file}::{node.name}"
        for file in {test.split("::")[0] for test in laws()}
        for node in ast.parse((TESTS / file).read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef)
    }
    assert set(laws()) <= there


def test_survivors_are_mutants():
    """Each equation of the list is still one, written as it is listed."""
    made = {(f.name, change) for f in functions() for change in changes(f)}
    listed = {(s["what"], s["change"]) for s in survivors() if s["kind"] == "equation"}
    assert listed <= made


@pytest.mark.long
@pytest.mark.parametrize("kind", ["rows", "equations"])
def test_what_is_made_wrong_is_noticed(kind):
    """All figures that matter; of the equations one in eight, drawn by name. The whole is run by
    mutation_run.py. What nobody notices stands in survivors.csv.
    """
    said = [sys.executable, str(TOOLS / "mutation_run.py"), kind, "--sample"]
    out = subprocess.run(said, capture_output=True, text=True, check=True, cwd=TESTS.parent)
    lines = list(csv.reader(out.stdout.splitlines(), delimiter="|"))
    known = {(s["kind"], s["what"], s["change"]) for s in survivors()}
    missed = [line for line in lines if line[-1] and tuple(line[:3]) not in known]
    assert len(lines) > 30 and not missed, missed
