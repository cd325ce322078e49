"""Gas stirring of a ladle: power of the rising gas and mixing time by several correlations, which
disagree by a factor of two or more.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    Table,
    between,
    common_shape,
    extrapolated,
    kelvin,
    nm3_to_mol,
    plain,
    positive,
    rising_gas_w,
    value,
)
from ..thermo import density_kg_m3


def _pressures(depth_m, temp_c, surface_pa):
    """Pressure over the steel and at the plug, Pa."""
    depth_m = positive("depth of steel", depth_m, "m", zero=False)
    surface = between(
        "pressure over the steel",
        value("normal_pressure") if surface_pa is None else surface_pa,
        1.0,
        1e6,
        "Pa",
    )
    density = density_kg_m3(kelvin(between("temperature of steel", temp_c, 1500.0, 1800.0, "°C")))
    return surface, surface + density * value("standard_gravity") * depth_m


def stirring_power_w_t(
    flow_nm3_min: Number,
    steel_t: Number,
    depth_m: Number,
    temp_c: Number = 1600.0,
    surface_pa: Number | None = None,
    expansion_from_c: Number | None = None,
) -> Number:
    """Power that rising gas gives to the steel: isothermal work from plug to surface, n R T
    ln(p/p0) / M.

    Parameters
    ----------
    flow_nm3_min : Nm3/min; arrays broadcast
    steel_t : t
    depth_m : steel over the plug, m
    temp_c : of the steel, 1500 to 1800 degC
    surface_pa : over the steel, 1 Pa to 1 MPa; None: normal pressure
    expansion_from_c : temperature of the gas at the plug, degC, if the work of its warming,
        n R (T - T_gas), is counted too (other published correlations do; never mix the two)

    Returns
    -------
    W/t

    Raises
    ------
    InputError

    References
    ----------
    Own derivation, ideal gas; with R from sources('gas_constant') it is
    14.236 (V T/M) log10(1 + H/(1.48 p)), V in Nm3/min, T in K, M in t, H in m, p in atm, at 1600
    degC.

    Examples
    --------
    >>> round(stirring_power_w_t(0.5, 180.0, 3.0), 1)
    35.6
    """
    flow = positive("gas flow", flow_nm3_min, "Nm3/min")
    steel_t = positive("mass of steel", steel_t, "t", zero=False)
    top, plug = _pressures(depth_m, temp_c, surface_pa)
    T = kelvin(temp_c)
    common_shape("stirring", flow, steel_t, top, plug, T)
    work = rising_gas_w(flow, T, plug / top)
    if expansion_from_c is not None:
        warmed = T - kelvin(expansion_from_c)
        work = work + nm3_to_mol(flow) / 60.0 * value("gas_constant") * warmed
    return plain(work / steel_t)


def gas_flow_m3_s(
    flow_nm3_min: Number, depth_m: Number, temp_c: Number = 1600.0, surface_pa: Number | None = None
) -> Number:
    """Volume of the gas at mid-depth and at the temperature of the steel.

    Parameters
    ----------
    flow_nm3_min, depth_m, temp_c, surface_pa : as in stirring_power_w_t()

    Returns
    -------
    m3/s

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(gas_flow_m3_s(0.5, 3.0), 4)
    0.0284
    """
    top, plug = _pressures(depth_m, temp_c, surface_pa)
    return (
        nm3_to_mol(positive("gas flow", flow_nm3_min, "Nm3/min"))
        / 60.0
        * value("gas_constant")
        * kelvin(temp_c)
        / (0.5 * (top + plug))
    )


_EQUATIONS = Table("stirring")


def equations() -> tuple:
    """Keys of the mixing-time correlations.

    Returns
    -------
    keys

    Examples
    --------
    >>> equations()[0]
    'Nakanishi 1975'
    """
    return tuple(_EQUATIONS.by_key)


@dataclass(frozen=True, repr=False)
class MixingTime(Record):
    """A mixing time to 95 %: seconds, the correlation, and whether the ladle lies outside the size
    it was fitted on (bool or array).
    """

    seconds: Number
    equation: str
    extrapolated: bool | np.ndarray

    @property
    def status(self) -> str:
        """Of base.STATUSES."""
        return _EQUATIONS.get(self.equation)["status"]

    @property
    def provenance(self) -> tuple:
        """Where the correlation comes from."""
        return _EQUATIONS.provenance(self.equation)


def mixing_time(
    equation: str,
    diameter_m: Number,
    depth_m: Number,
    *,
    power_w_t: Number | None = None,
    flow_m3_s: Number | None = None,
) -> MixingTime:
    """95 % mixing time by one correlation: factor x (power or flow)^a x (diameter or radius)^b x
    depth^c.

    Warns (ExtrapolationWarning) outside the sizes and power it was fitted on: for water models
    that is
    every real ladle.

    Parameters
    ----------
    equation : a key of equations()
    diameter_m, depth_m : of the steel, m; arrays broadcast
    power_w_t : stirring power, W/t (for correlations of power, also the range of those of flow)
    flow_m3_s : gas at mid-depth and steel temperature, m3/s (for correlations of flow)

    Returns
    -------
    MixingTime

    Raises
    ------
    InputError
        For a key that is not known, or where the power or flow it needs was not given.

    References
    ----------
    stirring.csv, sources('Mandal 2005').

    Examples
    --------
    >>> import warnings
    >>> with warnings.catch_warnings(action="ignore"):
    ...     time = mixing_time(equations()[0], 3.0, 3.0, power_w_t=50.0)
    >>> round(time.seconds)
    167
    """
    row = _EQUATIONS.get(equation)
    diameter = positive("diameter of ladle", diameter_m, "m", zero=False)
    depth = positive("depth of steel", depth_m, "m", zero=False)
    given = {"power": power_w_t, "flow": flow_m3_s}[row["of"]]
    if given is None:
        raise InputError(
            f"mixing time, {equation}: {'power_w_t' if row['of'] == 'power' else 'flow_m3_s'} is "
            "needed; it was not given."
        )
    drive = positive(
        "stirring power" if row["of"] == "power" else "gas flow",
        given,
        "W/t" if row["of"] == "power" else "m3/s",
        zero=False,
    )
    common_shape("mixing time", diameter, depth, drive)
    size = diameter / 2.0 if row["size"] == "radius" else diameter
    seconds = (
        row["factor"]
        * drive ** row["exponent"]
        * size ** row["size_exponent"]
        * depth ** row["depth_exponent"]
    )
    outside = np.zeros(np.shape(seconds), bool)
    if row["size_low_m"] is not None:
        outside = outside | extrapolated(
            f"{equation}: diameter", diameter, row["size_low_m"], row["size_high_m"], "m", equation
        )
        outside = outside | extrapolated(
            f"{equation}: depth over diameter",
            depth / diameter,
            row["aspect_low"],
            row["aspect_high"],
            "",
            equation,
        )
    if row["high"] is not None and power_w_t is not None:
        outside = outside | extrapolated(
            f"{equation}: power", power_w_t, 0.0, row["high"], "W/t", equation
        )
    return MixingTime(plain(seconds), equation, plain(outside))


def mixing_times(
    flow_nm3_min: Number,
    steel_t: Number,
    diameter_m: Number,
    depth_m: Number,
    temp_c: Number = 1600.0,
    surface_pa: Number | None = None,
) -> dict:
    """Mixing time of a ladle by every correlation.

    Parameters
    ----------
    flow_nm3_min, steel_t, depth_m, temp_c, surface_pa : as in stirring_power_w_t()
    diameter_m : of the steel, m

    Returns
    -------
    MixingTime by key of equations()

    Raises
    ------
    InputError

    Examples
    --------
    >>> import warnings
    >>> with warnings.catch_warnings(action="ignore"):
    ...     times = mixing_times(0.5, 180.0, 3.2, 3.2)
    >>> [round(time.seconds) for time in times.values()]
    [189, 76, 78]
    """
    power = stirring_power_w_t(flow_nm3_min, steel_t, depth_m, temp_c, surface_pa)
    flow = gas_flow_m3_s(flow_nm3_min, depth_m, temp_c, surface_pa)
    return {
        key: mixing_time(key, diameter_m, depth_m, power_w_t=power, flow_m3_s=flow)
        for key in equations()
    }
