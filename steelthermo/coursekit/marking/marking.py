"""Marking a class: the command `mark FOLDER` reads the answer sheets, works every answer out again
and writes a gradebook and a report.

Only data are read. Nothing in a sheet is run, and what a sheet says of its own marks is not
believed: numbers are drawn again from name and course key, and each typed answer is checked again.
A sheet that cannot be read is reported and does not stop the others.
"""

import hashlib
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ...base import InputError
from ..adapter import in_use
from ..answers import clip, say
from ..lesson import Lesson
from ..paper import EXAM_FILE, FIRST, LAST, paper, right
from ..problems import DEFAULT_COURSE, Draw, check, draw_many, normalised
from ..sheet import (
    LIMIT_BYTES,
    ROSTER,
    SheetError,
    fingerprint,
    load_roster,
    sheet_from,
    standings,
)
from .corrections import correct, corrections_beside
from .exam import exam_near
from .ground import ground, near
from .handed_in import collect
from .integrity import alike, moment, signs
from .report import Found, Report

# sheets held in memory at a time: so many, and not many more bytes of them
CHUNK, CHUNK_BYTES = 400, 12 * 2**20
MOST_SETS = 50  # sets of one problem and learner that are marked


@dataclass
class Marked:
    """One learner's sheet after marking.

    standings: {problem key: progress.Standing}; unexplained: {problem key: wrong answers that fit
    no known slip}; chains: {lesson: ChainMark} of the chains of entries begun; papers:
    {key of a paper handed in or, of an exam, begun: {problem key: right or not, None where nothing
    was answered}}; other: of another course than the one marked; person: of the class list, or
    None; anothers: its file's name has the number of somebody else; first, last: days of the first
    and last answer; late: problems solved after the deadline; outside: answers of the exam outside
    its time; signs, rhythm: see
    integrity.signs; remarks: sentences for the trainer.
    """

    file: str
    learner: str
    course: str
    digest: str
    anothers: bool = False
    standings: dict = field(default_factory=dict)
    unexplained: Counter = field(default_factory=Counter)
    chains: dict = field(default_factory=dict)
    papers: dict = field(default_factory=dict)
    other: bool = False
    person: object = None
    first: str = ""
    last: str = ""
    late: int = 0
    outside: int = 0
    signs: list = field(default_factory=list)
    rhythm: tuple | None = None
    remarks: list = field(default_factory=list)


def _chunks(handed):
    """The sheets in lists that can be held in memory together."""
    chunk, size = [], 0
    for one in handed:
        chunk.append(one)
        size += min(one.size, LIMIT_BYTES)
        if len(chunk) == CHUNK or size >= CHUNK_BYTES:
            yield chunk
            chunk, size = [], 0
    if chunk:
        yield chunk


def _remarks(contents, course):
    """What a trainer should know about the state of a sheet."""
    out = []
    counts = {key: getattr(contents, key) for key in ("unsealed", "missing", "moved", "repeated")}
    counts["bad"] = len(contents.bad) - (contents.torn and bool(contents.bad))
    out += [say(f"mark.{key}", count=count) for key, count in counts.items() if count]
    if contents.torn:
        out.append(say("mark.torn"))
    other = [
        f"kit {clip(kit, 20)}, data {clip(data, 20)}"
        for kit, data in contents.stamps
        if data != fingerprint()
    ]
    if other:
        out.append(say("mark.data", stamps="; ".join(dict.fromkeys(other))))
    if _other(contents, course):
        out.append(say("mark.course", key=clip(contents.course), wanted=course.key))
    return out


def _other(contents, course):
    """True for a sheet of another course than the one that is marked."""
    return course.key != DEFAULT_COURSE and normalised(course.key) != normalised(contents.course)


def _read(one, by, roster, bad):
    """(Marked, Contents) of one Handed, or None with the reason added to bad."""
    name = clip(one.name, 240)
    try:
        data = one.read()
        contents = sheet_from(Path(one.name), data)
        if contents.learner is None or not normalised(contents.learner):
            raise SheetError(say("sheet.no_header" if data else "sheet.empty"))
        if not contents.schema:
            raise SheetError(say("sheet.old"))
    except SheetError as error:
        bad.append((clip(name, 120), str(error)))
        return None
    digest = hashlib.sha256(data).hexdigest()
    about = {"other": _other(contents, by.course), "remarks": _remarks(contents, by.course)}
    if roster:
        about["person"] = roster.person(contents.learner, one.name)
        about["anothers"] = roster.numbered(one.name) not in (None, about["person"])
        about["remarks"] += [] if about["person"] else [say("roster.unknown")]
    if not one.ending_kept:
        about["remarks"].append(say("hand.renamed"))
    marked = Marked(name, contents.learner, contents.course, digest, **about)
    return marked, contents


