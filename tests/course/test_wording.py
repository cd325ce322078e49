"""What a learner reads: no sentence above 30 words, one term for one thing, numbers that do not
break. Measured by tests/tools/wording.py; its list of words is the trade's English, and no source
stands behind it but the review of the lessons by readers.
"""

import csv
import re

import left_behind
import pytest
import wording

from steelthermo import course

PACKAGE = wording.ROOT / "steelthermo"
# a range in the words of a control, with its unit
RANGE = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?) to (\d+(?:\.\d+)?) (%|°C)(?! of)")


def test_the_script_measures():
    found = wording.sentences(
        "One `code` two. **Three** four (five).\n\n- six $a b c$ seven: Eight."
    )
    assert [len(wording.words(s)) for s in found] == [3, 3, 3, 1]
    assert wording.bound_markdown("28 561 kg, `28 561 kg`") == "28\u202f561\u00a0kg, `28 561 kg`"


def test_no_long_sentence():
    assert wording.long_sentences() == []


def test_no_forbidden_word():
    assert wording.forbidden() == []


def test_no_number_breaks():
    assert wording.breaking() == []


def test_nothing_is_recalled():
    """Docstrings of the physics, tables and names of lines say "not verified" or "from memory"."""
    found = [
        f"{path.relative_to(PACKAGE)}: {match[0]}"
        for kind in ("py", "csv", "yaml", "toml")
        for path in sorted(PACKAGE.rglob(f"*.{kind}"))
        for match in re.finditer(r".*(?:\b|_)recalled(?:\b|_).*", path.read_text("utf-8"), re.I)
    ]
    assert found == []


def test_a_slider_reaches_the_range_that_its_words_call_usual():
    seen = 0
    for path in sorted(PACKAGE.glob("course/l*/panel.csv")):
        with open(path, encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                for low, high, unit in RANGE.findall(row["why"]):
                    if unit == row["unit"] and row["low"] and row["high"]:
                        reach = float(row["low"]) <= float(low), float(high) <= float(row["high"])
                        assert all(reach), (path.parent.name, row["name"], row["why"])
                        seen += 1
    assert seen >= 10


# a number, a blank that may break, and a unit, or a hyphen in place of a minus sign; written here
# once more, apart from bound()
_BREAKS = re.compile(
    r"[\d⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹] (?:%|°C|K|t|kg|g|s|min|m[23]?|mm|mol|kmol|ppm|Pa|kPa|bar|atm|[kMG]?J|Nm3)"
    r"(?:/\w+)*(?![\w/²³])|\b\d{1,3} \d{3}\b|(?:^|[ (±])-\d"
)


# what stands in one line: examples and numbers in the boxes (typed with a hyphen), lines of menus
_ONE_LINE = re.compile(
    r"12\.5 \S+|-1\.0|pure, 298 K|silicon[^.]* to 0\.15 %( and .*)?|100 000 heats, some seconds"
)


def broken(texts):
    """What may break at the end of a line or has a hyphen for a minus, of what a page shows:
    (name, what stands there).
    """
    return {
        (name, line[max(0, found.start() - 30) : found.end() + 20])
        for name, text in texts
        if not name.startswith("picture of")  # its words stand in one line
        for line in text.splitlines()
        if not _ONE_LINE.fullmatch(line.strip())
        for found in _BREAKS.finditer(line)
    }


def test_what_breaks_is_found():
    texts = [("a", "some 12 kg of\nit\n12\u00a0kg"), ("b", "12 000 of them"), ("c", "-2.3\n2-3")]
    assert broken(texts) == {("a", "some 12 kg of"), ("b", "12 000 of them"), ("c", "-2.3")}


def test_no_number_breaks_on_a_panel_and_a_page_to_print():
    assert broken(left_behind.panels(["charge_materials", "lance_and_jet"])) == set()
    assert broken([("card", left_behind.plain(course.visit_card_html()))]) == set()


@pytest.mark.long
@pytest.mark.parametrize("part", ["panels", "exercises", "questions", "sheets", "pages"])
def test_no_number_breaks_as_shown(part):
    assert broken(getattr(left_behind, part)(())) == set()
