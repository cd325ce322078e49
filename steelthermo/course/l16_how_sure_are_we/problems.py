"""Problems of lesson 16: how far can I trust these numbers?"""

import numpy as np

from ...base import atomic_weight, molar_mass
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip
from ...trust import quadrature, within_pct

_TABLE = """

| window / spread | 0.4 | 0.5 | 0.6 | 0.7 | 0.8 | 0.9 | 1.0 | 1.2 | 1.5 | 2.0 |
|---|---|---|---|---|---|---|---|---|---|---|
| % inside | 31.1 | 38.3 | 45.1 | 51.6 | 57.6 | 63.2 | 68.3 | 77.0 | 86.6 | 95.4 |
"""
_HAND = "one per cent covers rounding to three figures"


_SENSITIVITY = Problem(
    key="how_sure_are_we.sensitivity",
    title="From a spread of silicon to a spread of temperature",
    text="""A works has worked out that 0.10 % more silicon in the hot metal, with scrap and oxygen as weighed, makes the end temperature {effect_c} higher.
Its silicon analysis has a standard uncertainty of {spread_pct}. What spread of the end temperature does that make?""",
    given=(
        Given(
            "effect_c",
            "effect of 0.10 % Si",
            "°C",
            11,
            16,
            0.5,
            "about 13 °C for Heron Works's heat with the oxygen kept",
        ),
        Given(
            "spread_pct",
            "uncertainty of silicon",
            "%",
            0.012,
            0.045,
            0.001,
            "order of size for a ladle sample, recalled",
        ),
    ),
    answer=Answer("°C", _HAND, tolerance_pct=1.0, difference=True),
    solve=lambda effect_c, spread_pct: effect_c / 0.10 * spread_pct,
    slips=(
        Slip(
            "per_one_percent",
            "You multiplied the effect by the uncertainty as it stands: {effect_c} belongs to 0.10 "
            "% Si, not to 1 %.",
            solve=lambda effect_c, spread_pct: effect_c * spread_pct,
        ),
        Slip(
            "divided",
            "You divided by the uncertainty. A larger uncertainty makes a larger spread: multiply.",
            solve=lambda effect_c, spread_pct: effect_c * 0.01 / spread_pct / 0.10,
        ),
        Slip(
            "squared",
            "You squared it: that is the variance. One source alone needs no squares.",
            after=lambda answer, given: answer**2,
        ),
    ),
    hints=(
        "How many degrees for 1 % of silicon? Then for {spread_pct}?",
        "{effect_c:n} °C / 0.10 % is the sensitivity, in °C per %.",
        "Spread = sensitivity × {spread_pct:n}.",
    ),
    worked="""Sensitivity: {effect_c:n}/0.10 °C per %. Times {spread_pct:n} %: **{answer}**. Small beside the oxygen meter; silicon is no longer what it
was.""",
    plausible=lambda answer, effect_c, spread_pct: np.abs(answer - 1.0) > 0.1,
)


_SQUARES = Problem(
    key="how_sure_are_we.sum_of_squares",
    title="Three causes at once",
    text="""Three independent causes scatter the end temperature of a works. The oxygen meter alone would make a spread of {oxygen_c}, the heat loss {loss_c},
the hot metal temperature {hot_metal_c}. What spread do they make together?""",
    given=(
        Given(
            "oxygen_c",
            "oxygen meter",
            "°C",
            8,
            14,
            0.5,
            "1 % of the oxygen is some 10 °C where carbon is low",
        ),
        Given("loss_c", "heat loss", "°C", 5, 11, 0.5, "8 MJ/t is some 9 °C"),
        Given(
            "hot_metal_c",
            "hot metal temperature",
            "°C",
            4,
            10,
            0.5,
            "8 °C in the hot metal are some 6 °C in the steel",
        ),
    ),
    answer=Answer("°C", _HAND, tolerance_pct=1.0, difference=True),
    solve=lambda **given: quadrature(given),
    slips=(
        Slip(
            "added",
            "You added the spreads. They hardly ever all point the same way: add their squares, "
            "then take the root.",
            solve=lambda **given: sum(given.values()),
        ),
        Slip(
            "no_root",
            "You stopped at the sum of the squares, the variance. The spread is its square root.",
            solve=lambda **given: quadrature(given) ** 2,
        ),
        Slip(
            "mean",
            "You took the mean. Three causes together scatter more than any one of them.",
            solve=lambda **given: sum(given.values()) / 3.0,
        ),
        Slip(
            "root_of_sum",
            "You took the root of the sum of the spreads; the squares come first.",
            solve=lambda **given: np.sqrt(sum(given.values())),
        ),
    ),
    hints=(
        "Will the three be at their worst in the same heat, and in the same direction?",
        "Square each, add the squares.",
        "Spread = √({oxygen_c:n}² + {loss_c:n}² + {hot_metal_c:n}²).",
    ),
    worked="""{oxygen_c:n}² + {loss_c:n}² + {hot_metal_c:n}² is the variance; its root is **{answer}**. Far less than the plain sum of the three.""",
)


