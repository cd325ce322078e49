"""Problems of lesson 07: where do phosphorus, sulphur and manganese go?"""

import numpy as np

from ...base import kelvin, mass_fractions, molar_mass, rows
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip
from ...slag import metal_pct_after, oxygen_lines, oxygen_under, partition, slag_for

_PER_CENT = "one per cent covers rounding on the way"
_LOGARITHM = "three per cent cover a logarithm rounded to the second place"
_METAL_KG = 1000.0
_P_SHARE, _MN_SHARE = mass_fractions("P2O5")["P"], mass_fractions("MnO")["Mn"]
_LN10 = np.log(10.0)
_EQUATIONS = {row["key"]: row for row in rows("slag_partitions")}


def _left(l_low, l_high, slag_kg_t, p_pct, aim_pct):
    worst, best = (metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, at) for at in (l_low, l_high))
    return 1.0 + (worst > aim_pct) + (best > aim_pct), worst


_LEFT = Problem(
    key="phosphorus_and_sulphur.phosphorus_left",
    title="Is the aim safe?",
    text="""Charge and fluxes bring {p_pct} phosphorus, counted on the steel. The slag is {slag_kg_t} of steel. For its analysis and temperature the
equations read in their papers give partitions (%P)/[%P] from {l_low:n} to {l_high:n}. The aim is {aim_pct} P. Which line holds, and how much phosphorus
stays in the steel by the cautious end of the band?""",
    given=(
        Given(
            "p_pct",
            "phosphorus brought in",
            "%",
            0.06,
            0.12,
            0.005,
            "hot metal and scrap, common practice",
            follows="hot_metal.analysis_pct.P",
            most=0.3,
        ),
        Given("slag_kg_t", "slag", "kg/t", 60, 120, 5, "common practice"),
        Given(
            "l_low",
            "lowest partition",
            "1",
            80,
            160,
            10,
            "band of five equations on converter slag, this course's sums",
        ),
        Given(
            "l_high",
            "highest partition",
            "1",
            300,
            520,
            20,
            "band of five equations on converter slag, this course's sums",
        ),
        Given("aim_pct", "aim", "%", 0.003, 0.012, 0.001, "by grade of steel"),
    ),
    answer=Choice(
        ordered=True,
        options=(
            "By the whole band the aim is met.",
            "By a part of the band only: the aim is not safe.",
            "By no equation is it met.",
        ),
        sentences=(
            "So it is if even the lowest partition leaves less than the aim. Heats that do not "
            "reach equilibrium lie above it: leave room.",
            "So it is if the highest partition meets the aim and the lowest does not. More slag, "
            "more lime dissolved or a colder end; then a sample.",
            "So it is if even the highest partition leaves more than the aim: this slag can't do "
            "it.",
        ),
        number=Answer("%", _PER_CENT, tolerance_pct=1.0),
    ),
    solve=_left,
    slips=(
        Slip(
            "bold",
            "You took the highest partition. Who plans with the best equation is surprised by the "
            "sample: take the lowest.",
            solve=lambda l_low, l_high, slag_kg_t, p_pct, aim_pct: metal_pct_after(
                _METAL_KG, p_pct, slag_kg_t, 0.0, l_high
            ),
        ),
        Slip(
            "mean",
            "You took the mean of the band. A mean of equations that disagree is no better "
            "equation.",
            solve=lambda l_low, l_high, slag_kg_t, p_pct, aim_pct: metal_pct_after(
                _METAL_KG, p_pct, slag_kg_t, 0.0, 0.5 * (l_low + l_high)
            ),
        ),
        Slip(
            "no_one",
            "You divided by L × slag alone. What stays in the metal counts too: 1 + L × slag/1000.",
            solve=lambda l_low, l_high, slag_kg_t, p_pct, aim_pct: (
                p_pct / (l_low * slag_kg_t / _METAL_KG)
            ),
        ),
        Slip(
            "removed",
            "This is what went into the slag; asked is what stays.",
            solve=lambda l_low, l_high, slag_kg_t, p_pct, aim_pct: (
                p_pct - metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, l_low)
            ),
        ),
    ),
    hints=(
        "Cautious means: the partition that leaves most in the steel.",
        "All phosphorus = what is in 1000 kg of steel + what is in {slag_kg_t:n} kg of slag, and "
        "the slag holds L times the steel's %.",
        "{p_pct:n}/(1 + {l_low:n} × {slag_kg_t:n}/1000); then the same with {l_high:n}, and "
        "compare both with {aim_pct:n}.",
    ),
    worked="""{p_pct:n}/(1 + {l_low:n} × {slag_kg_t:n}/1000) = **{answer}**; with {l_high:n} it is less. Against the aim of {aim_pct}: line {line}.""",
    plausible=lambda answer, l_high, slag_kg_t, p_pct, aim_pct, **given: (
        (abs(answer[1] / aim_pct - 1.0) > 0.04)
        & (abs(metal_pct_after(_METAL_KG, p_pct, slag_kg_t, 0.0, l_high) / aim_pct - 1.0) > 0.04)
    ),
)


