"""Problems as records, numbers of one's own, and what the checker says. Sums to compare with are
written out beside each check.
"""

import hashlib
import math
import string
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_problems import ENOUGH, FAULTY_LINE, LOGARITHM, MELT, OXYGEN, PROBLEMS

from steelthermo.base import InputError
from steelthermo.coursekit import Lesson
from steelthermo.coursekit.answers import words
from steelthermo.coursekit.problems import (
    Answer,
    Choice,
    Given,
    Pick,
    Problem,
    Slip,
    after,
    check,
    draw,
    draw_many,
    normalised,
    taken,
    times,
    upside_down,
)

WHY = "made up for this test"


def one_sum(solve=lambda a: 2.0 * a, low=10, high=20, step=1, number=None, **more):
    record = {
        "key": "sample.one",
        "title": "One",
        "text": "{a}",
        "given": (Given("a", "a", "kg", low, high, step, WHY),),
        "hints": ("Think.",),
    }
    return Problem(
        **(
            record
            | {
                "number": number or Answer("kg", WHY, tolerance_pct=1.0),
                "solve": solve,
                "worked": "{answer}",
            }
            | more
        )
    )


# ---- records -------------------------------------------------------------------------------------


def test_grid_is_exact_decimals():
    grid = Given("x", "x", "%", 0.1, 0.9, 0.1, WHY).grid
    assert grid == (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
    assert (
        Given("x", "x", "%", 3.8, 4.8, 0.05, WHY).grid[-1] == 4.8
        and len(Given("x", "x", "%", 3.8, 4.8, 0.05, WHY).grid) == 21
    )
    assert Given("x", "x", "t", 5, 5, 1, WHY).grid == (5.0,)


def test_quantities_are_shown_with_the_decimals_of_their_grid():
    carbon = Given("c", "carbon", "%", 3.8, 4.8, 0.05, WHY)
    assert (
        carbon.show(4.3) == "4.30\u00a0%"
        and carbon.show(4.3, unit=False) == "4.30"
        and carbon.show(4.333) == "4.333\u00a0%"
    )
    assert Given("v", "gas", "Nm3", 10000, 90000, 500, WHY).show(12500.0) == "12\u202f500\u00a0Nm3"


@pytest.mark.parametrize(
    "make, message",
    [
        (lambda: Given("a", "a", "kgs", 1, 2, 1, WHY), "kgs"),
        (lambda: Given("a", "a", "kg", 2, 1, 1, WHY), "empty"),
        (lambda: Given("a", "a", "kg", 1, 2, 0, WHY), "empty"),
        (lambda: Given("a", "a", "kg", 1, 2, 1, " "), "range comes from"),
        (lambda: Answer("kg", " ", tolerance_pct=1), "reason"),
        (lambda: Answer("kg", WHY), "tolerance"),
        (lambda: Answer("pound", WHY, tolerance_pct=1), "pound"),
        (lambda: Answer("kg", WHY, tolerance_pct=1, accept_units={"pound": 0.45}), "pound"),
        (lambda: Choice(("a", "b"), ("a",)), "sentence"),
        (lambda: Choice(("a", "b"), ("a", " ")), "empty"),
        (lambda: Slip("s", "sentence"), "exactly one"),
        (lambda: Slip("s", " ", solve=lambda: 1), "no sentence"),
        (lambda: replace(OXYGEN, key="oxygen"), "lesson.name"),
        (lambda: replace(OXYGEN, hints=()), "hint"),
        (lambda: replace(OXYGEN, slips=OXYGEN.slips + OXYGEN.slips[:1]), "same name"),
        (lambda: replace(OXYGEN, given=OXYGEN.given + OXYGEN.given[:1]), "same name"),
        (lambda: Lesson("01", "other", "?", (OXYGEN,)).problems, "must begin with other"),
        (lambda: Lesson("01", "sample", "?", (OXYGEN, OXYGEN)).problems, "same key"),
        (lambda: OXYGEN.render("{nothing}", draw(OXYGEN, "x").given), "nothing"),
    ],
)
def test_a_faulty_record_is_refused_by_name(make, message):
    with pytest.raises(InputError, match=message):
        make()


# ---- numbers of one's own ------------------------------------------------------------------------


def by_the_written_rule(problem, learner, course, number, attempt=0):
    """The rule of draws.py, worked out again from its words."""
    out = {}
    for one in problem.given:
        text = "\n".join(
            [
                "steelthermo draw 1",
                course,
                problem.key,
                learner,
                str(number),
                str(attempt),
                one.name,
            ]
        )
        h = int(hashlib.sha256(text.encode("utf-8")).hexdigest()[:16], 16)
        values = (
            one.options
            if isinstance(one, Pick)
            else [one.low + k * one.step for k in range(round((one.high - one.low) / one.step) + 1)]
        )
        out[one.name] = values[h % len(values)]
    return out


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda p: p.key)
def test_draw_follows_the_written_rule(problem):
    for number in (1, 2):
        one = draw(problem, "  Ada\tÖSTERBERG ", "HS26-A", number)
        assert one.given == pytest.approx(
            by_the_written_rule(problem, "ada österberg", "hs26-a", number, one.tries)
        )


