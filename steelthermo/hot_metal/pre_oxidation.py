"""Silicon, manganese and phosphorus out of hot metal with oxygen, ore or mill scale and lime:
amounts and temperature, mass and heat closed.

Oxygen brought as iron oxide cools, for the oxide must be broken up: each Nm3 of O2 given as Fe2O3
in place of gas costs about 32 degC per Nm3/t. Heat of the slag: phosphorus as 3CaO.P2O5, silica as
2CaO.SiO2 as far as the lime reaches, the rest as oxides.
"""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Linear,
    Number,
    Record,
    atomic_weight,
    between,
    celsius,
    kelvin,
    linear_solve,
    mass_fractions,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    told,
)
from ..charge import BURNING, nm3_per_kg
from ..slag import flux_aims
from ..streams import (
    Condensed,
    Gas,
    LiquidMetal,
    Material,
    Slag,
    Solid,
    Stage,
    loss_kj,
    material,
    settle,
)
from ..thermo import burning, enthalpy, forms, oxides_with, substance
from ..works import Profile, load_profile
from ..works import start_value as start

_FE_OXIDES = oxides_with(element="Fe")
_PHASES = MappingProxyType(
    {"FeO": "FeO(liquid)"}
)  # liquid below its melting point too: it is part of a molten slag


def oxygen_equivalent_nm3_t(drop_pct: dict) -> dict:
    """Oxygen that takes a content out of the metal. Numbers may be arrays.

    Parameters
    ----------
    drop_pct : dict
        Mass % removed of each element (Si to SiO2, P to P2O5, C to CO, Mn to MnO, ...), 0 to 100.

    Returns
    -------
    dict
        Nm3 of O2 per t of metal, by element.

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry, see charge.nm3_per_kg().

    Examples
    --------
    >>> round(oxygen_equivalent_nm3_t({"Si": 0.1})["Si"], 3)
    0.798
    """
    out = {}
    for element, pct in drop_pct.items():
        pct = between(f"{element} removed", pct, 0.0, 100.0, "%")
        out[element] = plain(10.0 * pct * nm3_per_kg(element))
    return out


@dataclass(frozen=True, repr=False)
class _Molten(Condensed):
    """Slag of a treatment: 2CaO.SiO2 changes its form at its own temperature over the share `alpha`
    of its mass, so that the heat has no step.
    """

    alpha: Number = 1.0

    def enthalpy_kj(self):
        rest = Condensed(
            {s: x for s, x in self.species_kg.items() if s != "Ca2SiO4"}, self.temp_c
        ).enthalpy_kj()
        change, T = _change_k(), np.asarray(kelvin(self.temp_c))
        low = enthalpy("Ca2SiO4", np.minimum(T, change), "alpha prime")
        high = enthalpy("Ca2SiO4", np.maximum(T, change), "alpha")
        kmol = self.species_kg.get("Ca2SiO4", 0.0) / molar_mass("Ca2SiO4")
        return plain(rest + kmol * ((1.0 - self.alpha) * low + self.alpha * high))


def _compounds_kg(oxides):
    """kg of the compounds in which the heat of a slag of oxides (kg) is counted."""
    mol = (
        Slag(oxides, 1500.0).compounds_mol()
    )  # the temperature only serves the record: which compounds there are does not depend on it
    return {_PHASES.get(f, f): plain(n * molar_mass(f) / 1000.0) for f, n in mol.items()}


def _change_k():
    """Temperature, K, at which 2CaO.SiO2 goes from alpha prime to alpha."""
    return substance("Ca2SiO4").phase("alpha").low_k


@dataclass(frozen=True, repr=False)
class Oxidation(Record):
    """How hot metal is oxidised. Numbers may be arrays; None: plant values.

    solid: iron oxide, key of the works profile ('ore', 'mill_scale') or a Material;
    solid_share_pct: share of the oxygen that it brings, the rest is gas.
    lime: key or Material; basicity: CaO/SiO2 aimed at, or lime_kg; one of them. feo_pct: FeO in the
    slag. oxygen_use_pct: share of the gas that reacts.
    oxygen_pct: volume % of O2, N2, Ar (default: of the works). loss_c: degC lost. slag_left_pct,
    skimmed_iron_kg_kg: as in desulphurise(). works: profile.
    """

    solid: str | Material = "ore"
    solid_share_pct: Number = 50.0
    lime: str | Material = "lime"
    basicity: Number | None = None
    lime_kg: Number | None = None
    feo_pct: Number | None = None
    oxygen_use_pct: Number | None = None
    oxygen_pct: Amounts | None = None
    loss_c: Number | None = None
    slag_left_pct: Number | None = None
    skimmed_iron_kg_kg: Number | None = None
    works: Profile | None = None


