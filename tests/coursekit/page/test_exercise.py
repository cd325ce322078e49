"""The exercise page and the question before a panel, driven as the widgets drive them, without a
browser (see browser/test_exercise_page.py for that).
"""

import json
import os
from dataclasses import replace

import pytest
from sample_problems import ENOUGH, FAULTY_LINE, LOGARITHM, MELT, OXYGEN, PROBLEMS

from steelthermo.base import InputError
from steelthermo.coursekit import Lesson
from steelthermo.coursekit.page import exercise
from steelthermo.coursekit.sheet import Sheet, sheets, standings

LESSON = Lesson("99", "sample", "Does the page work?", PROBLEMS)


@pytest.fixture
def folder(tmp_path):
    return tmp_path


def page(folder, learner="Ada", lesson=LESSON):
    made = exercise.show(lesson, folder)
    if learner and not made.views:
        made.name.value = learner
        made.begin_button.click()
    return made


def press_enter(box):
    box._handle_custom_msg({"event": "submit"}, [])


def give(view, text, choice=None):
    view.box.value = text
    if choice:
        view.choice.value = choice
    view.check_button.click()
    return view.feedback.value


def test_nothing_is_written_before_somebody_signs_in(folder):
    made = page(folder, learner=None)
    assert not made.views and list(folder.iterdir()) == [] and "Your name" in made.name.description
    made.begin_button.click()
    assert "Type your name first" in made.feedback.value and list(folder.iterdir()) == []
    made.name.value = "x" * 81
    made.begin_button.click()
    assert "81 characters" in made.feedback.value and not made.views


def test_sign_in_by_enter_and_come_back(folder):
    made = page(folder, learner=None)
    made.name.value, made.key.value = " Ada <b>Österberg</b> ", "HS26-A"
    press_enter(made.name)
    assert len(made.views) == 6 and made.sign_in.layout.display == "none"
    assert "Ada &lt;b&gt;Österberg&lt;/b&gt;" in made.signed.children[0].value
    assert json.loads((folder / "answers" / "me.json").read_text(encoding="utf-8")) == {
        "learner": "Ada <b>Österberg</b>",
        "course": "HS26-A",
    }
    again = exercise.show(LESSON, folder)
    assert again.views and again.journal.course == "HS26-A"
    again.change_button.click()
    again.name.value = "Bram"
    again.begin_button.click()
    assert (
        again.journal.learner == "Bram" and len(list((folder / "answers").glob("*.sheet.txt"))) == 2
    )


@pytest.mark.parametrize(
    ("platform", "kept", "told"),
    [
        ("emscripten", True, "kept in this browser"),
        ("emscripten", False, "Nothing you do here is kept"),
        ("linux", False, ""),
    ],
)
def test_in_a_browser_the_page_says_where_answers_stay(folder, monkeypatch, platform, kept, told):
    monkeypatch.setattr(sheets.sys, "platform", platform)
    if kept:
        monkeypatch.setattr(sheets, "BROWSER_FOLDER", folder)
    (folder / "home").mkdir()
    said = page(folder / "home").signed.children[0].value
    assert told in said and ("kept" in said) == bool(told)


def test_right_slip_wrong_unit_and_progress_after_a_restart(folder):
    made = page(folder)
    view = made.views[OXYGEN.key]
    assert (
        "State: not attempted." in view.status.value
        and "0 of 6 problems solved, 0 tried" in made.progress.value
    )
    assert (
        "Not yet." in give(view, f"{view.draw.slips['co2_for_co'][1]:.0f}")
        and "burnt the carbon to CO2" in view.feedback.value
    )
    assert (
        "you wrote m3" in give(view, f"{view.draw.number:.0f} m3")
        and "State: wrong. 2 attempts" in view.status.value
    )
    view.box.value = view.draw.answer_text()
    press_enter(view.box)
    assert (
        "Right." in view.feedback.value
        and "State: right. 3 attempts" in view.status.value
        and "1 of 6 problems solved, 1 tried" in made.progress.value
    )
    rounded = page(folder).views[LOGARITHM.key]
    assert "Right within hand-calculation rounding" in give(
        rounded, f"{rounded.draw.number + 0.009:.4f}"
    )
    later = page(folder, learner=None)
    assert "2 of 6 problems solved, 2 tried" in later.progress.value
    assert (
        "State: right. 3 attempts" in later.views[OXYGEN.key].status.value
        and "Your last answer" in later.views[OXYGEN.key].feedback.value
    )
    assert "right within hand-calculation rounding" in later.views[LOGARITHM.key].status.value
    (sheet,) = (folder / "answers").glob("*.sheet.txt")
    kinds = [json.loads(line)["kind"] for line in sheet.read_text(encoding="utf-8").splitlines()]
    assert kinds.count("answer") == 4 and kinds[:2] == ["sheet", "open"]


