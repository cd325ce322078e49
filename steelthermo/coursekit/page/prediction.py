"""A question to be answered before a panel's sliders move: predict, slide, explain."""

from html import escape

import ipywidgets as widgets
from IPython.display import display

from ...base import InputError, quietly
from ..adapter import in_use
from ..answers import say
from ..html import hook, listed, markdown, paragraphs, still
from ..parts import Region, button, column, guarded, html, row, soon
from ..sheet import journal_here, working_folder


class Prediction(Region):
    """The question, its choices, and the panel that waits for it. Shown when it is the last line of
    a cell. When a slider that the question is about has moved, the panel's own figures judge it.
    """

    def __init__(self, panel, asked, folder=None):
        self.panel, self.asked, self.text = panel, asked, None
        self._journal, course = journal_here(folder or working_folder)
        # where each option stands is told by what it says: they keep their order
        self.box = widgets.RadioButtons(options=list(asked.options), value=None)
        self.why = widgets.Text(description=say("predict.why"))
        self.button = button(say("predict.keep"), lambda: soon(self.keep))
        self.feedback, self.compared, ask = html("st-sentence"), html(), say("predict.ask")
        self.widget = column(
            "st-exercise",
            html("st-hook", hook(ask, "exercise")),
            html(value=f"<p><strong>{escape(ask)}</strong></p>{markdown(asked.text)}"),
            self.box,
            row("st-row", self.why, self.button),
            self.feedback,
            self.compared,
        )
        records = self._journal.records if self._journal else ()
        kept = [r for r in records if r["kind"] == "predict" and r["question"] == asked.key]
        panel.watch = (*panel.watch, self.compare)
        if kept:
            self._done(kept[-1]["text"])
        elif course.predict_first:
            panel.lock(say("predict.lock"))
        else:
            self.tell(say("predict.off"))

    def judged(self):
        """(number of the right option, what changes, in words), from the panel's own figures; None
        where these works have no figure for it.
        """
        usual = {c.name: c.default for c in self.panel.controls} | dict(self.asked.start)
        try:
            with quietly():  # what is beyond the data is told by the panel itself
                before, after = (
                    self.asked.figure(self.panel.compute(**usual | moved))
                    for moved in ({}, dict(self.asked.move))
                )
        except InputError:
            return None
        if before is None or after is None:
            return None
        return self.asked.line(before, after), self.asked.compared(before, after)

    @guarded
    def keep(self):
        """Keep the prediction and free the panel."""
        if self.box.value is None:
            self.tell(say("predict.needed"))
            return
        text, unsaved = self.box.value, say("predict.unsaved")
        if self._journal:
            told = {"question": self.asked.key, "text": text[:200]}
            if found := self.judged():
                right = self.asked.options[found[0] - 1] == text
                told["state"] = "right" if right else "wrong"
            unsaved = self._journal.add("predict", **told, why=self.why.value.strip()[:200])
        self._done(text, unsaved)

    def _done(self, text, unsaved=""):
        self.text = text
        self.tell(say("predict.kept", text=text), unsaved)
        self.panel.unlock()

    @guarded
    def compare(self):
        """Say how it was, once a slider of the question has moved."""
        moved = any(
            self.panel.settings[c.name] != c.default
            for c in self.panel.controls
            if c.name in self.asked.move
        )
        if self.text is None or self.compared.value or not moved:
            return
        told = paragraphs(say("predict.no_figure"))
        if found := self.judged():
            option = self.asked.options[found[0] - 1]
            # a sheet keeps 200 characters of a text
            how = "predict.fits" if option[:200] == self.text[:200] else "predict.fits_not"
            told = paragraphs(found[1], say(how, option=option))
        reason = markdown(self.asked.reason)
        self.compared.value = f'<div class="st-verdict" role="status">{told}{reason}</div>'

    def _ipython_display_(self):
        start = paragraphs("To answer it, start here: menu Run, then Run All Cells.")
        body = markdown(self.asked.text) + listed(self.asked.options) + start
        told = still("st-predict-still", "st-exercise", say("predict.ask"), body)
        display({"text/html": told, "text/plain": self.asked.text}, raw=True)
        display(self.widget._repr_mimebundle_() | {"text/plain": "A prediction"}, raw=True)


def predict(panel, name=None, folder=None):
    """Lock a panel until the learner has answered the question that its lesson asks before it; the
    prediction is kept in the answer sheet.

    panel: a Panel; name: which question ('silica'), the first if left out. A trainer switches the
    lock off by predict_first = false in course.toml. Returns a Prediction, to be shown above the
    panel. Raises InputError for an unknown one.
    """
    for lesson in in_use().lessons:
        for asked in lesson.questions.predict if lesson.questions else ():
            own = (asked.panel or lesson.name) == panel.name
            if own and name in (None, asked.key.partition(".")[2]):
                return Prediction(panel, asked, folder)
    raise InputError(f"prediction: {name!r} of {panel.name} was asked for; there is none.")
