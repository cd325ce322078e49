"""Problems of lesson 03: which element burns first, and when does carbon take over?

Coefficient set jsps throughout. The straight lines printed in the texts follow the computed
constants within 0.004 of their logarithm.
"""

import numpy as np

from ...base import InputError, kelvin
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip
from ...thermo import (
    activities,
    co_pressure_at_tie,
    crossing,
    equilibrium_oxygen,
    interaction,
    oxygen_with_carbon,
)

SET = "jsps"
# log K = a/T + b of the constants by this set, as printed in the texts: [C] + [O] = CO, [Si] + 2
# [O] = SiO2, [Mn] + [O] = MnO, 2 [Cr] + 3 [O] = Cr2O3
LINES = {
    "C-O": (906.0, 2.149),
    "Si-O": (30373.0, -11.606),
    "Mn-O": (15321.0, -6.718),
    "Cr-O": (42963.0, -18.947),
}
_KELVIN_LEFT = Slip(
    "kelvin_left",
    "You left the answer in kelvin; subtract 273.15.",
    after=lambda answer, given: kelvin(answer),
)


def _log_k(key, T):
    a, b = LINES[key]
    return a / T + b


def _by_line(key, n, log_products):
    """Temperature, degC, at which n times log K of carbon less log K of the other equals a sum of
    logarithms, by the printed lines; for slips.
    """
    (a_c, b_c), (a, b) = LINES["C-O"], LINES[key]
    return (n * a_c - a) / (log_products - n * b_c + b) - 273.15


# ---- 1 -------------------------------------------------------------------------------------------


def _log_f_si(c_pct, si_pct, T):
    return interaction("Si", "C", T, SET) * c_pct + interaction("Si", "Si", T, SET) * si_pct


_H_SI = Problem(
    key="order_of_oxidation.h_si",
    title="How active is the silicon?",
    text="""Hot metal at {temp_c} holds {c_pct} C and {si_pct} Si. What is the activity h of its silicon (1 mass % as reference)?
log f = (380/T − 0.023)·%C + 0.103·%Si with T in kelvin, and h = f·%Si. Leave the other elements out.""",
    given=(
        Given(
            "temp_c",
            "temperature",
            "°C",
            1280,
            1400,
            10,
            "hot metal at the vessel, common practice",
            follows="hot_metal.temp_c",
        ),
        Given(
            "c_pct",
            "carbon",
            "%",
            4.0,
            4.7,
            0.1,
            "hot metal near carbon saturation, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "si_pct",
            "silicon",
            "%",
            0.2,
            0.9,
            0.05,
            "0.3 to 1.2 %, common practice",
            follows="hot_metal.analysis_pct.Si",
            most=1.5,
        ),
    ),
    answer=Answer(
        "1", "two per cent covers an exponent worked out to three figures", tolerance_pct=2.0
    ),
    solve=lambda temp_c, c_pct, si_pct: activities(
        {"C": c_pct, "Si": si_pct}, kelvin(temp_c), SET
    ).h["Si"],
    slips=(
        Slip(
            "no_carbon",
            "You left out the carbon: it does most of the work on silicon in hot metal.",
            solve=lambda temp_c, c_pct, si_pct: (
                si_pct * 10.0 ** _log_f_si(0.0, si_pct, kelvin(temp_c))
            ),
        ),
        Slip(
            "natural_for_common_log",
            "You took e to the power of log f; here log is log10, so f = 10 to that power.",
            solve=lambda temp_c, c_pct, si_pct: (
                si_pct * np.exp(_log_f_si(c_pct, si_pct, kelvin(temp_c)))
            ),
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into 380/T as it stands; T is kelvin, so add 273.15.",
            solve=lambda temp_c, c_pct, si_pct: (
                si_pct * 10.0 ** ((380.0 / temp_c - 0.023) * c_pct + 0.103 * si_pct)
            ),
        ),
        slip.times(
            "only_f",
            "This is the activity coefficient f; the activity is f times the {si_pct:n} %.",
            lambda given: 1.0 / given["si_pct"],
        ),
    ),
    hints=(
        "The activity is the content times a coefficient. What does carbon do to that coefficient?",
        "Work out 380/T − 0.023 with T = {temp_c:n} + 273.15 first.",
        "log f = (380/({temp_c:n} + 273.15) − 0.023) × {c_pct:n} + 0.103 × {si_pct:n}; f = 10 to "
        "that power.",
    ),
    worked="""log f = (380/({temp_c:n} + 273.15) − 0.023) × {c_pct:n} + 0.103 × {si_pct:n}. Ten to that power is f, and f ×
{si_pct:n} gives h = **{answer}**. Carbon makes silicon about ten times as active as it would be in pure iron: that is why it burns so
early.""",
)


