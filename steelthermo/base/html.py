"""The one writer of HTML tables: escaped text, numbers in short."""

import math
import re
from collections.abc import Iterable
from html import escape

from .language import translated


class Html(str):
    """Text that is HTML already; any other is escaped."""

    def __html__(self):  # asked by Jinja2
        return self


def table(
    heads: Iterable[str],
    rows: Iterable[Iterable],
    caption: str = "",
    css: Iterable[str] = (),
    named: bool = True,
) -> Html:
    """HTML of a table; one line of text a row, so that a long one can be counted.

    Parameters
    ----------
    heads : cells of the first line
    rows : rows of cells, or whole rows as HTML; numbers are shown by figure(), text is escaped if
        it is not Html
    caption : words above it
    css : class of each column, '' for none
    named : the first cell is the name of its row

    Returns
    -------
    HTML

    Examples
    --------
    >>> print(table(("element", "%"), [("C", 4.5)]))
    <table><thead><tr><th scope="col">element</th><th scope="col">%</th></tr></thead>
    <tbody><tr><th scope="row">C</th><td>4.5</td></tr></tbody></table>
    """
    heads = tuple(heads)
    css = [f' class="{name}"' if name else "" for name in (*css, *[""] * len(heads))]
    tags = ['th scope="row"' if named else "td", *["td"] * len(heads)]

    def row(cells):
        if isinstance(cells, str):
            return cells
        made = (f"<{t}{c}>{_cell(x)}</{t[:2]}>" for t, c, x in zip(tags, css, cells, strict=False))
        return f"<tr>{''.join(made)}</tr>"

    heads = [escape(translated(h)) for h in heads]
    head = "".join(
        f'<th scope="col"{c}>{h}</th>' if h else "<td></td>"  # an empty head names no column
        for c, h in zip(css, heads, strict=False)
    )
    title = f"<caption>{escape(translated(caption))}</caption>\n" if caption else ""
    body = "\n".join(map(row, rows))
    return Html(f"<table>{title}<thead><tr>{head}</tr></thead>\n<tbody>{body}</tbody></table>")


def _cell(x):
    """What stands in a cell, as HTML; a long word may be broken every 30 letters."""
    if isinstance(x, Html):
        return x
    parts = re.sub(r"(\S{30})(?=\S{10})", "\\1\n", minus(translated(figure(x)))).split("\n")
    return "<wbr>".join(map(escape, parts))


def plus_minus(value: float, u: float, sign: str = "") -> str:
    """A value with its uncertainty: two figures of the uncertainty, and of the value none beyond.

    Parameters
    ----------
    value : a number
    u : its uncertainty, in the same unit
    sign : '+' where the value is a difference

    Returns
    -------
    text

    References
    ----------
    The rule is that of JCGM 100 (2008), 7.2.6, from memory.

    Examples
    --------
    >>> plus_minus(0.07559, 0.0341), plus_minus(351.5, 148.0)
    ('0.076 ± 0.034', '350 ± 150')
    """
    sign = "+" if sign == "+" else ""
    if not u > 0.0:
        return f"{value:{sign}.4g} ± {u:g}"
    places = 1 - math.floor(math.log10(float(f"{u:.1e}")))
    shown = max(places, 0)
    return f"{round(value, places):{sign}.{shown}f} ± {round(u, places):.{shown}f}"


# not of a date, a name, a power of ten
_HYPHEN = re.compile(r"(?<![^\s(\[±=|])-(?=\.?\d)")


def minus(text: str) -> str:
    """A text whose negative numbers have the sign that a reader expects.

    Parameters
    ----------
    text : any

    Returns
    -------
    text

    Examples
    --------
    >>> minus("-2.3 to -1 °C on 2026-03-02")
    '−2.3 to −1 °C on 2026-03-02'
    """
    return _HYPHEN.sub("−", text)


def figure(x: object) -> str:
    """A cell as text.

    Parameters
    ----------
    x : words stay as they are, a number gets four figures, an array shows where it begins and ends,
        once where all of it reads the same

    Returns
    -------
    text

    Examples
    --------
    >>> figure(3.14159)
    '3.142'
    """
    if not hasattr(x, "__float__") or isinstance(x, bool) or getattr(x, "size", 1) == 0:
        return str(x)
    if getattr(x, "size", 1) > 1:
        first, last, low, high = map(figure, (x.flat[0], x.flat[-1], x.min(), x.max()))
        return first if first == last == low == high else f"{first} … {last}"
    x = float(getattr(x, "flat", [x])[0])
    return f"{x:.0f}" if abs(x) >= 1e4 else f"{x:.4g}"
