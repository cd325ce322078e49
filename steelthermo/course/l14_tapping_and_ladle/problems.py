"""Problems of lesson 14: how do I get the steel to its analysis?"""

import numpy as np

from ...base import mass_fractions, value
from ...coursekit.problems import Answer, Choice, Given, Pick, Problem, Slip, slip
from ...ladle import (
    addition_effect_c,
    addition_kg,
    alloy,
    aluminium_demand_kg_t,
    carbon_equivalent,
    equilibrium_ppm,
    stirring_power_w_t,
    tap_path,
)

_PER_CENT = "one per cent covers rounding and tables of atomic weights"
_SIMN, _FEMN = (alloy(key).material.analysis_pct for key in ("silicomanganese", "ferromanganese"))
_MNO_PCT = 5.0  # of the slag carried over
_CARBON_PCT = 92.0  # recovery of carbon in the text


def _aluminium(oxygen_ppm, al_pct, slag_kg_t, feo_pct, recovery_pct):
    slag = {"FeO": feo_pct, "MnO": _MNO_PCT}
    return aluminium_demand_kg_t(
        oxygen_ppm,
        al_pct,
        slag_pct=slag,
        slag_kg_t=slag_kg_t,
        reduced_pct=100.0,
        recovery_pct=recovery_pct,
    )


_ALUMINIUM = Problem(
    key="tapping_and_ladle.aluminium",
    title="Aluminium for a heat",
    text="""Steel is tapped with {oxygen_ppm} dissolved oxygen; {slag_kg_t} of converter slag with {feo_pct} FeO and 5 % MnO run along. The steel
shall hold {al_pct} aluminium. Oxygen of steel and slag ends as Al2O3: 1 kg of it takes 1.124 kg of aluminium; FeO holds 22.3 % oxygen, MnO 22.6 %.
Of the aluminium added, {recovery_pct} reaches the bath (a plant value), the rest burns. How many kg of aluminium per tonne of steel? Leave out the
trace of oxygen that stays.""",
    given=(
        Given("oxygen_ppm", "dissolved oxygen", "ppm", 400, 900, 20, "at 0.03 to 0.06 % C"),
        Given("al_pct", "aluminium aimed at", "%", 0.02, 0.05, 0.005, "killed steel"),
        Given("slag_kg_t", "slag carried over", "kg/t", 2, 10, 1, "2 to 15 kg/t, common practice"),
        Given(
            "feo_pct",
            "FeO in the slag",
            "%",
            15,
            25,
            1,
            "15 to 18 %, a lecture note; more at low carbon",
            follows="slag.feo_pct",
        ),
        Given(
            "recovery_pct",
            "aluminium that reaches the bath",
            "%",
            70,
            90,
            5,
            "70 to 90 %, common practice",
        ),
    ),
    answer=Answer("kg/t", _PER_CENT, tolerance_pct=1.0),
    solve=lambda **given: _aluminium(**given)["total"],
    slips=(
        slip.forgot("slag_kg_t", 0.0, "the slag carried over"),
        slip.forgot("al_pct", 0.0, "the aluminium that shall stay in the steel"),
        slip.forgot("recovery_pct", 100.0, "what burns on the way"),
        slip.times(
            "recovery_multiplied",
            "You multiplied by {recovery_pct}; divide, for more must be added than arrives.",
            lambda given: (given["recovery_pct"] / 100.0) ** 2,
        ),
        Slip(
            "one_for_one",
            "You took one atom of aluminium for one of oxygen; Al2O3 holds two for three, 1.124 kg "
            "per kg.",
            solve=lambda recovery_pct, **given: (
                (
                    1.5
                    * sum(_aluminium(**given, recovery_pct=100.0)[k] for k in ("oxygen", "slag"))
                    + 10.0 * given["al_pct"]
                )
                / (recovery_pct / 100.0)
            ),
        ),
        Slip(
            "ppm",
            "You took 100 ppm for 1 kg per tonne; it is 0.1 kg.",
            change=lambda given: given | {"oxygen_ppm": 10.0 * given["oxygen_ppm"]},
        ),
    ),
    hints=(
        "Three things take aluminium: dissolved oxygen, the slag, and the steel that shall hold "
        "it.",
        "Oxygen: {oxygen_ppm:n}/1000 kg/t, and {slag_kg_t:n} × ({feo_pct:n} × 0.223 + 5 × "
        "0.226)/100 kg/t from the slag.",
        "(1.124 × oxygen + 10 × {al_pct:n}), over {recovery_pct:n}/100.",
    ),
    worked="""Oxygen: {oxygen_ppm:n}/1000 + {slag_kg_t:n} × ({feo_pct:n} × 0.223 + 5 × 0.226)/100 kg/t. Times 1.124, plus 10 × {al_pct:n}, over
{recovery_pct:n}/100: **{answer}**. Stop the slag: a kilogram of it costs about 0.06 kg of aluminium, and gives its phosphorus back.""",
    cautions=(
        "Alloys and aluminium must be dry: water under steel is steam, and hydrogen in the "
        "product.",
    ),
)


