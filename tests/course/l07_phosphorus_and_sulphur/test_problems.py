"""Problems of lesson 07 against sums written out here, and against published equations, examples
and measurements; the reasons the lesson gives.
"""

import math

import numpy as np
import pytest

from steelthermo.charge import charge
from steelthermo.course.adapter import STEEL
from steelthermo.coursekit.panel import make_panel
from steelthermo.coursekit.problems import draw_many
from steelthermo.slag import equations, equilibrium, partition, spread
from steelthermo.streams import Slag

LESSON = STEEL.lesson("phosphorus_and_sulphur")
BY_NAME = {p.key.split(".")[1]: p for p in LESSON.problems}


def phosphorus_left(p_pct, slag_kg_t, l_low, l_high, aim_pct):
    return p_pct / (1 + l_low * slag_kg_t / 1000)


def slag_for_aim(p_pct, aim_pct, l_p):
    return 1000 * (p_pct - aim_pct) / (l_p * aim_pct)


def partition_by_hand(cao_pct, mgo_pct, p2o5_pct, mno_pct, feo_pct, fe2o3_pct, temp_c):
    bracket = cao_pct + 0.3 * mgo_pct + 0.6 * p2o5_pct + 0.6 * mno_pct
    return 10 ** round(
        0.0720 * bracket
        + 2.5 * math.log10(0.777 * feo_pct + 0.699 * fe2o3_pct)
        + 11570 / (temp_c + 273.15)
        - 10.520,
        2,
    )


def hotter(from_c, rise_c, equation):
    b = {"SI-c": 11570, "Healy": 22350}[equation]
    return 10 ** round(b * (1 / (from_c + rise_c + 273.15) - 1 / (from_c + 273.15)), 3)


def more_iron(from_pct, to_pct):
    return (to_pct / from_pct) ** 2.5


def sign(cao_pct, mgo_pct, feo_pct, p2o5_pct, temp_c):
    log_kp = round(0.143 * (cao_pct + 0.55 * mgo_pct) + 13980 / (temp_c + 273.15) - 16.08, 2)
    return math.sqrt(p2o5_pct / (10**log_kp * feo_pct**5))


def reversion(slag_kg_t, p2o5_pct, reduced_pct):
    return 1000 * slag_kg_t * p2o5_pct / 100 * 61.94 / 141.94 * reduced_pct / 100


def manganese(cao_pct, mgo_pct, feto_pct, mno_pct, sio2_pct, p2o5_pct, temp_c):
    bracket = (
        -1.651 * cao_pct
        + 39.13 * mgo_pct
        + 4.64 * feto_pct
        + 5.133 * mno_pct
        + 11.86 * sio2_pct
        - 99.7 * p2o5_pct
    )
    return mno_pct / (10 ** round(0.001 * bracket + 8086 / (temp_c + 273.15) - 4.262, 2) * feto_pct)


def sulphur(hot_metal_kg_t, s_pct, left_kg_t, left_s_pct, rest_kg_t, slag_kg_t, l_s):
    total_kg = hot_metal_kg_t * s_pct / 100 + left_kg_t * left_s_pct / 100 + rest_kg_t
    return 100 * total_kg / (1000 + l_s * slag_kg_t)


def oxygen(slag, temp_c):
    b, c = {
        "pure iron oxide": (-6320, 2.734),
        "iron oxide saturated with MgO": (-5520, 2.276),
        "iron oxide saturated with CaO": (-5240, 1.743),
    }[slag]
    return 10 ** round(b / (temp_c + 273.15) + c, 3)


HANDS = {
    f.__name__: f
    for f in (
        phosphorus_left,
        slag_for_aim,
        hotter,
        more_iron,
        sign,
        reversion,
        manganese,
        sulphur,
        oxygen,
    )
} | {"partition": partition_by_hand}


@pytest.mark.parametrize("name", HANDS)
def test_the_sum_of_the_text_is_within_the_tolerance(name):
    """Own sums with the data printed in each text, logarithms rounded as by hand, for 60 learners:
    nobody who reckons by hand is told to be wrong.
    """
    problem = BY_NAME[name]
    for one in draw_many(problem, [(f"learner {i}", "self-study", 1) for i in range(60)]):
        assert abs(HANDS[name](**one.given) - one.number) <= 0.75 * problem.number.tolerance(
            one.number
        ), one.given