def _share(part_c, **others):
    return 100.0 * part_c**2 / quadrature({"part": part_c, **others}) ** 2


_SHARE = Problem(
    key="how_sure_are_we.share_of_variance",
    title="Which cause is worth money?",
    text="""In a works, the oxygen meter alone makes a spread of {oxygen_c} in the end temperature, the heat loss {loss_c} and everything else together
{rest_c}. What share of the variance of the end temperature is the oxygen meter's, in %?""",
    given=(
        Given(
            "oxygen_c",
            "oxygen meter",
            "°C",
            8,
            14,
            0.5,
            "1 % of the oxygen is some 10 °C where carbon is low",
        ),
        Given("loss_c", "heat loss", "°C", 5, 11, 0.5, "8 MJ/t is some 9 °C"),
        Given("rest_c", "everything else", "°C", 6, 13, 0.5, "hot metal, scrap and gas"),
    ),
    answer=Answer(
        "%", "two per cent of the answer covers rounding of the squares", tolerance_pct=2.0
    ),
    solve=lambda oxygen_c, loss_c, rest_c: _share(oxygen_c, loss_c=loss_c, rest_c=rest_c),
    slips=(
        Slip(
            "share_of_sum",
            "You divided the spread by the plain sum of the spreads. Shares are counted in "
            "squares, for only squares add up.",
            solve=lambda oxygen_c, loss_c, rest_c: 100.0 * oxygen_c / (oxygen_c + loss_c + rest_c),
        ),
        Slip(
            "share_of_spread",
            "You divided the spread by the total spread; such shares add up to more than 100 %. "
            "Square both.",
            solve=lambda oxygen_c, loss_c, rest_c: (
                10.0 * np.sqrt(_share(oxygen_c, loss_c=loss_c, rest_c=rest_c))
            ),
        ),
        Slip(
            "against_the_others",
            "You divided by the variance of the others alone; the meter's own belongs to the "
            "whole.",
            solve=lambda oxygen_c, loss_c, rest_c: 100.0 * oxygen_c**2 / (loss_c**2 + rest_c**2),
        ),
    ),
    hints=(
        "What adds up to the whole: spreads, or their squares?",
        "The whole variance is {oxygen_c:n}² + {loss_c:n}² + {rest_c:n}².",
        "Share = {oxygen_c:n}² divided by that sum, × 100.",
    ),
    worked="""{oxygen_c:n}² / ({oxygen_c:n}² + {loss_c:n}² + {rest_c:n}²) = **{answer}**. Squares favour the largest: to halve the smallest cause hardly
shows.""",
)