def _silicomanganese(si_pct, si_recovery_pct):
    return addition_kg(1000.0, si_pct, _SIMN["Si"], si_recovery_pct, dilution=False)


def _ferromanganese(si_pct, mn_from_pct, mn_pct, si_recovery_pct, mn_recovery_pct):
    brought = (
        _silicomanganese(si_pct, si_recovery_pct) * _SIMN["Mn"] / 1000.0 * mn_recovery_pct / 100.0
    )
    rest = np.asarray(mn_pct) - mn_from_pct - brought
    return 1000.0 * rest / _FEMN["Mn"] * 100.0 / mn_recovery_pct


_MANGANESE = Problem(
    key="tapping_and_ladle.ferromanganese",
    title="First silicon, then manganese",
    text="""A killed steel with {mn_from_pct} manganese and no silicon shall reach {si_pct} Si and {mn_pct} Mn. Silicomanganese (17 % Si, 66 % Mn) is
added until silicon is right; ferromanganese (76 % Mn) does the rest. {si_recovery_pct} of the silicon and {mn_recovery_pct} of the manganese reach
the bath (plant values). How many kg of ferromanganese per tonne of steel? Leave out the silicon of ferromanganese and the mass the alloys add.""",
    given=(
        Given("si_pct", "silicon aimed at", "%", 0.15, 0.3, 0.01, "structural steel"),
        Given(
            "mn_from_pct",
            "manganese at tap",
            "%",
            0.08,
            0.16,
            0.01,
            "end of the blow",
            follows="end_point.analysis_pct.Mn",
        ),
        Given(
            "mn_pct", "manganese aimed at", "%", 1.2, 1.55, 0.05, "structural steel, below 1.60 %"
        ),
        Given(
            "si_recovery_pct", "silicon that reaches the bath", "%", 85, 95, 1, "common practice"
        ),
        Given(
            "mn_recovery_pct", "manganese that reaches the bath", "%", 92, 98, 1, "common practice"
        ),
    ),
    answer=Answer(
        "kg/t", "rounding of the first alloy: 0.1 kg/t or 1 %", tolerance_pct=1.0, tolerance_abs=0.1
    ),
    solve=_ferromanganese,
    slips=(
        Slip(
            "silicomanganese_free",
            "You forgot the manganese that silicomanganese brings: two thirds of it.",
            solve=lambda si_pct, **given: _ferromanganese(si_pct=0.0 * np.asarray(si_pct), **given),
        ),
        slip.forgot("mn_from_pct", 0.0, "the manganese the steel has already"),
        Slip(
            "no_recovery",
            "You left out the recoveries.",
            change=lambda given: (
                given | {k: 100.0 + 0.0 * given[k] for k in ("si_recovery_pct", "mn_recovery_pct")}
            ),
        ),
        Slip(
            "first_alloy",
            "This is the silicomanganese; asked is the ferromanganese.",
            solve=lambda si_pct, si_recovery_pct, **_: _silicomanganese(si_pct, si_recovery_pct),
        ),
        slip.times("percent_as_kg", "You took 1 % as 1 kg per t; it is 10 kg per t.", 0.1),
    ),
    hints=(
        "Silicomanganese: 10 × {si_pct:n}/(0.17 × {si_recovery_pct:n}/100) kg/t.",
        "Each kg of it brings 0.66 × {mn_recovery_pct:n}/100 kg of manganese to the bath.",
        "What is missing to 10 × ({mn_pct:n} − {mn_from_pct:n}) kg/t comes from ferromanganese: "
        "over 0.76 × {mn_recovery_pct:n}/100.",
    ),
    worked="""Silicomanganese: 10 × {si_pct:n}/(0.17 × {si_recovery_pct:n}/100) kg/t. It brings 0.66 × {mn_recovery_pct:n}/100 kg of manganese per
kg. Missing to 10 × ({mn_pct:n} − {mn_from_pct:n}) kg/t, over 0.76 × {mn_recovery_pct:n}/100: **{answer}**.""",
    plausible=lambda answer, **given: answer > 1.0,
    cautions=(
        "Kill first, then alloy: carbon or ferromanganese on the bottom of a ladle under oxidised "
        "steel makes it boil over.",
    ),
)


