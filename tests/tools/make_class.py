"""Make a class of answer sheets, as learners would have left them: python tests/tools/make_class.py
FOLDER [--learners 300] [--damaged 10] [--problems 80]

Each learner takes hints, makes known and unknown mistakes, asks for other sets, opens solutions,
leaves some problems out. Some of the sheets are then damaged, each in another way. --problems N
fills up the course's own problems to N.
--mark marks the class (made before, if the folder is there) and prints seconds and memory.
"""

import argparse
import random
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit import use
from steelthermo.coursekit.problems import Draw, check, draw, draw_many
from steelthermo.coursekit.sheet import SCHEMA, encode, fingerprint, seal_key, sheet_name

use(STEEL)
FIRST = (
    "Ada Bram Chioma Dario Emre Fatou Grażyna Hanna Ines Jörg Kofi Léa Mei Nour Olga Pablo "
    "Quyên Ravi Søren Thuy"
).split()
LAST = (
    "Achterberg Bello Çelik Dvořák Eze Fontaine García Hollmann Ivanova Jensen Kowalski Lind "
    "Mensah Nguyen Okafor"
).split()


def sample(count):
    """So many problems: those of the course, then the samples of the tests, then all of them again
    under other keys.
    """
    from sample_problems import PROBLEMS

    base = (*STEEL.problems, *PROBLEMS)
    return tuple(
        base[i]
        if i < len(base)
        else replace(base[i % len(base)], key=f"{base[i % len(base)].key}_{i:02d}")
        for i in range(count)
    )


def peak_mb():
    """The most memory this process had, in MB; NaN on Windows, where Python does not tell."""
    try:
        import resource
    except ImportError:
        return float("nan")
    per_mb = 2**20 if sys.platform == "darwin" else 2**10
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / per_mb


def learner_name(i):
    """The name of learner i; all are different."""
    return f"{FIRST[i % len(FIRST)]} {LAST[(i // len(FIRST)) % len(LAST)]}" + (
        f" {i}" if i >= len(FIRST) * len(LAST) else ""
    )


class Writer:
    """Builds the lines of a sheet with a clock of its own."""

    def __init__(self, learner, course, start_s):
        self.key, self.seal, self.n, self.clock, self.lines = (
            seal_key(learner, course),
            "",
            0,
            start_s,
            [],
        )
        self.add(
            "sheet", schema=SCHEMA, learner=learner, course=course, kit="0.1.0", data=fingerprint()
        )

    def add(self, kind, wait_s=0.0, **fields):
        self.n, self.clock = self.n + 1, self.clock + wait_s
        stamp = time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(self.clock))
        line, self.seal = encode(
            {"n": self.n, "t": stamp, "kind": kind, **fields, "prev": self.seal}, self.key
        )
        self.lines.append(line)


def typed(chance, one):
    """What somebody might type: right, rounded, a slip, a wrong unit, or anything."""
    if one.number is None:
        return str(
            one.choice
            if chance.random() < 0.6
            else 1 + chance.randrange(len(one.problem.choice.options))
        )
    unit = one.problem.number.unit
    what, number, line = chance.random(), one.number, one.choice
    if what > 0.6 and one.slips:
        line_of, number = chance.choice(list(one.slips.values()))
        line = line_of or line
    elif what > 0.5:
        number *= chance.uniform(0.2, 5.0)
    text = f"{number:.{chance.choice((3, 4, 5))}g}" + (
        "" if unit == "1" or chance.random() < 0.5 else f" {unit}"
    )
    text = text.replace(".", ",") if chance.random() < 0.3 else text
    return text if line is None else f"{line}; {text}"


def first_sets(course, problems, learners):
    """The first numbers of each learner by problem key and name: drawn for all at once, in a fifth
    of the time.
    """
    out = {}
    for problem in problems:
        many = draw_many(problem, [(name, course, 1) for name in learners])
        out |= {(problem.key, name): one for name, one in zip(learners, many, strict=True)}
    return out


