"""The glossary: the terms a graduate hears in the first week (a list of readers, no source), each
with the lesson in whose text it stands first, and no word that the lessons may not use.
"""

import re

import pytest
import wording

from steelthermo.app import printed
from steelthermo.base import rows
from steelthermo.course import glossary as shown
from steelthermo.course import glossary_html

TERMS = {row["key"]: row for row in rows("glossary")}
ALL_NAMES = " ".join(f"{row['key']}; {row['others']}" for row in TERMS.values())
HEARD = (
    "BOS BOF LD turndown sublance superheat inclusion deoxidation dephosphorisation refractory "
    "rephosphorisation tundish skull slopping melter recovery heat enthalpy activity tapping"
).split()


def texts_of_lessons():
    found = {}
    for place, text in wording.notebooks():
        if place.startswith("lessons/"):
            plain = " ".join(text.replace("*", "").replace("\u00a0", " ").split())
            number = place[len("lessons/") :][:2]
            found[number] = f"{found.get(number, '')} {plain}"
    return found


def test_enough_terms_and_those_of_the_first_week():
    assert len(TERMS) >= 60
    assert not [w for w in HEARD if not re.search(rf"\b{w}\b", ALL_NAMES, re.I)]
    assert {"heat (a batch)", "heat energy", "heat of reaction"} < set(TERMS)


def test_the_lesson_is_where_the_term_stands_first():
    lessons, wrong = texts_of_lessons(), {}
    for term, row in TERMS.items():
        name = re.sub(r" \(.*\)", "", term)
        flags = 0 if name[0].isupper() else re.I
        pattern = re.compile(rf"\b{re.escape(name)}(s|es|ed)?\b", flags)
        first = next((n for n, text in lessons.items() if pattern.search(text)), "none")
        said = row["lesson"] if isinstance(row["lesson"], str) else f"{row['lesson']:02.0f}"
        if first != said:
            wrong[term] = (said, first)
    assert not wrong


def test_one_sentence_a_term_and_no_forbidden_word():
    for term, row in TERMS.items():
        assert len(wording.words(row["words"])) <= wording.LONGEST, term
        for pattern in wording.FORBIDDEN:
            if "sums?" not in pattern:
                assert not re.search(pattern, row["words"], re.I), (term, pattern)


@pytest.mark.parametrize("term", ["vessel", "deoxidation", "superheat"])
def test_page_and_command(term, tmp_path):
    assert f">{term}<" in glossary_html() and f">{term}<" in shown()._repr_html_()
    path = tmp_path / "words.html"
    assert printed.glossary(["--out", str(path), "--no-browser"]) == 0
    assert path.read_text(encoding="utf-8") == glossary_html()
