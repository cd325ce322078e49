"""Panel of lesson 02: why does the process need no fuel? Heat of oxidation by element, temperature
and convention.
"""

from collections import namedtuple
from functools import partial

from matplotlib.lines import Line2D

from ... import thermo
from ...base import kelvin
from ...charge import other_data, oxidation_heat_by
from ...coursekit.panel import OWN, data_choice, style
from ...thermo import CONVENTIONS, oxidations, reaction

TITLE = "What does each element give when it burns?"
SIZE_PX = 820, 400
SHOWN = (
    "C to CO",
    "C to CO2",
    "Si to SiO2",
    "Mn to MnO",
    "P to 3CaO.P2O5",
    "Fe to FeO",
    "Al to Al2O3",
)
PER = {
    "kg": ("per kg of element", "MJ/kg", 42.0),
    "nm3": ("per Nm3 of oxygen", "MJ/Nm3", 60.0),
    "mol": ("per mol of element", "MJ/mol", 1.25),
}
NAMES = tuple(CONVENTIONS)


def controls(works):
    per = [(said, key) for key, (said, _, _) in PER.items()]
    return {"convention": {"choices": NAMES}, "per": {"choices": per}}


# Other published data that act on a heat of burning
OTHERS = (
    "carbon_all",
    "feo_line",
    "mno_line",
    "mno_perry",
    "phosphate_alpha",
    "phosphate_vapour",
    "phosphate_elements",
)
HELP = (
    "Heats of solution act where the element is dissolved; a line measured hot is brought to 25 "
    "°C with the kit's heat contents."
)


Shown = namedtuple("Shown", "heats per temp_c chosen")


def compute(works, convention, per, temp_c, data):
    """Heat given off, MJ, by reaction (in the order of SHOWN) and convention."""
    T = kelvin(temp_c)
    heat = thermo.oxidation_heat if data == OWN else partial(oxidation_heat_by, data)
    heats = {name: [heat(key, T, name, per) / 1e6 for key in SHOWN] for name in NAMES}
    return Shown(heats, per, temp_c, chosen=convention)


Artists = namedtuple("Artists", "ax bars dots texts")


def setup(fig):
    ax = fig.add_axes((0.17, 0.15, 0.57, 0.75))
    style.axes(ax, "", "", (0, 1), (len(SHOWN) - 0.4, -0.6), "Heat given off")
    ax.set_yticks(range(len(SHOWN)), SHOWN)
    ax.grid(axis="y", visible=False)
    bars = style.bars(ax, range(len(SHOWN)), [0] * len(SHOWN), numbers=[1] * len(SHOWN), alpha=0.75)
    dots = []
    for k, name in enumerate(NAMES):
        look = style.SERIES[(0, 2, 3, 4)[k]]
        (dot,) = ax.plot(
            [0] * len(SHOWN),
            range(len(SHOWN)),
            look.marker,
            color=look.colour,
            markeredgecolor=style.PAPER,
            markersize=8,
            animated=True,
        )
        dots.append(dot)
        fig.text(0.785, 0.8 - 0.11 * k, name.replace(", ", ",\n"), fontsize=9, va="center")
        fig.add_artist(_key_mark(fig, 0.765, 0.8 - 0.11 * k, look))
    fig.text(0.755, 0.9, "Marks: all conventions", fontsize=9, weight="bold", va="center")
    fig.text(0.755, 0.3, "Bar: the one chosen", fontsize=9, weight="bold", va="center")
    texts = [
        style.figures(ax, 0, k, "", va="center", ha="left", fontsize=9, color=style.INK)
        for k in range(len(SHOWN))
    ]
    return Artists(ax, bars, dots, texts)


def _key_mark(fig, x, y, look):
    return Line2D(
        [x],
        [y],
        marker=look.marker,
        color=look.colour,
        linestyle="",
        markersize=8,
        transform=fig.transFigure,
        figure=fig,
    )


def update(artists, record):
    for dot, name in zip(artists.dots, NAMES, strict=True):
        dot.set_xdata(record.heats[name])
    for k, (bar, text) in enumerate(zip(artists.bars, artists.texts, strict=True)):
        heat = record.heats[record.chosen][k]
        bar.set_width(heat)
        widest = max(record.heats[name][k] for name in NAMES)
        text.set_text(f"  {heat:.3g}")
        text.set_x(widest + 0.012 * PER[record.per][2])
    said, unit, limit = PER[record.per]
    artists.ax.set_xlim(0, limit)
    artists.ax.set_xlabel(f"heat given off {said}, {unit}")
    return record.per


def sentence(record):
    said, unit, _ = PER[record.per]
    co, co2, si = record.heats[record.chosen][:3]
    spread = [record.heats[name][0] for name in NAMES]
    at = "" if record.chosen == NAMES[0] else f" at {record.temp_c:.0f} °C"
    return (
        f"By the convention '{record.chosen}'{at}, {said}: carbon gives {co:.3g} {unit} to CO and "
        f"{co2:.3g} to CO2, silicon {si:.3g}; "
        f"the four conventions spread from {min(spread):.3g} to {max(spread):.3g} for C to CO."
    )


def moved(record):
    """What other data move: the heats of burning by the convention chosen, and the spread of the
    conventions for carbon.
    """
    unit, spread = PER[record.per][1], [record.heats[name][0] for name in NAMES]
    told = [
        (key, f"{heat:.4g} {unit}")
        for key, heat in zip(SHOWN, record.heats[record.chosen], strict=True)
    ]
    return [
        *told,
        ("C to CO over the conventions", f"{min(spread):.4g} to {max(spread):.4g} {unit}"),
    ]


def numbers(record):
    unit = PER[record.per][1]
    return [
        (f"{key}, {name}", f"{record.heats[name][k]:.3f}", unit)
        for k, key in enumerate(SHOWN)
        for name in NAMES
    ]


def alt(record):
    said, unit, _ = PER[record.per]
    heats = ", ".join(
        f"{key} {heat:.3g}" for key, heat in zip(SHOWN, record.heats[record.chosen], strict=True)
    )
    return (
        f"Horizontal bars of the heat given off {said} in {unit}, with marks for the other "
        f"conventions: {heats}."
    )


def sources(record):
    return [reaction(oxidations()[key]["dissolved"]) for key in SHOWN]


def data():
    others = ((other_data()[key]["what"], key) for key in OTHERS)
    return data_choice(others, "published heats that differ", HELP)
