"""Problems of lesson 17 against sums written out here; the hidden week against what the tool that
made the month put into it."""

import sys
from pathlib import Path

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.problems import draw
from steelthermo.heats import invented_month

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tools"))
from make_month import HIDDEN

LESSON = STEEL.lesson("own_heats")
BY_NAME = {p.key.split(".")[1]: p for p in LESSON.problems}
HANDS = {
    "known_to": lambda heats, scatter_c: 1.96 * scatter_c / heats**0.5,
    "scatter_alone": lambda rms_c, bias_c: (rms_c * rms_c - bias_c * bias_c) ** 0.5,
    "waiting": lambda slope, per_c, wait_min, usual_min: slope * (wait_min - usual_min) / per_c,
    "wrong_scale": lambda scale_pct, shown_t, yield_t, steel_t: (
        100 * (shown_t * scale_pct / 100 * yield_t) / steel_t
    ),
    "probe_step": lambda step_c, scatter_c, before, after: (
        step_c / (scatter_c**2 / before + scatter_c**2 / after) ** 0.5
    ),
    "share_of_hits": lambda heats, share_pct: 1.96 * (share_pct * (100 - share_pct) / heats) ** 0.5,
    "hidden_day": lambda first_number: first_number + HIDDEN.scale_days[0],
    "hidden_scale": lambda shown_t: shown_t / (1 + HIDDEN.scale_pct / 100),
    "cold_day": lambda first_number: first_number + HIDDEN.wet_days[0],
    "probe_day": lambda first_number: first_number + HIDDEN.probe_from,
    "probe_true": lambda read_c: read_c - HIDDEN.probe_c,
}


@pytest.mark.parametrize("name", HANDS)
def test_the_sum_of_the_text_is_within_the_tolerance(name):
    """For 200 learners: nobody who reckons by hand is told to be wrong."""
    problem = BY_NAME[name]
    for n in range(200):
        one = draw(problem, f"learner {n}", "self-study")
        assert abs(HANDS[name](**one.given) - one.number) <= problem.number.tolerance(one.number)


def test_cold_days_are_those_of_the_water_in_the_lime():
    """Ca(OH)2 to CaO, H2 and the oxygen that burns in place of blown: 986.1 - 635.1 kJ/mol, and
    45 kJ/mol to warm the hydrogen to 1500 °C (heats of formation as in any table, from memory);
    0.95 MJ for a degree of a tonne of steel with its slag (lesson 16)."""
    log = invented_month()
    wet = log.on("2026-03-25", "2026-03-27")
    mol_t = (
        log.of("lime_kg")[wet] * HIDDEN.wet_pct / 100.0 / 0.0741 / (log.of("steel_kg")[wet] / 1e3)
    )
    colder = float(mol_t.mean()) * (986.1 - 635.1 + 45.0) / 1000.0 / 0.95
    cold = draw(BY_NAME["cold_heat"], "learner", "self-study")
    tolerance = cold.problem.number.tolerance(cold.number)
    assert cold.given["expected_c"] - cold.number == pytest.approx(colder, abs=tolerance)


def test_the_hard_shift_is_that_of_the_month():
    """By the month itself, without the kit's balance: means of what was read."""
    log = invented_month()
    wet = log.on("2026-03-25", "2026-03-27")
    shift = draw(BY_NAME["hard_shift"], "learner", "self-study")
    hard = log.shift == HIDDEN.hard_shift
    sound = ~wet & ~log.on("2026-03-08", "2026-03-14")
    carbon = log.of("end_c_pct")
    less = float(carbon[sound & ~hard].mean() - carbon[sound & hard].mean())
    assert shift.given["c_pct"] - shift.number == pytest.approx(less, abs=0.0018)
    assert shift.choice == "ABC".index(HIDDEN.hard_shift) + 1


def test_every_problem_has_its_sum_here():
    assert set(HANDS) | {"cold_heat", "hard_shift"} == set(BY_NAME)