def test_every_problem_has_its_sum_here():
    assert set(HANDS) == set(BY_NAME)


def test_typed_sets():
    """Own sums, figures typed out.

    Left: 0.10/(1 + 100 x 90/1000) = 0.0100. Slag: 1000 x 0.078/(100 x 0.012) = 65.0. Iron:
    (20/15)^2.5 = 2.053.
    Reversion: 5 kg x 2 % x 0.43638 = 43.64 g/t. Sulphur: 0.027 + 0.150 + 0.0535 = 0.2305 kg over
    1000 + 4 x 100: 0.0165 %.
    """
    solve = {name: p.solve for name, p in BY_NAME.items()}
    assert solve["phosphorus_left"](100.0, 400.0, 90.0, 0.10, 0.012) == (1.0, pytest.approx(0.0100))
    assert solve["slag_for_aim"](0.090, 0.012, 100.0) == pytest.approx(65.0)
    assert solve["more_iron"](15.0, 20.0) == (2.0, pytest.approx(2.053, abs=0.001))
    assert solve["reversion"](5.0, 2.0, 100.0) == pytest.approx(43.64, abs=0.01)
    assert solve["sulphur"](900.0, 0.003, 5.0, 3.0, 0.0535, 100.0, 4.0) == pytest.approx(
        0.0165, abs=0.00005
    )


def test_every_line_of_the_band_is_drawn():
    """The aim is met by all, by a part and by none of the band, each for some learner."""
    drawn = draw_many(
        BY_NAME["phosphorus_left"], [(f"learner {i}", "self-study", 1) for i in range(80)]
    )
    assert {one.choice for one in drawn} == {1, 2, 3}


def test_slag_needed_of_an_open_question():
    """Open question page (qora.bd 678388; its answer was not seen): P 0.05 to 0.01 %, L 80. By hand
    0.04/(80 x 0.01) = 0.050 t per t.
    """
    assert BY_NAME["slag_for_aim"].solve(0.05, 0.01, 80.0) == pytest.approx(50.0)


def test_read_equation_at_its_papers_conditions():
    """Suito and Inoue, Tetsu-to-Hagane 70 (1984) 186, abstract: the third equation written out once
    more, MgO-saturated slag at 1600 degC.
    """
    slag = {"cao_pct": 45.0, "mgo_pct": 8.0, "p2o5_pct": 2.0, "mno_pct": 5.0}
    mine = BY_NAME["partition"].solve(**slag, feo_pct=18.0, fe2o3_pct=6.0, temp_c=1600.0)
    by_paper = 10 ** (
        0.0720 * (45 + 2.4 + 1.2 + 3.0)
        + 2.5 * math.log10(18 * 55.845 / 71.844 + 6 * 111.69 / 159.687)
        + 11570 / 1873.15
        - 10.520
    )
    # the problem's text rounds the shares of iron in its oxides to 0.777 and 0.699
    assert mine == pytest.approx(by_paper, rel=2e-3) == pytest.approx(332, abs=1)


@pytest.mark.parametrize(("equation", "published"), [("SI-c", 0.69), ("Healy", 0.49)])
def test_fifty_degrees(equation, published):
    """1600 to 1650 degC: 11570 as read in Suito and Inoue 1984; 22350 recalled (arithmetic
    only).
    """
    assert BY_NAME["hotter"].solve(1600.0, 50.0, equation) == pytest.approx(published, abs=0.006)


def test_sign_lost_in_a_scan():
    """Tetsu-to-Hagane 72 (1986) 225 is read as +16.08. As printed about 5e-19 % P would stay; with
    the minus L_P is 274 on the course's slag.
    """
    slag = {"cao_pct": 45.0, "mgo_pct": 8.0, "feo_pct": 23.4, "p2o5_pct": 2.0}
    line, left = BY_NAME["sign"].solve(**slag, temp_c=1600.0)
    assert line == 2 and 2.0 * 0.43638 / left == pytest.approx(274, rel=0.01)
    slip = next(s for s in BY_NAME["sign"].slips if s.key == "as_printed")
    assert 1e-19 < slip.after(left, {}) < 1e-18
    # what the sentence to the fourth line says: so many grams in a heat of 180 t
    assert 180e6 * slip.after(left, {}) / 100 == pytest.approx(1e-12, rel=0.9)


