"""The visit card on paper: one page, with room to write."""

import re

from steelthermo.course import visit_card_html


def test_one_sheet_of_paper(chromium):
    page = chromium.new_page()
    page.set_content(visit_card_html())
    pdf = page.pdf(prefer_css_page_size=True)
    page.close()
    assert re.findall(rb"/Count (\d+)", pdf) == [b"1"]