_WINDOW = Problem(
    key="how_sure_are_we.within_window",
    title="How many heats hit the window?",
    text="""The end temperatures of a works scatter about the aim with a spread of {spread_c}, in the shape of a normal curve. What share of the heats ends
within
±{window_c} of the aim? Read straight between the columns of the table:"""
    + _TABLE,
    given=(
        Given("spread_c", "spread", "°C", 10, 20, 0.5, "what the lesson's heats show"),
        Given("window_c", "half window", "°C", 8, 12, 1, "windows of a shop, common practice"),
    ),
    answer=Answer("%", "one point covers reading straight between the columns", tolerance_abs=1.0),
    solve=lambda spread_c, window_c: within_pct(window_c, spread_c),
    slips=(
        Slip(
            "one_side",
            "You counted one side of the aim only; the window has two.",
            after=lambda answer, given: 0.5 * answer,
        ),
        Slip(
            "outside", "You gave the share that misses.", after=lambda answer, given: 100.0 - answer
        ),
        Slip(
            "upside_down",
            "You divided the spread by the window; the table wants window over spread.",
            solve=lambda spread_c, window_c: within_pct(spread_c, window_c),
        ),
        Slip(
            "whole_window",
            "You took the whole width of the window. The table counts from the aim to one side: "
            "{window_c}.",
            solve=lambda spread_c, window_c: within_pct(2.0 * window_c, spread_c),
        ),
    ),
    hints=(
        "Divide the half window by the spread.",
        "{window_c:n}/{spread_c:n} lies between two columns of the table.",
        "Go as far between the two percentages as the quotient lies between the two heads.",
    ),
    worked="""{window_c:n}/{spread_c:n} leads to **{answer}** in the table. A spread as wide as the window lets two heats of three in, not nearly all.""",
    plausible=lambda answer, spread_c, window_c: (
        (window_c / spread_c >= 0.4) & (window_c / spread_c <= 1.2) & (np.abs(answer - 50.0) > 1.5)
    ),
)


_SECOND = Problem(
    key="how_sure_are_we.second_reading",
    title="What a second reading is worth",
    text="""The reading of the hot metal temperature alone makes a spread of {reading_c} in the end temperature; everything else together makes
{rest_c}. The melter takes a second, independent reading and uses the mean of the two. What is the spread of the end temperature then?""",
    given=(
        Given(
            "reading_c",
            "part of the reading",
            "°C",
            6,
            14,
            0.5,
            "a reading of 8 to 18 °C uncertainty, poor but met",
        ),
        Given("rest_c", "everything else", "°C", 8, 16, 0.5, "oxygen, loss, scrap"),
    ),
    answer=Answer("°C", _HAND, tolerance_pct=1.0, difference=True),
    solve=lambda reading_c, rest_c: quadrature([reading_c / np.sqrt(2.0), rest_c]),
    slips=(
        Slip(
            "halved",
            "Two readings do not halve the uncertainty: the mean of two has it divided by √2.",
            solve=lambda reading_c, rest_c: quadrature([reading_c / 2.0, rest_c]),
        ),
        Slip(
            "all_divided",
            "You divided the whole spread by √2. The second reading helps its own part only.",
            solve=lambda reading_c, rest_c: quadrature([reading_c, rest_c]) / np.sqrt(2.0),
        ),
        Slip(
            "before",
            "This is the spread with one reading.",
            solve=lambda reading_c, rest_c: quadrature([reading_c, rest_c]),
        ),
        Slip(
            "rest_forgotten",
            "You left out everything else: {rest_c}.",
            solve=lambda reading_c, rest_c: reading_c / np.sqrt(2.0) + 0.0 * rest_c,
        ),
    ),
    hints=(
        "What is the uncertainty of a mean of two independent readings?",
        "The part of the reading becomes {reading_c:n}/√2.",
        "Spread = √(({reading_c:n}/√2)² + {rest_c:n}²).",
    ),
    worked="""The mean of two has {reading_c:n}/√2. With the rest, √(({reading_c:n}/√2)² + {rest_c:n}²) = **{answer}**. Much work for a little, unless the
reading is the
largest cause. And if both readings share one fault (a lance in the skull), the mean keeps it.""",
    cautions=(
        "A reading in a ladle is taken from behind the shield, by those who may: the works' rules "
        "come first.",
    ),
    plausible=lambda answer, reading_c, rest_c: (
        (quadrature([reading_c, rest_c]) > 1.03 * answer)
        & (quadrature([reading_c / 2.0, rest_c]) < 0.97 * answer)
        & (np.abs(quadrature([reading_c, rest_c]) / np.sqrt(2.0) / answer - 1.0) > 0.025)
    ),
)


def _allowed(total_c, meter_c, aim_c):
    return np.sqrt(np.maximum(aim_c**2 - total_c**2 + meter_c**2, 0.0))


