"""Which reaction rules a melt: the oxygen of a whole analysis, and which way a reaction runs."""

from dataclasses import dataclass

import numpy as np

from ..base import Amounts, InputError, Number, Record, gate, one_of, positive, value
from .activity import Activities
from .constants import line_of, stoichiometry
from .equilibria import oxygen_activity, oxygen_pct
from .interactions import DEFAULT_SET
from .reactions import Reaction, reaction
from .solution import SETS
from .substances import substance


@dataclass(frozen=True, eq=False, repr=False)
class OxygenEquilibrium(Record):
    """Equilibrium oxygen of a whole analysis: o_pct (mass %), h_o (activity), set_by (key of the
    ruling reaction), all floats or arrays.

    alone_pct: the oxygen that each reaction by itself would leave at the same activity
    coefficients, by key. melt: the Activities with that oxygen.
    """

    o_pct: float
    h_o: float
    set_by: str
    alone_pct: dict
    melt: Activities


def _element(key):
    return stoichiometry(str(key))[0]


_OXIDES = ("C-O", "Fe-O", "Si-O", "Mn-O", "Al-O", "Ti2O3-O", "Ti3O5-O", "Cr-O", "V-O", "Mg-O")


def equilibrium_oxygen(
    analysis_pct: Amounts,
    T: Number,
    p_co_atm: Number = 1.0,
    oxide_activities: Amounts | None = None,
    coefficients: str = DEFAULT_SET,
) -> OxygenEquilibrium:
    """The lowest oxygen that any element of an analysis allows, and which reaction sets it. The
    contents stay as given.

    Parameters
    ----------
    analysis_pct : mass % by symbol; arrays broadcast; O in it is ignored
    T : K
    p_co_atm : pressure of CO, atm
    oxide_activities : of the product by key ('Si-O', 'Mn-O', 'Fe-O' ...), 1 where not named: silica
        against the solid, FeO against the liquid
    coefficients : set of INTERACTION_SETS; one for a single deoxidiser knows that alone

    Returns
    -------
    OxygenEquilibrium

    Raises
    ------
    InputError
        Also for an element whose reaction the set lacks, such as titanium in 'msts'.

    Warns
    -----
    ExtrapolationWarning where contents leave the range of the coefficients of oxygen or of the
    ruling element, as above 0.5 % C and 0.07 % Al, or of the ruling line.

    References
    ----------
    sources('equilibrium Si-O') and so on

    Examples
    --------
    >>> found = equilibrium_oxygen({"C": 0.05, "Si": 0.2, "Al": 0.03}, 1873.15)
    >>> round(1e4 * found.o_pct, 1), found.set_by
    (3.3, 'Al-O')
    """
    given = {"C-O": p_co_atm} | dict(oxide_activities or {})
    for name in given:
        one_of("oxide activities", name, _OXIDES)
    others = {
        e: positive(f"{e} in liquid iron", p, "%")
        for e, p in analysis_pct.items()
        if e not in ("O", "Fe")
    }
    held = [k for k in _OXIDES if np.any(np.greater(others.get(_element(k), 0.0), 0.0))]
    if coefficients in SETS or not held:
        held.append("Fe-O")
    unit = {
        k: oxygen_activity(k, T, 1.0, given.get(k, 1.0), coefficients) for k in held
    }  # at activity 1 of the element
    alone = {}

    def lowest(melt):
        for key in held:
            element, n, n_o = stoichiometry(key)
            h = (
                np.maximum(melt.h[element], 1e-12) if element else 1.0
            )  # an element that is not there sets no limit
            alone[key] = unit[key] * h ** (-n / n_o)
        return np.minimum.reduce(np.broadcast_arrays(*alone.values()))

    shape = np.broadcast_shapes(
        np.shape(T), *(np.shape(x) for x in given.values()), *(np.shape(x) for x in others.values())
    )
    spread = {e: np.broadcast_to(x, shape) if shape else x for e, x in others.items()} or {
        "O": np.zeros(shape)
    }
    o_pct, melt = oxygen_pct(spread, T, coefficients, lowest)
    names = np.array(held)
    ruling = names[np.argmin(np.stack(np.broadcast_arrays(*alone.values())), axis=0)]
    rulers = {key: _element(key) for key in np.unique(ruling)}
    melt.warn_about("equilibrium oxygen", "O", *filter(None, rulers.values()))
    for key, element in rulers.items():
        if element:
            row = line_of(key, coefficients)
            pct = np.broadcast_to(melt.analysis_pct[element], np.shape(ruling))[ruling == key]
            gate(f"{row['equation']}, {row['line']}", row["holds"], {element: pct})
    alone_pct = {key: h / melt.f["O"] for key, h in alone.items()}
    return OxygenEquilibrium(
        o_pct, o_pct * melt.f["O"], str(ruling) if np.ndim(ruling) == 0 else ruling, alone_pct, melt
    )


def affinity(
    equation: str | Reaction,
    melt: Activities,
    gases_atm: Amounts | None = None,
    others: Amounts | None = None,
) -> Number:
    """Gibbs energy change of a reaction at the state of a melt: negative, it runs to the right.

    Parameters
    ----------
    equation : such as '[Si] + 2 [O] = SiO2', or a Reaction
    melt : Activities
    gases_atm : pressure of every gas in it, atm
    others : activities of pure substances and oxides, 1 where not named

    Returns
    -------
    J per reaction as written

    Raises
    ------
    InputError
        If reaction and melt use different sets, or an activity is missing.

    References
    ----------
    Of the reaction and of the melt

    Examples
    --------
    >>> from steelthermo.thermo import activities
    >>> melt = activities({"C": 0.05, "O": 0.06}, 1873.15)
    >>> round(affinity("[C] + [O] = CO", melt, {"CO": 1.0}))
    -2563
    """
    r = equation if isinstance(equation, Reaction) else reaction(equation, melt.coefficients)
    if r.coefficients != melt.coefficients:
        raise InputError(
            f"coefficient sets: the reaction uses {r.coefficients!r} and the melt "
            f"{melt.coefficients!r}; sets are never mixed."
        )
    gases, others = gases_atm or {}, others or {}
    log_q = 0.0
    for t in r.terms:
        if t.dissolved:
            if t.formula not in melt.h:
                raise InputError(f"affinity of {r}: the melt has no {t.formula}.")
            a = melt.h[t.formula]
        elif (
            t.phase in ("g", "gas")
            or t.phase is None
            and substance(t.formula).phase_at(np.max(melt.T).item()).state == "g"
        ):
            if t.formula not in gases:
                raise InputError(
                    f"affinity of {r}: the pressure of {t.formula} is missing; give it in "
                    "gases_atm."
                )
            a = np.asarray(gases[t.formula]) * value("normal_pressure") / value("standard_pressure")
        else:
            a = others.get(t.formula, 1.0)
        log_q = log_q + t.nu * np.log(positive(f"activity of {t.formula}", a, zero=False))
    return r.gibbs(melt.T) + value("gas_constant") * melt.T * log_q
