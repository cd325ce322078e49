"""The trainer's answer key and printable problem sheets, for one learner or a class: the command
`key --learner NAME`.

Numbers, answers and slips come from the same records and the same draw as on the page, so key,
sheet and page always agree. A draw that cannot be made is told in the key; the learner's sheet only
says that there is none.
"""

import csv
import io
import math
import re
import sys
from html import escape
from pathlib import Path

from ...base import InputError, table
from ..adapter import in_use
from ..answers import clip, quantity_text, say
from ..html import listed, markdown, printed_page
from ..problems import Choice, Draw, draw_many, normalised
from ..sheet import LONGEST_NAME, Course
from .ground import command_parser, ground, lessons_named
from .report import defused

MANY_PAGES = 200  # from here on the number of pages is told


def names_from(path):
    """Names from a CSV file: the column called name, learner or student, else the first one. Raises
    InputError.
    """
    path = Path(path)
    try:
        data = path.read_bytes()[: 2**20]
    except OSError as error:
        raise InputError(
            say("key.no_names", file=path, reason=f"cannot be read ({error.strerror})")
        ) from None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", "replace")
    first = re.sub(
        r'"[^"]*"', "", text.partition("\n")[0]
    )  # a comma in a quoted name separates nothing
    delimiter = max(",;\t", key=first.count)
    rows = [
        row
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
        if any(cell.strip() for cell in row)
    ]
    heads = [cell.strip().casefold() for cell in rows[0]] if rows else []
    column = next(
        (i for i, head in enumerate(heads) if head in ("name", "learner", "student")), None
    )
    rows, column = (rows, 0) if column is None else (rows[1:], column)
    names = [
        row[column].strip()[:LONGEST_NAME]
        for row in rows
        if len(row) > column and normalised(row[column])
    ]
    if not names:
        raise InputError(say("key.no_names", file=path, reason="holds no name"))
    return names


def draws_for(learners, course=None, problems=None, set=1, works=None):
    """{learner: [Draw, ...]} in the order of the problems; in the place of a draw that cannot be
    made stands the InputError.

    learners: names; course: a Course (default: self-study); problems: Problems (default: all); set:
    which set of numbers; works: those the numbers are drawn with (default: the one in use).
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


def _by_lesson(draws):
    """[(heading, [Draw])] of one learner's draws."""
    titles = {one.name: f"{one.number} {one.question}" for one in in_use().lessons}
    groups = {}
    for one in draws:
        lesson = one.problem.lesson if isinstance(one, Draw) else "problems"
        groups.setdefault(lesson, []).append(one)
    return [(titles.get(lesson, lesson), group) for lesson, group in groups.items()]


def problem_sheets_html(draws):
    """Printable problem sheets, one learner after the other, each on pages of its own. draws: from
    draws_for.
    """
    sections = []
    for name, own in draws.items():
        parts = [f"<h1>Problems for {escape(clip(name, 100))}</h1>"]
        number = 0
        for heading, group in _by_lesson(own):
            parts.append(f"<h2>{escape(heading)}</h2>")
            for one in group:
                number += 1
                parts.append(_problem_html(number, one))
        sections.append(f"<section>{''.join(parts)}</section>")
    return printed_page("Problem sheets", "".join(sections))


def _problem_html(number, one):
    if not isinstance(one, Draw):
        return f"<article><h3>{number}.</h3><p>{escape(say('key.no_draw'))}</p></article>"
    problem, answer = one.problem, one.problem.number
    out = [f"<h3>{number}. {escape(problem.title)}</h3>{markdown(one.text(problem.text))}"]
    out += [
        f"<div class='caution'><strong>{escape(say('page.caution'))}.</strong> {markdown(c)}</div>"
        for c in problem.cautions
    ]
    if isinstance(problem.answer, Choice):
        out.append(listed(map(one.text, problem.answer.options), "ol"))
    label = answer.asked if answer else say("page.choice")
    out.append(f"<div class='space'></div><p>{escape(label)}: <span class='blank'></span></p>")
    if answer:
        out.append(
            "<p "
            "class='small'>"
            f"{escape(say('page.tolerance', tolerance=answer.tolerance_text(), why=answer.why))}"
            "</p>"
        )
    return f"<article>{''.join(out)}</article>"


def _given_text(one):
    """Label, value and, in brackets, the name by which an override calls the quantity."""
    return (
        "; ".join(f"{g.label} {g.show(one.given[g.name])} ({g.name})" for g in one.problem.given)
        or "none"
    )


def answer_key_html(draws, course_key, worked=None, told=()):
    """The answer key. worked: with worked solutions and slips (default: for up to three learners);
    otherwise one table per problem; told: sentences for its head."""
    worked = len(draws) <= 3 if worked is None else worked
    head = (
        f"<h1>Answer key, course key {escape(clip(course_key, 100))}</h1><p class='small'>For "
        "the trainer only: keep it apart from the problem sheets.</p>"
    )
    head += "".join(f"<p class='small'>{escape(line)}</p>" for line in told)
    if not worked:
        return printed_page(
            "Answer key",
            head
            + "".join(
                _class_table(list(draws), group) for group in zip(*draws.values(), strict=True)
            ),
        )
    sections = []
    for name, own in draws.items():
        parts = [f"<h1>{escape(clip(name, 100))}</h1>"]
        for number, one in enumerate(own, 1):
            parts.append(
                f"<article><p>{escape(str(one))}</p></article>"
                if not isinstance(one, Draw)
                else _key_html(number, one)
            )
        sections.append(f"<section>{''.join(parts)}</section>")
    return printed_page("Answer key", head + "".join(sections))


