"""HTML for a notebook: escaped text and one kind of table."""

from html import escape


def table(head, rows, title=""):
    """HTML of a table, as a str: a line of head cells, then rows of cells, all escaped.

    title: words above it. Numbers are shown by figure(); one line of text a row, so that a long
    table can be counted.
    """
    caption = f"<caption>{escape(title)}</caption>\n" if title else ""
    lines = [_line("th", head), *(_line("td", row) for row in rows)]
    return f"<table>{caption}" + "\n".join(lines) + "</table>"


def _line(tag, cells):
    return f"<tr>{''.join(f'<{tag}>{escape(figure(cell))}</{tag}>' for cell in cells)}</tr>"


def figure(x):
    """A cell as text: words as they are, a number to four figures, of an array where it begins and
    ends.
    """
    if not hasattr(x, "__float__"):
        return str(x)
    if getattr(x, "size", 1) > 1:
        first, last = x.flat[0], x.flat[-1]
        return f"{figure(first)} … {figure(last)}"
    x = float(getattr(x, "flat", [x])[0])
    return f"{x:.0f}" if abs(x) >= 1e4 else f"{x:.4g}"
