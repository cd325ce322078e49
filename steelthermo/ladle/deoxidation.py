"""Deoxidation at equilibrium: the oxides that the deoxidisers of a steel form together, and the
oxygen that stays dissolved.

Products: alumina, silica, MnO, FeO, each pure, and a liquid manganese silicate. Everything in the
bath is shared out so that no product could form or dissolve further: with aluminium enough alumina
takes all, with silicon and manganese a silicate that takes the oxygen lower than silica alone.
Left out: mullite, spinels, alumina dissolved in the silicate, titanium.
"""

from dataclasses import replace

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    atomic_weight,
    between,
    common_shape,
    find_root,
    molar_mass,
    plain,
    positive,
    say,
)
from ..thermo import DEFAULT_SET, activities, log_k, oxygen_activity
from .inclusions import Deoxidised, saturation, silicate_activities, solid_over_liquid

_GRID = np.linspace(0.0, 1.0, 161)
_NEAR = 0.01  # of the logarithm of oxygen activity; buys 3 ms of the 14 ms of a ladle
_LOW_H = 1e-8  # %: lowest oxygen activity looked for
_ELEMENTS = ("Al", "Si", "Mn")


def deoxidise(
    element_kg: Amounts,
    T: Number,
    coefficients: str = DEFAULT_SET,
    lines: dict | None = None,
    start: Deoxidised | None = None,
    tolerance: float = 1e-08,
    quiet: bool = False,
) -> Deoxidised:
    """Share all oxygen of a steel out between dissolved oxygen and oxides, at equilibrium.

    Parameters
    ----------
    element_kg : kg of every element of the bath, Fe and O among them, oxides not yet formed;
        scalars or
        arrays of one shape
    T : 1773 to 1990 K
    coefficients : set of activities and constants
    lines : printed lines instead of the set's constants, such as {'Al-O': 'seo98'}, see
        thermo.lines()
    start : an earlier answer to begin from
    tolerance : relative change of the dissolved contents at which it counts as found
    quiet : keep what leaves a range in the remarks of the result and give no warning

    Returns
    -------
    Deoxidised
        ExtrapolationWarning where a content leaves the range of the coefficients of O, Al, Si or
        Mn, as above 0.07 % Al.

    Raises
    ------
    InputError

    References
    ----------
    equilibria.log_k for 'Al-O', 'Si-O', 'Mn-O', 'Fe-O'; activities of the set;
    sources('manganese silicate').

    Examples
    --------
    >>> deoxidise({"Fe": 99850.0, "O": 60.0, "Al": 90.0}, 1873.15).words
    '100 % alumina'
    """
    T = np.asarray(
        between("temperature", T, 1773.0, 1990.0, "K"),
        float,
    )
    kg = {
        e: np.asarray(positive(f"{e} in the bath", x, "kg"), float) for e, x in element_kg.items()
    }
    if np.any(kg.get("O", 0.0) <= 0) or "Fe" not in kg:
        raise InputError(
            "deoxidation: iron and oxygen are needed in element_kg, oxygen more than zero."
        )
    shape = common_shape("deoxidation", T, *kg.values())
    T, kg = np.broadcast_to(T, shape), {e: np.broadcast_to(x, shape) for e, x in kg.items()}
    mass = sum(kg.values())
    k = {
        name: 10.0 ** np.asarray(log_k(name, T, coefficients, (lines or {}).get(name)))
        for name in ("Al-O", "Si-O", "Mn-O")
    }
    h_most = np.asarray(
        oxygen_activity("Fe-O", T, coefficients=coefficients)
    )  # saturation with iron oxide
    state = _Bath(kg, mass, T, k, h_most, start)
    dissolved = {e: x * 100.0 / mass * state.swell for e, x in kg.items() if e != "Fe"} | {
        "O": np.full(shape, 1e-4)
    }
    if start is not None:
        dissolved |= {
            e: start.element_kg[e] * 100.0 / mass * state.swell
            for e in (*_ELEMENTS, "O")
            if e in start.element_kg
        }
    for turn in range(60):
        melt = activities(dissolved, T, coefficients, quiet=True)
        f = melt.f
        new = state.share(f)
        change = max(np.max(np.abs(new[e] - dissolved[e]) / (new[e] + 1e-6)) for e in new)
        dissolved |= {e: kg[e] * 100.0 / mass * state.swell for e in kg if e not in (*new, "Fe")}
        dissolved |= {
            e: 0.5 * (x + dissolved[e]) if turn and change > 0.5 else x for e, x in new.items()
        }
        if change < tolerance:
            break
    found = state.result(f)
    beyond = melt.remarks_on("O", *(e for e in _ELEMENTS if state.has[e]))
    if not quiet:
        say(beyond, f"deoxidation (set {coefficients})")
    remarks = (*found.remarks, *beyond)
    return replace(found, coefficients=coefficients, remarks=remarks, beyond=beyond)


