"""The zirconia cell: dissolved oxygen of steel from a voltage, with the reference electrode and the
electronic conduction of the electrolyte.

E = (RT/F) ln[(pO2 steel^1/4 + Pe^1/4) / (pO2 reference^1/4 + Pe^1/4)]: E is positive where the
steel is more oxidising than the reference; Pe is the oxygen pressure at which electrons carry as
much as ions. Pe = 0 gives Nernst's law. The voltage between unlike lead wires is not in it:
makers' formulas allow for their own wires, so a real probe is read with its maker's formula.
"""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    between,
    celsius,
    constant,
    extrapolated,
    one_of,
    plain,
    positive,
    quietly,
    value,
)
from ..thermo import DEFAULT_SET, gibbs, solution_gibbs

REFERENCES = ("Cr/Cr2O3", "Mo/MoO2")
ELECTROLYTES = MappingProxyType(
    {
        "ideal": None,
        "zirconia": "electronic_zirconia",
        "zirconia, Nagatani": "electronic_zirconia_nagatani",
        "hafnia": "electronic_hafnia",
    }
)
# the laws of one electrolyte, the kit's own first: the gap of the two is the error of the probe
_OTHER_LAW = MappingProxyType({"zirconia": "zirconia, Nagatani", "zirconia, Nagatani": "zirconia"})
_LITTLE_PPM = 50.0  # below it the electrons carry so much that the law decides the reading


@dataclass(frozen=True, repr=False)
class ProbeReading(Record):
    """Oxygen by the probe, for one voltage. ppm: activity on the mass % scale, times 10 000;
    electrolyte: law used; other_ppm, other: the same by the other law of that electrolyte, None
    where there is no other.
    """

    ppm: float
    electrolyte: str
    other_ppm: float | None
    other: str | None
    _sources = ("electronic_zirconia_a", "electronic_zirconia_nagatani_a", "Cr2O3")

    @property
    def _main_results(self):
        """By the law that what_moves.csv shifts."""
        if self.electrolyte != "zirconia":
            return ()
        return ("probe_3_ppm",) if self.ppm < _LITTLE_PPM else ("probe_600_ppm",)


def _temperature(T):
    return between("temperature", T, 1700.0, 2000.0, "K")


def reference_log_po2(reference: str, T: Number) -> Number:
    """Decadic logarithm of the oxygen pressure of a reference electrode.

    Parameters
    ----------
    reference : of REFERENCES
    T : 1700 to 2000 K; scalar or array

    Returns
    -------
    of atm

    Raises
    ------
    InputError

    References
    ----------
    Cr/Cr2O3: the pure substances, sources('Cr2O3'); Mo/MoO2: a line through NIST-JANAF table
    Mo-009, sources('mo_moo2_a')

    Examples
    --------
    >>> print(round(reference_log_po2("Cr/Cr2O3", 1873.15), 2))
    -12.07
    """
    T = _temperature(T)
    if one_of("reference electrode", reference, REFERENCES) == "Cr/Cr2O3":
        g = (gibbs("Cr2O3", T) - 2.0 * gibbs("Cr", T, "s") - 1.5 * gibbs("O2", T)) / 1.5
        bar = g / (value("gas_constant") * T * np.log(10.0))
    else:
        bar = value("mo_moo2_a") + value("mo_moo2_b") / T
    return bar - np.log10(value("normal_pressure") / value("standard_pressure"))


def _fourth_root_pe(electrolyte, T):
    key = ELECTROLYTES[one_of("electrolyte", electrolyte, ELECTROLYTES)]
    if key is None:
        return 0.0
    c = constant(f"{key}_a")
    extrapolated(
        f"temperature of electrolyte {electrolyte}",
        celsius(T),
        c["low"],
        c["high"],
        "°C",
        c["source"],
    )
    return 10.0 ** (0.25 * (value(f"{key}_a") / T + value(f"{key}_b")))


def _per_root_atm(T, coefficients):
    """Activity of oxygen in iron (mass %) under 1 atm of O2."""
    return np.exp(-solution_gibbs("O", T, coefficients) / (value("gas_constant") * T))


