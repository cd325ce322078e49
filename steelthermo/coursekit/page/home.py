"""Where a learner stands: the lessons as links, how far each exercise is, what to go on with and
what comes back today. Made from the answer sheet alone.
"""

from datetime import date
from html import escape

from ...base import Html, table, translated
from ..adapter import in_use
from ..answers import say
from ..html import listed, paragraphs, worded
from ..paper import FIRST, LAST, paper
from ..sheet import journal_here, working_folder
from .paper_page import skills
from .today import due_today


class Home:
    """Shown when it is the last line of a cell of a notebook in the folder of lessons.

    folder: the working folder, or a function that returns it; today: a date, None for this day;
    more: pairs (title, HTML) of what a course adds below, folded.
    """

    def __init__(self, folder=None, today=None, more=()):
        self.more = more
        folder = folder or working_folder
        self.lessons, self.today = in_use().lessons, today or date.today()
        self.records, self.standings, self.learner, self.gain = [], {}, "", ""
        journal, _ = journal_here(folder)
        if journal:
            self.learner, self.records = journal.learner, journal.records
            self.standings, self.gain = journal.standings(), skills(journal)

    def solved(self, lesson, how="done"):
        """How many problems of a lesson are solved, or "mastered"."""
        mine = [self.standings[p.key] for p in lesson.problems if p.key in self.standings]
        return sum(getattr(one, how) for one in mine)

    @property
    def going_on(self):
        """The first lesson with problems that are not all solved, or None."""
        return next((one for one in self.lessons if self.solved(one) < len(one.problems)), None)

    @property
    def due(self):
        """The problems that come back today, in their order."""
        return due_today(self.records, self.today)

    def _repr_html_(self):
        rows = []
        for one in self.lessons:
            lesson, exercise = one.link(one.question), ""
            if one.problems or one.chain:
                exercise = one.link(say("home.exercise", number=one.number), "../exercises/")
            counts = {"solved": self.solved(one), "mastered": self.solved(one, "mastered")}
            count = say("home.count", total=len(one.problems), **counts)
            skills = self._folded(count, listed(map(self._skill, one.problems)))
            rows.append((one.number, lesson, exercise, skills if one.problems else ""))
        return worded(
            self._today()
            + self._papers()
            + table(say("home.heads").split("|"), rows, say("home.map"))
            + "".join(self._folded(title, page) for title, page in self.more)
        )

    def _skill(self, problem):
        """A problem and how far it is."""
        one = self.standings.get(problem.key)
        how = "new" if one is None or not one.attempts else "tried"
        if one is not None and one.done:
            how = "mastered" if one.mastered else "solved"
        return f"{translated(problem.title)}: {say(f'home.{how}')}"

    @staticmethod
    def _folded(title, page):
        return Html(f"<details><summary>{escape(translated(title))}</summary>{page}</details>")

    def _papers(self):
        """The paper to take, or what was gained."""
        if self.gain:
            return self.gain
        told = {FIRST: say("home.first_paper"), LAST: say("home.last_paper")}
        key = LAST if paper(FIRST).ended(self.records) else FIRST
        link = f'<a href="../exercises/{key}_paper.ipynb">{escape(told[key])}</a>'
        return f"<p>{link}</p>" if in_use().paper else ""

    def _today(self):
        if not self.learner:
            return paragraphs(say("home.nobody"))
        told = paragraphs(say("home.signed", learner=self.learner))
        going, due = self.going_on, self.due
        if going is not None:
            link = going.link(say("home.exercise", number=going.number), "../exercises/")
            told += f"<p>{say('home.go_on')} {link}</p>"
        if not due:
            return told + paragraphs(say("home.nothing_due"))
        titles = listed([problem.title for problem in due], "ol")
        link = f'<a href="../exercises/today.ipynb">{escape(say("home.to_today"))}</a>'
        return f"{told}{paragraphs(say('home.due'))}{titles}<p>{link}</p>"

    def __repr__(self):
        done = sum(self.solved(one) for one in self.lessons)
        return say("home.plain", solved=done, total=sum(len(x.problems) for x in self.lessons))
