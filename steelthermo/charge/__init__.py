"""The mass and heat of a heat together: the charge, its oxygen, its off-gas, oxygen or air,
corrections at the end.
"""

from .account import heat_account
from .balance import FREE, TEMP_HIGH_C, TEMP_LOW_C, Balance
from .bath_heat import (
    coolant_effect,
    coolant_sources,
    coolants,
    reblow,
    rise_c_per_nm3_t,
    rise_c_per_point,
)
from .charge import FIND, Charge, iron_oxides_of, solve
from .faults import fault_of_freezing, faults_of_masses, faults_of_temperature, refuse_or_mark
from .iron_oxide import EndAims, aims_of
from .off_gas import (
    Hazard,
    HoodGas,
    PostCombustion,
    Preheat,
    carbon_rate_kg_min,
    co_hazards,
    converter_gas,
    hood,
    lower_flammable_limit_pct,
    mouth_pcr,
    post_combustion,
    ppm_to_mg_m3,
    preheat_scrap,
    scrap_melted_kg,
)
from .oxygen import BURNING, Demand, blow_minutes, demand, nm3_per_kg, oxygen_in_oxide_nm3_kg
from .oxygen_or_air import Blast, blast, heat_to_melt_mj_t, purity_for_nitrogen_pct, scrap_lost_kg_t
from .plan import Plan, allowed, plan_of
from .second_data import more_kj, other_data, other_set, oxidation_heat_by, solve_by
