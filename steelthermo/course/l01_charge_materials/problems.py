"""Problems of lesson 01: what goes into the vessel?"""

from ...base import mass_fractions, molar_mass
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip

_PER_CENT = "one per cent covers rounding on the way"
_ROUND = "half a per cent covers rounding atomic weights to four figures"

_KG = Problem(
    key="charge_materials.kg_of_element",
    title="From % to kg",
    text="""{hot_metal_t} of hot metal holds {pct} {element}. How many kg of {element} is that?""",
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
            "pct",
            "content",
            "%",
            0.05,
            0.95,
            0.05,
            "silicon, manganese or phosphorus of hot metal, common practice",
        ),
        Pick("element", "element", ("Si", "Mn", "P"), "elements of hot metal"),
    ),
    answer=Answer("kg", _PER_CENT, tolerance_pct=1.0),
    solve=lambda hot_metal_t, pct, element: hot_metal_t * 10.0 * pct,
    slips=(
        slip.times("percent_as_kg", "1 % of a tonne is 10 kg, not 1 kg.", 0.1),
        slip.times(
            "fraction", "You multiplied by the per cent as it stands; divide by 100.", 100.0
        ),
        slip.times(
            "one_tonne",
            "This is for one tonne of hot metal.",
            lambda given: 1.0 / given["hot_metal_t"],
        ),
    ),
    hints=(
        "What is 1 % of a tonne?",
        "10 kg per tonne for each per cent.",
        "{hot_metal_t:n} × 10 × {pct:n}",
    ),
    worked="""{hot_metal_t:n} × 10 × {pct:n} = **{answer}**.""",
    vector=False,
)


def _mix(hot_metal_t, hot_pct, scrap_t, scrap_pct):
    return (hot_metal_t * hot_pct + scrap_t * scrap_pct) / (hot_metal_t + scrap_t)


