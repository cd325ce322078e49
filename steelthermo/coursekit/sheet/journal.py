"""What a page remembers: the answer sheet where it can be written, and in memory whatever waits to
be saved.
"""

from datetime import UTC, datetime

from ...base import InputError
from ..answers import say
from ..problems import DEFAULT_COURSE
from .course import Course, load_course, load_me
from .format import SheetError
from .progress import standings
from .sheets import Sheet


def _unsaved(kind, reason):
    """What a learner is told when a record can't be saved: a hint is no answer."""
    if kind == "answer":
        return say("sheet.unsaved", reason=reason)
    return (
        say("sheet.unsaved_entry", reason=reason)
        if kind in ("predict", "entry")
        else say("sheet.unsaved_step", reason=reason)
    )


class Journal:
    """Records of one learner. A record that cannot be saved is kept and tried again with the next
    one.

    folder: as for sheets.Sheet. notice: why the sheet cannot be used at all, or ''.
    """

    def __init__(self, folder, learner, course):
        self.learner, self.course = learner, course
        self.pending, self.notice = [], ""
        try:
            self.sheet = Sheet(folder, learner, course)
        except SheetError as error:
            self.sheet, self.notice = None, str(error)

    @property
    def records(self):
        """All records, those waiting included."""
        try:
            saved = self.sheet.records if self.sheet else []
        except SheetError:
            saved = self.sheet.contents.records
        return [*saved, *self.pending]

    def add(self, kind, **fields):
        """Keep a record; returns '' or a sentence for the learner (it could not be saved, or a
        damaged sheet was copied).
        """
        self.pending.append(
            {"kind": kind, "t": datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"), **fields}
        )
        if self.sheet is None:
            return _unsaved(kind, reason=self.notice)
        before, restored = self.sheet.kept, self.sheet.restored
        try:
            while self.pending:
                self.sheet.append(**{k: v for k, v in self.pending[0].items() if k != "t"})
                self.pending.pop(0)
        except SheetError as error:
            return _unsaved(kind, reason=str(error))
        if self.sheet.kept is not None and self.sheet.kept != before:
            return say(
                "sheet.damaged", count=len(self.sheet.contents.bad), copy=self.sheet.kept.name
            )
        if self.sheet.restored > restored:
            return say("sheet.restored", count=self.sheet.restored - restored)
        return ""

    def standings(self):
        """{problem key: Standing}."""
        return standings(self.records)


def journal_here(folder: object) -> tuple:
    """The journal of whoever worked in a folder last. What is wrong with course.toml is told on
    the exercise page: a lesson goes on without it.

    Parameters
    ----------
    folder : as for a Sheet

    Returns
    -------
    Journal or None; the Course of the folder

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> journal_here(mkdtemp())[0] is None
    True
    """
    here = folder() if callable(folder) else folder
    try:
        course = load_course(here)
    except InputError:
        return None, Course()
    me = (course.learner, course.key) if course.learner else load_me(here)
    if me is None:
        return None, course
    key = me[1] if course.key == DEFAULT_COURSE else course.key
    return Journal(folder, me[0], key), course
