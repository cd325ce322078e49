"""Every problem of the course, walked through by many learners; and the walk itself, shown to find
faults planted in sample problems.
"""

import re
from dataclasses import replace

import numpy as np
import pytest
from problem_checks import faults, numbers_in
from sample_problems import ENOUGH, FAULTY_LINE, MELT, OXYGEN, PROBLEMS, SCALAR

from steelthermo.base import ExtrapolationWarning, InputError, extrapolated
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.answers import number_text
from steelthermo.coursekit.problems import Answer, Slip, times


@pytest.mark.parametrize("problem", STEEL.problems, ids=lambda p: p.key)
def test_every_problem(problem):
    assert faults(problem, 200, walked=15) == []


@pytest.mark.long
@pytest.mark.parametrize("problem", STEEL.problems, ids=lambda p: p.key)
def test_every_problem_of_many(problem):
    assert faults(problem, 1000) == []


def test_what_is_folded_away_comes_last_so_that_numbers_run_on():
    for lesson in STEEL.lessons:
        folded = [problem.doubt for problem in lesson.problems]
        assert folded == sorted(folded), lesson


def test_keys_are_unique_and_lessons_in_order():
    keys = [p.key for p in STEEL.problems]
    assert len(set(keys)) == len(keys)
    assert [one.number for one in STEEL.lessons] == sorted(one.number for one in STEEL.lessons)
    for one in STEEL.lessons:
        assert (
            STEEL.lesson(one.name)
            is STEEL.lesson(one.number)
            is STEEL.lesson(f"{one.number}_{one.name}")
            is one
        )
        assert all(STEEL.problem(p.key) is p for p in one.problems)
    assert STEEL.problem("no.such") is None
    with pytest.raises(InputError, match="'no_such' was asked for"):
        STEEL.lesson("no_such")


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda p: p.key)
def test_the_samples_are_sound(problem):
    assert faults(problem, 200) == []


def leaves_range(**given):
    extrapolated("carbon", given["carbon_pct"], 3.0, 3.5, "%")
    return OXYGEN.solve(**given)


def only_scalars(**given):
    return OXYGEN.solve(**given) if given["carbon_pct"] > 0 else 0.0


def pooled(**given):
    return OXYGEN.solve(**given) + 0.0 * np.max(given["carbon_pct"]) + np.mean(given["purity_pct"])


PLANTED = {
    "one hint": (replace(OXYGEN, hints=("Think.",)), "one hint only"),
    "no slip": (replace(OXYGEN, slips=()), "no slip is named"),
    "slip that passes": (
        replace(OXYGEN, slips=(Slip("near", "Near.", **times(1.004)),)),
        "cannot be given numbers.*near comes within",
    ),
    "slip for nobody": (
        replace(OXYGEN, slips=(*OXYGEN.slips, Slip("never", "Never.", solve=lambda **g: None))),
        "never is possible for nobody",
    ),
    "never plausible": (replace(OXYGEN, plausible=lambda answer, **g: answer < 0), "not plausible"),
    "seldom plausible": (
        replace(OXYGEN, plausible=lambda answer, **g: (answer > 7400) & (answer < 7700)),
        "draws are refused",
    ),
    "not finite": (
        replace(OXYGEN, solve=lambda **g: OXYGEN.solve(**g) * np.nan),
        "cannot be given numbers",
    ),
    "no arrays": (replace(OXYGEN, solve=only_scalars), "do not take arrays"),
    "arrays mixed up": (replace(OXYGEN, solve=pooled), "drawn alone differ"),
    "out of range": (replace(OXYGEN, solve=leaves_range), "leaves the published range"),
    "worked without the value": (
        replace(OXYGEN, worked="Just do it."),
        "does not hold the right value",
    ),
    "worked with another value": (
        replace(MELT, worked="1600 °C less {temp_c} is 1."),
        "does not hold the right value",
    ),
    "worked without the line": (
        replace(FAULTY_LINE, worked="CaO is three times SiO2."),
        "does not name line 2",
    ),
    "open brace": (replace(OXYGEN, text="{{T}} of {hot_metal_t}"), "not filled in"),
    "raw float": (
        replace(OXYGEN, worked=lambda **g: f"It is {OXYGEN.solve(**g)} or 5.123456789012"),
        "not filled in",
    ),
    "answer in a hint": (
        replace(OXYGEN, hints=("Think.", lambda **g: f"It is {number_text(OXYGEN.solve(**g))}.")),
        "give the answer away",
    ),
    "too few figures": (
        replace(SCALAR, number=Answer("1", "Why.", tolerance_pct=0.001)),
        "too few figures",
    ),
    "line out of range": (
        replace(FAULTY_LINE, solve=lambda silica_kg: 4 + 0 * silica_kg, worked="Line 4."),
        "line 4 is right, but there are 3",
    ),
    "few numbers": (
        replace(MELT, plausible=lambda answer, element, temp_c: temp_c > 1360),
        "only 8 different sets",
    ),
}


@pytest.mark.parametrize("name", PLANTED)
def test_planted_faults_are_found(name):
    problem, expected = PLANTED[name]
    found = faults(problem, 60)
    assert any(re.search(expected, fault, re.S) for fault in found), found


def test_a_field_that_is_not_there_and_a_solver_that_breaks_are_raised():
    with pytest.raises(InputError, match="nothing"):
        faults(replace(OXYGEN, text="{nothing}"), 20)
    with pytest.raises(ZeroDivisionError):
        faults(replace(SCALAR, solve=lambda temp_c, order_j_mol: 1 / 0), 20)


def test_a_slip_that_is_not_recognised_is_found(monkeypatch):
    import problem_checks

    real = problem_checks.check
    monkeypatch.setattr(
        problem_checks, "check", lambda one, text: replace(real(one, text), slips=())
    )
    assert any("is not told so" in fault for fault in faults(OXYGEN, 40))
    monkeypatch.setattr(
        problem_checks, "check", lambda one, text: replace(real(one, text), state="wrong")
    )
    assert any("is not taken as right" in fault for fault in faults(OXYGEN, 40)) and any(
        "line 1 is not" in fault for fault in faults(ENOUGH, 40)
    )


def test_warnings_of_slips_are_no_fault():
    def beyond(**given):
        extrapolated("x", 2.0, 0.0, 1.0)
        return 2.0 * OXYGEN.solve(**given)

    assert (
        faults(
            replace(
                OXYGEN,
                slips=(
                    Slip("beyond", "Beyond.", solve=beyond),
                    Slip("sign", "Sign.", **times(-1.0)),
                ),
            ),
            40,
        )
        == []
    )
    with pytest.warns(ExtrapolationWarning):
        beyond(hot_metal_t=1.0, carbon_pct=1.0, purity_pct=1.0)


def test_numbers_in_a_text():
    assert numbers_in("12\u202f500 Nm3 of SiO2, −3.5 °C and 1.2·10⁻⁷; 5\u00a0t") == [
        12500.0,
        -3.5,
        1.2e-07,
        5.0,
    ]
