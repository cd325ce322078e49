"""Problems of lesson 06: how much lime, and why?"""

from ...base import mass_fractions, molar_mass
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip
from ...streams import basicity, iron_as_feo

_PER_CENT = "one per cent covers rounding on the way"
_SILICA = 1.0 / mass_fractions("SiO2")["Si"]  # kg of SiO2 from one kg of Si
_PHOSPHORIC = 1.0 / mass_fractions("P2O5")["P"]

_RATIO = Problem(
    key="slag_basicity.read_analysis",
    title="Basicity from an analysis",
    text="""A slag holds {cao_pct} CaO, {sio2_pct} SiO2 and {p2o5_pct} P2O5. What is its basicity counted as CaO/(SiO2 + P2O5)?""",
    given=(
        Given("cao_pct", "CaO", "%", 40, 52, 0.5, "converter slag, published analyses of LD slags"),
        Given(
            "sio2_pct", "SiO2", "%", 10, 16, 0.5, "converter slag, published analyses of LD slags"
        ),
        Given(
            "p2o5_pct", "P2O5", "%", 1.2, 3.0, 0.1, "converter slag, published analyses of LD slags"
        ),
    ),
    answer=Answer("1", _PER_CENT, tolerance_pct=1.0),
    solve=lambda cao_pct, sio2_pct, p2o5_pct: basicity(
        {"CaO": cao_pct, "SiO2": sio2_pct, "P2O5": p2o5_pct}, "CaO/(SiO2+P2O5)"
    ),
    slips=(
        slip.forgot("p2o5_pct", 0.0, "the P2O5, an acid oxide that this definition counts"),
        slip.upside_down("You divided acid by base; basicity is base by acid."),
        Slip(
            "molar",
            "You took moles; this basicity is a ratio of mass %.",
            solve=lambda cao_pct, sio2_pct, p2o5_pct: (
                cao_pct
                / molar_mass("CaO")
                / (sio2_pct / molar_mass("SiO2") + p2o5_pct / molar_mass("P2O5"))
            ),
        ),
    ),
    hints=(
        "Which oxides stand above, which below the line?",
        "Above: CaO. Below: SiO2 and P2O5.",
        "{cao_pct:n}/({sio2_pct:n} + {p2o5_pct:n})",
    ),
    worked="""{cao_pct:n}/({sio2_pct:n} + {p2o5_pct:n}) = **{answer}**. Always say which basicity you mean: CaO/SiO2 of the same slag is higher.""",
)


def _available(cao_pct, sio2_pct, ratio):
    return cao_pct - ratio * sio2_pct


