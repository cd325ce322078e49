"""Measures the house: its rooms, who imports whom, how much program there is, what has grown large.

    python tests/tools/house.py            this tree
    python tests/tools/house.py FOLDER     the package in FOLDER, for instance of another commit

All is read from the source; nothing of the package is imported. tests/test_rules.py holds the rules
to what is read here.
"""

import ast
import io
import tokenize
from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from given import given

PACKAGE = Path(__file__).resolve().parents[2] / "steelthermo"

# From top to bottom: a room imports only from floors below its own. `front` is __init__.py of the
# package, which names the rooms; `__main__` is the command.
FLOORS = (
    ("__main__",),
    ("app",),
    ("front",),
    ("course",),
    ("coursekit",),
    ("heats",),
    ("trust",),
    ("ladle",),
    ("end_point",),
    ("blow", "hot_metal"),
    ("charge",),
    ("jet", "slag"),
    ("streams",),
    ("works", "thermo"),
    ("base",),
)
FLOOR = {room: len(FLOORS) - n for n, rooms in enumerate(FLOORS) for room in rooms}
MOST_ROOMS, MOST_ARROWS, MOST_TOKENS = 21, 85, 205_000
MOST_LINES, MOST_COLUMNS, MOST_PARAMETERS = 400, 100, 8

_NO_PROGRAM = {"COMMENT", "ENCODING", "ENDMARKER", "NEWLINE", "INDENT", "DEDENT", "NL"}


@dataclass(frozen=True)
class Import:
    """One import in the source: by module `by` in line `line`, of module `of` of the package."""

    by: str
    line: int
    of: str


class Module:
    """One source file. name: as `thermo.activity`; a folder's own file bears the folder's name, the
    package's own is "".
    """

    def __init__(self, path, package):
        self.path, self.text = path, path.read_text(encoding="utf-8")
        parts = path.relative_to(package).with_suffix("").parts
        self.is_folder = parts[-1] == "__init__"
        self.name = ".".join(parts[:-1] if self.is_folder else parts)
        self.folder = self.name if self.is_folder else self.name.rpartition(".")[0]
        self.tree = ast.parse(self.text)

    @property
    def room(self):
        return self.name.split(".")[0] or "front"

    @cached_property
    def binds(self):
        """Names that the module itself gives out by assignment, definition or import."""
        out = set()
        for node in self.tree.body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                out.add(node.name)
            elif isinstance(node, ast.Import | ast.ImportFrom):
                out |= {(a.asname or a.name).split(".")[0] for a in node.names}
            elif isinstance(node, ast.Assign | ast.AnnAssign):
                out |= {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}
        return out

    @property
    def outside(self):
        """{first name of a module outside the package: line} of the imports in this file."""
        out = {}
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                out |= {a.name.split(".")[0]: node.lineno for a in node.names}
            elif isinstance(node, ast.ImportFrom) and not node.level:
                out[node.module.split(".")[0]] = node.lineno
        return out

    def functions(self):
        """(name, node) of every function and method; lambdas are left out."""
        for node in ast.walk(self.tree):
            for child in ast.iter_child_nodes(node):
                if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
                    owner = f"{node.name}." if isinstance(node, ast.ClassDef) else ""
                    yield owner + child.name, child


def parameters(function):
    """Names of a function's parameters, without self and cls and without *args and **kwargs."""
    a = function.args
    return [p.arg for p in (*a.posonlyargs, *a.args, *a.kwonlyargs) if p.arg not in ("self", "cls")]


def modules(package=PACKAGE):
    """{name: Module} of every source file of the package."""
    found = (Module(path, package) for path in sorted(package.rglob("*.py")))
    return {m.name: m for m in found}


def imports(house):
    """Every Import of a module of the package by another, wherever in the file it stands. A text
    that names a module (as import_module takes it) counts too.
    """
    package = "steelthermo"

    def resolve(module, level, name):
        """The name below the package of what `from ..name` means in module; None if outside."""
        if not level:
            top, _, rest = (name or "").partition(".")
            return rest if top == package else None
        base = module.folder.split(".") if module.folder else []
        keep = len(base) - (level - 1)
        return ".".join(filter(None, [*base[:keep], name])) if keep >= 0 else None

    out = []
    for module in house.values():
        for node in ast.walk(module.tree):
            targets = []
            if isinstance(node, ast.Import):
                targets = [resolve(module, 0, a.name) for a in node.names]
            elif isinstance(node, ast.ImportFrom):
                source = resolve(module, node.level, node.module)
                if source is not None and source in house:
                    for a in node.names:
                        below = f"{source}.{a.name}".lstrip(".")
                        own = module.name == source or a.name not in house[source].binds
                        targets.append(below if own and below in house else source)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                text = node.value.partition(":")[0]  # "module:function" names a module too
                name = text.lstrip(".")
                dots = len(text) - len(name)
                if name and (dots or name.startswith(package + ".")):
                    targets = [resolve(module, dots, name)]
                elif not module.name:  # the package's own file names its rooms as they are
                    targets = [node.value]
            out += [
                Import(module.name, node.lineno, t)
                for t in targets
                if t is not None and t in house and t != module.name
            ]
    return out


