"""Where more oxygen leads from the readings at the end of a blow, and from each of them up and down
by its uncertainty.
"""

from math import sqrt

import numpy as np

from ..slag import end_of_blow_parameters
from .second_blow import second_blow, usual_slag_kg_t

_POINTS = 48  # of oxygen tried
_SPARE_NM3_T = 8.0  # tried beyond what the carbon to burn takes
_ABOVE_FLOOR_PCT = 1e-3  # the law is asked no nearer to its floor


class Way:
    """Where more oxygen leads from the readings, and from each of them up and down by its
    uncertainty: rows 0 as read, then pairs.
    """

    def __init__(self, temp_c, carbon_pct, rules):
        law = end_of_blow_parameters()
        floor = law["carbon_floor_pct"].start + _ABOVE_FLOOR_PCT
        exchange = law["slag_exchange"].start
        read = np.array([temp_c, carbon_pct, exchange])
        u = rules.u_temp_c, min(rules.u_carbon_pct, 0.9 * carbon_pct), rules.u_exchange_share
        u = np.array([u[0], u[1], min(u[2], 0.9) * exchange])
        off = np.kron(np.diag(u), [[1.0], [-1.0]])
        self.temp, carbon, exchange = (read + np.concatenate([np.zeros((1, 3)), off])).T[..., None]
        self.low = np.maximum(floor - carbon, 0.0)  # by so much a reading lies below
        most = 10.0 * max(carbon_pct - rules.aim_carbon_pct, 0.0) + _SPARE_NM3_T
        self.oxygen = np.linspace(0.0, min(most, 20.0), _POINTS)
        slag = usual_slag_kg_t() if rules.slag_kg_t is None else rules.slag_kg_t
        self.slag, flow = slag, rules.flow_nm3_min / rules.steel_t
        steel = {e: rules.analysis_pct[e] for e in ("Mn", "P") if e in rules.analysis_pct}

        def blown(oxygen, rows=slice(None)):
            return second_blow(
                steel | {"C": (carbon + self.low)[rows]},
                self.temp[rows],
                slag,
                oxygen,
                flow,
                rules.co2_pct,
                rules.loss_c_min,
                {"slag_exchange": exchange[rows]},
            )

        self.blown = blown
        found = blown(self.oxygen)
        self.carbon = found.steel_pct["C"] - self.low
        self.temp_c, self.found = found.temp_c, found

    def first(self, lines, limit, falling=True):
        """Oxygen at which each row of lines first reaches a limit, Nm3/t; the most tried where it
        does not.
        """
        out = []
        for line in lines:
            over = line - limit if falling else limit - line
            i = int(np.argmax(over <= 0.0)) or len(over) - 1  # straight through the points around
            part = np.clip(over[i - 1] / (over[i - 1] - over[i]), 0.0, 1.0)
            out.append(self.oxygen[i - 1] + part * (self.oxygen[i] - self.oxygen[i - 1]))
        return np.array(out)

    def at(self, lines, oxygen):
        """A quantity of each row after an oxygen (number or row of them)."""
        return np.array(
            [
                np.interp(o, self.oxygen, line)
                for o, line in zip(np.broadcast_to(oxygen, len(lines)), lines, strict=True)
            ]
        )


def spread(rows):
    """Standard uncertainty from the rows of a Way."""
    return sqrt(
        sum((0.5 * (up - down)) ** 2 for up, down in zip(rows[1::2], rows[2::2], strict=True))
    )
