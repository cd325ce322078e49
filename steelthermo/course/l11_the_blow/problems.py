"""Problems of lesson 11: what happens minute by minute?"""

import numpy as np

from ...base import molar_mass, molar_volume_nm3_kmol
from ...blow import critical_rate_per_min, oxygen_ceiling_pct_min, three_periods
from ...charge import nm3_per_kg
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip

_PER_CENT = "one per cent covers rounding on the way"

_CEILING = Problem(
    key="the_blow.ceiling",
    title="The fastest that carbon can burn",
    text="""A lance blows {flow_nm3_min} of pure oxygen onto {metal_t} of metal. If every bit of it burnt carbon, with {co2_pct} of the carbon going
to CO2 and the
rest to CO, how fast would the carbon fall, in % per minute? C 12.011; 22.414 Nm3/kmol.""",
    given=(
        Given(
            "flow_nm3_min",
            "oxygen",
            "Nm3/min",
            300,
            620,
            10,
            "2 to 4 Nm3 per minute and tonne",
            follows="oxygen.flow_nm3_min",
        ),
        Given(
            "metal_t",
            "metal",
            "t",
            140,
            240,
            10,
            "common sizes of a converter",
            follows="vessel.tap_t",
        ),
        Given(
            "co2_pct",
            "share to CO2",
            "%",
            5,
            18,
            1,
            "10 to 15 % at the mouth, common practice",
            follows="gas.co2_pct",
            least=4,
            most=30,
        ),
    ),
    answer=Answer("%/min", _PER_CENT, tolerance_pct=1.0),
    solve=lambda flow_nm3_min, metal_t, co2_pct: oxygen_ceiling_pct_min(
        flow_nm3_min, metal_t, co2_pct / 100.0
    ),
    slips=(
        slip.forgot("co2_pct", 0.0, "the CO2, which takes twice the oxygen of CO"),
        Slip(
            "atoms",
            "A molecule of oxygen holds two atoms: it burns two atoms of carbon to CO.",
            after=lambda answer, given: answer / 2.0,
        ),
        Slip(
            "kilograms",
            "This is in kg of carbon per minute; divide by the mass of metal.",
            after=lambda answer, given: answer * 10.0 * given["metal_t"],
        ),
    ),
    hints=(
        "How many kmol of oxygen come in a minute, and how many kmol of carbon can they burn?",
        "Each kmol of carbon takes ½ × (1 + {co2_pct:n}/100) kmol of O2.",
        "kg of carbon per minute, divided by 10 × {metal_t:n}, is % per minute.",
    ),
    worked="""{flow_nm3_min:n}/22.414 ÷ (½ × (1 + {co2_pct:n}/100)) × 12.011 kg of carbon per minute; ÷ (10 × {metal_t:n}): **{answer}**. No lance
practice can beat it.""",
)


def _gas(rate_pct_min, metal_t):
    return rate_pct_min * 10.0 * metal_t / molar_mass("C") * molar_volume_nm3_kmol()


_GAS = Problem(
    key="the_blow.gas_flow",
    title="Gas at the peak",
    text="""In the middle of the blow carbon falls by {rate_pct_min} in {metal_t} of metal. How many Nm3 of CO and CO2 leave per minute? C 12.011;
22.414 Nm3/kmol.""",
    given=(
        Given("rate_pct_min", "rate", "%/min", 0.2, 0.34, 0.01, "middle of the blow, as recalled"),
        Given(
            "metal_t",
            "metal",
            "t",
            140,
            240,
            10,
            "common sizes of a converter",
            follows="vessel.tap_t",
        ),
    ),
    answer=Answer("Nm3/min", _PER_CENT, tolerance_pct=1.0),
    solve=_gas,
    slips=(
        slip.times("tenfold", "1 % of a tonne is 10 kg.", 0.1),
        Slip(
            "oxygen",
            "This is the oxygen it takes; each atom of carbon makes a whole molecule of gas.",
            after=lambda answer, given: answer / 2.0,
        ),
        slip.times(
            "one_tonne", "This is for one tonne of metal.", lambda given: 1.0 / given["metal_t"]
        ),
    ),
    hints=(
        "How many kg of carbon burn in a minute?",
        "{rate_pct_min:n} × 10 × {metal_t:n} kg.",
        "Each kmol of carbon makes one kmol of gas, whichever it is.",
    ),
    worked="""{rate_pct_min:n} × 10 × {metal_t:n}/12.011 × 22.414 = **{answer}**. Hood and fans are built for this peak.""",
    cautions=("Nine tenths of this gas is carbon monoxide, poisonous and explosive with air.",),
)


def _straight(start_pct, ramp_min, rate_pct_min, time_min):
    return three_periods(time_min, start_pct, rate_pct_min, ramp_min, 0.4)