def test_unreadable_answers_are_no_attempts(folder):
    view = page(folder).views[OXYGEN.key]
    assert "Nothing was entered" in give(view, "")
    assert "holds no number" in give(view, "five") and "characters were entered" in give(
        view, "x" * 40_000
    )
    assert "State: not attempted." in view.status.value
    lines = [
        json.loads(line)
        for line in view.journal.sheet.path.read_text(encoding="utf-8").splitlines()
    ]
    assert [r["text"] for r in lines if r["kind"] == "unreadable"] == ["five", "x" * 200]


def test_html_in_an_answer_is_shown_not_run(folder):
    view = page(folder).views[OXYGEN.key]
    assert (
        "<script>" not in give(view, "<script>alert(1)</script>")
        and "&lt;script&gt;" in view.feedback.value
    )
    assert "<img" not in give(view, "12 <img src=x onerror=alert(1)>")
    give(view, "1234 Nm3")
    assert "You entered 1234\u00a0Nm3." in view.feedback.value


def test_hints_one_after_the_other_once_it_was_tried(folder):
    view = page(folder).views[OXYGEN.key]
    view.hint_button.click()
    assert "Try it first" in view.feedback.value and not view.hints.value
    give(view, "1")
    for n in (1, 2, 3):
        view.hint_button.click()
        assert view.hints.value.count("Hint ") == n and f"Hint {n} of 3" in view.hints.value
    view.hint_button.click()
    assert "no more hints" in view.feedback.value and view.hints.value.count("Hint ") == 3
    assert page(folder).views[OXYGEN.key].hints.value.count("Hint ") == 3


def test_mastered_by_two_sets_right_at_once_on_two_days(folder, monkeypatch):
    made = page(folder)
    view = made.views[OXYGEN.key]
    give(view, view.draw.answer_text())
    assert "on another day" in view.status.value and "0 mastered" in made.progress.value
    view.another_button.click()
    give(view, view.draw.answer_text())
    assert "Mastered" not in view.status.value  # the same day, the same page
    view.another_button.click()
    records = made.journal.records
    last = {**[r for r in records if r["kind"] == "answer"][-1], "set": 3}
    assert not standings(records)[OXYGEN.key].mastered
    for told in ({"t": "2100-01-01T08:00:00Z"}, {"mixed": True}):
        assert standings([*records, last | told])[OXYGEN.key].mastered
        after = {"kind": "hint", "problem": OXYGEN.key, "set": 3, "number": 1, "t": last["t"]}
        assert not standings([*records, after, last | told])[OXYGEN.key].mastered
        missed = last | told | {"state": "wrong"}
        assert not standings([*records, missed, last | told])[OXYGEN.key].mastered


