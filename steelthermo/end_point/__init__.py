"""The end of the blow: dissolved oxygen by the probe, carbon from it or from the arrest, the
decision to tap, the second blow and the correction after an in-blow sample.
"""

from ..base import check_all
from .carbon import Estimate, carbon_from_arrest, carbon_from_oxygen, propagate
from .decision import Decision, chance_pct, correct, decide
from .probe import (
    ELECTROLYTES,
    REFERENCES,
    ProbeReading,
    emf_mv,
    oxygen_activity,
    read_probe,
    reference_log_po2,
)
from .rules import Rules
from .second_blow import AfterBlow, second_blow, usual_slag_kg_t

check_all(__name__, globals())