def _carbon(c_pct, simn_kg_t, femn_kg_t):
    picked = (
        (np.asarray(simn_kg_t) * _SIMN["C"] + femn_kg_t * _FEMN["C"]) / 1000.0 * _CARBON_PCT / 100.0
    )
    return c_pct + picked


_PICK_UP = Problem(
    key="tapping_and_ladle.carbon",
    title="The carbon that comes with the manganese",
    text="""Steel with {c_pct} carbon at tap gets {simn_kg_t} of silicomanganese (1.7 % C) and {femn_kg_t} of high-carbon ferromanganese (7.0 % C).
92 % of the carbon reaches the bath (a plant value). S355J2 allows 0.20 % C up to 40 mm. Is the steel within it, and what does it hold? Leave out the
mass the alloys add.""",
    given=(
        Given("c_pct", "carbon at tap", "%", 0.05, 0.2, 0.01, "a heat caught early"),
        Given("simn_kg_t", "silicomanganese", "kg/t", 6, 16, 1, "structural steel"),
        Given("femn_kg_t", "ferromanganese", "kg/t", 4, 14, 1, "structural steel"),
    ),
    answer=Choice(
        ordered=True,
        options=("within 0.20 %", "above 0.20 %"),
        sentences=(
            "Within is right only if tap carbon and all that the alloys bring stay below 0.20 %.",
            "Above is right only if tap carbon and what the alloys bring pass 0.20 % together.",
        ),
        number=Answer("%", _PER_CENT, tolerance_pct=1.0),
    ),
    solve=lambda **given: (np.where(np.asarray(_carbon(**given)) > 0.2, 2, 1), _carbon(**given)),
    slips=(
        Slip(
            "silicomanganese",
            "You left out the silicomanganese: 1.7 % of it is carbon.",
            solve=lambda simn_kg_t, **g: _carbon(simn_kg_t=0.0 * simn_kg_t, **g),
        ),
        Slip(
            "ferromanganese",
            "You left out the ferromanganese: 7 % of it is carbon.",
            solve=lambda femn_kg_t, **g: _carbon(femn_kg_t=0.0 * femn_kg_t, **g),
        ),
        Slip(
            "pick_up_alone",
            "This is the pick-up; the steel had {c_pct} before.",
            solve=lambda c_pct, **g: _carbon(c_pct=0.0 * c_pct, **g),
        ),
        Slip(
            "kg_as_percent",
            "1 kg per t is 0.1 %, not 1 %.",
            solve=lambda c_pct, **g: c_pct + 10.0 * _carbon(c_pct=0.0 * c_pct, **g),
        ),
    ),
    hints=(
        "How many kg of carbon per tonne do the two alloys bring?",
        "({simn_kg_t:n} × 0.017 + {femn_kg_t:n} × 0.070) × 0.92 kg/t; 1 kg/t is 0.1 %.",
        "Add it to {c_pct:n} and compare with 0.20.",
    ),
    worked="""({simn_kg_t:n} × 0.017 + {femn_kg_t:n} × 0.070) × 0.92/10 % come on top of {c_pct:n}: **{answer}**, line {line}. Where carbon is tight,
medium-carbon ferromanganese (1.5 % C) is the dearer way out.""",
    plausible=lambda answer, **given: np.abs(np.asarray(answer[1]) - 0.2) > 0.006,
    cautions=(
        "Carbon onto steel that isn't killed boils: never lay it on the bottom of a ladle and pour "
        "on it.",
    ),
)