def test_draws_never_change():
    """Written down once: learners' numbers must be the same in every version of the kit and of
    Python.
    """
    assert draw(OXYGEN, "Ada Österberg").given == {
        "hot_metal_t": 145.0,
        "carbon_pct": 3.8,
        "purity_pct": 96.0,
    }
    assert draw(MELT, "Ada Österberg").given == {"element": "Fe", "temp_c": 1330.0}
    assert draw(ENOUGH, "Ada Österberg", "HS26-A", 2).given == {
        "lime_kg": 7200.0,
        "needed_kg": 5250.0,
    }


def test_names_are_compared_as_people_do():
    assert normalised(" Ada  O\u0308sterberg\n") == normalised("ADA Österberg") == "ada österberg"
    assert normalised("Straße") == normalised("STRASSE") and normalised("a\u200bb\x07c") == "ab c"
    assert normalised("\u0130") == normalised("i\u0307")


def test_learners_sets_courses_and_problems_differ():
    base = draw(OXYGEN, "Ada").given
    others = [
        draw(OXYGEN, "Adam"),
        draw(OXYGEN, "Ada", "HS26-A"),
        draw(OXYGEN, "Ada", set=2),
        draw(replace(OXYGEN, key="sample.other"), "Ada"),
    ]
    assert all(other.given != base for other in others)
    seen = {tuple(draw(OXYGEN, f"learner {i}").given.values()) for i in range(200)}
    assert len(seen) > 190  # of 3549 possible ones


def test_every_value_is_drawn_about_equally_often():
    """Chi-square against even odds: 3000 draws over 13 values, 99.9 % limit 32.9 (12 degrees of
    freedom, common table).
    """
    draws = draw_many(one_sum(low=1, high=13), [(f"learner {i}", "c", 1) for i in range(3000)])
    counts = np.bincount([int(d.given["a"]) for d in draws])[1:]
    assert len(counts) == 13 and ((counts - 3000 / 13) ** 2 / (3000 / 13)).sum() < 32.9


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda p: p.key)
def test_a_class_drawn_at_once_is_each_learner_drawn_alone(problem):
    wanted = [(f"learner {i}", "HS26-A", 1 + i % 3) for i in range(60)]
    for one, (learner, course, number) in zip(draw_many(problem, wanted), wanted, strict=True):
        alone = draw(problem, learner, course, number)
        assert (one.given, one.choice, one.tries) == (alone.given, alone.choice, alone.tries)
        assert one.number == (
            alone.number if alone.number is None else pytest.approx(alone.number, rel=1e-12)
        )
        assert one.slips.keys() == alone.slips.keys()


def test_a_draw_whose_slip_would_pass_is_refused():
    near = one_sum(
        slips=(Slip("near", "Twenty.", solve=lambda a: 2.0 * a + np.where(a < 19, 0.01, 5.0)),)
    )
    many = draw_many(near, [(f"learner {i}", "c", 1) for i in range(50)])
    assert {d.given["a"] for d in many} == {19.0, 20.0} and any(d.tries for d in many)
    with pytest.raises(InputError, match="slip always comes within the tolerance"):
        draw(one_sum(slips=(Slip("always", "Same.", solve=lambda a: 2.01 * a),)), "Ada")


