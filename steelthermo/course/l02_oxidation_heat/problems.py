"""Problems of lesson 02: why does the process need no fuel?"""

from ...base import kelvin, molar_mass, molar_volume_nm3_kmol, value
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip
from ...thermo import formation_enthalpy_298, heat_content, oxidation_heat

_TABLE = "CO 110.5, CO2 393.5, SiO2 910.9, MnO 385.2, FeO 272.0, Fe2O3 825.3, Al2O3 1675.7 kJ/mol"
_ROUND = "half a per cent covers rounding enthalpies to four figures and atomic weights to three"
# element, oxide, atoms of the element and mol of O2 in one mol of the oxide
_OXIDES = {
    "SiO2": ("Si", 1, 1.0),
    "MnO": ("Mn", 1, 0.5),
    "Fe2O3": ("Fe", 2, 1.5),
    "Al2O3": ("Al", 2, 1.5),
}


def _mj_kg(oxide):
    element, atoms, _ = _OXIDES[oxide]
    return -formation_enthalpy_298(oxide) / (atoms * molar_mass(element)) / 1000.0


def _per_kg(mass_kg, oxide):
    return mass_kg * _mj_kg(oxide)


_KILO = Problem(
    key="oxidation_heat.per_kg",
    title="From kJ/mol to MJ",
    text=f"""{{mass_kg}} of a pure element burn in oxygen to {{oxide}}, all at 25 °C. How much heat is given off? Heats of formation,
given off per mol of
oxide: {_TABLE}. Atomic weights: Si 28.09, Mn 54.94, Fe 55.85, Al 26.98.""",
    given=(
        Given(
            "mass_kg",
            "mass of the element",
            "kg",
            50,
            900,
            10,
            "what burns in one heat",
            follows="vessel.tap_t",
        ),
        Pick("oxide", "oxide", ("SiO2", "MnO", "Fe2O3", "Al2O3"), "oxides of converter and ladle"),
    ),
    answer=Answer("MJ", _ROUND, tolerance_pct=0.5),
    solve=_per_kg,
    slips=(
        Slip(
            "mass_of_oxide",
            "You divided by the molar mass of {oxide}; {mass_kg} is the mass of the element alone.",
            solve=lambda mass_kg, oxide: (
                mass_kg * -formation_enthalpy_298(oxide) / molar_mass(oxide) / 1000.0
            ),
        ),
        Slip(
            "one_atom",
            "One mol of {oxide} holds two atoms of the metal: the heat of formation belongs to two "
            "mol of it.",
            solve=lambda mass_kg, oxide: (
                _per_kg(mass_kg, oxide) * _OXIDES[oxide][1] if _OXIDES[oxide][1] > 1 else None
            ),
        ),
        slip.times(
            "kilo", "Watch the thousands: kJ/mol divided by g/mol is kJ/g, which is MJ/kg.", 1000.0
        ),
        slip.wrong_sign("Heat given off is asked for, so it is positive here."),
    ),
    hints=(
        "Find the heat for one mol of the element first, then for one kg.",
        "How many mol of the element does one mol of {oxide} hold?",
        "MJ/kg = heat of formation in kJ/mol ÷ (atoms of the element × its atomic weight). Then "
        "times {mass_kg}.",
    ),
    worked="""Take the heat of formation of {oxide} from the list, divide by the mass of its element in one mol (kJ/g is MJ/kg), and multiply by {mass_kg}:
**{answer}**.""",
    vector=False,
)


def _co_heat(carbon_kg, co2_pct):
    co, co2 = (oxidation_heat(key) / 1e6 for key in ("C to CO", "C to CO2"))
    return carbon_kg * (co * (100.0 - co2_pct) + co2 * co2_pct) / 100.0


