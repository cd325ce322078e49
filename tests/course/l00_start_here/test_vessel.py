"""The sketch of the vessel: every name readable, none on another, and all of them told to those who
do not see it.
"""

import xml.etree.ElementTree as ElementTree
from itertools import combinations

from steelthermo.course.l00_start_here import vessel as sketch

HIGH, WIDE = 13.0, 0.65 * 13.0  # px of a line of text, and at the most of a character in it


def test_names_stand_inside_the_picture_and_apart():
    svg = ElementTree.parse(sketch.SKETCH).getroot()
    boxes = {}
    for text in svg.iter("{http://www.w3.org/2000/svg}text"):
        left, low = float(text.get("x")), float(text.get("y"))
        boxes[text.text] = left, low - HIGH, left + WIDE * len(text.text), low
    assert len(boxes) == 11  # ten names, one of two lines
    for name, (left, top, right, low) in boxes.items():
        assert left >= 0 and top >= 0, name
        assert right <= float(svg.get("width")) and low <= float(svg.get("height")), name
    for (a, one), (b, two) in combinations(boxes.items(), 2):
        beside = one[2] <= two[0] or two[2] <= one[0]
        assert beside or one[3] <= two[1] or two[3] <= one[1], (a, b)


def test_the_sketch_is_told_in_words():
    html = sketch.vessel().data
    assert 'alt="Sketch of a vessel' in html and "data:image/svg+xml;base64," in html
    for word in ("lance", "hood", "mouth", "tap hole", "trunnion", "slag", "lining", "shell"):
        assert word in sketch.ALT