def room_of(name):
    return name.split(".")[0] or "front"


def arrows(house):
    """Counter {(room that imports, room imported): number of imports}."""
    pairs = ((room_of(i.by), room_of(i.of)) for i in imports(house))
    return Counter(pair for pair in pairs if pair[0] != pair[1])


def circles(pairs):
    """Groups of rooms that reach each other along the arrows, each sorted."""
    reach = {a: {b for x, b in pairs if x == a} for pair in pairs for a in pair}
    for middle in reach:
        for seen in reach.values():
            if middle in seen:
                seen |= reach[middle]
    groups = {tuple(sorted(b for b in reach if b in reach[a] and a in reach[b])) for a in reach}
    return sorted(g for g in groups if g)


def rooms(package=PACKAGE):
    """Folders and files at the top of the package."""
    return sorted(p.name for p in package.iterdir() if p.name != "__pycache__")


def tokens(text):
    """Program tokens: without comments, docstrings, line ends and indents. An f-string counts as
    one, as Python 3.11 reads it; what later versions take apart is put together again.
    """
    docs = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            if ast.get_docstring(node, clean=False) is not None:
                docs.add(node.body[0].lineno)
    count = depth = 0
    previous = None
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        kind = tokenize.tok_name[token.type]
        depth += kind == "FSTRING_START"
        first = not depth or (kind == "FSTRING_START" and depth == 1)
        depth -= kind == "FSTRING_END"
        if kind in _NO_PROGRAM or not first:
            continue
        a_docstring = (
            kind == "STRING" and token.start[0] in docs and previous != token.start[0]
        )  # the first token of its line
        previous = token.end[0]
        count += not a_docstring
    return count


def long_modules(house):
    """{module: lines} of those above MOST_LINES."""
    count = {name: len(m.text.splitlines()) for name, m in house.items()}
    return {name: n for name, n in count.items() if n > MOST_LINES}


def long_lines(house):
    """{module: number of lines wider than MOST_COLUMNS}."""
    count = {
        name: sum(len(line) > MOST_COLUMNS for line in m.text.splitlines())
        for name, m in house.items()
    }
    return {name: n for name, n in count.items() if n}


def many_parameters(house):
    """{"module:function": number of parameters} of those with more than MOST_PARAMETERS."""
    return {
        f"{name}:{function}": len(parameters(node))
        for name, m in house.items()
        for function, node in m.functions()
        if len(parameters(node)) > MOST_PARAMETERS
    }


def _table(title, lines, most=None):
    print(f"\n{title}{'' if most is None else f' (at most {most})'}")
    for line in lines or ["  none"]:
        print(f"  {line}".rstrip())


def main(package=PACKAGE):
    house = modules(package)
    pairs = arrows(house)
    found = rooms(package)
    _table(f"Rooms: {len(found)}", [", ".join(found)], MOST_ROOMS)
    per_room = Counter()
    lines = Counter()
    for m in house.values():
        per_room[m.room] += tokens(m.text)
        lines[m.room] += len(m.text.splitlines())
    order = sorted(per_room, key=lambda r: (-FLOOR.get(r, 99), r))
    _table(
        f"Arrows: {len(pairs)}",
        [
            f"{FLOOR.get(a, '?'):>2} {a:<10} -> " + ", ".join(b for b in order if (a, b) in pairs)
            for a in order
            if any(x == a for x, _ in pairs)
        ],
        MOST_ARROWS,
    )
    up = [(a, b) for a, b in pairs if FLOOR.get(a, 0) <= FLOOR.get(b, 0)]
    _table(
        "Arrows that do not point down: " + str(len(up)),
        [f"{a} -> {b}: {', '.join(_places(house, a, b))}" for a, b in sorted(up)],
    )
    _table("Circles", [" - ".join(group) for group in circles(pairs)])
    total = sum(per_room.values())
    _table(
        f"Program tokens: {total}",
        [f"{room:<10} {per_room[room]:>7} tokens {lines[room]:>6} lines" for room in order],
        MOST_TOKENS,
    )
    for title, found, most in (
        ("Modules of many lines", long_modules(house), MOST_LINES),
        ("Modules with lines of many columns", long_lines(house), MOST_COLUMNS),
        ("Functions of many parameters", many_parameters(house), MOST_PARAMETERS),
    ):
        ranked = sorted(found.items(), key=lambda item: (-item[1], item[0]))
        _table(f"{title}: {len(found)}", [f"{n:>4} {name}" for name, n in ranked], most)


def _places(house, by, of):
    return [
        f"{i.by}:{i.line}" for i in imports(house) if (room_of(i.by), room_of(i.of)) == (by, of)
    ]


if __name__ == "__main__":
    main(Path(given(__doc__, "[package]").package or PACKAGE))
