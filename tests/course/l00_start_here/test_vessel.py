"""The sketch of the vessel: every name readable, none on another, and all of them told to those who
do not see it.
"""

from itertools import combinations

import pytest

from steelthermo.course.l00_start_here import vessel as sketch


@pytest.fixture(scope="module")
def boxes():
    fig = sketch.figure()
    fig.draw_without_rendering()
    return fig, {
        text.get_text(): text.get_window_extent() for text in fig.axes[0].texts if text.get_text()
    }


def test_names_stand_inside_the_picture_and_apart(boxes):
    fig, found = boxes
    assert len(found) == 10
    width, height = fig.get_size_inches() * fig.dpi
    for name, box in found.items():
        assert box.x0 >= 0 and box.y0 >= 0 and box.x1 <= width and box.y1 <= height, name
    for (a, first), (b, second) in combinations(found.items(), 2):
        assert not first.overlaps(second), (a, b)


def test_the_sketch_is_told_in_words(boxes):
    html = sketch.vessel().data
    assert 'alt="Sketch of an oxygen converter' in html and "data:image/png;base64," in html
    for word in ("lance", "hood", "mouth", "tap hole", "trunnion", "slag", "lining", "shell"):
        assert word in sketch.ALT
