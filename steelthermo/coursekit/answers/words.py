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
def catalogue() -> dict:
    """The sentences of words.toml.

    Returns
    -------
    sentence by key; a key is 'section.name'

    Examples
    --------
    >>> "verdict.right" in catalogue()
    True
    """
    words = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
    return {f"{part}.{name}": text for part, of in words.items() for name, text in of.items()}


def say(key: str, /, **values: object) -> str:
    """The sentence of a key with its placeholders filled.

    Parameters
    ----------
    key : 'section.name'; for a count of 1 the sentence <key>.one, where there is one
    values : of the placeholders

    Returns
    -------
    text

    Raises
    ------
    KeyError
        For an unknown key: a fault of the kit, not of a learner.

    Examples
    --------
    >>> say("verdict.wrong")
    'Not yet.'
    """
    one = f"{key}.one"
    known = catalogue()
    text = translated(known[one if values.get("count") == 1 and one in known else key])
    return text.format(**{n: translated(v) if isinstance(v, str) else v for n, v in values.items()})