_METER = Problem(
    key="how_sure_are_we.better_meter",
    title="How good must the meter be?",
    text="""The end temperatures of a works have a spread of {total_c}, of which the oxygen meter alone would make {meter_c}. The works wants a spread of
{aim_c}
and can change nothing but the meter. How large may the part of the new meter be?""",
    given=(
        Given("total_c", "spread now", "°C", 15, 19, 0.5, "what the lesson's heats show"),
        Given(
            "meter_c",
            "part of the oxygen meter",
            "°C",
            9,
            13,
            0.5,
            "1 % of the oxygen is some 10 °C where carbon is low",
        ),
        Given("aim_c", "spread wanted", "°C", 13, 17, 0.5, "two heats of three within the window"),
    ),
    answer=Answer(
        "°C",
        "three per cent: a difference of squares magnifies rounding",
        tolerance_pct=3.0,
        difference=True,
    ),
    solve=_allowed,
    slips=(
        Slip(
            "plain_difference",
            "You took off in degrees what only squares can take off: the squares of the parts add "
            "up to the square of the whole.",
            solve=lambda total_c, meter_c, aim_c: meter_c - (total_c - aim_c),
        ),
        Slip(
            "in_proportion",
            "You made the meter better in the proportion of the spreads. The other causes stay as "
            "they are, so it must improve far more.",
            solve=lambda total_c, meter_c, aim_c: meter_c * aim_c / total_c,
        ),
        Slip(
            "others",
            "This is the spread of all other causes together; take it off from the aim, in "
            "squares.",
            solve=lambda total_c, meter_c, aim_c: np.sqrt(total_c**2 - meter_c**2) + 0.0 * aim_c,
        ),
    ),
    hints=(
        "First find what all other causes make together, in squares.",
        "Others: {total_c:n}² − {meter_c:n}². With the new meter the sum must be {aim_c:n}².",
        "New part = √({aim_c:n}² − ({total_c:n}² − {meter_c:n}²)).",
    ),
    worked="""Others: {total_c:n}² − {meter_c:n}². What the aim leaves: √({aim_c:n}² − that) = **{answer}**, against {meter_c:n} °C now. If the others
alone exceed the aim, no
meter is good enough: always look at that first.""",
    plausible=lambda answer, total_c, meter_c, aim_c: (
        (answer > 2.5)
        & (answer < 0.93 * meter_c)
        & (aim_c < total_c)
        & (np.abs(meter_c - total_c + aim_c - answer) > 0.07 * answer)
        & (np.abs(meter_c * aim_c / total_c - answer) > 0.07 * answer)
        & (np.abs(np.sqrt(total_c**2 - meter_c**2) - answer) > 0.07 * answer)
    ),
)


def _shift(apart_kj_mol, carbon_kg, mj_per_c):
    return apart_kj_mol * carbon_kg / atomic_weight("C") / mj_per_c


_SOURCES = Problem(
    key="how_sure_are_we.two_sources",
    title="Two sources that disagree",
    text="""Two published tables give the heat of solution of carbon in iron {apart_kj_mol} apart. A heat brings {carbon_kg} of dissolved carbon per tonne
of hot
metal and burns practically all of it. Steel and slag take {mj_per_c} MJ for each degree, per tonne of hot metal. By how many degrees does the computed end
temperature differ between the two? Carbon weighs 12.01 kg/kmol.""",
    given=(
        Given(
            "apart_kj_mol",
            "difference of the tables",
            "kJ/mol",
            2.5,
            6.5,
            0.1,
            "the two sets of the kit are 5.4 apart",
        ),
        Given(
            "carbon_kg", "carbon", "kg", 40, 46, 0.5, "hot metal near saturation, common practice"
        ),
        Given(
            "mj_per_c",
            "heat per degree",
            "1",
            1.06,
            1.16,
            0.01,
            "steel and slag of one tonne of hot metal with its scrap; in MJ/°C",
        ),
    ),
    answer=Answer(
        "°C", "two per cent covers rounding of the molar mass", tolerance_pct=2.0, difference=True
    ),
    solve=_shift,
    slips=(
        Slip(
            "kg_for_kmol",
            "You multiplied kJ/mol by kg. Turn the carbon into kmol first: divide by 12.01.",
            solve=lambda apart_kj_mol, carbon_kg, mj_per_c: apart_kj_mol * carbon_kg / mj_per_c,
        ),
        Slip(
            "no_capacity",
            "This is the heat in MJ. Divide it by the heat that one degree takes.",
            solve=lambda apart_kj_mol, carbon_kg, mj_per_c: (
                apart_kj_mol * carbon_kg / atomic_weight("C") + 0.0 * mj_per_c
            ),
        ),
        Slip(
            "as_co",
            "You divided by the molar mass of CO. The heat of solution belongs to a mole of "
            "carbon, 12.01 kg/kmol.",
            solve=lambda apart_kj_mol, carbon_kg, mj_per_c: (
                apart_kj_mol * carbon_kg / molar_mass("CO") / mj_per_c
            ),
        ),
    ),
    hints=(
        "How many kmol of carbon are {carbon_kg}?",
        "{carbon_kg:n}/12.01 kmol × {apart_kj_mol:n} MJ/kmol is the heat in question.",
        "Divide that by {mj_per_c:n} MJ/°C.",
    ),
    worked="""{carbon_kg:n}/12.01 × {apart_kj_mol:n} = the heat in MJ; divided by {mj_per_c:n}: **{answer}**. It is the same in every heat: a works that
trims its balance
by experience never sees it, a works that starts from books does.""",
    plausible=lambda answer, apart_kj_mol, carbon_kg, mj_per_c: np.abs(mj_per_c - 1.0) > 0.05,
)