def _slag(p_pct, aim_pct, l_p):
    return slag_for(_METAL_KG, p_pct, aim_pct, l_p)


_SLAG = Problem(
    key="phosphorus_and_sulphur.slag_for_aim",
    title="Slag for an aim",
    text="""The charge brings {p_pct} phosphorus, counted on the steel; the aim is {aim_pct}. By the cautious equation (%P)/[%P] is {l_p:n}. How much slag
per tonne of steel is needed at equilibrium?""",
    given=(
        Given(
            "p_pct",
            "phosphorus brought in",
            "%",
            0.07,
            0.12,
            0.005,
            "hot metal and scrap, common practice",
            follows="hot_metal.analysis_pct.P",
            most=0.2,
        ),
        Given("aim_pct", "aim", "%", 0.006, 0.015, 0.001, "by grade of steel"),
        Given("l_p", "partition", "1", 70, 180, 5, "lower end of the band on converter slag"),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_slag,
    slips=(
        Slip(
            "whole",
            "You sent all phosphorus into the slag; {aim_pct} of it may stay.",
            solve=lambda p_pct, aim_pct, l_p: _METAL_KG * p_pct / (l_p * aim_pct),
        ),
        Slip(
            "wrong_metal",
            "The slag holds L times what is in the metal at the end, not at the start.",
            solve=lambda p_pct, aim_pct, l_p: _METAL_KG * (p_pct - aim_pct) / (l_p * p_pct),
        ),
        slip.times("tonnes", "This is in t per t; asked are kg.", 1e-3),
    ),
    hints=(
        "How much phosphorus has to leave 1000 kg of steel?",
        "At the end the slag holds {l_p:n} × {aim_pct:n} % P.",
        "1000 × ({p_pct:n} − {aim_pct:n})/({l_p:n} × {aim_pct:n})",
    ),
    worked="""1000 × ({p_pct:n} − {aim_pct:n})/({l_p:n} × {aim_pct:n}) = **{answer}**. Halve the aim, and it takes more than
twice the slag: lime, iron and heat go with it. A second slag, or hot metal treated first, may be cheaper.""",
    plausible=lambda answer, **given: (answer > 30.0) & (answer < 160.0),
)


def _with_silica(**pct):
    """A slag to 100 %, silica the rest."""
    return pct | {"SiO2": 100.0 - sum(pct.values())}


def _si_c(cao_pct, mgo_pct, p2o5_pct, mno_pct, feo_pct, fe2o3_pct, temp_c):
    return partition(
        _with_silica(
            CaO=cao_pct, MgO=mgo_pct, P2O5=p2o5_pct, MnO=mno_pct, FeO=feo_pct, Fe2O3=fe2o3_pct
        ),
        kelvin(temp_c),
        "SI-c",
    ).value


def _degrees(key, given):
    """What log10 gains when b/T is taken with degrees Celsius."""
    return _EQUATIONS[key]["b_k"] * (1.0 / given["temp_c"] - 1.0 / kelvin(given["temp_c"]))


def _iron(feo_pct, fe2o3_pct):
    return feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"]


_PARTITION = Problem(
    key="phosphorus_and_sulphur.partition",
    title="The partition by hand",
    text="""A slag holds {cao_pct} CaO, {mgo_pct} MgO, {p2o5_pct} P2O5, {mno_pct} MnO, {feo_pct} FeO and {fe2o3_pct} Fe2O3, the rest is SiO2. What is L_P at
{temp_c} by log L_P = 0.0720 (CaO + 0.3 MgO + 0.6 P2O5 + 0.6 MnO) + 2.5 log T.Fe + 11 570/T − 10.520 (Suito and Inoue 1984)? All in mass %; log is log10,
T in kelvin; T.Fe = 0.777 FeO + 0.699 Fe2O3.""",
    given=(
        Given("cao_pct", "CaO", "%", 42, 48, 0.5, "converter slag, published analyses"),
        Given(
            "mgo_pct",
            "MgO",
            "%",
            6,
            9,
            0.5,
            "near saturation, order of size, recalled",
            follows="slag.mgo_pct",
            least=5,
            most=11,
        ),
        Given("p2o5_pct", "P2O5", "%", 1.5, 3.0, 0.1, "converter slag, published analyses"),
        Given("mno_pct", "MnO", "%", 3, 6, 0.5, "converter slag, published analyses"),
        Given(
            "feo_pct",
            "FeO",
            "%",
            14,
            20,
            0.5,
            "end of the blow, common practice",
            follows="slag.feo_pct",
            least=12,
            most=22,
        ),
        Given(
            "fe2o3_pct",
            "Fe2O3",
            "%",
            3,
            7,
            0.5,
            "end of the blow, common practice",
            follows="slag.fe2o3_pct",
            most=8,
        ),
        Given(
            "temp_c", "temperature", "°C", 1580, 1650, 5, "up to where the equation was measured"
        ),
    ),
    answer=Answer("1", _LOGARITHM, tolerance_pct=3.0),
    solve=_si_c,
    slips=(
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into 11 570/T as it stands; T is in kelvin.",
            after=lambda answer, given: answer * 10.0 ** _degrees("SI-c", given),
        ),
        Slip(
            "oxide_for_iron",
            "You took FeO + Fe2O3; 2.5 log wants total iron, T.Fe.",
            after=lambda answer, given: (
                answer
                * (
                    (given["feo_pct"] + given["fe2o3_pct"])
                    / _iron(given["feo_pct"], given["fe2o3_pct"])
                )
                ** 2.5
            ),
        ),
        Slip(
            "natural_log",
            "You took the natural logarithm of T.Fe; log is log10.",
            after=lambda answer, given: (
                answer
                * 10.0
                ** (2.5 * (_LN10 - 1.0) * np.log10(_iron(given["feo_pct"], given["fe2o3_pct"])))
            ),
        ),
        Slip(
            "logarithm",
            "This is log L_P; raise 10 to it.",
            after=lambda answer, given: np.log10(answer),
        ),
        Slip(
            "power_of_e",
            "You raised e to it; log is log10, so raise 10.",
            after=lambda answer, given: np.exp(np.log10(answer)),
        ),
    ),
    hints=(
        "Three terms: the bracket, the iron, the temperature.",
        "Bracket: {cao_pct:n} + 0.3 × {mgo_pct:n} + 0.6 × {p2o5_pct:n} + 0.6 × {mno_pct:n}. Iron: "
        "0.777 × {feo_pct:n} + 0.699 × {fe2o3_pct:n}.",
        "T = {temp_c:n} + 273.15. Add 0.0720 × bracket, 2.5 log T.Fe and 11 570/T, take off "
        "10.520, and raise 10 to the sum.",
    ),
    worked="""0.0720 × ({cao_pct:n} + 0.3 × {mgo_pct:n} + 0.6 × {p2o5_pct:n} + 0.6 × {mno_pct:n}) + 2.5 log(0.777 × {feo_pct:n} + 0.699 × {fe2o3_pct:n})
+ 11 570/({temp_c:n} + 273.15) − 10.520 is the logarithm; L_P = **{answer}**. Other equations read for such slag give from less than half of it to
nearly twice as much.""",
    plausible=lambda answer, cao_pct, mgo_pct, p2o5_pct, mno_pct, feo_pct, fe2o3_pct, **given: (
        abs(cao_pct / (100.0 - cao_pct - mgo_pct - p2o5_pct - mno_pct - feo_pct - fe2o3_pct) - 3.2)
        < 1.0
    ),
)

