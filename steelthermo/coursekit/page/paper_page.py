"""The page of a paper: answers are kept as they are typed and judged only when it is finished; no
check, no hint, no solution. The first paper says where to start, the last one what was gained; an
exam asks for its code, and its numbers are there only while it is open.
"""

from dataclasses import replace
from datetime import UTC, datetime
from html import escape

import ipywidgets as widgets

from ...base import Html, InputError, table
from ..adapter import in_use
from ..answers import say
from ..caution import caution_box
from ..html import markdown, paragraphs
from ..lesson import Lesson
from ..paper import (
    EXAM_FILE,
    FIRST,
    LAST,
    count,
    in_a_word,
    load_exam,
    paper,
    plain_code,
    proof_of,
    right,
    start_after,
)
from ..parts import Region, button, column, guarded, html, row, soon, submitted
from ..problems import Draw, check
from .answer_box import AnswerBox
from .exercise import Page


def skills(journal):
    """HTML table of each skill in the first and the last paper; '' before both are finished."""
    ended = [paper(key) for key in (FIRST, LAST) if paper(key).ended(journal.records)]
    if len(ended) < 2:
        return ""
    who = journal.records, journal.learner, journal.course
    before, after = ({k: right(v) for k, v in one.marks(*who).items()} for one in ended)
    rows = [
        (
            in_use().problem(key).title,
            in_a_word(before[key]),
            in_a_word(new),
            say("paper.gained") if new and not before[key] else "",
        )
        for key, new in after.items()
    ]
    sums = {
        "before": count(before.values())[0],
        "after": count(after.values())[0],
        "total": len(rows),
    }
    told = say("paper.gain", **sums)
    return table(say("paper.heads").split("|"), rows, told)


class _Asked(Region):
    """One problem of a paper. keep: function (text) that keeps an answer and returns '' or what is
    to be told."""

    def __init__(self, number, draw, text, keep):
        self.draw, self.keep = draw, keep
        self.answer, self.feedback = AnswerBox(draw.problem, lambda: None), html("st-small")
        self.answer.show(draw)
        self.answer.fill(text)
        self.kept = text
        for part in self.answer.parts:
            part.continuous_update = False
            part.observe(self.changed, "value")
        words = caution_box(draw.problem.cautions) + markdown(draw.text(draw.problem.text))
        heading = html(value=f"<h3>{number}. {escape(draw.problem.title)}</h3>")
        text = html(value=words, math=True)
        self.widget = column("st-problem", heading, text, *self.answer.parts, self.feedback)

    @guarded
    def changed(self, _=None):
        """Keep what stands there now; say if it cannot be read, and nothing else."""
        text = self.answer.typed()
        text = text if text.strip(" ;") else ""  # what was there and is taken out again is none
        if text == self.kept:
            return
        self.kept = text
        verdict, unsaved = check(self.draw, text), self.keep(text)
        fine = verdict.readable or not text
        self.tell(unsaved or (say("paper.kept") if fine else verdict.sentences[0]))


