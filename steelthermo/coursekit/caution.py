"""The box of cautions above whatever could be acted out: a panel, a problem, an entry of a chain.

The kit knows no subject: a course hands in its hazards by key, and one sentence that says who
decides (CourseAdapter.caution, deferral).
"""

from html import escape

from ..base import Html, translated
from .adapter import in_use
from .answers import say
from .html import listed


def caution_box(keys, figures=True):
    """The box of these hazards as HTML; '' where there are none. figures: with them, folded; on
    paper they follow once, by caution_figures.
    """
    course = in_use()
    found = [course.caution(key) for key in keys]
    if not found:
        return Html("")
    lines = "".join(
        f"<li><strong>{_said(c.what)}.</strong> {_said(c.why)} {_said(c.visitor)}</li>"
        for c in found
    )
    head = f"<summary>{escape(say('caution.more'))}</summary>"
    more = f"<details>{head}{caution_figures(keys)}</details>" if figures else ""
    return Html(
        f'<div class="st-caution" role="note"><p><strong>{escape(say("page.caution"))}.</strong> '
        f"{_said(course.deferral)}</p><ul>{lines}</ul>{more}</div>"
    )


def caution_figures(keys):
    """Of each of these hazards what the site decides, its status and its figures, as HTML."""
    lines = "".join(
        f"<li><strong>{_said(c.what)}</strong> ({_said(c.status)}). "
        f"{escape(say('caution.site', site=c.site))}{listed(c.figures) if c.figures else ''}</li>"
        for c in map(in_use().caution, keys)
    )
    return Html(f"<ul>{lines}</ul>")


def _said(text):
    return escape(translated(text))