_ANY_SLAG = {
    "CaO": 46.0,
    "SiO2": 16.0,
    "FeO": 20.0,
    "MgO": 8.0,
    "MnO": 5.0,
    "P2O5": 2.0,
    "Al2O3": 3.0,
}  # the same before and after: it cancels
_DISAGREE = ("SI-c", "Healy")


def _hotter(from_c, rise_c, equation):
    before, after = (
        partition(_ANY_SLAG, kelvin(t), equation).value for t in (from_c, from_c + rise_c)
    )
    return after / before


_HOTTER = Problem(
    key="phosphorus_and_sulphur.hotter",
    title="What heat costs",
    text="""The same slag, but the heat ends at {from_c} and then {rise_c:n} degrees hotter. In log L_P the temperature stands as b/T: b = 11 570 K after SI-c
(read in its paper), b = 22 350 K after Healy (recalled). By {equation}: what is L_P at the hotter end over L_P before?""",
    given=(
        Given(
            "from_c", "temperature before", "°C", 1560, 1600, 5, "within the range of the equations"
        ),
        Given("rise_c", "rise", "°C", 30, 50, 5, "a reblow, or a cold heat turned hot"),
        Pick("equation", "equation", _DISAGREE, "two papers that disagree"),
    ),
    answer=Answer("1", "two per cent cover rounded exponents", tolerance_pct=2.0),
    solve=_hotter,
    slips=(
        Slip(
            "other_paper",
            "This is by the other equation: the two differ by a factor of two in b.",
            solve=lambda from_c, rise_c, equation: _hotter(
                from_c, rise_c, next(k for k in _DISAGREE if k != equation)
            ),
        ),
        slip.upside_down(
            "You have it upside down: hotter means a smaller partition, so the ratio is below 1."
        ),
        Slip(
            "celsius_for_kelvin",
            "You put degrees Celsius into 1/T; add 273.15.",
            solve=lambda from_c, rise_c, equation: (
                10.0 ** (_EQUATIONS[equation]["b_k"] * (1.0 / (from_c + rise_c) - 1.0 / from_c))
            ),
        ),
        Slip(
            "power_of_e",
            "You raised e to the difference; the equation has log10, so raise 10.",
            after=lambda answer, given: answer ** (1.0 / _LN10),
        ),
    ),
    hints=(
        "Everything but b/T is the same before and after, and cancels.",
        "log(after/before) = b × (1/T after − 1/T before), both in kelvin.",
        "Before: {from_c:n} + 273.15; after: {rise_c:n} more. Then 10 to the power of b × the "
        "difference.",
    ),
    worked="""10 to the power b × (1/({from_c:n} + {rise_c:n} + 273.15) − 1/({from_c:n} + 273.15)) with the b of {equation}: **{answer}**. The papers
part here: by one, fifty degrees cost three tenths of the partition, by the other a half. Your own samples decide.""",
)


