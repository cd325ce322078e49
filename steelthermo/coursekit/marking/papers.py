"""What a class gained from the first to the last paper, skill by skill, and how its exam went."""

from ..adapter import in_use
from ..answers import say
from ..paper import FIRST, LAST, count


def cells(report, one):
    """What a gradebook says of one sheet's papers; blank for a paper not handed in."""
    found = {key: count(marks.values()) for key, marks in one.papers.items()}
    none = "", ""
    first, last = (found.get(key, none) for key in (FIRST, LAST))
    out = {"first_paper": first[0], "first_paper_not_answered": first[1]}
    out |= {"last_paper": last[0], "last_paper_not_answered": last[1]}
    out["gain"] = "" if none in (first, last) else last[0] - first[0]
    if report.exam:
        right, blank = found.get(report.exam.key, none)
        percent = exam_percent(report, one)
        out |= {"exam": right, "exam_not_answered": blank, "exam_percent": percent}
    return out


def exam_percent(report, one):
    """The share of an exam's problems that is right, in %; '' for who did not write it."""
    marks = one.papers.get(report.exam.key) if one else None
    return round(100.0 * count(marks.values())[0] / len(marks), 1) if marks else ""


def gather(people):
    """Give the sheet that counts the papers written on another of the same person: an exam is often
    written on another computer. people: of gradebook.people_rows.
    """
    for _, one, others in people:
        for other in others:
            for key in other.papers.keys() - one.papers.keys() if one.other == other.other else ():
                one.papers[key] = other.papers[key]
                one.remarks.append(say("exam.elsewhere", name=key))
                one.remarks += [say("exam.outside", count=other.outside)] * bool(other.outside)


def tables(report):
    """[(heading, heads, rows)] for the report: gain of each skill among those who handed in both
    papers, and the problems of an exam.
    """
    out = []
    both = [one.papers for one in report.own if {FIRST, LAST} <= one.papers.keys()]
    if both:
        rows = []
        for key in in_use().paper:
            first, last = ([p[paper][key] for p in both] for paper in (FIRST, LAST))
            pairs = [(bool(a), bool(b)) for a, b in zip(first, last, strict=True)]
            told = first.count(True), last.count(True), pairs.count((False, True))
            told += pairs.count((True, False)), first.count(None), last.count(None)
            rows.append((in_use().problem(key).title, *told))
        totals = [sum(row[k] for row in rows) for k in range(1, 7)]
        rows.append((say("report.all_skills"), *totals))
        heads = say("report.heads_gained").split("|")
        out.append((say("report.gained", learners=say("plot.count", count=len(both))), heads, rows))
    if report.exam:
        wrote = [p for one in report.own if (p := one.papers.get(report.exam.key))]
        rows = [(p.title, *count(mine[p.key] for mine in wrote)) for p in report.exam.problems]
        learners = say("plot.count", count=len(wrote))
        told = say("report.exam", name=report.exam.key, learners=learners)
        out.append((told, say("report.heads_exam").split("|"), rows))
    return out
