"""The lecturer's first page: how far the class is, what fails, who needs help; and how hard each
problem is and how well it tells apart.
"""

import statistics

from ..answers import clip, say

HELP = 10  # names at most; who solved less than half of what the middle of the class did


def items(report):
    """{problem key: (difficulty %, discrimination or None)}.

    Difficulty: of those who tried it, the share that was right at once. Discrimination: correlation
    of right at once with the number of other problems that were, over those who tried it; None for
    fewer than ten, or where all are alike.
    """
    at_once = [
        {key: s.first_try and s.done for key, s in one.standings.items() if s.attempts}
        for one in report.own
    ]
    totals = [sum(own.values()) for own in at_once]
    out = {}
    for problem in report.problems:
        pairs = [
            (own[problem.key], total - own[problem.key])
            for own, total in zip(at_once, totals, strict=True)
            if problem.key in own
        ]
        difficulty = 100.0 * statistics.fmean(x for x, _ in pairs) if pairs else None
        out[problem.key] = difficulty, _correlation(pairs)
    return out


def _correlation(pairs):
    if len(pairs) < 10 or any(len(set(side)) < 2 for side in zip(*pairs, strict=True)):
        return None
    x, y = zip(*pairs, strict=True)
    return statistics.correlation([float(v) for v in x], [float(v) for v in y])


def to_look_at(report):
    """Rows of the table with remarks. Last come those that only tell of other data of the kit or of
    late answers: after an update or a deadline a whole class has them.
    """
    data = say("mark.data", stamps="|").partition("|")[0]
    late = say("mark.late", count=0).removeprefix("0"), say("mark.late", count=1)

    def usual(one):
        return all(text.startswith(data) or text.endswith(late) for text in one.remarks)

    rows = [(usual(one), row) for one, row in zip(report.sheets, report.table, strict=True)]
    return [row for _, row in sorted(rows, key=lambda pair: pair[0]) if row["remarks"]]


def _learners(count):
    return "1 learner" if count == 1 else f"{count} learners"


def glance(report, by_problem, slips):
    """Sentences for the head of the report, the most needed first."""
    solved = [row["solved"] for row in report.own_table]
    if not solved or not report.problems:
        return []
    middle, total = statistics.median(solved), len(report.problems)
    quarters = statistics.quantiles(solved, n=4) if len(solved) > 1 else [middle] * 3
    out = [
        f"How far: the middle learner solved {middle:g} of {total} problems; half of the class "
        f"lies between {quarters[0]:.0f} and {quarters[2]:.0f}."
    ]
    many = max(1, len(solved) // 4)
    tried = [row for row in by_problem if row["tried"] >= many and row["solved"] < row["tried"]]
    if hardest := sorted(tried, key=lambda row: row["solved"] / row["tried"])[:3]:
        named = "; ".join(f"{r['label']} ({r['solved']} of {r['tried']})" for r in hardest)
        out.append(f"What fails: {named}.")
    if slips:
        top = slips[0]
        out.append(f"The commonest slip: {top['label']}, {_learners(top['count'])}: {top['text']}")
    behind = sorted(
        (row["solved"], row["learner"]) for row in report.own_table if row["solved"] < middle / 2
    )
    if behind:
        named = "; ".join(f"{clip(name, 40)} ({n})" for n, name in behind[:HELP])
        more = f"; and {len(behind) - HELP} more" if len(behind) > HELP else ""
        out.append(f"Who needs help (less than half of the middle): {named}{more}.")
    return out
