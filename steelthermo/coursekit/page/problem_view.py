"""One problem on the page: text, box, check, hint, worked solution, another set. Knows widgets and
nothing of physics.
"""

from html import escape

from ...base import InputError
from ..answers import STATES, clip, say
from ..caution import caution_box
from ..html import markdown, paragraphs
from ..parts import Region, button, column, guarded, html, row, soon
from ..problems import check, draw
from ..sheet import Standing
from .answer_box import AnswerBox

TRIES = 3  # wrong answers to one set of numbers, then come new ones


class ProblemView(Region):
    """The widgets of one problem for one learner.

    number: its place on the page; journal: where records go; fixed: function (problem key, set) ->
    a trainer's numbers;
    changed: called after each record, so that the page can show progress; mixed: it stands among
    problems of other lessons.
    """

    def __init__(self, problem, number, journal, fixed, changed, mixed=False):
        self.problem, self.number, self.journal = problem, number, journal
        self.fixed, self.changed, self.mixed = fixed, changed, mixed
        self.draw = None

        def told(text, css=""):
            math = callable(text) or "$" in text
            return html(css, math=math)

        self.heading, self.text, self.asked = html(), told(problem.text), html()
        self.status = html()
        self.feedback, self.hints = html("st-sentence"), html("st-more")
        self.worked = told(problem.worked, "st-more")
        self.answer = AnswerBox(problem, self.check)
        self.choice, self.box = self.answer.choice, self.answer.box
        self.check_button = button(say("page.check"), lambda: soon(self.check))
        self.another_button = button(say("page.another"), self.another)
        self.hint_button = button(say("page.hint"), self.hint)
        self.worked_button = button(say("page.worked"), self.ask_worked)
        self.yes_button = button(say("page.worked_yes"), self.open_worked)
        self.no_button = button(say("page.worked_no"), self.close_question)
        self.question = row("st-row", html(), self.yes_button, self.no_button)
        another = self.another_button if problem.given else None
        buttons = (self.check_button, self.hint_button, self.worked_button, another)
        self.widget = column(
            "st-problem",
            self.heading,
            self.text,
            *self.answer.parts,
            row("st-row", *buttons),
            self.question,
            self.asked,
            self.feedback,
            self.status,
            self.hints,
            self.worked,
        )
        self.start()

    # ---- what the buttons do ---------------------------------------------------------------------

    @guarded
    def check(self):
        """Check what is typed and chosen; keep it in the sheet."""
        standing = self.standing
        if self.draw is None:
            return
        if self.set in standing.opened:
            closed = "page.worked_closed" if self.problem.given else "page.worked_closed_same"
            self.tell(say(closed))
            return
        text = self.answer.typed()
        verdict = check(self.draw, text, direction=not standing.missed[self.set])
        what = {"problem": self.problem.key, "set": self.set, "text": text}
        if verdict.readable:
            unsaved = self.journal.add(
                "answer",
                **what,
                state=verdict.state,
                slips=list(verdict.slips),
                given=self.draw.given,
                **({"mixed": True} if self.mixed else {}),
            )
        else:
            unsaved = self.journal.add("unreadable", **what) if text.strip(" ;") else ""
        first, *more = verdict.sentences
        entered = (
            f"<p><strong>{escape(first)}</strong> "
            f"{escape(say('page.entered', text=clip(text, 60)))}</p>"
        )
        body = (
            entered + "".join(f"<div>{markdown(s)}</div>" for s in more)
            if verdict.readable
            else paragraphs(first)
        )
        told = f'<div class="st-verdict">{body}</div>'
        over = self.problem.given and self.standing.missed[self.set] >= TRIES
        if verdict.state == "wrong" and over and self.set not in self.standing.solved:
            unsaved = self._next_set()
            told += paragraphs(say("page.tries_over"))
        self.say(told + paragraphs(unsaved))
        self.refresh()

    @guarded
    def hint(self):
        """Show one more hint."""
        standing = self.standing
        taken = standing.hints.get(self.set, 0)
        if not (self.set in standing.tried | standing.opened or standing.missed[self.set - 1]):
            self.tell(say("page.hint_first"))
            return
        if taken >= len(self.draw.hints()):
            self.tell(say("page.hints_over"))
            return
        record = {"problem": self.problem.key, "set": self.set, "number": taken + 1}
        self.tell(self.journal.add("hint", **record))
        self.refresh()

    @guarded
    def ask_worked(self):
        """Ask before the worked solution is opened; once it is open, or the set is solved, show it
        at once.
        """
        standing = self.standing
        if self.set in standing.opened or self.set in standing.solved:
            self.open_worked()
            return
        text = say("page.worked_confirm" if self.problem.given else "page.worked_confirm_same")
        self.question.children[0].value = paragraphs(text)
        self.question.layout.display = ""

    @guarded
    def open_worked(self):
        """Show the worked solution."""
        self.question.layout.display = "none"
        if self.set not in self.standing.opened:
            self.tell(self.journal.add("worked", problem=self.problem.key, set=self.set))
        self.refresh()

    @guarded
    def close_question(self):
        """Leave the worked solution closed."""
        self.question.layout.display = "none"

    @guarded
    def another(self):
        """Draw another set of numbers; allowed once this one is solved or its worked solution was
        opened.
        """
        if self.set not in self.standing.opened | self.standing.solved:
            self.tell(say("page.another_closed"))
            return
        self.tell(self._next_set())

    def _next_set(self):
        """Go on with new numbers; returns '' or what could not be saved."""
        unsaved = self.journal.add("set", problem=self.problem.key, set=self.set + 1)
        self.box.value, self.choice.value = "", None
        self.start()
        return unsaved

    # ---- what it shows ---------------------------------------------------------------------------

    @property
    def standing(self):
        """Where the learner stands with this problem (progress.Standing)."""
        return self.journal.standings().get(self.problem.key) or Standing()

    @guarded
    def start(self):
        """Draw the numbers of the set being worked on and show the problem."""
        self.set = self.standing.current
        self.question.layout.display = "none"
        try:
            self.draw = draw(
                self.problem,
                self.journal.learner,
                self.journal.course,
                self.set,
                self.fixed(self.problem.key, self.set),
            )
        except InputError as error:
            self.draw = None
            self.heading.value = f"<h3>{self.number}. {escape(self.problem.title)}</h3>"
            self.tell(str(error))
            return
        box = caution_box(self.problem.cautions)
        self.text.value = box + markdown(self.draw.text(self.problem.text))
        self.answer.show(self.draw)
        number = self.problem.number
        if number:
            unit = (
                say("page.unit_none")
                if number.unit == "1"
                else say("page.unit_line", unit=number.unit)
            )
            tolerance = say("page.tolerance", tolerance=number.tolerance_text(), why=number.why)
            self.asked.value = f'<p class="st-small">{escape(unit)} {escape(tolerance)}</p>'
        self.say("")
        last = self.standing.last.get(self.set)
        if last:
            self.tell(say("page.last", text=last))
        self.refresh()

    def refresh(self):
        """Show state, hints taken and the worked solution as the sheet has them."""
        standing = self.standing
        opened, taken = self.set in standing.opened, standing.hints.get(self.set, 0)
        self.heading.value = (
            f"<h3>{self.number}. "
            f"{escape(self.problem.title)}"
            f"{escape(', ' + say('page.set', set=self.set)) if self.set > 1 else ''}</h3>"
        )
        attempts = (
            ""
            if not standing.attempts
            else say("page.attempt_one")
            if standing.attempts == 1
            else say("page.attempts", count=standing.attempts)
        )
        mastery = say("page.mastered") if standing.mastered else ""
        if standing.clean and not mastery:
            mastery = say("page.half_mastered")
        self.status.value = (
            "<p "
            f'class="st-small">{escape(say("page.state", state=STATES[standing.state]))} '
            f"{escape(attempts)} {escape(mastery)}</p>"
        )
        hints = self.draw.hints()
        of = len(hints)
        self.hints.value = "".join(
            f'<div class="st-hint"><strong>{escape(say("page.hint_n", n=n, of=of))}</strong>'
            f"{markdown(h)}</div>"
            for n, h in enumerate(hints[:taken], 1)
        )
        self.worked.value = (
            f'<div class="st-worked"><strong>{escape(say("page.worked"))}</strong>'
            f"{markdown(self.draw.worked_text())}</div>"
            if opened
            else ""
        )
        self.answer.hold(opened)
        self.check_button.disabled = opened
        self.changed()
