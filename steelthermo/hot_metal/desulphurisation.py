"""Sulphur out of hot metal with magnesium, lime, calcium carbide and mixtures: equilibrium, dose,
and the treatment as a balance of mass and heat.

What reacts: Mg + [S] = MgS; where lime is injected with it MgS + CaO = CaS + MgO follows; CaO + [S]
+ 1/2 [Si] = CaS + 1/2 SiO2 (or with carbon, giving CO); CaC2 + [S] = CaS + 2 [C]. The share of a
reagent that reacts is a plant value. One abstract (zhao94) reads lime-magnesium mixtures the other
way round: magnesium as deoxidiser and lime as desulphuriser. The consumption of magnesium per kg of
sulphur is the same in both pictures.
"""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    atomic_weight,
    between,
    common_shape,
    mol_to_nm3,
    molar_mass,
    one_of,
    plain,
    positive,
)
from ..streams import Condensed, Gas, LiquidMetal, Solid, Stage, loss_kj, metal_of, settle
from ..works import start_value as start
from ..works import start_values
from .magnesium_lime_carbide import (
    SPECIES,
    kg_per_kg_sulphur,
    magnesium_left_pct,
    magnesium_sulphur_product,
    reagent,
)

METHODS = MappingProxyType({"injection": "injection_loss_c", "stirring": "stirring_loss_c"})
_SILICON, _CARBON = "silicon", "carbon"
_REACHED_PCT = 0.001  # %S that co-injection is said to reach: below it a result is marked


def _efficiencies(keys, given):
    """Share of the active substance that reacts, by reagent key. Lime beside magnesium only fixes
    the sulphide, unless a value is given for it.
    """
    given = dict(given or {})
    strange = [k for k in given if k not in keys]
    if strange:
        raise InputError(
            f"efficiency: {strange[0]!r} was given; the reagents are {', '.join(keys)}."
        )
    magnesium = any(reagent(k).active == "Mg" for k in keys)
    out = {}
    for key in keys:
        aside = reagent(key).active == "CaO" and magnesium and key not in given
        out[key] = 0.0 if aside else start(reagent(key).efficiency_key, given.get(key)) / 100.0
    return out


@dataclass(frozen=True, repr=False)
class Dose(Record):
    """A dose of reagents, made by dose().

    Parameters
    ----------
    kg : dict
        kg of each reagent by key; floats or arrays.
    efficiency_pct : dict
        Efficiencies used (plant values), %, by key.
    """

    kg: dict
    efficiency_pct: dict

    @property
    def _main_results(self):
        """That of magnesium: what_moves.csv shifts its dose."""
        return ("hot_metal_s_pct",) if "magnesium" in self.kg else ()

    @property
    def total_kg(self) -> Number:
        """kg of all reagents together."""
        return sum(self.kg.values())

    @property
    def provenance(self) -> tuple:
        """Sources of the reagents."""
        return tuple(p for key in self.kg for p in reagent(key).provenance)


def dose(
    metal: LiquidMetal,
    aim_s_pct: Number,
    shares: dict | str,
    efficiency_pct: dict | None = None,
    f_product: Number = 1.0,
) -> Dose:
    """Reagents that bring hot metal to a content of sulphur. Numbers may be arrays.

    Parameters
    ----------
    metal : LiquidMetal
    aim_s_pct : float or array
        Sulphur afterwards, mass %, more than zero and below that of the metal.
    shares : dict or str
        Parts by mass of each reagent, or one key.
    efficiency_pct : dict, optional
        % by key; default: plant values.
    f_product : float or array
        See magnesium_left_pct().

    Returns
    -------
    Dose
        For the mass of the metal.

    Raises
    ------
    InputError
        Also where the aim lies above the content or nothing in the mixture takes sulphur.

    References
    ----------
    Stoichiometry; equilibrium with MgS.

    Examples
    --------
    >>> metal = LiquidMetal(1000.0, {"C": 4.5, "S": 0.04}, 1350.0)
    >>> mixture = {"magnesium": 1, "lime_powder": 4}
    >>> round(dose(metal, 0.005, mixture).total_kg, 2)
    2.35
    """
    shares = {shares: 1.0} if isinstance(shares, str) else dict(shares)
    parts = {k: positive(f"share of {reagent(k).title}", x) for k, x in shares.items()}
    eta = _efficiencies(tuple(parts), efficiency_pct)
    aim = positive("aim of sulphur", aim_s_pct, "%", zero=False)
    drop = positive(
        "sulphur above the aim",
        np.asarray(metal.analysis_pct.get("S", 0.0)) - aim,
        "%",
        "The aim must lie below the sulphur in the metal.",
    )
    takes = sum(
        x * reagent(k).active_share * eta[k] / kg_per_kg_sulphur(reagent(k).active)
        for k, x in parts.items()
    )
    if np.any(np.asarray(takes) <= 0):
        raise InputError(
            "dose: no reagent of the mixture takes sulphur; magnesium, carbide or lime with an "
            "efficiency above zero is needed."
        )
    # % of S to be bound; the magnesium that stays dissolved counts as if it had bound sulphur
    need = drop
    if any(reagent(k).active == "Mg" for k in parts):
        need = need + magnesium_left_pct(aim, metal.temp_c, f_product) / kg_per_kg_sulphur("Mg")
    scale = metal.mass_kg * need / 100.0 / takes
    return Dose(
        {k: plain(x * scale) for k, x in parts.items()},
        {k: plain(100.0 * e) for k, e in eta.items()},
    )


