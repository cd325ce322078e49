"""Questions answered in place: what was to be noticed at a panel, and what learners check of
themselves. A wrong answer says so and no more; after the last try the reason is told, and the
question comes back.
"""

from html import escape

from IPython.display import display

from ...base import InputError
from ..adapter import in_use
from ..answers import say
from ..html import hook, markdown, paragraphs, still
from ..parts import Region, button, column, guarded, html, row, soon
from ..problems import DEFAULT_COURSE, check, draw
from ..sheet import Standing, journal_here, standings, working_folder
from .answer_box import AnswerBox
from .problem_view import TRIES


class _Unkept:
    """In the place of a Journal where no name is known: what is answered here is judged only."""

    learner, course = "a reader", DEFAULT_COURSE

    def __init__(self):
        self.records = []

    def add(self, kind, **fields):
        """Remember a record as long as the page is open."""
        self.records.append({"kind": kind, "t": "", **fields})
        return say("question.later")

    def standings(self):
        """{question key: Standing}."""
        return standings(self.records)


class QuestionView(Region):
    """One question. journal: where records go; changed: called after each answer; mixed: it stands
    among questions of other lessons.
    """

    def __init__(self, problem, journal, changed=lambda: None, mixed=False):
        self.problem, self.journal, self.changed, self.mixed = problem, journal, changed, mixed
        self.set = self.standing.current
        self.draw = draw(problem, journal.learner, journal.course, self.set)
        self.answer = AnswerBox(problem, self.check, numbered=False)
        self.answer.show(self.draw)
        self.choice, self.box = self.answer.choice, self.answer.box
        self.button = button(say("page.check"), lambda: soon(self.check))
        self.feedback = html("st-sentence")
        text = html(value=markdown(self.draw.text(problem.text)), math=True)
        buttons = row("st-row", self.button)
        self.widget = column("st-problem", text, *self.answer.parts, buttons, self.feedback)
        self.show()

    @property
    def standing(self):
        """Where the learner stands with this question (progress.Standing)."""
        return self.journal.standings().get(self.problem.key) or Standing()

    @property
    def over(self):
        """True once it is solved, or its reason was told."""
        return self.set in self.standing.solved | self.standing.opened

    @guarded
    def check(self):
        """Judge what is typed or chosen, and keep it."""
        if self.over:
            return
        text = self.answer.typed()
        verdict = check(self.draw, text, direction=not self.standing.missed[self.set])
        if not verdict.readable:
            self.tell(*verdict.sentences)
            return
        what = {"problem": self.problem.key, "set": self.set}
        told = {"text": text, "state": verdict.state, "slips": list(verdict.slips)}
        mixed = {"mixed": True} if self.mixed else {}
        unsaved = self.journal.add("answer", **what, **told, given=self.draw.given, **mixed)
        lines = 0 if self.problem.number else len(self.draw.problem.choice.options)
        tries = min(TRIES, max(lines - 2, 1)) if lines else TRIES
        if not verdict.done and self.standing.missed[self.set] >= tries:
            unsaved = self.journal.add("worked", **what)
        self.show(verdict, unsaved)
        self.changed()

    def show(self, verdict=None, unsaved=""):
        """The state as the sheet has it, and what is told to an answer."""
        over, solved = self.over, self.set in self.standing.solved
        first, *more = verdict.sentences if verdict else [say("verdict.right")] if over else [""]
        if over and not solved:
            first, more = say("verdict.wrong"), [say("question.over")]
        elif verdict and verdict.state == "wrong" and self.problem.number:
            more += self.draw.hints()
        told = "".join(markdown(text) for text in more if not (solved and self.draw.choice))
        reason = markdown(self.draw.worked_text()) if over else ""
        if first:
            head = f"<p><strong>{escape(first)}</strong></p>"
            self.say(f'<div class="st-verdict">{head}{told}{reason}{paragraphs(unsaved)}</div>')
        self.answer.hold(over)
        self.button.disabled = over


class Asked:
    """The questions of a part of a lesson, one below the other, for whoever signed in last. Shown
    when it is the last line of a cell.

    views: {question key: QuestionView}.
    """

    def __init__(self, problems, part, folder=None):
        self.title = say("question.notice") if part == "notice" else say("question.check")
        journal = journal_here(folder or working_folder)[0]
        self.problems, self.views = problems, {}
        journal = journal or _Unkept()
        for problem in problems:
            self.views[problem.key] = QuestionView(problem, journal)
        head = html("st-hook", hook(self.title, "exercise"))
        self.widget = column("st-exercise", head, *(v.widget for v in self.views.values()))

    def _ipython_display_(self):
        told = "To answer these questions, start here: menu Run, then Run All Cells."
        texts = [markdown(view.draw.text(view.problem.text)) for view in self.views.values()]
        body = f"<ol>{''.join(f'<li>{text}</li>' for text in texts)}</ol>{paragraphs(told)}"
        page = still("st-ask-still", "st-exercise", self.title, body)
        plain = f"{self.title}: {say('page.count_questions', count=len(self.views))}"
        display({"text/html": page, "text/plain": plain}, raw=True)
        display(self.widget._repr_mimebundle_() | {"text/plain": self.title}, raw=True)


def ask(lesson, part, folder=None):
    """The questions of a lesson to be answered in place.

    lesson: its name or number; part: 'notice' or 'check'; folder: the working folder. Raises
    InputError for an unknown one.
    """
    one = in_use().lesson(lesson)
    if part not in ("notice", "check") or one.questions is None:
        raise InputError(f"questions: {part!r} of lesson {one.number} was asked for.")
    return Asked(getattr(one.questions, part), part, folder)
