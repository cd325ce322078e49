"""Problems of lesson 10: what does the lance do?"""

import numpy as np

from ...base import celsius, kelvin, rows, value
from ...coursekit.problems import Answer, Choice, Given, Problem, Slip, slip
from ...jet import LanceHead, design_head, expand, oxygen_kg_nm3, penetration, supply_for_flow_kpa

_PER_CENT = "one per cent covers the constant of choked flow and rounding on the way"
_AIR_KPA = value("normal_pressure") / 1000.0
_SUPPLY_C = 25.0
_CLEAN = (
    "Oxygen under pressure: oil, grease, dust and clothing burn in it like tinder. Fittings "
    "are kept clean and opened by trained hands only."
)


def _throat(flow_nm3_min, holes, supply_kpa):
    return design_head(flow_nm3_min, supply_kpa, holes).throat_mm


_THROAT = Problem(
    key="lance_and_jet.throat",
    title="How wide is the throat?",
    text="""A lance head with {holes} holes is to pass {flow_nm3_min} of oxygen at {supply_kpa} absolute and 25 °C. Each mm2 of choked throat passes
0.01034 Nm3/min for every bar of absolute supply pressure. How wide is the throat of each hole (diameter)?""",
    given=(
        Given(
            "flow_nm3_min",
            "oxygen flow",
            "Nm3/min",
            350,
            700,
            10,
            "2 to 4 Nm3 per minute and tonne",
            follows="oxygen.flow_nm3_min",
        ),
        Given("holes", "holes", "1", 3, 6, 1, "3 to 6 nozzles, a lecture note (NPTEL 113104059)"),
        Given(
            "supply_kpa",
            "supply pressure, absolute",
            "kPa",
            800,
            1300,
            50,
            "700 to 1400 kPa, common practice",
        ),
    ),
    answer=Answer("mm", _PER_CENT, tolerance_pct=1.0),
    solve=_throat,
    slips=(
        slip.forgot("holes", 1.0, "the holes: each passes only its share"),
        slip.times("radius", "This is the radius; the diameter is asked for.", 0.5),
        slip.times(
            "square",
            "You took the root of the area itself. A circle has the area π/4 · d²: divide by π/4 "
            "first.",
            float(np.sqrt(np.pi / 4.0)),
        ),
        Slip(
            "gauge_added",
            "You added the pressure of the air. {supply_kpa} is absolute already; only a gauge "
            "reading needs it.",
            change=lambda given: given | {"supply_kpa": given["supply_kpa"] + _AIR_KPA},
        ),
        Slip(
            "air_taken_off",
            "You took the pressure of the air off. A choked throat does not know what is behind "
            "it: use the absolute supply pressure.",
            change=lambda given: given | {"supply_kpa": given["supply_kpa"] - _AIR_KPA},
        ),
    ),
    hints=(
        "First find the throat area of all holes together: flow over 0.01034 and the pressure in "
        "bar.",
        "100 kPa are one bar. Divide the area by {holes:n} holes.",
        "Diameter = √(4/π × area of one hole), in mm.",
    ),
    worked="""Area of all throats: {flow_nm3_min:n} ÷ (0.01034 × {supply_kpa:n}/100) mm2. Divided by {holes:n}, times 4/π, and the root of it:
**{answer}**.""",
    cautions=(_CLEAN,),
)


def _ratio(supply_kpa):
    return expand(kelvin(_SUPPLY_C), pressure_ratio=_AIR_KPA / np.asarray(supply_kpa))