_MIXED = Problem(
    key="oxidation_heat.mixed_gas",
    title="Carbon to CO and CO2",
    text="""{carbon_kg} of carbon burns; {co2_pct} of it goes to CO2 and the rest to CO. How much heat do the reactions give at 25 °C? C to CO gives 110.5
kJ/mol,
C to CO2 393.5 kJ/mol; atomic weight 12.011.""",
    given=(
        Given(
            "carbon_kg",
            "carbon burnt",
            "kg",
            1000,
            9000,
            50,
            "carbon of a heat, small to large",
            follows="vessel.tap_t",
        ),
        Given(
            "co2_pct",
            "share burnt to CO2",
            "%",
            8,
            20,
            1,
            "10 to 15 % at the mouth, common practice",
            follows="gas.co2_pct",
            least=4,
            most=30,
        ),
    ),
    answer=Answer("GJ", _ROUND, tolerance_pct=0.5),
    solve=lambda carbon_kg, co2_pct: _co_heat(carbon_kg, co2_pct) / 1000.0,
    slips=(
        slip.forgot("co2_pct", 0.0, "the CO2"),
        Slip(
            "all_co2",
            "You burnt all carbon to CO2: in the vessel most leaves as CO, with more than two "
            "thirds of its heat still in it.",
            change=lambda given: given | {"co2_pct": 100.0 + 0.0 * given["co2_pct"]},
        ),
        Slip(
            "shares_exchanged",
            "You exchanged the shares of CO and CO2.",
            change=lambda given: given | {"co2_pct": 100.0 - given["co2_pct"]},
        ),
        Slip(
            "per_kg_gas",
            "You divided by the molar mass of the gas; it is the carbon that was weighed: 12.011 "
            "g/mol.",
            solve=lambda carbon_kg, co2_pct: (
                carbon_kg
                * (
                    -formation_enthalpy_298("CO") / molar_mass("CO") * (100 - co2_pct)
                    - formation_enthalpy_298("CO2") / molar_mass("CO2") * co2_pct
                )
                / 1e8
            ),
        ),
    ),
    hints=(
        "How many MJ does one kg of carbon give, to CO and to CO2?",
        "110.5/12.011 = 9.20 MJ/kg and 393.5/12.011 = 32.76 MJ/kg.",
        "Heat = {carbon_kg:n} × ((100 − {co2_pct:n}) × 9.20 + {co2_pct:n} × 32.76)/100 MJ, then in "
        "GJ.",
    ),
    worked="""{carbon_kg:n} × ((100 − {co2_pct:n}) × 9.20 + {co2_pct:n} × 32.76)/100 MJ, divided by 1000: **{answer}**.""",
    cautions=(
        "Most of this carbon leaves as carbon monoxide: poisonous, without smell, explosive with "
        "air.",
    ),
)


def _per_nm3(oxide):
    _, _, oxygen = _OXIDES[oxide]
    return -formation_enthalpy_298(oxide) / oxygen / molar_volume_nm3_kmol() / 1000.0


_OXYGEN = Problem(
    key="oxidation_heat.per_nm3",
    title="Heat per Nm3 of oxygen",
    text=f"""How much heat does {{oxygen_nm3}} of oxygen (O2) give when it burns an element to {{oxide}}, pure elements at 25 °C? Heats of formation:
{_TABLE}. One kmol
of gas fills 22.414 Nm3.""",
    given=(
        Given(
            "oxygen_nm3",
            "oxygen",
            "Nm3",
            20,
            400,
            5,
            "what an element takes in one heat",
            follows="vessel.tap_t",
        ),
        Pick("oxide", "oxide", ("SiO2", "MnO", "Fe2O3", "Al2O3"), "oxides of converter and ladle"),
    ),
    answer=Answer("MJ", _ROUND, tolerance_pct=0.5),
    solve=lambda oxygen_nm3, oxide: oxygen_nm3 * _per_nm3(oxide),
    slips=(
        Slip(
            "one_mol_oxygen",
            "You counted one mol of O2 per mol of {oxide}; look again how many its formula takes.",
            solve=lambda oxygen_nm3, oxide: (
                oxygen_nm3 * _per_nm3(oxide) * _OXIDES[oxide][2]
                if _OXIDES[oxide][2] != 1.0
                else None
            ),
        ),
        Slip(
            "atoms_for_molecules",
            "You counted atoms of oxygen; an oxygen molecule holds two.",
            solve=lambda oxygen_nm3, oxide: oxygen_nm3 * _per_nm3(oxide) / 2.0,
        ),
        Slip(
            "room_temperature",
            "You took 24.465 m3 per kmol, the volume at 25 °C; an Nm3 is counted at 0 °C.",
            after=lambda answer, given: (
                answer * value("celsius_zero_k") / value("reference_temperature")
            ),
        ),
    ),
    hints=(
        "How many mol of O2 does one mol of {oxide} take?",
        "Divide the heat of formation by these mol of O2, then by 22.414: kJ/mol ÷ Nm3/kmol is "
        "MJ/Nm3.",
        "SiO2 takes 1 mol of O2, MnO ½, Fe2O3 and Al2O3 1½.",
    ),
    worked="""Heat of formation of {oxide} ÷ its mol of O2 ÷ 22.414 gives MJ per Nm3; times {oxygen_nm3:n}: **{answer}**. Per unit of oxygen silicon and
aluminium give most.""",
    vector=False,
)


