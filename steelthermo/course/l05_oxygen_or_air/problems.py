"""Problems of lesson 05: why oxygen and not air? Nitrogen by the coefficient set jsps; steel
counted as pure iron for nitrogen.
"""

import numpy as np

from ...base import kelvin
from ...charge import blast, purity_for_nitrogen_pct, scrap_lost_kg_t
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip
from ...streams import Gas
from ...thermo import gas_solubility_pct

SET = "jsps"
PPM = 1e4  # in one mass %
_HAND = "one and a half per cent covers rounding to three figures"
_STEEL = Given(
    "temp_c",
    "steel",
    "°C",
    1580,
    1700,
    10,
    "converter steel, common practice",
    follows="end_point.temp_c",
    least=1540,
)


# ---- 1 -------------------------------------------------------------------------------------------


def _ballast(oxygen_nm3_t, purity_pct):
    return blast(purity_pct, oxygen_nm3_t).ballast_nm3_t


_BALLAST = Problem(
    key="oxygen_or_air.ballast",
    title="What comes along uninvited",
    text="""Counted on the steel, a heat needs {oxygen_nm3_t} of O2. It is blown with enriched air of {purity_pct} O2 (volume %). How
many Nm3 of other gas, nearly all nitrogen, come along per t of steel?""",
    given=(
        Given("oxygen_nm3_t", "O2 needed", "Nm3/t", 42, 58, 0.5, "near 50 Nm3/t, common practice"),
        Given(
            "purity_pct", "oxygen in the blast", "%", 21, 45, 1, "from air to strongly enriched air"
        ),
    ),
    answer=Answer("Nm3/t", _HAND, tolerance_pct=1.5),
    solve=_ballast,
    slips=(
        Slip(
            "of_the_oxygen",
            "You took the nitrogen as a share of the O2 needed; its share belongs to the gas "
            "blown, which is larger.",
            solve=lambda oxygen_nm3_t, purity_pct: oxygen_nm3_t * (100.0 - purity_pct) / 100.0,
        ),
        Slip(
            "all_blown",
            "This is all the gas blown; take off the O2.",
            solve=lambda oxygen_nm3_t, purity_pct: oxygen_nm3_t / purity_pct * 100.0,
        ),
        Slip(
            "mass_for_volume",
            "You turned the shares into mass; the purity of a gas is volume %.",
            solve=lambda oxygen_nm3_t, purity_pct: (
                oxygen_nm3_t * (100.0 - purity_pct) * 28.013 / (purity_pct * 31.998)
            ),
        ),
        Slip(
            "upside_down",
            "You turned the two shares round.",
            solve=lambda oxygen_nm3_t, purity_pct: oxygen_nm3_t * purity_pct / (100.0 - purity_pct),
        ),
    ),
    hints=(
        "How much gas must be blown so that {oxygen_nm3_t} of O2 are in it?",
        "Gas blown = {oxygen_nm3_t:n}/({purity_pct:n}/100).",
        "Other gas = {oxygen_nm3_t:n} × (100 − {purity_pct:n})/{purity_pct:n}.",
    ),
    worked="""Gas blown: {oxygen_nm3_t:n}/({purity_pct:n}/100) Nm3. Of it {oxygen_nm3_t:n} is O2; the rest, {oxygen_nm3_t:n} × (100
− {purity_pct:n})/{purity_pct:n}, is **{answer}**. With oxygen of 99.5 % it would be a quarter of one Nm3.""",
)


# ---- 2 -------------------------------------------------------------------------------------------


def _nitrogen_mj(nm3, temp_c):
    return Gas({"N2": nm3}, temp_c).sensible_kj() / 1000.0