def test_implausible_and_unsolvable_draws_are_refused():
    heavy = one_sum(plausible=lambda answer, a: answer > 35)
    assert min(d.number for d in draw_many(heavy, [(f"n{i}", "c", 1) for i in range(50)])) == 36.0

    def picky(a):
        if a < 15:
            raise InputError("a: too little.")
        return a

    for vector in (
        True,
        False,
    ):  # on an array the comparison itself is refused, so it is halved down to single draws
        some = draw_many(one_sum(picky, vector=vector), [(f"n{i}", "c", 1) for i in range(50)])
        assert min(d.given["a"] for d in some) == 15.0 and [d.given for d in some] == [
            draw(one_sum(picky), f"n{i}", "c").given for i in range(50)
        ]
    with pytest.raises(InputError, match="not plausible"):
        draw(one_sum(plausible=lambda answer, a: answer > 99), "Ada")
    with pytest.raises(InputError, match="too little"):
        draw(one_sum(picky, high=14), "Ada")


def test_trainers_numbers():
    fixed = draw(OXYGEN, "Ada", fixed={"carbon_pct": 4.01, "hot_metal_t": 170})
    # 170 t with 4.01 % C: 6817 kg, / 12.011 = 567.6 kmol C, half of it O2, times 22.414, by the
    # purity drawn
    assert fixed.number == pytest.approx(
        6817 / 12.011 / 2 * 22.414 / fixed.given["purity_pct"] * 100, rel=1e-4
    )
    assert "4.01" in fixed.text(OXYGEN.text)
    (many,) = draw_many(
        OXYGEN, [("Ada", "self-study", 1)], [{"carbon_pct": 4.01, "hot_metal_t": 170}]
    )
    assert many.given == fixed.given
    for wrong in ({"carbon": 4}, {"carbon_pct": "much"}, {"carbon_pct": True}):
        with pytest.raises(InputError, match="override of sample.oxygen"):
            draw(OXYGEN, "Ada", fixed=wrong)
    with pytest.raises(InputError, match="element"):
        draw(MELT, "Ada", fixed={"element": "Xx"})
    assert draw(MELT, "Ada", fixed={"element": "Mn"}).given["element"] == "Mn"


# ---- the checker ---------------------------------------------------------------------------------

ADA = draw(OXYGEN, "Ada", fixed={"hot_metal_t": 160, "carbon_pct": 4.4, "purity_pct": 92})
RIGHT = 160e3 * 0.044 / 12.011 / 2 * 22.414 / 0.92  # 7140 Nm3


@pytest.mark.parametrize(
    "text", ["7140", "7140 Nm3", "7 140 Nm³", "7,140", "7.140e3", "7,14·10^3 Nm3", "7139.9"]
)
def test_right(text):
    assert pytest.approx(RIGHT, rel=1e-3) == 7140
    verdict = check(ADA, text)
    assert (verdict.state, verdict.word, verdict.done, verdict.slips) == (
        "right",
        "right",
        True,
        (),
    )


def test_right_within_rounding_and_just_outside():
    inside, outside = (
        check(ADA, "7170"),
        check(ADA, "7180"),
    )  # 0.4 % and 0.6 % off; accepted is 0.5 %
    assert (
        inside.word == "right within hand-calculation rounding"
        and "7140\u00a0Nm3" in inside.sentences[0]
    )
    assert outside.state == "wrong" and outside.sentences == (
        "Not yet.",
        "Too high; the order of magnitude is right.",
    )


def test_rounded_to_the_figures_written_is_right():
    wide = replace(
        OXYGEN, number=Answer("Nm3", WHY, tolerance_pct=0.2)
    )  # 14 Nm3; a quarter of it, 3.6, is right in any case
    one = replace(draw(wide, "Ada", fixed=ADA.given), number=7144.9)
    assert (
        check(one, "7150").state == "right_rounded" and check(one, "7140").state == "right"
    )  # three figures of 7144.9


