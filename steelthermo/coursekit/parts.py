"""What every page makes of widgets: parts with a class of the style sheet, buttons, and what they
call.
"""

import asyncio
from html import escape

import ipywidgets as widgets

from .answers import say

# The browser may hand over Enter or a click before the last letters typed; a moment later they are
# there.
_MOMENT_S = 0.2


def of_class(widget, *names):
    """The widget, with these classes of the style sheet."""
    for name in names:
        widget.add_class(name)
    return widget


def soon(action):
    """Run an action a moment later, or at once where no event loop runs (tests, plain Python)."""
    try:
        asyncio.get_running_loop().call_later(_MOMENT_S, action)
    except RuntimeError:
        action()


def button(text, action):
    """A button that runs an action at once."""
    made = widgets.Button(description=text)
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
            told = say("page.error", error=f"{type(error).__name__}: {error}")
            self.say(f"<p>{escape(told)}</p>")

    return safe
