"""Problems of lesson 13: can I tap? Probe and carbon by the coefficient set jsps."""

from math import erf, sqrt

import numpy as np

from ...base import kelvin, molar_mass, value
from ...charge import coolant_effect, nm3_per_kg, reblow
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip
from ...end_point import decide, oxygen_activity
from ...thermo import carbon_at_liquidus, carbon_with_oxygen

SET = "jsps"
PPM = 1e4  # in one mass %
_DRY = (
    "Whatever is added must be dry; who adds what, and where people stand, is laid down by the "
    "works' rules."
)
_TEMP = Given(
    "temp_c",
    "temperature",
    "°C",
    1600,
    1700,
    5,
    "end of a blow, common practice",
    follows="end_point.temp_c",
    least=1540,
)


# ---- 1 -------------------------------------------------------------------------------------------


def _ideal(emf_mv, temp_c):
    return PPM * oxygen_activity(emf_mv, kelvin(temp_c), electrolyte="ideal", coefficients=SET)


def _by_line(e_v, T):
    return 10.0 ** (8.614 - (13498.0 - 10080.0 * e_v) / T)


_EMF = Problem(
    key="end_point.emf",
    title="From a voltage to oxygen",
    text="""A zirconia cell against Cr/Cr2O3 shows {emf_mv} (the steel being the more oxidising side) in steel of {temp_c}. What
is the activity of oxygen, in ppm? Take the electrolyte as ideal: log a = 8.614 − (13 498 − 10.08 E)/T, with a in ppm, E in mV and T in
kelvin.""",
    given=(Given("emf_mv", "voltage", "mV", 80, 260, 2, "some 100 to 1000 ppm of oxygen"), _TEMP),
    answer=Answer(
        "ppm", "three per cent covers an exponent worked out to three decimals", tolerance_pct=3.0
    ),
    solve=_ideal,
    slips=(
        Slip(
            "wrong_sign",
            "You counted the voltage with the other sign: here the steel holds more oxygen than "
            "the electrode.",
            solve=lambda emf_mv, temp_c: _by_line(-emf_mv / 1000.0, kelvin(temp_c)),
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into the formula as it stands; T is kelvin, so add 273.15.",
            solve=lambda emf_mv, temp_c: _by_line(emf_mv / 1000.0, temp_c),
        ),
        Slip(
            "volts",
            "You put the voltage in volts; with 10.08 it must be in millivolts.",
            solve=lambda emf_mv, temp_c: _by_line(emf_mv / 1e6, kelvin(temp_c)),
        ),
        slip.times("in_percent", "This is in %; 1 % is 10 000 ppm.", 1.0 / PPM),
    ),
    hints=(
        "Work out the bracket first.",
        "(13 498 − 10.08 × {emf_mv:n})/({temp_c:n} + 273.15).",
        "log a = 8.614 − that; a is ten to that power, in ppm.",
    ),
    worked="""log a = 8.614 − (13 498 − 10.08 × {emf_mv:n})/({temp_c:n} + 273.15), so a = **{answer}**. A real cell also conducts by
electrons and shows a smaller voltage: read it with its maker's formula.""",
)


# ---- 2 -------------------------------------------------------------------------------------------


def _real(emf_mv, temp_c):
    return PPM * oxygen_activity(emf_mv, kelvin(temp_c), coefficients=SET)


def _by_hand(emf_mv, temp_c, pe=True, power=0.25):
    T = kelvin(temp_c)
    root = 10.0 ** (power * (8.873 - 39229.0 / T))
    electrons = 10.0 ** (power * (24.42 - 74370.0 / T)) if pe else 0.0
    fourth = (root + electrons) * np.exp(emf_mv / 1000.0 * 96485.0 / (8.3145 * T)) - electrons
    return PPM * fourth ** (0.5 / power) * 10.0 ** (6117.0 / T + 0.177)


