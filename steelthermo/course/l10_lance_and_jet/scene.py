"""The vessel of lesson 10 cut open: jets, cavity and bath to scale. The cavity is drawn by three
formulas, none of them verified. Slag and foam, through which the jets go, are left out.
"""

import numpy as np

from ...base import kelvin
from ...coursekit.panel import style
from ...thermo import density_kg_m3
from ..pictures import band
from ..section import METAL, Layer, Names, jets, lance, metre, section, vessel

DEPTHS = (
    ("flinn_m", "Flinn"),
    ("koria_lange_m", "Koria, Lange"),
    ("force_balance_m", "force balance"),
)
LOOKS, DASHED = (0, 1, 3), (0, (4, 2))  # all three depths are dashed: none is verified
_BATH_C = 1600.0  # of the metal that is drawn
_BOWL = np.linspace(-1.0, 1.0, 31)


def bath_of(tap_t):
    """The Body of a vessel and how deep its steel lies, m."""
    body = vessel(tap_t)
    return body, body.level_m(1000.0 * tap_t / density_kg_m3(kelvin(_BATH_C)))


def scene_for(tap_t):
    """The chart of a vessel for so many t of steel."""
    body, bath = bath_of(tap_t)
    high = body.height_m[-1]

    def chart(fig):
        place, title = (0.325, 0.02, 0.38, 0.9), "Jets and bath, to scale"
        ax = section(fig, place, body, -0.13 * high, 0.78 * high, title)
        metre(ax, -body.radius_m.max(), -0.1 * high)
        Layer(ax, body, animated=False, **METAL).show(0.0, bath)
        ring, cavity = [jets(ax) for _ in (-1, 1)], band(ax)
        cavity.set(facecolor=style.GRID, zorder=2)
        look = {"marks": 0, "linestyle": DASHED, "linewidth": 1.8, "zorder": 2.5}
        (hole,) = ax.fill([0.0], [0.0], facecolor=style.PAPER, animated=True, zorder=1.9)
        bowls = [style.line(ax, n, _BOWL, 0 * _BOWL, **look) for n in LOOKS]
        pipe, names = lance(ax, 0.24), Names(ax, body, 6)

        def show(record):
            jet, over = record.bath, record.at.height_m
            pipe.set_y(bath + over)
            for sign, line in zip((-1, 1), ring, strict=True):
                line.set_data([0.0, sign * jet.ring_radius_m], [bath + over, bath])
            across, shape = _BOWL * jet.dent_diameter_m / 2.0, _BOWL**2 - 1.0
            depths = [getattr(jet.penetration, name) for name, _ in DEPTHS]
            for bowl, depth in zip(bowls, depths, strict=True):
                bowl.set_data(across, bath + depth * shape)
            low, deep = jet.penetration.low_m, jet.penetration.high_m
            cavity.set_data(across, bath + deep * shape, bath + low * shape)
            top = np.full_like(across, bath + 0.01)
            hole.set_xy(np.column_stack([np.r_[across, across[::-1]],
                                         np.r_[bath + low * shape, top]]))  # fmt: skip
            wide = jet.dent_diameter_m
            bottoms = [
                (f"{name} {depth:.2f} m", 0.0, bath - depth)
                for depth, (_, name) in zip(depths, DEPTHS, strict=True)
            ]
            names.show([
                (f"lance {over:.2f} m\nover the bath", 0.0, bath + over),
                (f"cavity {wide:.1f} m\nwide", wide / 2.0, bath),
                *bottoms,
                (f"bath {bath:.1f} m\ndeep", body.radius_at(0.4 * bath), 0.3 * bath),
            ])  # fmt: skip

        return show

    return chart
