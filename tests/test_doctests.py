"""The examples in the docstrings run and give what stands there; nothing here needs an outside
source. An example is tested by being there.
"""

import doctest
import importlib
import warnings

import house
import pytest

FLAGS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS
MODULES = sorted(house.modules(), key=lambda n: (house.FLOOR[house.room_of(n)], n))


@pytest.mark.parametrize("name", [n or "steelthermo" for n in MODULES if n != "__main__"])
def test_examples(name):
    path = "steelthermo" if name == "steelthermo" else f"steelthermo.{name}"
    said = []
    runner = doctest.DocTestRunner(optionflags=FLAGS)
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # an example shows ordinary use
        for test in doctest.DocTestFinder(exclude_empty=True).find(importlib.import_module(path)):
            runner.run(test, out=said.append)
    assert not runner.failures, "".join(said)


def test_an_example_that_is_wrong_is_found():
    test = doctest.DocTestParser().get_doctest(">>> 1 + 1\n3\n", {}, "wrong", None, 0)
    runner = doctest.DocTestRunner(optionflags=FLAGS)
    runner.run(test, out=lambda text: None)
    assert runner.failures == 1
