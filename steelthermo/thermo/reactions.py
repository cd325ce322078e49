"""Balanced reactions: heat and Gibbs energy at temperature, and the heat of oxidation of each
element by named conventions.

Notation is the plain one of the trade: 'Si(l) + O2 = SiO2(s)'. A phase or state in brackets after a
formula picks it ('(s)', '(l)', '(g)', '(graphite)', '(cristobalite)'); without one the phase stable
at T is taken. '[Si]' is silicon dissolved in liquid iron, 1 mass % as reference.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log

from .. import base
from ..base import (
    InputError,
    Number,
    Record,
    Table,
    atomic_weight,
    between,
    finite,
    mol_to_nm3,
    molar_mass,
    one_of,
    plain,
    row_provenance,
    shown,
    value,
)
from . import solution as liquid_iron
from . import substances

_TERM = re.compile(r"^(?P<n>\d+(?:[.,]\d+)?(?:/\d+)?)?\s*(?P<rest>[\[A-Za-z].*)$")
_PHASE = re.compile(r"^(?P<formula>.+?)\((?P<phase>[a-z][a-zA-Z ]*|I{1,3})\)$")


@dataclass(frozen=True, repr=False)
class Term(Record):
    """One species of a reaction: nu (positive for products), formula, phase (None: stable at T),
    dissolved (in liquid iron).
    """

    nu: float
    formula: str
    phase: str | None = None
    dissolved: bool = False

    def __str__(self):
        name = (
            f"[{self.formula}]"
            if self.dissolved
            else self.formula + (f"({self.phase})" if self.phase else "")
        )
        return name if abs(self.nu) == 1 else f"{abs(self.nu):g} {name}"

    def enthalpy(self, T: Number, coefficients: str) -> Number:
        """Enthalpy of one mol, J/mol, against the elements at 298.15 K."""
        if self.dissolved:
            return liquid_iron.dissolved_enthalpy(self.formula, T, coefficients)
        return substances.enthalpy(self.formula, T, self.phase, supercooled=True)

    def gibbs(self, T: Number, coefficients: str) -> Number:
        """Gibbs energy of one mol in its standard state, J/mol."""
        if self.dissolved:
            return liquid_iron.dissolved_gibbs(self.formula, T, coefficients)
        return substances.gibbs(self.formula, T, self.phase, supercooled=True)


def _term(text, sign, coefficients):
    match = _TERM.match(text.strip())
    if not match:
        raise InputError(
            f"reaction: {shown(text.strip())} cannot be read as a species with its number, such as "
            "0.5 O2 or [Si]."
        )
    number, rest = match["n"] or "1", match["rest"].strip()
    top, _, bottom = number.replace(",", ".").partition("/")
    if float(top) == 0 or float(bottom or 1) == 0:
        raise InputError(
            f"reaction: {shown(text.strip())} has a zero in its number; more than zero is needed."
        )
    nu = sign * float(top) / float(bottom or 1)
    if rest.startswith("[") and rest.endswith("]"):
        atomic_weight(rest[1:-1])
        if rest != "[Fe]":
            liquid_iron.solution_row(rest[1:-1], coefficients)
        return Term(nu, rest[1:-1], None, True)
    phase = _PHASE.match(rest)
    formula, name = (phase["formula"], phase["phase"]) if phase else (rest, None)
    known = substances.substance(formula)
    if name:
        known.phase(name)
    return Term(nu, formula, name)


def balance_of(terms: Iterable[Term]) -> dict:
    """Atoms that are left over: products less reactants.

    Parameters
    ----------
    terms : of Term

    Returns
    -------
    atoms by element, of those that do not vanish

    Examples
    --------
    >>> balance_of([Term(-1.0, "C"), Term(-1.0, "O2"), Term(1.0, "CO")])
    {'O': -1.0}
    """
    left = {}
    for term in terms:
        for element, n in base.formula(term.formula).items():
            left[element] = left.get(element, 0.0) + term.nu * n
    return {e: n for e, n in left.items() if abs(n) > 1e-9}


@dataclass(frozen=True, repr=False)
class Reaction(Record):
    """A balanced reaction; get one by reaction('C + 0.5 O2 = CO'). Heats are per reaction as
    written, negative when heat is given off.
    """

    terms: tuple
    coefficients: str = "msts"

    def __str__(self):
        left = " + ".join(str(t) for t in self.terms if t.nu < 0)
        return f"{left} = {' + '.join(str(t) for t in self.terms if t.nu > 0)}"

    def heat(self, T: Number) -> Number:
        """Heat of reaction (enthalpy change), J per reaction as written, all species at T (K,
        scalar or array). Raises InputError outside the data.
        """
        return sum(t.nu * t.enthalpy(T, self.coefficients) for t in self.terms)

    def gibbs(self, T: Number) -> Number:
        """Standard Gibbs energy change, J per reaction as written; gases at 1 bar, dissolved
        elements at 1 mass %.
        """
        return sum(t.nu * t.gibbs(T, self.coefficients) for t in self.terms)

    def log_k(self, T: Number) -> Number:
        """Decadic logarithm of the equilibrium constant; dimensionless activities, gas pressures in
        bar, dissolved in mass %.
        """
        T = finite("temperature", T, "K")
        return plain(-self.gibbs(T) / (value("gas_constant") * T * log(10.0)))

    def phases(self, T: float) -> dict:
        """Phase in which each species is counted at T (scalar), as a dict."""
        return {
            str(t): "dissolved" if t.dissolved else (t.phase or substances.phase_at(t.formula, T))
            for t in self.terms
        }

    @property
    def provenance(self) -> tuple:
        """Sources of the data of every species."""
        out = []
        for t in self.terms:
            if t.dissolved:
                if t.formula == "Fe":
                    out += substances.substance("Fe").phase("liquid").provenance
                else:
                    row = liquid_iron.solution_row(t.formula, self.coefficients)
                    out.append(row_provenance(row, f"heat of solution of {t.formula}"))
                    out += substances.substance(row["from"]).provenance
            else:
                known = substances.substance(t.formula)
                out += known.phase(t.phase).provenance if t.phase else known.provenance
        return tuple(dict.fromkeys(out))


def reaction(equation: str, coefficients: str = "msts") -> Reaction:
    """A reaction from its equation in plain notation.

    Parameters
    ----------
    equation : such as 'C + 0.5 O2 = CO' or '[Si] + O2 = SiO2(cristobalite)'
    coefficients : set for dissolved elements, 'msts' or 'jsps'

    Returns
    -------
    Reaction

    Raises
    ------
    InputError
        If it does not balance: says which element and by how much.

    Examples
    --------
    >>> round(reaction("C + 0.5 O2 = CO").heat(298.15) / 1000.0, 1)
    -110.5
    """
    if not isinstance(equation, str) or equation.count("=") != 1:
        raise InputError(
            f"reaction: {shown(equation)} was given; one equation such as C + 0.5 O2 = CO is "
            "needed, with one '='."
        )
    one_of("set of solution data", coefficients, liquid_iron.SETS)
    left, right = equation.split("=")
    terms = tuple(
        _term(part, sign, coefficients)
        for side, sign in ((left, -1.0), (right, 1.0))
        for part in side.split("+")
    )
    wrong = balance_of(terms)
    if wrong:
        said = ", ".join(
            f"{abs(n):g} {e} too {'many' if n > 0 else 'few'} on the right"
            for e, n in wrong.items()
        )
        raise InputError(f"reaction {equation.strip()}: it does not balance: {said}.")
    return Reaction(terms, coefficients)


CONVENTIONS = {
    "pure, 298 K": "all species pure at 298.15 K, as in tables of enthalpies of formation",
    "pure, at temperature": "all species pure, all at the temperature T",
    "dissolved, cold oxygen": (
        "element dissolved in liquid iron at T, oxygen enters at 298.15 K, "
        "product leaves at T: what the bath feels"
    ),
    "dissolved, hot oxygen": "element dissolved in liquid iron, oxygen and product all at T",
}


def oxidations() -> Mapping:
    """The oxidation reactions of the lessons, cold and hot, pure and dissolved.

    Returns
    -------
    rows of oxidations.csv by key

    Examples
    --------
    >>> oxidations()["C to CO"]["cold"]
    'C + 0.5 O2 = CO'
    """
    return Table("oxidations").by_key


def oxidation_heat(
    key: str,
    T: Number = 1873.15,
    convention: str = "pure, 298 K",
    per: str = "kg",
    coefficients: str = "msts",
) -> Number:
    """Heat given off (positive) when an element burns, by a named convention.

    Parameters
    ----------
    key : of oxidations(), such as 'C to CO', 'Si to SiO2', 'P to 3CaO.P2O5'
    T : 1400 to 2100 K, scalar or array; not used by 'pure, 298 K'
    convention : a key of CONVENTIONS
    per : 'kg' or 'mol' of element, 'nm3' of O2
    coefficients : 'msts' or 'jsps'

    Returns
    -------
    J

    Raises
    ------
    InputError

    References
    ----------
    Of each species: sources(reaction(...))

    Examples
    --------
    >>> round(oxidation_heat("Si to SiO2") / 1e6, 1)
    32.4
    """
    row = Table("oxidations").get(key)
    one_of("convention", convention, CONVENTIONS)
    cold = value("reference_temperature")
    if convention == "pure, 298 K":
        T, r = cold, reaction(row["cold"], coefficients)
    else:
        between("temperature", T, 1400.0, 2100.0, "K")
        r = reaction(
            row["hot" if convention == "pure, at temperature" else "dissolved"], coefficients
        )
    heat = r.heat(T)
    oxygen = next(t for t in r.terms if t.formula == "O2")
    if convention == "dissolved, cold oxygen":
        heat = heat + oxygen.nu * (substances.enthalpy("O2", cold) - substances.enthalpy("O2", T))
    element = row["element"]
    burnt = sum(-t.nu * base.formula(t.formula).get(element, 0.0) for t in r.terms if t.nu < 0)
    share = {
        "kg": burnt * molar_mass(element) / 1000.0,
        "mol": burnt,
        "nm3": mol_to_nm3(-oxygen.nu),
    }
    return -heat / share[one_of("per", per, share)]
