"""Equations made wrong, one at a time: in every function of the physics a term of a sum is dropped
or a sign is turned. tests/tools/noticed.py asks who notices.
"""

import ast
import copy
import copyreg
import importlib
import inspect
import random
import re
import textwrap
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from types import MappingProxyType

from shifted import forget

ROOT = Path(__file__).resolve().parents[2]
ROOMS = (
    "thermo slag streams jet charge blow ladle end_point hot_metal trust.shares trust.uncertainty"
).split()
# what is said of a result, not how it is worked out
WORDS = re.compile(
    r"^(charge\.(checks|faults)|blow\.remarks)\.|(__str__|_shown|provenance|words|_reasons)$"
)
EACH = 3  # calls of a function by one test that may be kept
KEPT_CALLS = 60  # of one function, for the proof that a mutant is the same function


copyreg.pickle(MappingProxyType, lambda proxy: (MappingProxyType, (dict(proxy),)))  # to be copied

# ---- functions -----------------------------------------------------------------------------------


def _plain(thing):
    """The function behind a decorator, a property or a cache; None for what is no function."""
    if isinstance(thing, property):
        thing = thing.fget
    if isinstance(thing, cached_property):
        thing = thing.func
    if isinstance(thing, (staticmethod, classmethod)):
        thing = thing.__func__
    thing = inspect.unwrap(thing) if callable(thing) else None
    return thing if inspect.isfunction(thing) else None


@dataclass
class Function:
    """A function of the kit that holds sums. name: such as slag.properties.viscosity; calls:
    arguments that tests gave it; seen: how often each test called it; offered: calls that might
    have been kept.
    """

    name: str
    plain: object
    tree: ast.Module
    calls: list = field(default_factory=list)
    seen: dict = field(default_factory=dict)
    offered: int = 0

    def compiled(self, tree):
        """Code of another body."""
        function = next(n for n in tree.body if isinstance(n, ast.FunctionDef))
        function.decorator_list = []
        for argument in [*function.args.defaults, *function.args.kw_defaults]:
            if argument is not None:  # kept by the function that gets the code
                argument.__class__, argument.__dict__ = ast.Constant, {"value": None}
        found = self.plain
        code = compile(ast.fix_missing_locations(tree), found.__code__.co_filename, "exec")
        return next(c for c in code.co_consts if getattr(c, "co_name", None) == function.name)

    @contextmanager
    def as_code(self, code):
        """The kit with another body of this function."""
        kept = self.plain.__code__
        self.plain.__code__ = code
        forget(self.name.split(".")[0])
        try:
            yield
        finally:
            self.plain.__code__ = kept
            forget(self.name.split(".")[0])

    def noted(self, note):
        """Code that calls note(function, arguments) first."""
        hook = f"_note_{self.name.replace('.', '_')}"
        self.plain.__globals__[hook] = lambda given: note(self, given)
        tree = copy.deepcopy(self.tree)
        body = tree.body[0].body
        body.insert(0, ast.parse(f"{hook}(dict(locals()))").body[0])
        return self.compiled(tree)

    def keep(self, by, given):
        """Keep a few calls by each test; of many calls each with the same chance."""
        self.seen[by] = self.seen.get(by, 0) + 1
        if self.seen[by] > EACH and random.random() > EACH / self.seen[by]:
            return
        self.offered += 1
        place = len(self.calls)
        if place >= KEPT_CALLS:
            place = random.randrange(self.offered)
        if place < KEPT_CALLS:
            with suppress(Exception):  # what cannot be copied is no witness
                self.calls[place : place + 1] = [copy.deepcopy(given)]


