"""Problems of lesson 12: what leaves at the mouth, and what is it worth?"""

import numpy as np

from ...base import molar_mass, molar_volume_nm3_kmol, value
from ...charge import (
    carbon_rate_kg_min,
    co_hazards,
    converter_gas,
    lower_flammable_limit_pct,
    mouth_pcr,
    post_combustion,
    ppm_to_mg_m3,
    preheat_scrap,
    scrap_melted_kg,
)
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip
from ...streams import Gas, air, calorific_value_mj_nm3, oxygen_to_burn_nm3

_PER_CENT = "one per cent covers rounding on the way"
_CO = (
    "Carbon monoxide has no colour and no smell, and gives no warning. Wear the monitor; leave "
    "at its alarm; the works' rules and local codes decide."
)

_CARBON_RATE = Problem(
    key="off_gas.carbon_rate",
    title="Carbon that leaves with the gas",
    text="""Behind the hood {flow_nm3_min} of dry gas flow, with {co_pct} CO and {co2_pct} CO2 (volume %). How many kg of carbon leave the bath per
minute? C 12.011; one kmol of gas fills 22.414 Nm3.""",
    given=(
        Given(
            "flow_nm3_min",
            "gas flow",
            "Nm3/min",
            600,
            1200,
            20,
            "about twice the oxygen flow",
            follows="oxygen.flow_nm3_min",
        ),
        Given(
            "co_pct",
            "CO in the gas",
            "%",
            55,
            68,
            1,
            "recovered gas, a trade text and this course's sums",
        ),
        Given("co2_pct", "CO2 in the gas", "%", 12, 18, 1, "recovered gas, a trade text"),
    ),
    answer=Answer("kg/min", "half a per cent covers rounding the atomic weight", tolerance_pct=0.5),
    solve=carbon_rate_kg_min,
    slips=(
        slip.forgot("co2_pct", 0.0, "the carbon of the CO2"),
        Slip(
            "co_twice",
            "You counted the carbon of CO2 twice; one molecule of CO2 holds one atom of carbon, as "
            "one of CO does.",
            change=lambda given: given | {"co2_pct": 2.0 * given["co2_pct"]},
        ),
        slip.times(
            "mass_of_co",
            "You took 28.01 kg per kmol, the mass of CO; only 12.011 kg of it is carbon.",
            molar_mass("CO") / molar_mass("C"),
        ),
        slip.times(
            "at_25",
            "You took 24.465 m3 per kmol, the volume at 25 °C; Nm3 are counted at 0 °C.",
            273.15 / 298.15,
        ),
        slip.times("percent", "You used the percentages as they stand; divide them by 100.", 100.0),
    ),
    hints=(
        "How many Nm3 of CO and CO2 together flow each minute?",
        "One kmol of either, 22.414 Nm3, holds 12.011 kg of carbon.",
        "kg/min = {flow_nm3_min:n} × ({co_pct:n} + {co2_pct:n})/100 ÷ 22.414 × 12.011.",
    ),
    worked="""{flow_nm3_min:n} × ({co_pct:n} + {co2_pct:n})/100 ÷ 22.414 × 12.011 = **{answer}**. Air that joined does not disturb the sum, as long as
flow and analysis belong to the same place.""",
    cautions=(_CO,),
)


def _mouth(co_pct, n2_pct, o2_pct):
    return 100.0 * np.asarray(mouth_pcr(co_pct, 100.0 - co_pct - n2_pct - o2_pct, n2_pct, o2_pct))


def _mouth_with(oxygen_factor):
    """The same sum with another amount of CO burnt per Nm3 of air's oxygen (two is right)."""

    def wrong(co_pct, n2_pct, o2_pct):
        burnt = oxygen_factor * (value("air_o2_pct") / value("air_n2_pct") * n2_pct - o2_pct)
        return 100.0 * (100.0 - co_pct - n2_pct - o2_pct - burnt) / (100.0 - n2_pct - o2_pct)

    return wrong


