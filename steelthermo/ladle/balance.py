"""The balance of a ladle: additions, slag, air, gas and heat go in; steel, inclusions, slag and gas
come out, every element and the heat closed.

What reaches the bath of each addition is a plant value; the rest burns. In the bath the oxygen of
steel, air and reduced slag is shared out at equilibrium (room deoxidation).
"""

from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    atomic_weight,
    between,
    kelvin,
    mass_fractions,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
    positive,
    quietly,
    told,
)
from ..streams import (
    OXIDES,
    Condensed,
    Gas,
    LiquidMetal,
    Slag,
    Solid,
    Stage,
    loss_kj,
    metal_of,
    settle,
)
from ..streams import air as air_of
from ..thermo import (
    DEFAULT_SET,
    burning,
    carbon_oxygen_product,
    carbonate_parts,
    elements_with,
    formation_enthalpy_298,
    forms,
    oxides_with,
    oxygen_atoms,
)
from ..works import start_value as start
from .alloying import alloy, recovery, with_recovery
from .deoxidation import deoxidise
from .inclusions import Deoxidised

REDUCED = oxides_with(reduced="yes")  # oxides of carried-over slag that killed steel reduces
_KILLS_KG_T = 0.1  # aluminium and silicon added, kg/t, from which a steel counts as killed
_LOW_C, _HIGH_C = 1500.0, 1715.0


@dataclass(frozen=True, repr=False)
class LadleStage(Stage):
    """A ladle treatment: a Stage with the equilibrium of its bath.

    bath: Deoxidised. Outputs: steel, inclusions, slag (if any), unmelted (if any), gas.
    """

    title: str = "ladle"
    bath: Deoxidised | None = None

    def scaled(self, factor: Number) -> "LadleStage":
        """The same, factor times as much. Raises InputError."""
        return replace(super().scaled(factor), bath=self.bath.scaled(factor))

    @property
    def boil_ratio(self) -> Number:
        """[%C][%O] after the treatment over its equilibrium with CO at 1 atm: above 1 the steel
        boils as it stands.
        """
        steel = self.outputs["steel"]
        c, o = (steel.analysis_pct.get(e, 0.0) for e in ("C", "O"))
        return plain(
            c * o / carbon_oxygen_product(kelvin(steel.temp_c), 1.0, self.bath.coefficients)
        )


def _burn(kg):
    """Oxides (kg), CO (kg), oxygen taken (kg) and heat given off (kJ, at 25 degC) when kg of
    elements burn.
    """
    oxides, oxygen = {"CO": 0.0}, 0.0
    for element, x in kg.items():
        oxygen = oxygen + x / atomic_weight(element) * oxygen_atoms(element) * atomic_weight("O")
        for oxide, share in forms(element).items():
            oxides[oxide] = x * share / mass_fractions(oxide)[element]
    heat = -sum(x / molar_mass(o) * formation_enthalpy_298(o) for o, x in oxides.items())
    return oxides, oxides.pop("CO"), oxygen, heat


def _reduced(steel, additions, slag, given_pct):
    """Share of the carried-over slag's oxides that is reduced: as given, else the plant value where
    a strong deoxidiser is added.
    """
    if slag is None:
        return 0.0
    share = start("slag_reduced_pct", given_pct) / 100.0
    if given_pct is not None:
        return share
    strong = sum(r.element_kg().get(e, 0.0) for r in additions for e in ("Al", "Si"))
    return plain(np.where(np.asarray(strong) > _KILLS_KG_T * steel.mass_kg / 1000.0, share, 0.0))


@dataclass(frozen=True, repr=False)
class Treatment(Record):
    """How a ladle is treated. Numbers may be arrays; None: plant values.

    slag: Slag carried over; slag_reduced_pct: share of its FeO, Fe2O3, MnO and P2O5 reduced (None:
    plant value, or none below 0.1 kg/t of aluminium and silicon added).
    solids: records materials.Solid of lime, dolomite or scrap added.
    air_nm3: air whose oxygen the steel takes up; oxygen_nm3: oxygen blown for chemical heating, all
    taken up; argon_nm3: stirring gas.
    nitrogen_pickup_ppm. recovery_pct: {element: % that reaches the bath}, plant values else; the
    rest burns with further air (Ni, Cu stay unmelted).
    burn_heat_pct: share of the heat of that burning which the steel takes.
    loss_c: degC lost to ladle and surroundings; energy_kwh: electric energy, of which
    arc_efficiency_pct reaches the steel. compound_heat: True counts the heats of forming the
    alloys, not verified. coefficients: set of the activities and constants of the deoxidation (the
    heats of solution are those that the steel carries); lines: printed constants, see deoxidise().
    """

    slag: Slag | None = None
    slag_reduced_pct: Number | None = None
    solids: tuple[Solid, ...] = ()
    air_nm3: Number = 0.0
    oxygen_nm3: Number = 0.0
    argon_nm3: Number = 0.0
    nitrogen_pickup_ppm: Number = 0.0
    recovery_pct: dict | None = None
    loss_c: Number = 0.0
    energy_kwh: Number = 0.0
    arc_efficiency_pct: Number | None = None
    burn_heat_pct: Number | None = None
    compound_heat: bool = False
    coefficients: str = DEFAULT_SET
    lines: dict | None = None