def _effects(carbon_kj, oxide_kj, phosphorus_kj, phosphorus_kg):
    """MJ per tonne of hot metal by each of the three differences."""
    return (
        44.0 / atomic_weight("C") * carbon_kj,
        16.0 / molar_mass("FeO") * oxide_kj + 0.0 * carbon_kj,
        phosphorus_kg / atomic_weight("P") * phosphorus_kj,
    )


def _which(**given):
    return np.argmax(np.stack(np.broadcast_arrays(*_effects(**given))), axis=0) + 1


def _clear(answer, **given):
    sizes = np.sort(np.stack(np.broadcast_arrays(*_effects(**given))), axis=0)
    return sizes[-2] < 0.8 * sizes[-1]


_WHICH = Problem(
    key="how_sure_are_we.which_counts",
    title="Which disagreement counts?",
    text="""You compare two data books. Per tonne of hot metal your heat holds 44 kg of carbon, makes 16 kg of FeO in the slag, and brings {phosphorus_kg} of
phosphorus. Which difference between the books moves the computed end temperature most? (C 12.01, FeO 71.84, P 30.97 kg/kmol.)""",
    given=(
        Given(
            "carbon_kj",
            "difference for carbon",
            "kJ/mol",
            0.1,
            1.6,
            0.1,
            "data books differ by tenths to some kJ/mol; the two sets of the kit by 5.4",
        ),
        Given(
            "oxide_kj",
            "difference for FeO",
            "kJ/mol",
            2,
            19,
            1,
            "up to the 18.5 of a published line for liquid FeO",
        ),
        Given(
            "phosphorus_kj",
            "difference for phosphorus",
            "kJ/mol",
            5,
            60,
            5,
            "sets of the kit 36, calcium phosphate some tens",
        ),
        Given("phosphorus_kg", "phosphorus", "kg", 0.6, 2.4, 0.2, "hot metal of 0.06 to 0.24 % P"),
    ),
    answer=Choice(
        ordered=True,
        options=(
            "Carbon in iron: the books are {carbon_kj} apart.",
            "Liquid FeO: the books are {oxide_kj} apart.",
            "Phosphorus as phosphate: the books are {phosphorus_kj} apart, per mole of P.",
        ),
        sentences=(
            "Carbon counts most where 3.66 kmol times its difference is more, in MJ, than the two "
            "others.",
            "FeO counts most where 0.223 kmol (16 kg) times its difference is more, in MJ, than "
            "the two others.",
            "The difference per mole may look large, but count the moles of phosphorus: "
            "{phosphorus_kg:n}/30.97 kmol.",
        ),
    ),
    solve=lambda **given: _which(**given),
    hints=(
        "A difference per mole says nothing before you know how many moles there are.",
        "Carbon 44/12.01 kmol, FeO 16/71.84 kmol, phosphorus {phosphorus_kg:n}/30.97 kmol: "
        "multiply each by its difference.",
    ),
    worked=lambda **g: (
        "Per tonne of hot metal: carbon {:.2f} MJ, FeO {:.2f} MJ, phosphorus {:.2f} MJ. Line {} "
        "counts most."
    ).format(*_effects(**g), int(_which(**g))),
    plausible=_clear,
)