_EXIT = Problem(
    key="lance_and_jet.exit",
    title="How wide is the exit?",
    text="""Oxygen at {supply_kpa} absolute flows through a throat of {throat_mm} diameter and is to leave the nozzle at the pressure of the air,
101.3 kPa. How wide must the exit be (diameter)? For oxygen M = √(5 × ((p0/p)^(2/7) − 1)), and the area over that of the throat is (1/M) × ((1 + 0.2
M²)/1.2)³.""",
    given=(
        Given("throat_mm", "throat diameter", "mm", 25, 45, 1, "lances of 100 to 300 t vessels"),
        Given(
            "supply_kpa",
            "supply pressure, absolute",
            "kPa",
            700,
            1300,
            50,
            "700 to 1400 kPa, common practice",
        ),
    ),
    answer=Answer(
        "mm",
        "0.8 per cent covers rounding the Mach number to three figures, and cp of oxygen taken "
        "constant",
        tolerance_pct=0.8,
    ),
    solve=lambda throat_mm, supply_kpa: throat_mm * np.sqrt(_ratio(supply_kpa).area_ratio),
    slips=(
        Slip(
            "area_for_diameter",
            "You multiplied the diameter by the ratio of the areas; diameters go with the square "
            "root of it.",
            solve=lambda throat_mm, supply_kpa: (
                throat_mm * np.asarray(_ratio(supply_kpa).area_ratio)
            ),
        ),
        Slip(
            "mach_for_ratio",
            "You multiplied by the Mach number; the exit is wider by the root of the area ratio.",
            solve=lambda throat_mm, supply_kpa: throat_mm * np.asarray(_ratio(supply_kpa).mach),
        ),
        Slip(
            "air_taken_off",
            "You took the pressure of the air off: {supply_kpa} is absolute, and the ratio wants "
            "absolute pressures.",
            change=lambda given: given | {"supply_kpa": given["supply_kpa"] - _AIR_KPA},
        ),
        Slip(
            "gauge_added",
            "You added the pressure of the air: {supply_kpa} is absolute already.",
            change=lambda given: given | {"supply_kpa": given["supply_kpa"] + _AIR_KPA},
        ),
        Slip(
            "throat_ratio",
            "This is where the gas is at Mach 1: the pressure falls on behind the throat, so the "
            "exit is wider than the throat.",
            solve=lambda throat_mm, supply_kpa: throat_mm + 0.0 * supply_kpa,
        ),
    ),
    hints=(
        "Start with p0/p = {supply_kpa:n}/101.3 and find the Mach number.",
        "Put the Mach number into the second formula. What you get is a ratio of areas.",
        "Exit diameter = {throat_mm:n} × √(area ratio).",
    ),
    worked="""p0/p = {supply_kpa:n}/101.3 gives the Mach number by the first formula, the area ratio by the second; {throat_mm:n} mm times its root is
**{answer}**. A narrower exit leaves the gas under-expanded, a wider one over-expanded: both lose a little thrust.""",
)


def _cold(temp_c, supply_kpa):
    return celsius(expand(kelvin(temp_c), pressure_ratio=_AIR_KPA / np.asarray(supply_kpa)).T)


