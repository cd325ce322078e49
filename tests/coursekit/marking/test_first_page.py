"""Difficulty, discrimination and the lecturer's first page, against counts made by hand."""

import pytest
from sample_problems import MELT, OXYGEN, PROBLEMS
from sample_sheets import write

from steelthermo.coursekit.marking import first_page, marking


@pytest.fixture(scope="module")
def report(tmp_path_factory):
    """Twelve learners: the first six are right at once everywhere, the others fail OXYGEN once and
    go no further.
    """
    folder = tmp_path_factory.mktemp("class")
    for i in range(12):
        good = [(p, None, 60 + 7 * i + k) for k, p in enumerate(PROBLEMS)]
        poor = [(OXYGEN, "1 Nm3", 60 + i), (OXYGEN, None, 90), (MELT, None, 75)]
        write(folder / f"{i}.jsonl", f"Learner {i}", good if i < 6 else poor)
    return marking.mark(folder, problems=PROBLEMS)


def test_difficulty_and_discrimination(report):
    found = first_page.items(report)
    assert found[OXYGEN.key] == (50.0, pytest.approx(1.0))  # 6 of 12; fails where others fail
    assert found[MELT.key] == (100.0, None)  # everybody: tells nobody apart
    assert found[PROBLEMS[-1].key] == (100.0, None)


def test_at_a_glance(report):
    lines = first_page.glance(report, report.by_problem(), [])
    # 6 learners solved 6, 6 solved 2: the middle is 4, and 2 is not less than half of it
    assert lines[0].startswith("How far: the middle learner solved 4 of 6 problems")
    assert "between 2 and 6" in lines[0] and not any("Who needs help" in line for line in lines)
    assert "<h2>At a glance</h2>" in report.html
    assert report.html.index("At a glance") < report.html.index("Which problem fails")


def test_what_everybody_solved_is_not_said_to_fail(report):
    rows = [
        {"label": "easy", "tried": 12, "solved": 12},
        {"label": "hard", "tried": 9, "solved": 8},
    ]
    slip = [{"label": "hard", "count": 1, "text": "It is kg."}]
    said = " ".join(first_page.glance(report, rows, slip))
    assert "What fails: hard (8 of 9)." in said and "hard, 1 learner: It is kg." in said


def test_the_report_stays_short_however_large_the_class(report, monkeypatch):
    monkeypatch.setattr("steelthermo.coursekit.marking.report.SHOWN", 3)
    monkeypatch.setattr("steelthermo.coursekit.marking.report.SHOWN_AGAIN", 3)
    html = report.html
    assert "The 3 of 12 who solved least" in html and "Learner 0" not in html
    assert len(report.again()) == 12
