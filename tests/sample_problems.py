"""Problems made for the tests of the exercise machinery: a few sums of the trade, small enough to
check by hand.

They use no physics of the kit, so that a fault found here is a fault of the machinery.
"""

import math

import numpy as np

from steelthermo.base import molar_mass
from steelthermo.coursekit.answers import quantity_text
from steelthermo.coursekit.problems import (
    Answer,
    Choice,
    Given,
    Pick,
    Problem,
    Slip,
    taken,
    times,
)

MADE_UP = "made up for this test"
NM3_PER_KMOL = 22.414


def _oxygen(hot_metal_t, carbon_pct, purity_pct):
    return (
        hot_metal_t
        * 1000.0
        * carbon_pct
        / 100.0
        / molar_mass("C")
        * 0.5
        * NM3_PER_KMOL
        / (purity_pct / 100.0)
    )


def _oxygen_worked(hot_metal_t, carbon_pct, purity_pct):
    carbon_kg = hot_metal_t * 10.0 * carbon_pct
    return (
        f"Carbon: {quantity_text(carbon_kg, 'kg')}, or "
        f"{quantity_text(carbon_kg / molar_mass('C'), 'kmol')}. "
        "Each needs half a mol of O2, so with the purity: "
        f"**{quantity_text(_oxygen(hot_metal_t, carbon_pct, purity_pct), 'Nm3')}**."
    )


OXYGEN = Problem(
    key="sample.oxygen",
    title="Oxygen for the carbon",
    text=(
        "{hot_metal_t} of hot metal hold {carbon_pct} carbon. It burns to CO with oxygen of "
        "{purity_pct} purity. How much of that oxygen, in Nm3?"
    ),
    given=(
        Given("hot_metal_t", "hot metal", "t", 120, 180, 5, MADE_UP),
        Given("carbon_pct", "carbon", "%", 3.8, 4.8, 0.05, MADE_UP),
        Given("purity_pct", "oxygen purity", "%", 90, 96, 0.5, MADE_UP),
    ),
    number=Answer("Nm3", tolerance_pct=0.5, why="three figures carried through three steps."),
    solve=_oxygen,
    slips=(
        Slip(
            "co2_for_co",
            "You burnt the carbon to CO2; asked is CO, which takes half the oxygen.",
            solve=lambda **given: 2.0 * _oxygen(**given),
        ),
        Slip(
            "forgot_purity_pct",
            "You left out the purity of the oxygen: {purity_pct}.",
            **taken(purity_pct=100.0),
        ),
        Slip(
            "fraction_for_percent_carbon_pct",
            "Carbon is given in %: divide it by 100 before you multiply.",
            **taken(carbon_pct=lambda given: 100.0 * given["carbon_pct"]),
        ),
        Slip("atom_for_molecule", "You took 16 for the mass of O2, not 32.", **times(2.0)),
    ),
    hints=(
        "Write the reaction C + 1/2 O2 = CO.",
        "Go from {hot_metal_t} to kg of carbon, then to kmol.",
        "One kmol of gas is 22.414 Nm3; then divide by the purity.",
    ),
    worked=_oxygen_worked,
    plausible=lambda answer, **given: (answer > 3000) & (answer < 12000),
    cautions=("oxygen_pressure",),
)

LOGARITHM = Problem(
    key="sample.ratio",
    title="Logarithm of a partition",
    text=(
        "The slag holds {slag_pct} and the steel {steel_pct} of the same element. What is log10 "
        "of the ratio?"
    ),
    given=(
        Given("slag_pct", "in the slag", "%", 0.4, 1.2, 0.1, MADE_UP),
        Given("steel_pct", "in the steel", "%", 0.005, 0.02, 0.001, MADE_UP),
    ),
    number=Answer("1", tolerance_abs=0.01, why="two decimals are what a log table gives."),
    solve=lambda slag_pct, steel_pct: np.log10(slag_pct / steel_pct),
    slips=(
        Slip("natural_for_common_log", "You took ln; log means log10.", **times(math.log(10.0))),
        Slip("wrong_sign", "You took the ratio upside down.", **times(-1.0)),
    ),
    hints=("Divide {slag_pct:n} by {steel_pct:n} first.", "Then ask: ten to which power is that?"),
    worked="{slag_pct} / {steel_pct}, and its decimal logarithm: **{answer}**.",
)

MELT = Problem(
    key="sample.melt",
    title="Heat in kelvin",
    text="{element} is heated from {temp_c} to 1600 °C. By how many degrees?",
    given=(
        Pick("element", "element", ("Fe", "Mn"), MADE_UP),
        Given("temp_c", "temperature", "°C", 1250, 1400, 10, MADE_UP),
    ),
    number=Answer("K", tolerance_abs=1.0, why="a subtraction of whole numbers.", difference=True),
    solve=lambda element, temp_c: 1600.0 - temp_c,
    slips=(
        Slip(
            "kelvin_for_one",
            "One of the two temperatures is in kelvin, the other is not.",
            solve=lambda element, temp_c: 1873.15 - temp_c,
        ),
    ),
    hints=("A difference in °C is the same in K.", "Subtract {temp_c:n} from 1600."),
    worked="1600 °C less {temp_c} is **{answer}**.",
)

