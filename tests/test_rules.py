"""The rules of the house, read from its source by tests/tools/house.py; nothing here needs an
outside source.

Where a rule is not yet kept, the place stands in a list of exceptions with the reason. The lists
are exact: a new fault fails, and so does an exception that is no longer needed. They only shrink.
"""

import ast
import json
import os
import re
import subprocess
import sys
import tomllib
from importlib import metadata
from pathlib import Path

import house
import pytest

from steelthermo.base import InputError, formula
from steelthermo.coursekit.sheet import sheet_name

TESTS = Path(__file__).parent
HOUSE = house.modules()
IMPORTS = house.imports(HOUSE)
SUBJECT = ("app", "front", "__main__", "course", "coursekit")  # all other rooms are physics


def held(rule, found, exceptions=()):
    """found: places where the rule is broken. They are the exceptions, neither more nor fewer."""
    new, done = sorted(set(found) - set(exceptions)), sorted(set(exceptions) - set(found))
    assert not new, f"{rule}. Broken by:\n  " + "\n  ".join(new)
    assert not done, f"{rule}. No longer broken, take from the list:\n  " + "\n  ".join(done)


# --- who imports whom -----------------------------------------------------------------------------


def test_the_script_reads_imports_in_every_form(tmp_path):
    """Against a small package written here."""
    for name, text in {
        "__init__.py": '_ROOMS = ("low", "high")\n',
        "low/__init__.py": "from .plain import one\n",
        "low/plain.py": 'one = "a text with a dot. And ..."\n',
        "low/other.py": "one = 1\n",
        "high/__init__.py": "",
        "high/lazy.py": 'def f():\n    from ..low import other, one\n    return "..low.plain:x"\n',
        "high/long.py": "import numpy\nimport steelthermo.low.plain\nfrom . import lazy\n",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    found = {(i.by, i.of) for i in house.imports(house.modules(tmp_path))}
    assert found == {
        ("", "low"),
        ("", "high"),
        ("low", "low.plain"),
        ("high.lazy", "low.other"),
        ("high.lazy", "low"),
        ("high.lazy", "low.plain"),
        ("high.long", "low.plain"),
        ("high.long", "high.lazy"),
    }
    assert house.circles({("a", "b"), ("b", "c"), ("c", "a"), ("c", "d")}) == [("a", "b", "c")]


def test_the_script_counts_program_and_nothing_else():
    text = '''"""A docstring."""  # a comment
def f(a):  # 6 tokens
    """Another
    one."""

    "no docstring"  # 1
    return f"{a + 1:.{a}f} and {f'{a}'}"  # 2
'''
    assert house.tokens(text) == 9


def test_every_room_has_its_floor():
    assert {m.room for m in HOUSE.values()} <= set(house.FLOOR)


def test_few_rooms_and_few_arrows():
    assert len(house.rooms()) <= house.MOST_ROOMS
    assert len(house.arrows(HOUSE)) <= house.MOST_ARROWS


def test_imports_point_down():
    """To a floor below, not to the same floor and not up."""
    up = {f"{a} -> {b}" for a, b in house.arrows(HOUSE) if house.FLOOR[a] <= house.FLOOR[b]}
    held("Imports point down", up)


STEEL_IN_THE_ENGINE = {}


def test_the_engine_imports_base_only():
    found = {f"{a} -> {b}" for a, b in house.arrows(HOUSE) if a == "coursekit" and b != "base"}
    held("coursekit knows no steel", found, STEEL_IN_THE_ENGINE)


def test_nobody_imports_the_course_but_the_commands():
    found = {f"{a} -> {b}" for a, b in house.arrows(HOUSE) if b == "course"}
    held("course is the top floor", found - {"app -> course", "front -> course"})


PRIVATE = {
    "__main__: app.cli": "the command, started without the rest of app",
    "course.in_lessons: course.l00_start_here.vessel": "loaded when first called",
    "course.in_lessons: course.l00_start_here.visit_card": "loaded when first called",
    "course.for_commands: course.l00_start_here.visit_card": "loaded when first called",
    "course.sheets: course.l13_end_point.drill": "loaded when first called",
    "course.sheets: course.l15_whole_heat.page": "loaded when first called",
    "course.sheets: course.l08_heat_balance.plan_page": "loaded when first called",
    "course.for_commands: course.l08_heat_balance.plan_page": "loaded when first called",
    "course.in_lessons: course.l16_how_sure_are_we.memory_table": "loaded when first called",
    "course.in_lessons: course.l16_how_sure_are_we.published": "loaded when first called",
    "course.for_commands: course.l17_own_heats.plan_page": "loaded when first called",
}


def test_a_file_is_private_to_its_folder():
    """From outside, a folder is used through its __init__."""
    found = set()
    for i in IMPORTS:
        home = HOUSE[i.of].folder
        inside = (HOUSE[i.by].folder + ".").startswith(home + ".")
        if not HOUSE[i.of].is_folder and home and not inside:
            found.add(f"{i.by}: {i.of}")
    held("A file is private to its folder", found, PRIVATE)


CIRCLES = {}


def test_no_modules_in_a_circle():
    """Imports inside functions count too. A circle is named by the rooms it goes through."""
    found = {
        ", ".join(sorted({house.room_of(name) for name in group}))
        for group in house.circles({(i.by, i.of) for i in IMPORTS})
    }
    held("No circles", found, CIRCLES)


def test_physics_knows_no_widgets_and_no_pictures():
    shown = ("ipywidgets", "IPython", "matplotlib", "PIL", "mistune")
    found = {
        f"{name}: {other}"
        for name, module in HOUSE.items()
        for other in shown
        if module.room not in SUBJECT and other in module.outside
    }
    held("Physics knows no widgets and no pictures", found)


def test_cantera_is_asked_in_one_place():
    """So that tables can stand in for it where it cannot be installed."""
    found = {name for name, module in HOUSE.items() if "cantera" in module.outside}
    held("One seam to Cantera", found, {"thermo.engine"})


def test_what_is_imported_is_declared():
    """Each package from outside stands among the dependencies."""
    about = tomllib.loads((house.PACKAGE.parent / "pyproject.toml").read_text(encoding="utf-8"))
    declared = {re.match(r"[\w-]+", d)[0].lower() for d in about["project"]["dependencies"]}
    brought = metadata.packages_distributions()
    asked = {name for module in HOUSE.values() for name in module.outside} - {"steelthermo"}
    found = {
        name
        for name in asked - sys.stdlib_module_names
        if not declared & {d.lower().replace("_", "-") for d in brought.get(name, ())}
    }
    held("What is imported is declared", found)


ONE_SYSTEM = {"coursekit.sheet.lock: fcntl", "coursekit.sheet.lock: msvcrt"}


def test_what_only_one_system_has_is_imported_in_one_place():
    """Modules that the standard library marks as of Unix or of Windows only."""
    only = {"fcntl", "msvcrt", "resource", "pwd", "grp", "termios", "tty", "pty", "winreg", "nt"}
    found = {f"{name}: {of}" for name, module in HOUSE.items() for of in set(module.outside) & only}
    held("What only one system has is imported in one place", found, ONE_SYSTEM)


def test_paths_fit_into_windows():
    """260 characters with the NUL at the end, where long paths are not switched on. A folder of 80
    characters, .venv, site-packages, the longest file of the kit and its compiled form; and what a
    learner's folder of 120 characters can come to hold.
    """
    package = house.PACKAGE
    files = [p.relative_to(package.parent) for p in package.rglob("*") if p.is_file()]
    tail = len(".cpython-314.opt-1.pyc") + len("__pycache__/")
    longest = max(len(str(p)) + tail * (p.suffix == ".py") for p in files)
    assert 80 + len("/.venv/Lib/site-packages/") + longest < 260
    name = "x" * 80
    sheet = sheet_name(name, name)
    handed = f"/hand-in/{'9' * 40}_{sheet}.part"
    for inside in (handed, f"/answers/sign-off-{sheet}-99-99.html", f"/answers/{sheet}.damaged-99"):
        assert 120 + len(inside) < 260, inside


# --- kelvin and degrees Celsius -------------------------------------------------------------------

CELSIUS_BELOW = {
    "base.units:kelvin": "the conversion itself",
    "thermo.melting:carbon_at_liquidus": "liquidus lines are printed in degC",
}
KELVIN_ABOVE = {
    "blow.record": "rows of one instant, in kelvin inside",
    "charge.balance": "heat at both ends of a bracket, in kelvin inside",
    "charge.by_other_data": "asks other people's tables of enthalpy",
    "course.l13_end_point.carbon_and_oxygen": "lines of log K in kelvin",
    "end_point.probe": "electromotive force, equations in kelvin",
    "ladle.deoxidation": "equilibria in kelvin",
    "ladle.inclusions": "equilibria in kelvin",
    "slag.chromium": "equilibria in kelvin",
    "slag.end_of_blow": "published lines in kelvin",
    "slag.oxygen": "published lines in kelvin",
    "slag.partition_equations": "published lines in kelvin",
    "slag.properties": "published lines in kelvin",
    "slag.regular_solution": "published lines in kelvin",
    "trust.evaluators": "recomputes printed values of thermo",
}


def _takes(module, pattern):
    return [
        name
        for name, node in module.functions()
        for p in house.parameters(node)
        if re.fullmatch(pattern, p) and "._" not in f".{name}"
    ]


def test_thermo_takes_kelvin():
    celsius = r"temp_c|\w+_temp_c|arrest_c|liquidus_c"
    found = {
        f"{name}:{function}"
        for name, module in HOUSE.items()
        if module.room in ("base", "works", "thermo")
        for function in _takes(module, celsius)
    }
    held("Up to thermo a temperature is in kelvin", found, CELSIUS_BELOW)


def test_from_streams_on_degrees_celsius():
    found = {
        name
        for name, module in HOUSE.items()
        if module.room not in ("base", "works", "thermo") and _takes(module, r"T|T_\w+|\w+_T")
    }
    held("From streams on a temperature is in degC", found, KELVIN_ABOVE)


# --- facts stand in tables ------------------------------------------------------------------------

DICTS = {
    "course.l03_order_of_oxidation.panel:NAMES": "words of controls",
    "course.l03_order_of_oxidation.problems:_SHEET": "the sheet of one problem",
    "course.l07_phosphorus_and_sulphur.problems:_ANY_SLAG": "the slag of one problem",
    "course.l14_tapping_and_ladle.panel:GRADES": "invented grades of one panel",
    "slag.partition_equations:DEFAULTS": "names of equations",
    "streams.oxides:BASICITIES": "definitions: which oxides over which",
}


def _is_of_chemistry(key):
    if not (isinstance(key, ast.Constant) and isinstance(key.value, str)):
        return False
    try:
        return re.match("[A-Z]", key.value) is not None and bool(formula(key.value))
    except InputError:
        return False


def _dicts(module):
    """Names bound at module or class level to something that holds a dict with keys of elements or
    oxides: two of them or more, and at least half of the keys.
    """

    def inner(node):
        yield node
        for child in ast.iter_child_nodes(node):
            if not isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
                yield from inner(child)

    def statements(body):
        for node in body:
            if isinstance(node, ast.ClassDef):
                yield from statements(node.body)
            elif not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield node

    for statement in statements(module.tree.body):
        for node in inner(statement):
            if isinstance(node, ast.Dict):
                of_chemistry = sum(map(_is_of_chemistry, node.keys))
                if of_chemistry >= 2 and 2 * of_chemistry >= len(node.keys):
                    targets = getattr(statement, "targets", [getattr(statement, "target", None)])
                    yield ast.unparse(targets[0]) if targets[0] is not None else "a call"


def test_no_table_of_elements_or_oxides_in_the_program():
    found = {f"{name}:{bound}" for name, module in HOUSE.items() for bound in _dicts(module)}
    held("A fact of chemistry stands in a table", found, DICTS)


# --- what is clever -------------------------------------------------------------------------------

HIDDEN_NAMES = {}


def test_names_made_on_the_fly_can_be_seen():
    """Tab in a notebook asks __dir__. A __getattr__ that only words the error makes no names."""
    found = set()
    for name, module in HOUSE.items():
        for node in ast.walk(module.tree):
            if isinstance(node, ast.Module | ast.ClassDef):
                defined = {getattr(child, "name", None): child for child in node.body}
                asked = defined.get("__getattr__")
                makes = asked and any(isinstance(n, ast.Return) for n in ast.walk(asked))
                if makes and "__dir__" not in defined:
                    found.add(f"{name}:{getattr(node, 'name', 'module')}")
    held("No __getattr__ without __dir__", found, HIDDEN_NAMES)


NAMESPACES = {}


@pytest.mark.parametrize("clever", ["SimpleNamespace", "ModuleType"])
def test_records_are_declared(clever):
    found = {
        name
        for name, module in HOUSE.items()
        for node in ast.walk(module.tree)
        if isinstance(node, ast.ImportFrom | ast.Import)
        and clever in {a.name.split(".")[-1] for a in node.names}
    }
    held(f"No {clever}", found, NAMESPACES if clever == "SimpleNamespace" else ())


# --- what has grown large -------------------------------------------------------------------------

LONG = set()


def test_modules_are_short():
    """A module at most 400 lines."""
    held("A module has one job", house.long_modules(HOUSE), LONG)


def test_parameters_are_few():
    """More than eight are a record."""
    held("More than eight parameters are a record", house.many_parameters(HOUSE))


# --- importing does nothing -----------------------------------------------------------------------

_IMPORT_ALL = """
import importlib, json, sys
from pathlib import Path

package, reads = Path(sys.argv[1]), []

def kit_module():
    # the module of the kit that is being imported, as it stands among the calls
    frame = sys._getframe(2)
    while frame:
        name = frame.f_globals.get("__name__", "")
        if name.split(".")[0] == "steelthermo" and frame.f_code.co_name == "<module>":
            return name.partition(".")[2]
        frame = frame.f_back
    return ""

def hook(event, args):
    if event == "open" and isinstance(args[0], str):
        path = Path(args[0])
        if package / "data" in path.parents:
            reads.append((kit_module(), path.name))
    elif event == "ctypes.dlopen":
        frame = sys._getframe(1)
        while frame.f_globals.get("__name__") == "ctypes":
            frame = frame.f_back
        if frame.f_globals.get("__name__", "").startswith("steelthermo"):
            reads.append((kit_module(), args[0]))

names = sys.argv[2:]
sys.addaudithook(hook)
loaded = {}
for name in names:
    importlib.import_module(".".join(filter(None, ["steelthermo", name])))
    loaded[name] = [n for n in sys.modules if "." not in n]
print(json.dumps({"reads": sorted(set(reads)), "loaded": loaded}))
"""


@pytest.fixture(scope="module")
def imported():
    """What a fresh process does when every module is imported, from the lowest floor up."""
    first = ["", *sorted(HOUSE, key=lambda n: (house.FLOOR[house.room_of(n)], n))]
    names = [n for n in dict.fromkeys(first) if n != "__main__"]
    done = subprocess.run(
        [sys.executable, "-c", _IMPORT_ALL, str(house.PACKAGE), *names],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"PYTHONPATH": str(house.PACKAGE.parent), "PYTHONDONTWRITEBYTECODE": "1"},
    )
    return json.loads(done.stdout)


