"""Equilibria of liquid iron: the oxygen, carbon, gases and sulphur that a reaction leaves, and
which reaction rules.

Constants: equilibrium_constants.py (log_k, keys and lines are at hand here too). Activity
coefficients of the same set are always in.
Where no set is named it is activity.DEFAULT_SET (jsps, published but for r_C^C); give the set of a
LiquidMetal with its analysis.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    between,
    constant,
    extrapolated,
    fixed_point,
    one_of,
    positive,
    value,
)
from .activity import DEFAULT_SET, Activities, activities, interaction, interaction_row
from .constants import log_k, stoichiometry
from .reactions import Reaction, reaction
from .substances import substance


def oxygen_activity(key, T, h=1.0, a_product=1.0, coefficients=DEFAULT_SET, line=None):
    """Henrian activity of oxygen (mass % scale) in equilibrium, by a reaction that forms an oxide
    or CO.

    key: such as 'C-O', 'Si-O', 'Fe-O'; T: K; h: Henrian activity of the element (1 for Fe-O);
    a_product: activity of the oxide, or the pressure of CO in atm. Scalars or arrays. Returns a
    float or array. Raises InputError. Source: that of log_k.
    """
    element, n, n_o = stoichiometry(key)
    if not n_o or key in ("H2-O", "CO-CO2"):
        raise InputError(
            f"oxygen activity: {key!r} was given; a reaction of [O] to an oxide or to CO is "
            "needed, such as Si-O."
        )
    a_product = positive("activity of the product (pressure of CO in atm)", a_product, zero=False)
    log_h = np.log10(a_product) - log_k(key, T, coefficients, line)
    if element is not None:
        log_h = log_h - n * np.log10(positive(f"activity of {element}", h, zero=False))
    elif line != "gibbs":
        # the printed line gives mass % of oxygen in pure iron: its own activity coefficient makes
        # it an activity
        log_h = log_h + interaction("O", "O", T, coefficients) * 10.0 ** -log_k(
            key, T, coefficients, line
        )
    return 10.0 ** (log_h / n_o)


def _oxygen_pct(analysis, T, coefficients, h_of, what="equilibrium oxygen"):
    """Smallest %O whose activity equals h_of(melt), from below; the contents of the other elements
    stay. Returns %O and the melt.
    """
    others = {e: p for e, p in analysis.items() if e != "O"}
    x = np.zeros(np.broadcast_shapes(np.shape(T), *(np.shape(p) for p in others.values())))
    refusal = (
        f"{what}: no content of oxygen that iron can hold has the activity asked for; FeO forms "
        "before."
    )
    melt = None

    def step(o_pct):
        nonlocal melt
        if np.any(o_pct > 5.0):
            raise InputError(refusal)
        melt = activities({**others, "O": o_pct}, T, coefficients, quiet=True)
        return h_of(melt) / melt.f["O"]

    return fixed_point(step, x, refusal, small=1e-12), melt


def oxygen_saturation_pct(T, a_feo=1.0, coefficients=DEFAULT_SET, line=None):
    """Oxygen in liquid iron under liquid iron oxide of activity a_feo, mass %. T: K. 0.23 % at 1600
    degC and a_feo = 1 in either set.

    a_feo: activity of FeO against the liquid oxide in equilibrium with iron (0 to 1). Scalars or
    arrays. Source: sources('equilibrium Fe-O').
    """
    h = oxygen_activity(
        "Fe-O", T, 1.0, between("activity of FeO", a_feo, 1e-9, 1.0), coefficients, line
    )
    return _oxygen_pct({"O": 0.0}, np.broadcast_to(T, np.shape(h)), coefficients, lambda melt: h)[0]


def carbon_oxygen_product(T, p_co_atm=1.0, coefficients=DEFAULT_SET, line=None):
    """Ideal product [%C][%O] at a pressure of CO, (mass %)^2: no activity coefficients. T: K.
    Scalars or arrays.
    """
    return positive("pressure of CO", p_co_atm, "atm") / 10.0 ** log_k("C-O", T, coefficients, line)


def oxygen_with_carbon(
    c_pct,
    T,
    p_co_atm=1.0,
    analysis_pct=None,
    coefficients=DEFAULT_SET,
    line=None,
    high_carbon=False,
):
    """Oxygen in equilibrium with carbon and CO, mass %, with activity coefficients.

    c_pct: mass % C; T: K; p_co_atm: pressure of CO, atm; analysis_pct: the other elements. Scalars
    or arrays. Neither set's e_O^C holds above 1 % C (it would raise the oxygen by a power of ten at
    4 % C): high_carbon=True takes e_O^C = +0.10, as measured at 1 to 3 % C and 1500 degC.
    Warns (ExtrapolationWarning) above 1 % C, or above 3 % with high_carbon, and where iron would
    hold less oxygen than that. Raises InputError.
    """
    c = positive("carbon", c_pct, "%", zero=False)
    p = positive("pressure of CO", p_co_atm, "atm", zero=False)
    extrapolated(
        "carbon, for e_O^C",
        c,
        0.0,
        constant("oxygen_carbon_high")["high"]
        if high_carbon
        else interaction_row("O", "C", coefficients)["limit_pct"],
        "%",
    )
    shift = (
        (value("oxygen_carbon_high") - interaction("O", "C", T, coefficients)) * c
        if high_carbon
        else 0.0
    )
    k = log_k("C-O", T, coefficients, line)
    others = {e: x for e, x in (analysis_pct or {}).items() if e not in ("C", "Fe")}
    shape = np.broadcast_shapes(np.shape(c), np.shape(T), np.shape(p))
    what = f"oxygen with {np.min(c):g} % C at {np.max(p):g} atm CO"
    out, _ = _oxygen_pct(
        {**others, "C": np.broadcast_to(c, shape)},
        T,
        coefficients,
        lambda melt: p / (10.0 ** (k + shift) * melt.h["C"]),
        what,
    )
    extrapolated(
        "oxygen in equilibrium with carbon",
        out,
        0.0,
        np.max(oxygen_saturation_pct(T, 1.0, coefficients)),
        "%",
        "saturation: FeO forms before",
    )
    return out


def carbon_with_oxygen(
    h_o, T, p_co_atm=1.0, analysis_pct=None, coefficients=DEFAULT_SET, line=None
):
    """Carbon in equilibrium with an activity of oxygen and CO, mass %.

    h_o: Henrian activity of oxygen, mass % scale (0.06 is 600 ppm); T: K; p_co_atm: atm;
    analysis_pct: the other elements (with O, if known).
    Scalars or arrays. Returns mass % C, with f_C of the set. Raises InputError if more carbon than
    6 % would be needed.
    """
    h_c = positive("pressure of CO", p_co_atm, "atm", zero=False) / (
        10.0 ** log_k("C-O", T, coefficients, line) * positive("oxygen", h_o, "%", zero=False)
    )
    others = {e: x for e, x in (analysis_pct or {}).items() if e not in ("C", "Fe")}
    e, r = interaction("C", "C", T, coefficients), interaction("C", "C", T, coefficients, order=2)

    def step(c):
        f = activities({**others, "C": c}, T, coefficients, quiet=True).f["C"]
        slope = 1.0 + np.log(10.0) * (e * c + 2.0 * r * c * c)
        return np.minimum(c * np.exp(np.log(h_c / (f * c)) / slope), 10.0)

    refusal = "carbon: no content of carbon fits so little oxygen; allowed is up to 6 %"
    c = fixed_point(step, np.minimum(h_c, 1.0), refusal, rel=1e-11)
    if np.any(c > 6.0):
        raise InputError(
            f"carbon: {np.max(c):g} % would be needed for so little oxygen; allowed is up to 6 %, "
            "beyond graphite saturation."
        )
    return c


def gas_solubility_pct(element, p_atm, T, analysis_pct=None, coefficients=DEFAULT_SET, line=None):
    """Nitrogen or hydrogen in equilibrium with its gas (Sieverts), mass %. A ceiling that time may
    not reach.

    element: 'N' or 'H'; p_atm: pressure of N2 or H2, atm; T: K; analysis_pct: the melt, None for
    pure iron. Scalars or arrays.
    Source: sources('equilibrium N2') and the coefficients of the set.
    """
    key = f"{one_of('gas', element, ('N', 'H'))}2"
    h = 10.0 ** log_k(key, T, coefficients, line) * np.sqrt(
        positive(f"pressure of {key}", p_atm, "atm")
    )
    others = {e: x for e, x in (analysis_pct or {}).items() if e not in (element, "Fe")}
    return h / activities({**others, element: 0.0}, T, coefficients).f[element]


@dataclass(frozen=True, eq=False)
class OxygenEquilibrium:
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


_OXIDES = ("C-O", "Fe-O", "Si-O", "Mn-O", "Al-O", "Ti2O3-O", "Ti3O5-O", "Cr-O", "V-O")


def equilibrium_oxygen(
    analysis_pct, T, p_co_atm=1.0, oxide_activities=None, coefficients=DEFAULT_SET
):
    """The lowest oxygen that any element of an analysis allows, and which reaction sets it. The
    contents stay as given; O in them is ignored.

    analysis_pct: mass % by symbol; T: K; p_co_atm: pressure of CO, atm; oxide_activities: activity
    of the product by key ('Si-O', 'Mn-O', 'Fe-O',
    ...), 1 where not named: silica against the solid, FeO against the liquid. Scalars or arrays.
    Returns OxygenEquilibrium. Titanium: constants of Cha 2008 with the coefficients of the set.
    Warns (ExtrapolationWarning)
    where contents leave the range of the coefficients of oxygen or of the ruling element: above 1 %
    C. Raises InputError. Source: sources('equilibrium Si-O') and so on.
    """
    given = {"C-O": p_co_atm} | dict(oxide_activities or {})
    for name in given:
        one_of("oxide activities", name, _OXIDES)
    others = {
        e: positive(f"{e} in liquid iron", p, "%")
        for e, p in analysis_pct.items()
        if e not in ("O", "Fe")
    }
    held = [
        k
        for k in _OXIDES
        if k == "Fe-O" or np.any(np.asarray(others.get(stoichiometry(k)[0], 0.0)) > 0)
    ]
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
    o_pct, melt = _oxygen_pct(spread, T, coefficients, lowest)
    names = np.array(held)
    ruling = names[np.argmin(np.stack(np.broadcast_arrays(*alone.values())), axis=0)]
    melt.warn_about("equilibrium oxygen", "O", *(e for e in map(_element, np.unique(ruling)) if e))
    alone_pct = {key: h / melt.f["O"] for key, h in alone.items()}
    return OxygenEquilibrium(
        o_pct, o_pct * melt.f["O"], str(ruling) if np.ndim(ruling) == 0 else ruling, alone_pct, melt
    )


def affinity(equation, melt, gases_atm=None, others=None):
    """Gibbs energy change of a reaction at the state of a melt, J per reaction as written:
    negative, it runs to the right.

    equation: a text such as '[Si] + 2 [O] = SiO2' or a Reaction; melt: Activities; gases_atm:
    pressure of every gas in it, atm; others: activities of pure substances and oxides (1 where not
    named). Raises InputError if reaction and melt use different sets, or an activity is missing.
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
