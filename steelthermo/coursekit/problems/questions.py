"""Questions of a lesson, asked in place: what will the panel show, what was to be noticed, and what
a learner checks of himself. Their words stand in a text file, as those of problems do.

    [predict.KEY]   text, options (in the order of what is predicted), reason; move, from: where the
                    controls go and come from; said, unit: what is compared; limits: between the
                    options, of the change; percent = true: the change in %
    [notice.KEY]    text; options, the right one first (or found by a calculation of that key, then
    [check.KEY]     in their order), or given and answer as in a problem; reason: told with the
                    right answer; not_yet: told with a wrong one
"""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ...base import InputError
from ..answers import clip, quantity_text, say
from .declared import givens, in_language_chosen
from .given import require
from .problem import Answer, Choice, Problem


@dataclass(frozen=True, eq=False)
class Forecast:
    """A prediction of what a panel will show, judged by what it shows.

    options: in the order of the change; limits: between them; figure: function of a panel's record,
    the number that changes; percent: the limits are % of the first value; move, start: controls and
    where they go to, where they come from (left out: from the defaults); said, unit: what changes;
    panel: the name of one that is not the lesson's own.
    """

    key: str
    text: str
    options: tuple
    reason: str
    figure: Callable
    limits: tuple
    move: Mapping
    start: Mapping = field(default_factory=dict)
    said: str = ""
    unit: str = "1"
    percent: bool = False
    panel: str = ""

    def __post_init__(self):
        name = f"prediction {self.key}"
        rising = list(self.limits) == sorted(self.limits)
        require(name, len(self.limits) == len(self.options) - 1 and rising, "its limits do not fit")
        require(name, self.move and self.said, "what is moved and what is compared must be said")

    def line(self, before, after):
        """The number of the right option, from 1."""
        change = after - before
        if self.percent:
            change *= 100.0 / abs(before) if before else float("inf")
        return 1 + sum(change > limit for limit in self.limits)

    def compared(self, before, after):
        """What changed, in words."""
        values = {
            "before": quantity_text(before, self.unit, 3),
            "after": quantity_text(after, self.unit, 3),
        }
        return say("predict.compared", said=self.said, **values)


@dataclass(frozen=True)
class Questions:
    """The questions of a lesson. predict: tuple of Forecast; notice, check: tuples of Problem."""

    predict: tuple = ()
    notice: tuple = ()
    check: tuple = ()

    @property
    def judged(self):
        """Those that are problems."""
        return self.notice + self.check


def read_questions(
    lesson: str, module: str | Path, calculations: Mapping | None = None
) -> Questions:
    r"""The questions of a lesson from the text file beside a Python file.

    Parameters
    ----------
    lesson : its name, with which the keys begin
    module : path of the Python file, its `__file__`
    calculations : by key, figure of a prediction or solver of a question

    Returns
    -------
    Questions

    Raises
    ------
    InputError
        Names what is missing or superfluous.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> module = Path(mkdtemp()) / "questions.py"
    >>> lines = (
    ...     "[check.milk]",
    ...     "text = 'When do you pour the milk, to have it hot?'",
    ...     "options = ['Now.', 'Then.']",
    ...     "reason = 'With milk it is nearer to the room.'",
    ... )
    >>> _ = module.with_suffix(".toml").write_text("\n".join(lines), encoding="utf-8")
    >>> read_questions("tea", module).check[0].key
    'tea.milk'
    """
    path = Path(module).with_suffix(".toml")
    calculations = dict(calculations or {})
    try:
        parts = in_language_chosen(tomllib.loads(path.read_text(encoding="utf-8")))
        made = {
            part: tuple(
                made_of(f"{lesson}.{key}", dict(words), calculations.pop(key, None))
                for key, words in parts.get(part, {}).items()
            )
            for part, made_of in (("predict", _forecast), ("notice", _asked), ("check", _asked))
        }
    except (tomllib.TOMLDecodeError, TypeError, KeyError) as error:
        raise InputError(f"questions, {path}: {error}.") from None
    if over := calculations.keys() | parts.keys() - made.keys():
        raise InputError(f"questions, {path}: nothing asks for {sorted(over)}.")
    return Questions(**made)


def _forecast(key, words, figure):
    require(f"prediction {key}", figure, "there is no calculation of what it compares.")
    tuples = {name: tuple(words.pop(name)) for name in ("options", "limits")}
    return Forecast(key, figure=figure, start=words.pop("from", {}), **tuples, **words)


def _asked(key, words, solve):
    text, reason = words["text"], words["reason"]
    not_yet = words.get("not_yet", say("question.not_yet"))
    if "answer" in words:
        asked = {"number": Answer(**words["answer"])}
        require(f"question {key}", solve, "there is no calculation of its answer.")
    else:
        options, ordered = tuple(words["options"]), solve is not None
        # what a page tells: not_yet, or with the right line the reason
        asked = {"choice": Choice(options, (not_yet,) * len(options), ordered)}
        solve = solve or _first
    given = givens(words.get("given", {}))
    told = {"hints": (not_yet,), "worked": reason}
    return Problem(key, clip(text, 70), text, given, solve, **told, **asked, vector=False)


def _first():
    return 1