def oxidise(metal: LiquidMetal, aims_pct: dict, **how: Annotated[object, Oxidation]) -> Stage:
    """Take silicon, manganese, phosphorus or carbon out of hot metal with oxygen. Carbon burns to
    CO.

    Parameters
    ----------
    metal : LiquidMetal
    aims_pct : dict
        Mass % afterwards, 0 to 6, of each element to be lowered, such as {'Si': 0.12, 'P':
        0.025, 'C': 4.3}; the others stay in kg.
    **how
        Fields of Oxidation, such as solid_share_pct; basicity or lime_kg is needed.

    Returns
    -------
    Stage
        Outputs: metal, slag left, slag skimmed, iron skimmed, gas. Every element and the heat
        close.

    Raises
    ------
    InputError
        Also where the aims, the basicity and the slag do not go together.

    Examples
    --------
    >>> metal = LiquidMetal(1000.0, {"C": 4.5, "Si": 0.5, "P": 0.1}, 1350.0)
    >>> round(oxidise(metal, {"Si": 0.15}, basicity=1.5).metal.analysis_pct["Si"], 3)
    0.15
    """
    how = told(Oxidation, "oxidation", how)
    works = how.works or load_profile()
    ore, flux = (
        m if isinstance(m, Material) else material(m, works) for m in (how.solid, how.lime)
    )
    if (how.basicity is None) == (how.lime_kg is None):
        raise InputError("lime: give either basicity or lime_kg, one of them.")
    share = between("share of oxygen from solids", how.solid_share_pct, 0.0, 100.0, "%") / 100.0
    feo = start("treatment_slag_feo_pct", how.feo_pct, high=80.0) / 100.0
    use = start("air_oxygen_use_pct", how.oxygen_use_pct, low=1.0) / 100.0
    loss_c = start("oxidation_loss_c", how.loss_c, low=-100.0, high=300.0)
    left = start("slag_left_pct", how.slag_left_pct) / 100.0
    iron_kg_kg = start("skimmed_iron_kg_kg", how.skimmed_iron_kg_kg, high=10.0)
    blown = {s: p / 100.0 for s, p in (how.oxygen_pct or works.oxygen_pct).items()}
    in_metal, forms, oxides, gases = _equations(
        metal, aims_pct, ore, flux, how.basicity, how.lime_kg, feo, share
    )
    solution = linear_solve(["metal", "ore", "lime", "slag", "oxygen"], forms)
    for name in ("ore", "lime", "oxygen"):
        if np.any(np.asarray(solution[name]) < -1e-7 * np.asarray(metal.mass_kg)):
            raise InputError(
                f"{name}: less than none would be needed; the aims, the basicity and the slag do "
                "not go together."
            )
    solution = {k: plain(np.maximum(v, 0.0)) for k, v in solution.items()}
    removed = {o: plain(form.at(solution)) for o, form in oxides.items()}
    for oxide, kg in removed.items():
        if np.any(np.asarray(kg) < -1e-7 * np.asarray(metal.mass_kg)):
            raise InputError(
                f"{oxide} in the slag: {np.min(kg):.3g} kg would be left; the metal holds less "
                "than the aim asks to keep."
            )
    slag = _compounds_kg({o: plain(np.maximum(kg, 0.0)) for o, kg in removed.items()})

    elements_kg = {e: plain(np.maximum(form.at(solution), 0.0)) for e, form in in_metal.items()}
    pct = {e: plain(100.0 * kg / solution["metal"]) for e, kg in elements_kg.items() if e != "Fe"}
    burnt = {s: form.at(solution) for s, form in gases.items()}
    if np.any(np.asarray(burnt["CO"]) < -1e-9 * np.asarray(metal.mass_kg)):
        raise InputError(f"carbon: {np.max(aims_pct['C']):g} % is aimed at; the metal holds less.")
    o2_nm3 = solution["oxygen"] / use / molar_mass("O2") * molar_volume_nm3_kmol()
    oxygen = Gas({s: plain(o2_nm3 * x / blown["O2"]) for s, x in blown.items()}, 25.0)
    gas = {
        s: plain(np.maximum(kg, 0.0) / molar_mass(s) * molar_volume_nm3_kmol())
        for s, kg in burnt.items()
    }
    gas |= {s: v for s, v in oxygen.nm3.items() if s != "O2"} | {"O2": plain(o2_nm3 * (1.0 - use))}
    drawn = (
        np.minimum(iron_kg_kg * solution["slag"] * (1.0 - left), 0.5 * solution["metal"])
        / solution["metal"]
    )

    def outputs(temp_c, alpha):
        whole = _Molten(slag, temp_c, alpha)
        made = LiquidMetal(solution["metal"], pct, temp_c, metal.coefficients)
        return {
            "metal": made.scaled(1.0 - drawn),
            "slag left": whole.scaled(left),
            "slag skimmed": whole.scaled(1.0 - left),
            "iron skimmed": made.scaled(drawn),
            "gas": Gas(gas, temp_c),
        }

    inputs = {
        "hot metal": metal,
        ore.title: Solid(solution["ore"], ore),
        flux.title: Solid(solution["lime"], flux),
        "oxygen": oxygen,
    }
    lost = loss_kj(metal, loss_c)
    heat_in = sum(r.enthalpy_kj() for r in inputs.values()) - lost
    temp_c, alpha = _settle(
        lambda t, a: heat_in - sum(r.enthalpy_kj() for r in outputs(t, a).values())
    )
    assumed = {
        "treatment_slag_feo_pct": 100.0 * feo,
        "air_oxygen_use_pct": 100.0 * use,
        "oxidation_loss_c": loss_c,
    }
    assumed |= {"slag_left_pct": 100.0 * left, "skimmed_iron_kg_kg": iron_kg_kg}
    return Stage(
        inputs,
        outputs(temp_c, alpha),
        plain(lost),
        title=f"removal of {', '.join(aims_pct)}",
        assumed=assumed,
        remarks=_remarks(pct, aims_pct),
    )