def test_slips_are_named_and_two_that_agree_are_both_named():
    both = check(ADA, f"{2 * RIGHT:.0f}")
    assert (
        both.slips == ("co2_for_co", "atom_for_molecule")
        and "More than one mistake" in both.sentences[1]
        and len(both.sentences) == 4
    )
    purity = check(ADA, f"{RIGHT * 0.92:.0f}")
    assert (
        purity.slips == ("forgot_purity_pct",)
        and purity.sentences[1] == "You left out the purity of the oxygen: 92.0\u00a0%."
    )
    assert check(ADA, f"{RIGHT * 100:.0f}").slips == ("fraction_for_percent_carbon_pct",)


def test_right_number_in_a_wrong_unit():
    energy = draw(
        one_sum(number=Answer("kJ/kg", WHY, tolerance_pct=1.0), solve=lambda a: 460.0 * a),
        "Ada",
        fixed={"a": 20},
    )  # 9200 kJ/kg = 9.2 MJ/kg
    assert (
        check(energy, "9.2 MJ/kg").state == check(energy, "2556 kWh/t").state == "right"
    )  # 9.2 / 3.6 = 2.556 kWh/kg
    missing = check(energy, "9.2")
    assert (
        missing.slips == ("unit",)
        and "would be right in MJ/kg" in missing.sentences[1]
        and "taken as kJ/kg" in missing.sentences[1]
    )
    assert "right in kJ/kg; you wrote MJ/kg" in check(energy, "9200 MJ/kg").sentences[1]
    assert "right in MJ/kg; you wrote kJ/kg" in check(energy, "9.2 kJ/kg").sentences[1]
    assert "right in kJ/kg; you wrote kg" in check(energy, "9200 kg").sentences[1]
    assert check(energy, "9.205").slips == ("unit",)  # a decimal point and MJ/kg, rather than 9205
    assert check(energy, "9,205").state == "right"  # thousands, as English writes them
    assert check(energy, "1 kg").sentences == (
        "Not yet.",
        "kg measures mass; asked is energy per mass, for example in kJ/kg.",
    )


def test_percent_and_temperatures():
    share = draw(
        one_sum(number=Answer("%", WHY, tolerance_pct=1.0), solve=lambda a: a * 1.185),
        "Ada",
        fixed={"a": 20},
    )  # 23.7 %
    assert check(share, "23,7").state == check(share, "237 kg/t").state == "right"
    assert "a fraction of one" in check(share, "0.237").sentences[1]
    hot = draw(
        one_sum(number=Answer("°C", WHY, tolerance_abs=2.0), solve=lambda a: a * 82.5),
        "Ada",
        fixed={"a": 20},
    )  # 1650 °C
    assert check(hot, "1923 K").state == check(hot, "1650 C").state == "right"
    assert "right in K" in check(hot, "1923").sentences[1]
    assert (
        check(
            replace(hot, problem=one_sum(number=Answer("K", WHY, tolerance_abs=2.0))), "-280 °C"
        ).sentences[1]
        == "Nothing can have so many °C."
    )
    rise = draw(MELT, "Ada", fixed={"temp_c": 1300})
    assert (
        check(rise, "300 °C").state
        == check(rise, "300 K").state
        == check(rise, "300").state
        == "right"
    )
    gas = check(ADA, "7140 m3")
    assert gas.slips == ("unit",) and "0 °C and 101.325 kPa" in gas.sentences[1]


def test_units_of_another_quantity_where_a_problem_accepts_them():
    per_mol = Answer(
        "MJ/kg",
        WHY,
        tolerance_pct=1.0,
        accept_units={"kJ/mol": 1 / 12.011, "kWh": lambda a: 3.6 / a},
    )
    one = draw(
        one_sum(number=per_mol, solve=lambda a: 0.46 * a), "Ada", fixed={"a": 20}
    )  # 9.2 MJ/kg of carbon is 110.5 kJ/mol
    assert (
        check(one, "110.5 kJ/mol").state == "right"
        and check(one, f"{9.2 * 20 / 3.6:.2f} kWh").state == "right"
    )
    assert "right in kJ/mol" in check(one, "110.5").sentences[1]