FAULTY_LINE = Problem(
    key="sample.faulty_line",
    title="Which line is wrong?",
    text="A colleague works out the lime for {silica_kg} of silica at a basicity of 3.",
    given=(Given("silica_kg", "silica", "kg", 1000, 2000, 50, MADE_UP),),
    choice=Choice(
        options=("Silica: {silica_kg}.", "Lime = silica / 3.", "Lime is weighed in kg."),
        ordered=True,
        sentences=(
            "The silica is as given.",
            "Basicity is CaO divided by SiO2, so the lime is three times the silica.",
            "That is only the unit.",
        ),
    ),
    solve=lambda silica_kg: 2 + 0 * silica_kg,
    hints=("Write the definition of basicity.", "Which of the two oxides is the larger one?"),
    worked="Line **{line}**: CaO / SiO2 = 3, so CaO = 3 times SiO2.",
)

REASON = Problem(
    key="sample.reason",
    title="Why does slag foam?",
    text="The slag rises {rise_m} in the vessel. Why?",
    given=(Given("rise_m", "rise", "m", 1, 4, 0.5, MADE_UP),),
    choice=Choice(
        options=(
            "Gas from the bath bubbles through it.",
            "Lime boils at {rise_m}.",
            "Iron evaporates.",
            "It is lighter than air.",
        ),
        sentences=(
            "Yes: carbon monoxide.",
            "Lime melts far above the bath.",
            "Hardly any does.",
            "Slag weighs some 3 t per m3.",
        ),
    ),
    solve=lambda rise_m: 1 + 0 * rise_m,
    hints=(
        "What leaves the bath in the middle of the blow?",
        "What does gas do in a thick liquid?",
    ),
    worked="Line **{line}**: the gas of the blow.",
)

ENOUGH = Problem(
    key="sample.enough",
    title="Is the lime enough?",
    text=(
        "{lime_kg} of lime stand ready, {needed_kg} are needed. Is it enough, and how much is "
        "over or missing?"
    ),
    given=(
        Given("lime_kg", "lime ready", "kg", 5000, 9000, 100, MADE_UP),
        Given("needed_kg", "lime needed", "kg", 5050, 9050, 100, MADE_UP),
    ),
    choice=Choice(
        options=("Yes, it is enough.", "No, it is not enough."),
        ordered=True,
        sentences=(
            "Compare the two masses again.",
            "Compare the two masses again: which is larger?",
        ),
    ),
    number=Answer("kg", tolerance_abs=5.0, why="both masses are whole numbers."),
    solve=lambda lime_kg, needed_kg: (
        np.where(lime_kg >= needed_kg, 1, 2),
        np.abs(lime_kg - needed_kg),
    ),
    slips=(
        Slip(
            "added",
            "You added the two; the difference is asked.",
            solve=lambda lime_kg, needed_kg: lime_kg + needed_kg,
        ),
    ),
    hints=("Which is larger?", "Subtract."),
    worked="Line **{line}**, and the difference is **{answer}**.",
    plausible=lambda answer, lime_kg, needed_kg: abs(lime_kg - needed_kg) > 20,
)


def _by_hand(temp_c, order_j_mol):
    """Scalars only: math.exp refuses arrays."""
    return math.exp(-order_j_mol / (8.314462618 * (temp_c + 273.15)))


SCALAR = Problem(
    key="sample.boltzmann",
    title="A factor of Boltzmann's kind",
    text="Work out exp(-E/RT) for E = {order_j_mol} at {temp_c}.",
    given=(
        Given("temp_c", "temperature", "°C", 1500, 1700, 25, MADE_UP),
        Given("order_j_mol", "energy", "J/mol", 20000, 40000, 1000, MADE_UP),
    ),
    number=Answer("1", tolerance_pct=1.0, why="the exponent is worked out to three figures."),
    solve=_by_hand,
    slips=(
        Slip(
            "celsius_for_kelvin_temp_c",
            "You put {temp_c} into the formula as it stands; the formula wants kelvin, so add "
            "273.15.",
            **taken(temp_c=lambda given: given["temp_c"] - 273.15),
        ),
    ),
    hints=("Turn {temp_c} into kelvin first.", "Divide {order_j_mol:n} by 8.314 and by that."),
    worked=lambda **given: f"With T in kelvin: **{quantity_text(_by_hand(**given), '1')}**.",
    vector=False,
)

PROBLEMS = (OXYGEN, LOGARITHM, MELT, FAULTY_LINE, ENOUGH, SCALAR)