def test_the_package_alone_loads_next_to_nothing(imported):
    heavy = {"numpy", "cantera", "matplotlib", "ipywidgets", "IPython", "PIL"}
    assert not heavy & set(imported["loaded"][""])


def test_physics_loads_no_widgets_and_no_pictures(imported):
    physics = [n for n in imported["loaded"] if house.room_of(n) not in SUBJECT]
    assert len(physics) > 50
    shown = {"matplotlib", "ipywidgets", "IPython", "PIL", "mistune"}
    assert not shown & set(imported["loaded"][physics[-1]])


READ_AT_IMPORT = {
    "oxides.csv": "which elements and oxides there are: modules have a row for each",
    "atomic_weights.csv": "what those weigh",
    "constants.csv": "0 degC in kelvin: limits held in kelvin",
    "tables.csv": "where those three stand",
}
PROBLEMS = re.compile(r"course\.l\d\d_\w+\.(problems|entries)")


def test_importing_reads_no_table(imported):
    """A table is read when it is first asked, so that what is answered does not hang on what was
    imported; nor is a setting of the C library changed. What a lesson's problems are made of is
    read with them: the engine loads them when the lesson is first asked for its problems.
    """
    found = {what for by, what in imported["reads"] if not PROBLEMS.fullmatch(by)}
    held("Importing does nothing", found, READ_AT_IMPORT)