class PaperPage(Page):
    """Shown when it is the last line of a cell. key: 'first', 'last' or 'exam' (that of the file
    exam.toml in the working folder); now: function that gives the time.
    """

    counted = "problems"

    def __init__(self, key, folder=None, now=None):
        self.paper, self.asked, self.now = None, {}, now or (lambda: datetime.now(UTC))
        self.which = key
        question = {FIRST: say("paper.first"), LAST: say("paper.last")}.get(key, say("exam.title"))
        self.code = submitted(widgets.Text(description=say("exam.code")), self.open_exam)
        self.code_button = button(say("exam.open"), lambda: soon(self.open_exam))
        self.end_button = button(say("paper.end"), lambda: soon(self.end))
        self.result = html("st-more")
        super().__init__(Lesson("", "paper", question, ()), folder)

    def _shown(self):
        """Ask for the code of an exam, or show the paper."""
        try:
            exam = self.which not in (FIRST, LAST)
            self.paper = load_exam(self.where() / EXAM_FILE) if exam else paper(self.which)
        except InputError as error:
            return str(error)
        begun = self.paper.begun(self.journal.records)
        if self.paper.exam and begun is None:
            self.list.children = [row("st-row", self.code, self.code_button)]
            return say("exam.ask", name=self.paper.key)
        if begun is None:
            self.journal.add("began", paper=self.paper.key, text="")
        return self._show(begun or "")

    @guarded
    def open_exam(self):
        """Begin the exam with the code typed, if it is the right one and the time has come."""
        state = self.paper.state(self.now())
        if state != "open":
            key = "exam.early" if state == "early" else "exam.over"
            self.tell(say(key, opens=self.paper.opens, closes=self.paper.closes))
        elif proof_of(self.paper.key, self.code.value) != self.paper.proof:
            self.tell(say("exam.wrong_code"))
        else:
            code = plain_code(self.code.value)
            unsaved = self.journal.add("began", paper=self.paper.key, text=code)
            self.tell(unsaved, self._show(code))

    def _show(self, code):
        self.paper = replace(self.paper, code=code)
        who = self.journal.learner, self.journal.course
        kept = self.paper.answers(self.journal.records)
        self.asked = {}
        for number, one in enumerate(self.paper.draws(*who), 1):
            if isinstance(one, Draw):
                key = one.problem.key
                keep = self._keeping(key)
                self.asked[key] = _Asked(number, one, kept.get(key, ("",))[0], keep)
        views = [asked.widget for asked in self.asked.values()]
        self.list.children = [*views, row("st-row", self.end_button), self.result]
        return self._state()

    def _keeping(self, key):
        def keep(text):
            if self.paper.state(self.now()) == "over":
                return say("exam.over", closes=self.paper.closes)
            return self.journal.add("paper", paper=self.paper.key, asked=key, text=text)

        return keep

    @guarded
    def end(self):
        """Finish the paper: what stands there counts."""
        for asked in self.asked.values():
            asked.changed()
        unsaved = "" if self._over() else self.journal.add("ended", paper=self.paper.key)
        self.tell(unsaved, self._state())

    def _over(self):
        return bool(self.paper.ended(self.journal.records))

    def _state(self):
        """Hold what is finished, and show what came of it; returns what is to be told."""
        over = self._over()
        for asked in self.asked.values():
            asked.answer.hold(over)
        self.end_button.disabled = over
        if not over:
            return say("paper.rules")
        self.result.value = "" if self.paper.exam else self._told()
        return say("exam.ended") if self.paper.exam else say("paper.ended")

    def _told(self):
        marks = self.paper.marks(self.journal.records, self.journal.learner, self.journal.course)
        rows = []
        for key, verdict in marks.items():
            lesson = in_use().lesson(key.partition(".")[0])
            word = in_a_word(right(verdict))
            title = in_use().problem(key).title
            rows.append(
                (
                    title,
                    word,
                    lesson.link(f"{lesson.number} {lesson.question}", "../lessons/"),
                )
            )
        done, blank = count(map(right, marks.values()))
        told = say("paper.count", right=done, total=len(marks), blank=blank)
        made = table(say("paper.marked").split("|"), rows, told)
        gain = skills(self.journal)
        if gain or self.which == LAST:
            return made + (gain or paragraphs(say("paper.no_first")))
        first = start_after(marks)
        if first is None:
            return made + paragraphs(say("paper.knows_all"))
        link = first.link(f"{first.number} {first.question}", "../lessons/")
        return f"{made}<p>{escape(say('paper.start'))} {Html(link)}</p>"

    def refresh(self):
        """Nothing is told of how it stands."""
        self.progress.value = ""

    def titles(self):
        """The skills asked for are known beforehand; those of an exam are not."""
        return (
            [] if self.which not in (FIRST, LAST) else [p.title for p in paper(self.which).problems]
        )