def _post(gas_nm3, co_from_pct, co_to_pct):
    return (
        gas_nm3
        * (co_from_pct - co_to_pct)
        / 100.0
        * (formation_enthalpy_298("CO") - formation_enthalpy_298("CO2"))
        / molar_volume_nm3_kmol()
        / 1e6
    )


_POST = Problem(
    key="oxidation_heat.burning_co",
    title="CO that burns on",
    text="""{gas_nm3} of CO and CO2 together leave the mouth. In the hood CO falls from {co_from_pct} to {co_to_pct} of these gases, because air gets in.
What heat is given off at
25 °C? CO 110.5 kJ/mol, CO2 393.5 kJ/mol given off in forming from the elements; 22.414 Nm3/kmol. (CO and CO2 together keep their volume.)""",
    given=(
        Given(
            "gas_nm3",
            "CO and CO2",
            "Nm3",
            5000,
            16000,
            100,
            "gas of one heat",
            follows="vessel.tap_t",
        ),
        Given(
            "co_from_pct",
            "CO at the mouth",
            "%",
            82,
            92,
            1,
            "10 to 15 % CO2 at the mouth, common practice",
        ),
        Given("co_to_pct", "CO in the hood", "%", 60, 78, 1, "some air drawn in"),
    ),
    answer=Answer("GJ", _ROUND, tolerance_pct=0.5),
    solve=_post,
    slips=(
        Slip(
            "from_carbon",
            "You took the whole heat of C to CO2; the first step, to CO, was already made in the "
            "vessel.",
            after=lambda answer, given: (
                answer
                * formation_enthalpy_298("CO2")
                / (formation_enthalpy_298("CO2") - formation_enthalpy_298("CO"))
            ),
        ),
        Slip(
            "all_co",
            "You burnt all the CO; only its fall from {co_from_pct} to {co_to_pct} burns.",
            solve=lambda gas_nm3, co_from_pct, co_to_pct: _post(gas_nm3, co_from_pct, 0.0),
        ),
        slip.wrong_sign("Heat given off is asked for, so it is positive here."),
    ),
    hints=(
        "What is the heat of CO + ½ O2 = CO2?",
        "393.5 − 110.5 = 283.0 kJ/mol, which is 12.63 MJ per Nm3 of CO.",
        "Nm3 of CO burnt = {gas_nm3:n} × ({co_from_pct:n} − {co_to_pct:n})/100.",
    ),
    worked="""283.0/22.414 = 12.63 MJ per Nm3 of CO. Burnt: {gas_nm3:n} × ({co_from_pct:n} − {co_to_pct:n})/100 Nm3. Together **{answer}**.""",
    cautions=(
        "Where air can reach CO, there can be an explosion: hood and gas plant are watched for "
        "this.",
    ),
)


def _cold(oxygen_nm3, temp_c):
    return oxygen_nm3 * heat_content("O2", kelvin(temp_c)) / molar_volume_nm3_kmol() / 1e6


_COLD = Problem(
    key="oxidation_heat.cold_oxygen",
    title="What cold oxygen costs",
    text="""{oxygen_nm3} of oxygen enters at 25 °C and reacts in a bath at {temp_c}. What heat does it take to warm it to the bath? Between 25 °C and there
oxygen takes 34.5 kJ per kmol and
degree on average (34.5 J/(mol K)); 22.414 Nm3/kmol.""",
    given=(
        Given(
            "oxygen_nm3",
            "oxygen",
            "Nm3",
            2000,
            16000,
            100,
            "oxygen of one heat",
            follows="vessel.tap_t",
        ),
        Given(
            "temp_c",
            "bath",
            "°C",
            1500,
            1700,
            10,
            "during the blow",
            follows="end_point.temp_c",
            least=1450,
        ),
    ),
    answer=Answer(
        "GJ",
        "one per cent covers the mean heat capacity used for the whole range",
        tolerance_pct=1.0,
    ),
    solve=_cold,
    slips=(
        slip.times(
            "kilo",
            "Watch the thousands: kJ per kmol and degree times kmol is kJ; a GJ is a million of "
            "them.",
            1000.0,
        ),
        Slip(
            "kelvin_level",
            "You multiplied by the temperature in kelvin; it is the rise from 25 °C that counts.",
            after=lambda answer, given: (
                answer * (given["temp_c"] + value("celsius_zero_k")) / (given["temp_c"] - 25.0)
            ),
        ),
    ),
    hints=(
        "How many kmol is {oxygen_nm3}?",
        "By how many degrees is it warmed?",
        "Heat = {oxygen_nm3:n}/22.414 kmol × 34.5 × ({temp_c:n} − 25) kJ; a GJ is 1 000 000 kJ.",
    ),
    worked="""{oxygen_nm3:n}/22.414 × 34.5 × ({temp_c:n} − 25) kJ = **{answer}**. That is what stands between 'hot oxygen' and 'cold oxygen'.""",
)


