"""The trainer's answer key and printable problem sheets, for one learner or a class: the command
`key --learner NAME`.

Numbers, answers and slips come from the same records and the same draw as on the page, so key,
sheet and page always agree. A draw that cannot be made is told in the key; the learner's sheet only
says that there is none.
"""

import math
from collections.abc import Mapping, Sequence
from pathlib import Path

from ...base import InputError
from ..adapter import in_use
from ..answers import clip, quantity_text, say
from ..caution import caution_box, caution_figures
from ..html import bound_html, filled, markdown, printed_page
from ..problems import Draw, draw_many, normalised
from ..sheet import LONGEST_NAME, Course, load_roster
from .exam import exam_with_code
from .ground import ground, lessons_named, run_command
from .report import csv_text, written
from .secret import may_see_answers

MANY_PAGES = 200  # from here on the number of pages is told


def draws_for(
    learners: Sequence,
    course: Course | None = None,
    problems: Sequence | None = None,
    set: int = 1,
    works: object = None,
) -> dict:
    """The numbers of some learners.

    Parameters
    ----------
    learners : names
    course : None: self-study
    problems : None: all of the course in use
    set : which set of numbers
    works : those the numbers are drawn with; None: those in use

    Returns
    -------
    by learner, a Draw for each problem in order; in the place of one that cannot be made, the
    InputError

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> draws_for(["Ada"], problems=[cups])["Ada"][0].given
    {'n': 7.0}
    """
    course = course or Course()
    problems = tuple(in_use().problems if problems is None else problems)
    out = {name: [] for name in learners}
    for problem in problems:
        fixed = [course.fixed(name, problem.key, set) for name in out] if course.overrides else None
        for name, one in zip(
            out,
            draw_many(problem, [(name, course.key, set) for name in out], fixed, works),
            strict=True,
        ):
            out[name].append(one)
    return out


def problem_sheets_html(draws: Mapping) -> str:
    """Printable problem sheets, one learner after the other, each on pages of its own: two columns
    on paper turned on its side, under name, course and set on each.

    Parameters
    ----------
    draws : of draws_for()

    Returns
    -------
    a page

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> "What do 7 cups" in problem_sheets_html(draws_for(["Ada"], problems=[cups]))
    True
    """
    titles = {one.name: f"{one.number} {one.question}" for one in in_use().lessons}
    learners, about, cautions = {}, {}, {}
    for name, own in draws.items():
        one = next((one for one in own if isinstance(one, Draw)), None)
        about[name] = say("key.about", course=clip(one.course, 80), set=one.set) if one else ""
        made = [one.problem.cautions for one in own if isinstance(one, Draw)]
        cautions[name] = list(dict.fromkeys(key for keys in made for key in keys))
        lessons = learners.setdefault(name, {})
        for number, one in enumerate(own, 1):
            lesson = one.problem.lesson if isinstance(one, Draw) else say("key.problems")
            lessons.setdefault(titles.get(lesson, lesson), []).append((number, one))
    body = filled(
        "problem_sheets.html",
        learners=learners,
        about=about,
        cautions=cautions,
        caution_box=caution_box,
        caution_figures=caution_figures,
    )
    return printed_page(say("key.sheets"), body, across=True)


def sample_problems_html(draws: Sequence) -> str:
    """Problems to read, with hints and steps folded.

    Parameters
    ----------
    draws : one learner's of draws_for(), all of which could be made

    Returns
    -------
    part of a page

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> "Multiply." in sample_problems_html(draws_for(["Ada"], problems=[cups])["Ada"])
    True
    """
    return bound_html(filled("sample_problems.html", draws=draws, caution_box=caution_box))


def _given_text(one, names=True):
    """Label, value and, in brackets, the name by which an override calls the quantity."""
    told = [
        f"{g.label} {g.show(one.given[g.name])}{f' ({g.name})' if names else ''}"
        for g in one.problem.given
    ]
    return "; ".join(told) or say("key.none")


def answer_key_html(
    draws: Mapping, course_key: str, worked: bool | None = None, told: Sequence = ()
) -> str:
    """The answer key.

    Parameters
    ----------
    draws : of draws_for()
    course_key : for its head
    worked : with worked solutions and slips, otherwise a table per problem; None: for up to three
        learners
    told : sentences for its head

    Returns
    -------
    a page

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> "tea.cups" in answer_key_html(draws_for(["Ada"], problems=[cups]), "self-study")
    True
    """

    def class_rows(group):
        return [
            (clip(name, 100), _given_text(one, False), one.answer_text())
            if isinstance(one, Draw)
            else (clip(name, 100), str(one), say("key.none"))
            for name, one in zip(draws, group, strict=True)
        ]

    page = filled(
        "answer_key.html",
        draws=draws,
        course_key=course_key,
        worked=len(draws) <= 3 if worked is None else worked,
        told=told,
        groups=zip(*draws.values(), strict=True),
        given_text=_given_text,
        wrong_answers=_wrong_answers,
        class_rows=class_rows,
    )
    return printed_page(say("key.page"), page)


