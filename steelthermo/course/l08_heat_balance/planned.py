"""What the lines of the planning sheet are worked out from: the works' own figures, the heats and
shares that the lessons teach, and, beside each line, what the full balance says.
"""

from functools import lru_cache

import numpy as np

from ...base import kelvin, mass_fractions, molar_mass
from ...charge import iron_ledger, solve
from ...coursekit.problems import Answer, Given, Problem
from ...jet import design_head
from ...slag import end_of_blow_parameters, equilibrium
from ...streams import Slag
from ...thermo import heat_content, oxidation_heat
from ...works import plant_value

_BATH = "dissolved, cold oxygen"
_DIGITS = 4  # of a figure that the sheet prints, and works with
SUPPLY_BAR, WIDE_MM = 10.0, 42.0  # usual pressure, and the widest usual throat: common practice
S_AIM_PCT, AL_AIM_PCT = 0.004, 0.035

# name in the texts: what it is called, its unit
FIGURES = {
    "tap_t": ("steel to tap", "t"),
    "yield_pct": ("steel per metal charged", "%"),
    "share_pct": ("usual share of hot metal", "%"),
    "c_pct": ("carbon of the hot metal", "%"),
    "si_pct": ("silicon of the hot metal", "%"),
    "p_pct": ("phosphorus of the hot metal", "%"),
    "s_pct": ("sulphur of the hot metal", "%"),
    "temp_c": ("temperature of the hot metal", "°C"),
    "scrap_c_pct": ("carbon of the scrap", "%"),
    "scrap_si_pct": ("silicon of the scrap", "%"),
    "scrap_p_pct": ("phosphorus of the scrap", "%"),
    "dirt_pct": ("silica in the dirt of the scrap", "%"),
    "end_c_pct": ("carbon at the end", "%"),
    "end_temp_c": ("end temperature", "°C"),
    "aim_p_pct": ("phosphorus aimed at", "%"),
    "co2_pct": ("share of carbon to CO2", "%"),
    "c_co_mj": ("heat of C to CO", "MJ/kg"),
    "c_co2_mj": ("heat of C to CO2", "MJ/kg"),
    "si_mj": ("heat of Si to SiO2", "MJ/kg"),
    "p_mj": ("heat of P to P2O5", "MJ/kg"),
    "mn_mj": ("heat of Mn to MnO", "MJ/kg"),
    "fe_mj": ("heat of Fe to FeO", "MJ/kg"),
    "mn_kg_t": ("manganese burnt", "kg/t"),
    "fe_kg_t": ("iron burnt in any case", "kg/t"),
    "fe_per_si": ("iron burnt with a kg of silicon", "1"),
    "unused_pct": ("oxygen unused", "%"),
    "purity_pct": ("purity of the oxygen", "%"),
    "flow_nm3_min": ("oxygen flow", "Nm3/min"),
    "basicity": ("CaO/SiO2", "1"),
    "acid_base_pct": ("CaO and SiO2 of the slag", "%"),
    "mgo_pct": ("MgO of the slag", "%"),
    "other_mgo_kg_t": ("MgO of lining and lime", "kg/t"),
    "dolomite_mgo_pct": ("MgO of the dolomite", "%"),
    "dolomite_cao_pct": ("CaO of the dolomite", "%"),
    "available_pct": ("available CaO of the lime", "%"),
    "bracket": ("bracket of the slag", "1"),
    "iron_pct": ("total iron of the slag", "%"),
    "metal_mj": ("heat per t and °C of the metal", "1"),
    "flux_mj": ("heat of the fluxes", "MJ/kg"),
    "losses_mj_t": ("losses", "MJ/t"),
    "scrap_mj": ("heat of a tonne of scrap", "MJ/t"),
    "s_aim_pct": ("sulphur aimed at", "%"),
    "mg_share_pct": ("share of magnesium at work", "%"),
    "holes": ("throats", "1"),
    "supply_bar": ("supply pressure", "bar"),
    "product": ("%C × %O", "1"),
    "al_aim_pct": ("aluminium to stay", "%"),
    "al_recovery_pct": ("recovery of aluminium", "%"),
}


def _rounded(figures):
    return {name: float(f"{x:.{_DIGITS}g}") for name, x in figures.items()}


@lru_cache(maxsize=8)
def _usual(works):
    return solve(works).for_tap(works.vessel.tap_t)


