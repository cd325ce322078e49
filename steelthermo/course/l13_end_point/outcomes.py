"""What comes of a decision at the end of a blow: the drill of lesson 13 plays it out by the second
blow, the coolant and the ladle, for the steel as it is, and for the steels that the readings leave
open.

Amounts are those that the readings ask for; only after the sample are they those of the steel.
Right is what costs least on the average of the steels left open: a good decision may still have bad
luck. Counted are minutes, iron and heats off grade; to tell which decision is better, iron and
off-grade heats count as minutes (plant values).
"""

from dataclasses import dataclass

import numpy as np

from ...base import kelvin
from ...charge import coolant_effect
from ...end_point import second_blow, usual_slag_kg_t
from ...ladle import aluminium_demand_kg_t
from ...slag import bath_oxygen_pct, end_of_blow_parameters
from ...works import plant_value
from .cases import U_CARBON_SHARE, U_P_SHARE, U_TEMP_C, order_of

ACTIONS = ("tap", "blow", "cool", "wait", "alloys")
AIM_AL_PCT = 0.035
_RIGHT_AL_PCT = 0.020, 0.060  # what needs no trimming
_GRID_NM3_T = np.linspace(0.0, 6.0, 25)  # of a second blow
_LEAST_BLOW_NM3_T, _LEAST_COOLANT_KG_T = 0.5, 2.0
_OPEN = np.sqrt(3.0)  # sigma at which steels left open are taken, six of them of the same weight


@dataclass(frozen=True)
class Outcome:
    """What came of a decision: minutes lost, iron burnt (kg), whether the heat is off grade, the
    steel when it was tapped (degC, % C, % P), and what it would cost on the average, in minutes.
    """

    minutes: float
    iron_kg: float
    off_grade: bool
    temp_c: float
    carbon_pct: float
    p_pct: float
    average_min: float


class _Steels:
    """Many steels at their end point, and where more oxygen leads each. Arrays of one shape."""

    def __init__(self, order, slag, temp, carbon, p):
        self.order = order
        self.temp, self.carbon, self.p = np.broadcast_arrays(temp, carbon, p)
        flow = order.o2_nm3_min / order.steel_t
        steel = {"C": self.carbon[..., None], "P": self.p[..., None]}
        found = second_blow(steel, self.temp[..., None], slag, _GRID_NM3_T, flow)
        self.blown_c, self.blown_pct, self.iron_kg_t = (
            found.temp_c,
            found.steel_pct,
            found.iron_kg_t,
        )

    def oxygen_nm3_t(self):
        """What brings carbon, phosphorus and temperature within their limits, one step at least."""
        o = self.order
        fine = (self.blown_pct["C"] <= o.most_c_pct) & (self.blown_pct["P"] <= o.most_p_pct)
        fine &= self.blown_c >= o.aim_c - o.band_c
        # where none does, as much as brings the heat to its temperature
        warm = np.argmax(self.blown_c >= o.aim_c - o.band_c, axis=-1)
        first = np.where(np.any(fine, axis=-1), np.argmax(fine, axis=-1), warm)
        return np.maximum(_GRID_NM3_T[first], _LEAST_BLOW_NM3_T)

    def to_carbon_nm3_t(self):
        """What brings carbon alone below its limit."""
        return _GRID_NM3_T[np.argmax(self.blown_pct["C"] <= self.order.most_c_pct, axis=-1)]

    def coolant_kg_t(self, effect):
        return np.maximum((self.temp - self.order.aim_c) / -effect, _LEAST_COOLANT_KG_T)

    def after(self, nm3_t):
        """(degC, % C, % P, kg of iron per t) after an oxygen."""
        step = np.broadcast_to(nm3_t, self.temp.shape) / _GRID_NM3_T[1]
        i = np.minimum(step.astype(int), len(_GRID_NM3_T) - 2)
        part = step - i
        rows = self.blown_c, self.blown_pct["C"], self.blown_pct["P"], self.iron_kg_t
        out = []
        for row in rows:
            low, high = (
                np.take_along_axis(np.broadcast_to(row, self.blown_c.shape), k[..., None], -1)[
                    ..., 0
                ]
                for k in (i, i + 1)
            )
            out.append(low + part * (high - low))
        return out


def _al_pct(order, carbon, temp):
    """Aluminium in the ladle with the alloys weighed for the plan."""
    law = end_of_blow_parameters()["carbon_oxygen_product"].start
    need = [
        aluminium_demand_kg_t(1e4 * bath_oxygen_pct(c, kelvin(t), law), AIM_AL_PCT)["total"]
        for c, t in ((order.plan_c_pct, order.aim_c), (carbon, temp))
    ]
    return AIM_AL_PCT + 0.1 * (need[0] - need[1]) * plant_value("recovery_al_pct").start / 100.0


