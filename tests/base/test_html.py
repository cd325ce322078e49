"""The one writer of HTML tables."""

from html.parser import HTMLParser

import numpy as np

from steelthermo.base import figure, plus_minus, table


class _Cells(HTMLParser):
    """Text of every cell, row by row, as a browser would read it."""

    def __init__(self, page):
        super().__init__()
        self.rows, self.caption, self._to = [], "", None
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        if tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th"):
            self.rows[-1].append("")
        self._to = tag

    def handle_endtag(self, tag):
        self._to = None

    def handle_data(self, data):
        if self._to in ("td", "th"):
            self.rows[-1][-1] += data
        elif self._to == "caption":
            self.caption += data


def test_a_table_is_read_back_as_it_was_given():
    page = table(("what", "kg"), [("lime < 5 % & dust", 12.5), ('"steel"', 180000.0)], "a <heat>")
    read = _Cells(page)
    assert read.rows == [["what", "kg"], ["lime < 5 % & dust", "12.5"], ['"steel"', "180000"]]
    assert read.caption == "a <heat>" and page.count("\n") == 3


def test_figures_are_short_and_arrays_say_where_they_begin_and_end():
    assert figure(1234.5678) == "1235" and figure(0.000123456) == "0.0001235" and figure(0) == "0"
    assert figure(np.array([1.0, 2.0, 3.25])) == "1 … 3.25" and figure(np.array([2.5])) == "2.5"
    assert figure(np.full(3, 1000.0)) == "1000" and figure(np.array([0.0, 5.0, 0.0])) == "0 … 0"


def test_no_figure_beyond_its_uncertainty():
    """JCGM 100 (2008), 7.2.6, from memory: two figures of the uncertainty at most."""
    for value, u, shown in [
        (0.07559, 0.034, "0.076 ± 0.034"),
        (351.5, 150.0, "350 ± 150"),
        (14.73, 4.4, "14.7 ± 4.4"),
        (1535.2, 996.0, "1500 ± 1000"),
        (-3.0, 0.0, "-3 ± 0"),
    ]:
        assert plus_minus(value, u) == shown
    assert plus_minus(2.04, 0.31, "+") == "+2.04 ± 0.31"
