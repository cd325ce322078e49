"""The page of today: problems and questions that come back, mixed from all lessons, answered where
they stand. Which they are is told from the answer sheet alone.
"""

from datetime import date
from html import escape

from ..adapter import in_use
from ..answers import say
from ..html import paragraphs
from ..lesson import Lesson
from ..parts import html
from ..sheet import Standing, due_problems
from .exercise import Page
from .problem_view import ProblemView
from .question_view import QuestionView


def due_today(records, today):
    """The problems and questions that come back, in their order."""
    course = in_use()
    keys = [p.key for p in (*course.problems, *course.questions)]
    return [course.problem(key) for key in due_problems(records, keys, today)]


class Today(Page):
    """Shown when it is the last line of a cell. today: a date, None for this day."""

    def __init__(self, folder=None, today=None):
        self.today = today or date.today()
        super().__init__(Lesson("", "today", say("today.question"), ()), folder)

    def _shown(self):
        """Make the list, each with new numbers where this set was tried."""
        due = due_today(self.journal.records, self.today)
        mixed, unsaved = len({problem.lesson for problem in due}) > 1, ""
        self.views, shown = {}, []
        for number, problem in enumerate(due, 1):
            standing = self.journal.standings().get(problem.key) or Standing()
            if standing.current in standing.tried | standing.opened:
                told = {"problem": problem.key, "set": standing.current + 1}
                unsaved = self.journal.add("set", **told)
            lesson = in_use().lesson(problem.lesson)
            asked = problem in in_use().questions
            view = (
                QuestionView(problem, self.journal, self.refresh, mixed)
                if asked
                else ProblemView(problem, number, self.journal, self.fixed, self.refresh, mixed)
            )
            self.views[problem.key] = view
            words = say("today.from", number=lesson.number, question=lesson.question)
            link = lesson.link(words, "../lessons/" if asked else "")
            view.widget.children = (html(value=f"<p>{link}</p>"), *view.widget.children)
            shown.append(view.widget)
        self.list.children = shown
        return unsaved or ("" if due else say("today.nothing"))

    def refresh(self):
        """How much of it is done."""
        done = sum(v.set in v.standing.solved | v.standing.opened for v in self.views.values())
        line = say("today.progress", done=done, total=len(self.views))
        over = say("today.over") if done == len(self.views) else ""
        told = f"<p><strong>{escape(line)}</strong></p>{paragraphs(over)}"
        self.progress.value = told if self.views else ""

    def titles(self):
        """Nothing is known before somebody signs in."""
        return []
