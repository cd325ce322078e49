"""Panel of lesson 09: should this hot metal be treated first? Sulphur on its way to the steel, and
what the treatment costs and saves per t of steel.
"""

from collections import namedtuple

import numpy as np

from ... import hot_metal
from ...base import InputError
from ...coursekit.panel import style
from ...hot_metal import desulphurise, into_vessel, oxidise, product_factor
from ...streams import LiquidMetal
from ...works import plant_value
from ..common import heat_data, key_of

SIZE_PX = 820, 400
# Reagents offered: parts by mass, the plant value of the efficiency, how they are brought in
REAGENTS = {
    "magnesium with lime": (
        {"magnesium": 1.0, "lime_powder": 4.0},
        "mg_efficiency_pct",
        "injection",
    ),
    "magnesium alone": ({"magnesium": 1.0}, "mg_efficiency_pct", "injection"),
    "calcium carbide": ({"carbide": 1.0}, "carbide_efficiency_pct", "injection"),
    "carbide and lime": ({"carbide_lime": 1.0}, "carbide_efficiency_pct", "injection"),
    "lime, stirred in": ({"lime_powder": 1.0}, "lime_efficiency_pct", "stirring"),
}
SILICON_PCT, SILICON_SLAG = (
    0.15,
    1.0,
)  # left by its removal (trade page: below 0.15 %); CaO/SiO2 of that slag, the kit's choice
HOTTEST_C = 1500.0  # hot metal for the vessel, see charge.solve()
MGS = "zhouhan95"  # another published constant of magnesium with sulphur
HEATS = (
    "carbon_all",
    "feo_line",
    "silicate_line",
    "silicate_hp11",
    "phosphate_vapour",
    "mno_perry",
    "slag_solid",
    "slag_melted",
)  # of the vessel
PLACES = ("hot metal", "after the\ntreatment", "into the\nvessel", "steel")
# What is shown of a Comparison: name in per_t, on the picture, unit
ITEMS = (
    ("hot metal bought", "hot metal", "kg"),
    ("scrap", "scrap", "kg"),
    ("lime", "lime", "kg"),
    ("slag", "slag", "kg"),
    ("oxygen", "oxygen", "Nm3"),
    ("reagents", "reagents", "kg"),
    ("iron drawn off with slag", "iron drawn off", "kg"),
)
SMALLEST = 10.0  # of the axis of differences


def controls(works):
    left = plant_value("slag_left_pct")
    return {
        "reagent": {"choices": REAGENTS},
        "slag_left_pct": {"low": left.low, "high": left.high, "default": left.start},
        "silicon": {"choices": (("no", False), (f"yes, down to {SILICON_PCT:g} %", True))},
        "ore_pct": {"used": lambda settings: settings["silicon"]},
    }


def efficiency_pct(key, place):
    """The efficiency at a place in its usual range: 0 lowest, 50 start value, 100 highest."""
    known = plant_value(key)
    return float(np.interp(place, [0.0, 50.0, 100.0], [known.low, known.start, known.high]))


Shown = namedtuple(
    "Shown",
    "metal stages dose reagent comparison paths change limit_pct eta_pct usual change_c",
)


def compute(
    works,
    s_pct,
    si_pct,
    temp_c,
    reagent,
    aim_pct,
    efficiency_place,
    slag_left_pct,
    limit_pct,
    silicon,
    ore_pct,
    data,
):
    """The treatment, stage by stage, and the same steel made with it and without it."""
    shares, key, method = REAGENTS[reagent]
    active = next(iter(shares))
    eta = {active: efficiency_pct(key, efficiency_place)}
    metal = LiquidMetal(1000.0, {**works.hot_metal.analysis_pct, "S": s_pct, "Si": si_pct}, temp_c)
    if aim_pct >= s_pct:
        raise InputError(
            f"Sulphur aimed at: {aim_pct:g} % was given; the hot metal holds {s_pct:g} %, so the "
            "aim must lie below that."
        )
    stages, now = (), metal
    if silicon:
        stages = (
            oxidise(
                metal,
                {"Si": SILICON_PCT},
                basicity=SILICON_SLAG,
                solid_share_pct=ore_pct,
                slag_left_pct=slag_left_pct,
                works=works,
            ),
        )
        now = stages[0].metal
        if now.temp_c > HOTTEST_C:
            raise InputError(
                f"Oxygen brought as ore: with {ore_pct:g} % the metal would reach {now.temp_c:.0f} "
                f"°C; more ore keeps it below {HOTTEST_C:g} °C."
            )
    f, by = (product_factor(MGS), None) if data == MGS else (1.0, key_of(data))
    dose = hot_metal.dose(now, aim_pct, shares, eta, f)
    stages += (desulphurise(now, dose, f_product=f, method=method, slag_left_pct=slag_left_pct),)
    comparison = hot_metal.compare(metal, stages, steel_s_max_pct=limit_pct, works=works, by=by)
    treated, vessel = stages[-1].metal, into_vessel(stages[-1])
    without_s, with_s = comparison.steel_s_pct
    paths = (
        np.array([s_pct, s_pct, s_pct, without_s]),
        np.array([s_pct, treated.analysis_pct["S"], vessel.analysis_pct["S"], with_s]),
    )
    change = np.array(
        [comparison.per_t[name][1] - comparison.per_t[name][0] for name, _, _ in ITEMS]
    )
    return Shown(
        metal,
        stages,
        dose,
        reagent,
        comparison,
        paths,
        change,
        limit_pct,
        eta_pct=eta[active],
        usual=plant_value(key),
        change_c=treated.temp_c - temp_c,
    )


