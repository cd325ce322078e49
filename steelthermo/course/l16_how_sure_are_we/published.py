"""The kit against the published world, to browse: a picture of all checks by room and a table that
is searched and filtered.

show() makes it for a notebook; save_page() writes all checks as one page to read or print without a
kernel.
"""

from html import escape
from pathlib import Path

import numpy as np

from ... import trust
from ...base import InputError, table, why_not
from ...coursekit.page import Pages, listed, printed_page
from ...coursekit.panel import Drawing, Picture, style
from ...trust import VERDICTS, WORTH
from ..pictures import axes, dot, logarithmic, made_of, note

TITLE = "The kit against the published world"
SMALLEST = 1e-6  # relative difference below which all look the same
_WIDTH, _HEIGHT = 820, 490


# ---- the picture ---------------------------------------------------------------------------------


def _places():
    """(x, y) of every result: relative difference, and its room with the rows of a room spread over
    the height of its line.
    """
    rooms = list(trust.summary())
    found = trust.results()
    x = np.clip([abs(r.relative) for r in found], SMALLEST, 9.0)
    seen, y = dict.fromkeys(rooms, 0), []
    for r in found:
        k = seen[r.check.room] = seen[r.check.room] + 1
        y.append(
            rooms.index(r.check.room) + 0.34 * (2.0 * (k * 0.618034 % 1.0) - 1.0)
        )  # golden section: neighbours fall apart
    return np.array(x), np.array(y)


def _rooms(fig):
    counts = trust.summary()
    limits = (0.6 * SMALLEST, 12.0), (len(counts) - 0.4, -0.6)
    label = "difference from the printed value, relative"
    ax = axes(fig, (0.145, 0.115, 0.70, 0.795), label, "", *limits)
    logarithmic(ax, "x", [1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1.0])
    percent = ["≤ 0.0001 %", "0.001 %", "0.01 %", "0.1 %", "1 %", "10 %", "100 %"]
    ax.set_xticklabels(percent, fontsize=9)
    ax.set_yticks(range(len(counts)), [room.replace("_", " ") for room in counts], fontsize=9)
    ax.grid(axis="y", visible=False)
    x, y = _places()
    ax.plot(x, y, ".", color=style.GRID, markersize=5, zorder=1)
    marks = {
        "agrees": dot(ax, 4, markersize=3.6, zorder=2),
        "disagrees": dot(ax, 1, "s", ring=True, markersize=5.2, markeredgewidth=1.4, zorder=3),
    }
    look = {"transform": ax.get_yaxis_transform(), "va": "center", "fontsize": 9}
    for k, n in enumerate(counts.values()):
        ax.text(1.02, k, f"{n['agrees']}   {n['disagrees'] or '-'}", **look)
    ax.text(1.02, -1.0, "agree   off", **look)
    said = "dot: agrees by its rule    open square: disagrees, reason known"
    note(ax, 0.005, 1.004, said, va="bottom")
    ax.set_title(TITLE, pad=16)
    index = {r.check.id: i for i, r in enumerate(trust.results())}

    def show(chosen):
        for verdict, mark in marks.items():
            at = [index[r.check.id] for r in chosen if r.verdict == verdict]
            mark.set_data(x[at], y[at])

    return show


# ---- the table -----------------------------------------------------------------------------------

_HEADS = (
    "room",
    "quantity",
    "printed",
    "ours",
    "unit",
    "off by",
    "verdict",
    "rule",
    "worth",
    "source",
)


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
    seen = s.seen
    reason = "" if c.reason == "none" else f"<br>{escape(c.reason)}"
    year = "" if s.year in ("none", "not noted") else f" {s.year}"
    who = (
        s.title
        if s.authors
        in (
            "none named",
            "none",
            "authors not noted",
            "authors not shown in the abstract",
            "not noted",
        )
        else f"{s.authors}{year}"
    )
    cells = [
        f'<td>{_words(c.room)}</td><th scope="row">{escape(c.quantity)}</th>',
        f'<td class="st-value">{escape(c.printed_text)}</td><td '
        f'class="st-value">{_number(r.ours)}</td>',
        f'<td>{escape("" if c.unit == "1" else c.unit)}</td><td class="st-value">{_off_by(r)}</td>',
        f'<td class="st-verdict">{"agrees" if r.verdict == "agrees" else "DISAGREES"}{reason}</td>',
        f"<td>{escape(c.rule)}</td><td>{escape(c.worth)}</td><td>{escape(who + place + seen)}</td>",
    ]
    return f"<tr{' class=st-off' if r.verdict == 'disagrees' else ''}>{''.join(cells)}</tr>"


