"""A class as it may be handed in, with everything that has gone wrong or could be tried, marked:
python tests/tools/hostile_class.py [--learners 300] [--folder FOLDER]

Good sheets come from make_class; around them stand damaged, forged, renamed, zipped and linked
ones, a class list that names them and one who handed in nothing, and a folder whose name is no
UTF-8. Prints what was expected and not found, seconds and memory. Exit code 1 if anything is.
"""

import argparse
import json
import os
import random
import sys
import tempfile
import time
import zipfile
from pathlib import Path

import make_class

from steelthermo.coursekit.marking import mark
from steelthermo.coursekit.sheet import SCHEMA, encode, fingerprint, seal_key, sheet_name

COURSE = "HS26-A"


def forged(learner, problems, schema=SCHEMA, sealed=True, times=("2026-03-02T08:00:00Z",)):
    """A sheet made by a program that knows every answer."""
    from steelthermo.coursekit.problems import draw

    key, seal, lines = seal_key(learner, COURSE), "", []
    head = {
        "schema": schema,
        "learner": learner,
        "course": COURSE,
        "kit": "0",
        "data": fingerprint(),
    }
    records = [{"kind": "sheet", **head}]
    for problem in problems:
        own = draw(problem, learner, COURSE)
        about = {
            "problem": problem.key,
            "set": 1,
            "state": "right",
            "slips": [],
            "given": own.given,
        }
        records.append({"kind": "answer", "text": own.answer_text(), **about})
    for n, record in enumerate(records):
        stamp = {"n": n + 1, "t": times[n % len(times)]}
        line, seal = encode({**stamp, **record, "prev": seal}, key)
        lines.append(line if sealed else line.partition(b',"seal"')[0] + b"}\n")
    return b"".join(lines)


def renamed(data, learner, other):
    """A neighbour's sheet, sealed anew under another name."""
    key, seal, lines = seal_key(other, COURSE), "", []
    for line in data.splitlines():
        record = json.loads(line)
        record |= {"learner": other} if record["kind"] == "sheet" else {}
        record = {k: v for k, v in record.items() if k != "seal"} | {"prev": seal}
        line, seal = encode(record, key)
        lines.append(line)
    return b"".join(lines)


def searched(learner, problems):
    """Each answer found by trying between too low and too high, no chemistry."""
    from steelthermo.coursekit.problems import draw

    work = make_class.Writer(learner, COURSE, 1_772_000_000)
    for problem in problems:
        own = draw(problem, learner, COURSE)
        if own.number is None or own.choice is not None:
            continue
        about = {"problem": problem.key, "set": 1, "slips": [], "given": own.given}
        for n in range(9):
            text = f"{own.number * (1 + 2.0 ** (3 - n)):.6g} {problem.number.unit}"
            text = text.removesuffix(" 1")
            work.add("answer", 40.0 + 7 * n, **about, text=text, state="wrong")
        work.add("answer", 55.0, **about, text=own.answer_text(), state="right")
    return b"".join(work.lines)


