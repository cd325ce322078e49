"""The words of the trade, one page: each with its other names, one sentence, and the lesson that
uses it first.
"""

from html import escape

from ..base import Html, Table, table, translated
from ..coursekit.page import printed_page

TITLE = "The words of the trade"
NOTE = (
    "The words are common practice, without a source. Another name in the second column means "
    "the same; the lessons use the first."
)
_CSS = "@media print{body{font-size:8.5pt;max-width:none}@page{size:A4;margin:12mm}}"


def _table():
    def shown(cell):
        return "" if cell == "none" else cell if isinstance(cell, str) else f"{cell:02.0f}"

    rows = [
        (r["key"], shown(r["others"]), r["words"], shown(r["lesson"]))
        for r in Table("glossary").rows
    ]
    return table(("term", "other names", "what it means", "lesson"), rows)


def glossary_html():
    """The glossary as a page that needs no other file."""
    body = f"<style>{_CSS}</style><h1>{translated(TITLE)}</h1><p>{escape(NOTE)}</p>{_table()}"
    return printed_page(TITLE, body, wide=True)


class Glossary:
    """The glossary in a notebook."""

    def _repr_html_(self):
        told = f"{NOTE} To print this page, run in a terminal: steelthermo glossary"
        return Html(f"<p>{escape(told)}</p>{_table()}")
