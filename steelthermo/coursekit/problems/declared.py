"""Problems whose words stand in a text file, for a translator or trainer, and whose calculations
stand in Python; bound to each other by the keys of problem and slip.

The text file is TOML: a table per problem, in the order they are shown.
    title, text, hints, worked, beyond   as in Problem
    cautions                             the keys of its hazards, as the course has them
    [key.given]   a row per quantity: the fields of Given, or those of Pick where it has options
    answer        the fields of Answer
    [[key.lines]] line and reply of a Choice; ordered = true where the lines keep their order
    [key.slips]   the sentence of each slip by its key; one that the steps tell of themselves needs
                  no calculation (mistakes.py has their keys), and one only to say more than they do
    steps         a row per step: the fields of a Step; worked then is what is told after them
    example       true for the one problem of an exercise whose steps are to be completed
    doubt         true for one that an exercise folds away, for those who doubt the data
"""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from ...base import InputError, translated
from .given import Given, Pick
from .mistakes import mistake
from .problem import Answer, Choice, Problem, Slip
from .steps import Step, step_values

# Fields that hold no words to translate
NO_WORDS = frozenset(
    ("unit", "follows", "cautions", "lesson", "move", "from", "panel", "sum", "called")
)


@dataclass(frozen=True)
class Solution:
    """What computes in a problem.

    solve, plausible, vector, figures: as in Problem; where there is no solve, the steps are it, and
    line is the right line of a Choice beside the number, and library what a library makes of the
    same quantities, asked for its remarks on ranges; slips: {key: the wrong solver, or what a
    function of the module slip made of the right one}.
    """

    solve: Callable | None = None
    slips: Mapping = field(default_factory=dict)
    plausible: Callable | None = None
    figures: Callable | None = None
    vector: bool = True
    line: int | None = None
    library: Callable | None = None


def read_problems(lesson: str, module: str | Path, solutions: Mapping) -> tuple:
    r"""The problems of a lesson, from their words and their solutions.

    Parameters
    ----------
    lesson : its name, with which the keys begin
    module : path of the Python file beside the text file, its `__file__`
    solutions : Solution by key

    Returns
    -------
    Problems in the order of the text file, those that a page folds away behind the others

    Raises
    ------
    InputError
        Names what is missing or superfluous on either side.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import mkdtemp
    >>> from steelthermo.coursekit.problems import Solution, times
    >>> module = Path(mkdtemp()) / "problems.py"
    >>> lines = (
    ...     "[cups]",
    ...     "title = 'Cups'",
    ...     "text = 'What do {n} cups of 0.2 kg hold?'",
    ...     "answer = { unit = 'kg', tolerance_pct = 1, why = 'a product' }",
    ...     "hints = ['Multiply.']",
    ...     "worked = '{n:n} × 0.2 = {answer}'",
    ...     "given.n = { label = 'cups', unit = '1', low = 3, high = 9, step = 1, why = 'a try' }",
    ...     "slips.in_g = 'This is in g.'",
    ... )
    >>> _ = module.with_suffix(".toml").write_text("\n".join(lines), encoding="utf-8")
    >>> solutions = {"cups": Solution(lambda n: 0.2 * n, {"in_g": times(1000.0)})}
    >>> [problem.key for problem in read_problems("tea", module, solutions)]
    ['tea.cups']
    """
    words = read_words(lesson, module, solutions)
    made = (_problem(f"{lesson}.{key}", words[key], solutions[key]) for key in words)
    return tuple(sorted(made, key=lambda problem: problem.doubt))  # so that numbers run on