def test_phosphorus_returned_by_killed_slag():
    """Own balance: 2 % P2O5 is 0.873 % P, so each kg per t gives back 8.7 ppm; 10 kg/t 87 ppm."""
    assert BY_NAME["reversion"].solve(10.0, 2.0, 100.0) == pytest.approx(87.3, abs=0.1)


@pytest.mark.parametrize(("temp_c", "in_metal"), [(1600.0, 0.086), (1650.0, 0.112)])
def test_manganese_of_park_and_dzo(temp_c, in_metal):
    """Park and Dzo, Korean J. Met. Mater., abstract, 1550 to 1700 degC; kMn as we read it. Slag of
    our own, all iron as FetO 23.4.
    """
    slag = {"cao_pct": 45.0, "mgo_pct": 8.0, "feto_pct": 23.4, "mno_pct": 5.0, "sio2_pct": 14.0}
    found = BY_NAME["manganese"].solve(**slag, p2o5_pct=2.0, temp_c=temp_c)
    assert found == pytest.approx(in_metal, abs=0.0006)


def test_sulphur_with_and_without_the_slag_left_on():
    """Own balance by hand: 0.2305 kg/t and 0.0805 kg/t over 1000 + 4 x 100: 0.0165 and 0.0058 %."""
    solve = BY_NAME["sulphur"].solve
    assert solve(900.0, 0.003, 0.0, 3.0, 0.0535, 100.0, 4.0) == pytest.approx(0.00575, abs=0.00005)


@pytest.mark.parametrize(
    ("slag", "temp_c", "published"),
    [
        ("pure iron oxide", 1600.0, 0.23),
        ("iron oxide saturated with MgO", 1600.0, 0.213),
        ("iron oxide saturated with CaO", 1600.0, 0.088),
    ],
)
def test_oxygen_lines(slag, temp_c, published):
    """0.23 % printed at webknox.com; Shim and Ban-ya, Tetsu-to-Hagane 67 (1981) 1745, and Hara and
    others, 78 (1992) 551: their formulas evaluated.
    """
    assert BY_NAME["oxygen"].solve(slag, temp_c) == pytest.approx(published, abs=0.003)


# ---- what the lesson says of trust ---------------------------------------------------------------


@pytest.fixture(scope="module")
def panel():
    """The panel with the heat of Heron Works at 1650 degC."""
    made = make_panel("phosphorus_and_sulphur")
    assert made.settings["temp_c"] == 1650.0 and made.settings["feo_pct"] == pytest.approx(
        16.3, abs=0.3
    )
    return made


def test_spread_of_the_demo_heat(panel):
    """Own figures of the course, recomputed from the charge: 1650 degC, the five read equations
    part by a factor of 5.5 in % P, SI-c inside them. It was 4 with 46 % CaO in the slag: now there
    are 50, the bracket is 54, and SI-b, a logarithm of it, leaves the others farther behind.
    """
    heat = charge.solve().for_tap(1.0)
    phosphorus = heat.slag.element_kg()["P"] + 10.0 * heat.steel.analysis_pct["P"]
    found = {
        k: equilibrium(Slag(heat.slag.oxides_kg, 1650.0), 1000.0, phosphorus, k).metal_pct
        for k in ("SI-a", "SI-b", "SI-c")
    }
    with pytest.warns(UserWarning, match="1600"):  # the two of 1986 were measured up to 1600 degC
        found |= {
            k: equilibrium(Slag(heat.slag.oxides_kg, 1650.0), 1000.0, phosphorus, k).metal_pct
            for k in ("TTH72-1", "TTH72-2")
        }
    low, high, factor = spread(found)
    assert factor == pytest.approx(5.5, abs=0.3) and low < found["SI-c"] < high
    assert (
        high == found["SI-b"] and high < 0.012
    )  # even the cautious end lies below the works' own aim, which heats reach without equilibrium
    shown = panel.result
    assert shown.left["SI-c"] == pytest.approx(found["SI-c"], rel=0.03) and shown.spread[
        2
    ] == pytest.approx(factor, rel=0.03)


