"""Slag as a solution of its cations: activities by the regular-solution set of Ban-ya (1993).

R T ln gamma_i = (A x)_i - x.A.x/2, with x the shares of the cations and A the interaction energies:
the printed sum over pairs and triples of cations, put shorter. Iron is shared out between Fe2+ and
Fe3+ as the liquid iron beside the slag asks for it.

The set answers for iron oxide, for the oxygen that goes with it, for ferric iron, and for the
silica and the manganese oxide of acid slags. Saturation with 2CaO.SiO2 is a comparison, no answer:
see lime_silicate_saturation(). It must not be asked for lime, magnesia or manganese
of limy slag, where it fails by 8 to 60 times, nor for heats: its energies hold entropy too.
"""

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from ..base import (
    OF_ARRAYS,
    Amounts,
    InputError,
    Number,
    Record,
    Table,
    between,
    extrapolated,
    formula,
    molar_mass,
    one_of,
    plain,
    value,
)
from ..streams import amounts
from ..thermo import gibbs, solution_gibbs
from .oxygen import full_oxygen_pct

_T_K = (1643.0, 1977.0)  # of the measured points that the set was tested on
_A_FETO = (0.03, 0.75)  # likewise; the paper itself names 0.7 for ferric iron
_ACID = 0.5  # CaO/SiO2 by mass above which silica was never tested with iron oxide, nor MnO
_TRACE_PCT = 0.5  # of iron oxide and of alumina: beyond, 2CaO.SiO2 was not tried or comes out low
_MOST_LEFT_OUT_PCT = 3.0  # oxides that the set does not hold
_MOST_STEPS = 60  # of Newton's rule; some five are needed
_DONE = 1e-12

_PAIRS, _STEPS = Table("regular_solution_pairs"), Table("regular_solution_steps")
_REFUSED = Table("regular_solution_refused")


@cache
def _cation(oxide):
    """The cation of an oxide, such as 'P5+' of P2O5, and how many of it a formula holds."""
    atoms = formula(oxide)
    metal, number = next(iter(atoms.items()))
    return f"{metal}{2.0 * atoms.get('O', 0.0) / number:.0f}+", number


@cache
def _energies():
    """Names of the cations, and the symmetric matrix of interaction energies, J/mol."""
    pairs = {key: row["alpha_j_mol"] for key, row in _PAIRS.by_key.items()}
    names = list(dict.fromkeys(name for pair in pairs for name in pair))
    matrix = np.zeros((len(names), len(names)))
    for (i, j), alpha in pairs.items():
        matrix[names.index(i), names.index(j)] = matrix[names.index(j), names.index(i)] = alpha
    return tuple(names), matrix


def _gibbs(key, T):
    """Gibbs energy of a step of regular_solution_steps.csv over R T."""
    row = _STEPS.by_key[key]
    return (row["a_j_mol"] + row["b_j_mol_k"] * T) / (value("gas_constant") * T)


@dataclass(frozen=True, repr=False)
class SlagSolution(Record):
    """A slag at equilibrium with liquid iron, by the regular-solution set.

    shares: of each cation (Fe2+ and Fe3+ apart), mole fractions; gamma: activity coefficients
    against the set's own reference; T: K; feto_activity: against pure liquid iron oxide beside
    iron; ferric_share: Fe3+ over all iron; oxygen_pct: mass % in pure liquid iron at equilibrium.
    """

    shares: dict
    gamma: dict
    T: Number
    feto_activity: Number
    ferric_share: Number
    oxygen_pct: Number

    @property
    def provenance(self) -> tuple:
        """Sources of the energies and of the steps."""
        return tuple(table.provenance_of(row) for table in (_PAIRS, _STEPS) for row in table.rows)

    def activity(self, of: str) -> Number:
        """Activity of 'FetO' (against pure liquid iron oxide), 'SiO2' (see silica_activity()) or,
        in acid slag, 'MnO' (solid; tested only by where MnO-SiO2 holds no more silica).
        Raises InputError for what the set was found to fail in: MgO, CaO, heat, MnO of limy slag.
        """
        if of == "MnO" and not np.any(self._limy()):
            x = self.shares["Mn2+"] * self.gamma["Mn2+"]
            return plain(x * np.exp(_gibbs("manganosite", self.T)))
        if of in _REFUSED.by_key:
            raise InputError(
                f"{of} of a slag: the set of 1993 is refused for it: {_REFUSED.by_key[of]['why']}."
            )
        one_of("activity of the set of 1993", of, ("FetO", "SiO2"))
        return self.feto_activity if of == "FetO" else self.silica_activity()

    def _limy(self):
        """True where the slag has more CaO than half its SiO2, by mass."""
        silica = _ACID * self.shares["Si4+"] * molar_mass("SiO2")
        return self.shares["Ca2+"] * molar_mass("CaO") > silica * (1.0 + 1e-9)

    def silica_activity(self) -> Number:
        """Activity of SiO2 against cristobalite. Raises InputError for limy slag (CaO/SiO2 above
        0.5 by mass), where the set was not tested, and so for the slag of a ladle, of which it is
        6 times too high.
        """
        if np.any(self._limy()):
            raise InputError(
                "silica activity: the slag has more CaO than half its SiO2; allowed is CaO/SiO2 of "
                "0 to 0.5: the set was tested for acid slags only, and is 6 times too high for a "
                "ladle's."
            )
        return plain(
            self.shares["Si4+"] * self.gamma["Si4+"] * np.exp(_gibbs("cristobalite", self.T))
        )


