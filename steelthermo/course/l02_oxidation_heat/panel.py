"""Panel of lesson 02: why does the process need no fuel? Heat of oxidation by element, temperature
and convention.
"""

from collections import namedtuple
from functools import partial

import numpy as np
from matplotlib.lines import Line2D

from ... import thermo
from ...base import kelvin, translated
from ...charge import other_data, oxidation_heat_by
from ...coursekit.panel import OWN, data_choice, style
from ...thermo import CONVENTIONS, oxidations, reaction
from ..pictures import Rows, dot, made_of

TITLE = "What does each element give when it burns?"
SIZE_PX = 1080, 390
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
    "feo_tables",
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


Shown = namedtuple("Shown", "at heats chosen spread unit")


def compute(works, at):
    """Heat given off, MJ, by reaction (in the order of SHOWN) and convention; by the one chosen; of
    carbon to CO by all.
    """
    T = kelvin(at.temp_c)
    heat = thermo.oxidation_heat if at.data == OWN else partial(oxidation_heat_by, at.data)
    heats = {name: [heat(key, T, name, at.per) / 1e6 for key in SHOWN] for name in NAMES}
    carbon = [found[0] for found in heats.values()]
    chosen = dict(zip(SHOWN, heats[at.convention], strict=True))
    return Shown(at, heats, chosen, (min(carbon), max(carbon)), PER[at.per][1])


def _heats(fig):
    many = range(len(SHOWN))
    place = 0.17, 0.15, 0.57, 0.75
    rows = Rows(fig, place, "", (0, 1), "Heat given off", SHOWN, [1] * 7, 9, alpha=0.75)
    dots = {}
    for k, (name, number) in enumerate(zip(NAMES, (0, 2, 3, 4), strict=True)):
        look, y = style.SERIES[number], 0.8 - 0.11 * k
        dots[name] = dot(rows.ax, number, look.marker, markeredgecolor=style.PAPER)
        mark = {"marker": look.marker, "color": look.colour, "markersize": 8, "linestyle": ""}
        fig.add_artist(Line2D([0.765], [y], transform=fig.transFigure, figure=fig, **mark))
        fig.text(0.785, y, translated(name).replace(", ", ",\n"), fontsize=9, va="center")
    for y, text in ((0.9, "Marks: all conventions"), (0.3, "Bar: the one chosen")):
        fig.text(0.755, y, text, fontsize=9, weight="bold", va="center")

    def show(record):
        said, unit, limit = PER[record.at.per]
        rows.ax.set(xlim=(0, limit), xlabel=f"heat given off {said}, {unit}")
        for name, heats in record.heats.items():
            dots[name].set_data(heats, many)
        widest = np.max(list(record.heats.values()), axis=0)
        rows.show(record.chosen.values(), "  {:.3g}", widest)
        return record.at.per

    return show


setup, update = made_of(_heats)


def sentence(record):
    said, unit, _ = PER[record.at.per]
    co, co2, si = (record.chosen[key] for key in SHOWN[:3])
    at = "" if record.at.convention == NAMES[0] else f" at {record.at.temp_c:.0f} °C"
    return (
        f"By the convention '{record.at.convention}'{at}, {said}: carbon gives {co:.3g} {unit} to "
        f"CO and {co2:.3g} to CO2, silicon {si:.3g}; the four conventions spread from "
        f"{record.spread[0]:.3g} to {record.spread[1]:.3g} for C to CO."
    )


def moved(record):
    """What other data move: the heats of burning by the convention chosen, and the spread of the
    conventions for carbon.
    """
    low, high = record.spread
    return [
        *((key, f"{heat:.4g} {record.unit}") for key, heat in record.chosen.items()),
        ("C to CO over the conventions", f"{low:.4g} to {high:.4g} {record.unit}"),
    ]


def numbers(record):
    return [
        (f"{key}, {name}", f"{record.heats[name][k]:.3f}", record.unit)
        for k, key in enumerate(SHOWN)
        for name in NAMES
    ]


def alt(record):
    heats = ", ".join(f"{key} {heat:.3g}" for key, heat in record.chosen.items())
    return (
        f"Horizontal bars of the heat given off {PER[record.at.per][0]} in {record.unit}, with "
        f"marks for the other conventions: {heats}."
    )


def sources(record):
    return [reaction(oxidations()[key]["dissolved"]) for key in SHOWN]


def data():
    others = ((other_data()[key]["what"], key) for key in OTHERS)
    return data_choice(others, "published heats that differ", HELP)
