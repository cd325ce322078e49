"""The exercise page of a lesson: exercise.show("oxidation_heat"), and questions before a panel:
exercise.predict(panel, ...).
"""

from html import escape
from pathlib import Path

import ipywidgets as widgets
from IPython.display import display

from ...base import InputError, translated
from ..adapter import in_use
from ..answers import say
from ..html import hook, paragraphs, still
from ..lesson import Lesson
from ..opener import Opener
from ..parts import Region, button, column, guarded, html, row, soon, submitted
from ..problems import DEFAULT_COURSE, normalised
from ..sheet import (
    LONGEST_NAME,
    Course,
    Journal,
    hand_in,
    kept_by_browser,
    load_course,
    load_me,
    save_me,
    unwritten,
    working_folder,
)
from .problem_view import ProblemView
from .to_complete import ToComplete


class Page(Region):
    """A lesson's problems for whoever signs in. Shown when it is the last line of a cell.

    lesson: a Lesson; folder: the working folder, or a function that returns it.
    views: {problem key: ProblemView} once somebody has signed in; journal: their records; fault:
    what is wrong with course.toml, or ''.
    """

    def __init__(self, lesson, folder=None):
        self.lesson, self.folder = lesson, folder or working_folder
        self.views, self.journal, self.fault, self.course = {}, None, "", Course()
        self.name = submitted(widgets.Text(description=say("page.name")), self.begin)
        self.key = submitted(widgets.Text(description=say("page.course")), self.begin)
        self.begin_button = button(say("page.begin"), lambda: soon(self.begin))
        self.change_button = button(say("page.change"), self.change)
        self.intro, self.progress, self.feedback = html(), html(), html("st-sentence")
        hint = html(value=paragraphs(say("page.course_hint", default=DEFAULT_COURSE)))
        self.sign_in = row("st-row", self.name, self.key, self.begin_button, hint)
        self.hand_in_button = button(say("hand_in.button"), self.hand_in)
        self.signed = row("st-row", html(), self.change_button, self.hand_in_button)
        self.list = column("")
        self.widget = column(
            "st-exercise",
            html("st-hook", hook(self.question(), "exercise")),
            self.intro,
            self.sign_in,
            self.signed,
            self.progress,
            self.feedback,
            self.list,
        )
        self.open()

    def where(self):
        """The working folder now."""
        return self.folder() if callable(self.folder) else self.folder

    @guarded
    def open(self):
        """Sign in whoever worked here last, or ask."""
        try:
            self.course = load_course(self.where())
        except InputError as error:
            self.fault = str(error)
        me = load_me(self.where())
        if self.course.learner:  # a folder that was made for somebody
            me = (self.course.learner, self.course.key)
        self.key.value = (
            self.course.key
            if self.course.key != DEFAULT_COURSE
            else me[1]
            if me
            else DEFAULT_COURSE
        )
        self.key.disabled = self.course.key != DEFAULT_COURSE
        self.intro.value = paragraphs(say("page.intro"))
        if self.fault:
            self.sign_in.layout.display = self.signed.layout.display = "none"
            self.tell(self.fault)
        elif me:
            self.name.value = me[0]
            self._start(me[0], self.key.value)
        else:
            self._ask()

    def _ask(self):
        self.sign_in.layout.display, self.signed.layout.display = "", "none"

    @guarded
    def change(self):
        """Let somebody else sign in."""
        self._ask()

    @guarded
    def hand_in(self):
        """Make the one file to hand in, and say where it is."""
        sheet = self.journal.sheet
        if sheet is None or not sheet.path.is_file():
            return self.tell(self.journal.notice or say("hand_in.nothing"))
        try:
            path, count = hand_in(sheet, self.course.id)
        except OSError as error:
            return self.tell(unwritten(self.where(), error))
        return self.tell(say("hand_in.done", path=path, count=count))

    @guarded
    def begin(self):
        """Sign in under the name typed."""
        learner, course = self.name.value.strip(), self.key.value.strip() or DEFAULT_COURSE
        learner, course = (x.encode("utf-8", "ignore").decode() for x in (learner, course))
        long = next((x for x in (learner, course) if len(x) > LONGEST_NAME), None)
        if not normalised(learner):
            self.tell(say("page.name_needed"))
        elif long:
            self.tell(say("page.name_long", length=len(long), limit=LONGEST_NAME))
        else:
            unsaved = ""
            try:
                save_me(self.where(), learner, course)
            except OSError as error:
                unsaved = unwritten(self.where(), error)
            self._start(learner, course, unsaved)

    def _start(self, learner, course, unsaved=""):
        self.journal = Journal(self.folder, learner, course)
        self.sign_in.layout.display, self.signed.layout.display = "none", ""
        self.signed.children[0].value = paragraphs(
            say("page.signed", learner=learner, course=course), kept_by_browser(self.where())
        )
        trouble = unsaved or self.journal.add("open", lesson=self.lesson.name)
        more = self._shown()
        self.tell(trouble, more)
        self.refresh()

    def fixed(self, problem, number):
        """A trainer's own numbers for a problem (its key) and set."""
        return self.course.fixed(self.journal.learner, problem, number)

    def _shown(self):
        """Make the list of problems; returns what is to be told, or ''."""
        self.views = {}
        for number, problem in enumerate(self.lesson.problems, 1):
            self.views[problem.key] = ProblemView(
                problem, number, self.journal, self.fixed, self.refresh
            )
        self.examples = [ToComplete(p, self.journal) for p in self.lesson.problems if p.example]
        core, folded = (
            [view.widget for view in self.views.values() if view.problem.doubt == doubt]
            for doubt in (False, True)
        )
        self.folded = None
        shown = [view.widget for view in self.examples] + core
        if folded:
            numbers = ", ".join(str(v.number) for v in self.views.values() if v.problem.doubt)
            part = column("", *folded)
            words = say("page.doubt", numbers=numbers), say("page.doubt_fold")
            self.folded = Opener(words, part)
            shown += [self.folded.button, part]
        self.list.children = shown
        return ""

    def refresh(self):
        """The progress line."""
        if len(self.views) < len(self.lesson.problems):
            return
        standings = [s for key, s in self.journal.standings().items() if key in self.views]
        solved, tried = sum(s.done for s in standings), sum(s.attempts > 0 for s in standings)
        known = sum(s.mastered for s in standings)
        counts = {"solved": solved, "total": len(self.views), "tried": tried, "mastered": known}
        line = say("page.progress", **counts)
        self.progress.value = (
            f"<p><strong>{escape(line)}</strong> "
            f"{escape(say('page.all_done')) if solved == len(self.views) else ''}</p>"
        )

    counted = "problems"

    def question(self):
        """What stands above the page."""
        return self.lesson.question

    def titles(self):
        """What stands on the page, in order."""
        return [problem.title for problem in self.lesson.problems]

    def stills(self):
        """HTML of each of them, as a notebook shows it that is opened without a kernel."""
        start = paragraphs("To work on it, start here: menu Run, then Run All Cells.")
        each = start if self.counted == Page.counted else ""  # of a sheet one entry is open
        return [f"{escape(translated(title))}{each}" for title in self.titles()]

    def _ipython_display_(self):
        question, titles = self.question(), self.titles()
        told = "To work on these problems, start here: menu Run, then Run All Cells."
        lines = "".join(f"<li>{line}</li>" for line in self.stills())
        body = (f"<ol>{lines}</ol>" if titles else "") + paragraphs(told)
        html = still("st-page-still", "st-exercise", question, body)
        plain = f"{question}: {say(f'page.count_{self.counted}', count=len(titles))}"
        display({"text/html": html, "text/plain": plain}, raw=True)
        display(self.widget)


def show(lesson: Lesson | str, folder: str | Path | None = None) -> Page:
    """The exercise page of a lesson, shown when it is the last line of a cell.

    Parameters
    ----------
    lesson : Lesson, or name ('oxidation_heat') or number ('02') of one
    folder : the learner's working folder; None: found from where the notebook stands

    Returns
    -------
    Page

    Raises
    ------
    InputError
        For an unknown lesson.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from steelthermo.coursekit import Lesson
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> show(Lesson("01", "tea", "How much tea?", (cups,)), mkdtemp()).titles()
    ['Cups']
    """
    return Page(lesson if isinstance(lesson, Lesson) else in_use().lesson(lesson), folder)
