"""Problems at other works, and lines in an order of one's own. The works are invented; the figures
compared with are the profiles' own.
"""

import re
from dataclasses import replace
from importlib import import_module

import pytest
from problem_checks import faults, missed_by_hand
from sample_problems import FAULTY_LINE, OXYGEN, REASON
from sample_works import fixed_text

from steelthermo.base import InputError, data_path
from steelthermo.course.adapter import STEEL, figure
from steelthermo.coursekit.answers import bound
from steelthermo.coursekit.marking import keys
from steelthermo.coursekit.problems import Answer, Choice, Given, Problem, check, draw, draw_many
from steelthermo.works import profile as plant

HOME = plant.load_profile("heron")
WHY = "made up for this test"


def profile(**changed):
    """Heron Works's profile with other figures: section__key = value."""
    text = fixed_text()
    for name, value in changed.items():
        section, key = name.split("__")
        text, count = re.subn(
            rf"(?ms)(^\[{section}\]\n(?:(?!^\[).)*?^{key} = )[^#\n]*", rf"\g<1>{value} ", text
        )
        assert count == 1, name
    return plant.parse_profile(text)


# Odd, but what the schema allows: next to its lower and its upper limits.
LITTLE = profile(
    vessel__tap_t=20, hot_metal__temp_c=1210,
    hot_metal__analysis_pct="{ C = 3.2, Si = 1.6, Mn = 1.3, P = 0.9, S = 0.09 }",
    oxygen__purity_pct=91, oxygen__argon_pct=2, oxygen__flow_nm3_min=52, end_point__temp_c=1585,
    end_point__analysis_pct="{ C = 0.5, Mn = 0.5, P = 0.05, Si = 0.0 }",
    slag__basicity=1.2, slag__mgo_pct=13.5, slag__feo_pct=39, slag__fe2o3_pct=0,
    slag__lining_mgo_kg_t=5, gas__co2_pct=58, gas__temp_c=1235,
)  # fmt: skip
HUGE = profile(
    vessel__tap_t=449, hot_metal__temp_c=1449,
    hot_metal__analysis_pct="{ C = 5.4, Si = 0.03, S = 0.0007 }",
    oxygen__purity_pct=100, oxygen__argon_pct=0, oxygen__flow_nm3_min=1490, end_point__temp_c=1719,
    end_point__analysis_pct="{ C = 0.011, Mn = 0.031, P = 0.0013, Si = 0.0 }",
    slag__basicity=4.93, slag__mgo_pct=2.1, slag__feo_pct=5.3, slag__fe2o3_pct=19.7,
    slag__lining_mgo_kg_t=0, gas__co2_pct=0.7, gas__temp_c=1743,
)  # fmt: skip
WORKS = {key: plant.load_profile(key) for key in plant.WORKS[1:]} | {"little": LITTLE, "huge": HUGE}
FOLLOWING = [p for p in STEEL.problems if any(getattr(g, "follows", "") for g in p.given)]


# ---- numbers that follow the works ---------------------------------------------------------------


@pytest.mark.parametrize("works", WORKS)
@pytest.mark.parametrize("problem", FOLLOWING, ids=lambda p: p.key)
def test_every_problem_at_other_works(problem, works):
    assert faults(problem, 60, WORKS[works], walked=6) == []


@pytest.mark.long
@pytest.mark.parametrize("works", WORKS)
@pytest.mark.parametrize("problem", FOLLOWING, ids=lambda p: p.key)
def test_every_problem_at_other_works_walked_by_many(problem, works):
    assert faults(problem, 200, WORKS[works]) == []


@pytest.mark.parametrize("works", WORKS)
def test_what_follows_moves_and_nothing_else_does(works):
    for problem in FOLLOWING:
        there = problem.at(WORKS[works])
        for home, moved in zip(problem.given, there.given, strict=True):
            if not getattr(home, "follows", ""):
                assert moved is home
                continue
            own, usual = (figure(w, home.follows) for w in (WORKS[works], HOME))
            assert (moved is home) == (own == usual or own == 0), (problem.key, home.name)
            assert len(moved.grid) >= min(10, len(home.grid)) and moved.grid[0] > 0
            if moved is not home:
                assert home.least <= moved.low < moved.high <= home.most
                shift, free = (
                    own - usual if home.unit == "°C" else own / usual,
                    (home.low, home.high),
                )
                low, high = (x + shift if home.unit == "°C" else x * shift for x in free)
                if home.least <= low and high <= min(
                    home.most, 100.0 if home.unit == "%" else 1e9
                ):  # not cut: off by less than a step
                    assert (
                        abs(moved.low - low) <= moved.step * 1.001
                        and abs(moved.high - high) <= moved.step * 1.001
                    ), (problem.key, home.name)


