"""Inclusions: the record of what a deoxidised steel holds, and the liquid manganese silicate among
its oxides.

The silicate is a two-parameter (subregular) solution drawn through two points of the MnO-SiO2
diagram that are not verified (saturation with MnO and with silica at 1600 degC). Which oxide wins
does not depend on it; the share of SiO2 in the silicate does.
"""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from ..base import (
    Number,
    Record,
    Table,
    find_root,
    kelvin,
    molar_mass,
    plain,
    value,
)
from ..thermo import DEFAULT_SET, gibbs


@cache
def _value(key):
    return Table("inclusions").get(key)["value"]


def solid_over_liquid(T):
    """Natural logarithms of the activity against the solid over that against the liquid, for MnO
    and SiO2.
    """
    ten = np.log(10.0)
    silica = (gibbs("SiO2", T, "liquid") - gibbs("SiO2", T, "cristobalite")) / (
        value("gas_constant") * np.asarray(T)
    )
    return ten * (
        _value("mno_liquid_over_solid_a") / np.asarray(T) + _value("mno_liquid_over_solid_b")
    ), silica


@cache
def _parameters():
    """The two parameters of the solution, as ln of activity coefficients at infinite dilution times
    T, K.
    """
    T = kelvin(_value("saturation_temp_c"))
    xm, xs = _value("mno_saturation_x"), _value("silica_saturation_x")
    mno, silica = solid_over_liquid(T)
    # ln gamma_MnO = x^2 (A + 2 (B - A)(1 - x)), ln gamma_SiO2 = (1 - x)^2 (B + 2 (A - B) x), x of
    # SiO2; activity 1 against the solid at the two points
    g_mno, g_sio2 = -mno - np.log(1.0 - xm), -silica - np.log(xs)
    matrix = [
        [xm**2 * (1.0 - 2.0 * (1.0 - xm)), xm**2 * 2.0 * (1.0 - xm)],
        [(1.0 - xs) ** 2 * 2.0 * xs, (1.0 - xs) ** 2 * (1.0 - 2.0 * xs)],
    ]
    a, b = np.linalg.solve(matrix, [g_mno, g_sio2]) * T
    return float(a), float(b)


def silicate_activities(x, T, mno, silica):
    """Activities of MnO and SiO2 against the pure solids at a mole fraction x of SiO2; mno, silica:
    as solid_over_liquid(T) gives them.
    """
    a, b = (p / T for p in _parameters())
    g_mno = x**2 * (a + 2.0 * (b - a) * (1.0 - x)) + mno
    g_sio2 = (1.0 - x) ** 2 * (b + 2.0 * (a - b) * x) + silica
    return plain((1.0 - x) * np.exp(g_mno)), plain(x * np.exp(g_sio2))


def saturation(T, mno, silica):
    """Mole fractions of SiO2 between which the silicate is liquid alone, saturated with MnO and
    with silica: for an array of T, with mno and silica from solid_over_liquid(T).
    """

    def passes(x):
        """Both at once: activity of MnO falling below 1, activity of silica passing 1."""
        return np.array(
            [
                1.0 - silicate_activities(x[0], T, mno, silica)[0],
                silicate_activities(x[1], T, mno, silica)[1] - 1.0,
            ]
        )

    # the first crossing from the manganese side: the activity of silica passes 1, is greatest near
    # 0.69 and falls again
    ends = np.array([[1e-9, 0.5], [0.4, 0.69]])[(...,) + (None,) * T.ndim]
    return find_root(passes, *(np.broadcast_to(ends[:, i], (2, *T.shape)) for i in (0, 1)))


@dataclass(frozen=True, repr=False)
class Deoxidised(Record):
    """A steel and its inclusions at equilibrium.

    element_kg: kg of each element left in the steel; oxygen_pct and oxygen_activity of the steel;
    oxides_kg: Al2O3, SiO2, MnO, FeO formed, silicate included; silicate_kg: mass of the liquid
    manganese silicate in them; silica_in_silicate: its mole fraction of SiO2; remarks; beyond:
    those of them that tell what leaves a range; coefficients: set used.
    """

    element_kg: dict
    oxygen_pct: Number
    oxygen_activity: Number
    oxides_kg: dict
    silicate_kg: Number
    silica_in_silicate: Number
    remarks: tuple = ()
    beyond: tuple = ()
    coefficients: str = DEFAULT_SET
    _sources = ("equilibrium Al-O", "equilibrium Si-O", "equilibrium Mn-O")

    @property
    def _main_results(self):
        """Where aluminium sets the oxygen, by the set that what_moves.csv shifts."""
        killed = np.any(np.asarray(self.oxides_kg.get("Al2O3", 0.0)) > 0.0)
        return ("killed_o_ppm",) if killed and self.coefficients == DEFAULT_SET else ()

    def scaled(self, factor: Number) -> "Deoxidised":
        """The same, factor times as much."""

        def times(kg):
            return {name: x * factor for name, x in kg.items()}

        return replace(
            self,
            element_kg=times(self.element_kg),
            oxides_kg=times(self.oxides_kg),
            silicate_kg=self.silicate_kg * factor,
        )

    @property
    def words(self) -> str:
        """What the inclusions are, in words (for one steel)."""
        total = sum(self.oxides_kg.values())
        if not total > 1e-6:
            return "no inclusions form"
        solid = {o: kg for o, kg in self.oxides_kg.items() if kg > 1e-6}
        names = {
            "Al2O3": "alumina",
            "SiO2": "silica",
            "MnO": "manganese oxide",
            "FeO": "iron oxide",
        }
        if self.silicate_kg > 1e-6:
            x = self.silica_in_silicate
            silica = (
                self.silicate_kg
                * x
                * molar_mass("SiO2")
                / (x * molar_mass("SiO2") + (1.0 - x) * molar_mass("MnO"))
            )
            solid = {
                o: kg - {"SiO2": silica, "MnO": self.silicate_kg - silica}.get(o, 0.0)
                for o, kg in solid.items()
            }
        said = [
            f"{100.0 * kg / total:.0f} % {names[o]}"
            for o, kg in solid.items()
            if kg > 0.005 * total
        ]
        if self.silicate_kg > 0.005 * total:
            said.append(f"{100.0 * self.silicate_kg / total:.0f} % liquid manganese silicate")
        return ", ".join(said)
