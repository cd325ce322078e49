"""HTML for a notebook: escaped text and one kind of table."""

from collections.abc import Iterable
from html import escape


def table(head: Iterable, rows: Iterable, title: str = "") -> str:
    """HTML of a table; one line of text a row, so that a long one can be counted.

    Parameters
    ----------
    head : cells of the first line
    rows : rows of cells; all are escaped, numbers shown by figure()
    title : words above it

    Returns
    -------
    HTML

    Examples
    --------
    >>> print(table(("element", "%"), [("C", 4.5)]))
    <table><tr><th>element</th><th>%</th></tr>
    <tr><td>C</td><td>4.5</td></tr></table>
    """
    caption = f"<caption>{escape(title)}</caption>\n" if title else ""
    lines = [_line("th", head), *(_line("td", row) for row in rows)]
    return f"<table>{caption}" + "\n".join(lines) + "</table>"


def _line(tag, cells):
    return f"<tr>{''.join(f'<{tag}>{escape(figure(cell))}</{tag}>' for cell in cells)}</tr>"


def figure(x: object) -> str:
    """A cell as text.

    Parameters
    ----------
    x : words stay as they are, a number gets four figures, an array shows where it begins and ends

    Returns
    -------
    text

    Examples
    --------
    >>> figure(3.14159)
    '3.142'
    """
    if not hasattr(x, "__float__"):
        return str(x)
    if getattr(x, "size", 1) > 1:
        first, last = x.flat[0], x.flat[-1]
        return f"{figure(first)} … {figure(last)}"
    x = float(getattr(x, "flat", [x])[0])
    return f"{x:.0f}" if abs(x) >= 1e4 else f"{x:.4g}"
