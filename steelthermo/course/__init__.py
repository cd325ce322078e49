"""Oxygen steelmaking, taught: one folder a lesson, with its panel and its problems. Lessons and
exercises call what stands here; each loads no more than it uses.
"""

import logging

from .edition import __version__


def steel():
    """The course, from now on the one in use."""
    from ..coursekit import use
    from .adapter import STEEL

    # At its first start Matplotlib warns that it lists the fonts: a red box in the first lesson
    logging.getLogger("matplotlib.font_manager").setLevel(logging.ERROR)
    use(STEEL)
    return STEEL


def exercise(lesson, folder=None):
    """The problems of a lesson, by its name or number: see coursekit.page.show."""
    steel()
    from ..coursekit.page import show

    return show(lesson, folder)


def home(folder=None):
    """Where a learner stands, what to go on with and what comes back today."""
    steel()
    from ..coursekit.page import Home

    return Home(folder)


def sample_problems_html(lesson):
    """The problems of a lesson, by its name or number, with the numbers of one made-up reader."""
    problems = steel().lesson(lesson).problems
    from ..coursekit.marking import draws_for, sample_problems_html

    ((_, draws),) = draws_for(["a reader of the book"], problems=problems).items()
    return sample_problems_html(draws)


def heat_sheet(folder=None):
    """The heat sheet of lesson 15: see its page."""
    steel()
    from .l15_whole_heat.page import HeatPage

    return HeatPage(folder)


def mark(folder, course=None, **options):
    """Mark a folder of answer sheets: see coursekit.marking.mark."""
    steel()
    from ..coursekit.marking import mark

    return mark(folder, course, **options)


def panel(name):
    """The panel of that name. Raises InputError for an unknown one."""
    steel()
    from ..coursekit.panel import make_panel

    return make_panel(name)


def predict(panel, name=None, question="", options=(), folder=None):
    """The question before a panel: see coursekit.page.predict."""
    steel()
    from ..coursekit.page import predict

    return predict(panel, name, question, options, folder)


def ask(lesson, part, folder=None):
    """Questions answered in place: see coursekit.page.ask."""
    steel()
    from ..coursekit.page import ask

    return ask(lesson, part, folder)


def paper(which, folder=None):
    """The 'first' paper, before the course, the 'last', after it, or the 'exam' whose file stands
    in the folder.
    """
    steel()
    from ..coursekit.page import PaperPage

    return PaperPage(which, folder)


def today(folder=None):
    """What comes back today, to be answered there."""
    steel()
    from ..coursekit.page import Today

    return Today(folder)


def published_values():
    """The kit against published values: see l16_how_sure_are_we."""
    from .l16_how_sure_are_we.published import show

    return show()


def values_from_memory():
    """What rests on memory or on common practice."""
    from .l16_how_sure_are_we.memory_table import show

    return show()


def glossary():
    """The words of the trade: see glossary."""
    from .trade_words import Glossary

    return Glossary()


def glossary_html():
    """The words of the trade as a page to print."""
    from .trade_words import glossary_html

    return glossary_html()


def visit_card():
    """The visit card: see l00_start_here."""
    from .l00_start_here.visit_card import VisitCard

    return VisitCard()


def visit_card_html():
    """The visit card as a page to print."""
    from .l00_start_here.visit_card import visit_card_html

    return visit_card_html()


def vessel():
    """The sketch of a vessel: see l00_start_here."""
    steel()
    from .l00_start_here.vessel import vessel

    return vessel()


def heat_plan(text, works=None):
    """The plan of a heat from a form filled in, and its page to print: (HeatPlan, HTML)."""
    from ..heats import order_of, plan_heat
    from .l17_own_heats.plan_page import page

    plan = plan_heat(order_of(text, works))
    return plan, page(plan)


def form(what, works=None):
    """A form to fill in, as text: of a 'heat' to be planned, or of a 'log' of heats."""
    from ..heats import order_form, template

    return {"heat": order_form, "log": template}[what](works)


def works_files():
    """What the file of a works is called, the works that ship, and load_profile(), which reads."""
    from ..works import PROFILE_FILE, WORKS, load_profile

    return PROFILE_FILE, WORKS, load_profile


def usual_heat(works):
    """What the usual heat of a works comes to, in words. Raises InputError where every figure is
    allowed, but no heat comes of them.
    """
    from .common import usual_heat

    return usual_heat(works)