_HEAT = Problem(
    key="oxygen_or_air.heat_out",
    title="What it carries off",
    text="""Counted on the steel, {n2_nm3_t} of nitrogen enter at 25 °C and leave the mouth at {gas_temp_c}. How much heat do they carry
off, in MJ per t of steel? From 25 °C to there nitrogen takes 1.46 kJ per Nm3 and degree.""",
    given=(
        Given("n2_nm3_t", "nitrogen", "Nm3/t", 40, 200, 2, "enriched air to air"),
        Given(
            "gas_temp_c",
            "gas at the mouth",
            "°C",
            1500,
            1700,
            10,
            "gas of a converter, common practice",
            follows="gas.temp_c",
            least=1460,
            most=1760,
        ),
    ),
    answer=Answer(
        "MJ/t",
        "one and a half per cent covers the mean heat capacity used for the whole range",
        tolerance_pct=1.5,
    ),
    solve=lambda n2_nm3_t, gas_temp_c: _nitrogen_mj(n2_nm3_t, gas_temp_c),
    slips=(
        Slip(
            "kelvin_level",
            "You multiplied by the temperature in kelvin; what counts is the rise from 25 °C.",
            after=lambda answer, given: (
                answer * kelvin(given["gas_temp_c"]) / (given["gas_temp_c"] - 25.0)
            ),
        ),
        Slip(
            "actual_volume",
            "You turned the Nm3 into the volume the hot gas fills. An Nm3 is an amount of gas: "
            "leave it as it is.",
            after=lambda answer, given: answer * kelvin(given["gas_temp_c"]) / 273.15,
        ),
        slip.times("in_kj", "This is in kJ; 1000 kJ are one MJ.", 1000.0),
    ),
    hints=(
        "By how many degrees is the nitrogen heated?",
        "Heat = amount × 1.46 kJ/(Nm3 K) × degrees.",
        "{n2_nm3_t:n} × 1.46 × ({gas_temp_c:n} − 25) kJ; then in MJ.",
    ),
    worked="""{n2_nm3_t:n} × 1.46 × ({gas_temp_c:n} − 25)/1000 = **{answer}**. All heat in a heat account is some 1750 MJ per t of
steel.""",
)


# ---- 3 -------------------------------------------------------------------------------------------