def iron_row():
    """Row of the iron among the cations."""
    return _energies()[0].index("Fe2+")


class IronTerms(NamedTuple):
    """What the activity of iron oxide in a slag hangs on, numbers or arrays: gas constant times T;
    full: % O under pure iron oxide; pure: Gibbs energy of pure FetO over R T; ferric: what
    ln a(Fe3+) less 1.5 ln a(Fe2+) is beside liquid iron; of the slag's kmol x without iron: their
    sum, A x of the two irons, x.A.x; gap: energy between the two irons.
    """

    rt: Number
    full: Number
    pure: Number
    ferric: Number
    total: Number
    two: Number
    three: Number
    square: Number
    gap: float


def iron_terms(base: np.ndarray, T: Number) -> IronTerms:
    """IronTerms of a slag. base: kmol of its cations, no iron; T: K."""
    names, energies = _energies()
    two, three = names.index("Fe2+"), names.index("Fe3+")
    ax = (energies @ base.reshape(len(base), -1)).reshape(base.shape)
    rt, full, pure = value("gas_constant") * T, full_oxygen_pct(T), _gibbs("feto", T)
    in_iron = 0.5 * (np.log(full) + solution_gibbs("O", T) / rt)  # 1/4 ln p(O2) of pure FetO
    step = 0.5 * pure + in_iron + _gibbs("ferric", T)
    square = np.sum(base * ax, axis=0)
    return IronTerms(
        rt, full, pure, step, np.sum(base, axis=0), ax[two], ax[three], square, energies[two, three]
    )


def ferric_share(iron: Number, f: Number, slag: IronTerms, of: tuple = OF_ARRAYS) -> tuple:
    """Share of ferric iron of a slag beside liquid iron, by Newton's rule, and its activity of
    FetO. iron: kmol; f: where to start; of: functions of plain numbers or of arrays.
    """
    whole = slag.total + iron
    rt = whole * slag.rt
    for _ in range(_MOST_STEPS):
        x2, x3 = iron * (1.0 - f), iron * f
        ax2, ax3 = slag.two + slag.gap * x3, slag.three + slag.gap * x2
        half = (0.5 * slag.square + x2 * slag.two + x3 * ax3) / whole
        ln_a2 = of.log(x2 / whole) + (ax2 - half) / rt
        off = of.log(x3 / whole) + (ax3 - half) / rt - 1.5 * ln_a2 - slag.ferric
        d_half = iron * (ax3 - ax2) / whole
        slope2 = -1.0 / (1.0 - f) + (slag.gap * iron - d_half) / rt
        slope = 1.0 / f + (-slag.gap * iron - d_half) / rt - 1.5 * slope2
        new = of.least(of.most(f - off / slope, 0.1 * f), 0.5 * (1.0 + f))
        moved, f = of.farthest(new - f), new
        if moved < _DONE:
            break
    x2, x3 = iron * (1.0 - f), iron * f
    ax2 = slag.two + slag.gap * x3
    half = (0.5 * slag.square + x3 * slag.three + x2 * ax2) / whole
    return f, x2 / whole * of.exp((ax2 - half) / rt + slag.pure)


