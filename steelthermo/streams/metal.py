"""A liquid metal, hot metal or steel: mass, analysis and temperature, with its elements and its
enthalpy.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    InputError,
    Number,
    atomic_weight,
    between,
    kelvin,
    positive,
    quietly,
    row_provenance,
    say,
)
from ..thermo import carbon_saturation_pct, dissolved_enthalpy, solution_row, substance
from .stream import Stream, frozen

_RICH_PCT = 3.5  # of carbon: below, no iron of the trade is saturated
_DOUBT_PCT = 0.15  # of the saturation line and of the effects of silicon and others


@dataclass(frozen=True, repr=False)
class LiquidMetal(Stream):
    """A liquid metal, hot metal or steel. Values may be arrays that broadcast.

    Parameters
    ----------
    mass_kg : float or array
        kg, zero or more.
    analysis_pct : dict
        Mass % of each element; iron is the rest to 100.
    temp_c : float or array
        1130 to 1800 degC (so that 1923, meant as kelvin, is refused).
    coefficients : {'msts', 'jsps'}
        Set of the heats of solution (both are published; msts has magnesium too). Equilibria name a
        set of their own.

    Raises
    ------
    InputError
        For an unknown element, a negative share, an analysis above 100 %, a mass below zero or a
        temperature out of range.

    Examples
    --------
    >>> metal = LiquidMetal(150_000.0, {"C": 4.5, "Si": 0.4}, 1350.0)
    >>> round(metal.element_kg()["C"])
    6750
    """

    mass_kg: Number
    analysis_pct: dict
    temp_c: Number
    coefficients: str = "msts"
    _title = "liquid metal"

    def __post_init__(self):
        positive("mass of liquid metal", self.mass_kg, "kg")
        between("temperature of liquid metal", self.temp_c, 1130.0, 1800.0, "°C")
        total = 0.0
        for element, pct in self.analysis_pct.items():
            if element != "Fe":
                solution_row(element, self.coefficients)
                total = total + positive(f"{element} in liquid metal", pct, "%")
        if np.any(np.asarray(total) > 100.0):
            raise InputError(
                f"analysis of liquid metal: the elements add up to {np.max(total):g} %; allowed is "
                "100 % with iron as the rest."
            )
        if np.any(np.asarray(self.analysis_pct.get("C", 0.0)) > _RICH_PCT):
            self._saturated()
        analysis = {e: p for e, p in self.analysis_pct.items() if e != "Fe"} | {"Fe": 100.0 - total}
        frozen(self, analysis_pct=analysis)

    def _saturated(self):
        """Warns where the metal would hold graphite."""
        with quietly():  # hot iron holds more: no question
            most = carbon_saturation_pct(np.maximum(kelvin(self.temp_c), 1400.0), self.analysis_pct)
        c = np.asarray(self.analysis_pct["C"])
        if np.any(c > most + _DOUBT_PCT):
            say(
                (
                    f"liquid metal: C {np.max(c):.4g} % was given; it holds {np.min(most):.3g} % "
                    "at this temperature, and graphite beside it",
                )
            )

    @property
    def solutes_pct(self) -> dict:
        """The analysis without iron, mass % by element."""
        return {e: p for e, p in self.analysis_pct.items() if e != "Fe"}

    def element_kg(self) -> dict:
        """kg of each element, as a dict."""
        return {element: self.mass_kg * pct / 100.0 for element, pct in self.analysis_pct.items()}

    def enthalpy_kj(self) -> Number:
        """Enthalpy of the whole metal, kJ, against the elements at 298.15 K, heats of solution
        included.
        """
        T = kelvin(self.temp_c)
        return sum(
            kg / atomic_weight(e) * dissolved_enthalpy(e, T, self.coefficients)
            for e, kg in self.element_kg().items()
        )

    @property
    def provenance(self) -> tuple:
        """Sources of the heats of solution used, and of the pure substances they start from."""
        found = [
            row_provenance(solution_row(e, self.coefficients), f"heat of solution of {e}")
            for e in self.solutes_pct
        ]
        pure = [solution_row(e, self.coefficients) for e in self.solutes_pct]
        for formula, phase in [("Fe", "liquid"), *((row["from"], row["phase"]) for row in pure)]:
            found += substance(formula).phase(phase).provenance
        return tuple(dict.fromkeys(found))
