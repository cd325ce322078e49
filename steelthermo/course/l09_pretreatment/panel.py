"""Panel of lesson 09: should this hot metal be treated first? Sulphur on its way to the steel, and
what the treatment costs and saves per t of steel.
"""

from collections import namedtuple

import numpy as np

from ... import hot_metal
from ...base import InputError, minus
from ...coursekit.panel import style
from ...heats import treatment
from ...hot_metal import desulphurise, into_vessel, oxidise, product_factor
from ...streams import LiquidMetal
from ...works import plant_value, works_facts
from ..common import as_rows, heat_data, hot_metal_pct, key_of
from ..pictures import Rows, axes, doubled, logarithmic, made_of

SIZE_PX = 1080, 390
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
SHARES = (
    ("a usual value", "start"),
    ("the lowest usual value", "low"),
    ("the highest usual value", "high"),
    ("that of your works, set below", "own"),
)
SILICON_PCT, PHOSPHORUS_PCT = 0.15, 0.03  # left of them (trade page: silicon below 0.15 %)
# What is taken out before sulphur: its name, and CaO/SiO2 of that slag, the kit's choice
# (phosphorus needs lime)
FIRST = {
    "none": ("nothing", 0.0),
    "si": (f"silicon, down to {SILICON_PCT:g} %", 1.0),
    "si_p": (f"silicon to {SILICON_PCT:g} % and phosphorus to {PHOSPHORUS_PCT:g} %", 2.5),
}
HOTTEST_C = 1500.0  # hot metal for the vessel, see charge.solve()
MGS = "zhouhan95"  # another published constant of magnesium with sulphur
HEATS = (
    "carbon_all",
    "feo_tables",
    "silicate_line",
    "silicate_hp11",
    "phosphate_vapour",
    "mno_perry",
    "slag_solid",
    "slag_compounds",
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
ADDED = {  # what a sentence calls the reagents
    "magnesium": "magnesium",
    "lime_powder": "lime",
    "carbide": "calcium carbide of 80 %",
    "carbide_lime": "carbide of 52 % with lime",
}
FACTS = "hot metal", "desulphurisation", "magnesium", "carbide", "silicon and phosphorus"
SMALLEST = 10.0  # of the axis of differences


def controls(works):
    left = plant_value("slag_left_pct")
    return {
        "reagent": {"choices": REAGENTS},
        "slag_left_pct": {"low": left.low, "high": left.high, "default": left.start},
        "first": {"choices": [(label, key) for key, (label, _) in FIRST.items()]},
        "efficiency": {"choices": SHARES},
        "own_pct": {"used": lambda settings: settings["efficiency"] == "own"},
        "ore_pct": {"used": lambda settings: settings["first"] != "none"},
    }


def efficiency_pct(key, at):
    """The share of a reagent that reacts, %, where the controls stand."""
    return at.own_pct if at.efficiency == "own" else getattr(plant_value(key), at.efficiency)


Shown = namedtuple("Shown", "at metal stages dose comparison paths change eta_pct usual change_c")


def compute(works, at):
    """The treatment, stage by stage, and the same steel made with it and without it."""
    shares, key, method = REAGENTS[at.reagent]
    eta_pct, left = efficiency_pct(key, at), {"slag_left_pct": at.slag_left_pct}
    metal = LiquidMetal(1000.0, hot_metal_pct(works, at), at.temp_c)
    if at.aim_pct >= at.s_pct:
        raise InputError(
            f"Sulphur aimed at: {at.aim_pct:g} % was given; the hot metal holds {at.s_pct:g} %, so "
            "the aim must lie below that."
        )
    stages, now = (), metal
    if at.first != "none":
        aims_pct = {"Si": SILICON_PCT} | ({"P": PHOSPHORUS_PCT} if at.first == "si_p" else {})
        solid = {"basicity": FIRST[at.first][1], "solid_share_pct": at.ore_pct, "works": works}
        stages = (oxidise(metal, aims_pct, **solid, **left),)
        now = stages[0].metal
        if now.temp_c > HOTTEST_C:
            raise InputError(
                f"Oxygen brought as ore: with {at.ore_pct:g} % the metal would reach "
                f"{now.temp_c:.0f} °C; more ore keeps it below {HOTTEST_C:g} °C."
            )
    f, by = (product_factor(MGS), None) if at.data == MGS else (1.0, key_of(at.data))
    dose = hot_metal.dose(now, at.aim_pct, shares, {next(iter(shares)): eta_pct}, f)
    stages += (desulphurise(now, dose, f_product=f, method=method, **left),)
    limits = {"steel_s_max_pct": at.limit_pct, "works": works, "by": by}
    comparison = hot_metal.compare(metal, stages, **limits)
    treated, vessel = stages[-1].metal, into_vessel(stages[-1])
    without_s, with_s = comparison.steel_s_pct
    between = (metal.analysis_pct["S"] for metal in (treated, vessel))
    paths = [at.s_pct] * 3 + [without_s], [at.s_pct, *between, with_s]
    return Shown(
        at,
        metal,
        stages,
        dose,
        comparison,
        paths,
        [comparison.per_t[name][1] - comparison.per_t[name][0] for name, _, _ in ITEMS],
        eta_pct,
        plant_value(key),
        treated.temp_c - at.temp_c,
    )


def _sulphur(fig):
    ends = -0.15, 3.15
    ax = axes(
        fig,
        (0.1, 0.17, 0.31, 0.735),
        "",
        "sulphur, % (logarithmic)",
        ends,
        (0.0008, 0.1),
        "Sulphur on its way to the steel",
    )
    logarithmic(ax, "y", [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1], "{:.3f}")
    ax.set_xticks(range(len(PLACES)), PLACES, fontsize=9)
    x = np.arange(4.0)
    lines = [style.line(ax, n, x, x + 1.0, markevery=1) for n in (1, 0)]
    limit = style.line(ax, 2, ends, [0.012, 0.012], marks=0)
    labels = style.EndLabels(ax, [*lines, limit], ["", "", ""], fontsize=9)

    def show(record):
        limit.set_ydata([record.at.limit_pct] * 2)
        said = [f"allowed {record.at.limit_pct:.3f}"]
        for line, path, name in zip(lines, record.paths, ("untreated", "treated"), strict=True):
            line.set_ydata(path)
            said.insert(-1, f"{name} {path[-1]:.4f}")
        for text, words in zip(labels.texts, said, strict=True):
            text.set_text(words)
        labels.place()

    return show


def _differences(fig):
    names, title = [label for _, label, _ in ITEMS], "Treated minus untreated"
    place, label = (0.69, 0.17, 0.285, 0.735), "kg, oxygen Nm3, per t of steel"
    limits, look = (-SMALLEST, SMALLEST), {"fontsize": 9, "thickness": 0.6}
    rows = Rows(fig, place, label, limits, title, names, **look)
    rows.ax.axvline(0.0, color=style.INK, linewidth=1.0)

    def show(record):
        width = doubled(SMALLEST, np.max(np.abs(record.change)), 0.66)
        rows.ax.set_xlim(-width, width)
        rows.show(record.change, _signed)
        return width

    return show


setup, update = made_of(_sulphur, _differences)


def _signed(number):
    """A difference with its sign, one place, two below one."""
    shown = f"{number:+.{2 if abs(number) < 0.995 else 1}f}"
    return "0" if float(shown) == 0.0 else minus(shown)


def _reagents(record):
    """What is added, in words, per t of hot metal."""
    return " and ".join(f"{kg:.2f} kg/t {ADDED[key]}" for key, kg in record.dose.kg.items())


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
        f"{before:.4f} %, allowed is {record.at.limit_pct:.3f} %: {words}."
        f"{_phosphorus(record)}"
    )


