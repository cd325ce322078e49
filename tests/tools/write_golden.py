"""Golden figures: what the kit computes, written down in tests/golden/*.csv, so that what moves is
seen line by line. Compared by tests/test_golden.py.

    python tests/tools/write_golden.py [FILE ...] [--draw]      write all files, or those named

FILE: problems, panels, heats (sheets of lesson 15), notebooks (as saved), marks, charges, blows,
ladles. What is in them: golden_figures.py.

The figures are what the kit gave, no truth: whether they are right is the matter of the other
tests. After a change that is meant, write them anew, look at what moved (git diff --word-diff
tests/golden), and say why in the commit.

A line holds what it is of, for panels, charges, blows and ladles what was given, and the results;
the last two as JSON, numbers with all their digits. Each line stands for itself: what is given was
drawn once, from a seed made of the line's own name, and is read from the file from then on, so that
a changed range of a slider moves no other line (--draw draws anew). What the kit refused was drawn
again.
"""

import argparse
import csv
import json
import os
import sys
import warnings
import zlib
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).resolve().parent)]

from golden_figures import BEHIND, FILES

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.works import find_profile as find

FOLDER = ROOT / "tests" / "golden"
SEED = 14
TRIES = 60  # drawings of what is given, before the kit's refusal itself is written down
REL = 1e-12
LEAST = 0.0  # of numbers behind: differences are no more exact than what they are of


def results(name, item, given):
    """The results of one line as they are read back from JSON. Remarks of extrapolation are
    results; what the kit refuses is told as 'refused'.
    """
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        try:
            found = FILES[name].results(item, given)
        except InputError:
            found = {"refused": True}
    remarks = list(
        dict.fromkeys(
            str(w.message) for w in caught if issubclass(w.category, ExtrapolationWarning)
        )
    )
    return json.loads(
        json.dumps(
            found | ({"remarks": remarks} if remarks else {}), ensure_ascii=False, default=_number
        )
    )


def _number(value):
    """A number or array of NumPy as JSON knows it."""
    return value.tolist()


def read(name):
    """{item: (line of the file, given or None, results)} of a golden file."""
    path, columns = FOLDER / f"{name}.csv", len(FILES[name].columns)
    with path.open(encoding="utf-8", newline="") as file:
        rows = csv.reader(file)
        next(rows)
        lines = ((rows.line_num, row) for row in rows)
        return {
            tuple(row[:columns]): (
                n,
                json.loads(row[columns]) if FILES[name].given else None,
                json.loads(row[-1]),
            )
            for n, row in lines
        }


def _drawn(name, item):
    """What is given for an item, and its results: drawn until the kit takes it."""
    chance = np.random.default_rng([SEED, zlib.crc32("; ".join((name, *item)).encode())])
    for _ in range(TRIES):
        given = json.loads(json.dumps(FILES[name].given(item, chance)))
        found = results(name, item, given)
        if "refused" not in found:
            break
    return given, found


def write(name, anew=False):
    """Write one golden file; returns the number of its lines. A line whose results are the same, as
    differences() sees it, stays as it is: only what moved is seen. anew: draw what is given, also
    where the file has it.
    """
    one, known = FILES[name], {} if anew or not (FOLDER / f"{name}.csv").exists() else read(name)
    compact = {"ensure_ascii": False, "separators": (",", ":")}
    lines = []
    for item in one.items():
        if one.given is None:
            cells = [results(name, item, None)]
        elif item in known:
            cells = [known[item][1], results(name, item, known[item][1])]
        else:
            cells = _drawn(name, item)
        if item in known and not unlike(known[item][2], cells[-1]):
            cells[-1] = known[item][2]
        lines.append([*item, *(json.dumps(cell, **compact) for cell in cells)])
    with (FOLDER / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
        head = [*one.columns, *(["given"] if one.given else []), "results"]
        csv.writer(file, lineterminator="\n").writerows([head, *lines])
    return len(lines)


def differences(name):
    """Where the kit's results differ from a golden file, as sentences that name file, line, what it
    is of, and key. Empty if all are the same.
    """
    one, known, out = FILES[name], read(name), []
    items = one.items()
    for item in items:
        place = f"{name}.csv: {'; '.join(item)}"
        if item not in known:
            out.append(f"{place}: not in the file")
            continue
        line, given, before = known[item]
        place = f"{name}.csv, line {line} ({'; '.join(item)})"
        out += [f"{place}: {told}" for told in unlike(before, results(name, item, given))]
    return out + [
        f"{name}.csv, line {known[item][0]} ({'; '.join(item)}): the kit has it no longer"
        for item in known.keys() - set(items)
    ]


def unlike(before, now, key="", scale=0.0):
    """Sentences on what differs between two results read from JSON. Numbers are the same to 1e-12
    of themselves, with room for the rounding of sums:
    1e-15 of the largest number that stands beside them. Texts are the same exactly."""
    if isinstance(before, dict) and isinstance(now, dict):
        keys, pairs = [*before, *(k for k in now if k not in before)], (before, now)
    elif isinstance(before, list) and isinstance(now, list):
        keys = range(max(len(before), len(now)))
        pairs = tuple(dict(enumerate(x)) for x in (before, now))
    elif _is_number(before) and _is_number(now):
        same = (
            abs(before - now) <= REL * max(abs(before), abs(now)) + 1e-15 * scale
        )  # NaN is never the same
        return [] if same else [f"{key}: {before!r} before, {now!r} now"]
    else:
        return (
            []
            if type(before) is type(now) and before == now
            else [f"{key}: {before!r} before, {now!r} now"]
        )
    scale = max((abs(x) for x in pairs[0].values() if _is_number(x)), default=0.0)
    out = []
    for k in keys:
        if k == BEHIND and k in pairs[0]:
            gone = _missing(before[k], now.get(k, []))
            out += [
                f"{k}: {x!r} is there no longer, nearest is {near!r}" for x, near in gone[:1]
            ] + ([f"{k}: {len(gone)} gone"] if gone else [])
        elif k in pairs[0] and k in pairs[1]:
            out += unlike(pairs[0][k], pairs[1][k], _within(key, k), scale)
        else:
            out.append(f"{_within(key, k)}: {'gone' if k in pairs[0] else 'new'}")
    return out


def _missing(before, now):
    """[(number, nearest now or None)] of the numbers that have none like them now."""
    there = np.array(now or [np.nan])
    nearest = [(x, float(there[np.argmin(np.abs(there - x))])) for x in before]
    return [
        (x, near)
        for x, near in nearest
        if not abs(x - near) <= max(REL * max(abs(x), abs(near)), LEAST)
    ]


def _within(key, k):
    return f"{key}, {k}" if key else str(k)


def _is_number(x):
    return isinstance(x, int | float) and not isinstance(x, bool)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "file",
        nargs="*",
        choices=[[], *FILES],
        metavar="FILE",
        help=f"one of {', '.join(FILES)} (default: all)",
    )
    parser.add_argument(
        "--draw",
        action="store_true",
        help="draw anew what is given to panels, charges, blows and ladles",
    )
    options = parser.parse_args()
    os.environ.pop("STEELTHERMO_PROFILE", None)
    if found := find():
        sys.exit(f"{found} is in use here; golden figures are those of the works that ship.")
    for name in options.file or FILES:
        print(f"{name}: {write(name, options.draw)} lines", flush=True)


if __name__ == "__main__":
    main()
