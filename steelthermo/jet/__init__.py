"""Oxygen from the main to the bath: nozzle, lance head, free jet and cavity."""

from ..base import check_all
from .cavity import (
    BathImpact,
    Penetration,
    at_bath,
    axis_speed_m_s,
    core_length_m,
    gas_density_kg_m3,
    penetration,
)
from .lance import (
    LanceFlow,
    LanceHead,
    absolute_kpa,
    design_head,
    oxygen_kg_nm3,
    supply_for_flow_kpa,
)
from .nozzle import FlowState, Shock, choked_mass_flux, expand, normal_shock
from .pattern import LancePattern

check_all(__name__, globals())
