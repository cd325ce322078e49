"""The kit against the published world: every printed value that was read and can be computed, ours
beside it, and by which rule they agree.

The rows stand in published_checks.csv; how each is computed, in evaluators.py and
evaluators_models.py. A row that is known to disagree says why and has to go on disagreeing: so both
verdicts are tested. Checks never follow the works profile.
"""

import csv
import warnings
from dataclasses import dataclass
from functools import cache
from inspect import isfunction

from ..base import (
    InputError,
    Provenance,
    Record,
    data_path,
    fits,
    one_of,
    row_provenance,
    rows,
    shown,
)
from . import evaluators, evaluators_models

# ways to compute a printed value: the functions of both files of evaluators, by name
EVALUATORS = {
    name: way
    for module in (evaluators, evaluators_models)
    for name, way in vars(module).items()
    if isfunction(way) and way.__module__ == module.__name__ and not name.startswith("_")
}
VERDICTS = ("agrees", "disagrees")
# What an agreement is worth, best first
WORTH = {
    "model": (
        "a measurement, or another's balance, that no data of the kit were made from: a wrong "
        "model would be noticed"
    ),
    "independent": (
        "another measurement, assessment or compilation than the data used; of a model where a "
        "wrong one would not be noticed"
    ),
    "same data": (
        "the data used come from the same place: checks copying, choice of phase, and code"
    ),
    "arithmetic": "a printed sum done anew: checks stoichiometry and code",
    "look-up": "a printed figure that the kit shows: checks copying",
}


@dataclass(frozen=True, repr=False)
class Check(Record):
    """One printed value. room: module that computes it; quantity: in words; how, args: see
    evaluators.py; printed, printed_high: the value, or the ends of a printed range;
    printed_text: as printed, with its last zeros; unit; tolerance: by which ours may leave it;
    rule: where the tolerance comes from, in words; worth: a key of WORTH; model: the one it
    checks, a key of MODELS, or 'none'; expect: verdict known; reason: why, where it is
    'disagrees'; provenance.
    """

    id: str
    room: str
    quantity: str
    how: str
    args: dict
    printed: float
    printed_high: float
    printed_text: str
    unit: str
    tolerance: float
    rule: str
    worth: str
    model: str
    expect: str
    reason: str
    provenance: Provenance


@dataclass(frozen=True, repr=False)
class Result(Record):
    """A Check with ours: the value computed; difference: from the printed value or the nearer end
    of the printed range, 0 inside it; relative: the same over the printed value; verdict: 'agrees'
    if the difference is within the tolerance, else 'disagrees'; passes: the verdict is the one
    known.
    """

    check: Check
    ours: float
    difference: float
    relative: float
    verdict: str

    @property
    def passes(self) -> bool:
        """True where the verdict is the expected one."""
        return self.verdict == self.check.expect


