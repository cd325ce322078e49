"""Problems of lesson 04: how much oxygen, and how long is the blow?"""

from ...base import mass_fractions, molar_mass, molar_volume_nm3_kmol, value
from ...charge import nm3_per_kg
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip

_ROUND = "half a per cent covers rounding atomic weights to three figures"
_PER_CENT = "one per cent covers rounding on the way"

_ONE = Problem(
    key="oxygen_demand.one_element",
    title="Oxygen for one element",
    text="""How much oxygen (O2) burns {mass_kg} of {element}? Silicon burns to SiO2, manganese to MnO, phosphorus to P2O5, carbon here to CO, iron here to
FeO.
Atomic weights: Si 28.09, Mn 54.94, P 30.97, C 12.01, Fe 55.85. One kmol of gas fills 22.414 Nm3.""",
    given=(
        Given(
            "mass_kg",
            "mass burnt",
            "kg",
            50,
            2000,
            10,
            "what burns in one heat",
            follows="vessel.tap_t",
        ),
        Pick("element", "element", ("Si", "Mn", "P", "C", "Fe"), "what burns in a converter"),
    ),
    answer=Answer("Nm3", _ROUND, tolerance_pct=0.5),
    solve=lambda mass_kg, element: mass_kg * nm3_per_kg(element),
    slips=(
        Slip(
            "atoms_for_molecules",
            "You counted atoms of oxygen; an oxygen molecule holds two of them.",
            after=lambda answer, given: 2.0 * answer,
        ),
        Slip(
            "kilograms",
            "This is the oxygen in kg; turn it into Nm3: 32 kg are 22.414 Nm3.",
            after=lambda answer, given: answer * molar_mass("O2") / molar_volume_nm3_kmol(),
        ),
        Slip(
            "at_25",
            "You took 24.465 m3 per kmol, the volume at 25 °C; Nm3 are counted at 0 °C.",
            after=lambda answer, given: (
                answer * value("reference_temperature") / value("celsius_zero_k")
            ),
        ),
        Slip(
            "one_atom_of_oxygen",
            "You gave each atom one atom of oxygen; look at the formula of the oxide.",
            solve=lambda mass_kg, element: (
                {"Si": 0.5, "P": 0.4}[element] * mass_kg * nm3_per_kg(element)
                if element in ("Si", "P")
                else None
            ),
        ),
    ),
    hints=(
        "How many kmol is {mass_kg} of {element}?",
        "How many atoms of oxygen does one atom take, and how many molecules O2 is that?",
        "Nm3 = kmol × (atoms of oxygen per atom)/2 × 22.414.",
    ),
    worked="""Kilomoles: {mass_kg:n} divided by the atomic weight of {element}. Each takes half as many molecules O2 as atoms of oxygen in the oxide per
atom of {element};
times 22.414: **{answer}**.""",
    vector=False,
)


def _carbon(hot_metal_t, c_pct, co2_pct):
    return hot_metal_t * 10.0 * (c_pct - 0.05) * nm3_per_kg("C", co2_pct)


_CARBON = Problem(
    key="oxygen_demand.carbon",
    title="The carbon of a heat",
    text="""{hot_metal_t} of hot metal with {c_pct} C is blown down to 0.05 % C. {co2_pct} of the carbon burnt goes to CO2, the rest to CO. How much oxygen
(O2) does the carbon
take? Take the mass of metal as unchanged; C 12.011, 22.414 Nm3/kmol.""",
    given=(
        Given(
            "hot_metal_t",
            "hot metal",
            "t",
            60,
            280,
            5,
            "hot metal of one heat",
            follows="vessel.tap_t",
        ),
        Given(
            "c_pct",
            "carbon in hot metal",
            "%",
            4.0,
            4.8,
            0.1,
            "hot metal near carbon saturation, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "co2_pct",
            "share burnt to CO2",
            "%",
            8,
            18,
            1,
            "10 to 15 % at the mouth, common practice",
            follows="gas.co2_pct",
            least=4,
            most=30,
        ),
    ),
    answer=Answer("Nm3", _PER_CENT, tolerance_pct=1.0),
    solve=_carbon,
    slips=(
        slip.forgot("co2_pct", 0.0, "the CO2, which takes twice the oxygen of CO"),
        Slip(
            "all_co2",
            "You burnt all the carbon to CO2.",
            change=lambda given: given | {"co2_pct": 100.0 + 0.0 * given["co2_pct"]},
        ),
        slip.times("percent_as_fraction", "You took 1 % as 1 kg per t; it is 10 kg per t.", 0.1),
        Slip(
            "atoms_for_molecules",
            "You counted atoms of oxygen; an oxygen molecule holds two of them.",
            after=lambda answer, given: 2.0 * answer,
        ),
    ),
    hints=(
        "How many kg of carbon burn?",
        "One kg of carbon takes 0.933 Nm3 to CO and 1.866 Nm3 to CO2.",
        "Nm3 = kg C × 0.933 × (1 + {co2_pct:n}/100).",
    ),
    worked="""{hot_metal_t:n} × 10 × ({c_pct:n} − 0.05) kg of carbon; each kg takes 0.933 × (1 + {co2_pct:n}/100) Nm3. Together **{answer}**: four fifths
of what the lance blows.""",
    cautions=(
        "All of it leaves as CO and CO2: a gas flow of some thousand Nm3 a minute that poisons and "
        "burns.",
    ),
)


