"""The HTML that a panel shows: style, sentence, closure gauge, tables, and the still picture for a
page without a kernel.

Everything that comes from elsewhere is escaped here and nowhere else.
"""

import math
from html import escape

from ...base import table, translated
from ..html import image, listed, paragraphs
from ..html import still as still_of

# Hides also the words 'model not found' where no live panel stands.
_STILL_CSS = (
    ".jp-OutputArea-child:has(.st-still)~.jp-OutputArea-child"
    ">.jp-OutputArea-output.jupyter-widgets:not(:has(*)){display:none}"
)


def sentence(text: str, alt: str, remarks: tuple = ()) -> str:
    """The result in one sentence, after it why it is extrapolated, and the words for the picture.

    Parameters
    ----------
    text : the sentence
    alt : what the picture shows, for a screen reader
    remarks : why it is extrapolated

    Returns
    -------
    HTML

    Examples
    --------
    >>> sentence("It is warm.", "A cup.")
    '<p>It is warm.</p><span class="st-alt">A cup.</span>'
    """
    more = "".join(f'<p class="st-beyond">extrapolated: {_told(r)}</p>' for r in remarks)
    return f'<p>{_told(text)}</p>{more}<span class="st-alt">{_told(alt)}</span>'


def _told(text):
    """A sentence, escaped."""
    return escape(translated(text))


def fault(text, alt):
    """What is wrong with the case, in place of the result."""
    return (
        f'<p class="st-fault">{_told(text)} The picture still shows the last good '
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
        size = "to 1e-9 or better" if error < 1e-9 else f"to {error:.0e}"
        closed = f"{name} closes {size}" if error <= limit else f"{name} does NOT close: {size}"
        label = escape(closed)
        meter = (
            f'<meter min="0" max="9" low="3" high="{min(9.0, -math.log10(limit)):.3g}" '
            f'optimum="9" value="{digits:.1f}" aria-label="{label}"></meter>'
        )
        parts.append(f"<span>{meter}{label}</span>")
    return f"<p>{''.join(parts)}</p>"


def _whole(value):
    """A value that no line break parts from its doubt."""
    text = value if isinstance(value, str) else f"{value:.5g}"
    return text.replace(" ± ", "\u00a0±\u00a0")


def numbers_table(numbers, controls, settings):
    """Two tables: the results (name, value, unit, note) and the settings they belong to, with the
    range of each slider.
    """
    with_notes = any(len(row) > 3 for row in numbers)
    results = [
        (n, _whole(v), unit, *((*note, "")[:1] if with_notes else ()))
        for n, v, unit, *note in numbers
    ]
    given = [
        (c.label, c.text(settings[c.name]), c.unit, f"{c.range_text}: {c.why}. {c.help}".strip())
        for c in controls
    ]
    heads = ("quantity", "value", "unit", "note")[: 4 if with_notes else 3]
    css = ("", "st-value")
    settings_heads = ("quantity", "value", "unit", "range")
    return table(heads, results, "Results", css) + table(settings_heads, given, "Settings", css)


def sources_list(entries, remark="", chosen="", of_chosen=()):
    """Where the numbers come from: one line per entry; before them a remark, and what was chosen
    with its own sources.
    """
    before = paragraphs(remark)
    if chosen:
        before += (
            "<p><strong>Chosen instead of the kit's own: "
            f"{escape(chosen)}</strong></p>{listed(of_chosen)}<p>Everything else:</p>"
        )
    return before + listed(entries)


def still(
    png_bytes: bytes, width_px: int, alt: str, text: str, title: str, caution: str = ""
) -> str:
    """The still picture and its text, for a notebook that is opened without a kernel.

    Parameters
    ----------
    png_bytes : the picture
    width_px : of it on the page
    alt : what it shows
    text : told below it
    title : above it
    caution : HTML of the box of cautions, above the picture

    Returns
    -------
    HTML

    Examples
    --------
    >>> "A cup." in still(b"", 760, "A cup.", "It is 40 °C.", "Coffee")
    True
    """
    told = "This is a still picture. To move its sliders, start here: menu Run, then Run All Cells."
    body = caution + image(png_bytes, alt, width_px) + paragraphs(text, told)
    return still_of("st-still", "st-panel", title, body, _STILL_CSS)
