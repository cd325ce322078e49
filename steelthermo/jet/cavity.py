"""The oxygen jet between lance and bath: decay of its speed, and the cavity it makes by
three correlations from memory side by side.

No coefficient of any penetration correlation could be read in its source, and two of them differ
five to seven times for the same lance. They are therefore only returned together, and none is
called right. See lance.csv for the status of every coefficient.
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
    convert,
    kelvin,
    molar_mass,
    plain,
    value,
    warn_where,
)
from .lance import LanceFlow

_LANCE = Table("lance")


def _c(key):
    return _LANCE.get(key)["value"]


def _provenance(*sets):
    return tuple(_LANCE.provenance_of(r) for r in _LANCE.rows if r["set"] in sets)


def _flow(flow):
    if not isinstance(flow, LanceFlow):
        raise InputError(
            f"jet: {type(flow).__name__} was given; a LanceFlow is needed, as LanceHead.flow() "
            "returns it."
        )
    return flow


def _gap(gap_m):
    return np.asarray(between("lance height above the bath", gap_m, 0.2, 6.0, "m"))


def _k(k):
    if k is None:
        return _c("decay_k")
    k = between("decay constant K of the jet", k, 2.0, 15.0)
    low, high = _LANCE.get("decay_k")["low"], _LANCE.get("decay_k")["high"]
    outside = (np.asarray(k) < low) | (np.asarray(k) > high)
    warn_where(
        outside,
        f"decay constant K of the jet: {k} lies outside {low:g} to {high:g}, not verified.",
    )
    return k


def _metal(key, given, name, unit):
    if given is None:
        return _c(key)
    return between(name, given, _LANCE.get(key)["low"], _LANCE.get(key)["high"], unit)


def gas_density_kg_m3(
    temp_c: Number, pressure_kpa: Number = 101.325, species: str = "CO"
) -> Number:
    """Density of the ideal gas around the jet.

    Parameters
    ----------
    temp_c : 0 to 2500
    pressure_kpa : absolute, 20 to 300
    species : formula of the gas

    Returns
    -------
    kg/m3

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(gas_density_kg_m3(1500.0), 3)
    0.193
    """
    T = kelvin(between("temperature of the gas around the jet", temp_c, 0.0, 2500.0, "°C"))
    p = (
        between("pressure of the gas around the jet", pressure_kpa, 20.0, 300.0, "kPa absolute")
        * 1000.0
    )
    return p * molar_mass(species) / 1000.0 / (value("gas_constant") * T)


def _thrust_n(flow):
    """Thrust of each jet, N; refused where a far too wide exit leaves none."""
    least = np.min(flow.thrust_n)
    if least <= 0.0:
        raise InputError(
            f"thrust of the jet: {least:.0f} N was found; the exit is so wide that a shock stands "
            "deep in the nozzle. Take a narrower exit."
        )
    return flow.thrust_n


def _free_core_m(flow, gas_temp_c, k):
    """Distance at which the free-jet law reaches the speed of the fully expanded jet."""
    density = gas_density_kg_m3(gas_temp_c, flow.ambient_kpa)
    return k * np.sqrt(4.0 * _thrust_n(flow) / (np.pi * density)) / flow.matched_speed_m_s


def axis_speed_m_s(
    flow: LanceFlow, distance_m: Number, gas_temp_c: Number = 1500.0, k: Number | None = None
) -> Number:
    """Speed on the axis of one round free jet: u = (K/x) sqrt(4 F/(pi rho_gas)), and the speed of
    full expansion closer than that. Neighbouring jets are taken as separate.

    Parameters
    ----------
    flow : LanceFlow
    distance_m : from the nozzle, along the hole, 0.001 to 10
    gas_temp_c : of the carbon monoxide around the jet (hot, thin gas slows it less), 0 to 2500
    k : decay constant, None for 6.2, not verified (ExtrapolationWarning outside 5 to 8)

    Returns
    -------
    m/s

    Raises
    ------
    InputError

    References
    ----------
    Textbook form, coefficient from memory: sources('free_jet').

    Examples
    --------
    >>> from steelthermo.jet import design_head
    >>> flow = design_head(500.0, 1000.0).flow(1000.0)
    >>> round(axis_speed_m_s(flow, 1.5))
    414
    """
    flow, k = _flow(flow), _k(k)
    x = np.asarray(between("distance from the nozzle", distance_m, 0.001, 10.0, "m"))
    common_shape("jet", _thrust_n(flow), x, gas_temp_c, k)
    return plain(flow.matched_speed_m_s * np.minimum(1.0, _free_core_m(flow, gas_temp_c, k) / x))


def core_length_m(flow: LanceFlow) -> tuple:
    """Length of the supersonic core of one jet as a band: 5 to 7 exit diameters at Mach 1, growing
    with Mach. Cold surroundings: hot gas lengthens the core by an unknown factor.

    Parameters
    ----------
    flow : LanceFlow; diameter and Mach number are those of full expansion

    Returns
    -------
    (low, high), m

    Raises
    ------
    InputError

    References
    ----------
    Memory: sources('core').

    Examples
    --------
    >>> from steelthermo.jet import design_head
    >>> [round(x, 2) for x in core_length_m(design_head(500.0, 1000.0).flow(1000.0))]
    [0.58, 1.76]
    """
    flow = _flow(flow)
    d = np.asarray(flow.matched_exit_mm) / 1000.0
    mach = np.asarray(flow.matched_mach)
    return plain(_c("core_low") * d * mach ** _c("core_power_low")), plain(
        _c("core_high") * d * mach ** _c("core_power_high")
    )


@dataclass(frozen=True, repr=False)
class Penetration(Record):
    """Depth of the cavity by three ways, m; none is verified. Values are floats or arrays.

    flinn_m: Flinn 1967; koria_lange_m: Koria and Lange 1987, one jet; force_balance_m: pressure of
    the free jet against the head of metal, with decay constant k.
    """

    _main_results = ("dent_m",)

    flinn_m: Number
    koria_lange_m: Number
    force_balance_m: Number
    k: Number

    @property
    def low_m(self) -> Number:
        """Smallest of the three, m."""
        return plain(np.minimum(np.minimum(self.flinn_m, self.koria_lange_m), self.force_balance_m))

    @property
    def high_m(self) -> Number:
        """Largest of the three, m."""
        return plain(np.maximum(np.maximum(self.flinn_m, self.koria_lange_m), self.force_balance_m))

    @property
    def spread(self) -> Number:
        """Largest over smallest."""
        return plain(np.asarray(self.high_m) / self.low_m)

    @property
    def provenance(self) -> tuple:
        """Status and source of every coefficient used."""
        return _provenance("flinn", "koria_lange", "free_jet", "metal")


def _force_balance_ratio(momentum_number, k):
    """h/x from N = (pi / 2 K^2) r (1 + r)^2: the one real root, by Cardano's formula for 1 + r."""
    c = np.asarray(momentum_number) * 2.0 * np.square(k) / np.pi
    q = 1.0 / 27.0 + 0.5 * c
    root = np.sqrt(np.maximum(q * q - 1.0 / 729.0, 0.0))
    return np.cbrt(q + root) + np.cbrt(q - root) - 2.0 / 3.0