_COLD = Problem(
    key="lance_and_jet.cold",
    title="How cold does it leave?",
    text="""Oxygen of {temp_c} and {supply_kpa} absolute expands in the nozzle to 101.3 kPa without loss or heating. At what temperature does it
leave, in °C? For oxygen T/T0 = (p/p0)^(2/7).""",
    given=(
        Given(
            "temp_c", "oxygen in the pipe", "°C", 5, 40, 1, "pipes of a works, winter and summer"
        ),
        Given(
            "supply_kpa",
            "supply pressure, absolute",
            "kPa",
            700,
            1400,
            50,
            "700 to 1400 kPa, common practice",
        ),
    ),
    answer=Answer(
        "°C",
        "two degrees cover rounding the exponent, and cp of oxygen taken constant",
        tolerance_abs=2.0,
    ),
    solve=_cold,
    slips=(
        Slip(
            "celsius_in_ratio",
            "You multiplied {temp_c} itself by the ratio; the law holds for kelvin: add 273.15 "
            "first and take it off at the end.",
            solve=lambda temp_c, supply_kpa: (
                temp_c * np.asarray(_ratio(supply_kpa).temperature_ratio)
            ),
        ),
        Slip(
            "left_in_kelvin",
            "This is in kelvin; degrees Celsius are asked for.",
            after=lambda answer, given: answer + value("celsius_zero_k"),
        ),
        Slip(
            "ratio_upside_down",
            "You turned the ratio round: this gas would leave hotter than it came. Expansion "
            "cools.",
            solve=lambda temp_c, supply_kpa: celsius(
                kelvin(temp_c) / np.asarray(_ratio(supply_kpa).temperature_ratio)
            ),
        ),
        Slip(
            "exponent",
            "You took the exponent 0.4, which is γ − 1; with pressures it is (γ − 1)/γ = 2/7.",
            solve=lambda temp_c, supply_kpa: celsius(
                kelvin(temp_c) * (_AIR_KPA / np.asarray(supply_kpa)) ** 0.4
            ),
        ),
    ),
    hints=(
        "Turn {temp_c} into kelvin.",
        "Does a gas that expands become warmer or colder? The ratio of temperatures is below one.",
        "T = ({temp_c:n} + 273.15) × (101.3/{supply_kpa:n})^(2/7) K; then take off 273.15.",
    ),
    worked="""({temp_c:n} + 273.15) × (101.3/{supply_kpa:n})^(2/7) − 273.15 = **{answer}**. The heat of the gas has become speed, some 500 m/s.""",
)


def _reading(flow_nm3_min, holes, throat_mm):
    return (
        supply_for_flow_kpa(LanceHead(throat_mm, 1.4 * throat_mm, holes), flow_nm3_min) - _AIR_KPA
    )


def _reading_at(pressure_factor):
    return lambda answer, given: (answer + _AIR_KPA) * pressure_factor(given) - _AIR_KPA


_PRESSURE = Problem(
    key="lance_and_jet.gauge_reading",
    title="What must the gauge show?",
    text="""A head with {holes} holes of {throat_mm} throat diameter is to pass {flow_nm3_min} at 25 °C. Each mm2 of choked throat passes 0.01034
Nm3/min for every bar of absolute supply pressure. What must the pressure gauge at the lance show? It reads zero in air of 101.3 kPa.""",
    given=(
        Given(
            "flow_nm3_min", "oxygen flow", "Nm3/min", 400, 520, 5, "2 to 4 Nm3 per minute and tonne"
        ),
        Given("holes", "holes", "1", 4, 5, 1, "3 to 6 nozzles, a lecture note (NPTEL 113104059)"),
        Given(
            "throat_mm",
            "throat diameter",
            "mm",
            34,
            40,
            0.5,
            "with these holes and flows 600 to 1400 kPa absolute",
        ),
    ),
    answer=Answer("kPa", _PER_CENT, tolerance_pct=1.0, tolerance_abs=5.0),
    solve=_reading,
    slips=(
        Slip(
            "absolute",
            "This is the absolute pressure. The gauge shows 101.3 kPa less.",
            after=lambda answer, given: answer + _AIR_KPA,
        ),
        Slip(
            "added",
            "You added the pressure of the air; a gauge shows less than the absolute pressure.",
            after=lambda answer, given: answer + 2.0 * _AIR_KPA,
        ),
        Slip(
            "one_hole",
            "You counted the area of one hole; there are {holes:n}.",
            after=_reading_at(lambda given: given["holes"]),
        ),
        Slip(
            "diameter_as_radius",
            "You put the diameter into π r²: the area is π/4 · d².",
            after=_reading_at(lambda given: 0.25),
        ),
        Slip(
            "actual_volume",
            "You turned the Nm3 into m3 at 25 °C. The rule is for Nm3, counted at 0 °C whatever "
            "the gas is at.",
            after=_reading_at(
                lambda given: value("reference_temperature") / value("celsius_zero_k")
            ),
        ),
    ),
    hints=(
        "What is the throat area of all holes together, in mm2?",
        "Absolute pressure in bar = flow ÷ (0.01034 × area).",
        "Turn bar into kPa, then take off what the gauge does not see: the air.",
    ),
    worked="""Area: {holes:n} × π/4 × {throat_mm:n}² mm2. Absolute pressure: {flow_nm3_min:n} ÷ (0.01034 × area) bar, times 100 in kPa. The gauge
shows 101.3 kPa less: **{answer}**. Always write behind a pressure whether it is absolute or gauge.""",
    cautions=(_CLEAN,),
)

