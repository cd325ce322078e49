"""The visit card on paper: one page, with room to write."""

import re

from steelthermo.course import visit_card_html


def test_one_sheet_of_paper(chromium):
    page = chromium.new_page()
    page.set_content(visit_card_html())
    pdf = page.pdf(prefer_css_page_size=True)
    page.emulate_media(media="print")
    assert page.get_by_text("the site's rule", exact=True).first.is_visible()
    rule, whole = "table tbody tr td:last-child", "table"
    width, of = (page.locator(s).first.bounding_box()["width"] for s in (rule, whole))
    assert width > 0.25 * of  # of 190 mm: 5 cm to write in
    page.close()
    assert re.findall(rb"/Count (\d+)", pdf) == [b"1"]
