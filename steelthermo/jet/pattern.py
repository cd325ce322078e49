"""The pattern of lance height and oxygen flow along a blow."""

from dataclasses import dataclass, replace

import numpy as np

from ..base import InputError, Number, Record, between, plain, positive


@dataclass(frozen=True, repr=False)
class LancePattern(Record):
    """Lance height and oxygen flow along a blow: set-points that hold until the next one.

    Parameters
    ----------
    time_min : when each set-point begins, rising from 0 (to 240); the last one ends the blow
    height_m : gap between lance head and bath at rest, 0.3 to 6
    flow_nm3_min : 0 to 3000
    name : free text
    ramp : straight lines between the set-points instead

    Raises
    ------
    InputError
        Unless all three are sequences of equal length, at least two.

    Examples
    --------
    >>> pattern = LancePattern((0, 4, 17), (2.5, 1.8, 1.8), (500, 600, 600))
    >>> pattern.height_at(3.0), pattern.oxygen_nm3()
    (2.5, 9800.0)
    """

    time_min: tuple
    height_m: tuple
    flow_nm3_min: tuple
    name: str = ""
    ramp: bool = False

    def __post_init__(self):
        for field, low, high, unit in (
            ("time_min", 0.0, 240.0, "min"),
            ("height_m", 0.3, 6.0, "m"),
            ("flow_nm3_min", 0.0, 3000.0, "Nm3/min"),
        ):
            given = np.atleast_1d(
                between(f"lance pattern, {field}", getattr(self, field), low, high, unit)
            )
            object.__setattr__(self, field, tuple(given.tolist()))
        lengths = [len(self.time_min), len(self.height_m), len(self.flow_nm3_min)]
        if len(set(lengths)) > 1 or lengths[0] < 2:
            raise InputError(
                f"lance pattern: {lengths[0]} times, {lengths[1]} heights and {lengths[2]} flows "
                "were given; equal numbers, 2 or more, needed."
            )
        if self.time_min[0] != 0.0:
            raise InputError(
                f"lance pattern, time_min: the first time is {self.time_min[0]:g} min; it must be "
                "0."
            )
        for before, after in zip(self.time_min, self.time_min[1:], strict=False):
            if after <= before:
                raise InputError(
                    f"lance pattern, time_min: {after:g} min follows {before:g} min; each time "
                    "must be later than the one before."
                )

    @property
    def end_min(self) -> Number:
        """End of the blow, min."""
        return self.time_min[-1]

    def _at(self, values, time_min):
        time_min = between("time", time_min, 0.0, self.end_min, "min")
        if self.ramp:
            out = np.interp(time_min, self.time_min, values)
        else:
            out = np.asarray(values)[np.searchsorted(self.time_min, time_min, "right") - 1]
        return plain(out)

    def height_at(self, time_min: Number) -> Number:
        """Lance height, m, at a time (0 to end_min). Raises InputError."""
        return self._at(self.height_m, time_min)

    def flow_at(self, time_min: Number) -> Number:
        """Oxygen flow, Nm3/min, at a time (0 to end_min). Raises InputError."""
        return self._at(self.flow_nm3_min, time_min)

    def oxygen_nm3(self, time_min: Number | None = None) -> Number:
        """Oxygen blown until a time (default: the end), Nm3: exact integral of the pattern. Raises
        InputError.
        """
        time_min = (
            self.end_min
            if time_min is None
            else between("time", time_min, 0.0, self.end_min, "min")
        )
        t, q = np.array(self.time_min), np.array(self.flow_nm3_min)
        mean = 0.5 * (q[1:] + q[:-1]) if self.ramp else q[:-1]
        whole = np.concatenate(([0.0], np.cumsum(mean * np.diff(t))))
        part = np.clip(np.searchsorted(t, time_min, "right") - 1, 0, len(t) - 2)
        since = time_min - t[part]
        slope = (q[part + 1] - q[part]) / (t[part + 1] - t[part]) if self.ramp else 0.0
        out = whole[part] + since * (q[part] + 0.5 * slope * since)
        return plain(out)

    def scaled(self, oxygen_nm3: Number) -> "LancePattern":
        """The same pattern stretched in time so that it blows oxygen_nm3 (more than zero) in all.
        Raises InputError.
        """
        total = self.oxygen_nm3()
        wanted = positive("oxygen of the blow", oxygen_nm3, "Nm3", zero=False)
        if np.ndim(wanted):
            raise InputError("oxygen of the blow: an array was given; one number is needed.")
        if total == 0.0:
            raise InputError(
                "lance pattern: it blows no oxygen; it cannot be stretched to blow some."
            )
        return replace(self, time_min=tuple(t * wanted / total for t in self.time_min))
