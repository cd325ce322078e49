"""What hangs on the oxygen of the metal: oxygen under slags of iron oxide, activity of iron oxide,
oxygen and iron oxide at the end of a blow by practice, capacities for phosphate and sulphide,
sulphur.

Slag and metal of a converter are not at equilibrium with each other in oxygen: the slag is more
oxidised than carbon lets the steel be.
One is never computed from the other here without the name saying so.
"""

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Table,
    between,
    extrapolated,
    gate,
    molar_mass,
    one_of,
    plain,
    positive,
    value,
    warn_where,
)
from ..streams import iron_as_feo, optical_basicity, to_pct
from ..thermo import DEFAULT_SET, solution_gibbs

# lines of exchange of sulphur and oxygen between gas and iron, of constants.csv
SULPHUR_EXCHANGES = ("sulphur_exchange", "sulphur_exchange_other")
_UNDER_SLAGS = Table("slag_oxygen")


def _temperature(T):
    return between("temperature", T, 1653.0, 2100.0, "K")


def oxygen_lines() -> dict[str, dict]:
    """Oxygen of the metal under iron-oxide slags, as published.

    Returns
    -------
    rows of slag_oxygen.csv by key: slag, coefficients, range, note on contradictions

    Examples
    --------
    >>> tuple(oxygen_lines())
    ('FetO', 'FetO-2', 'FetO-MgO', 'FetO-CaO')
    """
    return _UNDER_SLAGS.by_key


def by_line(row, T):
    """Mass % of oxygen by a row of slag_oxygen.csv; T: K. Unchecked."""
    return 10.0 ** (row["b_k"] / T + row["c"])


def full_oxygen_pct(T):
    """Mass % of oxygen in iron under pure iron oxide, the line 'FetO'; T: K. Unchecked."""
    return by_line(_UNDER_SLAGS.by_key["FetO"], T)


def oxygen_under(slag_key: str, T: Number) -> Number:
    """Mass % of oxygen in liquid iron under an iron-oxide slag.

    Parameters
    ----------
    slag_key : 'FetO' or 'FetO-2' (pure iron oxide, two lines), 'FetO-MgO', 'FetO-CaO' (saturated
        with the second oxide; the abstract of 'FetO-CaO' contradicts its own formula)
    T : K, 1653 to 2100

    Returns
    -------
    mass %; ExtrapolationWarning outside the range of the line

    Raises
    ------
    InputError

    References
    ----------
    slag_oxygen.csv; oxygen_lines().

    Examples
    --------
    >>> round(oxygen_under("FetO", 1873.15), 3)
    0.229
    """
    row, T = _UNDER_SLAGS.get(slag_key), _temperature(T)
    gate(f"oxygen under {slag_key}", row["holds"], {"T": T})
    return plain(by_line(row, T))


def iron_oxide_activity(oxygen_pct: Number, T: Number) -> Number:
    """Activity of iron oxide that goes with dissolved oxygen: its share of what pure oxide gives.

    A converter slag is more oxidised than the C-O equilibrium of its steel: its own is another.

    Parameters
    ----------
    oxygen_pct : dissolved oxygen, mass %
    T : K, 1653 to 2100

    Returns
    -------
    activity, 0 to 1

    Raises
    ------
    InputError
        Above saturation.

    References
    ----------
    slag_oxygen.csv, 'FetO'.

    Examples
    --------
    >>> round(iron_oxide_activity(0.06, 1873.15), 3)
    0.262
    """
    full = oxygen_under("FetO", T)
    activity = positive("oxygen of the metal", oxygen_pct, "%") / full
    if np.any(np.asarray(activity) > 1.0):
        raise InputError(
            f"oxygen of the metal: {np.max(oxygen_pct):g} % was given; pure iron oxide gives "
            f"{np.min(full):.3g} %, and no more dissolves."
        )
    return activity


def practice() -> dict[str, dict]:
    """Relations from memory between carbon and oxidation at the end of a blow.

    Returns
    -------
    rows of end_point_practice.csv by key: value, range, note

    Examples
    --------
    >>> practice()["end_point_oxygen"]["value"]
    135.0
    """
    return Table("end_point_practice").by_key


def _over_root_of_carbon(key, c_pct):
    row, c = practice()[key], positive("carbon of the steel", c_pct, "%", zero=False)
    extrapolated(
        f"carbon in {key}",
        c,
        row["low_c_pct"],
        row["high_c_pct"],
        "%",
        "no range known; the kit's own",
    )
    return plain(row["value"] / np.sqrt(c))


def end_point_oxygen_ppm(c_pct: Number) -> Number:
    """Dissolved oxygen of steel at the end of a blow by a rule of practice: 135/sqrt(% C).

    Heats as they end, not an equilibrium: compare thermo.oxygen_with_carbon().

    Parameters
    ----------
    c_pct : mass % C, above 0; ExtrapolationWarning outside 0.02 to 0.3, the kit's own range

    Returns
    -------
    ppm by mass

    Raises
    ------
    InputError

    References
    ----------
    From memory, with low confidence: sources('end_point_oxygen').

    Examples
    --------
    >>> round(end_point_oxygen_ppm(0.04))
    675
    """
    return _over_root_of_carbon("end_point_oxygen", c_pct)


def end_point_iron_oxide_pct(c_pct: Number) -> Number:
    """FeO of the slag at the end of a blow by a rule of practice: 3.85/sqrt(% C).

    From heats as they end, not from the oxygen of the steel: the two are not at equilibrium.

    Parameters
    ----------
    c_pct : mass % C, above 0; ExtrapolationWarning outside 0.02 to 0.3, the kit's own range

    Returns
    -------
    mass % FeO

    Raises
    ------
    InputError

    References
    ----------
    From memory, with low confidence: sources('end_point_iron_oxide').

    Examples
    --------
    >>> round(end_point_iron_oxide_pct(0.04), 2)
    19.25
    """
    return _over_root_of_carbon("end_point_iron_oxide", c_pct)