def _worths():
    """What an agreement is worth, with the number of checks."""
    n = trust.worth_counts()
    return listed(f"{word} ({n[word]}): {text}" for word, text in WORTH.items())


def _models():
    """The table of models: how many checks from outside their data each has, and what is left."""
    rows = [
        f'<tr><th scope="row">{escape(m.model)}</th><td class="st-value">{m.agree}</td>'
        f'<td class="st-value">{m.disagree}</td><td class="st-value">{m.notice}</td>'
        f"<td>{escape(m.remark)}</td></tr>"
        for m in trust.model_checks()
    ]
    said = "Checks from outside the data of each model, and how many would notice a wrong one"
    heads = ("model", "agree", "disagree", "would notice", "what is left open")
    return table(heads, rows, said)


def _counts(found):
    off = sum(r.verdict == "disagrees" for r in found)
    return f"{len(found) - off} agree by their rule, {off} disagree, each with its reason"


class PublishedTable(Pages):
    """The checks to browse. Shown when it is the last line of a cell. choose(text, room=...,
    source=..., verdict=..., worth=...) sets the filters.
    """

    def __init__(self):
        sources = {
            r.check.provenance.source.key: str(r.check.provenance.source).split(":")[0]
            for r in trust.results()
        }
        named = sorted(
            ((f"{label[:60]} ({key})", key) for key, label in sources.items()),
            key=lambda pair: pair[0].casefold(),
        )
        menus = [
            ("room", "Room", [(room.replace("_", " "), room) for room in trust.summary()]),
            ("source", "Source", named),
            ("verdict", "Verdict", [(v, v) for v in VERDICTS]),
            ("worth", "Worth of an agreement", [(w, w) for w in WORTH]),
        ]
        notes = (
            f"<details><summary>What an agreement is worth</summary>{_worths()}</details>"
            f"<details><summary>Which models are checked</summary>{_models()}</details>"
        )
        orders = (("as in the course", False), ("largest difference first", True))
        super().__init__(
            TITLE,
            _HEADS,
            menus,
            orders,
            Picture(Drawing(*made_of(_rooms), _WIDTH, _HEIGHT)),
            _WIDTH,
            _HEIGHT,
            notes,
        )

    def select(self, text, order, **menus):
        """Results that fit."""
        found = trust.select(**menus, text=text)
        return sorted(found, key=lambda r: -abs(r.relative)) if order else found

    def row(self, r):
        """HTML of one check."""
        return _row(r)

    def counts(self, rows):
        """How many agree."""
        return _counts(rows)

    def alt(self):
        """The picture in words."""
        by_room = "; ".join(
            f"{room.replace('_', ' ')} {n['agrees']} and {n['disagrees']}"
            for room, n in trust.summary().items()
        )
        return (
            "Every check as a mark: difference from the printed value on a logarithmic scale, "
            f"one line for each room. Agree and disagree: {by_room}."
        )


def show():
    """The checks to browse, shown when it is the last line of a cell: a PublishedTable."""
    return PublishedTable()


def page_html():
    """All checks as one page of HTML, room after room, to read or print without a kernel."""
    rooms = "".join(
        f"<h2>{_words(room)}</h2>"
        f"{table(_HEADS, map(_row, trust.select(room=room)), _counts(trust.select(room=room)))}"
        for room in trust.summary()
    )
    return printed_page(
        TITLE,
        f"<h1>{TITLE}</h1><p>{escape(_counts(trust.results()))}.</p>"
        f"<p>What an agreement is worth:</p>{_worths()}{_models()}{rooms}",
        wide=True,
    )


def save_page(path="published_checks.html"):
    """Write page_html() to a file and return its path. Raises InputError, in words, where it cannot
    be written or would replace something else.
    """
    path = Path(path)
    try:
        if path.exists() and TITLE not in path.read_text(encoding="utf-8", errors="replace")[:2000]:
            raise InputError(
                f"page: {path} is there already and is another file; give another name."
            )
        path.write_text(page_html(), encoding="utf-8")
    except OSError as error:
        raise InputError(f"page: {path} cannot be written ({why_not(error)}).") from None
    return path
