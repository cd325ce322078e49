"""A heat or a stage of it: what goes in, what comes out, and the proof that every element and the
heat close.

Every stream knows its elements and its enthalpy against the elements at 298.15 K, so no heat of
reaction is needed.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import zip_longest
from textwrap import fill

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    find_root,
    plain,
    quietly,
    short,
)
from ..works import parameter_names, plant_value
from .metal import LiquidMetal
from .stream import Stream

_TINY_KG = 1e-9  # of an element on both sides together: none of it is there


@dataclass(frozen=True, repr=False)
class Stage(Record):
    """A stage of a heat, or the whole of it. Masses in kg; scalars or arrays of one shape.

    Parameters
    ----------
    inputs, outputs : dict
        A stream (LiquidMetal, Solid, Slag, Gas, Condensed) by name; each is an attribute as well:
        stage.metal, heat.hot_metal, stage.slag_left.
    heat_loss_kj : float or array
        Lost to the surroundings.
    heat_in_kj : float or array
        Heat taken up besides, such as electric.
    title : str
    assumed : dict
        The plant values used, by key.
    remarks : tuple of str
        What a reader must know.

    Examples
    --------
    >>> hot = LiquidMetal(1000.0, {"C": 4.5}, 1350.0)
    >>> cold = hot.at(1340.0)
    >>> stage = Stage({"metal": hot}, {"metal": cold}, hot.enthalpy_kj() - cold.enthalpy_kj())
    >>> stage.change_c, stage.closure()["heat"]
    (-10.0, 0.0)
    """

    inputs: dict[str, Stream]
    outputs: dict[str, Stream]
    heat_loss_kj: Number = 0.0
    heat_in_kj: Number = 0.0
    title: str = ""
    assumed: dict = field(default_factory=dict)
    remarks: tuple = ()
    _extensive = ("heat_loss_kj", "heat_in_kj")  # fields that scale with the heat

    def __post_init__(self):
        streams = {n.replace(" ", "_"): s for n, s in {**self.inputs, **self.outputs}.items()}
        for name, stream in streams.items():
            if name.isidentifier() and not hasattr(type(self), name):
                object.__setattr__(self, name, stream)

    @property
    def temp_c(self) -> Number:
        """Temperature of the metal that leaves, degC."""
        return _first_metal(self.outputs).temp_c

    @property
    def change_c(self) -> Number:
        """Change of the metal's temperature, degC."""
        return self.temp_c - _first_metal(self.inputs).temp_c

    def mass_account(self) -> tuple[dict, dict]:
        """kg of each input and output, as two dicts."""
        return tuple(
            {n: sum(s.element_kg().values()) for n, s in side.items()}
            for side in (self.inputs, self.outputs)
        )

    def heat_gained_kj(self) -> Number:
        """Enthalpy of all outputs less that of all inputs, kJ."""
        return sum(s.enthalpy_kj() for s in self.outputs.values()) - sum(
            s.enthalpy_kj() for s in self.inputs.values()
        )

    def closure(self) -> dict:
        """What is left over, as a dict: for each element (out - in) over the larger of the two,
        zero where neither side holds more than 1e-9 kg; for 'heat' over the enthalpy of the metal
        that
        goes in.
        """
        come, go = _elements(self.inputs), _elements(self.outputs)
        out = {}
        for element in {**come, **go}:
            a, b = come.get(element, 0.0), go.get(element, 0.0)
            size = np.maximum(np.abs(a), np.abs(b))
            there = size > _TINY_KG
            out[element] = plain(np.where(there, (b - a) / np.where(there, size, 1.0), 0.0))
        gap_kj = self.heat_gained_kj() + self.heat_loss_kj - self.heat_in_kj
        out["heat"] = plain(gap_kj / np.abs(_first_metal(self.inputs).enthalpy_kj()))
        return out

    def scaled(self, factor: Number) -> "Stage":
        """The same, factor times as much. Raises InputError."""
        sides = {
            side: {n: s.scaled(factor) for n, s in getattr(self, side).items()}
            for side in ("inputs", "outputs")
        }
        return replace(self, **sides, **{n: getattr(self, n) * factor for n in self._extensive})

    def _shown(self):
        def cells(side):
            return [(n, s.mass_kg, s.temp_c) for n, s in side.items()]

        pairs = zip_longest(cells(self.inputs), cells(self.outputs), fillvalue=("",) * 3)
        return self.title, ("in", "kg", "°C", "out", "kg", "°C"), [(*i, *o) for i, o in pairs]

    def __repr__(self):
        parts = (short(kg) for kg in self.mass_account())
        lines = (
            self._with_weakest(self._shown()[0]),
            *map("{}, kg: {}".format, ("in", "out"), parts),
        )
        return "\n".join(fill(line, 100, subsequent_indent="  ", max_lines=4) for line in lines)

    @property
    def provenance(self) -> tuple:
        """Sources of everything in the stage."""
        values = [plant_value(key) for key in self.assumed if key in parameter_names()]
        records = (*self.inputs.values(), *self.outputs.values(), *values)
        return tuple(dict.fromkeys(p for r in records for p in r.provenance))


