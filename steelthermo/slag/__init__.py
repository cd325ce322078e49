"""What a slag does: how it shares elements with the metal, its oxygen and iron oxide, its
properties, the fluxes it needs.
"""

from ..base import check_all
from .chromium import chromium_partition, log_chromium
from .end_of_blow import (
    EndOfBlow,
    after_oxygen,
    bath_oxygen_pct,
    burning,
    end_of_blow,
    iron_oxide_at,
    transport_share,
)
from .end_of_blow import parameters as end_of_blow_parameters
from .equilibrium import (
    Equilibrium,
    equilibrium,
    metal_pct_after,
    metal_pct_by,
    partition_reached,
    phosphorus_reversion,
    slag_for,
)
from .fluxes import (
    Fluxing,
    available_lime_pct,
    flux_aims,
    fluxes_for,
    fluxing,
    lime_kg_t,
    lining_pickup_kg,
    mgo_to_saturation_kg,
)
from .oxygen import (
    SULPHUR_EXCHANGES,
    end_point_iron_oxide_pct,
    end_point_oxygen_ppm,
    iron_oxide_activity,
    oxygen_lines,
    oxygen_under,
    phosphate_capacity,
    practice,
    sulphide_capacity,
    sulphide_capacity_band,
    sulphur_partition,
)
from .partition_equations import (
    DEFAULTS,
    Partition,
    equations,
    linear_partition,
    partition,
    partitions,
    spread,
)
from .properties import (
    VISCOSITIES,
    density_band,
    density_rule,
    heat_contents,
    property_facts,
    provenance,
    relative_viscosity,
    viscosity,
    viscosity_band,
)
from .regular_solution import (
    SlagSolution,
    cations_of,
    iron_in_slag,
    lime_silicate_saturation,
    slag_solution,
)

check_all(__name__, globals())