_ELECTRONS = Problem(
    key="end_point.electrons",
    title="A cell that leaks electrons",
    text="""The same kind of cell shows {emf_mv} at {temp_c}, but its zirconia also conducts by electrons: E = (RT/F) ln[(p^¼ +
Pe^¼)/(p_ref^¼ + Pe^¼)], p being the oxygen pressure of the steel. log p_ref = 8.873 − 39 229/T and log Pe = 24.42 − 74 370/T (atm; the
second is recalled). a[%] = √p × 10^(6117/T + 0.177). What is the activity of oxygen, in ppm? F/R = 11 604 K/V.""",
    given=(Given("emf_mv", "voltage", "mV", 100, 240, 2, "some 120 to 1000 ppm of oxygen"), _TEMP),
    answer=Answer("ppm", "five per cent: fourth powers multiply the rounding", tolerance_pct=5.0),
    solve=_real,
    slips=(
        Slip(
            "ions_only",
            "You left out the electronic conduction: at steelmaking temperature it hides a fifth "
            "to a third of the oxygen.",
            solve=lambda emf_mv, temp_c: _by_hand(emf_mv, temp_c, pe=False),
        ),
        Slip(
            "pe_not_taken_off",
            "You forgot to take Pe^¼ off again after multiplying.",
            solve=lambda emf_mv, temp_c: (
                PPM
                * (
                    (
                        10.0 ** (0.25 * (8.873 - 39229.0 / kelvin(temp_c)))
                        + 10.0 ** (0.25 * (24.42 - 74370.0 / kelvin(temp_c)))
                    )
                    * np.exp(emf_mv / 1000.0 * 11604.0 / kelvin(temp_c))
                )
                ** 2
                * 10.0 ** (6117.0 / kelvin(temp_c) + 0.177)
            ),
        ),
        Slip(
            "square_roots",
            "Electrons go with the fourth root of the oxygen pressure, not with the square root.",
            solve=lambda emf_mv, temp_c: _by_hand(emf_mv, temp_c, power=0.5),
        ),
        slip.times("in_percent", "This is in %; 1 % is 10 000 ppm.", 1.0 / PPM),
    ),
    hints=(
        "Find the two fourth roots first: a quarter of each logarithm.",
        "p^¼ = (p_ref^¼ + Pe^¼) × exp(11 604 × E/T) − Pe^¼, with E in volts.",
        "Then √p is the square of p^¼; a = √p × 10^(6117/T + 0.177), in %.",
    ),
    worked="""T = {temp_c:n} + 273.15. p^¼ = (10^((8.873 − 39 229/T)/4) + 10^((24.42 − 74 370/T)/4)) × exp(11 604 × 0.001 ×
{emf_mv:n}/T) − 10^((24.42 − 74 370/T)/4). Square it, times 10^(6117/T + 0.177), times 10 000: **{answer}**. An ideal cell at the same
voltage would mean clearly less oxygen.""",
)


# ---- 3 -------------------------------------------------------------------------------------------


def _carbon(oxygen_ppm, temp_c, p_co_atm):
    return carbon_with_oxygen(oxygen_ppm / PPM, kelvin(temp_c), p_co_atm, coefficients=SET)


def _h_carbon(oxygen_ppm, T, p_co_atm):
    return p_co_atm * PPM / oxygen_ppm / 10.0 ** (906.0 / T + 2.149)


