"""How each printed value of published_checks.csv is computed by the kit: one small function
for each kind, named in the column `how`.

Each takes what stands in the column `args` and returns a number in the row's unit. Nothing here
corrects, fits or rounds.
"""

from functools import cache

import numpy as np

from .. import charge, streams, thermo
from ..base import data_path, fixed_point, kelvin, mass_fractions, molar_mass
from ..charge import co_hazards, ppm_to_mg_m3
from ..end_point import carbon_from_oxygen, oxygen_activity
from ..hot_metal import kg_per_kg_sulphur, magnesium_solubility_pct
from ..jet import design_head, expand, normal_shock
from ..ladle import specification
from ..slag import available_lime_pct as available_lime_pct_of_slag
from ..slag import fluxes_for, oxygen_under
from ..slag import lime_kg_t as lime_kg_t_of_slag
from ..slag import partition as partition_of_slag
from ..slag import phosphate_capacity as phosphate_capacity_of_slag
from ..streams import Gas, LiquidMetal, Material, calorific_value_mj_nm3, iron_as_feo
from ..thermo import (
    activities,
    enthalpy,
    gas_solubility_pct,
    interaction,
    liquidus_c,
    log_k,
    oxidation_heat,
    oxygen_with_carbon,
    reaction,
)
from ..works import parse_profile

_CAL, _ATM_PA = 4.184, 101325.0

# ---- substances and reactions --------------------------------------------------------------------


def formation_kj(of, phase=None, T=298.15):
    """Enthalpy of formation from the elements, kJ/mol."""
    return enthalpy(of, T, phase) / 1000.0


def entropy(of, phase=None, T=298.15):
    """Entropy, J/(mol K)."""
    return thermo.entropy(of, T, phase)


def content_kj(of, T, phase=None, hot=None):
    """Heat content above 298.15 K, kJ/mol; of a named phase: above the same phase; of a phase named
    hot: above the one stable in the cold.
    """
    return (enthalpy(of, T, hot or phase) - enthalpy(of, 298.15, phase)) / 1000.0


def from_reference_kj(of, T, phase, reference):
    """Enthalpy of a phase above a printed reference, kJ/mol."""
    return enthalpy(of, T, phase) / 1000.0 - reference


def iron_kj_kg(temp_c):
    """Iron from 25 degC to a temperature, melted, kJ/kg."""
    return LiquidMetal(1.0, {}, temp_c).enthalpy_kj()


def transition_kj(of, T, low, high):
    """Heat of the step from one phase to the other, kJ/mol."""
    return (enthalpy(of, T, high) - enthalpy(of, T, low)) / 1000.0


def heat_kj(equation, T=298.15):
    """Heat of a reaction as written, kJ."""
    return reaction(equation).heat(T) / 1000.0


def gibbs_kj(equation, T):
    """Gibbs energy of a reaction as written, kJ."""
    return reaction(equation).gibbs(T) / 1000.0


def gibbs_kcal(equation, temp_c):
    """Gibbs energy of a reaction as written, kcal."""
    return reaction(equation).gibbs(kelvin(temp_c)) / 1000.0 / _CAL


def gibbs_zero_c(equation, low, high):
    """Temperature at which the Gibbs energy of a reaction vanishes, degC."""
    T = np.linspace(low, high, 2001)
    g = reaction(equation).gibbs(T)
    return np.interp(0.0, -g if g[0] > g[-1] else g, T) - 273.15


def reaction_log_k(equation, T):
    """log10 of the equilibrium constant of a reaction."""
    return reaction(equation).log_k(T)


def burning_mj_kg(key, T, convention):
    """Heat of oxidation, MJ per kg of the element."""
    return oxidation_heat(key, T, convention) / 1e6


# ---- liquid iron ---------------------------------------------------------------------------------


def gamma0(element, T, coefficients):
    """Activity coefficient at infinite dilution."""
    return thermo.gamma0(element, T, coefficients)


def activity(element, melt, T, coefficients):
    """Henrian activity of an element of a melt, mass % scale."""
    return activities(melt, T, coefficients, quiet=True).h[element]


def coefficient(i, j, T, coefficients):
    """Interaction coefficient."""
    return interaction(i, j, T, coefficients)


def equilibrium_log_k(key, T, coefficients="msts", line=None):
    """log10 of an equilibrium constant of equilibria.csv."""
    return log_k(key, T, coefficients, line=line)


def equilibrium_k(key, T, coefficients="msts", line=None):
    """An equilibrium constant of equilibria.csv."""
    return 10.0 ** log_k(key, T, coefficients, line=line)