_CONFUSED = Problem(
    key="how_sure_are_we.data_or_heats",
    title="Spread of data, spread of heats",
    text="""A report on last month's heats says four things. Scrap, oxygen and analyses were recorded for every heat, and all were computed with the same data.
Which line is wrong?""",
    given=(
        Given("spread_c", "spread of the heats", "°C", 12, 19, 0.5, "what the lesson's heats show"),
        Given(
            "data_c", "effect of other data", "°C", 8, 30, 1, "what the lesson's second band shows"
        ),
        Given("heats", "number of heats", "1", 100, 400, 10, "a month of a works"),
    ),
    answer=Choice(
        options=(
            "The end temperatures of {heats:n} heats scatter about their computed values with a "
            "spread of {spread_c}.",
            "With other data that can be defended, all computed end temperatures would move "
            "together by up to {data_c}.",
            "The next heat ends within the spread √({spread_c:n}² + {data_c:n}²) °C of what we "
            "compute after trimming the balance to last month's mean.",
            "For a grade with far more carbon left in the steel, the trimming of last month may no "
            "longer take out the error of the data.",
        ),
        sentences=(
            "That is how a spread of heats is found: right.",
            "Right: an error of data is the same in every heat made the same way.",
            "Yes, this is the wrong one. Trimmed to last month's mean, the error of the data is "
            "gone for such heats: the next one scatters by {spread_c}.",
            "Right, and the reason not to forget the data: trimming holds for heats like those it "
            "was made with.",
        ),
    ),
    solve=lambda **given: 3 + 0 * np.asarray(given["heats"], dtype=int),
    hints=(
        "Which of the two, the scatter or the error of the data, differs from heat to heat?",
        "What does trimming the balance to last month's mean do to an error that is the same in "
        "every heat?",
    ),
    worked="""Line {line}. The error of the data is one number for all such heats; trimming takes it out. What is left is the scatter, {spread_c}. Squares
are added
for causes that vary independently from heat to heat, and the data do not vary.""",
)


_MANY = Problem(
    key="how_sure_are_we.heats_needed",
    title="How many heats until you know?",
    text="""The end temperatures of a works scatter with a spread of {spread_c}. A new lance is said to change the mean. How many heats does it take until
the standard
uncertainty of their mean is {mean_c}?""",
    given=(
        Given(
            "spread_c", "spread of single heats", "°C", 12, 19, 0.5, "what the lesson's heats show"
        ),
        Given(
            "mean_c",
            "uncertainty of the mean",
            "°C",
            1,
            2.5,
            0.25,
            "a change of a few degrees is looked for",
        ),
    ),
    answer=Answer(
        "1",
        "two per cent, or half a heat: no heat comes in parts",
        tolerance_pct=2.0,
        tolerance_abs=0.6,
    ),
    solve=lambda spread_c, mean_c: (spread_c / mean_c) ** 2,
    slips=(
        Slip(
            "no_square",
            "You divided once. The uncertainty of a mean falls with the square root of the number "
            "of heats, so the number grows with the square.",
            solve=lambda spread_c, mean_c: spread_c / mean_c,
        ),
        Slip(
            "factor_two",
            "You asked for twice the standard uncertainty. One standard uncertainty of {mean_c} is "
            "asked for.",
            after=lambda answer, given: 4.0 * answer,
        ),
        Slip(
            "root",
            "You took the root where the square belongs.",
            solve=lambda spread_c, mean_c: np.sqrt(spread_c / mean_c),
        ),
    ),
    hints=(
        "How does the uncertainty of a mean fall with the number n of heats?",
        "Spread/√n = {mean_c:n}.",
        "n = ({spread_c:n}/{mean_c:n})².",
    ),
    worked="""{spread_c:n}/√n = {mean_c:n}, so n = ({spread_c:n}/{mean_c:n})² = **{answer}**, rounded up. A trial of ten heats proves little.""",
)


PROBLEMS = (
    _SENSITIVITY,
    _SQUARES,
    _SHARE,
    _WINDOW,
    _SECOND,
    _METER,
    _SOURCES,
    _WHICH,
    _CONFUSED,
    _MANY,
)