def phosphate_capacity(
    partition: float, oxygen_pct: float, T: float, coefficients: str = DEFAULT_SET
) -> Number:
    """Phosphate capacity (%PO4)/(p_P2^0.5 p_O2^1.25), pressures in atm.

    A way to set an L_P beside measurements that used gas.

    Parameters
    ----------
    partition : L_P
    oxygen_pct : oxygen of the metal, mass % (taken as activity; acts to the power -2.5)
    T : K, 1653 to 2100
    coefficients : set of solution data, 'msts' or 'jsps'

    Returns
    -------
    capacity

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(float(np.log10(phosphate_capacity(100.0, 0.06, 1873.15))), 2)
    18.26
    """
    T = _temperature(T)

    def per_root_atm(element):  # mass % in iron at 1 atm of the gas
        return np.exp(-solution_gibbs(element, T, coefficients) / (value("gas_constant") * T))

    po4 = (molar_mass("P") + 4.0 * molar_mass("O")) / molar_mass("P")
    root_o2 = positive("oxygen of the metal", oxygen_pct, "%", zero=False) / per_root_atm("O")
    return plain(positive("partition", partition) * po4 * per_root_atm("P") / root_o2**2.5)


def sulphide_capacity(oxides: Amounts, T: Number, scale: str) -> Number:
    """Sulphide capacity by optical basicity (mass %, atm).

    Parameters
    ----------
    oxides : kg or mass % by oxide
    T : K, 1653 to 2100
    scale : set of optical_basicity(); the answer hangs on it, see sulphur_partition()

    Returns
    -------
    capacity

    Raises
    ------
    InputError

    References
    ----------
    sources('sulphide_capacity_a'), from memory; sulphide_capacity_band() tells how far it is off.

    Examples
    --------
    >>> ladle = {"CaO": 55, "Al2O3": 33, "SiO2": 6, "MgO": 6}
    >>> round(float(np.log10(sulphide_capacity(ladle, 1873.15, "recommended"))), 2)
    -1.73
    """
    T, x = _temperature(T), optical_basicity(oxides, scale)
    a, b, c, d = (value(f"sulphide_capacity_{k}") for k in "abcd")
    return plain(10.0 ** ((a + b * x) / T + c * x + d))


def sulphide_capacity_band(oxides: Amounts, T: Number) -> tuple:
    """The capacity that measured slags of lime, alumina and silica lead one to expect: what the
    published checks of sulphide_capacity() leave of it. No lesson draws it.

    Parameters
    ----------
    oxides, T : as in sulphide_capacity()

    Returns
    -------
    (low, high), one spread to each side; by the scale 'pauling', which misses least

    Raises
    ------
    InputError

    References
    ----------
    34 measured points of Hino (1993): the formula is 0.20 too high in log, 0.25 as root
    mean square, so their spread about the corrected formula is 0.15.

    Examples
    --------
    >>> low, high = sulphide_capacity_band({"CaO": 55, "Al2O3": 33, "SiO2": 6, "MgO": 6}, 1873.15)
    >>> [round(float(np.log10(x)), 2) for x in (low, high)]
    [-2.42, -2.12]
    """
    bias, off = value("sulphide_capacity_bias"), value("sulphide_capacity_spread")
    middle = np.log10(sulphide_capacity(oxides, T, "pauling")) - bias
    spread = (off**2 - bias**2) ** 0.5  # of the points about their own mean
    return plain(10.0 ** (middle - spread)), plain(10.0 ** (middle + spread))


def sulphur_partition(
    oxides: Amounts,
    T: Number,
    oxygen_activity: Number,
    scale: str,
    f_s: Number = 1.0,
    exchange: str = SULPHUR_EXCHANGES[0],
) -> Number:
    """(%S)/[%S] by optical basicity, good for lime-alumina slag of the ladle.

    Useless for slag rich in FeO, where three published scales differ by a factor of 40: warns above
    5 % FetO. For a converter see property_facts('sulphur').

    Parameters
    ----------
    oxides, T, scale : as in sulphide_capacity()
    oxygen_activity : of the metal, mass % scale, above 0
    f_s : activity coefficient of sulphur in the metal
    exchange : of SULPHUR_EXCHANGES, the line for sulphur and oxygen between gas and iron

    Returns
    -------
    partition

    Raises
    ------
    InputError

    References
    ----------
    The capacity as of sulphide_capacity(); two lines of exchange, second-hand, 12 % apart.

    Examples
    --------
    >>> ladle = {"CaO": 55, "Al2O3": 33, "SiO2": 6, "MgO": 6}
    >>> round(sulphur_partition(ladle, 1873.15, 0.0003, "recommended"))
    466
    """
    T, feto = _temperature(T), iron_as_feo(to_pct(oxides))
    warn_where(
        np.asarray(feto) > 5.0,
        f"sulphur partition by optical basicity: {np.max(feto):.0f} % FetO was given; above 5 % "
        "the answer hangs on the scale. Take a plant value.",
    )
    line = one_of("exchange of sulphur", exchange, SULPHUR_EXCHANGES)
    log_exchange = value(f"{line}_b") / T + value(f"{line}_c")
    activity = positive("oxygen activity", oxygen_activity, zero=False)
    return plain(
        sulphide_capacity(oxides, T, scale)
        * 10.0**log_exchange
        * positive("f_S", f_s, zero=False)
        / activity
    )
