"""A notebook in the language chosen (see base/language.py)."""

import json
import re

from ..base import in_another_language, translated
from ..course import lesson_without_terms, with_terms_listed


def paragraphs_of(markdown):
    """The parts of a Markdown text that are translated one by one, and the blank lines between:
    paragraphs, lists, headings.
    """
    return [part for part in re.split(r"(\n{2,})", markdown) if part]


def in_language_chosen(name, data):
    """The bytes of a shipped file in the language chosen: of a notebook, its Markdown. What its
    cells printed in English goes; they are run again.
    """
    if not in_another_language() or not name.endswith(".ipynb"):
        return data
    notebook = json.loads(data)
    told = [cell for cell in notebook["cells"] if cell["cell_type"] == "markdown"]
    texts, terms = lesson_without_terms(["".join(cell["source"]) for cell in told])
    said = ["".join(map(translated, paragraphs_of(text))) for text in texts]
    said[:1] = [with_terms_listed(text, terms) for text in said[:1]]
    for cell, text in zip(told, said, strict=True):
        cell["source"] = text.splitlines(keepends=True)
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    return (json.dumps(notebook, ensure_ascii=False, indent=1) + "\n").encode()
