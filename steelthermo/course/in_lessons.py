"""What lessons and exercises call; each loads no more than it uses."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from ..coursekit import CourseAdapter


def steel() -> CourseAdapter:
    """The course, from now on the one in use.

    Returns
    -------
    CourseAdapter, with its lessons, problems and panels

    Examples
    --------
    >>> steel().lesson("02").question
    'Why does the process need no fuel?'
    """
    from ..coursekit import use
    from .adapter import STEEL

    # At its first start Matplotlib warns that it lists the fonts: a red box in the first lesson
    logging.getLogger("matplotlib.font_manager").setLevel(logging.ERROR)
    use(STEEL)
    return STEEL


def exercise(lesson: str, folder: str | Path | None = None) -> object:
    """The problems of a lesson, with numbers of the learner's own.

    Parameters
    ----------
    lesson : its name ('oxidation_heat') or number ('02')
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the page, shown when it is the last line of a cell

    Raises
    ------
    InputError
        For an unknown lesson.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> exercise("02", mkdtemp()).titles()[0]
    'From kJ/mol to MJ'
    """
    steel()
    from ..coursekit.page import show

    return show(lesson, folder)


def mark(folder: str | Path, course: object = None, **options: object) -> object:
    """Mark a folder of answer sheets.

    Parameters
    ----------
    folder : of the sheets; zips and folders in it are looked into
    course : Course, or path of a course.toml; None: the one found in the folder
    options : as coursekit.marking.mark takes them

    Returns
    -------
    Report: table, html, write(folder)

    Raises
    ------
    InputError
        Where the folder holds no sheet.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> mark(mkdtemp())
    Traceback (most recent call last):
    steelthermo.base.errors.InputError: folder of sheets: ... holds no answer sheet.
    """
    steel()
    from ..coursekit.marking import mark

    return mark(folder, course, **options)


def panel(name: str) -> object:
    """A panel with the figures of the works in use.

    Parameters
    ----------
    name : mostly that of its lesson, as 'heat_balance'

    Returns
    -------
    Panel, shown when it is the last line of a cell

    Raises
    ------
    InputError
        For an unknown one; names those near it.

    Examples
    --------
    >>> panel("charge_materials").title
    'What goes into the vessel? (Heron Works)'
    """
    steel()
    from ..coursekit.panel import make_panel

    return make_panel(name)


def predict(panel: object, name: str | None = None, folder: str | Path | None = None) -> object:
    """The question before a panel, which is locked until it is answered.

    Parameters
    ----------
    panel : Panel
    name : which question of its lesson; None: the first
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the question, to be shown above the panel

    Raises
    ------
    InputError
        For an unknown question.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> asked = predict(panel("charge_materials"), folder=mkdtemp())
    >>> asked.panel.locked
    True
    """
    steel()
    from ..coursekit.page import predict

    return predict(panel, name, folder)


def ask(lesson: str, part: str, folder: str | Path | None = None) -> object:
    """Questions of a lesson, answered where they stand.

    Parameters
    ----------
    lesson : its name or number
    part : 'notice' or 'check'
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the questions, shown when they are the last line of a cell

    Raises
    ------
    InputError
        For an unknown one.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> len(ask("01", "check", mkdtemp()).views) > 0
    True
    """
    steel()
    from ..coursekit.page import ask

    return ask(lesson, part, folder)


def paper(which: str, folder: str | Path | None = None) -> object:
    """A paper of ten problems.

    Parameters
    ----------
    which : 'first', before the course; 'last', after it; 'exam', whose file stands in the folder
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the page, shown when it is the last line of a cell

    Raises
    ------
    InputError
        Where there is no such paper.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> paper("first", mkdtemp()).titles()[0]
    'From % to kg'
    """
    steel()
    from ..coursekit.page import PaperPage

    return PaperPage(which, folder)


def today(folder: str | Path | None = None) -> object:
    """What comes back today, to be answered there.

    Parameters
    ----------
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the page, shown when it is the last line of a cell

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> today(mkdtemp()).titles()
    []
    """
    steel()
    from ..coursekit.page import Today

    return Today(folder)


def published_values() -> object:
    """The kit against published values.

    Returns
    -------
    the table, to be searched; shown when it is the last line of a cell

    Examples
    --------
    >>> len(published_values().heads) > 3
    True
    """
    from .l16_how_sure_are_we.published import show

    return show()


def values_from_memory() -> object:
    """What rests on memory or on common practice.

    Returns
    -------
    the table, to be searched; shown when it is the last line of a cell

    Examples
    --------
    >>> len(values_from_memory().heads) > 3
    True
    """
    from .l16_how_sure_are_we.memory_table import show

    return show()


def glossary() -> object:
    """The words of the trade.

    Returns
    -------
    the list, shown when it is the last line of a cell

    Examples
    --------
    >>> "tundish" in glossary()._repr_html_()
    True
    """
    from .trade_words import Glossary

    return Glossary()


def visit_card() -> object:
    """The visit card: what a visitor of a works meets.

    Returns
    -------
    the card, shown when it is the last line of a cell

    Examples
    --------
    >>> "slag" in visit_card()._repr_html_()
    True
    """
    from .l00_start_here.visit_card import VisitCard

    return VisitCard()


def vessel() -> object:
    """The sketch of a vessel of the works in use.

    Returns
    -------
    the sketch, shown when it is the last line of a cell

    Examples
    --------
    >>> "svg" in vessel().data
    True
    """
    steel()
    from .l00_start_here.vessel import vessel

    return vessel()
