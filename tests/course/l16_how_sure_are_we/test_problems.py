"""Problems of lesson 16 against sums written out here, the normal table, and the balance of a whole
heat.
"""

import math

import numpy as np
import pytest

from steelthermo.base import data_path
from steelthermo.charge import charge
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.problems import draw, draw_many
from steelthermo.trust import differences, effects, end_heat_capacity_kj_c, heats
from steelthermo.works import profile as plant

LESSON = STEEL.lesson("how_sure_are_we")
BY_NAME = {p.key.split(".")[1]: p for p in LESSON.problems}
HERON = plant.parse_profile(data_path("heron.toml").read_text(encoding="utf-8"))


def sensitivity(effect_c, spread_pct):
    return 10 * effect_c * spread_pct


def sum_of_squares(oxygen_c, loss_c, hot_metal_c):
    return (oxygen_c * oxygen_c + loss_c * loss_c + hot_metal_c * hot_metal_c) ** 0.5


def share_of_variance(oxygen_c, loss_c, rest_c):
    return 100 * oxygen_c**2 / (oxygen_c**2 + loss_c**2 + rest_c**2)


def within_window(spread_c, window_c):
    """Straight between the columns of the table in the text."""
    heads, inside = (
        [0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0],
        [31.1, 38.3, 45.1, 51.6, 57.6, 63.2, 68.3, 77.0, 86.6, 95.4],
    )
    return np.interp(window_c / spread_c, heads, inside)


def second_reading(reading_c, rest_c):
    return math.sqrt((reading_c / 1.414) ** 2 + rest_c**2)


def better_meter(total_c, meter_c, aim_c):
    others = round(total_c**2 - meter_c**2, 1)
    return math.sqrt(aim_c**2 - others)


def two_sources(apart_kj_mol, carbon_kg, mj_per_c):
    return carbon_kg / 12.01 * apart_kj_mol / mj_per_c


def heats_needed(spread_c, mean_c):
    return (spread_c / mean_c) ** 2


HANDS = (
    sensitivity,
    sum_of_squares,
    share_of_variance,
    within_window,
    second_reading,
    better_meter,
    two_sources,
    heats_needed,
)


@pytest.mark.parametrize("hand", HANDS, ids=lambda f: f.__name__)
def test_the_sum_of_the_text_is_within_the_tolerance(hand):
    """Own sums with the data printed in each text, for 200 learners: nobody who reckons by hand is
    told to be wrong.
    """
    problem = BY_NAME[hand.__name__]
    for n in range(200):
        one = draw(problem, f"learner {n}", "self-study")
        assert abs(hand(**one.given) - one.number) <= problem.number.tolerance(one.number), (
            one.given
        )


def test_every_problem_with_a_number_has_its_sum_here():
    assert {f.__name__ for f in HANDS} == {
        name for name, p in BY_NAME.items() if p.number is not None
    }
    assert len(LESSON.problems) >= 6 and (LESSON.number, LESSON.question) == (
        "16",
        "How far can I trust these numbers?",
    )


def test_table_of_the_text_is_the_normal_table():
    """The percentages printed in the text, against Python's statistics.NormalDist."""
    from statistics import NormalDist

    text = BY_NAME["within_window"].text
    heads, inside = (
        [float(x) for x in line.split("|")[2:-1]]
        for line in text.splitlines()
        if line.startswith(("| window", "| % inside"))
    )
    for x, pct in zip(heads, inside, strict=True):
        assert pct == pytest.approx(
            100 * (2 * NormalDist().cdf(x) - 1), abs=0.06
        )  # 0.1 of a per cent is printed


def test_which_disagreement_counts_by_hand():
    """MJ per tonne of hot metal with plain molar masses; each of the three lines is right for some
    learners.
    """
    problem, seen = BY_NAME["which_counts"], []
    for n in range(200):
        one = draw(problem, f"learner {n}", "self-study")
        g = one.given
        sizes = [
            44 / 12.01 * g["carbon_kj"],
            16 / 71.84 * g["oxide_kj"],
            g["phosphorus_kg"] / 30.97 * g["phosphorus_kj"],
        ]
        assert one.choice == sizes.index(max(sizes)) + 1, g
        assert sorted(sizes)[1] < 0.81 * max(sizes)
        seen.append(one.choice)
    assert min(seen.count(line) for line in (1, 2, 3)) >= 15


def test_the_confused_line_is_the_third():
    problem = BY_NAME["data_or_heats"]
    drawn = [draw(problem, f"learner {n}", "self-study") for n in range(40)]
    assert {one.problem.choice.declared(one.choice) for one in drawn} == {3} and {
        one.choice for one in drawn
    } == {1, 2, 3, 4}
    assert "wrong one" in problem.choice.sentences[2] and all(
        "ight" in problem.choice.sentences[k] for k in (0, 1, 3)
    )


# ---- what the texts say of the lesson's heat -----------------------------------------------------


def test_the_figures_in_the_texts_are_those_of_the_heat():
    """Heron Works: about 13 °C for 0.10 % Si with the oxygen kept; 1 % oxygen some 10, 8 MJ/t some
    8, 8 °C of hot metal some 6; spread 15 to 20 °C.
    """
    alone = effects(HERON)
    assert 10 * alone["hot_metal_si_pct"].temp_c / alone[
        "hot_metal_si_pct"
    ].spread / 100 == pytest.approx(13.2, abs=0.7)
    for key, size in (("oxygen_nm3", 9.9), ("heat_mj_t", 8.4), ("hot_metal_temp_c", 6.3)):
        assert abs(alone[key].temp_c) == pytest.approx(size, abs=0.15)
    assert 15.0 < heats(HERON, 4000).spread("temperature") < 20.0


def test_two_sources_against_the_whole_balance():
    """The two sets of the kit, 5.36 kJ/mol apart for carbon: the problem's sum with the heat's own
    carbon and heat capacity is the balance's answer.
    """
    plan = charge.solve(HERON)
    whole = next(d for d in differences(HERON) if d.key == "carbon_set").difference
    by_hand = two_sources(
        5.36, 45.0 - 0.0004 * plan.steel.mass_kg, end_heat_capacity_kj_c(plan) / 1000.0
    )
    assert abs(whole) == pytest.approx(by_hand, rel=0.005)
    assert 1.06 <= end_heat_capacity_kj_c(plan) / 1000.0 <= 1.16  # the range given


def test_slips_are_told_apart_from_the_answer():
    for problem in LESSON.problems:
        if problem.number is None:
            continue
        for one in draw_many(problem, [(f"learner {n}", "self-study", 1) for n in range(60)]):
            for key, (_, wrong) in one.slips.items():
                assert wrong is None or abs(wrong - one.number) > problem.number.tolerance(
                    one.number
                ), (problem.key, key)