Artists = namedtuple("Artists", "lines limit labels right bars texts")


def setup(fig):
    left = fig.add_axes((0.1, 0.17, 0.31, 0.735))
    style.axes(
        left,
        "",
        "sulphur, % (logarithmic)",
        (-0.15, 3.15),
        (0.0008, 0.1),
        "Sulphur on its way to the steel",
    )
    left.set_yscale("log")
    left.set_yticks(
        [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1],
        ["0.001", "0.002", "0.005", "0.010", "0.020", "0.050", "0.100"],
    )
    left.minorticks_off()
    left.set_xticks(range(len(PLACES)), PLACES, fontsize=9)
    x = np.arange(4.0)
    lines = [style.line(left, n, x, x + 1.0, markevery=1) for n in (1, 0)]
    limit = style.line(left, 2, [-0.15, 3.15], [0.012, 0.012], marks=0)
    labels = style.EndLabels(left, [*lines, limit], ["", "", ""], fontsize=9)

    right = fig.add_axes((0.69, 0.17, 0.285, 0.735))
    style.axes(
        right,
        "kg, oxygen Nm3, per t of steel",
        "",
        (-SMALLEST, SMALLEST),
        (len(ITEMS) - 0.4, -0.6),
        "Treated minus untreated",
    )
    right.set_yticks(range(len(ITEMS)), [label for _, label, _ in ITEMS])
    right.grid(axis="y", visible=False)
    right.axvline(0.0, color=style.INK, linewidth=1.0)
    bars = style.bars(
        right, range(len(ITEMS)), [0] * len(ITEMS), numbers=[0] * len(ITEMS), thickness=0.6
    )
    texts = [style.figures(right, 0, k, "", va="center", fontsize=9) for k in range(len(ITEMS))]
    return Artists(lines, limit, labels, right, bars, texts)


def update(artists, record):
    for line, path, text, name in zip(
        artists.lines, record.paths, artists.labels.texts, ("untreated", "treated"), strict=False
    ):
        line.set_ydata(path)
        text.set_text(f"{name} {path[-1]:.4f}")
    artists.limit.set_ydata([record.limit_pct, record.limit_pct])
    artists.labels.texts[2].set_text(f"allowed {record.limit_pct:.3f}")
    artists.labels.place()
    width = _nice(np.max(np.abs(record.change)))
    artists.right.set_xlim(-width, width)
    for bar, text, change in zip(artists.bars, artists.texts, record.change, strict=True):
        bar.set_width(change)
        text.set_text(_signed(change))
        text.set_x(change + (0.03 if change >= 0 else -0.03) * width)
        text.set_ha("left" if change >= 0 else "right")
    return width


def _nice(value):
    """Half width of the axis: the smallest, doubled as often as a bar and its number need."""
    return SMALLEST * 2.0 ** max(0, int(np.ceil(np.log2(max(value, 1e-9) / (0.66 * SMALLEST)))))


def _signed(number):
    """A difference with its sign, one place, two below one."""
    shown = f"{number:+.{2 if abs(number) < 0.995 else 1}f}".replace("-", "−")
    return "0" if float(shown.replace("−", "-")) == 0.0 else shown


def _reagents(record):
    """What is added, in words, per t of hot metal."""
    names = {
        "magnesium": "magnesium",
        "lime_powder": "lime",
        "carbide": "calcium carbide of 80 %",
        "carbide_lime": "carbide of 52 % with lime",
    }
    return " and ".join(f"{kg:.2f} kg/t {names[key]}" for key, kg in record.dose.kg.items())


