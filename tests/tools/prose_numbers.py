"""Numbers that stand in running text and nowhere else: in docstrings of the physics, outside their
examples, and in the words of lessons.

A number above 10 is accounted for where the module or the notebook computes with it or prints it,
where a table of data holds it (in kelvin or degrees Celsius), where the text itself has the sum of
which it is the result, or where tests/prose_numbers.csv names the test that holds it; one that was
given, as in a question, or belongs to a title, is listed there too. Run:
python tests/tools/prose_numbers.py, prints all others.
"""

import ast
import csv
import json
import re
from functools import cache
from pathlib import Path

from given import given

ROOT = Path(__file__).resolve().parents[2]
KIT = ROOT / "steelthermo"
ROOMS = (
    "base thermo works streams slag jet charge blow hot_metal end_point ladle trust heats".split()
)
KNOWN = ROOT / "tests" / "prose_numbers.csv"
RESULTS = ("published_checks", "rests_on", "what_moves")  # tables that hold no figure to use
LEAST = 10.0  # smaller numbers are counts and shares that any text has
_EXAMPLE = re.compile(r"^\s*>>>.*?(?=\n\s*\n|\Z)", re.DOTALL | re.MULTILINE)
_SECTION = re.compile(
    r"\n\s*(?:Parameters|Examples)\n\s*-+\n.*?(?=\n\s*[A-Z]\w+\n\s*-{3,}|\Z)", re.DOTALL
)
_WRITTEN = re.compile(r"(?<![\w.^])(\d+(?:\.\d+)?)(?![\w^]|\.\d)")
_GROUPS = re.compile(r"(?<=\d)[ \u202f\u00a0](?=\d{3}(?!\d))")
_SUM = re.compile(r"([\d.()][\d.()×/+−* -]*[\d)]) = \**(\d[\d.]*)")


def numbers_of(text):
    """Numbers of a text as they are written, without sign; 28 561 is one."""
    return _WRITTEN.findall(_GROUPS.sub("", text))


def held(written, values):
    """Whether one of the values is printed as written."""
    digits = len(written.partition(".")[2])
    return f"{float(written):.{digits}f}" in printed(values, digits)


@cache
def printed(values, digits):
    """Values as they are printed with so many digits."""
    return frozenset(f"{v:.{digits}f}" for v in values)


def sums_of(text):
    """(sum, its value, result as written) of the sums that a line of text works out."""
    for done, written in _SUM.findall(text.replace("\u00a0", " ").replace("\u202f", "")):
        done = done.lstrip("( ") if done.count("(") > done.count(")") else done.lstrip(") ")
        try:
            value = eval(done.replace("×", "*").replace("−", "-"), {"__builtins__": {}})
        except (SyntaxError, ZeroDivisionError, TypeError):
            continue
        if re.search(r"[×/+−*]", done):
            yield done, value, written.rstrip(".")


def _both(values):
    """Values, and those that may be kelvin in degrees Celsius."""
    return frozenset(values | {v - 273.15 for v in values if 500.0 < v < 3500.0})


@cache
def of_data():
    """Every number of the tables and profiles."""
    out = set()
    for path in (KIT / "data").rglob("*.*"):
        if "invented" in path.name or path.stem in RESULTS:
            continue
        text = path.read_text(encoding="utf-8")
        out |= {abs(float(n)) for n in re.findall(r"(?<![\w.])[-+]?\d+\.?\d*(?:e[-+]?\d+)?", text)}
    return _both(out)


def of_code(nodes):
    """Numbers that code computes with."""
    return _both(
        {
            abs(float(node.value))
            for node in nodes
            if isinstance(node, ast.Constant) and type(node.value) in (int, float)
        }
    )


def _missing(text, own):
    worked_out = {written for _, _, written in sums_of(text)}
    for n in numbers_of(text):
        if float(n) > LEAST and n not in worked_out:
            if not held(n, own) and not held(n, of_data()):
                yield n


def of_docstrings():
    """(place, number, line) of docstrings, nothing in the module or the data accounts for it."""
    for room in ROOMS:
        for path in sorted((KIT / room).rglob("*.py")):
            nodes = list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
            own = of_code(nodes)
            for node in nodes:
                if not isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef):
                    continue
                said = ast.get_docstring(node)
                place = f"{path.relative_to(KIT).as_posix()}:{getattr(node, 'name', 'head')}"
                for line in _SECTION.sub("", _EXAMPLE.sub("", said or "")).splitlines():
                    for n in _missing(line, own):
                        yield place, n, line.strip()


def words_of(path):
    """Lines of the markdown cells of a notebook, without the targets of links."""
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "markdown":
            for line in "".join(cell["source"]).splitlines():
                yield re.sub(r"\]\([^)]*\)", "]", line)


def lessons():
    """Paths of the lessons."""
    return sorted((ROOT / "lessons").glob("*.ipynb"))


def of_lessons():
    """The same of the words of lessons, to which their own code and what it prints count."""
    for path in lessons():
        own = set()
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                texts = ["".join(cell["source"])]
                for out in cell["outputs"]:
                    texts.append("".join(out.get("text", "")))
                    texts.append("".join(out.get("data", {}).get("text/plain", "")))
                own |= {float(n) for text in texts for n in numbers_of(text)}
        own = frozenset(own)
        for line in words_of(path):
            for n in _missing(line, own):
                yield path.name, n, line.strip()


def known():
    """{(place, number): what holds it} of tests/prose_numbers.csv."""
    with KNOWN.open(encoding="utf-8", newline="") as file:
        return {(r["place"], r["number"]): r["held_by"] for r in csv.DictReader(file)}


def unaccounted():
    """(place, number, line) of what stands in running text alone."""
    return [*of_docstrings(), *of_lessons()]


if __name__ == "__main__":
    given(__doc__)
    listed = known()
    for found in unaccounted():
        if found[:2] not in listed:
            print(" | ".join(found))
