"""Marks that a lecturer corrects by hand, in one file, so that marking anew keeps them.

corrections.csv lies beside the folder of sheets, never in it: what learners hand in corrects
nothing. Columns: learner (name, number or e-mail), problem, solved (yes or no), reason, and for an
exam or a paper its name in the column paper.
"""

from dataclasses import dataclass
from pathlib import Path

from ...base import InputError, nearest, table_of, text_of
from ..adapter import in_use
from ..answers import clip, say
from ..problems import normalised
from ..sheet import Standing

CORRECTIONS = "corrections.csv"
MOST_BYTES = 2**20
_SOLVED = {"yes": True, "1": True, "true": True, "no": False, "0": False, "false": False}


@dataclass(frozen=True)
class Correction:
    """One line. problem: its key; paper: key of a paper or an exam, '' for the exercises."""

    line: int
    learner: str
    problem: str
    paper: str
    solved: bool
    reason: str

    def apply(self, one):
        """Write it into a Marked; a problem solved by hand counts as solved at the first try."""
        if self.paper:
            one.papers[self.paper][self.problem] = self.solved
        else:
            standing = one.standings.setdefault(self.problem, Standing())
            standing.state = "right" if self.solved else "wrong"
            standing.tries = int(self.solved)
            standing.attempts = standing.attempts or 1
        word = say("correct.solved" if self.solved else "correct.not_solved")
        where = f"{self.paper}, {self.problem}" if self.paper else self.problem
        one.remarks.append(
            say("correct.done", where=where, word=word, reason=clip(self.reason, 80))
        )


def corrections_beside(folder, problems, papers):
    """([Correction], sentences) of the file beside a folder of sheets; two empty lists without one.

    problems: those that count; papers: the Papers that are marked. What is for a paper that is not
    marked rests, and is told. Raises InputError that tells every fault.
    """
    path = Path(folder).absolute().parent / CORRECTIONS
    if not path.is_file():
        return [], []
    text, _ = text_of(path, say("correct.what"), MOST_BYTES)
    _, rows, _ = table_of(text)
    heads = [head.strip().casefold() for head in rows[0][1]] if rows else []
    if not {"learner", "problem", "solved"} <= set(heads):
        raise InputError(say("correct.heads", file=path))
    counted = [p.key for p in problems]
    known = {"": [*counted, *(p.key for p in in_use().problems)]} | {
        p.key: [q.key for q in p.problems] for p in papers
    }
    out, told, faults = [], [], []
    for number, row in rows[1:]:
        cell = {head: text.strip() for head, text in zip(heads, row, strict=False)}
        paper, problem = cell.get("paper", ""), cell.get("problem", "")
        solved = _SOLVED.get(cell.get("solved", "").casefold())
        if paper not in known:
            marked = ", ".join(filter(None, known)) or say("correct.no_paper")
            about = {"file": CORRECTIONS, "line": number, "paper": clip(paper), "marked": marked}
            told.append(say("correct.paper", **about))
        elif problem not in known[paper]:
            near = ", ".join(nearest(problem, known[paper], 1))
            about = {"problem": clip(problem), "paper": clip(paper), "near": near}
            faults.append(say("correct.problem", line=number, **about))
        elif solved is None or not normalised(cell["learner"]):
            faults.append(say("correct.line", line=number))
        elif paper or problem in counted:  # with some lessons alone, those of others rest
            reason = cell.get("reason", "")
            out.append(Correction(number, cell["learner"], problem, paper, solved, reason))
    if faults:
        raise InputError("\n  ".join([say("correct.faults", file=path), *faults]))
    return out, told


def correct(sheets, corrections):
    """Apply them to all sheets of the persons they name; returns sentences about it. sheets:
    [marking.Marked].
    """
    people = {}
    for one in sheets:
        person = one.person
        names = (person.id, person.name, person.signs, person.email) if person else ()
        for name in {normalised(name) for name in (one.learner, *names)} - {""}:
            people.setdefault(name, {}).setdefault(person or normalised(one.learner), []).append(
                one
            )
    done, told = 0, []
    for correction in corrections:
        meant = people.get(normalised(correction.learner), {})
        mine = next(iter(meant.values())) if len(meant) == 1 else []
        mine = [one for one in mine if not correction.paper or correction.paper in one.papers]
        for one in mine:
            correction.apply(one)
        done += bool(mine)
        if not mine:
            told.append(say("correct.whom", file=CORRECTIONS, line=correction.line))
    return [say("correct.count", count=done, file=CORRECTIONS), *told] if corrections else []
