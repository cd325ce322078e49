"""Write into the lessons what each word of the trade means at its first use, from the glossary.

python tests/tools/write_terms.py [NOTEBOOK ...]     all lessons, or those named
"""

import sys
from pathlib import Path

import nbformat

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from given import given

from steelthermo.course.terms import with_terms


def texts_of(notebook):
    """Its Markdown cells, in order."""
    return [cell for cell in notebook.cells if cell.cell_type == "markdown"]


def written(path):
    """The notebook with its terms explained."""
    notebook = nbformat.read(path, as_version=4)
    cells = texts_of(notebook)
    for cell, text in zip(cells, with_terms([c.source for c in cells]), strict=True):
        cell.source = text
    return notebook


if __name__ == "__main__":
    for name in given(__doc__, "notebooks...").notebooks or sorted(
        map(str, (ROOT / "lessons").glob("*.ipynb"))
    ):
        text = nbformat.writes(written(name)) + "\n"
        Path(name).write_text(text, encoding="utf-8", newline="\n")
