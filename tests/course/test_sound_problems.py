"""An answer is earned: whoever leaves a quantity out or forgets a step is not told that it is
right; sums on the page are true; texts come out as they were written; no line of a choice is
betrayed by its length.
"""

import csv
import json
import math
import re
from collections import Counter
from pathlib import Path

import page_sums
import pytest
from blind import Memory, solved_blind
from leaving_out import accepted

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import ProblemView, markdown
from steelthermo.coursekit.problems import check, draw, draw_many

ROOT = Path(__file__).parents[2]
NUMBERS = [problem for problem in STEEL.problems if problem.number]

# Quantities that the number asked for does not hang on, on purpose.
IDLE = {
    "order_of_oxidation.who_sets_oxygen": ("c_pct", "si_pct", "mn_pct"),  # the lowest of three
    "oxygen_demand.gas_made": ("co2_pct",),  # CO or CO2: one molecule for each atom of carbon
    "phosphorus_and_sulphur.phosphorus_left": ("l_high", "aim_pct"),  # they choose the line
    "off_gas.seven_what": ("co_pct",),  # CO and nitrogen weigh the same
}


def drawn(problem, learners):
    return draw_many(problem, [(f"learner {i}", "course", 1) for i in range(learners)])


@pytest.mark.parametrize("problem", NUMBERS, ids=lambda p: p.key)
def test_nothing_left_out_is_accepted(problem):
    assert accepted(problem, 8, IDLE.get(problem.key, ())) == Counter()


@pytest.mark.long
@pytest.mark.parametrize("problem", NUMBERS, ids=lambda p: p.key)
def test_nothing_left_out_is_accepted_of_many(problem):
    assert accepted(problem, 200, IDLE.get(problem.key, ())) == Counter()


def test_idle_quantities_are_idle():
    for key, names in IDLE.items():
        problem = STEEL.problem(key)
        assert accepted(problem, 8) and set(names) <= {g.name for g in problem.given}


@pytest.mark.parametrize("problem", STEEL.problems, ids=lambda p: p.key)
def test_sums_on_the_page_are_true(problem):
    for one in drawn(problem, 25):
        wrong = [s for s in page_sums.sums(one.worked_text()) if not s.true]
        assert not wrong, (wrong[0].text, wrong[0].value)


@pytest.mark.parametrize("page", sorted(ROOT.glob("exercises/[0-9]*.ipynb")), ids=lambda p: p.stem)
def test_sums_of_a_worked_example_are_true(page):
    """As a reader with a calculator finds them, from the digits printed."""
    cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
    texts = ["".join(c["source"]) for c in cells if c["cell_type"] == "markdown"]
    found = [s for text in texts for s in page_sums.sums(text)]
    assert found or page.stem == "15_whole_heat"  # the sheet has its own
    assert [(s.text, s.value) for s in found if not s.true] == []


def test_every_number_has_steps_and_their_sums_on_the_page():
    """So that the tests of this file have something to read."""
    for problem in NUMBERS:
        assert problem.steps, problem.key
        assert page_sums.sums(drawn(problem, 1)[0].worked_text()), problem.key


@pytest.mark.parametrize("problem", STEEL.problems, ids=lambda p: p.key)
def test_texts_come_out_as_written(problem):
    """A line that begins with + becomes a bullet, two stars a multiplication lost."""
    one = drawn(problem, 1)[0]
    written = [problem.text, *(slip.sentence for slip in problem.slips)]
    if problem.choice:
        written += [*problem.choice.options, *problem.choice.sentences]
    for text in [*map(one.text, written), *one.hints(), one.worked_text()]:
        html = markdown(text)
        found = set(re.findall(r"<(ul|ol|em|br|h\d|blockquote|pre|hr|table|code)\b", html))
        assert not found - declared(text), text
        assert html.count("<strong>") == text.count("**") / 2, text


def declared(text):
    """What a text means to have: a list or table that stands after an empty line."""
    found = set()
    if re.search(r"(?m)^\d+\. ", text):
        found.add("ol")
    if re.search(r"(?m)^- ", text):
        found.add("ul")
    if re.search(r"(?m)^\|", text):
        found.add("table")
    return found


