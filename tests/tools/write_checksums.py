"""Write tests/data_checksums.csv: what every data file of the kit holds, so that a changed digit is
noticed.

Of a table: number of rows; of each column that holds numbers, how many and their sum; of each
column, a hash of its text. Of any other text file: number of lines and a hash. Run it after a
change that is meant, look at what moved (git diff tests/data_checksums.csv), and say in the commit
why.

Run: python tests/tools/write_checksums.py [--check]
"""

import argparse
import csv
import hashlib
import io
import sys
from math import fsum
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "steelthermo" / "data"
TARGET = ROOT / "tests" / "data_checksums.csv"
HEAD = ["file", "column", "rows", "numbers", "sum", "hash"]


def _hash(text):
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:12]


def _number(cell):
    try:
        return float(cell)
    except ValueError:
        return None


def of_file(path):
    """Lines of checksums of one data file, as lists of text."""
    text = path.read_text(encoding="utf-8")  # line ends of any kind become \n
    if path.suffix != ".csv":
        return [[path.name, "text", str(len(text.splitlines())), "0", "none", _hash(text)]]
    head, *body = csv.reader(io.StringIO(text))
    out = []
    for k, column in enumerate(head):
        cells = [row[k] for row in body]
        numbers = [x for x in map(_number, cells) if x is not None]
        out.append(
            [
                path.name,
                column,
                str(len(body)),
                str(len(numbers)),
                repr(fsum(numbers)) if numbers else "none",
                _hash("\n".join(cells)),
            ]
        )
    return out


def of_all():
    """Lines of checksums of every data file, the head first."""
    lines = [HEAD]
    for path in sorted(p for p in DATA.iterdir() if p.suffix in (".csv", ".toml", ".yaml")):
        lines += of_file(path)
    return lines


def changed():
    """(file, column) of everything that differs from tests/data_checksums.csv."""
    with TARGET.open(encoding="utf-8", newline="") as file:
        known = {(f, c): rest for f, c, *rest in csv.reader(file)}
    found = {(f, c): rest for f, c, *rest in of_all()}
    return sorted(key for key in known.keys() | found.keys() if known.get(key) != found.get(key))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare instead of writing")
    if parser.parse_args().check:
        different = changed()
        sys.exit("changed: " + ", ".join(f"{f} {c}" for f, c in different) if different else 0)
    with TARGET.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(of_all())


if __name__ == "__main__":
    main()
