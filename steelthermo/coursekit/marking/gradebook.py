"""The gradebook: one row a person, with what other systems know them by; and the tables that two
learning platforms take.

Moodle's import maps columns that its teacher chooses, and knows a person by "ID number" or "Email
address"; Canvas wants Student, ID, SIS User ID, SIS Login ID, Section, then one column an
assignment and a row "Points Possible" (both from memory of their documentation, not tried).
"""

from ..answers import say
from ..problems import normalised
from . import papers


def people_rows(report):
    """[(Person or None, Marked or None, [other Marked of the same person])] in the order of the
    class list, then those who are not on it.
    """
    groups = {}
    for one in report.sheets:
        who = one.person if one.person else normalised(one.learner)
        groups.setdefault(who, []).append(one)
    rows = []
    listed = report.roster.people if report.roster else ()
    for person in listed:
        rows.append((person, *_counting(groups.pop(person, []))))
    return rows + [(None, *_counting(group)) for group in groups.values()]


def _counting(sheets):
    """(the sheet that counts, the others): of several the one with most solved."""
    ranked = sorted(
        sheets,
        key=lambda one: (
            not one.other,
            sum(s.done for s in one.standings.values()),
            sum(s.attempts for s in one.standings.values()),
        ),
    )
    return (ranked[-1], ranked[:-1]) if ranked else (None, [])


def graded_percent(report, one, problems):
    """The mean of problems' graded scores: a wrong try before the right one takes something off."""
    scores = [
        s.graded(report.course.try_cost) if (s := one.standings.get(p.key)) else 0.0
        for p in problems
    ]
    return round(100.0 * sum(scores) / max(1, len(problems)), 1)


def lesson_scores(report, one):
    """{heading: value}: per lesson the problems solved, mastered, and the graded score in %."""
    out = {}
    for name, problems in report.lessons().items():
        number = report.lesson[name].partition(" ")[0]
        mine = [one.standings.get(p.key) for p in problems] if one else []
        out[f"{number} solved"] = sum(s is not None and s.done for s in mine) if one else ""
        known = sum(s is not None and s.mastered for s in mine)
        out[f"{number} mastered"] = known if one else ""
        out[f"{number} graded_percent"] = graded_percent(report, one, problems) if one else ""
    return out


def rows(report):
    """The gradebook: a dict for each person. Whoever handed in nothing has a row that says so."""
    by_sheet = {id(one): row for one, row in zip(report.sheets, report.table, strict=True)}
    keys = {p.key for p in report.problems}
    blank = dict.fromkeys(next(iter(report.table), {"learner": "", "remarks": ""}), "")
    out = []
    for person, one, others in people_rows(report):
        row = by_sheet[id(one)] if one else blank
        open_names = person is not None and not report.pseudonyms
        head = {
            "id": person.id if open_names else "",
            "learner": report.name_of(person.signs) if person else row["learner"],
            "email": person.email if open_names else "",
            "group": person.group if person else "",
        }
        remarks = [row["remarks"]] if row["remarks"] else [] if one else [say("roster.missing")]
        if others:
            told = [f"{report.files[id(o)]} ({by_sheet[id(o)]['solved']} solved)" for o in others]
            remarks.append(say("mark.counts", files=", ".join(told)))
        marks = {k: v for k, v in row.items() if k not in keys and k not in ("learner", "remarks")}
        graded = graded_percent(report, one, report.problems) if one else ""
        out.append(
            head
            | marks
            | {
                "graded_percent": graded,
                "first": one.first if one else "",
                "last": one.last if one else "",
                "solved_late": one.late if one and report.course.deadline else "",
            }
            | lesson_scores(report, one)
            | {
                "worth_a_talk": "; ".join(text for _, text in one.signs) if one else "",
                "remarks": "; ".join(remarks),
            }
            | {k: v for k, v in row.items() if k in keys}
        )
    return out


def learner_tables(report, counts, rows):
    """[(title, {column: head}, rows)] for the report: one with the counts, one for each chain of
    entries; all columns side by side are wider than a sheet of paper.
    """
    tables = [("", counts, rows)] if report.problems else []
    for lesson in report.chained:
        heads = lesson.chain.heads()
        begun = [row for row in rows if row[next(iter(heads))] != ""]
        title = f"{lesson.number} {lesson.question}"
        tables += [(title, {"learner": counts["learner"]} | heads, begun)] if begun else []
    return tables or [("", counts, rows)]


def platform_tables(report):
    """{file name: (heads, rows)} for the platforms; empty without a class list, or with
    pseudonyms.
    """
    if report.roster is None or report.pseudonyms:
        return {}
    scores = [
        (person, one, _platform_scores(report, one))
        for person, one, _ in people_rows(report)
        if person
    ]
    heads = list(scores[0][2])
    moodle = [(p.id, p.email, p.name, *own.values()) for p, _, own in scores]
    canvas = [(p.name, "", p.id, "", p.group, *own.values()) for p, _, own in scores]
    points = ("    Points Possible", "", "", "", "", *["100"] * len(heads))
    return {
        "for_moodle.csv": (("ID number", "Email address", "Full name", *heads), moodle),
        "for_canvas.csv": (
            ("Student", "ID", "SIS User ID", "SIS Login ID", "Section", *heads),
            [points, *canvas],
        ),
    }


def _platform_scores(report, one):
    """{name of a grade: % or ''}: the whole course and each lesson, tries counted; the exam."""
    out = {"All lessons": graded_percent(report, one, report.problems) if one else ""}
    for name, problems in report.lessons().items():
        number = report.lesson[name].partition(" ")[0]
        out[f"Lesson {number}"] = graded_percent(report, one, problems) if one else ""
    if report.exam:
        out[f"Exam {report.exam.key}"] = papers.exam_percent(report, one)
    return out
