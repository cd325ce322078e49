"""Water that comes with what is charged: wet scrap, slaked lime.

A scale weighs it as the material. In the balance its oxygen burns carbon and its hydrogen leaves
with the gas; what dries off before leaves as steam and takes no part.
"""

import numpy as np

from ..base import Number, between, kelvin, molar_mass, molar_volume_nm3_kmol, positive
from ..streams import Material
from ..thermo import enthalpy
from ..works import Profile, load_profile
from .plan import Plan, as_material


def wetted(given: str | Material, water_pct: float, works: Profile | None = None) -> Material:
    """A material with water in it. Take care: wet material explodes under liquid metal or slag.

    Parameters
    ----------
    given : key of the works, or a Material
    water_pct : water in the wet material, 0 to 10 mass %, scalar or array; lime holds it as slaked
        lime
    works : None: the one load_profile() finds

    Returns
    -------
    Material

    Raises
    ------
    InputError

    Examples
    --------
    >>> wetted("heavy_scrap", 2.0).pct("H2O"), round(wetted("lime", 2.0).pct("Ca(OH)2"), 1)
    (2.0, 8.2)
    """
    water_pct = between("water", water_pct, 0.0, 10.0, "%")
    dry = as_material(given, works or load_profile(), "wet material")
    pct = {s: x * (1.0 - water_pct / 100.0) for s, x in dry.analysis_pct.items()}
    lime = water_pct * molar_mass("CaO") / molar_mass("H2O")
    if np.all(pct.get("CaO", 0.0) > lime):
        pct["CaO"] -= lime
        pct["Ca(OH)2"] = pct.get("Ca(OH)2", 0.0) + water_pct + lime
    else:
        pct["H2O"] = pct.get("H2O", 0.0) + water_pct
    return Material(f"wet {dry.title}", pct, dry.temp_c, dry.kind)


def steam_instead(plan: Plan, water_kg: Number) -> tuple:
    """What a heat has more if its water leaves as steam, as hot as the gas, and not as hydrogen:
    the heat of burning that hydrogen, and the oxygen that has to be blown for it.

    Parameters
    ----------
    plan : Plan of the heat
    water_kg : kg of water

    Returns
    -------
    heat, MJ; oxygen blown, Nm3

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.charge import plan_of
    >>> [round(x, 2) for x in steam_instead(plan_of(), 1.0)]
    [12.52, 0.64]
    """
    kmol, T = positive("water", water_kg, "kg") / molar_mass("H2O"), kelvin(plan.gas_temp_c)
    kj_kmol = enthalpy("H2", T) + 0.5 * enthalpy("O2", kelvin(25.0)) - enthalpy("H2O", T, "gas")
    used = plan.oxygen_pct["O2"] / 100.0 * (1.0 - plan.unused_o2_pct / 100.0)
    return kmol * kj_kmol / 1000.0, 0.5 * kmol * molar_volume_nm3_kmol() / used
