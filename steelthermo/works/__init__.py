"""The figures of a works: its profile, and the parameters that a works measures for itself."""

from ..base import check_all
from .parameters import parameter_names, plant_value, start_value, start_values, works_facts
from .profile import (
    MATERIAL_KINDS,
    PROFILE_FILE,
    SUM_TOLERANCE,
    WORKS,
    find_profile,
    load_profile,
    parse_profile,
)
from .sections import Profile, Section, calibrated, law_figures, plan_limits, plan_values
from .spreads import Input, inputs, spreads
from .stirring import bottom_power_w_t, mixing_words, stirred_exchange

check_all(__name__, globals())
