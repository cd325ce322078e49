"""Predict first: the question before a panel, judged by the panel's own figures."""

from dataclasses import replace

import pytest

from steelthermo.base import InputError
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.page import predict
from steelthermo.coursekit.panel import make_panel
from steelthermo.coursekit.sheet import Sheet, save_me


@pytest.fixture
def folder(tmp_path):
    save_me(tmp_path, "Ada", "self-study")
    return tmp_path


def asked_of(folder):
    panel = make_panel("charge_materials")
    return panel, predict(panel, folder=folder)


def kept(folder):
    records = Sheet(folder, "Ada", "self-study").records
    return [(r["text"], r["state"], r["why"]) for r in records if r["kind"] == "predict"]


def test_locks_frees_keeps_and_compares_once_the_slider_moved(folder):
    panel, asked = asked_of(folder)
    assert panel.locked and "rises by 5 to 20 %" in asked.box.options
    asked.button.click()
    assert panel.locked and "Choose" in asked.feedback.value
    asked.box.value, asked.why.value = "rises by 5 to 20 %", "it comes with <hot> metal"
    asked.button.click()
    assert not panel.locked and not asked.compared.value
    panel.set(lime_kg_t=30)
    assert not asked.compared.value  # another slider
    panel.set(share_pct=80)
    told = asked.compared.value.replace("\u00a0", " ")
    # 75 and 85 % of 4.5 % C, and 25 and 15 % of scrap with 0.15 %: by hand
    before, after = (s * 4.5 / 100 + (100 - s) * 0.15 / 100 for s in (75, 85))
    assert f"{before:.2f}" in told and f"{after:.2f}" in told, told
    assert "As you predicted" in told and "13 %" in told
    assert kept(folder) == [("rises by 5 to 20 %", "right", "it comes with <hot> metal")]
    panel, again = asked_of(folder)
    assert not panel.locked and again.text == "rises by 5 to 20 %"


def test_a_wrong_one_is_told_with_the_reason(folder):
    panel, asked = asked_of(folder)
    asked.box.value = "rises by more than 20 %"
    asked.button.click()
    panel.set(share_pct=90)
    assert "What happens: rises by 5 to 20\u00a0%" in asked.compared.value
    assert kept(folder)[0][1] == "wrong"


def test_without_a_name_it_is_judged_and_not_kept(tmp_path):
    panel, asked = asked_of(tmp_path)
    asked.box.value = asked.box.options[0]
    asked.button.click()
    assert not panel.locked and "no name is known" in asked.feedback.value
    assert list(tmp_path.iterdir()) == []


def test_trainer_switches_predictions_off(folder):
    (folder / "course.toml").write_text("predict_first = false")
    panel, asked = asked_of(folder)
    assert not panel.locked and "switched" in asked.feedback.value


def test_an_unknown_one_is_refused(folder):
    with pytest.raises(InputError, match="there is none"):
        predict(make_panel("charge_materials"), "x", folder)


def test_a_long_option_is_known_again_though_a_sheet_cuts_it(folder):
    (asked,) = STEEL.lesson("01").questions.predict
    assert all(len(option) <= 200 for option in asked.options)


def test_where_the_works_have_no_figure_the_panel_is_freed_and_the_reason_told(folder):
    panel, asked = asked_of(folder)
    asked.asked = replace(asked.asked, figure=lambda record: None)
    asked.box.value = asked.box.options[0]
    asked.button.click()
    panel.set(share_pct=80)
    assert (
        not panel.locked
        and "no figure" in asked.compared.value
        and "13\u00a0%" in asked.compared.value
    )
