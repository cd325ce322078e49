"""The kit against the published world, to browse: a picture of all checks by room and a table that is searched and filtered.

show() makes it for a notebook; save_page() writes all checks as one page to read or print without a kernel.
"""

import base64
from html import escape
from types import SimpleNamespace

import ipywidgets as widgets
import numpy as np
from IPython.display import display
from matplotlib.ticker import NullLocator

from .. import published
from ..errors import InputError
from . import markup, style
from .picture import Drawing, Picture

__all__ = ["PublishedTable", "page_html", "save_page", "show"]

TITLE = "The kit against the published world"
PAGE = 50  # rows shown at once
SMALLEST = 1e-6  # relative difference below which all look the same
ANY = "any"
_WIDTH, _HEIGHT = 820, 490
_CSS = (
    ".st-checks .st-row .widget-text > input{grid-column:1/-1;width:100%;max-width:24em}"
    ".st-checks table{font-size:13px}.st-checks td,.st-checks th{vertical-align:top}"
    ".st-checks tr.st-off td.st-verdict{font-weight:600}"
)


# ---- the picture -------------------------------------------------------------------------------------------------------------------------------


def _places():
    """(x, y) of every result: relative difference, and its room with the rows of a room spread over the height of its line."""
    rooms = list(published.summary())
    found = published.results()
    x = np.clip([abs(r.relative) for r in found], SMALLEST, 9.0)
    seen, y = dict.fromkeys(rooms, 0), []
    for r in found:
        k = seen[r.check.room] = seen[r.check.room] + 1
        y.append(rooms.index(r.check.room) + 0.34 * (2.0 * (k * 0.618034 % 1.0) - 1.0))  # golden section: neighbours fall apart
    return np.array(x), np.array(y)


def _setup(fig):
    rooms, counts = list(published.summary()), published.summary()
    ax = fig.add_axes((0.145, 0.115, 0.70, 0.795))
    style.axes(ax, "difference from the printed value, relative", "", (0.6 * SMALLEST, 12.0), (len(rooms) - 0.4, -0.6), TITLE)
    ax.set_xscale("log")
    ax.set_xticks([1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1.0], ["≤ 0.0001 %", "0.001 %", "0.01 %", "0.1 %", "1 %", "10 %", "100 %"], fontsize=9)
    ax.xaxis.set_minor_locator(NullLocator())
    ax.set_yticks(range(len(rooms)), [room.replace("_", " ") for room in rooms], fontsize=9)
    ax.grid(axis="y", visible=False)
    x, y = _places()
    ax.plot(x, y, ".", color=style.GRID, markersize=5, zorder=1)
    agrees = ax.plot([], [], "o", color=style.SERIES[4].colour, markersize=3.6, animated=True, zorder=2)[0]
    off = ax.plot([], [], "s", color=style.SERIES[1].colour, markersize=5.2, markerfacecolor="none", markeredgewidth=1.4, animated=True, zorder=3)[0]
    for k, room in enumerate(rooms):
        n = counts[room]
        ax.text(1.02, k, f"{n['agrees']}   {n['disagrees'] or '-'}", transform=ax.get_yaxis_transform(), va="center", fontsize=9)
    ax.text(1.02, -1.0, "agree   off", transform=ax.get_yaxis_transform(), va="center", fontsize=9)
    ax.text(0.005, 1.004, "dot: agrees by its rule    open square: disagrees, reason known", transform=ax.transAxes, fontsize=8.5, va="bottom")
    ax.set_title(TITLE, pad=16)
    return SimpleNamespace(agrees=agrees, off=off, x=x, y=y, index={r.check.id: i for i, r in enumerate(published.results())})


def _update(artists, chosen):
    for line, verdict in ((artists.agrees, "agrees"), (artists.off, "disagrees")):
        at = [artists.index[r.check.id] for r in chosen if r.verdict == verdict]
        line.set_data(artists.x[at], artists.y[at])


# ---- the table ---------------------------------------------------------------------------------------------------------------------------------

_HEADS = ("room", "quantity", "printed", "ours", "unit", "off by", "verdict", "rule", "worth", "source")


def _number(x):
    return f"{x:.5g}" if abs(x) < 1e5 else f"{x:.4g}"


def _words(room):
    """Name of a room as it is read."""
    return escape(room.replace("_", " "))


def _off_by(r):
    if r.difference == 0.0:
        return "0"
    return f"{100 * r.relative:+.2g} %" if abs(r.relative) < 9.995 else f"{r.relative:+.3g} times"


