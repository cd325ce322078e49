"""An example to complete, between the worked one and the problems alone: steps of a problem with
numbers of their own, some of them blank.
"""

from html import escape

from ...base import InputError
from ..answers import say
from ..caution import caution_box
from ..html import markdown, paragraphs
from ..parts import Region, button, column, guarded, html, row, soon
from ..problems import Draw, Problem, blanks, check, draw, step_values
from .answer_box import AnswerBox

TRIES = 2  # wrong values of a blank, then it is told


class _Blank(Region):
    """One step to fill in. step: it; value: right; asks: key of the example; journal: records;
    changed: called after each answer.
    """

    def __init__(self, step, value, asks, journal, changed):
        self.step, self.value, self.asks, self.journal = step, value, asks, journal
        self.changed = changed
        problem = Problem(asks, step.say, step.say, (), lambda: value, ("",), "", step.answer)
        self.draw = Draw(problem, journal.learner, journal.course, 1, {}, value, None, {}, 0)
        self.answer = AnswerBox(problem, self.check)
        self.button, self.feedback = button(say("page.check"), lambda: soon(self.check)), html()
        line = row("st-row", *self.answer.parts, self.button)
        self.widget = column("", line, self.feedback)
        self.show()

    @property
    def tried(self):
        """The states of what was filled in, in order."""
        mine = {"kind": "step", "asked": self.asks, "step": self.step.called}
        return [r["state"] for r in self.journal.records if mine.items() <= r.items()]

    @property
    def over(self):
        """True once it is right, or its value was told."""
        states = self.tried
        return states[-1:] in (["right"], ["right_rounded"]) or len(states) >= TRIES

    @guarded
    def check(self):
        """Judge what is filled in, and keep it."""
        verdict = check(self.draw, self.answer.typed(), direction=not self.tried)
        if not verdict.readable:
            self.tell(verdict.sentences[0])
            return
        what = {"asked": self.asks, "step": self.step.called, "text": self.answer.typed()}
        unsaved = self.journal.add("step", **what, state=verdict.state)
        self.show(*verdict.sentences, unsaved)
        self.changed()

    def show(self, *told):
        """What was told, and the value once it is right or was tried often enough."""
        over = self.over
        self.answer.hold(over)
        self.button.disabled = over
        value = say("complete.value", value=self.step.value_text(self.value)) if over else ""
        self.tell(*told[:2], value if over else "", *told[2:])


class ToComplete:
    """An example to complete of a problem with steps, for one learner. blanks: [_Blank]. A step is
    shown when those before it are filled in: it goes on with their values.
    """

    def __init__(self, problem, journal):
        key = f"{problem.lesson}.example"
        self.blanks, self.parts = [], []
        try:
            made = draw(problem, journal.learner, f"{journal.course} / example")
            known = step_values(problem.steps, problem.known(made.given))
        except InputError:  # told where the problem itself stands
            self.widget = column("")
            return
        for number, step in enumerate(problem.steps):
            value, blank = known[step.called], None
            told = f"<p>{number + 1}. {escape(step.say)}</p>"
            if number in blanks(problem.steps):
                blank = _Blank(step, value, key, journal, self.refresh)
                self.blanks.append(blank)
            else:
                shown = {"worked": step.written(known), "value": step.value_text(value)}
                told += paragraphs(say("complete.line", **shown))
            self.parts.append((column("", html(value=told), blank and blank.widget), blank))
        head = f"<h3>{escape(say('complete.title', title=problem.title))}</h3>"
        words = caution_box(problem.cautions) + markdown(made.text(problem.text))
        shown = (part for part, _ in self.parts)
        self.widget = column("st-problem", html(value=f"{head}{words}"), *shown)
        self.refresh()

    def refresh(self):
        """Show the steps up to the first that is still blank."""
        open_yet = True
        for part, blank in self.parts:
            part.layout.display = "" if open_yet else "none"
            open_yet = open_yet and (blank is None or blank.over)
