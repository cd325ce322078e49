"""The vessel of lesson 11 cut open, at the time of the cursor: what lies in it, to scale by mass
and density. How high the foam stands nobody computes: its trend alone is drawn.
"""

import numpy as np

from ...base import kelvin, quietly
from ...blow import foam_trend
from ...coursekit.panel import style
from ...slag import density_rule
from ...thermo import density_kg_m3
from ..section import FOAM, METAL, SLAG, Layer, Marks, Names, jets, lance, metre, section, vessel

_MEAN_FOAM = (
    0.3  # of the room over the slag, in which the mean of the blow is drawn: our own choice
)
_LUMP_KG, _SCRAP_KG, _BUBBLE_NM3_MIN = 80.0, 900.0, 20.0  # what a mark stands for
_MOST = 60
_ASIDE_DEG = 12.0  # of the jets, as lesson 10 starts


def of_run(runs, which):
    """What lies in the vessel along the time of one run of many: arrays by name."""
    slag = {oxide: kg[which] for oxide, kg in runs.slag.oxides_kg.items()}
    with quietly():  # a drawing: cold slag and metal count as if they were liquid
        slag_t = kelvin(np.maximum(runs.slag.temp_c[which], 1450.0))
        heavy = density_rule({o: np.maximum(kg, 1e-6) for o, kg in slag.items()}, slag_t)
        metal = density_kg_m3(kelvin(runs.temp_c[which]))
        foam = foam_trend(runs)[which]
    return {
        "metal_kg": runs.steel.mass_kg[which],
        "slag_kg": runs.slag.mass_kg[which],
        "lumps_kg": runs.lumps.mass_kg[which],
        "scrap_kg": runs.scrap_left.mass_kg[which],
        "metal_m3": runs.steel.mass_kg[which] / metal,
        "slag_m3": runs.slag.mass_kg[which] / heavy,
        "gas_nm3_min": sum(gas[which] for gas in runs.gas_nm3_min.values()),
        "lance_m": np.broadcast_to(runs.height_m, runs.temp_c.shape)[which],
        "foam": foam,
    }


def levels(body, now):
    """The heights, m, to which metal, slag and foam (as it is drawn) reach in a body."""
    metal = body.level_m(now["metal_m3"])
    slag = body.level_m(now["metal_m3"] + now["slag_m3"])
    return metal, slag, slag + (body.height_m[-1] - slag) * min(_MEAN_FOAM * now["foam"], 1.0)


def chart_for(tap_t):
    """The chart of a vessel for so many t of steel."""
    body = vessel(tap_t)
    high, widest = body.height_m[-1], body.radius_m.max()

    def chart(fig):
        ax = section(fig, (0.0, 0.02, 1.0, 0.88), body, -0.14 * high, 1.22 * high, "")
        metre(ax, -widest, -0.12 * high)
        title = style.figures(fig, 0.02, 0.94, "", weight="bold", fontsize=10.5)
        foam, slag, metal = (Layer(ax, body, **look) for look in (FOAM, SLAG, METAL))
        scrap = Marks(ax, body, _MOST, "s", style.INK, markersize=6)
        bubbles = Marks(ax, body, _MOST, "o", style.PAPER, markersize=4)
        lumps = Marks(ax, body, _MOST, "D", style.PAPER, markersize=4, markeredgecolor=style.INK)
        blown = [jets(ax) for _ in (-1, 1)]
        pipe, names = lance(ax, 0.05 * high), Names(ax, body, 7)

        def show(record):
            now, at_m = record.vessel, levels(body, record.vessel)
            bath, liquid, top = at_m
            title.set_text(f"In the vessel at {record.at:.1f} min")
            metal.show(0.0, bath)
            slag.show(bath, liquid)
            foam.show(liquid, top)
            scrap.show(now["scrap_kg"] / _SCRAP_KG, 0.0, 0.6 * bath)
            bubbles.show(now["gas_nm3_min"] / _BUBBLE_NM3_MIN, 0.0, bath)
            lumps.show(now["lumps_kg"] / _LUMP_KG, bath, max(liquid, bath + 0.04 * high))
            tip, aside = bath + now["lance_m"], now["lance_m"] * np.tan(np.radians(_ASIDE_DEG))
            pipe.set_y(tip)
            for sign, jet in zip((-1, 1), blown, strict=True):
                jet.set_data([0.0, sign * aside], [tip, bath])
            names.show(_named(record, body, at_m))

        return show

    return chart


def _named(record, body, at_m):
    """What the names say and where what they name lies."""
    now, (bath, liquid, top) = record.vessel, at_m
    side = 0.9 * body.radius_at(0.5 * bath)
    lumps, scrap = now["lumps_kg"] / 1000.0, now["scrap_kg"] / 1000.0
    mouth, temp_c = body.height_m[-1], record.now["temperature"]
    return (
        (f"gas (bubbles)\n{now['gas_nm3_min']:.0f} Nm3/min", 0.0, 1.03 * mouth),
        (f"lance {now['lance_m']:.1f} m\nover the bath", 0.0, bath + now["lance_m"]),
        ("foam: a trend,\nno height", side, 0.5 * (liquid + top)) if top - liquid > 0.1 else None,
        (f"lumps of lime\n{lumps:.1f} t", side, liquid) if lumps > 0.05 else None,
        (f"slag {now['slag_kg'] / 1000.0:.1f} t", side, 0.5 * (bath + liquid)),
        (f"metal {now['metal_kg'] / 1000.0:.0f} t,\n{temp_c:.0f} °C", side, 0.6 * bath),
        (f"scrap left\n{scrap:.0f} t", side, 0.25 * bath) if scrap > 0.5 else None,
    )


def alt(record):
    """The drawing in words."""
    now = record.vessel
    return (
        f"At the right the vessel cut open at {record.at:.1f} min: the lance "
        f"{now['lance_m']:.1f} m over {now['metal_kg'] / 1000.0:.0f} t of metal, in which "
        f"{now['scrap_kg'] / 1000.0:.0f} t of scrap lie unmelted; {now['slag_kg'] / 1000.0:.1f} t "
        f"of slag with {now['lumps_kg'] / 1000.0:.1f} t of lime in lumps; foam {now['foam']:.1f} "
        f"times its mean, a trend; {now['gas_nm3_min']:.0f} Nm3/min of gas at the mouth."
    )