def sheet(learner, course, problems, seed, drawn=None):
    """The bytes of one learner's sheet. drawn: from first_sets()."""
    chance = random.Random(seed)
    skill, left_out = chance.uniform(0.3, 0.95), chance.choice((0.0, 0.0, 0.1, 0.5))
    out = Writer(learner, course, 1_760_000_000 + chance.randrange(10**6))
    for problem in problems:
        if chance.random() < left_out:
            continue
        number = 1
        while number < 4:
            what = {"problem": problem.key, "set": number}
            one = drawn.get((problem.key, learner)) if drawn and number == 1 else None
            if not isinstance(one, Draw):
                one = draw(problem, learner, course, number)
            done = False
            for _ in range(chance.choice((1, 2, 3, 4))):
                text = one.answer_text() if chance.random() < skill * 0.6 else typed(chance, one)
                verdict = check(one, text)
                out.add(
                    "answer",
                    chance.uniform(20, 400),
                    **what,
                    text=text,
                    state=verdict.state,
                    slips=list(verdict.slips),
                    given=one.given,
                )
                done |= verdict.done
                if done:
                    break
                if chance.random() < 0.3:
                    out.add("hint", 10.0, **what, number=1)
            if done or chance.random() < 0.6:
                break
            out.add("worked", 60.0, **what)
            number += 1
            out.add("set", 5.0, problem=problem.key, set=number)
    return b"".join(out.lines)


def damage(data, kind, chance):
    """A sheet damaged in one of ten ways; kinds 0 to 4 leave nothing to mark."""
    lines = data.split(b"\n")
    middle = len(lines) // 2
    return (
        lambda: b"",
        lambda: b"\x00" * len(data),
        lambda: b"<html>not logged in</html>",
        lambda: bytes(chance.randrange(256) for _ in range(2000)),
        lambda: b"\n".join(lines[1:]),  # without its header
        lambda: data[: len(data) - 40],  # torn
        lambda: b"\n".join([*lines[:middle], b"@@@" + lines[middle][3:], *lines[middle + 1 :]]),
        lambda: data.replace(b'"text":"', b'"text":"9', 3),
        lambda: b"\n".join([lines[0], *lines[2:]]),  # a line taken out
        lambda: data + b"[" * 100_000 + b"\n",
    )[kind % 10]()


def make(folder, problems, learners=300, damaged=10, course="self-study", seed=1):
    """Write a class of sheets; returns the names of the damaged ones."""
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    chance, spoilt = random.Random(seed), []
    names = [learner_name(i) for i in range(learners)]
    drawn = first_sets(course, problems, names)
    for i, name in enumerate(names):
        data = sheet(name, course, problems, seed * 10_000 + i, drawn)
        path = folder / sheet_name(name, course)
        if damaged and i % max(1, learners // damaged) == 0 and len(spoilt) < damaged:
            data = damage(data, len(spoilt), chance)
            spoilt.append(path.name)
        path.write_bytes(data)
    return spoilt


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--learners", type=int, default=300)
    parser.add_argument("--damaged", type=int, default=10)
    parser.add_argument("--course", default="self-study")
    parser.add_argument("--problems", type=int, default=0, metavar="N")
    parser.add_argument("--mark", action="store_true")
    options = parser.parse_args()
    problems = sample(options.problems) if options.problems else STEEL.problems
    if not options.mark or not options.folder.exists():
        o = options
        print("damaged:", ", ".join(make(o.folder, problems, o.learners, o.damaged, o.course)))
    if options.mark:
        from steelthermo.coursekit.marking import mark

        start, busy = time.perf_counter(), time.process_time()
        report = mark(options.folder, problems=problems, progress=print)
        files = report.write(options.folder / "marks")
        seconds, busy = time.perf_counter() - start, time.process_time() - busy
        print(report.summary(), *files, sep="\n")
        print(f"{seconds:.1f} s ({busy:.1f} s of one processor), at most {peak_mb():.0f} MB")
