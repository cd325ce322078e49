"""The plots of the marking report, as SVG inside the page, each with its content in words."""

from collections import Counter
from collections.abc import Sequence

from ...base import Html
from ..html import filled, paragraphs
from ..panel import style

FIGURES = 3  # lessons with a figure: the table has all problems


def _drawn(plot, words, label="", **values):
    """A plot of assets/plots.html with words below it; label: for those who do not see it (default:
    the words).
    """
    colours = {"ink": style.INK, "grey": style.HALO}
    colours |= {"blue": style.SERIES[4].colour, "orange": style.SERIES[1].colour}
    told = {"words": words, "label": label or words}
    return filled("plots.html", plot=plot, **told, **colours, **values)


def solved(table: Sequence, total: int) -> Html:
    """How many learners solved how many problems.

    Parameters
    ----------
    table : rows of the report
    total : number of problems

    Returns
    -------
    Html

    Examples
    --------
    >>> "2 solved all 1" in solved([{"solved": 1}, {"solved": 1}], 1)
    True
    """
    counts = Counter(row["solved"] for row in table)
    step = -(-(total + 1) // 41)
    bins = [
        (low, sum(counts[k] for k in range(low, low + step))) for low in range(0, total + 1, step)
    ]
    middle = sorted(row["solved"] for row in table)[len(table) // 2]
    words = (
        f"Learners by problems solved: {counts[total]} of {len(table)} solved all {total}; "
        f"half of them solved {middle} or more."
    )
    return _drawn("solved", words, bins=bins, total=total, most=max(n for _, n in bins))


def _hardest(rows):
    return min(
        (r for r in rows if r["tried"]), key=lambda r: r["solved"] / r["tried"], default=None
    )


def _share(rows):
    """Of all who tried the problems of a lesson, the share that solved them."""
    return sum(r["solved"] for r in rows) / max(1, sum(r["tried"] for r in rows))


def problems(by_problem: Sequence, learners: int) -> Html:
    """A figure for each of the few lessons that fail most, so that none is cut by the end of a
    page: solved, tried, not attempted; attempts; minutes.

    Parameters
    ----------
    by_problem : rows of the report
    learners : how many there are

    Returns
    -------
    Html

    Examples
    --------
    >>> print(problems([], 0))
    <p>Nobody has tried a problem yet.</p>
    """
    worst, lessons = _hardest(by_problem), {}
    if worst is None:
        return Html(paragraphs("Nobody has tried a problem yet."))
    for row in by_problem:
        lessons.setdefault(row["lesson"], []).append(row)
    untried = [lesson for lesson, rows in lessons.items() if _hardest(rows) is None]
    none = f"Nobody has tried a problem of: {'; '.join(untried)}." if untried else ""
    out = paragraphs(f"Hardest: {worst['label']} ({_solvers(worst)}).", none)
    tried = {lesson: rows for lesson, rows in lessons.items() if _hardest(rows)}
    failing = sorted(tried, key=lambda lesson: _share(tried[lesson]))[:FIGURES]
    for lesson, rows in tried.items():
        if lesson in failing and (worst := _hardest(rows)):
            words = f"Hardest: {worst['problem'].title} ({_solvers(worst)})."
            most = {key: max(r[key] for r in rows) or 1.0 for key in ("attempts", "minutes")}
            label = f"Lesson {lesson} {words}"
            made = _drawn("lesson", words, label, rows=rows, learners=learners, most=most)
            out += f"{paragraphs(lesson, tag='h3')}{made}"
    return Html(out)


def _solvers(row):
    attempts = (
        f"{row['attempts']:.3g} attempts (median)" if row["attempts"] > 1 else "1 attempt each"
    )
    return f"{row['solved']} of {row['tried']} who tried it solved it, in {attempts}"


def slips(found: Sequence) -> Html:
    """The commonest slips of the class.

    Parameters
    ----------
    found : dicts with count, label of the problem, key, text

    Returns
    -------
    Html

    Examples
    --------
    >>> print(slips([]))
    <p>No known slip was made.</p>
    """
    if not found:
        return Html(paragraphs("No known slip was made."))
    top = found[0]
    made = f"{top['count']} learner{'s' if top['count'] > 1 else ''}"
    words = f"The commonest slip, made by {made}, is in {top['label']}: {top['text']}"
    return _drawn("slips", words, rows=found)