_DENSITY = next(row["value"] for row in rows("lance") if row["key"] == "metal_density")


def _momentum(flow_nm3_min, holes, speed_m_s, angle_deg, height_m):
    thrust = flow_nm3_min / holes * oxygen_kg_nm3() / 60.0 * speed_m_s
    return (
        thrust
        * np.cos(np.radians(angle_deg))
        / (_DENSITY * value("standard_gravity") * np.asarray(height_m) ** 3)
    )


_MOMENTUM = Problem(
    key="lance_and_jet.momentum_number",
    title="How hard is the blow?",
    text="""A lance blows {flow_nm3_min} through {holes} holes that lean outward by {angle_deg}°; the gas leaves at {speed_m_s}, fully expanded,
{height_m} above the bath. What is the momentum number of one jet, F cos a / (ρ g x³)? The thrust F is mass per second times speed. One Nm3 of oxygen
weighs 1.428 kg, the metal 7000 kg/m3, g = 9.81 m/s². Answer as a decimal such as 0.0042.""",
    given=(
        Given(
            "flow_nm3_min",
            "oxygen flow",
            "Nm3/min",
            350,
            650,
            10,
            "2 to 4 Nm3 per minute and tonne",
            follows="oxygen.flow_nm3_min",
        ),
        Given("holes", "holes", "1", 3, 6, 1, "3 to 6 nozzles, a lecture note (NPTEL 113104059)"),
        Given(
            "speed_m_s",
            "speed of the gas",
            "m/s",
            480,
            530,
            5,
            "full expansion from 900 to 1300 kPa",
        ),
        Given("angle_deg", "angle of the holes, in degrees", "1", 10, 18, 1, "8 to 20°, recalled"),
        Given("height_m", "lance height", "m", 1.3, 2.6, 0.1, "about 2 m, a lecture note"),
    ),
    answer=Answer("1", _PER_CENT, tolerance_pct=1.0),
    solve=_momentum,
    slips=(
        slip.forgot("holes", 1.0, "the holes: you took the thrust of all of them for one jet"),
        slip.times(
            "square",
            "You divided by the square of the height; it stands in the third power.",
            lambda given: given["height_m"],
        ),
        slip.times("minute", "Your mass flow is per minute; the thrust wants it per second.", 60.0),
        slip.times(
            "volume",
            "You took one Nm3 for one kg; oxygen weighs 1.428 kg per Nm3.",
            lambda given: 1.0 / oxygen_kg_nm3(),
        ),
        slip.times(
            "gravity",
            "You left out g: ρ x³ is a mass, the force it stands for is ρ g x³.",
            value("standard_gravity"),
        ),
        slip.times(
            "radians",
            "Your calculator took the angle in radians; it is in degrees.",
            lambda given: np.cos(given["angle_deg"]) / np.cos(np.radians(given["angle_deg"])),
        ),
    ),
    hints=(
        "Mass flow of one hole: {flow_nm3_min:n} × 1.428 ÷ 60 ÷ {holes:n} kg/s.",
        "Thrust = mass flow × {speed_m_s:n} m/s, in newton; times the cosine of {angle_deg:n} "
        "degrees.",
        "Divide by 7000 × 9.81 × {height_m:n}³.",
    ),
    worked="""F = {flow_nm3_min:n} × 1.428/60/{holes:n} × {speed_m_s:n} N; times cos {angle_deg:n}°, over 7000 × 9.81 × {height_m:n}³: **{answer}**.
There is no published figure at which soft ends and hard begins: compare with the number of your usual blow.""",
)