def emf_mv(
    h_o: Number,
    T: Number,
    reference: str = "Cr/Cr2O3",
    electrolyte: str = "zirconia",
    coefficients: str = DEFAULT_SET,
) -> Number:
    """Voltage of the cell for an activity of oxygen.

    Parameters
    ----------
    h_o : mass % scale: 0.03 is 300 ppm; arrays broadcast
    T : 1700 to 2000 K
    reference : of REFERENCES
    electrolyte : of ELECTROLYTES: 'zirconia' (partly stabilised with magnesia, from memory),
        'zirconia, Nagatani' (9 mol% MgO, published: two decades more in Pe; the gap of the two is
        the error of a low reading), 'hafnia' (published line), 'ideal'
    coefficients : set of the Gibbs energy of solution of oxygen

    Returns
    -------
    mV

    Raises
    ------
    InputError

    References
    ----------
    sources('electronic_zirconia_a'), and reference_log_po2()

    Examples
    --------
    >>> round(emf_mv(0.06, 1923.15))
    203
    """
    T = _temperature(T)
    root = np.sqrt(
        positive("activity of oxygen", h_o, "%", zero=False) / _per_root_atm(T, coefficients)
    )  # fourth root of pO2
    pe = _fourth_root_pe(electrolyte, T)
    ratio = (root + pe) / (10.0 ** (0.25 * reference_log_po2(reference, T)) + pe)
    return plain(1000.0 * value("gas_constant") * T / value("faraday_constant") * np.log(ratio))


def oxygen_activity(
    emf: Number,
    T: Number,
    reference: str = "Cr/Cr2O3",
    electrolyte: str = "zirconia",
    coefficients: str = DEFAULT_SET,
) -> Number:
    """Activity of oxygen in the steel from the voltage of the cell, the inverse of emf_mv().

    Parameters
    ----------
    emf : mV, positive where the steel is more oxidising than the reference; arrays broadcast
    T : 1700 to 2000 K
    reference, electrolyte, coefficients : as in emf_mv()

    Returns
    -------
    mass % scale

    Raises
    ------
    InputError
        Where the voltage is lower than electronic conduction lets it become, or asks for more than
        1 % of oxygen (sign of the voltage?).

    References
    ----------
    As emf_mv()

    Examples
    --------
    >>> round(oxygen_activity(200.0, 1923.15), 3)
    0.058
    """
    T = _temperature(T)
    emf = between("voltage of the cell", emf, -700.0, 700.0, "mV", "Was volt given?")
    pe = _fourth_root_pe(electrolyte, T)
    reference_root = 10.0 ** (0.25 * reference_log_po2(reference, T))
    root = (reference_root + pe) * np.exp(
        emf / 1000.0 * value("faraday_constant") / (value("gas_constant") * T)
    ) - pe
    if np.any(np.asarray(root) <= 0):
        raise InputError(
            f"voltage of the cell: {np.min(emf):g} mV was given; with electronic conduction "
            f"({electrolyte}) it does not fall so low even without oxygen."
        )
    h = root**2 * _per_root_atm(T, coefficients)
    if np.any(np.asarray(h) > 1.0):
        raise InputError(
            f"voltage of the cell: {np.max(emf):g} mV against {reference} would mean more than 1 % "
            "of oxygen; check sign and reference."
        )
    return plain(h)


def read_probe(emf: float, T: float, electrolyte: str = "zirconia") -> ProbeReading:
    """Oxygen by the probe against Cr/Cr2O3 as a record, which tells what it rests on.

    Parameters
    ----------
    emf : mV, positive where the steel is more oxidising than the reference
    T : 1700 to 2000 K
    electrolyte : of ELECTROLYTES

    Returns
    -------
    ProbeReading

    Raises
    ------
    InputError
        As oxygen_activity(); other_ppm is None where the other law refuses the voltage.

    References
    ----------
    As emf_mv()

    Examples
    --------
    >>> read_probe(150.0, 1918.15).other
    'zirconia, Nagatani'
    """
    ppm, other_ppm = 1e4 * oxygen_activity(emf, T, electrolyte=electrolyte), None
    other = _OTHER_LAW.get(electrolyte)
    if other:
        try:
            with quietly():  # a temperature beyond the other law was no choice of the reader
                other_ppm = 1e4 * oxygen_activity(emf, T, electrolyte=other)
        except InputError:
            pass
    return ProbeReading(ppm, electrolyte, other_ppm, other)
