"""What flows from stage to stage of a heat: liquid metal, solids, slag, gas, condensed matter, and
the stage they meet in. kg and degC.
"""

from ..base import check_all
from .condensed import Condensed, Dust
from .equilibrium import gas_equilibrium
from .gas import (
    Gas,
    air,
    calorific_value_mj_nm3,
    mix,
    oxygen_to_burn_nm3,
    species_names,
)
from .metal import LiquidMetal
from .oxides import (
    BASICITIES,
    OXIDES,
    TRACES_PCT,
    amounts,
    basicity,
    cation_pct,
    iron_as_feo,
    iron_oxides,
    optical_basicity,
    to_pct,
    total_iron,
)
from .slag import Slag
from .slag_heat import melting, melting_terms, together
from .solid import Material, Solid, blend, material
from .stage import Stage, loss_kj, metal_of, settle
from .stream import Stream, element_kg, frozen

check_all(__name__, globals())
