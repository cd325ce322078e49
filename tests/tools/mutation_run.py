"""Would the tests notice? Each figure that moves a main result beyond what it is uncertain by, and
each sum of each equation of the physics, is made wrong, one at a time. A published check or a test
of laws.csv must notice it; golden figures and sums of our own do not count.

A figure is shifted to the ends of its band where it has one (twice its sigma), else by the larger
of 3 % and twice its sigma. Of an equation one term is dropped, or one sign turned; a mutant that
gives what the function gives, for some sixty calls that the tests made of it, passes for the same
function and does not count. Rare arguments may still tell it apart.

Run: python tests/tools/mutation_run.py [rows] [equations] [name of a room or function ...], some
twenty minutes; prints who noticed what. --write: writes survivors.csv; --sample: one equation in
eight, drawn by its name.
"""

import csv
import random
import sys
import zlib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "tools")]

from given import given
from mutants import functions, mutants
from noticed import ON_FIGURES, Witnesses, above, laws, with_tests
from same_function import SAME, Usual
from shifted import figures, shifted
from what_moves import Results

from steelthermo import trust
from steelthermo.base import registry, rows
from steelthermo.trust import main_results

PART = 0.03
SAMPLE = 0.125  # share of the equations in the long suite
SOLVED = 1e-6  # to which roots are sought
SURVIVORS = ROOT / "tests" / "tools" / "survivors.csv"
HEAD = "kind what change moves noticed".split()


# ---- what a mutant moves -------------------------------------------------------------------------


class Moved:
    """The main results as they are, and what moves them."""

    def __init__(self):
        self.results = Results()
        self.base = self.results.all()

    def told(self):
        """The largest move just now over what the result is uncertain by, in words."""
        now = self.results.all()
        size = {
            key: abs(now[key] - self.base[key]) / main_results()[key][2]
            if now[key] == now[key]
            else float("inf")
            for key in main_results()
        }
        key = max(size, key=size.get)
        return f"{size[key]:.2g} x {key}" if size[key] > 1e-9 else "no main result"


# ---- figures -------------------------------------------------------------------------------------


def matter():
    """(table, row as it names itself, result, size) of the figures that move a main result, shifted
    as here, beyond what it is uncertain by; size: the change over that; the largest first.
    """
    largest = {}
    for key in main_results():
        for move in trust.rests_on(key).moves:
            by_part = PART / 0.1 if move.by.endswith("%") else 1.0
            size = by_part * move.size
            place = (move.table, move.row)
            if size > largest.get(place, ("", 0.0))[1]:
                largest[place] = (key, size)
    found = [(*place, key, size) for place, (key, size) in largest.items() if size > 1.0]
    return sorted(found, key=lambda row: -row[-1])


def _row(table, name):
    key = registry()[table]["key"].split()
    for number, row in enumerate(rows(table)):
        if " ".join(str(row[c]) for c in key if row[c] not in (None, "none")) == name:
            return number, row
    raise LookupError(f"{table}: no row {name!r}")


def shifts(table, name):
    """[(how, change)] of a row to try: to the ends of its band, or by PART to either side."""
    number, row = _row(table, name)
    columns = figures(row)
    if columns == ("start",):
        ends = [row[end] for end in ("low", "high") if isinstance(row.get(end), float)]
        return [(f"{end:g}", {number: {"start": end}}) for end in ends]
    part = {c: PART for c in columns}
    if isinstance(row.get("sigma_kj_mol"), float):
        part["kj_mol"] = max(PART, 2.0 * row["sigma_kj_mol"] / abs(row["kj_mol"]))
    return [
        (f"{sign}{PART:.0%}", {number: {c: row[c] * (1.0 + way * part[c]) for c in columns}})
        for sign, way in (("-", -1.0), ("+", 1.0))
    ]


def figures_tried(witnesses, moved):
    """(row of SURVIVORS, whether what noticed counts) of every figure that matters."""
    for table, name, _key, _size in matter():
        for how, change in shifts(table, name):
            with shifted(table, change):
                by, counts = witnesses.who(witnesses.readers(table))
                told = moved.told()
            yield ("figure", f"{table} {name}", how, told, by or "nothing"), counts


# ---- equations -----------------------------------------------------------------------------------


def equations_tried(witnesses, moved, wanted, share):
    """The same of every mutant, or of a share of them."""
    for function in wanted:
        usual = Usual(function)
        for change, code, alarm in mutants(function):
            if zlib.crc32(f"{function.name} {change}".encode()) > share * 2**32:
                continue
            with function.as_code(code):
                apart = usual.apart()
            same, asked = False, witnesses.reached[function.name]
            if apart <= SAME:
                with function.as_code(alarm):
                    same = usual.apart() > SAME  # the change was come by, and changes nothing
                asked = witnesses.quick(asked) if same else asked
            with function.as_code(code):
                by, counts = witnesses.who(asked)
                clear = counts or (same and not by)
                told = "" if clear else f"{moved.told()}, own by {apart:.1g}"
            if same and not by:
                by, told = "the same function", "nothing"
            elif not by and 0.0 < apart <= SOLVED:
                by = "the same root"  # a step on the way to it
            yield ("equation", function.name, change, told, by or "nothing"), counts


# ---- all of it -----------------------------------------------------------------------------------


def rows_tried():
    """[(line of SURVIVORS, whether what noticed counts)] of every figure that matters."""

    def job(items):
        moved = Moved()
        return list(_told(figures_tried(Witnesses(items, []), moved)))

    return with_tests([test for test, ground in laws().items() if ground in ON_FIGURES], job)


def equations_made_wrong(wanted, share=1.0):
    """The same of every mutant of some functions, or of a share of them."""

    def job(items):
        random.seed(20)
        moved, witnesses = Moved(), Witnesses(items, wanted)
        if witnesses.broken:
            print("fail as they are:", *witnesses.broken, file=sys.stderr)
        return list(_told(equations_tried(witnesses, moved, wanted, share)))

    return with_tests(above({f.name.split(".")[0] for f in wanted}), job)


def _told(lines):
    out = csv.writer(sys.__stdout__, lineterminator="\n", delimiter="|")
    for line, counts in lines:
        out.writerow([*line, "" if counts else "NOT"])
        sys.__stdout__.flush()
        yield line, counts


def survivors():
    """Lines of SURVIVORS as dicts."""
    with SURVIVORS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write(kind, found):
    """Write the lines of what was tried anew, of one kind; found: as tried. A sum that stands twice
    in a function is one line.
    """
    tried = {line[1] for line, _ in found}
    kept = [list(s.values()) for s in survivors() if s["kind"] != kind or s["what"] not in tried]
    missed = {tuple(line[:3]): line for line, counts in found if not counts}
    with SURVIVORS.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(HEAD)
        out.writerows(
            sorted([*kept, *missed.values()], key=lambda line: (line[0] == "equation", line[1]))
        )


def main(options):
    parts = set(options.names) & {"rows", "equations"}
    names = [name for name in options.names if name not in parts]
    wanted = [f for f in functions() if not names or f.name.startswith(tuple(names))]
    if parts != {"equations"}:
        found = rows_tried()
        if options.write:
            write("figure", found)
    if parts != {"rows"}:
        found = equations_made_wrong(wanted, SAMPLE if options.sample else 1.0)
        if options.write and not options.sample:
            write("equation", found)


if __name__ == "__main__":
    main(given(__doc__, "names...", "--write", "--sample"))