def _phosphorus(record):
    """What its removal spares the slag of the vessel; nothing where none is removed."""
    if record.at.first != "si_p":
        return ""
    before, after = record.comparison.partition_needed
    left = record.stages[0].metal.analysis_pct["P"]
    return (
        f" With {left:.3f} % P left, the slag of the vessel must hold {after:.0f} times the "
        f"phosphorus of the steel instead of {before:.0f} times."
    )


def moved(record):
    """What other data move: the dose, and scrap and hot metal of both heats."""
    before, after = zip(
        *(record.comparison.per_t[name] for name in ("scrap", "hot metal bought")), strict=True
    )
    return [
        *((ADDED[key], f"{kg:.3f} kg per t of hot metal") for key, kg in record.dose.kg.items()),
        *as_rows(f"""
        scrap untreated | {before[0]:.1f} kg/t
        scrap treated | {after[0]:.1f} kg/t
        hot metal bought more for the treated heat | {after[1] - before[1]:.2f} kg/t
        """),
    ]


def _money(record):
    """Rows of what the treatment costs and saves; none where nothing has a price."""
    works = record.comparison.without.plan.works
    money = treatment(record.comparison, record.at.limit_pct, works)
    if not money.items:
        return []
    unit = f"{money.currency}/t"
    without = f"not counted: {', '.join(money.unpriced)}" if money.unpriced else "per t of steel"
    return [
        ("money: what the treatment costs", f"{money.cost:+.2f}", unit, without),
        ("money: sulphur beyond the limit that it saves", f"{money.saved:+.2f}", unit),
        ("money: gain by the treatment", f"{money.gain:+.2f}", unit, "above zero it pays"),
    ]


