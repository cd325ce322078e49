"""The plots of the marking report, as SVG inside the page, each with its content in words."""

import io
import re
from collections import Counter
from html import escape

import matplotlib
from matplotlib.figure import Figure

from . import style

__all__ = ["problems", "slips", "solved"]


def _svg(fig, words):
    """The figure as SVG text for a page, labelled with words for those who do not see it."""
    out = io.StringIO()
    with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": "steelthermo"}):
        fig.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    svg = out.getvalue()
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg[svg.index("<svg") :], flags=re.S)
    return f"<figure role='img' aria-label='{escape(words)}'>{svg}<figcaption>{escape(words)}</figcaption></figure>"


def solved(table, total):
    """How many learners solved how many problems."""
    with matplotlib.rc_context(style.RC):
        fig = Figure(figsize=(9, 2.8), layout="constrained")
        ax = fig.add_subplot()
        counts = Counter(row["solved"] for row in table)
        step = max(1, -(-(total + 1) // 41))
        bins = [sum(counts[k] for k in range(low, low + step)) for low in range(0, total + 1, step)]
        ax.grid(axis="x", visible=False)
        ax.bar(range(0, total + 1, step), bins, 0.85 * step, align="edge" if step > 1 else "center", color=style.SERIES[4].colour)
        ax.set(xlabel=f"problems solved, of {total}", ylabel="learners", xlim=(-0.6 * step, total + step))
        ax.yaxis.get_major_locator().set_params(integer=True)
        middle = sorted(row["solved"] for row in table)[len(table) // 2]
        return _svg(fig, f"Learners by problems solved: {counts[total]} of {len(table)} solved all {total}; half of them solved {middle} or more.")


def problems(by_problem, learners):
    """Per problem: solved, tried, not attempted; attempts; minutes."""
    with matplotlib.rc_context(style.RC | {"font.size": 8.5}):
        n = len(by_problem)
        fig = Figure(figsize=(9, 1.1 + 0.2 * n), layout="constrained")
        left, middle, right = fig.subplots(1, 3, sharey=True, width_ratios=(3, 1, 1))
        y = range(n)
        done = [r["solved"] for r in by_problem]
        open_ = [r["tried"] - r["solved"] for r in by_problem]
        rest = [learners - r["tried"] for r in by_problem]
        left.barh(y, done, 0.75, color=style.SERIES[4].colour, label="solved")
        left.barh(y, open_, 0.75, left=done, color=style.SERIES[1].colour, hatch="////", edgecolor=style.PAPER, label="tried, not solved")
        left.barh(y, rest, 0.75, left=[r["tried"] for r in by_problem], color="#e4e7ea", edgecolor=style.HALO, linewidth=0.5, label="not attempted")
        left.set_yticks(y, [r["problem"].key for r in by_problem])
        left.set(xlabel="learners", xlim=(0, max(1, learners)), ylim=(n - 0.4, -0.6))
        fig.legend(loc="outside upper left", ncols=3)
        for ax in (left, middle, right):
            ax.grid(axis="y", visible=False)
        middle.barh(y, [r["attempts"] for r in by_problem], 0.75, color=style.SERIES[0].colour)
        middle.set(xlabel="attempts, mean")
        right.barh(y, [r["minutes"] for r in by_problem], 0.75, color=style.SERIES[0].colour)
        right.set(xlabel="minutes, median")
        worst = min((r for r in by_problem if r["tried"]), key=lambda r: r["solved"] / r["tried"], default=None)
        words = "Nobody has tried a problem yet."
        if worst:
            solvers = f"{worst['solved']} of {worst['tried']} who tried it solved it"
            words = f"Hardest is {worst['problem'].key}: {solvers}, in {worst['attempts']:.1f} attempts on average."
        return _svg(fig, words)


def slips(by_problem):
    """The commonest slips of the class."""
    found = sorted(((count, f"{r['problem'].key}: {key}") for r in by_problem for key, count in r["slips"].items()), key=lambda f: -f[0])[:15]
    if not found:
        return "<p>No known slip was made.</p>"
    with matplotlib.rc_context(style.RC | {"font.size": 8.5}):
        fig = Figure(figsize=(9, 0.8 + 0.22 * len(found)), layout="constrained")
        ax = fig.add_subplot()
        ax.barh(range(len(found)), [c for c, _ in found], 0.7, color=style.SERIES[1].colour)
        ax.grid(axis="y", visible=False)
        ax.set_yticks(range(len(found)), [name for _, name in found])
        ax.set(xlabel="learners who made it", ylim=(len(found) - 0.4, -0.6))
        ax.xaxis.get_major_locator().set_params(integer=True)
        return _svg(fig, f"The commonest slip is {found[0][1]}, made by {found[0][0]} learners.")
