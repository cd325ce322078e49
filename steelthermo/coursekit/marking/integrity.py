"""Signs that a sheet is worth a talk: its clock, its pace, its seals, its likeness to others.

None of them proves anything. A clock can be wrong, two notebooks can be open, and who works on
paper types many answers at once. And a sheet without signs proves nothing either: whoever reads the
program can make one. The bounds below are common sense, no published figures.
"""

import statistics
from collections import defaultdict
from datetime import UTC, datetime, timedelta

from ..answers import say
from ..problems import DONE

BACK_S = 120.0  # a clock is set back by more than two pages could differ
AHEAD = timedelta(hours=26)  # no time zone is further ahead
QUICK_S, QUICK_MANY = 5.0, 3  # right this soon after the line before, so many problems
WINDOW_S, WINDOW_MANY = 600.0, 12  # so many problems solved within ten minutes
SEARCHED, SEARCHED_MANY = 8, 3  # tries of one problem before it was right; so many problems
EVEN_MANY = 10  # answers at even intervals
ALIKE_MANY = 10  # answers by which two sheets are compared


def moment(stamp):
    """A time stamp of a sheet as a datetime, or None."""
    try:
        found = datetime.fromisoformat(stamp)
        return (found if found.tzinfo else found.replace(tzinfo=UTC)).astimezone(UTC)
    except (ValueError, OverflowError, OSError):
        return None


def signs(contents, records, judged):
    """(signs, rhythm) of a sheet. signs: [(weight, sentence)]; rhythm: what two sheets are compared
    by, or None.

    contents: as read; records: those that count; judged: {index in records: (state, slips)}.
    """
    out = [(4, say("talk.unsealed", count=contents.unsealed))] if contents.unsealed else []
    out += [(4, say("talk.missing", count=contents.missing))] if contents.missing else []
    times = [moment(record["t"]) for record in records]
    known = [t for t in times if t is not None]
    jumps = sum((b - a).total_seconds() < -BACK_S for a, b in zip(known, known[1:], strict=False))
    out += [(2, say("talk.back", count=jumps))] if jumps else []
    ahead = sum(t > datetime.now(UTC) + AHEAD for t in known)
    out += [(3, say("talk.ahead", count=ahead))] if ahead else []
    solved, tries, at = {}, defaultdict(int), []
    quick = 0
    for i, record in enumerate(records):
        if i not in judged or times[i] is None:
            continue
        at.append(times[i])
        key = record["problem"]
        tries[key] += key not in solved
        if judged[i][0] in DONE and key not in solved:
            solved[key] = times[i]
            before = times[i - 1] if i else None
            quick += before is not None and abs((times[i] - before).total_seconds()) < QUICK_S
    out += [(3, say("talk.quick", count=quick, seconds=f"{QUICK_S:.0f}"))] * (quick >= QUICK_MANY)
    most = _densest(sorted(solved.values()))
    out += [(2, say("talk.dense", count=most))] if most >= WINDOW_MANY else []
    searched = sum(tries[key] >= SEARCHED for key in solved)
    told = say("talk.searched", count=searched, tries=SEARCHED)
    out += [(2, told)] if searched >= SEARCHED_MANY else []
    gaps = [(b - a).total_seconds() for a, b in zip(at, at[1:], strict=False)]
    if len(gaps) >= EVEN_MANY and 0 < statistics.fmean(gaps) and statistics.pstdev(gaps) < 1.5:
        out.append((3, say("talk.even", count=len(at))))
    answers = [records[i]["problem"] for i in judged]
    return out, (tuple(gaps), tuple(answers)) if len(at) >= ALIKE_MANY else None


def _densest(times):
    """Most of these times that lie within WINDOW_S."""
    most = first = 0
    for last, t in enumerate(times):
        while (t - times[first]).total_seconds() > WINDOW_S:
            first += 1
        most = max(most, last - first + 1)
    return most


def alike(sheets):
    """Add a sign to sheets of different learners whose answers have the same problems at the same
    intervals. sheets: marking.Marked.
    """
    groups = defaultdict(list)
    for one in sheets:
        if one.rhythm is not None:
            groups[one.rhythm].append(one)
    for group in groups.values():
        for one in group if len({one.learner for one in group}) > 1 else ():
            one.signs.append((5, say("talk.alike", count=len(group) - 1)))