def carbon_oxygen_product(T, coefficients="msts", line=None):
    """[%C][%O] at 1 atm."""
    return thermo.carbon_oxygen_product(T, coefficients=coefficients, line=line)


def carbon_oxygen_quotient(carbon, T, coefficients="msts"):
    """pCO/([%C][%O]) beside much carbon."""
    if carbon == 0.0:
        return 1.0 / thermo.carbon_oxygen_product(T, coefficients=coefficients)
    return 1.0 / (
        carbon * oxygen_with_carbon(carbon, T, coefficients=coefficients, high_carbon=True)
    )


def carbon_from_oxygen_pct(ppm, temp_c, product=None, coefficients="msts"):
    """Carbon, %, that goes with a reading of oxygen."""
    return carbon_from_oxygen(ppm / 1e4, temp_c, product=product, coefficients=coefficients).value


def oxygen_saturation_pct(temp_c, coefficients="msts"):
    """Oxygen of iron under its oxide, %."""
    return thermo.oxygen_saturation_pct(kelvin(temp_c), 1.0, coefficients)


def gas_ppm(element, temp_c, coefficients="msts", line=None):
    """Nitrogen or hydrogen at 1 atm, ppm."""
    return 1e4 * gas_solubility_pct(
        element, 1.0, kelvin(temp_c), coefficients=coefficients, line=line
    )


def pressure_for_gas_pa(element, ppm, temp_c, coefficients="msts", line=None):
    """Pressure of the gas over so much of it dissolved, Pa."""
    return _ATM_PA * (ppm / gas_ppm(element, temp_c, coefficients, line)) ** 2


def oxygen_with_titanium_ppm(titanium, T):
    """Oxygen beside titanium by the constants and coefficients of Cha and others, ppm."""

    def step(o):
        melt = activities({"Ti": titanium, "O": o}, T, "cha08", quiet=True)
        keys = ("Ti2O3-O", "Ti3O5-O")
        return (
            min(thermo.oxygen_activity(k, T, melt.h["Ti"], coefficients="cha08") for k in keys)
            / melt.f["O"]
        )

    return 1e4 * fixed_point(step, 0.003, "oxygen beside titanium: none was found.")


def eutectic_carbon_pct(element=None):
    """Carbon of the eutectic with graphite, %; with an element: how far 1 % of it moves it."""
    c = np.linspace(3.5, 5.0, 3001)

    def at(more):
        return c[np.argmin(liquidus_c({"C": c, **more}))]

    return at({}) - at({element: 1.0}) if element else at({})


def probe_slope_k():
    """4F/(R ln 10): slope of the logarithm of silicon against the voltage of an oxygen probe,
    K/V.
    """
    a = [oxygen_activity(e, 1873.15, electrolyte="ideal") for e in (0.0, 100.0)]
    return 2.0 * np.log10(a[1] / a[0]) * 1873.15 / 0.1


# ---- slag ----------------------------------------------------------------------------------------


def basicity(slag_pct, definition="CaO/SiO2"):
    """A basicity of an analysis."""
    return streams.basicity(slag_pct, definition)


def feo_from_fe2o3():
    """Fe2O3 over 2 FeO by mass with the same iron."""
    return 1.0 / iron_as_feo({"Fe2O3": 1.0})


def part_kg(slag_kg, pct):
    """kg of a part of a slag."""
    return slag_kg * pct / 100.0


def available_lime_pct(silica, ratio):
    """Available lime of a lime with 80 % CaO, %."""
    return available_lime_pct_of_slag({"CaO": 80.0, "SiO2": silica}, ratio)


def lime_ratio(ratio):
    """Lime with 7 % silica needed over lime with 3 %."""
    return available_lime_pct(3.0, ratio) / available_lime_pct(7.0, ratio)


def lime_kg_t(silicon, ratio, lime_pct):
    """Lime for the silicon of a hot metal, kg/t."""
    return lime_kg_t_of_slag(silicon, ratio, lime_pct)


def lime_for_silica_kg(silica_kg, ratio, cao_pct):
    """Lime for a mass of silica, kg."""
    return fluxes_for(silica_kg, {"CaO": cao_pct}, {}, ratio, None)[0]


def oxygen_under_slag_pct(key, temp_c):
    """Oxygen of iron under a slag of iron oxide, %."""
    return oxygen_under(key, kelvin(temp_c))


def phosphate_capacity(partition, oxygen_pct, temp_c, coefficients="msts"):
    """Phosphate capacity that goes with a partition."""
    return phosphate_capacity_of_slag(partition, oxygen_pct, kelvin(temp_c), coefficients)