def _heat(c_kg, si_kg, mn_kg, p_kg, fe_kg):
    return (
        c_kg * nm3_per_kg("C", 10.0)
        + si_kg * nm3_per_kg("Si")
        + mn_kg * nm3_per_kg("Mn")
        + p_kg * nm3_per_kg("P")
        + fe_kg * nm3_per_kg("Fe")
    )


_HEAT = Problem(
    key="oxygen_demand.per_tonne",
    title="One tonne of steel",
    text="""For one tonne of steel these burn: {c_kg} of carbon (10 % of it to CO2, the rest to CO), {si_kg} of silicon, {mn_kg} of manganese, {p_kg} of
phosphorus and {fe_kg} of
iron (to FeO). How much pure oxygen (O2) is that per tonne of steel? Per kg: C to CO 0.933, Si 0.798, Mn 0.204, P 0.905, Fe 0.201 Nm3.""",
    given=(
        Given(
            "c_kg",
            "carbon",
            "kg",
            32,
            40,
            0.5,
            "per t of steel, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "si_kg",
            "silicon",
            "kg",
            2,
            8,
            0.5,
            "per t of steel, common practice",
            follows="hot_metal.analysis_pct.Si",
            least=1,
        ),
        Given(
            "mn_kg",
            "manganese",
            "kg",
            1,
            5,
            0.5,
            "per t of steel, common practice",
            follows="hot_metal.analysis_pct.Mn",
            least=0.5,
        ),
        Given(
            "p_kg",
            "phosphorus",
            "kg",
            0.4,
            1.2,
            0.1,
            "per t of steel, common practice",
            follows="hot_metal.analysis_pct.P",
        ),
        Given("fe_kg", "iron", "kg", 15, 32, 1, "to slag and dust, common practice"),
    ),
    answer=Answer("Nm3/t", _PER_CENT, tolerance_pct=1.0),
    solve=_heat,
    slips=(
        slip.forgot("fe_kg", 0.0, "the iron that burns to slag and dust"),
        slip.forgot("si_kg", 0.0, "the silicon"),
        Slip(
            "no_co2",
            "You burnt all the carbon to CO; a tenth goes on to CO2 and takes twice the oxygen.",
            solve=lambda c_kg, **rest: _heat(c_kg, **rest) - c_kg * 0.1 * nm3_per_kg("C"),
        ),
        Slip(
            "all_co2",
            "You burnt all the carbon to CO2; only a tenth goes so far.",
            solve=lambda c_kg, **rest: _heat(c_kg, **rest) + c_kg * 0.9 * nm3_per_kg("C"),
        ),
    ),
    hints=(
        "Do each element by itself, then add.",
        "Carbon: {c_kg:n} × 0.933 × 1.1, because a tenth of it takes twice as much.",
        "Add {si_kg:n} × 0.798, {mn_kg:n} × 0.204, {p_kg:n} × 0.905 and {fe_kg:n} × 0.201.",
    ),
    worked="""{c_kg:n} × 0.933 × 1.1 + {si_kg:n} × 0.798 + {mn_kg:n} × 0.204 + {p_kg:n} × 0.905 + {fe_kg:n} × 0.201 = **{answer}**. Near 50 Nm3/t is
usual.""",
)


def _minutes(steel_t, need_nm3_t, purity_pct, flow_nm3_min):
    return steel_t * need_nm3_t / (purity_pct / 100.0) / flow_nm3_min


