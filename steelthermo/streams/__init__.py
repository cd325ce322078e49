"""What flows from stage to stage of a heat: liquid metal, solids, slag, gas, condensed matter, and
the stage they meet in. kg and degC.
"""

from .condensed import Condensed, Dust
from .gas import (
    Gas,
    air,
    calorific_value_mj_nm3,
    gas_equilibrium,
    mix,
    oxygen_to_burn_nm3,
    species_names,
)
from .metal import LiquidMetal
from .slag import (
    BASICITIES,
    OXIDES,
    TRACES_PCT,
    Slag,
    amounts,
    basicity,
    cation_pct,
    iron_as_feo,
    iron_oxides,
    optical_basicity,
    to_pct,
    total_iron,
)
from .solid import Material, Solid, blend, material
from .stage import Stage, loss_kj, metal_of, settle
from .stream import Stream, element_kg, frozen