# --- tests mirror the folders ---------------------------------------------------------------------

OTHER_TESTS = ("browser", "golden", "tools")  # of the whole, not of a folder
OTHER_FILES = {
    "app/test_other_systems": "what Windows, macOS and hubs do otherwise",
    "course/l15_whole_heat/test_whole_heat": "the lesson as a whole",
    "course/test_cautions": "all that could be acted out",
    "course/test_one_heat": "one heat through lessons and panels",
    "course/test_first_lessons": "lessons 01, 02, 04 and 08",
    "course/test_lessons": "all lessons",
    "course/test_problems": "all problems",
    "course/test_questions": "the questions of all lessons",
    "course/test_sound_problems": "all problems",
    "course/test_told_facts": "statements of lessons that were once wrong",
    "course/test_wording": "all that a learner reads",
    "course/test_works": "problems at other works",
    "jet/test_nozzle_coolprop": "needs a package of its own",
}


def test_each_folder_has_its_tests():
    rooms = {p.name for p in house.PACKAGE.iterdir() if (p / "__init__.py").is_file()}
    engine = {f"coursekit/{p.name}" for p in (house.PACKAGE / "coursekit").glob("*/")}
    wanted = rooms | {e for e in engine if (house.PACKAGE / e / "__init__.py").is_file()}
    missing = {f for f in wanted if not list((TESTS / f).rglob("test_*.py"))}
    held("Each folder of the package has a folder of tests", missing)


