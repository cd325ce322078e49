"""Where a learner stands: the lessons as links, how far each exercise is, what to go on with and
what comes back today. Made from the answer sheet alone.
"""

from datetime import date
from html import escape

from ...base import Html, InputError, table
from ..adapter import in_use
from ..answers import say
from ..html import paragraphs
from ..problems import DEFAULT_COURSE
from ..sheet import Journal, due_problems, load_course, load_me, working_folder


class Home:
    """Shown when it is the last line of a cell of a notebook in the folder of lessons.

    folder: the working folder, or a function that returns it; today: a date, None for this day.
    """

    def __init__(self, folder=None, today=None):
        folder = folder or working_folder
        here = folder() if callable(folder) else folder
        self.lessons, self.today = in_use().lessons, today or date.today()
        self.records, self.standings, self.learner = [], {}, ""
        try:
            me, course = load_me(here), load_course(here)
        except InputError:  # told on the exercise page
            me = None
        if me:
            key = me[1] if course.key == DEFAULT_COURSE else course.key
            journal = Journal(folder, me[0], key)
            self.learner, self.records = me[0], journal.records
            self.standings = journal.standings()

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
        keys = [p.key for one in self.lessons for p in one.problems]
        return [in_use().problem(k) for k in due_problems(self.records, keys, self.today)]

    def _repr_html_(self):
        rows = []
        for one in self.lessons:
            lesson, exercise = _link(one, one.question), ""
            if one.problems or one.chain:
                exercise = _link(one, say("home.exercise", number=one.number), "../exercises/")
            counts = {"solved": self.solved(one), "mastered": self.solved(one, "mastered")}
            count = say("home.count", total=len(one.problems), **counts)
            rows.append((one.number, lesson, exercise, count if one.problems else ""))
        return self._today() + table(say("home.heads").split("|"), rows, say("home.map"))

    def _today(self):
        if not self.learner:
            return paragraphs(say("home.nobody"))
        told = paragraphs(say("home.signed", learner=self.learner))
        going, due = self.going_on, self.due
        if going is not None:
            link = _link(going, say("home.exercise", number=going.number), "../exercises/")
            told += f"<p>{say('home.go_on')} {link}</p>"
        if not due:
            return told + paragraphs(say("home.nothing_due"))
        items = "".join(
            f"<li>{_link(one, problem.title, '../exercises/')}</li>"
            for problem in due
            for one in self.lessons
            if problem.lesson == one.name
        )
        return f"{told}{paragraphs(say('home.due'))}<ol>{items}</ol>"

    def __repr__(self):
        done = sum(self.solved(one) for one in self.lessons)
        return say("home.plain", solved=done, total=sum(len(x.problems) for x in self.lessons))


def _link(lesson, text, folder=""):
    file = f"{folder}{lesson.number}_{lesson.name}.ipynb"
    return Html(f'<a href="{file}">{escape(text)}</a>')
