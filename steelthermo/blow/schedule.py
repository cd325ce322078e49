"""When things are done to a blow: additions, lance and oxygen along time, laid on the steps of the
integrator.

Left to itself, a blow follows blow_schedule.csv: an ordinary order of doing things, its
heights and times invented for Heron Works.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    between,
    molar_volume_nm3_kmol,
    one_of,
    positive,
    rows,
)
from ..jet import LancePattern
from .rows import FED

_SHORTEST_MIN = 0.1  # what is thrown in at once still takes this long to take effect


@dataclass(frozen=True, repr=False)
class Addition(Record):
    """Something fed evenly during a part of the blow.

    Parameters
    ----------
    what : 'lime', 'dolomite', 'coolant' or 'fuel' (the material is the charge's)
    start_min, end_min : 0 to 240
    kg : number or array of heats

    Raises
    ------
    InputError

    Examples
    --------
    >>> Addition("lime", 0.5, 3.0, 4000.0).kg
    4000.0
    """

    what: str
    start_min: Number
    end_min: Number
    kg: Number

    def __post_init__(self):
        one_of("addition", self.what, FED)
        for field in ("start_min", "end_min"):
            object.__setattr__(
                self,
                field,
                between(
                    f"addition of {self.what}, {field}", getattr(self, field), 0.0, 240.0, "min"
                ),
            )
        object.__setattr__(self, "kg", positive(f"addition of {self.what}", self.kg, "kg"))
        if np.any(np.asarray(self.end_min) < self.start_min):
            raise InputError(
                f"addition of {self.what}: it would end at {np.min(self.end_min):g} min, before it "
                f"starts at {np.max(self.start_min):g} min."
            )


@cache
def _schedule():
    return rows("blow_schedule")


@cache
def standard_pattern() -> LancePattern:
    """The ordinary pattern, its time and its flow in % of the whole blow and of the works' usual
    flow: stretch it with solve(oxygen_nm3=...).

    Returns
    -------
    LancePattern

    Examples
    --------
    >>> standard_pattern().end_min
    100.0
    """
    heights = [r for r in _schedule() if r["what"] == "height"]
    times = (*(r["from_pct"] for r in heights), 100.0)
    levels = [r["value"] for r in heights]
    return LancePattern(times, (*levels, levels[-1]), (100.0,) * len(times), "three heights")


def standard_additions(planned_kg: Amounts, minutes: Number) -> tuple:
    """The ordinary additions of a heat.

    Parameters
    ----------
    planned_kg : kg by what, numbers or arrays of heats
    minutes : length of the blow

    Returns
    -------
    tuple of Addition

    Examples
    --------
    >>> [(a.what, a.kg) for a in standard_additions({"lime": 6000.0}, 17.0)]
    [('lime', 3000.0), ('lime', 1800.0), ('lime', 1200.0)]
    """
    lots = [
        r
        for r in _schedule()
        if r["what"] in FED and np.any(np.asarray(planned_kg.get(r["what"], 0.0)) > 0)
    ]

    def part(r, key):
        return np.asarray(minutes) * r[key] / 100.0

    return tuple(
        Addition(
            r["what"],
            part(r, "from_pct"),
            part(r, "to_pct"),
            np.asarray(planned_kg[r["what"]]) * r["value"] / 100.0,
        )
        for r in lots
    )


class Course:
    """Times, flows and additions of n heats on common steps.

    pattern: LancePattern; flow_factor, time_factor: what its flows and times are multiplied by,
    arrays (1, n); additions: tuple of Addition;
    usual_nm3_min: the works' usual flow, array (1, n); purity: share of O2; step_min: longest step.
    time_min: (steps + 1, n); oxygen_nm3: blown until then, of the given purity.
    """

    def __init__(
        self, pattern, flow_factor, time_factor, additions, usual_nm3_min, purity, step_min
    ):
        self.pattern, self.flow_factor, self.usual, self.purity = (
            pattern,
            flow_factor,
            usual_nm3_min,
            purity,
        )
        self.end_min = pattern.end_min * time_factor
        self.flat = lambda x: np.broadcast_to(
            np.asarray(x, float).reshape(-1), self.end_min.shape[1:]
        )[None, :]
        self.spans = []
        for a in additions:
            end = np.maximum(a.end_min, np.asarray(a.start_min) + _SHORTEST_MIN)
            self.spans.append(
                (
                    a.what,
                    self.flat(a.start_min) / self.end_min,
                    self.flat(end) / self.end_min,
                    self.flat(a.kg),
                )
            )
        edges = {round(t / pattern.end_min, 12) for t in pattern.time_min}
        for _, start, end, _ in self.spans:
            edges |= {
                round(x[0, 0], 12) for x in (start, end) if np.ptp(x) < 1e-9 and 0.0 < x[0, 0] < 1.0
            }
        edges = np.array(sorted(edges | {0.0, 1.0}))
        edges = edges[np.concatenate([np.diff(edges) > 1e-6, [True]])]
        counts = np.ceil(np.diff(edges) * self.end_min.max() / step_min - 1e-9).astype(int).clip(1)
        self.nodes = np.concatenate(
            [
                [0.0],
                *(
                    np.linspace(a, b, n + 1)[1:]
                    for a, b, n in zip(edges[:-1], edges[1:], counts, strict=True)
                ),
            ]
        )
        self.middles = 0.5 * (self.nodes[1:] + self.nodes[:-1])
        self.time_min = self.nodes[:, None] * self.end_min
        self.oxygen_nm3 = self._oxygen(self.nodes) * time_factor
        self._both = np.sort(np.concatenate([self.nodes, self.middles]))
        self._time_factor = time_factor

    def _oxygen(self, share):
        return (
            np.asarray(self.pattern.oxygen_nm3(np.minimum(share, 1.0) * self.pattern.end_min))[
                :, None
            ]
            * self.flow_factor
        )

    def fed(self, share):
        """kg fed until a share of the blow (array), by name of FED: arrays (len(share), n)."""
        out = {name: np.zeros((len(share), *self.end_min.shape[1:])) for name in FED}
        for what, start, end, kg in self.spans:
            out[what] = out[what] + kg * np.clip((share[:, None] - start) / (end - start), 0.0, 1.0)
        return out

    def feeding(self, share):
        """kg per minute that are being fed just after a share of the blow, as fed()."""
        out = {name: np.zeros((len(share), *self.end_min.shape[1:])) for name in FED}
        for what, start, end, kg in self.spans:
            inside = (share[:, None] >= start - 1e-12) & (share[:, None] < end - 1e-12)
            out[what] = out[what] + np.where(inside, kg / ((end - start) * self.end_min), 0.0)
        return out

    def known(self, account):
        """Rows of Account.known() at nodes and middles in turn."""
        o2 = self._oxygen(self._both) * self._time_factor * self.purity / molar_volume_nm3_kmol()
        return account.known(self._both[:, None] * self.end_min, o2, self.fed(self._both))

    def drive(self, kinetics, share):
        """Height (m) and flow (Nm3/min) at shares of the blow, arrays (len(share), 1 or n), and the
        Drive of a Kinetics.
        """
        time = np.clip(share, 0.0, 1.0) * self.pattern.end_min
        height, flow = (
            np.asarray(self.pattern.height_at(time))[:, None],
            np.asarray(self.pattern.flow_at(time))[:, None] * self.flow_factor,
        )
        return (
            height,
            flow,
            kinetics.drive(flow * self.purity / molar_volume_nm3_kmol(), height, flow / self.usual),
        )

    def drives(self, kinetics):
        """The Drive of all steps at their start, middle and end. The set-points of a step are its
        own, also where the next one differs at once.
        """
        tiny = 1e-9 * (self.nodes[1:] - self.nodes[:-1])
        return [
            self.drive(kinetics, x)[2]
            for x in (self.nodes[:-1] + tiny, self.middles, self.nodes[1:] - tiny)
        ]
