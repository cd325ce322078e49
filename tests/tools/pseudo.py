"""A language that nobody speaks, to see what a translator's file does not reach.

    python tests/tools/pseudo.py FILE       the whole kit, in it; then: steelthermo --language FILE

Each vowel gets an accent, and a text is 40 % longer, as German or Portuguese may be. Names in
braces, marks of HTML and Markdown, formulas and code stay, as a translator would leave them.
"""

import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from given import given

from steelthermo.app.words import all_texts
from steelthermo.base import po_text

_ACCENTS = str.maketrans("aeiouyAEIOUY", "áéíóúýÁÉÍÓÚÝ")
_KEPT = re.compile(
    r"(\{\{|\}\}|\{[^{}]*\}|<[^>]*>|&\w+;|```.*?```|`[^`]*`|\$[^$]*\$|\]\([^)]*\)|--[\w-]+|%\w?"
    r"|\b\w+\.(?:toml|ipynb|csv|html|po|json)\b|^\|[-|: ]*$)",
    re.DOTALL | re.MULTILINE,
)
LONGER = 0.4


def pseudo(text):
    """The text in the language that nobody speaks; what makes it longer stands behind the last
    word.
    """
    parts = _KEPT.split(text)
    more = _pad(sum(map(len, parts[::2])))
    parts[::2] = [part.translate(_ACCENTS) for part in parts[::2]]
    last = max((k for k in range(0, len(parts), 2) if re.search(r"\w", parts[k])), default=None)
    if last is not None:
        end = re.search(r"[^\w]*$", parts[last]).start()
        parts[last] = f"{parts[last][:end]}{more}{parts[last][end:]}"
    return "".join(parts)


def _pad(letters):
    """Words that make up what is missing."""
    missing, words = round(LONGER * letters), []
    while missing > 1:
        size = min(9, missing - 1)
        words.append("ö" * size)
        missing -= size + 1
    return "".join(f" {word}" for word in words)


def write(path):
    """Write the translator's file of the whole kit."""
    texts = all_texts()
    path.write_text(po_text(texts, {text: pseudo(text) for text in texts}), encoding="utf-8")
    return texts


if __name__ == "__main__":
    print(len(write(Path(given(__doc__, "file").file))), "texts")