def silicon_beside_slag(
    silica_activity: Number,
    oxygen_activity: Number,
    T: Number,
    analysis_pct: Amounts,
    coefficients: str = DEFAULT_SET,
) -> Number:
    """Silicon of a steel that neither takes silicon from its slag nor gives it any.

    Parameters
    ----------
    silica_activity : of the slag, against solid silica
    oxygen_activity : of the steel, 1 mass %, as aluminium sets it
    T : 1773 to 1990 K
    analysis_pct : of the steel, mass %
    coefficients : set of activities and of the constant

    Returns
    -------
    mass %
        Steel with less takes silicon up, and its aluminium pays for that.

    Raises
    ------
    InputError

    References
    ----------
    log_k('Si-O'); for a killed ladle the activities of ladle_silica_activity in constants.csv.

    Examples
    --------
    >>> steel = {"C": 0.05, "Mn": 0.25, "Al": 0.04}
    >>> [round(silicon_beside_slag(a, 0.0004, 1873.15, steel), 3) for a in (1e-4, 1e-3)]
    [0.015, 0.151]
    """
    T = between("temperature", T, 1773.0, 1990.0, "K")
    a = positive("activity of silica", silica_activity, "1", zero=False)
    oxygen = positive("activity of oxygen", oxygen_activity, "%", zero=False)
    h = a / (10.0 ** np.asarray(log_k("Si-O", T, coefficients)) * np.square(oxygen))
    melt = activities({"Si": 0.0} | analysis_pct, T, coefficients, quiet=True)
    return plain(h / melt.f["Si"])


