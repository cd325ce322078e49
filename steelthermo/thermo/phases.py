"""Pure substances and their phases: NASA polynomials from Cantera's data and our own supplement.

No polynomial is ever evaluated outside its range: Cantera itself would do so without a word (alpha
iron at 1873 K comes out 500 kJ/mol wrong).
"""

from bisect import bisect_right

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    finite,
    gate,
    molar_mass,
    row_provenance,
    rows,
    shown,
    value,
)
from .engine import segments, species

_BELOW = 2.0  # K: polynomials that begin at 300 K are used at the reference temperature of 298.15 K
_CHUNK = 16384  # temperatures worked on at once: small enough to stay in the processor's cache


def _refuse(T, low, high, what):
    hint = " Is this degrees Celsius? T is kelvin." if 0 <= T < 298 else ""
    raise InputError(
        f"temperature of {what}: {T:g} K was given; data cover {low:g} to {high:g} K.{hint}"
    )


class Phase:
    """One phase of a substance with one set of NASA polynomials.

    name, state ('s', 'l', 'g'), low_k and high_k (range of the polynomials, K), supercooled_to_k
    (how far below low_k a liquid may be evaluated on request), provenance.
    """

    def __init__(self, row):
        self.formula, self.name, self.state, self.species = (
            row["formula"],
            row["phase"],
            row["state"],
            row["species"],
        )
        self.thermo = species(row["file"])[row["species"]]
        self.low_k, self.high_k = self.thermo.min_temp, self.thermo.max_temp
        self.supercooled_to_k = (
            self.low_k if row["supercooled_to_k"] is None else row["supercooled_to_k"]
        )
        self.stable_from_k = row["stable_from_k"]  # None: from low_k; 'never': only by name
        end = (row["stable_to"] or f"{self.high_k} none").split()
        self.stable_to_k, self.becomes = float(end[0]), end[1]  # the gas of another formula
        self.holds = row["holds"]
        self.provenance = (
            row_provenance(
                row, f"{self.formula} ({self.name}), {self.low_k:g} to {self.high_k:g} K"
            ),
        )

    def __repr__(self):
        return f"{self.formula} ({self.name}, {self.low_k:g} to {self.high_k:g} K)"

    @property
    def segments(self) -> list:
        """(low, high, nine NASA-9 coefficients) of each polynomial, K and R units."""
        return segments(self.thermo)

    def low_limit(self, supercooled: bool) -> float:
        """Lowest temperature, K, at which the phase is evaluated."""
        return (
            min(self.supercooled_to_k, self.low_k - _BELOW) if supercooled else self.low_k - _BELOW
        )

    def refuse(self, T: Number, supercooled: bool) -> None:
        """Raise the InputError that tells the range."""
        _refuse(
            T,
            self.supercooled_to_k if supercooled else self.low_k,
            self.high_k,
            f"{self.formula} ({self.name})",
        )


class _Polynomials:
    """The polynomials of consecutive phases, evaluated for arrays of temperature."""

    def __init__(self, segments):
        self.bounds = np.array([low for low, _, _ in segments[1:]])
        a = np.array([c for _, _, c in segments])
        R = value("gas_constant")
        self.short = not a[:, :2].any()  # no terms in 1/T^2 and 1/T
        zero = np.zeros_like(a[:, 0])
        # Horner coefficients from the highest power down, then what is needed for the integration
        # constant and the logarithm
        self.table = {
            "cp": R * np.array([a[:, 6], a[:, 5], a[:, 4], a[:, 3], a[:, 2]]),
            "h": R
            * np.array([a[:, 6] / 5, a[:, 5] / 4, a[:, 4] / 3, a[:, 3] / 2, a[:, 2], a[:, 7]]),
            "s": R * np.array([a[:, 6] / 4, a[:, 5] / 3, a[:, 4] / 2, a[:, 3], a[:, 8]]),
        }
        self.log = R * a[:, 2]
        self.inverse = R * np.array([a[:, 0], a[:, 1]] if not self.short else [zero, zero])

    def _chunk(self, kind, T):
        if self.bounds.size:
            where = np.zeros(T.shape, dtype=np.intp)
            for bound in self.bounds:
                where += T >= bound

            def pick(column):
                return column.take(where)
        else:

            def pick(column):
                return column[0]

        table = self.table[kind]
        out = pick(table[0]) * T
        for column in table[1:-1]:
            if column.any():
                out += pick(column)
            out *= T
        out += pick(table[-1])
        if kind == "s":
            out += pick(self.log) * np.log(T)
        if not self.short:
            c0, c1 = pick(self.inverse[0]), pick(self.inverse[1])
            if kind == "cp":
                out += (c0 / T + c1) / T
            elif kind == "h":
                out += c1 * np.log(T) - c0 / T
            else:
                out -= (0.5 * c0 / T + c1) / T
        return out

    def __call__(self, kind, T):
        flat = np.ravel(T)
        out = np.empty(flat.shape)
        for start in range(0, flat.size, _CHUNK):
            out[start : start + _CHUNK] = self._chunk(kind, flat[start : start + _CHUNK])
        return out.reshape(np.shape(T))


