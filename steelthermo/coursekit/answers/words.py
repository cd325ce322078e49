"""Every sentence the checker, the page and the answer sheet say: words.toml beside this file holds
them, for a translator or trainer. Sentences about one problem stand in the problem's own record.
"""

import tomllib
from functools import cache
from pathlib import Path

from ...base import translated

# The four states of a problem, by their key in code and sheet.
STATES = {
    "not_attempted": "not attempted",
    "right": "right",
    "right_rounded": "right within hand-calculation rounding",
    "wrong": "wrong",
}


@cache
def catalogue():
    """{key: sentence} of words.toml; a key is 'section.name'."""
    words = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
    return {f"{part}.{name}": text for part, of in words.items() for name, text in of.items()}


def say(key, /, **values):
    """The sentence of that key with its placeholders filled; for a count of 1 the sentence
    <key>.one, where there is one.

    Raises KeyError for an unknown key: a fault of the kit, not of a learner.
    """
    one = f"{key}.one"
    known = catalogue()
    text = translated(known[one if values.get("count") == 1 and one in known else key])
    return text.format(**{n: translated(v) if isinstance(v, str) else v for n, v in values.items()})