_MOUTH = Problem(
    key="off_gas.mouth_ratio",
    title="The ratio at the mouth",
    text="""Where the gas is sampled it holds {co_pct} CO, {n2_pct} N2 and {o2_pct} O2; the rest is CO2 (volume %, dry, argon left out). All nitrogen
came with air drawn in at the mouth, which brings 0.268 O2 for each N2 and has burnt CO to CO2. What was the post-combustion ratio CO2/(CO + CO2)
before the air, in %?""",
    given=(
        Given(
            "co_pct",
            "CO in the sample",
            "%",
            58,
            66,
            0.5,
            "recovered gas, a trade text and this course's sums",
        ),
        Given("n2_pct", "N2 in the sample", "%", 10, 18, 0.5, "some air drawn in at the mouth"),
        Given("o2_pct", "O2 in the sample", "%", 0.1, 0.3, 0.1, "recovered gas, a trade text"),
    ),
    answer=Answer(
        "%",
        "two per cent of the answer cover rounding in a difference",
        tolerance_pct=2.0,
        tolerance_abs=0.2,
    ),
    solve=_mouth,
    slips=(
        Slip(
            "air_forgotten",
            "This is the ratio in the sample. Part of its CO2 was made by air, behind the mouth: "
            "take that off first.",
            solve=_mouth_with(0.0),
        ),
        Slip("one_co", "You let one O2 burn one CO; it burns two.", solve=_mouth_with(1.0)),
        Slip(
            "part_of_whole",
            "You divided by the whole gas. The ratio is CO2 over CO + CO2: leave nitrogen and "
            "oxygen out.",
            solve=lambda co_pct, n2_pct, o2_pct: (
                _mouth(co_pct, n2_pct, o2_pct) * (100.0 - n2_pct - o2_pct) / 100.0
            ),
        ),
        Slip(
            "co2_over_co",
            "You divided CO2 by CO; the ratio is CO2 over CO and CO2 together.",
            after=lambda answer, given: 100.0 * answer / (100.0 - answer),
        ),
    ),
    hints=(
        "How much CO2 does the sample hold, and how much oxygen came with its nitrogen?",
        "Oxygen of the air that is gone: {n2_pct:n} × 0.268 − {o2_pct:n}. Each of it has made two "
        "CO2.",
        "Take that CO2 off; CO and CO2 together stay what they were.",
    ),
    worked="""CO2 in the sample: 100 − {co_pct:n} − {n2_pct:n} − {o2_pct:n}. Made by air: 2 × ({n2_pct:n} × 0.268 − {o2_pct:n}). What is left, over
100 − {n2_pct:n} − {o2_pct:n}, is **{answer}**. Nitrogen blown in for stirring would have to be taken off first, or the ratio comes out too low.""",
    plausible=lambda answer, **given: (answer > 5.0) & (answer < 28.0),
)


def _recovered(nm3_t, co_pct):
    return nm3_t * np.asarray(
        calorific_value_mj_nm3(Gas({"CO": co_pct, "N2": 100.0 - co_pct}, 25.0))
    )


_RECOVERED = Problem(
    key="off_gas.recovered_heat",
    title="What the recovered gas is worth",
    text="""Counted on the steel, a closed hood recovers {nm3_t} of gas with {co_pct} CO; nothing else in it burns. How much heat can it give, in MJ per
tonne of steel? CO burns with 283.0 kJ/mol; one kmol fills 22.414 Nm3.""",
    given=(
        Given(
            "nm3_t",
            "gas recovered",
            "Nm3/t",
            60,
            100,
            1,
            "about 100 by a published technology sheet, 80 made by the carbon of hot metal",
        ),
        Given(
            "co_pct",
            "CO in the gas",
            "%",
            55,
            70,
            1,
            "recovered gas, a trade text and this course's sums",
        ),
    ),
    answer=Answer("MJ/t", _PER_CENT, tolerance_pct=1.0),
    solve=_recovered,
    slips=(
        slip.forgot("co_pct", 100.0, "that only a part of the gas is CO"),
        slip.times(
            "kilocalories", "You counted in kcal and wrote kJ: 1 kcal is 4.184 kJ.", 1.0 / 4.184
        ),
        slip.times(
            "per_kg",
            "You took the heat per kg of CO, 10.1 MJ; an Nm3 weighs 1.25 kg.",
            molar_volume_nm3_kmol() / molar_mass("CO"),
        ),
        slip.times(
            "at_25",
            "You took 24.465 m3 per kmol, the volume at 25 °C; Nm3 are counted at 0 °C.",
            273.15 / 298.15,
        ),
        slip.times(
            "one_nm3",
            "This is the heat of one Nm3; {nm3_t} were recovered.",
            lambda given: 1.0 / given["nm3_t"],
        ),
    ),
    hints=(
        "How much heat does one Nm3 of pure CO give? 283.0 kJ/mol are 283.0 MJ/kmol.",
        "283.0/22.414 MJ per Nm3 of CO; how many Nm3 of CO are there?",
        "MJ/t = {nm3_t:n} × {co_pct:n}/100 × 283.0/22.414.",
    ),
    worked="""{nm3_t:n} × {co_pct:n}/100 × 283.0/22.414 = **{answer}**. A published technology sheet (JISF) has 100 Nm3 of 2000 kcal: 837 MJ, which
means 66 % CO. Its 70 % recovery is not in that figure.""",
    cautions=(_CO,),
)