def _wrong_answers(one):
    """What each slip and each wrong line leads to: rows of answer and sentence."""
    problem = one.problem
    rows = []
    for slip in problem.slips:
        if slip.key in one.slips:
            line, value = one.slips[slip.key]
            value = quantity_text(value, problem.number.unit)
            rows.append((value if line is None else f"{line}; {value}", one.text(slip.sentence)))
    if problem.choice:
        rows += [
            (str(i), one.text(s))
            for i, s in enumerate(problem.choice.sentences, 1)
            if i != one.choice
        ]
    return [(value, markdown(sentence)) for value, sentence in rows]


def answer_key_csv(draws: Mapping) -> str:
    """The key for a spreadsheet: learner, problem, set, given, answer, what of it is beyond the
    data.

    Parameters
    ----------
    draws : of draws_for()

    Returns
    -------
    CSV

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> answer_key_csv(draws_for(["Ada"], problems=[cups])).splitlines()[1][:14]
    '"Ada","tea.cup'
    """
    rows = []
    for name, own in draws.items():
        for one in own:
            cells = ("", "", "", str(one), "")
            if isinstance(one, Draw):
                told = one.text(one.problem.beyond)
                cells = (one.problem.key, one.set, _given_text(one), one.answer_text(), told)
            rows.append((name, *cells))
    return csv_text(("learner", "problem", "set", "given", "answer", "beyond"), rows)


def namesakes(names):
    """A sentence about names that are the same once case and blanks are left out, or ''."""
    groups = {}
    for name in names:
        groups.setdefault(normalised(name), []).append(clip(name, 100))
    same = [
        f"{group[0]} stands there {len(group)} times" for group in groups.values() if len(group) > 1
    ]
    return say("key.namesakes", names="; ".join(same)) if same else ""


def _declare(parser):
    who = parser.add_mutually_exclusive_group(required=True)
    who.add_argument(
        "--learner",
        nargs="+",
        action="extend",
        metavar="NAME",
        help="one or more names, each in quotes",
    )
    who.add_argument(
        "--class", dest="names", type=Path, metavar="NAMES.CSV", help="a list of names"
    )
    parser.add_argument("--group", help="with --class: only those of this group of the list")
    parser.add_argument("--set", type=int, default=1, help="which set of numbers (default 1)")
    parser.add_argument(
        "--worked",
        action="store_true",
        help="with worked solutions and slips, however many learners",
    )
    parser.add_argument(
        "--sheets-only", action="store_true", help="only the problem sheets, without any answer"
    )
    parser.add_argument(
        "--exam", type=Path, metavar="EXAM.TOML", help="key and sheets of an exam; needs the secret"
    )
    parser.add_argument("--force", action="store_true", help="write over files that are there")
    parser.add_argument(
        "--out", type=Path, default=Path("key"), help="folder for the files (default: key)"
    )


def _learners(options):
    """The names to be drawn for; each of them can be signed in with."""
    if options.names:
        roster = load_roster(options.names).of_group(options.group)
        print(*roster.told, sep="\n")
        return [one.signs for one in roster.people]
    if options.group is not None:
        raise InputError(say("key.group"))
    for name in options.learner:
        if not normalised(name) or len(name) > LONGEST_NAME:
            raise InputError(say("key.name", name=clip(name, 100), limit=LONGEST_NAME))
    return options.learner


def _work(options):
    if options.set < 1:
        raise InputError(f"set: {options.set} was given; sets are 1, 2, 3 and so on.")
    learners = _learners(options)
    by = ground(Path.cwd(), options.course, options.works)
    if options.exam:
        exam = exam_with_code(options.exam, by.course, options.secret)
        return _write(options, exam_draws(exam, learners, by), by, by.told)
    problems, chained = lessons_named(options.lesson)
    no_key = [
        say("key.chain", number=one.number, called=one.chain.called, command=in_use().command)
        for one in chained
    ]
    if not problems:
        raise InputError(" ".join(no_key))
    if not options.sheets_only:
        may_see_answers(by.course, options.secret)
    draws = draws_for(learners, by.course, problems, options.set, by.works)
    return _write(options, draws, by, [*by.told, *no_key, *filter(None, [namesakes(learners)])])


def exam_draws(exam, learners, by):
    """{learner: [Draw, ...]} of an exam with its code. by: a Ground."""
    return {name: exam.draws(name, by.course.key, by.works) for name in learners}


def _write(options, draws, by, told):
    """Write what was drawn, and say where."""
    texts = {"problem_sheets.html": problem_sheets_html(draws)}
    if not options.sheets_only:
        worked = options.worked or None
        texts["answer_key.html"] = answer_key_html(draws, by.course.key, worked, told)
        texts["answer_key.csv"] = answer_key_csv(draws)
    files = written(options.out, texts, options.force)
    print(*told, sep="\n")
    # about 1.92 problems to a page of A4 across (the whole course, printed by Chromium)
    pages = sum(math.ceil(len(own) / 1.92) for own in draws.values())
    if pages > MANY_PAGES:
        print(say("key.pages", pages=pages))
    print(say("mark.written", files=", ".join(map(str, files))))


def main(argv=None):
    """The command `key`: see --help. Returns the exit code."""
    what = "Answer key (HTML, CSV) and printable problem sheets (HTML) for learners by name."
    return run_command("key", what, _declare, _work, argv)