def desulphurise(
    metal: LiquidMetal,
    reagents_kg: dict | Dose,
    *,
    efficiency_pct: dict | None = None,
    f_product: Number = 1.0,
    method: str = "injection",
    lime_with: str = _SILICON,
    loss_c: Number | None = None,
    **plant: Number | None,
) -> Stage:
    """Desulphurise hot metal with given masses of reagents. Numbers may be arrays.

    Parameters
    ----------
    metal : LiquidMetal
    reagents_kg : dict or Dose
        kg by key.
    efficiency_pct : dict, optional
        % by key: share of the active substance that reacts or, for magnesium, also stays dissolved;
        the rest of the magnesium leaves as vapour, the rest of lime and carbide stays in the slag.
    f_product : float or array
        See magnesium_left_pct().
    method : {'injection', 'stirring'}
        Sets the loss and, for stirring, no carrier gas.
    lime_with : {'silicon', 'carbon'}
        What takes the oxygen of lime that binds sulphur.
    loss_c : float or array, optional
        Lost to the surroundings, -100 to 300 degC.
    **plant : float or array
        carrier_nm3_kg (nitrogen, Nm3 per kg of reagent), slag_left_pct (share of the slag left on
        the metal), skimmed_iron_kg_kg (iron drawn off, 0 to 10 kg per kg of slag).

    What is not given is a plant value.

    Returns
    -------
    Stage
        Outputs: metal, slag left, slag skimmed, iron skimmed, gas. Every element and the heat
        close.

    Raises
    ------
    InputError

    Examples
    --------
    >>> metal = LiquidMetal(1000.0, {"C": 4.5, "Si": 0.4, "S": 0.04}, 1350.0)
    >>> stage = desulphurise(metal, dose(metal, 0.005, "magnesium"))
    >>> round(stage.metal.analysis_pct["S"], 4)
    0.005
    """
    if isinstance(reagents_kg, Dose):
        efficiency_pct = efficiency_pct or reagents_kg.efficiency_pct
        reagents_kg = reagents_kg.kg
    kg = {k: positive(reagent(k).title, x, "kg") for k, x in reagents_kg.items()}
    one_of("method", method, METHODS)
    one_of("lime_with", lime_with, (_SILICON, _CARBON))
    eta = _efficiencies(tuple(kg), efficiency_pct)
    loss_c = start(METHODS[method], loss_c, low=-100.0, high=300.0)
    if method == "stirring":
        plant = {"carrier_nm3_kg": 0.0} | plant
    between("iron drawn off", plant.get("skimmed_iron_kg_kg") or 0.0, 0.0, 10.0, "kg/kg")
    own = start_values(("carrier_nm3_kg", "slag_left_pct", "skimmed_iron_kg_kg"), plant)
    carrier, left = own["carrier_nm3_kg"], own["slag_left_pct"] / 100.0
    assumed = {METHODS[method]: loss_c} | own
    assumed |= {
        reagent(k).efficiency_key: plain(100.0 * e)
        for k, e in eta.items()
        if np.any(np.asarray(e) > 0)
    }

    bath, slag, gas = _react(metal, kg, eta, f_product, lime_with)
    nitrogen = plain(carrier * sum(kg.values()))
    slag_kg = sum(slag.values())
    drawn = np.minimum(
        own["skimmed_iron_kg_kg"] * slag_kg * (1.0 - left), 0.5 * metal.mass_kg
    ) / sum(bath.values())

    def outputs(temp_c):
        whole = metal_of(bath, temp_c, metal.coefficients)
        return {
            "metal": whole.scaled(1.0 - drawn),
            "slag left": Condensed(slag, temp_c).scaled(left),
            "slag skimmed": Condensed(slag, temp_c).scaled(1.0 - left),
            "iron skimmed": whole.scaled(drawn),
            "gas": Gas(gas | {"N2": nitrogen}, temp_c),
        }

    inputs = {
        "hot metal": metal,
        **{reagent(k).title: Solid(x, reagent(k)) for k, x in kg.items()},
        "carrier gas": Gas({"N2": nitrogen}, 25.0),
    }
    lost = loss_kj(metal, loss_c)
    heat_in = sum(r.enthalpy_kj() for r in inputs.values()) - lost
    temp_c = settle(
        lambda t: heat_in - sum(r.enthalpy_kj() for r in outputs(t).values()),
        1130.0,
        1575.0,  # data of calcium carbide end at 1577 °C
        "the treated metal",
    )
    return Stage(
        inputs,
        outputs(temp_c),
        plain(lost),
        title="desulphurisation",
        assumed=assumed,
        remarks=_remarks(bath, metal),
    )


