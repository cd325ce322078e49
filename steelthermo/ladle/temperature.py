"""Temperature of a ladle from tap to casting: effect of each addition by enthalpy, radiation,
holding, stirring, arc and chemical heating, the tap aim.
"""

from dataclasses import dataclass

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    between,
    formula,
    kelvin,
    molar_mass,
    one_of,
    plain,
    positive,
)
from ..streams import LiquidMetal, Material, loss_kj
from ..thermo import (
    carbonate_parts,
    dissolved_enthalpy,
    enthalpy,
    liquidus_c,
    oxide_of,
    solution_row,
)
from ..works import plant_value, start_values
from .alloying import Alloy, alloy
from .alloying import alloys as known_alloys

OXYGEN_FROM = ("none", "dissolved oxygen", "oxygen gas")


def heat_capacity_kj_t(analysis_pct: Amounts, temp_c: Number, coefficients: str = "msts") -> Number:
    """Heat that warms liquid steel or hot metal.

    Parameters
    ----------
    analysis_pct : of the metal, mass %; scalars or arrays
    temp_c : degC
    coefficients : set of the heats of solution

    Returns
    -------
    kJ per t and degC

    References
    ----------
    Enthalpies of the dissolved elements.

    Examples
    --------
    >>> round(heat_capacity_kj_t({"C": 0.04}, 1650.0))
    825
    """
    metal = LiquidMetal(1000.0, dict(analysis_pct), temp_c, coefficients)
    return plain(
        loss_kj(
            LiquidMetal(1000.0, dict(analysis_pct), np.asarray(temp_c) + 0.5, metal.coefficients),
            1.0,
        )
    )


def _analysis(addition):
    """Analysis in mass %, temperature, heat of formation (kJ/kg) and title of a Material (an Alloy
    or Reagent too), key of an alloy, or formula.
    """
    if isinstance(addition, str):
        if addition in known_alloys():
            addition = alloy(addition)
        else:
            formula(addition)
            return {addition: 100.0}, 25.0, 0.0, addition
    if isinstance(addition, Material):
        heat = addition.formation_kj_kg if isinstance(addition, Alloy) else 0.0
        return addition.analysis_pct, addition.temp_c, heat, addition.title
    raise InputError(
        f"addition: {type(addition).__name__} was given; an alloy's key, an Alloy, a Material or a "
        "formula is needed."
    )


def _hot(species, T, takes, coefficients):
    """Enthalpy of one mol at T in the bath, less that of the oxygen it takes, J: dissolved, or
    burnt to its oxide.
    """
    if len(formula(species)) > 1:
        parts = carbonate_parts(species) or {species: 1.0}
        return sum(n * enthalpy(s, T) for s, n in parts.items())
    if takes == "none" or species == "Fe":
        return dissolved_enthalpy(species, T, coefficients)
    oxide = oxide_of(species)
    atoms = formula(oxide)
    n_o = atoms["O"] / atoms[species]
    oxygen = (
        dissolved_enthalpy("O", T, coefficients)
        if takes == "dissolved oxygen"
        else 0.5 * enthalpy("O2", kelvin(25.0))
    )
    return enthalpy(oxide, T) / atoms[species] - n_o * oxygen


def addition_effect_c(
    addition: str | Material,
    temp_c: Number = 1600.0,
    analysis_pct: Amounts | None = None,
    oxygen: str = "none",
    compound_heat: bool = False,
    coefficients: str = "msts",
) -> Number:
    """Change of temperature by a small addition at 25 degC: by enthalpy, without losses.

    Parameters
    ----------
    addition : key of an alloy, Alloy, Reagent, Material or formula ('C', 'CaO', 'CaCO3')
    temp_c : of the metal, 1130 to 1800 degC; arrays broadcast
    analysis_pct : of the metal, for its heat capacity; None: iron
    oxygen : 'none' (elements dissolve; oxides are heated, carbonates broken up), 'dissolved
        oxygen' or
        'oxygen gas' (from 25 degC): elements other than iron burn to their oxides (C to CO)
    compound_heat : True counts the heat of forming the alloy, which is not verified
    coefficients : set of the heats of solution

    Returns
    -------
    degC for one kg per t of metal

    Raises
    ------
    InputError

    References
    ----------
    Enthalpies of substances and of solution.

    Examples
    --------
    >>> round(addition_effect_c("CaO"), 2)
    -1.82
    """
    one_of("oxygen", oxygen, OXYGEN_FROM)
    T = kelvin(between("temperature", temp_c, 1130.0, 1800.0, "°C"))
    analysis, cold_c, formation, title = _analysis(addition)
    kj = formation if compound_heat else 0.0
    for species, pct in analysis.items():
        if len(formula(species)) == 1 and species != "Fe":
            solution_row(species, coefficients)
        kj = kj + pct / 100.0 / molar_mass(species) * (
            enthalpy(species, kelvin(cold_c)) - _hot(species, T, oxygen, coefficients)
        )
    return plain(kj / heat_capacity_kj_t(analysis_pct or {}, temp_c, coefficients))


