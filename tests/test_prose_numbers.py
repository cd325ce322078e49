"""A number in running text is computed, stands in the data, or a test holds it."""

import re
from pathlib import Path

import pytest

from tests.tools import prose_numbers

ROOT = Path(__file__).parents[1]
# kinds of entries that no test can hold: what a question gives, and numbers of titles and dates
FREE = ("given", "title")


def test_no_number_stands_in_prose_alone():
    listed = prose_numbers.known()
    found = prose_numbers.unaccounted()
    loose = [" | ".join(f) for f in found if f[:2] not in listed]
    assert not loose, "held by nothing:\n" + "\n".join(loose)
    gone = set(listed) - {f[:2] for f in found}
    assert not gone, f"listed, but no longer there or accounted for: {gone}"


def test_what_holds_a_listed_number_is_there():
    for (place, number), held_by in prose_numbers.known().items():
        if held_by in FREE:
            continue
        file, _, test = held_by.partition("::")
        text = (ROOT / file).read_text(encoding="utf-8")
        body = re.search(rf"def {test}\b.*?(?=\ndef |\Z)", text, re.DOTALL)
        assert body and number in body.group(), f"{place}: {number} is not in {held_by}"


@pytest.mark.parametrize("path", prose_numbers.lessons(), ids=lambda p: p.stem)
def test_sums_in_the_words_of_a_lesson_come_out(path):
    """Half of the last digit written, and the rounding of what was put in: 1 %."""
    for line in prose_numbers.words_of(path):
        for done, value, written in prose_numbers.sums_of(line):
            half = 0.5 * 10.0 ** -len(written.partition(".")[2])
            assert float(written) == pytest.approx(value, rel=0.01, abs=1.01 * half), (
                f"{done}: {line}"
            )


def test_it_notices():
    """A number that nothing holds, a sum that does not come out, a group of digits, kelvin."""
    assert list(prose_numbers._missing("some 98765.4 and 1600 degC", frozenset())) == ["98765.4"]
    assert prose_numbers.numbers_of("log K = −28 561/T + 15.904") == ["28561", "15.904"]
    (done, value, written), *_ = prose_numbers.sums_of("*(0.3 × 1.124/0.80 = 0.42 kg/t.)*")
    assert round(value, 4) == 0.4215 and written == "0.42"
    assert list(prose_numbers._missing("to 1540 °C", frozenset({1540.2}))) == []
