"""Substances, dissolved elements, activities, equilibria and reactions: functions of temperature in
kelvin and of composition.
"""

from ..base import check_all
from .activity import Activities, activities
from .constants import equilibrium_sources, keys, line_of, lines, log_k, stoichiometry
from .engine import gas_at_equilibrium, write_tables
from .engine import species as species_of_file
from .equilibria import (
    carbon_oxygen_product,
    carbon_with_oxygen,
    gas_solubility_pct,
    oxygen_activity,
    oxygen_saturation_pct,
    oxygen_with_carbon,
)
from .interactions import (
    DEFAULT_SET,
    ELEMENTS,
    INTERACTION_SETS,
    Pair,
    coefficient_sources,
    interaction,
    interaction_row,
    missing_pairs,
    reciprocal,
    reciprocity,
)
from .iron_carbon import assessed_carbon_activity, assessed_carbon_heat_kj_mol
from .melting import (
    FORMULAS,
    carbon_at_liquidus,
    carbon_saturation_pct,
    density_kg_m3,
    iron_liquidus_terms,
    liquidus_c,
    liquidus_spread_c,
)
from .order import (
    Crossing,
    crossing,
    crossing_in_melt,
    order,
    order_lines,
    oxygen_potential,
    product_of,
)
from .oxides import (
    burning,
    carbonate_parts,
    counted_as,
    elements_with,
    forms,
    oxide_facts,
    oxide_of,
    oxides_with,
    oxygen_atoms,
    share_lime,
)
from .phases import Phase, Substance
from .reactions import CONVENTIONS, Reaction, Term, balance_of, oxidation_heat, oxidations, reaction
from .ruling import OxygenEquilibrium, affinity, equilibrium_oxygen
from .solution import (
    SETS,
    dissolved_enthalpy,
    dissolved_gibbs,
    gamma0,
    solution_gibbs,
    solution_row,
)
from .substances import (
    enthalpy,
    entropy,
    formation_enthalpy_298,
    gibbs,
    heat_capacity,
    heat_content,
    phase_at,
    substance,
    substance_names,
)

check_all(__name__, globals())
