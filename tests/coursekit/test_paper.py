"""Papers: drawn, kept, judged when handed in; the numbers of an exam need its code."""

from datetime import UTC, datetime, timedelta

import pytest

from steelthermo.base import InputError
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.paper import (
    FIRST,
    LAST,
    count,
    in_a_word,
    load_exam,
    paper,
    proof_of,
    right,
    start_after,
)
from steelthermo.coursekit.problems import check, draw

NOON = datetime(2026, 12, 1, 12, tzinfo=UTC)
EXAM = """
name = "Midterm"
problems = ["charge_materials.kg_of_element", "oxidation_heat.per_kg"]
opens = 2026-12-01T11:00:00Z
closes = 2026-12-01T13:00:00Z
proof = "{}"
"""


def kept(key, one, text, t="2026-12-01T12:00:00Z"):
    return {"kind": "paper", "paper": key, "asked": one.problem.key, "text": text, "t": t}


def test_two_forms_of_ten_skills_with_other_numbers():
    first, last = (paper(key).draws("Ada", "K") for key in (FIRST, LAST))
    assert len(first) == 10 and len({d.problem.lesson for d in first}) == 10
    places = [STEEL.problems.index(STEEL.problem(key)) for key in STEEL.paper]
    assert places == sorted(places)
    own = [draw(d.problem, "Ada", "K") for d in first]
    for a, b, c in zip(first, last, own, strict=True):
        assert a.given != b.given and a.given != c.given and b.given != c.given
    assert [d.given for d in paper(FIRST).draws("Bram", "K")] != [d.given for d in first]


def test_the_last_answer_before_handing_in_counts_and_says_where_to_start():
    one = paper(FIRST)
    a, b, c, *_ = one.draws("Ada", "K")
    records = [kept(FIRST, a, "1"), kept(FIRST, a, a.answer_text()), kept(LAST, b, "x")]
    records += [kept(FIRST, b, b.answer_text()), {"kind": "ended", "paper": FIRST, "t": "then"}]
    records += [kept(FIRST, c, c.answer_text())]
    marks = one.marks(records, "Ada", "K")
    assert [v and v.state for v in marks.values()] == ["right", "right", *[None] * 8]
    assert count(map(right, marks.values())) == (2, 8)
    wrong = one.marks([kept(FIRST, a, "1"), kept(FIRST, b, "1"), kept(FIRST, b, "")], "Ada", "K")
    words = [in_a_word(right(v)) for v in wrong.values()]
    assert words == ["not right", *["not answered"] * 9]
    assert one.ended(records) == "then" and paper(LAST).ended(records) == ""
    # 01 and 02 are known: the next is 03, though the paper asks for nothing of it
    assert start_after(marks).number == "03"
    assert start_after(dict.fromkeys(marks)).number == "01"
    assert (
        start_after({d.problem.key: check(d, d.answer_text()) for d in one.draws("A", "K")}) is None
    )


def test_numbers_of_an_exam_need_its_code(tmp_path):
    file = tmp_path / "exam.toml"
    file.write_text(EXAM.format(proof_of("Midterm", "00ff-12ab-9f3c")))
    exam = load_exam(file)
    assert exam.exam and proof_of("Midterm", "00FF 12AB 9F3C") == exam.proof
    from dataclasses import replace

    opened = replace(exam, code="00ff12ab9f3c").draws("Ada", "K")
    for other in (exam, replace(exam, code="00ff12ab9f3d"), replace(exam, key="Final")):
        assert [d.given for d in other.draws("Ada", "K")] != [d.given for d in opened]
    hour = timedelta(hours=1.01)
    assert [exam.state(t) for t in (NOON - hour, NOON, NOON + hour)] == ["early", "open", "over"]
    in_time, late = kept("Midterm", opened[0], "1"), kept("Midterm", opened[1], "1", "2026-12-02")
    assert exam.outside([in_time]) == 0
    assert exam.outside([in_time, late | {"t": "2026-12-01T13:30:00Z"}]) == 1


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (('"Midterm"', '"first"'), "are needed"),
        (("per_kg", "per_kilo"), "not known here"),
        (("T13:00:00Z", "T13:00:00"), "time zone"),
        (("proof", "prove"), "proof"),
        (("name", "name name"), "exam.toml"),
    ],
)
def test_a_faulty_file_is_told(tmp_path, change, told):
    file = tmp_path / "exam.toml"
    file.write_text(EXAM.format("x").replace(*change))
    with pytest.raises(InputError, match=told):
        load_exam(file)
