"""The command `steelthermo words`: everything the kit says as one file for a translator.

The file is gettext's (.po), which translators' editors open. English stays where it is used; a text
whose English changes comes back untranslated.
"""

import argparse
import ast
import csv
import json
import re
import tomllib
from pathlib import Path

from ..base import InputError, has_words, po_text, read_po, texts_of_module, why_not
from ..course import lesson_without_terms
from ..coursekit.problems import NO_WORDS
from .translate import paragraphs_of
from .working_copy import shipped

_PACKAGE = Path(__file__).resolve().parents[1]
# what a table or a text file says to a reader; the rest are keys, figures and sources
_COLUMNS = "label why help what visitor site topic words title others product".split()
# and in single tables
_MORE = {
    "deoxidation": ("asked",),
    "glossary": ("key",),
    "slag_partitions": ("key",),
    "specifications": ("edition",),
    "units": ("quantity",),
    "safety_figures": ("note",),
    "uncertainties": ("note",),
}


def all_texts():
    """{English text: [where it stands]} of the whole kit, in the order a learner meets it."""
    found = {}
    for places in (_of_notebooks, _of_files, _of_tables, _of_modules):
        for place, text in places():
            if text and has_words(text.replace("\\", "")):
                found.setdefault(text, []).append(place)
    return found


def _of_notebooks():
    for name, path in shipped().items():
        if name.endswith(".ipynb"):
            for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
                (source,), _ = lesson_without_terms(["".join(cell["source"])])
                if cell["cell_type"] == "markdown":
                    yield from ((name, part) for part in paragraphs_of(source) if part.strip())
                else:
                    yield from ((name, text) for _, text in texts_of_module(ast.parse(source)))


def _strings(tree, place):
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree):
        if isinstance(value, str):
            yield f"{place}.{key}", value
        elif isinstance(value, dict | list):
            yield from _strings(value, f"{place}.{key}")


def _of_files():
    for path in sorted((*_PACKAGE.glob("course*/**/*.toml"), *_PACKAGE.glob("data/trust/*.toml"))):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        for place, text in _strings(table, path.relative_to(_PACKAGE).as_posix()):
            if NO_WORDS.isdisjoint(place.split(".")[3:]):  # after file.toml.key
                yield place, text
    for path in sorted(_PACKAGE.glob("data/works/*.toml")):  # of what the invented works use
        for title in re.findall(r'^title = "(.*)"', path.read_text(encoding="utf-8"), re.MULTILINE):
            yield path.relative_to(_PACKAGE).as_posix(), title
    for path in sorted(_PACKAGE.glob("coursekit/assets/*.css")):
        for text in re.findall(r'content: "([^"]+)"', path.read_text(encoding="utf-8")):
            yield path.relative_to(_PACKAGE).as_posix(), text
    for path in sorted(_PACKAGE.glob("course/**/*.svg")):
        for text in re.findall(r"<text[^>]*>([^<]+)<", path.read_text(encoding="utf-8")):
            yield path.relative_to(_PACKAGE).as_posix(), text


def _of_tables():
    for path in sorted((*_PACKAGE.glob("course/**/*.csv"), *_PACKAGE.glob("data/**/*.csv"))):
        place = path.relative_to(_PACKAGE).as_posix()
        more = _MORE.get(path.stem, ("unit",) if place.startswith("course") else ())
        with open(path, encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                for column in (*_COLUMNS, *more):
                    yield place, row.get(column) or ""


def _of_modules():
    for path in sorted(_PACKAGE.rglob("*.py")):
        place = path.relative_to(_PACKAGE)
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for line, text in texts_of_module(tree):
            yield f"{place.as_posix()}:{line}", text


def _known(path):
    try:
        return read_po(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(f"words, {path}: no translator's file: {why_not(error)}.") from None


def main(argv=None):
    """Write the file. Raises InputError for a file that is there already or cannot be read."""
    parser = argparse.ArgumentParser(
        prog="steelthermo words",
        description=(
            "Writes all that the kit says into a file for a translator (.po). What an earlier file "
            "has is kept. Use it so: steelthermo --language FILE."
        ),
    )
    parser.add_argument("--out", type=Path, default=Path("steelthermo.po"), help="file to write")
    parser.add_argument("--known", type=Path, help="a file with translations to keep")
    options = parser.parse_args(argv)
    known, wrong = _known(options.known) if options.known else ({}, [])
    entries = all_texts()
    try:
        with open(options.out, "x", encoding="utf-8", newline="\n") as file:
            file.write(po_text(entries, known))
    except OSError as error:
        raise InputError(f"words, {options.out}: not written, {why_not(error)}.") from None
    print(*wrong, sep="\n", end="\n" if wrong else "")
    kept = len(entries.keys() & known.keys())
    print(f"Written: {options.out}, {len(entries)} texts, {kept} of them translated.")
    return 0
