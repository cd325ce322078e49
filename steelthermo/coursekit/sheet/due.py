"""What to practise today: problems that come back, told from the answer sheet alone."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from ..problems import DONE

# Days until a problem right at once on one, two ... days comes back: an expanding schedule; the
# intervals are our own choice.
DAYS = (1, 1, 4, 10, 25, 60)


@dataclass
class _Memory:
    """What is known of a problem's returns. day: of the last answer; counted: the last day that
    counts; steps: days on which it was right at once, since it was last wrong; wrong: so it ended.
    """

    day: date
    counted: date | None = None
    steps: int = 0
    wrong: bool = False
    tried: set = field(default_factory=set)
    solved: set = field(default_factory=set)

    def take(self, number, right, day):
        """One answer to a set of numbers."""
        at_once, self.day, self.wrong = number not in self.tried, day, not right
        self.tried.add(number)
        if right:
            self.solved.add(number)
        if not right:
            self.steps = 0
        elif at_once and self.counted != day:
            self.steps, self.counted = self.steps + 1, day


def due_problems(records: Sequence, keys: Sequence, today: date, most: int = 6) -> tuple:
    """The problems to do today: what was got wrong first, then the longest due. The same sheet
    gives the same list on the same day. Of two as long due the one of another lesson than the
    last goes first. A problem that was never tried is none: it belongs to its lesson.

    Parameters
    ----------
    records : those of a sheet, as written
    keys : of all problems, in the order of the course
    today : a date
    most : how many at most

    Returns
    -------
    keys

    Examples
    --------
    >>> wrong = {"kind": "answer", "state": "wrong", "problem": "tea.cups", "set": 1}
    >>> due_problems([wrong | {"t": "2026-01-05T08:00:00Z"}], ["tea.cups"], date(2026, 1, 6))
    ('tea.cups',)
    """
    known, opened = {}, set()
    for record in records:
        kind, day = record["kind"], _day(record["t"])
        answered = kind == "answer" and record["state"] != "not_attempted"
        if day is None or not (answered or kind == "worked"):
            continue
        key, number = record["problem"], record["set"]
        one = known.setdefault(key, _Memory(day))
        if (key, number) in opened or (kind == "worked" and number in one.solved):
            continue
        if kind == "worked":  # who had to look it up does not know it yet
            opened.add((key, number))
        one.take(number, answered and record["state"] in DONE, day)
    found = []
    for place, key in enumerate(keys):
        one = known.get(key)
        if one is None:
            continue
        over = (today - one.day).days - (0 if one.wrong else DAYS[min(one.steps, len(DAYS) - 1)])
        if over >= 0:
            found.append((not one.wrong, -over, place, key))
    return _mixed([(rank[:2], rank[3]) for rank in sorted(found)][:most])


def _mixed(ranked):
    """The keys, those of one rank so that lessons take turns where they can."""
    out, left = [], list(ranked)
    while left:
        same = [key for rank, key in left if rank == left[0][0]]
        last = out[-1].partition(".")[0] if out else ""
        key = next((k for k in same if k.partition(".")[0] != last), same[0])
        out.append(key)
        left = [pair for pair in left if pair[1] != key]
    return tuple(out)


def _day(stamp):
    try:
        return date.fromisoformat(stamp[:10])
    except (ValueError, TypeError):
        return None
