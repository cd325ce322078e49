"""The page of the case drill (exercise 13): twenty decisions, each played out, and their cost."""

from datetime import date
from html import escape

from ...coursekit.page import ChainPage, debrief, printed_page
from ...coursekit.sheet import check_line
from ..adapter import STEEL
from .chain import CHAIN


class DrillPage(ChainPage):
    """The drill for whoever signs in. A decision is not checked before it is made."""

    checkable = False
    cautions = ("sampling", "oxidised_slag", "carbon_monoxide", "water_under_metal", "tapping")

    def __init__(self, folder=None):
        super().__init__(STEEL.lesson("end_point"), folder)

    def heading(self, entry):
        return entry.title

    def picture(self):
        return ""

    def sign_off_html(self):
        """The drill on paper: what was decided, what came of it and what it cost."""
        sheet, today = self.sheet, date.today().isoformat()
        words = f"{sheet.outcome()[0]} {sheet.cost_words()}"
        facts = f"drill {sheet.set}, {words} {today}"
        body = (
            f"<h1>Can I tap? Twenty cases</h1><p>{escape(sheet.learner)} · course "
            f"{escape(sheet.course)} · drill {sheet.set} · {today}</p>"
            f"<p><strong>{escape(words)}</strong></p>{debrief(sheet, CHAIN.called)}"
            f"<p class='note'>{escape(STEEL.deferral)}</p>"
            f"<p class='small'>{escape(check_line(sheet.learner, sheet.course, facts))}</p>"
            "<p>Trainer: <span class='blank'></span> Date: <span class='blank'></span></p>"
        )
        return printed_page(f"Drill {sheet.learner}", body)