_CARBON = Problem(
    key="end_point.carbon",
    title="Carbon from oxygen",
    text="""The probe gives an activity of oxygen of {oxygen_ppm} at {temp_c}. Carbon and oxygen met under CO of {p_co_atm}. How
much carbon does the steel hold, in %? [C] + [O] = CO: log K = 906/T + 2.149, T in kelvin; log f_C = 0.243·%C.""",
    given=(
        Given(
            "oxygen_ppm",
            "activity of oxygen",
            "ppm",
            150,
            900,
            10,
            "end of a blow, common practice",
        ),
        _TEMP,
        Given(
            "p_co_atm",
            "pressure of CO",
            "atm",
            0.8,
            1.6,
            0.05,
            "stirred from below, or by the lance alone; plant value",
        ),
    ),
    answer=Answer(
        "%",
        "three per cent covers the exponent and one step of the correction by f",
        tolerance_pct=3.0,
    ),
    solve=_carbon,
    slips=(
        Slip(
            "ppm_for_percent",
            "You put the oxygen in as ppm; the constant wants %: 100 ppm is 0.01 %.",
            solve=lambda oxygen_ppm, temp_c, p_co_atm: (
                _h_carbon(oxygen_ppm, kelvin(temp_c), p_co_atm) / PPM
            ),
        ),
        slip.forgot("p_co_atm", 1.0, "the pressure of CO"),
        Slip(
            "pressure_turned",
            "More pressure of CO holds more carbon in the steel: multiply by it.",
            solve=lambda oxygen_ppm, temp_c, p_co_atm: _carbon(oxygen_ppm, temp_c, 1.0 / p_co_atm),
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into the constant as it stands; T is kelvin, so add 273.15.",
            solve=lambda oxygen_ppm, temp_c, p_co_atm: _h_carbon(oxygen_ppm, temp_c, p_co_atm),
        ),
    ),
    hints=(
        "K = p/(h_C × h_O), with h_O in %.",
        "h_C = {p_co_atm:n}/(K × {oxygen_ppm:n}/10 000); K = 10^(906/({temp_c:n} + 273.15) + "
        "2.149).",
        "%C = h_C/f_C; take %C = h_C first to find f_C = 10^(0.243 × %C), which is a few per cent.",
    ),
    worked="""K = 10^(906/({temp_c:n} + 273.15) + 2.149); h_C = {p_co_atm:n}/(K × {oxygen_ppm:n}/10 000); divided by f_C =
10^(0.243·%C): **{answer}**. The constant of the other set gives some nine per cent less, and an error of a tenth in the pressure moves the
carbon by a tenth.""",
)


# ---- 4 -------------------------------------------------------------------------------------------

_MAKER = Problem(
    key="end_point.product",
    title="Whose product?",
    text="""A sensor maker's data page turns 300 ppm of oxygen into 0.073 % C: it works with a fixed product. What carbon does
that product give for {oxygen_ppm}? Other published constants give products from 0.0020 to 0.0025 at 1600 °C and 1 atm of CO. Which line
says best what a works should do? Choose the line and type the number.""",
    given=(
        Given(
            "oxygen_ppm", "dissolved oxygen", "ppm", 220, 900, 10, "end of a blow, common practice"
        ),
    ),
    answer=Choice(
        options=(
            "One of the figures must be a misprint: an equilibrium constant has one value.",
            "Fit the product to its own samples: constants differ by a tenth or more, and the "
            "pressure of CO in its bath is not quite 1 atm.",
            "Use the largest product, to be on the safe side.",
            "Turn oxygen into atom % first, then all products agree.",
        ),
        sentences=(
            "The figures come from different measurements, each with its own error. Nobody "
            "misprinted.",
            "Yes. The fitted product takes up the error of the constant and the works' own "
            "pressure of CO at once.",
            "The largest product shows more carbon than there is if the true one is smaller: then "
            "the heat is blown too far. There is no safe side here.",
            "A change of units cannot bring measurements together.",
        ),
        number=Answer("%", "two per cent covers the two figures of 0.073", tolerance_pct=2.0),
    ),
    solve=lambda oxygen_ppm: (2 + 0 * oxygen_ppm, value("co_product_maker") / (oxygen_ppm / PPM)),
    slips=(
        Slip(
            "in_proportion",
            "You took carbon in proportion to oxygen; their product is fixed, so more oxygen means "
            "less carbon.",
            solve=lambda oxygen_ppm: (2 + 0 * oxygen_ppm, 0.073 * oxygen_ppm / 300.0),
        ),
        slip.times("ppm_for_percent", "You left the oxygen in ppm; 300 ppm is 0.03 %.", 1.0 / PPM),
        Slip(
            "largest_product",
            "You took 0.0025; the maker's own is 0.0022.",
            solve=lambda oxygen_ppm: (2 + 0 * oxygen_ppm, 0.0025 / (oxygen_ppm / PPM)),
        ),
    ),
    hints=(
        "Which product of %C and %O does the maker use? 300 ppm is 0.03 %.",
        "0.073 × 0.03 = 0.0022.",
        "%C = 0.0022/({oxygen_ppm:n}/10 000).",
    ),
    worked="""0.073 × 0.03 = 0.0022. For {oxygen_ppm}: 0.0022/({oxygen_ppm:n}/10 000) = **{answer}**. Line {line}.""",
)


