"""A stage of a heat outside the vessel: what goes in, what comes out, and the proof that every
element and the heat close.

Every record in inputs and outputs knows its elements and its enthalpy against the elements at
298.15 K, so no heat of reaction is needed.
"""

from dataclasses import dataclass, field

import numpy as np

from ..base import InputError, find_root, plain
from .flows import Flows
from .metal import LiquidMetal

_TINY_KG = 1e-9


@dataclass(frozen=True)
class Stage(Flows):
    """A stage of a heat. Masses in kg; scalars or arrays of one shape.

    title; inputs and outputs: mappings of a name to a record (LiquidMetal, Solid, Slag, Gas,
    Condensed); heat_loss_kj: lost to the surroundings;
    heat_in_kj: electric heat taken up; assumed: the plant values used, as a mapping of key to
    value; remarks: what a reader must know.
    Outputs can be read as attributes: stage.metal, stage.slag_left.
    """

    title: str
    inputs: dict
    outputs: dict
    heat_loss_kj: float = 0.0
    heat_in_kj: float = 0.0
    assumed: dict = field(default_factory=dict)
    remarks: tuple = ()

    @property
    def temp_c(self):
        """Temperature of the metal that leaves, degC."""
        return self._metals()[1].temp_c

    @property
    def change_c(self):
        """Change of the metal's temperature, degC."""
        before, after = self._metals()
        return after.temp_c - before.temp_c

    def _metals(self):
        def first(records):
            return next(r for r in records.values() if isinstance(r, LiquidMetal))

        return first(self.inputs), first(self.outputs)

    def closure(self):
        """Relative difference of out to in for each element, and for 'heat' against the heat of the
        metal that goes in.
        """
        out = self.element_closure(_TINY_KG)
        gap_kj = self.heat_gained_kj() + self.heat_loss_kj - self.heat_in_kj
        out["heat"] = plain(gap_kj / np.abs(self._metals()[0].enthalpy_kj()))
        return out

    @property
    def provenance(self):
        """Sources of everything in the stage."""
        from ..works import parameter_names as names
        from ..works import plant_value

        records = (*self.inputs.values(), *self.outputs.values())
        assumed = tuple(
            p for key in self.assumed if key in names() for p in plant_value(key).provenance
        )
        return tuple(
            dict.fromkeys((*(p for r in records for p in getattr(r, "provenance", ())), *assumed))
        )


def metal_of(element_kg, temp_c, coefficients="msts"):
    """LiquidMetal of kg of each element (iron among them). Rounding below zero is cut; more is
    refused (InputError).
    """
    mass = sum(element_kg.values())
    pct = {}
    for element, kg in element_kg.items():
        if np.any(np.asarray(kg) < -1e-7 * np.asarray(mass)):
            raise InputError(
                f"{element} in the metal: {np.min(kg):g} kg would be left; more is taken away than "
                "there is."
            )
        if element != "Fe":
            pct[element] = plain(100.0 * np.maximum(kg, 0.0) / mass)
    return LiquidMetal(plain(mass), pct, temp_c, coefficients)


def loss_kj(metal, loss_c):
    """Heat, kJ, that a LiquidMetal gives up when it cools by loss_c degC (negative: takes up)."""
    return (
        metal.enthalpy_kj()
        - LiquidMetal(
            metal.mass_kg, metal.analysis_pct, metal.temp_c - loss_c, metal.coefficients
        ).enthalpy_kj()
    )


def settle(surplus, low_c, high_c, what):
    """Temperature, degC, at which surplus(temp_c), kJ (heat in less heat out, falling), is zero.
    Arrays are solved together.

    Raises InputError, naming `what`, if it lies outside low_c to high_c.
    """
    at_low, at_high = surplus(low_c), surplus(high_c)
    if np.any(np.less(at_low, 0.0)) or np.any(np.greater(at_high, 0.0)):
        said = f"fall below {low_c:g}" if np.any(np.less(at_low, 0.0)) else f"pass {high_c:g}"
        raise InputError(
            f"temperature of {what}: it would {said} °C; allowed is {low_c:g} to {high_c:g} °C."
        )
    ends = np.negative(at_low), np.negative(at_high)
    return plain(find_root(lambda temp_c: -surplus(plain(temp_c)), low_c, high_c, ends))
