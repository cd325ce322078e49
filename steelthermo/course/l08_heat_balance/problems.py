"""Problems of lesson 08: how much scrap can this hot metal melt?"""

from ... import charge
from ...base import kelvin, molar_mass
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip
from ...streams import Material
from ...thermo import formation_enthalpy_298, heat_content, oxidation_heat
from ...works import WORKS, load_profile

_HAND = "one per cent covers rounding the heat contents to four figures"


def _iron_mj_t(temp_c):
    """Heat content of iron above 25 degC, MJ/t."""
    return heat_content("Fe", kelvin(temp_c)) / molar_mass("Fe")


def _metal_mj_t(temp_c):
    """The same for iron taken as liquid, also below its melting point, as in hot metal."""
    return heat_content("Fe", kelvin(temp_c), "liquid", supercooled=True) / molar_mass("Fe")


def _steel_heat(steel_t, temp_c):
    return steel_t * _iron_mj_t(temp_c)


_STEEL = Problem(
    key="heat_balance.steel_heat",
    title="Heat that leaves with the steel",
    text="""{steel_t} of steel is tapped at {temp_c}. How much heat does it carry above 25 °C? Count it as pure iron: at 1600 °C liquid iron carries
1354 MJ/t above 25 °C, and each further degree takes 0.824 MJ/t.""",
    given=(
        Given(
            "steel_t",
            "steel",
            "t",
            60,
            350,
            10,
            "common sizes of a converter",
            follows="vessel.tap_t",
        ),
        Given(
            "temp_c",
            "temperature",
            "°C",
            1640,
            1710,
            5,
            "steel at the end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Answer(
        "GJ",
        "one per cent covers the straight line through the heat content of liquid iron",
        tolerance_pct=1.0,
    ),
    solve=lambda steel_t, temp_c: _steel_heat(steel_t, temp_c) / 1000.0,
    slips=(
        slip.kelvin_for_celsius("temp_c"),
        Slip(
            "only_superheat",
            "You counted only the heat above 1600 °C. The steel was scrap and hot metal made of "
            "elements at 25 °C once: count from 25 °C.",
            solve=lambda steel_t, temp_c: (
                steel_t * (_iron_mj_t(temp_c) - _iron_mj_t(1600.0)) / 1000.0
            ),
        ),
        Slip(
            "no_fusion",
            "You left out the heat of fusion of iron, 247 MJ/t: melting takes as much heat as 300 "
            "degrees of heating.",
            solve=lambda steel_t, temp_c: (
                steel_t * (_iron_mj_t(temp_c) - 13807.0 / molar_mass("Fe")) / 1000.0
            ),
        ),
        slip.times(
            "one_tonne",
            "This is the heat of one tonne; {steel_t} is tapped.",
            lambda given: 1.0 / given["steel_t"],
        ),
    ),
    hints=(
        "First find the heat of one tonne at {temp_c}.",
        "Go from 1600 °C to {temp_c}: how many degrees, and 0.824 MJ/t for each?",
        "Heat of one tonne = 1354 + 0.824 × ({temp_c:n} − 1600) MJ; then times {steel_t}.",
    ),
    worked="""Heat of one tonne at {temp_c}: 1354 + 0.824 × ({temp_c:n} − 1600) MJ. For {steel_t}: that times {steel_t:n}, which is **{answer}**.
Most of the heat of the whole process ends here: about four fifths.""",
)


def _burn(hot_metal_t, c_pct, co2_pct):
    co, co2 = (oxidation_heat(key) / 1e6 for key in ("C to CO", "C to CO2"))  # MJ/kg
    return hot_metal_t * 10.0 * (c_pct - 0.04) * (co * (100.0 - co2_pct) + co2 * co2_pct) / 100.0


_CARBON = Problem(
    key="heat_balance.carbon_heat",
    title="Heat from the carbon",
    text="""{hot_metal_t} of hot metal with {c_pct} carbon is blown down to 0.04 % C. Of the carbon burnt, {co2_pct} goes to CO2, the rest to CO.
What heat do these reactions give at 25 °C? C to CO gives 9.20 MJ and C to CO2 32.76 MJ per kg of carbon. Take the metal's mass as unchanged.""",
    given=(
        Given(
            "hot_metal_t",
            "hot metal",
            "t",
            60,
            280,
            5,
            "hot metal of one heat",
            follows="vessel.tap_t",
        ),
        Given(
            "c_pct",
            "carbon in hot metal",
            "%",
            4.0,
            4.8,
            0.1,
            "hot metal near carbon saturation, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "co2_pct",
            "carbon burnt to CO2",
            "%",
            8,
            18,
            1,
            "10 to 15 % at the mouth, common practice",
            follows="gas.co2_pct",
            least=4,
            most=30,
        ),
    ),
    answer=Answer("GJ", _HAND, tolerance_pct=1.0),
    solve=lambda hot_metal_t, c_pct, co2_pct: _burn(hot_metal_t, c_pct, co2_pct) / 1000.0,
    slips=(
        slip.forgot("co2_pct", 0.0, "the share that burns to CO2"),
        Slip(
            "all_co2",
            "You burnt all the carbon to CO2; only {co2_pct} goes so far.",
            change=lambda given: given | {"co2_pct": 100.0 + 0.0 * given["co2_pct"]},
        ),
        Slip(
            "shares_exchanged",
            "You exchanged the two shares: {co2_pct} is the part that burns to CO2.",
            change=lambda given: given | {"co2_pct": 100.0 - given["co2_pct"]},
        ),
        slip.times("percent_as_fraction", "You took 1 % as 1 kg per t; it is 10 kg per t.", 0.1),
    ),
    hints=(
        "How many kg of carbon burn? 1 % of a tonne is 10 kg.",
        "Split these kg into the part to CO2 and the part to CO.",
        "Heat = kg C × (share to CO × 9.20 + share to CO2 × 32.76) MJ.",
    ),
    worked="""Carbon burnt: {hot_metal_t:n} × 10 × ({c_pct:n} − 0.04) kg. Heat per kg: (100 − {co2_pct:n})/100 × 9.20 + {co2_pct:n}/100 × 32.76 MJ.
Together **{answer}**. Notice how much the small share that burns to CO2 gives.""",
    cautions=(
        "The CO that leaves is poisonous and burns or explodes with air: hoods, gas monitors and "
        "the works' rules are there for this.",
    ),
)


def _melts(surplus_mj_t, temp_c):
    return surplus_mj_t / _iron_mj_t(temp_c) * 1000.0


_SURPLUS = Problem(
    key="heat_balance.surplus_scrap",
    title="Scrap for the heat to spare",
    text="""Counted on the hot metal, a heat without scrap would have {surplus_mj_t} to spare at {temp_c}. How much cold scrap does that melt and
bring to
{temp_c}, in kg per tonne of hot metal? Count scrap as pure iron: 1354 MJ/t at 1600 °C above 25 °C and 0.824 MJ/t for each further degree.""",
    given=(
        Given(
            "surplus_mj_t", "heat to spare", "MJ/t", 250, 480, 5, "what 20 to 30 % scrap takes up"
        ),
        Given(
            "temp_c",
            "end temperature",
            "°C",
            1640,
            1700,
            5,
            "steel at the end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Answer("kg/t", _HAND, tolerance_pct=1.0),
    solve=_melts,
    slips=(
        Slip(
            "no_fusion",
            "You left out the heat of fusion, 247 MJ/t: scrap takes more heat than warming alone.",
            solve=lambda surplus_mj_t, temp_c: (
                surplus_mj_t / (_iron_mj_t(temp_c) - 13807.0 / molar_mass("Fe")) * 1000.0
            ),
        ),
        Slip(
            "per_t_steel",
            "You gave kg per tonne of hot metal and scrap together; the question asks per tonne of "
            "hot metal.",
            solve=lambda surplus_mj_t, temp_c: (
                1000.0 / (1.0 + 1000.0 / _melts(surplus_mj_t, temp_c))
            ),
        ),
        slip.upside_down(
            "You divided the heat of a tonne of scrap by the heat to spare; it is the other way "
            "round."
        ),
        slip.times(
            "tonnes",
            "This is in tonnes per tonne; kg per tonne is a thousand times as much.",
            0.001,
        ),
    ),
    hints=(
        "How much heat does one tonne of scrap take from 25 °C to {temp_c}?",
        "One tonne takes 1354 + 0.824 × ({temp_c:n} − 1600) MJ, melting included.",
        "Divide {surplus_mj_t} by the MJ that one kg takes.",
    ),
    worked="""One tonne of scrap takes 1354 + 0.824 × ({temp_c:n} − 1600) MJ. {surplus_mj_t:n} MJ divided by that, times 1000 kg: **{answer}** of hot
metal.""",
    cautions=(
        "Scrap must be dry and open: water or ice shut in scrap flashes to steam under liquid "
        "metal and throws it out.",
    ),
)


def _mixed(hot_metal_t, hot_c, aim_c):
    """Scrap, t, that cools metal which the blow would take to hot_c down to aim_c."""
    return hot_metal_t * (_metal_mj_t(hot_c) - _metal_mj_t(aim_c)) / _iron_mj_t(aim_c)


_COOL = Problem(
    key="heat_balance.too_hot",
    title="A heat that is too hot",
    text="""At the end of the blow {steel_t} of steel stands at {hot_c}; the aim is {aim_c}. How much cold scrap brings it down? Liquid steel gives off
0.824 MJ
per t and degree; scrap takes up 1354 MJ/t to 1600 °C and 0.824 MJ/t for each further degree. Leave out slag, lining and losses.""",
    given=(
        Given(
            "steel_t",
            "steel",
            "t",
            60,
            300,
            10,
            "common sizes of a converter",
            follows="vessel.tap_t",
        ),
        Given(
            "hot_c",
            "temperature found",
            "°C",
            1690,
            1720,
            5,
            "a heat that came out hot",
            follows="end_point.temp_c",
            least=1540,
        ),
        Given(
            "aim_c",
            "aim",
            "°C",
            1640,
            1670,
            5,
            "common aims",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Answer(
        "t", "two per cent covers the straight line through the heat content", tolerance_pct=2.0
    ),
    solve=lambda steel_t, hot_c, aim_c: _mixed(steel_t, hot_c, aim_c),
    slips=(
        Slip(
            "scrap_from_melting_point",
            "You let the scrap take up only the heat of fusion; it must be warmed from 25 °C as "
            "well.",
            solve=lambda steel_t, hot_c, aim_c: (
                steel_t * (_metal_mj_t(hot_c) - _metal_mj_t(aim_c)) / (13807.0 / molar_mass("Fe"))
            ),
        ),
        Slip(
            "no_fusion",
            "You left out the heat of fusion of the scrap, 247 MJ/t.",
            solve=lambda steel_t, hot_c, aim_c: (
                steel_t
                * (_metal_mj_t(hot_c) - _metal_mj_t(aim_c))
                / (_iron_mj_t(aim_c) - 13807.0 / molar_mass("Fe"))
            ),
        ),
        slip.times(
            "per_t",
            "This is the scrap for one tonne of steel; there are {steel_t}.",
            lambda given: 1.0 / given["steel_t"],
        ),
        slip.wrong_sign("The size is right; scrap added is counted positive."),
    ),
    hints=(
        "What heat must the steel give off to fall from {hot_c} to {aim_c}?",
        "Steel gives off {steel_t:n} × 0.824 × ({hot_c:n} − {aim_c:n}) MJ.",
        "Divide that by what one tonne of scrap takes up to {aim_c}: 1354 + 0.824 × ({aim_c:n} − "
        "1600) MJ.",
    ),
    worked="""The steel gives off {steel_t:n} × 0.824 × ({hot_c:n} − {aim_c:n}) MJ. A tonne of scrap takes up 1354 + 0.824 × ({aim_c:n} − 1600) MJ.
The quotient is **{answer}**. In the vessel slag and lining cool with the steel and have to be cooled too, so a little more is needed.""",
    cautions=(
        "Additions to liquid steel must be dry; the works' rules say who may add what, and where "
        "people stand.",
    ),
)


def _ore(fe2o3_pct, temp_c):
    """Heat one kg of ore takes up when its Fe2O3 is broken up to liquid iron, counting the oxygen
    as leaving cold, over what a kg of scrap takes.
    """
    breaking = -formation_enthalpy_298("Fe2O3") / molar_mass("Fe2O3")  # MJ/t
    iron = 2.0 * molar_mass("Fe") / molar_mass("Fe2O3") * _iron_mj_t(temp_c)
    return fe2o3_pct / 100.0 * (breaking + iron) / _iron_mj_t(temp_c)


_ORE = Problem(
    key="heat_balance.ore_for_scrap",
    title="Ore as a coolant",
    text="""Ore with {fe2o3_pct} Fe2O3 cools by two things. Its oxide is broken up, which takes 5.17 MJ per kg of Fe2O3 at 25 °C. The iron set free,
0.699 kg per kg of Fe2O3, is heated to {temp_c}, for which iron takes 1354 MJ/t at 1600 °C and 0.824 MJ/t for each further degree. The oxygen set free
replaces cold oxygen from the lance. How many kg of scrap does one kg of this ore replace as a coolant? Leave the gangue (what is no iron oxide in it) out.""",
    given=(
        Given("fe2o3_pct", "Fe2O3 in ore", "%", 86, 97, 0.5, "lump ore, common practice"),
        Given(
            "temp_c",
            "end temperature",
            "°C",
            1640,
            1700,
            5,
            "steel at the end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Answer("kg/kg", "two per cent covers rounding of the four heats", tolerance_pct=2.0),
    solve=_ore,
    slips=(
        Slip(
            "no_breaking",
            "You only heated the iron of the ore. Breaking up the oxide takes nearly four times as "
            "much.",
            solve=lambda fe2o3_pct, temp_c: (
                fe2o3_pct / 100.0 * 2.0 * molar_mass("Fe") / molar_mass("Fe2O3") + 0.0 * temp_c
            ),
        ),
        Slip(
            "no_heating",
            "You only broke up the oxide; its iron has to be heated and melted too.",
            solve=lambda fe2o3_pct, temp_c: (
                fe2o3_pct
                / 100.0
                * -formation_enthalpy_298("Fe2O3")
                / molar_mass("Fe2O3")
                / _iron_mj_t(temp_c)
            ),
        ),
        slip.forgot("fe2o3_pct", 100.0, "the share of Fe2O3 in the ore"),
        Slip(
            "iron_is_all",
            "You heated a whole kg of iron per kg of Fe2O3; it holds 0.699 kg.",
            solve=lambda fe2o3_pct, temp_c: (
                fe2o3_pct
                / 100.0
                * (1.0 - formation_enthalpy_298("Fe2O3") / molar_mass("Fe2O3") / _iron_mj_t(temp_c))
            ),
        ),
    ),
    hints=(
        "Find the heat that one kg of ore takes up, then divide by what one kg of scrap takes up.",
        "Scrap takes up (1354 + 0.824 × ({temp_c:n} − 1600))/1000 MJ per kg.",
        "Ore takes up {fe2o3_pct:n}/100 × (5.17 + 0.699 × heat of one kg of iron) MJ per kg.",
    ),
    worked="""Scrap takes up q = (1354 + 0.824 × ({temp_c:n} − 1600))/1000 MJ/kg. Ore takes up {fe2o3_pct:n}/100 × (5.17 + 0.699 q) MJ/kg.
The quotient is **{answer}**. Ore cools about four times as strongly as scrap, and gives its oxygen back to the blow.""",
    cautions=(
        "Ore and scale must be dry. A lot of ore at once makes the slag foam and slop over.",
    ),
)


def _silicon(si_from_pct, si_to_pct, scrap_kg):
    """Rise of the end temperature at constant scrap, degC: the full balance of the works Heron
    Works's kind of heat.
    """
    heat = {
        "find": "temperature",
        "scrap": Material.of("scrap", {"C": 0.1, "Mn": 0.3}, "Fe"),
        "scrap_kg": scrap_kg,
        "hot_metal_temp_c": 1350.0,
        "end_pct": {"C": 0.04, "Mn": 0.1, "P": 0.012},
        "basicity": 3.5,
    }
    base = {"C": 4.5, "Mn": 0.4, "P": 0.1}
    works = load_profile(
        WORKS[0]
    )  # the shortcut of the text stands on this works' lime, slag and losses, whatever profile is in use
    low, high = (
        charge.solve(works, **heat, hot_metal_pct={**base, "Si": si}).temp_c
        for si in (si_from_pct, si_to_pct)
    )
    return high - low


_SILICON = Problem(
    key="heat_balance.more_silicon",
    title="More silicon than usual",
    text="""The usual hot metal has {si_from_pct} silicon; today it has {si_to_pct}. Scrap ({scrap_kg} per t of hot metal), hot metal temperature and
basicity stay, lime follows. By how many
degrees does the end temperature rise? Each kg of silicon gives 26.8 MJ in the bath (cold oxygen), and binding its silica with lime 4.5 MJ. The lime and
dolomite it calls for take 12.5 MJ, and the iron that burns into the larger slag gives 7.9 MJ. One tonne of hot metal with its scrap, slag and gas takes
1.12 MJ per degree.""",
    given=(
        Given(
            "si_from_pct",
            "usual silicon",
            "%",
            0.3,
            0.5,
            0.05,
            "hot metal of modern blast furnaces, common practice",
            follows="hot_metal.analysis_pct.Si",
            least=0.12,
            most=0.6,
        ),
        Given(
            "si_to_pct",
            "silicon today",
            "%",
            0.6,
            0.8,
            0.05,
            "an off-grade tap, common practice",
            follows="hot_metal.analysis_pct.Si",
            least=0.3,
            most=0.9,
        ),
        Given(
            "scrap_kg",
            "scrap per t of hot metal",
            "kg",
            330,
            370,
            5,
            "about a quarter of the charge, common practice",
        ),
    ),
    answer=Answer(
        "°C",
        "twelve per cent: the rule is a shortcut for the full balance, which decides",
        tolerance_pct=12.0,
        difference=True,
    ),
    solve=_silicon,
    slips=(
        Slip(
            "no_lime",
            "You left out the lime and dolomite that the silicon calls for: they take a third of "
            "the heat away.",
            after=lambda answer, given: answer * (26.8 + 4.5 + 7.9) / (26.8 + 4.5 + 7.9 - 12.5),
        ),
        Slip(
            "silicon_and_lime_only",
            "You left out the iron that burns into the larger slag: it brings 7.9 MJ for each kg "
            "of silicon.",
            after=lambda answer, given: answer * (26.8 + 4.5 - 12.5) / (26.8 + 4.5 + 7.9 - 12.5),
        ),
        slip.times("tenfold", "You took 1 % as 1 kg per t; it is 10 kg per t.", 0.1),
        slip.wrong_sign("More silicon brings more heat: the temperature rises."),
    ),
    hints=(
        "How many kg more silicon per tonne of hot metal? 0.1 % is 1 kg.",
        "Each kg leaves 26.8 + 4.5 − 12.5 + 7.9 MJ in the heat.",
        "Divide the heat by 1.12 MJ per degree.",
    ),
    worked="""Silicon: ({si_to_pct:n} − {si_from_pct:n}) × 10 kg per t. Each kg leaves 26.8 + 4.5 − 12.5 + 7.9 = 26.7 MJ. Divided by 1.12 MJ per degree
the shortcut comes near what the full balance gives: **{answer}**. That is near 24 °C for each 0.1 % Si; the melter charges more scrap instead.""",
)


_SCHOOL = Problem(
    key="heat_balance.school_sum",
    title="What is wrong in this published sum?",
    text="""A published school exercise (univerkov.com) finds the heat to melt one kg of steel scrap: 500 × (1400 − 25) + 84 000 J = 771.5 kJ.
A converter has to bring scrap to {temp_c} as liquid. Which line says best why this sum can't be used there?""",
    given=(
        Given(
            "temp_c",
            "end temperature",
            "°C",
            1640,
            1700,
            10,
            "steel at the end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Choice(
        options=(
            "The multiplication is wrong: 500 × 1375 + 84 000 is not 771.5 kJ.",
            "It stops at 1400 °C, and its heat capacity and heat of fusion are far too small for "
            "iron: the true figure is near 1.4 MJ/kg.",
            "It should count from 0 K and not from 25 °C.",
            "Scrap holds no carbon, so it needs no heat of fusion.",
        ),
        sentences=(
            "The arithmetic is right; check it again, then look at the data.",
            "Yes. Iron takes 0.7 to 0.8 kJ/(kg K) on the way up, 247 kJ/kg for melting, and goes "
            "on to the tap temperature.",
            "Heat balances may start at any temperature that both sides share; 25 °C is the usual "
            "one.",
            "All steel takes heat to melt, with carbon or without.",
        ),
    ),
    solve=lambda temp_c: 2,
    hints=(
        "Compare with the heat content of iron in the lesson.",
        "What is the heat of fusion of iron? 13.8 kJ/mol is 247 kJ/kg.",
    ),
    worked="""Line {line}. Pure iron at {temp_c} carries about 1.4 MJ/kg above 25 °C, 1.8 times the published figure: the heat capacity of hot iron is
well above 500 J/(kg K), its heat of fusion 247 kJ/kg and not 84, and the steel must be superheated.""",
    vector=False,
)


def _missing(total_mj_t, steel_mj_t, gas_mj_t, slag_mj_t):
    return total_mj_t - steel_mj_t - gas_mj_t - slag_mj_t


_CLOSE = Problem(
    key="heat_balance.closing",
    title="Close the account",
    text="""In a heat account, counted on the steel, {total_mj_t} comes in. Steel takes {steel_mj_t}, the gas {gas_mj_t}, the slag {slag_mj_t};
the rest is lost through lining and mouth. What share of the heat that came in is lost, in %?""",
    given=(
        Given("total_mj_t", "heat in", "MJ/t", 1740, 1800, 5, "a heat with about 24 % scrap"),
        Given("steel_mj_t", "heat in the steel", "MJ/t", 1395, 1415, 1, "steel near 1650 °C"),
        Given("gas_mj_t", "heat in the gas", "MJ/t", 150, 165, 1, "gas near 1500 °C"),
        Given("slag_mj_t", "heat in the slag", "MJ/t", 105, 130, 1, "60 to 75 kg of slag per t"),
    ),
    answer=Answer(
        "%", "two per cent of the answer covers rounding to three figures", tolerance_pct=2.0
    ),
    solve=lambda **given: 100.0 * _missing(**given) / given["total_mj_t"],
    slips=(
        Slip(
            "share_of_steel",
            "You divided by the heat in the steel; the share of the heat that came in is asked "
            "for.",
            solve=lambda **given: 100.0 * _missing(**given) / given["steel_mj_t"],
        ),
        slip.forgot("slag_mj_t", 0.0, "the slag"),
        slip.forgot("gas_mj_t", 0.0, "the gas"),
        Slip(
            "in_mj",
            "This is the loss in MJ per tonne; its share of the heat that came in is asked for.",
            solve=lambda **given: _missing(**given),
        ),
    ),
    hints=(
        "What goes out must be what came in: find the loss first.",
        "Loss = {total_mj_t:n} − {steel_mj_t:n} − {gas_mj_t:n} − {slag_mj_t:n} MJ per t.",
        "Divide the loss by {total_mj_t:n} and take it in %.",
    ),
    worked="""Loss = {total_mj_t:n} − {steel_mj_t:n} − {gas_mj_t:n} − {slag_mj_t:n} MJ per t; as a share of {total_mj_t:n}: **{answer}**.
A loss found by difference carries the errors of all other items: that is why it is called a loss and not a measurement.""",
    plausible=lambda answer, **given: (answer > 2.0) & (answer < 7.0),
)


PROBLEMS = (_STEEL, _CARBON, _SURPLUS, _COOL, _ORE, _SILICON, _CLOSE, _SCHOOL)