def numbers(record):
    c, last = record.comparison, record.stages[-1].metal
    low, high = zip(*c.partition_published, strict=True)
    rows = [
        (f"{ADDED[key]} per t of hot metal", f"{kg:.3f}", "kg/t", "dose")
        for key, kg in record.dose.kg.items()
    ]
    rows += [
        (
            "magnesium left dissolved",
            f"{last.analysis_pct.get('Mg', 0.0):.4f}",
            "%",
            "upper bound: activity coefficients 1",
        ),
        *as_rows(f"""
        sulphur after the treatment | {last.analysis_pct["S"]:.4f} | % | {record.dose.rests_on}
        sulphur with what the slag left on brings back | {record.paths[1][2]:.4f} | % |
        silicon after the treatment | {last.analysis_pct["Si"]:.3f} | % |
        phosphorus after the treatment | {last.analysis_pct["P"]:.3f} | % |
        temperature after the treatment | {last.temp_c:.0f} | °C |
        """),
        (
            "steel: sulphur untreated, treated",
            f"{c.steel_s_pct[0]:.4f}, {c.steel_s_pct[1]:.4f}",
            "%",
            "by the works' own share of the sulphur that the vessel slag takes",
        ),
    ]
    for name, label, unit in ITEMS:
        both = ", ".join(f"{x:.2f}" for x in c.per_t[name])
        rows.append((f"{label}: untreated, treated", both, f"{unit}/t", "per t of steel"))
    rows += _money(record)
    rows += [
        (
            "phosphorus partition needed: untreated, treated",
            f"{c.partition_needed[0]:.0f}, {c.partition_needed[1]:.0f}",
            "",
            "",
        ),
        (
            "the published equations allow",
            f"{low[0]:.0f} to {high[0]:.0f}, {low[1]:.0f} to {high[1]:.0f}",
            "",
            "lowest and highest equation",
        ),
    ]
    assumed = {plant_value(key): x for stage in record.stages for key, x in stage.assumed.items()}
    return rows + [(v.what, f"{x:g}", v.unit, "plant value") for v, x in assumed.items()]


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
        f"a line at the {record.at.limit_pct:.3f} % allowed. Right: bars of what the treated heat "
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
        *(key for _, key, _ in REAGENTS.values()),
        *(key for shares, _, _ in REAGENTS.values() for key in shares),
        *map(works_facts, FACTS),
    )


def data():
    return heat_data(*HEATS, more=(("magnesium with sulphur by another constant", MGS),))
