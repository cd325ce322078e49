"""The page of reference libraries: each number of the kit beside that of a library, where it is
installed, no further apart than the line says.
"""

import importlib.util
import sys
from pathlib import Path

import pytest

_spec = importlib.util.spec_from_file_location(
    "side_by_side", Path(__file__).parents[1] / "tools" / "side_by_side.py"
)
tool = importlib.util.module_from_spec(_spec)
sys.modules["side_by_side"] = tool  # a dataclass looks its module up
_spec.loader.exec_module(tool)
LIBRARIES, lines, page_html = tool.LIBRARIES, tool.lines, tool.page_html


# the tables of chemicals take seconds to load
SLOW = {"chemicals": pytest.mark.long}


@pytest.mark.parametrize(
    "library", [pytest.param(name, marks=SLOW.get(name, ())) for name in LIBRARIES]
)
def test_side_by_side(library):
    """Sources: the libraries named in the head of side_by_side.py, general ones of the registry."""
    pytest.importorskip(library)
    found = lines(library)
    assert len(found) >= 3
    for line in found:
        assert line.ours == pytest.approx(line.theirs, abs=line.within), line.what
        assert line.within < 0.03 * abs(line.theirs), line.what


@pytest.mark.long
def test_the_page_prints_every_difference():
    html = page_html().translate(dict(zip(map(ord, "\u00a0\u202f\u2212"), "  -", strict=True)))
    for library in LIBRARIES:
        for line in lines(library):
            assert line.what in html and f"{line.ours - line.theirs:+.2g}" in html