def known(given, works):
    """{name in the texts: value} of a plan, as printed. given: the hot metal, as in own_numbers()
    and share_pct.
    """
    heat, tap_t, end = _usual(works), works.vessel.tap_t, works.end_point
    T, slag = kelvin(end.temp_c), heat.slag.analysis_pct
    basicity, lime, dolomite = works.slag.basicity, heat.lime.material, heat.dolomite.material
    scrap = heat.scrap.material
    iron_kg, with_silicon_kg = _iron_kg(heat)
    mn = sum(x.element_kg().get("Mn", 0.0) for x in (heat.hot_metal, heat.scrap))
    dolomite_mgo_pct = dolomite.oxide_pct("MgO")
    mgo_kg = heat.slag.oxides_kg["MgO"] - heat.dolomite.mass_kg * dolomite_mgo_pct / 100.0
    warm = heat_content("Fe", T) - heat_content("Fe", T - 100.0)  # liquid, both
    figures = {
        "tap_t": tap_t,
        "yield_pct": heat.yield_pct,
        "scrap_c_pct": scrap.pct("C"),
        "scrap_si_pct": scrap.pct("Si"),
        "scrap_p_pct": scrap.pct("P"),
        "dirt_pct": scrap.pct("SiO2"),
        "end_c_pct": end.analysis_pct["C"],
        "end_temp_c": end.temp_c,
        "aim_p_pct": end.analysis_pct["P"],
        "co2_pct": works.gas.co2_pct,
        "c_co_mj": oxidation_heat("C to CO", T, _BATH) / 1e6,
        "c_co2_mj": oxidation_heat("C to CO2", T, _BATH) / 1e6,
        "si_mj": oxidation_heat("Si to SiO2", T, _BATH) / 1e6,
        "p_mj": oxidation_heat("P to P2O5", T, _BATH) / 1e6,
        "mn_mj": oxidation_heat("Mn to MnO", T, _BATH) / 1e6,
        "fe_mj": oxidation_heat("Fe to FeO", T, _BATH) / 1e6,
        "mn_kg_t": (mn - 10.0 * tap_t * end.analysis_pct["Mn"]) / tap_t,
        "fe_kg_t": (iron_kg - with_silicon_kg) / tap_t,
        "fe_per_si": with_silicon_kg / _charged("Si")(heat, works),
        "unused_pct": works.gas.unused_o2_pct,
        "purity_pct": works.oxygen.purity_pct,
        "flow_nm3_min": works.oxygen.flow_nm3_min,
        "basicity": basicity,
        "acid_base_pct": slag["CaO"] + slag["SiO2"],
        "mgo_pct": slag["MgO"],
        "other_mgo_kg_t": mgo_kg / tap_t,
        "dolomite_mgo_pct": dolomite_mgo_pct,
        "dolomite_cao_pct": dolomite.oxide_pct("CaO"),
        "available_pct": lime.oxide_pct("CaO") - basicity * lime.oxide_pct("SiO2"),
        "bracket": slag["CaO"] + 0.3 * slag["MgO"] + 0.6 * (slag["P2O5"] + slag["MnO"]),
        "iron_pct": 100.0 * heat.slag.element_kg()["Fe"] / heat.slag.mass_kg,
        "metal_mj": warm / 100.0 / molar_mass("Fe"),
        "flux_mj": heat_content("CaO", T) / molar_mass("CaO") / 1000.0,
        "losses_mj_t": heat.heat_loss_kj / 1000.0 / tap_t,
        "scrap_mj": heat_content("Fe", T) / molar_mass("Fe"),
        "s_aim_pct": S_AIM_PCT,
        "mg_share_pct": plant_value("mg_efficiency_pct").start,
        "holes": _holes(works.oxygen.flow_nm3_min),
        "supply_bar": SUPPLY_BAR,
        "product": end_of_blow_parameters()["carbon_oxygen_product"].start,
        "al_aim_pct": AL_AIM_PCT,
        "al_recovery_pct": plant_value("recovery_al_pct").start,
    }
    return _rounded(figures) | given


def _iron_kg(heat):
    """(iron that slag and dust hold, kg; that part of it which is in the slag that the silicon of
    the metal makes, kg): the slag grows with its silica, and the dirt of scrap brings the rest.
    """
    out = iron_ledger(heat)[1]
    in_slag_kg, dust_kg = (
        kg_t * heat.steel.mass_kg / 1000.0
        for kg_t in (out["FeO in slag"] + out["Fe2O3 in slag"], out["dust"])
    )
    silica_kg = _charged("Si")(heat, None) / mass_fractions("SiO2")["Si"]
    dirt_kg = heat.scrap.mass_kg * heat.scrap.material.pct("SiO2") / 100.0
    return in_slag_kg + dust_kg, in_slag_kg * silica_kg / (silica_kg + dirt_kg)


def _holes(flow_nm3_min):
    """The fewest holes of usual width that pass the works' oxygen."""
    heads = design_head(flow_nm3_min, 100.0 * SUPPLY_BAR, np.arange(1, 8))
    return 1 + min(int(np.sum(heads.throat_mm > WIDE_MM)), 6)


