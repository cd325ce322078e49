"""A question to be answered before a panel's sliders move: predict, slide, explain."""

from html import escape

import ipywidgets as widgets
from IPython.display import display

from ...base import InputError
from ..answers import say
from ..html import hook, markdown, paragraphs
from ..parts import button, guarded, of_class, soon, submitted
from ..problems import DEFAULT_COURSE
from ..sheet import Journal, load_course, load_me, working_folder


class Prediction:
    """The question, its choices or box, and the panel that waits for it. Shown when it is the last
    line of a cell.
    """

    def __init__(self, panel, key, question, options=(), folder=None):
        self.panel, self.key, self.text = panel, str(key), None
        folder = folder or working_folder
        me, self._journal, must = None, None, True
        try:
            course = load_course(folder() if callable(folder) else folder)
            must = course.predict_first
            me = load_me(folder() if callable(folder) else folder)
            if me:
                self._journal = Journal(
                    folder, me[0], me[1] if course.key == DEFAULT_COURSE else course.key
                )
        except (
            InputError
        ):  # a faulty course.toml is reported on the exercise page; a lesson goes on without it
            pass
        self.box = (
            widgets.Text(description=say("page.answer"))
            if not options
            else widgets.RadioButtons(options=list(options), value=None, description="")
        )
        if not options:
            submitted(self.box, self.keep)
        self.button = button(say("predict.keep"), lambda: soon(self.keep))
        self.feedback = of_class(widgets.HTML(), "st-sentence")
        head = widgets.HTML(
            f"<p><strong>{escape(say('predict.ask'))}</strong></p>{markdown(question)}"
        )
        style = of_class(widgets.HTML(hook(say("predict.ask"), "exercise")), "st-hook")
        self.widget = of_class(
            widgets.VBox([style, head, self.box, self.button, self.feedback]), "st-exercise"
        )
        before = next(
            (
                r["text"]
                for r in reversed(self._records())
                if r["kind"] == "predict" and r["question"] == self.key
            ),
            None,
        )
        if before is not None:
            self._done(before)
        elif must:
            panel.lock(say("predict.lock"))
        else:
            self.say(paragraphs(say("predict.off")))

    def _records(self):
        return self._journal.records if self._journal else []

    def say(self, html):
        """Put something into the live region."""
        self.feedback.value = html

    @guarded
    def keep(self):
        """Keep the prediction and free the panel."""
        text = str(self.box.value or "").strip()[:200]
        if not text:
            self.say(paragraphs(say("predict.needed")))
            return
        unsaved = (
            self._journal.add("predict", question=self.key, text=text)
            if self._journal
            else say("predict.unsaved")
        )
        self._done(text, unsaved)

    def _done(self, text, unsaved=""):
        self.text = text
        self.say(paragraphs(say("predict.kept", text=text), unsaved))
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
