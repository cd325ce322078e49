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


def test_a_stamp_that_cannot_be_read_is_passed_over():
    assert due([answer("a.one", 0) | {"t": "yesterday"}], 9) == ()