@dataclass(frozen=True, repr=False)
class Step(Record):
    """One step of a path: name, change_c (negative: colder), temp_c afterwards, status ('plant
    value', 'calculated').
    """

    name: str
    change_c: Number
    temp_c: Number
    status: str


@dataclass(frozen=True, repr=False)
class Path(Record):
    """Temperature from tap to tundish. tap_c, steps (Step), liquidus_c, superheat_c in the tundish,
    assumed: the plant values used.
    """

    _main_results = ("tap_temp_c",)

    tap_c: Number
    steps: tuple
    liquidus_c: Number
    superheat_c: Number
    assumed: dict

    def _shown(self):
        rows = [(s.name, s.temp_c, "°C", s.change_c) for s in self.steps]
        rows = [("tap", self.tap_c, "°C"), *rows, ("liquidus", self.liquidus_c, "°C")]
        rows.append(("by plant values not verified, ±", self.spread_c, "°C"))
        return "temperature from tap to tundish", ("after", "", "unit", "change, °C"), rows

    @property
    def spread_c(self) -> Number:
        """How far the tap temperature hangs on the plant values, degC: the halves of their usual
        ranges as a root of squares. A works that knows its own has less.
        """
        minutes = {"hold_c_min": "waiting", "stir_c_min": "strong stirring"}
        changes = {s.name: s.change_c for s in self.steps}
        total = 0.0
        for key, used in self.assumed.items():
            p, times = plant_value(key), 1.0
            if key in minutes:
                times = np.abs(changes.get(minutes[key], 0.0)) / np.maximum(used, 1e-9)
            if key != "superheat_c" and np.any(np.asarray(used) > 0.0):  # an aim is no doubt
                total = total + (times * 0.5 * (p.high - p.low)) ** 2
        return plain(np.sqrt(total))

    @property
    def freezes(self) -> bool | np.ndarray:
        """True where the steel would be at or below its liquidus in the tundish."""
        return plain(np.asarray(self.superheat_c) <= 0)

    @property
    def provenance(self) -> tuple:
        """Sources of the plant values."""
        return tuple(p for key in self.assumed for p in plant_value(key).provenance)


_PLANT = ("tap_drop_c", "hold_c_min", "tundish_c", "stir_c_min", "superheat_c", "cold_ladle_c")


def tap_path(
    analysis_pct: Amounts,
    tap_c: Number | None = None,
    *,
    additions_c: Number = 0.0,
    hold_min: Number = 0.0,
    stir_min: Number = 0.0,
    heating_c: Number = 0.0,
    cold_ladle: bool = False,
    **plant: Number | None,
) -> Path:
    """Temperature step by step from the tap to the tundish.

    Parameters
    ----------
    analysis_pct : of the finished steel, mass % (for the liquidus)
    tap_c : tap temperature, 1500 to 1800 degC; None: the tap aim that gives the superheat asked for
    additions_c : effect of all additions, -200 to 200 degC (LadleStage.change_c without losses)
    hold_min, stir_min : minutes of waiting (all) and of strong stirring (in them)
    heating_c : rise by arc or chemical heating, degC
    cold_ladle : True for a ladle that is not hot
    **plant : superheat_c, tap_drop_c, cold_ladle_c, hold_c_min, stir_c_min or tundish_c of a works'
        own, degC, degC/min; else the plant values

    Returns
    -------
    Path

    Raises
    ------
    InputError

    References
    ----------
    Sum of the steps; liquidus by melting.liquidus_c().

    Examples
    --------
    >>> path = tap_path({"C": 0.16, "Mn": 1.5, "Si": 0.3}, hold_min=30.0)
    >>> round(path.tap_c), round(path.steps[-1].temp_c), round(path.liquidus_c)
    (1615, 1539, 1514)
    """
    assumed = start_values(_PLANT, plant)
    if not cold_ladle:
        assumed["cold_ladle_c"] = 0.0
    changes = [
        ("tapping", -assumed["tap_drop_c"], "plant value"),
        ("cold ladle", -assumed["cold_ladle_c"], "plant value"),
        (
            "alloys and deoxidation",
            between("effect of the additions", additions_c, -200.0, 200.0, "°C"),
            "calculated",
        ),
        ("heating", positive("heating", heating_c, "°C"), "calculated"),
        ("waiting", -assumed["hold_c_min"] * positive("waiting", hold_min, "min"), "plant value"),
        (
            "strong stirring",
            -assumed["stir_c_min"] * positive("stirring", stir_min, "min"),
            "plant value",
        ),
        ("ladle to tundish", -assumed["tundish_c"], "plant value"),
    ]
    liquidus = liquidus_c(analysis_pct)
    total = sum(change for _, change, _ in changes)
    begin = (
        liquidus + assumed["superheat_c"] - total
        if tap_c is None
        else between("tap temperature", tap_c, 1500.0, 1800.0, "°C")
    )
    steps, temp = [], begin
    for name, change, status in changes:
        temp = temp + change
        if np.any(np.asarray(change) != 0):
            steps.append(Step(name, plain(change), plain(temp), status))
    return Path(plain(begin), tuple(steps), liquidus, plain(temp - liquidus), assumed)