def _wanted(read, known):
    """{problem key: [(index of sheet, set)]} of all sets that were answered."""
    out = defaultdict(list)
    all_keys = known.keys() | {p.key for p in in_use().problems + in_use().questions}
    for i, (marked, contents) in enumerate(read):
        sets, unknown, many = defaultdict(dict), 0, False
        for record in contents.records:
            key = record.get("problem")
            if key not in known:
                unknown += key is not None and key not in all_keys
            elif record["kind"] == "answer" and len(sets[key]) < MOST_SETS:
                sets[key][record["set"]] = None
            elif record["kind"] == "answer":
                many |= record["set"] not in sets[key]
        for key, numbers in sets.items():
            out[key] += [(i, number) for number in numbers]
        marked.remarks += [say("mark.unknown", count=unknown)] if unknown else []
        marked.remarks += [say("mark.sets", limit=MOST_SETS)] if many else []
    return out


def _draws(read, known, course, works):
    """{(index of sheet, problem key, set): Draw}, drawn for all sheets of a chunk at once."""
    out = {}
    for key, places in _wanted(read, known).items():
        who = [(read[i][0].learner, read[i][0].course, number) for i, number in places]
        fixed = [course.fixed(learner, key, number) for learner, _, number in who]
        for (i, number), one in zip(places, draw_many(known[key], who, fixed, works), strict=True):
            if isinstance(one, Draw):
                out[i, key, number] = one
            else:
                read[i][0].remarks.append(say("mark.draw", problem=key))
    return out


def _chain(lesson, marked, records, works):
    """The learner's chain of entries of a lesson, from the entries kept."""
    called = lesson.chain.called
    try:
        found = lesson.chain.mark(records, marked.learner, marked.course, works)
    except InputError as error:
        reason = str(error).rpartition("; ")[2]
        marked.remarks.append(say("mark.chain_none", called=called, reason=reason))
        return
    if found:
        marked.chains[lesson.name] = found
    if found and found.stopped:
        reason = clip(found.stopped, 160)
        marked.remarks.append(
            say("mark.chain_stopped", called=called, count=found.entries, reason=reason)
        )


def _papers(marked, records, exam, by):
    """What came of the papers: those of the course once handed in, an exam as it stands."""
    begun = {r["paper"] for r in records if r["kind"] in ("paper", "ended")}
    of_course = [paper(key) for key in (FIRST, LAST) if key in begun and in_use().paper]
    papers = [one for one in of_course if one.ended(records)]
    papers += [exam] if exam and exam.key in begun else []
    for one in papers:
        marks = one.marks(records, marked.learner, marked.course, by.works)
        marked.papers[one.key] = {key: right(verdict) for key, verdict in marks.items()}
    if exam and (count := exam.outside(records)):
        marked.outside = count
        marked.remarks.append(say("exam.outside", count=count))


def _judge(i, marked, contents, draws, chained, by, exam):
    """Check every answer of one sheet again, and tell where the learner stands; lines whose seal
    does not fit count for nothing.
    """
    counted = [r for r in contents.records if r["sealed"]]
    judged, otherwise, other_numbers = {}, 0, 0
    for k, record in enumerate(counted):
        one = (
            draws.get((i, record["problem"], record["set"])) if record["kind"] == "answer" else None
        )
        if one is None:
            continue
        verdict = check(one, record["text"])
        judged[k] = (verdict.state, verdict.slips)
        marked.unexplained[record["problem"]] += verdict.state == "wrong" and not verdict.slips
        otherwise += verdict.state != record["state"]
        other_numbers += record["given"] != one.given
    marked.remarks += [say("mark.otherwise", count=otherwise)] if otherwise else []
    marked.remarks += [say("mark.given", count=other_numbers)] if other_numbers else []
    marked.standings = standings(counted, judged)
    _papers(marked, counted, exam, by)
    for lesson in chained:
        _chain(lesson, marked, counted, by.works)
    times = [t for k in judged if (t := moment(counted[k]["t"]))]
    if times:
        marked.first, marked.last = (f(times).date().isoformat() for f in (min, max))
    if by.course.deadline:
        solved = (moment(s.solved_at) for s in marked.standings.values() if s.done)
        marked.late = sum(t is not None and t > by.course.deadline for t in solved)
        marked.remarks += [say("mark.late", count=marked.late)] if marked.late else []
    marked.signs, marked.rhythm = signs(contents, counted, judged)