# ---- 2 -------------------------------------------------------------------------------------------


def _silicon(c_pct=1.0, f_c=1.0, si_pct=1.0, f_si=1.0, a_sio2=1.0, p_co=1.0):
    found = crossing("Si", c_pct * f_c, si_pct * f_si, a_sio2, p_co, SET)
    if found.temp_c is None:
        raise InputError("crossing of carbon and silicon: there is none in range.")
    return found.temp_c


_TWO_LINES = Problem(
    key="order_of_oxidation.two_lines",
    title="Where two lines cross",
    text="""For the reactions [C] + [O] = CO and [Si] + 2 [O] = SiO2 the Gibbs energies are ΔG° = −17 350 − 41.14 T and ΔG° = −581
500 + 222.2 T (J, T in kelvin). Carbon, silicon and silica all have activity 1; the pressure of CO is {p_co}. Above which temperature, in
°C, does carbon take the oxygen from silica? R = 8.3145 J/(mol K).""",
    given=(
        Given(
            "p_co",
            "pressure of CO",
            "atm",
            0.1,
            3.0,
            0.05,
            "from argon stirring to bubbles under a deep bath",
        ),
    ),
    answer=Answer("°C", "four degrees cover the straight lines and rounding", tolerance_abs=4.0),
    solve=lambda p_co: _silicon(p_co=p_co),
    slips=(
        Slip(
            "one_carbon",
            "Silica holds two oxygen atoms: two carbons are needed, so the carbon line counts "
            "twice.",
            solve=lambda p_co: _by_line("Si-O", 1, np.log10(p_co)),
        ),
        Slip(
            "p_once",
            "Two CO are formed: 2 RT ln p, not RT ln p.",
            solve=lambda p_co: _by_line("Si-O", 2, np.log10(p_co)),
        ),
        Slip(
            "no_pressure",
            "You left out the pressure of CO, {p_co}.",
            solve=lambda p_co: _by_line("Si-O", 2, 0.0),
        ),
        Slip(
            "common_for_natural_log",
            "You took log10 of the pressure; RT ln p has the natural one.",
            solve=lambda p_co: _by_line("Si-O", 2, 2.0 * np.log10(p_co) / np.log(10.0)),
        ),
        _KELVIN_LEFT,
    ),
    hints=(
        "Add the two so that [O] drops out: SiO2 + 2 [C] = [Si] + 2 CO.",
        "Its ΔG is twice the first line less the second, plus 2 RT ln p for the two CO. Where is "
        "it zero?",
        "2 × (−17 350 − 41.14 T) + 581 500 − 222.2 T + 2 × 8.3145 T ln {p_co:n} = 0.",
    ),
    worked="""SiO2 + 2 [C] = [Si] + 2 CO: ΔG = 546 800 − 304.5 T + 16.629 T ln {p_co:n}. It is zero at T = 546 800/(304.5 − 16.629
ln {p_co:n}) K, which is **{answer}**. The less CO presses on the bath, the sooner carbon wins.""",
    cautions=(
        "Every such bubble is carbon monoxide: it leaves at the mouth and must never be breathed.",
    ),
    vector=False,
)


# ---- 3 -------------------------------------------------------------------------------------------


