"""What the commands call: pages to print, forms, the plan of a heat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .in_lessons import steel

if TYPE_CHECKING:
    from ..works import Profile


def sample_problems_html(lesson: str) -> str:
    """The problems of a lesson with the numbers of one made-up reader, to print.

    Parameters
    ----------
    lesson : its name or number

    Returns
    -------
    HTML

    Raises
    ------
    InputError
        For an unknown lesson.

    Examples
    --------
    >>> "Nm3" in sample_problems_html("04")
    True
    """
    problems = steel().lesson(lesson).problems
    from ..coursekit.marking import draws_for, sample_problems_html

    ((_, draws),) = draws_for(["a reader of the book"], problems=problems).items()
    return sample_problems_html(draws)


def glossary_html() -> str:
    """The words of the trade as a page to print.

    Returns
    -------
    HTML

    Examples
    --------
    >>> "tundish" in glossary_html()
    True
    """
    from .trade_words import glossary_html

    return glossary_html()


def lesson_without_terms(texts: Sequence) -> tuple:
    """A lesson's Markdown as it is written, and the terms that its saved text explains.

    Parameters
    ----------
    texts : its Markdown cells, in order

    Returns
    -------
    list of texts, list of keys of the glossary

    Examples
    --------
    >>> lesson_without_terms(['Liquid <abbr title="oxides">slag</abbr>'])
    (['Liquid slag'], [])
    """
    from .terms import terms_of, without_terms

    return [without_terms(text) for text in texts], terms_of(texts)


def with_terms_listed(text: str, terms: Sequence) -> str:
    """The first text of a lesson with the list of its words of the trade, folded.

    Parameters
    ----------
    text : Markdown
    terms : keys of the glossary

    Returns
    -------
    Markdown

    Examples
    --------
    >>> "- **slag**: The liquid oxides" in with_terms_listed("# A lesson", ["slag"])
    True
    """
    from .terms import with_list

    return with_list(text, terms) if terms else text


def visit_card_html() -> str:
    """The visit card as a page to print.

    Returns
    -------
    HTML

    Examples
    --------
    >>> "slag" in visit_card_html()
    True
    """
    from .l00_start_here.visit_card import visit_card_html

    return visit_card_html()


def planning_sheet_html() -> str:
    """The planning sheet of the course's one heat, blank, as a page to print.

    Returns
    -------
    HTML

    Examples
    --------
    >>> "Metal to charge" in planning_sheet_html()
    True
    """
    steel()
    from .l08_heat_balance.plan_page import blank_sheet, sheet_html

    return sheet_html(blank_sheet())


def formula_sheet_html() -> str:
    """The formulas of the course as a page to print.

    Returns
    -------
    HTML

    Examples
    --------
    >>> "burnt dolomite" in formula_sheet_html()
    True
    """
    steel()
    from .l08_heat_balance.plan_page import formula_sheet_html

    return formula_sheet_html()


def heat_plan(text: str, works: Profile | None = None) -> tuple:
    """The plan of a heat from a form that was filled in.

    Parameters
    ----------
    text : of the form
    works : Profile; None: the works in use

    Returns
    -------
    HeatPlan, and its page to print (HTML)

    Raises
    ------
    InputError
        Where the form or the heat does not work out.

    Examples
    --------
    >>> plan, page = heat_plan(form("heat"))
    >>> page[:15]
    '<!doctype html>'
    """
    from ..heats import order_of, plan_heat
    from .l17_own_heats.plan_page import page

    plan = plan_heat(order_of(text, works))
    return plan, page(plan)


def form(what: str, works: Profile | None = None) -> str:
    """A form to fill in.

    Parameters
    ----------
    what : 'heat', one to be planned, or 'log', of heats that were
    works : Profile; None: the works in use

    Returns
    -------
    its text

    Examples
    --------
    >>> form("heat")[:38]
    "# Tomorrow's heat at Heron Works: put "
    """
    from ..heats import order_form, template

    return {"heat": order_form, "log": template}[what](works)


def works_files() -> tuple:
    """The file of a works, the works that ship, and what reads one.

    Returns
    -------
    name of the file, names of the works, load_profile()

    Examples
    --------
    >>> works_files()[:2]
    ('works.toml', ('heron', 'dunlin', 'plover'))
    """
    from ..works import PROFILE_FILE, WORKS, load_profile

    return PROFILE_FILE, WORKS, load_profile


def usual_heat(works: Profile) -> str:
    """What the usual heat of a works comes to, in words.

    Parameters
    ----------
    works : Profile

    Returns
    -------
    a sentence

    Raises
    ------
    InputError
        Where every figure is allowed, but no heat comes of them.

    Examples
    --------
    >>> usual_heat(works_files()[-1]("heron"))
    'Its usual heat takes 22 % scrap and 52 Nm3 of oxygen per t.'
    """
    from .common import usual_heat

    return usual_heat(works)
