"""The plots of the marking report, as SVG inside the page, each with its content in words."""

import io
import re
from collections import Counter
from html import escape

import matplotlib
from matplotlib.figure import Figure

from ...base import Html
from ..panel import style


def _svg(fig, words, label=None):
    """The figure as SVG text for a page, with words below it; label: for those who do not see it
    (default: the words).
    """
    out = io.StringIO()
    with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": "steelthermo"}):
        fig.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    svg = out.getvalue()
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg[svg.index("<svg") :], flags=re.S)
    return Html(
        f"<figure role='img' aria-label='{escape(label or words)}'>{svg}"
        f"<figcaption>{escape(words)}</figcaption></figure>"
    )


def solved(table, total):
    """How many learners solved how many problems."""
    with matplotlib.rc_context(style.RC):
        fig = Figure(figsize=(9, 2.8), layout="constrained")
        ax = fig.add_subplot()
        counts = Counter(row["solved"] for row in table)
        step = max(1, -(-(total + 1) // 41))
        bins = [sum(counts[k] for k in range(low, low + step)) for low in range(0, total + 1, step)]
        ax.grid(axis="x", visible=False)
        ax.bar(
            range(0, total + 1, step),
            bins,
            0.85 * step,
            align="edge" if step > 1 else "center",
            color=style.SERIES[4].colour,
        )
        ax.set(
            xlabel=f"problems solved, of {total}",
            ylabel="learners",
            xlim=(-0.6 * step, total + step),
        )
        ax.yaxis.get_major_locator().set_params(integer=True)
        middle = sorted(row["solved"] for row in table)[len(table) // 2]
        return _svg(
            fig,
            f"Learners by problems solved: {counts[total]} of {len(table)} solved all {total}; "
            f"half of them solved {middle} or more.",
        )


def problems(by_problem, learners):
    """Per lesson a figure, so that none is cut by the end of a page: solved, tried, not attempted;
    attempts; minutes.
    """
    worst = min(
        (r for r in by_problem if r["tried"]), key=lambda r: r["solved"] / r["tried"], default=None
    )
    if worst is None:
        return Html("<p>Nobody has tried a problem yet.</p>")
    lessons = {}
    for row in by_problem:
        lessons.setdefault(row["lesson"], []).append(row)
    untried = [lesson for lesson, rows in lessons.items() if not any(r["tried"] for r in rows)]
    out = [f"<p>Hardest: {escape(worst['label'])} ({_solvers(worst)}).</p>"]
    out += (
        [f"<p>Nobody has tried a problem of: {escape('; '.join(untried))}.</p>"] if untried else []
    )
    with matplotlib.rc_context(style.RC | {"font.size": 8.5}):
        out += [
            _lesson(lesson, rows, learners)
            for lesson, rows in lessons.items()
            if lesson not in untried
        ]
    return Html("".join(out))


def _solvers(row):
    attempts = (
        f"{row['attempts']:.1f} attempts on average" if row["attempts"] > 1 else "1 attempt each"
    )
    return f"{row['solved']} of {row['tried']} who tried it solved it, in {attempts}"


def _short(text, limit=44):
    """A title that fits beside its bar."""
    return text if len(text) <= limit else text[: limit - 1].rstrip() + "…"


def _lesson(lesson, rows, learners):
    """The figure of one lesson, laid out by hand: a computed layout takes longer than all the
    rest.
    """
    n = len(rows)
    high = 0.95 + 0.21 * n  # inches: 0.38 above the bars for the legend, 0.52 below for the axis
    fig = Figure(figsize=(9, high))
    grid = {
        "left": 0.34,
        "right": 0.985,
        "bottom": 0.52 / high,
        "top": 1 - 0.38 / high,
        "wspace": 0.08,
    }
    left, middle, right = fig.subplots(1, 3, sharey=True, width_ratios=(3, 1, 1), gridspec_kw=grid)
    y = range(n)
    start = [0] * n
    for name, counts, look in (
        ("solved", [r["solved"] for r in rows], {"color": style.SERIES[4].colour}),
        (
            "tried, not solved",
            [r["tried"] - r["solved"] for r in rows],
            {"color": style.SERIES[1].colour, "hatch": "////", "edgecolor": style.PAPER},
        ),
        (
            "not attempted",
            [learners - r["tried"] for r in rows],
            {"color": "#e4e7ea", "edgecolor": style.HALO, "linewidth": 0.5},
        ),
    ):
        left.barh(y, counts, 0.75, left=start, label=name, **look)
        start = [a + b for a, b in zip(start, counts, strict=True)]
    left.set_yticks(y, [_short(r["label"]) for r in rows])
    left.set(xlabel="learners", xlim=(0, max(1, learners)), ylim=(n - 0.4, -0.6))
    left.xaxis.get_major_locator().set_params(integer=True)
    fig.legend(loc="upper right", ncols=3, bbox_to_anchor=(0.99, 1.0))
    for ax in (left, middle, right):
        ax.grid(axis="y", visible=False)
    for ax, key, what in (
        (middle, "attempts", "attempts, mean"),
        (right, "minutes", "minutes, median"),
    ):
        ax.barh(y, [r[key] for r in rows], 0.75, color=style.SERIES[0].colour)
        ax.set(xlabel=what)
    worst = min((r for r in rows if r["tried"]), key=lambda r: r["solved"] / r["tried"])
    words = f"Hardest: {worst['problem'].title} ({_solvers(worst)})."
    return f"<h3>{escape(lesson)}</h3>{_svg(fig, words, f'Lesson {lesson} {words}')}"


def slips(found):
    """The commonest slips of the class: dicts with count, label of the problem, key, text."""
    if not found:
        return Html("<p>No known slip was made.</p>")
    names = [f"{f['label']}: {f['key'].replace('_', ' ')}" for f in found]
    with matplotlib.rc_context(style.RC | {"font.size": 8.5}):
        fig = Figure(figsize=(9, 0.8 + 0.22 * len(found)), layout="constrained")
        ax = fig.add_subplot()
        ax.barh(range(len(found)), [f["count"] for f in found], 0.7, color=style.SERIES[1].colour)
        ax.grid(axis="y", visible=False)
        ax.set_yticks(range(len(found)), [_short(name, 60) for name in names])
        ax.set(xlabel="learners who made it", ylim=(len(found) - 0.4, -0.6))
        ax.xaxis.get_major_locator().set_params(integer=True)
        top = found[0]
        made = f"{top['count']} learner{'s' if top['count'] > 1 else ''}"
        words = f"The commonest slip, made by {made}, is in {top['label']}: {top['text']}"
        return _svg(fig, words)