_HARDER = Problem(
    key="lance_and_jet.harder",
    title="Lance down, pressure down",
    text="""The lance comes down from {from_m} to {to_m} while the oxygen flow is cut from {from_nm3_min} to {to_nm3_min}. Take the speed at the exit
as unchanged, so that the thrust goes with the flow. By what factor does the momentum number F cos a / (ρ g x³) change?""",
    given=(
        Given("from_m", "height before", "m", 2.0, 2.6, 0.1, "lance high, slag forming"),
        Given("to_m", "height after", "m", 1.3, 1.8, 0.1, "lance low"),
        Given(
            "from_nm3_min",
            "flow before",
            "Nm3/min",
            500,
            600,
            10,
            "usual flow",
            follows="oxygen.flow_nm3_min",
        ),
        Given(
            "to_nm3_min",
            "flow after",
            "Nm3/min",
            380,
            460,
            10,
            "flow cut back",
            follows="oxygen.flow_nm3_min",
        ),
    ),
    answer=Answer("1", "one per cent covers rounding", tolerance_pct=1.0),
    solve=lambda from_m, to_m, from_nm3_min, to_nm3_min: (
        (from_m / to_m) ** 3 * to_nm3_min / from_nm3_min
    ),
    slips=(
        Slip(
            "forgot_flow",
            "You left out the flow, which is cut back.",
            change=lambda given: given | {"to_nm3_min": given["from_nm3_min"]},
        ),
        slip.times(
            "square",
            "You squared the heights; the height stands in the third power.",
            lambda given: given["to_m"] / given["from_m"],
        ),
        slip.upside_down(
            "You turned it round: a lower lance blows harder, so the factor is more than the flow "
            "alone would give."
        ),
        slip.times(
            "flow_squared",
            "You squared the flows too. At unchanged speed the thrust goes with the flow itself.",
            lambda given: given["to_nm3_min"] / given["from_nm3_min"],
        ),
    ),
    hints=(
        "Which of the quantities in the formula change, and with what power?",
        "The thrust falls as {to_nm3_min:n}/{from_nm3_min:n}.",
        "Factor = ({from_m:n}/{to_m:n})³ × {to_nm3_min:n}/{from_nm3_min:n}.",
    ),
    worked="""({from_m:n}/{to_m:n})³ × {to_nm3_min:n}/{from_nm3_min:n} = **{answer}**. Height wins over flow because it counts three times.""",
)


def _depths(throat_mm, supply_kpa, height_m):
    flow = LanceHead(throat_mm, 1.4 * np.asarray(throat_mm), 1, 0.0).flow(supply_kpa)
    return penetration(flow, height_m)


def _spread(**given):
    p = _depths(**given)
    return np.asarray(p.flinn_m) / p.koria_lange_m


