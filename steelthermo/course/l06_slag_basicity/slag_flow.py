"""Second panel of lesson 06: how stiff, how heavy and how hot is the slag? Three bands, for no one
value could be checked.
"""

from collections import namedtuple

import numpy as np

from ... import charge
from ...base import kelvin, molar_mass, worst
from ...coursekit.panel import style
from ...slag import VISCOSITIES, density_band, heat_contents, relative_viscosity, viscosity
from ...streams import Slag, to_pct
from ...thermo import heat_capacity
from ..common import as_rows
from ..pictures import axes, band, cursor, logarithmic, made_of

TITLE = "How stiff, how heavy, how hot? ({works.name})"
SIZE_PX = 1080, 330
TEMPS = np.linspace(1500.0, 1720.0, 23)
NAMES = {"riboud": "Riboud*", "urbain": "Urbain*"}
HEATS = {
    "solid oxides": "oxides, lime solid",
    "as compounds": "compounds",
    "liquid slag": "liquid slag",
    "course line": "line of a works",
}
SHOWN = ("CaO", "SiO2", "FeO", "Fe2O3", "MgO", "MnO", "P2O5", "Al2O3")


def given(works):
    """The works, the slag of its usual charge per t of steel, and its analysis in mass %."""
    slag = charge.solve(works).for_tap(1.0).slag
    return works, slag, to_pct({o: kg for o, kg in slag.oxides_kg.items() if o in SHOWN})


def controls(given):
    _, _, pct = given
    return {"iron_oxides_pct": {"default": pct["FeO"] + pct["Fe2O3"]}}


def _slag(pct, basicity, iron_oxides_pct):
    """The works' slag with another basicity and other iron oxides, mass %: what is neither lime,
    silica nor iron oxide stays.
    """
    iron = iron_oxides_pct / (pct["FeO"] + pct["Fe2O3"])
    out = dict(pct) | {"FeO": pct["FeO"] * iron, "Fe2O3": pct["Fe2O3"] * iron}
    rest = 100.0 - sum(p for o, p in out.items() if o not in ("CaO", "SiO2"))
    return out | {"CaO": rest * basicity / (1.0 + basicity), "SiO2": rest / (1.0 + basicity)}


Shown = namedtuple(
    "Shown", "at slag heats thicker viscosity density heat works_slag slag_kg_t degrees doubt_mj_kg"
)


def compute(given, at):
    """Viscosity, density and heat content along the temperature axis (last point: at temp_c)."""
    _, usual, pct = given
    slag = _slag(pct, at.basicity, at.iron_oxides_pct)
    T = kelvin(np.append(TEMPS, at.temp_c))
    thicker = relative_viscosity(at.solids_pct / 100.0)
    heats = {name: values / 1000.0 for name, values in heat_contents(slag, T).items()}
    low, high = _edges(heats)
    steel = heat_capacity("Fe", kelvin(at.temp_c), "liquid", supercooled=True) / molar_mass("Fe")
    return Shown(
        at,
        slag,
        heats,
        thicker,
        {name: viscosity(slag, T, name) * thicker for name in VISCOSITIES},
        density_band(slag, T),
        (low, high),
        usual,
        usual.mass_kg,
        usual.mass_kg * (high[-1] - low[-1]) / steel,
        Slag({o: p / 100.0 for o, p in slag.items()}, at.temp_c).melting_kj()[1] / 1000.0,
    )


def _edges(ways):
    """The lowest and the highest of several ways of counting."""
    many = list(ways.values())
    return np.min(many, axis=0), np.max(many, axis=0)


def _against_temperature(x, width, label, limits, title, edges, names=(), lines=dict):
    """A chart against temperature: the band between edges(record), a line for each of lines(record)
    with its name, dashed where it is not verified, and the temperature chosen.
    """

    def chart(fig):
        span = TEMPS[0], TEMPS[-1]
        ax = axes(fig, (x, 0.17, width, 0.69), "temperature, °C", label, span, limits, title)
        ax.set_xticks([1500, 1600, 1700])
        if title == "Viscosity":
            logarithmic(ax, "y", [0.01, 0.1, 1.0])
        grey, upright = band(ax), cursor(ax)
        drawn = {}
        for n, (key, name) in enumerate(names):
            dash = (0, (4, 2)) if "*" in name else style.SERIES[n].dash
            drawn[key] = style.line(ax, n, TEMPS, 0 * TEMPS + 1.0, marks=0, linestyle=dash)
        labels = style.EndLabels(ax, drawn.values(), [name for _, name in names], fontsize=8.5)

        def show(record):
            low, high = edges(record)
            grey.set_data(TEMPS, low[:-1], high[:-1])
            for key, line in drawn.items():
                line.set_ydata(lines(record)[key][:-1])
            labels.place()
            upright.set_xdata([record.at.temp_c] * 2)

        return show

    return chart