_CARBON_AT = Problem(
    key="the_blow.carbon_at",
    title="Carbon after some minutes",
    text="""Metal with {start_pct} C is blown. The rate of decarburisation rises evenly from nothing to {rate_pct_min} in the first {ramp_min}, while
silicon burns, and then
stays there. What carbon is left after {time_min}?""",
    given=(
        Given(
            "start_pct",
            "carbon at the start",
            "%",
            3.9,
            4.5,
            0.1,
            "mixture of hot metal and melting scrap",
        ),
        Given("ramp_min", "time of the rise", "min", 3, 5, 0.5, "first quarter of the blow"),
        Given("rate_pct_min", "rate", "%/min", 0.24, 0.32, 0.01, "middle of the blow, as recalled"),
        Given("time_min", "time", "min", 8, 11, 0.5, "middle of the blow"),
    ),
    answer=Answer("%", "two per cent covers rounding of a difference", tolerance_pct=2.0),
    solve=lambda **given: (
        np.vectorize(_straight)(**given) if np.ndim(given["start_pct"]) else _straight(**given)
    ),
    slips=(
        Slip(
            "no_ramp",
            "You let it burn at the full rate from the first minute; in the rise it burns half as "
            "much.",
            solve=lambda start_pct, ramp_min, rate_pct_min, time_min: (
                start_pct - rate_pct_min * time_min
            ),
        ),
        Slip(
            "nothing_in_ramp",
            "You let nothing burn while the rate rises; on average it is half the full rate.",
            solve=lambda start_pct, ramp_min, rate_pct_min, time_min: (
                start_pct - rate_pct_min * (time_min - ramp_min)
            ),
        ),
        Slip(
            "burnt",
            "This is what has burnt; what is left is asked for.",
            after=lambda answer, given: given["start_pct"] - answer,
        ),
    ),
    hints=(
        "Draw the rate against time: a triangle, then a rectangle. What is burnt is the area.",
        "Triangle: ½ × {ramp_min:n} × {rate_pct_min:n}. Rectangle: ({time_min:n} − {ramp_min:n}) × "
        "{rate_pct_min:n}.",
        "{start_pct:n} less both.",
    ),
    worked="""{start_pct:n} − ½ × {ramp_min:n} × {rate_pct_min:n} − ({time_min:n} − {ramp_min:n}) × {rate_pct_min:n} = **{answer}**.""",
    plausible=lambda answer, **given: answer > 1.0,
)


def _last(rate_pct_min, critical_pct, end_pct):
    return np.log(critical_pct / end_pct) / critical_rate_per_min(rate_pct_min, critical_pct)


_LAST = Problem(
    key="the_blow.last_period",
    title="The last minutes",
    text="""Below {critical_pct} C the rate is no longer set by the oxygen but falls in proportion to the carbon: rate = k × %C. It joins the middle
of the blow
without a step, at {rate_pct_min}. How many minutes does it take from {critical_pct} to {end_pct} C?""",
    given=(
        Given(
            "rate_pct_min",
            "rate before",
            "%/min",
            0.22,
            0.32,
            0.01,
            "middle of the blow, as recalled",
        ),
        Given("critical_pct", "critical carbon", "%", 0.25, 0.6, 0.05, "0.2 to 0.8 %, as recalled"),
        Given(
            "end_pct",
            "carbon at the end",
            "%",
            0.03,
            0.06,
            0.01,
            "soft steel",
            follows="end_point.analysis_pct.C",
        ),
    ),
    answer=Answer("min", "two per cent covers rounding of a logarithm", tolerance_pct=2.0),
    solve=_last,
    slips=(
        Slip(
            "log10",
            "The exponential law needs the natural logarithm, ln, not log10.",
            after=lambda answer, given: answer / np.log(10.0),
        ),
        Slip(
            "straight",
            "You let it burn on at the full rate; below the critical carbon it slows down.",
            solve=lambda rate_pct_min, critical_pct, end_pct: (
                (critical_pct - end_pct) / rate_pct_min
            ),
        ),
        Slip(
            "k_is_rate",
            "You put the rate itself for k; k is the rate divided by the critical carbon.",
            after=lambda answer, given: answer / given["critical_pct"],
        ),
    ),
    hints=(
        "What must k be, so that k × {critical_pct:n} is {rate_pct_min:n}?",
        "%C falls as exp(−k t).",
        "t = ln({critical_pct:n}/{end_pct:n}) ÷ ({rate_pct_min:n}/{critical_pct:n}).",
    ),
    worked="""k = {rate_pct_min:n}/{critical_pct:n} per minute; t = ln({critical_pct:n}/{end_pct:n})/k = **{answer}**. Each halving of carbon takes
the same time.""",
)


def _iron(flow_nm3_min, metal_t, rate_pct_min):
    carbon = rate_pct_min * 10.0 * metal_t * nm3_per_kg("C", 10.0)
    return (flow_nm3_min - carbon) / nm3_per_kg("Fe")