def partition(key, slag_pct, temp_c):
    """Partition of phosphorus by an equation."""
    return partition_of_slag(slag_pct, kelvin(temp_c), key).value


# ---- gas, nozzle, stoichiometry ------------------------------------------------------------------


def calorific_mj(of, nm3=1.0):
    """Calorific value of a volume of a gas, MJ. of: species and volume %."""
    return nm3 * calorific_value_mj_nm3(Gas(of, 0.0))


def gas_mj_t(of):
    """Calorific value of a gas, MJ per kg (GJ per t)."""
    one = Gas(of, 0.0)
    return calorific_value_mj_nm3(one) * one.total_nm3 / one.mass_kg


def mg_m3(ppm):
    """Carbon monoxide at 25 degC, mg/m3."""
    return ppm_to_mg_m3(ppm)


def isentropic(column, mach):
    """A column of a gas table at gamma 1.4."""
    return getattr(expand(298.15, mach=mach, gamma=1.4), column)


def shock(column, mach):
    """A normal shock at gamma 1.4."""
    return getattr(normal_shock(mach), column)


def nozzle_mm(part, bar, nm3_min):
    """Radius of the throat or exit of one nozzle, absolute pressure, oxygen of 20 degC, mm."""
    return getattr(design_head(nm3_min, 100.0 * bar, holes=1, temp_c=20.0), f"{part}_mm") / 2.0


def sulphur_per_kg(substance):
    """Sulphur bound by a kg of a substance, kg."""
    return 1.0 / kg_per_kg_sulphur(substance)


def acetylene_l_kg(pct, temp_c):
    """Gas from carbide of a purity, l/kg, at a temperature."""
    return pct / 100.0 / molar_mass("CaC2") * 22.414e3 * kelvin(temp_c) / 273.15


def magnesium_over_vapour(temp_c):
    """Magnesium in iron under its vapour at 1 atm, %."""
    return magnesium_solubility_pct(temp_c)


@cache
def _case_1():
    """The mass balance of NPTEL, lecture 11, p. 5, with lime given so that the slag is the printed
    one (its analysis is lost).
    """
    works = parse_profile(data_path("heron.toml").read_text(encoding="utf-8"))
    others = (
        8.0 / mass_fractions("SiO2")["Si"]
        + 2.0 / mass_fractions("P2O5")["P"]
        + 2.5 / mass_fractions("MnO")["Mn"]
        + 0.18 * 126.7
    )
    return charge.solve(
        works,
        find="temperature",
        hot_metal_pct={"C": 4.0, "Si": 0.8, "P": 0.2, "Mn": 0.25},
        hot_metal_temp_c=1300.0,
        scrap=Material.of("scrap", {"C": 0.1}, rest="Fe"),
        scrap_kg=150.0,
        lime=Material("pure lime", {"CaO": 100.0}, kind="lime"),
        lime_kg=126.7 - others,
        dolomite_kg=0.0,
        feo_pct=18.0,
        fe2o3_pct=0.0,
        end_pct={"C": 0.1, "Mn": 0.0, "P": 0.0},
        dust_fe_kg_t=0.0,
        ejected_kg_t=0.0,
        beads_pct=0.0,
        skull_kg_t=0.0,
        unused_o2_pct=0.0,
        lining_mgo_kg_t=0.0,
        sulphur_to_slag_pct=0.0,
        heat_mj_t=200.0,
        oxygen_pct={"O2": 100.0},
    )


def case_1(quantity):
    """A figure of that mass balance: kg, or t for 100 t of steel."""
    heat = _case_1()
    of_100 = heat.for_tap(100.0)
    return {
        "steel": heat.steel.mass_kg,
        "carbon to gas": heat.gas.element_kg()["C"],
        "scrap for 100 t": of_100.scrap.mass_kg / 1000.0,
        "hot metal for 100 t": of_100.hot_metal.mass_kg / 1000.0,
        "slag for 100 t": of_100.slag.mass_kg / 1000.0,
    }[quantity]


# ---- rules and figures copied --------------------------------------------------------------------


def limit(standard, grade, element, thickness=20.0, product=None):
    """Upper limit of an element in a specification, %."""
    return specification(standard, grade, product, thickness).limits[element].high_pct


def manganese_allowed(standard, grade, carbon, thickness=20.0, product=None):
    """Manganese that a lower carbon allows, %."""
    return specification(standard, grade, product, thickness).high("Mn", {"C": carbon})


def hazard(key):
    """A figure on carbon monoxide as the kit shows it."""
    return next(h for h in co_hazards() if h.key == key).value