# net calorific value of converter gas for national inventories, IPCC (2006) table 1.2 as two texts
# quote it
_DEFAULT_GJ_T = 7.06


def _per_nm3(co_pct, co2_pct):
    gas = Gas({"CO": co_pct, "CO2": co2_pct, "N2": 100.0 - co_pct - co2_pct}, 0.0)
    return _DEFAULT_GJ_T * np.asarray(gas.kg) / 100.0


_SEVEN = Problem(
    key="off_gas.seven_what",
    title="7.06 of what?",
    text="""A table for national inventories gives converter gas 7.06 GJ per tonne of gas (IPCC 2006, as two texts quote it). A third text prints
0.0070 TJ per 1000 m3. What is 7.06 GJ/t in MJ per Nm3, for a gas of {co_pct} CO, {co2_pct} CO2 and the rest N2? CO and N2 weigh 28.01, CO2 44.01
kg/kmol; 22.414 Nm3/kmol.""",
    given=(
        Given(
            "co_pct",
            "CO in the gas",
            "%",
            66,
            76,
            1,
            "gas that fits the table's two figures has about 75 %",
        ),
        Given("co2_pct", "CO2 in the gas", "%", 12, 18, 1, "recovered gas, a trade text"),
    ),
    answer=Answer("MJ/Nm3", _PER_CENT, tolerance_pct=1.0),
    solve=_per_nm3,
    slips=(
        Slip(
            "same_digits",
            "You kept the digits and changed the unit, as the third text did. A tonne of gas is "
            "not 1000 Nm3: find the mass of one Nm3.",
            solve=lambda co_pct, co2_pct: _DEFAULT_GJ_T + 0.0 * co_pct,
        ),
        Slip(
            "divided",
            "You divided by the density; MJ/kg times kg/Nm3 makes MJ/Nm3.",
            after=lambda answer, given: _DEFAULT_GJ_T**2 / answer,
        ),
        Slip(
            "density_of_co",
            "You took the gas for pure CO, 1.25 kg/Nm3; its CO2 makes it heavier.",
            solve=lambda co_pct, co2_pct: (
                _DEFAULT_GJ_T * molar_mass("CO") / molar_volume_nm3_kmol() + 0.0 * co_pct
            ),
        ),
        slip.times(
            "at_25",
            "You took 24.465 m3 per kmol, the volume at 25 °C; Nm3 are counted at 0 °C.",
            273.15 / 298.15,
        ),
    ),
    hints=(
        "What does one kmol of this gas weigh?",
        "Its mass over 22.414 is the mass of one Nm3. GJ per tonne are MJ per kg.",
        "MJ/Nm3 = 7.06 × kg per Nm3.",
    ),
    worked="""One kmol weighs (100 − {co2_pct:n})/100 × 28.01 + {co2_pct:n}/100 × 44.01 kg, one Nm3 that over 22.414; times 7.06: **{answer}**.
Printed as 7.0 MJ/m3 it is a quarter too low. Check: 12.63 × {co_pct:n}/100 MJ/Nm3 is what the CO can give.""",
)


def _melted(carbon_kg_t, from_pct, to_pct, hte_pct):
    heat = post_combustion(
        carbon_kg_t, (to_pct - from_pct) / 100.0, hte_pct / 100.0, 1600.0
    ).to_bath_mj
    return scrap_melted_kg(heat, 1650.0)