# ---- 5 -------------------------------------------------------------------------------------------


def _arrest(arrest_c, mn_pct, p_pct, s_pct):
    return carbon_at_liquidus(arrest_c, {"Mn": mn_pct, "P": p_pct, "S": s_pct})


_ARREST = Problem(
    key="end_point.arrest",
    title="Carbon from the arrest",
    text="""A killed sample in a cup shows its liquidus arrest at {arrest_c}. It holds {mn_pct} Mn, {p_pct} P and {s_pct} S. How
much carbon, in %? Liquidus = 1536 − 78·%C − 4.9·%Mn − 34.4·%P − 38·%S, in °C (a recalled formula).""",
    given=(
        Given("arrest_c", "arrest", "°C", 1516.0, 1531.0, 0.5, "steel of 0.05 to 0.25 % C"),
        Given(
            "mn_pct",
            "manganese",
            "%",
            0.08,
            0.2,
            0.01,
            "end of a blow, common practice",
            follows="end_point.analysis_pct.Mn",
        ),
        Given(
            "p_pct",
            "phosphorus",
            "%",
            0.008,
            0.02,
            0.001,
            "end of a blow, common practice",
            follows="end_point.analysis_pct.P",
        ),
        Given("s_pct", "sulphur", "%", 0.008, 0.02, 0.001, "end of a blow, common practice"),
    ),
    answer=Answer(
        "%", "two per cent or 0.002 % covers rounding", tolerance_pct=2.0, tolerance_abs=0.002
    ),
    solve=_arrest,
    slips=(
        Slip(
            "others_left_out",
            "You left out manganese, phosphorus and sulphur: they lower the arrest too, and you "
            "count that as carbon.",
            solve=lambda arrest_c, mn_pct, p_pct, s_pct: (
                _arrest(arrest_c, 0.0, 0.0, 0.0) + 0.0 * (mn_pct + p_pct + s_pct)
            ),
        ),
        Slip(
            "added",
            "You added the effects of the others; they take part of the fall, so they come off "
            "before you divide.",
            solve=lambda arrest_c, mn_pct, p_pct, s_pct: (
                (1536.0 - arrest_c + 4.9 * mn_pct + 34.4 * p_pct + 38.0 * s_pct) / 78.0
            ),
        ),
        slip.upside_down("You divided 78 by the fall; it is the fall divided by 78."),
    ),
    hints=(
        "By how many degrees does the arrest lie below that of pure iron, and how many of these "
        "are not carbon's?",
        "Not carbon's: 4.9 × {mn_pct:n} + 34.4 × {p_pct:n} + 38 × {s_pct:n}.",
        "Carbon = (1536 − {arrest_c:n} − that)/78.",
    ),
    worked="""(1536 − {arrest_c:n} − 4.9 × {mn_pct:n} − 34.4 × {p_pct:n} − 38 × {s_pct:n})/78 = **{answer}**. The best published
formula errs by 2.1 ± 1.6 °C (an assessment of 2021): some 0.03 % of carbon. Unkilled steel gives no clean arrest.""",
    plausible=lambda answer, **given: answer > 0.04,
    cautions=(
        "A sample of liquid steel is poured into a dry cup only, with face and hands covered.",
    ),
)


