"""Write tests/data_checksums.csv: what every data file of the kit holds, so that a changed digit is
noticed.

One line for each file: its folder and name, number of lines and a hash of its text. Run it after a
change that is meant, and say in the commit what moved (git diff) and why.

Run: python tests/tools/write_checksums.py [--check]
"""

import argparse
import csv
import hashlib
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "steelthermo" / "data"
TARGET = ROOT / "tests" / "data_checksums.csv"
HEAD = ["file", "lines", "hash"]


def of_file(path):
    """Number of lines and hash of one data file, as texts."""
    text = path.read_text(encoding="utf-8")  # line ends of any kind become \n
    return [str(len(text.splitlines())), hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]]


def of_all():
    """Lines of checksums of every data file, the head first."""
    files = sorted(p for s in ("csv", "toml", "yaml") for p in DATA.rglob(f"*.{s}"))
    return [HEAD, *([p.relative_to(DATA).as_posix(), *of_file(p)] for p in files)]


def changed():
    """Names of the files that differ from tests/data_checksums.csv."""
    with TARGET.open(encoding="utf-8", newline="") as file:
        known, found = set(map(tuple, csv.reader(file))), set(map(tuple, of_all()))
    return sorted({name for name, *_ in known ^ found})


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare instead of writing")
    if parser.parse_args().check:
        different = changed()
        sys.exit("changed: " + ", ".join(different) if different else 0)
    with TARGET.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(of_all())


if __name__ == "__main__":
    main()
