"""The oxygen lance: nozzle sizes for a flow and flow of given nozzles.

Pressures are absolute, in kPa; absolute_kpa() turns a gauge reading into one. Isentropic flow
stands in nozzle.py, what the jet does on its way and in the bath in cavity.py.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    Table,
    between,
    celsius,
    common_shape,
    kelvin,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    positive,
    warn_where,
)
from ..thermo import substance
from .nozzle import choked_mass_flux, expand, normal_shock

_SUPPLY_KPA = (150.0, 3000.0)
_IDEAL_KPA = 1500.0
# share by which exit and ambient pressure may differ and still be called matched (our choice)
_MATCHED = 0.05
_LANCE = Table("lance")


def oxygen_kg_nm3() -> Number:
    """Mass of one Nm3 of ideal oxygen, kg.

    Returns
    -------
    kg/Nm3

    Examples
    --------
    >>> round(oxygen_kg_nm3(), 4)
    1.4276
    """
    return molar_mass("O2") / molar_volume_nm3_kmol()


def absolute_kpa(gauge_kpa: Number, atmospheric_kpa: Number = 101.325) -> Number:
    """Absolute pressure from a gauge reading and the barometer.

    Parameters
    ----------
    gauge_kpa : kPa, zero or more
    atmospheric_kpa : kPa, 60 to 110

    Returns
    -------
    kPa absolute

    Raises
    ------
    InputError

    Examples
    --------
    >>> absolute_kpa(1000.0)
    1101.325
    """
    return positive("gauge pressure", gauge_kpa, "kPa") + between(
        "atmospheric pressure", atmospheric_kpa, 60.0, 110.0, "kPa", "Is this kPa?"
    )


def _supply(supply_kpa):
    supply_kpa = between(
        "oxygen supply pressure",
        supply_kpa,
        *_SUPPLY_KPA,
        "kPa absolute",
        "10 bar is 1000 kPa; a gauge reading needs absolute_kpa().",
    )
    warn_where(
        np.asarray(supply_kpa) > _IDEAL_KPA,
        f"oxygen supply pressure: {np.max(supply_kpa):g} kPa is above {_IDEAL_KPA:g} kPa, up to "
        "where the ideal gas was compared with real oxygen.",
    )
    return supply_kpa


def _ambient(ambient_kpa):
    return between(
        "ambient pressure",
        ambient_kpa,
        20.0,
        300.0,
        "kPa absolute",
        "The atmosphere is about 101 kPa.",
    )


def _nozzle_temp(temp_c):
    return kelvin(
        between("oxygen supply temperature", temp_c, -40.0, 600.0, "°C"),
        "oxygen supply temperature",
    )


@dataclass(frozen=True, repr=False)
class LanceHead(Record):
    """A lance head. Numbers or arrays that broadcast.

    Parameters
    ----------
    throat_mm, exit_mm : diameters, 2 to 150 and 2 to 300; exit over throat 1 to 5
    holes : 1 to 7
    angle_deg : hole axis against lance axis, 0 to 30
    discharge : share of the ideal flow that a real nozzle passes, 0.8 to 1 (a works measures it)

    Raises
    ------
    InputError

    Examples
    --------
    >>> head = LanceHead(40.0, 53.0, holes=4)
    >>> round(head.flow(900.0).flow_nm3_min)
    467
    """

    throat_mm: Number
    exit_mm: Number
    holes: int = 4
    angle_deg: Number = 12.0
    discharge: Number = 1.0

    def __post_init__(self):
        throat = between("throat diameter", self.throat_mm, 2.0, 150.0, "mm")
        exit_ = between("exit diameter", self.exit_mm, 2.0, 300.0, "mm")
        holes = between("number of holes", self.holes, 1, 7)
        if np.any(np.asarray(holes) % 1):
            raise InputError(
                f"number of holes: {self.holes} was given; a whole number from 1 to 7 is needed."
            )
        between("angle of the holes", self.angle_deg, 0.0, 30.0, "°")
        between("discharge coefficient", self.discharge, 0.8, 1.0)
        ratio = np.asarray(exit_) / np.asarray(throat)
        if np.any((ratio < 1.0) | (ratio > 5.0)):
            bad = ratio[(ratio < 1.0) | (ratio > 5.0)].flat[0]
            raise InputError(
                f"exit diameter over throat diameter: {bad:g} was given; allowed is 1 to 5 (a "
                "nozzle widens after its throat)."
            )

    @property
    def throat_area_m2(self) -> Number:
        """Throat area of one hole, m²."""
        return 0.25 * np.pi * (np.asarray(self.throat_mm) / 1000.0) ** 2

    @property
    def exit_area_m2(self) -> Number:
        """Exit area of one hole, m²."""
        return 0.25 * np.pi * (np.asarray(self.exit_mm) / 1000.0) ** 2

    def flow(
        self,
        supply_kpa: Number,
        temp_c: Number = 25.0,
        ambient_kpa: Number = 101.325,
        gamma: Number | None = None,
    ) -> "LanceFlow":
        """What the head passes at a supply pressure. Pure oxygen; arguments broadcast with the
        head.

        Parameters
        ----------
        supply_kpa : absolute, at the head, 150 to 3000; above 1500 an ExtrapolationWarning: real
            oxygen then passes over 0.7 % more than the ideal gas
        temp_c : of the oxygen in the pipe, -40 to 600
        ambient_kpa : around the jet, absolute, 20 to 300
        gamma : None for the real cp(T) of oxygen, or a constant such as 1.4

        Returns
        -------
        LanceFlow; ExtrapolationWarning where a shock would stand in the nozzle, or the gas leave
        its wall

        Raises
        ------
        InputError
            Also where the throat is not choked.

        Examples
        --------
        >>> flow = design_head(500.0, 1000.0).flow(1000.0)
        >>> round(flow.flow_nm3_min), flow.expansion
        (500, 'matched')
        """
        supply_kpa, ambient_kpa = _supply(supply_kpa), _ambient(ambient_kpa)
        T0 = _nozzle_temp(temp_c)
        head = (self.throat_mm, self.exit_mm, self.holes, self.angle_deg, self.discharge)
        shape = common_shape("lance flow", supply_kpa, T0, ambient_kpa, *head)
        p0 = supply_kpa * 1000.0
        throat = expand(T0, mach=1.0, gamma=gamma)
        ratio = ambient_kpa / supply_kpa
        if np.any(ratio >= np.asarray(throat.pressure_ratio)):
            least = np.max(ambient_kpa / throat.pressure_ratio)
            raise InputError(
                f"oxygen supply pressure: {np.min(supply_kpa):g} kPa absolute was given; the "
                f"throat is choked only above {least:.0f} kPa."
            )
        out = expand(T0, area_ratio=self.exit_area_m2 / self.throat_area_m2, gamma=gamma)
        matched = expand(T0, pressure_ratio=ratio, gamma=gamma)
        hole_kg_s = choked_mass_flux(T0, p0, gamma) * self.throat_area_m2 * self.discharge
        exit_pa = p0 * out.pressure_ratio
        shock = normal_shock(np.maximum(out.mach, 1.0)).pressure_ratio
        inside = ambient_kpa * 1000.0 > exit_pa * shock
        warn_where(
            inside,
            "ambient pressure: it is so far above the exit pressure that a shock stands in the "
            "nozzle; exit values and thrust do not hold.",
        )
        leaves = _LANCE.get("separation")["value"]
        warn_where(
            (exit_pa < leaves * 1000.0 * ambient_kpa) & ~inside,
            f"exit pressure: {np.min(exit_pa) / 1000.0:.3g} kPa is less than {leaves:g} of that "
            "outside; the gas then leaves the wall of the nozzle (rule from memory, no source "
            "read), and exit values and thrust do not hold.",
        )
        kg_s = hole_kg_s * self.holes
        values = {
            "flow_nm3_min": 60.0 * kg_s / oxygen_kg_nm3(),
            "mass_kg_s": kg_s,
            "mach": out.mach,
            "exit_temp_c": celsius(out.T),
            "exit_kpa": exit_pa / 1000.0,
            "exit_speed_m_s": out.speed_m_s,
            "exit_density_kg_m3": out.density_kg_m3(p0),
            "thrust_n": hole_kg_s * out.speed_m_s
            + (exit_pa - ambient_kpa * 1000.0) * self.exit_area_m2,
            "matched_mach": matched.mach,
            "matched_speed_m_s": matched.speed_m_s,
            "matched_exit_mm": np.asarray(self.throat_mm) * np.sqrt(matched.area_ratio),
            "shock_ratio": shock,
        }
        values = {k: plain(np.broadcast_to(v, shape)) for k, v in values.items()}
        return LanceFlow(self, supply_kpa, temp_c, ambient_kpa, **values)


@dataclass(frozen=True, repr=False)
class LanceFlow(Record):
    """What a lance head passes. Values are floats or arrays.

    flow_nm3_min and mass_kg_s: all holes together. At the exit of each hole: mach, exit_temp_c,
    exit_kpa (absolute), exit_speed_m_s, exit_density_kg_m3, thrust_n (momentum plus pressure, along
    the hole). matched_mach, matched_speed_m_s and matched_exit_mm: those of full expansion to the
    ambient pressure. shock_ratio: pressure jump of a normal shock at the exit.
    """

    head: LanceHead
    supply_kpa: Number
    temp_c: Number
    ambient_kpa: Number
    flow_nm3_min: Number
    mass_kg_s: Number
    mach: Number
    exit_temp_c: Number
    exit_kpa: Number
    exit_speed_m_s: Number
    exit_density_kg_m3: Number
    thrust_n: Number
    matched_mach: Number
    matched_speed_m_s: Number
    matched_exit_mm: Number
    shock_ratio: Number

    @property
    def pressure_match(self) -> Number:
        """Exit over ambient pressure: 1 is full expansion, more is under-expanded, less is
        over-expanded.
        """
        return self.exit_kpa / self.ambient_kpa

    @property
    def expansion(self) -> str | np.ndarray:
        """In words: 'under-expanded', 'matched' (within 5 %, our choice), 'over-expanded' or 'shock
        in the nozzle'; text or array of text.
        """
        match = np.asarray(self.pressure_match)
        words = np.select(
            [match * self.shock_ratio < 1.0, match < 1.0 - _MATCHED, match > 1.0 + _MATCHED],
            ["shock in the nozzle", "over-expanded", "under-expanded"],
            "matched",
        )
        return words.item() if words.ndim == 0 else words

    @property
    def downward_n(self) -> Number:
        """Force of all jets along the lance axis, N."""
        return self.thrust_n * self.head.holes * np.cos(np.radians(self.head.angle_deg))

    @property
    def provenance(self) -> tuple:
        """Source of the oxygen data; the equations are textbook isentropic flow."""
        return substance("O2").provenance


def design_head(
    flow_nm3_min: Number,
    supply_kpa: Number,
    holes: int = 4,
    temp_c: Number = 25.0,
    ambient_kpa: Number = 101.325,
    mach: Number | None = None,
    gamma: Number | None = None,
    discharge: Number = 1.0,
) -> LanceHead:
    """Lance head that passes a flow at a supply pressure and expands the gas fully, or to a Mach
    number.

    Parameters
    ----------
    flow_nm3_min : all holes together, 1 to 3000
    supply_kpa : absolute, at the head
    holes, discharge : as in LanceHead
    temp_c, ambient_kpa, gamma : as in LanceHead.flow; full expansion is to ambient_kpa
    mach : 1 to 4, instead of full expansion

    Returns
    -------
    LanceHead; ExtrapolationWarning as in LanceHead.flow

    Raises
    ------
    InputError

    Examples
    --------
    >>> head = design_head(500.0, 1000.0)
    >>> round(head.throat_mm, 1), round(head.exit_mm, 1)
    (39.2, 54.3)
    """
    flow_nm3_min = between("oxygen flow", flow_nm3_min, 1.0, 3000.0, "Nm3/min")
    supply_kpa, ambient_kpa, T0 = _supply(supply_kpa), _ambient(ambient_kpa), _nozzle_temp(temp_c)
    holes, discharge = (
        between("number of holes", holes, 1, 7),
        between("discharge coefficient", discharge, 0.8, 1.0),
    )
    hole_kg_s = flow_nm3_min * oxygen_kg_nm3() / 60.0 / holes
    throat_m2 = hole_kg_s / (choked_mass_flux(T0, supply_kpa * 1000.0, gamma) * discharge)
    if mach is None:
        critical = expand(T0, mach=1.0, gamma=gamma).pressure_ratio
        if np.any(ambient_kpa / supply_kpa >= critical):
            raise InputError(
                f"oxygen supply pressure: {np.min(supply_kpa):g} kPa absolute was given; too low "
                "for a supersonic jet at this ambient pressure."
            )
        out = expand(T0, pressure_ratio=ambient_kpa / supply_kpa, gamma=gamma)
    else:
        out = expand(T0, mach=between("Mach number", mach, 1.0, 4.0), gamma=gamma)
    throat_mm = 1000.0 * np.sqrt(4.0 * throat_m2 / np.pi)
    exit_mm = throat_mm * np.sqrt(np.maximum(out.area_ratio, 1.0))
    return LanceHead(plain(throat_mm), plain(exit_mm), holes, discharge=discharge)


def supply_for_flow_kpa(
    head: LanceHead, flow_nm3_min: Number, temp_c: Number = 25.0, gamma: Number | None = None
) -> Number:
    """Supply pressure at which a head passes a flow: choked flow is proportional to pressure.

    Parameters
    ----------
    head : LanceHead
    flow_nm3_min : 1 to 3000
    temp_c, gamma : as in LanceHead.flow

    Returns
    -------
    kPa absolute

    Raises
    ------
    InputError
        Where the pressure would leave 150 to 3000 kPa.

    Examples
    --------
    >>> round(supply_for_flow_kpa(LanceHead(40.0, 53.0), 500.0))
    963
    """
    flow = between("oxygen flow", flow_nm3_min, 1.0, 3000.0, "Nm3/min")
    one_kpa = (
        choked_mass_flux(_nozzle_temp(temp_c), 1000.0, gamma)
        * head.throat_area_m2
        * head.discharge
        * head.holes
    )
    return _supply(plain(flow * oxygen_kg_nm3() / 60.0 / one_kpa))