_MIX = Problem(
    key="charge_materials.mixed_carbon",
    title="Mixing hot metal and scrap",
    text="""{hot_metal_t} of hot metal with {hot_pct} C and {scrap_t} of scrap with {scrap_pct} C are melted together. What carbon would the mixture have,
if nothing burnt?""",
    given=(
        Given(
            "hot_metal_t",
            "hot metal",
            "t",
            100,
            220,
            5,
            "hot metal of one heat",
            follows="vessel.tap_t",
        ),
        Given(
            "hot_pct",
            "carbon in hot metal",
            "%",
            4.0,
            4.7,
            0.1,
            "hot metal near carbon saturation, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "scrap_t",
            "scrap",
            "t",
            25,
            70,
            1,
            "20 to 30 % scrap, common practice",
            follows="vessel.tap_t",
        ),
        Given("scrap_pct", "carbon in scrap", "%", 0.05, 0.4, 0.05, "steel scrap, common practice"),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_mix,
    slips=(
        Slip(
            "plain_mean",
            "You took the mean of the two analyses; there is far more hot metal than scrap, so "
            "weigh them.",
            solve=lambda hot_metal_t, hot_pct, scrap_t, scrap_pct: (
                (hot_pct + scrap_pct) / 2.0 + 0.0 * hot_metal_t
            ),
        ),
        Slip(
            "only_hot_metal",
            "You left the scrap out of the weight.",
            solve=lambda hot_metal_t, hot_pct, scrap_t, scrap_pct: (
                hot_pct + scrap_t / hot_metal_t * scrap_pct
            ),
        ),
        slip.swapped("hot_pct", "scrap_pct", "You exchanged the two analyses."),
    ),
    hints=(
        "How much carbon is in each, in kg or in t × %?",
        "Add the two amounts of carbon.",
        "({hot_metal_t:n} × {hot_pct:n} + {scrap_t:n} × {scrap_pct:n}) / ({hot_metal_t:n} + "
        "{scrap_t:n})",
    ),
    worked="""({hot_metal_t:n} × {hot_pct:n} + {scrap_t:n} × {scrap_pct:n}) / ({hot_metal_t:n} + {scrap_t:n}) = **{answer}**.""",
)


def _blend(limit_pct, clean_pct, dirty_pct):
    return 100.0 * (limit_pct - clean_pct) / (dirty_pct - clean_pct)


_BLEND = Problem(
    key="charge_materials.blend_copper",
    title="How much of the cheap scrap?",
    text="""Copper stays in the steel. The scrap mix may hold {limit_pct} Cu at most. Clean scrap has {clean_pct} Cu, shredded scrap {dirty_pct}. What
share of the mix may be shredded
scrap, in %?""",
    given=(
        Given(
            "limit_pct",
            "limit in the mix",
            "%",
            0.1,
            0.16,
            0.01,
            "a limit for scrap of deep-drawing steel",
        ),
        Given(
            "clean_pct",
            "copper in clean scrap",
            "%",
            0.02,
            0.06,
            0.01,
            "new bales, common practice",
        ),
        Given(
            "dirty_pct",
            "copper in shredded scrap",
            "%",
            0.2,
            0.3,
            0.01,
            "shredded scrap, common practice",
        ),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_blend,
    slips=(
        slip.forgot("clean_pct", 0.0, "the copper in the clean scrap"),
        Slip(
            "other_part",
            "This is the share of the clean scrap.",
            solve=lambda **given: 100.0 - _blend(**given),
        ),
        Slip(
            "simple_ratio",
            "Divide by the difference of the two scraps, not by the copper of one.",
            solve=lambda limit_pct, clean_pct, dirty_pct: (
                100.0 * (limit_pct - clean_pct) / dirty_pct
            ),
        ),
    ),
    hints=(
        "Call the share x and write the copper of the mix.",
        "x × {dirty_pct:n} + (1 − x) × {clean_pct:n} = {limit_pct:n}",
        "x = ({limit_pct:n} − {clean_pct:n}) / ({dirty_pct:n} − {clean_pct:n})",
    ),
    worked="""x = ({limit_pct:n} − {clean_pct:n}) / ({dirty_pct:n} − {clean_pct:n}), in %: **{answer}**.""",
)


def _mole_pct(c_pct, si_pct):
    moles = {
        "C": c_pct / molar_mass("C"),
        "Si": si_pct / molar_mass("Si"),
        "Fe": (100.0 - c_pct - si_pct) / molar_mass("Fe"),
    }
    return 100.0 * moles["C"] / sum(moles.values())


_MOLES = Problem(
    key="charge_materials.mole_percent",
    title="From mass % to mole %",
    text="""Hot metal holds {c_pct} C and {si_pct} Si by mass, the rest iron. How much carbon is that in mole %? C 12.011, Si 28.09, Fe 55.85.""",
    given=(
        Given(
            "c_pct",
            "carbon",
            "%",
            4.0,
            4.8,
            0.1,
            "hot metal near carbon saturation, common practice",
            follows="hot_metal.analysis_pct.C",
        ),
        Given(
            "si_pct",
            "silicon",
            "%",
            0.2,
            1.0,
            0.1,
            "hot metal, common practice",
            follows="hot_metal.analysis_pct.Si",
        ),
    ),
    answer=Answer("%", _ROUND, tolerance_pct=0.5),
    solve=_mole_pct,
    slips=(
        Slip(
            "mass_pct",
            "This is the mass %; turn each element into moles first.",
            solve=lambda c_pct, si_pct: c_pct + 0.0 * si_pct,
        ),
        Slip(
            "iron_not_rest",
            "You divided by 100 % of iron; carbon and silicon are part of the 100 %.",
            solve=lambda c_pct, si_pct: (
                100.0 * (c_pct / molar_mass("C")) / (100.0 / molar_mass("Fe")) + 0.0 * si_pct
            ),
        ),
        Slip(
            "times_for_over",
            "You multiplied by the atomic weights; moles are mass divided by atomic weight.",
            solve=lambda c_pct, si_pct: (
                100.0
                * c_pct
                * molar_mass("C")
                / (
                    c_pct * molar_mass("C")
                    + si_pct * molar_mass("Si")
                    + (100.0 - c_pct - si_pct) * molar_mass("Fe")
                )
            ),
        ),
    ),
    hints=(
        "Take 100 g. How many moles of C, Si and Fe?",
        "{c_pct:n}/12.011, {si_pct:n}/28.09, and the rest of the 100 g by 55.85.",
        "Moles of carbon divided by all moles, in %.",
    ),
    worked="""In 100 g: {c_pct:n}/12.011 mol C, {si_pct:n}/28.09 mol Si, the rest/55.85 mol Fe. Carbon's share: **{answer}**. One atom in six is carbon.""",
)


def _caco3(lime_t, caco3_pct):
    return lime_t * 10.0 * caco3_pct * (1.0 - molar_mass("CaO") / molar_mass("CaCO3"))


_HIDDEN = Problem(
    key="charge_materials.carbonate",
    title="What the lime still gives off",
    text="""{lime_t} of lime is not quite burnt: it still holds {caco3_pct} CaCO3. How many kg of CO2 does that give off in the vessel? CaCO3 100.09, CaO
56.08.""",
    given=(
        Given("lime_t", "lime", "t", 4, 12, 0.5, "lime of one heat", follows="vessel.tap_t"),
        Given(
            "caco3_pct", "CaCO3 in lime", "%", 2, 9, 0.5, "soft to poor burning, common practice"
        ),
    ),
    answer=Answer("kg", _PER_CENT, tolerance_pct=1.0),
    solve=_caco3,
    slips=(
        Slip(
            "all_carbonate",
            "This is the mass of CaCO3; only 44 % of it leaves as CO2.",
            solve=lambda lime_t, caco3_pct: lime_t * 10.0 * caco3_pct,
        ),
        Slip(
            "lime_left",
            "This is the lime that stays; the CO2 is asked for.",
            solve=lambda lime_t, caco3_pct: lime_t * 10.0 * caco3_pct - _caco3(lime_t, caco3_pct),
        ),
        slip.times("tenfold", "1 % of a tonne is 10 kg.", 0.1),
    ),
    hints=(
        "How many kg of CaCO3 are there?",
        "CaCO3 = CaO + CO2: what share of its mass is CO2?",
        "{lime_t:n} × 10 × {caco3_pct:n} × 44.01/100.09",
    ),
    worked="""{lime_t:n} × 10 × {caco3_pct:n} × 44.01/100.09 = **{answer}**. It takes heat, too: 1.8 MJ per kg of CaCO3.""",
    cautions=("Burnt lime burns eyes and skin; with water it grows hot.",),
)


def _ore_iron(ore_t, fe2o3_pct):
    return ore_t * fe2o3_pct / 100.0 * mass_fractions("Fe2O3")["Fe"]


_ORE = Problem(
    key="charge_materials.iron_in_ore",
    title="Iron in ore",
    text="""{ore_t} of ore holds {fe2o3_pct} Fe2O3. How many tonnes of iron does it bring if all of it is reduced? Fe 55.85, O 16.00.""",
    given=(
        Given("ore_t", "ore", "t", 2, 8, 0.5, "ore as coolant", follows="vessel.tap_t"),
        Given("fe2o3_pct", "Fe2O3", "%", 85, 97, 1, "lump ore, common practice"),
    ),
    answer=Answer("t", _ROUND, tolerance_pct=0.5),
    solve=_ore_iron,
    slips=(
        Slip(
            "oxide",
            "This is the mass of Fe2O3; the iron in it is 69.9 %.",
            solve=lambda ore_t, fe2o3_pct: ore_t * fe2o3_pct / 100.0,
        ),
        Slip(
            "one_atom",
            "Fe2O3 holds two atoms of iron.",
            solve=lambda ore_t, fe2o3_pct: _ore_iron(ore_t, fe2o3_pct) / 2.0,
        ),
        Slip(
            "as_feo",
            "You took the iron of FeO; this ore is Fe2O3.",
            solve=lambda ore_t, fe2o3_pct: ore_t * fe2o3_pct / 100.0 * mass_fractions("FeO")["Fe"],
        ),
    ),
    hints=(
        "What share of Fe2O3 is iron?",
        "2 × 55.85 / (2 × 55.85 + 3 × 16.00)",
        "{ore_t:n} × {fe2o3_pct:n}/100 × 0.699",
    ),
    worked="""{ore_t:n} × {fe2o3_pct:n}/100 × 0.6994 = **{answer}**.""",
)


_INVENTORY = Problem(
    key="charge_materials.rest_is_carbon",
    title="What does this published inventory hide?",
    text="""A published inventory of an integrated works gives hot metal as 96.5053 % Fe and takes all the rest as carbon, {rest_pct} %. What is hidden in
that 'rest'?""",
    given=(
        Given(
            "rest_pct",
            "rest",
            "1",
            3.4947,
            3.4947,
            1,
            "100 less the iron of the published inventory",
        ),
    ),
    answer=Choice(
        options=(
            "Nothing: hot metal is iron and carbon.",
            "Silicon, manganese, phosphorus and sulphur: about one per cent of the metal, and the "
            "first three are fuel.",
            "Slag: analyses of hot metal always hold some.",
            "Oxygen: hot metal is saturated with it.",
        ),
        sentences=(
            "Look at any analysis of hot metal: there is silicon, manganese, phosphorus and "
            "sulphur as well.",
            "Yes. What an analysis leaves out is added to something else: here it makes too much "
            "carbon and no silicon, so heat, lime and slag come out wrong.",
            "Samples are taken below the slag; that isn't it.",
            "With more than four per cent carbon there is almost no oxygen dissolved.",
        ),
    ),
    solve=lambda rest_pct: 2,
    hints=("What else does an analysis of hot metal list?", "Add up the usual Si, Mn, P and S."),
    worked="""Line {line}. Always ask what 'the rest' of an analysis is.""",
    vector=False,
)


PROBLEMS = (_KG, _MIX, _BLEND, _MOLES, _HIDDEN, _ORE, _INVENTORY)
