"""The ladle of lesson 14 cut open, to scale: the steel after waiting, what formed in it, the slag
that was carried over, and argon from the plug.
"""

from ...base import kelvin, quietly
from ...coursekit.panel import style
from ...ladle import stirring_power_w_t
from ...slag import density_rule
from ...thermo import density_kg_m3
from ..section import METAL, SLAG, Layer, Marks, Names, ladle, metre, section

ARGON_NM3_MIN = 0.4  # an ordinary flow
_COLDEST_C = 1560.0  # colder steel is not stirred any more
_FORMED_KG_T, _POWER_W_T = 0.05, 1.0  # what a mark stands for
_LIQUID_C = 1650.0  # of the slag, for its density


def hot_c(record):
    """Temperature, degC, at which the steel is stirred."""
    return max(record.temps[3], _COLDEST_C)


def steel_m3(steel, temp_c):
    """Volume of the steel of a ladle."""
    return steel.mass_kg / density_kg_m3(kelvin(temp_c))


def stirring_w_t(record, *vacuum_pa):
    """Power of the argon, W/t; the ladle is taken as deep as it is wide."""
    volume = steel_m3(record.steel, hot_c(record))
    deep = ladle(volume).level_m(volume)
    steel_t = record.steel.mass_kg / 1000.0
    return stirring_power_w_t(ARGON_NM3_MIN, steel_t, deep, hot_c(record), *vacuum_pa)


def chart_for(heat):
    """The chart of the ladle that a heat fills."""
    body = ladle(steel_m3(heat.steel, _LIQUID_C))
    high, widest = body.height_m[-1], body.radius_m[0]

    def chart(fig):
        place, title = (0.0, 0.02, 1.0, 0.88), "In the ladle, to scale"
        ax = section(fig, place, body, -0.45 * high, 1.25 * high, title)
        metre(ax, -widest, -0.4 * high)
        metal, slag = Layer(ax, body, **METAL), Layer(ax, body, **SLAG)
        look = {"facecolor": style.PAPER, "edgecolor": style.INK, "zorder": 3}
        ax.fill([-0.12, 0.12, 0.12, -0.12], [-body.wall_m, -body.wall_m, 0.0, 0.0], **look)
        bubbles = Marks(ax, body, 60, "o", style.PAPER, markersize=4)
        formed = Marks(ax, body, 60, "^", style.INK, markersize=4)
        names = Names(ax, body, 5)

        def show(record):
            bath, top = levels(body, record)
            metal.show(0.0, bath)
            slag.show(bath, top)
            bubbles.show(stirring_w_t(record) / _POWER_W_T, 0.0, bath)
            bubbles.line.set_xdata(0.4 * bubbles.line.get_xdata())  # they rise over the plug
            formed.show(formed_kg(record) / record.steel.mass_kg * 1000.0 / _FORMED_KG_T, 0.0, bath)
            names.show(_named(record, body, bath, top))

        return show

    return chart


def formed_kg(record):
    """Mass of the oxides formed."""
    return float(sum(record.stage.bath.oxides_kg.values()))


def levels(body, record):
    """Heights, m, to which steel and slag reach."""
    bath = steel_m3(record.steel, hot_c(record))
    slag = record.stage.outputs.get("slag")
    if slag is None:
        return body.level_m(bath), body.level_m(bath)
    with quietly():  # a drawing
        heavy = density_rule(slag.oxides_kg, kelvin(_LIQUID_C))
    return body.level_m(bath), body.level_m(bath + slag.mass_kg / heavy)


def _named(record, body, bath, top):
    """What the names say and where what they name lies."""
    side, slag = 0.9 * body.radius_m[0], record.stage.outputs.get("slag")
    oxygen = 1e4 * record.pct["O"]
    return (
        (f"slag {slag.mass_kg / 1000.0:.1f} t", side, 0.5 * (bath + top)) if slag else None,
        (
            f"steel {record.steel.mass_kg / 1000.0:.0f} t,\n{record.temps[3]:.0f} °C",
            side,
            0.7 * bath,
        ),
        (f"dissolved oxygen\n{oxygen:.0f} ppm", side, 0.5 * bath),
        (f"oxides formed\n{formed_kg(record):.0f} kg", side, 0.3 * bath),
        (
            f"argon, {stirring_w_t(record):.0f} W/t,\n{ARGON_NM3_MIN:g} Nm3/min",
            0.12,
            -0.5 * body.wall_m,
        ),
    )


def alt(record):
    """The drawing in words."""
    slag = record.stage.outputs.get("slag")
    carried = f"{slag.mass_kg / 1000.0:.1f} t of slag" if slag else "no slag"
    return (
        f"At the right the ladle cut open, to scale: {record.steel.mass_kg / 1000.0:.0f} t of "
        f"steel at {record.temps[3]:.0f} °C under {carried}, in it "
        f"{formed_kg(record):.0f} kg of oxides, "
        f"and argon from a plug that stirs with {stirring_w_t(record):.0f} W/t."
    )