# ---- 6 -------------------------------------------------------------------------------------------

_STEEL_T = Given(
    "steel_t", "steel", "t", 100, 300, 10, "common sizes of a converter", follows="vessel.tap_t"
)
_FROM = Given("from_pct", "carbon found", "%", 0.07, 0.15, 0.005, "a heat stopped early")
_TO = Given("to_pct", "carbon wanted", "%", 0.03, 0.05, 0.005, "soft steel, common practice")
_SHARE = Given("share_pct", "share on carbon", "%", 30, 70, 5, "near 0.05 % C; a plant value")


def _minutes(steel_t, from_pct, to_pct, share_pct, flow_nm3_min):
    return steel_t * reblow(from_pct, to_pct, 1650.0, share_pct, 0.0)["oxygen_nm3_t"] / flow_nm3_min


_MINUTES = Problem(
    key="end_point.minutes",
    title="How long to blow again?",
    text="""{steel_t} of steel hold {from_pct} carbon; {to_pct} is wanted. Oxygen flows at {flow_nm3_min} (as O2), and only
{share_pct} of it burns carbon, to CO. How many minutes? One kg of carbon takes 0.933 Nm3 of O2 to CO.""",
    given=(
        _STEEL_T,
        _FROM,
        _TO,
        _SHARE,
        Given(
            "flow_nm3_min",
            "oxygen",
            "Nm3/min",
            250,
            700,
            10,
            "lances of such vessels",
            follows="oxygen.flow_nm3_min",
        ),
    ),
    answer=Answer(
        "min", "one and a half per cent covers rounding to three figures", tolerance_pct=1.5
    ),
    solve=_minutes,
    slips=(
        slip.forgot("share_pct", 100.0, "the share of the oxygen that burns carbon"),
        Slip(
            "share_multiplied",
            "You multiplied by the share; oxygen that burns iron is blown on top, so divide by it.",
            after=lambda answer, given: answer * (given["share_pct"] / 100.0) ** 2,
        ),
        slip.forgot("to_pct", 0.0, "the carbon that stays"),
        slip.times(
            "one_tonne",
            "This is for one tonne; there are {steel_t}.",
            lambda given: 1.0 / given["steel_t"],
        ),
    ),
    hints=(
        "How many kg of carbon must burn? 0.01 % of a tonne is 0.1 kg.",
        "Oxygen for carbon = kg × 0.933 Nm3; divide by {share_pct:n}/100 for all that is blown.",
        "{steel_t:n} × 10 × ({from_pct:n} − {to_pct:n}) × "
        "0.933/({share_pct:n}/100)/{flow_nm3_min:n}.",
    ),
    worked="""Carbon: {steel_t:n} × 10 × ({from_pct:n} − {to_pct:n}) kg; × 0.933 Nm3, ÷ {share_pct:n}/100, ÷ {flow_nm3_min:n}
Nm3/min: **{answer}**. So short a blow is hard to stop on time: the valve and the lance take a part of it.""",
    cautions=(
        "A second blow makes CO at the mouth at once: nobody stands where it can reach. The works' "
        "procedure decides whether there is one.",
    ),
)


# ---- 7 -------------------------------------------------------------------------------------------


def _rise(from_pct, to_pct, share_pct):
    return reblow(from_pct, to_pct, 1650.0, share_pct, 0.0)["rise_c"]


def _rise_by_hand(from_pct, to_pct, share_pct, by_carbon=12.21, by_iron=24.71):
    for_carbon = 9.33 * (from_pct - to_pct)
    return for_carbon * by_carbon + for_carbon * (100.0 / share_pct - 1.0) * by_iron


