"""A sketch of the vessel for those who have never seen one: what is called what. Not to scale, and
of no works. It is drawn in vessel.svg.
"""

import base64
import re
from html import escape
from pathlib import Path

from IPython.display import HTML

from ...base import translated

ALT = (
    "Sketch of a vessel for oxygen cut open, not to scale: a pear-shaped steel shell with a thick "
    "brick lining, open at the top. From above a water-cooled "
    "lance reaches through the hood over the mouth and blows oxygen on the bath from some two "
    "metres. Metal lies at the bottom, slag floats on it. The gas "
    "leaves through the hood. The vessel tilts on trunnions; steel runs out by the tap hole in its "
    "side, slag over the mouth."
)
SKETCH = Path(__file__).with_suffix(".svg")


def vessel():
    """The sketch, shown when it is the last line of a cell, with its description as the text for
    those who do not see it.
    """
    drawn = SKETCH.read_text(encoding="utf-8")
    drawn = re.sub(r"(?<=>)[^<>]+(?=</text>)", lambda words: translated(words[0]), drawn)
    data = base64.b64encode(drawn.encode()).decode()
    return HTML(
        f'<img class="st-picture" src="data:image/svg+xml;base64,{data}" '
        f'alt="{escape(ALT)}" width="820" '
        'style="max-width:100%;background:#ffffff">'
    )
