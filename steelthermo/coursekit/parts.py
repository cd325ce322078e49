"""What every page makes of widgets: parts with a class of the style sheet, buttons, and what they
call.
"""

import asyncio

import ipywidgets as widgets
import traitlets

from ..base import translated
from .answers import say
from .html import bound_html, paragraphs

# The browser may hand over Enter or a click before the last letters typed; a moment later they are
# there.
_MOMENT_S = 0.2


def of_class(widget, css):
    """The widget, with these classes of the style sheet, parted by blanks."""
    for name in css.split():
        widget.add_class(name)
    return widget


class _Bound:
    """What widgets of HTML do to their value: numbers stay beside their units."""

    @traitlets.validate("value")
    def _bind(self, proposal):
        return bound_html(proposal["value"])


class _Words(_Bound, widgets.HTML):
    """A piece of HTML."""


class _Formulas(_Bound, widgets.HTMLMath):
    """A piece of HTML with formulas."""


def html(css="", value="", math=False):
    """A piece of HTML; math: formulas in it are set."""
    return of_class(_Formulas(value) if math else _Words(value), css)


def row(css, *parts):
    """Widgets side by side; None is left out."""
    return of_class(widgets.Box([part for part in parts if part]), css)


def column(css, *parts):
    """Widgets one below the other; None is left out."""
    return of_class(widgets.VBox([part for part in parts if part]), css)


class Region:
    """Base of what has a live region, `feedback`, which screen readers read out."""

    def say(self, html):
        """Put something into the live region."""
        self.feedback.value = html

    def tell(self, *texts):
        """Put plain sentences into the live region; empty ones are left out."""
        self.say(paragraphs(*texts))


def soon(action):
    """Run an action a moment later, or at once where no event loop runs (tests, plain Python)."""
    try:
        asyncio.get_running_loop().call_later(_MOMENT_S, action)
    except RuntimeError:
        action()


def button(text, action):
    """A button that runs an action at once."""
    made = widgets.Button(description=translated(text))
    made.on_click(lambda _: action())
    return made


def submitted(box, action):
    """The box, which runs an action a moment after Enter."""
    box.on_msg(lambda _, content, __: soon(action) if content.get("event") == "submit" else None)
    return box


def guarded(method):
    """Decorator for what a widget calls: an error becomes a sentence on the page, never a line in a
    log nobody reads.
    """

    def safe(self, *args):
        try:
            return method(self, *args)
        except Exception as error:
            self.tell(say("page.error", error=f"{type(error).__name__}: {error}"))

    return safe
