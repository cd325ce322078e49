"""Oxygen or air: the heat that nitrogen carries out of the vessel, the scrap that this heat could
have melted, and the nitrogen the steel may take up.
"""

from dataclasses import dataclass
from typing import Annotated

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    between,
    finite,
    kelvin,
    molar_mass,
    plain,
    positive,
    told,
    value,
)
from ..streams import Gas
from ..thermo import DEFAULT_SET, dissolved_enthalpy, enthalpy, gas_solubility_pct


def heat_to_melt_mj_t(temp_c: Number, from_c: Number = 25.0) -> Number:
    """Heat that takes scrap (as pure iron) to liquid. Scalars or arrays.

    Parameters
    ----------
    temp_c : float or array
        At the end, 1500 to 1800 degC.
    from_c : float or array
        Of the scrap, -50 to 1300 degC.

    Returns
    -------
    float or array
        MJ per t.

    Raises
    ------
    InputError

    References
    ----------
    sources('Fe').

    Examples
    --------
    >>> round(heat_to_melt_mj_t(1650.0))
    1395
    """
    cold = enthalpy("Fe", kelvin(between("temperature of scrap", from_c, -50.0, 1300.0, "°C")))
    T = kelvin(between("temperature of steel", temp_c, 1500.0, 1800.0, "°C"))
    return (dissolved_enthalpy("Fe", T) - cold) / molar_mass("Fe")


def scrap_lost_kg_t(heat_mj_t: Number, temp_c: Number, from_c: Number = 25.0) -> Number:
    """Cold scrap that an amount of heat would have melted.

    Parameters
    ----------
    heat_mj_t : MJ per t of steel; arrays broadcast
    temp_c, from_c : as in heat_to_melt_mj_t()

    Returns
    -------
    kg per t of steel

    Raises
    ------
    InputError

    References
    ----------
    sources('Fe')

    Examples
    --------
    >>> round(scrap_lost_kg_t(60.0, 1650.0), 1)
    43.0
    """
    return 1000.0 * finite("heat", heat_mj_t, "MJ/t") / heat_to_melt_mj_t(temp_c, from_c)


@dataclass(frozen=True, eq=False, repr=False)
class Blast(Record):
    """What the gas blown brings along, per t of steel. Floats or arrays.

    purity_pct (O2, volume %); blown_nm3_t; ballast_nm3_t (nitrogen and argon); heat_mj_t (what the
    ballast carries off at the mouth);
    scrap_kg_t (cold scrap that this heat would have melted); n2_atm (in the gas at the bath);
    nitrogen_pct (Sieverts: a ceiling, not a forecast).
    """

    purity_pct: Number
    blown_nm3_t: Number
    ballast_nm3_t: Number
    heat_mj_t: Number
    scrap_kg_t: Number
    n2_atm: Number
    nitrogen_pct: Number
    _sources = ("N2", "Ar", "equilibrium N2")


def _argon_share(argon_pct, purity):
    """Share of argon in what is not oxygen."""
    if argon_pct is None:
        return value("air_ar_pct") / (value("air_ar_pct") + value("air_n2_pct"))
    rest = 100.0 - purity
    argon = between("argon", argon_pct, 0.0, 79.0, "%")
    if np.any(np.asarray(argon > rest + 1e-9)):
        raise InputError(
            f"argon: {np.max(argon):g} % was given; oxygen of {np.max(purity):g} % leaves only "
            f"{np.min(rest):g} %."
        )
    return np.where(rest > 0, argon / np.where(rest > 0, rest, 1.0), 0.0)


@dataclass(frozen=True, repr=False)
class Blowing(Record):
    """How gas is blown. Floats or arrays that broadcast.

    gas_temp_c: of the gas that leaves, degC (None: as the steel); blast_temp_c: of the gas blown, a
    hot one brings heat back; carbon_share_pct: share of the oxygen that makes CO and CO2, 1 to
    100 %, and co2_pct: share of the burnt carbon that becomes CO2: these set how far the nitrogen
    is diluted at the bath; argon_pct: in the gas blown (None: in the proportion of air);
    pressure_atm: at the bath; analysis_pct: of the steel, mass % (None: pure iron); coefficients:
    set of the solution data.
    """

    gas_temp_c: Number | None = None
    blast_temp_c: Number = 25.0
    carbon_share_pct: Number = 100.0
    co2_pct: Number = 0.0
    argon_pct: Number | None = None
    pressure_atm: Number = 1.0
    analysis_pct: Amounts | None = None
    coefficients: str = DEFAULT_SET


