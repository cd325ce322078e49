"""Isentropic flow of oxygen through a converging-diverging nozzle: ideal gas, with real heat
capacity or with constant gamma.

Everything follows from energy (h + u²/2 is constant) and entropy (constant), written as functions
of the local temperature, so one set of equations serves both gases. Oxygen at 0.5 to 1.5 MPa
departs from the ideal gas by less than 1 % in flow (see the tests).
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    between,
    common_shape,
    find_root,
    molar_mass,
    plain,
    value,
)
from ..thermo import substance

_MACH = (0.01, 5.0)
_COLDEST = 0.02  # lowest T/T0 that is searched: beyond Mach 5 for every gamma allowed


class _Perfect:
    """Constant gamma: cp = gamma R / (gamma - 1)."""

    def __init__(self, gamma):
        self.heat = gamma * value("gas_constant") / (gamma - 1.0)

    def cp(self, T):
        return self.heat + 0.0 * T

    def h(self, T):
        return self.heat * T

    def s(self, T):
        return self.heat * np.log(T)


class _Oxygen:
    """O2 with cp(T) from Cantera. Below the range of the polynomials (200 K) cp keeps its value at
    200 K: rotation is fully excited and vibration is frozen there, cp = 7/2 R within 0.2 % down to
    100 K (JANAF O-029; see the tests).
    """

    def __init__(self):
        self.gas = substance("O2").phase("g")
        self.low = self.gas.low_k
        self.cp_low = self._get("cp", self.low)

    @staticmethod
    def _get(kind, T):
        return substance("O2").evaluate(kind, T, "g")

    def cp(self, T):
        return self._get("cp", np.maximum(T, self.low))

    def h(self, T):
        return self._get("h", np.maximum(T, self.low)) + self.cp_low * np.minimum(T - self.low, 0.0)

    def s(self, T):
        return self._get("s", np.maximum(T, self.low)) + self.cp_low * np.log(
            np.minimum(T / self.low, 1.0)
        )


@cache
def _oxygen():
    return _Oxygen()


def _gas(gamma):
    return _oxygen() if gamma is None else _Perfect(between("gamma", gamma, 1.05, 1.67))


def _specific_r():
    return value("gas_constant") / (molar_mass("O2") / 1000.0)


@dataclass(frozen=True, repr=False)
class FlowState(Record):
    """The gas at one place of the nozzle, compared with rest (index 0) and throat (*). Values are
    floats or arrays.

    T and T0: K; speed_m_s; mach; gamma: local cp/cv; pressure_ratio p/p0, density_ratio,
    temperature_ratio T/T0, area_ratio A/A*;
    critical_speed_ratio u/a*; dynamic_pressure_ratio (rho u²/2)/p0.
    """

    T0: Number
    T: Number
    mach: Number
    speed_m_s: Number
    gamma: Number
    pressure_ratio: Number
    density_ratio: Number
    temperature_ratio: Number
    area_ratio: Number
    critical_speed_ratio: Number
    dynamic_pressure_ratio: Number
    _sources = ("O2",)

    def density_kg_m3(self, p0_pa: Number) -> Number:
        """Density of oxygen here, kg/m³, for supply at p0_pa (absolute)."""
        return p0_pa * self.pressure_ratio / (_specific_r() * self.T)


class _Path:
    """Isentropic path of one gas from rest at T0 (array): local values as functions of the local
    temperature.
    """

    def __init__(self, gas, T0):
        self.gas, self.T0, self.R = gas, T0, _specific_r()
        self.mass = molar_mass("O2") / 1000.0
        self.h0, self.s0 = gas.h(T0), gas.s(T0)
        self.throat = find_root(lambda T: 1.0 - self.mach(T), 0.5 * T0, T0 * (1.0 - 1e-12))

    def speed(self, T):
        return np.sqrt(2.0 * np.maximum(self.h0 - self.gas.h(T), 0.0) / self.mass)

    def gamma(self, T):
        cp = self.gas.cp(T)
        return cp / (cp - value("gas_constant"))

    def mach(self, T):
        return self.speed(T) / np.sqrt(self.gamma(T) * self.R * T)

    def pressure_ratio(self, T):
        return np.exp((self.gas.s(T) - self.s0) / value("gas_constant"))

    def mass_flux(self, T):
        """Mass flux over p0, kg/(s m² Pa) = s/m."""
        return self.pressure_ratio(T) * self.speed(T) / (self.R * T)

    def state(self, T):
        u, p, t = self.speed(T), self.pressure_ratio(T), T / self.T0
        values = (self.T0, T, self.mach(T), u, self.gamma(T), p, p / t, t)
        area = self.mass_flux(self.throat) / self.mass_flux(T)
        return FlowState(
            *(
                plain(v)
                for v in (
                    *values,
                    area,
                    u / self.speed(self.throat),
                    0.5 * u * u * p / (self.R * T),
                )
            )
        )


def _path(T0, gamma, *others):
    T0 = between("temperature of the oxygen supply", T0, 230.0, 1000.0, "K", "T0 is kelvin.")
    return _Path(
        _gas(gamma),
        np.broadcast_to(np.asarray(T0, dtype=float), common_shape("nozzle", T0, *others)),
    )


def expand(
    T0: Number,
    mach: Number | None = None,
    pressure_ratio: Number | None = None,
    area_ratio: Number | None = None,
    gamma: Number | None = None,
    supersonic: bool = True,
) -> FlowState:
    """State of oxygen expanded without loss from rest, found from exactly one of Mach number,
    pressure ratio or area ratio. All broadcast.

    Parameters
    ----------
    T0 : supply temperature, K, 230 to 1000
    mach : 0.01 to 5
    pressure_ratio : p/p0, local over supply, both absolute, 0.002 to 0.9999
    area_ratio : A/A*, local over throat area, 1 to 25
    gamma : None for the real cp(T) of oxygen, or a constant as in gas tables, 1.05 to 1.67
    supersonic : False picks the subsonic solution of an area ratio

    Returns
    -------
    FlowState

    Raises
    ------
    InputError

    References
    ----------
    Textbook isentropic flow; cp(T): sources('O2').

    Examples
    --------
    >>> round(expand(300.0, mach=2.0, gamma=1.4).area_ratio, 4)
    1.6875
    """
    given = [
        name
        for name, v in (
            ("mach", mach),
            ("pressure_ratio", pressure_ratio),
            ("area_ratio", area_ratio),
        )
        if v is not None
    ]
    if len(given) != 1:
        raise InputError(
            f"nozzle: {' and '.join(given) or 'none'} of mach, pressure_ratio and area_ratio was "
            "given; exactly one is needed."
        )
    if mach is not None:
        mach = between("Mach number", mach, *_MACH)
        path = _path(T0, gamma, mach)
        T = find_root(lambda T: mach - path.mach(T), _COLDEST * path.T0, path.T0 * (1.0 - 1e-12))
    elif pressure_ratio is not None:
        ratio = between(
            "pressure over supply pressure",
            pressure_ratio,
            0.002,
            0.9999,
            hint="Both pressures are absolute.",
        )
        path = _path(T0, gamma, ratio)
        T = find_root(lambda T: path.pressure_ratio(T) - ratio, _COLDEST * path.T0, path.T0)
    else:
        area = between("area over throat area", area_ratio, 1.0, 25.0)
        path = _path(T0, gamma, area)
        flux = path.mass_flux(path.throat)
        if supersonic:
            T = find_root(
                lambda T: area - flux / path.mass_flux(T), _COLDEST * path.T0, path.throat
            )
        else:
            T = find_root(
                lambda T: flux / path.mass_flux(T) - area, path.throat, path.T0 * (1.0 - 1e-12)
            )
    return path.state(T)


def choked_mass_flux(T0: Number, p0_pa: Number, gamma: Number | None = None) -> Number:
    """Mass flux of oxygen at a choked throat.

    Parameters
    ----------
    T0 : supply temperature, K, 230 to 1000
    p0_pa : supply pressure, Pa absolute, 1 to 1e8
    gamma : as in expand()

    Returns
    -------
    kg/(s m2)

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(choked_mass_flux(298.15, 1e6))
    2458
    """
    p0_pa = between("supply pressure", p0_pa, 1.0, 1e8, "Pa")
    path = _path(T0, gamma, p0_pa)
    return plain(p0_pa * path.mass_flux(path.throat))


@dataclass(frozen=True, repr=False)
class Shock(Record):
    """A normal shock: Mach number behind it, and pressure, density and temperature behind over
    before.
    """

    mach: Number
    pressure_ratio: Number
    density_ratio: Number
    temperature_ratio: Number


def normal_shock(mach: Number, gamma: Number = 1.4) -> Shock:
    """Normal shock in a perfect gas. Arguments broadcast.

    Parameters
    ----------
    mach : before the shock, 1 to 5
    gamma : 1.05 to 1.67

    Returns
    -------
    Shock

    Raises
    ------
    InputError

    References
    ----------
    Rankine-Hugoniot relations, as in every gas table.

    Examples
    --------
    >>> round(normal_shock(2.0).mach, 4)
    0.5774
    """
    m2 = between("Mach number before the shock", mach, 1.0, _MACH[1]) ** 2
    g = between("gamma", gamma, 1.05, 1.67)
    p = 1.0 + 2.0 * g / (g + 1.0) * (m2 - 1.0)
    rho = (g + 1.0) * m2 / ((g - 1.0) * m2 + 2.0)
    behind = np.sqrt((1.0 + 0.5 * (g - 1.0) * m2) / (g * m2 - 0.5 * (g - 1.0)))
    return Shock(*(plain(v) for v in (behind, p, rho, p / rho)))