def _rise_worked(from_pct, to_pct, share_pct):
    carbon = 9.33 * (from_pct - to_pct)
    iron = carbon * (100.0 / share_pct - 1.0)
    return (
        f"Oxygen for carbon: 9.33 × {from_pct - to_pct:.3f} = {carbon:.3f} Nm3 per t. "
        f"All that is blown: {carbon + iron:.3f}; the difference, {iron:.3f}, burns iron. "
        f"Rise: {carbon:.3f} × 12.2 + {iron:.3f} × 24.7 = "
        f"**{_rise(from_pct, to_pct, share_pct):.1f} °C**. "
        f"It costs {iron / nm3_per_kg('Fe'):.1f} kg of iron per t of steel (one kg takes 0.20 "
        "Nm3): a second blow heats mostly by burning yield."
    )


_RISE = Problem(
    key="end_point.rise",
    title="What a second blow does to the temperature",
    text="""Steel is blown again from {from_pct} to {to_pct} carbon; {share_pct} of the oxygen burns carbon to CO, the rest burns
iron to FeO. By how many degrees does the steel rise, slag, lining and losses left out? Per tonne of steel 0.01 % C takes 0.0933 Nm3 of O2;
each Nm3/t raises the steel by 12.2 °C if it burns carbon, by 24.7 °C if it burns iron.""",
    given=(_FROM, _TO, _SHARE),
    answer=Answer(
        "°C", "two per cent covers rounding of the two rises", tolerance_pct=2.0, difference=True
    ),
    solve=_rise,
    slips=(
        Slip(
            "carbon_only",
            "You left out the iron: the other oxygen burns it, and that gives most of the heat.",
            solve=lambda from_pct, to_pct, share_pct: _rise_by_hand(
                from_pct, to_pct, share_pct, by_iron=0.0
            ),
        ),
        Slip(
            "all_as_carbon",
            "You counted all the oxygen as burning carbon; a Nm3 on iron gives twice the heat.",
            solve=lambda from_pct, to_pct, share_pct: _rise_by_hand(
                from_pct, to_pct, share_pct, by_iron=12.21
            ),
        ),
        Slip(
            "share_of_carbon_oxygen",
            "You took the iron's oxygen as a share of carbon's; {share_pct} is carbon's part of "
            "all that is blown.",
            solve=lambda from_pct, to_pct, share_pct: (
                9.33 * (from_pct - to_pct) * (12.21 + (100.0 - share_pct) / 100.0 * 24.71)
            ),
        ),
        slip.times("tenfold", "0.01 % C takes 0.0933 Nm3/t: check the decimal.", 10.0),
    ),
    hints=(
        "How much oxygen goes to carbon, and how much to iron?",
        "Oxygen for carbon = ({from_pct:n} − {to_pct:n})/0.01 × 0.0933; all = "
        "that/({share_pct:n}/100).",
        "Rise = oxygen for carbon × 12.2 + the rest × 24.7.",
    ),
    worked=_rise_worked,
)


# ---- 8 -------------------------------------------------------------------------------------------

_FALLS = {
    "scrap": 1.69,
    "limestone": 4.27,
    "burnt lime": 1.88,
}  # degC per kg/t at 1650 degC, as printed in the text
_KEYS = {"scrap": "scrap", "limestone": "limestone", "burnt lime": "lime"}


def _cooling(steel_t, too_hot_c, coolant):
    return steel_t * too_hot_c / -coolant_effect(_KEYS[coolant], 1650.0)[0]


