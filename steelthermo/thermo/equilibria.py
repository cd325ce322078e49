"""Equilibria of liquid iron: the oxygen, carbon and gases that a reaction leaves.

Activity coefficients of the same set are always in. Where no set is named it is DEFAULT_SET (jsps,
second-hand); give the set of a LiquidMetal with its analysis.
"""

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    between,
    constant,
    extrapolated,
    fixed_point,
    gate,
    one_of,
    positive,
    quietly,
    value,
)
from .activity import activities
from .constants import log_k, stoichiometry
from .interactions import DEFAULT_SET, interaction_row, law


def _coefficient(i, j, T, coefficients, order=1):
    """As interaction(), of a T that is checked and warned of elsewhere."""
    a, b = law(interaction_row(i, j, coefficients, order), "published")
    return a / T + b


def oxygen_activity(
    key: str,
    T: Number,
    h: Number = 1.0,
    a_product: Number = 1.0,
    coefficients: str = DEFAULT_SET,
    line: str | None = None,
) -> Number:
    """Activity of oxygen in equilibrium, by a reaction that forms an oxide or CO.

    Parameters
    ----------
    key : such as 'C-O', 'Si-O', 'Fe-O'
    T : K; arrays broadcast
    h : Henrian activity of the element (1 for Fe-O)
    a_product : activity of the oxide, or the pressure of CO in atm
    coefficients, line : as in log_k()

    Returns
    -------
    Henrian activity, mass % scale (0.06 is 600 ppm)

    Raises
    ------
    InputError

    References
    ----------
    As log_k()

    Examples
    --------
    >>> print(round(oxygen_activity("Si-O", 1873.15, 0.3), 4))
    0.0091
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
        full = 10.0 ** -log_k(key, T, coefficients, line)
        log_h = log_h + _coefficient("O", "O", T, coefficients) * full
    return 10.0 ** (log_h / n_o)


def oxygen_pct(analysis, T, coefficients, h_of, what="equilibrium oxygen"):
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


def oxygen_saturation_pct(
    T: Number, a_feo: Number = 1.0, coefficients: str = DEFAULT_SET, line: str | None = None
) -> Number:
    """Oxygen in liquid iron under liquid iron oxide.

    Parameters
    ----------
    T : K; arrays broadcast
    a_feo : activity of FeO against the liquid oxide in equilibrium with iron, 0 to 1
    coefficients, line : as in log_k()

    Returns
    -------
    mass %

    Raises
    ------
    InputError

    References
    ----------
    sources('equilibrium Fe-O')

    Examples
    --------
    >>> round(oxygen_saturation_pct(1873.15), 2)
    0.23
    """
    h = oxygen_activity(
        "Fe-O", T, 1.0, between("activity of FeO", a_feo, 1e-9, 1.0), coefficients, line
    )
    return oxygen_pct({"O": 0.0}, np.broadcast_to(T, np.shape(h)), coefficients, lambda melt: h)[0]


def carbon_oxygen_product(
    T: Number, p_co_atm: Number = 1.0, coefficients: str = DEFAULT_SET, line: str | None = None
) -> Number:
    """Ideal product [%C][%O]: no activity coefficients.

    Parameters
    ----------
    T : K; arrays broadcast
    p_co_atm : pressure of CO, atm
    coefficients, line : as in log_k()

    Returns
    -------
    (mass %)^2

    Raises
    ------
    InputError

    References
    ----------
    As log_k()

    Examples
    --------
    >>> print(round(carbon_oxygen_product(1873.15), 5))
    0.00233
    """
    return positive("pressure of CO", p_co_atm, "atm") / 10.0 ** log_k("C-O", T, coefficients, line)


def oxygen_with_carbon(
    c_pct: Number,
    T: Number,
    p_co_atm: Number = 1.0,
    analysis_pct: Amounts | None = None,
    coefficients: str = DEFAULT_SET,
    line: str | None = None,
    high_carbon: bool = False,
) -> Number:
    """Oxygen in equilibrium with carbon and CO, with activity coefficients.

    Parameters
    ----------
    c_pct : carbon, mass %; arrays broadcast
    T : K
    p_co_atm : pressure of CO, atm
    analysis_pct : the other elements, mass %
    coefficients, line : as in log_k()
    high_carbon : True takes e_O^C = +0.10, as measured at 1 to 3 % C and 1500 degC; by neither
        set's e_O^C the oxygen is right far above 0.5 % C, where the two laws part by a factor of 2

    Returns
    -------
    mass %

    Raises
    ------
    InputError

    Warns
    -----
    ExtrapolationWarning above 0.5 % C (outside 1 to 3 % with high_carbon), and where FeO forms
    before.

    References
    ----------
    As log_k()

    Examples
    --------
    >>> round(oxygen_with_carbon(0.05, 1873.15), 4)
    0.0503
    """
    c = positive("carbon", c_pct, "%", zero=False)
    p = positive("pressure of CO", p_co_atm, "atm", zero=False)
    if high_carbon:
        measured = constant("oxygen_carbon_high")
        extrapolated("carbon, for e_O^C", c, measured["low"], measured["high"], "%")
    else:
        gate("e_O^C", interaction_row("O", "C", coefficients)["holds"], {"C": c, "T": T})
    shift = (
        (value("oxygen_carbon_high") - _coefficient("O", "C", T, coefficients)) * c
        if high_carbon
        else 0.0
    )
    k = log_k("C-O", T, coefficients, line)
    others = {e: x for e, x in (analysis_pct or {}).items() if e not in ("C", "Fe")}
    shape = np.broadcast_shapes(np.shape(c), np.shape(T), np.shape(p))
    what = f"oxygen with {np.min(c):g} % C at {np.max(p):g} atm CO"
    out, _ = oxygen_pct(
        {**others, "C": np.broadcast_to(c, shape)},
        T,
        coefficients,
        lambda melt: p / (10.0 ** (k + shift) * melt.h["C"]),
        what,
    )
    with quietly():
        most = np.max(oxygen_saturation_pct(T, 1.0, coefficients))
    extrapolated(
        "oxygen in equilibrium with carbon",
        out,
        0.0,
        most,
        "%",
        "saturation: FeO forms before",
    )
    return out


def carbon_with_oxygen(
    h_o: Number,
    T: Number,
    p_co_atm: Number = 1.0,
    analysis_pct: Amounts | None = None,
    coefficients: str = DEFAULT_SET,
    line: str | None = None,
) -> Number:
    """Carbon in equilibrium with an activity of oxygen and CO.

    Parameters
    ----------
    h_o : Henrian activity of oxygen, mass % scale (0.06 is 600 ppm); arrays broadcast
    T : K
    p_co_atm : pressure of CO, atm
    analysis_pct : the other elements, mass % (with O, if known)
    coefficients, line : as in log_k()

    Returns
    -------
    mass %, with f_C of the set

    Raises
    ------
    InputError
        If more than 6 % would be needed.

    References
    ----------
    As log_k()

    Examples
    --------
    >>> round(carbon_with_oxygen(0.06, 1873.15), 4)
    0.038
    """
    h_c = positive("pressure of CO", p_co_atm, "atm", zero=False) / (
        10.0 ** log_k("C-O", T, coefficients, line) * positive("oxygen", h_o, "%", zero=False)
    )
    others = {e: x for e, x in (analysis_pct or {}).items() if e not in ("C", "Fe")}
    e, r = (_coefficient("C", "C", T, coefficients, order) for order in (1, 2))

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


def gas_solubility_pct(
    element: str,
    p_atm: Number,
    T: Number,
    analysis_pct: Amounts | None = None,
    coefficients: str = DEFAULT_SET,
    line: str | None = None,
) -> Number:
    """Nitrogen or hydrogen in equilibrium with its gas (Sieverts). A ceiling that time may not
    reach.

    Parameters
    ----------
    element : 'N' or 'H'
    p_atm : pressure of N2 or H2, atm; arrays broadcast
    T : K
    analysis_pct : the melt, mass %; None for pure iron
    coefficients, line : as in log_k()

    Returns
    -------
    mass %

    Raises
    ------
    InputError

    References
    ----------
    sources('equilibrium N2'), and the coefficients of the set

    Examples
    --------
    >>> print(round(gas_solubility_pct("N", 1.0, 1873.15), 4))
    0.0468
    """
    key = f"{one_of('gas', element, ('N', 'H'))}2"
    h = 10.0 ** log_k(key, T, coefficients, line) * np.sqrt(
        positive(f"pressure of {key}", p_atm, "atm")
    )
    others = {e: x for e, x in (analysis_pct or {}).items() if e not in (element, "Fe")}
    return h / activities({**others, element: 0.0}, T, coefficients).f[element]