def _row(r):
    c, s = r.check, r.check.provenance.source
    place = "" if c.provenance.place == "none" else f", {c.provenance.place}"
    seen = "" if s.read_in in ("original", "none") else f" [read in: {s.read_in}]"
    reason = "" if c.reason == "none" else f"<br>{escape(c.reason)}"
    year = "" if s.year in ("none", "not noted") else f" {s.year}"
    who = s.title if s.authors in ("none named", "none", "authors not noted", "authors not shown in the abstract", "not noted") else f"{s.authors}{year}"
    cells = [
        f'<td>{_words(c.room)}</td><th scope="row">{escape(c.quantity)}</th>',
        f'<td class="st-value">{escape(c.printed_text)}</td><td class="st-value">{_number(r.ours)}</td>',
        f'<td>{escape("" if c.unit == "1" else c.unit)}</td><td class="st-value">{_off_by(r)}</td>',
        f'<td class="st-verdict">{"agrees" if r.verdict == "agrees" else "DISAGREES"}{reason}</td>',
        f"<td>{escape(c.rule)}</td><td>{escape(c.worth)}</td><td>{escape(who + place + seen)}</td>",
    ]
    return f"<tr{' class=st-off' if r.verdict == 'disagrees' else ''}>{''.join(cells)}</tr>"


def _table(found, caption):
    heads = "".join(f'<th scope="col">{h}</th>' for h in _HEADS)
    return f"<table><caption>{escape(caption)}</caption><thead><tr>{heads}</tr></thead><tbody>{''.join(map(_row, found))}</tbody></table>"


def _counts(found):
    off = sum(r.verdict == "disagrees" for r in found)
    return f"{len(found) - off} agree by their rule, {off} disagree, each with its reason"


