"""Hot metal before the vessel: sulphur by magnesium, lime and carbide; silicon and phosphorus by
ore and oxygen; what it is worth.
"""

from ..base import check_all
from .comparison import Comparison, compare, into_vessel, steel_sulphur_pct
from .desulphurisation import METHODS, Dose, desulphurise, dose
from .magnesium_lime_carbide import (
    SPECIES,
    Reagent,
    kg_per_kg_sulphur,
    magnesium_dose_kg_t,
    magnesium_left_pct,
    magnesium_solubility_pct,
    magnesium_sulphur_product,
    product_factor,
    reagent,
    reagents,
)
from .pre_oxidation import Oxidation, oxidise, oxygen_equivalent_nm3_t

check_all(__name__, globals())
