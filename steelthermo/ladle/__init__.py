"""From tap to the finished ladle: additions, deoxidation, temperature, stirring, degassing,
inclusions, specifications.
"""

from ..base import check_all
from .alloying import (
    Alloy,
    Mixture,
    addition_kg,
    alloy,
    alloys,
    least_additions,
    recovery,
)
from .balance import REDUCED, LadleStage, Treatment, treat
from .degassing import equilibrium_ppm
from .deoxidation import deoxidise, silicon_beside_slag
from .inclusions import Deoxidised
from .limits import Deoxidation, Limit, Line
from .specifications import (
    EQUIVALENTS,
    Check,
    Specification,
    carbon_equivalent,
    grades,
    specification,
)
from .stirring import (
    MixingTime,
    equations,
    gas_flow_m3_s,
    mixing_time,
    mixing_times,
    stirring_power_w_t,
)
from .tap import Met, aluminium_demand_kg_t, carry_over, meet, tapped, with_oxygen
from .temperature import (
    OXYGEN_FROM,
    Path,
    Step,
    addition_effect_c,
    heat_capacity_kj_t,
    tap_path,
)

check_all(__name__, globals())