def _tth(cao_pct, mgo_pct, feo_pct, p2o5_pct, temp_c):
    slag = _with_silica(CaO=cao_pct, MgO=mgo_pct, FeO=feo_pct, P2O5=p2o5_pct)
    return 2.0, p2o5_pct * _P_SHARE / partition(slag, kelvin(temp_c), "TTH72-1").value


_SIGN = Problem(
    key="phosphorus_and_sulphur.sign",
    title="What is wrong in this published equation?",
    text="""A scanned abstract (Tetsu-to-Hagane 72 (1986) 225, 1550 to 1600 °C) shows log kP = 0.143 (CaO + 0.55 MgO) + 13 980/T + 16.08, with kP =
(%P2O5)/([%P]² (%FetO)⁵). Your slag: {cao_pct} CaO, {mgo_pct} MgO, {feo_pct} FetO, {p2o5_pct} P2O5 at {temp_c}. Work out [%P] as printed, then say what is
wrong, and how much phosphorus the repaired equation leaves.""",
    given=(
        Given("cao_pct", "CaO", "%", 42, 47, 0.5, "converter slag, published analyses"),
        Given("mgo_pct", "MgO", "%", 6, 9, 0.5, "saturated with MgO, as in the paper"),
        Given("feo_pct", "FetO", "%", 18, 25, 0.5, "end of the blow, common practice"),
        Given("p2o5_pct", "P2O5", "%", 1.5, 3.0, 0.1, "converter slag, published analyses"),
        Given("temp_c", "temperature", "°C", 1550, 1600, 5, "range of the paper"),
    ),
    answer=Choice(
        options=(
            "0.143 should be 0.0143: the bracket counts too much.",
            "The constant has lost its minus: it is − 16.08.",
            "13 980/T should be subtracted: heat favours dephosphorisation.",
            "Nothing is wrong; the steel really is that clean.",
        ),
        sentences=(
            "Then the bracket would count for 0.7 instead of 7, and [%P] as printed would still be "
            "absurd.",
            "Yes. Scans lose minus signs. With − 16.08 the partition is a few hundred, as the "
            "second equation of the same abstract says.",
            "Phosphorus goes into the slag when it is cold: b/T with a positive b is right, as in "
            "every other paper.",
            "A millionth of a millionth of a gram of phosphorus in a whole heat? A result must "
            "make sense before it is used.",
        ),
        number=Answer("%", _LOGARITHM, tolerance_pct=3.0),
    ),
    solve=_tth,
    slips=(
        Slip(
            "as_printed",
            "This is the equation as printed, with + 16.08: no steel is that clean.",
            after=lambda answer, given: answer * 10.0 ** _EQUATIONS["TTH72-1"]["c"],
        ),
        Slip(
            "no_root", "This is [%P]²; take the square root.", after=lambda answer, given: answer**2
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into 13 980/T as it stands; T is in kelvin.",
            after=lambda answer, given: answer * 10.0 ** (-0.5 * _degrees("TTH72-1", given)),
        ),
        Slip(
            "oxide",
            "You turned P2O5 into P first; kP is written with (%P2O5).",
            after=lambda answer, given: answer * _P_SHARE**0.5,
        ),
    ),
    hints=(
        "Solve for [%P]: [%P]² = (%P2O5)/(kP (%FetO)⁵).",
        "Bracket {cao_pct:n} + 0.55 × {mgo_pct:n}; T = {temp_c:n} + 273.15. As printed log kP is "
        "30 or more: what does that make of [%P]?",
        "With the other sign of 16.08, log kP lies between −2.2 and −0.9; then [%P] = "
        "√((%P2O5)/(kP (%FetO)⁵)).",
    ),
    worked="""log kP = 0.143 × ({cao_pct:n} + 0.55 × {mgo_pct:n}) + 13 980/({temp_c:n} + 273.15) − 16.08, and [%P] =
√({p2o5_pct:n}/(kP × {feo_pct:n}⁵)) = **{answer}**. Line {line}: a sign was lost in the scan, and only the size of the answer shows it.""",
    plausible=lambda answer, cao_pct, mgo_pct, feo_pct, p2o5_pct, **given: (
        abs(cao_pct / (100.0 - cao_pct - mgo_pct - feo_pct - p2o5_pct) - 2.6) < 1.0
    ),
)


