"""The result of marking: a gradebook as CSV and a report of one page as HTML. All that comes from
sheets is escaped or defused here.
"""

import csv
import io
import os
import re
import statistics
from collections import Counter
from dataclasses import dataclass
from datetime import date
from html import escape
from pathlib import Path

from ...base import InputError, translated
from ..adapter import in_use
from ..answers import bound, catalogue, clip, number_text, say
from ..html import filled, printed_page
from ..problems import DEFAULT_COURSE, mistake_text, normalised
from . import first_page, gradebook, papers, plots
from .secret import pseudonym

_AFTER_SEPARATOR = re.compile(r"""([;,\t]\s*["']*)(?=[=+\-@＝＋－＠|%])""")
# rows of a list that the report shows; the whole stands in a table beside it
SHOWN, SHOWN_AGAIN = 20, 6
_COMMON = ("unit", "sign", "decimal")  # slips of any problem
_COUNTS = "solved percent first_try mastered attempts hints solutions_opened minutes".split()


def defused(text: object) -> str:
    """A text for a cell of a spreadsheet: one that would be taken for a formula gets an
    apostrophe.

    Parameters
    ----------
    text : of the cell

    Returns
    -------
    text

    Examples
    --------
    >>> defused("=1+1"), defused("Ada")
    ("'=1+1", 'Ada')
    """
    if not isinstance(text, str):
        return text
    text = clip(text, 200)
    # behind a separator as well: a spreadsheet may split this file at another than ours
    text = _AFTER_SEPARATOR.sub(r"\1'", text)
    formula = text.lstrip()[:1] in tuple("=+-@＝＋－＠|%") or text[:1] in ("\t", "\r", "·")
    return "'" + text if formula else text


def csv_text(heads, rows):
    """A table as CSV text, every cell defused."""
    out = io.StringIO()
    quoted = csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_ALL)
    quoted.writerows([heads, *(map(defused, row) for row in rows)])
    return out.getvalue()


def written(folder, texts, force=False):
    """Write {file name: text} into a folder; returns the paths. Raises OSError, and InputError for
    a file that is there already, unless by force.
    """
    folder = Path(folder)
    if there := [] if force else [name for name in texts if (folder / name).exists()]:
        raise InputError(say("mark.there", folder=folder, files=", ".join(there)))
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        # spreadsheets take UTF-8 for what it is only with a byte order mark
        encoding = "utf-8-sig" if name.endswith(".csv") else "utf-8"
        # replaced at once when whole, and whatever a name holds: never a file of 0 bytes
        part = folder / f"{name}.part"
        part.write_text(text, encoding=encoding, errors="replace", newline="")
        os.replace(part, folder / name)
    return [folder / name for name in texts]


def _head(column):
    """What stands above a column of the gradebook, in words."""
    key = f"column.{column}"
    return say(key) if key in catalogue() else translated(column)


def _to_do(row):
    """Order of rows of Report.again: most problems to do first."""
    return -(row[2] + row[1].count("; ") + (row[1] != "none"))


class _Label(str):
    """A quantity's label wherever a sentence wants its value, in whatever format."""

    def __format__(self, spec):
        return "[" + self + "]"


@dataclass
class Found:
    """What was found in a folder. sheets: [marking.Marked]; bad: [(file, reason)]; doubles:
    [(name, files)]; met: [(file, why it was not marked)]; roster: the Roster of the class, or None.
    """

    sheets: list
    bad: list
    doubles: list
    met: list
    roster: object = None