_IN_SLAG = Problem(
    key="order_of_oxidation.silica_in_slag",
    title="Silica held by lime",
    text="""Hot metal holds {c_pct} C with an activity coefficient of {f_c} and {si_pct} Si with {f_si}. The slag has taken up the
silica: its activity is {a_sio2}. CO has 1 atm. Above which temperature, in °C, does carbon burn before silicon? For SiO2 + 2 [C] = [Si] + 2
CO: log K = −28 561/T + 15.904, T in kelvin.""",
    given=(
        Given(
            "c_pct",
            "carbon",
            "%",
            4.0,
            4.7,
            0.1,
            "hot metal near carbon saturation, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given("f_c", "f of carbon", "1", 6.0, 8.0, 0.2, "hot metal, computed with the set jsps"),
        Given(
            "si_pct",
            "silicon",
            "%",
            0.2,
            0.8,
            0.05,
            "0.3 to 1.2 %, common practice",
            follows="hot_metal.analysis_pct.Si",
            most=1.5,
        ),
        Given("f_si", "f of silicon", "1", 8.0, 11.0, 0.2, "hot metal, computed with the set jsps"),
        Given(
            "a_sio2",
            "activity of silica",
            "1",
            0.003,
            0.05,
            0.001,
            "from a limy slag to an acid one at the start",
        ),
    ),
    answer=Answer("°C", "five degrees cover the straight line and rounding", tolerance_abs=5.0),
    solve=_silicon,
    slips=(
        Slip(
            "content_for_activity",
            "You put in the contents in %; the constant wants activities: each content times its "
            "coefficient.",
            solve=lambda c_pct, f_c, si_pct, f_si, a_sio2: _by_line(
                "Si-O", 2, np.log10(si_pct / (a_sio2 * c_pct**2))
            ),
        ),
        Slip(
            "pure_silica",
            "You took pure silica; lime holds it, its activity is {a_sio2}.",
            solve=lambda c_pct, f_c, si_pct, f_si, a_sio2: _by_line(
                "Si-O", 2, np.log10(si_pct * f_si / (c_pct * f_c) ** 2)
            ),
        ),
        Slip(
            "carbon_once",
            "Two carbons react: the activity of carbon enters squared.",
            solve=lambda c_pct, f_c, si_pct, f_si, a_sio2: _by_line(
                "Si-O", 2, np.log10(si_pct * f_si / (a_sio2 * c_pct * f_c))
            ),
        ),
        Slip(
            "natural_for_common_log",
            "You took the natural logarithm of the quotient; here log means log10.",
            solve=lambda c_pct, f_c, si_pct, f_si, a_sio2: _by_line(
                "Si-O", 2, np.log(si_pct * f_si / (a_sio2 * (c_pct * f_c) ** 2))
            ),
        ),
        _KELVIN_LEFT,
    ),
    hints=(
        "Activities first: h of carbon and h of silicon.",
        "At the tie K = h_Si × p² / (a_SiO2 × h_C²), with p = 1 atm.",
        "Put log of that quotient equal to −28 561/T + 15.904 and solve for T.",
    ),
    worked="""h_C = {c_pct:n} × {f_c:n}, h_Si = {si_pct:n} × {f_si:n}. Q = h_Si/({a_sio2:n} × h_C²), and T = 28 561/(15.904 − log Q)
K: **{answer}**. With pure silica it would lie 100 to 250 °C lower: a limy slag keeps silicon burning first for much longer.""",
    vector=False,
)


# ---- 4 -------------------------------------------------------------------------------------------


def _manganese(c_pct, mn_pct, a_mno):
    h = activities({"C": c_pct, "Mn": mn_pct}, 1873.15, SET).h
    found = crossing("Mn", h["C"], h["Mn"], a_mno, 1.0, SET)
    if found.temp_c is None:
        raise InputError("crossing of carbon and manganese: there is none in range.")
    return found.temp_c


def _quotient_mn(c_pct, mn_pct, a_mno):
    """log of h_Mn/(a_MnO h_C), with the two coefficients that the text gives."""
    return np.log10(mn_pct / (a_mno * c_pct)) - (0.041 + 0.243) * c_pct


_MANGANESE = Problem(
    key="order_of_oxidation.manganese",
    title="Late in the blow: manganese or carbon?",
    text="""Late in the blow the bath holds {c_pct} C and {mn_pct} Mn; the slag's MnO has an activity of {a_mno}; CO has 1 atm.
Below which temperature, in °C, would manganese burn before carbon? Take log f_C = 0.243·%C and log f_Mn = −0.041·%C. For MnO + [C] = [Mn] +
CO: log K = −14 415/T + 8.867, T in kelvin.""",
    given=(
        Given(
            "c_pct",
            "carbon",
            "%",
            0.3,
            1.0,
            0.05,
            "the last third of a blow; the coefficient of manganese is known up to 1.2 % C",
        ),
        Given("mn_pct", "manganese", "%", 0.1, 0.4, 0.02, "bath in the blow, common practice"),
        Given(
            "a_mno",
            "activity of MnO",
            "1",
            0.04,
            0.2,
            0.01,
            "thinned by the other oxides of the slag; our own range",
        ),
    ),
    answer=Answer(
        "°C",
        "eight degrees cover the small second-order term of carbon and rounding",
        tolerance_abs=8.0,
    ),
    solve=_manganese,
    slips=(
        Slip(
            "pure_oxide",
            "You took pure MnO; in this slag its activity is {a_mno}.",
            solve=lambda c_pct, mn_pct, a_mno: _by_line(
                "Mn-O", 1, _quotient_mn(c_pct, mn_pct, 1.0)
            ),
        ),
        Slip(
            "content_for_activity",
            "You put in the contents in %; multiply each by its activity coefficient.",
            solve=lambda c_pct, mn_pct, a_mno: _by_line(
                "Mn-O", 1, np.log10(mn_pct / (a_mno * c_pct))
            ),
        ),
        Slip(
            "natural_for_common_log",
            "You took the natural logarithm of the quotient; here log means log10.",
            solve=lambda c_pct, mn_pct, a_mno: _by_line(
                "Mn-O", 1, np.log(10.0) * _quotient_mn(c_pct, mn_pct, a_mno)
            ),
        ),
        Slip(
            "quotient_turned",
            "You turned the quotient upside down: what stands on the right of the equation is on "
            "top.",
            solve=lambda c_pct, mn_pct, a_mno: _by_line(
                "Mn-O", 1, -_quotient_mn(c_pct, mn_pct, a_mno)
            ),
        ),
        _KELVIN_LEFT,
    ),
    hints=(
        "Activities first: h_C = %C × f_C and h_Mn = %Mn × f_Mn.",
        "At the tie K = h_Mn/(a_MnO × h_C), with 1 atm of CO.",
        "T = 14 415/(8.867 − log[h_Mn/({a_mno:n} × h_C)]) K.",
    ),
    worked="""h_C = {c_pct:n} × 10^(0.243 × {c_pct:n}); h_Mn = {mn_pct:n} × 10^(−0.041 × {c_pct:n}). With Q = h_Mn/({a_mno:n} ×
h_C): T = 14 415/(8.867 − log Q) K, which is **{answer}**. Where the bath is hotter than that, carbon takes oxygen from MnO, and manganese
comes back into the steel for a while.""",
    vector=False,
)


# ---- 5 -------------------------------------------------------------------------------------------


def _h_chromium(cr_pct, c_pct, temp_c):
    return activities({"Cr": cr_pct, "C": c_pct}, kelvin(temp_c), SET).h


def _chromium(cr_pct, c_pct, temp_c):
    h = _h_chromium(cr_pct, c_pct, temp_c)
    return co_pressure_at_tie("Cr", kelvin(temp_c), h["C"], h["Cr"], 1.0, SET)


def _hand_chromium(h_c, h_cr, T, root=3.0):
    return h_c * 10.0 ** (_log_k("C-O", T) - (_log_k("Cr-O", T) + 2.0 * np.log10(h_cr)) / root)


_CHROMIUM = Problem(
    key="order_of_oxidation.chromium",
    title="The pressure that saves chromium",
    text="""A stainless melt at {temp_c} holds {cr_pct} Cr and {c_pct} C. Below which pressure of CO, in atm, does carbon burn
before chromium (against pure Cr2O3)? log f_C = 0.243·%C − 0.023·%Cr, log f_Cr = −0.114·%C − 0.0003·%Cr. [C] + [O] = CO: log K = 906/T +
2.149; 2 [Cr] + 3 [O] = Cr2O3: log K = 42 963/T − 18.947; T in kelvin.""",
    given=(
        Given(
            "cr_pct", "chromium", "%", 10.0, 18.0, 0.5, "ferritic and austenitic stainless steel"
        ),
        Given("c_pct", "carbon", "%", 0.03, 0.25, 0.01, "end of stainless refining"),
        Given(
            "temp_c",
            "temperature",
            "°C",
            1600,
            1720,
            10,
            "stainless refining runs hot, common practice",
        ),
    ),
    answer=Answer(
        "atm", "five per cent: four exponents multiply their rounding", tolerance_pct=5.0
    ),
    solve=_chromium,
    slips=(
        Slip(
            "cube_root_forgotten",
            "Cr2O3 takes three oxygens: the activity of oxygen is the cube root of 1/(K h²). You "
            "took the square root.",
            solve=lambda cr_pct, c_pct, temp_c: _hand_chromium(
                *(_h_chromium(cr_pct, c_pct, temp_c)[e] for e in ("C", "Cr")), kelvin(temp_c), 2.0
            ),
        ),
        Slip(
            "content_for_activity",
            "You put in the contents in %; chromium makes carbon much less active: use h = f × %.",
            solve=lambda cr_pct, c_pct, temp_c: _hand_chromium(c_pct, cr_pct, kelvin(temp_c)),
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into the constants as it stands; T is kelvin, so add 273.15.",
            solve=lambda cr_pct, c_pct, temp_c: _hand_chromium(
                *(_h_chromium(cr_pct, c_pct, temp_c)[e] for e in ("C", "Cr")), temp_c
            ),
        ),
        slip.upside_down("You turned it upside down: p = K × h_C × h_O."),
    ),
    hints=(
        "Which activity of oxygen does chromium allow? Carbon burns if that oxygen can still make "
        "CO against the pressure.",
        "h_O = (1/(K_Cr × h_Cr²))^(1/3).",
        "p = K_C × h_C × h_O, with h_C = {c_pct:n} × 10^(0.243 × {c_pct:n} − 0.023 × {cr_pct:n}).",
    ),
    worked="""h_C = {c_pct:n} × 10^(0.243 × {c_pct:n} − 0.023 × {cr_pct:n}), h_Cr = {cr_pct:n} × 10^(−0.114 × {c_pct:n} − 0.0003 ×
{cr_pct:n}). Chromium allows h_O = (1/(K_Cr h_Cr²))^(1/3). Then p = K_C h_C h_O = **{answer}**. Under a full atmosphere chromium would burn
instead: stainless steel is refined under vacuum or with argon in the oxygen.""",
    plausible=lambda answer, **given: answer < 0.7,
)


# ---- 6 -------------------------------------------------------------------------------------------

_RULERS = ("C-O", "Si-O", "Mn-O")


def _allowed_ppm(c_pct, si_pct, mn_pct):
    """Activity of oxygen, ppm, that carbon, silicon and manganese allow at 1600 degC, by the
    figures in the text.
    """
    h_c, h_si = (
        c_pct * 10.0 ** (0.243 * c_pct + 0.08 * si_pct),
        si_pct * 10.0 ** (0.18 * c_pct + 0.103 * si_pct),
    )
    return (
        1e4 / (429.0 * h_c),
        1e4 / np.sqrt(40600.0 * h_si),
        1e4 / (28.9 * mn_pct * 10.0 ** (-0.041 * c_pct)),
    )


def _ruling(c_pct, si_pct, mn_pct):
    found = equilibrium_oxygen({"C": c_pct, "Si": si_pct, "Mn": mn_pct}, 1873.15, coefficients=SET)
    return 1 + _RULERS.index(found.set_by), 1e4 * found.h_o


_KILLED = Problem(
    key="order_of_oxidation.who_sets_oxygen",
    title="Who sets the oxygen?",
    text="""A steel at 1600 °C holds {c_pct} C, {si_pct} Si and {mn_pct} Mn, no aluminium; CO at 1 atm, SiO2 and MnO pure. Which
element sets the oxygen, and what activity of oxygen does it leave, in ppm (0.01 % is 100 ppm)? Constants at 1600 °C: [C] + [O] = CO 429;
[Si] + 2 [O] = SiO2 40 600; [Mn] + [O] = MnO 28.9. log f_C = 0.243·%C + 0.08·%Si; log f_Si = 0.18·%C + 0.103·%Si; log f_Mn = −0.041·%C.
Choose the line and type the number.""",
    given=(
        Given("c_pct", "carbon", "%", 0.06, 0.5, 0.02, "structural to medium-carbon steel"),
        Given("si_pct", "silicon", "%", 0.05, 0.4, 0.01, "silicon-killed steel, common practice"),
        Given("mn_pct", "manganese", "%", 0.3, 1.2, 0.05, "structural steel, common practice"),
    ),
    answer=Choice(
        ordered=True,
        options=("carbon", "silicon", "manganese"),
        sentences=(
            "Carbon rules where there is much of it: its product with oxygen is small.",
            "Silicon rules where carbon is low: its oxide takes two oxygens, so the root of its "
            "product counts.",
            "Manganese is a weak deoxidiser here: it would leave several hundred ppm, more than "
            "the others allow.",
        ),
        number=Answer(
            "ppm", "six per cent covers the small terms that the text leaves out", tolerance_pct=6.0
        ),
    ),
    solve=_ruling,
    slips=(
        Slip(
            "exponent_forgotten",
            "Two oxygens make SiO2: h_O is the square root of 1/(K h_Si).",
            solve=lambda c_pct, si_pct, mn_pct: (
                2,
                _allowed_ppm(c_pct, si_pct, mn_pct)[1] ** 2 / 1e4,
            ),
        ),
        Slip(
            "highest_taken",
            "You took the element that leaves more oxygen. The one that allows least rules: the "
            "others give their share to it.",
            solve=lambda c_pct, si_pct, mn_pct: (lambda a: (2, a[1]) if a[0] < a[1] else (1, a[0]))(
                _allowed_ppm(c_pct, si_pct, mn_pct)
            ),
        ),
        slip.times("percent_for_ppm", "This is in %; 1 % is 10 000 ppm.", 1e-4),
    ),
    hints=(
        "Work out, for each element alone, the oxygen it would allow. The lowest rules.",
        "Carbon: h_O = 1/(429 h_C). Silicon: h_O = √(1/(40 600 h_Si)).",
        "h_C = {c_pct:n} × 10^(0.243 × {c_pct:n} + 0.08 × {si_pct:n}); h_Si = {si_pct:n} × "
        "10^(0.18 × {c_pct:n} + 0.103 × {si_pct:n}).",
    ),
    worked="""Each alone: carbon 1/(429 h_C), silicon √(1/(40 600 h_Si)), manganese 1/(28.9 h_Mn). The lowest is line {line}:
**{answer}**. Deep in a ladle the steel presses on the bubbles and carbon is weaker than at 1 atm; under vacuum it is stronger.""",
    plausible=lambda answer, **given: (
        abs(np.log(_allowed_ppm(**given)[0] / _allowed_ppm(**given)[1])) > 0.15
    ),
    vector=False,
)


# ---- 7 -------------------------------------------------------------------------------------------

_SHEET = {"C": 4.0, "Si": 1.5, "Mn": 1.0}


def _sulphur(s_pct):
    return activities({**_SHEET, "S": s_pct}, 1873.15, SET, quiet=True).h[
        "S"
    ]  # the only remark is on manganese, which is not asked for


_COURSE = Problem(
    key="order_of_oxidation.old_coefficient",
    title="Two answers to one question",
    text="""A published course (NPTEL, Steel Making, lecture 3) asks for the activity of sulphur in hot metal with 4 % C, 1.5 %
Si, 1 % Mn and 0.04 % S and gives 0.43. With the set of this lesson, log f_S = 0.111·%C + 0.075·%Si − 0.026·%Mn − 0.046·%S. What do you get
for the same metal with {s_pct} S? And which line explains best why 0.43 is so much higher? Choose the line and type the number.""",
    given=(
        Given(
            "s_pct",
            "sulphur",
            "%",
            0.02,
            0.06,
            0.002,
            "hot metal before desulphurisation, common practice",
        ),
    ),
    answer=Choice(
        options=(
            "They raised e to the power of log f instead of 10.",
            "They used an older table with a larger effect of carbon: e = 0.24 in place of 0.111.",
            "They left out the carbon.",
            "They took mole % for mass %.",
        ),
        sentences=(
            "That would make f smaller, not larger: try it.",
            "Yes. With 0.24 for carbon the published 0.43 comes out. A coefficient belongs to a "
            "table and to its year; sets are never mixed.",
            "Without carbon f is near 1.2, and the activity near 0.05.",
            "Both coefficients and contents are in mass %; carbon in mole % would be far larger "
            "than 4.",
        ),
        number=Answer(
            "1", "three per cent covers an exponent worked out to three figures", tolerance_pct=3.0
        ),
    ),
    solve=lambda s_pct: (2 + 0 * s_pct, _sulphur(s_pct)),
    slips=(
        Slip(
            "natural_for_common_log",
            "You took e to the power of log f; here log is log10.",
            solve=lambda s_pct: (2 + 0 * s_pct, s_pct * np.exp(np.log10(_sulphur(s_pct) / s_pct))),
        ),
        Slip(
            "no_carbon",
            "You left out the carbon.",
            solve=lambda s_pct: (2 + 0 * s_pct, _sulphur(s_pct) / 10.0 ** (0.111 * _SHEET["C"])),
        ),
        Slip(
            "old_table",
            "This is what the older coefficient of carbon gives; use the one in the text.",
            solve=lambda s_pct: (
                2 + 0 * s_pct,
                _sulphur(s_pct) * 10.0 ** ((0.24 - 0.111) * _SHEET["C"]),
            ),
        ),
    ),
    hints=(
        "Work out log f_S, then f_S, then f_S × {s_pct:n}.",
        "Which element has by far the largest term? What would its coefficient have to be to give "
        "0.43?",
        "log(0.43/0.04) = 1.03. Carbon, 4 %, carries nearly all of it.",
    ),
    worked="""log f_S = 0.444 + 0.113 − 0.026 − 0.046 × {s_pct:n}, so h_S = **{answer}**. Line {line}: to reach 0.43/0.04 = 10.8 the
coefficient of carbon must be near 0.24, as an older table has it (Elliott, Gleiser and Ramakrishna 1963, as quoted in a student's
question). The figures on the course page itself could not be read, so this is our reading of it.""",
)


# ---- 8 -------------------------------------------------------------------------------------------


def _with_silicon(si_pct, temp_c):
    return 1e4 * equilibrium_oxygen({"Si": si_pct}, kelvin(temp_c), coefficients=SET).o_pct


def _hand_oxygen(si_pct, T, root=2.0):
    h_o = 10.0 ** (-(_log_k("Si-O", T) + np.log10(si_pct) + 0.103 * si_pct) / root)
    return 1e4 * h_o / 10.0 ** (-0.066 * si_pct)


_SILICON_OXYGEN = Problem(
    key="order_of_oxidation.silicon_oxygen",
    title="What oxygen does silicon leave?",
    text="""Steel at {temp_c} holds {si_pct} Si beside pure silica. How much oxygen is dissolved, in ppm? [Si] + 2 [O] = SiO2: log
K = 30 373/T − 11.606, T in kelvin; log f_Si = 0.103·%Si, log f_O = −0.066·%Si.""",
    given=(
        Given("si_pct", "silicon", "%", 0.05, 0.6, 0.01, "silicon-killed steel, common practice"),
        Given("temp_c", "temperature", "°C", 1550, 1650, 5, "ladle, common practice"),
    ),
    answer=Answer(
        "ppm", "four per cent covers rounding and the effect of oxygen on itself", tolerance_pct=4.0
    ),
    solve=_with_silicon,
    slips=(
        Slip(
            "exponent_forgotten",
            "Two oxygens make SiO2: K = 1/(h_Si h_O²), so take the square root.",
            solve=lambda si_pct, temp_c: _hand_oxygen(si_pct, kelvin(temp_c), 1.0),
        ),
        Slip(
            "celsius_for_kelvin",
            "You put {temp_c} into the constant as it stands; T is kelvin, so add 273.15.",
            solve=lambda si_pct, temp_c: _hand_oxygen(si_pct, temp_c),
        ),
        slip.times("percent_for_ppm", "This is in %; 1 % is 10 000 ppm.", 1e-4),
        Slip(
            "natural_for_common_log",
            "You took e to the power of log K; here log is log10.",
            solve=lambda si_pct, temp_c: (
                1e4 * np.exp(-0.5 * _log_k("Si-O", kelvin(temp_c))) / np.sqrt(si_pct)
            ),
        ),
    ),
    hints=(
        "Find K first, then h_Si.",
        "h_O = √(1/(K × h_Si)), then %O = h_O/f_O.",
        "log K = 30 373/({temp_c:n} + 273.15) − 11.606; h_Si = {si_pct:n} × 10^(0.103 × "
        "{si_pct:n}).",
    ),
    worked="""log K = 30 373/({temp_c:n} + 273.15) − 11.606, h_Si = {si_pct:n} × 10^(0.103 × {si_pct:n}), h_O = √(1/(K h_Si)), and
divided by f_O = 10^(−0.066 × {si_pct:n}), times 10 000: **{answer}**. Measurements in silica crucibles (Suzuki, Ban-ya and Fuwa 1970) lie
some 14 % lower at 1600 °C.""",
)


# ---- 9 -------------------------------------------------------------------------------------------


def _high_carbon(c_pct):
    """p/(%C %O) at 1500 degC with e_O^C = +0.10."""
    return 1.0 / (
        c_pct * oxygen_with_carbon(c_pct, kelvin(1500.0), 1.0, None, SET, high_carbon=True)
    )


_LIMIT = Problem(
    key="order_of_oxidation.limit_of_data",
    title="Where a table ends",
    text="""Measured at 1500 °C, the quotient K' = p/(%C·%O) is about 500 at very low carbon, 1700 at 2 % and 3000 at 3 %
(abstract of a paper on 1 to 3 % carbon). K' = K f_C f_O with K = 457 and log f_C = 0.243·%C − 0.0147·%C². A table gives log f_O = −0.42·%C;
with it K' comes out at 180 for 2 % and 100 for 3 %. The paper itself measured log f_O = +0.10·%C from 1 to 3 %. Work out K' at {c_pct} C
with the paper's figure, and choose the line that says what a careful person concludes. Choose the line and type the number.""",
    given=(Given("c_pct", "carbon", "%", 1.2, 3.0, 0.1, "the range of the measurements"),),
    answer=Choice(
        options=(
            "The table is graded and printed, so the measurement must be wrong.",
            "The coefficient of the table holds at low carbon, below about 1 %; above that take "
            "what was measured there.",
            "K changes with carbon, so K' may be used in its place.",
            "Activity coefficients may be left out at high carbon.",
        ),
        sentences=(
            "A slope measured at low carbon says nothing about 3 %. Where a measurement and a "
            "stretched table disagree, the table was stretched.",
            "Yes. A first-order coefficient is a slope at zero content. Ask of every coefficient "
            "how far it was measured.",
            "K depends on temperature alone; K' holds all that the activity coefficients do.",
            "Then K' would be 457 at every carbon content; it was measured at six times that.",
        ),
        number=Answer("1", "five per cent covers three exponents and rounding", tolerance_pct=5.0),
    ),
    solve=lambda c_pct: (2 + 0 * c_pct, _high_carbon(c_pct)),
    slips=(
        Slip(
            "table_stretched",
            "This is what the table's −0.42 gives; take the paper's +0.10.",
            solve=lambda c_pct: (
                2 + 0 * c_pct,
                _high_carbon(c_pct) * 10.0 ** ((-0.42 - 0.10) * c_pct),
            ),
        ),
        Slip(
            "no_second_order",
            "You left out the term −0.0147·%C².",
            solve=lambda c_pct: (2 + 0 * c_pct, _high_carbon(c_pct) * 10.0 ** (0.0147 * c_pct**2)),
        ),
        Slip(
            "natural_for_common_log",
            "You took e to the power of the logarithm; here log is log10.",
            solve=lambda c_pct: (
                2 + 0 * c_pct,
                457.0 * np.exp(np.log10(_high_carbon(c_pct) / 457.0)),
            ),
        ),
    ),
    hints=(
        "Add the two logarithms: log f_C + log f_O.",
        "log(f_C f_O) = 0.243 × {c_pct:n} − 0.0147 × {c_pct:n}² + 0.10 × {c_pct:n}.",
        "K' = 457 × 10 to that power. Then ask: up to which carbon was each coefficient measured?",
    ),
    worked="""log(f_C f_O) = 0.343 × {c_pct:n} − 0.0147 × {c_pct:n}²; K' = 457 × 10 to that power = **{answer}**, near what was
measured. Line {line}. The kit warns whenever a content leaves the range of a coefficient: believe the warning. The term of second order is
the kit's own step, chosen so that graphite appears where it should.""",
)


PROBLEMS = (
    _H_SI,
    _TWO_LINES,
    _IN_SLAG,
    _MANGANESE,
    _CHROMIUM,
    _KILLED,
    _COURSE,
    _SILICON_OXYGEN,
    _LIMIT,
)