_COOL = Problem(
    key="end_point.coolant",
    title="Too hot",
    text="""{steel_t} of steel near 1650 °C are {too_hot_c} too hot. How many kg of {coolant} take that away, slag and lining left
out? One kg per t of steel cools by 1.69 °C (cold scrap), 4.27 °C (limestone) or 1.88 °C (burnt lime).""",
    given=(
        _STEEL_T,
        Given("too_hot_c", "too hot by", "°C", 12, 45, 1, "a heat that came out hot"),
        Pick("coolant", "coolant", tuple(_KEYS), "what is at hand at a vessel"),
    ),
    answer=Answer(
        "kg", "one and a half per cent covers rounding of the three falls", tolerance_pct=1.5
    ),
    solve=_cooling,
    slips=(
        slip.times(
            "one_tonne",
            "This is for one tonne of steel; there are {steel_t}.",
            lambda given: 1.0 / given["steel_t"],
        ),
        Slip(
            "other_coolant",
            "You took another coolant's figure: look again which one belongs to {coolant}.",
            solve=lambda steel_t, too_hot_c, coolant: (
                steel_t * too_hot_c / _FALLS["scrap" if coolant != "scrap" else "limestone"]
            ),
        ),
        Slip(
            "multiplied",
            "You multiplied by the degrees per kg; divide: the stronger the coolant, the less is "
            "needed.",
            solve=lambda steel_t, too_hot_c, coolant: steel_t * too_hot_c * _FALLS[coolant],
        ),
    ),
    hints=(
        "How many kg per tonne take {too_hot_c:n} degrees away?",
        "kg per t = {too_hot_c:n} divided by the degrees per kg of {coolant}.",
        "Then times {steel_t:n}.",
    ),
    worked="""{too_hot_c:n} degrees, divided by the degrees that one kg/t of {coolant} takes, times {steel_t:n} t: **{answer}**. In
a vessel slag and lining cool along, so it takes about a tenth more. Limestone is broken up into lime and CO2, which makes it so strong.""",
    cautions=(f"Wet scrap or wet limestone throws liquid steel out of the vessel. {_DRY}",),
    vector=False,
)


# ---- 9 -------------------------------------------------------------------------------------------


def _ore(steel_t, from_pct, to_pct, fe2o3_pct):
    return (
        steel_t
        * (from_pct - to_pct)
        / -coolant_effect("ore on carbon", 1650.0)[1]
        / (fe2o3_pct / 100.0)
    )


_ORE = Problem(
    key="end_point.ore",
    title="Ore on carbon",
    text="""{steel_t} of steel are hot and hold {from_pct} carbon. Ore with {fe2o3_pct} Fe2O3 is to bring carbon to {to_pct} by
Fe2O3 + 3 [C] = 2 Fe + 3 CO. How many kg of ore? Molar masses: Fe2O3 159.69, C 12.011 g/mol.""",
    given=(
        _STEEL_T,
        _FROM,
        _TO,
        Given("fe2o3_pct", "Fe2O3 in ore", "%", 86, 97, 1, "lump ore, common practice"),
    ),
    answer=Answer(
        "kg", "one and a half per cent covers rounding to three figures", tolerance_pct=1.5
    ),
    solve=_ore,
    slips=(
        Slip(
            "one_carbon",
            "Three carbons take the three oxygens of one Fe2O3.",
            after=lambda answer, given: 3.0 * answer,
        ),
        slip.forgot("fe2o3_pct", 100.0, "the Fe2O3 share of the ore"),
        slip.forgot("to_pct", 0.0, "the carbon that stays"),
        Slip(
            "moles_for_mass",
            "You took moles for kg: three mol of carbon weigh 36 g, one mol of Fe2O3 160 g.",
            after=lambda answer, given: answer * molar_mass("C") / molar_mass("Fe2O3"),
        ),
    ),
    hints=(
        "How many kg of carbon must go?",
        "159.69 kg of Fe2O3 take 3 × 12.011 kg of carbon.",
        "{steel_t:n} × 10 × ({from_pct:n} − {to_pct:n}) × 159.69/36.033, divided by "
        "{fe2o3_pct:n}/100.",
    ),
    worked="""Carbon: {steel_t:n} × 10 × ({from_pct:n} − {to_pct:n}) kg. Each kg takes 159.69/36.033 = 4.43 kg of Fe2O3; with
{fe2o3_pct:n} % in the ore: **{answer}**. Each kg of Fe2O3 per t cools by 4.9 °C as well. At such low carbon much of the ore becomes FeO in
the slag instead and cools only by half as much.""",
    cautions=(f"Ore on carbon makes CO in the whole bath at once: it can boil over. {_DRY}",),
)