def _key_html(number, one):
    """One problem of the key: given, answer, worked solution, and what each slip leads to."""
    problem = one.problem
    rows = []
    for slip in problem.slips:
        if slip.key in one.slips:
            line, value = one.slips[slip.key]
            value = quantity_text(value, problem.number.unit)
            rows.append((value if line is None else f"{line}; {value}", one.text(slip.sentence)))
    if isinstance(problem.answer, Choice):
        rows += [
            (str(i), one.text(s))
            for i, s in enumerate(problem.answer.sentences, 1)
            if i != one.choice
        ]
    told = [(value, markdown(sentence)) for value, sentence in rows]
    wrong = table(("answer", "what happened"), told, named=False) if rows else ""
    head = (
        f"<h3>{number}. {escape(problem.title)} <span "
        f"class='small'>({escape(problem.key)})</span></h3>"
    )
    lines = (
        f"<p>Given: {escape(_given_text(one))}.</p><p>Answer: "
        f"<strong>{escape(one.answer_text())}</strong></p>"
    )
    return f"<article>{head}{lines}{markdown(one.worked_text())}{wrong}</article>"


def _class_table(names, group):
    """One problem for a class: learners, their numbers and answers; above them the names of its
    quantities.
    """
    good = [one for one in group if isinstance(one, Draw)]
    if not good:
        return f"<p>{escape(str(group[0]))}</p>"

    def plain(one):
        return (
            "; ".join(f"{g.label} {g.show(one.given[g.name])}" for g in one.problem.given) or "none"
        )

    cells = [(clip(one.learner, 100), plain(one), one.answer_text()) for one in good]
    cells += [
        (name, str(one), "none")
        for name, one in zip(names, group, strict=True)
        if not isinstance(one, Draw)
    ]
    problem = good[0].problem
    head = f"<h2>{escape(problem.title)} <span class='small'>({escape(problem.key)})</span></h2>"
    if problem.given:
        head += (
            "<p class='small'>Quantities: "
            f"{escape('; '.join(f'{g.label} ({g.name})' for g in problem.given))}.</p>"
        )
    return head + table(("learner", "given", "answer"), cells, named=False)


def answer_key_csv(draws):
    """The key as CSV text: learner, problem, set, given, answer."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["learner", "problem", "set", "given", "answer"])
    for name, own in draws.items():
        for one in own:
            cells = (
                [one.problem.key, one.set, _given_text(one), one.answer_text()]
                if isinstance(one, Draw)
                else ["", "", "", str(one)]
            )
            writer.writerow(
                [defused(name), *(defused(c) if isinstance(c, str) else c for c in cells)]
            )
    return out.getvalue()


def namesakes(names):
    """A sentence about names that are the same once case and blanks are left out, or ''."""
    groups = {}
    for name in names:
        groups.setdefault(normalised(name), []).append(clip(name, 100))
    same = [
        f"{group[0]} stands there {len(group)} times" for group in groups.values() if len(group) > 1
    ]
    return say("key.namesakes", names="; ".join(same)) if same else ""


def sheet_pages(draws):
    """About how many pages of A4 the problem sheets fill: 2.15 problems to a page (the whole course
    for 30 learners, printed), each learner on new ones.
    """
    return sum(math.ceil(len(own) / 2.15) for own in draws.values())


def main(argv=None):
    """The command `key`: see --help. Returns the exit code."""
    parser = command_parser(
        "key", "Answer key (HTML, CSV) and printable problem sheets (HTML) for learners by name."
    )
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
    parser.add_argument(
        "--course",
        help=(
            "course key, or path of the course.toml (default: course.toml in this folder or the "
            "one above, if there is one)"
        ),
    )
    parser.add_argument(
        "--works",
        metavar="FILE",
        help="works that the numbers follow (default: their file, found as course.toml is)",
    )
    parser.add_argument(
        "--lesson",
        action="append",
        metavar="LESSON",
        help="only this lesson, by number or name (may be given several times)",
    )
    parser.add_argument("--set", type=int, default=1, help="which set of numbers (default 1)")
    parser.add_argument(
        "--worked",
        action="store_true",
        help="with worked solutions and slips, however many learners",
    )
    parser.add_argument(
        "--out", type=Path, default=Path("key"), help="folder for the files (default: key)"
    )
    options = parser.parse_args(argv)
    try:
        if options.set < 1:
            raise InputError(f"set: {options.set} was given; sets are 1, 2, 3 and so on.")
        learners = options.learner if options.learner else names_from(options.names)
        problems, chained = (
            lessons_named(options.lesson) if options.lesson else (None, in_use().chained)
        )
        no_key = [
            say("key.chain", number=one.number, called=one.chain.called, command=in_use().command)
            for one in chained
        ]
        if no_key and not problems and options.lesson:
            raise InputError(" ".join(no_key))
        by = ground(Path.cwd(), options.course, options.works)
        draws = draws_for(learners, by.course, problems, options.set, by.works)
        told = [*by.told, *no_key, *filter(None, [namesakes(learners)])]
        key = answer_key_html(draws, by.course.key, options.worked or None, told)
        texts = {
            "problem_sheets.html": problem_sheets_html(draws),
            "answer_key.html": key,
            "answer_key.csv": answer_key_csv(draws),
        }
        options.out.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            (options.out / name).write_text(
                text, encoding="utf-8-sig" if name.endswith(".csv") else "utf-8", newline=""
            )
    except (InputError, OSError) as error:
        print(f"{parser.prog}: {error}", file=sys.stderr)
        return 1
    print(*told, sep="\n")
    if (pages := sheet_pages(draws)) > MANY_PAGES:
        print(say("key.pages", pages=pages))
    print(say("mark.written", files=", ".join(str(options.out / name) for name in texts)))
    return 0