def read_words(lesson: str, module: str | Path, solutions: Mapping) -> dict:
    r"""The tables of a text file, checked against the solutions.

    Parameters
    ----------
    lesson : its name, with which the keys begin
    module : path of the Python file beside the text file, its `__file__`
    solutions : Solution by key

    Returns
    -------
    table by key, each with its slips

    Raises
    ------
    InputError
        Names what is missing or superfluous on either side.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import mkdtemp
    >>> from steelthermo.coursekit.problems import Solution, times
    >>> module = Path(mkdtemp()) / "problems.py"
    >>> lines = (
    ...     "[cups]",
    ...     "title = 'Cups'",
    ...     "text = 'What do {n} cups of 0.2 kg hold?'",
    ...     "answer = { unit = 'kg', tolerance_pct = 1, why = 'a product' }",
    ...     "hints = ['Multiply.']",
    ...     "worked = '{n:n} × 0.2 = {answer}'",
    ...     "given.n = { label = 'cups', unit = '1', low = 3, high = 9, step = 1, why = 'a try' }",
    ...     "slips.in_g = 'This is in g.'",
    ... )
    >>> _ = module.with_suffix(".toml").write_text("\n".join(lines), encoding="utf-8")
    >>> solutions = {"cups": Solution(lambda n: 0.2 * n, {"in_g": times(1000.0)})}
    >>> read_words("tea", module, solutions)["cups"]["slips"]
    {'in_g': 'This is in g.'}
    """
    path = Path(module).with_suffix(".toml")
    try:
        words = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"problems, {path}: {error}.") from None
    words = in_language_chosen(words)
    _same(lesson, words.keys(), solutions)
    for key, table in words.items():
        told = table.setdefault("slips", {}).keys()
        computed = told & solutions[key].slips.keys() if "steps" in table else told
        _same(f"{lesson}.{key}", computed, solutions[key].slips)
    return words


def in_language_chosen(words, given=False):
    """The same tables in the language chosen. given: of quantities, whose options are calculated
    with and stay as they are.
    """
    if isinstance(words, dict):
        kept = NO_WORDS | {"options"} if given else NO_WORDS
        return {
            key: part if key in kept else in_language_chosen(part, given or key == "given")
            for key, part in words.items()
        }
    if isinstance(words, list):
        return [in_language_chosen(part) for part in words]
    return translated(words) if isinstance(words, str) else words


def _same(where, told, solutions):
    for missing, keys in (
        ("calculation", told - solutions.keys()),
        ("text", solutions.keys() - told),
    ):
        if keys:
            raise InputError(f"problems, {where}: there is no {missing} for {sorted(keys)}.")


def _problem(key, words, solution):
    given, sentences = words.pop("given", {}), words.pop("slips")
    steps = tuple(Step(**row) for row in words.pop("steps", ()))
    try:
        if not steps:
            _ = words["worked"]  # a KeyError where it is declared in neither way
        problem = Problem(
            key,
            given=givens(given),
            **asked_of(words),
            solve=solution.solve or _by_steps(steps, solution, tuple(given)),
            plausible=solution.plausible,
            vector=solution.vector,
            steps=steps,
            figures=solution.figures,
            **_fields(words),
        )
        slips = tuple(
            Slip(slip, told, **_wrong(solution.slips.get(slip) or mistake(problem, slip)))
            for slip, told in sentences.items()
        )
    except (TypeError, KeyError) as error:  # a field that is missing or not known
        raise InputError(f"problem {key}: {error}.") from None
    return replace(problem, slips=slips)


def givens(rows):
    """The Given and Pick of the rows of a text file by name."""
    return tuple(
        (Pick if "options" in row else Given)(name, **_fields(row)) for name, row in rows.items()
    )


def _fields(row):
    return {key: tuple(x) if isinstance(x, list) else x for key, x in row.items()}


def asked_of(words: dict) -> dict:
    """What a table asks for, as the fields of a Problem.

    Parameters
    ----------
    words : the table; its own fields for it go

    Returns
    -------
    number and choice, each None where it is not asked for

    Examples
    --------
    >>> asked = asked_of({"answer": {"unit": "kg", "why": "a product", "tolerance_pct": 1.0}})
    >>> asked["number"].tolerance_text().split(), asked["choice"]
    (['1', '%'], None)
    """
    number = Answer(**words.pop("answer")) if "answer" in words else None
    lines, ordered = words.pop("lines", ()), words.pop("ordered", False)
    texts, replies = (tuple(row[part] for row in lines) for part in ("line", "reply"))
    return {"number": number, "choice": Choice(texts, replies, ordered) if lines else None}


def _wrong(made):
    return {"solve": made} if callable(made) else made


def _by_steps(steps, solution, names):
    """The solver that the steps are. names: of the given quantities, in order."""
    figures, line = solution.figures, solution.line

    def solve(*values, **given):
        given |= zip(names, values, strict=False)
        if solution.library:
            solution.library(**given)
        known = given | (figures(**given) if figures else {})
        number = step_values(steps, known, digits=None)[steps[-1].called]
        return number if line is None else (line, number)

    return solve
