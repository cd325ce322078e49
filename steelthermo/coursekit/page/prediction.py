"""A question to be answered before a panel's sliders move: predict, slide, explain."""

from html import escape

import ipywidgets as widgets
from IPython.display import display

from ...base import InputError
from ..answers import say
from ..html import hook, markdown
from ..parts import Region, button, column, guarded, html, soon, submitted
from ..problems import DEFAULT_COURSE
from ..sheet import Journal, load_course, load_me, working_folder


class Prediction(Region):
    """The question, its choices or box, and the panel that waits for it. Shown when it is the last
    line of a cell.
    """

    def __init__(self, panel, key, question, options=(), folder=None):
        self.panel, self.key, self.text = panel, str(key), None
        folder = folder or working_folder
        self._journal, must = None, True
        try:
            here = folder() if callable(folder) else folder
            course, me = load_course(here), load_me(here)
            must = course.predict_first
            if me:
                key = me[1] if course.key == DEFAULT_COURSE else course.key
                self._journal = Journal(folder, me[0], key)
        except InputError:
            pass  # a faulty course.toml is told on the exercise page; a lesson goes on without it
        if options:
            self.box = widgets.RadioButtons(options=list(options), value=None, description="")
        else:
            self.box = submitted(widgets.Text(description=say("page.answer")), self.keep)
        self.button = button(say("predict.keep"), lambda: soon(self.keep))
        self.feedback, ask = html("st-sentence"), say("predict.ask")
        self.widget = column(
            "st-exercise",
            html("st-hook", hook(ask, "exercise")),
            html(value=f"<p><strong>{escape(ask)}</strong></p>{markdown(question)}"),
            self.box,
            self.button,
            self.feedback,
        )
        kept = [r for r in self._records() if r["kind"] == "predict" and r["question"] == self.key]
        if kept:
            self._done(kept[-1]["text"])
        elif must:
            panel.lock(say("predict.lock"))
        else:
            self.tell(say("predict.off"))

    def _records(self):
        return self._journal.records if self._journal else []

    @guarded
    def keep(self):
        """Keep the prediction and free the panel."""
        text = str(self.box.value or "").strip()[:200]
        if not text:
            self.tell(say("predict.needed"))
            return
        unsaved = (
            self._journal.add("predict", question=self.key, text=text)
            if self._journal
            else say("predict.unsaved")
        )
        self._done(text, unsaved)

    def _done(self, text, unsaved=""):
        self.text = text
        self.tell(say("predict.kept", text=text), unsaved)
        self.panel.unlock()

    def _ipython_display_(self):
        display(self.widget)


def predict(panel, key, question, options=(), folder=None):
    """Lock a panel until the learner has answered a question; the prediction is kept in the answer
    sheet.

    panel: anything with lock(reason) and unlock(); key: '<lesson>.<name>' under which the
    prediction is kept; question: Markdown;
    options: what to choose from, or () for a box. A trainer switches the lock off by predict_first
    = false in course.toml.
    Returns a Prediction, to be shown above the panel.
    """
    return Prediction(panel, key, question, tuple(options), folder)