def test_sign_decimal_point_and_unknown_mistakes():
    assert check(draw(LOGARITHM, "Ada"), f"{-draw(LOGARITHM, 'Ada').number:.3f}").slips == (
        "wrong_sign",
    )
    assert check(ADA, f"{-RIGHT:.0f}").slips == ("sign",)
    assert check(ADA, f"{RIGHT / 10:.1f}").slips == ("decimal",)
    said = {
        text: check(ADA, text).sentences[1] for text in ("5000", "9000", "80000", "30", "0", "-5")
    }
    assert said == {
        "5000": "Too low; the order of magnitude is right.",
        "9000": "Too high; the order of magnitude is right.",
        "80000": "Too high by about one order of magnitude.",
        "30": "Too low by about 2 orders of magnitude.",
        "0": "Too low.",
        "-5": "The sign is not the expected one.",
    }


@given(st.floats(1e-3, 1e9))
@settings(max_examples=300)
def test_a_wrong_answer_never_gives_the_value_away(number):
    verdict = check(ADA, repr(number))
    if verdict.state == "wrong":
        assert "714" not in " ".join(verdict.sentences).replace(repr(number), "").replace(
            "\u202f", ""
        )


@given(
    st.one_of(
        st.text(max_size=120),
        st.none(),
        st.integers(),
        st.text(string.digits + ",.;- kKgN", max_size=20),
    )
)
@settings(max_examples=300)
def test_the_checker_never_raises(text):
    for problem in PROBLEMS:
        verdict = check(draw(problem, "Ada"), text)
        assert verdict.state in words.STATES and verdict.sentences[0]
        assert verdict.readable or verdict.state == "not_attempted"


def test_unreadable_is_no_attempt_and_says_so():
    for text in ("five", "12 foo", "x" * 40_000, "7140 or 7150"):
        verdict = check(ADA, text)
        assert (verdict.state, verdict.readable, len(verdict.sentences)) == (
            "not_attempted",
            False,
            1,
        )
        assert verdict.sentences[0].endswith("This was not counted as an attempt.")
    assert check(ADA, "").word == "not attempted" and check(ADA, "").sentences[0].startswith(
        "Nothing was entered"
    )


def test_choices():
    one = draw(FAULTY_LINE, "Ada")
    assert one.choice == 2 and check(one, "line 2").done and not check(one, "1").done
    assert check(one, "3").sentences == ("Not yet.", "That is only the unit.") and check(
        one, "3"
    ).slips == ("line_3",)
    assert not check(one, "4").readable and not check(one, "the second").readable


def test_choice_with_a_number():
    one = draw(ENOUGH, "Ada", fixed={"lime_kg": 6000, "needed_kg": 6500})  # 500 kg missing
    assert check(one, "2; 500 kg").state == check(one, "2;0.5 t").state == "right"
    assert "choice is right, the number is not" in check(one, "2; 400").sentences[1]
    assert (
        "number beside it is right" in check(one, "1; 500 kg").sentences[2]
        and not check(one, "1; 500").done
    )
    assert check(one, "2; 12500").slips == ("added",) and "added" in check(one, "1; 12500").slips
    for text in ("2", "2;", "; 500", "2; five", "500"):
        assert not check(one, text).readable, text


# ---- the library of slips ------------------------------------------------------------------------


def wrong_by(one, problem=None, **fixed):
    """What a slip leads to for fixed numbers."""
    problem = problem or one_sum(slips=(one,))
    return draw(replace(problem, slips=(one,)), "Ada", fixed=fixed).slips[one.key][1]