def test_every_lesson_of_numbers_has_problems_that_follow():
    lessons = {p.lesson for p in FOLLOWING}
    assert {one.name for one in STEEL.lessons if one.problems} - lessons == {
        "how_sure_are_we",
        "own_heats",  # of a log, whose works is its own
    }  # spreads of a model heat, given as such
    for problem in FOLLOWING:
        drawn = [
            draw_many(problem, [(f"learner {i}", "course", 1) for i in range(8)], works=w)
            for w in (HOME, WORKS["dunlin"], LITTLE)
        ]
        assert any(a.given != b.given for a, b in zip(drawn[0], drawn[2], strict=True)), problem.key
        if problem.at(WORKS["dunlin"]).given != problem.given:
            assert any(a.given != b.given for a, b in zip(drawn[0], drawn[1], strict=True)), (
                problem.key
            )


HANDS = [(name[4:], hand) for name in (
    "l13_end_point", "l12_off_gas", "l03_order_of_oxidation", "l05_oxygen_or_air",
    "l09_pretreatment", "l06_slag_basicity", "l14_tapping_and_ladle",
) for hand in import_module(f"tests.course.{name}.test_problems").HANDS]  # fmt: skip


@pytest.mark.parametrize("works", WORKS)
@pytest.mark.parametrize("name, hand", HANDS, ids=[f"{n}.{h.__name__}" for n, h in HANDS])
def test_the_sum_of_the_text_holds_at_other_works(name, hand, works):
    """The sums of the texts by hand, written out in the tests of each lesson, stay within the
    tolerance told to the learner.
    """
    problem = STEEL.problem(f"{name}.{hand.__name__}")
    assert not missed_by_hand(hand, problem, share=0.95, works=WORKS[works])


@pytest.mark.parametrize("works", WORKS)
def test_the_straight_line_of_steel_holds_at_other_works(works):
    """1354 + 0.824 (T - 1600) kJ/kg of the texts of lesson 08 against the data, wherever a works'
    end temperature brings it.
    """
    problem = STEEL.problem("heat_balance.steel_heat")
    assert not missed_by_hand(
        lambda steel_t, temp_c: steel_t * (1354 + 0.824 * (temp_c - 1600)) / 1000,
        problem,
        works=WORKS[works],
    )


