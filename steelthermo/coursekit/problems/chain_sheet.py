"""A sheet of dependent entries: each is checked against where the learner's own sheet stands, and
carried on, right or wrong. An early error has its consequence later, but is not counted twice.

Nothing locks a sheet: where an entry leaves no way on, the sheet goes on with the nearest value
that does, at a price; and some entries can be taken back, at the same price. Both are shown.
"""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ...base import InputError
from ..answers import bound, clip, say
from .checking import check
from .draws import DEFAULT_COURSE, Draw
from .problem import Answer, Choice, Problem, Slip


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry of a chain, worked out from a state.

    lesson: where the calculation is taught; template: what is asked, with the fields that
    fields(state) gives; right: function of the state, the right value; number, choice: as in
    Problem; then: function of the state, what follows, or None (it raises InputError where nothing
    can); slips: (key, sentence, function of the state); cautions: keys of its hazards; back:
    whether it can be taken back; price_min: minutes that this costs, or going on with another
    value.
    """

    key: str
    title: str
    lesson: str
    template: str
    fields: Callable
    right: Callable
    number: Answer | None = None
    choice: Choice | None = None
    then: Callable | None = None
    slips: tuple = ()
    cautions: tuple = ()
    back: bool = False
    price_min: float = 0.0

    def text(self, state):
        """What is asked, with the figures of the state."""
        return self.template.format_map(self.fields(state))

    def problem(self, state):
        """The entry as a problem of its own, for the checker."""
        slips = tuple(Slip(key, words, solve=lambda f=f: f(state)) for key, words, f in self.slips)
        return Problem(
            f"chain.{self.key}", self.title, "", (), lambda: self.right(state), ("",),
            number=self.number, choice=self.choice, slips=slips,
        )  # fmt: skip


class ChainSheet:
    """One learner's sheet, before its first entry.

    entries: of Entry, in order. state: anything with
    `entered` and after(**changes). verdicts: {entry key: Verdict of the entry carried on};
    texts: as entered; right: what would have been, in words; notes: {entry key: what the sheet went
    on with instead}; checks: Counter of checks by entry key; prices: [(title, words, minutes)].
    """

    def __init__(self, entries, state, learner, course, set):
        self.entries, self.state = entries, state
        self.learner, self.course, self.set = learner, course, set
        self.verdicts, self.texts, self.right = {}, {}, {}
        self.missed = []  # keys of entries of which the direction was told
        self.notes, self.checks, self.prices, self._before = {}, Counter(), [], []
        self.amended = {}  # what was taken in the place of an entry, in words, by its key

    @property
    def next(self):
        """The entry to be filled in next, or None when the sheet is full."""
        done = len(self.verdicts)
        return self.entries[done] if done < len(self.entries) else None

    @property
    def made(self):
        """The entries carried on."""
        return self.entries[: len(self.verdicts)]

    def text(self):
        """What is asked next."""
        return bound(self.next.text(self.state))

    def check(self, text):
        """Verdict on an answer to the next entry; nothing is carried on."""
        verdict = self._verdict(text)
        self.checks[self.next.key] += verdict.readable
        return verdict

    def _verdict(self, text):
        key = self.next.key
        verdict = check(self._draw(self.next), text, direction=key not in self.missed)
        if verdict.state == "wrong":
            self.missed.append(key)
        return verdict

    def carry_on(self, text):
        """Take an answer into the sheet, right or wrong, and go on. Returns the Verdict. Raises
        InputError if it cannot go on with it.
        """
        entry, verdict = self.next, self._verdict(text)
        if not verdict.readable:
            raise InputError(verdict.sentences[0])
        value = verdict.choice if verdict.choice is not None else verdict.number
        if verdict.choice is None and value < 0:
            raise InputError(
                f"{entry.title}: {value:g} was entered; nothing less than zero can be taken."
            )
        self.right[entry.key] = self.words(entry, entry.right(self.state))
        self._before.append(self.state)
        self.state = self._lived_with(entry, value)
        self.verdicts[entry.key], self.texts[entry.key] = verdict, text
        return verdict

    def _lived_with(self, entry, value):
        """The state after an entry: with the value entered or, where nothing follows from it, with
        the one nearest to it that lies towards the right one and from which the sheet can go on.
        """
        try:
            return _after(entry, self.state, value)
        except InputError as error:
            if entry.choice:
                raise
            reason = str(error)
        good, bad = entry.right(self.state), value
        state = _after(entry, self.state, good)
        while abs(bad - good) > entry.number.tolerance(good):
            middle = good + (0.5 if abs(bad) < 10.0 * abs(good) else 0.1) * (bad - good)
            try:
                state, good = _after(entry, self.state, middle), middle
            except InputError:
                bad = middle
        taken = self.words(entry, good)
        minutes = f"{entry.price_min:g}"
        self.notes[entry.key] = say("chain.instead", value=taken, reason=reason, minutes=minutes)
        self.prices.append((entry.title, say("chain.amended", value=taken), entry.price_min))
        self.amended[entry.key] = taken
        return state

    @property
    def returnable(self):
        """The entry carried on last, if it can be taken back, or None."""
        return self.made[-1] if self.made and self.made[-1].back else None

    def take_back(self):
        """Take back the entry carried on last, at its price. Raises InputError if it cannot be."""
        entry = self.returnable
        if entry is None:
            raise InputError(say("chain.no_way_back"))
        self.state = self._before.pop()
        for kept in (self.verdicts, self.texts, self.right, self.notes, self.amended):
            kept.pop(entry.key, None)
        self.prices.append((entry.title, say("chain.taken_back"), entry.price_min))
        return entry

    def figures(self):
        """What it cost, by name: checks made, times that a value was taken back or changed, minutes
        lost by it.
        """
        minutes = sum(minutes for _, _, minutes in self.prices)
        return {
            "checks": sum(self.checks.values()),
            "changes": len(self.prices),
            "minutes_lost": round(minutes),
        }

    def progress_words(self):
        """How far the sheet is."""
        done, right = len(self.verdicts), sum(v.done for v in self.verdicts.values())
        return say("chain.progress", done=done, total=len(self.entries), right=right)

    def hindsight(self, entry, called):
        """What would have been right at an entry that was not, as sentences."""
        right = say("chain.right_here", called=called, answer=self.right[entry.key])
        return f"{right} {say('chain.lesson', lesson=entry.lesson)}"

    def cost_words(self):
        """What the sheet cost: every change, and the sum."""
        told = [say("chain.price", title=t, words=w, minutes=f"{m:g}") for t, w, m in self.prices]
        return " ".join([*told, say("chain.prices", **self.figures())])

    def words(self, entry, value):
        """A value of an entry in words: the line of a choice, a number with its unit."""
        if entry.choice:
            return entry.choice.options[int(value) - 1].rstrip(".")
        return entry.number.show(value)

    def as_read(self, entry):
        """What was entered, as a person reads it: the words of a choice, a number with its unit."""
        if entry.choice:
            return self.words(entry, self.verdicts[entry.key].choice)
        text, unit = clip(self.texts[entry.key], 40), entry.number.unit
        return text if unit == "1" or not text.strip()[-1:].isdigit() else f"{text} {unit}"

    def _draw(self, entry):
        """The Draw that the checker needs, with right value and slips worked out from the state."""
        problem, right = entry.problem(self.state), entry.right(self.state)
        slips = {}
        for slip in problem.slips:
            wrong = float(slip.solve())
            if wrong == wrong and abs(wrong - right) > 2.0 * problem.number.tolerance(right):
                slips[slip.key] = (None, wrong)
        number, line = (None, int(right)) if entry.choice else (float(right), None)
        return Draw(problem, self.learner, DEFAULT_COURSE, 1, {}, number, line, slips, 0)


def _after(entry, state, value):
    state = state.after(entered={**state.entered, entry.key: value})
    return entry.then(state) if entry.then else state


def all_right(entries: Iterable, state: object) -> object:
    """The state after all entries, each right.

    Parameters
    ----------
    entries, state : as ChainSheet takes them

    Returns
    -------
    the last state

    Examples
    --------
    >>> all_right((), "the beginning")
    'the beginning'
    """
    for entry in entries:
        state = _after(entry, state, entry.right(state))
    return state