_BLOW = Problem(
    key="oxygen_demand.minutes",
    title="How long is the blow?",
    text="""A heat of {steel_t} of steel takes {need_nm3_t} of pure oxygen. The oxygen has {purity_pct} O2, the lance blows {flow_nm3_min}. How many
minutes is the blow?""",
    given=(
        Given(
            "steel_t",
            "steel",
            "t",
            120,
            240,
            10,
            "common sizes of a converter",
            follows="vessel.tap_t",
        ),
        Given("need_nm3_t", "pure oxygen", "Nm3/t", 44, 54, 0.5, "common practice near 50"),
        Given(
            "purity_pct",
            "purity",
            "%",
            90,
            96,
            0.5,
            "poor oxygen, to show its effect; 99 % or better is usual",
        ),
        Given(
            "flow_nm3_min",
            "flow",
            "Nm3/min",
            380,
            620,
            10,
            "2 to 4 Nm3 per minute and tonne",
            follows="oxygen.flow_nm3_min",
        ),
    ),
    answer=Answer("min", _PER_CENT, tolerance_pct=1.0),
    solve=_minutes,
    slips=(
        slip.forgot("purity_pct", 100.0, "the purity of the oxygen"),
        Slip(
            "purity_wrong_way",
            "Impure oxygen means more of it, not less: divide by the purity.",
            after=lambda answer, given: answer * (given["purity_pct"] / 100.0) ** 2,
        ),
        slip.times(
            "one_tonne",
            "This is the time for one tonne; {steel_t} is blown.",
            lambda given: 1.0 / given["steel_t"],
        ),
        slip.times("hours", "This is in hours; minutes are asked for.", 1.0 / 60.0),
        slip.upside_down("You divided the flow by the volume; it is the other way round."),
    ),
    hints=(
        "How much pure oxygen does the whole heat take?",
        "Divide by {purity_pct:n}/100 to find what has to be blown.",
        "Minutes = {steel_t:n} × {need_nm3_t:n} ÷ ({purity_pct:n}/100) ÷ {flow_nm3_min:n}.",
    ),
    worked="""{steel_t:n} × {need_nm3_t:n} ÷ ({purity_pct:n}/100) ÷ {flow_nm3_min:n} = **{answer}**.""",
    plausible=lambda answer, **given: (answer > 12.0) & (answer < 26.0),
    cautions=(
        "Oxygen under pressure makes oil, grease and clothes burn fiercely: fittings stay clean, "
        "valves are opened by those who are trained for it.",
    ),
)


def _saved(ore_kg_t, fe2o3_pct):
    return (
        ore_kg_t
        * fe2o3_pct
        / 100.0
        * mass_fractions("Fe2O3")["O"]
        / molar_mass("O2")
        * molar_volume_nm3_kmol()
    )


_ORE = Problem(
    key="oxygen_demand.ore",
    title="Oxygen that comes with the ore",
    text="""Counted on the steel, {ore_kg_t} of ore with {fe2o3_pct} Fe2O3 is reduced to iron in the bath. Without ore the heat takes {need_nm3_t}. How much
pure oxygen has to be blown
now? Fe 55.85, O 16.00; 22.414 Nm3/kmol.""",
    given=(
        Given("ore_kg_t", "ore", "kg/t", 15, 35, 1, "ore as coolant, common practice"),
        Given("fe2o3_pct", "Fe2O3 in ore", "%", 85, 97, 1, "lump ore, common practice"),
        Given("need_nm3_t", "oxygen without ore", "Nm3/t", 46, 54, 0.5, "common practice near 50"),
    ),
    answer=Answer("Nm3/t", _PER_CENT, tolerance_pct=1.0),
    solve=lambda ore_kg_t, fe2o3_pct, need_nm3_t: need_nm3_t - _saved(ore_kg_t, fe2o3_pct),
    slips=(
        slip.forgot("ore_kg_t", 0.0, "the oxygen of the ore"),
        Slip(
            "added",
            "You added the oxygen of the ore; it is brought, so less has to be blown.",
            solve=lambda ore_kg_t, fe2o3_pct, need_nm3_t: need_nm3_t + _saved(ore_kg_t, fe2o3_pct),
        ),
        Slip(
            "only_saved",
            "This is what the ore brings; the question is what still has to be blown.",
            solve=lambda ore_kg_t, fe2o3_pct, need_nm3_t: _saved(ore_kg_t, fe2o3_pct),
        ),
        Slip(
            "atoms_for_molecules",
            "You counted atoms of oxygen as molecules: the ore brings half as many Nm3.",
            solve=lambda ore_kg_t, fe2o3_pct, need_nm3_t: (
                need_nm3_t - 2.0 * _saved(ore_kg_t, fe2o3_pct)
            ),
        ),
    ),
    hints=(
        "How many kg of oxygen does one kg of Fe2O3 hold?",
        "48.0/159.7 = 0.3006 kg; 32 kg of O2 are 22.414 Nm3.",
        "The ore brings {ore_kg_t:n} × {fe2o3_pct:n}/100 × 0.3006/32 × 22.414 Nm3 per t.",
    ),
    worked="""The ore brings {ore_kg_t:n} × {fe2o3_pct:n}/100 × 0.3006/32 × 22.414 Nm3/t; {need_nm3_t:n} less that is **{answer}**.""",
    cautions=("Ore must be dry. Much of it at once makes the slag foam and slop over.",),
)


