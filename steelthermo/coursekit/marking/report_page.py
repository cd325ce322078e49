"""The marking report as one page of HTML. All that comes from sheets is escaped here."""

from collections import Counter
from datetime import date
from html import escape

from ...base import table
from ..answers import clip, number_text
from ..html import printed_page
from . import plots as report_plots
from .report import COMMON


def page_of(report):
    """The report as one page that needs nothing else."""
    by_problem = report.by_problem()
    parts = [
        f"<h1>Marks, course key {escape(clip(report.course.key, 100))}</h1>",
        f"<p>{escape(report.summary())} Marked on {date.today().isoformat()}.</p>",
        *(f"<p>{escape(line)}</p>" for line in report.told),
        "<p "
        f"class='note'>{escape(_DATA_PROTECTION)}"
        f"{' ' + escape(_PSEUDONYMS) if report.pseudonyms else ''}</p>",
    ]
    if report.own_table and report.problems:
        parts += [
            "<h2>Who finished</h2>",
            report_plots.solved(report.own_table, len(report.problems)),
        ]
        parts += [
            "<h2>Which problem fails</h2>",
            report_plots.problems(by_problem, len(report.own_table)),
        ]
        parts += [
            "<h2>The commonest slips</h2>",
            report_plots.slips(by_problem, report.slip_text),
            _slip_table(report, by_problem),
        ]
    if report.table:
        look = [
            (row["learner"], row["sheet"], row["remarks"]) for row in report.table if row["remarks"]
        ]
        parts += (
            ["<h2>Sheets to look at</h2>", _table(("learner", "sheet", "remarks"), look)]
            if look
            else []
        )
        parts += (
            ["<h2>Problem by problem</h2>", _problem_table(report, by_problem)]
            if report.problems
            else []
        )
        parts += ["<h2>Learner by learner</h2>", _learner_table(report)]
        parts += (
            ["<h2>What each learner should go over again</h2>", _again_table(report)]
            if report.problems
            else []
        )
    if report.bad:
        parts += [
            "<h2>Sheets that could not be read</h2>",
            _table(("sheet", "reason"), report.bad),
        ]
    if report.doubles:
        parts += [
            "<h2>More than one sheet by one name</h2>",
            _table(("name", "sheets"), [(clip(n, 100), ", ".join(f)) for n, f in report.doubles]),
        ]
    parts.append(f"<h2>How this was made</h2><p>{escape(_HOW)}</p>")
    return printed_page("Marks", "\n".join(parts), wide=True)


def _slip_table(report, by_problem):
    found = [
        (count, row["problem"], key) for row in by_problem for key, count in row["slips"].items()
    ]
    top = sorted(found, key=lambda f: -f[0])[:15]
    rows = [(count, report.label[p.key], report.slip_text(p, key)) for count, p, key in top]
    return _table(("learners", "problem", "slip"), rows, numbers=(0,)) if rows else ""


def _problem_table(report, by_problem):
    heads = (
        "problem",
        "tried",
        "solved",
        "at first try",
        "attempts, mean",
        "took hints",
        "opened solution",
        "wrong, no known slip",
        "minutes, median",
    )
    rows = []
    for r in by_problem:
        counts = (
            r["tried"],
            r["solved"],
            r["first_try"],
            number_text(r["attempts"], 2),
            r["hints"],
            r["opened"],
            r["unexplained"],
        )
        rows.append((r["label"], *counts, number_text(r["minutes"], 2)))
    return _table(heads, rows, numbers=range(1, 9))


def _learner_table(report):
    keys = (
        (
            "learner",
            "solved",
            "percent",
            "first_try",
            "attempts",
            "hints",
            "solutions_opened",
            "minutes",
        )
        if report.problems
        else ("learner",)
    )
    for lesson in report.chained:
        if any(lesson.name in one.chains for one in report.sheets):
            keys += tuple(lesson.chain.cells(None))
    return _table(
        tuple(k.replace("_", " ") for k in keys),
        [tuple(row[k] for k in keys) for row in report.table],
        numbers=range(1, len(keys)),
    )


def _again_table(report):
    """Problems tried and not solved, and slips made more than once, of each learner."""
    rows = []
    for one in report.sheets:
        mine = {
            p.key: s
            for p in report.problems
            if (s := one.standings.get(p.key)) is not None and s.attempts
        }
        unsolved = [report.label[key] for key, s in mine.items() if not s.done]
        total, where = Counter(), {}
        for key, s in mine.items():
            for slip, count in s.slips.items():
                if not slip.startswith("line_"):  # a wrong line means another thing in each problem
                    total[slip] += count
                    where.setdefault(slip, []).append(
                        report.lesson[key.partition(".")[0]].partition(" ")[0]
                    )
        again = [
            f"{_slip_name(slip)}: {n} times, in lesson {', '.join(dict.fromkeys(where[slip]))}"
            for slip, n in total.most_common()
            if n > 1
        ]
        rows.append(
            (
                report.names[id(one)],
                "; ".join(unsolved) or "none",
                len(report.problems) - len(mine),
                "; ".join(again) or "none",
            )
        )
    return _table(
        ("learner", "tried, not solved", "not tried", "slips made more than once"),
        rows,
        numbers=(2,),
    )


def _slip_name(key):
    """A slip by its name, in words."""
    return COMMON.get(key, key.replace("_", " "))


def _table(heads, rows, numbers=()):
    """A table whose columns of these numbers hold figures."""
    css = ["n" if i in numbers else "" for i in range(len(heads))]
    return table(heads, rows, css=css, named=False)


_DATA_PROTECTION = (
    "These are personal data: names, marks, mistakes and times of learners. Show them only to who "
    "must see them, keep them no longer than "
    "needed, and follow the rules of your institution and the law. Times are guesses (a pause "
    "counts ten minutes at most) and say nothing about effort."
)
_PSEUDONYMS = (
    "Names are replaced by keyed hashes. Whoever has the course key and a list of names can find "
    "out who is who, and so can whoever has "
    "who_is_who.csv: keep both apart from this page."
)
_HOW = (
    "Each answer was read from the learner's sheet as text and worked out again from the problem, "
    "the learner's name and the course key; nothing "
    "in a sheet was run. A problem counts as solved if one set of numbers was answered right "
    "before its worked solution was opened. The seal on "
    "each line shows that it was written by this kit for this name and course key and was not "
    "changed since. It does not show who sat at the "
    "keyboard, nor that the last lines of a sheet were not cut off; and whoever reads the program "
    "can forge it. For a mark that matters, ask "
    "the learner to work one problem in front of you."
)