def _remarks(bath, metal):
    out = []
    s_pct = 100.0 * np.asarray(bath["S"]) / sum(bath.values())
    if np.any(s_pct < _REACHED_PCT):
        out.append(
            f"sulphur of {np.min(s_pct):.5f} % is less than the {_REACHED_PCT:g} % that works are "
            "said to reach; dust and slag give some back"
        )
    if np.any(np.asarray(metal.temp_c) < 1250.0):
        out.append(
            f"hot metal of {np.min(metal.temp_c):g} °C is cold for treatment: iron freezes to "
            "ladle and lance"
        )
    return tuple(out)


def _react(metal, kg, eta, f_product, lime_with):
    """Elements of the metal (kg), slag (kg by formula) and gas (Nm3) after the reactions. Amounts
    of reaction in kmol.
    """
    bath = dict(metal.element_kg())
    bath.setdefault("S", 0.0)
    mass, s_weight = metal.mass_kg, atomic_weight("S")
    slag = dict.fromkeys(SPECIES, 0.0)
    for key, x in kg.items():
        for species, pct in reagent(key).analysis_pct.items():
            slag[species] = slag[species] + x * pct / 100.0
    common_shape("desulphurisation", mass, *bath.values(), *slag.values(), *eta.values())
    gas = {}
    burnt = slag.pop("CaCO3") / molar_mass("CaCO3")
    slag["CaO"], gas["CO2"] = slag["CaO"] + burnt * molar_mass("CaO"), burnt

    def ready(active):  # kmol of an active substance that may react
        return sum(
            x * reagent(k).active_share * eta[k]
            for k, x in kg.items()
            if reagent(k).active == active
        ) / molar_mass(active)

    # carbide and lime first, as far as there is sulphur; silicon or carbon for the lime
    sulphur = bath["S"] / s_weight
    carbide = np.minimum(ready("CaC2"), sulphur)
    lime = np.minimum(ready("CaO"), sulphur - carbide)
    helper, per = ("Si", 0.5) if lime_with == _SILICON else ("C", 1.0)
    lime = np.minimum(lime, bath.get(helper, 0.0) / atomic_weight(helper) / per)
    # magnesium: (used - bound)(sulphur - bound) = K in mass %
    used = ready("Mg") * molar_mass("Mg") * 100.0 / mass
    rest = (sulphur - carbide - lime) * s_weight * 100.0 / mass
    r = kg_per_kg_sulphur("Mg")
    spare = used - r * rest
    product = magnesium_sulphur_product(metal.temp_c, f_product)
    root = np.sqrt(spare**2 + 4.0 * r * product)
    s_pct = np.where(
        spare > 0, 2.0 * product / (np.abs(spare) + root), (root - spare) / (2.0 * r)
    )  # the same root, each without cancellation
    s_pct = np.minimum(s_pct, rest)
    sulphide = (rest - s_pct) * mass / 100.0 / s_weight
    dissolved = np.maximum(used - r * (rest - s_pct), 0.0) * mass / 100.0

    bath["S"] = plain((sulphur - carbide - lime - sulphide) * s_weight)
    bath["C"] = plain(bath.get("C", 0.0) + 2.0 * carbide * atomic_weight("C"))
    bath[helper] = plain(bath.get(helper, 0.0) - per * lime * atomic_weight(helper))
    if np.any(np.asarray(used) > 0):
        bath["Mg"] = plain(bath.get("Mg", 0.0) + dissolved)
    if lime_with == _CARBON:
        gas["CO"] = lime
    else:
        slag["SiO2"] = slag["SiO2"] + 0.5 * lime * molar_mass("SiO2")
    fixed = np.minimum(sulphide, slag["CaO"] / molar_mass("CaO") - lime)  # MgS + CaO = CaS + MgO
    slag["CaS"] = (carbide + lime + fixed) * molar_mass("CaS")
    slag["MgS"] = (sulphide - fixed) * molar_mass("MgS")
    slag["CaO"] = slag["CaO"] - (lime + fixed) * molar_mass("CaO")
    slag["MgO"] = slag["MgO"] + fixed * molar_mass("MgO")
    slag["CaC2"] = slag["CaC2"] - carbide * molar_mass("CaC2")
    vapour = slag.pop("Mg") / molar_mass("Mg") - sulphide - dissolved / molar_mass("Mg")
    gas["Mg"] = np.maximum(vapour, 0.0)
    slag = {s: plain(np.maximum(x, 0.0)) for s, x in slag.items() if np.any(np.asarray(x) > 1e-12)}
    return (
        bath,
        slag,
        {s: plain(mol_to_nm3(n * 1000.0)) for s, n in gas.items() if np.any(np.asarray(n) > 0)},
    )