def _settle(surplus):
    """Temperature and share of the high form of 2CaO.SiO2."""
    change_c = celsius(_change_k())
    at_low, at_high = np.asarray(surplus(change_c, 0.0)), np.asarray(surplus(change_c, 1.0))
    step = np.where(at_low > at_high, at_low - at_high, 1.0)
    alpha = plain(np.where(at_low <= 0, 0.0, np.where(at_high >= 0, 1.0, at_low / step)))
    return settle(lambda t: surplus(t, alpha), 1235.0, 1700.0, "the treated metal"), alpha


def _equations(metal, aims_pct, ore, flux, basicity, lime_kg, feo, share):
    """Linear forms: kg of each element in the metal, the equations, oxides (kg) and gases (kg)."""
    held = metal.element_kg()
    solids = {"ore": ore.per_kg, "lime": flux.per_kg}
    brought = {
        e: Linear({n: m[e] for n, m in solids.items() if e in m})
        for m0 in solids.values()
        for e in m0
    }
    for element in aims_pct:
        if element not in BURNING or element == "Fe":
            raise InputError(
                f"aim: {element!r} was given; what can be lowered is "
                f"{', '.join(e for e in BURNING if e != 'Fe')}."
            )
    aims = {e: between(f"aim of {e}", p, 0.0, 6.0, "%") for e, p in aims_pct.items()}
    in_metal, oxides, nothing = {}, {}, Linear({})
    for element in {**held, **brought}:
        if element in ("Fe", "O", "H"):
            continue
        there, come = Linear({"": held.get(element, 0.0)}), brought.get(element, nothing)
        to_slag = element in burning() and element != "C" and (element != "P" or "P" in aims)
        if element in aims:
            in_metal[element] = Linear({"metal": aims[element] / 100.0})
        elif element in held or not to_slag and element != "C":
            in_metal[element] = there if to_slag or element == "C" else there + come
        if to_slag:
            for oxide, part in forms(element).items():
                oxides[oxide] = (there + come - in_metal.get(element, nothing)) * (
                    part / mass_fractions(oxide)[element]
                )
    carbonate = Linear({n: m.carbonate_c for n, m in (("ore", ore), ("lime", flux))})
    burnt = (
        Linear({"": held.get("C", 0.0)})
        + brought.get("C", nothing)
        - carbonate
        - in_metal.get("C", nothing)
    )
    gases = {
        "CO": burnt * (molar_mass("CO") / atomic_weight("C")),
        "CO2": carbonate * (molar_mass("CO2") / atomic_weight("C")),
    }
    oxides["FeO"] = Linear({"slag": feo})
    in_metal["Fe"] = Linear({"metal": 1.0})
    for element, form in in_metal.items():
        if element != "Fe":
            in_metal["Fe"] = in_metal["Fe"] - form
    iron = (
        Linear({"": held["Fe"]})
        + brought.get("Fe", nothing)
        - in_metal["Fe"]
        - oxides["FeO"] * mass_fractions("FeO")["Fe"]
    )
    mass = Linear({"slag": -1.0})
    oxygen = (
        brought.get("O", nothing)
        + Linear({"": held.get("O", 0.0), "oxygen": 1.0})
        - in_metal.get("O", nothing)
    )
    for oxide, form in oxides.items():
        mass = mass + form
        oxygen = oxygen - form * mass_fractions(oxide)["O"]
    for species, form in gases.items():
        oxygen = oxygen - form * mass_fractions(species)["O"]
    if basicity is None:
        aim = Linear({"lime": 1.0, "": -np.asarray(lime_kg, float)})
    else:
        basicity = between("basicity", basicity, 0.2, 6.0)
        aim = flux_aims({"CaO": nothing} | oxides, basicity)["lime"]
    in_ore = sum(
        ore.pct(o) / 100.0 * mass_fractions(o)["O"] for o in _FE_OXIDES
    )  # kg of oxygen that one kg of the solid can give
    if in_ore <= 0:
        raise InputError(f"solid: {ore.title} holds no iron oxide; ore or mill scale is needed.")
    split = Linear({"ore": in_ore * (1.0 - share), "oxygen": -np.asarray(share, float)})
    return in_metal, [iron, mass, oxygen, aim, split], oxides, gases


def _remarks(pct, aims_pct):
    out = []
    if "P" in aims_pct and np.any(np.asarray(pct.get("Si", 0.0)) > 0.15):
        out.append(
            "silicon above 0.15 % takes the oxygen before phosphorus does: remove silicon first"
        )
    return tuple(out)