# of another metal or slag than the lesson's panel has
ELSEWHERE = {
    ("charge_materials.mole_percent", "c_pct"),  # iron for a foundry
    ("charge_materials.mole_percent", "si_pct"),
    ("phosphorus_and_sulphur.reversion", "slag_kg_t"),  # the slag carried over
}


def told_ranges(lesson):
    """(low, high) by name and unit, the widest, of what the panels of a lesson say is usual."""
    found = {}
    for path in (ROOT / "steelthermo" / "course").glob(f"l{lesson.number}_*/*.csv"):
        for row in csv.DictReader(path.read_text(encoding="utf-8").splitlines()):
            if row.get("low") and row.get("unit"):
                low, high = found.get((row["name"], row["unit"]), (math.inf, -math.inf))
                ends = min(low, float(row["low"])), max(high, float(row["high"]))
                found[row["name"], row["unit"]] = ends
    return found


def test_draws_lie_inside_what_the_lesson_calls_usual():
    """By the ranges of its panels; and each element of hot metal by that of its own control."""
    compared = 0
    for lesson in STEEL.lessons:
        told = told_ranges(lesson)
        for problem in lesson.problems:
            for given in problem.given:
                usual = told.get((given.name, getattr(given, "unit", "")))
                if usual and (problem.key, given.name) not in ELSEWHERE:
                    compared += 1
                    assert usual[0] <= given.low and given.high <= usual[1], (problem.key, given)
    assert compared > 60
    told = told_ranges(STEEL.lesson("charge_materials"))
    told["mn_pct", "%"] = told_ranges(STEEL.lesson("order_of_oxidation"))["mn_pct", "%"]
    for one in drawn(STEEL.problem("charge_materials.kg_of_element"), 200):
        low, high = told[f"{one.given['element'].lower()}_pct", "%"]
        assert low <= one.given["pct"] <= high, one.given


def test_right_lines_are_not_the_longest():
    """Of the choices whose lines are sentences, no more have the longest line right than chance."""
    longest, chances, told = 0, 0.0, []
    for problem in STEEL.problems:
        if not problem.choice or problem.choice.ordered:
            continue
        one = drawn(problem, 1)[0]
        lengths = [len(one.text(line)) for line in one.problem.choice.options]
        chances += 1.0 / len(lengths)
        if lengths[one.choice - 1] == max(lengths):
            longest += 1
            told.append(problem.key)
    assert longest <= math.ceil(chances), told


def test_reading_of_sums():
    read = page_sums.sums("In all (2 × 3.5 + √16)/2² = **2.75 t**, and 10^(−1) × 5 = 0.50; 3 = 3.")
    assert [(s.value, s.true) for s in read] == [(2.75, True), (0.5, True)]
    (wrong,) = page_sums.sums("12\u202f900/22.414 × 2 = 1150")
    assert not wrong.true and wrong.value == pytest.approx(1151.1, abs=0.05)
    left = {page_sums.value_of(t) for t in page_sums.forgotten(read[0].tree)}
    assert {11.0, 7.0 / 4.0, 5.5, 4.0 / 4.0, 6.0 / 4.0} <= left
    assert page_sums.sums("a × b = c and x = 3") == []


@pytest.mark.parametrize("every", [5, pytest.param(1, marks=pytest.mark.long)])
def test_blind_halving_solves_nothing(every):
    """The direction is told once for a set of numbers, of which three wrong answers make an end: of
    the number problems hardly one falls to the first or second answer, and few to ten.
    """
    fallen = {}
    for problem in NUMBERS[::every]:
        view = ProblemView(problem, 1, Memory(), lambda key, number: None, lambda: None)
        fallen[problem.key] = solved_blind(view)
    tries = [n for n in fallen.values() if n]
    assert sum(n <= 2 for n in tries) <= 0.05 * len(fallen), fallen
    assert len(tries) <= 0.2 * len(fallen), fallen


def test_a_unit_and_the_slip_that_it_is_are_no_two_mistakes():
    one = draw(STEEL.problem("order_of_oxidation.two_lines"), "Ada")
    told = check(one, f"{one.number + 273.15:.1f}")
    assert told.slips == ("unit", "only_hot")
    assert len(told.sentences) == 3 and "More than one" not in str(told.sentences)
