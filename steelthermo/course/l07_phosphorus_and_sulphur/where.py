"""Where phosphorus and lime of a tonne of metal are in the end: metal and slag cut open, with a
mark for each hundredth. Not to scale, for the slag is a thin layer.
"""

from ...coursekit.panel import style
from ..pictures import note
from ..section import METAL, Body, Layer, Marks, Names, section

_POT = Body((0.0, 1.0), (0.3, 0.3))
_BATH, _TOP = 0.42, 0.9  # where slag begins and ends


def shares(record):
    """kg per t of metal: phosphorus in metal and in slag, lime dissolved and in lumps."""
    at = record.at
    in_metal = 10.0 * record.tapped
    dissolved = record.here.oxides_kg["CaO"]
    lumps = dissolved * at.undissolved_pct / (100.0 - at.undissolved_pct)
    return in_metal, at.p_kg_t - in_metal, dissolved, lumps


def chart(fig):
    """The chart; see parted() of the pictures."""
    ax = section(fig, (0.0, 0.02, 1.0, 0.88), _POT, -0.35, 1.13, "Where it is in the end")
    note(ax, 0.02, 0.0, "a mark: 1 % of the phosphorus (rings)\nor of the lime (diamonds: lumps)")
    for low, high, look in ((0.0, _BATH, METAL), (_BATH, _TOP, {"facecolor": style.GRID})):
        Layer(ax, _POT, animated=False, **look).show(low, high)
    look = {"markersize": 5, "markeredgecolor": style.INK}
    rings = [Marks(ax, _POT, 100, "o", style.PAPER, **look) for _ in range(2)]
    lumps = Marks(ax, _POT, 100, "D", style.INK, markersize=5)
    names = Names(ax, _POT, 4)

    def show(record):
        metal, slag, dissolved, solid = shares(record)
        pct = 100.0 / record.at.p_kg_t
        rings[0].show(metal * pct, 0.0, _BATH)
        rings[1].show(slag * pct, _BATH, _TOP)
        lumps.show(100.0 * solid / (dissolved + solid), 0.5 * (_BATH + _TOP), _TOP)
        side = 0.9 * _POT.radius_m[0]
        lime = f"lumps of lime\n{solid:.1f} kg", side, 0.95 * _TOP
        names.show([
            lime if solid > 0.05 else None,
            (f"slag {record.at.slag_kg_t:.0f} kg, in it\n{dissolved:.0f} kg of lime", side, 0.75),
            (f"phosphorus in it\n{slag:.2f} kg, {slag * pct:.0f} %", side, 0.55),
            (f"in 1 t of metal\n{metal:.3f} kg, {metal * pct:.1f} %", side, 0.25),
        ])  # fmt: skip

    return show


def alt(record):
    """The drawing in words."""
    metal, slag, dissolved, solid = shares(record)
    return (
        f"At the right metal and slag cut open, not to scale: of the phosphorus of a tonne of "
        f"metal {metal:.3f} kg stay in the metal and {slag:.2f} kg lie in the slag; of its lime "
        f"{dissolved:.0f} kg are dissolved and {solid:.1f} kg lumps."
    )
