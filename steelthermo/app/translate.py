"""A notebook in the language chosen (see base/language.py)."""

import json
import re

from ..base import in_another_language, translated


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
    for cell in notebook["cells"]:
        if cell["cell_type"] == "markdown":
            said = "".join(map(translated, paragraphs_of("".join(cell["source"]))))
            cell["source"] = said.splitlines(keepends=True)
        else:
            cell["outputs"], cell["execution_count"] = [], None
    return (json.dumps(notebook, ensure_ascii=False, indent=1) + "\n").encode()
