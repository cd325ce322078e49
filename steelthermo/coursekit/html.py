"""The HTML that the kit shows: escaped text, Markdown, tables, the head of a page of widgets, what
a notebook shows without a kernel, and pages to print.
"""

import base64
import re
from functools import cache
from html import escape
from importlib.resources import files

import mistune

_ONE_PIXEL = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw=="
_to_html = mistune.create_markdown(escape=True, plugins=["table", "math"])


class Html(str):
    """Text that is HTML already; any other is escaped."""


def cell(x):
    """What stands in a cell, as HTML; a long word may be broken every 30 letters."""
    if isinstance(x, Html):
        return x
    return "<wbr>".join(map(escape, re.sub(r"(\S{30})(?=\S{10})", "\\1\n", str(x)).split("\n")))


def table(heads, rows, caption="", css=(), named=True):
    """A table. rows: of cells, or whole rows as HTML text; css: class of each column, '' for none;
    named: the first cell is the name of its row.
    """
    css = [f' class="{name}"' if name else "" for name in (*css, *[""] * len(heads))]
    first = 'th scope="row"' if named else "td"

    def row(cells):
        if isinstance(cells, str):
            return cells
        tags = [first, *["td"] * len(cells)]
        made = (f"<{t}{c}>{cell(x)}</{t[:2]}>" for t, c, x in zip(tags, css, cells, strict=False))
        return f"<tr>{''.join(made)}</tr>"

    head = "".join(f'<th scope="col"{c}>{escape(h)}</th>' for c, h in zip(css, heads, strict=False))
    caption = f"<caption>{escape(caption)}</caption>" if caption else ""
    body = "".join(map(row, rows))
    return f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def markdown(text):
    """Markdown as HTML; HTML written in it is shown as it stands."""
    return Html(_to_html(text))


def paragraphs(*texts):
    """Plain sentences as escaped paragraphs; empty ones are left out."""
    return "".join(f"<p>{escape(text)}</p>" for text in texts if text)


def listed(texts, tag="ul"):
    """Plain texts as a list."""
    return f"<{tag}>{''.join(f'<li>{escape(str(text))}</li>' for text in texts)}</{tag}>"


def image(png, alt, width_px, height_px=None, css=""):
    """A picture as HTML that needs no file."""
    size = f'width="{width_px}"' + (f' height="{height_px}"' if height_px else "")
    css = f' class="{css}"' if css else ""
    data = base64.b64encode(png).decode()
    return f'<img{css} src="data:image/png;base64,{data}" alt="{escape(alt)}" {size}>'


@cache
def _asset(name):
    return (files(__package__) / "assets" / name).read_text(encoding="utf-8")


def hook(title, page):
    """Style of a page ('panel' or 'exercise'), and the script that names its parts for screen
    readers (it runs when its image is loaded).
    """
    script = " ".join(line.strip() for line in _asset(f"{page}.js").splitlines())
    return (
        f'<style>{_asset(f"{page}.css")}</style><img src="{_ONE_PIXEL}" alt="" '
        f'data-title="{escape(title)}" onload="{escape(script)}">'
    )


def still(name, live, title, body, css=""):
    """What a notebook shows that is opened without a kernel, and hides where a widget of the class
    `live` follows. name: its own class; body: HTML.
    """
    hide = f".jp-OutputArea-child:has(.{name}):has(~ .jp-OutputArea-child .{live}){{display:none}}"
    return (
        f'<div class="{name}"><style>{hide}{css}</style>'
        f"<p><strong>{escape(title)}</strong></p>{body}</div>"
    )


def printed_page(title, body, wide=False):
    """A whole page that prints well, needs no other file and loads none. wide: for many columns."""
    safe = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{safe}">'
        f"<title>{escape(title)}</title><style>{_asset('print.css')}</style></head>"
        f"<body{' class=wide' if wide else ''}>{body}</body></html>"
    )