def _returned(slag_kg_t, p2o5_pct, reduced_pct):
    return 1e4 * metal_pct_after(
        _METAL_KG, 0.0, slag_kg_t, p2o5_pct * _P_SHARE * reduced_pct / 100.0, 0.0
    )


_RETURNED = Problem(
    key="phosphorus_and_sulphur.reversion",
    title="Phosphorus that comes back",
    text="""{slag_kg_t} of vessel slag with {p2o5_pct} P2O5 run into the ladle. Killed with aluminium, the steel reduces {reduced_pct} of its phosphorus
back. By how many ppm does the steel's phosphorus rise? P 30.97, O 16.00.""",
    given=(
        Given(
            "slag_kg_t",
            "slag carried over",
            "kg/t",
            2,
            15,
            0.5,
            "2 to 5 with detection, 10 to 15 without, common practice",
        ),
        Given("p2o5_pct", "P2O5", "%", 1.4, 3.2, 0.1, "converter slag, published analyses"),
        Given(
            "reduced_pct",
            "reduced",
            "%",
            50,
            100,
            5,
            "all of it is the cautious count, common practice",
        ),
    ),
    answer=Answer("ppm", _PER_CENT, tolerance_pct=1.0),
    solve=_returned,
    slips=(
        slip.times(
            "oxide_for_element", "You counted P2O5; phosphorus is 0.436 of it.", 1.0 / _P_SHARE
        ),
        slip.times("one_atom", "P2O5 holds two atoms of phosphorus.", 0.5),
        slip.times("percent", "This is in %; 0.0001 % is 1 ppm.", 1e-4),
        slip.forgot("reduced_pct", 100.0, "the part that stays in the slag"),
    ),
    hints=(
        "How many kg of P2O5 come over with each tonne of steel?",
        "Times 61.94/141.94 is phosphorus, times {reduced_pct:n}/100 what returns.",
        "1 g per tonne is 1 ppm.",
    ),
    worked="""{slag_kg_t:n} kg × {p2o5_pct:n}/100 × 61.94/141.94 × {reduced_pct:n}/100, in g per t: **{answer}**. Each kg of such slag gives back some 6 to 14
ppm if all of it is reduced: stop the slag before you kill the steel.""",
)


