"""How far the numbers can be trusted: printed values beside the kit's, other data, uncertainty,
values from memory, safety facts.
"""

from ..base import check_all
from .disagreement import (
    ACTS_ON,
    Band,
    Difference,
    band,
    content_by_equation,
    differences,
    end_heat_capacity_kj_c,
)
from .from_memory import Unverified, unverified
from .models import MODELS, ModelChecks, model_checks, worth_counts
from .published import (
    EVALUATORS,
    VERDICTS,
    WORTH,
    Check,
    Result,
    checks,
    evaluate,
    parse_args,
    result,
    results,
    select,
    summary,
)
from .rests_on import Move, RestsOn, main_results, rests_on
from .safety import Caution, acetylene_nm3, caution, cautions
from .shares import first_order_shares, quadrature, within_pct
from .uncertainty import Effect, Heats, effects, heats

check_all(__name__, globals())