_IRON = Problem(
    key="the_blow.iron_burnt",
    title="Where the oxygen goes at the end",
    text="""Near the end {flow_nm3_min} of pure oxygen are blown onto {metal_t} of metal, but carbon falls by only {rate_pct_min}, a tenth of it
going to CO2. All else burns
iron to FeO. How many kg of iron burn in a minute? Carbon to CO takes 0.933 Nm3/kg, iron to FeO 0.2007 Nm3/kg.""",
    given=(
        Given(
            "flow_nm3_min",
            "oxygen",
            "Nm3/min",
            400,
            600,
            10,
            "2 to 4 Nm3 per minute and tonne",
            follows="oxygen.flow_nm3_min",
        ),
        Given(
            "metal_t",
            "metal",
            "t",
            160,
            200,
            5,
            "within 20 t of the size of the converter",
            follows="vessel.tap_t",
        ),
        Given("rate_pct_min", "rate", "%/min", 0.04, 0.14, 0.01, "last minutes, as recalled"),
    ),
    answer=Answer("kg/min", "two per cent covers rounding of a difference", tolerance_pct=2.0),
    solve=_iron,
    slips=(
        slip.forgot("rate_pct_min", 0.0, "the carbon that still burns"),
        Slip(
            "no_co2",
            "You let all the carbon burn to CO; a tenth takes twice the oxygen.",
            solve=lambda flow_nm3_min, metal_t, rate_pct_min: (
                (flow_nm3_min - rate_pct_min * 10.0 * metal_t * nm3_per_kg("C")) / nm3_per_kg("Fe")
            ),
        ),
        Slip(
            "oxygen_kept",
            "This is the oxygen that is left, in Nm3; the iron it burns is asked for.",
            after=lambda answer, given: answer * nm3_per_kg("Fe"),
        ),
    ),
    hints=(
        "How much oxygen does the carbon take in a minute?",
        "{rate_pct_min:n} × 10 × {metal_t:n} kg of carbon × 0.933 × 1.1.",
        "The rest, divided by 0.2007.",
    ),
    worked="""Carbon takes {rate_pct_min:n} × 10 × {metal_t:n} × 0.933 × 1.1 Nm3/min. ({flow_nm3_min:n} less that)/0.2007 = **{answer}** of iron:
several kg from every tonne, each minute. That is the price of the last hundredths of carbon.""",
    plausible=lambda answer, metal_t, **given: answer > 200.0 * np.minimum(metal_t / 160.0, 1.0),
)

_DIP = Problem(
    key="the_blow.dip_and_return",
    title="Manganese comes back",
    text="""In the first third of the blow manganese falls to a third; in the middle it rises again, though nothing with manganese was added; at the
end it falls once more. The bath
went from 1350 to {temp_c}. What happens in the middle?""",
    given=(
        Given(
            "temp_c",
            "temperature",
            "°C",
            1560,
            1680,
            20,
            "late in the blow",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Choice(
        options=(
            "Scrap melts and brings all the manganese.",
            "The sample is wrong: an element once burnt can't return.",
            "The slag loses FeO to the boiling carbon and the bath grows hotter: both send "
            "manganese from the slag back to the metal.",
            "Lime holds no MnO, so the slag gives it back when lime dissolves.",
        ),
        sentences=(
            "Scrap brings some, but far less than the rise.",
            "It can: MnO in the slag is reduced as long as something takes its oxygen.",
            "Yes. (FeO) + [Mn] = (MnO) + [Fe] runs backwards with less FeO and more heat. "
            "Phosphorus does the same, and that can spoil a heat.",
            "Dissolving lime dilutes MnO in the slag, which keeps manganese in the slag longer.",
        ),
    ),
    solve=lambda temp_c: 3,
    hints=(
        "Write the exchange of manganese between slag and metal.",
        "What happens to FeO in the middle of the blow, and what does heat do to an exothermic "
        "reaction?",
    ),
    worked="""Line {line}. Less FeO and more heat push the exchange back. In the end FeO rises again and manganese falls.""",
    vector=False,
)

_CLAIM = Problem(
    key="the_blow.what_may_be_said",
    title="What may be said?",
    text="""The model of this lesson, run for a heat that is to end at {temp_c}, gives a band from 0.02 to 0.5 % C at the same oxygen. No measured
heats could be read to check it. Which
sentence may stand in a report?""",
    given=(
        Given(
            "temp_c",
            "end temperature",
            "°C",
            1640,
            1690,
            10,
            "aims at the end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Choice(
        options=(
            "The model predicts 0.07 % C at the end of the blow.",
            "Mass and heat close; when the carbon bends, and how much iron burns for it, hangs on "
            "parameters that our own heats must fix.",
            "The model is validated, since its balances close to fifteen digits.",
            "The model is useless: a band as wide as that says nothing.",
        ),
        sentences=(
            "That is the middle of a wide band, given as if it were known.",
            "Yes. It says what is sure, what is not, and what would make it so.",
            "Closing a balance shows that nothing was lost in the sum. It does not show that the "
            "vessel does the same.",
            "It says a lot: what is sure (oxygen, heat, the order of things) and which parameter "
            "matters.",
        ),
    ),
    solve=lambda temp_c: 2,
    hints=(
        "Which part of the result is exact, and which rests on recalled parameters?",
        "What would settle it?",
    ),
    worked="""Line {line}. Show the band, name what carries it, and ask for the measurement that would narrow it.""",
    vector=False,
)

PROBLEMS = (_CEILING, _GAS, _CARBON_AT, _LAST, _IRON, _DIP, _CLAIM)