def _manganese(cao_pct, mgo_pct, feto_pct, mno_pct, sio2_pct, p2o5_pct, temp_c):
    slag = {
        "CaO": cao_pct,
        "MgO": mgo_pct,
        "FeO": feto_pct,
        "MnO": mno_pct,
        "SiO2": sio2_pct,
        "P2O5": p2o5_pct,
    }
    slag |= {"Al2O3": 100.0 - sum(slag.values())}
    return mno_pct * _MN_SHARE / partition(slag, kelvin(temp_c), "Park-Dzo").value


def _times_kmn(change):
    """[%Mn] when log kMn is off by change(given)."""
    return lambda answer, given: answer * 10.0 ** -change(given)


_MANGANESE = Problem(
    key="phosphorus_and_sulphur.manganese",
    title="Manganese left in the steel",
    text="""A slag saturated with MgO holds {cao_pct} CaO, {mgo_pct} MgO, {feto_pct} FetO, {mno_pct} MnO, {sio2_pct} SiO2 and {p2o5_pct} P2O5. How much
manganese is in the steel below it at {temp_c}, by log kMn = 0.001 (−1.651 CaO + 39.13 MgO + 4.64 FetO + 5.133 MnO + 11.86 SiO2 − 99.7 P2O5) + 8086/T − 4.262,
kMn = (%MnO)/([%Mn] (%FetO)) (Park and Dzo, abstract; their kMn is taken to be this)?""",
    given=(
        Given("cao_pct", "CaO", "%", 42, 46, 0.5, "converter slag, published analyses"),
        Given("mgo_pct", "MgO", "%", 7, 9, 0.5, "saturated with MgO, as in the paper"),
        Given("feto_pct", "FetO", "%", 18, 23, 0.5, "end of the blow, common practice"),
        Given("mno_pct", "MnO", "%", 3, 5, 0.1, "converter slag, published analyses"),
        Given("sio2_pct", "SiO2", "%", 11, 14, 0.5, "converter slag, published analyses"),
        Given("p2o5_pct", "P2O5", "%", 1.5, 2.5, 0.1, "converter slag, published analyses"),
        Given("temp_c", "temperature", "°C", 1600, 1690, 5, "range of the paper: 1550 to 1700 °C"),
    ),
    answer=Answer("%", _LOGARITHM, tolerance_pct=3.0),
    solve=_manganese,
    slips=(
        slip.times(
            "element_for_oxide",
            "You turned (%MnO) into Mn; kMn is written with the oxide.",
            _MN_SHARE,
        ),
        slip.times(
            "no_iron",
            "You left out (%FetO): divide by it as well.",
            lambda given: given["feto_pct"],
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into 8086/T as it stands; T is in kelvin.",
            after=_times_kmn(lambda given: _degrees("Park-Dzo", given)),
        ),
        Slip(
            "sign_of_phosphorus",
            "The term of P2O5 is subtracted.",
            after=_times_kmn(
                lambda given: (
                    -2.0
                    * _EQUATIONS["Park-Dzo"]["factor"]
                    * _EQUATIONS["Park-Dzo"]["P2O5"]
                    * given["p2o5_pct"]
                )
            ),
        ),
    ),
    hints=(
        "First the bracket; it comes to some 200 to 450.",
        "log kMn = 0.001 × bracket + 8086/({temp_c:n} + 273.15) − 4.262; kMn is 1 to 3.",
        "[%Mn] = {mno_pct:n}/(kMn × {feto_pct:n})",
    ),
    worked="""Bracket: −1.651 × {cao_pct:n} + 39.13 × {mgo_pct:n} + 4.64 × {feto_pct:n} + 5.133 × {mno_pct:n} + 11.86 × {sio2_pct:n} − 99.7 × {p2o5_pct:n}.
log kMn = 0.001 × bracket + 8086/({temp_c:n} + 273.15) − 4.262. [%Mn] = {mno_pct:n}/(kMn × {feto_pct:n}) = **{answer}**. A hotter end and less FeO keep more
manganese in the steel.""",
)