_EFFECTS = {key: addition_effect_c(key) for key in ("silicomanganese", "ferromanganese")}
_KILL_C = addition_effect_c("Al", oxygen="dissolved oxygen")


def _additions_c(simn_kg_t, femn_kg_t, al_kg_t):
    return (
        simn_kg_t * _EFFECTS["silicomanganese"]
        + femn_kg_t * _EFFECTS["ferromanganese"]
        + al_kg_t * _KILL_C
    )


_ADDITIONS = Problem(
    key="tapping_and_ladle.additions_temperature",
    title="What the additions do to the temperature",
    text="""Per tonne, {simn_kg_t} of silicomanganese and {femn_kg_t} of ferromanganese are added cold, and {al_kg_t} of aluminium takes up dissolved
oxygen. At 1600 °C one kg per tonne changes the temperature by −1.25 °C (silicomanganese), −2.01 °C (ferromanganese) and +27.3 °C (aluminium that
binds oxygen). By how much does the temperature change? Cooling is negative.""",
    given=(
        Given("simn_kg_t", "silicomanganese", "kg/t", 4, 16, 0.5, "structural steel"),
        Given("femn_kg_t", "ferromanganese", "kg/t", 2, 12, 0.5, "structural steel"),
        Given(
            "al_kg_t",
            "aluminium that binds oxygen",
            "kg/t",
            0.4,
            1.2,
            0.1,
            "350 to 1000 ppm of oxygen",
        ),
    ),
    answer=Answer(
        "°C",
        "rounding of the three figures: 0.5 °C or 1 %",
        tolerance_pct=1.0,
        tolerance_abs=0.5,
        difference=True,
    ),
    solve=_additions_c,
    slips=(
        slip.forgot("al_kg_t", 0.0, "the heat of the aluminium"),
        slip.forgot("femn_kg_t", 0.0, "the ferromanganese"),
        slip.forgot("simn_kg_t", 0.0, "the silicomanganese"),
        slip.wrong_sign("The size is right; cooling is counted negative."),
        Slip(
            "all_cool",
            "You let the aluminium cool the steel; binding oxygen gives heat.",
            solve=lambda al_kg_t, **g: _additions_c(al_kg_t=-al_kg_t, **g),
        ),
    ),
    hints=(
        "Add three products: kg per tonne times °C per kg/t.",
        "{simn_kg_t:n} × (−1.25) + {femn_kg_t:n} × (−2.01) + {al_kg_t:n} × 27.3.",
    ),
    worked="""{simn_kg_t:n} × (−1.25) + {femn_kg_t:n} × (−2.01) + {al_kg_t:n} × 27.3 = **{answer}**. This is chemistry alone: the stream, the ladle
and the waiting come on top, and they are the works' own figures.""",
    plausible=lambda answer, **given: np.abs(answer) > 2.0,
    cautions=("Alloys dry and free of ice; nobody near the ladle while they go in.",),
)


def _tap_aim(c_pct, mn_pct, tap_drop_c, cool_c, wait_min, hold_c_min):
    analysis = {"C": c_pct, "Si": 0.2, "Mn": mn_pct}
    own = {
        "tap_drop_c": tap_drop_c,
        "hold_c_min": hold_c_min,
        "tundish_c": 20.0,
        "superheat_c": 25.0,
    }
    return tap_path(
        analysis, additions_c=-np.asarray(cool_c, float), hold_min=wait_min, **own
    ).tap_c


