"""How printed values of slag, gas, nozzle, charge and specifications are computed by the kit: see
published_evaluators.py.
"""

from functools import cache

from .. import charge, streams
from ..base import data_path, kelvin, mass_fractions, molar_mass
from ..charge import co_hazards, ppm_to_mg_m3
from ..hot_metal import kg_per_kg_sulphur, magnesium_solubility_pct
from ..jet import design_head, expand, normal_shock
from ..ladle import specification
from ..slag import available_lime_pct as available_lime_pct_of_slag
from ..slag import lime_kg_t as lime_kg_t_of_slag
from ..slag import oxygen_under
from ..slag import partition as partition_of_slag
from ..slag import phosphate_capacity as phosphate_capacity_of_slag
from ..streams import Gas, Material, calorific_value_mj_nm3, fluxes_for, iron_as_feo
from ..works import parse_profile
from .evaluators import evaluator

# ---- slag ----------------------------------------------------------------------------------------


@evaluator
def basicity(slag_pct, definition="CaO/SiO2"):
    """A basicity of an analysis."""
    return streams.basicity(slag_pct, definition)


@evaluator
def feo_from_fe2o3():
    """Fe2O3 over 2 FeO by mass with the same iron."""
    return 1.0 / iron_as_feo({"Fe2O3": 1.0})


@evaluator
def part_kg(slag_kg, pct):
    """kg of a part of a slag."""
    return slag_kg * pct / 100.0


@evaluator
def available_lime_pct(silica, ratio):
    """Available lime of a lime with 80 % CaO, %."""
    return available_lime_pct_of_slag({"CaO": 80.0, "SiO2": silica}, ratio)


@evaluator
def lime_ratio(ratio):
    """Lime with 7 % silica needed over lime with 3 %."""
    return available_lime_pct(3.0, ratio) / available_lime_pct(7.0, ratio)


@evaluator
def lime_kg_t(silicon, ratio, lime_pct):
    """Lime for the silicon of a hot metal, kg/t."""
    return lime_kg_t_of_slag(silicon, ratio, lime_pct)


@evaluator
def lime_for_silica_kg(silica_kg, ratio, cao_pct):
    """Lime for a mass of silica, kg."""
    return fluxes_for(silica_kg, {"CaO": cao_pct}, {}, ratio, None)[0]


@evaluator
def oxygen_under_slag_pct(key, temp_c):
    """Oxygen of iron under a slag of iron oxide, %."""
    return oxygen_under(key, kelvin(temp_c))


@evaluator
def phosphate_capacity(partition, oxygen_pct, temp_c, coefficients="msts"):
    """Phosphate capacity that goes with a partition."""
    return phosphate_capacity_of_slag(partition, oxygen_pct, kelvin(temp_c), coefficients)


@evaluator
def partition(key, slag_pct, temp_c):
    """Partition of phosphorus by an equation."""
    return partition_of_slag(slag_pct, kelvin(temp_c), key).value


# ---- gas, nozzle, stoichiometry ------------------------------------------------------------------


@evaluator
def calorific_mj(of, nm3=1.0):
    """Calorific value of a volume of a gas, MJ. of: species and volume %."""
    return nm3 * calorific_value_mj_nm3(Gas(of, 0.0))


@evaluator
def gas_mj_t(of):
    """Calorific value of a gas, MJ per kg (GJ per t)."""
    one = Gas(of, 0.0)
    return calorific_value_mj_nm3(one) * one.total_nm3 / one.mass_kg


@evaluator
def mg_m3(ppm):
    """Carbon monoxide at 25 degC, mg/m3."""
    return ppm_to_mg_m3(ppm)


@evaluator
def isentropic(column, mach):
    """A column of a gas table at gamma 1.4."""
    return getattr(expand(298.15, mach=mach, gamma=1.4), column)


@evaluator
def shock(column, mach):
    """A normal shock at gamma 1.4."""
    return getattr(normal_shock(mach), column)


@evaluator
def nozzle_mm(part, bar, nm3_min):
    """Radius of the throat or exit of one nozzle, absolute pressure, oxygen of 20 degC, mm."""
    return (
        getattr(
            design_head(nm3_min, 100.0 * bar, holes=1, angle_deg=0.0, temp_c=20.0), f"{part}_mm"
        )
        / 2.0
    )


@evaluator
def sulphur_per_kg(substance):
    """Sulphur bound by a kg of a substance, kg."""
    return 1.0 / kg_per_kg_sulphur(substance)


@evaluator
def acetylene_l_kg(pct, temp_c):
    """Gas from carbide of a purity, l/kg, at a temperature."""
    return pct / 100.0 / molar_mass("CaC2") * 22.414e3 * kelvin(temp_c) / 273.15


@evaluator
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
        lining_mgo_kg_t=0.0,
        sulphur_to_slag_pct=0.0,
        heat_mj_t=200.0,
        oxygen_pct={"O2": 100.0},
    )


@evaluator
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


@evaluator
def limit(standard, grade, element, thickness=20.0, product=None):
    """Upper limit of an element in a specification, %."""
    return specification(standard, grade, product, thickness).limits[element].high_pct


@evaluator
def manganese_allowed(standard, grade, carbon, thickness=20.0, product=None):
    """Manganese that a lower carbon allows, %."""
    return specification(standard, grade, product, thickness).high("Mn", {"C": carbon})


@evaluator
def hazard(key):
    """A figure on carbon monoxide as the kit shows it."""
    return next(h for h in co_hazards() if h.key == key).value
