"""The report of a class on A4: no table is wider than the paper, rows are whole, heads repeat."""

import re

import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.marking.marking import mark
from steelthermo.coursekit.page import PaperPage
from steelthermo.coursekit.paper import FIRST, LAST
from steelthermo.coursekit.sheet import Sheet, save_me

INSIDE_PX = round((210 - 2 * 16) / 25.4 * 96)  # A4 less the margins of print.css


@pytest.fixture(scope="module")
def report(tmp_path_factory):
    folder = tmp_path_factory.mktemp("class")
    for n in range(12):
        who, own = f"Learner {n} of a long name, with-a-double-one", folder / str(n)
        own.mkdir()
        save_me(own, who, "self-study")
        sheet = Sheet(own, who, "self-study")
        for lesson in STEEL.chained:
            sheet.append("entry", lesson=lesson.name, set=1, entry=lesson.chain.keys[0], text="1")
        for key in (FIRST, LAST) if n == 0 else ():
            PaperPage(key, own).end()
    return mark(folder).html


def test_no_table_is_cut_by_the_edge(chromium, report):
    page = chromium.new_page(viewport={"width": INSIDE_PX, "height": 1000})
    page.set_content(report)
    page.emulate_media(media="print")
    assert page.locator("h3").count() == len(STEEL.chained)
    wide = page.evaluate(
        "[...document.querySelectorAll('*')].map(e => e.getBoundingClientRect().right)"
    )
    assert max(wide) <= INSIDE_PX + 1
    heads, rows = page.evaluate(
        "['thead', 'tbody tr'].map(s => [...new Set([...document.querySelectorAll(s)].map("
        "e => getComputedStyle(e)[s == 'thead' ? 'display' : 'breakInside']))])"
    )
    assert heads == ["table-header-group"] and rows == ["avoid"]
    pdf = page.pdf(format="A4", prefer_css_page_size=True)
    page.close()
    assert int(re.findall(rb"/Count (\d+)", pdf)[0]) >= 3
