"""Where a learner stands with each problem, told from the records of the answer sheet: for the page
and for marking alike.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from ..problems import DONE

# a longer pause between two records counts as ten minutes: nobody knows what was done in it
LONGEST_GAP_S = 600.0


@dataclass
class Standing:
    """One problem of one learner.

    state: key of words.STATES, the best reached in a set whose worked solution was closed;
    attempts: readable answers; first_try:
    solved by the first answer; current: the set being worked on; opened: sets whose worked solution
    was opened; hints: {set: number taken};
    missed: {set: wrong answers}; last: {set: last text typed}; slips: Counter of slips made;
    seconds: time spent; tries:
    answers up to the one that solved it; solved_at: its time; tried: sets answered; clean: [(set,
    day, True on a page of mixed lessons)] of those right at the first answer, without a hint.
    """

    state: str = "not_attempted"
    attempts: int = 0
    first_try: bool = False
    current: int = 1
    opened: set = field(default_factory=set)
    hints: dict = field(default_factory=dict)
    missed: Counter = field(default_factory=Counter)
    last: dict = field(default_factory=dict)
    solved: set = field(default_factory=set)
    slips: Counter = field(default_factory=Counter)
    seconds: float = 0.0
    tries: int = 0
    solved_at: str = ""
    tried: set = field(default_factory=set)
    clean: list = field(default_factory=list)

    @property
    def mastered(self):
        """True after two clean sets, the later one on another day or among other lessons."""
        return any(day != self.clean[0][1] or mixed for _, day, mixed in self.clean[1:])

    def graded(self, try_cost):
        """Score from 0 to 1 that counts tries: each wrong answer before the right one takes
        try_cost off.
        """
        return max(0.0, 1.0 - try_cost * (self.tries - 1)) if self.done else 0.0

    @property
    def done(self):
        """True once a set was solved before its worked solution was opened."""
        return self.state in DONE


def _seconds(stamp):
    try:
        return datetime.fromisoformat(stamp).timestamp()
    except (ValueError, OverflowError, OSError):
        return None


def standings(records: Sequence, judged: Mapping | None = None) -> dict:
    """Where a learner stands, from the records of a sheet in the order in which they were written;
    the clock only counts time spent.

    Parameters
    ----------
    records : as written
    judged : {index of an answer in records: (state, slips)}; None: what the sheet itself says

    Returns
    -------
    Standing by problem key

    Examples
    --------
    >>> right = {"kind": "answer", "state": "right", "slips": [], "text": "1", "t": ""}
    >>> standings([right | {"problem": "tea.cups", "set": 1}])["tea.cups"].done
    True
    """
    out, before = {}, None
    for i, record in enumerate(records):
        now = _seconds(record["t"])
        gap = (
            min(max(now - before, 0.0), LONGEST_GAP_S)
            if now is not None and before is not None
            else 0.0
        )
        before = before if now is None else now
        key = record.get("problem")
        if key is None:
            continue
        one = out.setdefault(key, Standing())
        one.seconds += gap
        number = record["set"]
        if record["kind"] == "answer":
            state, slips = (
                (record["state"], record["slips"])
                if judged is None
                else judged.get(i, ("not_attempted", ()))
            )
            one.last[number] = record["text"]
            if state == "not_attempted":
                continue
            one.attempts += 1
            one.slips.update(slips)
            first = number not in one.tried | one.opened and not one.hints.get(number)
            one.tried.add(number)
            one.missed[number] += state not in DONE
            if first and state in DONE:
                one.clean.append((number, record["t"][:10], record.get("mixed") is True))
            if state in DONE and number not in one.opened:
                one.first_try |= one.attempts == 1
                if not one.tries:
                    one.tries, one.solved_at = one.attempts, record["t"]
                one.solved.add(number)
                one.state = "right" if "right" in (state, one.state) else state
            elif one.state == "not_attempted":
                one.state = "wrong"
        elif record["kind"] == "hint":
            one.hints[number] = max(one.hints.get(number, 0), record["number"])
        elif record["kind"] == "worked":
            one.opened.add(number)
        elif record["kind"] == "set":
            one.current = max(one.current, number)
    return out