class Substance(Record):
    """A pure substance with its phases. Get one by substance('SiO2')."""

    def __init__(self, formula):
        self.formula = formula
        self.molar_mass = molar_mass(formula)
        self.phases = tuple(Phase(row) for row in rows("phases") if row["formula"] == formula)
        chain = [p for p in self.phases if p.stable_from_k != "never"]
        chain.sort(key=lambda p: p.low_k if p.stable_from_k is None else p.stable_from_k)
        self._chain = tuple(chain or self.phases[:1])
        self._from = [p.low_k if p.stable_from_k is None else p.stable_from_k for p in self._chain]
        self._to = [*self._from[1:], self._chain[-1].stable_to_k]
        self._to = [min(to, p.high_k) for to, p in zip(self._to, self._chain, strict=True)]
        self._starts = self._from[1:]
        self._low, self._high = self._from[0] - _BELOW, self._to[-1]
        self._polynomials = {}

    def _shown(self):
        phases = [(p.name, p.low_k, f"to {p.high_k:g} K") for p in self.phases]
        return f"Substance {self.formula}", ("phase", "from K", "to"), phases

    @property
    def provenance(self) -> tuple:
        """Where the data of each phase come from."""
        return tuple(p for phase in self.phases for p in phase.provenance)

    def phase(self, name: str) -> Phase:
        """The phase of that name, or of that state ('s', 'l', 'g') where only one phase has it.
        Raises InputError.
        """
        named = [p for p in self.phases if p.name == name] or [
            p for p in self.phases if p.state == name
        ]
        if len(named) == 1:
            return named[0]
        choices = ", ".join(p.name for p in (named or self.phases))
        reason = "that state has several phases" if named else "there are no data for it"
        raise InputError(
            f"phase of {self.formula}: {shown(name)} was given; {reason}; choose one of {choices}."
        )

    def phase_at(self, T: float) -> Phase:
        """The stable phase at T (scalar, K), as a Phase. Raises InputError outside the range of the
        data.
        """
        T = finite("temperature", T, "K")
        if not isinstance(T, float):
            raise InputError(
                f"temperature of {self.formula}: an array was given; one number in K is needed to "
                "name a phase."
            )
        return self._chain[self._index(T)]

    def _outside(self, T):
        """Refuses a temperature that no phase covers (also NaN, which sorts to the end)."""
        self._index(finite("temperature", T, "K"))

    def _index(self, T):
        if not self._low <= T <= self._high:
            gas = self._chain[-1].becomes
            if T > self._high and gas != "none":
                raise InputError(
                    f"temperature of {self.formula}: {T:g} K was given; above {self._high:g} K and "
                    f"at 1 atm it is the gas {gas}: name that, or a phase."
                )
            _refuse(T, self._from[0], self._high, self.formula)
        index = bisect_right(self._starts, T)
        if T > self._to[index]:
            raise InputError(
                f"temperature of {self.formula}: {T:g} K was given; no data between "
                f"{self._to[index]:g} and {self._from[index + 1]:g} K."
            )
        return index

    @property
    def boils(self) -> tuple:
        """(K, True where a gas is stable above) of the last condensed phase."""
        solid = [k for k, p in enumerate(self._chain) if p.state != "g"]
        last = solid[-1] if solid else 0
        return self._to[last], last + 1 < len(self._chain) or self._chain[-1].becomes != "none"

    def gate(self, T: Number) -> tuple:
        """Warns where T, K, leaves what was measured of a phase; what is said."""
        return tuple(
            text
            for phase in self.phases
            if phase.holds != "none"
            for text in gate(f"{self.formula} ({phase.name})", phase.holds, {"T": T})
        )

    def _segments(self, phase):
        if phase is not None:
            return phase.segments
        out = []
        for p, start, end in zip(self._chain, self._from, self._to, strict=True):
            out += [
                (max(low, start), min(high, end), c)
                for low, high, c in p.segments
                if low < end and high > start
            ]
        return out

    def evaluate(
        self, kind: str, T: Number, phase: str | None = None, supercooled: bool = False
    ) -> Number:
        """Property 'cp', 's' in J/(mol K) or 'h', 'g' in J/mol at T (K, scalar or array), of the
        stable or a named phase.
        """
        if kind == "g":
            return self.evaluate("h", T, phase, supercooled) - T * self.evaluate(
                "s", T, phase, supercooled
            )
        if type(T) is not float:
            T = finite("temperature", T, "K")
        if type(T) is float:
            if phase is None:
                thermo = self._chain[self._index(T)].thermo
            else:
                chosen = self.phase(phase)
                if not chosen.low_limit(supercooled) <= T <= chosen.high_k:
                    chosen.refuse(T, supercooled)
                thermo = chosen.thermo
            return (
                thermo.h(T) if kind == "h" else thermo.cp(T) if kind == "cp" else thermo.s(T)
            ) * 0.001
        return self._array(kind, T, phase, supercooled)

    def _array(self, kind, T, phase, supercooled):
        chosen = None if phase is None else self.phase(phase)
        low, high = (
            (self._low, self._high)
            if chosen is None
            else (chosen.low_limit(supercooled), chosen.high_k)
        )
        if T.size and not (T.min() >= low and T.max() <= high):
            bad = T[(T < low) | (T > high)].flat[0]
            self._index(bad) if chosen is None else chosen.refuse(bad, supercooled)
        if chosen is None:
            for end, start in zip(self._to, self._starts, strict=False):
                if end < start and ((T > end) & (T < start)).any():
                    self._index(T[(T > end) & (T < start)].flat[0].item())
        if phase not in self._polynomials:
            self._polynomials[phase] = _Polynomials(self._segments(chosen))
        return self._polynomials[phase](kind, T)