_TAP = Problem(
    key="tapping_and_ladle.tap_aim",
    title="How hot to tap",
    text="""A steel with {c_pct} C, 0.20 % Si and {mn_pct} Mn freezes at 1536 − 78 × %C − 7.6 × %Si − 4.9 × %Mn °C (recalled formula). In the tundish
it shall be 25 °C above that. Plant values: tapping costs {tap_drop_c}, the ladle loses {hold_c_min} for {wait_min}, the way to the tundish 20 °C;
the additions cool by {cool_c}. At what temperature must the heat be tapped?""",
    given=(
        Given("c_pct", "carbon", "%", 0.04, 0.2, 0.01, "soft to structural steel"),
        Given("mn_pct", "manganese", "%", 0.3, 1.5, 0.1, "soft to structural steel"),
        Given(
            "tap_drop_c", "tapping", "°C", 25, 50, 1, "20 to 50 °C without alloys, common practice"
        ),
        Given("cool_c", "additions", "°C", 5, 25, 1, "what the alloys take less the kill"),
        Given("wait_min", "waiting", "min", 20, 50, 5, "treatment and waiting for the caster"),
        Given(
            "hold_c_min",
            "loss while waiting",
            "°C/min",
            0.3,
            1.0,
            0.1,
            "0.3 to 2 °C/min, published",
        ),
    ),
    answer=Answer("°C", "one degree covers rounding", tolerance_abs=1.0),
    solve=_tap_aim,
    slips=(
        slip.times(
            "superheat",
            "You left out the 25 °C above the liquidus.",
            lambda given: 1.0 - 25.0 / _tap_aim(**given),
        ),
        slip.forgot("wait_min", 0.0, "the waiting"),
        Slip(
            "tundish",
            "You left out the way to the tundish.",
            after=lambda answer, given: answer - 20.0,
        ),
        Slip(
            "rate_once",
            "You took the loss of one minute; the ladle waits {wait_min}.",
            change=lambda given: given | {"wait_min": 1.0 + 0.0 * given["wait_min"]},
        ),
        Slip(
            "additions_help",
            "You took the effect of the additions off; they cool, so the tap must be hotter.",
            after=lambda answer, given: answer - 2.0 * given["cool_c"],
        ),
        Slip(
            "pure_iron",
            "You started from pure iron; carbon and manganese lower the liquidus.",
            solve=lambda c_pct, mn_pct, **g: (
                _tap_aim(0.0 * c_pct, 0.0 * mn_pct, **g) + 7.6 * 0.20
            ),  # silicon left out too
        ),
    ),
    hints=(
        "Begin at the end: liquidus plus 25 °C in the tundish.",
        "Go back to the vessel and add every loss: 20, {hold_c_min:n} × {wait_min:n}, {cool_c:n}, "
        "{tap_drop_c:n}.",
    ),
    worked="""Liquidus 1536 − 78 × {c_pct:n} − 7.6 × 0.20 − 4.9 × {mn_pct:n}; plus 25 + 20 + {hold_c_min:n} × {wait_min:n} + {cool_c:n} +
{tap_drop_c:n}: **{answer}**. Ten degrees too much cost scrap and lining in every heat; ten too few a skull in the ladle.""",
    cautions=(
        "Steel that freezes in a ladle must be got out again: works' rules say how. No water near "
        "it.",
    ),
)

_P_SHARE = mass_fractions("P2O5")["P"]


def _phosphorus(p_pct, slag_kg_t, p2o5_pct, simn_kg_t, femn_kg_t, share=_P_SHARE):
    kg_t = (
        np.asarray(slag_kg_t) * p2o5_pct / 100.0 * share
        + (np.asarray(simn_kg_t) * _SIMN["P"] + femn_kg_t * _FEMN["P"]) / 100.0
    )
    return p_pct + 0.1 * kg_t


