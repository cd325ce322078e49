"""The glossary: the terms a graduate hears in the first week (a list of readers, no source), each
with the lesson in whose text it stands first, and no word that the lessons may not use.
"""

import re

import nbformat
import pytest
import wording
import write_terms

from steelthermo.app import printed
from steelthermo.base import rows
from steelthermo.course import glossary as shown
from steelthermo.course import glossary_html, terms

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


def test_each_lesson_explains_its_words():
    """Written by tests/tools/write_terms.py: on hover at the first use, and in a folded list for
    who reads by keyboard or on paper.
    """
    for path in sorted((wording.ROOT / "lessons").glob("*.ipynb")):
        notebook = nbformat.read(path, as_version=4)
        saved = [cell.source for cell in write_terms.texts_of(notebook)]
        assert saved == terms.with_terms(saved), f"{path.name}: run tests/tools/write_terms.py"
        assert len(terms.terms_of(saved)) >= 4, path.name


def test_a_word_is_explained_once_where_it_stands_first():
    texts = ["# Slag\n\nThe `slag` is hot. Slag, *hot metal*.", "Slag. A heat energy, a heat."]
    first, second = terms.with_terms(texts)
    assert '. <abbr title="The liquid oxides that float on the metal.">Slag</abbr>,' in first
    assert "*<abbr title=" in first and "lag</abbr>" not in second
    assert second.count("<abbr") == 2 and "**heat (a batch)**" in first
    assert [terms.without_terms(text) for text in (first, second)] == texts
    assert terms.terms_of([first]) == ["heat (a batch)", "heat energy", "hot metal", "slag"]


# Second names that may stand: said beside the first name, a formula, or an everyday word
STAND = {
    "activity coefficient": "the sign f in a formula",
    "arrest": "said whole where it is explained",
    "basic oxygen steelmaking": "said beside it in lesson 00",
    "burnt lime": "the formula CaO",
    "Ellingham diagram": "the everyday name of the picture",
    "end point": "said beside it in lesson 13",
    "hard blow": "how it is blown",
    "soft blow": "how it is blown",
    "heat (a batch)": "a melt and a charge are other things too",
    "heat energy": "enthalpy of formation, heat content of a table",
    "mol": "grammar, and a thousand of them",
    "oxygen probe": "its cell",
    "penetration": "explained by it",
    "partition": "the sign L_P in a formula",
    "retained slag": "explained by it",
    "second blow": "said beside it",
    "spread": "said beside it in lesson 16",
    "stopper": "said whole once",
    "tap": "grammar",
    "vessel": "said beside it in lesson 00",
}


def test_one_term_one_name():
    """The lessons, problems and panels use the first name of a term."""
    found = {}
    texts = [(p, t) for p, t in wording.texts() if "glossary" not in p]
    for term, row in TERMS.items():
        for other in str(row["others"]).split("; "):
            if other == "none" or other in TERMS or term in STAND:
                continue
            hits = [p for p, t in texts if terms.pattern(other).search(t)]
            if hits:
                found[term, other] = hits
    assert not found
    converters = [p for p, t in texts if terms.pattern("converter").search(t)]
    assert converters == ["lessons/00_start_here.ipynb:0"]