class _Bath:
    """Totals of a bath and the sharing at given activity coefficients. Amounts in mol per 100 kg of
    bath times 10 (kmol per 100 t): mass % / atomic weight.
    """

    def __init__(self, kg, mass, T, k, h_most, start):
        self.kg, self.mass, self.T, self.k, self.h_most = kg, mass, T, k, h_most
        self.h = None if start is None else np.broadcast_to(start.oxygen_activity, T.shape)
        # mass of bath over mass of steel left: contents are those of the steel
        self.swell = np.ones(T.shape) if start is None else mass / sum(start.element_kg.values())
        self.total = {
            e: kg.get(e, np.zeros(T.shape)) * 100.0 / mass / atomic_weight(e)
            for e in (*_ELEMENTS, "O")
        }
        self.has = {e: bool(np.any(self.total[e] > 0)) for e in _ELEMENTS}
        if self.has["Mn"] and self.has["Si"]:

            def column(y):
                return np.asarray(y).reshape(-1, 1)

            parts = solid_over_liquid(T)
            low, high = (column(x) for x in saturation(T, *parts))
            self.x = low + (high - low) * _GRID
            self.a_mno, self.a_sio2 = silicate_activities(
                self.x, column(T), *(column(p) for p in parts)
            )
            self.x_mno, self.x_sio2 = self.x * self.a_mno, (1.0 - self.x) * self.a_sio2

    def _at(self, h, f):
        """Mol of Al, Si and Mn bound at an oxygen activity h, pure or in silicate, and of the last
        two what is in silicate.
        """
        zero = np.zeros(self.T.shape)
        f = {e: f.get(e, 1.0) * self.swell for e in _ELEMENTS}
        # what stays dissolved at activity 1 of the oxide
        left_al = (self.k["Al-O"] * h**3) ** -0.5 / f["Al"] / atomic_weight("Al")
        left_si = 1.0 / (self.k["Si-O"] * h**2 * f["Si"] * atomic_weight("Si"))
        left_mn = 1.0 / (self.k["Mn-O"] * h * f["Mn"] * atomic_weight("Mn"))
        total_si, total_mn = self.total["Si"], self.total["Mn"]
        al = np.maximum(self.total["Al"] - left_al, 0.0)
        if not (self.has["Mn"] and self.has["Si"]):
            pure = (np.maximum(n, 0.0) for n in (total_si - left_si, total_mn - left_mn))
            return al, *pure, zero, zero
        if np.all(h < self._least_h(f)):
            return al, zero, zero, zero, zero

        def wide(y):
            return np.asarray(y).reshape(-1, 1)

        # (1 - x) si - x mn, with si and mn as they could be bound at x: falls with x where a
        # silicate can form
        gap = (
            wide(total_si)
            - self.x * wide(total_si + total_mn)
            - self.x_sio2 * wide(left_si)
            + self.x_mno * wide(left_mn)
        )
        point, fallen = np.arange(gap.shape[0]), gap <= 0
        none_below = ~fallen[:, -1] & ~fallen.any(
            axis=1
        )  # even at saturation with silica there is silicon to spare
        first = fallen.argmax(axis=1)
        at = np.where(none_below, _GRID.size - 1, np.maximum(first, 1))
        g0, g1 = gap[point, at - 1], gap[point, at]
        part = np.where(
            none_below, 1.0, np.where(first == 0, 0.0, g0 / np.where(g0 != g1, g0 - g1, 1.0))
        )

        def along(y):
            return (y[point, at - 1] * (1.0 - part) + y[point, at] * part).reshape(self.T.shape)

        only_mno = (~none_below & (first == 0)).reshape(self.T.shape)
        none_below, x = none_below.reshape(self.T.shape), along(self.x)
        si = total_si - along(self.a_sio2) * left_si
        mn = total_mn - along(self.a_mno) * left_mn
        # inside: both in the ratio of x; at the ends one is in excess and comes out pure
        amount = np.maximum(np.where(none_below, mn / (1.0 - x), si / x), 0.0)
        in_si, in_mn = amount * x, amount * (1.0 - x)
        all_si = np.where(none_below, np.maximum(si, in_si), in_si)
        all_mn = np.where(only_mno, np.maximum(mn, in_mn), in_mn)
        return al, all_si, all_mn, in_si, in_mn

    def _least_h(self, f):
        """Oxygen activity below which neither silica nor MnO nor silicate can form: saves their
        search in steel killed with aluminium.
        """
        per_si, per_mn = (
            self.k[f"{e}-O"] * f[e] * atomic_weight(e) * np.maximum(self.total[e], 1e-12)
            for e in ("Si", "Mn")
        )

        def column(a, i):
            return a[:, i].reshape(self.T.shape)

        melt = np.maximum(
            np.sqrt(column(self.a_sio2, 0) / per_si), column(self.a_mno, -1) / per_mn
        )  # each activity is least at its end of the range
        return 0.999 * np.minimum(melt, np.minimum(per_si**-0.5, 1.0 / per_mn))

    def _oxygen(self, h, f):
        al, si, mn, *_ = self._at(h, f)
        return h / (f["O"] * self.swell) / atomic_weight("O") + 1.5 * al + 2.0 * si + mn

    def share(self, f):
        """Dissolved mass % of Al, Si, Mn and O at equilibrium for given activity coefficients."""

        def excess(y):
            return np.log(self._oxygen(np.exp(y), f) / self.total["O"])

        low, high = np.full(self.T.shape, np.log(_LOW_H)), np.log(self.h_most)
        f_low, f_high = -np.inf, excess(high)
        if self.h is not None:  # near the last answer, where the root is there
            a, b = np.log(self.h) - _NEAR, np.minimum(np.log(self.h) + _NEAR, high)
            f_a, f_b = excess(a), excess(b)
            low, f_low = np.where(f_a < 0, a, low), np.where(f_a < 0, f_a, f_low)
            high, f_high = np.where(f_b > 0, b, high), np.where(f_b > 0, f_b, f_high)
        self.h = np.exp(find_root(excess, low, high, (f_low, f_high)))
        self.bound = self._at(self.h, f)
        out = {
            e: np.maximum(self.total[e] - n, 0.0) * atomic_weight(e) * self.swell
            for e, n in zip(_ELEMENTS, self.bound, strict=False)
            if self.has[e]
        }
        self.swell = self.mass / (self.mass - sum(self._oxides(f)[0].values()))
        return out | {"O": self.h / f["O"]}

    def _oxides(self, f):
        """kg of each oxide, mol of iron bound, mol of oxygen left."""
        al, si, mn, *_ = self.bound
        full = self.mass / 100.0  # kmol of one unit
        spare = self.total["O"] - 1.5 * al - 2.0 * si - mn
        iron = np.maximum(
            spare - self.h / (f["O"] * self.swell) / atomic_weight("O"), 0.0
        )  # what not even saturated iron can hold
        iron = np.where(iron > 1e-6 * self.total["O"], iron, 0.0)
        mol = {"Al2O3": al / 2.0, "SiO2": si, "MnO": mn, "FeO": iron}
        return (
            {o: n * full * molar_mass(o) for o, n in mol.items()},
            iron,
            np.maximum(spare - iron, 0.0),
        )

    def result(self, f):
        *bound, silicate_si, silicate_mn = self.bound
        full = self.mass / 100.0
        oxides, iron, dissolved = self._oxides(f)
        left = dict(self.kg)
        for element, n in zip((*_ELEMENTS, "Fe"), (*bound, iron), strict=True):
            if element in left:
                left[element] = np.maximum(left[element] - n * full * atomic_weight(element), 0.0)
        left["O"] = dissolved * full * atomic_weight("O")
        melt = silicate_si + silicate_mn
        remarks = ()
        if np.any(iron > 0):
            remarks = ("the deoxidisers do not suffice: iron oxide stays",)
        return Deoxidised(
            {e: plain(x) for e, x in left.items()},
            plain(100.0 * left["O"] / sum(left.values())),
            plain(self.h),
            {o: plain(x) for o, x in oxides.items() if np.any(x > 0)},
            plain(full * (silicate_si * molar_mass("SiO2") + silicate_mn * molar_mass("MnO"))),
            plain(np.where(melt > 0, silicate_si / np.where(melt > 0, melt, 1.0), 0.0)),
            remarks,
        )