def blast(
    purity_pct: Number,
    oxygen_nm3_t: Number = 50.0,
    temp_c: Number = 1600.0,
    **blowing: Annotated[object, Blowing],
) -> Blast:
    """Ballast, heat, scrap and nitrogen of blowing with oxygen of any purity, from air to pure.
    Scalars or arrays that broadcast.

    Parameters
    ----------
    purity_pct : float or array
        O2, 20 to 100 volume %.
    oxygen_nm3_t : float or array
        O2 needed, Nm3 per t of steel.
    temp_c : float or array
        Steel, 1500 to 1800 degC.
    blowing
        Fields of Blowing: gas_temp_c, blast_temp_c, carbon_share_pct, co2_pct, argon_pct,
        pressure_atm, analysis_pct, coefficients.

    Returns
    -------
    Blast

    Raises
    ------
    InputError

    References
    ----------
    Pure substances; Gibbs energy of solution of nitrogen of the set.

    Examples
    --------
    >>> round(blast(99.5).ballast_nm3_t, 2)
    0.25
    """
    how = told(Blowing, "gas blown", blowing)
    purity = between("purity of oxygen", purity_pct, 20.0, 100.0, "%")
    o2 = positive("oxygen needed", oxygen_nm3_t, "Nm3/t", zero=False)
    blown = o2 / (purity / 100.0)
    ballast = blown - o2
    argon = ballast * _argon_share(how.argon_pct, purity)
    leaving = Gas(
        {"N2": ballast - argon, "Ar": argon}, temp_c if how.gas_temp_c is None else how.gas_temp_c
    )
    heat = leaving.sensible_kj(how.blast_temp_c) / 1000.0
    share = (
        between("share of oxygen that burns carbon", how.carbon_share_pct, 1.0, 100.0, "%") / 100.0
    )
    co2 = between("CO2 share", how.co2_pct, 0.0, 100.0, "%") / 100.0
    carbon_gas = o2 * share / (0.5 + 0.5 * co2)  # Nm3 of CO and CO2 together
    n2_atm = (
        positive("pressure at the bath", how.pressure_atm, "atm", zero=False)
        * (ballast - argon)
        / (ballast + carbon_gas)
    )
    T = kelvin(between("temperature of steel", temp_c, 1500.0, 1800.0, "°C"))
    nitrogen = gas_solubility_pct("N", n2_atm, T, how.analysis_pct, how.coefficients)
    return Blast(
        *(
            plain(x)
            for x in (purity, blown, ballast, heat, scrap_lost_kg_t(heat, temp_c), n2_atm, nitrogen)
        )
    )


def purity_for_nitrogen_pct(
    nitrogen_pct: Number,
    temp_c: Number = 1600.0,
    carbon_share_pct: Number = 100.0,
    co2_pct: Number = 0.0,
    pressure_atm: Number = 1.0,
    coefficients: str = DEFAULT_SET,
) -> Number:
    """Purity of oxygen at which the Sieverts ceiling of pure iron is a given nitrogen, all ballast
    counted as nitrogen.

    Parameters
    ----------
    nitrogen_pct : mass %; arrays broadcast
    temp_c, carbon_share_pct, co2_pct, pressure_atm, coefficients : as in blast()

    Returns
    -------
    O2, volume %

    Raises
    ------
    InputError
        If even 20 % oxygen stays below the ceiling asked for.

    References
    ----------
    As blast()

    Examples
    --------
    >>> round(purity_for_nitrogen_pct(0.005), 1)
    97.7
    """
    T = kelvin(between("temperature of steel", temp_c, 1500.0, 1800.0, "°C"))
    ratio = positive("nitrogen", nitrogen_pct, "%") / gas_solubility_pct(
        "N", 1.0, T, None, coefficients
    )
    p = ratio**2 / positive("pressure at the bath", pressure_atm, "atm", zero=False)
    share = between("share of oxygen that burns carbon", carbon_share_pct, 1.0, 100.0, "%") / 100.0
    gas_per_o2 = share / (0.5 + 0.5 * between("CO2 share", co2_pct, 0.0, 100.0, "%") / 100.0)
    if np.any(np.asarray(p) >= 4.0 / (4.0 + gas_per_o2)):
        raise InputError(
            f"nitrogen: {np.max(nitrogen_pct):g} % was given; blowing cannot bring so much, even "
            "with 20 % oxygen."
        )
    n2_per_o2 = p / (1.0 - p) * gas_per_o2
    return plain(100.0 / (1.0 + n2_per_o2))