class Report:
    """What marking found.

    problems: the Problems that count; found: Found; course: the Course; pseudonyms: bool; told:
    sentences for the head; chained: the Lessons whose chain of entries counts; exam: the Paper of
    the exam marked, or None. table: one dict per sheet, ready for a gradebook; html: the report.
    Sheets of another course, and all but one by one person, count in no figure of the class.
    """

    def __init__(self, problems, found, course, pseudonyms=False, told=(), chained=(), exam=None):
        sheets, bad, doubles, self.met = found.sheets, found.bad, found.doubles, found.met
        self.roster = found.roster
        self.problems, self.chained = tuple(problems), tuple(chained)
        self.exam = exam
        self.course, self.pseudonyms = course, bool(pseudonyms)
        self._key = pseudonyms if isinstance(pseudonyms, bytes) else b"course key alone"
        self._key += normalised(course.key).encode("utf-8", "replace")
        if pseudonyms:  # in the order of names, the rows would give the names away
            sheets = sorted(sheets, key=lambda one: (self.name_of(one.learner), one.digest))
            bad = sorted(bad, key=lambda one: one[1])
        self.sheets = sheets
        # of several sheets by one person, one counts in the figures of the class
        papers.gather(people := gradebook.people_rows(self))
        self._count = {id(one) for _, one, _ in people if one}
        self.own = [one for one in sheets if id(one) in self._count and not one.other]
        others = sum(one.other for one in sheets)
        self.told = (*told, *([say("mark.others", count=others)] if others else []))
        keys = {normalised(one.course): clip(one.course, 40) for one in sheets}
        if course.key == DEFAULT_COURSE and len(keys) > 1:
            self.told += (say("mark.mixed", keys=", ".join(list(keys.values())[:9])),)
        lessons = {one.name: f"{one.number} {one.question}" for one in in_use().lessons}
        self.lesson = {p.lesson: lessons.get(p.lesson, p.lesson) for p in self.problems}
        self.label = {
            p.key: f"{self.lesson[p.lesson].partition(' ')[0]} {p.title}" for p in self.problems
        }
        self._problem = {p.key: p for p in self.problems}
        self.bad, self.doubles, self._bad_files = bad, doubles, [file for file, _ in bad]
        self.names = {id(one): clip(one.learner, 100) for one in sheets}
        self.files = {id(one): clip(one.file, 120) for one in sheets}
        if pseudonyms:
            self.names = {id(one): self.name_of(one.learner) for one in sheets}
            self.files = {id(one): f"sheet {i}" for i, one in enumerate(sheets, 1)}
            self.doubles = sorted(
                (self.name_of(name), [f"{len(files)} sheets"]) for name, files in doubles
            )
            self.met = [(f"file {i}", why) for i, (_, why) in enumerate(self.met, 1)]
            self.bad = [
                (f"unreadable sheet {i}", reason.replace(Path(file).name, "it"))
                for i, (file, reason) in enumerate(bad, 1)
            ]
        rows = {id(one): self._row(one) for one in sheets}
        self.table = list(rows.values())
        self.own_table = [rows[id(one)] for one in self.own]
        self.counting = [row for one, row in rows.items() if one in self._count]

    def name_of(self, learner):
        """How a learner is called here: by name, or by a pseudonym."""
        return pseudonym(self._key, learner) if self.pseudonyms else clip(learner, 100)

    def lessons(self):
        """{lesson: [its problems that count]}."""
        out = {}
        for problem in self.problems:
            out.setdefault(problem.lesson, []).append(problem)
        return out

    def missing(self):
        """Persons of the class list of whom no sheet could be marked."""
        there = {one.person for one in self.sheets}
        return [p for p in (self.roster.people if self.roster else ()) if p not in there]

    def talks(self):
        """(learner, sheet, signs) of the sheets with signs, the weightiest first."""
        found = sorted(
            (one for one in self.sheets if one.signs),
            key=lambda one: -sum(weight for weight, _ in one.signs),
        )
        return [
            (self.names[id(one)], self.files[id(one)], "; ".join(text for _, text in one.signs))
            for one in found
        ]

    def _row(self, one):
        mine = [one.standings.get(p.key) for p in self.problems]
        tried = [s for s in mine if s is not None]
        row = {
            "learner": self.names[id(one)],
            "course": clip(one.course, 100),
            "sheet": self.files[id(one)],
            "solved": sum(s.done for s in tried),
            "problems": len(self.problems),
            "percent": round(100.0 * sum(s.done for s in tried) / max(1, len(self.problems)), 1),
            "first_try": sum(s.first_try and s.done for s in tried),
            "mastered": sum(s.mastered for s in tried),
            "attempts": sum(s.attempts for s in tried),
            "hints": sum(sum(s.hints.values()) for s in tried),
            "solutions_opened": sum(len(s.opened) for s in tried),
            "minutes": round(sum(s.seconds for s in tried) / 60.0, 1),
        }
        for lesson in self.chained:
            row |= lesson.chain.cells(one.chains.get(lesson.name))
        row |= papers.cells(self, one)
        row["remarks"] = "; ".join(self._remarks(one))
        return row | {
            p.key: "" if s is None or s.state == "not_attempted" else int(s.done)
            for p, s in zip(self.problems, mine, strict=True)
        }

    def _remarks(self, one):
        """Remarks without file names where pseudonyms are asked for."""
        same = say("mark.same_name", files="")
        return [
            same.rstrip(": ") if self.pseudonyms and r.startswith(same) else r for r in one.remarks
        ]

    def by_problem(self):
        """One dict per problem: label and lesson in words; solved, tried, attempts (median of those
        who tried), first_try, mastered, hints, opened, minutes (median), slips (Counter),
        unexplained (wrong answers that fit no known slip).
        """
        out = []
        for p in self.problems:
            touched = [s for one in self.own if (s := one.standings.get(p.key)) is not None]
            tried = [s for s in touched if s.attempts]
            row = {
                "problem": p,
                "label": self.label[p.key],
                "lesson": self.lesson[p.lesson],
                "solved": sum(s.done for s in tried),
                "tried": len(tried),
                "attempts": float(statistics.median([s.attempts for s in tried] or [0])),
                "first_try": sum(s.first_try and s.done for s in tried),
                "mastered": sum(s.mastered for s in tried),
                "slips": Counter(key for s in tried for key in s.slips),
                "unexplained": sum(one.unexplained[p.key] for one in self.own),
                "hints": sum(bool(s.hints) for s in touched),
                "opened": sum(bool(s.opened) for s in touched),
                "minutes": statistics.median([s.seconds for s in touched] or [0.0]) / 60.0,
            }
            out.append(row)
        return out

    def _slip_text(self, problem, key):
        """What a slip is, in words: its sentence with the names of the quantities in the place of
        numbers.
        """
        labels = {g.name: _Label(g.label) for g in problem.given}
        for slip in problem.slips:
            if slip.key == key:
                return bound(slip.sentence.format_map(labels))
        if key.startswith("line_") and problem.choice:
            # in words: each learner has the lines in an order of their own
            line = problem.choice.options[int(key.removeprefix("line_")) - 1]
            return bound(f"chose: {line.format_map(labels)}")
        if key in _COMMON:
            return say(f"report.slip_{key}")
        return mistake_text(problem, key) or key

    def _commonest(self, by_problem):
        """The commonest slips of the class: dicts with count, label, key and text."""
        found = [(n, row, key) for row in by_problem for key, n in row["slips"].items()]
        return [
            {"count": n, "label": r["label"], "key": k, "text": self._slip_text(r["problem"], k)}
            for n, r, k in sorted(found, key=lambda f: -f[0])[:15]
        ]

    def again(self):
        """Of each learner: name, problems tried and not solved, how many were not tried, slips made
        more than once.
        """
        rows = []
        for one in (one for one in self.sheets if id(one) in self._count):
            mine = {
                p.key: s
                for p in self.problems
                if (s := one.standings.get(p.key)) is not None and s.attempts
            }
            unsolved = [self.label[key] for key, s in mine.items() if not s.done]
            total, where, words = Counter(), {}, {}
            for key, s in mine.items():
                for slip, count in s.slips.items():
                    if not slip.startswith("line_"):  # a wrong line means another thing elsewhere
                        total[slip] += count
                        words.setdefault(slip, self._slip_text(self._problem[key], slip))
                        where.setdefault(slip, {})[self.label[key].partition(" ")[0]] = None
            again = [
                f"{n} times, in lesson {', '.join(where[slip])}: {clip(words[slip], 120)}"
                for slip, n in total.most_common()
                if n > 1
            ]
            untried = len(self.problems) - len(mine)
            told = ("; ".join(texts) or "none" for texts in (unsolved, again))
            rows.append((self.names[id(one)], next(told), untried, next(told)))
        return rows

    def summary(self):
        """One line: how many sheets, how many finished, what could not be read."""
        parts = [say("report.sheets", count=len(self.table))]
        if self.problems:
            done = sum(row["solved"] == len(self.problems) for row in self.own_table)
            parts[0] += say("report.solved_all", count=done, total=len(self.problems))
        for lesson in self.chained:
            marks = [one.chains[lesson.name] for one in self.own if lesson.name in one.chains]
            told = {"called": lesson.chain.called, "lesson": lesson.number}
            parts += [say("report.chain", **told, words=lesson.chain.summary(marks))]
        for key in ("bad", "met", "doubles"):
            if found := getattr(self, key):
                parts += [say(f"report.count_{key}", count=len(found))]
        return "; ".join(parts) + "."

    def csv(self):
        """The gradebook as CSV text: one line a person; per problem 1 solved, 0 tried, blank not
        attempted.
        """
        rows = gradebook.rows(self)
        heads = list(rows[0]) if rows else ["learner", "remarks"]
        return csv_text(heads, [row.values() for row in rows])

    def who_is_who(self):
        """Pseudonyms and names as CSV text: to be kept apart from the report."""
        rows = [(self.name_of(one.learner), one.learner, one.file) for one in self.sheets]
        bad = [(b[0], "", file) for b, file in zip(self.bad, self._bad_files, strict=True)]
        return csv_text(("pseudonym", "learner", "sheet"), rows + bad)

    def write(self, folder, force=False):
        """Write gradebook.csv, report.html and, with pseudonyms, who_is_who.csv into a folder; with
        a class list, also tables for learning platforms. Returns their paths; raises InputError for
        files that are there, unless by force.
        """
        heads = ("learner", "tried, not solved", "not tried", "slips made more than once")
        told = [(file, say("hand.bad", reason=reason)) for file, reason in self.bad]
        texts = {
            "gradebook.csv": self.csv(),
            "report.html": self.html,
            "go_over_again.csv": csv_text(heads, self.again()),
            "not_marked.csv": csv_text(("file", "why"), [*told, *self.met]),
        }
        for name, table in gradebook.platform_tables(self).items():
            texts[name] = csv_text(*table)
        if self.pseudonyms:
            texts["who_is_who.csv"] = self.who_is_who()
        return written(folder, texts, force)

    def _repr_html_(self):
        """In a notebook: the report in a frame, so that neither changes the look of the other."""
        return (
            f'<iframe srcdoc="{escape(self.html)}" title="Marks" '
            'style="width:100%;height:70vh;border:1px solid #ccc"></iframe>'
        )

    @property
    def html(self):
        """The report as one page that needs nothing else."""
        rows = self.by_problem()
        counts = {key: _head(key) for key in ("learner", *(_COUNTS if self.problems else ()))}
        hard = first_page.items(self)
        for row in (shown := [dict(row) for row in rows if row["tried"] or row["opened"]]):
            row |= {key: number_text(row[key], 2) for key in ("attempts", "minutes")}
            difficulty, tells_apart = hard[row["problem"].key]
            row["at_once"] = "" if difficulty is None else f"{difficulty:.0f}"
            row["tells_apart"] = "" if tells_apart is None else f"{tells_apart:.2f}"
        found = self._commonest(rows)
        behind = sorted(self.counting, key=lambda row: (row["solved"], -row["attempts"]))[:SHOWN]
        page = filled(
            "report.html",
            report=self,
            today=date.today().isoformat(),
            plots=plots,
            by_problem=rows,
            shown=shown,
            slips=found,
            glance=first_page.glance(self, rows, found),
            remarked=first_page.to_look_at(self),
            again=sorted(self.again(), key=_to_do)[:SHOWN_AGAIN],
            many=SHOWN,
            papers=papers.tables(self),
            tables=gradebook.learner_tables(self, counts, behind),
            doubles=[(clip(name, 100), ", ".join(files)) for name, files in self.doubles],
        )
        return printed_page(say("report.page"), page, wide=True)
