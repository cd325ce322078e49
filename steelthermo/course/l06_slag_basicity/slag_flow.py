"""Second panel of lesson 06: how stiff, how heavy and how hot is the slag? Three bands, for no one
value could be checked.
"""

from collections import namedtuple

import numpy as np

from ... import charge
from ...base import kelvin, molar_mass
from ...coursekit.panel import style
from ...slag import VISCOSITIES, density_band, heat_contents, relative_viscosity, viscosity
from ...streams import to_pct
from ...thermo import heat_capacity

TITLE = "How stiff, how heavy, how hot? ({works.name})"
SIZE_PX = 820, 320
TEMPS = np.linspace(1500.0, 1720.0, 23)
NAMES = {"riboud": "Riboud*", "urbain": "Urbain*"}
HEATS = {
    "solid oxides": "oxides, lime solid",
    "as compounds": "compounds",
    "lime and magnesia melted": "lime melted",
    "recalled line": "recalled*",
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
    "Shown",
    "slag temp_c heats thicker viscosity density heat works_slag slag_kg_t degrees",
)


def compute(given, temp_c, basicity, iron_oxides_pct, solids_pct):
    """Viscosity, density and heat content along the temperature axis (last point: at temp_c)."""
    _, usual, pct = given
    slag = _slag(pct, basicity, iron_oxides_pct)
    T = kelvin(np.append(TEMPS, temp_c))
    thicker = relative_viscosity(solids_pct / 100.0)
    heats = {name: values / 1000.0 for name, values in heat_contents(slag, T).items()}
    low, high = np.min(list(heats.values()), axis=0), np.max(list(heats.values()), axis=0)
    steel_mj_t_c = heat_capacity("Fe", kelvin(temp_c), "liquid", supercooled=True) / molar_mass(
        "Fe"
    )
    return Shown(
        slag,
        temp_c,
        heats,
        thicker,
        viscosity={name: viscosity(slag, T, name) * thicker for name in VISCOSITIES},
        density=density_band(slag, T),
        heat=(low, high),
        works_slag=usual,
        slag_kg_t=usual.mass_kg,
        degrees=usual.mass_kg * (high[-1] - low[-1]) / steel_mj_t_c,
    )


Artists = namedtuple("Artists", "bands stiff hot labels cursors")


def setup(fig):
    left, middle, right = (
        fig.add_axes((x, 0.17, width, 0.69))
        for x, width in ((0.075, 0.18), (0.415, 0.19), (0.68, 0.16))
    )
    span = (TEMPS[0], TEMPS[-1])
    style.axes(left, "temperature, °C", "Pa s", span, (0.002, 2.0), "Viscosity")
    left.set_yscale("log")
    left.set_yticks([0.01, 0.1, 1.0], ["0.01", "0.1", "1"])
    left.minorticks_off()
    style.axes(middle, "temperature, °C", "kg per m3", span, (2500, 3500), "Density*")
    style.axes(right, "temperature, °C", "MJ per kg", span, (1.0, 3.2), "Heat above 25 °C")
    for ax in (left, middle, right):
        ax.set_xticks([1500, 1600, 1700])
    bands = [
        ax.fill_between(
            TEMPS,
            1.0,
            2.0,
            facecolor=style.GRID,
            edgecolor=style.HALO,
            linewidth=0.8,
            animated=True,
        )
        for ax in (left, middle, right)
    ]
    dashed = {"marks": 0, "linestyle": (0, (4, 2))}
    stiff = [style.line(left, n, TEMPS, 0 * TEMPS + 0.1, **dashed) for n in (0, 1)]
    hot = [
        style.line(
            right, n, TEMPS, 0 * TEMPS + 2.0, **(dashed if NAME.endswith("*") else {"marks": 0})
        )
        for n, NAME in enumerate(HEATS.values())
    ]
    labels = [
        style.EndLabels(left, stiff, [NAMES[v] for v in VISCOSITIES], fontsize=8.5),
        style.EndLabels(right, hot, list(HEATS.values()), fontsize=8.5),
    ]
    cursors = [
        ax.plot(
            [1600, 1600],
            [0, 1],
            color=style.INK,
            linestyle=":",
            linewidth=1.0,
            transform=ax.get_xaxis_transform(),
            animated=True,
        )[0]
        for ax in (left, middle, right)
    ]
    fig.text(0.99, 0.985, "* recalled, not checked", ha="right", va="top", fontsize=8.5)
    return Artists(bands, stiff, hot, labels, cursors)


def update(artists, record):
    a = artists
    along = [record.viscosity[v][:-1] for v in VISCOSITIES]
    edges = [
        (np.min(along, axis=0), np.max(along, axis=0)),
        *((low[:-1], high[:-1]) for low, high in (record.density, record.heat)),
    ]
    for band, (low, high) in zip(a.bands, edges, strict=True):
        band.set_data(TEMPS, low, high)
    for line, values in zip(a.stiff, along, strict=True):
        line.set_ydata(values)
    for line, name in zip(a.hot, HEATS, strict=True):
        line.set_ydata(record.heats[name][:-1])
    for labels in a.labels:
        labels.place()
    for cursor in a.cursors:
        cursor.set_xdata([record.temp_c, record.temp_c])


def _here(record):
    """(low, high) of viscosity, density and heat content at the temperature chosen."""
    both = [float(record.viscosity[v][-1]) for v in VISCOSITIES]
    return (
        (min(both), max(both)),
        tuple(float(x[-1]) for x in record.density),
        tuple(float(x[-1]) for x in record.heat),
    )


def sentence(record):
    stiff, heavy, hot = _here(record)
    return (
        f"At {record.temp_c:.0f} °C two recalled formulas give a viscosity of {stiff[0]:.2g} and "
        f"{stiff[1]:.2g} Pa s, a factor of {stiff[1] / stiff[0]:.0f}: "
        f"neither could be checked. Density some {heavy[0]:.0f} to {heavy[1]:.0f} kg/m3. A kg of "
        f"slag holds {hot[0]:.1f} to {hot[1]:.1f} MJ by four ways of "
        f"counting; for {record.slag_kg_t:.0f} kg per t of steel the difference is worth "
        f"{record.degrees:.0f} degrees of the bath."
    )


def numbers(record):
    stiff, heavy, hot = _here(record)
    pct = to_pct(record.slag)
    return [
        *(
            (f"viscosity, {name}", f"{record.viscosity[key][-1]:.2g}", "Pa s", "recalled")
            for key, name in NAMES.items()
        ),
        ("highest over lowest", f"{stiff[1] / stiff[0]:.0f}", ""),
        (
            "solids thicken it by a factor of",
            f"{record.thicker:.2f}",
            "",
            "1 + 2.5 x share of volume",
        ),
        (
            "density",
            f"{heavy[0]:.0f} to {heavy[1]:.0f}",
            "kg/m3",
            "recalled volumes, 5 % to each side",
        ),
        *(
            (f"heat content, {name}", f"{values[-1]:.2f}", "MJ/kg")
            for name, values in record.heats.items()
        ),
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