def functions(rooms=ROOMS):
    """Every Function of the rooms that holds a sum and works something out."""
    found = []
    for room in rooms:
        path = ROOT / "steelthermo" / room.replace(".", "/")
        files = sorted(path.rglob("*.py")) if path.is_dir() else [path.with_suffix(".py")]
        for file in files:
            name = ".".join(file.relative_to(ROOT).with_suffix("").parts)
            module = importlib.import_module(name.removesuffix(".__init__"))
            for owner in [module, *_classes(module)]:
                for key, thing in list(vars(owner).items()):
                    plain = _plain(thing)
                    if plain is None or plain.__module__ != module.__name__:
                        continue
                    if plain.__name__ != key or plain.__closure__:
                        continue
                    if "<" in plain.__qualname__ or "<" in plain.__code__.co_filename:
                        continue
                    tree = ast.parse(textwrap.dedent(inspect.getsource(plain)))
                    if isinstance(tree.body[0], ast.FunctionDef) and _sums(tree):
                        home = module.__name__.removeprefix("steelthermo.")
                        found.append(Function(f"{home}.{plain.__qualname__}", plain, tree))
    return list({id(f.plain): f for f in found if not WORDS.search(f.name)}.values())


def _classes(module):
    return [
        thing
        for thing in vars(module).values()
        if inspect.isclass(thing) and thing.__module__ == module.__name__
    ]


# ---- sums ----------------------------------------------------------------------------------------

_SUM = (ast.Add, ast.Sub)
_NO_NUMBER = (ast.List, ast.ListComp, ast.Set, ast.SetComp, ast.Tuple, ast.JoinedStr, ast.Dict)
_WORDS = (ast.Raise, ast.JoinedStr, ast.FunctionDef)  # what is said, and functions inside


def _sums(tree):
    """The sums and signs of a function, in one order; those of messages are left out."""
    found = []

    def walk(node):
        if isinstance(node, _WORDS):
            return
        if isinstance(node, (ast.BinOp, ast.AugAssign)) and isinstance(node.op, _SUM):
            if not any(_is_nothing(child) for child in ast.iter_child_nodes(node)):
                found.append(node)
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            found.append(node)
        for child in ast.iter_child_nodes(node):
            walk(child)

    for node in tree.body[0].body:
        walk(node)
    return found


def _is_nothing(node):
    """A term that only gives a sum its shape: 0.0 * x, a bound beside 1, such as 1.0 - 1e-12, or a
    list, a set or a text.
    """
    if isinstance(node, _NO_NUMBER):
        return True
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult):
        node = node.left
    if not isinstance(node, ast.Constant):
        return False
    return isinstance(node.value, str) or node.value in (0.0, 1e-12)


def _other(op):
    return ast.Sub() if isinstance(op, ast.Add) else ast.Add()


def _become(node, other):
    node.__class__, node.__dict__ = other.__class__, other.__dict__


def _changes(node):
    """{what is done: the change} of a sum."""
    if isinstance(node, ast.UnaryOp):
        return {"sign": lambda n: _become(n, n.operand)}
    turn = {"sign": lambda n: setattr(n, "op", _other(n.op))}
    if isinstance(node, ast.AugAssign):
        return turn | {"drop": lambda n: setattr(n, "value", _nothing(n))}
    return turn | {
        "drop right": lambda n: _become(n, n.left),
        "drop left": lambda n: _become(
            n, n.right if isinstance(n.op, ast.Add) else ast.UnaryOp(ast.USub(), n.right)
        ),
    }


def _nothing(node):
    return ast.BinOp(ast.Constant(0.0), ast.Mult(), node.value)


def mutants(function):
    """(what was changed, code, code that fails where the change is) of each mutant."""
    for nth, sum_ in enumerate(_sums(function.tree)):
        told = ast.unparse(sum_)
        alarm = function.compiled(_changed(function.tree, nth, _fail))
        for how, change in _changes(sum_).items():
            yield f"{how}: {told}", function.compiled(_changed(function.tree, nth, change)), alarm


def changes(function):
    """What is changed in each mutant, in words."""
    return [f"{how}: {ast.unparse(s)}" for s in _sums(function.tree) for how in _changes(s)]


def _changed(tree, nth, change):
    tree = copy.deepcopy(tree)
    change(_sums(tree)[nth])
    return tree


def _fail(node):
    """Make a sum divide by zero."""
    never = ast.BinOp(ast.Constant(1), ast.Div(), ast.Constant(0))
    if isinstance(node, ast.AugAssign):
        node.value = never
    else:
        _become(node, never)
