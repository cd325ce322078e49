"""A translator's file: what is read of it, and what is written."""

import pytest

from steelthermo.base import in_another_language, po_text, read_po, translated

TEXTS = {
    "hot metal": "Roheisen",
    "{x} t of {what}": "{what}: {x} t",
    'two\nlines, "quoted"': "zwei\nZeilen, „gesagt“\\",
}


def test_what_is_written_is_read():
    assert read_po(po_text(dict.fromkeys(TEXTS, ("here",)), TEXTS)) == (TEXTS, [])


def test_places_are_told_three_at_most():
    written = po_text({"hot metal": ["a.py:1", "b.py:2", "c.py:3", "d.py:4"]})
    assert written.count("#: ") == 3 and 'msgid "hot metal"\nmsgstr ""' in written


@pytest.mark.parametrize(
    "entry", ['msgid "slag"\nmsgstr ""', '#, fuzzy\nmsgid "slag"\nmsgstr "Schlacke"', ""]
)
def test_what_is_not_translated_stays_english(entry):
    assert read_po(entry) == ({}, [])


def test_other_names_in_braces_are_told_and_left_out():
    found, wrong = read_po('msgid "{x:n} t"\nmsgstr "{y} t"\n\nmsgid "slag"\nmsgstr "Schlacke"')
    assert found == {"slag": "Schlacke"} and "'{x:n} t'" in wrong[0]


def test_nothing_is_translated_without_a_file():
    assert not in_another_language() and translated("hot metal") == "hot metal"