def _tapped(order, temp, carbon, p, matched):
    """(minutes, off grade) of a steel that is tapped; matched: the alloys were weighed for it."""
    cold = np.maximum(order.aim_c - order.band_c - temp, 0.0)
    hot = np.maximum(temp - order.aim_c - order.band_c, 0.0)
    minutes = np.where(cold > 0.0, _min("drill_heating_min") + cold / _min("heating_c_min"), 0.0)
    minutes = minutes + hot / _min("hold_c_min")
    al = _al_pct(order, carbon, temp)
    trimmed = (al < _RIGHT_AL_PCT[0]) | (al > _RIGHT_AL_PCT[1]) | (carbon < order.least_c_pct)
    minutes = minutes + np.where(trimmed & (not matched), _min("drill_trim_min"), 0.0)
    return minutes, (carbon > order.most_c_pct) | (p > order.most_p_pct)


def _min(key):
    return plant_value(key).start


def _played(order, steels, asked, known=False):
    """{action: (minutes, iron_kg, off, temp_c, carbon_pct, p_pct)} of tapping, blowing, cooling and
    other alloys. asked: the _Steels whose figures the amounts are made for; known: the analysis is.
    """
    effect, on_carbon = coolant_effect("scrap", order.aim_c)
    here = steels.temp, steels.carbon, steels.p
    none = np.zeros(steels.temp.shape)
    minutes, off = _tapped(order, *here, matched=False)
    out = {"tap": (minutes, none, off, *here)}
    minutes, off = _tapped(order, *here, matched=True)
    out["alloys"] = (minutes + _min("drill_weigh_min"), none, off, *here)

    # the probe reads again: what is still too rich in carbon is blown once more, what is hot cooled
    lance, nm3_t = _min("drill_lance_min"), asked.oxygen_nm3_t()
    minutes, once_more = np.full(steels.temp.shape, lance), steels.to_carbon_nm3_t() > nm3_t
    nm3_t = np.where(once_more, steels.to_carbon_nm3_t(), nm3_t)
    blown_c, carbon, p, iron = steels.after(nm3_t)
    hot = blown_c > order.aim_c + order.band_c
    then = np.where(hot, order.aim_c, blown_c), carbon, p
    waits, off = _tapped(order, *then, matched=True)
    minutes = minutes + waits + nm3_t * order.steel_t / order.o2_nm3_min
    minutes = minutes + lance * (1.0 * once_more + hot)
    out["blow"] = (minutes, iron * order.steel_t, off, *then)

    kg_t = asked.coolant_kg_t(effect)
    then = (
        steels.temp + effect * kg_t,
        np.maximum(steels.carbon + on_carbon * kg_t, 0.005),
        steels.p,
    )
    minutes, off = _tapped(order, *then, matched=known)
    out["cool"] = (minutes + _min("drill_lance_min"), none, off, *then)
    return {key: np.broadcast_arrays(*parts) for key, parts in out.items()}


def _cost(minutes, iron_kg, off, *_):
    """In minutes, to tell which decision is better."""
    by_iron = iron_kg / 1000.0 * _min("drill_iron_min_t")
    return minutes + by_iron + off * _min("drill_off_grade_min")


def outcomes(works, cases):
    """A dict of action to Outcome for each case."""
    order, slag = order_of(works), usual_slag_kg_t(works)
    read, true = (np.array([getattr(c, of) for c in cases]).T[..., None] for of in ("read", "true"))
    u = np.array([np.full_like(read[0], U_TEMP_C), U_CARBON_SHARE * read[1], U_P_SHARE * read[2]])
    off = _OPEN * np.kron(np.eye(3), [1.0, -1.0])[:, None, :]
    steels = np.concatenate([true, np.maximum(read + u * off, [[[0.0]], [[0.016]], [[0.0]]])], -1)
    later = (
        steels
        - np.array([_min("drill_wait_min") * _min("drill_loss_c_min"), 0.0, 0.0])[:, None, None]
    )
    now, then = (_Steels(order, slag, *x) for x in (steels, later))
    out = _played(order, now, _Steels(order, slag, *read))
    known = _played(order, then, then, known=True)
    best = np.argmin([_cost(*known[key]) for key in known], axis=0)
    out["wait"] = [
        np.choose(best, [np.asarray(known[key][k], float) for key in known]) for k in range(6)
    ]
    out["wait"][0] = out["wait"][0] + _min("drill_wait_min")
    average = {key: _cost(*parts)[:, 1:].mean(axis=-1) for key, parts in out.items()}
    return [
        {
            key: Outcome(
                *(float(x[i, 0]) for x in parts[:2]),
                bool(parts[2][i, 0]),
                *(float(x[i, 0]) for x in parts[3:]),
                float(average[key][i]),
            )
            for key, parts in out.items()
        }
        for i in range(len(cases))
    ]
