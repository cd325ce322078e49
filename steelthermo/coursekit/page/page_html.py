"""The HTML of an exercise page and of printed sheets: Markdown texts of problems, with everything
that comes from a learner escaped.
"""

from functools import cache
from html import escape
from importlib.resources import files

import mistune

_ONE_PIXEL = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw=="
_to_html = mistune.create_markdown(escape=True, plugins=["table", "math"])


@cache
def _text(name):
    return (files(__package__.rpartition(".")[0]) / "assets" / name).read_text(encoding="utf-8")


def markdown(text):
    """A text of a problem as HTML; HTML written in it is shown as it stands."""
    return _to_html(text)


def paragraphs(*texts, css=""):
    """Plain sentences as escaped paragraphs; empty ones are left out."""
    return "".join(
        f"<p{f' class={chr(34)}{css}{chr(34)}' if css else ''}>{escape(t)}</p>" for t in texts if t
    )


def hook(title):
    """Style of the page, and the script that marks its live regions for screen readers (it runs
    when its image is loaded).
    """
    script = " ".join(line.strip() for line in _text("exercise.js").splitlines())
    return (
        f'<style>{_text("exercise.css")}</style><img src="{_ONE_PIXEL}" alt="" '
        f'data-title="{escape(title)}" onload="{escape(script)}">'
    )


def still(title, lines):
    """What a notebook shows that is opened without a kernel."""
    hide = (
        ".jp-OutputArea-child:has(.st-page-still):has(~ .jp-OutputArea-child "
        ".st-exercise){display:none}"
    )
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return (
        "<div "
        f'class="st-page-still"><style>{hide}</style><p><strong>{escape(title)}</strong></p><ol>{items}</ol>'
        "<p>To work on these problems, start here: menu Run, then Run All Cells.</p></div>"
    )