# ---- 10 ------------------------------------------------------------------------------------------

_U_TEMP, _U_CARBON, _AIM, _BAND, _MOST = 5.0, 0.004, 1660.0, 10.0, 0.040


def _phi(z):
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))


def _chance(temp_c, carbon_pct):
    plan = {
        "aim_temp_c": _AIM,
        "aim_carbon_pct": _MOST,
        "steel_t": 180.0,
        "flow_nm3_min": 460.0,
        "band_c": _BAND,
    }
    return decide(temp_c, carbon_pct, u_temp_c=_U_TEMP, u_carbon_pct=_U_CARBON, **plan).chance_pct


_CHANCE = Problem(
    key="end_point.chance",
    title="How sure is this tap?",
    text="""Measured: {temp_c} with a standard uncertainty of 5 °C, and {carbon_pct} C with one of 0.004 %. Tapping is right
between 1650 and 1670 °C and at no more than 0.040 % C. How likely is it, in %, that both hold? The errors are independent and normal. Share
below z standard uncertainties: z = 0: 0.500; 0.5: 0.691; 1: 0.841; 1.5: 0.933; 2: 0.977; 2.5: 0.994; 3: 0.999; 3.5 and more: 1.000; for −z take one
minus it.""",
    given=(
        Given(
            "temp_c",
            "temperature found",
            "°C",
            1650.0,
            1670.0,
            2.5,
            "inside the window or on its edge",
        ),
        Given("carbon_pct", "carbon found", "%", 0.030, 0.042, 0.002, "near the aim"),
    ),
    answer=Answer(
        "%", "one per cent of chance covers the three decimals of the list", tolerance_abs=1.0
    ),
    solve=_chance,
    slips=(
        Slip(
            "temperature_only",
            "You looked at the temperature only; carbon has to be right too.",
            solve=lambda temp_c, carbon_pct: (
                100.0
                * (
                    _phi((_AIM + _BAND - temp_c) / _U_TEMP)
                    - _phi((_AIM - _BAND - temp_c) / _U_TEMP)
                )
            ),
        ),
        Slip(
            "carbon_only",
            "You looked at the carbon only; the temperature has to be right too.",
            solve=lambda temp_c, carbon_pct: 100.0 * _phi((_MOST - carbon_pct) / _U_CARBON),
        ),
        Slip(
            "one_edge",
            "The temperature has two edges: take off the share below 1650 °C as well.",
            solve=lambda temp_c, carbon_pct: (
                100.0
                * _phi((_MOST - carbon_pct) / _U_CARBON)
                * _phi((_AIM + _BAND - temp_c) / _U_TEMP)
            ),
        ),
        slip.times("as_fraction", "This is a fraction; in % it is a hundred times as much.", 0.01),
    ),
    hints=(
        "How many standard uncertainties lie between what was found and each edge?",
        "Temperature: share below (1670 − {temp_c:n})/5 less share below (1650 − {temp_c:n})/5. "
        "Carbon: share below (0.040 − {carbon_pct:n})/0.004.",
        "Both must hold: multiply the two shares.",
    ),
    worked="""Temperature: z = (1670 − {temp_c:n})/5 and (1650 − {temp_c:n})/5; carbon: z = (0.040 − {carbon_pct:n})/0.004. Shares
from the list, the two multiplied: **{answer}**. A reading in the middle of the window is worth more than a finer instrument.""",
    vector=False,
)


PROBLEMS = (_EMF, _ELECTRONS, _CARBON, _MAKER, _ARREST, _MINUTES, _RISE, _COOL, _ORE, _CHANCE)