def treat(
    steel: LiquidMetal, additions_kg: dict | None = None, **how: Annotated[object, Treatment]
) -> LadleStage:
    """Treat a ladle of steel: deoxidation, alloys, slag, air, heat, with every element and the
    heat closed.

    Parameters
    ----------
    steel : as tapped, 1500 to 1780 degC, with its dissolved oxygen (with_oxygen()); it ends at
        1500 to 1715 degC
    additions_kg : kg by key of alloys (or by Alloy); arrays broadcast
    **how : fields of Treatment, such as slag, loss_c, recovery_pct

    Returns
    -------
    LadleStage

    Raises
    ------
    InputError

    References
    ----------
    Balances; equilibria and plant values as named in `provenance`.

    Examples
    --------
    >>> steel = LiquidMetal(180e3, {"C": 0.04, "O": 0.06}, 1650.0)
    >>> treat(steel, {"aluminium": 300.0}, loss_c=50.0).bath.words
    '100 % alumina'
    """
    how = told(Treatment, "ladle", how)
    slag = how.slag
    if np.any(np.asarray(steel.analysis_pct.get("O", 0.0)) <= 0):
        raise InputError(
            "steel: its dissolved oxygen is not in the analysis; give it with with_oxygen(steel, "
            "ppm), from the probe or from carbon."
        )
    between("temperature of the steel", steel.temp_c, 1500.0, 1780.0, "°C")
    additions = [
        Solid(kg, a, a.formation_kj_kg if how.compound_heat else 0.0)
        for kg, a in ((kg, alloy(k)) for k, kg in (additions_kg or {}).items())
    ]
    share = recovery(how.recovery_pct)
    reduced = _reduced(steel, additions, slag, how.slag_reduced_pct)
    kept = start("burn_heat_pct", how.burn_heat_pct) / 100.0
    efficiency = start("arc_efficiency_pct", how.arc_efficiency_pct) / 100.0
    bath = dict(steel.element_kg())
    top = {o: np.asarray(kg, float) for o, kg in slag.oxides_kg.items()} if slag is not None else {}
    unmelted, burnt, gas = {}, {}, {}

    def add(to, name, kg):
        to[name] = to.get(name, 0.0) + kg

    for part in additions:
        for species, pct in part.analysis_pct.items():
            kg = part.mass_kg * pct / 100.0
            if species not in share:
                add(top, species, kg)  # ash
                continue
            add(bath, species, kg * share[species])
            if species in with_recovery():
                burns = species in burning()
                add(burnt if burns else unmelted, species, kg * (1.0 - share[species]))
    for solid in how.solids:
        _dissolve(solid, bath, top, gas, add)
    oxides, co, burnt_o, burnt_kj = _burn(burnt)
    for oxide, kg in oxides.items():
        add(top, oxide, kg)
    add(gas, "CO", co)
    for oxide in REDUCED if slag is not None else ():
        kg = slag.oxides_kg.get(oxide, 0.0) * reduced
        top[oxide] = top.get(oxide, 0.0) - kg
        for element, part in mass_fractions(oxide).items():
            add(bath, element, kg * part)

    air_nm3 = positive("air taken up", how.air_nm3, "Nm3")
    entering = air_of(1.0).nm3
    burnt_air = burnt_o / molar_mass("O2") * molar_volume_nm3_kmol() / entering["O2"]
    air = air_of(plain(air_nm3 + burnt_air))
    blown = Gas({"O2": positive("oxygen blown", how.oxygen_nm3, "Nm3")}, 25.0)
    add(bath, "O", Gas({"O2": plain(air_nm3 * entering["O2"])}, 25.0).mass_kg + blown.mass_kg)
    pickup = (
        between("nitrogen pick-up", how.nitrogen_pickup_ppm, 0.0, 500.0, "ppm")
        / 1e6
        * steel.mass_kg
    )
    add(bath, "N", pickup)
    nitrogen = Gas({"N2": plain(pickup / molar_mass("N2") * molar_volume_nm3_kmol())}, 25.0)
    argon = Gas({"Ar": positive("argon", how.argon_nm3, "Nm3")}, 25.0)
    for species in ("N2", "Ar"):
        add(gas, species, air.species_kg()[species])
    add(gas, "Ar", argon.mass_kg)
    gas_nm3 = {
        s: plain(kg / molar_mass(s) * molar_volume_nm3_kmol())
        for s, kg in gas.items()
        if np.any(np.asarray(kg) > 0)
    }
    bath = {e: kg for e, kg in bath.items() if e in ("Fe", "O") or np.any(np.asarray(kg) != 0)}

    inputs = {"tapped steel": steel}
    for solid in (*additions, *how.solids):
        title = solid.material.title  # two of one title stay two
        inputs[title if title not in inputs else f"{title}, {len(inputs)}"] = solid
    inputs |= {"air": air, "oxygen": blown, "nitrogen taken up": nitrogen, "argon": argon} | (
        {"slag carried over": slag} if slag is not None else {}
    )
    electric = plain(positive("electric energy", how.energy_kwh, "kWh") * 3600.0 * efficiency)
    lost_kj = (
        loss_kj(steel, between("temperature lost", how.loss_c, -200.0, 400.0, "°C"))
        + (1.0 - kept) * burnt_kj
    )
    heat_in = sum(r.enthalpy_kj() for r in inputs.values()) + electric - lost_kj
    top = {o: plain(np.maximum(kg, 0.0)) for o, kg in top.items() if np.any(np.asarray(kg) > 1e-9)}

    def outputs(found, temp_c):
        out = {
            "steel": metal_of(found.element_kg, temp_c, steel.coefficients),
            "inclusions": Condensed(found.oxides_kg, temp_c),
        }
        if top:
            out["slag"] = Slag(top, temp_c)
        if unmelted:
            out["unmelted"] = Condensed({s: plain(kg) for s, kg in unmelted.items()}, temp_c)
        return out | {"gas": Gas(gas_nm3, temp_c)}

    def shared_out(temp_c, start, tolerance):
        return deoxidise(
            bath, kelvin(temp_c), how.coefficients, how.lines, start, tolerance, quiet=True
        )

    def surplus(temp_c):
        return heat_in - sum(r.enthalpy_kj() for r in outputs(found, temp_c).values())

    temp_c, found = plain(np.clip(steel.temp_c, _LOW_C, _HIGH_C)), None
    with quietly():  # of a temperature that is only tried nothing is said
        for _ in range(8):  # the equilibrium hangs on the temperature, and a little the other way
            found = shared_out(temp_c, found, 1e-4)
            before, temp_c = temp_c, settle(surplus, _LOW_C, _HIGH_C, "the steel in the ladle")
            if np.max(np.abs(np.asarray(temp_c) - before)) < 0.001:
                break
    found = shared_out(temp_c, found, 1e-8)
    temp_c = settle(surplus, _LOW_C, _HIGH_C, "the steel in the ladle")
    assumed = {
        f"recovery_{e.lower()}_pct": 100.0 * share[e]
        for e in with_recovery()
        if any(e in p.element_kg() for p in additions)
    }
    assumed |= {"slag_reduced_pct": 100.0 * reduced} if slag is not None else {}
    assumed |= {"burn_heat_pct": 100.0 * kept} if burnt else {}
    assumed |= (
        {"arc_efficiency_pct": 100.0 * efficiency} if np.any(np.asarray(electric) > 0) else {}
    )
    stage = LadleStage(
        inputs,
        outputs(found, temp_c),
        plain(lost_kj),
        electric,
        assumed=assumed,
        remarks=found.remarks,
        bath=found,
    )
    if np.all(np.asarray(stage.boil_ratio) <= 1.0):
        return stage
    words = (
        "carbon and oxygen pass their equilibrium with CO at 1 atm "
        f"{np.max(stage.boil_ratio):.1f} times: the steel boils, which is not counted"
    )
    return replace(stage, remarks=(*stage.remarks, words))


def _dissolve(solid, bath, top, gas, add):
    """Share a flux or scrap out: elements to the bath, oxides to the slag, carbonates to oxide and
    CO2.
    """
    for species, pct in solid.material.analysis_pct.items():
        kg = solid.mass_kg * pct / 100.0
        for part, n in carbonate_parts(species).items():
            where = gas if part == "CO2" else top
            add(where, part, kg / molar_mass(species) * n * molar_mass(part))
        if carbonate_parts(species):
            continue
        if species in OXIDES:
            add(top, species, kg)
        elif species in elements_with():
            add(bath, species, kg)
        else:
            raise InputError(
                f"{solid.material.title}: {species} cannot be taken by a ladle of the kit."
            )
