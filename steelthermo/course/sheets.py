"""The home page and the sheets of dependent entries that lessons and exercises call."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .in_lessons import steel

if TYPE_CHECKING:
    from pathlib import Path


def home(folder: str | Path | None = None) -> object:
    """Where a learner stands, what to go on with and what comes back today.

    Parameters
    ----------
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the page, shown when it is the last line of a cell

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> home(mkdtemp()).lessons[1]
    Lesson(01 charge_materials)
    """
    steel()
    from ..coursekit.page import Home
    from .l08_heat_balance.plan_page import FORMULAS, formulas
    from .trade_words import TITLE, Glossary

    return Home(folder, more=((TITLE, Glossary()._repr_html_()), (FORMULAS, formulas())))


def heat_sheet(folder: str | Path | None = None) -> object:
    """The heat sheet of lesson 15: one heat from hot metal to finished ladle.

    Parameters
    ----------
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the page, shown when it is the last line of a cell

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> heat_sheet(mkdtemp()).titles()[0]
    'Treat the hot metal first?'
    """
    steel()
    from .l15_whole_heat.page import HeatPage

    return HeatPage(folder)


def drill(folder: str | Path | None = None) -> object:
    """The case drill of lesson 13: tap, blow, cool, wait or weigh other alloys, twenty times.

    Parameters
    ----------
    folder : working folder of the learner; None: found from where the notebook stands

    Returns
    -------
    the page, shown when it is the last line of a cell

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> len(drill(mkdtemp()).titles())
    20
    """
    steel()
    from .l13_end_point.drill import DrillPage

    return DrillPage(folder)


def planning_sheet(lesson: str | None = None, folder: str | Path | None = None) -> object:
    """The planning sheet: a heat planned by hand, line by line.

    Parameters
    ----------
    lesson : name or number of the lesson whose lines are worked out, on the course's one heat;
        None: the whole sheet, with a hot metal of the learner's own
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
    >>> planning_sheet("01", mkdtemp()).titles()[0]
    'Metal to charge'
    """
    steel()
    from .l08_heat_balance.plan_page import PlanPage

    return PlanPage(lesson, folder)