def build(folder, learners, problems):
    """Write the class; returns [(what, function of the Report -> True if it was dealt with)]."""
    handed, good = folder / "in", {}
    for i in range(learners):
        name = make_class.learner_name(i)
        good[name] = make_class.sheet(name, COURSE, problems, 40_000 + i)
    (folder / "course.toml").write_text(f'key = "{COURSE}"\n')
    rows = [f"{1000 + i};{name};{i}@class.example" for i, name in enumerate(good)]
    text = "\n".join(["id;name;email", *rows, "9;Nobody Came;9@class.example"])
    (folder / "class.csv").write_text(text, encoding="utf-16")
    handed.mkdir()
    names = list(good)
    for i, name in enumerate(names):  # the usual ways to hand in, in turn
        data, file = good[name], sheet_name(name, COURSE)
        if i % 25 == 7:
            with zipfile.ZipFile(handed / f"{i}.zip", "w", zipfile.ZIP_DEFLATED) as archive:
                archive.writestr(f"answers/{file}", data)
        else:
            own = ("", ".txt", " (1)")[i % 3 if i % 10 == 0 else 0]
            (handed / f"{file}{own}").write_bytes(data)
    tries = [("good sheets are marked", lambda r: names_of(r) >= set(good))]
    tries.append(("who is missing is told", lambda r: [p.id for p in r.missing()] == ["9"]))
    chance = random.Random(5)
    for kind in range(10):
        name = f"damaged-{kind}"
        data = make_class.damage(forged(name, problems), kind, chance)
        (handed / f"{name}.jsonl").write_bytes(data)
        tries.append((name, told_of(f"{name}.jsonl")))
    first = forged("Eve", problems, 0, False)
    for file, data in {
        "schema-0.jsonl": first,
        "unsealed.jsonl": forged("Ida", problems, sealed=False),
        "in-no-time.jsonl": forged("Uma", problems),
        "clock-back.jsonl": forged(
            "Ole", problems, times=("2026-03-02T08:00:00Z", "2026-02-01T08:00:00Z")
        ),
        "in-2099.jsonl": forged("Pia", problems, times=("2099-03-02T08:00:00Z",)),
        "swapped.jsonl": b"".join(reversed(forged("Rob", problems).splitlines(True)[1:])),
        "huge.jsonl": b"{" * 17_000_000,
        "long-line.jsonl": forged("Lin", problems) + b'{"kind":"' + b"x" * 9_000_000 + b'"}\n',
        "lines.jsonl": b"{}\n" * 200_000,
        "old-lines-behind-seals.jsonl": forged("Kim", problems[:1])
        + b"".join(first.splitlines(True)[1:]),
        "other-name.jsonl": good[names[2]].replace(names[2].encode(), b"Another Name", 1),
        "other-digit.jsonl": forged("Max", problems).replace(b'"text":"', b'"text":"9', 1),
        "line-out.jsonl": b"".join(
            line for n, line in enumerate(forged("Jan", problems).splitlines(True)) if n != 4
        ),
        "copied-with-a-line-end.jsonl": good[names[3]] + b"\n",
        "same-rhythm.jsonl": renamed(good[names[4]], names[4], "Lou Other"),
        "searched.jsonl": searched("Sue", problems),
        "utf-16.jsonl": forged("Tom", problems).decode().encode("utf-16"),
        "course.toml.txt": b'key = "other"\n',
        "broken.zip": b"PK\3\4 no zip",
        "sheets.rar": b"Rar!",
    }.items():
        (handed / file).write_bytes(data)
        tries.append((file, told_of(file)))
    (handed / "copy of a neighbour.jsonl").write_bytes(good[names[0]])
    tries.append(("copy", lambda r: any(len(files) > 1 for _, files in r.doubles)))
    if os.name != "nt":
        os.symlink(handed / sheet_name(names[1], COURSE), handed / "link.jsonl")
        os.symlink(handed, handed / "loop")
        os.mkfifo(handed / "pipe.jsonl")
        tries += [(name, told_of(name)) for name in ("link.jsonl", "loop", "pipe.jsonl")]
    if sys.platform == "linux":
        strange = os.fsencode(handed) + b"/J\xf6rg"
        os.mkdir(strange)
        for file in (b"/a.jsonl", b"/b.jsonl"):
            with open(strange + file, "wb") as out:
                out.write(forged("J\u00f6rg" + file.decode(), problems))
        tries.append(("a folder that is no UTF-8", lambda r: "J\u00f6rg/a.jsonl" in names_of(r)))
    return tries


def names_of(report):
    return {one.learner for one in report.sheets}


def told_of(file):
    """A function that says whether a report tells something of that file."""

    def told(report):
        rows = [row[0] for row in (*report.bad, *report.met, *(t[1:] for t in report.talks()))]
        remarked = [row["sheet"] for row in report.table if row["remarks"].replace(OUTSIDE, "")]
        return any(file in name for name in (*rows, *remarked))

    return told


OUTSIDE = "not on the list of the class"


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--learners", type=int, default=300)
    parser.add_argument("--problems", type=int, default=80)
    parser.add_argument("--folder", type=Path, help="a folder that is not there yet")
    options = parser.parse_args()
    problems = make_class.sample(options.problems)
    folder = options.folder or Path(tempfile.mkdtemp()) / "class"
    folder.mkdir(parents=True)
    tries = build(folder, options.learners, problems)
    start, worked = time.perf_counter(), time.process_time()
    report = mark(folder / "in", problems=problems)
    files = report.write(folder / "marks")
    seconds, worked = time.perf_counter() - start, time.process_time() - worked
    peak_mb = make_class.peak_mb()
    missed = [what for what, dealt_with in tries if not dealt_with(report)]
    print(report.summary(), *files, sep="\n")
    print(f"{len(tries)} attempts, {len(missed)} not dealt with: {', '.join(missed) or 'none'}")
    print(
        f"{seconds:.1f} s, {worked:.1f} s of processor; at most {peak_mb:.0f} MB, "
        "making the class included"
    )
    return bool(missed)


if __name__ == "__main__":
    sys.exit(main())
