"""What to practise today: problems that come back, told from the answer sheet alone."""

from datetime import date

from .progress import standings

# Days until a problem solved once, twice ... on different numbers comes back: an expanding
# schedule; the intervals are our own choice.
DAYS = (1, 4, 10, 25, 60)


def due_problems(records, keys, today, most=6):
    """Keys of the problems to do today, what was got wrong first, then the longest due.

    records: those of a sheet, as written; keys: all problems in the order of the course; today: a
    date; most: how many at most. The same sheet gives the same list on the same day. A problem that
    was never tried is none: it belongs to its lesson.
    """
    last, known = {}, standings(records)
    for record in records:
        if record["kind"] == "answer":
            last[record["problem"]] = _day(record["t"]) or last.get(record["problem"])
    found = []
    for place, key in enumerate(keys):
        one, day = known.get(key), last.get(key)
        if one is None or day is None or not one.attempts:
            continue
        passed = (today - day).days
        if not one.done:
            found.append((0, -passed, place, key))
            continue
        # solved at the first answer counts as one step more than solved after wrong ones
        steps = len(one.solved) - (not one.first_try)
        wait = DAYS[min(max(steps, 1), len(DAYS)) - 1]
        if passed >= wait:
            found.append((1, wait - passed, place, key))
    return tuple(key for *_, key in sorted(found)[:most])


def _day(stamp):
    try:
        return date.fromisoformat(stamp[:10])
    except (ValueError, TypeError):
        return None