def test_each_test_stands_where_its_module_stands():
    found = set()
    for path in TESTS.rglob("test_*.py"):
        folder = path.parent.relative_to(TESTS).as_posix()
        if folder == "." or folder.split("/")[0] in OTHER_TESTS:
            continue
        tested = path.stem.removeprefix("test_")
        module = f"{folder}/{tested}".replace("/", ".")
        if module not in HOUSE and tested != path.parent.name:
            found.add(f"{folder}/{path.stem}")
    held("A test is named after its module or folder", found, OTHER_FILES)


def test_nothing_else_stands_at_the_top():
    """What a command or a test leaves in the folder it runs in is not kept."""
    root = house.PACKAGE.parent
    if not (root / ".git").exists():
        pytest.skip("a copy that git does not know")
    listed = subprocess.run(
        ["git", "-C", root, "ls-files"], capture_output=True, text=True, check=True
    ).stdout
    found = {line.partition("/")[0] for line in listed.splitlines() if not line.startswith(".")}
    kept = "README.md DEVELOPERS.md pyproject.toml lessons steelthermo exercises tests".split()
    held("Top level", found - set(kept))


def test_saved_notebooks_hold_no_path_of_a_machine():
    """As a warning has it that was printed where the notebook was run."""
    root = house.PACKAGE.parent
    found = {
        f"{path.parent.name}/{path.name}"
        for path in (*root.glob("lessons/*.ipynb"), *root.glob("exercises/*.ipynb"))
        if re.search(r'"(/|[A-Z]:)[^"\s]+\.py:\d+', path.read_text(encoding="utf-8"))
    }
    held("A saved output holds no path of a machine", found)