def sentence(record):
    c, first = record.comparison, record.stages[-1]
    verb = "bring" if len(record.dose.kg) > 1 else "brings"
    before, after = c.steel_s_pct
    moved = f"{abs(record.change_c):.0f} °C {'colder' if record.change_c < 0 else 'hotter'}"
    words = {
        "needed": "treatment is needed",
        "not needed": "treatment is not needed",
        "your choice": "nothing forces it; what it saves and costs decides",
        "not enough": "treatment is not enough",
    }[c.verdict]
    return (
        f"{_reagents(record)} {verb} {record.metal.analysis_pct['S']:.3f} to "
        f"{first.metal.analysis_pct['S']:.4f} % S with {record.eta_pct:.0f} % reacting "
        f"(plant value, usual {record.usual.low:g} to {record.usual.high:g} %); the metal comes "
        f"{moved}. The steel holds {after:.4f} % S instead of "
        f"{before:.4f} %, allowed is {record.limit_pct:.3f} %: {words}."
    )


def moved(record):
    """What other data move: the dose, and scrap and hot metal of both heats."""
    before, after = zip(
        *(record.comparison.per_t[name] for name in ("scrap", "hot metal bought")), strict=True
    )
    return [
        *(
            (key.replace("_", " "), f"{kg:.3f} kg per t of hot metal")
            for key, kg in record.dose.kg.items()
        ),
        ("scrap untreated", f"{before[0]:.1f} kg/t"),
        ("scrap treated", f"{after[0]:.1f} kg/t"),
        ("hot metal bought more for the treated heat", f"{after[1] - before[1]:.2f} kg/t"),
    ]


def numbers(record):
    c, last = record.comparison, record.stages[-1]
    rows = [
        (f"{key.replace('_', ' ')} per t of hot metal", f"{kg:.3f}", "kg/t", "dose")
        for key, kg in record.dose.kg.items()
    ]
    rows += [
        (
            "magnesium left dissolved",
            f"{last.metal.analysis_pct.get('Mg', 0.0):.4f}",
            "%",
            "upper bound: activity coefficients 1",
        ),
        ("sulphur after the treatment", f"{last.metal.analysis_pct['S']:.4f}", "%", ""),
        ("sulphur with what the slag left on brings back", f"{record.paths[1][2]:.4f}", "%", ""),
        ("silicon after the treatment", f"{last.metal.analysis_pct['Si']:.3f}", "%", ""),
        ("temperature after the treatment", f"{last.metal.temp_c:.0f}", "°C", ""),
        (
            "steel: sulphur untreated, treated",
            f"{c.steel_s_pct[0]:.4f}, {c.steel_s_pct[1]:.4f}",
            "%",
            "vessel slag takes little: recalled partition",
        ),
    ]
    for name, label, unit in ITEMS:
        rows.append(
            (
                f"{label}: untreated, treated",
                f"{c.per_t[name][0]:.2f}, {c.per_t[name][1]:.2f}",
                f"{unit}/t",
                "per t of steel",
            )
        )
    low, high = zip(*c.partition_published, strict=True)
    rows.append(
        (
            "phosphorus partition needed: untreated, treated",
            f"{c.partition_needed[0]:.0f}, {c.partition_needed[1]:.0f}",
            "",
            "",
        )
    )
    rows.append(
        (
            "the published equations allow",
            f"{low[0]:.0f} to {high[0]:.0f}, {low[1]:.0f} to {high[1]:.0f}",
            "",
            "lowest and highest equation",
        )
    )
    for stage in record.stages:
        rows += [
            (plant_value(key).what, f"{x:g}", plant_value(key).unit, "plant value")
            for key, x in stage.assumed.items()
        ]
    return list(dict.fromkeys(rows))


def alt(record):
    untreated, treated = record.paths
    said = ", ".join(
        f"{label} {_signed(x)}" for (_, label, _), x in zip(ITEMS, record.change, strict=True)
    )
    return (
        "Left, on a logarithmic axis: sulphur in hot metal, after the treatment, into the vessel "
        "and in the steel; without treatment "
        f"{untreated[0]:.3f}, unchanged to the vessel, {untreated[3]:.4f}; with it "
        f"{treated[0]:.3f}, {treated[1]:.4f}, {treated[2]:.4f}, {treated[3]:.4f} %; "
        f"a line at the {record.limit_pct:.3f} % allowed. Right: bars of what the treated heat "
        f"takes more or less per t of steel: {said}."
    )


def closure(record):
    c = record.comparison

    def worst(parts):
        return max(abs(e) for p in parts for e in p.closure().values())

    return [
        ("Treatment", worst(record.stages)),
        ("Heat untreated", worst([c.without])),
        ("Heat treated", worst([c.treated])),
    ]


def sources(record):
    return (
        record.comparison,
        "sulphur_partition_converter",
        *(key for _, key, _ in REAGENTS.values()),
        *(key for shares, _, _ in REAGENTS.values() for key in shares),
    )


def data():
    return heat_data(*HEATS, more=(("magnesium with sulphur by another constant", MGS),))
