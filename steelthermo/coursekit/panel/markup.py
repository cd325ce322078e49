"""The HTML that a panel shows: style, sentence, closure gauge, tables, and the still picture for a
page without a kernel.

Everything that comes from elsewhere is escaped here and nowhere else.
"""

import base64
import math
from functools import cache
from html import escape
from importlib.resources import files

# Hides the still picture where the live panel stands, and the words 'model not found' where it does
# not.
_STILL_CSS = (
    ".jp-OutputArea-child:has(.st-still):has(~ .jp-OutputArea-child .st-panel){display:none}"
    ".jp-OutputArea-child:has(.st-still)~.jp-OutputArea-child>.jp-OutputArea-output.jupyter-widgets:not(:has(*)){display:none}"
)
_ONE_PIXEL = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw=="


@cache
def _text(name):
    return (files(__package__.rpartition(".")[0]) / "assets" / name).read_text(encoding="utf-8")


def hook(title):
    """Style of the panel, and the script that names its parts for screen readers (it runs when its
    image is loaded).
    """
    script = " ".join(line.strip() for line in _text("panel.js").splitlines())
    return (
        f'<style>{_text("panel.css")}</style><img src="{_ONE_PIXEL}" alt="" '
        f'data-title="{escape(title)}" onload="{escape(script)}">'
    )


def sentence(text, alt, remarks=()):
    """The result in one sentence, after it why it is extrapolated, and the words for the
    picture.
    """
    more = "".join(f'<p class="st-beyond">extrapolated: {escape(r)}</p>' for r in remarks)
    return f'<p>{escape(text)}</p>{more}<span class="st-alt">{escape(alt)}</span>'


def fault(text, alt):
    """What is wrong with the case, in place of the result."""
    return (
        f'<p class="st-fault">{escape(text)} The picture still shows the last good '
        f'case.</p><span class="st-alt">{escape(alt)}</span>'
    )


def gauge(closures, limit):
    """How well each balance closes: closures are (name, relative error); limit: the largest error
    called closed.

    Anything below 1e-9 reads the same, so that rounding noise does not change the text at every
    step.
    """
    parts = []
    for name, error in closures:
        error = abs(float(error))
        digits = (
            9.0 if error < 1e-9 else max(0.0, -math.log10(error)) if math.isfinite(error) else 0.0
        )
        size = "within a billionth" if error < 1e-9 else f"to {error:.0e}"
        word = "closes" if error <= limit else "does NOT close:"
        label = escape(f"{name} {word} {size}")
        meter = (
            f'<meter min="0" max="9" low="3" high="{min(9.0, -math.log10(limit)):.3g}" '
            f'optimum="9" value="{digits:.1f}" aria-label="{label}"></meter>'
        )
        parts.append(f"<span>{meter}{label}</span>")
    return f"<p>{''.join(parts)}</p>"


def _table(caption, head, body):
    """body: rows of cells; the first is the row's name, the second its value."""
    rows = ""
    for first, value, *rest in body:
        cells = "".join(f"<td>{escape(str(cell))}</td>" for cell in rest)
        rows += (
            f'<tr><th scope="row">{escape(str(first))}</th><td '
            f'class="st-value">{escape(str(value))}</td>{cells}</tr>'
        )
    heads = "".join(f'<th scope="col">{escape(h)}</th>' for h in head)
    return (
        f"<table><caption>{escape(caption)}</caption><thead><tr>{heads}</tr></thead>"
        f"<tbody>{rows}</tbody></table>"
    )


def numbers_table(numbers, controls, settings):
    """Two tables: the results (name, value, unit, note) and the settings they belong to, with the
    range of each slider.
    """
    with_notes = any(len(row) > 3 for row in numbers)
    results = [
        (n, v if isinstance(v, str) else f"{v:.5g}", unit, *((*note, "")[:1] if with_notes else ()))
        for n, v, unit, *note in numbers
    ]
    given = [
        (c.label, c.text(settings[c.name]), c.unit, f"{c.range_text}: {c.why}. {c.help}".strip())
        for c in controls
    ]
    heads = ("quantity", "value", "unit", "note")[: 4 if with_notes else 3]
    return _table("Results", heads, results) + _table(
        "Settings", ("quantity", "value", "unit", "range"), given
    )


def sources_list(entries, remark="", chosen="", of_chosen=()):
    """Where the numbers come from: one line per entry; before them a remark, and what was chosen
    with its own sources.
    """

    def listed(lines):
        return f"<ul>{''.join(f'<li>{escape(str(e))}</li>' for e in lines)}</ul>"

    before = f"<p>{escape(remark)}</p>" if remark else ""
    if chosen:
        before += (
            "<p><strong>Chosen instead of the kit's own: "
            f"{escape(chosen)}</strong></p>{listed(of_chosen)}<p>Everything else:</p>"
        )
    return before + listed(entries)


def still(png_bytes, width_px, alt, text, title):
    """The still picture and its text, for a notebook that is opened without a kernel."""
    data = base64.b64encode(png_bytes).decode("ascii")
    return (
        f'<div class="st-still"><style>{_STILL_CSS}</style><p><strong>{escape(title)}</strong></p>'
        f'<img src="data:image/png;base64,{data}" alt="{escape(alt)}" '
        f'width="{width_px}"><p>{escape(text)}</p>'
        "<p>This is a still picture. To move its sliders, start here: menu Run, then Run All "
        "Cells.</p></div>"
    )