def evaluate(how: str, args: dict) -> float:
    """Our number for a row; warnings of extrapolation are kept quiet: the printed value decides.

    Parameters
    ----------
    how : a key of EVALUATORS
    args : its arguments

    Returns
    -------
    in the unit of the check

    Examples
    --------
    >>> round(evaluate("formation_kj", {"of": "CO2"}), 1)
    -393.5
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return float(EVALUATORS[how](**fits(how, EVALUATORS[how], args)))


def parse_args(text: str) -> dict:
    """Arguments from the column `args`: 'key=value; key=value'.

    Numbers become float, 'C:4 Si:0.5' a dict, 'none' no arguments.

    Parameters
    ----------
    text : of the column args, such as 'of=CO2; T=298.15'

    Returns
    -------
    arguments by name

    Raises
    ------
    InputError

    Examples
    --------
    >>> parse_args("of=CO2; T=298.15")
    {'of': 'CO2', 'T': 298.15}
    """
    out = {}
    for part in filter(None, (p.strip() for p in text.split(";"))):
        if part == "none":
            continue
        key, equals, value = part.partition("=")
        if not equals:
            raise InputError(f"arguments of a check: {shown(part)} was found; key=value is needed.")
        if ":" in value and "=" not in value:
            out[key.strip()] = {
                name: float(number) for name, number in (pair.split(":") for pair in value.split())
            }
            continue
        try:
            out[key.strip()] = float(value)
        except ValueError:
            out[key.strip()] = value.strip()
    return out


@cache
def checks() -> tuple:
    """All checks, in the order of published_checks.csv.

    Returns
    -------
    of Check

    Examples
    --------
    >>> first = checks()[0]
    >>> first.quantity, first.printed_text, first.unit
    ('entropy of Fe at 298.15 K', '27.321', 'J/(mol K)')
    """
    out = []
    with data_path("published_checks.csv").open(encoding="utf-8", newline="") as file:
        as_printed = [(row["printed"], row["printed_high"]) for row in csv.DictReader(file)]
    for r, (low, high) in zip(rows("published_checks"), as_printed, strict=True):
        words = (
            low
            if high == "any"
            else f"above {low}"
            if float(high) >= 1e9
            else f"below {high}"
            if float(low) == 0.0
            else f"{low} to {high}"
        )
        high = r["printed"] if r["printed_high"] is None else r["printed_high"]
        text = {
            k: str(r[k]) for k in "id room quantity how unit rule worth model expect reason".split()
        }
        source = row_provenance(r, r["quantity"])
        numbers = {
            "printed": r["printed"],
            "printed_high": high,
            "printed_text": words,
            "tolerance": r["tolerance"],
        }
        out.append(Check(**text, **numbers, args=parse_args(str(r["args"])), provenance=source))
    return tuple(out)


def result(check: Check) -> Result:
    """The Result of one check.

    Parameters
    ----------
    check : Check

    Returns
    -------
    Result

    Raises
    ------
    InputError
        For a `how` that is not known.

    Examples
    --------
    >>> first = result(checks()[0])
    >>> first.check.printed, round(first.ours, 2)
    (27.321, 27.32)
    """
    one_of(f"check {check.id}", check.how, EVALUATORS)
    ours = evaluate(check.how, check.args)
    difference = min(ours - check.printed, 0.0) + max(ours - check.printed_high, 0.0)
    nearest = check.printed if difference < 0.0 else check.printed_high
    relative = (
        difference / abs(nearest) if nearest else (0.0 if difference == 0.0 else float("inf"))
    )
    verdict = "agrees" if abs(difference) <= check.tolerance * (1.0 + 1e-9) else "disagrees"
    return Result(check, ours, difference, relative, verdict)


@cache
def results() -> tuple:
    """Results of all checks; computed once.

    Returns
    -------
    of Result

    Examples
    --------
    >>> found = results()
    >>> round(sum(r.verdict == "agrees" for r in found) / len(found), 1)
    0.8
    """
    return tuple(result(c) for c in checks())


def select(
    room: str | None = None,
    source: str | None = None,
    verdict: str | None = None,
    worth: str | None = None,
    text: str = "",
) -> tuple:
    """Results that fit.

    Parameters
    ----------
    room, source, verdict, worth : as they stand in the check (source: its key); None: any
    text : words that must all be in quantity, source, place, rule or reason

    Returns
    -------
    of Result

    Examples
    --------
    >>> {r.verdict for r in select(verdict="disagrees")}
    {'disagrees'}
    """
    words = str(text).casefold().split()
    out = []
    for r in results():
        c = r.check
        if any(
            wanted not in (None, have)
            for wanted, have in (
                (room, c.room),
                (source, c.provenance.source.key),
                (verdict, r.verdict),
                (worth, c.worth),
            )
        ):
            continue
        if words:
            source_text = (
                f"{c.provenance.source.authors} {c.provenance.source.title} "
                f"{c.provenance.source.key} {c.provenance.place}"
            )
            searched = (
                f"{c.id} {c.room} {c.quantity} {source_text} {c.rule} {c.reason} "
                f"{r.verdict} {c.worth}"
            ).casefold()
            if not all(w in searched for w in words):
                continue
        out.append(r)
    return tuple(out)


def summary() -> dict:
    """Counts of each verdict by room, rooms in the order of the table.

    Returns
    -------
    number of checks by room and verdict

    Examples
    --------
    >>> list(summary()["thermo.reactions"])
    ['agrees', 'disagrees']
    """
    out = {}
    for r in results():
        out.setdefault(r.check.room, dict.fromkeys(VERDICTS, 0))[r.verdict] += 1
    return out
