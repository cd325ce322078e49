"""Answer sheets as tests need them: what was answered, and when."""

from datetime import datetime, timedelta

from steelthermo.coursekit.problems import check, draw
from steelthermo.coursekit.sheet import SCHEMA, encode, fingerprint, seal_key

START = datetime.fromisoformat("2026-03-02T08:00:00+00:00")


def write(path, learner, answers, schema=SCHEMA, sealed=True, course="self-study"):
    """A sheet of answers (problem, text or None for the right one, seconds since the last)."""
    key, seal, lines, now = seal_key(learner, course), "", [], START
    head = {
        "schema": schema,
        "learner": learner,
        "course": course,
        "kit": "0",
        "data": fingerprint(),
    }
    records = [({"kind": "sheet", **head}, 0)]
    for problem, text, wait_s in answers:
        own = draw(problem, learner, course)
        text = own.answer_text() if text is None else text
        verdict = check(own, text)
        about = {"state": verdict.state, "slips": list(verdict.slips), "given": own.given}
        record = {"kind": "answer", "problem": problem.key, "set": 1, "text": text, **about}
        records.append((record, wait_s))
    for n, (record, wait_s) in enumerate(records):
        now += timedelta(seconds=wait_s)
        stamp = now.strftime("%Y-%m-%dT%H:%M:%SZ")
        line, seal = encode({"n": n + 1, "t": stamp, **record, "prev": seal}, key)
        lines.append(line if sealed else line.partition(b',"seal"')[0] + b"}\n")
    path.parent.mkdir(exist_ok=True, parents=True)
    path.write_bytes(b"".join(lines))