def test_the_read_equations_agree_on_the_effect_of_heat_the_recalled_ones_do_not():
    """b/T of L_P: SI-c 11570 and TTH72-2 12230 as read; in kP halves: 22810/2, 22240/2, 13980/2.
    Healy 22350 and Turkdogan 21740 recalled.
    """
    b = {
        k: partition(
            {"CaO": 46, "SiO2": 14, "FeO": 24, "MgO": 8, "P2O5": 2, "MnO": 4},
            1873.15,
            k,
            oxygen_pct=0.05,
        ).row
        for k in equations("P")
    }
    in_l = {k: row["b_k"] * (0.5 if row["quotient"] == "kP" else 1.0) for k, row in b.items()}
    assert all(abs(in_l[k] / 11500 - 1) < 0.07 for k in ("SI-a", "SI-b", "SI-c", "TTH72-2"))
    assert in_l["TTH72-1"] == pytest.approx(6990) and min(in_l["Healy"], in_l["Turkdogan"]) > 20000


def test_iron_oxide_thins_the_lime(panel):
    """At the same basicity SI-c leaves least phosphorus near 15 % FeO and about twice as much at 30
    as at 18 % (own figures); Basu and others, MMTB 38 (2007) 357, abstract, found no gain above 13
    to 14 % FeO in slags poor in FeO.
    """
    line = panel.result.along_feo[0]
    axis = np.linspace(10.0, 30.0, len(line))
    assert 13.0 <= axis[np.argmin(line)] <= 18.0
    assert line[-1] / line[np.argmin(abs(axis - 18.0))] == pytest.approx(1.8, abs=0.1)


def test_numbers_of_the_panel_name_what_is_recalled_and_what_fails(panel):
    rows = {row[0]: row for row in panel.numbers(panel.result)}
    assert (
        "not verified" in rows["Healy: phosphorus left"][3]
        and "read" in rows["SI-c: phosphorus left"][3]
    )
    assert "TTH72-1: temperature 1650 °C" in rows["TTH72-1: phosphorus left"][3]
    by_scale = [
        float(rows[f"L_S by optical basicity, scale {s}"][1])
        for s in ("pauling", "density", "recommended")
    ]
    assert (
        by_scale[-1] / by_scale[0] > 20
    )  # three published scales, one slag: no basis for a partition. 24 times with 20 % of iron
    # oxides; it was 37 with 24 %, for the scales part over that of iron oxide
    assert float(rows["sulphur left, L_S 8"][1]) < float(rows["sulphur left, L_S 3"][1])


def test_a_bad_heat_can_be_explained(panel):
    """0.035 % P, far above any equation: lumps, a short blow and slag in the ladle, each more, and
    the sum by hand: p = p_eq + (1 - way)(brought - p_eq), and what is carried over goes back.
    """
    seen = [panel.result.in_ladle]
    assert seen[0] == panel.result.left["SI-c"] and "lumps" not in panel.text
    for moved in ({"undissolved_pct": 15.0}, {"approach_pct": 60.0}, {"carried_kg_t": 8.0}):
        panel.set(**moved)
        seen.append(panel.result.in_ladle)
    assert seen == sorted(set(seen)) and seen[-1] > 0.03 > max(panel.result.left.values())
    p_eq, at = panel.result.end.metal_pct, panel.result.at
    tapped = p_eq + 0.40 * (at.p_kg_t / 10.0 - p_eq)
    back = 8.0 / panel.result.end.slag.mass_kg * (at.p_kg_t / 10.0 - tapped)
    assert panel.result.in_ladle == pytest.approx(tapped + back, rel=1e-9)
    lime = panel.result.here.oxides_kg
    assert lime["CaO"] / lime["SiO2"] == pytest.approx(0.85 * at.basicity)
    assert "8 kg/t of slag over" in panel.text
    panel.reset()