_REVERSION = Problem(
    key="tapping_and_ladle.phosphorus",
    title="Phosphorus that comes back",
    text="""The vessel left {p_pct} phosphorus in the steel. {slag_kg_t} of its slag with {p2o5_pct} P2O5 runs into the ladle, where the killed steel
reduces all of it. {simn_kg_t} of silicomanganese (0.15 % P) and {femn_kg_t} of ferromanganese (0.20 % P) follow. How much phosphorus does the steel
hold in the end? P 30.97, O 16.00.""",
    given=(
        Given(
            "p_pct",
            "phosphorus at tap",
            "%",
            0.008,
            0.016,
            0.001,
            "end of the blow",
            follows="end_point.analysis_pct.P",
        ),
        Given("slag_kg_t", "slag carried over", "kg/t", 3, 15, 1, "2 to 15 kg/t, common practice"),
        Given("p2o5_pct", "P2O5 in the slag", "%", 1.5, 3.0, 0.1, "slag of the vessel"),
        Given("simn_kg_t", "silicomanganese", "kg/t", 8, 15, 1, "structural steel"),
        Given("femn_kg_t", "ferromanganese", "kg/t", 4, 10, 1, "structural steel"),
    ),
    answer=Answer("%", _PER_CENT, tolerance_pct=1.0),
    solve=_phosphorus,
    slips=(
        Slip(
            "oxide",
            "You counted P2O5 as phosphorus; only 43.6 % of it is.",
            solve=lambda **g: _phosphorus(**g, share=1.0),
        ),
        Slip(
            "one_atom",
            "P2O5 holds two atoms of phosphorus.",
            solve=lambda **g: _phosphorus(**g, share=0.5 * _P_SHARE),
        ),
        slip.forgot("slag_kg_t", 0.0, "the slag"),
        Slip(
            "alloys",
            "You left out the alloys.",
            change=lambda g: (
                g | {"simn_kg_t": 0.0 * g["simn_kg_t"], "femn_kg_t": 0.0 * g["femn_kg_t"]}
            ),
        ),
        Slip(
            "kg_as_percent",
            "1 kg per t is 0.1 %, not 1 %.",
            after=lambda answer, given: given["p_pct"] + 10.0 * (answer - given["p_pct"]),
        ),
    ),
    hints=(
        "61.94 of 141.94 parts of P2O5 are phosphorus.",
        "Slag: {slag_kg_t:n} × {p2o5_pct:n}/100 × 0.436 kg/t; alloys: {simn_kg_t:n} × 0.0015 + "
        "{femn_kg_t:n} × 0.0020 kg/t.",
        "1 kg/t is 0.1 %; add to {p_pct:n}.",
    ),
    worked="""{slag_kg_t:n} × {p2o5_pct:n}/100 × 0.4364 + {simn_kg_t:n} × 0.0015 + {femn_kg_t:n} × 0.0020 kg/t, a tenth of it in %, on top of
{p_pct:n}: **{answer}**. That all of it comes back is the cautious count; how much does depends on stirring and time.""",
    cautions=(
        "Slag that runs over is as hot as steel: nobody stands under or beside a ladle that fills.",
    ),
)


def _cev(c_pct, mn_pct, cr_pct, cu_pct):
    return carbon_equivalent({"C": c_pct, "Mn": mn_pct, "Cr": cr_pct, "Ni": 0.08, "Cu": cu_pct})


_EQUIVALENT = Problem(
    key="tapping_and_ladle.carbon_equivalent",
    title="Each limit met, all limits met?",
    text="""S355J2 up to 40 mm allows 0.20 % C, 1.60 % Mn and a carbon equivalent of 0.45 %: C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15. A heat holds
{c_pct} C, {mn_pct} Mn, {cr_pct} Cr, 0.08 % Ni and {cu_pct} Cu. Is its carbon equivalent within the limit, and what is it?""",
    given=(
        Given("c_pct", "carbon", "%", 0.13, 0.2, 0.005, "within the limit"),
        Given("mn_pct", "manganese", "%", 1.2, 1.6, 0.02, "within the limit"),
        Given("cr_pct", "chromium", "%", 0.06, 0.2, 0.02, "from scrap"),
        Given("cu_pct", "copper", "%", 0.1, 0.3, 0.02, "from scrap"),
    ),
    answer=Choice(
        ordered=True,
        options=("within 0.45 %", "above 0.45 %, though every element is within its own limit"),
        sentences=(
            "Within is right only if the sum stays below 0.45; the limits of the single elements "
            "don't see to that.",
            "Above is right only if the sum passes 0.45. At both upper limits it does: 0.20 + "
            "1.60/6 = 0.467.",
        ),
        number=Answer(
            "%", "half a per cent: four numbers are added, and the limit is near", tolerance_pct=0.5
        ),
    ),
    solve=lambda **given: (np.where(np.asarray(_cev(**given)) > 0.45, 2, 1), _cev(**given)),
    slips=(
        Slip(
            "c_and_mn",
            "You left out chromium, nickel and copper.",
            solve=lambda c_pct, mn_pct, **_: c_pct + mn_pct / 6.0,
        ),
        Slip(
            "fifth",
            "You divided manganese by 5; the formula has 6.",
            solve=lambda mn_pct, **g: _cev(mn_pct=1.2 * mn_pct, **g),
        ),
        Slip(
            "undivided",
            "You added the elements as they are; each has its divisor.",
            solve=lambda c_pct, mn_pct, cr_pct, cu_pct: c_pct + mn_pct + cr_pct + 0.08 + cu_pct,
        ),
        Slip(
            "carbon_too",
            "You divided carbon by 6 as well; it counts in full.",
            solve=lambda c_pct, **g: _cev(c_pct=c_pct / 6.0, **g),
        ),
    ),
    hints=(
        "{c_pct:n} + {mn_pct:n}/6 + {cr_pct:n}/5 + (0.08 + {cu_pct:n})/15.",
        "Compare the sum with 0.45.",
    ),
    worked="""{c_pct:n} + {mn_pct:n}/6 + {cr_pct:n}/5 + (0.08 + {cu_pct:n})/15 = **{answer}**: line {line}. The limit of 0.45 was read on a page that
quotes the standard (EN 10025-2); an order is checked against the edition in force.""",
    plausible=lambda answer, **given: np.abs(np.asarray(answer[1]) - 0.45) > 0.004,
)