def _same_names(sheets):
    """Drop identical copies, remark on sheets by the same name; returns (sheets, [(name,
    files)]).
    """
    groups = defaultdict(list)
    for one in sheets:
        groups[normalised(one.learner)].append(one)
    kept, doubles = [], []
    for group in groups.values():
        first = {}
        for one in sorted(group, key=lambda one: one.anothers):
            first.setdefault(one.digest, one).anothers |= one.anothers
        whole = list(first.values())
        kept += whole
        if len(group) > 1:
            files = [
                one.file
                if first[one.digest] is one
                else f"{one.file} ({say('mark.copy', file=first[one.digest].file)})"
                for one in group
            ]
            doubles.append((group[0].learner, files))
        if len(whole) > 1:
            for one in whole:
                others = ", ".join(x.file for x in whole if x is not one)
                one.remarks.append(say("mark.same_name", files=others))
    return sorted(kept, key=lambda one: (normalised(one.learner), one.file)), doubles


def mark(
    folder: str | Path,
    course: object = None,
    pseudonyms: bool | bytes = False,
    progress: Callable | None = None,
    problems: Sequence | None = None,
    works: object = None,
    roster: object = None,
    secret: bytes | None = None,
) -> Report:
    """Mark all answer sheets below a folder.

    Parameters
    ----------
    folder : path
    course : a Course, the path of a course.toml, a course key (which replaces that of the file
        only), or None for the course.toml in the folder or beside it, if any
    pseudonyms : no names and no file names in the report; a secret to make them with
    progress : function that is told how far it is, in words
    problems : the Problems that count, and the Lessons whose chain of entries does; None: all of
        the course
    works : those that numbers were drawn with, or the path of their file; None: the one in the
        folder or beside it, else those in use
    roster : a Roster, the path of its file, or None for class.csv in the folder or beside it, if
        any
    secret : with which the exam whose file stands there is marked

    Returns
    -------
    Report with .table (list of dict), .html, .csv() and .write(folder)

    Raises
    ------
    InputError
        If there is nothing to mark.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from ..sheet import Sheet
    >>> here = mkdtemp()
    >>> _ = Sheet(here, "Ada", "self-study").append("open", lesson="tea")
    >>> len(mark(here, problems=[]).table)
    1
    """
    folder = Path(folder)
    if not folder.is_dir():
        raise InputError(say("mark.no_folder", folder=folder))
    counted = in_use().problems + in_use().chained if problems is None else problems
    chained = tuple(one for one in counted if isinstance(one, Lesson))
    problems = tuple(one for one in counted if not isinstance(one, Lesson))
    by = ground(folder, course, works, problems)
    course, works = by.course, by.works
    known = {problem.key: problem for problem in problems}
    roster = near(folder, ROSTER) if roster is None else roster
    roster = load_roster(roster) if isinstance(roster, str | Path) else roster
    handed = collect(folder)
    exam, untold = exam_near(near(folder, EXAM_FILE), course, secret)
    if not handed.sheets:
        met = "; ".join(f"{name}: {why}" for name, why in handed.rows()[:9])
        raise InputError(say("mark.no_sheets", folder=folder, met=f" Met: {met}." if met else ""))
    papers = [paper(key) for key in (FIRST, LAST) if in_use().paper] + [exam] * bool(exam)
    corrections, resting = corrections_beside(folder, problems, papers)
    sheets, bad = [], []
    done = 0
    for chunk in _chunks(handed.sheets):
        read = []
        for k, sheet in enumerate(chunk, 1):
            one = _read(sheet, by, roster, bad)
            read += [one] if one else []
            if progress and k % 50 == 0:
                progress(say("mark.read", done=done + k, total=len(handed.sheets)))
        draws = _draws(read, known, course, works)
        for i, (marked, contents) in enumerate(read):
            _judge(i, marked, contents, draws, chained, by, exam)
            sheets.append(marked)
        done += len(chunk)
        if progress:
            progress(say("mark.done", done=done, total=len(handed.sheets)))
    kept, doubles = _same_names(sheets)
    corrected = correct(kept, corrections)
    for one in kept:
        one.signs += [(4, say("talk.anothers"))] if one.anothers else []
    alike(kept)
    found = Found(kept, bad, doubles, handed.rows(), roster)
    told = (
        *by.told,
        *corrected,
        *resting,
        *([untold] if untold else ()),
        *(roster.told if roster and not pseudonyms else ()),
    )
    return Report(problems, found, course, pseudonyms, told, chained, exam)