_SCRAP = Problem(
    key="oxygen_or_air.scrap_lost",
    title="What it costs in scrap",
    text="""The ballast of a blast carries {heat_mj_t}, counted on the steel, out of the mouth. How much cold scrap could this heat have
melted and brought to {temp_c}, in kg per t of steel? Count scrap as pure iron: 1354 MJ/t at 1600 °C above 25 °C and 0.824 MJ/t for each
further degree.""",
    given=(
        Given("heat_mj_t", "heat carried off", "MJ/t", 20, 430, 5, "oxygen of 80 % to air"),
        Given(
            "temp_c",
            "steel",
            "°C",
            1600,
            1700,
            10,
            "end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Answer("kg/t", _HAND, tolerance_pct=1.5),
    solve=lambda heat_mj_t, temp_c: scrap_lost_kg_t(heat_mj_t, temp_c),
    slips=(
        Slip(
            "no_fusion",
            "You left out the heat of fusion, 247 MJ/t.",
            after=lambda answer, given: (
                answer
                * (1354.0 + 0.824 * (given["temp_c"] - 1600.0))
                / (1107.0 + 0.824 * (given["temp_c"] - 1600.0))
            ),
        ),
        Slip(
            "fusion_only",
            "You only melted the scrap; it comes cold and must be heated as well.",
            after=lambda answer, given: (
                answer * (1354.0 + 0.824 * (given["temp_c"] - 1600.0)) / 247.0
            ),
        ),
        slip.times(
            "tonnes",
            "This is in tonnes per tonne; kg per tonne is a thousand times as much.",
            0.001,
        ),
    ),
    hints=(
        "How much heat does one tonne of scrap take to {temp_c}?",
        "One tonne takes 1354 + 0.824 × ({temp_c:n} − 1600) MJ.",
        "{heat_mj_t:n} divided by that, times 1000 kg.",
    ),
    worked="""One tonne takes 1354 + 0.824 × ({temp_c:n} − 1600) MJ. {heat_mj_t:n}/that × 1000 = **{answer}**. An air-blown heat
could melt hardly any scrap: with oxygen it melts a quarter of its charge.""",
    cautions=(
        "Scrap must be dry and open: water or ice shut in scrap flashes to steam under liquid "
        "metal and throws it out.",
    ),
)


# ---- 4 -------------------------------------------------------------------------------------------


def _pressure(purity_pct, carbon_share_pct):
    return blast(purity_pct, carbon_share_pct=carbon_share_pct, argon_pct=0.0).n2_atm


def _diluted(purity_pct, gas_per_o2):
    return (100.0 - purity_pct) / (100.0 - purity_pct + purity_pct * gas_per_o2)


_PRESSURE = Problem(
    key="oxygen_or_air.nitrogen_pressure",
    title="How much nitrogen meets the bath?",
    text="""Oxygen of {purity_pct} purity is blown; the rest is nitrogen. {carbon_share_pct} of the O2 burns carbon to CO, the
rest goes into the slag. What is the pressure of nitrogen, in atm, in the gas at the bath, 1 atm in all?""",
    given=(
        Given("purity_pct", "purity", "%", 95.0, 99.8, 0.1, "from poor to good oxygen"),
        Given(
            "carbon_share_pct",
            "share of the O2 on carbon",
            "%",
            40,
            100,
            5,
            "most of it in mid-blow, little at the end",
        ),
    ),
    answer=Answer("atm", "two per cent covers rounding to three figures", tolerance_pct=2.0),
    solve=_pressure,
    slips=(
        Slip(
            "one_co_per_o2",
            "One O2 makes two CO: the carbon gas has twice the volume of its oxygen.",
            solve=lambda purity_pct, carbon_share_pct: _diluted(
                purity_pct, carbon_share_pct / 100.0
            ),
        ),
        Slip(
            "not_diluted",
            "You took the share in the oxygen blown; at the bath nitrogen is mixed with the CO.",
            solve=lambda purity_pct, carbon_share_pct: (100.0 - purity_pct) / 100.0,
        ),
        Slip(
            "all_oxygen_on_carbon",
            "Only {carbon_share_pct} of the oxygen makes CO; the rest goes into the slag and "
            "dilutes nothing.",
            solve=lambda purity_pct, carbon_share_pct: _diluted(purity_pct, 2.0),
        ),
        Slip(
            "percent_left",
            "You gave the pressure in %; of one atmosphere, 1 % is 0.01 atm.",
            solve=lambda purity_pct, carbon_share_pct: (
                100.0 * _pressure(purity_pct, carbon_share_pct)
            ),
        ),
    ),
    hints=(
        "Take 100 Nm3 of the gas blown. How much nitrogen is in it, and how much CO does its "
        "oxygen make?",
        "CO = {purity_pct:n} × {carbon_share_pct:n}/100 × 2.",
        "p = nitrogen/(nitrogen + CO), with nitrogen = 100 − {purity_pct:n}.",
    ),
    worked="""Of 100 Nm3: nitrogen 100 − {purity_pct:n}; CO 2 × {purity_pct:n} × {carbon_share_pct:n}/100. Nitrogen over the sum of
both: **{answer}**. The CO thins the nitrogen: when little carbon burns, at the end of the blow, the same oxygen brings nearly twice the
pressure.""",
)


# ---- 5 -------------------------------------------------------------------------------------------


def _ppm(p_atm, temp_c):
    return PPM * gas_solubility_pct("N", p_atm, kelvin(temp_c), None, SET)


_SIEVERTS = Problem(
    key="oxygen_or_air.sieverts",
    title="The square root of a pressure",
    text="""The gas at the bath holds nitrogen at {p_atm}; the steel is at {temp_c}. How much nitrogen can it dissolve, in ppm?
log %N = −518/T − 1.054 + ½ log p, T in kelvin, p in atm.""",
    given=(
        Given("p_atm", "pressure of nitrogen", "atm", 0.002, 0.6, 0.002, "good oxygen to air"),
        _STEEL,
    ),
    answer=Answer(
        "ppm", "two per cent covers an exponent worked out to three figures", tolerance_pct=2.0
    ),
    solve=_ppm,
    slips=(
        Slip(
            "root_forgotten",
            "Two atoms come from one molecule: the content goes with the root of the pressure.",
            solve=lambda p_atm, temp_c: p_atm * _ppm(1.0, temp_c),
        ),
        slip.times("percent_for_ppm", "This is in %; 1 % is 10 000 ppm.", 1.0 / PPM),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into −518/T as it stands; T is kelvin, so add 273.15.",
            solve=lambda p_atm, temp_c: PPM * 10.0 ** (-518.0 / temp_c - 1.054) * np.sqrt(p_atm),
        ),
        Slip(
            "natural_for_common_log",
            "You took e to the power of the logarithm; here log is log10.",
            solve=lambda p_atm, temp_c: (
                PPM * np.exp(-518.0 / kelvin(temp_c) - 1.054 + 0.5 * np.log10(p_atm))
            ),
        ),
    ),
    hints=(
        "First log %N, then %N, then ppm.",
        "Half of the logarithm of {p_atm:n} is the logarithm of its root.",
        "%N = 10^(−518/({temp_c:n} + 273.15) − 1.054) × √{p_atm:n}.",
    ),
    worked="""%N = 10^(−518/({temp_c:n} + 273.15) − 1.054) × √{p_atm:n}; times 10 000: **{answer}**. Under one whole atmosphere it
would be some 460 ppm. To halve the nitrogen you must quarter the pressure.""",
)


# ---- 6 -------------------------------------------------------------------------------------------


def _rest(nitrogen_ppm, temp_c, carbon_share_pct):
    return 100.0 - purity_for_nitrogen_pct(
        nitrogen_ppm / PPM, temp_c, carbon_share_pct, coefficients=SET
    )


def _rest_by_hand(nitrogen_ppm, temp_c, gas_per_o2, power=2.0):
    p = (nitrogen_ppm / _ppm(1.0, temp_c)) ** power
    n2_per_o2 = p / (1.0 - p) * gas_per_o2
    return 100.0 * n2_per_o2 / (1.0 + n2_per_o2)


_PURITY = Problem(
    key="oxygen_or_air.purity",
    title="What oxygen must be ordered?",
    text="""The ceiling of nitrogen must not lie above {nitrogen_ppm} in steel of {temp_c}. {carbon_share_pct} of the O2 makes CO;
1 atm in all. How much nitrogen may the oxygen hold at most, in volume %? log %N = −518/T − 1.054 + ½ log p. One Nm3 of O2 makes two of CO.""",
    given=(
        Given(
            "nitrogen_ppm",
            "aim of nitrogen",
            "ppm",
            15,
            60,
            1,
            "good steel to ordinary steel, common practice",
        ),
        _STEEL,
        Given(
            "carbon_share_pct",
            "share of the O2 on carbon",
            "%",
            50,
            100,
            5,
            "over a blow, or near its end",
        ),
    ),
    answer=Answer(
        "%", "five per cent: the rounding of the logarithm is squared", tolerance_pct=5.0
    ),
    solve=_rest,
    slips=(
        Slip(
            "root_forgotten",
            "You took the pressure proportional to the nitrogen; it goes with its square.",
            solve=lambda nitrogen_ppm, temp_c, carbon_share_pct: _rest_by_hand(
                nitrogen_ppm, temp_c, carbon_share_pct / 50.0, 1.0
            ),
        ),
        Slip(
            "not_diluted",
            "This is the share in the gas at the bath. CO thins the nitrogen, so the oxygen may "
            "hold more.",
            solve=lambda nitrogen_ppm, temp_c, carbon_share_pct: (
                100.0 * (nitrogen_ppm / _ppm(1.0, temp_c)) ** 2
            ),
        ),
        Slip(
            "purity_given",
            "This is the purity; its rest to 100 % is asked for.",
            after=lambda answer, given: 100.0 - answer,
        ),
        Slip(
            "one_co_per_o2",
            "One O2 makes two CO, not one.",
            solve=lambda nitrogen_ppm, temp_c, carbon_share_pct: _rest_by_hand(
                nitrogen_ppm, temp_c, carbon_share_pct / 100.0
            ),
        ),
    ),
    hints=(
        "Which pressure of nitrogen belongs to {nitrogen_ppm}? Turn Sieverts' law round.",
        "p = (%N/K)² with K = 10^(−518/({temp_c:n} + 273.15) − 1.054).",
        "Per Nm3 of O2 the gas at the bath has 2 × {carbon_share_pct:n}/100 Nm3 of CO: nitrogen "
        "per O2 = p/(1 − p) × that. Then in % of the gas blown.",
    ),
    worked="""K = 10^(−518/({temp_c:n} + 273.15) − 1.054), p = ({nitrogen_ppm:n}/(10 000 K))². Nitrogen per O2: n = p/(1 − p) × 2 ×
{carbon_share_pct:n}/100. In % of the gas blown: 100 n/(1 + n) = **{answer}**. That is why oxygen of 99 % and better is bought.""",
)


# ---- 7 -------------------------------------------------------------------------------------------


def _hot_blast(back_pct, gas_temp_c):
    grid = np.linspace(25.0, 1700.0, 336)
    heat = _nitrogen_mj(np.ones_like(grid), grid)
    return np.interp(back_pct / 100.0 * _nitrogen_mj(1.0, gas_temp_c), heat, grid)


_PREHEAT = Problem(
    key="oxygen_or_air.hot_blast",
    title="Could a hot blast help?",
    text="""Nitrogen leaves a vessel at {gas_temp_c}. How hot must the blast be, in °C, so that its nitrogen brings {back_pct} of
that heat back? From 25 °C to {gas_temp_c} nitrogen takes 1.46 kJ per Nm3 and degree. Above 25 °C one Nm3 holds 361 kJ at 300, 634 at 500,
919 at 700, 1213 at 900 and 1516 kJ at 1100 °C; interpolate.""",
    given=(
        Given(
            "back_pct", "heat brought back", "%", 25, 60, 1, "what stoves can do, and somewhat less"
        ),
        Given(
            "gas_temp_c",
            "gas at the mouth",
            "°C",
            1520,
            1680,
            10,
            "gas of a converter, common practice",
            follows="gas.temp_c",
            least=1460,
            most=1760,
        ),
    ),
    answer=Answer(
        "°C",
        "twelve degrees cover the mean heat capacity and the interpolation",
        tolerance_abs=12.0,
    ),
    solve=_hot_blast,
    slips=(
        Slip(
            "straight_share",
            "You took the share of the temperature rise. Cold nitrogen takes less heat per degree "
            "than hot, so the blast must be hotter than that.",
            solve=lambda back_pct, gas_temp_c: 25.0 + back_pct / 100.0 * (gas_temp_c - 25.0),
        ),
        Slip(
            "other_share",
            "You brought back what should be lost: {back_pct} is the part that comes back.",
            solve=lambda back_pct, gas_temp_c: _hot_blast(100.0 - back_pct, gas_temp_c),
        ),
        slip.kelvin_for_celsius("gas_temp_c"),
    ),
    hints=(
        "What heat does one Nm3 of nitrogen carry off at {gas_temp_c}?",
        "Take {back_pct} of it and look where it lies among the five heats.",
        "Heat = {back_pct:n}/100 × 1.46 × ({gas_temp_c:n} − 25) kJ; between two temperatures of "
        "the list, go up in proportion.",
    ),
    worked="""{back_pct:n}/100 × 1.46 × ({gas_temp_c:n} − 25) kJ per Nm3 must come back. In the list that heat belongs to
**{answer}**. Even a stove for such a blast does nothing against the nitrogen in the steel.""",
)


# ---- 8 -------------------------------------------------------------------------------------------


def _with_argon(purity_pct, argon_pct, temp_c):
    return (
        PPM * blast(purity_pct, temp_c=temp_c, argon_pct=argon_pct, coefficients=SET).nitrogen_pct
    )


def _by_rest(purity_pct, rest_pct, temp_c, gas_per_o2=2.0):
    """Ceiling with rest_pct of nitrogen in the gas blown; for slips."""
    ballast = 100.0 - purity_pct
    return _ppm(rest_pct / (ballast + gas_per_o2 * purity_pct), temp_c)


_ARGON = Problem(
    key="oxygen_or_air.argon",
    title="The rest is not all nitrogen",
    text="""A supplier's oxygen has {purity_pct} O2 and {argon_pct} argon; the rest is nitrogen. All O2 makes CO; 1 atm in all.
How high is the ceiling of nitrogen in steel of {temp_c}, in ppm? log %N = −518/T − 1.054 + ½ log p, T in kelvin.""",
    given=(
        Given(
            "purity_pct",
            "purity",
            "%",
            99.0,
            99.6,
            0.1,
            "oxygen of air separation, common practice",
            follows="oxygen.purity_pct",
            least=98.5,
            most=99.6,
        ),
        Given(
            "argon_pct",
            "argon",
            "%",
            0.1,
            0.3,
            0.05,
            "argon boils next to oxygen and stays with it",
            follows="oxygen.argon_pct",
            most=0.4,
        ),
        _STEEL,
    ),
    answer=Answer(
        "ppm", "three per cent covers rounding of pressure and exponent", tolerance_pct=3.0
    ),
    solve=_with_argon,
    slips=(
        Slip(
            "argon_as_nitrogen",
            "You counted the argon as nitrogen; it does not dissolve in steel.",
            solve=lambda purity_pct, argon_pct, temp_c: _by_rest(
                purity_pct, 100.0 - purity_pct, temp_c
            ),
        ),
        Slip(
            "argon_alone",
            "You took the argon for the nitrogen: nitrogen is what argon and oxygen leave to 100 "
            "%.",
            solve=lambda purity_pct, argon_pct, temp_c: _by_rest(purity_pct, argon_pct, temp_c),
        ),
        Slip(
            "one_co_per_o2",
            "One O2 makes two CO: the nitrogen is thinned twice as much.",
            solve=lambda purity_pct, argon_pct, temp_c: _by_rest(
                purity_pct, 100.0 - purity_pct - argon_pct, temp_c, 1.0
            ),
        ),
        Slip(
            "root_forgotten",
            "You left out the root: ½ log p is the logarithm of √p.",
            solve=lambda purity_pct, argon_pct, temp_c: (
                _ppm(1.0, temp_c)
                * (_by_rest(purity_pct, 100.0 - purity_pct - argon_pct, temp_c) / _ppm(1.0, temp_c))
                ** 2
            ),
        ),
    ),
    hints=(
        "How much nitrogen do 100 Nm3 of this oxygen hold?",
        "100 − {purity_pct:n} − {argon_pct:n} of nitrogen, in 100 − {purity_pct:n} + 2 × "
        "{purity_pct:n} Nm3 of gas.",
        "p = (100 − {purity_pct:n} − {argon_pct:n})/(100 + {purity_pct:n}); then Sieverts' law.",
    ),
    worked="""p = (100 − {purity_pct:n} − {argon_pct:n})/(100 + {purity_pct:n}) atm; %N = 10^(−518/({temp_c:n} + 273.15) − 1.054) ×
√p; in ppm **{answer}**. Two oxygens of one purity can differ by a third in the nitrogen they allow: ask for the argon.""",
)


# ---- 9 -------------------------------------------------------------------------------------------


def _needed_atm(found_ppm, temp_c):
    return (found_ppm / _ppm(1.0, temp_c)) ** 2


_ABOVE = Problem(
    key="oxygen_or_air.above_the_ceiling",
    title="More than the ceiling",
    text="""Blown with oxygen of 99.5 %, steel of {temp_c} had a ceiling near 17 ppm. The ladle sample shows {found_ppm}. Under
which pressure of nitrogen, in atm, would that be the equilibrium? And which line explains it best? log %N = −518/T − 1.054 + ½ log p.
Choose the line and type the number.""",
    given=(
        Given(
            "found_ppm", "nitrogen in the ladle", "ppm", 36, 70, 1, "after the tap, in killed steel"
        ),
        _STEEL,
    ),
    answer=Choice(
        options=(
            "Sieverts' law fails at such small pressures.",
            "The oxygen was blown too fast for the ceiling to hold.",
            "The steel met air after the blow: in the tap stream, in the ladle, or in a second "
            "blow with an air-filled vessel.",
            "The laboratory counts argon as nitrogen.",
        ),
        sentences=(
            "It holds well at small pressures; that is where it was found.",
            "Time can keep steel below its ceiling, never above it.",
            "Yes. A ceiling holds for the gas that touches the steel. Air has 0.78 atm of "
            "nitrogen, enough for some 400 ppm: a little of it does this.",
            "Argon does not dissolve in steel, and the analysis would not see it.",
        ),
        number=Answer(
            "atm", "four per cent: the rounding of the logarithm is squared", tolerance_pct=4.0
        ),
    ),
    solve=lambda found_ppm, temp_c: (3 + 0 * found_ppm, _needed_atm(found_ppm, temp_c)),
    slips=(
        Slip(
            "root_forgotten",
            "You took the pressure proportional to the nitrogen; it goes with its square.",
            solve=lambda found_ppm, temp_c: (
                3 + 0 * found_ppm,
                np.sqrt(_needed_atm(found_ppm, temp_c)),
            ),
        ),
        slip.times("ppm_for_percent", "1 % is 10 000 ppm: divide the ppm by 10 000 first.", PPM**2),
    ),
    hints=(
        "Turn Sieverts' law round: p = (%N/K)².",
        "Which gas with so much nitrogen could the steel have met, and when?",
        "K = 10^(−518/({temp_c:n} + 273.15) − 1.054); p = ({found_ppm:n}/(10 000 K))².",
    ),
    worked="""K = 10^(−518/({temp_c:n} + 273.15) − 1.054), p = ({found_ppm:n}/(10 000 K))² = **{answer}**: a gas with one to three
per cent of air. Line {line}. An abstract reports steel that rose from 10 to more than 40 ppm in 20 minutes of contact with air. Killed
steel takes nitrogen up faster, because oxygen no longer guards its surface.""",
)


PROBLEMS = (_BALLAST, _HEAT, _SCRAP, _PRESSURE, _SIEVERTS, _PURITY, _PREHEAT, _ARGON, _ABOVE)