class PublishedTable:
    """The checks to browse. Shown when it is the last line of a cell.

    chosen: Results that fit the filters, in the order shown; start: number of the first row shown; text: the sentence that says so; png: the picture.
    """

    def __init__(self):
        found = published.results()
        sources = {r.check.provenance.source.key: str(r.check.provenance.source).split(":")[0] for r in found}
        named = sorted(((f"{label[:60]} ({key})", key) for key, label in sources.items()), key=lambda pair: pair[0].casefold())
        self.search = widgets.Text(description="Search words (press Enter)", continuous_update=False)
        self.room = widgets.Dropdown(description="Room", options=[(ANY, None), *((room.replace("_", " "), room) for room in published.summary())])
        self.source = widgets.Dropdown(description="Source", options=[(ANY, None), *named])
        self.verdict = widgets.Dropdown(description="Verdict", options=[(ANY, None), *((v, v) for v in published.VERDICTS)])
        self.worth = widgets.Dropdown(description="Worth of an agreement", options=[(ANY, None), *((w, w) for w in published.WORTH)])
        self.order = widgets.Dropdown(description="Order", options=[("as in the course", False), ("largest difference first", True)])
        self.filters = (self.search, self.room, self.source, self.verdict, self.worth, self.order)
        self._quiet = False
        for control in self.filters:
            control.observe(self._changed, "value")
        self._picture = Picture(Drawing(_setup, _update, _WIDTH, _HEIGHT))
        self._image = _of_class(widgets.Image(format="url", width=str(_WIDTH), height=str(_HEIGHT)), "st-picture")
        self._say, self._body = _of_class(widgets.HTML(), "st-sentence"), _of_class(widgets.HTML(), "st-more")
        self.earlier, self.later = (widgets.Button(description=words) for words in ("Earlier rows", "Later rows"))
        self.everything = widgets.Button(description="Show all checks")
        self.earlier.on_click(lambda _: self._turn(-PAGE))
        self.later.on_click(lambda _: self._turn(PAGE))
        self.everything.on_click(lambda _: self.reset())
        legend = "".join(f"<li><strong>{escape(w)}</strong>: {escape(text)}</li>" for w, text in published.WORTH.items())
        more = _of_class(widgets.HTML(f"<details><summary>What an agreement is worth</summary><ul>{legend}</ul></details>"), "st-more")
        rows = [_of_class(widgets.Box((control,)), "st-row") for control in self.filters]
        parts = (
            _of_class(widgets.HTML(markup.hook(TITLE) + f"<style>{_CSS}</style>"), "st-hook"),
            self._image,
            _of_class(widgets.Box(tuple(rows)), "st-controls"),
            self._say,
            _of_class(widgets.Box((self.earlier, self.later, self.everything)), "st-buttons"),
            self._body,
            more,
        )
        self.widget = _of_class(_of_class(widgets.VBox(parts), "st-panel"), "st-checks")
        self.refresh()

    @property
    def alt(self):
        """The picture in words."""
        by_room = "; ".join(f"{room} {n['agrees']} and {n['disagrees']}" for room, n in published.summary().items())
        return f"Every check as a mark: difference from the printed value on a logarithmic scale, one line for each room. Agree and disagree: {by_room}."

    def choose(self, text="", room=None, source=None, verdict=None, worth=None, largest_first=False):
        """Set all filters at once. Raises InputError for a room, source, verdict or worth that is not there."""
        wanted = (str(text), room, source, verdict, worth, bool(largest_first))
        for control, value in zip(self.filters[1:], wanted[1:], strict=True):
            if value not in [v for _, v in control.options]:
                raise InputError(f"{control.description.lower()}: {value!r} was given; there are {', '.join(str(v) for _, v in control.options if v)}.")
        self._quiet = True
        for control, value in zip(self.filters, wanted, strict=True):
            control.value = value
        self._quiet = False
        self.refresh()

    def reset(self):
        """All checks, from the first row."""
        self.choose()

    def refresh(self):
        """Filter anew, from the first row."""
        found = published.select(self.room.value, self.source.value, self.verdict.value, self.worth.value, self.search.value)
        if self.order.value:
            found = tuple(sorted(found, key=lambda r: -abs(r.relative)))
        self.chosen, self.start = found, 0
        self.png = self._picture.draw(found)
        self._image.value = b"data:image/png;base64," + base64.b64encode(self.png)
        self._rows()

    def _changed(self, _):
        if not self._quiet:
            self.refresh()

    def _turn(self, by):
        self.start = min(max(self.start + by, 0), max((len(self.chosen) - 1) // PAGE * PAGE, 0))
        self._rows()

    def _rows(self):
        shown = self.chosen[self.start : self.start + PAGE]
        if shown:
            self.text = (
                f"{len(self.chosen)} of {len(published.results())} checks fit: {_counts(self.chosen)}. Rows {self.start + 1} to {self.start + len(shown)}."
            )
        else:
            self.text = "No check fits. Take fewer search words, or set a filter back to 'any'."
        self._say.value = markup.sentence(self.text, self.alt)
        self._body.value = _table(shown, f"Rows {self.start + 1} to {self.start + len(shown)}") if shown else ""
        self.earlier.disabled = self.start == 0
        self.later.disabled = self.start + PAGE >= len(self.chosen)

    def _ipython_display_(self):
        text = f"{len(published.results())} checks: {_counts(published.results())}."
        display({"text/html": markup.still(_small(self.png), _WIDTH, self.alt, text, TITLE), "text/plain": f"{TITLE}: {text}"}, raw=True)
        display(self.widget._repr_mimebundle_() | {"text/plain": TITLE}, raw=True)


def _small(png):
    """The picture with few colours, for a saved notebook."""
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.open(io.BytesIO(png)).convert("RGB").quantize(64, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def _of_class(widget, name):
    widget.add_class(name)
    return widget


def show():
    """The checks to browse, shown when it is the last line of a cell: a PublishedTable."""
    return PublishedTable()


def page_html():
    """All checks as one page of HTML, room after room, to read or print without a kernel."""
    css = "body{font:14px sans-serif;margin:2em;max-width:110em}table{border-collapse:collapse}td,th{border-bottom:1px solid #ccc;padding:3px 10px 3px 0;"
    css += "text-align:left;vertical-align:top}caption{text-align:left;font-weight:600}.st-value{text-align:right}.st-off .st-verdict{font-weight:600}"
    rooms = "".join(f"<h2>{_words(room)}</h2>{_table(published.select(room=room), _counts(published.select(room=room)))}" for room in published.summary())
    worth = "".join(f"<li>{escape(w)}: {escape(text)}</li>" for w, text in published.WORTH.items())
    head = f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{TITLE}</title><style>{css}</style></head><body><h1>{TITLE}</h1>'
    return f"{head}<p>{escape(_counts(published.results()))}.</p><p>What an agreement is worth:</p><ul>{worth}</ul>{rooms}</body></html>"


def save_page(path="published_checks.html"):
    """Write page_html() to a file and return its path. Raises InputError, in words, where it cannot be written or would replace something else."""
    from pathlib import Path

    path = Path(path)
    try:
        if path.exists() and TITLE not in path.read_text(encoding="utf-8", errors="replace")[:2000]:
            raise InputError(f"page: {path} is there already and is another file; give another name.")
        path.write_text(page_html(), encoding="utf-8")
    except OSError as error:
        raise InputError(f"page: {path} cannot be written ({error.strerror or error}).") from None
    return path
