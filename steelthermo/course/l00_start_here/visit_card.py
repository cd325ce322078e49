"""The visit card: one page to print, filled in and carried on every visit to a works."""

from html import escape

from ...base import VERIFIED, Table, table, translated
from ...coursekit.page import printed_page, worded
from ...trust import caution
from ..adapter import DEFERRAL

_FROM_MEMORY = "\u00a0*"
PARTS = {
    "before": "Before the visit",
    "way": "On the way",
    "vessel": "At the vessel",
    "alarm": "When something happens",
}
_CSS = (
    "body{font-size:12px;line-height:1.25;margin:8px auto}h1{font-size:1.5em}"
    "th,td{padding:1px 6px 1px 0}caption{margin-top:5px}table{width:100%;table-layout:fixed}"
    "col.a{width:25%}col.b{width:45%}table~table thead{display:none}"
    "@media print{body{font-size:7.3pt;line-height:1.2;margin:0;max-width:none}"
    "@page{size:A4;margin:7mm 10mm}}"
)


def _lines(part):
    """(topic, words, status) of the lines of a part; words of a hazard are those of its caution."""
    for row in Table("visit_card").where("part", part):
        hazard = None if row["hazard"] == "none" else caution(row["hazard"])
        words = hazard.visitor if hazard else row["words"]
        yield row["topic"], words, hazard.status if hazard else row["status"]


def _tables():
    made = []
    for part, title in PARTS.items():
        rows = [
            (f"☐ {translated(topic)}{_FROM_MEMORY if status == 'memory' else ''}", words, "")
            for topic, words, status in _lines(part)
        ]
        columns = '<colgroup><col class="a"><col class="b"><col></colgroup>'
        heads = ("danger", "what a visitor does", "the site's rule")
        made.append(table(heads, rows, title).replace("</caption>", f"</caption>{columns}"))
    return "".join(made)


def _read():
    """Titles of the texts in which lines were read."""
    card = Table("visit_card")
    hazards = [caution(r["hazard"]) for r in card.rows if r["hazard"] != "none"]
    found = [*map(card.provenance_of, card.rows), *(hazard.provenance[0] for hazard in hazards)]
    sources = dict.fromkeys(p.source for p in found if p.status in VERIFIED)
    return "; ".join(f"{source.authors}, {source.subject}" for source in sources)


def visit_card_html():
    """The card as a page that needs no other file."""
    told = (
        "Learn the site's rule for each line and write it into the right column before you go. "
        "Tick a line when you know its rule. " + DEFERRAL.partition(". ")[2]
    )
    end = (
        f"Read for this card: {_read()}. Lines with * are from memory; the others are common "
        "practice or follow from these texts."
    )
    body = (
        f"<style>{_CSS}</style><h1>Visit card: what can hurt you at a vessel</h1>"
        f"<p>{escape(told)}</p>{_tables()}<p class='small'>{escape(end)}</p>"
        "<p>Name: <span class='blank'></span> Escort: <span class='blank'></span> "
        "Date: <span class='blank' style='width:8em'></span></p>"
    )
    return printed_page("Visit card", body)


class VisitCard:
    """The card in a notebook."""

    def _repr_html_(self):
        told = "To print this card, run in a terminal: steelthermo card"
        return worded(f"{_tables()}<p>{escape(DEFERRAL)} {told}</p>")