def test_library_of_slips():
    assert wrong_by(Slip("one", "One.", **taken(a=1.0)), a=20) == 2.0
    tenfold = taken(a=lambda given: 10.0 * given["a"])
    assert wrong_by(Slip("tenfold", "Tenfold.", **tenfold), a=20) == 400.0
    assert wrong_by(Slip("double", "Twice.", **times(2.0)), a=20) == 80.0
    assert wrong_by(Slip("by_a", "By a.", **times(lambda given: given["a"])), a=20) == 800.0
    assert wrong_by(Slip("turned", "Upside down.", **upside_down()), a=20) == 1 / 40
    less = after(lambda answer, given: answer - given["a"])
    assert wrong_by(Slip("less", "Less.", **less), a=20) == 20.0


def test_a_slip_that_cannot_be_made_with_these_numbers_is_left_out():
    never = (
        Slip("none", "None.", solve=lambda a: None),
        Slip("log", "Log.", solve=lambda a: math.log(-a)),
        Slip("zero", "Zero.", solve=lambda a: 1 / 0),
    )
    assert draw(one_sum(slips=never, vector=False), "Ada").slips == {}
    (one,) = draw_many(
        one_sum(slips=(Slip("part", "Part.", solve=lambda a: np.where(a > 99, 1.0, np.nan)),)),
        [("Ada", "c", 1)],
    )
    assert one.slips == {}


# ---- words ---------------------------------------------------------------------------------------


def test_every_sentence_is_used_and_every_used_one_exists():
    import re
    from pathlib import Path

    from steelthermo import course, coursekit

    code = "".join(
        p.read_text(encoding="utf-8")
        for room in (course, coursekit)
        for p in Path(room.__file__).parent.rglob("*.*")
        if p.suffix in (".py", ".html")
    )
    plain = set(re.findall(r"(?:say|_refused|heads)\(\s*[\"']([a-z_.]+)[\"']", code)) | set(
        re.findall(r"[\"']([a-z]+\.[a-z_]+)[\"'] (?:if|else) ", code)
    )
    plain |= set(re.findall(r" else [\"']([a-z]+\.[a-z_]+)[\"']", code))
    built = {f"read.{kind}" for kind in re.findall(r"AnswerError\(\"([a-z_]+)\"", code)} | {
        f"wrong.{k}{o}" for k in ("high", "low") for o in ("", "_orders")
    }
    built |= {f"wrong.{k}" for k in ("sign", "decimal")} | {
        f"mark.{k}" for k in ("unsealed", "missing", "moved", "repeated", "bad")
    }
    kinds = ("quantity", "only", "forgot", "part", "turned", "half", "double")
    built |= {f"mistake.{kind}" for kind in kinds}
    counted = ("problems", "entries", "lines")
    built |= {f"page.count_{k}" for k in counted}
    built |= {f"home.{k}" for k in ("new", "tried", "solved", "mastered")}
    built |= {f"report.count_{k}" for k in ("bad", "met", "doubles")}
    built |= {f"report.slip_{k}" for k in ("unit", "sign", "decimal")}
    built |= {f"column.{k}" for k in ("first_try", "solutions_opened")}
    built |= {  # what stands on the buttons of a panel
        f"panel.{how}_{part}"
        for how in ("show", "hide")
        for part in ("controls", "numbers", "case", "sources")
    }
    built |= {
        f"{key}.one" for key in plain | built if f"{key}.one" in words.catalogue()
    }  # for a count of 1
    found = {
        key
        for key in plain | built
        if key.partition(".")[0] in {k.partition(".")[0] for k in words.catalogue()}
    }
    assert (
        sorted(found - set(words.catalogue())) == []
        and sorted(set(words.catalogue()) - found) == []
    )


# sentences that are never said of one: what asks for a few, or has a sentence of its own for one
_NEVER_ONE = """read.none_chosen read.choice order.many page.attempts exam.count sheet.lines
mark.chain_stopped talk.quick talk.dense talk.searched talk.even roster.same_id""".split()


def test_one_is_no_plural():
    """A sentence with a count has another for a count of 1, where that can come."""
    known = words.catalogue()
    counted = [k for k, text in known.items() if "{count}" in text and not k.endswith(".one")]
    assert [k for k in counted if f"{k}.one" not in known] == _NEVER_ONE
    said = [words.say("page.count_lines", count=count) for count in (1, 2)]
    assert said == ["1 line", "2 lines"]