def cation_moles(oxides):
    """kmol of the cations of a slag in kg (or kg/t), rows in the order of the set, all iron in the
    row of Fe2+; and the mass % that the set does not hold, such as CaS, and TiO2 for want of pairs.
    """
    kg = amounts(oxides) or {"FeO": 0.0}
    held = cations_of(tuple(kg))
    rows = np.array(np.broadcast_arrays(*kg.values()))
    kmol = rows / np.array([molar_mass(o) for o in kg]).reshape(-1, *(1,) * (rows.ndim - 1))
    moles = (held @ kmol.reshape(len(rows), -1)).reshape(len(held), *rows.shape[1:])
    left_out, total = sum(x for x, of in zip(rows, held.T, strict=True) if not of.any()), sum(rows)
    if np.any(np.sum(moles, axis=0) <= 0.0):
        raise InputError("slag: it holds nothing; more than zero of some oxide is needed.")
    return moles, 100.0 * left_out / total


@cache
def cations_of(oxides: tuple[str, ...]) -> np.ndarray:
    """Cations in oxides.

    Parameters
    ----------
    oxides : formulas

    Returns
    -------
    kmol of each cation (rows as of cation_moles()) in one kmol of each oxide; nothing for what the
    set does not hold

    Examples
    --------
    >>> print(cations_of(("Fe2O3",)).max())
    2.0
    """
    names, _ = _energies()
    out = np.zeros((len(names), len(oxides)))
    for column, oxide in enumerate(oxides):
        cation, number = _cation(oxide)
        cation = "Fe2+" if cation == "Fe3+" else cation
        if cation in names and "O" in formula(oxide):
            out[names.index(cation), column] = number
    return out


def iron_in_slag(x: np.ndarray, T: Number, ferric: Number = 0.15) -> tuple:
    """Shares out the iron of a slag beside liquid iron, by Newton's rule; quick, and unchecked.

    Parameters
    ----------
    x : shares of the cations, rows as of cation_moles()
    T : K
    ferric : where to start, as a fraction

    Returns
    -------
    (ln gamma (rows), activity of FetO, ferric share, mass % of oxygen)

    Examples
    --------
    >>> lime, silica, iron = cations_of(("CaO", "SiO2", "FeO")).T
    >>> x = (0.6 * lime + 0.2 * silica + 0.2 * iron)[:, None]
    >>> ln_gamma, activity, ferric, oxygen = iron_in_slag(x, 1873.15)
    >>> round(float(activity[0]), 2)
    0.17
    """
    names, energies = _energies()
    two, three = names.index("Fe2+"), names.index("Fe3+")
    iron, rest = x[two], x.copy()
    rest[two] = 0.0
    terms = iron_terms(rest, T)
    f = np.broadcast_to(np.asarray(ferric, float), iron.shape)
    f, activity = ferric_share(iron, f, terms)
    rest[two], rest[three] = iron * (1.0 - f), iron * f
    ax = np.tensordot(energies, rest, 1)
    ln_gamma = (ax - 0.5 * np.sum(rest * ax, axis=0)) / terms.rt
    return ln_gamma, activity, f, activity * terms.full