def test_worked_solution_asks_closes_the_set_and_gives_another(folder):
    made = page(folder)
    view = made.views[OXYGEN.key]
    first = view.draw
    view.another_button.click()
    assert "Another set comes after" in view.feedback.value and view.draw is first
    view.worked_button.click()
    assert view.question.layout.display == "" and view.worked.value == ""
    view.no_button.click()
    assert (
        view.question.layout.display == "none" and view.worked.value == "" and not view.box.disabled
    )
    view.worked_button.click()
    view.yes_button.click()
    assert (
        first.answer_text() in view.worked.value
        and view.box.disabled
        and view.check_button.disabled
    )
    view.box.value = first.answer_text()
    view.check()  # as from a second notebook, where the box is still open
    assert "no longer count" in view.feedback.value and "State: not attempted" in view.status.value
    view.another_button.click()
    assert (
        view.set == 2
        and view.draw.given != first.given
        and not view.box.disabled
        and view.worked.value == ""
        and "set 2" in view.heading.value
    )
    give(view, view.draw.answer_text())
    assert "State: right" in view.status.value and "1 of 6" in made.progress.value
    view.worked_button.click()  # solved: shown without a question
    assert view.draw.answer_text() in view.worked.value and "State: right" in view.status.value
    assert page(folder).views[OXYGEN.key].set == 2


def test_choices(folder):
    made = page(folder)
    faulty, enough = made.views[FAULTY_LINE.key], made.views[ENOUGH.key]
    assert "Nothing was chosen" in give(faulty, "")
    assert [text for text, _ in faulty.choice.options][1] == "2: Lime = silica / 3."
    assert "That is only the unit." in give(faulty, "", 3) and "three times the silica" in give(
        faulty, "", 2
    )
    line, number = enough.draw.choice, enough.draw.number
    assert "both needed" in give(enough, "", line)
    assert "the number is not" in give(enough, f"{number + 77:.0f}", line)
    enough.choice.value = None
    assert "the number is not" in give(
        enough, f" {line} ; {number + 77:.0f}"
    )  # the line typed as on a sheet
    assert "more than one number" in give(
        enough, f"{3 - line}; {number:.0f}", line
    )  # one line chosen, another typed
    assert "Right." in give(enough, f"{number:.0f} kg", line)
    assert "2 of 6 problems solved" in made.progress.value


def test_no_given_no_other_set(folder):
    lines = replace(FAULTY_LINE.choice, options=("a", "b", "c"))
    alone = replace(
        FAULTY_LINE,
        key="sample.alone",
        given=(),
        text="A colleague.",
        solve=lambda: 2,
        choice=lines,
    )
    view = page(folder, lesson=Lesson("99", "sample", "?", (alone,))).views["sample.alone"]
    view.worked_button.click()
    assert "no numbers to draw" in view.question.children[0].value
    assert view.another_button not in [
        w for box in view.widget.children if hasattr(box, "children") for w in box.children
    ]


def test_cautions_tolerance_and_units_are_on_the_page(folder):
    view = page(folder).views[OXYGEN.key]
    assert view.text.value.index("Oil, grease and many materials") < view.text.value.index("</div>")
    assert "licensed people decide" in view.text.value
    assert (
        "Accepted within 0.5\u00a0%: three figures" in view.asked.value
        and "Asked in Nm3" in view.asked.value
    )
    assert view.box.description == "Your answer in Nm3" and view.feedback._dom_classes == (
        "st-sentence",
    )


def broken(**given):
    raise ZeroDivisionError("planted")


def test_a_fault_of_the_kit_stays_on_the_page(folder):
    lesson = Lesson("99", "sample", "?", (replace(OXYGEN, key="sample.broken", solve=broken), MELT))
    made = page(folder, lesson=lesson)
    assert "ZeroDivisionError: planted" in made.views["sample.broken"].feedback.value
    assert (
        "Right." in give(made.views[MELT.key], made.views[MELT.key].draw.answer_text())
        and "1 of 2" in made.progress.value
    )
    view = page(folder).views[OXYGEN.key]
    give(view, "1")
    view.draw = None
    view.hint_button.click()
    assert "Something went wrong in the kit" in view.feedback.value
    never = replace(OXYGEN, key="sample.never", plausible=lambda answer, **given: answer < 0)
    assert (
        "none of 200 draws"
        in page(folder, lesson=Lesson("99", "sample", "?", (never,)))
        .views["sample.never"]
        .feedback.value
    )


