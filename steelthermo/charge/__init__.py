"""The mass and heat of a heat together: the charge, its oxygen, its off-gas, oxygen or air,
corrections at the end.
"""

from ..base import check_all
from .account import end_heat_capacity_kj_c, heat_account, slag_terms
from .balance import TEMP_HIGH_C, TEMP_LOW_C
from .bath_heat import (
    coolant_effect,
    coolant_sources,
    coolants,
    reblow,
    rise_c_per_nm3_t,
    rise_c_per_point,
)
from .by_other_data import more_kj, other_data, other_set, oxidation_heat_by, solve_by
from .charge import FIND, Charge, iron_oxides_of, solve
from .checks import checks
from .co_danger import Hazard, co_hazards, lower_flammable_limit_pct, ppm_to_mg_m3
from .faults import refuse_or_mark
from .gas_heat import HoodGas, Preheat, hood, preheat_scrap, scrap_melted_kg
from .iron_oxide import CARBON_PCT, law_of
from .law_band import LawBand, law_band
from .ledger import burnt_kg_t
from .ledger import iron as iron_ledger
from .ledger import oxygen as oxygen_ledger
from .off_gas import (
    PostCombustion,
    carbon_rate_kg_min,
    converter_gas,
    mouth_pcr,
    post_combustion,
)
from .oxygen import BURNING, Demand, blow_minutes, demand, nm3_per_kg, oxygen_in_oxide_nm3_kg
from .oxygen_or_air import Blast, blast, heat_to_melt_mj_t, purity_for_nitrogen_pct, scrap_lost_kg_t
from .plan import Plan, allowed, plan_of
from .water import steam_instead, wetted

check_all(__name__, globals())
