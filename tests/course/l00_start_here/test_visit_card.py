"""The visit card names what a visitor meets; its list of topics is that of the review of a works'
safety officer, and of the chapter on liquid metal of the ILO's code of practice (read in excerpt).
"""

import re

from steelthermo.app import printed
from steelthermo.course import visit_card, visit_card_html

TOPICS = (
    "induction escort clothing glare noise heat monitor alarm slag pot last heat slopping tapping "
    "breakthrough plug argon nitrogen lance hydrogen lime aluminium ferrosilicon bag sulphide "
    "acetylene radioactive crane tilting skull"
).split()


def test_every_topic_has_its_line():
    shown = re.sub(r"<style>.*?</style>", "", visit_card_html()).lower()
    assert not [topic for topic in TOPICS if topic not in shown]
    assert "site&#x27;s rule" in shown and "local codes and licensed people" in shown
    assert "international labour office" in shown and "from memory" in shown
    assert shown.count("☐") == visit_card()._repr_html_().count("☐") > 25


def test_the_command_writes_it_and_overwrites_nothing(tmp_path, capsys):
    path = tmp_path / "card.html"
    assert printed.card(["--out", str(path), "--no-browser"]) == 0
    assert path.read_text(encoding="utf-8") == visit_card_html()
    path.write_text("mine")
    try:
        printed.card(["--out", str(path), "--no-browser"])
    except printed.InputError as error:
        assert "not written" in str(error)
    assert path.read_text() == "mine"