def test_trainers_course_file(folder):
    (folder / "course.toml").write_text(
        'key = "HS26-A"\n[[override]]\nlearner = "*"\nproblem = "sample.melt"\ntemp_c = '
        '1300\n[[override]]\nlearner = "*"\nproblem = "sample.oxygen"\nx = 1\n'
    )
    made = page(folder)
    assert (
        made.key.disabled
        and made.journal.course == "HS26-A"
        and made.views[MELT.key].draw.given["temp_c"] == 1300.0
    )
    assert "override of sample.oxygen" in made.views[OXYGEN.key].feedback.value
    (folder / "course.toml").write_text("kye = 'a'")
    made = page(folder, learner=None)
    assert "kye is not a setting" in made.feedback.value and not made.views


def test_answers_wait_in_memory_while_the_sheet_cannot_be_written(folder, monkeypatch):
    made = page(folder)
    view = made.views[MELT.key]
    real = os.write
    monkeypatch.setattr(
        os,
        "write",
        lambda handle, data: (_ for _ in ()).throw(OSError(28, "No space left on device")),
    )
    assert (
        "could not be saved" in give(view, view.draw.answer_text())
        and "Right." in view.feedback.value
        and "1 of 6" in made.progress.value
    )
    monkeypatch.setattr(os, "write", real)
    assert "could not be saved" not in give(made.views[OXYGEN.key], "5")
    assert [
        r["problem"] for r in Sheet(folder, "Ada", "self-study").records if r["kind"] == "answer"
    ] == [MELT.key, OXYGEN.key]


def test_a_sheet_that_must_not_be_touched_is_said_on_the_page(folder):
    made = page(folder)
    path = made.journal.sheet.path
    path.unlink()
    path.mkdir()
    made = page(folder)
    view = made.views[MELT.key]
    assert "could not be saved" in made.feedback.value and "not a file" in made.feedback.value
    assert "Right." in give(view, view.draw.answer_text()) and "1 of 6" in made.progress.value


def test_a_damaged_sheet_is_reported_once(folder):
    made = page(folder)
    path = made.journal.sheet.path
    path.write_bytes(path.read_bytes() + b"garbage\n")
    made = page(folder)
    assert "damaged-1" in made.feedback.value and "1 unreadable" in made.feedback.value
    assert "damaged" not in page(folder).feedback.value


def test_unknown_lesson():
    with pytest.raises(InputError, match="'nothing' was asked for"):
        exercise.show("nothing")


def test_display_without_a_kernel(folder, monkeypatch):
    shown = []
    monkeypatch.setattr(exercise, "display", lambda what, **more: shown.append(what))
    made = page(folder)
    made._ipython_display_()
    assert (
        "Oxygen for the carbon" in shown[0]["text/html"]
        and shown[0]["text/html"].count("Run All Cells") == 7  # at each problem, and below
        and shown[1] is made.widget
    )
    assert shown[0]["text/plain"] == "Does the page work?: 6 problems"


def test_hand_in_makes_one_file_with_the_learners_number(folder):
    (folder / "course.toml").write_text('key = "K"\n[learner]\nname = "Ada Lind"\nid = "217"\n')
    made = page(folder)
    assert made.journal.learner == "Ada Lind"  # signed in: the folder is hers
    give(made.views[MELT.key], "3")
    made.hand_in_button.click()
    (file,) = (folder / "hand-in").iterdir()
    assert file.name.startswith("217_ada-lind-") and file.name in made.feedback.value
    assert "1 answer" in made.feedback.value and b'"answer"' in file.read_bytes()


def test_problems_for_those_who_doubt_the_data_are_folded_behind_the_others(folder):
    doubted = replace(PROBLEMS[0], doubt=True)
    lesson = Lesson("99", "sample", "Does the page work?", (doubted, *PROBLEMS[1:]))
    made = page(folder, lesson=lesson)
    *core, opener, part = made.list.children
    assert [view.number for view in made.views.values()] == [1, 2, 3, 4, 5, 6]  # as on paper
    assert core == [made.views[p.key].widget for p in PROBLEMS[1:]]
    assert part.children == (made.views[doubted.key].widget,)
    assert part.layout.display == "none" and "(1)" in opener.description
    opener.click()
    assert part.layout.display == "" and "Fold" in opener.description
    assert page(folder).folded is None