_ONE_KG = 1.0
_ONE_CO = converter_gas(_ONE_KG, 0.0, 25.0)  # the CO of one kg of carbon


_MELTED = Problem(
    key="off_gas.more_scrap",
    title="Scrap for more post-combustion",
    text="""Counted on the steel, {carbon_kg_t} of carbon leaves as CO and CO2. The post-combustion ratio rises from {from_pct} to {to_pct}, and
{hte_pct} of the heat of this reaches the bath. How much more scrap does it melt, in kg per tonne of steel? CO burnt with cold oxygen to CO2 at 1600
°C leaves 11.2 MJ per Nm3 of CO; a kg of scrap takes 1.395 MJ to 1650 °C; C 12.011, 22.414 Nm3/kmol.""",
    given=(
        Given(
            "carbon_kg_t",
            "carbon burnt",
            "kg/t",
            34,
            42,
            0.5,
            "per t of steel, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "from_pct", "ratio before", "%", 8, 12, 1, "10 to 15 % at the mouth, common practice"
        ),
        Given("to_pct", "ratio after", "%", 15, 22, 1, "with a higher lance or holes for it"),
        Given(
            "hte_pct",
            "heat that reaches the bath",
            "%",
            55,
            80,
            5,
            "50 to 80 % quoted, recalled: a plant value",
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_melted,
    slips=(
        slip.forgot("hte_pct", 100.0, "what does not reach the bath"),
        slip.forgot("from_pct", 0.0, "that the ratio was above zero before"),
        Slip(
            "rest_to_gas",
            "You took the part that heats the gas; {hte_pct} is the part that reaches the bath.",
            change=lambda given: given | {"hte_pct": 100.0 - given["hte_pct"]},
        ),
        slip.times(
            "at_25",
            "You took 12.63 MJ/Nm3, the heat at 25 °C. In the vessel the cold oxygen has to be "
            "warmed and the CO2 leaves hot.",
            lambda given: (
                calorific_value_mj_nm3(_ONE_CO)
                * _ONE_CO.total_nm3
                / post_combustion(_ONE_KG, 1.0, 1.0, 1600.0).heat_mj
            ),
        ),
        slip.times("percent", "You used the ratios as they stand; they are %.", 100.0),
    ),
    hints=(
        "How many Nm3 of CO and CO2 does the carbon make?",
        "Of it, {to_pct:n} − {from_pct:n} % more burns on, with 11.2 MJ per Nm3.",
        "Take {hte_pct} of that heat and divide by 1.395 MJ per kg.",
    ),
    worked="""Gas: {carbon_kg_t:n}/12.011 × 22.414 Nm3/t. Burnt on: ({to_pct:n} − {from_pct:n})/100 of it, 11.2 MJ each, {hte_pct:n}/100 of that to
the bath; over 1.395: **{answer}**. The rest of the heat goes into gas, lance and lining.""",
    cautions=(
        "Hot gas above the bath attacks lining, lance and hood: a works tries such a change step "
        "by step, by its own rules.",
    ),
)


_AIR_O2 = value("air_o2_pct") / 100.0


def _flue(gas_nm3_min, co_pct, air_factor):
    gas = Gas(
        {"CO": gas_nm3_min * co_pct / 100.0, "CO2": gas_nm3_min * (1.0 - co_pct / 100.0)}, 1500.0
    )
    fresh = air(air_factor * oxygen_to_burn_nm3(gas) / _AIR_O2)
    return (
        gas.total_nm3 + fresh.total_nm3 - oxygen_to_burn_nm3(gas)
    )  # 2 CO + O2 = 2 CO2: the oxygen burnt adds no volume


_FLUE = Problem(
    key="off_gas.open_hood",
    title="Gas of an open hood",
    text="""{gas_nm3_min} with {co_pct} CO, the rest CO2, leave the mouth. An open hood draws in {air_factor} times the air that would just burn all
CO to CO2. Air holds 20.95 % O2. How much gas leaves the hood, counted in Nm3 per minute?""",
    given=(
        Given(
            "gas_nm3_min",
            "gas at the mouth",
            "Nm3/min",
            500,
            1000,
            20,
            "about twice the oxygen flow",
            follows="oxygen.flow_nm3_min",
        ),
        Given("co_pct", "CO at the mouth", "%", 80, 92, 1, "post-combustion ratio 8 to 20 %"),
        Given(
            "air_factor",
            "air factor",
            "1",
            1.1,
            1.8,
            0.1,
            "an open hood burns with air to spare, common practice",
        ),
    ),
    answer=Answer("Nm3/min", _PER_CENT, tolerance_pct=1.0),
    solve=_flue,
    slips=(
        Slip(
            "no_shrinking",
            "You added gas and air. Two CO and one O2 make two CO2: half a Nm3 vanishes for each "
            "Nm3 of CO.",
            after=lambda answer, given: answer + given["gas_nm3_min"] * given["co_pct"] / 200.0,
        ),
        Slip(
            "pure_oxygen",
            "You added the oxygen alone; it comes with nearly four times as much nitrogen.",
            solve=lambda gas_nm3_min, co_pct, air_factor: (
                gas_nm3_min * (1.0 + co_pct / 200.0 * (air_factor - 1.0))
            ),
        ),
        Slip(
            "one_oxygen",
            "You gave each CO a whole O2; half a molecule is enough.",
            solve=lambda gas_nm3_min, co_pct, air_factor: (
                gas_nm3_min * (1.0 + co_pct / 200.0 * (2.0 * air_factor / _AIR_O2 - 1.0))
            ),
        ),
        Slip(
            "factor_left_out",
            "You took just enough air; {air_factor:n} times as much is drawn in.",
            change=lambda given: given | {"air_factor": 1.0},
        ),
        Slip(
            "air_only",
            "This is the air alone.",
            solve=lambda gas_nm3_min, co_pct, air_factor: (
                gas_nm3_min * co_pct / 200.0 * air_factor / _AIR_O2
            ),
        ),
    ),
    hints=(
        "How much O2 does the CO need? CO + 1/2 O2 = CO2.",
        "Air = {air_factor:n} × O2 needed ÷ 0.2095.",
        "Add gas and air, and take off half a Nm3 for each Nm3 of CO burnt.",
    ),
    worked="""CO: {gas_nm3_min:n} × {co_pct:n}/100. Air: {air_factor:n} × CO/2 ÷ 0.2095. Leaving: gas + air − CO/2 = **{answer}**. A closed hood,
which keeps the air out, has a third to nearly a half of this to clean.""",
)

_LEAVING_C = 300.0


def _gas_of(nm3):
    return Gas({"CO": 0.85 * np.asarray(nm3), "CO2": 0.15 * np.asarray(nm3)}, 1000.0)


def _preheated(gas_nm3_t, scrap_kg_t, caught_pct, leaving_c=_LEAVING_C):
    return preheat_scrap(_gas_of(gas_nm3_t), scrap_kg_t, leaving_c, caught_pct / 100.0).scrap_temp_c


_PREHEAT = Problem(
    key="off_gas.preheated_scrap",
    title="Scrap preheated by the gas",
    text="""Per tonne of steel {gas_nm3_t} of gas, 85 % CO and 15 % CO2, cool unburnt from 1000 to 300 °C in a scrap preheater. One Nm3 of CO gives up
1.017 MJ on this way, one of CO2 1.648 MJ. {caught_pct} of it stays in {scrap_kg_t} of scrap of 25 °C, the rest is lost. How hot is the scrap? Iron
holds, above 25 °C, at 100, 200, 300, 400, 500 and 600 °C: 35, 86, 141, 199, 260 and 329 kJ/kg; go straight between these.""",
    given=(
        Given("gas_nm3_t", "gas", "Nm3/t", 66, 84, 1, "what the carbon of the charge makes"),
        Given(
            "scrap_kg_t", "scrap", "kg/t", 200, 280, 5, "20 to 30 % of the charge, common practice"
        ),
        Given(
            "caught_pct",
            "heat that stays in the scrap",
            "%",
            40,
            75,
            5,
            "a plant value; no published figure was found",
        ),
    ),
    answer=Answer(
        "°C",
        "two per cent cover the straight lines through the heat content of iron",
        tolerance_pct=2.0,
    ),
    solve=_preheated,
    slips=(
        slip.forgot("caught_pct", 100.0, "the heat that is lost"),
        Slip(
            "lost_part",
            "You warmed the scrap with the lost part; {caught_pct} is what stays in it.",
            change=lambda given: given | {"caught_pct": 100.0 - given["caught_pct"]},
        ),
        Slip(
            "all_co",
            "You counted all of the gas as CO; CO2 gives up more.",
            solve=lambda gas_nm3_t, scrap_kg_t, caught_pct: (
                preheat_scrap(
                    Gas({"CO": gas_nm3_t}, 1000.0), scrap_kg_t, _LEAVING_C, caught_pct / 100.0
                ).scrap_temp_c
            ),
        ),
        Slip(
            "from_zero",
            "You let the gas warm a whole tonne; only {scrap_kg_t} of scrap stand in it.",
            change=lambda given: given | {"scrap_kg_t": 1000.0 + 0.0 * given["scrap_kg_t"]},
        ),
    ),
    hints=(
        "How many MJ does the gas give up? 85 % of it at 1.017, 15 % at 1.648 MJ per Nm3.",
        "Take {caught_pct} of that and divide by {scrap_kg_t:n} kg: heat per kg of scrap.",
        "Find between which two temperatures of the list this heat lies.",
    ),
    worked="""Given up: {gas_nm3_t:n} × (0.85 × 1.017 + 0.15 × 1.648) MJ; {caught_pct:n}/100 of it over {scrap_kg_t:n} kg, times 1000 in kJ/kg. By the
list that is **{answer}**. Hot scrap takes less heat from the bath; but the gas still holds all of its CO.""",
    plausible=lambda answer, **given: (answer > 200.0) & (answer < 600.0),
    cautions=(
        "Scrap that is warmed gives off oil smoke, and this gas is mostly carbon monoxide: no one "
        "works where it can leak.",
        "Scrap must be dry and open before it meets metal: no ice, no closed containers.",
    ),
)


_LFL_PCT = {h.key: h.value for h in co_hazards() if h.key in ("co_lfl_iec", "co_lfl_nfpa")}


def _limit(co_pct):
    return lower_flammable_limit_pct(Gas({"CO": co_pct, "N2": 100.0 - co_pct}, 25.0))


_LIMIT = Problem(
    key="off_gas.flammable",
    title="When does the mixture burn?",
    text="""Converter gas with {co_pct} CO (nothing else in it burns) leaks into air. Two standards give the lower flammable limit of pure CO: 10.9 %
(IEC 60079-20-1, 2010) and 12.5 % (NFPA 497, 2008), in volume % of the mixture. From what volume % of this gas in air do you treat the mixture as
flammable? Use the mixing rule: limit of the gas = limit of CO over its share of CO.""",
    given=(Given("co_pct", "CO in the gas", "%", 45, 75, 0.5, "recovered gas, lean and rich"),),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_limit,
    slips=(
        slip.times(
            "higher_limit",
            "You used 12.5 %. Where two standards disagree on a danger, take the one that warns "
            "earlier.",
            _LFL_PCT["co_lfl_nfpa"] / _LFL_PCT["co_lfl_iec"],
        ),
        slip.times(
            "mean_limit",
            "You took the mean of the two. A limit of danger is not averaged: take the lower.",
            0.5 * (1.0 + _LFL_PCT["co_lfl_nfpa"] / _LFL_PCT["co_lfl_iec"]),
        ),
        slip.times(
            "multiplied",
            "You multiplied by the share of CO; with less CO in it, more gas is needed before it "
            "burns.",
            lambda given: (given["co_pct"] / 100.0) ** 2,
        ),
        Slip(
            "pure",
            "This is the limit of pure CO; the gas holds {co_pct}.",
            solve=lambda co_pct: _LFL_PCT["co_lfl_iec"] + 0.0 * co_pct,
        ),
    ),
    hints=(
        "Which of the two limits is on the safe side?",
        "Does a gas with less CO begin to burn at a lower or a higher share in air?",
        "10.9 % ÷ ({co_pct:n}/100).",
    ),
    worked="""10.9 ÷ ({co_pct:n}/100) = **{answer}**. The rule is an estimate, no published limit of converter gas was found, and hot gas burns
leaner. A confined space counts as hazardous from a tenth of the limit (29 CFR 1910.146); people are poisoned long before that.""",
    cautions=(
        _CO,
        "Explosion limits are for those who design hoods and purge lines by the codes in force; "
        "this sum only shows how they are read.",
    ),
)

_RUNGS_PPM = tuple(
    next(h.value for h in co_hazards() if h.key == key)
    for key in ("co_niosh_ceiling", "co_idlh", "co_minutes")
)


def _ppm(leak_m3, co_pct, room_m3):
    return leak_m3 * co_pct / 100.0 / room_m3 * 1e6


def _leak(leak_m3, co_pct, room_m3):
    ppm = _ppm(leak_m3, co_pct, room_m3)
    return 1.0 + np.searchsorted(_RUNGS_PPM, ppm), ppm


_LEAK = Problem(
    key="off_gas.leak",
    title="A leak into a cabin",
    text="""{leak_m3} of converter gas with {co_pct} CO leak into a closed cabin of {room_m3} and mix with its air (all counted at the cabin's
temperature). How much carbon monoxide is that in ppm by volume, and what does it mean?""",
    given=(
        Given(
            "leak_m3", "gas that leaked in", "m3", 0.05, 1.5, 0.05, "a small leak for a short time"
        ),
        Given(
            "co_pct",
            "CO in the gas",
            "%",
            55,
            70,
            1,
            "recovered gas, a trade text and this course's sums",
        ),
        Given("room_m3", "cabin", "m3", 40, 300, 10, "a control cabin to a small hall"),
    ),
    answer=Choice(
        ordered=True,
        options=(
            "above every limit for a working day, below the ceiling of 200 ppm",
            "above the ceiling of 200 ppm, below 1200 ppm",
            "above 1200 ppm: immediately dangerous to life or health",
            "above 12 800 ppm: death in one to three minutes",
        ),
        sentences=(
            "Limits for a working day are 20 to 50 ppm, by country and body. Above them nobody "
            "stays: leave, report, ventilate by the works' rules.",
            "The ceiling recommended by NIOSH, 200 ppm, is not to be passed at any time: out at "
            "once.",
            "At 1200 ppm life is in danger, at 1600 people collapse in some twenty minutes. Rescue "
            "is for trained people with breathing apparatus.",
            "Who goes in without air of their own does not come out. Nobody follows a fallen mate.",
        ),
        number=Answer("ppm", _PER_CENT, tolerance_pct=1.0),
    ),
    solve=_leak,
    slips=(
        Slip(
            "co_share",
            "You counted all of the leak as CO; {co_pct} of it is.",
            solve=lambda leak_m3, co_pct, room_m3: _ppm(leak_m3, 100.0 + 0.0 * co_pct, room_m3),
        ),
        Slip(
            "mg_m3",
            "This is in mg/m3 at 25 °C; ppm counts volumes.",
            solve=lambda leak_m3, co_pct, room_m3: ppm_to_mg_m3(_ppm(leak_m3, co_pct, room_m3)),
        ),
        Slip(
            "percent",
            "This is in volume %; one % is 10 000 ppm.",
            solve=lambda leak_m3, co_pct, room_m3: _ppm(leak_m3, co_pct, room_m3) / 1e4,
        ),
    ),
    hints=(
        "How many m3 of pure CO came in?",
        "Divide by the volume of the cabin. A millionth is 1 ppm.",
        "{leak_m3:n} × {co_pct:n}/100 ÷ {room_m3:n} × 1 000 000; then look on the ladder of the "
        "lesson.",
    ),
    worked="""{leak_m3:n} × {co_pct:n}/100 ÷ {room_m3:n} × 10⁶ = **{answer}**, which is line {line}. A bucket or two of such gas bring a cabin of 50
m3 to the ceiling of 200 ppm: that is why alarms stand at a few ten ppm.""",
    plausible=lambda answer, **given: (
        (answer[1] > 60.0)
        & np.all([abs(answer[1] / rung - 1.0) > 0.05 for rung in _RUNGS_PPM], axis=0)
    ),
    cautions=(_CO,),
)


PROBLEMS = (_CARBON_RATE, _MOUTH, _RECOVERED, _SEVEN, _MELTED, _FLUE, _PREHEAT, _LIMIT, _LEAK)
