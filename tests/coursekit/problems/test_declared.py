"""Words in a text file and calculations in Python are bound by key: what is missing or superfluous
on either side is named.
"""

import pytest

from steelthermo.base import InputError
from steelthermo.coursekit.problems import Pick, Solution, draw, read_problems, taken, times

WORDS = """
[cups]
title = "Cups"
text = \"\"\"
How much water do {cups} of {size} cups hold? A small one holds 0.2 kg, a large one 0.3 kg.\"\"\"
answer = { unit = "kg", tolerance_pct = 1, why = "a product of two numbers" }
hints = ["One cup first.", "Times {cups:n}."]
worked = "{cups:n} × {each:.1f} = **{answer}**."

[cups.given]
cups = { label = "cups", unit = "1", low = 3, high = 9, step = 1, why = "made up" }
size = { label = "size", options = ["small", "large"], why = "made up" }

[cups.slips]
one = "This is one cup; there are {cups:n}."
small = "You took small cups."

[kettle]
title = "Kettle"
text = "Why does the kettle whistle?"
ordered = true
hints = ["Listen.", "Look."]
worked = "Line {line}."

[[kettle.lines]]
line = "It boils."
reply = "Yes."

[[kettle.lines]]
line = "It is cold."
reply = "Touch it. Better not."
"""


def held(cups, size):
    return cups * (0.2 if size == "small" else 0.3)


def each(cups, size):
    return {"each": held(1.0, size), "answer": f"{held(cups, size):.1f} kg"}


SOLUTIONS = {
    "kettle": Solution(lambda: 1),
    "cups": Solution(
        held,
        {"small": taken(size="small"), "one": times(lambda given: 1.0 / given["cups"])},
        plausible=lambda answer, cups, size: answer > 1.0,
        figures=each,
    ),
}


@pytest.fixture
def kitchen(tmp_path):
    def read(words=WORDS, solutions=SOLUTIONS):
        (tmp_path / "problems.toml").write_text(words, encoding="utf-8")
        return read_problems("kitchen", tmp_path / "problems.py", solutions)

    return read


def test_words_and_calculations_make_problems(kitchen):
    cups, kettle = kitchen()
    assert (cups.key, kettle.key) == ("kitchen.cups", "kitchen.kettle")
    assert cups.text.startswith("How much") and [s.key for s in cups.slips] == ["one", "small"]
    assert isinstance(cups.given[1], Pick) and cups.given[0].grid == (3, 4, 5, 6, 7, 8, 9)
    one = draw(cups, "Ada", fixed={"cups": 5.0, "size": "large"})
    assert one.number == pytest.approx(1.5)
    assert one.slips["one"][1] == pytest.approx(0.3) and one.slips["small"][1] == pytest.approx(1.0)
    assert one.worked_text() == "5 × 0.3 = **1.5\N{NO-BREAK SPACE}kg**."
    assert kettle.choice and kettle.choice.ordered and kettle.number is None
    assert draw(kettle, "Ada").choice == 1


@pytest.mark.parametrize(
    ("words", "solutions", "named"),
    [
        (WORDS, {"cups": SOLUTIONS["cups"]}, r"kitchen: there is no calculation for \['kettle'\]"),
        (WORDS, SOLUTIONS | {"pot": Solution(held)}, r"kitchen: there is no text for \['pot'\]"),
        (
            WORDS.replace("one = ", "two = "),
            SOLUTIONS,
            r"kitchen.cups: there is no calculation for \['two'\]",
        ),
        (
            WORDS.replace("one = ", "# one = "),
            SOLUTIONS,
            r"kitchen.cups: there is no text for \['one'\]",
        ),
        (WORDS.replace("title = ", "titel = ", 1), SOLUTIONS, r"kitchen.cups: .*titel"),
        (WORDS.replace("worked = ", "# ", 1), SOLUTIONS, r"kitchen.cups: .*worked"),
        (WORDS.replace("low = 3", "lowest = 3"), SOLUTIONS, r"kitchen.cups: .*lowest"),
        (WORDS.replace("reply = ", "answer = ", 1), SOLUTIONS, r"kitchen.kettle: .*reply"),
        (WORDS.replace("[cups]", "[cups"), SOLUTIONS, r"problems.toml: .*line 2"),
    ],
)
def test_what_is_missing_or_superfluous_is_named(kitchen, words, solutions, named):
    with pytest.raises(InputError, match=named):
        kitchen(words, solutions)
