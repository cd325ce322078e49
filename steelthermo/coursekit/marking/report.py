"""The result of marking: a gradebook as CSV and a report of one page as HTML. All that comes from
sheets is escaped or defused here.
"""

import csv
import hashlib
import hmac
import io
import statistics
from collections import Counter
from html import escape
from pathlib import Path

from ..adapter import in_use
from ..answers import clip, say
from ..problems import DEFAULT_COURSE, Choice, normalised


def defused(text):
    """A text for a cell of a spreadsheet: one that would be taken for a formula gets an apostrophe
    in front.
    """
    text = clip(text, 200)
    return (
        "'" + text
        if text.lstrip()[:1] in ("=", "+", "-", "@", "＝", "＋", "－", "＠", "|", "%")
        or text[:1] in ("\t", "\r", "·")
        else text
    )


def _many(count, one, many=None):
    """A count with its noun: 1 sheet, 2 sheets."""
    return f"{count} {one if count == 1 else many or one + 's'}"


class _Label(str):
    """A quantity's label wherever a sentence wants its value, in whatever format."""

    def __format__(self, spec):
        return "[" + str(self) + "]"


class Report:
    """What marking found.

    problems: the Problems that count; sheets: list of marking.Marked; bad: [(file, reason)];
    doubles: [(name, files)];
    course: the Course; pseudonyms: bool; told: sentences for the head; chained: the
    Lessons whose chain of entries counts.
    table: one dict per sheet, ready for a gradebook; html: the report. Sheets of another course
    stand in the table but count in no figure of the class.
    """

    def __init__(
        self, problems, sheets, bad, doubles, course, pseudonyms=False, told=(), chained=()
    ):
        self.problems, self.sheets, self.course, self.pseudonyms = (
            tuple(problems),
            sheets,
            course,
            pseudonyms,
        )
        self.own, self.chained = [one for one in sheets if not one.other], tuple(chained)
        others, keys = (
            len(sheets) - len(self.own),
            {normalised(one.course): clip(one.course, 40) for one in sheets},
        )
        self.told = (*told, *([say("mark.others", count=others)] if others else []))
        if course.key == DEFAULT_COURSE and len(keys) > 1:
            self.told += (say("mark.mixed", keys=", ".join(list(keys.values())[:9])),)
        lessons = {one.name: one for one in in_use().lessons}
        self.lesson = {
            p.lesson: f"{lessons[p.lesson].number} {lessons[p.lesson].question}"
            if p.lesson in lessons
            else p.lesson
            for p in self.problems
        }
        self.label = {
            p.key: f"{self.lesson[p.lesson].partition(' ')[0]} {p.title}" for p in self.problems
        }
        self.bad, self.doubles, self._bad_files = bad, doubles, [file for file, _ in bad]
        self.names = {
            id(one): self._pseudonym(one.learner) if pseudonyms else clip(one.learner, 100)
            for one in sheets
        }
        if pseudonyms:
            number = {one.file: f"sheet {i}" for i, one in enumerate(sheets, 1)}
            self.doubles = [
                (self._pseudonym(name), [f"{len(files)} sheets"]) for name, files in doubles
            ]
            self.bad = [
                (f"unreadable sheet {i}", reason.replace(Path(file).name, "it"))
                for i, (file, reason) in enumerate(bad, 1)
            ]
            self.files = {id(one): number[one.file] for one in sheets}
        else:
            self.files = {id(one): clip(one.file, 120) for one in sheets}
        self.table = [self._row(one) for one in sheets]
        self.own_table = [row for row, one in zip(self.table, sheets, strict=True) if not one.other]

    def _pseudonym(self, learner):
        """The same for the same name and course key, whoever marks: a keyed hash, so not to be
        guessed without the course key.
        """
        return (
            "L-"
            + hmac.digest(
                normalised(self.course.key).encode(),
                normalised(learner).encode("utf-8", "replace"),
                hashlib.sha256,
            ).hex()[:8]
        )

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
            "attempts": sum(s.attempts for s in tried),
            "hints": sum(sum(s.hints.values()) for s in tried),
            "solutions_opened": sum(len(s.opened) for s in tried),
            "minutes": round(sum(s.seconds for s in tried) / 60.0, 1),
        }
        for lesson in self.chained:
            row |= lesson.chain.cells(one.chains.get(lesson.name))
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
        """One dict per problem: label and lesson in words; solved, tried, attempts (mean of those
        who tried), first_try, hints, opened, minutes (median), slips (Counter of learners),
        unexplained (wrong answers that fit no known slip).
        """
        out = []
        for p in self.problems:
            tried = [
                s for one in self.own if (s := one.standings.get(p.key)) is not None and s.attempts
            ]
            slips = Counter(key for s in tried for key in s.slips)
            touched = [s for one in self.own if (s := one.standings.get(p.key)) is not None]
            row = {
                "problem": p,
                "solved": sum(s.done for s in tried),
                "tried": len(tried),
                "slips": slips,
            }
            row |= {
                "attempts": statistics.fmean(s.attempts for s in tried) if tried else 0.0,
                "first_try": sum(s.first_try and s.done for s in tried),
            }
            row |= {
                "label": self.label[p.key],
                "lesson": self.lesson[p.lesson],
                "unexplained": sum(one.unexplained[p.key] for one in self.own),
            }
            row |= {
                "hints": sum(bool(s.hints) for s in touched),
                "opened": sum(bool(s.opened) for s in touched),
            }
            out.append(
                row
                | {
                    "minutes": statistics.median(s.seconds for s in touched) / 60.0
                    if touched
                    else 0.0
                }
            )
        return out

    def slip_text(self, problem, key):
        """What a slip is, in words: its sentence with the names of the quantities in the place of
        numbers.
        """
        slip, labels = (
            next((s for s in problem.slips if s.key == key), None),
            {g.name: _Label(g.label) for g in problem.given},
        )
        if slip is not None:
            return slip.sentence.format_map(labels)
        if key.startswith("line_") and isinstance(
            problem.answer, Choice
        ):  # in words: each learner has the lines in an order of their own
            return (
                "chose: "
                f"{problem.answer.options[int(key.removeprefix('line_')) - 1].format_map(labels)}"
            )
        return COMMON.get(key, key)

    def summary(self):
        """One line: how many sheets, how many finished, what could not be read."""
        parts = [f"{_many(len(self.table), 'sheet')} marked"]
        if self.problems:
            done = sum(row["solved"] == len(self.problems) for row in self.own_table)
            parts[0] += (
                f", {_many(done, 'learner')} solved all {_many(len(self.problems), 'problem')}"
            )
        for lesson in self.chained:
            marks = [one.chains[lesson.name] for one in self.own if lesson.name in one.chains]
            told = f"{lesson.chain.called} sheets (lesson {lesson.number})"
            parts += [f"{told}: {lesson.chain.summary(marks)}"]
        parts += [f"{_many(len(self.bad), 'sheet')} could not be read"] if self.bad else []
        parts += (
            [f"{_many(len(self.doubles), 'name')} with more than one sheet"] if self.doubles else []
        )
        return "; ".join(parts) + "."

    def csv(self):
        """The gradebook as CSV text: one line per sheet; per problem 1 solved, 0 tried, blank not
        attempted.
        """
        out = io.StringIO()
        columns = list(self.table[0]) if self.table else ["learner", "remarks"]
        writer = csv.DictWriter(out, columns, lineterminator="\r\n")
        writer.writeheader()
        for row in self.table:
            writer.writerow({k: defused(v) if isinstance(v, str) else v for k, v in row.items()})
        return out.getvalue()

    def who_is_who(self):
        """Pseudonyms and names as CSV text: to be kept apart from the report."""
        out = io.StringIO()
        writer = csv.writer(out, lineterminator="\r\n")
        writer.writerow(["pseudonym", "learner", "sheet"])
        writer.writerows(
            [self._pseudonym(one.learner), defused(one.learner), defused(one.file)]
            for one in self.sheets
        )
        writer.writerows(
            [label, "", defused(file)]
            for (label, _), file in zip(self.bad, self._bad_files, strict=True)
        )
        return out.getvalue()

    def write(self, folder):
        """Write gradebook.csv, report.html and, with pseudonyms, who_is_who.csv into a folder;
        returns their paths.
        """
        folder = Path(folder)
        folder.mkdir(parents=True, exist_ok=True)
        texts = {"gradebook.csv": self.csv(), "report.html": self.html} | (
            {"who_is_who.csv": self.who_is_who()} if self.pseudonyms else {}
        )
        for name, text in texts.items():
            # spreadsheets take UTF-8 for what it is only with a byte order mark
            (folder / name).write_text(
                text, encoding="utf-8-sig" if name.endswith(".csv") else "utf-8", newline=""
            )
        return [folder / name for name in texts]

    def _repr_html_(self):
        """In a notebook: the whole report in a frame of its own, so that neither changes the look
        of the other.
        """
        return (
            f'<iframe srcdoc="{escape(self.html)}" title="Marks" '
            'style="width:100%;height:70vh;border:1px solid #ccc"></iframe>'
        )

    @property
    def html(self):
        """The report as one page that needs nothing else."""
        from .report_page import page_of

        return page_of(self)


COMMON = {"unit": "right number, wrong unit", "sign": "wrong sign", "decimal": "decimal point"}