def _footnote(fig):
    fig.text(0.99, 0.985, "* checked against no measured slag", ha="right", va="top", fontsize=8.5)
    return lambda record: None


setup, update = made_of(
    _against_temperature(
        0.075, 0.18, "Pa s", (0.002, 2.0), "Viscosity",
        lambda record: _edges(record.viscosity), NAMES.items(), lambda record: record.viscosity,
    ),
    _against_temperature(
        0.415, 0.19, "kg per m3", (2500, 3500), "Density*", lambda record: record.density
    ),
    _against_temperature(
        0.68, 0.16, "MJ per kg", (1.0, 3.2), "Heat above 25 °C",
        lambda record: record.heat, HEATS.items(), lambda record: record.heats,
    ),
    _footnote,
)  # fmt: skip


def _here(record):
    """(low, high) of viscosity, density and heat content at the temperature chosen."""
    pairs = _edges(record.viscosity), record.density, record.heat
    return [(float(low[-1]), float(high[-1])) for low, high in pairs]


def sentence(record):
    stiff, heavy, hot = _here(record)
    return (
        f"At {record.at.temp_c:.0f} °C two formulas give a viscosity of "
        f"{stiff[0]:.2g} "
        f"and {stiff[1]:.2g} Pa s, a factor of {stiff[1] / stiff[0]:.0f}: "
        f"neither could be checked. Density some {heavy[0]:.0f} to {heavy[1]:.0f} kg/m3. A kg of "
        f"liquid slag holds {record.heats['liquid slag'][-1]:.2f} MJ, with a doubt of "
        f"{record.doubt_mj_kg:.2f}; "
        f"{hot[0]:.1f} to {hot[1]:.1f} by four ways of "
        f"counting. For {record.slag_kg_t:.0f} kg per t of steel the difference is worth "
        f"{record.degrees:.0f} degrees of the bath."
    )


def numbers(record):
    stiff, heavy, hot = _here(record)
    pct = to_pct(record.slag)
    weakest = worst("molar volume")
    volumes = f"{weakest.what}: {weakest.status}"
    return [
        *(
            (f"viscosity, {name}", f"{record.viscosity[key][-1]:.2g}", "Pa s", worst(key).status)
            for key, name in NAMES.items()
        ),
        *as_rows(f"""
        highest over lowest | {stiff[1] / stiff[0]:.0f} |
        solids thicken it by a factor of | {record.thicker:.2f} |  | 1 + 2.5 x share of volume
        density | {heavy[0]:.0f} to {heavy[1]:.0f} | kg/m3 | 10 % to each side; {volumes}
        """),
        *(
            (f"heat content, {name}", f"{values[-1]:.2f}", "MJ/kg")
            for name, values in record.heats.items()
        ),
        ("its standard uncertainty, liquid slag", f"{record.doubt_mj_kg:.2f}", "MJ/kg"),
        (
            "width of the band of heat",
            f"{record.slag_kg_t * (hot[1] - hot[0]):.0f}",
            "MJ/t",
        ),
        *((oxide, f"{pct[oxide]:.1f}", "%") for oxide in SHOWN if oxide in pct),
    ]


def alt(record):
    stiff, heavy, hot = _here(record)
    return (
        "Three pictures against temperature, 1500 to 1720 °C, each with a grey band: viscosity on "
        f"a logarithmic scale falls, {stiff[0]:.2g} to {stiff[1]:.2g} "
        f"Pa s here; density {heavy[0]:.0f} to {heavy[1]:.0f} kg/m3, nearly level; heat above 25 "
        f"°C rises, {hot[0]:.1f} to {hot[1]:.1f} MJ/kg here by four "
        "ways of counting."
    )


def sources(record):
    return (
        "riboud",
        "urbain",
        "molar volume",
        "solids in liquid",
        "heat content line",
        record.works_slag,
    )


def data():
    return "Both formulas and all four ways of counting the heat are drawn at once."