_SPREAD = Problem(
    key="lance_and_jet.two_formulas",
    title="Two formulas for one dent",
    text="""One vertical hole of {throat_mm} throat, fed with {supply_kpa} absolute, stands {height_m} above the bath. Two formulas are recalled for
the depth of the dent, in m (p in kPa, d and x in m). Flinn: 0.03467 p d/√x + 0.0381. Koria and Lange: 4.469 x (F/(68 650 x³))^0.66 with F = 785.4 d²
(1.27 p − 101.3) N. By what factor is the depth by Flinn larger than that by Koria and Lange?""",
    given=(
        Given("throat_mm", "throat diameter", "mm", 28, 42, 1, "lances of 100 to 300 t vessels"),
        Given(
            "supply_kpa",
            "supply pressure, absolute",
            "kPa",
            800,
            1200,
            50,
            "700 to 1400 kPa, common practice",
        ),
        Given("height_m", "lance height", "m", 1.4, 2.6, 0.1, "about 2 m, a lecture note"),
    ),
    answer=Answer("1", "two per cent cover rounding of the coefficients", tolerance_pct=2.0),
    solve=_spread,
    slips=(
        slip.upside_down(
            "You divided the smaller depth by the larger; the factor asked for is Flinn over Koria "
            "and Lange."
        ),
        Slip(
            "mean",
            "This is the mean of the two depths. A mean of two formulas that disagree so much is "
            "no better than either: give the factor between them.",
            solve=lambda **given: (
                0.5 * (np.asarray(_depths(**given).flinn_m) + _depths(**given).koria_lange_m)
            ),
        ),
        Slip(
            "difference",
            "This is the difference of the depths in m; the factor between them is asked for.",
            solve=lambda **given: (
                np.asarray(_depths(**given).flinn_m) - _depths(**given).koria_lange_m
            ),
        ),
        slip.times(
            "no_height",
            "You left out the height in front of the bracket of Koria and Lange.",
            lambda given: np.asarray(given["height_m"]),
        ),
        slip.times(
            "square_root",
            "You took the bracket of Koria and Lange to the power 0.5 instead of 0.66.",
            lambda given: _bracket(**given) ** (0.66 - 0.5),
        ),
    ),
    hints=(
        "Turn {throat_mm} into m first; the pressure stays in kPa.",
        "Flinn: 0.03467 × {supply_kpa:n} × d/√{height_m:n} + 0.0381.",
        "Koria and Lange: find F, divide by 68 650 × {height_m:n}³, take it to the power 0.66, "
        "times 4.469 × {height_m:n}.",
    ),
    worked="""With d in m: Flinn 0.03467 × {supply_kpa:n} d/√{height_m:n} + 0.0381; Koria and Lange 4.469 × {height_m:n} × (785.4 d² (1.27 ×
{supply_kpa:n} − 101.3)/(68 650 × {height_m:n}³))^0.66. Flinn gives **{answer}** times as much. Both formulas are recalled, not read; nobody should
print a depth from either to two figures.""",
)


def _bracket(throat_mm, supply_kpa, height_m):
    depth = np.asarray(_depths(throat_mm, supply_kpa, height_m).koria_lange_m)
    return (depth / (4.469 * np.asarray(height_m))) ** (1.0 / 0.66)


def _leaves(design_kpa, supply_kpa):
    head = design_head(100.0, design_kpa, 1, 0.0)
    flow = head.flow(supply_kpa)
    words = np.asarray(flow.expansion)
    return np.where(
        words == "under-expanded", 1.0, np.where(words == "over-expanded", 2.0, 3.0)
    ), flow.exit_kpa


