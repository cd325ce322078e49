"""Reads the sums that stand on a page: every `expression = result`, evaluated; and what is left of
an expression when one of its terms or factors is forgotten.

A sum is written as the kit prints it: 2 × 3.5, 7 ÷ 2 or 7/2, √, log, ln, powers as ² or ^, minus
as −. Words end an expression: '12 kg, × 3' is no sum.
"""

import math
import re
from dataclasses import dataclass

_SMALL = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_TOKEN = re.compile(
    r"(?P<number>\d[\d\u202f\u00a0]*(?:\.\d+)?(?:·10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?)|(?P<power>[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)"
    r"|(?P<name>log10|log|ln|exp|√|π|½)|(?P<mark>[-−+×÷/^()])|(?P<blank>\s+|\*\*)|(?P<word>.)",
    re.DOTALL,
)
_NAMES = {"π": math.pi, "½": 0.5}
_FUNCTIONS = {
    "√": math.sqrt,
    "log": math.log10,
    "log10": math.log10,
    "ln": math.log,
    "exp": math.exp,
}
_TWO = {
    "+": lambda a, b: a + b,
    "−": lambda a, b: a - b,
    "×": lambda a, b: a * b,
    "÷": lambda a, b: a / b,
    "/": lambda a, b: a / b,
    "^": lambda a, b: a**b,
}
_RESULT = re.compile(
    r"\s*=\s*(?:\*\*)?\s*(?P<sign>[−-]?)(?P<digits>\d[\d\u202f\u00a0]*(?:\.\d+)?)"
    r"(?:·10(?P<power>[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?"
    r"(?P<after>[^.;:]{0,12})"
)


@dataclass(frozen=True)
class Sum:
    """A sum on a page: its text, the expression as a tree, the printed result and half of its last
    digit.
    """

    text: str
    tree: object
    result: float
    half: float

    @property
    def value(self):
        """What the expression comes to."""
        return value_of(self.tree)

    @property
    def true(self):
        """Whether that is the result, to the digits shown."""
        return abs(self.value - self.result) <= self.half * (1.0 + 2e-3)


def sums(text):
    """Every Sum of a text, in order."""
    found = []
    for equal in re.finditer("=", text):
        right = _RESULT.match(text, equal.start())
        if not right or re.match(r"\s*[×÷/^+−]", right["after"]):
            continue  # a step that goes on: its end is a sum of its own
        tokens = _tokens_before(text, equal.start())
        tree = next((t for k in range(len(tokens)) if (t := _parsed(tokens[k:])) is not None), None)
        if not isinstance(tree, tuple):
            continue  # a number alone: '40 = 40'
        digits = re.sub(r"\s", "", right["digits"])
        power = int((right["power"] or "0").translate(_SMALL))
        number = float(digits) * 10.0**power * (-1.0 if right["sign"] else 1.0)
        decimals = len(digits.partition(".")[2])
        shown = " ".join(t for _, t in tokens)
        half = half_of(digits, decimals) * 10.0**power
        found.append(Sum(f"{shown} = {right.group().strip(' =')}", tree, number, half))
    return found


def half_of(digits, decimals):
    """Half of the last digit printed; whole numbers are printed to four."""
    plain = digits.partition(".")[0].lstrip("0")
    spare = max(0, len(plain) - 4) if not decimals else 0
    return 0.5 * 10.0 ** (spare - decimals)


def tree_of(expression):
    """The tree of an expression alone."""
    return _parsed(_tokens_before(expression, len(expression)))


def _tokens_before(text, end):
    """The tokens of the longest run before a place that holds no word."""
    run = []
    for token in _TOKEN.finditer(text[:end]):
        kind = token.lastgroup
        if kind == "word" or (kind == "blank" and "\n\n" in token.group()):
            run = []
        elif kind != "blank":
            run.append((kind, token.group().replace("-", "−")))
    return run


def _parsed(tokens):
    """The tree of an expression, or None where the tokens are none."""
    reader = _Reader(tokens)
    try:
        tree = reader.sum()
    except (IndexError, ValueError):
        return None
    return tree if reader.at == len(tokens) else None


class _Reader:
    """Reads an expression: sums of products of powers."""

    def __init__(self, tokens):
        self.tokens, self.at = tokens, 0

    def peek(self):
        return self.tokens[self.at][1] if self.at < len(self.tokens) else ""

    def take(self):
        self.at += 1
        return self.tokens[self.at - 1]

    def sum(self):
        tree = self.signed()
        while self.peek() in ("+", "−"):
            tree = (self.take()[1], tree, self.product())
        return tree

    def signed(self):
        if self.peek() == "−":
            self.take()
            return ("−", 0.0, self.product())
        return self.product()

    def product(self):
        tree = self.power()
        while self.peek() in ("×", "÷", "/"):
            tree = (self.take()[1], tree, self.power())
        return tree

    def power(self):
        tree = self.single()
        while self.at < len(self.tokens):
            kind, text = self.tokens[self.at]
            if kind == "power":
                self.take()
                tree = ("^", tree, float(text.replace("−", "-").translate(_SMALL)))
            elif text == "^":
                self.take()
                tree = ("^", tree, self.single())
            else:
                break
        return tree

    def single(self):
        kind, text = self.take()
        if kind == "number":
            digits, _, power = re.sub(r"\s", "", text).replace("−", "-").partition("·10")
            return float(digits) * 10.0 ** int((power or "0").translate(_SMALL))
        if text in _NAMES:
            return _NAMES[text]
        if text in _FUNCTIONS:
            return (text, self.single())
        if text == "(":
            tree = self.sum()
            if self.take()[1] != ")":
                raise ValueError(text)
            return tree
        raise ValueError(text)


def value_of(tree):
    """What a tree comes to; NaN where it comes to nothing."""
    if not isinstance(tree, tuple):
        return tree
    name, *parts = tree
    try:
        value = (_FUNCTIONS | _TWO)[name](*(value_of(part) for part in parts))
    except (ArithmeticError, ValueError):
        return math.nan
    return value if isinstance(value, float) else math.nan


def forgotten(tree):
    """Every tree that is left when one step is forgotten: a term, a factor, what is divided by or
    taken off, a power or function. A step that changes nothing (divided by 1.00) is none.
    """
    if not isinstance(tree, tuple):
        return
    name, *parts = tree
    both = name in ("+", "×")
    for left in parts if both or name in _FUNCTIONS else parts[:1]:
        if abs(value_of(left) - value_of(tree)) > 1e-9 * abs(value_of(tree)):
            yield left
    for k, part in enumerate(parts):
        for less in forgotten(part):
            yield (name, *parts[:k], less, *parts[k + 1 :])