def _power(flow_nm3_h, steel_t, depth_m, pressure_kpa):
    return stirring_power_w_t(
        np.asarray(flow_nm3_h) / 60.0,
        steel_t,
        depth_m,
        surface_pa=1000.0 * np.asarray(pressure_kpa),
    )


def _formula(flow_nm3_min, steel_t, depth_m, pressure_atm, T=1873.15, log=np.log10):
    return (
        14.23
        * np.asarray(flow_nm3_min)
        * T
        / steel_t
        * log(1.0 + np.asarray(depth_m) / (1.48 * np.asarray(pressure_atm)))
    )


_STIRRING = Problem(
    key="tapping_and_ladle.stirring_power",
    title="Stirring in air and under vacuum",
    text="""Argon rises through {depth_m} of steel of 1600 °C in a ladle of {steel_t}, {flow_nm3_h} of it; the pressure over the steel is
{pressure_kpa}. What power does it give the steel? In W/t it is 14.23 V T/M × log10(1 + H/(1.48 p)), with V in Nm3/min, T in K, M in t, H in m and p
in atm (101.3 kPa).""",
    given=(
        Given("flow_nm3_h", "argon", "Nm3/h", 12, 48, 2, "0.2 to 0.8 Nm3/min, common practice"),
        Given(
            "steel_t",
            "steel",
            "t",
            120,
            300,
            10,
            "ladles of common vessels",
            follows="vessel.tap_t",
        ),
        Given("depth_m", "depth of steel", "m", 2.4, 3.6, 0.1, "ladles of common vessels"),
        Given(
            "pressure_kpa",
            "pressure over the steel",
            "kPa",
            1,
            91,
            10,
            "from a vacuum tank nearly to air",
        ),
    ),
    answer=Answer("W/t", "one per cent covers rounding of the constants", tolerance_pct=1.0),
    solve=_power,
    slips=(
        slip.natural_for_common_log(),
        Slip(
            "celsius",
            "You put 1600 °C into the formula; T is kelvin.",
            after=lambda answer, given: answer * 1600.0 / 1873.15,
        ),
        slip.times("per_hour", "You took Nm3 per hour; the formula wants them per minute.", 60.0),
        Slip(
            "kpa",
            "You put kPa into the formula; p is in atm.",
            solve=lambda flow_nm3_h, pressure_kpa, **g: _formula(
                flow_nm3_min=np.asarray(flow_nm3_h) / 60.0, pressure_atm=pressure_kpa, **g
            ),
        ),
        Slip(
            "always_air",
            "You reckoned with air over the steel; the pressure is {pressure_kpa}.",
            change=lambda given: given | {"pressure_kpa": 101.325 + 0.0 * given["pressure_kpa"]},
        ),
    ),
    hints=(
        "V = {flow_nm3_h:n}/60 Nm3/min, T = 1873 K, p = {pressure_kpa:n}/101.3 atm.",
        "log10(1 + {depth_m:n}/(1.48 p)), then times 14.23 × V × 1873/{steel_t:n}.",
    ),
    worked="""14.23 × {flow_nm3_h:n}/60 × 1873/{steel_t:n} × log10(1 + {depth_m:n}/(1.48 × {pressure_kpa:n}/101.3)) = **{answer}**. Under vacuum the
gas swells far more on its way up: the same argon stirs several times as hard. On the mixing time that follows the published correlations disagree by
more than two to one.""",
    cautions=(
        "Argon gives no warning: it fills pits and empty ladles. Test the air before anyone goes "
        "in.",
    ),
)

