"""What the numbers of a blow are: rows of elements, oxides and gases, and what metal, slag and
their heat hold of them, declared once as weights of those rows. Records and integrator both
multiply
them. Amounts are kmol unless named otherwise; arrays end in (instants, heats).
"""

import numpy as np

from ..base import atomic_weight, formula, molar_mass
from ..thermo import burning, elements_with, forms, share_lime

ELEMENTS = (*elements_with(), "O", "N", "H")  # of the metal
CATIONS = tuple(  # of the slag, iron apart
    e for e in burning() if e not in ("C", "Fe", *elements_with(stays="yes"))
)
EXCHANGED = ("Mn", "P", "Cr")  # shared out between slag and metal
GASES = ("CO", "CO2", "N2", "Ar", "H2", "O2")
FED = ("lime", "dolomite", "coolant", "fuel")

WEIGHT = np.array([atomic_weight(e) for e in ELEMENTS])
FLUX_OXIDES = tuple(o for e in CATIONS for o in forms(e))
PER_CATION = np.array(  # kmol of each oxide from one of each cation
    [[forms(e).get(o, 0.0) / formula(o).get(e, 1.0) for e in CATIONS] for o in FLUX_OXIDES]
)
SLAG_NAMES = (*FLUX_OXIDES, "FeO", "Fe2O3", "CaS")
SLAG_KG = np.array([molar_mass(o) for o in SLAG_NAMES])

_SMALL = 200_000  # multiplications

# rows of what the matrix gives
METAL = slice(0, len(ELEMENTS))
SLAG = slice(METAL.stop, METAL.stop + len(CATIONS))
LUMPS = slice(SLAG.stop, SLAG.stop + len(CATIONS))
GAS = slice(LUMPS.stop, LUMPS.stop + len(GASES))
OXYGEN, HEAT, DUST, LINING = range(GAS.stop, GAS.stop + 4)
OUT = LINING + 1  # of them; after them what is not linear in the state, see bent()
# columns: the state, then what is known at an instant whatever the bath does
KNOWN = (*FED, "o2", "dust", "lining", "loss", "spent")

# rows of the state: kg of scrap melted, of lime and of dolomite dissolved; kmol of CO2 from
# post-combustion, of oxygen dissolved in the metal; kmol that has left the metal of carbon, of
# EXCHANGED, of what else burns: silicon, then the others
SCRAP, LIME, DOLOMITE, POST_COMBUSTION, DISSOLVED, CARBON = range(6)
DISSOLVES = {"lime": LIME, "dolomite": DOLOMITE}
FLUX, SHARED = slice(LIME, DOLOMITE + 1), slice(CARBON + 1, CARBON + 1 + len(EXCHANGED))
BURNT = slice(SHARED.stop, None)

IN_METAL = {e: i for i, e in enumerate(ELEMENTS)}
IN_SLAG = {e: i for i, e in enumerate(CATIONS)}


def _declare():
    """What metal, slag and their heat hold, as weights of the rows above: kmol of ELEMENTS in the
    metal, of SLAG_NAMES in the slag, of the compounds in which the heat of slag and lumps is
    counted (by name), and what bent() asks for."""
    unit = np.eye(OUT + 4)
    silicate, sulphide, iron, ferric = unit[OUT:]
    metal = unit[METAL].copy()
    metal[IN_METAL["S"]] -= sulphide
    metal[IN_METAL["Fe"]] -= iron
    slag, lumps = (dict(zip(FLUX_OXIDES, PER_CATION @ unit[x], strict=True)) for x in (SLAG, LUMPS))
    slag["CaO"] = slag["CaO"] - sulphide  # counts as CaS alone
    slag |= {"FeO": iron - ferric, "Fe2O3": 0.5 * ferric, "CaS": sulphide}
    limits = [unit[IN_METAL["S"]], unit[SLAG][IN_SLAG["Ca"]], unit[OXYGEN]]

    def bind(silica, half_lime):
        limits.extend((silica, half_lime))
        return silicate if len(limits) == 5 else 0.0 * silicate  # of slag and lumps together

    # the lining's magnesia is left out, for it comes at the temperature of the slag
    heat = share_lime(slag | {"MgO": slag["MgO"] - unit[LINING]}, bind)
    for name, row in share_lime(lumps, bind).items():
        heat[name] = heat[name] + row
    return metal, np.array(list(slag.values())), heat, np.array(limits)[:, :OUT]


METAL_ROWS, SLAG_ROWS, COMPOUNDS, LIMITS = _declare()
HEAT_ROWS = np.array([*METAL_ROWS, *COMPOUNDS.values()])


def bent(limits, sulphur_per_lime, lime_planned, iron_per_oxygen, ferric_share):
    """What is not linear in the state, kmol: 2CaO.SiO2 in slag and lumps, CaS, iron in the slag and
    its part that is Fe3+. limits: rows of LIMITS; the others: Account.bend, which broadcast to
    them.
    """
    sulphur, lime, oxygen, silica, half_lime, lump_silica, lump_half_lime = limits
    out = np.empty((4, *oxygen.shape))
    silicate, sulphide, iron, ferric = out
    # sulphur goes to the slag as the lime dissolves that takes it
    np.multiply(sulphur_per_lime * np.minimum(lime, lime_planned), sulphur, out=sulphide)
    # oxygen that nothing else took is held by iron
    np.multiply(oxygen + sulphide, iron_per_oxygen, out=iron)
    np.multiply(iron, ferric_share, out=ferric)
    np.minimum(silica, half_lime - 0.5 * sulphide, out=silicate)
    silicate += np.minimum(lump_silica, lump_half_lime)
    return out


def weighted(weights, amounts):
    """Weighted sums over the first axis of amounts (rows, instants, heats): weights (rows,) or
    (sums, rows).
    """
    return (weights @ amounts.reshape(len(amounts), -1)).reshape(
        weights.shape[:-1] + amounts.shape[1:]
    )


def product(matrix, amounts):
    """matrix (sums, rows) times amounts (rows, instants, heats), in parts so small that the library
    does not wake other processors for them: on a busy machine it would wait for those longer than
    the sum takes.
    """
    flat = amounts.reshape(len(amounts), -1)
    out = np.empty((len(matrix), flat.shape[1]))
    part = max(_SMALL // matrix.size, 1)
    for start in range(0, flat.shape[1], part):
        np.matmul(matrix, flat[:, start : start + part], out=out[:, start : start + part])
    return out.reshape(len(matrix), *amounts.shape[1:])
