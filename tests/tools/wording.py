"""What a learner reads, measured: long sentences, words that are not the kit's, numbers that may
break.

    python tests/tools/wording.py            tells every place
    python tests/tools/wording.py --table    words and longest sentence of each lesson
    python tests/tools/wording.py --bind     writes hard blanks into the numbers of the notebooks

Read: the Markdown of lessons and exercises, the words of problems and of the heat sheet, the tables
of controls, hazards and the visit card, the sentences of the engine, and the strings of the
course's modules. Code and lists of sources are left out.
"""

import ast
import csv
import json
import re
import sys
import tomllib
from pathlib import Path

import nbformat

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from given import given

from steelthermo.course.terms import with_terms, without_terms
from steelthermo.coursekit.answers import bound

COURSE = ROOT / "steelthermo" / "course"
LONGEST = 30  # words a sentence

# What is not written, and what is written instead. One term for one thing, the trade's first.
FORBIDDEN = {
    r"(?<!the )\bsums?\b(?! of\b)(?! up\b)": "calculation",
    r"\brecalled\b": "not verified",
    r"could (not )?be read|was read|were read|as read\b": "say what is published, not who read it",
    r"\bdents?\b": "cavity",
    r"\bdearer\b": "costs more",
    r"\buninvited\b": "say what comes",
    r"\bhangs? (on|together)\b": "depends on; belong together",
    r"\bquarrels?\b": "open question",
    r"\b(fallen )?mates?\b": "colleague",
    r"\btinder\b|\btorch\b": "burn violently",
    r"\btrims?\b|\btrimm\w+": "calibrate",
    r"\balong with it\b|\b(run|runs|answer) along\b": "carry-over; warm up too",
    r"\blet over\b": "carry-over",
    r"hand's breadth": "a length in mm",
    r"\bthe shop\b|\ba shop\b": "the works",
    r"\bhand-?overs?\b|\bdown the line\b": "between two stages",
    r"\b(go|read) straight\b": "interpolate linearly",
    r"\bbillionth": "1e-9",
    r"\bevery other\b": "the remaining",
    r"\bleast usual\b": "lowest usual",
    r"\bslip of the pen\b": "misprint",
    r"\bover-blow\w*\b": "overblown",
    r"\bmade good\b": "replaced",
    r"\bdearly\b|\breckoning\b": "say it plainly",
    r"\b(can|is|does|do|did|has|was|are|would|could|should|wo)n't\b|\bit's\b": "cannot, is not",
    r"\bshall\b": "is to, must",
    r"\bnobody can defend\b": "say who doubts it",
    r"\bheat (gets|ends) (hot|cold|colder|hotter)\b": "the steel ends hot",
    # told wrongly once
    r"only place to get rid of": "phosphorus can be taken out of hot metal too (lesson 09)",
    r"never above it": "nitrogen of the charge can leave steel above the ceiling",
    r"read in (their|its) papers?": "published in abstracts",
    r"\b[\w-]+\.(com|ru|org)\b": "a mistake blames no named author or host",
    r"clothing already burns|\b165 t\b|\bfined\b": "the table of hazards has the facts",
}
ASIDE = re.compile(r"(```.*?```|`[^`]*`|\$[^$]*\$|^ {4}.*$)", re.DOTALL | re.MULTILINE)


def _prose(text):
    """Markdown without code, tables, formulas and marks."""
    text = re.sub(r"```.*?```|<details>|</?summary>", " ", text, flags=re.DOTALL)
    text = re.sub(r"^( {4}|\|).*$", "", text, flags=re.MULTILINE)
    text = re.sub(r"\$[^$]*\$|`[^`]*`|\{[^}]*\}", "X", text)
    return re.sub(r"[*_>#]", "", text)


def sentences(text):
    """The sentences of a Markdown text."""
    out = []
    for part in re.split(r"\n\s*\n|\n\s*(?:[-*]|\d+\.) ", _prose(text)):
        part = " ".join(part.split())
        out += re.split(r"(?<=[.!?])[)*\"]* (?=[A-Z0-9(\"])|(?<=:) (?=[A-Z])", part)
    return [s for s in out if s]


def words(sentence):
    """Words with a letter in them."""
    return [w for w in sentence.split() if re.search(r"[A-Za-z]", w)]