_SYMBOLS = {"hydrogen": "H", "nitrogen": "N"}


def _dissolved(gas, pressure_pa, share_pct):
    return equilibrium_ppm(_SYMBOLS[gas], pressure_pa, gas_share_pct=share_pct)


_SIEVERTS = Problem(
    key="tapping_and_ladle.vacuum",
    title="What a vacuum can do",
    text="""Under 1 atm (101 325 Pa) of the pure gas liquid iron at 1600 °C takes up 24.7 ppm of hydrogen or 468 ppm of nitrogen. In a vacuum tank
{pressure_pa} stand over the steel, and {share_pct} % of that gas (by volume) is {gas}. How many ppm of {gas} stay in the steel at equilibrium?""",
    given=(
        Pick("gas", "gas", ("hydrogen", "nitrogen"), "the two gases that dissolve as atoms"),
        Given(
            "pressure_pa",
            "pressure",
            "Pa",
            60,
            400,
            10,
            "vacuum tanks, 50 to 1000 Pa, common practice",
        ),
        Given(
            "share_pct",
            "share of the gas, volume %",
            "1",
            20,
            90,
            5,
            "the rest is argon and carbon monoxide",
        ),
    ),
    answer=Answer("ppm", _PER_CENT, tolerance_pct=1.0),
    solve=_dissolved,
    slips=(
        Slip(
            "no_root",
            "You took the content as proportional to the pressure. The molecule splits into two "
            "atoms: the content goes with the square root (Sieverts).",
            after=lambda answer, given: (
                answer
                * np.sqrt(
                    np.asarray(given["pressure_pa"])
                    * given["share_pct"]
                    / 100.0
                    / value("normal_pressure")
                )
            ),
        ),
        Slip(
            "torr",
            "You took the Pa for torr; 1 torr is 133.3 Pa.",
            after=lambda answer, given: answer * np.sqrt(value("normal_pressure") / 760.0),
        ),
        Slip(
            "forgot_share_pct",
            "You left out that only {share_pct} % of the gas counts.",
            change=lambda given: given | {"share_pct": 100.0 + 0.0 * given["share_pct"]},
        ),
        slip.times(
            "root_of_pressure_only",
            "You took the share outside the root; it is part of the pressure.",
            lambda given: np.sqrt(np.asarray(given["share_pct"]) / 100.0),
        ),
    ),
    hints=(
        "Pressure of the gas itself: {pressure_pa:n} × {share_pct:n}/100 Pa.",
        "Over 101 325, then the square root; times the ppm at 1 atm.",
    ),
    worked=lambda gas, pressure_pa, share_pct: (
        f"{'24.7' if gas == 'hydrogen' else '468'} × √({pressure_pa:.0f} × {share_pct:.0f}/100/101 "
        "325) = "
        f"**{_dissolved(gas, pressure_pa, share_pct):.3g} ppm**. "
        "Equilibrium is the floor; the way there takes minutes for hydrogen, and for nitrogen "
        "longer, for oxygen and sulphur block the surface."
    ),
    cautions=(
        "A tank that was under vacuum or argon holds no air to breathe: nobody enters before it is "
        "tested and released.",
    ),
)


PROBLEMS = (
    _ALUMINIUM,
    _MANGANESE,
    _PICK_UP,
    _ADDITIONS,
    _TAP,
    _REVERSION,
    _EQUIVALENT,
    _STIRRING,
    _SIEVERTS,
)
