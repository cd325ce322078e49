"""From the tap to the finished ladle: the sums of a shift, and the least additions that meet a
specification.

Rooms beside this one: balance (treat: every element and the heat), alloying, deoxidation,
inclusions, stirring, degassing, temperature, specifications.
A heat passes from the vessel to a specification like this:

>>> from steelthermo import charge, ladle
>>> heat = charge.solve().for_tap(180)
>>> steel = ladle.with_oxygen(heat.steel, 600)
>>> slag = ladle.carry_over(heat.slag, heat.steel.mass_kg, 5)
>>> s355 = ladle.specification("EN 10025-2", "S355J2", thickness_mm=20)
>>> own = {"C": (0.15, 0.18), "Mn": (1.40, 1.55), "Si": (0.20, 0.40), "Al": (0.025, 0.05)}
>>> alloys = ["silicomanganese", "ferromanganese", "carburiser"]
>>> met = ladle.meet(steel, s355.window() | own, alloys, slag=slag, loss_c=60)
>>> s355.check(met.stage.steel.analysis_pct).ok
True
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Record,
    atomic_weight,
    between,
    mass_fractions,
    plain,
    positive,
)
from ..streams import LiquidMetal, Slag, Stage
from ..streams import air as air_of
from ..works import start_value as start
from .alloying import least_additions
from .balance import REDUCED, LadleStage, Treatment, treat


def tapped(heat: Stage) -> tuple:
    """Steel and slag at the end of a heat, for the ladle.

    Parameters
    ----------
    heat : a charge.Charge, or a blow.Blow, of which the last instant is taken (fluxes not yet
        dissolved stay in the vessel)

    Returns
    -------
    (LiquidMetal, Slag)

    Examples
    --------
    >>> from steelthermo import charge
    >>> steel, slag = tapped(charge.solve())
    >>> round(steel.temp_c, 1), round(slag.temp_c, 1)
    (1660.0, 1660.0)
    """
    steel, slag = heat.steel, heat.slag
    if getattr(heat, "time_min", None) is None:
        return steel, slag

    def last(x):
        return plain(np.asarray(x)[..., -1]) if np.ndim(x) else x

    pct = {e: last(p) for e, p in steel.solutes_pct.items()}
    metal = LiquidMetal(last(steel.mass_kg), pct, last(steel.temp_c), steel.coefficients)
    return metal, Slag({o: last(kg) for o, kg in slag.oxides_kg.items()}, last(slag.temp_c))


def with_oxygen(steel: LiquidMetal, oxygen_ppm: Number) -> LiquidMetal:
    """The same steel with a content of dissolved oxygen: iron gives way.

    Parameters
    ----------
    steel : LiquidMetal
    oxygen_ppm : dissolved, 0 to 2300 ppm; arrays broadcast

    Returns
    -------
    LiquidMetal

    Raises
    ------
    InputError

    Examples
    --------
    >>> with_oxygen(LiquidMetal(180e3, {"C": 0.04}, 1650.0), 600.0).analysis_pct["O"]
    0.06
    """
    pct = (
        between(
            "dissolved oxygen", oxygen_ppm, 0.0, 2300.0, "ppm", "Above 2300 ppm iron oxide forms."
        )
        / 1e4
    )
    return replace(steel, analysis_pct={**steel.analysis_pct, "O": pct})


def carry_over(slag: Slag, steel_kg: Number, kg_t: Number) -> Slag:
    """The part of a converter slag that runs into the ladle.

    Parameters
    ----------
    slag : Slag of the vessel
    steel_kg : steel tapped, kg; arrays broadcast
    kg_t : slag that runs along, kg per t of steel (plant value, such as 'carry_over_dart_kg_t')

    Returns
    -------
    Slag

    Raises
    ------
    InputError
        Where more is asked for than there is.

    Examples
    --------
    >>> carry_over(Slag({"CaO": 9000.0, "FeO": 6000.0}, 1650.0), 180e3, 5.0).mass_kg
    900.0
    """
    wanted = (
        positive("slag carried over", kg_t, "kg/t")
        * positive("steel", steel_kg, "kg", zero=False)
        / 1000.0
    )
    if np.any(np.asarray(wanted) > np.asarray(slag.mass_kg)):
        raise InputError(
            f"slag carried over: {np.max(wanted):.0f} kg was asked for; the vessel holds "
            f"{np.min(slag.mass_kg):.0f} kg."
        )
    return slag.scaled(wanted / slag.mass_kg)


def aluminium_demand_kg_t(
    oxygen_ppm: Number,
    aim_al_pct: Number,
    *,
    left_ppm: Number = 0.0,
    slag_pct: Amounts | None = None,
    slag_kg_t: Number = 0.0,
    reduced_pct: Number | None = None,
    air_nm3_t: Number = 0.0,
    recovery_pct: Number | None = None,
) -> dict:
    """Aluminium by the sum of a shift: what oxygen, slag and air take and what shall stay, over
    the share
    that reaches the bath.

    Parameters
    ----------
    oxygen_ppm : dissolved; arrays broadcast
    aim_al_pct : Al in the steel, 0 to 2 mass %
    left_ppm : oxygen that stays dissolved
    slag_pct : mass % of FeO, Fe2O3, MnO, SiO2, P2O5 in slag carried over that aluminium reduces
        (give
        only those)
    slag_kg_t : slag carried over, kg/t
    reduced_pct : None: plant value 'slag_reduced_pct'
    air_nm3_t : air taken up, Nm3/t
    recovery_pct : None: plant value 'recovery_al_pct'

    Returns
    -------
    kg per t of steel for 'oxygen', 'steel', 'slag', 'air', 'lost', 'total'

    Raises
    ------
    InputError

    References
    ----------
    Stoichiometry of Al2O3: 1.124 kg Al per kg of oxygen.

    Examples
    --------
    >>> round(aluminium_demand_kg_t(600.0, 0.03, recovery_pct=60.0)["total"], 2)
    1.62
    """
    per_o = 2.0 * atomic_weight("Al") / (3.0 * atomic_weight("O"))
    dissolved = positive(
        "oxygen that is to be bound",
        positive("dissolved oxygen", oxygen_ppm, "ppm") - positive("oxygen left", left_ppm, "ppm"),
        "ppm",
    )
    share = start("slag_reduced_pct", reduced_pct) / 100.0
    strange = [o for o in slag_pct or {} if o not in (*REDUCED, "SiO2")]
    if strange:
        raise InputError(
            f"slag: {strange[0]!r} was given; aluminium reduces {', '.join((*REDUCED, 'SiO2'))}."
        )
    oxygen_in = sum(
        between(f"{o} in slag", p, 0.0, 100.0, "%") / 100.0 * mass_fractions(o)["O"]
        for o, p in (slag_pct or {}).items()
    )
    air_kg = air_of(positive("air taken up", air_nm3_t, "Nm3/t")).species_kg()["O2"]
    out = {
        "oxygen": per_o * dissolved / 1000.0,
        "steel": 10.0 * between("aim of aluminium", aim_al_pct, 0.0, 2.0, "%"),
        "slag": per_o * share * oxygen_in * positive("slag carried over", slag_kg_t, "kg/t"),
        "air": per_o * air_kg,
    }
    needed = sum(out.values())
    total = needed / (start("recovery_al_pct", recovery_pct, low=1.0) / 100.0)
    return {k: plain(v) for k, v in out.items()} | {
        "lost": plain(total - needed),
        "total": plain(total),
    }


@dataclass(frozen=True, repr=False)
class Met(Record):
    """A ladle brought to its aims: additions_kg by alloy key, stage (the LadleStage that makes it),
    rounds needed.
    """

    additions_kg: dict
    stage: LadleStage
    rounds: int


def meet(
    steel: LiquidMetal,
    aims_pct: dict[str, tuple[float, float]],
    choice: Iterable[str],
    *,
    aluminium: str = "aluminium",
    prices: Amounts | None = None,
    **options: Annotated[object, Treatment],
) -> Met:
    """The least additions that bring a ladle into its aims, the oxygen of steel, slag and air
    counted:
    least_additions() and treat() in turn.

    Parameters
    ----------
    steel : with its oxygen; one heat, no arrays
    aims_pct : (low, high) by element, mass %
    choice : alloys to choose from
    aluminium : key of the alloy that deoxidises (added to the choice if Al is aimed at)
    prices : see least_additions()
    **options : of treat()

    Returns
    -------
    a Met, whose steel lies within the aims (to 1e-6 mass %)

    Raises
    ------
    InputError
        Where the aims cannot be met, and where it does not settle.

    Examples
    --------
    >>> steel = with_oxygen(LiquidMetal(180e3, {"C": 0.04, "Mn": 0.1}, 1650.0), 600.0)
    >>> met = meet(steel, {"Al": (0.03, 0.05), "Mn": (0.5, 0.6)}, ["ferromanganese"], loss_c=60.0)
    >>> round(met.stage.steel.analysis_pct["Mn"], 3)
    0.5
    """
    choice = list(choice) + ([aluminium] if "Al" in aims_pct and aluminium not in choice else [])
    lost, kg, stage = {}, None, None
    for rounds in range(1, 26):
        mixture = least_additions(
            steel,
            aims_pct,
            choice,
            recovery_pct=options.get("recovery_pct"),
            prices=prices,
            lost_kg=lost,
        )
        kg = {k: x for k, x in mixture.kg.items() if x > 1e-9}
        stage = treat(steel, kg, **options)
        found = stage.steel.element_kg()
        if any(np.ndim(kg) for kg in found.values()):
            raise InputError("treatment: arrays were given; one treatment of one steel is needed.")
        # what the treatment took (or gave) beyond the plain sum of steel and alloys
        gap = {
            e: mixture.element_kg.get(e, 0.0) - found.get(e, 0.0)
            for e in {**mixture.element_kg, **found}
        }
        if max(map(abs, gap.values())) < 1e-9 * steel.mass_kg:
            return Met(kg, stage, rounds)
        lost = {e: lost.get(e, 0.0) + x for e, x in gap.items()}
    raise InputError(
        "additions: the ladle does not settle on one mixture; narrow the choice of alloys or widen "
        "the aims."
    )