_EXPANSION = Problem(
    key="lance_and_jet.expansion",
    title="Another pressure, the same nozzle",
    text="""A nozzle is made for full expansion to 101.3 kPa at {design_kpa} absolute. Today it is fed with {supply_kpa} absolute. How does the oxygen
leave, and at what pressure?""",
    given=(
        Given(
            "design_kpa",
            "pressure it is made for, absolute",
            "kPa",
            850,
            1200,
            50,
            "700 to 1400 kPa, common practice",
        ),
        Given(
            "supply_kpa",
            "pressure today, absolute",
            "kPa",
            600,
            1500,
            50,
            "a weak or a strong supply",
        ),
    ),
    answer=Choice(
        ordered=True,
        options=(
            "under-expanded: it leaves above the pressure of the air and goes on expanding outside",
            "over-expanded: it leaves below the pressure of the air and is squeezed outside",
            "matched: it leaves at the pressure of the air",
        ),
        sentences=(
            "Under-expanded means too much pressure for this exit: the supply is above what the "
            "nozzle was made for.",
            "Over-expanded means too little pressure for this exit: the supply is below what the "
            "nozzle was made for.",
            "The nozzle can't adapt: its shape fixes the ratio of the pressures, so only one "
            "supply pressure is matched.",
        ),
        number=Answer("kPa", "one per cent covers rounding", tolerance_pct=1.0),
    ),
    solve=_leaves,
    slips=(
        Slip(
            "ratio_upside_down",
            "You turned the ratio round: more supply pressure gives more exit pressure.",
            solve=lambda design_kpa, supply_kpa: _AIR_KPA * np.asarray(design_kpa) / supply_kpa,
        ),
        Slip(
            "always_air",
            "You let the gas leave at the pressure of the air. Inside a supersonic nozzle the gas "
            "can't feel what is outside.",
            solve=lambda design_kpa, supply_kpa: _AIR_KPA + 0.0 * np.asarray(supply_kpa),
        ),
        Slip(
            "difference",
            "You shifted the exit pressure by as many kPa as the supply. It is the ratio that the "
            "shape keeps.",
            solve=lambda design_kpa, supply_kpa: _AIR_KPA + np.asarray(supply_kpa) - design_kpa,
        ),
    ),
    hints=(
        "What does the shape of the nozzle fix: the exit pressure, or its ratio to the supply?",
        "At {design_kpa:n} kPa the ratio is 101.3/{design_kpa:n}. It is the same today.",
        "Exit pressure = 101.3 × {supply_kpa:n}/{design_kpa:n}; compare it with 101.3.",
    ),
    worked="""The area ratio fixes p/p0 = 101.3/{design_kpa:n}. Today the exit stands at 101.3 × {supply_kpa:n}/{design_kpa:n} = **{answer}**, which
is line {line}.""",
    plausible=lambda answer, design_kpa, supply_kpa: (
        np.abs(np.asarray(supply_kpa) / design_kpa - 1.0) > 0.12
    ),
)


_PUBLISHED = Problem(
    key="lance_and_jet.published_nozzles",
    title="Which published nozzle does not fit?",
    text="""A patent application (US 2014/0367499) prints four oxygen nozzles by supply pressure, flow and throat radius. The pressure is taken as
absolute, and the oxygen as {temp_c}: neither is stated. A choked throat passes 0.01034 Nm3/min per mm2 and bar at 25 °C; from 25 to {temp_c} that
changes by less than 2 %. The radii are printed in whole mm. Which line can't be right?""",
    given=(
        Given(
            "temp_c",
            "oxygen temperature",
            "°C",
            15,
            25,
            1,
            "pipes of a works; the source does not say",
        ),
    ),
    answer=Choice(
        options=(
            "4 bar, 20 Nm3/min: throat radius 12 mm",
            "4 bar, 200 Nm3/min: throat radius 39 mm",
            "14 bar, 20 Nm3/min: throat radius 6 mm",
            "14 bar, 200 Nm3/min: throat radius 21 mm",
        ),
        sentences=(
            "Its throat passes 18.7 Nm3/min. A radius of 12.4 mm would give 20, which is 12 in "
            "whole mm.",
            "This one fits within one per cent.",
            "Yes. It passes about 16.5 Nm3/min; 20 need a radius of 6.6 mm, which is 7 in whole "
            "mm.",
            "This one fits within two per cent.",
        ),
    ),
    solve=lambda temp_c: 3,
    hints=(
        "Flow = 0.01034 × π r² × pressure in bar. Do it for each line.",
        "Which radius would give the flow printed, and what is it in whole mm?",
    ),
    worked="""0.01034 π r² p at 25 °C gives, at 4 bar, 18.7 (12 mm) and 198 Nm3/min (39 mm); at 14 bar 16.4 (6 mm) and 200.5 (21 mm). Line
{line}: 20 Nm3/min at 14 bar need 6.6 mm. Whether a rounding, a
slip or another temperature is behind it the text does not say. One check by hand finds it.""",
    vector=False,
)


PROBLEMS = (_THROAT, _EXIT, _COLD, _PRESSURE, _MOMENTUM, _HARDER, _SPREAD, _EXPANSION, _PUBLISHED)
