"""Mistakes that steps tell of themselves, each worked out by hand here; what a learner is told."""

import numpy as np
import pytest

from steelthermo.base import InputError
from steelthermo.coursekit.problems import (
    Answer,
    Given,
    Problem,
    Step,
    check,
    draw,
    mistake_text,
    mistakes,
    read_problems,
)
from steelthermo.coursekit.problems.mistakes import mistake

TEA = Problem(
    "tea.pot",
    "A pot",
    "{n} cups of 0.2 kg and a pot of 1 kg, of which {full_pct} is full: how much tea?",
    (
        Given("n", "cups", "1", 5, 9, 1, "made up"),
        Given("full_pct", "full", "%", 60, 80, 1, "made up"),
    ),
    lambda n, full_pct: (0.2 * n + 1.0) * full_pct / 100.0,
    number=Answer("kg", "a product", tolerance_pct=1.0),
    steps=(
        Step("cups", "In the cups.", "0.2 * n", "kg"),
        Step("all", "With the pot.", "cups + 1", "kg"),
        Step("tea", "What is full of it.", "all * full_pct / 100", "kg"),
    ),
)
GIVEN = {"n": 5.0, "full_pct": 60.0}  # cups 1, all 2, tea 1.2


@pytest.mark.parametrize(
    ("key", "number"),
    [
        ("only_cups", 1.0),
        ("only_all", 2.0),
        ("forgot_n", 0.6),  # the pot alone
        ("forgot_full_pct", 2.0),  # 100 % of it
        ("forgot_cups", 0.6),
        ("half_cups", 0.9),
        ("double_all", 2.4),
        ("part_all", 0.6),
        ("turned_all", 0.0),  # 1 - 1
        ("turned_tea", 2.0 / 60.0 / 100.0),
    ],
)
def test_each_mistake_by_hand(key, number):
    assert number in [pytest.approx(found) for k, found in mistakes(TEA, GIVEN) if k == key]


@pytest.mark.parametrize("key", ["only_all", "forgot_n", "forgot_full_pct", "half_cups"])
def test_a_mistake_alone_is_one_of_all_and_takes_arrays(key):
    alone = mistake(TEA, key)
    assert float(alone(**GIVEN)) in [x for k, x in mistakes(TEA, GIVEN) if k == key]
    many = alone(n=np.array([5.0, 9.0]), full_pct=np.array([60.0, 60.0]))
    assert np.shape(many) == (2,) and many[0] == pytest.approx(float(alone(**GIVEN)))


def test_what_a_learner_is_told():
    one = draw(TEA, "Ada", fixed=GIVEN)
    told = {answer: check(one, answer) for answer in ("2", "0.9", "0.6", "1.93")}
    assert told["2"].slips == ("only_all",) and "With the pot." in told["2"].sentences[1]
    assert told["0.9"].slips == ("half_cups",)
    assert told["0.6"].slips == ("forgot_n",) and "cups (5)" in told["0.6"].sentences[1]
    assert told["1.93"].slips == () and "Too high" in told["1.93"].sentences[1]
    assert check(one, "2.015").slips == ()  # near is not enough
    assert mistake_text(TEA, "forgot_n") == mistake_text(TEA, "forgot_n", GIVEN).replace(" (5)", "")
    assert mistake_text(TEA, "sign") == mistake_text(TEA, "only_milk") == ""
    assert one.hints()[-1].replace("\N{NO-BREAK SPACE}", " ").endswith("2 × 60 / 100")


def test_a_sentence_of_its_own_needs_no_calculation(tmp_path):
    words = """
[pot]
title = "A pot"
text = "{n} cups of 0.2 kg and a pot of 1 kg: how much tea?"
answer = { unit = "kg", tolerance_pct = 1.0, why = "a sum" }
given.n = { label = "cups", unit = "1", low = 5, high = 9, step = 1, why = "made up" }
steps = [
    { called = "cups", say = "In the cups.", sum = "0.2 * n", unit = "kg" },
    { called = "tea", say = "With the pot.", sum = "cups + 1", unit = "kg" },
]
slips.only_cups = "The pot holds tea too."
"""
    from steelthermo.coursekit.problems import Solution

    file = tmp_path / "problems.toml"
    file.write_text(words, encoding="utf-8")
    (pot,) = read_problems("tea", tmp_path / "problems.py", {"pot": Solution()})
    one = draw(pot, "Ada", fixed={"n": 5.0})
    assert check(one, "1").sentences[1] == "The pot holds tea too."
    file.write_text(words.replace("only_cups", "only_milk"), encoding="utf-8")
    with pytest.raises(InputError, match="slip only_milk"):
        read_problems("tea", tmp_path / "problems.py", {"pot": Solution()})
