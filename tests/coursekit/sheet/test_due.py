"""What comes back, and when."""

from datetime import date, timedelta

from steelthermo.coursekit.sheet import due_problems

KEYS = ("a.one", "a.two", "b.one", "b.two")
START = date(2026, 3, 1)


def answer(key, day, state="right", number=1):
    stamp = f"{START + timedelta(day)}T08:00:00Z"
    fields = {"problem": key, "set": number, "text": "1", "state": state, "slips": []}
    return {"kind": "answer", "t": stamp, **fields}


def due(records, day, **options):
    return due_problems(records, KEYS, START + timedelta(day), **options)


def test_nothing_is_due_before_a_lesson_was_worked_on():
    assert due([], 5) == ()


def test_wrong_comes_first_and_at_once_then_the_longest_due():
    records = [answer("a.one", 0), answer("b.two", 0, "wrong"), answer("a.two", 1)]
    assert due(records, 0) == ("b.two",)
    assert due(records, 1) == ("b.two", "a.one")
    assert due(records, 9) == ("b.two", "a.one", "a.two")
    assert due(records, 9, most=2) == ("b.two", "a.one")


def test_each_right_set_makes_the_pause_longer():
    once, twice = [answer("a.one", 0)], [answer("a.one", 0), answer("a.one", 1, number=2)]
    assert due(once, 1) == ("a.one",)
    assert due(twice, 4) == () and due(twice, 5) == ("a.one",)
    slow = [answer("a.one", 0, "wrong"), answer("a.one", 0), answer("a.one", 1, number=2)]
    assert due(slow, 2) == ("a.one",)  # solved after a wrong answer: sooner


def test_what_is_forgotten_comes_back_though_it_was_solved_once():
    records = [answer("a.one", 0), answer("a.one", 1, number=2), answer("a.one", 5, "wrong", 3)]
    assert due(records, 5) == ("a.one",)
    again = [*records, answer("a.one", 5, number=3)]
    assert due(again, 5) == () and due(again, 6) == ("a.one",)


def test_twice_on_one_day_is_no_pause_and_looked_up_is_not_known():
    twice = [answer("a.one", 0), answer("a.one", 0, number=2)]
    assert due(twice, 1) == ("a.one",)
    looked = {"kind": "worked", "t": answer("a.one", 0)["t"], "problem": "a.two", "set": 1}
    assert due([*twice, looked], 0) == ("a.two",)
    assert due([*twice, looked, answer("a.two", 0)], 0) == ("a.two",)  # copied from it
    after = looked | {"problem": "a.one"}
    assert due([*twice, after], 0) == ()


def test_lessons_take_turns():
    records = [answer(key, 0) for key in KEYS]
    assert due(records, 1) == ("a.one", "b.one", "a.two", "b.two")


def test_a_stamp_that_cannot_be_read_is_passed_over():
    assert due([answer("a.one", 0) | {"t": "yesterday"}], 9) == ()