def _sulphur(hot_metal_kg_t, s_pct, left_kg_t, left_s_pct, rest_kg_t, slag_kg_t, l_s):
    total = (hot_metal_kg_t * s_pct + left_kg_t * left_s_pct) / 100.0 + rest_kg_t
    return metal_pct_after(_METAL_KG, 100.0 * total / _METAL_KG, slag_kg_t, 0.0, l_s)


_SULPHUR = Problem(
    key="phosphorus_and_sulphur.sulphur",
    title="Slag left on, sulphur back",
    text="""Per tonne of steel: {hot_metal_kg_t} of hot metal desulphurised to {s_pct} S, on it {left_kg_t} of treatment slag with {left_s_pct} S that was
not skimmed, {rest_kg_t} of sulphur with scrap and lime. The vessel makes {slag_kg_t} of slag, (%S)/[%S] = {l_s:n}. How much sulphur does the steel hold?""",
    given=(
        Given("hot_metal_kg_t", "hot metal", "kg", 840, 920, 10, "per t of steel, common practice"),
        Given(
            "s_pct",
            "sulphur after treatment",
            "%",
            0.002,
            0.005,
            0.001,
            "treated hot metal, common practice",
            follows="hot_metal.analysis_pct.S",
        ),
        Given("left_kg_t", "slag left on", "kg", 1, 6, 0.5, "after poor skimming, common practice"),
        Given(
            "left_s_pct",
            "sulphur in it",
            "%",
            2,
            4,
            0.5,
            "slag of injection, order of size, recalled",
        ),
        Given(
            "rest_kg_t",
            "sulphur with scrap and lime",
            "kg",
            0.04,
            0.08,
            0.01,
            "200 kg scrap with 0.02 to 0.03 %, lime besides",
        ),
        Given("slag_kg_t", "vessel slag", "kg", 70, 120, 5, "per t of steel, common practice"),
        Given("l_s", "partition of sulphur", "1", 3, 8, 1, "plant range, recalled"),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_sulphur,
    slips=(
        slip.forgot("left_kg_t", 0.0, "the slag left on"),
        slip.forgot("l_s", 0.0, "what the vessel slag takes"),
        slip.times("kg_for_percent", "1 kg of sulphur in 1000 kg of steel is 0.1 %.", 10.0),
        Slip(
            "no_one",
            "You divided by L × slag alone. What stays in the metal counts too: 1000 + L × slag.",
            after=lambda answer, given: (
                answer * (1.0 + _METAL_KG / (given["l_s"] * given["slag_kg_t"]))
            ),
        ),
    ),
    hints=(
        "Add up the kg of sulphur: hot metal, slag left on, the rest.",
        "It is shared: [%S]/100 × 1000 kg in steel, L × [%S]/100 × {slag_kg_t:n} kg in slag.",
        "[%S] = 100 × kg of sulphur/(1000 + {l_s:n} × {slag_kg_t:n})",
    ),
    worked="""Sulphur: {hot_metal_kg_t:n} × {s_pct:n}/100 + {left_kg_t:n} × {left_s_pct:n}/100 + {rest_kg_t:n} kg. Over (1000 + {l_s:n} ×
{slag_kg_t:n}), times 100: **{answer}**. A few kg of treatment slag undo the treatment: the vessel hardly removes sulphur. Skim.""",
)

_SLAGS = {
    "pure iron oxide": "FetO",
    "iron oxide saturated with MgO": "FetO-MgO",
    "iron oxide saturated with CaO": "FetO-CaO",
}
_LINES = oxygen_lines()


def _oxygen(slag, temp_c):
    return oxygen_under(_SLAGS[slag], kelvin(temp_c))


_OXYGEN = Problem(
    key="phosphorus_and_sulphur.oxygen",
    title="Oxygen under iron oxide",
    text="""Liquid iron stands under {slag} at {temp_c}. How much oxygen does it hold? log [%O] = −6320/T + 2.734 under pure iron oxide, −5520/T + 2.276
saturated with MgO, −5240/T + 1.743 saturated with CaO; T in kelvin, log is log10.""",
    given=(
        Pick("slag", "slag", tuple(_SLAGS), "three published lines"),
        Given("temp_c", "temperature", "°C", 1580, 1650, 5, "where all three lines hold"),
    ),
    answer=Answer("%", "two per cent cover rounded exponents", tolerance_pct=2.0),
    solve=_oxygen,
    slips=(
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} in as it stands; T is in kelvin.",
            solve=lambda slag, temp_c: _at(slag, temp_c),
        ),
        Slip(
            "sign",
            "You lost the minus before b/T; the result is more than 100 %.",
            after=lambda answer, given: 10.0 ** (2.0 * _LINES[_SLAGS[given["slag"]]]["c"]) / answer,
        ),
        Slip(
            "power_of_e",
            "You raised e to it; log is log10.",
            after=lambda answer, given: np.exp(np.log10(answer)),
        ),
        Slip(
            "logarithm",
            "This is the logarithm; raise 10 to it.",
            after=lambda answer, given: np.log10(answer),
        ),
    ),
    hints=(
        "Choose the line of {slag}.",
        "T = {temp_c:n} + 273.15.",
        "Work out b/T + c; it lies between −1.1 and −0.5. Raise 10 to it.",
    ),
    worked="""b/({temp_c:n} + 273.15) + c of the line for {slag}, and 10 to that power: **{answer}**. Lime binds iron oxide and lowers the oxygen, magnesia
hardly does. Steel at the end of a blow holds less than this, since its carbon takes the oxygen: slag and steel are not at equilibrium with each other.""",
)