def _sonic_thrust_n(flow):
    """Koria and Lange's force of one jet, N: thrust of a sonic nozzle of the throat's size."""
    p0, pa = np.asarray(flow.supply_kpa) * 1000.0, np.asarray(flow.ambient_kpa) * 1000.0
    return flow.head.throat_area_m2 * (_c("kl_thrust") * p0 - pa)


def penetration(
    flow: LanceFlow, gap_m: Number, k: Number | None = None, density_kg_m3: Number | None = None
) -> Penetration:
    """Depth of the cavity in the bath by three correlations from memory, the metal taken bare:
    slag and foam above it weaken the jet.

    Parameters
    ----------
    flow : LanceFlow
    gap_m : height of the lance head above the bath at rest, 0.2 to 6
    k : decay constant of the force balance, None for 6.2 (ExtrapolationWarning outside 5 to 8)
    density_kg_m3 : of the metal, None for 7000

    Returns
    -------
    Penetration

    Raises
    ------
    InputError

    References
    ----------
    From memory, ranges not known: sources('flinn'), sources('koria_lange'), sources('free_jet').

    Examples
    --------
    >>> from steelthermo.jet import LanceHead
    >>> depth = penetration(LanceHead(40.0, 53.0, holes=4).flow(900.0), 1.8)
    >>> round(depth.low_m, 2), round(depth.high_m, 2)
    (0.13, 0.95)
    """
    flow, x, k = _flow(flow), _gap(gap_m), _k(k)
    rho = _metal("metal_density", density_kg_m3, "density of the metal", "kg/m³")
    common_shape("penetration", _thrust_n(flow), x, k, rho)
    g, cosine = value("standard_gravity"), np.cos(np.radians(flow.head.angle_deg))
    psi = convert(flow.supply_kpa, "kPa", "Pa") / (value("pound_force") / value("inch") ** 2)
    inches = (
        _c("flinn_slope")
        * psi
        * np.asarray(flow.head.throat_mm)
        / 1000.0
        / value("inch")
        / np.sqrt(x / value("inch"))
    )
    flinn = (inches * cosine + _c("flinn_offset")) * value("inch")
    koria_lange = (
        _c("kl_depth")
        * x
        * (_sonic_thrust_n(flow) * cosine / (g * rho * x**3)) ** _c("kl_depth_power")
    )
    balance = x * _force_balance_ratio(_thrust_n(flow) * cosine / (rho * g * x**3), k)
    shape = np.broadcast_shapes(np.shape(flinn), np.shape(koria_lange), np.shape(balance))
    return Penetration(
        *(plain(np.broadcast_to(h, shape)) for h in (flinn, koria_lange, balance)), k
    )