def works_numbers(works):
    """The course's one heat: the works' own hot metal."""
    pct = works.hot_metal.analysis_pct
    return {
        "share_pct": float(works.hot_metal.share_pct),
        "c_pct": pct["C"],
        "si_pct": pct["Si"],
        "p_pct": pct["P"],
        "s_pct": pct.get("S", 0.0),
        "temp_c": float(works.hot_metal.temp_c),
    }


def full_balance(given, works, find="scrap", **changes):
    """The Charge that the sheet is compared with: its hot metal, all else as the works has it."""
    pct = {**works.hot_metal.analysis_pct, "C": given["c_pct"], "Si": given["si_pct"]}
    pct |= {"P": given["p_pct"], "S": given["s_pct"]}
    return solve(
        works, find=find, hot_metal_pct=pct, hot_metal_temp_c=given["temp_c"], **changes
    ).for_tap(works.vessel.tap_t)


def own_problem(works):
    """The draw of a plan of one's own: a hot metal about that of the works, refused where its heat
    does not work out.
    """
    own = "hot_metal.analysis_pct."
    about = "about the hot metal of the works, common practice"
    given = (
        Given("c_pct", "carbon", "%", 4.1, 4.5, 0.05, about, own + "C", most=4.6),
        Given("si_pct", "silicon", "%", 0.35, 0.75, 0.05, about, own + "Si"),
        Given("p_pct", "phosphorus", "%", 0.07, 0.11, 0.005, about, own + "P", most=0.3),
        Given("s_pct", "sulphur", "%", 0.02, 0.04, 0.002, "untreated hot metal, common practice"),
        Given("temp_c", "its temperature", "°C", 1335, 1375, 5, about, "hot_metal.temp_c"),
    )

    def scrap_pct(**given):
        return full_balance(given, works).scrap_share_pct

    return Problem(
        "heat_balance.own_plan", "A plan of your own", "", given, scrap_pct, ("none",), "",
        Answer("%", "only drawn", tolerance_pct=1.0), plausible=lambda answer, **_: answer > 5.0,
        vector=False,
    )  # fmt: skip


def _bath_partition(heat):
    """L_P by the equation of the sheet, for the slag of a heat at the top of its range."""
    p_kg = heat.slag.element_kg()["P"] + 0.01 * heat.steel.mass_kg * heat.steel.analysis_pct["P"]
    return equilibrium(Slag(heat.slag.oxides_kg, 1600.0), heat.steel.mass_kg, p_kg, "SI-c")


def _charged(element):
    return lambda heat, works: sum(
        x.mass_kg * x.material.pct(element) / 100.0
        if x is heat.scrap
        else x.element_kg().get(element, 0.0)
        for x in (heat.hot_metal, heat.scrap)
    )


BY_SUM = "by the sum of the line"  # with the masses of the full balance
# What the full balance says of a line, from its Charge and the works; None: it has no such line
FULL = {
    "charge_t": lambda heat, works: (heat.hot_metal.mass_kg + heat.scrap.mass_kg) / 1000.0,
    "hot_metal_t": lambda heat, works: heat.hot_metal.mass_kg / 1000.0,
    "scrap_t": lambda heat, works: heat.scrap.mass_kg / 1000.0,
    "carbon_kg": _charged("C"),
    "silicon_kg": _charged("Si"),
    "phosphorus_kg": _charged("P"),
    "burnt_c_kg": BY_SUM,
    "carbon_mj": BY_SUM,
    "iron_kg": lambda heat, works: _iron_kg(heat)[0],
    "other_mj": BY_SUM,
    "carbon_nm3": BY_SUM,
    "other_nm3": BY_SUM,
    "blown_nm3": lambda heat, works: heat.oxygen_nm3,
    "minutes": lambda heat, works: heat.blow_minutes(works.oxygen.flow_nm3_min),
    "silica_kg": lambda heat, works: heat.slag.oxides_kg["SiO2"],
    "slag_kg": lambda heat, works: heat.slag.mass_kg,
    "dolomite_kg": lambda heat, works: heat.dolomite.mass_kg,
    "lime_kg": lambda heat, works: heat.lime.mass_kg,
    "partition": lambda heat, works: _bath_partition(heat).partition.value,
    "end_p_pct": lambda heat, works: _bath_partition(heat).metal_pct,
    "needs_mj": BY_SUM,
    "melts_t": lambda heat, works: heat.scrap.mass_kg / 1000.0,
    "end_c": None,
    "magnesium_kg": None,
    "throat_mm": None,
    "oxygen_ppm": lambda heat, works: 1e4 * heat.steel.analysis_pct["O"],
    "aluminium_kg": None,
}