def slag_solution(oxides: Amounts, T: Number) -> SlagSolution:
    """Activities in a slag that stands beside liquid iron, by the regular-solution set.

    Parameters
    ----------
    oxides : kg or mass % by oxide, FeO and Fe2O3 only as the sum of their iron
    T : K, 1600 to 2100

    Returns
    -------
    SlagSolution
        ExtrapolationWarning outside 1643 to 1977 K and outside an activity of FetO of 0.03 to 0.75,
        where it was tested on measured points (factor 1.26 as root mean square; limy slag, CaO
        above 40 %, only by its oxygen).

    Raises
    ------
    InputError
        For a slag without iron oxide, and where more than 3 % of it is none of the set's oxides.

    References
    ----------
    Ban-ya (1993), regular_solution_pairs.csv.

    Examples
    --------
    >>> slag = {"CaO": 40, "SiO2": 20, "FeO": 28, "MgO": 8, "MnO": 4}
    >>> found = slag_solution(slag, 1873.15)
    >>> round(found.feto_activity, 2), round(found.oxygen_pct, 3)
    (0.4, 0.092)
    """
    T = between("temperature of the slag", T, 1600.0, 2100.0, "K")
    moles, left_out = cation_moles(oxides)
    x = moles / np.sum(moles, axis=0)
    between("oxides that the set does not hold", left_out, 0.0, _MOST_LEFT_OUT_PCT, "%")
    names = _energies()[0]
    iron = x[names.index("Fe2+")]
    if np.any(iron < 1e-4):
        raise InputError("iron oxide of the slag: none was given; more than zero is needed.")
    shape = np.broadcast_shapes(np.shape(T), iron.shape)
    x = np.array([np.broadcast_to(row, shape) for row in x])
    ln_gamma, activity, ferric, oxygen = iron_in_slag(
        x, np.broadcast_to(np.asarray(T, float), shape)
    )
    extrapolated("temperature of the slag", T, *_T_K, "K", "measured points tried")
    extrapolated("activity of FetO", activity, *_A_FETO, "", "measured points tried")
    x[names.index("Fe2+")] = iron * (1.0 - ferric)
    x[names.index("Fe3+")] = iron * ferric

    def by_name(table):
        return {n: plain(row) for n, row in zip(names, table, strict=True)}

    return SlagSolution(
        by_name(x),
        by_name(np.exp(ln_gamma)),
        plain(T),
        plain(activity),
        plain(ferric),
        plain(oxygen),
    )


def lime_silicate_saturation(oxides: Amounts, T: Number) -> Number:
    """How near a slag is to solid 2CaO.SiO2 by the regular-solution set: a comparison only.

    Parameters
    ----------
    oxides : kg or mass % by oxide
    T : K, 1600 to 2000

    Returns
    -------
    a(CaO)^2 a(SiO2) of the slag, over that of the solid: 1 if saturated
        Lime and silica that are saturated give 0.7 to 0.8. ExtrapolationWarning for slag with more
        than 0.5 % of iron oxide, where nobody has tried it, or of alumina, where saturated slags
        give as little as 0.08.

    Raises
    ------
    InputError

    References
    ----------
    Ban-ya (1993), regular_solution_steps.csv; gibbs() of 2CaO.SiO2; measured points of Görnerup and
    Wijk (1996) in the tests.

    Examples
    --------
    >>> round(lime_silicate_saturation({"CaO": 56.9, "SiO2": 43.1}, 1873.15), 2)
    0.79
    """
    T = between("temperature of the slag", T, 1600.0, 2000.0, "K")
    kg = amounts(oxides)
    total = sum(kg.values())
    for what, held in (("iron oxide", ("FeO", "Fe2O3")), ("alumina", ("Al2O3",))):
        pct = 100.0 * sum(kg.get(o, 0.0) for o in held) / total
        extrapolated(f"{what} of a slag near 2CaO.SiO2", pct, 0.0, _TRACE_PCT, "%", "points tried")
    moles, left_out = cation_moles(kg | {"FeO": kg.get("FeO", 0.0) + 1e-6 * total})  # a trace
    between("oxides that the set does not hold", left_out, 0.0, _MOST_LEFT_OUT_PCT, "%")
    shape = np.broadcast_shapes(np.shape(T), moles.shape[1:])
    x = np.array([np.broadcast_to(row, shape) for row in moles / np.sum(moles, axis=0)])
    ln_gamma, *_ = iron_in_slag(x, np.broadcast_to(np.asarray(T, float), shape))
    names, rt = _energies()[0], value("gas_constant") * np.asarray(T)
    with np.errstate(divide="ignore"):  # no lime or no silica: nothing is near
        ln_a = np.log(x) + ln_gamma
    ln_lime = ln_a[names.index("Ca2+")] + _gibbs("lime", T)
    ln_silica = ln_a[names.index("Si4+")] + _gibbs("cristobalite", T)
    solid = gibbs("Ca2SiO4", T) - 2.0 * gibbs("CaO", T) - gibbs("SiO2", T, "cristobalite")
    return plain(np.exp(2.0 * ln_lime + ln_silica - solid / rt))