def notebooks():
    """(place, text) of each Markdown cell that learners read, lists of sources left out."""
    for folder in ("lessons", "exercises"):
        for path in sorted((ROOT / folder).glob("*.ipynb")):
            for k, cell in enumerate(json.loads(path.read_text(encoding="utf-8"))["cells"]):
                if cell["cell_type"] == "markdown":
                    text = without_terms("".join(cell["source"])).split("## Sources")[0]
                    yield f"{folder}/{path.name}:{k}", text


def _strings(tree, place):
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree):
        if isinstance(value, str):
            yield f"{place}.{key}", value
        elif isinstance(value, dict | list):
            yield from _strings(value, f"{place}.{key}")


def texts():
    """(place, text) of everything a learner reads but the strings of modules."""
    yield from notebooks()
    for path in sorted(COURSE.glob("l*/*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        for place, text in _strings(table, path.parent.name):
            if not re.search(r"\.(unit|cautions|follows|kind|lesson)\b", place):
                yield place, text
    engine = ROOT / "steelthermo" / "coursekit" / "answers" / "words.toml"
    yield from _strings(tomllib.loads(engine.read_text(encoding="utf-8")), "words")
    for path in [
        *sorted(COURSE.glob("l*/*.csv")),
        *sorted((ROOT / "steelthermo/data/trust").glob("[sv]*.csv")),
    ]:
        with open(path, encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                for column in ("label", "why", "help", "visitor", "site", "what", "topic", "words"):
                    yield f"{path.parent.name}/{path.stem}.{row.get('name')}", row.get(column) or ""


def strings_of_modules():
    """(place, text) of the strings with a blank in the course's modules, docstrings left out."""
    for path in sorted(COURSE.glob("l*/*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        documents = {
            id(node.body[0].value)
            for node in ast.walk(tree)
            if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef)
            and node.body
            and isinstance(node.body[0], ast.Expr)
        }
        documents |= {
            id(k) for node in ast.walk(tree) if isinstance(node, ast.Dict) for k in node.keys
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                if id(node) not in documents and " " in node.value:
                    yield f"{path.parent.name}/{path.name}:{node.lineno}", node.value


def long_sentences():
    """Sentences of more than LONGEST words: (place, number of words, sentence)."""
    return [
        (place, len(words(s)), s)
        for place, text in texts()
        for s in sentences(text)
        if len(words(s)) > LONGEST
    ]


def forbidden():
    """(place, what is written, what to write) of every word that is not the kit's."""
    found = []
    for place, text in (*texts(), *strings_of_modules()):
        for pattern, instead in FORBIDDEN.items():
            for match in re.finditer(pattern, text, re.IGNORECASE):
                near = " ".join(text[max(0, match.start() - 40) : match.end() + 30].split())
                found.append((place, f"{match[0]!r} in '{near}'", instead))
    return found


def bound_markdown(text):
    """Markdown whose numbers do not break, code and formulas as they are."""
    parts = ASIDE.split(text)
    return "".join(part if k % 2 else bound(part) for k, part in enumerate(parts))


def breaking():
    """(place, text) of numbers that may break across lines in a notebook."""
    return [
        (place, line)
        for place, text in notebooks()
        for line, right in zip(text.splitlines(), bound_markdown(text).splitlines(), strict=True)
        if line != right
    ]


def bind():
    """Write the notebooks with numbers that do not break."""
    for folder in ("lessons", "exercises"):
        lessons = folder == "lessons"
        for path in sorted((ROOT / folder).glob("*.ipynb")):
            notebook = nbformat.read(path, as_version=4)
            told = [cell for cell in notebook.cells if cell.cell_type == "markdown"]
            said = [bound_markdown(without_terms(cell.source)) for cell in told]
            for cell, text in zip(told, with_terms(said) if lessons else said, strict=True):
                cell.source = text
            path.write_text(nbformat.writes(notebook) + "\n", encoding="utf-8", newline="\n")


def main():
    options = given(__doc__, "--bind", "--table")
    if options.bind:
        bind()
        return
    if options.table:
        lengths = {}
        for place, text in notebooks():
            found = lengths.setdefault(place.split(":")[0], [])
            found += [len(words(s)) for s in sentences(text)]
        for name, n in lengths.items():
            print(f"{name:45} {sum(n):5} words {len(n):4} sentences, longest {max(n)}")
        return
    for kind in (long_sentences, forbidden, breaking):
        found = kind()
        print(f"== {kind.__name__}: {len(found)}")
        for row in found:
            print("  ", *row)


if __name__ == "__main__":
    main()