def _at(slag, t):
    line = _LINES[_SLAGS[slag]]
    return 10.0 ** (line["b_k"] / t + line["c"])


def _more_iron(from_pct, to_pct):
    return 2.0, (to_pct / from_pct) ** 2.5


_MORE_IRON = Problem(
    key="phosphorus_and_sulphur.more_iron",
    title="Can iron oxide help without end?",
    text="""In the equations with 2.5 log T.Fe the total iron rises from {from_pct} to {to_pct}, all else the same. By what factor does L_P rise, and what
must you know before you go on like that?""",
    given=(
        Given("from_pct", "total iron before", "%", 12, 16, 0.5, "slag poor in iron"),
        Given("to_pct", "total iron after", "%", 19, 24, 0.5, "slag rich in iron"),
    ),
    answer=Choice(
        options=(
            "It goes on: more iron oxide always holds more phosphorus.",
            "All else is not the same: iron oxide takes the place of lime, and measured slags "
            "stopped gaining at 13 to 14 % FeO.",
            "Above 20 % total iron the phosphorus oxide evaporates.",
            "More iron oxide in the slag lowers the oxygen of the steel, and that lets phosphorus "
            "go.",
        ),
        sentences=(
            "The form rises for ever, the slag does not: with the same basicity each % of FeO "
            "leaves less lime, and the partition turns down.",
            "Yes: Basu and others (2007, slags poor in FeO at 1600 to 1650 °C). At the same "
            "basicity SI-c itself turns down beyond some 15 % FeO.",
            "It does not; it is bound as phosphate.",
            "The other way round: iron oxide brings oxygen, and oxygen drives phosphorus into the "
            "slag. What is lost is lime.",
        ),
        number=Answer("1", _PER_CENT, tolerance_pct=1.0),
    ),
    solve=_more_iron,
    slips=(
        Slip(
            "linear",
            "You took the plain ratio; L_P goes with its power 2.5.",
            solve=lambda from_pct, to_pct: to_pct / from_pct,
        ),
        Slip(
            "logarithm",
            "This is 2.5 log of the ratio; raise 10 to it.",
            solve=lambda from_pct, to_pct: 2.5 * np.log10(to_pct / from_pct),
        ),
        slip.times(
            "oxide",
            "You turned iron into FeO on one side only; the ratio is the same for both.",
            (molar_mass("FeO") / molar_mass("Fe")) ** 2.5,
        ),
    ),
    hints=(
        "log L_P rises by 2.5 × (log {to_pct:n} − log {from_pct:n}).",
        "That is a power: ({to_pct:n}/{from_pct:n}) to the power 2.5. Then think of what makes "
        "room for the iron oxide.",
    ),
    worked="""({to_pct:n}/{from_pct:n})^2.5 = **{answer}** by the form alone. Line {line}: look at the right-hand picture of the panel, where the lime pays.""",
)


PROBLEMS = (
    _LEFT,
    _SLAG,
    _PARTITION,
    _HOTTER,
    _MORE_IRON,
    _SIGN,
    _RETURNED,
    _MANGANESE,
    _SULPHUR,
    _OXYGEN,
)
