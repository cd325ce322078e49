"""What a learner reads: no sentence above 30 words, one term for one thing, numbers that do not
break. Measured by tests/tools/wording.py; its list of words is the trade's English, and no source
stands behind it but the review of the lessons by readers.
"""

import wording


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
