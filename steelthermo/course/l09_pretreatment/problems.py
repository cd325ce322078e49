"""Problems of lesson 09: should this hot metal be treated first?"""

import numpy as np

from ...base import kelvin, molar_mass
from ...charge import oxygen_in_oxide_nm3_kg
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip
from ...hot_metal import (
    kg_per_kg_sulphur,
    magnesium_left_pct,
    oxygen_equivalent_nm3_t,
    solid_for_gas_c,
    steel_sulphur_pct,
)
from ...ladle import addition_effect_c, heat_capacity_kj_t
from ...streams import LiquidMetal
from ...thermo import oxidation_heat
from ...trust import acetylene_nm3

_PER_CENT = "one per cent covers rounding and tables of atomic weights"
_HOT_METAL = {"C": 4.5, "Si": 0.45, "Mn": 0.35, "P": 0.085, "S": 0.03}
_TEMP_C = 1350.0  # of the metal in the problems of temperature
_MG, _CARBIDE = (kg_per_kg_sulphur(x) for x in ("Mg", "CaC2"))


_MAGNESIUM = Problem(
    key="pretreatment.magnesium",
    title="A dose of magnesium",
    text="""Hot metal with {s_pct} sulphur shall come to {aim_pct}. Magnesium takes it as MgS, one atom for one atom (Mg 24.31, S 32.06). At your works
{efficiency_pct} of the magnesium does so (a plant value). How many kg of magnesium per tonne of hot metal? Leave out what stays dissolved.""",
    given=(
        Given(
            "s_pct",
            "sulphur before",
            "%",
            0.025,
            0.05,
            0.001,
            "treatment starts from 0.03 to 0.045 % as a rule, published",
        ),
        Given(
            "aim_pct",
            "sulphur aimed at",
            "%",
            0.003,
            0.01,
            0.001,
            "0.005 % and less is reached with magnesium and lime",
        ),
        Given(
            "efficiency_pct", "magnesium that reacts", "%", 45, 90, 5, "40 to 95 %, common practice"
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=lambda s_pct, aim_pct, efficiency_pct: (
        10.0 * _MG * (s_pct - aim_pct) / (efficiency_pct / 100.0)
    ),
    slips=(
        slip.times(
            "kg_sulphur",
            "You turned the ratio round: 1 kg of magnesium binds 1.32 kg of sulphur, so 1 kg of "
            "sulphur takes 0.758 kg.",
            1.0 / _MG**2,
        ),
        slip.times(
            "efficiency_multiplied",
            "You multiplied by {efficiency_pct}. What doesn't react has to be added on top: "
            "divide.",
            lambda given: (given["efficiency_pct"] / 100.0) ** 2,
        ),
        slip.forgot("efficiency_pct", 100.0, "the share that reacts"),
        slip.times("percent_as_kg", "You took 1 % as 1 kg per t; it is 10 kg per t.", 0.1),
        slip.forgot("aim_pct", 0.0, "the sulphur that may stay"),
    ),
    hints=(
        "How many kg of sulphur per tonne must go? 0.01 % is 0.1 kg per t.",
        "Each kg of sulphur takes 24.31/32.06 kg of magnesium.",
        "Divide by {efficiency_pct:n}/100, for the rest of the magnesium boils off.",
    ),
    worked="""Sulphur to go: 10 × ({s_pct:n} − {aim_pct:n}) kg/t. Times 24.31/32.06, over {efficiency_pct:n}/100: **{answer}**. Efficiency rises with the
sulphur at the start and the depth of injection and falls with temperature; nobody can read it from a book.""",
    cautions=(
        "Magnesium powder: no water, no moisture, no common extinguisher; dry sand or special "
        "powder. What doesn't react burns above the metal.",
    ),
)


def _carbide(ladle_t, s_pct, aim_pct, grade_pct, efficiency_pct):
    return (
        ladle_t
        * 10.0
        * (s_pct - aim_pct)
        * _CARBIDE
        / (grade_pct / 100.0)
        / (efficiency_pct / 100.0)
    )


_CARBIDE_DOSE = Problem(
    key="pretreatment.carbide",
    title="Carbide for a ladle",
    text="""A ladle holds {ladle_t} of hot metal with {s_pct} sulphur; {aim_pct} is the aim. Calcium carbide takes it: CaC2 + [S] = CaS + 2 [C]
(CaC2 64.10, S 32.06). The powder holds {grade_pct} CaC2, and {efficiency_pct} of that reacts (a plant value). How many kg of powder?""",
    given=(
        Given(
            "ladle_t",
            "hot metal",
            "t",
            120,
            320,
            10,
            "hot metal ladles of common vessels",
            follows="vessel.tap_t",
        ),
        Given(
            "s_pct",
            "sulphur before",
            "%",
            0.025,
            0.045,
            0.001,
            "treatment starts from 0.03 to 0.045 % as a rule, published",
        ),
        Given("aim_pct", "sulphur aimed at", "%", 0.004, 0.01, 0.001, "common aims"),
        Given("grade_pct", "CaC2 in the powder", "%", 52, 82, 2, "52 to 80 %, pages of two makers"),
        Given(
            "efficiency_pct",
            "carbide that reacts",
            "%",
            15,
            45,
            1,
            "30 to 50 % in trials (Zhao and Irons 1994); common doses mean less",
        ),
    ),
    answer=Answer("kg", _PER_CENT, tolerance_pct=1.0),
    solve=_carbide,
    slips=(
        slip.forgot("grade_pct", 100.0, "the grade of the powder"),
        slip.forgot("efficiency_pct", 100.0, "the share that reacts"),
        slip.times(
            "efficiency_multiplied",
            "You multiplied by {efficiency_pct}. What doesn't react has to be added on top: "
            "divide.",
            lambda given: (given["efficiency_pct"] / 100.0) ** 2,
        ),
        slip.times(
            "one_tonne",
            "This is for one tonne; the ladle holds {ladle_t}.",
            lambda given: 1.0 / given["ladle_t"],
        ),
        slip.times(
            "ratio_upside_down",
            "You turned the ratio round: 1 kg of sulphur takes 2 kg of carbide.",
            1.0 / _CARBIDE**2,
        ),
    ),
    hints=(
        "First the kg of sulphur that must go from the whole ladle.",
        "One kg of sulphur takes 64.10/32.06 kg of CaC2.",
        "Then divide by {grade_pct:n}/100 and by {efficiency_pct:n}/100.",
    ),
    worked="""Sulphur: {ladle_t:n} × 10 × ({s_pct:n} − {aim_pct:n}) kg. Times 64.10/32.06, over {grade_pct:n}/100, over {efficiency_pct:n}/100:
**{answer}**. In one study about a third of the particles touched the metal at all (Irons and Celik 1992).""",
    cautions=(
        "Carbide and moisture make acetylene, which burns and explodes: dry nitrogen in silo and "
        "pipe, and no water on slag that holds carbide.",
    ),
)


_DISSOLVED = Problem(
    key="pretreatment.dissolved_magnesium",
    title="Magnesium that stays behind",
    text="""Magnesium and sulphur in iron come to rest at [%Mg][%S] = K with log10 K = −17040/T + 5.120 (T in kelvin, activity coefficients 1). How many kg
of magnesium per tonne stay dissolved in hot metal of {temp_c} that shall hold {aim_pct} sulphur?""",
    given=(
        Given(
            "aim_pct",
            "sulphur aimed at",
            "%",
            0.001,
            0.006,
            0.0005,
            "down to 0.001 % is said to be reached, published",
        ),
        Given(
            "temp_c",
            "temperature",
            "°C",
            1280,
            1420,
            10,
            "hot metal at the treatment, common practice",
            follows="hot_metal.temp_c",
        ),
    ),
    answer=Answer(
        "kg/t",
        "four per cent: the line in the text is drawn through the full data, and a power of ten "
        "shows every rounding",
        tolerance_pct=4.0,
    ),
    solve=lambda aim_pct, temp_c: 10.0 * np.asarray(magnesium_left_pct(aim_pct, temp_c)),
    slips=(
        Slip(
            "celsius",
            "You put {temp_c} into the line as it stands; it wants kelvin, so add 273.15.",
            solve=lambda aim_pct, temp_c: 10.0 * 10.0 ** (-17040.0 / temp_c + 5.120) / aim_pct,
        ),
        Slip(
            "natural_log",
            "You used e to the power; log10 asks for 10 to the power.",
            solve=lambda aim_pct, temp_c: (
                10.0 * np.exp(-17040.0 / kelvin(temp_c) + 5.120) / aim_pct
            ),
        ),
        slip.times("percent", "This is the content in %; 0.001 % is 0.01 kg per t.", 0.1),
        slip.times(
            "not_divided",
            "This is K itself, times 10: divide by the sulphur.",
            lambda given: given["aim_pct"],
        ),
    ),
    hints=(
        "T = {temp_c:n} + 273.15 K. What is log10 K?",
        "[%Mg] = K/{aim_pct:n}.",
        "From % to kg per t: times 10.",
    ),
    worked="""T = {temp_c:n} + 273.15 K, K = 10^(−17040/T + 5.120), [%Mg] = K/{aim_pct:n}, times 10: **{answer}**. Compare with a dose of 0.2 to 0.5
kg/t: above 0.005 % sulphur it hardly counts; at 0.001 % and 1400 °C it does. This is the upper bound: carbon makes both act stronger, so less stays.""",
    cautions=(
        "Magnesium leaves as vapour and burns above the metal with a blinding flame and white "
        "smoke.",
    ),
)


_UNUSED = Problem(
    key="pretreatment.unused_carbide",
    title="What the slag still holds",
    text="""{carbide_kg} of carbide powder with {grade_pct} CaC2 was injected and {efficiency_pct} of its CaC2 reacted. The rest lies in the slag
that is skimmed. How much acetylene, in Nm3, can rain make of it? CaC2 + 2 H2O = Ca(OH)2 + C2H2; CaC2 64.10 g/mol, 22.414 Nm3 per kmol.""",
    given=(
        Given(
            "carbide_kg",
            "powder injected",
            "kg",
            300,
            900,
            10,
            "several hundred kg per ladle, common practice",
            follows="vessel.tap_t",
        ),
        Given("grade_pct", "CaC2 in the powder", "%", 70, 82, 2, "80 % and more, page of a maker"),
        Given("efficiency_pct", "carbide that reacted", "%", 15, 45, 1, "plant value"),
    ),
    answer=Answer("Nm3", _PER_CENT, tolerance_pct=1.0),
    solve=lambda carbide_kg, grade_pct, efficiency_pct: (
        acetylene_nm3(carbide_kg, grade_pct) * (1.0 - np.asarray(efficiency_pct) / 100.0)
    ),
    slips=(
        slip.forgot("grade_pct", 100.0, "the grade of the powder"),
        Slip(
            "what_reacted",
            "You took the part that reacted; the other part is still carbide.",
            change=lambda given: given | {"efficiency_pct": 100.0 - given["efficiency_pct"]},
        ),
        slip.forgot("efficiency_pct", 0.0, "what reacted already"),
        slip.times(
            "mass",
            "This is the acetylene in kg (26.04 g/mol); asked are Nm3.",
            molar_mass("C2H2") / 22.414,
        ),
        slip.times(
            "two_moles",
            "One mol of CaC2 gives one mol of C2H2: both carbon atoms stay together.",
            2.0,
        ),
    ),
    hints=(
        "How many kg of CaC2 are left over?",
        "{carbide_kg:n} × {grade_pct:n}/100 × (100 − {efficiency_pct:n})/100 kg.",
        "Divide by 64.10 and multiply by 22.414.",
    ),
    worked="""CaC2 left: {carbide_kg:n} × {grade_pct:n}/100 × (100 − {efficiency_pct:n})/100 kg; over 64.10, times 22.414: **{answer}**. A few per
cent of acetylene in air explode. A maker promises 295 litres per kg of 80 % powder: that fits litres at 15 °C; at 0 °C it would be 280.""",
    cautions=(
        "Slag with carbide stays under cover and dry, away from sparks; works' rules say where it "
        "may lie and who may go near it.",
    ),
)


def _steel_s(hot_s_pct, left_kg, left_s_pct, scrap_s_pct, slag_kg, partition):
    sources = (
        900.0 * hot_s_pct / 100.0,
        left_kg * left_s_pct / 100.0,
        200.0 * scrap_s_pct / 100.0,
        45.0 * 0.03 / 100.0,
    )
    return steel_sulphur_pct(sum(sources), 1000.0, slag_kg, partition)


_FOUR = Problem(
    key="pretreatment.four_sources",
    title="Where the sulphur comes back",
    text="""For one tonne of steel the vessel takes 900 kg treated hot metal with {hot_s_pct} sulphur, {left_kg} treatment slag that was not skimmed, with
{left_s_pct} sulphur, 200 kg scrap with {scrap_s_pct} and 45 kg lime with 0.03 %. Of the sulphur, the {slag_kg} of vessel slag hold {partition:n}
times as many per cent as the steel. How much sulphur does the steel hold, in %?""",
    given=(
        Given(
            "hot_s_pct", "sulphur of treated hot metal", "%", 0.002, 0.006, 0.0005, "common aims"
        ),
        Given("left_kg", "treatment slag left on", "kg", 1, 6, 0.5, "skimming is never perfect"),
        Given(
            "left_s_pct",
            "sulphur of that slag",
            "%",
            2,
            4,
            0.5,
            "what the dose and the sulphur removed make",
        ),
        Given(
            "scrap_s_pct",
            "sulphur of the scrap",
            "%",
            0.014,
            0.03,
            0.001,
            "heavy and shredded scrap, common practice",
        ),
        Given("slag_kg", "vessel slag", "kg", 80, 120, 5, "per t of steel, common practice"),
        Given("partition", "partition of sulphur", "1", 4, 7, 1, "3 to 8, recalled"),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_steel_s,
    slips=(
        slip.forgot("left_kg", 0.0, "the slag left on the metal"),
        Slip(
            "all_in_steel",
            "You left all sulphur in the steel; the slag takes its part.",
            change=lambda given: given | {"slag_kg": 0.0 * given["slag_kg"]},
        ),
        Slip(
            "same_content",
            "You shared it out evenly; the slag holds {partition:n} times the per cent of the "
            "steel.",
            change=lambda given: given | {"partition": 1.0 + 0.0 * given["partition"]},
        ),
        slip.times("kg", "This is in kg per tonne; 1 kg per t is 0.1 %.", 10.0),
        Slip(
            "all_to_slag",
            "You gave the slag {partition:n} times the sulphur of the steel. The partition "
            "compares per cents; the steel weighs ten times as much.",
            solve=lambda partition, slag_kg, **given: (
                _steel_s(**given, partition=1.0, slag_kg=0.0 * slag_kg) / (1.0 + partition)
            ),
        ),
    ),
    hints=(
        "Add up the kg of sulphur of the four sources.",
        "If the steel holds x %, it has 10 x kg, and the slag has {slag_kg:n} × {partition:n} × "
        "x/100 kg.",
        "x = 100 × sulphur in kg/(1000 + {partition:n} × {slag_kg:n}).",
    ),
    worked="""Sulphur: 9 × {hot_s_pct:n} + {left_kg:n} × {left_s_pct:n}/100 + 2 × {scrap_s_pct:n} + 0.0135 kg. Times 100, over (1000 + {partition:n}
× {slag_kg:n}): **{answer}**. Skim clean and buy clean scrap: the vessel takes little sulphur out, for its slag is oxidising.""",
    cautions=("Skimming splashes; strongly oxidised slag must never meet metal rich in carbon.",),
)


def _oxygen(si_pct, p_pct, c_pct):
    return sum(oxygen_equivalent_nm3_t({"Si": si_pct, "P": p_pct, "C": c_pct}).values())


def _ore(si_pct, p_pct, c_pct, ore_pct):
    return _oxygen(si_pct, p_pct, c_pct) * ore_pct / 100.0 / oxygen_in_oxide_nm3_kg("Fe2O3")


_ORE = Problem(
    key="pretreatment.ore",
    title="Oxygen as ore",
    text="""A treatment takes {si_pct} silicon (to SiO2), {p_pct} phosphorus (to P2O5) and {c_pct} carbon (to CO) out of hot metal. {ore_pct} of the oxygen
comes as pure Fe2O3 that is reduced to iron, the rest is blown. How many kg of Fe2O3 per tonne of hot metal? (Si 28.09, P 30.97, C 12.01, O 16.00, Fe
55.85)""",
    given=(
        Given("si_pct", "silicon removed", "%", 0.2, 0.5, 0.05, "from 0.3 to 0.7 % down to 0.15 %"),
        Given(
            "p_pct", "phosphorus removed", "%", 0.03, 0.09, 0.01, "before a low-phosphorus grade"
        ),
        Given("c_pct", "carbon burnt with it", "%", 0.1, 0.3, 0.05, "a side effect"),
        Given("ore_pct", "oxygen brought as ore", "%", 40, 90, 5, "to hold the temperature"),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_ore,
    slips=(
        Slip(
            "co2",
            "You burnt carbon to CO2; in hot metal it leaves as CO and takes half as much oxygen.",
            change=lambda given: given | {"c_pct": 2.0 * given["c_pct"]},
        ),
        slip.times(
            "feo",
            "You reckoned with FeO. Fe2O3 holds 0.301 kg oxygen per kg, FeO only 0.223.",
            oxygen_in_oxide_nm3_kg("Fe2O3") / oxygen_in_oxide_nm3_kg("FeO"),
        ),
        slip.forgot("ore_pct", 100.0, "that only a part comes as ore"),
        slip.forgot("p_pct", 0.0, "the phosphorus"),
        slip.times(
            "oxygen_itself",
            "This is the oxygen in kg; asked is the Fe2O3 that holds it.",
            3.0 * molar_mass("O") / molar_mass("Fe2O3"),
        ),
    ),
    hints=(
        "Oxygen in kg per tonne: silicon takes 32.00/28.09 of its mass, phosphorus 80.00/61.94, "
        "carbon 16.00/12.01.",
        "1 % is 10 kg per t. Take {ore_pct:n}/100 of the sum.",
        "One kg of Fe2O3 holds 48.00/159.70 kg of oxygen: divide.",
    ),
    worked="""Oxygen: 10 × ({si_pct:n} × 1.139 + {p_pct:n} × 1.292 + {c_pct:n} × 1.332) kg/t; times {ore_pct:n}/100; over 0.3006: **{answer}**. Its
iron, 0.7 kg per kg, stays in the metal.""",
    cautions=(
        "Ore and scale must be dry. Carbon monoxide leaves with the slag's foam: keep the monitor "
        "on.",
    ),
)

_CP = heat_capacity_kj_t(_HOT_METAL, _TEMP_C)  # kJ per t and degree
_SI_C, _C_C = (
    oxidation_heat(k, kelvin(_TEMP_C), "dissolved, cold oxygen") / 1e3 / _CP
    for k in ("Si to SiO2", "C to CO")
)  # degC per kg/t
_SOLID_C = solid_for_gas_c(LiquidMetal(1000.0, _HOT_METAL, _TEMP_C))  # degC per Nm3/t
_LIME_C = addition_effect_c("CaO", _TEMP_C, _HOT_METAL)  # degC per kg/t


def _rise(si_pct, ore_pct):
    return 10.0 * si_pct * _SI_C - _oxygen(si_pct, 0.0, 0.0) * ore_pct / 100.0 * _SOLID_C


_RISE = Problem(
    key="pretreatment.silicon_temperature",
    title="Hotter or colder?",
    text="""{si_pct} silicon is taken out of hot metal of 1350 °C. With cold gaseous oxygen each 0.1 % of silicon warms the metal by 31.1 °C and
takes 0.798 Nm3 of oxygen per tonne. Each Nm3/t that comes as Fe2O3 instead cools it by 32.3 °C more. {ore_pct} of the oxygen comes as Fe2O3. By how
much does the metal warm up? Leave out losses and lime.""",
    given=(
        Given("si_pct", "silicon removed", "%", 0.2, 0.6, 0.05, "from 0.3 to 0.8 % down to 0.15 %"),
        Given("ore_pct", "oxygen brought as ore", "%", 20, 90, 5, "to hold the temperature"),
    ),
    answer=Answer(
        "°C",
        "rounding of the three figures: 1 °C or 1 %",
        tolerance_pct=1.0,
        tolerance_abs=1.0,
        difference=True,
    ),
    solve=_rise,
    slips=(
        Slip(
            "gas_only",
            "You blew all of it: {ore_pct} comes as ore.",
            change=lambda given: given | {"ore_pct": 0.0 * given["ore_pct"]},
        ),
        Slip(
            "ore_only",
            "You brought all of it as ore; only {ore_pct} comes so.",
            change=lambda given: given | {"ore_pct": 100.0 + 0.0 * given["ore_pct"]},
        ),
        Slip(
            "exchanged",
            "You exchanged the two shares: {ore_pct} is the part brought as ore.",
            change=lambda given: given | {"ore_pct": 100.0 - given["ore_pct"]},
        ),
        Slip(
            "per_nm3",
            "You took 32.3 °C off for each 0.1 % of silicon; it counts for each Nm3/t, and 0.1 % "
            "takes only 0.798.",
            solve=lambda si_pct, ore_pct: (
                10.0 * np.asarray(si_pct) * (_SI_C - ore_pct / 100.0 * _SOLID_C)
            ),
        ),
        Slip(
            "added",
            "You added the effect of the ore; breaking it up takes heat.",
            solve=lambda si_pct, ore_pct: 2.0 * _rise(si_pct, 0.0) - _rise(si_pct, ore_pct),
        ),
    ),
    hints=(
        "With gas alone: {si_pct:n}/0.1 × 31.1 °C.",
        "As ore comes {si_pct:n}/0.1 × 0.798 × {ore_pct:n}/100 Nm3/t.",
        "Take 32.3 °C off for each of these.",
    ),
    worked="""{si_pct:n}/0.1 × (31.1 − 0.798 × {ore_pct:n}/100 × 32.3) = **{answer}**. Even with ore alone silicon warms the metal a little: it holds
oxygen more tightly than iron does.""",
)


def _neutral(si_pct, c_pct, lime_kg_t, loss_c):
    warms = 10.0 * (np.asarray(si_pct) * _SI_C + c_pct * _C_C) + lime_kg_t * _LIME_C - loss_c
    return 100.0 * warms / (_SOLID_C * _oxygen(si_pct, 0.0, c_pct))


_NEUTRAL = Problem(
    key="pretreatment.neutral_share",
    title="As much ore as holds the temperature",
    text="""{si_pct} silicon and, with it, {c_pct} carbon are burnt out of hot metal of 1350 °C. With gaseous oxygen 0.1 % of silicon warms it by
31.1 °C (0.798 Nm3/t) and 0.1 % of carbon by 11.0 °C (0.933 Nm3/t). {lime_kg_t} of lime cool it by 1.42 °C per kg/t, and it loses {loss_c} to its
surroundings. Each Nm3/t brought as Fe2O3 instead of gas costs 32.3 °C. What share of the oxygen must be ore for the temperature to stay as it is?""",
    given=(
        Given("si_pct", "silicon removed", "%", 0.2, 0.5, 0.05, "from 0.3 to 0.7 % down to 0.15 %"),
        Given("c_pct", "carbon burnt with it", "%", 0.05, 0.25, 0.05, "a side effect"),
        Given("lime_kg_t", "lime", "kg/t", 5, 15, 1, "for the slag"),
        Given("loss_c", "temperature lost", "°C", 15, 40, 5, "plant value, recalled: 15 to 50 °C"),
    ),
    answer=Answer("%", "rounding of the figures: one per cent of the oxygen", tolerance_abs=1.0),
    solve=_neutral,
    slips=(
        slip.forgot("lime_kg_t", 0.0, "the lime"),
        Slip(
            "no_loss",
            "You left out the {loss_c} lost to the surroundings.",
            change=lambda given: given | {"loss_c": 0.0 * given["loss_c"]},
        ),
        Slip(
            "carbon_oxygen",
            "You left out the oxygen that the carbon takes.",
            solve=lambda si_pct, c_pct, lime_kg_t, loss_c: (
                _neutral(si_pct, c_pct, lime_kg_t, loss_c)
                * _oxygen(si_pct, 0.0, c_pct)
                / _oxygen(si_pct, 0.0, 0.0)
            ),
        ),
        slip.times("fraction", "This is a fraction; asked are %.", 0.01),
        Slip(
            "gas_share",
            "This is the share of gas; asked is the share of ore.",
            after=lambda answer, given: 100.0 - answer,
        ),
    ),
    hints=(
        "How much would the metal warm up with gas alone, lime and losses counted?",
        "How much oxygen is it, in Nm3/t? All of it as ore would cost 32.3 °C times that.",
        "Share = what is to be taken off over what all the ore would take off.",
    ),
    worked="""Gas alone: ({si_pct:n} × 31.1 + {c_pct:n} × 11.0)/0.1 − 1.42 × {lime_kg_t:n} − {loss_c:n} °C. All as ore would cost 32.3 × ({si_pct:n}
× 0.798 + {c_pct:n} × 0.933)/0.1 °C. The quotient: **{answer}**.""",
    plausible=lambda answer, **given: (answer > 10.0) & (answer < 95.0),
)


def _which(s_pct, si_pct, p_pct, aim_s_pct):
    sulphur = (np.asarray(s_pct) > 0.0301) | (np.asarray(aim_s_pct) < 0.0119)
    silicon, phosphorus = np.asarray(si_pct) > 0.701, np.asarray(p_pct) > 0.1301
    return np.where(
        phosphorus, 5, np.where(silicon & sulphur, 4, np.where(silicon, 3, np.where(sulphur, 2, 1)))
    )


_WHICH = Problem(
    key="pretreatment.which",
    title="Which treatment?",
    text="""Hot metal with {s_pct} sulphur, {si_pct} silicon and {p_pct} phosphorus is to become a steel with at most {aim_s_pct} sulphur. A shop
works by these rules (of the kind that is common practice; the marks are its own): sulphur is treated if the hot metal holds more than 0.030 % or the
steel may hold less than 0.012 %; silicon if above 0.70 %, or before phosphorus; phosphorus if above 0.13 %. What does it do?""",
    given=(
        Given(
            "s_pct", "sulphur in hot metal", "%", 0.014, 0.05, 0.002, "0.03 % is typical, published"
        ),
        Given(
            "si_pct", "silicon in hot metal", "%", 0.3, 1.1, 0.05, "0.3 to 1.2 %, common practice"
        ),
        Given(
            "p_pct",
            "phosphorus in hot metal",
            "%",
            0.06,
            0.17,
            0.01,
            "up to 0.15 % is typical, published",
        ),
        Given(
            "aim_s_pct",
            "sulphur allowed in the steel",
            "%",
            0.008,
            0.02,
            0.002,
            "tight to ordinary",
        ),
    ),
    answer=Choice(
        ordered=True,
        options=(
            "nothing",
            "sulphur only",
            "silicon only",
            "silicon, then sulphur",
            "silicon, then phosphorus, and sulphur after them if it is above its mark",
        ),
        sentences=(
            "Nothing is right only where all three lie below their marks and the steel's sulphur "
            "isn't tight.",
            "Sulphur alone is right where only sulphur passes a mark: that of the hot metal as it "
            "comes, or that of a steel which allows little.",
            "Silicon alone is right where silicon is above its mark and sulphur passes neither of "
            "its two rules.",
            "Silicon, then sulphur is right where both pass their marks and phosphorus does not.",
            "This long way is for hot metal above the mark of phosphorus: silicon must go first, "
            "for it takes the oxygen before phosphorus does.",
        ),
    ),
    solve=_which,
    hints=(
        "Go through the rules one by one: phosphorus first, because it pulls silicon with it.",
        "Sulphur has two rules; one of them looks at the steel.",
    ),
    worked=lambda s_pct, si_pct, p_pct, aim_s_pct: (
        f"Phosphorus {p_pct:.2f} % against 0.13, silicon {si_pct:.2f} % against 0.70, sulphur "
        f"{s_pct:.3f} % against 0.030 and its limit {aim_s_pct:.3f} % "
        f"against 0.012: line {int(_which(s_pct, si_pct, p_pct, aim_s_pct))}. Removing silicon "
        "costs scrap, for it is the fuel of the vessel; where heat "
        "is short for the scrap at hand it is left in. Phosphorus wants oxidising slag and a cool "
        "metal, sulphur a slag without oxygen: hence the order."
    ),
)


PROBLEMS = (_MAGNESIUM, _CARBIDE_DOSE, _DISSOLVED, _UNUSED, _FOUR, _ORE, _RISE, _NEUTRAL, _WHICH)