@dataclass(frozen=True, repr=False)
class BathImpact(Record):
    """The jets where they meet the bath. Values are floats or arrays.

    penetration: the three depths. momentum_number: F cos a / (rho g x³) of one jet, larger is
    harder. axis_speed_m_s and impact_kpa: on the axis, at the bath. blowing_number: jet pressure at
    the rim of the cavity over surface tension and gravity.
    droplets_kg_nm3: metal thrown up per Nm3 of oxygen. dent_diameter_m: Koria and Lange, of all
    jets. ring_radius_m: from the lance axis to where a jet's axis meets the bath; spacing_m:
    between neighbouring points of impact (0 for one hole).
    """

    penetration: Penetration
    momentum_number: Number
    axis_speed_m_s: Number
    impact_kpa: Number
    blowing_number: Number
    droplets_kg_nm3: Number
    dent_diameter_m: Number
    ring_radius_m: Number
    spacing_m: Number

    @property
    def provenance(self) -> tuple:
        """Status and source of every coefficient used."""
        return _provenance("flinn", "koria_lange", "free_jet", "blowing", "metal")


def at_bath(
    flow: LanceFlow,
    gap_m: Number,
    k: Number | None = None,
    density_kg_m3: Number | None = None,
    surface_tension_n_m: Number | None = None,
    gas_temp_c: Number = 1500.0,
) -> BathImpact:
    """What the jets do at the bath. Hard or soft is a comparison by momentum number: no published
    limit between the two was found.

    Parameters
    ----------
    flow : LanceFlow
    gap_m, k, density_kg_m3 : as in penetration()
    surface_tension_n_m : of the metal, None for 1.73 (1.1 to 2)
    gas_temp_c : gas around the jets, 0 to 2500

    Returns
    -------
    BathImpact; ExtrapolationWarning where the bath lies inside the free jet's core, where the decay
    law fails

    Raises
    ------
    InputError

    References
    ----------
    Numbers by definition, coefficients from memory: sources('blowing'), sources('koria_lange').

    Examples
    --------
    >>> from steelthermo.jet import LanceHead
    >>> round(at_bath(LanceHead(40.0, 53.0, holes=4).flow(900.0), 1.8).axis_speed_m_s)
    331
    """
    flow, x, k = _flow(flow), _gap(gap_m), _k(k)
    rho = _metal("metal_density", density_kg_m3, "density of the metal", "kg/m³")
    sigma = _metal(
        "metal_surface_tension", surface_tension_n_m, "surface tension of the metal", "N/m"
    )
    common_shape("jet at the bath", _thrust_n(flow), x, k, rho, sigma, gas_temp_c)
    g, angle, holes = (
        value("standard_gravity"),
        np.radians(flow.head.angle_deg),
        np.asarray(flow.head.holes),
    )
    core = _free_core_m(flow, gas_temp_c, k)
    warn_where(
        core > x,
        f"lance height: the bath lies inside the core of the jet ({np.max(core):.2g} m long), "
        "where the decay law fails.",
    )
    speed = flow.matched_speed_m_s * np.minimum(1.0, core / x)
    pressure = 0.5 * gas_density_kg_m3(gas_temp_c, flow.ambient_kpa) * speed**2
    blowing = _c("blowing_speed") ** 2 * pressure / np.sqrt(sigma * g * rho)
    inner = _c("droplet_a") + _c("droplet_b") * blowing ** _c("droplet_inner_power")
    droplets = blowing ** _c("droplet_power") / inner ** _c("droplet_outer_power")
    number = _thrust_n(flow) * np.cos(angle) / (rho * g * x**3)
    dent = (
        _c("kl_diameter")
        * x
        * (holes * _sonic_thrust_n(flow) * (1.0 + np.sin(angle)) / (g * rho * x**3))
        ** _c("kl_diameter_power")
    )
    ring = x * np.tan(angle)
    spacing = np.where(holes > 1, 2.0 * ring * np.sin(np.pi / holes), 0.0)
    values = (number, speed, pressure / 1000.0, blowing, droplets, dent, ring, spacing)
    return BathImpact(penetration(flow, x, k, rho), *(plain(np.asarray(v)) for v in values))