def test_the_profile_in_use_is_taken_where_none_is_given(monkeypatch, tmp_path):
    problem = STEEL.problem("heat_balance.steel_heat")
    (tmp_path / "works.toml").write_text(
        data_path("dunlin.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    monkeypatch.delenv("STEELTHERMO_PROFILE", raising=False)
    monkeypatch.chdir(tmp_path)
    here = draw(problem, "Ada")
    assert (
        here.given
        == draw(problem, "Ada", works=WORKS["dunlin"]).given
        != draw(problem, "Ada", works=HOME).given
    )
    assert draw_many(problem, [("Ada", "self-study", 1)])[0].given == here.given


def test_a_solver_that_balances_a_heat_does_not_change_with_the_profile_in_use(
    monkeypatch, tmp_path
):
    problem = STEEL.problem("heat_balance.more_silicon")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("STEELTHERMO_PROFILE", raising=False)
    usual = draw(problem, "Ada", works=HOME).number
    (tmp_path / "works.toml").write_text(
        data_path("dunlin.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    assert draw(problem, "Ada", works=HOME).number == usual


def test_a_works_with_which_nothing_can_be_drawn_gets_the_usual_ranges():
    given = (replace(OXYGEN.given[0], follows="vessel.tap_t"), *OXYGEN.given[1:])
    follows = replace(OXYGEN, given=given)  # plausible from 3000 Nm3 on: none at 20 t
    one = draw(follows, "Ada", works=LITTLE)
    assert one.given == draw(OXYGEN, "Ada").given and one.problem is follows
    assert [x.given for x in draw_many(follows, [("Ada", "self-study", 1)], works=LITTLE)] == [
        one.given
    ]


@pytest.mark.parametrize(
    "make, message",
    [
        (
            lambda: Given("a", "a", "t", 1, 2, 0.1, WHY, follows="hot_metal.analysis_pct.Zn").at(
                3.0
            ),
            "have no hot_metal",
        ),
        (lambda: Given("a", "a", "t", 0, 2, 0.1, WHY, follows="vessel.tap_t"), "lie above 0"),
        (lambda: Given("a", "a", "t", 2, 2, 1, WHY, follows="vessel.tap_t"), "width"),
    ],
)
def test_a_record_that_can_follow_nothing_is_refused(make, message):
    with pytest.raises(InputError, match=message):
        make()


# ---- lines in an order of one's own --------------------------------------------------------------


def test_lines_are_shuffled_by_the_seed_and_say_the_same():
    drawn = [draw(REASON, f"learner {i}", "course", 1) for i in range(40)]
    assert {one.choice for one in drawn} == {1, 2, 3, 4}
    for one, again in zip(
        drawn, draw_many(REASON, [(f"LEARNER  {i}", "Course", 1) for i in range(40)]), strict=True
    ):
        assert (again.choice, again.problem, again.given) == (one.choice, one.problem, one.given)
        shown = one.problem.choice
        assert shown.options[one.choice - 1] == REASON.choice.options[0] and sorted(
            shown.options
        ) == sorted(REASON.choice.options)
        assert one.answer_text() == str(one.choice) and one.worked_text().startswith(
            f"Line **{one.choice}**"
        )
        for line in range(1, 5):
            verdict, declared = (
                check(one, str(line)),
                REASON.choice.options.index(shown.options[line - 1]) + 1,
            )
            assert verdict.done == (declared == 1) and verdict.sentences[1] == bound(
                REASON.choice.sentences[declared - 1]
            )
            assert verdict.slips == (
                () if declared == 1 else (f"line_{declared}",)
            )  # the same line for a whole class
    sets = {draw(REASON, "Ada", "course", n).choice for n in range(1, 20)}
    assert len(sets) == 4  # another set, another order


def test_ordered_lines_keep_their_order():
    assert all(draw(FAULTY_LINE, f"learner {i}").problem is FAULTY_LINE for i in range(10))


def test_slips_that_name_a_line_follow_the_order():
    both = Choice(("small", "large"), ("It is.", "It is."))
    other = replace(OXYGEN.slips[0], key="twice", solve=lambda a: (2 + 0 * a, 2 * a))
    problem = Problem(
        "sample.both",
        "Both",
        "{a}",
        (Given("a", "a", "kg", 10, 20, 1, WHY),),
        lambda a: (1 + 0 * a, a),
        ("Think.",),
        "{line} {answer}",
        Answer("kg", WHY, tolerance_pct=1),
        both,
        (other,),
    )
    for one in [draw(problem, f"learner {i}") for i in range(12)]:
        assert one.slips["twice"] == (3 - one.choice, 2 * one.number)
        assert check(one, f"{3 - one.choice}; {2 * one.number}").slips == (f"line_{2}", "twice")


def test_the_printed_sheet_shows_the_learners_own_order():
    own = {name: [draw(REASON, name)] for name in (f"learner {i}" for i in range(8))}
    for name, (one,) in own.items():
        lines = re.findall(r"<li>(.*?)</li>", keys.problem_sheets_html({name: [one]}))
        assert lines[one.choice - 1] == "Gas from the bath bubbles through it."


# ---- a point that might part thousands -----------------------------------------------------------


@pytest.mark.parametrize("unit, right, typed, state, slips", [
    ("t", 2.462, "2.462 kg", "wrong", ("unit",)), ("GJ", 48.868, (
"48.868 "
"MJ"
), "wrong", ("unit",)), ("kJ/kg", 9204.0, (
"9.204 "
"kJ/kg"
), "wrong", ("unit",)),
    ("kJ/kg", 9204.0, "9.204", "wrong", ("unit",)), ("t", 2.462, (
"2462 "
"kg"
), "right", ()), ("t", 2.462, (
"2,462 "
"kg"
), "right", ()),
    ("t", 2.462, "2.462 t", "right", ()),
    ("t", 2.462, "2 462 kg", "right", ()), ("Nm3", 9204.0, (
"9.204 "
"Nm3"
), "right", ()), ("°C", 1.65e3, "1.650 °C", "right", ()),
])  # fmt: skip
def test_a_unit_slip_of_a_thousand_is_not_hidden_by_a_point(unit, right, typed, state, slips):
    problem = Problem(
        "sample.point",
        "Point",
        "{a}",
        (Given("a", "a", unit, 1, 2, 1, WHY),),
        lambda a: right + 0 * a,
        ("Think.",),
        "{answer}",
        Answer(unit, WHY, tolerance_pct=1),
    )
    verdict = check(draw(problem, "Ada"), typed)
    assert (verdict.state, verdict.slips) == (state, slips)