def _gas(c_kg, co2_pct):
    return c_kg / molar_mass("C") * molar_volume_nm3_kmol() + 0.0 * co2_pct


_GAS = Problem(
    key="oxygen_demand.gas_made",
    title="How much gas is made?",
    text="""{c_kg} of carbon per tonne of steel burns, {co2_pct} of it to CO2 and the rest to CO. How many Nm3 of CO and CO2 together leave per tonne of
steel? C 12.011;
22.414 Nm3/kmol.""",
    given=(
        Given(
            "c_kg",
            "carbon",
            "kg",
            32,
            42,
            0.5,
            "per t of steel, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "co2_pct",
            "share burnt to CO2",
            "%",
            8,
            18,
            1,
            "10 to 15 % at the mouth, common practice",
            follows="gas.co2_pct",
            least=4,
            most=30,
        ),
    ),
    answer=Answer("Nm3/t", _ROUND, tolerance_pct=0.5),
    solve=_gas,
    slips=(
        Slip(
            "oxygen_blown",
            "This is the oxygen the carbon takes, not the gas it makes.",
            solve=lambda c_kg, co2_pct: c_kg * nm3_per_kg("C", co2_pct),
        ),
        Slip(
            "half",
            "CO holds one atom of carbon, and so does CO2: each atom of carbon makes one molecule "
            "of gas.",
            after=lambda answer, given: answer / 2.0,
        ),
        Slip(
            "counted_twice",
            "CO2 does not fill twice the room of CO.",
            after=lambda answer, given: answer * (1.0 + given["co2_pct"] / 100.0),
        ),
    ),
    hints=(
        "How many molecules of gas come from one atom of carbon?",
        "One, whichever gas it becomes: the share of CO2 does not matter for the volume.",
        "Nm3 = {c_kg:n}/12.011 × 22.414.",
    ),
    worked="""Each atom of carbon makes one molecule, CO or CO2: {c_kg:n}/12.011 × 22.414 = **{answer}**.""",
    cautions=("Nine tenths of this gas is carbon monoxide.",),
)


_PUBLISHED = Problem(
    key="oxygen_demand.published_shares",
    title="What does this published answer forget?",
    text="""A textbook-like problem on a question site lets 200 t of hot metal and 20 t of scrap burn off all carbon, silicon, manganese and phosphorus and
4 % of the hot metal's iron,
with nine parts CO to one part CO2; its oxygen of 98 % comes at 1.0 t a minute. The sum gives 20.0 min and a slag of 38 % CaO, 19 % SiO2 and 31 % FeO. It
closes. What would a melter
object to first, for a heat that is to end at {temp_c}?""",
    given=(
        Given(
            "temp_c",
            "end temperature",
            "°C",
            1640,
            1700,
            10,
            "steel at the end of the blow, common practice",
            follows="end_point.temp_c",
            least=1540,
        ),
    ),
    answer=Choice(
        options=(
            "A blow of 20 minutes is far too long.",
            "The slag: CaO/SiO2 is only about 2 and a third of it is iron oxide, so iron is lost "
            "and phosphorus hardly held.",
            "CO and CO2 in the ratio 9 to 1 never happens.",
            "Oxygen can't be given in tonnes.",
        ),
        sentences=(
            "Twenty minutes is an ordinary blow.",
            "Yes. A mass balance can close to the last gram and still describe a heat nobody would "
            "blow: "
            "basicity should be above 3 and iron oxide nearer 20 %.",
            "Ten per cent CO2 at the mouth is usual.",
            "Mass is as good a measure as volume; 1 t of O2 is 700 Nm3.",
        ),
    ),
    solve=lambda temp_c: 2,
    hints=(
        "Work out CaO/SiO2 from the figures given.",
        "What must a slag be able to hold, and what does iron oxide cost?",
    ),
    worked="""Line {line}. The balance is sound, the chemistry poor: CaO/SiO2 = 38/19 = 2. Closing a balance is necessary, not sufficient.""",
    vector=False,
)


PROBLEMS = (_ONE, _CARBON, _HEAT, _BLOW, _ORE, _GAS, _PUBLISHED)