def _first_metal(records):
    return next(r for r in records.values() if isinstance(r, LiquidMetal))


def _elements(records):
    out = {}
    for record in records.values():
        for element, kg in record.element_kg().items():
            out[element] = out.get(element, 0.0) + kg
    return out


def metal_of(element_kg: Amounts, temp_c: Number, coefficients: str = "msts") -> LiquidMetal:
    """The liquid metal that some elements make. Rounding below zero is cut.

    Parameters
    ----------
    element_kg : kg by element, iron among them
    temp_c : 1130 to 1800 degC
    coefficients : set of heats of solution, 'msts' or 'jsps'

    Returns
    -------
    LiquidMetal

    Raises
    ------
    InputError
        Where more is taken away than there is.

    Examples
    --------
    >>> metal_of({"Fe": 955.0, "C": 45.0}, 1350.0).analysis_pct["C"]
    4.5
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


def loss_kj(metal: LiquidMetal, loss_c: Number) -> Number:
    """Heat that a metal gives up when it cools.

    Parameters
    ----------
    metal : LiquidMetal
    loss_c : degC it cools by; negative: it takes heat up

    Returns
    -------
    kJ

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(loss_kj(LiquidMetal(1000.0, {"C": 0.05}, 1650.0), 50.0))
    41238
    """
    return metal.enthalpy_kj() - metal.at(metal.temp_c - loss_c).enthalpy_kj()


def settle(surplus: Callable, low_c: float, high_c: float, what: str) -> Number:
    """Temperature at which a heat closes. Arrays are solved together.

    Parameters
    ----------
    surplus : callable
        Of temp_c: heat in less heat out, kJ, falling.
    low_c, high_c : float
        Range allowed, degC.
    what : str
        Named in the message.

    Returns
    -------
    float or array
        degC.

    Raises
    ------
    InputError
        If it lies outside low_c to high_c.

    Examples
    --------
    >>> round(settle(lambda temp_c: 1600.0 - temp_c, 1500.0, 1700.0, "the steel"), 6)
    1600.0
    """
    with quietly():  # of what is tried on the way nothing is said
        return _settled(surplus, low_c, high_c, what)


def _settled(surplus, low_c, high_c, what):
    at_low, at_high = surplus(low_c), surplus(high_c)
    if np.any(np.less(at_low, 0.0)) or np.any(np.greater(at_high, 0.0)):
        said = f"fall below {low_c:g}" if np.any(np.less(at_low, 0.0)) else f"pass {high_c:g}"
        raise InputError(
            f"temperature of {what}: it would {said} °C; allowed is {low_c:g} to {high_c:g} °C."
        )
    ends = np.negative(at_low), np.negative(at_high)
    return plain(find_root(lambda temp_c: -surplus(plain(temp_c)), low_c, high_c, ends))