def _dissolved(carbon_kg):
    """Heat of dissolved carbon burnt with hot oxygen at 1600 degC, MJ."""
    return carbon_kg * oxidation_heat("C to CO", kelvin(1600.0), "dissolved, hot oxygen") / 1e6


def _graphite():
    """Heat of graphite burnt to CO with hot oxygen at 1600 degC, MJ/kg."""
    return oxidation_heat("C to CO", kelvin(1600.0), "pure, at temperature") / 1e6


_DISSOLVED = Problem(
    key="oxidation_heat.dissolved_carbon",
    title="Carbon dissolved in iron",
    text="""At 1600 °C graphite, oxygen and CO, all at that temperature, give 118.0 kJ per mol of carbon. To dissolve a mol of graphite in liquid iron
takes 22.6 kJ. How much heat does
{carbon_kg} of carbon **dissolved in iron** give when it burns to CO at 1600 °C with hot oxygen? Atomic weight 12.011.""",
    given=(
        Given(
            "carbon_kg", "carbon", "kg", 500, 9000, 50, "carbon of a heat", follows="vessel.tap_t"
        ),
    ),
    answer=Answer("GJ", _ROUND, tolerance_pct=0.5),
    solve=lambda carbon_kg: _dissolved(carbon_kg) / 1000.0,
    slips=(
        Slip(
            "pure_for_dissolved",
            "You took graphite. The carbon is dissolved: what it cost to dissolve comes back when "
            "it burns.",
            solve=lambda carbon_kg: carbon_kg * _graphite() / 1000.0,
        ),
        Slip(
            "solution_taken_off",
            "You subtracted the heat of solution. Dissolving took heat, so dissolved carbon stands "
            "higher than graphite and has more to give.",
            solve=lambda carbon_kg: (
                (2.0 * carbon_kg * _graphite() - _dissolved(carbon_kg)) / 1000.0
            ),
        ),
        slip.times(
            "per_kg_gas",
            "You divided by the molar mass of CO; the carbon was weighed.",
            molar_mass("C") / molar_mass("CO"),
        ),
    ),
    hints=(
        "Draw three steps of a ladder: dissolved carbon, graphite, CO. Which lies highest?",
        "Dissolving takes heat: dissolved carbon lies 22.6 kJ/mol above graphite.",
        "118.0 + 22.6 = 140.6 kJ per mol; divide by 12.011 for MJ/kg.",
    ),
    worked="""Dissolved carbon lies 22.6 kJ/mol above graphite: 118.0 + 22.6 = 140.6 kJ/mol, 11.70 MJ/kg. Times {carbon_kg:n} kg: **{answer}**.""",
)


_SHEET = Problem(
    key="oxidation_heat.which_convention",
    title="Which line can't be right?",
    text="""A colleague's sheet lists the heat of burning per kg of carbon, for a bath at {temp_c}. One line can't be right. Which?""",
    given=(Given("temp_c", "bath", "°C", 1560, 1680, 20, "end of the blow"),),
    answer=Choice(
        options=(
            "C to CO: 9.2 MJ/kg, pure, 25 °C",
            "C to CO: 11.7 MJ/kg, dissolved, everything at bath temperature",
            "C to CO2: 23.6 MJ/kg, pure, 25 °C",
            "CO to CO2: 23.6 MJ/kg of carbon, pure, 25 °C",
        ),
        sentences=(
            "110.5/12.011 = 9.20: this line is right.",
            "Graphite gives 9.8 at that temperature, and 22.6 kJ/mol of heat of solution comes "
            "back: about 11.7. The line is right.",
            "Yes: C to CO2 gives 393.5/12.011 = 32.8 MJ/kg. The figure belongs to the second step "
            "alone, CO to CO2.",
            "(393.5 − 110.5)/12.011 = 23.6: this line is right.",
        ),
    ),
    solve=lambda temp_c: 3,
    hints=(
        "Work out the two heats of formation per kg of carbon.",
        "The heat of both steps must be the sum of the steps.",
    ),
    worked="""Line {line}. C to CO gives 9.2, CO to CO2 23.6; both steps together 32.8 MJ/kg.""",
    vector=False,
)


PROBLEMS = (_KILO, _MIXED, _OXYGEN, _POST, _COLD, _DISSOLVED, _SHEET)
