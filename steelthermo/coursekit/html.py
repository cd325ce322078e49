"""The HTML that the kit shows: escaped text, Markdown, the head of a page of widgets, what
a notebook shows without a kernel, and pages to print.
"""

import base64
import re
from functools import cache
from html import escape
from importlib.resources import files

import mistune

from ..base import Html, table, translated
from .answers import bound, clip, say

_ONE_PIXEL = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw=="
# what holds no sentences: marks, styles, code, formulas
_ASIDE = re.compile(r"(<(style|code|svg)\b.*?</\2>|<[^>]*>|\$[^$]*\$)", re.DOTALL)
_to_html = mistune.create_markdown(escape=True, plugins=["table", "math"])


def markdown(text):
    """Markdown as HTML; HTML written in it is shown as it stands."""
    return Html(_to_html(text))


def bound_html(page):
    """HTML whose numbers do not break at the end of a line, nor part from their units."""
    parts, at = [], 0
    for aside in _ASIDE.finditer(page):
        parts += (bound(page[at : aside.start()]), aside[0])
        at = aside.end()
    return Html("".join((*parts, bound(page[at:]))))


def paragraphs(*texts, tag="p"):
    """Plain sentences as escaped paragraphs, or as headings; empty ones are left out."""
    return "".join(f"<{tag}>{escape(translated(text))}</{tag}>" for text in texts if text)


def listed(texts, tag="ul"):
    """Plain texts as a list."""
    lines = "".join(f"<li>{escape(translated(str(text)))}</li>" for text in texts)
    return f"<{tag}>{lines}</{tag}>"


def worded(page):
    """HTML whose tables hold words: JupyterLab puts all cells at the right, as numbers want it."""
    css = ".st-worded.st-worded :is(th,td,caption){text-align:left;vertical-align:top}"
    return Html(f'<div class="st-worded"><style>{css}</style>{page}</div>')


def image(png, alt, width_px, height_px=None, css=""):
    """A picture as HTML that needs no file."""
    size = f'width="{width_px}"' + (f' height="{height_px}"' if height_px else "")
    css = f' class="{css}"' if css else ""
    data = base64.b64encode(png).decode()
    return f'<img{css} src="data:image/png;base64,{data}" alt="{escape(alt)}" {size}>'


@cache
def _asset(name):
    text = (files(__package__) / "assets" / name).read_text(encoding="utf-8")
    if name.endswith(".css"):  # what a style says
        text = re.sub(r'(?<=content: ")[^"]+', lambda said: translated(said[0]), text)
    return text


@cache
def _templates():
    import jinja2  # here: panels and pages need none

    loader = jinja2.FunctionLoader(_asset)
    made = jinja2.Environment(
        autoescape=True,
        loader=loader,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )
    made.globals |= {
        "table": table,
        "clip": clip,
        "say": say,
        "heads": lambda key: say(key).split("|"),
        "rows_of": _rows_of,
        "markdown": markdown,
    }
    return made


def _rows_of(records, keys):
    return [[record[key] for key in keys] for record in records]


def filled(name, **values):
    """The template of that name in assets/ with its values, each escaped if it is not Html."""
    return Html(_templates().get_template(name).render(values))


def hook(title, page):
    """Style of a page ('panel' or 'exercise'), and the script that names its parts for screen
    readers (it runs when its image is loaded).
    """
    script = " ".join(line.strip() for line in _asset(f"{page}.js").splitlines())
    return (
        f"<style>{_asset('caution.css')}{_asset('dark.css')}{_asset(f'{page}.css')}</style>"
        f'<img src="{_ONE_PIXEL}" alt="" '
        f'data-title="{escape(bound(title))}" onload="{escape(script)}">'
    )


def still(name, live, title, body, css=""):
    """What a notebook shows that is opened without a kernel, and hides where a widget of the class
    `live` follows. name: its own class; body: HTML.
    """
    dark = _asset("dark.css").partition("*/")[2].strip()
    hide = f".jp-OutputArea-child:has(.{name}):has(~ .jp-OutputArea-child .{live}){{display:none}}"
    return (
        f'<div class="{name}"><style>{hide}{css}{dark}</style>'
        f"<p><strong>{escape(translated(title))}</strong></p>{bound_html(body)}</div>"
    )


def printed_page(title, body, wide=False, across=False):
    """A whole page that prints well, needs no other file and loads none. wide: for many
    columns; across: on paper turned on its side.
    """
    how = "wide" if wide else "across" if across else ""
    safe = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{safe}">'
        f"<title>{escape(translated(title))}</title><style>{_asset('print.css')}</style></head>"
        f"<body{f' class={how}' if how else ''}><main>{bound_html(body)}</main></body></html>"
    )