_AVAILABLE = Problem(
    key="slag_basicity.available_lime",
    title="Available lime",
    text="""A burnt lime holds {cao_pct} CaO and {sio2_pct} SiO2. The slag is to have CaO/SiO2 = {ratio}. What share of the lime is left as CaO for the
silica of the metal, once
the lime has fluxed its own silica?""",
    given=(
        Given("cao_pct", "CaO in lime", "%", 88, 95, 0.5, "burnt lime, common practice"),
        Given("sio2_pct", "SiO2 in lime", "%", 1.0, 4.0, 0.1, "burnt lime, common practice"),
        Given(
            "ratio",
            "CaO/SiO2",
            "1",
            2.8,
            3.8,
            0.1,
            "above 3, common practice",
            follows="slag.basicity",
            least=1.5,
        ),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_available,
    slips=(
        slip.forgot("sio2_pct", 0.0, "the lime's own silica"),
        slip.forgot("ratio", 1.0, "the basicity: each kg of silica takes that many kg of CaO"),
        Slip(
            "added",
            "You added what the silica takes; it is lost to the metal.",
            solve=lambda cao_pct, sio2_pct, ratio: cao_pct + ratio * sio2_pct,
        ),
    ),
    hints=(
        "How much CaO does the lime's own silica take?",
        "{ratio:n} kg of CaO for each kg of SiO2.",
        "{cao_pct:n} − {ratio:n} × {sio2_pct:n}",
    ),
    worked="""{cao_pct:n} − {ratio:n} × {sio2_pct:n} = **{answer}**. One per cent of silica in the lime costs more than three per cent of it.""",
)


def _lime(si_pct, ratio, available_pct):
    return 10.0 * si_pct * _SILICA * ratio / (available_pct / 100.0)


_LIME = Problem(
    key="slag_basicity.lime",
    title="Lime for silicon",
    text="""Hot metal with {si_pct} Si burns off all of it. How much lime per tonne of hot metal gives CaO/SiO2 = {ratio}, if {available_pct} of the lime
are available CaO?
Si 28.09, O 16.00.""",
    given=(
        Given(
            "si_pct",
            "silicon in hot metal",
            "%",
            0.2,
            1.0,
            0.05,
            "hot metal, common practice",
            follows="hot_metal.analysis_pct.Si",
        ),
        Given(
            "ratio",
            "CaO/SiO2",
            "1",
            2.8,
            3.8,
            0.1,
            "above 3, common practice",
            follows="slag.basicity",
            least=1.5,
        ),
        Given("available_pct", "available CaO", "%", 80, 92, 1, "good burnt lime, common practice"),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_lime,
    slips=(
        Slip(
            "si_for_sio2",
            "You multiplied the basicity by the silicon; it is SiO2 that counts, 2.14 times the "
            "mass of Si.",
            after=lambda answer, given: answer / _SILICA,
        ),
        slip.forgot("available_pct", 100.0, "that only a part of the lime is available"),
        Slip(
            "available_wrong_way",
            "Poorer lime means more of it: divide by the available share.",
            after=lambda answer, given: answer * (given["available_pct"] / 100.0) ** 2,
        ),
        slip.times("percent_as_kg", "You took 1 % as 1 kg per t; it is 10 kg per t.", 0.1),
    ),
    hints=(
        "How many kg of SiO2 come from one tonne of hot metal?",
        "{si_pct:n} × 10 × 60.08/28.09 kg of SiO2.",
        "Times {ratio:n} gives the CaO needed; divide by {available_pct:n}/100.",
    ),
    worked="""SiO2: {si_pct:n} × 10 × 2.139 kg/t. CaO: {ratio:n} times that. Lime: divided by {available_pct:n}/100, **{answer}** of hot metal.""",
    cautions=(
        "Burnt lime takes up water with great heat and burns eyes and skin: goggles, dry bins.",
    ),
)


def _with_p(si_pct, p_pct, ratio):
    return 10.0 * (si_pct * _SILICA + p_pct * _PHOSPHORIC) * ratio


_WITH_P = Problem(
    key="slag_basicity.with_phosphorus",
    title="Lime when phosphorus counts",
    text="""Hot metal with {si_pct} Si and {p_pct} P burns off both. How much CaO per tonne of hot metal makes CaO/(SiO2 + P2O5) = {ratio}? Si 28.09, P
30.97, O 16.00.""",
    given=(
        Given(
            "si_pct",
            "silicon in hot metal",
            "%",
            0.2,
            0.9,
            0.05,
            "hot metal, common practice",
            follows="hot_metal.analysis_pct.Si",
        ),
        Given(
            "p_pct",
            "phosphorus in hot metal",
            "%",
            0.08,
            0.2,
            0.01,
            "hot metal from phosphorus-bearing ore, common practice",
            follows="hot_metal.analysis_pct.P",
        ),
        Given(
            "ratio",
            "basicity",
            "1",
            2.6,
            3.4,
            0.1,
            "common practice",
            follows="slag.basicity",
            least=1.5,
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_with_p,
    slips=(
        slip.forgot("p_pct", 0.0, "the phosphorus"),
        Slip(
            "elements",
            "You added the elements; the basicity counts their oxides.",
            solve=lambda si_pct, p_pct, ratio: 10.0 * (si_pct + p_pct) * ratio,
        ),
        Slip(
            "p_to_po",
            "One mol of P2O5 holds two atoms of phosphorus: 1 kg of P gives 2.29 kg of P2O5.",
            solve=lambda si_pct, p_pct, ratio: (
                10.0 * (si_pct * _SILICA + p_pct * 2.0 * _PHOSPHORIC) * ratio
            ),
        ),
    ),
    hints=(
        "Turn each element into its oxide first.",
        "1 kg of Si gives 2.139 kg of SiO2, 1 kg of P gives 2.291 kg of P2O5.",
        "{ratio:n} × 10 × ({si_pct:n} × 2.139 + {p_pct:n} × 2.291)",
    ),
    worked="""{ratio:n} × 10 × ({si_pct:n} × 2.139 + {p_pct:n} × 2.291) = **{answer}** of hot metal.""",
)


def _slag(sio2_kg, ratio, iron_pct, others_kg):
    return (sio2_kg * (1.0 + ratio) + others_kg) / (1.0 - iron_pct / 100.0)


_MASS = Problem(
    key="slag_basicity.slag_mass",
    title="How much slag?",
    text="""Per tonne of steel a slag takes up {sio2_kg} of SiO2 and lime for CaO/SiO2 = {ratio}, and {others_kg} of MgO, MnO, P2O5 and others. {iron_pct}
of the slag are iron
oxides. How many kg of slag are there per tonne of steel?""",
    given=(
        Given(
            "sio2_kg",
            "SiO2",
            "kg",
            6,
            20,
            0.5,
            "0.3 to 0.9 % Si in the hot metal",
            follows="hot_metal.analysis_pct.Si",
            least=3,
        ),
        Given(
            "ratio",
            "CaO/SiO2",
            "1",
            2.8,
            3.8,
            0.1,
            "above 3, common practice",
            follows="slag.basicity",
            least=1.5,
        ),
        Given("others_kg", "other oxides", "kg", 8, 16, 0.5, "common practice"),
        Given(
            "iron_pct",
            "iron oxides",
            "%",
            16,
            28,
            1,
            "end of the blow, common practice",
            follows="slag.feo_pct",
            least=10,
            most=35,
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_slag,
    slips=(
        slip.forgot("iron_pct", 0.0, "the iron oxides"),
        Slip(
            "iron_on_top",
            "You added {iron_pct} of the other oxides; they are {iron_pct} of the whole slag.",
            solve=lambda sio2_kg, ratio, iron_pct, others_kg: (
                (sio2_kg * (1.0 + ratio) + others_kg) * (1.0 + iron_pct / 100.0)
            ),
        ),
        Slip(
            "lime_forgotten",
            "You left out the CaO that goes with the silica.",
            solve=lambda sio2_kg, ratio, iron_pct, others_kg: (
                (sio2_kg + others_kg) / (1.0 - iron_pct / 100.0)
            ),
        ),
        slip.forgot("others_kg", 0.0, "the other oxides"),
    ),
    hints=(
        "Add all that is not iron oxide.",
        "SiO2, CaO = {ratio:n} × SiO2, and the others.",
        "They are 100 − {iron_pct:n} per cent of the slag.",
    ),
    worked="""({sio2_kg:n} × (1 + {ratio:n}) + {others_kg:n})/(1 − {iron_pct:n}/100) = **{answer}**. Its iron is lost to the yield.""",
)


def _iron(slag_kg_t, feo_pct, fe2o3_pct):
    return (
        slag_kg_t
        * (feo_pct * mass_fractions("FeO")["Fe"] + fe2o3_pct * mass_fractions("Fe2O3")["Fe"])
        / 100.0
    )


_IRON = Problem(
    key="slag_basicity.iron_lost",
    title="Iron lost in the slag",
    text="""Counted on the steel, {slag_kg_t} of slag hold {feo_pct} FeO and {fe2o3_pct} Fe2O3. How much iron is lost in it per tonne of steel? Fe 55.85, O
16.00.""",
    given=(
        Given("slag_kg_t", "slag", "kg/t", 60, 130, 5, "common practice"),
        Given(
            "feo_pct",
            "FeO",
            "%",
            12,
            24,
            1,
            "end of the blow, common practice",
            follows="slag.feo_pct",
        ),
        Given(
            "fe2o3_pct",
            "Fe2O3",
            "%",
            3,
            9,
            1,
            "end of the blow, common practice",
            follows="slag.fe2o3_pct",
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_iron,
    slips=(
        Slip(
            "oxides",
            "This is the mass of the iron oxides; the iron in them is asked for.",
            solve=lambda slag_kg_t, feo_pct, fe2o3_pct: slag_kg_t * (feo_pct + fe2o3_pct) / 100.0,
        ),
        slip.forgot("fe2o3_pct", 0.0, "the iron of Fe2O3"),
        Slip(
            "one_atom",
            "Fe2O3 holds two atoms of iron: 0.699 kg per kg.",
            solve=lambda slag_kg_t, feo_pct, fe2o3_pct: (
                slag_kg_t
                * (
                    feo_pct * mass_fractions("FeO")["Fe"]
                    + fe2o3_pct * mass_fractions("Fe2O3")["Fe"] / 2.0
                )
                / 100.0
            ),
        ),
    ),
    hints=(
        "How much iron is in one kg of FeO, and of Fe2O3?",
        "FeO 55.85/71.85 = 0.777; Fe2O3 111.7/159.7 = 0.699.",
        "{slag_kg_t:n} × ({feo_pct:n} × 0.777 + {fe2o3_pct:n} × 0.699)/100",
    ),
    worked="""{slag_kg_t:n} × ({feo_pct:n} × 0.777 + {fe2o3_pct:n} × 0.699)/100 = **{answer}**: between one and three per cent of the steel.""",
)


_DOLOMITE = Problem(
    key="slag_basicity.published_dolomite",
    title="What is wrong in this published sum?",
    text="""A published reckoning asks how much raw dolomite (21 % MgO) a heat needs, if the slag is 15 % of the steel and is to hold
6 % MgO. It finds a need of 43 kg/t, takes off 10 for the lime's magnesia and 15.9 for the lining, and prints: 43 − 10 − 15.9 = **6.3** kg/t. The
melt shop has a heat of {steel_t}. Which line says what is wrong?""",
    given=(Given("steel_t", "heat", "t", 120, 240, 20, "common sizes", follows="vessel.tap_t"),),
    answer=Choice(
        options=(
            "The need of 43 kg/t is far too high for 6 % MgO in the slag.",
            "The subtraction: 43 − 10 − 15.9 is 17.1 (16.3 from the unrounded terms), not 6.3.",
            "The lining brings no magnesia.",
            "Raw dolomite holds 38 % MgO, not 21 %.",
        ),
        sentences=(
            "The slag of that reckoning is 150 kg/t: 6 % of it is 9 kg MgO, and 9/0.21 is 43 kg of "
            "dolomite. The need is right.",
            "Yes: a digit was lost on the way. A rough check in the head finds it: forty less ten "
            "less sixteen can't be six.",
            "It does: a magnesia lining wears into the slag, which is why saturating the slag "
            "spares it.",
            "Raw dolomite, a double carbonate, has about 21 % MgO; burnt dolomite has 36 to 39.",
        ),
    ),
    solve=lambda steel_t: 2,
    hints=("Do the subtraction.", "Estimate: 43 less 10 less 16."),
    worked="""Line {line}. Numbers that travel through rounded notes lose digits; estimate every result in your head.""",
    vector=False,
)


def _burnt_dolomite(slag_kg_t, mgo_pct, lime_kg_t, lime_mgo_pct, lining_kg_t, dolomite_mgo_pct):
    return (slag_kg_t * mgo_pct / 100.0 - lime_kg_t * lime_mgo_pct / 100.0 - lining_kg_t) / (
        dolomite_mgo_pct / 100.0
    )


_MAGNESIA = Problem(
    key="slag_basicity.dolomite",
    title="Dolomite for magnesia",
    text="""Counted on the steel, a heat makes {slag_kg_t} of slag, and the slag is to hold {mgo_pct} MgO. {lime_kg_t} of lime bring {lime_mgo_pct} MgO of
their mass, and the works counts {lining_kg_t} of MgO from the lining. How much burnt dolomite with {dolomite_mgo_pct} MgO brings the rest?""",
    given=(
        Given("slag_kg_t", "slag", "kg/t", 70, 130, 2, "common practice"),
        Given(
            "mgo_pct",
            "MgO in the slag",
            "%",
            6.5,
            10,
            0.5,
            "near saturation, order of size, recalled",
            follows="slag.mgo_pct",
            least=6,
        ),
        Given("lime_kg_t", "lime", "kg/t", 25, 55, 1, "common practice"),
        Given("lime_mgo_pct", "MgO in the lime", "%", 1.0, 3.0, 0.1, "burnt lime, common practice"),
        Given(
            "lining_kg_t",
            "MgO from the lining",
            "kg/t",
            0.4,
            1.2,
            0.1,
            "what a works reckons with, common practice",
            follows="slag.lining_mgo_kg_t",
        ),
        Given(
            "dolomite_mgo_pct",
            "MgO in the dolomite",
            "%",
            34,
            40,
            0.5,
            "burnt dolomite, common practice",
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=_burnt_dolomite,
    slips=(
        slip.forgot("lining_kg_t", 0.0, "what the lining gives"),
        slip.forgot("lime_mgo_pct", 0.0, "the magnesia of the lime"),
        Slip(
            "as_mgo",
            "This is MgO; dolomite holds only {dolomite_mgo_pct} of it.",
            change=lambda given: given | {"dolomite_mgo_pct": 100.0},
        ),
        Slip(
            "slag_only",
            "You took the whole magnesia of the slag; lime and lining bring a part of it.",
            change=lambda given: given | {"lime_mgo_pct": 0.0, "lining_kg_t": 0.0},
        ),
    ),
    hints=(
        "How many kg of MgO does the slag hold?",
        "Take off what comes with the lime and from the lining.",
        "The rest comes from dolomite: divide by {dolomite_mgo_pct:n}/100.",
    ),
    worked="""({slag_kg_t:n} × {mgo_pct:n}/100 − {lime_kg_t:n} × {lime_mgo_pct:n}/100 − {lining_kg_t:n})/({dolomite_mgo_pct:n}/100) = **{answer}**.
The lining's share stays an open item of the sum: a works that leaves it out saturates its slag with bricks. Dolomite brings lime too: take that off
the lime.""",
    plausible=lambda answer, **given: answer > 4.0,
)


def _liquid_basicity(cao_pct, sio2_pct, lime_t, lime_cao_pct, left_pct, slag_t):
    lumps_pct = lime_t * lime_cao_pct * left_pct / 100.0 / slag_t
    return basicity({"CaO": cao_pct - lumps_pct, "SiO2": sio2_pct})


_LUMPS = Problem(
    key="slag_basicity.undissolved",
    title="What the laboratory can't see",
    text="""A laboratory finds {cao_pct} CaO and {sio2_pct} SiO2 in the slag. {lime_t} of lime with {lime_cao_pct} CaO were charged, {left_pct} of its CaO
did not dissolve, and {slag_t} of slag, lumps included, came of it. What is CaO/SiO2 of the liquid slag?""",
    given=(
        Given(
            "cao_pct",
            "CaO found",
            "%",
            46,
            54,
            0.5,
            "converter slag, published analyses of LD slags",
        ),
        Given(
            "sio2_pct",
            "SiO2 found",
            "%",
            11,
            15,
            0.5,
            "converter slag, published analyses of LD slags",
        ),
        Given(
            "lime_t",
            "lime",
            "t",
            5,
            7,
            0.2,
            "some 33 kg of lime, 89 kg of slag per t, common practice",
            follows="vessel.tap_t",
        ),
        Given("lime_cao_pct", "CaO in lime", "%", 90, 95, 0.5, "burnt lime, common practice"),
        Given(
            "left_pct",
            "CaO left as lumps",
            "%",
            8,
            20,
            1,
            "share of the lime's CaO; a works' own experience",
        ),
        Given(
            "slag_t",
            "slag",
            "t",
            14,
            18,
            0.5,
            "some 33 kg of lime, 89 kg of slag per t, common practice",
            follows="vessel.tap_t",
        ),
    ),
    answer=Answer("1", _PER_CENT, tolerance_pct=1.0),
    solve=_liquid_basicity,
    slips=(
        slip.forgot(
            "left_pct",
            0.0,
            "the lumps: a laboratory counts them as CaO, the liquid doesn't have them",
        ),
        Slip(
            "tonnes_for_percent",
            "You took tonnes of lumps off a percentage; divide them by the mass of the slag first.",
            solve=lambda cao_pct, sio2_pct, lime_t, lime_cao_pct, left_pct, slag_t: (
                (cao_pct - lime_t * lime_cao_pct * left_pct / 1e4) / sio2_pct
            ),
        ),
        Slip(
            "of_all_cao",
            "You took {left_pct} off all CaO of the slag; it is {left_pct} of the CaO of the lime.",
            solve=lambda cao_pct, sio2_pct, lime_t, lime_cao_pct, left_pct, slag_t: (
                cao_pct * (1.0 - left_pct / 100.0) / sio2_pct
            ),
        ),
        Slip(
            "added",
            "You added the lumps; the laboratory has counted them already.",
            change=lambda given: given | {"left_pct": -given["left_pct"]},
        ),
    ),
    hints=(
        "How many tonnes of CaO are lumps?",
        "How many per cent of the slag is that?",
        "Take it off the CaO found, then divide by SiO2. (Both refer to the same slag, so the "
        "ratio is right for the liquid.)",
    ),
    worked="""Lumps: {lime_t:n} × {lime_cao_pct:n}/100 × {left_pct:n}/100 t, over {slag_t:n} t as per cent of the slag. CaO found less that, over
{sio2_pct:n}: **{answer}**. A basicity from the laboratory may look well and hold no phosphorus: ask how much of the lime is dissolved.""",
    plausible=lambda answer, cao_pct, lime_t, lime_cao_pct, slag_t, **given: (
        (answer > 2.5) & (lime_t * lime_cao_pct / slag_t < 0.9 * cao_pct)
    ),
)

_KEPT = {"the iron": "iron", "the oxidising power": "oxidising power"}


def _as_feo(feo_pct, fe2o3_pct, kept):
    return iron_as_feo({"FeO": feo_pct, "Fe2O3": fe2o3_pct}, _KEPT[kept])


_COUNTED = Problem(
    key="slag_basicity.iron_as_feo",
    title="Iron oxide as FeO",
    text="""A slag holds {feo_pct} FeO and {fe2o3_pct} Fe2O3. Count all of it as FeO, so that {kept} stays the same (with metal, Fe2O3 + Fe = 3 FeO). How
much FeO is that? Fe 55.85, O 16.00.""",
    given=(
        Given(
            "feo_pct",
            "FeO",
            "%",
            10,
            22,
            1,
            "end of the blow, common practice",
            follows="slag.feo_pct",
        ),
        Given(
            "fe2o3_pct",
            "Fe2O3",
            "%",
            4,
            12,
            0.5,
            "end of the blow, common practice",
            follows="slag.fe2o3_pct",
        ),
        Pick("kept", "what stays the same", tuple(_KEPT), "two conventions in use"),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_as_feo,
    slips=(
        Slip(
            "other_convention",
            "This is the other convention. The same iron: Fe2O3 × 0.8998. The same oxidising "
            "power: × 1.3497, since Fe2O3 makes 3 FeO with metal.",
            solve=lambda feo_pct, fe2o3_pct, kept: _as_feo(
                feo_pct, fe2o3_pct, next(k for k in _KEPT if k != kept)
            ),
        ),
        slip.forgot("fe2o3_pct", 0.0, "the Fe2O3"),
        Slip(
            "as_it_stands",
            "You added the two as they stand; Fe2O3 holds more oxygen than FeO.",
            solve=lambda feo_pct, fe2o3_pct, kept: feo_pct + fe2o3_pct,
        ),
        Slip(
            "one_feo",
            "One Fe2O3 holds two atoms of iron, so it makes at least two FeO.",
            solve=lambda feo_pct, fe2o3_pct, kept: (
                feo_pct + fe2o3_pct * molar_mass("FeO") / molar_mass("Fe2O3")
            ),
        ),
    ),
    hints=(
        "How many FeO are counted for one Fe2O3: two, with the same iron, or three, with the same "
        "oxygen to give away?",
        "FeO weighs 71.85, Fe2O3 159.70.",
        "{feo_pct:n} + {fe2o3_pct:n} × n × 71.85/159.70, n = 2 for the iron, 3 for the oxidising "
        "power.",
    ),
    worked="""{feo_pct:n} + {fe2o3_pct:n} × n × 71.85/159.70 with n = 2 (the iron) or 3 (the oxidising power); to keep {kept}: **{answer}**.
Equations for phosphorus want the first. The FeO of another works may be the second: ask.""",
)


def _two_slags(cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct):
    return 2.0, 0.5 * (
        basicity({"CaO": cao_1_pct, "SiO2": sio2_1_pct})
        + basicity({"CaO": cao_2_pct, "SiO2": sio2_2_pct})
    )


_MEANS = Problem(
    key="slag_basicity.mean_of_ratios",
    title="6.21 or 6.00?",
    text="""A published table of ladle slags prints the averages 54 % CaO, 9 % SiO2, 30.2 % Al2O3 and 8.2 % MgO, and the average CaO/SiO2 = 6.21. Which line
says best what is going on? To find out, take two slags of your own, one with {cao_1_pct} CaO and {sio2_1_pct} SiO2, one with {cao_2_pct} CaO and
{sio2_2_pct} SiO2: what is the mean of their two basicities?""",
    given=(
        Given(
            "cao_1_pct", "CaO, first slag", "%", 52, 56, 0.5, "ladle slag near the table's averages"
        ),
        Given(
            "sio2_1_pct",
            "SiO2, first slag",
            "%",
            6,
            7.5,
            0.5,
            "ladle slag near the table's averages",
        ),
        Given(
            "cao_2_pct",
            "CaO, second slag",
            "%",
            52,
            56,
            0.5,
            "ladle slag near the table's averages",
        ),
        Given(
            "sio2_2_pct",
            "SiO2, second slag",
            "%",
            10.5,
            13,
            0.5,
            "ladle slag near the table's averages",
        ),
    ),
    answer=Choice(
        options=(
            "54/9 is 6.00, so 6.21 is a slip of the pen.",
            "The ratio of the means is 6.00; the mean of the ratios of single slags is another "
            "number and may well be 6.21.",
            "The average CaO must be 55.9 %, since the analysis adds up to less than 100 %.",
            "6.21 is the molar basicity.",
        ),
        sentences=(
            "It may be, but it need not: average the basicities of two different slags, and you "
            "get more than the basicity of their average.",
            "Yes. A slag poor in silica lifts the mean of ratios more than a rich one lowers it. A "
            "table should say which it prints.",
            "It adds up to 101.4 %: averages taken over different numbers of samples do not close. "
            "That is a warning of its own, but does not give 6.21.",
            "The molar one is 1.0715 times the one by mass: 6.43.",
        ),
        number=Answer("1", _PER_CENT, tolerance_pct=1.0),
    ),
    solve=_two_slags,
    slips=(
        Slip(
            "ratio_of_means",
            "You averaged the analyses first. Take each slag's basicity, then the mean of the two.",
            solve=lambda cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct: (
                (cao_1_pct + cao_2_pct) / (sio2_1_pct + sio2_2_pct)
            ),
        ),
        Slip(
            "sum",
            "You added the two and did not halve.",
            solve=lambda cao_1_pct, sio2_1_pct, cao_2_pct, sio2_2_pct: (
                cao_1_pct / sio2_1_pct + cao_2_pct / sio2_2_pct
            ),
        ),
    ),
    hints=(
        "First the basicity of each slag.",
        "({cao_1_pct:n}/{sio2_1_pct:n} + {cao_2_pct:n}/{sio2_2_pct:n})/2. Compare with the "
        "basicity of the average analysis.",
    ),
    worked="""({cao_1_pct:n}/{sio2_1_pct:n} + {cao_2_pct:n}/{sio2_2_pct:n})/2 = **{answer}**; the ratio of the means is lower. Line {line}.""",
)


PROBLEMS = (
    _RATIO,
    _AVAILABLE,
    _LIME,
    _WITH_P,
    _MASS,
    _IRON,
    _COUNTED,
    _MAGNESIA,
    _LUMPS,
    _MEANS,
    _DOLOMITE,
)
